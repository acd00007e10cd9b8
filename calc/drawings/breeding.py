"""Drawings of the breeding chapter."""

from calc.breeding.setpoints import days_to_sale_size, incubation_days
from calc.engine import Drawing
from calc.page import svg
from calc.page.drawings import drawing


@drawing("breeding.life")
def life():
    """From cocoon to a worm for sale at two temperatures, to one scale of days."""
    rows = [(20.0, "68 °F (20 °C)"), ((81 - 32) / 1.8, "81 °F (27 °C)")]
    left, scale, shapes, told = 14, 3.6, [], []
    for place, (temperature, words) in enumerate(rows):
        top = 40 + place * 76
        hatch, growing = incubation_days(temperature), days_to_sale_size(temperature)
        shapes += [
            svg.text(left, top - 8, words, "draw-text"),
            svg.rect(left, top, hatch * scale, 26, "draw-feed"),
            svg.rect(left + hatch * scale, top, growing * scale, 26, "draw-castings"),
            svg.text(left + 6, top + 18, "cocoon", "draw-text"),
            svg.text(left + hatch * scale + 6, top + 18, "growing", "draw-text"),
            svg.text(left + hatch * scale, top + 44, f"day {hatch:.0f}", "draw-dim", "middle"),
            svg.text(left + (hatch + growing) * scale, top + 44, f"day {hatch + growing:.0f}: sale", "draw-dim", "end"),
        ]
        told.append(f"at {words} a cocoon hatches after about {hatch:.0f} days and the worm is for sale about {growing:.0f} days later")
    return Drawing(
        "life", "From cocoon to sale, at two temperatures", finding="Warmth takes nearly two weeks off the way from cocoon to sale; the first weeks are all waiting.",
        svg=svg.picture(360, 190, shapes), text="Two bars to the same scale of days: " + "; ".join(told) + ".",
    )  # fmt: skip


@drawing("breeding.rack")
def rack():
    """A rack with trays at every stage."""
    shapes = [svg.line(30, 214, 330, 214, "draw-line"), svg.rect(40, 18, 6, 196, "draw-wood"), svg.rect(314, 18, 6, 196, "draw-wood")]
    stages = [("breeding", "draw-feed", 3), ("hatching", "draw-fill", 3), ("growing", "draw-castings", 8)]
    flat = [(name, style) for name, style, count in stages for _ in range(count)]
    for place, (_, style) in enumerate(flat[:15]):
        x, y = 54 + (place % 3) * 88, 30 + (place // 3) * 38
        shapes += [svg.rect(x, y, 78, 20, style), svg.line(46, y + 22, 314, y + 22, "draw-line")]
    shapes += [svg.text(338, 46, "breeding", "draw-text"), svg.text(338, 84, "hatching", "draw-text"), svg.text(338, 160, "growing", "draw-text")]
    return Drawing(
        "rack", "One tray a week fills a rack", finding="Started once a week, three weeks breeding, about three hatching, eight growing: fourteen trays stand in the rack before the first is sold.",
        svg=svg.picture(420, 230, shapes), text="A rack of five shelves with three trays each: the top shelf breeding, the next hatching, the rest growing.",
    )  # fmt: skip
