"""What each field of each form takes: kind, ends, units, choices, and the coefficient that stands behind it. An end put
wrong refuses a reader's true figure, or lets a slip of the pen through, and no sum tells it. asked.txt holds them; a
line is changed there on purpose. New ones are added with `python tests/calc/test_asked.py`, which writes the file anew.
"""

import sys
from pathlib import Path

import pytest

from calc.engine.register import every

sys.path.insert(0, str(Path(__file__).parent))
import kept

WRITTEN = Path(__file__).with_name("asked.txt")
LEFT_OUT = ("label", "help", "group", "columns", "other_form")


def one(kind):
    """A field in a line: what it is called goes by its label, which the answers hold."""
    parts = {
        name: kept.value(part.label if name == "fact" else part)
        for name, part in vars(kind).items()
        if name not in LEFT_OUT and part is not None and part is not False and part not in ("", (), {})
    }
    return " ".join([type(kind).__name__, *(f"{name}={part}" for name, part in parts.items())])


def asked(id):
    """{place: what stands there} of a calculator's form."""
    found = {}
    for name, kind in every()[id].inputs.items():
        found[f"{id} {name}"] = one(kind)
        for column, cell in getattr(kind, "columns", {}).items():
            found[f"{id} {name}.{column}"] = one(cell)
    return found


@pytest.mark.parametrize("id", every())
def test_fields_stay_as_they_are(id):
    assert kept.changed(WRITTEN, asked(id)) == {}


def test_most_fields_are_written_down():
    known = kept.lines_of(WRITTEN)
    places = [place for id in every() for place in asked(id)]
    assert sum(place in known for place in places) > 0.9 * len(places) > 700


if __name__ == "__main__":
    kept.write(WRITTEN, {place: kind for id in every() for place, kind in asked(id).items()})
