"""What the page's logbook asks for: a row that was entered by buttons, another copy of the book, the book as a file."""

from collections.abc import Mapping
from typing import Any, cast

from calc.engine.describe import Rows
from calc.engine.register import Calculator, find
from calc.engine.tabular import with_answers
from calc.engine.told import Told
from calc.farm import write

INPUT = "log"


def _book(asked: Mapping[str, Any]) -> tuple[Calculator, Rows, str, bool]:
    """(calculator, the input, the reader's text, whether it begins now).

    The demo farm's rows are no part of a reader's own book: the first row that is written begins one.
    """
    entry = find(asked["calculator"])
    log = cast(Rows, entry.inputs[INPUT])
    values = asked.get("values") or {}
    if INPUT in values:
        return entry, log, str(values[INPUT]), False
    if entry.set_by_farm(INPUT):
        return entry, log, log.text(entry.defaults[INPUT], asked["units"], asked.get("currency") or "$"), False
    return entry, log, "", True


def _refused(told: Told) -> dict[str, Any]:
    return {"ok": False, "errors": [{"input": INPUT, "message": str(told)}], "question": told.question}


def entered(asked: Mapping[str, Any]) -> dict[str, Any]:
    """The logbook with one row more. entry: {column: text}."""
    _, log, text, fresh = _book(asked)
    system, currency = asked["units"], asked.get("currency") or "$"
    try:
        row = write.entry_texts(log, asked["entry"], system, currency)
        text = write.with_rows(log, text, [row], system, currency)
    except Told as told:
        return _refused(told)
    return {"ok": True, "errors": [], "text": text, "said": write.entry_words(row), "fresh": fresh}


def added(asked: Mapping[str, Any], other: str) -> dict[str, Any]:
    """The logbook with what another copy of it has more.

    other: text of its file; answers: to questions asked before.
    """
    _, log, text, _ = _book(asked)
    system, currency = asked["units"], asked.get("currency") or "$"
    try:
        other = with_answers(other, log.columns, asked.get("answers") or {}, log.also)
        found = write.joined(log, text, other, system, currency)
    except Told as told:
        return _refused(told)
    return {"ok": True, "errors": []} | found._asdict()


def as_file(asked: Mapping[str, Any]) -> dict[str, Any]:
    """The logbook as a file."""
    entry, log, text, _ = _book(asked)
    system, currency = asked["units"], asked.get("currency") or "$"
    if not text and INPUT not in (asked.get("values") or {}):
        text = log.text(entry.defaults[INPUT], system, currency)
    return {"ok": True, "errors": [], "text": write.as_file(log, text, system, currency), "filename": "logbook.csv"}
