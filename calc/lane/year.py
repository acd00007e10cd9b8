"""The first year at a glance: what is done when, counted from the day the worms go in."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, timedelta
from typing import Annotated, Any

from calc.climate.season import season
from calc.engine import (
    DAYS_A_MONTH,
    NOTHING,
    YARD3,
    Answer,
    Axis,
    Band,
    Choice,
    Column,
    Event,
    Figure,
    Mark,
    Number,
    Output,
    Part,
    RowsPart,
    Show,
    Step,
    Table,
    View,
    calculator,
    presents,
    told_all,
)
from calc.engine.view import day_text
from calc.facts import biology
from calc.facts import lane as facts
from calc.inputs import (
    CLIMATE,
    START_DATE,
    WORM_MASS,
    CalendarName,
    ClimateChoice,
    StartDate,
    WormMass,
    YearChoice,
)
from calc.inputs import YEAR as YEAR_KIND
from calc.lane import questions
from calc.lane.asked import BaseWait, FollowedLane, asks_for_a_lane, lane_plan
from calc.lane.followed import days_part, layers_part
from calc.lane.heaps import feed_of_heap, fresh_volume, heaps
from calc.lane.model import LanePlan, days_to_slice, first_castings_day, follow, follow_span, needs_cover
from calc.lane.starter import floor_warnings, season_warnings

MONTHS = [
    "january",
    "february",
    "march",
    "april",
    "may",
    "june",
    "july",
    "august",
    "september",
    "october",
    "november",
    "december",
]
YEAR = 365
GETTING_READY = 42
"""Days before the worms in which rules, ground, water and materials are seen to; common practice, no source."""
BUILDING = 7
"""Days for building, filling and wetting the lane; common practice, no source."""
FIRST_FEEDING, EVERY_OTHER_DAY = 3, 28
"""Days from the worms to the first feeding, and through which the bed is looked at every other day; common practice, no
source.
"""
DAYS_APART = 7
"""Days between what was typed and what the lane gives that are not worth a word."""
SELLING = 90
"""Days of first sales that the picture shows."""
HARDEST = 84
"""Days of the hardest season, in which a start is warned of: twelve weeks; common practice, no source."""
READY_BEFORE_SEASON = 21
"""Days before cold or heat in which covers or shade are made ready; common practice, no source."""
SHADED_ABOVE = 15.0
"""Mean of the air over which shade and hose are needed [°C]; our own judgement, no source. A fed lane in shade is then
at about 25 °C, from where on it is watched: the tests hold it against the lane model.
"""
STRAW = 1.4
"""Of four inches (10 cm) of dry straw [m² K/W], as the forms say."""
WORTH_SAYING = 0.1
"""Share by which the feed of the cold months differs under a cover that is worth a sentence; our own judgement."""
ONE_SPELL = 21
"""Days between two spells of cold or heat that are too few to put anything away [day]; our own judgement, no source."""


PAGES = {
    "Get ready": "lane/index.html#choose-the-place",
    "Heap of feed": "feed/hot-phase.html#make-the-heap",
    "Build and fill": "lane/starter.html#build-it",
    "Base lies": "lane/starter.html#build-it",
    "Worms settle": "lane/starter.html#the-first-seven-days",
    "Feed in thin layers": "lane/feeding.html",
    "First slice may come": "harvest/index.html",
    "First sales": "economics/index.html",
    "Compare with the plan": "records/index.html",
    "Cover against frost": "climate/frost.html",
    "Shade and water": "climate/water.html",
}
"""Where each task of the year is told."""


@dataclass(frozen=True)
class Year(Answer):
    begin: Annotated[date, Output("1", "Begin to get ready", "Rules, ground, water, materials.", main=True)]
    heap: Annotated[
        date, Output("1", "Make the first heap of feed", "So that it is cool when the worms want it.", main=True)
    ]
    worms_in: Annotated[date, Output("1", "Worms go in", "The start date you gave.")]
    first_slice: Annotated[
        date | None, Output("1", "First slice, if all goes as usual", "Look for worms first.", main=True)
    ]
    first_slice_early: Annotated[date | None, Output("1", "First slice, at the earliest", "A fast herd on good feed.")]
    first_slice_late: Annotated[
        date | None, Output("1", "First slice, at the latest", "A slow herd. Three years from the start: later still.")
    ]
    first_feeding_date: Annotated[date | None, Output("1", "First feeding, on", "The first day that the bed allows.")]
    first_feeding_mass: Annotated[
        float | None, Output("kg", "First feeding", "A thin layer on the base's own face.", digits=2)
    ]
    feed_of_year: Annotated[float, Output("kg", "Feed in the first year", "To fetch or to compost.", digits=2)]
    heaps_of_year: Annotated[
        int,
        Output(
            "1",
            "Heaps of feed in the first year",
            "Each of a cubic yard (0.76 m³) of fresh mix, or of what two weeks take, where that is more.",
        ),
    ]
    days_without_feeding: Annotated[
        int, Output("1", "Days of the year too cold or too hot to feed", "The winter stop, most of all.")
    ]
    first_sale: Annotated[
        date | None, Output("1", "First sale", "After drying and screening, and with a first buyer found.", main=True)
    ]
    year_ends: Annotated[date, Output("1", "A year is round", "Compare what you wrote down with what you planned.")]
    plan: FollowedLane = field(compare=False, repr=False)


@calculator(
    "lane.year",
    "What happens when in the first year?",
    page="start.html",
    samples=100,
    leads={"feed": {}, "lane.starter": {}, "economics.cash": {}, "climate.today": {}},
)
@told_all
@asks_for_a_lane
def year(
    start_date: StartDate = START_DATE,
    climate: ClimateChoice = CLIMATE,
    year: YearChoice = YEAR_KIND,
    worm_mass: WormMass = WORM_MASS,
    days_to_first_slice: Annotated[
        float | None,
        Number(
            "day",
            "Days to the first slice",
            30,
            1095,
            optional=True,
            fact=facts.FIRST_SLICE,
            help="Growers report six to nine months; four at the quick end is our own judgement. Blank: your lane,"
            " followed day by day, as on the page about the first lane.",
        ),
    ] = None,
    base_wait: BaseWait = facts.BASE_WAIT.typical,
    heap_days: Annotated[
        float,
        Number(
            "day",
            "Days a heap of feed takes",
            0,
            180,
            fact=facts.HEAP_DAYS,
            help="Heating, turning, cooling down. 0 for feed that is aged already.",
        ),
    ] = facts.HEAP_DAYS.typical,
    days_to_sale: Annotated[
        float | None,
        Number(
            "day",
            "Days from a slice to its sale",
            0,
            365,
            optional=True,
            fact=facts.SLICE_TO_SALE,
            help="Growers sell on day two or three. Blank: as long as a slice takes to dry in the air of its month, and"
            " a week for the screen and a first buyer.",
        ),
    ] = None,
    coldest_month: Annotated[
        str | None,
        Choice(
            "Coldest month",
            {month: month.capitalize() for month in MONTHS},
            optional=True,
            help="Where you are. The hottest is half a year away. Blank: that of the climate.",
        ),
    ] = None,
    calendar_name: CalendarName = None,
    *,
    asked: Mapping[str, Any] = NOTHING,
    **lane: Any,
) -> Year:
    """Dates of the first year.

    Days are counted from start_date. First feeding and first slice: the lane followed day by day, early and late its
    fast and slow
    case. Where the days to the first slice are typed, early and late are as far from them as the published range of
    lanes is from its
    middle. Source: sums of days; calc.lane.model.
    """
    plan = lane_plan(asked)
    due = _due(plan, days_to_first_slice)
    layers = questions.feeding_rows(plan)
    feeding = layers[0][0] if layers else start_date + timedelta(days=FIRST_FEEDING)
    heap = questions.whole_day(feeding, -heap_days)
    days = follow_span(plan)[:YEAR]
    low, high = biology.BAND_LOW.typical, biology.BAND_HIGH.typical
    return Year(
        begin=min(
            start_date - timedelta(days=GETTING_READY), heap, start_date - timedelta(days=round(base_wait) + BUILDING)
        ),
        heap=heap,
        worms_in=start_date,
        first_slice=questions.date_after(plan, None if due is None else due.value),
        first_slice_early=questions.date_after(plan, None if due is None else due.low),
        first_slice_late=questions.date_after(plan, None if due is None else due.high),
        first_feeding_date=layers[0][0] if layers else None,
        first_feeding_mass=layers[0][2] if layers else None,
        feed_of_year=sum(day.laid for day in days),
        heaps_of_year=len(heaps(plan, heap_days)),
        days_without_feeding=sum(not low <= day.bed_temperature <= high for day in days),
        first_sale=questions.date_after(
            plan, None if due is None else due.value + to_sale(plan, due.value, days_to_sale)
        ),
        year_ends=start_date + timedelta(days=YEAR),
        plan=plan,
    )


def _due(plan: LanePlan, typed: float | None) -> Band | None:
    """Days to the first slice: of the lane, or as typed with the published width of lanes."""
    if typed is None:
        return questions.first_slice(plan)
    return facts.FIRST_SLICE.band().times(typed / facts.FIRST_SLICE.typical)


def to_sale(plan: LanePlan, sliced: float, typed: float | None) -> int:
    """Days from a slice, taken so many days after the start, to its sale: as typed, or as the air of its month lets it
    dry.
    """
    return plan.sale_wait(sliced) if typed is None else round(typed)


def _first_feeding(v: View, plan: LanePlan) -> list[Step]:
    """The first layer, as the page about the first lane has it."""
    if v.first_feeding_date is None:
        return []
    layers = layers_part(plan, follow(plan, questions.SPAN))
    used = {"layers": layers, "first": Part("days to the first layer", layers.rows[0]["day"], "day", digits=2)}
    return [
        Step(
            "First feeding",
            "{first_feeding_mass} = the first {laid} of {layers}; {first_feeding_date} = {start_date} + {first}",
            "the lane followed day by day; common practice, no source",
            "Three days after the worms, or when the bed allows it.",
            used,
        )
    ]


def coldest(v: View) -> str:
    """The coldest month: as set, or that of the season."""
    if v.coldest_month is not None:
        return str(v.coldest_month)
    means = season(v.climate, v.monthly_temperature, v.year).monthly_means
    return MONTHS[min(range(12), key=means.__getitem__)]


def hardest_weeks(month: str, day: date) -> bool:
    """Whether a day lies in the twelve weeks around the middle of a month.

    >>> hardest_weeks("january", date(2026, 12, 5)), hardest_weeks("january", date(2027, 3, 1))
    (True, False)
    """
    middles = [date(number, MONTHS.index(month) + 1, 16) for number in (day.year - 1, day.year, day.year + 1)]
    return any(abs(middle - day) <= timedelta(days=HARDEST // 2) for middle in middles)


def spells(v: View, asked: Callable[[float], bool], first: date, last: date) -> list[tuple[date, date]]:
    """[(first day, last day)] of the spells in which the mean of the air [°C] asks for something, between two days.

    The air is that of the season of all pages; a coldest month that was typed moves it.
    """
    year_of = season(v.climate, v.monthly_temperature, v.year)
    own = min(range(12), key=year_of.monthly_means.__getitem__)
    later = round((MONTHS.index(coldest(v)) - own) * YEAR / 12)
    days = [first + timedelta(days=number) for number in range((last - first).days + 1)]
    found: list[tuple[date, date]] = []
    for day in days:
        if not asked(year_of.air(day.timetuple().tm_yday - later)):
            continue
        if found and day - found[-1][1] <= timedelta(days=ONE_SPELL):
            found[-1] = found[-1][0], day
        else:
            found.append((day, day))
    return found


def needs_shade(air: float) -> bool:
    """Whether the mean of the air [°C] is such that a fed lane has to be kept from heat."""
    return air > SHADED_ABOVE


def has_seasons(v: View) -> bool:
    """Whether the bed feels the year: not one that is held at a temperature, in a cellar or a heated shed."""
    return v.plan.season is not None or v.coldest_month is not None


def opposite(month: str) -> str:
    """The month half a year away: the hottest, where the other is the coldest."""
    return MONTHS[(MONTHS.index(month) + 6) % 12]


def _late(v: View) -> str:
    """When the first slice comes at the latest, where the year ends before that."""
    if v.first_slice_late is None or v.first_slice_late <= v.year_ends or _open_end(v):
        return ""
    return f" With a slow herd as late as {v['first_slice_late']}."


def _castings(v: View) -> str:
    """When castings of the reader's own feed come, as the page about the first lane has it."""
    days = questions.typical_day(v.plan, first_castings_day)
    when = questions.date_after(v.plan, days)
    return "" if when is None else f" Castings of your own feed follow about {day_text(when)}."


