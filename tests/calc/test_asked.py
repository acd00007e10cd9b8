"""Between which ends each number of each form lies, and in which unit it is reckoned. An end put wrong refuses a
reader's true figure, or lets a slip of the pen through, and no sum tells it. asked.txt holds them, a correction apart;
`python tests/calc/test_asked.py` writes it anew.
"""

import sys
from pathlib import Path

import pytest

from calc.engine.describe import Number
from calc.engine.register import every

sys.path.insert(0, str(Path(__file__).parent))
import kept

WRITTEN = Path(__file__).with_name("asked.txt")


def asked(id):
    """{place: (unit, [low, high])} of the numbers of a calculator's form."""
    found = {}
    for name, kind in every()[id].inputs.items():
        cells = {name: kind, **{f"{name}.{column}": cell for column, cell in getattr(kind, "columns", {}).items()}}
        for place, cell in cells.items():
            if isinstance(cell, Number):
                found[f"{id} {place}"] = (cell.unit.replace(" ", "·"), [float(cell.low), float(cell.high)])
    return found


@pytest.mark.parametrize("id", every())
def test_ends_of_fields_are_no_slips(id):
    assert kept.changed(WRITTEN, asked(id)) == {}


def test_most_fields_are_written_down():
    known = kept.lines_of(WRITTEN)
    places = [place for id in every() for place in asked(id)]
    assert sum(place in known for place in places) > 0.8 * len(places) > 500


def test_a_slip_is_told_and_a_correction_is_not():
    assert kept.alike(("m", [0.5, 100.0]), ("m", [0.4, 120.0]))
    assert not kept.alike(("m", [0.5, 100.0]), ("m", [0.5, 10.0]))
    assert not kept.alike(("m", [0.5, 100.0]), ("ft", [0.5, 100.0]))
    assert not kept.alike(("degC", [-5.0, 50.0]), ("degC", [5.0, 50.0]))
    assert not kept.alike(("1", [-0.1, 1.0]), ("1", [0.1, 1.0]))
    assert kept.alike(("1", [0.0, 1.0]), ("1", [0.05, 1.0]))


if __name__ == "__main__":
    kept.write(WRITTEN, {place: there for id in every() for place, there in asked(id).items()})
