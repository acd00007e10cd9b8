"""A whole calculator for a page, and the answers that the live page asks for."""

import json
from base64 import b64decode
from collections.abc import Iterable, Mapping, Sequence
from html import escape
from typing import Any, cast

from calc.climate.season import season
from calc.climate.weather_file import read_weather
from calc.engine import explore
from calc.engine.calendar import calendar_text
from calc.engine.describe import Band, Column, Figure, Output, Refused, Rows, typical
from calc.engine.kinds.base import MONTH_NAMES
from calc.engine.quantity import SYSTEMS, convert, field_text, quantity_text, symbol
from calc.engine.read import read_inputs
from calc.engine.register import find
from calc.engine.run import answer as answered
from calc.engine.run import as_object
from calc.engine.tabular import cells_of_block, csv_text, decoded, is_text, with_answers
from calc.engine.told import Told
from calc.engine.view import View, field_value, worked
from calc.engine.working import check
from calc.inputs import CLIMATE
from calc.page import answer as answers
from calc.page import long, plan
from calc.page.aim import aim_html
from calc.page.controls import rows_of
from calc.page.figure import figure_object
from calc.page.form import form, plan_key
from calc.page.leads import leads

# Buttons under every calculator: action, words, and what must be there for it.
ACTIONS = (
    ("units", "Metric units"),
    ("undo", "Undo"),
    ("reset", "Reset"),
    ("keep", "Keep this answer"),
    ("unkeep", "Stop comparing"),
    ("share", "Copy link"),
    ("code", "QR code"),
    ("embed", "Copy for your site"),
    ("copy", "Copy text"),
    ("csv", "Download CSV"),
    ("calendar", "Dates to calendar"),
    ("print", "Print"),
)


def block(id: str, presets: Mapping[str, Any] | None = None, units: str = "us", currency: str = "$") -> str:
    """A calculator as it stands in a built page: form filled in, answer finished, complete without any script."""
    entry = find(id)
    presets = presets or {}
    view = answered(id, presets, units, currency)
    for step in view.shown.working:
        check(step, view)  # an equation that is untrue stops the build
    given = {name: view.given[name] for name in presets}
    key = "calc-" + id.replace(".", "-")
    ask = f'<div class="calc-ask">{form(entry, given, units, currency)}{unable(_in_other_units(view, presets))}</div>'
    side = (
        f'<div class="calc-side"><p class="calc-status" role="status"></p>'
        f'<div class="calc-answer">{answers.answer(view)}</div>{explorer(view)}'
        f'{actions(view)}<nav class="calc-leads" aria-label="What comes next">{leads(view)}</nav></div>'
    )
    first = any(table.first for table in view.shown.tables)  # a list to be followed stands above what it is made from
    parts, more = (side + ask, " calc-answer-first") if first else (ask + side, "")
    return (
        f'<section class="calc" id="{key}" data-calculator="{id}" data-units="{units}"'
        f' data-currency="{escape(currency)}" data-state="prepared" aria-labelledby="{key}-question"><header'
        f' class="calc-head"><h2 class="calc-question" id="{key}-question">{escape(entry.question)}</h2></header><div'
        f' class="calc-body{more}">{parts}</div></section>'
    )


def _in_other_units(view: View, names: Iterable[str]) -> View:
    """The same values, answered in the other system of units."""
    values = {name: plan.plan_text(view.given[name], view.entry.inputs[name], view.system) for name in names}
    other = next(system for system in SYSTEMS if system != view.system)
    return answered(view.entry.id, values, other, view.currency)


def unable(view: View) -> str:
    """What stands beside the form where nothing can be worked out anew: what holds all the same, and the results in the
    other units. It is shown where no script runs, and where the script finds that the browser lacks what Python needs.
    """
    names = [name for name, output in view.entry.outputs.items() if output.main] or list(view.entry.outputs)[:3]
    labelled = [(view.entry.outputs[name].label, view.output_text(name)) for name in names]
    results = "; ".join(f"{label}: {answers.without_period(text, label)}" for label, text in labelled)
    units = "metric" if view.system == "metric" else "US"
    return (
        '<p class="calc-unable">This browser cannot work with your own values here. The answer holds for the values'
        f" in the form, and everything can be read and printed. In {units} units: {escape(results)}.</p>"
    )


