"""One figure for one thing: whatever a reader's plan is, two pages that show one quantity show one number."""

from itertools import combinations
from math import isclose
from typing import Any

import pytest

import calc
from calc.climate.season import season
from calc.climate.watering import month_weather, place_of
from calc.engine import FOOT, INCH, POUND
from calc.engine.register import every
from calc.lane.asked import lane_form, lane_plan
from calc.page.form import plan_key

PLANS: dict[str, dict[str, Any]] = {
    "as the pages start": {},
    "6 by 3 ft, $400, 5 lb and a cold spring": {
        "lane_length": 6 * FOOT,
        "lane_width": 3 * FOOT,
        "budget": 400.0,
        "worm_mass": 5 * POUND,
        "year": "cold_spring",
        "start_date": "2027-04-05",
        "floor_length": 9 * FOOT,
    },
    "nothing like it": {
        "lane_length": 7.3,
        "lane_width": 1.9,
        "bed_height": 0.61,
        "base_depth": 0.22,
        "worm_mass": 3.1,
        "full_stocking": 3.7,
        "fed_on": "side",
        "floor_length": 2.9,
        "feed_available_per_week": 31.0,
        "start_date": "2028-09-13",
        "climate": "cold",
        "year": "mild_winter",
        "monthly_temperature": [16, 15, 13, 10, 7, 4, 3, 5, 8, 11, 13, 15],
        "face_slope": 38.0,
        "layer_thickness": 1.3 * INCH,
        "gap": 0.83,
        "slice_length": 0.21,
        "compost_bulk_density": 710.0,
        "base_moisture": 0.48,
        "target_moisture": 0.8,
        "ration": 0.61,
        "feed_bulk_density": 480.0,
        "feed_moisture": 0.78,
        "volume_kept": 0.43,
        "dry_matter_kept": 0.52,
        "castings_moisture": 0.71,
        "safe_interval": 3.5,
        "capacity": 8.3,
        "harvest_per_week": 0.04,
        "survival": 0.37,
        "water_per_area_per_day": 1.4,
        "castings_bulk_density": 540.0,
        "screen_product_share": 0.58,
        "budget": 5000.0,
    },
    "held in a cellar": {"bed_temperature": 14.5, "worm_mass": 9.0, "lane_length": 1.2, "capacity": 1.6},
}

OTHER_SUBJECT = {
    "labour_hours_per_week": "of lanes, and of trays",
    "water_to_add": "to a mix that is solved, and to bedding that is there",
    "water_to_lose": "by bedding, and by castings",
    "water_per_week": "of lanes in full work, and of a bed of an area on a day",
    "worm_mass": "of lanes, and of a bin",
    "lowest_core": "over days that are typed, and from today's weather",
    "highest_core": "over days that are typed, and from today's weather",
    "bed_evaporation": "of a month, and of one day",
    "earned_per_hour": "of one product, and of the farm",
    "chance_of_running_dry": "of a plan to begin, and of a farm that runs",
}
"""Outputs of one name and label that are not one quantity, and why."""

ONE_QUANTITY = (
    ("lane.starter days_to_full_stocking", "lane.herd days_to_target"),
    ("lane.starter first_slice_date", "lane.year first_slice"),
    ("lane.starter active_area", "lane.herd area"),
    ("lane.starter startup_cost", "lane.ledger money_out"),
    ("lane.feeding castings_bulk_density", "lane.output sliced_bulk_density"),
)
"""Outputs that have two names, and are one quantity."""


def given_to(id: str, plan: dict[str, Any]) -> dict[str, Any]:
    """What of a reader's plan a page has a field for: the same name, and the same label."""
    fields = calc.find(id).inputs
    return {name: value for name, value in plan.items() if name in fields and value is not None}


@pytest.fixture(scope="module", params=list(PLANS))
def answered(request: pytest.FixtureRequest) -> tuple[dict[str, Any], dict[str, Any]]:
    """A reader's plan, and what every page answers to it."""
    plan = PLANS[request.param]
    return plan, {id: calc.run(id, given_to(id, plan)) for id in every()}


