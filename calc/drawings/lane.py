"""Drawings of the lane chapter."""

from calc.engine import Drawing
from calc.page import svg
from calc.page.drawings import drawing


@drawing("lane.section")
def section():
    """A lane from the side: back, finished castings, gap, face with its layers."""
    base, top = 170, 80
    back, clear, foot_top, foot = 30, 190, 330, 420
    layers = []
    for place in range(4):
        shift = place * 13
        layers.append(svg.line(foot_top - shift, top, foot - shift, base, "draw-feed" if place == 0 else "draw-measure"))
    shapes = [
        svg.rect(back - 6, top - 12, 6, base - top + 12, "draw-wood"),
        svg.polygon([(back, base), (back, top), (clear - 90, top), (clear, base)], "draw-castings"),
        svg.polygon([(clear - 90, top), (clear, base), (foot, base), (foot_top, top)], "draw-fill"),
        *layers,
        svg.line(20, base, 450, base, "draw-line"),
        svg.text(back + 8, base - 40, "finished", "draw-text"),
        svg.text(back + 8, base - 24, "castings", "draw-text"),
        svg.text(clear + 6, base - 30, "worms still at work", "draw-text"),
        svg.measure(clear, base + 26, foot, base + 26, "gap: 3 to 4 ft (1 m)"),
        svg.arrow(52, 44, 52, top - 4, "draw-line"),
        svg.text(40, 36, "slice here, full height", "draw-text"),
        svg.arrow(430, 70, 392, 104, "draw-line"),
        svg.text(440, 62, "new layer on the face", "draw-text", "end"),
        svg.arrow(330, base + 52, 400, base + 52, "draw-line"),
        svg.text(322, base + 57, "the face moves on", "draw-text", "end"),
    ]
    return Drawing(
        "section", "A lane, seen from the side", finding="The worms follow the food. What they leave behind is castings, and once the face is a gap ahead, the back is nearly free of worms.",
        svg=svg.picture(460, 236, shapes), text="From left to right: a back board, finished castings, the part where worms still work, and the sloping face on which each new layer of feed is laid. The face moves to the right; slices are cut from the left.",
    )  # fmt: skip
