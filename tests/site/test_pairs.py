"""Where a chapter names a measure in both systems, both are the same measure: figures of the chapters are reckoned."""

import re

import bootstrap
import measures
import pytest

from calc.engine.quantity import convert

CHAPTERS = sorted(bootstrap.ROOT.glob("docs/**/*.md"))
FRACTIONS = {"½": 0.5, "¼": 0.25, "¾": 0.75, "⅛": 0.125, "⅜": 0.375, "⅝": 0.625, "⅞": 0.875, "⅓": 1 / 3, "⅔": 2 / 3}
UNITS = {
    "ft": ("ft", r"ft|feet|foot"),
    "in": ("in", r"in|inch|inches"),
    "lb": ("lb", r"lb|pounds?"),
    "oz": ("oz", r"oz|ounces?"),
    "gal": ("gal", r"gal|gallons?|-gallon(?: bucket)?"),
    "yd": ("yd", r"yd|yards?"),
    "degF": ("degF", r"°F"),
    "mph": ("mph", r"mph"),
    "degC": ("degC", r"°C"),
    "m/s": ("m/s", r"m/s"),
    "km": ("km", r"km"),
    "cm": ("cm", r"cm|centimetres?"),
    "mm": ("mm", r"mm|millimetres?"),
    "m": ("m", r"m|metres?"),
    "kg": ("kg", r"kg|kilograms?"),
    "g": ("g", r"g|grams?"),
    "L": ("L", r"L|litres?"),
}
NUMBER = re.compile(r"([−-]?\d[\d,]*(?:\.\d+)?)?[ \u00a0]?([½¼¾⅛⅜⅝⅞⅓⅔])?")
_ONE = r"(?:[−-]?\d[\d,]*(?:\.\d+)?(?:[ \u00a0]?[½¼¾⅛⅜⅝⅞⅓⅔])?|[½¼¾⅛⅜⅝⅞⅓⅔])"
ONE = re.compile(
    rf"(?:about |over |under |some |up to |at least )?(?P<number>{_ONE})(?:(?: to | and | or |–)(?P<other>{_ONE}))?"
    r"[ \u00a0]?(?P<cubed>cubic |square )?(?P<unit>[°A-Za-z-]+)(?P<power>[²³]?)(?P<rest>.*)"
)
SCALES = ("1 g (0.05 oz)",)
"""What a scale shows: the step of one in grams, of another in ounces."""
NEAR = 0.17
"""How far both may lie apart: a handful is rounded more than a board."""


def value(text):
    """A number as it is written, `1 ½`, `1,200` or `−5`."""
    whole, fraction = NUMBER.fullmatch(text.strip()).groups()
    if not whole and not fraction:
        raise ValueError(text)
    return float((whole or "0").replace(",", "").replace("−", "-")) + FRACTIONS.get(fraction, 0.0)


def read(text):
    """[numbers] and the unit of one side of a pair; None where it is said in words or in a compound unit."""
    found = ONE.fullmatch(text)
    if not found or found["rest"]:
        return None
    unit = next((name for name, (_, words) in UNITS.items() if re.fullmatch(words, found["unit"])), None)
    power = found["power"] or {"cubic ": "³", "square ": "²"}.get(found["cubed"] or "", "")
    try:
        numbers = [value(part) for part in (found["number"], found["other"]) if part]
    except (AttributeError, ValueError):
        return None
    return (numbers, unit + power.translate(str.maketrans("²³", "23"))) if unit and numbers else None


def pairs(text):
    """(as written, one side, the other) of each pair of measures that can be reckoned."""
    text = re.sub(r"(\([\d½¼¾][^(),]*), [^()]*\)", r"\1)", " ".join(text.split()))  # (4 oz, a big handful)
    for _, pattern in measures.PAIRS:
        for found in pattern.finditer(text):
            one, other = read(found[1]), read(found[4])
            if one and other and len(one[0]) == len(other[0]):
                yield found[0], one, other


def differ(one, other):
    """Whether two sides are not the same measure, each number of them."""
    (numbers, unit), (others, other_unit) = one, other
    for number, written in zip(numbers, others, strict=True):
        meant = convert(number, unit, other_unit)
        if other_unit in ("degC", "degF"):
            apart = number / 1.8 if other_unit == "degC" else number * 1.8  # a difference of temperatures
            if min(abs(meant - written), abs(apart - written)) > (1.1 if other_unit == "degC" else 2.0):
                return True
        elif abs(meant - written) > NEAR * max(abs(meant), abs(written)):
            return True
    return False


@pytest.mark.parametrize("path", CHAPTERS, ids=lambda path: path.relative_to(bootstrap.ROOT).as_posix())
def test_both_systems_say_the_same(path):
    wrong = [written for written, one, other in pairs(path.read_text(encoding="utf-8")) if differ(one, other)]
    wrong = [written for written in wrong if written not in SCALES]
    assert not wrong, wrong


def test_most_pairs_are_reckoned():
    texts = [path.read_text(encoding="utf-8") for path in CHAPTERS]
    assert sum(len(list(pairs(text))) for text in texts) > 180


@pytest.mark.parametrize(
    ("text", "right"),
    [
        ("lay 4 in (10 cm) of straw", True),
        ("lay 4 in (15 cm) of straw", False),
        ("under 40 °F (4 °C)", True),
        ("under 40 °F (14 °C)", False),
        ("½ in (1.3 cm)", True),
        ("4 to 6 lb (1.8 to 2.7 kg)", True),
        ("4 to 6 lb (1.8 to 3.7 kg)", False),
    ],
)
def test_a_wrong_pair_is_told(text, right):
    found = list(pairs(text))
    assert found
    assert any(differ(one, other) for _, one, other in found) is not right
