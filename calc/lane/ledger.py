"""Where it all goes: the books of a lane over a year. What comes in is sliced off, lost on the way, or still in the
bed.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Annotated, Any

from calc.engine import (
    NOTHING,
    YARD3,
    Answer,
    Column,
    Count,
    Number,
    Output,
    Part,
    Share,
    Show,
    Step,
    Table,
    View,
    calculator,
    presents,
    told_all,
    with_inputs_of,
)
from calc.facts import climate, harvest
from calc.facts import lane as facts
from calc.inputs import CASTINGS_BULK_DENSITY
from calc.lane import drawing, questions
from calc.lane.account import Account, account
from calc.lane.asked import FollowedLane, ScreenedDensity, lane_plan
from calc.lane.chain import chain
from calc.lane.followed import days_part
from calc.lane.model import Day, LanePlan, follow
from calc.lane.starter import cost_of, floor_warnings, season_warnings, starter

PARTS = {"dry_matter": "Dry matter", "water": "Water", "ash": "Ash", "volume": "Volume"}
LONGEST = 1095


def _part(unit: str, label: str, meaning: str) -> Output:
    return Output(unit, label, meaning, us=None if unit == "kg" else "ft3", metric=None if unit == "kg" else "m3")


@dataclass(frozen=True)
class Ledger(Answer):
    dry_matter_in: Annotated[float, Output("kg", "Dry matter, in", "Base and feed, without their water.", main=True)]
    dry_matter_out: Annotated[float, Output("kg", "Dry matter, sliced", "Base and castings.", main=True)]
    dry_matter_lost: Annotated[
        float, Output("kg", "Dry matter, breathed off", "By worms, microbes and all that lives in it.", main=True)
    ]
    dry_matter_stored: Annotated[float, Output("kg", "Dry matter, in the bed", "At the end.", main=True)]
    water_in: Annotated[float, Output("kg", "Water, in", "In the base and feed, and from the hose.")]
    water_out: Annotated[float, Output("kg", "Water, sliced", "In base and castings.")]
    water_lost: Annotated[float, Output("kg", "Water, evaporated and drained", "")]
    water_stored: Annotated[float, Output("kg", "Water, in the bed", "At the end.")]
    ash_in: Annotated[float, Output("kg", "Ash, in", "Minerals: part of the dry matter.")]
    ash_out: Annotated[float, Output("kg", "Ash, sliced", "In base and castings.")]
    ash_lost: Annotated[float, Output("kg", "Ash, lost", "None: nothing breathes off minerals.")]
    ash_stored: Annotated[float, Output("kg", "Ash, in the bed", "At the end.")]
    volume_in: Annotated[float, _part("m3", "Volume, in", "Base and feed, as they came.")]
    volume_out: Annotated[float, _part("m3", "Volume, sliced", "Before drying.")]
    volume_lost: Annotated[float, _part("m3", "Volume, shrunk away", "Feed is more than the castings it leaves.")]
    volume_stored: Annotated[float, _part("m3", "Volume, in the bed", "At the end.")]
    heat_released: Annotated[float, Output("MJ", "Heat given off", "By what was breathed off.")]
    hours: Annotated[
        float,
        Output("hour", "Hours of work", "Feeding, watering, slicing; screening of castings made of feed.", digits=2),
    ]
    money_in: Annotated[float, Output("money", "Money in", "Castings made of feed, once dried, screened and sold.")]
    money_out: Annotated[
        float, Output("money", "Money out", "The start, and feed that is bought. Your hours are not in it.")
    ]
    plan: FollowedLane = field(compare=False, repr=False)


@calculator(
    "lane.ledger",
    "Where does it all go?",
    samples=100,
    leads={"moisture": {}, "harvest.balance": {}, "lane.output": {}, "climate.bed_temperature": {}},
)
@told_all
@with_inputs_of(starter)
def ledger(
    days: Annotated[
        int, Count("day", "Days that are followed", 1, LONGEST, help="From the day the worms go in.")
    ] = 365,
    castings_price: Annotated[
        float,
        Number(
            "money/m3",
            "Price of castings",
            0,
            20000,
            help="Screened, loose. Invented, as an example.",
            group="Prices",
        ),
    ] = 240 / YARD3,
    feed_price: Annotated[
        float, Number("money/kg", "Price of feed", 0, 100, help="0 for your own manure and leaves.", group="Prices")
    ] = 0.0,
    screen_product_share: Annotated[
        float,
        Share(
            "Share that passes the screen",
            0.05,
            1,
            fact=facts.PRODUCT_SHARE,
            help="Of the dried castings, by volume. The screening page works it out.",
            group="Feed and castings",
        ),
    ] = facts.PRODUCT_SHARE.typical,
    castings_bulk_density: ScreenedDensity = CASTINGS_BULK_DENSITY,
    *,
    asked: Mapping[str, Any] = NOTHING,
    **lane: Any,
) -> Ledger:
    """Books of a lane: dry matter, water, ash [kg] and volume [m³] in = out + lost + stored; heat [MJ], hours, money.

    days [day]; castings_price [money/m³]; feed_price [money/kg]. Source: conservation of matter; heat of combustion
    Haug 1993.
    """
    plan = ledger_plan(asked)
    books = account(plan, _days(plan, days), 0, days)
    return Ledger(
        **{
            f"{name}_{side}": value
            for name, flow in books.flows.items()
            for side, value in (
                ("in", flow.came_in),
                ("out", flow.went_out),
                ("lost", flow.lost),
                ("stored", flow.stored),
            )
        },
        heat_released=books.heat,
        hours=books.hours,
        money_in=books.money_in,
        money_out=books.money_out,
        plan=plan,
    )


def ledger_plan(given: Any) -> LanePlan:
    """The plan with its prices."""
    return lane_plan(given, product_share=given["screen_product_share"], startup_cost=cost_of(given, lane_plan(given)))


def _days(plan: LanePlan, days: int) -> Sequence[Day]:
    """The days that are followed, in the typical case."""
    return follow(plan, max(days, questions.SPAN))[: days + 1]


def month_books(plan: LanePlan, days: int) -> list[tuple[Any, Account]]:
    """(first day, books) of each calendar month of the days that are followed."""
    lane = _days(plan, days)
    starts = [0] + [day.day for day in lane[1:-1] if day.on(plan).day == 1] + [days]
    return [(lane[first].on(plan), account(plan, lane, first, last)) for first, last in zip(starts, starts[1:])]


@presents(ledger)
def show_ledger(v: View) -> Show:
    plan, months = v.plan, month_books(v.plan, v.days)
    return Show(
        working=_working(v, plan),
        tables=[
            _totals(v),
            _table("months", "Dry matter and volume by month", ("dry_matter", "volume"), months),
            _table("months_more", "Water and ash by month", ("water", "ash"), months),
            Table(
                "months_money",
                "Heat, hours and money by month",
                [
                    Column("month", "From"),
                    Column("heat_released", "Heat", "MJ", digits=2),
                    Column("hours", "Hours", "hour", digits=2),
                    Column("money_in", "Money in", "money"),
                    Column("money_out", "Money out", "money"),
                ],
                [(day, books.heat, books.hours, books.money_in, books.money_out) for day, books in months],
            ),
        ],
        figures=[drawing.flows(v, PARTS)],
        warnings=season_warnings(v, plan) + floor_warnings(v, plan) + _long_days(v),
        reading=_reading(v, plan),
        cautions=["The books are a plan. Weigh what goes in and what comes off for a month, and compare."],
    )


def _long_days(v: View) -> list[tuple[str | None, str]]:
    """More hours of work than the days have."""
    if v.hours <= 24 * v.days:
        return []
    return [(None, f"{v['hours']} of work is more than a day has hours: this lane is too long for one pair of hands.")]


def _totals(v: View) -> Table:
    """The four columns, which each add up."""
    rows = []
    for name, label in PARTS.items():
        unit, us, metric = ("m3", "ft3", "m3") if name == "volume" else ("kg", None, None)
        values = [getattr(v, f"{name}_{side}") for side in ("in", "out", "lost", "stored")]
        rows.append((label, *(v.say(value, unit, us=us, metric=metric) for value in values)))
    return Table(
        "ledger",
        "In = sliced + lost + in the bed",
        [
            Column("what", "What"),
            Column("in", "In"),
            Column("out", "Sliced off"),
            Column("lost", "Lost"),
            Column("stored", "In the bed"),
        ],
        rows,
        note="Lost: dry matter is breathed off, water evaporates and drains, volume shrinks. Ash is never lost.",
        open=True,
    )


def _table(name: str, title: str, parts: Sequence[str], months: Sequence[tuple[Any, Account]]) -> Table:
    """Two of the columns, month by month."""
    columns, sides = (
        [Column("month", "From")],
        {"in": "in", "out": "sliced", "lost": "lost", "stored": "change in the bed"},
    )
    for part in parts:
        unit, us, metric = ("m3", "ft3", "m3") if part == "volume" else ("kg", None, None)
        columns += [
            Column(f"{part}_{side}", f"{PARTS[part]}, {words}", unit, us=us, metric=metric, digits=3)
            for side, words in sides.items()
        ]
    rows = []
    for day, books in months:
        row: list[Any] = [day]
        for part in parts:
            flow = books.flows[part]
            row += [flow.came_in, flow.went_out, flow.lost, flow.stored]
        rows.append(tuple(row))
    return Table(name, title, columns, rows)


def _working(v: View, plan: LanePlan) -> list[Step]:
    figures = {
        "days": days_part(plan, _days(plan, v.days)[: v.days]),
        "list": Part("the list of the first lane", plan.startup_cost, "money"),
        "ash_feed": ("ash of the feed", v.say(plan.feed_ash, "1", us="%", metric="%")),
        "combustion": Part("heat of combustion", climate.HEAT_OF_COMBUSTION.typical, "MJ/kg", us="MJ/kg"),
        "sliced": (
            "bulk density of castings as sliced",
            v.say(plan.shares.sliced_density, "kg/m3"),
        ),
    }
    return [
        Step(
            "Dry matter",
            "{dry_matter_in} = {dry_matter_out} + {dry_matter_lost} + {dry_matter_stored}",
            "conservation of matter",
            "Of the dry matter that is eaten, what is not kept as castings is breathed off.",
        ),
        Step(
            "Water",
            "{water_in} = {water_out} + {water_lost} + {water_stored}",
            "conservation of matter; water that living things make of dry matter is counted with what is breathed off",
        ),
        Step(
            "Ash",
            "{ash_in} = {ash_out} + {ash_lost} + {ash_stored}",
            f"conservation of ash (Paredes et al. 2000); {harvest.ASH_BEFORE.label.lower()}: our own judgement",
            values=figures,
        ),
        Step(
            "Volume",
            "{volume_in} = {volume_out} + {volume_lost} + {volume_stored}",
            "geometry and dry-matter balance",
            values=figures,
        ),
        Step(
            "Heat",
            "{heat_released} = {dry_matter_lost} × {combustion}",
            "Haug 1993, what is breathed off gives the heat that burning it would",
            values=figures,
        ),
        Step(
            "Hours and money",
            "{hours} = sum over {days} of {work}; {money_in} = sum over {days} of {earned}; {money_out} = {list} +"
            " {feed_price}"
            " × sum over {days} of {laid}",
            "arithmetic; times: common practice, no source",
            "Work is feeding, watering and slicing, and the screening of castings made of feed. Castings are paid a"
            " week after they have dried, as the first sale is.",
            figures,
        ),
    ]


def _reading(v: View, plan: LanePlan) -> list[str]:
    lost = v.dry_matter_lost / v.dry_matter_in if v.dry_matter_in else 0.0
    found = chain(1000.0, plan.shares)
    sold = v.say(found.product.volume / found.feed.volume, "1", us="%", metric="%", digits=2)
    mass = v.say(found.product.mass / found.feed.mass, "1", us="%", metric="%", digits=2)
    return [
        (
            f"Of {v['dry_matter_in']} of dry matter that comes in, {v.say(lost, '1', us='%', metric='%', digits=2)}"
            f" is breathed"
            f" off, {v['dry_matter_out']} is sliced, and {v['dry_matter_stored']} lies in the bed at the end."
        ),
        (
            f"Feed becomes {v.yours('volume_kept')} of its volume as sliced, and {sold} of it once dried and screened:"
            f" {mass} of its weight."
        ),
        f"That gives off {v['heat_released']} of heat, which is what keeps the bed warmer than the air.",
        (
            "Every column adds up: what is not in the castings has left as breath or vapour, or lies in the bed. If"
            " your own"
            " scales say otherwise, one of the shares above is not yours."
        ),
    ]
