"""From what a reader wrote to SI values: every field that is wrong is named at once, in the reader's words and
units.
"""

import csv
import io
import json
import re
from collections.abc import Callable, Mapping, Sequence
from datetime import date, datetime
from difflib import get_close_matches
from math import inf, isfinite
from sys import float_info
from typing import TYPE_CHECKING, Any, TypeAlias

from calc.engine.describe import (
    Choice,
    Day,
    Flag,
    Input,
    Kept,
    Number,
    Refused,
    Rows,
    Series,
    Text,
    as_written,
    drop_replaced,
    first_few,
)
from calc.engine.quantity import UnknownUnit, convert, offers, quantity_text, read_quantity, symbol, unit
from calc.engine.view import csv_cell, lower_first

if TYPE_CHECKING:
    from calc.engine.register import Calculator

_YES = {"yes", "y", "true", "1", "on"}
_NO = {"no", "n", "false", "0", "off", ""}


LONGEST_NUMBER = (
    400  # characters of a number with its unit; longer texts are no numbers, and would be costly to look through
)
EARLIEST, LATEST = 1900, 2200  # years of any date; the calendar of the computer ends at 9999
MOST_HOURS = 24 * 366 * 300
MOST_CELLS = 100  # in a row: more than any logger writes
_DECIMAL_COMMA = re.compile(r"^([-+−]?\d+),(\d+)(?![\d,.])")
_SERIES = re.compile(r"[\n\t]+|,\s+|,(?=\S)|(?<=\d)\s+(?=[-−\d.])")
_AMONG_SEMICOLONS = re.compile(r"[;\n\t]+|,\s+")  # a comma inside a number is then its own, as in a single field
_SPARE = object()  # key of a CSV row that has more cells than the header


RawRows: TypeAlias = tuple[list[tuple[int, dict[Any, Any]]], dict[str, str]]
"""[(row number, {column: cell as written})] and {column: unit from the header}."""


class Told(ValueError):
    """One message about one field."""


def read_inputs(
    entry: "Calculator",
    given: Mapping[str, Any] | None,
    system: str | None = None,
    currency: str = "$",
    defaults: Mapping[str, Any] | None = None,
) -> dict[str, Any]:
    """{name: SI value} for a calculator from {name: number, text or list}; Refused with every problem at once."""
    problems: list[tuple[str | None, str]] = []
    values: dict[str, Any] = {}
    defaults = entry.defaults if defaults is None else defaults
    given = dict(given or {})
    for name in [name for name in given if name not in entry.inputs]:
        near = get_close_matches(as_written(name), entry.inputs, n=1, cutoff=0.5)
        problems.append(
            (
                name,
                f"{entry.id} has no input “{as_written(name)}”."
                + (f" The nearest is {near[0]}." if near else f" It has: {', '.join(entry.inputs)}."),
            )
        )
        del given[name]
    given = drop_replaced(entry.inputs, given)
    for name, description in entry.inputs.items():
        other = getattr(description, "unless", "")
        if other and given.get(name) not in (None, "") and defaults[other] is not None:
            given.setdefault(other, None)  # a farm's default gave the other one
    for name, description in entry.inputs.items():
        if name not in given:
            values[name] = defaults[name]
            continue
        try:
            values[name] = read_value(description, given[name], system, currency)
        except Told as told:
            problems.append((name, str(told)))
    for name, description in entry.inputs.items():
        other = getattr(description, "unless", "")
        if (
            other
            and given.get(name) not in (None, "")
            and given.get(other) not in (None, "")
            and other not in dict(problems)
        ):
            problems.append(
                (
                    other,
                    (
                        f"Give either {lower_first(description.label)} or"
                        f" {lower_first(entry.inputs[other].label).removeprefix('or ')}, and leave the other blank."
                    ),
                )
            )
    if problems:
        raise Refused(problems)
    return values


def read_value(description: Input, written: Any, system: str | None = None, currency: str = "$") -> Any:
    """One SI value for one description; Told when it cannot be had."""
    if isinstance(written, str):
        written = written.strip()
    if written is None or written == "":
        if description.optional:
            return Kept() if isinstance(description, Rows) else None
        if not isinstance(description, (Rows, Series, Flag)):
            raise Told(f"Enter {_article(description)}.")
    for kind, reader in _READERS:
        if isinstance(description, kind):
            return reader(description, written, system, currency)
    raise TypeError(description)


