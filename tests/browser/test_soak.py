"""A reader who does what comes into their head, by a seed: after each step nothing is lost and nothing false is shown.

HANDBOOK_SEEDS=20 HANDBOOK_STEPS=2000 for the whole of it; HANDBOOK_SEED=7 for one. A failure names seed and steps.
"""

import contextlib
import os
import random
import re

import pytest
from engines import NAMES
from hosting import ON, Host, another_edition, visit
from test_engines import PRESS, SET, STATE, field
from test_never_lost import SHOWN_BELONGS

ONE = os.environ.get("HANDBOOK_SEED")
SEEDS = [int(ONE)] if ONE else range(int(os.environ.get("HANDBOOK_SEEDS", "1")))
STEPS = int(os.environ.get("HANDBOOK_STEPS", "25"))
STARTED = 150  # s; a start of Python that never comes to its end is given up after 60 s, and made once more
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
  .filter(({ href, pathname }) => !/print|licences/.test(href) && pathname !== location.pathname)
  .filter((link) => link.checkVisibility())"""
LINKS = f"() => {LINKED}.length"
GO = f"(place) => {{ const links = {LINKED}; setTimeout(() => links[place % links.length].click()); }}"
CAN_GO_BACK = "() => globalThis.navigation?.canGoBack ?? history.length > 1"
LEAVING = """() => {
  globalThis.beingLeft = true;
  return location.href.split("#")[0];
}"""
LEFT = "(before) => !globalThis.beingLeft || location.href.split('#')[0] !== before"
STOP = """() => {
  handbookPython.stop();
  document.querySelector(".calc-form [data-plan]")?.dispatchEvent(new Event("change", { bubbles: true }));
}"""
MADE = """(name) => document.querySelector(`.calc-form [name="${name}"]`).defaultValue"""
THERE = """() => {
  if (document.readyState !== "complete") return "";
  if (!location.href.startsWith("http")) return "outside";
  return typeof handbookState === "object" && "inside";
}"""
"""Whoever goes back often enough leaves the handbook."""
BELONGS = f"""async () => {{
  const found = await ({SHOWN_BELONGS})();
  const wrong = found === "marked" && document.querySelector(".calc-form [aria-invalid=true]");
  return found === "belongs" || wrong ? found : null;
}}"""
"""An answer stays marked as the earlier one only where something is wrong with a field, and that is told."""
SLIDE = """([name, numbers]) => {
  const field = document.querySelector(`.calc-form [name="${name}"]`);
  for (const number of numbers) {
    field.value = String(number);
    field.dispatchEvent(new Event("input", { bubbles: true }));
  }
  field.dispatchEvent(new Event("change", { bubbles: true }));
}"""


SET_IN_PLAN = "() => Object.keys(handbookState.snapshot().values).sort()"
LISTED = "() => [...document.querySelectorAll('[data-remove]')].map(({ dataset }) => dataset.remove).sort()"
PLAN_LISTS = f"() => JSON.stringify(({LISTED})()) === JSON.stringify(({SET_IN_PLAN})())"
LINK = "moisture/adjust.html#plan?mass=61.5+lb&target=77+%25&units=us"
CONTROLLED = "() => Boolean(navigator.serviceWorker?.controller)"
UPDATED = """() => navigator.serviceWorker.getRegistration().then((found) => found.update())
  .then(() => true, () => true)"""
EXPECTED_OFFLINE = re.compile(r"(?i)NetworkError|Failed to fetch|load failed|not loaded|ERR_|sw\.js|Service-?Worker")
"""What a browser says by itself of a network that is gone."""


class Reader:
    """Does one thing after the other and remembers what was typed."""

    def __init__(self, window, base, seed):
        self.window, self.base, self.chance = window, base, random.Random(seed)
        self.did = []
        self.other = window.beside()
        if self.other:
            self.other.open(base + "lane/feeding.html")
            self.other.until(STATE)
        self.ways = [
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
            self.plan,
            self.link,
            *([self.in_other_tab] if self.other else []),
        ]

    def act(self):
        way = self.chance.choice(self.ways)
        self.did.append(way.__name__)
        way()
        self.check()

    def in_other_tab(self):
        """What is typed there stands here as well, and the other way round."""
        self.other.run(SET, field("lane_length"), self.chance.choice(TEXTS))

    def plan(self):
        """The page of the plan lists what is kept, each thing once; something is taken out, or taken back."""
        self.window.open(self.base + "plan.html")
        self.window.until("() => document.querySelector('section.plan')?.dataset.state === 'live'", patience=STARTED)
        self.window.until(PLAN_LISTS)
        if self.chance.random() < 0.5 and self.window.run(LISTED):
            self.window.run(PRESS, "[data-remove]")
        elif self.chance.random() < 0.5:
            self.window.run(PRESS, 'section.plan [data-action="undo"]')
        self.window.until(PLAN_LISTS)

    def link(self):
        """A link of somebody else's shows its values and changes nothing of the reader's."""
        self.window.open(self.base + "glossary.html")
        before = self.window.run(SET_IN_PLAN)
        self.window.open(self.base + LINK)
        self.window.until("() => document.querySelector('.calc-linked')?.checkVisibility()")
        assert self.window.run(SET_IN_PLAN) == before
        self.window.run(PRESS, '.calc-linked [data-action="own"]')
        self.window.until("() => !document.querySelector('.calc-linked')")
        assert self.window.run(SET_IN_PLAN) == before

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
            self.leave(GO, self.chance.randrange(99), patience=60)
        else:
            self.window.open(self.base + self.chance.choice(PAGES))

    def back(self):
        if self.window.run(CAN_GO_BACK):
            self.leave("() => { setTimeout(() => history.back()); }", patience=20)

    def leave(self, source, *arguments, patience):
        """Once the page has begun to go; there may be nothing to go back to."""
        before = self.window.until(LEAVING)
        self.window.run(source, *arguments)
        with contextlib.suppress(AssertionError):
            self.window.until(LEFT, before, patience=patience)

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
        if self.window.until(THERE) == "outside":
            self.window.open(self.base + self.chance.choice(PAGES))
        if not self.window.run("() => Boolean(document.querySelector('section.calc'))"):
            self.window.open(self.base + self.chance.choice(PAGES))
        self.window.until(STATE, patience=STARTED)
        assert self.window.until(BELONGS)
        self.window.until(f"() => ({SHOWS_STATE})().length === 0")
        if self.other:
            self.other.until(f"() => ({SHOWS_STATE})().length === 0")
            assert self.other.until(BELONGS), "the other tab follows"
        assert self.complaints() == []

    def complaints(self):
        said = [*self.window.complaints(), *(self.other.complaints() if self.other else [])]
        return [text for text in said if "stopped" not in text]

    def close(self):
        for window in (self.other, self.window):
            if window:
                window.close()


class ReaderWithACopy(Reader):
    """The same, with a kept copy: the network goes, comes back and is slow; one newer handbook comes."""

    def __init__(self, window, host, newer, seed):
        super().__init__(window, host.base, seed)
        self.host, self.newer = host, newer
        self.ways += [self.network, self.network, self.slow, self.update]

    def network(self):
        if self.host.server:
            self.host.stop()
        else:
            self.host.start()
        self.did[-1] += " on" if self.host.server else " off"

    def slow(self):
        self.host.slow = 0 if self.host.slow else 0.1

    def update(self):
        """A newer handbook is fetched beside the old one; the reader goes over as soon as it is offered."""
        if not self.host.server or self.host.folder == self.newer:
            return
        before = self.window.run(SET_IN_PLAN)
        self.host.slow, self.host.folder = 0, self.newer
        self.window.run(UPDATED)
        self.window.until("() => Boolean(document.querySelector('.copy-newer button'))", patience=120)
        self.window.run("() => { setTimeout(() => document.querySelector('.copy-newer button').click()); }")
        self.window.until(ON, "abcdef12", patience=60)
        self.window.until("() => document.readyState === 'complete' && typeof handbookState === 'object'")
        assert self.window.run(SET_IN_PLAN) == before
        if self.other:
            self.other.reload()
            self.other.until(ON, "abcdef12", patience=60)

    def complaints(self):
        return [text for text in super().complaints() if not EXPECTED_OFFLINE.search(text)]


def walk(reader, seed, steps):
    """All steps, or the seed and the last steps before the one that went wrong."""
    try:
        for _ in range(steps):
            reader.act()
    except Exception as fault:
        raise AssertionError(
            f"seed {seed}, after {len(reader.did)} steps: {'; '.join(reader.did[-12:])}: {fault}"
        ) from fault
    finally:
        reader.close()


@pytest.mark.slow
@pytest.mark.parametrize("seed", SEEDS)
@pytest.mark.parametrize("name", NAMES)
def test_a_reader_who_does_anything(started, address, name, seed):
    engine = started(name)
    window = engine.window()
    window.open(address + "licences.html")
    window.run("() => { localStorage.clear(); sessionStorage.clear(); }")
    window.open(address + PAGES[0])
    window.until(STATE)
    walk(Reader(window, address, seed), seed, STEPS)


@pytest.fixture(scope="module")
def newer(site, tmp_path_factory):
    return another_edition(site, tmp_path_factory.mktemp("newer") / "site", "abcdef12")


@pytest.mark.slow
@pytest.mark.parametrize("seed", SEEDS)
@pytest.mark.parametrize("name", NAMES if ONE or len(SEEDS) > 1 else ["chromium"])
def test_a_reader_with_a_copy_whose_network_comes_and_goes(started, site, newer, name, seed):
    """One engine in a usual run; with seeds asked for, all of them."""
    engine = started(name)
    host = Host(site)
    try:
        window = visit(engine, host.base)
        window.until(CONTROLLED)
        walk(ReaderWithACopy(window, host, newer, seed), seed, STEPS)
    finally:
        host.stop()
