"""Whatever stands in a field, a table or a question, every way in answers or names the field: nothing else is ever
raised, no markup arises from what was typed, and nothing that was typed is lost.

Together with the other files of this folder well over 10,000 cases. A case that hangs is ended by the watchdog below;
the slowest that was measured is named in DEVELOPERS.md.
"""

import csv
import faulthandler
import functools
import io
import json
import os
import re
import time
from datetime import date
from html.parser import HTMLParser

import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

import calc
from calc.__main__ import main as terminal
from calc.engine import Event
from calc.engine.calendar import calendar_text
from calc.engine.describe import Choice, Day, Flag, Log, Number, Refused, Rows, Series
from calc.engine.read import read_inputs
from calc.engine.view import csv_cell, field_value
from calc.page import respond
from calc.page.plan import plan_text

EVERY = list(calc.calculators())
CALLS = ("answer", "form", "text", "csv", "calendar")
PATIENCE = 60  # seconds for a whole test; without an end to it a hang would only ever look like a slow machine
LONGEST_MESSAGE = 1500


@pytest.fixture(autouse=True)
def watchdog():
    """Ends the run with a traceback of the place that hangs."""
    faulthandler.dump_traceback_later(PATIENCE * 5, exit=True)
    yield
    faulthandler.cancel_dump_traceback_later()


@pytest.fixture(autouse=True, scope="module")
def slowest():
    """HOSTILE_TIMES=1 prints the slowest cases, for the figure in DEVELOPERS.md."""
    yield
    if os.environ.get("HOSTILE_TIMES"):
        for seconds, asked in sorted(TIMES, reverse=True)[:12]:
            print(f"{seconds:.2f} s  {asked[:300]}")


TIMES = []

# ---- texts that nobody means well with

