"""A table of columns, and a log: a table whose first column is a time."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import datetime
from random import Random
from typing import Any, NamedTuple

from calc.engine import tabular
from calc.engine.again import nothing_same, same_ends
from calc.engine.kinds.amount import Amount
from calc.engine.kinds.base import Heading, Kind
from calc.engine.kinds.day import SERIAL, Moment, order_of, order_question, serials
from calc.engine.kinds.series import json_of
from calc.engine.tabular import Grid, csv_cell, heading_marks
from calc.engine.told import Told, as_written, first_few, lower_first, rather

LONG = 500
"""Rows from which on a table as it was last read is kept, of each label one; of shorter ones SHORT texts are."""
SHORT, SHORT_TEXT = 64, 100_000

MOST_MARKED = 200
"""Cells that are told one by one."""


class Kept(list[Any]):
    """The good rows of a table.

    `numbers` are the rows' numbers; `dropped` says in words why each other row was left out,
    `cells` which cells that was; `notes` what else was left out; `assumed` the unit with which a row without one was
    read, by its number."""

    def __init__(
        self,
        rows: Iterable[Any] = (),
        dropped: Iterable[str] = (),
        numbers: Iterable[int] = (),
        cells: Iterable[tuple[int, str | None]] = (),
        notes: Iterable[str] = (),
        assumed: Mapping[int, str] = {},
    ) -> None:
        super().__init__(rows)
        self.dropped, self.numbers = list(dropped), list(numbers)
        self.cells, self.notes = list(cells), list(notes)
        self.assumed = dict(assumed)


def numbered(rows: Sequence[Any]) -> list[tuple[int, Any]]:
    """Rows of a table with the numbers by which the reader knows them."""
    return list(zip(getattr(rows, "numbers", None) or range(1, len(rows) + 1), rows))


Wrong = list[tuple[int, int, str | None, str]]
"""[(place of the row, place of the column, its name, message)]."""


class Reading(NamedTuple):
    """A long table as it was last read, with what its rows keep when a few others change."""

    table: Rows
    asked: tuple[str | None, str, Any]
    """Units, money and what was written."""
    grid: Grid
    rows: list[dict[str, Any]]
    """For each of the grid, also where something in it is wrong."""
    wrong: Wrong
    meant: dict[str, dict[int, str]]
    kept: Kept


_LAST: dict[str, Reading] = {}
"""By label."""
_GRIDS: dict[str, tuple[Rows, str, Grid]] = {}
"""The cells of such a table as they were last found, with its text."""
_SHORT: dict[tuple[int, str | None, str, str], tuple[Rows, Kept]] = {}
"""Short tables as they were read, by table, units, money and text."""


@dataclass(frozen=True)
class Rows(Kind):
    """A table: rows of named columns. `tolerant` keeps the good rows and reports the others as `Kept.dropped`.

    `also` are other headings by which its columns are known (lower case), such as those of a printed sheet. A text of
    another form altogether is rewritten by `other_form`, which says in words what it leaves out.
    """

    label: str
    columns: dict[str, Any]
    help: str = ""
    group: str = ""
    optional: bool = False
    tolerant: bool = False
    most: int = 1_000
    also: dict[str, str] = field(default_factory=dict)
    other_form: Callable[[str, Mapping[str, Any], Mapping[str, str]], tuple[str, list[str]]] | None = None

    timed = False
    many = True
    rows = True
    reads_blank = True

    def blank(self) -> Any:
        return Kept()

    # ---- read

    def read(self, written: Any, system: str | None, currency: str) -> Kept:
        """The rows as they are kept. What is read again is not read anew, and of a long table only what changed."""
        last = _LAST.get(self.label)
        if last is not None and last.table is self and last.asked == (system, currency, written):
            return last.kept
        short = isinstance(written, str) and len(written) <= SHORT_TEXT
        key = (id(self), system, currency, written if short else "")
        if short and key in _SHORT and _SHORT[key][0] is self:
            return _SHORT[key][1]
        reading = self._read(written, system, currency, last)
        if len(reading.kept) >= LONG:
            _LAST[self.label] = reading
        elif short:
            if len(_SHORT) >= SHORT:
                del _SHORT[next(iter(_SHORT))]
            _SHORT[key] = self, reading.kept
        return reading.kept

    def _read(self, written: Any, system: str | None, currency: str, last: Reading | None) -> Reading:
        grid = self.grid(written)
        if not grid.rows and not self.optional and not self.tolerant:
            raise Told(f"{self.label} needs at least one row.")
        if len(grid.rows) > self.most:
            raise Told(f"{self.label} has {len(grid.rows):,} rows; {self.most:,} are the most that can be read.")
        self.settle(grid, system, currency)
        rows, wrong, meant = self._rows_read(grid, system, currency, last)
        bad = {place for place, *_ in wrong}
        good = [row for place, row in enumerate(rows) if place not in bad] if bad else rows.copy()
        numbers = [number for place, number in enumerate(grid.numbers) if place not in bad] if bad else [*grid.numbers]
        told = [(place, at, name, f"Row {grid.numbers[place]}{said}") for place, at, name, said in wrong]
        if self.timed and good:
            told += self._one_kind_of_time(good, numbers, grid.numbers)
        kept = self._kept(grid, good, numbers, told)
        for name, units in meant.items():
            if not grid.headings.get(name, Heading()).system:  # else the table says so itself
                kept.assumed |= {grid.numbers[place]: written for place, written in units.items()}
        return Reading(self, (system, currency, written), grid, rows, wrong, meant, kept)

    def _rows_read(
        self, grid: Grid, system: str | None, currency: str, last: Reading | None
    ) -> tuple[list[dict[str, Any]], Wrong, dict[str, dict[int, str]]]:
        """(values of each row, what is wrong in them, units of amounts without one). Rows whose cells were read the
        last time, under the same heading, keep what was read then.
        """
        known = last if last is not None and self._goes_on(last, grid, system, currency) else None
        same = same_ends(known.grid.rows, grid.rows) if known else nothing_same((), grid.rows)
        if known and same.moved(known.grid.spare, grid.part(same.start, same.stop).spare) != grid.spare:
            known, same = None, nothing_same((), grid.rows)
        part = grid.part(same.start, same.stop)
        meant = self._units_meant(part, system)
        columns, new_wrong = self._columns_read(part, system, currency, meant)
        new = [dict(zip(self.columns, row)) for row in zip(*columns)]
        if known is None:
            return new, new_wrong, meant
        wrong = [one for one in known.wrong if one[0] < same.start]
        wrong += [(place + same.start, at, name, told) for place, at, name, told in new_wrong]
        further = same.stop - same.gone
        wrong += [(place + further, at, name, told) for place, at, name, told in known.wrong if place >= same.gone]
        meant = {name: same.moved(known.meant[name], units) for name, units in meant.items()}
        return same.spliced(known.rows, new), wrong, meant

    def _goes_on(self, last: Reading, grid: Grid, system: str | None, currency: str) -> bool:
        """Whether the cells of a text mean what they meant the last time."""
        before = last.grid
        as_then = last.table is self and last.asked[:2] == (system, currency) and before.names == grid.names
        return as_then and bool(grid.delimiter and before.delimiter) and before.headings == grid.headings

    def _units_meant(self, grid: Grid, system: str | None) -> dict[str, dict[int, str]]:
        """{column of amounts: {place: unit}} of what was written without one."""
        found = {}
        for name, column in self.columns.items():
            if isinstance(column, Amount) and column.unit_by in grid.names and name in grid.names:
                cells, units, words = map(grid.column, (name, column.unit_column, column.unit_by))
                heading = grid.headings.get(name, Heading())
                found[name] = column.without_units(cells, units, words, heading, system)
        return found

    def grid(self, written: Any) -> Grid:
        """The cells of a table from a list of rows, from JSON, or from a text that was pasted or saved."""
        if isinstance(written, str):
            text = written.lstrip()
            if not text.startswith(("[", '{"')):
                written, notes = self.in_own_form(written)
                grid = self._grid_of_text(written)
                grid.notes += notes
                return grid
            written = json_of(self.label, text)
        headings: dict[str, Heading] = {}
        names = list(self.columns)
        of_page = isinstance(written, dict) and isinstance(written.get("rows"), list)
        if of_page:
            headings = self._headings(written.get("headings"))
            columns = written.get("columns")
            names = [name for name in columns if name in self.columns] if isinstance(columns, list) else names
            written = self._named_rows(written)
        if isinstance(written, dict) or not hasattr(written or (), "__iter__"):
            written = [written]
        rows = [(number, self._cells(number, item, names)) for number, item in enumerate(written or (), 1)]
        if of_page:  # a row that waits to be filled in
            rows = [(number, cells) for number, cells in rows if any(cell not in (None, "") for cell in cells)]
        return Grid(names, headings, [number for number, _ in rows], [cells for _, cells in rows])

    def _grid_of_text(self, text: str) -> Grid:
        """The cells of a text; of a long one that was seen before only the lines that are others now are read."""
        table, before, known = _GRIDS.get(self.label, (None, "", Grid()))
        grid = tabular.grid_from(known, before, text) if table is self else None
        if grid is None:
            grid = tabular.grid_of_text(self.label, self.columns, text, self.most, self.also, self.tolerant)
        if len(grid.rows) >= LONG:
            _GRIDS[self.label] = self, text, grid
        return replace(grid, headings=dict(grid.headings), notes=list(grid.notes))

    def in_own_form(self, text: str) -> tuple[str, list[str]]:
        """(a text as the rows that this table takes, what was left out in words)."""
        return self.other_form(text, self.columns, self.also) if self.other_form else (text, [])

    def _headings(self, written: Any) -> dict[str, Heading]:
        """{column: heading} of the page's rows: {column: [what its heading says in brackets]}."""
        if not isinstance(written, dict):
            return {}
        known = {name: marks for name, marks in written.items() if name in self.columns and isinstance(marks, list)}
        return {name: tabular.heading_of(str(mark) for mark in marks) for name, marks in known.items()}

    def _named_rows(self, written: dict[str, Any]) -> list[Any]:
        """The page's rows of cells by the names of their columns."""
        columns = written.get("columns")
        if not isinstance(columns, list):
            return list(written["rows"])
        return [dict(zip(columns, row)) if isinstance(row, list) else row for row in written["rows"]]

    def _cells(self, number: int, item: Any, names: list[str]) -> list[Any]:
        if isinstance(item, dict):
            unknown = next((name for name in item if name not in self.columns), None)
            if unknown is not None:
                raise Told(f"{self.label}: there is no column “{as_written(unknown)}”. {rather(unknown, names)}")
            return [item.get(name) for name in names]
        if isinstance(item, (list, tuple)):
            return [item[place] if place < len(item) else None for place in range(len(names))]
        if len(names) == 1:  # a table of one column may be a plain list
            return [item]
        raise Told(f"{self.label}: row {number} is not a row of columns.")

    def settle(self, grid: Grid, system: str | None = None, currency: str = "$") -> None:
        """The order of the dates and the decimal mark of the numbers, from the table as a whole; Told with a
        question otherwise.
        """
        for name in grid.names:
            heading = grid.headings.get(name, Heading())
            if not self.columns[name].dated_cells or heading.order:
                continue
            cells = grid.column(name)
            order, doubtful = order_of(cells)
            if doubtful:
                question = order_question(doubtful, name)
                words = " or ".join(option["words"] for option in question["options"])
                raise Told(
                    f"{self.label}: {as_written(doubtful)} can be {words}. Say which behind the heading:"
                    f" {name} (day first) or {name} (month first).",
                    question=question,
                )
            if not order and self.timed and serials(cells):
                order = SERIAL
            grid.headings[name] = replace(heading, order=order)
        if (grid.delimiter == "," and not grid.quoted) or not grid.delimiter:
            return
        numeric = [
            name for name in grid.names if self.columns[name].numeric_cells or (self.timed and name == self._first)
        ]
        open_ones = [name for name in numeric if grid.headings.get(name, Heading()).comma is None]
        comma, doubtful = tabular.decimal_mark(
            [
                (self.columns[n].most_written(grid.headings.get(n, Heading()), system, currency), grid.column(n))
                for n in open_ones
            ],
            grid.delimiter,
        )
        if doubtful:
            question = tabular.decimal_question(doubtful)
            words = " or ".join(option["words"] for option in question["options"])
            raise Told(
                f"{self.label}: {as_written(doubtful)} can be {words}. Say which behind the heading of each column of"
                " numbers: (decimal comma) or (decimal point).",
                question=question,
            )
        for name in open_ones:
            grid.headings[name] = replace(grid.headings.get(name, Heading()), comma=comma or None)

    @property
    def _first(self) -> str:
        return next(iter(self.columns))

    def _columns_read(
        self, grid: Grid, system: str | None, currency: str, meant: Mapping[str, dict[int, str]]
    ) -> tuple[list[list[Any]], Wrong]:
        """(values column by column, what is wrong, without the rows' numbers); meant: units of amounts without one."""
        read: dict[str, list[Any]] = {}
        wrong: Wrong = []
        for at, (name, column) in enumerate(self.columns.items()):
            if name in read and name not in grid.names:
                continue  # the units of an amount whose own column is not there
            cells, heading = grid.column(name), grid.headings.get(name, Heading())
            try:
                if isinstance(column, Amount) and column.unit_column in self.columns:
                    units = grid.column(column.unit_column)
                    read[name], read[column.unit_column], told = column.read_beside(
                        cells, units, heading, currency, meant.get(name, {})
                    )
                elif name in read:
                    continue
                else:
                    read[name], told = column.read_column(cells, heading, system, currency)
            except Told as of_heading:
                raise Told(f"{self.label}: {of_heading}") from None
            wrong += [
                (place, at, name, self._cell_told(message, cells[place], column)) for place, message in told.items()
            ]
        for place, row in grid.spare.items():
            wrong = [one for one in wrong if one[0] != place]
            wrong.append((place, 0, None, self._spare_told(row)))
        wrong.sort(key=lambda one: one[:2])
        return [read[name] for name in self.columns], wrong

    def _cell_told(self, told: str, cell: Any, column: Kind) -> str:
        seen = isinstance(cell, str) and cell and as_written(cell) not in told
        return f", {lower_first(column.label)}{f' “{as_written(cell)}”' if seen else ''}: {told}"

    def _spare_told(self, row: str) -> str:
        return (
            f": there is more in “{as_written(row)}” than in the heading. With decimal commas, separate the columns by"
            " semicolons."
        )

    def _kept(self, grid: Grid, rows: list[Any], numbers: list[int], wrong: Wrong) -> Kept:
        messages = [message for *_, message in wrong]
        cells = [(grid.numbers[place], name) for place, _, name, _ in wrong[:MOST_MARKED]]
        if wrong and not self.tolerant:
            raise Told(f"{self.label}: " + first_few(messages), cells)
        if self.tolerant and not rows and not self.optional:
            if wrong:
                raise Told(f"{self.label} has no row that can be read. " + first_few(messages), cells)
            raise Told(f"{self.label} needs at least one row.")
        return Kept(rows, messages, numbers, cells, grid.notes)

    def _one_kind_of_time(self, rows: list[Any], numbers: list[int], of_grid: list[int]) -> Wrong:
        """A log is in dates or in hours, not in both: the rarer kind is taken out and told row by row."""
        first = self._first
        dates = sum([isinstance(row[first], datetime) for row in rows])
        wrong: Wrong = []
        if 0 < dates < len(rows):
            kind = datetime if dates * 2 >= len(rows) else float
            words = "dates" if kind is datetime else "hours"
            for index in reversed(range(len(rows))):
                if not isinstance(rows[index][first], kind):
                    told = f"Row {numbers[index]}, time: the other rows give {words}."
                    wrong.append((of_grid.index(numbers[index]), 0, first, told))
                    del rows[index]
                    del numbers[index]
        return wrong

    # ---- show

    def words(self, value: Any, system: str | None = None, currency: str = "$") -> str:
        return "–" if value is None else "1 row" if len(value) == 1 else f"{len(value):,} rows"

    def text(self, value: Any, system: str | None, currency: str = "$", digits: int = 9) -> str:
        """CSV with the units in the heading; nine digits come back unchanged."""
        if value is None:
            return ""
        lines = [",".join(csv_cell(head) for head in self.heads(system, currency))]
        days = self._days_alone(value)
        for row in value:
            cells = self.row_texts(row, system, digits)
            if days:
                cells[self._first] = cells[self._first].removesuffix(MIDNIGHT)
            lines.append(",".join(csv_cell(cells[name]) for name in self.columns))
        return "\n".join(lines)

    def _days_alone(self, value: Sequence[Mapping[str, Any]]) -> bool:
        """Whether the rows of a log are of days, none with a time of day: then none is written."""
        times = (row[self._first] for row in value) if self.timed else ()
        return self.timed and all(isinstance(time, datetime) and not (time.hour or time.minute) for time in times)

    def heads(self, system: str | None, currency: str = "$") -> list[str]:
        """`mass (kg)`: the names of the columns with their units."""
        signs = {name: column.sign(system, currency) for name, column in self.columns.items()}
        return [f"{name} ({sign})" if sign else name for name, sign in signs.items()]

    def row_texts(self, row: Mapping[str, Any], system: str | None, digits: int = 9) -> dict[str, str]:
        """{column: text of its cell} of a row."""
        texts = {name: column.cell_text(row.get(name), system, digits) for name, column in self.columns.items()}
        for name, column in self.columns.items():
            if isinstance(column, Amount) and column.unit_column in self.columns:
                pair = column.shown_pair(row.get(name), row.get(column.unit_column), system, digits)
                texts[name], texts[column.unit_column] = pair
        return texts

    def as_grid(self, value: Any, system: str | None, currency: str = "$", digits: int = 9) -> Grid:
        """A value as the rows that the page takes."""
        signs = {name: column.sign(system, currency) for name, column in self.columns.items()}
        headings = {name: Heading(sign) for name, sign in signs.items() if sign}
        rows = [list(self.row_texts(row, system, digits).values()) for row in value or ()]
        if self._days_alone(value or ()):
            rows = [[first.removesuffix(MIDNIGHT), *others] for first, *others in rows]
        return Grid(list(self.columns), headings, list(range(1, len(rows) + 1)), list(rows))

    def units_named(self, written: Any, system: str | None, currency: str = "$") -> Any:
        """A table as it was written, wrong rows too, as CSV with the unit of every number in its heading: it reads
        alike everywhere.
        """
        if isinstance(written, str) and not written.lstrip().startswith(("[", '{"')):
            written, _ = self.in_own_form(written)
        try:
            grid = self.grid(written)
        except Told:
            return written
        if not grid.names or (not grid.delimiter and not grid.rows):
            return written
        heads = []
        meant = self._units_meant(grid, system)
        for name in grid.names:
            heading = grid.headings.get(name, Heading())
            if meant.get(name):
                heading = replace(heading, system=heading.system or system or "")
            sign = heading.unit or self.columns[name].sign(system, currency)
            marks = heading_marks(replace(heading, unit=sign))
            heads.append(" ".join([name, *(f"({mark})" for mark in marks)]))
        if isinstance(written, str) and grid.delimiter:
            return self._with_head(written, heads, grid)
        return tabular.csv_text([heads, *grid.rows])

    def _with_head(self, text: str, heads: list[str], grid: Grid) -> str:
        """The reader's own text under a heading that names the units; foreign columns keep theirs."""
        return tabular.with_heads(text, self.columns, dict(zip(grid.names, heads)), self.also)

    def default_text(self, value: Any, system: str | None, currency: str = "$") -> str:
        """Shown with five digits; a cell may be a clock time in hours."""
        return self.text(value, system, currency, DEFAULT_DIGITS) if value else self.text(value, system, currency)

    def plan_text(self, value: Any, system: str | None) -> str:
        return "" if value is None else self.text(value, system, "money")

    def described(self) -> dict[str, Any]:
        return {"columns": {name: getattr(column, "unit", None) for name, column in self.columns.items()}}

    def limits_text(self, system: str | None, currency: str = "$") -> str:
        return self.text((), system, currency)

    def random_value(self, chance: Random) -> Any:
        many = range(chance.randint(1, 6))
        rows = [{name: column.random_value(chance) for name, column in self.columns.items()} for _ in many]
        for column in self.columns.values():
            if isinstance(column, Amount) and column.unit_column in self.columns:
                for row in rows:
                    row[column.unit_column] = chance.choice(["kg", "m3", "degC", "%", "trays", ""])
        return Kept(rows, (), range(1, len(rows) + 1))


DEFAULT_DIGITS = 5
MIDNIGHT = " 00:00"
TIMES = ("time", "date", "day", "date and time", "date time", "date/time", "datetime", "timestamp")
"""What the first column of a log is called elsewhere."""


@dataclass(frozen=True)
class Log(Rows):
    """A table whose first column is a time: a date with a time of day, or hours as a number."""

    most: int = 50_000

    timed = True

    def __post_init__(self) -> None:
        first = self.columns[self._first]
        object.__setattr__(self, "columns", self.columns | {self._first: Moment(first.label, first.help)})
        times = {words: self._first for words in TIMES if words not in self.columns}
        object.__setattr__(self, "also", times | self.also)
