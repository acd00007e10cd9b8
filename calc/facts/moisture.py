"""Figures of the moisture chapter."""

from dataclasses import dataclass

from calc.facts import sources
from calc.facts.base import Figure, Range

FACE = Range(
    "Moisture of the feeding face",
    0.70,
    0.78,
    0.85,
    "1",
    source=sources.KAPLAN_1980,
    sure="abstract",
    note="Greatest weight gain at 70–85 % in activated sludge.",
)
FINISHING = Range("Moisture of the finished back before screening", 0.50, 0.53, 0.55, "1", sure="practice")
LIMITS = Range(
    "Moisture that worms bear",
    0.60,
    0.80,
    0.90,
    "1",
    source=sources.EDWARDS_ARANCON_2004,
    sure="read",
    note="Best 80–90 %, limits 60–90 %, in animal and vegetable wastes (table 18.3).",
)
AIRLESS = Figure(
    "Moisture above which bedding goes airless", 0.90, "1", source=sources.EDWARDS_ARANCON_2004, sure="read"
)
BEDDING_DENSITY = Range(
    "Bulk density of moist bedding",
    300,
    500,
    750,
    "kg/m3",
    sure="practice",
    note="Measure yours: a full 5-gallon bucket, net weight in lb × 40.4, is lb/yd³.",
)
DRY_BEDDING = Range(
    "Moisture of dry bedding",
    0.08,
    0.12,
    0.25,
    "1",
    source=sources.RYNK_1992,
    sure="second-hand",
    note="Straw 4–27 %, of oats 14 and of wheat 10; corrugated cardboard 8 %, sawdust 19–65 %.",
)
CONSTANT_MASS_LIMIT = Range(
    "Loss between two dryings that counts as dry",
    0.0005,
    0.001,
    0.002,
    "1",
    source=sources.ASTM_D4643,
    sure="memory",
    note=(
        "One part in a thousand of the sample. ASTM D2216 dries at 110 ± 5 °C, compost laboratories at 70 ± 5 °C (TMECC"
        " 2001); both to constant mass."
    ),
)


@dataclass(frozen=True)
class Squeeze:
    """A row of the squeeze test: what a handful shows, between which moistures [-], and what it asks for."""

    low: float
    high: float
    sign: str
    meaning: str


SQUEEZE = (
    Squeeze(0.00, 0.40, "crumbles, the hand stays dry", "wet it in several goes, an hour apart"),
    Squeeze(0.40, 0.50, "a weak ball that falls apart, the hand is damp", "water"),
    Squeeze(0.50, 0.60, "a firm ball, one or two drops", "right for screening; water a feeding face"),
    Squeeze(0.60, 0.70, "several drops between the fingers", "a little dry for feeding, good for cocoons"),
    Squeeze(0.70, 0.85, "drips freely but does not run", "right for feeding worms"),
    Squeeze(0.85, 1.00, "water runs out in a stream", "stop watering, mix in dry bedding"),
)
"""Bands of extension services, recalled, good to ten points either way; 50–60 % (a ball, a drop or two) was read."""