MARKUP = [
    "<img src=x onerror=alert(1)>",
    '"><script>alert(1)</script>',
    "' onmouseover='alert(1)",
    "</textarea><svg/onload=alert(1)>",
    "<!--",
    "]]>",
    "&lt;b&gt;",
    "&#60;u&#62;",
    "javascript:alert(1)",
    "<a href=javascript:alert(1)>x</a>",
    "<style>*{display:none}</style>",
    "`${alert(1)}`",
    "{{7*7}}",
    "</option></select><h1>",
    "\0<b>",
    "<\0script>",
    "</script ",
]
FORMULAS = [
    '=HYPERLINK("http://x.example","y")',
    "=1+1",
    "@SUM(A1)",
    "+cmd|' /C calc'!A0",
    "-2+3+cmd",
    "\t=1",
    "\r=1",
    "＝1+1",
    "=1\n=2",
    'a"\r\n=1',
    ";=1",
    ",=1",
    "'=1",
    "%0A=1",
]
NUMBERS = [
    "1e999",
    "-1e999",
    "1e-999",
    "nan",
    "NaN",
    "inf",
    "-inf",
    "Infinity",
    "1/0",
    "0/0",
    "1/3",
    "1 1/0",
    "٣",
    "१२",
    "１２",
    "²",
    "1٫5",
    "1_000",
    "0x10",
    "1e5",
    "1E+400",
    "--5",
    "+-5",
    "−5",
    "½",
    "1½½",
    "5½ lb",
    "1,2,3",
    "1.2.3",
    ".",
    ",",
    "-",
    "+",
    "1,",
    "1.",
    ".5",
    "0,5",
    "1,500",
    "1 500",
    "00012",
    "9" * 400,
    "0." + "0" * 400 + "1",
    "1e308",
    "-0",
    "1e-320",
    "1" + "0" * 5000,
]
UNITS = [
    "5 lb lb",
    "5 lb/lb/lb",
    "5 /",
    "5 / /",
    "5 lb/",
    "5 kg^4^4",
    "5 m99",
    "5 per",
    "5 per per",
    "5 °C/°C",
    "5 F",
    "5 °F°F",
    "5 C C",
    "5 ((((",
    "5 m2 K/W",
    "5 K/",
    "5 money",
    "5 $",
    "$5",
    "€5 €",
    "5 %%",
    "5 % %",
    "5 kg*kg",
    "5 cubic cubic ft",
    "5 sq ft ft",
    "5 1/1/1",
    "5 lb^-4",
    "5 m^-1",
    "5 ft'\"",
    "5'",
    '5"',
    "5 \u200blb",
    "5 ｌｂ",
    "5 l b",
    "5 s" + "s" * 50,
    "5 " + "lb " * 60,
    "5 " + "(" * 90,
]
CONTROLS = [
    "\0",
    "\x00\x01\x02",
    "\x1b[2J",
    "\x7f",
    "\u202e12 lb",
    "\u200f12",
    "\u2066x\u2069",
    "\ufeff12",
    "\u200b",
    "\u00a0",
    "\u2028",
    "\u2029",
    "\x85",
    "\x0b\x0c",
    "\ud800",
    "a\udfffb",
    "\U0010ffff",
    "e\u0301" * 9,
    "Z͑ͫ̓ͪ̂ͫ̽͏̴̙̤̞͉͚̯̞̠͍A̴̵̜̰͔ͫ͗͢",
    "👩‍🌾",
    "ﷺ",
    "İi",
    "ß",
    "ﬁ",
]
DATES = [
    "0000-00-00",
    "0001-01-01",
    "9999-12-31",
    "10000-01-01",
    "1899-12-31",
    "2200-12-31",
    "2201-01-01",
    "1900-01-01",
    "2027-02-30",
    "2028-02-29",
    "2027-W01-1",
    "20270301",
    "2027-3-1",
    "-2027-01-01",
    "2027-03-01T25:00",
    "2027-03-01 24:00",
    "2027-03-01T00:00:00+99:99",
    "2027-03-01T00:00Z",
    "٢٠٢٧-٠٣-٠١",
    "today",
    "1/3/2027",
]
SHAPES = [
    "[",
    "]",
    "{",
    "}",
    "[]",
    "{}",
    "[[]]",
    "[{}]",
    "[null]",
    "[[[[1]]]]",
    "null",
    "true",
    "[1e999]",
    "[NaN]",
    '["a", {"b": []}]',
    '[{"material": {"x": 1}}]',
    '[{"": ""}]',
    "[1" + "0" * 5000 + "]",
    "5",
    '"x"',
    ",",
    ";;;",
    "\n\n\n",
    '"',
    '"""',
    "a,b\n1,2",
    "__proto__",
    "constructor",
    "__class__",
    "{0}",
    "%s",
    "%(x)s",
    "{value}",
    "\\",
    "\\n",
    "';--",
    "../../etc/passwd",
    "~",
    "None",
    "yes",
    "no",
    "on",
]
NASTY = MARKUP + FORMULAS + NUMBERS + UNITS + CONTROLS + DATES + SHAPES

pieces = st.one_of(
    st.sampled_from(NASTY),
    st.sampled_from(["1", "0", "-", "12.5", " ", "lb", "kg/", "ft2", "%", ",", "\n", "\t", "½", "e9"]),
    st.text(max_size=6),
)
texts = st.one_of(
    st.sampled_from(NASTY),
    st.sampled_from(NASTY),
    st.text(alphabet=st.characters(), max_size=40),
    st.lists(pieces, max_size=5).map("".join),
)
json_values = st.recursive(
    st.one_of(st.none(), st.booleans(), st.integers(), st.integers(-(10**400), 10**400), st.floats(), texts),
    lambda inner: st.one_of(st.lists(inner, max_size=4), st.dictionaries(texts, inner, max_size=3)),
    max_leaves=8,
)
systems, currencies = (
    st.sampled_from(["us", "metric"]),
    st.sampled_from(["$", "€", "Kč", "<b>", '"', "lb", "1", "%", "\\1", "=", "money", "["]),
)


