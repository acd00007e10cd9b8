"""Drawings of the feed chapter: the way from cart to face, and where a heap is hot."""

from calc.engine import Drawing
from calc.facts import feed as facts
from calc.page import svg
from calc.page.drawings import drawing


def both(celsius):
    """A temperature in both scales: drawings stand still while the reader's units change."""
    return f"{celsius:.0f} °C ({celsius * 1.8 + 32:.0f} °F)"


def percents(fact):
    return f"{100 * fact.low:.0f} to {100 * fact.high:.0f} %"


@drawing("feed.path")
def path():
    """Mix, heat, cool, feed: four stations with what each must be before the next."""
    hot, ready = facts.HOT.typical, facts.READY_FOR_WORMS.high
    stations = [
        ("1 Mix", "draw-feed", [f"C:N {facts.CARBON_NITROGEN.low} to {facts.CARBON_NITROGEN.high}", percents(facts.HEAP_MOISTURE) + " moist"]),
        ("2 Heat", "draw-feed", [f"over {both(hot)}", "3 days, or 15 and turned"]),
        ("3 Cool", "draw-castings", [f"under {both(ready)}", percents(facts.BED_MOISTURE) + " moist"]),
        ("4 Feed", "draw-castings", ["2 in (5 cm) a layer", "on the sloping face"]),
    ]
    width, gap, top, foot = 132, 16, 46, 130
    shapes = []
    for place, (name, tone, lines) in enumerate(stations):
        left = 6 + place * (width + gap)
        middle = left + width / 2
        heap = [(left + 22, foot), (middle - 16, top + 22), (middle + 16, top + 22), (left + width - 22, foot)]
        if name == "4 Feed":
            heap = [(left + 8, foot), (left + 8, top + 40), (middle, top + 40), (left + width - 8, foot)]
        shapes.append(svg.polygon(heap, tone))
        shapes.append(svg.text(middle, 26, name, "draw-text", anchor="middle"))
        shapes += [svg.text(middle, foot + 24 + 17 * row, line, "draw-dim", anchor="middle") for row, line in enumerate(lines)]
        if place < len(stations) - 1:
            shapes.append(svg.arrow(left + width - 8, top + 30, left + width + gap + 10, top + 30, "draw-line"))
        if name == "2 Heat":
            shapes += [svg.arrow(middle + shift, top + 14, middle + shift, top - 8, "draw-line") for shift in (-14, 0, 14)]
    face = 6 + 3 * (width + gap) + width / 2
    shapes.append(svg.line(face + 4, top + 36, face + width / 2 - 2, foot - 4, "draw-feed"))
    shapes.append(svg.line(0, foot, 604, foot, "draw-line"))
    said = "; ".join(f"{name[2:].lower()}: {lines[0]}, {lines[1]}" for name, _, lines in stations)
    return Drawing(
        "path",
        "From the cart to the face",
        finding="Dry and rich enough to heat first, cool and wet for the worms after.",
        svg=svg.picture(604, 180, shapes),
        text=f"Four stations from left to right. {said}.",
    )


@drawing("feed.heap")
def heap():
    """Section of a windrow: a hot core, a cool skin, air drawn in at the foot, and where to put the probe."""
    foot, top, left, right = 236, 60, 110, 450
    outline = [(left, foot), (left + 62, top + 78), (left + 130, top + 8), (280, top), (right - 130, top + 8), (right - 62, top + 78), (right, foot)]
    core = [(190, foot - 26), (206, top + 106), (240, top + 52), (280, top + 42), (320, top + 52), (354, top + 106), (370, foot - 26)]
    shapes = [
        svg.polygon(outline, "draw-castings"),
        svg.polygon(core, "draw-feed"),
        svg.text(280, foot - 84, "hot core", "draw-text", anchor="middle"),
        svg.text(280, foot - 66, f"over {both(facts.HOT.typical)}", "draw-text", anchor="middle"),
        svg.text(280, foot - 8, "cool foot", "draw-text", anchor="middle"),
        svg.line(0, foot, 580, foot, "draw-line"),
        svg.arrow(20, foot - 36, left + 24, foot - 36, "draw-line"),
        svg.text(8, foot - 46, "air in", "draw-dim"),
        svg.arrow(right + 110, foot - 36, right - 24, foot - 36, "draw-line"),
        svg.arrow(280, top - 6, 280, 16, "draw-line"),
        svg.text(292, 28, "steam and warm air out", "draw-dim"),
        svg.line(500, 40, 312, foot - 110, "draw-wood"),
        svg.text(572, 34, "probe: into the core", "draw-text", anchor="end"),
        svg.text(572, 96, "skin: cooler, and where", "draw-dim", anchor="end"),
        svg.text(572, 112, "germs and seeds survive", "draw-dim", anchor="end"),
        svg.text(572, 128, "until it is turned in", "draw-dim", anchor="end"),
    ]
    return Drawing(
        "heap",
        "Section of a heap",
        finding="The probe in the core says nothing about the skin: only turning, or a cover, gets that hot.",
        svg=svg.picture(580, 250, shapes),
        text="Section of a heap. Warm air rises out of the top and draws fresh air in at the foot. The core is above "
        f"{both(facts.HOT.typical)}; the skin, the top and the foot are cooler. The probe reaches into the core.",
    )
