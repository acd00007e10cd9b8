"""The numbers of each coefficient and its unit. Defaults of a form do not show all of them: a limit of a rule, an end
that no default reaches, a point of a curve. coefficients.txt holds them; a line is changed there on purpose, as the
source says. `python tests/calc/test_coefficients.py` writes the file anew.
"""

import sys
from importlib import import_module
from pathlib import Path
from pkgutil import iter_modules

import calc.facts
from calc.facts.base import Figure, Points, Range

sys.path.insert(0, str(Path(__file__).parent))
import kept

WRITTEN = Path(__file__).with_name("coefficients.txt")


def one(fact):
    """A coefficient in a line, without its words and without who says so: other tests read those."""
    parts = {
        name: numbers(part) for name, part in vars(fact).items() if name not in ("label", "note", "source", "sure")
    }
    return " ".join(f"{name}={part}" for name, part in parts.items() if part)


def numbers(part):
    """Units and numbers, also those of points."""
    if isinstance(part, (tuple, list)):
        return "/".join(filter(None, (numbers(one) for one in part if not isinstance(one, str))))
    return kept.value(part) if isinstance(part, (str, int, float)) else ""


def coefficients():
    """{module and name: what stands there}."""
    found = {}
    for info in iter_modules(calc.facts.__path__):
        module = import_module(f"calc.facts.{info.name}")
        for name, fact in vars(module).items():
            if isinstance(fact, (Figure, Range, Points)):
                found[f"{info.name} {name}"] = one(fact)
            elif name.isupper() and type(fact) in (int, float):
                found[f"{info.name} {name}"] = kept.value(fact)
    return found


def test_coefficients_stay_as_they_are():
    assert kept.changed(WRITTEN, coefficients()) == {}


def test_all_but_the_newest_are_written_down():
    known, now = kept.lines_of(WRITTEN), coefficients()
    assert sum(place in known for place in now) > 0.9 * len(now) > 130


if __name__ == "__main__":
    kept.write(WRITTEN, coefficients())
