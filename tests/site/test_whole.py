"""The whole handbook on one page for paper: every page once and in order, answers there, no script, no field, no dead
link.
"""

import json
import re
from collections import Counter

import pytest
import whole

import calc

SECTION = re.compile(r'<section (?=[^>]*class="whole-page)[^>]*\bid="([\w-]+)"')
LIVE_ONLY = {"plan.html", "missing.html", "records/posters.html", "method/intact.html"}
"""Pages that hold nothing to print: the reader's plan, what is said where the kept copy lacks a page, and drawings that
stand in their chapters.
"""


@pytest.fixture(scope="module")
def book(site):
    return (site / whole.NAME).read_text(encoding="utf-8")


def slug(name):
    return name.removesuffix(".html").replace("/", "-")


def test_every_page_stands_in_it_once(book, names):
    held = SECTION.findall(book)
    assert sorted(held) == sorted(slug(name) for name in names if name not in LIVE_ONLY)
    contents = re.search(r"<nav [^>]*whole-contents.*?</nav>", book, re.DOTALL)[0]
    assert re.findall(r'href="#([\w-]+)"', contents) == held, "the contents list the pages in their order"


def test_ids_are_unique_and_links_resolve(book, site):
    ids = re.findall(r'\sid="([^"]+)"', book)
    assert [id for id, times in Counter(ids).items() if times > 1] == []
    dead = [
        link
        for link in re.findall(r'\shref="([^"]+)"', book)
        if not ((link[1:] in ids) if link.startswith("#") else (site / link.split("#")[0]).is_file())
    ]
    assert dead == []
    assert set(re.findall(r"url\(#([^)]+)\)", book)) <= set(ids), "what a drawing refers to is there"


def test_nothing_in_it_needs_a_script(book):
    assert not re.search(r"<(script|button|input|select|textarea|form|details)\b", book)
    assert not re.search(r"\son\w+=", book)


def test_every_answer_is_there(book, site, names):
    pages = "".join((site / name).read_text(encoding="utf-8") for name in names if name not in LIVE_ONLY)
    for part in ('class="calc-main"', 'class="calc-reading"', "calc-cautions", 'class="calc-value"'):
        assert book.count(part) == pages.count(part), part
    assert book.count('class="calc-given"') == pages.count('class="calc-form"')
    assert book.count("figure-wide") == pages.count('figure-wide"') and "figure-narrow" not in book


def test_values_stand_beside_their_labels(book):
    form = book[book.index('id="moisture-adjust"') :]
    assert re.search(r"<dt>Moisture now</dt><dd>55 %</dd>", form)
    mix = book[book.index('id="feed-recipe"') :]
    assert re.search(r'<th scope="col">Mass \(lb\)</th>', mix) and "<td>autumn leaves</td><td>130</td>" in mix


def test_it_is_neither_searched_nor_kept(site):
    for place in ("sitemap.xml", "sw.js"):
        assert whole.NAME not in (site / place).read_text(encoding="utf-8"), place
    searched = json.loads((site / "search" / "search_index.json").read_text(encoding="utf-8"))
    assert not any(entry["location"].startswith(whole.NAME) for entry in searched["docs"])


def test_it_is_linked_and_opens_from_disk(browser, site):
    page = browser.new_page(java_script_enabled=False)
    said = []
    page.on("console", lambda message: said.append(message.text))
    page.goto((site / "method" / "copy.html").as_uri())
    page.get_by_role("link", name="The whole handbook on one page").click()
    page.wait_for_url("**/print.html")
    assert page.locator(".whole-cover h1").inner_text() == "The Lane Handbook"
    assert page.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth") <= 0
    page.get_by_role("link", name="Adjusting moisture").click()
    assert page.url.endswith("#moisture-adjust")
    page.close()
    assert not said


def test_tables_of_the_book_are_read_as_the_page_reads_them(book, tmp_path):
    """Once a quoted comma moved the cells beside it: doubts of a price stood in the column of months."""
    columns = '[{"name":"item","label":"Item"},{"name":"month","label":"Month"}]'
    text = 'item,month\n"Shelves, steel",3\n"He said ""no""",4'
    (tmp_path / "page.html").write_text(f"<textarea data-columns='{columns}'>{text}</textarea>")
    read = whole.tables(tmp_path)[text]
    assert read["rows"] == [["Shelves, steel", "3"], ['He said "no"', "4"]]
    purchases = calc.find("economics.startup").defaults["purchases"]
    quoted = next(row for row in purchases if "," in row["item"])
    table = next(part for part in re.findall(r"<table>.*?</table>", book, re.DOTALL) if quoted["item"] in part)
    heads = re.findall(r"<th[^>]*>(.*?)</th>", table)
    cells = next(line for line in re.findall(r"<tr>(.*?)</tr>", table, re.DOTALL) if quoted["item"] in line)
    row = dict(zip(heads, re.findall(r"<td>(.*?)</td>", cells)))
    assert row["Item"] == quoted["item"]
    columns = calc.find("economics.startup").inputs["purchases"].columns
    doubt, month = (
        next((float(row[head]) for head in row if head.startswith(columns[name].label) and row[head]), 0.0)
        for name in ("doubt", "month")
    )
    assert (doubt / 100, month) == (pytest.approx(quoted.get("doubt") or 0.0), quoted.get("month") or 0)


def test_a_logbook_fills_no_sheets(book):
    """The farm's logbook stood whole on each of its four pages: twelve sheets of rows that nobody reads."""
    more = re.findall(r"… and (\d+) rows more", book)
    assert len(more) >= 4 and all(int(rest) > 28 for rest in more)
    assert max(table.count("<tr>") for table in re.findall(r"<dd><table>.*?</table>", book, re.DOTALL)) <= 60


def test_the_book_does_not_say_what_follows(book):
    assert "Next:" not in book
