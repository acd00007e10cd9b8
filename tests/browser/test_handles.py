"""Everything that can be held in a figure, found in the built pages, moved by keys in three engines: the field follows,
the figure comes anew, and the focus stays.
"""

import contextlib
import re

import engines
import pytest

SETTLED = """() => [...document.querySelectorAll("section.calc")].every(
  (one) => one.dataset.state === "live" && !("pending" in one.dataset))"""
HELD = """(selector) => {
  const one = [...document.querySelectorAll(selector)].find((one) => one.checkVisibility());
  one?.focus();
  return one && ["aria-valuenow", "aria-valuemax"].map((name) => Number(one.getAttribute(name)));
}"""
FIELD = """(calculator, input) => Number(document.querySelector(
  `[data-calculator="${calculator}"] .calc-field[data-input="${input}"] input`).value)"""
MOVED = """(input, before) => {
  const at = document.activeElement;
  const now = Number(at.getAttribute("aria-valuenow"));
  return at.matches(".figure-handle") && at.dataset.input === input && now !== before;
}"""


def handles(text):
    """{(calculator, input of a handle)} of a page as it was built."""
    found = set()
    for section in re.findall(r'<section class="calc".*?</section>', text, re.DOTALL):
        calculator = re.search(r'data-calculator="([^"]+)"', section)[1]
        marks = re.findall(r'<g [^>]*class="figure-handle"[^>]*>', section)
        found |= {(calculator, re.search(r'data-input="(\w+)"', mark)[1]) for mark in marks}
    return found


@pytest.fixture(scope="module")
def held(site):
    """{page: its handles}, one page for each calculator."""
    found, seen = {}, set()
    for path in sorted(site.rglob("*.html")):
        if path.name != "print.html" and (here := handles(path.read_text(encoding="utf-8")) - seen):
            found[path.relative_to(site).as_posix()] = sorted(here)
            seen |= here
    return found


def test_the_figures_of_the_list_have_handles(held):
    inputs = {name for page in held.values() for _, name in page}
    wanted = {
        "lane_length": "the lane",
        "shown_day": "the day of the lane",
        "worm_mass": "the herd",
        "moisture": "the moisture bar",
        "target_moisture": "the recipe map",
        "target_carbon_nitrogen": "the recipe map",
        "bed_height": "the temperatures in a bed",
        "cover_resistance": "the cover",
        "opening_cash": "the cash curve",
        "fine_opening": "the cut of the screen",
    }
    assert not {what for name, what in wanted.items() if name not in inputs}
    assert any(calculator == "breeding.trays" for page in held.values() for calculator, _ in page), "the tray pipeline"


def move(window, selector, handle):
    """One key on a handle, until it has moved: a key is lost that is pressed while the figure is being drawn anew."""
    before, most = window.until(HELD, selector)
    key = "ArrowUp" if before < most else "ArrowDown"
    for patience in (2, 4, 8, 16):
        window.press(key)
        with contextlib.suppress(AssertionError):
            return window.until(MOVED, handle, before, patience=patience)
        before, _ = window.until(HELD, selector)
    window.press(key)
    return window.until(MOVED, handle, before)


@pytest.mark.slow
@pytest.mark.parametrize("name", engines.NAMES)
def test_every_handle_works_by_keys(started, address, held, name):
    engine = started(name)
    window = engine.window()
    for page, here in held.items():
        window.open(address + page)
        for calculator, handle in here:
            window.until(SETTLED)
            mine = f'[data-calculator="{calculator}"] .figure-handle[data-input="{handle}"]'
            typed = window.run(FIELD, calculator, handle)
            move(window, mine, handle)
            assert window.run(FIELD, calculator, handle) != typed, f"{page}: {handle} has moved without its field"
    window.close()
