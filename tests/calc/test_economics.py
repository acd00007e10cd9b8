"""Money: against numpy-financial and scipy, and sentences that never contradict their numbers."""

import doctest
from datetime import date

import numpy as np
import numpy_financial as npf
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy.optimize import linprog

import calc
from calc.economics import cash as cash_calculator
from calc.economics import costs, mix, returns, terms
from calc.economics.costs import STARTER_LIST
from calc.engine import Refused
from calc.facts import lane as lane_facts
from calc.lane.asked import lane_plan
from calc.lane.starter import cost_lines

cash_module = __import__("calc.economics.cash", fromlist=["cash"])
mix_module = __import__("calc.economics.mix", fromlist=["mix"])
farm_money = __import__("calc.farm.money", fromlist=["money"])
money = st.floats(0, 1e4)


def test_doctests():
    for module in (costs, returns, cash_module, mix_module, terms):
        assert doctest.testmod(module).failed == 0


@given(st.floats(0, 0.5), st.lists(st.floats(-1e5, 1e5), min_size=2, max_size=10))
def test_worth_today_against_a_reference_library(rate, flows):
    assert returns.net_present_value(rate, flows) == pytest.approx(npf.npv(rate, flows), rel=1e-9, abs=1e-6)


@given(st.floats(100, 1e5), st.lists(st.floats(1, 1e5), min_size=1, max_size=9))
def test_one_change_of_sign_has_one_rate(outlay, income):
    flows = [-outlay, *income]
    roots = returns.rates_of_return(flows)
    reference = npf.irr(flows)
    assume(-0.95 < reference < 9)
    assert len(roots) == 1 and roots[0] == pytest.approx(reference, abs=1e-7)


@given(st.lists(st.floats(-100, 100), min_size=2, max_size=7))
@settings(max_examples=200)
def test_all_rates_are_zeros_and_none_is_missed(flows):
    assume(abs(flows[-1]) > 1 and abs(flows[0]) > 1)
    roots = returns.rates_of_return(flows)
    size = sum(map(abs, flows))
    for root in roots:
        assert abs(returns.net_present_value(root, flows)) < 1e-5 * size * max(1.0, (1 + root) ** -len(flows))
    zeros = np.roots(flows[::-1])
    real = [1 / z.real - 1 for z in zeros if abs(z.imag) < 1e-9 and 1 / 10.9 < z.real < 95]
    distinct = all(abs(a - b) > 1e-3 for i, a in enumerate(sorted(real)) for b in sorted(real)[i + 1 :])
    if distinct:
        assert len(roots) >= len(real)


@given(st.floats(1, 1e5), st.floats(0, 0.4), st.integers(1, 120))
def test_loan_against_a_reference_library(amount, rate, months):
    assume(rate > 1e-6)  # below, the library's own formula loses its digits
    assert cash_module.loan_payment(amount, rate, months) == pytest.approx(
        -npf.pmt(rate / 12, months, amount), rel=1e-9
    )


@given(st.floats(-0.5, 2), st.floats(1, 1e4))
def test_a_rate_that_only_touches_is_found_once(rate, size):
    """(1 + rate)²: two equal rates, where the worth does not change its sign."""
    flows = [-size, 2 * size * (1 + rate), -size * (1 + rate) * (1 + rate)]
    roots = returns.rates_of_return(flows)
    assert len(roots) in (1, 2) and all(root == pytest.approx(rate, abs=1e-5) for root in roots)


@given(st.lists(st.floats(-1e4, 1e4), min_size=2, max_size=10), st.floats(0, 0.5), st.floats(0, 0.5))
def test_modified_rate_against_a_reference_library(flows, finance, reinvestment):
    assume(min(flows) < -1 and max(flows) > 1)
    assert returns.modified_rate(flows, finance, reinvestment) == pytest.approx(
        npf.mirr(flows, finance, reinvestment), rel=1e-9, abs=1e-12
    )


def test_payback():
    assert returns.payback_years([-100, 40, 40, 40]) == 2.5
    assert returns.payback_years([-100, 10]) is None
    assert returns.payback_years([-350, 950, -620]) is None  # a later loss undoes it
    assert returns.payback_years([100, 10]) == 0


