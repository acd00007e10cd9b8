"""What an aim found, as HTML: every value that would do, and what is the matter with each before it can be used."""

import json
from collections.abc import Mapping, Sequence
from dataclasses import replace
from html import escape
from typing import Any

from calc.engine.describe import Band, Number, Output, Refused, in_place_of
from calc.engine.quantity import quantity_text
from calc.engine.told import lower_first
from calc.engine.view import View, field_value

COUNT = {2: "Two", 3: "Three", 4: "Four", 5: "Five", 6: "Six"}


def aim_html(view: View, found: Mapping[str, Any]) -> str:
    """The values that bring an output to what is wanted, each with a button that puts it into the form: {input: text},
    blank for what it takes the place of.
    """
    output, description = view.entry.outputs[found["output"]], view.entry.numeric_inputs[found["vary"]]
    if not found["reached"]:
        return f'<p class="calc-found-text">{escape(found["message"])}</p>'
    values = sorted([found["value"], *found.get("others", ())])
    at = _said(found["at"], output, view)
    if len(values) == 1:
        words = (
            f"With {_strong(description, values[0], view)}, {escape(lower_first(output.label))} is {escape(at)}. The"
            " other inputs stay as they are."
        )
        matter = _matter(view, found["vary"], values[0])
        return f'<p class="calc-found-text">{words}</p>{matter}{_use(view, found["vary"], values[0])}'
    items = "".join(_solution(view, found, value) for value in values)
    return (
        f'<p class="calc-found-text">{COUNT.get(len(values), len(values))} values of'
        f" {escape(lower_first(description.label))} bring {escape(lower_first(output.label))} to {escape(at)}. The"
        f' other inputs stay as they are.</p><ol class="calc-solutions">{items}</ol>'
    )


def _solution(view: View, found: Mapping[str, Any], value: float) -> str:
    description = view.entry.numeric_inputs[found["vary"]]
    nearest = ", the nearest to where it stands now" if value == found["value"] else ""
    words = f"<p>With {_strong(description, value, view)}{nearest}.</p>"
    return f"<li>{words}{_matter(view, found['vary'], value)}{_use(view, found['vary'], value)}</li>"


def _said(value: float, described: Number | Output, view: View, digits: int = 4) -> str:
    digits = described.digits if isinstance(described, Output) else digits
    return quantity_text(value, described.unit, described.shown(view.system), digits, view.currency)


def _strong(description: Number, value: float, view: View) -> str:
    return f"<strong>{escape(lower_first(description.label))} at {escape(_said(value, description, view))}</strong>"


def _use(view: View, vary: str, value: float) -> str:
    texts = dict.fromkeys(in_place_of(view.entry.inputs, vary), "") | {
        vary: field_value(value, view.entry.numeric_inputs[vary], view.system)
    }
    return (
        f'<button type=button data-action=use data-set="{escape(json.dumps(texts, ensure_ascii=False))}">Use this'
        " value</button>"
    )


def _matter(view: View, vary: str, value: float) -> str:
    """What is the matter with a value, before its button: the warnings that it would bring, and that it is unusual."""
    said = [*_unusual(view, vary, value), *new_warnings(view, vary, value)]
    items = "".join(f"<li>{escape(sentence)}</li>" for sentence in said)
    return f'<ul class="calc-warnings" aria-label="Mind">{items}</ul>' if items else ""


def _unusual(view: View, vary: str, value: float) -> list[str]:
    description = view.entry.numeric_inputs[vary]
    usual = description.plausible()
    if description.scales or not usual or usual[0] <= value <= usual[1]:
        return []
    side = "under" if value < usual[0] else "over"
    low, high = (_said(end, description, view, 3) for end in usual)
    return [f"That is {side} what is usual: {low} to {high}."]


def new_warnings(view: View, vary: str, value: float) -> Sequence[str]:
    """Warnings that an answer has with the input at that value and has not now."""
    entry = view.entry
    given = {**view.given, **in_place_of(entry.inputs, vary), vary: value}
    try:
        answer = entry.function(**given)
    except (Refused, ArithmeticError):
        return ()
    # No range is drawn for it: warnings look at what is typical.
    alone = {
        name: Band(number, number, number)
        for name, output in entry.outputs.items()
        if output.ranged and isinstance(number := getattr(answer, name), (int, float))
    }
    there = View(entry, given, replace(answer, **alone), view.system, view.currency)
    known = {sentence for _, sentence in view.shown.warnings}
    return [sentence for _, sentence in there.shown.warnings if sentence not in known]
