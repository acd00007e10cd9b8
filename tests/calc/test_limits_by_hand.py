"""Limits, ends and counts that changes of the code once got past, each in the smallest case that shows it."""

import re
from datetime import date, datetime, timedelta
from importlib import import_module

import pytest

from calc.climate import heat as runs
from calc.climate import season as seasons
from calc.climate import watering
from calc.engine import Refused
from calc.engine.describe import typical_alone
from calc.engine.run import answer
from calc.farm import acts, log
from calc.farm.log import Book, Entry
from calc.farm.shelf import shed_of
from calc.farm.tables import check_tables
from calc.farm.week import SHED, in_shed
from calc.feed import heat, mix
from calc.lane import followed, propose, questions, stages
from calc.lane.chain import Parcel
from calc.lane.model import LanePlan
from calc.moisture import samples

cash, returns, hot_phase, ledger, stock, dose, chart, learn = (
    import_module(f"calc.{name}")
    for name in (
        "economics.cash",
        "economics.returns",
        "feed.hot_phase",
        "lane.ledger",
        "farm.stock",
        "garden.dose",
        "records.chart",
        "records.learn",
    )
)
TODAY = date(2027, 6, 2)


def results(id, **given):
    return answer(id, given, "metric").results


# ---- climate


def test_a_dry_bed_is_watered_just_above_freezing_and_not_below():
    dry = {"top_moisture": "50 %", "humidity": "60 %", "bed_now": "8 C"}
    assert results("climate.today", **dry, high="2 C", low="-1 C")["decision"] == "water"  # 0.5 °C on average
    assert results("climate.today", **dry, high="1 C", low="-2 C")["decision"] != "water"


def test_a_year_turns_round_where_january_is_the_warmer():
    """South of the equator the departures of a year are those of six months later."""
    north = [0.0, 1, 5, 9, 14, 18, 20, 19, 15, 9, 4, 1]
    south = north[6:] + north[:6]
    usual, warm = (seasons.season("mild", means, year) for means, year in ((north, "usual"), (north, "cold_spring")))
    apart = [now - then for now, then in zip(warm.monthly_means, usual.monthly_means)]
    usual, warm = (seasons.season("mild", means, year) for means, year in ((south, "usual"), (south, "cold_spring")))
    turned = [now - then for now, then in zip(warm.monthly_means, usual.monthly_means)]
    assert turned == pytest.approx(apart[6:] + apart[:6])
    # July and August decide with January and February, and no month beside them
    close = [10.0, 10, 5, 5, 5, 5, 9, 10, 30, 5, 5, 5]
    moved = seasons.season("mild", close, "cold_spring").monthly_means
    assert [now - then for now, then in zip(moved, close)] == pytest.approx(apart[6:] + apart[:6])


def test_the_sun_of_a_day_by_its_swing():
    place = watering.place_of("mild", (), None, None)
    day = watering.weather_from({"high": 20.0, "low": 16.0, "humidity": 0.6}, place, 180)
    assert day.sun == pytest.approx(0.16 * 2 * watering.fao.sun_outside_air(place.latitude, 180))
    still = watering.weather_from({"high": 20.0, "low": -20.0, "humidity": 0.6}, place, 180)
    assert still.sun == still.clear_sun


@pytest.mark.parametrize(
    ("known", "wrong"),
    [
        ({"humidity_high": 0.5, "humidity_low": 0.6}, ["humidity_low"]),
        ({"humidity_high": 0.6, "humidity_low": 0.5}, []),
        ({"humidity_high": 0.6, "humidity_low": 0.6}, []),
        ({"humidity_high": 0.5}, ["humidity_low"]),
        ({"humidity_low": 0.5}, ["humidity_high"]),
        ({"sun_hours": 23.0}, ["sun_hours"]),
        ({"solar_radiation": 44.9}, ["solar_radiation"]),
        ({"low": 21.0}, ["low"]),
    ],
)
def test_weather_that_cannot_be(known, wrong):
    place = watering.place_of("mild", (), None, None)
    problems = watering.weather_problems({"high": 20.0, "low": 10.0} | known, place, 180)
    assert [name for name, _ in problems] == wrong