def _heap_parts(v: View) -> dict[str, Part | RowsPart]:
    """What the working of the heaps rests on."""
    found = heaps(v.plan, v.heap_days)
    volume, feed = (found[0].volume, found[0].feed) if found else (None, None)
    return {
        "made": RowsPart("the heaps", {"volume": "m3"}, [{"volume": heap.volume} for heap in found]),
        "first_heap": Part("fresh mix of the first heap", volume, "m3"),
        "first_leaves": Part("feed that it leaves", feed, "kg"),
        "mix_leaves": Part("dry matter that a heap leaves of its fresh mix", facts.HEAP_LEAVES.typical, "kg/m3"),
        "moisture": Part("moisture of the feed", v.plan.feed_moisture, "1"),
    }


def _heap_tasks(v: View, feeding: date) -> list[tuple[str, date, date, str]]:
    """A row for each heap of the year, as tasks has them."""
    what, words = "Heap of feed", "Make it, turn it, let it cool. Only cool feed goes near worms."
    found = heaps(v.plan, v.heap_days)
    if not found:
        return [(what, v.heap, feeding, words)]
    sizes = [
        f"{v.say(heap.volume, 'm3', digits=2)} of fresh mix leaves {v.say(heap.feed, 'kg', digits=2)} of feed."
        for heap in found
    ]
    return [
        (what, heap.made, heap.ready, f"{words if heap is found[0] else 'The next one.'} {size}")
        for heap, size in zip(found, sizes)
    ]


