"""Files that somebody else may have written: a plan, a farm's file.

Every line is taken or told; nothing else is ever raised.
"""

import json
import re
from html.parser import HTMLParser
from pathlib import Path

import farm
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

import calc
from calc.page import plan, respond
from calc.page.form import plan_key

KEYS = [plan_key(name, item) for id in calc.calculators() for name, item in calc.find(id).inputs.items()]
NASTY = [
    "",
    " ",
    "=",
    ":",
    "= =",
    "# x",
    "\0",
    "\x1b[0m",
    "\u202e",
    "\ud800",
    "\u2028",
    "\x85",
    "<img src=x onerror=alert(1)>",
    "javascript:alert(1)",
    "1e999",
    "9" * 5000,
    "nan",
    "1/0",
    "١٢",
    "5 furlongs",
    "[" * 2000,
    "{" * 500,
    "&a [*a]",
    "*a",
    "!!python/object:os.system",
    "- - - -",
    "? x",
    "|",
    ">",
    "'",
    '"',
    "%YAML 9.9",
    "---",
    "...",
    "\t",
    "a: b: c",
    "{{7*7}}",
    "..\\..",
    "../../etc/passwd",
    "yes",
    "~",
    "0x1F",
    "1_000",
    "2027-02-30",
    "x" * 20_000,
]
pieces = st.one_of(st.sampled_from(NASTY), st.text(max_size=20))
lines = st.one_of(
    st.builds("{}{}{}".format, st.sampled_from(KEYS), st.sampled_from([" = ", "=", ": ", " ", "\t=\t"]), pieces),
    st.builds("    {}".format, pieces),
    st.sampled_from(
        [
            "plan version: 1",
            "plan version: 99",
            "plan version: x",
            "units: us",
            "units: metric",
            "units: cubits",
            "# note",
        ]
    ),
    pieces,
)
files = st.builds(
    lambda parts, end: end.join(parts), st.lists(lines, max_size=12), st.sampled_from(["\n", "\r\n", "\r"])
)
ALLOWED = {
    "h3",
    "p",
    "ul",
    "li",
    "div",
    "table",
    "thead",
    "tbody",
    "tr",
    "th",
    "td",
    "button",
    "details",
    "summary",
    "a",
    "small",
    "strong",
    "span",
    "dl",
    "dt",
    "dd",
    "form",
    "label",
    "input",
    "select",
    "option",
    "textarea",
}


PLACES = re.compile(r"--[a-z]+:-?[\d.]+(?:e-?\d+)?(?:;--[a-z]+:-?[\d.]+(?:e-?\d+)?)*")
"""The one kind of style that the page writes: where something stands on its rail, as plain numbers."""


class Tags(HTMLParser):
    """Only the elements that the page itself writes, and no attribute that does anything."""

    def __init__(self, html):
        super().__init__()
        self.feed(html)

    def handle_starttag(self, tag, attributes):
        assert tag in ALLOWED, tag
        for name, value in attributes:
            assert not name.startswith("on") and name not in ("src", "srcdoc"), name
            assert name != "style" or PLACES.fullmatch(value), value
            assert name != "href" or value.startswith(("handbook:", "#")), value


def answered(call, **asked):
    answer = json.loads(respond(call, json.dumps(asked)))
    for part in ("html", "notice"):
        Tags(answer.get(part, ""))
    return answer


@given(files, st.sampled_from(["us", "metric"]), st.sampled_from(["$", "€", "<b>"]))
@settings(max_examples=1500, suppress_health_check=list(HealthCheck))
def test_any_plan_file(text, units, currency):
    """What is taken can be written out and read again, and then nothing is told any more."""
    found = plan.read_plan(text, currency)
    assert all(len(sentence) < 1000 for sentence in found["told"])
    answered("open_plan", text=text, units=units, currency=currency, values={})
    again = plan.read_plan(plan.write_plan(found["values"], found["units"] or "us", currency), currency)
    assert again["told"] == [] or not found["values"]
    assert again["values"] == found["values"]


@given(st.dictionaries(st.one_of(st.sampled_from(KEYS), pieces), pieces, max_size=5), st.sampled_from(["us", "metric"]))
@settings(max_examples=600, suppress_health_check=list(HealthCheck))
def test_any_plan_on_its_page(values, units):
    """Whatever the browser has kept: each value is listed, with a button that takes it out again."""
    answer = answered("plan", values=values, units=units)
    assert answer["html"].count("data-remove=") == len(values)


@given(st.sampled_from(list(calc.calculators())), st.data(), st.sampled_from(["us", "metric"]))
@settings(max_examples=800, suppress_health_check=list(HealthCheck))
def test_any_link(id, data, units):
    """Each name of a link is set or told, and the reader's own values stand."""
    values = data.draw(
        st.dictionaries(st.one_of(st.sampled_from(list(calc.find(id).inputs)), pieces), pieces, max_size=5)
    )
    answer = answered("form", calculator=id, values={}, units="us", link={"values": values, "units": units})
    assert set(answer["set"]) <= set(calc.find(id).inputs)
    assert not values or answer["notice"]


YAML = st.one_of(
    st.builds("{}: {}".format, st.sampled_from(farm.NAMES), pieces),
    st.builds(
        "{}:\n  {}: {}".format,
        st.sampled_from(farm.NAMES),
        st.sampled_from(
            [
                "person",
                "email",
                "website",
                "latitude",
                "months",
                "lane_length",
                "lane_temperature",
                "moisture.adjust.mass",
            ]
        ),
        pieces,
    ),
    st.builds(
        "prices:\n  - product: {}\n    amount: {}\n    price: {}\n    fills: {}".format, pieces, pieces, pieces, pieces
    ),
    st.builds("inputs:\n  {}: {}".format, st.sampled_from([key.split(":")[0] for key in KEYS]), pieces),
    pieces,
)


@given(st.lists(YAML, max_size=6).map("\n".join))
@settings(max_examples=700, suppress_health_check=list(HealthCheck))
def test_any_farm_file(text):
    """A farm, or the lines that are wrong: never a traceback, and never both."""
    found, told = farm.read_farm(text, Path(__file__).parent)
    assert (found is None) == bool(told)
    for line, message in told:
        assert isinstance(line, int) and line >= 0 and message.strip() and len(message) < 1500


BOMBS = {
    "aliases within aliases": (
        "a: &a [x,x,x,x,x,x,x,x,x]\n"
        + "\n".join(f"{chr(98 + n)}: &{chr(98 + n)} [{','.join(['*' + chr(97 + n)] * 9)}]" for n in range(9))
    ),
    "a million signs": "name: " + "x" * 1_000_000,
    "a hundred thousand lines": "name: a\n" * 100_000,
    "brackets": "name: " + "[" * 100_000,
    "deep groups": "\n".join(" " * depth + "a:" for depth in range(2_000)),
    "merge": "a: &a {<<: *a}",
}


@pytest.mark.parametrize("name", BOMBS)
def test_bombs(name):
    assert farm.read_farm(BOMBS[name], Path(__file__).parent)[0] is None
    found = plan.read_plan(BOMBS[name])
    assert found["values"] == {} and found["told"]
