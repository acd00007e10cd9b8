"""Moisture of bedding: how wet it is, and what brings it to where it should be."""

from calc.moisture.adjust import adjust, dry_bedding_to_add, water_to_add, water_to_lose
from calc.moisture.weighing import test

PLACE = 30
"""Among the chapters, in the order in which a year asks its questions."""
__all__ = ["adjust", "dry_bedding_to_add", "test", "water_to_add", "water_to_lose"]
