"""Hover definitions: the first time a page uses a term of docs/glossary.md, the term carries its definition."""

import html
import re

import bootstrap

PAGE = bootstrap.ROOT / "docs" / "glossary.md"
ENTRY = re.compile(r"^(?P<term>[^\s:#`*!<>|-][^\n]*)\n:\s+(?P<meaning>[^\n]+(?:\n {4}[^\n]+)*)", re.MULTILINE)
ARTICLE = re.compile(r"(<article[^>]*>)(.*?)(</article>)", re.DOTALL)
TAG = re.compile(r"(<[^>]+>)")
NAME = re.compile(r"</?([a-z][a-z0-9]*)")
WITHIN, NOT_WITHIN = {"p", "li", "td", "dd"}, {"a", "abbr", "cite", "code", "pre", "svg", "section", "button", "summary", "figure", "h1", "h2", "h3", "h4", "script", "style", "label"}
BEFORE, AFTER = r"(?<![\w.-])", r"(?:s|es)?(?![\w-]|\.\w)"
"""A whole word, and no part of a name such as lane.herd."""


def plain(markdown):
    """Text without links and marks."""
    text = re.sub(r"\[([^\]]*)\]\([^)]*\)", r"\1", markdown)
    return re.sub(r"\s+", " ", re.sub(r"[*`]", "", text)).strip()


def terms(markdown):
    """{term in lower case: first sentence of its meaning}."""
    found = {}
    for entry in ENTRY.finditer(markdown):
        meaning = re.split(r"(?<=\.) ", plain(entry["meaning"]))[0]
        for term in plain(entry["term"]).split(", "):
            found[re.sub(r"\s*\(.*\)", "", term).lower()] = meaning
    return found


def explained(text, meanings):
    """A page with the first use of each term marked, in running text only."""
    if not meanings:
        return text
    pattern = re.compile(BEFORE + "(" + "|".join(re.escape(term) for term in sorted(meanings, key=len, reverse=True)) + ")" + AFTER, re.IGNORECASE)
    left = dict(meanings)

    def marked(match):
        meaning = left.pop(match[1].lower(), None)
        return f'<abbr title="{html.escape(meaning)}">{match[0]}</abbr>' if meaning else match[0]

    def article(match):
        open_within = open_not = 0
        pieces = TAG.split(match[2])
        for place, piece in enumerate(pieces):
            name = NAME.match(piece)
            if name and not piece.endswith("/>"):
                step = -1 if piece.startswith("</") else 1
                open_within += step * (name[1] in WITHIN)
                open_not += step * (name[1] in NOT_WITHIN)
            elif not piece.startswith("<") and open_within > 0 and open_not == 0:
                pieces[place] = pattern.sub(marked, piece)
        return match[1] + "".join(pieces) + match[3]

    return ARTICLE.sub(article, text, count=1)


def explain_all(out):
    """Mark terms on every page but the glossary itself."""
    meanings = terms(PAGE.read_text(encoding="utf-8")) if PAGE.is_file() else {}
    for path in sorted(out.rglob("*.html")):
        if path.name != "glossary.html":
            text = path.read_text(encoding="utf-8")
            path.write_text(explained(text, meanings), encoding="utf-8")
