"""What is the reader's in a sentence is declared by the presenter, and nothing of that mark is left anywhere else."""

import json
import re

import pytest

import calc
from calc.engine.run import answer
from calc.engine.sentence import Sentence, yours
from calc.page import respond
from calc.page.aim import new_warnings
from calc.page.held import held_sentence

MARKS = re.compile("[\ue000-\uf8ff]")


@pytest.mark.parametrize("units", ["us", "metric"])
@pytest.mark.parametrize("id", list(calc.every()))
def test_no_mark_is_left_where_a_reader_or_a_program_looks(id, units):
    asked = json.dumps({"calculator": id, "units": units, "raw": True})
    for call in ("answer", "text", "csv"):
        assert not MARKS.search(json.loads(respond(call, asked)).get("html" if call == "answer" else "text"))
    assert not MARKS.search(json.dumps(calc.run(id, units=units), ensure_ascii=False))


def test_what_is_held_is_the_value_of_its_field():
    """In more than twenty calculators; each piece reads as the field's own words."""
    found = 0
    for id in calc.every():
        view = answer(id, {}, "us")
        said = [*view.shown.reading, *(figure.finding for figure in view.shown.figures)]
        pieces = [piece for sentence in said for piece in sentence.parts if piece[1]]
        assert all(text == view[name] for text, name in pieces), id
        found += bool(pieces)
    assert found > 20


def test_a_sentence_is_text_with_its_pieces():
    said = Sentence(f"{yours('mass', '40 lb')} & more")
    assert said == "40 lb & more" and str(said) == said and Sentence(said) is said
    html = held_sentence(said, answer("moisture.adjust", {"mass": "40 lb"}, "us"))
    assert 'data-held="mass"' in html and html.endswith(">40 lb</span> &amp; more")


def test_a_choice_or_a_blank_is_not_held():
    view = answer("lane.year", {}, "us")
    assert "data-held" not in held_sentence(Sentence(f"In a {view.yours('climate')} place"), view)
    assert view.yours("days_to_first_slice") == view["days_to_first_slice"], "a blank one is not the reader's"


def test_an_aim_brings_along_the_warnings_of_what_it_found():
    view = answer("lane.starter", {}, "us")
    assert any("crowded" in sentence for sentence in new_warnings(view, "worm_mass", 200.0))
    assert not any("crowded" in sentence for sentence in new_warnings(view, "worm_mass", view.worm_mass))
