"""A herd by stage of life, a day at a time, at any temperature, in any space: what lanes and the page on the herd
share.
"""

from collections import deque
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from itertools import count

from calc.biology import HIGH, LOW, TYPICAL, crowding, laying, stage_days, unlimited_growth
from calc.facts import biology as facts
from calc.facts.base import Range

__all__ = ["HIGH", "LOW", "TYPICAL", "Rates", "Stages", "in_a_bed", "rates", "rates_near", "room_and_pace"]

ADULT, BORN = facts.ADULT_MASS.typical, facts.HATCHLING_MASS.typical
GAIN = ADULT - BORN


@dataclass(frozen=True)
class Rates:
    """What a herd does in a day at one temperature: cocoons per adult, young per cocoon laid, stages [day], share that
    survives and dies.
    """

    cocoons_per_day: float
    young_per_cocoon: float
    survival: float
    incubation_days: float
    maturing_days: float
    mortality: float

    @property
    def growth(self) -> float:
        """Growth rate if nothing held the herd back [1/day]."""
        return unlimited_growth(
            self.cocoons_per_day,
            self.young_per_cocoon,
            self.survival,
            self.incubation_days + self.maturing_days,
            self.mortality,
        )


def half_way(fact: Range, case: int) -> float:
    """A figure in the low, typical or high case: half way from the typical one to its published end."""
    return ((fact.low, fact.typical, fact.high)[case] + fact.typical) / 2


def rates(temperature: float, case: int = TYPICAL, /, **given: float | None) -> Rates:
    """Rates at a bed temperature [°C] for the low, typical or high case; `given` replaces single ones that the reader
    knows.

    Cases move the two figures that beds differ in most, cocoons laid and young that survive, half way to their
    published ends: both at their ends at once would be a herd that nobody has. Below 20 °C the low case is slowed most
    by the cold and the high case least, as the breathing of other earthworms was; no count of this worm decides between
    them.
    """
    laid, lives = facts.BED_COCOONS_PER_DAY, facts.JUVENILE_SURVIVAL
    found: dict[str, float] = {
        "cocoons_per_day": half_way(laid, case) * laying(temperature, case),
        "hatch_share": facts.HATCH_SHARE.typical,
        "hatchlings": facts.HATCHLINGS.typical,
        "survival": half_way(lives, case),
        "incubation_days": stage_days(facts.INCUBATION_DAYS.typical, temperature, case),
        "maturing_days": stage_days(facts.MATURING_DAYS.typical, temperature, case),
        "mortality": facts.ADULT_MORTALITY.typical,
    }
    found |= {name: value for name, value in given.items() if value is not None}
    hatch_share, hatchlings = found.pop("hatch_share"), found.pop("hatchlings")
    return Rates(young_per_cocoon=hatch_share * hatchlings, **found)


@lru_cache(maxsize=4096)
def rates_near(tenths: int, case: int, known: tuple[tuple[str, float], ...] = ()) -> Rates:
    """Rates at a temperature in tenths of a degree [0.1 °C]; kept, because the days of a year share a few hundred of
    them.
    """
    return rates(tenths / 10, case, **dict(known))


@lru_cache(maxsize=16)
def _ages(many: int, survival: float) -> tuple[tuple[float, float, float], ...]:
    """(when born, share that lives to that age, share of those that lives on until it breeds) of so many ages, the
    oldest first. In the cold they are thousands, and the lanes of a farm begin alike.
    """
    ages = [1 - (place + 0.5) / many for place in range(many)]
    return tuple((-age, survival**age, survival ** (1 - age)) for age in ages)