def edge(description):
    """Texts and numbers that a number field does take: its ends, nearly its ends, and in between."""
    low, high = description.low, description.high
    inside = st.floats(low, high, allow_nan=False) if high - low < 1e300 else st.floats(0, 1e9)
    numbers = st.one_of(
        st.sampled_from(
            [
                low,
                high,
                (low + high) / 2,
                low + (high - low) * 1e-9,
                high - (high - low) * 1e-9,
                min(max(0.0, low), high),
            ]
        ),
        inside,
    )
    return numbers.map(round) if description.whole else numbers


def cell(column):
    if isinstance(column, Number):
        return st.one_of(edge(column).map(lambda number: f"{number:f}"), texts)
    if isinstance(column, Choice):
        return st.one_of(st.sampled_from(list(column.options)), texts)
    return texts


TIMES_OF_LOG = st.one_of(
    st.floats(0, 1000).map(str),
    st.dates(date(2026, 1, 1), date(2029, 1, 1)).map(str),
    st.sampled_from([*DATES, "1e18", "-1e18", "1e300", "0", "0", "2027-03-01 10:00"]),
)


def tables(description):
    """A table with its right heading and cells that may be anything, as CSV text or as rows."""
    columns = list(description.columns.items())
    readers = [
        TIMES_OF_LOG if isinstance(description, Log) and place == 0 else cell(column)
        for place, (_, column) in enumerate(columns)
    ]
    return written(columns, st.lists(st.tuples(*readers), max_size=8))


@st.composite
def written(draw, columns, filled):
    rows = draw(filled)
    if draw(st.booleans()):
        return [dict(zip([name for name, _ in columns], row)) for row in rows]
    delimiter = draw(st.sampled_from(",;\t"))
    out = io.StringIO()
    writer = csv.writer(
        out,
        delimiter=delimiter,
        quoting=draw(st.sampled_from([csv.QUOTE_MINIMAL, csv.QUOTE_ALL])),
        escapechar="\\",
        lineterminator=draw(st.sampled_from(["\n", "\r\n", "\r"])),
    )
    writer.writerow([name for name, _ in columns])
    writer.writerows([[item.replace("\0", "") for item in row] for row in rows])
    return out.getvalue()


def field(description):
    """Something for one input: taken, refused, or worse."""
    if isinstance(description, Rows):
        return st.one_of(tables(description), tables(description), texts)
    if isinstance(description, Series):
        number = Number(description.unit, description.label, description.low, description.high)
        length = description.length or 4
        return st.one_of(
            st.lists(st.one_of(edge(number), texts), min_size=length, max_size=length),
            st.lists(edge(number), min_size=length, max_size=length),
            texts,
        )
    if isinstance(description, Number):
        within = st.builds(plan_text, edge(description), st.just(description), systems)
        return st.one_of(within, within, texts)
    if isinstance(description, Choice):
        return st.one_of(st.sampled_from(list(description.options)), texts)
    if isinstance(description, Flag):
        return st.one_of(st.sampled_from(["yes", "no"]), texts)
    if isinstance(description, Day):
        return st.one_of(st.dates(date(1900, 1, 1), date(2200, 12, 31)).map(str), st.sampled_from(DATES), texts)
    return texts


@st.composite
def asked(draw, most=4):
    """(id, values): a calculator and something for some of its inputs."""
    id = draw(st.sampled_from(EVERY))
    names = draw(st.lists(st.sampled_from(list(calc.find(id).inputs)), min_size=1, max_size=most, unique=True))
    return id, {name: draw(field_of(id, name)) for name in names}


@functools.cache
def field_of(id, name):
    """Made once for each input: making it takes longer than answering."""
    return field(calc.find(id).inputs[name])


@functools.cache
def edge_of(id, name):
    return edge(calc.find(id).inputs[name])


@st.composite
def all_taken(draw):
    """(id, values): every number anywhere within its bounds at once."""
    entry = calc.find(draw(st.sampled_from(EVERY)))
    return entry.id, {
        name: draw(edge_of(entry.id, name))
        for name, item in entry.inputs.items()
        if isinstance(item, Number) and draw(st.booleans())
    }


# ---- what every answer is held to


