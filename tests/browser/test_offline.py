"""The copy that a browser keeps: one visit, then no server; newer handbooks that come whole or not at all; copies that
have lost a part.
"""

import json
import re

import bootstrap
import offline
import pytest
from engines import NAMES
from engines.by_playwright import PlaywrightWindow
from hosting import ON, TOLD, WAITS_CAN_END, Host, another_edition, version_of

STATE = """() => ["live", "failed"].find((state) => state === document.querySelector("section.calc")?.dataset.state)"""
THERE = "(address) => document.readyState === 'complete' && location.href === address"
SHOWS = """(text) => document.querySelector(".calc-main output")?.textContent === text"""
HAS = """(selector, text) => [...document.querySelectorAll(selector)].some((element) =>
    element.checkVisibility() && element.textContent.includes(text))"""
VALUE = """(name) => document.querySelector(`.calc-form [name="${name}"]`).value"""
SET = """(name, text) => {
  const field = document.querySelector(`.calc-form [name="${name}"]`);
  field.value = text;
  field.dispatchEvent(new Event("change", { bubbles: true }));
}"""
PRESS = """(words) => [...document.querySelectorAll("button")].find((button) => button.textContent === words &&
    button.checkVisibility()).click()"""
KEEP = "() => localStorage.setItem('handbook-keep', 'yes')"
UPDATE = (
    "() => navigator.serviceWorker.getRegistration().then((registration) => registration.update()).then(() => 1, ()"
    " => 1)"
)
INSTALLED = """() => navigator.serviceWorker.getRegistration().then(({ installing, waiting }) =>
    Boolean(!installing && waiting))"""
GIVEN_UP = (
    """() => navigator.serviceWorker.getRegistration().then(({ installing, waiting }) => !installing && !waiting)"""
)
CACHE = "const cache = await caches.open((await caches.keys()).find((name) => name.includes('precache')));"
LOSE = f"""async (part) => {{
  {CACHE}
  const lost = (await cache.keys()).filter(({{ url }}) => url.includes(part));
  for (const request of lost) await cache.delete(request);
  return lost.length;
}}"""
SPOIL = f"""async (part) => {{
  {CACHE}
  const spoilt = (await cache.keys()).filter(({{ url }}) => url.includes(part));
  for (const request of spoilt) {{
    const {{ headers }} = await cache.match(request);
    const type = {{ "Content-Type": headers.get("Content-Type") }};
    await cache.put(request, new Response("not what was kept", {{ headers: type }}));
  }}
  return spoilt.length;
}}"""
SOUND = f"""async (part) => {{
  {CACHE}
  for (const request of await cache.keys())
    if (request.url.includes(part)) return (await (await cache.match(request)).text()) !== "not what was kept";
  return false;
}}"""
SOUGHT = """(word) => {
  const field = document.querySelector("[data-md-component=search-query]");
  if (field.value !== word || document.activeElement !== field) {
    field.focus();
    field.value = word;
  }
  field.dispatchEvent(new Event("keyup")); // again and again: the theme's script may still be on its way
  return document.querySelectorAll(".search-found li").length > 2;
}"""
KEPT = f"async (number) => {{ {CACHE} return (await cache.keys()).length === number; }}"
PAGE = "moisture/adjust.html"
LONG = 120  # s


@pytest.fixture
def host(site):
    host = Host(site)
    yield host
    host.stop()


QUIET = re.search(r"QUIET = (\d+)", (bootstrap.BROWSER / "offline" / "start.js").read_text(encoding="utf-8"))[1]
AT_ONCE = f"""{{
  const wait = setTimeout;
  globalThis.setTimeout = (act, time, ...more) => wait(act, time === {QUIET} ? 50 : time, ...more);
}}"""
"""The copy is begun soon after the first answer, and no test sits through the quiet that a reader's page has first."""


@pytest.fixture
def quiet_window(browser):
    """As a reader has it: between the first answer and the copy there is time."""
    window = PlaywrightWindow(browser.new_context(viewport={"width": 1000, "height": 900}))
    yield window
    window.close()


