"""Drawings of taking castings off a lane and getting them ready to sell."""

from calc.drawings.lane_work import FOOT, layer, section, side_behind
from calc.drawings.parts import (
    arrow,
    barrow,
    bending,
    box,
    bucket,
    crease,
    disc,
    ink,
    key,
    moved,
    part,
    plate,
    shovel,
    span,
    standing,
    stroke,
    strong,
    tick,
    track,
    words,
    worm,
    worms,
)
from calc.engine import Drawing
from calc.page.drawings import drawing


@drawing("harvest.slicing")
def slicing() -> Drawing:
    """The back board off, and the first slice cut."""
    ground, left = 270, 320
    body, top, foot = section(left, ground, 10, 1.5, eaten=5.75)
    high = 1.5 * FOOT
    cut = left + FOOT
    shapes = [
        part(f"M0 {ground}H900"),
        side_behind(left, ground, 8.5),
        body,
        worms(left + 6.6 * FOOT, ground - high + 12, 2 * FOOT, high - 24, 14, 0.62),
        layer((top, ground - high), (foot, ground), 10),
        f'<path class="dashed" d="M{cut} {ground - high - 26}V{ground + 6}"/>',
        ink(
            track(
                [
                    (left, ground),
                    (left, ground - 22),
                    (left + 10, ground - 40),
                    (left + 22, ground - high + 6),
                    (cut, ground - high),
                    (cut, ground),
                ],
                True,
            ),
            "wood",
        ),
        ink(
            track(
                [
                    (left - 60, ground),
                    (left - 30, ground - 20),
                    (left + 6, ground - 26),
                    (left + 30, ground - 8),
                    (cut, ground),
                ],
                True,
            ),
            "castings",
        ),
        box(10, ground - 8, 90, 8, "wood"),
        moved(shovel(0, 0, -64, 0.85), left + 8, ground - 26),
        bending(144, ground, 1, ((left - 64, ground - 62), (left - 98, ground - 76))),
        span((left, ground + 24), (cut, ground + 24), ""),
        strong(left - 12, ground + 29, "1 ft", "end"),
        span((foot - 3.5 * FOOT, ground + 24), (foot, ground + 24), "the gap, left to the worms: 3½ ft or more", 32),
        bucket(206, ground, 0.6, "castings"),
        key(54, 190, 1, (54, ground - 4), "back board,|taken off", "above"),
        key(left + 70, 130, 2, (cut, ground - high - 16), "cut straight|down", "above"),
        key(left + 176, 130, 3, (left + 150, ground - 30), "castings", "above"),
        key(left + 310, 130, 4, (left + 300, ground - 30), "worms:|never cut here", "above"),
    ]
    return Drawing(
        "slicing",
        "Board off, one foot down",
        "Cut straight down, a foot at a time, from the back; stop where worms appear.",
        plate(900, 330, shapes, FOOT),
        "The back board lies aside; someone takes the rearmost foot of castings off the lane with a shovel. In front of"
        " the cut lie more castings, then the gap of 3½ ft (1.1 m) where the worms are, then the face.",
        keys=(
            "Unscrew the back board and lay it aside, screws in the bucket.",
            (
                "Cut straight down with a flat shovel. A foot (30 cm) of a lane 4 ft (1.2 m) wide weighs over 200 lb"
                " (90 kg): take it in halves."
            ),
            "Look before each cut. More than a few worms in two handfuls: stop, and wait a week.",
            "Never into the gap, the 3½ ft (1.1 m) behind the newest feed: that is where they live and breed.",
        ),
    )


@drawing("harvest.looking")
def looking() -> Drawing:
    """Two handfuls from the back: ready, or not yet."""
    hands = ink("M0 40q-6 -30 20 -34q10 -20 60 -20t60 20q26 4 20 34q-20 40 -80 40t-80 -40z", "glove") + crease(
        "M28 22q-8 12 -2 26M132 22q8 12 2 26"
    )
    heap = ink("M26 22q10 -40 54 -40t54 40q-20 24 -54 24t-54 -24z", "castings")
    above = (
        box(60, 24, 460, 80, "bedding")
        + box(60, 24, 260, 80, "castings")
        + box(500, 24, 20, 80, "feed")
        + box(52, 20, 8, 88, "wood")
        + box(52, 18, 452, 6, "wood")
        + box(52, 104, 452, 6, "wood")
        + "".join(disc(84, y, 9, "paper") for y in (40, 64, 88))
    )
    shapes = [
        above,
        key(26, 64, 1),
        strong(540, 50, "dig a hand deep at the back,"),
        strong(540, 70, "on both sides and in the middle"),
        words(540, 92, "the lane from above, its face to the right"),
        key(26, 168, 2),
        moved(hands + heap, 60, 236, 0, 1.25),
        moved(hands + heap + worms(40, -6, 80, 34, 11, 0.8), 500, 236, 0, 1.25),
        worm(160, 242, 20, 0.9),
        tick(64, 168),
        strong(104, 172, "none to three worms: slice"),
        strong(508, 172, "more: wait a week"),
        words(508, 192, "feed the front, keep the back dry"),
        part("M440 146V376"),
    ]
    return Drawing(
        "looking",
        "Look before you slice",
        "Dig a hand deep at the back, on both sides and in the middle, and count.",
        plate(880, 396, shapes),
        "A lane from above with three holes behind its back board. Below, two pairs of gloved hands hold castings: in"
        " the left one worm, in the right eleven.",
    )


