"""The kinds of input, one file each: how one is read, shown, kept, bounded and tried.

Its control stands in calc/page/controls.py.
"""

from calc.engine.kinds.amount import Amount, in_kept_unit
from calc.engine.kinds.base import BLANK_WORDS, Heading, InUnits, Kind, as_json, day_text
from calc.engine.kinds.choice import Choice
from calc.engine.kinds.day import Day, Moment, TimeOfDay
from calc.engine.kinds.flag import Flag
from calc.engine.kinds.number import Count, Number, Share
from calc.engine.kinds.place import Place, Site
from calc.engine.kinds.series import Series
from calc.engine.kinds.table import Kept, Log, Rows, numbered
from calc.engine.kinds.text import Text

KINDS = (Number, Count, Choice, Flag, Day, TimeOfDay, Place, Text, Series, Rows, Log)
"""Every kind that can stand in a form; Amount and Moment are columns of tables."""

__all__ = [
    "BLANK_WORDS",
    "KINDS",
    "Amount",
    "Choice",
    "Count",
    "Day",
    "Flag",
    "Heading",
    "InUnits",
    "Kept",
    "Kind",
    "Log",
    "Moment",
    "Number",
    "Place",
    "Rows",
    "Series",
    "Share",
    "Site",
    "Text",
    "TimeOfDay",
    "as_json",
    "day_text",
    "in_kept_unit",
    "numbered",
]
