"""What must be so at ends and limits, whatever the figures are: money is money in any currency, a blank is what it
stands for, rows may stand in any order, and just at a limit nothing is told. No value of ours stands here.
"""

import dataclasses
import math
import random
import re
from datetime import date, timedelta
from importlib import import_module

import pytest

from calc.breeding.curve import curve
from calc.climate import evaporation, watering
from calc.climate.watering import middle_of_month
from calc.economics import terms
from calc.engine import Refused
from calc.engine.describe import Band
from calc.engine.register import every
from calc.engine.run import answer
from calc.facts import climate, feed, garden, harvest
from calc.farm.log import Book, Entry
from calc.farm.shelf import shed_of
from calc.lane import followed, model, questions
from calc.lane.account import account

chart, learn, stock, garden_dose = map(
    import_module, ("calc.records.chart", "calc.records.learn", "calc.farm.stock", "calc.garden.dose")
)
CURRENCIES = (0.01, 7.3)
"""What one of ours buys of another currency."""


def money_in(item):
    return "money" in (getattr(item, "unit", "") or "") if isinstance(getattr(item, "unit", ""), str) else False


def in_another_money(entry, given, factor):
    """A form with every price and payment in it multiplied."""
    told = dict(given)
    for name, item in entry.inputs.items():
        columns = getattr(item, "columns", {})
        if money_in(item) and told[name] is not None:
            told[name] = told[name] * factor
        elif columns and told[name]:
            paid = [column for column, kind in columns.items() if money_in(kind)]
            told[name] = [
                {**row, **{column: row[column] * factor for column in paid if row.get(column) is not None}}
                | ({"amount": row["amount"] * factor} if row.get("unit") == "money" and "amount" in columns else {})
                for row in told[name]
            ]
    return told


def numbers_of(value):
    return (value.value, value.low, value.high) if isinstance(value, Band) else (value,)


WITH_MONEY = [id for id, entry in every().items() if any(money_in(output) for output in entry.outputs.values())]


@pytest.mark.parametrize("factor", CURRENCIES)
@pytest.mark.parametrize("id", WITH_MONEY)
def test_money_is_money_in_any_currency(id, factor):
    """With all prices so many times as high, amounts of money are too, and nothing else moves."""
    entry = every()[id]
    one, other = answer(id), answer(id, in_another_money(entry, entry.defaults, factor))
    for name, output in entry.outputs.items():
        times = factor if money_in(output) else 1.0
        for first, second in zip(numbers_of(one.results[name]), numbers_of(other.results[name]), strict=True):
            if isinstance(first, float) and first is not True:
                assert math.isclose(second, first * times, rel_tol=1e-6, abs_tol=1e-9), name


WITH_BLANKS = [id for id, entry in every().items() if entry.blanks]


@pytest.mark.parametrize("id", WITH_BLANKS)
def test_a_blank_is_what_it_stands_for(id):
    """Typed, the figure that a blank stands for gives the answer that the blank gives."""
    entry = every()[id]
    stands = {
        name: value for name, value in entry.blanks(dict(entry.defaults)).items() if entry.defaults.get(name) is None
    }
    one = answer(id)
    for name, value in stands.items():
        if value is None:
            continue
        other = answer(id, {name: value})
        for output in entry.outputs:
            first, second = (numbers_of(view.results[output])[0] for view in (one, other))
            if isinstance(first, float):  # the typical value: what is typed is no longer in doubt
                assert math.isclose(second, first, rel_tol=1e-3, abs_tol=1e-6), (name, output)


def test_a_curve_goes_through_its_points_and_stays_at_its_ends():
    draw = random.Random(3)
    for count in (2, 3, 5, 9):
        xs = sorted(draw.uniform(-5, 40) for _ in range(count))
        ys = [draw.uniform(-2, 9) for _ in range(count)]
        value = curve(list(zip(xs, ys)))
        assert [value(x) for x in xs] == pytest.approx(ys)
        assert (value(xs[0] - 9), value(xs[-1] + 9)) == (ys[0], ys[-1])
        for (low, before), (high, after) in zip(zip(xs, ys), list(zip(xs, ys))[1:]):
            inside = [value(low + (high - low) * step / 20) for step in range(21)]
            assert min(before, after) - 1e-9 <= min(inside) and max(inside) <= max(before, after) + 1e-9


