"""Drawings of building, filling, feeding and showing a lane: what is done, by whom, with what."""

from math import radians, tan

from calc.drawings.moisture_work import fist
from calc.drawings.parts import (
    Point,
    arrow,
    barrow,
    bending,
    board,
    box,
    bucket,
    crease,
    disc,
    drop,
    fork,
    ink,
    key,
    moved,
    number,
    part,
    plate,
    shovel,
    span,
    standing,
    stroke,
    strong,
    thermometer,
    tick,
    track,
    words,
    worm,
    worms,
)
from calc.engine import Drawing
from calc.page.drawings import drawing

FOOT = 40.0
"""One foot in the drawings of a lane."""


def section(
    left: float, ground: float, length: float, height: float, eaten: float = 0.0, slope: float = 45.0
) -> tuple[str, float, float]:
    """A lane from the side: castings behind, worms before them, its face to the right.

    Returns (shapes, x of the face's top, x of its foot).

    All lengths in feet; eaten: how much of the length behind is finished castings.
    """
    high, long = height * FOOT, length * FOOT
    reach = high / tan(radians(slope))
    top, foot = left + long - reach, left + long
    done = left + eaten * FOOT
    body = ink(track([(left, ground - high), (top, ground - high), (foot, ground), (left, ground)], True), "bedding")
    if eaten:
        body += ink(
            track(
                [(left, ground - high), (done - reach / 2, ground - high), (done + reach / 2, ground), (left, ground)],
                True,
            ),
            "castings",
        )
    return body, top, foot


def layer(top: Point, foot: Point, thick: float) -> str:
    """One feeding on the face, laid square to it."""
    (x1, y1), (x2, y2) = top, foot
    return ink(track([(x1, y1), (x1 + thick, y1), (x2 + thick * 1.3, y2), (x2, y2)], True), "feed")


@drawing("lane.box")
def box_apart() -> Drawing:
    """The box of a first lane, drawn apart."""
    u, k, ox, oy = 46, 27, 176, 250

    def at(x: float, y: float, z: float) -> Point:
        return ox + x * u + y * k, oy - y * k * 0.78 - z * u

    def post(x: float, y: float) -> str:
        (across, head), (_, low) = at(x, y, 2.18), at(x, y, 0)
        buried = f'<path class="dashed fill-wood" d="M{across - 6:.1f} {low:.1f}v38l6 9l6 -9v-38"/>'
        return buried + box(across - 6, head, 12, low - head, "wood")

    def screws(x: float, y: float) -> str:
        return "".join(
            f'<circle class="spot" cx="{at(x, y, z)[0]:.1f}" cy="{at(x, y, z)[1]:.1f}" r="2.5"/>'
            for z in (1.72, 1.0, 0.3)
        )

    floor = [at(0, 0, 0), at(8, 0, 0), at(8, 4, 0), at(0, 4, 0)]
    far = "".join(post(x, 4) for x in (0, 4, 8)) + board([at(0, 4, 0), at(8, 4, 0), at(8, 4, 2), at(0, 4, 2)])
    far += screws(0.14, 4) + screws(4, 4) + screws(7.86, 4)
    back = board([at(0, 0, 0), at(0, 4, 0), at(0, 4, 2), at(0, 0, 2)]) + screws(0, 0.25) + screws(0, 3.72)
    near = board([at(0, 0, 0), at(8, 0, 0), at(8, 0, 2), at(0, 0, 2)]) + "".join(post(x, 0) for x in (0, 4, 8))
    near += screws(0, 0) + screws(4, 0) + screws(8, 0)
    dx, dy = -46, 142
    threads = "".join(
        f'<path class="dashed" d="M{at(x, 0, z)[0]:.1f} {at(x, 0, z)[1]:.1f}l{dx} {dy}"/>'
        for x, z in ((0, 0), (0, 2), (8, 0), (8, 2))
    )
    low = at(0, 0, 0)[1] + dy
    open_end = at(8, 1.1, 0)
    shapes = [
        ink(track(floor, True), "ground", "part"),
        far,
        back,
        threads,
        moved(near, dx, dy),
        arrow((open_end[0] + 92, open_end[1]), (open_end[0] + 26, open_end[1])),
        strong(open_end[0] + 30, open_end[1] + 24, "stays open:"),
        words(open_end[0] + 30, open_end[1] + 42, "you feed here"),
        span((at(8, 4, 2)[0] + 18, at(8, 4, 2)[1]), (at(8, 4, 0)[0] + 18, at(8, 4, 0)[1]), "24 in"),
        span((at(8, 0, 0)[0] + dx + 22, low), (at(8, 0, 0)[0] + dx + 22, low + 47), "12 in|in the ground", 0),
        span((at(0, 0, 0)[0] + dx, low + 72), (at(8, 0, 0)[0] + dx, low + 72), "8 ft"),
        part(track([(at(0, 0, 2)[0] - 16, at(0, 0, 2)[1] - 6), (at(0, 4, 2)[0] - 16, at(0, 4, 2)[1] - 6)])),
        strong(154, 116, "4 ft", "end"),
        key(440, 34, 1, at(5.1, 4, 1.45), "long side"),
        key(92, 240, 2, at(0, 1.1, 0.9), "back|board", "left"),
        key(50, 368, 3, (at(0, 0, 1)[0] + dx - 6, at(0, 0, 1)[1] + dy), "post,|outside", "below"),
        key(430, low - 46, 1, None, "long side", "left"),
    ]
    return Drawing(
        "box",
        "Three boards and six posts make the first lane",
        "The front stays open: you feed there, and the face walks out of it.",
        plate(760, 486, shapes),
        "The box of a first lane, drawn apart: two long sides of 8 ft (2.4 m), a back of 4 ft (1.2 m), six posts a foot"
        " (30 cm) into the ground; the front is open.",
        keys=(
            "Long side, twice: one sheet, ripped lengthwise. The rest of the second sheet makes two boards of 45 in"
            " (114 cm): they are set ahead of the sides, as the face walks out.",
            "Back: four feet of the second sheet. It comes out again for the first slice, so screw it, do not nail it.",
            (
                "Six posts, a foot in the ground: at both ends and the middle of each side. On a hard floor, stakes"
                " outside and a strap across the top."
            ),
        ),
    )


