"""A sentence for readers that knows which of its words are the reader's own figures, so that they can be held."""

from collections.abc import Iterator
from re import compile as pattern
from typing import Self

_OPEN, _NAMED, _CLOSE = "\ue010", "\ue011", "\ue012"
"""Of Unicode's private use: no text of ours or of a reader has them."""

_YOURS = pattern(f"{_OPEN}(.*?){_NAMED}(.*?){_CLOSE}")


def yours(name: str, text: str) -> str:
    """The text of an input, marked as the reader's for the `Sentence` that it is written into."""
    return f"{_OPEN}{name}{_NAMED}{text}{_CLOSE}"


class Sentence(str):
    """Plain text; `parts` are its pieces in order, each with the input that it is the value of, or None.

    >>> said = Sentence(f"With {yours('worm_mass', '10 lb')} it takes a year.")
    >>> said
    'With 10 lb it takes a year.'
    >>> said.parts
    (('With ', None), ('10 lb', 'worm_mass'), (' it takes a year.', None))
    """

    __slots__ = ("parts",)
    parts: tuple[tuple[str, str | None], ...]

    def __new__(cls, marked: str) -> Self:
        if isinstance(marked, cls):
            return marked
        parts = tuple(_pieces(marked))
        made = super().__new__(cls, "".join(text for text, _ in parts))
        made.parts = parts
        return made


def _pieces(marked: str) -> Iterator[tuple[str, str | None]]:
    end = 0
    for found in _YOURS.finditer(marked):
        if found.start() > end:
            yield marked[end : found.start()], None
        yield found[2], found[1]
        end = found.end()
    if end < len(marked):
        yield marked[end:], None
