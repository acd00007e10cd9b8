"""One lane through time: from which every page about lanes, herds, harvest, the year and castings takes its figures.

A plain function from a plan to a list of days. Each day the worms eat what their weight, the bed's temperature, their
crowding and the feed on the face allow. What they leave moves the face; when the face has moved a slice and the gap on,
the back is sliced; what they breathe off warms the bed; the herd grows by stages of life. The base that was bought is
sliced first. Units: SI, days, °C; moisture wet basis, ash of the dry matter.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from functools import lru_cache
from math import ceil, exp, inf, radians, sin, sqrt, tan
from typing import NamedTuple

from calc.biology import LEAST_RATION, activity
from calc.climate import pores
from calc.climate.heat import LATENT_HEAT, surface_link
from calc.climate.season import FREEZING_SPAN, YEAR_DAYS, Season, drying, lump, month_of, next_bed_temperature
from calc.engine import ends_wanted
from calc.facts import biology, climate, harvest
from calc.facts import lane as facts
from calc.facts.base import Range
from calc.lane.chain import Parcel, Shares, castings_ash
from calc.lane.stages import HIGH, LOW, TYPICAL, Rates, Stages, half_way, rates, rates_near

__all__ = ["HIGH", "LOW", "TYPICAL", "Day", "LanePlan", "all_cases", "follow", "in_case"]

FOOT = 0.3048
SPAN = 550
"""Days that pages follow a lane at first; three years only where something has not happened by then."""
SHORTEST_SPAN = 366
"""Days that are followed at least where one figure is asked for alone, many times over."""
FEED_KEEPS = 28
"""Days of feed that are kept in store at most, where only so much comes in a week; our own judgement, no source."""
SETTLING = 28
"""Days in which the base itself feeds worms that find no feed on the face; our own judgement, no source."""
LONGEST_LAYER = 14
"""Days that a layer lies at most before it is eaten: a thicker one turns sour, so it is laid thinner; our own
judgement, no source.
"""
COVERED_BELOW = 10.0
"""Mean of the air under which a cover, where there is one, lies on the bed [°C]; our own judgement, no source."""
SHORTEST_BASE = FOOT
"""Base that is made shorter for a short floor has at least this length [m]; our own judgement, no source."""
SLICES_APART = 7
"""Days between slices at least, since a slice is dried and screened before the next; our own judgement, no source."""
JOULES_A_DAY = 86400.0
NO_WORM = 1e-9
"""A herd that weighs less than a thousandth of a hatchling is gone, and no sum of last bits [kg]."""


def needs_cover(air: float) -> bool:
    """Whether the mean of the air [°C] is such that the lane's cover lies on it, as the lane model has it."""
    return air < COVERED_BELOW


