"""A calendar date, a clock time, and the moment of a log, as farms, loggers and spreadsheets write them.

A date is shown and kept as ISO 8601 has it. In a column of a pasted table any usual way is read; 5/3/2027 can mean two
days, so the column as a whole settles it, and where it cannot, the reader is asked once.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from random import Random
from typing import Any

from calc.engine.kinds.base import Heading, Kind, blank_cell, day_text, like
from calc.engine.quantity import field_text
from calc.engine.told import Told, as_written

EARLIEST, LATEST = 1900, 2200
"""Years of any date; the calendar of the computer ends at 9999."""
MOST_HOURS = 24 * 366 * 300
FIRST_SERIAL, LAST_SERIAL = 36526, 73051
"""Days since 30 December 1899 of 1 January 2000 and of the year 2100: a bare number between them is a spreadsheet's
date.
"""
DAY_FIRST, MONTH_FIRST = "day first", "month first"
LONGEST_DATE = 60

_MONTHS = {
    name: place
    for place, names in enumerate(
        [
            "jan january",
            "feb february",
            "mar march",
            "apr april",
            "may",
            "jun june",
            "jul july",
            "aug august",
            "sep september",
            "oct october",
            "nov november",
            "dec december",
        ],
        1,
    )
    for name in names.split()
} | {"sept": 9}
_NUMERIC = re.compile(r"(\d{1,2})\s*([./-])\s*(\d{1,2})\s*\2\s*(\d{4}|\d{2})(?!\d)\.?,?\s*")
_YEAR_FIRST = re.compile(r"(\d{4})\s*([./-])\s*(\d{1,2})\s*\2\s*(\d{1,2})(?!\d),?[T\s]*")
_DAY_WORD = re.compile(r"(?:[a-z]+,?\s+)?(\d{1,2})(?:st|nd|rd|th)?\.?[\s-]+([a-z]+)\.?,?[\s-]+(\d{4}|\d{2})(?!\d),?\s*")
_WORD_DAY = re.compile(r"(?:[a-z]+day,?\s+)?([a-z]+)\.?\s+(\d{1,2})(?:st|nd|rd|th)?,?\s+(\d{4})(?!\d),?\s*")
_CLOCK = re.compile(
    r"(\d{1,2})(?:[:.h](\d{2}))?(?:[:.](\d{2})(?:[.,]\d+)?)?\s*([ap])?\.?\s?(m)?\.?\s*(?:z|utc)?", re.IGNORECASE
)


def slashed(text: str) -> tuple[int, int] | None:
    """The first two numbers of a date that may be read day first or month first; None of any other."""
    match = _NUMERIC.match(text)
    return (int(match[1]), int(match[3])) if match and match[2] != "." else None


def order_of(cells: Iterable[Any]) -> tuple[str, str]:
    """(order of the slashed dates of a column, one that shows that it cannot be told); both blank where there are none.

    >>> order_of(["2/3/2027", "13/3/2027"]), order_of(["2/3/2027", "3/13/2027"])
    (('day first', ''), ('month first', ''))
    >>> order_of(["2/3/2027"]), order_of(["2/2/2027"])
    (('', '2/3/2027'), ('day first', ''))
    """
    doubtful, same = "", False
    for cell in cells:
        pair = slashed(cell) if cell.__class__ is str and cell[4:5] != "-" else None
        if not pair:
            continue
        if pair[0] > 12:
            return DAY_FIRST, ""
        if pair[1] > 12:
            return MONTH_FIRST, ""
        if pair[0] != pair[1]:
            doubtful = doubtful or cell
        else:
            same = True
    return ("", doubtful) if doubtful else (DAY_FIRST if same else "", "")


def order_question(cell: str, column: str) -> dict[str, Any]:
    """What is asked when no date of a column tells the order of day and month."""
    ways = {order: dated(cell, order) for order in (DAY_FIRST, MONTH_FIRST)}
    options = [
        {"answer": order, "words": f"{day_text(found[0])} ({order})"}
        for order, found in ways.items()
        if found is not None
    ]
    return {"about": "order", "column": column, "words": f"Which day is {as_written(cell)}?", "options": options}


def dated(text: str, order: str = "") -> tuple[date, str] | None:
    """(date, what stands behind it) of a text that begins with a date in any usual way of writing; None when it does
    not.

    >>> dated("3.5.2027 14:00"), dated("5/3/27", "month first")
    ((datetime.date(2027, 5, 3), '14:00'), (datetime.date(2027, 5, 3), ''))
    >>> dated("2 Mar 2027"), dated("March 2nd, 2027")
    ((datetime.date(2027, 3, 2), ''), (datetime.date(2027, 3, 2), ''))
    """
    text = text.strip().lower()
    if len(text) > LONGEST_DATE:
        return None
    year: int | str
    if match := _YEAR_FIRST.match(text):
        year, month, day = match[1], int(match[3]), int(match[4])
    elif match := _NUMERIC.match(text):
        first, second, year = int(match[1]), int(match[3]), match[4]
        month_first = match[2] != "." and order == MONTH_FIRST
        day, month = (second, first) if month_first else (first, second)
    elif match := _DAY_WORD.match(text):
        day, month, year = int(match[1]), _MONTHS.get(match[2], 0), match[3]
    elif match := _WORD_DAY.match(text):
        day, month, year = int(match[2]), _MONTHS.get(match[1], 0), match[3]
    else:
        return None
    year = int(year) + (2000 if len(str(year)) == 2 else 0)
    try:
        return date(year, month, day), text[match.end() :].strip()
    except ValueError:
        return None


def clock(text: str) -> time | None:
    """A time of day as it is written: 14:30, 2:30 pm, 2 PM, 14.30, 14h30; None of anything else."""
    match = _CLOCK.fullmatch(text.strip()) if len(text) <= LONGEST_DATE else None
    if not match or not (match[2] or match[4]) or bool(match[4]) != bool(match[5]):
        return None
    hour = int(match[1])
    if match[4]:
        if not 1 <= hour <= 12:
            return None
        hour = hour % 12 + (12 if match[4].lower() == "p" else 0)
    try:
        return time(hour, int(match[2] or 0), int(match[3] or 0))
    except ValueError:
        return None


def moment(text: str, order: str = "") -> datetime | None:
    """A date with or without a time of day behind it; None of anything else."""
    try:
        return datetime.fromisoformat(text).replace(tzinfo=None)
    except ValueError:
        pass
    found = dated(text, order)
    if not found:
        return None
    day, rest = found
    at = clock(rest) if rest else time()
    return datetime.combine(day, at) if at is not None else None


def from_serial(number: float) -> datetime | None:
    """A spreadsheet's date: days since 30 December 1899, the time of day as the fraction; None of any other number.

    >>> from_serial(46447.5)
    datetime.datetime(2027, 3, 1, 12, 0)
    """
    if not FIRST_SERIAL <= number < LAST_SERIAL:
        return None
    return datetime(1899, 12, 30) + timedelta(seconds=round(number * 86400))


@dataclass(frozen=True)
class Day(Kind):
    """A calendar date, ISO 8601; as a column, written in any usual way, with or without a time of day behind it."""

    label: str
    help: str = ""
    group: str = ""
    optional: bool = False

    dated_cells = True

    def read(self, written: Any, system: str | None, currency: str) -> date:
        if isinstance(written, datetime):
            return written.date()
        if isinstance(written, date):
            return written
        try:
            day = date.fromisoformat(str(written))
            if not EARLIEST <= day.year <= LATEST:
                raise ValueError
            return day
        except ValueError:
            raise Told(f"{self.label} must be a date written year-month-day, such as 2027-03-01.") from None

    def cell_reader(self, heading: Heading, system: str | None, currency: str) -> Callable[[Any], Any]:
        def read(cell: Any) -> Any:
            if cell.__class__ is str:
                try:
                    day = date.fromisoformat(cell)
                    if EARLIEST <= day.year <= LATEST:
                        return day
                except ValueError:
                    if blank_cell(cell):
                        return self.value("", system, currency)
            if isinstance(cell, (str, int, float)) and not isinstance(cell, bool):
                found = any_moment(cell, heading.order)
                if found and EARLIEST <= found.year <= LATEST:
                    return found.date()
            return self.value(cell, system, currency)

        return read

    def random_value(self, chance: Random) -> Any:
        return date(EARLIEST + 1, 1, 1) + timedelta(days=chance.randrange(365 * (LATEST - EARLIEST - 1)))


def any_moment(cell: str | float, order: str) -> datetime | None:
    """A date from a cell in any usual way, a spreadsheet's number too."""
    if isinstance(cell, str):
        found = moment(cell, order)
        if found:
            return found
        try:
            cell = float(cell.replace(",", "."))
        except ValueError:
            return None
    return from_serial(cell)


