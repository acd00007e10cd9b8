"""A finished answer as HTML: headline, warnings, reading, figures, tables, working.

The same text at build time and in the page.
"""

import json
import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from datetime import date, datetime
from html import escape
from math import isfinite
from typing import Any, TypeVar

from calc.engine import explore
from calc.engine.describe import (
    Act,
    Axis,
    Band,
    Column,
    Drawing,
    Figure,
    Mark,
    Output,
    Show,
    Step,
    Table,
    typical,
)
from calc.engine.quantity import convert, money_text, number_text, quantity_text, symbol
from calc.engine.register import chapter_in_edition
from calc.engine.view import View, called, day_text, lower_first, range_end, worked
from calc.engine.working import state
from calc.page.doubt import bar
from calc.page.figure import drawing_html, figure_html
from calc.page.held import held_sentence
from calc.page.sure import marked, source_html

T = TypeVar("T")


def answer(view: View, kept: View | None = None) -> str:
    """HTML of an answered View; kept: an earlier View to stand beside it."""
    show = view.shown
    figures = [_figure(item, view) for item in show.figures]
    parts = [headline(view), *(table(item, view) for item in show.tables if item.first)]
    parts += [_warnings(show.warnings), compared(view, kept) if kept else ""]
    parts += [*figures[:1], _reading(show.reading, view), *figures[1:]]
    parts += [_cautions(show.cautions), working(view), all_results(view)]
    parts += [table(item, view) for item in show.tables if not item.first]
    parts.append(acts_html(show.acts))
    return "".join(part for part in parts if part)


def _figure(item: Figure | Drawing, view: View) -> str:
    """A figure, and below it its numbers where no table of the answer holds them."""
    if isinstance(item, Drawing):
        return drawing_html(item, view)
    return figure_html(item, view) + ("" if has_table(item, view.shown) else figure_table(item, view))


def headline(view: View) -> str:
    """The two to four results that answer the question."""
    names = [name for name, output in view.entry.outputs.items() if output.main] or list(view.entry.outputs)[:3]
    return f'<dl class="calc-main">{"".join(_headline_item(view, name) for name in names)}</dl>'


def _headline_item(view: View, name: str) -> str:
    output, value = view.entry.outputs[name], view.results[name]
    low_high = ends_text(value, output, view)
    ends = f' <small class="calc-range">{low_high}</small>' if low_high else ""
    meaning = f'<dd class="calc-meaning">{escape(output.meaning)}</dd>' if output.meaning else ""
    doubt = bar(value, output, view.system, view.currency) if low_high else ""
    return (
        f'<div><dt>{escape(output.label)}</dt><dd class="calc-value"><output>{_value_html(view, name)}</output>'
        f"{doubt}{ends}</dd>{meaning}</div>"
    )


LONG = 8
"""Letters of a figure from which on it is set smaller."""


def _value_html(view: View, name: str) -> str:
    """The figure large, its unit small; words smaller than figures."""
    text, value = labelled_text(view, name), typical(view.results[name])
    counted = isinstance(value, (int, float)) and not isinstance(value, bool)
    split = re.fullmatch(r"(\D?[\d,.]+)(\s?\D*)", text) if counted else None
    figure, unit = (split[1], split[2]) if split else (text, "")
    space = " " if unit.startswith(" ") else ""  # outside of the unit, which is never broken
    small = f"{space}<small>{escape(unit.strip())}</small>" if unit else ""
    long = not split or len(figure) > LONG
    return f"<span class=calc-long>{escape(figure)}</span>{small}" if long else f"{escape(figure)}{small}"


def without_period(text: str, label: str) -> str:
    """`1.1 gal` of `1.1 gal/day` beside a label that says a day itself: a period is said once.

    >>> without_period("1.1 gal/day", "Water a day"), without_period("3.4 lb/day", "Feed at the start")
    ('1.1 gal', '3.4 lb/day')
    """
    for period, sign in (("day", "day"), ("week", "week"), ("month", "month"), ("year", "year"), ("hour", "h")):
        if re.search(rf"\b(?:a|an|each) {period}\b", label):
            text = re.sub(rf"(?:[/·]|\s?per ){sign}(?= \(|$)", "", text)
    return text


