"""The farm as data: lanes, rooms and products entered once, one logbook, and what they answer every week."""

from calc.farm.money import money
from calc.farm.stock import stock
from calc.farm.week import week

PLACE = 100
"""Among the chapters, in the order in which a year asks its questions."""
__all__ = ["money", "stock", "week"]
