"""One plain decision for today: water, mist, cover, shade, or leave the bed alone."""

from dataclasses import dataclass, field, replace
from datetime import date as Date
from functools import partial
from typing import Annotated

from calc.climate import evaporation as fao
from calc.climate import pores
from calc.climate import psychrometrics as air
from calc.climate.bed import Scenario, own_heat, scenario_problems
from calc.climate.feed_heat import Feeding, active_area
from calc.climate.misting import MistedAir, mist_air
from calc.climate.watering import Weather, area_of, bed_loss, place_of, weather_from, weather_problems
from calc.engine import (
    Answer,
    Axis,
    Column,
    CurvePart,
    Day,
    Figure,
    Mark,
    Number,
    Output,
    Part,
    Refused,
    RowsPart,
    Share,
    Show,
    Step,
    Table,
    Trace,
    View,
    calculator,
    presents,
)
from calc.facts import biology
from calc.facts import climate as facts
from calc.inputs import (
    ALTITUDE,
    BED_HEIGHT,
    FEED_MOISTURE,
    LANE_LENGTH,
    LANE_WIDTH,
    WORM_MASS,
    Altitude,
    BedHeight,
    FeedMoisture,
    LaneArea,
    LaneLength,
    LaneWidth,
    Ration,
    WateredArea,
    WormMass,
)

FULL_SHADE = 0.95
"""Share of the sun that a roof or doubled cloth keeps off [-]."""

WORTH_A_STEP = 0.5
"""Change of the core that is worth an hour's work [K]."""

MIST_HOURS = 8.0
"""Hours around the hottest one that misting goes on."""

MEGAJOULES_PER_DAY_IN_WATTS = 1e6 / 86400
"""1 MJ/m2/day is 11.57 W/m2."""


WORDS = {
    "water": "water it",
    "mist": "mist the air through the hot hours",
    "cover": "cover it",
    "shade": "shade it",
    "stop feeding": "feed nothing, and keep the surface moist",
    "leave alone": "leave it alone",
}


@dataclass(frozen=True)
class Cores:
    """Core of a bed as it is, covered, shaded and misted: (coldest, hottest) [degC] each."""

    now: tuple[float, float]
    covered: tuple[float, float]
    shaded: tuple[float, float]
    misted: tuple[float, float]


@dataclass(frozen=True)
class Ways:
    """The day, the misted air, and the core's course [degC] in the four ways to live through the days."""

    day: Weather
    as_it_is: Scenario
    misted: MistedAir
    now: tuple[float, ...]
    covered: tuple[float, ...]
    shaded: tuple[float, ...]
    moist: tuple[float, ...]

    @property
    def cores(self) -> Cores:
        """Coldest and hottest of each."""
        return Cores(*((min(course), max(course)) for course in (self.now, self.covered, self.shaded, self.moist)))


@dataclass(frozen=True)
class Today(Answer):
    decision: Annotated[str, Output("1", "Today", "The one thing to do first.", main=True)]
    reason: Annotated[str, Output("1", "Because", "What decided it; the reading gives the numbers.", main=True)]
    water_needed: Annotated[
        float,
        Output(
            "m3",
            "Water to refill the top layer tonight",
            "If you water: up to the moisture after watering.",
            us="gal",
            metric="L",
            main=True,
        ),
    ]
    moisture_tonight: Annotated[
        float, Output("1", "Top layer tonight, unwatered", "After a day of this weather.", us="%", metric="%")
    ]
    bed_evaporation: Annotated[float, Output("mm/day", "Bed evaporation", "At this shade, shelter and cover.")]
    lowest_core: Annotated[float, Output("degC", "Coldest in the core", "Over the days asked for, as things are.")]
    highest_core: Annotated[float, Output("degC", "Hottest in the core", "Over the days asked for, as things are.")]
    lowest_covered: Annotated[
        float, Output("degC", "Coldest in the core, covered", "With 4 in (10 cm) of dry straw more.")
    ]
    highest_covered: Annotated[
        float,
        Output(
            "degC",
            "Hottest in the core, covered",
            "With 4 in (10 cm) of dry straw more, which also keeps the water in.",
        ),
    ]
    highest_shaded: Annotated[
        float, Output("degC", "Hottest in the core, in full shade", "With 95 % of the sun kept off.")
    ]
    highest_misted: Annotated[
        float, Output("degC", "Hottest in the core, air misted", "Misted through the hottest eight hours.")
    ]
    misted_temperature: Annotated[
        float, Output("degC", "Air at the hottest hour, misted", "At the usual effectiveness of nozzles.")
    ]
    net_radiation: Annotated[
        float, Output("W/m2", "Radiation the bed keeps", "Mean of 24 hours under its shade.", us="W/m2")
    ]
    watered_area: WateredArea
    trace: Annotated[Ways, Trace("The day, and the core step by step in the four ways")] = field(repr=False)


