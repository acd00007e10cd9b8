"""A printed sheet, filled in and typed into a spreadsheet, as rows of the logbook: one row of a sheet is a day with a
column for each thing done, one row of the logbook is one thing done.
"""

import csv
import io
from collections.abc import Mapping

from calc.engine import tabular
from calc.engine.kinds.base import Heading, Kind, blank_cell
from calc.engine.told import as_written

ALSO = {
    "lane": "place",
    "room": "place",
    "where in the heap": "place",
    "who, what was seen": "note",
}
"""Other headings of the logbook's own columns, those of the sheets among them."""
DONE = {
    **{word: word for word in ("feed", "water", "temperature", "moisture", "squeeze", "face", "gap")},
    **{word: word for word in ("castings", "screened", "worms", "cocoons", "trays", "hours")},
    "weight cut": "castings",
    "to sell": "screened",
    "trays started": "trays",
    "cocoons in one tray": "cocoons",
}
"""Columns of a sheet: {heading: word of the logbook}."""
OF_CASTINGS = "weight cut"
"""Where this column is, moisture is that of what was cut, and not of the bed."""


def as_rows(text: str, columns: Mapping[str, Kind], also: Mapping[str, str]) -> tuple[str, list[str]]:
    """(a text as rows of the logbook, what was left out in words); any text but a sheet's stays as it is.

    columns: of the logbook; also: other headings of them. Cells stay as they are written, and so do the delimiter and
    what headings say of dates and decimal marks.
    """
    text = text.lstrip("\ufeff").replace("\r\n", "\n").replace("\r", "\n")
    lines, head, cells, delimiter = tabular.headed(text, columns, dict(also) | DONE)
    read = tabular.read_heading(cells, columns, dict(also) | DONE)
    done = {at: one for at, one in enumerate(read) if one[0] in DONE.values()}
    own = {name: at for at, (name, _) in enumerate(read) if name in columns}
    if not done or "date" not in own or "what" in own or "amount" in own:
        return text, []
    if any(cell.lower().startswith(OF_CASTINGS) for cell in cells):
        done = {at: one for at, one in done.items() if one[0] != "moisture"}
    made = [_head(read[own["date"]][1], [heading for _, heading in done.values()])]
    try:
        rows = list(csv.reader(io.StringIO("\n".join(lines[head + 1 :])), delimiter=delimiter))
    except csv.Error:  # told where the text is read
        return text, []
    for row in rows:
        beside = [row[own[name]] if name in own and own[name] < len(row) else "" for name in BESIDE]
        for at, (word, heading) in done.items():
            if at < len(row) and not blank_cell(row[at].strip()):
                made.append([beside[0], beside[1], str(word), row[at], heading.unit, *beside[2:]])
    left = [cell for at, cell in enumerate(cells) if cell and at not in done and at not in own.values()]
    notes = [f"Not for the logbook, left out: {', '.join(f'“{as_written(cell)}”' for cell in left)}."] if left else []
    return "\n".join(delimiter.join(tabular.csv_cell(cell) for cell in row) for row in made), notes


BESIDE = ("date", "place", "who", "note")


def _head(of_dates: Heading, of_amounts: list[Heading]) -> list[str]:
    """The heading of the logbook, with what the sheet's own said of its dates and numbers."""
    order = f" ({of_dates.order})" if of_dates.order in tabular.MARKS else ""
    comma = next((heading.comma for heading in of_amounts if heading.comma is not None), None)
    mark = {True: " (decimal comma)", False: " (decimal point)", None: ""}[comma]
    return ["date" + order, "place", "what", "amount" + mark, "unit", "who", "note"]
