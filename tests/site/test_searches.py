"""What people type into the search, and what must come first: in the theme's own worker, with the index it fetches."""

import json
import subprocess
from pathlib import Path

import pytest
import searched

HERE = Path(__file__).parent
SEARCHES = [
    tuple(line.split(" | "))
    for line in (HERE / "searches.txt").read_text(encoding="utf-8").splitlines()
    if line and not line.startswith("#")
]


@pytest.fixture(scope="module")
def asked(node, site):
    """What tests/site/search.mjs prints."""
    queries = json.dumps({"queries": [query for query, _ in SEARCHES]})
    done = subprocess.run(
        [node, HERE / "search.mjs", site], input=queries, capture_output=True, text=True, encoding="utf-8", check=True
    )
    return json.loads(done.stdout)


@pytest.fixture(scope="module")
def found(asked):
    """{query: [[place, place in the same page, …], …]} as they are listed, best first."""
    return dict(zip((query for query, _ in SEARCHES), asked["found"], strict=True))


def test_the_index_offers_no_word_that_it_does_not_have(asked):
    assert asked["lost"] == []


def first(groups, part):
    """The page that stands first, or the part of it that does."""
    places = groups[0] if groups else []
    return next((place for place in places if ("#" in place) == part), None)


def test_there_are_eighty_searches_and_none_twice():
    assert len({query for query, _ in SEARCHES}) == len(SEARCHES) >= 80


@pytest.mark.parametrize(("query", "place"), SEARCHES, ids=[query for query, _ in SEARCHES])
def test_what_people_type_finds_its_place_first(found, query, place):
    assert first(found[query], "#" in place) == place, found[query][:2]


def test_words_that_belong_to_no_place_stop_the_build(tmp_path):
    (tmp_path / "search").mkdir()
    index = {"docs": [{"location": "a.html", "title": "A", "text": ""}]}
    (tmp_path / "search" / "search_index.json").write_text(json.dumps(index), encoding="utf-8")
    (tmp_path / "a.html").write_text('<h1 id="a" data-search="Dying dead">A</h1>', encoding="utf-8")
    searched.add(tmp_path)
    made = (tmp_path / "search" / "search_index.js").read_text(encoding="utf-8")
    assert json.loads(made.removeprefix("var __index = "))["docs"][0]["tags"] == ["dying", "dead"]
    (tmp_path / "a.html").write_text('<h2 id="gone" data-search="dying">A</h2>', encoding="utf-8")
    with pytest.raises(ValueError, match=r"no such place: a\.html#gone"):
        searched.add(tmp_path)
