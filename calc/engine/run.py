"""One run of a calculator: values in, the plain object out that programs, tests, the terminal and the page all get."""

from collections.abc import Mapping
from typing import Any, NotRequired, TypedDict, final

from calc.engine import explore
from calc.engine.describe import Band, Input, Output, Refused, Table, all_of, in_place_of, typical
from calc.engine.kinds import as_json
from calc.engine.read import read_inputs
from calc.engine.register import find
from calc.engine.view import View


class Given(TypedDict):
    """An input as it was reckoned with: in SI, a date as text, a table as a list of rows."""

    value: Any
    unit: str | None


class Result(TypedDict):
    """An output: typical value in SI, with low and high where there is a range."""

    value: Any
    unit: str
    low: NotRequired[float]
    high: NotRequired[float]


class TableObject(TypedDict):
    """A table that stands under an answer, in SI."""

    title: str
    columns: list[dict[str, str | None]]
    rows: list[list[Any]]


@final
class Answered(TypedDict):
    """What `run` returns for values that can be answered; `aim`, `moves` and `range` where they were asked for."""

    calculator: str
    inputs: dict[str, Given]
    outputs: dict[str, Result]
    tables: dict[str, TableObject]
    warnings: list[str]
    reading: list[str]
    aim: NotRequired[dict[str, Any]]
    moves: NotRequired[list[dict[str, Any]]]
    range: NotRequired[dict[str, Any]]


@final
class Declined(TypedDict):
    """What `run` returns otherwise: one message for each wrong field, and the cells of a table that are wrong."""

    calculator: str
    errors: list[dict[str, Any]]


def answer(id: str, values: Mapping[str, Any] | None = None, system: str | None = None, currency: str = "$") -> View:
    """View of an answered run. Raises Refused naming every field that is wrong."""
    entry = find(id)
    given = read_inputs(entry, values, system, currency)
    result = explore.with_bands(entry, given, entry.function(**given))
    return View(entry, given, result, system, currency)


def run(
    id: str,
    values: Mapping[str, Any] | None = None,
    *,
    units: str | None = None,
    currency: str = "$",
    aim: tuple[str, float | str] | None = None,
    vary: str | None = None,
    moves: str | None = None,
    range_of: str | None = None,
) -> Answered | Declined:
    """The answer of a calculator as a plain object of SI values, or `{"errors": [{"input", "cells", "message"}]}`.

    id: such as `moisture.adjust`. values: {input name: number or text}; a number without a unit is in the unit shown in
    `units` ("us", "metric"; SI when None). aim: (output name, value wanted) with vary: the input that may move. moves,
    range_of: an output name.
    """
    try:
        entry = find(id)
        view, *_ = all_of(
            lambda: answer(id, values, units, currency),
            lambda: aim is None or explore.aim_asked(entry, *aim, vary, units, currency),
            lambda: moves is None or explore.numeric_output(entry, moves),
            lambda: range_of is None or explore.numeric_output(entry, range_of),
        )
        extras: dict[str, Any] = {}
        if aim is not None:
            extras["aim"] = explore.aim(entry, view.given, *aim, vary, units, currency)
            view = answer_at(view, extras["aim"])
        if moves is not None:
            extras["moves"] = explore.moves(entry, view.given, moves)
        if range_of is not None:
            extras["range"] = explore.spread(entry, view.given, range_of)
    except Refused as refused:
        return {"calculator": id, "errors": refused.errors}
    answered = as_object(view)
    answered.update(plain(extras))
    return answered


def answer_at(view: View, found: Mapping[str, Any]) -> View:
    """The same run with the aimed input at the value found."""
    entry = view.entry
    given = {**view.given, **in_place_of(entry.inputs, found["vary"]), found["vary"]: found["value"]}
    return View(entry, given, explore.with_bands(entry, given, entry.function(**given)), view.system, view.currency)


def as_object(view: View) -> Answered:
    """A View as the object that `--json` prints."""
    entry = view.entry
    return {
        "calculator": entry.id,
        "inputs": {
            name: {"value": plain(view.given[name]), "unit": getattr(d, "unit", None)}
            for name, d in entry.inputs.items()
        },
        "outputs": {name: _output(view.results[name], output) for name, output in entry.outputs.items()},
        "tables": {table.name: table_object(table) for table in view.shown.tables},
        "warnings": [sentence for _, sentence in view.shown.warnings],
        "reading": [str(said) for said in view.shown.reading],
    }


def _output(value: Any, output: Output) -> Result:
    described: Result = {"value": plain(typical(value)), "unit": output.unit}
    if isinstance(value, Band):
        described.update({"low": plain(value.low), "high": plain(value.high)})
    return described


plain = as_json


def table_object(table: Table) -> TableObject:
    return {
        "title": table.title,
        "columns": [{"name": column.name, "label": column.label, "unit": column.unit} for column in table.columns],
        "rows": [[plain(typical(cell)) for cell in row] for row in table.rows],
    }


def describe(id: str) -> dict[str, Any]:
    """What a calculator asks for and answers with, as a plain object."""
    entry = find(id)
    return {
        "calculator": id,
        "question": entry.question,
        "inputs": {name: _described_input(d, entry.defaults[name]) for name, d in entry.inputs.items()},
        "outputs": {
            name: {"unit": o.unit, "label": o.label, "meaning": o.meaning, "ranged": o.ranged}
            for name, o in entry.outputs.items()
        },
    }


def _described_input(description: Input, default: Any) -> dict[str, Any]:
    return {
        "kind": description.kind,
        "label": description.label,
        "help": description.help,
        "default": plain(default),
        "optional": description.optional,
    } | description.described()
