"""Lanes drawn to scale: from the side at several dates, and from above and across."""

from collections.abc import Callable, Mapping, Sequence
from math import radians, tan

from calc.engine import Drawing, View
from calc.lane import boards
from calc.lane.face import advance, face_foot
from calc.lane.model import Day, LanePlan
from calc.page import svg

WIDTH = 460


def lane_in_time(v: View, plan: LanePlan, days: Sequence[Day], weeks: Sequence[int] = (0, 13, 26, 52)) -> Drawing:
    """The lane from the side, one below the other: at the start, and as the face has moved on."""
    shown = [days[7 * week] for week in weeks]
    longest = shown[-1].face + 0.3
    highest = max(plan.bed_height, plan.base_depth)
    scale = (WIDTH - 90) / longest
    row, shapes, told = max(34.0, highest * scale) + 44, [], []
    for place, (week, day) in enumerate(zip(weeks, shown)):
        ground = 30 + row * place + highest * scale
        shapes += _side(74, ground, scale, plan, day)
        shapes.append(svg.text(0, ground - 6, "start" if week == 0 else f"week {week}", "draw-text"))
        told.append(
            f"{f'in week {week}' if week else 'at the start'} the face is {v.say(day.face, 'm')} from the back line"
            f" and {v.say(day.cut, 'm')} have been sliced off"
        )
    height = 30 + row * len(weeks) + 8
    unit, words = (0.9144, "3 ft") if v.units == "us" else (1.0, "1 m")
    shapes.append(svg.scale_bar(74, height - 14, unit * scale, words))
    for place, (said, style) in enumerate(
        (("castings", "draw-castings"), ("worms at work", "draw-fill"), ("feed", "draw-feed"))
    ):
        left = 74 + (0, 108, 254)[place]
        shapes += [svg.rect(left, 4, 18, 12, style), svg.text(left + 24, 15, said, "draw-text")]
    return Drawing(
        "lane_in_time",
        "The lane from the side, to scale",
        finding=(
            f"In {weeks[-1]} weeks the face moves {v.say(shown[-1].face - plan.base_length, 'm')}. It rises from the"
            f" base's {v.yours('base_depth')} to {v.yours('bed_height')}; behind the gap of"
            f" {v.yours('gap')} hardly a worm is left."
        ),
        svg=svg.picture(WIDTH, height, shapes),
        text="Seen from the side, back to the left, face to the right: " + "; ".join(told) + ".",
    )


def _beside(point: tuple[float, float]) -> tuple[float, float]:
    """The outer edge of the newest layer: thicker than true, or nobody would see it."""
    return point[0] + 4, point[1]


def _side(left: int, ground: float, scale: float, plan: LanePlan, day: Day) -> list[str]:
    """One view from the side: base and finished castings, the part where worms work, the face with its last layer."""

    def at(metres: float, high: float) -> tuple[float, float]:
        return left + metres * scale, ground - high * scale

    # Rounded, so that two corners at one place are one, whatever their last bits are.
    low, cut = min(plan.base_depth, plan.bed_height), round(day.cut, 9)
    crest = max(cut, round(day.face - day.height / tan(radians(plan.face_slope)), 9))
    corner = max(cut, min(round(plan.base_length - low / tan(radians(plan.face_slope)), 9), crest))
    worms = min(crest, max(cut, round(day.face - day.active_area / plan.face_width, 9)))

    def top(metres: float) -> float:
        """Height of the bed at a place [m]: the base, then rising to where the face begins."""
        return (
            low
            if metres <= corner or crest <= corner
            else low + (day.height - low) * (metres - corner) / (crest - corner)
        )

    bends = [metres for metres in (cut, corner, worms, crest) if cut <= metres <= crest]
    back = sorted({metres for metres in bends if metres <= worms})
    front = sorted({metres for metres in bends if metres >= worms})
    shapes = []
    if worms > cut:
        shapes.append(
            svg.polygon([at(cut, 0), *(at(metres, top(metres)) for metres in back), at(worms, 0)], "draw-castings")
        )
    shapes += [
        svg.polygon(
            [at(worms, 0), *(at(metres, top(metres)) for metres in front), at(crest, day.height), at(day.face, 0)],
            "draw-fill",
        ),
        svg.polygon(
            [at(crest, day.height), _beside(at(crest, day.height)), _beside(at(day.face, 0)), at(day.face, 0)],
            "draw-feed",
        ),
        svg.line(left - 4, ground, at(day.face, 0)[0] + 14, ground, "draw-line"),
    ]
    if cut > 0:
        shapes.append(svg.polyline([at(0, 0), at(0, low), at(cut, low)], "draw-measure"))
        if cut * scale > 74:
            shapes.append(svg.text(left + 6, ground - 6, "sliced off", "draw-dim"))
    return shapes


