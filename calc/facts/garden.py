"""Figures of the customers' chapter."""

from calc.facts import sources
from calc.facts.base import Figure, Range

TOPDRESS_DEPTH = Range(
    "Depth of castings on a lawn or around plants",
    0.003175,
    0.00635,
    0.0127,
    "m",
    sure="practice",
    note="⅛ to ½ in; ¼ in fine castings on lawns.",
)
BED_DEPTH = Range(
    "Depth of soil that castings are mixed into",
    0.10,
    0.1524,
    0.20,
    "m",
    sure="practice",
    note="4 to 8 in; 6 in is a spade's reach.",
)
POT_SHARE = Range(
    "Castings in a fertilised potting mix, by volume",
    0.10,
    0.15,
    0.20,
    "1",
    source=sources.ATIYEH_2000B,
    sure="abstract",
    note="10 or 20 % helped marigold and tomato. Vermicomposted pig solids or food wastes, all nutrients supplied.",
)
TOMATO_SHARE = Figure(
    "Castings up to which tomato seedlings grew well, by volume",
    0.20,
    "1",
    source=sources.TOMATO_2017,
    sure="abstract",
    note="Cattle manure and kitchen scraps, salty. Fewer and later seedlings came up at 10, 20 and 30 % alike.",
)
BARK_SHARE = Range(
    "Castings in a bark mix for cabbage seedlings, by volume",
    0.20,
    0.35,
    0.50,
    "1",
    source=sources.PINE_BARK_2015,
    sure="abstract",
    note="Tallest at 20 and at 50 %; the middle is arithmetic.",
)
ANY_SHARE = Range(
    "Castings in all kinds of media, by volume",
    0.30,
    0.40,
    0.50,
    "1",
    source=sources.BLOUIN_2019,
    sure="read",
    note="Best at 30–50 % over many studies; smaller effect in fertilised peat mixes.",
)
FIELD_DOSE = Range(
    "Castings on open ground",
    0.5,
    0.75,
    1.0,
    "kg/m2",
    source=sources.ARANCON_2004,
    sure="abstract",
    note=(
        "5 or 10 t/ha on strawberries: up to 35 % more marketable fruit; at one of two sites the larger dose did no"
        " more."
    ),
)
WORMS_PER_FEED = Range(
    "Worms for a weight of kitchen scraps a day",
    1,
    2,
    2.5,
    "1",
    source=sources.NC_STATE_BIN,
    sure="second-hand",
    note="2 lb of worms for 1 lb of scraps a day.",
)
SCRAPS_DENSITY = Range(
    "Bulk density of kitchen scraps",
    235,
    593.276,
    898,
    "kg/m3",
    sure="read",
    source=sources.EPA_2016,
    note=(
        "Official weights of food waste, 396 to 1,513 lb/yd³, as in the table of materials; the middle, 1,000, is ours."
        " Weigh a full pail: its litres settle it."
    ),
)
PACE_KEPT = Range(
    "Pace of a bin against one at 20 °C that is reckoned with, least and most",
    0.15,
    1.0,
    1.2,
    "1",
    sure="judged",
    note="So that a cold bin does not ask for a mountain of worms, nor a warm one for next to none.",
)
AREA_PER_FEED = Figure(
    "Bin area for kitchen scraps",
    0.3048**2 / 0.45359237,
    "m2 week/kg",
    source=sources.NC_STATE_BIN,
    sure="read",
    note="1 ft² for a pound of scraps a week.",
)
FREEZE_WEEKS = Range(
    "Weeks of freezing before castings go outdoors",
    1,
    2,
    4,
    "week",
    source=sources.UW_MILLER,
    sure="read",
    note="1 to 4 weeks; Univ. Alberta: a week to a month.",
)
