"""What every calculator gets for free: run, errors, aim, what moves it, range, tables of input, calendar; held on all
of them.
"""

import doctest
import functools
import json
import math
import random
import subprocess
import sys
from datetime import date
from html.parser import HTMLParser

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.stats import binomtest

import calc
from calc import page
from calc.__main__ import main
from calc.engine import Band, Event, Refused, explore
from calc.engine.calendar import calendar_text
from calc.engine.describe import Choice, Flag, Log, Number, Rows, Series, Text
from calc.engine.quantity import symbol
from calc.engine.read import Told, read_value
from calc.engine.view import View, csv_cell, field_value

EVERY = list(calc.calculators())


def numbers(result):
    """Every number of the outputs."""
    for output in result["outputs"].values():
        for key in ("low", "value", "high"):
            if isinstance(output.get(key), (int, float)) and not isinstance(output[key], bool):
                yield output[key]


def test_doctests():
    for module in (explore,):
        assert doctest.testmod(module).failed == 0


@pytest.mark.parametrize("id", EVERY)
def test_defaults_answer(id):
    result = calc.run(id)
    assert "errors" not in result
    assert all(math.isfinite(number) for number in numbers(result))
    assert json.loads(json.dumps(result)) is not None
    for output in result["outputs"].values():
        if "low" in output:
            assert output["low"] <= output["value"] <= output["high"]


@pytest.mark.parametrize("id", EVERY)
def test_described_in_full(id):
    entry = calc.find(id)
    assert entry.function.__doc__, "a calculator says what it does"
    assert entry.question.endswith("?")
    for name, item in entry.inputs.items():
        assert item.label and not item.label.endswith("."), name
        if isinstance(item, Number):
            assert item.low < item.high, name
            default = entry.defaults[name]
            assert default is None or item.low <= default <= item.high, name
            if item.plausible():
                low, high = item.plausible()
                assert low <= high and item.low <= low and high <= item.high, name
    for name, output in entry.outputs.items():
        assert output.label, name


@pytest.mark.parametrize("id", EVERY)
def test_same_answer_in_either_system(id):
    """The form's own texts, read back in either system, give the defaults again."""
    entry = calc.find(id)
    for system in ("us", "metric"):
        typed = {name: field_value(entry.defaults[name], item, system) for name, item in entry.inputs.items()}
        result = calc.run(id, typed, units=system)
        assert "errors" not in result, result
        for name, output in calc.run(id)["outputs"].items():
            if isinstance(output["value"], float):
                assert result["outputs"][name]["value"] == pytest.approx(output["value"], rel=1e-4, abs=1e-6), name


@pytest.mark.parametrize("id", EVERY)
def test_every_wrong_field_is_named_at_once(id):
    entry = calc.find(id)
    wrong = {name: "¿que? 7 furlongs" for name, item in entry.inputs.items() if isinstance(item, Number)}
    result = calc.run(id, wrong | {"no_such_input": 1})
    named = {error["input"] for error in result["errors"]}
    assert named == set(wrong) | {"no_such_input"}
    assert not any(
        word in error["message"].lower() for error in result["errors"] for word in ("invalid", "please", "oops", "none")
    )


@pytest.mark.parametrize("id", EVERY)
def test_out_of_bounds_is_told_in_the_readers_unit(id):
    entry = calc.find(id)
    for name, item in entry.inputs.items():
        if isinstance(item, Number) and item.high < 1e11:
            result = calc.run(id, {name: item.high * 10 + 1e6}, units=None)
            assert any(error["input"] == name and "must be" in error["message"] for error in result["errors"]), name


@pytest.mark.parametrize("id", EVERY)
def test_plain_call_equals_run(id):
    entry = calc.find(id)
    answer = entry.function(**entry.defaults)
    for name, output in calc.run(id)["outputs"].items():
        value = getattr(answer, name)
        value = value.value if isinstance(value, Band) else value
        if isinstance(value, float):
            assert output["value"] == pytest.approx(value, rel=1e-11, abs=1e-300), name


@functools.cache
def widths(id, output):
    """How far each input moves a result, in the order in which they are told."""
    return [abs(move["high"] - move["low"]) for move in calc.run(id, moves=output)["moves"]]


