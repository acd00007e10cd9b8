"""Figures as readers paste them, and money that is not the handbook's."""

import re

import pytest

import calc
from calc.engine.kinds import Number
from calc.engine.quantity import UnknownUnit, read_quantity
from calc.engine.register import every
from calc.engine.told import Told
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
    blank = plan.write_plan({"price: Your price by volume": ""}, "us", "$")
    assert plan.read_plan(blank, "€") == plan.read_plan(blank, "$"), "a blank is blank in any money"
    assert plan.read_plan(blank, "€")["values"] == {"price: Your price by volume": ""}


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


# ---- what is asked back, and the bounds that are told


def told(id, **inputs):
    """The message of the one wrong field."""
    (error,) = calc.run(id, inputs, units="us")["errors"]
    return error["message"]


@pytest.mark.parametrize(
    ("written", "stands", "meant"), [("0.55", "0.55", "55"), ("1/3", "0.333", "33.3"), ("0,5 %", "0.5", "50")]
)
def test_a_small_share_in_a_field_of_per_cent_is_asked_back(written, stands, meant):
    warnings = calc.run("moisture.adjust", {"moisture": written}, units="us")["warnings"]
    assert f"Moisture now stands at {stands} %. Do you mean {meant} %? Then type it so." in warnings


@pytest.mark.parametrize(
    ("id", "inputs"),
    [
        ("moisture.adjust", {"moisture": "55"}),
        ("moisture.test", {"constant_mass_limit": "0.2"}),
    ],
)
def test_where_small_shares_are_usual_nothing_is_asked(id, inputs):
    assert not any("Do you mean" in warning for warning in calc.run(id, inputs, units="us")["warnings"])


def test_no_default_is_asked_back():
    for id in every():
        for units in ("us", "metric"):
            assert not any("Do you mean" in warning for warning in calc.run(id, {}, units=units)["warnings"]), id


@pytest.mark.parametrize(
    ("written", "middle"),
    [
        ("5 to 6 lb", "5.5 lb"),
        ("5–6", "5.5"),
        ("5 or 6 lb", "5.5 lb"),
        ("40-50 kg", "45 kg"),
        ("1,000 to 2,000 lb", "1,500 lb"),
    ],
)
def test_of_a_range_the_middle_is_offered(written, middle):
    assert told("moisture.adjust", mass=written) == (
        f"Weight of the bedding: type one figure, such as {middle}. How far it may be off is asked below the answer."
    )


@pytest.mark.parametrize("written", ["about 5 lb", "~5 lb", "Ca. 5 lb", " roughly 5 lb "])
def test_of_a_figure_that_is_about_right_the_figure_is_asked_for(written):
    assert told("moisture.adjust", mass=written) == (
        "Weight of the bedding: type the figure alone, 5 lb. How far it may be off is asked below the answer."
    )
    assert "“blob” is not a unit" in told("moisture.adjust", mass=written.replace("lb", "blob"))


@pytest.mark.parametrize("written", ["6 to 5 lb", "5 to lb", "to 6 lb"])
def test_what_is_no_range_is_told_as_before(written):
    assert "type one figure" not in told("moisture.adjust", mass=written)


def test_bounds_are_told_in_round_figures_of_the_readers_unit():
    assert told("lane.starter", lane_length="0.2 ft") == "Lane length must be between 1 ft and 490 ft."
    assert told("lane.starter", base_depth="0.5 in") == "Depth of the base must be between 0.8 in and 39 in."
    assert told("lane.starter", lane_length="2 cm") == "Lane length must be between 30 cm and 15,000 cm."


def test_every_bound_that_is_told_is_taken():
    """In both systems: a bound rounded outwards would be refused when it is typed."""
    for entry in every().values():
        for name, described in entry.inputs.items():
            if not isinstance(described, Number) or described.unit.startswith("money"):
                continue
            for system in ("us", "metric"):
                with pytest.raises(Told) as refused:
                    described.read("-1e30", system, "$")
                edges = re.search(r" must be between ([−\d].*) and (.+)\.$", str(refused.value))
                for edge in edges.groups() if edges else ():
                    assert described.low <= described.read(edge, system, "$") <= described.high, (entry.id, name, edge)