products = st.lists(
    st.fixed_dictionaries(
        {
            "product": st.just("x"),
            "castings": st.floats(0.001, 1),
            "price": st.floats(0, 100),
            "cost": st.floats(0, 100),
            "demand": st.floats(0, 50),
        }
    ),
    min_size=1,
    max_size=6,
)


@given(products, st.floats(0, 20))
@settings(max_examples=200, deadline=None)
def test_best_split_against_a_reference_solver(rows, available):
    amounts, left = mix_module.best_split(rows, available)
    ours = sum(a * (r["price"] - r["cost"]) for a, r in zip(amounts, rows))
    found = linprog(
        [-(r["price"] - r["cost"]) for r in rows],
        A_ub=[[r["castings"] for r in rows]],
        b_ub=[available],
        bounds=[(0, r["demand"]) for r in rows],
    )
    assert ours == pytest.approx(-found.fun, rel=1e-6, abs=1e-6)
    assert left >= -1e-9 and all(0 <= a <= r["demand"] + 1e-9 for a, r in zip(amounts, rows))


@given(products, st.floats(0.01, 20))
@settings(max_examples=100, deadline=None)
def test_worth_of_more_is_what_more_castings_earn(rows, available):
    assume(any(row["price"] > row["cost"] for row in rows))
    found = mix(castings_available=available, products=rows)
    more = mix(castings_available=available + 1e-7, products=rows)
    worths = sorted(mix_module.margin_for_castings(row) for row in rows)
    assert found.worth_of_more == 0 or found.worth_of_more in worths
    assert more.margin_per_week - found.margin_per_week <= found.worth_of_more * 1e-7 + 1e-9 * max(
        1.0, found.margin_per_week
    )


# ---- cost of a unit


@given(st.floats(0.1, 500), st.floats(0.1, 500), st.floats(0, 5), st.floats(0, 60), money, money)
@settings(deadline=None)
def test_cost_parts_add_up_and_sentences_agree(price, units, hours, wage, feed, fixed):
    result = calc.run(
        "economics.unit_cost",
        {
            "price": price,
            "units_per_month": units,
            "labour_hours_per_unit": hours,
            "wage": wage,
            "feed_cost_per_unit": feed,
            "fixed_cost_per_month": fixed,
        },
    )
    value = {name: output["value"] for name, output in result["outputs"].items()}
    assert value["margin_per_unit"] == pytest.approx(price - value["cost_per_unit"])
    rows = result["tables"]["parts"]["rows"]
    assert sum(row[1] for row in rows) == pytest.approx(value["cost_per_unit"])
    assert (
        rows[0][1] == max(row[1] for row in rows)
        and f"The largest part is {rows[0][0].lower()}" in result["reading"][1]
    )
    said = " ".join(result["reading"])
    assert 3 <= len(result["reading"]) <= 5
    assert ("you keep" in said) == (value["margin_per_unit"] >= 0) and ("you lose" in said) == (
        value["margin_per_unit"] < 0
    )
    assert ("no number of units" in said) == (value["break_even_units"] is None)
    if value["break_even_units"]:
        again = calc.run(
            "economics.unit_cost",
            {
                "price": price,
                "units_per_month": value["break_even_units"],
                "labour_hours_per_unit": hours,
                "wage": wage,
                "feed_cost_per_unit": feed,
                "fixed_cost_per_month": fixed,
            },
        )
        if "errors" not in again:
            assert again["outputs"]["margin_per_unit"]["value"] == pytest.approx(0, abs=1e-6 * max(1, price))


def test_salvage_above_cost_is_refused():
    with pytest.raises(Refused, match="Worth at the end"):
        costs.unit_cost(equipment_cost=100, salvage=200)


# ---- cash


