"""Cash month by month for three years: spending, the months without income that biology dictates, ramp, seasons, a
loan.
"""

from calendar import monthrange
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta
from functools import lru_cache
from itertools import accumulate
from math import ceil, fsum
from typing import Annotated, Any, NamedTuple

from calc.economics.costs import STARTER_LIST, bought_by_month, castings_first_of
from calc.economics.terms import (
    CASTINGS_PER_WEEK,
    LOCAL,
    TRAYS_PER_WEEK,
    CastingsPerWeek,
    Contingency,
    EarlyShare,
    EnergyCostPerMonth,
    FeedCostPerUnit,
    FixedCostPerMonth,
    LabourHoursPerUnit,
    LoanAmount,
    LoanMonths,
    LoanRate,
    MonthsToIncome,
    OpeningCash,
    OtherSalesPerMonth,
    PackingCostPerUnit,
    PaidShare,
    Price,
    Purchases,
    RampMonths,
    Season,
    Sold,
    StartupCost,
    TraysPerWeek,
    UnitsPerMonth,
    earliest_income,
    months_before_income,
    oversold,
    produce_of,
    units_and_hours,
    with_produce,
)
from calc.engine import (
    NOTHING,
    Answer,
    Axis,
    Column,
    Event,
    Figure,
    Handle,
    Mark,
    Output,
    Part,
    Refused,
    RowsPart,
    Show,
    Step,
    Table,
    Trace,
    View,
    calculator,
    presents,
    told_all,
)
from calc.facts import economics as facts
from calc.inputs import START_DATE, WAGE, StartDate, Wage

MONTHS = 36
NO_LOAN: tuple[Sequence[float], Sequence[float]] = ((0.0,) * MONTHS, (0.0,) * MONTHS)
"""What loan_by_month says where there is none."""


def loan_payment(amount: float, rate_per_year: float, months: int) -> float:
    """Even monthly payment that pays a loan off [money/month].

    Source: annuity formula; OpenStax, Principles of Finance, time value of money.
    >>> round(loan_payment(10000, 0.07, 60), 2)
    198.01
    """
    if not amount:
        return 0.0
    monthly = rate_per_year / 12
    if monthly < 1e-12:  # so little that the annuity formula would divide nothing by nothing
        return amount / months
    grown = 1.0
    for _ in range(months):  # products, not pow(): the same digits in every Python
        grown *= 1 + monthly
    return amount * monthly * grown / (grown - 1)


def sales_share(month: int, months_to_income: float, ramp_months: float) -> float:
    """Share of full sales reached in a month counted from 1 [-]: nothing until the first income, then an even climb.

    >>> [round(sales_share(month, 8, 4), 2) for month in (8, 9, 10, 12, 30)]
    [0.0, 0.25, 0.5, 1.0, 1.0]
    """
    past = month - months_to_income
    if past <= 0:
        return 0.0
    return min(1.0, past / ramp_months) if ramp_months > 0 else 1.0


class Plan(NamedTuple):
    """The plan in the few numbers that the months need. Money by month unless it says otherwise."""

    bought: Sequence[float]  # in each month, money
    full_sales: float  # in a mean month of full sales
    packing: float  # at full sales
    work_and_feed: float  # paid, at full load
    standing: float  # every month
    hours: float  # at full load
    months_to_income: float
    ramp_months: float
    early_share: float
    season: Sequence[float]  # twelve factors with a mean of 1, the first month's first
    loan_amount: float  # money, in the first month
    loan_rate: float  # a year
    loan_months: int


def bought_of(given: Mapping[str, Any]) -> list[float]:
    """What is bought in each month, reserve included [money]."""
    if given["startup_cost"] is None:
        return bought_by_month(given["purchases"], given["contingency"], MONTHS)
    return [given["startup_cost"]] + [0.0] * (MONTHS - 1)


def season_by_days(season: Sequence[float], start: date, months: int) -> list[float]:
    """Factors of the months that are counted from a day: such a month lies in two of the calendar, by its days in each.

    season: twelve factors, January first.
    >>> april_to_june = [0, 0, 0, 1.7, 1.8, 1.4, 0, 0, 0, 0, 0, 0]
    >>> season_by_days(april_to_june, date(2027, 5, 1), 1), season_by_days(april_to_june, date(2027, 5, 16), 1)
    ([1.8], [1.6])
    """
    later = (start.day - 1) / (30 if start.day < 31 else 31)
    first = start.month - 1
    return [
        season[(first + month) % 12] * (1 - later) + season[(first + month + 1) % 12] * later for month in range(months)
    ]


