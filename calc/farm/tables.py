"""What the farm's pages ask for: lanes, rooms and products, entered once, the logbook, and the day that is today.

The demo farm is Quillfen Smallholding; every row of it is invented.
"""

from collections.abc import Sequence
from datetime import date, datetime, timedelta
from functools import lru_cache
from typing import Annotated, Any

from calc.engine import FOOT, INCH, POUND, Amount, Choice, Day, Log, Number, Refused, Rows, Text
from calc.engine.kinds.amount import in_kept_unit
from calc.farm.sheets import ALSO as ALSO_HEADINGS
from calc.farm.sheets import as_rows

Row = dict[str, Any]

WORDS = {
    "feed": "feed laid",
    "water": "water given",
    "temperature": "bed temperature",
    "moisture": "moisture of the bed",
    "squeeze": "squeeze test",
    "face": "how far the foot of the face stands from where the back board first stood",
    "gap": "how far the upper edge of the face stood from a cut with hardly a worm in it",
    "castings": "castings sliced",
    "screened": "castings screened, fit to sell",
    "bagged": "packed for sale",
    "worms": "worms taken out",
    "cocoons": "cocoons counted in one tray",
    "trays": "trays started",
    "sold": "sold",
    "spoiled": "spoiled or given away",
    "bought": "things bought, in money",
    "hours": "hours worked",
    "paid": "bills paid, in money",
    "note": "anything else",
}
"""The words of the column `what`. Any other word is kept as a note, and named."""

ALSO = {
    "fed": "feed",
    "feeding": "feed",
    "watered": "water",
    "watering": "water",
    "sliced": "castings",
    "slice": "castings",
    "castings out": "castings",
    "worms out": "worms",
    "packed": "bagged",
    "sale": "sold",
    "hour": "hours",
    "work": "hours",
    "cocoon": "cocoons",
    "tray": "trays",
    "bed temperature": "temperature",
}
"""Other ways of writing those words."""

_WEIGHED = ("lb", "kg", "gal", "yd3"), ("kg", "lb", "L", "m3")
UNITS: dict[str, tuple[tuple[str, ...], tuple[str, ...]]] = {
    "feed": _WEIGHED,
    "castings": _WEIGHED,
    "screened": (("lb", "kg"), ("kg", "lb")),
    "worms": (("lb", "kg"), ("kg", "lb")),
    "water": (("gal", "L"), ("L", "gal")),
    "temperature": (("°F", "°C"), ("°C", "°F")),
    "face": (("ft", "in", "m"), ("m", "cm", "ft")),
    "gap": (("ft", "in", "m"), ("m", "cm", "ft")),
    "hours": (("hours", "min"), ("hours", "min")),
}
"""Units in which the amounts of a word are written, in US and in metric units, the usual one first."""


@lru_cache(maxsize=256)
def folded(word: str) -> str:
    """A word of the logbook as it is looked up: `Fed` is `feed`.

    >>> folded("Sold "), folded("fed")
    ('sold', 'feed')
    """
    plain = word.strip().casefold()
    return ALSO.get(plain, plain)


def usual_unit(word: Any, system: str | None) -> str:
    """The unit that a number without one is read in, by the word of its row and the units in use (None: SI); nothing
    where it counts something or belongs to a product.

    >>> [usual_unit("Fed", units) for units in ("us", "metric", None)]
    ['lb', 'kg', 'kg']
    """
    what = folded(word) if isinstance(word, str) else ""
    if what not in UNITS:
        return ""
    return UNITS[what][system != "us"][0] if system or what != "water" else "kg"


SHED = "shed"

Lanes = Annotated[
    list[Row],
    Rows(
        "Your lanes",
        {
            "name": Text("Name"),
            "fed_on": Choice("Fed on its", {"end": "end", "side": "side"}),
            "length": Number("m", "Length", 0.3, 150),
            "width": Number("m", "Width", 0.3, 3.7),
            "height": Number("m", "Height", 0.1, 1.5, us="in", metric="cm"),
            "started": Day("Worms went in"),
            "worms": Number("kg", "Worms then", 0.05, 5000),
        },
        help="One row for each lane. What is the same every week is entered here once. Invented, as an example.",
        optional=True,
        most=200,
    ),
]
LANES: tuple[Row, ...] = (
    {
        "name": "North lane",
        "fed_on": "side",
        "length": 16 * FOOT,
        "width": 4 * FOOT,
        "height": 18 * INCH,
        "started": date(2025, 6, 2),
        "worms": 40 * POUND,
    },
    {
        "name": "Barn lane",
        "fed_on": "end",
        "length": 8 * FOOT,
        "width": 4 * FOOT,
        "height": 18 * INCH,
        "started": date(2026, 4, 6),
        "worms": 10 * POUND,
    },
)

