"""The first year: dates in order for any start, seasons of both hemispheres, and a calendar file that says the same."""

import sys
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

import calc
from calc.engine import YARD3
from calc.engine.calendar import calendar_text
from calc.engine.run import answer
from calc.engine.view import day_text
from calc.facts import lane as facts
from calc.lane import questions, year
from calc.lane.heaps import heaps
from calc.lane.model import COVERED_BELOW, LanePlan, first_slice_day, follow

MODULE = sys.modules["calc.lane.year"]  # the package hands out the calculator under this name
STARTS = st.dates(date(1950, 1, 1), date(2150, 12, 31))


@given(STARTS, st.floats(30, 1095), st.floats(0, 180), st.sampled_from(MODULE.MONTHS))
def test_the_year_is_in_order_wherever_it_begins(start, days, heap, month):
    found = year(start_date=start, days_to_first_slice=days, heap_days=heap, coldest_month=month)
    assert found.begin <= found.heap and found.begin < found.worms_in == start
    assert start < found.first_slice_early <= found.first_slice <= found.first_slice_late
    assert found.first_slice < found.first_sale and found.year_ends - start == timedelta(days=365)
    assert found.first_slice - start == timedelta(days=round(days))


@given(STARTS, st.sampled_from(MODULE.MONTHS))
def test_every_task_lies_within_the_year_and_both_seasons_are_met(start, month):
    view = answer("lane.year", {"start_date": start, "coldest_month": month})
    rows = MODULE.tasks(view)
    assert all(view.begin <= begins < ends <= view.year_ends for _, begins, ends, _ in rows)
    assert [begins for _, begins, *_ in rows] == sorted(begins for _, begins, *_ in rows)
    assert {"Cover against frost", "Shade and water"} <= {what for what, *_ in rows}


@pytest.mark.parametrize(
    ("start", "month", "word"),
    [("2027-01-10", "january", "coldest"), ("2027-01-10", "july", "hottest"), ("2027-04-10", "january", None)],
)
def test_a_start_in_the_hardest_quarter_is_warned_of(start, month, word):
    warnings = calc.run("lane.year", {"start_date": start, "coldest_month": month})["warnings"]
    assert len(warnings) == (1 if word else 0) and (not word or word in warnings[0])


@pytest.mark.parametrize("climate", ["mild", "cold", "dry"])
@pytest.mark.parametrize("kind", ["usual", "cold_spring", "hard_winter"])
def test_the_cover_of_the_calendar_lies_on_the_days_on_which_the_lane_model_lays_it(climate, kind):
    view = answer("lane.year", {"climate": climate, "year": kind})
    ready = timedelta(days=MODULE.READY_BEFORE_SEASON)
    spans = [row for row in MODULE.tasks(view) if row[0] == "Cover against frost"]
    lies = [day.on(view.plan) for day in follow(view.plan, 365) if day.air < COVERED_BELOW]
    assert all(any(begins <= day <= ends for _, begins, ends, _ in spans) for day in lies)
    for _, begins, ends, _ in spans:
        assert ends in lies or ends == view.year_ends  # never a day longer
        assert begins + ready in lies or begins <= view.worms_in
    assert bool(spans) == bool(lies)


@pytest.mark.parametrize("climate", ["mild", "cold", "dry"])
def test_shade_stays_until_a_fed_bed_has_cooled(climate):
    view = answer("lane.year", {"climate": climate})
    ends = next(row[2] for row in MODULE.tasks(view) if row[0] == "Shade and water")
    warm = [day.on(view.plan) for day in follow(view.plan, 365) if day.bed_temperature > 25 and day.air > 10]
    last = max(day for day in warm if day.year == ends.year)
    assert abs(ends - last) <= timedelta(days=14), (ends, last)
    assert min(warm) >= next(row[1] for row in MODULE.tasks(view) if row[0] == "Shade and water")


def test_the_year_says_what_the_cold_months_eat_bare_and_under_straw():
    bare, covered = (answer("lane.year", {"cover_resistance": each}) for each in (0.0, MODULE.STRAW))
    eaten = [MODULE.winter_feed(view.plan, view.plan.cover_resistance) for view in (bare, covered)]
    assert eaten[1] > 1.3 * eaten[0]
    for view, first in ((bare, "Reckoned for a bed that lies bare"), (covered, "Reckoned with your cover on")):
        said = next(text for text in view.shown.reading if text.startswith("Reckoned"))
        assert said.startswith(first)
        assert all(view.say(each, "kg", digits=2) in said for each in eaten)
    assert sum(row[2] for row in MODULE._months(covered, covered.plan).rows) > sum(
        row[2] for row in MODULE._months(bare, bare.plan).rows
    )
    for other in ({"climate": "dry"}, {"bed_temperature": 20}):  # no cold months: nothing to say
        assert not any(text.startswith("Reckoned") for text in answer("lane.year", other).shown.reading)