@given(
    st.none() | st.floats(0, 2e4),
    st.floats(0, 2e4),
    st.floats(1, 100),
    st.floats(0.1, 60),
    st.floats(0, 24),
    st.floats(0, 12),
    st.floats(0, 1),
    st.floats(0, 1e4),
)
@settings(deadline=None, max_examples=60)
def test_cash_adds_up_and_sentences_agree(startup_cost, opening, price, units, wait, ramp, paid, loan):
    given = {
        "startup_cost": startup_cost,
        "opening_cash": opening,
        "price": price,
        "units_per_month": units,
        "months_to_income": wait,
        "ramp_months": ramp,
        "paid_share": paid,
        "loan_amount": loan,
    }
    result = calc.run("economics.cash", given)
    value = {name: output["value"] for name, output in result["outputs"].items()}
    rows = result["tables"]["months"]["rows"]
    assert len(rows) == 36
    held = opening
    for _, _, sales, running, bought, moved, change, cash in rows:
        held += sales - running - bought + moved
        assert cash == pytest.approx(held, abs=1e-6) and change == pytest.approx(
            sales - running - bought + moved, abs=1e-6
        )
    assert value["lowest_cash"] == min(row[7] for row in rows)
    assert rows[value["month_of_lowest"] - 1][7] == value["lowest_cash"]
    first = next((row[0] for row in rows if row[2] > 0), None)
    assert value["first_income_month"] == first
    assert value["spent_before_income"] == pytest.approx(
        sum(row[3] + row[4] for row in rows if first is None or row[0] < first), abs=1e-6
    )
    years = result["tables"]["years"]["rows"]
    assert (
        sum(row[5] for row in years) == pytest.approx(sum(row[6] for row in rows), abs=1e-6)
        and years[-1][6] == rows[-1][7]
    )
    said = " ".join(result["reading"])
    assert 3 <= len(result["reading"]) <= 5 or first is None
    assert ("not paid back" in said) == (value["payback_month"] is None)
    assert ("to spare" in said) == (value["cash_needed"] > 0 and value["lowest_cash"] >= 0) and (
        "too little" in said
    ) == (value["lowest_cash"] < 0)
    assert ("poorer" in said) == (first is not None and value["cost_of_a_month"] > 0.5)
    assert any("Cash runs out" in warning for warning in result["warnings"]) == (value["lowest_cash"] < 0)
    if value["payback_month"]:
        assert f"back in month {value['payback_month']}" in said
        assert loan or rows[value["payback_month"] - 1][7] >= opening


def test_borrowed_money_is_not_paid_back_money():
    """A large loan keeps the cash above its start from the first month; what is owed counts against it."""
    borrowed = cash_calculator(loan_amount=50_000.0, loan_months=120)
    assert borrowed.lowest_cash > 7000 and borrowed.payback_month >= cash_calculator().payback_month


@given(st.floats(1, 1e5), st.floats(0, 0.3), st.integers(2, 60), st.integers(1, 36))
@settings(deadline=None, max_examples=40)
def test_what_is_owed_against_a_reference_library(amount, rate, months, month):
    assume(rate > 1e-6)
    plan = cash_module.plan_of(cash_module.cash.calculator.defaults)._replace(
        loan_amount=amount, loan_rate=rate, loan_months=months
    )
    owed = cash_module.loan_by_month(plan)[1][month - 1]
    expected = -npf.fv(rate / 12, month, npf.pmt(rate / 12, months, amount), amount) if month < months else 0.0
    assert owed == pytest.approx(expected, abs=1e-6 * amount)


def test_blank_units_come_from_trays_and_lane():
    from calc.breeding.trays import trays

    pounds = costs.unit_cost(units_per_month=None, labour_hours_per_unit=None, sold="pound", trays_per_week=2.0)
    made = trays(trays_per_week=2.0)
    assert pounds.units_sold * 0.45359237 == pytest.approx(made.worm_mass_per_week * 365.25 / 84)
    assert pounds.units_sold * pounds.hours_for_one == pytest.approx(made.labour_hours_per_week * 365.25 / 84)
    yards, metres = (
        costs.unit_cost(units_per_month=None, sold=sold, castings_per_week=0.2).units_sold for sold in ("yard", "metre")
    )
    assert yards == pytest.approx(metres / 0.764554857984) and metres == pytest.approx(0.2 * 365.25 / 84)


def test_the_same_name_means_the_same_in_every_money_page():
    """What is typed on one page is carried to the next by its name."""
    entries = [
        function.calculator for function in (costs.unit_cost, cash_calculator, costs.startup, returns.rate_of_return)
    ]
    seen = {}
    for entry in entries:
        for name, description in entry.inputs.items():
            assert seen.setdefault(name, (description, entry.defaults[name])) == (
                description,
                entry.defaults[name],
            ), name
    assert {"price", "fixed_cost_per_month", "purchases", "labour_hours_per_unit"} <= set(seen)


