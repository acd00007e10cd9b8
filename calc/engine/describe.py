"""What a calculator asks for and what it answers with: descriptions that annotate parameters and result fields."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from datetime import date
from math import exp, log, sqrt
from typing import Any, Literal, TypeAlias

from calc.engine.kinds import (
    Amount,
    Choice,
    Count,
    Day,
    Flag,
    InUnits,
    Kept,
    Kind,
    Log,
    Moment,
    Number,
    Place,
    Rows,
    Series,
    Share,
    Site,
    Text,
    TimeOfDay,
    numbered,
)
from calc.engine.kinds.base import plain_words
from calc.engine.quantity import quantity_text
from calc.engine.told import Problem, Refused, Told, all_of, as_written, first_few, of_rows
from calc.engine.working import CurvePart, Part, RowsPart

Input: TypeAlias = Kind
"""What a calculator may ask for."""

__all__ = [
    "Amount",
    "Answer",
    "Axis",
    "Band",
    "Choice",
    "Column",
    "Count",
    "CurvePart",
    "Day",
    "Drawing",
    "Event",
    "Figure",
    "Flag",
    "InUnits",
    "Input",
    "Kept",
    "Kind",
    "Log",
    "Mark",
    "Moment",
    "Number",
    "Output",
    "Part",
    "Place",
    "Problem",
    "Refused",
    "Rows",
    "RowsPart",
    "Series",
    "Share",
    "Show",
    "Site",
    "Step",
    "Table",
    "Text",
    "TimeOfDay",
    "Told",
    "Trace",
    "Verdict",
    "all_of",
    "as_written",
    "drop_replaced",
    "first_few",
    "in_place_of",
    "numbered",
    "of_rows",
    "typical",
]


@dataclass(frozen=True)
class Band:
    """A typical value with the low and high that biology, weather or the published figures leave open."""

    value: float
    low: float
    high: float

    def times(self, factor: float) -> "Band":
        return self.map(lambda part: part * factor)

    def over(self, divisor: float) -> "Band":
        return self.map(lambda part: part / divisor)

    def map(self, function: Callable[[float], float]) -> "Band":
        """The band of a monotone function of this one; ends are put back in order."""
        ends = sorted((function(self.low), function(self.high)))
        return Band(function(self.value), ends[0], ends[1])


def together(middle: float, ways: Sequence[tuple[float, float]]) -> Band:
    """The band of a figure on which several coefficients act: what it is with each at its published ends by itself, put
    together as squares of logs.

    All of them at their ends at once is a case that hardly anybody meets; published ends are read as the 10th and the
    90th of a hundred.
    >>> band = together(2.0, [(1.0, 4.0)])
    >>> (round(band.low, 6), round(band.high, 6))
    (1.0, 4.0)
    >>> band = together(1.0, [(0.5, 2.0), (0.5, 2.0)])
    >>> (round(band.low, 3), round(band.high, 3))
    (0.375, 2.665)
    """
    if middle <= 0:
        return Band(middle, middle, middle)
    least = middle / 1000
    down = sqrt(sum(log(middle / max(least, min(middle, *ends))) ** 2 for ends in ways))
    up = sqrt(sum(log(max(middle, *ends) / middle) ** 2 for ends in ways))
    return Band(middle, middle * exp(-down), middle * exp(up))


def typical(value: Any) -> Any:
    """The plain number of a value that may be a Band."""
    return value.value if isinstance(value, Band) else value


_asked_alone: list[str | None] = [None]


@contextmanager
def typical_alone(output: str = "") -> Iterator[None]:
    """While only the typical value of one output is asked for, many times over, a calculator may leave out the ends of
    its ranges, and what only other outputs need.
    """
    _asked_alone.append(output)
    try:
        yield
    finally:
        _asked_alone.pop()


def ends_wanted() -> bool:
    """Whether low and high of a range will be looked at."""
    return _asked_alone[-1] is None


def output_wanted(*names: str) -> bool:
    """Whether one of these outputs will be looked at."""
    return _asked_alone[-1] is None or _asked_alone[-1] in names


@dataclass(frozen=True)
class Output(InUnits):
    """A result field: its unit, its label, and what it means."""

    unit: str
    label: str
    meaning: str = ""
    us: str | None = None
    metric: str | None = None
    ranged: bool = False
    digits: int = 3
    main: bool = False
    counted_by: str = ""  # a share counted over seeded draws: the input that says over how many

    def words(self, value: Any, system: str | None = None, currency: str = "$") -> str:
        """A value in words, with its unit."""
        if isinstance(value, (list, tuple)):
            return "; ".join(map(str, value)) or "none"
        if isinstance(value, bool) or not isinstance(value, (int, float)):
            return plain_words(value)
        return quantity_text(value, self.unit, self.shown(system), self.digits, currency)


@dataclass(frozen=True)
class Trace:
    """A field of an answer that carries what was worked out on the way, for its presenter: no result by itself, and not
    part of the printed object.
    """

    words: str


@dataclass(frozen=True)
class Verdict:
    """Whether a public rule is met (None: cannot be judged), and the figures by which that was decided. It belongs to
    the answer; a presenter only words it.
    """

    met: bool | None
    has: Mapping[str, Any] = field(default_factory=dict)


class Answer:
    """Base of every result dataclass: its fields are annotated with an Output each, or with a Trace."""


def drop_replaced(inputs: Mapping[str, Kind], given: dict[str, Any]) -> dict[str, Any]:
    """Add None for a default that the reader replaces by giving another input instead (mass, when a volume is
    given).
    """
    for name, description in inputs.items():
        instead = description.unless
        if instead and name not in given and given.get(instead) not in (None, ""):
            given[name] = None
    return given


def in_place_of(inputs: Mapping[str, Kind], name: str) -> dict[str, None]:
    """{input: None} for those that a value of another one takes the place of: a volume that is looked for leaves no
    mass.
    """
    return {other: None for other, description in inputs.items() if description.unless == name}


# ---- what an answer shows beyond its numbers


@dataclass(frozen=True)
class Step:
    """One equation of the working.

    `equation` names inputs and outputs in braces; it is shown in words and with this run's numbers, and evaluated
    (calc/engine/working.py).
    """

    title: str
    equation: str
    source: object = ""  # a Source, or words
    note: str = ""
    values: Mapping[str, Any] = field(default_factory=dict)
    """{name: Part or RowsPart} of quantities that are neither input nor output; of words alone, (words, text)."""
    prose: bool = False
    """Said in words: not to be evaluated."""


@dataclass(frozen=True)
class Column(InUnits):
    name: str
    label: str
    unit: str | None = None  # None: text
    us: str | None = None
    metric: str | None = None
    digits: int = 3


@dataclass(frozen=True)
class Act:
    """A row of the logbook that a button writes, as far as it is known before: texts, in the reader's units."""

    place: str
    what: str  # a word of the logbook
    label: str  # on the button
    amount: str = ""
    unit: str = ""
    units: Sequence[str] = ()  # to choose from
    note: str = ""
    things: Sequence[tuple[str, str]] = ()  # (name, unit) of what to choose from, for the note
    ready: bool = False  # nothing has to be read first: it is written at once


