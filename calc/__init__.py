"""Calculators for people who keep composting worms: pure functions of SI numbers, standard library only.

`calculators()` lists them, `describe(id)` says what one asks for and answers with, `run(id, values)` runs it.
"""

from calc.engine.register import every, find
from calc.engine.run import describe, run


def calculators() -> dict[str, str]:
    """{id: question} of every calculator, chapter by chapter."""
    return {id: entry.question for id, entry in every().items()}


__all__ = ["calculators", "describe", "find", "run"]
