"""Drawings of the harvest chapter."""

from calc.engine import Drawing
from calc.page import svg
from calc.page.drawings import drawing


@drawing("harvest.decks")
def decks() -> Drawing:
    """Two screen decks, one above the other, and where each size goes."""
    shapes = [
        svg.text(30, 28, "castings in", "draw-text"),
        svg.arrow(60, 36, 60, 62, "draw-feed"),
        svg.line(30, 84, 300, 108, "draw-line"),
        svg.text(40, 78, "¼ in deck (6.3 mm)", "draw-dim"),
        svg.line(30, 148, 300, 172, "draw-line"),
        svg.text(40, 142, "⅛ in deck (3.2 mm)", "draw-dim"),
        svg.arrow(300, 108, 340, 112, "draw-line"),
        svg.text(346, 108, "overs:", "draw-text"),
        svg.text(346, 124, "mulch", "draw-text"),
        svg.arrow(300, 172, 340, 176, "draw-line"),
        svg.text(346, 172, "middle: back", "draw-text"),
        svg.text(346, 188, "on the lane", "draw-text"),
        svg.arrow(160, 176, 160, 214, "draw-line"),
        svg.polygon([(90, 236), (160, 216), (230, 236)], "draw-castings"),
        svg.text(240, 234, "fine: to sell", "draw-text"),
        svg.line(20, 237, 440, 237, "draw-line"),
    ]
    return Drawing(
        "decks",
        "Two decks sort castings into three",
        finding=(
            "Only what falls through both is sold. The middle still holds food and cocoons, so it goes back to the"
            " worms."
        ),
        svg=svg.picture(450, 246, shapes),
        text=(
            "Castings fall on a sloping quarter-inch deck; what stays on it rolls off as mulch. What falls through"
            " lands on an eighth-inch deck; what stays goes back on the lane, what falls through is sold."
        ),
    )
