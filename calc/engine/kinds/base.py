"""What every kind of input can do.

A new kind is one file here and one control in calc/page/controls.py; nothing else asks which it is.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date, datetime, time
from math import isfinite
from random import Random
from typing import Any, ClassVar

from calc.engine.quantity import shown_unit
from calc.engine.told import Told, as_written, lower_first

BLANK_WORDS = frozenset(
    ("–", "—", "-", "−", "--", "n.a.", "n.a", "n/a", "na", "n. a.", "#n/a", "nan", "null", "none", "nil", ".", "?")
)
"""What stands in a cell of a number or a date that has none, as farms, loggers and spreadsheets write it (lower
case).
"""


class InUnits:
    """Mixed into whatever has a unit, shown in the reader's system."""

    unit: Any
    us: str | None
    metric: str | None

    def shown(self, system: str | None) -> str:
        """The unit in which it is shown to a reader of that system."""
        return {"us": self.us, "metric": self.metric}.get(system or "") or shown_unit(self.unit, system)


@dataclass(frozen=True)
class Heading:
    """What the head of a column says of all its cells: their unit, and how its dates and numbers are written."""

    unit: str = ""
    order: str = ""  # of slashed dates: "day first" or "month first"
    comma: bool | None = None  # whether the comma is the decimal mark; None: as in a single field
    system: str = ""  # whose units an amount without one is in: "us" or "metric"


class Kind:
    """One way of asking. Every verb has a plain form here, which most kinds keep."""

    label: str
    help: str
    group: str
    optional: bool

    movable: ClassVar[bool] = False
    """A single number: an aim may move it, a range may draw it."""
    many: ClassVar[bool] = False
    """More than one value: a list or a table. It is wide in the form and left out of short lists of what was given."""
    rows: ClassVar[bool] = False
    """A table of columns."""
    reads_blank: ClassVar[bool] = False
    """A blank is a value of its own (no) or told in its own words."""
    numeric_cells: ClassVar[bool] = False
    """As a column: cells hold numbers, whose decimal mark may have to be settled."""
    dated_cells: ClassVar[bool] = False
    """As a column: cells hold dates, whose order may have to be settled."""
    longest: ClassVar[int] = 200
    """Characters of its text in a plan or a link."""
    unless: str = ""
    """The default is dropped when the reader gives this other input instead."""

    # ---- read

    def value(self, written: Any, system: str | None = None, currency: str = "$") -> Any:
        """SI value of what was written, blank or not; Told when it cannot be had."""
        if isinstance(written, str):
            written = written.strip()
        if written is None or written == "":
            if self.optional:
                return self.blank()
            if not self.reads_blank:
                raise Told(f"Enter the {lower_first(self.label)}.")
        return self.read(written, system, currency)

    def read(self, written: Any, system: str | None, currency: str) -> Any:
        """SI value of what stands there."""
        raise NotImplementedError

    def blank(self) -> Any:
        """What an optional one is when nothing stands there."""
        return None

    def outside(self, value: Any) -> str | None:
        """A message when a value that a program gives in SI is out of bounds."""
        return None

    def read_column(
        self, cells: Sequence[Any], heading: Heading, system: str | None, currency: str
    ) -> tuple[list[Any], dict[int, str]]:
        """(values, {place: message}) of the cells of a column. Each text is read once, since a log repeats itself."""
        read = self.cell_reader(heading, system, currency)
        values: list[Any] = []
        wrong: dict[int, str] = {}
        known: dict[str, Any] = {}
        for place, cell in enumerate(cells):
            if cell.__class__ is str and cell in known:
                values.append(known[cell])
                continue
            try:
                value = read(cell)
            except Told as told:
                wrong[place] = str(told)
                value = None
            else:
                if cell.__class__ is str:
                    known[cell] = value
            values.append(value)
        return values, wrong

    def most_written(self, heading: Heading, system: str | None, currency: str) -> float:
        """The most that a plain number in a column of it may be, as it is written."""
        return 1e12

    def cell_reader(self, heading: Heading, system: str | None, currency: str) -> Callable[[Any], Any]:
        """A function from the cell of a column to its value."""
        return lambda cell: self.value(cell, system, currency)

    # ---- show

    def words(self, value: Any, system: str | None = None, currency: str = "$") -> str:
        """A value in words, with its unit."""
        return plain_words(value)

    def text(self, value: Any, system: str | None, currency: str = "$") -> str:
        """What stands in the form field for a value; reading it back gives the value again."""
        if value is None:
            return ""
        if isinstance(value, bool):
            return "yes" if value else "no"
        return value.isoformat() if isinstance(value, date) else str(value)

    def default_text(self, value: Any, system: str | None, currency: str = "$") -> str:
        """A default as its field shows it."""
        return self.text(value, system, currency)

    def shown_and_sent(self, value: Any, system: str | None, currency: str = "$") -> tuple[str, str]:
        """(text of the field, text that is sent for it while the reader leaves it alone, if another)."""
        return self.text(value, system, currency), ""

    def plan_text(self, value: Any, system: str | None) -> str:
        """Text that reads back to the same value whatever units are shown."""
        return self.text(value, None)

    def units_named(self, written: Any, system: str | None, currency: str = "$") -> Any:
        """What was written, in a way that reads alike in either system of units: of a table, even where a cell is
        wrong.
        """
        return written

    def cell_text(self, value: Any, system: str | None, digits: int = 9) -> str:
        """A value as the cell of a table that is written out."""
        return self.text(value, system)

    def sign(self, system: str | None, currency: str = "$") -> str:
        """The unit as it stands beside the label, or nothing."""
        return ""

    def usual(self, system: str | None) -> str:
        """A sentence on what is usual, in the reader's units, or nothing."""
        return ""

    def described(self) -> dict[str, Any]:
        """What `describe` says of it beyond label, help and default."""
        return {}

    def limits_text(self, system: str | None, currency: str = "$") -> str:
        """What the terminal says of what may be written."""
        return ""

    def words_of_choices(self) -> dict[str, str]:
        """{what may be chosen: in words}, where the choice is closed."""
        return {}

    def offered(self) -> list[str]:
        """Suggestions beside a field that takes other words too."""
        return []

    @property
    def kind(self) -> str:
        """Its name for programs."""
        return type(self).__name__.lower()

    # ---- hand over, and try

    def takes_from(self, source: Any) -> bool:
        """Whether a value of another calculator's input or output may be handed over to this one."""
        return type(source) is type(self)

    def random_value(self, chance: Random) -> Any:
        """Any value within its bounds, for the tests."""
        raise NotImplementedError


