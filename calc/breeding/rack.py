"""Racks of a breeding room drawn from the front: how many trays stand where, once the pipeline is full."""

from math import ceil

from calc.engine import Drawing, View
from calc.page import svg

WIDTH = 460
MOST_COLUMNS = 64
"""That can be told apart; of more, each mark stands for several trays."""
STAGES = (("breeding", "draw-feed"), ("hatching", "draw-water"), ("growing", "draw-castings"))
WEEK = 7.0


def trays_standing(v: View) -> tuple[float, float, float]:
    """Trays that breed, hatch and grow at once: trays a week × weeks in each stage (Little 1961)."""
    hatching = v.trays_per_week * v.growout_trays_per_tray * v.incubation_days / WEEK
    return v.breeding_trays_at_once, hatching, v.growout_trays_at_once - hatching


def marks_of(counts: tuple[float, ...], each: int) -> list[int]:
    """How many marks are drawn for each stage: its share of the whole, none lost by rounding.

    >>> marks_of((60.0, 68.6, 160.0), 1), marks_of((60.0, 68.6, 160.0), 5)
    ([60, 69, 160], [12, 14, 32])
    """
    return [max(1, ceil(round(count / each, 6) - 0.5)) for count in counts]


def racks(v: View) -> Drawing:
    """Two racks from the front, as high as the reader stacks: the cool one, and below it the warm one."""
    counts, high = trays_standing(v), v.tiers
    longest = max(counts[0], counts[1] + counts[2]) / high
    each = next(
        step * ten for ten in (10**n for n in range(9)) for step in (1, 2, 5) if longest <= MOST_COLUMNS * step * ten
    )
    marks = marks_of(counts, each)
    filled = [[0] * marks[0], [1] * marks[1] + [2] * marks[2]]
    columns = [ceil(len(room) / high) for room in filled]
    pitch = min(30.0, (WIDTH - 12) / max(columns))
    wide, deep, shelf = pitch * 0.84, pitch * 0.5, pitch * 0.64
    shapes, top = [], 34.0
    for left, (name, style) in zip((4, 122, 240), STAGES):
        shapes += [svg.rect(left, 4, 20, 14, style), svg.text(left + 26, 16, name, "draw-text")]
    for words, room, across in zip(("cool room", "warm room"), filled, columns):
        floor = top + 24 + high * shelf
        shapes.append(svg.text(4, top + 12, words, "draw-text"))
        for place, stage in enumerate(room):
            x, base = 6 + pitch * (place // high), floor - shelf * (place % high)
            shapes.append(svg.rect(x, base - deep, wide, deep, STAGES[stage][1]))
        shapes.append(svg.line(2, floor, 6 + pitch * across, floor))
        top = floor + 14
    several = "" if each == 1 else f" Each mark is {each} trays."
    said = [f"{v.say(count, '1', digits=2)} {name}" for count, (name, _) in zip(counts, STAGES)]
    return Drawing(
        "racks",
        "Your racks from the front, once the pipeline is full",
        finding=(
            f"{v['trays_at_once']} trays, {v.yours('tiers')} high, stand on {v['rack_area']} of floor:"
            f" {said[0]} in the cool room, {said[1]} and {said[2]} in the warm one."
        ),
        svg=svg.picture(WIDTH, top, shapes),
        text=(
            f"Front of two racks, {high} trays high. In the cool room {said[0]}; in the warm room {said[1]}, then"
            f" {said[2]}.{several} The warm rack is {columns[1]} marks long, the cool one {columns[0]}."
        ),
    )
