"""The first year at a glance: what is done when, counted from the day the worms go in."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Annotated

from calc.engine import (
    Answer,
    Axis,
    Choice,
    Column,
    Event,
    Figure,
    Mark,
    Number,
    Output,
    Show,
    Step,
    Table,
    View,
    calculator,
    presents,
)
from calc.engine.view import day_text
from calc.facts import lane as facts
from calc.inputs import START_DATE, CalendarName, StartDate

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
FIRST_FEEDING, EVERY_OTHER_DAY = 3, 28
"""Days from the worms to the first feeding, and through which the bed is looked at every other day; common practice, no
source.
"""
SELLING = 90
"""Days of first sales that the picture shows."""
READY_BEFORE_SEASON, SEASON = 45, 84
"""Days before the hardest season in which covers or shade are put up, and how long that season lasts: twelve weeks;
common practice, no source.
"""


@dataclass(frozen=True)
class Year(Answer):
    begin: Annotated[date, Output("1", "Begin to get ready", "Rules, ground, water, materials.", main=True)]
    heap: Annotated[
        date, Output("1", "Make the first heap of feed", "So that it is cool when the worms want it.", main=True)
    ]
    worms_in: Annotated[date, Output("1", "Worms go in", "The start date you gave.")]
    first_slice: Annotated[date, Output("1", "First slice, if all goes as usual", "Look for worms first.", main=True)]
    first_slice_early: Annotated[date, Output("1", "First slice, at the earliest", "A warm bed, many worms.")]
    first_slice_late: Annotated[date, Output("1", "First slice, at the latest", "A cool bed, few worms.")]
    first_sale: Annotated[
        date, Output("1", "First sale", "After drying and screening, and with a first buyer found.", main=True)
    ]
    year_ends: Annotated[date, Output("1", "A year is round", "Compare what you wrote down with what you planned.")]


@calculator(
    "lane.year",
    "What happens when in the first year?",
    page="start.html",
    leads={"lane.starter": {}, "economics.cash": {}, "climate.today": {}},
)
def year(
    start_date: StartDate = START_DATE,
    days_to_first_slice: Annotated[
        float,
        Number(
            "day",
            "Days to the first slice",
            30,
            1095,
            fact=facts.FIRST_SLICE,
            help="Sizing the first lane works it out from your worms and your bed.",
        ),
    ] = facts.FIRST_SLICE.typical,
    base_wait: Annotated[
        float,
        Number(
            "day",
            "Days the base lies before the worms",
            0,
            90,
            fact=facts.BASE_WAIT,
            help="Filled and watered. It must be cool all through.",
        ),
    ] = facts.BASE_WAIT.typical,
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
        float,
        Number(
            "day",
            "Days from a slice to its sale",
            0,
            365,
            fact=facts.SLICE_TO_SALE,
            help="Growers sell on day two or three. Count more for your first buyers.",
        ),
    ] = facts.SLICE_TO_SALE.typical,
    coldest_month: Annotated[
        str,
        Choice(
            "Coldest month",
            {month: month.capitalize() for month in MONTHS},
            help="Where you are. The hottest is half a year away.",
        ),
    ] = "january",
    calendar_name: CalendarName = None,
) -> Year:
    """Dates of the first year.

    Days are counted from start_date. Early and late slice are as far from the usual one as the published range of lanes
    is from its middle. Source: sums of days; the days themselves are common practice.
    """
    sliced = [
        start_date + timedelta(days=round(days_to_first_slice * end / facts.FIRST_SLICE.typical))
        for end in (facts.FIRST_SLICE.typical, facts.FIRST_SLICE.low, facts.FIRST_SLICE.high)
    ]
    heap = start_date + timedelta(days=FIRST_FEEDING - round(heap_days))
    return Year(
        begin=min(start_date - timedelta(days=GETTING_READY), heap, start_date - timedelta(days=round(base_wait))),
        heap=heap,
        worms_in=start_date,
        first_slice=sliced[0],
        first_slice_early=sliced[1],
        first_slice_late=sliced[2],
        first_sale=sliced[0] + timedelta(days=round(days_to_sale)),
        year_ends=start_date + timedelta(days=YEAR),
    )


def seasons(month: str, first: date, last: date) -> list[tuple[date, date]]:
    """[(start, end)] of the twelve weeks around the middle of a month, between two days; the weeks of getting ready
    before them count.

    >>> seasons("january", date(2027, 2, 1), date(2028, 2, 1))
    [(datetime.date(2026, 12, 5), datetime.date(2027, 2, 27)), (datetime.date(2027, 12, 5), datetime.date(2028, 2, 27))]
    """
    middles = [date(number, MONTHS.index(month) + 1, 16) for number in range(first.year - 1, last.year + 2)]
    found = [(middle - timedelta(days=SEASON // 2), middle + timedelta(days=SEASON // 2)) for middle in middles]
    return [(start, end) for start, end in found if end > first and start - timedelta(days=READY_BEFORE_SEASON) < last]


def opposite(month: str) -> str:
    """The month half a year away: the hottest, where the other is the coldest."""
    return MONTHS[(MONTHS.index(month) + 6) % 12]


def tasks(v: View) -> list[tuple[str, date, date, str]]:
    """[(what, first day, last day, in a few words)] of the year, in the order in which they begin."""
    start, end = v.worms_in, v.year_ends
    feeding = start + timedelta(days=FIRST_FEEDING)
    settled = start + timedelta(days=EVERY_OTHER_DAY)
    found = [
        (
            "Get ready",
            v.begin,
            start - timedelta(days=round(v.base_wait)),
            "Ask about rules, choose shade and drainage, buy boards and compost.",
        ),
        ("Heap of feed", v.heap, feeding, "Make it, turn it, let it cool. Only cool feed goes near worms."),
        (
            "Base lies",
            start - timedelta(days=round(v.base_wait)),
            start,
            "Lane built, filled and watered. Wait until it is cool all through.",
        ),
        ("Worms settle", start, settled, "Feed little, look under the surface every other day."),
        (
            "Feed in thin layers",
            settled,
            end,
            "More from month to month as the worms multiply. Write down what goes in.",
        ),
        (
            "First slice may come",
            v.first_slice_early,
            v.first_slice_late,
            "From the back, when it is nearly free of worms. Dry and screen it.",
        ),
        (
            "First sales",
            v.first_sale,
            v.first_sale + timedelta(days=SELLING),
            "Castings. Worms for sale come from trays; from a bed only when it is full.",
        ),
        (
            "Compare with the plan",
            end - timedelta(days=30),
            end,
            "What did it take, what did it give? Then longer lanes or trays, not both.",
        ),
    ]
    for month, what, words in (
        (v.coldest_month, "Cover against frost", "Covers, straw and a thicker bed stand ready before it freezes."),
        (opposite(v.coldest_month), "Shade and water", "Shade cloth is up and the hose reaches before the heat comes."),
    ):
        found += [
            (what, begins - timedelta(days=READY_BEFORE_SEASON), ends, words)
            for begins, ends in seasons(month, start, end)
        ]
    clipped = [(what, max(begins, v.begin), min(ends, end), words) for what, begins, ends, words in found]
    return sorted((task for task in clipped if task[1] < task[2]), key=lambda task: task[1])


@presents(year)
def show_year(v: View) -> Show:
    rows = tasks(v)
    return Show(
        working=[
            Step(
                "Heap",
                "{heap} = {worms_in} + 3 days − {heap_days}",
                "sum of days; 3 days to the first feeding: common practice, no source",
            ),
            Step(
                "First slice",
                "{first_slice} = {worms_in} + {days_to_first_slice}",
                "sum of days; the days are common practice, no source",
            ),
            Step(
                "Earliest and latest",
                "{first_slice_early} and {first_slice_late}: the days × 4 ÷ 6 and × 9 ÷ 6",
                "growers report 4 to 9 months: common practice, no source",
            ),
            Step("First sale", "{first_sale} = {first_slice} + {days_to_sale}", "sum of days"),
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
            )
        ],
        figures=[_picture(v, rows)],
        warnings=_warnings(v),
        reading=_reading(v),
        events=[Event(begins, what, words) for what, begins, _, words in rows]
        + [
            Event(v.first_slice, "First slice is about due", "Look for worms in it first."),
            Event(v.year_ends, "A year with worms", "Compare what you wrote down with what you planned."),
        ],
        cautions=[
            "The dates are for planning. Weather, worms and feed decide: a bed that is hot, sour or dry comes before"
            " any date."
        ],
    )


def _picture(v: View, rows: Sequence[tuple[str, date, date, str]]) -> Figure:
    names = list(dict.fromkeys(what for what, *_ in rows))
    spans = [
        (what, begins.isoformat(), ends.isoformat()) for name in names for what, begins, ends, _ in rows if what == name
    ]
    finding = (
        "Six weeks of getting ready, then feeding all year; the first slice falls between"
        f" {day_text(v.first_slice_early)} and {day_text(v.first_slice_late)}."
    )
    marks = [Mark("spans", spans), Mark("rule_x", [(v.worms_in.isoformat(), "worms go in")], tone="second")]
    if v.first_slice < v.year_ends:
        marks.append(Mark("rule_x", [(v.first_slice.isoformat(), "first slice")], tone="second"))
    return Figure("plan", "The first year", finding, Axis("Date", kind="time"), Axis("", kind="band"), marks)


def _warnings(v: View) -> list[tuple[str, str]]:
    found = []
    for month, words in (
        (
            v.coldest_month,
            (
                "in the coldest twelve weeks of the year. Worms settle badly in a cold bed: start in spring, or"
                " indoors, or see the pages on frost."
            ),
        ),
        (
            opposite(v.coldest_month),
            (
                "in the hottest twelve weeks of the year. Have shade up and water at hand on the first day, or wait a"
                " few weeks."
            ),
        ),
    ):
        if any(begins <= v.worms_in <= ends for begins, ends in seasons(month, v.worms_in, v.year_ends)):
            found.append(("start_date", f"The worms would go in {words}"))
    if v.first_slice > v.year_ends:
        found.append(
            (
                "days_to_first_slice",
                (
                    "The first slice does not fall into the first year. A warmer bed, more worms or a shorter lane"
                    " bring it nearer."
                ),
            )
        )
    return found


def _reading(v: View) -> list[str]:
    return [
        f"Begin on {v['begin']}: rules, ground, water. Make the first heap of feed on {v['heap']}.",
        f"Worms go in on {v['worms_in']}; for four weeks feed little and look often.",
        (
            f"The first slice comes about {v['first_slice']}, and at the latest about {day_text(v.first_slice_late)}."
            f" The first sale follows about {v['first_sale']}."
        ),
        (
            "Until then there is no income: plan the money to"
            f" {day_text(v.first_slice_late + timedelta(days=round(v.days_to_sale)))}."
        ),
    ]
