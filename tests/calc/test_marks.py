"""The kinds of marks are named once: what a figure may hold, what the page knows the axes of, what the drawer draws."""

import json
import os
import random
import re
import subprocess
import sys
from dataclasses import replace
from math import inf, nextafter
from pathlib import Path
from typing import get_args

import bootstrap
import pytest
from hypothesis import example, given
from hypothesis import strategies as st

import calc
from calc.engine.describe import Figure, MarkKind
from calc.engine.run import answer
from calc.page import figure
from calc.page.answer import figure_table, has_table
from calc.page.doubt import axis_of


def test_every_kind_has_its_places():
    assert set(figure._PLACES) == set(get_args(MarkKind))


def test_the_drawer_knows_no_other_kind_and_lacks_none():
    sources = (bootstrap.BROWSER / "figure").glob("*.mjs")
    text = "\n".join(path.read_text(encoding="utf-8") for path in sources if path.name != "gallery.mjs")
    named = set(re.findall(r'"(\w+)"|\b(\w+)(?=[:(]| \()', text))
    words = {word for pair in named for word in pair}
    assert set(get_args(MarkKind)) - words == set()
    assert set(re.findall(r'kind === "(\w+)"', text)) <= set(get_args(MarkKind)) | {
        "time",
        "band",
        "linear",
        "log",
    }  # of axes


def shaken(value, chance):
    """The number in another libm: one bit up or down, or as it is."""
    return nextafter(value, chance.choice((-inf, value, inf))) if isinstance(value, float) else value


def rows_of(item, view):
    """How many rows the numbers of a figure have as a table, and their headings."""
    html = figure_table(item, view)
    return html.count("<tr>"), re.findall("<th scope=col.*?</th>", html)


@pytest.mark.parametrize(("id", "values"), [*((id, {}) for id in calc.calculators()), ("lane.output", {"capacity": 3})])
def test_the_last_bits_of_a_number_add_no_row_and_take_none(id, values):
    """Two Pythons differ in the last bits of `exp` and `pow`; whether two marks share a place must not hang on them."""
    view, chance = answer(id, values, "us"), random.Random(7)
    for item in view.shown.figures:
        if not isinstance(item, Figure) or has_table(item, view.shown):
            continue
        moved = [replace(m, points=[(shaken(p[0], chance), *p[1:]) for p in m.points]) for m in item.marks]
        assert rows_of(replace(item, marks=moved), view) == rows_of(item, view)


def test_a_place_that_is_another_one_keeps_its_row():
    item = next(found for found in answer("lane.output", {}, "us").shown.figures if isinstance(found, Figure))
    line = replace(item.marks[0], points=[(10.0, 1.0), (10.0 * (1 + 1e-7), 2.0), (10.0 * (1 + 1e-13), 3.0)])
    assert figure_table(replace(item, marks=[line]), answer("lane.output", {}, "us")).count("<tr>") == 1 + 2


@example(51, 9, 0.1, random.Random(1))  # as wide as TIGHT says, but for its last bits
@given(st.integers(1, 60), st.integers(1, 60), st.sampled_from((0.1, 0.25, 3.0)), st.randoms(use_true_random=False))
def test_the_last_bits_move_no_end_of_a_bar(low, wide, step, chance):
    low, high = low * step, (low + wide) * step
    assert axis_of(shaken(low, chance), shaken(high, chance)) == pytest.approx(axis_of(low, high), rel=1e-9)


def test_no_answer_hangs_on_the_last_bits_of_a_function():
    """Another Python's `exp` differs in its last bit; no row, sentence or corner may come or go with that."""
    asked = [(id, {}, "us") for id in calc.calculators()]
    asked += [("lane.output", {"capacity": "3"}, "us"), ("lane.lives", {"worm_mass": "3"}, "metric")]
    asked += [("lane.feeding", {"lane_length": "3"}, "us"), ("farm.money", {"months": "3"}, "us")]
    done = subprocess.run(
        [sys.executable, Path(__file__).with_name("shaken.py")],
        input=json.dumps(asked),
        capture_output=True,
        text=True,
        check=True,
        env={**os.environ, "PYTHONPATH": str(bootstrap.ROOT)},
    )
    assert json.loads(done.stdout) == []
