"""What one unit costs, and the list of what to buy."""

from dataclasses import dataclass
from typing import Annotated

from calc.engine import Answer, Axis, Band, Choice, Column, Figure, Mark, Number, Output, Refused, Rows, Share, Show, Step, Table, Text, calculator, presents
from calc.facts import economics as facts
from calc.inputs import Wage

MONTHS_A_YEAR = 12
LOCAL = "Taxes, insurance, permits and the rules for selling soil products or live animals differ by place: ask locally. This is not financial advice."


def straight_line(equipment_cost, salvage, equipment_life_years):
    """Depreciation a year, straight line [money/year].

    Source: any accounting text; OpenStax, Principles of Accounting, depreciation: 58,000 less 10,000 over 5 years is 9,600.
    >>> straight_line(58000, 10000, 5)
    9600.0
    """
    return (equipment_cost - salvage) / equipment_life_years


def break_even_units(fixed_cost, price, variable_cost):
    """Units that must be sold to cover fixed costs; None when each unit sold loses money.

    >>> break_even_units(3000, 35, 20)
    200.0
    """
    return fixed_cost / (price - variable_cost) if price > variable_cost else None


@dataclass(frozen=True)
class UnitCost(Answer):
    cost_per_unit: Annotated[float, Output("money", "Cost of one unit", "All of it: your hours, feed, packing, and its share of what costs money every month.", ranged=True, main=True)]
    margin_per_unit: Annotated[float, Output("money", "Left from one unit", "Price less cost. Below zero: each one sold costs you money.", ranged=True, main=True)]
    labour_share: Annotated[float, Output("1", "Share of the cost that is work", "", us="%", metric="%", digits=2, main=True)]
    break_even_units: Annotated[float | None, Output("1/month", "Units a month to break even", "At this price. None when the price does not even cover what each unit takes.", main=True)]
    break_even_price: Annotated[float, Output("money", "Price that breaks even", "At this number of units a month.")]
    profit_per_month: Annotated[float, Output("money/month", "Left in a month", "After your own hours are paid.", ranged=True)]
    variable_cost_per_unit: Annotated[float, Output("money", "Cost that each unit brings", "Work, feed and packing.")]
    fixed_cost_total_per_month: Annotated[float, Output("money/month", "Cost that comes anyway", "Energy, fixed costs and wear of equipment.")]
    depreciation_per_month: Annotated[float, Output("money/month", "Wear of equipment", "Straight line.")]
    earned_per_hour: Annotated[float | None, Output("money/hour", "What an hour of work earns", "When everything else is paid.")]


