"""A lane's daily log read back: feed for its worms, castings for its feed, hours outside the band, drift, and what is
due next.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from itertools import pairwise
from statistics import median
from typing import Annotated, Any

from calc.engine import (
    POUND,
    Answer,
    Axis,
    Column,
    Figure,
    Log,
    Mark,
    Number,
    Output,
    Part,
    Refused,
    RowsPart,
    Share,
    Show,
    Step,
    Table,
    Text,
    View,
    calculator,
    presents,
)
from calc.facts import biology
from calc.facts import records as facts
from calc.inputs import WORM_MASS, WormMass


def _quillfen() -> tuple[dict[str, datetime | float | None], ...]:
    """Ten weeks of an invented log: fed twice a week, a hot spell in week eight, one slice."""
    rows = []
    for day in range(70):
        hot = 49 <= day < 56
        rows.append(
            {
                "time": datetime(2027, 5, 3) + timedelta(days=day),
                "feed": (22 if day < 35 else 26) * POUND if day % 7 in (0, 3) else None,
                "castings": 115 * POUND if day == 63 else None,
                "moisture": None if day % 7 != 1 else round(0.78 - 0.002 * (day // 7) - (0.05 if hot else 0), 2),
                "temperature": (round(64.5 + day * 0.144 + (14 if hot else 0)) - 32) / 1.8,
                "water": 26 * POUND if day % 4 == 0 else None,
            }
        )
    return tuple(rows)


LONGEST_GAP = 2.0
"""Days between two readings beyond which nothing is known between them."""

COLUMNS = {
    "time": Text("Time"),
    "feed": Number("kg", "Feed", 0, 1e5, optional=True),
    "castings": Number("kg", "Castings out", 0, 1e5, optional=True),
    "moisture": Share("Moisture", 0, 1, optional=True),
    "temperature": Number("degC", "Bed temperature", -30, 80, optional=True),
    "water": Number("kg", "Water", 0, 1e5, optional=True),
}


@dataclass(frozen=True)
class LaneLog(Answer):
    feed_per_worm_mass_per_day: Annotated[
        float | None,
        Output(
            "kg/kg day",
            "Feed a day for each weight of worms",
            "A half to one when warm and uncrowded.",
            us="lb/lb day",
            metric="kg/kg day",
            main=True,
        ),
    ]
    castings_per_feed: Annotated[
        float | None,
        Output(
            "1",
            "Castings for the feed",
            "By weight. Early on there are none yet.",
            us="%",
            metric="%",
            digits=2,
            main=True,
        ),
    ]
    hours_outside_band: Annotated[
        float | None,
        Output(
            "hour",
            "Hours outside the band",
            "Straight line between readings; blank when all lie over two days apart: then it cannot be told.",
            main=True,
            digits=2,
        ),
    ]
    hours_known: Annotated[
        float,
        Output("hour", "Hours that the readings cover", "Between readings at most two days apart.", digits=2),
    ]
    next_feeding: Annotated[
        date | None, Output("1", "Next feeding is due", "After the usual time between feedings.", main=True)
    ]
    next_watering: Annotated[
        date | None, Output("1", "Next watering is due", "After the usual time between waterings.")
    ]
    temperature_drift_per_week: Annotated[
        float | None, Output("K/week", "Temperature drifts by", "Straight line through all readings.", digits=2)
    ]
    moisture_drift_per_week: Annotated[
        float | None, Output("1/week", "Moisture drifts by", "", us="%/week", metric="%/week", digits=2)
    ]
    feed_total: Annotated[float, Output("kg", "Feed in all", "")]
    castings_total: Annotated[float, Output("kg", "Castings in all", "")]
    days: Annotated[float, Output("day", "Days in the log", "")]


def days_from(rows: Sequence[dict[str, Any]]) -> list[float]:
    """Days since the first row, of each row; times are dates or hours."""
    first = rows[0]["time"]
    if isinstance(first, datetime):
        return [(row["time"] - first).total_seconds() / 86400 for row in rows]
    return [(row["time"] - first) / 24 for row in rows]


def slope_per_week(points: Sequence[tuple[float, float]]) -> float | None:
    """Least-squares slope of [(day, value)] a week; None with fewer than three points or no time between them."""
    if len(points) < 3:
        return None
    mean_day, mean = (sum(column) / len(points) for column in zip(*points))
    across = sum((day - mean_day) ** 2 for day, _ in points)
    return 7 * sum((day - mean_day) * (value - mean) for day, value in points) / across if across else None


def hours_outside(
    points: Sequence[tuple[float, float]], low: float, high: float, longest_gap: float = LONGEST_GAP
) -> tuple[float, float]:
    """(hours that straight lines between [(day, temperature)] lie below low or above high, hours that are known at
    all).

    Between readings further apart than longest_gap [days] nothing is known.
    >>> hours_outside([(0.0, 20.0), (1.0, 40.0)], 4.0, 30.0), hours_outside([(0.0, 20.0), (9.0, 40.0)], 4.0, 30.0)
    ((12.0, 24.0), (0.0, 0.0))
    """
    total = known = 0.0
    for (day, value), (next_day, next_value) in pairwise(points):
        length = next_day - day
        if not 0 < length <= longest_gap:
            continue
        known += length
        for limit, sign in ((low, -1), (high, 1)):
            start, end = sign * (value - limit), sign * (next_value - limit)
            if start > 0 and end > 0:
                total += length
            elif (start > 0) != (end > 0):
                total += length * max(start, end) / abs(start - end)
    return total * 24, known * 24


def usual_gap(days: Sequence[float]) -> float | None:
    """Median days between events; None with fewer than two.

    >>> usual_gap([0, 1, 3, 6, 10]), usual_gap([0, 2])
    (2.5, 2)
    """
    gaps = [after - before for before, after in pairwise(days) if after > before]
    return median(gaps) if gaps else None


def fed_a_day(fed: Sequence[tuple[float, float]], span: float) -> float | None:
    """Feed a day [kg/day] of [(day, kg)] in a log of `span` days: what the last feeding brought is still to be eaten.

    What was given from the first feeding up to the last lasted from the one to the other. One feeding alone is spread
    over the log; None when that is under a day.
    >>> fed_a_day([(0, 3.0), (2, 3.0), (4, 3.0), (6, 3.0)], 6.0), fed_a_day([(0, 3.0)], 6.0)
    (1.5, 0.5)
    """
    lasted = fed[-1][0] - fed[0][0] if fed else 0.0
    if lasted >= 1:
        return sum(amount for day, amount in fed if day < fed[-1][0]) / lasted
    return sum(amount for _, amount in fed) / span if span >= 1 else None


@calculator(
    "records.lane",
    "What does my lane's log say, and what is due next?",
    leads={"records.chart": {}, "harvest.balance": {"mass": "feed_total"}, "lane.feeding": {}},
)
def lane(
    log: Annotated[
        Sequence[dict[str, Any]],
        Log(
            "Daily log",
            COLUMNS,
            also={"temp": "temperature"},
            help=(
                "As the daily sheet writes it. Clock times are used as written: a time zone in them (+02:00, Z) is left"
                " out, so keep to one. Leave a cell blank when nothing was read. Paste, drop or open a file."
            ),
            tolerant=True,
        ),
    ] = _quillfen(),
    worm_mass: WormMass = 1.5 * WORM_MASS,
    band_low: Annotated[
        float, Number("degC", "Coldest you want", -5, 30, help="For the hours outside the band.")
    ] = 10.0,
    band_high: Annotated[float, Number("degC", "Warmest you want", 5, 40)] = biology.BAND_HIGH.typical - 4,
) -> LaneLog:
    """Feed for worms, castings for feed, hours outside the band, drift and due dates from a daily log.

    log: rows of time, feed [kg], castings [kg], moisture [-], temperature [°C], water [kg], any but time blank;
    worm_mass [kg]; band [°C].
    Source: definitions; least squares.
    """
    if band_low >= band_high:
        raise Refused([("band_low", "Coldest you want must be below the warmest.")])
    rows = sorted(log, key=lambda row: row["time"])
    days = days_from(rows)
    span = days[-1] - days[0]
    fed = [(day, row["feed"]) for day, row in zip(days, rows) if row.get("feed")]
    watered = [day for day, row in zip(days, rows) if row.get("water")]
    temperatures = [(day, row["temperature"]) for day, row in zip(days, rows) if row.get("temperature") is not None]
    moistures = [(day, row["moisture"]) for day, row in zip(days, rows) if row.get("moisture") is not None]
    feed, castings = sum(amount for _, amount in fed), sum(row.get("castings") or 0.0 for row in rows)
    a_day = fed_a_day(fed, span)
    outside, known = hours_outside(temperatures, band_low, band_high)
    return LaneLog(
        feed_per_worm_mass_per_day=None if a_day is None else a_day / worm_mass,
        castings_per_feed=castings / feed if feed else None,
        hours_outside_band=outside if known else None,
        hours_known=known,
        next_feeding=due(rows, [day for day, _ in fed]),
        next_watering=due(rows, watered),
        temperature_drift_per_week=slope_per_week(temperatures),
        moisture_drift_per_week=slope_per_week(moistures),
        feed_total=feed,
        castings_total=castings,
        days=span,
    )


def due(rows: Sequence[dict[str, Any]], days: Sequence[float]) -> date | None:
    """Date of the next event after the usual gap; None without dates or with fewer than two events."""
    gap = usual_gap(days)
    if gap is None or not isinstance(rows[0]["time"], datetime):
        return None
    return (rows[0]["time"] + timedelta(days=days[-1] + gap)).date()


def _feed_steps(v: View, rows: Sequence[dict[str, Any]], days: Sequence[float]) -> list[Step]:
    """Feed and castings, summed over the rows of the log."""
    cells = [{"day": day, "feed": row.get("feed"), "castings": row.get("castings")} for day, row in zip(days, rows)]
    fed = [day for day, row in zip(days, rows) if row.get("feed")]
    used = {
        "rows": RowsPart("the rows of the log", {"day": "day", "feed": "kg", "castings": "kg"}, cells),
        "first": Part("the first feeding", fed[0] if fed else None, "day"),
        "last": Part("the last feeding", fed[-1] if fed else None, "day"),
    }
    spread = "(sum over {rows} of {feed} where {day} < {last}) ÷ ({last} − {first})"
    if fed and fed[-1] - fed[0] < 1:
        spread = "{feed_total} ÷ {days}"
    return [
        Step(
            "Feedings",
            "{first} = the first {day} of {rows} where {feed} > 0; {last} = the last {day} of {rows} where {feed} > 0",
            "counted from the first row",
            values=used,
        ),
        Step(
            "Feed for the worms",
            "{feed_per_worm_mass_per_day} = " + spread + " ÷ {worm_mass}",
            "what was laid last is still to be eaten",
            values=used,
        ),
        Step(
            "In all",
            "{feed_total} = sum over {rows} of {feed}; {castings_total} = sum over {rows} of {castings}; {days} = the"
            " last {day} of {rows}",
            "arithmetic",
            values=used,
        ),
        Step("Castings for the feed", "{castings_per_feed} = {castings_total} ÷ {feed_total}", "definition"),
    ]


def _pieces(points: Sequence[tuple[float, float]], steady: bool) -> list[dict[str, float]]:
    """Straight lines between readings that are near enough to tell: how long each, and its cooler and warmer end."""
    return [
        {"length": after[0] - before[0], "cooler": min(before[1], after[1]), "warmer": max(before[1], after[1])}
        for before, after in pairwise(points)
        if 0 < after[0] - before[0] <= LONGEST_GAP and (before[1] == after[1]) == steady
    ]


def _trend(what: str, name: str, unit_name: str, points: Sequence[tuple[float, float]]) -> list[Step]:
    """The slope of the least-squares line through readings; nothing with fewer than three."""
    if len(points) < 3:
        return []
    mean_day, mean = (sum(column) / len(points) for column in zip(*points))
    used = {
        "readings": RowsPart(
            "the readings",
            {"day": "day", "reading": unit_name},
            [{"day": day, "reading": value} for day, value in points],
        ),
        "mean_day": Part("mean day", mean_day, "day"),
        "mean": Part("mean reading", mean, unit_name),
    }
    return [
        Step(
            f"Drift of {what}",
            "{mean_day} = mean over {readings} of {day}; {mean} = mean over {readings} of {reading}; {"
            + name
            + "} = (sum over {readings} of ({day} − {mean_day}) × ({reading} − {mean})) ÷ (sum over {readings} of"
            " ({day} − {mean_day})^2)",
            "least squares",
            values=used,
        )
    ]


def _time_steps(v: View, rows: Sequence[dict[str, Any]], days: Sequence[float]) -> list[Step]:
    """Hours outside the band, what is due, and drifts."""
    temperatures = [(day, row["temperature"]) for day, row in zip(days, rows) if row.get("temperature") is not None]
    moistures = [(day, row["moisture"]) for day, row in zip(days, rows) if row.get("moisture") is not None]
    units = {"length": "day", "cooler": "degC", "warmer": "degC"}
    used: dict[str, Any] = {
        "slanting": RowsPart("lines that rise or fall", units, _pieces(temperatures, False)),
        "level": RowsPart("level lines", units, _pieces(temperatures, True)),
    }
    below = "(the larger of 0 and the smaller of 1 and ({band_low} − {cooler}) ÷ ({warmer} − {cooler}))"
    above = "(the larger of 0 and the smaller of 1 and ({warmer} − {band_high}) ÷ ({warmer} − {cooler}))"
    steps = [
        Step(
            "Hours that are known",
            "{hours_known} = sum over {slanting} of {length} + sum over {level} of {length}",
            "straight lines between readings at most two days apart",
            values=used,
        )
    ]
    if v.hours_outside_band is not None:
        equation = (
            "{hours_outside_band} = sum over {slanting} of {length} × ("
            + below
            + " + "
            + above
            + ") + (sum over {level} of {length} where {cooler} < {band_low} or {cooler} > {band_high})"
        )
        steps.append(Step("Hours outside", equation, "geometry", values=used))
    for what, name, title in (("feed", "next_feeding", "Next feeding"), ("water", "next_watering", "Next watering")):
        done = [day for day, row in zip(days, rows) if row.get(what)]
        gaps = [after - before for before, after in pairwise(done) if after > before]
        dated = isinstance(rows[0]["time"], datetime)
        if gaps and dated:
            begun = rows[0]["time"]
            start = (
                begun.toordinal()
                + (begun - datetime.combine(begun.date(), datetime.min.time())).total_seconds() / 86400
            )
            due = {
                "start": Part("first row", start, "day", text=f"{begun:%d %B %Y, %H:%M}"),
                "last": Part("days to the last one", done[-1], "day"),
                "gaps": RowsPart("the days between them", {"gap": "day"}, [{"gap": gap} for gap in gaps]),
            }
            equation = "{" + name + "} = {start} + {last} + the middle {gap} of {gaps}, rounded down"
            steps.append(Step(title, equation, "median of the gaps", values=due))
    return [
        *steps,
        *_trend("the temperature", "temperature_drift_per_week", "degC", temperatures),
        *_trend("the moisture", "moisture_drift_per_week", "1", moistures),
    ]


@presents(lane)
def show_lane(v: View) -> Show:
    rows = sorted(v.log, key=lambda row: row["time"])
    days = days_from(rows)
    weeks: dict[int, dict[str, Any]] = {}
    for day, row in zip(days, rows):
        week = weeks.setdefault(
            int(day // 7) + 1, {"feed": 0.0, "castings": 0.0, "water": 0.0, "temperature": [], "moisture": []}
        )
        for name in ("feed", "castings", "water"):
            week[name] += row.get(name) or 0.0
        for name in ("temperature", "moisture"):
            if row.get(name) is not None:
                week[name].append(row[name])

    def mean(values: Sequence[float]) -> float | None:
        return sum(values) / len(values) if values else None

    table = [
        (
            number,
            week["feed"],
            week["water"],
            week["castings"],
            mean(week["temperature"]),
            max(week["temperature"], default=None),
            mean(week["moisture"]),
        )
        for number, week in weeks.items()
    ]
    temperatures = [(day / 7, row["temperature"]) for day, row in zip(days, rows) if row.get("temperature") is not None]
    step = -(-len(temperatures) // 400)
    columns = [
        Column("week", "Week", "1"),
        Column("feed", "Feed", "kg"),
        Column("water", "Water", "kg"),
        Column("castings", "Castings", "kg"),
        Column("mean", "Mean temperature", "degC"),
        Column("warmest", "Warmest", "degC"),
        Column("moisture", "Moisture", "1", us="%", metric="%", digits=2),
    ]
    return Show(
        working=[
            *_feed_steps(v, rows, days),
            *_time_steps(v, rows, days),
        ],
        tables=[Table("weeks", "Week by week", columns, table, open=True)],
        figures=(
            [
                Figure(
                    "temperature",
                    "Bed temperature",
                    finding=(
                        "Readings lie too far apart to tell how long it was outside the band."
                        if v.hours_outside_band is None
                        else f"Outside the band for {v['hours_outside_band']} of {v['hours_known']} that are known."
                    ),
                    x=Axis("Week", "1"),
                    y=Axis("Bed temperature", "degC"),
                    marks=[
                        Mark("zone_y", [(v.band_low, v.band_high, "band")], tone="good"),
                        Mark("line", temperatures[::step]),
                    ],
                )
            ]
            if temperatures
            else []
        ),
        warnings=_warnings(v),
        reading=_reading(v),
    )


def _warnings(v: View) -> list[tuple[str | None, str]]:
    found: list[tuple[str | None, str]] = [("log", sentence) for sentence in getattr(v.log, "dropped", [])[:8]]
    if len(getattr(v.log, "dropped", [])) > 8:
        found.append(("log", f"And {len(v.log.dropped) - 8} more rows could not be read. The others are used."))
    if v.feed_per_worm_mass_per_day is not None and v.feed_per_worm_mass_per_day > 1.25:
        found.append(
            (
                None,
                (
                    "That is more than worms have been seen to eat. Uneaten feed heats and sours: look under the last"
                    " layer."
                ),
            )
        )
    if v.temperature_drift_per_week is not None and abs(v.temperature_drift_per_week) > 1.5:
        found.append(
            (
                None,
                (
                    f"The bed {'warms' if v.temperature_drift_per_week > 0 else 'cools'} by"
                    f" {v.say(abs(v.temperature_drift_per_week), 'K', digits=2)} a week. Look ahead at the chapter on"
                    " heat and frost."
                ),
            )
        )
    return found


def _reading(v: View) -> list[str]:
    sentences = []
    if v.feed_per_worm_mass_per_day is not None:
        word = (
            "little"
            if v.feed_per_worm_mass_per_day < facts.FEED_LOW.typical
            else "about what they can eat"
            if v.feed_per_worm_mass_per_day <= 1
            else "a great deal"
        )
        sentences.append(f"The worms had {v['feed_per_worm_mass_per_day']}: {word}.")
    if v.castings_per_feed:
        sentences.append(
            f"{v['castings_total']} of castings came out for {v['feed_total']} of feed, {v['castings_per_feed']}."
        )
    if v.hours_outside_band is None:
        sentences.append("How long the bed was outside the band cannot be told: readings lie over two days apart.")
    elif v.hours_outside_band:
        sentences.append(
            f"The bed was outside {v.yours('band_low')} to {v.yours('band_high')} for {v['hours_outside_band']}."
        )
    if v.next_feeding:
        sentences.append(
            f"At your usual pace the next feeding is due on {v['next_feeding']}"
            + (f", the next watering on {v['next_watering']}." if v.next_watering else ".")
        )
    return sentences or ["The log is too short to say anything yet. A week of it will."]