@dataclass(frozen=True)
class Table:
    name: str
    title: str
    columns: Sequence[Column]
    rows: Sequence[Sequence[Any]]
    note: str = ""
    open: bool = False  # shown at once, not folded
    pages: Sequence[str] = ()  # the pages that its rows lead to, one for each: a table of contents, by days
    first: bool = False  # the answer itself, before all that explains it
    acts: Sequence[Act | None] = ()  # what ticking a row off writes into the logbook, row by row


@dataclass(frozen=True)
class Axis(InUnits):
    label: str
    unit: str = "1"
    us: str | None = None
    metric: str | None = None
    kind: str = "linear"
    low: float | None = None
    high: float | None = None
    ticks: Sequence[Any] | None = None


MarkKind: TypeAlias = Literal[
    "line",
    "area",
    "dots",
    "bars",
    "stack",
    "text",
    "cells",
    "band",
    "spans",
    "tornado",
    "rule_x",
    "zone_x",
    "rule_y",
    "zone_y",
]
"""What a figure can draw; calc.page.figure says which of a mark's places lie on which axis."""


@dataclass(frozen=True)
class Mark(InUnits):
    kind: MarkKind
    points: Sequence[Sequence[Any]]
    label: str = ""
    tone: str = "main"
    dashed: bool = False
    unit: str | None = None  # of the values of "cells"
    us: str | None = None
    metric: str | None = None


@dataclass(frozen=True)
class Handle:
    """A point of a figure that is an input of the reader's: drawn along an axis, it sets the input.

    at: where it stands, in the units of the axes. low, high: how far the input goes, in its own unit. ends: where these
    two lie on the axis, if the axis is not the input's own. words: what stands beside it.
    """

    input: str
    axis: str  # "x" or "y"
    low: float
    high: float
    at: tuple[Any, Any] = (0.0, 0.0)
    ends: tuple[float, float] | None = None
    words: str = ""


@dataclass(frozen=True)
class Figure:
    name: str
    title: str
    finding: str
    x: Axis
    y: Axis
    marks: Sequence[Mark]
    height: int | None = None
    numbers_in: str = ""  # name of a table of the same answer that holds all of its numbers
    handles: Sequence[Handle] = ()


@dataclass(frozen=True)
class Drawing:
    """A picture to scale: finished SVG text, and the same in words."""

    name: str
    title: str
    finding: str
    svg: str
    text: str = ""
    keys: tuple[str, ...] = ()  # words of the numbered discs in it, as text below
    plays: str = ""  # the input that a button runs through from end to end
    still: str = ""  # the same in a few pictures, for who has no script or wants nothing to move


@dataclass(frozen=True)
class Event:
    day: date
    summary: str
    description: str = ""
    days: int = 1
    key: str = ""  # by which a calendar knows it again on another day; blank: its number among those of its kind


@dataclass
class Show:
    working: Sequence[Step] = field(default_factory=list)
    tables: Sequence[Table] = field(default_factory=list)
    figures: Sequence[Figure | Drawing] = field(default_factory=list)
    warnings: Sequence[tuple[str | None, str]] = field(default_factory=list)  # (input name or None, sentence)
    reading: Sequence[str] = field(default_factory=list)
    events: Sequence[Event] = field(default_factory=list)
    cautions: Sequence[str] = field(default_factory=list)
    acts: Sequence[Act] = ()  # what the logbook's buttons write