def actions(view: View) -> str:
    """The row of buttons; they work only with the script, so they are hidden until it runs."""
    buttons = []
    for action, words in ACTIONS:
        if action == "calendar" and not view.shown.events:
            continue
        if action == "units" and view.system == "metric":
            words = "US units"
        hidden = " hidden" if action in ("undo", "unkeep") else ""
        buttons.append(f'<button type="button" data-action="{action}"{hidden}>{words}</button>')
    return f'<div class="calc-actions" role="group" aria-label="What to do with this answer">{"".join(buttons)}</div>'


def explorer(view: View) -> str:
    """The three further questions: aim, what moves it, range; asked of results that are numbers."""
    entry = view.entry
    numbers = [name for name, d in entry.inputs.items() if d.movable]
    results = [
        name for name, o in entry.outputs.items() if symbol(o.unit) or type(typical(view.results[name])) in (int, float)
    ]
    key = entry.id.replace(".", "-")
    if not numbers or not results:
        return ""

    def select(kind: str, name: str, words: str, options: Sequence[tuple[str, str]]) -> str:
        items = "".join(f'<option value="{n}">{escape(d)}</option>' for n, d in options)
        return (
            f'<label for="{key}-{kind}-{name}">{words}</label><select id="{key}-{kind}-{name}"'
            f' name="{name}">{items}</select>'
        )

    outputs = [(name, entry.outputs[name].label) for name in results]
    outputs.sort(key=lambda pair: not entry.outputs[pair[0]].main)
    inputs = [(name, entry.inputs[name].label) for name in numbers]
    wanted = (
        f'<label for="{key}-aim-wanted">to be</label><input id="{key}-aim-wanted" name="wanted" type="text"'
        ' autocomplete="off">'
    )
    panels = (
        (
            "aim",
            "Aim: what would it take?",
            f"{select('aim', 'output', 'I want', outputs)}{wanted}{select('aim', 'vary', 'by changing', inputs)}",
            "Find it",
        ),
        ("moves", "What moves it?", select("moves", "output", "Result", outputs), "Show"),
        ("range", "How sure is it?", select("range", "output", "Result", outputs), "Show"),
    )
    parts = [
        f'<details class="calc-explore" data-explore="{kind}"><summary>{title}</summary><div'
        f' class="calc-explore-form">{body}<button type="button" data-action="{kind}">{words}</button></div><div'
        ' class="calc-found" aria-live="polite"></div></details>'
        for kind, title, body, words in panels
    ]
    return f'<div class="calc-explorers">{"".join(parts)}</div>'


# ---- what the live page asks for


def respond(call: str, arguments_json: str) -> str:
    """JSON answer to one question of the page. Never raises for what a reader typed."""
    asked = json.loads(arguments_json)
    by_number = long.NAMES in asked
    try:
        answer = _CALLS[call](long.unpacked(asked) if by_number else asked)
    except Refused as refused:
        answer = {"ok": False, "errors": refused.errors}
    except long.Lacking:
        answer = {"lacking": True}
    return json.dumps(long.packed(answer) if by_number else answer, ensure_ascii=False)


_last: list[tuple[Any, View]] = []
"""The last answered run with what was asked: an answer is followed by its leads, its link or its file."""


def _view(asked: Mapping[str, Any]) -> View:
    key = [asked["calculator"], asked.get("values"), asked.get("units"), asked.get("currency")]
    if not _last or _last[0][0] != key:
        view = answered(asked["calculator"], asked.get("values"), asked.get("units"), asked.get("currency") or "$")
        _last[:] = [(key, view)]
    return _last[0][1]


def _answer(asked: Mapping[str, Any]) -> dict[str, Any]:
    view = _view(asked)
    kept = None
    if asked.get("kept"):
        try:
            kept = answered(view.entry.id, asked["kept"]["values"], asked["kept"]["units"], view.currency)
        except Refused:
            kept = None
    found = {
        "ok": True,
        "errors": [],
        "html": answers.answer(view, kept),
        "plan": plan.set_by_reader(view, asked.get("values") or {}, asked.get("set") or ()),
        "dates": bool(view.shown.events),
    }
    return found | ({"raw": as_object(view)} if asked.get("raw") else {})


