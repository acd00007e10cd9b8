"""Journeys through the handbook, in Chromium, Firefox and WebKit, served, from the saved copy on disk, and offline
after one visit.

The first line of each description is the journey's name in the table of DEVELOPERS.md; --write-engines writes that
table.
"""

import functools
import json
import sys

import bootstrap
import engines
import pytest
import table
from axe import AXE

import calc

sys.path.append(str(bootstrap.BROWSER / "image"))
import cases

STATE = """() => ["live", "failed"].find((state) => state === document.querySelector("section.calc")?.dataset.state)"""
HEADLINE = """(label) => [...document.querySelectorAll(".calc-main dt")].find((term) => term.textContent === label)
  ?.nextElementSibling.querySelector("output").textContent"""
SHOWS = f"(label, text) => ({HEADLINE})(label) === text"
HAS = """(selector, text = "") => {
  const element = document.querySelector(selector);
  return Boolean(element?.checkVisibility() && element.textContent.includes(text));
}"""
VALUE = """(name) => document.querySelector(`.calc-form [name="${name}"]`).value"""
SET = """(selector, text) => {
  const field = document.querySelector(selector);
  field.value = text;
  for (const kind of ["input", "change"]) field.dispatchEvent(new Event(kind, { bubbles: true }));
}"""
PRESS = "(selector) => document.querySelector(selector).click()"
UNFOLD = "document.querySelectorAll('article details').forEach((fold) => { fold.open = true; })"


def field(name):
    return f'.calc-form [name="{name}"]'


def live(window, address):
    """Open a page and wait until its first calculator answers."""
    window.open(address)
    until_live(window)


def until_live(window):
    assert window.until(STATE) == "live", window.run("() => document.querySelector('.calc-status').textContent")


def edit(window, name, text):
    """A field set and left, as far as the page can tell."""
    window.run(SET, field(name), text)


def shows(window, label, text):
    window.until(SHOWS, label, text)


def press(window, action):
    window.run(PRESS, f'button[data-action="{action}"]')


@pytest.fixture
def window(place):
    """A fresh window, for a journey that goes from page to page."""
    return place.window()


@pytest.fixture
def adjust(place):
    """A window on a live page, everything set back."""
    window = place.at("moisture/adjust.html")
    until_live(window)
    if window.run(HAS, 'button[data-action="units"]', "US units"):
        press(window, "units")
        window.until(HAS, 'button[data-action="units"]', "Metric units")
    press(window, "reset")
    window.until("() => !document.querySelector('[aria-invalid], section.calc:is([data-pending], [data-stale])')")
    shows(window, "Water to add", "32 lb")
    return window


@pytest.fixture
def trays(place):
    """The same, on a page with dates and a table."""
    window = place.at("breeding/trays.html")
    until_live(window)
    return window


def test_edit(adjust):
    """An edit by mouse and keys is answered, in the reader's unit too"""
    assert adjust.run(HEADLINE, "Water to add") == "32 lb"
    for typed, answered in (("100", "80 lb"), ("50 kg", "88.2 lb")):
        adjust.click(field("mass"))
        adjust.press("Control+a")
        adjust.type(typed)
        adjust.press("Tab")
        shows(adjust, "Water to add", answered)


def test_errors(adjust):
    """A wrong field is told when it is left; what was typed and the last answer stay"""
    adjust.click(field("moisture"))
    adjust.press("Control+a")
    adjust.type("355")
    error = '.calc-field[data-input="moisture"] .calc-error'
    adjust.run("() => new Promise((done) => setTimeout(done, 400))")
    assert not adjust.run(HAS, error), "told while typing"
    adjust.press("Tab")
    adjust.until(HAS, error, "Moisture now must be between 0 % and 99 %.")
    assert (
        adjust.run("(name) => document.querySelector(name).getAttribute('aria-invalid')", field("moisture")) == "true"
    )
    assert adjust.run(HEADLINE, "Water to add") == "32 lb"
    edit(adjust, "target", "dry")
    adjust.until(HAS, ".calc-summary", "2 values need another look")
    adjust.run(PRESS, ".calc-summary a")
    assert adjust.run("() => document.activeElement.name") == "moisture"
    assert adjust.run(VALUE, "target") == "dry"
    edit(adjust, "moisture", "50")
    edit(adjust, "target", "75")
    shows(adjust, "Water to add", "40 lb")
    assert not adjust.run(HAS, ".calc-summary")


def test_units(adjust):
    """Units there and back lose nothing"""
    edit(adjust, "mass", "37.5")
    shows(adjust, "Water to add", "30 lb")
    press(adjust, "units")
    shows(adjust, "Water to add", "13.6 kg")
    assert float(adjust.run(VALUE, "mass")) == pytest.approx(37.5 * 0.45359237, rel=1e-6)
    press(adjust, "units")
    shows(adjust, "Water to add", "30 lb")
    assert float(adjust.run(VALUE, "mass")) == pytest.approx(37.5)