def tasks(v: View) -> list[tuple[str, date, date, str]]:
    """[(what, first day, last day, in a few words)] of the year, in the order in which they begin."""
    start, end = v.worms_in, v.year_ends
    feeding = v.first_feeding_date or start + timedelta(days=FIRST_FEEDING)
    settled = start + timedelta(days=EVERY_OTHER_DAY)
    built = start - timedelta(days=round(v.base_wait))
    found = [
        (
            "Get ready",
            v.begin,
            built - timedelta(days=BUILDING),
            f"Ask about rules, choose shade and drainage, buy boards and compost. Order the worms for {v['worms_in']}.",
        ),
        *_heap_tasks(v, feeding),
        (
            "Build and fill",
            built - timedelta(days=BUILDING),
            built,
            "Frame, boards, base. Water it over the last two days.",
        ),
        ("Base lies", built, start, "Wait until it is cool all through."),
        ("Worms settle", start, settled, "A layer only when the last is gone. Look under the surface every other day."),
        (
            "Feed in thin layers",
            settled,
            end,
            "More while it is warm and the worms multiply, less in the cold: never before the last layer is gone.",
        ),
        (
            "First slice may come",
            v.first_slice_early or end,
            v.first_slice_late or end,
            "From the back, when it is nearly free of worms. Dry and screen it." + _late(v),
        ),
        (
            "First sales",
            v.first_sale or end,
            (v.first_sale or end) + timedelta(days=SELLING),
            "The base that you bought, worked through: sell it as that." + _castings(v),
        ),
        (
            "Compare with the plan",
            end - timedelta(days=30),
            end,
            "What did it take, what did it give? Then longer lanes or trays, not both.",
        ),
    ]
    for needed, what, words in (
        (
            needs_cover,
            "Cover against frost",
            "Dry straw and a sheet lie ready. On while high and low average under 50 °F (10 °C). Off when they have"
            " been over it four days running.",
        ),
        (
            needs_shade,
            "Shade and water",
            "Cloth is up and the hose reaches. Both stay until the bed, half-way down, is under 77 °F (25 °C) on four"
            " mornings running. Then squeeze each week, and water by the can.",
        ),
    ):
        around = spells(v, needed, built, end + timedelta(days=READY_BEFORE_SEASON)) if has_seasons(v) else []
        found += [(what, begins - timedelta(days=READY_BEFORE_SEASON), ends, words) for begins, ends in around]
    clipped = [(what, max(begins, v.begin), min(ends, end), words) for what, begins, ends, words in found]
    return sorted((task for task in clipped if task[1] < task[2]), key=lambda task: task[1])


