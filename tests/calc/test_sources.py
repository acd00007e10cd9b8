"""The bibliography is whole: who, when, what, where, and how each work was seen."""

import pytest

from calc.engine.quantity import number_text
from calc.facts import sources
from calc.facts.base import SEEN, Points, Source
from calc.page import lists

WORKS = {
    name: work for name, work in vars(sources).items() if isinstance(work, Source) and name.isupper() and work.work
}


@pytest.mark.parametrize("name", WORKS)
def test_a_work_says_who_when_what_where_and_how_it_was_seen(name: str) -> None:
    work = WORKS[name]
    assert all((work.author, work.year, work.title, work.where)), f"{name} lacks a part"
    assert work.seen in SEEN
    assert any(letter.isdigit() for letter in work.year) or work.year in (
        "undated",
        "current",
        "in force",
        "several editions",
    )


def test_a_work_with_a_part_missing_is_refused() -> None:
    with pytest.raises(ValueError, match="needs year"):
        Source("Nobody", "Nobody", "", "A title", "A place", "read")
    with pytest.raises(ValueError, match="how it was seen"):
        Source("Nobody", "Nobody", "2000", "A title", "A place", "heard of")


def test_no_work_stands_twice() -> None:
    titles = [work.title for work in WORKS.values()]
    assert len(titles) == len(set(titles)) > 90


@pytest.mark.parametrize(
    ("name", "part", "words"),
    [
        # The volume as the first page of the printed paper has it.
        ("PENMAN_1948", "where", "A 193:120–145"),
        # As a repository of the authors' university gives them (doi 10.1016/j.ecolmodel.2013.09.012).
        ("JOHNSTON_2014", "title", "energy budget agent-based model"),
        ("AHN_2009", "title", "Determination of thermal properties of composting bulking materials"),
        ("HILL_2013", "title", "vermi- versus conventional composting of human feces"),
        ("REINECKE_1992", "title", "in terms of their temperature requirements"),
        # Its abstract has the 1.31 dS/m at which all worms died; the paper on avoidance, named before, has not.
        ("OWOJORI_2009", "title", "salinity on life-cycle parameters of four soil-dwelling species"),
        ("EDIS_AG416", "author", "Ferrell, Dittmar, Sellers & Devkota"),
        ("ELVIRA_1996", "title", "Mixed cultures with Eisenia andrei"),
    ],
)
def test_works_that_once_stood_wrong_stand_right(name: str, part: str, words: str) -> None:
    assert words in getattr(WORKS[name], part)


def test_what_one_work_gives_for_one_thing_stands_in_one_row_with_all_its_values() -> None:
    held = {id(points): points for module in lists.modules().values() for points in lists.facts_of(module)}
    long = [points for points in held.values() if isinstance(points, Points) and len(points.points) >= 20]
    table = lists.facts_table()
    for points in long:
        (row,) = [row for row in table.split("<tr>") if f">{points.label}<br>" in row]
        assert f"{len(points.points)} values" in row
        assert all(f"{number_text(x)}: {number_text(y)}" in row for x, y, *_ in points.points)
    assert long and max(len(row) for row in table.split("<tr>")) < 1500