def plain_words(value: Any) -> str:
    """A value that needs no unit, in words."""
    if value is None:
        return "–"
    if isinstance(value, bool):
        return "yes" if value else "no"
    return day_text(value) if isinstance(value, date) else str(value)


MONTH_NAMES = (
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
)
"""The same in every locale."""


def day_text(day: date) -> str:
    """A date as it is spoken: 1 March 2027, the same in every locale."""
    return f"{day.day} {MONTH_NAMES[day.month - 1]} {day.year}"


def as_json(value: Any) -> Any:
    """A value as JSON can hold it.

    Twelve digits: the last bits of exp, pow and long sums differ between Pythons and say nothing.
    """
    if isinstance(value, float):
        return float(f"{value:.12g}") if isfinite(value) else None
    if isinstance(value, (datetime, date, time)):
        return value.isoformat()
    if isinstance(value, dict):
        return {key: as_json(item) for key, item in value.items()}
    if isinstance(value, (list, tuple)):
        return [as_json(item) for item in value]
    return value.as_json() if hasattr(value, "as_json") else value


def blank_cell(cell: Any) -> bool:
    """Whether a cell stands for nothing: empty, a dash, n.a."""
    return cell is None or (cell.__class__ is str and (not cell or cell.lower() in BLANK_WORDS))


def like(written: Any) -> str:
    """What was written, in the marks that messages put around it."""
    return f"“{as_written(written)}”"