@presents(year)
def show_year(v: View) -> Show:
    rows, plan = tasks(v), v.plan
    starts = start_rows(plan)
    due = _due(plan, v.days_to_first_slice)
    return Show(
        working=[
            *_first_feeding(v, plan),
            Step("Heap", "{heap} = {first_feeding_date} − {heap_days}, rounded", "sum of days"),
            Step(
                "First slice",
                "{first_slice} = {worms_in} + {due}, rounded; {first_slice_early} = {worms_in} + {soonest}, rounded;"
                " {first_slice_late} = {worms_in} + {latest}, rounded",
                "the lane followed day by day, its fast and slow case; where the days were typed, × 4 ÷ 6 and × 9 ÷ 6",
                "Growers report six to nine months: common practice, no source. The quick end of four is judgement.",
                {
                    "due": Part("days to the first slice", None if due is None else due.value, "day", digits=3),
                    "soonest": Part("days in the fast case", None if due is None else due.low, "day", digits=3),
                    "latest": Part("days in the slow case", None if due is None else due.high, "day", digits=3),
                },
            ),
            Step(
                "First sale",
                "{first_sale} = {first_slice} + {wait}",
                "drying as on the page from slice to screen, and a week for the screen and a first buyer (our own"
                " judgement); or as typed",
                values={
                    "wait": Part(
                        "days to dry, screen and sell",
                        None if due is None else to_sale(plan, due.value, v.days_to_sale),
                        "day",
                    )
                },
            ),
            Step(
                "Heaps",
                "{heaps_of_year} = number of {made}; {first_leaves} = {first_heap} × {mix_leaves} ÷ (1 − {moisture})",
                "balance of dry matter; what heat takes is our own judgement",
                "Each is ready on the day on which the one before is laid out, and is made its days before. It is of a"
                " cubic yard, or of what two weeks take. Heat takes three tenths of its dry matter.",
                values=_heap_parts(v),
            ),
            Step(
                "Feed",
                "{feed_of_year} = sum over {days} of {laid}; {days_without_feeding} × 1 day = 1 day × number of {days}"
                " where {bed} < {band_low} or {bed} > {band_high}",
                "the lane followed day by day",
                values={
                    "days": days_part(plan, follow(plan, questions.SPAN)[:YEAR]),
                    "band_low": Part("coldest at which it is fed", biology.BAND_LOW.typical, "degC"),
                    "band_high": Part("warmest at which it is fed", biology.BAND_HIGH.typical, "degC"),
                },
            ),
        ],
        tables=[
            Table(
                "year",
                "The year, task by task",
                [
                    Column("what", "What"),
                    Column("begins", "From"),
                    Column("ends", "To"),
                    Column("words", "In a few words"),
                ],
                rows,
                open=True,
                pages=[PAGES[what] for what, *_ in rows],
            ),
            _months(v, plan),
            Table(
                "starts",
                "If the worms come in another month",
                [
                    Column("month", "Worms come on the 1st of"),
                    Column("date", "First slice"),
                    Column("days", "After", "day", digits=2),
                ],
                [(month, day or "not within three years", after) for month, day, after in starts],
            ),
        ],
        figures=[_picture(v, rows), _starts_figure(starts)],
        warnings=_warnings(v, plan),
        reading=_reading(v),
        events=[Event(begins, what, words) for what, begins, _, words in rows]
        + ([Event(v.first_feeding_date, "First feeding", _first_layer(v))] if v.first_feeding_date else [])
        + ([Event(v.first_slice, "First slice is about due", "Look for worms in it first.")] if v.first_slice else [])
        + [
            Event(v.year_ends, "A year with worms", "Compare what you wrote down with what you planned."),
        ],
        cautions=[
            "The dates are for planning. Weather, worms and feed decide: a bed that is hot, sour or dry comes before"
            " any date."
        ],
    )


