"""What the money pages ask for: one name, one meaning and one default on all of them, so that nothing is typed
twice.
"""

import functools
import inspect
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from typing import Annotated, Any, ParamSpec, TypeVar, get_args

from calc.breeding.trays import trays
from calc.engine import DAYS_A_MONTH, POUND, YARD3, Choice, Count, Number, Refused, Rows, Series, Share, Text, typical
from calc.engine.describe import typical_alone
from calc.engine.register import Calculator
from calc.facts import economics as facts
from calc.lane.asked import RATES, lane_form, lane_plan
from calc.lane.model import first_castings_day
from calc.lane.output import output
from calc.lane.questions import typical_day

P = ParamSpec("P")
A = TypeVar("A")
WEEKS_A_MONTH = DAYS_A_MONTH / 7
MOST_MONTHS = 36
LOCAL = (
    "Taxes, insurance, permits and the rules for selling soil products or live animals differ by place: ask locally."
    " This is not financial advice."
)
GUESSED_DOUBT = 0.2  # for a price whose doubt is left blank; said in the help of the table

PRODUCE = "Units from your trays or lane"
SOLD = {
    "pound": "A pound of worms, from the trays",
    "kilogram": "A kilogram of worms, from the trays",
    "yard": "A cubic yard of castings, from the lane",
    "metre": "A cubic metre of castings, from the lane",
}

Price = Annotated[
    float,
    Number(
        "money",
        "Price of one unit",
        0,
        1e6,
        fact=facts.PRICE,
        help="A unit is what you sell: a pound of worms, a yard of castings, a bag. Prices here are invented.",
    ),
]
UnitsPerMonth = Annotated[
    float | None,
    Number(
        "1/month",
        "Units sold a month",
        0.01,
        1e6,
        fact=facts.UNITS_PER_MONTH,
        help="In a usual month, when sales are full. Blank: what your trays or lane give.",
        optional=True,
    ),
]
LabourHoursPerUnit = Annotated[
    float | None,
    Number(
        "hour",
        "Hours of work for a unit",
        0,
        1000,
        fact=facts.LABOUR_HOURS_PER_UNIT,
        relative=True,
        help=(
            "Feeding, watering, sorting, screening, packing, talking to customers. Blank: what the trays or the lane"
            " ask, without packing and selling."
        ),
        optional=True,
    ),
]
FeedCostPerUnit = Annotated[float, Number("money", "Feed for a unit", 0, 1e5, fact=facts.FEED_COST)]
PackingCostPerUnit = Annotated[
    float,
    Number(
        "money",
        "Packing for a unit",
        0,
        1e5,
        fact=facts.PACKING_COST,
        help="Bag or box, label, peat or paper, carriage you pay.",
    ),
]
EnergyCostPerMonth = Annotated[
    float,
    Number(
        "money/month",
        "Energy and water",
        0,
        1e6,
        fact=facts.ENERGY_COST,
        help="The page on breeding rooms works out what holding each room takes; light and water come on top.",
    ),
]
FixedCostPerMonth = Annotated[
    float,
    Number(
        "money/month",
        "Fixed costs",
        0,
        1e6,
        fact=facts.FIXED_COST,
        help="Rent, insurance, telephone, stall, website: every month from the first.",
    ),
]
OtherSalesPerMonth = Annotated[
    float,
    Number(
        "money/month",
        "Other sales a month",
        0,
        1e7,
        fact=facts.OTHER_SALES,
        help=(
            "What else is sold when sales are full, less its own costs: castings beside worms, or worms beside"
            " castings."
        ),
        group="Income",
    ),
]
PaidShare = Annotated[
    float,
    Share(
        "Share of the hours that is paid in cash", 0, 1, help="0 % when you do it all yourself and take nothing out."
    ),
]
MonthsToIncome = Annotated[
    float | None,
    Number(
        "month",
        "Months before the first income",
        0,
        36,
        fact=facts.MONTHS_TO_INCOME,
        relative=True,
        help="Biology, not effort: a herd must grow first. Blank: what your trays take, or a first lane.",
        optional=True,
    ),
]
RampMonths = Annotated[
    float,
    Number("month", "Months to climb to full sales", 0, 36, fact=facts.RAMP_MONTHS, relative=True, group="Income"),
]
EarlyShare = Annotated[
    float,
    Share(
        "Work and feed in the first month, of the full",
        0,
        1,
        fact=facts.EARLY_SHARE,
        relative=True,
        help="Worms are fed long before they are sold. From this share both rise evenly until sales are full.",
        group="Income",
    ),
]
Season = Annotated[
    Sequence[float],
    Series(
        "1",
        "Sales of each month against the mean",
        0,
        10,
        length=12,
        help="Twelve numbers, January first; 1 is a mean month.",
        group="Income",
    ),
]
OpeningCash = Annotated[float, Number("money", "Cash at the start", 0, 1e8, help="What you can put in and do without.")]
StartupCost = Annotated[
    float | None,
    Number(
        "money",
        "Start-up cost",
        0,
        1e8,
        help="All paid in the first month. Blank: the list below, each thing in its month.",
        optional=True,
    ),
]
Purchases = Annotated[
    Sequence[dict[str, Any]],
    Rows(
        "What to buy",
        {
            "stage": Choice("Stage", {"learn": "learn", "prove": "prove", "produce": "produce"}),
            "item": Text("Item"),
            "quantity": Number("1", "Quantity", 0, 1e6),
            "price": Number("money", "Price of each", 0, 1e7),
            "doubt": Share("Doubt either way", 0, 1, optional=True),
            "month": Count("1", "Paid in month", 1, 36, optional=True),
        },
        help=(
            "Change, add or remove rows. A blank doubt counts as 20 %, a blank month as the first. Prices are invented,"
            " as an example."
        ),
        group="Purchases",
    ),
]
Contingency = Annotated[
    float,
    Share(
        "Reserve on top", 0, 1, help="For what was forgotten.", fact=facts.CONTINGENCY, relative=True, group="Purchases"
    ),
]
LoanAmount = Annotated[
    float, Number("money", "Loan", 0, 1e8, help="Paid out in the first month.", group="Borrowed money")
]
LoanRate = Annotated[float, Share("Interest of the loan a year", 0, 1, group="Borrowed money")]
LoanMonths = Annotated[int, Count("month", "Months to pay the loan off", 1, 360, group="Borrowed money")]
Sold = Annotated[str, Choice("One unit is", SOLD, help="Only used when units or hours are left blank.", group=PRODUCE)]
TraysPerWeek = Annotated[
    float, Number("1/week", "Trays started a week", 0.05, 2000, help="0.5 is one a fortnight.", group=PRODUCE)
]
CastingsPerWeek = Annotated[
    float,
    Number(
        "m3/week",
        "Screened castings to sell",
        0.001,
        500,
        us="yd3/week",
        metric="m3/week",
        help="Fresh, loose, as sold.",
        group=PRODUCE,
    ),
]

