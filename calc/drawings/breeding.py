"""Drawings of the breeding chapter."""

from collections.abc import Sequence
from math import ceil

from calc.breeding import trays
from calc.breeding.rack import STAGES
from calc.breeding.setpoints import days_to_sale_size, incubation_days
from calc.engine import Drawing
from calc.page import svg
from calc.page.drawings import drawing


@drawing("breeding.life")
def life() -> Drawing:
    """From cocoon to a worm for sale at two temperatures, to one scale of days."""
    rows = [(20.0, "68 °F (20 °C)"), ((81 - 32) / 1.8, "81 °F (27 °C)")]
    left, scale, shapes, told, ends = 14, 3.6, [], [], []
    for place, (temperature, words) in enumerate(rows):
        top = 40 + place * 76
        hatch, growing = incubation_days(temperature), days_to_sale_size(temperature) or 0.0
        shapes += [
            svg.text(left, top - 8, words, "draw-text"),
            svg.rect(left, top, hatch * scale, 26, "draw-water"),
            svg.rect(left + hatch * scale, top, growing * scale, 26, "draw-castings"),
            svg.text(left + 6, top + 18, "cocoon", "draw-text"),
            svg.text(left + hatch * scale + 6, top + 18, "growing", "draw-text draw-on-dark"),
            svg.text(left + hatch * scale, top + 44, f"day {hatch:.0f}", "draw-dim", "middle"),
            svg.text(left + (hatch + growing) * scale, top + 44, f"day {hatch + growing:.0f}: sale", "draw-dim", "end"),
        ]
        ends.append(hatch + growing)
        told.append(
            f"at {words} a cocoon hatches after about {hatch:.0f} days and the worm is for sale about {growing:.0f}"
            " days later"
        )
    shapes.append(svg.scale_bar(left, 176, 28 * scale, "4 weeks"))
    return Drawing(
        "life",
        "From cocoon to sale, at two temperatures",
        finding=f"The warm room takes {ends[0] - ends[1]:.0f} days off the way from cocoon to sale.",
        svg=svg.picture(360, 194, shapes),
        text="Two bars to the same scale of days: " + "; ".join(told) + ".",
    )


TRAY, PITCH, SHELF = 30, 34, 26
"""Width of a drawn tray, of a tray with its gap, and height of a shelf [drawing units]."""


def stage_at(age: float, breeding: float, hatching: float, growing: float) -> int | None:
    """Stage of a tray so many days after its breeders went in; None once it is sold."""
    for stage, end in zip(range(3), (breeding, breeding + hatching, breeding + hatching + growing)):
        if age < end:
            return stage
    return None


@drawing("breeding.rack")
def rack() -> Drawing:
    """Racks of the cool and the warm room through twelve weeks, one tray started each week: which tray stands where,
    and at what stage.
    """
    given = trays.calculator.own_defaults
    days = (given["breeding_days"], given["incubation_days"], given["growing_days"])
    shapes, told = [], []
    for panel, week in enumerate((3, 6, 9, 12)):
        left, top = 6 + 190 * (panel % 2), 72 + 172 * (panel // 2)
        standing = [(tray, stage_at(7 * (week - tray), *days)) for tray in range(1, week + 1)]
        cool = [tray for tray, stage in standing if stage == 0]
        warm = [(tray, stage) for tray, stage in standing if stage in (1, 2)]
        floor = top + 4 * SHELF + 8
        shapes += [
            svg.text(left, top - 8, f"week {week}", "draw-text"),
            *_room(left, top, floor, 1),
            *_room(left + 62, top, floor, 3),
        ]
        shapes += _shelved(left, floor, 1, [(tray, 0) for tray in cool]) + _shelved(left + 62, floor, 3, warm)
        shapes += [
            svg.text(left + 19, floor + 17, "cool", "draw-dim", "middle"),
            svg.text(left + 62 + 1.5 * PITCH + 2, floor + 17, "warm", "draw-dim", "middle"),
        ]
        counts = [sum(1 for _, stage in standing if stage == kind) for kind in range(3)]
        told.append(f"Week {week}: {', '.join(f'{count} {name}' for count, (name, _) in zip(counts, STAGES) if count)}")
    for place, (name, style) in enumerate(STAGES):
        shapes += [svg.rect(8 + 108 * place, 8, 20, 14, style), svg.text(34 + 108 * place, 20, name, "draw-text")]
    shapes.append(svg.text(8, 44, "cool: 68 °F (20 °C), warm: 81 °F (27 °C)", "draw-dim"))
    first_sale = ceil(sum(days) / 7)
    return Drawing(
        "rack",
        "One tray a week, through twelve weeks",
        finding=(
            f"After twelve weeks twelve trays stand in two rooms, {counts[0]} of them breeding, and nothing has been"
            f" sold: the first is ready in week {first_sale}."
        ),
        svg=svg.picture(372, 384, shapes),
        text=(
            "Front of two racks, a cool one at 68 °F (20 °C) and a warm one at 81 °F (27 °C), in four of the weeks."
            f" Each tray carries the number of the week in which it was started. It stays {days[0]:.0f} days in the"
            f" cool room, breeding; its cocoons then take {days[1]:.0f} days to hatch in the warm one, and the young"
            f" {days[2]:.0f} days to grow. "
        )
        + ". ".join(told)
        + ".",
    )


def _room(left: float, top: float, floor: float, columns: int) -> list[str]:
    """Posts and floor of a rack that is so many trays wide."""
    right = left + columns * PITCH + 4
    return [
        svg.line(left, top, left, floor),
        svg.line(right, top, right, floor),
        svg.line(left - 6, floor, right + 6, floor),
    ]


def _shelved(left: float, floor: float, columns: int, standing: Sequence[tuple[int, int]]) -> list[str]:
    """Trays on their shelves, from the floor up, the oldest first."""
    shapes = []
    for place, (tray, stage) in enumerate(sorted(standing)):
        x, base = left + 4 + PITCH * (place % columns), floor - 4 - SHELF * (place // columns)
        shapes += [
            svg.rect(x, base - 18, TRAY, 18, STAGES[stage][1]),
            svg.text(x + TRAY / 2, base - 4, str(tray), f"draw-text{' draw-on-dark' * (stage == 2)}", "middle"),
        ]
    return shapes
