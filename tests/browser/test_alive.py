"""Every load of a page comes alive, in every engine and by every way in, and a start that hangs comes to its end."""

import os
import re

import pytest
from engines import NAMES
from test_engines import STATE

LOADS = int(os.environ.get("HANDBOOK_LOADS", "12"))
"""Loads in a row for each engine and way; HANDBOOK_LOADS=60 for the whole of it.

One page in four stayed dead in WebKit from disk when the tag of a part was taken out before it had loaded, so that a
dozen loads would tell it in 97 runs of 100.
"""

PAGES = ("moisture/adjust.html", "lane/starter.html", "garden/index.html")
HASTE = """const wait = setTimeout; globalThis.setTimeout = (act, time, ...more) =>
    wait(act, time >= 20_000 && !globalThis.patient ? time / 60 : time, ...more);"""
"""What would be waited for is given up soon, until the page is told to be patient: then as long as for any reader."""


@pytest.mark.parametrize("way", ["address", "copy"])
@pytest.mark.parametrize("name", NAMES)
def test_every_load_comes_alive(request, started, name, way):
    engine = started(name)
    base = request.getfixturevalue(way)
    window = engine.window()
    states = []
    for load in range(LOADS):
        window.open(base + PAGES[load % len(PAGES)])
        try:
            states.append(window.until(STATE))
        except AssertionError:
            states.append("dead")
    window.close()
    assert states == ["live"] * LOADS


@pytest.mark.parametrize("part", [r"/python\.\w+\.wasm", r"/library\.\w+\.bin"])
def test_a_part_that_never_comes_is_given_up_and_told_and_the_next_edit_tries_again(browser, address, part):
    page = browser.new_page()
    page.add_init_script(HASTE)
    held = []
    page.route(re.compile(part), lambda route: held.append(route))  # noqa: PLW0108 (the driver marks what it calls, and a built-in takes no mark)
    page.goto(address + "moisture/adjust.html")
    page.wait_for_selector('section.calc[data-state="failed"]', timeout=30_000)
    assert "never came" in page.locator(".calc-status").inner_text()
    assert len(held) > 1, "tried once more"
    page.unroute_all(behavior="ignoreErrors")
    page.evaluate("() => { globalThis.patient = true; }")
    page.locator('[name="mass"]').fill("100")
    page.keyboard.press("Tab")
    page.locator(".calc-main output").filter(has_text=re.compile("^80 lb$")).first.wait_for(timeout=60_000)
    page.close()
