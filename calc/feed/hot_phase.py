"""Did my heap get hot enough for long enough before the worms?"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from typing import Annotated, Any

from calc.engine import (
    Answer,
    Axis,
    Choice,
    Column,
    Figure,
    Log,
    Mark,
    Number,
    Output,
    Part,
    Refused,
    RowsPart,
    Show,
    Step,
    Table,
    Text,
    Trace,
    Verdict,
    View,
    calculator,
    numbered,
    presents,
)
from calc.facts import feed as facts
from calc.feed.heat import (
    HOTTEST_HEAP,
    LETHAL_FROM,
    days_in,
    hot_at,
    in_other_unit,
    known_spans,
    lethality,
    longest,
    mean_above,
    stretches,
)

SHOWN_POINTS = 400  # readings drawn; more cannot be told apart in a figure


@dataclass(frozen=True)
class HeatLog:
    """A log made ready: hours since the first reading, temperatures [°C] or None where not believed, the first time
    (datetime, or the first hour), and remarks as (row or None, sentence)."""

    hours: Sequence[float]
    temperatures: Sequence[float | None]
    first: Any
    remarks: Sequence[tuple[int | None, str]]

    def when(self, hour: float) -> datetime | float:
        """A moment of the log as the reader wrote times: a datetime, or hours."""
        moment: datetime | float = self.first + (timedelta(hours=hour) if isinstance(self.first, datetime) else hour)
        return moment

    def hour_of(self, time: datetime | float) -> float | None:
        """Hours since the first reading, or None when the time is of the other kind."""
        if isinstance(self.first, datetime) != isinstance(time, datetime):
            return None
        return _hours_between(self.first, time)


def _hours_between(first: Any, time: Any) -> float:
    """Hours from one moment to another, both dates or both hours."""
    hours: float = (time - first).total_seconds() / 3600 if isinstance(time, datetime) else time - first
    return hours


@dataclass(frozen=True)
class HeatTrace:
    """What a log showed: the log made ready, hours of its turnings, its hot and its organic stretches [h], and what
    each public rule says of it.
    """

    ready: HeatLog
    turned: Sequence[float]
    hot: Sequence[tuple[float, float]]
    organic: Sequence[tuple[float, float]]
    verdicts: Mapping[str, Verdict]


@dataclass(frozen=True)
class HotPhase(Answer):
    longest_hot_days: Annotated[
        float, Output("day", "Longest hot stretch", "Longest time running at 55 °C (131 °F) or more.", main=True)
    ]
    hot_days: Annotated[
        float, Output("day", "Hot time in all", "All time at 55 °C (131 °F) or more, breaks left out.", main=True)
    ]
    meets_enclosed: Annotated[
        bool,
        Output(
            "1",
            "Hot for three days running",
            "55 °C (131 °F) or more: the rule for an enclosed or aerated heap.",
            main=True,
        ),
    ]
    meets_windrow: Annotated[
        bool,
        Output(
            "1",
            "Fifteen hot days and five turnings",
            "The rule for a turned windrow: hot time in all, and turnings made while hot.",
            main=True,
        ),
    ]
    turnings_in_hot: Annotated[
        int, Output("1", "Turnings while hot", "Made at 55 °C or more, or within three hours of such a reading.")
    ]
    meets_organic: Annotated[
        bool | None,
        Output(
            "1",
            "US organic rule",
            "The method's days from 55 to 76.7 °C (131 to 170 °F) and a starting C:N of 25 to 40; blank when the C:N is"
            " not given.",
        ),
    ]
    longest_organic_days: Annotated[
        float,
        Output("day", "Longest stretch within the organic limits", "Running, from 55 to 76.7 °C (131 to 170 °F)."),
    ]
    organic_days: Annotated[
        float, Output("day", "Time within the organic limits", "In all, from 55 to 76.7 °C (131 to 170 °F).")
    ]
    lethality: Annotated[
        float,
        Output(
            "1",
            "Heat gathered",
            "By the published time and temperature equation; 1 is enough. A guide only: the equation is not the rule"
            " for compost.",
        ),
    ]
    highest_temperature: Annotated[float, Output("degC", "Highest reading", "Of those believed.")]
    readings_used: Annotated[int, Output("1", "Readings used", "Rows of the log that were believed.")]
    time_unknown: Annotated[
        float, Output("day", "Time not known", "In gaps longer than allowed, and beside readings left out.")
    ]
    trace: Annotated[HeatTrace, Trace("The log as it was read, its hot stretches, and what each rule says")] = field(
        compare=False, repr=False
    )


@calculator(
    "feed.hot_phase",
    "Did my heap get hot enough for long enough before the worms?",
    leads={"lane.lives": {}, "moisture.test": {}, "lane.feeding": {}},
)
def hot_phase(
    log: Annotated[
        Sequence[dict[str, Any]],
        Log(
            "Temperature log",
            {"time": Text("Time"), "temperature": Number("degC", "Temperature", -60, 400)},
            also={"temp": "temperature"},
            help=(
                "One row a reading: date and time (2027-03-02T07:00), or hours since the start, then the temperature of"
                " the core."
            ),
            tolerant=True,
        ),
    ] = facts.DEMO_LOG,
    method: Annotated[
        str,
        Choice(
            "How the heap is made",
            {"enclosed": "Enclosed, or aerated and left alone", "windrow": "Turned windrow"},
            help=(
                "An aerated heap has air blown or drawn through it. A windrow is a long heap turned over by fork or"
                " machine."
            ),
        ),
    ] = "enclosed",
    turnings: Annotated[
        Sequence[dict[str, Any]],
        Log(
            "Turnings",
            {"time": Text("Time")},
            help="When the heap was turned, written like the times of the log. None: leave empty.",
            optional=True,
        ),
    ] = (),
    longest_gap_hours: Annotated[
        float,
        Number(
            "hour",
            "Longest gap between readings",
            0.1,
            1000,
            fact=facts.LONGEST_GAP,
            help=(
                "Readings further apart than this leave the time between unknown. 14 for twice a day; 26 if you read"
                " once a day."
            ),
        ),
    ] = facts.LONGEST_GAP.typical,
    starting_carbon_nitrogen: Annotated[
        float | None,
        Number(
            "1",
            "C:N when the heap was made",
            1,
            1000,
            optional=True,
            help="For the organic rule; the recipe page works it out. Blank: that rule is not judged.",
        ),
    ] = 30.0,
) -> HotPhase:
    """Hot stretches, turnings and gathered heat of a temperature log, held against the published rules.

    Source: 40 CFR part 503 appendix B (three days, or fifteen days and five turnings, at 55 °C); 7 CFR 205.203(c)(2)
    (131 to 170 °F, C:N 25 to 40); 40 CFR 503.32(a)(3)(ii) (time and temperature).
    """
    ready = read_log(log, longest_gap_hours, turnings)
    turned = read_turnings(turnings, ready)
    series = (ready.hours, ready.temperatures, longest_gap_hours)
    hot = stretches(*series, facts.HOT.typical)
    organic = stretches(*series, facts.HOT.typical, facts.ORGANIC_HIGHEST.typical)
    believed = [temperature for temperature in ready.temperatures if temperature is not None]
    turnings_in_hot = sum(hot_at(hour, *series, facts.HOT.typical) for hour in turned)
    known = sum(end - start for start, end in stretches(*series, -1000.0)) / 24
    verdicts = judged(series, hot, organic, turnings_in_hot, method, starting_carbon_nitrogen)
    return HotPhase(
        longest_hot_days=_length(longest(hot)),
        hot_days=days_in(hot),
        meets_enclosed=bool(verdicts["enclosed"].met),
        meets_windrow=bool(verdicts["windrow"].met),
        turnings_in_hot=turnings_in_hot,
        meets_organic=verdicts["organic"].met,
        longest_organic_days=_length(longest(organic)),
        organic_days=days_in(organic),
        lethality=lethality(*series),
        highest_temperature=max(believed),
        readings_used=len(believed),
        time_unknown=max(0.0, (ready.hours[-1] - ready.hours[0]) / 24 - known),
        trace=HeatTrace(ready, turned, hot, organic, verdicts),
    )


def judged(
    series: tuple[Sequence[float], Sequence[float | None], float],
    hot: Sequence[tuple[float, float]],
    organic: Sequence[tuple[float, float]],
    turnings: int,
    method: str,
    carbon_nitrogen: float | None,
) -> dict[str, Verdict]:
    """{rule: whether it is met, with the figures of the log that decide it}; every limit is a fact with its source.

    40 CFR 503 appendix B (enclosed, windrow, weaker), the New York text (running), 7 CFR 205.203 (organic), 40 CFR
    503.33 (flies).
    """
    warm = longest(stretches(*series, facts.WARM.typical))
    hot_in_warm = sum(max(0.0, min(end, warm[1]) - max(start, warm[0])) for start, end in hot) if warm else 0.0
    fly_days, fly_mean = mean_above(*series, facts.WARM.typical)
    running, total = _length(longest(hot)), days_in(hot)
    turned = turnings >= facts.WINDROW_TURNINGS.typical
    weaker = _reaches(_length(warm), facts.WARM_DAYS.typical) and hot_in_warm >= facts.WARM_HOT_HOURS.typical
    flies = _reaches(fly_days, facts.FLY_DAYS.typical) and fly_mean is not None and fly_mean > facts.FLY_MEAN.typical
    return {
        "enclosed": Verdict(_reaches(running, facts.ENCLOSED_DAYS.typical), {"days": running}),
        "windrow": Verdict(_reaches(total, facts.WINDROW_DAYS.typical) and turned, {"days": total}),
        "running": Verdict(_reaches(running, facts.WINDROW_DAYS.typical) and turned, {"days": running}),
        "organic": Verdict(
            meets_organic(method, _length(longest(organic)), days_in(organic), turnings, carbon_nitrogen)
        ),
        "weaker": Verdict(weaker, {"days": _length(warm), "hot_hours": hot_in_warm}),
        "flies": Verdict(flies, {"days": fly_days, "mean": fly_mean}),
    }


def _length(stretch: tuple[float, float] | None) -> float:
    return (stretch[1] - stretch[0]) / 24 if stretch else 0.0


def _reaches(days: float, needed: float) -> bool:
    """Whether a time is long enough; a second short is rounding of interpolated crossings, not a shortfall."""
    return days >= needed - 1e-6


def meets_organic(
    method: str, longest_days: float, days: float, turnings: int, carbon_nitrogen: float | None
) -> bool | None:
    """Whether the US organic rule for heaps with manure is met; None when the starting C:N is not known.

    7 CFR 205.203(c)(2): C:N 25 to 40, and 131 to 170 °F for 3 days (in-vessel or aerated) or 15 days and 5 turnings.
    """
    if carbon_nitrogen is None:
        return None
    if not facts.ORGANIC_CARBON_NITROGEN.low <= carbon_nitrogen <= facts.ORGANIC_CARBON_NITROGEN.high:
        return False
    if method == "windrow":
        return _reaches(days, facts.WINDROW_DAYS.typical) and turnings >= facts.WINDROW_TURNINGS.typical
    return _reaches(longest_days, facts.ENCLOSED_DAYS.typical)


# --- reading the log ------------------------------------------------------------------------------------------------


def read_log(log: Sequence[dict[str, Any]], longest_gap: float, turnings: Sequence[Any] = ()) -> HeatLog:
    """A HeatLog from rows of time and temperature: sorted, repeated times settled, odd readings set aside.

    Refused when times are of two kinds, or when fewer than two readings are left.
    """
    rows = [(row["time"], row["temperature"], number) for number, row in numbered(log)]
    remarks = _dropped(log)
    _refuse_two_kinds([(time, number) for time, _, number in rows], "log")
    if len(rows) < 2:
        raise Refused([("log", "The log needs at least two readings with a time and a temperature.")])
    if any(later[0] < earlier[0] for earlier, later in zip(rows, rows[1:])):
        number = next(later[2] for earlier, later in zip(rows, rows[1:]) if later[0] < earlier[0])
        remarks.append((number, f"Row {number} is earlier than the row before it: the log was put in order of time."))
        rows.sort(key=lambda row: row[0])
    rows = _settle_repeats(rows, remarks)
    first = rows[0][0]
    hours = [_hours_between(first, time) for time, _, _ in rows]
    temperatures = [temperature for _, temperature, _ in rows]
    if sum(temperature > HOTTEST_HEAP for temperature in temperatures) > len(temperatures) / 2:
        raise Refused(
            [
                (
                    "log",
                    (
                        "Most readings are above 95 °C, hotter than any heap. They look like °F: say so in the column's"
                        " heading, or switch the units."
                    ),
                )
            ]
        )
    turned = read_turnings(turnings, HeatLog(hours, temperatures, first, ()))
    odd = set(in_other_unit(hours, temperatures, longest_gap, turned))
    odd |= {position for position, temperature in enumerate(temperatures) if temperature > HOTTEST_HEAP}
    if odd:
        numbers = [rows[position][2] for position in sorted(odd)]
        which = f"Row {numbers[0]} reads" if len(numbers) == 1 else f"Rows {as_ranges(numbers)} read"
        doubt = "like °F among °C, or °C among °F (or the probe was out of the heap)"
        mend = "Left out, and the time beside them counts as not known: put them right and load the log again."
        remarks.append((numbers[0], f"{which} {doubt}. {mend}"))
    kept = [None if position in odd else temperature for position, temperature in enumerate(temperatures)]
    if sum(temperature is not None for temperature in kept) < 2:
        raise Refused([("log", "Fewer than two readings can be believed: check the temperature column.")])
    return HeatLog(hours, kept, first, remarks)


def _dropped(log: Sequence[dict[str, Any]], most: int = 6) -> list[tuple[int | None, str]]:
    """Remarks on rows that could not be read; the rest of the log was kept."""
    dropped = getattr(log, "dropped", ())
    remarks: list[tuple[int | None, str]] = [(None, f"{sentence} The row was left out.") for sentence in dropped[:most]]
    if len(dropped) > most:
        remarks.append((None, f"{len(dropped) - most} more rows could not be read and were left out."))
    return remarks


def _refuse_two_kinds(times: Sequence[tuple[datetime | float, int]], name: str) -> None:
    dated = [isinstance(time, datetime) for time, _ in times]
    if any(dated) and not all(dated):
        common = sum(dated) * 2 >= len(dated)
        odd = as_ranges([number for (_, number), is_date in zip(times, dated) if is_date != common])
        kind = "a number among dates" if common else "a date among numbers of hours"
        raise Refused([(name, f"Row {odd}: {kind}. Write all times in one way.")])
    zones = [time.tzinfo is not None for time, _ in times if isinstance(time, datetime)]
    if any(zones) and not all(zones):
        raise Refused([(name, "Some times name a time zone and some do not. Write all of them in one way.")])


def _settle_repeats(
    rows: Sequence[tuple[Any, float, int]], remarks: list[tuple[int | None, str]]
) -> list[tuple[Any, float, int]]:
    """One reading for each time: the lowest, so that a doubtful reading never makes a heap look hotter."""
    settled: list[tuple[Any, float, int]] = []
    repeated: list[int] = []
    for row in rows:
        if settled and settled[-1][0] == row[0]:
            repeated.append(row[2])
            if row[1] < settled[-1][1]:
                settled[-1] = row
        else:
            settled.append(row)
    if repeated:
        which = (
            f"Row {repeated[0]} repeats a time" if len(repeated) == 1 else f"Rows {as_ranges(repeated)} repeat a time"
        )
        remarks.append((repeated[0], f"{which}: the lowest reading of each time was kept."))
    return settled


def as_ranges(numbers: Iterable[int], most: int = 6) -> str:
    """Row numbers in a few words.
    >>> as_ranges([3, 4, 5, 9])
    '3 to 5, 9'
    """
    runs: list[list[int]] = []
    for number in sorted(numbers):
        if runs and number == runs[-1][1] + 1:
            runs[-1][1] = number
        else:
            runs.append([number, number])
    words = [str(first) if first == last else f"{first} to {last}" for first, last in runs]
    return ", ".join(words[:most]) + (f" and {len(words) - most} more places" if len(words) > most else "")


def read_turnings(turnings: Sequence[Any], ready: HeatLog) -> list[float]:
    """Hours of the turnings since the first reading, each once; Refused when written in another way than the log."""
    times = [(row["time"], number) for number, row in numbered(turnings or ())]
    _refuse_two_kinds(times, "turnings")
    hours = {ready.hour_of(time) for time, _ in times}
    known = sorted(hour for hour in hours if hour is not None)
    if len(known) < len(hours):
        kind = "dates" if isinstance(ready.first, datetime) else "hours"
        raise Refused([("turnings", f"The log's times are {kind}: write the turnings as {kind} too.")])
    return known


# --- what the page shows beside the numbers -------------------------------------------------------------------------


@presents(hot_phase)
def show_hot_phase(v: View) -> Show:
    trace: HeatTrace = v.trace
    ready, turned, hot = trace.ready, trace.turned, trace.hot
    return Show(
        working=_working(v, trace),
        tables=[_rules(v, trace.verdicts), _stretch_table(ready, hot)],
        figures=[_figure(v, ready, hot, turned)],
        warnings=_warnings(v, ready, hot, turned),
        reading=_reading(v),
    )


def _moment(ready: HeatLog, hour: float) -> float | str:
    when = ready.when(hour)
    return when.isoformat(timespec="minutes") if isinstance(when, datetime) else when


def _say_moment(ready: HeatLog, hour: float) -> str:
    when = ready.when(hour)
    return f"{when.day} {when:%B}, {when:%H:%M}" if isinstance(when, datetime) else f"hour {when:.4g}"


def _working(v: View, trace: HeatTrace) -> list[Step]:
    best = longest(trace.hot)
    rules = "40 CFR 503 appendix B"
    parts = {
        "stretches": RowsPart("all hot stretches", {"stretch": "hour"}, _lengths(trace.hot)),
        "within": RowsPart("all stretches inside the organic limits", {"stretch": "hour"}, _lengths(trace.organic)),
        "stretch": ("length", "length"),
        "turned": RowsPart(
            "the turnings",
            {"hot": "1"},
            [
                {
                    "hot": hot_at(
                        hour, trace.ready.hours, trace.ready.temperatures, v.longest_gap_hours, facts.HOT.typical
                    )
                }
                for hour in trace.turned
            ],
        ),
        "readings": RowsPart(
            "the readings believed",
            {"reading": "degC"},
            [{"reading": reading} for reading in trace.ready.temperatures if reading is not None],
        ),
        "known": RowsPart("lines between readings near enough", PIECE_UNITS, _pieces(v, trace)),
        "span": Part("time from the first reading to the last", trace.ready.hours[-1] - trace.ready.hours[0], "hour"),
        "rising": RowsPart("lines that rise or fall", PIECE_UNITS, _lethal(_pieces(v, trace), False)),
        "level": RowsPart("level lines", PIECE_UNITS, _lethal(_pieces(v, trace), True)),
        "enclosed_days": Part("days asked of an enclosed heap", facts.ENCLOSED_DAYS.typical, "day"),
        "windrow_days": Part("days asked of a windrow", facts.WINDROW_DAYS.typical, "day"),
        "windrow_turnings": Part("turnings asked", facts.WINDROW_TURNINGS.typical),
        "least_ratio": Part("the least C:N asked", facts.ORGANIC_CARBON_NITROGEN.low),
        "most_ratio": Part("the most", facts.ORGANIC_CARBON_NITROGEN.high),
    }
    steps = []
    if best:
        start, end = (_say_moment(trace.ready, hour) for hour in best)
        parts |= {
            "start": Part("when it became hot", best[0], "hour", text=start),
            "end": Part("when it ceased to be", best[1], "hour", text=end),
        }
        crossing = f"Crossings of {v.say(facts.HOT.typical, 'degC')} are found on a straight line between two readings."
        steps.append(Step("Longest hot stretch", "{longest_hot_days} = {end} − {start}", rules, crossing, parts))
    in_organic = "{longest_organic_days} ≥ {enclosed_days}"
    if v.method == "windrow":
        in_organic = "{organic_days} ≥ {windrow_days} and {turnings_in_hot} ≥ {windrow_turnings}"
    ratio = "{starting_carbon_nitrogen} ≥ {least_ratio} and {starting_carbon_nitrogen} ≤ {most_ratio}"
    windrow = "{hot_days} ≥ {windrow_days} and {turnings_in_hot} ≥ {windrow_turnings}"
    return [
        *steps,
        Step("Hot in all", "{hot_days} = sum over {stretches} of {stretch}", rules, values=parts),
        Step(
            "Readings and turnings",
            "{turnings_in_hot} = number of {turned} where {hot}; {highest_temperature} = the largest {reading} of"
            " {readings}; {readings_used} = number of {readings}",
            rules,
            values=parts,
        ),
        Step(
            "Time unknown",
            "{time_unknown} = {span} − sum over {known} of {length}",
            "readings further apart than the longest gap leave the time between unknown",
            values=parts,
        ),
        Step(
            "Inside the organic limits",
            "{organic_days} = sum over {within} of {stretch}"
            + ("; {longest_organic_days} = the largest {stretch} of {within}" if v.organic_days else ""),
            "7 CFR 205.203",
            f"From {v.say(facts.HOT.typical, 'degC')} to {v.say(facts.ORGANIC_HIGHEST.typical, 'degC')}.",
            parts,
        ),
        Step(
            "Met or not",
            "{meets_enclosed} = {longest_hot_days} ≥ {enclosed_days}; {meets_windrow} = " + windrow,
            rules,
            values=parts,
        ),
        Step("Organic rule", "{meets_organic} = " + f"{ratio} and {in_organic}", "7 CFR 205.203", values=parts),
        Step(
            "Heat gathered",
            "{lethality} = sum over {rising} of {length} ÷ 131,700,000 days × (10^(0.14 × {warmer} in °C) − 10^(0.14 ×"
            " {cooler} in °C)) ÷ (0.14 × ln 10 × ({warmer} − {cooler}) in °C) + sum over {level} of {length} ÷"
            " 131,700,000 days × 10^(0.14 × {cooler} in °C)",
            "40 CFR 503.32(a)(3)(ii)",
            "Time ÷ D, with D = 131,700,000 ÷ 10^(0.14 t) days; t in °C, from 50 °C up. Each piece of the log is"
            " integrated exactly.",
            parts,
        ),
    ]


PIECE_UNITS = {"length": "hour", "warmer": "degC", "cooler": "degC"}


def _pieces(v: View, trace: HeatTrace) -> list[dict[str, float]]:
    """Straight lines between readings near enough: how long, and their warmer and cooler end."""
    return [
        {"length": end - start, "warmer": max(first, second), "cooler": min(first, second)}
        for start, end, first, second in known_spans(trace.ready.hours, trace.ready.temperatures, v.longest_gap_hours)
    ]


def _lethal(pieces: Sequence[Mapping[str, float]], level: bool) -> list[dict[str, float]]:
    """The parts of lines that lie from 50 °C up; level ones, or those that rise or fall."""
    found = []
    for piece in pieces:
        length, warmer, cooler = piece["length"], piece["warmer"], piece["cooler"]
        if warmer < LETHAL_FROM or (warmer == cooler) != level:
            continue
        above = 1.0 if cooler >= LETHAL_FROM else (warmer - LETHAL_FROM) / (warmer - cooler)
        if above > 0:
            found.append({"length": length * above, "warmer": warmer, "cooler": max(cooler, LETHAL_FROM)})
    return found


def _lengths(found: Sequence[tuple[float, float]]) -> list[dict[str, float]]:
    return [{"stretch": end - start} for start, end in found]


def _rules(v: View, verdicts: Mapping[str, Verdict]) -> Table:
    """Each published rule in words: what it asks, what the log has, whether that is enough."""

    def days(number: float) -> str:
        return v.say(number, "day")

    def degrees(limit: Any) -> str:
        return v.say(limit.typical, "degC")

    def enough(rule: str) -> str:
        return {True: "met", False: "not met", None: "not judged: no C:N"}[verdicts[rule].met]

    running = f"{facts.ENCLOSED_DAYS.typical:g} days running"
    turned = f"{facts.WINDROW_TURNINGS.typical:g} turnings"
    in_all = f"{facts.WINDROW_DAYS.typical:g} days"
    needed = running if v.method == "enclosed" else f"{in_all}, {turned}"
    organic_has = v.longest_organic_days if v.method == "enclosed" else v.organic_days
    ratio = "" if v.starting_carbon_nitrogen is None else f", C:N {v.starting_carbon_nitrogen:.3g}"
    turnings = f"{v.turnings_in_hot} turning" + ("" if v.turnings_in_hot == 1 else "s")
    band = f"{degrees(facts.HOT)} to {degrees(facts.ORGANIC_HIGHEST)}"
    asked_ratio = f"{facts.ORGANIC_CARBON_NITROGEN.low:g} to {facts.ORGANIC_CARBON_NITROGEN.high:g}"
    weaker, flies = verdicts["weaker"].has, verdicts["flies"].has
    weaker_asks = f"{degrees(facts.WARM)} for {facts.WARM_DAYS.typical:g} days running"
    hours = f"{facts.WARM_HOT_HOURS.typical:g} hours of it above {degrees(facts.HOT)}"
    fly_mean = "" if flies["mean"] is None else f", {v.say(flies['mean'], 'degC')}"
    fly_asks = (
        f"{facts.FLY_DAYS.typical:g} days running above {degrees(facts.WARM)}, {degrees(facts.FLY_MEAN)} on average"
    )
    rows = [
        (
            "Enclosed or aerated heap (40 CFR 503)",
            f"{degrees(facts.HOT)} for {running}",
            days(v.longest_hot_days),
            enough("enclosed"),
        ),
        (
            "Turned windrow (40 CFR 503)",
            f"{degrees(facts.HOT)} for {in_all} in all, {turned}",
            f"{days(v.hot_days)}, {turnings}",
            enough("windrow"),
        ),
        (
            "Turned windrow (New York)",
            f"{degrees(facts.HOT)} for {in_all} running, {turned}",
            f"{days(v.longest_hot_days)}, {turnings}",
            enough("running"),
        ),
        (
            "US organic, heaps with manure (7 CFR 205.203)",
            f"{band} for {needed}, C:N {asked_ratio}",
            days(organic_has) + ratio,
            enough("organic"),
        ),
        (
            "Weaker treatment (40 CFR 503)",
            f"{weaker_asks}, {hours}",
            f"{days(weaker['days'])}, {v.say(weaker['hot_hours'], 'hour')} hot",
            enough("weaker"),
        ),
        ("Flies and rats (40 CFR 503.33, second-hand)", fly_asks, days(flies["days"]) + fly_mean, enough("flies")),
    ]
    columns = [Column("rule", "Rule"), Column("asks", "Asks"), Column("has", "This log"), Column("met", "So")]
    return Table("rules", "What the rules ask, and what this log has", columns, rows, open=True)


def _stretch_table(ready: HeatLog, hot: Sequence[tuple[float, float]]) -> Table:
    rows = [(_say_moment(ready, start), _say_moment(ready, end), (end - start) / 24) for start, end in hot[:40]]
    return Table(
        "stretches",
        "Hot stretches",
        [Column("start", "From"), Column("end", "To"), Column("length", "Length", "day")],
        rows,
    )


def _warnings(
    v: View, ready: HeatLog, hot: Sequence[tuple[float, float]], turned: Sequence[float]
) -> list[tuple[str | None, str]]:
    said: list[tuple[str | None, str]] = [("log", sentence) for _, sentence in ready.remarks]
    gaps = [
        (start, end) for start, end in zip(ready.hours, ready.hours[1:]) if end - start > v.longest_gap_hours + 1e-6
    ]
    if gaps:
        longest_gap = max(gaps, key=lambda gap: gap[1] - gap[0])
        count = "One gap is" if len(gaps) == 1 else f"{len(gaps)} gaps are"
        where = (
            f"the longest {v.say(longest_gap[1] - longest_gap[0], 'hour')} from {_say_moment(ready, longest_gap[0])}"
        )
        said.append(
            (
                "log",
                (
                    f"{count} longer than {v['longest_gap_hours']}, {where}. That time is not counted, and it breaks a"
                    " stretch."
                ),
            )
        )
    if gaps and len(gaps) > 0.8 * (len(ready.hours) - 1):
        daily = "If you read once a day, set the gap to 26 hours."
        said.append(
            (
                "longest_gap_hours",
                f"Nearly all readings are further apart than the longest gap, so nothing can count. {daily}",
            )
        )
    outside = [hour for hour in turned if not 0 <= hour <= ready.hours[-1]]
    if outside:
        said.append(("turnings", f"{len(outside)} of the turnings lie outside the log and do not count."))
    if v.method == "windrow" and not turned:
        said.append(("turnings", "No turnings are given: the rule for a turned windrow asks for five while it is hot."))
    if v.highest_temperature > facts.ORGANIC_HIGHEST.typical:
        danger = (
            "the organic rule stops counting, the useful microbes die too, and large heaps can catch fire: open it."
        )
        said.append(
            (
                None,
                (
                    f"The heap reached {v['highest_temperature']}. Above {v.say(facts.ORGANIC_HIGHEST.typical, 'degC')}"
                    f" {danger}"
                ),
            )
        )
    ratio = v.starting_carbon_nitrogen
    if ratio is not None and not facts.ORGANIC_CARBON_NITROGEN.low <= ratio <= facts.ORGANIC_CARBON_NITROGEN.high:
        said.append(
            ("starting_carbon_nitrogen", f"A starting C:N of {ratio:.3g} lies outside the organic rule's 25 to 40.")
        )
    last = next(temperature for temperature in reversed(ready.temperatures) if temperature is not None)
    if last > facts.READY_FOR_WORMS.high:
        cool = f"Let it cool below {v.say(facts.READY_FOR_WORMS.high, 'degC')} and try a handful first."
        said.append((None, f"The last reading is {v.say(last, 'degC')}: too hot for worms. {cool}"))
    return said


def _reading(v: View) -> list[str]:
    degrees = v.say(55, "degC")
    lines = [f"The heap was at {degrees} or more for {v['hot_days']} in all, {v['longest_hot_days']} of it running."]
    if v.method == "enclosed":
        short = 3 - v.longest_hot_days
        lines.append(
            "That meets three days running."
            if v.meets_enclosed
            else f"Three days running are asked: {v.say(short, 'day')} short."
        )
    else:
        short = max(0.0, facts.WINDROW_DAYS.typical - v.hot_days)
        missing = max(0, round(facts.WINDROW_TURNINGS.typical) - v.turnings_in_hot)
        wanted = [f"{v.say(short, 'day')}"] if short > 1e-6 else []
        wanted += [f"{missing} turning{'s' if missing > 1 else ''} while hot"] if missing else []
        more = f"Fifteen days and five turnings are asked: {' and '.join(wanted)} are missing."
        lines.append("That meets fifteen days and five turnings." if v.meets_windrow else more)
    if not (v.meets_enclosed if v.method == "enclosed" else v.meets_windrow):
        lines.append(
            "Turn the outside in, check moisture and C:N, make the heap larger or cover it; then start counting again."
        )
    lines.append(
        "The log tells the temperature where the probe was. The outside of the heap is cooler: turn it in, and let that"
        " heat too."
    )
    lines.append(
        "Worm beds do not get hot enough to kill germs by heat. What has to be made safe by heat is made safe here."
    )
    return lines


def _figure(v: View, ready: HeatLog, hot: Sequence[tuple[float, float]], turned: Sequence[float]) -> Figure:
    dated = isinstance(ready.first, datetime)

    def at(hour: float) -> Any:
        return _moment(ready, hour)

    best = longest(hot)
    met = v.meets_enclosed if v.method == "enclosed" else v.meets_windrow
    counted = hot[:60] if v.method == "windrow" else [best] if best else []  # what the method's rule counts
    label = f"{v['hot_days']} in all" if v.method == "windrow" else f"{v['longest_hot_days']} running"
    marks = []
    if counted:
        zones = [(at(start), at(end), label if (start, end) == best else "") for start, end in counted]
        marks.append(Mark("zone_x", zones, tone="good" if met else "muted"))
    marks.append(
        Mark(
            "rule_y",
            [(facts.HOT.typical, v.say(55, "degC")), (facts.ORGANIC_HIGHEST.typical, v.say(230 / 3, "degC"))],
            tone="warn",
            dashed=True,
        )
    )
    points: list[tuple[Any, float | None]] = []
    for piece in _drawn_pieces(ready, v.longest_gap_hours):
        points += [(at(hour), temperature) for hour, temperature in piece]
        points.append((at(piece[-1][0]), None))  # None breaks the line
    marks.append(Mark("line", points[:-1], label="core of the heap"))
    inside = [hour for hour in turned if 0 <= hour <= ready.hours[-1]]
    if inside:
        marks.append(
            Mark(
                "rule_x",
                [(at(hour), "turned" if index == 0 else "") for index, hour in enumerate(inside)],
                tone="second",
                dashed=True,
            )
        )
    if best is None:
        finding = f"The heap never reached {v.say(55, 'degC')}."
    elif met:
        finding = (
            f"The heap was hot for {v['longest_hot_days']} running and {v['hot_days']} in all: enough for this method."
        )
    else:
        finding = (
            f"The heap was hot for {v['longest_hot_days']} running and {v['hot_days']} in all: not enough for this"
            " method."
        )
    return Figure(
        "log",
        "Temperature of the heap",
        finding=finding,
        x=Axis("Date", kind="time") if dated else Axis("Time", "hour"),
        y=Axis("Temperature", "degC", high=90.0),
        marks=marks,
    )


def _drawn_pieces(ready: HeatLog, longest_gap: float) -> list[list[tuple[float, float]]]:
    """Unbroken pieces of the log, thinned so that peaks and dips stay: the lowest and highest of each short span."""
    pieces: list[list[tuple[float, float]]] = []
    piece: list[tuple[float, float]] = []
    for hour, temperature in zip(ready.hours, ready.temperatures):
        if piece and (temperature is None or hour - piece[-1][0] > longest_gap + 1e-6):
            pieces.append(piece)
            piece = []
        if temperature is not None:
            piece.append((hour, temperature))
    pieces.append(piece)
    step = max(1, 2 * len(ready.hours) // SHOWN_POINTS)
    return [_thinned(piece, step) for piece in pieces if piece]


def _thinned(piece: list[tuple[float, float]], step: int) -> list[tuple[float, float]]:
    if step == 1:
        return piece
    kept = [piece[0]]
    for start in range(0, len(piece), step):
        span = piece[start : start + step]
        kept += sorted({min(span, key=lambda point: point[1]), max(span, key=lambda point: point[1])})
    return sorted({*kept, piece[-1]})