def _explore(asked: Mapping[str, Any]) -> dict[str, Any]:
    view = _view(asked)
    kind, output = asked["explore"], asked["output"]
    if kind == "aim":
        found = explore.aim(view.entry, view.given, output, asked["wanted"], asked["vary"], view.system, view.currency)
        html = aim_html(view, found)
    elif kind == "moves":
        html = answers.moves_html(view, explore.moves(view.entry, view.given, output), output)
    elif asked.get("values_drawn"):
        found = explore.spread_of(view.entry, view.given, [float(value) for value in asked["values_drawn"]])
        html = answers.range_html(view, found, output)
    elif asked.get("draws"):
        first, last = (int(place) for place in asked["draws"])
        explore.numeric_output(view.entry, output)
        if "draws" not in view.__dict__:  # all of them once, and not for each part anew
            view.__dict__["draws"] = explore.draws(view.entry, view.given, THOUSAND)
        drawn = explore.some_values(view.entry, view.given, output, view.__dict__["draws"][first:last])
        return {"ok": True, "errors": [], "values": drawn, "of": THOUSAND}
    else:
        found = explore.spread(view.entry, view.given, output)
        html = answers.range_html(view, found, output) + _more_draws(found)
    return {"ok": True, "errors": [], "html": html}


THOUSAND = 1000
"""Draws that the page can make a few at a time, where the first answer was made of fewer."""


def _more_draws(found: Mapping[str, Any]) -> str:
    """A button for a thousand draws, where so few were made that more would tell more."""
    if not 1 < found["samples"] < THOUSAND:
        return ""
    return f'<p class="calc-more"><button type="button" data-action="draws">Draw {THOUSAND:,}</button></p>'


def _leads(asked: Mapping[str, Any]) -> dict[str, Any]:
    return {"ok": True, "errors": [], "html": leads(_view(asked))}


def _form(asked: Mapping[str, Any]) -> dict[str, Any]:
    """The form in the asked-for system; values are carried over, and what cannot be read is kept as typed.

    units_of: {input: system in which its text was typed}, where it is another. plan_currency: the money in which prices
    were set; those in other money than ours are given back as `foreign`. link: {values, units} of a link that was
    opened. What it sets goes before; what cannot be used is told in `notice`.
    """
    entry = find(asked["calculator"])
    typed = {name: text for name, text in (asked.get("values") or {}).items() if name in entry.inputs}
    system, currency = asked["units"], asked.get("currency") or "$"
    values: dict[str, Any] = {}
    kept_text: dict[str, Any] = {}
    used: dict[str, str] = {}
    notice = ""
    link = asked.get("link")
    if link:
        used, told = plan.usable(entry, link["values"], link["units"], currency)
        notice = plan.notice(entry, used, told)
        for name in used:
            typed.pop(name, None)
            values |= {name: read_inputs(entry, {name: used[name]}, link["units"], currency)[name]}
    units_of, foreign = asked.get("units_of") or {}, plan.foreign(entry, typed, asked.get("plan_currency"), currency)
    for name, text in (typed | foreign).items():
        before, item = units_of.get(name) or system, entry.inputs[name]
        if item.rows and before == system and len(text) >= long.LONG and not plan.is_json(text):
            values[name], kept_text[name] = item.blank(), text  # as it was typed: its rows are read with the answer
            continue
        try:
            values[name] = read_inputs(entry, {name: text}, before, currency)[name]
            kept = bool(getattr(values[name], "dropped", None))
        except Refused:
            kept = True
        if kept:
            kept_text[name] = item.units_named(text, before, currency) if item.rows and before != system else text
    html = form(entry, values, system, currency, asked.get("origins"))
    return {
        "ok": True,
        "errors": [],
        "html": html,
        "typed": kept_text,
        "units_label": "US units" if system == "metric" else "Metric units",
        "notice": notice,
        "set": list(used),
        "foreign": foreign,
    }


MOST_BYTES = 8_000_000
"""Of a file that is opened: more than any table here may be long."""
FIRST_ROWS = 5
"""Of a file, shown as understood before it is used."""


def _table(asked: Mapping[str, Any]) -> dict[str, Any]:
    """A table that was pasted, or opened from a file, as the page's rows and as text; with a question where it can mean
    two things.

    text, or data: the bytes of a file in base64. kind: only whether they are text at all. answers: to questions asked
    before. read: whether its rows are read as well.
    """
    item = cast(Rows, find(asked["calculator"]).inputs[asked["input"]])
    system, currency = asked["units"], asked.get("currency") or "$"
    found: dict[str, Any] = {"ok": True, "errors": [], "table": None, "count": 0, "notes": [], "first": []}
    try:
        text = _text_of_file(asked["data"]) if "data" in asked else asked["text"]
        if asked.get("kind"):
            return found
        if text.lstrip().startswith(("[", '{"')):
            text = item.units_named(text, system, currency)
        text, notes = item.in_own_form(text)
        text = found["text"] = with_answers(text, item.columns, asked.get("answers") or {}, item.also)
        grid = item.grid(text)
        grid.notes += notes
        item.settle(grid, system, currency)
        found |= {"table": rows_of(item, text), "count": len(grid.rows), "notes": grid.notes}
        if asked.get("read"):
            found |= _first_rows(item, text, system, currency)
    except Told as told:
        error = {"input": asked["input"], "message": str(told), "cells": [list(cell) for cell in told.cells]}
        return found | {"ok": False, "errors": [error], "question": told.question}
    return found


