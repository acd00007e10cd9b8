"""The season: air and ground of each day of a year, and the temperature that a bed takes from them, day by day.

A season is twelve monthly means, chosen, typed or read from a weather file. Between them runs a smooth curve whose mean
over each month is the mean that was given. A bed is one lump, stepped a day at a time: cheap enough for years of it,
and held in tests against the full conduction model of :mod:`calc.climate.conduction`.

Units: degC, W/m2, m, day of the year from 1 (1 January); a year has 365 days.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from math import atan2, cos, exp, hypot, inf, log, pi, sin

from calc.climate import heat
from calc.climate.conduction import DAY_SECONDS, LATENT_HEAT_OF_FREEZING, YEAR_SECONDS, damping_depth
from calc.climate.pores import WATER_DENSITY
from calc.climate.psychrometrics import saturation_pressure
from calc.facts import climate as facts
from calc.facts import lane as lane_facts

MONTH_DAYS = (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)
YEAR_DAYS = 365

GROUND_PATH = 0.5
"""Soil between a lane and the ground that the lane does not warm [m]; see the ground of `season`."""

FULL_WATER = 20.0
"""Air temperature to which the water that a lane is given a day is referred [degC]."""

SOIL_SHARE = 1 / 6
"""Share of that soil's heat store that warms and cools with the bed [-]; fitted to the full model, which the tests
hold.
"""

FREEZING_SPAN = 1.0
"""Water in bedding freezes little by little from 0 degC down to this far below it [K]; our own judgement, no source."""


# ------------------------------------------------------------------------------------------------ the air of each day


def month_ends(means: Sequence[float], days: Sequence[int] = MONTH_DAYS) -> list[float]:
    """Value at the start of each month [as means] of the smooth yearly curve that keeps the monthly means.

    The curve is the slope of a periodic cubic spline through the running sum of the days: in each month a parabola
    whose mean is that month's, without jump or kink at the ends. Twelve equations, solved by elimination.
    Source: the histospline of Boneva, Kendall & Stefanov 1971; why straight lines between mid-months will not do:
    Epstein 1991, Rymes & Myers 2001.
    """
    count = len(means)
    rows = [[0.0] * (count + 1) for _ in range(count)]
    for month in range(count):
        before = month - 1
        rows[month][before % count] += 1 / days[before]
        rows[month][month] += 2 / days[before] + 2 / days[month]
        rows[month][(month + 1) % count] += 1 / days[month]
        rows[month][count] = 3 * means[before] / days[before] + 3 * means[month] / days[month]
    for pivot in range(count):  # the diagonal is larger than the rest of its row: no row has to be exchanged
        for row in range(count):
            if row != pivot and rows[row][pivot]:
                factor = rows[row][pivot] / rows[pivot][pivot]
                rows[row] = [value - factor * above for value, above in zip(rows[row], rows[pivot])]
    return [row[count] / row[place] for place, row in enumerate(rows)]


def daily_values(means: Sequence[float]) -> tuple[float, ...]:
    """Mean of each of 365 days from twelve monthly means: smooth, and the days of a month have that month's mean.

    >>> days = daily_values([0, 0, 0, 0, 0, 12, 0, 0, 0, 0, 0, 0])
    >>> round(sum(days[151:181]) / 30, 9), round(abs(sum(days[:31]) / 31), 9)
    (12.0, 0.0)
    """
    ends = month_ends(means)
    values: list[float] = []
    for month, (mean, length) in enumerate(zip(means, MONTH_DAYS)):
        start, end = ends[month], ends[(month + 1) % len(means)]

        def summed(share: float, start: float = start, end: float = end, mean: float = mean) -> float:
            """Sum from the start of the month to a share of it, over the length of the month."""
            return (
                start * (share - 2 * share**2 + share**3)
                + end * (share**3 - share**2)
                + mean * (3 * share**2 - 2 * share**3)
            )

        sums = [summed(day / length) for day in range(length + 1)]
        values.extend(length * (after - before) for before, after in pairwise(sums))
    return tuple(values)


def ground_values(air: Sequence[float], depth: float = GROUND_PATH) -> tuple[float, ...]:
    """Ground of each day [degC] at a depth [m], under the yearly wave of the air [degC of 365 days].

    The wave shrinks to exp(-z/d) and comes z/d radians later, d the damping depth of a year. Snow, which keeps the
    ground warmer, is left out.
    Source: damped wave, any text on soil physics; Moene & van Dam 2014 for the soil.
    """
    mean = sum(air) / len(air)
    turn = 2 * pi / len(air)
    along = 2 / len(air) * sum(value * cos(turn * (day + 0.5)) for day, value in enumerate(air))
    across = 2 / len(air) * sum(value * sin(turn * (day + 0.5)) for day, value in enumerate(air))
    damping = damping_depth(facts.SOIL_CONDUCTIVITY.typical / (1e6 * facts.SOIL_HEAT.typical), YEAR_SECONDS)
    size, peak = hypot(along, across) * exp(-depth / damping), atan2(across, along) + depth / damping
    return tuple(mean + size * cos(turn * (day + 0.5) - peak) for day in range(len(air)))


@dataclass(frozen=True)
class Season:
    """A year's weather: twelve monthly means of the air [degC], half of a day's high less its low in each month [K],
    where they are from, and the air and the ground of each of 365 days [degC]."""

    monthly_means: tuple[float, ...]
    monthly_swings: tuple[float, ...]
    source: str
    daily_air: tuple[float, ...]
    daily_ground: tuple[float, ...]

    @property
    def year_mean(self) -> float:
        """Mean of the year [degC]."""
        return sum(self.daily_air) / YEAR_DAYS

    @property
    def daily_swing(self) -> float:
        """Half of a day's high less its low, mean of the year [K]."""
        return sum(self.monthly_swings) / len(self.monthly_swings)

    def air(self, day_of_year: int) -> float:
        """Mean of the air of a day [degC]; day 366 is day 1 again, and so on."""
        return self.daily_air[(day_of_year - 1) % YEAR_DAYS]

    def ground(self, day_of_year: int) -> float:
        """Ground below a lane, as deep as the lane does not warm it, of a day [degC]."""
        return self.daily_ground[(day_of_year - 1) % YEAR_DAYS]

    def swing(self, day_of_year: int) -> float:
        """Half of the day's high less its low [K]."""
        return self.monthly_swings[month_of(day_of_year)]