@dataclass(frozen=True)
class LanePlan:
    """A lane as it is planned.

    Names, units and defaults are those of the forms; what a form does not ask stands at its fact.
    """

    lane_length: float = 8 * FOOT
    """Base, from the back board to the foot of its face [m]."""
    lane_width: float = 4 * FOOT
    bed_height: float = 18 * FOOT / 12
    base_depth: float = FOOT
    face_slope: float = 45.0
    """Of the face, from the ground [deg]."""
    fed_on: str = "end"
    """end: the face is as wide as the lane, and the lane grows longer; side: it is as long as the lane, which grows
    wider.
    """
    floor_length: float | None = None
    """Floor in the direction in which the face moves [m]; None: enough."""

    compost_bulk_density: float = facts.COMPOST_DENSITY.typical
    base_moisture: float = 0.55
    target_moisture: float = 0.70
    base_ash: float = climate.BEDDING_ASH.typical

    worm_mass: float = 10 * 0.45359237
    full_stocking: float = 0.45359237 / FOOT**2
    capacity: float = biology.CAPACITY.typical
    breeding_share: float = biology.BREEDING_SHARE.typical
    steady_herd: bool = False
    """A herd that keeps its weight: the special case in which a lane has one pace."""
    held_area: float | None = None
    """Where the worms live, if it stays as large [m²]: the special case of a bed without a face; None: behind the face.
    """
    fed_well: bool = False
    """Whether the herd finds as much feed as it wants, on the face or not: the special case of the page on the herd."""
    harvest_per_week: float = 0.0
    """Grown worms taken out [kg/week]."""
    known: tuple[tuple[str, float], ...] = ()
    """Rates of the herd that the reader knows, in place of those of the temperature; names as calc.lane.stages.rates.
    """

    ration: float = biology.RATION.typical
    feed_bulk_density: float = 1000 * 0.45359237 / 0.764554857984
    feed_moisture: float = 0.70
    feed_ash: float = harvest.ASH_BEFORE.typical
    dry_matter_kept: float = biology.DRY_MATTER_KEPT.typical
    volume_kept: float = biology.VOLUME_KEPT.typical
    castings_moisture: float = facts.CASTINGS_MOISTURE.typical
    screening_moisture: float = harvest.SCREENING_MOISTURE.typical
    castings_bulk_density: float = 1000 * 0.45359237 / 0.764554857984
    product_share: float = facts.PRODUCT_SHARE.typical

    layer_thickness: float = FOOT / 6
    first_layer: float = facts.FIRST_LAYER.typical
    first_feeding: int = 3
    """Days without feed after the worms have come."""
    safe_interval: float = facts.SAFE_INTERVAL.typical
    gap: float = facts.GAP.typical
    slice_length: float = FOOT
    feed_available_per_week: float | None = None

    start_date: date = date(2027, 5, 1)
    bed_temperature: float | None = 20.0
    """Held at this figure [°C]; None: the season decides."""
    season: Season | None = None
    cover_resistance: float = 0.0
    """Of the cover that lies on the bed in the cold [m² K/W]."""
    water_per_area_per_day: float = facts.WATER_PER_AREA.typical
    """Water that the lane is given on a day of 20 °C [kg/m² day]; less on a cooler day, by the drying power of the air.
    """

    setup_hours: float = facts.SETUP_HOURS.typical
    hours_per_feeding: float = facts.HOURS_PER_FEEDING.typical
    hours_per_slice: float = facts.HOURS_PER_SLICE.typical
    screened_per_hour: float = facts.SCREENED_PER_HOUR.typical
    startup_cost: float = 0.0
    feed_price: float = 0.0
    """Price of feed [money/kg]."""
    castings_price: float = 0.0
    """Price of what passes the screen [money/m³]."""
    sale_days: tuple[int, ...] = (round(facts.SLICE_TO_SALE.typical),) * 12
    """Days from a slice to its sale, for each month in which it is taken: it dries as the air lets it
    (calc.climate.drying).
    """

    @property
    def face_width(self) -> float:
        """Of the face that is fed [m]."""
        return self.lane_length if self.fed_on == "side" else self.lane_width

    @property
    def base_length(self) -> float:
        """Of the base, in the direction in which the face moves [m]."""
        return self.lane_width if self.fed_on == "side" else self.lane_length

    @property
    def bed_area(self) -> float:
        """Of the base [m²]."""
        return self.lane_length * self.lane_width

    @property
    def foot(self) -> float:
        """Ground that the face of the full bed height covers [m]."""
        return self.bed_height / tan(radians(self.face_slope))

    @property
    def active_area(self) -> float:
        """Where worms live once they have gathered behind the face [m²]: its width × (gap + foot of the face)."""
        return self.face_width * (self.gap + self.foot)

    @property
    def shares(self) -> Shares:
        """How feed becomes castings."""
        return Shares(
            self.feed_bulk_density,
            self.feed_moisture,
            self.feed_ash,
            self.dry_matter_kept,
            self.volume_kept,
            self.castings_moisture,
            self.screening_moisture,
            self.castings_bulk_density,
            self.product_share,
        )

    @property
    def base(self) -> Parcel:
        """The base as bought: its volume is the box that it fills."""
        mass = self.bed_area * self.base_depth * self.compost_bulk_density
        dry = mass * (1 - self.base_moisture)
        return Parcel(dry, mass - dry, dry * self.base_ash, self.bed_area * self.base_depth)

    @property
    def fitting_moisture(self) -> float:
        """Moisture up to which the base keeps the least air that a bed needs [-]."""
        return pores.wettest(self.compost_bulk_density * (1 - self.base_moisture), ash=self.base_ash)

    @property
    def wetted_moisture(self) -> float:
        """Moisture of the base when the worms come [-]: what is wanted, as far as its pores can hold it; water is only
        added.
        """
        return max(self.base_moisture, min(self.target_moisture, self.fitting_moisture))

    @property
    def base_water(self) -> float:
        """Water to add to the base [kg]."""
        return self.base.dry_matter / (1 - self.wetted_moisture) - self.base.mass

    @property
    def air_space(self) -> float:
        """Share of the base's volume that is air, after its water [-]."""
        wetted = pores.at_moisture(self.compost_bulk_density, self.base_moisture, self.wetted_moisture)
        return pores.air_space(wetted, self.wetted_moisture, self.base_ash)

    @property
    def hours_per_layer(self) -> float:
        """Work for one layer [h]."""
        return self.setup_hours + self.hours_per_feeding * self.lane_length / (8 * FOOT)

    def layer_volume(self, thickness: float, height: float) -> float:
        """Of a layer laid square to a face of a height [m³]."""
        return thickness * self.face_width * height / sin(radians(self.face_slope))

    @property
    def face_capacity_per_week(self) -> float:
        """Feed that the full face takes in a week: one layer, not more often than the safe interval [kg/week]."""
        layer = self.layer_volume(self.layer_thickness, self.bed_height) * self.feed_bulk_density
        return layer * 7 / self.safe_interval

    @property
    def first_walk(self) -> float:
        """How far the face moves until the first slice is free of worms [m]: a slice and the gap, more on a base
        shorter than its foot.
        """
        return self.slice_length + self.gap + max(0.0, self.foot - self.base_length)

    @property
    def floor_needed(self) -> float:
        """Base, and what the face walks until the first slice is free of worms [m]."""
        return self.base_length + self.first_walk

    @property
    def largest_area(self) -> float:
        """Of the lane at its longest, when the first slice falls due [m²]: what shade, a sheet against rain and straw
        must cover. It is never as long again: from then on the back is cut as the face moves.
        """
        return self.face_width * self.floor_needed

    @property
    def boards_ahead(self) -> float:
        """Boards on each side before those of the base, until the first slice [m]. The lower half of the face lies
        between no boards: our own judgement, no source.
        """
        return max(0.0, self.first_walk - self.foot / 2)

    def sale_wait(self, day: float) -> int:
        """Days from a slice that is taken so many days after the start to its sale."""
        return self.sale_days[month_of(self.start_date.timetuple().tm_yday + round(day))]

    def on_floor(self) -> "LanePlan":
        """The same plan with its base short enough for the first slice to come off inside the floor there is, if any
        base is left.
        """
        if self.floor_length is None or self.floor_needed <= self.floor_length:
            return self
        left = max(SHORTEST_BASE, self.floor_length - self.slice_length - self.gap)
        if left >= self.base_length:
            return self
        return replace(self, lane_width=left) if self.fed_on == "side" else replace(self, lane_length=left)

    # ---- the face's way: the castings beyond the base, as they rise from its depth to the full height

    @property
    def rise(self) -> float:
        """Height that the face gains for each metre it moves [-]: a layer square to the face goes as far over its
        top.
        """
        slope = radians(self.face_slope)
        return sin(slope) ** 2 / tan(slope)

    def height_at(self, moved: float) -> float:
        """Height of the face after it has moved on from the base [m]: from the base's depth up to the height of the
        bed.
        """
        start = min(self.base_depth, self.bed_height)
        return min(self.bed_height, start + moved * self.rise)

    def moved_by(self, volume: float) -> float:
        """How far castings of a volume [m³] move the face on from the base [m]."""
        if volume <= 0:
            return 0.0
        area, start = volume / self.face_width, min(self.base_depth, self.bed_height)
        rise, until = self.rise, self.bed_height - start
        ramp = until * (start + self.bed_height) / 2 / rise  # side view of the part that rises, [m²]
        if until > 0 and area < ramp:
            # (√(…) − start) ÷ rise, written so that a little castings is no difference of two numbers alike
            return 2 * area / (sqrt(start * start + 2 * rise * area) + start)
        return until / rise + (area - ramp) / self.bed_height

    def volume_to(self, moved: float) -> float:
        """Castings that lie between the base and a place so far beyond it [m³]; the inverse of moved_by."""
        start, rise = min(self.base_depth, self.bed_height), self.rise
        ramp = (self.bed_height - start) / rise
        rising = min(moved, ramp)
        return self.face_width * (rising * (start + rise * rising / 2) + max(0.0, moved - ramp) * self.bed_height)


