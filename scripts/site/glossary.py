"""Terms explained where they stand: the first use on a page leads to docs/glossary.md and shows its meaning when
pointed at; below a form the terms it uses fold open.
"""

import html
import re
from dataclasses import dataclass

import bootstrap

PAGE = bootstrap.ROOT / "docs" / "glossary.md"
ENTRY = re.compile(r"^(?P<term>[^\s:#`*!<>|-][^\n]*)\n:\s+(?P<meaning>[^\n]+(?:\n {4}[^\n]+)*)", re.MULTILINE)
ARTICLE = re.compile(r"(<article[^>]*>)(.*?)(</article>)", re.DOTALL)
TAG = re.compile(r"(<[^>]+>)")
NAME = re.compile(r"</?([a-z][a-z0-9]*)")
WITHIN, NOT_WITHIN = {"p", "li", "td", "dd"}, {
    "a",
    "abbr",
    "cite",
    "code",
    "pre",
    "svg",
    "section",
    "button",
    "summary",
    "figure",
    "h1",
    "h2",
    "h3",
    "h4",
    "script",
    "style",
    "label",
}
BEFORE, AFTER = r"(?<![\w.-])", r"(?:s|es)?(?![\w-]|\.\w)"
"""A whole word, and no part of a name such as lane.herd."""
FORM = re.compile(r'<form class="calc-form".*?</form>', re.DOTALL)
ASKED = re.compile(r"<(label|p)\b[^>]*>(.*?)</\1>", re.DOTALL)  # labels and hints, not what stands in the fields


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
        BEFORE + "(" + "|".join(re.escape(term) for term in sorted(entries, key=len, reverse=True)) + ")" + AFTER,
        re.IGNORECASE,
    )


def explained(text, entries, page):
    """A page with the first use of each term in running text leading to `page`, the glossary, and the terms of each
    form below it.
    """
    if not entries:
        return text
    wanted, left = pattern(entries), dict(entries)

    def marked(match):
        entry = left.pop(match[1].lower(), None)
        return (
            f'<a class="term" href="{page}#{entry.place}" title="{html.escape(entry.meaning)}">{match[0]}</a>'
            if entry
            else match[0]
        )

    def article(match):
        open_within = open_not = 0
        pieces = TAG.split(match[2])
        for at, piece in enumerate(pieces):
            name = NAME.match(piece)
            if name and not piece.endswith("/>"):
                step = -1 if piece.startswith("</") else 1
                open_within += step * (name[1] in WITHIN)
                open_not += step * (name[1] in NOT_WITHIN)
            elif not piece.startswith("<") and open_within > 0 and open_not == 0:
                pieces[at] = wanted.sub(marked, piece)
        return (
            match[1] + FORM.sub(lambda form: form[0] + words_of(form[0], entries, wanted), "".join(pieces)) + match[3]
        )

    return ARTICLE.sub(article, text, count=1)


def words_of(form, entries, wanted):
    """The terms that a form uses, with their meanings, folded; nothing where it uses none.

    It stands outside the form, which the page's script draws anew.
    """
    asked = " ".join(TAG.sub("", part[2]) for part in ASKED.finditer(form))
    used = dict.fromkeys(entries[match[1].lower()] for match in wanted.finditer(asked))
    if not used:
        return ""
    items = "".join(f"<dt>{html.escape(entry.term)}</dt><dd>{html.escape(entry.meaning)}</dd>" for entry in used)
    return f'<details class="calc-words"><summary>Words used here</summary><dl>{items}</dl></details>'


def with_places(text):
    """The glossary's own page, each term a place to lead to."""
    return re.sub(
        r"<dt>(.*?)</dt>", lambda match: f'<dt id="{place(html.unescape(TAG.sub("", match[1])))}">{match[1]}</dt>', text
    )


def explain_all(out):
    """Explain terms on every page that has the glossary beside it."""
    page = out / PAGE.with_suffix(".html").name
    if not page.is_file():
        return
    page.write_text(with_places(page.read_text(encoding="utf-8")), encoding="utf-8")
    entries = terms(PAGE.read_text(encoding="utf-8"))
    for path in sorted(out.rglob("*.html")):
        if path != page:
            way = "../" * (len(path.relative_to(out).parts) - 1) + page.name
            path.write_text(explained(path.read_text(encoding="utf-8"), entries, way), encoding="utf-8")
