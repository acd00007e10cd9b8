"""What the page does when something it stands on is missing, broken, refused or killed: the prepared answers stay, and
the reader is told in plain words what is the matter and what to do. Nothing else is ever thrown.
"""

import re
import shutil

import pytest
from hosting import WAITS_CAN_END, Host
from playwright.sync_api import expect

import calc

PAGE = "moisture/adjust.html"
LIVE = 'section.calc[data-state="live"]'
FAILED = 'section.calc[data-state="failed"]'
PATIENCE = 30_000
BEFORE = "32 lb"  # the prepared answer of that page


@pytest.fixture(scope="module")
def host(site):
    host = Host(site)
    yield host
    host.stop()


@pytest.fixture(autouse=True)
def honest(request):
    """The server tells the truth again after each test."""
    yield
    if "host" in request.fixturenames:
        found = request.getfixturevalue("host")
        found.lies.clear()
        found.left = None


@pytest.fixture
def page(browser):
    """A page of a browser that has never been here; the kept copy is another test's matter."""
    context = browser.new_context(service_workers="block")
    page = context.new_page()
    page.thrown, page.expected = [], BROWSERS_OWN
    page.on("pageerror", lambda error: page.thrown.append(str(error)))
    yield page
    context.close()
    assert [text for text in page.thrown if not page.expected.search(text)] == []


# What a browser says by itself of a script that it cannot read or get, and of a worker that ends: told to the page as
# well, where it is dealt with.
BROWSERS_OWN = re.compile(
    r"importScripts|file:///runtime/|^unreachable$|^could not allocate memory$|is not what it should be|Invalid or"
    r" unexpected token|Unexpected token|missing \)"
)


def runtime_file(site, pattern):
    return next(
        path
        for path in sorted((site / "assets" / "runtime").glob(pattern))
        if ".disk." not in path.name or "disk" in pattern
    )


def said(page):
    return page.locator(".calc-status").first.inner_text()


def still_reads(page):
    """The prepared answer stands, with its meaning, and the form keeps what is in it."""
    assert page.locator(".calc-main output").first.inner_text() == BEFORE
    assert page.locator(".calc-answer").first.is_visible() and page.locator(".calc-form").first.is_visible()


def edit(page, text):
    field = page.locator('.calc-form [name="mass"]').first
    field.fill(text)
    field.press("Tab")


def answers(page, text):
    page.locator(".calc-main output").filter(has_text=re.compile(rf"^{re.escape(text)}$")).first.wait_for(
        timeout=PATIENCE
    )


def plainly(words):
    """Words for a reader: what is the matter, and that the answers hold."""
    assert "answer" in words and not re.search(
        r"(?i)error|exception|undefined|null|wasm|worker|python|script|invalid|please|oops", words
    ), words


# ---- files of the runtime that are not what they should be


