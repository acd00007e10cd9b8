"""Long texts between page and Python, a logbook of years above all: each is told once and has a number from then on.

Of one that differs little from another only the difference travels, either way. Which texts are held is the page's
business (scripts/browser/page/long.js): nothing is guessed here, and what is not there is asked for.
"""

from collections.abc import Mapping
from typing import Any

from calc.engine.again import same_ends

LONG = 20_000
"""Characters from which on a text of an answer is compared with those that are held."""
LITTLE = 0.5
"""Of a text; a change that is longer is none."""
NAME, NAMES = "long text", "long texts"
"""Of a text that is told by its number, and of those that came with a question."""

_held: dict[int, str] = {}


class Lacking(Exception):
    """The page means a text that is not held: this Python has begun after it was told."""


def unpacked(asked: Mapping[str, Any]) -> dict[str, Any]:
    """What was asked, with its long texts; Lacking where one of them is not held."""
    told = asked[NAMES]
    for number, text in told["fresh"]:
        _held[number] = text if isinstance(text, str) else _changed(text)
    found = {name: _in_place(value) for name, value in asked.items() if name != NAMES}
    for number in _held.keys() - set(told["held"]):
        del _held[number]
    return found


def _text(number: int) -> str:
    if number not in _held:
        raise Lacking
    return _held[number]


def _changed(change: Mapping[str, Any]) -> str:
    """A text from another one. change: {of, start, end, put, length}, the last as a check."""
    old = _text(change["of"])
    text = f"{old[: change['start']]}{change['put']}{old[change['end'] :]}"
    if len(text) != change["length"]:
        raise Lacking
    return text


def _in_place(value: Any) -> Any:
    if isinstance(value, list):
        return [_in_place(one) for one in value]
    if not isinstance(value, dict):
        return value
    return _text(value[NAME]) if NAME in value else {name: _in_place(one) for name, one in value.items()}


def packed(answer: Any) -> Any:
    """An answer in which long texts that are held, or differ little from one, stand by its number."""
    if isinstance(answer, dict):
        return {name: packed(value) for name, value in answer.items()}
    if not isinstance(answer, str) or len(answer) < LONG:
        return answer
    for number, text in _held.items():
        if text == answer:
            return {NAME: number}
    changes = [_change(number, text, answer) for number, text in _held.items()]
    least = min(changes, key=lambda change: len(change["put"]), default=None)
    return least if least and len(least["put"]) < LITTLE * len(answer) else answer


def _change(number: int, old: str, text: str) -> dict[str, Any]:
    same = same_ends(old, text)
    return {NAME: number, "start": same.start, "end": same.gone, "put": text[same.start : same.stop]}
