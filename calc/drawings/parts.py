"""What drawings by hand are put together from: outlines, numbers, people at work, worms, tools.

Every colour and line weight comes from the style sheet by class (docs/assets/style/6-drawings.css). The main outline is
`ink`, parts within it are `part`, folds and creases are `crease`. A fill may carry the hatch of its material, so that a
photocopy reads the same. Coordinates are those of the drawing, y down.
"""

from collections.abc import Iterable, Sequence
from html import escape

Point = tuple[float, float]

HATCHED = {"feed", "bedding", "castings", "water", "wood", "cloth", "ground", "straw"}
"""Materials with a hatch of their own."""


def number(value: float) -> str:
    """A coordinate with a tenth of a unit, the same text in every Python."""
    return f"{round(value, 1) + 0.0:.1f}".removesuffix(".0")


def track(points: Iterable[Point], closed: bool = False) -> str:
    """Path commands along straight lines."""
    return "M" + "L".join(f"{number(x)} {number(y)}" for x, y in points) + ("z" if closed else "")


def ink(commands: str, fill: str = "", weight: str = "ink") -> str:
    """An outline, filled with a material and its hatch where it has one."""
    shape = f'<path class="{weight} fill-{fill or "none"}" d="{commands}"/>'
    return shape + (f'<path class="hatch-{fill}" d="{commands}"/>' if fill in HATCHED else "")


def part(commands: str) -> str:
    return f'<path class="part" d="{commands}"/>'


def crease(commands: str) -> str:
    return f'<path class="crease" d="{commands}"/>'


def stroke(commands: str, kind: str) -> str:
    """A stroke that is a thing itself: water, heat, red for a limit or a direction."""
    return f'<path class="stroke-{kind}" d="{commands}"/>'


def box(x: float, y: float, width: float, height: float, fill: str = "", weight: str = "ink") -> str:
    return ink(f"M{number(x)} {number(y)}h{number(width)}v{number(height)}h{number(-width)}z", fill, weight)


def disc(x: float, y: float, radius: float, fill: str = "", weight: str = "ink") -> str:
    r = number(radius)
    return ink(
        f"M{number(x - radius)} {number(y)}a{r} {r} 0 1 0 {number(2 * radius)} 0a{r} {r} 0 1 0"
        f" {number(-2 * radius)} 0z",
        fill,
        weight,
    )


def moved(shapes: str, x: float, y: float, turn: float = 0, scale: float = 1) -> str:
    """Shapes at another place, turned clockwise by so many degrees."""
    turned = f" rotate({number(turn)})" if turn else ""
    scaled = f" scale({scale:g})" if scale != 1 else ""
    return f'<g transform="translate({number(x)} {number(y)}){turned}{scaled}">{shapes}</g>'


def mirrored(shapes: str, x: float) -> str:
    """Shapes as a mirror that stands upright at x shows them."""
    return f'<g transform="matrix(-1 0 0 1 {number(2 * x)} 0)">{shapes}</g>'


# ---- words in a picture: few, the rest stands below it as text


def words(x: float, y: float, said: str, anchor: str = "start", kind: str = "said") -> str:
    """A few words; lines are parted by a bar: `you feed|here`."""
    lines = said.split("|")
    spans = "".join(
        f'<tspan x="{number(x)}" dy="{0 if place == 0 else 18}">{escape(text)}</tspan>'
        for place, text in enumerate(lines)
    )
    return f'<text class="{kind}" x="{number(x)}" y="{number(y)}" text-anchor="{anchor}">{spans}</text>'


def strong(x: float, y: float, said: str, anchor: str = "start") -> str:
    return words(x, y, said, anchor, "said strong")


def yours(x: float, y: float, said: str, anchor: str = "start") -> str:
    """A figure of the reader's own, in their ink."""
    return words(x, y, said, anchor, "said yours")


def key(x: float, y: float, count: int, to: Point | None = None, said: str = "", side: str = "right") -> str:
    """A numbered disc; its sentence stands below the picture.

    to: the point that it means; said: what that is, in a word or two beside the disc, on a side of it.
    """
    leader = ""
    if to:
        leader = part(track([(x, y), to])) + f'<circle class="spot" cx="{number(to[0])}" cy="{number(to[1])}" r="3"/>'
    more = 18 * said.count("|")
    beside = {
        "right": (x + 20, y + 5 - more / 2, "start"),
        "left": (x - 20, y + 5 - more / 2, "end"),
        "above": (x, y - 21 - more, "middle"),
        "below": (x, y + 30, "middle"),
    }
    across, down, anchor = beside[side]
    return (
        leader
        + (strong(across, down, said, anchor) if said else "")
        + f'<circle class="key" cx="{number(x)}" cy="{number(y)}" r="13"/><text class="key-number" x="{number(x)}"'
        f' y="{number(y + 5.5)}" text-anchor="middle">{count}</text>'
    )


