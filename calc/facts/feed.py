"""Figures of the feed chapter: what a mix should be, what worms bear, what the hot-heap rules ask, and an invented
heap.
"""

from datetime import datetime, timedelta

from calc.engine.quantity import POUND
from calc.facts import sources
from calc.facts.base import Figure, Range, Source

# --- a mix that heats -------------------------------------------------------------------------------------------------

CARBON_NITROGEN = Range(
    "C:N of a mix that heats well",
    25,
    30,
    40,
    "1",
    source=sources.COOPERBAND_2002,
    sure="second-hand",
    note=(
        "Guides differ. Ideal: 25 to 35 (Cooperband), 25 to 30 (state guides), 25 to 40 (The Composting Handbook)."
        " Acceptable: 20 to 40, or to 60."
    ),
)
CARBON_NITROGEN_ACCEPTABLE = Range(
    "C:N between which a heap still works",
    20,
    30,
    40,
    "1",
    source=sources.COOPERBAND_2002,
    sure="second-hand",
    note="Below 20 nitrogen is lost as ammonia; above 40 the heap is slow to heat. The Composting Handbook goes to 60.",
)
HEAP_MOISTURE = Range(
    "Moisture of a mix that heats well",
    0.50,
    0.60,
    0.65,
    "1",
    source=sources.COOPERBAND_2002,
    sure="second-hand",
    note=(
        "Ideal: 45 to 60 % (Cooperband), 50 to 55 % (state guides), 50 to 60 % (The Composting Handbook); all accept 40"
        " to 65 %."
    ),
)
TOO_DRY_TO_ROT = Range(
    "Moisture below which rotting is much slower",
    0.30,
    0.38,
    0.40,
    "1",
    source=sources.CORNELL_1996,
    sure="read",
    note="Much slower under 35 to 40 %, almost nothing under 30 %.",
)
HEAVY_MIX = Range(
    "Bulk density above which a heap lacks air",
    475,
    650,
    712,
    "kg/m3",
    source=sources.RYNK_1992,
    sure="second-hand",
    note="Reasonable 800 to 1,200 lb/yd³, best under 1,100.",
)
SETTLED_VOLUME = Range(
    "Volume of a mix against its materials measured one by one",
    0.70,
    0.85,
    1.0,
    "1",
    sure="practice",
    note="Fine material falls into the gaps of coarse.",
)
CARBON_OF_DRY_MATTER = Range(
    "Carbon in plant and animal matter, of dry matter",
    0.25,
    0.48,
    0.60,
    "1",
    source=sources.GOTAAS_1956,
    sure="read",
    note="Volatile matter is 45 to 60 % carbon. Manure with grit or ash has less of it.",
)

# ------------------------------------------------------------------------------------------------------------ worm feed

FEED_CARBON_NITROGEN = Range(
    "C:N of feed that did best with worms",
    20,
    25,
    30,
    "1",
    source=sources.NDEGWA_THOMPSON_2000,
    sure="abstract",
    note="25 was the best of those tested, in biosolids with paper; the range around it is ours.",
)
BED_MOISTURE = Range(
    "Moisture of a working bed",
    0.70,
    0.80,
    0.90,
    "1",
    source=sources.EDWARDS_ARANCON_2004,
    sure="read",
    note=(
        "80 to 90 % best, 60 to 90 % survived. Other papers: 65 to 70 % where most cocoons were laid, 70 to 85 % for"
        " weight gain."
    ),
)
AMMONIA_LIMIT = Range(
    "Ammonia that worms bear in feed",
    0.0003,
    0.0005,
    0.001,
    "1",
    source=sources.EDWARDS_ARANCON_2004,
    sure="read",
    note=(
        "Under 0.5 mg/g; the older figure of Edwards (1988) is 1 mg/g. In soil half the worms died at 0.85 mg/g of"
        " ammonium hydroxide."
    ),
)
SALT_LIMIT = Range(
    "Soluble salts that worms bear in feed",
    0.004,
    0.005,
    0.005,
    "1",
    source=sources.KAPLAN_1980,
    sure="abstract",
    note="Above 0.5 % lethal in Kaplan and others (1980); Edwards & Arancon (2004) set the same limit.",
)

# --- the hot phase ----------------------------------------------------------------------------------------------------


