"""What each field of each form takes: kind, ends, units, choices, and the coefficient that stands behind it. An end put
wrong refuses a reader's true figure, or lets a slip of the pen through, and no sum tells it. asked.txt holds them; a
line is changed there on purpose. New ones are added with `python tests/calc/test_asked.py`, which writes the file anew.
"""

import sys
from pathlib import Path

import pytest

from calc.engine.register import every

WRITTEN = Path(__file__).with_name("asked.txt")
LEFT_OUT = ("label", "help", "group", "columns", "other_form")


def one(kind):
    """A field in a line: what it is called goes by its label, which the answers hold."""
    parts = [type(kind).__name__]
    for name, value in vars(kind).items():
        if name in LEFT_OUT or value is None or value is False or value in ("", (), {}):
            continue
        if name == "fact":
            value = value.label
        elif callable(value):
            value = value.__name__
        elif name in ("choices", "options") and len(value) > 12:
            value = f"{len(value)} of them"
        elif isinstance(value, dict):
            value = "/".join(" ".join(str(part).split()) for part in value)
        elif isinstance(value, (tuple, list)):
            value = "/".join(f"{part:.6g}" if isinstance(part, float) else str(part) for part in value)
        elif isinstance(value, float):
            value = f"{value:.6g}"
        parts.append(f"{name}={value}")
    return " ".join(parts)


def asked(id):
    """{place: what stands there} of a calculator's form."""
    found = {}
    for name, kind in every()[id].inputs.items():
        found[f"{id} {name}"] = one(kind)
        for column, cell in getattr(kind, "columns", {}).items():
            found[f"{id} {name}.{column}"] = one(cell)
    return found


def written():
    lines = WRITTEN.read_text(encoding="utf-8").splitlines()
    return dict(line.split(": ", 1) for line in lines if line)


@pytest.mark.parametrize("id", every())
def test_fields_stay_as_they_are(id):
    known, now = written(), asked(id)
    assert {place: kind for place, kind in now.items() if known.get(place, kind) != kind} == {}


def test_most_fields_are_written_down():
    known = written()
    places = [place for id in every() for place in asked(id)]
    assert sum(place in known for place in places) > 0.9 * len(places) > 700


if __name__ == "__main__":
    every_place = {place: kind for id in every() for place, kind in asked(id).items()}
    WRITTEN.write_text("".join(f"{place}: {kind}\n" for place, kind in every_place.items()), encoding="utf-8")
    sys.stdout.write(f"{len(every_place)} places\n")
