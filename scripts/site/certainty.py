"""Marks of certainty: what is said of a source a hundred times becomes a small mark, with one legend on each page.

The words stay in the page for screen readers and for whoever copies the text.
"""

from __future__ import annotations

import tree

from calc.page.sure import MARKS, mark

PHRASES = {MARKS["practice"][1], MARKS["judged"][1]}
"""What is said a hundred times."""
STOPS = tuple(".;,:)")


def legend() -> str:
    """What the marks mean, on one line."""
    told = " ".join(f"<span><b>{sign}</b> {meaning}</span>" for sign, meaning in MARKS.values())
    return f'<p class="sure-key" aria-hidden="true">{told}</p>'


def text_of(node: tree.Node | None) -> str:
    """The text of a neighbour that is text, else nothing."""
    return (node.text_content or "") if node is not None and node.is_text_node else ""


def taken_away(em: tree.Node) -> tuple[int, int] | None:
    """How many signs before and after a phrase go with it: its brackets, or a comma; first in a cell of a table none.

    None for what is no phrase, or is a part of its sentence.
    """
    before, after = text_of(em.prev), text_of(em.next)
    if tree.words(em) not in PHRASES:
        return None
    if before.endswith("(") and after.startswith(")"):
        return 1, 1
    if before.rstrip().endswith(",") and after.startswith(STOPS):
        return len(before) - len(before.rstrip()) + 1, 0
    return (0, 0) if em.parent is not None and em.parent.tag == "td" and not before.strip() else None


def marked(page: tree.Page) -> None:
    """Marks in place of the phrases of a page, and the legend at its end where it has any marks."""
    for em in page.all("em"):
        signs = taken_away(em)
        if signs is None:
            continue
        before, after = text_of(em.prev), text_of(em.next)
        if signs[0] and em.prev is not None:
            em.prev.replace_with(before[: -signs[0]].rstrip())
        if signs[1] and em.next is not None:
            em.next.replace_with(after[signs[1] :])
        tree.instead_of(em, mark(tree.words(em)))
    if page.all(".sure"):
        tree.last_in(page.one("article"), legend())
