"""Water, heat and frost: how much a bed loses, how far a mist cools, how deep the weather reaches."""

from calc.climate.bed import bed_temperature
from calc.climate.decision import today
from calc.climate.misting import mist
from calc.climate.watering import water

PLACE = 40
"""Among the chapters, in the order in which a year asks its questions."""
__all__ = ["bed_temperature", "mist", "today", "water"]
