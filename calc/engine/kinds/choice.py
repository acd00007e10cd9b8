"""One of a few words: closed, or open to the reader's own."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from random import Random
from typing import Any

from calc.engine.kinds.base import Heading, Kind
from calc.engine.told import Told

LONGEST_WORD = 200
"""Characters of a word of the reader's own."""


@dataclass(frozen=True)
class Choice(Kind):
    """`options` are {word: in words}.

    An `open` one keeps other words as they were written; `also` are other words for an option.
    """

    label: str
    options: dict[str, str]
    help: str = ""
    group: str = ""
    optional: bool = False
    open: bool = False
    also: tuple[tuple[str, str], ...] = ()

    def read(self, written: Any, system: str | None, currency: str) -> str:
        wanted = str(written).lower()
        if wanted in self.options:
            return wanted
        for key, words in (*self.options.items(), *((key, word) for word, key in self.also)):
            if wanted == words.lower():
                return key
        if self.open and isinstance(written, str) and len(written) <= LONGEST_WORD:
            return " ".join(written.split())
        if self.open:
            raise Told(f"{self.label} must be a word or two.")
        raise Told(f"{self.label} must be one of: {', '.join(self.options)}.")

    def known(self, value: str) -> bool:
        """Whether it is one of the options, and not a word of the reader's own."""
        return value in self.options

    def cell_reader(self, heading: Heading, system: str | None, currency: str) -> Callable[[Any], Any]:
        known = {None: None, "": None} if self.optional else {}
        words = known | {key: key for key in self.options}
        return lambda cell: words[cell] if cell.__hash__ and cell in words else self.value(cell, system, currency)

    def words(self, value: Any, system: str | None = None, currency: str = "$") -> str:
        return self.options.get(value, str(value)) if value is not None else "–"

    def words_of_choices(self) -> dict[str, str]:
        return {} if self.open else dict(self.options)

    def offered(self) -> list[str]:
        return list(self.options) if self.open else []

    def described(self) -> dict[str, Any]:
        return {"options": dict(self.options)} | ({"open": True} if self.open else {})

    def limits_text(self, system: str | None, currency: str = "$") -> str:
        return f"({' | '.join(self.options)}{' | your own' if self.open else ''})"

    def random_value(self, chance: Random) -> Any:
        return chance.choice([*self.options, "a word of my own"] if self.open else list(self.options))
