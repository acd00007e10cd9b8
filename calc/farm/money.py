"""What the whole farm earns: all products share the rent and the hours once, and sell no more than lanes and trays
give.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from functools import lru_cache
from math import ceil
from typing import Annotated, Any, NamedTuple

from calc.economics.cash import calendar_month, month_span, season_by_days
from calc.economics.terms import LOCAL, EnergyCostPerMonth, FixedCostPerMonth, PaidShare
from calc.economics.terms import Season as SalesSeason
from calc.engine import (
    DAYS_A_MONTH,
    NOTHING,
    Answer,
    Axis,
    Band,
    Column,
    Count,
    Figure,
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
    Trace,
    calculator,
    output_wanted,
    presents,
    told_all,
    with_inputs_of,
)
from calc.engine.explore import hypercube, percentile, triangular
from calc.facts import economics as facts
from calc.farm.ahead import HORIZON, hours_by_week, lanes_ahead, product_by_week, tray, worms_by_week
from calc.farm.ahead import Lane as LaneAhead
from calc.farm.figures import any_lane, own_of
from calc.farm.log import Book, book_of, first_told
from calc.farm.programme import NoPlan, solve
from calc.farm.shelf import TOLERANCE, good_castings, margin, screened_share, shed_of, still_good
from calc.farm.tables import Row, check_tables
from calc.farm.week import listed_of, lost_worms
from calc.farm.week import week as of_the_farm
from calc.inputs import WAGE, Wage

WEEKS_A_MONTH = DAYS_A_MONTH / 7
WEEKS = 26
DRAWS, SEED = 200, 20270301
DRAWN = ("chance_of_running_dry",)
"""Outputs that are counted over the draws: they need the ends of what lanes and trays give."""
WORTHS = ("worth_of_hour", "worth_of_castings", "worth_of_worms", "worth_of_tray")
"""Outputs that need the best plan of 26 weeks."""
EXTRAS = "Hours, late payers and taxes"
NO_LIMIT = 1e6
BOUGHT_FEED = 57.0
"""Powder for the trays of the demo farm a month [money]. It is what the worms of three trays a week eat, at the feed
for a pound of them as the page of one unit has it. Invented, as all prices.
"""

PRICE = (facts.PRICE.low / facts.PRICE.typical, facts.PRICE.high / facts.PRICE.typical)
DEMAND = (
    facts.UNITS_PER_MONTH.low / facts.UNITS_PER_MONTH.typical,
    facts.UNITS_PER_MONTH.high / facts.UNITS_PER_MONTH.typical,
)
HOURS = (
    facts.LABOUR_HOURS_PER_UNIT.low / facts.LABOUR_HOURS_PER_UNIT.typical,
    facts.LABOUR_HOURS_PER_UNIT.high / facts.LABOUR_HOURS_PER_UNIT.typical,
)
"""Doubt of prices, of what customers ask for and of hours, as shares of the reader's own figures: those of
calc.facts.economics.
"""


class Seen(NamedTuple):
    """What was worked out on the way: the logbook as read, the farm in numbers, its months, draws and best plan."""

    book: Book
    lanes: list[LaneAhead]
    farm: "Farm"
    terms: "Terms"
    run: "Course"
    lowest: Sequence[float]  # cash in each draw [money]
    best: "Best | None"


@dataclass(frozen=True)
class Money(Answer):
    contribution_per_month: Annotated[
        Band,
        Output(
            "money/month", "Left from sales in a month", "After packing, before rent and hours.", ranged=True, main=True
        ),
    ]
    earned_per_hour: Annotated[
        Band | None,
        Output(
            "money/hour",
            "What an hour of work earns",
            "When everything else is paid, what falls on wages too.",
            ranged=True,
            main=True,
        ),
    ]
    break_even_share: Annotated[
        float | None,
        Output(
            "1",
            "Share of these sales that breaks even",
            "With all costs paid, and all hours at their value. Over 100 %: the plan as it stands loses.",
            us="%",
            metric="%",
            digits=2,
            main=True,
        ),
    ]
    lowest_cash: Annotated[
        Band, Output("money", "Lowest cash from today", "At the end of a month.", ranged=True, main=True)
    ]
    lowest_cash_month: Annotated[int, Output("1", "Month of the lowest cash", "1 is the month that begins today.")]
    chance_of_running_dry: Annotated[
        float,
        Output(
            "1", "Chance of running out of cash", "Counted over seeded draws.", us="%", metric="%", digits=2, main=True
        ),
    ]
    hours_per_month: Annotated[
        float, Output("hour/month", "Hours a month", "Lanes, trays, packing, and what else the logbook has.", digits=2)
    ]
    sales_per_month: Annotated[float, Output("money/month", "Sales a month", "Without sales tax.")]
    cash_at_end: Annotated[Band, Output("money", "Cash at the end", "", ranged=True)]
    worth_of_hour: Annotated[
        float,
        Output(
            "money/hour",
            "One more hour a week is worth",
            "In the best plan of 26 weeks. Nothing while hours are not scarce.",
        ),
    ]
    worth_of_castings: Annotated[
        float, Output("money/kg", "One more weight of castings is worth", "In the first week of that plan.")
    ]
    worth_of_worms: Annotated[
        float, Output("money/kg", "One more weight of worms is worth", "In the first week of that plan.")
    ]
    worth_of_tray: Annotated[
        float | None,
        Output(
            "money",
            "One more tray started now is worth",
            "When its worms are sold, less the hours it takes. None: later than the plan.",
        ),
    ]
    seen: Annotated[Seen, Trace("The farm in numbers, its months and its best plan")] = field(repr=False, compare=False)


class Farm(NamedTuple):
    """The farm in the numbers that money needs. By month from today: castings, worms [kg], hours."""

    products: tuple[
        tuple[float, float, float, float, float], ...
    ]  # castings, worms [kg], price, packing, asked for a month
    order: tuple[int, ...]  # in which they are filled
    castings: tuple[tuple[float, ...], ...]  # low, typical, high case, of each month
    worms: tuple[tuple[float, ...], ...]
    hours: tuple[float, ...]  # at lanes and trays
    stock: tuple[float, float, tuple[float, ...]]  # castings, worms [kg], packed units of each product
    season: tuple[float, ...]  # of each month, against the mean
    packing_hours: float  # for one unit


class Terms(NamedTuple):
    """How money moves. Shares; money by month or hour."""

    fixed: float  # all that falls due each month whether anything is sold or not: fixed costs, energy, bought feed
    wage: float
    paid_share: float
    on_costs: float
    sales_tax: float
    delay: float  # months
    opening: float

    @property
    def on_top(self) -> float:
        """What falls on the wage of an hour, on the average of all hours [money/h]."""
        return self.wage * self.paid_share * self.on_costs

    @property
    def paid(self) -> float:
        """What is paid for an hour in cash, on the average of all hours [money/h]."""
        return self.wage * self.paid_share + self.on_top

    @property
    def worth(self) -> float:
        """What an hour has to bring in: its value, and what falls on the part that is paid [money/h]."""
        return self.wage + self.on_top


class Months(NamedTuple):
    """Month by month: units of each product, sales without tax, packing [money], hours."""

    units: list[list[float]]
    sales: list[float]
    packing: list[float]
    hours: list[float]


class Course(NamedTuple):
    """Months, with the cash at the end of each [money]."""

    units: list[list[float]]
    sales: list[float]
    packing: list[float]
    hours: list[float]
    cash: list[float]


def course(farm: Farm, terms: Terms) -> Course:
    """The months from today as they are most likely, and the cash at the end of each."""
    run = months_of(farm, terms.sales_tax)
    return Course(*run, _cash(terms, run))


def months_of(
    farm: Farm,
    sales_tax: float,
    price: float = 1.0,
    demand: float = 1.0,
    hours: float = 1.0,
    castings: float = 0.5,
    worms: float = 0.5,
) -> Months:
    """The months from today, with prices, demand and hours times a factor, and castings and worms between their low
    (0) and high case (1).

    Each month: what is packed goes first, then what castings and worms make, the best paid for its contents first.
    Nothing is sold before it is made.
    """
    many = len(farm.castings[0])
    pool, herd = farm.stock[0], farm.stock[1]
    packed = list(farm.stock[2])
    units, sales, costs, worked = [], [], [], []
    for month in range(many):
        pool += _between(farm.castings, month, castings)
        herd += _between(farm.worms, month, worms)
        made = [0.0] * len(packed)
        income = cost = count = 0.0
        for at in farm.order:
            needs, holds, each, packing, asked = farm.products[at]
            wanted = asked * demand * farm.season[month]
            sold = min(packed[at], wanted)
            packed[at] -= sold
            fresh = wanted - sold
            if needs and fresh * needs > pool:
                fresh = pool / needs
            if holds and fresh * holds > herd:
                fresh = herd / holds
            pool -= fresh * needs
            herd -= fresh * holds
            sold += fresh
            made[at] = sold
            income += sold * each
            cost += fresh * packing
            count += fresh
        units.append(made)
        sales.append(income * price / (1 + sales_tax))
        costs.append(cost)
        worked.append((farm.hours[month] + count * farm.packing_hours) * hours)
    return Months(units, sales, costs, worked)


def _between(cases: Sequence[Sequence[float]], month: int, share: float) -> float:
    low, middle, high = cases[0][month], cases[1][month], cases[2][month]
    return low + (middle - low) * 2 * share if share < 0.5 else middle + (high - middle) * (2 * share - 1)


def _cash(terms: Terms, run: Months) -> list[float]:
    """Cash at the end of each month; what is sold is paid the delay later, part months in their shares."""
    whole, part = int(terms.delay), terms.delay - int(terms.delay)
    cash, held, sales = terms.opening, [], run.sales
    for month, (cost, hours) in enumerate(zip(run.packing, run.hours)):
        came = 0.0
        if month - whole >= 0:
            came += sales[month - whole] * (1 - part)
        if month - whole - 1 >= 0:
            came += sales[month - whole - 1] * part
        cash += came * (1 + terms.sales_tax) - sales[month] * terms.sales_tax
        cash -= cost + terms.fixed + hours * terms.paid
        held.append(cash)
    return held


def _earned(run: Months | Course, terms: Terms) -> float | None:
    worked = sum(run.hours)
    left = sum(run.sales) - sum(run.packing) - terms.fixed * len(run.sales)
    return left / worked - terms.on_top if worked > 0 else None


@lru_cache(maxsize=4)
def _months_drawn(farm: Farm, sales_tax: float) -> list[Months]:
    """The months of each of the seeded draws; how and when what is sold and bought is paid makes no difference to what
    is."""
    found = []
    for shares in zip(*hypercube(5, DRAWS, SEED)):
        price, demand, hours = (
            triangular(share, low, 1.0, high) for share, (low, high) in zip(shares, (PRICE, DEMAND, HOURS))
        )
        between = (triangular(share, 0.0, 0.5, 1.0) for share in shares[3:])
        found.append(months_of(farm, sales_tax, price, demand, hours, *between))
    return found


@lru_cache(maxsize=16)
def drawn(farm: Farm, terms: Terms) -> tuple[tuple[float, ...], ...]:
    """(contribution a month, earned an hour, lowest cash, cash at the end) of each of the seeded draws, together."""
    found = []
    for run in _months_drawn(farm, terms.sales_tax):
        many, cash = len(run.sales), _cash(terms, run)
        left = (sum(run.sales) - sum(run.packing)) / many
        found.append((left, _earned(run, terms) or 0.0, min(cash), cash[-1]))
    return tuple(zip(*found))


def _band(value: float, draws: Sequence[float]) -> Band:
    ordered = sorted(draws) or [value]
    return Band(value, min(value, percentile(ordered, 0.1)), max(value, percentile(ordered, 0.9)))


# ---- the farm as numbers


def farm_of(
    given: Mapping[str, Any], book: Book
) -> tuple[Farm, list[LaneAhead], tuple[list[list[float]], list[list[float]]]]:
    """The Farm behind a set of inputs; its lanes; castings and worms by week, typical case, for the plan of 26
    weeks [kg].
    """
    months, today, own = given["months"], given["today"], own_of(given)
    weeks = max(WEEKS, ceil(months * WEEKS_A_MONTH) + 1)
    lanes = lanes_ahead(
        given["lanes"],
        given["ration"],
        given["climate"],
        given["monthly_temperature"],
        today,
        max(HORIZON, 7 * weeks),
        own,
    )
    worms = worms_by_week(given["rooms"], book, today, weeks, own)
    castings = product_by_week(lanes, book, today, weeks, output_wanted(*DRAWN))
    hours = hours_by_week(lanes, weeks)
    at_trays = sum(float(room["trays_per_week"]) for room in given["rooms"]) * tray(own).hours_per_week
    shed = shed_of(book, given["products"], screened_share(any_lane(own)))
    products = tuple(
        (
            row.get("castings") or 0.0,
            row.get("worms") or 0.0,
            float(row["price"]),
            float(row.get("packing") or 0.0),
            NO_LIMIT if row.get("most_per_month") is None else float(row["most_per_month"]),
        )
        for row in given["products"]
    )
    mean = sum(given["season"]) / 12
    pattern = tuple(factor / mean for factor in season_by_days(given["season"], today, months))
    good = good_castings(shed, given["products"], today)
    supply = sum(castings[1]) + good, sum(worms[1]) + shed.worms

    def worth(at: int) -> float:
        needs, holds = products[at][:2]
        used = needs / max(supply[0], 1.0) + holds / max(supply[1], 1.0)
        return margin(given["products"][at]) / used if used else float("inf")

    order = tuple(
        at for at in sorted(range(len(products)), key=lambda at: -worth(at)) if margin(given["products"][at]) > 0
    )
    usual = sum(hours) / weeks * WEEKS_A_MONTH + at_trays * WEEKS_A_MONTH
    other = given["other_hours_per_month"]
    if other is None:
        other = max(0.0, logged_hours(book) - usual)
    farm = Farm(
        products=products,
        order=order,
        castings=tuple(_by_month(case, months) for case in castings),
        worms=tuple(_by_month(case, months) for case in worms),
        hours=tuple(value + at_trays * WEEKS_A_MONTH + other for value in _by_month(hours, months)),
        stock=(good, shed.worms, tuple(still_good(shed, given["products"], today))),
        season=pattern,
        packing_hours=given["packing_minutes"] / 60,
    )
    return (
        farm,
        lanes,
        (
            [castings[1][:WEEKS]],
            [worms[1][:WEEKS], [value + at_trays + other / WEEKS_A_MONTH for value in hours[:WEEKS]]],
        ),
    )


def logged_hours(book: Book) -> float:
    """Hours a month by the logbook, over the days from its first row of hours to its last; nothing with less than
    four weeks of them.
    """
    rows = [entry for entry in book.of.get("hours", ()) if entry.amount]
    days = (rows[-1].day - rows[0].day).days if rows else 0
    if days < 28:
        return 0.0
    # the first row tells of the time before it
    return sum(entry.amount or 0.0 for entry in rows[1:]) / days * DAYS_A_MONTH


def _by_month(weekly: Sequence[float], months: int) -> tuple[float, ...]:
    """Amounts of weeks as amounts of months; a week that two months share is split by its days."""
    found = [0.0] * (months + 2)
    for week, amount in enumerate(weekly):
        if amount:
            start, end = 7 * week / DAYS_A_MONTH, 7 * (week + 1) / DAYS_A_MONTH
            month = int(start)
            if month >= months:
                break
            before = min(1.0, (month + 1 - start) / (end - start))
            # what comes in a week is there at its end: counted late rather than early
            found[month if before >= 1 else month + 1] += amount
    return tuple(found[:months])


def terms_of(given: Mapping[str, Any]) -> Terms:
    """How money moves, from the inputs."""
    return Terms(
        fixed=given["fixed_cost_per_month"] + given["energy_cost_per_month"] + given["feed_bought_per_month"],
        wage=given["wage"],
        paid_share=given["paid_share"],
        on_costs=given["on_costs"],
        sales_tax=given["sales_tax"],
        delay=given["late_days"] / DAYS_A_MONTH,
        opening=given["opening_cash"],
    )


# ---- the best plan of 26 weeks


class Best(NamedTuple):
    """Units of each product in each week, the gain, and what one more of each scarce thing in each week would add."""

    units: list[list[float]]
    gain: float
    castings: list[float]  # [money/kg]
    worms: list[float]
    hours: list[float]  # [money/h]


@lru_cache(maxsize=16)
def best_plan(
    products: tuple[tuple[float, float, float, float, float], ...],
    stock: tuple[float, float, tuple[float, ...]],
    castings: tuple[float, ...],
    worms: tuple[float, ...],
    hours: tuple[float, ...],
    packing_hours: float,
    season: tuple[float, ...],
) -> Best | None:
    """The plan that earns most from so much castings and worms [kg] and free hours in each week, by linear programme.

    In each week: what is packed of castings ≤ what came in and was left over, the same for worms, hours within the
    free ones, and no more sold than is asked for. What is packed already is sold first. None where nothing holds the
    gain back.
    """
    weeks, many = len(castings), len(products)
    gains, tops = [], []
    rows: list[dict[int, float]] = [{} for _ in range(3 * weeks)]
    left = list(stock[2])
    for week in range(weeks):
        factor = season[min(int((week + 0.5) / WEEKS_A_MONTH), len(season) - 1)]
        for at, (needs, holds, price, packing, asked) in enumerate(products):
            wanted = asked / WEEKS_A_MONTH * factor
            ready = min(left[at], wanted)
            left[at] -= ready
            thing = week * many + at
            gains.append(price - packing)
            tops.append(wanted - ready)
            for row, used in ((week, needs), (weeks + week, holds), (2 * weeks + week, packing_hours)):
                if used:
                    rows[row][thing] = used
    for start in (0, weeks):  # what is left over goes on to the next week
        for week in range(weeks - 1):
            thing = len(gains)
            gains.append(0.0)
            tops.append(float("inf"))
            rows[start + week][thing] = 1.0
            rows[start + week + 1][thing] = -1.0
    rights = [*castings, *worms, *hours]
    rights[0] += stock[0]
    rights[weeks] += stock[1]
    try:
        solved = solve(gains, rows, rights, tops)
    except NoPlan:
        return None
    units = [solved.amounts[week * many : (week + 1) * many] for week in range(weeks)]
    worth = [solved.worth[start : start + weeks] for start in (0, weeks, 2 * weeks)]
    return Best(units, solved.gain, *worth)


def best_of(given: Mapping[str, Any], farm: Farm, by_week: tuple[list[list[float]], list[list[float]]]) -> Best | None:
    """The best plan behind a set of inputs."""
    (castings,), (worms, worked) = by_week
    free = [
        NO_LIMIT if given["hours_per_week"] is None else max(0.0, given["hours_per_week"] - hours) for hours in worked
    ]
    season = farm.season if len(farm.season) >= 7 else farm.season + (farm.season[-1],) * 7
    return best_plan(farm.products, farm.stock, tuple(castings), tuple(worms), tuple(free), farm.packing_hours, season)


def worth_of_tray(given: Mapping[str, Any], best: Best) -> float | None:
    """What one more tray started this week adds when its worms are sold, less its hours [money]."""
    each = tray(own_of(given))
    week = each.days_to_sale // 7
    if week >= len(best.worms):
        return None
    weekly = each.hours_per_week / max(1, week)
    return each.worms.value * best.worms[week] - sum(weekly * price for price in best.hours[: week + 1])


@calculator(
    "farm.money",
    "What does the whole farm earn?",
    leads={"troubles": {}, "farm.stock": {}, "farm.week": {}, "economics.return": {}},
)
@told_all
@with_inputs_of(of_the_farm)
def money(
    opening_cash: Annotated[
        float,
        Number(
            "money", "Cash today", -1e8, 1e8, help="In the till and at the bank. The months are counted on from it."
        ),
    ] = 1500.0,
    fixed_cost_per_month: FixedCostPerMonth = facts.FIXED_COST.typical,
    energy_cost_per_month: EnergyCostPerMonth = facts.ENERGY_COST.typical,
    feed_bought_per_month: Annotated[
        float,
        Number(
            "money/month",
            "Feed that you buy",
            0,
            1e6,
            help="For all lanes and trays. 0 when manure and scraps are all they get.",
        ),
    ] = BOUGHT_FEED,
    wage: Wage = WAGE,
    months: Annotated[int, Count("month", "Months to look ahead", 1, 36)] = 12,
    hours_per_week: Annotated[
        float | None,
        Number(
            "hour/week",
            "Hours that you have in a week",
            0,
            1000,
            optional=True,
            help="For everything. Blank: hours are not what holds you back.",
            group=EXTRAS,
        ),
    ] = None,
    other_hours_per_month: Annotated[
        float | None,
        Number(
            "hour/month",
            "Hours beside lanes, trays and packing",
            0,
            1000,
            optional=True,
            help="Selling, fetching feed, mending, writing. Blank: what the logbook's hours are more than the plan's.",
            group=EXTRAS,
        ),
    ] = None,
    packing_minutes: Annotated[
        float,
        Number(
            "minute", "Minutes to pack and sell one", 0, 600, help="One of your products, on the average.", group=EXTRAS
        ),
    ] = 6.0,
    paid_share: PaidShare = 0.0,
    on_costs: Annotated[
        float,
        Share(
            "On top of wages",
            0,
            2,
            help="What you pay for an employee beside the wage. 0 when nobody is.",
            group=EXTRAS,
        ),
    ] = 0.0,
    late_days: Annotated[
        float, Number("day", "Days until customers pay", 0, 365, help="0 when they pay at once.", group=EXTRAS)
    ] = 0.0,
    sales_tax: Annotated[
        float,
        Share(
            "Sales tax in your prices",
            0,
            1,
            help="On top of the net price, paid on to the tax office. 0 when you owe none.",
            group=EXTRAS,
        ),
    ] = 0.0,
    season: SalesSeason = facts.SEASON,
    *,
    asked: Mapping[str, Any] = NOTHING,
    **farm_as_it_is: Any,
) -> Money:
    """Contribution, hours, break-even and cash of all products together, from the farm's own stock on.

    Money in the reader's currency; months; hours [h]; shares [-]; farm_as_it_is: the inputs of farm.week.
    Sales never pass what lanes and trays give. Bands and the chance come from 200 seeded draws of prices, demand
    and hours, as shares of
    the reader's own figures, and of castings and worms between their low and high case.
    Sources: OpenStax, Principles of Managerial Accounting, contribution of several products; Dantzig 1963 for the
    plan of 26 weeks.
    """
    rooms = farm_as_it_is["rooms"]
    check_tables(farm_as_it_is["lanes"], rooms, farm_as_it_is["products"])
    if not any(season):
        raise Refused([("season", "Sales of each month cannot all be nothing: 1 is a mean month.")])
    book = book_of(asked)
    farm, lanes, by_week = farm_of(asked, book)
    terms = terms_of(asked)
    run = course(farm, terms)
    contributions, earned, lowest, ends = drawn(farm, terms) if output_wanted(*DRAWN) else ((), (), (), ())
    many = len(run.sales)
    contribution = (sum(run.sales) - sum(run.packing)) / many
    hours = sum(run.hours) / many
    hourly = _earned(run, terms)
    best = best_of(asked, farm, by_week) if output_wanted(*WORTHS) else None
    return Money(
        contribution_per_month=_band(contribution, contributions),
        earned_per_hour=None if hourly is None else _band(hourly, earned),
        break_even_share=(terms.fixed + hours * terms.worth) / contribution if contribution > 0 else None,
        lowest_cash=_band(min(run.cash), lowest),
        lowest_cash_month=run.cash.index(min(run.cash)) + 1,
        chance_of_running_dry=sum(value < 0 for value in lowest) / max(1, len(lowest)),
        hours_per_month=hours,
        sales_per_month=sum(run.sales) / many,
        cash_at_end=_band(run.cash[-1], ends),
        worth_of_hour=best.hours[0] if best else 0.0,
        worth_of_castings=best.castings[0] if best else 0.0,
        worth_of_worms=best.worms[0] if best else 0.0,
        worth_of_tray=worth_of_tray(asked, best) if best and rooms else None,
        seen=Seen(book, lanes, farm, terms, run, lowest, best),
    )


# ---- what it shows


def actuals(book: Book, products: Sequence[Row]) -> list[tuple[str, float, float, float]]:
    """[(month, sales, paid and bought, hours)] of the logbook, calendar month by month [money, money, h]."""
    found: dict[tuple[int, int], list[float]] = {}
    for entry in book.entries:
        if entry.amount is None or entry.what not in ("sold", "paid", "bought", "hours"):
            continue
        sums = found.setdefault((entry.day.year, entry.day.month), [0.0, 0.0, 0.0])
        if entry.what == "sold" and entry.product is not None:
            sums[0] += (
                entry.money if entry.money is not None else entry.amount * float(products[entry.product]["price"])
            )
        elif entry.what == "hours":
            sums[2] += entry.amount
        elif entry.what in ("paid", "bought"):
            sums[1] += entry.amount
    return [
        (calendar_month(date(year, month, 1), 1), sold, paid, hours)
        for (year, month), (sold, paid, hours) in sorted(found.items())
    ]


@presents(money)
def show_money(v: Any) -> Show:
    book, lanes, farm, terms, run, lowest, best = v.seen
    return Show(
        working=_working(v, farm, run, terms, lowest, best),
        tables=[
            _by_product(v, farm, run),
            _months(v, run, terms),
            *_actual_table(v, book),
            *(_plan_tables(v, farm, best) if best and v.products else []),
        ],
        figures=[_cash_figure(v, run)],
        warnings=[*lost_worms(v, lanes), *_warnings(v, farm, run), *first_told(book)],
        reading=_reading(v, farm, run, book),
        cautions=[LOCAL],
    )


def _month_cells(v: Any, farm: Farm, run: Course, terms: Terms) -> list[dict[str, float]]:
    """What the working says of each month."""
    whole, before = int(terms.delay), terms.opening
    found = []
    for month, cash in enumerate(run.cash):
        now, earlier = month - whole, month - whole - 1
        found.append(
            {
                "month": month + 1,
                "sales": run.sales[month],
                "packing": run.packing[month],
                "hours": run.hours[month],
                "at_beds": farm.hours[month],
                "paid_in_time": run.sales[now] if now >= 0 else 0.0,
                "paid_later": run.sales[earlier] if earlier >= 0 else 0.0,
                "before": before,
                "cash": cash,
            }
        )
        before = cash
    return found


CELLS = {
    "month": "1",
    **dict.fromkeys(("sales", "packing", "paid_in_time", "paid_later"), "money/month"),
    **dict.fromkeys(("hours", "at_beds"), "hour/month"),
    **dict.fromkeys(("before", "cash"), "money"),
}


def _working(v: Any, farm: Farm, run: Course, terms: Terms, lowest: Sequence[float], best: Best | None) -> list[Step]:
    months = len(run.sales)
    units = [sum(month[at] for month in run.units) / months for at in range(len(v.products))]
    used = {
        "rows": RowsPart("the months", CELLS, _month_cells(v, farm, run, terms)),
        "products": RowsPart(
            "the products",
            {"sold": "1/month", "price": "money"},
            [{"sold": sold, "price": float(row["price"])} for row, sold in zip(v.products, units)],
        ),
        "draws": RowsPart("the draws", {"lowest": "money"}, [{"lowest": low} for low in lowest]),
        "part": Part("share of a month that payment is late beyond whole months", terms.delay - int(terms.delay)),
        "each_month": Part("what falls due each month", terms.fixed, "money/month"),
        "on_top": Part("what falls on the wage of an hour", terms.on_top, "money/hour"),
    }

    def step(title: str, equation: str, source: str, note: str = "") -> Step:
        return Step(title, equation, source, note, used)

    return [
        step(
            "Sales",
            "{sales_per_month} = sum over {products} of {sold} × {price} ÷ (1 + {sales_tax}); {sales_per_month} = mean"
            " over {rows} of {sales}",
            "arithmetic; nothing is sold before it is made",
            "Each month what is asked for in that season, as far as packed goods, castings and worms go. What is paid"
            " best for its contents goes first.",
        ),
        step(
            "Left",
            "{contribution_per_month} = mean over {rows} of ({sales} − {packing})",
            "OpenStax, Managerial Accounting: contribution",
        ),
        step(
            "Hours",
            "{hours_per_month} = mean over {rows} of {hours}",
            "arithmetic",
            "Lanes by the model, trays, packing, and other hours as typed, or what the logbook has more.",
        ),
        step(
            "Whether you sell or not",
            "{each_month} = {fixed_cost_per_month} + {energy_cost_per_month} + {feed_bought_per_month}; {on_top} ="
            " {wage} × {paid_share} × {on_costs}",
            "definition",
        ),
        step(
            "An hour",
            "{earned_per_hour} = ({contribution_per_month} − {each_month}) ÷ {hours_per_month} − {on_top}",
            "definition",
        ),
        step(
            "Break-even",
            "{break_even_share} = ({each_month} + {hours_per_month} × ({wage} + {on_top})) ÷ {contribution_per_month}",
            "OpenStax, Managerial Accounting: break-even of several products sold in one proportion",
        ),
        step(
            "Cash",
            "{cash} = {before} + 1 month × (({paid_in_time} × (1 − {part}) + {paid_later} × {part}) × (1 + {sales_tax})"
            " − {sales} × {sales_tax} − {packing} − {each_month} − {hours} × ({wage} × {paid_share} + {on_top})),"
            " each of {rows}",
            "arithmetic",
        ),
        step(
            "Lowest",
            "{lowest_cash} = the smallest {cash} of {rows}; {lowest_cash_month} = the first {month} of {rows} where"
            " {cash} = {lowest_cash}; {cash_at_end} = the last {cash} of {rows}",
            "arithmetic",
        ),
        step(
            "Doubt",
            "{chance_of_running_dry} = (number of {draws} where {lowest} < 0) ÷ number of {draws}",
            "Latin hypercube (McKay, Beckman & Conover 1979)",
            "Prices, demand and hours as shares of your own figures, castings and worms between their low and high"
            " case.",
        ),
        *_worth_steps(v, best),
    ]


def _worth_steps(v: Any, best: Best | None) -> list[Step]:
    """What one more of each scarce thing is worth in the plan of 26 weeks."""
    each = tray(own_of(v.given))
    week = each.days_to_sale // 7
    weeks = [] if best is None else list(zip(best.hours, best.castings, best.worms))
    used = {
        "plan": RowsPart(
            "the weeks of the plan",
            {"week": "1", "hour_worth": "money/hour", "castings_worth": "money/kg", "worms_worth": "money/kg"},
            [
                {"week": place, "hour_worth": hour, "castings_worth": castings, "worms_worth": worms}
                for place, (hour, castings, worms) in enumerate(weeks)
            ],
        ),
        "ready": Part("weeks until its worms are sold", week),
        "worms_of_tray": Part("worms from a tray", each.worms.value, "kg"),
        "weekly": Part("hours of a tray a week", each.hours_per_week / max(1, week), "hour"),
    }
    if best is None:
        equation = "{worth_of_hour} = 0; {worth_of_castings} = 0; {worth_of_worms} = 0"
    else:
        equation = (
            "{worth_of_hour} = the first {hour_worth} of {plan}; {worth_of_castings} = the first {castings_worth} of"
            " {plan}; {worth_of_worms} = the first {worms_worth} of {plan}"
        )
    one_tray = (
        "{worth_of_tray} = {worms_of_tray} × (the first {worms_worth} of {plan} where {week} = {ready}) − sum over"
        " {plan} of {weekly} × {hour_worth} where {week} ≤ {ready}"
    )
    source = "linear programme (Dantzig 1963), shadow prices"
    return [
        Step("Plan of 26 weeks", equation, source, values=used),
        Step("One more tray", one_tray, source, values=used),
    ]


def _by_product(v: Any, farm: Farm, run: Course) -> Table:
    months = len(run.sales)
    rows = []
    for at, row in enumerate(v.products):
        units = sum(month[at] for month in run.units) / months
        if abs(units) < TOLERANCE:
            units = 0.0
        each = margin(row)
        rows.append(
            (
                str(row["name"]),
                units,
                row.get("most_per_month"),
                units * float(row["price"]) / (1 + v.sales_tax),
                units * (float(row["price"]) / (1 + v.sales_tax) - float(row.get("packing") or 0.0)),
                each * units / (units * farm.packing_hours) if units and farm.packing_hours else None,
            )
        )
    columns = [
        Column("product", "Product"),
        Column("units", "Sold a month", "1/month", digits=2),
        Column("asked", "Asked for", "1/month", digits=2),
        Column("sales", "Sales", "money/month"),
        Column("left", "Left after packing", "money/month"),
        Column("hour", "Left for an hour of packing", "money/hour"),
    ]
    return Table("products", "Product by product", columns, rows, open=True)


def _months(v: Any, run: Course, terms: Terms) -> Table:
    rows = []
    for month, (sales, packing, hours, cash) in enumerate(zip(run.sales, run.packing, run.hours, run.cash), 1):
        paid = hours * terms.paid
        rows.append((month, month_span(v.today, month), sales, packing, terms.fixed, paid, hours, cash))
    columns = [
        Column("month", "Month", "1"),
        Column("name", "From, to"),
        Column("sales", "Sales", "money"),
        Column("packing", "Packing", "money"),
        Column("fixed", "Fixed costs, energy, feed", "money"),
        Column("wages", "Wages paid", "money"),
        Column("hours", "Hours", "hour", digits=2),
        Column("cash", "Cash at its end", "money"),
    ]
    return Table("months", "Month by month from today", columns, rows)


def _actual_table(v: Any, book: Book) -> list[Table]:
    rows = actuals(book, v.products)
    if not rows:
        return []
    columns = [
        Column("month", "Month"),
        Column("sales", "Sold", "money"),
        Column("spent", "Paid and bought", "money"),
        Column("hours", "Hours", "hour", digits=2),
    ]
    return [Table("actuals", "What the logbook says, up to today", columns, rows)]


def _plan_tables(v: Any, farm: Farm, best: Best) -> list[Table]:
    rows = []
    for week, units in enumerate(best.units):
        used = [sum(amount * product[place] for amount, product in zip(units, farm.products)) for place in (0, 1)]
        gain = sum(amount * (product[2] - product[3]) for amount, product in zip(units, farm.products))
        rows.append(
            (
                week + 1,
                used[0],
                used[1],
                sum(units) * farm.packing_hours,
                gain,
                best.castings[week],
                best.worms[week],
                best.hours[week],
            )
        )
    columns = [
        Column("week", "Week", "1"),
        Column("castings", "Castings packed", "kg", digits=2),
        Column("worms", "Worms packed", "kg", digits=2),
        Column("hours", "Hours of packing", "hour", digits=2),
        Column("left", "Left", "money"),
        Column("worth_castings", "One more of castings", "money/kg"),
        Column("worth_worms", "One more of worms", "money/kg"),
        Column("worth_hour", "One more hour", "money/hour"),
    ]
    totals = [(str(row["name"]), sum(week[at] for week in best.units)) for at, row in enumerate(v.products)]
    note = "What one more would add to the whole plan: spend effort where the figure is high, none where it is nothing."
    return [
        Table("plan", "The best 26 weeks", columns, rows, note=note),
        Table(
            "plan_products",
            "What to make in those weeks",
            [Column("product", "Product"), Column("units", "Units", "1", digits=2)],
            totals,
        ),
    ]


def _cash_finding(v: Any) -> str:
    """Where cash is lowest; today, where no month ends with less."""
    lowest = v.money(v.lowest_cash)
    if v.lowest_cash < v.opening_cash:
        return f"Cash is lowest in month {v.lowest_cash_month}, at {lowest}."
    return (
        f"No month ends with less than the {v.money(v.opening_cash)} of today; the lowest ends with {lowest}, in month"
        f" {v.lowest_cash_month}."
    )


def _cash_figure(v: Any, run: Course) -> Figure:
    return Figure(
        "cash",
        "Cash from today",
        finding=_cash_finding(v),
        x=Axis("Month", "1", low=0, high=len(run.cash)),
        y=Axis("Cash", "money"),
        marks=[
            Mark("line", [(0, v.opening_cash), *enumerate(run.cash, 1)]),
            Mark("rule_y", [(0, "")], tone="muted"),
            Mark("dots", [(v.lowest_cash_month, v.lowest_cash, "lowest")]),
        ],
        numbers_in="months",
    )


def _warnings(v: Any, farm: Farm, run: Course) -> list[tuple[str | None, str]]:
    found: list[tuple[str | None, str]] = []
    if v.hours_per_week is not None and v.hours_per_month > v.hours_per_week * WEEKS_A_MONTH:
        found.append(
            (
                "hours_per_week",
                (
                    f"The plan takes {v.say(v.hours_per_month / WEEKS_A_MONTH, 'hour', digits=2)} a week, more "
                    "than you have."
                ),
            )
        )
    if v.chance_of_running_dry > 0.2:
        found.append(
            (
                "opening_cash",
                f"In {v['chance_of_running_dry']} of the draws the cash runs out. Hold more back before you buy.",
            )
        )
    if v.wage == 0:
        found.append(
            (
                "wage",
                "Your hours are counted as worth nothing. Someone lives on that time: put in what it is worth to you.",
            )
        )
    unlimited = [
        f"“{row['name']}”"
        for at, row in enumerate(v.products)
        if row.get("most_per_month") is None and any(month[at] for month in run.units)
    ]
    if unlimited:
        found.append(
            (
                "products",
                f"Nothing says how much people ask for of {listed_of(unlimited)}: all that is made counts as sold. Type"
                " the most that they buy in a month.",
            )
        )
    losing = [str(row["name"]) for row in v.products if margin(row) <= 0]
    if losing:
        found.append(("products", f"{', '.join(losing)}: packing costs as much as the price, so none is planned."))
    return found


def _reading(v: Any, farm: Farm, run: Course, book: Book) -> list[str]:
    if not v.products or v.contribution_per_month <= 0:
        return [
            "Nothing is sold in this plan: it takes products that people ask for, and lanes or trays that give them."
        ]
    sentences = [
        f"All products together leave {v['contribution_per_month']} after packing, for {v['hours_per_month']} of work.",
        (
            f"When all else is paid an hour earns {v['earned_per_hour']}; you value it at {v.yours('wage')}."
            if v.earned_per_hour is not None
            else "The plan takes no hours."
        ),
    ]
    if v.other_hours_per_month is None and not logged_hours(book):
        sentences.append(
            "Hours of selling, fetching and writing are not in it: type them, or write hours into the logbook for four"
            " weeks."
        )
    if v.break_even_share is not None:
        sentences.append(
            f"With your hours paid, {v['break_even_share']} of these sales would break even."
            if v.break_even_share <= 1
            else f"With your hours paid the plan loses: {v['break_even_share']} of these sales would break even."
        )
    months = len(run.sales)
    short = [
        (str(row["name"]), row["most_per_month"] - sum(month[at] for month in run.units) / months)
        for at, row in enumerate(v.products)
        if row.get("most_per_month")
    ]
    missed = max(short, key=lambda one: one[1], default=None)
    if missed and missed[1] >= 0.5:
        sentences.append(
            f"Customers ask for {v.say(missed[1], '1', digits=2)} more of “{missed[0]}” a month than you can make."
        )
    if v.worth_of_hour > 0:
        sentences.append(f"One more hour a week is worth {v['worth_of_hour']}.")
    return sentences


__all__ = ["Farm", "Terms", "best_plan", "course", "money"]
