"""What a reader is told: one message about one wrong field, with the cells of a table that it means, or a question
to settle.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from difflib import get_close_matches
from typing import Any

MOST_NAMED = 24
"""Names that one message lists; a calculator with seventy inputs says the first of them and how many there are."""

Cell = tuple[int, str | None]
"""(number of the row as the reader counts it, name of the column or None for the whole row)."""


class Told(ValueError):
    """One message about one field.

    `cells` are those of a table that it means; `question` settles what can mean two things.
    """

    def __init__(self, message: str, cells: Iterable[Cell] = (), question: dict[str, Any] | None = None) -> None:
        super().__init__(message)
        self.cells = list(cells)
        self.question = question


Problem = tuple[str | None, "str | Told"]
"""(input name, message)."""


def of_rows(rows: int | Iterable[int], message: str, *columns: str) -> Told:
    """`Row 1, 2: message`, which means the named cells of those rows; without columns whole rows."""
    numbers = [rows] if isinstance(rows, int) else list(rows)
    cells = [(number, column) for number in numbers for column in columns or (None,)]
    return Told(f"Row {', '.join(map(str, numbers))}: {message}", cells)


class Refused(ValueError):
    """Input that cannot be answered. `problems` is a list of (input name, message), one for each field that is wrong.

    A message may be a Told, which knows its cells; `errors` are the same as objects {input, cells, message}.
    """

    def __init__(self, problems: Iterable[Problem]) -> None:
        told: dict[str | None, list[str | Told]] = {}
        for name, message in problems:
            told.setdefault(name, []).append(message)
        self.problems = [(name, first_few([str(one) for one in messages])) for name, messages in told.items()]
        self.errors = [_error(name, message, told[name]) for name, message in self.problems]
        super().__init__("; ".join(message for _, message in self.problems))


def _error(name: str | None, message: str, told: list[str | Told]) -> dict[str, Any]:
    error: dict[str, Any] = {"input": name, "message": message}
    cells = [list(cell) for one in told for cell in getattr(one, "cells", ())]
    if cells:
        error["cells"] = cells
    question = next((one.question for one in told if isinstance(one, Told) and one.question), None)
    if question:
        error["question"] = question
    return error


def _told(error: dict[str, Any]) -> Told:
    cells = [(row, column) for row, column in error.get("cells", ())]
    return Told(error["message"], cells, error.get("question"))


def all_of(*checks: Callable[[], Any]) -> list[Any]:
    """What each of some functions returns; Refused with the problems of all of them, so that nothing wrong is told
    one by one.
    """
    results, problems = [], []
    for check in checks:
        try:
            results.append(check())
        except Refused as refused:
            problems += [(error["input"], _told(error)) for error in refused.errors]
    if problems:
        raise Refused(problems)
    return results


def first_few(messages: Sequence[str], most: int = 5) -> str:
    """The first few messages, and how many more there are."""
    more = len(messages) - most
    return " ".join(messages[:most]) + (f" And {more} more like these." if more > 0 else "")


def as_written(text: object, most: int = 60) -> str:
    """What a reader wrote, as a message repeats it: as much as can be recognised.

    >>> as_written("furlongs"), len(as_written("9" * 1_000_000))
    ('furlongs', 61)
    """
    known = isinstance(text, (str, bool, float, type(None))) or (isinstance(text, int) and abs(text) < 10**most)
    text = str(text) if known else type(text).__name__
    return text if len(text) <= most else text[:most] + "…"


def rather(name: object, known: Iterable[str]) -> str:
    """What a name that is not known may have meant: the nearest of those that are, or else what there is.

    >>> rather("lenght", ["length", "width"]), rather("?", ["length", "width"])
    ('The nearest is length.', 'It has: length, width.')
    >>> rather("?", [f"input_{number}" for number in range(30)])[:40]
    'It has 30, among them: input_0, input_1,'
    """
    names = list(known)
    near = get_close_matches(as_written(name), names, n=1, cutoff=0.5)
    if near:
        return f"The nearest is {near[0]}."
    if len(names) <= MOST_NAMED:
        return f"It has: {', '.join(names)}."
    return f"It has {len(names)}, among them: {', '.join(names[:MOST_NAMED])}."


def lower_first(label: str) -> str:
    """A label inside a sentence: `Lane length` → `lane length`, but `C:N of the mix` and `pH` stay."""
    return label if len(label) > 1 and (label[1].isupper() or label[1] == ":") else label[:1].lower() + label[1:]