@pytest.fixture
def window(quiet_window):
    quiet_window.context.add_init_script(AT_ONCE)
    return quiet_window


@pytest.fixture(scope="module")
def newer(site, tmp_path_factory):
    return another_edition(site, tmp_path_factory.mktemp("newer") / "site", "abcdef12")


def test_the_newer_edition_has_every_part_that_it_names(newer):
    """What starts Python named the library of the one before: a page without a calculator could not start it."""
    runtime = newer / "assets" / "runtime"
    scripts = [path for path in runtime.glob("*.js") if ".disk." not in path.name]
    texts = [path.read_text(encoding="utf-8") for path in [*newer.rglob("*.html"), *scripts]]
    named = {name for text in texts for name in re.findall(r"\b(?:library|start|worker|page)\.[0-9a-f]{12}\.\w+", text)}
    assert {name.split(".")[0] for name in named} == {"library", "start", "worker", "page"}
    assert named <= {path.name for path in runtime.iterdir()}


def live(window, address):
    window.open(address)
    window.until(THERE, address, patience=LONG)  # an engine may answer for the page before
    assert window.until(STATE, patience=LONG) == "live"


def edit(window, name, text, answer):
    window.until(HAS, f'.calc-field[data-input="{name}"]', "")
    window.run(SET, name, text)
    window.until(SHOWS, answer)


def visited(window, host, page=PAGE):
    """One visit, as long as it takes until the copy is kept."""
    window.open(host.base + "licences.html")
    window.run(KEEP)
    live(window, host.base + page)
    window.until(TOLD, "ready", patience=LONG)


def fetched(window, host, newer):
    """A newer handbook lies beside the old one and waits."""
    host.folder = newer
    window.run(UPDATE)
    window.until(INSTALLED, patience=LONG)


def all_closed(window, host, version):
    """Every page is closed and one opened again, until it is of this version: a browser lets go of the older handbook a
    moment after its last page.
    """
    for moment in (0, 500, 1000, 2000, 4000, 8000):
        window.open("about:blank")
        window.run("(moment) => new Promise((done) => setTimeout(done, moment))", moment)
        live(window, host.base + PAGE)
        if window.run(ON, version):
            return
    raise AssertionError(f"still not {version}")


def whole(window, host, version):
    """Pages of this version open and calculate, also pages that were never visited."""
    for page in ("lane/feeding.html", "harvest/screen.html"):
        live(window, host.base + page)
        window.until(ON, version)
    live(window, host.base + PAGE)
    window.until(ON, version)
    edit(window, "mass", "100", "80 lb")


# ---- one visit, then no network


@pytest.mark.slow
@pytest.mark.parametrize("name", NAMES)
def test_after_one_visit_it_works_without_a_server(name, started, host, site):
    engine = started(name)
    window = engine.window()
    window.open(host.base + "licences.html")
    if not window.run("() => 'serviceWorker' in navigator"):
        window.close()
        pytest.skip(f"{NAMES[name]} {engine.version} as it is here has no service workers")
    visited(window, host)
    host.stop()
    window.reload()
    assert window.until(STATE, patience=LONG) == "live"
    edit(window, "mass", "100", "80 lb")
    whole(window, host, version_of(site))
    live(window, host.base)
    live(window, host.base + "breeding/trays.html?from=a-stall#figures")
    live(window, host.base + "lane/starter")
    window.until(SOUGHT, "cocoon", patience=LONG)
    window.close()


@pytest.mark.slow
def test_it_works_from_any_folder_of_a_host(window, site):
    host = Host(site, under="deep/handbook/")
    visited(window, host)
    host.stop()
    whole(window, host, version_of(site))
    window.open(host.base + "lane/none.html")
    window.until(HAS, "article", "You asked for lane/none.html")
    assert window.run("() => getComputedStyle(document.body).fontFamily").startswith('"Lane Gothic"')


