"""Answers of a Python whose `exp`, `sin` and the like are off by one bit: python shaken.py < questions > differences.

Questions are a JSON list of [calculator, values, units]. What comes back is a JSON list of those whose answer is
another text once all numbers are taken out of it, with the place where they part: a row more, a sentence, a corner of a
drawing.
"""

import functools
import gc
import json
import math
import random
import re
import sys
from collections.abc import Callable

import calc
from calc.page import respond

NUMBER = re.compile(r"-?\d+(?:\.\d+)?(?:e[-+]?\d+)?")
ROUNDS = 8
"""Times that a question with values of its own is asked, each with other bits."""
FUNCTIONS = ("exp", "log", "log10", "sin", "cos", "tan", "atan2", "hypot", "sqrt", "radians", "pow", "expm1", "log1p")


def answered(question: tuple[str, dict[str, object], str]) -> str:
    """An answer as it stands on a page, without its numbers."""
    id, values, units = question
    asked = {"calculator": id, "values": values, "units": units, "currency": "$"}
    return NUMBER.sub("#", json.dumps(json.loads(respond("answer", json.dumps(asked))), ensure_ascii=False))


def shake() -> None:
    """Put functions that are off by a bit, up or down or not, in the place of those of every module of calc."""
    chance = random.Random(11)

    def off(function: Callable[..., float]) -> Callable[..., float]:
        def shaken(*given: float) -> float:
            value = function(*given)
            return math.nextafter(value, chance.choice((-math.inf, value, math.inf))) if value else value

        return shaken

    others = {id(function): off(function) for function in (getattr(math, name) for name in FUNCTIONS)}
    for name, module in list(sys.modules.items()):
        if name.split(".")[0] == "calc":
            for key, value in list(vars(module).items()):
                if id(value) in others:
                    setattr(module, key, others[id(value)])
    forget()


def forget() -> None:
    """Empty all that was kept of earlier answers."""
    for one in gc.get_objects():
        if isinstance(one, functools._lru_cache_wrapper):
            one.cache_clear()
    sys.modules["calc.page.block"]._last.clear()


if __name__ == "__main__":
    calc.calculators()
    questions = json.load(sys.stdin)
    before = [answered(question) for question in questions]
    shake()
    told = []
    for again in range(ROUNDS):
        for question, was in zip(questions, before):
            if again and not question[1]:
                continue
            now = answered(question)
            if now != was:
                at = next((place for place, (one, other) in enumerate(zip(now, was)) if one != other), 0)
                told.append([question, was[max(0, at - 60) : at + 60], now[max(0, at - 60) : at + 60]])
        forget()
    json.dump(told, sys.stdout)
