"""What the farm's own logbook says about the coefficients that the handbook else takes from the trials."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field, fields, replace
from datetime import date
from functools import lru_cache
from math import exp, log
from typing import Annotated, Any, NamedTuple

from calc.biology import activity, crowding
from calc.climate.season import Season, season
from calc.engine import (
    DAYS_A_MONTH,
    FOOT,
    Answer,
    Axis,
    Band,
    Column,
    Figure,
    Mark,
    Output,
    Show,
    Step,
    Table,
    Trace,
    calculator,
    presents,
)
from calc.engine.view import lower_first, range_end
from calc.facts import biology, breeding
from calc.facts import lane as lane_facts
from calc.facts.base import Range
from calc.farm.ahead import STRIDE, YEAR, is_old, plan_of
from calc.farm.log import SLICED_DENSITY, Book, Entry, first_told, read_log
from calc.farm.tables import LANES, LOG, PRODUCTS, ROOMS, FarmLog, Lanes, Products, Rooms, Row
from calc.inputs import CLIMATE, FEED_BULK_DENSITY, FULL_STOCKING, ClimateChoice, MonthlyMeans
from calc.lane.model import LanePlan, course_of, drying_of_year
from calc.records.bayes import learned, moved_in, posterior, prior, rate_of_counts, summed

LEAST_WINDOW = 7.0
"""Feedings are put together until at least so many days lie between them: one day's layer says little."""
GROWTH_STEP, MOST_GROWTH = 0.002, 0.03
"""Growth of a herd that is not full [1/day] that is reckoned with beside none at all: in such steps, up to doubling
in three weeks.
"""
MODEL_ROUNDS = 6
"""How often the range of rations is halved in which the one is sought at which the model's herds eat what was fed."""
FINER = 16
"""Near the growth that fits best, so many finer steps each way."""
MOST_LANES = 8
"""Lanes that the ration is read from, those with the most feedings: more of them narrow it no further, and a phone
follows each of them many times over.
"""
LEAST_DRYING = 0.1
"""Drying of a day, against one of 20 °C, below which a window of waterings is left out: frost."""
NO_TEMPERATURE = 20.0
"""Bed temperature where the logbook has none [°C]."""
DEMAND_WORTH = 1.0
"""Months of sales that the typed demand of a product counts for. Our own judgement, no source."""


class Known(NamedTuple):
    """A coefficient that a logbook can teach: the input it stands for, what the trials said, whether it is a share."""

    name: str
    fact: Range
    share: bool
    from_what: str
    unit: str
    us: str | None = None


KNOWN = (
    Known(
        "ration",
        biology.RATION,
        False,
        "feedings, bed temperatures and the worms of your lanes",
        "kg/kg day",
        "lb/lb day",
    ),
    Known("volume_kept", biology.VOLUME_KEPT, True, "how far the face moves for the feed laid", "1", "%"),
    Known("dry_matter_kept", biology.DRY_MATTER_KEPT, True, "slices weighed against the feed laid", "1", "%"),
    Known("gap", lane_facts.GAP, False, "gaps measured at a clean cut", "m", "ft"),
    Known("screen_product_share", lane_facts.PRODUCT_SHARE, True, "castings sliced and screened", "1", "%"),
    Known("water_per_area_per_day", lane_facts.WATER_PER_AREA, False, "water given", "kg/m2 day", "lb/ft2 day"),
    Known("cocoons_per_worm_per_week", breeding.TRAY_COCOONS, False, "cocoons counted in a tray", "1/week"),
    Known("survival", breeding.TRAY_SURVIVAL, True, "worms taken from the trays, against cocoons", "1", "%"),
    Known("sorting_minutes_per_tray", breeding.SORTING_MINUTES, False, "hours noted as “sort” at a room", "minute"),
    Known("hours_per_feeding", lane_facts.HOURS_PER_FEEDING, False, "hours noted as “feed” at a lane", "hour"),
    Known("hours_per_slice", lane_facts.HOURS_PER_SLICE, False, "hours noted as “slice” at a lane", "hour"),
    Known("screened_per_hour", lane_facts.SCREENED_PER_HOUR, False, "hours noted as “screen”", "kg/hour", "lb/hour"),
)


def _learned(label: str, unit: str, us: str | None = None, meaning: str = "") -> Any:
    metric = "%" if us == "%" else None
    return Output(unit, label, meaning, us=us, metric=metric, ranged=True, digits=2)


