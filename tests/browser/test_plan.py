"""The reader's plan in a real browser: its page and file, links that were shared, storage that is refused or full, what
answers hand over, the QR code.
"""

import json
import re

import numpy
import pytest
import zxingcpp
from playwright.sync_api import expect

from calc.engine.register import every
from calc.page import plan

LIVE = 'section.calc[data-state="live"]'
PATIENCE = 30_000
REFUSED = """for (const name of ["localStorage", "sessionStorage"])
  Object.defineProperty(window, name, { configurable: true, get() { throw new DOMException("refused",
      "SecurityError"); } });"""
FULL = """Storage.prototype.setItem = function () { throw new DOMException("full", "QuotaExceededError"); };"""


@pytest.fixture(scope="module", params=["http", "disk"])
def base(request, address, site):
    """Where the handbook stands: behind a server, or in a folder opened by double-click."""
    return address if request.param == "http" else site.as_uri() + "/"


@pytest.fixture
def device(browser):
    """A function that gives a page of a device of its own; script: what its browser is like."""
    contexts = []

    def start(script=""):
        context = browser.new_context(viewport={"width": 1000, "height": 900}, accept_downloads=True)
        contexts.append(context)
        if script:
            context.add_init_script(script)
        page = context.new_page()
        page.said = []
        page.on("pageerror", lambda error: page.said.append(str(error)))
        return page

    yield start
    for context in contexts:
        context.close()


def open_live(page, address):
    page.goto(address)
    page.wait_for_selector(LIVE, timeout=PATIENCE)
    return page.locator("section.calc").first


def field(section, name):
    return section.locator(f'.calc-field[data-input="{name}"] [name="{name}"]')


def edit(section, name, text):
    """Type into a field, wherever it is folded away, and leave it."""
    field(section, name).evaluate("(field) => field.closest('details')?.setAttribute('open', '')")
    field(section, name).fill(text)
    field(section, name).press("Tab")


def shown(section, label):
    return section.locator(f'.calc-main dt:text-is("{label}") + dd output').first


def has(section, name, text):
    """A field holds the text, now or soon."""
    expect(field(section, name)).to_have_value(text, timeout=PATIENCE)


def wait_for(locator, text):
    locator.filter(has_text=text).first.wait_for(timeout=PATIENCE)


def copied_link(page):
    """The address that Copy link puts on the clipboard."""
    return page.evaluate("""() => new Promise((done, failed) => {
      setTimeout(() => failed(new Error("no link was copied")), 60000);
      navigator.clipboard.writeText = async (text) => done(text);
      document.execCommand = () => done(document.activeElement.value);
      document.querySelector('[data-action="share"]').click();
    })""")


def kept(page):
    """{plan key: text with its unit} of what this browser keeps, as a page that is opened next will find it."""
    return page.evaluate("""() => {
      const folder = new URL(".", document.querySelector("script[data-runtime]").src);
      const head = `handbook ${new URL("../../", folder).pathname} value `;
      const keys = Object.keys(localStorage).filter((key) => key.startsWith(head));
      const items = keys.map((key) => [key.slice(head.length), JSON.parse(localStorage.getItem(key))[1]]);
      return Object.fromEntries(items.filter(([, value]) => value).map(([key, { text, plan }]) => [key, plan ?? text]));
    }""")


