"""Each coefficient with its ends, its unit, its source and how sure it is. Defaults of a form do not show all of them:
a limit of a rule, an end that no default reaches, a work that a figure is credited to. coefficients.txt holds them; a
line is changed there on purpose, with the source beside it. `python tests/calc/test_coefficients.py` writes the file
anew.
"""

import sys
from importlib import import_module
from pathlib import Path
from pkgutil import iter_modules

import calc.facts
from calc.facts.base import Figure, Points, Range, Source

sys.path.insert(0, str(Path(__file__).parent))
import kept

WRITTEN = Path(__file__).with_name("coefficients.txt")


def one(fact):
    """A coefficient in a line; its note and its label are words, which other tests read."""
    parts = {name: part for name, part in vars(fact).items() if name not in ("label", "note") and part is not None}
    return " ".join(f"{name}={kept.value(work(part))}" for name, part in parts.items())


def work(part):
    """A work by its short name, also where it stands in a row of points."""
    if isinstance(part, Source):
        return part.name
    return [work(one) for one in part] if isinstance(part, (list, tuple)) else part


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
