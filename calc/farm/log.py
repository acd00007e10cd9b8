"""The farm's logbook read in one pass: every row in SI units with its place and product, and what could not be
used, said in words.

A row is date, place, what, amount, unit, who, note. Nothing is guessed in silence: rows that are left out, or read
in a unit
that was not written, are told.
"""

from bisect import bisect_right
from collections import defaultdict
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime
from functools import cached_property, lru_cache
from typing import Any, ClassVar, NamedTuple

from calc.engine.again import nothing_same, same_in_all
from calc.engine.describe import as_written
from calc.engine.kinds.table import Kept
from calc.engine.quantity import UnknownUnit, convert
from calc.facts import breeding
from calc.farm.tables import LANES, LOG, ROOMS, SHED, TODAY, WORDS, Row, folded, usual_unit
from calc.inputs import CASTINGS_BULK_DENSITY, FEED_BULK_DENSITY

WATER_DENSITY = 1000.0
SLICED_DENSITY = 650.0  # as lane.output has it [kg/m³]

_MASS = {
    "feed": FEED_BULK_DENSITY,
    "water": WATER_DENSITY,
    "castings": SLICED_DENSITY,
    "screened": CASTINGS_BULK_DENSITY,
}
"""Words whose amounts are weights [kg], with the density that turns a measured volume into one [kg/m³]."""
_UNIT_OF = {
    "temperature": "degC",
    "moisture": "1",
    "face": "m",
    "gap": "m",
    "hours": "hour",
    "bought": "money",
    "paid": "money",
}
_COUNTED = ("cocoons", "trays", "squeeze", "note")
_OF_EITHER_SIGN = ("temperature", "paid", "squeeze", "note")
_OF_PRODUCTS = ("bagged", "sold", "spoiled")
_HEADS = ("worms", "worm", "heads", "head")
AT_LANES = ("feed", "water", "temperature", "moisture", "squeeze", "face", "gap", "castings")
"""Words of what is done at a lane."""
MOST_TOLD = 8


class Entry(NamedTuple):
    """One row that was understood. amount in SI: kg, °C, share, m, hours, money, or a count; of a product in its
    units.
    """

    day: date
    place: str  # as the tables write it, or as the row does
    what: str
    amount: float | None
    product: int | None
    money: float | None  # of a sale whose amount was written in money
    note: str
    who: str
    number: int  # by which the reader knows the row


@dataclass
class Book:
    """The rows up to today in order of days, those to come, and what the reader should know about the others."""

    entries: list[Entry] = field(default_factory=list)
    orders: list[Entry] = field(default_factory=list)
    told: list[str] = field(default_factory=list)
    priced: bool = False  # whether units were counted from money, so that they hang on the prices

    @cached_property
    def of(self) -> Mapping[str, Sequence[Entry]]:
        """{word: its rows}, in order of days."""
        found: dict[str, list[Entry]] = defaultdict(list)
        for entry in self.entries:
            found[entry.what].append(entry)
        return found

    @cached_property
    def days(self) -> Mapping[tuple[str, str], Sequence[date]]:
        """{(place, word): days on which it was done}, in order."""
        found: dict[tuple[str, str], list[date]] = defaultdict(list)
        for entry in self.entries:
            found[entry.place, entry.what].append(entry.day)
        return found


def read_log(
    rows: Sequence[Row], lanes: Sequence[Row], rooms: Sequence[Row], products: Sequence[Row], today: date
) -> Book:
    """The logbook as a Book. Never raises for what a row says: what cannot be used is told.

    The last ones are kept: an answer and what it shows both ask for them, and another day, a longer lane or one row
    more are no reason to read twenty thousand rows anew.
    """
    key = (
        [str(row["name"]) for row in lanes],
        [str(row["name"]) for row in rooms],
        [tuple(row.get(name) for name in ("name", "unit", "castings", "worms")) for row in products],
    )
    if _of_others(rows, lanes, rooms):
        rows = _NOT_YOURS
    prices = [row["price"] for row in products]
    under = [one for one in _READ_LAST if one.key == key and (one.prices == prices or not one.book.priced)]
    found = next((one for one in under if one.rows is rows), None)
    if found is None:
        read = _Reader(lanes, rooms, products).row
        found = _read_log(rows, key, prices, read, next(iter(under), None))
        _READ_LAST[:] = [found, *_READ_LAST[:1]]
    last = _UP_TO_LAST[0] if _UP_TO_LAST else None
    if last is None or last[0] is not found.book or last[1] != today:
        _UP_TO_LAST[:] = [last := (found.book, today, _up_to(found.book, today))]
    return last[2]


class _NoRows(list[Row]):
    """A logbook of which nothing counts, and why."""

    dropped: ClassVar[Sequence[str]] = (
        "The logbook that stands here is the demo farm's, and none of its lanes is yours: nothing of it counts. Your"
        " first row takes its place.",
    )