def test_a_month_may_have_all_the_sun_of_its_days_and_no_more():
    for latitude in (-60.0, 0.0, 45.0):
        days = [evaporation.daylight_hours(latitude, middle_of_month(month)) for month in range(1, 13)]
        months = [{"high": 20.0, "low": 20.0, "sun_hours": hours} for hours in days]
        assert watering.month_problems(months, latitude) == []
        told = watering.month_problems([{**month, "sun_hours": month["sun_hours"] + 0.2} for month in months], latitude)
        assert len(told) == 12
        told = watering.month_problems([{**month, "low": 20.1} for month in months], latitude)
        assert [str(words)[:6] for _, words in told] == [f"Row {number} "[:6] for number in range(1, 13)]


def test_what_is_made_can_be_sold_and_not_a_pound_more():
    for sold in ("pound", "kilogram", "yard"):
        given = {**every()["economics.unit_cost"].defaults, "sold": sold}
        made, hours = terms.made_and_hours(
            sold, given["trays_per_week"], given["castings_per_week"], **terms.produce_of(given)
        )
        assert made > 0 and hours > 0
        assert terms.oversold({**given, "units_per_month": made}) == []
        assert len(terms.oversold({**given, "units_per_month": made * 1.001})) == 1
    with pytest.raises(Refused):
        terms.made_and_hours("yard", given["trays_per_week"], 0.0, **terms.produce_of(given))
    with pytest.raises(Refused):
        terms.made_and_hours("pound", 0.0, given["castings_per_week"], **terms.produce_of(given))


def test_books_end_with_the_last_day():
    plan = model.LanePlan()
    days = model.follow(plan, 60)
    whole = account(plan, days)
    assert whole == account(plan, days, 0, len(days) - 1) != account(plan, days, 0, len(days) - 2)
    parts = [account(plan, days, 0, 25), account(plan, days, 25)]
    for name, flow in whole.flows.items():
        assert flow.stored == pytest.approx(sum(part.flows[name].stored for part in parts)), name


def test_a_face_moves_on_a_handful_too():
    """A pound of feed between two measurings is feed; none is none."""
    first = date(2027, 3, 1)
    lane = {"name": "A", "fed_on": "end", "length": 4.0, "width": 1.2, "height": 0.5, "started": date(2022, 1, 1)}

    def entries(fed):
        rows = [(0, "face", 1.0), (1, "feed", fed), (20, "face", 1.001)]
        return [
            Entry(first + timedelta(days=day), "A", what, amount, None, None, "", "", number)
            for number, (day, what, amount) in enumerate(rows)
        ]

    assert len(learn.kept_readings(Book(entries=entries(0.45)), [lane])) == 1
    assert learn.kept_readings(Book(entries=entries(0.0)), [lane]) == []


LIMITS = (
    # calculator, what else is asked, input, where what is said changes, whether the limit itself is on the lower side
    ("breeding.room", {}, "air_changes", 0.3, False),
    ("breeding.room", {}, "setpoint", 30.0, True),
    ("climate.bed_temperature", {}, "bed_height", 0.15, False),
    ("climate.today", {}, "top_moisture", 0.60, False),
    ("climate.mist", {}, "air_temperature", 5.0, False),
    ("climate.water", {}, "lower_moisture", 0.60, False),
    ("climate.water", {}, "cover_factor", 1.6, True),
    ("climate.water", {}, "cover_factor", 0.1, False),
    ("garden.dose", {"use": "topdress"}, "depth", 0.02, True),
    ("harvest.density", {}, "moisture", 0.6, True),
    ("harvest.dry_down", {}, "moisture_after", harvest.DUSTY_BELOW.typical, False),
    ("harvest.dry_down", {"area": 4.0}, "mass", 4 * harvest.THICK_LAYER.typical, True),
    ("lane.starter", {}, "target_moisture", 0.60, False),
    ("moisture.adjust", {}, "target", 0.90, True),
    ("moisture.adjust", {}, "target", 0.85, True),
    ("moisture.adjust", {}, "target", 0.60, False),
    ("moisture.adjust", {"target": 0.7}, "moisture", 0.90, True),
    ("moisture.adjust", {"target": 0.7}, "moisture", 0.40, False),
)


