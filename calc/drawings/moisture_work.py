"""Drawings of telling moisture: by hand, and in an oven."""

from calc.drawings.parts import box, crease, disc, drop, ink, key, moved, part, plate, stroke, strong, tick, words
from calc.engine import Drawing
from calc.page.drawings import drawing

CRUMBS = (
    (30, 50, 5),
    (44, 44, 7),
    (58, 50, 6),
    (70, 44, 8),
    (52, 36, 5),
    (66, 32, 4),
    (80, 52, 6),
    (22, 84, 4),
    (12, 104, 3.5),
    (30, 118, 3),
    (18, 128, 4),
    (38, 100, 2.5),
)
RUNS = ((34, 128), (50, 140), (66, 128), (82, 142), (46, 158), (70, 160), (94, 128))
GUIDE = (
    ("under 40 %", "crumbles"),
    ("40–50 %", "a weak ball"),
    ("50–60 %", "a firm ball,|one or two drops"),
    ("60–70 %", "several drops"),
    ("70–85 %", "drips freely"),
    ("over 85 %", "runs"),
)

RIGHT_FOR = {2: "right for a hot heap", 3: "right for the base", 4: "right for feed on the face"}
"""What the third, fourth and fifth hand are right for."""


def sleeve(y: float) -> str:
    return ink(f"M150 {y - 24}h40v48h-40z", "cloth") + part(f"M150 {y - 24}q-5 24 0 48")


def open_hand(lump: str) -> str:
    """A hand held level with what is left in it."""
    palm = ink(
        "M152 66q-20 -4 -34 -2q-22 2 -44 2q-24 0 -46 -10q-10 -4 -14 2q-3 6 4 10q22 14 46 18q-18 0 -32 -6q-9 -3 -12 3q-2"
        " 6 6 10q26 12 56 12q40 0 70 -7z",
        "skin",
    )
    thumb = ink("M128 66q-10 -16 -30 -18q-10 -1 -12 5q-1 6 8 9q12 4 20 14", "skin")
    return sleeve(80) + palm + crease("M62 86q20 4 40 -2M48 66q-6 -2 -12 -6") + lump + thumb


def fist() -> str:
    """A fist held level, seen from the side of its fingers."""
    fingers = "".join(
        ink(f"M{x + 9} {y - 9.5}h{wide}q9 0 9 9.5t-9 9.5h-{wide}q-11 0 -11 -9.5t11 -9.5z", "skin")
        + crease(f"M{x + 16} {y - 6}q3.5 6 0 12")
        for x, y, wide in ((26, 104, 44), (20, 85, 52), (18, 66, 54), (22, 47, 50))
    )
    back = ink("M74 34q34 -14 56 2q8 8 22 12v46q-16 2 -26 10q-24 12 -54 6z", "skin")
    thumb = ink("M122 42q-14 -20 -44 -18q-26 2 -38 8q-8 5 -4 11q3 5 12 3q22 -6 36 -2q10 3 16 14", "skin")
    return sleeve(70) + back + fingers + thumb + crease("M44 33q-3 5 0 9M98 92q12 -8 14 -22")


def six_hands() -> list[str]:
    """What is left in a hand after one hard squeeze, from dry to wet; each 190 wide and 176 high."""
    crumbs = "".join(disc(x, y, radius, "castings", "part") for x, y, radius in CRUMBS)
    weak = ink("M28 58q-4 -24 18 -28q8 0 10 6l-5 12l6 10l-3 10q-18 0 -26 -10z", "castings") + ink(
        "M64 34q20 -4 26 14q2 14 -10 20q-10 2 -18 0l3 -10l-6 -10z", "castings"
    )
    firm = ink("M30 52q0 -28 30 -29q31 1 31 28q-2 20 -30 20q-29 0 -31 -19z", "castings")
    stream = stroke("M34 117q-4 24 0 48M48 118q4 24 0 47M62 118q-3 24 1 47M76 117q5 24 0 48", "water")
    return [
        open_hand(crumbs),
        open_hand(weak),
        open_hand(firm) + drop(52, 118),
        fist() + drop(30, 128) + drop(54, 136) + drop(78, 130),
        fist() + "".join(drop(x, y) for x, y in RUNS),
        fist() + stream,
    ]