# ---- money


def test_a_zero_is_found_between_two_places():
    assert returns.bisected(lambda x: x - 0.3, 0.0, 1.0, -0.3) == pytest.approx(0.3, abs=1e-15)
    assert returns.bisected(lambda x: 0.3 - x, 0.0, 1.0, 0.3) == pytest.approx(0.3, abs=1e-15)
    assert returns.bisected(lambda x: x - 0.5, 0.0, 1.0, -0.5) == 0.5


def test_what_is_owed_is_not_what_is_had():
    """A loan of a hundred thousand over ten years stands in the till, and is owed: nothing has been paid back by it."""
    given = {**returns.rate_of_return.calculator.defaults, "price": 1.0, "opening_cash": 0.0, "loan_amount": 0.0}
    lent = given | {"loan_amount": 100_000.0, "loan_rate": 0.0, "loan_months": 120}
    assert [returns.chances(asked, 20)[1:] for asked in (given, lent)] == [(1.0, 1.0), (0.0, 1.0)]


def test_months_of_a_plan_end_with_their_year():
    begins = [cash.month_start(date(2027, 5, 16), month) for month in (1, 8, 9, 20, 21)]
    assert begins == [date(2027, 5, 16), date(2027, 12, 16), date(2028, 1, 16), date(2028, 12, 16), date(2029, 1, 16)]


def test_a_month_of_cents_is_a_month_with_income():
    cents = {"price": "$0.02", "units_per_month": "10"}
    found = results("economics.cash", **cents)["first_income_month"]
    assert found is not None and found == results("economics.cash")["first_income_month"]


# ---- farm


def entry(what, amount, product=None, days=0):
    return Entry(TODAY + timedelta(days=days), "", what, amount, product, None, "", "", 1)


BAG = ({"name": "Bag", "price": 16.0, "castings": 10.0, "worms": 0.0},)


def test_an_order_is_short_by_what_is_not_there_before_its_day():
    """10 kg come in each week. Three bags on the ninth day: one week's bag is there, two are missing."""
    supply = stock.Supply([[10.0] * 4] * 3, [[0.0] * 4] * 3)
    orders = [entry("sold", 3.0, 0, days=8), entry("sold", 1.0, 0, days=21)]
    (short,) = stock.short_orders(shed_of(Book(), BAG), Book(orders=orders), BAG, supply, TODAY, 4)
    assert (short.product, short.ordered, short.there) == (0, 4.0, 0.0)
    assert short == stock.Short(0, 4.0, 0.0, 2.0)
    assert stock.short_orders(shed_of(Book(), BAG), Book(orders=orders[1:]), BAG, supply, TODAY, 4) == []
    first = Book(orders=[entry("sold", 1.0, 0, days=6)])
    assert [one.missing for one in stock.short_orders(shed_of(Book(), BAG), first, BAG, supply, TODAY, 4)] == [1.0]
    week = Book(orders=[entry("sold", 1.0, 0, days=7)])
    assert stock.short_orders(shed_of(Book(), BAG), week, BAG, supply, TODAY, 4) == []


def test_what_waits_for_the_screen_is_told_in_kilograms():
    book = Book(entries=[entry("screened", 50.0, days=-9), entry("castings", 100.0, days=-4)])
    (due,) = in_shed(book, shed_of(book, BAG), BAG, TODAY)
    assert (due.place, due.what, due.unit, due.day) == (SHED, "screened", "kg", TODAY - timedelta(days=2))
    assert due.amount == pytest.approx(100 * import_module("calc.farm.shelf").screened_share())


def test_the_first_of_two_doubled_names_is_told():
    rows = [{"name": "North"}, {"name": "South"}]
    with pytest.raises(Refused, match="A lane and a room are both called “north”"):
        check_tables(rows, rows, ())


# ---- heat of a heap


def test_temperatures_between_readings():
    log = ([0.0, 10.0, 20.0, 60.0], [50.0, 60.0, None, 40.0], 12.0)
    assert [heat.temperature_at(hour, *log) for hour in (0.0, 2.5, 5.0, 10.0)] == [50.0, 52.5, 55.0, 60.0]
    assert [heat.temperature_at(hour, *log) for hour in (15.0, 20.0, 40.0, 60.0, 61.0, -1.0)] == [
        None, None, None, 40.0, None, None,
    ]  # fmt: skip


