"""The sorter of troubles: groups of signs as buttons. Each trouble's heading names its signs in `data-signs`.

Without its script (scripts/browser/page/sorter.js) nothing of it is shown, and the list of troubles stands as it is.
"""

from html import escape


def groups(source: str) -> dict[str, dict[str, str]]:
    """{question: {sign: words}} of lines such as `What does your hand say?: wet it drips; dry it crumbles`."""
    found: dict[str, dict[str, str]] = {}
    for line in filter(None, map(str.strip, source.splitlines())):
        question, _, signs = line.partition(": ")
        pairs = [sign.strip().partition(" ") for sign in signs.split(";")]
        if not question or not all(sign and words for sign, _, words in pairs):
            raise ValueError(f"a line has a question, a colon and signs with their words, parted by semicolons: {line}")
        found[question] = {sign: words for sign, _, words in pairs}
    return found


def buttons(source: str) -> str:
    """The sorter as HTML."""
    parts = []
    for number, (question, signs) in enumerate(groups(source).items()):
        inside = "".join(
            f'<button type="button" data-sign="{escape(sign)}" aria-pressed="false">{escape(words)}</button>'
            for sign, words in signs.items()
        )
        parts.append(
            f'<div class="sorter-group" role="group" aria-labelledby="sorter-{number}">'
            f'<p id="sorter-{number}">{escape(question)}</p>{inside}</div>'
        )
    return (
        '<section class="sorter" aria-label="Find the trouble by its signs" data-search-exclude="" hidden>'
        f'{"".join(parts)}<div class="sorter-found" aria-live="polite"></div></section>'
    )