@dataclass(frozen=True)
class Moment(Kind):
    """The time of a row of a log: a date with a time of day, or hours as a number."""

    label: str
    help: str = ""
    group: str = ""
    optional: bool = False

    dated_cells = True

    def value(self, written: Any, system: str | None = None, currency: str = "$") -> Any:
        return self.cell_reader(Heading(), system, currency)(written)

    def cell_reader(self, heading: Heading, system: str | None, currency: str) -> Callable[[Any], Any]:
        def read(cell: Any) -> Any:
            if isinstance(cell, datetime):
                return within(cell.replace(tzinfo=None), cell)
            if isinstance(cell, (int, float)) and not isinstance(cell, bool) and abs(cell) <= MOST_HOURS:
                return float(cell)
            text = str(cell or "").strip()
            time = moment(text, heading.order)
            if time:
                return within(time, text)
            try:
                hours = float(decimal(text))
            except ValueError:
                told = f"{like(text)} is not a time. Write 2027-03-01 14:00, or hours as a number."
                raise Told(told if text else "the time is missing.") from None
            if heading.order == SERIAL and (time := from_serial(hours)):
                return time
            if not abs(hours) <= MOST_HOURS:
                raise Told(f"{like(text)} is not a time.")
            return hours

        def decimal(text: str) -> str:
            return text.replace(",", ".") if heading.comma and text.count(",") == 1 and "." not in text else text

        def within(time: datetime, text: Any) -> datetime:
            if not EARLIEST <= time.year <= LATEST:
                raise Told(f"{like(text)} is not between the years {EARLIEST} and {LATEST}.")
            return time

        return read

    def cell_text(self, value: Any, system: str | None, digits: int = 9) -> str:

        if isinstance(value, datetime):
            return value.isoformat(sep=" ", timespec="minutes")
        return field_text(value) if isinstance(value, float) else self.text(value, system)

    def random_value(self, chance: Random) -> Any:
        return datetime(2027, 1, 1) + timedelta(minutes=chance.randrange(60 * 24 * 3000))


