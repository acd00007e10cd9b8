"""A lane to scale on one day of its year: what lies in it, where its boards stand, who works at it, and the days below.

Two layouts of one drawing, for a desk and for a telephone; and a strip of six weeks for who sees no motion.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import radians, sin, tan

from calc.drawings import parts
from calc.drawings.parts import Point, ink, track, words
from calc.engine import FOOT, Band, Handle, View
from calc.engine.kinds import day_text
from calc.lane.model import Day, LanePlan
from calc.page.handle import handle_svg
from calc.page.svg import holding

YEAR = 365
PERSON = 40.0
"""Units of calc.drawings.parts to a foot: its people are 5 ft 6 in."""
WORM = 0.5 * 0.45359237
"""Weight for which one worm is drawn, in a lane of the first size [kg]."""
MOST_WORMS = 60
ONE_PLACE = 1e-6
"""Corners of a bed that lie nearer together are one [m]: which of them is left over must not hang on last bits."""
BOARDS = 2 * FOOT
"""Height of the sides [m]."""
MONTH = 365 / 12
LENGTHS = (0.6, 24.0)
"""Base that can be drawn with a finger [m]."""


@dataclass(frozen=True)
class Sheet:
    """A layout: size, room beside the lane for people, level of the ground, and the most that a foot may be."""

    name: str
    width: float
    height: float
    left: float
    right: float
    ground: float
    largest: float
    people: bool


DESK = Sheet("wide", 1152, 462, 246, 246, 326, 47, True)
PHONE = Sheet("narrow", 360, 300, 24, 30, 168, 34, False)


class Lane:
    """A lane on one day, with the way from metres to units of the picture."""

    def __init__(self, plan: LanePlan, days: Sequence[Day], day: int, sheet: Sheet) -> None:
        self.plan, self.days, self.sheet = plan, days, sheet
        self.today = days[min(day, len(days) - 1)]
        self.floor = max(days[-1].face, plan.base_length) + 0.15
        room = sheet.width - sheet.left - sheet.right
        self.scale = min(sheet.largest / FOOT, room / self.floor)
        self.start = sheet.left

    def x(self, metres: float) -> float:
        return self.start + metres * self.scale

    def y(self, metres: float) -> float:
        return self.sheet.ground - metres * self.scale

    def height(self, place: float) -> float:
        """Of the bed at a place from the back board [m]: the base, then what rises from it."""
        return self.plan.height_at(place - self.plan.base_length) if place > self.plan.base_length else self.base

    @property
    def base(self) -> float:
        return min(self.plan.base_depth, self.plan.bed_height)

    @property
    def sliced(self) -> bool:
        """Whether a slice has been cut by today."""
        return any(day.sliced for day in self.days[: self.today.day + 1])

    def body(self) -> tuple[str, Point, Point]:
        """(the bed with its castings, its part where the worms work, and its feed; top and foot of its face)."""
        plan, day = self.plan, self.today
        slope = tan(radians(plan.face_slope))
        foot = day.height / slope
        top = max(day.cut, day.face - foot)
        clear = max(day.cut, day.face - plan.gap - foot)
        crest = [day.cut + (top - day.cut) * step / 14 for step in range(15)]

        def outline(start: float, end: float, low_start: float, low_end: float) -> list[Point]:
            above = [place for place in crest if start + ONE_PLACE < place < end - ONE_PLACE]
            edge = [start, *above, end]
            return [
                *((self.x(place), self.y(min(self.height(place), day.height))) for place in edge),
                (self.x(low_end), self.y(0)),
                (self.x(low_start), self.y(0)),
            ]

        shapes = ""
        if clear > day.cut + 0.01:
            shapes += ink(track(outline(day.cut, clear, day.cut, min(day.face, clear + foot)), True), "castings")
        shapes += ink(
            track(outline(clear, top, min(day.face, clear + foot) if clear > day.cut else day.cut, day.face), True),
            "bedding",
        )
        crown, toe = (self.x(top), self.y(day.height)), (self.x(day.face), self.y(0))
        if day.feed > 0.01:
            volume = day.feed / plan.feed_bulk_density
            thick = volume / (plan.face_width * day.height / sin(radians(plan.face_slope)))
            wide = max(3.0, thick / sin(radians(plan.face_slope)) * self.scale)
            shapes += ink(
                track([crown, (crown[0] + wide * 0.8, crown[1]), (toe[0] + wide, toe[1]), toe], True), "feed", "part"
            )
        return shapes, crown, toe

    def worms(self, crown: Point, toe: Point) -> str:
        """The herd where it lives: gathered below the top of the bed behind the face."""
        day = self.today
        one = max(WORM, day.worms / MOST_WORMS, self.days[0].worms / 20)
        count = max(1, round(day.worms / one))
        reach = (self.plan.gap + self.plan.foot) * self.scale
        size = min(0.62, max(0.22, self.scale * FOOT / 75))
        high = self.sheet.ground - crown[1]
        shapes = []
        for place in range(1, count + 1):
            across, down = place * 0.618034 % 1, place * 0.754878 % 1
            deep = 0.16 + 0.6 * down * down
            edge = crown[0] + (toe[0] - crown[0]) * deep
            x = edge - 6 - (reach * 0.82) * across * across
            if x > self.x(day.cut) + 8:
                at, turn = f"{x:.0f} {crown[1] + high * deep:.0f}", place * 67 % 140 - 70
                shapes.append(
                    f'<use xlink:href="#shape-worm" transform="translate({at}) rotate({turn}) scale({size:.2f})"/>'
                )
        return "".join(shapes)

    def boards(self) -> str:
        """The side behind the bed, where it stands now: set on as the back is cut."""
        left = self.x(min(self.today.cut, self.today.face))
        right = self.x(max(self.plan.base_length, self.today.cut + 0.3, self.today.face - self.plan.foot))
        high = BOARDS * self.scale
        post = max(3.0, 0.28 * FOOT * self.scale)
        ground = self.sheet.ground
        side = parts.box(left, ground - high, right - left, high, "wood")
        places = [left, (left + right) / 2 - post / 2, right - post]
        return side + "".join(
            parts.box(place, ground - high - post, post, high + post, "wood", "part") for place in places
        )

    def shade(self) -> str:
        """Cloth over the whole floor, on posts."""
        ground, foot = self.sheet.ground, FOOT * self.scale
        high = ground - 6.3 * foot
        left, right = self.x(0) - 0.9 * foot, self.x(self.floor) + 0.9 * foot
        middle = (left + right) / 2
        post = max(2.5, 0.12 * foot)
        posts = "".join(
            parts.box(at, high, post, ground - high, "wood", "part") for at in (left + 6, middle, right - 6)
        )
        sag = 0.22 * foot
        cloth = (
            f"M{left - 8:.1f} {high - 6:.1f}Q{(left + middle) / 2:.1f} {high + sag:.1f} {middle:.1f} {high - 14:.1f}"
            f"Q{(right + middle) / 2:.1f} {high + sag:.1f} {right + 8:.1f} {high - 6:.1f}v{0.24 * foot + 4:.1f}"
            f"Q{(right + middle) / 2:.1f} {high + sag + 0.24 * foot:.1f} {middle:.1f} {high - 10 + 0.24 * foot:.1f}"
            f"Q{(left + middle) / 2:.1f} {high + sag + 0.24 * foot:.1f} {left - 8:.1f} {high - 2 + 0.24 * foot:.1f}z"
        )
        return posts + ink(cloth, "cloth")

    def earth(self) -> str:
        width, ground = self.sheet.width, self.sheet.ground
        strip = f"M0 {ground:.1f}H{width:g}v12H0z"
        return f'<path class="fill-ground" d="{strip}"/><path class="hatch-ground" d="{strip}"/>' + ink(
            f"M0 {ground:.1f}H{width:g}"
        )

    def people(self, crown: Point, toe: Point) -> str:
        """Who feeds, always; who slices, from the first slice on; each with a barrow, all to the scale of the lane."""
        ground, size = self.sheet.ground, self.scale * FOOT / PERSON
        right = toe[0] / size + 74
        floor = 0.0
        reach = [(right - 40, floor - 87), (right + 10, floor - 100)]
        spade = parts.moved(parts.shovel(0, 0, 0), right - 98, floor - 72, 75)
        heap = ink(f"M{right - 106:.1f} {floor - 80:.1f}q16 -26 46 -10z", "feed", "part")
        feeder = parts.barrow(right + 116, floor, "feed") + parts.bending(right + 40, floor, -1, reach, spade + heap)
        shapes = parts.moved(feeder, 0, ground, 0, size)
        shapes += self._said("you feed|the face", min((right + 116) * size, self.sheet.width - 60), size)
        if self.sliced:
            left = self.x(self.today.cut) / size
            hands = [(left - 31, floor - 65), (left - 56, floor - 106)]
            fork = parts.moved(parts.shovel(0, 0, 0), left + 6, floor - 6, -32, 0.8)
            slicer = parts.barrow(left - 196, floor, "castings") + parts.bending(left - 96, floor, 1, hands, fork)
            shapes += parts.moved(slicer, 0, ground, 0, size)
            shapes += self._said("you slice off|the back", max((left - 196) * size, 60), size)
        return shapes

    def acts(self, toe: Point) -> str:
        """Where it is fed, and where it is sliced from the first slice on: for a picture too small for people."""
        y = self.sheet.ground - 1.35 * BOARDS * self.scale - 8
        fed = min(toe[0], self.sheet.width - 48)
        back = self.x(self.today.cut)
        said = words(fed, y, "you feed here", "middle", "said strong")
        if self.sliced and back + 140 < fed:
            said += words(back, y, "you slice here", "start", "said strong")
        return said

    def _said(self, what: str, x: float, size: float) -> str:
        """What somebody does, in two lines above where they work."""
        above = (
            92 * size + 24 if size > 0.8 else 264 * size + 32
        )  # over the load; over the cloth where people are small
        return words(x, self.sheet.ground - above, what, "middle", "said strong")


def _scale_bar(lane: Lane, v: View) -> str:
    """Feet or metres along the floor, in black and white."""
    unit, sign = (FOOT, "ft") if v.units == "us" else (1.0, "m")
    whole = int(lane.floor / unit + 1e-6)
    each = next(step for step in (1, 2, 5, 10, 20, 50) if step * unit * lane.scale >= (14 if lane.sheet.people else 20))
    told = next(
        step for step in (1, 2, 4, 5, 10, 20, 40, 50, 100) if step * unit * lane.scale >= 46 and step % each == 0
    )
    y = lane.sheet.ground + 20
    shapes = [
        f'<rect class="draw-scale{"" if place // each % 2 == 0 else " draw-scale-open"}" x="{lane.x(place * unit):.1f}"'
        f' y="{y:.1f}" width="{min(each, whole - place) * unit * lane.scale:.1f}" height="7"/>'
        for place in range(0, whole, each)
    ]
    shapes += [
        words(lane.x(place * unit), y + 27, f"{place} {sign}" if place == 0 else f"{place}", "middle", "said faint")
        for place in range(0, whole + 1, told)
    ]
    return "".join(shapes)


def _walked(lane: Lane, v: View) -> str:
    """How far the face has moved: a red line along the floor."""
    base, face = lane.x(lane.plan.base_length), lane.x(lane.today.face)
    if face - base < 6:
        return ""
    y = lane.sheet.ground + 23.5
    moved = v.say(lane.today.face - lane.plan.base_length, "m", digits=2)
    told = f"the face has moved {moved}" if lane.sheet.people else f"+{moved}"
    middle = max((base + face) / 2 + 4, base + (86 if lane.sheet.people else 24))
    return f'<path class="stroke-way" d="M{base:.1f} {y}H{face:.1f}"/>' + words(
        middle, y + 41, told, "middle", "said limit"
    )


def _days(lane: Lane, v: View, slice_due: Band | None) -> str:
    """The year below the lane: months, the doubt of the first slice, and where we are."""
    sheet = lane.sheet
    left, right = (0.0 if sheet.people else 8.0), sheet.width - (0.0 if sheet.people else 8.0)
    y = sheet.height - 30

    def at(day: float) -> float:
        return left + 12 + (right - left - 24) * min(day, YEAR) / YEAR

    shapes = [f'<path class="part" d="M{at(0):.1f} {y:.1f}H{at(YEAR):.1f}"/>']
    months = (2, 4, 6, 8, 10, 12) if sheet.people else (3, 6, 9, 12)
    shapes += [f'<path class="part" d="M{at(month * MONTH):.1f} {y - 5:.1f}v10"/>' for month in months]
    shapes += [
        words(
            at(month * MONTH),
            y + 24,
            f"{month} months" if sheet.people or month == 12 else f"{month}",
            "end" if month == 12 else "middle",
            "said faint",
        )
        for month in months
    ]
    shapes.append(words(at(0), y + 24, "worms go in" if sheet.people else "start", "start", "said faint"))
    if slice_due and slice_due.low <= YEAR:
        shapes.append(
            f'<rect class="doubt-bar" x="{at(slice_due.low):.1f}" y="{y - 7:.1f}"'
            f' width="{at(slice_due.high) - at(slice_due.low):.1f}" height="14"/>'
        )
        if slice_due.value <= YEAR:
            shapes.append(f'<path class="doubt-mid" d="M{at(slice_due.value):.1f} {y - 11:.1f}v19"/>')
            told = f"first slice, day {round(slice_due.value)}"
            told += f" ({round(slice_due.low)} to {round(slice_due.high)})"
            middle = min(max(at(slice_due.value), left + 112), right - 112)  # its words stay in the picture
            shapes.append(words(middle, y - 18, told, "middle", "said strong"))
    shown = Handle("shown_day", "x", 0, YEAR)
    return "".join(shapes) + handle_svg(shown, (at(v.shown_day), y), (at(0), at(YEAR)), v)


def picture(v: View, plan: LanePlan, days: Sequence[Day], slice_due: Band | None, sheet: Sheet) -> str:
    """The whole drawing in one layout, with its handles."""
    lane = Lane(plan, days, round(v.shown_day), sheet)
    body, crown, toe = lane.body()
    day = lane.today
    weather = f"air {v.say(day.air, 'degC')}, bed {v.say(day.bed_temperature, 'degC')}"
    shapes = [
        lane.shade() if sheet.people else "",
        lane.boards(),
        lane.earth(),
        body,
        lane.worms(crown, toe),
        lane.people(crown, toe) if sheet.people else lane.acts(toe),
        _scale_bar(lane, v),
        _walked(lane, v),
        words(
            12 if sheet.people else 8,
            22,
            f"Day {day.day}, {day_text(day.on(plan)).rsplit(' ', 1)[0]}",
            "start",
            "said strong",
        ),
        words(12 if sheet.people else 8, 42, weather, "start", "said"),
        words(sheet.width - 12, 22, f"{v.say(day.worms, 'kg', digits=2)} of worms", "end", "said strong"),
        words(sheet.width - 12, 42, f"{v.say(day.eaten, 'kg', digits=2)} of feed eaten today", "end", "said"),
        _days(lane, v, slice_due),
    ]
    low, high = LENGTHS
    base = plan.base_length
    way = (lane.x(low), lane.x(high))
    shapes.append(parts.yours(lane.x(base) - 6, sheet.ground + 64.5, "the base", "end"))
    shapes.append(handle_svg(Handle("lane_length", "x", low, high), (lane.x(base), sheet.ground + 23.5), way, v))
    return holding(f"lane-picture lane-{sheet.name}", sheet.width, sheet.height, shapes)


def strip(v: View, plan: LanePlan, days: Sequence[Day]) -> str:
    """Six weeks of the year side by side, each to the same scale."""
    made = []
    for week in (0, 8, 16, 26, 38, 52):
        lane = Lane(plan, days, min(7 * week, YEAR), Sheet("still", 360, 108, 14, 14, 84, 34, False))
        body, crown, toe = lane.body()
        told = f"week {week}: {v.say(lane.today.worms, 'kg', digits=2)} of worms" if week else "the day the worms go in"
        shapes = [lane.boards(), lane.earth(), body, lane.worms(crown, toe)]
        made.append(f"<figure>{holding('lane-picture', 360, 108, shapes)}<figcaption>{told}</figcaption></figure>")
    return "".join(made)
