"""Lanes: beds that are fed on a sloping face, from the back of which finished castings are sliced."""

from calc.lane.feeding import feeding
from calc.lane.herd import herd
from calc.lane.ledger import ledger
from calc.lane.lives import lives
from calc.lane.output import output
from calc.lane.starter import starter
from calc.lane.year import year

PLACE = 20
"""Among the chapters, in the order in which a year asks its questions."""
__all__ = ["feeding", "herd", "ledger", "lives", "output", "starter", "year"]
