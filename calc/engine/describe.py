"""What a calculator asks for and what it answers with: descriptions that annotate parameters and result fields."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from typing import TYPE_CHECKING, Any, TypeAlias

if TYPE_CHECKING:
    from calc.facts.base import Fact


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


def typical(value: Any) -> Any:
    """The plain number of a value that may be a Band."""
    return value.value if isinstance(value, Band) else value


class InUnits:
    """What a reader is shown in units of their own: `unit` inside, `us` and `metric` outside where the usual ones do
    not suit.
    """

    unit: str | None
    us: str | None
    metric: str | None

    def shown(self, system: str | None) -> str:
        """The unit in which it is shown in that system; what has a unit always has one."""
        from calc.engine.quantity import shown_unit

        own = self.us if system == "us" else self.metric if system == "metric" else None
        return own or shown_unit(self.unit or "", system)


@dataclass(frozen=True)
class Number(InUnits):
    """A number with a unit.

    `low`, `high` are the hard bounds, inclusive, in `unit`; `spread` is the plausible range.
    """

    unit: str
    label: str
    low: float
    high: float
    help: str = ""
    us: str | None = None
    metric: str | None = None
    spread: tuple[float, float] | None = None
    fact: "Fact | None" = None
    optional: bool = False
    group: str = ""
    step: float | None = None
    unless: str = ""  # the default is dropped when the reader gives this other input instead
    whole = False

    def plausible(self) -> tuple[float, float] | None:
        """(low, high) of the plausible range, or None."""
        if self.spread:
            return self.spread
        return self.fact.ends() if self.fact else None


class Count(Number):
    """A whole number."""

    whole = True


def Share(label: str, low: float = 0.0, high: float = 1.0, help: str = "", **more: Any) -> Number:
    """A fraction, shown in per cent."""
    return Number("1", label, low, high, help, us="%", metric="%", **more)


@dataclass(frozen=True)
class Choice:
    label: str
    options: Mapping[str, str]
    help: str = ""
    group: str = ""
    optional: bool = False


@dataclass(frozen=True)
class Asked:
    """What a field has that is neither a number nor a list."""

    label: str
    help: str = ""
    group: str = ""
    optional: bool = False


class Flag(Asked):
    """Yes or no."""


class Day(Asked):
    """A calendar date, ISO 8601."""


@dataclass(frozen=True)
class Text(Asked):
    """A few words of the reader's own."""

    choices: tuple[str, ...] = ()  # suggestions offered beside the field


@dataclass(frozen=True)
class Rows:
    """A table: rows of named columns. `tolerant` keeps the good rows and reports the others as `Kept.dropped`."""

    label: str
    columns: Mapping[str, "Input"]
    help: str = ""
    group: str = ""
    optional: bool = False
    tolerant: bool = False
    most: int = 1_000
    timed = False


@dataclass(frozen=True)
class Log(Rows):
    """A table whose first column is a time: an ISO date-time, or hours as a number."""

    most: int = 50_000
    timed = True


class Kept(list[dict[str, Any]]):
    """The good rows of a tolerant table; `dropped` says in words why each other row was left out; `numbers` are the
    rows' numbers.
    """

    def __init__(
        self,
        rows: Iterable[dict[str, Any]] = (),
        dropped: Sequence[str] = (),
        numbers: Sequence[int] = (),
    ) -> None:
        super().__init__(rows)
        self.dropped = list(dropped)
        self.numbers = list(numbers)


def numbered(rows: Sequence[dict[str, Any]]) -> list[tuple[int, dict[str, Any]]]:
    """Rows of a table with the numbers by which the reader knows them."""
    return list(zip(getattr(rows, "numbers", None) or range(1, len(rows) + 1), rows))


@dataclass(frozen=True)
class Series(InUnits):
    unit: str
    label: str
    low: float
    high: float
    help: str = ""
    us: str | None = None
    metric: str | None = None
    length: int | None = None
    group: str = ""
    optional: bool = False
    most: int = 10_000
    unless: str = ""  # as of a number


Input: TypeAlias = Number | Choice | Asked | Rows | Series
"""What a calculator may ask for."""


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


class Answer:
    """Base of every result dataclass."""


