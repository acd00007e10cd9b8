"""What is due this week at every lane, room and in the shed, from the tables, the logbook, the season and the day
that is today.
"""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta
from functools import partial
from typing import Annotated, Any, NamedTuple

from calc.engine import (
    FOOT,
    Act,
    Answer,
    Axis,
    Column,
    Event,
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
    output_wanted,
    over,
    presents,
)
from calc.engine.quantity import convert, shown_unit, symbol
from calc.engine.view import day_text, lower_first
from calc.facts import biology
from calc.facts import lane as lane_facts
from calc.farm.acts import shown, units_of, usual
from calc.farm.ahead import Lane, Slice, batches, lanes_ahead, lanes_near, planned_starts, slices_of, tray, weekday_of
from calc.farm.figures import USUAL, Own, any_lane, own_of, with_own_figures
from calc.farm.log import Book, Entry, first_told, read_log
from calc.farm.shelf import Shed, promised, screened_share, shed_of, stale, to_screen
from calc.farm.tables import (
    LANES,
    LOG,
    PRODUCTS,
    ROOMS,
    SHED,
    TODAY,
    FarmLog,
    Lanes,
    Products,
    Rooms,
    Row,
    Today,
    check_tables,
)
from calc.inputs import CLIMATE, ClimateChoice, MonthlyMeans, Ration
from calc.lane.model import LanePlan, needs_cover

WEEK = 7
WATER_EVERY = 3
"""Days between waterings of a lane, where it needs any: common practice, no source. The page on watering works out
yours.
"""
LOOK_EVERY = 7
"""Days between readings of a lane's temperature and moisture: the records chapter asks for both once a week."""
LEAST_WATER = 0.5
"""Water a week for each area of lane below which nobody fetches a can [kg/m²]. Our own judgement, no source."""
HEAT = 32.0
"""Air at noon [°C] at which a lane's shade is looked to. Its cover is looked to when the lane's calendar has it."""
SEASON = 210
"""Days for which a cover or a shade stays once it was put there: those cool enough for a cover in a mild climate, and
a few. Our own judgement, no source.
"""
LOOKED_AT = ("water", "castings", "temperature", "squeeze", "moisture")
"""Words of the logbook that say when a lane was seen to last."""


class Due(NamedTuple):
    """One thing to do. amount in the unit named, None where there is none to say; unit of SI or a counted word."""

    place: str
    what: str  # a word of the logbook, or what it says
    doing: str  # in words for a reader
    amount: float | None
    unit: str
    day: date
    key: str  # by which a calendar knows it again
    note: str = ""  # in the row that ticking it off writes: the product, or what a note says
    hours: float = 0.0  # of work at the lanes and the screen, as the model counts it; 0 for a look or a note
    thick: float = 0.0  # of a layer of feed [m]

    def overdue(self, today: date) -> int:
        """Days by which it is late."""
        return max(0, (today - self.day).days)


class Seen(NamedTuple):
    """What the list was made from: the logbook as read, the lanes from today on, and its lines."""

    book: Book
    ahead: list[Lane]
    due: list[Due]


@dataclass(frozen=True)
class Week(Answer):
    tasks: Annotated[
        int, Output("1", "Things to do this week", "From today for seven days, and what is late.", main=True)
    ]
    overdue: Annotated[int, Output("1", "Of them late", "Due before today.", main=True)]
    feed_this_week: Annotated[
        float, Output("kg", "Feed to lay", "In all lanes; what is late counts once.", main=True, digits=2)
    ]
    water_this_week: Annotated[float, Output("kg", "Water to give", "In all lanes.", digits=2)]
    water_volume: Annotated[
        float, Output("m3", "Water to give, by the hose", "In all lanes.", us="gal", metric="L", main=True, digits=2)
    ]
    trays_to_start: Annotated[int, Output("1", "Trays to start", "", main=True)]
    slices_due: Annotated[int, Output("1", "Slices due", "", main=True)]
    hours_this_week: Annotated[
        float,
        Output(
            "hour", "Hours for lanes and trays", "For what is due. Packing, selling and writing come on top.", digits=2
        ),
    ]
    seen: Annotated[Seen, Trace("The logbook, the lanes ahead and the lines")] = field(repr=False, compare=False)


# ---- when things were done last


