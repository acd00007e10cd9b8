"""Figures of the climate chapter: drying power, shade, covers, heat in a bed, and three invented climates to start
from.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from calc.facts import sources
from calc.facts.base import Points, Range

# ---------------------------------------------------------------------------------------------------------- water

STILL_AIR_FACTOR = Range(
    "Drying by still air, against Penman's wind function of 1948",
    0.5,
    1.0,
    1.5,
    "1",
    source=sources.PENMAN_1948,
    sure="derived",
    note=(
        "At 25 °C and 50 % humidity published wet-surface formulas give 2.1 to 6.1 mm a day in still air; Penman's of"
        " 1948 gives 4.1. His own of 1963, for small water surfaces, gives half of it; formulas for indoor pools up to"
        " half as much again."
    ),
)
DRYNESS_FACTOR = Range(
    "Evaporation of a kept bed against one that is always wet on top",
    0.6,
    0.9,
    1.0,
    "1",
    source=sources.FAO_56,
    sure="derived",
    note=(
        "Bare soil loses water at the full rate until the first 7 to 11 mm are gone, then ever more slowly. In the"
        " paper's bare loam the mean over the first three days is 0.95, over six days 0.6. No such figures exist for"
        " bedding."
    ),
)
COVER_FACTOR = Range(
    "Evaporation through a cover, against a bare bed",
    0.15,
    1.0,
    1.0,
    "1",
    source=sources.FAO_56,
    sure="memory",
    note=(
        "1 is a bare bed. Loose straw or leaves: evaporation falls about 5 % for every 10 % of the surface covered, so"
        " 0.5 when all is covered. Plastic lying on the bed: about 0.15 to 0.3, common practice, no source."
    ),
)
SHADE = Range(
    "Share of the sun that the shade keeps off",
    0.5,
    0.8,
    0.95,
    "1",
    sure="practice",
    note=(
        "Growers find that full shade does better than cloth of 50 or 75 %; a roof or dense trees count as 0.9 or more."
    ),
)
SHELTER = Range(
    "Share of the wind that walls and sides keep off the bed",
    0.2,
    0.5,
    0.8,
    "1",
    sure="practice",
    note="The wind in weather reports blows over open grass; a bed lies low, between boards.",
)
ACTIVE_DEPTH = Range(
    "Depth that dries between two waterings",
    0.03,
    0.05,
    0.10,
    "m",
    sure="practice",
    note="About one feeding layer of 2 in. FAO-56 uses 0.10 to 0.15 m for bare soil, which dries deeper.",
)
UPPER_MOISTURE = Range(
    "Moisture of the top layer after a watering",
    0.75,
    0.80,
    0.85,
    "1",
    sure="practice",
    note="75–80 % on the feeding face.",
)
LOWER_MOISTURE = Range(
    "Moisture at which the top layer is watered again",
    0.65,
    0.75,
    0.78,
    "1",
    sure="practice",
    note=(
        "75–80 % on the feeding face. Adults laid most cocoons at 65–70 % (Reinecke & Venter 1987), so a drier top is"
        " no harm for a day."
    ),
)
MISTING_EFFECTIVENESS = Range(
    "How far a mist brings air towards its wet bulb",
    0.4,
    0.7,
    0.9,
    "1",
    sure="practice",
    note="Pads in a box with a fan reach 0.75–0.95; open nozzles in moving air reach less.",
)

# ---------------------------------------------------------------------------------------------------------- heat

CONDUCTIVITY = Points(
    "Heat conductivity of peat by its share of water",
    "1",
    "W/m K",
    [
        (0.00, 0.04, sources.MOENE_VAN_DAM_2014, "read"),
        (0.45, 0.27, sources.MOENE_VAN_DAM_2014, "read"),
        (0.90, 0.50, sources.MOENE_VAN_DAM_2014, "read"),
    ],
)
CONDUCTIVITY_DOUBT = Range(
    "Conductivity of bedding against peat with the same water",
    0.6,
    1.0,
    1.7,
    "1",
    source=sources.AHN_2009,
    sure="abstract",
    note=(
        "Measured compost materials at 80 % of their water-holding capacity: sawdust, manures and soil–compost blends"
        " 0.12–0.81 W/m K, straws 0.03–0.30."
    ),
)
ORGANIC_HEAT = Range(
    "Heat capacity of dry organic matter",
    1.7,
    1.9,
    2.1,
    "kJ/kg K",
    source=sources.MOENE_VAN_DAM_2014,
    sure="read",
    note="1.9 is the table's; a tenth to either side is our own judgement.",
)
WATER_HEAT = Range(
    "Heat capacity of water", 4.18, 4.18, 4.18, "kJ/kg K", source=sources.MOENE_VAN_DAM_2014, sure="read"
)
ORGANIC_PARTICLES = Range(
    "Density of organic matter without its pores",
    1300,
    1550,
    1600,
    "kg/m3",
    sure="judged",
    note=(
        "1,550 as EN 13041 takes it, from memory. Moene & van Dam 2014 give 1,300 for organic matter: 2.47 MJ/m³K over"
        " 1.9 kJ/kg K; models of soil take that too. A bucket of bedding filled up with water shows its air."
    ),
)
MINERAL_PARTICLES = Range(
    "Density of the mineral part without its pores", 2600, 2650, 2700, "kg/m3", source=sources.EN_13041, sure="memory"
)
BEDDING_ASH = Range(
    "Ash of the dry matter of bedding",
    0.10,
    0.30,
    0.45,
    "1",
    sure="judged",
    note=(
        "Between feed and castings. From 10 to 45 % the densest a bed can be at 75 % moisture moves from"
        " 1,105 to 1,135 kg/m³."
    ),
)
LEAST_AIR = Range(
    "Share of a bed's volume that must be air",
    0.04,
    0.10,
    0.20,
    "1",
    source=sources.WESSELING_1957,
    sure="memory",
    note=(
        "Below a tenth, hardly any air moves through soil. Models of crops take 0.04 to 0.10 as the least for roots"
        " (seen in excerpts); notes on composting ask for 0.20 and more."
    ),
)
GOOD_AIR = Range(
    "Share of a bed's volume that is air when it goes well",
    0.20,
    0.35,
    0.60,
    "1",
    source=sources.AHN_2008,
    sure="second-hand",
    note="Notes on composting give 0.35 to 0.60 as best and 0.20 as the least; of worm beds no trial was found.",
)
COOLED_BY_WATER = Range(
    "Heat of what evaporates from a shaded bed that the bed itself gives, not the sun",
    0.2,
    0.5,
    1.0,
    "1",
    sure="judged",
    note="Under shade of 0.8 in the mild climate’s July the sun gives 28 W/m², and 1.43 mm a day take 41 W/m².",
)
SURFACE_COEFFICIENT = Range(
    "Heat that a bed’s surface exchanges with the air, wind and radiation together",
    5,
    10,
    25,
    "W/m2 K",
    source=sources.ISO_6946,
    sure="derived",
    note="Surface resistances turned over: still air indoors 7.7, wind on buildings 25. For a sheltered bed: ours.",
)
SIDE_RESISTANCE = Range(
    "Resistance of a lane's side boards to heat",
    0.0,
    0.15,
    0.6,
    "m2 K/W",
    sure="derived",
    note=(
        "Thickness over conductivity: 18 mm of plywood or board with 0.12 W/m K, from memory. No board 0; straw"
        " bales far more."
    ),
)
COVER_RESISTANCE = Range(
    "Resistance of a cover to heat",
    0.0,
    0.0,
    2.0,
    "m2 K/W",
    source=sources.AHN_2009,
    sure="derived",
    note=(
        "Thickness over conductivity, straws of 0.03–0.30 W/m K from dry to wet (abstract): 4 in of dry loose straw, at"
        " 0.05–0.10 by our own judgement, is 1 to 2, and a quarter of that wet; 4 in of wood chips 0.7."
    ),
)
DECOMPOSITION_HEAT = Range(
    "Heat made by rotting in the bed",
    5,
    60,
    150,
    "W/m3",
    source=sources.HAUG_1993,
    sure="derived",
    note=(
        "From what is breathed off of the feed. A kilogram of fresh feed a day (30 % dry, 40 % of that breathed off,"
        " 19 MJ/kg) gives 26 W. Where 10 lb of worms live at 68 °F in 8 ft of lane that is about 80 W/m³. Worms"
        " themselves give under 2 W/kg."
    ),
)
HEAT_OF_COMBUSTION = Range(
    "Heat given off by a kilogram of dry matter that is breathed off",
    16,
    19,
    23,
    "MJ/kg",
    source=sources.HAUG_1993,
    sure="derived",
    note=(
        "What is breathed off gives the heat of burning it. Cellulose gives 17.4 MJ/kg, from its heat of formation;"
        " starch and sugar 16 to 17; protein about 23. Reviews of composting give 16 to 24 per kilogram of organic"
        " matter lost, from"
        " memory. Fat, up to 39, is a small part of any feed."
    ),
)
SOIL_CONDUCTIVITY = Range(
    "Heat conductivity of damp soil under the bed",
    0.5,
    0.9,
    1.7,
    "W/m K",
    source=sources.MOENE_VAN_DAM_2014,
    sure="read",
    note="0.9 is clay a fifth of which is water; 0.5 is soaked peat. 1.7, for wet sand, is our own judgement.",
)
SOIL_HEAT = Range(
    "Heat capacity of damp soil under the bed",
    2.1,
    2.27,
    3.0,
    "MJ/m3 K",
    source=sources.MOENE_VAN_DAM_2014,
    sure="read",
)
LETHAL_HIGH = Range("Bed temperature that kills", 33, 35, 37, "degC", source=sources.LOEHR_1985, sure="abstract")


# Covers to compare: name, share of bare evaporation let through, resistance to heat [m2 K/W].
@dataclass(frozen=True)
class Cover:
    """A cover of a bed: what it lets through of the evaporation [-] and how well it keeps heat [m2 K/W]."""

    name: str
    evaporation: float
    resistance: float
    note: str


COVERS = (
    Cover("bare", 1.0, 0.0, "nothing on the bed"),
    Cover("wet sacking", 1.0, 0.02, "keeps the sun off, gives off water itself"),
    Cover("2 in of damp straw", 0.5, 0.3, "0.05 m at 0.17 W/m K"),
    Cover("4 in (10 cm) of dry straw", 0.5, 1.4, "0.10 m at 0.07 W/m K"),
    Cover("8 in of dry straw under a sheet", 0.2, 2.9, "0.20 m at 0.07 W/m K"),
)
"""Resistances are thickness over conductivity, from the straw range of Ahn et al. 2009; evaporation as COVER_FACTOR."""

# ---------------------------------------------------------------------------------------------------------- climates


@dataclass(frozen=True)
class Month:
    """An average day of a month: high and low [degC], humidity [-], wind at 2 m [m/s], hours of bright sun."""

    high: float
    low: float
    humidity: float
    wind: float
    sun_hours: float


@dataclass(frozen=True)
class Climate:
    """Twelve invented months, January first, and where they are: latitude [deg] and altitude [m]. Not a real place."""

    label: str
    latitude: float
    altitude: float
    months: tuple[Month, ...]


def _months(
    highs: Sequence[int], lows: Sequence[int], humidities: Sequence[int], winds: Sequence[float], suns: Sequence[float]
) -> tuple[Month, ...]:
    return tuple(
        Month(high, low, humidity / 100, wind, sun)
        for high, low, humidity, wind, sun in zip(highs, lows, humidities, winds, suns)
    )


# Invented, but each kept physically possible: a dew point near the night's low or below it, sun within the length of
# the day.
CLIMATES = {
    "mild": Climate(
        "Mild and wet",
        45,
        120,
        _months(
            (8, 9, 12, 14, 18, 21, 23, 23, 20, 16, 11, 9),
            (2, 2, 3, 5, 8, 11, 13, 13, 11, 8, 5, 3),
            (86, 83, 78, 74, 73, 73, 74, 76, 79, 83, 86, 87),
            (3.2, 3.1, 3.0, 2.7, 2.4, 2.2, 2.1, 2.0, 2.2, 2.5, 2.9, 3.1),
            (1.8, 2.8, 3.9, 5.3, 6.3, 6.8, 7.0, 6.4, 5.0, 3.4, 2.1, 1.5),
        ),
    ),
    "dry": Climate(
        "Hot and dry",
        33,
        350,
        _months(
            (18, 21, 25, 30, 35, 39, 40, 39, 36, 30, 23, 18),
            (4, 6, 9, 13, 18, 22, 26, 25, 21, 15, 9, 5),
            (50, 44, 38, 29, 23, 20, 27, 31, 30, 33, 42, 50),
            (1.8, 2.1, 2.4, 2.7, 2.7, 2.6, 2.6, 2.4, 2.2, 2.0, 1.8, 1.7),
            (7.6, 8.5, 9.4, 10.9, 12.0, 12.6, 11.6, 11.2, 10.6, 9.7, 8.4, 7.4),
        ),
    ),
    "cold": Climate(
        "Cold winters, warm summers",
        50,
        500,
        _months(
            (-9, -6, 1, 11, 18, 23, 26, 25, 18, 10, 0, -7),
            (-19, -17, -9, -2, 4, 10, 12, 11, 5, -1, -9, -16),
            (72, 69, 69, 60, 55, 60, 62, 63, 65, 68, 73, 74),
            (3.5, 3.5, 3.7, 4.0, 3.9, 3.5, 3.2, 3.2, 3.5, 3.8, 3.6, 3.5),
            (3.4, 4.6, 5.6, 7.3, 8.6, 9.4, 10.1, 9.2, 6.4, 5.0, 3.3, 2.8),
        ),
    ),
}


@dataclass(frozen=True)
class YearKind:
    """A year unlike the usual one: how much warmer each month is [K], January first, north of the equator."""

    label: str
    departures: tuple[float, ...]


YEARS = {
    "usual": YearKind("As in most years", (0.0,) * 12),
    "cold_spring": YearKind("Cold spring", (0.0, -1.0, -3.0, -3.0, -3.0, -1.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0)),
    "hot_summer": YearKind("Hot summer", (0.0, 0.0, 0.0, 0.0, 1.0, 3.0, 3.0, 3.0, 1.0, 0.0, 0.0, 0.0)),
    "hard_winter": YearKind("Hard winter", (-4.0, -4.0, -1.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, -1.0, -4.0)),
    "mild_winter": YearKind("Mild winter", (3.0, 3.0, 1.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 1.0, 3.0)),
}
"""Our own judgement: about twice the usual spread of a monthly mean in a temperate place, so about one year in twenty
or more.
"""
