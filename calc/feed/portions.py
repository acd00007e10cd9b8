"""From the reader's table of materials to complete figures: blank cells filled from the table of materials."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from difflib import get_close_matches
from random import Random
from typing import Any

from calc.engine import Problem, numbered, of_rows
from calc.facts import feed as facts
from calc.facts.base import Range
from calc.facts.materials import BY_NAME, OTHER_NAMES, named

MOST_ROWS = 6
FIGURES = ("moisture", "nitrogen", "carbon_nitrogen", "bulk_density")
WATER = {"moisture": 1.0, "nitrogen": 0.0, "carbon_nitrogen": 1.0, "bulk_density": 1000.0}
WORDS = {"moisture": "moisture", "nitrogen": "nitrogen", "carbon_nitrogen": "C:N", "bulk_density": "bulk density"}


@dataclass(frozen=True)
class Portion:
    """One material of a mix: mass [kg] (None: not said), share wanted [-] (None: not said), whether the mass is fixed,
    the four figures, and for those taken from the table the Range they came from.
    """

    row: int
    name: str
    mass: float | None
    share: float | None
    fixed: bool
    moisture: float
    nitrogen: float
    carbon_nitrogen: float
    bulk_density: float | None
    facts: Mapping[str, Range]

    @property
    def carbon(self) -> float:
        return self.nitrogen * self.carbon_nitrogen

    @property
    def origin(self) -> str:
        """Where the figures come from, in two words."""
        if not self.facts:
            return "yours"
        typed = len(self.facts) < sum(getattr(self, figure) is not None for figure in FIGURES)
        return "table, and yours" if typed else "table"


def read_portions(rows: Sequence[dict[str, Any]], solving: bool, problems: list[Problem]) -> list[Portion]:
    """Portions from rows of the materials table; what is wrong is appended to problems as ("materials", sentence).

    rows: dicts with material, mass, volume, share, fixed and the four figures, any of them None or missing;
    solving: whether amounts may be left open.
    """
    filled = [
        (number, row) for number, row in numbered(rows) if any(row.get(key) not in (None, "", False) for key in row)
    ]
    if not filled:
        problems.append(
            ("materials", "The table of materials is empty: name one material and how much of it there is.")
        )
    if len(filled) > MOST_ROWS:
        problems.append(
            ("materials", f"There are {len(filled)} materials; six is the most. Mix the smallest ones into one row.")
        )
        return []
    found = [_portion(number, row, solving, problems) for number, row in filled]
    return [portion for portion in found if portion is not None]


def _portion(number: int, row: Mapping[str, Any], solving: bool, problems: list[Problem]) -> Portion | None:
    def wrong(sentence: str, *columns: str) -> None:
        problems.append(("materials", of_rows(number, sentence, *columns)))

    name: str = (row.get("material") or "").strip()
    known = named(name) if name else None
    figures: dict[str, Any] = {}
    from_table: dict[str, Range] = {}
    for figure in FIGURES:
        figures[figure] = row.get(figure)
        if figures[figure] is None and known is not None:
            from_table[figure] = getattr(known, figure)
            figures[figure] = from_table[figure].typical
    if name.lower() == "water":
        figures = dict(WATER)
    mass, volume = row.get("mass"), row.get("volume")
    if mass and volume and row.get("bulk_density") is None:
        figures["bulk_density"] = mass / volume  # the reader has weighed a known volume
        from_table.pop("bulk_density", None)
    missing = [figure for figure in FIGURES[:3] if figures[figure] is None]
    fixed = bool(row.get("fixed"))
    if mass is None and volume is not None and figures["bulk_density"] is not None:
        mass = volume * figures["bulk_density"]
    if missing and not name:
        wrong("name the material.", "material")
    elif missing:
        wrong(_unknown(name, missing), "material", *missing)
    elif mass is None and volume is not None:
        wrong(f"a volume of {name} needs its bulk density, or give its mass.", "mass", "bulk_density")
    elif fixed and not mass:
        wrong(f"the amount of {name} is marked as fixed: say how much there is.", "mass", "volume")
    elif solving and figures["moisture"] >= 0.99:
        wrong("water is worked out by itself: leave this row out.")
    else:
        return Portion(number, name or "unnamed", mass, row.get("share"), fixed, facts=from_table, **figures)
    return None


def _unknown(name: str, missing: Sequence[str]) -> str:
    """What to do about a name that the table of materials lacks."""
    needed = " and ".join(
        [", ".join(WORDS[figure] for figure in missing[:-1]), WORDS[missing[-1]]]
        if missing[1:]
        else [WORDS[missing[0]]]
    )
    near = get_close_matches(name.lower(), [*BY_NAME, *OTHER_NAMES], n=1, cutoff=0.6)
    hint = f"Did you mean “{near[0]}”? Otherwise type" if near else "Type"
    return f"“{name}” is not in the table of materials. {hint} its {needed} in this row."


def carbon_doubts(portions: Sequence[Portion]) -> list[str]:
    """Sentences about rows whose nitrogen and C:N cannot both hold, because they make too much or too little carbon."""
    low, high = facts.CARBON_OF_DRY_MATTER.low, facts.CARBON_OF_DRY_MATTER.high
    return [
        f"Row {portion.row}: nitrogen of {100 * portion.nitrogen:.3g} % and C:N {portion.carbon_nitrogen:.3g} make"
        f" {portion.name} {100 * portion.carbon:.0f} % carbon. Dry matter is {100 * low:.0f} to {100 * high:.0f} %:"
        " check both figures."
        for portion in portions
        if portion.nitrogen and not low * 0.9 <= portion.carbon <= high
    ]


def drawn(portion: Portion, generator: Random) -> tuple[float, float, float, float | None]:
    """One plausible set of figures for a portion: (moisture, nitrogen, C:N, bulk density).

    Figures the reader typed stay. The carbon of dry matter hardly varies, so where both nitrogen and C:N come from the
    table a draw with a higher C:N has less nitrogen; drawn apart they could make a straw of pure carbon.
    """
    figures = {figure: getattr(portion, figure) for figure in FIGURES}
    for figure, fact in portion.facts.items():
        if figure != "nitrogen" or "carbon_nitrogen" not in portion.facts:
            figures[figure] = _triangular(fact, generator)
    if {"nitrogen", "carbon_nitrogen"} <= portion.facts.keys():
        figures["nitrogen"] = portion.carbon / figures["carbon_nitrogen"]
    return figures["moisture"], figures["nitrogen"], figures["carbon_nitrogen"], figures["bulk_density"]


def _triangular(fact: Range, generator: Random) -> float:
    return generator.triangular(fact.low, fact.high, fact.typical)
