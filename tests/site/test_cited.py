"""Every work that a chapter names with its year stands in the bibliography."""

import re

import bootstrap
import pytest

from calc.engine.kinds.base import MONTH_NAMES
from calc.facts import sources
from calc.facts.base import Source

WORKS = [f"{work.name} {work.work}" for work in vars(sources).values() if isinstance(work, Source)]
NAME = r"[A-Z][^\W\d_]+(?:-[A-Z][^\W\d_]+)?"
CITED = re.compile(rf"\b({NAME})((?:, {NAME})*(?: (?:&|and) {NAME}| et al\.)?,? \(?)((?:19|20)\d\d)\b")
CHAPTERS = sorted(bootstrap.ROOT.glob("docs/**/*.md"))


def cited(text):
    """(first author, year) of each work named in a text."""
    return {(found[1], found[3]) for found in CITED.finditer(" ".join(text.split())) if found[1] not in MONTH_NAMES}


@pytest.mark.parametrize("chapter", CHAPTERS, ids=lambda path: path.relative_to(bootstrap.ROOT / "docs").as_posix())
def test_works_named_are_in_the_bibliography(chapter):
    missing = [
        f"{name} {year}"
        for name, year in cited(chapter.read_text(encoding="utf-8"))
        if not any(name in work and year in work for work in WORKS)
    ]
    assert not missing, "put these into calc/facts/sources.py"


def test_chapters_do_name_works():
    assert len({work for chapter in CHAPTERS for work in cited(chapter.read_text(encoding="utf-8"))}) > 30


def test_citations_are_recognised():
    text = (
        "So say Ndegwa, Thompson & Das 2000, Loehr et al. 1985, van Gestel et al. (1992) and Munroe; built on 2 March"
        " 2027."
    )
    assert cited(text) == {("Ndegwa", "2000"), ("Loehr", "1985"), ("Gestel", "1992")}