TRAYS_PER_WEEK = trays.calculator.own_defaults["trays_per_week"]
CASTINGS_PER_WEEK = output.calculator.own_defaults["castings_per_week"]


NOT_PRODUCE = {"start_date", "wage", "calendar_name", "trays_per_week", "castings_per_week"}
"""Inputs of trays and lane that the money pages ask for themselves, or that say nothing about what is made."""
FROM_TRAYS, FROM_LANE = "Your trays, for blank units or hours", "Your lane, for blank units or hours"
FROM_FIRST_LANE = "Your first lane, for blank months before the first income"


def _produce(first_lane: bool = True) -> list[inspect.Parameter]:
    """Everything that the pages about trays, about a lane's output and about the first lane ask for, folded away on
    the money pages; but for the rates of a herd, whose names are those of the trays.
    """
    found: list[inspect.Parameter] = []
    asked = [(trays.calculator.function, FROM_TRAYS), (output.calculator.function, FROM_LANE)]
    for function, group in [*asked, (lane_form, FROM_FIRST_LANE)] if first_lane else asked:
        for name, parameter in inspect.signature(function).parameters.items():
            if name in NOT_PRODUCE or name in {one.name for one in found}:
                continue
            if function is lane_form and name in RATES:
                continue
            kind, description = get_args(parameter.annotation)
            annotation = Annotated[kind, replace(description, group=group)]  # type: ignore[valid-type]
            found.append(parameter.replace(annotation=annotation, kind=inspect.Parameter.KEYWORD_ONLY))
    return found


PRODUCE_INPUTS = tuple(parameter.name for parameter in _produce())
FIRST_LANE = tuple(name for name in inspect.signature(lane_form).parameters if name not in RATES)
"""What of a money page's inputs makes the first lane."""


def with_produce(function: Callable[P, A], first_lane: bool = True) -> Callable[P, A]:
    """Let a money page ask for the whole of what makes its units, so that a blank takes all that was set elsewhere.

    Under @calculator. The function takes them as keywords (`**produce`). first_lane: whether its answer hangs on the
    day on which a first lane has castings.
    """
    own = inspect.signature(function)
    stated = [p for p in own.parameters.values() if p.kind is not inspect.Parameter.VAR_KEYWORD]
    asked = _produce(first_lane)

    @functools.wraps(function)
    def widened(*args: P.args, **values: P.kwargs) -> A:
        return function(*args, **values)

    widened.__signature__ = own.replace(parameters=[*stated, *asked])  # type: ignore[attr-defined]
    return widened


