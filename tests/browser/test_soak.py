"""A reader who does what comes into their head, by a seed: after each step nothing is lost and nothing false is shown.

HANDBOOK_SEEDS=20 HANDBOOK_STEPS=2000 for the whole of it; HANDBOOK_SEED=7 for one. A failure names seed and steps.
"""

import os
import random

import pytest
from engines import NAMES, Missing
from test_engines import PRESS, SET, STATE
from test_never_lost import SHOWN_BELONGS

ONE = os.environ.get("HANDBOOK_SEED")
SEEDS = [int(ONE)] if ONE else range(int(os.environ.get("HANDBOOK_SEEDS", "1")))
STEPS = int(os.environ.get("HANDBOOK_STEPS", "25"))
PAGES = ("moisture/adjust.html", "lane/starter.html", "lane/feeding.html", "garden/index.html", "harvest/screen.html")
TEXTS = ("12", "3.5", "7 ft", "40 lb", "", "half", "1e9", "50 kg", "0", "61", "9 in")

FIELDS = """() => [...document.querySelectorAll(".calc-form input[type=text][data-plan]")].map(({ name }) => name)"""
STANDS = """(name) => {
  const field = document.querySelector(`.calc-form [name="${name}"]`);
  return field && [field.dataset.plan, field.value];
}"""
KEPT = """(key) => {
  const value = handbookState.value(key);
  return value && value.text;
}"""
SHOWS_STATE = """() => [...document.querySelectorAll(".calc-form [data-plan]")].flatMap((field) => {
  const { name, value, defaultValue, dataset } = field;
  const { units, shown = units } = field.closest("section").dataset;
  const kept = handbookState.value(dataset.plan);
  const other = kept && kept.units === shown && value !== kept.text && value !== defaultValue;
  return other ? [[name, value, kept.text]] : [];
})"""
"""Fields that hold something else than what is kept for them; Python may have put the same into its own words."""
LINKED = """[...document.querySelectorAll(".calc-leads a[href], article a[href*='.html']")]
  .filter((link) => link.checkVisibility() && !/print|licences/.test(link.href))"""
LINKS = f"() => {LINKED}.length"
GO = f"(place) => {{ const links = {LINKED}; setTimeout(() => links[place % links.length].click()); }}"
STOP = """() => {
  handbookPython.stop();
  document.querySelector(".calc-form [data-plan]")?.dispatchEvent(new Event("change", { bubbles: true }));
}"""
MADE = """(name) => document.querySelector(`.calc-form [name="${name}"]`).defaultValue"""
THERE = """() =>
  location.href.startsWith("http") && document.readyState === "complete" && typeof handbookState === "object" """
BELONGS = f"""async () => {{
  const found = await ({SHOWN_BELONGS})();
  return ["belongs", "marked"].includes(found) ? found : null;
}}"""
SLIDE = """([name, numbers]) => {
  const field = document.querySelector(`.calc-form [name="${name}"]`);
  for (const number of numbers) {
    field.value = String(number);
    field.dispatchEvent(new Event("input", { bubbles: true }));
  }
  field.dispatchEvent(new Event("change", { bubbles: true }));
}"""


class Reader:
    """Does one thing after the other and remembers what was typed."""

    def __init__(self, window, base, seed):
        self.window, self.base, self.chance = window, base, random.Random(seed)
        self.did = []

    def act(self):
        ways = (
            self.type,
            self.type,
            self.slide,
            self.go,
            self.back,
            self.units,
            self.undo,
            self.reset,
            self.reload,
            self.stop,
        )
        way = self.chance.choice(ways)
        self.did.append(way.__name__)
        way()
        self.check()

    def fields(self):
        return self.window.run(FIELDS)

    def type(self):
        if not (names := self.fields()):
            return
        name, text = self.chance.choice(names), self.chance.choice(TEXTS)
        self.did[-1] += f" {name}={text!r}"
        self.window.run(SET, f'.calc-form [name="{name}"]', text)
        key, value = self.window.run(STANDS, name)
        assert value == text, f"what was typed stands: {value!r}"
        kept = self.window.run(KEPT, key)
        made = self.window.run(MADE, name)
        assert kept == text or (kept is None and text == made), f"and is kept: {kept!r}"

    def slide(self):
        if names := self.fields():
            self.window.run(SLIDE, [self.chance.choice(names), [self.chance.randint(1, 30) for _ in range(5)]])

    def go(self):
        if self.window.run(LINKS):
            self.window.run(GO, self.chance.randrange(99))
        else:
            self.window.open(self.base + self.chance.choice(PAGES))

    def back(self):
        self.window.run("() => { setTimeout(() => history.back()); }")

    def units(self):
        if self.fields():
            self.window.run(PRESS, 'button[data-action="units"]')

    def undo(self):
        if self.fields():
            self.window.run(PRESS, 'button[data-action="undo"]')

    def reset(self):
        if self.fields() and self.chance.random() < 0.3:
            self.window.run(PRESS, 'button[data-action="reset"]')

    def reload(self):
        self.window.reload()

    def stop(self):
        self.window.run(STOP)

    def check(self):
        """Once nothing is on its way: the answer belongs to what stands, or is marked; fields say what is kept."""
        self.window.until(THERE, patience=20)
        if not self.window.run("() => Boolean(document.querySelector('section.calc'))"):
            self.window.open(self.base + self.chance.choice(PAGES))
        self.window.until(STATE)
        assert self.window.until(BELONGS, patience=20)
        self.window.until(f"() => ({SHOWS_STATE})().length === 0", patience=10)
        assert [text for text in self.window.complaints() if "stopped" not in text] == []


@pytest.mark.slow
@pytest.mark.parametrize("seed", SEEDS)
@pytest.mark.parametrize("name", NAMES)
def test_a_reader_who_does_anything(started, address, name, seed):
    engine = started(name)
    if isinstance(engine, Missing):
        pytest.skip(f"{NAMES[name]}: {engine}")
    window = engine.window()
    window.open(address + "licences.html")
    window.run("() => { localStorage.clear(); sessionStorage.clear(); }")
    window.open(address + PAGES[0])
    window.until(STATE)
    reader = Reader(window, address, seed)
    try:
        for _ in range(STEPS):
            reader.act()
    except Exception as fault:
        raise AssertionError(
            f"seed {seed}, after {len(reader.did)} steps: {'; '.join(reader.did[-12:])}: {fault}"
        ) from fault
    finally:
        window.close()
