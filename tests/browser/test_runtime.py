"""The runtime that the build makes, and what the page does when it cannot run."""

import json
import os
import re
import shutil
import subprocess
import sys
import zipfile

import bootstrap
import pytest
from hosting import WAITS_CAN_END

import calc

sys.path.insert(0, str(bootstrap.BROWSER / "bench"))
from server import Line, Server

LIVE = 'section.calc[data-state="live"]'
FAILED = 'section.calc[data-state="failed"]'
PATIENCE = 30_000
PAGE = "moisture/adjust.html"
CACHE = bootstrap.ROOT / ".cache"
KEY = 16 * "?"
THEME_IS_UP = ".search-found ol[hidden]"


def make_runtime(node, out, *more):
    command = [node, bootstrap.BROWSER / "build.mjs", "--calc", bootstrap.ROOT / "calc", "--out", out, *more]
    done = subprocess.run(command, check=True, capture_output=True, text=True)
    return json.loads(done.stdout.splitlines()[-1])


@pytest.fixture(scope="module")
def runtime(site):
    return site / "assets" / "runtime"


@pytest.fixture(scope="module")
def library(node, tmp_path_factory):
    """The bytecode that an image is made of, as the ordinary loader gets it."""
    out = tmp_path_factory.mktemp("ordinary")
    make_runtime(node, out, "--ordinary", "--kept", CACHE)
    with zipfile.ZipFile(next((out / "assets" / "runtime").glob("library.*.zip"))) as archive:
        yield archive


@pytest.fixture
def page(browser):
    context = browser.new_context()
    page = context.new_page()
    page.problems = []
    page.on("pageerror", lambda error: page.problems.append(str(error)))
    yield page
    context.close()


# ---- what is made


def contents(folder):
    return {path.name: path.read_bytes() for path in folder.iterdir()}


@pytest.mark.slow
def test_two_builds_are_the_same_to_the_byte(node, site, runtime, tmp_path):
    """One anew, one that makes its library anew, one with all that is kept. The site of this run is the first of them,
    unless an earlier run had left something for it.
    """
    first = runtime
    if os.environ["HANDBOOK_KEPT"]:
        make_runtime(node, tmp_path / "anew")
        first = tmp_path / "anew" / "assets" / "runtime"
    kept = tmp_path / "kept"
    kept.mkdir()
    (kept / "library-of-older-sources.zip").write_text("left by a build of other sources")
    for kind in ("modules", "image", "machine"):  # left by the build of the site
        for made in CACHE.glob(f"{kind}-{KEY}"):
            shutil.copy(made, kept)
    told = []
    for folder in (tmp_path / "that keeps its library", tmp_path / "with a kept library"):
        told.append(make_runtime(node, folder, "--kept", kept))
        assert contents(folder / "assets" / "runtime") == contents(first)
        assert len(list(kept.iterdir())) == 4  # library, modules, image and machine code; the older one is gone
    assert told[0] == told[1] and len(contents(first)) == 13


def test_library_is_stored_bytecode_that_is_never_checked(library):
    for item in library.infolist():
        assert item.compress_type == zipfile.ZIP_STORED
        assert item.date_time == (1980, 1, 1, 0, 0, 0)
        assert item.filename.endswith(".pyc")
        assert library.read(item)[4:8] == b"\1\0\0\0", (
            f"{item.filename} would be checked against a source at each import"
        )


def test_library_has_all_of_calc_and_little_else(library):
    ours = {path.relative_to(bootstrap.ROOT).as_posix() + "c" for path in (bootstrap.ROOT / "calc").rglob("*.py")}
    inside = set(library.namelist())
    only_for_the_build = {name for name in ours - inside if not name.startswith("calc/drawings/")}
    assert only_for_the_build == {
        "calc/__main__.pyc",
        "calc/page/drawings.pyc",
        "calc/page/equations.pyc",
        "calc/page/hatch.pyc",  # the patterns stand in the page before any answer is drawn
        "calc/page/lists.pyc",
        "calc/page/materials.pyc",
    }
    assert len(inside - ours) < 110, "more of the standard library is imported than there was: is it needed?"
    assert not any(
        name.startswith(("asyncio/tasks", "ssl", "subprocess", "unittest", "email", "http")) for name in inside
    )


def test_disk_files_hold_the_same_bytes(runtime):
    import base64
    import gzip

    def unpacked(pattern):
        text = next(runtime.glob(pattern)).read_text()
        return gzip.decompress(base64.b64decode(re.search(r'="([^"]+)"', text)[1]))

    assert unpacked("pyodide.asm.wasm.disk.*.js") == next(runtime.glob("python.*.wasm")).read_bytes()
    assert unpacked("python_stdlib.zip.disk.*.js") == next(runtime.glob("library.*.bin")).read_bytes()
    assert unpacked("worker.disk.*.js").endswith(
        next(path for path in runtime.glob("worker.*.js") if ".disk." not in path.name).read_bytes()
    )