def side_behind(left: float, ground: float, length: float) -> str:
    """The long side behind a lane, with its posts: what holds the bed."""
    ends = (left, left + length * FOOT / 2 - 5, left + length * FOOT - 10)
    return box(left, ground - 2 * FOOT, length * FOOT, 2 * FOOT, "wood") + "".join(
        box(at, ground - 2 * FOOT - 10, 10, 2 * FOOT + 10, "wood", "part") for at in ends
    )


@drawing("lane.at_work")
def at_work() -> Drawing:
    """A working lane with the two who work on it."""
    ground, left = 262, 150
    body, top, foot = section(left, ground, 10, 1.5, eaten=5.75)
    high = 1.5 * FOOT
    shapes = [
        part(f"M0 {ground}H900"),
        side_behind(left, ground, 8.5),
        body,
        worms(left + 6.1 * FOOT, ground - high + 12, 2.5 * FOOT, high - 24, 20, 0.62),
        layer((top, ground - high), (foot, ground), 10),
        box(left - 8, ground - 2 * FOOT, 8, 2 * FOOT, "wood"),
        bucket(104, ground, 0.7, "castings"),
        bending(56, ground, 1, ((left + 26, ground - high - 6), (left + 12, ground - high - 2))),
        mirrored_person(foot + 96, ground, top, high),
        barrow(foot + 196, ground, "feed"),
        key(left + 60, 128, 1, (left + 60, ground - 24), "finished|castings", "above"),
        key(left + 174, 128, 2, (left + 174, ground - 30), "castings|that rest", "above"),
        key(left + 282, 128, 3, (left + 270, ground - 30), "worms|at work", "above"),
        key(foot - 36, 128, 4, (foot - 22, ground - 26), "new|feed", "above"),
        strong(14, 44, "you slice off|the back"),
        strong(foot + 46, 44, "you feed|the face"),
        arrow((foot + 10, ground + 26), (foot + 90, ground + 26)),
        words(foot + 102, ground + 31, "the face walks this way"),
        span((left, ground + 26), (left + FOOT, ground + 26), "1 ft", 30),
    ]
    return Drawing(
        "at_work",
        "The worms follow the food and leave castings behind",
        "Fed at the front, sliced at the back: nobody sorts worms.",
        plate(920, 316, shapes, FOOT),
        "A lane from the side with two people. Left, one takes finished castings off the back into a bucket. Right, one"
        " lays feed from a barrow on the sloping face. Between them: castings, then worms at work, then the face.",
        keys=(
            "The back: finished castings, a foot at a time.",
            "Castings that still rest: the last worms walk out of them.",
            "The gap, 3 to 4 ft (1 m): worms at work, cocoons, young. Never slice into it.",
            "The face: the newest layer of feed, two inches (5 cm) at most.",
        ),
    )


