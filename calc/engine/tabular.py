"""The one reader and writer of tables as text: bytes of a file → text → a grid of cells by column, and back to CSV.

What programs write is read as it comes: Windows-1252, Mac Roman, UTF-16 with and without a mark; tabs, semicolons,
commas; title lines above the heading; columns that nobody asked for, which are named and left out. What a cell means is
the business of its column.
"""

from __future__ import annotations

import csv
import io
import re
from bisect import bisect_left
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from difflib import get_close_matches
from typing import Any, NamedTuple

from calc.engine.again import Same, same_ends
from calc.engine.kinds.base import Heading, Kind
from calc.engine.quantity import UnknownUnit, unit
from calc.engine.told import Told, as_written, first_few

MOST_CELLS = 100
"""In a row: more than any logger writes."""
TITLE_LINES = 30
"""So many lines at the top are looked through for a heading."""
NEAR = 0.75
"""How like a column's name a foreign one must be to be taken for a slip."""
MARKS = {"day first", "month first", "decimal comma", "decimal point"}
SYSTEMS = {"us units": "us", "metric units": "metric"}
"""What a heading may say in brackets beside its unit."""
LONGEST_HEAD = 200


class Frame(NamedTuple):
    """How the heading of a text places the cells below it."""

    line: int  # of the heading, from 1
    places: Mapping[int, str]  # {place of a cell in a line: column}
    width: int


@dataclass
class Grid:
    """Cells by row, in the columns that were found. `numbers` are the rows' numbers as the reader counts them."""

    names: list[str] = field(default_factory=list)
    headings: dict[str, Heading] = field(default_factory=dict)
    numbers: list[int] = field(default_factory=list)
    rows: list[list[Any]] = field(default_factory=list)
    spare: dict[int, str] = field(default_factory=dict)  # place of a row: all of a row that has more than the heading
    notes: list[str] = field(default_factory=list)
    delimiter: str = ""  # blank where the cells did not come out of a text
    quoted: bool = False
    frame: Frame | None = None

    def part(self, start: int, stop: int) -> Grid:
        """Some of its rows."""
        if start == 0 and stop == len(self.rows):
            return self
        spare = {place - start: row for place, row in self.spare.items() if start <= place < stop}
        return replace(self, numbers=self.numbers[start:stop], rows=self.rows[start:stop], spare=spare)

    def column(self, name: str) -> list[Any]:
        """The cells of a column, None where it has none."""
        if name not in self.names:
            return [None] * len(self.rows)
        place = self.names.index(name)
        return [row[place] for row in self.rows]

    def as_json(self) -> dict[str, Any]:
        """For the page: columns, what their headings say, and rows of texts, the spare ones left out."""
        return {
            "columns": self.names,
            "headings": {name: heading_marks(heading) for name, heading in self.headings.items()},
            "rows": [["" if cell is None else str(cell) for cell in row] for row in self.rows],
            "numbers": self.numbers,
        }


# ---- bytes to text

_LETTERS = frozenset("äöüßÄÖÜéèêëáàâåæøñçíìîïóòôõúùûÉÈÀÅÆØÑÇœŒ°²³½¼¾–—‘’“”€£µ·×±…")
"""Letters and signs that are likelier than what the other encoding makes of the same byte."""


def decoded(data: bytes) -> str:
    """Text of a file in whatever encoding a program wrote it: by its mark, else by what can be read, else by what reads
    as letters.

    >>> decoded("Tage;°C".encode("cp1252")), decoded("Wärme".encode("mac_roman")), decoded("a,b".encode("utf-16-le"))
    ('Tage;°C', 'Wärme', 'a,b')
    """
    for mark, encoding in ((b"\xef\xbb\xbf", "utf-8"), (b"\xff\xfe", "utf-16-le"), (b"\xfe\xff", "utf-16-be")):
        if data.startswith(mark):
            return data[len(mark) :].decode(encoding, errors="replace")
    start = data[:2000]
    for place, encoding in ((1, "utf-16-le"), (0, "utf-16-be")):  # every other byte of plain letters is a zero
        if len(start) >= 4 and start[place::2].count(0) > 0.6 * len(start[place::2]):
            return data.decode(encoding, errors="replace")
    try:
        return data.decode("utf-8")
    except UnicodeDecodeError:
        pass
    ways = [data.decode(encoding, errors="replace") for encoding in ("cp1252", "mac_roman")]
    return max(ways, key=lambda text: sum((letter in _LETTERS) - (letter not in _LETTERS) for letter in _foreign(text)))