def _article(description: Input) -> str:
    return "the " + lower_first(description.label)


def _read_number(description: Number, written: Any, system: str | None, currency: str) -> float:
    if isinstance(written, bool) or not isinstance(written, (int, float, str)):
        raise Told(f"{description.label} must be a number.")
    if isinstance(written, str):
        value = number_from_text(description, written, system, currency)
    else:
        value = convert(
            float(written) if abs(written) <= float_info.max else inf, description.shown(system), description.unit
        )
    if not isfinite(value):
        raise Told(f"{description.label} must be a number.")
    # A field shows nine digits: an end that was written in other units comes back. Each end has its own leeway, for one
    # may be a million times the other.
    if (
        not description.low - 1e-8 * abs(description.low) - 1e-12
        <= value
        <= description.high + 1e-8 * abs(description.high) + 1e-12
    ):
        raise Told(_bounds_message(description, written, value, system, currency))
    value = min(max(value, description.low), description.high)
    if description.whole:
        if abs(value - round(value)) > 1e-9:
            raise Told(f"{description.label} must be a whole number.")
        return round(value)
    return value


def number_from_text(description: Number, written: str, system: str | None, currency: str) -> float:
    """SI number from text, or Told with the units that would do."""
    label = description.label
    try:
        if len(written) > LONGEST_NUMBER:
            raise ValueError
        return read_quantity(written, description.unit, description.shown(system), currency)
    except UnknownUnit as unknown:
        name = str(unknown)
        try:
            unit(name)
        except UnknownUnit:
            raise Told(
                f"“{as_written(name)}” is not a unit that {lower_first(label)} can be given in. Use"
                f" {offers(description.unit, currency)}."
            ) from None
        raise Told(
            f"{label} cannot be given in {name.replace('money', currency)}. Use {offers(description.unit, currency)}."
        ) from None
    except (ValueError, OverflowError):
        raise Told(f"{label} must be a number{_like(description, system, currency)}.") from None


def _like(description: Number, system: str | None, currency: str) -> str:
    sign = symbol(description.shown(system), currency)
    return f", in {sign}" if sign and sign not in ("%", currency) else ""


def _bounds_message(description: Number, written: object, value: float, system: str | None, currency: str) -> str:
    """`X must be between A and B`, in the unit that the reader wrote or was shown."""
    shown = description.shown(system)
    if isinstance(written, str):
        match = re.search(r"[^\d\s.,½¼¾⅛⅜⅝⅞⅓⅔+−-].*$", written)
        if match:
            try:
                convert(0.0, match[0].strip(), description.unit)
                shown = (
                    {"F": "degF", "°F": "degF", "C": "degC", "°C": "degC"}.get(match[0].strip(), match[0].strip())
                    if description.unit != "K"
                    else match[0].strip()
                )
            except (UnknownUnit, ValueError, KeyError):
                pass
    low, high = (
        quantity_text(edge, description.unit, shown, 4, currency) for edge in (description.low, description.high)
    )
    if description.high >= 1e12:
        return f"{description.label} must be {low} or more."
    return f"{description.label} must be between {low} and {high}."


def _read_choice(description: Choice, written: Any, system: str | None, currency: str) -> str:
    wanted = str(written).lower()
    if wanted in description.options:
        return wanted
    for key, words in description.options.items():
        if wanted == words.lower():
            return key
    raise Told(f"{description.label} must be one of: {', '.join(description.options)}.")


def _read_flag(description: Flag, written: Any, system: str | None, currency: str) -> bool:
    if isinstance(written, bool):
        return written
    word = str("" if written is None else written).lower()
    if word in _YES | _NO:
        return word in _YES
    raise Told(f"{description.label} must be yes or no.")


def _read_day(description: Day, written: Any, system: str | None, currency: str) -> date:
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
        raise Told(f"{description.label} must be a date written year-month-day, such as 2027-03-01.") from None


def _read_text(description: Text, written: Any, system: str | None, currency: str) -> str:
    return str(written)


