"""The money: what a pound or a yard costs, when the cash runs lowest, what the whole thing returns."""

from calc.economics.cash import cash
from calc.economics.costs import startup, unit_cost
from calc.economics.mix import mix
from calc.economics.returns import rate_of_return

PLACE = 70
"""Among the chapters, in the order in which a year asks its questions."""
__all__ = ["cash", "mix", "rate_of_return", "startup", "unit_cost"]