def moisture_after(bulk_density: float, depth: float, moisture: float, loss: float) -> float:
    """Moisture of the top layer [-] after it has lost water [kg/m2]; bulk density [kg/m3] at the moisture it starts
    from.

    >>> round(moisture_after(600, 0.05, 0.80, 10), 3)
    0.7
    """
    dry_matter = bulk_density * depth * (1 - moisture)
    water = max(0.0, bulk_density * depth * moisture - loss)
    return water / (water + dry_matter)


def misting_helps_mean(cooling: float) -> tuple[float, float]:
    """How much misting through the hottest hours takes off the day's mean and off its swing [K] each, from the cooling
    then [K].

    The hours misted are a third of the day: their share of the cooling comes off the mean, half of the cooling off the
    swing.
    """
    return cooling * MIST_HOURS / 24, cooling / 2


def decide(
    moisture_tonight: float,
    lower_moisture: float,
    band_low: float,
    band_high: float,
    now: tuple[float, float],
    covered: tuple[float, float],
    shaded: tuple[float, float],
    misted: tuple[float, float],
    freezing: bool = False,
) -> str:
    """The one thing to do: "water", "mist", "cover", "shade" or "leave alone".

    Moistures [-]; band [degC]; now, covered, shaded and misted are (coldest, hottest) of the core [degC]. Cold comes
    first, because it cannot be mended afterwards; then dryness, because a moist bed also cools itself; then heat, where
    what costs least work goes first unless something else does clearly more. Nobody waters a bed in freezing air.
    """
    if now[0] < band_low and covered[0] - now[0] >= WORTH_A_STEP:
        return "cover"
    if moisture_tonight < lower_moisture and not freezing:
        return "water"
    if now[1] > band_high:
        ways = {"shade": shaded[1], "cover": covered[1], "mist": misted[1]}
        best = min(ways.values())
        if now[1] - best >= WORTH_A_STEP:
            return next(name for name, hottest in ways.items() if hottest - best <= WORTH_A_STEP)
    return "leave alone"


REASONS = {
    "cover": "the core would fall below the band, and a cover keeps it warmer",
    "water": "by tonight the top layer is drier than the moisture to water at",
    "shade": "the core would pass the top of the band, and shade lowers it",
    "mist": "the core would pass the top of the band, and misting lowers it most",
    "stop feeding": "the core passes the top of the band, and neither shade, cover nor mist lowers it by half a degree",
    "leave alone": "moisture and temperature stay inside their bands",
}


def reason_for(decision: str, coldest: float, band_low: float, dry: bool = False) -> str:
    """What decided it, in words without numbers; coldest of the core and the band's lower end [degC]; dry when water
    was wanted too.
    """
    if decision == "cover" and coldest >= band_low:
        return "the core would pass the top of the band, and a cover keeps the heat out"
    if decision == "leave alone" and coldest < band_low:
        return "the core falls below the band, but four inches more of straw hardly change it"
    if decision == "leave alone" and dry:
        return "the top layer is dry, but in freezing air water does harm: wait for a thaw"
    return REASONS[decision]


def bed_scenario(
    base: Scenario,
    day: Weather,
    shade: float,
    shelter: float,
    cover_factor: float,
    dryness: float,
    air_mean: float,
    air_swing: float,
    moist_air: float | None = None,
) -> Scenario:
    """A scenario with the radiation and evaporation that its shade and cover leave; moist_air [kPa] deficit overrides
    the day's.
    """
    shown = day if moist_air is None else replace(day, vapour=day.saturation - moist_air)
    evaporation = bed_loss(shown, shade, shelter, facts.STILL_AIR_FACTOR.typical, cover_factor, dryness)
    kept = day.net * (1 - shade) * MEGAJOULES_PER_DAY_IN_WATTS
    # What a clear night radiates away has no daylight shape: it counts as colder air.
    colder = min(0.0, kept) / base.surface_coefficient
    return replace(
        base, air_mean=air_mean + colder, air_swing=air_swing, net_radiation=max(0.0, kept), evaporation=evaporation
    )