def test_a_turning_is_under_way_three_hours_before_and_after():
    assert [heat._turned_between(10.0, 20.0, [hour]) for hour in (6.9, 7.0, 15.0, 23.0, 23.1)] == [
        False, True, True, True, False,
    ]  # fmt: skip


def test_two_kinds_of_time_are_refused_with_the_rows_that_are_fewer():
    noon = datetime(2027, 5, 1, 12)
    with pytest.raises(Refused, match="Row 2: a number among dates"):
        hot_phase._refuse_two_kinds([(noon, 1), (4.0, 2), (noon, 3)], "log")
    with pytest.raises(Refused, match="Row 1: a date among numbers"):
        hot_phase._refuse_two_kinds([(noon, 1), (4.0, 2), (5.0, 3)], "log")
    with pytest.raises(Refused, match="Row 2: a number among dates"):
        hot_phase._refuse_two_kinds([(noon, 1), (4.0, 2)], "log")
    hot_phase._refuse_two_kinds([(1.0, 1), (4.0, 2)], "log")


# ---- drying, moisture


def test_castings_dry_enough_take_no_time():
    at_once = results("harvest.dry_down", moisture_before="50 %", moisture_after="50 %")
    assert (at_once["hours"].low, at_once["hours"].value, at_once["hours"].high) == (0.0, 0.0, 0.0)
    assert at_once["water_to_lose"] == 0.0


@pytest.mark.parametrize("given", [{"first_weight": "5 kg"}, {"first_weight": "5 kg", "second_weight": "4 kg"}])
def test_two_weighings_need_all_three(given):
    with pytest.raises(Refused) as refused:
        answer("harvest.dry_down", given, "metric")
    lacking = {"first_weight", "second_weight", "hours_between"} - set(given)
    assert {name for name, _ in refused.value.problems} == lacking


def test_bedding_as_wet_as_wanted_needs_nothing():
    same = results("moisture.adjust", mass="10 kg", moisture="20 %", target="20 %", dry_bedding_moisture="20 %")
    assert same["water_to_add"] == 0.0


def test_no_interval_goes_beyond_all_water_or_none():
    wet = [{"tare": "50 g", "wet": "150 g", "dry": dry} for dry in ("51 g", "56 g")]
    assert results("moisture.test", samples=wet)["interval_high"] == 1.0
    dry = [{"tare": "50 g", "wet": "150 g", "dry": weight} for weight in ("149 g", "144 g")]
    assert results("moisture.test", samples=dry)["interval_low"] == 0.0


# ---- lanes


def test_eggs_that_freeze_hatch_no_more():
    """The day after, a quarter of the cocoons gives a quarter of the young, and none gives none."""
    rate, young = stages.rates(20.0), []
    for cocoons in (1.0, 0.25, 0.0):
        herd = stages.Stages(4.0, 0.6, rate)
        for _ in range(40):
            herd.step(rate, 1.0, 1.0)
        herd.freeze(1.0, cocoons)
        herd.step(rate, 1.0, 1.0)
        young.append(herd.young)
    assert young[0] > young[2]
    assert young[0] - young[1] == pytest.approx(0.75 * (young[0] - young[2]))
    rest = stages.Stages(4.0, 0.6, rate)
    for _ in range(40):
        rest.step(rate, 1.0, 1.0)
    born = rest.young
    rest.freeze(1.0, 0.0)
    rest.step(rate, 1.0, 1.0)
    assert rest.young < born  # none is born, some grow up


def test_nothing_has_no_density():
    assert Parcel(0.0, 0.0, 0.0, 0.0).bulk_density == Parcel(0.0, 0.0, 0.0, 0.0).moisture == 0.0
    assert Parcel(1.0, 3.0, 0.2, 0.008).bulk_density == 500.0