@lru_cache(maxsize=64)
def season_from(season: Sequence[float], start: date) -> list[float]:
    """Twelve factors with a mean of 1, beginning with the start's day; season: against any mean, January first."""
    mean = fsum(season) / 12
    return [factor / mean for factor in season_by_days(season, start, 12)] if mean else [0.0] * 12


def plan_of(given: Mapping[str, Any], bought: Sequence[float] | None = None) -> Plan:
    """The Plan behind a set of inputs of economics.cash; bought: by month, where it is known already [money]."""
    units, hours = units_and_hours(
        given["units_per_month"],
        given["labour_hours_per_unit"],
        given["sold"],
        given["trays_per_week"],
        given["castings_per_week"],
        **produce_of(given),
    )
    return Plan(
        bought=bought or bought_of(given),
        full_sales=units * given["price"] + given["other_sales_per_month"],
        packing=units * given["packing_cost_per_unit"],
        work_and_feed=units * (hours * given["wage"] * given["paid_share"] + given["feed_cost_per_unit"]),
        standing=given["energy_cost_per_month"] + given["fixed_cost_per_month"],
        hours=units * hours,
        months_to_income=months_before_income(given),
        ramp_months=given["ramp_months"],
        early_share=given["early_share"],
        season=season_from(tuple(given["season"]), given["start_date"]),
        loan_amount=given["loan_amount"],
        loan_rate=given["loan_rate"],
        loan_months=given["loan_months"],
    )


def load_share(month: int, full_month: float, early_share: float) -> float:
    """Work and feed in a month, of the full [-]: from the early share evenly up to the month in which sales are full.

    >>> [load_share(month, 11.0, 0.5) for month in (1, 6, 11, 30)]
    [0.5, 0.75, 1.0, 1.0]
    """
    if month >= full_month:
        return 1.0
    return early_share + (1 - early_share) * (month - 1) / (full_month - 1)


def months_of(plan: Plan, delay: float = 0.0, months: int = MONTHS) -> tuple[list[float], list[float], list[float]]:
    """(sales, running costs, load) of each month, as three lists [money, money, share of full work]; what is bought and
    the loan stand apart.
    """
    wait, ramp = plan.months_to_income + delay, plan.ramp_months
    full_month = wait + ramp + 1
    climbing = min(months, ceil(full_month) - 1)
    rise = (1 - plan.early_share) / (full_month - 1) if climbing else 0.0
    loads = [plan.early_share + rise * month for month in range(climbing)]
    sales, running = [], []
    for place, load in enumerate(
        loads
    ):  # load_share and sales_share month by month, written out: this is drawn thousands of times
        past = place + 1 - wait
        sold = 0.0 if past <= 0 else plan.season[place % 12] * (past / ramp if past < ramp else 1.0)
        sales.append(sold * plan.full_sales)
        running.append(plan.standing + load * plan.work_and_feed + sold * plan.packing)
    if climbing < months:  # from here on every year is the same
        turns, start = months // 12 + 2, climbing % 12
        rest = slice(start, start + months - climbing)
        sales += ([share * plan.full_sales for share in plan.season] * turns)[rest]
        steady = plan.standing + plan.work_and_feed
        running += ([steady + share * plan.packing for share in plan.season] * turns)[rest]
        loads += [1.0] * (months - climbing)
    return sales, running, loads


def loan_by_month(plan: Plan, months: int = MONTHS) -> tuple[list[float], list[float]]:
    """(loan in less payments out, what is still owed at the end) of each month [money]."""
    payment = loan_payment(plan.loan_amount, plan.loan_rate, plan.loan_months)
    moved, owed, left = [], [], plan.loan_amount
    for month in range(1, months + 1):
        paid = payment if month <= plan.loan_months else 0.0
        left = left * (1 + plan.loan_rate / 12) - paid if month < plan.loan_months else 0.0
        moved.append((plan.loan_amount if month == 1 else 0.0) - paid)
        owed.append(left)
    return moved, owed


