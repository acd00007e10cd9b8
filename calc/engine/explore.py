"""Three questions that any calculator can be asked, because it is a pure function: aim, what moves it, and range."""

import random
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from functools import lru_cache
from math import isclose, sqrt
from typing import TYPE_CHECKING, Any, TypeAlias

from calc.engine.describe import Band, Number, Output, Refused, all_of, as_written, in_place_of, typical, typical_alone
from calc.engine.quantity import quantity_text
from calc.engine.told import Told, lower_first, rather

if TYPE_CHECKING:
    from calc.engine.register import Calculator

SEED = 20270301
BAND_SAMPLES = 64
MOST_CROSSINGS = 6  # of an aim that are looked into: a result in steps may cross its goal many times
NEXT_WHOLE = 12  # whole numbers either side of the present one that are all tried
EIGHT_IN_TEN = 1.2815515655446004  # standard deviations either side of the mean that hold 80 % of a normal distribution
SHARE_EACH_WAY = 0.2  # how far an input without a published range is moved: a fifth each way, said beside the figure


Reached: TypeAlias = tuple[float, float]
"""(where an input stands, how far the output is then from what is wanted)."""


def numeric_output(entry: "Calculator", name: str) -> Output:
    """The description of an output that is a number; Refused when there is no such output, or when it is a word or a
    date.
    """
    if name not in entry.outputs:
        raise Refused([(name, f"{entry.id} has no output “{as_written(name)}”. {rather(name, entry.outputs)}")])
    if name not in entry.numeric_outputs:
        raise Refused([(name, f"{entry.outputs[name].label} is no number. {_numbers_are(entry)}")])
    return entry.outputs[name]


def _numbers_are(entry: "Calculator") -> str:
    return (
        f"Those that are: {', '.join(entry.numeric_outputs)}."
        if entry.numeric_outputs
        else f"{entry.id} has none that is."
    )


def vary_input(entry: "Calculator", name: str | None, output: str | None = None) -> Number:
    """The description of a number input that an aim may move; Refused when it is not one, or only says how many draws
    are counted.
    """
    counts = output in entry.outputs and entry.outputs[output].counted_by == name
    numbers = entry.numeric_inputs
    if name in numbers and not counts:
        return numbers[name]
    if counts and name:
        raise Refused([("vary", f"{entry.inputs[name].label} only says how surely that is counted.")])
    near = rather("" if name in entry.inputs else name, numbers)
    raise Refused([("vary", f"{entry.id} has no number input “{as_written(name)}” to move. {near}")])


def aim_asked(
    entry: "Calculator",
    output: str,
    wanted: float | str,
    vary: str | None,
    system: str | None = None,
    currency: str = "$",
) -> tuple[Output, float, Number]:
    """(description of the output, value wanted in SI, description of the input that may move); Refused with all that is
    wrong with them.
    """
    target, description = all_of(
        lambda: _target(entry, output, wanted, system, currency), lambda: vary_input(entry, vary, output)
    )
    return *target, description


def _target(
    entry: "Calculator", output: str, wanted: float | str, system: str | None, currency: str
) -> tuple[Output, float]:
    described = numeric_output(entry, output)
    return described, _goal(described, output, wanted, system, currency)


def value_at(entry: "Calculator", given: Mapping[str, Any], output: str, **changes: float) -> float | None:
    """The output as a plain number with some inputs changed; None where those inputs cannot be answered."""
    try:
        with typical_alone(output):
            value = typical(getattr(entry.function(**{**given, **changes, **entry.without_counting(output)}), output))
    except (Refused, ArithmeticError):
        return None
    return float(value) if isinstance(value, (int, float)) else None


def limits(description: Number, value: float) -> tuple[float, float]:
    """(low, high) between which an input is moved: its plausible range, else a fifth each way, within its bounds."""
    plausible = description.plausible(value)
    if plausible:
        low, high = min(plausible[0], value), max(plausible[1], value)
    else:
        low, high = sorted((value * (1 - SHARE_EACH_WAY), value * (1 + SHARE_EACH_WAY)))
    low, high = max(low, description.low), min(high, description.high)
    return (round(low), round(high)) if description.whole else (low, high)