def _foreign(text: str) -> str:
    """What is not plain ASCII in a text, of a long one the first part."""
    return re.sub(r"[\x00-\x7f]", "", text[:200_000])


def is_text(data: bytes) -> bool:
    """Whether a file is text at all: a picture, a spreadsheet's own file or a program holds bytes that no text has."""
    start = data[:4000]
    if start[:4] in (b"PK\x03\x04", b"%PDF", b"\xd0\xcf\x11\xe0") or start[:2] == b"\x1f\x8b":
        return False
    if start[:2] in (b"\xff\xfe", b"\xfe\xff"):
        return True
    zeros = (start[0::2].count(0), start[1::2].count(0))
    if min(zeros) == 0 and max(zeros) > 0.6 * len(start[0::2]) > 0:
        return True  # UTF-16 without a mark
    control = sum(byte < 9 or 13 < byte < 32 for byte in start)
    return control <= len(start) / 100


# ---- text to grid


def grid_of_text(
    label: str,
    columns: Mapping[str, Kind],
    text: str,
    most: int,
    also: Mapping[str, str] | None = None,
    tolerant: bool = False,
) -> Grid:
    """The cells of a table that was pasted or saved. also: {other heading: column}, such as those of a printed
    sheet.
    """
    text = text.lstrip("﻿").replace("\r\n", "\n").replace("\r", "\n")
    head, delimiter = _head_of(columns, text, also or {})
    try:
        reader = csv.reader(io.StringIO(text), delimiter=delimiter)
        lines = [(number, cells) for number, cells in enumerate(reader, 1) if "".join(cells).strip()]
    except csv.Error:
        raise Told(
            f"{label} cannot be read as a table: a cell is far too long, or a quotation mark is never closed."
        ) from None
    if not lines:
        return Grid()
    single, widest = len(columns) == 1, max(len(cells) for _, cells in lines)
    if widest > (most if single else MOST_CELLS):
        raise Told(f"{label} has a row of {widest:,} cells; its columns are {', '.join(columns)}.")
    grid = Grid(delimiter=delimiter, quoted='"' in text)
    if head is None:
        if not any(re.search(r"\d", cell) for cell in lines[0][1]):
            raise Told(
                f"{label} needs a header row with the columns {', '.join(columns)}.",
                question=_columns_question([cell.strip() for cell in lines[0][1]], columns),
            )
        places, body = dict(enumerate(columns)), lines
    else:
        start = next((place for place, (number, _) in enumerate(lines) if number >= head), 0)
        cells = [cell.strip() for cell in lines[start][1]]
        places, grid.headings = _placed(label, cells, columns, also or {}, grid.notes)
        first = lines[start][0]
        body = [(number - first, row) for number, row in lines[start + 1 :]]
        titles = [delimiter.join(row).strip(delimiter + " ") for _, row in lines[:start]]
        if titles:
            grid.notes.insert(0, f"Above the heading, left out: {first_few([f'“{as_written(t)}”' for t in titles], 3)}")
    grid.names = list(dict.fromkeys(places.values()))
    if single:  # a table of one column may be written along a line
        flat = [(number, cell.strip()) for number, row in body for cell in row if cell.strip()]
        grid.numbers, grid.rows = [number for number, _ in flat], [[cell] for _, cell in flat]
        return grid
    width = (head is not None and len(lines[start][1])) or max(places) + 1
    _fill(grid, places, body, width)
    grid.frame = Frame(lines[start][0], places, width) if head is not None else None
    return grid


