"""Drawings of shade, frost cover and where a thermometer belongs."""

from calc.drawings.lane_work import FOOT, layer, section
from calc.drawings.parts import (
    arrow,
    box,
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
    worms,
)
from calc.engine import Drawing
from calc.page.drawings import drawing


@drawing("climate.three_places")
def three_places() -> Drawing:
    """A thermometer in three places of a bed."""
    ground, left = 272, 120
    body, top, foot = section(left, ground, 15, 3.2, eaten=3)
    high = 3.2 * FOOT  # no person beside it: the bed is drawn larger than elsewhere
    near = (top + 6, ground - high)
    shapes = [
        part(f"M0 {ground}H900"),
        body,
        worms(top - 220, ground - high + 20, 200, 70, 16, 0.8),
        layer((top, ground - high), (foot, ground), 16),
        box(left - 10, ground - high - 8, 10, high + 8, "wood"),
        thermometer(near[0] - 30, near[1] - 42, 70, 0, 0.55),
        thermometer(390, ground - high - 42, 124, 0, 0.62),
        thermometer(left + 26, ground - high - 42, 70, 0, 0.34),
        key(near[0] - 30, 40, 1, None, "a hand deep,|where they feed"),
        key(390, 40, 2, None, "a foot deep,|in the middle"),
        key(left + 26, 40, 3, None, "at the edge"),
        words(left + 8, ground + 24, "back"),
        words(foot - 8, ground + 24, "face", "end"),
    ]
    return Drawing(
        "three_places",
        "Three places tell more than one number",
        "The first decides whether you feed, the second warns of heat, the third of frost.",
        plate(900, 312, shapes),
        "A bed from the side with three probe thermometers: a hand deep behind the face, deep in the middle, and at the"
        " edge of the back.",
        keys=(
            (
                "Four inches (10 cm) behind the newest layer: the worms' own temperature. 59 to 77 °F (15 to 25 °C) is"
                " best."
            ),
            "A foot deep in the middle: if it is the warmest place and rising, the feed is heating. Open it.",
            "A hand from the boards: the first place to freeze and the first to dry.",
        ),
    )


@drawing("climate.shade")
def shade() -> Drawing:
    """A shade frame with its anchors."""
    ground = 290
    body, top, foot = section(300, ground, 8, 1.2)
    anchor = stroke(f"M150 {ground}L256 110M750 {ground}L644 110", "rope") + stroke(
        f"M150 {ground - 6}l-8 46M750 {ground - 6}l8 46", "timber"
    )
    shapes = [
        ink(f"M0 {ground}H900V352H0z", "ground"),
        stroke(f"M256 {ground + 52}V104M450 {ground + 52}V104M644 {ground + 52}V104", "timber"),
        body,
        layer((top, ground - 48), (foot, ground), 8),
        ink("M240 108H660l14 -22H226z", "cloth"),
        ink("M226 86v40q10 -10 20 0v-18z", "cloth"),
        anchor,
        moved(standing(0, 0, -1), 846, ground, 0, 0.66),
        arrow((60, 60), (150, 96), "heat"),
        arrow((60, 130), (200, 160), "water"),
        words(40, 50, "sun"),
        words(40, 124, "wind"),
        span((778, ground), (778, 108), "7 ft"),
        key(450, 50, 1, (450, 92), "cloth"),
        key(256, 190, 2, (256, 200), "post"),
        key(130, 230, 3, (172, 252), "rope and|stake", "left"),
        key(520, 156, 4, (520, 98), "off before|a storm"),
        words(464, ground + 42, "2 ft in the ground"),
    ]
    return Drawing(
        "shade",
        "Shade that stays where you put it",
        "A cloth pulls like a sail: anchors and a way to take it down matter more than posts.",
        plate(900, 352, shapes),
        "A lane under a frame of posts with shade cloth; guy ropes run to stakes on both sides; a person stands beside"
        " it for scale, the cloth is 7 ft (2.1 m) up.",
        keys=(
            "Cloth on a ridge that sheds rain, tied with loops that come off in a minute.",
            "Posts two feet in the ground, or in weighted feet.",
            "A rope and a stake to each corner, set for the strongest wind you know.",
            "Take the cloth down before a storm or snow. Ask whether your place needs a permit for it.",
        ),
    )


@drawing("climate.straw")
def straw() -> Drawing:
    """A bed under straw in a frost, cut across."""
    ground = 300
    bed = track([(300, ground), (310, ground - 128), (590, ground - 128), (600, ground)], True)
    shapes = [
        ink(f"M0 {ground}H900V360H0z", "ground"),
        ink(f"M180 {ground}Q210 96 330 90H570Q690 96 720 {ground}z", "straw"),
        ink(bed, "bedding"),
        box(288, ground - 132, 12, 132, "wood"),
        box(600, ground - 132, 12, 132, "wood"),
        ink("M300 164h300v8h-300z", "cloth", "part"),
        worms(390, ground - 66, 130, 52, 16, 0.75),
        stroke("M380 262q20 -22 40 0M450 244q20 -22 40 0M520 262q20 -22 40 0", "heat"),
        "".join(
            stroke(f"M{x} {y}v18m-8 -14l16 10m0 -10l-16 10", "water")
            for x, y in ((60, 60), (140, 110), (760, 60), (840, 120), (110, 180), (800, 190))
        ),
        thermometer(450, 56, 176, 0, 0.42),
        key(200, 70, 1, (270, 150), "straw", "above"),
        key(690, 70, 2, (580, 168), "cover", "above"),
        key(760, 262, 3, (606, 240), "board"),
        key(560, 330, 4, (500, 280), "bed, fed: it makes warmth"),
        span((350, 90), (350, 164), "1 ft"),
        words(20, 345, "the lane, cut across"),
    ]
    return Drawing(
        "straw",
        "Straw keeps the heat that the feed makes",
        "A foot of dry straw over a cover helps a fed bed through a hard freeze. Growers find 50 °F (10 °C) in it at"
        " 27 °F (−3 °C) outside: common practice, no source.",
        plate(900, 360, shapes),
        "A bed cut across in frost: boards at both sides, a breathing cover on it, a foot of straw over all; worms and"
        " warmth in its middle, a long thermometer through the straw.",
        keys=(
            "A foot of dry straw or leaves, four inches at least, also down the sides. Wet straw keeps little warm:"
            " renew it.",
            "A breathing cover under it, so that the straw comes off clean at feeding.",
            "Boards, and earth or bales against them.",
            (
                "The middle stays warm only while something rots: feed a thin layer while it is mild, and leave it"
                " closed on the coldest days."
            ),
        ),
    )