@pytest.mark.parametrize("id", EVERY)
def test_moves_are_ranked(id):
    for output in calc.find(id).outputs:
        if isinstance(calc.run(id)["outputs"][output]["value"], float):
            found = widths(id, output)
            assert found == sorted(found, reverse=True)
            break


@pytest.mark.parametrize("id", EVERY)
def test_page_block_is_complete(id):
    html = page.block(id)
    assert html.count("<section") == 1 and 'value="None"' not in html and 'default="None"' not in html
    for name in calc.find(id).inputs:
        assert f'name="{name}"' in html
    assert 'class="calc-main"' in html


def test_range_is_seeded_and_ordered():
    first = calc.run("moisture.adjust", range_of="water_to_add")["range"]
    second = calc.run("moisture.adjust", range_of="water_to_add")["range"]
    assert first == second
    assert first["p10"] < first["p50"] < first["p90"]


@given(st.floats(5, 80))
@settings(max_examples=40, deadline=None)
def test_aim_reaches_what_it_says(wanted):
    result = calc.run("moisture.adjust", aim=("water_to_add", wanted), vary="mass")
    assert result["aim"]["reached"]
    assert result["outputs"]["water_to_add"]["value"] == pytest.approx(wanted, rel=1e-6)


def test_aim_says_what_cannot_be_reached():
    found = calc.run("moisture.adjust", aim=("water_to_add", "4000 lb"), vary="moisture", units="us")["aim"]
    assert not found["reached"]
    assert "is the most, at 0 %" in found["message"]


def test_aim_names_the_wrong_words():
    assert (
        "nearest is water_to_add"
        in calc.run("moisture.adjust", aim=("water_to_ad", 1), vary="mass")["errors"][0]["message"]
    )
    assert (
        "no number input" in calc.run("moisture.adjust", aim=("water_to_add", 1), vary="weight")["errors"][0]["message"]
    )


@pytest.mark.parametrize(("now", "places"), [(8.0, [3.0, 7.0]), (1.0, [3.0, 7.0]), (5.0, [3.0, 7.0])])
def test_aim_finds_a_summit_from_either_side(now, places):
    """A curve that rises and falls meets a value twice; a value that it only touches, once; one above it, never."""

    def met(above):
        known = [(x, above - (x - 5) ** 2) for x in explore.scan_places(Number("1", "x", 0, 10), now, 48)]
        pairs = explore.crossings(known, now)
        return [explore.crossing(lambda x: above - (x - 5) ** 2, *pair, False)[0] for pair in pairs]

    assert met(4) == pytest.approx(places, rel=1e-6)
    assert met(-1) == [] and all(abs(place - 5) < 1e-6 for place in met(0))


def test_latin_hypercube_fills_every_stratum():
    entry = calc.find("moisture.adjust")
    made = explore.draws(entry, dict(entry.defaults), 50)
    low, high = entry.inputs["moisture"].plausible()
    values = sorted(change["moisture"] for change in made)
    assert len(set(values)) == 50 and low <= values[0] and values[-1] <= high


@given(st.floats(0.001, 0.999), st.floats(-50, 50), st.floats(0, 50), st.floats(0, 50))
def test_triangular_inverse(share, low, rise, fall):
    mode, high = low + rise, low + rise + fall
    value = explore.triangular(share, low, mode, high)
    assert low - 1e-9 <= value <= high + 1e-9


def test_triangular_mean():
    draws = random.Random(1)
    values = [explore.triangular(draws.random(), 2, 5, 8) for _ in range(20000)]
    assert sum(values) / len(values) == pytest.approx(5, abs=0.05)


# ---- tables of input


TABLE = Rows("Materials", {"material": Text("Material"), "mass": Number("kg", "Mass", 0, 1000, optional=True)})


def test_rows_from_csv_with_units_in_the_header():
    assert read_value(TABLE, "material,mass (lb)\nstraw,10\nleaves,") == [
        {"material": "straw", "mass": pytest.approx(4.5359237)},
        {"material": "leaves", "mass": None},
    ]


def test_rows_from_json():
    assert read_value(TABLE, '[{"material": "straw", "mass": "10 lb"}]') == [
        {"material": "straw", "mass": pytest.approx(4.5359237)}
    ]


@pytest.mark.parametrize(
    "text",
    [
        "material;mass (kg)\nstraw;2",
        "material\tmass\nstraw\t2",
        "﻿material,mass\r\nstraw,2\r\n",
        "Material,Mass [kg]\n\nstraw,2\n\n",
    ],
)
def test_rows_as_other_programs_write_them(text):
    assert read_value(TABLE, text) == [{"material": "straw", "mass": 2.0}]


