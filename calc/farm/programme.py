"""A linear programme with bounds, solved exactly by the simplex method, with the worth of one more of each scarce
thing.

maximise Σ c·x  subject to  Σ a·x ≤ b or = b for each row,  0 ≤ x ≤ u

Rows are kept sparse: a farm's weeks touch each other only through what is left over from one to the next.
Sources: Dantzig 1963, Linear Programming and Extensions (upper bounds; recalled); Bland 1977 for the rule that
cannot cycle.
Held against SciPy's solver in the tests.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import inf

SMALL = 1e-9
PATIENCE = 200
"""Steps without gain after which Bland's rule takes over, which is slower but cannot go round in circles."""


class NoPlan(ValueError):
    """The rows contradict each other, or nothing holds the gain back."""


@dataclass(frozen=True)
class Solved:
    """Amounts of each thing, the gain, and for each row what one more of its right side would add to the gain."""

    amounts: list[float]
    gain: float
    worth: list[float]


def solve(
    gains: Sequence[float],
    rows: Sequence[Mapping[int, float]],
    rights: Sequence[float],
    tops: Sequence[float],
) -> Solved:
    """The best amounts of `gains`' things; rows: {thing: coefficient} ≤ rights, all rights at least 0; tops: the
    most of each (may be inf).

    >>> solved = solve([3, 5], [{0: 1}, {1: 2}, {0: 3, 1: 2}], [4, 12, 18], [inf, inf])
    >>> solved.amounts, solved.gain, solved.worth
    ([2.0, 6.0], 36.0, [0.0, 1.5, 1.0])
    """
    if any(right < 0 for right in rights):
        raise NoPlan("a right side below nothing")
    count, many = len(gains), len(rows)
    table: list[dict[int, float]] = []
    columns: list[set[int]] = [set() for _ in range(count + many)]
    for at, written in enumerate(rows):
        line = {thing: float(value) for thing, value in written.items() if value}
        line[count + at] = 1.0
        table.append(line)
        for thing in line:
            columns[thing].add(at)
    uppers = [float(top) for top in tops] + [inf] * many
    level = [float(right) for right in rights]  # of the thing that each row gives
    gives = [count + at for at in range(many)]
    place = {thing: at for at, thing in enumerate(gives)}
    reduced = {thing: float(gain) for thing, gain in enumerate(gains) if gain}
    full: set[int] = set()  # things that stand at their top
    steps = 0
    while True:
        entering = _entering(reduced, full, uppers, place, steps > PATIENCE)
        if entering is None:
            break
        rising = entering not in full
        limit, to_top = uppers[entering], False
        row: int | None = None
        for at in columns[entering]:
            slope = table[at].get(entering, 0.0) * (1 if rising else -1)
            if slope > SMALL:
                room, top = level[at] / slope, False
            elif slope < -SMALL and uppers[gives[at]] < inf:
                room, top = (uppers[gives[at]] - level[at]) / -slope, True
            else:
                continue
            if room < limit - SMALL or (room <= limit + SMALL and row is not None and gives[at] < gives[row]):
                limit, row, to_top = max(0.0, room), at, top
        if limit == inf:
            raise NoPlan("nothing holds the gain back")
        steps = 0 if limit > SMALL else steps + 1
        for at in columns[entering]:
            level[at] -= table[at].get(entering, 0.0) * (limit if rising else -limit)
        if row is None:  # it goes all the way from nothing to its top, or back
            full.symmetric_difference_update({entering})
            continue
        leaving = gives[row]
        if to_top:
            full.add(leaving)
        else:
            full.discard(leaving)
        value = limit if rising else uppers[entering] - limit
        full.discard(entering)
        _pivot(table, columns, reduced, row, entering)
        gives[row], level[row] = entering, value
        del place[leaving]
        place[entering] = row
    amounts = [uppers[thing] if thing in full else 0.0 for thing in range(count)]
    for at, thing in enumerate(gives):
        if thing < count:
            amounts[thing] = max(0.0, level[at])
    worth = [0.0 if abs(price := -reduced.get(count + at, 0.0)) < SMALL else price for at in range(many)]
    return Solved(amounts, sum(gain * amount for gain, amount in zip(gains, amounts)), worth)


def _entering(
    reduced: Mapping[int, float], full: set[int], uppers: Sequence[float], place: Mapping[int, int], careful: bool
) -> int | None:
    """The thing whose change gains most (or, carefully, the first that gains); None at the best plan."""
    chosen, most = None, SMALL
    for thing, gain in reduced.items():
        if thing in place or uppers[thing] <= 0:
            continue
        better = -gain if thing in full else gain
        if better > most and (not careful or chosen is None or thing < chosen):
            chosen = thing
            if not careful:
                most = better
    return chosen


def _pivot(
    table: list[dict[int, float]], columns: list[set[int]], reduced: dict[int, float], row: int, entering: int
) -> None:
    """Make the entering thing the one that a row gives, and take it out of all other rows and of the gain."""
    line = table[row]
    pivot = line[entering]
    if pivot != 1.0:
        for thing in line:
            line[thing] /= pivot
    line[entering] = 1.0
    for at in list(columns[entering]):
        if at == row:
            continue
        other = table[at]
        factor = other.get(entering, 0.0)
        for thing, value in line.items():
            left = other.get(thing, 0.0) - factor * value
            if -1e-12 < left < 1e-12:
                if thing in other:
                    del other[thing]
                    columns[thing].discard(at)
            else:
                other[thing] = left
                columns[thing].add(at)
        if entering in other:
            del other[entering]
        columns[entering].discard(at)
    columns[entering] = {row}
    factor = reduced.pop(entering, 0.0)
    if factor:
        for thing, value in line.items():
            if thing != entering:
                reduced[thing] = reduced.get(thing, 0.0) - factor * value


def _dense(gains: Sequence[float], rows: Sequence[Sequence[float]], rights: Sequence[float]) -> Solved:
    return solve(gains, [dict(enumerate(row)) for row in rows], rights, [inf] * len(gains))


def gain(gains: Sequence[float], rows: Sequence[Sequence[float]], rights: Sequence[float]) -> float:
    """The best gain of a small programme whose rows are written out."""
    return _dense(gains, rows, rights).gain


def shadow_price(gains: Sequence[float], rows: Sequence[Sequence[float]], rights: Sequence[float], row: int) -> float:
    """What one more of a row's right side would add to that gain."""
    return _dense(gains, rows, rights).worth[row]
