"""A list of numbers."""

from __future__ import annotations

import json
import re
from dataclasses import dataclass
from random import Random
from typing import Any

from calc.engine.kinds.base import InUnits, Kind
from calc.engine.kinds.number import Number
from calc.engine.quantity import convert, field_text, symbol
from calc.engine.told import Told, as_written, first_few

_SERIES = re.compile(r"[\n\t]+|,\s+|,(?=\S)|(?<=\d)\s+(?=[-−\d.])")
_AMONG_SEMICOLONS = re.compile(r"[;\n\t]+|,\s+")
"""A comma inside a number is then its own, as in a single field."""


@dataclass(frozen=True)
class Series(InUnits, Kind):
    """Numbers alone, `length` of them where that is fixed."""

    unit: str
    label: str
    low: float
    high: float
    help: str = ""
    us: str | None = None
    metric: str | None = None
    length: int | None = None
    group: str = ""
    optional: bool = False
    most: int = 10_000
    unless: str = ""

    many = True
    reads_blank = True
    longest = 20_000

    @property
    def each(self) -> Number:
        """One of its numbers."""
        return Number(self.unit, self.label, self.low, self.high, us=self.us, metric=self.metric)

    def read(self, written: Any, system: str | None, currency: str) -> tuple[float, ...]:
        if isinstance(written, str):
            written = self._parts(written.strip())
        if isinstance(written, dict) or not hasattr(written or (), "__iter__"):
            written = [written]
        if len(written or ()) > self.most:
            raise Told(f"{self.label} has {len(written):,} numbers; {self.most:,} are the most that can be read.")
        values, wrong, number = [], [], self.each
        for place, item in enumerate(list(written or ()), 1):
            try:
                values.append(number.value(item, system, currency))
            except Told as told:
                wrong.append(f"value {place} (“{as_written(item)}”): {told}")
        if wrong:
            raise Told(f"{self.label}: " + first_few(wrong))
        if self.length is not None and len(values) != self.length:
            raise Told(f"{self.label} needs {self.length} numbers; there are {len(values)}.")
        if not values and not self.optional:
            raise Told(f"{self.label} needs at least one number.")
        return tuple(values)

    def _parts(self, text: str) -> Any:
        if text.startswith("["):
            return json_of(self.label, text)
        parts = [part for part in (_AMONG_SEMICOLONS if ";" in text else _SERIES).split(text) if part.strip()]
        return parts[1:] if parts and not re.search(r"\d", parts[0]) else parts  # without a header

    def words(self, value: Any, system: str | None = None, currency: str = "$") -> str:
        return "–" if value is None else f"{len(value):,} values"

    def text(self, value: Any, system: str | None, currency: str = "$") -> str:
        if value is None:
            return ""
        return ", ".join(field_text(convert(item, self.unit, self.shown(system))) for item in value)

    def plan_text(self, value: Any, system: str | None) -> str:
        return "" if value is None else ", ".join(self.each.plan_text(item, system) for item in value)

    def sign(self, system: str | None, currency: str = "$") -> str:
        return symbol(self.shown(system), currency)

    def described(self) -> dict[str, Any]:
        return {"unit": self.unit, "low": self.low, "high": self.high}

    def random_value(self, chance: Random) -> Any:
        return tuple(self.each.random_value(chance) for _ in range(self.length or chance.randint(1, 20)))


def json_of(label: str, text: str) -> Any:
    """What a text in JSON holds."""
    try:
        return json.loads(text)
    except (ValueError, RecursionError):
        raise Told(f"{label} starts like a JSON list but cannot be read as one.") from None