class Coefficient(NamedTuple):
    known: Known
    band: Band
    rows: int


class Seen(NamedTuple):
    """The logbook as read, and all that was learned from it."""

    book: Book
    found: list[Coefficient]


@dataclass(frozen=True)
class Learned(Answer):
    coefficients_learned: Annotated[
        int, Output("1", "Coefficients that your log speaks of", "Of twelve that it can teach.", main=True)
    ]
    most_changed: Annotated[
        str,
        Output("1", "Furthest from the usual", "Where your own figure differs most from the usual one.", main=True),
    ]
    weeks_in_log: Annotated[
        float,
        Output(
            "week",
            "Weeks in the log",
            "From its first row to its last; an order to come is not counted.",
            digits=2,
            main=True,
        ),
    ]
    rows_used: Annotated[int, Output("1", "Readings used", "Feedings of a week count as one reading.")]
    ration: Annotated[Band | None, _learned("Ration at the best temperature", "kg/kg day", "lb/lb day", "Yours.")]
    volume_kept: Annotated[Band | None, _learned("Volume left as castings", "1", "%")]
    dry_matter_kept: Annotated[Band | None, _learned("Dry matter kept", "1", "%", "In castings, of that in the feed.")]
    gap: Annotated[Band | None, _learned("Gap behind the face", "m", "ft")]
    screen_product_share: Annotated[Band | None, _learned("Share that passes the screen", "1", "%")]
    water_per_area_per_day: Annotated[
        Band | None,
        _learned("Water for each area a day", "kg/m2 day", "lb/ft2 day", "Brought to a day of 68 °F (20 °C)."),
    ]
    cocoons_per_worm_per_week: Annotated[Band | None, _learned("Cocoons a breeder a week", "1/week")]
    survival: Annotated[Band | None, _learned("Young that reach sale size", "1", "%")]
    sorting_minutes_per_tray: Annotated[Band | None, _learned("Minutes to sort a tray", "minute")]
    hours_per_feeding: Annotated[Band | None, _learned("Work for each 8 ft (2.4 m) fed and watered", "hour")]
    hours_per_slice: Annotated[Band | None, _learned("Work for each foot (30 cm) sliced", "hour")]
    screened_per_hour: Annotated[Band | None, _learned("Castings screened in an hour", "kg/hour", "lb/hour")]
    seen: Annotated[Seen, Trace("The logbook, and what was learned from it")] = field(repr=False, compare=False)


# ---- readings of each coefficient


def _of(book: Book, what: str) -> dict[str, list[Entry]]:
    """{place: rows of one word} in order of days."""
    found: dict[str, list[Entry]] = {}
    for entry in book.of.get(what, ()):
        if entry.amount is not None:
            found.setdefault(entry.place, []).append(entry)
    return found


def windows(rows: Sequence[Entry], least: float = LEAST_WINDOW) -> list[tuple[float, float, float]]:
    """[(middle day as ordinal, days, amount given in them)] between rows at least so many days apart; the last row
    only ends one.
    """
    found, start, total = [], None, 0.0
    for entry in rows:
        day = entry.day.toordinal()
        if start is not None and day - start >= least:
            found.append(((start + day) / 2, float(day - start), total))
            start, total = None, 0.0
        start = day if start is None else start
        total += entry.amount or 0.0
    return found


def warmth(rows: Sequence[Entry], day: float, otherwise: float) -> float:
    """Bed temperature nearest to a day, at most two weeks away [°C]."""
    nearest = min(rows, key=lambda entry: abs(entry.day.toordinal() - day), default=None)
    if nearest is None or abs(nearest.day.toordinal() - day) > 14:
        return otherwise
    return float(nearest.amount or 0.0)


def herd_mass(worms: float, growth: float, days: float, capacity: float) -> float:
    """Weight of a herd after so many days of logistic growth [kg]; one that is full stays as it is. Verhulst 1838.

    >>> herd_mass(10.0, 0.0, 100.0, 40.0), round(herd_mass(10.0, 0.02, 1000.0, 40.0), 3)
    (10.0, 40.0)
    """
    if growth == 0 or worms >= capacity:
        return worms
    return capacity / (1 + (capacity / worms - 1) * exp(-growth * max(0.0, days)))