def _first_layer(v: View) -> str:
    return f"A thin layer, {v['first_feeding_mass']}. Wait until it is gone."


def _months(v: View, plan: LanePlan) -> Table:
    leaves = v.say(feed_of_heap(plan, YARD3), "kg", digits=2)
    return Table(
        "months",
        "Feed to have ready, month by month",
        [
            Column("month", "From"),
            Column("bed", "Bed", "degC", digits=2),
            Column("feed", "Feed", "kg", digits=2),
            Column("volume", "Its volume", "m3", us="ft3", metric="L", digits=2),
            Column("heaps", "Fresh heaps of a cubic yard (0.76 m³)", "1", digits=2),
        ],
        [
            (month, bed, feed, feed / plan.feed_bulk_density, fresh_volume(plan, feed) / YARD3)
            for month, bed, feed, *_ in questions.month_rows(plan)
        ],
        note="Where it says nothing, the bed is too cold or too hot to feed all month. The first and the last month may"
        f" be parts of one. Heaps are counted fresh: one of a cubic yard (0.76 m³) leaves about {leaves} of feed,"
        " heated, cooled and watered up (our own judgement).",
    )


def winter_feed(plan: LanePlan, cover_resistance: float) -> float:
    """Feed of the first year on the days on which a cover would lie [kg], with such a cover [m² K/W] or none."""
    days = follow_span(replace(plan, cover_resistance=cover_resistance))[:YEAR]
    return sum(day.laid for day in days if needs_cover(day.air))