def ways_of(
    base: Scenario, day: Weather, shade: float, shelter: float, cover_factor: float, dryness: float, altitude: float
) -> Ways:
    """The four ways to live through the days."""
    mean, swing = (day.high + day.low) / 2, (day.high - day.low) / 2
    straw = next(cover for cover in facts.COVERS if cover.name == "4 in (10 cm) of dry straw")
    afternoon = max(0.05, min(1.0, day.vapour / air.saturation_pressure(day.high)))
    misted = mist_air(day.high, afternoon, air.pressure(altitude), facts.MISTING_EFFECTIVENESS.typical)
    off_mean, off_swing = misting_helps_mean(day.high - misted.temperature)
    as_it_is = bed_scenario(base, day, shade, shelter, cover_factor, dryness, mean, swing)
    shaded = bed_scenario(base, day, max(shade, FULL_SHADE), shelter, cover_factor, dryness, mean, swing)
    # While it is misted the bed's own evaporation all but stops; the rest of the day it goes on.
    less = day.deficit * (1 - MIST_HOURS / 24)
    moist = bed_scenario(
        base, day, shade, shelter, cover_factor, dryness, mean - off_mean, max(0.0, swing - off_swing), less
    )
    return Ways(
        day,
        as_it_is,
        misted,
        as_it_is.core_course(),
        as_it_is.covered(straw.resistance).core_course(),
        shaded.core_course(),
        moist.core_course(),
    )


