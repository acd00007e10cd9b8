"""The linear programme of the farm's weeks, held against SciPy's solver."""

import random
from math import inf

import pytest

from calc.farm.programme import NoPlan, solve

optimize = pytest.importorskip("scipy.optimize")


def reference(gains, rows, rights, tops):
    dense = [[row.get(thing, 0.0) for thing in range(len(gains))] for row in rows]
    bounds = [(0, None if top == inf else top) for top in tops]
    return optimize.linprog([-gain for gain in gains], A_ub=dense, b_ub=rights, bounds=bounds, method="highs")


def random_programme(seed):
    """Gains, sparse rows and tops of the size of a small farm, some of them degenerate."""
    chance = random.Random(seed)
    things, many = chance.randint(2, 14), chance.randint(1, 10)
    gains = [round(chance.uniform(-2, 9), 2) for _ in range(things)]
    rows = [
        {thing: round(chance.uniform(0, 4), 1) for thing in range(things) if chance.random() < 0.6} for _ in range(many)
    ]
    rights = [chance.choice([0.0, 3.0, 10.0, round(chance.uniform(0, 30), 1)]) for _ in range(many)]
    tops = [chance.choice([inf, 2.0, 5.0, 0.0]) for _ in range(things)]
    for thing in range(things):  # something holds each back
        if tops[thing] == inf and not any(row.get(thing, 0) > 0 for row in rows):
            tops[thing] = 4.0
    return gains, rows, rights, tops


@pytest.mark.parametrize("seed", range(200))
def test_plan_and_gain_are_those_of_scipy(seed):
    gains, rows, rights, tops = random_programme(seed)
    ours, theirs = solve(gains, rows, rights, tops), reference(gains, rows, rights, tops)
    assert theirs.status == 0
    assert abs(ours.gain + theirs.fun) <= 1e-7 * max(1, abs(ours.gain))
    for row, right in zip(rows, rights):
        assert sum(value * ours.amounts[thing] for thing, value in row.items()) <= right + 1e-7
    assert all(-1e-9 <= amount <= top + 1e-9 for amount, top in zip(ours.amounts, tops))


@pytest.mark.parametrize("seed", range(60))
def test_the_worth_of_one_more_is_what_a_little_more_adds(seed):
    """Complementary slackness and the gain of the dual: both hold only at the best plan and at its prices."""
    gains, rows, rights, tops = random_programme(1000 + seed)
    ours = solve(gains, rows, rights, tops)
    assert all(price >= -1e-9 for price in ours.worth)
    dual = sum(price * right for price, right in zip(ours.worth, rights))
    for thing, (gain, top) in enumerate(zip(gains, tops)):
        left = gain - sum(price * row.get(thing, 0.0) for price, row in zip(ours.worth, rows))
        if left > 1e-9 and top < inf:
            dual += left * top
        else:
            assert left <= 1e-7
    assert abs(dual - ours.gain) <= 1e-6 * max(1, abs(ours.gain))


def test_what_cannot_be_planned_is_refused():
    with pytest.raises(NoPlan):
        solve([1.0], [{0: -1.0}], [1.0], [inf])
    with pytest.raises(NoPlan):
        solve([1.0], [{0: 1.0}], [-1.0], [inf])