def produce_of(given: Mapping[str, Any]) -> dict[str, Any]:
    """The inputs of trays and lane among a money page's; those that are not given stand at their defaults."""
    return {name: given[name] for name in PRODUCE_INPUTS if name in given}


def units_and_hours(
    units_per_month: float | None,
    labour_hours_per_unit: float | None,
    sold: str,
    trays_per_week: float,
    castings_per_week: float,
    **produce: Any,
) -> tuple[float, float]:
    """(units a month, hours for a unit), a blank one worked out from the trays or the lane, as they were set.

    >>> units_and_hours(25.0, 0.45, "pound", 20.0, 0.2)
    (25.0, 0.45)
    """
    if units_per_month is not None and labour_hours_per_unit is not None:
        return units_per_month, labour_hours_per_unit
    made, hours = made_and_hours(sold, trays_per_week, castings_per_week, **produce)
    return (made if units_per_month is None else units_per_month), (
        hours / made if labour_hours_per_unit is None else labour_hours_per_unit
    )


def made_and_hours(sold: str, trays_per_week: float, castings_per_week: float, **produce: Any) -> tuple[float, float]:
    """(units, hours) a month that the trays or the lane give and ask, by their own pages' functions."""
    if sold in ("pound", "kilogram"):
        found = _asked(trays.calculator, {**produce, "trays_per_week": trays_per_week})
        made, unit = typical(found.worm_mass_per_week), (POUND if sold == "pound" else 1.0)
    else:
        with typical_alone("labour_hours_per_week"):  # the slow and the fast lane are not asked for here
            found = _asked(output.calculator, {**produce, "castings_per_week": castings_per_week})
        made, unit = castings_per_week, YARD3 if sold == "yard" else 1.0
    made = made / unit * WEEKS_A_MONTH
    if made <= 0:
        raise Refused([("units_per_month", "Your trays give nothing to sell: look at them, or type the units sold.")])
    return made, typical(found.labour_hours_per_week) * WEEKS_A_MONTH


def _asked(entry: Calculator, values: Mapping[str, Any]) -> Any:
    known = {name: value for name, value in values.items() if name in entry.inputs}
    return entry.function(**{**entry.defaults, **known})


def months_before_income(given: Mapping[str, Any]) -> float:
    """Months before the first income [month]: as typed, else those in which trays, or a first lane, can have
    anything to sell.

    A lane is the reader's first one, as on its own pages, its worms there from the plan's day: to its first slice of
    castings, and the time from slicing to selling.
    """
    typed: float | None = given["months_to_income"]
    return earliest_income(given) if typed is None else typed


def earliest_income(given: Mapping[str, Any]) -> float:
    """Months before anything can be sold at all, of what one unit is [month]; 36 where a lane gives none in three
    years.
    """
    if given["sold"] in ("pound", "kilogram"):
        values = {**produce_of(given), "trays_per_week": given["trays_per_week"]}
        return float(typical(_asked(trays.calculator, values).days_to_first_sale)) / DAYS_A_MONTH
    return lane_months({name: given[name] for name in FIRST_LANE if name in given})


def lane_months(lane: Mapping[str, Any]) -> float:
    """Months from the worms to the first castings sold of a first lane, within three years [month]; lane: what its form
    was given.
    """
    known = {name: parameter.default for name, parameter in inspect.signature(lane_form).parameters.items()}
    plan = lane_plan({**known, **lane})
    first = typical_day(plan, first_castings_day)
    return float(MOST_MONTHS) if first is None else min(MOST_MONTHS, (first + plan.sale_wait(first)) / DAYS_A_MONTH)


def oversold(given: Mapping[str, Any]) -> list[tuple[str, str]]:
    """A warning where more is sold than the trays or the lane make, as they were set: (input, sentence)."""
    units: float | None = given["units_per_month"]
    if units is None:
        return []
    try:
        made, _ = made_and_hours(
            given["sold"], given["trays_per_week"], given["castings_per_week"], **produce_of(given)
        )
    except Refused:
        return []
    if units <= made * (1 + 1e-9):
        return []
    makers = "trays, as set below, make" if given["sold"] in ("pound", "kilogram") else "lane, as set below, makes"
    return [
        (
            "units_per_month",
            f"Your {makers} {made:.3g} a month, fewer than the {units:.4g} that are sold here. Nothing is sold before"
            " it is made: leave it blank, or set them larger.",
        )
    ]
