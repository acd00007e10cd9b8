"""What is written into the logbook: a row that the reader has just done, and the rows that another copy of it has more.

The reader's own text stays as it is, rows that cannot be read among them; new rows are put below it in its own way of
writing.
"""

from collections.abc import Mapping, Sequence
from typing import Any, NamedTuple, cast

from calc.engine import tabular
from calc.engine.describe import as_written
from calc.engine.kinds.amount import Amount
from calc.engine.kinds.base import Heading
from calc.engine.kinds.table import Rows
from calc.engine.quantity import field_text
from calc.engine.told import Told, lower_first
from calc.farm.merge import alike_acts, lacking
from calc.farm.tables import FARM_LOG, WORDS, usual_unit

Texts = Mapping[str, str]


def with_rows(log: Rows, text: str, rows: Sequence[Texts], system: str | None, currency: str) -> str:
    """A logbook's text with more rows below it; rows: {column: text}, amounts with a decimal point.

    Told where the text can mean two things: that has to be settled first.
    """
    if text.lstrip().startswith(("[", '{"')):
        text = str(log.units_named(text, system, currency))
    text, _ = log.in_own_form(text)
    text = text.lstrip("\ufeff").replace("\r\n", "\n").replace("\r", "\n").strip("\n")
    if not text.strip():
        return tabular.csv_text([log.columns, *([row.get(name, "") for name in log.columns] for row in rows)])
    grid = log.grid(text)
    log.settle(grid, system, currency)
    wanted = [name for name in log.columns if any(row.get(name) for row in rows)]
    lines, head, cells, delimiter = tabular.headed(text, log.columns, log.also)
    places = tabular.places_of(cells, log.columns, log.also)
    for name in wanted:
        if name not in places:
            places[name] = len(cells)
            cells = [*cells, name]
    lines[head] = delimiter.join(tabular.csv_cell(cell) for cell in cells)
    comma = (grid.headings.get("amount") or Heading()).comma
    for row in rows:
        made = [""] * len(cells)
        for name, place in places.items():
            cell = row.get(name, "")
            made[place] = cell.replace(".", ",") if name == "amount" and comma else cell
        lines.append(delimiter.join(tabular.csv_cell(cell) for cell in made))
    return "\n".join(lines)


def entry_texts(log: Rows, entry: Mapping[str, Any], system: str | None, currency: str) -> Texts:
    """A row as it was entered by buttons, ready to be written; Told with what is wrong with it, in the reader's
    words.
    """
    row = {name: str(entry.get(name) or "").strip() for name in log.columns}
    if not row["what"]:
        raise Told("Choose what was done.")
    if row["amount"]:
        amount, behind = cast(Amount, FARM_LOG["amount"]).number_and_unit(row["amount"], None, currency)
        row["amount"] = field_text(amount)
        row["unit"] = behind or row["unit"] or usual_unit(row["what"], system)
    elif row["what"] not in ("note", "squeeze"):
        raise Told(f"How much? Type a number ({WORDS.get(row['what'], row['what'])}).")
    read = log.read([row], system, currency)
    if read.dropped:
        raise Told("; ".join(sentence.removeprefix("Row 1, ") for sentence in read.dropped))
    return row


def entry_words(row: Texts) -> str:
    """`feed 44 lb, North lane, 2027-06-02`: what was written, so that the reader sees it."""
    done = " ".join(part for part in (row["what"], row["amount"], row["unit"]) if part)
    note = f", {as_written(row['note'], 40)}" if row["note"] else ""
    return f"{done}, {row['place'] or 'shed'}, {row['date']}{note}"


class Joined(NamedTuple):
    """A logbook with what another copy had more: its text, how many rows came, how many both had, and sentences."""

    text: str
    came: int
    same: int
    conflicts: list[str]
    left_out: list[str]


def joined(log: Rows, text: str, other: str, system: str | None, currency: str) -> Joined:
    """Two copies of a logbook as one; the first keeps its text, and the rows that it lacks are put below."""
    mine = log.value(text, system, currency)
    theirs = log.value(other, system, currency)
    more = lacking(mine, theirs)
    texts = [log.row_texts(row, system) for row in more]
    for row in texts:
        row["date"] = row["date"].removesuffix(" 00:00")
    return Joined(
        text=with_rows(log, text, texts, system, currency) if more else text,
        came=len(more),
        same=len(theirs) - len(more),
        conflicts=alike_acts(mine, theirs),
        left_out=[lower_first(sentence) for sentence in getattr(theirs, "dropped", [])],
    )


def as_file(log: Rows, text: str, system: str | None, currency: str) -> str:
    """A logbook's text as a file that any spreadsheet opens: as the reader has it, the units named in it."""
    found = str(log.units_named(text, system, currency)) if text.strip() else ",".join(log.columns)
    return found.rstrip("\n") + "\n"