@pytest.mark.slow
def test_nothing_large_is_fetched_twice_and_nothing_before_the_first_answer(quiet_window, host):
    window = quiet_window
    window.open(host.base + "licences.html")
    window.run(KEEP)
    host.asked.clear()
    live(window, host.base + PAGE)
    assert "sw.js" not in host.asked and "manifest.webmanifest" not in host.asked
    window.until(TOLD, "ready", patience=LONG)
    for ending in (".wasm", ".bin", "/worker.", "/figures."):
        assert sum(ending in path for path in host.sent) <= 1, ending
    assert not [path for path in host.asked if ".disk." in path or "handbook-copy" in path or path.endswith(".map")]


@pytest.mark.slow
def test_a_page_that_is_not_kept_is_told_with_its_name_and_can_be_tried_again(window, host):
    visited(window, host)
    host.stop()
    window.open(host.base + "lane/none.html")
    window.until(HAS, "article", "You asked for lane/none.html")
    assert window.run("() => document.querySelector('[data-missing] a').href") == host.base + "lane/none.html"
    window.open(host.base + "missing.html?page=https://elsewhere.example/")
    window.until(HAS, "h1", "This page is not here")
    assert not window.run("() => Boolean(document.querySelector('[data-missing] a'))")


# ---- a newer handbook


@pytest.mark.slow
def test_a_newer_handbook_waits_until_the_reader_goes_over_and_what_was_typed_comes_along(window, host, site, newer):
    visited(window, host)
    edit(window, "mass", "61", "48.8 lb")
    fetched(window, host, newer)
    window.reload()  # the old one is still in use, and clears nothing of what waits
    assert window.until(STATE, patience=LONG) == "live"
    window.until(TOLD, "ready", patience=LONG)
    window.until(HAS, ".copy-newer", "A newer handbook is here, of 2 May 2031")
    assert window.run(ON, version_of(site))
    window.click('.calc-form [name="target"]')
    window.press("Control+a")
    window.type("half dry")  # in the middle of typing, and not readable as it stands
    window.run(PRESS, "Go over to it")
    window.until(ON, "abcdef12", patience=LONG)
    assert window.until(STATE, patience=LONG) == "live"
    window.until("() => document.querySelector('.calc-form [name=target]').value === 'half dry'")
    assert window.run(VALUE, "mass").split()[0] == "61"
    window.until(HAS, ".calc-summary", "another look")
    window.run(SET, "target", "75")  # what could not be read was kept as it stood, until it is mended
    host.stop()
    whole(window, host, "abcdef12")
    window.until(KEPT, len(offline.kept(newer)))  # nothing of the old one is left lying


@pytest.mark.slow
def test_a_newer_handbook_is_taken_up_when_all_pages_were_closed(window, host, newer):
    visited(window, host)
    fetched(window, host, newer)
    host.stop()
    all_closed(window, host, "abcdef12")
    whole(window, host, "abcdef12")


@pytest.mark.slow
@pytest.mark.parametrize("fault", ["breaks off", "sign-in page", "one damaged file"])
def test_an_update_that_goes_wrong_leaves_the_old_handbook_whole_and_the_next_one_completes(
    window, host, site, newer, fault
):
    visited(window, host)
    window.click('.calc-form [name="mass"]')
    window.press("Control+a")
    window.type("73")
    host.folder = newer
    if fault == "breaks off":
        host.left = 20
    elif fault == "sign-in page":
        worker = (newer / "sw.js").read_bytes()
        host.lies = {"*": b"<!doctype html><title>Sign in</title><p>Sign in to use this network.", "sw.js": worker}
    else:
        host.lies = {"records/chart.html": (newer / "records" / "chart.html").read_bytes()[:-2000]}
    window.run(UPDATE)
    window.until(GIVEN_UP, patience=LONG)
    assert window.run(VALUE, "mass") == "73", "what is being typed stays"
    if fault == "breaks off":
        assert host.left < 0
    whole(window, host, version_of(site))
    host.stop()
    whole(window, host, version_of(site))
    host.left, host.lies = None, {}
    host.start()
    fetched(window, host, newer)
    host.stop()
    all_closed(window, host, "abcdef12")
    whole(window, host, "abcdef12")


