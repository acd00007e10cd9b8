"""Limited castings among several products: the best split is the one that earns most for each unit of castings used."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import fsum
from typing import Annotated, Any

from calc.economics.terms import LOCAL
from calc.engine import (
    GALLON,
    YARD3,
    Answer,
    Axis,
    Column,
    Figure,
    Mark,
    Number,
    Output,
    Refused,
    Rows,
    RowsPart,
    Show,
    Step,
    Table,
    Text,
    View,
    calculator,
    presents,
)
from calc.engine.view import lower_first

NO_LIMIT = 1e6
PRODUCTS = (
    {"product": "Yard of loose castings", "castings": YARD3, "price": 240.0, "cost": 20.0, "demand": 1.0},
    {"product": "Bag of 5 gal (19 L)", "castings": 5 * GALLON, "price": 16.0, "cost": 2.6, "demand": 30.0},
    {"product": "Potting blend in the same bag", "castings": 1 * GALLON, "price": 11.0, "cost": 5.2, "demand": 40.0},
    {"product": "Handful tin", "castings": GALLON / 8, "price": 4.0, "cost": 2.4, "demand": 25.0},
)


@dataclass(frozen=True)
class Mix(Answer):
    margin_per_week: Annotated[
        float, Output("money/week", "Left in a week", "Price less cost, at the best split.", main=True)
    ]
    castings_used: Annotated[float, Output("m3/week", "Castings used", "", main=True)]
    castings_left: Annotated[float, Output("m3/week", "Castings left over", "More than the demand takes.")]
    worth_of_more: Annotated[
        float,
        Output(
            "money/m3",
            "Worth of one more volume of castings",
            "What the next one would earn. Nothing when all demand is met.",
            main=True,
        ),
    ]
    best_product: Annotated[str, Output("1", "Earns most for its castings")]


def best_split(products: Sequence[dict[str, Any]], available: float) -> tuple[list[float], float]:
    """Units of each product that earn most from so much castings; the exact answer of the linear programme.

    With one scarce thing and a limit on each product, filling the products in the order of margin per unit of it is
    optimal (Dantzig 1957, fractional knapsack). products: rows with castings [m³], price, cost, demand; available [m³].
    Losing products get none.
    """
    amounts, left = [0.0] * len(products), available
    order = sorted(range(len(products)), key=lambda place: -margin_for_castings(products[place]))
    for place in order:
        row = products[place]
        if row["price"] <= row["cost"]:
            continue
        amounts[place] = row["demand"] if not row["castings"] else min(row["demand"], left / row["castings"])
        left = max(0.0, left - amounts[place] * row["castings"])
    return amounts, left


def whole(products: Sequence[Mapping[str, Any]]) -> list[dict[str, Any]]:
    """The rows with their blanks filled: no other cost, and no limit to what can be sold."""
    return [
        {**row, "cost": row.get("cost") or 0.0, "demand": NO_LIMIT if row.get("demand") is None else row["demand"]}
        for row in products
    ]


def margin_for_castings(row: Mapping[str, Any]) -> float:
    """Margin for each volume of castings used [money/m³]."""
    margin: float = row["price"] - row["cost"]
    return margin / row["castings"] if row["castings"] else float("inf") if margin > 0 else 0.0


@calculator(
    "economics.mix",
    "In what form do my castings earn most?",
    leads={"records": {}, "lane.output": {"castings_per_week": "castings_used"}, "economics.unit_cost": {}},
)
def mix(
    castings_available: Annotated[
        float,
        Number("m3/week", "Castings to share out", 0, 1000, us="yd3/week", metric="m3/week", help="Screened, a week."),
    ] = 0.25 * YARD3,
    products: Annotated[
        Sequence[dict[str, Any]],
        Rows(
            "Products",
            {
                "product": Text("Product"),
                "castings": Number("m3", "Castings in one", 0, 100, us="gal", metric="L"),
                "price": Number("money", "Price", 0, 1e6),
                "cost": Number("money", "Other cost of one", 0, 1e6, optional=True),
                "demand": Number("1/week", "Most you can sell a week", 0, 1e6, optional=True),
            },
            help=(
                "Other cost: bag, label, other ingredients, your time; blank is none. Most: blank is no limit. Invented"
                " for the demo farm."
            ),
        ),
    ] = PRODUCTS,
) -> Mix:
    """Best split of limited castings among products within their demand.

    castings_available [m³/week]; products: rows of castings [m³], price, cost [money], demand [1/week].
    Source: arithmetic: where one thing is short, what earns most for each part of it goes first.
    """
    products = whole(products)
    if not any(row["price"] > row["cost"] for row in products):
        raise Refused([("products", "No product has a price above its cost, so nothing is worth making.")])
    amounts, left = best_split(products, castings_available)
    earned = fsum(amount * (row["price"] - row["cost"]) for amount, row in zip(amounts, products))
    short = [
        margin_for_castings(row)
        for amount, row in zip(amounts, products)
        if row["castings"] and row["price"] > row["cost"] and amount < row["demand"]
    ]
    best = max(products, key=margin_for_castings)
    return Mix(
        margin_per_week=earned,
        castings_used=castings_available - left,
        castings_left=left,
        worth_of_more=max(short, default=0.0),
        best_product=best["product"],
    )


def _one_more(v: View, split: dict[str, Any]) -> list[Step]:
    """What the next castings would earn: that of the best product which still has demand."""
    short = [row for row in split["split"].rows if row["castings"] and row["price"] > row["cost"]]
    still = any(row["amount"] < row["demand"] for row in short)
    equation = (
        "{worth_of_more} = the largest {for_castings} of {split} where {castings} > 0 and {price} > {cost} and {amount}"
        " < {demand}"
        if still
        else "{worth_of_more} = 0"
    )
    best = (
        "; {best_product} = the first {product} of {split} where {for_castings} = the largest {for_castings} of {split}"
        if all(row["castings"] for row in split["split"].rows)
        else ""
    )
    return [Step("One more", equation + best, "shadow price of the linear programme", values=split)]


@presents(mix)
def show_mix(v: View) -> Show:
    products = whole(v.products)
    amounts, _ = best_split(products, v.castings_available)
    rows = [
        (
            row["product"],
            amount,
            None if row["demand"] == NO_LIMIT else row["demand"],
            amount * row["castings"],
            amount * (row["price"] - row["cost"]) if amount else 0.0,
            margin_for_castings(row) if row["castings"] else None,
        )
        for row, amount in zip(products, amounts)
    ]
    rows.sort(key=lambda row: -float("inf") if row[5] is None else -row[5])
    made = ", ".join(f"{v.say(row[1], '1')} × {lower_first(row[0])}" for row in rows if row[1] > 0)
    columns = [
        Column("product", "Product"),
        Column("amount", "Make a week", "1/week"),
        Column("demand", "Can be sold", "1/week"),
        Column("castings", "Castings", "m3/week", us="gal/week", metric="L/week"),
        Column("margin", "Left", "money/week"),
        Column("for_castings", "Left for each volume of castings", "money/m3", us="money/gal", metric="money/L"),
    ]
    made_rows = [
        {
            "product": row["product"],
            "amount": amount,
            "price": row["price"],
            "cost": row["cost"],
            "castings": row["castings"],
            "demand": row["demand"],
            "for_castings": margin_for_castings(row) if row["castings"] else None,
        }
        for row, amount in zip(products, amounts)
    ]
    split = {
        "split": RowsPart(
            "the products",
            {
                "product": "1",
                "amount": "1/week",
                "price": "money",
                "cost": "money",
                "castings": "m3",
                "demand": "1/week",
                "for_castings": "money/m3",
            },
            made_rows,
        ),
        "for_castings": ("margin for castings", "margin for castings"),
        "amount": ("amount", "amount"),
        "price": ("price", "price"),
        "cost": ("other cost", "other cost"),
        "castings": ("castings in one", "castings in one"),
    }
    return Show(
        working=[
            Step(
                "Margin for castings",
                "{for_castings} = ({price} − {cost}) ÷ {castings}, each of {split} where {castings} > 0",
                "Dantzig 1957: exact for one scarce thing",
                "Filled in that order, within demand.",
                values=split,
            ),
            Step(
                "Left",
                "{margin_per_week} = sum over {split} of {amount} × ({price} − {cost}); {castings_used} = sum over"
                " {split} of {amount} × {castings}; {castings_left} = {castings_available} − {castings_used}",
                "arithmetic",
                values=split,
            ),
            *_one_more(v, split),
        ],
        tables=[Table("split", "The best split", columns, rows, open=True)],
        figures=[
            Figure(
                "margins",
                "What each product earns for the castings in it",
                finding=f"{v.best_product} earns most for its castings.",
                x=Axis("Money for each volume of castings", "money/m3", us="money/gal", metric="money/L", low=0),
                y=Axis("", kind="band"),
                marks=[Mark("bars", [(row[5], row[0]) for row in rows if row[5] is not None])],
            )
        ],
        reading=[
            (
                f"Of {v.yours('castings_available')} make {made} a week. That leaves {v['margin_per_week']}."
                if made
                else "There is nothing to make: no castings to share out, or nobody to buy."
            ),
            f"{v.best_product} earns most for the castings in it, so it comes first, as far as people buy it.",
            (
                f"More castings would earn {v['worth_of_more']}."
                if v.worth_of_more > 0
                else "More castings would earn nothing: sell more of what you have first."
            ),
        ],
        cautions=[LOCAL],
    )
