"""Boards of a lane, cut from sheets of 4 by 8 ft (1.22 by 2.44 m)."""

from collections.abc import Sequence
from math import ceil

from calc.lane.model import LanePlan

FOOT = 0.3048
INCH = FOOT / 12
SHEET_LENGTH, SHEET_WIDTH = 8 * FOOT, 4 * FOOT
AHEAD = "ahead"
"""Part of a cut list: a board that is set before a side as the face walks out of it."""
KERF = INCH / 8
"""Width of a saw cut [m]; common practice, no source."""


def cut_list(
    walk: float, across: float, side: str = "long side", ahead: float = 0.0
) -> list[tuple[int, str, float, float]]:
    """[(sheet number, part, length [m], height [m])]: two boards in the direction in which the face moves, named side,
    a back across it, and two more that are set before the sides as the face walks out of them (ahead [m], 0: none),
    from sheets ripped in two, each saw cut counted.

    What is longer than a sheet is joined, from even pieces, or from whole sheets and a rest where that takes fewer
    sheets.
    """
    sides = [(side, walk), (side, walk), ("back", across)] + [(AHEAD, ahead)] * (2 if ahead > 0 else 0)
    ways = [
        placed([board for part, length in sides for board in pieces(part, length, whole)]) for whole in (False, True)
    ]
    return min(ways, key=lambda cuts: cuts[-1][0])


def boards_of(plan: LanePlan) -> list[tuple[int, str, float, float]]:
    """The cut list of a lane: what its base stands in, and what is set ahead until the first slice."""
    side = "end" if plan.fed_on == "side" else "long side"
    return cut_list(plan.base_length, plan.face_width, side, plan.boards_ahead)


def sheets_for(plan: LanePlan) -> int:
    """Sheets that the boards of a lane are cut from."""
    return max(sheet for sheet, *_ in boards_of(plan))


def pieces(part: str, length: float, whole: bool) -> list[tuple[str, float]]:
    """[(part, length)] of a side that is as long as a sheet or longer [m]: whole lengths of a sheet and the rest, or
    even pieces.
    """
    count = ceil(length / SHEET_LENGTH - 1e-9)
    if count == 1:
        return [(part, length)]
    lengths = (
        [SHEET_LENGTH] * (count - 1) + [length - SHEET_LENGTH * (count - 1)] if whole else [length / count] * count
    )
    return [(f"{part}, part", piece) for piece in lengths]


def placed(boards: Sequence[tuple[str, float]]) -> list[tuple[int, str, float, float]]:
    """Boards on sheets, as cut_list gives them: longest first, each into the first strip of a sheet's length that has
    room.
    """
    height = (SHEET_WIDTH - KERF) / 2
    strips: list[float] = []
    found = []
    for part, length in sorted(boards, key=lambda board: -board[1]):
        for number, left in enumerate(strips):
            if length <= left + 1e-9:
                strips[number] = left - length - KERF
                break
        else:
            strips.append(SHEET_LENGTH - length - KERF)
            number = len(strips) - 1
        found.append((number // 2 + 1, part, length, height))
    return sorted(found, key=lambda board: board[0])


def strips_of(boards: Sequence[tuple[str, float]]) -> list[list[tuple[str, float]]]:
    """The boards of one sheet on its two strips, in the order in which they were placed: the first with room."""
    strips: list[list[tuple[str, float]]] = [[], []]
    room = [SHEET_LENGTH, SHEET_LENGTH]
    for part, length in boards:
        place = 0 if length <= room[0] + 1e-9 else 1
        strips[place].append((part, length))
        room[place] -= length + KERF
    return strips