LAYER_SCALE = 230.0
"""Of one layer on the face, where it has room [drawing units to a metre]."""


def layer_on_face(height: float, thickness: float, slope: float, kept: float, words: Callable[[float], str]) -> str:
    """Picture of one layer on the face, fresh on the left and eaten on the right, to scale.

    height of the bed, thickness [m], slope [deg], kept: share of its volume that is left; words: a length [m] as text.
    """
    fresh, settled, foot = advance(thickness, slope, 1.0), advance(thickness, slope, kept), face_foot(height, slope)
    scale = min(LAYER_SCALE, 104 / height, 150 / (foot + fresh))
    high, shapes = height * scale, []
    top = 26.0
    base = top + high
    for place, (said, part, style) in enumerate(
        (("fresh layer", fresh, "draw-feed"), ("eaten", settled, "draw-castings"))
    ):
        x = 40 + 215 * place
        told = words(part) if place == 0 else f"moved {words(part)}"
        crown, end = x + 50, x + 50 + foot * scale
        shapes += [
            svg.polygon([(x, base), (x, top), (crown, top), (end, base)], "draw-fill"),
            svg.polygon([(crown, top), (crown + part * scale, top), (end + part * scale, base), (end, base)], style),
            svg.line(x - 14, base, x + 190, base, "draw-line"),
            svg.text(x, top - 12, said, "draw-text"),
            svg.measure(end, base + 24, end + part * scale, base + 24, ""),
            svg.text(min(end + part * scale + 8, x + 200), base + 42, told, "draw-dim", "end"),
        ]
    return svg.picture(WIDTH, base + 56, shapes)


def one_layer(v: View) -> Drawing:
    """A full layer of the reader's on the reader's face, before and after it has been eaten."""
    fresh, settled = (advance(v.layer_thickness, v.face_slope, share) for share in (1.0, v.volume_kept))

    def say(length: float) -> str:
        return v.say(length, "m", us="in", metric="cm", digits=2)

    return Drawing(
        "layer",
        "One layer on the face, to scale",
        finding=(
            f"A layer of {v.yours('layer_thickness')} that keeps {v.yours('volume_kept')} of its volume moves a face of"
            f" {v.yours('face_slope')} by {say(settled)}."
        ),
        svg=layer_on_face(v.bed_height, v.layer_thickness, v.face_slope, v.volume_kept, say),
        text=(
            f"Left: a fresh layer of {v['layer_thickness']}, square to the face, covers {say(fresh)} of ground in front"
            f" of it. Right: the same layer eaten down covers {say(settled)}. That is how far the face has moved."
        ),
    )


def _as_given(v: View, given: str, worked_out: str) -> str:
    """A length of the base, as the reader's own where it is what they typed."""
    return v.yours(given) if v[given] == v[worked_out] else v[worked_out]


