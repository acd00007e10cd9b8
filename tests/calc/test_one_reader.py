"""A reader with 6 by 3 ft, $400, 5 lb of worms and a cold spring: one plan, one feeding list, one date on every page.

The pages are walked as a reader does: from the first lane along *What comes next*, each page handing over what it hands
over, and then every page of the book once more, with all that stands in the plan by then.
"""

import json
import re
from collections.abc import Iterator
from datetime import date
from typing import Any

import pytest

from calc import page
from calc.engine.register import Calculator, every
from calc.engine.run import answer
from calc.engine.view import View
from calc.page.form import plan_key
from calc.page.leads import OPENINGS, handed_over
from calc.page.plan import plan_text

READER = {
    "lane_length": "6 ft",
    "lane_width": "3 ft",
    "budget": "400",
    "worm_mass": "5 lb",
    "year": "cold_spring",
    "start_date": "2027-04-05",
    "base_wait": "11 days",
}
PLANS: dict[str, dict[str, str]] = {
    "6 by 3 ft, $400, 5 lb, a cold spring": READER,
    "and a short floor, little feed, a place of their own": READER
    | {
        "floor_length": "9 ft",
        "feed_available_per_week": "20 lb/week",
        "monthly_temperature": "3 C, 4 C, 7 C, 10 C, 14 C, 17 C, 19 C, 19 C, 15 C, 11 C, 6 C, 3 C",
    },
}

Plan = dict[str, str]
"""{plan key: text}, as a browser keeps it."""


def asked(entry: Calculator, plan: Plan) -> dict[str, str]:
    """What of a plan stands in the fields of a page."""
    keys = {name: plan_key(name, described) for name, described in entry.inputs.items()}
    return {name: plan[key] for name, key in keys.items() if key in plan}


def shown(id: str, plan: Plan) -> View:
    return answer(id, asked(every()[id], plan), "us")


def walk(plan: Plan) -> Iterator[str]:
    """The pages in the order in which a reader comes to them; what is handed over is put into the plan."""
    ahead, seen = ["lane.starter"], set()
    while ahead:
        id = ahead.pop(0)
        if id in seen:
            continue
        seen.add(id)
        view = shown(id, plan)
        onward = {target: handed for target, handed in view.entry.leads.items() if target not in OPENINGS}
        for target, handed in onward.items():
            goes_to = every()[target]
            for name, value in handed_over(view, goes_to, handed).items():
                plan.setdefault(plan_key(name, goes_to.inputs[name]), plan_text(value, goes_to.inputs[name], "us"))
        ahead += onward
        yield id


@pytest.fixture(scope="module", params=list(PLANS))
def walked(request: pytest.FixtureRequest) -> tuple[Plan, dict[str, View]]:
    """The plan after the walk, and what every page says then."""
    starter = every()["lane.starter"].inputs
    plan = {plan_key(name, starter[name]): text for name, text in PLANS[request.param].items()}
    reached = list(walk(plan))
    assert len(reached) > 25
    return plan, {id: shown(id, plan) for id in every()}


def said(views: dict[str, View], label: str) -> dict[str, Any]:
    """{page and output: value} of the outputs whose label matches."""
    return {
        f"{id} {name}": view.results[name]
        for id, view in views.items()
        for name, output in view.entry.outputs.items()
        if re.fullmatch(label, output.label)
    }


def one(values: dict[str, Any], at_least: int) -> Any:
    """The one value that stands on so many pages."""
    texts = {json.dumps(value, default=str) for value in values.values()}
    assert len(values) >= at_least and len(texts) == 1, values
    return next(iter(values.values()))


def test_no_page_takes_another_lane_than_the_readers(walked: tuple[Plan, dict[str, View]]) -> None:
    plan, views = walked
    for id, view in views.items():
        for name, described in view.entry.inputs.items():
            key = plan_key(name, described)
            if key in plan and key.split(":")[0] in READER:
                assert view.given[name] == shown("lane.starter", plan).given[key.split(":")[0]], (id, name)


def test_every_page_says_one_date(walked: tuple[Plan, dict[str, View]]) -> None:
    _, views = walked
    slice_due = one(said(views, "First slice(, about|, if all goes as usual)"), 3)
    one(said(views, "First slice, at the earliest"), 2)
    one(said(views, "First slice, at the latest"), 2)
    feeding = one(said(views, "First feeding, on"), 3)
    one(said(views, "First feeding"), 3)
    one(said(views, "Days to the first slice"), 3)
    assert date(2027, 4, 8) <= feeding < slice_due


def test_there_is_one_feeding_list(walked: tuple[Plan, dict[str, View]]) -> None:
    _, views = walked
    lists = {
        f"{id} {table.name}": table.rows
        for id, view in views.items()
        for table in view.shown.tables
        if table.name == "feedings"
    }
    one(lists, 2)
    one(said(views, "Feed in the first weeks"), 2)
    one(said(views, "Feed in the first year"), 2)


def entries(id: str, plan: Plan) -> list[tuple[str, str, str]]:
    """(day, summary, description) of each entry of a page's calendar file."""
    request = {"calculator": id, "values": asked(every()[id], plan), "units": "us", "currency": "$"}
    text = json.loads(page.respond("calendar", json.dumps(request)))["text"].replace("\r\n ", "")
    found = []
    for event in text.split("BEGIN:VEVENT")[1:]:
        parts = [
            re.search(rf"^{name}[^:]*:(.*?)\r?$", event, re.MULTILINE) for name in ("DTSTART", "SUMMARY", "DESCRIPTION")
        ]
        found.append(tuple(part[1].replace("\\,", ",") if part else "" for part in parts))
    return found


def test_every_calendar_file_says_the_same_days(walked: tuple[Plan, dict[str, View]]) -> None:
    plan, views = walked
    files = {id: entries(id, plan) for id, view in views.items() if view.shown.events}
    assert {"lane.starter", "lane.feeding", "lane.year"} <= set(files)
    days: dict[str, dict[str, str]] = {}
    for id, found in files.items():
        if not id.startswith("lane."):
            continue
        for meaning, words in {
            "slice": r"First slice is about due",
            "feeding": r"First feeding|Feed the lane",
            "base": r"Build the lane, fill and water the base|Base lies",
            "worms": r"Worms go in|Worms settle",
        }.items():
            first = min((day for day, summary, _ in found if re.fullmatch(words, summary)), default=None)
            if first is not None:
                days.setdefault(meaning, {})[id] = first
    for meaning, found_on in days.items():
        one(found_on, 1 if meaning == "slice" and not views["lane.starter"].first_slice_date else 2)
    mass = views["lane.starter"]["first_feeding_mass"]
    told = [text for found in files.values() for _, summary, text in found if re.fullmatch("First feeding", summary)]
    told.append(next(text for _, summary, text in files["lane.feeding"] if summary == "Feed the lane"))
    assert len(told) == 3 and all(mass in text for text in told), told


def test_the_money_is_that_of_the_plan(walked: tuple[Plan, dict[str, View]]) -> None:
    _, views = walked
    starter = views["lane.starter"]
    assert views["lane.ledger"].money_out == pytest.approx(starter.startup_cost)
    assert views["economics.cash"].given["startup_cost"] == pytest.approx(
        starter.startup_cost, rel=1e-3
    )  # handed over in four digits
    assert views["economics.cash"].given["opening_cash"] == pytest.approx(400)
    assert views["climate.water"].watered_area == pytest.approx(
        starter.given["lane_length"] * starter.given["lane_width"]
    )
