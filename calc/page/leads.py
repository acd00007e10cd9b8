"""The questions that come next: a calculator's `leads`, with what this answer hands over to each of them."""

import json
from collections.abc import Mapping
from html import escape
from urllib.parse import urlencode

from calc.engine.describe import Choice, Day, Flag, Number, Output, Rows, Series, typical
from calc.engine.quantity import convert, field_text, unit
from calc.engine.register import Calculator, find
from calc.engine.view import View, lower_first, value_text
from calc.page.form import plan_key
from calc.page.plan import plan_text

DIGITS = 4
"""A result is handed over rounded: its range is wider than what is cut off, and a field full of digits helps nobody."""


def leads(view: View) -> str:
    """Links to the next questions; pressed, they put the values into the plan (scripts/browser/page/plan.js)."""
    items = "".join(_lead(view, find(id), handed) for id, handed in view.entry.leads.items() if find(id).in_edition())
    return f"<h3>What comes next</h3><ul>{items}</ul>" if items else ""


def _lead(view: View, target: Calculator, handed: Mapping[str, str]) -> str:
    values = handed_over(view, target, handed)
    texts = {name: plan_text(value, target.inputs[name], view.system) for name, value in values.items()}
    query = f"#plan?{urlencode({**texts, 'units': view.system or 'metric', 'from': view.entry.id})}" if texts else ""
    keyed = {plan_key(name, target.inputs[name]): text for name, text in texts.items()}
    hand = f' data-hand="{escape(json.dumps(keyed, ensure_ascii=False))}" data-from="{view.entry.id}"' if texts else ""
    takes = "; ".join(
        f"{lower_first(target.inputs[name].label)} {value_text(value, target.inputs[name], view.system, view.currency)}"
        for name, value in values.items()
    )
    told = f' <span class="calc-takes">Takes along: {escape(takes)}.</span>' if takes else ""
    return f'<li><a href="handbook:{target.page}{escape(query)}"{hand}>{escape(target.question)}</a>{told}</li>'


def handed_over(view: View, target: Calculator, handed: Mapping[str, str]) -> dict[str, float]:
    """{input of the target: SI value} of what can be handed over: there, and within what the target can take."""
    found = {}
    for name, source in handed.items():
        value = typical(view.results[source]) if source in view.results else view.given[source]
        description = target.inputs[name]
        if value is None:
            continue
        if isinstance(description, Number):
            value = _rounded(convert(value, view.description(source).unit, description.unit), description, view.system)
            if not description.low <= value <= description.high:
                continue
        found[name] = value
    return found


def _rounded(value: float, description: Number, system: str | None) -> float:
    """A value to four digits of the unit in which the target shows it, a whole number where it counts."""
    if description.whole:
        return round(value)
    shown = description.shown(system)
    return convert(float(field_text(convert(value, description.unit, shown), DIGITS)), shown, description.unit)


def fits(target_input: Number, source: Number | Output) -> bool:
    """Whether what `source` describes may stand in `target_input`: a number of the same dimension, or the same kind of
    input.
    """
    if isinstance(target_input, Number):
        return (
            hasattr(source, "unit")
            and not isinstance(source, Series)
            and unit(source.unit).dimension == unit(target_input.unit).dimension
        )
    return isinstance(target_input, (Choice, Day, Flag, Rows, Series)) and type(source) is type(target_input)
