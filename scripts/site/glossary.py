"""Terms explained where they stand: the first use on a page leads to docs/glossary.md and shows its meaning when
pointed at; below a form the terms it uses fold open.
"""

import html
import re
from dataclasses import dataclass

import bootstrap
import tree

PAGE = bootstrap.ROOT / "docs" / "glossary.md"
ENTRY = re.compile(r"^(?P<term>[^\s:#`*!<>|-][^\n]*)\n:\s+(?P<meaning>[^\n]+(?:\n {4}[^\n]+)*)", re.MULTILINE)
WITHIN = frozenset({"p", "li", "td", "dd"})
NOT_WITHIN = frozenset(
    {"a", "abbr", "cite", "code", "pre", "svg", "section", "button", "summary", "figure", "script", "style", "label"}
    | {"h1", "h2", "h3", "h4"}
)
BEFORE, AFTER = r"(?<![\w.-])", r"(?:s|es)?(?![\w-]|\.\w)"
"""A whole word, and no part of a name such as lane.herd."""
OTHERWISE = (
    "longest gap between readings",
    "gaps count",
    "a layer, ⅛",
    "for a layer",
    "the layer you let dry",
    "face of headings",
    "face of the text",
)
"""Words in which a term of the trade means something else: they are left alone."""
FORM = "form.calc-form"
ASKED = "label, p"  # labels and hints, not what stands in the fields


@dataclass(frozen=True)
class Entry:
    """A term as the glossary writes it, the first sentence of its meaning, and its place on that page."""

    term: str
    meaning: str
    place: str


def plain(markdown):
    """Text without links and marks."""
    text = re.sub(r"\[([^\]]*)\]\([^)]*\)", r"\1", markdown)
    return re.sub(r"\s+", " ", re.sub(r"[*`]", "", text)).strip()


def place(term):
    """Where a term stands on the glossary's page."""
    return "term-" + re.sub(r"\W+", "-", term.lower()).strip("-")


def terms(markdown):
    """{term in lower case: Entry}."""
    found = {}
    for entry in ENTRY.finditer(markdown):
        words = plain(entry["term"])
        meaning = re.split(r"(?<=\.) ", plain(entry["meaning"]))[0]
        for term in words.split(", "):
            found[re.sub(r"\s*\(.*\)", "", term).lower()] = Entry(words, meaning, place(words))
    return found


def pattern(entries):
    return re.compile(
        BEFORE
        + "("
        + "|".join(re.escape(term) for term in sorted([*entries, *OTHERWISE], key=len, reverse=True))
        + ")"
        + AFTER,
        re.IGNORECASE,
    )


def explained(page, entries, glossary):
    """The first use of each term in a page's running text leads to `glossary`, and the terms of each form stand below
    it.
    """
    if not entries:
        return
    wanted, left = pattern(entries), dict(entries)

    def marked(match):
        entry = left.pop(html.unescape(match[1]).lower(), None)
        return (
            f'<a class="term" href="{glossary}#{entry.place}" title="{html.escape(entry.meaning)}">{match[0]}</a>'
            if entry
            else match[0]
        )

    for article in page.all("article"):
        for text in tree.texts(article, NOT_WITHIN, WITHIN):
            said = html.escape(text.text_content, quote=False)
            if (made := wanted.sub(marked, said)) != said:
                tree.instead_of(text, made)
        for form in article.css(FORM):
            # Outside the form, which the page's script draws anew.
            tree.after(form, words_of(form, entries, wanted))


def words_of(form, entries, wanted):
    """The terms that a form uses, with their meanings, folded; nothing where it uses none."""
    asked = " ".join(part.text() for part in form.css(ASKED))
    found = (entries.get(match[1].lower()) for match in wanted.finditer(asked))
    used = dict.fromkeys(entry for entry in found if entry)
    if not used:
        return ""
    items = "".join(f"<dt>{html.escape(entry.term)}</dt><dd>{html.escape(entry.meaning)}</dd>" for entry in used)
    return f'<details class="calc-words"><summary>Words used here</summary><dl>{items}</dl></details>'


def with_places(page):
    """The glossary's own page, each term a place to lead to."""
    for term in page.all("dt"):
        term.attrs["id"] = place(term.text())


def explainer():
    """The step that explains terms on a page; on the glossary's own, where each of them stands."""
    own, entries = PAGE.with_suffix(".html").name, terms(PAGE.read_text(encoding="utf-8"))
    return lambda page: with_places(page) if page.name == own else explained(page, entries, page.top + own)
