"""At the very limits: what a rule, a warning or a fit says on either side of each, and at it."""

from datetime import date
from importlib import import_module
from math import exp, log
from types import SimpleNamespace

import pytest

from calc.engine import Refused, working
from calc.engine.run import answer
from calc.facts import biology
from calc.facts import feed as feed_facts
from calc.facts import moisture as facts
from calc.lane.model import LanePlan, follow

weighing, screen = import_module("calc.moisture.weighing"), import_module("calc.harvest.screen")
A_HAIR = 1e-6


def warned(id, given, words):
    """Whether a warning of an answer has these words."""
    return any(words in said for _, said in answer(id, given, "metric").shown.warnings)


def sample(wet, moisture=0.7):
    """A container of 50 g with so many grams of wet bedding."""
    return {"tare": "50 g", "wet": f"{50 + wet} g", "dry": f"{50 + wet * (1 - moisture)} g"}


@pytest.mark.parametrize(
    ("words", "silent", "said"),
    [
        ("is small", [sample(20), sample(20)], [sample(20), sample(19.9)]),
        ("airless", [sample(100, 0.9), sample(100, 0.9)], [sample(100, 0.9), sample(100, 0.905)]),
        ("take three or more", [sample(100), sample(100)], [sample(100)]),
        ("take more samples", [sample(100, 0.70), sample(100, 0.707)], [sample(100, 0.70), sample(100, 0.709)]),
    ],
)
def test_weighings_that_deserve_a_second_look(words, silent, said):
    assert not warned("moisture.test", {"samples": silent}, words)
    assert warned("moisture.test", {"samples": said}, words)


def dryings(*grams):
    return [{"time": hour, "weight": f"{50 + weight} g"} for hour, weight in enumerate(grams, start=1)]


@pytest.mark.parametrize(
    ("weights", "dry", "heavier"),
    [
        ((30.0, 29.0), False, False),
        ((30.0, 29.971), True, False),  # a thousandth of the 30 g before
        ((30.0, 29.969), False, False),
        ((30.0, 30.0), True, False),
        ((30.0, 30.059), False, False),  # it grew, but by less than two thousandths
        ((30.0, 30.061), False, True),
        ((30.0,), None, False),
    ],
)
def test_when_drying_has_come_to_its_end(weights, dry, heavier):
    given = {"samples": [{"tare": "50 g", "wet": "150 g"}], "dryings": dryings(*weights)}
    view = answer("moisture.test", given, "metric")
    assert view.results["dry_enough"] is dry
    assert warned("moisture.test", given, "grew heavier") is heavier
    assert warned("moisture.test", given, "Not dry yet") is (dry is False)


def test_what_a_moisture_suits():
    steps = [
        (facts.AIRLESS.typical, "airless", "wet for a feeding face"),
        (facts.FACE.high, "wet for a feeding face", "right for a feeding face"),
    ]
    for limit, above, at in steps:
        assert (weighing.suits(limit + A_HAIR), weighing.suits(limit)) == (above, at)
    assert weighing.suits(facts.FACE.low) == "right for a feeding face"
    assert weighing.suits(facts.FACE.low - A_HAIR) == "dry for a feeding face, but worms bear it"
    assert weighing.suits(facts.LIMITS.low) == "dry for a feeding face, but worms bear it"
    assert weighing.suits(facts.FINISHING.low) == "right for screening, too dry for worms"
    assert weighing.suits(facts.FINISHING.low - A_HAIR) == "too dry for worms"