def test_a_comma_among_semicolons_is_a_decimal_point():
    """As programs write it where the comma is the decimal point: 1,250 is one and a quarter there, and twelve fifty
    elsewhere.
    """
    assert read_value(TABLE, "material;mass (kg)\nstraw, wet;0,125\nleaves;1,250") == [
        {"material": "straw, wet", "mass": 0.125},
        {"material": "leaves", "mass": 1.25},
    ]
    assert read_value(TABLE, 'material,mass\nleaves,"1,250 g"') == [{"material": "leaves", "mass": 1.25}]
    log = Log("Log", {"time": Text("Time"), "temperature": Number("degC", "Temperature", -50, 120)})
    assert read_value(log, "time;temperature\n0,5;54,250\n1;60") == [
        {"time": 0.5, "temperature": 54.25},
        {"time": 1.0, "temperature": 60.0},
    ]
    series = Series("1", "Values", -1e6, 1e6)
    assert read_value(series, "1,5; 0,250;3") == read_value(series, "1,5;\n0,250;\n3") == (1.5, 0.25, 3.0)
    assert read_value(series, "-16,000; 2,000") == (-16000.0, 2000.0)  # typed by hand, as in a single field
    assert read_value(series, "1,5, 2, 3") == (1.0, 5.0, 2.0, 3.0)


def test_bad_rows_are_told_by_number():
    with pytest.raises(Told, match="Row 2"):  # below the heading, as a table shows them
        read_value(TABLE, "material,mass\nstraw,2\nleaves,lots")
    with pytest.raises(Told, match="Row 3"):
        read_value(TABLE, "\nmaterial,mass\nstraw,2\n\nleaves,lots")
    with pytest.raises(Told, match="Row 2"):
        read_value(TABLE, "straw,2\nleaves,lots")
    with pytest.raises(Told, match=r"no column “mas”.*nearest is mass"):
        read_value(TABLE, "material,mas\nstraw,2")


def test_tolerant_log_keeps_good_rows():
    log = Log("Log", {"time": Text("Time"), "temperature": Number("degC", "Temperature", -50, 120)}, tolerant=True)
    kept = read_value(
        log, "time,temperature (F)\n2027-03-01 10:00,131\n2027-03-01 11:00,hot\nyesterday,140\n2027-03-01 12:00,140"
    )
    assert [round(row["temperature"]) for row in kept] == [55, 60]
    assert len(kept.dropped) == 2 and kept.numbers == [1, 4]


def test_series():
    twelve = Series("degC", "Monthly means", -60, 60, length=12)
    assert read_value(twelve, "1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12") == tuple(float(n) for n in range(1, 13))
    with pytest.raises(Told, match="needs 12 numbers; there are 2"):
        read_value(twelve, "1, 2")


@given(st.text(max_size=120))
@settings(max_examples=800, deadline=None)
def test_no_text_breaks_a_table(text):
    try:
        read_value(TABLE, text)
    except Told as told:
        assert str(told)


@given(
    st.sampled_from(EVERY),
    st.dictionaries(
        st.text(max_size=12),
        st.one_of(
            st.text(max_size=30),
            st.floats(),
            st.integers(),
            st.none(),
            st.booleans(),
            st.lists(st.integers(), max_size=3),
        ),
        max_size=4,
    ),
    st.text(max_size=30),
)
@settings(max_examples=300, deadline=None)
def test_no_input_breaks_run(id, values, text):
    entry = calc.find(id)
    first = next(iter(entry.inputs))
    result = calc.run(id, values | {first: text})
    assert "errors" in result or "outputs" in result


class Markup(HTMLParser):
    """What a reader's text became in a page: elements and attributes of its own, or words."""

    def __init__(self, html):
        super().__init__()
        self.carried, self.words = [], []
        self.feed(html)
        self.close()

    def handle_starttag(self, tag, attributes):
        self.carried += [f"<{tag} {name}>" for name, _ in attributes if name.startswith("on") or "payload" in name]
        self.carried += [f"<{tag}>"] * (tag in ("script", "img"))

    def handle_data(self, data):
        self.words.append(data)


