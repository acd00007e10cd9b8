"""In which unit each column of a table and each axis of a picture is reckoned: one put wrong changes all figures under
it, and no sum tells it. units_shown.txt holds them; a line is changed there on purpose. New ones are added with
`python tests/calc/test_units_shown.py`, which writes the file anew.
"""

import sys
from pathlib import Path

import pytest

from calc.engine.register import every
from calc.engine.run import answer

WRITTEN = Path(__file__).with_name("units_shown.txt")


def shown(id):
    """{place: unit} of an answer's tables and pictures."""
    found = {}
    view = answer(id)
    for table in view.shown.tables:
        for column in table.columns:
            found[f"{id} {table.name}.{column.name}"] = " ".join(
                str(part) for part in (column.unit, column.us, column.metric)
            )
    for picture in view.shown.figures:
        if hasattr(picture, "marks"):
            for side, axis in (("x", picture.x), ("y", picture.y)):
                found[f"{id} {picture.name}.{side}"] = " ".join(str(part) for part in (axis.unit, axis.us, axis.metric))
    return found


def written():
    lines = WRITTEN.read_text(encoding="utf-8").splitlines()
    return dict(line.split(" = ", 1) for line in lines if line)


@pytest.mark.parametrize("id", [id for id in every() if id != "lane.lives"])
def test_units_stay(id):
    known, now = written(), shown(id)
    assert {place: unit for place, unit in now.items() if known.get(place, unit) != unit} == {}


def test_most_places_are_written_down():
    known = written()
    places = [place for id in every() for place in shown(id)]
    assert sum(place in known for place in places) > 0.8 * len(places) > 200


if __name__ == "__main__":
    every_place = {place: unit for id in every() for place, unit in shown(id).items()}
    WRITTEN.write_text("".join(f"{place} = {unit}\n" for place, unit in every_place.items()), encoding="utf-8")
    sys.stdout.write(f"{len(every_place)} places\n")