def agrees(one: Any, other: Any) -> bool:
    if isinstance(one, dict) and isinstance(other, dict):
        return all(agrees(one.get(side), other.get(side)) for side in ("value", "low", "high"))
    if isinstance(one, float) and isinstance(other, float):
        return isclose(one, other, rel_tol=1e-9, abs_tol=1e-12)
    return bool(one == other)


def test_every_page_answers_any_plan(answered: tuple[dict[str, Any], dict[str, Any]]) -> None:
    _, found = answered
    assert {id: run["errors"] for id, run in found.items() if "errors" in run} == {}


def test_outputs_of_one_name_and_meaning_are_one_number(answered: tuple[dict[str, Any], dict[str, Any]]) -> None:
    _, found = answered
    meant: dict[tuple[str, str, str], list[str]] = {}
    for id, entry in every().items():
        for name, output in entry.outputs.items():
            meant.setdefault((name, output.label, output.unit), []).append(id)
    differing = [
        (name, one, other, found[one]["outputs"][name], found[other]["outputs"][name])
        for (name, _, _), ids in meant.items()
        if name not in OTHER_SUBJECT
        for one, other in combinations(ids, 2)
        if not agrees(found[one]["outputs"][name], found[other]["outputs"][name])
    ]
    assert differing == []


def test_what_has_two_names_is_one_number_too(answered: tuple[dict[str, Any], dict[str, Any]]) -> None:
    _, found = answered
    for pair in ONE_QUANTITY:
        (one, one_name), (other, other_name) = (what.split() for what in pair)
        values = found[one]["outputs"][one_name]["value"], found[other]["outputs"][other_name]["value"]
        assert agrees(*values), (pair, values)


def test_there_is_one_list_of_feedings(answered: tuple[dict[str, Any], dict[str, Any]]) -> None:
    """In both tables, week by week, by month and in the year; the first of it is the first feeding of every page."""
    _, found = answered
    listed = found["lane.starter"]["tables"]["feedings"]["rows"]
    assert listed == found["lane.feeding"]["tables"]["feedings"]["rows"]
    weeks = found["lane.feeding"]["tables"]["calendar"]["rows"]
    assert isclose(sum(row[3] for row in weeks), sum(row[2] for row in listed), abs_tol=1e-9)
    months = [found[id]["tables"]["months"]["rows"] for id in ("lane.starter", "lane.year")]
    assert [row[:3] for row in months[0]] == [row[:3] for row in months[1]]
    assert found["lane.lives"]["tables"]["months"] == found["lane.starter"]["tables"]["months"]
    year = found["lane.year"]["outputs"]["feed_of_year"]["value"]
    assert isclose(sum(row[2] for row in months[0]), year, rel_tol=1e-9, abs_tol=1e-9)
    first = found["lane.year"]["outputs"]["first_feeding_mass"]["value"]
    assert first == (listed[0][2] if listed else None)


def test_the_books_are_those_of_the_feedings(answered: tuple[dict[str, Any], dict[str, Any]]) -> None:
    _, found = answered
    books = {name: item["value"] for name, item in found["lane.ledger"]["outputs"].items()}
    for part in ("dry_matter", "water", "ash", "volume"):
        gap = books[f"{part}_in"] - books[f"{part}_out"] - books[f"{part}_lost"] - books[f"{part}_stored"]
        assert abs(gap) <= 1e-9 * books[f"{part}_in"]
    asked = {name: item["value"] for name, item in found["lane.ledger"]["inputs"].items()}
    base = found["lane.starter"]["outputs"]
    fed = found["lane.year"]["outputs"]["feed_of_year"]["value"]
    dry = base["base_mass"]["value"] * (1 - asked["base_moisture"]) + fed * (1 - asked["feed_moisture"])
    assert isclose(books["dry_matter_in"], dry, rel_tol=1e-9)
    volume = base["base_volume"]["value"] + fed / asked["feed_bulk_density"]
    assert isclose(books["volume_in"], volume, rel_tol=1e-9)