@given(st.floats(0, 1e4), st.floats(0, 0.3), st.integers(1, 36))
@settings(deadline=None, max_examples=30)
def test_a_loan_costs_its_interest(amount, rate, months):
    without, with_loan = (
        cash_calculator(loan_amount=a, loan_rate=rate, loan_months=months).cash_after_three_years for a in (0.0, amount)
    )
    paid = cash_module.loan_payment(amount, rate, months) * months
    assert without - with_loan == pytest.approx(paid - amount, abs=1e-6)


def test_seasons_move_sales_but_not_their_sum():
    defaults = {**cash_module.cash.calculator.defaults, "months_to_income": 0.0, "ramp_months": 0.0}
    flat, seasonal = (
        cash_module.months_of(cash_module.plan_of({**defaults, "season": season}))[0]
        for season in ((1.0,) * 12, tuple(range(1, 13)))
    )
    assert sum(flat) == pytest.approx(sum(seasonal)) and seasonal[0] == pytest.approx(
        flat[0] * 5 / 6.5
    )  # the plan starts in May


@given(st.floats(0, 24), st.floats(0, 12), st.floats(0, 1))
def test_settled_months_equal_the_month_by_month_rule(wait, ramp, early):
    """The months after the climb are filled in by year; each is what the rule for a single month gives."""
    plan = cash_module.plan_of(
        {**cash_module.cash.calculator.defaults, "months_to_income": wait, "ramp_months": ramp, "early_share": early}
    )
    sales, _, loads = cash_module.months_of(plan)
    for month in range(1, 37):
        assert loads[month - 1] == pytest.approx(cash_module.load_share(month, wait + ramp + 1, early))
        assert sales[month - 1] == pytest.approx(
            cash_module.sales_share(month, wait, ramp) * plan.season[(month - 1) % 12] * plan.full_sales
        )


def test_later_income_is_never_better():
    costs_of_delay = [cash_calculator(months_to_income=float(months)).cost_of_a_month for months in range(24)]
    assert min(costs_of_delay) > 0


def test_chances_are_shares_and_seeded():
    first, second = returns.rate_of_return(draws_made=200), returns.rate_of_return(draws_made=200)
    assert first == second and 0 <= first.chance_of_loss <= 1 and 0 <= first.chance_of_running_dry <= 1
    assert returns.rate_of_return(opening_cash=1e6).chance_of_running_dry == 0
    assert returns.rate_of_return(count_own_hours=False, draws_made=200).chance_of_loss <= first.chance_of_loss


@given(st.floats(5, 80), st.floats(0.05, 2), st.floats(0, 0.3), st.booleans(), st.integers(3, 12))
@settings(deadline=None, max_examples=25)
def test_return_sentences_agree_with_their_numbers(price, hours, rate, own_hours, years):
    given = {
        "price": price,
        "labour_hours_per_unit": hours,
        "discount_rate": rate,
        "count_own_hours": own_hours,
        "years": years,
        "draws_made": 50,
    }
    result = calc.run("economics.return", given)
    value = {name: output["value"] for name, output in result["outputs"].items()}
    rows, said = result["tables"]["years"]["rows"], " ".join(result["reading"])
    assert len(rows) == years + 1 and 3 <= len(result["reading"]) <= 5
    assert sum(row[2] for row in rows) == pytest.approx(value["net_present_value"], abs=1e-6)
    assert ("beats that rate" in said) == (value["net_present_value"] > 0) and ("better elsewhere" in said) == (
        value["net_present_value"] < 0
    )
    assert ("not paid back within these years" in said) == (value["payback_years"] is None) == (rows[-1][3] < 0)
    assert ("It returns" in said) == (value["number_of_rates"] == 1) and ("No rate" in said) == (
        value["number_of_rates"] == 0
    )


def test_flows_and_the_cash_plan_tell_one_story():
    """Without own hours, renewals or loan, three years of flows add up to the change of cash."""
    found = returns.yearly({**returns.rate_of_return.calculator.defaults, "count_own_hours": False, "years": 3})
    plan = cash_calculator()
    assert sum(found) == pytest.approx(plan.cash_after_three_years - 7000)


def test_flows_with_two_rates_are_said_so():
    result = calc.run("economics.return", {"flows": [-350, 950, -620]})
    assert result["outputs"]["rate_of_return"]["value"] is None and result["outputs"]["number_of_rates"]["value"] == 2
    assert any("several rates" in warning for warning in result["warnings"])