def keeps(page, values):
    """The browser holds just these, at the latest in a moment: one page's storage reaches the next by way of another
    process.
    """
    for _ in range(PATIENCE // 100):
        if kept(page) == values:
            return True
        page.wait_for_timeout(100)
    return False


BUSY = """() => handbookPython.calls.size || [...document.querySelectorAll("section.calc[data-pending]")].some((one) =>
  !one.querySelector("[aria-invalid=true]"))"""
"""Python is asked something, or an answer that is shown belongs to other values; it may do so beside a wrong field."""


def settled(page):
    """Nothing that the page has asked Python for is outstanding, and nothing follows it: looked at three times in a
    row.
    """
    quiet = 0
    while quiet < 3:
        page.wait_for_timeout(50)
        quiet = 0 if page.evaluate(BUSY) else quiet + 1


def answer_of(page):
    """Inputs and outputs with twelve digits, from the page's own Python and the form as it stands."""
    return page.evaluate("""async () => {
      const section = document.querySelector("section.calc");
      const sent = (field) => (field.value === field.defaultValue && field.dataset.exact) || field.value;
      const fields = [...section.querySelector(".calc-form").elements].filter((field) => field.name &&
          field.dataset.default !== undefined && sent(field) !== field.dataset.default);
      const asked = { calculator: section.dataset.calculator, values: Object.fromEntries(fields.map((field) =>
          [field.name, sent(field)])), currency: "$", raw: true };
      const units = section.querySelector('[data-action="units"]').textContent === "US units" ? "metric" : "us";
      const { raw } = await handbookPython.ask("answer", { ...asked, units });
      return { inputs: raw.inputs, outputs: raw.outputs };
    }""")


def same_numbers(one, other):
    """The same, apart from the ninth digit: a field shows 250 kg as 551.155655 lb."""
    if isinstance(one, dict):
        assert one.keys() == other.keys()
        for key in one:
            same_numbers(one[key], other[key])
    elif isinstance(one, list):
        assert len(one) == len(other)
        for a, b in zip(one, other):
            same_numbers(a, b)
    elif isinstance(one, float):
        assert one == pytest.approx(other, rel=1e-8)
    else:
        assert one == other


# ---- the page and the file


def open_plan(page, base):
    page.goto(base + "plan.html")
    page.wait_for_selector('section.plan[data-state="live"]', timeout=PATIENCE)
    return page.locator("section.plan")


def row(sheet, label):
    return sheet.locator(f'.plan-set tbody:has(th:text-is("{label}"))')


def test_what_was_set_is_listed_and_taken_out_again(device, base):
    page = device()
    section = open_live(page, base + "lane/starter.html")
    edit(section, "lane_length", "12")
    wait_for(section.locator(".calc-reading"), "12 ft")
    sheet = open_plan(page, base)
    assert sheet.locator(".plan-count").inner_text() == "You have set one value."
    assert row(sheet, "Lane length").locator("td").first.inner_text() == "12 ft"
    uses = row(sheet, "Lane length").locator("a")
    asking = [entry for entry in every().values() if "lane_length" in entry.inputs]
    asking = {entry.page for entry in asking if entry.inputs["lane_length"].label == "Lane length"}
    linked = {link.get_attribute("href").split("#")[0] for link in uses.all()}
    assert len(linked) == len(asking) and all(any(link.endswith(f"/{name}") for link in linked) for name in asking)
    sheet.locator('[name="plan-units"][value="metric"]').check()
    wait_for(row(sheet, "Lane length"), "3.66 m")
    row(sheet, "Lane length").get_by_role("button").click()
    wait_for(sheet.locator(".plan-count"), "nothing yet")
    assert page.evaluate("document.activeElement.dataset.action") == "undo"
    page.keyboard.press("Enter")
    wait_for(row(sheet, "Lane length"), "3.66 m")
    sheet.locator('[data-action="clear"]').click()
    wait_for(sheet.locator(".plan-count"), "nothing yet")
    sheet.locator('[data-action="undo"]').click()
    wait_for(row(sheet, "Lane length"), "3.66 m")
    row(sheet, "Lane length").locator("a").first.click()
    page.wait_for_selector(LIVE, timeout=PATIENCE)
    assert float(field(page.locator("section.calc").first, "lane_length").input_value()) == pytest.approx(3.6576)
    assert not page.said


def test_what_is_typed_while_python_starts_joins_the_plan(device, address):
    page = device()
    edit(open_live(page, address + "lane/starter.html"), "lane_width", "3 ft")
    settled(page)
    page.context.route(re.compile(r"/library\.\w+\.bin"), lambda route: (page.wait_for_timeout(0), route.continue_()))
    page.goto(address + "lane/feeding.html", wait_until="domcontentloaded")
    section = page.locator("section.calc").first
    field(section, "lane_length").fill("13")  # and the cursor stays in it
    page.wait_for_selector(LIVE, timeout=PATIENCE)
    settled(page)
    has(section, "lane_length", "13")
    has(section, "lane_width", "3")
    assert page.evaluate("document.activeElement.name") == "lane_length"
    assert keeps(page, {"lane_width: Lane width": "3 ft", "lane_length: Lane length": "13 ft"}) and not page.said


def test_a_file_goes_to_another_device(device, base, tmp_path):
    page = device()
    section = open_live(page, base + "harvest/screen.html")
    cell = section.locator('.calc-field[data-input="sieves"] .calc-rows tbody tr').first.locator("input").nth(1)
    before = shown(section, "Fine castings to sell").inner_text()
    cell.fill("0.5")
    cell.press("Tab")
    edit(section, "mass", "250 kg")
    settled(page)
    assert shown(section, "Fine castings to sell").inner_text() != before
    theirs = answer_of(page)
    sheet = open_plan(page, base)
    with page.expect_download() as waiting:
        sheet.locator('[data-action="save"]').click()
    file = tmp_path / waiting.value.suggested_filename
    waiting.value.save_as(file)
    assert plan.read_plan(file.read_text(encoding="utf-8"))["told"] == []
    other = device()
    section = open_live(other, base + "lane/starter.html")
    edit(section, "lane_length", "9")
    wait_for(section.locator(".calc-reading"), "9 ft")
    settled(other)
    sheet = open_plan(other, base)
    sheet.locator(".plan-file").set_input_files(file)
    wait_for(sheet.locator(".plan-offer"), "Sieve test")
    assert keeps(other, {"lane_length: Lane length": "9 ft"}), "nothing is changed yet"
    sheet.locator('[data-action="add"]').click()
    wait_for(row(sheet, "Sieve test"), "rows")
    assert row(sheet, "Lane length").count() == 1
    open_live(other, base + "harvest/screen.html")
    settled(other)
    same_numbers(answer_of(other), theirs)


def test_a_file_with_faults_is_told_line_by_line(device, base, tmp_path):
    page = device()
    sheet = open_plan(page, base)
    file = tmp_path / "plan.txt"
    file.write_text(
        "plan version: 1\nunits: metric\nlane_length: Lane length = 4\nlane_width: Lane width = 90 m\nunheard of = 3\n",
        encoding="utf-8",
    )
    sheet.locator(".plan-file").set_input_files(file)
    wait_for(sheet.locator(".plan-offer"), "one value that can be used")
    told = sheet.locator(".plan-offer .calc-summary li").all_inner_texts()
    assert (
        len(told) == 2
        and told[0].startswith("Line 4: Lane width must be between")
        and told[1].startswith("Line 5: no calculator asks for “unheard of”")
    )
    sheet.locator('[data-action="leave"]').click()
    assert sheet.locator(".plan-offer").is_hidden() and keeps(page, {})
    file.write_text("plan version: 99\nlane_length: Lane length = 4\n", encoding="utf-8")
    sheet.locator(".plan-file").set_input_files(file)
    wait_for(sheet.locator(".plan-offer"), "newer handbook")
    assert sheet.locator('[data-action="add"]').is_hidden()


def test_without_anything_set_it_reads_as_a_page(browser, address):
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(address + "plan.html")
    assert "You have set nothing yet" in page.locator("section.plan").inner_text()
    assert page.locator("section.plan button:visible").count() == 0
    assert page.locator("section.plan details").count() > 20
    context.close()


# ---- links


def test_a_link_gives_the_same_numbers_elsewhere_and_leaves_their_own_alone(device, base):
    sender = device()
    section = open_live(sender, base + "climate/water.html")
    edit(section, "bed_area", "7.7 m2")
    edit(section, "wind", "3.3 m/s")
    settled(sender)
    section.locator('[data-action="units"]').click()
    wait_for(section.locator('[data-action="units"]'), "US units")
    settled(sender)
    link = copied_link(sender)
    assert set(re.findall(r"[?&](\w+)=", link)) == {"bed_area", "wind", "units"}
    receiver = device()
    section = open_live(receiver, base + "climate/water.html")
    edit(section, "bed_area", "100 ft2")
    edit(section, "shade", "10")
    settled(receiver)
    mine, own = kept(receiver), answer_of(receiver)
    assert len(mine) == 2
    section = open_live(receiver, link) if base.startswith("http") else reopened(receiver, link)
    wait_for(section.locator(".calc-linked"), "bed area, wind in the open")
    same_numbers(answer_of(receiver), answer_of(sender))
    assert keeps(receiver, mine), "a link changes nothing of the reader's"
    section.locator('.calc-linked [data-action="own"]').click()
    section.locator(".calc-linked").wait_for(state="detached")
    wait_for(section.locator(".calc-main"), "gal")
    settled(receiver)
    assert "#" not in receiver.url and keeps(receiver, mine)
    same_numbers(answer_of(receiver), own)


def reopened(page, link):
    """A link opened anew: another hash of the page that is shown would not load it."""
    page.goto("about:blank")
    return open_live(page, link)


def test_a_link_is_taken_over_when_the_reader_says_so(device, base):
    page = device()
    section = open_live(page, base + "lane/feeding.html")
    edit(section, "worm_mass", "20")
    settled(page)
    section = reopened(page, base + "lane/feeding.html#plan?lane_length=14+ft&units=us")
    wait_for(section.locator(".calc-linked"), "lane length")
    edit(section, "lane_width", "3")
    settled(page)
    assert set(kept(page)) == {
        "worm_mass: Worms",
        "lane_width: Lane width",
    }, "an edit is kept, the rest of the link is not"
    section.locator('.calc-linked [data-action="take"]').click()
    section.locator(".calc-linked").wait_for(state="detached")
    settled(page)
    assert keeps(
        page, {"worm_mass: Worms": "20 lb", "lane_width: Lane width": "3 ft", "lane_length: Lane length": "14 ft"}
    )
    has(section, "worm_mass", "20")


def test_a_link_of_another_edition_says_what_it_could_not_use(device, base):
    page = device()
    section = open_live(
        page, base + "lane/feeding.html#plan?lane_length=14+ft&worm_mass=9000000+lb&gap=x&of_old=3&units=us"
    )
    wait_for(section.locator(".calc-linked"), "lane length")
    told = " ".join(section.locator(".calc-linked li").all_inner_texts())
    assert (
        "Worms must be between" in told
        and "“9000000 lb”" in told
        and "“x”" in told
        and "“of_old” is not asked for here" in told
    )
    has(section, "lane_length", "14")
    has(section, "worm_mass", "10")
    assert section.locator(".calc-summary").is_hidden()


def test_a_link_with_a_long_table(device, base):
    sender = device()
    section = open_live(sender, base + "records/lane.html")
    rows = [f"2027-{1 + day // 28:02d}-{1 + day % 28:02d} 08:00,{3 + day % 5},,,{18 + day % 7}," for day in range(250)]
    area = section.locator('textarea[name="log"]')
    area.evaluate(
        "(area, text) => { area.value = text; area.dispatchEvent(new Event('change', { bubbles: true })); }",
        "time,feed (kg),castings (kg),moisture (%),temperature (C),water (kg)\n" + "\n".join(rows),
    )
    settled(sender)
    link = copied_link(sender)
    assert len(link) > 8000
    told = "so long that some programs will cut it" if base.startswith("http") else "opens only on this device"
    wait_for(section.locator(".calc-status"), told)
    receiver = device()
    open_live(receiver, link)
    wait_for(receiver.locator(".calc-linked"), "daily log")
    same_numbers(answer_of(receiver), answer_of(sender))


# ---- storage


@pytest.mark.parametrize(
    ("script", "told"), [(REFUSED, "does not keep your values"), (FULL, "no room left")], ids=["refused", "full"]
)
def test_without_storage_the_plan_travels_in_the_address(device, base, script, told):
    page = device(script)
    section = open_live(page, base + "lane/starter.html")
    edit(section, "lane_length", "13")
    wait_for(section.locator(".calc-status"), told)
    page.locator('.md-content a[href*="feeding.html"]').first.click()
    page.wait_for_url(re.compile(r"feeding\.html"))
    page.wait_for_selector('section.calc[data-calculator="lane.feeding"][data-state="live"]', timeout=PATIENCE)
    section = page.locator("section.calc").first
    has(section, "lane_length", "13")
    page.reload()
    page.wait_for_selector(LIVE, timeout=PATIENCE)
    section = page.locator("section.calc").first
    has(section, "lane_length", "13")
    edit(section, "lane_length", "15")
    settled(page)
    page.reload()
    page.wait_for_selector(LIVE, timeout=PATIENCE)
    section = page.locator("section.calc").first
    has(section, "lane_length", "15")
    # A link that sets values takes the plan along and leaves it alone.
    page.evaluate(
        """(address) => { const link = Object.assign(document.createElement("a"), { href: address });
            document.querySelector("article").append(link); link.click(); }""",
        base + "lane/starter.html#plan?lane_width=3+ft&units=us",
    )
    page.wait_for_selector('section.calc[data-calculator="lane.starter"][data-state="live"]', timeout=PATIENCE)
    section = page.locator("section.calc").first
    wait_for(section.locator(".calc-linked"), "lane width")
    section.locator('.calc-linked [data-action="own"]').click()
    has(section, "lane_length", "15")
    has(section, "lane_width", "4")


def test_without_storage_search_works(device, address):
    page = device(REFUSED)
    page.goto(address + "questions.html")
    page.locator(".md-search__input").click()
    page.keyboard.type("worms")
    page.locator(".search-found li").first.wait_for(timeout=20_000)
    assert not page.said


def test_an_address_with_somebody_elses_plan_changes_nothing(device, address):
    page = device()
    section = open_live(page, address + "lane/starter.html")
    edit(section, "lane_length", "13")
    settled(page)
    carried = json.dumps([["value lane_length: Lane length", 9e15, {"text": "50 ft", "plan": "50 ft"}]])
    page.goto("about:blank")
    section = open_live(page, address + "lane/starter.html#mine?mine=" + carried)
    has(section, "lane_length", "13")


def test_prices_in_other_money_stand_with_their_sign_and_are_told(device, address):
    """A browser kept them before the handbook went over to other money: nothing is exchanged, nothing renamed."""
    page = device()
    section = open_live(page, address + "economics/cash.html")
    page.evaluate(
        """() => {
          const { plan } = document.querySelector('.calc-form [name="opening_cash"]').dataset;
          handbookState.put("value", plan, { text: "35", plan: "35" });
          handbookState.put("plan", "currency", "€");
        }"""
    )
    page.reload()
    page.wait_for_selector(LIVE, timeout=PATIENCE)
    wait_for(section.locator(".calc-summary"), "cannot be given in €")
    has(section, "opening_cash", "€35")


def test_two_copies_on_one_host_keep_two_plans(device, address):
    page = device()
    other = address + "other/"
    page.route(
        other + "**", lambda route: route.fulfill(response=route.fetch(url=route.request.url.replace(other, address)))
    )
    page.route(re.compile(r"/(python|library)\.\w+\.\w+$"), lambda route: route.abort())  # nothing is worked out here
    for top, stands, text in ((address, "40", "61"), (other, "40", "83"), (address, "61", ""), (other, "83", "")):
        page.goto(top + "moisture/adjust.html")
        page.wait_for_selector("section.calc[data-attached]")
        has(page.locator("section.calc"), "mass", stands)
        if text:
            field(page.locator("section.calc"), "mass").fill(text)


# ---- what an answer hands over


def test_a_result_is_used_in_the_next_question(device, base):
    page = device()
    section = open_live(page, base + "feed/recipe.html")
    link = section.locator(".calc-leads a[data-hand]", has_text="get hot enough")
    handed = list(json.loads(link.get_attribute("data-hand")).values())
    link.click()
    page.wait_for_selector('section.calc[data-calculator="feed.hot_phase"][data-state="live"]', timeout=PATIENCE)
    section = page.locator("section.calc").first
    origin = section.locator('.calc-field[data-input="starting_carbon_nitrogen"] .calc-origin')
    origin.wait_for()
    assert "What do I mix" in origin.inner_text()
    assert [field(section, "starting_carbon_nitrogen").input_value()] == handed
    sheet = open_plan(page, base)
    wait_for(sheet.locator(".plan-set"), "From: What do I mix")
    section = open_live(page, base + "feed/hot-phase.html")
    edit(section, "starting_carbon_nitrogen", "31")
    settled(page)
    assert section.locator(".calc-origin").count() == 0
    page.reload()
    page.wait_for_selector(LIVE, timeout=PATIENCE)
    settled(page)
    assert page.locator(".calc-origin").count() == 0 and not page.said


def test_what_is_handed_over_follows_the_figures(device, base):
    page = device()
    section = open_live(page, base + "breeding/trays.html")
    edit(section, "trays_per_week", "9")
    wait_for(section.locator(".calc-leads"), "worms wanted 101.2 lb")


# ---- QR


def pixels(page, size=600):
    """Grey values of the code that is shown, as a camera would have them."""
    grey = page.evaluate(
        """(size) => new Promise((done) => {
      const svg = new XMLSerializer().serializeToString(document.querySelector(".calc-code svg")).replace("<svg",
          `<svg width="${size}" height="${size}"`);
      const image = new Image();
      image.onload = () => {
        const canvas = Object.assign(document.createElement("canvas"), { width: size, height: size });
        const brush = canvas.getContext("2d");
        brush.drawImage(image, 0, 0, size, size);
        done([...brush.getImageData(0, 0, size, size).data].filter((_, place) => place % 4 === 0));
      };
      image.src = "data:image/svg+xml," + encodeURIComponent(svg);
    })""",
        size,
    )
    return numpy.array(grey, dtype=numpy.uint8).reshape(size, size)


def test_the_code_says_what_the_link_says(device, base):
    page = device()
    section = open_live(page, base + "garden/index.html")
    edit(section, "bag_volume", "25 L")
    settled(page)
    link = copied_link(page)
    section.locator('[data-action="code"]').click()
    section.locator(".calc-code svg").wait_for()
    assert [found.text for found in zxingcpp.read_barcodes(pixels(page))] == [link]
    assert section.locator(".calc-code", has_text="leads nowhere for others").count() == (
        0 if base.startswith("http") else 1
    )
    with page.expect_download() as waiting:
        section.locator('.calc-code button:text-is("Save as SVG")').click()
    assert waiting.value.suggested_filename == "garden.dose-qr.svg"
    assert open(waiting.value.path(), encoding="utf-8").read().startswith("<svg xmlns=")
    page.evaluate("window.print = () => {}")
    section.locator('.calc-code button:text-is("Print the code")').click()
    page.emulate_media(media="print")
    assert page.locator("body > .calc-code svg").is_visible() and page.locator("h1:visible").count() == 0
    page.emulate_media(media="screen")
    page.evaluate("dispatchEvent(new Event('afterprint'))")
    assert page.locator(".calc-code").count() == 1
    section.locator('.calc-code button:text-is("Close")').click()
    assert section.locator(".calc-code").count() == 0
    assert page.evaluate("document.activeElement.dataset.action") == "code" and not page.said


def test_a_link_too_long_for_a_code_is_told(device, base):
    page = device()
    section = open_live(page, base + "records/chart.html")
    edit(section, "values", ", ".join(str(1000 + number % 17) for number in range(500)))
    settled(page)
    section.locator('[data-action="code"]').click()
    wait_for(section.locator(".calc-code"), "a QR code holds 2,331")