class Day(NamedTuple):
    """A day of a lane: how it stands in the morning, and what is done and what happens until the next."""

    day: int
    """Days since the worms came."""
    air: float
    bed_temperature: float
    face: float
    """Foot of the face, from the back board [m]."""
    cut: float
    """Where the back was last cut, from the back board [m]."""
    height: float
    """Of the face [m]."""
    active_area: float
    """Where the worms live [m²]."""
    worms: float
    """Live weight [kg]."""
    heads: float
    cocoons: float
    """Laid this day."""
    stocking: float
    """Worms on the active area [kg/m²]."""
    appetite: float
    """Feed that they would eat this day [kg]."""
    feed: float
    """Feed on the face in the morning [kg]."""
    thickness: float
    """Of the layer laid this day, square to the face [m]; 0: none."""
    laid: float
    """Feed laid this day [kg]."""
    eaten: float
    """Feed eaten this day [kg]."""
    castings: float
    """Castings made of feed that lie in the bed in the morning, as sliced [m³]."""
    base: float
    """What lies there of the base that was bought [m³]."""
    sliced: float
    """Length sliced off the back this day [m]."""
    sliced_base: float
    """Of it, base [m³]."""
    sliced_castings: float
    """Of it, castings made of feed [m³]."""
    watered: float
    """Water from the hose this day [kg]."""
    evaporated: float
    """Water evaporated and drained this day [kg]."""
    breathed: float
    """Dry matter breathed off this day [kg]."""
    heat: float
    """Heat of what was breathed off [W]."""
    hours: float
    money_out: float
    money_in: float

    def on(self, plan: LanePlan) -> date:
        """The date of this day."""
        return plan.start_date + timedelta(days=self.day)