def labelled_text(view: View, name: str) -> str:
    """A result as it stands beside its label, its range apart."""
    return without_period(view.output_text(name, ranged=False), view.entry.outputs[name].label)


def ends_text(value: object, output: Output, view: View) -> str:
    """`3.5 to 8` of a Band, or nothing where its ends read the same."""
    if not isinstance(value, Band):
        return ""
    low, high = (range_end(end, output, view.system, view.currency) for end in (value.low, value.high))
    return "" if low == high else f"{escape(low)} to {escape(high)}"


def _warnings(warnings: Sequence[tuple[str | None, str]]) -> str:
    items = "".join(f"<li{f' data-for={name}' if name else ''}>{marked(sentence)}</li>" for name, sentence in warnings)
    return f'<ul class="calc-warnings" aria-label="Mind">{items}</ul>' if items else ""


def _reading(sentences: Sequence[str], view: View) -> str:
    told = "".join(f"<p>{held_sentence(sentence, view)}</p>" for sentence in sentences)
    return f'<div class="calc-reading">{told}</div>' if told else ""


def _cautions(sentences: Sequence[str]) -> str:
    return (
        f'<ul class="calc-cautions" aria-label="Take care">{"".join(f"<li>{marked(s)}</li>" for s in sentences)}</ul>'
        if sentences
        else ""
    )


def all_results(view: View) -> str:
    rows = []
    for name, output in view.entry.outputs.items():
        value = view.results[name]
        rows.append(
            f"<tr><th scope=row>{escape(output.label)}</th><td>{escape(labelled_text(view, name))}</td>"
            f"<td>{ends_text(value, output, view)}</td><td>{escape(output.meaning)}</td></tr>"
        )
    head = (
        "<tr><th scope=col>Result</th><th scope=col>Typical</th><th scope=col>Low to high</th><th scope=col>What it"
        " means</th></tr>"
    )
    return _fold(
        "All results",
        f'<table class="calc-outputs"><thead>{head}</thead><tbody>{"".join(rows)}</tbody></table>',
        "calc-table",
    )


def _fold(title: str, body: str, style: str, opened: bool = False) -> str:
    return (
        f'<details class="{style}"{" open" if opened else ""}><summary>{escape(title)}</summary><div'
        f' class="calc-scroll" tabindex="0" role="group" aria-label="{escape(title)}">{body}</div></details>'
    )


# ---- tables

ALONE = '<button type="button" class="calc-alone" data-action="alone">Print this table</button>'
"""Below a table: it alone goes on paper."""


def table(item: Table, view: View) -> str:
    """A Table in the reader's units; nothing where it has no row, as the reading says why."""
    if not item.rows:
        return ""
    head = _heads(
        [column_head(column, view) for column in item.columns],
        [False, *(bool(column.unit) for column in item.columns[1:])],
    )
    acts = [act_button(act) for act in item.acts]
    head += "<td></td>" if acts else ""
    body = _rows(item.rows, item.columns, view, item.pages, acts)
    note = f'<p class="calc-note">{escape(item.note)}</p>' if item.note else ""
    return _fold(
        item.title,
        f"<table class=bare><thead><tr>{head}</tr></thead><tbody>{body}</tbody></table>{note}{ALONE}",
        "calc-table calc-first" if item.first else "calc-table",
        item.open or item.first,
    )


def column_head(column: Column, view: View) -> str:
    sign = symbol(column.shown(view.system), view.currency) if column.unit else ""
    sign = without_period(sign, column.label)
    return f"{column.label} ({sign})" if sign else column.label


def _heads(texts: Sequence[str], numbers: Sequence[bool]) -> str:
    """Heads of columns, over numbers on the side where the numbers end."""
    return "".join(
        f"<th scope=col{' class=number' if right else ''}>{escape(text)}</th>" if text else "<td></td>"
        for text, right in zip(texts, numbers)
    )