def _text_of_file(data: str) -> str:
    """Text of a file from its bytes in base64; Told where it is none."""
    if len(data) > MOST_BYTES * 4 // 3 + 4:
        raise Told(f"The file is too large: {MOST_BYTES // 1_000_000} MB are the most that can be read.")
    try:
        found = b64decode(data, validate=True)
    except ValueError:
        raise Told("The file could not be read.") from None
    if not is_text(found):
        raise Told("That is no text file. Save the table as CSV in your spreadsheet, and open that.")
    return decoded(found)


def _first_rows(item: Rows, text: str, system: str | None, currency: str) -> dict[str, Any]:
    """The first rows of a table as they are understood, in words; what cannot be read is told."""
    rows = item.value(text, system, currency)
    heads = [column.label for column in item.columns.values()]
    body = [
        [column.words(row[name], system, currency) for name, column in item.columns.items()]
        for row in rows[:FIRST_ROWS]
    ]
    return {"heads": heads, "first": body, "dropped": list(getattr(rows, "dropped", ())), "count": len(rows)}


def _weather_file(asked: Mapping[str, Any]) -> dict[str, Any]:
    """What a weather file says, as texts for the fields that hold months, and in words. text: of the file; units."""
    system = asked["units"] if asked.get("units") in SYSTEMS else "us"
    found = read_weather(asked["text"])
    months = [
        {
            "month": name,
            "high": month.mean + swing if month.high is None else month.high,
            "low": month.mean - swing if month.low is None else month.low,
            "humidity": month.humidity,
            "wind": month.wind,
            "sun_hours": month.sun_hours,
            "solar_radiation": month.sun,
        }
        for name, month, swing in zip(MONTH_NAMES, found.months, season(CLIMATE).monthly_swings)
    ]
    water = find("climate.water").inputs
    means = tuple(found.monthly_means)
    values: dict[str, Any] = {"months": months, "monthly_means": means, "monthly_temperature": means}
    values |= {
        name: value for name, value in (("latitude", found.latitude), ("altitude", found.altitude)) if value is not None
    }
    bed = find("climate.bed_temperature").inputs["monthly_means"]
    described = {**water, "monthly_means": bed, "monthly_temperature": bed}
    texts = {name: described[name].default_text(value, system, "$") for name, value in values.items()}
    mean = sum(found.monthly_means) / len(found.monthly_means)
    said = [f"Read: {found.place}, {quantity_text(mean, 'degC', 'degF' if system == 'us' else 'degC')} over the year."]
    keys = {name: plan_key(name, described[name]) for name in texts}
    return {"ok": True, "errors": [], "values": texts, "keys": keys, "units": system, "said": [*said, *found.notes]}


def _block(asked: Mapping[str, Any]) -> dict[str, Any]:
    """Cells of a block that was pasted into a table, without any heading."""
    return {"ok": True, "errors": [], "cells": cells_of_block(asked["text"])}


def _plan_page(asked: Mapping[str, Any]) -> dict[str, Any]:
    """The list of the plan page. values, origins: of the reader's plan."""
    system = asked["units"] if asked.get("units") in SYSTEMS else "us"
    return {
        "ok": True,
        "errors": [],
        "html": plan.plan_page(
            asked["values"],
            asked.get("origins") or {},
            system,
            asked.get("currency") or "$",
            asked.get("units_of") or {},
        ),
    }


def _plan_file(asked: Mapping[str, Any]) -> dict[str, Any]:
    return {
        "ok": True,
        "errors": [],
        "text": plan.write_plan(asked["values"], asked.get("units") or "us", asked.get("currency") or "$"),
        "filename": "handbook-plan.txt",
    }


def _open_plan(asked: Mapping[str, Any]) -> dict[str, Any]:
    """What a file offers: its values and units, and HTML that says so beside the reader's own."""
    found = plan.read_plan(asked["text"], asked.get("currency") or "$")
    html = plan.offered(found, asked.get("values") or {}, asked.get("units") or "us", asked.get("currency") or "$")
    return {"ok": bool(found["values"]), "errors": [], "values": found["values"], "units": found["units"], "html": html}


