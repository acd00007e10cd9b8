"""Units at the edge: text to SI number and back, with exact factors.

Inside `calc` every number is in the unit its parameter declares (SI: kg, m, m2, m3, degC, fractions; rates per the
period their name says). This module is the only place that knows pounds, feet, gallons, degrees Fahrenheit, or a
reader's way of writing numbers.

Factors: international yard and pound agreement of 1959 (ft, lb exact), US gallon of 231 cubic inches, NIST SP 811
appendix B.
"""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from math import floor, isfinite, log10

FOOT = 0.3048
INCH = 0.0254
POUND = 0.45359237
OUNCE = POUND / 16
GALLON = 231 * INCH**3
LITRE = 0.001
YARD3 = (3 * FOOT) ** 3
DAY = 86400.0
YEAR = 365.25 * DAY
DAYS_A_MONTH = YEAR / 12 / DAY
BTU = 1055.05585262  # International Table

# Dimensions are exponents of (kg, m, s, K, money, angle).
NONE = (0, 0, 0, 0, 0, 0)
MASS, LENGTH, TIME, TEMPERATURE, MONEY, ANGLE = (tuple(int(i == j) for j in range(6)) for i in range(6))
ENERGY = (1, 2, -2, 0, 0, 0)
POWER = (1, 2, -3, 0, 0, 0)
PRESSURE = (1, -1, -2, 0, 0, 0)


def _scaled(dimension: Sequence[int], exponent: int) -> tuple[int, ...]:
    return tuple(exponent * part for part in dimension)


def _joined(first: Sequence[int], second: Sequence[int]) -> tuple[int, ...]:
    return tuple(a + b for a, b in zip(first, second))


# name: (factor to the SI unit of its dimension, dimension)
_UNITS = {
    "1": (1.0, NONE),
    "%": (0.01, NONE),
    "kg": (1.0, MASS),
    "g": (0.001, MASS),
    "mg": (1e-6, MASS),
    "t": (1000.0, MASS),
    "lb": (POUND, MASS),
    "oz": (OUNCE, MASS),
    "ton": (2000 * POUND, MASS),
    "m": (1.0, LENGTH),
    "cm": (0.01, LENGTH),
    "mm": (0.001, LENGTH),
    "km": (1000.0, LENGTH),
    "ft": (FOOT, LENGTH),
    "in": (INCH, LENGTH),
    "yd": (3 * FOOT, LENGTH),
    "mile": (5280 * FOOT, LENGTH),
    "ha": (1e4, _scaled(LENGTH, 2)),
    "acre": (43560 * FOOT**2, _scaled(LENGTH, 2)),
    "L": (LITRE, _scaled(LENGTH, 3)),
    "mL": (LITRE / 1000, _scaled(LENGTH, 3)),
    "gal": (GALLON, _scaled(LENGTH, 3)),
    "bushel": (2150.42 * INCH**3, _scaled(LENGTH, 3)),
    "s": (1.0, TIME),
    "minute": (60.0, TIME),
    "hour": (3600.0, TIME),
    "day": (DAY, TIME),
    "week": (7 * DAY, TIME),
    "month": (YEAR / 12, TIME),
    "year": (YEAR, TIME),
    "K": (1.0, TEMPERATURE),
    "C": (1.0, TEMPERATURE),
    "F": (5 / 9, TEMPERATURE),
    "J": (1.0, ENERGY),
    "kJ": (1e3, ENERGY),
    "MJ": (1e6, ENERGY),
    "kWh": (3.6e6, ENERGY),
    "Wh": (3600.0, ENERGY),
    "BTU": (BTU, ENERGY),
    "W": (1.0, POWER),
    "kW": (1000.0, POWER),
    "hp": (745.69987158227022, POWER),
    "Pa": (1.0, PRESSURE),
    "kPa": (1000.0, PRESSURE),
    "hPa": (100.0, PRESSURE),
    "mbar": (100.0, PRESSURE),
    "psi": (6894.757293168361, PRESSURE),
    "mph": (5280 * FOOT / 3600, _joined(LENGTH, _scaled(TIME, -1))),
    "kph": (1000 / 3600, _joined(LENGTH, _scaled(TIME, -1))),
    "money": (1.0, MONEY),
    "deg": (1.0, ANGLE),
    "rad": (57.29577951308232, ANGLE),
}
# Counted things are pure numbers with a name; the name is only ever shown.
for _counted in (
    "worm",
    "cocoon",
    "hatchling",
    "tray",
    "bag",
    "pot",
    "turning",
    "sheet",
    "lane",
    "bed",
    "unit",
    "batch",
    "point",
    "sample",
):
    _UNITS[_counted] = (1.0, NONE)