def standing(entry: "Calculator", given: Mapping[str, Any]) -> dict[str, float | None]:
    """{input: number} where each number input stands: as given, else what is reckoned with where it is blank."""
    values = {name: given[name] for name in entry.numeric_inputs}
    blank = {
        name: description.fact.typical
        for name, description in entry.numeric_inputs.items()
        if values[name] is None and description.fact
    }
    if entry.blanks and None in values.values():
        blank |= entry.blanks(given)
    return {name: blank.get(name) if value is None else value for name, value in values.items()}


def movable(entry: "Calculator", given: Mapping[str, Any]) -> list[str]:
    """Names of the number inputs that have a value and can be moved."""
    return [name for name in entry.numeric_inputs if given[name] is not None]


def drawn(entry: "Calculator", given: Mapping[str, Any]) -> list[str]:
    """Names of the inputs that a range moves: those with a value and a plausible range."""
    return [name for name in movable(entry, given) if entry.numeric_inputs[name].plausible()]


# ---- what moves it


def moves(entry: "Calculator", given: Mapping[str, Any], output: str) -> list[dict[str, Any]]:
    """[{input, low, high, from, to}], widest first: the output with each input at its low and at its high, the others
    held.
    """
    counter = numeric_output(entry, output).counted_by
    spans = []
    for name, value in standing(entry, given).items():
        if value is None or name == counter:
            continue
        start, end = limits(entry.numeric_inputs[name], value)
        if start == end:
            continue
        low, high = value_at(entry, given, output, **{name: start}), value_at(entry, given, output, **{name: end})
        if low is not None and high is not None and not isclose(low, high, rel_tol=1e-9):
            spans.append({"input": name, "low": low, "high": high, "from": start, "to": end})
    return sorted(
        spans, key=lambda move: -float(f"{abs(move['high'] - move['low']):.6g}")
    )  # the last bits say nothing about which is wider


# ---- range


def triangular(share: float, low: float, mode: float, high: float) -> float:
    """Inverse of the triangular distribution's cumulative curve at `share` [0–1]; plain arithmetic and a square
    root.
    """
    if high <= low:
        return mode
    split = (mode - low) / (high - low)
    if share < split:
        return low + sqrt(share * (high - low) * (mode - low))
    return high - sqrt((1 - share) * (high - low) * (high - mode))


@lru_cache(maxsize=4)
def hypercube(inputs: int, count: int, seed: int) -> list[list[float]]:
    """Shares in (0, 1) for each of so many inputs, one in each of `count` strata, in an order of its own.

    Kept: every range asks for the same.
    """
    chance = random.Random(seed)
    columns = []
    for _ in range(inputs):
        strata = [(place + chance.random()) / count for place in range(count)]
        for last in range(count - 1, 0, -1):  # Fisher–Yates with random() alone: the same order in every Python
            other = int(chance.random() * (last + 1))
            strata[last], strata[other] = strata[other], strata[last]
        columns.append(strata)
    return columns


def draws(entry: "Calculator", given: Mapping[str, Any], count: int, seed: int = SEED) -> list[dict[str, float]]:
    """`count` sets of changed inputs: a Latin hypercube over the inputs with a plausible range (McKay, Beckman &
    Conover 1979).
    """
    names = drawn(entry, given)
    columns = []
    for name, shares in zip(names, hypercube(len(names), count, seed)):
        description = entry.numeric_inputs[name]
        low, high = limits(description, given[name])
        column = [triangular(share, low, given[name], high) for share in shares]
        columns.append([round(value) for value in column] if description.whole else column)
    return [dict(zip(names, values)) for values in zip(*columns)]


def percentile(ordered: Sequence[float], share: float) -> float:
    """Percentile of an ordered list by linear interpolation between order statistics.

    >>> percentile([1.0, 2.0, 3.0, 4.0], 0.5)
    2.5
    """
    place = share * (len(ordered) - 1)
    below = int(place)
    above = min(below + 1, len(ordered) - 1)
    return ordered[below] + (place - below) * (ordered[above] - ordered[below])


