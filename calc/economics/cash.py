"""Cash month by month for three years: spending, the months without income that biology dictates, ramp, seasons, a loan."""

from dataclasses import dataclass
from datetime import date
from typing import Annotated

from calc.economics.costs import LOCAL
from calc.engine import Answer, Axis, Column, Count, Event, Figure, Mark, Number, Output, Series, Share, Show, Step, Table, calculator, presents
from calc.facts import economics as facts
from calc.inputs import START_DATE, StartDate, Wage

MONTHS = 36


def loan_payment(amount, rate_per_year, months):
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


def sales_share(month, months_to_income, ramp_months):
    """Share of full sales reached in a month counted from 1 [-]: nothing until the first income, then an even climb.

    >>> [round(sales_share(month, 8, 4), 2) for month in (8, 9, 10, 12, 30)]
    [0.0, 0.25, 0.5, 1.0, 1.0]
    """
    past = month - months_to_income
    if past <= 0:
        return 0.0
    return min(1.0, past / ramp_months) if ramp_months > 0 else 1.0


def monthly_flows(startup_cost, price, units_per_month, variable_cost_per_unit, fixed_cost_per_month, labour_hours_per_month, wage, paid_share, months_to_income, ramp_months, season, first_month, loan_amount=0.0, loan_rate=0.0, loan_months=36, months=MONTHS):
    """[(income, spending)] of each month [money]; the start-up cost and the loan fall in the first.

    season: 12 factors, January first; first_month: 1 to 12. Work is spent in full from the start: worms are fed before they are sold.
    """
    payment = loan_payment(loan_amount, loan_rate, loan_months)
    standing = fixed_cost_per_month + labour_hours_per_month * wage * paid_share
    mean = sum(season) / 12
    flows = []
    for month in range(1, months + 1):
        units = units_per_month * sales_share(month, months_to_income, ramp_months)
        if units:
            units *= season[(first_month + month - 2) % 12] / mean
        income = units * price
        spending = standing + units * variable_cost_per_unit
        if month == 1:
            income += loan_amount
            spending += startup_cost
        if payment and month <= loan_months:
            spending += payment
        flows.append((income, spending))
    return flows


def balances(opening_cash, flows):
    """Cash at the end of each month [money]."""
    cash, found = opening_cash, []
    for income, spending in flows:
        cash += income - spending
        found.append(cash)
    return found


StartupCost = Annotated[float, Number("money", "Start-up cost", 0, 1e8, fact=facts.STARTUP_COST, help="Spent in the first month. economics.startup adds it up. Invented here.")]
OpeningCash = Annotated[float, Number("money", "Cash at the start", 0, 1e8, help="What you can put in and do without.")]
Price = Annotated[float, Number("money", "Price of one unit", 0, 1e6, fact=facts.PRICE, help="A pound of worms, a yard of castings, a bag.")]
UnitsPerMonth = Annotated[float, Number("1/month", "Units a month at full sales", 0, 1e6, fact=facts.UNITS_PER_MONTH, help="Mean over the year.")]
VariableCost = Annotated[float, Number("money", "Feed and packing for a unit", 0, 1e6, spread=(2.8, 5.8), help="Without your hours, which stand below.")]
FixedCost = Annotated[float, Number("money/month", "Fixed costs with energy", 0, 1e7, spread=(90, 260), help="Every month from the first.")]
LabourHours = Annotated[float, Number("hour/month", "Hours of work a month", 0, 5000, spread=(12, 25), help="From the first month: worms are fed long before they are sold.")]
PaidShare = Annotated[float, Share("Share of the hours that is paid in cash", 0, 1, help="0 % when you do it all yourself and take nothing out.")]
MonthsToIncome = Annotated[float, Number("month", "Months before the first income", 0, 36, fact=facts.MONTHS_TO_INCOME, help="Biology, not effort: a herd must grow first.")]
RampMonths = Annotated[float, Number("month", "Months to climb to full sales", 0, 36, fact=facts.RAMP_MONTHS)]
Season = Annotated[tuple, Series("1", "Sales of each month against the mean", 0, 10, length=12, help="Twelve numbers, January first; 1 is a mean month.", group="Seasons and loan")]
LoanAmount = Annotated[float, Number("money", "Loan", 0, 1e8, help="Paid out in the first month.", group="Seasons and loan")]
LoanRate = Annotated[float, Share("Interest of the loan a year", 0, 1, group="Seasons and loan")]
LoanMonths = Annotated[int, Count("month", "Months to pay the loan off", 1, 360, group="Seasons and loan")]