def span(start: Point, end: Point, said: str, side: float = 0) -> str:
    """A measured length between two points, level or upright, with its words beside it."""
    (x1, y1), (x2, y2) = start, end
    upright = abs(x2 - x1) < abs(y2 - y1)
    ticks = [(x, y, *((6, 0) if upright else (0, 6))) for x, y in (start, end)]
    ends = "".join(track([(x - dx, y - dy), (x + dx, y + dy)]) for x, y, dx, dy in ticks)
    middle = ((x1 + x2) / 2, (y1 + y2) / 2)
    place = (middle[0] + 12 + side, middle[1] + 5) if upright else (middle[0], middle[1] - 9 + side)
    return part(track([start, end]) + ends) + strong(*place, said, "start" if upright else "middle")


def arrow(start: Point, end: Point, kind: str = "way") -> str:
    """An arrow: `way` for where something goes, `water`, `heat`."""
    (x1, y1), (x2, y2) = start, end
    length = max(1e-6, ((x2 - x1) ** 2 + (y2 - y1) ** 2) ** 0.5)
    dx, dy = (x2 - x1) / length, (y2 - y1) / length
    head = [(x2 - 11 * dx - 8 * dy, y2 - 11 * dy + 8 * dx), (x2, y2), (x2 - 11 * dx + 8 * dy, y2 - 11 * dy - 8 * dx)]
    return stroke(track([start, end]) + track(head), kind)


def tick(x: float, y: float) -> str:
    """Right: a tick."""
    return stroke(f"M{number(x)} {number(y)}l9 10l17 -24", "right")


def cross(x: float, y: float) -> str:
    """Wrong: a cross."""
    return stroke(f"M{number(x)} {number(y - 14)}l22 24m0 -24l-22 24", "wrong")


# ---- things


def worm(x: float, y: float, turn: float = 0, scale: float = 1) -> str:
    """A composting worm with its saddle near the head end."""
    body = "M-12 0q6 -8 12 0t12 0"
    return moved(
        f'<path class="worm-halo" d="{body}"/><path class="worm" d="{body}"/><path class="worm-saddle" d="M-5 -3.4q2.6'
        ' -.4 4.4 2.6"/>',
        x,
        y,
        turn,
        scale,
    )


def worms(left: float, top: float, width: float, height: float, count: int, scale: float = 1) -> str:
    """So many worms spread over a rectangle, the same every time."""
    steps = ((place * 0.618034 % 1, place * 0.754878 % 1, place * 67 % 140 - 70) for place in range(1, count + 1))
    return "".join(worm(left + across * width, top + down * height, turn, scale) for across, down, turn in steps)


def cocoon(x: float, y: float, turn: float = 0, scale: float = 1) -> str:
    return moved(
        '<path class="part fill-cocoon" d="M-5 0q0 -4 5 -4t5 4t-5 4t-5 -4zM-5 0l-2.6 0M5 0l2.6 0"/>', x, y, turn, scale
    )


def drop(x: float, y: float, scale: float = 1) -> str:
    return moved('<path class="part fill-drop" d="M0 -8q6 8 6 11.5a6 6 0 0 1 -12 0q0 -3.5 6 -11.5z"/>', x, y, 0, scale)


def thermometer(x: float, y: float, depth: float, turn: float = 0, filled: float = 0.6) -> str:
    """A probe thermometer: a dial on a long stem whose point is `depth` below the dial."""
    hand = -120 + 240 * filled
    dial = disc(0, 0, 19, "paper") + moved(part("M0 0V-12"), 0, 0, hand) + part("M-13 9l-3 3M13 9l3 3M0 -19v4")
    return moved(
        ink(f"M-3 18H3V{number(depth - 8)}L0 {number(depth)}L-3 {number(depth - 8)}z", "metal", "part") + dial,
        x,
        y,
        turn,
    )