_ALIASES = {
    "lbs": "lb",
    "pound": "lb",
    "pounds": "lb",
    "ounce": "oz",
    "ounces": "oz",
    "kilogram": "kg",
    "kilograms": "kg",
    "kilo": "kg",
    "kilos": "kg",
    "kgs": "kg",
    "gram": "g",
    "grams": "g",
    "tonne": "t",
    "tonnes": "t",
    "tons": "ton",
    "metre": "m",
    "metres": "m",
    "meter": "m",
    "meters": "m",
    "foot": "ft",
    "feet": "ft",
    "inch": "in",
    "inches": "in",
    "'": "ft",
    "′": "ft",
    '"': "in",
    "″": "in",
    "yard": "yd",
    "yards": "yd",
    "yds": "yd",
    "miles": "mile",
    "mi": "mile",
    "l": "L",
    "litre": "L",
    "litres": "L",
    "liter": "L",
    "liters": "L",
    "ml": "mL",
    "gallon": "gal",
    "gallons": "gal",
    "gals": "gal",
    "bu": "bushel",
    "bushels": "bushel",
    "acres": "acre",
    "sec": "s",
    "second": "s",
    "seconds": "s",
    "min": "minute",
    "minutes": "minute",
    "mins": "minute",
    "h": "hour",
    "hr": "hour",
    "hrs": "hour",
    "hours": "hour",
    "d": "day",
    "days": "day",
    "wk": "week",
    "wks": "week",
    "weeks": "week",
    "mo": "month",
    "months": "month",
    "yr": "year",
    "yrs": "year",
    "years": "year",
    "y": "year",
    "°C": "C",
    "°F": "F",
    "ºC": "C",
    "ºF": "F",
    "c": "C",
    "f": "F",
    "degC": "C",
    "degF": "F",
    "celsius": "C",
    "fahrenheit": "F",
    "kelvin": "K",
    "Btu": "BTU",
    "btu": "BTU",
    "kwh": "kWh",
    "w": "W",
    "watt": "W",
    "watts": "W",
    "kw": "kW",
    "km/h": "kph",
    "kmh": "kph",
    "percent": "%",
    "pct": "%",
    "$": "money",
    "€": "money",
    "£": "money",
    "¥": "money",
    "°": "deg",
    "degree": "deg",
    "degrees": "deg",
    "radian": "rad",
    "each": "1",
    "people": "1",
    "ea": "1",
    "batches": "batch",
}
_POWERS = str.maketrans("²³¹", "231")
_FACTOR_PART = re.compile(r"^(?P<name>[^\d\s^]+?)\^?(?P<power>-?[1-4])?$")


class UnknownUnit(ValueError):
    """The text is not a unit this handbook knows."""


@dataclass(frozen=True)
class Unit:
    """A unit expression, worked out: `factor` to SI and `dimension` (exponents of kg, m, s, K, money, angle)."""

    factor: float
    dimension: tuple[int, ...]
    scale: str = ""  # "C" or "F" when the expression is a bare thermometer scale


def _single(text: str) -> tuple[float, tuple[int, ...]]:
    """Factor and dimension of one unit with an optional power, such as ft3."""
    readings = [(text, 1)]
    match = _FACTOR_PART.match(text)
    if match and match["power"]:
        readings.append((match["name"], int(match["power"])))
    for name, power in readings:
        if name not in _UNITS and name not in _ALIASES and len(name) > 1:
            name = name.lower()  # a phone begins with a capital: Lb, Ft, KG
        name = _ALIASES.get(name, name)
        if name not in _UNITS and name.endswith("s"):
            name = name[:-1]
        if name in _UNITS:
            factor, dimension = _UNITS[name]
            return factor**power, _scaled(dimension, power)
    raise UnknownUnit(text)