@dataclass(frozen=True)
class Cash(Answer):
    lowest_cash: Annotated[float, Output("money", "Lowest cash", "Below zero: you run dry unless you put in more.", ranged=True, main=True)]
    month_of_lowest: Annotated[int, Output("1", "Month of the lowest cash", "Counted from the first.", main=True)]
    first_income_month: Annotated[int | None, Output("1", "First month with income", "", main=True)]
    payback_month: Annotated[int | None, Output("1", "Month when all is paid back", "Cash is back at what you started with, the loan's rest not counted. None: not within three years.", main=True)]
    break_even_month: Annotated[int | None, Output("1", "First month that pays for itself", "Income at least as large as spending in that month.")]
    cash_after_three_years: Annotated[float, Output("money", "Cash after three years", "", ranged=True)]
    cash_needed: Annotated[float, Output("money", "Cash needed to get through", "What you must be able to put in so that the lowest is zero.")]
    cost_of_a_month: Annotated[float, Output("money", "What each month of delay costs", "Cash after three years, less the same with the first income a month later.")]
    unpaid_hours: Annotated[float, Output("hour", "Hours given without pay in three years", "They are no cash, but they are yours.", digits=2)]


@calculator("economics.cash", "When does the money run lowest, and when does it come back?")
def cash(
    startup_cost: StartupCost = facts.STARTUP_COST.typical,
    opening_cash: OpeningCash = facts.OPENING_CASH.typical,
    price: Price = facts.PRICE.typical,
    units_per_month: UnitsPerMonth = facts.UNITS_PER_MONTH.typical,
    variable_cost_per_unit: VariableCost = 4.0,
    fixed_cost_per_month: FixedCost = 145.0,
    labour_hours_per_month: LabourHours = 16.0,
    wage: Wage = facts.WAGE.typical,
    paid_share: PaidShare = 0.0,
    months_to_income: MonthsToIncome = facts.MONTHS_TO_INCOME.typical,
    ramp_months: RampMonths = facts.RAMP_MONTHS.typical,
    start_date: StartDate = START_DATE,
    season: Season = facts.SEASON,
    loan_amount: LoanAmount = 0.0,
    loan_rate: LoanRate = 0.08,
    loan_months: LoanMonths = 36,
) -> Cash:
    """Cash month by month for three years.

    Money in the reader's currency; months counted from 1; labour_hours_per_month [h]; shares [-]; season: 12 factors, January first.
    Source: cash budgeting, any farm-finance text; months before the first income: common practice.
    """

    def run(delay):
        flows = monthly_flows(startup_cost, price, units_per_month, variable_cost_per_unit, fixed_cost_per_month, labour_hours_per_month, wage, paid_share, months_to_income + delay, ramp_months, season, start_date.month, loan_amount, loan_rate, loan_months)
        return flows, balances(opening_cash, flows)

    flows, cash_by_month = run(0)
    lowest = min(cash_by_month)
    sold = [month for month, (income, _) in enumerate(flows, 1) if income - (loan_amount if month == 1 else 0) > 0]
    even = [month for month in sold if flows[month - 1][0] - (loan_amount if month == 1 else 0) >= flows[month - 1][1]]
    low_month = cash_by_month.index(lowest) + 1
    back = [month for month, amount in enumerate(cash_by_month, 1) if month > low_month and amount >= opening_cash]
    return Cash(
        lowest_cash=lowest, month_of_lowest=low_month, first_income_month=sold[0] if sold else None, payback_month=back[0] if back else None,
        break_even_month=even[0] if even else None, cash_after_three_years=cash_by_month[-1], cash_needed=max(0.0, opening_cash - lowest),
        cost_of_a_month=cash_by_month[-1] - run(1)[1][-1], unpaid_hours=labour_hours_per_month * (1 - paid_share) * MONTHS,
    )  # fmt: skip


def flows_of(v):
    """The monthly flows behind a View of economics.cash."""
    return monthly_flows(v.startup_cost, v.price, v.units_per_month, v.variable_cost_per_unit, v.fixed_cost_per_month, v.labour_hours_per_month, v.wage, v.paid_share, v.months_to_income, v.ramp_months, v.season, v.start_date.month, v.loan_amount, v.loan_rate, v.loan_months)