def said(id, given):
    """What is warned of and read, without its numbers."""
    shown = answer(id, given).shown
    return [re.sub(r"[\d.,]+", "0", str(words)) for words in [*(told for _, told in shown.warnings), *shown.reading]]


@pytest.mark.parametrize(("id", "other", "name", "limit", "below"), LIMITS)
def test_what_is_told_changes_at_its_limit_and_nowhere_beside(id, other, name, limit, below):
    """A thousandth to either side of a limit something else is told; the limit itself belongs where it is said to."""
    under, at, over = (said(id, {**other, name: limit * share}) for share in (0.999, 1.0, 1.001))
    assert under != over
    assert at == (under if below else over)


def test_shares_of_so_much_are_so_many_pounds():
    """A mix checked by shares of a whole is the mix checked by weights that come to the same."""
    rows = every()["feed.recipe"].defaults["materials"]
    whole = sum(row["mass"] for row in rows)
    shared = [{"material": row["material"], "share": row["mass"] / whole} for row in rows]
    by_weight, by_share = answer("feed.recipe"), answer("feed.recipe", {"materials": shared, "total_mass": whole})
    for name in every()["feed.recipe"].outputs:
        first, second = (numbers_of(view.results[name])[0] for view in (by_weight, by_share))
        if isinstance(first, float):
            assert math.isclose(first, second, rel_tol=1e-9), name


def test_values_about_nothing_are_charted_too():
    """A chart does not hang on where its zero lies, not even when the values lie about it."""
    draw = random.Random(8)
    values = [draw.gauss(0, 1) for _ in range(30)] + [6.0, -6.0]
    values = [value - sum(values) / len(values) for value in values]
    for shift in (0.0, 1e-9, 50.0):
        centre, _, _, upper, range_limit = chart.limits([value + shift for value in values])
        sigma = (upper - centre) / 3
        told = chart.flag_words([value + shift for value in values], centre, sigma, range_limit)
        assert any(words.startswith("points 31 and 32: a jump") for words in told)
        assert told == chart.flag_words(values, centre - shift, sigma, range_limit)


@pytest.mark.parametrize("factor", CURRENCIES)
@pytest.mark.parametrize("id", WITH_MONEY)
def test_the_same_is_said_of_money_in_any_currency(id, factor):
    """What is warned of and read hangs on no amount of one currency: words are the same, their numbers aside."""
    entry = every()[id]
    assert said(id, in_another_money(entry, entry.defaults, factor)) == said(id, entry.defaults)


def test_days_that_are_typed_may_lie_a_little_beside_those_of_the_lane():
    """What the lane itself takes is no other figure, nor is a day or two beside it."""
    usual = answer("lane.year", {"days_to_first_slice": None})
    due = questions.first_slice(usual.plan).value
    apart = import_module("calc.lane.year").DAYS_APART

    def told(days):
        shown = answer("lane.year", {"days_to_first_slice": days}).shown
        return [name for name, _ in shown.warnings if name == "days_to_first_slice"]

    assert "days_to_first_slice" not in [name for name, _ in usual.shown.warnings]
    for side in (-1, 1):
        assert not told(due + side * (apart - 0.5)) and told(due + side * (apart + 0.5))


# ---- by hand, at the very figure at which a rule turns


def test_at_the_equator_no_seasons_change_places():
    chosen = climate.CLIMATES["mild"]
    here = watering.moved_climate(chosen, 0.0)
    south = watering.moved_climate(chosen, -chosen.latitude)
    assert [month["high"] for month in here] == [month.high for month in chosen.months]
    assert [month["high"] for month in south] == [month.high for month in (*chosen.months[6:], *chosen.months[:6])]


def test_what_costs_nothing_has_no_share_of_work():
    costs = {name: 0.0 for name, item in every()["economics.unit_cost"].inputs.items() if money_in(item)}
    view = answer("economics.unit_cost", costs | {"price": 10.0})
    assert (view.cost_per_unit, view.labour_share) == (0.0, 0.0)


def test_feed_of_a_day_counts_from_one_day_on():
    record = import_module("calc.records.lane")
    assert record.fed_a_day([(0.0, 3.0), (1.0, 5.0)], 1.0) == 3.0
    assert record.fed_a_day([(0.0, 3.0), (0.9, 5.0)], 1.0) == 8.0
    assert record.fed_a_day([(0.0, 3.0)], 0.9) is None


