"""The numbers of each coefficient and its unit. Defaults of a form do not show all of them: a limit of a rule, an end
that no default reaches. coefficients.txt holds them, a correction apart; `python tests/calc/test_coefficients.py`
writes it anew.
"""

import sys
from importlib import import_module
from pathlib import Path
from pkgutil import iter_modules

import calc.facts
from calc.facts.base import Fact

sys.path.insert(0, str(Path(__file__).parent))
import kept

WRITTEN = Path(__file__).with_name("coefficients.txt")


def coefficients():
    """{module and name: (unit, [low, typical, high])}; of a figure its one value."""
    found = {}
    for info in iter_modules(calc.facts.__path__):
        for name, fact in vars(import_module(f"calc.facts.{info.name}")).items():
            if isinstance(fact, Fact):
                low, high = fact.ends() or (fact.typical, fact.typical)
                found[f"{info.name} {name}"] = (fact.unit.replace(" ", "·"), [low, fact.typical, high])
    return found


def test_coefficients_are_no_slips():
    assert kept.changed(WRITTEN, coefficients()) == {}


def test_all_but_the_newest_are_written_down():
    known, now = kept.lines_of(WRITTEN), coefficients()
    assert sum(place in known for place in now) > 0.8 * len(now) > 100


if __name__ == "__main__":
    kept.write(WRITTEN, coefficients())
