"""What the whole thing returns: net present value, rates of return, payback, and the chance of loss."""

from dataclasses import dataclass
from typing import Annotated

from calc.economics.cash import (
    MONTHS, FixedCost, LabourHours, MonthsToIncome, OpeningCash, PaidShare, Price, RampMonths, StartupCost, UnitsPerMonth, VariableCost, balances, monthly_flows,
)  # fmt: skip
from calc.economics.costs import LOCAL
from calc.engine import Answer, Axis, Column, Count, Figure, Mark, Output, Refused, Series, Share, Show, Step, Table, calculator, presents
from calc.engine.explore import draws
from calc.facts import economics as facts
from calc.inputs import Wage

LOWEST_RATE, HIGHEST_RATE = -0.99, 10.0


def net_present_value(rate, flows):
    """Worth today of yearly flows, the first now [money].

    Source: OpenStax, Principles of Finance, net present value.
    >>> round(net_present_value(0.09, [-16000, 2000, 4000, 5000, 5000, 5000, 5000]), 2)
    2835.62
    """
    worth, factor = 0.0, 1.0
    for flow in flows:
        worth += flow * factor
        factor /= 1 + rate
    return worth


def rates_of_return(flows):
    """Every real rate above −99 % and up to 1,000 % at which the flows are worth nothing today [-], ascending.

    The worth is a polynomial in 1 ÷ (1 + rate): between two neighbouring zeros of its derivative it has one zero at most, so all are
    found by descending through the derivatives and halving. None: no such rate. Several: no single rate describes the flows.
    Source: OpenStax, Principles of Finance, internal rate of return, and its limits with more than one change of sign.
    >>> [round(rate, 4) for rate in rates_of_return([-350, 950, -620])]
    [0.0918, 0.6225]
    """
    low, high = 1 / (1 + HIGHEST_RATE), 1 / (1 + LOWEST_RATE)
    return sorted(1 / factor - 1 for factor in polynomial_zeros(list(flows), low, high))


def polynomial_zeros(coefficients, low, high):
    """Zeros in [low, high] of c0 + c1·x + c2·x² …; double zeros, which do not change the sign, are left out unless exact."""
    while coefficients and coefficients[-1] == 0:
        coefficients = coefficients[:-1]
    if len(coefficients) < 2:
        return []

    def value(x):
        total = 0.0
        for coefficient in reversed(coefficients):
            total = total * x + coefficient
        return total

    derivative = [power * coefficient for power, coefficient in enumerate(coefficients)][1:]
    edges = [low, *polynomial_zeros(derivative, low, high), high]
    found = []
    for start, end in zip(edges, edges[1:]):
        at_start, at_end = value(start), value(end)
        if at_start == 0:
            found.append(start)
        elif at_end != 0 and (at_start < 0) != (at_end < 0):
            for _ in range(200):
                middle = (start + end) / 2
                if middle in (start, end):
                    break
                if (value(middle) < 0) == (at_start < 0):
                    start = middle
                else:
                    end = middle
            found.append((start + end) / 2)
    if value(high) == 0:
        found.append(high)
    return list(dict.fromkeys(found))


def payback_years(flows):
    """Years until the flows have paid themselves back, part years by straight line; None when they never do.

    >>> payback_years([-100, 40, 40, 40])
    2.5
    """
    total = 0.0
    for year, flow in enumerate(flows):
        before, total = total, total + flow
        if year and before < 0 <= total:
            return year - 1 + -before / flow
    return None


@dataclass(frozen=True)
class Return(Answer):
    net_present_value: Annotated[float, Output("money", "Worth today", "All flows brought to today at your rate. Above zero: it beats that rate.", main=True)]
    rate_of_return: Annotated[float | None, Output("1", "Rate of return a year", "The rate at which it is worth exactly nothing today. None when there is no such rate, or more than one.", us="%", metric="%", main=True)]
    payback_years: Annotated[float | None, Output("year", "Years until it is paid back", "None: not within these years.", main=True)]
    chance_of_loss: Annotated[float | None, Output("1", "Chance of not being paid back in three years", "Of the draws over the uncertain inputs. None when you gave your own flows.", us="%", metric="%", digits=2, main=True)]
    chance_of_running_dry: Annotated[float | None, Output("1", "Chance of running out of cash", "In any month of the three years.", us="%", metric="%", digits=2)]
    number_of_rates: Annotated[int, Output("1", "Rates at which it is worth nothing", "One is the plain case.")]


