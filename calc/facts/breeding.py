"""Figures of the breeding chapter: rates against temperature, the tray pipeline, the room."""

from typing import Any

from calc.facts import biology, sources
from calc.facts.base import PRACTICE, Figure, Points, Range

# --- rates against temperature ----------------------------------------------------------------------------------------
# Published points are few: 20 to 25 °C. The others are derived, marked so, and the page widens its range there.

COCOONS = Points(
    "Cocoons a worm a week, our curve",
    "degC",
    "1",
    [
        (0, 0.0, sources.EDWARDS_ARANCON_2004, "derived"),
        (5, 0.43, sources.PHILLIPSON_BOLTON_1976, "derived"),
        (10, 1.19, sources.PHILLIPSON_BOLTON_1976, "derived"),
        (15, 1.66, sources.PHILLIPSON_BOLTON_1976, "derived"),
        (20, 2.3, sources.CEH_2016, "read"),
        (25, 2.6, sources.REINECKE_VILJOEN_1990, "derived"),
        (30, 1.3, sources.LOEHR_1985, "derived"),
        (35, 0.0, sources.LOEHR_1985, "derived"),
    ],
    note=(
        "At 25 °C 2.7 (Reinecke & Viljoen 1990) and 2.5 (Venter & Reinecke 1988): the curve goes between. Reviews put"
        " the best for breeding at 15–20 °C; E. andrei laid most at 20 °C in soil."
    ),
)
COCOONS_SEEN = Points(
    "Cocoons a worm a week, as published",
    "degC",
    "1",
    [
        (20, 2.3, sources.CEH_2016, "read"),
        (25, 2.7, sources.REINECKE_VILJOEN_1990, "second-hand"),
        (25, 2.5, sources.VENTER_1988, "memory"),
    ],
)
COCOONS_COUNTED = Points(
    "Cocoons a worm a week, as growers count in trays", "degC", "1", [(20, 1.0, PRACTICE, "practice")]
)
INCUBATION = Points(
    "Days from laying to hatching, our curve",
    "degC",
    "day",
    [
        (10, 48.3, sources.PHILLIPSON_BOLTON_1976, "derived"),
        (15, 34.7, sources.PHILLIPSON_BOLTON_1976, "derived"),
        (20, 25.0, sources.CEH_2016, "read"),
        (25, 22.0, sources.NEUHAUSER_1980, "derived"),
        (28, 21.0, sources.NEUHAUSER_1980, "derived"),
        (32, 21.0, sources.NEUHAUSER_1980, "derived"),
    ],
    note="Other ways of carrying it on to 10 °C run from 36 to 66 days, to 15 °C from 30 to 40.",
)
INCUBATION_SEEN = Points(
    "Days from laying to hatching, as published",
    "degC",
    "day",
    [
        (20, 25.0, sources.CEH_2016, "read"),
        (22.5, 21.7, sources.ELVIRA_1996, "second-hand"),
        (25, 23.0, sources.VENTER_1988, "memory"),
        (25, 21.0, sources.NEUHAUSER_1980, "abstract"),
    ],
)
HATCH = Points(
    "Share of cocoons that hatch, our curve",
    "degC",
    "1",
    [
        (5, 0.2, sources.EDWARDS_1988, "derived"),
        (10, 0.6, sources.EDWARDS_1988, "derived"),
        (15, 0.78, sources.EDWARDS_1988, "derived"),
        (20, 0.83, sources.EDWARDS_1988, "second-hand"),
        (25, 0.80, sources.ALI_2018, "derived"),
        (28, 0.76, sources.VENTER_1988, "derived"),
        (32, 0.5, sources.LOEHR_1985, "derived"),
        (35, 0.0, sources.LOEHR_1985, "derived"),
    ],
)
HATCH_SEEN = Points(
    "Share of cocoons that hatch, as published",
    "degC",
    "1",
    [
        (25, 0.73, sources.VENTER_1988, "memory"),
        (26, 0.866, sources.ALI_2018, "abstract"),
        (20, 0.832, sources.EDWARDS_1988, "second-hand"),
    ],
    note=(
        "Only Venter & Reinecke name a temperature. Ali & Kashem (February to June, in a laboratory) and Edwards"
        " (“ideal”) do not: they are drawn at 26 and 20 °C, our guess."
    ),
)
GROWTH_SPEED_SEEN = Points(
    "Growth against the fastest, as published",
    "degC",
    "1",
    [
        (20, 1.0, sources.KAPLAN_1980, "abstract"),
        (29, 1.0, sources.KAPLAN_1980, "abstract"),
        (20, 1.0, sources.LOEHR_1985, "abstract"),
        (25, 1.0, sources.LOEHR_1985, "abstract"),
        (35, 0.0, sources.LOEHR_1985, "abstract"),
    ],
    note="Kaplan and Loehr give a range of best growth, drawn here by its ends; at 35 °C worms died.",
)
GROWING_DAYS = Range(
    "Days from hatching to sale size at the best temperature",
    39,
    50,
    80,
    "day",
    source=sources.NEUHAUSER_1980,
    sure="derived",
    note=(
        "To 0.41 g: 39 days kept singly in cow manure at 25 °C, 42 in cattle solids at 20 °C; the two CEH"
        " series stop at"
        " 0.37 g. Growers count about 8 weeks."
    ),
)
BEST_SAID = (
    Range(
        "Best for laying",
        15,
        17.5,
        20,
        "degC",
        source=sources.EDWARDS_ARANCON_2004,
        sure="read",
        note="Animal and vegetable wastes; limits 4 and 30 °C.",
    ),
    Figure(
        "Best for laying, E. andrei",
        20,
        "degC",
        source=sources.VAN_GESTEL_1992,
        sure="read",
        note="In artificial soil.",
    ),
    Range(
        "Best for growing and laying",
        20,
        22.5,
        25,
        "degC",
        source=sources.LOEHR_1985,
        sure="abstract",
        note="Sludge, 20 weeks; less at 30 °C, death at 35 °C.",
    ),
    Figure(
        "Best for growing",
        25,
        "degC",
        source=sources.TRIPATHI_2004,
        sure="abstract",
        note="Mixed bedding, semi-arid India.",
    ),
    Range(
        "Best for gaining weight",
        20,
        24.5,
        29,
        "degC",
        source=sources.KAPLAN_1980,
        sure="abstract",
        note="Horse manure or sludge.",
    ),
)
"""The temperature that each author found best: they do not agree.

The middle of a range is arithmetic, not a finding.
"""
BEST_LAYING = tuple(fact for fact in BEST_SAID if isinstance(fact, Range) and "laying" in fact.label)
NO_TEMPERATURE = (
    Range(
        "Cocoons a worm a week, winter and summer",
        2.35,
        2.675,
        3.0,
        "1",
        source=sources.SYLHET_2025,
        sure="abstract",
        note="Cow dung, with the seasons.",
    ),
    Figure(
        "Cocoons a worm a week, “ideal”",
        3.8,
        "1",
        source=sources.EDWARDS_1988,
        sure="second-hand",
        note="From a copy of a table of species.",
    ),
    Range(
        "Days to hatch, winter and summer",
        23,
        23.5,
        24,
        "day",
        source=sources.SYLHET_2025,
        sure="abstract",
        note="± 4 days.",
    ),
    Range(
        "Days to hatch, widest",
        32,
        52.5,
        73,
        "day",
        source=sources.EDWARDS_1988,
        sure="second-hand",
        note="Far longer than any other.",
    ),
    Range(
        "Share that hatches, winter and summer", 0.825, 0.85, 0.875, "1", source=sources.SYLHET_2025, sure="abstract"
    ),
    Range("Young from a cocoon, winter and summer", 2.4, 2.55, 2.7, "1", source=sources.SYLHET_2025, sure="abstract"),
    Figure(
        "Young from a cocoon",
        3.3,
        "1",
        source=sources.ALI_2018,
        sure="abstract",
        note="Cow dung, February to June.",
    ),
)
"""Counts published without a temperature: they cannot stand on a curve."""