def plan_and_section(v: View, side_height: float) -> Drawing:
    """A new lane from above and across, to scale."""
    scale = min((WIDTH - 110) / (v.base_length + 0.2), 130 / v.base_width, 200)
    left, top = 20, 40
    long, wide, deep, side = (part * scale for part in (v.base_length, v.base_width, v.base_depth, side_height))
    board, side_fed = 5, v.fed_on == "side"
    open_side = [svg.rect(left - board, top - board, board, wide + (1 if side_fed else 2) * board, "draw-wood")]
    if side_fed:
        open_side.append(svg.rect(left + long, top - board, board, wide + board, "draw-wood"))
    else:
        open_side.append(svg.rect(left, top + wide, long, board, "draw-wood"))
    where, low = ("open side:", wide - 4) if side_fed else ("open end:", wide / 2)
    shapes = [
        svg.text(left, 22, "From above", "draw-text"),
        svg.rect(left, top, long, wide, "draw-castings"),
        svg.rect(left, top - board, long, board, "draw-wood"),
        *open_side,
        svg.measure(left, top + wide + 30, left + long, top + wide + 30, v["base_length"]),
        svg.text(left + long + 8, top + low, where, "draw-text"),
        svg.text(left + long + 8, top + low + 16, "feed here", "draw-text"),
    ]
    base = top + wide + 70 + max(side, deep)
    across = left + 20
    shapes += [
        svg.text(left, base - max(side, deep) - 12, "Across", "draw-text"),
        svg.rect(across, base - deep, wide, deep, "draw-castings"),
        svg.rect(across - board, base - side, board, side, "draw-wood"),
        *([] if side_fed else [svg.rect(across + wide, base - side, board, side, "draw-wood")]),
        svg.line(left - 8, base, across + wide + 40, base, "draw-line"),
        svg.measure(across, base + 24, across + wide, base + 24, v["base_width"]),
        svg.measure(across + wide + 22, base - deep, across + wide + 22, base, f"base {v['base_depth']}"),
        svg.text(
            across + wide / 2,
            base - deep / 2 + 5,
            "compost with worms" if wide > 150 else "compost",
            "draw-text draw-on-dark",
            "middle",
        ),
    ]
    unit, words = (0.6096, "2 ft") if v.units == "us" else (0.5, "50 cm")
    shapes.append(svg.scale_bar(across + wide + 130, base, unit * scale, words))
    return Drawing(
        "plan_and_section",
        "The lane from above and across, to scale",
        finding=(
            f"{_as_given(v, 'lane_length', 'base_length')} by {_as_given(v, 'lane_width', 'base_width')}:"
            f" {v['bed_area']} of bed that you can reach from both sides, open"
            f" {'along the side' if side_fed else 'at the end'} where you feed."
        ),
        svg=svg.picture(WIDTH, base + 40, shapes),
        text=(
            f"From above: a box of {v['base_length']} by {v['base_width']} with boards on"
            f" {'both ends' if side_fed else 'both long sides'} and the back,"
            f" open {'along the side' if side_fed else 'at the front'}."
            f" Across: boards {v.say(side_height, 'm', us='in', metric='cm')} high, filled"
            f" {v['base_depth']} deep."
        ),
    )


SHEETS_DRAWN = 6
"""Of a cut list: a long lane has more, all alike."""


