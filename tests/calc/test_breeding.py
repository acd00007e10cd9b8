"""Breeding: the curve against SciPy, the pipeline against common practice and Little's law, the room against energy
balance.
"""

import doctest
import re
from pathlib import Path

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy.interpolate import PchipInterpolator

import calc
from calc.biology import activity
from calc.breeding import curve as curves
from calc.breeding import room as room_calculator
from calc.breeding import setpoints as setpoints_calculator
from calc.breeding import trays as trays_calculator
from calc.engine.quantity import convert
from calc.engine.run import answer
from calc.facts import biology
from calc.facts import breeding as facts

room_module, setpoints_module, trays_module = (
    __import__(f"calc.breeding.{name}", fromlist=[name]) for name in ("room", "setpoints", "trays")
)


def test_doctests():
    for module in (curves, room_module, setpoints_module, trays_module):
        assert doctest.testmod(module).failed == 0


@given(st.lists(st.tuples(st.floats(0, 50), st.floats(-10, 10)), min_size=2, max_size=9))
@settings(max_examples=300)
def test_curve_against_a_reference_library(points):
    points = sorted({round(x, 2): round(y, 3) for x, y in points}.items())
    assume(len(points) >= 2)
    ours, theirs = curves.curve(points), PchipInterpolator(*zip(*points))
    for x in np.linspace(points[0][0], points[-1][0], 23):
        assert ours(float(x)) == pytest.approx(float(theirs(x)), rel=1e-9, abs=1e-9)


@given(st.lists(st.tuples(st.floats(0, 50), st.floats(0, 10)), min_size=2, max_size=9), st.floats(-20, 70))
def test_curve_never_overshoots(points, x):
    points = sorted({round(a, 2): b for a, b in points}.items())
    assume(len(points) >= 2)
    heights = [y for _, y in points]
    assert min(heights) - 1e-9 <= curves.curve(points)(x) <= max(heights) + 1e-9


def test_published_rates_are_met():
    assert setpoints_module.cocoons_per_worm_per_week(20) == pytest.approx(2.3)
    assert setpoints_module.incubation_days(20) == pytest.approx(25)
    found = setpoints_calculator(breeding_temperature=25.0)
    assert found.cocoons_per_worm_per_week.low <= 2.5 and found.cocoons_per_worm_per_week.high >= 2.7
    assert found.cocoons_lost == pytest.approx(0, abs=1e-6)


def test_range_widens_beyond_the_published():
    widths = [setpoints_module.doubt(t) for t in (22, 19, 17, 15, 10)]
    assert widths == sorted(widths) and widths[0] < widths[-1]
    assert any(
        "No published table" in warning
        for warning in calc.run("breeding.setpoints", {"breeding_temperature": 12})["warnings"]
    )


def test_heat_kills():
    result = calc.run("breeding.setpoints", {"growout_temperature": "96 F"})
    assert result["outputs"]["days_cocoon_to_sale"]["value"] is None
    assert any("kills" in warning for warning in result["warnings"])


def test_common_practice_in_gives_common_practice_out():
    found = trays_calculator(trays_per_week=20.0, breeders_mass_per_tray=convert(0.75, "lb", "kg"))
    assert found.cocoons_per_tray == pytest.approx(2000, rel=0.05)
    assert found.worms_per_tray == pytest.approx(3000, rel=0.05)
    assert found.worms_per_week == pytest.approx(60000, rel=0.05)
    assert 50 <= convert(found.worm_mass_per_week, "kg", "lb") <= 60
    assert found.breeding_trays_at_once == pytest.approx(60)


@given(st.floats(0.1, 50), st.floats(7, 40), st.floats(14, 60), st.floats(30, 120), st.floats(0.5, 4))
@settings(max_examples=60, deadline=None)
def test_littles_law_and_the_shelf_agree(per_week, breeding, hatching, growing, split):
    result = calc.run(
        "breeding.trays",
        {
            "trays_per_week": per_week,
            "breeding_days": breeding,
            "incubation_days": hatching,
            "growing_days": growing,
            "growout_trays_per_tray": split,
        },
    )
    value = {name: output["value"] for name, output in result["outputs"].items()}
    assert value["trays_at_once"] == pytest.approx(value["breeding_trays_at_once"] + value["growout_trays_at_once"])
    last = result["tables"]["weeks"]["rows"][-1]
    room = last[3] + last[4] + last[5]
    assert abs(room - value["trays_at_once"]) <= (1 + split) * (per_week + 2)


@given(st.floats(0.05, 60), st.integers(4, 60))
def test_whole_trays_add_up(per_week, weeks):
    started = trays_module.starts(per_week, weeks)
    assert all(isinstance(count, int) and count >= 0 for count in started)
    assert per_week * weeks - 1e-6 <= sum(started) < per_week * weeks + 1