def test_start_up_list_sums():
    found = costs.startup(
        purchases=[
            {"stage": "learn", "item": "a", "quantity": 2, "price": 10, "doubt": 0.5},
            {"stage": "prove", "item": "b", "quantity": 1, "price": 5, "doubt": None},
        ],
        contingency=0.1,
    )
    assert (
        found.startup_cost.value == pytest.approx(27.5)
        and found.startup_cost.low == pytest.approx(1.1 * (10 + 4))
        and found.first_stage_cost.value == pytest.approx(22)
    )
    assert found.largest_item == "a"


def test_nothing_worth_making_is_refused():
    with pytest.raises(Refused):
        mix(products=[{"product": "a", "castings": 1.0, "price": 1.0, "cost": 2.0, "demand": 1.0}])


def test_nothing_to_share_out_is_said_in_words():
    found = calc.run("economics.mix", {"castings_available": 0})
    assert found["outputs"]["margin_per_week"]["value"] == 0 and found["reading"][0].startswith(
        "There is nothing to make"
    )


def test_a_product_that_earns_nothing_stands_last():
    products = [
        {"product": "gift", "castings": 0.01, "price": 5, "cost": 5, "demand": 10},
        {"product": "bag", "castings": 0.01, "price": 9, "cost": 5, "demand": 10},
    ]
    rows = calc.run("economics.mix", {"products": products})["tables"]["split"]["rows"]
    assert [row[0] for row in rows] == ["bag", "gift"]


def test_no_field_is_called_like_the_group_it_stands_in():
    for id in calc.calculators():
        for name, item in calc.find(id).inputs.items():
            assert item.label != item.group, f"{id}: {name}"


# ---- the doubt of money is a share of the reader's own figures


def in_another_money(entry, factor):
    """The defaults of a calculator with every amount of money multiplied, as if paid in another currency."""
    values = dict(entry.defaults)
    for name, item in entry.inputs.items():
        if getattr(item, "unit", "") and "money" in item.unit and values[name] is not None:
            values[name] = values[name] * factor
    if "purchases" in values:
        values["purchases"] = [{**row, "price": row["price"] * factor} for row in values["purchases"]]
    return values


@pytest.mark.parametrize("id", ["economics.unit_cost", "economics.cash", "economics.return"])
@pytest.mark.parametrize("factor", [0.1, 12.0])
def test_another_currency_changes_no_chance_and_every_band_by_its_factor(id, factor):
    entry = calc.find(id)
    one, other = calc.run(id), calc.run(id, in_another_money(entry, factor))
    for name, output in entry.outputs.items():
        first, second = one["outputs"][name], other["outputs"][name]
        times = factor if "money" in output.unit else 1.0
        for end in ("value", "low", "high"):
            if isinstance(first.get(end), float):
                assert second[end] == pytest.approx(first[end] * times, rel=1e-6, abs=1e-9), (name, end)


def test_a_price_is_drawn_around_itself_and_not_up_to_the_demo_farms():
    for price in (9.0, 36.0, 400.0):
        moved = next(
            move
            for move in calc.run("economics.unit_cost", {"price": price}, moves="margin_per_unit")["moves"]
            if move["input"] == "price"
        )
        assert moved["from"] == pytest.approx(price * 28 / 35) and moved["to"] == pytest.approx(price * 45 / 35)


def test_a_plan_that_loses_on_every_unit_has_no_chance_of_a_gain():
    answer = calc.run("economics.return", {"price": 4.0, "other_sales_per_month": 0})["outputs"]
    assert answer["net_present_value"]["value"] < 0 and answer["chance_of_loss"]["value"] == 1.0


# ---- a blank takes the whole of what was set


@pytest.mark.parametrize("id", ["economics.unit_cost", "economics.cash", "economics.return"])
def test_blank_units_are_those_of_the_trays_as_they_were_set(id):
    """Every figure of the tray page counts: what it shows is what the money page takes."""
    tray = {
        "trays_per_week": 6,
        "breeders_mass_per_tray": 0.2,
        "survival": 0.8,
        "growing_days": 90,
        "sorting_loss": 0.05,
    }
    made = calc.run("breeding.trays", tray)["outputs"]["worm_mass_per_week"]["value"]
    blank = {"units_per_month": None, "labour_hours_per_unit": 0.9, "sold": "kilogram"}
    typed = {**blank, "units_per_month": made * terms.WEEKS_A_MONTH}
    name = {"economics.unit_cost": "profit_per_month", "economics.cash": "lowest_cash"}.get(id, "net_present_value")
    taken, given_by_hand = calc.run(id, {**blank, **tray})["outputs"][name], calc.run(id, typed)["outputs"][name]
    assert taken["value"] == pytest.approx(given_by_hand["value"], rel=1e-9)


