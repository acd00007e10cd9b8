"""Every kind of input does all that is asked of it: values of every calculator, drawn at random, come back from
every way they travel.
"""

import json
import re
from dataclasses import dataclass
from datetime import date, time
from random import Random
from typing import Annotated

import pytest

import calc
from calc.engine import (
    Amount,
    Answer,
    Choice,
    Day,
    Number,
    Output,
    Place,
    Rows,
    Site,
    Text,
    TimeOfDay,
    calculator,
    register,
)
from calc.engine.kinds import KINDS, as_json
from calc.engine.quantity import SYSTEMS
from calc.engine.read import Told, read_value
from calc.engine.register import every
from calc.page import respond
from calc.page.controls import CONTROLS, control

INPUTS = [(f"{entry.id}: {name}", item) for entry in register.every().values() for name, item in entry.inputs.items()]
BOOK = Rows(
    "Logbook",
    {
        "date": Day("Date"),
        "place": Text("Place", optional=True),
        "what": Choice("What", {"feed": "Feed", "water": "Water", "note": "Note"}, open=True, also=(("fed", "feed"),)),
        "amount": Amount("Amount", optional=True),
        "unit": Text("Unit", optional=True),
        "who": Text("Who", optional=True),
        "note": Text("Note", optional=True),
    },
    tolerant=True,
    most=20_000,
)


def same(one, other):
    """Equal, numbers to the nine digits that a field shows: of a temperature near 0 °C those of its degrees
    Fahrenheit.
    """
    if isinstance(one, dict):
        return one.keys() == other.keys() and all(same(one[key], other[key]) for key in one)
    if isinstance(one, (list, tuple)):
        return len(one) == len(other) and all(map(same, one, other))
    if isinstance(one, Site):
        return same(as_json(one), as_json(other))
    return one == (pytest.approx(other, rel=1e-7, abs=5e-7) if isinstance(other, float) else other)


@pytest.mark.parametrize(("where", "item"), INPUTS, ids=[where for where, _ in INPUTS])
def test_any_value_comes_back_from_field_plan_and_json(where, item):
    chance = Random(where)
    for _ in range(6):
        value = item.random_value(chance)
        assert item.outside(value) is None
        json.dumps(as_json(value), allow_nan=False)
        for system in (None, *SYSTEMS):
            assert same(read_value(item, item.text(value, system), system), value), item.text(value, system)
            assert item.words(value, system)
            for other in SYSTEMS:
                assert same(read_value(item, item.plan_text(value, system or "metric"), other, "money"), value)


@pytest.mark.parametrize(
    ("unit", "value", "us", "metric"),
    [
        ("length", 0.3048, "12 in", "30.5 cm"),  # round in feet and inches alone
        ("length", 0.5, "19.7 in", "50 cm"),  # round in centimetres alone
        ("length", 0.31369, "12.35 in", "31.37 cm"),  # four digits were typed: they stay
        ("length", 0.3175, "12.5 in", "31.75 cm"),  # so were three
        ("length", 0.0, "0 in", "0 cm"),
        ("bulk density", 600.0, "1,010 lb/yd³", "600 kg/m³"),
        ("bulk density", 1125 * 0.5932764212577829, "1,125 lb/yd³", "667.4 kg/m³"),
    ],
)
def test_a_figure_that_is_round_in_the_other_system_alone_is_told_with_three_digits(unit, value, us, metric):
    item = {
        "length": Number("m", "Length", 0, 10, us="in", metric="cm"),
        "bulk density": Number("kg/m3", "Bulk density", 0, 2000, us="lb/yd3"),
    }[unit]
    assert (item.words(value, "us"), item.words(value, "metric")) == (us, metric)
    assert item.default_text(value, "metric") == metric.split()[0]
    assert same(read_value(item, item.text(value, "metric"), "metric"), value), "what is reckoned with stays exact"


def test_a_default_shown_rounded_is_reckoned_with_exactly():
    shown, exact = (calc.run("lane.starter", {}, units=system)["outputs"] for system in ("metric", "us"))
    assert shown == exact and exact["bed_area"]["value"] == pytest.approx(32 * 0.3048**2, rel=1e-12)


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.__name__)
def test_every_kind_has_a_control_and_a_way_to_be_tried(kind):
    item = next((item for _, item in INPUTS if type(item) is kind), None) or kind("Such a thing")
    assert kind in CONTROLS and 'name="x"' in control(item, "", 'id="x" name="x"', "$", "us")
    assert item.random_value(Random(1)) is not None and isinstance(item.described(), dict) and item.kind


# ---- two kinds that were added by one file each


@dataclass(frozen=True)
class _Sun(Answer):
    hours: Annotated[float, Output("1", "Hours after midnight", main=True)]
    latitude: Annotated[float, Output("deg", "Latitude")]


