"""Drawings of the feed chapter: the way from cart to face, and where a heap is hot."""

from calc.engine import Drawing
from calc.facts import feed as facts
from calc.facts import moisture
from calc.facts.base import Range
from calc.page import svg
from calc.page.drawings import drawing
from calc.page.svg import both_scales as both


def percents(fact: Range) -> str:
    return f"{100 * fact.low:.0f} to {100 * fact.high:.0f} %"


@drawing("feed.path")
def path() -> Drawing:
    """Mix, heat, cool, feed: four stations, two by two, with what each must be before the next."""
    hot, ready = facts.HOT.typical, facts.READY_FOR_WORMS.high
    stations = [
        (
            "1 Mix",
            [
                f"C:N {facts.CARBON_NITROGEN.low} to {facts.CARBON_NITROGEN.high}",
                percents(facts.HEAP_MOISTURE) + " moist",
            ],
        ),
        ("2 Heat", [f"over {both(hot)}", "for 3 or 15 days"]),
        ("3 Cool", [f"under {both(ready)}", percents(moisture.FACE) + " moist"]),
        ("4 Feed", ["2 in (5 cm) a layer", "on the sloping face"]),
    ]
    width, height = 190, 168
    shapes = []
    for place, (name, lines) in enumerate(stations):
        middle, top = width * (place % 2) + width / 2, height * (place // 2)
        ground = top + 118
        shapes.append(svg.text(middle, top + 20, name, "draw-text", anchor="middle"))
        shapes.append(
            _lane(middle, ground)
            if name == "4 Feed"
            else _pile(middle, ground, "draw-castings" if name == "3 Cool" else "draw-feed")
        )
        shapes += [
            svg.text(middle, ground + 18 + 16 * row, line, "draw-dim", anchor="middle")
            for row, line in enumerate(lines)
        ]
        if name == "2 Heat":
            shapes += [
                svg.arrow(middle + shift, top + 52, middle + shift, top + 32, "draw-line") for shift in (-16, 0, 16)
            ]
        if place % 2 == 0:
            shapes.append(svg.arrow(width - 26, ground - 26, width + 26, ground - 26, "draw-line"))
    said = "; ".join(f"{name[2:].lower()}: {lines[0]}, {lines[1]}" for name, lines in stations)
    return Drawing(
        "path",
        "Mix, heat, cool, feed",
        finding="Dry and rich enough to heat first, cool and wet for the worms after.",
        svg=svg.picture(2 * width, 2 * height, shapes),
        text=f"Four stations, in this order. {said}.",
    )


def _pile(middle: float, ground: float, style: str) -> str:
    outline = [(middle - 56, ground), (middle - 22, ground - 56), (middle + 22, ground - 56), (middle + 56, ground)]
    return svg.polygon(outline, style) + svg.line(middle - 72, ground, middle + 72, ground, "draw-line")


def _lane(middle: float, ground: float) -> str:
    """A lane from the side with one layer of feed on its face."""
    bed = [(middle - 66, ground), (middle - 66, ground - 44), (middle, ground - 44), (middle + 44, ground)]
    layer = [(middle, ground - 44), (middle + 12, ground - 44), (middle + 56, ground), (middle + 44, ground)]
    return (
        svg.polygon(bed, "draw-castings")
        + svg.polygon(layer, "draw-feed")
        + svg.line(middle - 72, ground, middle + 72, ground, "draw-line")
    )


@drawing("feed.heap")
def heap() -> Drawing:
    """Section of a windrow: a hot core, a cool skin, air drawn in at the foot, and where to put the probe."""
    ground, top, middle = 230, 66, 234
    shapes = [
        svg.polygon(_dome(middle, ground, 142, ground - top), "draw-castings"),
        svg.polygon(_dome(middle, ground - 26, 104, ground - top - 62), "draw-feed"),
        svg.text(middle, ground - 72, "hot core", "draw-text", anchor="middle"),
        svg.text(middle, ground - 52, f"over {both(facts.HOT.typical)}", "draw-text", anchor="middle"),
        svg.text(middle, ground - 8, "cool foot", "draw-text draw-on-dark", anchor="middle"),
        svg.line(0, ground, 420, ground, "draw-line"),
        svg.arrow(30, ground - 16, 88, ground - 16, "draw-line"),
        svg.text(34, ground - 26, "air in", "draw-dim"),
        svg.arrow(418, ground - 16, 380, ground - 16, "draw-line"),
        svg.arrow(middle, top - 6, middle, 34, "draw-line"),
        svg.text(middle, 24, "steam and warm air out", "draw-dim", anchor="middle"),
        svg.line(376, 56, 256, ground - 92, "draw-wood"),
        svg.text(416, 48, "probe", "draw-text", anchor="end"),
        svg.text(4, 74, "skin: cooler,", "draw-dim"),
        svg.text(4, 92, "germs and", "draw-dim"),
        svg.text(4, 110, "seeds survive", "draw-dim"),
    ]
    return Drawing(
        "heap",
        "Section of a heap",
        finding="The probe in the core says nothing about the skin: only turning, or a cover, gets that hot.",
        svg=svg.picture(420, 246, shapes),
        text=(
            "Section of a heap. Warm air rises out of the top and draws fresh air in at the foot. The core is above "
            f"{both(facts.HOT.typical)}; the skin, the top and the foot are cooler. The probe reaches into the core."
        ),
    )


def _dome(middle: float, foot: float, half_width: float, height: float) -> list[tuple[float, float]]:
    """Outline of a loose heap, from its left foot over the top."""
    ways = ((-1, 0), (-0.74, 0.5), (-0.42, 0.88), (0, 1), (0.42, 0.88), (0.74, 0.5), (1, 0))
    return [(middle + across * half_width, foot - up * height) for across, up in ways]