@presents(cash)
def show_cash(v):
    flows = flows_of(v)
    held = balances(v.opening_cash, flows)
    rows = [(month, calendar_month(v.start_date, month), income, spending, income - spending, amount) for month, ((income, spending), amount) in enumerate(zip(flows, held), 1)]
    columns = [Column("month", "Month", "1"), Column("name", "Which"), Column("income", "In", "money"), Column("spending", "Out", "money"), Column("change", "Change", "money"), Column("cash", "Cash at its end", "money")]
    return Show(
        working=_working(v),
        tables=[Table("months", "Month by month", columns, rows)],
        figures=[
            Figure(
                "cash", "Cash through three years",
                finding=f"Cash is lowest in month {v.month_of_lowest}, at {v.money(v.lowest_cash)}." + (f" It is back where it began in month {v.payback_month}." if v.payback_month else " It is not back where it began within three years."),
                x=Axis("Month", "1", low=0, high=MONTHS), y=Axis("Cash", "money"),
                marks=[
                    Mark("zone_x", [(0, min(v.months_to_income, MONTHS), "no income yet")], tone="muted"), Mark("line", [(0, v.opening_cash), *enumerate(held, 1)], label="cash"),
                    Mark("rule_y", [(0, "nothing left")], tone="warn"), Mark("dots", [(v.month_of_lowest, v.lowest_cash, "lowest")], tone="warn"),
                ],
            )
        ],
        warnings=_warnings(v),
        reading=reading(v),
        events=_events(v),
        cautions=[LOCAL],
    )  # fmt: skip


def calendar_month(start, month):
    """`March 2027` of a month counted from 1."""
    return f"{month_start(start, month):%B %Y}"


def month_start(start, month):
    place = start.month - 1 + month - 1
    return date(start.year + place // 12, place % 12 + 1, 1)


def _working(v):
    return [
        Step("Sales", "units in a month = {units_per_month} × share of full sales × season; the share is nothing for {months_to_income}, then climbs evenly over {ramp_months}", "common practice, no source"),
        Step("In", "income = units × {price}", "arithmetic"),
        Step("Out", "spending = {fixed_cost_per_month} + {labour_hours_per_month} × {wage} × {paid_share} + units × {variable_cost_per_unit} + loan payment", "arithmetic; annuity formula for the loan"),
        Step("First month", "also {startup_cost} out and {loan_amount} in", "arithmetic"),
        Step("Cash needed", "{cash_needed} = {opening_cash} − {lowest_cash}", "arithmetic"),
    ]  # fmt: skip


def _warnings(v):
    found = []
    if v.lowest_cash < 0:
        found.append(("opening_cash", f"Cash runs out: it is {v.money(-v.lowest_cash)} short in month {v.month_of_lowest}. Hold {v.money(v.cash_needed)} at the start, spend less first, or start smaller."))
    if v.months_to_income < facts.MONTHS_TO_INCOME.low:
        found.append(("months_to_income", "Growers count six to nine months before the first income. Sooner happens, but do not plan on it."))
    if v.first_income_month is None:
        found.append(("months_to_income", "Nothing is sold within three years."))
    return found


def reading(v):
    """Sentences that follow the table, line by line."""
    sentences = [f"You spend {v.money(v.startup_cost)} in the first month, and then every month goes out before anything comes in."]
    if v.first_income_month:
        sentences.append(f"The first income comes in month {v.first_income_month}. Cash is lowest in month {v.month_of_lowest}, at {v.money(v.lowest_cash)}.")
    else:
        sentences.append(f"There is no income in three years. Cash ends at {v.money(v.cash_after_three_years)}.")
    sentences.append(f"To come through, hold at least {v.money(v.cash_needed)} that you can do without.")
    if v.first_income_month:
        if v.cost_of_a_month > 0.5:
            sentences.append(f"Each month that the first income is late leaves you {v.money(v.cost_of_a_month)} poorer after three years.")
        if v.payback_month:
            sentences.append(f"All is paid back in month {v.payback_month}." + (f" By the end of the third year {v.say(v.unpaid_hours, 'hour', digits=2)} of work have gone in unpaid." if v.unpaid_hours else ""))
        else:
            sentences.append("It is not paid back within three years.")
    return sentences


def _events(v):
    named = [(v.first_income_month, "First income is due"), (v.month_of_lowest, "Cash is lowest about now"), (v.payback_month, "All should be paid back")]
    return [Event(month_start(v.start_date, month), words, "From the cash plan. Put the real figure beside it.") for month, words in named if month]
