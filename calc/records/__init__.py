"""Records that tell when something is wrong: control charts, and a lane's log read back."""

from calc.records.chart import chart
from calc.records.lane import lane
from calc.records.learn import learn

PLACE = 90
"""Among the chapters, in the order in which a year asks its questions."""
__all__ = ["chart", "lane", "learn"]