def _every(last: date, between: float, today: date) -> list[date]:
    """Days due up to the end of the week: counted on from the last time, or from today for what is late."""
    first = last + timedelta(days=max(1, round(between)))
    found, day = [first], max(first, today)
    step = 1
    while (following := day + timedelta(days=max(1, round(between * step)))) < today + timedelta(days=WEEK):
        found.append(following)
        step += 1
    return [one for one in found if one < today + timedelta(days=WEEK)]


def habit(days: Sequence[date]) -> float | None:
    """Days that usually lie between two of the last feedings: the middle gap of eight; None with fewer than three."""
    gaps = sorted((after - before).days for before, after in zip(days[-9:], days[-8:]) if after > before)
    return float(gaps[len(gaps) // 2]) if len(gaps) >= 3 else None


def laid_each(lane: Lane, done: Sequence[date]) -> tuple[float, float, float] | None:
    """(days between layers, weight [kg], thickness [m]) of the layers that the list lays; None while the lane rests.

    As often as the farm feeds by its logbook, and as much as the lane eats in that time; a whole layer when that is
    eaten where the farm feeds no more often, or has written nothing down.
    """
    pace = lane.fed_each()
    if pace is None:
        return None
    between, weight, thick = pace
    own = min(habit(done) or between, between)
    return own, weight * own / between, thick * own / between


def feedings(lane: Lane, done: Sequence[date], today: date) -> list[tuple[date, float, float]]:
    """[(day, weight [kg], thickness [m])] of the layers due: without a feeding in the logbook as the model lays them,
    else on from the last one, each as laid_each has it.
    """
    each = laid_each(lane, done)
    if each is None or not done:
        return [(today + timedelta(days=day), weight, thick) for day, weight, thick in lane.fed if 0 <= day < WEEK]
    between, weight, thick = each
    return [(day, weight, thick) for day in _every(done[-1], between, today)]


def slices(lane: Lane, book: Book, today: date) -> list[Slice]:
    """The slices due: those of the lane that are late or come in these seven days."""
    return [one for one in slices_of(lane, book, today) if one.day < WEEK]


def noted(book: Book, place: str, words: str, today: date) -> bool:
    """Whether a note of the last months says that something was done at a place which holds for the season."""
    since = today - timedelta(days=SEASON)
    return any(e.place == place and e.day >= since and words in e.note for e in book.of.get("note", ()))


def at_lanes(lanes: Sequence[Lane], book: Book, today: date) -> list[Due]:
    """What the lanes ask."""
    done = book.days
    found: list[Due] = []
    for lane in lanes:
        name = lane.name
        last = {what: days[-1] for what in LOOKED_AT if (days := done.get((name, what)))}
        listed: Counter[str] = Counter()

        def add(
            what: str,
            doing: str,
            amount: float | None,
            unit: str,
            day: date,
            hours: float = 0.0,
            thick: float = 0.0,
            name: str = name,
            listed: Counter[str] = listed,
        ) -> None:
            # what is due next is the one after those done, whatever its day, and a calendar knows it by that
            times = len(done.get((name, what), ()))
            listed[what] += 1
            which = str(times + listed[what]) if times else day.isoformat()
            found.append(Due(name, what, doing, amount, unit, day, f"{name}|{what}|{which}", hours=hours, thick=thick))

        for day, weight, thick in feedings(lane, done.get((name, "feed"), ()), today):
            add("feed", "Feed", weight, "kg", day, lane.followed[0].hours_per_layer, thick)
        watered = sum(lane.watered[:WEEK])
        if watered >= LEAST_WATER * lane.area:
            given = last.get("water")
            days = _every(given, WATER_EVERY, today) if given else [today, today + timedelta(days=WATER_EVERY)]
            for day in days:
                add("water", "Water", watered / len(days), "kg", day)
        for one in slices(lane, book, today):
            worked = lane.followed[0].hours_per_slice * one.length / FOOT + screening_hours(
                one.passes, lane.followed[0]
            )
            add("castings", "Slice the back", one.mass, "kg", today + timedelta(days=one.day), worked)
        for what, doing in (
            ("temperature", "Read the bed's temperature"),
            ("squeeze", "Squeeze a handful: moist enough?"),
        ):
            seen = last.get(what) or (last.get("moisture") if what == "squeeze" else None)
            day = seen + timedelta(days=LOOK_EVERY) if seen else today
            if day < today + timedelta(days=WEEK):
                add(what, doing, None, "", day)
        for what, doing, note, hard in (
            ("cover", "Lay on the frost cover", "frost cover on", [needs_cover(air) for air in lane.air[:WEEK]]),
            ("shade", "Shade it, water at dawn", "shaded", [air > HEAT for air in lane.warmest[:WEEK]]),
        ):
            if any(hard) and not noted(book, name, note, today):
                day = today + timedelta(days=hard.index(True))
                half = f"{day.year}-{1 + (day.month > 6)}"  # once a winter, once a summer
                found.append(Due(name, what, doing, None, "", day, f"{name}|{what}|{half}", note))
    return found


def at_rooms(rooms: Sequence[Row], book: Book, today: date, own: Own = USUAL) -> list[Due]:
    """What the rooms ask: trays to start, breeders to take out, young to sell."""
    found, each, done = [], tray(own), book.days
    end = today + timedelta(days=WEEK - 1)
    for room in rooms:
        name = str(room["name"])
        logged = done.get((name, "trays"), [])
        since = today - timedelta(days=WEEK - 1) if logged else today
        for day, count in planned_starts(room, today, since, end):
            if not any(abs((one - day).days) <= 3 for one in logged):
                found.append(
                    Due(name, "trays", "Start trays", float(count), "tray", day, f"{name}|trays|{day.isoformat()}")
                )
        for begun, count in batches(room, book, today, end):
            for what, doing, days in (
                ("cocoons", "Take the breeders out, count cocoons", each.breeding_days),
                ("worms", "Young are ready to sell", each.days_to_sale),
            ):
                day = begun + timedelta(days=days)
                if today - timedelta(days=WEEK) <= day <= end and not any(
                    abs((one - day).days) <= 4 for one in done.get((name, what), [])
                ):
                    key = f"{name}|{what}|{begun.isoformat()}"
                    found.append(Due(name, what, doing, float(count), "tray", day, key))
    return found


def in_shed(book: Book, shed: Shed, products: Sequence[Row], today: date, own: Own = USUAL) -> list[Due]:
    """What the shed asks: castings to screen, orders to pack, old goods to look at."""
    found = []
    plan = any_lane(own)
    if waiting := to_screen(book, screened_share(plan)):
        day, weight = waiting
        key = f"screen|{book.of['screened'][-1].day.isoformat()}"
        hours = screening_hours(weight, plan)
        found.append(Due(SHED, "screened", "Screen; about this much passes", weight, "kg", day, key, hours=hours))
    end = today + timedelta(days=WEEK)
    for at, units in enumerate(promised(book, products, end)):
        short = units - shed.shelves[at].left
        if short > 1e-9:
            first = next(e.day for e in book.orders if e.product == at)
            name = str(products[at]["name"])
            found.append(
                Due(
                    SHED,
                    "bagged",
                    f"Pack for an order: {name}",
                    short,
                    str(products[at].get("unit") or "unit"),
                    first,
                    f"pack|{name}|{first.isoformat()}",
                    name,
                )
            )
    for name, units, _ in stale(shed, products, today):
        found.append(Due(SHED, "spoiled", f"Look at what is old: {name}", units, "unit", today, f"old|{name}"))
    for entry in book.orders:
        if entry.day < end and entry.product is not None:
            name = str(products[entry.product]["name"])
            found.append(
                Due(
                    SHED,
                    "sold",
                    f"Hand over an order: {name}",
                    entry.amount,
                    str(products[entry.product].get("unit") or "unit"),
                    entry.day,
                    f"order|{name}|{entry.day.isoformat()}|{entry.note}",
                )
            )
    return found


def due_list(
    lanes: Sequence[Lane],
    rooms: Sequence[Row],
    products: Sequence[Row],
    book: Book,
    today: date,
    own: Own = USUAL,
) -> list[Due]:
    """Everything that is due until seven days from today, the longest overdue first, then by day and place."""
    shed = shed_of(book, products, screened_share(any_lane(own)))
    found = at_lanes(lanes, book, today) + at_rooms(rooms, book, today, own)
    found += in_shed(book, shed, products, today, own)
    order = {lane.name: at for at, lane in enumerate(lanes)}
    found.sort(key=lambda due: (due.day, order.get(due.place, len(order)), due.place, due.what))
    return in_one_walk(found, lanes, today)


def in_one_walk(due: Sequence[Due], lanes: Sequence[Lane], today: date) -> list[Due]:
    """The lines with the work of fetching and washing down counted once for all lanes that are fed on one day; what is
    late is laid today.
    """
    setup = {lane.name: lane.followed[0].setup_hours for lane in lanes}
    walked: set[date] = set()
    found = []
    for one in due:
        if one.what == "feed":
            day = max(one.day, today)
            found.append(one._replace(hours=one.hours - setup[one.place]) if day in walked else one)
            walked.add(day)
        else:
            found.append(one)
    return found


def screening_hours(passed: float, plan: LanePlan) -> float:
    """Work at the screen for so much that passes it [h]; passed [kg]."""
    return passed / plan.product_share / plan.screened_per_hour


@calculator(
    "farm.week",
    "What is due this week?",
    leads={"farm.stock": {}, "farm.money": {}},
)
@with_own_figures
def week(
    lanes: Lanes = LANES,  # type: ignore[assignment]
    rooms: Rooms = ROOMS,  # type: ignore[assignment]
    products: Products = PRODUCTS,  # type: ignore[assignment]
    log: FarmLog = LOG,  # type: ignore[assignment]
    today: Today = TODAY,
    climate: ClimateChoice = CLIMATE,
    monthly_temperature: MonthlyMeans = None,
    ration: Ration = biology.RATION.typical,
    **figures: Any,
) -> Week:
    """What is due in the seven days from today, and what is late.

    lanes, rooms, products, log: rows as calc.farm.tables describes them; today; monthly_temperature [°C]; ration
    [kg/kg day]; figures: the farm's own of calc.farm.figures.
    The pace of a lane is that of calc.lane.model at its age and season; the dates go on from what the logbook says
    was done last. Source: calc.lane.model, for each lane.
    """
    check_tables(lanes, rooms, products)
    own, book = own_of(figures), read_log(log, lanes, rooms, products, today)
    follow = lanes_ahead if output_wanted("tasks", "overdue", "slices_due", "hours_this_week") else lanes_near
    ahead = follow(lanes, ration, climate, monthly_temperature, today, own=own)
    due = due_list(ahead, rooms, products, book, today, own)

    def total(what: str) -> float:
        return sum(one.amount or 0.0 for one in due if one.what == what)

    return Week(
        tasks=len(due),
        overdue=sum(one.day < today for one in due),
        feed_this_week=total("feed"),
        water_this_week=total("water"),
        water_volume=total("water") / 1000,
        trays_to_start=round(total("trays")),
        slices_due=sum(one.what == "castings" for one in due),
        hours_this_week=sum(one.hours for one in due)
        + sum(float(room["trays_per_week"]) for room in rooms) * tray(own).hours_per_week,
        seen=Seen(book, ahead, due),
    )


def shown_amount(v: Any, one: Due) -> tuple[float | None, str]:
    """(amount, unit) of a line in the reader's units; counted things as they are."""
    if one.amount is None or one.unit != "kg":
        return one.amount, one.unit
    if one.what == "water":
        unit = "gal" if v.system == "us" else "L" if v.system == "metric" else "kg"
        litres = one.amount / 1000
        return (one.amount if unit == "kg" else convert(litres, "m3", unit)), unit
    unit = shown_unit("kg", v.system) if v.system else "kg"
    return convert(one.amount, "kg", unit), symbol(unit)


def in_words(v: Any, one: Due) -> str:
    """How much of a line: `48 lb`, of feed also how thick; nothing where there is none to say."""
    amount, unit = shown_amount(v, one)
    if amount is None:
        return ""
    thick = f", {v.say(one.thick, 'm', us='in', metric='cm', digits=2)} thick" if one.thick else ""
    return f"{v.say(amount, '1', digits=2)} {unit if amount == 1 else several(unit)}{thick}"


def several(unit: str) -> str:
    """A unit as it stands behind a figure: words in the plural, signs of measure as they are.

    >>> [several(unit) for unit in ("sack", "box of 500 g", "lb", "yard", "20 L")]
    ['sacks', 'boxes of 500 g', 'lb', 'yards', '20 L']
    """
    word, of, rest = unit.partition(" of ")
    if not word.isalpha() or not word.isascii() or not word.islower():
        return unit
    if len(word) < 3 or word in ("gal", "yd", "kg") or word.endswith("s"):
        return unit
    return word + ("es" if word.endswith(("x", "ch", "sh")) else "s") + of + rest


def said(v: Any, one: Due) -> str:
    """A line of the week in words: `Feed: 48 lb`."""
    amount = in_words(v, one)
    return f"{one.doing}: {amount}" if amount else one.doing


READ_FIRST = ("castings", "screened", "worms", "cocoons", "temperature", "squeeze")
"""What has to be weighed, counted or read before it is written: ticking it off asks for the figure."""
_TICKED = ("feed", "water", "trays", "bagged", *READ_FIRST)


def act_of(v: Any, one: Due) -> Act | None:
    """What ticking a line off writes into the logbook; None for an order, which is a row already, and for a look at
    old goods.
    """
    if one.what in ("cover", "shade"):
        return Act(one.place, "note", one.doing, note=one.note, ready=True)
    if one.what not in _TICKED:
        return None
    if one.what == "bagged":
        return Act(one.place, "bagged", one.doing, f"{one.amount:g}", one.unit, note=one.note, ready=True)
    known = one.amount if one.what not in ("worms", "cocoons") else None
    amount, unit = shown(one.what, known, v.system, v.currency, digits=2)
    ready = one.what not in READ_FIRST
    return Act(one.place, one.what, one.doing, amount, unit, units_of(one.what, v.system, v.currency), ready=ready)


@presents(week)
def show_week(v: Any) -> Show:
    book, ahead, due = v.seen
    rows = [(one.place, one.doing, in_words(v, one), one.day, one.overdue(v.today) or None) for one in due]
    columns = [
        Column("place", "Where"),
        Column("what", "What"),
        Column("amount", "How much"),
        Column("due", "Due"),
        Column("overdue", "Days late", "1"),
    ]
    return Show(
        working=_working(v, ahead, due),
        tables=[
            Table(
                "due",
                "Due, what is late first",
                columns,
                rows,
                open=True,
                first=True,
                acts=[act_of(v, one) for one in due],
            ),
            slices_to_come(v.today, book, ahead),
            _pace(book, ahead),
        ],
        figures=_figures(v, due),
        warnings=[*first_told(book), *_warnings(v, ahead, due)],
        reading=_reading(v, ahead, due),
        events=[Event(max(one.day, v.today), f"{one.place}: {said(v, one)}", "", key=one.key) for one in due],
        cautions=[
            "Cuts and worms do not go together: wear gloves, wash before you eat, keep tetanus cover.",
        ],
        acts=usual(book, v.lanes, v.rooms, v.products, v.system, v.currency),
    )


WEEKS_OF_SLICES = 8
"""Weeks for which slices to come are listed: as far as promises go."""


def slices_to_come(today: date, book: Book, ahead: Sequence[Lane]) -> Table:
    """Every slice of the weeks for which promises are made, by its day: what these rest on."""
    coming = sorted(
        (one.day, at, lane.name, one)
        for at, lane in enumerate(ahead)
        for one in slices_of(lane, book, today)
        if one.day < WEEK * WEEKS_OF_SLICES
    )
    rows = [(name, today + timedelta(days=day), one.mass, one.passes) for day, _, name, one in coming]
    columns = [
        Column("lane", "Lane"),
        Column("day", "Due"),
        Column("mass", "As sliced", "kg", digits=2),
        Column("passes", "Passes the screen", "kg", digits=2),
    ]
    note = (
        "What is promised, and the farm's money, rest on these and on what is in the shed. The base that was bought is"
        " sliced first, and is not sold as castings."
    )
    return Table("slices", "Slices to come in eight weeks", columns, rows, note=note)


def _pace(book: Book, ahead: Sequence[Lane]) -> Table:
    rows = []
    for lane in ahead:
        fed, sliced = laid_each(lane, book.days.get((lane.name, "feed"), ())), lane.sliced_each()
        rows.append(
            (
                lane.name,
                lane.area,
                lane.followed[0].active_area,
                lane.worms,
                lane.bed_temperature,
                fed[1] * WEEK / fed[0] if fed else 0.0,
                fed[2] if fed else None,
                fed[0] if fed else None,
                sliced[0] if sliced else None,
            )
        )
    columns = [
        Column("lane", "Lane"),
        Column("area", "Area of the base", "m2"),
        Column("active", "Bed behind the face", "m2"),
        Column("worms", "Worms by now", "kg", digits=2),
        Column("temperature", "Bed by the season", "degC", digits=2),
        Column("feed", "Feed a week", "kg", digits=2),
        Column("layer", "Layer", "m", us="in", metric="cm", digits=2),
        Column("between_layers", "Days between layers", "day", digits=2),
        Column("between", "Days between slices", "day", digits=2),
    ]
    return Table(
        "pace",
        "What follows from your lanes",
        columns,
        rows,
        note=(
            "Worked out, not asked: from size, age, season and ration. Layers come as often as you feed by the logbook,"
            " and are as thick as what is eaten by then; without a logbook each is a whole one, laid when the last is"
            " eaten. The face is taken as high as it stands by now. Worms gather in the bed behind the face;"
            f" where there are over {lane_facts.DENSE_STOCKING_SAID} of it, they begin to leave: move some, or give"
            " them away. The list goes on as if they were there, until the herd has grown again: lay the next layer"
            " when the last is gone."
        ),
    )


def _working(v: Any, ahead: Sequence[Lane], due: Sequence[Due]) -> list[Step]:
    """What is due, summed line by line."""

    def lines(words: str, what: str) -> RowsPart:
        return RowsPart(words, {"amount": "kg"}, [{"amount": one.amount} for one in due if one.what == what])

    used = {
        "layers": lines("the layers due", "feed"),
        "waterings": lines("the waterings due", "water"),
        "slices": lines("the slices due", "castings"),
        "starts": RowsPart(
            "the trays due", {"trays": "1"}, [{"trays": one.amount} for one in due if one.what == "trays"]
        ),
        "lines": RowsPart("the lines", {"late": "day"}, [{"late": (v.today - one.day).days} for one in due]),
        "at_lanes": RowsPart(
            "the layers, slices and screening due",
            {"work": "hour"},
            [{"work": one.hours} for one in due if one.hours],
        ),
        "trays_a_week": Part("trays started a week", sum(float(room["trays_per_week"]) for room in v.rooms)),
        "of_water": Part("density of water", 1000.0, "kg/m3"),
        "tray_hours": Part("hours for a tray, all its life", tray(own_of(v.given)).hours_per_week, "hour"),
    }

    step = partial(Step, values=used)

    return [
        step(
            "Feed",
            "{feed_this_week} = sum over {layers} of {amount}",
            "the model of a lane: what the worms eat at this season, within what the face takes",
            "A lane's next layer follows the last feeding in the logbook, as often as you feed, and holds what is eaten"
            " by then.",
        ),
        step(
            "Water",
            "{water_this_week} = sum over {waterings} of {amount}; {water_volume} = {water_this_week} ÷ {of_water}",
            "the model of a lane; every third day is common practice, no source",
            "What the lanes lose in seven days of this season.",
        ),
        step(
            "Slices",
            "{slices_due} = number of {slices}",
            "the model of a lane",
            "A slice is due when the face has moved on by one since the last in the logbook.",
        ),
        step("Trays", "{trays_to_start} = sum over {starts} of {trays}, rounded", "the rooms, less what is logged"),
        step(
            "Hours",
            "{hours_this_week} = sum over {at_lanes} of {work} + {trays_a_week} × {tray_hours}",
            "the work at a lane, as the page on what a lane gives counts it",
            "Fetching feed and washing down count once a day, for all lanes fed on it; a layer asks for each 8 ft"
            " (2.4 m) of its lane, a slice for its feet and its screening."
            " Trays are counted with all stages full.",
        ),
        step("All", "{tasks} = number of {lines}; {overdue} = number of {lines} where {late} > 0", "count"),
    ]


def _figures(v: Any, due: Sequence[Due]) -> list[Figure]:
    if not due:
        return []
    start = v.today
    days = [max(0, (one.day - start).days) for one in due]
    places = list(dict.fromkeys(one.place for one in due))
    late = {place: [day for one, day in zip(due, days) if one.place == place and one.day < start] for place in places}
    busiest = max(range(WEEK), key=days.count)
    waiting = sum(one.day < start for one in due) if busiest == 0 else 0
    return [
        Figure(
            "week",
            "The week, place by place",
            finding=(
                f"Most is due on {day_text(start + timedelta(days=busiest))}: {days.count(busiest)} "
                f"{'thing' if days.count(busiest) == 1 else 'things'}{f', {waiting} of them late' if waiting else ''}."
            ),
            x=Axis("Days from today", "1", low=0, high=WEEK),
            y=Axis("", kind="band"),
            marks=[
                Mark(
                    "spans",
                    [(one.place, float(day), day + 0.8) for one, day in zip(due, days) if one.day >= start],
                    label="due",
                ),
                Mark("spans", [(place, 0.0, 0.8) for place, held in late.items() if held], label="late", tone="warn"),
            ],
            numbers_in="due",
        )
    ]


def listed_of(words: Sequence[str], most: int = 3) -> str:
    """Words in a sentence, and how many more there are.

    >>> listed_of(["North"]), listed_of(["North", "South"]), listed_of(["North", "South", "East", "West"], 2)
    ('North', 'North and South', 'North, South and 2 more')
    """
    said = [*words[:most], *([f"{len(words) - most} more"] if len(words) > most else [])]
    return " and ".join([*([", ".join(said[:-1])] if said[1:] else []), said[-1]])


def _names(lanes: Sequence[Lane]) -> str:
    """At most three lanes by their names, and how many more."""
    return listed_of([lane.name for lane in lanes])


def lost_worms(v: Any, ahead: Sequence[Lane]) -> list[tuple[str | None, str]]:
    """Lanes whose worms the season has killed by the model: a farm whose lanes live has given another place."""
    lost = [lane for lane in ahead if lane.lost]
    if not lost:
        return []
    names = _names(lost)
    left = v.say(sum(lane.worms for lane in lost), "kg", digits=2)
    had = v.say(sum(lane.followed[0].worm_mass for lane in lost), "kg", digits=2)
    return [
        (
            "climate",
            f"By this climate winters kill most worms in {names}: {left} left of {had}, so hardly any feed or castings"
            " are planned. If yours live, enter the monthly temperatures of their place.",
        )
    ]


def _warnings(v: Any, ahead: Sequence[Lane], due: Sequence[Due]) -> list[tuple[str | None, str]]:
    found = lost_worms(v, ahead)
    late = [one for one in due if one.what == "feed" and one.overdue(v.today) > WEEK]
    for one in late:
        found.append(
            (
                "log",
                (
                    f"By the logbook the feeding of {one.place} is {one.overdue(v.today)} days late: look under the"
                    " cover before you feed."
                ),
            )
        )
    for lane in ahead:
        if lane.bed_temperature < biology.BAND_LOW.typical:
            found.append(
                (
                    "lanes",
                    (
                        f"{lane.name} is about {v.say(lane.bed_temperature, 'degC')} by the season: it eats next "
                        "to nothing now."
                    ),
                )
            )
    return found


def dense(ahead: Sequence[Lane]) -> list[Lane]:
    """Lanes that hold so many worms behind the face that these begin to leave."""
    least = lane_facts.DENSE_STOCKING.typical
    return [lane for lane in ahead if over(lane.worms / min(lane.area, lane.followed[0].active_area), least)]


def _reading(v: Any, ahead: Sequence[Lane], due: Sequence[Due]) -> list[str]:
    if not due:
        return ["Nothing is due this week. Enter your lanes and rooms, or enjoy it."]
    late = [one for one in due if one.day < v.today]
    sentences = []
    if late:
        listed = "; ".join(f"{one.place}, {lower_first(said(v, one))}" for one in late[:3])
        sentences.append(f"Late: {listed}{f'; and {len(late) - 3} more' if len(late) > 3 else ''}.")
    sentences.append(
        f"In the seven days from {v['today']}: {v['feed_this_week']} of feed, {v['water_volume']} of water, slices due:"
        f" {v['slices_due']}, trays to start: {v['trays_to_start']}."
    )
    if v.water_this_week:
        sentences.append(
            "The water is what growers give the part of a lane where the worms live; the back dries for its slice. Feel"
            " the bed before you water."
        )
    sentences.append(f"Lanes and trays ask for {v['hours_this_week']}; packing and selling come on top.")
    if full := dense(ahead):
        sentences.append(
            f"By the season {_names(full)} {'hold' if full[1:] else 'holds'} over {lane_facts.DENSE_STOCKING_SAID}."
            " Worms begin to leave: move some, or give them away."
        )
    return sentences


__all__ = ["Due", "Entry", "due_list", "week", "weekday_of"]
