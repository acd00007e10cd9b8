"""The method page's list of equations: the working of every calculator, in words, read off the calculators
themselves.
"""

import re
from collections import Counter
from collections.abc import Callable, Iterator
from html import escape
from typing import Any, TypeAlias

from calc.engine.describe import Step
from calc.engine.register import Calculator, every
from calc.engine.run import answer
from calc.engine.told import lower_first
from calc.engine.view import View
from calc.engine.working import check
from calc.page.answer import equation_html
from calc.page.sure import source_html

CASES: dict[str, list[tuple[dict[str, Any], str]]] = {
    "moisture.adjust": [({"moisture": "85 %", "target": "70 %"}, "bedding that is too wet")],
    "moisture.test": [
        (
            {
                "samples": [{"tare": "50 g", "wet": "150 g"}],
                "dryings": [
                    {"time": 1, "weight": "90 g"},
                    {"time": 2, "weight": "76 g"},
                    {"time": 3, "weight": "75 g"},
                ],
            },
            "one sample, dried again and again",
        )
    ],
    "feed.recipe": [
        ({"mode": "check", "target_moisture": "80 %"}, "a mix that is too dry"),
        ({"mode": "check", "target_moisture": "40 %"}, "a mix that is too wet"),
    ],
    "climate.bed_temperature": [
        ({"start_temperature": "20 °C", "air_mean": "34 °C"}, "a bed that is cool at first and gets too warm")
    ],
    "economics.cash": [({"loan_amount": 3000}, "with a loan")],
    "economics.return": [({"flows": "-1000, 400, 400, 400"}, "flows of your own")],
}
"""Runs beside the defaults that bring out equations which the defaults do not need, with words for each."""
NO_STEPS = "The lane followed day by day, and no equation of its own."


def cases(entry: Calculator) -> Iterator[tuple[dict[str, Any], str]]:
    """(values, words for them) of the runs over which a calculator shows all of its working: its defaults, each word of
    each list, and the CASES.
    """
    yield {}, ""
    for name, item in entry.inputs.items():
        for option, words in item.words_of_choices().items():
            yield {name: option}, f"{lower_first(item.label)}: {lower_first(words)}"
    yield from CASES.get(entry.id, ())


def steps_of(entry: Calculator) -> list[tuple[Step, View, str]]:
    """[(Step, View, when)] of all workings of a calculator, each equation once, in the order in which they are shown;
    when: a choice that brings it out.
    """
    found: dict[tuple[str, str], tuple[Step, View, str]] = {}
    for values, words in cases(entry):
        view = answer(entry.id, values)
        for step in view.shown.working:
            found.setdefault((step.title, step.equation), (step, view, words))
    return list(found.values())


Steps: TypeAlias = Callable[[Calculator], list[tuple[Step, View, str]]]
"""steps_of, or what has kept its answers."""


def counted(entry: Calculator, steps: Steps = steps_of) -> Counter[str]:
    """How many steps of a calculator are evaluated, blank in their run, said in prose, or neither; Untrue for a false
    one.
    """
    return Counter(check(step, view) for step, view, _ in steps(entry))


def named_in(entry: Calculator) -> set[str]:
    """Names of inputs and outputs that stand in the working of a calculator."""
    return {name for step, *_ in steps_of(entry) for name in re.findall(r"\{(\w+)\}", step.equation)}


def equations(chapter: str = "", steps: Steps = steps_of) -> str:
    """Every equation of a chapter (all without one), in words, with its source, under the question that it answers."""
    parts = []
    for id, entry in every().items():
        if chapter and not id.startswith(chapter + "."):
            continue
        shown = steps(entry)
        for step, view, _ in shown:
            check(step, view)  # an equation that is untrue stops the build
        items = "".join(_item(*step) for step in shown)
        items = f'<ol class="calc-equations">{items}</ol>' if items else f"<p>{NO_STEPS}</p>"
        parts.append(
            f'<h3 id="{id.replace(".", "-")}-equations"><a href="../{entry.page}">{escape(entry.question)}</a></h3>'
            f"{items}"
        )
    return "".join(parts)


def _item(step: Step, view: View, when: str) -> str:
    source = f" {source_html(str(step.source))}" if step.source else ""
    note = f'<p class="calc-note">{escape(step.note)}</p>' if step.note else ""
    asked = f" <small>({escape(when)})</small>" if when else ""
    return (
        f"<li><strong>{escape(step.title)}</strong>{asked}{source}<p"
        f' class="calc-equation">{equation_html(step, view)}</p>{note}</li>'
    )