def test_days_up_to_one_hold_that_one():
    days = list(range(10))
    assert followed.until(days, 3.0) == [0, 1, 2, 3] and followed.until(days, 3.2) == [0, 1, 2, 3, 4]
    assert followed.until(days, None) == days
    assert [day.day for day in ledger._days(LanePlan(), 40)] == list(range(41))


def test_the_first_warm_month_may_be_the_next_january():
    class South:
        monthly_means = (15, 15, 5, 5, 5, 5, 5, 5, 5, 5, 5, 5)

    assert propose.first_warm_month(South, date(2027, 3, 9)) == date(2028, 1, 1)
    assert propose.first_warm_month(South, date(2027, 1, 9)) == date(2027, 1, 1)


def test_the_typical_case_alone_is_followed_as_long_as_it_takes():
    soon, never = (lambda days: 1.0), (lambda days: None)
    with typical_alone():
        assert [len(days) for days in questions.cases(LanePlan(), soon)] == [len(questions.follow_span(LanePlan()))] * 3
        assert [len(days) for days in questions.cases(LanePlan(), never)] == [questions.HORIZON + 1] * 3
    assert {len(days) for days in questions.cases(LanePlan(), never)} == {questions.HORIZON + 1}
    assert {len(days) for days in questions.cases(LanePlan(), soon)} == {questions.SPAN + 1}


def test_less_is_left_than_its_ash():
    with pytest.raises(Refused, match="at least 15 % of the dry matter is left"):
        answer("lane.ledger", {"dry_matter_kept": "14 %"}, "metric")


# ---- what presenters say on either side of a limit

MONTHS = [{"month": str(month), "high": "20 C", "low": "10 C"} for month in range(1, 13)]


def words(id, given):
    """What is warned of and read, without its numbers: it differs where a limit is passed, however it is worded."""
    shown = answer(id, given, "metric").shown
    sentences = [*(sentence for _, sentence in shown.warnings), *shown.reading]
    return [re.sub(r"[\d.,]+", "0", str(sentence)) for sentence in sentences]


@pytest.mark.parametrize(
    ("id", "same", "before", "after"),
    [
        ("breeding.room", {"setpoint": "34.8 C"}, {"setpoint": "34.9 C"}, {"setpoint": "35 C"}),
        ("harvest.balance", {"moisture_after": "74 %"}, {"moisture_after": "75 %"}, {"moisture_after": "76 %"}),
        (
            "harvest.dry_down",
            {"mass": "39.9 kg", "area": "1 m2"},
            {"mass": "40 kg", "area": "1 m2"},
            {"mass": "40.1 kg", "area": "1 m2"},
        ),
        (
            "climate.water",
            {"months": [{**month, "sun_hours": "5"} for month in MONTHS]},
            {"months": [{**MONTHS[0], "sun_hours": "5"}, *MONTHS[1:]]},
            {"months": MONTHS},
        ),
        *(
            (
                "garden.dose",
                *({"depth": "10 cm", "castings_bulk_density": "600 kg/m3", "share": share} for share in shares),
            )
            for shares in [("1.6 %", "1.66 %", "1.75 %")]
        ),
    ],
)
def test_what_is_said_on_either_side_of_a_limit(id, same, before, after):
    """At 600 kg/m³ in 10 cm of soil 1.66 % is just under the trial's kilogram on a square metre, 1.75 % is over it."""
    assert words(id, same) == words(id, before) != words(id, after)


# ---- a second sample


def test_when_a_line_first_leaves_its_band():
    values = [10.0, 14.0, 22.0, 30.0]
    assert runs.first_beyond(values, 5.0, 20.0, 1.0) == pytest.approx(1.75)
    assert runs.first_beyond([10.0, 8.0, 2.0], 5.0, 20.0, 2.0) == pytest.approx(3.0)
    assert runs.first_beyond(values, 5.0, 30.0, 1.0) is None and runs.first_beyond(values, 11.0, 20.0) == 0.0


def test_zeros_of_a_polynomial_whose_last_terms_are_nothing():
    assert returns.polynomial_zeros([-2.0, 1.0, 0.0, 0.0], 0.1, 10) == pytest.approx([2.0])
    assert returns.polynomial_zeros([-2.0, 0.0], 0.1, 10) == returns.polynomial_zeros([0.0], 0.1, 10) == []
    assert returns.polynomial_zeros([-2.0, 1.0], 0.1, 10) == pytest.approx([2.0])