@pytest.mark.slow
def test_of_two_pages_one_goes_over_and_the_other_stays_as_it_is(window, host, site, newer):
    visited(window, host)
    other = PlaywrightWindow(window.context)
    live(other, host.base + "feed/recipe.html")
    live(other, host.base + "moisture/test.html")
    other.until(TOLD, "ready", patience=LONG)
    typed = other.run(
        "() => { const field = document.querySelector('.calc-form input[name]'); field.value = '1234'; return"
        " field.name; }"
    )
    fetched(window, host, newer)
    window.until(HAS, ".copy-newer", "newer")
    window.run(PRESS, "Go over to it")
    window.until(ON, "abcdef12", patience=2 * LONG)  # a browser may let the other page's work come to its end first
    other.until(HAS, ".copy-newer", "in use on another page")
    assert other.run(ON, version_of(site)) and other.run(VALUE, typed) == "1234"
    host.stop()
    # the old page can still start Python anew from its old files
    other.run("() => globalThis.handbookPython.stop()")
    other.run("() => globalThis.handbookPython.start().then(() => 1)")
    # and what it opens next is the newer handbook as a whole
    other.run("() => document.querySelector('a[href$=\"adjust.html\"]').click()")
    other.until(ON, "abcdef12", patience=LONG)
    assert other.until(STATE, patience=LONG) == "live"


# ---- a copy that has lost a part


@pytest.mark.slow
def test_a_page_lost_from_the_copy_comes_from_the_network_and_is_kept_again(window, host, site):
    visited(window, host)
    assert window.run(LOSE, "lane/feeding.html") == 1
    live(window, host.base + "lane/feeding.html")
    host.stop()
    whole(window, host, version_of(site))


@pytest.mark.slow
def test_what_is_lost_is_told_without_a_network_and_mended_with_one(window, host, site):
    visited(window, host)
    assert window.run(LOSE, "/lane/") > 3
    assert window.run(LOSE, "figures.") == 1
    host.stop()
    window.open(host.base + "lane/feeding.html")
    window.until(HAS, "article", "You asked for lane/feeding.html")
    live(window, host.base + PAGE)
    edit(window, "mass", "100", "80 lb")
    window.until(TOLD, "lost", patience=LONG)
    assert window.run(HAS, "footer", "Parts of the copy in this browser are missing.")
    host.start()
    live(window, host.base + PAGE)
    window.until(TOLD, "ready", patience=LONG)
    host.stop()
    whole(window, host, version_of(site))


@pytest.mark.slow
@pytest.mark.parametrize("part", ["library.", ".wasm", "worker.", "page.", "handbook.", "moisture/adjust.html"])
def test_a_damaged_file_is_fetched_again(window, host, part):
    visited(window, host)
    assert window.run(SPOIL, part) >= 1
    live(window, host.base + PAGE)
    edit(window, "mass", "100", "80 lb")
    window.until(SOUND, part)


@pytest.mark.slow
def test_a_damaged_file_without_a_network_is_told_and_the_prepared_answer_stays(window, host):
    visited(window, host)
    assert window.run(SPOIL, "library.") == 1
    host.stop()
    window.open(host.base + PAGE)
    assert window.until(STATE, patience=LONG) == "failed"
    assert window.run(HAS, ".calc-status", "damaged, and there is no network")
    assert window.run(SHOWS, "32 lb")


# ---- no copy: refused, not wanted, not yet