SERIAL = "serial"
"""Order of a column whose numbers are the dates of a spreadsheet, not hours."""


def serials(cells: Iterable[Any]) -> bool:
    """Whether the bare numbers of a time column are a spreadsheet's dates: all of them between the years 2000 and
    2100.
    """
    found = False
    for cell in cells:
        try:
            number = float(cell)
        except (TypeError, ValueError, OverflowError):  # OverflowError: a number of hundreds of digits
            return False
        if from_serial(number) is None:
            return False
        found = True
    return found


@dataclass(frozen=True)
class TimeOfDay(Kind):
    """A time of day: 14:30, 2:30 pm."""

    label: str
    help: str = ""
    group: str = ""
    optional: bool = False

    kind = "time_of_day"

    def read(self, written: Any, system: str | None, currency: str) -> time:
        if isinstance(written, datetime):
            return written.time().replace(tzinfo=None)
        if isinstance(written, time):
            return written.replace(tzinfo=None)
        found = clock(str(written))
        if found is None:
            raise Told(f"{self.label} must be a time of day, such as 14:30 or 2:30 pm.")
        return found

    def cell_reader(self, heading: Heading, system: str | None, currency: str) -> Callable[[Any], Any]:
        return lambda cell: self.value("" if blank_cell(cell) else cell, system, currency)

    def text(self, value: Any, system: str | None, currency: str = "$") -> str:
        return "" if value is None else value.isoformat("seconds" if value.second else "minutes")

    def words(self, value: Any, system: str | None = None, currency: str = "$") -> str:
        if value is None:
            return "–"
        if system != "us":
            return self.text(value, system)
        return f"{value.hour % 12 or 12}:{value.minute:02} {'am' if value.hour < 12 else 'pm'}"

    def random_value(self, chance: Random) -> Any:
        return time(chance.randrange(24), chance.randrange(60))
