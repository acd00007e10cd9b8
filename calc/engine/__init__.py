"""What every calculator gets for free. A chapter imports its vocabulary from here."""

from calc.engine.describe import (
    Answer,
    Axis,
    Band,
    Choice,
    Column,
    Count,
    Day,
    Drawing,
    Event,
    Figure,
    Flag,
    Kept,
    Log,
    Mark,
    Number,
    Output,
    Refused,
    Rows,
    Series,
    Share,
    Show,
    Step,
    Table,
    Text,
    numbered,
    typical,
)
from calc.engine.quantity import FOOT, GALLON, INCH, LITRE, POUND, YARD3, over
from calc.engine.register import calculator, presents, with_inputs_of

__all__ = [
    "Answer", "Axis", "Band", "Choice", "Column", "Count", "Day", "Drawing", "Event", "FOOT", "Figure", "Flag", "GALLON", "INCH", "Kept",
    "LITRE", "Log", "Mark", "Number", "Output", "POUND", "Refused", "Rows", "Series", "Share", "Show", "Step", "Table", "Text", "YARD3",
    "calculator", "numbered", "over", "presents", "typical", "with_inputs_of",
]  # fmt: skip