@lru_cache(maxsize=512)
def unit(text: str) -> Unit:
    """Unit of an expression such as `lb/yd3`, `m2 K/W`, `1/kg`, `°F`.

    >>> round(unit("lb/yd3").factor, 6)
    0.593276
    """
    cleaned = text.strip().translate(_POWERS).replace("·", " ").replace("*", " ")
    cleaned = re.sub(r"\bper\b", "/", cleaned)
    cleaned = re.sub(r"\b(?:cu|cubic)\.? (yd|ft|m|in|yards?|feet|foot|met(?:re|er)s?)\b", r"\g<1>^3", cleaned)
    cleaned = re.sub(r"\b(?:sq|square)\.? (yd|ft|m|in|yards?|feet|foot|met(?:re|er)s?)\b", r"\g<1>^2", cleaned)
    name = _ALIASES.get(cleaned, cleaned)
    if name in ("C", "F"):
        return Unit(_UNITS[name][0], TEMPERATURE, scale=name)
    factor = 1.0
    dimension: tuple[int, ...] = NONE
    for place, part in enumerate(cleaned.split("/")):
        sign = 1 if place == 0 else -1
        for single in part.split():
            single_factor, single_dimension = _single(single)
            factor *= single_factor**sign
            dimension = _joined(dimension, _scaled(single_dimension, sign))
        if place and not part.strip():
            raise UnknownUnit(text)
    return Unit(factor, dimension)


def convert(value: float, source: str, target: str) -> float:
    """Value in `source` units expressed in `target` units. `degC` is a thermometer reading, `K` a difference.

    >>> convert(68, "F", "degC"), convert(9, "F", "K"), round(convert(1, "yd3", "m3"), 12)
    (20.0, 5.0, 0.764554857984)
    """
    if target == source:
        return value
    have, want = unit(source), unit(target)
    if have.dimension != want.dimension:
        raise UnknownUnit(source)
    if target in ("degC", "degF") or (source in ("degC", "degF") and want.scale):
        celsius = (value - 32) / 1.8 if have.scale == "F" else value if have.scale else value - 273.15
        return celsius * 1.8 + 32 if want.scale == "F" else celsius
    return value * (have.factor / want.factor)


def over(value: float, limit: float) -> bool:
    """Whether a value passes a limit by more than the rounding of units: 6 in are 0.1524 m, and not under it either.

    >>> over(6 * INCH, 0.5 * FOOT), over(0.5 * FOOT, 6 * INCH), over(0.153, 0.5 * FOOT)
    (False, False, True)
    """
    return value - limit > 1e-9 * abs(limit)


# What is shown where nothing else is asked for: whole expressions first, then part by part.
_SHOWN = {
    "us": {
        "degC": "degF",
        "kg/m3": "lb/yd3",
        "mm": "in",
        "mm/day": "in/day",
        "m/s": "mph",
        "W": "BTU/hour",
        "W/K": "BTU/hour F",
        "m2 K/W": "ft2 hour F/BTU",
        "W/m2 K": "BTU/hour ft2 F",
        "K": "F",
        "kWh": "kWh",
        "kPa": "kPa",
        "MJ": "kWh",
        "g": "oz",
        "m3/day": "gal/day",
        "mm/hour": "in/hour",
    },
    "metric": {},
}
_PARTS = {"kg": "lb", "m": "ft", "m2": "ft2", "m3": "yd3", "L": "gal", "cm": "in", "K": "F", "degC": "degF"}
SYSTEMS = ("us", "metric")


@lru_cache(maxsize=512)
def shown_unit(si_unit: str, system: str | None) -> str:
    """The unit in which a quantity is shown to a reader of that system; None shows the SI unit itself."""
    if system != "us":
        return si_unit
    whole = _SHOWN["us"].get(si_unit)
    if whole:
        return whole
    return "/".join(" ".join(_PARTS.get(single, single) for single in part.split()) for part in si_unit.split("/"))