def balances(
    opening_cash: float,
    plan: Plan,
    sales: Sequence[float],
    running: Sequence[float],
    moved: Sequence[float] | None = None,
) -> list[float]:
    """Cash at the end of each month [money]."""
    changes = [income - cost - bought for income, cost, bought in zip(sales, running, plan.bought)]
    if moved:
        changes = [change + amount for change, amount in zip(changes, moved)]
    return list(accumulate(changes, initial=opening_cash))[1:]


def first_month(pairs: Any, holds: Callable[..., Any]) -> int | None:
    """First month, counted from 1, of which something holds; None when there is none."""
    return next((month for month, pair in enumerate(pairs, 1) if holds(*pair)), None)


class Course(NamedTuple):
    """A plan month by month: money of each month, but for the shares of full work and the cash at its end [money]."""

    plan: Plan
    sales: Sequence[float]
    running: Sequence[float]
    loads: Sequence[float]
    moved: Sequence[float]  # loan in, less payments out
    owed: Sequence[float]  # at the end of each month
    held: Sequence[float]
    late: tuple[Sequence[float], Sequence[float]]  # sales and running costs with the first income a month later


def course_of(opening_cash: float, plan: Plan) -> Course:
    """All that the months of a plan come to."""
    sales, running, loads = months_of(plan)
    moved, owed = loan_by_month(plan) if plan.loan_amount else NO_LOAN
    held = balances(opening_cash, plan, sales, running, moved)
    late_sales, late_running, _ = months_of(plan, 1.0)
    return Course(plan, sales, running, loads, moved, owed, held, (late_sales, late_running))


@dataclass(frozen=True)
class Cash(Answer):
    lowest_cash: Annotated[
        float,
        Output(
            "money",
            "Lowest cash",
            "At the end of a month. Below zero: you run dry unless you put in more.",
            ranged=True,
            main=True,
        ),
    ]
    month_of_lowest: Annotated[int, Output("1", "Month of the lowest cash", "Counted from the first.", main=True)]
    first_income_month: Annotated[int | None, Output("1", "First month with income", "", main=True)]
    payback_month: Annotated[
        int | None,
        Output(
            "1",
            "Month when all is paid back",
            "Cash, less what is still owed, is back at what you started with. None: not within three years.",
            main=True,
        ),
    ]
    break_even_month: Annotated[
        int | None,
        Output(
            "1",
            "First month that pays for itself",
            "Sales at least as large as running costs and loan payment in that month.",
        ),
    ]
    cash_after_three_years: Annotated[float, Output("money", "Cash after three years", "", ranged=True)]
    cash_needed: Annotated[
        float,
        Output(
            "money",
            "Cash needed to get through",
            "What you must hold at the start so that the lowest is not below zero.",
        ),
    ]
    spent_before_income: Annotated[
        float,
        Output(
            "money",
            "Spent before the first income",
            "Things bought and running costs. All three years when nothing is sold.",
        ),
    ]
    startup_total: Annotated[
        float, Output("money", "Bought in all", "The list with its reserve, or the sum you typed.")
    ]
    cost_of_a_month: Annotated[
        float,
        Output(
            "money",
            "What each month of delay costs",
            "Cash after three years, less the same with the first income a month later.",
        ),
    ]
    unpaid_hours: Annotated[
        float, Output("hour", "Hours given without pay in three years", "They are no cash, but they are yours.")
    ]
    course: Annotated[Course, Trace("The plan month by month")] = field(repr=False, compare=False)