NASTY = [
    "<script>payload(1)</script>",
    '"><img src=x onerror=payload(1)>',
    "' onmouseover='payload(1)",
    '" onmouseover="payload(1)',
]
TYPED = {
    (id, name): next((c for c, item in item.columns.items() if isinstance(item, Text)), None)
    for id in EVERY
    for name, item in calc.find(id).inputs.items()
    if isinstance(item, Rows)
}


@pytest.mark.parametrize("nasty", NASTY)
def test_nothing_typed_becomes_markup(nasty):
    """Neither in the answer nor in the form, which gives back what was refused as well; both show it as words."""
    shown = dict.fromkeys(("html", "form"), 0)
    for (id, name), column in TYPED.items():
        if column is None:
            continue
        item = calc.find(id).inputs[name]
        rows = [dict(row) | {column: nasty} for row in calc.find(id).defaults[name] or ()]
        asked = {"calculator": id, "values": {name: field_value(rows, item, "us")}, "units": "us"}
        answer = json.loads(page.respond("answer", json.dumps(asked)))
        assert "html" in answer or answer["errors"], f"{id}: {name} is neither answered nor refused"
        form = json.loads(page.respond("form", json.dumps(asked)))
        for kind, html in (("html", answer.get("html", "")), ("form", form["html"])):
            found = Markup(html)
            assert found.carried == [], f"{id}: {name} in {kind}"
            shown[kind] += "payload(1" in "".join(found.words)
    assert all(shown.values()), f"nowhere shown as words: {shown}"


def test_a_cell_that_looks_like_a_formula_is_set_off():
    assert csv_cell("=1+1") == "'=1+1" and csv_cell("-5") == "-5" and csv_cell("+cmd") == "'+cmd" and csv_cell("") == ""


# ---- plan, calendar, terminal


@pytest.mark.parametrize("id", EVERY)
def test_plan_texts_read_back_in_either_system(id):
    entry = calc.find(id)
    given_us = {
        name: field_value(entry.defaults[name], item, "us")
        for name, item in entry.inputs.items()
        if entry.defaults[name] is not None
    }
    answer = json.loads(page.respond("answer", json.dumps({"calculator": id, "values": given_us, "units": "us"})))
    assert answer["ok"], answer
    for system in ("us", "metric"):
        again = calc.run(id, answer["plan"], units=system)
        assert "errors" not in again, again
        for name, item in entry.inputs.items():
            if isinstance(item, Number) and entry.defaults[name] is not None:
                assert again["inputs"][name]["value"] == pytest.approx(entry.defaults[name], rel=1e-5, abs=1e-6), name


def test_calendar_file_is_folded_and_escaped():
    text = calendar_text([Event(date(2027, 3, 1), "Feed, water; look", "ä" * 60 + "\nsecond line")], "Lane")
    lines = text.split("\r\n")
    assert text.startswith("BEGIN:VCALENDAR\r\nVERSION:2.0") and text.endswith("END:VCALENDAR\r\n")
    assert all(len(line.encode()) <= 75 for line in lines)
    assert (
        "SUMMARY:Feed\\, water\\; look" in lines
        and "DTSTART;VALUE=DATE:20270301" in lines
        and "DTEND;VALUE=DATE:20270302" in lines
    )


def test_view_knows_only_its_own_names():
    entry = calc.find("moisture.adjust")
    view = View(entry, dict(entry.defaults), entry.function(**entry.defaults), "us")
    with pytest.raises(AttributeError, match="no input or output"):
        _ = view.no_such_name


def test_plain_call_checks_bounds():
    from calc.moisture import adjust

    with pytest.raises(Refused, match="must be between"):
        adjust(moisture=1.5)
    assert adjust(volume=0.1).water_to_add > 0  # the default weight gives way to a volume


def terminal(*words):
    return subprocess.run([sys.executable, "-m", "calc", *words], capture_output=True, text=True, check=False)


def test_terminal():
    listed = terminal()
    assert listed.returncode == 0 and all(id in listed.stdout for id in EVERY)
    answered = json.loads(terminal("moisture.adjust", "mass=40 lb", "moisture=55%", "target=75%", "--json").stdout)
    assert answered["outputs"]["water_to_add"]["value"] == pytest.approx(32 * 0.45359237)
    refused = terminal("moisture.adjust", "mass=40 ft", "target=150%", "--json")
    assert refused.returncode == 2 and {error["input"] for error in json.loads(refused.stdout)["errors"]} == {
        "mass",
        "target",
    }
    assert json.loads(terminal("moisture.adjust", "--units", "us", "mass=40", "--json").stdout)["inputs"]["mass"][
        "value"
    ] == pytest.approx(40 * 0.45359237)
    assert terminal("moisture.adjst").returncode == 2