def test_nothing_in_the_worker_names_another_origin(runtime):
    worker = next(path for path in runtime.glob("worker.*.js") if ".disk." not in path.name).read_text()
    asked = {
        address
        for address in re.findall(r"https?://[^\s\"'`)\\]+", worker)
        if not re.match(r"https?://(www\.)?(w3\.org|gnu\.org|github\.com)", address)
    }
    assert not any("cdn" in address for address in asked), asked


def test_weight_to_the_first_answer(runtime):
    import gzip

    needed = [
        next(path for path in runtime.glob(pattern) if ".disk." not in path.name)
        for pattern in ("python.*.wasm", "library.*.bin", "worker.*.js", "page.*.js")
    ]
    weight = sum(len(gzip.compress(path.read_bytes(), 9)) for path in needed)
    assert weight < 4.3e6, f"{weight / 1e6:.2f} MB of gzip before the first live answer"


# ---- what it does in a browser

CALLS = """async ([worker, calls]) => {
  const python = new Worker(worker);
  let hear, fail;
  python.addEventListener("message", ({ data }) => data.arrived || hear(data)); // a slow line tells how far it is
  python.addEventListener("error", ({ message }) => fail(new Error(message)));
  const next = () => new Promise((resolve, reject) => { [hear, fail] = [resolve, reject]; });
  python.postMessage({ start: true });
  const found = [await next()];
  for (const [call, args] of calls) {
    const answer = next();
    python.postMessage({ id: found.length, call, args });
    found.push(await answer);
  }
  python.terminate();
  return found;
}"""


def in_worker(page, address, runtime, calls):
    """Answers of a fresh worker to calls of calc.page.respond, without the page's own script."""
    worker = next(path.name for path in runtime.glob("start.*.js"))
    page.goto(address + PAGE)
    ready, *answers = page.evaluate(
        CALLS, [f"{address}assets/runtime/{worker}", [[call, json.dumps(args)] for call, args in calls]]
    )
    assert ready == {"ready": True}
    return answers


def test_every_call_of_every_calculator_finds_its_modules(page, address, runtime):
    """An import that the cut library lacks would end in an error here."""
    calls = []
    for id in calc.calculators():
        found = calc.describe(id)
        same = {"calculator": id, "values": {}, "units": "metric", "currency": "€"}
        calls += [(call, same) for call in ("answer", "form", "text", "csv", "calendar")]
        calls.append(("answer", same | {"values": dict.fromkeys(found["inputs"], "¿a, b\n1?")}))
    answers = in_worker(page, address, runtime, calls)
    broken = [
        (asked[0], asked[1]["calculator"], answer["error"][-300:])
        for asked, answer in zip(calls, answers)
        if "error" in answer
    ]
    assert broken == []


def test_worker_survives_a_call_that_makes_no_sense(page, address, runtime):
    good = ("answer", {"calculator": "moisture.adjust", "values": {}, "units": "us", "currency": "$"})
    answers = in_worker(page, address, runtime, [("no_such_call", {}), good])
    assert "error" in answers[0]
    assert json.loads(answers[1]["answer"])["ok"]


def test_a_slow_line_tells_how_far_python_has_come(browser, site):
    """The image arrives over some seconds: the line says how much of it is there, until the answer is live."""
    with Server(site, Line(2e6, 0.02)) as slow:
        page = browser.new_page()
        page.goto(slow.address + PAGE, wait_until="commit")
        found = page.wait_for_function(
            """() => {
              const status = document.querySelector(".calc-status[data-arrived]");
              return status && [status.dataset.arrived, getComputedStyle(status, "::after").content];
            }""",
            timeout=PATIENCE,
        ).json_value()
        assert re.fullmatch(r"\d\.\d of \d\.\d MB", found[0])
        assert "MB" in found[1] or found[1] == "none"  # none: the answer came in between
        page.wait_for_selector(LIVE, timeout=PATIENCE)
        assert (
            page.evaluate("() => getComputedStyle(document.querySelector('.calc-status'), '::after').content") == "none"
        )
        page.close()


def status(page):
    return page.locator(".calc-status").first.inner_text()


def unable(page):
    """Beside the form it says what still works, in both systems of units; what cannot work is not offered."""
    line = page.locator(".calc-ask .calc-unable")
    assert line.is_visible() and "In metric units: Water to add: 14.5 kg" in line.inner_text()
    for dead in (".calc-actions", ".calc-explorers", ".calc-submit"):
        assert not page.locator(dead).first.is_visible()


