"""What the farm's lanes and trays will ask and give: the model of a lane and the pipeline of trays, counted from
today.
"""

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import replace
from datetime import date, timedelta
from functools import lru_cache
from math import ceil, floor
from typing import NamedTuple

from calc.breeding.trays import starts, trays
from calc.climate.season import Season, season
from calc.engine import FOOT, Band, ends_wanted
from calc.engine.describe import typical
from calc.engine.run import answer
from calc.farm.figures import USUAL, Own
from calc.farm.log import Book
from calc.farm.shelf import SCREEN_AFTER, screened_share, to_screen
from calc.farm.tables import WEEKDAYS, Row
from calc.lane.chain import Shares
from calc.lane.model import Course, LanePlan, course_of
from calc.lane.stages import HIGH, LOW, TYPICAL

YEAR = 365
OLDEST = 2 * YEAR
"""A lane older than this is followed from its last year but one: full, at its full height, its base long castings."""
HORIZON = 27 * 7
"""Days ahead of today that are looked at."""
BEHIND = 28
"""Days before today from which the lane's present pace is read."""
PACE_OF = 8
"""Layers from which that pace is read."""
NEAR = 63
"""Days ahead in which so many layers mostly lie."""
LONGEST_WAIT = 60.0
"""Days between two feedings that still count as a pace: a lane that waits longer is resting."""
LONGEST_BETWEEN = 120
"""Days that lie between two slices at most, where a farm's own day falls between those of the model. A longer rest is
counted as so many, so that the next day does not hang on how far ahead is looked.
"""


FEW_LEFT = 0.25
"""Share of the worms that were put in below which a lane is said to have lost them."""


class Slice(NamedTuple):
    """One cut off the back of a lane. Weights in kg."""

    day: int  # counted from today; below nothing: late
    length: float  # [m]
    mass: float  # as sliced
    passes: float  # of it passes the screen, once dried; nothing of the base that was bought


class Lane(NamedTuple):
    """A lane from today on. Days are counted from today; weights in kg."""

    name: str
    area: float  # of its base [m²]
    worms: float
    bed_temperature: float
    fed: tuple[tuple[int, float, float], ...]  # (day, weight, thickness [m]) of each layer, from BEHIND days ago on
    watered: tuple[float, ...]  # on each day from today
    sliced: tuple[
        tuple[int, float, float], ...
    ]  # (day, length [m], weight as sliced) of each slice, from BEHIND days ago on
    hours: tuple[float, ...]  # on each day from today
    air: tuple[float, ...]  # mean of each day, and
    warmest: tuple[float, ...]  # its noon [°C]
    followed: tuple[LanePlan, int, bool]  # the plan, its last day, and whether it is old
    days: tuple[int, int, int]  # of the plan: today, the first and the last one looked at

    @property
    def lost(self) -> bool:
        """Whether by the season most of its worms have died by now, in ice above all."""
        return self.worms < FEW_LEFT * self.followed[0].worm_mass

    def slices(self, done: int | None, case: int = TYPICAL, late_since: int = -BEHIND) -> list[Slice]:
        """The slices to come, late ones first, in one case of the model.

        A slice is due when the face has moved on by one since the last, which was done so many days from today. Where
        none was ever written down, the model's own days count, the last of them from late_since on as late. What
        follows a late one is counted from today.
        """
        now, since, end = self.days
        known = [one for one in _slices(*self.followed, case) if one.day <= end]
        if not known:
            return []
        days = [one.day for one in known]
        if done is not None:
            due = _place(days, now + done) + 1
        else:
            past = bisect_right(days, now - 1)
            missed = past > 0 and days[past - 1] >= max(since, now + late_since)
            due = float(past if missed else past + 1)
        found: list[Slice] = []
        while due <= len(days) and (day := _day_of(days, due)) <= end:
            found.append(known[ceil(due - 1e-9) - 1]._replace(day=day - now))
            due = (_place(days, now) if day < now else due) + 1
        return found

    def fed_each(self) -> tuple[float, float, float] | None:
        """(days between layers, weight, thickness [m]) at the present pace; None while the lane is resting."""
        coming = [layer for layer in self.fed if layer[0] >= -BEHIND][:PACE_OF]
        if len(coming) < 2:
            return None
        between = (coming[-1][0] - coming[0][0]) / (len(coming) - 1)
        if between > LONGEST_WAIT:
            return None
        count = len(coming)
        return between, sum(layer[1] for layer in coming) / count, sum(layer[2] for layer in coming) / count

    def sliced_each(self) -> tuple[float, float, float] | None:
        """(days between slices, length [m], weight) over what is ahead; None when fewer than two are."""
        if len(self.sliced) < 2:
            return None
        between = (self.sliced[-1][0] - self.sliced[0][0]) / (len(self.sliced) - 1)
        return between, self.sliced[0][1], self.sliced[0][2]