@drawing("moisture.squeeze")
def squeeze() -> Drawing:
    """Six hands: what one hard squeeze tells."""
    shapes = []
    for place, (hand, (share, seen)) in enumerate(zip(six_hands(), GUIDE)):
        left, top = 20 + 300 * (place % 3), 20 + 250 * (place // 3)
        below = top + (166 if place < 3 else 192)
        shapes += [moved(hand, left + 40, top), strong(left + 40, below, share), words(left + 40, below + 20, seen)]
        if place in RIGHT_FOR:
            down = below + 40 + 18 * seen.count("|")
            shapes += [moved(tick(0, 0), left + 42, down - 4, 0, 0.6), strong(left + 64, down, RIGHT_FOR[place])]
        if place % 3:
            shapes.append(part(f"M{left - 8} {top}V{top + 226}"))
    shapes.append(part("M20 262H890"))
    return Drawing(
        "squeeze",
        "One hard squeeze tells the moisture to about ten points",
        "Take a handful from a hand's depth, squeeze as hard as you can, then open your hand. A feeding face wants the"
        " fifth.",
        plate(910, 520, shapes),
        "Six hands. Under 40 %: it crumbles, the hand stays dry. 40 to 50 %: a weak ball that falls apart. 50 to 60 %:"
        " a firm ball, one or two drops. 60 to 70 %: several drops between the fingers. 70 to 85 %: it drips freely."
        " Over 85 %: water runs out.",
    )


@drawing("moisture.oven")
def oven() -> Drawing:
    """The oven test in four steps."""
    dish = ink("M-40 0h80l-8 22h-64z", "metal")
    scale = box(-54, 22, 108, 20, "metal") + ink("M-34 42h68v26h-68z", "paper", "part")
    cooker = (
        box(-70, -40, 140, 130, "metal")
        + box(-54, -16, 108, 70, "paper", "part")
        + "".join(disc(-44 + 22 * n, -28, 5, "paper", "part") for n in range(5))
    )
    steps = ((36, "weigh a dish"), (256, "with a wet sample"), (486, "dry it"), (716, "weigh it dry"))
    shapes = [key(left, 36, step, None, done) for step, (left, done) in enumerate(steps, 1)]
    shapes += [
        moved(dish + scale + strong(0, 61, "50 g", "middle"), 110, 150),
        moved(ink("M-34 0q34 -40 68 0z", "castings") + dish + scale + strong(0, 61, "150 g", "middle"), 330, 150),
    ]
    shapes += [
        moved(cooker, 570, 120),
        moved(ink("M-34 0q34 -40 68 0z", "castings") + dish, 570, 144, 0, 0.9),
        words(570, 240, "221 °F (105 °C)|until it loses no more weight", "middle"),
        stroke("M574 70q8 -14 0 -26M598 70q8 -14 0 -26M622 70q8 -14 0 -26", "heat"),
    ]
    shapes += [
        moved(ink("M-30 0q30 -22 60 0z", "bedding") + dish + scale + strong(0, 61, "75 g", "middle"), 800, 150),
        words(800, 240, "75 of 100 g were water:|75 %", "middle"),
    ]
    return Drawing(
        "oven",
        "Wet weight, dry weight: what went was water",
        "Dish, dish with sample, dry it, weigh again: the loss over the wet sample is its moisture.",
        plate(900, 276, shapes),
        "An empty dish on a scale, 50 g; the dish with a sample, 150 g; the dish in an oven at 221 °F (105 °C); the"
        " dish with the dry sample, 75 g: three quarters of the sample were water. Invented figures.",
        keys=(
            "Weigh the dish.",
            "Weigh it with a handful from three places, mixed.",
            (
                "Dry it at 221 °F (105 °C), weighing now and then. It smells: not in the kitchen oven that cooks your"
                " meals, and never leave a microwave alone with it."
            ),
            "Weigh it dry. Moisture is what was lost, divided by what the wet sample weighed.",
        ),
    )
