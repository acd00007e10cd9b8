"""In which unit each field, each result, each column of a table and each axis of a picture is reckoned, and in which
it is shown to a reader in the US and to one who reads metric: one put wrong changes all figures under it, and no sum
tells it. units_shown.txt holds them; a line is changed there on purpose. New ones are added with
`python tests/calc/test_units_shown.py`, which writes the file anew. What each unit is worth is held against tables of
others in test_unit_factors.py.
"""

import sys
from pathlib import Path

import pytest

from calc.engine.kinds import InUnits
from calc.engine.quantity import unit
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


def declared(id):
    """{place: unit, unit in the US, unit in metric} of a calculator's fields, their columns, and its results."""
    entry = every()[id]
    fields = dict(entry.inputs)
    for name, kind in entry.inputs.items():
        fields.update({f"{name}.{column}": cell for column, cell in getattr(kind, "columns", {}).items()})
    asked = {f"{id} asked {name}": kind for name, kind in fields.items() if isinstance(kind, InUnits)}
    return {**asked, **{f"{id} told {name}": output for name, output in entry.outputs.items()}}


def units_of(id):
    """{place: units} of all that a calculator asks, tells, lists and draws."""
    found = {
        place: " ".join(str(part) for part in (one.unit, one.shown("us"), one.shown("metric")))
        for place, one in declared(id).items()
        if isinstance(one.unit, str)
    }
    return {**found, **shown(id)}


def written():
    lines = WRITTEN.read_text(encoding="utf-8").splitlines()
    return dict(line.split(" = ", 1) for line in lines if line)


@pytest.mark.parametrize("id", every())
def test_units_stay(id):
    known, now = written(), units_of(id)
    assert {place: (known[place], there) for place, there in now.items() if known.get(place, there) != there} == {}


def test_nearly_all_places_are_written_down():
    known = written()
    places = [place for id in every() for place in units_of(id)]
    assert sum(place in known for place in places) > 0.9 * len(places) > 1400


@pytest.mark.parametrize("id", every())
def test_what_is_shown_measures_what_is_reckoned(id):
    """A weight is shown as a weight, a rate as a rate: units of one dimension, whatever the system."""
    for place, one in declared(id).items():
        if isinstance(one.unit, str) and one.unit:
            kinds = {unit(name).dimension for name in (one.unit, one.shown("us"), one.shown("metric"))}
            assert len(kinds) == 1, place


if __name__ == "__main__":
    every_place = {place: units for id in every() for place, units in units_of(id).items()}
    WRITTEN.write_text("".join(f"{place} = {units}\n" for place, units in every_place.items()), encoding="utf-8")
    sys.stdout.write(f"{len(every_place)} places\n")
