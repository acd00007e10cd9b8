"""Breeding worms in trays: temperatures, the weekly pipeline, and the rooms that hold them."""

from calc.breeding.room import room
from calc.breeding.setpoints import setpoints
from calc.breeding.trays import trays

PLACE = 60
"""Among the chapters, in the order in which a year asks its questions."""
__all__ = ["room", "setpoints", "trays"]