def mirrored_person(x: float, ground: float, top: float, high: float) -> str:
    """Somebody who lays feed on the face from the front, facing left."""
    return bending(x, ground, -1, ((top + 46, ground - high + 30), (top + 62, ground - high + 38)))


@drawing("lane.place")
def place() -> Drawing:
    """What a good place for a lane has."""
    ground, size = 300, 0.6
    tree = part("M804 302q-30 4 -58 24M807 302q-6 20 -26 38M811 302q12 16 40 24") + moved(
        ink("M-8 0V-110h16V0z", "wood")
        + ink("M-80 -100q-30 -60 30 -84q10 -56 66 -40q62 -10 60 46q40 30 4 72q-80 40 -160 6z", "leaf"),
        808,
        ground,
        0,
        0.75,
    )
    shed = box(40, 150, 150, 150, "wood") + ink("M24 156L115 96L206 156z", "grey") + box(86, 156, 58, 144, "paper")
    tap = stroke("M226 300V244h20v14", "timber") + disc(226, 240, 7, "metal") + drop(246, 274, 0.8)
    lane = (
        box(330, 248, 192, 52, "wood")
        + ink("M330 300V264H566L600 300z", "bedding")
        + ink("M566 264l8 0L612 300H600z", "feed")
        + box(322, 248, 8, 52, "wood")
    )
    shade = stroke("M306 300V134M690 300V134", "timber") + ink("M296 134H700l-10 -16H306z", "cloth")
    slope = ink("M0 300H970V360H0z", "ground") + stroke("M250 306L700 324", "rope")
    house = moved(box(-40, -60, 80, 60, "paper") + ink("M-50 -58L0 -100L50 -58z", "grey"), 926, 300, 0, 0.6)
    shapes = [
        slope,
        shed,
        tap,
        tree,
        shade,
        lane,
        house,
        arrow((370, 336), (510, 342), "water"),
        part(f"M614 {ground - 8}H732M614 {ground - 16}v16M732 {ground - 16}v16"),
        arrow((950, 60), (870, 60), "water"),
        words(950, 44, "usual wind", "end"),
        moved(standing(0, 0, -1), 664, ground, 0, size),
        key(115, 60, 1, (115, 120), "tools, feed"),
        key(262, 200, 2, (232, 240), "water", "above"),
        key(490, 92, 3, (490, 122), "shade"),
        key(300, 340, 4, (300, 309), "falls away", "left"),
        key(684, 342, 5, (746, 328), "no roots below", "left"),
        key(926, 206, 6, (926, 242), "neighbours", "above"),
        key(704, 236, 7, (696, 290), "room", "above"),
    ]
    return Drawing(
        "place",
        "A place that works: shade, water, drainage, room to walk",
        "Look for these seven before you buy a board.",
        plate(970, 360, shapes),
        "A lane under a shade frame between a shed and a tree; a tap beside it, ground that falls away from it, room in"
        " front of the face. The roots of the tree end before the bed. The usual wind comes from the neighbours, who"
        " are well away.",
        keys=(
            "Tools and feed under a roof, near.",
            (
                "Water that a hose reaches. A tap of drinking water may need a valve that keeps hose water out: ask"
                " your water company."
            ),
            "Full shade in summer, from a frame, a tree or a wall.",
            "Ground that falls away a little: water must leave, and not into a well, a ditch or the neighbour's.",
            "No roots under the bed: a tree will eat it from below.",
            "Neighbours far enough away, and not downwind. Ask what your place allows before you build.",
            "Room before the face: the lane walks several feet before the first slice, and a barrow has to turn.",
        ),
    )


