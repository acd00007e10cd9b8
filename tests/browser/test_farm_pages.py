"""The farm's pages in a browser: today by a button; one calculator in a frame of another site."""

import json
import re
from datetime import date, timedelta

import pytest
from playwright.sync_api import expect

import calc
from calc.page import respond
from calc.page.form import plan_key


@pytest.fixture
def page(browser):
    context = browser.new_context()
    yield context.new_page()
    context.close()


def live(page, address, name):
    page.goto(address + name)
    section = page.locator("section.calc").first
    expect(section).to_have_attribute("data-state", "live", timeout=60000)
    return section


def test_today_is_put_in_by_its_button_and_answers(page, address):
    section = live(page, address, "farm/week.html")
    section.locator("[data-today]").click()
    today = page.evaluate("new Date(Date.now() - new Date().getTimezoneOffset() * 60000).toISOString().slice(0, 10)")
    expect(section.locator('input[name="today"]')).to_have_value(today)
    assert abs((date.fromisoformat(today) - date.today()).days) <= 1
    day = date.fromisoformat(today)
    expect(section.locator(".calc-answer")).to_contain_text(f"{day.day} {day:%B %Y}", timeout=60000)


def test_who_has_just_typed_a_lane_writes_a_row_on_the_day_that_it_is(page, address):
    """The demo farm's day still stands in the field then, and is not the reader's."""
    page.clock.set_fixed_time("2027-02-03T08:00:00")
    section = live(page, address, "farm/week.html")
    expect(section.locator('input[name="today"]')).to_have_value("2027-05-31")
    section.locator(".calc-form td input").first.fill("Quay lane")
    section.locator(".calc-form td input").first.press("Tab")
    section.locator(".logbook-places button", has_text="Quay lane").click()
    section.locator(".logbook-words button", has_text=re.compile("^Fed$")).click()
    section.locator('[name="logbook-amount"]').fill("44")
    section.locator(".logbook-write").click()
    expect(section.locator(".logbook-said")).to_contain_text("feed 44 lb, Quay lane, 2027-02-03", timeout=60000)


LOG_KEY = plan_key("log", calc.find("farm.week").inputs["log"])
TOLD = """() => {
  const post = Worker.prototype.postMessage;
  globalThis.told = [];
  Worker.prototype.postMessage = function (message, ...more) {
    if (message.args) told.push(message.args.length);
    post.call(this, message, ...more);
  };
}"""
ANSWERED = """async () => {
  const section = document.querySelector("section.calc"), values = {}, { calculator, shown, units } = section.dataset;
  for (const { name, value, dataset } of section.querySelectorAll("[data-default]")) {
    if (value !== dataset.default) values[name] = value;
  }
  const asked = { calculator, values, units: shown ?? units, currency: "$" };
  return [asked, (await handbookPython.ask("answer", asked)).html];
}"""


def test_a_long_logbook_is_told_to_python_once_and_again_to_another(page, address):
    """A row more is told by itself. A Python that was ended and begins anew gets the whole."""
    days = [date(2026, 1, 5) + timedelta(days=at) for at in range(400)]
    rows = [f"{day},North lane,{what},{day.day + 5},lb,🪱" for day in days for what in ("feed", "water", "note")]
    text = "\n".join(["date,place,what,amount,unit,note", *rows])
    page.clock.set_fixed_time("2027-02-11T08:00:00")
    page.add_init_script(f"({TOLD})()")
    page.goto(f"{address}licences.html")
    page.evaluate("([key, text]) => handbookState.put('value', key, { text, units: 'us' })", [LOG_KEY, text])
    section = live(page, address, "farm/week.html")

    def write(amount):
        section.locator(".logbook-places button", has_text="North lane").click()
        section.locator(".logbook-words button", has_text=re.compile("^Fed$")).click()
        section.locator('[name="logbook-amount"]').fill(amount)
        section.locator(".logbook-write").click()
        said = f"feed {amount} lb, North lane, 2027-02-11"
        expect(section.locator(".logbook-said")).to_contain_text(said, timeout=60000)
        expect(section).not_to_have_attribute("data-pending", "", timeout=60000)
        return page.evaluate("told.splice(0)")

    def belongs():
        asked, shown = page.evaluate(ANSWERED)
        assert asked["values"]["log"].startswith(text)
        assert shown == json.loads(respond("answer", json.dumps(asked)))["html"]
        page.evaluate("told.length = 0")

    expect(section).not_to_have_attribute("data-pending", "", timeout=60000)
    assert max(page.evaluate("told.splice(0)")) > len(text)
    assert max(write("44")) < 5000
    belongs()
    page.evaluate("handbookPython.stop()")
    assert max(write("45")) > len(text)
    assert max(write("46")) < 5000
    belongs()


