"""The live calculators in a real browser, served and opened from disk: edits, errors, units, keeping, links, and the same digits as here."""

import json

import pytest

import calc

LIVE = 'section.calc[data-state="live"]'
PATIENCE = 30_000


@pytest.fixture(scope="module", params=["http", "disk"])
def base(request, address, site):
    """Where the handbook stands: behind a server, or in a folder opened by double-click."""
    return address if request.param == "http" else site.as_uri() + "/"


@pytest.fixture
def page(browser, base):
    context = browser.new_context(viewport={"width": 1000, "height": 900}, accept_downloads=True)
    page = context.new_page()
    page.asked, page.said = [], []
    page.on("request", lambda request: page.asked.append(request.url))
    page.on("console", lambda message: page.said.append(message.text) if message.type in ("error", "warning") else None)
    page.on("pageerror", lambda error: page.said.append(str(error)))
    yield page
    context.close()


def open_live(page, base, name):
    page.goto(base + name)
    page.wait_for_selector(LIVE, timeout=PATIENCE)
    return page.locator("section.calc").first


def field(section, name):
    return section.locator(f'.calc-field[data-input="{name}"] [name="{name}"]')


def edit(section, name, text):
    """Type into a field and leave it."""
    field(section, name).fill(text)
    field(section, name).press("Tab")


def headline(section, label):
    return section.locator(f'.calc-main dt:text-is("{label}") + dd output').first


def wait_for(locator, text):
    locator.filter(has_text=text).wait_for(timeout=5000)


def test_an_edit_is_answered(page, base):
    section = open_live(page, base, "moisture/adjust.html")
    assert headline(section, "Water to add").inner_text() == "32 lb"
    edit(section, "mass", "100")
    wait_for(headline(section, "Water to add"), "80 lb")
    assert section.locator(".calc-figure svg").count() >= 1
    edit(section, "mass", "50 kg")
    wait_for(headline(section, "Water to add"), "88.2 lb")
    assert not page.said


def test_a_wrong_field_is_told_when_it_is_left_and_the_last_answer_stays(page, base):
    section = open_live(page, base, "moisture/adjust.html")
    field(section, "moisture").fill("355")
    page.wait_for_timeout(500)
    assert not section.locator(".calc-summary").is_visible(), "not while typing"
    field(section, "moisture").press("Tab")
    error = section.locator('.calc-field[data-input="moisture"] .calc-error')
    error.wait_for(state="visible")
    assert error.inner_text() == "Moisture now must be between 0 % and 99 %."
    assert field(section, "moisture").get_attribute("aria-invalid") == "true"
    assert error.get_attribute("id") in field(section, "moisture").get_attribute("aria-describedby")
    assert headline(section, "Water to add").inner_text() == "32 lb"
    assert section.get_attribute("data-stale") is not None
    edit(section, "target", "dry")
    wait_for(section.locator(".calc-summary"), "2 values need another look")
    section.locator(".calc-summary a").first.click()
    assert page.evaluate("document.activeElement.name") == "moisture"
    assert field(section, "target").input_value() == "dry", "what was typed is kept"
    edit(section, "moisture", "50")
    edit(section, "target", "75")
    wait_for(headline(section, "Water to add"), "40 lb")
    assert section.get_attribute("data-stale") is None and not section.locator(".calc-summary").is_visible()


def test_units_there_and_back_lose_nothing(page, base):
    section = open_live(page, base, "moisture/adjust.html")
    edit(section, "mass", "37.5")
    wait_for(headline(section, "Water to add"), "30 lb")
    section.locator('[data-action="units"]').click()
    wait_for(headline(section, "Water to add"), "13.6 kg")
    assert float(field(section, "mass").input_value()) == pytest.approx(37.5 * 0.45359237, rel=1e-6)
    section.locator('[data-action="units"]').click()
    wait_for(headline(section, "Water to add"), "30 lb")
    assert float(field(section, "mass").input_value()) == pytest.approx(37.5)


def test_keep_compare_and_reset(page, base):
    section = open_live(page, base, "moisture/adjust.html")
    section.locator('[data-action="keep"]').click()
    section.locator(".calc-compared").wait_for()
    edit(section, "mass", "80")
    wait_for(section.locator(".calc-compared"), "+100 %")
    section.locator('[data-action="unkeep"]').click()
    section.locator(".calc-compared").wait_for(state="detached")
    section.locator('[data-action="reset"]').click()
    wait_for(headline(section, "Water to add"), "32 lb")


