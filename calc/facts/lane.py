"""Figures of the lane chapter: geometry, handling, and the demo farm's prices."""

from calc.facts import sources
from calc.facts.base import Figure, Range

POUND, FOOT, YARD3 = 0.45359237, 0.3048, 0.764554857984

GAP = Range(
    "How far the face must move on before a slice is nearly free of worms",
    3 * FOOT,
    3.5 * FOOT,
    4 * FOOT,
    "m",
    sure="practice",
    note="3 to 4 ft.",
)
LAYER = Range(
    "Feed laid on the face at one feeding",
    FOOT / 12,
    FOOT / 6,
    FOOT / 4,
    "m",
    sure="practice",
    note="About 2 in; extension texts say 1 to 1.5 in and 3 to 4 in when it is cold.",
)
FIRST_LAYER = Range(
    "First layer of feed, on a lane whose worms are new",
    FOOT / 24,
    FOOT / 24,
    FOOT / 12,
    "m",
    sure="practice",
    note="½ in; more when it is gone.",
)
SAFE_INTERVAL = Range(
    "Days between layers so that feed does not heat",
    1,
    2,
    3,
    "day",
    sure="judged",
    note=(
        "US guidance on organic castings speaks of thin layers at 1 to 3 days (NOSB 2006, NOP 5021, from memory). How"
        " warm the last layer is, and whether it is eaten, settles it for your feed."
    ),
)
LAYER_HEATS = Figure(
    "Layer thickness above which fresh feed heats",
    FOOT / 4,
    "m",
    source=sources.SHERMAN,
    sure="read",
    note="3 in; only in cold weather is a thicker layer safe.",
)
WEDGE_DAYS = Figure(
    "Days in an angled bed that US organic guidance asks for",
    120,
    "day",
    source=sources.NOSB_2006,
    sure="memory",
    note="4 months for angled wedges.",
)
SHALLOW_BASE = Figure(
    "Base depth under which a bed dries, overheats and freezes",
    FOOT / 2,
    "m",
    sure="practice",
    note="Extension texts start windrows on 6 to 8 in of bedding; of this limit they say nothing.",
)
THIN_STOCKING = Figure(
    "Stocking under which a lane is slow to start",
    0.2 * POUND / FOOT**2,
    "kg/m2",
    sure="practice",
    note="0.2 lb/ft².",
)
DENSE_STOCKING = Figure(
    "Stocking above which worms are crowded",
    1.5 * POUND / FOOT**2,
    "kg/m2",
    sure="practice",
    note="1.5 lb/ft².",
)
DENSE_STOCKING_SAID = (
    f"{DENSE_STOCKING.typical / POUND * FOOT**2:.2g} lb on each square foot ({DENSE_STOCKING.typical:.2g} kg/m²)"
)
"""The same in both units, for sentences."""
CASTINGS_MOISTURE = Range(
    "Moisture of castings as sliced",
    0.57,
    0.68,
    0.78,
    "1",
    sure="judged",
    note=(
        "Between 78 % on day 48 of a trial with kitchen waste and 60 % as taken out in a trial of storage. Growers:"
        " 75–80 % on the face, 50–60 % where the back was let dry."
    ),
)
COMPOST_DENSITY = Range(
    "Bulk density of finished compost for the base",
    475,
    600,
    800,
    "kg/m3",
    sure="practice",
    note="800 to 1,350 lb/yd³.",
)
PRODUCT_SHARE = Range(
    "Share of the dried castings that passes the fine screen",
    0.5,
    0.65,
    0.8,
    "1",
    sure="practice",
    note="By volume; the screening page works it out from your sieves.",
)
WATER_PER_AREA = Range(
    "Water a shaded lane is given a day",
    1.0,
    2.0,
    4.0,
    "kg/m2 day",
    sure="practice",
    note="The page on watering works it out from your weather; 1 kg/m² is 1 mm.",
)
HOURS_PER_FEEDING = Range("Work to feed and water 8 ft of lane once", 0.2, 0.35, 0.6, "hour", sure="practice")
SETUP_HOURS = Range(
    "Work at each feeding, however long the lane",
    0.1,
    0.2,
    0.4,
    "hour",
    sure="practice",
    note="Fetching feed, uncovering, washing down.",
)
HOURS_PER_SLICE = Range("Work to slice one foot of lane", 0.1, 0.2, 0.4, "hour", sure="practice")
SCREENED_PER_HOUR = Range(
    "Castings screened in an hour by one person",
    113,
    142,
    170,
    "kg/hour",
    sure="practice",
    note=(
        "2,000 to 3,000 lb in a day of eight hours. A separator turned by hand passed 600 kg an hour of castings"
        " at 20 %"
        " moisture, one that spins 1,270 at 45 %; a drum of a foot, 1.3 m³ at 40 to 60 %."
    ),
)

FIRST_SLICE = Range(
    "Days from the worms to the first slice",
    120,
    180,
    270,
    "day",
    sure="practice",
    note="Growers report six to nine months. The quick end of four is our own judgement.",
)
BASE_WAIT = Range(
    "Days that a filled and watered base lies before the worms",
    3,
    7,
    14,
    "day",
    sure="practice",
    note="Until it is cool all through.",
)
HEAP_DAYS = Range(
    "Days from making a heap of feed to feeding it",
    14,
    28,
    60,
    "day",
    sure="practice",
    note="Heating, turning, cooling down.",
)
HEAP_LEAVES = Range(
    "Dry matter that a cubic metre of fresh mix leaves as feed",
    55,
    80,
    140,
    "kg/m3",
    sure="judged",
    note=(
        "Three tenths of the dry matter lost in the hot weeks (from memory: a fifth to two fifths). The mixes of the"
        " feed chapter have 113 to 116 kg in each cubic metre; loose leaves have less, dense manure more."
    ),
)
SLICE_TO_SALE = Range(
    "Days from slicing to selling, the first time",
    2,
    14,
    60,
    "day",
    sure="practice",
    note=(
        "Growers screen on day two and sell on day two or three; a beginner dries, screens by hand and finds the first"
        " buyers. The pages about a lane in the open count its drying by the month, and a week for the rest."
    ),
)

# ---- demo prices
WORM_PRICE = Range("Worms", 25 / POUND, 35 / POUND, 50 / POUND, "money/kg", sure="demo")
COMPOST_PRICE = Range("Compost for the base", 25 / YARD3, 40 / YARD3, 60 / YARD3, "money/m3", sure="demo")
SHEET_PRICE = Range("One sheet, 4 × 8 ft", 35, 48, 70, "money", sure="demo")
SHADE_PRICE = Range("Shade and its frame", 8, 14, 22, "money/m2", sure="demo")
TOOLS_COST = Range("Hose, rose, fork, thermometer, scale, buckets", 60, 120, 200, "money", sure="demo")
