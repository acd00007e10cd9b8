"""What the whole thing returns: net present value, rates of return, payback, and the chance of loss."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import accumulate
from math import fsum
from typing import Annotated, Any, NamedTuple

from calc.economics.cash import MONTHS, Plan, balances, bought_of, cash, loan_by_month, months_of, plan_of
from calc.economics.costs import castings_first_of
from calc.economics.terms import LOCAL, oversold
from calc.engine import (
    Answer,
    Axis,
    Column,
    Count,
    Figure,
    Flag,
    Mark,
    Number,
    Output,
    Part,
    Refused,
    RowsPart,
    Series,
    Share,
    Show,
    Step,
    Table,
    Trace,
    View,
    calculator,
    presents,
    with_inputs_of,
)
from calc.engine.explore import draws, limits, movable
from calc.engine.view import lower_first
from calc.facts import economics as facts

LOWEST_RATE, HIGHEST_RATE = -0.99, 10.0
TOUCHING = 1e-12  # a summit this near nothing, against the size of its terms, is a double zero


def net_present_value(rate: float, flows: Sequence[float]) -> float:
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


def rates_of_return(flows: Sequence[float]) -> list[float]:
    """Every real rate above −99 % and up to 1,000 % at which the flows are worth nothing today [-], ascending.

    The worth is a polynomial in 1 ÷ (1 + rate): between two neighbouring zeros of its derivative it has one zero at
    most, so all are found by descending through the derivatives and halving. None: no such rate. Several: no single
    rate describes the flows.
    Source: OpenStax, Principles of Finance, internal rate of return, and its limits with more than one change of sign.
    >>> [round(rate, 4) for rate in rates_of_return([-350, 950, -620])]
    [0.0918, 0.6225]
    """
    low, high = 1 / (1 + HIGHEST_RATE), 1 / (1 + LOWEST_RATE)
    return sorted(1 / factor - 1 for factor in polynomial_zeros(list(flows), low, high))


def polynomial_zeros(coefficients: Sequence[float], low: float, high: float) -> list[float]:
    """Zeros in [low, high], low above 0, of c0 + c1·x + c2·x² …, ascending; a double zero, where the curve only
    touches, is found once.

    >>> [round(zero, 6) for zero in polynomial_zeros([-100, 220, -121], 0.1, 10)]
    [0.909091]
    """
    coefficients = list(coefficients)
    while coefficients and coefficients[-1] == 0:
        coefficients.pop()
    if len(coefficients) < 2:
        return []

    def value(x: float) -> float:
        """The polynomial, nothing when it is within rounding of nothing."""
        total = size = 0.0
        for coefficient in reversed(coefficients):
            total = total * x + coefficient
            size = size * x + abs(coefficient)
        return 0.0 if abs(total) <= TOUCHING * size else total

    derivative = [power * coefficient for power, coefficient in enumerate(coefficients)][1:]
    edges = [low, *polynomial_zeros(derivative, low, high), high]
    values = [value(edge) for edge in edges]
    found = [edge for edge, height in zip(edges, values) if height == 0]
    for start, end, at_start, at_end in zip(edges, edges[1:], values, values[1:]):
        if at_start * at_end < 0:
            found.append(bisected(value, start, end, at_start))
    return sorted(set(found))


def bisected(value: Callable[[float], float], start: float, end: float, at_start: float) -> float:
    """Zero between two places of different sign, to the last bit."""
    while True:
        middle = (start + end) / 2
        if middle in (start, end):
            return middle
        at_middle = value(middle)
        if at_middle == 0:
            return middle
        if (at_middle < 0) == (at_start < 0):
            start = middle
        else:
            end = middle


def modified_rate(flows: Sequence[float], finance_rate: float, reinvestment_rate: float) -> float | None:
    """Modified rate of return: money out is brought to today, money in to the last year, each at its own rate [-]; None
    without both.

    Source: the usual definition, as in spreadsheets and numpy-financial.
    >>> round(modified_rate([-5000, 1500, 1500, 1500, 1500, 1500], 0.08, 0.08), 7)
    0.1196997
    """
    last = len(flows) - 1
    outlay = -net_present_value(finance_rate, [min(flow, 0.0) for flow in flows])
    income = net_present_value(reinvestment_rate, [max(flow, 0.0) for flow in flows])
    if outlay <= 0 or income <= 0 or last < 1:
        return None
    ratio = income / outlay
    for _ in range(last):
        ratio *= 1 + reinvestment_rate
    low, high = 0.0, max(1.0, ratio)
    for _ in range(200):  # the root by halving: the last digit of pow() differs between machines
        middle = (low + high) / 2
        if middle in (low, high):
            break
        grown = 1.0
        for _ in range(last):
            grown *= middle
        low, high = (middle, high) if grown < ratio else (low, middle)
    return (low + high) / 2 - 1


def soon(years: float) -> str:
    """The span within which something under a year lies, in a word.

    >>> soon(0.007), soon(0.05), soon(0.5)
    ('week', 'month', 'year')
    """
    return "week" if years * 365 <= 7 else "month" if years * 12 <= 1 else "year"


def payback_years(flows: Sequence[float]) -> float | None:
    """Years until the flows have paid themselves back for good, part years by straight line; None when they never do.

    A later loss undoes an earlier payback, so it is the last climb out of debt that counts.
    >>> payback_years([-100, 40, 40, 40])
    2.5
    """
    total, found = 0.0, 0.0
    for year, flow in enumerate(flows):
        before, total = total, total + flow
        if before < 0 <= total:
            found = year - 1 + -before / flow
    return found if total >= 0 else None


class Years(NamedTuple):
    """The flows of all years [money], the rates at which they are worth nothing, and the cash plan that they come from:
    None where the flows are the reader's own.
    """

    flows: Sequence[float]
    rates: Sequence[float]
    plan: Plan | None
    months: tuple[Sequence[float], Sequence[float], Sequence[float]]  # sales, running costs, load, as months_of


@dataclass(frozen=True)
class Return(Answer):
    net_present_value: Annotated[
        float,
        Output(
            "money",
            "Worth today",
            "All flows brought to today at your rate. Above zero: it beats that rate.",
            main=True,
        ),
    ]
    rate_of_return: Annotated[
        float | None,
        Output(
            "1",
            "Rate of return a year",
            "The rate at which it is worth exactly nothing today. None when there is no such rate, or more than one.",
            us="%",
            metric="%",
            main=True,
        ),
    ]
    payback_years: Annotated[
        float | None,
        Output(
            "year",
            "Years until it is paid back",
            "For good, a later loss counted. None: not within these years.",
            main=True,
        ),
    ]
    chance_of_loss: Annotated[
        float | None,
        Output(
            "1",
            "Chance of loss",
            "Draws in which it is worth less than nothing today. None when you gave your own flows.",
            us="%",
            metric="%",
            digits=2,
            counted_by="draws_made",
            main=True,
        ),
    ]
    chance_of_running_dry: Annotated[
        float | None,
        Output(
            "1",
            "Chance of running out of cash",
            "At the end of any month of the three years, with the loan and the pay of the cash plan.",
            us="%",
            metric="%",
            digits=2,
            counted_by="draws_made",
        ),
    ]
    chance_of_no_payback: Annotated[
        float | None,
        Output(
            "1",
            "Chance of not being paid back in three years",
            "Cash, less what is still owed, ends below what you started with.",
            us="%",
            metric="%",
            digits=2,
            counted_by="draws_made",
        ),
    ]
    modified_rate_of_return: Annotated[
        float | None,
        Output(
            "1",
            "Modified rate of return a year",
            "One rate even where several fit: what comes in earns your own rate until the end.",
            us="%",
            metric="%",
        ),
    ]
    number_of_rates: Annotated[int, Output("1", "Rates at which it is worth nothing", "One is the plain case.")]
    course: Annotated[Years, Trace("The flows, and the cash plan behind them")] = field(repr=False, compare=False)


@calculator(
    "economics.return",
    "Is it worth it, and what is the chance that it is not?",
    samples=200,
    leads={"economics.mix": {}, "economics.unit_cost": {}, "records.lane": {}},
)
@with_inputs_of(cash)
def rate_of_return(
    flows: Annotated[
        Sequence[float] | None,
        Series(
            "money",
            "Your own flows by year",
            -1e12,
            1e12,
            help="First is now, money out negative. Blank: built from the cash plan below.",
            optional=True,
            most=101,
        ),
    ] = None,
    discount_rate: Annotated[
        float,
        Share(
            "Rate that your money could earn elsewhere",
            0,
            1,
            fact=facts.DISCOUNT_RATE,
            help="A year. A savings account, or what a lender asks.",
        ),
    ] = facts.DISCOUNT_RATE.typical,
    years: Annotated[
        int,
        Count(
            "year", "Years looked at", 3, 30, help="From the fourth on, each year is as the third, less what wears out."
        ),
    ] = 5,
    renewals_per_year: Annotated[
        float,
        Number("money/year", "What wears out in a year", 0, 1e7, fact=facts.RENEWALS, help="From the fourth year."),
    ] = facts.RENEWALS.typical,
    count_own_hours: Annotated[
        bool,
        Flag(
            "Count all my hours at their value",
            help=(
                "Yes: a return that lives on free work is not one. The chances of running dry keep to the pay of the"
                " cash plan."
            ),
        ),
    ] = True,
    *,
    draws_made: Annotated[
        int, Count("1", "Draws for the chances", 50, 5000, help="More are slower and a little surer.", group="Chances")
    ] = 500,
    **plan: Any,
) -> Return:
    """Net present value, rates of return, payback, and chances from seeded sampling of the three-year cash plan.

    flows [money] by year, first now; discount_rate [-] a year; years; renewals_per_year [money/year]; the others as
    economics.cash.
    The flows leave the loan out: they ask whether the work is worth it, not how it is paid for. What is bought in the
    first month is paid now, everything else at the end of its year.
    Sources: OpenStax, Principles of Finance; triangular draws as in calc.engine.explore.
    """
    given = {
        **plan,
        "discount_rate": discount_rate,
        "years": years,
        "renewals_per_year": renewals_per_year,
        "count_own_hours": count_own_hours,
    }
    own = flows is not None
    problems = []
    if flows is not None and len(flows) < 2:
        problems.append(("flows", "Your own flows need at least two years: now, and one after."))
    if not any(plan["season"]):
        problems.append(("season", "Sales of each month cannot all be nothing: 1 is a mean month."))
    if problems:
        raise Refused(problems)
    course = _years(given, flows)
    by_year, roots = course.flows, course.rates
    loss, dry, unpaid = (None, None, None) if own or not draws_made else chances(given, draws_made)
    return Return(
        net_present_value=net_present_value(discount_rate, by_year),
        rate_of_return=roots[0] if len(roots) == 1 else None,
        payback_years=payback_years(by_year),
        chance_of_loss=loss,
        chance_of_running_dry=dry,
        chance_of_no_payback=unpaid,
        modified_rate_of_return=modified_rate(by_year, discount_rate, discount_rate),
        number_of_rates=len(roots),
        course=course,
    )


def _years(given: Mapping[str, Any], flows: Sequence[float] | None) -> Years:
    """The years of the plan, or of the reader's own flows."""
    if flows is not None:
        return Years(tuple(flows), rates_of_return(flows), None, ((), (), ()))
    plan = plan_of(given)
    months = months_of(plan)
    by_year = _yearly(given, plan, *months)
    return Years(by_year, rates_of_return(by_year), plan, months)


