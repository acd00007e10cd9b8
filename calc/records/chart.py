"""Is this tray, week or lane out of the ordinary? Individuals and moving-range chart with the four run rules."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Annotated, Any

from calc.engine import (
    Answer,
    Axis,
    Choice,
    Column,
    Count,
    Figure,
    Log,
    Mark,
    Number,
    Output,
    Refused,
    RowsPart,
    Series,
    Show,
    Step,
    Table,
    Text,
    View,
    calculator,
    presents,
)
from calc.engine.describe import first_few
from calc.facts import records as facts

QUILLFEN = (
    2010,
    1950,
    2080,
    2130,
    1980,
    2040,
    1920,
    2060,
    2110,
    1990,
    2020,
    1890,
    1930,
    1870,
    1910,
    1850,
    1900,
    1880,
    1860,
    1840,
)
"""Cocoons of twenty trays in a row at Quillfen, invented: the room has cooled after the eleventh."""
WHAT = {"cocoons": "Cocoons a tray", "mass": "Weight", "temperature": "Temperature", "other": "Something else"}
LOOK_FIRST = {
    "cocoons": "look at temperature and moisture before feed",
    "mass": "look at feed and moisture, then at how you weigh",
    "temperature": "look at the thermometer, the heater and the door",
    "other": "look at what changed right before the first of these points",
}


def moving_ranges(values: Sequence[float]) -> list[float]:
    """Differences between neighbours, without sign.

    >>> moving_ranges([49.0, 47.0, 50.0])
    [2.0, 3.0]
    """
    return [abs(after - before) for before, after in zip(values, values[1:])]


def limits(values: Sequence[float]) -> tuple[float, float, float, float, float]:
    """(centre, mean moving range, lower limit, upper limit, limit of ranges) of individuals.

    centre ± 3 × mean range ÷ 1.128. Source: NIST/SEMATECH e-Handbook 6.3.2.2; Montgomery.
    """
    centre = sum(values) / len(values)
    mean_range = sum(moving_ranges(values)) / (len(values) - 1)
    reach = 3 * mean_range / facts.RANGE_CONSTANT.typical
    return centre, mean_range, centre - reach, centre + reach, facts.RANGE_LIMIT.typical * mean_range


def run_rules(values: Sequence[float], centre: float, sigma: float) -> list[tuple[int, int, int]]:
    """[(index of the last point, rule, side)] where one of the four rules of Western Electric 1956 is met.

    1: one point beyond 3 sigma. 2: two of three beyond 2 sigma on one side. 3: four of five beyond 1 sigma on one side.
    4: eight in a row on one side.
    """
    found, on_one_side, last_side = [], 0, 0
    for place, value in enumerate(values):
        side = 1 if value > centre else -1 if value < centre else 0
        on_one_side = on_one_side + 1 if side and side == last_side else 1 if side else 0
        last_side = side
        distance = abs(value - centre)
        if distance > sigma and side:  # the first three rules end on a point well off the centre
            recent = [side * (other - centre) for other in values[max(0, place - 4) : place + 1]]
            if distance > 3 * sigma:
                found.append((place, 1, side))
            if distance > 2 * sigma and sum(x > 2 * sigma for x in recent[-3:]) >= 2:
                found.append((place, 2, side))
            if sum(x > sigma for x in recent) >= 4:
                found.append((place, 3, side))
        if on_one_side >= 8:
            found.append((place, 4, side))
    return found


def marked(values: Sequence[float], centre: float, sigma: float) -> list[tuple[int, int, int]]:
    """As run_rules; where the baseline never changed, so that chance has no width, every value that is another one."""
    if sigma > 0:
        return run_rules(values, centre, sigma)
    return [
        (place, 1, 1 if value > centre else -1)
        for place, value in enumerate(values)
        if abs(value - centre) > 1e-9 * abs(centre)
    ]


RULE_WORDS = {
    1: "beyond the limits",
    2: "two of three near a limit",
    3: "four of five well off the centre",
    4: "eight in a row on one side of the centre",
}


@dataclass(frozen=True)
class Chart(Answer):
    verdict: Annotated[str, Output("1", "In short", "", main=True)]
    centre: Annotated[float, Output("1", "Centre", "Mean of the baseline.", main=True, digits=4)]
    lower_limit: Annotated[float, Output("1", "Lower limit", "", main=True, digits=4)]
    upper_limit: Annotated[float, Output("1", "Upper limit", "", main=True, digits=4)]
    mean_range: Annotated[float, Output("1", "Mean moving range", "Between one value and the next.", digits=4)]
    range_limit: Annotated[
        float, Output("1", "Limit of a moving range", "A larger jump is out of the ordinary.", digits=4)
    ]
    outside_band: Annotated[
        int | None, Output("1", "Outside your own band", "Values below or above it. Blank without a band.")
    ]
    flags: Annotated[tuple[str, ...], Output("1", "Flags", "Each names the last point of what it saw, counted from 1.")]


@calculator(
    "records.chart",
    "Is this tray, week or lane out of the ordinary?",
    leads={"records.learn": {}, "records.lane": {}, "climate.today": {}},
)
def chart(
    values: Annotated[
        Sequence[float] | None,
        Series(
            "1",
            "Values, oldest first",
            -1e12,
            1e12,
            help="One for each tray, week or slice. A log with dates, below, takes their place.",
            optional=True,
            unless="log",
        ),
    ] = QUILLFEN,
    log: Annotated[
        Sequence[dict[str, Any]] | None,
        Log(
            "Or a log",
            {"time": Text("Time"), "value": Number("1", "Value", -1e12, 1e12)},
            help=(
                "Two columns, time and value, as the daily sheets write them. Rows count in the order in which they"
                " stand."
            ),
            optional=True,
            tolerant=True,
        ),
    ] = None,
    baseline: Annotated[
        int,
        Count(
            "1",
            "Baseline: the first so many",
            2,
            100000,
            help="Values from when all was well. Ten at least, twenty is better.",
        ),
    ] = 11,
    what: Annotated[str, Choice("What they are", WHAT, help="For the advice only.")] = "cocoons",
    band_low: Annotated[
        float | None,
        Number(
            "1",
            "Your own band, low",
            -1e12,
            1e12,
            help="What you want the values to be, whatever they are used to. Blank: no lower end.",
            optional=True,
            group="Your own band",
        ),
    ] = None,
    band_high: Annotated[
        float | None,
        Number(
            "1", "Your own band, high", -1e12, 1e12, help="Blank: no upper end.", optional=True, group="Your own band"
        ),
    ] = None,
) -> Chart:
    """Individuals and moving-range chart of a series, with the four run rules.

    values: numbers of any one kind; log: rows of time and value, used when values is blank; baseline: how many of the
    first set the limits; band_low, band_high: what the keeper wants, in the unit of the values, apart from what chance
    allows.
    Sources: NIST/SEMATECH e-Handbook 6.3.2.2; Western Electric 1956; limits of ranges Montgomery.
    """
    series = series_of(values, log)
    if len(series) < 3:
        dropped = getattr(log, "dropped", ())
        raise Refused(
            [
                (
                    "log" if dropped or log else "values",
                    " ".join(["Values: a chart needs at least three.", first_few(dropped)]).strip(),
                )
            ]
        )
    if band_low is not None and band_high is not None and band_low >= band_high:
        raise Refused([("band_low", "Your own band, low must be below its high end.")])
    count = min(baseline, len(series))
    centre, mean_range, lower, upper, range_limit = limits(series[:count])
    sigma = mean_range / facts.RANGE_CONSTANT.typical
    flags = flag_words(series, centre, sigma, range_limit)
    verdict = (
        "Nothing out of the ordinary"
        if not flags
        else f"{len(flags)} {'flag' if len(flags) == 1 else 'flags'}: something has changed"
    )
    return Chart(
        verdict=verdict,
        centre=centre,
        lower_limit=lower,
        upper_limit=upper,
        mean_range=mean_range,
        range_limit=range_limit,
        outside_band=outside_band(series, band_low, band_high),
        flags=tuple(flags),
    )


def outside_band(series: Sequence[float], low: float | None, high: float | None) -> int | None:
    """Values below low or above high; an end that is None is open, None when both are.

    >>> outside_band([1.0, 2.0, 3.0], 1.5, None), outside_band([1.0], None, None)
    (1, None)
    """
    if low is None and high is None:
        return None
    return sum((low is not None and value < low) or (high is not None and value > high) for value in series)


def series_of(values: Sequence[float] | None, log: Sequence[Any] | None) -> list[float]:
    return list(values) if values else [row["value"] for row in log or ()]


def flag_words(series: Sequence[float], centre: float, sigma: float, range_limit: float) -> list[str]:
    """Sentences, one for each stretch: a rule that goes on being met is told once, where it begins."""
    words: list[str] = []
    going_on: set[tuple[int, int]] = set()
    by_place: dict[int, set[tuple[int, int]]] = {}
    for place, rule, side in marked(series, centre, sigma):
        by_place.setdefault(place, set()).add((rule, side))
    for place in range(len(series)):
        now = by_place.get(place, set())
        for rule, side in sorted(now - going_on):
            words.append(f"point {place + 1}: {RULE_WORDS[rule]}, {'above' if side > 0 else 'below'}")
        going_on = now
    words += [
        f"points {place + 1} and {place + 2}: a jump of more than the limit of ranges"
        for place, jump in enumerate(moving_ranges(series))
        if jump > range_limit + 1e-9 * abs(centre)
    ]
    return words


def _own_band(v: View, series: Sequence[float]) -> list[Step]:
    """The values outside the band that the reader set; nothing without one."""
    sides = [
        words
        for words, end in (("{value} < {band_low}", v.band_low), ("{value} > {band_high}", v.band_high))
        if end is not None
    ]
    if not sides:
        return []
    values = {"all": RowsPart("all values", {"value": "1"}, [{"value": value} for value in series])}
    return [
        Step("Your own band", "{outside_band} = number of {all} where " + " or ".join(sides), "count", values=values)
    ]


@presents(chart)
def show_chart(v: View) -> Show:
    series = series_of(v.values, v.log)
    sigma = v.mean_range / facts.RANGE_CONSTANT.typical
    flagged = sorted({place for place, *_ in marked(series, v.centre, sigma)})
    numbered = list(enumerate(series, 1))
    shown = numbered[-300:]
    marks = [
        Mark("line", shown, tone="muted"),
        Mark("dots", [point for point in shown if point[0] - 1 not in flagged]),
        Mark("dots", [point for point in shown if point[0] - 1 in flagged], label="flagged", tone="warn"),
        Mark("rule_y", [(v.centre, "centre")], tone="second"),
        Mark("rule_y", [(v.upper_limit, "upper limit"), (v.lower_limit, "lower limit")], tone="warn"),
    ]
    if v.outside_band is not None:
        ends = (
            min([*series, v.lower_limit]) if v.band_low is None else v.band_low,
            max([*series, v.upper_limit]) if v.band_high is None else v.band_high,
        )
        marks.insert(0, Mark("zone_y", [(*ends, "your band")], tone="good"))
    base = series[: v.baseline]
    counted = RowsPart("the first of the values", {"value": "1"}, [{"value": value} for value in base])
    jumps = RowsPart("their jumps", {"jump": "1"}, [{"jump": jump} for jump in moving_ranges(base)])
    return Show(
        working=[
            Step(
                "Centre",
                "{centre} = mean over {counted} of {value}",
                "NIST/SEMATECH e-Handbook 6.3.2.2",
                values={"counted": counted, "value": ("value", "value")},
            ),
            Step(
                "Mean range",
                "{mean_range} = mean over {jumps} of {jump}",
                "NIST/SEMATECH e-Handbook 6.3.2.2",
                values={"jumps": jumps, "jump": ("jump from one to the next", "jump")},
            ),
            Step(
                "Limits",
                "{lower_limit} and {upper_limit} = {centre} ∓ 3 × {mean_range} ÷ 1.128",
                "NIST/SEMATECH e-Handbook 6.3.2.2",
            ),
            Step("Ranges", "{range_limit} = 3.267 × {mean_range}", "Montgomery, D4 for two"),
            Step(
                "Rules",
                "one beyond 3σ; two of three beyond 2σ; four of five beyond 1σ; eight in a row on one side:"
                " these give {flags}",
                "Western Electric 1956",
                prose=True,
            ),
            *_own_band(v, series),
        ],
        tables=[
            Table(
                "values",
                "The values",
                [
                    Column("number", "Number", "1"),
                    Column("value", "Value", "1", digits=5),
                    Column("range", "Jump from the one before", "1", digits=4),
                    Column("flag", "Flag"),
                ],
                [
                    (
                        number,
                        value,
                        None if number == 1 else abs(value - series[number - 2]),
                        "flagged" if number - 1 in flagged else "",
                    )
                    for number, value in shown
                ],
            )
        ],
        figures=[
            Figure(
                "chart",
                WHAT[v.what],
                finding=v.verdict + ".",
                x=Axis("Number", "1"),
                y=Axis(WHAT[v.what], "1"),
                marks=[mark for mark in marks if mark.points],
            )
        ],
        warnings=_warnings(v, series),
        reading=_reading(v, series, flagged),
    )


def _warnings(v: View, series: Sequence[float]) -> list[tuple[str, str]]:
    found = [("log", sentence) for sentence in getattr(v.log, "dropped", [])[:5]]
    if v.baseline < 10:
        found.append(("baseline", f"{v.baseline} values are few for limits: ten at least, twenty is better."))
    if v.baseline >= len(series):
        found.append(
            (
                "baseline",
                (
                    "The baseline takes in every value, so a change would hide in its own limits. Use only those from"
                    " when all was well."
                ),
            )
        )
    if v.outside_band == len(series):
        found.append(
            (
                "band_low" if v.band_low is not None else "band_high",
                "Every value lies outside your own band. Is it in the same unit as the values?",
            )
        )
    if v.mean_range == 0:
        found.append(("values", "The baseline never changes at all. Is the figure really read anew each time?"))
    return found


def _reading(v: View, series: Sequence[float], flagged: Sequence[int]) -> list[str]:
    return _about_chance(v, series, flagged) + _about_band(v, series)


def _about_band(v: View, series: Sequence[float]) -> list[str]:
    if v.outside_band is None:
        return []
    if not v.outside_band:
        return ["All values lie inside your own band."]
    inside = v.outside_band < len(series) and not v.flags
    return [
        f"{v.outside_band} of {len(series)} {'lies' if v.outside_band == 1 else 'lie'} outside your own band."
        + (" Chance alone puts them there: change how you work, or the band." if inside else "")
    ]


def _about_chance(v: View, series: Sequence[float], flagged: Sequence[int]) -> list[str]:
    if not v.flags:
        return [
            "All values lie where chance alone would put them. Change nothing on their account.",
            (
                f"Even so, with four rules chance raises a flag about once in {facts.FALSE_ALARM.typical:.0f} points,"
                " oftener after a short baseline."
            ),
        ]
    first = v.flags[0]
    side = "below" if sum(series[place] < v.centre for place in flagged) * 2 >= len(flagged) else "above"
    return [
        f"First flagged: {first.replace(': ', ', ', 1)}.",
        f"Most flagged points lie {side} the centre of {v['centre']}: {LOOK_FIRST[v.what]}.",
        (
            f"One flag alone may be chance, about once in {facts.FALSE_ALARM.typical:.0f} points, oftener after a short"
            " baseline. Several in a row seldom are."
        ),
    ]