@pytest.fixture
def sun():
    @calculator("lane.sun_for_a_test", "When is it there?")
    def sun(
        at: Annotated[time, TimeOfDay("Time of feeding")] = time(7, 30),
        place: Annotated[Site, Place("Place")] = Site(45.0),  # noqa: B008  # it is frozen
    ) -> _Sun:
        return _Sun(at.hour + at.minute / 60, place.latitude)

    yield "lane.sun_for_a_test"
    del register._registered["lane.sun_for_a_test"]


def test_a_new_kind_is_asked_answered_and_kept_without_another_line(sun):
    assert calc.run(sun)["outputs"]["hours"]["value"] == 7.5
    found = calc.run(sun, {"at": "2:30 pm", "place": "12.5 S, 300 m"})
    assert found["outputs"]["hours"]["value"] == 14.5 and found["outputs"]["latitude"]["value"] == -12.5
    assert found["inputs"]["at"]["value"] == "14:30:00"
    assert found["inputs"]["place"]["value"] == {"latitude": -12.5, "longitude": None, "altitude": 300.0}
    told = {error["input"]: error["message"] for error in calc.run(sun, {"at": "soon", "place": "Rome"})["errors"]}
    assert told["at"] == "Time of feeding must be a time of day, such as 14:30 or 2:30 pm."
    assert "neither an angle nor a height" in told["place"] and "45 N" in told["place"]
    for system in SYSTEMS:
        asked = {"calculator": sun, "units": system, "values": {"at": "6:15", "place": "45.1, 7.2"}}
        form, answer = (json.loads(respond(call, json.dumps(asked))) for call in ("form", "answer"))
        assert 'type="time" value="06:15"' in form["html"] and 'value="45.1 N, 7.2 E"' in form["html"]
        assert answer["ok"] and answer["plan"] == {"at": "6:15", "place": "45.1, 7.2"}


@pytest.mark.parametrize(
    ("text", "hour", "minute"),
    [
        ("14:30", 14, 30),
        ("2:30 pm", 14, 30),
        ("2 PM", 14, 0),
        ("12:05 am", 0, 5),
        ("12 pm", 12, 0),
        ("9.05", 9, 5),
        ("7h45", 7, 45),
        ("00:00", 0, 0),
        ("6:15:30", 6, 15),
    ],
)
def test_times_of_day_as_they_are_written(text, hour, minute):
    read = read_value(TimeOfDay("Time"), text)
    assert (read.hour, read.minute) == (hour, minute)


@pytest.mark.parametrize("text", ["25:00", "14:60", "13 pm", "0 am", "noon", "14", "2:30 xm", "-1:00"])
def test_what_is_no_time_of_day(text):
    with pytest.raises(Told, match="Time must be a time of day, such as 14:30"):
        read_value(TimeOfDay("Time"), text)


@pytest.mark.parametrize(
    ("text", "site"),
    [
        ("45 N", Site(45.0)),
        ("45.1, 7.2", Site(45.1, 7.2)),
        ("45,1 N", Site(45.1)),
        ("45°30' N", Site(45.5)),
        ("33°51′54″ S, 151°12′ E", Site(-(33 + 51 / 60 + 54 / 3600), 151.2)),
        ("7.2 E, 45.1 N", Site(45.1, 7.2)),
        ("45 N 7 E", Site(45.0, 7.0)),
        ("-33.9, 151.2, 58 m", Site(-33.9, 151.2, 58.0)),
        ("45 north, 1000 ft", Site(45.0, None, 304.8)),
        ("0", Site(0.0)),
    ],
)
def test_places_as_they_are_written(text, site):
    assert same(read_value(Place("Place"), text), site)


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("95 N", "latitude must be between 90 S and 90 N"),
        ("45 N, 200 E", "longitude must be between 180 W and 180 E"),
        ("45 N, 12000 m", "altitude must be between −430 and 9,000 m"),
        ("45 N, 46 N", "two figures for its latitude"),
        ("7 E", "must be a latitude"),
        ("-45 S", "with a sign or with its side"),
        ("45 N, high up", "“high up” is neither an angle nor a height"),
        ("", "Enter the place."),
    ],
)
def test_what_is_no_place_is_told_in_words(text, told):
    with pytest.raises(Told, match=told):
        read_value(Place("Place"), text)


# ---- a logbook: one list of everything, each amount in its own unit


