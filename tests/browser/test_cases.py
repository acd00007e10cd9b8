"""Each of the eight cases leads from its link to a finished plan, without a figure being typed: the link is pressed on
the page of cases, its figures are taken over, and they stand in the plan and on the pages that ask for them too.
"""

import re
from urllib.parse import parse_qsl, urljoin, urlsplit

import bootstrap
import pytest
from playwright.sync_api import expect

LIVE = 'section.calc[data-state="live"]'
PATIENCE = 30_000
TEXT = (bootstrap.ROOT / "docs" / "cases.md").read_text(encoding="utf-8")
CASES = re.findall(r"^## ([^{\n]+)", TEXT, re.MULTILINE)
THEN = {
    "lane/starter.html": ["lane/feeding.html", "start.html", "climate/water.html"],
    "lane/output.html": ["economics/unit-cost.html"],
    "breeding/trays.html": ["economics/unit-cost.html"],
    "garden/worms.html": [],
    "feed/recipe.html": ["feed/index.html"],
}
"""Pages that ask for figures of the case too."""


def stands(page, name):
    """What stands in the field of that name, or None where the page does not ask for it."""
    field = page.locator(f'{LIVE} .calc-field[data-input="{name}"] [name="{name}"]').first
    return field.input_value() if field.count() else None


def test_there_are_eight_cases():
    assert len(CASES) == 8


@pytest.mark.parametrize("case", CASES, ids=[re.sub(r"\W+", "-", case.strip().lower()) for case in CASES])
def test_a_case_leads_to_a_finished_plan(browser, address, case):
    context = browser.new_context()
    page = context.new_page()
    page.goto(address + "cases.html")
    heading = page.locator("article h2", has_text=case.strip())
    link = heading.locator("xpath=following-sibling::p[1]").locator('a[href*="#plan?"]').first
    target = urlsplit(urljoin(address + "cases.html", link.get_attribute("href")))
    opened = target.path.removeprefix(urlsplit(address).path)
    wanted = dict(parse_qsl(target.fragment.removeprefix("plan?")))
    wanted.pop("units")
    link.click()
    page.wait_for_url(f"**/{opened}*")
    page.locator(f'{LIVE} .calc-linked [data-action="take"]').click(timeout=PATIENCE)
    page.locator(".calc-linked").wait_for(state="detached")
    expect(page.locator("[data-pending], [data-stale]")).to_have_count(0, timeout=PATIENCE)
    texts = {name: stands(page, name) for name in wanted if name != "materials"}
    assert all(wanted[name].startswith(text) and text for name, text in texts.items()), texts
    main = page.locator(f"{LIVE} .calc-main output").first.inner_text()
    assert re.search(r"\d", main), "the page answers"

    page.goto(address + "plan.html")
    page.locator(".plan-set tbody tr").first.wait_for(timeout=PATIENCE)
    plan = page.locator(".plan-set").inner_text()
    for text in texts.values():
        if re.match(r"[\d.]", text):
            assert text in plan
    for name in THEN[opened]:
        page.goto(address + name)
        page.wait_for_selector(LIVE, timeout=PATIENCE)
        expect(page.locator("[data-pending]")).to_have_count(0, timeout=PATIENCE)
        found = {name: stands(page, name) for name in texts}
        asked = {name: text for name, text in found.items() if text is not None}
        assert asked == {name: texts[name] for name in asked}, f"{name} has other figures"
    context.close()