_SYMBOLS = {
    "degC": "°C",
    "degF": "°F",
    "F": "°F",
    "C": "°C",
    "K": "°C",
    "deg": "°",
    "1": "",
    "minute": "min",
    "hour": "h",
}
_RAISED = str.maketrans("234", "²³⁴")


@lru_cache(maxsize=512)
def symbol(unit_text: str, currency: str = "$") -> str:
    """A unit as it is printed beside a number: ft², lb/yd³, °F, $/lb."""
    if unit_text == "ft2 hour F/BTU":
        return "R"
    if unit_text.startswith("1/"):
        return "per " + symbol(unit_text[2:], currency)
    if unit_text.startswith("money/1"):
        return currency
    parts = []
    for part in unit_text.split("/"):
        words = []
        for single in part.split():
            single = currency if single == "money" else _SYMBOLS.get(single, single)
            words.append(re.sub(r"(?<=[a-z])[234]$", lambda m: m[0].translate(_RAISED), single))
        parts.append("·".join(words))
    return "/".join(parts)


def written_unit(name: str) -> str:
    """A unit as a plan writes it: without degree signs, and money without anybody's currency."""
    if name == "money":
        return ""
    if "money" in name:
        return name.replace("degF", "F").replace("degC", "C")
    sign = symbol(name, "")
    return sign.replace("°", "") if sign in ("°F", "°C") else sign


# Offered in an error message, by dimension, before any that the field itself shows.
_OFFERS = {
    MASS: "lb, oz, kg or g",
    LENGTH: "ft, in, m, cm or mm",
    _scaled(LENGTH, 2): "ft², m² or acre",
    _scaled(LENGTH, 3): "yd³, ft³, gal, m³ or L",
    TIME: "hours, days, weeks or months",
    TEMPERATURE: "°F or °C",
    NONE: "a plain number or %",
    POWER: "BTU/h, W or kW",
    ENERGY: "kWh, MJ or BTU",
    ANGLE: "degrees",
}


def offers(si_unit: str, currency: str = "$") -> str:
    """The units that would do for a quantity, as words for a message."""
    dimension = unit(si_unit).dimension
    if dimension == MONEY:
        return f"an amount in {currency}: no money is exchanged here"
    if dimension in _OFFERS:
        return _OFFERS[dimension]
    names = dict.fromkeys(symbol(name, currency) for name in (shown_unit(si_unit, "us"), si_unit))
    return " or ".join(names)


# ---- numbers as a reader writes them

_FRACTIONS = {"½": 0.5, "¼": 0.25, "¾": 0.75, "⅛": 0.125, "⅜": 0.375, "⅝": 0.625, "⅞": 0.875, "⅓": 1 / 3, "⅔": 2 / 3}
_NUMBER = re.compile(
    r"\s*(?P<sign>[-−+])?\s*(?:"
    r"(?P<before>\d+)\s+(?P<part>[½¼¾⅛⅜⅝⅞⅓⅔])"
    r"|(?P<whole>\d+)\s+(?P<top>\d+)/(?P<bottom>[1-9]\d*)|(?P<top1>\d+)/(?P<bottom1>[1-9]\d*)"
    r"|(?P<number>(?:\d{1,3}(?:[  "
    r" ]\d{3})+(?:,\d+)?(?!\d)|\d(?:[\d,]*\d)?)?(?:\.\d*)?(?:[eE][-+]?\d+)?)(?P<glyph>[½¼¾⅛⅜⅝⅞⅓⅔])?)"
)


def read_number(text: str) -> tuple[float, str]:
    """(number, rest of the text) for text that starts with a number; ValueError when it does not.

    Thousands may be set off by commas or spaces, three digits each; a decimal comma is understood, fractions too.
    >>> read_number("1,500 lb"), read_number("2,5 cm"), read_number("1 1/2 in"), read_number("40 ½ lb")
    ((1500.0, ' lb'), (2.5, ' cm'), (1.5, ' in'), (40.5, ' lb'))
    """
    match = _NUMBER.match(text)
    if not match:
        raise ValueError(text)
    if match["part"]:
        value = int(match["before"]) + _FRACTIONS[match["part"]]
    elif match["top"]:
        value = int(match["whole"]) + int(match["top"]) / int(match["bottom"])
    elif match["top1"]:
        value = int(match["top1"]) / int(match["bottom1"])
    else:
        digits = match["number"] or ""
        if not re.search(r"\d", digits) and not match["glyph"]:
            raise ValueError(text)
        value = _FRACTIONS[match["glyph"]] if match["glyph"] else 0.0
        if digits:
            value += float(_plain_digits(digits))
    if not isfinite(value):
        raise ValueError(text)
    return (-value if match["sign"] in ("-", "−") else value), text[match.end() :]


