"""The year as contents: by the reader's own dates, opening at today, and on one page of paper."""

import re
from datetime import datetime

import pytest

from calc.engine.run import answer
from calc.lane.year import PAGES, tasks


def test_every_task_leads_to_its_place(site):
    assert {what for what, *_ in tasks(answer("lane.year"))} <= set(PAGES)
    for page in PAGES.values():
        name, _, place = page.partition("#")
        text = (site / name).read_text(encoding="utf-8")
        assert not place or f'id="{place}"' in text, page


@pytest.mark.parametrize(
    ("day", "said", "rows"),
    [
        ("2027-07-10", "Today: Shade and water, Feed in thin layers, Heap of feed", 3),
        ("2027-01-01", "Today nothing yet: it begins on 20 March 2027.", 0),
        ("2029-01-01", "Today is after this year.", 0),
    ],
)
def test_it_opens_at_today(browser, address, day, said, rows):
    page = browser.new_page(viewport={"width": 390, "height": 800})
    page.clock.set_fixed_time(datetime.fromisoformat(f"{day}T10:00"))
    page.goto(address + "year.html")
    now = page.locator(".calc-now")
    now.wait_for()
    assert " ".join(now.inner_text().split()) == said
    assert page.locator('tr[aria-current="date"]').count() == rows
    assert now.bounding_box()["y"] < 800, "it is on the screen"
    page.close()


def test_a_link_of_today_leads_to_its_page(browser, address):
    page = browser.new_page()
    page.clock.set_fixed_time(datetime(2027, 7, 10, 10))
    page.goto(address + "year.html")
    links = page.locator(".calc-now a").evaluate_all("links => links.map(({ href }) => href)")
    assert links == [address + PAGES[what] for what in ("Shade and water", "Feed in thin layers", "Heap of feed")]
    page.close()


def test_on_paper_it_is_one_page_with_every_task(browser, address):
    page = browser.new_page()
    page.goto(address + "year.html")
    page.emulate_media(media="print")
    shown = page.locator("tbody:has([data-day])")
    assert shown.is_visible() and shown.locator("tr").count() >= 10
    assert not page.locator(".calc-ask").is_visible()
    for size in ("A4", "Letter"):
        assert len(re.findall(rb"/Type\s*/Page\b(?!s)", page.pdf(format=size))) == 1
    page.close()