def test_a_volume_of_feed_sells_as_the_same_everywhere(answered: tuple[dict[str, Any], dict[str, Any]]) -> None:
    _, found = answered
    inputs = {name: item["value"] for name, item in found["lane.output"]["inputs"].items()}
    sold = inputs["castings_per_week"] / found["lane.output"]["outputs"]["feed_volume_per_week"]["value"]
    shared = {name: value for name, value in inputs.items() if name != "start_date"}
    shares = lane_plan(shared, product_share=inputs["screen_product_share"]).shares
    assert isclose(sold, shares.volume_sold, rel_tol=1e-9)


def test_a_figure_that_makes_the_lane_is_asked_on_every_page_about_it() -> None:
    """Else a reader could change the lane on one page only, and two pages would speak of two lanes."""
    asked = set(lane_form.__annotations__) - {"return"}
    for id in ("lane.starter", "lane.feeding", "lane.herd", "lane.year", "lane.ledger"):
        assert asked - set(calc.find(id).inputs) == set(), id


ANOTHER_THING = {
    "Moisture wanted": "of the base of a lane, and of any bedding",
}
"""Inputs of one label that stand under two keys of the plan, and why."""


def test_every_page_speaks_of_one_season_and_one_bed() -> None:
    """A kind of year, typed means and a lane's size that were set on one page hold on those about water and heat."""
    lane = {"lane_length": 6 * FOOT, "lane_width": 3 * FOOT}
    for page in ("climate.water", "climate.today"):
        assert calc.run(page, lane)["outputs"]["watered_area"]["value"] == pytest.approx(18 * FOOT**2)
        typed = calc.run(page, {**lane, "bed_area": 3.0})["outputs"]["watered_area"]["value"]
        assert typed == 3.0
    april = {"date": "2027-04-15", "climate": "dry"}
    for means in (None, [4, 5, 8, 11, 15, 18, 20, 20, 16, 11, 7, 5]):
        place = {"year": "cold_spring", "monthly_temperature": means, "climate": "dry"}
        given = {name: value for name, value in (april | place).items() if value is not None}
        spring = season("dry", means, "cold_spring").monthly_means
        for number in (1, 4, 7):
            day = month_weather(place_of("dry", (), None, None, means, "cold_spring"), number)
            assert day.mean == pytest.approx(spring[number - 1])
        colder, usual = (
            calc.run("climate.water", values)["outputs"]["bed_evaporation"]["value"]
            for values in (given, {**given, "year": "usual"})
        )
        assert colder < usual
    both = {"months": [{"high": 20, "low": 10} for _ in range(12)], "monthly_temperature": [5] * 12}
    assert "two places" in " ".join(calc.run("climate.water", both)["warnings"])


def test_what_is_asked_in_the_same_words_is_one_thing_in_the_plan() -> None:
    """Else a reader says it on one page, and the next one still speaks of another lane or place."""
    keys: dict[str, set[str]] = {}
    for entry in every().values():
        for name, described in entry.inputs.items():
            keys.setdefault(described.label, set()).add(plan_key(name, described))
    assert {label for label, found in keys.items() if len(found) > 1} == set(ANOTHER_THING)


def test_a_difference_would_be_told(answered: tuple[dict[str, Any], dict[str, Any]]) -> None:
    _, found = answered
    one = found["lane.starter"]["outputs"]["feed_per_week"]
    assert not agrees(one, {**one, "value": one["value"] * 1.000001 + 1e-6})


def test_the_floor_of_many_lanes_has_the_way_that_the_first_lane_asks_for() -> None:
    """One lane in full work, bed and what it walks until its first slice, is a first lane as long as its worms live."""
    many = calc.run("lane.output", {"castings_per_week": 0.4})
    asked, found = ({name: one["value"] for name, one in many[part].items()} for part in ("inputs", "outputs"))
    long = asked["gap"] + asked["bed_height"]  # behind a face of 45 degrees
    first = calc.run("lane.starter", {"lane_length": long})["outputs"]["floor_needed"]["value"]
    assert found["faces"] > 1
    assert isclose(found["floor_area"], found["faces"] * first * (asked["lane_width"] + asked["path_width"]))