def test_values_follow_to_other_pages_and_past_a_reload(page, base):
    section = open_live(page, base, "index.html")
    edit(section, "lane_length", "12")
    wait_for(section.locator(".calc-reading"), "12 ft")
    section = open_live(page, base, "lane/feeding.html")
    assert float(field(section, "lane_length").input_value()) == pytest.approx(12)
    page.reload()
    page.wait_for_selector(LIVE, timeout=PATIENCE)
    assert float(field(page.locator("section.calc").first, "lane_length").input_value()) == pytest.approx(12)


def test_a_link_carries_only_what_was_changed(page, base):
    section = open_live(page, base, "moisture/adjust.html")
    edit(section, "mass", "61")
    wait_for(headline(section, "Water to add"), "48.8 lb")
    link = page.evaluate("""() => new Promise((done) => {
      navigator.clipboard.writeText = async (text) => done(text);
      document.querySelector('[data-action="share"]').click();
      document.execCommand = () => done(document.activeElement.value);
    })""")
    assert link.endswith("#plan?mass=61+lb&units=us")
    fresh = page.context.browser.new_context()
    other = fresh.new_page()
    section = open_live(other, "", link)
    wait_for(headline(section, "Water to add"), "48.8 lb")
    wait_for(section.locator(".calc-status"), "weight of the bedding")
    fresh.close()


def test_aim_moves_and_range(page, base):
    section = open_live(page, base, "breeding/trays.html")
    aim = section.locator('[data-explore="aim"]')
    aim.locator("summary").click()
    aim.locator('[name="output"]').select_option("worm_mass_per_week")
    aim.locator('[name="wanted"]').fill("20")
    aim.locator('[name="vary"]').select_option("trays_per_week")
    aim.locator("button").click()
    wait_for(aim.locator(".calc-found"), "at 7.272")
    for kind in ("moves", "range"):
        panel = section.locator(f'[data-explore="{kind}"]')
        panel.locator("summary").click()
        panel.locator("button").click()
        panel.locator(".calc-found svg:visible").first.wait_for()


def test_files_to_take_away(page, base):
    section = open_live(page, base, "breeding/trays.html")
    for action, ending, inside in (("csv", ".csv", "Trays in the rooms"), ("calendar", ".ics", "BEGIN:VEVENT")):
        with page.expect_download() as waiting:
            section.locator(f'[data-action="{action}"]').click()
        assert waiting.value.suggested_filename == f"breeding.trays{ending}"
        assert inside in open(waiting.value.path(), encoding="utf-8").read()


def test_a_table_is_edited_cell_by_cell(page, base):
    section = open_live(page, base, "harvest/screen.html")
    before = headline(section, "Fine castings to sell").inner_text()
    cell = section.locator('.calc-field[data-input="sieves"] .calc-rows tbody tr').first.locator("input").nth(1)
    cell.fill("500")
    cell.press("Tab")
    page.wait_for_timeout(800)
    assert headline(section, "Fine castings to sell").inner_text() != before


def test_by_keyboard_alone(page, base):
    section = open_live(page, base, "moisture/adjust.html")
    field(section, "mass").focus()
    page.keyboard.press("Control+a")
    page.keyboard.type("90")
    page.keyboard.press("Enter")
    wait_for(headline(section, "Water to add"), "72 lb")
    for _ in range(40):
        page.keyboard.press("Tab")
        if page.evaluate("document.activeElement.dataset?.action") == "reset":
            break
    page.keyboard.press("Enter")
    wait_for(headline(section, "Water to add"), "32 lb")


def test_nothing_outside_is_asked_for(page, base):
    open_live(page, base, "economics/cash.html")
    outside = [url for url in page.asked if not url.startswith((base, "blob:", "data:", "file:"))]
    assert outside == []
    assert not page.said


def test_same_digits_here_and_in_the_page(page, base):
    """Every calculator with its defaults, in the page's own Python: the same twelve digits, tables and sentences too."""
    open_live(page, base, "moisture/adjust.html")
    calls = [{"call": "answer", "args": {"calculator": id, "values": {}, "units": "metric", "currency": "$", "raw": True}} for id in calc.calculators()]
    texts = page.evaluate(
        """async (calls) => { const found = []; for (const { call, args } of calls) found.push(await handbookPython.ask(call, args)); return found; }""", calls)  # fmt: skip
    for asked, answer in zip(calls, texts):
        id = asked["args"]["calculator"]
        ours = json.loads(json.dumps(calc.run(id, {}, units="metric")))
        for part in ("inputs", "outputs", "tables", "warnings", "reading"):
            assert answer["raw"][part] == ours[part], f"{id}: {part}"
