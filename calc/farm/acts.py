"""What is usual at each place of the farm: buttons that write it into the logbook, with the last values as a start."""

from collections.abc import Sequence

from calc.engine import Act
from calc.engine.quantity import convert, field_text
from calc.farm.log import WATER_DENSITY, Book
from calc.farm.tables import SHED, UNITS, Row

LANE = {
    "feed": "Fed",
    "water": "Watered",
    "temperature": "Temperature",
    "squeeze": "Squeeze test",
    "castings": "Sliced",
    "face": "Face measured",
    "gap": "Gap at a clean cut",
}
ROOM = {"trays": "Trays started", "cocoons": "Cocoons counted", "worms": "Worms taken out"}
STORE = {
    "sold": "Sold",
    "bagged": "Packed",
    "screened": "Screened",
    "spoiled": "Spoiled",
    "bought": "Bought",
    "paid": "Bill paid",
}
ANYWHERE = {"hours": "Hours", "note": "Note"}
OF_PRODUCTS = ("sold", "bagged", "spoiled")

_KEPT = {"temperature": "degC", "face": "m", "gap": "m", "hours": "hour", "water": "m3"}
"""Units in which amounts are kept; all others of UNITS are weights [kg]."""
_COUNTED = {"trays": "trays", "cocoons": "cocoons"}
"""Units of the words whose amounts are counted."""


def units_of(what: str, system: str | None, currency: str) -> tuple[str, ...]:
    """Units to choose from for a word of the logbook, the usual one first; none where nothing has to be chosen."""
    if what in ("bought", "paid"):
        return (currency,)
    if what in _COUNTED:
        return (_COUNTED[what],)
    return UNITS[what][system != "us"] if what in UNITS else ()


def shown(what: str, amount: float | None, system: str | None, currency: str, digits: int = 3) -> tuple[str, str]:
    """(amount, unit) of a row in the reader's units, as they are typed: `48`, `lb`."""
    units = units_of(what, system, currency)
    unit = units[0] if units else ""
    if amount is None:
        return "", unit
    if what in UNITS:
        amount = amount / WATER_DENSITY if what == "water" else amount
        aim = {"°F": "degF", "°C": "degC", "hours": "hour"}.get(unit, unit)
        amount = convert(amount, _KEPT.get(what, "kg"), aim)
    return field_text(float(f"{amount:.{digits}g}")), unit


def usual(
    book: Book, lanes: Sequence[Row], rooms: Sequence[Row], products: Sequence[Row], system: str | None, currency: str
) -> list[Act]:
    """The buttons of the logbook, place by place: lanes, rooms, the shed."""
    last = {(entry.place, entry.what): entry for entry in book.entries}
    things = [(str(row["name"]), str(row.get("unit") or "unit")) for row in products]
    found = []
    places = [(str(row["name"]), LANE) for row in lanes] + [(str(row["name"]), ROOM) for row in rooms] + [(SHED, STORE)]
    for place, words in places:
        for what, label in (words | ANYWHERE).items():
            before = last.get((place, what))
            if what in OF_PRODUCTS:
                if not products:
                    continue
                at = before.product if before and before.product is not None else 0
                amount = field_text(before.amount or 0.0) if before and before.product is not None else ""
                ordered = [things[at], *things[:at], *things[at + 1 :]]
                found.append(Act(place, what, label, amount, ordered[0][1], note=ordered[0][0], things=ordered))
                continue
            amount, unit = shown(what, before.amount if before and what != "note" else None, system, currency)
            found.append(Act(place, what, label, amount, unit, units_of(what, system, currency)))
    return found