def act_button(act: Act | None) -> str:
    """The cell that ticks a row off: a button that writes it into the logbook, or an empty cell."""
    if act is None:
        return "<td></td>"
    said = json.dumps(act_object(act), ensure_ascii=False)
    return (
        f'<td class="calc-tick"><button type="button" data-act="{escape(said)}"'
        f' aria-label="Done: {escape(act.label)}, {escape(act.place)}">Done</button></td>'
    )


def act_object(act: Act) -> dict[str, Any]:
    """An act as the page's script takes it; what it does not say is left out."""
    return {name: value for name, value in vars(act).items() if value}


def acts_html(acts: Sequence[Act]) -> str:
    """What the logbook's buttons write, for the page's script (scripts/browser/page/logbook.js)."""
    if not acts:
        return ""
    said = json.dumps([act_object(act) for act in acts], ensure_ascii=False)
    return f'<div class="calc-acts" data-acts="{escape(said)}" hidden></div>'


def _rows(
    rows: Sequence[Sequence[Any]],
    columns: Sequence[Column],
    view: View,
    pages: Sequence[str] = (),
    more: Sequence[str] = (),
) -> str:
    """Rows of a table, the first cell of each its head; more: a last cell for each of them.

    What a column needs for its numbers is looked up once, not in every cell. pages: where the heads lead; the days of
    such a table can be read by the page, which marks the row of today.
    """
    if pages:
        return "".join(_row_of_contents(row, columns, view, page) for row, page in zip(rows, pages, strict=True))
    texts = [cell_writer(column, view) for column in columns]
    opened = [f"<td{' class=number' if column.unit else ''}>" for column in columns]
    made = []
    for at, row in enumerate(rows):
        first, *others = [escape(text(cell)) for text, cell in zip(texts, row)]
        cells = "".join([f"{start}{words}</td>" for start, words in zip(opened[1:], others)])
        cells += more[at] if more else ""
        made.append(f"<tr><th scope=row>{first}</th>{cells}</tr>")
    return "".join(made)


def _row_of_contents(row: Sequence[Any], columns: Sequence[Column], view: View, page: str) -> str:
    first, *others = [cell_writer(column, view)(cell) for column, cell in zip(columns, row)]
    days = [f" data-day={cell.isoformat()}" if isinstance(cell, date) else "" for cell in row[1:]]
    cells = "".join(f"<td{day}>{escape(words)}</td>" for day, words in zip(days, others))
    head = (
        f'<a href="handbook:{page}">{escape(first)}</a>'
        if chapter_in_edition(page.split("/", maxsplit=1)[0])
        else escape(first)
    )
    return f"<tr><th scope=row>{head}</th>{cells}</tr>"


def cell_writer(column: Column, view: View) -> Callable[[Any], str]:
    """A function from a cell of that column to its text."""
    shown = column.shown(view.system) if column.unit else ""
    money = shown.startswith("money")

    def text(cell: Any) -> str:
        if cell is None or cell == "":
            return ""
        if isinstance(cell, (int, float)) and column.unit and not isinstance(cell, bool):
            converted = convert(cell, column.unit, shown)
            return money_text(converted, view.currency) if money else number_text(converted, column.digits)
        if isinstance(cell, Band):
            middle, low, high = text(cell.value), text(cell.low), text(cell.high)
            return middle if low == high else f"{middle} ({low} to {high})"
        if isinstance(cell, datetime):
            return f"{cell:%Y-%m-%d %H:%M}"
        if isinstance(cell, date):
            return day_text(cell).replace(" ", "\u00a0")  # a date on three lines makes a long table of a short one
        if isinstance(cell, bool):
            return "yes" if cell else "no"
        return str(cell)

    return text


def has_table(figure: Figure, show: Show) -> bool:
    """Whether a table of the answer holds the figure's numbers already: one of the same name, or the one that it
    names.
    """
    return any(item.name in (figure.name, figure.numbers_in) for item in show.tables)