def spread(
    entry: "Calculator", given: Mapping[str, Any], output: str, samples: int | None = None, seed: int = SEED
) -> dict[str, Any]:
    """10th, 50th and 90th percentile of an output over the inputs that carry a range, and a histogram of 20 classes.

    A share that is itself counted over such draws already has all of that in it: its range is how far another count
    might differ.
    """
    counter = numeric_output(entry, output).counted_by
    if counter and (share := value_at(entry, given, output)) is not None:
        return counted(share, given[counter], seed)
    values = sorted(some_values(entry, given, output, draws(entry, given, samples or entry.samples, seed)))
    if not values:
        own = getattr(entry.function(**given), output)
        if isinstance(own, Band):  # nothing to draw from the inputs, but the calculator knows a range of its own
            return {
                "p10": own.low,
                "p50": own.value,
                "p90": own.high,
                "samples": 0,
                "seed": seed,
                "histogram": [(own.low, own.high, 1)],
            }
        value = value_at(entry, given, output)
        if value is None:
            raise Refused([(output, f"{entry.outputs[output].label} has no number here, so it has no range.")])
        values = [value]
    return spread_of(entry, given, values, seed)


def some_values(
    entry: "Calculator", given: Mapping[str, Any], output: str, changes: Sequence[Mapping[str, float]]
) -> list[float]:
    """The output at some draws; what cannot be answered is left out.

    The draws of a hypercube come in no order, so the first of them are a fair sample of all.
    """
    found = (value_at(entry, given, output, **change) for change in changes)
    return [value for value in found if value is not None]


def spread_of(
    entry: "Calculator", given: Mapping[str, Any], values: Sequence[float], seed: int = SEED
) -> dict[str, Any]:
    """What is said of values that were drawn: percentiles and a histogram of 20 classes."""
    values = sorted(values)
    return {
        "p10": percentile(values, 0.1),
        "p50": percentile(values, 0.5),
        "p90": percentile(values, 0.9),
        "samples": len(values),
        "seed": seed,
        "moved": drawn(entry, given),
        "histogram": histogram(values),
    }


def counted(share: float, count: int, seed: int = SEED) -> dict[str, Any]:
    """80 % interval of a share counted over so many independent draws (Wilson 1927): at a true share in it, such a
    count is no surprise.

    Draws from a Latin hypercube scatter less, so the interval is wide rather than narrow.
    >>> [round(end, 3) for end in (counted(0.5, 500)["p10"], counted(0.0, 500)["p90"])]
    [0.471, 0.003]
    """
    middle = (share + EIGHT_IN_TEN**2 / (2 * count)) / (1 + EIGHT_IN_TEN**2 / count)
    half = (
        EIGHT_IN_TEN
        / (1 + EIGHT_IN_TEN**2 / count)
        * sqrt(share * (1 - share) / count + EIGHT_IN_TEN**2 / (4 * count**2))
    )
    low, high = max(0.0, middle - half), min(1.0, middle + half)
    return {
        "p10": low,
        "p50": share,
        "p90": high,
        "samples": 0,
        "counted": count,
        "seed": seed,
        "histogram": [(low, high, 1)],
    }


def histogram(ordered: Sequence[float], classes: int = 20) -> list[tuple[float, float, int]]:
    """[(low edge, high edge, count)] over ordered values."""
    low, high = ordered[0], ordered[-1]
    if high <= low:
        return [(low, high, len(ordered))]
    width = (high - low) / classes
    counts = [0] * classes
    for value in ordered:
        counts[min(int((value - low) / width), classes - 1)] += 1
    return [(low + place * width, low + (place + 1) * width, count) for place, count in enumerate(counts)]


