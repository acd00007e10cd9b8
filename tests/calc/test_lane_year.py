"""The first year: dates in order for any start, seasons of both hemispheres, and a calendar file that says the same."""

import sys
from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

import calc
from calc.engine.calendar import calendar_text
from calc.engine.run import answer
from calc.lane import year

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


def test_a_slice_after_the_first_year_is_said():
    assert "does not fall into the first year" in calc.run("lane.year", {"days_to_first_slice": "500"})["warnings"][0]


def test_the_calendar_file_has_every_task_on_its_day():
    view = answer("lane.year", {"start_date": "2028-02-29"})
    text = calendar_text(view.shown.events, view.entry.question)
    assert text.count("BEGIN:VEVENT") == len(view.shown.events) >= 10
    for what, begins, *_ in MODULE.tasks(view):
        assert f"DTSTART;VALUE=DATE:{begins:%Y%m%d}" in text and f"SUMMARY:{what}" in text


def test_the_starter_lane_hands_its_first_slice_over():
    starter = answer("lane.starter", {}, "us")
    assert starter.entry.leads["lane.year"] == {"days_to_first_slice": "days_to_first_slice"}
    assert answer(
        "lane.year", {"days_to_first_slice": starter.days_to_first_slice}
    ).first_slice == starter.start_date + timedelta(days=round(starter.days_to_first_slice))
