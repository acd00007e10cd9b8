"""Units at the edge: exact factors, text as readers write it, and round trips."""

import doctest
import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import calc
from calc.engine import quantity
from calc.engine.describe import Number
from calc.engine.quantity import (
    UnknownUnit,
    convert,
    field_text,
    number_text,
    read_number,
    read_quantity,
    shown_unit,
    symbol,
    unit,
)

PAIRS = [
    ("kg", "lb"),
    ("m", "ft"),
    ("m3", "yd3"),
    ("m2", "ft2"),
    ("kg/m3", "lb/yd3"),
    ("degC", "F"),
    ("K", "F"),
    ("kg/day", "lb/week"),
    ("m3/day", "gal/day"),
    ("money/kg", "money/lb"),
    ("W", "BTU/hour"),
    ("m2 K/W", "ft2 hour F/BTU"),
    ("m/s", "mph"),
    ("1/kg", "1/lb"),
    ("day", "week"),
    ("deg", "rad"),
]


def test_doctests():
    assert doctest.testmod(quantity).failed == 0


@pytest.mark.parametrize(
    ("text", "si", "bare", "expected"),
    [
        ("40 lb", "kg", "lb", 40 * 0.45359237),
        ("55%", "1", "1", 0.55),
        ("55", "1", "%", 0.55),
        ("20 lb/week", "kg/week", "kg/week", 9.0718474),
        ("20 lb", "kg/week", "kg/week", 9.0718474),
        ("8 ft 6 in", "m", "ft", 2.5908),
        ("8' 6\"", "m", "ft", 2.5908),
        ("1 1/2 in", "m", "in", 0.0381),
        ("¾ lb", "kg", "lb", 0.3401942775),
        ("$35/lb", "money/kg", "money/lb", 77.16179176),
        ("35 per lb", "money/kg", "money/lb", 77.16179176),
        ("1,000 worms/lb", "1/kg", "1/lb", 2204.622622),
        ("R-13", "m2 K/W", "m2 K/W", 13 * 0.1761101838),
        ("13 R", "m2 K/W", "m2 K/W", 13 * 0.1761101838),
        ("68 °F", "degC", "degF", 20.0),
        ("9 F", "K", "F", 5.0),
        ("-5 C", "degC", "degC", -5.0),
        ("−5 C", "degC", "degC", -5.0),
        ("2,5 cm", "m", "cm", 0.025),
        ("1 500 kg", "kg", "kg", 1500.0),
        ("3 weeks", "day", "day", 21.0),
        ("0.12 $/kWh", "money/kWh", "money/kWh", 0.12),
        ("5 cu ft", "m3", "m3", 5 * 0.028316846592),
        ("100 sq ft", "m2", "m2", 9.290304),
        ("10 km/h", "m/s", "m/s", 10 / 3.6),
        ("25 1/month", "1/month", "1/month", 25.0),
        ("2425 1/kg", "1/kg", "1/kg", 2425.0),
        ("1 500,5 kg", "kg", "kg", 1500.5),
        ("40 Lb", "kg", "kg", 40 * 0.45359237),
        ("5 KG", "kg", "kg", 5.0),
        ("5 Gal", "m3", "m3", 5 * 0.003785411784),
        ("0,125 kg", "kg", "kg", 0.125),
        ("0,004", "m", "m", 0.004),
        ("1,250 kg", "kg", "kg", 1250.0),
    ],
)
def test_what_readers_write(text, si, bare, expected):
    assert read_quantity(text, si, bare) == pytest.approx(expected, rel=1e-9)


@pytest.mark.parametrize(
    "text",
    [
        "",
        "lb",
        "abc",
        "8 ft 6",
        "--5",
        "1e999",
        "1,2,3,4 kg",
        "nan",
        "inf",
        "٣ kg kg kg",
        "12 34 kg",
        "2 1",
        "1 5000 kg",
        "8 6 ft",
        "1.250.000 kg",
        "1.250,50 kg",
        "3.4.5 kg",
        "8 lb 1.2.3 oz",
    ],
)
def test_what_is_no_number(text):
    with pytest.raises((ValueError, UnknownUnit)):
        read_quantity(text, "kg", "kg")


@pytest.mark.parametrize(
    ("text", "si"), [("4 stone", "kg"), ("4 ft", "kg"), ("12 gal/day", "kg"), ("4 lb/lb/", "kg"), ("3 °F", "m")]
)
def test_units_that_will_not_do(text, si):
    with pytest.raises(UnknownUnit):
        read_quantity(text, si, si)


@pytest.mark.parametrize("id", list(calc.calculators()))
def test_a_value_with_the_unit_that_json_names_is_that_value(id):
    """What a program got from one call it can write into the next."""
    entry = calc.find(id)
    given = {
        name: (entry.defaults[name], description.unit)
        for name, description in entry.inputs.items()
        if isinstance(description, Number) and description.unit != "1" and entry.defaults[name] is not None
    }
    for name, (value, sign) in given.items():
        assert read_quantity(f"{value!r} {sign}", sign, sign) == pytest.approx(value, rel=1e-12), name


@given(st.sampled_from(PAIRS), st.floats(-1e6, 1e6, allow_nan=False))
def test_there_and_back(pair, value):
    si, other = pair
    assert convert(convert(value, si, other), other, si) == pytest.approx(value, rel=1e-12, abs=1e-9)


@given(st.floats(-1e12, 1e12), st.sampled_from([4, 9]))
def test_a_field_shows_no_more_digits_than_it_was_asked_for(value, digits):
    """None of the tail that a binary fraction has: 21527.8208 and not 21527.820800000001."""
    text = field_text(value, digits)
    assert len(text.strip("-").replace(".", "").strip("0")) <= digits and float(text) == pytest.approx(
        value, rel=10.0**-digits * 6, abs=1e-12
    )


@given(st.floats(1e-6, 1e9), st.sampled_from(["kg", "m", "degC", "kg/m3", "money/kg", "1"]))
def test_a_field_gives_back_its_value_in_either_system(value, si):
    for system in ("us", "metric"):
        shown = shown_unit(si, system)
        assert convert(float(field_text(convert(value, si, shown))), shown, si) == pytest.approx(
            value, rel=2e-8, abs=1e-6
        )


@given(st.text(max_size=40))
@settings(max_examples=1500)
def test_no_text_breaks_the_reader(text):
    try:
        value = read_quantity(text, "kg", "lb")
    except (ValueError, UnknownUnit):
        return
    assert math.isfinite(value)


@given(st.floats(-1e12, 1e12), st.integers(1, 6))
def test_numbers_are_shown_without_exponents(value, digits):
    text = number_text(value, digits)
    assert "e" not in text and "E" not in text
    assert float(text.replace(",", "").replace("−", "-")) == pytest.approx(
        value, rel=0.6 * 10 ** (1 - digits), abs=1e-300
    )


def test_difference_and_reading_are_kept_apart():
    assert convert(18, "F", "K") == pytest.approx(10)
    assert convert(50, "F", "degC") == pytest.approx(10)
    assert unit("degC").dimension == unit("K").dimension


def test_symbols():
    assert [symbol(name) for name in ("ft2", "lb/yd3", "degF", "money/lb", "1/kg", "ft2 hour F/BTU", "1")] == [
        "ft²",
        "lb/yd³",
        "°F",
        "$/lb",
        "per kg",
        "R",
        "",
    ]


def test_numbers_with_marks():
    assert read_number("12,000.5x") == (12000.5, "x")
    with pytest.raises(ValueError):
        read_number("1,2,3")