def grid_from(before: Grid, old: str, new: str) -> Grid | None:
    """The grid of a text of which only some lines are others than those of an `old` one, whose grid is known; None
    where the whole has to be read.

    That is where the lines differ among which the heading is looked for, or a quoted cell may go on in the next line.
    """
    frame = before.frame
    if frame is None or before.quoted or any(sign in new for sign in '"\r\0'):
        return None
    start, _, stop = same_ends(old, new)
    start = new.rfind("\n", 0, start) + 1
    above = new.count("\n", 0, start)
    if above < 2 * TITLE_LINES:
        return None
    end = new.find("\n", stop) + 1 or len(new)  # whole lines
    between, were = new[start:end], old[start : len(old) - (len(new) - end)]
    try:
        lines = list(enumerate(csv.reader(io.StringIO(between), delimiter=before.delimiter), above + 1))
    except csv.Error:
        return None
    body = [(number - frame.line, cells) for number, cells in lines if "".join(cells).strip()]
    if any(len(cells) > MOST_CELLS for _, cells in body):
        return None
    part = Grid(before.names, delimiter=before.delimiter)
    _fill(part, frame.places, body, frame.width)
    more = between.count("\n") - were.count("\n")
    first = bisect_left(before.numbers, above + 1 - frame.line)
    after = (
        bisect_left(before.numbers, above + 1 + were.count("\n") - frame.line) if end < len(new) else len(before.rows)
    )
    same = Same(first, after, first + len(part.rows))
    moved = before.numbers[after:] if not more else [number + more for number in before.numbers[after:]]
    return replace(
        before,
        numbers=[*before.numbers[:first], *part.numbers, *moved],
        rows=same.spliced(before.rows, part.rows),
        spare=same.moved(before.spare, part.spare),
    )


def _fill(grid: Grid, places: Mapping[int, str], body: list[tuple[int, list[str]]], width: int) -> None:
    """The cells of the body by column; what stands beyond the heading is kept apart."""
    order = [max(place for place, name in places.items() if name == wanted) for wanted in grid.names]
    as_is = order == list(range(width))
    guarded = any("'" in cell for _, row in body for cell in row)
    for number, row in body:
        if len(row) > width and any(cell.strip() for cell in row[width:]):
            grid.spare[len(grid.rows)] = grid.delimiter.join(row)
        cells: list[Any] = list(map(str.strip, row))
        if len(cells) < width:
            cells += [None] * (width - len(cells))
        if not as_is or len(cells) > width:
            cells = [cells[place] for place in order]
        grid.numbers.append(number)
        grid.rows.append([_unguarded(cell) for cell in cells] if guarded else cells)


def _unguarded(cell: str | None) -> str | None:
    """A cell without the quote that csv_cell sets before what a spreadsheet would take for a formula."""
    return cell[1:] if cell and cell[0] == "'" and cell[1:2] in "=@+-＝＠＋－" and cell[1:] else cell


def _head_of(columns: Mapping[str, Kind], text: str, also: Mapping[str, str]) -> tuple[int | None, str]:
    """(number of the line of the heading, delimiter): the line among the first ones in which most columns are named."""
    lines = text.split("\n", TITLE_LINES * 2 + 1)[: TITLE_LINES * 2]
    best, found, delimiter = 0, None, ""
    seen, most = 0, len({*columns, *also.values()})
    for number, line in enumerate(lines, 1):
        if best == most:  # no line can name more
            break
        if not line.strip() or seen >= TITLE_LINES:
            continue
        seen += 1
        for mark in ";\t,":
            if (delimiter and mark not in line) or len(line) > MOST_CELLS * LONGEST_HEAD:
                continue
            try:
                cells = next(csv.reader([line], delimiter=mark), [])
            except csv.Error:
                continue
            named = len({name for cell in cells[:MOST_CELLS] if (name := _named(cell.strip(), columns, also)[0])})
            if named > best or (
                named and named == best and found == number and line.count(mark) > line.count(delimiter)
            ):
                best, found, delimiter = named, number, mark
    if found:
        return found, delimiter
    first = next((line for line in lines if line.strip()), "")
    return None, max(";\t,", key=first.count)