def yearly(given: Mapping[str, Any]) -> tuple[float, ...]:
    """Yearly flows of the plan, the loan left out: what is bought in the first month now, then year by year [money]."""
    plan = plan_of(given)
    return _yearly(given, plan, *months_of(plan))


def _yearly(
    given: Mapping[str, Any], plan: Plan, sales: Sequence[float], running: Sequence[float], loads: Sequence[float]
) -> tuple[float, ...]:
    kept = [income - cost for income, cost in zip(sales, running)]
    if given["count_own_hours"]:
        unpaid = plan.hours * given["wage"] * (1 - given["paid_share"])
        kept = [amount - unpaid * load for amount, load in zip(kept, loads)]
    found = [-plan.bought[0]]
    for start in range(0, MONTHS, 12):
        year = fsum(kept[start : start + 12])
        found.append(year - fsum(plan.bought[max(start, 1) : start + 12]))
    later = year - given["renewals_per_year"]  # as the third year, with nothing new bought
    return (*found, *[later] * (given["years"] - 3))


def chances(given: Mapping[str, Any], count: int) -> tuple[float, float, float] | tuple[None, None, None]:
    """(share of draws worth less than nothing today, share that run out of cash, share not paid back in three years)
    [-].
    """
    entry = rate_of_return.calculator
    full = {**entry.defaults, **given}
    bought = bought_of({**full, "contingency": 0.0})  # the same in every draw, but for the reserve
    lost = dry = unpaid = 0
    made = draws(entry, full, count)
    for change in made:
        drawn = {**full, **change}
        reserve = 1 + drawn["contingency"] if full["startup_cost"] is None else 1.0
        plan = plan_of(drawn, [amount * reserve for amount in bought])
        sales, running, loads = months_of(plan)
        moved, owed = loan_by_month(plan) if plan.loan_amount else (None, None)
        held = balances(drawn["opening_cash"], plan, sales, running, moved)
        lost += net_present_value(drawn["discount_rate"], _yearly(drawn, plan, sales, running, loads)) < 0
        dry += min(held) < 0
        unpaid += held[-1] - (owed[-1] if owed else 0.0) < drawn["opening_cash"]
    return (lost / len(made), dry / len(made), unpaid / len(made)) if made else (None, None, None)


