"""Sentences of an answer as HTML: what is the reader's stands in blue, and a number of theirs can be held.

The page lets it be dragged, stepped by keys and typed over (scripts/browser/page/hold.js); what follows is the same as
if its field had been changed.
"""

from html import escape

from calc.engine.describe import Number
from calc.engine.quantity import convert
from calc.engine.sentence import Sentence
from calc.engine.view import View
from calc.page.slide import rail
from calc.page.sure import marked


def held_sentence(sentence: str, view: View) -> str:
    """A sentence with what is the reader's marked."""
    parts = sentence.parts if isinstance(sentence, Sentence) else ((sentence, None),)
    return "".join(marked(text) if name is None else _held(name, text, view) for text, name in parts)


def _held(name: str, text: str, view: View) -> str:
    description, value = view.entry.inputs[name], view.given[name]
    way = rail(description, value, view.system) if isinstance(description, Number) else None
    if not way or not isinstance(description, Number):
        return f'<span class="yours">{escape(text)}</span>'
    now = convert(value, description.unit, description.shown(view.system))
    return (
        f'<span class="yours" data-held="{name}" tabindex="0" role="slider" aria-label="{escape(description.label)}"'
        f' aria-valuemin="{way.low:.7g}" aria-valuemax="{way.high:.7g}" aria-valuenow="{now:.7g}"'
        f' aria-valuetext="{escape(text)}">{escape(text)}</span>'
    )
