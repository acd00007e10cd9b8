"""The farm's pages in a browser: today by a button; one calculator in a frame of another site."""

import re
from datetime import date

import pytest
from playwright.sync_api import expect


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
