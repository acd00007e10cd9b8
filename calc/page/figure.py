"""A figure as plain data in the reader's units, and its frame as HTML. The drawing itself is made by the page's figure
drawer.
"""

import json
from collections.abc import Callable
from html import escape
from typing import Any

from calc.engine.describe import Axis, Drawing, Figure, Handle, Mark, MarkKind
from calc.engine.quantity import convert, symbol
from calc.engine.view import View
from calc.page.handle import ends
from calc.page.held import held_sentence

# Which places of a mark's points lie on the x axis and which on the y axis; other places are text or plain numbers.
_PLACES: dict[MarkKind, tuple[tuple[int, ...], tuple[int, ...]]] = {
    "line": ((0,), (1,)),
    "area": ((0,), (1,)),
    "dots": ((0,), (1,)),
    "bars": ((0,), (1,)),
    "stack": ((0,), (1,)),
    "text": ((0,), (1,)),
    "cells": ((0,), (1,)),
    "band": ((0,), (1, 2)),
    "spans": ((1, 2), ()),
    "tornado": ((1, 2), ()),
    "rule_x": ((0,), ()),
    "zone_x": ((0, 1), ()),
    "rule_y": ((), (0,)),
    "zone_y": ((), (0, 1)),
}


def figure_object(figure: Figure, view: View) -> dict[str, Any]:
    """The figure as the drawer takes it: numbers in display units, axes with their symbols."""
    convert_x, convert_y = _converter(figure.x, view), _converter(figure.y, view)
    marks = []
    for mark in figure.marks:
        on_x, on_y = _PLACES[mark.kind]
        value = _value_converter(mark, view)
        points = []
        for point in mark.points:
            point = list(point)
            for place in on_x:
                point[place] = convert_x(point[place])
            for place in on_y:
                point[place] = convert_y(point[place])
            if mark.kind == "cells":
                point[2] = value(point[2])
            points.append(point)
        marks.append(
            {"kind": mark.kind, "points": points, "label": mark.label, "tone": mark.tone, "dashed": mark.dashed}
        )
    made = {
        "name": figure.name,
        "title": figure.title,
        "finding": figure.finding,
        "x": _axis(figure.x, view),
        "y": _axis(figure.y, view),
        "marks": marks,
    }
    if figure.handles:
        made["handles"] = [
            _handle(handle, figure, view, convert_x, convert_y)
            for handle in figure.handles
            if view.given[handle.input] is not None
        ]
    return made | ({"height": figure.height} if figure.height else {})


def _handle(
    handle: Handle, figure: Figure, view: View, convert_x: Callable[[Any], Any], convert_y: Callable[[Any], Any]
) -> dict[str, Any]:
    """A handle as the drawer takes it: its point and the ends of its way on the axes, its values as the field shows."""
    description = view.entry.numeric_inputs[handle.input]
    along = convert_x if handle.axis == "x" else convert_y
    low, high = ends(handle, view)
    first, last = handle.ends or (handle.low, handle.high)
    shown = description.shown(view.system)
    return {
        "input": handle.input,
        "axis": handle.axis,
        "x": convert_x(handle.at[0]),
        "y": convert_y(handle.at[1]),
        "from": along(first),
        "to": along(last),
        "low": low,
        "high": high,
        "now": seven_digits(convert(view.given[handle.input], description.unit, shown)),
        "label": description.label,
        "text": f"{handle.words} {view[handle.input]}".strip(),
    }


def _converter(axis: Axis, view: View) -> Callable[[Any], Any]:
    if axis.kind in ("band", "time") or not axis.unit:
        return lambda value: value.isoformat() if hasattr(value, "isoformat") else value
    return _between(axis.unit, axis.shown(view.system))


def _value_converter(mark: Mark, view: View) -> Callable[[Any], Any]:
    return _between(mark.unit, mark.shown(view.system)) if mark.unit else lambda value: value


def _between(unit: str, shown: str) -> Callable[[Any], Any]:
    zero, one = convert(0.0, unit, shown), convert(1.0, unit, shown)
    return lambda value: value if value is None or isinstance(value, str) else seven_digits(zero + (one - zero) * value)


def seven_digits(value: float) -> float:
    """A number as a figure has it: seven digits are more than a screen shows, and keep the text short.

    By way of twelve, to which CPython and the page agree: so what lies between two numbers of seven digits goes to the
    same one in both, whatever its last bits.
    >>> seven_digits(1172.7195 - 2e-13) == seven_digits(1172.7195 + 2e-13)
    True
    """
    return float(f"{float(f'{value:.12g}'):.7g}")


def _axis(axis: Axis, view: View) -> dict[str, Any]:
    to_shown = _converter(axis, view)
    made: dict[str, Any] = {
        "label": axis.label,
        "unit": (
            symbol(axis.shown(view.system), view.currency) if axis.unit and axis.kind not in ("band", "time") else ""
        ),
        "kind": axis.kind,
    }
    for key in ("low", "high"):
        if getattr(axis, key) is not None:
            made[key] = to_shown(getattr(axis, key))
    if axis.ticks is not None:
        made["ticks"] = [to_shown(tick) for tick in axis.ticks]
    return made


def figure_html(figure: Figure, view: View) -> str:
    """Its finding as the headline, what is drawn below it, and the place for the drawing with its data."""
    data = escape(json.dumps(figure_object(figure, view), ensure_ascii=False, separators=(",", ":")))
    return (
        f'<figure class="calc-figure" data-figure="{escape(figure.name)}" aria-label="{escape(figure.title)}">'
        f'{_caption(figure, view)}<div class="calc-plot" data-figure-json="{data}"></div></figure>'
    )


def _caption(figure: Figure | Drawing, view: View | None) -> str:
    """What a figure says, above it; and what it shows, where that is something else."""
    said = figure.finding.strip().removesuffix(".") or figure.title
    what = f'<span class="calc-figure-what">{escape(figure.title)}</span>' if said != figure.title else ""
    words = (held_sentence(figure.finding, view) if view and figure.finding else escape(said)).removesuffix(".")
    return f'<figcaption><span class="calc-figure-title">{words}</span>{what}</figcaption>'


def drawing_html(drawing: Drawing, view: View | None = None) -> str:
    """A to-scale drawing below its finding, with its text equivalent; view: the run that it belongs to, if any."""
    told = (
        '<details class="calc-text-equivalent"><summary>The drawing in words</summary>'
        f"<p>{escape(drawing.text)}</p></details>"
        if drawing.text
        else ""
    )
    listed = "".join(f"<li>{escape(words)}</li>" for words in drawing.keys)
    wide = (
        'class="plate"' in drawing.svg
    )  # wider than a phone: its frame takes the focus, so that the keyboard moves it too
    moved = f' tabindex="0" role="group" aria-label="{escape(drawing.title)}"' if wide else ""
    keys = f'<ol class="draw-keys">{listed}</ol>' if listed else ""
    return (
        f'<figure class="calc-figure calc-drawing" data-figure="{escape(drawing.name)}"'
        f' aria-label="{escape(drawing.title)}">{_caption(drawing, view)}'
        f'<div class="calc-picture"{moved} data-search-exclude="">{drawing.svg}</div>{_moving(drawing)}'
        f"{keys}{told}</figure>"
    )


def _moving(drawing: Drawing) -> str:
    """What runs a drawing through, and the pictures that stand there instead."""
    still = f'<div class="draw-still" data-search-exclude="">{drawing.still}</div>' if drawing.still else ""
    play = (
        f'<button type="button" class="draw-play" data-play="{drawing.plays}">Run the year</button>'
        if drawing.plays
        else ""
    )
    return play + still