def bucket(x: float, y: float, scale: float = 1, filled: str = "castings", level: float = 0.9) -> str:
    """A bucket that stands on y, cut open in front to show how full it is."""
    top = 62 * (1 - level) + 6
    inside = (
        ink(f"M{-29 + top * 0.09:.1f} {top - 68:.1f}H{29 - top * 0.09:.1f}L22 -3H-22z", filled, "part")
        if filled
        else ""
    )
    return moved(
        ink("M-32 -68H32L25 0H-25z", "paper")
        + inside
        + part("M-32 -68H32L25 0H-25z")
        + part("M-30 -66Q0 -112 30 -66")
        + ink("M-34 -72H34V-65H-34z", "paper"),
        x,
        y,
        0,
        scale,
    )


def board(points: Sequence[Point]) -> str:
    return ink(track(points, closed=True), "wood")


def fork(x: float, y: float, turn: float = 0, scale: float = 1) -> str:
    """A garden fork; its tines point down, its handle ends 150 above."""
    return moved(
        ink("M-2.5 -150h5v96h-5z", "wood", "part")
        + ink("M-11 -157h22v8h-22z", "wood", "part")
        + stroke("M-15 0V-40Q-15 -52 0 -54Q15 -52 15 -40V0M-5 0V-50M5 0V-50", "metal"),
        x,
        y,
        turn,
        scale,
    )


def shovel(x: float, y: float, turn: float = 0, scale: float = 1) -> str:
    return moved(
        ink("M-2.5 -150h5v112h-5z", "wood", "part")
        + ink("M-11 -157h22v8h-22z", "wood", "part")
        + ink("M-15 -42H15V-12Q12 4 0 10Q-12 4 -15 -12z", "metal"),
        x,
        y,
        turn,
        scale,
    )


def barrow(x: float, y: float, load: str = "feed") -> str:
    """A wheelbarrow on the ground at y, its wheel to the right."""
    heap = ink("M-44 -46q40 -34 86 0z", load)
    return moved(
        heap
        + ink("M-56 -48H56L34 -16H-34z", "metal")
        + stroke("M-34 -18L-112 -42M-30 -18L-40 0M34 -16L58 -14", "timber")
        + disc(60, -14, 14, "paper")
        + disc(60, -14, 3, "ink", "part"),
        x,
        y,
    )


# ---- people, for scale and for how it is done


def limb(points: Sequence[Point], width: float, kind: str) -> str:
    commands = track(points)
    return (
        f'<path class="limb-edge" style="stroke-width:{number(width + 4.4)}" d="{commands}"/>'
        f'<path class="limb-{kind}" style="stroke-width:{number(width)}" d="{commands}"/>'
    )


def glove(x: float, y: float) -> str:
    return disc(x, y, 7.5, "glove")


def boot(x: float, y: float, toe: int) -> str:
    """A boot with its sole on y; toe is 1 to the right, -1 to the left."""
    return ink(
        f"M{number(x - 8 * toe)} {number(y - 30)}h{16 * toe}v14q{2 * toe} 6 {10 * toe} 8q{4 * toe} 2 {4 * toe}"
        f" 8h{-30 * toe}z",
        "boot",
    )


def head(x: float, y: float, facing: int = 1) -> str:
    """A head in a hat with a brim, looking to one side."""
    f = facing
    return (
        disc(x, y, 17, "skin")
        + crease(f"M{number(x + 9 * f)} {number(y + 1)}l{7 * f} 4l{-5 * f} 2")
        + ink(
            f"M{number(x - 26 * f)} {number(y - 5)}q{28 * f} -10 {54 * f} 2q{-6 * f} -4 {-13 * f} -5q{2 * f} -15"
            f" {-14 * f} -16q{-15 * f} 1 {-13 * f} 15z",
            "hat",
        )
    )