_NOT_YOURS = _NoRows()
DEMO_DAY = "Today is still the demo farm's day: press the button beside it."
_DEMO_PLACES = frozenset(str(row["name"]) for row in (*LANES, *ROOMS))


def _of_others(rows: Sequence[Row], lanes: Sequence[Row], rooms: Sequence[Row]) -> bool:
    """Whether these are the demo farm's rows, on a farm that has none of its lanes, or of its rooms where it has no
    lane.
    """
    if len(rows) != len(LOG) or tuple(rows) != LOG:
        return False
    places = [str(row["name"]) for row in lanes or rooms]
    return bool(places) and _DEMO_PLACES.isdisjoint(places)


def _up_to(book: Book, today: date) -> Book:
    """The rows up to a day; sales of later ones are orders, and what else is written ahead is told."""
    place = bisect_right(book.entries, today, key=lambda entry: entry.day)
    faults = _Faults()
    for entry in book.entries[place:]:
        if entry.what != "sold":
            faults.add("later", entry.number, entry.what)
    orders = [entry for entry in book.entries[place:] if entry.what == "sold"]
    of_demo = [DEMO_DAY] if today == TODAY and list(_NoRows.dropped) == book.told else []
    return Book(book.entries[:place], orders, book.told + of_demo + faults.sentences())


def book_of(farm: Mapping[str, Any]) -> Book:
    """The logbook behind the inputs of farm.week, or of what asks for them too."""
    return read_log(farm["log"], farm["lanes"], farm["rooms"], farm["products"], farm["today"])


class ReadRow(NamedTuple):
    """What one row of the logbook says."""

    entry: Entry | None
    faults: Sequence[tuple[str, str]] = ()
    """(kind, what) as Faults has them."""
    priced: bool = False
    """Whether its units were counted from money."""


class Reading(NamedTuple):
    """A logbook as it was read under some tables, with what its rows keep when a few others change."""

    rows: Sequence[Row]
    key: tuple[Any, ...]
    prices: list[float]
    numbers: list[int]
    assumed: list[str]
    """The unit that is meant in each row without one, where that is known."""
    read: list[ReadRow]
    book: Book


_READ_LAST: list[Reading] = []
_UP_TO_LAST: list[tuple[Book, date, Book]] = []


def _read_log(
    rows: Sequence[Row],
    key: tuple[Any, ...],
    prices: list[float],
    read: Callable[[int, Row, str], ReadRow],
    last: Reading | None,
) -> Reading:
    """All rows, of whatever day; those that stand in `last` too, which was read under the same tables, as then."""
    numbers = list(getattr(rows, "numbers", None) or range(1, len(rows) + 1))
    units = getattr(rows, "assumed", {})
    assumed = [units.get(number, "") for number in numbers] if units else [""] * len(numbers)
    same, done = nothing_same((), rows), list[ReadRow]()
    if last is not None and isinstance(rows, Kept) and isinstance(last.rows, Kept):
        same = same_in_all([(last.rows, rows), (last.numbers, numbers), (last.assumed, assumed)])
        done = last.read
    others = slice(same.start, same.stop)
    done = same.spliced(done, [read(*one) for one in zip(numbers[others], rows[others], assumed[others])])
    book, faults = Book(told=list(getattr(rows, "dropped", []))), _Faults()
    ordered, last_day = True, date.min
    for number, (entry, told, priced) in zip(numbers, done):
        if entry is not None:
            book.entries.append(entry)
            ordered, last_day = ordered and entry.day >= last_day, entry.day
        for kind, what in told:
            faults.add(kind, number, what)
        book.priced = book.priced or priced
    if not ordered:
        book.entries.sort(key=lambda entry: entry.day)
    book.told += faults.sentences()
    return Reading(rows, key, prices, numbers, assumed, done, book)