class Stages:
    """A herd: grown worms, young of each age, cocoons.

    Ages and incubations are counted as shares of the stage, so that a stage may pass through warm and cold days. Adults
    lay cocoons_per_day × room cocoons, room = (1 − stocking ÷ capacity) × fed; each gives young_per_cocoon young after
    the incubation, of which the share `room` finds a place. The young gain weight evenly, up to an adult's, and lose
    their share evenly until they breed; crowded or hungry young age by so much slower. Adults die at their rate and are
    harvested.
    """

    __slots__ = ("_cohorts", "_eggs", "_hatched", "_warmth", "_youth", "adults", "aged", "laid", "survival", "young")

    def __init__(self, worm_mass: float, breeding_share: float, rate: Rates) -> None:
        """worm_mass [kg], of which breeding_share [-] is grown and the rest young of all ages."""
        self.adults = worm_mass * breeding_share / ADULT
        self.young = worm_mass * (1 - breeding_share) / ((BORN + ADULT) / 2)
        self.aged = self.young / 2
        """Sum of the ages of all young, as shares of growing up, so that their weight is born × young + gain × aged."""
        self.laid = 0.0
        self.survival = rate.survival
        self._youth = 0.0
        """Growing up done since the start by a worm that was born then [-]."""
        self._warmth = 0.0
        """Incubation done since the start by a cocoon that was laid then [-]."""
        many = max(1, round(rate.maturing_days))
        each = self.young / many
        self._cohorts = deque(
            (born, each / lived, each * to_live) for born, lived, to_live in _ages(many, rate.survival)
        )
        """(when born, as many as would have been born, as many as will breed), the oldest first."""
        self._eggs: deque[tuple[float, float]] = deque()
        self._hatched = 0.0

    @property
    def weight(self) -> float:
        """Weight of the herd [kg]."""
        return self.adults * ADULT + self.young * BORN + self.aged * GAIN

    def step(self, rate: Rates, room: float, pace: float, harvest: float = 0.0) -> None:
        """A day: room [-] for cocoons and hatchlings, pace of growing up [-], grown worms taken out [heads]."""
        # the herd's own figures are held by short names: a range takes this step millions of times
        adults, survival, laid, cohorts = self.adults, self.survival, self._eggs, self._cohorts
        warmth, youth = self._warmth, self._youth
        self.laid = eggs = adults * rate.cocoons_per_day * room
        incubated = 1 / rate.incubation_days
        hatching = warmth - 1 + incubated / 2
        laid.append((warmth, eggs))
        hatched = 0.0
        while laid and laid[0][0] <= hatching:
            hatched += laid.popleft()[1]
        # a day's cocoons were laid half a day after its morning on average: half of them hatch a day later
        new = (hatched + self._hatched) / 2 * rate.young_per_cocoon * room
        self._hatched = hatched
        self._warmth = warmth + incubated

        grown, born_today = pace / rate.maturing_days, youth
        lives = survival**grown
        self._youth = youth = youth + grown
        grown_up = youth - 1 + grown / 2
        aged, young, leaving = (self.aged + self.young * grown) * lives, self.young * lives, 0.0
        while cohorts and cohorts[0][0] <= grown_up:
            born, many, breed = cohorts.popleft()
            left = many * survival ** (youth - born)
            young -= left
            aged -= left * (youth - born)
            leaving += breed
        self.young = (young if young > 0 else 0.0) + new
        self.aged = (aged if aged > 0 else 0.0) + new * grown
        if new:
            cohorts.append((born_today, new / lives, new * survival))
        adults = adults * (1 - rate.mortality) + leaving - harvest
        self.adults = adults if adults > 0 else 0.0

    def freeze(self, alive: float, cocoons: float) -> None:
        """Ice in the bed: the shares of the worms, and of their cocoons, that live through it [-]."""
        self.adults *= alive
        self.young *= alive
        self.aged *= alive
        self._cohorts = deque((born, many * alive, breed * alive) for born, many, breed in self._cohorts if alive)
        self._eggs = deque((laid, eggs * cocoons) for laid, eggs in self._eggs)
        self._hatched *= cocoons


def room_and_pace(stocking: float, capacity: float) -> tuple[float, float]:
    """(room for cocoons and young, pace of eating and growing) [-] at a stocking and a capacity [kg/m²]."""
    room = 1 - stocking / capacity if stocking < capacity else 0.0
    return room, crowding(stocking, capacity)


def in_a_bed(
    worm_mass: float,
    rate: Rates,
    area: float,
    capacity: float,
    harvest_per_day: float = 0.0,
    breeding_share: float = facts.BREEDING_SHARE.typical,
) -> Iterator[tuple[float, float, float]]:
    """(weight [kg], heads, cocoons laid that day) of a herd in a bed of one temperature and size, day by day without
    end.

    worm_mass [kg]; area [m²]; capacity [kg/m²]; harvest_per_day [kg/day]; breeding_share [-] of the starting weight.
    """
    herd, harvest = Stages(worm_mass, breeding_share, rate), harvest_per_day / ADULT
    for _ in count():
        weight, heads = herd.weight, herd.adults + herd.young
        room, pace = room_and_pace(weight / area, capacity)
        herd.step(rate, room, pace, harvest)
        yield weight, heads, herd.laid
