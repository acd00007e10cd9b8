"""A weekly pipeline of trays: breeders lay for three weeks, cocoons hatch, young grow, worms are sold."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import timedelta
from math import ceil, floor
from typing import Annotated

from calc.breeding import rack
from calc.engine import (
    POUND,
    Answer,
    Axis,
    Band,
    Column,
    Count,
    Event,
    Figure,
    Handle,
    Mark,
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
)
from calc.facts import biology
from calc.facts import breeding as facts
from calc.inputs import START_DATE, CalendarName, StartDate

WEEK = 7.0
WEEKS = 52
ROOM = "Trays and work"


@dataclass(frozen=True)
class Trays(Answer):
    worm_mass_per_week: Annotated[
        float, Output("kg/week", "Worms a week, weight", "Once the pipeline is full.", ranged=True, main=True, digits=2)
    ]
    worms_per_week: Annotated[float, Output("1/week", "Worms a week, heads", "", ranged=True, main=True, digits=2)]
    days_to_first_sale: Annotated[
        float,
        Output("day", "Days to the first sale", "From the first breeders in a tray.", ranged=True, main=True, digits=3),
    ]
    trays_at_once: Annotated[
        float, Output("1", "Trays in the rooms", "Breeding, hatching and growing, once it is full.", main=True)
    ]
    cocoons_per_tray: Annotated[
        float, Output("1", "Cocoons from a tray", "In one round of breeders.", ranged=True, digits=2)
    ]
    worms_per_tray: Annotated[
        float, Output("1", "Worms for sale from a tray", "Of those cocoons.", ranged=True, digits=2)
    ]
    breeding_trays_at_once: Annotated[
        float, Output("1", "Breeding trays at once", "Trays a week times weeks in a tray.")
    ]
    growout_trays_at_once: Annotated[float, Output("1", "Hatching and grow-out trays at once", "")]
    breeders_mass_needed: Annotated[float, Output("kg", "Breeders needed", "In all breeding trays at once.", digits=3)]
    herd_needed: Annotated[
        float,
        Output(
            "kg",
            "Herd that can spare them",
            "Worms in your lanes, if you take no more than the share you named.",
            digits=2,
        ),
    ]
    replacement_per_week: Annotated[
        float, Output("kg/week", "Young kept back as breeders", "To replace those that die or tire.", digits=2)
    ]
    feed_per_day: Annotated[float, Output("kg/day", "Powdered feed a day", "For all trays.", ranged=True, digits=2)]
    food_bedding_per_week: Annotated[
        float,
        Output(
            "kg/week",
            "Food bedding for the young, at least",
            "Moist aged manure or finished feed, for what the powder cannot grow; in all grow-out trays.",
            digits=2,
        ),
    ]
    labour_hours_per_week: Annotated[
        float,
        Output(
            "hour/week",
            "Hours of work a week",
            "Daily care, and sorting once a tray. Someone is there every day.",
            ranged=True,
            digits=2,
        ),
    ]
    rack_area: Annotated[float, Output("m2", "Floor under the racks", "Paths not counted.")]


@calculator(
    "breeding.trays",
    "How many trays for the worms I want to sell each week?",
    leads={"breeding.room": {}, "economics.unit_cost": {}, "lane.herd": {"target_mass": "herd_needed"}},
)
def trays(
    trays_per_week: Annotated[
        float, Number("1/week", "Trays started a week", 0.05, 2000, help="0.5 is one a fortnight.")
    ] = 20.0,
    breeders_mass_per_tray: Annotated[
        float,
        Number(
            "kg",
            "Breeders in a tray",
            0.01,
            5,
            fact=facts.BREEDERS_MASS,
            help="Grown worms with a clear saddle, bedding shaken off.",
        ),
    ] = 0.75 * POUND,
    breeders_per_mass: Annotated[
        float,
        Number(
            "1/kg",
            "Breeders in a weight",
            200,
            10000,
            us="1/lb",
            metric="1/kg",
            fact=facts.BREEDERS_PER_MASS,
            help="Count an ounce of them.",
        ),
    ] = 900 / POUND,
    cocoons_per_worm_per_week: Annotated[
        float,
        Number(
            "1/week",
            "Cocoons a breeder a week",
            0.01,
            10,
            fact=facts.TRAY_COCOONS,
            help="Count one tray. Laboratories count more.",
        ),
    ] = facts.TRAY_COCOONS.typical,
    breeding_days: Annotated[
        float,
        Number(
            "day", "Days that breeders stay", 1, 120, help="Then they move on to a fresh tray and the cocoons stay."
        ),
    ] = facts.BREEDING_DAYS.typical,
    incubation_days: Annotated[
        float,
        Number(
            "day",
            "Days to hatch",
            5,
            200,
            fact=facts.TRAY_INCUBATION,
            help="The page on breeding works it out for your temperature.",
        ),
    ] = facts.TRAY_INCUBATION.typical,
    growing_days: Annotated[
        float, Number("day", "Days from hatching to sale", 5, 400, fact=facts.TRAY_GROWING)
    ] = facts.TRAY_GROWING.typical,
    sale_worms_per_mass: Annotated[
        float,
        Number(
            "1/kg",
            "Worms in a weight, as sold",
            200,
            20000,
            us="1/lb",
            metric="1/kg",
            fact=facts.SALE_PER_MASS,
            help="Count an ounce of what you sell.",
        ),
    ] = 1100 / POUND,
    hatch_share: Annotated[
        float, Share("Cocoons that hatch", 0, 1, fact=facts.TRAY_HATCH, group="Cocoons and young")
    ] = facts.TRAY_HATCH.typical,
    hatchlings_per_cocoon: Annotated[
        float,
        Number("1", "Young from a cocoon that hatches", 0.1, 12, fact=facts.TRAY_HATCHLINGS, group="Cocoons and young"),
    ] = facts.TRAY_HATCHLINGS.typical,
    survival: Annotated[
        float, Share("Young that reach sale size", 0, 1, fact=facts.TRAY_SURVIVAL, group="Cocoons and young")
    ] = facts.TRAY_SURVIVAL.typical,
    sorting_loss: Annotated[
        float,
        Share(
            "Cocoons lost in sorting",
            0,
            0.9,
            spread=(0.0, 0.1),
            help="Left on the breeders' bedding, crushed or dried.",
            group="Cocoons and young",
        ),
    ] = 0.0,
    replaced_share: Annotated[
        float, Share("Breeders replaced each round", 0, 1, fact=facts.REPLACED, group="Cocoons and young")
    ] = facts.REPLACED.typical,
    herd_share: Annotated[
        float,
        Share(
            "Share of the herd to take as breeders",
            0.01,
            1,
            spread=(0.1, 0.3),
            help="Of all worms in your lanes, by weight, in one go. The figure is ours: no trial was found.",
            group="Cocoons and young",
        ),
    ] = facts.HERD_SHARE.typical,
    growout_trays_per_tray: Annotated[
        float,
        Number(
            "1",
            "Grow-out trays for each breeding tray",
            0.25,
            20,
            help="More if you split the young up as they grow.",
            group=ROOM,
        ),
    ] = 1.0,
    feed_per_tray_per_day: Annotated[
        float,
        Number(
            "kg/day",
            "Powdered feed for a tray a day",
            0,
            2,
            us="oz/day",
            metric="g/day",
            fact=facts.FEED_PER_TRAY,
            help="A tablespoon is about 8 g, ¼ oz.",
            group=ROOM,
        ),
    ] = facts.FEED_PER_TRAY.typical,
    minutes_per_tray_per_day: Annotated[
        float, Number("minute/day", "Minutes for a tray a day", 0, 60, fact=facts.MINUTES_PER_TRAY, group=ROOM)
    ] = facts.MINUTES_PER_TRAY.typical,
    sorting_minutes_per_tray: Annotated[
        float,
        Number(
            "minute",
            "Minutes to sort a tray",
            0,
            480,
            fact=facts.SORTING_MINUTES,
            help="Once a round: breeders out, cocoons kept.",
            group=ROOM,
        ),
    ] = facts.SORTING_MINUTES.typical,
    tray_area: Annotated[
        float, Number("m2", "Area of a tray", 0.01, 3, us="ft2", metric="m2", help="Outside, with its rim.", group=ROOM)
    ] = 0.24,
    tiers: Annotated[
        int,
        Count("1", "Trays one above the other", 1, 20, help="No higher than you can reach and lift.", group=ROOM),
    ] = 5,
    start_date: StartDate = START_DATE,
    calendar_name: CalendarName = None,
) -> Trays:
    """A steady pipeline of breeding trays: counts, times, stock, feed, work and floor.

    trays_per_week [1/week]; masses [kg]; counts per mass [1/kg]; times [day]; shares [-]. Trays in the room by Little's
    law (Little 1961): rate × time.
    Sources: common practice for most figures; hatch share Edwards 1988; see calc.facts.breeding.
    """
    breeders = breeders_mass_per_tray * breeders_per_mass
    cocoons = breeders * cocoons_per_worm_per_week * breeding_days / WEEK * (1 - sorting_loss)
    worms = cocoons * hatch_share * hatchlings_per_cocoon * survival
    breeding = trays_per_week * breeding_days / WEEK
    growout = trays_per_week * growout_trays_per_tray * (incubation_days + growing_days) / WEEK
    together = breeding + growout
    replaced = trays_per_week * breeders_mass_per_tray * replaced_share
    worm_mass = trays_per_week * worms / sale_worms_per_mass
    powder = together * feed_per_tray_per_day
    return Trays(
        worm_mass_per_week=worm_mass,
        worms_per_week=trays_per_week * worms,
        days_to_first_sale=breeding_days + incubation_days + growing_days,
        trays_at_once=together,
        cocoons_per_tray=cocoons,
        worms_per_tray=worms,
        breeding_trays_at_once=breeding,
        growout_trays_at_once=growout,
        breeders_mass_needed=breeding * breeders_mass_per_tray,
        herd_needed=breeding * breeders_mass_per_tray / herd_share,
        replacement_per_week=replaced,
        feed_per_day=powder,
        food_bedding_per_week=food_bedding(worm_mass, powder),
        labour_hours_per_week=together * minutes_per_tray_per_day * WEEK / 60
        + trays_per_week * sorting_minutes_per_tray / 60,
        rack_area=together * tray_area / tiers,
    )


def starts(trays_per_week: float, weeks: int = WEEKS) -> list[int]:
    """Whole trays started in each week from 0: fractions are carried over, so that 0.5 is one a fortnight.

    >>> starts(0.5, 6), starts(2.4, 5)
    ([1, 0, 1, 0, 1, 0], [3, 2, 3, 2, 2])
    """
    reached = [-floor(-trays_per_week * (week + 1) + 1e-9) for week in range(weeks)]
    return [after - before for before, after in zip([0, *reached], reached)]


def week_sold(start_week: int, days: float) -> int:
    """The week in which a tray started in start_week is sold."""
    return start_week + ceil(days / WEEK - 1e-9)


@presents(trays)
def show_trays(v: View) -> Show:
    batches = starts(v.trays_per_week, WEEKS + 1)
    ramp = _ramp(v, batches)
    return Show(
        working=_working(v),
        tables=[_chain(v), _stock(v), _weeks(v, batches, ramp), _batches(v, batches), _failure_weeks(v), _sorting(v)],
        figures=[_spans(v), rack.racks(v), _ramp_figure(v, ramp), _shelf_figure(v, batches), _failure_figure(v)],
        warnings=_warnings(v),
        reading=_reading(v),
        events=_events(v, batches),
        cautions=[
            (
                "Trays are livestock: someone feeds and waters them every day, holidays too. Arrange for a stand-in"
                " before you start."
            ),
        ],
    )


def _working(v: View) -> list[Step]:
    names = {"breeders": Part("worms that breed in a tray", v.breeders_mass_per_tray * v.breeders_per_mass)}
    return [
        Step("Breeders", "{breeders} = {breeders_mass_per_tray} × {breeders_per_mass}", "definition", values=names),
        Step(
            "Cocoons",
            "{cocoons_per_tray} = {breeders} × {cocoons_per_worm_per_week} × {breeding_days} × (1 − {sorting_loss})",
            "common practice, no source",
            values=names,
        ),
        Step(
            "Worms",
            "{worms_per_tray} = {cocoons_per_tray} × {hatch_share} × {hatchlings_per_cocoon} × {survival}",
            "hatch share Edwards 1988; the others common practice",
        ),
        Step(
            "A week",
            "{worms_per_week} = {trays_per_week} × {worms_per_tray}; {worm_mass_per_week} = that ÷"
            " {sale_worms_per_mass}",
            "arithmetic",
        ),
        Step(
            "Trays in the rooms",
            "{breeding_trays_at_once} = {trays_per_week} × {breeding_days}; {growout_trays_at_once} = {trays_per_week}"
            " × {growout_trays_per_tray} × ({incubation_days} + {growing_days})",
            "Little 1961: number = rate × time",
        ),
        Step("First sale", "{days_to_first_sale} = {breeding_days} + {incubation_days} + {growing_days}", "arithmetic"),
        Step(
            "Breeders needed",
            "{breeders_mass_needed} = {breeding_trays_at_once} × {breeders_mass_per_tray}; {replacement_per_week} ="
            " {trays_per_week} × {breeders_mass_per_tray} × {replaced_share}",
            "arithmetic",
        ),
        Step("Feed", "{feed_per_day} = {trays_at_once} × {feed_per_tray_per_day}", "arithmetic"),
        Step(
            "Food in the bedding",
            "{food_bedding_per_week} = the larger of 0 and {worm_mass_per_week} ÷ {grown} − {feed_per_day} × 7"
            " days/week ÷ (1 − {waste_moisture})",
            "Edwards 1985: the most worms that trials got from moist waste",
            "What the powder cannot grow has to be eaten from the bedding of the grow-out trays: peat or coir feeds"
            " nobody.",
            {
                "grown": Part("worms from a weight of moist waste, at most", facts.WORMS_FOR_FEED.typical),
                "waste_moisture": Part("moisture of that waste", facts.WASTE_MOISTURE.typical, "1", "%", "%"),
            },
        ),
        Step("Floor", "{rack_area} = {trays_at_once} × {tray_area} ÷ {tiers}", "geometry"),
        Step("Herd", "{herd_needed} = {breeders_mass_needed} ÷ {herd_share}", "arithmetic; the share is ours"),
        Step(
            "Work",
            "{labour_hours_per_week} = {trays_at_once} × {minutes_per_tray_per_day} + {trays_per_week} ×"
            " {sorting_minutes_per_tray}",
            "arithmetic",
        ),
    ]


def _chain(v: View) -> Table:
    """From breeders to pounds, one step a row."""
    breeders = v.breeders_mass_per_tray * v.breeders_per_mass
    hatched = v.cocoons_per_tray * v.hatch_share
    rows = [
        ("Breeders", breeders, breeders * v.trays_per_week),
        ("Cocoons in a round", v.cocoons_per_tray, v.cocoons_per_tray * v.trays_per_week),
        ("Cocoons that hatch", hatched, hatched * v.trays_per_week),
        ("Young", hatched * v.hatchlings_per_cocoon, hatched * v.hatchlings_per_cocoon * v.trays_per_week),
        ("Worms for sale", v.worms_per_tray, v.worms_per_week),
    ]
    return Table(
        "chain",
        "From breeders to worms for sale",
        [Column("what", "What"), Column("tray", "From a tray", "1", digits=3), Column("week", "A week", "1", digits=3)],
        rows,
        open=True,
    )


def _ramp(v: View, batches: Sequence[int]) -> list[tuple[int, float, float, float]]:
    """[(week, low, typical, high)] weight of worms sold [kg], band from the same draws as the answer."""
    band, days = v.band("worm_mass_per_week"), v.days_to_first_sale
    sold = [0] * (WEEKS + 1)
    for week, count in enumerate(batches):
        if week_sold(week, days) <= WEEKS:
            sold[week_sold(week, days)] += count
    each = [part / v.trays_per_week for part in (band.low, band.value, band.high)]
    return [(week, *(sold[week] * part for part in each)) for week in range(WEEKS + 1)]


def _shelf(v: View, batches: Sequence[int]) -> list[tuple[float, ...]]:
    """[(week, breeding, hatching, growing)] trays on the shelf at the end of each week."""
    lengths = [v.breeding_days / WEEK, v.incubation_days / WEEK, v.growing_days / WEEK]
    rows: list[tuple[float, ...]] = []
    for week in range(WEEKS + 1):
        counts: list[float] = []
        before = 0.0
        for place, length in enumerate(lengths):
            among = sum(count for start, count in enumerate(batches) if before <= week - start < before + length)
            counts.append(among * (1 if place == 0 else v.growout_trays_per_tray))
            before += length
        rows.append((week, *counts))
    return rows


def _weeks(v: View, batches: Sequence[int], ramp: Sequence[tuple[int, float, float, float]]) -> Table:
    shelf = _shelf(v, batches)
    rows = [
        (
            week,
            v.start_date + timedelta(days=7 * week),
            batches[week] if week < len(batches) else 0,
            *shelf[week][1:],
            Band(ramp[week][2], ramp[week][1], ramp[week][3]),
        )
        for week in range(WEEKS + 1)
    ]
    columns = [
        Column("week", "Week", "1"),
        Column("date", "From"),
        Column("started", "Trays started", "1"),
        Column("breeding", "Breeding", "1"),
        Column("hatching", "Hatching", "1"),
        Column("growing", "Growing", "1"),
        Column("sold", "Sold", "kg", digits=2),
    ]
    most = max(sum(row[1:]) for row in shelf)
    note = (
        f"Trays are counted on the first day of a week, with those that start then: up to {v.say(most, '1')},"
        f" and {v['trays_at_once']} on the average of a full week. What is ready within a week is counted as sold in"
        " the next; the first batches, with dates, name the day."
    )
    return Table("weeks", "A year, week by week", columns, rows, note=note)


def _batches(v: View, batches: Sequence[int]) -> Table:
    rows: list[tuple[object, ...]] = []
    for week, count in enumerate(batches):
        if count and len(rows) < 26:
            start = v.start_date + timedelta(days=7 * week)
            sort = start + timedelta(days=round(v.breeding_days))
            rows.append(
                (
                    len(rows) + 1,
                    count,
                    start,
                    sort,
                    sort + timedelta(days=round(v.incubation_days)),
                    sort + timedelta(days=round(v.incubation_days + v.growing_days)),
                )
            )
    columns = [
        Column("batch", "Batch", "1"),
        Column("trays", "Trays", "1"),
        Column("start", "Breeders in"),
        Column("sort", "Sort"),
        Column("hatch", "Hatched by about"),
        Column("sale", "Sell from"),
    ]
    return Table("batches", "The first batches, with dates", columns, rows)


def _stock(v: View) -> Table:
    """The breeders: how many, what keeps them up, and the herd they come from."""
    breeders = v.breeders_mass_needed * v.breeders_per_mass
    herd = v.breeders_mass_per_tray * v.trays_per_week
    kept = v.replacement_per_week * v.breeders_per_mass
    left = max(0.0, v.worms_per_week - kept)
    share = (
        "–" if v.worms_per_week == 0 else v.say(min(1.0, kept / v.worms_per_week), "1", us="%", metric="%", digits=2)
    )
    rows = [
        ("Breeders in all breeding trays", f"{v['breeders_mass_needed']}, {v.say(breeders, '1', digits=2)} worms"),
        ("Worms in your lanes that can spare them", f"{v['herd_needed']}, taking {v['herd_share']} of their weight"),
        (
            "Bought or grown in each of the first weeks",
            (
                f"{v.say(v.breeders_mass_per_tray * v.trays_per_week, 'kg/week', digits=2)}, until the first come free"
                f" after {v.say(v.breeding_days, 'day', digits=2)}; from then on they go round"
            ),
        ),
        (
            "Kept back each week to replace the tired and the dead",
            f"{v['replacement_per_week']}, {v.say(kept, '1', digits=2)} worms: {share} of what you grow",
        ),
        (
            "Left to sell",
            f"{v.say(left, '1', digits=2)} worms, {v.say(left / v.sale_worms_per_mass, 'kg/week', digits=2)}",
        ),
        (
            "Age at which the young kept back start to lay",
            (
                f"about {v.say(biology.MATURING_DAYS.typical, 'day', digits=2)} at {v.say(25.0, 'degC')} (worked out"
                f" from {v.say(60.0, 'day', digits=2)} at {v.say(20.0, 'degC')}, CEH 2016);"
                f" yours are sold at {v.say(v.growing_days, 'day', digits=2)}"
            ),
        ),
        (
            "Spare herd, for one lost week of trays",
            (
                f"{v.say(herd, 'kg', digits=2)} of grown worms in a bed of"
                f" {v.say(herd / biology.STOCKING_FULL.typical / biology.BREEDING_SHARE.typical, 'm2', digits=2)},"
                " if half of its weight is grown"
            ),
        ),
    ]
    return Table(
        "stock",
        "Breeders: stock, replacement, and the herd behind them",
        [Column("what", "What"), Column("how", "How much")],
        rows,
    )


def _sorting(v: View) -> Table:
    """What quicker or more careful sorting is worth: minutes against cocoons lost."""
    rows = []
    uncut = v.worm_mass_per_week / (1 - v.sorting_loss)
    for minutes in (facts.SORTING_MINUTES.low, facts.SORTING_MINUTES.typical, facts.SORTING_MINUTES.high):
        for lost in (0.0, 0.05, 0.10):
            rows.append((minutes, lost, v.trays_per_week * minutes / 60, uncut * (1 - lost), uncut * lost))
    columns = [
        Column("minutes", "Minutes a tray", "minute", digits=2),
        Column("lost", "Cocoons lost", "1", us="%", metric="%", digits=2),
        Column("hours", "Hours a week", "hour", digits=2),
        Column("sold", "Worms a week", "kg", digits=2),
        Column("cost", "Worms lost a week", "kg", digits=2),
    ]
    return Table(
        "sorting",
        "Sorting: time against cocoons",
        columns,
        rows,
        note=(
            "By hand is more minutes and fewer lost; under a light is fewer minutes of yours and a longer wait. Minutes"
            " are common practice, losses are examples: time three trays and put in your own."
        ),
    )


def feed_shortfall(worm_mass_per_week: float, feed_per_day: float) -> float:
    """Worms grown from the powdered feed, against the most that trials got from feed [-]: over 1 the bedding must feed
    them too.

    worm_mass_per_week [kg/week]; feed_per_day [kg/day], taken as dry. Infinite without feed.
    Source: Edwards 1985, 100 kg of worms from a tonne of waste, taken at 80 % moisture.
    >>> round(feed_shortfall(25.0, 2.3), 1)
    3.1
    """
    most = worms_of_powder(feed_per_day)
    return worm_mass_per_week / most if most > 0 else float("inf")


def worms_of_powder(feed_per_day: float) -> float:
    """The most worms that trials got from so much powder [kg/week]; feed_per_day [kg/day], taken as dry.

    Source: Edwards 1985, 100 kg of worms from a tonne of waste, taken at 80 % moisture.
    >>> round(worms_of_powder(2.3), 2)
    8.05
    """
    return feed_per_day * WEEK * facts.WORMS_FOR_FEED.typical / (1 - facts.WASTE_MOISTURE.typical)


def food_bedding(worm_mass_per_week: float, feed_per_day: float) -> float:
    """Moist food that the grow-out trays need beside the powder, at least [kg/week]: what grows the worms that it
    cannot.

    worm_mass_per_week [kg/week]; feed_per_day [kg/day], dry. Source: Edwards 1985, as worms_of_powder.
    >>> round(food_bedding(25.0, 2.3), 1), food_bedding(8.0, 2.3)
    (169.5, 0.0)
    """
    return max(0.0, worm_mass_per_week - worms_of_powder(feed_per_day)) / facts.WORMS_FOR_FEED.typical


def weeks_after_failure(
    normal: float, sold_after: int, round_weeks: int, last: int
) -> list[tuple[int, float, float, float]]:
    """[(week, one batch fails, its breeders die too, the warm room is lost)] weight sold in each week after a failure
    [kg].

    Week 0 is the sorting week of the failed batch. normal [kg/week] is sold in a full pipeline; a sorted batch is sold
    sold_after weeks later; dead breeders leave a gap in every round of round_weeks until they are replaced; a lost warm
    room sells nothing until batches sorted after it have grown.
    >>> weeks_after_failure(10.0, 2, 1, 3)
    [(0, 10.0, 10.0, 0.0), (1, 10.0, 10.0, 0.0), (2, 0.0, 0.0, 10.0), (3, 10.0, 0.0, 10.0)]
    """
    rows = []
    for week in range(last + 1):
        after = week - sold_after
        gap = after >= 0 and after % round_weeks == 0
        rows.append((week, 0.0 if after == 0 else normal, 0.0 if gap else normal, normal if after >= 0 else 0.0))
    return rows


def _failure_rows(v: View) -> list[tuple[int, float, float, float]]:
    sold_after, round_weeks = (week_sold(0, days) for days in (v.incubation_days + v.growing_days, v.breeding_days))
    return weeks_after_failure(v.worm_mass_per_week, sold_after, round_weeks, max(12, sold_after + 2 * round_weeks))


def _failure_weeks(v: View) -> Table:
    """What is sold in each week after a failure, with the sums that matter below."""
    columns = [
        Column("week", "Weeks after sorting", "1"),
        Column("batch", "One batch fails", "kg", digits=2),
        Column("breeders", "Its breeders die too", "kg", digits=2),
        Column("room", "The warm room is lost", "kg", digits=2),
    ]
    batch = v.say(v.breeders_mass_per_tray * v.trays_per_week, "kg", digits=2)
    note = (
        f"One failed batch costs {v.say(v.worm_mass_per_week, 'kg', digits=2)} once: each week's trays stand by"
        f" themselves. If its breeders die too, {batch} of them must be grown or bought, and the gap comes round every"
        f" {v.say(v.breeding_days, 'day', digits=2)} until then. The picture adds these weeks up."
    )
    return Table("failure_weeks", "Sold in the weeks after a failure", columns, _failure_rows(v), note=note)


def _failure_figure(v: View) -> Figure:
    rows = _failure_rows(v)
    names = (
        (3, "the warm room is lost", "warn"),
        (2, "its breeders die too, none replaced", "second"),
        (1, "one batch fails", "main"),
    )
    marks = []
    for place, label, tone in names:
        total, points = 0.0, []
        for row in rows:
            total += row[place]
            points.append((row[0], total))
        marks.append(Mark("line", points, label=label, tone=tone))
    empty = sum(1 for row in rows if row[3] == 0)
    return Figure(
        "failure",
        "Sold since a failure, added up",
        finding=(
            f"One failed batch is one empty week, {week_sold(0, v.incubation_days + v.growing_days)} weeks later. A"
            f" warm room that overheats is {empty} weeks without a sale, at once."
        ),
        x=Axis("Weeks after sorting", "1", low=0, high=rows[-1][0]),
        y=Axis("Worms sold since", "kg", low=0),
        marks=marks,
        numbers_in="failure_weeks",
    )


def _spans(v: View) -> Figure:
    """Batches as bars in time."""
    rows = []
    shown = 8
    step = max(1.0, 1 / v.trays_per_week)
    for batch in range(shown):
        at = batch * step
        parts = (("breeding", v.breeding_days), ("hatching", v.incubation_days), ("growing", v.growing_days))
        for name, days in parts:
            rows.append((name, f"Batch {batch + 1}", at, at + days / WEEK))
            at += days / WEEK
        rows.append(("sale", f"Batch {batch + 1}", at, at + 0.9))
    tones = {"breeding": "second", "hatching": "muted", "growing": "main", "sale": "good"}
    marks = [
        Mark("spans", [(batch, start, end) for part, batch, start, end in rows if part == name], label=name, tone=tone)
        for name, tone in tones.items()
    ]
    hatched = (v.breeding_days + v.incubation_days) / WEEK
    grown = max(45.0, v.growing_days)
    return Figure(
        "pipeline",
        "Eight batches in time",
        finding=(
            f"The first batch is sold in week {week_sold(0, v.days_to_first_sale)}; by then"
            f" {week_sold(0, v.days_to_first_sale)} weeks of trays stand behind it."
        ),
        x=Axis("Week", "1", low=0),
        y=Axis("", kind="band"),
        marks=marks,
        handles=[
            Handle(
                "growing_days",
                "x",
                grown - 40,
                grown + 120,
                at=(hatched + v.growing_days / WEEK, "Batch 1"),
                ends=(hatched + (grown - 40) / WEEK, hatched + (grown + 120) / WEEK),
                words="grown:",
            )
        ],
    )


def _ramp_figure(v: View, ramp: Sequence[tuple[int, float, float, float]]) -> Figure:
    weeks = v.days_to_first_sale / WEEK
    wait = f"{weeks:.0f}" if abs(weeks - round(weeks)) < 1e-6 else f"over {floor(weeks)}"
    return Figure(
        "output",
        "Worms sold, week by week",
        finding=(
            f"Nothing for {wait} weeks, then all at once: {v.say(v.worm_mass_per_week, 'kg/week', digits=2)}, if"
            " nothing fails."
        ),
        x=Axis("Week", "1", low=0, high=WEEKS),
        y=Axis("Worms a week", "kg", low=0),
        numbers_in="weeks",
        marks=[
            Mark("band", [(week, low, high) for week, low, _, high in ramp], label="eight cases of ten"),
            Mark("line", [(week, middle) for week, _, middle, _ in ramp], label="typical"),
        ],
    )


def _shelf_figure(v: View, batches: Sequence[int]) -> Figure:
    rows = _shelf(v, batches)
    marks = [
        Mark("line", [(row[0], row[place]) for row in rows], label=name, tone=tone)
        for place, name, tone in ((1, "breeding", "second"), (2, "hatching", "third"), (3, "growing", "main"))
    ]
    return Figure(
        "shelf",
        "Trays on the shelf",
        finding=(
            f"Rate times time: {v.say(v.trays_per_week, '1')} a week for {v.say(v.breeding_days, 'day', digits=2)} is"
            f" {v.say(v.breeding_trays_at_once, '1')} breeding trays, and {v.say(v.growout_trays_at_once, '1')} more"
            " hatching and growing, on the average of a week."
        ),
        x=Axis("Week", "1", low=0, high=WEEKS),
        y=Axis("Trays", "1", low=0),
        marks=marks,
        numbers_in="weeks",
    )


def _warnings(v: View) -> list[tuple[str | None, str]]:
    found: list[tuple[str | None, str]] = []
    if v.worms_per_tray > facts.CROWDED_TRAY.typical * v.growout_trays_per_tray:
        found.append(
            (
                "growout_trays_per_tray",
                (
                    f"{v.say(v.worms_per_tray / v.growout_trays_per_tray, '1', digits=2)} worms in a grow-out tray"
                    " crowd each other and stay small. Split them."
                ),
            )
        )
    if v.breeding_days > 28:
        found.append(
            (
                "breeding_days",
                (
                    "The first cocoons hatch after about three weeks: breeders that stay longer share the tray with"
                    " young, and sorting gets hard."
                ),
            )
        )
    if v.survival * v.hatch_share == 0:
        found.append(("survival", "Nothing lives to be sold."))
    if v.labour_hours_per_week > 60:
        found.append((None, f"{v.say(v.labour_hours_per_week, 'hour/week', digits=2)} is more than one person's week."))
    return found


def _reading(v: View) -> list[str]:
    return [
        (
            f"A tray with {v.yours('breeders_mass_per_tray')} of breeders gives about"
            f" {v.say(v.cocoons_per_tray, '1', digits=2)} cocoons, and from them about"
            f" {v.say(v.worms_per_tray, '1', digits=2)} worms for sale."
        ),
        f"{v.say(v.trays_per_week, '1')} trays a week make {v['worm_mass_per_week']}.",
        (
            f"{v.say(v.trays_per_week, '1')} trays a week for {v.say(v.breeding_days / 7, '1', digits=2)} weeks means"
            f" {v.say(v.breeding_trays_at_once, '1')} breeding trays in the room; with hatching and growing it is"
            f" {v.say(v.trays_at_once, '1')}."
        ),
        (
            f"The first worms are sold {v.say(v.days_to_first_sale / 7, '1', digits=2)} weeks after the first tray."
            " Until then there is only work."
        ),
        *_feed_doubt(v),
    ]


def _feed_doubt(v: View) -> list[str]:
    over = feed_shortfall(v.worm_mass_per_week, v.feed_per_day)
    if over <= 1 or v.worm_mass_per_week == 0:
        return []
    each = v.food_bedding_per_week / (v.trays_per_week * v.growout_trays_per_tray)
    food = (
        f"the bedding of the grow-out trays must be food: at least {v['food_bedding_per_week']} of aged manure or"
        f" finished feed, {v.say(each, 'kg', digits=2)} for each tray until it is sold."
    )
    if v.feed_per_day == 0:
        return [f"Without powder {food}"]
    return [
        f"A doubt: {v['feed_per_day']} of powder is {v.say(v.feed_per_day * WEEK, 'kg', digits=2)} a week, and the most"
        f" that trials got from feed is {v.say(worms_of_powder(v.feed_per_day), 'kg', digits=2)} of worms from that"
        f" (Edwards 1985). You plan {v.say(over, '1', digits=2)} times as much. So {food} Weigh what a tray eats."
    ]


def _events(v: View, batches: Sequence[int]) -> list[Event]:
    events = []
    for week, count in enumerate(batches[:26]):
        if not count:
            continue
        start = v.start_date + timedelta(days=7 * week)
        sort = start + timedelta(days=round(v.breeding_days))
        name = f"{count} {'tray' if count == 1 else 'trays'}"
        events += [
            Event(start, f"Start {name}", f"{v['breeders_mass_per_tray']} of breeders each."),
            Event(sort, f"Sort {name}", "Breeders on to fresh trays; cocoons to the warm room."),
            Event(
                sort + timedelta(days=round(v.incubation_days + v.growing_days)),
                f"Sell from {name}",
                f"About {v.say(v.worms_per_tray * count, '1', digits=2)} worms.",
            ),
        ]
    return events