def plan_of(lane: Row, ration: float, place: Season, today: date, own: Own = USUAL) -> LanePlan:
    """The model's plan of a row of the lanes' table, with the farm's own figures."""
    plan = LanePlan(
        lane_length=lane["length"],
        lane_width=lane["width"],
        bed_height=lane["height"],
        base_depth=min(FOOT, lane["height"]),
        fed_on=lane["fed_on"],
        worm_mass=lane["worms"],
        ration=ration,
        start_date=lane["started"],
        bed_temperature=None,
        season=place,
        **dict(own.lane),  # type: ignore[arg-type]
    )
    age = (today - plan.start_date).days
    if age > OLDEST:
        years = (age - YEAR) // YEAR
        full = plan.full_stocking * min(plan.bed_area, plan.active_area)
        plan = replace(
            plan,
            start_date=plan.start_date + timedelta(days=years * YEAR),
            worm_mass=max(full, 0.05),
            base_depth=lane["height"],
        )
    return plan


def lane_ahead(lane: Row, ration: float, place: Season, today: date, horizon: int = HORIZON, own: Own = USUAL) -> Lane:
    """A lane of the table from today on."""
    plan = plan_of(lane, ration, place, today, own)
    if ends_wanted():
        horizon = max(horizon, HORIZON)  # once for all the farm's pages
    return _ahead(str(lane["name"]), plan, today, horizon, is_old(lane, today))


def is_old(lane: Row, today: date) -> bool:
    """Whether a lane's base was sliced long ago, so that all that comes off its back is castings."""
    return bool((today - lane["started"]).days > OLDEST)


def _product_of(volume: float, shares: Shares) -> float:
    """Weight that passes the screen [kg] of castings as sliced [m³]."""
    return volume * shares.volume_dried * shares.product_share * shares.castings_bulk_density


STRIDE = 91
"""A lane is followed to the end of such a stretch of days, so that another day is not followed anew."""


@lru_cache(maxsize=256)
def _course(plan: LanePlan, last: int) -> Course:
    if plan.product_share != LanePlan.product_share:  # the lane walks the same, whatever passes the screen
        return _course(replace(plan, product_share=LanePlan.product_share), last)
    return course_of(plan, last)


@lru_cache(maxsize=768)
def _slices(plan: LanePlan, last: int, old: bool, case: int) -> tuple[Slice, ...]:
    """Each slice of a lane as the model has it, by its day from the plan's first."""
    shares = plan.shares
    course = _course(plan, last) if case == TYPICAL else course_of(plan, last, case)
    return tuple(
        [
            Slice(
                day,
                length,
                (castings + base) * shares.sliced_density,
                _product_of(castings + (base if old else 0.0), shares),
            )
            for day, length, castings, base in course.sliced
        ]
    )


def _place(days: Sequence[int], day: int) -> float:
    """How many slices a lane has moved by a day, parts of them by the days between two; days: those of its slices,
    ascending, one at least.

    >>> [_place([10, 20, 60], day) for day in (0, 5, 10, 15, 40, 60)]
    [0.0, 0.5, 1.0, 1.5, 2.5, 3.0]
    """
    past = bisect_right(days, day)
    if past == len(days):
        return past + min(1.0, (day - days[-1]) / LONGEST_BETWEEN)
    before = days[past - 1] if past else days[0] - _between(days, 1)
    return past + max(0.0, (day - before) / (days[past] - before))


def _day_of(days: Sequence[int], place: float) -> int:
    """The day on which a lane has moved so many slices, one at least: the other way round.

    >>> [_day_of([10, 20, 60], place) for place in (1.0, 1.5, 2.5, 3.0)]
    [10, 15, 40, 60]
    """
    past = int(place + 1e-9)
    return days[past - 1] + round((place - past) * _between(days, past))


def _between(days: Sequence[int], past: int) -> int:
    """Days from so many slices to the next, at most LONGEST_BETWEEN."""
    return min(days[past] - days[past - 1], LONGEST_BETWEEN) if past < len(days) else LONGEST_BETWEEN


