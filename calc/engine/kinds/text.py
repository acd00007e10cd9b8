"""A few words of the reader's own."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from random import Random
from typing import Any

from calc.engine.kinds.base import Heading, Kind


@dataclass(frozen=True)
class Text(Kind):
    """A few words of the reader's own. `choices` are suggestions offered beside the field."""

    label: str
    help: str = ""
    group: str = ""
    optional: bool = False
    choices: tuple[str, ...] = ()

    def read(self, written: Any, system: str | None, currency: str) -> str:
        return str(written)

    def offered(self) -> list[str]:
        return list(self.choices)

    def cell_reader(self, heading: Heading, system: str | None, currency: str) -> Callable[[Any], Any]:
        return lambda cell: (cell.__class__ is str and cell.strip()) or self.value(cell, system, currency)

    def takes_from(self, source: Any) -> bool:
        return False

    def random_value(self, chance: Random) -> Any:
        return "".join(chance.choice("abc éß7.;=") for _ in range(chance.randint(0, 12))).strip() or "a"