def widest_mover(v: View) -> tuple[str, float, float] | None:
    """(input, low, high): the input that moves the worth today most over its usual range, and the worth at both ends;
    None without one.
    """
    found = []
    for name in movable(v.entry, v.given):
        description = v.entry.numeric_inputs[name]
        if description.plausible() and (v.flows is None or name == "discount_rate"):
            worths = []
            for end in limits(description, v.given[name]):
                drawn = {**v.given, name: end}
                worths.append(
                    net_present_value(drawn["discount_rate"], v.flows if v.flows is not None else yearly(drawn))
                )
            found.append((max(worths) - min(worths), name, min(worths), max(worths)))
    moved, name, low, high = max(found, default=(0.0, "", 0.0, 0.0))
    return (name, low, high) if moved > 0 else None


def _rate_steps(v: View, by_year: Sequence[float], roots: Sequence[float]) -> list[Step]:
    """Every rate put back into the sum; payback and the modified rate by their definitions."""
    last = len(by_year) - 1
    totals = list(accumulate(by_year))
    scale = max(map(abs, by_year)) or 1.0
    used = {
        "flows": RowsPart(
            "the years",
            {"year": "year", "flow": "money", "total": "money", "before": "money"},
            [
                {"year": year, "flow": flow, "total": total, "before": total - flow}
                for year, (flow, total) in enumerate(zip(by_year, totals))
            ],
        ),
        "rates": RowsPart(
            "the rates",
            {"rate": "1", "worth": "1"},
            [{"rate": root, "worth": round(net_present_value(root, by_year) / scale, 6)} for root in roots],
        ),
        "last": Part("the last year", last, "year"),
    }
    turn = next((year for year in range(last, 0, -1) if totals[year - 1] < 0 <= totals[year]), None)
    if turn is not None:
        used |= {
            "turn": Part("year of the last climb", turn, "year"),
            "short": Part("missing before it", -totals[turn - 1], "money"),
            "come": Part("flow of that year", by_year[turn], "money"),
        }
    return [
        Step(
            "Rates of return",
            "{worth} = 0, each of {rates}; {number_of_rates} = number of {rates}"
            + ("; {rate_of_return} = the first {rate} of {rates}" if len(roots) == 1 else ""),
            "OpenStax, Principles of Finance; every zero between −99 % and 1,000 %",
            "Worth is the same sum at that rate, as a share of the largest flow. With several rates none is named.",
            used,
        ),
        Step(
            "Payback",
            _payback(v, turn),
            "definition",
            "The last climb above nothing, part of a year by straight line.",
            used,
        ),
        Step(
            "Modified rate",
            "(1 + {modified_rate_of_return})^({last} in year) = (sum over {flows} of {flow} × (1 +"
            " {discount_rate})^(({last} − {year}) in year) where {flow} > 0) ÷ (0 − sum over {flows} of {flow} ÷ (1 +"
            " {discount_rate})^({year} in year) where {flow} < 0)",
            "the usual definition",
            "",
            used,
        ),
    ]