def test_a_rate_is_in_the_period_that_its_name_says():
    for id in EVERY:
        described = calc.describe(id)
        for name, item in (described["inputs"] | described["outputs"]).items():
            period = name.rsplit("_per_", 1)[-1]
            if period in ("hour", "day", "week", "month", "year") and "_per_" in name:
                assert item["unit"].endswith((f"/{period}", f" {period}")), f"{id}: {name} in {item['unit']}"


def test_inputs_of_one_name_and_label_are_one_thing():
    """What the plan carries from page to page: the same unit, kind and bounds wherever name and label agree, or a page
    would refuse what another took.
    """
    seen = {}
    for id in EVERY:
        for name, item in calc.find(id).inputs.items():
            described = (
                type(item).__name__,
                getattr(item, "unit", None),
                getattr(item, "low", None),
                getattr(item, "high", None),
            )
            assert seen.setdefault((name, item.label), described) == described, f"{id}: {name}"


def test_aim_at_a_result_that_moves_in_steps():
    found = calc.run("garden.dose", aim=("cost", 50), vary="area")["aim"]
    assert not found["reached"] and "moves in steps" in found["message"] and "the least" not in found["message"]


def test_aim_at_a_whole_input_says_that_it_steps():
    """Sheets are bought whole: 1,000 dollars lie between six and seven of them, and the nearer one is named."""
    found = calc.run("lane.starter", aim=("startup_cost", 1000), vary="sheets")["aim"]
    costs = {count: calc.run("lane.starter", {"sheets": count})["outputs"]["startup_cost"]["value"] for count in (6, 7)}
    assert costs[6] < 1000 < costs[7] and not found["reached"]
    assert (
        found["value"] == min(costs, key=lambda count: abs(costs[count] - 1000))
        and found["at"] == costs[found["value"]]
    )
    assert "moves in steps" in found["message"]
    met = calc.run("lane.starter", aim=("startup_cost", costs[7]), vary="sheets")["aim"]
    assert met["reached"] and met["value"] == 7 and "others" not in met


def test_aim_tries_whole_numbers_next_to_the_present_one():
    """A mean range that only a baseline of ten gives, on a series where it rises and falls with every value."""
    wanted = calc.run("records.chart", {"baseline": 10})["outputs"]["mean_range"]["value"]
    found = calc.run("records.chart", aim=("mean_range", wanted), vary="baseline")["aim"]
    assert found["reached"] and found["value"] == 10


def test_aim_at_a_result_that_does_not_move():
    found = calc.run("moisture.adjust", aim=("water_to_lose", 5), vary="area")["aim"]
    assert not found["reached"] and "does not change with area it lies on" in found["message"]


def test_aim_at_a_value_that_a_whole_stretch_meets():
    """No water has to go at any moisture below the target: where it stands is one answer, and the stretch is not
    listed.
    """
    found = calc.run("moisture.adjust", aim=("water_to_lose", 0), vary="moisture")["aim"]
    assert (
        found["reached"]
        and found["value"] == calc.find("moisture.adjust").defaults["moisture"]
        and "others" not in found
    )


def test_aim_moves_the_input_that_stands_in_for_another():
    """Looked for by volume, the weight that stood there no longer counts."""
    result = calc.run("moisture.adjust", {"bulk_density": 500}, aim=("water_to_add", 14), vary="volume")
    assert result["aim"]["reached"] and result["inputs"]["mass"]["value"] is None
    assert result["aim"]["value"] * 500 * (0.75 - 0.55) / (1 - 0.75) == pytest.approx(14)
    assert result["outputs"]["water_to_add"]["value"] == pytest.approx(14)


def test_what_is_no_number_cannot_be_aimed_at_moved_or_ranged():
    for asked in ({"aim": ("worth_it", "yes"), "vary": "humidity"}, {"moves": "worth_it"}, {"range_of": "worth_it"}):
        message = calc.run("climate.mist", **asked)["errors"][0]["message"]
        assert "is no number" in message and "cooling" in message
    assert "is no number" in calc.run("lane.year", moves="first_slice")["errors"][0]["message"]