def frozen_share(bed_temperature: float) -> float:
    """Share of a bed's water that is ice at its mean temperature [degC]: worms flee from it as far as there is bed
    left.

    >>> frozen_share(0.5), frozen_share(-0.25), frozen_share(-4.0)
    (0.0, 0.25, 1.0)
    """
    return min(1.0, max(0.0, -bed_temperature / FREEZING_SPAN))


def doubt(value: float, fact: Range, case: int) -> float:
    """A plan's figure in the low, typical or high case: half way from it to the published end, if that lies on that
    side.
    """
    if case == LOW:
        return min(value, (value + fact.low) / 2)
    return max(value, (value + fact.high) / 2) if case == HIGH else value


@lru_cache(maxsize=64)
def in_case(plan: LanePlan, case: int) -> LanePlan:
    """The plan with the coefficients that are really in doubt in one case: all slow, as planned, or all fast, drawn
    together.

    Ration, dry matter and volume kept, capacity and the gap, each half way to its published end; the herd's own as in
    calc.lane.stages.rates. Both ends of all of them at once would be a lane that nobody has; half way together they
    hold about eight in ten of the lanes in which each is drawn by itself (tests/calc/test_coverage.py).
    """
    if case == TYPICAL:
        return plan
    kept = max(plan.feed_ash, doubt(plan.dry_matter_kept, biology.DRY_MATTER_KEPT, case))
    return replace(
        plan,
        ration=doubt(plan.ration, biology.RATION, case),
        dry_matter_kept=min(1.0, kept),
        volume_kept=min(1.0, doubt(plan.volume_kept, biology.VOLUME_KEPT, case)),
        gap=doubt(plan.gap, facts.GAP, HIGH - case),
        capacity=doubt(plan.capacity, biology.CAPACITY, case),
    )


@lru_cache(maxsize=16)
def drying_of_year(season: Season) -> tuple[float, ...]:
    """Drying on each of 365 days of a season [-]."""
    return tuple(drying(air) for air in season.daily_air)


@lru_cache(maxsize=4096)
def activity_near(tenths: int, case: int) -> float:
    """Activity at a temperature in tenths of a degree [0.1 °C]; kept, as the rates are."""
    return activity(tenths / 10, case)