def figure_table(item: Figure, view: View) -> str:
    """The numbers of a figure as a table, where no other table holds them."""
    rows: dict[Any, dict[str, Any]] = {}
    heads: list[str] = []
    for mark in item.marks:
        if mark.kind not in ("line", "area", "band", "dots", "bars", "stack", "tornado", "spans"):
            continue
        for key, cells in _table_cells(mark, item):
            row = rows.setdefault(_row_key(key, rows), {})
            for head, value in cells:
                if head not in heads:
                    heads.append(head)
                row.setdefault(head, value)
    if not rows:
        return ""
    first = Column(
        "x", item.x.label or "", None if item.x.kind in ("band", "time") else item.x.unit, item.x.us, item.x.metric
    )
    if any(mark.kind in ("tornado", "spans") for mark in item.marks):
        first = Column("x", item.y.label or "")
        number = Column("y", "", item.x.unit if item.x.kind == "linear" else None, item.x.us, item.x.metric)
    else:
        number = Column("y", "", item.y.unit if item.y.kind != "band" else None, item.y.us, item.y.metric)
    sign = symbol(number.shown(view.system), view.currency) if number.unit else ""
    head = _heads(
        [column_head(first, view), *(f"{h} ({sign})" if sign else h for h in heads)],
        [False, *[bool(number.unit)] * len(heads)],
    )
    shown = _thinned(list(rows.items()))
    body = _rows([(key, *(cells.get(h) for h in heads)) for key, cells in shown], [first, *[number] * len(heads)], view)
    return _fold(
        f"{item.title}: the numbers",
        f"<table class=bare><thead><tr>{head}</tr></thead><tbody>{body}</tbody></table>",
        "calc-table calc-plotted",
    )


SAME = 1e-10
"""Places on an axis that differ by a smaller share are one: the last bits of a number differ between Pythons."""


def _row_key(place: Any, rows: Mapping[Any, object]) -> Any:
    """Place of the row that a point belongs to: one that stands already, if nothing but the last bits lies between.

    >>> _row_key(0.1 + 0.2, {0.3: "row"}), _row_key(1e-17, {0.0: "row"}), _row_key(0.3000001, {0.3: "row"})
    (0.3, 0.0, 0.3000001)
    """
    if not isinstance(place, float) or not isfinite(place):
        return place
    if abs(place) < SAME**1.5:
        return 0.0
    # Nine digits are one row; beside the border between two of them lies the other one.
    near = [float(f"{place * (1 + share):.9g}") for share in (0.0, -SAME, SAME)]
    return next((other for other in near if other in rows), near[0])