@calculator("economics.return", "Is it worth it, and what is the chance that it is not?")
def rate_of_return(
    flows: Annotated[tuple | None, Series("money", "Your own flows by year", -1e12, 1e12, help="First is now, money out negative. Blank: built from the cash plan below, three years.", optional=True)] = None,
    discount_rate: Annotated[float, Share("Rate that your money could earn elsewhere", 0, 1, fact=facts.DISCOUNT_RATE, help="A year. A savings account, or what a lender asks.")] = facts.DISCOUNT_RATE.typical,
    startup_cost: StartupCost = facts.STARTUP_COST.typical,
    opening_cash: OpeningCash = facts.OPENING_CASH.typical,
    price: Price = facts.PRICE.typical,
    units_per_month: UnitsPerMonth = facts.UNITS_PER_MONTH.typical,
    variable_cost_per_unit: VariableCost = 4.0,
    fixed_cost_per_month: FixedCost = 145.0,
    labour_hours_per_month: LabourHours = 16.0,
    wage: Wage = facts.WAGE.typical,
    paid_share: PaidShare = 1.0,
    months_to_income: MonthsToIncome = facts.MONTHS_TO_INCOME.typical,
    ramp_months: RampMonths = facts.RAMP_MONTHS.typical,
    draws_made: Annotated[int, Count("1", "Draws for the chances", 50, 5000, help="More are slower and a little surer.", group="Chances")] = 500,
) -> Return:
    """Net present value, rates of return, payback, and chances from seeded sampling of the three-year cash plan.

    flows [money] by year, first now; discount_rate [-] a year; the others as economics.cash. Here your hours are paid unless you say otherwise.
    Sources: OpenStax, Principles of Finance; triangular draws as in calc.engine.explore.
    """
    own = flows is not None
    if own and len(flows) < 2:
        raise Refused([("flows", "Your own flows need at least two years: now, and one after.")])
    given = {name: value for name, value in locals().items() if name not in ("flows", "discount_rate", "draws_made", "own")}
    by_year = tuple(flows) if own else yearly(given)
    roots = rates_of_return(by_year)
    loss, dry = (None, None) if own else chances(given, draws_made)
    return Return(
        net_present_value=net_present_value(discount_rate, by_year), rate_of_return=roots[0] if len(roots) == 1 else None, payback_years=payback_years(by_year),
        chance_of_loss=loss, chance_of_running_dry=dry, number_of_rates=len(roots),
    )  # fmt: skip


def plan_flows(given, months=MONTHS):
    """Monthly (income, spending) of the plan, without season or loan."""
    return monthly_flows(
        given["startup_cost"], given["price"], given["units_per_month"], given["variable_cost_per_unit"], given["fixed_cost_per_month"], given["labour_hours_per_month"],
        given["wage"], given["paid_share"], given["months_to_income"], given["ramp_months"], (1.0,) * 12, 1, months=months,
    )  # fmt: skip


def yearly(given):
    """Yearly flows of the plan: the start-up cost now, then three years [money]."""
    flows = plan_flows({**given, "startup_cost": 0.0})
    return (-given["startup_cost"], *(sum(income - spending for income, spending in flows[12 * year : 12 * year + 12]) for year in range(3)))


def chances(given, count):
    """(share of draws not paid back in three years, share that run out of cash) [-]."""
    entry = rate_of_return.calculator
    full = {**entry.defaults, **given}
    lost = dry = 0
    made = draws(entry, full, count)
    for change in made:
        held = balances(given["opening_cash"], plan_flows({**given, **change}))
        lost += held[-1] < given["opening_cash"]
        dry += min(held) < 0
    return lost / len(made), dry / len(made)