def _plain_digits(digits: str) -> str:
    """Digits as float() wants them: `1,500` and `1 500` are thousands, `2,5` is two and a half, and `0,125` an
    eighth.
    """
    digits = re.sub(r"[   ]", "", digits)
    if "," not in digits:
        return digits
    if re.fullmatch(r"[1-9]\d{0,2}(,\d{3})+(\.\d*)?([eE][-+]?\d+)?", digits):
        return digits.replace(",", "")
    if digits.count(",") == 1 and "." not in digits:
        return digits.replace(",", ".")
    raise ValueError(digits)


_UNSEEN = dict.fromkeys([0xAD, 0xFEFF, *range(0x200B, 0x2010), *range(0x202A, 0x202F), *range(0x2060, 0x206A)], None)
"""Characters that nobody sees and that come along with what is copied."""
MONEY_SIGNS = "$€£¥"


def read_quantity(text: str, si_unit: str, bare_unit: str, currency: str = "$") -> float:
    """Number in `si_unit` from text such as `40 lb`, `8 ft 6 in`, `$35/lb`; a bare number is in `bare_unit`.

    Raises ValueError when there is no number, UnknownUnit when the unit is unknown or of another kind, also for money
    of another kind than the handbook's: nothing here is exchanged.
    """
    text = text.translate(_UNSEEN).strip()
    other = next((mark for mark in MONEY_SIGNS if mark in text and mark not in currency), None)
    if other:
        raise UnknownUnit(other)
    for mark in {currency, "$", "€", "£", "¥"} - {""}:
        if text.startswith(mark):
            text = text[len(mark) :]
            if "/" in text or "per " in text:
                value, rest = read_number(text)
                return value * convert(1, "money" + rest.replace(" per ", "/").replace(" ", ""), si_unit)
            break
    if text[:1] in "Rr" and si_unit == "m2 K/W":
        value, rest = read_number(text[1:].lstrip("- "))
        return convert(value, "ft2 hour F/BTU", si_unit)
    total, rest, first = 0.0, text, True
    while rest.strip() or first:
        value, rest = read_number(rest)
        if re.match(r"[.,]\d", rest):  # 1.250.000 and 1.250,50: whose comma and whose point, nobody can tell
            raise ValueError(text)
        match = re.match(r"\s*((?:[^\d\s½¼¾⅛⅜⅝⅞⅓⅔]|(?<=[A-Za-z^²³])\d|\d(?=/)|\s(?![-−+]?[\d½¼¾⅛⅜⅝⅞⅓⅔]))*)", rest)
        assert match  # it may be empty, but it is always there
        written, rest = match[1].strip(), rest[match.end() :]
        if not written and (rest.strip() or not first):
            raise ValueError(text)
        total += _in_unit(value, written, si_unit, bare_unit, currency)
        first = False
    return total


def _in_unit(value: float, written: str, si_unit: str, bare_unit: str, currency: str) -> float:
    written = written.removesuffix(".")  # lb., in.
    if not written:
        return convert(value, bare_unit, si_unit)
    if currency and written.startswith(currency):
        written = "money" + written[len(currency) :]
    if si_unit == "m2 K/W" and written in ("R", "r"):
        written = "ft2 hour F/BTU"
    if written.startswith(("/", "per ")):
        written = ("money" if si_unit.startswith("money") else "1") + "/" + written.removeprefix("per ").lstrip("/ ")
    try:
        return convert(value, written, si_unit)
    except UnknownUnit:
        # "20 lb" for a weekly mass, "12" + "kg" for a price per kg: the name of the field already says the period or
        # the counted thing.
        wanted = unit(si_unit)
        have = unit(written)
        for period in ("day", "week", "month", "year", "hour"):
            if si_unit.endswith("/" + period) and have.dimension == unit(si_unit[: -len(period) - 1]).dimension:
                return convert(value, written + "/" + period, si_unit)
        if wanted.dimension == NONE and have.dimension == NONE:
            return value * have.factor / wanted.factor
        raise