def _thinned(rows: Sequence[T], most: int = 60) -> Sequence[T]:
    """At most about sixty rows of a long curve, evenly; the CSV has them all."""
    step = -(-len(rows) // most)
    return rows[::step]


def _table_cells(mark: Mark, item: Figure) -> Iterator[tuple[Any, list[tuple[str, Any]]]]:
    """[(row key, [(column head, value)])] of one mark."""
    label = mark.label or item.y.label
    for point in mark.points:
        if mark.kind == "band":
            yield point[0], [(f"{label}, low", point[1]), (f"{label}, high", point[2])]
        elif mark.kind == "stack":
            yield point[0], [(point[2], point[1])]
        elif mark.kind == "tornado":
            yield point[0], [("At its low", point[1]), ("At its high", point[2])]
        elif mark.kind == "spans":
            yield (
                point[0],
                [
                    (f"{point[3]}, from" if len(point) > 3 else "From", point[1]),
                    (f"{point[3]}, to" if len(point) > 3 else "To", point[2]),
                ],
            )
        else:
            yield point[0], [(label, point[1])]


# ---- working

CHECKED = '<p class="calc-checked">Checked in this run: both sides are equal.</p>'
"""Beside a step that was evaluated with the numbers that stand there."""


def working(view: View) -> str:
    """Each equation in words and with this run's numbers, with its source."""
    if not view.shown.working:
        return ""
    items = []
    for step in view.shown.working:
        words, numbers = worked(step, view)
        source = f" {source_html(str(step.source))}" if step.source else ""
        note = f'<p class="calc-note">{escape(step.note)}</p>' if step.note else ""
        checked = CHECKED if state(step, view) == "evaluated" else ""
        same = "" if words == numbers else f'<p class="calc-numbers">{escape(numbers)}</p>'
        items.append(
            f"<li><strong>{escape(step.title)}</strong>{source}<p"
            f' class="calc-equation">{equation_html(step, view)}</p>{same}{checked}{note}</li>'
        )
    return f'<details class="calc-working"><summary>Working and sources</summary><ol>{"".join(items)}</ol></details>'


def equation_html(step: Step, view: View) -> str:
    """An equation in words, each name set off, so that a label of several words is seen to be one thing."""
    return re.sub(
        r"\{(\w+)\}", lambda match: f"<var>{escape(called(step, match[1], view))}</var>", escape(step.equation)
    )


# ---- compare, aim, what moves it, range


def compared(view: View, kept: View) -> str:
    """This answer beside one that was kept, result by result."""
    rows = []
    for name, output in view.entry.outputs.items():
        now, before = typical(view.results[name]), typical(kept.results[name])
        change = ""
        if (
            isinstance(now, (int, float))
            and isinstance(before, (int, float))
            and not isinstance(now, bool)
            and before
            and now != before
            and output.unit != "degC"
        ):
            share = number_text(100 * (now - before) / abs(before), 2)
            change = f"{'+' if now > before else ''}{share} %"
        then = output.words(before, view.system, view.currency)
        rows.append(
            f"<tr><th scope=row>{escape(output.label)}</th><td>{escape(view.output_text(name))}</td>"
            f"<td>{escape(then)}</td><td>{change}</td></tr>"
        )
    changed = [
        f"{d.label}: {escape(view[name])} instead of {escape(kept_text(kept, name, view))}"
        for name, d in view.entry.inputs.items()
        if view.given[name] != kept.given[name]
    ]
    told = (
        f'<p class="calc-note">{"; ".join(changed)}.</p>'
        if changed
        else '<p class="calc-note">The inputs are the same as those kept. Change one to see the difference.</p>'
    )
    head = "<tr><th scope=col>Result</th><th scope=col>Now</th><th scope=col>Kept</th><th scope=col>Change</th></tr>"
    return (
        f'<div class="calc-compared"><h3>Beside the kept answer</h3>{told}<div class="calc-scroll" tabindex="0"'
        ' role="group" aria-label="Comparison"><table'
        f" class=bare><thead>{head}</thead><tbody>{''.join(rows)}</tbody></table></div></div>"
    )


def kept_text(kept: View, name: str, view: View) -> str:
    return kept.entry.inputs[name].words(kept.given[name], view.system, view.currency)


def moves_figure(view: View, found: Sequence[Mapping[str, Any]], output_name: str) -> Figure:
    """The ranked bars of what moves an output."""
    output = view.entry.outputs[output_name]
    now = typical(view.results[output_name])
    rows = [(f"{view.entry.inputs[m['input']].label}", m["low"], m["high"]) for m in found[:10]]
    lead = found[0]["input"] if found else None
    finding = f"What moves it most: {lower_first(view.entry.inputs[lead].label)}." if lead else "Nothing here moves it."
    axis = Axis(output.label, output.unit, output.us, output.metric)
    return Figure(
        "moves",
        f"What moves {output.label.lower()}",
        finding,
        axis,
        Axis("", kind="band"),
        [Mark("tornado", rows), Mark("rule_x", [(now, "now")], tone="muted")],
    )


def moves_html(view: View, found: Sequence[Mapping[str, Any]], output_name: str) -> str:
    output = view.entry.outputs[output_name]
    if not found:
        return '<p class="calc-found-text">No input moves this result within its range.</p>'
    rows = []
    for move in found:
        description = view.entry.numeric_inputs[move["input"]]
        start, end = (
            quantity_text(move[k], description.unit, description.shown(view.system), 3, view.currency)
            for k in ("from", "to")
        )
        low, high = (
            quantity_text(move[k], output.unit, output.shown(view.system), output.digits, view.currency)
            for k in ("low", "high")
        )
        basis = (
            "its usual share of your figure"
            if description.scales and description.plausible()
            else "published or usual range"
            if description.plausible()
            else "a fifth each way"
        )
        rows.append(
            f"<tr><th scope=row>{escape(description.label)}</th><td>{escape(start)} to"
            f" {escape(end)}</td><td>{escape(low)}</td><td>{escape(high)}</td><td>{basis}</td></tr>"
        )
    head = (
        "<tr><th scope=col>Input</th><th scope=col>Moved from … to</th><th scope=col>Result at its low</th><th"
        " scope=col>Result at its high</th><th scope=col>How far</th></tr>"
    )
    return (
        figure_html(moves_figure(view, found, output_name), view)
        + '<div class="calc-scroll" tabindex="0" role="group" aria-label="What moves it"><table'
        f" class=bare><thead>{head}</thead><tbody>{''.join(rows)}</tbody></table></div>"
    )


def range_figure(view: View, found: Mapping[str, Any], output_name: str) -> Figure:
    output = view.entry.outputs[output_name]
    bars = [((low + high) / 2, count) for low, high, count in found["histogram"]]
    axis = Axis(output.label, output.unit, output.us, output.metric)
    marks = [
        Mark("bars", bars),
        Mark(
            "rule_x",
            [(found["p10"], "1 in 10 below"), (found["p50"], "half below"), (found["p90"], "9 in 10 below")],
            tone="second",
        ),
    ]
    return Figure(
        "range",
        f"Range of {output.label.lower()}",
        _range_sentence(view, found, output),
        axis,
        Axis("Draws out of " + number_text(found["samples"], 6)),
        marks,
    )


def _range_sentence(view: View, found: Mapping[str, Any], output: Output) -> str:
    low, middle, high = (
        quantity_text(found[k], output.unit, output.shown(view.system), output.digits, view.currency)
        for k in ("p10", "p50", "p90")
    )
    return f"In eight cases of ten it lies between {low} and {high}; half of them are below {middle}."


def range_html(view: View, found: Mapping[str, Any], output_name: str) -> str:
    output = view.entry.outputs[output_name]
    if found.get("counted"):
        low, high = (
            quantity_text(found[key], output.unit, output.shown(view.system), output.digits, view.currency)
            for key in ("p10", "p90")
        )
        note = (
            f"{output.label} is itself counted over {found['counted']:,} draws of all inputs that carry a usual range."
            f" Another {found['counted']:,} draws would give, in eight cases of ten, between {low} and {high}."
        )
        return f'<p class="calc-found-text">{escape(note)} More draws make the count surer, not the inputs.</p>'
    if not found["samples"]:
        return (
            f'<p class="calc-found-text">{escape(_range_sentence(view, found, output))}</p><p class="calc-note">This'
            " range is the calculator's own. No input here carries a usual range to draw from.</p>"
        )
    return (
        figure_html(range_figure(view, found, output_name), view)
        + f'<p class="calc-note">{escape(_drawn_words(view, output_name))}</p>'
    )


def _drawn_words(view: View, output_name: str) -> str:
    """Which inputs were drawn and which stood still: a range says nothing about what was not moved."""
    own = isinstance(getattr(view.entry.function(**view.given), output_name), Band)
    moved = [lower_first(view.entry.inputs[name].label) for name in explore.drawn(view.entry, view.given)]
    held = [
        lower_first(description.label)
        for name, description in view.entry.inputs.items()
        if description.movable and view.given[name] is not None and name not in explore.drawn(view.entry, view.given)
    ]
    words = f"Moved together, each within its own usual range (triangular: low, your value, high): {', '.join(moved)}."
    words += (
        f" Held still, because no range is given for them: {', '.join(held)}. If those are in doubt, the true range is"
        " wider."
        if held
        else ""
    )
    words += (
        " The low and high in the answer above are another thing: the calculator's own slow and fast cases, which no"
        " input moves and which are not drawn here."
        if own
        else ""
    )
    return words + " The same draws every time."