@calculator(
    "economics.cash",
    "When does the money run lowest, and when does it come back?",
    leads={"economics.return": {}, "economics.startup": {}},
)
@told_all
@with_produce
def cash(
    opening_cash: OpeningCash = facts.OPENING_CASH.typical,
    startup_cost: StartupCost = None,
    price: Price = facts.PRICE.typical,
    units_per_month: UnitsPerMonth = facts.UNITS_PER_MONTH.typical,
    labour_hours_per_unit: LabourHoursPerUnit = facts.LABOUR_HOURS_PER_UNIT.typical,
    wage: Wage = WAGE,
    paid_share: PaidShare = 0.0,
    months_to_income: MonthsToIncome = facts.MONTHS_TO_INCOME.typical,
    start_date: StartDate = START_DATE,
    feed_cost_per_unit: FeedCostPerUnit = facts.FEED_COST.typical,
    packing_cost_per_unit: PackingCostPerUnit = facts.PACKING_COST.typical,
    energy_cost_per_month: EnergyCostPerMonth = facts.ENERGY_COST.typical,
    fixed_cost_per_month: FixedCostPerMonth = facts.FIXED_COST.typical,
    other_sales_per_month: OtherSalesPerMonth = facts.OTHER_SALES.typical,
    ramp_months: RampMonths = facts.RAMP_MONTHS.typical,
    early_share: EarlyShare = facts.EARLY_SHARE.typical,
    season: Season = facts.SEASON,
    purchases: Purchases = STARTER_LIST,
    contingency: Contingency = facts.CONTINGENCY.typical,
    loan_amount: LoanAmount = 0.0,
    loan_rate: LoanRate = 0.08,
    loan_months: LoanMonths = 36,
    sold: Sold = "pound",
    trays_per_week: TraysPerWeek = TRAYS_PER_WEEK,
    castings_per_week: CastingsPerWeek = CASTINGS_PER_WEEK,
    *,
    asked: Mapping[str, Any] = NOTHING,
    **produce: Any,
) -> Cash:
    """Cash month by month for three years.

    Money in the reader's currency; months counted from 1; labour_hours_per_unit [h]; shares [-]; season: 12 factors,
    January first.
    The purchases fall in the months that they name; the loan comes in the first month and its first payment at the end
    of that month.
    Source: cash budgeting, any farm-finance text; months before the first income: common practice.
    """
    if not any(season):
        raise Refused([("season", "Sales of each month cannot all be nothing: 1 is a mean month.")])
    course = course_of(opening_cash, plan_of(asked))
    plan, sales, running, loads, _, owed, held, (late_sales, late_running) = course
    lowest = min(held)
    first = first_month(zip(sales), lambda income: income > 0)
    payment = loan_payment(loan_amount, loan_rate, loan_months)
    own = [amount - debt for amount, debt in zip(held, owed)]
    bottom = own.index(min(own))
    back = first_month(zip(own[bottom:]), lambda amount: amount >= opening_cash)
    before = MONTHS if first is None else first - 1
    return Cash(
        lowest_cash=lowest,
        month_of_lowest=held.index(lowest) + 1,
        first_income_month=first,
        payback_month=None if back is None else bottom + back,
        break_even_month=first_month(
            zip(sales, running, range(MONTHS)),
            lambda income, cost, month: income > 0 and income >= cost + (payment if month < loan_months else 0.0),
        ),
        cash_after_three_years=held[-1],
        cash_needed=max(0.0, opening_cash - lowest),
        spent_before_income=fsum(running[:before]) + fsum(plan.bought[:before]),
        startup_total=fsum(plan.bought),
        cost_of_a_month=fsum(sales) - fsum(running) - fsum(late_sales) + fsum(late_running),
        unpaid_hours=plan.hours * (1 - paid_share) * fsum(loads),
        course=course,
    )


def months_table(course: Course, start: date) -> list[tuple[Any, ...]]:
    """Rows of the table: month, name, sales, running costs, bought, loan, change, cash at its end."""
    plan, sales, running, _, moved, _, held, _ = course
    return [
        (
            month,
            month_span(start, month),
            sales[place],
            running[place],
            plan.bought[place],
            moved[place],
            sales[place] - running[place] - plan.bought[place] + moved[place],
            held[place],
        )
        for place, month in enumerate(range(1, MONTHS + 1))
    ]