def _named(cell: str, columns: Mapping[str, Kind], also: Mapping[str, str]) -> tuple[str | None, Heading]:
    """(column that a cell of the heading names, what it says of it)."""
    if len(cell) > LONGEST_HEAD:
        return None, Heading()
    marks = [mark.strip() for mark in re.findall(r"[(\[]([^)\]]*)[)\]]", cell)]
    plain = _bare(cell).lower()
    name = _known(plain, columns, also)
    if name is None and not marks:  # `Temp, °C` and `Weight kg`
        before, _, behind = plain.replace(",", " ").rstrip().rpartition(" ")
        if before and _is_unit(behind):
            name, marks = _known(before.strip(), columns, also), [cell.replace(",", " ").split()[-1]]
    return name, heading_of(marks)


def _bare(cell: str) -> str:
    """A heading without what stands in brackets."""
    return re.sub(r"\s*[(\[][^)\]]*[)\]]", "", cell).strip()


def _known(plain: str, columns: Mapping[str, Kind], also: Mapping[str, str]) -> str | None:
    key = re.sub(r"[\s\-]+", "_", plain)
    found = next((name for name in columns if key == name or plain == columns[name].label.lower()), None)
    return found or also.get(plain)


def _is_unit(text: str) -> bool:
    try:
        unit(text)
    except UnknownUnit:
        return False
    return not text.isdigit()


def heading_of(marks: Iterable[str]) -> Heading:
    """What a heading says in brackets: a unit, the order of its dates, its decimal mark."""
    heading = Heading()
    for mark in marks:
        if mark.lower() in ("decimal comma", "decimal point"):
            heading = replace(heading, comma=mark.lower() == "decimal comma")
        elif mark.lower() in MARKS:
            heading = replace(heading, order=mark.lower())
        elif mark.lower() in SYSTEMS:
            heading = replace(heading, system=SYSTEMS[mark.lower()])
        elif mark and not heading.unit:
            heading = replace(heading, unit=mark)
    return heading


def heading_marks(heading: Heading) -> list[str]:
    """The same back as words."""
    comma = {True: "decimal comma", False: "decimal point", None: ""}[heading.comma]
    system = {"us": "US units", "metric": "metric units"}.get(heading.system, "")
    return [mark for mark in (heading.unit, system, heading.order if heading.order in MARKS else "", comma) if mark]


def _placed(
    label: str, cells: list[str], columns: Mapping[str, Kind], also: Mapping[str, str], notes: list[str]
) -> tuple[dict[int, str], dict[str, Heading]]:
    """({place: column}, {column: heading}) of a header row; what nobody asked for is named and left out."""
    places: dict[int, str] = {}
    headings: dict[str, Heading] = {}
    unknown = []
    for place, cell in enumerate(cells):
        name, heading = _named(cell, columns, also)
        if name:
            places[place] = name
            headings[name] = heading
        elif cell:
            unknown.append(cell)
    missing = [name for name in columns if name not in headings]
    for cell in unknown:
        near = get_close_matches(as_written(cell).lower(), missing, n=1, cutoff=NEAR)
        if near:
            told = f"{label}: there is no column “{as_written(cell)}”. The nearest is {near[0]}."
            raise Told(told, question=_columns_question([cell], columns))
    needed = [name for name in missing if not columns[name].optional and not columns[name].reads_blank]
    if unknown and needed:
        found = ", ".join(f"“{as_written(cell)}”" for cell in cells if cell)
        raise Told(
            f"{label}: there is no column {needed[0]}. The heading has {found}; the columns are {', '.join(columns)}.",
            question=_columns_question(unknown, columns),
        )
    if unknown:
        one = "Not asked for, left out: the column" + ("s " if len(unknown) > 1 else " ")
        notes.append(one + ", ".join(f"“{as_written(cell)}”" for cell in unknown[:10]) + ".")
    return places, headings


