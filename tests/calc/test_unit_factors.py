"""What each unit is worth, against tables that are not ours: the constants of SciPy; NIST SP 811 where it has none."""

import math

import pytest
from scipy import constants

from calc.engine import quantity
from calc.engine.quantity import convert, unit

COUNTED = {
    *("worm", "cocoon", "hatchling", "tray", "bag", "pot", "turning"),
    *("sheet", "lane", "bed", "unit", "batch", "point", "sample"),
}
WORTH = {
    # name: (what it is worth in SI units, an expression of that dimension)
    "1": (1, "1"),
    "%": (0.01, "1"),
    "kg": (1, "kg"),
    "g": (constants.gram, "kg"),
    "mg": (constants.milli * constants.gram, "kg"),
    "t": (constants.metric_ton, "kg"),
    "lb": (constants.lb, "kg"),
    "oz": (constants.oz, "kg"),
    "ton": (constants.short_ton, "kg"),
    "m": (1, "m"),
    "cm": (constants.centi, "m"),
    "mm": (constants.milli, "m"),
    "km": (constants.kilo, "m"),
    "ft": (constants.foot, "m"),
    "in": (constants.inch, "m"),
    "yd": (constants.yard, "m"),
    "mile": (constants.mile, "m"),
    "ha": (constants.hectare, "m2"),
    "acre": (constants.acre, "m2"),
    "L": (constants.litre, "m3"),
    "mL": (constants.milli * constants.litre, "m3"),
    "gal": (constants.gallon_US, "m3"),
    "bushel": (3.523907e-2, "m3"),  # NIST SP 811, appendix B.8, seven digits, from memory
    "s": (1, "s"),
    "minute": (constants.minute, "s"),
    "hour": (constants.hour, "s"),
    "day": (constants.day, "s"),
    "week": (constants.week, "s"),
    "month": (constants.Julian_year / 12, "s"),
    "year": (constants.Julian_year, "s"),
    "K": (1, "K"),
    "C": (1, "K"),
    "F": (constants.degree_Fahrenheit, "K"),
    "J": (1, "kg m2/s2"),
    "kJ": (constants.kilo, "kg m2/s2"),
    "MJ": (constants.mega, "kg m2/s2"),
    "kWh": (constants.kilo * constants.hour, "kg m2/s2"),
    "Wh": (constants.hour, "kg m2/s2"),
    "BTU": (constants.Btu_IT, "kg m2/s2"),
    "W": (1, "kg m2/s3"),
    "kW": (constants.kilo, "kg m2/s3"),
    "hp": (constants.hp, "kg m2/s3"),
    "Pa": (1, "kg/m s2"),
    "kPa": (constants.kilo, "kg/m s2"),
    "hPa": (constants.hecto, "kg/m s2"),
    "mbar": (constants.milli * constants.bar, "kg/m s2"),
    "psi": (constants.psi, "kg/m s2"),
    "mph": (constants.mph, "m/s"),
    "kph": (constants.kmh, "m/s"),
    "money": (1, "money"),
    "deg": (1, "deg"),
    "rad": (1 / constants.degree, "deg"),
}
CALLED = {
    "lb": "lbs pound pounds",
    "oz": "ounce ounces",
    "kg": "kilogram kilograms kilo kilos kgs",
    "g": "gram grams",
    "t": "tonne tonnes",
    "ton": "tons",
    "m": "metre metres meter meters",
    "ft": "foot feet ' ′",
    "in": 'inch inches " ″',
    "yd": "yard yards yds",
    "mile": "miles mi",
    "L": "l litre litres liter liters",
    "mL": "ml",
    "gal": "gallon gallons gals",
    "bushel": "bu bushels",
    "acre": "acres",
    "s": "sec second seconds",
    "minute": "min minutes mins",
    "hour": "h hr hrs hours",
    "day": "d days",
    "week": "wk wks weeks",
    "month": "mo months",
    "year": "yr yrs years y",
    "C": "°C ºC c degC celsius",
    "F": "°F ºF f degF fahrenheit",
    "K": "kelvin",
    "BTU": "Btu btu",
    "kWh": "kwh",
    "W": "w watt watts",
    "kW": "kw",
    "kph": "km/h kmh",
    "%": "percent pct",
    "money": "$ € £ ¥",
    "deg": "° degree degrees",
    "rad": "radian",
    "1": "each people ea",
    "batch": "batches",
}
"""{unit: the other ways of writing it}, as a reader means them; "ton" alone is the short one, as in the US."""