@calculator(
    "climate.today",
    "What does the weather ask of me today: water, mist, cover, shade, or leave it alone?",
    samples=100,
    blanks=lambda given: {"bed_area": area_of(given)},
    page="climate/index.html",
    leads={
        "climate.water": {},
        "climate.mist": {"air_temperature": "high"},
        "climate.bed_temperature": {"start_temperature": "bed_now", "days": "days"},
        "records.lane": {},
    },
)
def today(
    high: Annotated[float, Number("degC", "High of the day", -40, 60, help="From the forecast, in the shade.")] = 35.0,
    low: Annotated[float, Number("degC", "Low of the night", -60, 50)] = 20.0,
    humidity: Annotated[float, Share("Mean humidity", 0.02, 1.0, help="Of day and night together.")] = 0.55,
    wind: Annotated[float, Number("m/s", "Wind in the open", 0, 30, us="mph", metric="m/s")] = 2.0,
    sun_hours: Annotated[float, Number("hour", "Hours of bright sun", 0, 24)] = 10.0,
    days: Annotated[float, Number("day", "Days it will stay like this", 1, 20)] = 3.0,
    bed_now: Annotated[
        float, Number("degC", "Core of the bed now", -5, 60, help="A thermometer half-way down.")
    ] = 20.0,
    top_moisture: Annotated[
        float, Share("Top layer now", 0.3, 0.95, help="From the squeeze test or a dried sample.")
    ] = 0.78,
    shade: Annotated[float, Share("Shade", 0.0, 1.0, help="Share of the sun kept off.")] = 0.8,
    shelter: Annotated[float, Share("Shelter from wind", 0.0, 1.0)] = 0.5,
    cover_factor: Annotated[
        float,
        Number(
            "1",
            "Cover factor",
            0.02,
            2.0,
            help="Bare 1; straw or leaves all over 0.5; plastic lying on it 0.15 to 0.3.",
        ),
    ] = 1.0,
    cover_resistance: Annotated[
        float,
        Number(
            "m2 K/W", "Resistance of the cover", 0, 10, help="Bare 0; 4 in (10 cm) of dry straw about 1.4 m²K/W (R-8)."
        ),
    ] = 0.0,
    date: Annotated[Date, Day("Date")] = Date(2027, 7, 15),
    latitude: Annotated[float, Number("deg", "Latitude", -90, 90, group="Place", help="South is negative.")] = 45.0,
    altitude: Altitude = ALTITUDE,
    bed_area: LaneArea = None,
    bed_height: BedHeight = BED_HEIGHT,
    active_depth: Annotated[
        float, Number("m", "Depth that dries", 0.01, 0.5, us="in", metric="cm", group="Bed")
    ] = 0.0508,
    bulk_density: Annotated[
        float, Number("kg/m3", "Bulk density", 30, 1300, group="Bed", help="As it lies now.")
    ] = 600.0,
    upper_moisture: Annotated[
        float, Share("Moisture after watering", 0.3, 0.95, group="Bed")
    ] = facts.UPPER_MOISTURE.typical,
    lower_moisture: Annotated[
        float, Share("Moisture to water again at", 0.2, 0.94, group="Bed")
    ] = facts.LOWER_MOISTURE.typical,
    ground_temperature: Annotated[
        float | None,
        Number(
            "degC",
            "Ground under the bed",
            -10,
            40,
            optional=True,
            group="Bed",
            help="A thermometer pushed in under the bed. Blank: as warm as the core is now.",
        ),
    ] = None,
    decomposition_heat: Annotated[
        float | None,
        Number(
            "W/m3",
            "Heat from rotting",
            0,
            1000,
            us="W/m3",
            group="Bed",
            optional=True,
            fact=facts.DECOMPOSITION_HEAT,
            help="Blank: from what your worms eat, as below.",
        ),
    ] = None,
    band_low: Annotated[float, Number("degC", "Lower end of the band", -5, 25, group="Bed")] = 4.0,
    band_high: Annotated[float, Number("degC", "Upper end of the band", 15, 40, group="Bed")] = 30.0,
    worm_mass: WormMass = WORM_MASS,
    lane_length: LaneLength = LANE_LENGTH,
    lane_width: LaneWidth = LANE_WIDTH,
    ration: Ration = biology.RATION.typical,
    feed_moisture: FeedMoisture = FEED_MOISTURE,
) -> Today:
    """One decision from the water lost, the misted air, and the core's temperatures as it is, covered, shaded and
    misted.

    Source: the methods of climate.water, climate.mist and climate.bed_temperature; the order of the rules is ours.
    """
    area = lane_length * lane_width if bed_area is None else bed_area
    place = place_of("mild", (), latitude, altitude)
    known = {"high": high, "low": low, "humidity": humidity, "wind": wind, "sun_hours": sun_hours}
    problems = weather_problems(known, place, date.timetuple().tm_yday) + scenario_problems(
        top_moisture, bulk_density, band_low, band_high
    )
    if lower_moisture >= upper_moisture:
        problems.append(
            (
                "lower_moisture",
                "Watering starts at the lower moisture and ends at the upper one: this must be the smaller.",
            )
        )
    if problems:
        raise Refused(problems)
    day = weather_from(known, place, date.timetuple().tm_yday)
    base = Scenario(
        air_mean=0.0,
        air_swing=0.0,
        days=days,
        start_temperature=bed_now,
        bed_height=bed_height,
        moisture=top_moisture,
        bulk_density=bulk_density,
        cover_resistance=cover_resistance,
        ground_temperature=bed_now if ground_temperature is None else ground_temperature,
        decomposition_heat=0.0,
        net_radiation=0.0,
        evaporation=0.0,
        surface_coefficient=facts.SURFACE_COEFFICIENT.typical,
        conductivity_factor=1.0,
        lane_width=lane_width,
    )
    feeding = Feeding(worm_mass, active_area(lane_length, lane_width, bed_height), ration, feed_moisture)
    base = replace(
        base, decomposition_heat=own_heat(base, feeding) if decomposition_heat is None else decomposition_heat
    )
    ways = ways_of(base, day, shade, shelter, cover_factor, facts.DRYNESS_FACTOR.typical, altitude)
    as_it_is, cores, misted = ways.as_it_is, ways.cores, ways.misted
    tonight = moisture_after(bulk_density, active_depth, top_moisture, as_it_is.evaporation)
    freezing = day.mean <= 0
    decision = decide(
        tonight, lower_moisture, band_low, band_high, cores.now, cores.covered, cores.shaded, cores.misted, freezing
    )
    if decision == "leave alone" and cores.now[1] > band_high:
        decision = "stop feeding"
    dry_matter = bulk_density * active_depth * (1 - top_moisture)
    missing = max(0.0, dry_matter * (upper_moisture / (1 - upper_moisture) - tonight / (1 - tonight)))
    return Today(
        decision=decision,
        reason=reason_for(decision, cores.now[0], band_low, tonight < lower_moisture),
        water_needed=missing * area / 1000,
        moisture_tonight=tonight,
        bed_evaporation=as_it_is.evaporation,
        lowest_core=cores.now[0],
        highest_core=cores.now[1],
        lowest_covered=cores.covered[0],
        highest_covered=cores.covered[1],
        highest_shaded=cores.shaded[1],
        highest_misted=cores.misted[1],
        misted_temperature=misted.temperature,
        net_radiation=max(0.0, as_it_is.net_radiation),
        watered_area=area,
        trace=ways,
    )