@given(st.floats(0.1, 2), st.floats(1, 3))
def test_more_breeders_never_give_fewer_worms(mass, factor):
    less, more = (
        trays_calculator(breeders_mass_per_tray=m).worm_mass_per_week for m in (mass * 0.4, mass * 0.4 * factor)
    )
    assert more >= less


def test_aim_twenty_pounds():
    result = calc.run(
        "breeding.trays", {"trays_per_week": 6}, aim=("worm_mass_per_week", "20 lb/week"), vary="trays_per_week"
    )
    assert result["aim"]["reached"]
    assert convert(result["outputs"]["worm_mass_per_week"]["value"], "kg", "lb") == pytest.approx(20, rel=1e-6)


def test_calendar_follows_the_pipeline():
    view = __import__("calc.engine.run", fromlist=["answer"]).answer("breeding.trays", {"trays_per_week": 0.5}, "us")
    starts = [event for event in view.shown.events if event.summary.startswith("Start")]
    assert [(b.day - a.day).days for a, b in zip(starts, starts[1:])] == [14] * (len(starts) - 1)


def test_a_failed_batch_is_one_empty_week():
    rows = calc.run("breeding.trays", {})["tables"]["failure_weeks"]["rows"]
    normal = rows[0][1]
    assert sum(1 for row in rows if row[1] == 0) == 1 and all(row[1] in (0, normal) for row in rows)
    assert sum(row[2] for row in rows) < sum(row[1] for row in rows) > sum(row[3] for row in rows)
    assert len(rows) > 12


def test_the_herd_covers_the_breeders():
    found = trays_calculator(herd_share=0.25)
    assert found.herd_needed * 0.25 == pytest.approx(found.breeders_mass_needed)


@given(st.floats(5e-5, 1.5e-3))
def test_heavier_worms_never_take_fewer_days(weight):
    for points, _ in setpoints_module.SERIES:
        days, later = (setpoints_module.days_in_series(points, w) for w in (weight, weight * 1.1))
        assert days is None or later is None or later > days


def test_published_weights_are_met_on_their_days():
    for points, _ in setpoints_module.SERIES:
        for day, gram, *_ in points.points[1:4]:
            assert setpoints_module.days_in_series(points, gram / 1000) == pytest.approx(day, rel=1e-9)


def test_disagreement_is_shown():
    tables = calc.run("breeding.setpoints", {"sale_worm_mass": "0.45 g"})["tables"]
    assert {"Loehr, Neuhauser & Malecki 1985", "Edwards & Arancon 2004"} <= {
        row[2] for row in tables["authors"]["rows"]
    }
    assert any(isinstance(row[2], str) for row in tables["series"]["rows"]) and len(tables["series"]["rows"]) == 8


def test_days_lost_are_never_negative():
    for temperature in (12.0, 20.0, 26.5, 27.2, 28.0, 31.0):
        assert setpoints_calculator(growout_temperature=temperature).days_lost >= 0
    rows = calc.run("breeding.setpoints", {})["tables"]["off"]["rows"]
    assert all(isinstance(row[4], str) or row[4] >= 0 for row in rows)


def test_no_days_where_nothing_is_published_or_worms_die():
    for temperature in (2.0, 9.9, 35.0, 36.0):
        found = setpoints_calculator(growout_temperature=temperature)
        assert found.incubation_days is None and found.days_cocoon_to_sale is None


def test_growing_days_widen_beyond_the_published():
    inside, outside = (
        setpoints_calculator(growout_temperature=temperature).days_to_sale_size for temperature in (25.0, 12.0)
    )
    assert outside.high / outside.low > inside.high / inside.low


@given(st.floats(3e-4, 1.4e-3), st.floats(1.0, 1.5))
def test_heavier_worms_take_longer(mass, factor):
    assert setpoints_module.days_to_weight(min(1.5e-3, mass * factor)) >= setpoints_module.days_to_weight(mass)


def test_weights_that_worms_together_never_reached_are_told():
    assert any(
        "stopped short" in warning
        for warning in calc.run("breeding.setpoints", {"sale_worm_mass": "0.8 g"})["warnings"]
    )


@given(st.floats(0, 100), st.integers(1, 40), st.integers(1, 10), st.integers(12, 60))
def test_a_failure_never_adds_and_losing_the_breeders_is_never_better(normal, sold_after, round_weeks, last):
    rows = trays_module.weeks_after_failure(normal, sold_after, round_weeks, last)
    assert [row[0] for row in rows] == list(range(last + 1))
    assert all(0 <= breeders <= batch <= normal and 0 <= room <= normal for _, batch, breeders, room in rows)
    assert sum(row[3] == 0 for row in rows) >= min(sold_after, last + 1)