@lru_cache(maxsize=24)
def _followed(plan: LanePlan, days: int, case: int, briefly: bool) -> tuple[Day, ...]:
    return tuple(_days(in_case(plan, case), days, case, briefly=briefly))


def follow(plan: LanePlan, days: int, case: int = TYPICAL) -> Sequence[Day]:
    """The lane on each day from 0, the day the worms come, to `days`, in the low, typical or high case.

    Kept, as several pages ask.
    """
    return _followed(plan, days, case, False)


def follow_span(plan: LanePlan) -> Sequence[Day]:
    """The lane in the typical case as far as pages look at first, SPAN days.

    Of many lanes that are drawn (calc.engine.describe.typical_alone) each is followed only as far as any page looks: a
    year, and to its first castings.
    """
    return _followed(plan, SPAN, TYPICAL, not ends_wanted())


@lru_cache(maxsize=24)
def follow_roomy(plan: LanePlan, days: int, case: int) -> tuple[Day, ...]:
    """As follow, but with the plan's own capacity in every case."""
    return tuple(_days(replace(in_case(plan, case), capacity=plan.capacity), days, case))


def follow_in_cold(plan: LanePlan, days: int, case: int) -> Sequence[Day]:
    """As follow, with every figure as planned but for how much the cold slows worms in that case."""
    return follow(plan, days) if case == TYPICAL else _followed_in_cold(plan, days, case)


@lru_cache(maxsize=24)
def _followed_in_cold(plan: LanePlan, days: int, case: int) -> tuple[Day, ...]:
    return tuple(_days(plan, days, case))


def days_to_slice(plan: LanePlan, most: int) -> int | None:
    """Days to the first slice in the typical case, without keeping the days; None when it takes more than `most`."""
    return first_slice_day(_days(plan, most, TYPICAL, until_slice=True))


def all_cases(plan: LanePlan, days: int) -> tuple[Sequence[Day], Sequence[Day], Sequence[Day]]:
    """The low, typical and high case: what every range of every page is read off."""
    return follow(plan, days, LOW), follow(plan, days, TYPICAL), follow(plan, days, HIGH)


def starting_temperature(plan: LanePlan) -> float:
    """Of the bed when the worms come [°C]: held, or that of the air of the month before, through which the base has
    lain.
    """
    if plan.bed_temperature is not None or plan.season is None:
        return 20.0 if plan.bed_temperature is None else plan.bed_temperature
    first = plan.start_date.timetuple().tm_yday
    return sum(plan.season.air(first - before) for before in range(1, 15)) / 14


class Course(NamedTuple):
    """A lane day by day from the day the worms came, in columns: what lists and stocks of a whole farm ask of it."""

    worms: list[float]
    """In the morning of each day [kg]."""
    stocking: list[float]
    """Worms on the active area then [kg/m²]."""
    bed_temperature: list[float]
    watered: list[float]
    """From the hose on each day [kg]."""
    hours: list[float]
    fed: list[tuple[int, float, float]]
    """(day, weight [kg], thickness [m]) of each layer."""
    sliced: list[tuple[int, float, float, float]]
    """(day, length [m], castings, base [m³]) of each slice."""


def course_of(plan: LanePlan, days: int, case: int = TYPICAL) -> Course:
    """As follow, but in columns, for half the time: a farm's range follows thousands of lanes."""
    course = Course([], [], [], [], [], [], [])
    _days(in_case(plan, case), days, case, course=course)
    return course