class Window(NamedTuple):
    """What a lane was fed in a time between feedings a week or more apart."""

    daily: float  # [kg/day]
    pace: float  # activity at the bed's temperature [-]
    age: float  # of its middle: days since the worms went in


def windows_of(lane: Row, fed: Sequence[Entry], thermometer: Sequence[Entry]) -> list[Window]:
    """The windows of a lane in which it was fed and not too cold to eat."""
    mean = (
        sum(float(entry.amount or 0.0) for entry in thermometer) / len(thermometer) if thermometer else NO_TEMPERATURE
    )
    place, found = 0, []
    for middle, days, amount in windows(fed):
        while place + 1 < len(thermometer) and abs(thermometer[place + 1].day.toordinal() - middle) <= abs(
            thermometer[place].day.toordinal() - middle
        ):
            place += 1
        pace = activity(warmth(thermometer[place : place + 1], middle, mean))
        if amount > 0 and pace > 0.02:
            found.append(Window(amount / days, pace, middle - lane["started"].toordinal()))
    return found


@lru_cache(maxsize=4 * MOST_LANES)
def _rations_grown(
    worms: float, area: float, seen: tuple[Window, ...], growths: tuple[float, ...]
) -> list[list[float]]:
    """For each growth of a lane's herd the log of the ration seen in each of its windows. Kept: a row more is a row of
    one lane.
    """
    found = []
    for growth in growths:
        masses = [herd_mass(worms, growth, window.age, FULL_STOCKING * area) for window in seen]
        found.append([log(one.daily / (mass * crowding(mass / area) * one.pace)) for one, mass in zip(seen, masses)])
    return found


@lru_cache(maxsize=12 * MOST_LANES)
def _eaters(plan: LanePlan, days: int) -> list[float]:
    """Worms of the model's herd on each day, as far as they are not too crowded to eat [kg]. Kept: the same rations are
    tried again after each row of the logbook.
    """
    course = course_of(plan, days)
    return [max(w, 1e-6) * crowding(stocking, plan.capacity) for w, stocking in zip(course.worms, course.stocking)]