def _series(label: Any, temperature_note: Any, source: Any, sure: Any, days: Any, grams: Any) -> Any:
    return Points(
        label, "day", "g", [(day, gram, source, sure) for day, gram in zip(days, grams)], note=temperature_note
    )


GROWTH_SLUDGE = _series(
    "Weight of a worm in sewage sludge at 25 °C",
    "Kept singly, richly fed.",
    sources.NEUHAUSER_1980,
    "second-hand",
    (7, 14, 21, 28, 35, 42, 49, 56, 70, 84),
    (0.004, 0.053, 0.146, 0.296, 0.485, 0.706, 0.918, 1.099, 1.394, 1.707),
)
GROWTH_HORSE = _series(
    "Weight of a worm in horse manure at 25 °C",
    "Kept singly, richly fed.",
    sources.NEUHAUSER_1980,
    "second-hand",
    (21, 28, 35, 42, 49, 56, 70, 84, 98),
    (0.071, 0.185, 0.331, 0.410, 0.503, 0.596, 0.829, 1.041, 1.204),
)
GROWTH_ANDREI = _series(
    "Weight of E. andrei in pig manure at 20 °C",
    "85 % moisture. Days from the first weighing, at 18 mg: larger than a hatchling.",
    sources.DOMINGUEZ_EDWARDS_1997,
    "second-hand",
    (0, 8, 16, 24, 32, 40, 44),
    (0.018, 0.189, 0.281, 0.291, 0.473, 0.582, 0.613),
)
GROWTH_EIGHT = _series(
    "Weight of a worm in cattle solids at 20 °C, eight to 100 g",
    "Fed once until week 23: they stop at 0.37 to 0.40 g.",
    sources.GUNADI_EDWARDS_2003,
    "second-hand",
    (0, 7, 14, 21, 28, 35, 42, 49, 56, 63, 70, 77, 84),
    (0.011, 0.024, 0.060, 0.094, 0.170, 0.249, 0.308, 0.358, 0.370, 0.376, 0.374, 0.372, 0.396),
)
GROWTH_CEH = _series(
    "Weight of a worm in a laboratory at 20 °C, first experiment",
    "Mean of 9 worms. Days from the first weighing, 28 days after hatchlings of unknown age were put in jars.",
    sources.CEH_2016,
    "read",
    (0, 31, 56, 84, 108),
    (0.0141, 0.0526, 0.1946, 0.3101, 0.3699),
)
GROWTH_CEH_SECOND = _series(
    "Weight of a worm in a laboratory at 20 °C, second experiment",
    "Mean of 37 worms, 0.23 to 0.55 g at the end. Days from the first weighing, about six weeks after"
    " hatchlings were put in jars.",
    sources.CEH_2016,
    "read",
    (0, 28, 58, 87),
    (0.0669, 0.2094, 0.3425, 0.3736),
)