def _columns_question(unknown: list[str], columns: Mapping[str, Kind]) -> dict[str, Any]:
    """What is asked when headings are foreign: which column each of them is."""
    options = [{"answer": name, "words": column.label} for name, column in columns.items()]
    options.append({"answer": "", "words": "none of these"})
    return {
        "about": "columns",
        "words": "Which column is which?",
        "heads": [as_written(cell) for cell in unknown[:MOST_CELLS]],
        "options": options,
    }


def cells_of_block(text: str, most: int = 1_000) -> list[list[str]]:
    """Cells of a block that was copied from a spreadsheet: tabs, or semicolons or commas where there are none."""
    text = text.replace("\r\n", "\n").replace("\r", "\n").strip("\n")
    delimiter = next((mark for mark in "\t;," if mark in text), "\t")
    try:
        return [
            [cell.strip() for cell in row[:MOST_CELLS]] for row in csv.reader(io.StringIO(text), delimiter=delimiter)
        ][:most]
    except csv.Error:
        return [[text]]


# ---- what the reader answered


def with_answers(text: str, columns: Mapping[str, Kind], answers: Mapping[str, Any], also: Mapping[str, str]) -> str:
    """A text whose heading says what was answered: foreign columns by their names, the order of dates, the decimal
    mark.

    answers: {"columns": {foreign heading: column}, "order": …, "comma": …}.
    """
    text = text.lstrip("﻿").replace("\r\n", "\n").replace("\r", "\n")
    called = answers.get("columns")
    called = {str(key): str(name) for key, name in called.items()} if isinstance(called, dict) else {}
    also = dict(also) | {_bare(key).lower(): name for key, name in called.items() if name in columns}
    marks = [str(answers[key]) for key in ("order", "comma") if str(answers.get(key) or "") in MARKS]
    head, delimiter = _head_of(columns, text, also)
    lines = text.split("\n")
    if head is None:
        if not marks:
            return text
        lines.insert(0, delimiter.join(columns))
        head = 1
    cells = next(csv.reader([lines[head - 1]], delimiter=delimiter), [])
    made = [_marked(cell.strip(), columns, also, called, marks) for cell in cells]
    lines[head - 1] = delimiter.join(csv_cell(cell) for cell in made)
    return "\n".join(lines)


def _marked(
    cell: str, columns: Mapping[str, Kind], also: Mapping[str, str], called: Mapping[str, str], marks: list[str]
) -> str:
    name, heading = _named(cell, columns, also)
    if name is None:
        return cell
    for mark in marks:
        fits = columns[name].dated_cells if mark.endswith("first") else columns[name].numeric_cells
        if fits and mark not in heading_marks(heading):
            cell = f"{cell} ({mark})"
    plain = _bare(cell)
    renamed = next((wanted for foreign, wanted in called.items() if foreign in (plain, cell)), "")
    return cell.replace(plain, renamed, 1) if renamed else cell


def with_heads(text: str, columns: Mapping[str, Kind], heads: Mapping[str, str], also: Mapping[str, str]) -> str:
    """A text under a heading that has the given words for its columns; foreign ones keep theirs."""
    text = text.lstrip("﻿").replace("\r\n", "\n").replace("\r", "\n").lstrip("\n")
    head, delimiter = _head_of(columns, text, also)
    lines = text.split("\n")
    if head is None:
        return "\n".join([delimiter.join(csv_cell(words) for words in heads.values()), *lines])
    cells = [cell.strip() for cell in next(csv.reader([lines[head - 1]], delimiter=delimiter), [])]
    made = [heads.get(_named(cell, columns, also)[0] or "", cell) for cell in cells]
    lines[head - 1] = delimiter.join(csv_cell(cell) for cell in made)
    return "\n".join(lines)