def test_failure_follows_at_least_twelve_weeks():
    rows = calc.run("breeding.trays", {"trays_per_week": 20})["tables"]["failure_weeks"]["rows"]
    assert len(rows) > 12 and [row[0] for row in rows if row[2] == 0] == [12, 15, 18]


@given(st.floats(0.1, 700), st.integers(0, 40))
def test_a_batch_is_sold_in_the_first_whole_week_after_it_is_grown(days, start):
    week = trays_module.week_sold(start, days)
    assert days - 1e-6 <= 7 * (week - start) < days + 7


def test_doubtful_feed_is_told():
    def reading(**given):
        return __import__("calc.engine.run", fromlist=["answer"]).answer("breeding.trays", given, "us").shown.reading

    assert any("A doubt" in sentence for sentence in reading())
    assert not any("A doubt" in sentence for sentence in reading(feed_per_tray_per_day="50 g"))


@given(st.floats(0, 500), st.floats(0, 50))
@settings(max_examples=100)
def test_powder_and_food_bedding_together_grow_what_is_planned(worms, powder):
    """Moist food at 80 % and powder, each at the most that trials got: a tenth of the first, half of the second."""
    food = trays_module.food_bedding(worms, powder)
    grown = 0.1 * food + 0.5 * powder * 7
    assert grown >= worms - 1e-9
    assert food == 0 or grown == pytest.approx(worms)
    assert (food > 0) == (trays_module.feed_shortfall(worms, powder) > 1 and worms > 0) or abs(grown - worms) < 1e-9


def test_what_feeds_the_young_is_said_alike_by_the_answer_and_the_steps():
    """Where powder falls short the answer asks for food bedding, and step 4 of the page says when it is given."""
    said = " ".join(answer("breeding.trays", {}, "us").shown.reading)
    pounds = calc.run("breeding.trays")["outputs"]["food_bedding_per_week"]["value"] / 0.45359237
    assert f"at least {float(f'{pounds:.2g}'):.0f} lb/week of aged manure or finished feed" in said
    enough = answer("breeding.trays", {"feed_per_tray_per_day": "50 g"}, "us")
    assert enough.results["food_bedding_per_week"] == 0 and "aged manure" not in " ".join(enough.shown.reading)
    steps = (Path(__file__).parents[2] / "docs/breeding/trays.md").read_text(encoding="utf-8")
    hatching = steps[steps.index("4. **Hatching:**") : steps.index("5. **Sale:**")]
    assert "food in the bedding" in hatching.lower() and "aged manure or finished feed" in hatching


# ---- room


@given(st.floats(-30, 14), st.floats(0, 35), st.floats(0.2, 10))
@settings(deadline=None)
def test_better_insulation_never_loses_more(cold, setpoint, resistance):
    losses = [
        room_calculator(
            design_temperature=cold, hot_design_temperature=cold + 40, setpoint=setpoint, wall_resistance=r
        ).heat_loss
        for r in (resistance, resistance * 1.5)
    ]
    assert losses[1] <= losses[0]


def test_a_month_balances():
    heat, cold = room_module.month_energy(50.0, 20.0, 10.0, 0.0, 30)
    assert (heat, cold) == (pytest.approx(50 * 10 * 24 * 30 / 1000), 0.0)
    assert room_module.month_energy(50.0, 20.0, 10.0, 500.0, 30) == (0.0, 0.0)


def test_wet_walls_are_told():
    result = calc.run("breeding.room", {"wall_resistance": 0.3, "humidity": "90%", "design_temperature": "-20 C"})
    assert result["outputs"]["condensation"]["value"] is True and any(
        "dew point" in warning for warning in result["warnings"]
    )


def test_a_usual_night_colder_than_the_coldest_hour_is_told():
    """Else the heater is said to carry what no heater of that size carries."""
    assert not any("too small" in told for told in calc.run("breeding.room")["warnings"])
    told = calc.run("breeding.room", {"climate": "cold"})["warnings"]
    assert any("A usual night of January" in one and "heater would be too small" in one for one in told)
    told = calc.run("breeding.room", {"hot_design_temperature": 20})["warnings"]
    assert any("A usual noon of" in one and "cooler would be too small" in one for one in told)


def test_authors_disagree_only_where_one_of_them_found_the_best():
    for temperature, said in ((18, True), (32, False), (8, False)):
        reading = " ".join(calc.run("breeding.setpoints", {"breeding_temperature": temperature})["reading"])
        assert ("Authors disagree by more" in reading) is said, temperature