SURE_LOW, SURE_HIGH = 20.0, 25.0
"""Between these temperatures [°C] the curves rest on published points."""

# ------------------------------------------------------------------------------------------------------ trays

BREEDERS_MASS = Range("Breeders in a tray", 0.27, 0.340, 0.41, "kg", sure="practice", note="¾ lb.")
BREEDERS_PER_MASS = Range(
    "Breeders in a weight", 1760, 1984, 2200, "1/kg", sure="practice", note="600–700 in ¾ lb: about 900 a pound."
)
TRAY_COCOONS = Range(
    "Cocoons a breeder a week in a tray",
    0.7,
    1.0,
    1.6,
    "1/week",
    sure="practice",
    note="About one. Laboratories count 2.3 to 2.7: fed richly, few to a box.",
)
BREEDING_DAYS = Figure("Days that breeders stay in a tray", 21, "day", sure="practice")
TRAY_HATCHLINGS = Range(
    "Young from a cocoon that hatches, in trays",
    1.6,
    2.0,
    2.7,
    "1",
    sure="practice",
    note="1 to 4, about 2. Published means are 2.4 to 3.3.",
)
TRAY_HATCH = biology.HATCH_SHARE
"""Share of cocoons that hatch: the one figure of bed and trays."""
TRAY_SURVIVAL = Range(
    "Share of the young that reach sale size",
    0.75,
    0.90,
    0.97,
    "1",
    sure="practice",
    note="None died in fed pots over 10 to 15 weeks; sorting and drying out cost some.",
)
TRAY_INCUBATION = Range(
    "Days to hatch at grow-out temperature",
    21,
    24,
    28,
    "day",
    sure="practice",
    note="3 to 4 weeks; 21 and 23 days at 25 °C published.",
)
TRAY_GROWING = Range(
    "Days from hatching to sale size in a tray", 49, 56, 70, "day", sure="practice", note="About 8 weeks."
)
SALE_PER_MASS = Range(
    "Worms in a weight, as sold",
    1984,
    2425,
    2866,
    "1/kg",
    sure="practice",
    note="60,000 in 50 to 60 lb: about 1,100 a pound.",
)
FEED_PER_TRAY = Range(
    "Powdered feed for a tray a day",
    0.003,
    0.008,
    0.016,
    "kg/day",
    sure="practice",
    note="1 teaspoon to 2 tablespoons; a tablespoon of meal is about 8 g.",
)
MINUTES_PER_TRAY = Range(
    "Minutes for a tray a day",
    0.1,
    0.2,
    0.4,
    "minute/day",
    sure="practice",
    note="Feeding and watering a whole room takes under an hour.",
)
SORTING_MINUTES = Range(
    "Minutes to sort a tray, once",
    10,
    20,
    40,
    "minute",
    sure="practice",
    note="Breeders from cocoons, by hand or by light.",
)
REPLACED = Range("Breeders replaced each round", 0.05, 0.10, 0.25, "1", sure="practice")
CROWDED_TRAY = Range(
    "Young in a grow-out tray above which they crowd and stay small",
    4000,
    6000,
    8000,
    "1",
    sure="judged",
    note="Twice what growers report from a tray.",
)
HERD_SHARE = Range(
    "Share of a herd that can be taken as breeders in one go",
    0.1,
    0.2,
    0.3,
    "1",
    sure="judged",
    note="At least as much again should stay grown in the lane.",
)
WORMS_FOR_FEED = Figure(
    "Worms grown, live, from a weight of waste as fed",
    0.1,
    "1",
    source=sources.EDWARDS_1985,
    sure="abstract",
    note=(
        "Up to 100 kg from a tonne of waste: a ceiling. With the waste at 80 % moisture it is half a kilogram of worms"
        " from a kilogram of dry feed."
    ),
)
WASTE_MOISTURE = Range(
    "Moisture of that waste",
    0.75,
    0.80,
    0.85,
    "1",
    source=sources.EDWARDS_1985,
    sure="derived",
    note="Of its dry matter a tenth became worms, which are 15 to 25 % dry matter themselves (that from memory).",
)