def cut_plan(v: View, cuts: Sequence[tuple[int, str, float, float]]) -> Drawing:
    """The sheets with their saw cuts, to scale: ripped in two, then cut to length."""
    sheets = max(sheet for sheet, *_ in cuts)
    shown = min(sheets, SHEETS_DRAWN)
    across = 1 if shown == 1 else 2
    scale = (WIDTH - 20 - 40 * (across - 1)) / across / boards.SHEET_LENGTH
    long, half = boards.SHEET_LENGTH * scale, boards.SHEET_WIDTH * scale / 2
    down = 2 * half + 46
    shapes, told = [], []
    for sheet in range(1, sheets + 1):
        strips = boards.strips_of([(part, length) for number, part, length, _ in cuts if number == sheet])
        said = [", ".join(f"{part} {v.say(n, 'm', us='in', metric='cm')}" for part, n in strip) for strip in strips]
        told.append(f"Sheet {sheet}: {'; '.join(filter(None, said))}.")
        if sheet > shown:
            continue
        left, top = 10 + (sheet - 1) % across * (long + 40), 30 + (sheet - 1) // across * down
        shapes += [
            svg.text(left, top - 8, f"Sheet {sheet}", "draw-text"),
            svg.rect(left, top, long, 2 * half, "draw-fill"),
        ]
        for row, strip in enumerate(strips):
            from_left = left
            for part, length in strip:
                middle, place = top + row * half + half / 2, from_left + length * scale / 2
                words = [part.removesuffix(", part"), v.say(length, "m", us="in", metric="cm")]
                shapes.append(svg.rect(from_left, top + row * half, length * scale, half, "draw-wood"))
                fits = length * scale > 80
                shapes += [
                    svg.text(place, middle + 5 + shift, word, "draw-text", "middle")
                    for word, shift in zip(words if fits else words[1:], (-8, 8) if fits else (0,))
                ]
                from_left += (length + boards.KERF) * scale
        shapes.append(svg.line(left, top + half, left + long, top + half))
    count = f"{sheets} {'sheet' if sheets == 1 else 'sheets'}"
    more = f" The first {shown} are drawn; the cut list has all." if sheets > shown else ""
    return Drawing(
        "cut_plan",
        "How the sheets are cut, to scale",
        finding=f"Your boards come out of {count}, each ripped in two first.{more}",
        svg=svg.picture(WIDTH, 30 + down * -(-shown // across) - 30, shapes),
        text=" ".join(told) + " What is left white is over.",
    )


def flows(v: View, parts: Mapping[str, str]) -> Drawing:
    """What comes in on the left, and on the right what is sliced, lost and left in the bed: a band each, as wide as its
    share.
    """
    full, left, right, row = 46.0, 112.0, 300.0, 78.0
    shapes, told = [], []
    sides = {
        "out": ("sliced", "draw-castings"),
        "lost": ("lost", "draw-feed"),
        "stored": ("in the bed", "draw-fill"),
    }
    for place, (name, label) in enumerate(parts.items()):
        top = 26 + place * row
        unit, us, metric = ("m3", "ft3", "m3") if name == "volume" else ("kg", None, None)
        whole = getattr(v, f"{name}_in")
        shares = {side: max(0.0, getattr(v, f"{name}_{side}")) / whole if whole else 0.0 for side in sides}
        shapes.append(svg.text(0, top + full / 2 - 2, label, "draw-text"))
        shapes.append(svg.text(0, top + full / 2 + 14, v.say(whole, unit, us=us, metric=metric), "draw-dim"))
        leaves, arrives = top, top - 8
        for side, (words, style) in sides.items():
            wide = shares[side] * full
            said = v.say(getattr(v, f"{name}_{side}"), unit, us=us, metric=metric)
            if wide > 0.3:
                shapes.append(
                    svg.polygon(
                        [(left, leaves), (right, arrives), (right, arrives + wide), (left, leaves + wide)], style
                    )
                )
            shapes.append(svg.text(right + 8, max(arrives + wide / 2 + 4, top - 4), f"{words} {said}", "draw-dim"))
            leaves += wide
            arrives += max(wide, 16.0) + 4
        told.append(
            f"{label}: {v.say(whole, unit, us=us, metric=metric)} in; "
            + ", ".join(
                f"{v.say(getattr(v, f'{name}_{side}'), unit, us=us, metric=metric)} {words}"
                for side, (words, _) in sides.items()
            )
        )
    lost = v.dry_matter_lost / v.dry_matter_in if v.dry_matter_in else 0.0
    return Drawing(
        "flows",
        "What comes in, and where it goes",
        finding=(
            f"{v.say(lost, '1', us='%', metric='%', digits=2)} of the dry matter is breathed off; all of the ash"
            f" stays, in"
            " what is sliced and in the bed."
        ),
        svg=svg.picture(WIDTH, 26 + row * len(parts), shapes),
        text=". ".join(told) + ".",
    )