def test_the_calendar_says_that_the_base_is_sold_first_and_when_castings_come():
    view = answer("lane.year")
    words = {row[0]: row[3] for row in MODULE.tasks(view)}
    castings = answer("lane.starter").days_to_first_castings
    assert day_text(view.worms_in + timedelta(days=round(castings))) in words["First sales"]
    assert day_text(view.first_slice_late) in words["First slice may come"]


def test_a_climate_without_frost_has_no_cover_in_its_calendar():
    assert "Cover against frost" not in {row[0] for row in MODULE.tasks(answer("lane.year", {"climate": "dry"}))}


def test_a_bed_that_is_held_at_a_temperature_is_neither_covered_nor_shaded_by_the_calendar():
    held = answer("lane.year", {"bed_temperature": 20.0, "start_date": "2027-01-10"})
    assert not {"Cover against frost", "Shade and water"} & {row[0] for row in MODULE.tasks(held)}
    assert not any("coldest twelve weeks" in text for _, text in held.shown.warnings)


def test_a_coldest_month_that_is_typed_moves_cold_and_heat():
    here, there = (
        {row[0]: row[2] for row in MODULE.tasks(answer("lane.year", {"coldest_month": month}))}
        for month in (None, "july")
    )
    assert here["Shade and water"].month == 9 and there["Shade and water"].month == 3
    assert there["Cover against frost"].month in (4, 10)


def test_a_slice_after_the_first_year_is_said():
    assert "does not fall into the first year" in calc.run("lane.year", {"days_to_first_slice": "500"})["warnings"][0]


def test_the_calendar_file_has_every_task_on_its_day():
    view = answer("lane.year", {"start_date": "2028-02-29"})
    text = calendar_text(view.shown.events, view.entry.question)
    assert text.count("BEGIN:VEVENT") == len(view.shown.events) >= 10
    for what, begins, *_ in MODULE.tasks(view):
        assert f"DTSTART;VALUE=DATE:{begins:%Y%m%d}" in text and f"SUMMARY:{what}" in text


@pytest.mark.parametrize("more", [{}, {"worm_mass": 2, "climate": "cold", "year": "cold_spring", "fed_on": "side"}])
def test_the_year_and_the_first_lane_give_one_date(more):
    starter, year_ = answer("lane.starter", more), answer("lane.year", more)
    assert year_.first_slice == starter.first_slice_date and year_.first_slice_late == starter.first_slice_late
    assert year_.first_feeding_date == starter.first_feeding_date
    assert year_.first_feeding_mass == starter.first_feeding_mass


def test_a_cold_spring_is_one_choice_and_costs_days():
    usual, cold = (answer("lane.year", {"year": kind, "start_date": "2027-03-01"}) for kind in ("usual", "cold_spring"))
    assert cold.first_slice > usual.first_slice and cold.feed_of_year < usual.feed_of_year


def test_the_start_month_is_shown():
    rows = answer("lane.year", {}).shown.tables[2].rows
    assert [row[0] for row in rows][:2] == ["January", "February"] and len(rows) == 12
    assert rows[4][1] == answer("lane.year", {}).first_slice  # the worms of the form come on the 1st of May too


def test_feed_to_fetch_by_weight_volume_and_heaps():
    found = calc.run("lane.year")
    density, wet = (found["inputs"][name]["value"] for name in ("feed_bulk_density", "feed_moisture"))
    rows = found["tables"]["months"]["rows"]
    assert sum(row[2] for row in rows) == pytest.approx(found["outputs"]["feed_of_year"]["value"])
    for _, _, feed, volume, piled in rows:
        assert volume == pytest.approx(feed / density)
        assert piled * 0.764554857984 * facts.HEAP_LEAVES.typical == pytest.approx(feed * (1 - wet))


@pytest.mark.parametrize(
    "plan", [{}, {"worm_mass": 2.3, "lane_length": 1.8}, {"worm_mass": 90, "fed_on": "side", "lane_length": 24}]
)
def test_every_heap_of_the_year_has_its_day(plan):
    """No layer is laid of feed that is not there; no heap is smaller than heats, or is made before it is wanted."""
    found = answer("lane.year", plan)
    made = heaps(found.plan, 28)
    assert len(made) == found.heaps_of_year and made[0].made == found.heap
    assert all((heap.ready - heap.made).days == 28 and heap.volume >= YARD3 for heap in made)
    stock, coming = 0.0, list(made)
    for day in follow(found.plan, 365):
        while coming and coming[0].ready <= day.on(found.plan):
            assert stock < day.laid + 1e-6, "the one before is laid out"
            stock += coming.pop(0).feed
        stock -= day.laid
        assert stock >= -1e-6
    assert not coming
    rows = [row for row in next(t for t in found.shown.tables if t.name == "year").rows if row[0] == "Heap of feed"]
    assert [row[1] for row in rows] == [heap.made for heap in made]
    assert [event.day for event in found.shown.events if event.summary == "Heap of feed"] == [
        heap.made for heap in made
    ]