class Shape(HTMLParser):
    """The elements and attributes of a piece of HTML; texts are only collected."""

    def __init__(self, html):
        super().__init__(convert_charrefs=True)
        self.found, self.open, self.other = set(), [], []
        self.feed(html)
        self.close()

    def handle_starttag(self, tag, attributes):
        self.found |= {(tag, "")} | {(tag, name) for name, _ in attributes}
        for name, value in attributes:
            typed = (tag, name) == ("input", "value")  # what stands in a field leads nowhere
            leads = not typed and re.match(r"\s*(javascript|vbscript|data):", value or "", re.IGNORECASE)
            assert not name.startswith("on") and not leads, (
                tag,
                name,
                value,
            )
        if tag == "a":  # a page of the handbook, as Python names it, and nothing else
            assert re.fullmatch(r"handbook:[a-z/-]+\.html(#[a-z-]+)?", dict(attributes)["href"] or ""), attributes
        if tag not in ("input", "br", "hr", "img", "path", "line", "rect", "circle"):
            self.open.append(tag)

    def handle_endtag(self, tag):
        if tag in self.open:
            assert self.open.pop() == tag, f"{tag} closes what it did not open"

    def unknown_decl(self, data):
        self.other.append(data)

    handle_comment = handle_decl = handle_pi = unknown_decl


@functools.cache
def usual():
    """Elements and attributes of all forms and answers that nobody has tampered with; no other may ever arise."""
    found = {
        ("li", "data-for"),
        ("p", "class"),
        ("small", "class"),
        ("small", ""),
        ("ul", "class"),
        ("ul", ""),
        ("li", ""),
        ("ul", "aria-label"),
        ("strong", ""),
        ("option", "selected"),
        ("details", "open"),
        ("button", ""),
        ("button", "type"),
        ("button", "data-action"),
        ("button", "data-set"),
        *((tag, "data-exact") for tag in ("input", "select", "textarea")),
    }
    for id in EVERY:
        for call in ("answer", "form"):
            found |= Shape(json.loads(respond(call, json.dumps({"calculator": id, "units": "us"})))["html"]).found
        entry = calc.find(id)
        out = next(iter(entry.outputs))
        if id in ("moisture.adjust", "garden.dose"):
            for kind in ("moves", "range"):
                found |= Shape(
                    json.loads(
                        respond(
                            "explore", json.dumps({"calculator": id, "units": "us", "explore": kind, "output": out})
                        )
                    )["html"]
                ).found
            kept = {"values": {}, "units": "us"}
            found |= Shape(
                json.loads(
                    respond("answer", json.dumps({"calculator": id, "units": "us", "kept": kept, "values": {}}))
                )["html"]
            ).found
    assert not {tag for tag, _ in found} & {
        "script",
        "img",
        "iframe",
        "object",
        "embed",
        "link",
        "meta",
        "base",
        "style",
    }
    return found


def ask(call, asked):
    """The answer to one question, held to everything that holds for each."""
    sent = json.dumps(asked)
    began = time.process_time()
    answer = json.loads(respond(call, sent))
    TIMES.append((time.process_time() - began, f"{call} {sent}"))
    assert answer["ok"] is (not answer["errors"])
    told = [error["input"] for error in answer["errors"]]
    assert len(told) == len(set(told)), answer["errors"]
    for error in answer["errors"]:
        assert error["message"].strip() and len(error["message"]) <= LONGEST_MESSAGE, error["message"][:300]
    if "html" in answer:
        shape = Shape(answer["html"])
        assert shape.found <= usual(), shape.found - usual()
        assert not shape.other and not shape.open, (shape.other, shape.open)
    if "text" in answer:
        {"csv": check_csv, "calendar": check_calendar}.get(call, str)(answer["text"])
    return answer


def check_csv(text):
    """No cell that a spreadsheet would work out, and every row as it was meant."""
    assert text.startswith("﻿")
    for row in csv.reader(io.StringIO(text.removeprefix("﻿"), newline=""), strict=True):
        for item in row:
            assert not item.startswith(("=", "@", "\t", "\r", "＝", "＋", "－", "＠")), item
            assert not item.startswith(("+", "-")) or re.fullmatch(r"[-+]?[\d.,]+%?", item), item