def with_bands(entry: "Calculator", given: Mapping[str, Any], answer: Any) -> Any:
    """The answer with low–high filled in for ranged outputs that the function left as plain numbers (10th–90th
    percentile).
    """
    open_ends = [
        name
        for name, output in entry.outputs.items()
        if output.ranged and isinstance(getattr(answer, name), (int, float))
    ]
    if not open_ends:
        return answer
    sampled: dict[str, list[float]] = {name: [] for name in open_ends}
    for change in draws(entry, given, BAND_SAMPLES):
        try:
            drawn = entry.function(**{**given, **change})
        except (Refused, ArithmeticError):
            continue
        for name in open_ends:
            value = typical(getattr(drawn, name))
            if isinstance(value, (int, float)):
                sampled[name].append(float(value))
    bands = {}
    for name in open_ends:
        value = float(getattr(answer, name))
        ordered = sorted(sampled[name]) or [value]
        bands[name] = Band(value, min(percentile(ordered, 0.1), value), max(percentile(ordered, 0.9), value))
    return replace(answer, **bands)


# ---- aim


def aim(
    entry: "Calculator",
    given: Mapping[str, Any],
    output: str,
    wanted: float | str,
    vary: str | None,
    system: str | None = None,
    currency: str = "$",
    steps: int = 48,
) -> dict[str, Any]:
    """The value of one input that brings one output to a wanted value, nearest to where the input stands now.

    The input's whole range is scanned first, so that a curve with a summit is found too, then its crossings are
    bisected. Where several values would do, the nearest to the present one is taken and the others are named.
    """
    target_output, goal, description = aim_asked(entry, output, wanted, vary, system, currency)
    assert vary is not None  # aim_asked refuses it
    stands = standing(entry, given)[vary]
    now = (description.low + description.high) / 2 if stands is None else stands
    given = {**given, **in_place_of(entry.inputs, vary)}

    def gap(value: float) -> float | None:
        result = value_at(entry, given, output, **{vary: value})
        return (
            None if result is None else 0.0 if abs(result - goal) <= 1e-11 * abs(goal) else result - goal
        )  # a goal may be a printed result, of twelve digits

    known = [
        (place, difference) for place in scan_places(description, now, steps) if (difference := gap(place)) is not None
    ]
    if not known:
        raise Refused([(output, f"{target_output.label} has no number for any {lower_first(description.label)}.")])
    nearest = sorted(crossings(known, now), key=lambda pair: min(abs(pair[0][0] - now), abs(pair[1][0] - now)))
    reached = [crossing(gap, *pair, description.whole) for pair in nearest[:MOST_CROSSINGS]]
    near = [
        place
        for place, difference in reached
        if abs(difference) <= 1e-6 * max(1.0, abs(goal)) or _told_alike(target_output, goal, goal + difference, system)
    ]
    # One that reaches the value goes before a mere jump over it; then the nearest to where the input stands, and the
    # others are named.
    if near:
        value, left = min((one for one in reached if one[0] in near), key=lambda one: abs(one[0] - now))
    else:
        value, left = min(reached or known, key=lambda one: (abs(one[1]), abs(one[0] - now)))
    aimed: dict[str, Any] = {
        "output": output,
        "vary": vary,
        "value": value,
        "unit": description.unit,
        "reached": bool(near),
        "at": goal + left,
        "goal": goal,
    }
    if others := _apart(near, value):
        aimed["others"] = others
        aimed["message"] = _several(description, aimed, system, currency)
    elif not near:
        still = all(abs(difference - left) <= 1e-9 * max(1.0, abs(goal)) for _, difference in known)
        aimed["message"] = _cannot(
            target_output, description, aimed, "still" if still else "steps" if reached else "", system, currency
        )
    return aimed


def crossings(known: Sequence[Reached], now: float) -> list[tuple[Reached, Reached]]:
    """Neighbours [(place, gap)] between which the gap goes through zero.

    Places in a row that all meet the value count once: the nearest to now.
    """
    pairs: list[tuple[Reached, Reached]] = []
    level: list[Reached] = []
    ending: tuple[None, None] = (None, None)
    for before, after in zip(known, [*known[1:], ending]):
        if before[1] == 0:
            level.append(before)
            if after[1] != 0:
                nearest = min(level, key=lambda one: abs(one[0] - now))
                pairs.append((nearest, nearest))
                level = []
        elif after[0] is not None and after[1] and (before[1] < 0) != (after[1] < 0):
            pairs.append((before, (after[0], after[1])))
    return pairs


