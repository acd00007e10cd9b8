"""The method page's list of equations: the working of every calculator, in words, read off the calculators themselves."""

import re
from html import escape

from calc.engine.describe import Choice, Flag
from calc.engine.register import every
from calc.engine.run import answer
from calc.engine.view import worked

CASES = {
    "moisture.adjust": [{"moisture": "85 %", "target": "70 %"}],
    "moisture.test": [{"samples": [{"tare": "50 g", "wet": "150 g"}], "dryings": [{"time": 1, "weight": "90 g"}, {"time": 2, "weight": "76 g"}, {"time": 3, "weight": "75 g"}]}],
    "feed.recipe": [{"mode": "check", "target_moisture": "80 %"}, {"mode": "check", "target_moisture": "40 %"}],
    "economics.return": [{"flows": "-1000, 400, 400, 400"}],
}
"""Runs beside the defaults that bring out equations which the defaults do not need."""


def cases(entry):
    """The runs over which a calculator shows all of its working: its defaults, each word of each list, and the CASES."""
    yield {}
    for name, item in entry.inputs.items():
        for option in item.options if isinstance(item, Choice) else ("yes", "no") if isinstance(item, Flag) else ():
            yield {name: option}
    yield from CASES.get(entry.id, ())


def steps_of(entry):
    """[(Step, View)] of all workings of a calculator, each equation once, in the order in which they are shown."""
    found = {}
    for values in cases(entry):
        view = answer(entry.id, values)
        for step in view.shown.working:
            found.setdefault((step.title, step.equation), (step, view))
    return list(found.values())


def named_in(entry):
    """Names of inputs and outputs that stand in the working of a calculator."""
    return {name for step, _ in steps_of(entry) for name in re.findall(r"\{(\w+)\}", step.equation)}


def equations(chapter=""):
    """Every equation of a chapter (all without one), in words, with its source, under the question that it answers."""
    parts = []
    for id, entry in every().items():
        if chapter and not id.startswith(chapter + "."):
            continue
        items = "".join(_item(step, view) for step, view in steps_of(entry))
        parts.append(f'<h3 id="{id.replace(".", "-")}-equations"><a href="../{entry.page}">{escape(entry.question)}</a></h3><ol class="calc-equations">{items}</ol>')
    return "".join(parts)


def _item(step, view):
    source = f' <cite class="calc-source">{escape(str(step.source))}</cite>' if step.source else ""
    note = f'<p class="calc-note">{escape(step.note)}</p>' if step.note else ""
    return f'<li><strong>{escape(step.title)}</strong>{source}<p class="calc-equation">{escape(worked(step, view)[0])}</p>{note}</li>'