@presents(rate_of_return)
def show_return(v):
    given = {name: v.given[name] for name in v.entry.inputs}
    by_year = tuple(v.flows) if v.flows is not None else yearly(given)
    roots = rates_of_return(by_year)
    profile = [(rate / 100, net_present_value(rate / 100, by_year)) for rate in range(0, 61, 2)]
    rows, total, factor = [], 0.0, 1.0
    for year, flow in enumerate(by_year):
        total += flow
        rows.append((year, flow, flow * factor, total))
        factor /= 1 + v.discount_rate
    return Show(
        working=[
            Step("Worth today", "{net_present_value} = sum of each year's flow ÷ (1 + {discount_rate})^year", "OpenStax, Principles of Finance"),
            Step("Rates of return", "every rate at which that sum is nothing: {roots}", "OpenStax, Principles of Finance", values={"roots": ("rates", ", ".join(v.say(root, "1", us="%", metric="%") for root in roots) or "none")}),
            *([] if v.flows is not None else [Step("Chances", "counted over {draws_made} draws of the inputs that carry a usual range", "triangular draws, Latin hypercube (McKay, Beckman & Conover 1979)")]),
        ],
        tables=[Table("years", "Year by year", [Column("year", "Year", "1"), Column("flow", "Flow", "money"), Column("today", "Worth today", "money"), Column("total", "Sum so far", "money")], rows, open=True)],
        figures=[
            Figure(
                "profile", "Worth today against the rate asked for",
                finding=_profile_finding(v, roots), x=Axis("Rate a year", "1", us="%", metric="%"), y=Axis("Worth today", "money"),
                marks=[Mark("line", profile), Mark("rule_y", [(0, "")], tone="muted"), Mark("dots", [(v.discount_rate, v.net_present_value, "your rate")]), *([Mark("rule_x", [(root, "rate of return") for root in roots if 0 <= root <= 0.6], tone="second")] if any(0 <= root <= 0.6 for root in roots) else [])],
            )
        ],
        warnings=_warnings(v, roots),
        reading=return_reading(v, roots),
        cautions=[LOCAL],
    )  # fmt: skip


def _profile_finding(v, roots):
    if len(roots) == 1:
        return f"It is worth nothing today at {v.say(roots[0], '1', us='%', metric='%')} a year, and more at any lower rate." if v.net_present_value >= 0 or roots[0] < v.discount_rate else "One rate makes it worth nothing."
    return "There is no single rate of return." if roots else "At no rate is it worth exactly nothing."


def _warnings(v, roots):
    found = []
    if len(roots) > 1:
        found.append(("flows", "These flows change sign more than once and have several rates of return, so none of them means anything by itself. Go by the worth today."))
    if not roots:
        found.append(("flows", "There is no rate of return: the flows never change from loss to gain, or lose at every rate."))
    if v.chance_of_running_dry is not None and v.chance_of_running_dry > 0.2:
        found.append(("opening_cash", f"In {v['chance_of_running_dry']} of the draws the cash runs out. Hold more, or start smaller."))
    return found


def return_reading(v, roots):
    worth = f"At {v['discount_rate']} a year the whole is worth {v.money(v.net_present_value)} today: " + ("it beats that rate." if v.net_present_value > 0 else "your money does better elsewhere." if v.net_present_value < 0 else "exactly as good as that rate.")
    sentences = [worth]
    if len(roots) == 1:
        sentences.append(f"It returns {v['rate_of_return']} a year.")
    sentences.append(f"It is paid back after {v['payback_years']}." if v.payback_years is not None else "It is not paid back within these years.")
    if v.chance_of_loss is not None:
        sentences.append(f"Over the range of what may happen, {v['chance_of_loss']} of the draws are not paid back within three years, and {v['chance_of_running_dry']} run out of cash on the way.")
        sentences.append("Your hours are in it at the wage you set." if v.paid_share == 1 else "Not all your hours are in it: the true return is lower.")
    return sentences
