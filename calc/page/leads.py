"""The questions that come next: a calculator's `leads`, with what this answer hands over to each of them.

The first of them is the next page of the book; the text of the page names the same one.
"""

import json
from collections.abc import Mapping
from html import escape
from urllib.parse import urlencode

from calc.engine.describe import Input, Number, Output, typical
from calc.engine.register import Calculator, chapter_in_edition, find
from calc.engine.told import lower_first
from calc.engine.view import View
from calc.page.form import plan_key
from calc.page.plan import plan_text

OPENINGS = {
    "feed": "What do I mix, and how much?",
    "moisture": "How wet, how to tell, how much to add?",
    "harvest": "How do I take a slice to the bag?",
    "economics": "Money: does it pay?",
    "records": "What do I write down?",
    "farm": "Your farm, entered once",
    "troubles": "Something is wrong",
}
"""What the first page of a chapter asks, where no calculator of its own stands on it."""


def leads(view: View) -> str:
    """Links to the next questions; pressed, they put the values into the plan (scripts/browser/page/links.js)."""
    first, *others = [
        _lead(view, find(id), handed) if "." in id else _opening(id)
        for id, handed in view.entry.leads.items()
        if (find(id).in_edition() if "." in id else chapter_in_edition(id))
    ] or [""]
    rest = f"<h3>Or take this answer to</h3><ul>{''.join(others)}</ul>" if others else ""
    return f'<h3>Next</h3><ul class="calc-next">{first}</ul>{rest}' if first else ""


def _opening(chapter: str) -> str:
    return f'<li><a href="handbook:{chapter}/index.html">{escape(OPENINGS[chapter])}</a></li>'


def _lead(view: View, target: Calculator, handed: Mapping[str, str]) -> str:
    values = handed_over(view, target, handed)
    texts = {name: plan_text(value, target.inputs[name], view.system) for name, value in values.items()}
    query = f"#plan?{urlencode({**texts, 'units': view.system or 'metric', 'from': view.entry.id})}" if texts else ""
    keyed = {plan_key(name, target.inputs[name]): text for name, text in texts.items()}
    hand = f' data-hand="{escape(json.dumps(keyed, ensure_ascii=False))}" data-from="{view.entry.id}"' if texts else ""
    takes = "; ".join(
        f"{lower_first(target.inputs[name].label)} {target.inputs[name].words(value, view.system, view.currency)}"
        for name, value in values.items()
    )
    told = (
        f' <span class="calc-takes">Takes along, unless you set it yourself: {escape(takes)}.</span>' if takes else ""
    )
    return f'<li><a href="handbook:{target.page}{escape(query)}"{hand}>{escape(target.question)}</a>{told}</li>'


def handed_over(view: View, target: Calculator, handed: Mapping[str, str]) -> dict[str, float]:
    """{input of the target: SI value} of what can be handed over: there, and within what the target can take."""
    found = {}
    for name, source in handed.items():
        value = typical(view.results[source]) if source in view.results else view.given[source]
        description = target.inputs[name]
        if value is None or target.set_by_farm(name):
            continue
        if isinstance(description, Number):
            value = description.handed(value, view.description(source).unit, view.system)
        if value is not None:
            found[name] = value
    return found


def fits(target_input: Input, source: Input | Output) -> bool:
    """Whether what `source` describes may stand in `target_input`: a number of the same dimension, or the same kind of
    input.
    """
    return target_input.takes_from(source)