LEAVES = """([key, text, more]) => {
  handbookState.change((put) => put("value", key, { text: text + more, units: "us" }));
  location.href = "farm/index.html";
}"""


def test_a_row_of_a_long_logbook_is_taken_back_on_the_next_page(page, address):
    """What stood before is as long as the logbook and is written a moment later, also when the page is left at once."""
    text = "\n".join(["date,place,what,amount,unit", *["2027-02-01,North lane,feed,44,lb"] * 1000])
    page.goto(f"{address}licences.html")
    page.evaluate("([key, text]) => handbookState.put('value', key, { text, units: 'us' })", [LOG_KEY, text])
    page.evaluate(LEAVES, [LOG_KEY, text, "\n2027-02-02,North lane,feed,45,lb"])
    page.wait_for_url("**/farm/index.html")
    page.wait_for_function("globalThis.handbookState?.canUndo")
    assert page.evaluate("(key) => handbookState.value(key).text", LOG_KEY).endswith("45,lb")
    page.evaluate("handbookState.undo()")
    assert page.evaluate("(key) => handbookState.value(key).text", LOG_KEY) == text


def test_one_calculator_stands_alone_in_a_frame(page, address):
    section = live(page, address, "garden/index.html?only")
    expect(page.locator("header.head")).to_be_hidden()
    expect(page.locator("footer.foot")).to_be_hidden()
    expect(page.locator("h1")).to_be_hidden()
    expect(section).to_be_visible()
    expect(section.locator('[data-action="embed"]')).to_be_hidden()


def test_the_snippet_frames_the_page_without_the_readers_values(page, address):
    page.context.grant_permissions(["clipboard-read", "clipboard-write"])
    section = live(page, address, "garden/index.html")
    section.locator('[data-action="embed"]').click()
    expect(section.locator(".calc-status")).to_contain_text(re.compile("Copied|<iframe"))
    said = page.evaluate("navigator.clipboard.readText()")
    assert said.startswith("<iframe ") and "garden/index.html?only" in said and "#" not in said


def test_on_a_phone_every_line_of_the_week_shows_its_button(browser, address):
    context = browser.new_context(viewport={"width": 390, "height": 844}, has_touch=True)
    section = live(context.new_page(), address, "farm/week.html")
    ends = section.locator(".calc-tick button").evaluate_all(
        "all => all.map((one) => one.getBoundingClientRect()).map(({ left, right }) => [left, right])"
    )
    context.close()
    assert len(ends) > 10 and all(0 <= left < right <= 390 for left, right in ends), ends


def test_one_table_goes_on_paper_alone(page, address):
    page.add_init_script(
        "window.print = () => { window.onPaper = [...document.querySelectorAll('details.alone > summary')]"
        ".map((one) => one.textContent.trim()); }"
    )
    section = live(page, address, "farm/week.html")
    section.locator('.calc-first [data-action="alone"]').click()
    page.wait_for_function("window.onPaper !== undefined")
    assert page.evaluate("window.onPaper") == ["Due, what is late first"]
    assert page.locator(".alone").count() == 0


def test_a_kept_answer_is_there_again_after_a_reload(page, address):
    section = live(page, address, "farm/stock.html")
    section.locator('[data-action="keep"]').click()
    expect(section.locator(".calc-compared")).to_be_visible(timeout=60000)
    page.reload()
    expect(page.locator("section.calc .calc-compared").first).to_be_visible(timeout=60000)


def test_a_farms_copy_opens_on_todays_day_however_late_its_script_comes(page, address):
    """What the script sets at once is heard whether the page was read to its end before it came or not."""
    held = []

    def as_in_a_farms_copy(route):
        body = route.fetch().text()
        assert 'data-today=""' in body
        route.fulfill(body=body.replace('data-today=""', 'data-today="own"'), content_type="text/html")

    def hold(route):
        held.append(route)

    page.clock.set_fixed_time("2027-06-14T08:00:00")
    page.route(re.compile(r"/farm/week\.html"), as_in_a_farms_copy)
    page.route(re.compile(r"/runtime/page\.[0-9a-f]+\.js"), hold)
    page.goto(f"{address}farm/week.html", wait_until="domcontentloaded")
    page.wait_for_function("document.readyState !== 'loading'")
    assert held
    held[0].continue_()
    expect(page.locator('input[name="today"]')).to_have_value("2027-06-14", timeout=60000)
    expect(page.locator(".calc-reading")).to_contain_text("14 June 2027", timeout=60000)
