"""What the page's script asks of Python, and by which names it finds its way about Python's HTML: both sides agree."""

import re

import bootstrap
import pytest

import calc
from calc.page import plan
from calc.page.block import _CALLS, block
from calc.page.form import form

SCRIPTS = sorted((bootstrap.BROWSER / "page").glob("*.js"))
COMMENT = re.compile(r"^\s*(//|/?\*).*$", re.MULTILINE)
CODE = "\n".join(COMMENT.sub("", path.read_text(encoding="utf-8")) for path in SCRIPTS)
BY_VARIABLE = {"csv", "calendar"}
"""Calls whose name is that of the button that was pressed."""
LOOKED_FOR = ("calculator.js", "form.js", "links.js", "plan_page.js", "kept.js", "hold.js", "rows.js")
MADE_BY_SCRIPT = {"calc-done", "calc-linked", "calc-unseen", "calc-found", "calc-error", "calc-rows", "calc-off-screen"}
"""Names that the script itself gives."""


@pytest.fixture(scope="module")
def markup():
    """All that Python makes for the page: calculators, a form with what another handed over, the sheet of the plan."""
    blocks = [block(id, units=units) for id in calc.calculators() for units in ("us", "metric")]
    key = next(iter(plan.inputs_by_key()))
    handed = form(calc.find("moisture.adjust"), {"mass": 5.0}, "us", origins={"mass": "feed.recipe"})
    return "\n".join([*blocks, plan.page(), plan.plan_page({key: "1"}, {}, "us"), handed])


def test_every_call_is_answered_and_every_answer_asked_for():
    asked = set(re.findall(r"""ask\(\s*"([a-z_]+)\"""", CODE)) | BY_VARIABLE
    assert asked == set(_CALLS)


def test_every_button_has_its_act():
    """And no act waits for a button that nobody makes."""
    code = (bootstrap.BROWSER / "page" / "calculator.js").read_text(encoding="utf-8")
    acts = re.search(r"actions = \{(.*?)\n  \};", code, re.DOTALL)[1]
    known = set(re.findall(r"^    (\w+):", acts, re.MULTILINE)) | {"embed"}  # which embed.js hears
    made = set(re.findall(r'data-action="(\w+)"', "".join(block(id) for id in calc.calculators())))
    made |= {"take", "own", "use", "draws"}  # of a link's notice, of what an aim has found, of a range
    assert made == known


@pytest.mark.parametrize("name", LOOKED_FOR)
def test_every_class_that_is_looked_for_is_made(name, markup):
    text = (bootstrap.BROWSER / "page" / name).read_text(encoding="utf-8")
    looked = set(re.findall(r"\.((?:calc|plan)-[a-z-]+)(?![\w-]*\()", text)) - MADE_BY_SCRIPT
    made = {word for words in re.findall(r'class="?([^">]+)', markup) for word in words.split()}
    by_script = {word for words in re.findall(r'className: "([^"]+)"', CODE) for word in words.split()}
    assert looked - made - by_script == set()


def test_every_attribute_that_is_read_of_a_field_is_made(markup):
    text = (bootstrap.BROWSER / "page" / "form.js").read_text(encoding="utf-8")
    text += (bootstrap.BROWSER / "page" / "calculator.js").read_text(encoding="utf-8")
    read = set(re.findall(r"field\.dataset\.(\w+)", text))
    kebab = {re.sub(r"[A-Z]", lambda letter: "-" + letter[0].lower(), name) for name in read}
    assert kebab
    assert {name for name in kebab if f" data-{name}" not in markup} == set()