def test_without_script_nothing_is_offered_that_cannot_work(browser, address):
    page = browser.new_page(java_script_enabled=False)
    page.goto(address + PAGE)
    unable(page)
    assert page.locator(".calc-answer .calc-main").first.is_visible()
    page.close()


def test_a_live_page_says_nothing_of_what_it_cannot(page, address):
    page.goto(address + PAGE)
    page.wait_for_selector(LIVE, timeout=PATIENCE)
    assert not page.locator(".calc-unable").first.is_visible()


def test_a_device_that_saves_data_gets_python_at_the_first_edit(page, address):
    page.add_init_script("Object.defineProperty(navigator, 'connection', { value: { saveData: true } })")
    asked = []
    page.on("request", lambda request: asked.append(request.url))
    page.goto(address + PAGE)
    page.wait_for_selector('section.calc[data-state="waiting"]', timeout=PATIENCE)
    assert "saves data" in status(page)
    assert not [url for url in asked if re.search(r"/(library|python)\.", url)]
    page.locator('.calc-form [name="mass"]').fill("100")
    page.wait_for_selector(LIVE, timeout=PATIENCE)
    page.locator(".calc-main output").filter(has_text=re.compile("^80 lb$")).first.wait_for(timeout=PATIENCE)


def test_without_webassembly_the_prepared_answer_stays(page, address):
    page.add_init_script("delete globalThis.WebAssembly")
    page.goto(address + PAGE)
    page.wait_for_selector(FAILED, timeout=PATIENCE)
    assert "cannot run the calculator" in status(page)
    assert page.locator(".calc-answer .calc-main").first.is_visible()
    unable(page)
    assert page.problems == []


def test_without_the_runtime_files_the_prepared_answer_stays(page, address):
    page.context.route(re.compile(r"/library\.\w+\.bin"), lambda route: route.abort())
    page.goto(address + PAGE)
    page.wait_for_selector(FAILED, timeout=PATIENCE)
    assert "could not start" in status(page)
    assert page.locator(".calc-answer .calc-main").first.is_visible()


def test_one_dropped_connection_is_forgiven(page, address):
    dropped = []

    def once(route):
        if dropped:
            return route.continue_()
        dropped.append(route.request.url)
        return route.abort()

    page.context.route(re.compile(r"/library\.\w+\.bin"), once)
    page.goto(address + PAGE)
    page.wait_for_selector(LIVE, timeout=PATIENCE)
    assert dropped


def test_storage_refused_changes_nothing_on_the_page(page, address):
    page.add_init_script(
        "Object.defineProperty(window, 'localStorage', { get() { throw new DOMException('refused', 'SecurityError');"
        " } })"
    )
    page.goto(address + PAGE)
    page.wait_for_selector(LIVE, timeout=PATIENCE)
    field = page.locator('.calc-form [name="mass"]')
    field.fill("100")
    field.press("Tab")
    page.locator(".calc-main output").filter(has_text="80 lb").first.wait_for(timeout=PATIENCE)


def test_a_stuck_calculation_is_ended_and_the_next_one_answers(page, address):
    """Calls are swallowed on their way to the worker, as if Python never came back."""
    page.add_init_script(WAITS_CAN_END)
    page.add_init_script("""{
      const post = Worker.prototype.postMessage;
      Worker.prototype.postMessage = function (data, ...more) {
        if (globalThis.swallow && data.call) globalThis.swallowed = true;
        else post.call(this, data, ...more);
      };
    }""")
    page.goto(address + PAGE)
    page.wait_for_selector(LIVE, timeout=PATIENCE)
    page.evaluate("globalThis.swallow = true")
    field = page.locator('.calc-form [name="mass"]')
    field.fill("100")
    field.press("Tab")
    page.wait_for_function("globalThis.swallowed")
    page.evaluate("endWaits()")
    page.locator(".calc-status").first.filter(has_text="took too long").wait_for(timeout=40_000)
    assert field.input_value() == "100"
    page.evaluate("globalThis.swallow = false")
    field.fill("200")
    field.press("Tab")
    page.locator(".calc-main output").filter(has_text="160 lb").first.wait_for(timeout=PATIENCE)


def test_what_is_typed_while_python_starts_is_kept_and_answered(page, address):
    page.context.route(re.compile(r"/library\.\w+\.bin"), lambda route: (page.wait_for_timeout(0), route.continue_()))
    page.goto(address + PAGE, wait_until="domcontentloaded")
    field = page.locator('.calc-form [name="mass"]')
    field.fill("100")
    page.wait_for_selector(LIVE, timeout=PATIENCE)
    assert field.input_value() == "100"
    page.locator(".calc-main output").filter(has_text="80 lb").first.wait_for(timeout=PATIENCE)


