"""Drawings of working safely and of finding out what is wrong."""

from calc.drawings.moisture_work import fist
from calc.drawings.parts import (
    bucket,
    cross,
    disc,
    drop,
    ink,
    key,
    moved,
    part,
    person,
    plate,
    stroke,
    strong,
    thermometer,
    tick,
    words,
)
from calc.engine import Drawing
from calc.page.drawings import drawing


@drawing("start.lifting")
def lifting() -> Drawing:
    """Lifting a bucket: wrong and right."""
    ground = 290
    wrong = person(
        (150, ground - 104),
        (238, ground - 128),
        [((252, ground - 84), (262, ground - 66)), ((246, ground - 80), (254, ground - 62))],
        [((156, ground - 54), (162, ground)), ((146, ground - 54), (140, ground))],
    )
    right = person(
        (520, ground - 62),
        (560, ground - 138),
        [((586, ground - 92), (604, ground - 62)), ((580, ground - 88), (596, ground - 58))],
        [((572, ground - 66), (552, ground)), ((560, ground - 60), (518, ground))],
    )
    shapes = [
        part(f"M0 {ground}H900"),
        wrong,
        bucket(264, ground, 0.8, "castings"),
        stroke(f"M150 {ground - 122}Q196 {ground - 152} 240 {ground - 148}", "wrong"),
        cross(60, 66),
        strong(96, 70, "bent back, straight legs"),
        right,
        bucket(604, ground, 0.75, "castings", 0.5),
        stroke(f"M522 {ground - 66}L558 {ground - 134}", "right"),
        tick(440, 62),
        strong(480, 70, "legs bent, back straight, half a bucket"),
        key(760, 262, 1, (618, ground - 24), "half loads"),
        key(760, 212, 2, (606, ground - 58), "close to you"),
        key(420, 262, 3, (504, ground - 8), "turn with|your feet", "left"),
    ]
    return Drawing(
        "lifting",
        "Half a bucket, twice",
        "A full 5-gallon bucket of castings weighs about 25 lb (11 kg), a foot of lane over 200 lb (90 kg).",
        plate(900, 316, shapes),
        "Left, wrong: legs straight, back bent over the bucket. Right: knees bent, back straight, the half-full bucket"
        " close to the body.",
        keys=(
            "Half loads: two easy walks beat one bad back.",
            "Hold it close, with both hands.",
            "Turn with your feet, never with your back. Two people for sheets and sacks.",
        ),
    )


@drawing("troubles.senses")
def senses() -> Drawing:
    """Smell, feel, look, measure: where to begin when something is wrong."""
    nose = ink("M-6 -60q30 20 34 60q2 14 -12 18q-8 12 -26 4", "skin") + stroke(
        "M40 30q14 -10 28 0t28 0M44 52q14 -10 28 0t28 0", "heat"
    )
    hand = moved(fist() + drop(34, 136, 1.3) + drop(66, 142, 1.3), -62, -52, 0, 0.78)
    eye = ink("M-50 0Q0 -46 50 0Q0 46 -50 0z", "paper") + disc(0, 0, 20, "leaf") + disc(0, 0, 9, "ink", "part")
    shapes = []
    for place, (name, thing, asks) in enumerate(
        (
            ("nose", nose, "sour? eggs?|ammonia? earth?"),
            ("hand", hand, "drips? crumbles?|cool? warm?"),
            ("eye", eye, "where are the worms?|white? thin? none?"),
            ("thermometer", thermometer(0, -44, 110, 0, 0.8), "hot in the middle?|cold at the edge?"),
        )
    ):
        left = 120 + 225 * place
        shapes += [
            moved(thing, left, 110),
            strong(left, 226, name, "middle"),
            words(left, 250, asks, "middle"),
            key(left - 84, 40, place + 1),
        ]
        if place < 3:
            shapes.append(part(f"M{left + 112} 24V270"))
    return Drawing(
        "senses",
        "Nose, hand, eye, thermometer: in this order",
        "Two minutes with all four name most troubles before you do anything about them.",
        plate(910, 294, shapes),
        "Four signs: a nose with a smell, a fist with drops, an eye, a thermometer.",
        keys=(
            (
                "Smell at a hand's depth. Sour or rotten eggs: too wet, too much feed. Ammonia: too much nitrogen."
                " Earth: all is well."
            ),
            "Squeeze a handful hard: it tells wet from dry to about ten points.",
            "Look for the worms: spread out, balled, on the boards, thin, gone.",
            "Measure a hand deep, in the middle and at the edge. Then open the list.",
        ),
    )