def test_what_a_heap_leaves_is_the_mix_of_the_feed_chapter_less_three_tenths():
    for mode in ({}, {"mode": "solve", "target_moisture": 0.65}):
        mix = calc.run("feed.recipe", mode)["outputs"]
        dry = mix["mix_bulk_density"]["value"] * (1 - mix["mix_moisture"]["value"])
        assert facts.HEAP_LEAVES.typical == pytest.approx(0.7 * dry, rel=0.03)


def test_days_that_were_typed_are_told_where_the_lane_gives_others():
    days = calc.run("lane.starter")["outputs"]["days_to_first_slice"]["value"]
    told = "the other pages go by that"
    assert told in " ".join(calc.run("lane.year", {"days_to_first_slice": 120})["warnings"])
    assert told not in " ".join(calc.run("lane.year", {"days_to_first_slice": days + 3})["warnings"])
    assert told not in " ".join(calc.run("lane.year")["warnings"])


def test_a_slow_herd_without_a_slice_in_three_years_is_given_no_day():
    plan = {"lane_length": 1.8, "lane_width": 0.9, "worm_mass": 2.3, "climate": "cold", "year": "cold_spring"}
    view = answer("lane.year", plan)
    assert view.first_slice_late - view.worms_in == timedelta(days=questions.HORIZON) > view.first_slice - view.worms_in
    assert any("with a slow herd not within three years." in said for said in view.shown.reading)
    assert view.shown.reading[-1].endswith(", or longer.")
    for id in ("lane.starter", "lane.lives"):
        assert any("and more than 36" in said for said in answer(id, plan).shown.reading)
    known = answer("lane.year", {})
    assert any(f"at the latest about {known['first_slice_late']}." in said for said in known.shown.reading)


@pytest.mark.parametrize("bed", [None, "8 °C"])
def test_the_year_and_the_picture_of_it_lay_the_same_feed(bed):
    """A layer that falls on the first day of the second year belongs to neither."""
    long_lane = {"lane_length": "20 ft", "lane_width": "5 ft", "worm_mass": "20 kg", "climate": "cold"}
    values = long_lane | {"start_date": "2027-10-01", "bed_temperature": bed}
    laid = calc.run("lane.year", values)["outputs"]["feed_of_year"]
    assert laid == calc.run("lane.lives", values)["outputs"]["feed_in_year"]
    assert laid["value"] > 0


def test_what_brings_a_slice_nearer_is_what_does():
    """More worms and warmth do, and more feed where feed was named; a shorter lane does not."""

    def days(**given):
        return questions.typical_day(LanePlan(**given), first_slice_day)

    assert days(worm_mass=7) < days() < days(lane_length=1.5)
    assert days(bed_temperature=25.0) < days()
    assert days(feed_available_per_week=14) < days(feed_available_per_week=9)
    hot = LanePlan(bed_temperature=33.0)
    assert questions.brings_it_nearer(hot) == "more worms, or a bed nearer to 77 °F (25 °C)"
    assert questions.brings_it_nearer(replace(hot, feed_available_per_week=9)).startswith("more feed each week, ")


@pytest.mark.parametrize("id", ["lane.starter", "lane.feeding", "lane.lives", "lane.year"])
def test_where_no_slice_comes_every_page_says_what_brings_it(id):
    said = calc.run(id, {"bed_temperature": "91 F"}, units="us")["reading"]
    assert any("What brings it nearer: more worms, or a bed nearer to 77 °F (25 °C)." in line for line in said)


def test_heaps_in_the_words_of_the_chapters():
    docs = Path(__file__).parents[2] / "docs"
    asked = " ".join((docs / "first-questions.md").read_text(encoding="utf-8").split())
    made = " ".join((docs / "feed" / "hot-phase.md").read_text(encoding="utf-8").split())
    own, small = (
        heaps(answer("lane.year", plan).plan, 28)
        for plan in ({}, {"lane_length": "6 ft", "lane_width": "3 ft", "worm_mass": "5 lb"})
    )
    leaves = "about 450 lb (200 kg) of feed"
    assert leaves in asked and leaves in made and own[0].feed == pytest.approx(204, abs=3)
    assert "ten weeks" in asked and (own[1].ready - own[0].ready).days == pytest.approx(70, abs=4)
    assert "fifteen" in asked and (small[1].ready - small[0].ready).days == pytest.approx(105, abs=4)