def crossing(gap: Callable[[float], float | None], low: Reached, high: Reached, whole: bool = False) -> Reached:
    """(place, gap there) where `gap` is zero between two places given as (place, gap there); the nearer side where it
    jumps over zero.
    """
    while abs(high[0] - low[0]) > (1 if whole else 0):
        middle = (low[0] + high[0]) // 2 if whole else (low[0] + high[0]) / 2
        if middle in (low[0], high[0]):
            break
        there = gap(middle)
        if there is None:
            break
        if there == 0:
            return middle, there
        low, high = ((middle, there), high) if (there < 0) == (low[1] < 0) else (low, (middle, there))
    return min(low, high, key=lambda one: abs(one[1]))


def _told_alike(output: Output, goal: float, at: float, system: str | None) -> bool:
    """Whether a result reads as the one wanted, in four digits: a herd counted day by day may jump by less than
    that.
    """
    shown = output.shown(system)
    return quantity_text(at, output.unit, shown, 4) == quantity_text(goal, output.unit, shown, 4)


def _apart(places: Sequence[float], chosen: float) -> list[float]:
    """Places that differ from the chosen one and from each other, in order."""
    kept = [chosen]
    for place in sorted(places):
        if all(abs(place - other) > 1e-6 * max(1e-9, abs(chosen)) for other in kept):
            kept.append(place)
    return kept[1:]


def _several(description: Number, aimed: Mapping[str, Any], system: str | None, currency: str) -> str:
    """Words for an aim that more than one value meets."""
    value, *others = (
        quantity_text(place, description.unit, description.shown(system), 4, currency)
        for place in (aimed["value"], *aimed["others"])
    )
    return (
        f"{' and '.join(others)} would do as well: {value} is the nearest to where {lower_first(description.label)}"
        " stands now. Look at the warnings of each before you choose."
    )


def _cannot(
    output: Output, description: Number, aimed: Mapping[str, Any], why: str, system: str | None, currency: str
) -> str:
    """`cannot reach 40 kg/week: 31 kg/week is the most, at …`; a result in whole bags or trays jumps over the value
    instead, another does not move at all.
    """
    goal, at = (
        quantity_text(aimed[key], output.unit, output.shown(system), 4 if why == "steps" else output.digits, currency)
        for key in ("goal", "at")
    )
    place = quantity_text(aimed["value"], description.unit, description.shown(system), 4, currency)
    if why == "still":
        return f"{output.label} does not change with {lower_first(description.label)}: it stays at {at}."
    if why == "steps":
        return f"{output.label} moves in steps and does not stop at {goal}: at {place} it is {at}."
    extreme = "the most" if aimed["goal"] > aimed["at"] else "the least"
    return (
        f"{output.label} cannot reach {goal} by changing {lower_first(description.label)} alone: {at} is {extreme}, at"
        f" {place}."
    )


def _goal(output: Output, name: str, wanted: float | str, system: str | None, currency: str) -> float:
    as_input = Number(output.unit, output.label, -1e15, 1e15, us=output.us, metric=output.metric)
    try:
        return (
            as_input.from_text(wanted, system, currency)
            if isinstance(wanted, str)
            else as_input.value(wanted, system, currency)
        )
    except Told as told:
        raise Refused([(name, str(told))]) from None


def scan_places(description: Number, now: float, steps: int) -> list[float]:
    """Values over an input's bounds, denser around where it stands: even steps, and doublings away from it; whole ones
    next to it, each.
    """
    low, high = description.low, description.high
    places = {low, high, now}
    places.update(low + (high - low) * step / steps for step in range(1, steps))
    if now > 0:
        for step in range(1, 41):
            places.update(place for place in (now * 1.25**step, now / 1.25**step) if low <= place <= high)
    if not description.whole:
        return sorted(places)
    return sorted(
        {round(place) for place in places}
        | set(range(round(max(low, now - NEXT_WHOLE)), round(min(high, now + NEXT_WHOLE)) + 1))
    )