def test_blank_hours_are_those_of_the_lane_as_it_was_set():
    lane = {"castings_per_week": 0.4, "feedings_per_week": 5, "screened_per_hour": 60, "screen_product_share": 0.4}
    hours = calc.run("lane.output", lane)["outputs"]["labour_hours_per_week"]["value"]
    found = calc.run(
        "economics.unit_cost", {"units_per_month": None, "labour_hours_per_unit": None, "sold": "metre", **lane}
    )["outputs"]
    assert found["hours_for_one"]["value"] == pytest.approx(hours / 0.4)
    assert found["units_sold"]["value"] == pytest.approx(0.4 * terms.WEEKS_A_MONTH)


def test_trays_that_give_nothing_are_told_at_the_blank():
    refused = calc.run("economics.unit_cost", {"units_per_month": None, "survival": 0})
    assert [error["input"] for error in refused["errors"]] == ["units_per_month"]


# ---- nothing is sold before it is made


def test_blank_months_are_those_that_the_trays_take():
    tray = {"growing_days": 120, "incubation_days": 30, "breeding_days": 21}
    days = calc.run("breeding.trays", tray)["outputs"]["days_to_first_sale"]["value"]
    found = calc.run("economics.cash", {"months_to_income": None, **tray})
    assert found["outputs"]["first_income_month"]["value"] == int(days / terms.DAYS_A_MONTH) + 1


def test_blank_months_of_castings_are_those_of_a_first_lane():
    """Those of the reader's own first lane: the day on its page, and the fortnight from slicing to selling."""
    seen = set()
    for lane in ({}, {"lane_length": 1.2, "worm_mass": 5}, {"climate": "cold", "year": "cold_spring"}):
        days = calc.run("lane.starter", lane)["outputs"]["days_to_first_castings"]["value"]
        months = 36.0 if days is None else (days + 14) / terms.DAYS_A_MONTH
        found = calc.run("economics.cash", {"months_to_income": None, "sold": "yard", **lane})
        first = found["outputs"]["first_income_month"]["value"]
        assert first is None if months >= 36 else first == int(months) + 1
        seen.add(first)
    assert len(seen) > 1


def test_a_sale_sooner_than_the_trays_can_is_told():
    found = calc.run("economics.cash", {"months_to_income": 1, "units_per_month": None})
    assert any("nothing to sell before" in sentence for sentence in found["warnings"])


@pytest.mark.parametrize("id", ["economics.unit_cost", "economics.cash", "economics.return"])
def test_castings_that_cost_more_than_they_bring_say_so_first(id):
    sold = {"sold": "yard", "price": 240, "units_per_month": None, "labour_hours_per_unit": None}
    assert calc.run("economics.unit_cost", sold)["outputs"]["margin_per_unit"]["value"] < 0
    if id == "economics.return":
        sold |= {"draws_made": 50}  # each follows a lane; what is read here hangs on none of them
    first = calc.run(id, sold)["reading"][0]
    assert first.startswith("At your hours castings cost more than they bring loose")
    assert "would have to" in first
    good = calc.run(id, {**sold, "price": 5000})
    assert not good["reading"][0].startswith("At your hours")


@pytest.mark.parametrize("id", ["economics.unit_cost", "economics.cash", "economics.return"])
@pytest.mark.parametrize(("sold", "blank"), [("pound", "trays_per_week"), ("yard", "castings_per_week")])
def test_more_sold_than_is_made_is_told(id, sold, blank):
    made = calc.run("economics.unit_cost", {"sold": sold, "units_per_month": None})["outputs"]["units_sold"]["value"]
    told = "Nothing is sold before it is made"
    over, just = (calc.run(id, {"sold": sold, "units_per_month": made * share}) for share in (1.1, 0.99))
    assert told in " ".join(over["warnings"]) and told not in " ".join(just["warnings"])
    larger = calc.run(id, {"sold": sold, "units_per_month": made * 1.1, blank: 1000.0 if sold == "pound" else 50.0})
    assert told not in " ".join(larger["warnings"])