@drawing("lane.filling")
def filling() -> Drawing:
    """Filling, raking and wetting the base."""
    ground, shapes = 286, []
    for step, left in enumerate((30, 330, 630)):
        shapes += [part(f"M{left - 20} {ground}h270"), box(left - 6, ground - 2 * FOOT, 6, 2 * FOOT, "wood")]
        base = track([(left, ground - 40), (left + 150, ground - 40), (left + 190, ground), (left, ground)], True)
        if step == 0:
            base = track(
                [
                    (left, ground - 20),
                    (left + 60, ground - 46),
                    (left + 110, ground - 16),
                    (left + 150, ground - 30),
                    (left + 190, ground),
                    (left, ground),
                ],
                True,
            )
        shapes.append(ink(base, "bedding"))
    shapes += [
        ink(f"M236 {ground}q30 -52 62 0z", "bedding"),
        moved(shovel(0, 0, 62, 0.8), 128, ground - 40),
        bending(214, ground, -1, ((166, ground - 60), (214, ground - 86))),
        moved(ink("M-2.5 -150h5v150h-5z", "wood", "part"), 452, ground - 52, 52),
        stroke(
            f"M430 {ground - 52}h44" + "".join(f"M{x} {ground - 52}v12" for x in (430, 441, 452, 463, 474)), "metal"
        ),
        standing(580, ground, -1, ((520, ground - 112), (546, ground - 124))),
        "".join(drop(780 - 14 * n, ground - 98 + 9 * n, 0.7) for n in range(4)),
        "".join(drop(770 - 16 * n, ground - 76 + 8 * n, 0.7) for n in range(3)),
        standing(856, ground, -1, ((826, ground - 122), (838, ground - 112))),
        stroke(f"M896 {ground - 3}Q800 {ground + 6} 818 {ground - 60}Q826 {ground - 100} 832 {ground - 116}", "hose"),
        stroke(f"M832 {ground - 116}L806 {ground - 126}", "hose"),
        ink(f"M808 {ground - 136}l-14 -6l-8 30l14 2z", "metal"),
        key(34, 30, 1),
        key(334, 30, 2),
        key(634, 30, 3),
        strong(56, 36, "fill with compost"),
        strong(356, 36, "rake level, a foot deep"),
        strong(656, 36, "wet, in 7 or 8 goes"),
        words(656, 56, "then wait a week"),
    ]
    return Drawing(
        "filling",
        "Fill, rake and wet; then wait a week",
        "The base has to be level, moist all through, and cool before a worm goes in.",
        plate(900, 312, shapes),
        "Three steps: one shovels compost from a barrow into the box; one rakes it level with a sloping front; one wets"
        " it with a rose on a hose.",
        keys=(
            (
                "Finished, cool compost that smells of earth. Wet it before you shovel when it is dusty. Lift half"
                " loads, with your legs."
            ),
            "A foot deep, level on top, its front a slope of about 45 degrees: that is the first face.",
            (
                "At most half an inch (13 mm) in a go, four goes a day for two days, through a rose, the head with many"
                " holes. Stop when a hard squeeze gives several drops. Then wait a week and put a thermometer in."
            ),
        ),
    )


def lamp(x: float) -> str:
    """A lamp that hangs over a bed."""
    return (
        part(f"M{x} 56v20")
        + ink(f"M{x - 18} 96l9 -20h18l9 20z", "metal", "part")
        + stroke(f"M{x - 16} 106l-8 16M{x} 106v18M{x + 16} 106l8 16", "heat")
    )


def leaf(x: float, y: float, turn: float = 0) -> str:
    """One leaf for the cover of leaves."""
    return moved(ink("M-24 0q22 -26 50 -6q-22 24 -50 6z", "leaf", "part") + crease("M-20 0q20 -10 42 -6"), x, y, turn)


