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
    ground = 320
    shapes = [part(f"M0 {ground}H900")]
    for count, fill in enumerate(("straw", "feed", "castings", "straw", "feed", "castings", "straw")):
        inset, top, low = 22 * count, ground - 38 * count - 36, ground - 38 * count
        if count == 0:
            top = ground - 36
        shapes.append(
            ink(track([(200 + inset, low), (218 + inset, top), (642 - inset, top), (660 - inset, low)], True), fill)
        )
    shapes += [
        ink(track([(160, ground), (170, ground - 8), (690, ground - 8), (700, ground)], True), "straw"),
        thermometer(430, 24, 150, 0, 0.8),
        standing(790, ground, -1),
        span((740, ground), (740, 58), ""),
        span((200, ground + 22), (660, ground + 22), "5 ft or more", 30),
        "".join(drop(284 + 35 * n, 40 + 8 * (n % 3), 0.8) for n in range(4)),
        words(752, 40, "4 to 5 ft high"),
        key(136, 288, 1, (226, ground - 14), "coarse,|dry", "left"),
        key(136, 240, 2, (246, ground - 56), "fresh,|wet", "left"),
        key(136, 192, 3, (272, ground - 92), "manure", "left"),
        key(232, 40, 4, (272, 42), "water", "left"),
        key(500, 40, 5, (450, 40), "hot for three days"),
    ]
    return Drawing(
        "layers",
        "A heap that heats: coarse, green, manure, and again",
        "A cubic yard at least, as wet as a wrung sponge: smaller ones never get hot.",
        plate(900, 376, shapes),
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
        ink(dome(560, ground, 260, 120), "feed"),
        ink(dome(620, ground, 140, 62), "straw"),
        moved(fork(0, 0, 52, 0.9), 400, ground - 64),
        standing(480, ground, -1, ((436, ground - 108), (458, ground - 122))),
        stroke("M306 124Q520 -20 690 244m-17 -9l17 9l1 -19", "water"),
        stroke("M226 200Q400 110 578 216m-19 0l19 0l-8 -17", "way"),
        words(60, 62, "outside: cool, not done"),
        words(205, ground + 20, "inside: hot", "middle"),
        words(610, 40, "cool parts go into the middle"),
        words(590, ground + 20, "hot parts go to the outside"),
        thermometer(760, 120, 90, 10, 0.5),
        key(200, 84, 1, (90, 210)),
        key(400, 40, 2, (470, 62)),
        key(850, 150, 3, (780, 128)),
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