def test_a_curve_of_sizes_from_what_can_be_drawn():
    """Shares of nothing and of all have no place on the line; one size alone and a curve that falls have no fit."""
    points = [(0.004, exp(-((4 / 2) ** 1.5))), (0.002, exp(-1.0)), (0.001, exp(-((1 / 2) ** 1.5)))]
    size, spread, fit = screen.fit([*points, (0.01, 0.0), (0.0001, 1.0)])
    assert (size, spread, fit) == (pytest.approx(0.002), pytest.approx(1.5), pytest.approx(1.0))
    assert screen.fit([points[0]]) is None
    assert screen.fit([points[0], (0.004, 0.2)]) is None
    assert screen.fit([(0.004, 0.6), (0.002, 0.2)]) is None
    assert screen.fit([(0.004, 0.3), (0.002, 0.3)]) is None
    level = [(0.004, 0.2), (0.002, 0.3), (0.001, 0.6)]
    x, y = [log(size) for size, _ in level], [log(-log(share)) for _, share in level]
    mean_x, mean_y = sum(x) / 3, sum(y) / 3
    slope = sum((a - mean_x) * (b - mean_y) for a, b in zip(x, y)) / sum((a - mean_x) ** 2 for a in x)
    left = sum((b - mean_y - slope * (a - mean_x)) ** 2 for a, b in zip(x, y))
    _, spread, fit = screen.fit(level)
    assert (spread, fit) == (pytest.approx(slope), pytest.approx(1 - left / sum((b - mean_y) ** 2 for b in y)))


# ---- weather and water

pores, misting, evaporation = (import_module(f"calc.climate.{name}") for name in ("pores", "misting", "evaporation"))


def test_when_misting_is_worth_it():
    warm = biology.BAND_HIGH.typical
    cool, moist = misting.WORTH_COOLING, misting.TOO_MOIST
    yes, hardly = "yes, while the air moves", "hardly: it cools, but leaves everything wet"
    assert misting.verdict(cool, moist, warm - 5) == yes
    assert misting.verdict(cool, moist + A_HAIR, warm - 5) == hardly
    assert misting.verdict(cool - A_HAIR, moist, warm - 5) == "no: the air is too moist to be cooled"
    assert misting.verdict(cool, moist, warm - 5 - A_HAIR) == "no need: the air is not hot"


def test_no_bedding_is_denser_than_its_water_and_solids():
    most = pores.densest(0.75)
    assert pores.density_problems(most, 0.75) == []
    ((field, said),) = pores.density_problems(most + 1, 0.75)
    assert field == "bulk_density"
    assert f"{most:,.0f} kg/m³ ({most * 1.6855549:,.0f} lb/yd³)" in said and "At 75 %" in said
    assert pores.wettest(0.9 * pores.particle_density(), air=0.1) == pytest.approx(0.0, abs=1e-12)
    assert pores.wettest(2000.0) == 0.0
    assert pores.air_space(pores.densest(0.6), 0.6) == pytest.approx(0.0, abs=1e-12)
    assert pores.at_moisture(600, 0.5, 0.75) == pytest.approx(1200)


def test_no_sun_shines_longer_than_the_day():
    longest = evaporation.daylight_hours(50.8, 187)
    clear = 0.75 * evaporation.sun_outside_air(50.8, 187)
    assert evaporation.sun_from_hours(longest, 50.8, 187) == pytest.approx(clear)
    assert evaporation.sun_from_hours(longest + 3, 50.8, 187) == pytest.approx(clear)
    assert evaporation.sun_from_hours(0.0, 50.8, 187) == pytest.approx(clear / 3)
    assert evaporation.sun_from_hours(5.0, 80.0, 1) == pytest.approx(0.0, abs=1e-9)  # a polar night


@pytest.mark.parametrize(
    ("words", "silent", "said"),
    [
        ("drier than the published limit", {"lower_moisture": "60 %"}, {"lower_moisture": "59.9 %"}),
        ("is long. Look at the bed", {"shade": "80 %"}, {"shade": "100 %", "shelter": "100 %", "cover_factor": 0.2}),
        ("The day is below freezing", {"high": "1 C", "low": "-1 C"}, {"high": "1 C", "low": "-1.1 C"}),
    ],
)
def test_days_of_water_that_deserve_a_second_look(words, silent, said):
    assert not warned("climate.water", silent, words)
    assert warned("climate.water", said, words)


def test_sun_by_the_swing_of_a_day_is_worked_out_as_it_is_shown():
    view = answer("climate.water", {"climate": "dry", "high": "30 C", "low": "21 C", "sun_hours": ""}, "metric")
    step = next(step for step in view.shown.working if step.title == "Sun at the ground")
    assert working.check(step, view) == "evaluated"


