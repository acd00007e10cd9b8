"""Drawings of the moisture chapter."""

from calc.engine import Drawing
from calc.page import svg
from calc.page.drawings import drawing

SHOWN = (0.50, 0.65, 0.75, 0.80, 0.90)
"""Moistures that are drawn: screening, cocoons, face (twice), airless."""

PART_HEIGHT = 22
"""Height of one part by weight [drawing units]."""


@drawing("moisture.kilogram")
def kilogram() -> Drawing:
    """What one part of dry matter holds at five moistures, by weight, to scale."""
    base, width, step = 250, 40, 78
    shapes, said = [], []
    for place, moisture in enumerate(SHOWN):
        left = 14 + place * step
        parts = round(moisture / (1 - moisture), 9)
        water_height = parts * PART_HEIGHT
        shapes += [
            svg.rect(left, base - PART_HEIGHT, width, PART_HEIGHT, "draw-castings"),
            svg.rect(left, base - PART_HEIGHT - water_height, width, water_height, "draw-water"),
            svg.text(left + width / 2, base + 20, f"{100 * moisture:.0f} %", "draw-text", anchor="middle"),
            svg.text(
                left + width / 2,
                base - PART_HEIGHT - water_height - 8,
                f"{parts:.2g} water",
                "draw-dim",
                anchor="middle",
            ),
        ]
        said.append(f"at {100 * moisture:.0f} % it holds {parts:.2g} part{'' if parts == 1 else 's'} of water")
    shapes.append(svg.line(4, base, 386, base, "draw-line"))
    shapes.append(svg.text(14 + width + 3, base - 7, "1 dry", "draw-text"))
    return Drawing(
        "kilogram",
        "Water that one part of dry matter holds, by weight",
        finding="From 75 to 80 % is a third more water; from 80 to 90 % it more than doubles.",
        svg=svg.picture(390, 285, shapes),
        text="One part of dry matter, by weight: " + "; ".join(said) + ".",
    )
