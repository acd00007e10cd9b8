"""Figures of the harvest chapter."""

from calc.facts import sources
from calc.facts.base import Figure, Range

ASH_BEFORE = Range(
    "Ash of the feed's dry matter",
    0.08,
    0.15,
    0.25,
    "1",
    sure="memory",
    note="No published table was found. Manures 12–25 %, food and leaves 5–12 %.",
)
ASH_AFTER = Range(
    "Ash of the castings' dry matter",
    0.20,
    0.32,
    0.45,
    "1",
    sure="memory",
    note="No published table was found: have yours tested.",
)
CUT_MOISTURE = Range(
    "Moisture of castings as sliced",
    0.60,
    0.68,
    0.78,
    "1",
    sure="practice",
    note="75–80 % on the face; drier at the back.",
)
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
    source=sources.USCC_2001,
    sure="memory",
    note="Of compost: dusty at 35 % and less, 40 to 50 % preferred. The middle, for castings, is ours.",
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
THROUGHPUT = Range(
    "Castings screened in an hour by one person",
    113,
    142,
    170,
    "kg/hour",
    sure="practice",
    note="2,000–3,000 lb in a day of eight hours.",
)
WIND_INDOORS = Range("Wind over castings spread under a roof", 0.1, 0.44704, 1.5, "m/s", sure="practice")
BUCKET = Figure(
    "Net weight of 5 US gallons to bulk density",
    40.394805,
    "1",
    source=sources.COOPERBAND_2002,
    sure="derived",
    note="lb in the bucket × 40.39 = lb/yd³: 201.974 gallons in a cubic yard.",
)
