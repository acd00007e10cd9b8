"""Contents by question: each stands on the page of questions, leads to its calculator, and search finds it; so it does
each term of the glossary.
"""

import html
import json
import re

import pytest

from calc.engine.register import every


@pytest.fixture(scope="module")
def index(site):
    return json.loads((site / "search" / "search_index.json").read_text(encoding="utf-8"))["docs"]


def plain(text):
    return re.sub(r"\s+", " ", html.unescape(re.sub(r"<[^>]+>", "", text))).strip()


def test_every_question_is_listed_and_leads_to_its_calculator(site):
    text = (site / "questions.html").read_text(encoding="utf-8")
    listed = {
        plain(words): link
        for block in re.findall(r'<ul class="questions">(.*?)</ul>', text, re.DOTALL)
        for link, words in re.findall(r'<a href="([^"]+)">(.*?)</a>', block)
    }
    assert listed == {entry.question: entry.page for entry in every().values()}
    for entry in every().values():
        assert f'data-calculator="{entry.id}"' in (site / entry.page).read_text(encoding="utf-8")


def test_front_page_and_menu_lead_to_the_questions(site):
    text = (site / "index.html").read_text(encoding="utf-8")
    assert text.count('href="questions.html"') >= 2 and 'href="plan.html"' in text


def test_search_finds_every_question(index):
    titles = {plain(entry["title"]): entry["location"] for entry in index}
    for entry in every().values():
        found = [location for title, location in titles.items() if title == entry.question]
        assert found, f"search does not know: {entry.question}"
    assert {entry["location"].split("#")[0] for entry in index} >= {entry.page for entry in every().values()}


def test_search_finds_every_term(site, index):
    terms = [
        plain(term)
        for term in re.findall(r"<dt[^>]*>(.*?)</dt>", (site / "glossary.html").read_text(encoding="utf-8"), re.DOTALL)
    ]
    known = " ".join(
        plain(entry["text"] + " " + entry["title"]) for entry in index if entry["location"].startswith("glossary.html")
    )
    assert len(terms) > 30
    assert [term for term in terms if term.replace("¶", "").strip() not in known] == []


def test_no_name_of_a_page_is_left_without_its_way(site):
    assert [path.name for path in site.rglob("*.html") if 'href="handbook:' in path.read_text(encoding="utf-8")] == []
