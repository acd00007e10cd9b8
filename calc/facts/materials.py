"""Materials for feed and bedding: moisture, nitrogen, C:N and bulk density; typical, low, high, source, how sure.

Moisture is wet basis (water ÷ whole mass). Nitrogen is a share of the dry matter. Bulk density is loose, as it lies.
Most cells go back to one table, Appendix A of the On-Farm Composting Handbook (1992), reached by different ways:
some through a printed copy of that table in a later manual ("second-hand"), some from memory, to be checked against the
book. Where two publications disagree, the range covers both and the note says so. Where a source gives one figure, the
range around it is ours: see ASSUMED. A test of your own heap is better than any of them.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

from calc.facts import sources
from calc.facts.base import Range, Source

POUNDS_PER_YARD3 = 0.593276421  # kg/m³ in 1 lb/yd³, from the exact pound and yard

# A single published figure gets this range: moisture in points either side, the others as a factor either way.
ASSUMED_MOISTURE = 0.08
ASSUMED_FACTOR = 1.25

HANDBOOK = sources.RYNK_1992
ALBERTA = sources.ALBERTA_2005
GOLUEKE = sources.GOLUEKE_1972
EPA = sources.EPA_2016


@dataclass(frozen=True)
class Material:
    """One row of the table. group: "manure", "food", "green", "brown" or "other"; note: what to know before using
    it.
    """

    name: str
    group: str
    moisture: Range
    nitrogen: Range
    carbon_nitrogen: Range
    bulk_density: Range
    note: str = ""

    @property
    def facts(self) -> tuple[Range, ...]:
        return self.moisture, self.nitrogen, self.carbon_nitrogen, self.bulk_density


def _row(
    name: str,
    group: str,
    moisture: Sequence[Source | int | str | None],
    nitrogen: Sequence[Source | float | str | None],
    carbon_nitrogen: Sequence[Source | int | str | None],
    bulk_density: Sequence[Source | int | str | None],
    note: str = "",
    *,
    pounds: bool = False,
) -> Material:
    """Each cell: (typical, source, sure) or (low, typical, high, source, sure), moisture and nitrogen in percent,
    bulk density in kg/m³, or in lb/yd³ as published when pounds is set."""
    return Material(
        name,
        group,
        _cell(f"Moisture of {name}", moisture, "1", 0.01, _points_around),
        _cell(f"Nitrogen of {name}, of dry matter", nitrogen, "1", 0.01, _factor_around),
        _cell(f"C:N of {name}", carbon_nitrogen, "1", 1.0, _factor_around),
        _cell(f"Bulk density of {name}", bulk_density, "kg/m3", POUNDS_PER_YARD3 if pounds else 1.0, _factor_around),
        note,
    )


def _cell(
    label: str,
    cell: Sequence[Any],
    unit: str,
    scale: float,
    around: Callable[[float], tuple[float, float, float]],
) -> Range:
    *figures, source, sure = cell
    assumed = len(figures) == 1
    low, typical, high = around(figures[0] * scale) if assumed else [figure * scale for figure in figures]
    note = "One figure is published; the range around it is assumed." if assumed else ""
    return Range(label, low, typical, high, unit, source=source, sure=sure, note=note)


def _points_around(moisture: float) -> tuple[float, float, float]:
    return max(0.01, moisture - ASSUMED_MOISTURE), moisture, min(0.97, moisture + ASSUMED_MOISTURE)


def _factor_around(value: float) -> tuple[float, float, float]:
    return value / ASSUMED_FACTOR, value, value * ASSUMED_FACTOR


MATERIALS = (
    # --- manures ---
    _row(
        "dairy manure",
        "manure",
        (79, ALBERTA, "second-hand"),
        (1.7, ALBERTA, "second-hand"),
        (18, ALBERTA, "second-hand"),
        (710, ALBERTA, "second-hand"),
        "Solid, from the barn. Golueke (1972) gives the same nitrogen and C:N.",
    ),
    _row(
        "separated dairy solids",
        "manure",
        (77, ALBERTA, "second-hand"),
        (1.45, ALBERTA, "second-hand"),
        (23, ALBERTA, "second-hand"),
        (650, ALBERTA, "second-hand"),
        "The fibre pressed out of slurry.",
    ),
    _row(
        "cattle manure",
        "manure",
        (67, 81, 87, HANDBOOK, "memory"),
        (1.5, 2.4, 4.2, HANDBOOK, "memory"),
        (11, 19, 30, HANDBOOK, "memory"),
        (1323, 1458, 1674, HANDBOOK, "memory"),
        pounds=True,
    ),
    _row(
        "horse manure",
        "manure",
        (49, 72, 79, ALBERTA, "second-hand"),
        (1.4, 1.6, 2.3, ALBERTA, "second-hand"),
        (22, 30, 50, ALBERTA, "second-hand"),
        (1215, 1379, 1620, ALBERTA, "second-hand"),
        "With some bedding. Casady (1962) gives 49 to 76 % water. Ask about wormer: drug residues can harm earthworms.",
        pounds=True,
    ),
    _row(
        "horse manure with straw",
        "manure",
        (67, ALBERTA, "second-hand"),
        (1.5, ALBERTA, "second-hand"),
        (27, ALBERTA, "second-hand"),
        (300, 600, 818, None, "practice"),
        "No density was found; it depends on the straw.",
    ),
    _row(
        "horse manure with shavings",
        "manure",
        (72, ALBERTA, "second-hand"),
        (0.9, ALBERTA, "second-hand"),
        (65, ALBERTA, "second-hand"),
        (300, 600, 818, None, "practice"),
        "No density was found; it depends on the shavings.",
    ),
    _row(
        "sheep manure",
        "manure",
        (60, 69, 75, ALBERTA, "second-hand"),
        (1.3, 2.7, 3.9, ALBERTA, "second-hand"),
        (13, 16, 20, ALBERTA, "second-hand"),
        (500, 750, 1000, None, "practice"),
        "No density was found.",
    ),
    _row(
        "pig manure",
        "manure",
        (65, 80, 91, HANDBOOK, "memory"),
        (1.9, 3.1, 4.3, HANDBOOK, "memory"),
        (9, 14, 19, HANDBOOK, "memory"),
        (700, 900, 1000, None, "practice"),
        "Golueke (1972) gives 3.8 % nitrogen. No density was found.",
    ),
    _row(
        "rabbit manure",
        "manure",
        (35, 55, 76, None, "judged"),
        (2.0, 3.0, 3.3, HANDBOOK, "memory"),
        (8, 12, 15, HANDBOOK, "memory"),
        (300, 500, 800, None, "practice"),
        "Weakly known. Fresh, with litter. The 49 to 76 % water of a 1962 report (Casady) are horse manure's. No"
        " density was found.",
    ),
    _row(
        "laying hen manure",
        "manure",
        (30, 69, 75, HANDBOOK, "memory"),
        (3.1, 8.0, 10.0, HANDBOOK, "memory"),
        (3, 6, 15, HANDBOOK, "memory"),
        (1377, 1479, 1620, HANDBOOK, "memory"),
        "Gives off ammonia that kills worms; never feed it fresh. Golueke (1972): 6.3 % nitrogen, C:N 15. A year under"
        " four high houses left 30 to 47 % water and 3.1 % nitrogen (Lorimor & Xin 1999).",
        pounds=True,
    ),
    _row(
        "broiler litter",
        "manure",
        (26, 35, 47, sources.COUFAL_2006, "derived"),
        (1.6, 2.7, 4.7, HANDBOOK, "memory"),
        (12, 14, 15, HANDBOOK, "memory"),
        (556, 864, 1026, HANDBOOK, "memory"),
        "Of 18 flocks 26 % water loose, 47 % caked, 35 % together. Two manuals disagree: 2.7 % nitrogen at 37 % water,"
        " or 4.7 % at 25 %.",
        pounds=True,
    ),
    _row(
        "turkey litter",
        "manure",
        (20, 26, 33, HANDBOOK, "memory"),
        (2.1, 2.6, 4.2, HANDBOOK, "memory"),
        (13, 16, 19, HANDBOOK, "memory"),
        (641, 783, 900, HANDBOOK, "memory"),
        "A later manual gives 4.2 % nitrogen at 33 % water.",
        pounds=True,
    ),
    # --- food ---
    _row(
        "food scraps",
        "food",
        (60, 70, 90, HANDBOOK, "memory"),
        (1.9, 2.4, 2.9, HANDBOOK, "memory"),
        (14, 15, 20, HANDBOOK, "second-hand"),
        (396, 1000, 1513, EPA, "read"),
        "Mixed kitchen waste without meat; peelings alone hold 80 to 90 % water. Official weights run from 396 to 1,513"
        " lb/yd³.",
        pounds=True,
    ),
    _row(
        "vegetable produce",
        "food",
        (87, HANDBOOK, "memory"),
        (2.7, HANDBOOK, "memory"),
        (19, HANDBOOK, "second-hand"),
        (1585, HANDBOOK, "memory"),
        "Packed. Loose leaves weigh far less.",
        pounds=True,
    ),
    _row(
        "vegetable trimmings",
        "food",
        (80, 87, 92, HANDBOOK, "memory"),
        (2.5, 3.2, 4.0, GOLUEKE, "second-hand"),
        (11, 12, 13, GOLUEKE, "second-hand"),
        (300, 600, 940, None, "practice"),
        "Leafy, no starch. Moisture as for vegetable produce. No density was found.",
    ),
    _row(
        "fruit waste",
        "food",
        (62, 80, 88, HANDBOOK, "memory"),
        (0.9, 1.4, 2.6, HANDBOOK, "memory"),
        (15, 40, 49, HANDBOOK, "memory"),
        (500, 800, 1000, None, "practice"),
        "Sour when fresh. No density was found.",
    ),
    _row(
        "coffee grounds",
        "food",
        (55, 65, 80, None, "practice"),
        (1.8, 2.0, 2.3, HANDBOOK, "second-hand"),
        (12, 20, 24, HANDBOOK, "second-hand"),
        (300, 450, 650, None, "practice"),
        "Spent, drained, as a café bags them. Published C:N: 12, 20 and 24. Weigh a bucket of yours.",
    ),
    _row(
        "apple pomace",
        "food",
        (60, 75, 85, sources.FEEDIPEDIA, "read"),
        (1.1, HANDBOOK, "memory"),
        (48, HANDBOOK, "memory"),
        (400, 700, 1000, sources.FEEDIPEDIA, "read"),
        "What a cider press leaves: pressed 60 to 70 % water, unpressed 70 to 85.",
    ),
    _row(
        "cull potatoes",
        "food",
        (80, sources.BOYLES, "read"),
        (1.4, 1.6, 2.5, sources.BOYLES, "derived"),
        (18, 28, 32, sources.BOYLES, "derived"),
        (1540, HANDBOOK, "memory"),
        "About 10 % protein of the dry matter, 1.6 % nitrogen; C:N with 45 % carbon. The compost table has C:N 18, from"
        " memory.",
        pounds=True,
    ),
    _row(
        "brewer's grains",
        "food",
        (75, 78, 80, None, "practice"),
        (4.0, 4.7, 5.4, sources.FLORIDA_AN241, "derived"),
        (9, 10, 12, sources.FLORIDA_AN241, "derived"),
        (500, 800, 1000, None, "practice"),
        "Heats and sours within a day or two. 25 to 34 % protein of the dry matter; C:N with 48 % carbon.",
    ),
    _row(
        "cocoa shells",
        "food",
        (8, HANDBOOK, "memory"),
        (2.3, HANDBOOK, "memory"),
        (22, HANDBOOK, "second-hand"),
        (798, HANDBOOK, "memory"),
        "Keep away from dogs: poisonous to them.",
        pounds=True,
    ),
    _row(
        "seaweed",
        "food",
        (45, 53, 85, HANDBOOK, "memory"),
        (1.2, 1.9, 3.0, HANDBOOK, "memory"),
        (5, 17, 27, HANDBOOK, "memory"),
        (200, 400, 700, None, "practice"),
        "Salt harms worms: rinse it well and use little. Collecting may need leave. No density was found.",
    ),
    # --- green and leafy ---
    _row(
        "grass clippings",
        "green",
        (70, 82, 86, HANDBOOK, "memory"),
        (2.0, 3.4, 6.0, HANDBOOK, "memory"),
        (9, 17, 25, HANDBOOK, "second-hand"),
        (250, 350, 800, HANDBOOK, "memory"),
        "Loose; packed weighs twice as much. From lawns without weedkiller.",
        pounds=True,
    ),
    _row(
        "legume hay",
        "green",
        (10, 20, 30, HANDBOOK, "memory"),
        (1.8, 2.5, 3.6, ALBERTA, "second-hand"),
        (15, 16, 19, ALBERTA, "second-hand"),
        (60, 110, 200, None, "practice"),
        "Shaken out. No density was found.",
    ),
    _row(
        "grass hay",
        "green",
        (8, 9, 15, HANDBOOK, "memory"),
        (0.7, 1.3, 2.5, HANDBOOK, "memory"),
        (25, 32, 40, HANDBOOK, "memory"),
        (60, 110, 200, None, "practice"),
        "Shaken out. Ask whether it was sprayed: some weedkillers pass through manure and compost. No density was"
        " found.",
    ),
    _row(
        "tree trimmings",
        "green",
        (70, HANDBOOK, "memory"),
        (3.1, HANDBOOK, "memory"),
        (16, HANDBOOK, "memory"),
        (1296, HANDBOOK, "memory"),
        "Green, shredded with the leaves on.",
        pounds=True,
    ),
    _row(
        "shrub trimmings",
        "green",
        (15, HANDBOOK, "memory"),
        (1.0, HANDBOOK, "memory"),
        (53, HANDBOOK, "memory"),
        (429, HANDBOOK, "memory"),
        pounds=True,
    ),
    # --- brown ---
    _row(
        "leaves",
        "brown",
        (20, 38, 60, ALBERTA, "second-hand"),
        (0.5, 0.9, 1.3, ALBERTA, "second-hand"),
        (40, 54, 80, ALBERTA, "second-hand"),
        (60, 150, 297, EPA, "read"),
        "Autumn leaves, raked. Loose and dry 60 to 178 kg/m³; moist and trodden down 237 to 297.",
    ),
    _row(
        "corn stalks",
        "brown",
        (12, HANDBOOK, "memory"),
        (0.6, 0.7, 0.8, HANDBOOK, "memory"),
        (60, 67, 73, HANDBOOK, "memory"),
        (32, HANDBOOK, "memory"),
        "Loose and whole; hardly weighs anything.",
        pounds=True,
    ),
    _row(
        "corn cobs",
        "brown",
        (9, 15, 18, HANDBOOK, "memory"),
        (0.4, 0.6, 0.8, HANDBOOK, "memory"),
        (56, 98, 123, HANDBOOK, "second-hand"),
        (557, HANDBOOK, "memory"),
        pounds=True,
    ),
    _row(
        "straw",
        "brown",
        (4, 12, 27, ALBERTA, "second-hand"),
        (0.3, 0.7, 1.1, ALBERTA, "second-hand"),
        (48, 80, 150, ALBERTA, "second-hand"),
        (58, 227, 378, HANDBOOK, "memory"),
        "Any cereal. Shaken out it is lighter still.",
        pounds=True,
    ),
    _row(
        "oat straw",
        "brown",
        (14, ALBERTA, "second-hand"),
        (0.6, 0.9, 1.1, ALBERTA, "second-hand"),
        (48, 60, 98, ALBERTA, "second-hand"),
        (130, 160, 192, ALBERTA, "second-hand"),
        "Golueke (1972): 1.1 % nitrogen, C:N 48.",
    ),
    _row(
        "wheat straw",
        "brown",
        (10, ALBERTA, "second-hand"),
        (0.3, 0.4, 0.5, ALBERTA, "second-hand"),
        (100, 127, 150, ALBERTA, "second-hand"),
        (135, ALBERTA, "second-hand"),
    ),
    _row(
        "rice hulls",
        "brown",
        (5, 14, 16, HANDBOOK, "memory"),
        (0.1, 0.3, 0.4, HANDBOOK, "memory"),
        (113, 121, 1120, HANDBOOK, "memory"),
        (185, 202, 219, HANDBOOK, "memory"),
        "Takes years to rot. Stored dry it held 5 to 6 % water (Zhang, Ghaly & Li 2012).",
        pounds=True,
    ),
    _row(
        "corrugated cardboard",
        "brown",
        (8, ALBERTA, "second-hand"),
        (0.10, ALBERTA, "second-hand"),
        (563, ALBERTA, "second-hand"),
        (50, 106, 259, EPA, "read"),
        "Plain, tape off, shredded. Official weights for loose boxes 50 to 150 lb/yd³; the compost tables 259.",
        pounds=True,
    ),
    _row(
        "newsprint",
        "brown",
        (3, 5, 8, HANDBOOK, "memory"),
        (0.06, 0.08, 0.14, HANDBOOK, "memory"),
        (398, 600, 852, HANDBOOK, "memory"),
        (195, 220, 505, HANDBOOK, "memory"),
        "Shredded; in piles it weighs 360 to 505 lb/yd³.",
        pounds=True,
    ),
    _row(
        "mixed paper",
        "brown",
        (18, 19, 20, ALBERTA, "second-hand"),
        (0.20, 0.22, 0.25, ALBERTA, "second-hand"),
        (127, 150, 178, ALBERTA, "second-hand"),
        (219, ALBERTA, "second-hand"),
        "Uncoated. Wets into a mat unless mixed in.",
        pounds=True,
    ),
    _row(
        "sawdust",
        "brown",
        (19, 39, 65, ALBERTA, "second-hand"),
        (0.06, 0.11, 0.80, HANDBOOK, "derived"),
        (200, 442, 750, ALBERTA, "second-hand"),
        (350, 410, 450, ALBERTA, "second-hand"),
        "Untreated wood. Dust: wet it, wear a mask. The published means, 0.24 % nitrogen and C:N 442, cannot both hold"
        " (106 % carbon); nitrogen here goes with the C:N and 49 % carbon. Golueke (1972): 0.1 %, 200 to 500.",
        pounds=True,
    ),
    _row(
        "softwood shavings",
        "brown",
        (15, 28, 40, ALBERTA, "second-hand"),
        (0.04, 0.09, 0.23, ALBERTA, "second-hand"),
        (212, 641, 1313, ALBERTA, "second-hand"),
        (445, 530, 620, ALBERTA, "second-hand"),
        "Chips or shavings, untreated.",
        pounds=True,
    ),
    _row(
        "hardwood chips",
        "brown",
        (15, 28, 40, HANDBOOK, "memory"),
        (0.06, 0.09, 0.11, HANDBOOK, "memory"),
        (451, 560, 819, HANDBOOK, "memory"),
        (445, 530, 620, HANDBOOK, "memory"),
        "Gives a heap air; most of it is sieved out again.",
        pounds=True,
    ),
    _row(
        "softwood bark",
        "brown",
        (20, 40, 60, None, "practice"),
        (0.04, 0.10, 0.39, HANDBOOK, "derived"),
        (131, 496, 1285, HANDBOOK, "memory"),
        (200, 300, 400, None, "practice"),
        "No moisture or density was found. Nitrogen from C:N and 50 % carbon; the published mean of 0.14 % would need"
        " 69 %.",
    ),
    _row(
        "peat moss",
        "brown",
        (40, 50, 60, None, "practice"),
        (0.5, 0.9, 1.5, None, "practice"),
        (30, 54, 80, None, "practice"),
        (200, 300, 400, None, "practice"),
        "Weakly known. From the bale, loosened. Acid, and dug from bogs that do not grow back soon.",
        pounds=True,
    ),
    _row(
        "coir",
        "brown",
        (15, 18, 20, None, "practice"),
        (0.26, 0.42, 0.65, sources.ABAD_2002, "derived"),
        (75, 117, 186, sources.ABAD_2002, "abstract"),
        (50, 90, 150, sources.EVANS_1996, "derived"),
        "From the brick, loosened, before soaking; some is salty: rinse it. C:N of 13 lots; nitrogen with 49 % carbon."
        " Dry dust weighed 40 to 80 kg/m³, other lots 80 to 120.",
    ),
    # --- other ---
    _row(
        "finished compost",
        "other",
        (35, 45, 55, None, "practice"),
        (1.0, 1.6, 2.5, None, "practice"),
        (10, 15, 20, None, "practice"),
        (1000, 1200, 1600, EPA, "second-hand"),
        "Bedding for a new lane. Little food left in it. The first lane starts from looser, wetter compost: 600 kg/m³"
        " (1,010 lb/yd³), 55 %. Weigh yours.",
        pounds=True,
    ),
)

BY_NAME = {material.name: material for material in MATERIALS}

# What growers also call them.
OTHER_NAMES = {
    "manure": "dairy manure",
    "cow manure": "dairy manure",
    "solid dairy manure": "dairy manure",
    "dairy solid manure": "dairy manure",
    "pony manure": "horse manure",
    "stable manure": "horse manure with straw",
    "goat manure": "sheep manure",
    "swine manure": "pig manure",
    "hog manure": "pig manure",
    "chicken manure": "laying hen manure",
    "poultry manure": "laying hen manure",
    "hen manure": "laying hen manure",
    "poultry litter": "broiler litter",
    "food waste": "food scraps",
    "kitchen scraps": "food scraps",
    "kitchen waste": "food scraps",
    "vegetable waste": "vegetable trimmings",
    "vegetable scraps": "vegetable trimmings",
    "vegetables": "vegetable produce",
    "fruit": "fruit waste",
    "fruit scraps": "fruit waste",
    "coffee": "coffee grounds",
    "cafe grounds": "coffee grounds",
    "café grounds": "coffee grounds",
    "spent coffee grounds": "coffee grounds",
    "spent grain": "brewer's grains",
    "brewers grains": "brewer's grains",
    "brewer's spent grain": "brewer's grains",
    "grass": "grass clippings",
    "lawn clippings": "grass clippings",
    "hay": "grass hay",
    "autumn leaves": "leaves",
    "fall leaves": "leaves",
    "dry leaves": "leaves",
    "maize stalks": "corn stalks",
    "maize cobs": "corn cobs",
    "cardboard": "corrugated cardboard",
    "shredded cardboard": "corrugated cardboard",
    "newspaper": "newsprint",
    "paper": "mixed paper",
    "shavings": "softwood shavings",
    "wood shavings": "softwood shavings",
    "wood chips": "hardwood chips",
    "woodchips": "hardwood chips",
    "bark": "softwood bark",
    "peat": "peat moss",
    "coco coir": "coir",
    "coconut fibre": "coir",
    "compost": "finished compost",
}


def named(name: str) -> Material | None:
    """The material of that name or everyday name, whatever its capitals and spaces; None when there is none."""
    plain = " ".join(name.lower().replace("’", "'").split())
    return BY_NAME.get(OTHER_NAMES.get(plain, plain))