def _read_series(description: Series, written: Any, system: str | None, currency: str) -> tuple[float, ...]:
    if isinstance(written, str):
        stripped = written.strip()
        if stripped.startswith("["):
            written = _json(description, stripped)
        else:
            parts = (_AMONG_SEMICOLONS if ";" in stripped else _SERIES).split(stripped)
            written = [part for part in parts if part.strip()]
            if written and not re.search(r"\d", written[0]):
                written = written[1:]  # a header
    if isinstance(written, dict) or not hasattr(written or (), "__iter__"):
        written = [written]
    if len(written or ()) > description.most:
        raise Told(
            f"{description.label} has {len(written):,} numbers; {description.most:,} are the most that can be read."
        )
    values, wrong = [], []
    number = Number(
        description.unit,
        description.label,
        description.low,
        description.high,
        us=description.us,
        metric=description.metric,
    )
    for place, item in enumerate(list(written or ()), 1):
        try:
            values.append(read_value(number, item, system, currency))
        except Told as told:
            wrong.append(f"value {place} (“{as_written(item)}”): {told}")
    if wrong:
        raise Told(f"{description.label}: " + first_few(wrong))
    if description.length is not None and len(values) != description.length:
        raise Told(f"{description.label} needs {description.length} numbers; there are {len(values)}.")
    if not values and not description.optional:
        raise Told(f"{description.label} needs at least one number.")
    return tuple(values)


def _json(description: Input, text: str) -> Any:
    try:
        return json.loads(text)
    except (ValueError, RecursionError):
        raise Told(f"{description.label} starts like a JSON list but cannot be read as one.") from None


# ---- tables and logs


def _read_rows(description: Rows, written: Any, system: str | None, currency: str) -> Kept:
    raw, header_units = _raw_rows(description, written)
    if not raw and not description.optional and not description.tolerant:
        raise Told(f"{description.label} needs at least one row.")
    if len(raw) > description.most:
        raise Told(f"{description.label} has {len(raw):,} rows; {description.most:,} are the most that can be read.")
    readers = [
        (name, column, _cell_reader(description, place, name, column, header_units.get(name), system, currency))
        for place, (name, column) in enumerate(description.columns.items())
    ]
    rows: list[dict[str, Any]] = []
    numbers: list[int] = []
    wrong: list[str] = []
    for number, cells in raw:
        row: dict[str, Any] = {}
        bad = []
        if _SPARE in cells:
            wrong.append(
                f"Row {number}: there is more in “{as_written(cells[_SPARE])}” than in the heading. With decimal"
                " commas, separate the columns by semicolons."
            )
            continue
        for name, column, reader in readers:
            try:
                row[name] = reader(cells.get(name))
            except Told as told:
                cell = cells.get(name)
                seen = (
                    f" “{as_written(cell)}”"
                    if isinstance(cell, str) and cell and as_written(cell) not in str(told)
                    else ""
                )
                bad.append(f"Row {number}, {lower_first(column.label)}{seen}: {told}")
        if bad:
            wrong.extend(bad)
        else:
            rows.append(row)
            numbers.append(number)
    if description.timed and rows:
        _one_kind_of_time(description, rows, numbers, wrong)
    if wrong and not description.tolerant:
        raise Told(f"{description.label}: " + first_few(wrong))
    if description.tolerant:
        if not rows and not description.optional:
            raise Told(
                f"{description.label} has no row that can be read. " + first_few(wrong)
                if wrong
                else f"{description.label} needs at least one row."
            )
        return Kept(rows, wrong, numbers)
    return Kept(rows, (), numbers)


def _one_kind_of_time(description: Rows, rows: list[dict[str, Any]], numbers: list[int], wrong: list[str]) -> None:
    """A log is in dates or in hours, not in both: the rarer kind is told row by row."""
    first = next(iter(description.columns))
    dates = [index for index, row in enumerate(rows) if isinstance(row[first], datetime)]
    if 0 < len(dates) < len(rows):
        kind = datetime if len(dates) * 2 >= len(rows) else float
        for index in reversed(range(len(rows))):
            if not isinstance(rows[index][first], kind):
                wrong.append(
                    f"Row {numbers[index]}, time: the other rows give {'dates' if kind is datetime else 'hours'}."
                )
                del rows[index], numbers[index]


