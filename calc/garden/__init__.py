"""The page for customers: how much castings, how many worms."""

from calc.garden.dose import dose
from calc.garden.worms import worms

__all__ = ["dose", "worms"]
