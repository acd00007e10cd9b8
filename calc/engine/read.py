"""From what a reader wrote to SI values: every field that is wrong is named at once, in the reader's words and units.

How one field is read is the business of its kind (calc/engine/kinds); here stands what concerns all of them together.
"""

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from calc.engine.describe import drop_replaced
from calc.engine.kinds import Kind
from calc.engine.told import Problem, Refused, Told, as_written, lower_first, rather

if TYPE_CHECKING:
    from calc.engine.register import Calculator

__all__ = ["Told", "read_inputs", "read_value"]


def read_inputs(
    entry: "Calculator",
    given: Mapping[str, Any] | None,
    system: str | None = None,
    currency: str = "$",
    defaults: Mapping[str, Any] | None = None,
) -> dict[str, Any]:
    """{name: SI value} for a calculator from {name: number, text or list}; Refused with every problem at once."""
    problems: list[Problem] = []
    values: dict[str, Any] = {}
    defaults = entry.defaults if defaults is None else defaults
    given = dict(given or {})
    for name in [name for name in given if name not in entry.inputs]:
        problems.append((name, f"{entry.id} has no input “{as_written(name)}”. {rather(name, entry.inputs)}"))
        del given[name]
    given = drop_replaced(entry.inputs, given)
    for name, description in entry.inputs.items():
        other = description.unless
        if other and given.get(name) not in (None, "") and defaults[other] is not None:
            given.setdefault(other, None)  # a farm's default gave the other one
    for name, description in entry.inputs.items():
        if name not in given:
            values[name] = defaults[name]
            continue
        try:
            values[name] = description.value(given[name], system, currency)
        except Told as told:
            problems.append((name, told))
    for name, description in entry.inputs.items():
        other = description.unless
        if (
            other
            and given.get(name) not in (None, "")
            and given.get(other) not in (None, "")
            and other not in dict(problems)
        ):
            problems.append(
                (
                    other,
                    (
                        f"Give either {lower_first(description.label)} or"
                        f" {lower_first(entry.inputs[other].label).removeprefix('or ')}, and leave the other blank."
                    ),
                )
            )
    if problems:
        raise Refused(problems)
    return values


def read_value(description: Kind, written: Any, system: str | None = None, currency: str = "$") -> Any:
    """One SI value for one description; Told when it cannot be had."""
    return description.value(written, system, currency)