@calculator("economics.unit_cost", "What does a pound of worms or a yard of castings really cost me?")
def unit_cost(
    price: Annotated[float, Number("money", "Price of one unit", 0, 1e6, fact=facts.PRICE, help="A unit is what you sell: a pound of worms, a yard of castings, a bag. Prices here are invented.")] = facts.PRICE.typical,
    units_per_month: Annotated[float, Number("1/month", "Units sold a month", 0.01, 1e6, fact=facts.UNITS_PER_MONTH, help="A usual month, over the year.")] = facts.UNITS_PER_MONTH.typical,
    labour_hours_per_unit: Annotated[float, Number("hour", "Hours of work for a unit", 0, 1000, fact=facts.LABOUR_HOURS_PER_UNIT, help="Feeding, watering, sorting, screening, packing, talking to customers.")] = facts.LABOUR_HOURS_PER_UNIT.typical,
    wage: Wage = facts.WAGE.typical,
    feed_cost_per_unit: Annotated[float, Number("money", "Feed for a unit", 0, 1e5, fact=facts.FEED_COST)] = facts.FEED_COST.typical,
    packing_cost_per_unit: Annotated[float, Number("money", "Packing for a unit", 0, 1e5, fact=facts.PACKING_COST, help="Bag or box, label, peat or paper, carriage you pay.")] = facts.PACKING_COST.typical,
    energy_cost_per_month: Annotated[float, Number("money/month", "Energy and water", 0, 1e6, fact=facts.ENERGY_COST, help="breeding.room works out the heating.")] = facts.ENERGY_COST.typical,
    fixed_cost_per_month: Annotated[float, Number("money/month", "Fixed costs", 0, 1e6, fact=facts.FIXED_COST, help="Rent, insurance, telephone, stall, website.")] = facts.FIXED_COST.typical,
    equipment_cost: Annotated[float, Number("money", "Equipment, bought new", 0, 1e7, fact=facts.EQUIPMENT_COST, group="Equipment")] = facts.EQUIPMENT_COST.typical,
    salvage: Annotated[float, Number("money", "Worth at the end", 0, 1e7, help="What it can be sold for when you are done.", group="Equipment")] = 200.0,
    equipment_life_years: Annotated[float, Number("year", "Years it lasts", 0.25, 50, fact=facts.EQUIPMENT_LIFE, group="Equipment")] = facts.EQUIPMENT_LIFE.typical,
) -> UnitCost:
    """Full cost of one unit, margin, and break-even.

    Money per unit and per month as the names say; labour_hours_per_unit [h]; wage [money/h]; straight-line depreciation.
    Raises Refused when equipment would be worth more at the end than it cost.
    Source: OpenStax, Principles of Managerial Accounting, cost–volume–profit.
    """
    if salvage > equipment_cost:
        raise Refused([("salvage", "Worth at the end cannot be more than the equipment cost new.")])
    labour = labour_hours_per_unit * wage
    variable = labour + feed_cost_per_unit + packing_cost_per_unit
    wear = straight_line(equipment_cost, salvage, equipment_life_years) / MONTHS_A_YEAR
    fixed = energy_cost_per_month + fixed_cost_per_month + wear
    cost = variable + fixed / units_per_month
    hours = labour_hours_per_unit * units_per_month
    return UnitCost(
        cost_per_unit=cost, margin_per_unit=price - cost, labour_share=labour / cost if cost else 0.0, break_even_units=break_even_units(fixed, price, variable),
        break_even_price=cost, profit_per_month=(price - cost) * units_per_month, variable_cost_per_unit=variable, fixed_cost_total_per_month=fixed,
        depreciation_per_month=wear, earned_per_hour=((price - variable + labour) * units_per_month - fixed) / hours if hours else None,
    )  # fmt: skip


@presents(unit_cost)
def show_unit_cost(v):
    parts = unit_parts(v)
    return Show(
        working=[
            Step("Work", "work for a unit = {labour_hours_per_unit} × {wage}", "arithmetic"),
            Step("Cost each unit brings", "{variable_cost_per_unit} = work + {feed_cost_per_unit} + {packing_cost_per_unit}", "OpenStax, Managerial Accounting: variable cost"),
            Step("Wear", "{depreciation_per_month} = ({equipment_cost} − {salvage}) ÷ {equipment_life_years} ÷ 12 months", "straight line"),
            Step("Cost that comes anyway", "{fixed_cost_total_per_month} = {energy_cost_per_month} + {fixed_cost_per_month} + {depreciation_per_month}", "OpenStax: fixed cost"),
            Step("Cost of one unit", "{cost_per_unit} = {variable_cost_per_unit} + {fixed_cost_total_per_month} ÷ {units_per_month}", "OpenStax"),
            Step("Break-even", "{break_even_units} = {fixed_cost_total_per_month} ÷ ({price} − {variable_cost_per_unit})", "OpenStax: break-even point"),
        ],
        tables=[Table("parts", "Where the money of one unit goes", [Column("part", "Part"), Column("amount", "For a unit", "money"), Column("share", "Share", "1", us="%", metric="%", digits=2)], [(name, amount, amount / v.cost_per_unit if v.cost_per_unit else 0) for name, amount in parts], open=True)],
        figures=[
            Figure(
                "volume", "Cost of one unit as sales grow",
                finding=_volume_finding(v),
                x=Axis("Units a month", "1"), y=Axis("Money for one unit", "money", low=0),
                marks=[Mark("line", [(units, v.variable_cost_per_unit + v.fixed_cost_total_per_month / units) for units in _steps(v.units_per_month)], label="cost"), Mark("rule_y", [(v.price, "price")], tone="second"), Mark("dots", [(v.units_per_month, v.cost_per_unit, "now")])],
            )
        ],
        warnings=_unit_warnings(v),
        reading=unit_reading(v),
        cautions=[LOCAL],
    )  # fmt: skip