def test_keep_and_reset(adjust):
    """An answer is kept beside the next one; reset brings the first one back"""
    press(adjust, "keep")
    adjust.until(HAS, ".calc-compared")
    edit(adjust, "mass", "80")
    adjust.until(HAS, ".calc-compared", "+100 %")
    press(adjust, "unkeep")
    adjust.until("() => !document.querySelector('.calc-compared')")
    press(adjust, "reset")
    shows(adjust, "Water to add", "32 lb")


def test_figure(adjust):
    """Figures are drawn anew with the answer"""
    figures = "() => [...document.querySelectorAll('.calc-answer .calc-figure svg')].map((figure) => figure.outerHTML)"
    before = adjust.run(figures)
    assert before
    edit(adjust, "mass", "200")
    shows(adjust, "Water to add", "160 lb")
    after = adjust.until(
        f"(before) => {{ const now = ({figures})(); return now.length && now[0] !== before ? now : null; }}", before[0]
    )
    assert not any("NaN" in figure or "undefined" in figure for figure in after)


def test_keyboard(adjust):
    """All of it works by keyboard alone"""
    adjust.run("(name) => document.querySelector(name).focus()", field("mass"))
    adjust.press("Control+a")
    adjust.type("90")
    adjust.press("Enter")
    shows(adjust, "Water to add", "72 lb")
    for _ in range(40):
        adjust.press("Tab")
        if adjust.run("() => document.activeElement.dataset?.action") == "reset":
            break
    adjust.press("Enter")
    shows(adjust, "Water to add", "32 lb")


@functools.cache
def by_cpython(id):
    """What the same question is answered here; each engine and way is held against it."""
    return json.loads(json.dumps(calc.run(id, {}, units="metric")))


def test_digits(adjust):
    """Every calculator gives the same twelve digits as CPython"""
    for id in calc.calculators():
        asked = {"calculator": id, "values": {}, "units": "metric", "currency": "$", "raw": True}
        answer = adjust.run("(asked) => handbookPython.ask('answer', asked)", asked)
        ours = by_cpython(id)
        for part in ("inputs", "outputs", "tables", "warnings", "reading"):
            assert answer["raw"][part] == ours[part], f"{id}: {part}"


def test_texts(adjust, request):
    """Every kind of question is answered with CPython's text"""
    entrances = [(name, way) for name in engines.NAMES for way in table.WAYS]
    turn = entrances.index(request.node.callspec.params["entrance"])
    asked = [[call, asked] for call, asked in cases.cases(few=True)][turn :: len(entrances)]  # together they ask all
    found = adjust.run(
        """async (asked) => {
          const found = [];
          for (const [call, args] of asked)
              found.push(await handbookPython.ask(call, args).catch((error) => String(error)));
          return found;
        }""",
        asked,
    )
    for (call, args), answer in zip(asked, found, strict=True):
        ours = cases.answered(call, json.dumps(args))
        assert answer == json.loads(ours) if ours.startswith("{") else ours in answer, f"{call} {args}"


def test_axe(adjust):
    """axe finds nothing on a live page with an error"""
    edit(adjust, "moisture", "355")
    adjust.until(HAS, ".calc-summary")
    adjust.run(f"() => {{ {AXE} }}")
    findings = adjust.run(f"""async () => {{
      {UNFOLD}
      const {{ violations, passes }} = await axe.run(document);
      return {{ looked: passes.length, found: violations.flatMap(({{ id, nodes }}) => nodes.map(({{ html }}) =>
          `${{id}}: ${{html.slice(0, 200)}}`)) }};
    }}""")
    assert findings["looked"] > 20
    assert findings["found"] == []


def test_link(adjust, place):
    """A shared link carries only what was changed, and gives the same answer elsewhere"""
    edit(adjust, "mass", "61")
    shows(adjust, "Water to add", "48.8 lb")
    link = adjust.run("""() => new Promise((done) => {
      Object.defineProperty(navigator, "clipboard", { value: { writeText: async (text) => done(text) } });
      document.querySelector('[data-action="share"]').click();
    })""")
    assert link.partition("#")[2] == "plan?mass=61+lb&units=us"
    other = place.window()
    live(other, link)
    shows(other, "Water to add", "48.8 lb")
    other.until(HAS, ".calc-linked", "weight of the bedding")