LINE = re.compile(
    r"(BEGIN|END|VERSION|PRODID|UID|DTSTAMP|DTSTART|DTEND|SUMMARY|DESCRIPTION|TRANSP|X-WR-CALNAME|CALSCALE)(;VALUE=DATE)?:(.*)"
)


def check_calendar(text):
    """RFC 5545: lines of at most 75 octets, folded between characters, only known properties, nothing bare that would
    end or split a value.
    """
    lines = text.split("\r\n")
    assert lines[0] == "BEGIN:VCALENDAR" and lines[-2:] == ["END:VCALENDAR", ""]
    assert all(len(line.encode()) <= 75 for line in lines)
    unfolded = text.replace("\r\n ", "").split("\r\n")[:-1]
    depth = []
    for line in unfolded:
        match = LINE.fullmatch(line)
        assert match, line
        name, _, value = match.groups()
        assert not re.search(r"[\x00-\x08\x0a-\x1f\x7f]", value), line
        if name == "BEGIN":
            depth.append(value)
        elif name == "END":
            assert depth.pop() == value
        elif name in ("SUMMARY", "DESCRIPTION", "X-WR-CALNAME"):
            assert not re.search(r"(?<!\\)(?:\\\\)*[;,]", value), line
        elif name.startswith("DT"):
            assert re.fullmatch(r"\d{8}(T\d{6}Z)?", value), line
    assert not depth


# ---- the cases


@pytest.mark.parametrize("id", EVERY)
def test_every_text_in_every_field_at_once(id):
    """Every text of the lists above in all fields together, in both systems: the form gives back what could not be
    read.
    """
    inputs = calc.find(id).inputs
    for place, text in enumerate(NASTY):
        asked = {"calculator": id, "values": dict.fromkeys(inputs, text), "units": ("us", "metric")[place % 2]}
        told = {error["input"] for error in ask("answer", asked)["errors"]}
        typed = ask("form", asked)["typed"]
        assert set(typed) <= told | {name for name, item in inputs.items() if getattr(item, "tolerant", False)}
        assert all(back == text for back in typed.values())


