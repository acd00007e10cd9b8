"""Whatever a reader types, no page about a lane says what cannot be without a sentence that says so."""

from math import isfinite
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

import calc
from calc.climate import pores
from calc.engine import Number
from calc.facts.biology import CAPACITY
from calc.facts.climate import BEDDING_ASH, CLIMATES, LEAST_AIR, YEARS
from calc.facts.lane import DENSE_STOCKING

PAGES = ("lane.starter", "lane.feeding", "lane.herd", "lane.year", "lane.output", "lane.ledger")


@st.composite
def typed(draw: st.DrawFn, id: str) -> dict[str, Any]:
    """A few fields of a form, anywhere within their bounds, and often at them."""
    entry = calc.find(id)
    found: dict[str, Any] = {}
    for name in draw(st.lists(st.sampled_from(list(entry.inputs)), max_size=8, unique=True)):
        described = entry.inputs[name]
        if isinstance(described, Number):
            number = st.integers if described.whole else st.floats
            ends = st.sampled_from([described.low, described.high])
            low, high = (int(end) if described.whole else end for end in (described.low, described.high))
            found[name] = draw(ends | number(low, high))
        elif name == "climate":
            found[name] = draw(st.sampled_from(list(CLIMATES)))
        elif name == "year":
            found[name] = draw(st.sampled_from(list(YEARS)))
        elif name == "fed_on":
            found[name] = draw(st.sampled_from(["end", "side"]))
        elif name == "start_date":
            found[name] = draw(st.dates()).isoformat()
    return found


def said(run: dict[str, Any]) -> str:
    return " ".join(run["warnings"] + run["reading"])


def numbers(run: dict[str, Any]) -> dict[str, Any]:
    return {name: item["value"] for name, item in run["outputs"].items()}


def asked(run: dict[str, Any]) -> dict[str, Any]:
    return {name: item["value"] for name, item in run["inputs"].items()}


@settings(max_examples=40, deadline=None)
@given(st.sampled_from(PAGES).flatmap(lambda page: st.tuples(st.just(page), typed(page))))
def test_any_field_is_answered_or_refused_in_words(case: tuple[str, dict[str, Any]]) -> None:
    run = calc.run(*case)
    if "errors" in run:
        assert all(error["message"].endswith(".") for error in run["errors"])
        return
    for name, item in run["outputs"].items():
        for value in (item["value"], item.get("low"), item.get("high")):
            assert not isinstance(value, float) or isfinite(value), name
        if item.get("low") is not None:
            assert item["low"] <= item["value"] <= item["high"], name


@settings(max_examples=40, deadline=None)
@given(typed("lane.starter"))
def test_a_first_lane_is_possible_or_says_what_is_not(values: dict[str, Any]) -> None:
    run = calc.run("lane.starter", values)
    if "errors" in run:
        return
    found, given_, words = numbers(run), asked(run), said(run)
    if found["air_space"] < LEAST_AIR.typical - 1e-9:
        assert "mud" in words
    wet = (found["base_mass"] + found["base_water_to_add"]) / found["base_volume"]
    moisture = 1 - found["base_mass"] * (1 - given_["base_moisture"]) / (
        found["base_mass"] + found["base_water_to_add"]
    )
    if wet > pores.densest(moisture, BEDDING_ASH.typical) * (1 + 1e-9):
        assert "mud" in words  # denser than its solids
    if given_["floor_length"] is not None and found["floor_needed"] > given_["floor_length"] + 1e-9:
        assert "Even the shortest base needs" in words
    assert found["feed_per_week"] <= found["face_capacity_per_week"] * (1 + 1e-9)
    if found["stocking_density"] > DENSE_STOCKING.typical * (1 + 1e-9):
        assert "crowded" in words
    if found["first_slice_date"] is not None:
        assert found["first_slice_date"] > (found["first_feeding_date"] or "") >= given_["start_date"]
        castings = found["days_to_first_castings"]
        assert castings is None or castings >= found["days_to_first_slice"]  # nothing comes off before it is made
    beds = [row[1] for row in run["tables"]["months"]["rows"][:12]]
    if given_["bed_temperature"] is None and min(beds) < 0:
        assert "freezes" in words  # a month's mean below freezing: no worm lives through it
    for _, bed, fed, _, worms in run["tables"]["months"]["rows"]:
        if given_["bed_temperature"] is None and bed < -1.5:
            assert worms < 0.02 * given_["worm_mass"] and fed < 0.02 * given_["worm_mass"]
    if given_["bed_temperature"] is None and max(beds) > 30.5:
        assert "Nothing is fed" in words
    if found["budget_left"] < 0:
        assert "over budget" in words


@settings(max_examples=25, deadline=None)
@given(typed("lane.ledger"))
def test_no_books_hold_more_out_than_in(values: dict[str, Any]) -> None:
    run = calc.run("lane.ledger", values)
    if "errors" in run:
        return
    found = numbers(run)
    for part in ("dry_matter", "water", "ash", "volume"):
        came, went, lost, stays = (found[f"{part}_{side}"] for side in ("in", "out", "lost", "stored"))
        assert abs(came - went - lost - stays) <= 1e-9 * max(came, 1e-9)
        assert min(came, went, stays) >= -1e-9 * max(came, 1.0) and lost >= -1e-9 * max(came, 1.0)
        assert went <= came * (1 + 1e-9)
    assert found["ash_lost"] == 0
    if found["hours"] > 24 * asked(run)["days"]:
        assert "more than a day has" in said(run)


@settings(max_examples=25, deadline=None)
@given(typed("lane.output"))
def test_an_output_fits_its_faces_and_its_day(values: dict[str, Any]) -> None:
    run = calc.run("lane.output", values)
    if "errors" in run:
        return
    found, words = numbers(run), said(run)
    assert found["feed_mass_per_week"] <= found["face_capacity_per_week"] * (1 + 1e-9)
    if found["labour_hours_per_week"] > 7 * 24:
        assert "more than one person's week" in words
    if found["sliced_bulk_density"] > pores.densest(asked(run)["castings_moisture"]) * (1 + 1e-9):
        assert "cannot be" in words
    if asked(run)["stocking_density"] > DENSE_STOCKING.typical * (1 + 1e-9):
        assert "crowded" in words


@settings(max_examples=25, deadline=None)
@given(typed("lane.herd"))
def test_more_worms_than_a_bed_carries_are_said(values: dict[str, Any]) -> None:
    run = calc.run("lane.herd", values)
    if "errors" in run:
        return
    found = numbers(run)
    if found["stocking_after_year"] > DENSE_STOCKING.typical * (1 + 1e-9):
        assert "leave" in said(run)
    assert CAPACITY.typical > DENSE_STOCKING.typical