def test_a_room_that_starts_no_trays_teaches_nothing():
    first = date(2027, 3, 1)
    worms = [
        Entry(first + timedelta(days=day), "R", "worms", 2.0, None, None, "", "", number)
        for number, day in enumerate((0, 14, 28))
    ]
    assert learn.survival_readings(Book(entries=worms), [{"name": "R", "trays_per_week": 0.0}], 1.0) == []
    assert len(learn.survival_readings(Book(entries=worms), [{"name": "R", "trays_per_week": 1.0}], 1.0)) > 0


def test_the_first_slice_of_a_base_that_ends_under_its_face():
    """Where the foot of the face lies just at the end of the base nothing is short."""
    plan = model.LanePlan()
    exact = dataclasses.replace(plan, lane_length=plan.foot)
    assert exact.foot == exact.base_length and "short" not in followed.slice_equation(exact)
    assert "short" in followed.slice_equation(dataclasses.replace(plan, lane_length=0.9 * plan.foot))


def test_a_tub_that_has_not_become_lighter_is_told():
    weights = {"first_weight": 10.0, "hours_between": 5.0}
    with pytest.raises(Refused, match="lighter"):
        answer("harvest.dry_down", {**weights, "second_weight": 10.0})
    assert answer("harvest.dry_down", {**weights, "second_weight": 9.9}).hours > 0


def test_a_dose_by_the_trial_lies_between_its_two_doses():
    """At the lightest and the heaviest castings that are usual; each by itself, put together as squares of logs."""
    dose, density, usual = garden.FIELD_DOSE, harvest.CASTINGS_DENSITY, harvest.CASTINGS_DENSITY.typical
    band = garden_dose.of_the_trial(3.0, usual)
    thin, thick = math.log(dose.low / dose.typical), math.log(dose.high / dose.typical)
    heavy, light = math.log(usual / density.high), math.log(usual / density.low)
    assert band.low == pytest.approx(3.0 * math.exp(-math.hypot(thin, heavy)))
    assert band.high == pytest.approx(3.0 * math.exp(math.hypot(thick, light)))


def test_one_week_before_its_order_is_not_the_week_of_it():
    """Ten kilograms come in each of four weeks: what is ordered for a day of week five is met by four of them."""
    bag = ({"name": "Bag", "price": 16.0, "castings": 10.0, "worms": 0.0},)
    supply = stock.Supply([[10.0] * 4] * 3, [[0.0] * 4] * 3)
    today = date(2027, 5, 3)
    for week in range(4):

        def missing(day, units=week + 1.0):
            order = Entry(today + timedelta(days=day), "", "sold", units, 0, None, "", "", 1)
            return [
                one.missing
                for one in stock.short_orders(shed_of(Book(), bag), Book(orders=[order]), bag, supply, today, 4)
            ]

        assert missing(7 * week + 6) == [1.0] and missing(7 * week + 7) == []


def test_what_was_solved_onto_an_edge_lies_within_it():
    recipe = import_module("calc.feed.recipe")
    for fact in (feed.CARBON_NITROGEN, feed.HEAP_MOISTURE):
        for edge, inward in ((fact.low, 1), (fact.high, -1)):
            assert recipe._within(edge * (1 - inward * 1e-7), fact)
            assert not recipe._within(edge * (1 - inward * 1e-5), fact)


def test_a_day_has_twenty_four_hours_of_work_at_most():
    ledger = import_module("calc.lane.ledger")

    class Worked(dict):
        days = 30

        @property
        def hours(self):
            return self["hours"]

    assert ledger._long_days(Worked(hours=24.0 * 30)) == []
    assert len(ledger._long_days(Worked(hours=24.01 * 30))) == 1


def test_sales_of_products_are_the_sales_of_the_month():
    """With a tax on sales too, what each product brings adds up to what all of them do."""
    for tax in (0.0, 0.2):
        view = answer("farm.money", {"sales_tax": tax})
        by_product = next(table for table in view.shown.tables if table.name == "products")
        place = [column.name for column in by_product.columns].index("sales")
        assert sum(row[place] for row in by_product.rows) == pytest.approx(view.sales_per_month)
