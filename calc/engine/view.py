"""An answered run as its presenter and the page see it: numbers in SI, and the same as text in the reader's units."""

import re
from collections.abc import Mapping
from dataclasses import fields, replace
from typing import TYPE_CHECKING, Any

from calc.engine.describe import Band, Output, Show, Step, typical
from calc.engine.kinds import Kind, Number, day_text
from calc.engine.quantity import convert, money_text, number_text, quantity_text
from calc.engine.sentence import Sentence, yours
from calc.engine.tabular import csv_cell
from calc.engine.told import lower_first
from calc.engine.working import CurvePart, Part, RowsPart

if TYPE_CHECKING:
    from calc.engine.register import Calculator

__all__ = ["View", "called", "csv_cell", "day_text", "field_value", "lower_first", "range_end", "ranged_text", "worked"]


class View:
    """`v.name` is the SI number of an input or output; `v["name"]` its text in the reader's units."""

    def __init__(
        self, entry: "Calculator", given: Mapping[str, Any], answer: Any, system: str | None = None, currency: str = "$"
    ) -> None:
        self.entry, self.given, self.answer, self.system, self.currency = entry, given, answer, system, currency
        self.results = {f.name: getattr(answer, f.name) for f in fields(answer)}

    @property
    def units(self) -> str:
        return self.system or "si"

    def __getattr__(self, name: str) -> Any:
        if name.startswith("__") or name in ("results", "given"):
            raise AttributeError(name)
        if name in self.results:
            return typical(self.results[name])
        if name in self.given:
            return self.given[name]
        raise AttributeError(f"{self.entry.id} has no input or output “{name}”")

    def band(self, name: str) -> Band:
        """Band of an output; low and high are the value itself where there is no range."""
        value = self.results[name]
        return value if isinstance(value, Band) else Band(value, value, value)

    def __getitem__(self, name: str) -> str:
        if name in self.results:
            return self.output_text(name)
        return self.input_text(name)

    def description(self, name: str) -> Any:
        return self.entry.outputs.get(name) or self.entry.inputs[name]

    def say(self, value: float, unit: str, us: str | None = None, metric: str | None = None, digits: int = 3) -> str:
        """Any SI number as text in the reader's units."""
        return quantity_text(
            value, unit, Output(unit, "", us=us, metric=metric).shown(self.system), digits, self.currency
        )

    def money(self, amount: float) -> str:
        return money_text(amount, self.currency)

    def output_text(self, name: str, ranged: bool = True) -> str:
        output, value = self.entry.outputs[name], self.results[name]
        if isinstance(value, Band) and ranged:
            return ranged_text(value, output, self.system, self.currency)
        return output.words(typical(value), self.system, self.currency)

    def input_text(self, name: str) -> str:
        return self.entry.inputs[name].words(self.given[name], self.system, self.currency)

    def yours(self, name: str) -> str:
        """Text of an input as `v[name]` has it, for the reading and for what a figure says: the page shows it as the
        reader's own and lets it be held. A blank one is not theirs.
        """
        text = self.input_text(name)
        return text if self.given[name] is None else yours(name, text)

    @property
    def shown(self) -> Show:
        """What the presenter adds; worked out once."""
        if "_show" not in self.__dict__:
            show = self.entry.show(self) if self.entry.show else Show()
            show.reading = [Sentence(said) for said in show.reading]
            show.figures = [replace(figure, finding=Sentence(figure.finding)) for figure in show.figures]
            show.warnings = [*self._asked_back(), *show.warnings]
            self._show = show
        return self._show

    def _asked_back(self) -> list[tuple[str | None, str]]:
        """Figures that may be meant otherwise than they stand: nothing is refused, the reader is asked."""
        asked = (
            (name, item.asks_back(self.given[name], self.entry.own_defaults[name], self.system))
            for name, item in self.entry.inputs.items()
            if isinstance(item, Number)
        )
        return [(name, question) for name, question in asked if question]


def ranged_text(band: Band, output: Output, system: str | None, currency: str) -> str:
    """Typical value with its range: `5 lb/day (3.5 to 8)`; equal ends are not repeated."""
    shown = output.shown(system)
    middle = quantity_text(band.value, output.unit, shown, output.digits, currency)
    ends = [range_end(end, output, system, currency) for end in (band.low, band.high)]
    return middle if ends[0] == ends[1] else f"{middle} ({ends[0]} to {ends[1]})"


def range_end(value: float, output: Output, system: str | None, currency: str) -> str:
    """One end of a range, without its unit; two significant digits are all that biology allows."""
    converted = convert(value, output.unit, output.shown(system))
    return (
        money_text(converted, currency)
        if output.unit.startswith("money")
        else number_text(converted, min(2, output.digits) if output.unit != "degC" else 3)
    )


def field_value(value: Any, description: Kind, system: str | None, currency: str = "$") -> str:
    """What stands in the form field for an SI value; reading it back gives the value again."""
    return description.text(value, system, currency)


# ---- working: one equation in words and in numbers


def called(step: Step, name: str, view: View) -> str:
    """What a name in an equation is called in words."""
    part = step.values.get(name)
    if part is None:
        return name.replace("_", " ") if _is_column(step, name) else lower_first(view.description(name).label)
    return str(part.words) if isinstance(part, (Part, RowsPart, CurvePart)) else str(part[0])


def _is_column(step: Step, name: str) -> bool:
    """Whether a name stands for a cell of rows that the step brings along."""
    return any(isinstance(part, RowsPart) and name in part.units for part in step.values.values())


def numbered_text(step: Step, name: str, view: View) -> str:
    """What stands for a name in an equation with this run's numbers."""
    part = step.values.get(name)
    if part is None and _is_column(step, name):
        return name.replace("_", " ")
    if part is None:
        return view.output_text(name, ranged=False) if name in view.results else view.input_text(name)
    if isinstance(part, (RowsPart, CurvePart)):
        return part.words
    if not isinstance(part, Part):
        return str(part[1])
    return part.text or view.say(typical(part.value), part.unit, part.us, part.metric, part.digits)


def worked(step: Step, view: View) -> tuple[str, str]:
    """(equation in words, equation with this run's numbers) of a Step; words twice where one of its figures is
    blank.
    """
    words = re.sub(r"\{(\w+)\}", lambda match: called(step, match[1], view), step.equation)
    named = {name for name in re.findall(r"\{(\w+)\}", step.equation) if not _is_column(step, name)} - set(step.values)
    if any(view.results.get(name, view.given.get(name)) is None for name in named):
        return words, words
    return words, re.sub(r"\{(\w+)\}", lambda match: numbered_text(step, match[1], view), step.equation)