def _steps(units):
    return [units * (0.2 + 0.1 * step) for step in range(29)]


def _volume_finding(v):
    if v.break_even_units is None:
        return "However many are sold, the price does not cover what each unit takes."
    return f"From {v.say(v.break_even_units, '1')} units a month on, the price covers the cost."


def unit_parts(v):
    """[(part, money for a unit)], largest first."""
    parts = [
        ("Work", v.labour_hours_per_unit * v.wage), ("Feed", v.feed_cost_per_unit), ("Packing", v.packing_cost_per_unit), ("Energy and water", v.energy_cost_per_month / v.units_per_month),
        ("Fixed costs", v.fixed_cost_per_month / v.units_per_month), ("Wear of equipment", v.depreciation_per_month / v.units_per_month),
    ]  # fmt: skip
    return sorted(parts, key=lambda part: -part[1])


def _unit_warnings(v):
    found = []
    if v.margin_per_unit < 0:
        found.append(("price", f"At {v['price']} each unit loses {v.money(-v.margin_per_unit)}. Selling more does not help unless the cost of each falls."))
    if v.wage == 0:
        found.append(("wage", "Your hours are counted as worth nothing. Someone lives on that time: put in what it is worth to you."))
    return found


def unit_reading(v):
    """Sentences that follow the table above, line by line."""
    (first, largest), (second, next_largest) = unit_parts(v)[:2]
    sentences = [f"One unit costs {v.money(v.cost_per_unit)}. {first} is the largest part ({v.money(largest)}), then {second.lower()} ({v.money(next_largest)})."]
    if v.margin_per_unit >= 0:
        sentences.append(f"At {v.money(v.price)} you keep {v.money(v.margin_per_unit)} of each, {v.money(v.profit_per_month)} a month, after your own hours are paid.")
    else:
        sentences.append(f"At {v.money(v.price)} you lose {v.money(-v.margin_per_unit)} on each. The price that breaks even is {v.money(v.break_even_price)}.")
    if v.earned_per_hour is not None:
        sentences.append(f"Seen the other way: when all else is paid, an hour of your work earns {v.money(v.earned_per_hour)}.")
    if v.break_even_units is None:
        sentences.append("The price does not cover what each unit takes, so no number of units breaks even.")
    else:
        sentences.append(f"You break even at {v.say(v.break_even_units, '1')} units a month; you sell {v.say(v.units_per_month, '1')}.")
    return sentences


# ---- what to buy


STARTER_LIST = (
    {"stage": "learn", "item": "Worms for the first lane, 10 lb", "quantity": 10.0, "price": 35.0, "doubt": 0.25},
    {"stage": "learn", "item": "Compost for the base, yard", "quantity": 1.2, "price": 40.0, "doubt": 0.3},
    {"stage": "learn", "item": "Sheets for the sides", "quantity": 2.0, "price": 48.0, "doubt": 0.2},
    {"stage": "learn", "item": "Shade, hose, fork, thermometer, scale", "quantity": 1.0, "price": 165.0, "doubt": 0.3},
    {"stage": "prove", "item": "Hand screen, two decks", "quantity": 1.0, "price": 140.0, "doubt": 0.4},
    {"stage": "prove", "item": "Longer lane: sheets, compost, shade", "quantity": 1.0, "price": 420.0, "doubt": 0.3},
    {"stage": "prove", "item": "Bags, labels, first tests", "quantity": 1.0, "price": 180.0, "doubt": 0.4},
    {"stage": "produce", "item": "Trays", "quantity": 60.0, "price": 9.0, "doubt": 0.25},
    {"stage": "produce", "item": "Racks", "quantity": 6.0, "price": 95.0, "doubt": 0.25},
    {"stage": "produce", "item": "Insulation, heater, thermostat", "quantity": 1.0, "price": 650.0, "doubt": 0.4},
    {"stage": "produce", "item": "Powered screen", "quantity": 1.0, "price": 1400.0, "doubt": 0.5},
)  # fmt: skip


