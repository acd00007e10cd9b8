"""Moisture of bedding: how wet it is, and what brings it to where it should be."""

from calc.moisture.adjust import adjust, dry_bedding_to_add, water_to_add, water_to_lose

__all__ = ["adjust", "dry_bedding_to_add", "water_to_add", "water_to_lose"]