@drawing("lane.evenings")
def evenings() -> Drawing:
    """The first seven evenings after the worms went in: the table of the first seven days, drawn."""
    half_inch = 4

    def fed(left: float, thick: float) -> str:
        return ink(
            f"M{left + 78} 196h{number(thick)}L{number(left + 108 + thick)} 226h{number(-thick)}z", "feed", "part"
        )

    done = ("worms in, lamp", "lamp on", "lamp on", "feed, leaves", "measure", "squeeze, feed", "look under")
    shapes = []
    for evening in range(1, 8):
        left, top = 8 + 127 * (evening - 1), 56
        shapes += [f'<path class="part" d="M{left} {top}h119v176h-119z"/>', strong(left + 6, 26, f"evening {evening}")]
        shapes.append(words(left + 6, 46, done[evening - 1]))
        shapes += [ink(track([(left + 6, 196), (left + 78, 196), (left + 108, 226), (left + 6, 226)], True), "bedding")]
        if evening == 1:
            shapes += [
                lamp(left + 58),
                worms(left + 16, 176, 66, 14, 9, 0.7),
            ]
        elif evening in (2, 3):
            shapes += [
                lamp(left + 58),
                worms(left + 14, 202, 62, 16, 6, 0.6),
                worm(left + 30, 188, 10, 0.7) if evening == 2 else "",
            ]
        elif evening == 4:
            shapes += [fed(left, half_inch), worms(left + 30, 204, 52, 14, 8, 0.6), leaf(left + 36, 118)]
            shapes += [arrow((left + 52, 130), (left + 82, 176))]
            shapes += [drop(left + 92 + 7 * place, 140 + 20 * place, 0.6) for place in range(3)]
        elif evening == 5:
            shapes += [
                fed(left, half_inch),
                worms(left + 30, 204, 48, 14, 8, 0.6),
                thermometer(left + 72, 128, 84, -15, 0.4),
            ]
        elif evening == 6:
            shapes += [fed(left, 2 * half_inch), worms(left + 34, 204, 48, 14, 9, 0.6)]
            shapes += [moved(fist() + "".join(drop(x, 148, 1.5) for x in (26, 60, 94)), left + 20, 76, 0, 0.46)]
        else:
            shapes += [
                fed(left, 2 * half_inch),
                worms(left + 44, 202, 44, 16, 10, 0.6),
                worm(left + 97, 212, 45, 0.6),
                worm(left + 88, 202, 40, 0.6),
                leaf(left + 86, 138, -40),
                arrow((left + 92, 184), (left + 92, 156)),
                tick(left + 18, 120),
            ]
    shapes.append(words(8, 256, "no feed for three days"))
    shapes.append(part("M8 264H381M389 264H635M643 264H889"))
    shapes.append(words(389, 256, "first layer: ½ in"))
    shapes.append(words(643, 256, "next layer: 1 in"))
    return Drawing(
        "evenings",
        "Seven evenings with new worms",
        "Light on, lid off, little food: they settle by themselves within a week.",
        plate(905, 276, shapes),
        "Seven small pictures of a bed, an evening each. Worms go in under a lamp, which is on for three nights;"
        " nothing is fed. On the fourth evening a first thin layer is laid; on the fifth a thermometer stands in it."
        " On the sixth a handful is squeezed, and the next layer is twice as thick. On the last the leaves are lifted,"
        " and worms are in the feed.",
        keys=(
            (
                "Wet your hands and spread the worms over the top. Hang up a battery lamp: they go down, not away. Do"
                " not bury them."
            ),
            "Lamp on, no feed. A few on the boards are usual: put them back.",
            "Lamp on, no feed. Do they still leave in numbers? The bed is too wet, too warm or too fresh.",
            "The first layer, ½ in (1.3 cm) thick, under 86 °F (30 °C). Water it, and cover it with leaves.",
            "Push a thermometer into the layer. Over 86 °F (30 °C): rake the layer off.",
            (
                "Squeeze a handful from the face: it drips freely, but does not run. Lift the leaves. Is the layer"
                " nearly gone? Then lay the next one, 1 in (2.5 cm)."
            ),
            "Was it not? Look again, and wait. Worms in the feed and a smell of earth are what you want to find.",
        ),
    )