WEEKDAYS = {
    "monday": "Monday",
    "tuesday": "Tuesday",
    "wednesday": "Wednesday",
    "thursday": "Thursday",
    "friday": "Friday",
    "saturday": "Saturday",
    "sunday": "Sunday",
}
Rooms = Annotated[
    list[Row],
    Rows(
        "Your breeding rooms",
        {
            "name": Text("Name"),
            "trays_per_week": Number("1/week", "Trays started a week", 0, 2000),
            "weekday": Choice("On", WEEKDAYS),
            "started": Day("First trays", optional=True),
        },
        help="No row when you breed none. Everything else about a tray is as on the page about trays.",
        optional=True,
        most=200,
        group="Rooms and products",
    ),
]
ROOMS: tuple[Row, ...] = (
    {"name": "Tray room", "trays_per_week": 3.0, "weekday": "monday", "started": date(2026, 11, 2)},
)

Products = Annotated[
    list[Row],
    Rows(
        "What you sell",
        {
            "name": Text("Product"),
            "castings": Number("kg", "Castings in one", 0, 1e5, optional=True),
            "worms": Number("kg", "Worms in one", 0, 1e4, optional=True),
            "unit": Text("Unit", optional=True),
            "price": Number("money", "Price", 0, 1e6),
            "packing": Number("money", "Packing of one", 0, 1e5, optional=True),
            "most_per_month": Number("1/month", "Asked for in a month", 0, 1e6, optional=True),
            "keeps": Number("day", "Keeps", 0, 3650, optional=True),
        },
        help=(
            "Packing is bag, label and what else goes in, in money. Asked for: the most that people buy in a month;"
            " blank is no limit. Prices are invented, as an example."
        ),
        optional=True,
        most=200,
        group="Rooms and products",
    ),
]
PRODUCTS: tuple[Row, ...] = (
    {
        "name": "Bag of castings",
        "castings": 25 * POUND,
        "worms": 0.0,
        "unit": "bag",
        "price": 16.0,
        "packing": 1.1,
        "most_per_month": 30.0,
        "keeps": 60.0,
    },
    {
        "name": "Loose castings",
        "castings": 1000 * POUND,
        "worms": 0.0,
        "unit": "yard",
        "price": 240.0,
        "packing": 6.0,
        "most_per_month": 1.0,
        "keeps": 60.0,
    },
    {
        "name": "Worms",
        "castings": 0.0,
        "worms": 1 * POUND,
        "unit": "pound",
        "price": 35.0,
        "packing": 2.4,
        "most_per_month": 24.0,
        "keeps": 5.0,
    },
    {
        "name": "Starter tub",
        "castings": 4 * POUND,
        "worms": 0.25 * POUND,
        "unit": "tub",
        "price": 24.0,
        "packing": 2.5,
        "most_per_month": 8.0,
        "keeps": 14.0,
    },
)

FARM_LOG = {
    "date": Text("Date"),
    "place": Text("Place", optional=True),
    "what": Text("What", optional=True, choices=tuple(WORDS)),
    "amount": Amount("Amount", unit_column="unit", unit_by="what", unit_of=usual_unit, optional=True),
    "unit": Text("Unit", optional=True),
    "who": Text("Who", optional=True),
    "note": Text("Note", optional=True),
}
FarmLog = Annotated[
    list[Row],
    Log(
        "Your logbook",
        FARM_LOG,
        help=(
            "One row for each thing done: date, place, what, how much, its unit, who, a note. A row without a unit is"
            " read in the units that this page shows. A sale with a date to come is an order."
        ),
        optional=True,
        tolerant=True,
        group="Logbook",
        also=ALSO_HEADINGS,
        other_form=as_rows,
    ),
]

Today = Annotated[
    date, Day("Today", help="Everything is counted from this day. What the log says of later days is an order.")
]
TODAY = date(2027, 5, 31)