def _days(
    plan: LanePlan,
    days: int,
    case: int,
    until_slice: bool = False,
    briefly: bool = False,
    course: Course | None = None,
) -> list[Day]:
    """The lane, day by day; see Day for what is kept. With a course, that is filled instead of the list.

    Written with plain figures: a range follows many lanes for years.
    """
    season = plan.season if plan.bed_temperature is None else None
    shares, base = plan.shares, plan.base
    width, foot, gap, slice_length = plan.face_width, plan.foot, plan.gap, plan.slice_length
    base_length, base_depth, density = plan.base_length, plan.base_depth, plan.feed_bulk_density
    slope_sine, rising, bed_height = sin(radians(plan.face_slope)), plan.rise, plan.bed_height
    start_height = min(base_depth, bed_height)
    until = bed_height - start_height
    ramp = until * (start_height + bed_height) / 2 / rising
    first_year_day = plan.start_date.timetuple().tm_yday

    # what a kilogram of feed leaves, and what a cubic metre of the base does
    dry = 1 - plan.feed_moisture
    breathed_per_feed = dry * (1 - plan.dry_matter_kept)
    castings_water = dry * plan.dry_matter_kept * plan.castings_moisture / (1 - plan.castings_moisture)
    dried_per_feed = plan.feed_moisture - castings_water  # below zero: the castings are wetter than that, from the hose
    castings_per_feed = plan.volume_kept / density
    base_dry = base.dry_matter / base.volume
    base_cut_moisture = min(plan.wetted_moisture, plan.castings_moisture)
    base_dried = (
        base_dry / (1 - plan.wetted_moisture) * plan.wetted_moisture
        - base_dry / (1 - base_cut_moisture) * base_cut_moisture
    )
    sold_per_castings = shares.volume_dried * plan.product_share
    dried_mass_per_castings = shares.volume_dried * plan.castings_bulk_density
    heat_per_breathed = climate.HEAT_OF_COMBUSTION.typical * 1e6 / JOULES_A_DAY

    # the bed as heat sees it: the lump of calc.climate.season, its figures taken out of the loop
    temperature = starting_temperature(plan)
    rate: Rates = rates(temperature, case, **dict(plan.known))
    eats, harvest_heads = activity(temperature, case), plan.harvest_per_week / 7 / ADULT
    if season is None:
        air, water_share = temperature, drying(temperature)
    else:
        wet = min(
            pores.at_moisture(plan.compost_bulk_density, plan.base_moisture, plan.wetted_moisture),
            pores.densest(plan.wetted_moisture, plan.base_ash),
        )
        lumps, surface = [], climate.SURFACE_COEFFICIENT.typical
        for resistance in (0.0, plan.cover_resistance):
            bed = (plan.bed_height, plan.wetted_moisture, wet, resistance)
            body = lump(*bed, width=plan.lane_width)
            through = surface_link(surface, resistance) / surface_link(surface, 0.0)  # vapour, as heat
            lumps.append((bed, exp(-1 / body.days), body.ground_share, body.rise, body.top_rise, through))
        taken = climate.COOLED_BY_WATER.typical * LATENT_HEAT / JOULES_A_DAY
        drying_of_day = drying_of_year(season)

    herd = Stages(plan.worm_mass, plan.breeding_share, rate)
    low, high = biology.BAND_LOW.typical, biology.BAND_HIGH.typical
    supply = inf if plan.feed_available_per_week is None else plan.feed_available_per_week / 7
    store = 0.0 if supply < inf else inf
    feed = castings = made = moved = cut = heat = evaporated = 0.0
    area, advance, first_walk, next_slice = 1.0, 0.0, plan.first_walk, 0
    base_left = base.volume
    thickness, allowed = min(plan.first_layer, plan.layer_thickness), float(plan.first_feeding)
    far, capacity = base_length > gap + foot, plan.capacity
    half = capacity / 2
    roomy = min(biology.RATION_DENSITY.typical, half)
    room_at_most = 1 - roomy / capacity
    beyond_half = 0.5 / room_at_most * half
    hours_per_layer = plan.hours_per_layer
    cocoons_live = half_way(biology.FROZEN_COCOONS, case)
    ice, begun = 0.0, False
    near: dict[int, tuple[Rates, float]] = {}
    coming: dict[int, float] = {}
    found: list[Day] = []
    if course is not None:
        worms_each, temperature_each = course.worms.append, course.bed_temperature.append
        stocking_each = course.stocking.append
        watered_each, hours_each = course.watered.append, course.hours.append
    for day in range(days + 1):
        # 1. the season
        if season is not None:
            place = (first_year_day + day - 1) % YEAR_DAYS
            air, water_share = season.daily_air[place], drying_of_day[place]
            bed, kept_of_day, share_of_ground, rise, top_rise, through = lumps[needs_cover(air)]
            water_share *= through
            if day:
                ground, per_area, cooling = season.daily_ground[place], heat / area, evaporated / area * taken
                target = (1 - share_of_ground) * air + share_of_ground * ground + per_area * rise - cooling * top_rise
                if temperature >= 0 and target >= 0:
                    temperature = target + (temperature - target) * kept_of_day
                else:
                    temperature = next_bed_temperature(
                        temperature, air, ground, per_area, *bed, cooling, width=plan.lane_width
                    )
            tenths = round(10 * temperature)
            at_this = near.get(tenths)
            if at_this is None:
                at_this = near[tenths] = rates_near(tenths, case, plan.known), activity_near(tenths, case)
            rate, eats = at_this

            # Frozen bedding kills the worms in it: they live as far as some of the bed is not ice, in each frost anew.
            if temperature >= 0:
                ice = 0.0
            elif not plan.steady_herd and (frozen := frozen_share(temperature)) > ice:
                herd.freeze((1 - frozen) / (1 - ice), cocoons_live if frozen >= 1 else 1.0)
                ice = frozen

        # 2. the worms and where they are: they gather behind the face while it moves the gap on
        if far:
            zone = base_length - (base_length - gap - foot) * (moved / gap if moved < gap else 1.0)
        else:
            zone = base_length + moved
            zone = min(zone, gap + foot)
        area = plan.held_area or width * zone
        worms = herd.adults * ADULT + herd.young * BORN + herd.aged * GAIN
        if worms < NO_WORM:
            worms = 0.0
        stocking = worms / area
        room = 1 - stocking / capacity if stocking < capacity else 0.0
        if stocking <= roomy:
            pace = 1.0
        else:  # as calc.biology.crowding, its figures taken out of the loop
            share = room / room_at_most if stocking <= half else beyond_half / stocking
            pace = 1.0 if share > 1.0 else max(LEAST_RATION, share)
        appetite = worms * plan.ration * eats * pace

        # 3. feed, when the last layer is gone, in the band, not before a layer can cool, as much as there is
        height = start_height + moved * rising
        height = min(height, bed_height)
        if store < inf:
            store = min(store + supply, supply * FEED_KEEPS)
        laid = laid_thickness = 0.0
        working_hours = 0.0
        while feed + laid <= appetite * 1.000001 and allowed <= day + 0.999999 and low <= temperature <= high and eats:
            if day < plan.first_feeding:
                break
            layer = thickness * width * height / slope_sine * density
            fresh = appetite * LONGEST_LAYER
            part = min(layer, fresh)
            part = min(part, store)
            if part <= 0:
                break
            store -= part
            laid += part
            laid_thickness += thickness * part / layer
            allowed = (allowed if day - allowed < 1 else float(day)) + plan.safe_interval
            thickness = min(plan.layer_thickness, 2 * thickness)
            working_hours += hours_per_layer
        eaten = feed + laid
        eaten = min(eaten, appetite)

        # 4. the back: free once the face has moved a slice and the gap on, as far as the worms do not live; a slice a
        # week,
        # more where the face is faster
        sliced = sliced_base = sliced_castings = 0.0
        if moved >= first_walk - 1e-9 and day >= next_slice:
            free = base_length + moved - zone - cut + 1e-9
            slices = min(int(free / slice_length), ceil(advance * SLICES_APART / slice_length) or 1)
            if slices > 0:
                next_slice = day + SLICES_APART
                sliced = slices * slice_length
                from_base = min(sliced, max(0.0, base_length - cut))
                if sliced - from_base < 1e-9:  # the last slice of the base, but for rounding
                    from_base = sliced
                sliced_base = from_base * base_depth * width
                cut += sliced
                if from_base < sliced:
                    sliced_castings = plan.volume_to(cut - base_length) - plan.volume_to(
                        max(0.0, cut - sliced - base_length)
                    )
        sold = sliced_castings * sold_per_castings
        if sliced:
            working_hours += (
                plan.hours_per_slice * sliced / FOOT
                + sliced_castings * dried_mass_per_castings / plan.screened_per_hour
            )
            if sold:
                paid = day + plan.sale_wait(day)
                coming[paid] = coming.get(paid, 0.0) + sold * plan.castings_price

        # 5. water, heat, money
        breathed = eaten * breathed_per_feed
        surplus = eaten * dried_per_feed + sliced_base * base_dried
        watered = plan.water_per_area_per_day * area * water_share
        if surplus < 0:
            watered -= surplus
        evaporated = watered + surplus
        heat = breathed * heat_per_breathed
        spent = laid * plan.feed_price + (plan.startup_cost if day == 0 else 0.0)
        if course is None:
            found.append(
                Day(
                    day,
                    air,
                    temperature,
                    base_length + moved,
                    cut,
                    height,
                    area,
                    worms,
                    herd.adults + herd.young,
                    herd.adults * rate.cocoons_per_day * room,
                    stocking,
                    appetite,
                    feed,
                    laid_thickness,
                    laid,
                    eaten,
                    castings,
                    base_left,
                    sliced,
                    sliced_base,
                    sliced_castings,
                    watered,
                    evaporated,
                    breathed,
                    heat,
                    working_hours,
                    spent,
                    coming.pop(day, 0.0),
                )
            )
        else:
            worms_each(worms)
            stocking_each(stocking)
            temperature_each(temperature)
            watered_each(watered)
            hours_each(working_hours)
            if laid:
                course.fed.append((day, laid, laid_thickness))
            if sliced:
                course.sliced.append((day, sliced, sliced_castings, sliced_base))

        if sliced and until_slice:
            break
        begun = begun or sliced_castings > 0
        if briefly and begun and day >= SHORTEST_SPAN:
            break

        # 6. the next morning
        feed += laid - eaten
        made += eaten * castings_per_feed
        castings += eaten * castings_per_feed - sliced_castings
        base_left -= sliced_base
        before, side_view = moved, made / width
        if side_view < ramp:  # as LanePlan.moved_by, its figures taken out of the loop
            root = sqrt(start_height * start_height + 2 * rising * side_view)
            moved = 2 * side_view / (root + start_height) if side_view else 0.0
        else:
            moved = until / rising + (side_view - ramp) / bed_height
        advance = moved - before
        if not plan.steady_herd and ice < 1:  # in a frozen bed nothing grows or hatches
            fed = (
                1.0
                if day < SETTLING or plan.fed_well or eaten >= appetite * 0.999 or not appetite
                else eaten / appetite
            )
            herd.step(rate, room * fed, pace * fed, harvest_heads)
    return found