def test_units_at_a_loss_that_some_number_makes_good_are_said_so():
    """Where hours or rent spread over more units, more units help; where each loses whatever their number, none do."""
    for values in ({"units_per_month": 3}, {"price": 1}):
        given = calc.run("economics.unit_cost", values)
        told = " ".join(given["warnings"])
        helped = given["outputs"]["break_even_units"]["value"] is not None
        assert ("units a month on it would lose nothing" in told) is (helped and "each unit loses" in told)
        assert ("Selling more does not help" in told) is (not helped)


def test_the_first_stage_is_the_list_of_the_first_lane() -> None:
    """To the cent of each line: two pages that say what the first lane costs say the same."""
    given = calc.find("lane.starter").defaults
    lines = [amount for *_, amount in cost_lines(given, lane_plan(given))]
    learn = [row["quantity"] * row["price"] for row in STARTER_LIST if row["stage"] == "learn"]
    assert learn == pytest.approx(lines, abs=0.005)
    first, whole = calc.run("economics.startup"), calc.run("lane.starter")
    costs = first["outputs"]["first_stage_cost"], whole["outputs"]["startup_cost"]
    assert costs[0]["value"] == pytest.approx(costs[1]["value"], abs=0.01)


def test_prices_of_the_first_stage_are_as_doubtful_as_those_of_the_first_lane() -> None:
    """Half the width of each price's range against the price: else one list would be surer on one page."""
    prices = lane_facts.WORM_PRICE, lane_facts.COMPOST_PRICE, lane_facts.SHEET_PRICE, lane_facts.SHADE_PRICE
    doubts = [(price.high - price.low) / 2 / price.typical for price in (*prices, lane_facts.TOOLS_COST)]
    assert [row["doubt"] for row in STARTER_LIST if row["stage"] == "learn"] == pytest.approx(doubts, abs=0.006)


@given(st.dates(date(2027, 1, 1), date(2028, 12, 31)))
def test_a_month_of_the_cash_plan_and_of_the_farm_has_one_season(start):
    """Both count months from a day, and sell in each what the calendar's two months ask by their days in it."""
    season = cash_module.cash.calculator.defaults["season"]
    plan = cash_module.season_from(tuple(season), start)
    farm = farm_money.season_by_days(season, start, 12)
    assert plan == pytest.approx([12 * factor / sum(season) for factor in farm])
    assert sum(plan) == pytest.approx(12)
    assert cash_module.month_start(start, 1) == start and cash_module.month_start(start, 13).month == start.month


def test_sales_of_a_month_that_begins_in_its_middle_lie_between_two_of_the_calendar():
    first, middle, second = (
        calc.run("economics.cash", {"start_date": day})["tables"]["months"]["rows"][20][2]
        for day in ("2027-08-01", "2027-08-16", "2027-09-01")
    )
    assert middle == pytest.approx((first + second) / 2, rel=1e-9) and first != second


def test_a_return_beyond_what_is_looked_at_is_not_called_a_loss():
    """Flows that are worth more than nothing at every rate looked at; and those that lose at every one."""
    said = calc.run("economics.return", {"flows": [-100, 5000, 5000]}, units="us")
    words = " ".join([*said["reading"], *said["warnings"]])
    assert "more than 1,000 %" in words and "within the first month" in words
    assert "loses" not in words and "No rate" not in words
    lost = calc.run("economics.return", {"flows": [-100, -5, -5]})
    assert "loses at every rate" in " ".join(lost["warnings"])


def test_a_long_form_folds_its_longest_groups_alone() -> None:
    """Fifty fields of trays and lane behind one line were a page to look through for a single price."""
    from calc.page.form import form

    for id, alone in (("economics.cash", 3), ("economics.unit_cost", 2), ("lane.starter", 0), ("economics.mix", 0)):
        entry = calc.find(id)
        made = form(entry, {}, "us")
        assert made.count('<details class="calc-group calc-group-one"><summary>Your ') == alone, id
        assert made.count('class="calc-field') == form(entry, {}, None).count('class="calc-field')
        assert all(f'name="{name}"' in made for name, kind in entry.inputs.items() if not kind.many), id
    opened = form(calc.find("economics.cash"), {"hours_per_slice": 0.3}, "us")
    assert opened.count('<details class="calc-group calc-group-one" open><summary>Your lane') == 1
    assert opened.count(" open>") == 1
