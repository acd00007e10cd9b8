"""The working of every calculator says how each of its numbers comes about, and where from."""

import functools
import re

import pytest

import calc
from calc.engine.describe import Band
from calc.page.equations import equations, named_in, steps_of

EVERY = list(calc.calculators())


@functools.cache
def steps(id):
    """What `steps_of` finds of a calculator, asked once for all tests: it answers each word of each list."""
    return steps_of(calc.find(id))


def is_number(value):
    return isinstance(value, (int, float, Band)) and not isinstance(value, bool)


@pytest.mark.parametrize("id", EVERY)
def test_every_number_of_an_answer_has_its_equation(id):
    """Numbers only: a decision or a verdict in words is explained by the reading."""
    named = named_in(calc.find(id))
    numbers = {name for _, view, _ in steps(id) for name, value in view.results.items() if is_number(value)}
    assert numbers - named == set()


@pytest.mark.parametrize("id", EVERY)
def test_every_equation_names_its_source(id):
    assert [step.title for step, *_ in steps(id) if not step.source.strip()] == []


@pytest.mark.parametrize("id", EVERY)
def test_no_working_speaks_of_a_calculator_by_its_id(id):
    """A reader knows pages by their questions, not by the names that programs use."""
    for step, *_ in steps(id):
        for text in (step.title, step.equation, step.source, step.note):
            assert not [other for other in EVERY if re.search(rf"\b{re.escape(other)}\b", text)], text


def test_the_list_holds_every_calculator():
    html = equations()
    for id in EVERY:
        assert f'id="{id.replace(".", "-")}-equations"' in html
    assert html.count("<li>") == sum(len(steps(id)) for id in EVERY)
    assert "{" not in re.sub(r"<[^>]*>", "", html)