def cut(data):
    return data[: len(data) // 3]


def garbled(data):
    return data[:2000] + bytes(byte ^ 0x55 for byte in data[2000:60_000]) + data[60_000:]


def a_login_page(data):
    return b"<!doctype html><title>Guest network</title><p>Log in to go on."


def empty(data):
    return b""


@pytest.mark.parametrize("fault", [cut, garbled, a_login_page, empty], ids=lambda fault: fault.__name__)
@pytest.mark.parametrize("pattern", ["python.*.wasm", "library.*.bin", "worker.*.js"])
def test_a_damaged_file(page, host, site, pattern, fault):
    file = runtime_file(site, pattern)
    host.lies[f"assets/runtime/{file.name}"] = fault(file.read_bytes())
    page.goto(host.base + PAGE)
    page.wait_for_selector(FAILED, timeout=PATIENCE)
    still_reads(page)
    plainly(said(page))
    assert "Reload" in said(page)
    host.lies.clear()
    page.reload()
    page.wait_for_selector(LIVE, timeout=PATIENCE)


@pytest.mark.parametrize("pattern", ["python.*.wasm", "library.*.bin", "worker.*.js"])
def test_a_missing_file(page, host, site, pattern):
    page.context.route(
        f"**/{runtime_file(site, pattern).name}", lambda route: route.fulfill(status=404, body="not here")
    )
    page.goto(host.base + PAGE)
    page.wait_for_selector(FAILED, timeout=PATIENCE)
    still_reads(page)
    plainly(said(page))


@pytest.mark.parametrize("pattern", ["page.*.js", "figures.*.js"])
def test_a_missing_script_leaves_a_page_to_read(page, host, site, pattern):
    """Without the page's script there is no one to say anything; then no button may pretend to work.

    Without the drawer, answers come without pictures.
    """
    page.context.route(
        f"**/{runtime_file(site, pattern).name}", lambda route: route.fulfill(status=404, body="not here")
    )
    page.goto(host.base + PAGE)
    if pattern.startswith("page"):
        page.wait_for_load_state("load")
        still_reads(page)
        assert not page.locator('.calc-actions button[data-action="share"]').first.is_visible()
        return
    page.wait_for_selector(LIVE, timeout=PATIENCE)
    edit(page, "100")
    answers(page, "80 lb")


def test_what_was_wrong_goes_away_with_its_answer_though_figures_are_still_on_their_way(page, host):
    held = []
    page.context.route("**/assets/runtime/figures.*", lambda route: held.append(route))  # noqa: PLW0108 (as in test_alive)
    page.goto(host.base + PAGE, wait_until="commit")
    page.wait_for_selector(LIVE, timeout=PATIENCE)
    edit(page, "half")
    page.locator(".calc-summary").first.wait_for(timeout=PATIENCE)
    edit(page, "100")
    answers(page, "80 lb")
    assert page.locator(".calc-summary").first.is_hidden() and held


GONE_LATE = {
    "code": ('[data-action="code"]', ".calc-done"),
    "figures": ("", ".calc-status"),
    "library": ("", ".calc-status"),
}
"""A part that a newer handbook has taken away: what asks for it, and where it is told."""


@pytest.mark.parametrize("part", GONE_LATE)
def test_a_late_part_that_is_gone_is_told_where_it_was_asked_for_and_a_reload_loses_nothing(page, host, site, part):
    button, place = GONE_LATE[part]
    page.context.route(f"**/assets/runtime/{part}.*", lambda route: route.fulfill(status=404, body="not here"))
    page.goto(host.base + PAGE)
    page.wait_for_selector(FAILED if part == "library" else LIVE, timeout=PATIENCE)
    edit(page, "100")
    if part != "library":
        answers(page, "80 lb")
    if button:
        page.locator(button).first.click()
    told = page.locator(place).first
    told.get_by_role("button", name="Reload the page").wait_for(timeout=PATIENCE)
    plainly(told.inner_text() + " answer")
    page.context.unroute_all(behavior="ignoreErrors")
    page.evaluate("document.body.dataset.old = ''")
    told.get_by_role("button", name="Reload the page").click()
    page.wait_for_selector(f"body:not([data-old]) {LIVE}", timeout=PATIENCE)
    expect(page.locator('.calc-form [name="mass"]').first).to_have_value(re.compile(r"^100\b"))
    answers(page, "80 lb")


def test_the_connection_breaks_in_the_middle(page, host):
    """The server falls silent after the first few files, then comes back: a reload is all it takes."""
    host.left = 4
    page.goto(host.base + PAGE, wait_until="commit")
    page.locator(".calc-main output").first.wait_for(timeout=PATIENCE)
    still_reads(page)
    host.left = None
    page.reload()
    page.wait_for_selector(LIVE, timeout=PATIENCE)
    edit(page, "100")
    answers(page, "80 lb")


# ---- the worker dies


def test_the_worker_is_killed_in_mid_answer(page, host):
    page.add_init_script(WAITS_CAN_END)
    page.goto(host.base + PAGE)
    page.wait_for_selector(LIVE, timeout=PATIENCE)
    page.evaluate(
        "() => { handbookPython.worker.postMessage = function (...all) { Worker.prototype.postMessage.apply(this, all);"
        " this.terminate(); globalThis.killed = true; }; }"
    )
    edit(page, "100")
    page.wait_for_function("globalThis.killed")
    page.evaluate("endWaits()")
    page.locator(".calc-status").filter(has_text="took too long").wait_for(timeout=2 * PATIENCE)
    assert page.locator('.calc-form [name="mass"]').first.input_value() == "100"
    still_reads(page)
    edit(page, "200")
    answers(page, "160 lb")


CRASHES = {
    "a trap": (
        'self.addEventListener("message", ({ data }) => { if (data.args?.includes("666")) throw new'
        ' WebAssembly.RuntimeError("unreachable"); }, true);'
    ),
    "no memory for an answer": (
        'self.addEventListener("message", (event) => { if (event.data.args?.includes("666")) {'
        ' event.stopImmediatePropagation(); postMessage({ id: event.data.id, error: "MemoryError" }); } }, true);'
    ),
}


@pytest.mark.parametrize("crash", CRASHES)
def test_an_answer_that_crashes_is_told_and_the_next_one_comes(page, host, site, crash):
    worker = runtime_file(site, "worker.*.js")
    host.lies[f"assets/runtime/{worker.name}"] = CRASHES[crash].encode() + b"\n" + worker.read_bytes()
    page.goto(host.base + PAGE)
    page.wait_for_selector(LIVE, timeout=PATIENCE)
    edit(page, "666")
    page.wait_for_selector(FAILED, timeout=PATIENCE)
    plainly(said(page))
    still_reads(page)
    edit(page, "100")
    answers(page, "80 lb")
    assert page.locator(LIVE).count()
    expect(page.locator(".calc-status").first).not_to_contain_text("could not")  # once its figures are drawn


# ---- too little memory


SHORT = {
    "none at all": "WebAssembly.Memory = function () { throw new RangeError('could not allocate memory'); };",
    "none to start with": (
        "{ const make = WebAssembly.instantiate; WebAssembly.instantiate = (what, ...more) => (what instanceof"
        " WebAssembly.Module && WebAssembly.Module.exports(what).length > 50 ? Promise.reject(new RangeError('could not"
        " allocate memory')) : make(what, ...more)); }"
    ),
    "no more": (
        "WebAssembly.Memory.prototype.grow = function () { throw new RangeError('Maximum memory size exceeded'); };"
    ),
}


@pytest.mark.parametrize("much", SHORT)
def test_memory_is_short(page, host, site, much):
    worker = runtime_file(site, "worker.*.js")
    host.lies[f"assets/runtime/{worker.name}"] = SHORT[much].encode() + b"\n" + worker.read_bytes()
    page.goto(host.base + PAGE)
    page.wait_for_selector(f"{FAILED}, {LIVE}", timeout=PATIENCE)
    still_reads(page)
    if page.locator(FAILED).count():
        plainly(said(page))


# ---- a browser that lacks or refuses something


LACKING = {"workers": "delete globalThis.Worker", "WebAssembly": "delete globalThis.WebAssembly"}


@pytest.mark.parametrize("what", LACKING)
def test_a_browser_that_cannot_run_it_is_told_so(page, host, what):
    page.add_init_script(LACKING[what])
    page.goto(host.base + PAGE)
    page.wait_for_selector(FAILED, timeout=PATIENCE)
    still_reads(page)
    plainly(said(page))


DISPENSABLE = """
delete Uint8Array.fromBase64; delete globalThis.requestIdleCallback; delete globalThis.caches;
Object.defineProperty(navigator, "clipboard", { value: undefined }); Object.defineProperty(navigator,
    "serviceWorker", { value: undefined });
delete globalThis.IntersectionObserver; delete globalThis.ResizeObserver; delete globalThis.structuredClone;
    delete globalThis.CSSStyleSheet;
"""

WITHOUT_OBSERVERS = re.compile(
    r"Observer|^Invalid script: $"
)  # the theme's script asks for them, and then for a stand-in that is not shipped


@pytest.mark.parametrize("way", ["http", "disk"])
def test_newer_things_are_not_needed(page, host, site, way):
    page.add_init_script(DISPENSABLE)
    page.expected = WITHOUT_OBSERVERS
    page.goto((host.base if way == "http" else site.as_uri() + "/") + PAGE)
    page.wait_for_selector(LIVE, timeout=PATIENCE)
    edit(page, "100")
    answers(page, "80 lb")


STORAGE = {
    "refused": (
        "Object.defineProperty(window, 'localStorage', { get() { throw new DOMException('refused', 'SecurityError');"
        " } })"
    ),
    "full": "Storage.prototype.setItem = () => { throw new DOMException('full', 'QuotaExceededError'); }",
    "none": "Object.defineProperty(window, 'localStorage', { value: null })",
}


@pytest.mark.parametrize("storage", STORAGE)
def test_storage_that_keeps_nothing_is_told_and_the_values_come_along(page, host, storage):
    page.add_init_script(STORAGE[storage])
    page.goto(host.base + PAGE)
    page.wait_for_selector(LIVE, timeout=PATIENCE)
    edit(page, "100")
    answers(page, "80 lb")
    page.locator(".calc-status").filter(has_text="address").first.wait_for(timeout=PATIENCE)
    page.reload()
    page.wait_for_selector(LIVE, timeout=PATIENCE)
    answers(page, "80 lb")


def test_without_script_everything_can_be_read(browser, host):
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(host.base + PAGE)
    assert page.locator(".calc-main output").first.inner_text() == BEFORE
    assert page.locator(".calc-answer svg:visible").count() > 0
    assert page.locator(".calc-working summary").first.is_visible()
    assert not page.locator(".calc-actions").first.is_visible()
    context.close()


# ---- from disk


@pytest.fixture
def copy(site, tmp_path):
    return shutil.copytree(site, tmp_path / "copy", ignore=shutil.ignore_patterns("search", "*.png"))


@pytest.mark.parametrize("fault", [cut, a_login_page, None], ids=["cut", "another file", "missing"])
@pytest.mark.parametrize("pattern", ["pyodide.asm.wasm.disk.*.js", "python_stdlib.zip.disk.*.js", "worker.disk.*.js"])
def test_a_copy_on_disk_with_a_damaged_file(page, copy, pattern, fault):
    file = runtime_file(copy, pattern)
    if fault:
        file.write_bytes(fault(file.read_bytes()))
    else:
        file.unlink()
    page.goto(copy.as_uri() + "/" + PAGE)
    page.wait_for_selector(FAILED, timeout=PATIENCE)
    still_reads(page)
    plainly(said(page))
    assert "get the copy again" in said(page)


def test_from_disk_a_browser_that_cannot_unpack_is_told_so(page, site):
    page.add_init_script("delete globalThis.DecompressionStream")
    page.goto(site.as_uri() + "/" + PAGE)
    page.wait_for_selector(FAILED, timeout=PATIENCE)
    still_reads(page)
    plainly(said(page))
    assert "cannot run" in said(page)


# ---- links that nobody means well with


OPEN_ALL = """async (hashes) => {
  const settled = () => new Promise((resolve) => { const look = () =>
    (handbookPython.calls.size ? setTimeout(look, 5) : resolve()); setTimeout(look, 5); });
  for (const hash of hashes) {
    location.hash = hash;
    await settled(); await settled();
    if (document.querySelector("section.calc img, section.calc script, section.calc iframe,"
        + " section.calc [onerror], section.calc [onload], section.calc svg[onload]")) return hash;
  }
  return null;
}"""


def test_three_hundred_hostile_links(page, host):
    """No dialog, no breach of the policy, no error, nothing of the reader's changed, and the page answers
    afterwards.
    """
    import random
    from urllib.parse import quote

    dialogs, told = [], []
    page.on("dialog", lambda dialog: (dialogs.append(dialog.message), dialog.dismiss()))
    page.on("console", lambda message: told.append(message.text) if message.type in ("error", "warning") else None)
    page.add_init_script(
        "addEventListener('securitypolicyviolation', (event) => console.error('policy: ' + event.violatedDirective))"
    )
    page.goto(host.base + PAGE)
    page.wait_for_selector(LIVE, timeout=PATIENCE)
    edit(page, "61")
    answers(page, "48.8 lb")
    chance = random.Random(20270301)
    nasty = [
        "<img src=x onerror=alert(1)>",
        '"><script>alert(1)</script>',
        "' onfocus=alert(1) autofocus='",
        "</textarea><svg onload=alert(1)>",
        "javascript:alert(1)",
        "1e999",
        "nan",
        "١٢",
        "9" * 3000,
        "\u202e",
        "\0",
        "1/0",
        "5 furlongs",
        "__proto__",
        "<b>5 lb</b>",
        "\ud83d",
        "{{1}}",
        "%",
        "lb/" * 200,
        "=1+1",
        "[" * 500,
        "40 lb",
        "75 %",
    ]
    names = [
        *calc.find("moisture.adjust").inputs,
        "__proto__",
        "constructor",
        "<img src=x onerror=alert(1)>",
        "",
        "units",
        "plan",
        "no_such",
    ]
    write = [
        lambda text: quote(text.encode("utf-8", "replace")),
        lambda text: text.encode("utf-8", "replace").decode().replace("&", "").replace("\0", "%00"),
    ]
    hashes = [
        "#plan?"
        + "&".join(
            f"{chance.choice(write)(chance.choice(names))}={chance.choice(write)(chance.choice(nasty))}"
            for _ in range(chance.randint(1, 5))
        )
        for _ in range(300)
    ]
    assert page.evaluate(OPEN_ALL, hashes) is None
    assert (dialogs, told) == ([], [])
    page.goto(host.base + PAGE)
    page.wait_for_selector(LIVE, timeout=PATIENCE)
    expect(page.locator('.calc-form [name="mass"]').first).to_have_value("61")  # the reader's own values stand
    edit(page, "100")
    answers(page, "80 lb")


# ---- what is small, and told


def test_the_page_for_what_is_not_there_finds_its_style_and_links_in_a_sub_folder(page, site):
    """A host shows it at any depth, and the handbook was built without an address."""
    host = Host(site, under="deep/handbook/")
    missing = (site / "404.html").read_text(encoding="utf-8")
    page.context.route(
        "**/no/such.html", lambda route: route.fulfill(status=404, content_type="text/html", body=missing)
    )
    try:
        page.goto(host.base + "lane/no/such.html")
        page.wait_for_function(
            "(base) => [...document.styleSheets].some(({ href }) => href?.startsWith(base))", arg=host.base
        )
        page.wait_for_function("() => typeof handbookState === 'object'")
        page.locator("article a").filter(has_text="front page").click()
        page.wait_for_url(host.base + "index.html")
        page.wait_for_selector(LIVE, timeout=PATIENCE)
    finally:
        host.stop()


def test_what_was_done_is_told_at_the_buttons_and_to_screen_readers(page, host):
    page.goto(host.base + PAGE)
    page.wait_for_selector(LIVE, timeout=PATIENCE)
    for action, words in (
        ("keep", "kept beside"),
        ("copy", "Copied"),
        ("csv", "with your downloads"),
        ("share", "Link copied"),
    ):
        page.locator(f'.calc-actions [data-action="{action}"]').first.click()
        page.locator(".calc-actions + .calc-done").filter(has_text=words).wait_for(timeout=PATIENCE)
        page.locator('.calc-status[role="status"]').filter(has_text=words).wait_for(timeout=PATIENCE)


def test_a_private_window_is_named_where_a_copy_is_said_to_be_kept(site):
    """No page can know that it stands in one."""
    script = next((site / "assets" / "runtime").glob("copy.*.js")).read_text(encoding="utf-8")
    assert "A private window forgets it when it is closed." in script


# ---- files that are no tables

OPEN = '.calc-field[data-input="log"]'
HEAR_SENT = """() => {
  const ask = handbookPython.ask.bind(handbookPython);
  globalThis.sent = [];
  globalThis.calls = [];
  handbookPython.ask = (call, args) => {
    calls.push(call);
    sent.push(JSON.stringify(args).length);
    return ask(call, args);
  };
}"""
HOLD_CALLS = """() => {
  const post = Worker.prototype.postMessage;
  Worker.prototype.postMessage = function (data, ...more) {
    if (!globalThis.held || !data.call) post.call(this, data, ...more);
  };
  globalThis.held = true;
}"""


def test_a_wrong_file_is_told_by_its_first_bytes_and_one_that_is_read_can_be_stopped(page, host):
    page.goto(host.base + "farm/week.html")
    page.wait_for_selector(LIVE, timeout=PATIENCE)
    page.evaluate("document.querySelectorAll('article details').forEach((fold) => { fold.open = true; })")
    page.evaluate(HEAR_SENT)
    field = page.locator(OPEN).first
    before = field.locator("textarea").input_value()

    def opened(data):
        found = {"name": "log.csv", "mimeType": "text/csv", "buffer": data}
        field.locator("input[type=file]").set_input_files(found)

    opened(bytes(range(256)) * 25_000)  # six megabytes of a program or a picture
    field.locator(".calc-rows-look .calc-error").filter(has_text="no text file").wait_for(timeout=PATIENCE)
    assert max(page.evaluate("sent")) < 20_000 + len(before), "only its first bytes were looked at"
    opened(b"x" * 9_000_000)
    field.locator(".calc-rows-look").filter(has_text="too large").wait_for(timeout=PATIENCE)
    page.evaluate(HOLD_CALLS)
    opened(b"date,what,amount\n2026-03-01,fed,12\n")
    field.get_by_role("button", name="Stop").click()
    field.locator(".calc-rows-look").filter(has_text="nothing was changed").wait_for(timeout=PATIENCE)
    assert field.locator("textarea").input_value() == before
    page.evaluate("globalThis.held = false")
    opened(b"date,what,amount\n2026-03-01,fed,12\n")
    field.locator(".calc-rows-look").filter(has_text="as understood").wait_for(timeout=PATIENCE)

    opened(b"date,what,amount\n" + b"2026-03-01,fed,12\n" * 12_000)
    field.get_by_role("button", name="Use these 12,000 rows").click(timeout=PATIENCE)
    text = field.locator("textarea")
    assert text.evaluate("(text) => [text.getClientRects().length, text.value.split('\\n').length > 12_000]") == [
        0,
        True,
    ]
    assert page.evaluate("document.activeElement.textContent") == "Show it as text", "no long text is laid out unasked"
    expect(page.locator("section.calc")).not_to_have_attribute("data-pending", "")
    assert max(page.evaluate("sent")) > 200_000, "all of it is used"
    field.get_by_role("button", name="Show it as text").click()
    assert text.is_visible() and page.evaluate("document.activeElement.name") == "log"


HOLD_READING = """() => {
  const read = FileReader.prototype.readAsDataURL, text = Blob.prototype.text;
  globalThis.waiting = [];
  globalThis.holding = null; // whether a blob waits before it is read
  const held = (blob, go) => { if (holding?.(blob)) waiting.push(go); else go(); };
  FileReader.prototype.readAsDataURL = function (blob) { held(blob, () => read.call(this, blob)); };
  Blob.prototype.text = function () { return new Promise((done) => held(this, () => done(text.call(this)))); };
}"""
LET_GO = """async () => {
  holding = null;
  for (const go of waiting.splice(0)) go();
  await new Promise((done) => { // what is read by now was heard: a further file is read to its end, and Python answers
    const reader = new FileReader();
    reader.onload = done;
    reader.readAsDataURL(new Blob(["after"]));
  });
  await handbookPython.ask("block", { text: "after" });
}"""
PARTS = {"its first bytes": "!(blob instanceof File)", "the whole of it": "blob instanceof File"}


def put_file(place, name, data):
    place.locator("input[type=file]").set_input_files({"name": name, "mimeType": "text/csv", "buffer": data})


def page_with_files(page, address):
    page.goto(address)
    page.wait_for_selector(LIVE, timeout=PATIENCE)
    page.evaluate("document.querySelectorAll('article details').forEach((fold) => { fold.open = true; })")
    page.evaluate(HEAR_SENT)
    page.evaluate(HOLD_READING)


def begun(page, part, put):
    """A file is put in, and this part of it is about to be read."""
    page.evaluate(f"holding = (blob) => {PARTS[part]}")
    put()
    page.wait_for_function("() => waiting.length === 1", timeout=PATIENCE)


def stopped(page, place, said):
    """It is stopped, and what waited is read all the same: nothing is asked about it."""
    place.get_by_role("button", name="Stop").click()
    page.wait_for_selector(LIVE, timeout=PATIENCE)
    page.evaluate("calls.length = 0")
    page.evaluate(LET_GO)
    assert not {"table", "weather_file"} & set(page.evaluate("calls")), "a file that was stopped is asked about"
    assert said.inner_text() == "Stopped: nothing was changed."


def test_a_file_that_was_stopped_or_followed_by_another_while_it_was_read_is_not_shown(page, host):
    page_with_files(page, host.base + "feed/recipe.html")
    field = page.locator('.calc-field[data-input="materials"]')
    look = field.locator(".calc-rows-look")
    before = field.locator("textarea").input_value()

    def opened(name="one.csv", amount=12):
        put_file(field, name, f"Material,Mass (lb)\nleaves,{amount}\n".encode())

    for part in PARTS:
        begun(page, part, opened)
        stopped(page, field, look)
        assert field.locator("textarea").input_value() == before

        begun(page, part, opened)
        page.evaluate("holding = null")
        opened("two.csv", 13)
        look.filter(has_text="two.csv: 1 row").wait_for(timeout=PATIENCE)
        page.evaluate(LET_GO)
        assert "two.csv: 1 row" in look.inner_text() and "one.csv" not in look.inner_text()

        begun(page, part, opened)
        put_file(field, "two.csv", b"x" * 9_000_000)
        look.filter(has_text="two.csv is too large").wait_for(timeout=PATIENCE)
        page.evaluate(LET_GO)
        assert "two.csv is too large" in look.inner_text()


def test_a_weather_file_is_looked_at_before_it_is_read_and_can_be_stopped(page, host):
    page_with_files(page, host.base + "climate/water.html")
    field = page.locator(".calc-field:has(textarea[data-weather])").first
    said = field.locator(".calc-weather-said")
    tools = field.locator(".calc-rows-tools").filter(has=page.locator('[aria-label^="Open a weather file"]'))
    before = field.locator("textarea").input_value()
    put_file(tools, "picture.csv", bytes(range(256)) * 25_000)
    said.filter(has_text="no text file").wait_for(timeout=PATIENCE)
    assert max(page.evaluate("sent")) < 20_000, "only its first bytes were looked at"

    days = "".join(f"2025-{month:02}-{day:02},{month + 9}\n" for month in range(1, 13) for day in range(1, 29))
    year = ("date,temperature (°C)\n" + days).encode()
    for part in PARTS:
        begun(page, part, lambda: put_file(tools, "year.csv", year))
        assert "Reading year.csv …" in said.inner_text()
        stopped(page, field, said)
        assert field.locator("textarea").input_value() == before
    put_file(tools, "year.csv", year)
    said.filter(has_text="over the year").wait_for(timeout=PATIENCE)
    assert field.locator("textarea").input_value() != before
