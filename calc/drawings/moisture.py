"""Drawings of the moisture chapter."""

from calc.engine import Drawing
from calc.page import svg
from calc.page.drawings import drawing

SHOWN = (0.50, 0.65, 0.75, 0.80, 0.90)
"""Moistures that are drawn: screening, cocoons, face (twice), airless."""

PART_HEIGHT = 22
"""Height of one part by weight [drawing units]."""


@drawing("moisture.kilogram")
def kilogram():
    """What one part of dry matter holds at five moistures, by weight, to scale."""
    base, width, step = 250, 58, 112
    shapes, said = [], []
    for place, moisture in enumerate(SHOWN):
        left = 24 + place * step
        parts = moisture / (1 - moisture)
        water_height = parts * PART_HEIGHT
        shapes += [
            svg.rect(left, base - PART_HEIGHT, width, PART_HEIGHT, "draw-castings"),
            svg.rect(left, base - PART_HEIGHT - water_height, width, water_height, "draw-water"),
            svg.text(left + width / 2, base + 20, f"{moisture:.0%}".replace("%", " %"), "draw-text", anchor="middle"),
            svg.text(left + width / 2, base - PART_HEIGHT - water_height - 8, f"{parts:.2g} water", "draw-dim", anchor="middle"),
        ]
        said.append(f"at {moisture:.0%} it holds {parts:.2g} parts of water")
    shapes.append(svg.line(10, base, 570, base, "draw-line"))
    shapes.append(svg.text(24 + width / 2, base - 7, "1 dry", "draw-text", anchor="middle"))
    return Drawing(
        "kilogram",
        "Water that one part of dry matter holds, by weight",
        finding="From 75 to 80 % is a third more water; from 80 to 90 % it more than doubles.",
        svg=svg.picture(580, 285, shapes),
        text="One part of dry matter, by weight: " + "; ".join(said) + ".",
    )