def month_of(day_of_year: int) -> int:
    """Month of a day of the year, January 0.

    >>> month_of(1), month_of(31), month_of(32), month_of(365), month_of(366)
    (0, 0, 1, 11, 0)
    """
    day = (day_of_year - 1) % YEAR_DAYS
    for month, length in enumerate(MONTH_DAYS):
        if day < length:
            return month
        day -= length
    raise AssertionError("a day of the year lies in a month")


def climate_means(climate: str) -> list[float]:
    """Twelve monthly means of the air in a climate to start from [degC]: half-way between high and low."""
    return [(month.high + month.low) / 2 for month in facts.CLIMATES[climate].months]


def season(climate: str, monthly_temperature: Sequence[float] | None = None, year: str = "usual") -> Season:
    """The season of a climate to start from, or of twelve typed means [degC], in a usual or an unusual year.

    climate: a key of facts.CLIMATES, invented ones; monthly_temperature: January first, None takes the climate's;
    year: a key of facts.YEARS. The ground is that half a metre down: for a strip of ground 4 ft wide under a bed, the
    heat-loss formula of slabs on the ground (ISO 13370) is that of half a metre of soil.
    """
    return _season(climate, None if monthly_temperature is None else tuple(monthly_temperature), year)


@lru_cache(maxsize=32)
def _season(climate: str, typed: tuple[float, ...] | None, year: str) -> Season:
    start = facts.CLIMATES[climate]
    means = list(typed) if typed else climate_means(climate)
    if len(means) != len(MONTH_DAYS):
        raise ValueError("a season has twelve monthly means")
    kind = facts.YEARS[year]
    offset = 6 if means[0] + means[1] > means[6] + means[7] else 0  # south of the equator the year runs the other way
    means = [mean + kind.departures[(month + offset) % 12] for month, mean in enumerate(means)]
    source = "monthly means as typed" if typed else f"{start.label}, invented"
    air = daily_values(means)
    swings = tuple((month.high - month.low) / 2 for month in start.months)
    return Season(
        tuple(means), swings, source if year == "usual" else f"{source}; {kind.label.lower()}", air, ground_values(air)
    )


