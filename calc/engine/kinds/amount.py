"""An amount whose unit stands in a column of its own: one list of feed in pounds, water in gallons, trays by number,
money.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from math import isfinite
from random import Random
from typing import Any

from calc.engine.kinds.base import Heading, Kind, blank_cell
from calc.engine.kinds.number import LONGEST_NUMBER, decimal_point
from calc.engine.quantity import (
    LENGTH,
    MASS,
    MONEY,
    TEMPERATURE,
    TIME,
    UnknownUnit,
    convert,
    field_text,
    read_number,
    unit,
    written_unit,
)
from calc.engine.told import Told, as_written

AREA, VOLUME = (tuple(power * part for part in LENGTH) for power in (2, 3))
SI_OF = {MASS: "kg", LENGTH: "m", AREA: "m2", VOLUME: "m3", TIME: "hour", TEMPERATURE: "degC", MONEY: "money"}
"""Dimension: the unit in which such an amount is kept."""
SHOWN = {
    "us": {"kg": "lb", "m": "ft", "m2": "ft2", "m3": "gal", "degC": "degF"},
    "metric": {"m3": "L"},
}
LONGEST_UNIT = 40
_THERMOMETERS = {"C": "degC", "F": "degF"}


def in_kept_unit(value: float, written: str, currency: str = "$") -> tuple[float, str]:
    """(value, unit) as it is kept: in SI where the unit is one of weight, length, area, volume, time, temperature or
    money.

    A share stays in per cent, and counted things keep their word, as does whatever else stands there.
    >>> in_kept_unit(1, "lb"), in_kept_unit(68, "°F"), in_kept_unit(60, "%")
    ((0.45359237, 'kg'), (20.0, 'degC'), (60, '%'))
    >>> in_kept_unit(12, "trays"), in_kept_unit(3, "blobs")
    ((12, 'trays'), (3, 'blobs'))
    """
    name = "money" if written and written == currency else written
    try:
        known = unit(name) if name else None
    except UnknownUnit:
        known = None
    kept = SI_OF.get(known.dimension) if known else None
    if known is None or kept is None:
        return value, written
    return convert(value, _THERMOMETERS.get(known.scale, name), kept), kept


@dataclass(frozen=True)
class Amount(Kind):
    """A column of numbers whose units stand in the column `unit_column`; a unit behind the number itself will do as
    well.

    Kept in SI with the SI unit in the other column, so that amount × unit is always the quantity (see in_kept_unit).
    Where no unit is written, `unit_of` says which one is meant, from what stands in the column `unit_by` and the system
    of units: the reader's, or the one that the heading names.
    """

    label: str
    unit_column: str = "unit"
    unit_by: str = ""
    unit_of: Callable[[Any, str | None], str] = lambda _word, _system: ""
    help: str = ""
    group: str = ""
    optional: bool = False
    low: float = -1e12
    high: float = 1e12

    numeric_cells = True

    def read(self, written: Any, system: str | None, currency: str) -> float:
        """A bare amount, without any unit."""
        value, _ = self.with_unit(written, "", Heading(), currency)
        if value is None:
            raise Told(f"{self.label} must be a number.")
        return value

    def with_unit(self, cell: Any, unit_cell: Any, heading: Heading, currency: str) -> tuple[float | None, str]:
        """(value, unit) of one row, as they are kept."""
        written = str(unit_cell).strip() if unit_cell is not None else ""
        if len(written) > LONGEST_UNIT:
            raise Told(f"“{as_written(written)}” is too long for a unit.")
        written = written or heading.unit
        if blank_cell(cell) or (cell.__class__ is str and not cell.strip()):
            if not self.optional:
                raise Told("the amount is missing.")
            return None, written
        if isinstance(cell, bool) or not isinstance(cell, (int, float, str)):
            raise Told(f"{self.label} must be a number.")
        if isinstance(cell, str):
            value, behind = self.number_and_unit(cell, heading.comma, currency)
            if behind and written and in_kept_unit(1, behind, currency) != in_kept_unit(1, written, currency):
                raise Told(f"the unit is given twice: {as_written(behind)} and {as_written(written)}.")
            written = written or behind
        else:
            value = float(cell) if abs(cell) <= 1e300 else float("inf")
        if not isfinite(value):
            raise Told(f"{self.label} must be a number.")
        value, kept = in_kept_unit(value, written, currency)
        if not self.low <= value <= self.high:
            raise Told(f"{self.label} must be between {self.low:g} and {self.high:g}.")
        return value, kept

    def number_and_unit(self, cell: str, comma: bool | None, currency: str) -> tuple[float, str]:
        """(number, unit behind it) of a cell: `44 lb`, `$12`, `1.250,5 kg` where commas are decimal."""
        text = cell.strip()
        money = bool(currency) and text.startswith(currency)
        try:
            if len(text) > LONGEST_NUMBER:
                raise ValueError
            value, behind = read_number(decimal_point(text[len(currency) :].strip() if money else text, comma))
        except ValueError:
            raise Told(f"{self.label} must be a number.") from None
        behind = behind.strip()
        if len(behind) > LONGEST_UNIT:
            raise Told(f"{self.label} must be a number.")
        return value, "money" if money and not behind else behind

    def without_units(
        self, cells: list[Any], units: list[Any], words: list[Any], heading: Heading, system: str | None
    ) -> dict[int, str]:
        """{place: the unit that is meant} of the amounts without one, where it is known."""
        if heading.unit:
            return {}
        found: dict[int, str] = {}
        for place, (cell, written, word) in enumerate(zip(cells, units, words)):
            if blank_cell(written) and not blank_cell(cell) and self._is_bare(cell):
                meant = self.unit_of(word, heading.system or system)
                if meant:
                    found[place] = meant
        return found

    def _is_bare(self, cell: Any) -> bool:
        """Whether a cell is a number with nothing behind it."""
        return not isinstance(cell, str) or not any(sign.isalpha() or sign in "%°$€£¥" for sign in cell)

    def read_beside(
        self, cells: list[Any], units: list[Any], heading: Heading, currency: str, meant: dict[int, str]
    ) -> tuple[list[Any], list[Any], dict[int, str]]:
        """(values, units, {place: message}) of both columns; meant: the units of amounts without one.

        A number in a unit seen before takes a short way.
        """
        if meant:
            units = [meant.get(place, written) for place, written in enumerate(units)]
        values: list[Any] = []
        kept_units: list[Any] = []
        wrong: dict[int, str] = {}
        known: dict[Any, Any] = {}
        for place, pair in enumerate(zip(cells, units)):
            try:
                found = known.get(pair)
            except TypeError:  # a cell of JSON that is itself a list
                found = None
            if found is None:
                try:
                    found = self.with_unit(*pair, heading, currency)
                except Told as told:
                    wrong[place] = str(told)
                    found = None, None
                else:
                    if pair[0].__class__ is str:
                        known[pair] = found
            values.append(found[0])
            kept_units.append(found[1])
        return values, kept_units, wrong

    def shown_pair(self, value: Any, kept: Any, system: str | None, digits: int = 9) -> tuple[str, str]:
        """(amount, unit) as they are written in a table."""
        kept = kept or ""
        shown = SHOWN.get(system or "", {}).get(kept, kept)
        name = "money" if shown == "money" else written_unit(shown) if kept in SI_OF.values() else kept
        if value is None:
            return "", name
        return field_text(convert(value, kept, shown) if shown != kept else value, digits), name

    def text(self, value: Any, system: str | None, currency: str = "$") -> str:
        return "" if value is None else field_text(value)

    def random_value(self, chance: Random) -> Any:
        return round(chance.uniform(max(self.low, -1e6), min(self.high, 1e6)), 3)