@drawing("harvest.screen")
def screen() -> Drawing:
    """Two decks of screen, somebody shovelling, three heaps."""
    ground = 320
    frame = stroke(f"M330 {ground}L350 128M640 {ground}L620 206M330 128L640 196M330 178L640 246", "timber")
    mesh = "".join(part(f"M{340 + 14 * n} {126 + 3.1 * n:.1f}v8") for n in range(21)) + "".join(
        crease(f"M{338 + 7 * n} {178 + 1.55 * n:.2f}v7") for n in range(42)
    )
    shapes = [
        part(f"M0 {ground}H900"),
        frame,
        mesh,
        ink(track([(300, 120), (330, 84), (360, 126)], True), "castings"),
        ink(f"M378 {ground}q90 -96 190 0z", "castings"),
        ink(f"M652 {ground}q40 -40 84 0z", "bedding"),
        moved("".join(disc(12 * n, -8 - 9 * (n % 2), 7, "wood", "part") for n in range(6)), 786, 272),
        ink("M760 270h110l-10 50h-90z", "paper"),
        moved(shovel(0, 0, -115, 0.8), 318, 112),
        standing(164, ground, 1, ((254, 142), (212, 162))),
        barrow(60, ground, "castings"),
        arrow((470, 166), (470, 196)),
        arrow((470, 224), (470, 256)),
        arrow((640, 190), (766, 252)),
        arrow((640, 248), (676, 280)),
        key(420, 90, 1, (420, 148), "¼ in mesh"),
        key(560, 126, 2, (520, 216), "⅛ in mesh"),
        key(840, 190, 3, (818, 254), "coarse:|mulch", "above"),
        key(694, 342, 4, (694, 306), "back on the lane"),
        key(470, 300, 5),
        strong(470, 347, "castings to sell", "middle"),
        ink("M176 128l18 2l-2 12l-14 -2z", "paper", "part"),
    ]
    return Drawing(
        "screen",
        "Two decks sort castings into three",
        "Only what falls through both is sold; the middle still holds food and cocoons.",
        plate(900, 364, shapes),
        "Someone in a mask shovels castings onto the upper of two sloping screens. Coarse overs roll off into a tub,"
        " the middle size falls off the lower deck, the fine castings lie below.",
        keys=(
            "Upper deck: ¼ in (6.3 mm). Feed it thinly, at the moisture at which a handful barely holds together.",
            "Lower deck: ⅛ in (3.2 mm).",
            "What stays on the upper deck: mulch.",
            "What stays on the lower: back on the lane, for its cocoons and food.",
            "What falls through both: castings to sell. Upwind of it, with a mask that fits: no dust in your face.",
        ),
    )


@drawing("harvest.bucket")
def bucket_test() -> Drawing:
    """The bucket test of bulk density, in four steps."""
    shapes = []
    steps = ((40, "weigh it empty"), (270, "fill a third"), (500, "strike it level"), (710, "weigh it full"))
    for step, (left, done) in enumerate(steps, 1):
        shapes.append(key(left - 8, 36, step, None, done))
    shapes += [
        bucket(110, 230, 1.3, "", 0.0),
        box(56, 230, 108, 20, "metal"),
        ink("M76 250h68v26h-68z", "paper", "part"),
        strong(110, 269, "2 lb", "middle"),
        bucket(340, 250, 1.3, "castings", 0.36),
        arrow((404, 176), (404, 244)),
        words(340, 92, "drop it ten times,|then the next third", "middle"),
        bucket(570, 250, 1.3, "castings", 1.0),
        stroke("M516 156H636", "timber"),
        arrow((640, 156), (672, 156)),
        words(570, 92, "when it is full;|do not press", "middle"),
        bucket(790, 230, 1.3, "castings", 1.0),
        box(736, 230, 108, 20, "metal"),
        ink("M756 250h68v26h-68z", "paper", "part"),
        strong(790, 269, "27 lb", "middle"),
    ]
    return Drawing(
        "bucket",
        "What a bucket weighs tells what a yard weighs",
        "Weigh it empty, fill it in thirds, strike it level, weigh it again.",
        plate(890, 300, shapes),
        "Four buckets: empty on a scale; a third full, dropped ten times; full and struck level with a board; full on"
        " the scale.",
        keys=(
            "Weigh the empty bucket.",
            "Fill a third and drop it ten times from a foot (30 cm); to two thirds and to the rim, ten times each.",
            "Top it up without dropping and strike it level with a board; do not press.",
            (
                "Weigh again and take off the bucket. Pounds in 5 gallons × 40.4 are pounds a cubic yard; kilograms in"
                " 10 litres × 100 are kilograms a cubic metre."
            ),
        ),
    )