# ------------------------------------------------------------------------------------------------ a bed as one lump


@dataclass(frozen=True)
class Lump:
    """A bed as one temperature, the mean of its depth: its share of the ground once nothing changes any more [-], its
    rise for heat made in it [K per W/m2] and for heat taken off its top [K per W/m2], the days in which 63 % of a
    change has come through [day], and how many times longer that is while its water freezes or thaws [-].
    """

    ground_share: float
    rise: float
    top_rise: float
    days: float
    freezing: float


@lru_cache(maxsize=512)
def lump(
    bed_height: float,
    moisture: float,
    bulk_density: float,
    cover_resistance: float,
    on_ground: bool = True,
    surface_coefficient: float = facts.SURFACE_COEFFICIENT.typical,
    conductivity_factor: float = 1.0,
    width: float = inf,
) -> Lump:
    """The lump of a bed [m, -, kg/m3, m2 K/W, W/m2 K, -]; on_ground False lets no heat through the floor.

    width [m]: of a lane, whose two long sides lose heat to the air as well; endless: no sides.

    The resting state is exact for a slab that makes heat evenly, with a film on top and soil below; the time is the
    heat store times the rise, which is exact for a bed that conducts well (any text on heat transfer: lumped capacity).
    """
    body = heat.bed(bed_height, bulk_density, moisture, 0.0, conductivity_factor)
    film = 1 / heat.surface_link(surface_coefficient, cover_resistance)
    below = facts.SOIL_CONDUCTIVITY.typical / GROUND_PATH if on_ground else 0.0
    slab = bed_height / body.conductivity
    whole = 1 + below * (film + slab)
    ground_share = below * (film + slab / 2) / whole
    rise = (1 + below * slab / 2) * (film + slab / 2) / whole - slab / 6
    top_rise = film * (1 - ground_share)
    side = heat.side_loss(width, body.conductivity, surface_coefficient) * bed_height
    less = 1 / (1 + side * rise)  # the sides stand beside top and floor as one more way out
    ground_share, rise, top_rise = ground_share * less, rise * less, top_rise * less
    soil = SOIL_SHARE * GROUND_PATH * 1e6 * facts.SOIL_HEAT.typical if on_ground else 0.0
    store = body.capacity * bed_height + soil
    water = heat.volumetric_water(bulk_density, moisture) * WATER_DENSITY * bed_height
    latent = water * LATENT_HEAT_OF_FREEZING / FREEZING_SPAN
    return Lump(ground_share, rise, top_rise, store * rise / DAY_SECONDS, (store + latent) / store)


def resting_temperature(
    bed: Lump, air: float, ground: float, heat_per_area: float = 0.0, top_cooling: float = 0.0
) -> float:
    """Mean of a bed [degC] once nothing changes any more; heat made in it and taken off its top [W/m2]."""
    return (
        (1 - bed.ground_share) * air + bed.ground_share * ground + heat_per_area * bed.rise - top_cooling * bed.top_rise
    )