@drawing("lane.laying")
def laying() -> Drawing:
    """Laying one feeding square to the face."""
    ground, left, high = 300, 40, 150
    slope = 150
    top, foot = 430, 430 + slope
    thick = 20
    shapes = [
        part(f"M0 {ground}H900"),
        ink(track([(left, ground - high), (top, ground - high), (foot, ground), (left, ground)], True), "bedding"),
        worms(250, ground - high + 18, 200, high - 34, 22),
        ink(
            track(
                [
                    (top, ground - high),
                    (top + thick * 1.41, ground - high),
                    (foot + thick * 1.41, ground),
                    (foot, ground),
                ],
                True,
            ),
            "feed",
        ),
        bending(
            736,
            ground,
            -1,
            ((foot + 12, ground - 101), (foot + 58, ground - 125)),
            moved(fork(0, 0, 62, 0.85), foot - 54, ground - 66),
        ),
        bucket(820, ground, 1, "feed"),
        "".join(drop(484 + 18 * n, ground - high - 30 + 18 * n, 0.8) for n in range(4)),
        strong(top - 30, ground - high - 26, "½ in at first, later 1 to 2 in", "end"),
        part(track([(top - 24, ground - high - 30), (top + 16, ground - high + 6)])),
        key(436, 60, 1, (top + 60, ground - high + 54), "feed"),
        key(120, 60, 3, (320, ground - 80), "worms come up|into the feed"),
        key(610, 60, 2, (526, ground - high + 4), "water, at once"),
        arrow((468, ground - 40), (532, ground - 40)),
        arrow((foot + 46, ground - 10), (foot + 92, ground - 10)),
        words(foot + 46, ground + 20, "the face walks this way"),
    ]
    return Drawing(
        "laying",
        "One feeding is a thin coat on the slope",
        "Thin, even, square to the face, and only when the last one is gone.",
        plate(900, 330, shapes),
        "A lane from the side at its face. Someone lays a thin even layer of feed on the slope with a fork; water is"
        " sprinkled on it; worms come up from behind.",
        keys=(
            (
                "Half an inch (1.3 cm) at first, later one to two inches (2.5 to 5 cm). More than three heats"
                " up and drives the worms away."
            ),
            "Sprinkle at once: the layer should drip freely when you squeeze it, and not run.",
            "The worms sit close behind the face and come into the new layer from below.",
        ),
    )


@drawing("lane.scales")
def eight_and_eighty() -> Drawing:
    """8 ft and 80 ft of the same section on one scale."""
    foot, ground = 10.0, 200
    shapes = []
    for row, (length, base) in enumerate(((8, 90), (80, ground))):
        high = 15
        shapes += [
            part(f"M20 {base}H880"),
            ink(
                track(
                    [
                        (30, base - high),
                        (30 + length * foot - high, base - high),
                        (30 + length * foot, base),
                        (30, base),
                    ],
                    True,
                ),
                "bedding",
            ),
            ink(
                track(
                    [
                        (30 + length * foot - high, base - high),
                        (32.5 + length * foot - high, base - high),
                        (33 + length * foot, base),
                        (30 + length * foot, base),
                    ],
                    True,
                ),
                "feed",
            ),
        ]
        person_at = 30 + length * foot + 22 if row == 0 else 858
        shapes += [
            moved(standing(0, 0, -1), person_at, base, 0, 0.25),
            strong(150 if row == 0 else 30, base - 24, f"{length} ft: {('to learn', 'to produce')[row]}"),
        ]
    shapes += [
        "".join(f'<path class="part" d="M{30 + 80 * n} {ground + 12}v8"/>' for n in range(11)),
        part(f"M30 {ground + 16}H830"),
        words(30, ground + 40, "every mark is 8 ft (2.4 m)"),
        key(330, 66, 1, (97, 80)),
        key(560, 150, 2, (560, 190)),
    ]
    return Drawing(
        "scales",
        "The same section, ten times as long",
        "What you learn on the short one holds for the long one; but a long lane is fed along its side.",
        plate(900, 252, shapes),
        "Two lanes from the side on one scale: 8 ft (2.4 m) with a person beside it, and 80 ft (24 m) of the same"
        " height.",
        keys=(
            "One face, one barrow, half an hour most weeks, a look every second or third day. Mistakes stay small.",
            (
                "The same face and the same layer where it is fed on its end; fed along its side, all of its length is"
                " face."
            ),
        ),
    )
