"""Figures of the records chapter."""

from calc.facts import sources
from calc.facts.base import Figure, Range

RANGE_CONSTANT = Figure(
    "Mean moving range of two against the standard deviation, d2",
    1.128,
    "1",
    source=sources.MONTGOMERY,
    sure="second-hand",
    note="Exactly 2 ÷ √π = 1.1284; books and NIST print 1.128.",
)
RANGE_LIMIT = Figure(
    "Upper limit of moving ranges against their mean, D4",
    3.267,
    "1",
    source=sources.MONTGOMERY,
    sure="second-hand",
    note="Exactly 3.2665.",
)
FALSE_ALARM = Figure(
    "Points until a false alarm, all four rules together",
    91.75,
    "1",
    source=sources.WESTERN_ELECTRIC,
    sure="second-hand",
    note=(
        "Where centre and spread are known; the first rule alone: one in 370. After a baseline of ten values four"
        " charts in ten flag something within the next twenty."
    ),
)
FEED_LOW = Figure("Feed a day for a weight of worms, low", 0.25, "1/day", sure="practice")
CASTINGS_FOR_FEED = Range(
    "Castings for a weight of feed",
    0.35,
    0.55,
    0.75,
    "1",
    source=sources.KANAGARAJ_2023,
    sure="derived",
    note=(
        "By fresh weight 56 and 70 % of cane waste with dung; 62–65 % of fresh cattle manure in"
        " 28 days (MEKARN 2003). Wider here, for other feeds."
    ),
)