def person(
    hip: Point,
    neck: Point,
    hands: Sequence[Sequence[Point]],
    feet: Sequence[Sequence[Point]],
    facing: int = 1,
    behind: str = "",
) -> str:
    """Somebody at work: hip and neck; for each arm elbow and hand, for each leg knee and foot; the far limbs first.

    behind: what is held between the two arms and drawn before the near one.
    """
    (far_arm, near_arm), (far_leg, near_leg) = hands, feet
    shoulder = (neck[0], neck[1] + 10)

    def leg(joints: Sequence[Point]) -> str:
        knee, foot = joints
        return limb([hip, knee, (foot[0], foot[1] - 20)], 19, "trousers") + boot(foot[0], foot[1], facing)

    def arm(joints: Sequence[Point]) -> str:
        return limb([shoulder, *joints], 13, "shirt") + glove(*joints[-1])

    dx, dy = neck[0] - hip[0], neck[1] - hip[1]
    length = (dx * dx + dy * dy) ** 0.5
    crown = (neck[0] + dx / length * 22, neck[1] + dy / length * 22)
    return (
        arm(far_arm)
        + leg(far_leg)
        + leg(near_leg)
        + limb([hip, (neck[0], neck[1] + 6)], 30, "shirt")
        + limb([hip, (hip[0] + dx * 0.28, hip[1] + dy * 0.28)], 29, "trousers")
        + head(*crown, facing)
        + behind
        + arm(near_arm)
    )


def standing(x: float, ground: float, facing: int = 1, reach: Sequence[Point] | None = None) -> str:
    """Somebody of 5 ft 6 at 40 to the foot, upright, with hands at `reach` (far, near), else at their sides."""
    f = facing
    hands = reach or ((x + 12 * f, ground - 104), (x - 6 * f, ground - 102))
    neck = (x + 2 * f, ground - 178)
    elbows = [((neck[0] + hand[0]) / 2 - 10 * f, (neck[1] + hand[1]) / 2 + 14) for hand in hands]
    return person(
        (x, ground - 98),
        neck,
        [(elbows[0], hands[0]), (elbows[1], hands[1])],
        [((x + 9 * f, ground - 54), (x + 10 * f, ground)), ((x - 7 * f, ground - 54), (x - 9 * f, ground))],
        facing,
    )


def bending(x: float, ground: float, facing: int = 1, reach: Sequence[Point] | None = None, behind: str = "") -> str:
    """Somebody who bends over their work with knees bent; hands at `reach` (far, near)."""
    f = facing
    neck = (x + 38 * f, ground - 146)
    hands = reach or ((x + 92 * f, ground - 84), (x + 84 * f, ground - 78))
    elbows = [((neck[0] + hand[0]) / 2 - 6 * f, (neck[1] + hand[1]) / 2 + 12) for hand in hands]
    return person(
        (x - 8 * f, ground - 82),
        neck,
        [(elbows[0], hands[0]), (elbows[1], hands[1])],
        [((x + 28 * f, ground - 56), (x + 14 * f, ground)), ((x + 20 * f, ground - 48), (x - 12 * f, ground))],
        facing,
        behind,
    )


def kneeling(x: float, ground: float, facing: int = 1, reach: Sequence[Point] | None = None, behind: str = "") -> str:
    """Somebody on one knee."""
    f = facing
    neck = (x + 14 * f, ground - 128)
    hands = reach or ((x + 60 * f, ground - 70), (x + 54 * f, ground - 60))
    elbows = [((neck[0] + hand[0]) / 2 - 8 * f, (neck[1] + hand[1]) / 2 + 14) for hand in hands]
    return person(
        (x, ground - 56),
        neck,
        [(elbows[0], hands[0]), (elbows[1], hands[1])],
        [((x + 38 * f, ground - 58), (x + 36 * f, ground)), ((x + 10 * f, ground - 12), (x - 34 * f, ground - 2))],
        facing,
        behind,
    )


# ---- the whole picture


def plate(width: float, height: float, shapes: Iterable[str], grid: float = 0, true: bool = False) -> str:
    """A drawing by hand on its pad.

    grid: the side of a square foot in it, drawn underneath; true: 96 units are an inch on paper.
    """
    under = f'<path class="pad" d="M0 0H{number(width)}V{number(height)}H0z"/>'
    if grid:
        lines = [f"M{number(grid * step)} 0V{number(height)}" for step in range(1, int(width / grid) + 1)]
        lines += [f"M0 {number(height - grid * step)}H{number(width)}" for step in range(1, int(height / grid) + 1)]
        under += f'<path class="pad-grid" d="{"".join(lines)}"/>'
    size = f' width="{number(width)}" data-true=""' if true else ""
    return (
        f'<svg class="plate"{size} viewBox="0 0 {number(width)} {number(height)}" aria-hidden="true" focusable="false">'
        f"{under}{''.join(shapes)}</svg>"
    )
