"""How a published figure is kept: low, typical, high, unit, source, and how sure we are of it."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from calc.engine.describe import Band

# How sure, in words that the method page prints.
SURE = {
    "read": "figure read in the source",
    "abstract": "figure read in the abstract",
    "second-hand": "figure read in a work that quotes the source",
    "memory": "recalled, not read again",
    "derived": "worked out from figures named beside it",
    "practice": "common practice, no source",
    "judged": "our own judgement, no source",
    "demo": "invented, as an example",
}


SEEN = {
    "read": "read",
    "abstract": "abstract or summary read",
    "second-hand": "read in a work that quotes it",
    "memory": "recalled, not seen again",
}
"""How we saw a work, in words that the bibliography prints."""


@dataclass(frozen=True)
class Source:
    """A work: the short name used in text; who, when, what and where it is to be found; how we saw it."""

    name: str
    author: str = ""
    year: str = ""
    title: str = ""
    where: str = ""
    seen: str = ""

    def __post_init__(self) -> None:
        lacking = [part for part in ("author", "year", "title", "where", "seen") if not getattr(self, part)]
        if lacking and len(lacking) < 5:
            raise ValueError(f"{self.name}: a work needs {', '.join(lacking)}")
        if self.seen and self.seen not in SEEN:
            raise ValueError(f"{self.name}: how it was seen is one of {', '.join(SEEN)}")

    @property
    def work(self) -> str:
        """Everything but the short name and how it was seen, as the bibliography prints it; nothing for what is no
        work.
        """
        return f"{self.author} ({self.year}). {self.title}. {self.where}" if self.title else ""

    def __str__(self) -> str:
        return self.name


PRACTICE = Source("Common practice, no source")
JUDGED = Source("Our own judgement, no source")
DEMO = Source("Invented, as an example")


@dataclass(frozen=True)
class Fact:
    """What every coefficient has. It is either a Figure, with one value, or a Range, with a low and a high besides."""

    label: str
    typical: float
    unit: str
    source: Source | None = None  # None only for practice, judgement and demo
    sure: str = ""
    note: str = ""

    def __post_init__(self) -> None:
        if self.source is None:
            object.__setattr__(self, "source", {"practice": PRACTICE, "judged": JUDGED, "demo": DEMO}.get(self.sure))
        if self.sure not in SURE:
            raise ValueError(f"{self.label}: how sure is one of {', '.join(SURE)}")

    def ends(self) -> tuple[float, float] | None:
        """(low, high), or None where one figure is all that is published."""
        return None

    def band(self) -> "Band":
        """The fact as a Band; low and high of a Figure are its value."""
        from calc.engine.describe import Band

        return Band(self.typical, *(self.ends() or (self.typical, self.typical)))


class Figure(Fact):
    """A coefficient of which one value is published: `Figure("What", 21, "day", sure="practice")`."""


@dataclass(frozen=True, init=False)
class Range(Fact):
    """A coefficient with its range: `Range("What", 18, 21, 28, "day", sure="practice")`."""

    low: float = field(kw_only=True)
    high: float = field(kw_only=True)

    def __init__(
        self,
        label: str,
        low: float,
        typical: float,
        high: float,
        unit: str,
        source: Source | None = None,
        sure: str = "",
        note: str = "",
    ) -> None:
        object.__setattr__(self, "low", low)
        object.__setattr__(self, "high", high)
        super().__init__(label, typical, unit, source, sure, note)
        if not low <= typical <= high:
            raise ValueError(f"{label}: low, typical and high are not in order")

    def ends(self) -> tuple[float, float]:
        return self.low, self.high


def moved_to(value: float, fact: Range) -> tuple[float, float]:
    """A reader's figure at the published ends, where they lie beyond it.

    >>> from calc.facts import harvest
    >>> moved_to(500.0, harvest.CASTINGS_DENSITY), moved_to(900.0, harvest.CASTINGS_DENSITY)
    ((450, 800), (450, 900.0))
    """
    return min(value, fact.low), max(value, fact.high)


@dataclass(frozen=True)
class Points:
    """Published points of a curve: (x, y, source, how sure)."""

    label: str
    x_unit: str
    y_unit: str
    points: Sequence[tuple[Any, ...]]
    note: str = ""

    def __post_init__(self) -> None:
        object.__setattr__(self, "points", tuple(tuple(point) for point in self.points))