def test_a_row_of_a_logbook():
    kept = read_value(BOOK, 'date,place,what,amount,unit,who,note\n2027-03-01,Lane 2,Fed,44,lb,Jo,"wet, cold"\n')
    assert list(kept) == [
        {
            "date": date(2027, 3, 1),
            "place": "Lane 2",
            "what": "feed",
            "amount": pytest.approx(44 * 0.45359237),
            "unit": "kg",
            "who": "Jo",
            "note": "wet, cold",
        }
    ]


@pytest.mark.parametrize(
    ("amount", "unit", "kept"),
    [
        ("44", "lb", (19.95806428, "kg")),
        ("44 lb", "", (19.95806428, "kg")),
        ("44 lb", "pounds", (19.95806428, "kg")),
        ("5", "gal", (0.018927059, "m3")),
        ("68", "°F", (20.0, "degC")),
        ("1 1/2", "hours", (1.5, "hour")),
        ("30", "min", (0.5, "hour")),
        ("60", "%", (60.0, "%")),
        ("12", "trays", (12.0, "trays")),
        ("3", "blobs", (3.0, "blobs")),
        ("$35", "", (35.0, "money")),
        ("–", "lb", (None, "lb")),
        ("", "", (None, "")),
    ],
)
def test_an_amount_has_its_own_unit(amount, unit, kept):
    row = read_value(BOOK, [{"date": "2027-03-01", "what": "feed", "amount": amount, "unit": unit}])[0]
    assert (row["amount"], row["unit"]) == (kept[0] if kept[0] is None else pytest.approx(kept[0]), kept[1])


def test_an_amount_that_contradicts_its_unit_is_told_in_its_cell():
    kept = read_value(
        BOOK, "date,what,amount,unit\n2027-03-01,feed,44 lb,kg\n2027-03-02,feed,lots,lb\n2027-03-03,feed,1,kg"
    )
    assert len(kept) == 1 and kept.cells == [(1, "amount"), (2, "amount")]
    assert "the unit is given twice" in kept.dropped[0] and "must be a number" in kept.dropped[1]


def test_other_words_are_kept_and_known_ones_are_known():
    column = BOOK.columns["what"]
    words = [
        row["what"] for row in read_value(BOOK, "date,what\n2027-03-01,FEED\n2027-03-01,fed\n2027-03-01,sang  to them")
    ]
    assert words == ["feed", "feed", "sang to them"] and [column.known(word) for word in words] == [True, True, False]


def test_a_logbook_is_written_in_units_that_are_used_and_comes_back():
    rows = read_value(
        BOOK, "date,what,amount,unit\n2027-03-01,water,5,gal\n2027-03-01,feed,20,kg\n2027-03-02,trays,3,trays"
    )
    assert "5,gal" in BOOK.text(rows, "us") and "18.9270589,L" in BOOK.text(rows, "metric")
    for system in (None, *SYSTEMS):
        assert same(list(read_value(BOOK, BOOK.text(rows, system), system)), list(rows))


def test_a_long_logbook_is_read_whole():
    lines = [
        f"2027-{place % 12 + 1:02}-{place % 28 + 1:02},Lane {place % 6},feed,{place % 90}.5,lb,Jo,n {place}"
        for place in range(20_000)
    ]
    kept = read_value(BOOK, "\n".join(["date,place,what,amount,unit,who,note", *lines]))
    assert len(kept) == 20_000 and not kept.dropped and kept[19_999]["note"] == "n 19999"
    with pytest.raises(Told, match="20,000 are the most"):
        read_value(BOOK, "\n".join(["date,place,what,amount,unit,who,note", *lines, lines[0]]))


def test_no_label_says_its_period_twice():
    """`Feed in the first weeks, a week` in lb/week says it three times."""
    for entry in every().values():
        for described in (*entry.inputs.values(), *entry.outputs.values()):
            for period in ("day", "week", "month", "year", "hour"):
                if getattr(described, "unit", "").endswith(f"/{period}"):
                    assert len(re.findall(rf"\b{period}", described.label)) < 2, f"{entry.id}: {described.label}"


@pytest.mark.parametrize(
    ("id", "name", "system", "said"),
    [
        ("lane.starter", "full_stocking", "us", "Usually 0.5 to 1.5."),
        ("lane.starter", "full_stocking", "metric", "Usually 2.4 to 7.3."),
        ("lane.starter", "capacity", "us", "Usually 1 to 4."),
        ("lane.starter", "water_per_area_per_day", "us", "Usually 0.2 to 0.8."),
        ("lane.starter", "gap", "metric", "Usually 0.9 to 1.2."),
        ("lane.starter", "bed_temperature", "us", "Usually 59 to 77."),
        ("lane.starter", "hatch_share", "us", "Usually 73 to 88."),
    ],
)
def test_a_usual_range_is_told_in_round_figures_of_the_readers_measure(id, name, system, said):
    assert calc.find(id).inputs[name].usual(system) == said
