"""What one unit costs, and the list of what to buy."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import partial
from math import fsum
from typing import Annotated, Any

from calc.economics.terms import (
    CASTINGS_PER_WEEK,
    GUESSED_DOUBT,
    LOCAL,
    TRAYS_PER_WEEK,
    CastingsPerWeek,
    Contingency,
    EnergyCostPerMonth,
    FeedCostPerUnit,
    FixedCostPerMonth,
    LabourHoursPerUnit,
    PackingCostPerUnit,
    Price,
    Purchases,
    Sold,
    TraysPerWeek,
    UnitsPerMonth,
    oversold,
    units_and_hours,
    with_produce,
)
from calc.engine import (
    Answer,
    Axis,
    Band,
    Column,
    Figure,
    Mark,
    Number,
    Output,
    Part,
    Refused,
    RowsPart,
    Show,
    Step,
    Table,
    View,
    calculator,
    presents,
)
from calc.engine.explore import moves
from calc.engine.view import lower_first
from calc.facts import economics as facts
from calc.inputs import WAGE, Wage

MONTHS_A_YEAR = 12


def straight_line(equipment_cost: float, salvage: float, equipment_life_years: float) -> float:
    """Depreciation a year, straight line [money/year].

    Source: any accounting text; OpenStax, Principles of Accounting, depreciation: 58,000 less 10,000 over 5 years is
    9,600.
    >>> straight_line(58000, 10000, 5)
    9600.0
    """
    return (equipment_cost - salvage) / equipment_life_years


def break_even_units(fixed_cost: float, price: float, variable_cost: float) -> float | None:
    """Units that must be sold to cover fixed costs; None when each unit sold loses money.

    >>> break_even_units(3000, 35, 20)
    200.0
    """
    return fixed_cost / (price - variable_cost) if price > variable_cost else None


@dataclass(frozen=True)
class UnitCost(Answer):
    cost_per_unit: Annotated[
        float,
        Output(
            "money",
            "Cost of one unit",
            "All of it: your hours, feed, packing, and its share of what costs money every month.",
            ranged=True,
            main=True,
        ),
    ]
    margin_per_unit: Annotated[
        float,
        Output(
            "money",
            "Left from one unit",
            "Price less cost. Below zero: each one sold costs you money.",
            ranged=True,
            main=True,
        ),
    ]
    labour_share: Annotated[
        float, Output("1", "Share of the cost that is work", "", us="%", metric="%", digits=2, main=True)
    ]
    break_even_units: Annotated[
        float | None,
        Output(
            "1/month",
            "Units a month to break even",
            "At this price. None when the price does not even cover what each unit takes.",
            main=True,
        ),
    ]
    break_even_price: Annotated[float, Output("money", "Price that breaks even", "At this number of units a month.")]
    profit_per_month: Annotated[
        float, Output("money/month", "Left in a month", "After your own hours are paid.", ranged=True)
    ]
    variable_cost_per_unit: Annotated[float, Output("money", "Cost that each unit brings", "Work, feed and packing.")]
    fixed_cost_total_per_month: Annotated[
        float, Output("money/month", "Cost that comes anyway", "Energy, fixed costs and wear of equipment.")
    ]
    depreciation_per_month: Annotated[float, Output("money/month", "Wear of equipment", "Straight line.")]
    earned_per_hour: Annotated[
        float | None, Output("money/hour", "What an hour of work earns", "When everything else is paid.")
    ]
    units_sold: Annotated[float, Output("1/month", "Units a month", "As typed, or as your trays or lane give them.")]
    hours_for_one: Annotated[
        float, Output("hour", "Hours for a unit, reckoned with", "As typed, or as your trays or lane ask them.")
    ]


@calculator(
    "economics.unit_cost",
    "What does a pound of worms or a yard of castings really cost me?",
    leads={"economics.cash": {}, "economics.mix": {}},
)
@partial(with_produce, first_lane=False)
def unit_cost(
    price: Price = facts.PRICE.typical,
    units_per_month: UnitsPerMonth = facts.UNITS_PER_MONTH.typical,
    labour_hours_per_unit: LabourHoursPerUnit = facts.LABOUR_HOURS_PER_UNIT.typical,
    wage: Wage = WAGE,
    feed_cost_per_unit: FeedCostPerUnit = facts.FEED_COST.typical,
    packing_cost_per_unit: PackingCostPerUnit = facts.PACKING_COST.typical,
    energy_cost_per_month: EnergyCostPerMonth = facts.ENERGY_COST.typical,
    fixed_cost_per_month: FixedCostPerMonth = facts.FIXED_COST.typical,
    equipment_cost: Annotated[
        float, Number("money", "Equipment, bought new", 0, 1e7, fact=facts.EQUIPMENT_COST, group="Equipment")
    ] = facts.EQUIPMENT_COST.typical,
    salvage: Annotated[
        float,
        Number(
            "money", "Worth at the end", 0, 1e7, help="What it can be sold for when you are done.", group="Equipment"
        ),
    ] = 200.0,
    equipment_life_years: Annotated[
        float, Number("year", "Years it lasts", 0.25, 50, fact=facts.EQUIPMENT_LIFE, group="Equipment")
    ] = facts.EQUIPMENT_LIFE.typical,
    sold: Sold = "pound",
    trays_per_week: TraysPerWeek = TRAYS_PER_WEEK,
    castings_per_week: CastingsPerWeek = CASTINGS_PER_WEEK,
    **produce: Any,
) -> UnitCost:
    """Full cost of one unit, margin, and break-even.

    Money per unit and per month as the names say; labour_hours_per_unit [h]; wage [money/h]; straight-line
    depreciation.
    Blank units_per_month or labour_hours_per_unit: worked out from trays_per_week or castings_per_week [m³/week],
    counted in what `sold` names.
    Raises Refused when equipment would be worth more at the end than it cost.
    Source: OpenStax, Principles of Managerial Accounting, cost–volume–profit.
    """
    if salvage > equipment_cost:
        raise Refused([("salvage", "Worth at the end cannot be more than the equipment cost new.")])
    units, hours_for_one = units_and_hours(
        units_per_month, labour_hours_per_unit, sold, trays_per_week, castings_per_week, **produce
    )
    labour = hours_for_one * wage
    variable = labour + feed_cost_per_unit + packing_cost_per_unit
    wear = straight_line(equipment_cost, salvage, equipment_life_years) / MONTHS_A_YEAR
    fixed = energy_cost_per_month + fixed_cost_per_month + wear
    cost = variable + fixed / units
    hours = hours_for_one * units
    return UnitCost(
        cost_per_unit=cost,
        margin_per_unit=price - cost,
        labour_share=labour / cost if cost else 0.0,
        break_even_units=break_even_units(fixed, price, variable),
        break_even_price=cost,
        profit_per_month=(price - cost) * units,
        variable_cost_per_unit=variable,
        fixed_cost_total_per_month=fixed,
        depreciation_per_month=wear,
        earned_per_hour=((price - variable + labour) * units - fixed) / hours if hours else None,
        units_sold=units,
        hours_for_one=hours_for_one,
    )


@presents(unit_cost)
def show_unit_cost(v: View) -> Show:
    parts = unit_parts(v)
    work = {"work": Part("work for a unit", v.hours_for_one * v.wage, "money")}
    return Show(
        working=[
            Step("Work", "{work} = {hours_for_one} × {wage}", "arithmetic", values=work),
            Step(
                "Cost each unit brings",
                "{variable_cost_per_unit} = {work} + {feed_cost_per_unit} + {packing_cost_per_unit}",
                "OpenStax, Managerial Accounting: variable cost",
                values=work,
            ),
            Step(
                "Wear",
                "{depreciation_per_month} = ({equipment_cost} − {salvage}) ÷ {equipment_life_years} ÷ 12 months/year",
                "straight line",
            ),
            Step(
                "Cost that comes anyway",
                "{fixed_cost_total_per_month} = {energy_cost_per_month} + {fixed_cost_per_month} +"
                " {depreciation_per_month}",
                "OpenStax, Managerial Accounting: fixed cost",
            ),
            Step(
                "Cost of one unit",
                "{cost_per_unit} = {variable_cost_per_unit} + {fixed_cost_total_per_month} ÷ {units_sold}",
                "OpenStax, Managerial Accounting",
            ),
            Step(
                "Break-even",
                "{break_even_units} = {fixed_cost_total_per_month} ÷ ({price} − {variable_cost_per_unit})",
                "OpenStax, Managerial Accounting: break-even point",
            ),
            Step(
                "Margin",
                "{margin_per_unit} = {price} − {cost_per_unit}; {profit_per_month} = that × {units_sold};"
                " {break_even_price} = {cost_per_unit}; {labour_share} = {work} ÷ {cost_per_unit}",
                "OpenStax, Managerial Accounting: margin of safety",
                values=work,
            ),
            Step(
                "What an hour earns",
                "{earned_per_hour} = (({price} − {feed_cost_per_unit} − {packing_cost_per_unit}) × {units_sold} −"
                " {fixed_cost_total_per_month}) ÷ ({hours_for_one} × {units_sold})",
                "arithmetic",
            ),
        ],
        tables=[
            Table(
                "parts",
                "Where the money of one unit goes",
                [
                    Column("part", "Part"),
                    Column("amount", "For a unit", "money"),
                    Column("share", "Share", "1", us="%", metric="%", digits=2),
                ],
                [(name, amount, amount / v.cost_per_unit if v.cost_per_unit else 0) for name, amount in parts],
                open=True,
            )
        ],
        figures=[
            Figure(
                "volume",
                "Cost of one unit as sales grow",
                finding=_volume_finding(v),
                x=Axis("Units a month", "1"),
                y=Axis("Money for one unit", "money", low=0),
                marks=[
                    Mark(
                        "line",
                        [
                            (units, v.variable_cost_per_unit + v.fixed_cost_total_per_month / units)
                            for units in _steps(v.units_sold)
                        ],
                        label="cost",
                    ),
                    Mark("rule_y", [(v.price, "price")], tone="second"),
                    Mark("dots", [(v.units_sold, v.cost_per_unit, "now")]),
                ],
            )
        ],
        warnings=_unit_warnings(v),
        reading=unit_reading(v),
        cautions=[LOCAL],
    )


def _steps(units: float) -> list[float]:
    return [units * (0.2 + 0.1 * step) for step in range(29)]


def _volume_finding(v: View) -> str:
    if v.break_even_units is None:
        return "However many are sold, the price does not cover what each unit takes."
    return f"From {v.say(v.break_even_units, '1')} units a month on, the price covers the cost."


def unit_parts(v: View) -> list[tuple[str, float]]:
    """[(part, money for a unit)], largest first."""
    parts = [
        ("Work", v.hours_for_one * v.wage),
        ("Feed", v.feed_cost_per_unit),
        ("Packing", v.packing_cost_per_unit),
        ("Energy and water", v.energy_cost_per_month / v.units_sold),
        ("Fixed costs", v.fixed_cost_per_month / v.units_sold),
        ("Wear of equipment", v.depreciation_per_month / v.units_sold),
    ]
    return sorted(parts, key=lambda part: -part[1])


def _unit_warnings(v: View) -> list[tuple[str, str]]:
    found = []
    if v.margin_per_unit < 0:
        found.append(
            (
                "price",
                f"At {v['price']} each unit loses {v.money(-v.margin_per_unit)}. "
                + (
                    "Selling more does not help unless the cost of each falls."
                    if v.break_even_units is None
                    else f"From {v.say(v.break_even_units, '1')} units a month on it would lose nothing."
                ),
            )
        )
    if v.wage == 0:
        found.append(
            (
                "wage",
                "Your hours are counted as worth nothing. Someone lives on that time: put in what it is worth to you.",
            )
        )
    return found + oversold(v.given)


def _of_cost(v: View, amount: float) -> str:
    return v.say(amount / v.cost_per_unit if v.cost_per_unit else 0.0, "1", us="%", metric="%", digits=2)


def castings_first(v: View) -> list[str]:
    """What comes first where castings are sold for less than they cost: by how much, and what would have to change."""
    if v.sold not in ("yard", "metre") or v.price >= v.cost_per_unit:
        return []
    else_ = v.cost_per_unit - v.hours_for_one * v.wage
    if v.price <= else_:
        return [
            f"At your hours castings cost more than they bring loose: {v.money(v.cost_per_unit)} against"
            f" {v.money(v.price)}. No saving of hours helps; a better price, in bags, would have to."
        ]
    return [
        f"At your hours castings cost more than they bring loose: {v.money(v.cost_per_unit)} against"
        f" {v.money(v.price)}. A price of {v.money(v.cost_per_unit)}, in bags say, or"
        f" {v.say((v.price - else_) / v.wage, 'hour', digits=2)} of work for a unit would have to come about."
    ]


def castings_first_of(v: View) -> list[str]:
    """The same on another money page, whose figures are those of this one."""
    if v.sold not in ("yard", "metre"):
        return []
    entry = unit_cost.calculator
    given = entry.defaults | {name: value for name, value in v.given.items() if name in entry.inputs}
    return castings_first(View(entry, given, entry.function(**given), v.system, v.currency))


def unit_reading(v: View) -> list[str]:
    """Sentences that follow the table above, line by line."""
    (first, largest), (second, next_largest) = unit_parts(v)[:2]
    work = "" if "Work" in (first, second) else f" Work is {v['labour_share']} of it."
    sentences = [
        *castings_first(v),
        (
            f"One unit costs {v.money(v.cost_per_unit)}: that is the price which breaks even at"
            f" {v.say(v.units_sold, '1')} units a month."
        ),
        (
            f"The largest part is {first.lower()} ({v.money(largest)}, {_of_cost(v, largest)}), then {second.lower()}"
            f" ({v.money(next_largest)}, {_of_cost(v, next_largest)}).{work}"
        ),
    ]
    if v.margin_per_unit >= 0:
        kept = (
            f"At {v.yours('price')} you keep {v.money(v.margin_per_unit)} of each, {v.money(v.profit_per_month)} a"
            " month, after your own hours are paid."
        )
    else:
        kept = f"At {v.yours('price')} you lose {v.money(-v.margin_per_unit)} on each."
    sentences.append(
        kept
        if v.earned_per_hour is None
        else f"{kept} When all else is paid, an hour of your work earns {v.money(v.earned_per_hour)}."
    )
    if v.break_even_units is None:
        sentences.append("The price does not cover what each unit takes, so no number of units breaks even.")
    else:
        sentences.append(
            f"You break even at {v.say(v.break_even_units, '1')} units a month; you sell {v.say(v.units_sold, '1')}."
        )
    widest = next(iter(moves(v.entry, v.given, "margin_per_unit")), None)
    if widest:
        ends = sorted((widest["low"], widest["high"]))
        sentences.append(
            f"Find out first: {lower_first(v.entry.inputs[widest['input']].label)}. From one end of its usual"
            f" range to the other, one unit leaves {v.money(ends[0])} to {v.money(ends[1])}."
        )
    return sentences


# ---- what to buy


STARTER_LIST = (
    {
        "stage": "learn",
        "item": "Worms for the first lane, 10 lb",
        "quantity": 10.0,
        "price": 35.0,
        "doubt": 0.36,
        "month": 1,
    },
    {"stage": "learn", "item": "Compost for the base", "quantity": 1.0, "price": 47.41, "doubt": 0.44, "month": 1},
    {"stage": "learn", "item": "Sheets for the sides", "quantity": 2.0, "price": 48.0, "doubt": 0.36, "month": 1},
    {
        "stage": "learn",
        "item": "Shade, frame and rain sheet",
        "quantity": 1.0,
        "price": 65.03,
        "doubt": 0.5,
        "month": 1,
    },
    {
        "stage": "learn",
        "item": "Hose, fork, thermometer, scale",
        "quantity": 1.0,
        "price": 120.0,
        "doubt": 0.58,
        "month": 1,
    },
    {"stage": "prove", "item": "Hand screen, two decks", "quantity": 1.0, "price": 140.0, "doubt": 0.4, "month": 4},
    {
        "stage": "prove",
        "item": "Longer lane: sheets, compost, shade",
        "quantity": 1.0,
        "price": 420.0,
        "doubt": 0.3,
        "month": 4,
    },
    {"stage": "prove", "item": "Bags, labels, first tests", "quantity": 1.0, "price": 180.0, "doubt": 0.4, "month": 4},
    {"stage": "produce", "item": "Trays", "quantity": 60.0, "price": 9.0, "doubt": 0.25, "month": 5},
    {"stage": "produce", "item": "Racks", "quantity": 6.0, "price": 95.0, "doubt": 0.25, "month": 5},
    {
        "stage": "produce",
        "item": "Insulation, heater, thermostat",
        "quantity": 1.0,
        "price": 650.0,
        "doubt": 0.4,
        "month": 5,
    },
    {"stage": "produce", "item": "Powered screen", "quantity": 1.0, "price": 1400.0, "doubt": 0.5, "month": 5},
)


@dataclass(frozen=True)
class Startup(Answer):
    startup_cost: Annotated[
        Band,
        Output(
            "money",
            "All stages together",
            "With the reserve. Low and high: every price at its end at once.",
            ranged=True,
            main=True,
        ),
    ]
    first_stage_cost: Annotated[
        Band, Output("money", "The first stage", "What you need to start learning.", ranged=True, main=True)
    ]
    largest_item: Annotated[str, Output("1", "Largest item", "Get a second price for this one first.", main=True)]
    items: Annotated[int, Output("1", "Items on the list")]


@calculator(
    "economics.startup",
    "What do I have to buy, stage by stage, and how sure is the sum?",
    leads={"economics.unit_cost": {}, "economics.cash": {"startup_cost": "startup_cost"}},
)
def startup(purchases: Purchases = STARTER_LIST, contingency: Contingency = facts.CONTINGENCY.typical) -> Startup:
    """Sum of a list to buy, by stage, with its spread.

    purchases: rows of stage, item, quantity, price [money], doubt [-] (half width of the price's range; blank: 20 %),
    month (blank: the first).
    The same list feeds economics.cash and economics.return. Source: arithmetic.
    """
    if not purchases:
        raise Refused([("purchases", "The list needs at least one row.")])
    total, lows, highs = (sum_of(purchases, sign) * (1 + contingency) for sign in (0, -1, 1))
    first = [row for row in purchases if row["stage"] == purchases[0]["stage"]]
    first_sums = [sum_of(first, sign) * (1 + contingency) for sign in (0, -1, 1)]
    largest = max(purchases, key=lambda row: row["quantity"] * row["price"])
    return Startup(
        startup_cost=Band(total, lows, highs),
        first_stage_cost=Band(*first_sums),
        largest_item=largest["item"],
        items=len(purchases),
    )


def sum_of(rows: Sequence[dict[str, Any]], sign: int = 0) -> float:
    """Sum of quantity × price, with every price moved by its doubt in one direction [money]."""
    return fsum(
        row["quantity"] * row["price"] * (1 + sign * (GUESSED_DOUBT if row.get("doubt") is None else row["doubt"]))
        for row in rows
    )


def bought_by_month(purchases: Sequence[dict[str, Any]], contingency: float, months: int) -> list[float]:
    """What is paid in each month for the list, reserve included [money].

    >>> bought_by_month([{"quantity": 2, "price": 10, "month": 2}], 0.1, 3)
    [0.0, 22.0, 0.0]
    """
    paid: list[list[float]] = [[] for _ in range(months)]
    for row in purchases:
        paid[(row.get("month") or 1) - 1].append(row["quantity"] * row["price"])
    return [fsum(amounts) * (1 + contingency) for amounts in paid]


@presents(startup)
def show_startup(v: View) -> Show:
    rows = []
    stages: dict[str, list[dict[str, Any]]] = {}
    for row in v.purchases:
        stages.setdefault(row["stage"], []).append(row)
        rows.append(
            (
                row["stage"],
                row["item"],
                row.get("month") or 1,
                row["quantity"],
                row["price"],
                row["quantity"] * row["price"],
            )
        )
    sums = [(stage, sum_of(found), sum_of(found, -1), sum_of(found, 1)) for stage, found in stages.items()]
    amounts = [
        {**{key: row[key] for key in ("item", "quantity", "price")}, "row_cost": row["quantity"] * row["price"]}
        for row in v.purchases
    ]
    in_first = [row["stage"] == v.purchases[0]["stage"] for row in v.purchases]
    of_first = [row for row, first in zip(amounts, in_first) if first]
    units = {"item": "1", "quantity": "1", "price": "money", "row_cost": "money"}
    lists = {
        "list": RowsPart("the list", units, amounts),
        "first": RowsPart("the rows of the first stage", units, of_first),
        "quantity": ("quantity", "quantity"),
        "price": ("price", "price"),
    }
    return Show(
        working=[
            Step(
                "Sum",
                "{startup_cost} = sum over {list} of {quantity} × {price} × (1 + {contingency})",
                "arithmetic; prices invented, as an example",
                values=lists,
            ),
            Step(
                "First stage",
                "{first_stage_cost} = sum over {first} of {quantity} × {price} × (1 + {contingency})",
                "arithmetic",
                "Low and high: each price moved by its doubt, all one way.",
                lists,
            ),
            Step(
                "The list",
                "{items} = number of {list}; {largest_item} = the first {item} of {list} where {quantity} × {price} ="
                " the largest {row_cost} of {list}",
                "count",
                values=lists,
            ),
        ],
        tables=[
            Table(
                "stages",
                "By stage, before the reserve",
                [
                    Column("stage", "Stage"),
                    Column("cost", "Cost", "money"),
                    Column("low", "Low", "money"),
                    Column("high", "High", "money"),
                ],
                sums,
                open=True,
            ),
            Table(
                "list",
                "The list",
                [
                    Column("stage", "Stage"),
                    Column("item", "Item"),
                    Column("month", "Paid in month", "1"),
                    Column("quantity", "Quantity", "1"),
                    Column("price", "Price", "money"),
                    Column("cost", "Cost", "money"),
                ],
                rows,
            ),
        ],
        figures=[
            Figure(
                "by_stage",
                "Cost by stage",
                finding="Each stage is paid for before the next begins: stop after any of them.",
                x=Axis("Cost", "money", low=0),
                y=Axis("", kind="band"),
                marks=[Mark("spans", [(stage, low, high) for stage, _, low, high in sums])],
            )
        ],
        reading=[
            (
                f"With {v.yours('contingency')} for what is forgotten, all of it comes to"
                f" {v.money(v.startup_cost)}, the first stage to {v.money(v.first_stage_cost)}."
            ),
            f"{v.largest_item} is the largest item. A second price for it tells you more than any other call.",
            "Buy the second stage with what the first has taught you, not with what you hope.",
        ],
        cautions=[LOCAL],
    )