def test_how_many_draws_are_counted_is_no_cause():
    assert (
        "how surely"
        in calc.run("economics.return", aim=("chance_of_loss", 0.2), vary="draws_made")["errors"][0]["message"]
    )


def test_what_is_wrong_with_the_question_is_told_with_what_is_wrong_with_the_inputs():
    result = calc.run(
        "moisture.adjust",
        {"moisture": 1.5, "masss": 3},
        aim=("water_to_ad", 3),
        vary="moistur",
        moves="depth",
        range_of="final",
    )
    assert [error["input"] for error in result["errors"]] == [
        "masss",
        "moisture",
        "water_to_ad",
        "vary",
        "depth",
        "final",
    ]
    assert "outputs" not in result and "The nearest is moisture." in result["errors"][3]["message"]
    called = terminal("moisture.adjust", "40", "moisture=155%", "--aim", "final_mass=3", "--json")
    assert called.returncode == 2 and [error["input"] for error in json.loads(called.stdout)["errors"]] == [
        "40",
        "vary",
        "moisture",
    ]


def test_a_blank_is_moved_from_the_number_that_stands_in_for_it():
    """Weather that was left blank is the month's average: it moves the water as much as when the same figures are
    typed.
    """
    entry = calc.find("climate.water")
    average = {
        name: value
        for name, value in explore.standing(entry, dict(entry.defaults)).items()
        if entry.defaults[name] is None and value is not None
    }
    assert set(average) == {"bed_area", "high", "humidity", "sun_hours", "wind"}
    typed = calc.run("climate.water", average)["outputs"]["water_per_day"]["value"]
    assert typed == pytest.approx(calc.run("climate.water")["outputs"]["water_per_day"]["value"], rel=1e-9)
    blank, given = (
        {move["input"]: move for move in calc.run("climate.water", values, moves="water_per_day")["moves"]}
        for values in ({}, average)
    )
    for name in average:
        assert (blank[name]["low"], blank[name]["high"]) == pytest.approx(
            (given[name]["low"], given[name]["high"]), rel=1e-9
        )


@pytest.mark.parametrize("id", EVERY)
def test_what_stands_in_for_a_blank_gives_the_same_answer(id):
    entry = calc.find(id)
    blanks = entry.blanks(dict(entry.defaults)) if entry.blanks else {}
    given = {name: value for name, value in blanks.items() if value is not None and entry.defaults[name] is None}
    if given:
        for name, output in calc.run(id, given)["outputs"].items():
            before = calc.run(id)["outputs"][name]["value"]
            assert output["value"] == (pytest.approx(before, rel=1e-6) if isinstance(before, float) else before), name


@pytest.mark.parametrize("id", EVERY)
def test_the_terminal_names_every_input_with_unit_bounds_and_columns(id, capsys):
    assert main([id, "--units", "us"]) == 0
    shown = capsys.readouterr().out
    for name, item in calc.find(id).inputs.items():
        line = next(line for line in shown.splitlines() if line.startswith(f"  {name} = "))
        if isinstance(item, Rows):
            assert all(column in line for column in item.columns)
        elif isinstance(item, Number):
            assert "[" in line and " to " in line and symbol(item.shown("us")) in line
        elif isinstance(item, Choice):
            assert all(option in line for option in item.options)


@pytest.mark.parametrize("id", EVERY)
def test_what_moves_a_result_is_printed_widest_first(id):
    """Of the printed numbers: two inputs that move it alike may stand in either order."""
    entry = calc.find(id)
    for output in entry.numeric_outputs[:4]:
        found = widths(id, output)
        assert all(before >= after * (1 - 1e-8) for before, after in zip(found, found[1:]))


EVERY_CHOICE = [
    (id, name, option)
    for id in EVERY
    for name, item in calc.find(id).inputs.items()
    for option in (item.options if isinstance(item, Choice) else ("yes", "no") if isinstance(item, Flag) else ())
]


@pytest.mark.parametrize(("id", "name", "option"), EVERY_CHOICE, ids=[".".join(one) for one in EVERY_CHOICE])
def test_every_choice_is_answered_with_all_else_as_it_stands(id, name, option):
    """A reader who only picks another word from a list gets an answer, drawn in full, and never a refusal."""
    result = calc.run(id, {name: option}, units="us")
    assert "errors" not in result, result.get("errors")
    assert all(math.isfinite(number) for number in numbers(result))
    assert 'class="calc-main"' in page.block(id, {name: option})


