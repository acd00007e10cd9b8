"""Questions that several pages put to the one lane: first slice, full bed, feed at the start, the list of feedings, the
months.

Each is read off the same days, so two pages that ask the same get the same.
"""

from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import date

from calc.biology import activity, crowding
from calc.engine import DAYS_A_MONTH, Band, ends_wanted, together
from calc.facts import biology
from calc.lane.model import (
    HIGH,
    LOW,
    SPAN,
    TYPICAL,
    Day,
    LanePlan,
    all_cases,
    first_castings_day,
    first_slice_day,
    follow,
    follow_roomy,
    follow_span,
)

__all__ = ["SPAN"]  # of the model; what is written here is there for everybody

HORIZON = 1095
"""Days that are followed at most: three years."""
SLOW_START = 28
"""Days without a feeding after which a start is said to be too early."""
YEAR = 365
WEEKS = 26
"""Weeks of feedings that are listed."""


def cases(
    plan: LanePlan, needed: Callable[[Sequence[Day]], float | None] = first_slice_day
) -> tuple[Sequence[Day], ...]:
    """The low, typical and high case for as long as it takes until what is needed has happened in all of them, three
    years at most.
    """
    if not ends_wanted():
        days = follow_span(plan)
        return (days if needed(days) is not None else follow(plan, HORIZON),) * 3
    found = all_cases(plan, SPAN)
    return found if all(needed(days) is not None for days in found) else all_cases(plan, HORIZON)


def band_of(plan: LanePlan, when: Callable[[Sequence[Day]], float | None]) -> Band | None:
    """Days until something happens: typical, fast and slow; None when it does not within three years in the typical
    case.

    A slow case that has not got there is put at the end of the three years.
    """
    slow, middle, fast = (when(days) for days in cases(plan, when))
    if middle is None:
        return None
    ends = [middle if fast is None else fast, float(HORIZON) if slow is None else slow]
    return Band(float(middle), min(middle, *ends), max(middle, *ends))


def brings_it_nearer(plan: LanePlan) -> str:
    """What brings a first slice that is far off nearer. A shorter lane does not: its herd grows more slowly."""
    fed = "" if plan.feed_available_per_week is None else "more feed each week, "
    return f"{fed}more worms, or a bed nearer to 77 °F (25 °C)"


def months_at_most(due: Band) -> str:
    """The late end of a band in months; one that was put at the end of the three years is said to lie beyond it."""
    return f"{'more than ' if due.high >= HORIZON else ''}{due.high / DAYS_A_MONTH:.0f}"


def typical_day(plan: LanePlan, when: Callable[[Sequence[Day]], float | None]) -> float | None:
    """Days until something happens in the typical case alone; None when it does not within three years."""
    found = when(follow_span(plan))
    return when(follow(plan, HORIZON)) if found is None else found


def first_slice(plan: LanePlan) -> Band | None:
    """Days to the first slice."""
    return band_of(plan, first_slice_day)


def first_castings(plan: LanePlan) -> Band | None:
    """Days to the first slice with castings made of feed."""
    return band_of(plan, first_castings_day)


def day_of_weight(days: Sequence[Day], weight: Callable[[Day], float]) -> float | None:
    """First day, part days by straight line, on which the herd weighs what is asked of that day."""
    if days[0].worms >= weight(days[0]):
        return 0.0
    for before, day in zip(days, days[1:]):
        if day.worms >= weight(day):
            short, over = weight(before) - before.worms, day.worms - weight(day)
            return before.day + (short / (short + over) if short + over > 0 else 1.0)
    return None


def full_bed(plan: LanePlan) -> Band | None:
    """Days until the bed is full of worms: full stocking on the part of it where they live."""
    return band_of(plan, lambda days: day_of_weight(days, lambda day: plan.full_stocking * day.active_area))


def whole_day(start: date, days: float) -> date:
    """The day nearest to so many days after another one."""
    return date.fromordinal(round(start.toordinal() + days))