def _rule(label: str, value: float, unit: str, source: Source, sure: str, note: str = "") -> Figure:
    """A number written in a rule: no range."""
    return Figure(label, value, unit, source=source, sure=sure, note=note)


HOT = _rule(
    "Temperature that the rules ask for",
    55.0,
    "degC",
    sources.CFR_503,
    "read",
    "131 °F. One published page prints 50 °C: wrong.",
)
ENCLOSED_DAYS = _rule(
    "Days at 55 °C, enclosed or aerated heap", 3.0, "day", sources.CFR_503, "read", "Running, in the New York text."
)
WINDROW_DAYS = _rule(
    "Days at 55 °C, turned windrow",
    15.0,
    "day",
    sources.CFR_503,
    "read",
    "The federal text does not say whether they must be running; New York's does; the produce rule says they need"
    " not be.",
)
WINDROW_TURNINGS = _rule("Turnings while hot, windrow", 5, "1", sources.CFR_503, "read")
ORGANIC_HIGHEST = _rule(
    "Highest temperature in the organic rule", 230 / 3, "degC", sources.CFR_205, "read", "170 °F, 76.7 °C."
)
ORGANIC_CARBON_NITROGEN = Range(
    "Starting C:N in the organic rule",
    25,
    30,
    40,
    "1",
    source=sources.CFR_205,
    sure="read",
    note=(
        "For heaps with manure. The later guidance NOP 5021 accepts heaps without the ratio or the five turnings; "
        "its last clause is from memory."
    ),
)
WARM = _rule("Temperature of the weaker treatment", 40.0, "degC", sources.CFR_503, "read")
WARM_DAYS = _rule(
    "Days at 40 °C, weaker treatment", 5.0, "day", sources.CFR_503, "read", "With four hours above 55 °C in them."
)
WARM_HOT_HOURS = _rule("Hours above 55 °C in the weaker treatment", 4.0, "hour", sources.CFR_503, "read")
FLY_DAYS = _rule(
    "Days above 40 °C so that flies and rats lose interest",
    14.0,
    "day",
    sources.CFR_503_FLIES,
    "second-hand",
    "One process of that many days or more, all of it above 40 °C: time before and after a break does not add up.",
)
FLY_MEAN = _rule("Mean temperature of those days", 45.0, "degC", sources.CFR_503_FLIES, "second-hand")
LONGEST_GAP = Range(
    "Longest time between two readings that still counts as known",
    4,
    14,
    26,
    "hour",
    sure="practice",
    note="No rule that we found says how often to read. Twice a day is not each 12 hours: 14. Once a day needs 26, a"
    " logger 2.",
)
FIRE_WATCH = Range(
    "Temperature at which a heap is watched for fire",
    71,
    75,
    80,
    "degC",
    sure="practice",
    note="Dry, large, unmoved heaps have burnt.",
)
READY_FOR_WORMS = Range(
    "Temperature of pre-composted feed before it goes to worms",
    20,
    27,
    30,
    "degC",
    sure="practice",
    note="The feed must have stopped heating by itself: a thin layer on the bed then stays cool.",
)

# --- the invented Quillfen Smallholding -------------------------------------------------------------------------------

DEMO_MATERIALS = (
    {"material": "dairy manure", "mass": 200 * POUND},
    {"material": "autumn leaves", "mass": 130 * POUND},
    {"material": "café grounds", "mass": 70 * POUND},
)
"""A morning's work at Quillfen: as many barrows as the heap takes [kg]."""

_DEMO_START, _DEMO_STEP = datetime(2027, 3, 2, 7), timedelta(hours=6)
_DEMO_TEMPERATURES = (
    12,
    17,
    25,
    34,
    43,
    50,
    56,
    60,
    62,
    None,
    None,
    61,
    63,
    64,
    64,
    65,
    64,
    63,
    63,
    62,
    61,
    60,
    60,
    59,
    58,
    57,
    56,
    55.4,
    54,
    53,
    51,
    50,
    48,
    47,
    46,
    45,
    44,
    43,
    42,
    41,
    40,
)

DEMO_LOG = tuple(
    {"time": _DEMO_START + step * _DEMO_STEP, "temperature": float(temperature)}
    for step, temperature in enumerate(_DEMO_TEMPERATURES)
    if temperature is not None
)
"""Every six hours from 2 March 2027, 7:00 [°C]; two readings were missed on the third day."""
