"""How Eisenia fetida and E. andrei eat, grow and breed: figures that lanes and trays share."""

from calc.facts import sources
from calc.facts.base import Figure, Points, Range

# ------------------------------------------------------------------------------------------------------ temperature

BEST_TEMPERATURE = Range(
    "Bed temperature at which worms eat and grow fastest",
    20,
    25,
    28,
    "degC",
    source=sources.LOEHR_1985,
    sure="abstract",
    note="Growth and breeding best at 20–25 °C over 20 weeks, reduced at 30 °C, death at 35 °C.",
)
LETHAL_TEMPERATURE = Figure("Temperature that kills", 35, "degC", source=sources.LOEHR_1985, sure="abstract")
BAND_LOW = Range(
    "Working limit in the cold",
    0,
    4,
    10,
    "degC",
    source=sources.EDWARDS_ARANCON_2004,
    sure="read",
    note="Limits 4–30 °C; other reviews give 0 °C for bare survival.",
)
FROZEN_COCOONS = Range(
    "Cocoons that live through a frozen bed",
    0.5,
    1.0,
    1.0,
    "1",
    sure="judged",
    note="Grown worms and young do not live through frozen bedding; cocoons of earthworms give off their water to the"
    " ice and hatch in spring. No count for this worm was found.",
)
SLOW_BELOW = 10.0
"""Bed temperature under which breeding all but stops [°C]. Edwards & Arancon 2004."""
BREEDING_COUNTED_FROM = 15.0
"""Bed temperature under which no count of cocoons or incubation was found [°C]: below it the rates are carried on along
the curve.
"""
BAND_HIGH = Range(
    "Working limit in the heat",
    28,
    30,
    33,
    "degC",
    source=sources.EDWARDS_ARANCON_2004,
    sure="read",
    note="Growth fell at 30 °C, worms died at 35 °C (Loehr et al. 1985). Growers count up to 90 °F (32 °C) in the bed:"
    " common practice.",
)
ACTIVATION = Range(
    "Activation energy of the worms' metabolism",
    0.237,
    0.25,
    0.25,
    "1",
    source=sources.JOHNSTON_2014,
    sure="second-hand",
    note="In electronvolts. 0.25 in the model, 0.237 after calibration by van der Vaart et al. 2015.",
)
COLD_Q10 = Range(
    "How many times slower worms live when it is 10 °C colder, below 20 °C",
    1.42,
    1.93,
    2.42,
    "1",
    source=sources.PHILLIPSON_BOLTON_1976,
    sure="abstract",
    note=(
        "Breathing of another earthworm, A. rosea, from 6 to 15 °C: grown worms 1.42, small young 1.96, large young"
        " 2.42, cocoons 1.63, mean 1.93. Two models of E. fetida that nobody fitted in the cold stand for 1.4 and 2.5."
    ),
)
COUNTED_AT = 20.0
"""Bed temperature at which cocoons and young were counted [°C]; below it the rates follow COLD_Q10. CEH 2016."""
BEST_UNTIL = Range(
    "Bed temperature up to which worms gain weight as fast as they can",
    25,
    28,
    29,
    "degC",
    source=sources.KAPLAN_1980,
    sure="abstract",
    note="Kaplan: best from 20 to 29 °C. Loehr: best from 20 to 25 °C, less at 30 °C. The middle is ours.",
)
BOLTZMANN = 8.617e-5
"""Boltzmann's constant [eV/K]."""
REFERENCE_TEMPERATURE = 25.0
"""Temperature to which the rates below are referred [°C]."""

# ------------------------------------------------------------------------------------------------------ feed

RATION = Range(
    "Feed eaten at the best temperature, per weight of worms",
    0.5,
    0.75,
    1.0,
    "kg/kg day",
    source=sources.NDEGWA_2000,
    sure="abstract",
    note=(
        "0.75 gave the best castings and 1.25 the most worms, at 1.6 kg/m². In crowded beds it falls to about 0.14"
        " (Reeh 1992)."
    ),
)
RATION_DENSITY = Figure(
    "Stocking at which that ration was measured", 1.6, "kg/m2", source=sources.NDEGWA_2000, sure="abstract"
)
RATION_CROWDED = Figure(
    "Feed eaten a day in a bed that is crowded to the limit",
    0.14,
    "kg/kg day",
    source=sources.REEH_1992,
    sure="abstract",
    note="Own weight a week, E. andrei.",
)
DRY_MATTER_KEPT = Range(
    "Dry matter of the feed that is left as castings",
    0.45,
    0.60,
    0.70,
    "1",
    source=sources.MITCHELL_1997,
    sure="derived",
    note=(
        "Feedlot manure lost 30 % of its dry matter. Of what else was read the basis is not said: household waste lost"
        " 29–60 % of its mass, biosolids 18 % of their weight. So most beds should lie between, and not all."
    ),
)
VOLUME_KEPT = Range(
    "Volume of the feed that is left as castings",
    0.4,
    0.5,
    0.6,
    "1",
    sure="judged",
    note=(
        "Looked for and not found: reviews say that volume falls by 40–60 % (Domínguez 2004, from memory). By weight 55"
        " to 70 % of fresh feed were left in trials."
    ),
)

# ------------------------------------------------------------------------------------------------------ stocking

STOCKING_FULL = Range(
    "Worms on a full working bed",
    2.4,
    4.88,
    7.3,
    "kg/m2",
    source=sources.SHERMAN,
    sure="read",
    note="1 lb/ft². Trials found the best feed conversion at 1.6 kg/m² (Ndegwa 2000).",
)
CAPACITY = Range(
    "Worms at which breeding stops",
    5,
    10,
    20,
    "kg/m2",
    sure="judged",
    note=(
        "Not found: about 10 to 20 in a manual (Munroe, from memory). In pots of poor food it was 0.8 (Neuhauser 1980),"
        " in sludge over 2.9."
    ),
)