def repeated(rows: Sequence[Row]) -> str:
    """A name that stands twice in a table, or nothing."""
    seen: set[str] = set()
    for row in rows:
        name = str(row["name"]).strip().casefold()
        if name in seen:
            return str(row["name"])
        seen.add(name)
    return ""


def check_tables(lanes: Sequence[Row], rooms: Sequence[Row], products: Sequence[Row]) -> None:
    """Refused, naming every table in which a name stands twice."""
    problems = []
    for field, rows, one in (("lanes", lanes, "lanes"), ("rooms", rooms, "rooms"), ("products", products, "products")):
        twice = repeated(rows)
        if twice:
            problems.append((field, f"Two {one} are called “{twice}”. Give each a name of its own."))
    both = {str(row["name"]).strip().casefold() for row in lanes} & {
        str(row["name"]).strip().casefold() for row in rooms
    }
    if both:
        problems.append(("rooms", f"A lane and a room are both called “{min(both)}”. Give each a name of its own."))
    if problems:
        raise Refused(problems)


def _demo_log() -> tuple[Row, ...]:
    """Twelve weeks of the demo farm's logbook, invented: fed twice a week, sliced now and then, one cold week."""
    rows: list[Row] = []

    def add(
        day: date, place: str, what: str, amount: float | None, unit: str = "", who: str = "", note: str = ""
    ) -> None:
        if amount is not None:
            amount, unit = in_kept_unit(amount, unit)
        rows.append(
            {
                "date": datetime(day.year, day.month, day.day),
                "place": place,
                "what": what,
                "amount": amount,
                "unit": unit or None,
                "who": who or None,
                "note": note or None,
            }
        )

    first = date(2027, 3, 8)
    fed = {
        "North lane": (101, 106, 111, 115, 98, 125, 133, 142, 154, 167, 184, 195),  # lb a week
        "Barn lane": (24, 26, 27, 28, 23, 30, 32, 35, 37, 41, 46, 49),
    }
    warm = (50, 52, 53, 54, 47, 56, 57, 59, 61, 63, 66, 68)  # °F
    watered = {"North lane": 11.0, "Barn lane": 2.9}  # gal in the first week
    for week in range(12):
        monday = first + timedelta(days=7 * week)
        for lane, weights in fed.items():
            swing = 1 + 0.03 * ((week * 2) % 5 - 2)
            add(monday, lane, "feed", round(weights[week] * 3 / 7 * swing), "lb", "Wren")
            add(monday + timedelta(days=3), lane, "feed", round(weights[week] * 4 / 7 / swing), "lb", "Wren")
            add(monday, lane, "temperature", warm[week] + week % 2, "F")
            gallons = watered[lane] * (1 + 0.05 * week + 0.05 * (week % 3))
            add(monday + timedelta(days=1), lane, "water", round(gallons), "gal")
        add(monday, "Tray room", "trays", 3, "trays", "Ash")
        if week % 2 == 0:
            add(monday + timedelta(days=1), "Tray room", "cocoons", 1760 + 37 * (week * 5 % 7), "cocoons", "Ash")
            add(monday + timedelta(days=2), "Tray room", "worms", round(14.5 + 1.5 * (week % 5) / 2, 1), "lb", "Ash")
            add(monday + timedelta(days=4), SHED, "sold", 11 + week % 3, "pound", "", "Worms")
        if week in (1, 9):
            add(monday + timedelta(days=2), "North lane", "castings", 985 + 5 * week, "lb", "Wren")
            add(monday + timedelta(days=9), SHED, "screened", 428 - 2 * week, "lb", "Wren")
        if week in (3, 6, 10):
            add(monday + timedelta(days=4), SHED, "bagged", 7, "bag", "Wren")
            add(monday + timedelta(days=5), SHED, "sold", 5, "bag", "", "Bag of castings")
        add(monday + timedelta(days=6), SHED, "hours", 9 + week % 3, "hours", "", "all")
    add(date(2027, 4, 1), SHED, "paid", 90, "$", "", "rent and insurance")
    add(date(2027, 5, 1), SHED, "paid", 90, "$", "", "rent and insurance")
    add(date(2027, 5, 4), SHED, "bought", 64, "$", "Wren", "bags")
    add(date(2027, 6, 5), SHED, "sold", 3, "bag", "", "order: Bag of castings, for the school")
    return tuple(sorted(rows, key=lambda row: row["date"]))


LOG = _demo_log()