def headed(text: str, columns: Mapping[str, Kind], also: Mapping[str, str]) -> tuple[list[str], int, list[str], str]:
    """(lines, place of the heading among them, its cells, delimiter) of a text; a heading is made where it has none."""
    head, delimiter = _head_of(columns, text, also)
    lines = text.split("\n")
    if head is None:
        return [delimiter.join(columns), *lines], 0, list(columns), delimiter
    cells = next(csv.reader([lines[head - 1]], delimiter=delimiter), [])
    return lines, head - 1, [cell.strip() for cell in cells], delimiter


def read_heading(
    cells: Iterable[str], columns: Mapping[str, Kind], also: Mapping[str, str]
) -> list[tuple[str | None, Heading]]:
    """[(column, what its heading says)] of each cell of a heading; None for a foreign one."""
    return [_named(cell, columns, also) for cell in cells]


def places_of(cells: Iterable[str], columns: Mapping[str, Kind], also: Mapping[str, str]) -> dict[str, int]:
    """{column: place} in a heading; of two that mean one column the last, as it is read."""
    named = ((name, place) for place, (name, _) in enumerate(read_heading(cells, columns, also)))
    return {name: place for name, place in named if name}


# ---- how numbers are written


def decimal_mark(columns: Iterable[tuple[float, list[Any]]], delimiter: str) -> tuple[bool | None, str]:
    """(whether the comma is the decimal mark, a number that cannot tell); None with no number: as in a single field.

    columns: (the most that may be written in it, cells). A number that would be more than that if its mark set off
    thousands has a decimal mark.
    """
    doubtful = ""
    for most, cells in columns:
        for cell in cells:
            if cell.__class__ is not str or ("." not in cell and "," not in cell):
                continue
            match = re.match(r"\s*[-+−]?\D?(\d[\d.,]*\d)", cell)
            digits = match[1] if match else ""
            points, commas = digits.count("."), digits.count(",")
            if points and commas:
                return digits.rfind(",") > digits.rfind("."), ""
            if points + commas > 1:
                return bool(points), ""  # 1.234.567
            if not points + commas:
                continue
            bare = cell.strip().lstrip("-+−") == digits
            as_thousands = float(digits.replace(",", ".")) * 1000
            if not re.fullmatch(r"[1-9]\d{0,2}[.,]\d{3}", digits) or (bare and as_thousands > most):
                return bool(commas), ""
            if commas and delimiter == ";":
                return True, ""
            doubtful = doubtful or cell
    return None, doubtful if delimiter != "," else ""


def decimal_question(cell: str) -> dict[str, Any]:
    """What is asked when no number of a table tells its decimal mark."""
    text = as_written(cell)
    mark = "," if "," in cell else "."
    words = {"decimal comma": "the comma is the decimal mark", "decimal point": "the point is the decimal mark"}
    if mark == ",":
        values = {"decimal comma": text.replace(",", "."), "decimal point": text.replace(",", "")}
    else:
        values = {"decimal comma": text.replace(".", ""), "decimal point": text}
    options = [{"answer": key, "words": f"{values[key]} ({words[key]})"} for key in words]
    return {"about": "comma", "words": f"How much is {text}?", "options": options}


# ---- grid to text


def csv_text(lines: Iterable[Iterable[Any]], delimiter: str = ",", end: str = "\n") -> str:
    """Lines of cells as CSV."""
    return end.join(delimiter.join(csv_cell("" if cell is None else cell) for cell in line) for line in lines)


def csv_cell(cell: Any) -> str:
    """A cell as RFC 4180 writes it; one that a spreadsheet would take for a formula is set off with a quote."""
    text = str(cell)
    if text.startswith(("=", "@", "\t", "\r", "\n", "＝", "＠", "＋", "－")) or (
        text.startswith(("+", "-")) and not re.fullmatch(r"[-+]?[0-9.,]+%?", text)
    ):
        text = "'" + text
    return '"' + text.replace('"', '""') + '"' if re.search(r'[",\n\r;\t]', text) else text
