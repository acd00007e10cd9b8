"""The lane that is proposed from floor, money, feed and place: what there is carries it, and what binds does bind."""

from datetime import date
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import calc
from calc.climate.season import season
from calc.engine import FOOT, POUND
from calc.lane.propose import first_warm_month

HAVE = st.fixed_dictionaries(
    {"budget": st.floats(100, 20000)},
    optional={
        "floor_length": st.floats(1.0, 12.0),
        "floor_width": st.floats(0.5, 12.0),
        "feed_available_per_week": st.floats(2.0, 900.0),
        "climate": st.sampled_from(["mild", "dry", "cold"]),
        "lane_width": st.floats(0.5, 2.0),
    },
)


def starter(values: dict[str, Any]) -> tuple[dict[str, Any], list[list[str]], str]:
    run = calc.run("lane.starter", values)
    assert "errors" not in run
    found = {name: item["value"] for name, item in run["outputs"].items()}
    return found, run["tables"]["proposal"]["rows"], " ".join(run["reading"])


def test_a_purse_for_a_handful_of_worms_is_sent_to_a_bin() -> None:
    for budget, told in ((300, True), (400, False)):
        assert ("does not pay for a base, boards and worms enough" in starter({"budget": budget})[2]) is told


@settings(max_examples=40, deadline=None)
@given(HAVE)
def test_what_there_is_carries_the_lane_that_is_proposed(have: dict[str, Any]) -> None:
    found, _, said = starter(have)
    worms, faces = found["proposed_worms"], found["proposed_faces"]
    assert faces >= 1 and worms >= 0
    if worms > 0:
        assert found["proposed_cost"] <= have["budget"] * (1 + 1e-9)
    else:
        assert "does not pay for a base" in said
    if "floor_width" in have:
        across = faces * found["proposed_width"] + (faces - 1) * 4 * FOOT
        assert across <= have["floor_width"] * (1 + 1e-9)
    gap_and_slice = calc.run("lane.starter")["inputs"]["gap"]["value"] + FOOT
    if have.get("floor_length", 0) >= gap_and_slice + FOOT:
        assert found["proposed_length"] + gap_and_slice <= have["floor_length"] * (1 + 1e-9)


@pytest.mark.parametrize(
    ("have", "binds"),
    [
        ({"budget": 400.0}, "money"),
        ({"budget": 9000.0, "feed_available_per_week": 12.0}, "feed"),
        ({"budget": 9000.0, "feed_available_per_week": 400.0, "floor_width": 2.0, "floor_length": 4.0}, "floor"),
        ({"budget": 9000.0, "floor_length": 2.6}, "floor"),
    ],
)
def test_more_of_what_binds_gives_more_worms_and_more_of_the_rest_gives_none(have: dict[str, Any], binds: str) -> None:
    found, rows, said = starter(have)
    assert f"{binds} is what binds" in said
    assert [row[0].lower() for row in rows if row[3] == "yes"] == [binds]
    names = {"money": ["budget"], "feed": ["feed_available_per_week"], "floor": ["floor_length", "floor_width"]}
    for what, inputs in names.items():
        more = {name: 1.25 * have[name] for name in inputs if name in have}
        after = starter({**have, **more})[0]["proposed_worms"]
        if what == binds:
            assert after > found["proposed_worms"] * 1.01 or "floor_width" in more
        else:
            assert after == pytest.approx(found["proposed_worms"])


def test_a_lane_that_begins_full_is_said_to() -> None:
    _, rows, said = starter({"budget": 9000.0})
    assert "nothing binds" in said and not any(row[3] == "yes" for row in rows)


def test_floor_and_feed_for_more_are_more_faces() -> None:
    rich = {"budget": 9000.0, "floor_width": 6.2, "feed_available_per_week": 400.0}
    found, *_ = starter(rich)
    assert found["proposed_faces"] == 3
    one, *_ = starter({"budget": 9000.0})
    assert found["proposed_worms"] == pytest.approx(3 * one["proposed_worms"])


def test_worms_come_in_the_first_of_two_warm_months() -> None:
    assert first_warm_month(season("mild"), date(2027, 1, 20)) == date(2027, 5, 1)
    assert first_warm_month(season("mild"), date(2027, 11, 3)) == date(2028, 5, 1)
    assert first_warm_month(season("mild"), date(2027, 7, 9)) == date(2027, 7, 1)
    assert first_warm_month(season("mild", [4.0] * 12), date(2027, 7, 9)) is None
    assert first_warm_month(None, date(2027, 2, 9)) == date(2027, 2, 1)
    _, rows, said = starter({"monthly_temperature": [4.0] * 12})
    assert "keep the lane in a shed" in said and [row[3] for row in rows if row[0] == "Place"] == ["yes"]


def test_the_lane_that_is_proposed_is_the_one_that_is_followed() -> None:
    """Typed in as the reader's own plan, it costs as much and is sliced on the same day."""
    have = {"budget": 700.0, "climate": "mild"}
    found, *_ = starter(have)
    taken = {
        **have,
        "lane_length": found["proposed_length"],
        "lane_width": found["proposed_width"],
        "worm_mass": found["proposed_worms"],
        "start_date": found["proposed_start"],
    }
    again, *_ = starter(taken)
    assert again["startup_cost"] == pytest.approx(found["proposed_cost"])
    assert again["first_slice_date"] == found["proposed_first_slice"]
    assert again["budget_left"] == pytest.approx(0, abs=1e-6)
    assert found["proposed_worms"] < 20 * POUND


def limits(values: dict[str, Any]) -> dict[str, tuple[str, str]]:
    """{what: (whether there is too little of it for the lane as typed, what a quarter more would give)}."""
    rows = calc.run("lane.starter", values)["tables"]["limits"]["rows"]
    return {what: (little, more) for what, _, _, little, more in rows}


def test_what_is_too_little_for_a_lane_as_it_was_typed() -> None:
    plenty = limits({"floor_length": 9.0, "feed_available_per_week": 500.0, "budget": 5000.0, "bed_temperature": 20.0})
    assert {little for little, _ in plenty.values()} == {"no"} and len(plenty) == 4
    short = limits({"floor_length": 2.0, "feed_available_per_week": 6.0, "budget": 100.0, "climate": "cold"})
    assert {what: little for what, (little, _) in short.items()} == dict.fromkeys(short, "yes")
    assert "more feed" in limits({"feed_available_per_week": 6.0})["Feed"][1]
    assert "no more castings" in plenty["Feed"][1]
    assert "more feed" in limits({"climate": "cold"})["Warmth"][1]


def test_a_purse_for_two_faces_does_not_contradict_the_one_that_is_proposed() -> None:
    found, rows, _ = starter({})
    money = next(row for row in rows if row[0] == "Money")
    assert found["proposed_faces"] == 1 and money[2].endswith("up to 2 faces")