@pytest.mark.parametrize(("share", "said"), [(1.0, "over 14"), (98 / 101, "14")])
def test_the_wait_for_worms_is_drawn_as_it_is_read(share, said, monkeypatch):
    view = answer("breeding.trays")
    monkeypatch.setitem(view.__dict__, "days_to_first_sale", 101 * share)
    assert trays_module._ramp_figure(view, []).finding.startswith(f"Nothing for {said} weeks")


def test_r_values_are_understood():
    assert calc.run("breeding.room", {"wall_resistance": "R-13"})["inputs"]["wall_resistance"][
        "value"
    ] == pytest.approx(13 * 0.176110, rel=1e-5)


def test_seasons_need_twelve_months():
    assert "needs 12 numbers" in calc.run("breeding.room", {"monthly_means": "1, 2, 3"})["errors"][0]["message"]


@given(st.floats(5, 34), st.floats(-40, 4), st.floats(0.13, 10))
def test_air_at_its_limit_of_humidity_has_its_dew_point_on_the_wall(setpoint, outside, resistance):
    from calc.climate.psychrometrics import dew_point, vapour_pressure

    wall = room_module.wall_inside(setpoint, outside, resistance)
    assume(wall > -30)
    assert outside - 1e-9 <= wall <= setpoint
    assert dew_point(vapour_pressure(setpoint, room_module.dry_humidity(setpoint, wall))) == pytest.approx(
        wall, abs=0.01
    )


def test_dry_humidity_and_the_warning_agree():
    limit = room_calculator(wall_resistance=0.5).highest_dry_humidity
    assert room_calculator(wall_resistance=0.5, humidity=limit + 0.01).condensation
    assert not room_calculator(wall_resistance=0.5, humidity=limit - 0.01).condensation


def test_growth_series_are_whole_and_say_what_they_count_from():
    """As the arrays of the model and the collection of traits have them: nothing is cut, and days are those that were
    counted.
    """
    weighed = dict(point[:2] for point in biology.GROWTH_20C.points)
    assert len(weighed) == 27 and weighed[56] == 0.462 and weighed[91] == 0.495 == max(weighed.values())
    assert weighed[98] == 0.490 > weighed[182] == 0.333
    for series in (facts.GROWTH_CEH, facts.GROWTH_CEH_SECOND, facts.GROWTH_ANDREI):
        assert "from the first weighing" in series.note
    assert [gram for _, gram, *_ in facts.GROWTH_CEH_SECOND.points] == [0.0669, 0.2094, 0.3425, 0.3736]
    assert facts.GROWTH_CEH_SECOND in [series for series, _ in setpoints_module.SERIES]


@pytest.mark.parametrize("temperature", [5, 10, 15])
def test_rates_in_the_cold_follow_the_one_curve(temperature):
    """Carried on from the counts at 20 °C by the pace that lanes use too; two digits are kept."""
    slower = activity(temperature) / activity(20)
    laid = dict(point[:2] for point in facts.COCOONS.points)
    assert laid[temperature] == pytest.approx(laid[20] * slower, abs=0.006)
    if temperature >= 10:
        days = dict(point[:2] for point in facts.INCUBATION.points)
        assert days[temperature] == pytest.approx(days[20] / slower, abs=0.06)
    assert setpoints_module.growth_speed(temperature) == activity(temperature)


def test_racks_are_drawn_from_the_reader_s_figures():
    """As many marks as trays stand, in columns as high as the reader stacks; of a large room each mark is several."""
    from calc.breeding.rack import STAGES, trays_standing
    from calc.page.block import answered

    def drawn(**values):
        view = answered("breeding.trays", values, "us", "$")
        made = next(figure for figure in view.shown.figures if figure.name == "racks")
        return view, made, [made.svg.count(f'class="{style}"') - 1 for _, style in STAGES]

    view, made, marks = drawn(trays_per_week="4", tiers="3")
    assert sum(trays_standing(view)) == pytest.approx(view.trays_at_once)
    assert marks == [12, 14, 32] and view["rack_area"] in made.finding and "3 high" in made.finding
    assert len(set(re.findall(r' x="[\d.]+" y="([\d.]+)"[^>]*class="draw-feed"', made.svg.split("cool room")[1]))) == 3
    _, many, marks = drawn(trays_per_week="300", tiers="4")
    assert "Each mark is 20 trays" in many.text and marks == [45, 51, 120]


def test_trays_breed_on_through_the_last_week_that_is_shown():
    view = calc.run("breeding.trays", {})
    rows = view["tables"]["weeks"]["rows"]
    assert rows[-1][3] == rows[-2][3] == rows[20][3]
