"""Lanes drawn to scale: from the side at several dates, and from above and across."""

from math import radians, tan

from calc.engine import Drawing, View
from calc.page import svg

WIDTH = 460


def lane_in_time(v: View, dates: int = 4) -> Drawing:
    """The lane from the side, one below the other: at the start, and as the face has moved on."""
    moved_by_year = v.face_advance_per_week * 52
    weeks = [0, 13, 26, 52][:dates]
    longest = v.lane_length + moved_by_year + 0.3
    scale = (WIDTH - 90) / longest
    row, shapes, told = max(34.0, v.bed_height * scale) + 44, [], []
    foot = v.bed_height / tan(radians(v.face_slope))
    for place, week in enumerate(weeks):
        base = 30 + row * place + v.bed_height * scale
        face = v.lane_length + v.face_advance_per_week * week
        sliced = max(0.0, face - v.lane_length - v.gap)
        whole_slices = int(sliced / v.slice_length + 1e-9) * v.slice_length
        shapes += _side(74, base, scale, whole_slices, face, v.bed_height, min(foot, face), v.gap)
        shapes.append(svg.text(0, base - 6, "start" if week == 0 else f"week {week}", "draw-text"))
        told.append(
            f"{'at the start' if week == 0 else f'in week {week}'} the face is {v.say(face, 'm')} from the back line"
            f" and {v.say(whole_slices, 'm')} have been sliced off"
        )
    end = 74 + v.lane_length * scale
    if end > 260:  # room for both words above the first view
        shapes += [
            svg.text(74, 20, "castings", "draw-dim"),
            svg.text(end + 36, 20, "worms at work, face", "draw-dim", "end"),
        ]
    height = 30 + row * len(weeks) + 8
    unit, words = (0.9144, "3 ft") if v.units == "us" else (1.0, "1 m")
    shapes.append(svg.scale_bar(74, height - 14, unit * scale, words))
    return Drawing(
        "lane_in_time",
        "The lane from the side, to scale",
        finding=(
            f"Fed at this pace the face moves {v.say(moved_by_year, 'm')} in a year. Behind the gap of {v['gap']} the"
            " castings are nearly free of worms."
        ),
        svg=svg.picture(WIDTH, height, shapes),
        text="Seen from the side, back to the left, face to the right: " + "; ".join(told) + ".",
    )


def _side(
    left: int, base: float, scale: float, back: float, face: float, height: float, foot: float, gap: float
) -> list[str]:
    """One view from the side: finished castings, the part where worms work, the face with its last layer."""
    top = base - height * scale

    def x(metres: float) -> float:
        return left + metres * scale

    clear = max(back, face - gap)
    shapes = [
        svg.polygon(
            [(x(back), base), (x(back), top), (x(max(back, clear - foot)), top), (x(clear), base)], "draw-castings"
        ),
        svg.polygon(
            [(x(max(back, clear - foot)), top), (x(max(back, face - foot)), top), (x(face), base), (x(clear), base)],
            "draw-fill",
        ),
        svg.line(x(max(back, face - foot)), top, x(face), base, "draw-feed"),
        svg.line(left - 4, base, x(face) + 14, base, "draw-line"),
    ]
    if back > 0:
        shapes.append(svg.polyline([(x(0), base), (x(0), top), (x(back), top)], "draw-measure"))
    return shapes


def plan_and_section(v: View, side_height: float) -> Drawing:
    """A new lane from above and across, to scale."""
    scale = min((WIDTH - 110) / (v.lane_length + 0.2), 130 / v.lane_width, 200)
    left, top = 20, 40
    long, wide, deep, side = (part * scale for part in (v.lane_length, v.lane_width, v.base_depth, side_height))
    board = 5
    shapes = [
        svg.text(left, 22, "From above", "draw-text"),
        svg.rect(left, top, long, wide, "draw-castings"),
        svg.rect(left, top - board, long, board, "draw-wood"),
        svg.rect(left, top + wide, long, board, "draw-wood"),
        svg.rect(left - board, top - board, board, wide + 2 * board, "draw-wood"),
        svg.measure(left, top + wide + 30, left + long, top + wide + 30, v["lane_length"]),
        svg.text(left + long + 8, top + wide / 2, "open end:", "draw-text"),
        svg.text(left + long + 8, top + wide / 2 + 16, "feed here", "draw-text"),
    ]
    base = top + wide + 70 + max(side, deep)
    across = left + 20
    shapes += [
        svg.text(left, base - max(side, deep) - 12, "Across", "draw-text"),
        svg.rect(across, base - deep, wide, deep, "draw-castings"),
        svg.rect(across - board, base - side, board, side, "draw-wood"),
        svg.rect(across + wide, base - side, board, side, "draw-wood"),
        svg.line(left - 8, base, across + wide + 40, base, "draw-line"),
        svg.measure(across, base + 24, across + wide, base + 24, v["lane_width"]),
        svg.measure(across + wide + 22, base - deep, across + wide + 22, base, f"base {v['base_depth']}"),
        svg.text(
            across + wide / 2,
            base - deep / 2 + 5,
            "compost with worms" if wide > 150 else "compost",
            "draw-text",
            "middle",
        ),
    ]
    unit, words = (0.6096, "2 ft") if v.units == "us" else (0.5, "50 cm")
    shapes.append(svg.scale_bar(across + wide + 130, base, unit * scale, words))
    return Drawing(
        "plan_and_section",
        "The lane from above and across, to scale",
        finding=(
            f"{v['lane_length']} by {v['lane_width']}: {v['bed_area']} of bed that you can reach from both sides, open"
            " at the end where you feed."
        ),
        svg=svg.picture(WIDTH, base + 40, shapes),
        text=(
            f"From above: a box of {v['lane_length']} by {v['lane_width']} with boards on both long sides and the back,"
            f" open at the front. Across: boards {v.say(side_height, 'm', us='in', metric='cm')} high, filled"
            f" {v['base_depth']} deep."
        ),
    )