# ---- numbers as they are shown


def rounded(value: float, digits: int = 3) -> float:
    """Value to that many significant digits.

    >>> rounded(1234.5), rounded(0.012345), rounded(0.0)
    (1230.0, 0.0123, 0.0)
    """
    if not value or not isfinite(value):
        return value
    return round(value, digits - 1 - floor(log10(abs(value))))


def number_text(value: float, digits: int = 3) -> str:
    """A number for reading: significant digits, thousands set off, a true minus sign, never an exponent.

    >>> number_text(1234.5), number_text(0.5), number_text(-3.14159), number_text(98765)
    ('1,230', '0.5', '−3.14', '98,800')
    """
    if value is None:
        return ""
    if not isfinite(value):
        return "–"
    steady = float(f"{abs(value):.11e}")  # sums differ between Pythons in their last bits, which must not tip a half
    mantissa, exponent = f"{steady:.{digits - 1}e}".split("e")  # rounds and tells the size, without a logarithm
    size = float(f"{mantissa}e{exponent}")
    if size == 0:
        return "0"
    decimals = digits - 1 - int(exponent)
    text = f"{size:,.{max(0, decimals)}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return ("−" if value < 0 else "") + text


def money_text(value: float, currency: str = "$") -> str:
    """An amount: cents below a hundred, whole units above.

    >>> money_text(12.5), money_text(-1234.4), money_text(3)
    ('$12.50', '−$1,234', '$3.00')
    """
    if value is None:
        return ""
    size = abs(value)
    text = f"{size:,.0f}" if size >= 99.995 else f"{size:,.2f}"
    sign = "−" if value < 0 and float(text.replace(",", "")) else ""
    return sign + (currency if len(currency) == 1 else currency + " ") + text


def field_text(value: float, digits: int = 9) -> str:
    """A number for a form field: enough digits to come back unchanged, no thousands marks.

    >>> field_text(21527.8208), field_text(0.1), field_text(12000.0), field_text(-1e-14)
    ('21527.8208', '0.1', '12000', '0')
    """
    value = rounded(float(value), digits)
    decimals = min(12, max(0, digits - 1 - floor(log10(abs(value))))) if value else 0
    text = f"{value:.{decimals}f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return text if text != "-0" else "0"


def significant_digits(value: float) -> int:
    """How many digits a number takes when it is written out for a form field; those of 1,000 are one.

    >>> [significant_digits(value) for value in (12.0, 1000.0, 30.48, 0.0254, 0.0)]
    [2, 1, 4, 3, 0]
    """
    return len(field_text(abs(value)).replace(".", "").strip("0")) if isfinite(value) else 0


def quantity_text(value: float, si_unit: str, shown: str | None = None, digits: int = 3, currency: str = "$") -> str:
    """A number in `si_unit` as text in the `shown` unit, with its symbol."""
    if value is None:
        return "–"
    shown = shown or si_unit
    converted = convert(value, si_unit, shown)
    if shown.startswith("money"):
        tail = symbol(shown, currency).split("/", 1)[1:] if "/" in shown and shown != "money/1" else []
        return money_text(converted, currency) + ("/" + tail[0] if tail else "")
    return with_symbol(number_text(converted, digits), symbol(shown, currency))


def with_symbol(number: str, sign: str) -> str:
    """Number and unit symbol joined as they are printed: `55 %`, `20 °C`, `30°`, `8 ft`, `R 13`."""
    if not sign:
        return number
    if sign == "R":
        return f"R {number}"
    if sign in ("day", "week", "month", "year") and number != "1":
        sign += "s"
    return number + sign if sign == "°" else f"{number} {sign}"