class _Reader:
    """What is read under one set of tables: a row at a time, whatever stands in the others."""

    def __init__(self, lanes: Sequence[Row], rooms: Sequence[Row], products: Sequence[Row]) -> None:
        self.places = {name.casefold(): name for name in (str(row["name"]).strip() for row in (*lanes, *rooms))}
        self.places[SHED] = SHED
        self.known = set(self.places.values()) - {SHED}
        self.only = str(lanes[0]["name"]) if len(lanes) == 1 else ""
        self.products, self.find_product = products, _product_finder(products)

    def row(self, number: int, row: Row, assumed: str) -> ReadRow:
        """One row in SI; assumed: the unit that is meant by an amount without one, where that is known."""
        day = _day_of(row["date"])
        if day is None:
            return ReadRow(None, [("hours", "")])
        faults: list[tuple[str, str]] = []
        what, note = _word(row.get("what")), row.get("note") or ""
        place = self._place(row, what, faults)
        if what not in WORDS:
            if what:
                faults.append(("word", what))
            what, note = "note", f"{row.get('what') or ''} {note}".strip()
        measure = self._measure(what, row, place, note)
        faults += measure.faults
        if not measure.usable:
            return ReadRow(None, faults, measure.money is not None)
        if measure.amount is not None and measure.amount < 0 and what not in _OF_EITHER_SIGN:
            faults.append(("negative", what))
            return ReadRow(None, faults, measure.money is not None)
        meant = assumed or measure.meant
        if meant and what != "hours":
            faults.append(("bare", f"{what}, so {meant}"))
        entry = Entry(
            day, place, what, measure.amount, measure.product, measure.money, note, row.get("who") or "", number
        )
        return ReadRow(entry, faults, measure.money is not None)

    def _place(self, row: Row, what: str, faults: list[tuple[str, str]]) -> str:
        """The lane or room of a row as its table writes it; one lane needs no name."""
        written = (row.get("place") or "").strip()
        if not written and what in AT_LANES:
            written = self.only
        place = self.places.get(written.casefold(), written or SHED)
        if what in AT_LANES and place not in self.known:
            faults.append(("place" if written else "no place", written or what))
        return place

    def _measure(self, what: str, row: Row, place: str, note: str) -> "_Measure":
        """How much a row says, by the kind of its word."""
        if what in _OF_PRODUCTS or what == "worms":
            return self._goods(what, row, place, note)
        if what == "note" or what in _COUNTED:
            return _Measure(row.get("amount"))
        return _in_si(what, row.get("amount"), (row.get("unit") or "").strip())

    def _goods(self, what: str, row: Row, place: str, note: str) -> "_Measure":
        """How many of a product, or how heavy."""
        product, amount, money = _of_product(
            what, row.get("amount"), row.get("unit"), place, note, self.products, self.find_product
        )
        unit = (row.get("unit") or "").strip()
        if what in ("sold", "bagged") and product is None:
            unknown = as_written(row.get("unit") or note or (row.get("place") or "").strip(), 30)
            return _Measure(amount, product, money, [("product", unknown)], usable=False)
        if amount is None:
            return _Measure(amount, product, money, [("amount", what)], usable=False)
        bare = what == "spoiled" and product is None and not unit
        return _Measure(amount, product, money, [("bare", "spoiled, so kg")] if bare else [])


class _Measure(NamedTuple):
    """How much a row says, and what is wrong with that."""

    amount: float | None
    product: int | None = None
    """Place of the product in its table."""
    money: float | None = None
    """What was written in money instead of units."""
    faults: Sequence[tuple[str, str]] = ()
    usable: bool = True
    meant: str = ""
    """The unit that is taken where none is written."""


def _in_si(what: str, amount: float | None, unit: str) -> _Measure:
    """An amount that has a unit of its own, in SI."""
    if amount is None:
        return _Measure(None, faults=[("amount", what)], usable=False)
    scale = _scale(what, unit)
    if scale is None:
        return _Measure(None, faults=[("unit", f"{what} in “{as_written(unit, 20)}”")], usable=False)
    amount = scale[0] + scale[1] * amount
    if what == "moisture" and amount > 1:
        amount /= 100  # written in per cent without its sign
    return _Measure(amount, meant="" if unit else usual_unit(what, None))


class _Faults:
    """Rows that could not be used as they stand, kind by kind, so that a thousand alike make one sentence."""

    SAID: ClassVar[dict[str, str]] = {
        "hours": "{rows}: a logbook needs dates, not hours.",
        "word": "{rows}: “{last}” is no word of the logbook, so it is kept as a note.",
        "place": "{rows}: “{last}” is none of your lanes and rooms, so what was done there counts for none of them.",
        "no place": "{rows}: no lane is written ({last}), so it counts for none of them.",
        "product": "{rows}: “{last}” is none of your products, so it is left out of stock and money.",
        "amount": "{rows}: there is no amount ({last}).",
        "unit": "{rows}: {last} cannot be weighed, so it is left out.",
        "bare": "{rows}: no unit is written for {last} is meant.",
        "negative": "{rows}: an amount below nothing ({last}) is left out.",
        "later": "{rows}: the date is still to come ({last}), so it does not count yet.",
    }

    def __init__(self) -> None:
        self.found: dict[tuple[str, str], list[int]] = {}

    def add(self, kind: str, number: int, what: str) -> None:
        self.found.setdefault((kind, what), []).append(number)

    def sentences(self) -> list[str]:
        said = []
        for (kind, last), numbers in self.found.items():
            few = ", ".join(map(str, numbers[:3])) + (f" and {len(numbers) - 3:,} more" if len(numbers) > 3 else "")
            rows = f"Logbook, {'row' if len(numbers) == 1 else 'rows'} {few}"
            said.append(self.SAID[kind].format(rows=rows, last=as_written(last)))
        return said


