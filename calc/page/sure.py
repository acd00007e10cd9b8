"""Marks of certainty: how sure a source makes a figure, as a small sign with its words for who cannot see it.

One legend on a page says what they mean (scripts/site/certainty.py).
"""

import re
from functools import cache
from html import escape

from calc.facts import sources
from calc.facts.base import Source

MARKS = {
    "read": ("●", "published, read in the source"),
    "second-hand": ("◐", "second-hand, or from memory"),
    "practice": ("○", "common practice, no source"),
    "judged": ("△", "our own judgement, no source"),
}
WEAKEST_FIRST = ("judged", "practice", "second-hand", "read")
SEEN = {"read": "read", "abstract": "second-hand", "second-hand": "second-hand", "memory": "second-hand"}
PHRASE = re.compile(r"[;:,]?\s*\(?(common practice, no source|our own judgement, no source)\)?", re.IGNORECASE)


def mark(words: str) -> str:
    """The mark of some words, with the words for who cannot see it."""
    sign = next(sign for sign, meaning in MARKS.values() if meaning == words)
    seen, heard = f'<span aria-hidden="true">{sign}</span>', f'<span class="unseen"> ({words})</span>'
    return f'<span class="sure" title="{words}">{seen}{heard}</span>'


@cache
def _works() -> tuple[tuple[str, str, str, str], ...]:
    """(name, first author, year, how we saw it) of each work of the bibliography."""
    return tuple(
        (item.name, re.split(r",| &| et al", item.author, maxsplit=1)[0], item.year, item.seen)
        for item in vars(sources).values()
        if isinstance(item, Source) and item.seen
    )


def certainty(source: str) -> str:
    """Which of the MARKS a source in words has, the weakest where it names several.

    Nothing for what needs none: arithmetic is no matter of belief.

    >>> certainty("arithmetic; times: common practice, no source"), certainty("geometry")
    ('practice', '')
    """
    text = source.lower()
    said = {"practice": "common practice", "judged": "our own judgement", "second-hand": "from memory"}
    found = {key for key, words in said.items() if words in text}
    found |= {
        SEEN[seen]
        for name, author, year, seen in _works()
        if name in source or (author in source and year in source.split(author)[1])
    }
    return next((key for key in WEAKEST_FIRST if key in found), "")


def source_html(source: str) -> str:
    """A source behind its mark; what the mark says is not said again."""
    key = certainty(source)
    if not key:
        return f'<cite class="calc-source">{escape(source)}</cite>'
    rest = PHRASE.sub("", source).strip() if key in ("practice", "judged") else source
    return f'<cite class="calc-source">{mark(MARKS[key][1])} {escape(rest)}'.rstrip() + "</cite>"


UNIT_ALONE = re.compile(r"(?<![\w.,])[−-]?\d[\d,.]*(?:[–-]\d[\d,.]*)? (?:%|°[CF])(?!\w)")
"""A number before a sign that must not begin a line."""


def unbroken(html: str) -> str:
    """Text of a page in which no line begins with % or °F.

    >>> unbroken("bedding at 75 % holds")
    'bedding at <span class="one">75 %</span> holds'
    """
    return UNIT_ALONE.sub(lambda said: f'<span class="one">{said[0]}</span>', html)


def marked(sentence: str) -> str:
    """HTML of a sentence with marks in the place of the phrases in brackets, its short measures unbroken."""
    return re.sub(
        r"\s*\((common practice, no source|our own judgement, no source)\)",
        lambda said: mark(said[1]),
        unbroken(escape(sentence)),
    )