@pytest.mark.parametrize("id", EVERY)
def test_every_text_in_each_field_alone(id):
    """Each text in one field after another, the others as they are; each tenth of those that are taken is answered
    too.
    """
    entry = calc.find(id)
    for name in entry.inputs:
        for place, text in enumerate(NASTY):
            try:
                read_inputs(entry, {name: text}, "us")
            except Refused as refused:
                assert len(refused.problems) == 1 and refused.problems[0][0] == name
                assert len(refused.problems[0][1]) <= LONGEST_MESSAGE
            else:
                if place % 10 == 0:
                    ask(CALLS[place // 10 % len(CALLS)], {"calculator": id, "values": {name: text}, "units": "us"})


@given(asked(), st.sampled_from(CALLS), systems, currencies)
@settings(max_examples=2000, suppress_health_check=list(HealthCheck))
def test_every_field_takes_or_names_what_is_wrong(asked, call, units, currency):
    id, values = asked
    answer = ask(call, {"calculator": id, "values": values, "units": units, "currency": currency})
    assert {error["input"] for error in answer["errors"]} <= set(calc.find(id).inputs) | {None}


@given(asked(most=1), systems)
@settings(max_examples=600, suppress_health_check=list(HealthCheck))
def test_one_message_for_each_wrong_field(asked, units):
    """Fields that are refused one by one are refused together, each once and in the same words."""
    id, values = asked
    entry = calc.find(id)
    wrong = {name: "¿que? 7 furlongs" for name, item in entry.inputs.items() if isinstance(item, Number)}
    alone = {
        error["input"]: error["message"]
        for error in ask("answer", {"calculator": id, "values": values, "units": units})["errors"]
    }
    told = {
        error["input"]: error["message"]
        for error in ask("answer", {"calculator": id, "values": {**wrong, **values}, "units": units})["errors"]
    }
    assert set(told) >= set(wrong) - set(values)
    name, text = next(iter(values.items()))
    if set(alone) == {name} and not isinstance(entry.inputs[name], (Rows, Series)) and told.get(name) != alone[name]:
        # A value that can be read may still be refused for what it makes of the others; then there is nothing to
        # compare.
        assert "errors" not in calc.run(id, {name: text}, units=units) or name not in told


@given(asked(), systems, systems)
@settings(max_examples=800, suppress_health_check=list(HealthCheck))
def test_nothing_typed_is_lost_when_the_form_is_made_anew(asked, before, after):
    """What can be read stands in the new form and reads back as the same value; the rest comes back as it was typed."""
    id, values = asked
    entry = calc.find(id)
    values = {
        name: (
            text
            if isinstance(text, str)
            else field_value(text, entry.inputs[name], before)
            if isinstance(text, (int, float))
            else json.dumps(text)
        )
        for name, text in values.items()
    }
    answer = ask(
        "form", {"calculator": id, "values": values, "units_of": dict.fromkeys(values, before), "units": after}
    )
    fields = Fields(answer["html"]).values
    for name, text in values.items():
        item = entry.inputs[name]
        if name in answer["typed"]:
            back = answer["typed"][name]
            assert back == text or (
                isinstance(item, Rows)
                and before != after
                and (
                    cells_of(back)[1:] == cells_of(text)[-len(cells_of(back)[1:]) :]
                    or (text.lstrip().startswith(("[", "{")) and grid_cells(item, back) == grid_cells(item, text))
                )
            )
            continue
        if isinstance(item, Number) and text.strip():
            now = answer_value(id, name, text, before)
            again = answer_value(id, name, fields[name], after)
            assert again == pytest.approx(
                now, rel=1e-6, abs=1e-9 * max(1.0, abs(item.low), abs(item.high) if item.high < 1e9 else 1.0)
            ), (text, fields[name])


def cells_of(text):
    """The lines of a table below its heading may not change; the heading gains units."""
    return text.replace("\r\n", "\n").replace("\r", "\n").lstrip("﻿\n").split("\n")


def grid_cells(item, text):
    """The cells of a table as texts, without what CSV cannot carry: blanks at their ends, line ends of other kinds,
    the guard of a formula.
    """
    rows = item.grid(text).as_json()["rows"]
    plain = [[re.sub(r"\r\n?", "\n", cell).strip().removeprefix("'").strip() for cell in row] for row in rows]
    return [row for row in plain if any(row)]


def test_rows_that_cannot_be_read_follow_the_reader_too():
    """From US units to metric ones and into the plan: the good rows mean the same and the bad ones stand as they were
    written.
    """
    log = "time,temperature\n2027-03-01 10:00,131\n2027-03-01 11:00,hot\nyesterday,140\n2027-03-01 12:00,140"
    asked = {"calculator": "feed.hot_phase", "values": {"log": log}}
    form = ask("form", asked | {"units_of": {"log": "us"}, "units": "metric"})
    kept = ask("answer", asked | {"units": "us"})["plan"]["log"]
    assert form["typed"]["log"].split("\n")[0] == "time,temperature (°F)"
    for text in (form["typed"]["log"], kept):
        assert text.split("\n")[1:] == log.split("\n")[1:]
        rows = read_inputs(calc.find("feed.hot_phase"), {"log": text}, "metric")["log"]
        assert [round(row["temperature"]) for row in rows] == [55, 60] and len(rows.dropped) == 2


def answer_value(id, name, text, units):
    return read_inputs(calc.find(id), {name: text}, units)[name]


class Fields(HTMLParser):
    """{name: what stands in the field} of a form."""

    def __init__(self, html):
        super().__init__()
        self.values, self.area = {}, None
        self.feed(html)

    def handle_starttag(self, tag, attributes):
        found = dict(attributes)
        if tag == "input":
            self.values[found["name"]] = (
                found.get("data-exact") or found["value"]
            )  # what is sent while nobody has touched the field
        if tag == "textarea":
            self.area = found["name"]
            self.values[self.area] = ""

    def handle_data(self, data):
        if self.area:
            self.values[self.area] += data

    def handle_endtag(self, tag):
        if tag == "textarea":
            self.area = None


@given(all_taken(), st.sampled_from(CALLS), systems)
@settings(max_examples=600, suppress_health_check=list(HealthCheck))
def test_numbers_anywhere_within_their_bounds(asked, call, units):
    """Each bound is fine by itself, and so are all of them together: an answer, or a refusal that names an input."""
    id, values = asked
    result = calc.run(id, values, units=None)
    assert "errors" in result or json.loads(json.dumps(result, allow_nan=False))
    ask(
        call,
        {
            "calculator": id,
            "values": {name: field_value(value, calc.find(id).inputs[name], units) for name, value in values.items()},
            "units": units,
        },
    )


@given(st.sampled_from(EVERY), st.data(), systems)
@settings(max_examples=600, suppress_health_check=list(HealthCheck))
def test_any_json_in_any_place(id, data, units):
    """A link or a plan that was written by hand may hold lists, objects and nothing where a text belongs."""
    names = list(calc.find(id).inputs)
    values = data.draw(st.dictionaries(st.one_of(st.sampled_from(names), texts), json_values, max_size=4))
    call = data.draw(st.sampled_from(CALLS))
    ask(
        call,
        {
            "calculator": id,
            "values": values,
            "units": units,
            "kept": data.draw(
                st.one_of(st.none(), st.fixed_dictionaries({"values": st.just(values), "units": systems}))
            ),
        },
    )


CHEAP = [
    id
    for id in EVERY
    if id not in ("lane.herd", "feed.recipe", "lane.starter", "climate.bed_temperature", "moisture.test")
]


@given(st.data(), st.sampled_from(["aim", "moves", "range"]), systems)
@settings(max_examples=400, suppress_health_check=list(HealthCheck))
def test_questions_about_outputs_that_are_none(data, kind, units):
    id = data.draw(st.sampled_from(CHEAP))
    entry = calc.find(id)
    output = data.draw(st.one_of(st.sampled_from(list(entry.outputs)), texts)) if kind != "range" else data.draw(texts)
    vary = data.draw(st.one_of(st.sampled_from(list(entry.inputs)), texts))
    ask(
        "explore",
        {
            "calculator": id,
            "units": units,
            "values": {},
            "explore": kind,
            "output": output,
            "vary": vary,
            "wanted": data.draw(texts),
        },
    )


@given(
    st.one_of(asked(), st.tuples(texts, st.dictionaries(texts, texts, max_size=3))),
    st.sampled_from([[], ["--json"], ["--units", "us"], ["--units", "metric", "--json"]]),
)
@settings(max_examples=500, suppress_health_check=list(HealthCheck))
def test_terminal(asked, options):
    """Words of a terminal hold no zero bytes; everything else ends with 0 or 2, and errors go where errors go."""
    id, values = asked
    words = [id, *(f"{name}={text if isinstance(text, str) else json.dumps(text)}" for name, text in values.items())]
    words = [word.replace("\0", "") for word in words]
    out, err = io.StringIO(), io.StringIO()
    import contextlib

    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
        try:
            code = terminal(["--", *words] if words[0].startswith("-") else [*options, *words])
        except SystemExit as ended:  # argparse: a word that looks like an option
            code = ended.code
    assert code in (0, 2)
    assert "Traceback" not in err.getvalue()
    if code == 2 and "--json" not in options:
        assert err.getvalue().strip()


@given(st.lists(st.builds(Event, st.dates(), texts, texts, st.integers(1, 400)), max_size=3), texts)
@settings(max_examples=300)
@example([Event(date(9999, 12, 31), "x", "", 1)], "x")
@example([Event(date(1, 1, 1), "a\r\nBEGIN:VALARM", "\ud800;,\\")], "\r\nX")
def test_calendar_lines(events, name):
    check_calendar(calendar_text(events, name))


@given(
    st.lists(
        st.lists(st.one_of(texts, st.text(alphabet="=+-@\t\r\n,;\"'1 ", max_size=6)), min_size=2, max_size=4),
        min_size=1,
        max_size=4,
    )
)
@settings(max_examples=500)
def test_cells_come_back_and_start_no_formula(rows):
    """A reader's text in a downloaded table: the same text, with a quote before it where a spreadsheet would work it
    out.
    """
    text = "\r\n".join(",".join(csv_cell(item) for item in row) for row in rows)
    check_csv("﻿" + text)
    back = list(csv.reader(io.StringIO(text, newline=""), strict=True))
    assert [[item.removeprefix("'") for item in row] for row in back if row] == [
        [item.removeprefix("'") for item in row] for row in rows
    ]


# ---- things that are too big, too deep or too many


HUGE = 10**6
MONSTERS = {
    "a million digits": "9" * HUGE,
    "a million letters": "x" * HUGE,
    "digits and spaces": "1 " * (HUGE // 2),
    "fractions": "1/" * (HUGE // 2),
    "units": "1 " + "lb/" * (HUGE // 3),
    "brackets": "[" * HUGE,
    "nested and closed": "[" * 100_000 + "]" * 100_000,
    "nested objects": '[{"a":' * 100_000,
    "quotes": '"' * (HUGE + 1),
    "commas": "," * HUGE,
    "one cell": 'time,temperature\n0,"' + "x" * HUGE + '"',
    "lines": "\n" * HUGE,
    "rows of nothing": ",\n" * (HUGE // 2),
    "numbers": "1," * (HUGE // 2),
    "spaces": " " * HUGE + "1" + " " * HUGE,
    "minus signs": "-" * HUGE,
    "list": "[" + "1," * 200_000 + "1]",
    "markup": "<b>" * (HUGE // 3),
    "combining": "e" + "\u0301" * HUGE,
}


@pytest.mark.parametrize("name", MONSTERS)
def test_monsters_are_refused_or_read(name):
    """One calculator for each kind of input that there is takes each monster."""
    seen = set()
    for id in EVERY:
        entry = calc.find(id)
        for input_name, item in entry.inputs.items():
            kind = (
                type(item).__name__,
                getattr(item, "tolerant", None),
                isinstance(item, (Number, Series)) and item.unit in ("degC", "money"),
            )
            if kind in seen:
                continue
            seen.add(kind)
            asked = {"calculator": id, "values": {input_name: MONSTERS[name]}, "units": "us"}
            answer = ask("answer", asked)
            form = ask("form", asked)
            if any(error["input"] == input_name for error in answer["errors"]) and MONSTERS[name].strip():
                assert form["typed"].get(input_name) == MONSTERS[name] or Fields(form["html"]).values[input_name]
    assert len(seen) >= 8


@pytest.mark.parametrize("id", EVERY)
def test_a_table_of_too_many_rows_is_told(id):
    for name, item in calc.find(id).inputs.items():
        if not isinstance(item, Rows):
            continue
        columns = list(item.columns)
        row = ",".join("0" if place == 0 else "1" for place in range(len(columns)))
        answer = ask(
            "answer",
            {"calculator": id, "values": {name: ",".join(columns) + f"\n{row}" * (item.most + 1)}, "units": "us"},
        )
        assert [error["input"] for error in answer["errors"]] == [name] and "rows" in answer["errors"][0]["message"]


@pytest.mark.parametrize("day", ["0001-01-01", "1899-12-31", "2201-01-01", "9999-12-31"])
@pytest.mark.parametrize("id", ["records.lane", "records.chart", "feed.hot_phase"])
def test_a_log_of_another_age_is_told(id, day):
    """Dates that the computer's calendar could not go on from are named by row, in every log."""
    entry = calc.find(id)
    columns = list(entry.inputs["log"].columns)
    log = ",".join(columns) + "".join(
        f"\n{day} 23:{minute},{','.join(['5'] * (len(columns) - 1))}" for minute in (10, 30, 50)
    )
    errors = ask("answer", {"calculator": id, "values": {"log": log}, "units": "metric"})["errors"]
    assert [error["input"] for error in errors] == ["log"] and "1900 and 2200" in errors[0]["message"]