# ------------------------------------------------------------------------------------------------------ breeding

COCOONS_PER_DAY = Range(
    "Cocoons laid by an adult worm a day, at 25 °C",
    0.14,
    0.386,
    0.54,
    "1/day",
    source=sources.REINECKE_VILJOEN_1990,
    sure="second-hand",
    note="Mean of 18 ten-day counts of 10 worms. A species table gives 3.8 a week; growers count about one a week.",
)
BED_COCOONS_PER_DAY = Range(
    "Cocoons laid by an adult worm a day in a working bed, at 25 °C",
    0.14,
    0.25,
    0.386,
    "1/day",
    source=sources.REINECKE_VILJOEN_1990,
    sure="derived",
    note="Between the growers' count of one a week and the laboratory's 0.386: no count from a bed was found.",
)
HATCH_SHARE = Range(
    "Share of cocoons that hatch",
    0.73,
    0.83,
    0.88,
    "1",
    source=sources.EDWARDS_1988,
    sure="second-hand",
    note=(
        "83.2 % in a table of species. From 73 % at 25 °C in cattle manure (Venter & Reinecke 1988) to 87 % in cow dung"
        " in another laboratory (Ali & Kashem 2018)."
    ),
)
HATCHLINGS = Range(
    "Young from a cocoon that hatches",
    2.4,
    2.7,
    3.3,
    "1",
    source=sources.CEH_2016,
    sure="read",
    note="2.5–3.8 in a review, 2.4–2.7 in Bangladesh.",
)
INCUBATION_DAYS = Range(
    "Days from laying to hatching, at 25 °C",
    18,
    22,
    26,
    "day",
    source=sources.NEUHAUSER_1980,
    sure="derived",
    note=(
        "Between 21 (abstract read) and 23 (Venter & Reinecke 1988, from memory), both at 25 °C; 25 at 20 °C (CEH"
        " 2016); 21.7 at 22.5 °C (Elvira et al. 1996, E. andrei)."
    ),
)
MATURING_DAYS = Range(
    "Days from hatching to breeding, at 25 °C",
    36,
    51,
    64,
    "day",
    source=sources.CEH_2016,
    sure="derived",
    note="60 at 20 °C, brought to 25 °C; 40–60 at 25 °C (Venter & Reinecke 1988); 36 for E. andrei in pig manure.",
)
JUVENILE_SURVIVAL = Range(
    "Share of the young that live to breed in a bed",
    0.1,
    0.3,
    0.8,
    "1",
    sure="judged",
    note=(
        "No bed trial was found. Set so that a bed doubles in the two to three months that manuals give. None died in"
        " fed pots over 10 to 15 weeks; beds lose young to crowding, drying and predators."
    ),
)
ADULT_MORTALITY = Range(
    "Share of the adults that die a day",
    0.002,
    0.0068,
    0.01,
    "1/day",
    source=sources.VAN_DER_VAART_2015,
    sure="derived",
    note=(
        "0.0068 in a field model at 20 °C and 75 % moisture. In a laboratory's soil half lived 4.25 years, 0.0004 a day"
        " (Mulder et al. 2007, abstract read). The lower end, for a bed, is ours."
    ),
)
HATCHLING_MASS = Range(
    "Weight of a hatchling", 1.0e-5, 1.1e-5, 1.5e-5, "kg", source=sources.GUNADI_2002, sure="second-hand"
)
ADULT_MASS = Range(
    "Weight of a grown worm in a working bed",
    3.4e-4,
    4.5e-4,
    6.6e-4,
    "kg",
    source=sources.DURAN_2009,
    sure="abstract",
    note=(
        "0.34–0.66 g in five wastes; “1,000 worms a pound” is 0.45 g. Worms start to breed at 0.25 g in one model, at"
        " 0.6 g in one trial."
    ),
)

BREEDING_SHARE = Range(
    "Share of bought worms, by weight, that is grown and breeding",
    0.3,
    0.5,
    0.8,
    "1",
    sure="practice",
    note="Bed-run worms are of all ages.",
)

# --- published growth -------------------------------------------------------------------------------------------------

GROWTH_20C = Points(
    "Weight of a worm in cattle solids at 20 °C",
    "day",
    "g",
    [
        (7 * week, gram, sources.GUNADI_2002, "second-hand")
        for week, gram in enumerate(
            # One weighing a week, from hatchlings; a collection of animal traits carries the first fifteen.
            (
                0.011,
                0.032,
                0.079,
                0.131,
                0.256,
                0.368,
                0.414,
                0.442,
                0.462,
                0.448,
                0.45,
                0.459,
                0.494,
                0.495,
                0.49,
                0.482,
                0.447,
                0.439,
                0.422,
                0.412,
                0.4,
                0.402,
                0.387,
                0.402,
                0.393,
                0.341,
                0.333,
            )
        )
    ],
    note="5 worms on 150 g, fed once. Heaviest at 13 weeks, 0.495 g; from 16 weeks on they lost weight.",
)
GROWTH_25C = Points(
    "Weight of a worm in cow manure at 25 °C",
    "day",
    "g",
    [
        (day, gram, sources.NEUHAUSER_1980, "second-hand")
        for day, gram in (
            (7, 0.009),
            (14, 0.013),
            (21, 0.088),
            (28, 0.159),
            (35, 0.304),
            (42, 0.503),
            (49, 0.675),
            (56, 0.847),
            (70, 1.094),
            (84, 1.288),
            (98, 1.513),
        )
    ],
    note="Kept singly, richly fed: heavier than worms in a crowded bed.",
)
