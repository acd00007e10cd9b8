"""Yes or no."""

from __future__ import annotations

from dataclasses import dataclass
from random import Random
from typing import Any

from calc.engine.kinds.base import Kind
from calc.engine.told import Told

_YES = {"yes", "y", "true", "1", "on"}
_NO = {"no", "n", "false", "0", "off", ""}


@dataclass(frozen=True)
class Flag(Kind):
    """Yes or no; a blank is no."""

    label: str
    help: str = ""
    group: str = ""
    optional: bool = False

    reads_blank = True

    def read(self, written: Any, system: str | None, currency: str) -> bool:
        if isinstance(written, bool):
            return written
        word = str("" if written is None else written).lower()
        if word in _YES | _NO:
            return word in _YES
        raise Told(f"{self.label} must be yes or no.")

    def words_of_choices(self) -> dict[str, str]:
        return {"yes": "yes", "no": "no"}

    def random_value(self, chance: Random) -> Any:
        return chance.random() < 0.5
