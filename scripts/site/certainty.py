"""Marks of certainty: what is said of a source a hundred times becomes a small mark, with one legend on each page.

The words stay in the page for screen readers and for whoever copies the text.
"""

from __future__ import annotations

import re

MARKS = {
    "read": ("●", "published, read in the source"),
    "second-hand": ("◐", "second-hand, or from memory"),
    "practice": ("○", "common practice, no source"),
    "judged": ("△", "our own judgement, no source"),
}
SAID = re.compile(r"\s*\(<em>(common practice, no source|our own judgement, no source)</em>\)")
END = "</article>"


def mark(words: str) -> str:
    """The mark of some words, with the words for who cannot see it."""
    sign = next(sign for sign, meaning in MARKS.values() if meaning == words)
    seen, heard = f'<span aria-hidden="true">{sign}</span>', f'<span class="unseen"> ({words})</span>'
    return f'<span class="sure" title="{words}">{seen}{heard}</span>'


def legend() -> str:
    """What the marks mean, on one line."""
    told = " ".join(f"<span><b>{sign}</b> {meaning}</span>" for sign, meaning in MARKS.values())
    return f'<p class="sure-key" aria-hidden="true">{told}</p>'


def marked(text: str) -> str:
    """A finished page with marks in place of the phrases, and their legend at its end."""
    made, count = SAID.subn(lambda said: mark(said[1]), text)
    if not count or END not in made:
        return made
    before, after = made.rsplit(END, 1)
    return f"{before}{legend()}{END}{after}"
