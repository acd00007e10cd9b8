"""Measures of the text: written in both systems, marked, and the reader's own stands alone where there is a script."""

import re

import measures
import pytest
import tree

OWN_COLUMNS = ("climate/temperature.html", "lane/herd.html")
"""Tables in which each system has a column or a half of its own."""


@pytest.mark.parametrize(
    "written",
    [
        "4 ft (1.2 m)", "3 to 4 ft (0.9 to 1.2 m)", "about 1,000 lb (450 kg)", "86 °F (30 °C)", "half an inch (13 mm)",
        "1 lb/ft² (5 kg/m²)", "20–25 °C (68–77 °F)", "4 ft by 18 in (1.2 m by 45 cm)", "two inches (5 cm)",
    ],
)  # fmt: skip
def test_a_pair_is_marked_and_nothing_is_lost(written):
    found = measures.marked(f"Take {written}, and wait.")
    assert found.count('class="measure"') == 1 and re.sub("<[^>]+>", "", found) == f"Take {written}, and wait."


@pytest.mark.parametrize(
    "text", ["in 4 weeks (30 days)", "see 3 (a table)", "5 in 10 (half)", "a yard (see below)", "R 13 (dry)"]
)
def test_what_is_no_pair_is_left(text):
    assert measures.marked(text) == text


def test_code_forms_and_drawings_are_left():
    said = "4 ft (1.2 m) &amp; 3\nft (1 m)"
    left = f"<pre>{said}</pre><svg><text>{said}</text></svg><section><p>{said}</p></section>"
    page = tree.Page("page.html", f"<article><p>{said}</p>{left}</article>")
    measures.mark(page)
    made = page.one("article").html
    assert made.endswith(f"{left}</article>") and len(page.all("p .measure")) == 2 and " &amp; <span" in made


def test_prose_is_marked_nearly_everywhere(site, names):
    """What is left alone is little: sums that are carried on in both systems, and measures with more in their
    brackets.
    """
    pairs, alone = 0, []
    for name in names:
        if name.startswith("method/") or name in (*OWN_COLUMNS, "customers.html"):
            continue
        text = (site / name).read_text(encoding="utf-8")
        pairs += text.count('class="measure"')
        page = tree.Page(name, text)
        for pair in page.all(".measure"):
            pair.decompose()
        alone += [lone for part in measures.prose(page) for lone in measures.LONE.findall(measures.folded(part))]
    assert pairs > 200 and len(alone) < pairs / 6, alone


def test_the_reader_s_own_stands_alone(browser, address):
    page = browser.new_page()
    page.goto(address + "lane/starter.html")
    both = page.locator("article > p .measure").first
    us, metric = both.locator(".in-us"), both.locator(".in-metric")
    assert us.is_visible() and not metric.is_visible()
    both.click()
    assert us.is_visible() and metric.is_visible()
    both.click()
    page.check('[name="handbook-units"][value="metric"]', force=True)
    assert metric.is_visible() and not us.is_visible()
    page.emulate_media(media="print")
    assert metric.is_visible() and us.is_visible()
    page.close()


def test_without_script_both_stand(browser, address):
    page = browser.new_context(java_script_enabled=False).new_page()
    page.goto(address + "lane/starter.html")
    both = page.locator("article > p .measure").first
    assert both.locator(".in-us").is_visible() and both.locator(".in-metric").is_visible()
    page.close()
