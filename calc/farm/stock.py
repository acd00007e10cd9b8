"""What is in the shed, and what can be promised from it in two, four and eight weeks."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta
from typing import Annotated, Any, NamedTuple

from calc.engine import (
    Answer,
    Axis,
    Band,
    Column,
    Figure,
    Mark,
    Output,
    Part,
    RowsPart,
    Show,
    Step,
    Table,
    Trace,
    calculator,
    ends_wanted,
    presents,
    with_inputs_of,
)
from calc.farm.acts import usual
from calc.farm.ahead import HORIZON, Lane, batches, goods_ahead, lanes_ahead, product_by_week, tray, worms_by_week
from calc.farm.figures import any_lane, own_of
from calc.farm.log import Book, book_of, first_told
from calc.farm.shelf import (
    TOLERANCE,
    Shed,
    for_orders,
    good_castings,
    in_weeks,
    margin,
    past_keeping,
    promised,
    screened_share,
    shed_of,
    spread_out,
    stale,
    still_good,
)
from calc.farm.tables import Row, check_tables
from calc.farm.week import listed_of, lost_worms, slices_to_come, week

AHEAD = (2, 4, 8)
"""Weeks for which a promise is worked out."""
WEEKS_A_MONTH = 365.25 / 12 / 7
STILL_ALIVE = "Are they alive, and on feed? Weigh them again."


class Seen(NamedTuple):
    """What stock was counted from: the logbook as read, the shed, the lanes from today on, what can be promised by
    AHEAD, and the orders that cannot be met.
    """

    book: Book
    shed: Shed
    lanes: list[Lane]
    promised: list[list[Band]]
    short: list["Short"]


@dataclass(frozen=True)
class Stock(Answer):
    castings_left: Annotated[
        float,
        Output("kg", "Castings that are not packed", "Screened, less what was packed, sold and spoiled.", main=True),
    ]
    worms_left: Annotated[
        float, Output("kg", "Worms that are not packed", "Taken out of lanes and trays, less what went.", main=True)
    ]
    worth: Annotated[float, Output("money", "Packed goods are worth", "At your prices.", main=True)]
    past_keeping: Annotated[
        float, Output("1", "Units past the days that they keep", "Look at them before you sell them.", main=True)
    ]
    castings_sliced: Annotated[float, Output("kg", "Castings sliced in all", "By the logbook.")]
    castings_screened: Annotated[
        float, Output("kg", "Castings screened in all", "By the logbook; where nothing was screened, the usual share.")
    ]
    castings_in_eight_weeks: Annotated[
        Band, Output("kg", "Castings to come in eight weeks", "That pass the screen, off all lanes.", ranged=True)
    ]
    worms_in_eight_weeks: Annotated[
        Band, Output("kg", "Worms to come in eight weeks", "Off all trays, less the breeders kept back.", ranged=True)
    ]
    seen: Annotated[Seen, Trace("Logbook, shed, lanes ahead and promises")] = field(repr=False, compare=False)


class Supply(NamedTuple):
    """What comes in by week, in the low, typical and high case [kg]."""

    castings: list[list[float]]
    worms: list[list[float]]


class Short(NamedTuple):
    """Orders of one product in the next weeks that shed, lanes and trays cannot meet, in its units."""

    product: int
    ordered: float
    there: float  # packed and still good
    missing: float


def promises(
    shed: Shed, book: Book, products: Sequence[Row], supply: Supply, today: date, ahead: Sequence[int] = AHEAD
) -> list[list[Band]]:
    """Units of each product that can be promised for so many weeks from today: a list for each of `ahead`, which
    ascends.

    A promise stands: none is larger than for any later date. What an order of a later date needs is kept back, and
    so is what a better paid product will need by then. So no promise falls with time. Source: arithmetic.
    """
    cases = []
    for case in range(3):
        free = [_free(shed, book, products, supply, case, today, weeks) for weeks in ahead]
        least = [[min(later) for later in zip(*free[at:])] for at in range(len(free))]
        cases.append([[one if one > TOLERANCE else 0.0 for one in units] for units in least])
    return [[Band(b, min(a, b), max(b, c)) for a, b, c in zip(low, middle, high)] for low, middle, high in zip(*cases)]


def _free(
    shed: Shed, book: Book, products: Sequence[Row], supply: Supply, case: int, today: date, weeks: int
) -> list[float]:
    """Units of each product after so many weeks in one case of the supply, less what is ordered until then.

    What is packed and still good today, and what the castings and worms to come make, the best paid first within
    what is asked for. Below nothing where more is ordered.
    """
    ordered = promised(book, products, in_weeks(today, weeks))
    kept = still_good(shed, products, today)
    castings = good_castings(shed, products, today) + sum(supply.castings[case][:weeks])
    worms = shed.worms + sum(supply.worms[case][:weeks])
    owed, castings, worms = for_orders(products, kept, ordered, castings, worms)
    asked = [row.get("most_per_month") for row in products]
    wanted = [(1e6 if most is None else float(most)) * weeks / WEEKS_A_MONTH for most in asked]
    still = [max(0.0, want - have - made) for want, have, made in zip(wanted, kept, owed)]
    more = spread_out(products, still, castings, worms)
    return [have + made + further - gone for have, made, further, gone in zip(kept, owed, more, ordered)]


def short_orders(
    shed: Shed, book: Book, products: Sequence[Row], supply: Supply, today: date, weeks: int = AHEAD[0]
) -> list[Short]:
    """What is ordered within so many weeks and can't be had in time, in the typical case.

    An order is met by what is packed, and by what the shed and the weeks before the order's own give.
    """
    kept = still_good(shed, products, today)
    until = in_weeks(today, weeks)
    missing = [0.0] * len(products)
    for past in range(weeks + 1):
        ordered = promised(book, products, min(until, in_weeks(today, past + 1) - timedelta(days=1)))
        castings = good_castings(shed, products, today) + sum(supply.castings[1][:past])
        worms = shed.worms + sum(supply.worms[1][:past])
        made, *_ = for_orders(products, kept, ordered, castings, worms)
        missing = [max(most, gone - have - fresh) for most, gone, have, fresh in zip(missing, ordered, kept, made)]
    ordered = promised(book, products, until)
    return [Short(at, ordered[at], kept[at], units) for at, units in enumerate(missing) if units > TOLERANCE]


@calculator(
    "farm.stock",
    "What is in the shed, and what can I promise?",
    leads={"farm.money": {}, "farm.week": {}},
)
@with_inputs_of(week)
def stock(**farm: Any) -> Stock:
    """Stock by the logbook, and what lanes and trays will add to it.

    farm: the inputs of farm.week: tables, logbook, today, climate, ration, own figures.
    Nothing is sold before it is made. Source: arithmetic; lanes by calc.lane.model, trays by calc.breeding.trays.
    """
    products, today = farm["products"], farm["today"]
    check_tables(farm["lanes"], farm["rooms"], products)
    book = book_of(farm)
    own = own_of(farm)
    shed = shed_of(book, products, screened_share(any_lane(own)))
    weeks = max(AHEAD)
    lanes = lanes_ahead(
        farm["lanes"], farm["ration"], farm["climate"], farm["monthly_temperature"], today, HORIZON, own
    )
    castings_by_week = product_by_week(lanes, book, today, weeks, ends_wanted())
    supply = Supply(castings_by_week, worms_by_week(farm["rooms"], book, today, weeks, own))
    castings, worms = ([sum(case) for case in cases] for cases in supply)
    return Stock(
        castings_left=shed.castings,
        worms_left=shed.worms,
        worth=sum(shelf.left * row["price"] for shelf, row in zip(shed.shelves, products)),
        past_keeping=sum(units for _, units, _ in stale(shed, products, today)),
        castings_sliced=shed.sliced,
        castings_screened=shed.screened,
        castings_in_eight_weeks=Band(castings[1], min(castings), max(castings)),
        worms_in_eight_weeks=Band(worms[1], min(worms), max(worms)),
        seen=Seen(
            book,
            shed,
            lanes,
            promises(shed, book, products, supply, today) if ends_wanted() else [],
            short_orders(shed, book, products, supply, today) if ends_wanted() else [],
        ),
    )


@presents(stock)
def show_stock(v: Any) -> Show:
    book, shed, lanes, ahead, short = v.seen
    rows = [
        (str(row["name"]), shelf.made, shelf.sold, shelf.spoiled, shelf.left, *(column[at] for column in ahead))
        for at, (row, shelf) in enumerate(zip(v.products, shed.shelves))
    ]
    words = {2: "two", 4: "four", 8: "eight"}
    columns = [
        Column("product", "Product"),
        Column("made", "Made", "1"),
        Column("sold", "Sold", "1"),
        Column("spoiled", "Spoiled", "1"),
        Column("left", "Left", "1"),
        *(Column(f"in_{words[weeks]}_weeks", f"To promise in {words[weeks]} weeks", "1", digits=2) for weeks in AHEAD),
    ]
    note = (
        "Made is what was packed, and what was sold loose. A promise is what is packed and still good, and what"
        " lanes and trays should give, the best paid product first, and no more than people ask for in that time."
        " Orders in the logbook are taken off already. It stands: what later orders and better paid products need by a"
        " later date is not promised for a nearer one."
    )
    tables = [Table("stock", "Product by product", columns, rows, note=note, open=True)] if rows else []
    orders = [
        (entry.day, str(v.products[entry.product]["name"]), entry.amount, entry.note)
        for entry in book.orders
        if entry.product is not None
    ]
    if orders:
        tables.append(
            Table(
                "orders",
                "Orders",
                [
                    Column("day", "For"),
                    Column("product", "Product"),
                    Column("amount", "Units", "1"),
                    Column("note", "Note"),
                ],
                orders,
                open=True,
            )
        )
    tables.append(slices_to_come(v.today, book, lanes))
    return Show(
        working=_working(v, book, shed, lanes),
        tables=tables,
        figures=_figures(v, rows),
        warnings=[*lost_worms(v, lanes), *_warnings(v, book, shed, short)],
        reading=_reading(v, rows),
        cautions=[
            "Castings keep about two months moist and aired; sealed and wet they sour. Smell a bag before you sell it.",
            "Worms are livestock: in a box they need air, moisture and shade, and they do not wait for a customer.",
        ],
        acts=usual(book, v.lanes, v.rooms, v.products, v.system, v.currency),
    )


def _pool(name: str, taken_in: str, whole: bool) -> str:
    """The equation of a pool: what came in less what is in the products made and what spoiled, never below nothing."""
    left = f"{taken_in} − (sum over {{shelves}} of {{made}} × {{{name}_in_one}}) − {{{name}_spoiled}}"
    return left if whole else f"the larger of {{{name}_left}} and {left}"


def _working(v: Any, book: Book, shed: Shed, lanes: Sequence[Lane]) -> list[Step]:
    """What stands in the shed, from the rows of the logbook and the shelves."""
    sliced, screened, lifted = (
        [entry.amount for entry in book.of.get(word, ()) if entry.amount is not None]
        for word in ("castings", "screened", "worms")
    )
    spoiled = [e for e in book.of.get("spoiled", ()) if e.product is None and e.amount is not None]
    worms_spoiled = sum(e.amount or 0.0 for e in spoiled if "worm" in e.note.casefold())
    castings_spoiled = sum(e.amount or 0.0 for e in spoiled if "worm" not in e.note.casefold())
    shelves = [
        {
            "made": shelf.made,
            "sold": shelf.sold,
            "spoiled": shelf.spoiled,
            "left": shelf.left,
            "price": float(row["price"]),
            "castings_in_one": row.get("castings") or 0.0,
            "worms_in_one": row.get("worms") or 0.0,
            "old": shelf.older_than(row["keeps"], v.today) if row.get("keeps") else 0.0,
        }
        for row, shelf in zip(v.products, shed.shelves)
    ]
    numbers = dict.fromkeys(("made", "sold", "spoiled", "left", "old"), "1")
    used = {
        "shelves": RowsPart(
            "the products", numbers | {"price": "money", "castings_in_one": "kg", "worms_in_one": "kg"}, shelves
        ),
        "slices": RowsPart("the rows “castings”", {"weight": "kg"}, [{"weight": weight} for weight in sliced]),
        "screenings": RowsPart("the rows “screened”", {"weight": "kg"}, [{"weight": weight} for weight in screened]),
        "lifted": RowsPart("the rows “worms”", {"weight": "kg"}, [{"weight": weight} for weight in lifted]),
        "castings_spoiled": Part("castings spoiled by weight", castings_spoiled, "kg"),
        "worms_spoiled": Part("worms spoiled by weight", worms_spoiled, "kg"),
        "share": Part("share that usually passes the screen", screened_share(any_lane(own_of(v.given))), "1", "%", "%"),
    }
    needed = [sum(row["made"] * row[f"{name}_in_one"] for row in shelves) for name in ("castings", "worms")]
    castings_whole = abs(shed.screened - needed[0] - castings_spoiled - shed.castings) < 1e-6
    worms_whole = abs(sum(lifted) - needed[1] - worms_spoiled - shed.worms) < 1e-6
    note = "Counted row by row, never below nothing."
    return [
        Step(
            "Sliced and screened",
            "{castings_sliced} = sum over {slices} of {weight}; {castings_screened} = "
            + ("sum over {screenings} of {weight}" if screened else "{castings_sliced} × {share}"),
            "the logbook",
            values=used,
        ),
        Step(
            "Castings",
            "{castings_left} = " + _pool("castings", "{castings_screened}", castings_whole),
            "arithmetic, row by row",
            note,
            used,
        ),
        Step(
            "Worms",
            "{worms_left} = " + _pool("worms", "(sum over {lifted} of {weight})", worms_whole),
            "arithmetic, row by row",
            note,
            used,
        ),
        Step(
            "Products",
            "{left} = {made} − {sold} − {spoiled}, each of {shelves}; {worth} = sum over {shelves} of {left} × {price};"
            " {past_keeping} = sum over {shelves} of {old}",
            "arithmetic",
            "Old is what was screened, or packed with worms, longer ago than it keeps. The oldest is sold first.",
            used,
        ),
        _to_come(v, book, lanes),
    ]


def _to_come(v: Any, book: Book, lanes: Sequence[Lane]) -> Step:
    """Slices and trays that are due in eight weeks."""
    days = 7 * max(AHEAD)
    each = tray(own_of(v.given))
    started = [
        {"trays": count, "ready": (day - v.today).days + each.days_to_sale}
        for room in v.rooms
        for day, count in batches(room, book, v.today, v.today + timedelta(days=days))
    ]
    slices = [{"weight": weight, "day": day} for day, weight in goods_ahead(lanes, book, v.today)]
    used = {
        "slices": RowsPart("what waits for the screen and the slices to come", {"weight": "kg", "day": "day"}, slices),
        "started": RowsPart("the trays started", {"trays": "1", "ready": "day"}, started),
        "end": Part("eight weeks", days, "day"),
        "from_a_tray": Part("worms from a tray, less breeders kept back", each.worms.value, "kg"),
    }
    return Step(
        "To come",
        "{castings_in_eight_weeks} = sum over {slices} of {weight} where {day} < {end};"
        " {worms_in_eight_weeks} = sum over {started} of {trays} × {from_a_tray} where {ready} ≥ 0 and {ready} < {end}",
        "the model of the lanes; the page about trays",
        "Slices are counted dried and screened, from the day on which they are screened. A batch of trays that is late"
        " counts once it is written down.",
        used,
    )


def _figures(v: Any, rows: Sequence[tuple[Any, ...]]) -> list[Figure]:
    shown = [row for row in rows if row[1] or row[7].value]
    if not shown:
        return []
    best = max(shown, key=lambda row: row[4])
    return [
        Figure(
            "promise",
            "Left now, and to promise in eight weeks",
            finding=(
                f"{best[0]}: {v.say(best[4], '1')} left, about {v.say(best[7].value, '1', digits=2)} to "
                "promise in eight weeks."
            ),
            x=Axis("Units", "1", low=0),
            y=Axis("", kind="band"),
            marks=[
                Mark("spans", [(row[0], row[7].low, row[7].high) for row in shown], label="to promise", tone="muted"),
                Mark("dots", [(row[7].value, row[0]) for row in shown], label="most likely"),
                Mark("bars", [(row[4], row[0]) for row in shown], label="left now"),
            ],
            numbers_in="stock",
        )
    ]


def _warnings(v: Any, book: Book, shed: Shed, short: Sequence[Short]) -> list[tuple[str | None, str]]:
    found: list[tuple[str | None, str]] = [("log", sentence) for sentence in shed.told]
    for name, units, keeps in stale(shed, v.products, v.today):
        found.append(
            (
                "products",
                f"Past the {keeps:g} days that they keep: {v.say(units, '1', digits=2)} of “{name}”. Look there first.",
            )
        )
    for name, weight, keeps in past_keeping(shed, v.products, v.today):
        since, then = ("screened", "They are not promised.") if name == "castings" else ("taken out", STILL_ALIVE)
        found.append(
            (
                "log",
                f"Of the {name} that are not packed, {v.say(weight, 'kg')} were {since} over {keeps:g} days ago."
                f" {then}",
            )
        )
    for one in short:
        found.append(
            (
                "log",
                (
                    f"Ordered for the next two weeks of “{v.products[one.product]['name']}”: {v.say(one.ordered, '1')}."
                    f" Packed and good: {v.say(one.there, '1')}. With what can be made in time"
                    f" {v.say(one.missing, '1', digits=2)} will be missing."
                ),
            )
        )
    for row in v.products:
        if margin(row) <= 0:
            found.append(("products", f"“{row['name']}” costs as much to pack as it brings, so none is planned."))
    return [*found, *first_told(book)]


def _reading(v: Any, rows: Sequence[tuple[Any, ...]]) -> list[str]:
    if not rows:
        return ["Enter what you sell, and the logbook says what is left of it."]
    there = [row for row in rows if row[4] > 0]
    if there or v.castings_left > 0 or v.worms_left > 0:
        sentences = [
            f"On {v['today']}: {v['castings_left']} of castings and {v['worms_left']} of worms are not packed."
        ]
    else:
        sentences = [
            f"On {v['today']} nothing is in the shed by the logbook: write down what you screen, take out and pack."
        ]
    if there:
        listed = ", ".join(f"{v.say(row[4], '1')} × {row[0]}" for row in there)
        sentences.append(f"Packed and left: {listed}.")
    coming = [_promise(v, str(row[0]), row[6]) for row in rows if row[6].value >= 0.5]
    if coming:
        sentences.append(f"In four weeks you can promise about {listed_of(coming)}.")
    return sentences


def _promise(v: Any, name: str, units: Band) -> str:
    """`25 × Bag of castings (in a poor run 13)`."""
    usual, poor = (v.say(one, "1", digits=2) for one in (units.value, units.low))
    return f"{usual} × {name}" + ("" if poor == usual else f" (in a poor run {poor})")