def first_told(book: Book) -> list[tuple[str, str]]:
    """The first few faults as warnings about the log, and how many more there are."""
    more = len(book.told) - MOST_TOLD
    tail = [f"And {more:,} more remarks about the logbook."] if more > 0 else []
    return [("log", sentence) for sentence in [*book.told[:MOST_TOLD], *tail]]


def _day_of(value: Any) -> date | None:
    if isinstance(value, datetime):
        return value.date()
    if isinstance(value, date):
        return value
    if isinstance(value, str):
        try:
            return datetime.fromisoformat(value).date()
        except ValueError:
            return None
    return None


def _word(word: Any) -> str:
    return folded(word) if isinstance(word, str) else ""


@lru_cache(maxsize=512)
def _scale(what: str, unit: str) -> tuple[float, float] | None:
    """(offset, factor) from a number in a written unit to the SI unit of a word; None when the unit is of another
    kind.
    """
    density = _MASS.get(what)
    target = "kg" if density else _UNIT_OF[what]
    if not unit:
        return 0.0, 1.0
    if target == "money":
        return (0.0, 1.0) if not unit.isalnum() or len(unit) <= 3 or unit.casefold() == "money" else None
    if what == "temperature":
        unit = {"f": "degF", "c": "degC"}.get(unit.strip("°º. ").casefold(), unit)
    for aim, factor in ((target, 1.0), ("m3", density)):
        if factor is None:
            continue
        try:
            zero = convert(0.0, unit, aim)
            return zero * factor, (convert(1.0, unit, aim) - zero) * factor
        except UnknownUnit:
            continue
    return None


@lru_cache(maxsize=256)
def _kilograms(unit: str) -> float | None:
    """Kilograms in one of a unit of mass; None for any other unit."""
    try:
        return convert(1.0, unit, "kg")
    except UnknownUnit:
        return None


@lru_cache(maxsize=256)
def _plain(text: str) -> str:
    """A name or unit as it is compared: small letters, without stops and commas, and without the s of several.

    >>> _plain(" Bags"), _plain("Castings, loose")
    ('bag', 'castings loose')
    """
    word = " ".join(text.casefold().replace(",", " ").replace(".", " ").split())
    return word[:-1] if len(word) > 3 and word.endswith("s") else word


_MONEY_SIGNS = {"$", "€", "£", "¥", "money"}


def _product_finder(products: Sequence[Row]) -> Callable[[str, str, str], int | None]:
    """A function from (unit, place, note) of a row to the place of the product that is meant, or None."""
    names = [_plain(str(row["name"])) for row in products]
    units = [_plain(str(row.get("unit") or "")) for row in products]

    @lru_cache(maxsize=4096)
    def find(unit: str, place: str, note: str) -> int | None:
        for text in (place, unit, note):
            if _plain(text) in names:
                return names.index(_plain(text))
        said = _plain(note)
        held = [at for at, name in enumerate(names) if name and name in said]
        if held:
            return max(held, key=lambda at: len(names[at]))
        alike = [at for at, one in enumerate(units) if one and one == _plain(unit)]
        if not alike and unit:
            factor = _kilograms(unit)
            alike = [at for at, one in enumerate(units) if one and factor is not None and _kilograms(one) == factor]
        if len(alike) == 1:
            return alike[0]
        return 0 if len(products) == 1 and not alike else None

    return find


def _of_product(
    what: str,
    amount: float | None,
    unit: str | None,
    place: str,
    note: str,
    products: Sequence[Row],
    find: Callable[[str, str, str], int | None],
) -> tuple[int | None, float | None, float | None]:
    """(product, amount, money) of a row about products or worms; amounts of worms without a product are weights
    [kg].
    """
    unit = (unit or "").strip()
    if what == "worms":
        if unit.casefold() in _HEADS:
            return None, None if amount is None else amount / breeding.SALE_PER_MASS.typical, None
        factor = _kilograms(unit) if unit else 1.0
        return None, None if amount is None or factor is None else amount * factor, None
    product = find(unit, place, note)
    if product is None:
        factor = _kilograms(unit) if unit else 1.0
        return None, None if amount is None or factor is None else amount * factor, None
    if amount is None:
        return product, None, None
    row = products[product]
    if unit in _MONEY_SIGNS:
        return product, amount / row["price"] if row["price"] else None, amount
    factor, own = _kilograms(unit) if unit else None, str(row.get("unit") or "")
    if factor is None or _plain(unit) == _plain(own):
        return product, amount, None
    content = _kilograms(own) or (row.get("castings") or 0.0) + (row.get("worms") or 0.0)
    return product, amount * factor / content if content else amount, None