@pytest.mark.parametrize(
    "refusal",
    [
        "delete Navigator.prototype.serviceWorker",
        (
            "navigator.serviceWorker.register = navigator.serviceWorker.getRegistration = () => Promise.reject(new"
            " DOMException('refused', 'SecurityError'))"
        ),
        "navigator.serviceWorker.register = () => Promise.reject(new DOMException('refused', 'SecurityError'))",
    ],
)
def test_a_browser_that_refuses_is_told_in_one_line_and_nothing_fails(window, host, refusal):
    window.context.add_init_script(refusal + "; try { localStorage.setItem('handbook-keep', 'yes') } catch {}")
    live(window, host.base + PAGE)
    window.until(TOLD, "refused", patience=LONG)
    assert window.run(HAS, "footer", "Not kept in this browser.")
    edit(window, "mass", "100", "80 lb")
    assert window.complaints() == []


def test_it_is_kept_only_when_asked_for_on_the_machine_of_whoever_works_on_it(window, host):
    live(window, host.base + PAGE)
    window.until(TOLD, "offered", patience=LONG)
    assert "sw.js" not in host.asked


@pytest.mark.slow
@pytest.mark.parametrize(
    ("page", "saves_data", "kept"), [(PAGE, False, True), (PAGE, True, False), ("glossary.html", False, False)]
)
def test_anywhere_else_it_is_kept_once_a_calculator_has_answered_unless_the_device_saves_data(
    window, host, page, saves_data, kept
):
    if saves_data:
        window.context.add_init_script("Object.defineProperty(navigator, 'connection', { value: { saveData: true } })")
    window.context.add_init_script(WAITS_CAN_END)
    window.open(host.base.replace("127.0.0.1", "handbook.localhost") + page)
    if saves_data:
        window.until("endWaits")  # for an answer: Python does not start by itself
    window.until(TOLD, "ready" if kept else "offered", patience=LONG)
    assert ("sw.js" in host.asked) == kept


@pytest.mark.slow
def test_the_reader_keeps_it_and_takes_it_out_by_buttons(window, host):
    window.open(host.base + "method/copy.html")
    window.until(TOLD, "offered", patience=LONG)
    window.run(PRESS, "Keep it in this browser")
    window.until(TOLD, "ready", patience=LONG)
    window.until(HAS, "[data-copy-state]", "A private window forgets it when it is closed.")
    window.run(PRESS, "Take it out of this browser")
    window.until(TOLD, "offered", patience=LONG)
    assert window.run("() => caches.keys()") == []
    window.open(host.base + PAGE)
    assert window.until(STATE, patience=LONG) == "live"
    window.until(TOLD, "offered", patience=LONG)
    assert not window.run("() => navigator.serviceWorker.getRegistration().then(Boolean)")


@pytest.mark.slow
def test_a_first_visit_that_breaks_off_is_told_and_the_next_one_completes(quiet_window, host, site):
    window = quiet_window
    window.open(host.base + "licences.html")
    window.run(KEEP)
    live(window, host.base + PAGE)
    host.left = 10
    window.until(TOLD, "broken", patience=LONG)
    host.left = None
    live(window, host.base + PAGE)
    window.until(TOLD, "ready", patience=LONG)
    host.stop()
    whole(window, host, version_of(site))


def test_from_disk_nothing_is_tried_and_nothing_fails(window, site):
    live(window, (site / PAGE).as_uri())
    window.run("() => new Promise((done) => setTimeout(done, 4000))")
    assert window.complaints() == []
    assert not window.run("() => Boolean(document.querySelector('link[rel=manifest]'))")


def test_the_browser_finds_nothing_to_say_against_installing_it(window, host):
    window.open(host.base + "licences.html")
    window.run(KEEP)
    window.open(host.base + "method/copy.html")
    window.until(TOLD, "ready", patience=LONG)
    tools = window.context.new_cdp_session(window.page)
    found = tools.send("Page.getAppManifest")
    assert found["errors"] == [] and json.loads(found["data"])["name"] == "The Lane Handbook"
    faults = [fault["errorId"] for fault in tools.send("Page.getInstallabilityErrors")["installabilityErrors"]]
    assert [fault for fault in faults if fault != "in-incognito"] == []  # the test's own window is a private one