def test_the_worker_stays_from_page_to_page(page, address):
    workers = []
    page.on("worker", lambda worker: workers.append(worker.url))
    page.goto(address + PAGE)
    page.wait_for_selector(LIVE, timeout=PATIENCE)
    page.mouse.move(300, 300)
    page.wait_for_selector(THEME_IS_UP, state="attached", timeout=PATIENCE)
    for name in ("test", "adjust") * 4:
        before = [url for url in workers if "search" not in url]
        page.evaluate("globalThis.stays = true")
        page.locator(f'.turn a[href$="{name}.html"]').first.click()
        page.wait_for_selector(f'{LIVE}[data-calculator="moisture.{name}"]', timeout=PATIENCE)
        if page.evaluate("globalThis.stays"):  # until the theme has its list of pages, each is loaded anew
            break
    assert page.evaluate("globalThis.stays")
    assert [url for url in workers if "search" not in url] == before and before


def test_the_theme_waits_for_the_reader(page, address):
    """Held back until there is one, and whole afterwards: the list of pages has its height, so that it covers
    nothing.
    """
    asked = []
    page.on("request", lambda request: asked.append(request.url))
    page.add_init_script("""{
      const wait = setTimeout; // no ten seconds pass, however slow the machine is
      globalThis.setTimeout = (act, time, ...more) => wait(act, time === 10_000 ? 1e6 : time, ...more);
    }""")
    page.goto(address + PAGE)
    page.wait_for_selector(LIVE, timeout=PATIENCE)
    page.wait_for_timeout(500)
    assert not [url for url in asked if "javascripts/bundle" in url] and page.locator("script[data-theme]").count() == 1
    page.mouse.move(300, 300)
    page.wait_for_selector(THEME_IS_UP, state="attached", timeout=PATIENCE)
    assert page.locator("script[data-theme]").count() == 0


def test_the_theme_comes_to_a_reader_who_touches_nothing(page, address):
    page.goto(address + PAGE)
    page.wait_for_selector(THEME_IS_UP, state="attached", timeout=PATIENCE)


def test_what_an_aim_finds_goes_into_the_form(page, address):
    """With what it takes the place of left blank: a volume was looked for, so the weight goes."""
    page.goto(address + PAGE)
    page.wait_for_selector(LIVE, timeout=PATIENCE)
    panel = page.locator('[data-explore="aim"]')
    panel.evaluate("(panel) => { panel.open = true; }")
    panel.locator('[name="output"]').select_option("water_to_add")
    panel.locator('[name="wanted"]').fill("50")
    panel.locator('[name="vary"]').select_option("volume")
    panel.locator('[data-action="aim"]').click()
    panel.get_by_role("button", name="Use this value").click()
    page.locator(".calc-main output").filter(has_text=re.compile("^50 lb$")).first.wait_for(timeout=PATIENCE)
    assert (
        page.locator('.calc-form [name="mass"]').input_value() == ""
        and page.locator('.calc-form [name="volume"]').input_value() == "2.00231"
    )
    page.wait_for_function("() => document.activeElement.className === 'calc-main'")  # once all of the answer is drawn
    number, unit = page.evaluate("handbookState.value('volume: Volume of the bedding').plan").split()
    assert float(number) == pytest.approx(2.00230792 * {"ft³": 1, "m³": 0.3048**3}[unit], rel=1e-8)  # not as rounded


def test_a_thousand_draws_show_how_far_they_are_and_can_be_stopped(page, address):
    page.goto(address + "lane/starter.html")
    page.wait_for_selector(LIVE, timeout=PATIENCE)
    panel = page.locator('[data-explore="range"]')
    panel.evaluate("(panel) => { panel.open = true; }")
    panel.locator('[name="output"]').select_option("days_to_first_slice")
    panel.locator('[data-action="range"]').click()
    panel.locator('[data-action="draws"]').click(timeout=PATIENCE)
    # Stop as soon as it stands there: a fast machine may be done all the same, and then all were drawn.
    page.evaluate(
        """() => new Promise((done) => {
          let seen = false;
          const look = () => {
            const panel = document.querySelector('[data-explore="range"]'), bar = panel.querySelector("progress");
            const stop = [...panel.querySelectorAll("button")].find(({ textContent }) => textContent === "Stop");
            if (bar?.value > 0 && stop) done(stop.click());
            else if (seen && !bar) done();
            else setTimeout(look, 5);
            seen ||= Boolean(bar);
          };
          look();
        })"""
    )
    panel.locator("progress").wait_for(state="detached", timeout=PATIENCE)
    panel.locator("figure").first.wait_for(timeout=PATIENCE)
    panel.get_by_text("Draws out of").first.wait_for(state="attached", timeout=PATIENCE)
    (count,) = set(re.findall(r"Draws out of ([\d,]+)", panel.text_content() or ""))
    assert 2 <= int(count.replace(",", "")) <= 1000 and panel.locator('[data-action="draws"]').count() == 0
