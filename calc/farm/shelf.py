"""What is in the shed: castings, worms and packed goods, followed row by row through the logbook. Nothing is sold
before it is made.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta

from calc.farm.figures import any_lane
from calc.farm.log import Book
from calc.farm.tables import Row
from calc.lane.model import LanePlan

TOLERANCE = 1e-9
"""Units and kilograms below which there is nothing: last bits of what was added and taken off."""

MOVES = frozenset(("castings", "screened", "worms", "bagged", "sold", "spoiled"))
"""Words of the logbook that bring something into the shed or take it out."""

SCREEN_AFTER = 2
"""Days from slicing to screening: growers screen on the second day; common practice, no source."""
LEAST_TO_SCREEN = 5.0
"""Weight that is worth setting up the screen for [kg]. Our own judgement, no source."""


@dataclass
class Pile:
    """What lies there, by the day from which it ages."""

    lots: list[list[float]] = field(default_factory=list)  # [day as ordinal, amount left], oldest first

    @property
    def left(self) -> float:
        return sum(amount for _, amount in self.lots)

    def add(self, day: float, amount: float) -> None:
        if self.lots and self.lots[-1][0] == day:
            self.lots[-1][1] += amount
        elif amount > TOLERANCE:
            self.lots.append([day, amount])

    def take(self, amount: float) -> list[tuple[float, float]]:
        """Take so much, the oldest first, as far as there is: [(day, amount)]."""
        taken = []
        while amount > TOLERANCE and self.lots:
            oldest = self.lots[0]
            used = min(amount, oldest[1])
            oldest[1] -= used
            amount -= used
            taken.append((oldest[0], used))
            if oldest[1] <= TOLERANCE:
                self.lots.pop(0)
        return taken

    def older_than(self, days: float, today: date) -> float:
        """What is older than it keeps."""
        return sum(amount for day, amount in self.lots if today.toordinal() - day > days)


@dataclass
class Shelf:
    """One product in its own units: what was made, sold and spoiled, and what of it is packed."""

    made: float = 0.0
    sold: float = 0.0
    spoiled: float = 0.0
    short: float = 0.0  # sold by the logbook, but never made
    packed: Pile = field(default_factory=Pile)

    @property
    def left(self) -> float:
        return self.packed.left

    def take(self, units: float) -> float:
        """Take so many units from what was packed, the oldest first; what could not be had."""
        return max(0.0, units - sum(had for _, had in self.packed.take(units)))

    def older_than(self, days: float, today: date) -> float:
        """Units older than they keep."""
        return self.packed.older_than(days, today)


@dataclass
class Shed:
    """Castings fit to sell and worms that are not packed yet [kg], every product, and what looks wrong."""

    loose: Pile  # castings by the day of their screening, worms by the day on which they were taken out
    lifted: Pile
    shelves: list[Shelf]
    sliced: float  # all castings that came off the lanes [kg]
    screened: float  # all that was screened, or reckoned as screened [kg]
    told: list[str]

    @property
    def castings(self) -> float:
        return self.loose.left

    @property
    def worms(self) -> float:
        return self.lifted.left


def shed_of(book: Book, products: Sequence[Row], share: float | None = None) -> Shed:
    """The shed after the last row of the logbook. The last one is kept: many lanes are drawn over one logbook.

    share [-]: what of a slice's weight passes the screen, as screened_share.
    """
    passes = screened_share() if share is None else share
    if not _LAST or _LAST[0][0] is not book or _LAST[0][1:3] != (list(products), passes):
        _LAST[:] = [(book, [dict(row) for row in products], passes, _shed_of(book, products, passes))]
    return _LAST[0][3]


_LAST: list[tuple[Book, list[Row], float, Shed]] = []


def _shed_of(book: Book, products: Sequence[Row], passes: float) -> Shed:
    """The shed, row by row.

    Castings come in as `screened`; where nothing was ever screened, the usual share of what was `castings`
    counts. Packing takes them out,
    and so does a sale of what was not packed before. A sale is counted as far as there was something to sell.
    Castings age from their screening, in the bag as well; what holds worms, from its packing.
    """
    screens = "screened" in book.of
    share = 1.0 if screens else passes
    incoming = "screened" if screens else "castings"
    shelves = [Shelf() for _ in products]
    content = [(row.get("castings") or 0.0, row.get("worms") or 0.0) for row in products]
    castings, worms = Pile(), Pile()
    sliced = taken_in = missing = 0.0
    for entry in book.entries:
        what, amount, day = entry.what, entry.amount, entry.day.toordinal()
        if amount is None or what not in MOVES:
            continue
        if what == "castings":
            sliced += amount
        if what == incoming:
            castings.add(day, amount * share)
            taken_in += amount * share
        elif what == "worms":
            worms.add(day, amount)
        elif what == "bagged" and entry.product is not None:
            shelf, (needs, holds) = shelves[entry.product], content[entry.product]
            shelf.made += amount
            missing += max(0.0, amount * needs - castings.left)
            used = castings.take(amount * needs)
            worms.take(amount * holds)
            aged = [(min(since, day), weight / needs) for since, weight in used] if needs and not holds else []
            for since, units in [*aged, (day, amount - sum(units for _, units in aged))]:
                shelf.packed.add(since, units)
        elif what in ("sold", "spoiled") and entry.product is not None:
            shelf, (needs, holds) = shelves[entry.product], content[entry.product]
            wanted = shelf.take(amount)
            fresh = min(wanted, _units(castings.left, needs), _units(worms.left, holds)) if needs or holds else wanted
            shelf.made += fresh
            castings.take(fresh * needs)
            worms.take(fresh * holds)
            counted = amount - wanted + fresh
            shelf.short += amount - counted
            if what == "sold":
                shelf.sold += counted
            else:
                shelf.spoiled += counted
        elif what == "spoiled":  # castings or worms by weight
            if "worm" in entry.note.casefold():
                worms.take(amount)
            else:
                castings.take(amount)
    return Shed(castings, worms, shelves, sliced, taken_in, _told(shelves, products, missing))


def screened_share(plan: LanePlan | None = None) -> float:
    """Weight that passes the screen for each weight as sliced [-]: dried for it, then sieved, as usual or by a plan."""
    usual = (plan or any_lane()).shares
    return usual.product_share * (1 - usual.castings_moisture) / (1 - usual.screening_moisture)


def to_screen(book: Book, share: float) -> tuple[date, float] | None:
    """(day, weight that passes [kg]) of what was sliced since the screen ran last; None where nothing waits for it, or
    where slices are counted as screened because nothing ever was. share [-]: as screened_share.
    """
    sliced, screened = book.of.get("castings", ()), book.of.get("screened", ())
    waiting = [entry for entry in sliced if screened and entry.day > screened[-1].day]
    weight = sum(entry.amount or 0.0 for entry in waiting) * share
    return (waiting[0].day + timedelta(days=SCREEN_AFTER), weight) if weight > LEAST_TO_SCREEN else None


def _units(pool: float, each: float) -> float:
    """Units that a pool makes; without limit of what is not in them."""
    return pool / each if each else float("inf")


def _told(shelves: Sequence[Shelf], products: Sequence[Row], missing: float) -> list[str]:
    said = [
        f"{shelf.short:.4g} more of “{row['name']}” were sold or spoiled than the logbook says were made. They are not"
        " counted: a screening, a packing or worms taken out may be missing."
        for shelf, row in zip(shelves, products)
        if shelf.short > 1e-6
    ]
    if missing > 1e-6:
        said.append(
            "More was packed than was screened before. What is in the shed at the start belongs into the logbook too,"
            " as rows of “screened” and “worms”."
        )
    return said


def stale(shed: Shed, products: Sequence[Row], today: date) -> list[tuple[str, float, float]]:
    """[(product, units past the days that they keep, those days)]."""
    found = []
    for row, shelf in zip(products, shed.shelves):
        keeps = row.get("keeps")
        if keeps:
            old = shelf.older_than(keeps, today)
            if old > TOLERANCE:
                found.append((str(row["name"]), old, keeps))
    return found


def past_keeping(shed: Shed, products: Sequence[Row], today: date) -> list[tuple[str, float, float]]:
    """[(castings or worms, weight [kg] not packed that is older than its products keep, those days)]: as the product of
    nothing else that keeps shortest.
    """
    found = []
    for name, other, pile in (("castings", "worms", shed.loose), ("worms", "castings", shed.lifted)):
        keep = [row["keeps"] for row in products if row.get("keeps") and row.get(name) and not row.get(other)]
        if keep and (old := pile.older_than(min(keep), today)) > TOLERANCE:
            found.append((name, old, min(keep)))
    return found


def good_castings(shed: Shed, products: Sequence[Row], today: date) -> float:
    """Castings that are not packed and not past the days that they keep [kg]."""
    return shed.castings - sum(old for name, old, _ in past_keeping(shed, products, today) if name == "castings")


def still_good(shed: Shed, products: Sequence[Row], today: date) -> list[float]:
    """Units of each product that are packed and not past the days that they keep."""
    return [
        shelf.left - (shelf.older_than(row["keeps"], today) if row.get("keeps") else 0.0)
        for row, shelf in zip(products, shed.shelves)
    ]


def promised(book: Book, products: Sequence[Row], until: date) -> list[float]:
    """Units of each product ordered for a day not after `until`."""
    found = [0.0] * len(products)
    for entry in book.orders:
        if entry.product is not None and entry.amount and entry.day <= until:
            found[entry.product] += entry.amount
    return found


def margin(row: Row) -> float:
    """What one unit leaves after its packing [money]."""
    return float(row["price"]) - float(row.get("packing") or 0.0)


def spread_out(
    products: Sequence[Row], wanted: Sequence[float], castings: float, worms: float, at_a_loss: bool = False
) -> list[float]:
    """Units of each product that so many castings and worms [kg] make, the best paid for what is in them first; those
    that lose money only when they are to be made at a loss too.

    Exact for one scarce thing (Dantzig 1957); where two are scarce in one product it is a good and feasible plan.
    """

    def worth(at: int) -> float:
        row = products[at]
        needs = (row.get("castings") or 0.0) / max(castings, 1.0) + (row.get("worms") or 0.0) / max(worms, 1.0)
        return margin(row) / needs if needs else float("inf")

    made = [0.0] * len(products)
    for at in sorted(range(len(products)), key=lambda at: -worth(at)):
        row = products[at]
        if margin(row) <= 0 and not at_a_loss:
            continue
        needs, holds = row.get("castings") or 0.0, row.get("worms") or 0.0
        made[at] = max(0.0, min(wanted[at], _units(castings, needs), _units(worms, holds)))
        castings, worms = max(0.0, castings - made[at] * needs), max(0.0, worms - made[at] * holds)
    return made


def for_orders(
    products: Sequence[Row], kept: Sequence[float], ordered: Sequence[float], castings: float, worms: float
) -> tuple[list[float], float, float]:
    """Units of each product that are made because they are ordered and not packed; castings and worms left then [kg].

    Orders go before everything else, whatever the product earns: they are promised already.
    """
    made = spread_out(products, [max(0.0, gone - have) for gone, have in zip(ordered, kept)], castings, worms, True)
    used = [sum(units * (row.get(name) or 0.0) for units, row in zip(made, products)) for name in ("castings", "worms")]
    return made, max(0.0, castings - used[0]), max(0.0, worms - used[1])


def in_weeks(today: date, weeks: int) -> date:
    return today + timedelta(days=7 * weeks)