def ration_readings(book: Book, lanes: Sequence[Row], weather: Season) -> list[tuple[float, list[float]]]:
    """[(weight, log of the ration seen in each window)] for the herds of the model of a lane, for no growth, and
    for each growth that is reckoned with.

    Feed laid a day = ration × worms × activity(bed temperature) × crowding(worms ÷ area).
    """
    fed, warm = _of(book, "feed"), _of(book, "temperature")
    lanes = sorted(lanes, key=lambda lane: -len(fed.get(lane["name"], ())))[:MOST_LANES]
    each = [(lane, tuple(windows_of(lane, fed.get(lane["name"], []), warm.get(lane["name"], [])))) for lane in lanes]
    seen = [(lane, found) for lane, found in each if found]
    if not seen:
        return [(1.0, [])]
    last = book.entries[-1].day.toordinal()

    def by_model(ration: float) -> list[float]:
        found = []
        for lane, windows in seen:
            plan = plan_of(lane, ration, weather, date.fromordinal(last))
            days = max(1, last - plan.start_date.toordinal())
            eaters, shift = _eaters(plan, -(-days // STRIDE) * STRIDE), (lane["started"] - plan.start_date).days
            for daily, pace, age in windows:
                found.append(log(daily / (eaters[min(max(0, round(age) + shift), days)] * pace)))
        return found

    def by_growth(growths: Sequence[float]) -> dict[float, list[float]]:
        found: list[list[float]] = [[] for _ in growths]
        for lane, windows in seen:
            area = lane["length"] * lane["width"]
            for readings, more in zip(found, _rations_grown(lane["worms"], area, windows, tuple(growths))):
                readings += more
        return dict(zip(growths, found))

    if all(lane["worms"] >= FULL_STOCKING * lane["length"] * lane["width"] for lane, _ in seen):
        return [(1.0, moved_in(by_growth([0.0])[0.0]))]  # full from the start: there is nothing to grow
    coarse = [GROWTH_STEP * step for step in range(round(MOST_GROWTH / GROWTH_STEP) + 1)]
    cases = by_growth(coarse)
    best = min(coarse, key=lambda growth: summed(cases[growth])[2])
    step = GROWTH_STEP / FINER
    finer = {best + step * at: step for at in range(-FINER, FINER + 1) if best + step * at > 0}
    widths = {growth: GROWTH_STEP for growth in coarse[1:] if abs(growth - best) > 1.5 * GROWTH_STEP} | finer
    # A slip of the pen is one by the best fit, and is the same row for every growth: else a wrong growth would call
    # a whole lane a slip.
    usual = moved_in(cases[best])
    sound = [at for at, (one, other) in enumerate(zip(cases[best], usual)) if one == other]
    share = 0.25 / sum(widths.values())
    weighed = [(0.25, 0.0)] + [(share * width, growth) for growth, width in widths.items()]
    # The model's herds grow by what they eat: the ration is sought at which they would have been fed what they were.
    low, high = log(0.25), log(1.6)
    for _ in range(MODEL_ROUNDS):
        middle = (low + high) / 2
        model = by_model(exp(middle))
        if summed([model[at] for at in sound])[1] > middle:
            low = middle
        else:
            high = middle
    _, mean, _ = summed([model[at] for at in sound])
    found = [(0.5, [model[at] - mean + (low + high) / 2 for at in sound])]
    cases |= by_growth(list(finer))
    found += [(weight, [cases[growth][at] for at in sound]) for weight, growth in weighed]
    return found


def kept_readings(book: Book, lanes: Sequence[Row]) -> list[float]:
    """Volume that the face moved on by, for the volume of feed laid, between measurings two weeks apart or more [-]."""
    fed, faces, found = _of(book, "feed"), _of(book, "face"), []
    for lane in lanes:
        across = _across(lane)
        feedings, at = fed.get(lane["name"], []), 0
        before = None
        for entry in faces.get(lane["name"], []):
            if before is None:
                before = entry
                continue
            if (entry.day - before.day).days < 14:
                continue
            while at < len(feedings) and feedings[at].day < before.day:
                at += 1
            laid, place = 0.0, at
            while place < len(feedings) and feedings[place].day < entry.day:
                laid += feedings[place].amount or 0.0
                place += 1
            moved = (entry.amount or 0.0) - (before.amount or 0.0)
            if laid > 0 and moved > 0:
                found.append(across * moved * FEED_BULK_DENSITY / laid)
            before = entry
    return found


def _across(lane: Row) -> float:
    """Cross-section of a lane that a slice is cut off [m²]."""
    return float(lane["height"] * (lane["width"] if lane["fed_on"] == "end" else lane["length"]))


def dry_matter_readings(book: Book, lanes: Sequence[Row]) -> list[float]:
    """Dry matter sliced off for the dry matter laid [-], between slices of lanes whose base is long gone: what comes
    off the back of a lane at its pace is what stays of the feed that was laid in the same time.
    """
    usual, fed, sliced, found = LanePlan(), _of(book, "feed"), _of(book, "castings"), []
    dry = (1 - usual.castings_moisture) / (1 - usual.feed_moisture)
    for lane in lanes:
        slices = sliced.get(lane["name"], [])
        for before, entry in zip(slices, slices[1:]):
            laid = sum(e.amount or 0.0 for e in fed.get(lane["name"], ()) if before.day <= e.day < entry.day)
            if is_old(lane, before.day) and laid > 0 and entry.amount:
                found.append(entry.amount * dry / laid)
    return found


def _worked(book: Book, word: str) -> list[Entry]:
    """Rows of hours whose note tells of a task."""
    return [e for e in book.of.get("hours", ()) if e.amount and word in e.note.casefold()]


def feeding_hours_readings(book: Book, lanes: Sequence[Row]) -> list[float]:
    """Work for each 8 ft of lane fed [h], from hours noted as feeding at a lane, less its part of what a walk with feed
    takes: that is counted once a day, for all lanes fed on it.
    """
    eights = {lane["name"]: lane["length"] / (8 * FOOT) for lane in lanes}
    rows = _worked(book, "feed")
    a_day = Counter(e.day for e in rows)
    setup = lane_facts.SETUP_HOURS.typical
    hours = [((e.amount or 0.0) - setup / a_day[e.day], eights.get(e.place, 0.0)) for e in rows]
    return [worked / length for worked, length in hours if worked > 0 and length]


def slicing_hours_readings(book: Book, lanes: Sequence[Row]) -> list[float]:
    """Work for each foot of lane sliced [h]: hours noted as slicing, by the length that the weight of that day's slice
    makes.
    """
    across = {lane["name"]: _across(lane) for lane in lanes}
    cut = {(e.place, e.day): e.amount for e in book.of.get("castings", ()) if e.amount}
    found = []
    for entry in _worked(book, "slic"):
        weight = cut.get((entry.place, entry.day))
        if weight and entry.place in across:
            found.append((entry.amount or 0.0) * FOOT * across[entry.place] * SLICED_DENSITY / weight)
    return found


def screening_readings(book: Book) -> list[float]:
    """Castings screened in an hour [kg/h], from hours noted as screening on a day with one."""
    done = {e.day: e.amount for e in book.of.get("screened", ()) if e.amount}
    return [weight / e.amount for e in _worked(book, "screen") if e.amount and (weight := done.get(e.day))]


def screened_readings(book: Book) -> list[float]:
    """Screened for what came to the screen [-]: each screening against what was sliced since the one before, dried
    in between.
    """
    usual, found, sliced = LanePlan().shares, [], 0.0
    dried = (1 - usual.castings_moisture) / (1 - usual.screening_moisture)
    for entry in book.entries:
        if entry.what == "castings":
            sliced += entry.amount or 0.0
        elif entry.what == "screened" and sliced > 0:
            found.append((entry.amount or 0.0) / (sliced * dried))
            sliced = 0.0
    return found


def water_readings(book: Book, lanes: Sequence[Row], weather: Season) -> list[float]:
    """Water for each area on a day of 20 degC [kg/m² day], as the model of a lane is told it: what was given in a
    window, over the drying of its days. Windows in which hardly anything dries say nothing.
    """
    found: list[float] = []
    given = _of(book, "water")
    if not given:
        return found
    begun = min(rows[0].day for rows in given.values()).toordinal()
    of_year, until = drying_of_year(weather), max(rows[-1].day for rows in given.values()).toordinal()
    of_day = [of_year[(date.fromordinal(day).timetuple().tm_yday - 1) % YEAR] for day in range(begun, until + 1)]
    for lane in lanes:
        for middle, days, amount in windows(given.get(lane["name"], [])):
            first = round(middle - days / 2) - begun
            dried = sum(of_day[first : first + round(days)])
            if dried > LEAST_DRYING * days:
                found.append(amount / dried / (lane["length"] * lane["width"]))
    return found


def cocoon_readings(book: Book) -> list[float]:
    """Cocoons a breeder a week from counts of single trays, breeders and days as usual [1/week]."""
    breeders = breeding.BREEDERS_MASS.typical * breeding.BREEDERS_PER_MASS.typical
    weeks = breeding.BREEDING_DAYS.typical / 7
    return [(e.amount or 0.0) / breeders / weeks for e in book.of.get("cocoons", ()) if e.amount]


def survival_readings(book: Book, rooms: Sequence[Row], cocoons: float) -> list[float]:
    """Worms sold of the young that hatched [-]: what came out of a room against the trays that fell due since the
    time before.
    """
    out, found = _of(book, "worms"), []
    young = (
        breeding.BREEDERS_MASS.typical
        * breeding.BREEDERS_PER_MASS.typical
        * cocoons
        * breeding.BREEDING_DAYS.typical
        / 7
        * breeding.TRAY_HATCH.typical
        * breeding.TRAY_HATCHLINGS.typical
    )
    for room in rooms:
        for _, days, amount in windows(out.get(room["name"], [])):
            trays = room["trays_per_week"] * days / 7
            if trays > 0:
                found.append(amount * breeding.SALE_PER_MASS.typical / (trays * young))
    return found


def sorting_readings(book: Book, rooms: Sequence[Row]) -> list[float]:
    """Minutes for each tray from hours noted as sorting at a room, with one week's trays [minute]."""
    trays = {room["name"]: room["trays_per_week"] for room in rooms}
    return [
        60 * entry.amount / trays[entry.place]
        for entry in _worked(book, "sort")
        if entry.amount and trays.get(entry.place)
    ]


def _readings(
    name: str, book: Book, lanes: Sequence[Row], rooms: Sequence[Row], cocoons: float, place: Season
) -> list[float]:
    """Readings of one coefficient; cocoons: those of a breeder a week, as far as they are known already."""
    if name == "gap":
        return [e.amount for e in book.of.get("gap", ()) if e.amount]
    if name == "dry_matter_kept":
        return dry_matter_readings(book, lanes)
    if name == "hours_per_feeding":
        return feeding_hours_readings(book, lanes)
    if name == "hours_per_slice":
        return slicing_hours_readings(book, lanes)
    if name == "screened_per_hour":
        return screening_readings(book)
    if name == "volume_kept":
        return kept_readings(book, lanes)
    if name == "screen_product_share":
        return screened_readings(book)
    if name == "water_per_area_per_day":
        return water_readings(book, lanes, place)
    if name == "cocoons_per_worm_per_week":
        return cocoon_readings(book)
    if name == "survival":
        return survival_readings(book, rooms, cocoons)
    return sorting_readings(book, rooms)


def coefficients(book: Book, lanes: Sequence[Row], rooms: Sequence[Row], place: Season) -> list[Coefficient]:
    """Every coefficient of which the logbook says something, with its band and the number of readings behind it."""
    found = []
    cocoons = breeding.TRAY_COCOONS.typical
    for known in KNOWN:
        before = prior(known.fact.low, known.fact.typical, known.fact.high, known.share)
        if known.name == "ration":
            cases = ration_readings(book, lanes, place)
            band, rows = posterior(before, cases), len(cases[0][1])
        else:
            readings = _readings(known.name, book, lanes, rooms, cocoons, place)
            band, rows = learned(before, readings), len(readings)
            if known.name == "cocoons_per_worm_per_week" and rows:
                cocoons = band.value
        if rows:
            found.append(Coefficient(known, band, rows))
    return found


def surprise(found: Coefficient) -> float:
    """How far a coefficient lies from the trials, in widths of what the trials said."""
    fact = found.known.fact
    before = prior(fact.low, fact.typical, fact.high, found.known.share)
    return abs(before.open(found.band.value) - before.middle) / before.width


def _span(book: Book) -> tuple[date, date] | None:
    return (book.entries[0].day, book.entries[-1].day) if book.entries else None


def demand(book: Book, products: Sequence[Row]) -> list[tuple[str, float, Band, float | None, int]]:
    """[(product, sold a month, to be expected, price had, sales)] from the sales of the logbook. Sold is what was sold,
    over its months, one at least; to what is expected the typed demand counts as one month more.
    """
    span = _span(book)
    months = ((span[1] - span[0]).days + 1) / DAYS_A_MONTH if span else 0.0
    sold, money, counted, sales = (
        [0.0] * len(products),
        [0.0] * len(products),
        [0.0] * len(products),
        [0] * len(products),
    )
    for entry in book.of.get("sold", ()):
        if entry.product is not None and entry.amount:
            sold[entry.product] += entry.amount
            sales[entry.product] += 1
            if entry.money is not None:
                money[entry.product] += entry.money
                counted[entry.product] += entry.amount
    found = []
    for at, row in enumerate(products):
        if sales[at]:
            each = sold[at] / max(months, 1.0)
            band = rate_of_counts(row.get("most_per_month") or each, DEMAND_WORTH, sold[at], months)
            price = money[at] / counted[at] if counted[at] else None
            found.append((str(row["name"]), each, band, price, sales[at]))
    return found


_LAST = date(2200, 12, 31)


def without_orders(book: Book) -> Book:
    """The rows of a logbook up to its last one that is no sale: sales of a later day are orders, and not yet sold."""
    last = next((entry.day for entry in reversed(book.entries) if entry.what != "sold"), None)
    if last is None or book.entries[-1].day <= last:
        return book
    return replace(book, entries=[entry for entry in book.entries if entry.day <= last])


@calculator(
    "records.learn",
    "What do my own records say?",
    leads={
        "farm": {},
        "farm.week": {known.name: known.name for known in KNOWN},
        "lane.feeding": {"ration": "ration", "volume_kept": "volume_kept", "gap": "gap"},
        "lane.output": {
            "ration": "ration",
            "volume_kept": "volume_kept",
            "gap": "gap",
            "dry_matter_kept": "dry_matter_kept",
            "hours_per_feeding": "hours_per_feeding",
            "hours_per_slice": "hours_per_slice",
            "screened_per_hour": "screened_per_hour",
            "screen_product_share": "screen_product_share",
            "water_per_area_per_day": "water_per_area_per_day",
        },
        "breeding.trays": {
            "cocoons_per_worm_per_week": "cocoons_per_worm_per_week",
            "survival": "survival",
            "sorting_minutes_per_tray": "sorting_minutes_per_tray",
        },
    },
)
def learn(
    log: FarmLog = LOG,  # type: ignore[assignment]
    lanes: Lanes = LANES,  # type: ignore[assignment]
    rooms: Rooms = ROOMS,  # type: ignore[assignment]
    products: Products = PRODUCTS,  # type: ignore[assignment]
    climate: ClimateChoice = CLIMATE,
    monthly_temperature: MonthlyMeans = None,
) -> Learned:
    """Coefficients of one's own, from the logbook and what the trials said.

    log: rows of date, place, what, amount, unit, who, note; lanes, rooms, products, climate: as on the farm's pages.
    Source: Bayes' rule; priors are the published ranges of calc.facts, read as the 10th, 50th and 90th of a hundred.
    """
    book = without_orders(read_log(log, lanes, rooms, products, _LAST))
    found = coefficients(book, lanes, rooms, season(climate, monthly_temperature))
    bands: dict[str, Any] = {one.known.name: one.band for one in found}
    span = _span(book)
    furthest = max(found, key=surprise, default=None)
    return Learned(
        coefficients_learned=len(found),
        most_changed=_label(furthest.known.name) if furthest else "nothing yet",
        weeks_in_log=((span[1] - span[0]).days + 1) / 7 if span else 0.0,
        rows_used=sum(one.rows for one in found),
        **{known.name: bands.get(known.name) for known in KNOWN},
        seen=Seen(book, found),
    )


_LABELS: dict[str, str] = {f.name: f.type.__metadata__[0].label for f in fields(Learned) if f.name != "seen"}  # type: ignore[union-attr]


def _label(name: str) -> str:
    return _LABELS[name]


@presents(learn)
def show_learn(v: Any) -> Show:
    book, found = v.seen
    sold = demand(book, v.products)
    tables = [_said_table(v, found)]
    if sold:
        tables.append(
            Table(
                "demand",
                "What your customers take",
                [
                    Column("product", "Product"),
                    Column("sold", "Sold a month", "1/month", digits=2),
                    Column("expected", "To expect a month", "1/month", digits=2),
                    Column("price", "Price had", "money"),
                    Column("sales", "Sales", "1"),
                ],
                sold,
                note="Sold is what the logbook says. In what is to be expected, the most that you typed for a month"
                " counts as one month more. A price stands here where sales were written in money.",
            )
        )
    return Show(
        working=_working(),
        tables=[*tables, _plain_table(found)],
        figures=[_figure(found)] if found else [],
        warnings=first_told(book),
        reading=_reading(v, found),
    )


def _plain_table(found: Sequence[Coefficient]) -> Table:
    """The coefficients in SI units, under the names of the inputs that they replace."""
    columns = [Column("name", "Name"), *(Column(end, end.capitalize(), "1") for end in ("low", "typical", "high"))]
    columns += [Column("rows", "Readings", "1")]
    columns += [Column(f"prior_{end}", f"Usual, {end}", "1") for end in ("low", "typical", "high")]
    rows = [
        (
            one.known.name,
            one.band.low,
            one.band.value,
            one.band.high,
            one.rows,
            one.known.fact.low,
            one.known.fact.typical,
            one.known.fact.high,
        )
        for one in found
    ]
    return Table("coefficients", "All of it in SI units, for programs", columns, rows)


def _say(v: Any, one: Coefficient, value: float | None) -> str:
    metric = "%" if one.known.us == "%" else None
    return str(v.say(value, one.known.unit, us=one.known.us, metric=metric, digits=2))


def _ends(v: Any, one: Coefficient, *ends: float) -> str:
    """`0.17 to 0.21`: the unit stands beside it already."""
    return " to ".join(range_end(end, v.entry.outputs[one.known.name], v.system, v.currency) for end in ends)


def _said_table(v: Any, found: Sequence[Coefficient]) -> Table:
    rows = [
        (
            _label(one.known.name),
            _say(v, one, one.band.value),
            _ends(v, one, one.band.low, one.band.high),
            f"{_say(v, one, one.known.fact.typical)} ({_ends(v, one, one.known.fact.low, one.known.fact.high)})",
            one.rows,
        )
        for one in found
    ]
    columns = [
        Column("what", "What"),
        Column("yours", "Yours"),
        Column("range", "In eight cases of ten"),
        Column("trials", "The usual figure"),
        Column("readings", "Readings", "1"),
    ]
    return Table("yours", "Your own figures", columns, rows, open=True)


def _working() -> list[Step]:
    return [
        Step(
            "Ration",
            "feed laid a day = {ration} × worms × activity at the bed's temperature × crowding, over windows of a week"
            " or more",
            "the lane's own equation, read backwards",
            note=(
                "Herds that are not full may have grown: each pace of growth is reckoned with and weighed by "
                "how well it fits."
            ),
            prose=True,
        ),
        Step(
            "Volume kept",
            "{volume_kept} = volume that the face moved on by ÷ volume of feed laid",
            "geometry",
            prose=True,
        ),
        Step(
            "Screen",
            "{screen_product_share} = screened ÷ (sliced since the screening before, dried as usual for the screen)",
            "conservation of dry matter",
            prose=True,
        ),
        Step(
            "Dry matter",
            "{dry_matter_kept} = dry matter sliced off ÷ dry matter of the feed laid since the slice before, in lanes"
            " of two years or more",
            "conservation of dry matter at a steady pace; moistures as usual",
            prose=True,
        ),
        Step("Gap", "{gap} = the gaps measured", "definition", prose=True),
        Step(
            "Hours",
            "{hours_per_feeding} = (hours noted as feeding − those that each feeding takes) ÷ length in 8 ft;"
            " {hours_per_slice} = hours noted as slicing ÷ feet that the slice's weight makes; {screened_per_hour} ="
            " screened ÷ hours noted as screening",
            "definition",
            prose=True,
        ),
        Step(
            "Water",
            "{water_per_area_per_day} = water given ÷ area ÷ sum over its days of the drying of a day against one of"
            " 68 °F (20 °C)",
            "the lane's own equation, read backwards; drying as the air of the season can hold water",
            prose=True,
        ),
        Step(
            "Trays",
            "{cocoons_per_worm_per_week} = cocoons ÷ breeders ÷ weeks; {survival} = worms out ÷ young of the trays due;"
            " {sorting_minutes_per_tray} = time ÷ trays",
            "definition; breeders, weeks and hatching as usual",
            prose=True,
        ),
        Step(
            "Yours",
            "the usual range × what your readings say, at 241 places; {coefficients_learned}, {rows_used} and"
            " {weeks_in_log} count them; {most_changed}: most widths away from the usual",
            "Bayes' rule; the scatter of single readings is integrated out",
            prose=True,
        ),
    ]


def _figure(found: Sequence[Coefficient]) -> Figure:
    def against(one: Coefficient, value: float | None) -> float:
        return (value or 0.0) / one.known.fact.typical

    return Figure(
        "learned",
        "Yours against the usual figures",
        finding="Where your bar leaves the usual one, your farm is not like the others.",
        x=Axis("Against the usual figure", "1", us="%", metric="%", low=0),
        y=Axis("", kind="band"),
        marks=[
            Mark(
                "spans",
                [(_label(o.known.name), against(o, o.known.fact.low), against(o, o.known.fact.high)) for o in found],
                label="usual",
                tone="muted",
            ),
            Mark(
                "spans",
                [(_label(o.known.name), against(o, o.band.low), against(o, o.band.high)) for o in found],
                label="yours",
            ),
        ],
        numbers_in="yours",
    )


NAMED = 3
"""Figures named in a sentence: those that changed most, and of those that nothing is known about."""


def _reading(v: Any, found: Sequence[Coefficient]) -> list[str]:
    if not found:
        return ["The logbook says nothing about any coefficient yet. Six weeks of feed and temperatures will."]
    ordered = sorted(found, key=surprise, reverse=True)
    sentences = [
        f"{_label(one.known.name)}, yours: {_say(v, one, one.band.value)}"
        f" ({_ends(v, one, one.band.low, one.band.high)}), from {one.rows} readings; the usual figure"
        f" is {_say(v, one, one.known.fact.typical)}."
        for one in ordered[:NAMED]
    ]
    missing = [lower_first(_label(known.name)) for known in KNOWN if known.name not in {o.known.name for o in found}]
    if missing:
        more = f", and {len(missing) - NAMED} more" if len(missing) > NAMED else ""
        sentences.append(f"Nothing yet about: {', '.join(missing[:NAMED])}{more}.")
    sentences.append("Press a question below to take your own figures along; nothing that you set is changed before.")
    return sentences
