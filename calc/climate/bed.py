"""Will the bed stay inside the worms' band through this heat wave, this frost, this year?"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import lru_cache
from itertools import pairwise
from math import inf, pi
from typing import Annotated, Any

from calc.climate import conduction, heat, pores, season
from calc.climate.feed_heat import Feeding, active_area
from calc.climate.heat import Bed, Run
from calc.climate.season import Season
from calc.engine import (
    Answer,
    Axis,
    Column,
    Figure,
    Handle,
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
    BED_HEIGHT,
    CLIMATE,
    FEED_MOISTURE,
    LANE_LENGTH,
    LANE_WIDTH,
    WORM_MASS,
    YEAR,
    BedHeight,
    ClimateChoice,
    FeedMoisture,
    LaneLength,
    LaneWidth,
    MonthlyMeans,
    Ration,
    WormMass,
    YearChoice,
)

DRIER_BY = 0.10
"""Points of moisture by which "a drier bed" is drier in the comparison [-]."""

LARGEST_WET_BULB_DROP = 15.0
"""Evaporation cannot bring a bed further below the air than a wet bulb falls in dry heat [K]; beyond it the figure is
wrong.
"""

SHOWN_MOISTURES = (0.55, 0.65, 0.75, 0.85)

COMPARED_EVAPORATION = 2.0
"""Evaporation of the comparison [mm/day]: a warm day under 80 % shade."""
WARM_GROUND = 15.0
"""Ground this much warmer than the air is asked about [K]: the ground under a bed stays near the mean of the season."""
COMPARED_WATER = f"{COMPARED_EVAPORATION:g} mm ({COMPARED_EVAPORATION / 25.4:.2f} in)"


@dataclass(frozen=True)
class BedTemperatures(Answer):
    lowest_core: Annotated[
        float, Output("degC", "Coldest in the core", "Half-way down, over the days asked for.", main=True)
    ]
    highest_core: Annotated[
        float, Output("degC", "Hottest in the core", "Half-way down, over the days asked for.", main=True)
    ]
    hours_below: Annotated[float, Output("hour", "Hours too cold", "Hours that the core is below the band.", main=True)]
    hours_above: Annotated[float, Output("hour", "Hours too hot", "Hours that the core is above the band.", main=True)]
    hours_until_out: Annotated[
        float | None, Output("hour", "Hours until the core leaves the band", "From the start; none: it stays inside.")
    ]
    refuge: Annotated[
        float,
        Output(
            "1",
            "Share of the bed always inside the band",
            "Depth in which worms find room at every hour.",
            us="%",
            metric="%",
        ),
    ]
    lowest_surface: Annotated[float, Output("degC", "Coldest on the surface", "Of the bed itself, under its cover.")]
    highest_surface: Annotated[float, Output("degC", "Hottest on the surface", "Of the bed itself, under its cover.")]
    damping_depth: Annotated[
        float,
        Output(
            "m",
            "Damping depth of a day",
            "At this depth a day's swing has shrunk to 37 %; at three times it, to 5 %.",
            us="in",
            metric="cm",
        ),
    ]
    conductivity: Annotated[
        float, Output("W/m K", "Heat conductivity", "Of this bedding with this water in it.", us="BTU/hour ft F")
    ]
    heat_capacity: Annotated[
        float,
        Output(
            "J/m3 K", "Heat capacity", "Heat that a volume takes up for each degree.", us="BTU/ft3 F", metric="MJ/m3 K"
        ),
    ]
    diffusivity: Annotated[
        float,
        Output(
            "m2/s",
            "Diffusivity",
            "Conductivity over heat capacity: how fast a change travels.",
            us="mm2/s",
            metric="mm2/s",
        ),
    ]
    heat_from_rotting: Annotated[
        float,
        Output(
            "W/m3",
            "Heat from rotting",
            "Of what the worms eat where they live, spread over the height of the bed; or the figure you typed.",
            us="W/m3",
        ),
    ]
    evaporation_used: Annotated[
        float,
        Output(
            "mm/day",
            "Water that cools the bed",
            "The figure you typed, or half of what a lane in shade loses in such air.",
        ),
    ]
    run: Annotated[heat.Run, Trace("The temperature of every layer, step by step")] = field(compare=False, repr=False)


def scenario_problems(
    moisture: float, bulk_density: float, band_low: float, band_high: float
) -> list[tuple[str | None, str]]:
    """What cannot be true of a bed and a band: (input, message) pairs."""
    problems: list[tuple[str | None, str]] = []
    if band_low >= band_high:
        problems.append(("band_low", "The lower end of the band is not below its upper end."))
    problems += pores.density_problems(bulk_density, moisture)
    return problems


def vapour_share(surface_coefficient: float, cover_resistance: float) -> float:
    """Share of its evaporation that a cover [m2 K/W] leaves to a bed [-]: vapour meets the same still air as heat
    does.
    """
    return heat.surface_link(surface_coefficient, cover_resistance) / surface_coefficient


@dataclass(frozen=True)
class Scenario:
    """Everything that decides the temperatures of a bed; units as the calculator's inputs of the same names."""

    air_mean: float
    air_swing: float
    days: float
    start_temperature: float | None
    bed_height: float
    moisture: float
    bulk_density: float
    cover_resistance: float
    ground_temperature: float | None
    decomposition_heat: float
    net_radiation: float
    evaporation: float
    surface_coefficient: float
    conductivity_factor: float
    lane_width: float = inf

    def run(self, steps: int = heat.STEPS_PER_DAY, intervals: int | None = None) -> Run:
        """The bed through its days; the grid is that of the calculator unless a coarser one is asked for."""
        body = heat.bed(
            self.bed_height, self.bulk_density, self.moisture, self.decomposition_heat, self.conductivity_factor
        )
        link = heat.surface_link(self.surface_coefficient, self.cover_resistance)
        drive = heat.day_drive(
            self.air_mean, self.air_swing, link, self.surface_coefficient, self.net_radiation, self.evaporation, steps
        )
        side = heat.side_loss(self.lane_width, body.conductivity, self.surface_coefficient)
        return heat.run_days(
            body,
            self.days,
            link,
            drive,
            self.ground_temperature,
            self.start_temperature,
            intervals,
            side,
            self.air_mean,
        )

    def with_moisture(self, moisture: float) -> "Scenario":
        """The same bedding wetter or drier: its dry matter stays, and no pore holds more than it can."""
        density = min(pores.at_moisture(self.bulk_density, self.moisture, moisture), pores.densest(moisture))
        return replace(self, moisture=moisture, bulk_density=density)

    def covered(self, resistance: float) -> "Scenario":
        """The same bed under a cover of a resistance [m2 K/W] more.

        Vapour meets the same still air as heat, so evaporation falls as the heat exchange does: through 10 cm of still
        air diffusion carries under 0.2 mm a day.
        """
        total = self.cover_resistance + resistance
        before, after = (vapour_share(self.surface_coefficient, value) for value in (self.cover_resistance, total))
        return replace(self, cover_resistance=total, evaporation=self.evaporation * after / before)

    def core_extremes(self) -> tuple[float, float]:
        """Coldest and hottest of the core [degC], on the coarser grid that is enough to compare by."""
        values = self.core_course()
        return min(values), max(values)

    def core_course(self) -> tuple[float, ...]:
        """The core step by step [degC], on that grid."""
        run = self.run(heat.COMPARING_STEPS, heat.COMPARING_INTERVALS)
        return tuple(run.at(run.core))


