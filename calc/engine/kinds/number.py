"""A number with a unit; a count; a share."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import ceil, floor, inf, isfinite, log10
from random import Random
from sys import float_info
from typing import Any

from calc.engine.kinds.base import Heading, InUnits, Kind, blank_cell
from calc.engine.quantity import (
    UnknownUnit,
    convert,
    field_text,
    number_text,
    offers,
    quantity_text,
    read_quantity,
    rounded,
    significant_digits,
    symbol,
    unit,
    with_symbol,
    written_unit,
)
from calc.engine.told import Told, as_written, lower_first

LONGEST_NUMBER = 400
"""Characters of a number with its unit; longer texts are no numbers, and would be costly to look through."""
DEFAULT_DIGITS, DIGITS = 4, 6
"""A default is shown rounded; a field that still shows it is not sent, so the exact default is what is used."""
ROUND_DIGITS = 2
"""Up to so many digits a figure is a round one: told in the other system it keeps three, not four."""
HANDED_DIGITS = 4
"""A result is handed over rounded: its range is wider than what is cut off, and a field full of digits helps nobody."""
DOUBT = "How far it may be off is asked below the answer."
NEAR = 0.03
"""A bound may be told as a figure of one digit that lies no further off: 1 ft for 0.9843 ft."""
RANGE = re.compile(r"(\d[\d,]*(?:\.\d+)?)\s*(?:to|or|–|—|-|\.\.+|…)\s*(\d[\d,]*(?:\.\d+)?)\s*([^\d]*)")
ABOUT = re.compile(r"(?:about|around|roughly|some|circa|ca\.?|~|≈)\s*(\d.*)", re.IGNORECASE)
DECIMAL_COMMA = re.compile(r"^([-+−]?\d+),(\d+)(?![\d,.])")
_THERMOMETERS = {"F": "degF", "°F": "degF", "C": "degC", "°C": "degC"}


def _usual_text(value: float, whole: bool) -> str:
    """An end of a usual range in two digits; of a measure, in one that lies NEAR: 0.5 lb/ft² for 0.4916."""
    near = float(f"{value:.0e}")
    return number_text(value, 1 if whole and abs(near - value) <= NEAR * abs(value) else 2)


@dataclass(frozen=True)
class Number(InUnits, Kind):
    """A number with a unit.

    `low`, `high` are the hard bounds, inclusive, in `unit`; `spread` is the plausible range.
    """

    unit: str
    label: str
    low: float
    high: float
    help: str = ""
    us: str | None = None
    metric: str | None = None
    spread: tuple[float, float] | None = None
    fact: Any = None
    optional: bool = False
    group: str = ""
    step: float | None = None
    unless: str = ""
    relative: bool = False  # the fact's range is a share of whatever figure is typed

    whole = False
    movable = True
    numeric_cells = True

    @property
    def scales(self) -> bool:
        """Whether the range goes with the typed figure: a price invented for the demo farm is no other farm's."""
        return bool(self.fact and not self.spread and (self.relative or self.fact.sure == "demo"))

    def plausible(self, at: float | None = None) -> tuple[float, float] | None:
        """(low, high) of the plausible range, or None; `at`: around this figure, where the range is a share of it."""
        if self.spread:
            return self.spread
        ends: tuple[float, float] | None = self.fact.ends() if self.fact else None
        if ends is None or at is None or not self.scales or not self.fact.typical:
            return ends
        return at * ends[0] / self.fact.typical, at * ends[1] / self.fact.typical

    # ---- read

    def read(self, written: Any, system: str | None, currency: str) -> float:
        if isinstance(written, bool) or not isinstance(written, (int, float, str)):
            raise Told(f"{self.label} must be a number.")
        if isinstance(written, str):
            value = self.from_text(written, system, currency)
        else:
            number = float(written) if abs(written) <= float_info.max else inf
            value = convert(number, self.shown(system), self.unit)
        if not isfinite(value):
            raise Told(f"{self.label} must be a number.")
        # A field shows nine digits: an end that was written in other units comes back. Each end has its own leeway, for
        # one
        # may be a million times the other.
        least, most = self.low - 1e-8 * abs(self.low) - 1e-12, self.high + 1e-8 * abs(self.high) + 1e-12
        if not least <= value <= most:
            raise Told(self._bounds_message(written, system, currency))
        value = min(max(value, self.low), self.high)
        return self._whole(value) if self.whole else value

    def _whole(self, value: float) -> int:
        if abs(value - round(value)) > 1e-9:
            raise Told(f"{self.label} must be a whole number.")
        return round(value)

    def from_text(self, written: str, system: str | None, currency: str) -> float:
        """SI number from text, or Told with the units that would do."""
        try:
            if len(written) > LONGEST_NUMBER:
                raise ValueError
            return read_quantity(written, self.unit, self.shown(system), currency)
        except UnknownUnit as unknown:
            raise Told(self._range_message(written) or self._unit_message(str(unknown), currency)) from None
        except (ValueError, OverflowError):
            if (alone := ABOUT.fullmatch(written.strip())) and len(written) <= LONGEST_NUMBER:
                self.from_text(alone[1], system, currency)
                raise Told(f"{self.label}: type the figure alone, {as_written(alone[1])}. {DOUBT}") from None
            sign = symbol(self.shown(system), currency)
            like = f", in {sign}" if sign and sign not in ("%", currency) else ""
            raise Told(f"{self.label} must be a number{like}.") from None

    def _range_message(self, written: str) -> str:
        """What is told of `5 to 6 lb`: the figure between, and where the doubt belongs; empty where it is no range."""
        match = RANGE.fullmatch(written.strip())
        if not match:
            return ""
        low, high = (float(match[end].replace(",", "")) for end in (1, 2))
        if not low < high:
            return ""
        middle = f"{number_text((low + high) / 2, 4)} {match[3].strip()}".strip()
        return f"{self.label}: type one figure, such as {middle}. {DOUBT}"

    def _unit_message(self, name: str, currency: str) -> str:
        would_do = offers(self.unit, currency)
        try:
            unit(name)
        except UnknownUnit:
            return f"“{as_written(name)}” is not a unit that {lower_first(self.label)} can be given in. Use {would_do}."
        return f"{self.label} cannot be given in {name.replace('money', currency)}. Use {would_do}."

    def _bounds_message(self, written: Any, system: str | None, currency: str) -> str:
        """`X must be between A and B`, in the unit that the reader wrote or was shown."""
        shown = self.shown(system)
        match = isinstance(written, str) and re.search(r"[^\d\s.,½¼¾⅛⅜⅝⅞⅓⅔+−-].*$", written)
        if match:
            name = match[0].strip()
            try:
                convert(0.0, name, self.unit)
                shown = name if self.unit == "K" else _THERMOMETERS.get(name, name)
            except (UnknownUnit, ValueError, KeyError):
                pass
        low = self._edge(self.low, shown, ceil, currency)
        high = self._edge(self.high, shown, floor, currency)
        if self.high >= 1e12:
            return f"{self.label} must be {low} or more."
        return f"{self.label} must be between {low} and {high}."

    def _edge(self, edge: float, shown: str, inwards: Callable[[float], int], currency: str) -> str:
        """An end in a round figure of the unit shown, such as 1 ft for 0.9843 ft: never outside of what is taken."""
        there = convert(edge, self.unit, shown)
        if not there or not isfinite(there) or abs(rounded(there, 3) / there - 1) < 1e-9:
            return quantity_text(edge, self.unit, shown, 4, currency)
        for digits in (1, 2):
            step = 10.0 ** (floor(log10(abs(there))) + 1 - digits)
            near = inwards(round(there / step, 9)) * step
            if abs(near / there - 1) < NEAR or digits == 2:
                break
        return quantity_text(near, shown, shown, 4, currency)

    def asks_back(self, value: Any, default: Any, system: str | None) -> str:
        """Asks which is meant where 0.55 stands in a field of per cent: empty where so small a share is usual."""
        if self.shown(system) != "%" or isinstance(value, bool) or not isinstance(value, (int, float)):
            return ""
        usual = self.plausible() or (0.01, 1.0)
        if not 0 < value < min(0.01, usual[0]) or not self.low <= 100 * value <= self.high:
            return ""
        if default is not None and default < 0.01:
            return ""
        meant, stands = (with_symbol(number_text(share, 3), "%") for share in (1e4 * value, 100 * value))
        return f"{self.label} stands at {stands}. Do you mean {meant}? Then type it so."

    def outside(self, value: Any) -> str | None:
        try:
            if value is None or self.low <= value <= self.high:
                return None
        except TypeError:
            pass
        return f"{self.label} must be between {self.low:g} and {self.high:g} {self.unit}."

    def read_column(
        self, cells: Sequence[Any], heading: Heading, system: str | None, currency: str
    ) -> tuple[list[Any], dict[int, str]]:
        """Plain numbers take a short way, since a log may have 50,000 rows."""
        read = self.cell_reader(heading, system, currency)
        zero, scale = self._line(heading, system, currency)
        low, high, quick = self.low, self.high, not self.whole
        values: list[Any] = []
        wrong: dict[int, str] = {}
        for place, cell in enumerate(cells):
            if quick and cell.__class__ is str:
                try:
                    value = zero + scale * float(cell)
                except ValueError:
                    pass
                else:
                    if low <= value <= high:
                        values.append(value)
                        continue
            try:
                values.append(read(cell))
            except Told as told:
                wrong[place] = str(told)
                values.append(None)
        return values, wrong

    def _bare(self, heading: Heading, system: str | None, currency: str) -> str:
        """The unit of a plain number in a column."""
        return self._heading_unit(heading.unit, currency) or self.shown(system)

    def _line(self, heading: Heading, system: str | None, currency: str) -> tuple[float, float]:
        """(value of a bare 0, value of each 1 above it) in the column's own unit; no short way where points are
        thousands.
        """
        if heading.comma:
            return float("nan"), 0.0
        bare = self._bare(heading, system, currency)
        zero = convert(0.0, bare, self.unit)
        return zero, convert(1.0, bare, self.unit) - zero

    def most_written(self, heading: Heading, system: str | None, currency: str) -> float:
        return convert(self.high, self.unit, self._bare(heading, system, currency))

    def _heading_unit(self, written: str, currency: str) -> str | None:
        """The unit that a heading names for its column, or None."""
        if not written:
            return None
        name = written.replace(currency, "money") if currency else written
        name = _THERMOMETERS.get(name, name) if self.unit == "degC" else name
        try:
            convert(0.0, name, self.unit)
            return name
        except UnknownUnit:
            raise Told(
                f"the column {self.label.lower()} cannot be given in {written}. Use {offers(self.unit, currency)}."
            ) from None

    def cell_reader(self, heading: Heading, system: str | None, currency: str) -> Callable[[Any], Any]:
        bare = self._bare(heading, system, currency)
        in_bare = Number(self.unit, self.label, self.low, self.high, us=bare, metric=bare, optional=self.optional)
        zero = convert(0.0, bare, self.unit)
        scale = convert(1.0, bare, self.unit) - zero

        def read(cell: Any) -> Any:
            if isinstance(cell, (int, float)) and not isinstance(cell, bool) and abs(cell) <= float_info.max:
                value = zero + scale * cell
                if self.low <= value <= self.high and not self.whole:
                    return value
            if cell.__class__ is str:
                cell = "" if blank_cell(cell) else decimal_point(cell, heading.comma)
            value = in_bare.value(cell, "us", currency)
            return self._whole(value) if self.whole and value is not None else value

        return read

    # ---- show

    def words(self, value: Any, system: str | None = None, currency: str = "$") -> str:
        if value is None or isinstance(value, bool):
            return super().words(value, system, currency)
        return quantity_text(value, self.unit, self.shown(system), self._told_digits(value, system), currency)

    def text(self, value: Any, system: str | None, currency: str = "$") -> str:
        return "" if value is None else field_text(convert(value, self.unit, self.shown(system)))

    def default_text(self, value: Any, system: str | None, currency: str = "$") -> str:
        if value is None:
            return ""
        shown = number_text(convert(value, self.unit, self.shown(system)), self._told_digits(value, system))
        return shown.replace(",", "").replace("−", "-")

    def _told_digits(self, value: float, system: str | None) -> int:
        """Digits in which a number is told, however exact it is: a round 12 in is 30.5 cm."""
        here = self.shown(system)
        there = self.shown("metric" if system == "us" else "us")
        if here == there or self.unit.startswith("money"):
            return DEFAULT_DIGITS
        round_there = significant_digits(convert(value, self.unit, there)) <= ROUND_DIGITS
        long_here = significant_digits(convert(value, self.unit, here)) >= DEFAULT_DIGITS
        return DEFAULT_DIGITS - 1 if round_there and long_here else DEFAULT_DIGITS

    def shown_and_sent(self, value: Any, system: str | None, currency: str = "$") -> tuple[str, str]:
        """50 kg stands as 110.231 in a field in pounds, and is sent as 50.0 kg."""
        text = self.text(value, system, currency)
        if value is None or self.whole or sum(letter.isdigit() for letter in text) <= DIGITS + 1:
            return text, ""
        shown = self.shown(system)
        converted = convert(value, self.unit, shown)
        rounded = field_text(converted, max(DIGITS, len(str(int(abs(converted))))))
        if written_unit(self.unit):
            return rounded, f"{float(value)!r} {written_unit(self.unit)}"
        return rounded, f"{text} {written_unit(shown)}".strip()

    def plan_text(self, value: Any, system: str | None) -> str:
        """`8 ft`, `75 %`, `12 money/lb`."""
        if value is None:
            return ""
        shown = self.shown(system)
        return f"{field_text(convert(value, self.unit, shown))} {written_unit(shown)}".strip()

    def cell_text(self, value: Any, system: str | None, digits: int = 9) -> str:
        return "" if value is None else field_text(convert(value, self.unit, self.shown(system)), digits)

    def sign(self, system: str | None, currency: str = "$") -> str:
        return symbol(self.shown(system), currency)

    def usual(self, system: str | None) -> str:
        plausible = self.plausible()
        if not plausible or plausible[0] == plausible[1]:
            return ""
        if self.scales:
            less, more = (round(100 * abs(end / self.fact.typical - 1)) for end in plausible)
            return f"Its range is taken as {less} % less to {more} % more."
        shown = self.shown(system)
        whole = self.shown("us") != self.shown("metric") and shown not in _THERMOMETERS.values()
        low, high = (_usual_text(convert(end, self.unit, shown), whole) for end in plausible)
        return f"Usually {low} to {high}."

    def described(self) -> dict[str, Any]:
        found: dict[str, Any] = {"unit": self.unit, "low": self.low, "high": self.high}
        plausible = self.plausible()
        return found | ({"plausible": list(plausible)} if plausible else {})

    def limits_text(self, system: str | None, currency: str = "$") -> str:
        return f"[{self.text(self.low, system)} to {self.text(self.high, system)}]"

    # ---- hand over, and try

    def takes_from(self, source: Any) -> bool:
        """A number of the same dimension."""
        if getattr(source, "many", False) or not getattr(source, "unit", ""):
            return False
        return unit(source.unit).dimension == unit(self.unit).dimension

    def handed(self, value: Any, source_unit: str, system: str | None) -> float | None:
        """A value of another calculator as this one takes it: four digits of the unit shown, money to the cent;
        None where it is out of bounds.
        """
        value = convert(value, source_unit, self.unit)
        if self.whole:
            value = round(value)
        else:
            shown = self.shown(system)
            exact = float(field_text(convert(value, self.unit, shown), 12))  # its last bits differ between Pythons
            told = round(exact, 2) if self.unit == "money" else float(field_text(exact, HANDED_DIGITS))
            value = convert(told, shown, self.unit)
        return value if self.low <= value <= self.high else None

    def random_value(self, chance: Random) -> Any:
        low, high = self.low, min(self.high, 1e15)
        wide = low >= 0 and high > 1000 * max(low, 1e-9)
        value = max(low, high * 10 ** (-6 * chance.random())) if wide else low + (high - low) * chance.random()
        return min(max(round(value), self.low), self.high) if self.whole else min(value, self.high)


class Count(Number):
    """A whole number."""

    whole = True


def Share(label: str, low: float = 0.0, high: float = 1.0, help: str = "", **more: Any) -> Number:
    """A fraction, shown in per cent."""
    return Number("1", label, low, high, help, us="%", metric="%", **more)


def decimal_point(cell: str, comma: bool | None) -> str:
    """A number with its decimal point, where the column is known to be written with commas (True) or with points
    (False).

    >>> decimal_point("1.250,5 kg", True), decimal_point("1,250", True), decimal_point("1.250", True)
    ('1250.5 kg', '1.250', '1250')
    """
    cell = cell.replace("'", "").replace("’", "") if re.match(r"[-+−]?\d{1,3}['’]\d{3}", cell) else cell
    if not comma:
        return cell
    if re.match(r"[-+−]?\d{1,3}(\.\d{3})+(?![\d.])", cell):
        cell = re.sub(r"(?<=\d)\.(?=\d{3})", "", cell)
    return DECIMAL_COMMA.sub(r"\1.\2", cell)