def _ahead(name: str, plan: LanePlan, today: date, horizon: int, old: bool) -> Lane:
    now = (today - plan.start_date).days
    first, end, since = max(now, 0), max(now, 0) + horizon, max(0, now - BEHIND)
    last = -(-end // STRIDE) * STRIDE if ends_wanted() else end
    course = _course(plan, last)
    to_come = [0.0] * max(0, -now)
    assert plan.season is not None
    weather = [(today + timedelta(days=day)).timetuple().tm_yday for day in range(8)]
    return Lane(
        name=name,
        area=plan.bed_area,
        worms=course.worms[first],
        bed_temperature=course.bed_temperature[first],
        fed=tuple((day - now, weight, thick) for day, weight, thick in course.fed if since <= day <= end),
        watered=(*to_come, *course.watered[first : end + 1]),
        sliced=tuple(
            (one.day - now, one.length, one.mass)
            for one in _slices(plan, last, old, TYPICAL)
            if since <= one.day <= end
        ),
        hours=(*to_come, *course.hours[first : end + 1]),
        air=tuple(plan.season.air(day) for day in weather),
        warmest=tuple(plan.season.air(day) + plan.season.swing(day) for day in weather),
        followed=(plan, last, old),
        days=(now, since, end),
    )


def lanes_ahead(
    lanes: Sequence[Row],
    ration: float,
    climate: str,
    monthly_temperature: Sequence[float] | None,
    today: date,
    horizon: int = HORIZON,
    own: Own = USUAL,
) -> list[Lane]:
    """Every lane of the table from today on, for at least so many days."""
    place = season(climate, monthly_temperature)
    return [lane_ahead(lane, ration, place, today, horizon, own) for lane in lanes]


def lanes_near(
    lanes: Sequence[Row],
    ration: float,
    climate: str,
    monthly_temperature: Sequence[float] | None,
    today: date,
    horizon: int = NEAR,
    own: Own = USUAL,
) -> list[Lane]:
    """As lanes_ahead, but followed only as far as this week's feed and water ask: many times over, for a range."""
    place = season(climate, monthly_temperature)
    found = []
    for row in lanes:
        lane = lane_ahead(row, ration, place, today, horizon, own)
        far = len(lane.fed) < PACE_OF  # its pace is read off layers that lie further ahead
        found.append(lane_ahead(row, ration, place, today, own=own) if far else lane)
    return found


def slices_of(lane: Lane, book: Book, today: date, case: int = TYPICAL) -> list[Slice]:
    """What is to be sliced off a lane and when, by its model and by the slices in the logbook: the one answer for the
    week's list, for promises and for money.

    A farm that writes down what it screens and never what it slices has sliced whatever was due before it screened.
    """
    days = book.days.get((lane.name, "castings"))
    screened = book.of.get("screened")
    sliced_since = (screened[-1].day - today).days if screened and "castings" not in book.of else -BEHIND
    return lane.slices((days[-1] - today).days if days else None, case, max(-BEHIND, sliced_since))


def goods_ahead(lanes: Sequence[Lane], book: Book, today: date, case: int = TYPICAL) -> list[tuple[int, float]]:
    """[(days from today, weight [kg])] of castings that become fit to sell: what was sliced and waits for the screen,
    and the slices to come, each as many days after its own as screening takes, a late one as if sliced today.
    """
    waiting = to_screen(book, screened_share(lanes[0].followed[0] if lanes else None))
    found = [(max(0, (waiting[0] - today).days), waiting[1])] if waiting else []
    for lane in lanes:
        found += [
            (max(0, one.day) + SCREEN_AFTER, one.passes) for one in slices_of(lane, book, today, case) if one.passes
        ]
    return found


def product_by_week(lanes: Sequence[Lane], book: Book, today: date, weeks: int, ends: bool = True) -> list[list[float]]:
    """Castings fit to sell that come in each week from today [kg], in the low, typical and high case.

    Only whoever counts ends asks for them, as each lane is followed twice more; without them all three are the typical
    case.
    """
    found = []
    for case in (LOW, TYPICAL, HIGH) if ends else (TYPICAL,):
        of_case = [0.0] * weeks
        for day, weight in goods_ahead(lanes, book, today, case):
            if day < 7 * weeks:
                of_case[day // 7] += weight
        found.append(of_case)
    return found if ends else [found[0], list(found[0]), list(found[0])]


def hours_by_week(lanes: Sequence[Lane], weeks: int) -> list[float]:
    """Hours of work at the lanes in each week from today; fetching feed and washing down are counted once for all lanes
    that are fed on one day.
    """
    found = [0.0] * weeks
    walked: set[int] = set()
    for lane in lanes:
        for day, hours in enumerate(lane.hours[: 7 * weeks]):
            found[day // 7] += hours
        for day, *_ in lane.fed:
            if 0 <= day < 7 * weeks:
                if day in walked:
                    found[day // 7] -= lane.followed[0].setup_hours
                walked.add(day)
    return found


# ---- trays


class Tray(NamedTuple):
    """What one breeding tray gives and asks, as the page about trays has it."""

    worms: Band  # [kg], less the breeders that are kept back for it
    breeding_days: int
    days_to_sale: int
    hours_per_week: float  # for each tray started a week, once all stages are full


def tray(own: Own = USUAL) -> Tray:
    """A tray at the farm's own figures, at the defaults in use where it has none."""
    entry = trays.calculator
    usual = {name: value for name, value in entry.defaults.items() if isinstance(value, (int, float))}
    return _tray(tuple(sorted((usual | dict(own.tray)).items())))


@lru_cache(maxsize=256)
def _tray(asked: tuple[tuple[str, float], ...]) -> Tray:
    view = answer("breeding.trays", dict(asked))
    rate, grown = view.trays_per_week, view.band("worm_mass_per_week")
    kept = typical(view.replacement_per_week)
    return Tray(
        worms=Band(*(max(0.0, end - kept) / rate for end in (grown.value, grown.low, grown.high))),
        breeding_days=round(view.breeding_days),
        days_to_sale=round(typical(view.days_to_first_sale)),
        hours_per_week=typical(view.labour_hours_per_week) / rate,
    )


def weekday_of(room: Row) -> int:
    """0 for Monday."""
    return list(WEEKDAYS).index(room["weekday"])


def first_start(room: Row, today: date) -> date:
    """The first tray day of a room: on or after its start, or this week's where it has none."""
    begin = room.get("started") or today - timedelta(days=today.weekday())
    return begin + timedelta(days=(weekday_of(room) - begin.weekday()) % 7)


def planned_starts(room: Row, today: date, since: date, until: date) -> list[tuple[date, int]]:
    """[(day, whole trays)] that a room starts by its plan, between two days; fractions are carried over from week
    to week.
    """
    rate, first = float(room["trays_per_week"]), first_start(room, today)
    if rate <= 0 or until < first:
        return []
    found, week = [], max(0, (since - first).days // 7)
    while (day := first + timedelta(days=7 * week)) <= until:
        count = -floor(-rate * (week + 1) + 1e-9) + floor(-rate * week + 1e-9)
        if day >= since and count:
            found.append((day, count))
        week += 1
    return found


assert starts(0.5, 2) == [1, 0]


def batches(room: Row, book: Book, today: date, until: date) -> list[tuple[date, int]]:
    """Trays that were started, by the logbook where it has any of this room, else by the plan; and those to come,
    by the plan.
    """
    logged: dict[date, int] = {}
    for entry in book.of.get("trays", ()):
        if entry.place == room["name"] and entry.amount:
            logged[entry.day] = logged.get(entry.day, 0) + round(entry.amount)
    past = sorted(logged.items())
    oldest = today - timedelta(days=2 * YEAR)
    begun = past[0][0] if past else today
    # before the logbook begins the plan is believed
    earlier = planned_starts(room, today, oldest, begun - timedelta(days=1)) if room.get("started") else []
    return [
        *earlier,
        *past,
        *planned_starts(room, today, today + timedelta(days=0 if not _started_on(logged, today) else 1), until),
    ]


def _started_on(logged: dict[date, int], today: date) -> bool:
    return today in logged


def worms_by_week(rooms: Sequence[Row], book: Book, today: date, weeks: int, own: Own = USUAL) -> list[list[float]]:
    """Worms that come out of the trays in each week from today [kg], in the low, typical and high case: none before
    a tray can have any.
    """
    found = [[0.0] * weeks for _ in range(3)]
    each = tray(own)
    for room in rooms:
        for day, count in batches(room, book, today, today + timedelta(days=7 * weeks)):
            week = ((day - today).days + each.days_to_sale) // 7
            if 0 <= week < weeks:
                for case, weight in enumerate((each.worms.low, each.worms.value, each.worms.high)):
                    found[case][week] += count * weight
    return found


def tray_hours_by_week(rooms: Sequence[Row], weeks: int, own: Own = USUAL) -> list[float]:
    """Hours of work at the trays in each week [h]: all stages full."""
    return [sum(float(room["trays_per_week"]) for room in rooms) * tray(own).hours_per_week] * weeks