def test_every_unit_is_here():
    assert set(quantity._UNITS) == set(WORTH) | COUNTED
    assert set(quantity._ALIASES) == {alias for words in CALLED.values() for alias in words.split()}


@pytest.mark.parametrize("name", WORTH)
def test_a_unit_is_worth_what_others_say(name):
    worth, expression = WORTH[name]
    ours = unit(name)
    assert math.isclose(ours.factor, worth, rel_tol=2e-7 if name == "bushel" else 1e-12)
    assert ours.dimension == unit(expression).dimension


@pytest.mark.parametrize("name", sorted(COUNTED))
def test_what_is_counted_is_a_plain_number(name):
    assert unit(name) == unit("1")


@pytest.mark.parametrize(
    ("name", "alias"), [(name, alias) for name, words in CALLED.items() for alias in words.split()]
)
def test_another_way_of_writing_it_is_the_same_unit(name, alias):
    assert (unit(alias).factor, unit(alias).dimension) == (unit(name).factor, unit(name).dimension)


@pytest.mark.parametrize(
    ("text", "worth"),
    [
        ("lb/yd3", constants.lb / constants.yard**3),
        ("lb/ft2", constants.lb / constants.foot**2),
        ("lb/ft3", constants.lb / constants.foot**3),
        ("lb/week", constants.lb / constants.week),
        ("gal/day", constants.gallon_US / constants.day),
        ("gal/week", constants.gallon_US / constants.week),
        ("in/day", constants.inch / constants.day),
        ("ft2 hour F/BTU", constants.foot**2 * constants.hour * constants.degree_Fahrenheit / constants.Btu_IT),
        ("BTU/hour", constants.Btu_IT / constants.hour),
        ("BTU/hour F", constants.Btu_IT / constants.hour / constants.degree_Fahrenheit),
        ("money/lb", 1 / constants.lb),
        ("money/month", 12 / constants.Julian_year),
        ("hour/week", constants.hour / constants.week),
        ("1/week", 1 / constants.week),
    ],
)
def test_units_that_are_put_together(text, worth):
    assert math.isclose(unit(text).factor, worth, rel_tol=1e-12)


@pytest.mark.parametrize("celsius", [-40.0, -17.78, 0.0, 20.0, 37.0, 55.0, 100.0])
def test_thermometers_as_scipy_reads_them(celsius):
    fahrenheit = constants.convert_temperature([celsius], "C", "F")[0]
    assert math.isclose(convert(celsius, "degC", "degF"), fahrenheit, abs_tol=1e-9)
    assert math.isclose(convert(fahrenheit, "degF", "degC"), celsius, abs_tol=1e-9)


@pytest.mark.parametrize(
    ("name", "worth"),
    [
        ("FOOT", constants.foot),
        ("INCH", constants.inch),
        ("POUND", constants.lb),
        ("OUNCE", constants.oz),
        ("GALLON", constants.gallon_US),
        ("LITRE", constants.litre),
        ("YARD3", constants.yard**3),
        ("DAY", constants.day),
        ("YEAR", constants.Julian_year),
        ("DAYS_A_MONTH", constants.Julian_year / 12 / constants.day),
        ("BTU", constants.Btu_IT),
    ],
)
def test_constants_that_formulas_take(name, worth):
    assert math.isclose(getattr(quantity, name), worth, rel_tol=1e-12)
