"""Figures as readers paste them, and money that is not the handbook's."""

import pytest

import calc
from calc.engine.quantity import UnknownUnit, read_quantity
from calc.page import plan
from calc.page.block import respond

KG = 0.45359237


@pytest.mark.parametrize(
    ("written", "pounds"),
    [
        ("40 lb.", 40),
        ("1 ½", 1.5),
        ("40 ½ lb", 40.5),
        ("40½ lb.", 40.5),
        ("40\u200b lb", 40),
        ("\u200e40 lb\u200f", 40),
        ("\ufeff40", 40),
        ("4\u00ad0 lb", 40),
        ("40\u00a0lb", 40),
        ("2 lb. 8 oz.", 2.5),
    ],
)
def test_a_weight_as_it_is_pasted(written, pounds):
    assert read_quantity(written, "kg", "lb") == pytest.approx(pounds * KG)


@pytest.mark.parametrize("written", ["$35", "35 $", "$12/lb", "£35", "35 £/kg"])
def test_other_money_is_not_exchanged(written):
    for unit in ("money", "money/kg"):
        with pytest.raises(UnknownUnit):
            read_quantity(written, unit, unit, "€")


def test_a_file_keeps_its_money():
    """$35 in a file never opens as €35: it is told with its line, and everything else is taken."""
    known = plan.inputs_by_key().items()
    prices = [key for key, [(_, _, item), *_] in known if getattr(item, "unit", "") == "money"]
    text = plan.write_plan({prices[0]: "35", "lane_length: Lane length": "12 ft"}, "us", "$")
    assert "currency: $" in text
    assert plan.read_plan(text, "$")["values"] == {prices[0]: "35", "lane_length: Lane length": "12 ft"}
    found = plan.read_plan(text, "€")
    assert found["values"] == {"lane_length: Lane length": "12 ft"}
    assert len(found["told"]) == 1
    assert "is in $ in this file, and this handbook reckons in €" in found["told"][0]


def test_a_kept_plan_keeps_its_money():
    """In a browser that kept prices before the handbook went over to other money they stand with their sign."""
    import json

    entry, name = next(
        (entry, name)
        for entry in map(calc.find, calc.calculators())
        for name, item in entry.inputs.items()
        if plan.is_price(item) and getattr(item, "unit", "") == "money"
    )
    asked = {"calculator": entry.id, "values": {name: "35"}, "units": "us", "currency": "€", "plan_currency": "$"}
    answer = json.loads(respond("form", json.dumps(asked)))
    assert answer["foreign"] == {name: "$35"}
    assert answer["typed"] == {name: "$35"}
    told = json.loads(respond("answer", json.dumps(asked | {"values": {name: "$35"}})))
    assert [error["input"] for error in told["errors"]] == [name]
    assert json.loads(respond("form", json.dumps(asked | {"plan_currency": "€"})))["foreign"] == {}


def test_a_value_set_to_the_default_is_the_readers_too():
    """Where a page is made with another value, what the reader set back to the default has its text in the plan."""
    import json

    asked = {"calculator": "moisture.adjust", "values": {}, "units": "us", "currency": "$", "set": ["mass"]}
    assert json.loads(respond("answer", json.dumps(asked)))["plan"] == {"mass": "40 lb"}