def _raw_rows(description: Rows, written: Any) -> RawRows:
    """[(row number, {column: cell})] and {column: unit from the header} from a list or from CSV text."""
    if isinstance(written, str):
        if written.lstrip().startswith("["):
            written = _json(description, written)
        else:
            return _csv_rows(description, written)
    names = list(description.columns)
    rows = []
    if isinstance(written, dict) or not hasattr(written or (), "__iter__"):
        written = [written]
    for number, item in enumerate(written or (), 1):
        if isinstance(item, dict):
            unknown = [name for name in item if name not in description.columns]
            if unknown:
                near = get_close_matches(as_written(unknown[0]), names, n=1, cutoff=0.5)
                raise Told(
                    f"{description.label}: there is no column “{as_written(unknown[0])}”."
                    + (f" The nearest is {near[0]}." if near else f" The columns are {', '.join(names)}.")
                )
            rows.append((number, item))
        elif isinstance(item, (list, tuple)):
            rows.append((number, dict(zip(names, item))))
        elif len(names) == 1:  # a table of one column may be a plain list
            rows.append((number, {names[0]: item}))
        else:
            raise Told(f"{description.label}: row {number} is not a row of columns.")
    return rows, {}


def _csv_rows(description: Rows, text: str) -> RawRows:
    text = text.lstrip("﻿").replace("\r\n", "\n").replace("\r", "\n")
    head = text.lstrip("\n").split("\n", 1)[0]
    delimiter = max(";\t,", key=head.count)
    try:
        lines = [
            (number, cells)
            for number, cells in enumerate(csv.reader(io.StringIO(text), delimiter=delimiter), 1)
            if any(cell.strip() for cell in cells)
        ]
    except csv.Error:
        raise Told(
            f"{description.label} cannot be read as a table: a cell is far too long, or a quotation mark is never"
            " closed."
        ) from None
    if not lines:
        return [], {}
    single, widest = len(description.columns) == 1, max(len(cells) for _, cells in lines)
    if widest > (description.most if single else MOST_CELLS):
        raise Told(
            f"{description.label} has a row of {widest:,} cells; its columns are {', '.join(description.columns)}."
        )
    places, units = _header(description, [cell.strip() for cell in lines[0][1]])
    if places is None:  # no header row: columns in their own order
        places, body = dict(enumerate(description.columns)), lines
    else:  # rows are counted below the heading, as the page's table shows them
        body = [(number - lines[0][0], cells) for number, cells in lines[1:]]
    if single:  # a table of one column may be written along a line
        return [
            (number, {places.get(0, next(iter(description.columns))): cell.strip()})
            for number, cells in body
            for cell in cells
            if cell.strip()
        ], units
    last = max(places)
    numeric = {
        name
        for place, (name, column) in enumerate(description.columns.items())
        if isinstance(column, Number) or description.timed and place == 0
    }
    rows = []
    for number, cells in body:
        row: dict[Any, Any] = {name: cells[place].strip() for place, name in places.items() if place < len(cells)}
        if delimiter == ";":  # then the comma of a number is its decimal point, also in 1,250
            row = {name: _DECIMAL_COMMA.sub(r"\1.\2", cell) if name in numeric else cell for name, cell in row.items()}
        if any(cell.strip() for cell in cells[last + 1 :]):
            row[_SPARE] = delimiter.join(cells)
        rows.append((number, row))
    return rows, units


def _header(description: Rows, cells: Sequence[str]) -> tuple[dict[int, str] | None, dict[str, str]]:
    """({place: column name}, {column: unit}) of a header row; (None, {}) when the first row holds numbers."""
    names = list(description.columns)
    places: dict[int, str] = {}
    units: dict[str, str] = {}
    unknown = []
    for place, cell in enumerate(cells):
        match = re.fullmatch(r"(?P<name>[^(\[]*?)\s*(?:[(\[](?P<unit>[^)\]]*)[)\]])?", cell)
        plain = (match["name"] if match else cell).strip().lower()
        key = re.sub(r"[\s\-]+", "_", plain)
        found = next((name for name in names if key == name or plain == description.columns[name].label.lower()), None)
        if found:
            places[place] = found
            if match and match["unit"]:
                units[found] = match["unit"].strip()
        elif plain:
            unknown.append(cell)
    if not places:
        if any(re.search(r"\d", cell) for cell in cells):
            return None, {}
        raise Told(f"{description.label} needs a header row with the columns {', '.join(names)}.")
    if unknown:
        near = get_close_matches(as_written(unknown[0]).lower(), names, n=1, cutoff=0.5)
        raise Told(
            f"{description.label}: there is no column “{as_written(unknown[0])}”."
            + (f" The nearest is {near[0]}." if near else f" The columns are {', '.join(names)}.")
        )
    return places, units