@presents(cash)
def show_cash(v: View) -> Show:
    rows = months_table(v.course, v.start_date)
    held = v.course.held
    years = [
        (
            f"Year {year + 1}",
            *(fsum(row[column] for row in rows[12 * year : 12 * year + 12]) for column in range(2, 7)),
            held[12 * year + 11],
        )
        for year in range(3)
    ]
    money = [
        Column("sales", "Sales", "money"),
        Column("running", "Running costs", "money"),
        Column("bought", "Bought", "money"),
        Column("loan", "Loan", "money"),
        Column("change", "Change", "money"),
        Column("cash", "Cash at its end", "money"),
    ]
    return Show(
        working=_working(v, rows),
        tables=[
            Table("years", "Year by year", [Column("year", "Year"), *money], years, open=True),
            Table(
                "months", "Month by month", [Column("month", "Month", "1"), Column("name", "From, to"), *money], rows
            ),
        ],
        figures=[
            Figure(
                "cash",
                "Cash through three years",
                finding=f"Cash is lowest in month {v.month_of_lowest}, at {v.money(v.lowest_cash)}."
                + (
                    f" It is back where it began, debts counted, in month {v.payback_month}."
                    if v.payback_month
                    else " It is not back where it began within three years."
                ),
                x=Axis("Month", "1", low=0, high=MONTHS),
                y=Axis("Cash", "money"),
                numbers_in="months",
                marks=[
                    Mark("zone_x", [(0, min(v.course.plan.months_to_income, MONTHS), "no income yet")], tone="muted"),
                    Mark("line", [(0, v.opening_cash), *enumerate(held, 1)], label="cash"),
                    Mark("rule_y", [(0, "nothing left")], tone="warn"),
                    Mark("dots", [(v.month_of_lowest, v.lowest_cash, "lowest")], tone="warn"),
                ],
                handles=[
                    Handle(
                        "opening_cash", "y", 0, max(3 * v.opening_cash, 1000.0), at=(0, v.opening_cash), words="start:"
                    )
                ],
            )
        ],
        warnings=_warnings(v),
        reading=reading(v),
        events=_events(v),
        cautions=[LOCAL],
    )


def calendar_month(start: date, month: int) -> str:
    """`March 2027` of a month counted from 1."""
    return f"{month_start(start, month):%B %Y}"


def month_span(start: date, month: int) -> str:
    """What a month spans that is counted from 1 and from a day, so that no two are named alike.

    >>> month_span(date(2027, 5, 2), 1), month_span(date(2027, 12, 2), 1), month_span(date(2027, 5, 1), 2)
    ('2 May to 1 June 2027', '2 December 2027 to 1 January 2028', 'June 2027')
    """
    if start.day == 1:
        return calendar_month(start, month)
    first, last = month_start(start, month), month_start(start, month + 1) - timedelta(days=1)
    year = f" {first.year}" if first.year != last.year else ""
    return f"{first.day} {first:%B}{year} to {last.day} {last:%B %Y}"


def month_start(start: date, month: int) -> date:
    """The day on which a month begins that is counted from a day; the last of a calendar month that has no such day.

    >>> month_start(date(2027, 5, 16), 9), month_start(date(2027, 5, 31), 10)
    (datetime.date(2028, 1, 16), datetime.date(2028, 2, 29))
    """
    place = start.month - 1 + month - 1
    year, month = start.year + place // 12, place % 12 + 1
    return date(year, month, min(start.day, monthrange(year, month)[1]))


def month_rows(course: Course, opening_cash: float, rows: Sequence[tuple[Any, ...]]) -> list[dict[str, float]]:
    """What the working says of each month: shares, money of the month, cash before and after it, and what is owed.

    rows: those of months_table.
    """
    plan = course.plan
    payment = loan_payment(plan.loan_amount, plan.loan_rate, plan.loan_months)
    found, before = [], float(opening_cash)
    for place, (month, _, sales, running, bought, loan, change, held) in enumerate(rows):
        found.append(
            {
                "month": month,
                "share": sales_share(month, plan.months_to_income, plan.ramp_months),
                "in_season": plan.season[place % 12],
                "load": course.loads[place],
                "sales": sales,
                "running": running,
                "bought": bought,
                "loan": loan,
                "change": change,
                "due": payment if place < plan.loan_months else 0.0,
                "before": before,
                "cash": held,
                "own": held - course.owed[place],
            }
        )
        before = held
    return found


MONTH_UNITS = {
    **dict.fromkeys(("month", "share", "in_season", "load"), "1"),
    **dict.fromkeys(("sales", "running", "bought", "loan", "change", "due"), "money/month"),
    **dict.fromkeys(("before", "cash", "own"), "money"),
}


