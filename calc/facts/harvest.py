"""Figures of the harvest chapter."""

from calc.facts import lane, sources
from calc.facts.base import Figure, Range

ASH_BEFORE = Range(
    "Ash of the feed's dry matter",
    0.08,
    0.15,
    0.25,
    "1",
    sure="judged",
    note=(
        "No published table could be read. Manures 12–25 %, food and leaves 5–12 %, from memory. A laboratory's ash of"
        " your feed settles it (Measure your own)."
    ),
)
ASH_AFTER = Range(
    "Ash of the castings' dry matter",
    0.18,
    0.25,
    0.45,
    "1",
    sure="derived",
    note=(
        "What the feed's 15 % come to in the 60 % of its dry matter that is left, the one figure of all pages: the ash"
        " is all still there. No published pair of ash before and after could be read: have yours tested."
    ),
)
CUT_MOISTURE = lane.CASTINGS_MOISTURE
"""Moisture of castings as sliced: the one figure of lane and harvest."""
SCREENING_MOISTURE = Range(
    "Moisture at which castings pass a screen",
    0.45,
    0.52,
    0.55,
    "1",
    sure="practice",
    note=(
        "50–55 %; one night exposed dries them a little further. For compost a handbook asks for under 50 % or even 45"
        " % (Rynk 1992, from memory)."
    ),
)
DUSTY_BELOW = Range(
    "Moisture under which castings are dusty",
    0.35,
    0.45,
    0.50,
    "1",
    sure="judged",
    note=(
        "Of compost: dusty at 35 % and less, 40 to 50 % preferred (US Composting Council 2001, from memory). The"
        " middle, for castings, is ours: yours is dusty where a handful, let fall, leaves a cloud."
    ),
)
DRYING_SLOWED = Range(
    "Drying of castings from slice to screen, against a wet surface",
    0.4,
    0.6,
    0.9,
    "1",
    sure="judged",
    note="The top dries first and shields the rest. No trial was found. Two weighings of a tub make it needless.",
)
THICK_LAYER = Range(
    "Castings spread so thick that only the top dries", 25, 40, 60, "kg/m2", sure="judged", note="About 7 cm, 3 in."
)
PACE_AGAIN = Range(
    "Hours it takes, against those at the pace of two weighings",
    0.8,
    1.0,
    1.3,
    "1",
    sure="judged",
    note="Tomorrow's air is another, and the last water goes slowest.",
)
CASTINGS_DENSITY = Range(
    "Bulk density of screened castings",
    450,
    593.276,
    800,
    "kg/m3",
    sure="practice",
    note="About 1,000 lb/yd³; an Indian standard gives 0.7–0.9 for a drier product.",
)
EFFICIENCY = Range(
    "Share of the fine material that a screen lets through",
    0.80,
    0.85,
    0.95,
    "1",
    source=sources.MANYUCHI_2013,
    sure="abstract",
    note=(
        "Castings through a turning drum of 4 mm: 80 to 95 %, best at 40 % moisture. The middle, for shaken decks and"
        " 50–55 %, is ours."
    ),
)
THROUGHPUT = lane.SCREENED_PER_HOUR
"""Castings that one person screens in an hour: the one figure of lane and harvest."""
WIND_INDOORS = Range("Wind over castings spread under a roof", 0.1, 0.44704, 1.5, "m/s", sure="practice")
BUCKET = Figure(
    "Net weight of 5 US gallons to bulk density",
    40.394805,
    "1",
    source=sources.COOPERBAND_2002,
    sure="derived",
    note="lb in the bucket × 40.39 = lb/yd³: 201.974 gallons in a cubic yard.",
)
