"""The drawing of the cut list: every board of the list lies on a strip of its sheet, and none over its end."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.engine.run import answer
from calc.lane.boards import KERF, SHEET_LENGTH, cut_list, strips_of
from calc.lane.drawing import SHEETS_DRAWN


@given(st.floats(0.6, 30), st.floats(0.3, 2.4))
def test_every_board_lies_on_its_sheet(length, width):
    cuts = cut_list(length, width)
    for sheet in {number for number, *_ in cuts}:
        boards = [(part, long) for number, part, long, _ in cuts if number == sheet]
        strips = strips_of(boards)
        assert sorted(board for strip in strips for board in strip) == sorted(boards)
        assert all(
            sum(long for _, long in strip) + KERF * (len(strip) - 1) <= SHEET_LENGTH + 1e-6 for strip in strips if strip
        )


@pytest.mark.parametrize("length", ["3 ft", "8 ft", "20 ft", "80 ft"])
def test_the_drawing_redraws_with_the_lane(length):
    view = answer("lane.starter", {"lane_length": length}, "us")
    drawn = next(figure for figure in view.shown.figures if figure.name == "cut_plan")
    rows = next(table for table in view.shown.tables if table.name == "cuts").rows
    on_paper = [row for row in rows if row[0] <= SHEETS_DRAWN]
    assert len(re.findall('class="draw-wood"', drawn.svg)) == len(on_paper)
    assert drawn.text.count("Sheet ") == max(row[0] for row in rows)


def test_a_lane_fed_along_its_side_is_open_there():
    """It has boards on both ends and along its back; the cut list and the drawing say so."""
    for fed_on, part, said in (("end", "long side", "at the end"), ("side", "end", "along the side")):
        shown = answer("lane.starter", {"fed_on": fed_on}, "us").shown
        parts = {row[1] for table in shown.tables if table.name == "cuts" for row in table.rows}
        assert parts == {part, "back", "ahead"}
        drawn = next(figure for figure in shown.figures if figure.name == "plan_and_section")
        assert f"open {said} where you feed" in drawn.finding