def next_bed_temperature(
    bed: float,
    air: float,
    ground: float | None,
    heat_per_area: float,
    bed_height: float,
    moisture: float,
    bulk_density: float,
    cover_resistance: float,
    top_cooling: float = 0.0,
    surface_coefficient: float = facts.SURFACE_COEFFICIENT.typical,
    conductivity_factor: float = 1.0,
    width: float = inf,
) -> float:
    """Mean temperature of a bed a day later [degC].

    bed [degC] now; air [degC] the day's mean; ground [degC] half a metre down, None when no heat passes the floor;
    heat_per_area [W/m2] made in the whole depth; bed_height [m]; moisture [-] wet basis; bulk_density [kg/m3];
    cover_resistance [m2 K/W]; top_cooling [W/m2] taken off the top by evaporation, less the sun; the surface's
    coefficient
    [W/m2 K] and the conductivity against peat [-] as climate.bed_temperature has them; width [m] of a lane with sides.
    Its water freezes and thaws between 0 degC and a degree below, which holds it there for as long as that takes.
    >>> round(next_bed_temperature(20.0, 0.0, 10.0, 0.0, 0.45, 0.75, 600.0, 0.0), 2)
    16.28
    """
    body = lump(
        bed_height,
        moisture,
        bulk_density,
        cover_resistance,
        ground is not None,
        surface_coefficient,
        conductivity_factor,
        width,
    )
    target = resting_temperature(body, air, 0.0 if ground is None else ground, heat_per_area, top_cooling)
    if bed >= 0 and target >= 0:
        return target + (bed - target) * exp(-1 / body.days)
    return _through_freezing(bed, target, body)


def _through_freezing(bed: float, target: float, body: Lump) -> float:
    """A day towards a target [degC], slower while the water freezes or thaws: stretch after stretch of one kind."""
    left, falling = 1.0, target < bed
    for _ in range(3):
        if bed > 0 or (bed == 0 and not falling):
            days, edge = body.days, 0.0
        elif bed > -FREEZING_SPAN or (bed == -FREEZING_SPAN and not falling):
            days, edge = body.days * body.freezing, -FREEZING_SPAN if falling else 0.0
        else:
            days, edge = body.days, -FREEZING_SPAN
        after = target + (bed - target) * exp(-left / days)
        crosses = after < edge < bed if falling else bed < edge < after
        if not crosses:
            return after
        left -= days * log((bed - target) / (edge - target))
        bed = edge
    return target + (bed - target) * exp(-left / body.days)


# ------------------------------------------------------------------------------------------------ water, in one figure


def drying(air: float) -> float:
    """Water that a lane loses at an air temperature [degC] against 20 degC [-]: as the air can hold; none in frost.

    Source: saturation pressure; that shade, wind and humidity stay in step with it is our own judgement.
    >>> drying(20.0), round(drying(7.0), 2), drying(-3.0)
    (1.0, 0.43, 0.0)
    """
    return min(3.0, saturation_pressure(air) / saturation_pressure(FULL_WATER)) if air > 0 else 0.0


def cooling_water(air: float) -> float:
    """Water whose heat a shaded bed gives itself, at an air temperature [degC] [mm/day]: the rest of its heat is the
    sun's.

    >>> round(cooling_water(20.0), 2), round(cooling_water(30.0), 2)
    (1.0, 1.82)
    """
    return facts.COOLED_BY_WATER.typical * lane_facts.WATER_PER_AREA.typical * drying(air)


# ------------------------------------------------------------------------------------------------ heat of rotting


def heat_of_rotting(dry_matter_lost: float, combustion: float = facts.HEAT_OF_COMBUSTION.typical) -> float:
    """Heat [W] of dry matter breathed off by microbes and worms [kg/day]; combustion [MJ/kg].

    Source: facts.HEAT_OF_COMBUSTION. What is breathed off gives the heat that burning it would.
    >>> round(heat_of_rotting(1.0, 20.0), 1)
    231.5
    """
    return dry_matter_lost * combustion * 1e6 / DAY_SECONDS
