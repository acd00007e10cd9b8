"""From slice to bag: what feed becomes, drying, screening, weights and prices."""

from calc.harvest.balance import balance
from calc.harvest.density import density
from calc.harvest.dry_down import dry_down
from calc.harvest.screen import screen

PLACE = 50
"""Among the chapters, in the order in which a year asks its questions."""
__all__ = ["balance", "density", "dry_down", "screen"]