# ---- money

cash, mix, returns = (import_module(f"calc.economics.{name}") for name in ("cash", "mix", "returns"))


def test_loans_and_rates_at_their_ends():
    assert (cash.loan_payment(0.0, 0.07, 12), cash.loan_payment(1200.0, 0.0, 12)) == (0.0, 100.0)
    assert cash.loan_payment(1200.0, 0.12, 1) == pytest.approx(1212)
    assert cash.loan_payment(1200.0, 0.12, 2) == pytest.approx(1200 * 0.01 * 1.0201 / 0.0201)
    assert [returns.modified_rate(flows, 0.05, 0.05) for flows in ([-1.0], [1.0, 1.0], [-1.0, -1.0])] == [None] * 3
    assert returns.modified_rate([-100.0, 110.0], 0.05, 0.05) == pytest.approx(0.10)
    assert returns.modified_rate([-100.0, 50.0, 60.0], 0.0, 0.0) == pytest.approx(1.1**0.5 - 1)


def test_what_needs_no_castings_stands_first_where_it_earns():
    free = {"price": 6.0, "cost": 5.0, "castings": 0.0}
    assert mix.margin_for_castings(free) == float("inf")
    assert mix.margin_for_castings({**free, "cost": 6.0}) == 0.0
    assert mix.margin_for_castings({**free, "cost": 7.0}) == 0.0
    assert mix.margin_for_castings({**free, "castings": 4.0}) == 0.25


def test_a_season_may_have_months_without_sales():
    season = ", ".join(["0"] * 11 + ["1"])
    assert answer("economics.cash", {"season": season}).results
    with pytest.raises(Refused, match="cannot all be nothing"):
        answer("economics.cash", {"season": ", ".join(["0"] * 12)})


# ---- rows of a mix

OWN = {"material": "my own", "mass": "10 kg", "moisture": "40 %", "nitrogen": "1 %", "carbon_nitrogen": 45}


@pytest.mark.parametrize(
    ("row", "mode", "told"),
    [
        ({"mass": "10 kg"}, "check", "name the material"),
        ({"material": "dairy manur", "mass": "10 kg"}, "check", "Did you mean “dairy manure”? Otherwise type its"),
        ({"material": "qqqq", "mass": "10 kg"}, "check", "Type its moisture, nitrogen and C:N in this row"),
        ({**OWN, "carbon_nitrogen": None}, "check", "Type its C:N in this row"),
        ({**OWN, "mass": None, "volume": "1 m3"}, "check", "a volume of my own needs its bulk density"),
        ({**OWN, "mass": None, "fixed": "yes"}, "solve", "the amount of my own is marked as fixed"),
        ({"material": "water", "mass": "10 kg"}, "solve", "water is worked out by itself"),
    ],
)
def test_rows_of_a_mix_that_cannot_be_used(row, mode, told):
    with pytest.raises(Refused) as refused:
        answer("feed.recipe", {"materials": [{"material": "straw", "mass": "5 kg"}, row], "mode": mode})
    assert told in str(refused.value)


@pytest.mark.parametrize(("ratio", "doubted"), [(22.6, False), (22.4, True), (60, False), (60.4, True)])
def test_nitrogen_and_ratio_that_make_too_much_or_too_little_carbon(ratio, doubted):
    """Dry matter is 25 to 60 % carbon; a tenth less is believed."""
    assert (feed_facts.CARBON_OF_DRY_MATTER.low, feed_facts.CARBON_OF_DRY_MATTER.high) == (0.25, 0.60)
    rows = [{**OWN, "carbon_nitrogen": ratio}]
    said = f"nitrogen of 1 % and C:N {ratio} make my own {ratio:.0f} % carbon"
    assert warned("feed.recipe", {"materials": rows, "mode": "check"}, said) is doubted


