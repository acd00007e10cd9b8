"""Money: against numpy-financial and scipy, and sentences that never contradict their numbers."""

import doctest

import numpy as np
import numpy_financial as npf
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy.optimize import linprog

import calc
from calc.economics import costs, mix, returns
from calc.economics import cash as cash_calculator
from calc.engine import Refused

cash_module = __import__("calc.economics.cash", fromlist=["cash"])
mix_module = __import__("calc.economics.mix", fromlist=["mix"])
money = st.floats(0, 1e4)


def test_doctests():
    for module in (costs, returns, cash_module, mix_module):
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
    assert cash_module.loan_payment(amount, rate, months) == pytest.approx(-npf.pmt(rate / 12, months, amount), rel=1e-9)


def test_payback():
    assert returns.payback_years([-100, 40, 40, 40]) == 2.5
    assert returns.payback_years([-100, 10]) is None


products = st.lists(st.fixed_dictionaries({"product": st.just("x"), "castings": st.floats(0.001, 1), "price": st.floats(0, 100), "cost": st.floats(0, 100), "demand": st.floats(0, 50)}), min_size=1, max_size=6)


@given(products, st.floats(0, 20))
@settings(max_examples=200, deadline=None)
def test_best_split_against_a_reference_solver(rows, available):
    amounts, left = mix_module.best_split(rows, available)
    ours = sum(a * (r["price"] - r["cost"]) for a, r in zip(amounts, rows))
    found = linprog([-(r["price"] - r["cost"]) for r in rows], A_ub=[[r["castings"] for r in rows]], b_ub=[available], bounds=[(0, r["demand"]) for r in rows])
    assert ours == pytest.approx(-found.fun, rel=1e-6, abs=1e-6)
    assert left >= -1e-9 and all(0 <= a <= r["demand"] + 1e-9 for a, r in zip(amounts, rows))


# ---- cost of a unit


@given(st.floats(0.1, 500), st.floats(0.1, 500), st.floats(0, 5), st.floats(0, 60), money, money)
@settings(deadline=None)
def test_cost_parts_add_up_and_sentences_agree(price, units, hours, wage, feed, fixed):
    result = calc.run("economics.unit_cost", {"price": price, "units_per_month": units, "labour_hours_per_unit": hours, "wage": wage, "feed_cost_per_unit": feed, "fixed_cost_per_month": fixed})
    value = {name: output["value"] for name, output in result["outputs"].items()}
    assert value["margin_per_unit"] == pytest.approx(price - value["cost_per_unit"])
    rows = result["tables"]["parts"]["rows"]
    assert sum(row[1] for row in rows) == pytest.approx(value["cost_per_unit"])
    assert rows[0][1] == max(row[1] for row in rows) and rows[0][0] in result["reading"][0]
    said = " ".join(result["reading"])
    assert ("you keep" in said) == (value["margin_per_unit"] >= 0) and ("you lose" in said) == (value["margin_per_unit"] < 0)
    assert ("no number of units" in said) == (value["break_even_units"] is None)
    if value["break_even_units"]:
        again = calc.run("economics.unit_cost", {"price": price, "units_per_month": value["break_even_units"], "labour_hours_per_unit": hours, "wage": wage, "feed_cost_per_unit": feed, "fixed_cost_per_month": fixed})
        if "errors" not in again:
            assert again["outputs"]["margin_per_unit"]["value"] == pytest.approx(0, abs=1e-6 * max(1, price))


def test_salvage_above_cost_is_refused():
    with pytest.raises(Refused, match="Worth at the end"):
        costs.unit_cost(equipment_cost=100, salvage=200)


# ---- cash


@given(st.floats(0, 2e4), st.floats(0, 2e4), st.floats(1, 100), st.floats(0, 60), st.floats(0, 24), st.floats(0, 12), st.floats(0, 1))
@settings(deadline=None, max_examples=60)
def test_cash_adds_up_and_sentences_agree(startup_cost, opening, price, units, wait, ramp, paid):
    result = calc.run("economics.cash", {"startup_cost": startup_cost, "opening_cash": opening, "price": price, "units_per_month": units, "months_to_income": wait, "ramp_months": ramp, "paid_share": paid})
    value = {name: output["value"] for name, output in result["outputs"].items()}
    rows = result["tables"]["months"]["rows"]
    assert len(rows) == 36
    held = opening
    for row in rows:
        held += row[2] - row[3]
        assert row[5] == pytest.approx(held, abs=1e-6)
    assert value["lowest_cash"] == min(row[5] for row in rows)
    assert rows[value["month_of_lowest"] - 1][5] == value["lowest_cash"]
    first = next((row[0] for row in rows if row[2] > 0), None)
    assert value["first_income_month"] == first
    said = " ".join(result["reading"])
    assert ("not paid back" in said) == (first is not None and value["payback_month"] is None)
    assert any("Cash runs out" in warning for warning in result["warnings"]) == (value["lowest_cash"] < 0)
    if value["payback_month"]:
        assert rows[value["payback_month"] - 1][5] >= opening and f"month {value['payback_month']}" in said


@given(st.floats(0, 1e4), st.floats(0, 0.3), st.integers(1, 36))
@settings(deadline=None, max_examples=30)
def test_a_loan_costs_its_interest(amount, rate, months):
    without, with_loan = (cash_calculator(loan_amount=a, loan_rate=rate, loan_months=months).cash_after_three_years for a in (0.0, amount))
    paid = cash_module.loan_payment(amount, rate, months) * months
    assert without - with_loan == pytest.approx(paid - amount, abs=1e-6)


def test_seasons_move_sales_but_not_their_sum():
    flat = cash_module.monthly_flows(0, 10, 5, 1, 0, 0, 0, 0, 0, 0, (1.0,) * 12, 1)
    seasonal = cash_module.monthly_flows(0, 10, 5, 1, 0, 0, 0, 0, 0, 0, tuple(range(1, 13)), 4)
    assert sum(income for income, _ in flat) == pytest.approx(sum(income for income, _ in seasonal))


def test_later_income_is_never_better():
    costs_of_delay = [cash_calculator(months_to_income=float(months)).cost_of_a_month for months in range(0, 24)]
    assert min(costs_of_delay) > 0


def test_chances_are_shares_and_seeded():
    first, second = returns.rate_of_return(draws_made=200), returns.rate_of_return(draws_made=200)
    assert first == second and 0 <= first.chance_of_loss <= 1 and 0 <= first.chance_of_running_dry <= 1
    assert returns.rate_of_return(opening_cash=1e6).chance_of_running_dry == 0


def test_flows_with_two_rates_are_said_so():
    result = calc.run("economics.return", {"flows": [-350, 950, -620]})
    assert result["outputs"]["rate_of_return"]["value"] is None and result["outputs"]["number_of_rates"]["value"] == 2
    assert any("several rates" in warning for warning in result["warnings"])


def test_start_up_list_sums():
    found = costs.startup(items=[{"stage": "learn", "item": "a", "quantity": 2, "price": 10, "doubt": 0.5}, {"stage": "prove", "item": "b", "quantity": 1, "price": 5, "doubt": None}], contingency=0.1)
    assert found.startup_cost.value == pytest.approx(27.5) and found.startup_cost.low == pytest.approx(1.1 * (10 + 4)) and found.first_stage_cost.value == pytest.approx(22)
    assert found.largest_item == "a"


def test_nothing_worth_making_is_refused():
    with pytest.raises(Refused):
        mix(products=[{"product": "a", "castings": 1.0, "price": 1.0, "cost": 2.0, "demand": 1.0}])
