"""Drawings by hand: each stands in a chapter, says in words what it shows, and finds the patterns of its materials
on its page.
"""

import importlib
import pkgutil
import re

import pytest

import calc.drawings
from calc.page import drawings, hatch

for module in pkgutil.iter_modules(calc.drawings.__path__):
    importlib.import_module(f"calc.drawings.{module.name}")
EVERY = {name: make() for name, make in drawings._drawings.items()}
BY_HAND = {name: made for name, made in EVERY.items() if 'class="plate"' in made.svg}


def test_there_are_drawings_of_all_that_is_done_by_hand():
    assert len(BY_HAND) >= 28


@pytest.mark.parametrize("name", EVERY)
def test_a_drawing_is_told_in_words(name):
    made = EVERY[name]
    assert made.title and made.finding.endswith(".") and len(made.text) > 60


@pytest.mark.parametrize("name", BY_HAND)
def test_every_number_in_a_drawing_has_its_words(name):
    """Discs are numbered from one without a gap, and there are as many words below."""
    made = BY_HAND[name]
    numbers = {int(found) for found in re.findall(r'class="key-number"[^>]*>(\d+)<', made.svg)}
    assert numbers == set(range(1, len(numbers) + 1))
    assert not made.keys or len(made.keys) == max(numbers, default=len(made.keys))


def test_every_hatch_that_is_used_is_defined():
    used = {found for made in EVERY.values() for found in re.findall(r'class="hatch-(\w+)"', made.svg)}
    assert used and used <= set(hatch.MATERIALS)


def test_every_drawing_stands_on_a_page_with_the_patterns(site, names):
    text = {name: (site / name).read_text(encoding="utf-8") for name in names}
    shown = {found for page in text.values() for found in re.findall(r'calc-drawing" data-figure="([\w_]+)"', page)}
    missing = {name for name, made in BY_HAND.items() if made.name not in shown}
    assert not missing
    for name, page in text.items():
        if 'class="plate"' in page:
            assert page.count('id="hatch-feed"') == 1, name


def test_every_drawing_by_hand_is_a_poster(site):
    page = (site / "records" / "posters.html").read_text(encoding="utf-8")
    missing = [name for name, made in BY_HAND.items() if f'data-figure="{made.name}"' not in page]
    assert missing == ["lane.scales"], "two lanes on one scale say nothing to a wall; all others do"
    assert 'id="records-posters' not in (site / "print.html").read_text(encoding="utf-8")
