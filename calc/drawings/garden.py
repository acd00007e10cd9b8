"""Drawings of the customers' chapter."""

from calc.engine import Drawing
from calc.page import svg
from calc.page.drawings import drawing


@drawing("garden.worms")
def worms():
    """A composting worm and a jumping worm, side by side: where the ring sits."""
    def worm(y, ring_at, ring_style, length):
        return [svg.rect(30, y, length, 14, "draw-worm"), svg.rect(30 + ring_at, y - (3 if ring_style == "draw-fill" else 0), 34, 14 + (6 if ring_style == "draw-fill" else 0), ring_style)]

    shapes = [
        svg.text(30, 26, "Composting worm", "draw-text"), *worm(40, 90, "draw-fill", 300),
        svg.text(30, 78, "ring like a saddle, raised, further back; reddish, banded; wriggles", "draw-dim"),
        svg.text(30, 122, "Jumping worm", "draw-text"), *worm(136, 46, "draw-scale", 330),
        svg.text(30, 174, "ring flat, pale, all the way round, near the head; thrashes like a snake", "draw-dim"),
    ]
    return Drawing(
        "worms", "Which worm is it?", finding="Look at the ring and at how it moves. A flat pale ring near the head and wild thrashing mean: do not pass it on.",
        svg=svg.picture(460, 190, shapes), text="Two worms drawn as bars. The composting worm has a raised saddle about a third of the way back. The jumping worm has a flat, pale ring close to its head that goes all the way round.",
    )  # fmt: skip