def resting_core(scenario: Scenario) -> float:
    """Mean temperature half-way down once the weather has lasted [degC]: the swing of the day left out."""
    body = heat.bed(
        scenario.bed_height,
        scenario.bulk_density,
        scenario.moisture,
        scenario.decomposition_heat,
        scenario.conductivity_factor,
    )
    link = heat.surface_link(scenario.surface_coefficient, scenario.cover_resistance)
    cooling = scenario.evaporation * heat.LATENT_HEAT / conduction.DAY_SECONDS
    outside = scenario.air_mean + scenario.net_radiation / scenario.surface_coefficient
    intervals = heat.COMPARING_INTERVALS
    layer = (body.height, intervals, body.conductivity, body.capacity, body.heat)
    side = heat.side_loss(scenario.lane_width, body.conductivity, scenario.surface_coefficient)
    cut = conduction.column([layer], link, scenario.ground_temperature, side, scenario.air_mean)
    return conduction.steady(cut, outside, -cooling)[intervals // 2]


@lru_cache(maxsize=16)
def own_heat(idle: Scenario, feeding: Feeding) -> float:
    """Heat from rotting of a lane's own feed [W/m3] in a bed that is else as `idle`, which makes none.

    Of what the worms eat at the temperature the bed had before; where that is not known, at the one it comes to with
    this
    heat: found by repeating, from the cold side, until it stays. What was laid before a heat wave rots on in it.
    """
    if idle.start_temperature is not None:
        return feeding.laid_heat(idle.start_temperature) / idle.bed_height
    made = 0.0
    for _ in range(100):
        core = resting_core(replace(idle, decomposition_heat=made))
        again = feeding.laid_heat(core) / idle.bed_height
        if abs(again - made) < 1e-3:
            break
        made = again
    return again


def extremes(run: Run) -> list[tuple[float, float, float]]:
    """Coldest and hottest of every node over a run, and the depth of the node: (depth [m], low [degC], high [degC])."""
    return [(depth, min(values), max(values)) for depth, values in zip(run.depths, zip(*run.profiles))]


def share_inside(nodes: Sequence[tuple[float, float, float]], low: float, high: float) -> float:
    """Share of the depth whose extremes stay within low to high [-], from :func:`extremes`; straight lines between the
    nodes.

    >>> share_inside([(0.0, 0, 40), (0.1, 10, 20), (0.2, 10, 20)], 5, 30)
    0.75
    """
    inside = 0.0
    for (_, cold, hot), (_, next_cold, next_hot) in zip(nodes, nodes[1:]):
        above, below = _part_over(cold - low, next_cold - low), _part_over(high - hot, high - next_hot)
        inside += max(0.0, min(above[1], below[1]) - max(above[0], below[0]))
    return inside / (len(nodes) - 1)


def _part_over(first: float, second: float) -> tuple[float, float]:
    """(from, to) of a straight line between two values, as shares of its length, on which it is not below zero."""
    if first >= 0 and second >= 0:
        return 0.0, 1.0
    if first < 0 and second < 0:
        return 0.0, 0.0
    crossing = first / (first - second)
    return (0.0, crossing) if first >= 0 else (crossing, 1.0)


@calculator(
    "climate.bed_temperature",
    "Will the bed stay inside the worms' band through this heat wave, or this frost?",
    samples=60,
    page="climate/temperature.html",
    leads={"harvest": {}, "climate.today": {}, "climate.water": {}, "climate.mist": {}},
)
def bed_temperature(
    air_mean: Annotated[
        float,
        Number(
            "degC",
            "Mean air temperature",
            -40,
            50,
            help="Half-way between the day’s high and the night’s low, in the shade.",
        ),
    ] = 30.0,
    air_swing: Annotated[
        float,
        Number(
            "K", "Swing of the air", 0, 25, help="Half of the high minus the low: so far up and down from the mean."
        ),
    ] = 10.0,
    days: Annotated[float, Number("day", "How many such days in a row", 0.5, 60)] = 5.0,
    start_temperature: Annotated[
        float | None,
        Number(
            "degC",
            "Bed temperature before it began",
            -5,
            60,
            optional=True,
            help="Blank: the weather has lasted so long that the bed swings in step with it, the worst case.",
        ),
    ] = None,
    bed_height: BedHeight = BED_HEIGHT,
    moisture: Annotated[
        float, Share("Moisture", 0.0, 0.95, help="Wet basis, as the moisture chapter measures it.")
    ] = 0.75,
    bulk_density: Annotated[
        float, Number("kg/m3", "Bulk density", 30, 1300, help="As it lies, water included: the bucket test.")
    ] = 600.0,
    cover_resistance: Annotated[
        float,
        Number(
            "m2 K/W",
            "Resistance of the cover",
            0,
            10,
            help="Bare 0; 4 in (10 cm) of dry straw about 1.4 m²K/W (R-8); the same wet about 0.3 (R-2).",
        ),
    ] = 0.0,
    ground_temperature: Annotated[
        float | None,
        Number(
            "degC",
            "Ground under the bed",
            -10,
            40,
            optional=True,
            help="Push a thermometer in under the bed. Blank: no heat passes the floor (a raised, insulated bed).",
        ),
    ] = 20.0,
    decomposition_heat: Annotated[
        float | None,
        Number(
            "W/m3",
            "Heat from rotting",
            0,
            1000,
            us="W/m3",
            group="Heat",
            optional=True,
            fact=facts.DECOMPOSITION_HEAT,
            help="Blank: from what your worms eat, as below. A bed that is not fed 5, a hot heap several hundred.",
        ),
    ] = None,
    net_radiation: Annotated[
        float,
        Number(
            "W/m2",
            "Sun that reaches the bed or its cover",
            0,
            400,
            us="W/m2",
            group="Heat",
            help="Mean of 24 hours, what is radiated away taken off. Full shade 0; open midsummer about 150.",
        ),
    ] = 0.0,
    evaporation: Annotated[
        float | None,
        Number(
            "mm/day",
            "Water evaporating from the bed",
            0,
            12,
            group="Heat",
            optional=True,
            help=(
                "Each millimetre (0.04 in) takes 28 W/m². Blank: what a lane in shade loses in such air, half"
                " of it cooling the bed."
            ),
        ),
    ] = None,
    surface_coefficient: Annotated[
        float,
        Number(
            "W/m2 K",
            "Heat exchange with the air",
            1,
            60,
            group="Heat",
            fact=facts.SURFACE_COEFFICIENT,
            help="In W/m²K (BTU/h·ft²·°F): still air 5 (0.9), a sheltered bed 10 (1.8), open and windy 25 (4.4).",
        ),
    ] = 10.0,
    conductivity_factor: Annotated[
        float,
        Number(
            "1",
            "Conductivity against peat",
            0.2,
            4,
            group="Heat",
            fact=facts.CONDUCTIVITY_DOUBT,
            help="1 is peat with the same water; strawy bedding less, soil and sand more.",
        ),
    ] = 1.0,
    band_low: Annotated[
        float, Number("degC", "Lower end of the band", -5, 25, group="Band", help="Below it the worms stop working.")
    ] = 4.0,
    band_high: Annotated[
        float,
        Number(
            "degC",
            "Upper end of the band",
            15,
            40,
            group="Band",
            help="Above it they stop growing; 95 °F (35 °C) kills.",
        ),
    ] = 30.0,
    climate: ClimateChoice = CLIMATE,
    monthly_means: MonthlyMeans = None,
    weather_year: YearChoice = YEAR,
    worm_mass: WormMass = WORM_MASS,
    lane_length: LaneLength = LANE_LENGTH,
    lane_width: LaneWidth = LANE_WIDTH,
    ration: Ration = biology.RATION.typical,
    feed_moisture: FeedMoisture = FEED_MOISTURE,
) -> BedTemperatures:
    """Temperatures in a bed by conduction from air, cover and ground, its own heat included.

    Edges are left out: right for a lane much wider than it is high. So is freezing: water gives off heat as it freezes,
    which holds a real bed at 0 degC for longer than is said here.
    Source: heat equation by Crank & Nicolson 1947; thermal properties de Vries 1963, Moene & van Dam 2014.
    """
    problems = scenario_problems(moisture, bulk_density, band_low, band_high)
    if problems:
        raise Refused(problems)
    through = vapour_share(surface_coefficient, cover_resistance)
    lost = season.cooling_water(air_mean) * through if evaporation is None else evaporation
    idle = Scenario(
        air_mean,
        air_swing,
        days,
        start_temperature,
        bed_height,
        moisture,
        bulk_density,
        cover_resistance,
        ground_temperature,
        0.0,
        net_radiation,
        lost,
        surface_coefficient,
        conductivity_factor,
        lane_width,
    )
    feeding = Feeding(worm_mass, active_area(lane_length, lane_width, bed_height), ration, feed_moisture)
    made = own_heat(idle, feeding) if decomposition_heat is None else decomposition_heat
    body = heat.bed(bed_height, bulk_density, moisture, made, conductivity_factor)
    run = replace(idle, decomposition_heat=made).run()
    core, surface = run.at(run.core), run.at(0)
    return BedTemperatures(
        lowest_core=min(core),
        highest_core=max(core),
        hours_below=heat.hours_beyond([-value for value in core], -band_low),
        hours_above=heat.hours_beyond(core, band_high),
        hours_until_out=heat.first_beyond(core, band_low, band_high),
        refuge=share_inside(extremes(run), band_low, band_high),
        lowest_surface=min(surface),
        highest_surface=max(surface),
        damping_depth=conduction.damping_depth(body.diffusivity),
        conductivity=body.conductivity,
        heat_capacity=body.capacity,
        diffusivity=body.diffusivity,
        heat_from_rotting=made,
        evaporation_used=lost,
        run=run,
    )


# ------------------------------------------------------------------------------------------------ the year, by week


@dataclass(frozen=True)
class Week:
    """A week of the year: its number, mean of the air and of the core [degC], coldest and hottest the core gets in a
    day.
    """

    number: int
    air: float
    core: float
    core_low: float
    core_high: float


def bed_year(
    weather: Season,
    body: Bed,
    moisture: float,
    bulk_density: float,
    cover_resistance: float,
    surface_coefficient: float,
    conductivity_factor: float,
    on_ground: bool,
    lane_width: float,
    water: Callable[[float], float],
    made: Callable[[float], float],
) -> list[Week]:
    """Weeks of a year of the bed, a day at a time, after a year to settle; no sun.

    body: heat.Bed; water [mm/day] that cools the bed at an air temperature [degC]; made: heat [W/m2] at a bed
    temperature; on_ground False puts the bed on an insulated floor.
    The core is told by the mean of the depth; how far it swings in a day is added from the full conduction model.
    """
    link = heat.surface_link(surface_coefficient, cover_resistance)
    intervals = heat.FEWEST_INTERVALS
    layers = [(body.height, intervals, body.conductivity, body.capacity, 0.0)]
    if on_ground:
        soil = (facts.SOIL_CONDUCTIVITY.typical, 1e6 * facts.SOIL_HEAT.typical)
        layers.append((season.GROUND_PATH, intervals, *soil, 0.0))
    swing = conduction.swing(conduction.column(layers, link), link, 2 * pi / conduction.DAY_SECONDS)[intervals // 2]
    bed = (body.height, moisture, bulk_density, cover_resistance)
    temperature, days = weather.year_mean, []
    for day in range(1, 2 * season.YEAR_DAYS + 1):
        ground = weather.ground(day) if on_ground else None
        temperature = season.next_bed_temperature(
            temperature,
            weather.air(day),
            ground,
            made(temperature),
            *bed,
            water(weather.air(day)) * heat.LATENT_HEAT / conduction.DAY_SECONDS,
            surface_coefficient=surface_coefficient,
            conductivity_factor=conductivity_factor,
            width=lane_width,
        )
        if day > season.YEAR_DAYS:
            days.append((weather.air(day), temperature, abs(swing) * weather.swing(day)))
    weeks = []
    for number in range(52):
        air, core, daily = (sum(part) / 7 for part in zip(*days[7 * number : 7 * number + 7]))
        weeks.append(Week(number + 1, air, core, core - daily, core + daily))
    return weeks


# ------------------------------------------------------------------------------------------------ what would change it


def dries(scenario: Scenario) -> bool:
    """Whether more water could evaporate: air at the freezing point takes up next to none."""
    return scenario.air_mean > 0


HARDER = "rotting twice as hard"
"""Compared, and never named as the remedy in the cold: a thick layer of fresh feed drives worms out."""


def best_change(compared: Sequence[tuple[str, float, float]], too_warm: bool) -> tuple[str, float, float]:
    """The row of changes that cools the core most, or warms it most; where one end is alike, the other decides."""
    if too_warm:
        return min(compared[1:], key=lambda row: (row[2], row[1]))
    return max((row for row in compared[1:] if row[0] != HARDER), key=lambda row: (row[1], row[2]))


def deeper(scenario: Scenario, own_feed: bool) -> tuple[str, Scenario]:
    """The same bed half as deep again, 2 m at most: the heat of the worms' own feed is spread over its depth, one that
    was typed is that of each volume.
    """
    height = min(2.0, 1.5 * scenario.bed_height)
    if not own_feed:
        return "half as deep again, rotting as hard", replace(scenario, bed_height=height)
    spread = scenario.decomposition_heat * scenario.bed_height / height
    return "half as deep again, fed the same", replace(scenario, bed_height=height, decomposition_heat=spread)


def changes(scenario: Scenario, own_feed: bool = False) -> list[tuple[str, float, float]]:
    """What a cover, moisture, evaporation, depth and feed would change: (what, coldest core, hottest core) [degC], as
    it is first; own_feed: the heat is that of what the worms eat.
    """
    straw = next(cover for cover in facts.COVERS if cover.name == "4 in (10 cm) of dry straw")
    ways = [
        (f"under {straw.name} more", scenario.covered(straw.resistance)),
        ("drier by 10 points", scenario.with_moisture(max(0.05, scenario.moisture - DRIER_BY))),
        ("wetter by 5 points", scenario.with_moisture(min(0.95, scenario.moisture + DRIER_BY / 2))),
        *(
            [
                (
                    f"losing {COMPARED_WATER} more water a day",
                    replace(scenario, evaporation=scenario.evaporation + COMPARED_EVAPORATION),
                )
            ]
            if dries(scenario)
            else []
        ),
        deeper(scenario, own_feed),
        (
            "not fed, so that it rots a quarter as hard",
            replace(scenario, decomposition_heat=scenario.decomposition_heat / 4),
        ),
        (HARDER, replace(scenario, decomposition_heat=2 * scenario.decomposition_heat)),
    ]
    return [(name, *changed.core_extremes()) for name, changed in [("as it is", scenario), *ways]]


def hottest_by_moisture(scenario: Scenario) -> list[tuple[float, float, float, float]]:
    """Hottest core [degC] from 55 to 85 % moisture, once the weather has lasted: (moisture, as typed, evaporating, half
    the rotting).
    """
    lasting = replace(scenario, days=1.0, start_temperature=None)
    rows = []
    for moisture in SHOWN_MOISTURES:
        same = lasting.with_moisture(moisture)
        cooled = replace(same, evaporation=scenario.evaporation + COMPARED_EVAPORATION)
        calmer = replace(same, decomposition_heat=scenario.decomposition_heat / 2)
        rows.append((moisture, same.core_extremes()[1], cooled.core_extremes()[1], calmer.core_extremes()[1]))
    return rows


SHOWN_COVERS = (0.0, 0.15, 0.3, 0.7, 1.4, 2.1, 3.0)
"""Resistances of a cover that the figure is drawn through [m2 K/W]: from a bare bed to 8 in (20 cm) of dry straw."""


def cores_by_cover(scenario: Scenario) -> list[tuple[float, float, float]]:
    """Coldest and hottest core [degC] under a cover in the place of the present one: (its resistance [m2 K/W], coldest,
    hottest), as :func:`changes` has them for what lies there.
    """
    shown = sorted({*SHOWN_COVERS, scenario.cover_resistance})
    return [(there, *scenario.covered(there - scenario.cover_resistance).core_extremes()) for there in shown]


# ------------------------------------------------------------------------------------------------ what the page shows


def _cover_figure(v: View, scenario: Scenario, temperature: Axis, band_zone: Mark) -> Figure:
    """The core by how thick it is covered, with the cover as a handle."""
    cores = cores_by_cover(scenario)
    bare, thick = cores[0], cores[-1]
    too_warm = v.lowest_core + v.highest_core > v.band_low + v.band_high
    hour, end = ("hottest", 2) if too_warm else ("coldest", 1)
    low = next(coldest for there, coldest, _ in cores if there == v.cover_resistance)
    straw = next(cover for cover in facts.COVERS if cover.name == "4 in (10 cm) of dry straw")
    return Figure(
        "cover",
        "What a cover does to the core",
        finding=(
            f"Bare, the {hour} hour in the core is {v.say(bare[end], 'degC')}; under {v.say(thick[0], 'm2 K/W')} it is"
            f" {v.say(thick[end], 'degC')}."
        ),
        x=Axis("Resistance of the cover", "m2 K/W", low=0.0),
        y=temperature,
        marks=[
            band_zone,
            Mark("rule_x", [(straw.resistance, straw.name)], tone="muted"),
            Mark("band", cores, label="coldest to hottest", tone="main"),
        ],
        handles=[Handle("cover_resistance", "x", 0.0, 3.0, at=(v.cover_resistance, low))],
    )


def depth_rows(run: Run, band_low: float, band_high: float) -> list[tuple[float, float, float, float, float]]:
    """By depth: (depth [m], coldest, hottest [degC], hours too cold, hours too hot), about every eighth of the
    height.
    """
    stride = (len(run.depths) - 1) // heat.EIGHTHS
    rows = []
    for node in range(0, len(run.depths), stride):
        values = run.at(node)
        cold = heat.hours_beyond([-value for value in values], -band_low)
        rows.append((run.depths[node], min(values), max(values), cold, heat.hours_beyond(values, band_high)))
    return rows


def lines_by_depth(run: Run, air: Callable[..., Any], hours: float) -> list[tuple[str, str, list[tuple[float, float]]]]:
    """Curves over the last `hours`: air, surface, a quarter down, the core, three quarters down; (label, tone,
    points).
    """
    steps = min(len(run.profiles) - 1, round(hours * heat.STEPS_PER_DAY / 24))
    step_hours = 24 / heat.STEPS_PER_DAY
    last = len(run.depths) - 1
    chosen = (
        ("surface", 0, "warn"),
        ("¼ down", last // 4, "second"),
        ("middle", run.core, "main"),
        ("¾ down", 3 * last // 4, "third"),
    )
    curves = [
        (
            "air",
            "muted",
            [
                (place * step_hours, air((len(run.profiles) - 1 - steps + place) * step_hours % 24))
                for place in range(steps + 1)
            ],
        )
    ]
    for label, node, tone in chosen:
        values = run.at(node)[-steps - 1 :]
        curves.append((label, tone, [(place * step_hours, value) for place, value in enumerate(values)]))
    return curves


def scenario_of(v: View) -> Scenario:
    """The scenario of a run, from its inputs."""
    given = {name: getattr(v, name) for name in Scenario.__dataclass_fields__}
    return Scenario(**given | {"decomposition_heat": v.heat_from_rotting, "evaporation": v.evaporation_used})


def feeding_of(v: View) -> Feeding:
    """The lane's own feed, from a run's inputs."""
    area = active_area(v.lane_length, v.lane_width, v.bed_height)
    return Feeding(v.worm_mass, area, v.ration, v.feed_moisture)


def weeks_outside(weeks: Sequence[Week], band_low: float, band_high: float) -> tuple[int, int]:
    """Weeks in which the core's day goes below and above the band."""
    return sum(week.core_low < band_low for week in weeks), sum(week.core_high > band_high for week in weeks)


def bed_warnings(v: View) -> list[tuple[str | None, str]]:
    """Sentences for figures that are allowed but deserve a second look."""
    warnings: list[tuple[str | None, str]] = []
    if v.highest_core >= facts.LETHAL_HIGH.typical:
        warnings.append(
            (
                None,
                (
                    f"{v['highest_core']} in the core kills: 35 °C (95 °F) is deadly to these worms. Move them, or"
                    " open, shade and water the bed before it comes."
                ),
            )
        )
    elif v.highest_core > v.band_high:
        warnings.append((None, f"The core is above {v['band_high']} for {v['hours_above']}."))
    if v.lowest_core < v.band_low:
        warnings.append((None, f"The core is below {v['band_low']} for {v['hours_below']}."))
    if v.refuge == 0:
        warnings.append(
            (None, "No depth of this bed stays inside the band all the time: the worms have nowhere to go.")
        )
    if v.lowest_surface < 0:
        warnings.append(
            (
                None,
                (
                    "The surface freezes. Freezing gives off heat that this sum leaves out, so a real bed stays warmer"
                    " than said here."
                ),
            )
        )
    if v.ground_temperature is not None and v.ground_temperature > v.air_mean + WARM_GROUND:
        warnings.append(
            (
                "ground_temperature",
                (
                    f"Ground of {v['ground_temperature']} under air of {v['air_mean']} is rare, and it is what holds"
                    " this bed up. Push a thermometer in under the bed."
                ),
            )
        )
    if told := pores.mud(v.bulk_density, v.moisture):
        warnings.append(("moisture", told))
    if v.bed_height < 0.15:
        warnings.append(
            (
                "bed_height",
                (
                    f"A bed of only {v['bed_height']} follows the air: two damping depths are"
                    f" {v.say(2 * v.damping_depth, 'm', us='in', metric='cm')}."
                ),
            )
        )
    link = heat.surface_link(v.surface_coefficient, v.cover_resistance)
    if v.evaporation_used * heat.LATENT_HEAT / conduction.DAY_SECONDS > LARGEST_WET_BULB_DROP * link + v.net_radiation:
        warnings.append(
            (
                "evaporation",
                (
                    "That much water needs more heat than sun and air bring to the surface: take the bed evaporation"
                    " from the water page."
                ),
            )
        )
    return warnings


STEP_HOURS = 24 / heat.STEPS_PER_DAY


def curve_rows(v: View, run: Run) -> dict[str, Any]:
    """Rows of the working: the core and the surface step by step, straight lines between, and the layers."""
    core, surface = run.at(run.core), run.at(0)
    units = {"at": "hour", "length": "hour", "before": "degC", "after": "degC", "cooler": "degC", "warmer": "degC"}
    lines = [
        {
            "at": place * STEP_HOURS,
            "length": STEP_HOURS,
            "before": before,
            "after": after,
            "cooler": min(before, after),
            "warmer": max(before, after),
        }
        for place, (before, after) in enumerate(pairwise(core))
    ]
    nodes = extremes(run)
    layers = [{"inside": share_inside([upper, lower], v.band_low, v.band_high)} for upper, lower in pairwise(nodes)]
    return {
        "hours": RowsPart(
            "the steps",
            {"core": "degC", "surface": "degC"},
            [{"core": inner, "surface": outer} for inner, outer in zip(core, surface)],
        ),
        "slanting": RowsPart("lines that rise or fall", units, [one for one in lines if one["before"] != one["after"]]),
        "level": RowsPart("level lines", units, [one for one in lines if one["before"] == one["after"]]),
        "lines": RowsPart("the lines between", units, lines),
        "layers": RowsPart("the layers", {"inside": "1"}, layers),
        "start": Part("core at the start", core[0], "degC"),
    }


def _leaves(v: View, lines: Sequence[Mapping[str, float]]) -> str:
    """The equation of the hour in which the core first leaves the band, on the side on which it does."""
    if v.hours_until_out == 0:
        return "{hours_until_out} = 0 hours"
    too_warm = next(
        (one["after"] > v.band_high for one in lines if not v.band_low <= one["after"] <= v.band_high), True
    )
    end, sign = ("{band_high}", ">") if too_warm else ("{band_low}", "<")
    row = f"of {{lines}} where {{after}} {sign} {end}"
    return (
        f"{{hours_until_out}} = (the first {{at}} {row}) + (the first {{length}} {row}) × ({end} − (the first"
        f" {{before}} {row})) ÷ ((the first {{after}} {row}) − (the first {{before}} {row}))"
    )


def working_steps(v: View, run: Run) -> list[Step]:
    """Every equation with this run's numbers."""
    read = curve_rows(v, run)
    below = "(the larger of 0 and the smaller of 1 and ({band_low} − {cooler}) ÷ ({warmer} − {cooler}))"
    above = "(the larger of 0 and the smaller of 1 and ({warmer} − {band_high}) ÷ ({warmer} − {cooler}))"
    water = heat.volumetric_water(v.bulk_density, v.moisture)
    by_volume = {
        "water": Part("water by volume", water),
        "of_water": Part("density of water", 1000.0, "kg/m3"),
        "solids": Part("heat of dry matter", 1.9, "kJ/kg K"),
    }
    peat = {
        "peat": Part("conductivity of peat with as much water", heat.conductivity(water), "W/m K", us="BTU/hour ft F")
    }
    link = heat.surface_link(v.surface_coefficient, v.cover_resistance)
    cooling = v.evaporation_used * heat.LATENT_HEAT / conduction.DAY_SECONDS
    grid = (
        f"{len(run.depths) - 1} layers of {v.say(run.depths[1], 'm', us='in', metric='mm', digits=2)}, steps of half an"
        " hour"
    )
    return [
        Step(
            "Water by volume",
            "{water} = {bulk_density} × {moisture} ÷ {of_water}",
            source="definition",
            values=by_volume,
        ),
        Step(
            "Conductivity",
            "{conductivity} = {conductivity_factor} × {peat}",
            source="peat soil, Moene & van Dam 2014, table 2.2; linear in moisture, Ahn et al. 2009",
            values=peat,
        ),
        Step(
            "Heat capacity",
            "{heat_capacity} = 1.9 kJ/kg K × {bulk_density} × (1 − {moisture}) + 4.18 MJ/m³ K × {water}",
            source="de Vries 1963: the parts add up",
            values=by_volume,
        ),
        Step("Diffusivity", "{diffusivity} = {conductivity} ÷ {heat_capacity}", source="definition"),
        Step(
            "Damping depth",
            "{damping_depth} = √({diffusivity} × 86,400 s ÷ π)",
            source="damped wave, any text on heat conduction",
        ),
        Step(
            "Surface",
            "{link} = 1 ÷ (1 ÷ {surface_coefficient} + {cover_resistance})",
            source="resistances in a row, ISO 6946",
            values={"link": Part("heat exchange through the cover", link, "W/m2 K")},
        ),
        Step(
            "Evaporation",
            "{cooling} = {evaporation_used} × {of_water} × {latent}",
            source="FAO-56, eq. 20",
            values=by_volume
            | {
                "cooling": Part("heat taken by evaporation", cooling, "W/m2", us="W/m2"),
                "latent": Part("heat of so much water", heat.LATENT_HEAT, "J/kg", text="2.45 MJ/kg"),
            },
        ),
        Step(
            "Coldest and hottest",
            "{lowest_core} = the smallest {core} of {hours}; {highest_core} = the largest {core} of {hours};"
            " {lowest_surface} = the smallest {surface} of {hours}; {highest_surface} = the largest {surface} of"
            " {hours}",
            source="the curves, step by step",
            values=read,
        ),
        Step(
            "Depth that is always inside",
            "{refuge} = mean over {layers} of {inside}",
            source="the curves of all layers, straight lines between them",
            values=read,
        ),
        Step(
            "Hours out of the band",
            f"{{hours_below}} = sum over {{slanting}} of {{length}} × {below} + (sum over {{level}} of {{length}} where"
            f" {{cooler}} < {{band_low}}); {{hours_above}} = sum over {{slanting}} of {{length}} × {above} + (sum over"
            " {level} of {length} where {cooler} > {band_high})",
            source="straight lines between the steps in time",
            values=read,
        ),
        Step(
            "Until it leaves the band",
            _leaves(v, read["lines"].rows),
            source="outside from the start" if v.hours_until_out == 0 else "the same lines",
            values=read,
        ),
        Step(
            "Temperatures",
            "C ∂T/∂t = ∂/∂z (k ∂T/∂z) + {heat_from_rotting}, on {grid}",
            source="Crank & Nicolson 1947",
            values={"grid": ("a grid of layers", grid)},
            prose=True,
        ),
    ]


@presents(bed_temperature)
def show_bed_temperature(v: View) -> Show:
    scenario, run = scenario_of(v), v.run
    rows = depth_rows(run, v.band_low, v.band_high)
    compared = changes(scenario, v.decomposition_heat is None)
    by_moisture = hottest_by_moisture(scenario)
    feeding = feeding_of(v)
    weeks = bed_year(
        season.season(v.climate, v.monthly_means, v.weather_year),
        heat.bed(v.bed_height, v.bulk_density, v.moisture, 0.0, v.conductivity_factor),
        v.moisture,
        v.bulk_density,
        v.cover_resistance,
        v.surface_coefficient,
        v.conductivity_factor,
        v.ground_temperature is not None,
        v.lane_width,
        lambda air: (
            season.cooling_water(air) * vapour_share(v.surface_coefficient, v.cover_resistance)
            if v.evaporation is None
            else v.evaporation
        ),
        feeding.heat if v.decomposition_heat is None else lambda _: v.decomposition_heat * v.bed_height,
    )
    cold_weeks, hot_weeks = weeks_outside(weeks, v.band_low, v.band_high)
    shown_hours = min(48.0, 24 * v.days)
    too_warm = v.lowest_core + v.highest_core > v.band_low + v.band_high
    best_name, best_low, best_high = best_change(compared, too_warm)
    stays = v.hours_below == 0 and v.hours_above == 0
    per_tenth = (by_moisture[-1][1] - by_moisture[0][1]) / 3
    temperature = Axis("Temperature", "degC")
    band_zone = Mark("zone_y", [(v.band_low, v.band_high, "band")], tone="good")
    return Show(
        working=working_steps(v, run),
        tables=[
            Table(
                "by_depth",
                "By depth, over the days asked for",
                [
                    Column("depth", "Depth", "m", us="in", metric="cm"),
                    Column("coldest", "Coldest", "degC"),
                    Column("hottest", "Hottest", "degC"),
                    Column("hours_below", "Hours too cold", "hour"),
                    Column("hours_above", "Hours too hot", "hour"),
                ],
                rows=rows,
                open=True,
            ),
            Table(
                "changes",
                "What would change it",
                [
                    Column("change", "If the bed were"),
                    Column("lowest_core", "Coldest in the core", "degC"),
                    Column("highest_core", "Hottest in the core", "degC"),
                ],
                rows=compared,
                open=True,
            ),
            Table(
                "season",
                "Through the year, by week",
                [
                    Column("week", "Week", "1"),
                    Column("air", "Air, mean", "degC"),
                    Column("core", "Core, mean", "degC"),
                    Column("core_low", "Core at night", "degC"),
                    Column("core_high", "Core by day", "degC"),
                ],
                rows=[(week.number, week.air, week.core, week.core_low, week.core_high) for week in weeks],
            ),
        ],
        figures=[
            Figure(
                "two_days",
                f"The last {shown_hours:.0f} hours by depth",
                finding=(
                    f"Between night and day the air changes by {v.say(2 * v.air_swing, 'K')}, the core by"
                    f" {v.say(_spread(run.at(run.core)), 'K')}."
                ),
                x=Axis("Time", "hour", ticks=list(range(0, int(shown_hours) + 1, 6))),
                y=temperature,
                marks=[
                    band_zone,
                    *(
                        Mark("line", points, label=label, tone=tone, dashed=label == "air")
                        for label, tone, points in lines_by_depth(
                            run, lambda hour: v.air_mean + v.air_swing * heat.day_shape(hour), shown_hours
                        )
                    ),
                ],
            ),
            Figure(
                "by_depth",
                "Coldest and hottest by depth",
                finding=(
                    f"{v['refuge']} of the depth stays inside {v.yours('band_low')} to"
                    f" {v.yours('band_high')} at every hour."
                ),
                x=Axis("Depth", "m", us="in", metric="cm"),
                y=temperature,
                marks=[band_zone, Mark("band", extremes(run), label="coldest to hottest", tone="main")],
                handles=[
                    Handle("bed_height", "x", 0.15, 1.2, at=(v.bed_height, (v.band_low + v.band_high) / 2)),
                    Handle("band_low", "y", -5.0, 25.0, at=(0.0, v.band_low)),
                    Handle("band_high", "y", 15.0, 45.0, at=(0.0, v.band_high)),
                ],
            ),
            _cover_figure(v, scenario, temperature, band_zone),
            Figure(
                "moisture",
                "What moisture does to the hottest core",
                finding="Once such weather has lasted, ten points more moisture move the hottest core by"
                f" {v.say(per_tenth, 'K')}"
                + (
                    f"; {COMPARED_WATER} more evaporating a day by {v.say(by_moisture[2][2] - by_moisture[2][1], 'K')}."
                    if dries(scenario)
                    else "."
                ),
                x=Axis("Moisture, with the same dry matter", "1", us="%", metric="%"),
                y=temperature,
                marks=[
                    Mark("line", [(row[0], row[1]) for row in by_moisture], label="as typed", tone="main"),
                    Mark(
                        "line",
                        [(row[0], row[3]) for row in by_moisture],
                        label="half the rotting",
                        tone="third",
                        dashed=True,
                    ),
                    *(
                        [
                            Mark(
                                "line",
                                [(row[0], row[2]) for row in by_moisture],
                                label=f"{COMPARED_WATER} more evaporating",
                                tone="second",
                            )
                        ]
                        if dries(scenario)
                        else []
                    ),
                ],
            ),
            Figure(
                "season",
                "The core through the year",
                finding=(
                    f"{_weeks_said(cold_weeks).capitalize()} below the band and {_weeks_said(hot_weeks)} above it"
                    + (", with the cover left on all year." if v.cover_resistance else ".")
                ),
                x=Axis("Week of the year", "1"),
                y=temperature,
                marks=[
                    band_zone,
                    Mark(
                        "band",
                        [(week.number, week.core_low, week.core_high) for week in weeks],
                        label="core, night to day",
                        tone="main",
                    ),
                    Mark("line", [(week.number, week.core) for week in weeks], label="core", tone="main"),
                    Mark("line", [(week.number, week.air) for week in weeks], label="air", tone="muted", dashed=True),
                ],
            ),
        ],
        warnings=bed_warnings(v),
        reading=[
            (
                f"Half-way down the bed runs from {v['lowest_core']} to {v['highest_core']}; on its surface from"
                f" {v['lowest_surface']} to {v['highest_surface']}."
            ),
            (
                f"There it stays inside {v['band_low']} to {v['band_high']}{_out_above(v, rows)}."
                if stays
                else f"It is out of the band for {v.say(v.hours_below + v.hours_above, 'hour')} in {v.yours('days')}."
            ),
            (
                f"Of the changes compared,{'' if too_warm else ' harder rotting left out,'} “{best_name}”"
                f" {'cools' if too_warm else 'warms'} it most:"
                f" {v.say(best_low, 'degC')} to {v.say(best_high, 'degC')} in the core."
            ),
            f"A day's swing shrinks to 37 % every {v['damping_depth']}, wet or dry: depth buffers the day, not water.",
            "Edges, rain and freezing are left out: trust a thermometer before this figure.",
        ],
        cautions=[
            *(
                ["In great heat work early, drink before you are thirsty, and never alone in a closed tunnel."]
                if too_warm
                else []
            ),
        ],
    )


def _out_above(v: View, rows: Sequence[tuple[float, float, float, float, float]]) -> str:
    """Where, between surface and core, the bed is longest outside the band all the same, and for how long."""
    upper = [(below + above, depth) for depth, _, _, below, above in rows if 0 < depth < v.bed_height / 2]
    hours, depth = max(upper, default=(0.0, 0.0))
    if hours < 1:
        return ""
    where = v.say(depth, "m", us="in", metric="cm", digits=2)
    return f", but {where} down, where worms feed, it is out for {v.say(hours, 'hour')}"


def _spread(values: Sequence[float]) -> float:
    """Highest less lowest of the last day."""
    last_day = values[-heat.STEPS_PER_DAY - 1 :]
    return max(last_day) - min(last_day)


def _weeks_said(count: int) -> str:
    """A number of weeks in words that fit a sentence."""
    return "no week is" if count == 0 else "one week is" if count == 1 else f"{count} weeks are"
