"""Small pictures on the sheets to fill in by hand: where and how each figure is taken."""

from collections.abc import Iterable

from calc.drawings.breeding_work import tray
from calc.drawings.lane_work import layer, section
from calc.drawings.moisture_work import GUIDE, six_hands
from calc.drawings.parts import arrow, box, bucket, ink, moved, part, strong, thermometer, track, words


def small(width: float, height: float, shapes: Iterable[str]) -> str:
    """A picture on plain paper, without a pad."""
    return (
        f'<svg class="plate" viewBox="0 0 {width:g} {height:g}" aria-hidden="true" focusable="false">'
        f"{''.join(shapes)}</svg>"
    )


def lines(x: float, y: float, said: str) -> str:
    """Words on several lines, as large as a sheet on paper needs them."""
    return "".join(words(x, y + 24 * nth, line) for nth, line in enumerate(said.split("|")))


def hands() -> list[tuple[str, str]]:
    """(picture, moisture) of each hand of the squeeze test."""
    return [(small(196, 184, [moved(hand, 2, 2)]), share) for hand, (share, _) in zip(six_hands(), GUIDE)]


def lane() -> str:
    """Three thermometers in a lane, a hand deep."""
    ground = 170
    body, top, foot = section(20, ground, 7, 2)
    high = 80
    return small(
        450,
        200,
        [
            part(f"M0 {ground}H450"),
            body,
            layer((top, ground - high), (foot, ground), 12),
            *(thermometer(x, ground - high - 44, 84, 0, 0.55) for x in (56, 140, top - 18)),
            lines(top + 40, 46, "4 in (10 cm) deep,|three places,|the same hour"),
            words(24, ground + 22, "back"),
            words(foot - 18, ground + 22, "face"),
        ],
    )


def breeding() -> str:
    """A thermometer in a tray half-way up the rack, its point in the bedding."""
    shapes = [
        box(30, 20, 12, 170, "wood"),
        box(318, 20, 12, 170, "wood"),
        *(box(24, base, 312, 8, "wood", "part") for base in (78, 134, 190)),
        *(tray(70, base, 220, 38, 0, 0) for base in (78, 190)),
        tray(70, 134, 220, 38, 5, 3),
        thermometer(200, 66, 52, 0, 0.6),
        lines(346, 112, "point in the|bedding, middle|of the rack"),
    ]
    return small(500, 204, shapes)


def heap() -> str:
    """A heap with its long thermometer in its middle and near its outside."""
    ground = 180
    shapes = [
        part(f"M0 {ground}H430"),
        ink(track([(40, ground), (96, 74), (274, 74), (330, ground)], True), "feed"),
        thermometer(186, 24, 124, 0, 0.8),
        thermometer(104, 40, 84, -18, 0.7),
        lines(326, 60, "the middle, and one|place near the skin;|write both"),
    ]
    return small(530, 200, shapes)


def harvest() -> str:
    """What was cut is weighed in a bucket."""
    shapes = [
        part("M0 190H300"),
        bucket(80, 158, 1.25, "castings", 0.8),
        box(36, 158, 88, 14, "metal"),
        ink("M50 172h60v18h-60z", "paper", "part"),
        arrow((140, 110), (188, 110)),
        strong(200, 96, "weigh the bucket,"),
        strong(200, 118, "take its own weight off"),
    ]
    return small(420, 200, shapes)


PICTURES = {"lane": lane, "breeding": breeding, "heap": heap, "harvest": harvest}