def first_few(messages: Sequence[str], most: int = 5) -> str:
    """The first few messages, and how many more there are."""
    more = len(messages) - most
    return " ".join(messages[:most]) + (f" And {more} more like these." if more > 0 else "")


class Refused(ValueError):
    """Input that cannot be answered.

    `problems` is a list of (input name, message), one for each field that is wrong.
    """

    def __init__(self, problems: Sequence[tuple[str | None, str]]) -> None:
        told: dict[str | None, list[str]] = {}
        for name, message in problems:
            told.setdefault(name, []).append(message)
        self.problems = [(name, first_few(messages)) for name, messages in told.items()]
        super().__init__("; ".join(message for _, message in self.problems))


def all_of(*checks: Callable[..., Any]) -> list[Any]:
    """What each of some functions returns; Refused with the problems of all of them, so that nothing wrong is told one
    by one.
    """
    results, problems = [], []
    for check in checks:
        try:
            results.append(check())
        except Refused as refused:
            problems += refused.problems
    if problems:
        raise Refused(problems)
    return results


def as_written(text: object, most: int = 60) -> str:
    """What a reader wrote, as a message repeats it: as much as can be recognised.

    >>> as_written("furlongs"), len(as_written("9" * 1_000_000))
    ('furlongs', 61)
    """
    text = (
        str(text)
        if isinstance(text, (str, bool, float, type(None))) or isinstance(text, int) and abs(text) < 10**most
        else type(text).__name__
    )
    return text if len(text) <= most else text[:most] + "…"


def drop_replaced(inputs: Mapping[str, Input], given: dict[str, Any]) -> dict[str, Any]:
    """Add None for a default that the reader replaces by giving another input instead (mass, when a volume is
    given).
    """
    for name, description in inputs.items():
        instead = getattr(description, "unless", "")
        if instead and name not in given and given.get(instead) not in (None, ""):
            given[name] = None
    return given


def in_place_of(inputs: Mapping[str, Input], name: str) -> dict[str, None]:
    """{input: None} for those that a value of another one takes the place of: a volume that is looked for leaves no
    mass.
    """
    return {other: None for other, description in inputs.items() if getattr(description, "unless", "") == name}


# ---- what an answer shows beyond its numbers


@dataclass(frozen=True)
class Step:
    """One equation of the working.

    `equation` names inputs and outputs in braces; it is shown in words and with this run's numbers.
    """

    title: str
    equation: str
    source: object = ""  # a Source, or words
    note: str = ""
    values: Mapping[str, tuple[str, str]] = field(
        default_factory=dict
    )  # text for names that are neither input nor output: {name: (words, number text)}


@dataclass(frozen=True)
class Column(InUnits):
    name: str
    label: str
    unit: str | None = None  # None: text
    us: str | None = None
    metric: str | None = None
    digits: int = 3


@dataclass(frozen=True)
class Table:
    name: str
    title: str
    columns: Sequence[Column]
    rows: Sequence[Sequence[Any]]
    note: str = ""
    open: bool = False  # shown at once, not folded


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


@dataclass(frozen=True)
class Mark(InUnits):
    kind: str
    points: Sequence[Sequence[Any]]
    label: str = ""
    tone: str = "main"
    dashed: bool = False
    unit: str | None = None  # of the values of "cells"
    us: str | None = None
    metric: str | None = None


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


@dataclass(frozen=True)
class Drawing:
    """A picture to scale: finished SVG text, and the same in words."""

    name: str
    title: str
    finding: str
    svg: str
    text: str = ""
    keys: tuple[str, ...] = ()  # words of the numbered discs in it, as text below


@dataclass(frozen=True)
class Event:
    day: date
    summary: str
    description: str = ""
    days: int = 1


@dataclass
class Show:
    working: Sequence[Step] = field(default_factory=list)
    tables: Sequence[Table] = field(default_factory=list)
    figures: Sequence[Figure | Drawing] = field(default_factory=list)
    warnings: Sequence[tuple[str | None, str]] = field(default_factory=list)  # (input name or None, sentence)
    reading: Sequence[str] = field(default_factory=list)
    events: Sequence[Event] = field(default_factory=list)
    cautions: Sequence[str] = field(default_factory=list)
