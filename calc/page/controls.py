"""The control of each kind of input as HTML: one place. A new kind adds one function and one line at the end."""

import json
from collections.abc import Callable, Iterable
from html import escape
from typing import Any

from calc.engine.kinds import Choice, Count, Day, Flag, Kind, Log, Number, Place, Rows, Series, Text, TimeOfDay
from calc.engine.quantity import unit
from calc.engine.told import Told


def control(description: Any, text: str, common: str, currency: str, system: str | None) -> str:
    """The control of an input with a text in it; common: the attributes that every control has."""
    return CONTROLS[type(description)](description, text, common, currency, system)


def _line(text: str, common: str, mode: str = "text", kind: str = "text", more: str = "") -> str:
    return f'<input {common} type="{kind}" inputmode="{mode}" value="{escape(text)}" spellcheck="false">{more}'


def _number(description: Number, text: str, common: str, currency: str, system: str | None) -> str:
    # A phone's number pad has no minus sign, so temperatures and the like keep the whole keyboard.
    if description.low < 0 or unit(description.unit).scale:
        return _line(text, common)
    return _line(text, common, "numeric" if description.whole else "decimal")


def _words(description: Kind, text: str, common: str, currency: str, system: str | None) -> str:
    return _line(text, common)


def _choice(description: Choice, text: str, common: str, currency: str, system: str | None) -> str:
    if description.open:
        return _open_choice(description, text, common)
    return _select(description.words_of_choices().items(), text, common)


def _open_choice(description: Choice, text: str, common: str) -> str:
    """A field that offers the known words and takes others."""
    list_id = common.split('"', 2)[1] + "-list"
    offered = "".join(f'<option value="{escape(word)}"></option>' for word in description.offered())
    return _line(text, f'{common} list="{list_id}"', more=f'<datalist id="{list_id}">{offered}</datalist>')


def _flag(description: Flag, text: str, common: str, currency: str, system: str | None) -> str:
    return _select(description.words_of_choices().items(), text, common)


def _select(options: Iterable[tuple[str, str]], chosen: str, common: str) -> str:
    items = "".join(
        f'<option value="{escape(key)}"{" selected" if key == chosen else ""}>{escape(words)}</option>'
        for key, words in options
    )
    return f"<select {common}>{items}</select>"


def _day(description: Day, text: str, common: str, currency: str, system: str | None) -> str:
    return f'<input {common} type="date" value="{escape(text)}">'


def _time_of_day(description: TimeOfDay, text: str, common: str, currency: str, system: str | None) -> str:
    return f'<input {common} type="time" value="{escape(text)}">'


def _area(text: str, common: str) -> str:
    lines = min(8, max(2, text.count("\n") + 1))
    return f'<textarea {common} rows="{lines}" spellcheck="false">{escape(text, quote=False)}</textarea>'


def _series(description: Series, text: str, common: str, currency: str, system: str | None) -> str:
    return _area(text, common)


def _table(description: Rows, text: str, common: str, currency: str, system: str | None) -> str:
    """The text of a table; its columns and, of a short one, its rows stand beside it for the page's small table."""
    columns = json.dumps(columns_of(description, system, currency), ensure_ascii=False)
    rows = json.dumps(rows_of(description, text), ensure_ascii=False)
    return _area(text, f'{common} data-columns="{escape(columns)}" data-rows="{escape(rows)}"')


MOST_SHOWN, MOST_LINES = 24, 96
"""Rows of a table that is shown as fields, one for each cell; lines of its text, blank ones too, as in rows.js."""


def rows_of(description: Rows, text: str) -> dict[str, Any] | None:
    """The rows of a text as the page takes them; None where they are too many or cannot be told apart."""
    if text.count("\n") > MOST_LINES:
        return None
    try:
        grid = description.grid(text)
        description.settle(grid)
    except Told:
        return None
    return grid.as_json() if len(grid.rows) <= MOST_SHOWN and not grid.spare and grid.names else None


def columns_of(description: Rows, system: str | None, currency: str) -> list[dict[str, Any]]:
    """What the small editable table needs to know of each column."""
    found: list[dict[str, Any]] = []
    for name, column in description.columns.items():
        item = {"name": name, "label": column.label, "unit": column.sign(system, currency)}
        if choices := column.words_of_choices():
            item["options"] = choices
        elif offered := column.offered():
            item["suggestions"] = offered
        if isinstance(column, Text):
            item["words"] = True
        found.append(item)
    return found


CONTROLS: dict[type, Callable[[Any, str, str, str, str | None], str]] = {
    Number: _number,
    Count: _number,
    Choice: _choice,
    Flag: _flag,
    Day: _day,
    TimeOfDay: _time_of_day,
    Place: _words,
    Text: _words,
    Series: _series,
    Rows: _table,
    Log: _table,
}