# ------------------------------------------------------------------------------------------------------ the room

AIR_HEAT = Figure(
    "Heat that a volume of air carries for each degree",
    1.2041 * 1006 / 3600,
    "Wh/m3 K",
    source=sources.ASHRAE_2017,
    sure="derived",
    note="Density × specific heat of dry air at 20 °C, sea level.",
)
INSIDE_FILM = Range(
    "Resistance of the air film inside a wall",
    0.12,
    0.13,
    0.13,
    "m2 K/W",
    source=sources.ISO_6946,
    sure="second-hand",
    note="0.13 for heat going sideways; US tables print R 0.68, 0.12.",
)
OUTSIDE_FILM = Range(
    "Resistance of the air film outside",
    0.03,
    0.04,
    0.04,
    "m2 K/W",
    source=sources.ISO_6946,
    sure="second-hand",
    note="US tables print R 0.17, 0.03. Single glass has little more than the two films.",
)
SPARE = Range(
    "Heater or cooler against the worst hour",
    1.1,
    1.25,
    1.5,
    "1",
    sure="practice",
    note="A quarter larger than the sum says.",
)
EVAPORATION_HEAT = Figure(
    "Heat that water takes as it dries from trays",
    28.4,
    "W day/kg",
    source=sources.FAO_56,
    sure="derived",
    note="2.45 MJ a kilogram. Not in the sum of the room: take it off the gains.",
)
