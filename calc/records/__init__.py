"""Records that tell when something is wrong: control charts, and a lane's log read back."""

from calc.records.chart import chart
from calc.records.lane import lane

__all__ = ["chart", "lane"]