def test_last_values_in_the_reader_s_units():
    assert acts.shown("temperature", 10.0, "us", "$") == ("50", "°F")
    assert acts.shown("temperature", 10.0, "metric", "$") == ("10", "°C")
    assert acts.shown("feed", 0.45359237 * 40, "us", "$") == ("40", "lb")


def test_worms_without_a_unit_are_kilograms_and_pounds_are_not():
    lanes, rooms = ({"name": "North"},), ({"name": "Room"},)

    def one(unit):
        row = {"date": TODAY, "place": "Room", "what": "worms", "amount": 2.0, "unit": unit, "who": "", "note": ""}
        return log.read_log([row], lanes, rooms, BAG, TODAY).entries[0].amount

    assert one("lb") == pytest.approx(2 * 0.45359237) and one("kg") == 2.0


def test_castings_and_worms_spoiled_are_all_that_is_left_at_most():
    spoiled = Entry(TODAY, "", "spoiled", 9.0, None, None, "worms", "", 3)
    made = shed_of(Book(entries=[entry("worms", 3.0), entry("screened", 30.0), spoiled]), BAG)
    assert (made.worms, made.castings) == (0.0, 30.0)
    assert shed_of(Book(entries=[entry("screened", 3.0), entry("spoiled", 9.0)]), BAG).castings == 0.0


def test_hot_is_from_the_limit_on():
    assert heat.hot_at(5.0, [0.0, 10.0], [55.0, 55.0], 12.0, 55.0)
    assert not heat.hot_at(5.0, [0.0, 10.0], [54.9, 54.9], 12.0, 55.0)


def test_a_target_at_the_ratio_there_needs_nothing_more():
    assert mix.mass_for_carbon_nitrogen(10, 0.77, 0.024, 20.0, 0.35, 0.0075, 60.0, 20.0) == 0.0
    for target in (60.0, 61.0, 19.9):
        with pytest.raises(ValueError, match="outside"):
            mix.mass_for_carbon_nitrogen(10, 0.77, 0.024, 20.0, 0.35, 0.0075, 60.0, target)


def test_the_doses_of_the_trial_by_weight():
    """0.5 and 1.0 kg on a square metre of 0.75, and castings of 450 to 800 kg/m³ of 593: put together as squares."""
    one = dose.of_the_trial(2.0, 593.276)
    assert (one.low, one.value, one.high) == pytest.approx((1.2085, 2.0, 2.980), abs=0.002)


def test_shares_of_a_volume():
    shares = LanePlan().shares
    assert shares.volume_sold == pytest.approx(shares.volume_kept * shares.volume_dried * shares.product_share)
    assert shares.volume_sold < shares.volume_kept * shares.volume_dried < shares.volume_kept


def test_student_s_shares_as_printed():
    """Printed limits of 95 %: 12.706, 4.303, 3.182, 2.776, 2.571, 2.447 for one to six degrees of freedom."""
    for freedom, limit in enumerate((12.706, 4.303, 3.182, 2.776, 2.571, 2.447), start=1):
        assert samples.student_share_within(limit, freedom) == pytest.approx(0.95, abs=5e-5)


def test_of_a_baseline_that_never_changed_every_other_value_is_marked():
    assert chart.marked([5.0, 5.0, 5.1, 4.9], 5.0, 0.0) == [(2, 1, 1), (3, 1, -1)]


def test_hours_of_feeding_without_what_each_feeding_takes():
    """Half an hour noted for 8 ft is what is left after setting up; less than that says nothing."""
    book = Book(
        entries=[
            Entry(TODAY + timedelta(days=at), "North", "hours", amount, None, None, "feeding", "", 1)
            for at, amount in enumerate((0.7, 0.2, 0.1, 1.2))
        ]
    )
    hours = learn.feeding_hours_readings(book, ({"name": "North", "length": 16 * 0.3048},))
    assert hours == pytest.approx([0.25, 0.5])