def winter_words(v: View, plan: LanePlan) -> list[str]:
    """Whether the plan's winter is that of a bare or of a covered bed, and what the other would eat."""
    own = winter_feed(plan, plan.cover_resistance)
    other = winter_feed(plan, 0.0 if plan.cover_resistance else STRAW)
    if plan.season is None or abs(own - other) <= WORTH_SAYING * max(own, other):
        return []
    eaten, instead = (v.say(each, "kg", digits=2) for each in (own, other))
    if plan.cover_resistance:
        return [f"Reckoned with your cover on in the cold months: they take {eaten} of feed, without it {instead}."]
    return [
        f"Reckoned for a bed that lies bare in the cold months: they take {eaten} of feed. Under four inches (10 cm) of"
        f" dry straw they take {instead}: type R-8 (1.4 m²K/W) at “Resistance of the cover”, and have it ready."
    ]


def start_rows(plan: LanePlan) -> list[tuple[str, date | None, int | None]]:
    """(month, first slice, days to it) for worms that come on the first of each month of a year."""
    found = []
    for month in range(1, 13):
        start = date(plan.start_date.year, month, 1)
        after = days_to_slice(replace(plan, start_date=start), questions.HORIZON)
        found.append((MONTHS[month - 1].capitalize(), None if after is None else start + timedelta(days=after), after))
    return found


def _starts_figure(starts: Sequence[tuple[str, date | None, int | None]]) -> Figure:
    known = [(month, after) for month, _, after in starts if after is not None]
    if known:
        quickest, slowest = min(known, key=lambda row: row[1]), max(known, key=lambda row: row[1])
        finding = (
            f"Worms that come in {quickest[0]} have the first slice after {quickest[1] / DAYS_A_MONTH:.0f} months,"
            f" those of {slowest[0]} after {slowest[1] / DAYS_A_MONTH:.0f}."
        )
        if quickest[1] == slowest[1]:
            finding = "In a bed of one temperature every month is alike."
    else:
        finding = "In this season no month of the start brings a slice within three years."
    return Figure(
        "starts",
        "First slice by the month in which the worms come",
        finding,
        Axis("Worms go in", kind="band"),
        Axis("Months to the first slice", "1", low=0),
        [Mark("bars", [(month[:3], after / DAYS_A_MONTH) for month, after in known])],
        numbers_in="starts",
    )


