"""Drawings of the lane chapter: what is where in a lane, why the face moves, and how long a generation takes."""

from calc.engine import FOOT, Drawing
from calc.facts import biology
from calc.facts import lane as facts
from calc.lane.drawing import layer_on_face
from calc.lane.face import advance
from calc.lane.stages import rates
from calc.page import svg
from calc.page.drawings import drawing

WIDTH = 460


@drawing("lane.section")
def section() -> Drawing:
    """A working lane from the side, to scale: boards, finished castings, gap, face."""
    length, height, slice_length = 10 * FOOT, 1.5 * FOOT, FOOT
    scale = 340 / length
    left, base = 34, 128
    long, high, foot = length * scale, height * scale, height * scale  # 45 degrees
    top = base - high
    gap = facts.GAP.typical * scale
    face_top = left + long - foot
    clear = left + long - gap
    clear_top = clear - foot
    first = left + slice_length * scale
    layer = 0.05 * scale * 1.414
    shapes = [
        svg.polygon([(left, base), (left, top), (clear_top, top), (clear, base)], "draw-castings"),
        svg.polygon([(clear_top, top), (face_top, top), (left + long, base), (clear, base)], "draw-fill"),
        svg.polygon(
            [(face_top, top), (face_top + layer, top), (left + long + layer, base), (left + long, base)], "draw-feed"
        ),
        svg.rect(left - 6, top - 4, 6, high + 4, "draw-wood"),
        svg.line(10, base, WIDTH - 10, base, "draw-line"),
        svg.line(first, top, first, base, "draw-measure"),
    ]
    for along, down in ((0.25, 0.3), (0.45, 0.55), (0.6, 0.25), (0.8, 0.5), (0.95, 0.8), (0.72, 0.75)):
        x = clear_top + (face_top - clear_top) * along + foot * down
        y = top + high * down
        shapes.append(svg.path(f"M{x - 6:.1f} {y:.1f} q3 -5 6 0 t6 0", "draw-worm"))
    shapes += [
        svg.text(left, 26, "1 back: slice here", "draw-text"),
        svg.line(left + 14, 32, left + 14, top - 2, "draw-measure"),
        svg.text(clear_top - 70, 46, "2 finished castings", "draw-text"),
        svg.line(clear_top - 40, 52, clear_top - 40, top + 12, "draw-measure"),
        svg.text(face_top - 50, 26, "3 worms at work", "draw-text"),
        svg.line(face_top - 26, 32, face_top - 26, top + 14, "draw-measure"),
        svg.text(left + long - 44, top - 3, "4 face: feed here", "draw-text"),
        svg.measure(clear, base + 24, left + long, base + 24, "gap"),
        svg.measure(left, base + 24, first, base + 24, "slice"),
        svg.arrow(left + long + 14, base - 14, left + long + 50, base - 14, "draw-line"),
        svg.scale_bar(left + 110, base + 40, 3 * FOOT * scale, "3 ft (0.9 m)"),
    ]
    return Drawing(
        "section",
        "A working lane from the side, to scale",
        finding="The worms follow the food forward and leave finished castings behind them.",
        svg=svg.picture(WIDTH, base + 56, shapes),
        text=(
            "From the back, left, to the front, right: a back board; finished castings, from which a slice is cut; the"
            " gap, in which the worms are at work; and the sloping face with its newest layer of feed. The face moves"
            " to the right."
        ),
    )


@drawing("lane.layer")
def layer() -> Drawing:
    """One layer on the face, before and after it has been eaten, to scale: why the face moves by kept thickness ÷ sin
    of the slope.
    """
    thickness, slope, kept = 0.05, 45.0, biology.VOLUME_KEPT.typical
    fresh, settled = (advance(thickness, slope, share) for share in (1.0, kept))
    return Drawing(
        "layer",
        "One layer on the face, to scale",
        finding=(
            f"A layer of 2 in (5 cm) that keeps half of its volume moves a face of 45° by"
            f" {settled / FOOT * 12:.1f} in ({100 * settled:.1f} cm)."
        ),
        svg=layer_on_face(
            0.45, thickness, slope, kept, lambda metres: f"{metres / FOOT * 12:.1f} in ({100 * metres:.1f} cm)"
        ),
        text=(
            f"Left: a fresh layer of 2 in (5 cm), square to the face, covers {fresh / FOOT * 12:.1f} in"
            f" ({100 * fresh:.1f} cm) of ground in front of it. Right: the same layer eaten down to half covers"
            f" {settled / FOOT * 12:.1f} in ({100 * settled:.1f} cm). That is how far the face has moved."
        ),
    )


@drawing("lane.generation")
def generation() -> Drawing:
    """From cocoon to first cocoon at three bed temperatures, in days, to scale."""
    scale, left, height = 2.0, 108, 26
    shapes, said = [], []
    for place, celsius in enumerate((10.0, 20.0, 25.0)):
        pace = rates(celsius)
        waits, grows = pace.incubation_days, pace.maturing_days
        y = 26 + place * 46
        shapes += [
            svg.text(4, y + 18, f"{celsius * 1.8 + 32:.0f} °F ({celsius:.0f} °C)", "draw-text"),
            svg.rect(left, y, waits * scale, height, "draw-water"),
            svg.rect(left + waits * scale, y, grows * scale, height, "draw-castings"),
            svg.text(left + waits * scale / 2, y + 18, f"{waits:.0f}", "draw-text", "middle"),
            svg.text(left + (waits + grows / 2) * scale, y + 18, f"{grows:.0f}", "draw-text draw-on-dark", "middle"),
        ]
        said.append(
            f"at {celsius * 1.8 + 32:.0f} °F, {celsius:.0f} °C: {waits:.0f} days to hatch, {grows:.0f} to grow up"
        )
    shapes += [
        svg.text(left, 18, "cocoon", "draw-dim"),
        svg.text(left + 110, 18, "young worm, until it lays", "draw-dim"),
        svg.scale_bar(left, 168, 28 * scale, "4 weeks"),
    ]
    return Drawing(
        "generation",
        "From a cocoon to the worm that lays the next one, in days",
        finding=(
            "At 68 °F (20 °C) a cocoon laid today is a laying worm in twelve weeks. At 50 °F (10 °C) it takes over five"
            " months."
        ),
        svg=svg.picture(WIDTH, 186, shapes),
        text="From laying to laying: " + "; ".join(said) + ".",
    )