def date_after(plan: LanePlan, days: float | None) -> date | None:
    """The day that many days after the worms came; None for never."""
    return None if days is None else whole_day(plan.start_date, days)


def feeding_temperature(plan: LanePlan) -> float:
    """Bed temperature at the first feeding [°C]: held, or as the season and the bed's own heat have brought it."""
    return follow_span(plan)[plan.first_feeding].bed_temperature


def mass_after_year(plan: LanePlan) -> Band:
    """Weight of the herd a year after the start [kg]: by then it hangs on the capacity as much as on how it breeds."""
    ends = min(plan.capacity, biology.CAPACITY.low), max(plan.capacity, biology.CAPACITY.high)
    middle = follow_span(plan)[YEAR].worms
    if not ends_wanted():
        return Band(middle, middle, middle)
    crowded, roomy = (follow(replace(plan, capacity=end), YEAR)[YEAR].worms for end in ends)
    slow, fast = (follow_roomy(plan, YEAR, case)[YEAR].worms for case in (LOW, HIGH))
    return together(middle, [(crowded, roomy), (slow, fast)])


def appetite(
    plan: LanePlan, temperature: float, case: int = TYPICAL, ration: float | None = None, capacity: float | None = None
) -> float:
    """Feed that the worms eat a day at the start, spread over the whole base [kg/day]; case: of the pace in the
    cold.
    """
    room = crowding(plan.worm_mass / (plan.held_area or plan.bed_area), capacity or plan.capacity)
    return plan.worm_mass * (ration or plan.ration) * activity(temperature, case) * room


def feed_at_start(plan: LanePlan, temperature: float) -> Band:
    """Feed a day at the start [kg/day], never more than the face takes or than there is."""
    most = plan.face_capacity_per_week / 7
    if plan.feed_available_per_week is not None:
        most = min(most, plan.feed_available_per_week / 7)
    rations = (min(plan.ration, biology.RATION.low), max(plan.ration, biology.RATION.high))
    rooms = (min(plan.capacity, biology.CAPACITY.low), max(plan.capacity, biology.CAPACITY.high))
    band = together(
        appetite(plan, temperature),
        [
            (appetite(plan, temperature, ration=rations[0]), appetite(plan, temperature, ration=rations[1])),
            (appetite(plan, temperature, capacity=rooms[0]), appetite(plan, temperature, capacity=rooms[1])),
            (appetite(plan, temperature, LOW), appetite(plan, temperature, HIGH)),
        ],
    )
    return Band(min(most, band.value), min(most, band.low), min(most, band.high))


def feeding_rows(plan: LanePlan, weeks: int = WEEKS) -> list[tuple[date, float, float]]:
    """(date, thickness [m], mass [kg]) of each layer of the first weeks: the one list of feedings."""
    days = follow_span(plan)[: weeks * 7]
    return [(day.on(plan), day.thickness, day.laid) for day in days if day.laid]


def slicing_days(plan: LanePlan, until: int) -> list[int]:
    """Days after the start on which a slice is taken."""
    return [day.day for day in follow(plan, max(until, SPAN))[: until + 1] if day.sliced]


def month_rows(plan: LanePlan, months: int = 12) -> list[tuple[date, float, float, float, float]]:
    """(first of the month, mean bed temperature [°C], feed [kg], sliced [m³], worms at its end [kg]) of each month from
    the start on.

    The first and last may be parts of a month.
    """
    days = follow(plan, SPAN)[: round(months * 365 / 12)]
    found: dict[date, list[Day]] = {}
    for day in days:
        found.setdefault(day.on(plan).replace(day=1), []).append(day)
    return [
        (
            month,
            sum(day.bed_temperature for day in part) / len(part),
            sum(day.laid for day in part),
            sum(day.sliced_base + day.sliced_castings for day in part),
            part[-1].worms,
        )
        for month, part in found.items()
    ]
