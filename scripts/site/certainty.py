"""Marks of certainty: what is said of a source a hundred times becomes a small mark, with one legend on each page.

The words stay in the page for screen readers and for whoever copies the text.
"""

from __future__ import annotations

import tree

MARKS = {
    "read": ("●", "published, read in the source"),
    "second-hand": ("◐", "second-hand, or from memory"),
    "practice": ("○", "common practice, no source"),
    "judged": ("△", "our own judgement, no source"),
}
PHRASES = {MARKS["practice"][1], MARKS["judged"][1]}
"""What is said in brackets, a hundred times."""


def mark(words: str) -> str:
    """The mark of some words, with the words for who cannot see it."""
    sign = next(sign for sign, meaning in MARKS.values() if meaning == words)
    seen, heard = f'<span aria-hidden="true">{sign}</span>', f'<span class="unseen"> ({words})</span>'
    return f'<span class="sure" title="{words}">{seen}{heard}</span>'


def legend() -> str:
    """What the marks mean, on one line."""
    told = " ".join(f"<span><b>{sign}</b> {meaning}</span>" for sign, meaning in MARKS.values())
    return f'<p class="sure-key" aria-hidden="true">{told}</p>'


def said(em: tree.Node) -> bool:
    """Whether a phrase in brackets says how sure something is."""
    before, after = em.prev, em.next
    return bool(
        tree.words(em) in PHRASES
        and before and before.is_text_node and (before.text_content or "").endswith("(")
        and after and after.is_text_node and (after.text_content or "").startswith(")")
    )  # fmt: skip


def marked(page: tree.Page) -> None:
    """Marks in place of the phrases of a page, and their legend at its end."""
    phrases = [em for em in page.all("em") if said(em)]
    for em in phrases:
        before, after = em.prev, em.next
        assert before is not None and after is not None  # noqa: PT018 (both were seen to be there)
        before.replace_with((before.text_content or "")[:-1].rstrip())
        after.replace_with((after.text_content or "")[1:])
        tree.instead_of(em, mark(tree.words(em)))
    if phrases:
        tree.last_in(page.one("article"), legend())
