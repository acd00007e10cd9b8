"""The page for customers: how much castings, how many worms."""

from calc.garden.dose import dose
from calc.garden.worms import worms

PLACE = 80
"""Among the chapters, in the order in which a year asks its questions."""
__all__ = ["dose", "worms"]