def _working(v: View, table: Sequence[tuple[Any, ...]]) -> list[Step]:
    plan, moved, (late_sales, late_running) = v.course.plan, v.course.moved, v.course.late
    rows = month_rows(v.course, v.opening_cash, table)
    own = [row["own"] for row in rows]
    used = _used(v) | {
        "months": RowsPart("the months", MONTH_UNITS, rows),
        "wait": Part("months before the first income", plan.months_to_income, "month"),
        "bottom": Part("month of the lowest, debts counted", own.index(min(own)) + 1),
        "late": Part(
            "the same with the first income a month later",
            balances(v.opening_cash, plan, late_sales, late_running, moved)[-1],
            "money",
        ),
        "list": RowsPart(
            "the list",
            {"quantity": "1", "price": "money", "in_month": "1"},
            [
                {"quantity": row["quantity"], "price": row["price"], "in_month": row.get("month") or 1}
                for row in v.purchases
            ],
        ),
    }

    def step(title: str, equation: str, source: object, note: str = "") -> Step:
        return Step(title, equation, source, note, used)

    return [
        step(
            "Share of full sales",
            (
                "{share} = the smaller of 1 and the larger of 0 and ({month} − {wait} in month) ÷ {ramp_months} in"
                " month, each of {months}"
                if v.ramp_months > 0
                else "{share} = 1, each of {months} where {month} > {wait} in month"
            ),
            "common practice, no source",
        ),
        step(
            "Sales",
            "{sales} = ({units_sold} × {price} + {other_sales_per_month}) × {share} × {in_season}, each of {months}",
            "arithmetic",
        ),
        step(
            "Load",
            (
                "{load} = the smaller of 1 and {early_share} + (1 − {early_share}) × ({month} − 1) ÷ ({wait} +"
                " {ramp_months}) in month, each of {months}"
                if plan.months_to_income + v.ramp_months > 0
                else "{load} = 1, each of {months}"
            ),
            "common practice, no source",
        ),
        step(
            "Running costs",
            "{running} = {energy_cost_per_month} + {fixed_cost_per_month} + {units_sold} × ({hours_for_one} × {wage} ×"
            " {paid_share} + {feed_cost_per_unit}) × {load} + {units_sold} × {share} × {in_season} ×"
            " {packing_cost_per_unit}, each of {months}",
            "arithmetic",
        ),
        *_loan_step(v, rows),
        step(
            "Cash",
            "{change} = {sales} − {running} − {bought} + {loan}, each of {months}; {cash} = {before} + {change} × 1"
            " month, each of {months}; {cash_after_three_years} = {opening_cash} + sum over {months} of {change} × 1"
            " month",
            "cash budget",
        ),
        step(
            "Lowest",
            "{lowest_cash} = the smallest {cash} of {months}; {month_of_lowest} = the first {month} of {months} where"
            " {cash} = {lowest_cash}",
            "cash budget",
        ),
        step(
            "Bought",
            (
                "{startup_total} = sum over {list} of {quantity} × {price} × (1 + {contingency}) where {in_month} ≤ 36"
                if v.startup_cost is None
                else "{startup_total} = {startup_cost}"
            ),
            "arithmetic",
        ),
        step(
            "First income",
            "{first_income_month} = the first {month} of {months} where {sales} > 0",
            "definition",
        ),
        step(
            "Before the first income",
            (
                "{spent_before_income} = sum over {months} of ({running} + {bought}) × 1 month where {month} <"
                " {first_income_month}"
                if v.first_income_month is not None
                else "{spent_before_income} = sum over {months} of ({running} + {bought}) × 1 month"
            ),
            "arithmetic",
        ),
        step(
            "Pays for itself",
            "{break_even_month} = the first {month} of {months} where {sales} > 0 and {sales} ≥ {running} + {due}",
            "definition",
        ),
        step(
            "Paid back",
            "{bottom} = the first {month} of {months} where {own} = the smallest {own} of {months}; {payback_month} ="
            " the first {month} of {months} where {month} ≥ {bottom} and {own} ≥ {opening_cash}",
            "definition",
            "Own is cash, less what is still owed.",
        ),
        step(
            "A month's delay",
            "{cost_of_a_month} = {cash_after_three_years} − {late}",
            "the plan, run twice",
        ),
        step(
            "Unpaid hours",
            "{unpaid_hours} = {hours_for_one} × {units_sold} × 1 month × (1 − {paid_share}) × sum over {months} of"
            " {load}",
            "arithmetic",
        ),
        Step("Cash needed", "{cash_needed} = the larger of 0 and {opening_cash} − {lowest_cash}", "arithmetic"),
    ]


