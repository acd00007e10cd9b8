"""Drawings of making and turning a heap of feed."""

from calc.drawings.parts import (
    drop,
    fork,
    ink,
    key,
    moved,
    part,
    plate,
    span,
    standing,
    stroke,
    thermometer,
    track,
    words,
)
from calc.engine import Drawing
from calc.page.drawings import drawing


def dome(left: float, ground: float, width: float, height: float) -> str:
    return (
        f"M{left} {ground}Q{left + width * 0.16:.0f} {ground - height * 1.06:.0f} {left + width * 0.5:.0f}"
        f" {ground - height}Q{left + width * 0.84:.0f} {ground - height * 1.06:.0f} {left + width} {ground}z"
    )


@drawing("feed.layers")
def layers() -> Drawing:
    """A heap of feed in layers."""
    ground, thick = 290, 23
    shapes = [part(f"M0 {ground}H900")]
    for count, fill in enumerate(("straw", "feed", "castings", "straw", "feed", "castings", "straw")):
        inset, low = 8 * count, ground - thick * count
        top = low - thick
        shapes.append(
            ink(track([(330 + inset, low), (338 + inset, top), (522 - inset, top), (530 - inset, low)], True), fill)
        )
    top = ground - 7 * thick
    shapes += [
        thermometer(430, top - 34, 124, 0, 0.8),
        standing(700, ground, -1),
        span((590, ground), (590, top), ""),
        words(590, top - 14, "4 ft high", "middle"),
        span((330, ground + 22), (530, ground + 22), "about 5 ft", 30),
        "".join(drop(378 + 20 * n, top - 26 + 6 * n, 0.8) for n in range(2)),
        "".join(drop(462 + 20 * n, top - 20 - 6 * n, 0.8) for n in range(2)),
        key(230, ground - 10, 1, (344, ground - 11), "straw, twigs", "left"),
        key(230, ground - 46, 2, (352, ground - 34), "fresh and wet", "left"),
        key(230, ground - 82, 3, (360, ground - 57), "manure", "left"),
        key(300, 84, 4, (370, top - 24), "water each layer", "left"),
        key(500, 54, 5, (450, top - 34), "hot for three days"),
    ]
    return Drawing(
        "layers",
        "A heap that heats: coarse, green, manure, and again",
        "A cubic yard at least, as wet as a wrung sponge: smaller ones never get hot.",
        plate(900, 346, shapes),
        "A heap cut open: layers of straw and leaves, food waste, and manure, one above the other, with a long"
        " thermometer in the top; a person for scale.",
        keys=(
            "Coarse and dry at the bottom: six inches (15 cm) of straw or twigs let air in.",
            "Fresh and wet: kitchen waste, grounds, grass. Never thicker than a hand.",
            "Manure, or feed of the last heap: it brings what rots.",
            "Water each layer. A fistful squeezed hard gives a drop or two.",
            (
                "Into the middle: 131 °F (55 °C) for three days kills most seeds and germs. Hot heaps burn: no bare"
                " arms, stand upwind of the steam."
            ),
        ),
    )


@drawing("feed.turning")
def turning() -> Drawing:
    """Turning a heap: outside in."""
    ground = 290
    shapes = [
        part(f"M0 {ground}H900"),
        ink(dome(40, ground, 330, 190), "straw"),
        ink(dome(110, ground, 190, 110), "feed"),
        stroke("M170 230q14 -24 0 -48M206 220q14 -24 0 -48M242 230q14 -24 0 -48", "heat"),
        ink(dome(560, ground, 290, 160), "feed"),
        ink(dome(630, ground, 150, 84), "straw"),
        moved(fork(0, 0, 52, 0.9), 400, ground - 64),
        standing(480, ground, -1, ((436, ground - 108), (458, ground - 122))),
        stroke("M300 120Q520 -40 700 232m-17 -9l17 9l1 -19", "water"),
        stroke("M226 200Q400 60 590 206m-19 0l19 0l-8 -17", "way"),
        words(60, 62, "outside: cool, not done"),
        words(205, ground + 20, "inside: hot", "middle"),
        words(610, 40, "cool parts go into the middle"),
        words(590, ground + 20, "hot parts go to the outside"),
        thermometer(726, 100, 126, 6, 0.5),
        key(34, 150, 1, (90, 210)),
        key(362, 160, 2, (384, 218)),
        key(850, 110, 3, (745, 98), "measure", "above"),
    ]
    return Drawing(
        "turning",
        "Turning puts the outside in",
        "What lay cool at the edge has to lie in the heat next time.",
        plate(900, 322, shapes),
        "Someone forks a heap from left to right: what was outside goes into the middle of the new heap, what was hot"
        " comes to its outside.",
        keys=(
            "The outer hand never got hot: seeds and fly eggs live there.",
            (
                "Turn when the temperature falls, and water what is dry. Five turnings in fifteen days are what a rule"
                " for turned heaps asks."
            ),
            (
                "Measure before and after. Only when a turning no longer warms it, and it is under 86 °F (30 °C) all"
                " through, is it feed. Mask against spores, gloves, a straight back."
            ),
        ),
    )