def _text(asked: Mapping[str, Any]) -> dict[str, Any]:
    view = _view(asked)
    lines = [view.entry.question, ""]
    lines += [f"{d.label}: {view[name]}" for name, d in view.entry.inputs.items() if not d.many]
    lines += ["", *(f"{o.label}: {view[name]}" for name, o in view.entry.outputs.items())]
    for table in view.shown.tables:
        if table.first:  # a list to be followed is what a helper is sent
            texts = [answers.cell_writer(column, view) for column in table.columns]
            rows = [
                [
                    f"{column.label}: {said}" if said and column.unit else said
                    for column, said in zip(table.columns, row)
                ]
                for row in ([text(cell) for text, cell in zip(texts, row)] for row in table.rows)
            ]
            lines += [
                "",
                f"{table.title}:",
                *("□ " + ", ".join(filter(None, row)).replace("\u00a0", " ") for row in rows),
            ]
    lines += ["", *(f"Mind: {sentence}" for _, sentence in view.shown.warnings), *view.shown.reading]
    lines += ["", *(f"{step.title}: {worked(step, view)[1]}" for step in view.shown.working)]
    return {"ok": True, "errors": [], "text": "\n".join(lines).strip() + "\n", "filename": f"{view.entry.id}.txt"}


def _csv(asked: Mapping[str, Any]) -> dict[str, Any]:
    """Inputs, results and tables, one below the other, in the reader's units."""
    view = _view(asked)
    lines: list[list[Any]] = [["Input", "Value", "Unit"]]
    for name, d in view.entry.inputs.items():
        if not d.many:
            lines.append(
                [
                    d.label,
                    field_value(view.given[name], d, view.system),
                    d.sign(view.system, view.currency),
                ]
            )
    lines += [[], ["Result", "Typical", "Low", "High", "Unit"]]
    for name, o in view.entry.outputs.items():
        value = view.results[name]
        ends = (value.low, value.high) if isinstance(value, Band) else (None, None)
        lines.append(
            [
                o.label,
                *(_csv_number(part, o, view) for part in (typical(value), *ends)),
                symbol(o.shown(view.system), view.currency),
            ]
        )
    for table in view.shown.tables:
        lines += [[], [table.title], [answers.column_head(column, view) for column in table.columns]]
        lines += [[_csv_number(cell, column, view) for cell, column in zip(row, table.columns)] for row in table.rows]
    for figure in view.shown.figures:
        if isinstance(figure, Figure) and not answers.has_table(figure, view.shown):
            for mark in figure_object(figure, view)["marks"]:
                lines += [[], [figure.title, mark["label"] or mark["kind"]], *([*point] for point in mark["points"])]
    text = csv_text(lines, end="\r\n")
    return {"ok": True, "errors": [], "text": "﻿" + text + "\r\n", "filename": f"{view.entry.id}.csv"}


def _csv_number(value: Any, description: Output | Column, view: View) -> Any:
    if isinstance(value, Band):
        value = value.value
    if isinstance(value, (int, float)) and not isinstance(value, bool) and description.unit:
        return field_text(convert(value, description.unit, description.shown(view.system)), 6)
    return "" if value is None else value.isoformat() if hasattr(value, "isoformat") else value


def _calendar(asked: Mapping[str, Any]) -> dict[str, Any]:
    view = _view(asked)
    return {
        "ok": True,
        "errors": [],
        "text": calendar_text(view.shown.events, view.entry.question, view.given.get("calendar_name") or ""),
        "filename": f"{view.entry.id}.ics",
    }


def _write(asked: Mapping[str, Any]) -> dict[str, Any]:
    from calc.page import logbook  # with the farm's chapter, which other pages do without

    return logbook.entered(asked)


def _join(asked: Mapping[str, Any]) -> dict[str, Any]:
    from calc.page import logbook

    try:
        other = _text_of_file(asked["data"])
    except Told as told:
        return {"ok": False, "errors": [{"input": logbook.INPUT, "message": str(told)}]}
    return logbook.added(asked, other)


def _log_file(asked: Mapping[str, Any]) -> dict[str, Any]:
    from calc.page import logbook

    return logbook.as_file(asked)


_CALLS = {
    "answer": _answer,
    "leads": _leads,
    "explore": _explore,
    "form": _form,
    "table": _table,
    "block": _block,
    "text": _text,
    "csv": _csv,
    "calendar": _calendar,
    "plan": _plan_page,
    "plan_file": _plan_file,
    "open_plan": _open_plan,
    "weather_file": _weather_file,
    "write": _write,
    "join": _join,
    "log_file": _log_file,
}