@dataclass(frozen=True)
class Startup(Answer):
    startup_cost: Annotated[Band, Output("money", "All stages together", "With the reserve. Low and high: every price at its end at once.", ranged=True, main=True)]
    first_stage_cost: Annotated[Band, Output("money", "The first stage", "What you need to start learning.", ranged=True, main=True)]
    largest_item: Annotated[str, Output("1", "Largest item", "Get a second price for this one first.", main=True)]
    items: Annotated[int, Output("1", "Items on the list")]


@calculator("economics.startup", "What do I have to buy, stage by stage, and how sure is the sum?")
def startup(
    items: Annotated[list, Rows("What to buy", {
        "stage": Choice("Stage", {"learn": "learn", "prove": "prove", "produce": "produce"}), "item": Text("Item"), "quantity": Number("1", "Quantity", 0, 1e6),
        "price": Number("money", "Price of each", 0, 1e7), "doubt": Share("Doubt either way", 0, 1, optional=True)}, help="Change, add or remove rows. Prices are invented for the demo farm.")] = STARTER_LIST,
    contingency: Annotated[float, Share("Reserve on top", 0, 1, help="For what was forgotten.", spread=(0.05, 0.25))] = 0.10,
) -> Startup:
    """Sum of a list to buy, by stage, with its spread.

    items: rows of stage, item, quantity, price [money], doubt [-] (half width of the price's range; blank: 20 %).
    """
    total, lows, highs = (sum_of(items, sign) * (1 + contingency) for sign in (0, -1, 1))
    first = [row for row in items if row["stage"] == items[0]["stage"]]
    first_sums = [sum_of(first, sign) * (1 + contingency) for sign in (0, -1, 1)]
    largest = max(items, key=lambda row: row["quantity"] * row["price"])
    return Startup(startup_cost=Band(total, lows, highs), first_stage_cost=Band(*first_sums), largest_item=largest["item"], items=len(items))


def sum_of(items, sign=0):
    """Sum of quantity × price, with every price moved by its doubt in one direction [money]."""
    return sum(row["quantity"] * row["price"] * (1 + sign * (0.2 if row.get("doubt") is None else row["doubt"])) for row in items)


@presents(startup)
def show_startup(v):
    rows, stages = [], {}
    for row in v.given["items"]:
        stages.setdefault(row["stage"], []).append(row)
        rows.append((row["stage"], row["item"], row["quantity"], row["price"], row["quantity"] * row["price"]))
    sums = [(stage, sum_of(found), sum_of(found, -1), sum_of(found, 1)) for stage, found in stages.items()]
    return Show(
        working=[Step("Sum", "{startup_cost} = (sum of quantity × price) × (1 + {contingency})", "arithmetic; prices invented for the demo farm")],
        tables=[
            Table("stages", "By stage, before the reserve", [Column("stage", "Stage"), Column("cost", "Cost", "money"), Column("low", "Low", "money"), Column("high", "High", "money")], sums, open=True),
            Table("list", "The list", [Column("stage", "Stage"), Column("item", "Item"), Column("quantity", "Quantity", "1"), Column("price", "Price", "money"), Column("cost", "Cost", "money")], rows),
        ],
        figures=[Figure("by_stage", "Cost by stage", finding="Each stage is paid for before the next begins: stop after any of them.", x=Axis("Cost", "money", low=0), y=Axis("", kind="band"), marks=[Mark("spans", [(stage, low, high, v.money(cost)) for stage, cost, low, high in sums])])],
        reading=[
            f"All of it comes to {v.money(v.startup_cost)}, the first stage to {v.money(v.first_stage_cost)}.",
            f"{v.largest_item} is the largest item. A second price for it tells you more than any other call.",
            "Buy the second stage with what the first has taught you, not with what you hope.",
        ],
        cautions=[LOCAL],
    )  # fmt: skip