ADULT, BORN = biology.ADULT_MASS.typical, biology.HATCHLING_MASS.typical
GAIN = ADULT - BORN


# ---------------------------------------------------------------------------------------------------- what days say


def first_slice_day(days: Sequence[Day]) -> int | None:
    """The day of the first slice; None when none is due."""
    return next((day.day for day in days if day.sliced), None)


def first_castings_day(days: Sequence[Day]) -> int | None:
    """The day of the first slice with castings made of feed: the base has been sliced by then."""
    return next((day.day for day in days if day.sliced_castings), None)


def feedings(days: Sequence[Day]) -> list[Day]:
    """The days on which a layer is laid: the one list of feedings."""
    return [day for day in days if day.laid]


def parcels(plan: LanePlan, day: Day) -> dict[str, Parcel]:
    """What lies in the bed in the morning of a day: feed not eaten yet, castings, base."""
    shares, base = plan.shares, plan.base
    feed_dry = day.feed * (1 - plan.feed_moisture)
    feed = Parcel(feed_dry, day.feed - feed_dry, feed_dry * plan.feed_ash, day.feed / plan.feed_bulk_density)
    return {
        "feed": feed,
        "castings": castings_parcel(day.castings, shares),
        "base": base_parcel(day.base, plan, plan.wetted_moisture, base),
    }


def castings_parcel(volume: float, shares: Shares) -> Parcel:
    """Castings of a volume as sliced [m³]."""
    mass = volume * shares.sliced_density
    dry = mass * (1 - shares.castings_moisture)
    return Parcel(dry, mass - dry, dry * castings_ash(shares.feed_ash, shares.dry_matter_kept), volume)


def base_parcel(volume: float, plan: LanePlan, moisture: float, base: Parcel) -> Parcel:
    """Base of a volume [m³] at a moisture [-]."""
    dry = volume * base.dry_matter / base.volume
    return Parcel(dry, dry * moisture / (1 - moisture), dry * plan.base_ash, volume)
