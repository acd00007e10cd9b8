"""Questions that a page may ask, with the answers of the Python that runs this, as lines of JSON: [call, arguments,
answer].

Every calculator: each call in both units; each field wrong, and all of them; drawn numbers within the bounds; aim,
moves, range.
The same for every run. An answer that is an error is the name of the error.

    python cases.py [--edition JSON] [--few]        from a folder where `import calc` works
"""

import argparse
import json
import os
import random
import sys
from collections.abc import Iterator

import calc
from calc.engine.register import find, use_edition
from calc.page import respond
from calc.page.block import THOUSAND

CALLS = ("answer", "form", "text", "csv", "calendar", "leads", "block")
UNITS = ("us", "metric")
WRONG = ("¿1 x?", "1e400", "٣", "-1e9", '"', "a" * 500, "\ud800")
"""Words, too much, digits of another script, out of bounds, a sign with a meaning, too long, half a letter."""
DRAWN = {False: 6, True: 1}

Case = tuple[str, dict[str, object]]


def drawn(item: dict[str, object], chance: random.Random) -> object:
    """A value within the bounds of an input, most often near its default, as one types it; None leaves it out."""
    if item["kind"] in ("number", "count") and chance.random() < 0.7:
        low, high, usual = item["low"], item["high"], item["default"]
        if usual and chance.random() < 0.7:
            value = min(high, max(low, usual * chance.choice((0.5, 0.9, 1, 1.1, 1.7))))
        else:
            value = chance.choice((low, high, low + (high - low) * chance.random() ** 3))
        return f"{round(value) if item['kind'] == 'count' else value:.6g}"
    if item["kind"] == "choice" and chance.random() < 0.5:
        return chance.choice(list(item["options"]))
    if item["kind"] == "flag" and chance.random() < 0.5:
        return chance.choice(("yes", "no"))
    return None


def of_calculator(id: str, few: bool) -> Iterator[Case]:
    """Every case of one calculator."""
    found, chance = calc.describe(id), random.Random(id)
    inputs = found["inputs"]
    numbers = [name for name, item in inputs.items() if "low" in item and item["kind"] in ("number", "count")]
    outputs = list(found["outputs"])
    for units in UNITS:
        same = {"calculator": id, "values": {}, "units": units, "currency": "€" if units == "metric" else "$"}
        for call in CALLS:
            yield call, same
        yield "answer", same | {"values": dict.fromkeys(inputs, "¿1 x?")}
        yield "form", same | {"values": dict.fromkeys(inputs, "1"), "values_units": UNITS[units == "us"]}
        for name in inputs if not few else ():
            yield "answer", same | {"values": {name: chance.choice(WRONG)}}
        for number in range(DRAWN[few]):
            values = {name: value for name, item in inputs.items() if (value := drawn(item, chance)) is not None}
            yield ("answer", "answer", "text", "csv")[number % 4], same | {"values": values}
    yield "answer", {"calculator": id, "values": {"no_such_input": "1"}, "units": "us", "currency": "$"}
    same = {"calculator": id, "values": {}, "units": "us", "currency": "$", "output": outputs[0]}
    for kind in ("moves", "aim"):
        yield "explore", same | {"explore": kind, "vary": numbers[0] if numbers else "", "wanted": "1"}
    for asked in ranges(id) if not few else ():
        yield "explore", same | {"explore": "range"} | asked


def ranges(id: str) -> Iterator[dict[str, object]]:
    """What a page asks for a range: all at once; where that is a thousand draws, a hundred, and the words on some."""
    if find(id).samples < THOUSAND:
        yield {}
    else:
        yield {"draws": [0, 100]}
        yield {"values_drawn": [0.37 * value for value in range(1, 101)]}


def cases(few: bool = False) -> Iterator[Case]:
    for id in calc.calculators():
        yield from of_calculator(id, few)
    for unknown in ("moisture.adjst", "nothing.at_all", "engine.read", "drawings"):
        yield "answer", {"calculator": unknown, "values": {}, "units": "us", "currency": "$"}
    book = {"calculator": "farm.week", "values": {}, "units": "us", "currency": "$"}
    row = {"date": "2027-06-01", "place": "Barn lane", "what": "feed", "amount": "40.5", "unit": "lb", "note": "a, b"}
    yield "write", book | {"entry": row}
    yield "write", book | {"entry": row | {"amount": "forty"}}
    yield "join", book | {"data": "ZGF0ZSx3aGF0CjIwMjctMDYtMDEsbm90ZQo="}
    yield "log_file", book
    plan = {"values": {"mass: Weight of the bedding": "100 kg", "nothing: like it": "1"}, "units": "metric"}
    yield "plan", plan
    yield "plan_file", plan
    yield "open_plan", plan | {"text": "not a plan"}
    yield "no_such_call", {}


def answered(call: str, arguments: str) -> str:
    try:
        return respond(call, arguments).encode(errors="backslashreplace").decode()  # half a letter, as in freeze.py
    except Exception as error:
        return type(error).__name__


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--edition", default="")
    parser.add_argument("--few", action="store_true", help="a selection that takes a second")
    options = parser.parse_args()
    if options.edition:
        use_edition(**json.loads(options.edition))
    try:
        for call, asked in cases(options.few):
            arguments = json.dumps(asked)
            sys.stdout.write(json.dumps([call, arguments, answered(call, arguments)]) + "\n")
        sys.stdout.flush()
    except BrokenPipeError:  # whoever compares has seen enough
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())  # for what is left unsaid


if __name__ == "__main__":
    main()