def test_a_known_volume_and_weight_give_the_density():
    rows = [{"material": "dairy manure", "mass": "300 kg", "volume": "500 L"}]
    view = answer("feed.recipe", {"materials": rows, "mode": "check"})
    assert view.band("mix_bulk_density").value == pytest.approx(600)
    rows[0] = {"material": "dairy manure", "volume": "500 L", "bulk_density": "700 kg/m3"}
    assert answer("feed.recipe", {"materials": rows, "mode": "check"}).results["mix_mass"] == pytest.approx(350)


# ---- a lane

boards, propose, questions, account = (
    import_module(f"calc.lane.{name}") for name in ("boards", "propose", "questions", "account")
)
FOOT = 0.3048


@pytest.mark.parametrize(
    ("means", "start", "first"),
    [
        ([0, 5, 10, 10, 15, 20, 20, 20, 15, 10, 5, 0], date(2027, 1, 20), date(2027, 3, 1)),
        ([0, 5, 10, 9.9, 15, 20, 20, 20, 15, 10, 5, 0], date(2027, 1, 20), date(2027, 5, 1)),
        ([0, 5, 10, 10, 15, 20, 20, 20, 15, 10, 5, 0], date(2027, 9, 30), date(2027, 9, 1)),
        ([0, 5, 10, 10, 15, 20, 20, 20, 15, 10, 5, 0], date(2027, 10, 2), date(2028, 3, 1)),
        ([20, 5, 5, 5, 5, 5, 5, 5, 5, 5, 5, 20], date(2027, 3, 2), date(2027, 12, 1)),
        ([9.9] * 12, date(2027, 3, 2), None),
    ],
)
def test_the_first_month_that_is_warm_enough_and_stays_so(means, start, first):
    assert propose.first_warm_month(SimpleNamespace(monthly_means=means), start) == first
    assert propose.first_warm_month(None, start) == start.replace(day=1)


def test_the_day_on_which_a_weight_is_reached():
    days = [SimpleNamespace(day=day, worms=worms) for day, worms in enumerate([1.0, 2.0, 4.0, 4.0])]
    assert questions.day_of_weight(days, lambda day: 1.0) == 0.0
    assert questions.day_of_weight(days, lambda day: 2.0) == 1.0
    assert questions.day_of_weight(days, lambda day: 2.5) == 1.25
    assert questions.day_of_weight(days, lambda day: 4.1) is None
    assert questions.day_of_weight(days, lambda day: 4.0 - day.day) == 1 + 1 / 3  # 3 against 2, then 2 against 4


def test_books_and_shares():
    assert account.Flow(10.0, 3.0, 2.0, 4.0).gap == 1.0
    offer = propose.Proposal(LanePlan(worm_mass=12.0), 3, 0.0, "", {}, {})
    assert offer.one_face.worm_mass == 4.0
    plan = LanePlan()
    sliced = [day.day for day in follow(plan, questions.SPAN) if day.sliced]
    assert questions.slicing_days(plan, sliced[2]) == sliced[:3]
    assert questions.slicing_days(plan, sliced[2] - 1) == sliced[:2]


def test_boards_of_a_lane():
    """A side as long as a sheet is one board; a longer one is joined, each cut an eighth of an inch."""
    assert boards.pieces("side", 8 * FOOT, False) == [("side", 8 * FOOT)]
    assert boards.pieces("side", 12 * FOOT, False) == [("side, part", 6 * FOOT)] * 2
    whole = boards.pieces("side", 12 * FOOT, True)
    assert [round(length / FOOT, 6) for _, length in whole] == [8, 4]
    fits = [("a", 4 * FOOT), ("b", 4 * FOOT - boards.KERF)]
    assert [len(strip) for strip in boards.strips_of(fits)] == [2, 0]
    assert [len(strip) for strip in boards.strips_of([("a", 4 * FOOT), ("b", 4 * FOOT)])] == [1, 1]
    assert [number for number, *_ in boards.placed([("c", 8 * FOOT), *fits, ("d", 1.0)])] == [1, 1, 1, 2]
    assert max(number for number, *_ in boards.cut_list(8 * FOOT, 4 * FOOT)) == 2