def _working(v: View) -> list[Step]:
    """What the day takes from the bed, and what is read off the courses of the core."""
    ways: Ways = v.trace
    day, factor = ways.day, facts.STILL_AIR_FACTOR.typical
    sheltered = day.wind * (1 - v.shelter)
    constant = fao.cooling_constant(day.mean, sheltered, day.pressure, factor)
    sun_part = fao.wet_surface_radiation(day.net * (1 - v.shade), day.mean, constant)
    air_part = fao.wet_surface_drying(day.mean, sheltered, day.deficit, constant, factor)
    layer = v.bulk_density * v.active_depth
    afternoon = max(0.05, min(1.0, day.vapour / air.saturation_pressure(day.high)))
    used = {
        "sun_part": Part("the sun's part", sun_part, "mm/day"),
        "air_part": Part("the air's part", air_part, "mm/day"),
        "dryness": Part("dryness of the surface", facts.DRYNESS_FACTOR.typical),
        "left": Part("water of the top layer tonight", max(0.0, layer * v.top_moisture - v.bed_evaporation), "kg/m2"),
        "dry_matter": Part("its dry matter", layer * (1 - v.top_moisture), "kg/m2"),
        "of_water": Part("density of water", 1000.0, "kg/m3"),
        "net": Part("net radiation in the open", day.net, "MJ/m2 day", us="MJ/m2 day"),
        "reach": Part("effectiveness of the mist", facts.MISTING_EFFECTIVENESS.typical, "1", "%", "%"),
        "afternoon": Part("humidity at the hottest hour", afternoon, "1", "%", "%"),
        "pressure": Part("air pressure", air.pressure(v.altitude), "kPa"),
        "bulb": CurvePart("the wet bulb", air.wet_bulb, ("degC", "1", "kPa"), "degC"),
        "steps": RowsPart(
            "the steps",
            dict.fromkeys(("core", "core_covered", "core_shaded", "core_misted"), "degC"),
            [
                dict(zip(("core", "core_covered", "core_shaded", "core_misted"), row))
                for row in zip(ways.now, ways.covered, ways.shaded, ways.moist)
            ],
        ),
    }

    step = partial(Step, values=used)

    return [
        step(
            "Lost today",
            "{bed_evaporation} = the larger of 0 and ({sun_part} + {air_part}) × {cover_factor} × {dryness}",
            "Penman 1948, as on the page on watering",
        ),
        step(
            "Top layer tonight",
            "{dry_matter} = {bulk_density} × {active_depth} × (1 − {top_moisture}); {left} = the larger of 0 and"
            " {bulk_density} × {active_depth} × {top_moisture} − {bed_evaporation} × {of_water} × 1 day;"
            " {moisture_tonight} = {left} ÷ ({left} + {dry_matter})",
            "mass balance",
        ),
        step("Radiation kept", "{net_radiation} = the larger of 0 and {net} × (1 − {shade})", "FAO-56, eq. 38 to 40"),
        step(
            "Core",
            "{lowest_core} = the smallest {core} of {steps}; {highest_core} = the largest {core} of {steps}",
            "conduction, as on the page on heat and frost",
        ),
        step(
            "The other ways",
            "{lowest_covered} = the smallest {core_covered} of {steps}; {highest_covered} = the largest {core_covered}"
            " of {steps}; {highest_shaded} = the largest {core_shaded} of {steps}; {highest_misted} = the largest"
            " {core_misted} of {steps}",
            "the same, with the cover, the sun or the air changed",
            "Covered with 4 in (10 cm) of dry straw; shaded from 95 % of the sun; misted through the hottest eight"
            " hours.",
        ),
        step(
            "Misted air",
            "{misted_temperature} = {high} − {reach} × ({high} − {bulb} at {high} and {afternoon} and {pressure})",
            "as on the page on misting",
        ),
        step(
            "Water to refill",
            "{water_needed} = the larger of 0 and {dry_matter} × ({upper_moisture} ÷ (1 − {upper_moisture}) −"
            " {moisture_tonight} ÷ (1 − {moisture_tonight})) × {watered_area} ÷ {of_water}",
            "wet-basis mass balance",
        ),
    ]