def units_named(description: Rows, text: Any, system: str | None, currency: str = "$") -> Any:
    """A table as it was written, wrong rows too, with the unit of every number column in its heading: it reads alike in
    either system.
    """
    if not isinstance(text, str) or text.lstrip().startswith("["):
        return text
    lines = text.lstrip("﻿").replace("\r\n", "\n").replace("\r", "\n").lstrip("\n").split("\n")
    delimiter = max(";\t,", key=lines[0].count)
    try:
        cells = [cell.strip() for cell in next(csv.reader(lines[:1], delimiter=delimiter), [])]
        places, units = _header(description, cells)
    except (csv.Error, Told):
        return text
    if places is None:
        cells, places, lines = list(description.columns), dict(enumerate(description.columns)), ["", *lines]
    for place, name in places.items():
        column = description.columns[name]
        sign = symbol(column.shown(system), currency) if isinstance(column, Number) else ""
        if sign and name not in units:
            cells[place] = f"{name} ({sign})"
    return "\n".join([delimiter.join(csv_cell(cell) for cell in cells), *lines[1:]])


def _cell_reader(
    description: Rows,
    place: int,
    name: str,
    column: Input,
    header_unit: str | None,
    system: str | None,
    currency: str,
) -> Callable[[Any], Any]:
    """A function from cell to value; plain numbers take a short way, since a log may have 50,000 rows."""
    if description.timed and place == 0:
        return _time_reader(column)
    if not isinstance(column, Number):
        return lambda cell: read_value(column, cell, system, currency)
    bare = _header_unit(description, column, header_unit, currency) or column.shown(system)
    zero = convert(0.0, bare, column.unit)
    scale = convert(1.0, bare, column.unit) - zero
    in_bare = Number(column.unit, column.label, column.low, column.high, us=bare, metric=bare, optional=column.optional)
    low, high, whole = column.low, column.high, column.whole

    def read(cell: Any) -> Any:
        if cell.__class__ is str:
            try:
                value = float(cell)
            except ValueError:
                pass
            else:
                value = zero + scale * value
                if low <= value <= high and not whole:
                    return value
        elif isinstance(cell, (int, float)) and not isinstance(cell, bool) and abs(cell) <= float_info.max:
            value = zero + scale * cell
            if low <= value <= high and not whole:
                return value
        value = read_value(in_bare, cell, "us", currency)
        if whole and value is not None:
            if abs(value - round(value)) > 1e-9:
                raise Told(f"{column.label} must be a whole number.")
            value = round(value)
        return value

    return read


def _header_unit(description: Rows, column: Number, written: str | None, currency: str) -> str | None:
    """The unit that a header names for its column, or None."""
    if not written:
        return None
    name = written.replace(currency, "money") if currency else written
    name = {"F": "degF", "°F": "degF", "C": "degC", "°C": "degC"}.get(name, name) if column.unit == "degC" else name
    try:
        convert(0.0, name, column.unit)
        return name
    except UnknownUnit:
        raise Told(
            f"{description.label}: the column {column.label.lower()} cannot be given in {written}. Use"
            f" {offers(column.unit, currency)}."
        ) from None


def _time_reader(column: Input) -> Callable[[Any], datetime | float]:
    def read(cell: Any) -> datetime | float:
        if isinstance(cell, datetime):
            return within(cell.replace(tzinfo=None), cell)
        if isinstance(cell, (int, float)) and not isinstance(cell, bool) and abs(cell) <= MOST_HOURS:
            return float(cell)
        text = str(cell or "").strip()
        try:
            time = datetime.fromisoformat(text).replace(tzinfo=None)
        except ValueError:
            pass
        else:
            return within(time, text)
        try:
            hours = float(text)
        except ValueError:
            raise Told(
                f"“{as_written(text)}” is not a time. Write 2027-03-01 14:00, or hours as a number."
                if text
                else "the time is missing."
            ) from None
        if not abs(hours) <= MOST_HOURS:
            raise Told(f"“{as_written(text)}” is not a time.")
        return hours

    def within(time: datetime, text: object) -> datetime:
        if not EARLIEST <= time.year <= LATEST:
            raise Told(f"“{as_written(text)}” is not between the years {EARLIEST} and {LATEST}.")
        return time

    return read


_READERS: tuple[tuple[type[Any], Callable[[Any, Any, str | None, str], Any]], ...] = (
    (Number, _read_number),
    (Choice, _read_choice),
    (Flag, _read_flag),
    (Day, _read_day),
    (Series, _read_series),
    (Rows, _read_rows),
    (Text, _read_text),
)
