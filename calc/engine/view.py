"""An answered run as its presenter and the page see it: numbers in SI, and the same as text in the reader's units."""

import re
from dataclasses import fields
from datetime import date

from calc.engine.describe import Band, Choice, Number, Output, Rows, Series, Show, typical
from calc.engine.quantity import convert, field_text, money_text, number_text, quantity_text, symbol


def lower_first(label):
    """A label inside a sentence: `Lane length` → `lane length`, but `C:N of the mix` and `pH` stay."""
    return label if len(label) > 1 and (label[1].isupper() or label[1] == ":") else label[:1].lower() + label[1:]


class View:
    """`v.name` is the SI number of an input or output; `v["name"]` its text in the reader's units."""

    def __init__(self, entry, given, answer, system=None, currency="$"):
        self.entry, self.given, self.answer, self.system, self.currency = entry, given, answer, system, currency
        self.results = {f.name: getattr(answer, f.name) for f in fields(answer)}

    @property
    def units(self):
        return self.system or "si"

    def __getattr__(self, name):
        if name.startswith("__") or name in ("results", "given"):
            raise AttributeError(name)
        if name in self.results:
            return typical(self.results[name])
        if name in self.given:
            return self.given[name]
        raise AttributeError(f"{self.entry.id} has no input or output “{name}”")

    def band(self, name):
        """Band of an output; low and high are the value itself where there is no range."""
        value = self.results[name]
        return value if isinstance(value, Band) else Band(value, value, value)

    def __getitem__(self, name):
        if name in self.results:
            return self.output_text(name)
        return self.input_text(name)

    def description(self, name):
        return self.entry.outputs.get(name) or self.entry.inputs[name]

    def say(self, value, unit, us=None, metric=None, digits=3):
        """Any SI number as text in the reader's units."""
        return quantity_text(
            value, unit, Output(unit, "", us=us, metric=metric).shown(self.system), digits, self.currency
        )

    def money(self, amount):
        return money_text(amount, self.currency)

    def output_text(self, name, ranged=True):
        output, value = self.entry.outputs[name], self.results[name]
        if isinstance(value, Band) and ranged:
            return ranged_text(value, output, self.system, self.currency)
        return value_text(typical(value), output, self.system, self.currency)

    def input_text(self, name):
        return value_text(self.given[name], self.entry.inputs[name], self.system, self.currency)

    @property
    def shown(self):
        """What the presenter adds; worked out once."""
        if "_show" not in self.__dict__:
            self._show = self.entry.show(self) if self.entry.show else Show()
        return self._show


def value_text(value, description, system, currency):
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


def ranged_text(band, output, system, currency):
    """Typical value with its range: `5 lb/day (3.5 to 8)`; equal ends are not repeated."""
    shown = output.shown(system)
    middle = quantity_text(band.value, output.unit, shown, output.digits, currency)
    ends = [range_end(end, output, system, currency) for end in (band.low, band.high)]
    return middle if ends[0] == ends[1] else f"{middle} ({ends[0]} to {ends[1]})"


def range_end(value, output, system, currency):
    """One end of a range, without its unit; two significant digits are all that biology allows."""
    converted = convert(value, output.unit, output.shown(system))
    return (
        money_text(converted, currency)
        if output.unit.startswith("money")
        else number_text(converted, min(2, output.digits) if output.unit != "degC" else 3)
    )


def day_text(day):
    """A date as it is spoken: 1 March 2027, the same in every locale."""
    months = "January February March April May June July August September October November December".split()
    return f"{day.day} {months[day.month - 1]} {day.year}"


# ---- input values as text for a form field


def field_value(value, description, system, currency="$"):
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


def rows_text(rows, description, system, currency="$", digits=9):
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


def _cell_text(value, column, system, digits=9):
    if isinstance(column, Number) and value is not None:
        return field_text(convert(value, column.unit, column.shown(system)), digits)
    if hasattr(value, "isoformat"):
        return value.isoformat(sep=" ", timespec="minutes") if hasattr(value, "hour") else value.isoformat()
    if isinstance(value, float):
        return field_text(value)
    return field_value(value, column, system)


def csv_cell(text):
    """A cell as RFC 4180 writes it; one that a spreadsheet would take for a formula is set off with a quote."""
    text = str(text)
    if text.startswith(("=", "@", "\t", "\r", "\n", "＝", "＠", "＋", "－")) or (
        text.startswith(("+", "-")) and not re.fullmatch(r"[-+]?[0-9.,]+%?", text)
    ):
        text = "'" + text
    return '"' + text.replace('"', '""') + '"' if re.search(r'[",\n\r;\t]', text) else text


# ---- working: one equation in words and in numbers


def called(step, name, view):
    """What a name in an equation is called in words."""
    return step.values[name][0] if name in step.values else lower_first(view.description(name).label)


def worked(step, view):
    """(equation in words, equation with this run's numbers) of a Step; words twice where one of its figures is blank."""

    def words(match):
        return called(step, match[1], view)

    def numbers(match):
        name = match[1]
        if name in step.values:
            return step.values[name][1]
        return view.output_text(name, ranged=False) if name in view.results else view.input_text(name)

    named = set(re.findall(r"\{(\w+)\}", step.equation)) - set(step.values)
    if any(view.results.get(name, view.given.get(name)) is None for name in named):
        return re.sub(r"\{(\w+)\}", words, step.equation), re.sub(r"\{(\w+)\}", words, step.equation)
    return re.sub(r"\{(\w+)\}", words, step.equation), re.sub(r"\{(\w+)\}", numbers, step.equation)