@presents(today)
def show_today(v: View) -> Show:
    in_words = WORDS[v.decision]
    numbers = {
        "cover": (
            f"Uncovered the core runs from {v['lowest_core']} to {v['highest_core']}; with 4 in (10 cm) of dry straw"
            f" from {v['lowest_covered']} to {v['highest_covered']}."
        ),
        "water": (
            f"The top layer is at {v['top_moisture']} and by tonight at {v['moisture_tonight']}; {v['water_needed']}"
            f" brings it back to {v['upper_moisture']}."
        ),
        "shade": f"As it is the core reaches {v['highest_core']}; in full shade {v['highest_shaded']}.",
        "mist": (
            f"As it is the core reaches {v['highest_core']}; with the air misted down to {v['misted_temperature']} at"
            f" the hottest hour, {v['highest_misted']}."
        ),
    }
    as_it_is = (
        f"By tonight the top layer is at {v['moisture_tonight']}, and the core runs from {v['lowest_core']} to"
        f" {v['highest_core']}."
    )
    temperatures = (
        ("as it is", v.lowest_core, v.highest_core),
        ("covered", v.lowest_covered, v.highest_covered),
        ("full shade", None, v.highest_shaded),
        ("air misted", None, v.highest_misted),
    )
    best, coolest = min(((name, hottest) for name, _, hottest in temperatures), key=lambda row: row[1])
    gained = v.highest_core - coolest
    warnings: list[tuple[str | None, str]] = []
    if v.highest_core >= facts.LETHAL_HIGH.typical:
        warnings.append(
            (None, f"{v['highest_core']} in the core kills: do all that helps, and move worms to a cooler place.")
        )
    wetted = pores.at_moisture(v.bulk_density, v.top_moisture, v.upper_moisture)
    if v.upper_moisture > v.top_moisture and (told := pores.mud(wetted, v.upper_moisture)):
        warnings.append(("upper_moisture", told))
    if v.top_moisture < 0.60:
        warnings.append(
            ("top_moisture", f"{v['top_moisture']} is below the published limit of 60 %: water gently, several times.")
        )
    return Show(
        working=[
            *_working(v),
            Step(
                "Rules, in this order",
                "{lowest_core} below {band_low} and a cover helps: cover; {moisture_tonight} below {lower_moisture}:"
                " water; {highest_core} above {band_high}: the first of shade, cover and mist that does within half a"
                " degree of the best, or stop feeding where none lowers it by that much; else leave alone",
                source="this handbook",
                prose=True,
            ),
        ],
        tables=[
            Table(
                "ways",
                "The four ways",
                [
                    Column("way", "If the bed is"),
                    Column("lowest_core", "Coldest in the core", "degC"),
                    Column("highest_core", "Hottest in the core", "degC"),
                ],
                rows=temperatures,
                open=True,
            )
        ],
        figures=[
            Figure(
                "ways",
                "What each would do to the hottest core",
                finding=(
                    f"“{best.capitalize()}” takes most off the hottest core: {v.say(gained, 'K')}."
                    if gained >= 0.1
                    else "None of the three ways cools the hottest core."
                ),
                x=Axis("Way", kind="band"),
                y=Axis("Hottest in the core", "degC"),
                marks=[
                    Mark("zone_y", [(v.band_low, v.band_high, "band")], tone="good"),
                    Mark("dots", [(name, hottest) for name, _, hottest in temperatures], tone="main"),
                ],
            )
        ],
        warnings=warnings,
        reading=[
            f"Today: {in_words}, because {v.reason}.",
            numbers.get(v.decision, as_it_is),
            "Look into the bed before you act: the sums do not see fresh feed, leaks or draughts.",
        ],
        cautions=[
            "Electric pumps, fans and heaters near water: residual-current device (GFCI), licensed electrician.",
            "No ladders and no shade cloth in wind.",
        ],
    )