def test_aim_with_two_solutions_names_both_and_takes_the_nearer():
    """Days lost to a grow-out temperature fall to nothing and rise again: two temperatures lose the same."""
    for start, nearer in ((20.0, "cool"), (30.0, "warm")):
        found = calc.run(
            "breeding.setpoints",
            {"growout_temperature": f"{start} C"},
            aim=("days_lost", 10),
            vary="growout_temperature",
            units="us",
        )["aim"]
        both = sorted([found["value"], *found["others"]])
        assert found["reached"] and len(both) == 2
        assert found["value"] == (both[0] if nearer == "cool" else both[1])
        assert abs(found["value"] - start) == min(abs(place - start) for place in both)
        for place in both:
            assert calc.run("breeding.setpoints", {"growout_temperature": f"{place} C"})["outputs"]["days_lost"][
                "value"
            ] == pytest.approx(10, abs=1e-4)
        assert "nearest to where" in found["message"] and "°F" in found["message"]


def test_aim_with_one_solution_says_nothing_of_others():
    found = calc.run("moisture.adjust", aim=("water_to_add", 20), vary="mass")["aim"]
    assert found["reached"] and "others" not in found and "message" not in found


def test_a_share_counted_over_draws_has_the_range_of_its_count():
    """Another set of draws lies inside in about eight cases of ten, and never far out."""
    entry = calc.find("economics.return")
    given = dict(entry.defaults)
    found = explore.spread(entry, given, "chance_of_loss")
    assert found["counted"] == given["draws_made"] and found["p10"] < found["p50"] < found["p90"]
    assert found["p50"] == calc.run("economics.return")["outputs"]["chance_of_loss"]["value"]
    interval = binomtest(round(found["p50"] * 500), 500).proportion_ci(0.8, method="wilson")
    assert (found["p10"], found["p90"]) == pytest.approx((interval.low, interval.high))


def test_other_results_are_answered_without_the_draws():
    entry = calc.find("economics.return")
    assert entry.without_counting("net_present_value") == {"draws_made": 0}
    assert entry.without_counting("chance_of_loss") == {}
    assert explore.value_at(entry, entry.defaults, "net_present_value") == pytest.approx(
        calc.run("economics.return")["outputs"]["net_present_value"]["value"]
    )


def test_a_range_names_what_it_moved_and_what_it_held():
    words = json.loads(
        page.respond(
            "explore",
            json.dumps(
                {
                    "calculator": "harvest.screen",
                    "values": {},
                    "units": "us",
                    "explore": "range",
                    "output": "product_mass",
                }
            ),
        )
    )["html"]
    assert "Moved together" in words and "share of the fines that gets through" in words
    assert "Held still" in words and "castings to screen" in words


def test_a_thousand_draws_are_made_a_few_at_a_time_and_can_be_stopped():
    """In parts they are the same draws, and what was drawn so far is a range of its own."""
    id, output = "climate.today", "bed_evaporation"

    def asked(**more):
        return {"calculator": id, "values": {}, "units": "us", "explore": "range", "output": output, **more}

    offered = json.loads(page.respond("explore", json.dumps(asked())))["html"]
    assert 'data-action="draws"' in offered
    parts = [
        json.loads(page.respond("explore", json.dumps(asked(draws=[first, first + 25])))) for first in range(0, 100, 25)
    ]
    assert {part["of"] for part in parts} == {1000}
    values = [value for part in parts for value in part["values"]]
    entry = calc.find(id)
    assert values == explore.some_values(
        entry, entry.defaults, output, explore.draws(entry, entry.defaults, 1000)[:100]
    )
    told = json.loads(page.respond("explore", json.dumps(asked(values_drawn=values))))["html"]
    assert "calc-figure" in told and "data-action" not in told
    whole = explore.spread(entry, entry.defaults, output)
    some = explore.spread_of(entry, entry.defaults, values)
    assert some["samples"] == 100 and abs(some["p50"] - whole["p50"]) < 0.2 * whole["p50"]
    few = asked(draws=[990, 1015])
    assert len(json.loads(page.respond("explore", json.dumps(few)))["values"]) == 10
