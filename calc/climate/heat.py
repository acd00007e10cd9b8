"""How bedding holds and passes heat, and what the air, the sun and evaporation do to its surface."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil, inf, pi, sin

from calc.climate import conduction
from calc.climate.pores import WATER_DENSITY
from calc.facts import climate as facts

LATENT_HEAT = 2.45e6
"""Heat to evaporate a kilogram of water at 20 degC [J/kg]. FAO-56, eq. 20."""

WARMEST_HOUR = 15.0
"""Hour of the day at which the air is warmest; the usual lag behind noon."""

STEPS_PER_DAY = 48
COARSEST_STEP = 0.0125
"""The grid: half an hour, and nodes at most 12.5 mm apart. Against exact solutions it is within 0.05 K (tests)."""

EIGHTHS = 8
"""The grid has a node at every eighth of the height: those are the depths that are shown, and the core is the fourth.
"""

FEWEST_INTERVALS, MOST_INTERVALS = 16, 80

COMPARING_STEPS, COMPARING_INTERVALS = 24, 16
"""The coarser grid of comparisons, of which only the core is used: there it is within 0.1 K (tests)."""


def volumetric_water(bulk_density: float, moisture: float) -> float:
    """Share of the bed's volume that is water [-]; bulk_density [kg/m3] as it lies, moisture [-] wet basis.

    >>> round(volumetric_water(600, 0.75), 6)
    0.45
    """
    return bulk_density * moisture / WATER_DENSITY


def conductivity(water: float) -> float:
    """Heat conductivity of bedding [W/m/K] by its volumetric water [-].

    Straight lines between published points for peat: conductivity of compost materials is linear in moisture and in
    density (Ahn et al. 2009).
    >>> round(conductivity(0.45), 3)
    0.27
    """
    points: list[tuple[float, float]] = [(x, y) for x, y, *_ in facts.CONDUCTIVITY.points]
    (dry, low), (wet, high) = next(
        (pair for pair in zip(points, points[1:]) if water <= pair[1][0]), (points[-2], points[-1])
    )
    return low + (high - low) * (water - dry) / (wet - dry)


def heat_capacity(dry_density: float, water: float) -> float:
    """Heat that a cubic metre of bedding takes up per kelvin [J/m3/K].

    The capacities of its parts added up (de Vries 1963); air weighs too little to count.
    dry_density [kg dry matter per m3], water [-] volumetric.
    >>> heat_capacity(150, 0.45)
    2166000.0
    """
    organic = 1000 * facts.ORGANIC_HEAT.typical * dry_density
    return organic + 1000 * facts.WATER_HEAT.typical * WATER_DENSITY * water


@dataclass(frozen=True)
class Bed:
    """A bed as heat sees it: height [m], conductivity [W/m/K], capacity [J/m3/K], heat made [W/m3]."""

    height: float
    conductivity: float
    capacity: float
    heat: float

    @property
    def diffusivity(self) -> float:
        """How fast temperature spreads [m2/s]."""
        return self.conductivity / self.capacity


def bed(height: float, bulk_density: float, moisture: float, heat: float, conductivity_factor: float = 1.0) -> Bed:
    """Bed of bedding with a bulk density [kg/m3] as it lies and a moisture [-]; heat [W/m3]; factor [-] on
    conductivity.
    """
    water = volumetric_water(bulk_density, moisture)
    capacity = heat_capacity(bulk_density * (1 - moisture), water)
    return Bed(height, conductivity_factor * conductivity(water), capacity, heat)


def side_loss(width: float, conductivity: float, surface_coefficient: float) -> float:
    """Heat that a bed loses through its two long sides, per volume and kelvin [W/m3/K], as a mean over its width [m].

    Board and air are resistances in a row; in the bedding a slab that makes heat evenly is a sixth of its width over
    its
    conductivity [W/m/K] warmer in the mean than at its sides (the parabola of any text on heat conduction).
    >>> round(side_loss(1.2192, 0.27, 10.0), 2), side_loss(inf, 0.27, 10.0)
    (1.64, 0.0)
    """
    if width == inf:
        return 0.0
    resistance = 1 / surface_coefficient + facts.SIDE_RESISTANCE.typical + width / (6 * conductivity)
    return 2 / width / resistance


def surface_link(surface_coefficient: float, cover_resistance: float) -> float:
    """Heat between air and bed per kelvin [W/m2/K] through a cover [m2 K/W] and the air above it [W/m2/K]."""
    return 1 / (1 / surface_coefficient + cover_resistance)


def day_shape(hour: float) -> float:
    """Swing of the air over a day, -1 to 1, warmest at 15 h.

    >>> day_shape(15.0)
    1.0
    """
    return sin(2 * pi * (hour - WARMEST_HOUR + 6) / 24)


def sun_shape(hour: float) -> float:
    """Sun of an even day against its 24-hour mean [-]: half a sine wave from 6 to 18 h."""
    return pi * max(0.0, sin(2 * pi * (hour - 6) / 24))


def day_drive(
    air_mean: float,
    air_swing: float,
    link: float,
    coefficient: float,
    net_radiation: float = 0.0,
    evaporation: float = 0.0,
    steps: int = STEPS_PER_DAY,
) -> list[float]:
    """What the surface receives at the middle of each step of a day, as link x air + flux [W/m2].

    air_mean [degC], air_swing [K]; link [W/m2/K] through the cover; coefficient [W/m2/K] above it; net_radiation [W/m2]
    mean of the day, taken in on top of the cover; evaporation [mm/day] from the bed itself, following the air's warmth.
    """
    mean_cooling = evaporation * LATENT_HEAT / conduction.DAY_SECONDS
    drive = []
    for step in range(steps):
        hour = (step + 0.5) * 24 / steps
        shape = day_shape(hour)
        on_cover = air_mean + air_swing * shape + net_radiation * sun_shape(hour) / coefficient
        drive.append(link * on_cover - mean_cooling * (1 + shape))
    return drive


def intervals_for(height: float) -> int:
    """Number of intervals for a bed height [m], a multiple of eight."""
    return min(MOST_INTERVALS, max(FEWEST_INTERVALS, EIGHTHS * ceil(height / COARSEST_STEP / EIGHTHS)))


@dataclass(frozen=True)
class Run:
    """Temperatures of a bed: depths [m] of the nodes, profiles [degC] every half hour, the air [degC] alike."""

    depths: tuple[float, ...]
    profiles: list[list[float]]

    def at(self, node: int) -> list[float]:
        return [profile[node] for profile in self.profiles]

    @property
    def core(self) -> int:
        """Node half-way down."""
        return (len(self.depths) - 1) // 2


def run_days(
    body: Bed,
    days: float,
    link: float,
    drive: Sequence[float],
    ground: float | None = None,
    start: float | None = None,
    intervals: int | None = None,
    side: float = 0.0,
    around: float = 0.0,
) -> Run:
    """Let a bed live through the same day `days` times, in as many steps a day as the drive has; to the nearest step.

    ground [degC] under it, None when no heat passes the floor; start [degC] throughout, None when it has had this
    weather for ever; side [W/m3/K] is lost through the sides to air of a mean `around` [degC].
    """
    layers = [(body.height, intervals or intervals_for(body.height), body.conductivity, body.capacity, body.heat)]
    cut = conduction.column(layers, link, ground, side, around)
    alike = [start or 0.0] * len(cut.depths)
    first = conduction.in_step(cut, drive, conduction.DAY_SECONDS) if start is None else alike
    time_step = conduction.DAY_SECONDS / len(drive)
    steps = max(1, round(days * len(drive)))
    return Run(cut.depths, conduction.march(cut, first, drive, time_step, steps, smooth_start=start is not None))


def hours_beyond(values: Sequence[float], limit: float, step_hours: float = 24 / STEPS_PER_DAY) -> float:
    """Hours that a line through values spends above a limit; each stretch between two values is straight.

    >>> hours_beyond([0, 2, 2, 0], 1, step_hours=1.0)
    2.0
    """
    hours = 0.0
    for before, after in zip(values, values[1:]):
        high, low = max(before, after), min(before, after)
        if low >= limit:
            hours += 1.0 if high > limit else 0.0
        elif high > limit:
            hours += (high - limit) / (high - low)
    return hours * step_hours


def first_beyond(
    values: Sequence[float], low: float, high: float, step_hours: float = 24 / STEPS_PER_DAY
) -> float | None:
    """Hours until a line through values first leaves low to high; None when it never does."""
    if not low <= values[0] <= high:
        return 0.0
    for place, (before, after) in enumerate(zip(values, values[1:])):
        if not low <= after <= high:
            limit = high if after > high else low
            return (place + (limit - before) / (after - before)) * step_hours
    return None