def test_explore(trays):
    """Aim, what moves it and how sure it is are answered, with figures"""
    trays.run(f"() => {{ {UNFOLD} }}")
    for name, text in (("output", "worm_mass_per_week"), ("wanted", "20"), ("vary", "trays_per_week")):
        trays.run(SET, f'[data-explore="aim"] [name="{name}"]', text)
    press(trays, "aim")
    trays.until(HAS, '[data-explore="aim"] .calc-found', "7.27")
    for kind in ("moves", "range"):
        press(trays, kind)
        trays.until(
            "(kind) => [...document.querySelectorAll(`[data-explore=${kind}] svg`)].some((figure) =>"
            " figure.checkVisibility())",
            kind,
        )


def test_files(trays):
    """Table and dates leave as files"""
    for action, kind, ending, inside in (
        ("csv", "text/csv", ".csv", "Trays in the rooms"),
        ("calendar", "text/calendar", ".ics", "BEGIN:VEVENT"),
    ):
        name, stated, text = trays.run(
            """(action) => new Promise((done) => {
          let blob;
          const create = URL.createObjectURL, click = HTMLAnchorElement.prototype.click;
          URL.createObjectURL = (given) => create.call(URL, (blob = given));
          HTMLAnchorElement.prototype.click = async function () {
            URL.createObjectURL = create;
            HTMLAnchorElement.prototype.click = click;
            done([this.download, blob.type, await blob.text()]);
          };
          document.querySelector(`[data-action="${action}"]`).click();
        })""",
            action,
        )
        assert name == f"breeding.trays{ending}" and stated.split(";")[0] == kind
        assert inside in text


def test_table(window, place):
    """A table is edited cell by cell"""
    live(window, place.base + "harvest/screen.html")
    before = window.run(HEADLINE, "Fine castings to sell")
    window.run(SET, '.calc-field[data-input="sieves"] .calc-rows tbody td:nth-child(3) input', "500")
    window.until(f"(before) => ({HEADLINE})('Fine castings to sell') !== before", before)


def test_plan(window, place):
    """What was set follows to another page and past a reload"""
    live(window, place.base + "index.html")
    edit(window, "lane_length", "12")
    window.until(HAS, ".calc-reading", "12 ft")
    window.run(PRESS, 'a[href$="lane/feeding.html"]')
    window.until("""() => document.querySelector("section.calc")?.dataset.calculator === "lane.feeding" """)
    until_live(window)
    window.until(f"() => Number(({VALUE})('lane_length')) === 12")
    window.reload()
    until_live(window)
    window.until(f"() => Number(({VALUE})('lane_length')) === 12")


def test_search(window, place):
    """Search finds a term; terms carry their meaning"""
    window.open(place.base + "moisture/adjust.html")
    assert window.until("() => document.querySelector('article a.term')?.title")
    window.click(".md-search__input")
    window.type("cocoon")
    found = window.until(  # after the first letters another list stands there
        """() => {
          const found = [...document.querySelectorAll('.search-found li a')].map((link) => link.href);
          return found.some((address) => address.includes("breeding/")) && found;
        }"""
    )
    assert all(address.startswith(place.base) for address in found)


def test_quiet(window, place):
    """Nothing outside is asked for, and the console has nothing to tell"""
    for name in ("index.html", "economics/cash.html", "feed/recipe.html", "method/facts.html", "glossary.html"):
        window.open(place.base + name)
        if window.run("() => Boolean(document.querySelector('section.calc'))"):
            until_live(window)
            window.until("() => Boolean(globalThis.handbookFigures)")  # the last that a page loads
        asked = window.run("() => performance.getEntriesByType('resource').map(({ name }) => name)")
        assert [address for address in asked if not address.startswith((place.base, "blob:", "data:"))] == []
        assert window.complaints() == [], name


def test_without_script(place):
    """With scripts switched off the prepared answers are there"""
    if place.visitor:
        pytest.skip("a browser keeps a copy only by a script; a reader without scripts takes the saved copy")
    window = place.window(script=False)
    window.open(place.base + "moisture/adjust.html")
    found = window.run(
        """() => [document.querySelector("section.calc").dataset.state,
        document.querySelector(".calc-main").checkVisibility(),
      document.querySelector(".calc-main output").textContent, Boolean(document.querySelector(".calc-figure svg"))]"""
    )
    assert found == ["prepared", True, "32 lb", True]


@pytest.mark.parametrize("way_in", [(name, way) for name in engines.NAMES for way in table.WAYS], ids="-".join)
def test_developers_page_agrees(pytestconfig, way_in):
    """The table in DEVELOPERS.md says what this run found.

    Runs last of each engine and way; with --write-engines the table is written instead.
    """
    if not pytestconfig.getoption("write_engines"):
        assert list(table.record(pytestconfig).differences()) == []
