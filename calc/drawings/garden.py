"""Drawings of the customers' chapter."""

from calc.engine import Drawing
from calc.page import svg
from calc.page.drawings import drawing


@drawing("garden.worms")
def worms() -> Drawing:
    """A composting worm and a jumping worm, side by side: where the ring sits."""

    def worm(y: float, length: float, ring_at: float, raised: float, style: str) -> list[str]:
        return [
            svg.rect(10, y, length, 14, "draw-worm"),
            svg.rect(10 + ring_at, y - raised, 34, 14 + 2 * raised, style),
        ]

    shapes = [
        svg.text(10, 22, "Composting worm", "draw-text"),
        *worm(34, 280, 84, 3, "draw-fill"),
        svg.text(10, 70, "ring like a saddle, raised, a third of the way", "draw-dim"),
        svg.text(10, 86, "back; reddish, banded; wriggles", "draw-dim"),
        svg.text(10, 124, "Jumping worm", "draw-text"),
        *worm(136, 320, 42, 0, "draw-scale draw-scale-open"),
        svg.text(10, 170, "ring flat, pale, all the way round, near the", "draw-dim"),
        svg.text(10, 186, "head; thrashes like a snake", "draw-dim"),
    ]
    return Drawing(
        "worms",
        "Which worm is it?",
        finding=(
            "Look at the ring and at how it moves. A flat pale ring near the head and wild thrashing mean: do not pass"
            " it on."
        ),
        svg=svg.picture(340, 196, shapes),
        text=(
            "Two worms drawn as bars. The composting worm has a raised saddle about a third of the way back. The"
            " jumping worm has a flat, pale ring close to its head that goes all the way round."
        ),
    )