def _picture(v: View, rows: Sequence[tuple[str, date, date, str]]) -> Figure:
    names = list(dict.fromkeys(what for what, *_ in rows))
    spans = [
        (what, begins.isoformat(), ends.isoformat()) for name in names for what, begins, ends, _ in rows if what == name
    ]
    finding = "Six weeks of getting ready, then feeding all year; the first slice " + (
        "does not come within three years."
        if v.first_slice is None
        else f"falls on {day_text(v.first_slice_early)} at the earliest, and with a slow herd not within three years."
        if _open_end(v)
        else f"falls between {day_text(v.first_slice_early)} and {day_text(v.first_slice_late)}."
    )
    marks = [Mark("spans", spans), Mark("rule_x", [(v.worms_in.isoformat(), "worms go in")], tone="second")]
    if v.first_slice and v.first_slice < v.year_ends:
        marks.append(Mark("rule_x", [(v.first_slice.isoformat(), "first slice")], tone="second"))
    return Figure("plan", "The first year", finding, Axis("Date", kind="time"), Axis("", kind="band"), marks)


def _typed_apart(v: View, plan: LanePlan) -> list[tuple[str | None, str]]:
    """That days were typed which are not those of the lane: the other pages go by the lane."""
    if v.days_to_first_slice is None:
        return []
    due = questions.first_slice(plan)
    if due is not None and abs(due.value - v.days_to_first_slice) <= DAYS_APART:
        return []
    followed = "gives none within three years" if due is None else f"takes {v.say(due.value, 'day', digits=2)}"
    return [
        (
            "days_to_first_slice",
            f"You typed {v['days_to_first_slice']}. Your lane, followed day by day, {followed}, and the other pages go"
            " by that. Leave it blank, and all say one date.",
        )
    ]


def _warnings(v: View, plan: LanePlan) -> list[tuple[str | None, str]]:
    found: list[tuple[str | None, str]] = []
    for month, words in (
        (
            coldest(v),
            (
                "in the coldest twelve weeks of the year. Worms settle badly in a cold bed: start in spring, or"
                " indoors, or see the pages on frost."
            ),
        ),
        (
            opposite(coldest(v)),
            (
                "in the hottest twelve weeks of the year. Have shade up and water at hand on the first day, or wait a"
                " few weeks."
            ),
        ),
    ):
        if has_seasons(v) and hardest_weeks(month, v.worms_in):
            found.append(("start_date", f"The worms would go in {words}"))
    if v.first_slice is None or v.first_slice > v.year_ends:
        found.append(
            (
                "days_to_first_slice",
                (
                    "The first slice does not fall into the first year. What brings it nearer:"
                    f" {questions.brings_it_nearer(plan)}."
                ),
            )
        )
    return found + _typed_apart(v, plan) + season_warnings(v, plan) + floor_warnings(v, plan)


def _open_end(v: View) -> bool:
    """Whether the late case has no slice in the three years followed: it was put at their end."""
    return v.days_to_first_slice is None and v.first_slice_late - v.worms_in >= timedelta(days=questions.HORIZON)


def _reading(v: View) -> list[str]:
    sentences = [
        f"Begin on {v['begin']}: rules, ground, water. Make the first heap of feed on {v['heap']}.",
        f"Worms go in on {v['worms_in']}; the first layers are thin: look often.",
    ]
    if v.first_feeding_date:
        sentences.append(
            f"The first feeding is {v['first_feeding_mass']} on {v['first_feeding_date']}. The first year takes"
            f" {v['feed_of_year']} of feed, from {v.heaps_of_year} {'heap' if v.heaps_of_year == 1 else 'heaps'}."
        )
    sentences += winter_words(v, v.plan)
    if v.days_without_feeding:
        sentences.append(f"On {v.days_without_feeding} days of the year the bed is too cold or too hot to feed.")
    if v.first_slice is None:
        return [
            *sentences,
            f"No slice comes within three years. What brings it nearer: {questions.brings_it_nearer(v.plan)}.",
        ]
    late = f"at the latest about {day_text(v.first_slice_late)}"
    late_days = (v.first_slice_late - v.worms_in).days
    last = v.first_slice_late + timedelta(days=to_sale(v.plan, late_days, v.days_to_sale))
    return [
        *sentences,
        (
            f"The first slice comes about {v['first_slice']}, and"
            f" {'with a slow herd not within three years' if _open_end(v) else late}. It is the base that you bought."
            f" The first sale follows about {v['first_sale']}."
        ),
        f"Until then there is no income: plan the money to {day_text(last)}{', or longer' if _open_end(v) else ''}.",
    ]
