"""Figures of the moisture chapter."""

from calc.facts import sources
from calc.facts.base import Fact

FACE = Fact("Moisture of the feeding face", 0.70, 0.78, 0.85, "1", source=sources.KAPLAN_1980, sure="abstract", note="Greatest weight gain at 70–85 % in activated sludge.")
FINISHING = Fact("Moisture of the finished back before screening", 0.50, 0.53, 0.55, "1", sure="practice")
LIMITS = Fact("Moisture that worms bear", 0.60, 0.80, 0.90, "1", source=sources.EDWARDS_ARANCON_2004, sure="read", note="Best 80–90 %, limits 60–90 %, in animal and vegetable wastes (table 18.3).")
AIRLESS = Fact("Moisture above which bedding goes airless", None, 0.90, None, "1", source=sources.EDWARDS_ARANCON_2004, sure="read")
BEDDING_DENSITY = Fact("Bulk density of moist bedding", 300, 500, 750, "kg/m3", sure="practice", note="Measure yours: a full 5-gallon bucket, net weight in lb × 40.4, is lb/yd³.")
DRY_BEDDING = Fact("Moisture of dry bedding", 0.08, 0.12, 0.25, "1", source=sources.RYNK_1992, sure="memory", note="Straw 12 %, corrugated cardboard 8 %, sawdust 19–65 %.")