def _loan_step(v: View, rows: Sequence[Mapping[str, float]]) -> list[Step]:
    """The even payment of a loan; nothing without one."""
    if not v.loan_amount or v.loan_rate < 1e-6:
        return []
    return [
        Step(
            "Loan payment",
            "{payment} = {loan_amount} × {loan_rate} ÷ 12 ÷ (1 − (1 + {loan_rate} ÷ 12)^(0 − {loan_months} in month))",
            "annuity formula (OpenStax, Principles of Finance)",
            values={"payment": Part("payment each month", rows[0]["due"], "money")},
        )
    ]


def _used(v: View) -> dict[str, Any]:
    given = v.given
    units, hours = units_and_hours(
        given["units_per_month"],
        given["labour_hours_per_unit"],
        given["sold"],
        given["trays_per_week"],
        given["castings_per_week"],
        **produce_of(given),
    )
    return {
        "units_sold": Part("units a month", units, "1/month"),
        "hours_for_one": Part("hours for a unit", hours, "hour"),
    }


def _warnings(v: View) -> list[tuple[str, str]]:
    found = []
    if v.lowest_cash < 0:
        found.append(
            (
                "opening_cash",
                (
                    f"Cash runs out: it is {v.money(-v.lowest_cash)} short in month {v.month_of_lowest}. Hold"
                    f" {v.money(v.cash_needed)} at the start, spend less first, or start smaller."
                ),
            )
        )
    elif v.band("lowest_cash").low < 0:
        found.append(
            (
                "opening_cash",
                (
                    "With less luck the cash runs out: in one draw of ten over the usual ranges it is"
                    f" {v.money(-v.band('lowest_cash').low)} short, or more."
                ),
            )
        )
    wait = v.course.plan.months_to_income
    if v.units_per_month is None and wait < earliest_income(v.given) - 0.05:
        found.append(
            (
                "months_to_income",
                (
                    f"Your {'trays' if v.sold in ('pound', 'kilogram') else 'first lane'} can have nothing to sell"
                    f" before {v.say(earliest_income(v.given), 'month', digits=2)}: leave it blank, or wait that long."
                ),
            )
        )
    elif v.months_to_income is not None and v.months_to_income < facts.MONTHS_TO_INCOME.low:
        found.append(
            (
                "months_to_income",
                "Growers count six to nine months before the first income. Sooner happens, but do not plan on it.",
            )
        )
    if v.first_income_month is None:
        found.append(("months_to_income", "Nothing is sold within three years."))
    return found + oversold(v.given)


def reading(v: View) -> list[str]:
    """Sentences that follow the tables, line by line."""
    first = v.first_income_month
    if first:
        sentences = [
            (
                f"You spend {v.money(v.spent_before_income)} before anything comes in; the first income is due in month"
                f" {first}."
                if first > 1
                else "The first income comes in the first month."
            )
        ]
    else:
        sentences = [f"There is no income in three years, and {v.money(v.spent_before_income)} goes out."]
    sentences = castings_first_of(v) + sentences
    if v.cash_needed > 0:
        spare = (
            f"which leaves {v.money(v.lowest_cash)} to spare"
            if v.lowest_cash >= 0
            else f"which is {v.money(-v.lowest_cash)} too little"
        )
        sentences.append(
            f"Cash is lowest in month {v.month_of_lowest}. To come through you must hold {v.money(v.cash_needed)} that"
            f" you can do without; you start with {v.money(v.opening_cash)}, {spare}."
        )
    else:
        sentences.append(
            f"At the end of no month is there less cash than the {v.money(v.opening_cash)} you start with."
        )
    if first and v.cost_of_a_month > 0.5:
        sentences.append(
            f"Each month that the first income is late leaves you {v.money(v.cost_of_a_month)} poorer after three"
            " years."
        )
    sentences.append(
        f"All is paid back in month {v.payback_month}, debts counted."
        if v.payback_month
        else "It is not paid back within three years."
    )
    if v.unpaid_hours >= 0.5:
        sentences.append(
            f"By the end of the third year {v.say(v.unpaid_hours, 'hour')} of work have gone in"
            f" unpaid; at {v.yours('wage')}"
            f" that is {v.money(v.unpaid_hours * v.wage)}."
        )
    return sentences


def _events(v: View) -> list[Event]:
    named = [
        (v.first_income_month, "First income is due"),
        (v.month_of_lowest, "Cash is lowest about now"),
        (v.payback_month, "All should be paid back"),
    ]
    return [
        Event(month_start(v.start_date, month), words, "From the cash plan. Put the real figure beside it.")
        for month, words in named
        if month
    ]