def _payback(v: View, turn: int | None) -> str:
    """The equation of the payback: the year in which the sum climbs above nothing for the last time."""
    if turn is None or v.payback_years is None:
        return "{payback_years} = 0 year"
    return (
        "{turn} = the last {year} of {flows} where {before} < 0 and {total} ≥ 0; {short} = 0 − the last {before} of"
        " {flows} where {year} = {turn}; {come} = the last {flow} of {flows} where {year} = {turn}; {payback_years} ="
        " {turn} − 1 year + {short} ÷ {come} × 1 year"
    )


def _plan_steps(v: View, by_year: Sequence[float], plan: Plan) -> list[Step]:
    """Flows from the cash plan, and the chances."""
    sales, running, loads = v.course.months
    unpaid = plan.hours * v.wage * (1 - v.paid_share) if v.count_own_hours else 0.0
    rows = [
        {
            "year": start // 12 + 1,
            "flow": by_year[start // 12 + 1],
            "sales": fsum(sales[start : start + 12]),
            "running": fsum(running[start : start + 12]),
            "bought": fsum(plan.bought[max(start, 1) : start + 12]),
            "own_hours": unpaid * fsum(loads[start : start + 12]),
        }
        for start in range(0, MONTHS, 12)
    ]
    money = dict.fromkeys(("flow", "sales", "running", "bought", "own_hours"), "money")
    third = rows[-1]
    used = {
        "three": RowsPart("the first three years", {"year": "year", **money}, rows),
        "now": RowsPart("now", money, [{"flow": by_year[0], "bought": plan.bought[0]}]),
        "later": RowsPart("the years after them", money, [{"flow": flow} for flow in by_year[4:]]),
        "third": Part("the third year, nothing bought", third["flow"] + third["bought"], "money"),
    }
    return [
        Step(
            "Flows",
            "{flow} = 0 − {bought}, each of {now}; {flow} = {sales} − {running} − {bought} − {own_hours}, each of"
            " {three}; {flow} = {third} − {renewals_per_year} × 1 year, each of {later}",
            "cash plan; now stands what is bought in the first month",
            "Hours without pay stand at their value, where you count them.",
            used,
        ),
        Step(
            "Chances",
            "{chance_of_loss}, {chance_of_running_dry} and {chance_of_no_payback}: shares of {draws_made}"
            " draws of all inputs that carry a usual range",
            "triangular draws, Latin hypercube (McKay, Beckman & Conover 1979)",
            prose=True,
        ),
    ]


@presents(rate_of_return)
def show_return(v: View) -> Show:
    by_year, roots, plan, _ = v.course
    profile = [(rate / 100, net_present_value(rate / 100, by_year)) for rate in range(0, 61, 2)]
    rows, total, factor = [], 0.0, 1.0
    for year, flow in enumerate(by_year):
        total += flow
        rows.append((year, flow, flow * factor, total))
        factor /= 1 + v.discount_rate
    rate_rows = [
        (
            root,
            (
                "worth more at lower rates"
                if net_present_value(root - 1e-4, by_year) > 0
                else "worth more at higher rates"
            ),
        )
        for root in roots
    ]
    return Show(
        working=[
            Step(
                "Worth today",
                "{net_present_value} = sum over {flows} of {flow} ÷ (1 + {discount_rate})^{year}",
                "OpenStax, Principles of Finance",
                values={
                    "flows": RowsPart(
                        "the years",
                        {"flow": "money", "year": "1"},
                        [{"flow": flow, "year": year} for year, flow in enumerate(by_year)],
                    ),
                    "flow": ("flow", "flow"),
                    "year": ("year", "year"),
                },
            ),
            *_rate_steps(v, by_year, roots),
            *(_plan_steps(v, by_year, plan) if plan else []),
        ],
        tables=[
            Table(
                "years",
                "Year by year",
                [
                    Column("year", "Year", "1"),
                    Column("flow", "Flow", "money"),
                    Column("today", "Worth today", "money"),
                    Column("total", "Sum so far", "money"),
                ],
                rows,
                open=True,
            ),
            *(
                [
                    Table(
                        "rates",
                        "Rates at which it is worth nothing today",
                        [Column("rate", "Rate a year", "1", us="%", metric="%"), Column("side", "At that rate it is")],
                        rate_rows,
                        open=len(roots) > 1,
                    )
                ]
                if roots
                else []
            ),
        ],
        figures=[
            Figure(
                "profile",
                "Worth today against the rate asked for",
                finding=_profile_finding(v, roots),
                x=Axis("Rate a year", "1", us="%", metric="%"),
                y=Axis("Worth today", "money"),
                marks=[
                    Mark("line", profile),
                    Mark("rule_y", [(0, "")], tone="muted"),
                    Mark("dots", [(v.discount_rate, v.net_present_value, "your rate")]),
                    *(
                        [
                            Mark(
                                "rule_x",
                                [(root, "rate of return") for root in roots if 0 <= root <= 0.6],
                                tone="second",
                            )
                        ]
                        if any(0 <= root <= 0.6 for root in roots)
                        else []
                    ),
                ],
            )
        ],
        warnings=_warnings(v, roots),
        reading=return_reading(v, roots),
        cautions=[LOCAL],
    )


def _profile_finding(v: View, roots: Sequence[float]) -> str:
    if len(roots) == 1:
        return (
            f"It is worth nothing today at {v.say(roots[0], '1', us='%', metric='%')} a year, and more at any lower"
            " rate."
            if v.net_present_value >= 0 or roots[0] < v.discount_rate
            else "One rate makes it worth nothing."
        )
    if not roots and gains_at_every_rate(v.course.flows):
        return f"Up to {v.say(HIGHEST_RATE, '1', us='%', metric='%')} a year it is worth more than nothing."
    return "There is no single rate of return." if roots else "At no rate is it worth exactly nothing."


def gains_at_every_rate(flows: Sequence[float]) -> bool:
    """Whether flows are worth more than nothing at the highest rate that is looked at, and so at every one, where no
    rate makes them worth nothing.
    """
    return net_present_value(HIGHEST_RATE, flows) > 0


def _warnings(v: View, roots: Sequence[float]) -> list[tuple[str, str]]:
    found = []
    if len(roots) > 1:
        found.append(
            (
                "flows",
                (
                    "These flows change sign more than once and have several rates of return, so none of them means"
                    " anything by itself. Go by the worth today."
                ),
            )
        )
    if not roots:
        found.append(
            (
                "flows",
                "There is no rate of return: it loses at every rate."
                if not gains_at_every_rate(v.course.flows)
                else "There is no rate of return: nothing is put in."
                if v.course.flows[0] >= 0
                else "Hardly any business returns so much: look at outlay, prices and sales again.",
            )
        )
    if v.chance_of_running_dry is not None and v.chance_of_running_dry > 0.2:
        found.append(
            (
                "opening_cash",
                f"In {v['chance_of_running_dry']} of the draws the cash runs out. Hold more, or start smaller.",
            )
        )
    return found + oversold(v.given)


def return_reading(v: View, roots: Sequence[float]) -> list[str]:
    sentences = [
        *castings_first_of(v),
        f"At {v.yours('discount_rate')} a year the whole is worth {v.money(v.net_present_value)} today: "
        + (
            "it beats that rate."
            if v.net_present_value > 0
            else "your money does better elsewhere."
            if v.net_present_value < 0
            else "exactly as good as that rate."
        ),
    ]
    if len(roots) == 1:
        sentences.append(f"It returns {v['rate_of_return']} a year.")
    elif roots:
        sentences.append(
            f"{len(roots)} rates fit ({', '.join(v.say(root, '1', us='%', metric='%') for root in roots)}), so none of"
            " them is the return: go by the worth today."
        )
    elif gains_at_every_rate(v.course.flows) and v.course.flows[0] < 0:
        sentences.append(f"It returns more than {v.say(HIGHEST_RATE, '1', us='%', metric='%')} a year.")
    else:
        sentences.append("No rate of return fits these flows.")
    sentences.append(
        f"It is paid back within the first {soon(v.payback_years)}."
        if v.payback_years is not None and 0 < v.payback_years < 1
        else f"It is paid back after {v['payback_years']}."
        if v.payback_years is not None
        else "It is not paid back within these years."
    )
    if v.chance_of_loss is not None:
        counted = (
            "with all your hours counted"
            if v.count_own_hours
            else (
                "with only the paid hours counted, so the true chance is higher"
                if v.paid_share < 1
                else "with your hours paid"
            )
        )
        sentences.append(
            f"Of the draws, {v['chance_of_loss']} are worth less than nothing today, {counted};"
            f" {v['chance_of_running_dry']} run out of cash on the way, and {v['chance_of_no_payback']} are not paid"
            " back in cash within three years."
        )
    widest = widest_mover(v)
    if widest:
        name, low, high = widest
        sentences.append(
            f"Find out first: {lower_first(v.entry.inputs[name].label)}. From one end of its usual range to the other,"
            f" the worth today goes from {v.money(low)} to {v.money(high)}."
        )
    return sentences
