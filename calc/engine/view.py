"""An answered run as its presenter and the page see it: numbers in SI, and the same as text in the reader's units."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import fields
from datetime import date, datetime
from typing import TYPE_CHECKING, Any

from calc.engine.describe import Band, Choice, Input, Number, Output, Rows, Series, Show, Step, typical
from calc.engine.quantity import convert, field_text, money_text, number_text, quantity_text, symbol

if TYPE_CHECKING:
    from calc.engine.register import Calculator


def lower_first(label: str) -> str:
    """A label inside a sentence: `Lane length` → `lane length`, but `C:N of the mix` and `pH` stay."""
    return label if len(label) > 1 and (label[1].isupper() or label[1] == ":") else label[:1].lower() + label[1:]


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
        return value_text(typical(value), output, self.system, self.currency)

    def input_text(self, name: str) -> str:
        return value_text(self.given[name], self.entry.inputs[name], self.system, self.currency)

    @property
    def shown(self) -> Show:
        """What the presenter adds; worked out once."""
        if "_show" not in self.__dict__:
            self._show = self.entry.show(self) if self.entry.show else Show()
        return self._show


def value_text(value: Any, description: Input | Output, system: str | None, currency: str) -> str:
    """A value of any kind in words."""
    if value is None:
        return "–"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, date):
        return day_text(value)
    if isinstance(description, Choice):
        return description.options[value]
    if isinstance(value, (int, float)) and isinstance(description, (Number, Output)):
        return quantity_text(
            value, description.unit, description.shown(system), getattr(description, "digits", 4), currency
        )
    if isinstance(description, Output) and isinstance(value, (list, tuple)):
        return "; ".join(map(str, value)) or "none"
    if isinstance(description, Rows):
        return f"{len(value):,} rows"
    if isinstance(description, Series):
        return f"{len(value):,} values"
    return str(value)


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


def day_text(day: date) -> str:
    """A date as it is spoken: 1 March 2027, the same in every locale."""
    months = "January February March April May June July August September October November December".split()
    return f"{day.day} {months[day.month - 1]} {day.year}"


# ---- input values as text for a form field


def field_value(value: Any, description: Input, system: str | None, currency: str = "$") -> str:
    """What stands in the form field for an SI value; reading it back gives the value again."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(description, Number):
        return field_text(convert(value, description.unit, description.shown(system)))
    if isinstance(description, Series):
        return ", ".join(field_text(convert(item, description.unit, description.shown(system))) for item in value)
    if isinstance(description, Rows):
        return rows_text(value, description, system, currency)
    return str(value)


def rows_text(
    rows: Sequence[Mapping[str, datetime | float | str | None]],
    description: Rows,
    system: str | None,
    currency: str = "$",
    digits: int = 9,
) -> str:
    """A table as CSV text with its units in the header row; nine digits come back unchanged."""
    heads = []
    for name, column in description.columns.items():
        sign = symbol(column.shown(system), currency) if isinstance(column, Number) else ""
        heads.append(f"{name} ({sign})" if sign else name)
    lines = [",".join(csv_cell(head) for head in heads)]
    for row in rows:
        lines.append(
            ",".join(
                csv_cell(_cell_text(row.get(name), column, system, digits))
                for name, column in description.columns.items()
            )
        )
    return "\n".join(lines)


def _cell_text(value: Any, column: Input, system: str | None, digits: int = 9) -> str:
    if isinstance(column, Number) and value is not None:
        return field_text(convert(value, column.unit, column.shown(system)), digits)
    if isinstance(value, datetime):
        return value.isoformat(sep=" ", timespec="minutes")
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, float):
        return field_text(value)
    return field_value(value, column, system)


def csv_cell(text: str) -> str:
    """A cell as RFC 4180 writes it; one that a spreadsheet would take for a formula is set off with a quote."""
    text = str(text)
    if text.startswith(("=", "@", "\t", "\r", "\n", "＝", "＠", "＋", "－")) or (
        text.startswith(("+", "-")) and not re.fullmatch(r"[-+]?[0-9.,]+%?", text)
    ):
        text = "'" + text
    return '"' + text.replace('"', '""') + '"' if re.search(r'[",\n\r;\t]', text) else text


# ---- working: one equation in words and in numbers


def called(step: Step, name: str, view: View) -> str:
    """What a name in an equation is called in words."""
    return step.values[name][0] if name in step.values else lower_first(view.description(name).label)


def worked(step: Step, view: View) -> tuple[str, str]:
    """(equation in words, equation with this run's numbers) of a Step; words twice where one of its figures is
    blank.
    """

    def words(match: re.Match[str]) -> str:
        return called(step, match[1], view)

    def numbers(match: re.Match[str]) -> str:
        name = match[1]
        if name in step.values:
            return step.values[name][1]
        return view.output_text(name, ranged=False) if name in view.results else view.input_text(name)

    named = set(re.findall(r"\{(\w+)\}", step.equation)) - set(step.values)
    if any(view.results.get(name, view.given.get(name)) is None for name in named):
        return re.sub(r"\{(\w+)\}", words, step.equation), re.sub(r"\{(\w+)\}", words, step.equation)
    return re.sub(r"\{(\w+)\}", words, step.equation), re.sub(r"\{(\w+)\}", numbers, step.equation)
