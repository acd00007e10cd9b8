"""At the very limits: what a rule, a warning or a fit says on either side of each, and at it."""

from importlib import import_module
from math import exp, log

import pytest

from calc.engine.run import answer
from calc.facts import moisture as facts

weighing, screen = import_module("calc.moisture.weighing"), import_module("calc.harvest.screen")
A_HAIR = 1e-6


def warned(id, given, words):
    """Whether a warning of an answer has these words."""
    return any(words in said for _, said in answer(id, given, "metric").shown.warnings)


def sample(wet, moisture=0.7):
    """A container of 50 g with so many grams of wet bedding."""
    return {"tare": "50 g", "wet": f"{50 + wet} g", "dry": f"{50 + wet * (1 - moisture)} g"}


@pytest.mark.parametrize(
    ("words", "silent", "said"),
    [
        ("is small", [sample(20), sample(20)], [sample(20), sample(19.9)]),
        ("airless", [sample(100, 0.9), sample(100, 0.9)], [sample(100, 0.9), sample(100, 0.905)]),
        ("take three or more", [sample(100), sample(100)], [sample(100)]),
        ("take more samples", [sample(100, 0.70), sample(100, 0.707)], [sample(100, 0.70), sample(100, 0.709)]),
    ],
)
def test_weighings_that_deserve_a_second_look(words, silent, said):
    assert not warned("moisture.test", {"samples": silent}, words)
    assert warned("moisture.test", {"samples": said}, words)


def dryings(*grams):
    return [{"time": hour, "weight": f"{50 + weight} g"} for hour, weight in enumerate(grams, start=1)]


@pytest.mark.parametrize(
    ("weights", "dry", "heavier"),
    [
        ((30.0, 29.0), False, False),
        ((30.0, 29.971), True, False),  # a thousandth of the 30 g before
        ((30.0, 29.969), False, False),
        ((30.0, 30.0), True, False),
        ((30.0, 30.059), False, False),  # it grew, but by less than two thousandths
        ((30.0, 30.061), False, True),
        ((30.0,), None, False),
    ],
)
def test_when_drying_has_come_to_its_end(weights, dry, heavier):
    given = {"samples": [{"tare": "50 g", "wet": "150 g"}], "dryings": dryings(*weights)}
    view = answer("moisture.test", given, "metric")
    assert view.results["dry_enough"] is dry
    assert warned("moisture.test", given, "grew heavier") is heavier
    assert warned("moisture.test", given, "Not dry yet") is (dry is False)


def test_what_a_moisture_suits():
    steps = [
        (facts.AIRLESS.typical, "airless", "wet for a feeding face"),
        (facts.FACE.high, "wet for a feeding face", "right for a feeding face"),
    ]
    for limit, above, at in steps:
        assert (weighing.suits(limit + A_HAIR), weighing.suits(limit)) == (above, at)
    assert weighing.suits(facts.FACE.low) == "right for a feeding face"
    assert weighing.suits(facts.FACE.low - A_HAIR) == "dry for a feeding face, but worms bear it"
    assert weighing.suits(facts.LIMITS.low) == "dry for a feeding face, but worms bear it"
    assert weighing.suits(facts.FINISHING.low) == "right for screening, too dry for worms"
    assert weighing.suits(facts.FINISHING.low - A_HAIR) == "too dry for worms"


def test_a_curve_of_sizes_from_what_can_be_drawn():
    """Shares of nothing and of all have no place on the line; one size alone and a curve that falls have no fit."""
    points = [(0.004, exp(-((4 / 2) ** 1.5))), (0.002, exp(-1.0)), (0.001, exp(-((1 / 2) ** 1.5)))]
    size, spread, fit = screen.fit([*points, (0.01, 0.0), (0.0001, 1.0)])
    assert (size, spread, fit) == (pytest.approx(0.002), pytest.approx(1.5), pytest.approx(1.0))
    assert screen.fit([points[0]]) is None
    assert screen.fit([points[0], (0.004, 0.2)]) is None
    assert screen.fit([(0.004, 0.6), (0.002, 0.2)]) is None
    assert screen.fit([(0.004, 0.3), (0.002, 0.3)]) is None
    level = [(0.004, 0.2), (0.002, 0.3), (0.001, 0.6)]
    x, y = [log(size) for size, _ in level], [log(-log(share)) for _, share in level]
    mean_x, mean_y = sum(x) / 3, sum(y) / 3
    slope = sum((a - mean_x) * (b - mean_y) for a, b in zip(x, y)) / sum((a - mean_x) ** 2 for a in x)
    left = sum((b - mean_y - slope * (a - mean_x)) ** 2 for a, b in zip(x, y))
    _, spread, fit = screen.fit(level)
    assert (spread, fit) == (pytest.approx(slope), pytest.approx(1 - left / sum((b - mean_y) ** 2 for b in y)))
