"""Three questions that any calculator can be asked, because it is a pure function: aim, what moves it, and range."""

import random
from dataclasses import fields, replace
from difflib import get_close_matches
from functools import lru_cache
from math import sqrt

from calc.engine.describe import Band, Number, Refused, as_written, typical
from calc.engine.quantity import quantity_text
from calc.engine.read import Told, number_from_text, read_value
from calc.engine.view import lower_first

SEED = 20270301
BAND_SAMPLES = 64
MOST_CROSSINGS = 6  # of an aim that are looked into: a result in steps may cross its goal many times
EIGHT_IN_TEN = 1.2815515655446004  # standard deviations either side of the mean that hold 80 % of a normal distribution
SHARE_EACH_WAY = 0.2  # how far an input without a published range is moved: a fifth each way, said beside the figure


def numeric_output(entry, name):
    """The description of an output that has a number; Refused when there is no such output."""
    if name not in entry.outputs:
        near = get_close_matches(as_written(name), entry.outputs, n=1, cutoff=0.5)
        raise Refused([(name, f"{entry.id} has no output “{as_written(name)}”." + (f" The nearest is {near[0]}." if near else f" It has: {', '.join(entry.outputs)}."))])
    return entry.outputs[name]


def value_at(entry, given, output, **changes):
    """The output as a plain number with some inputs changed; None where those inputs cannot be answered."""
    try:
        value = typical(getattr(entry.function(**{**given, **changes, **entry.without_counting(output)}), output))
    except (Refused, ArithmeticError):
        return None
    return float(value) if isinstance(value, (int, float)) else None


def limits(description, value):
    """(low, high) between which an input is moved: its plausible range, else a fifth each way, within its bounds."""
    plausible = description.plausible()
    if plausible:
        low, high = min(plausible[0], value), max(plausible[1], value)
    else:
        low, high = sorted((value * (1 - SHARE_EACH_WAY), value * (1 + SHARE_EACH_WAY)))
    low, high = max(low, description.low), min(high, description.high)
    return (round(low), round(high)) if description.whole else (low, high)


def movable(entry, given):
    """Names of the number inputs that have a value and can be moved."""
    return [n for n, d in entry.inputs.items() if isinstance(d, Number) and given[n] is not None]


def drawn(entry, given):
    """Names of the inputs that a range moves: those with a value and a plausible range."""
    return [name for name in movable(entry, given) if entry.inputs[name].plausible()]


# ---- what moves it


def moves(entry, given, output):
    """[{input, low, high, from, to}], widest first: the output with each input at its low and at its high, the others held."""
    numeric_output(entry, output)
    found = []
    for name, description in entry.inputs.items():
        if not isinstance(description, Number) or (given[name] is None and not description.fact):
            continue
        # A blank that follows something else is moved over the range of the figure behind it.
        start, end = limits(description, description.fact.typical if given[name] is None else given[name])
        if start == end:
            continue
        low, high = value_at(entry, given, output, **{name: start}), value_at(entry, given, output, **{name: end})
        if low is not None and high is not None and low != high:
            found.append({"input": name, "low": low, "high": high, "from": start, "to": end})
    return sorted(found, key=lambda move: -abs(move["high"] - move["low"]))


# ---- range


def triangular(share, low, mode, high):
    """Inverse of the triangular distribution's cumulative curve at `share` [0–1]; plain arithmetic and a square root."""
    if high <= low:
        return mode
    split = (mode - low) / (high - low)
    if share < split:
        return low + sqrt(share * (high - low) * (mode - low))
    return high - sqrt((1 - share) * (high - low) * (high - mode))


@lru_cache(maxsize=4)
def hypercube(inputs, count, seed):
    """Shares in (0, 1) for each of so many inputs, one in each of `count` strata, in an order of its own. Kept: every range asks for the same."""
    chance = random.Random(seed)
    found = []
    for _ in range(inputs):
        strata = [(place + chance.random()) / count for place in range(count)]
        for last in range(count - 1, 0, -1):  # Fisher–Yates with random() alone: the same order in every Python
            other = int(chance.random() * (last + 1))
            strata[last], strata[other] = strata[other], strata[last]
        found.append(strata)
    return found


def draws(entry, given, count, seed=SEED):
    """`count` sets of changed inputs: a Latin hypercube over the inputs with a plausible range (McKay, Beckman & Conover 1979)."""
    names = drawn(entry, given)
    columns = []
    for name, shares in zip(names, hypercube(len(names), count, seed)):
        description = entry.inputs[name]
        low, high = limits(description, given[name])
        column = [triangular(share, low, given[name], high) for share in shares]
        columns.append([round(value) for value in column] if description.whole else column)
    return [dict(zip(names, values)) for values in zip(*columns)]


def percentile(ordered, share):
    """Percentile of an ordered list by linear interpolation between order statistics.

    >>> percentile([1.0, 2.0, 3.0, 4.0], 0.5)
    2.5
    """
    place = share * (len(ordered) - 1)
    below = int(place)
    above = min(below + 1, len(ordered) - 1)
    return ordered[below] + (place - below) * (ordered[above] - ordered[below])


def spread(entry, given, output, samples=None, seed=SEED):
    """10th, 50th and 90th percentile of an output over the inputs that carry a range, and a histogram of 20 classes.

    A share that is itself counted over such draws already has all of that in it: its range is how far another count might differ.
    """
    counter = numeric_output(entry, output).counted_by
    if counter and value_at(entry, given, output) is not None:
        return counted(value_at(entry, given, output), given[counter], seed)
    values = sorted(v for change in draws(entry, given, samples or entry.samples, seed) if (v := value_at(entry, given, output, **change)) is not None)
    if not values:
        own = getattr(entry.function(**given), output)
        if isinstance(own, Band):  # nothing to draw from the inputs, but the calculator knows a range of its own
            return {"p10": own.low, "p50": own.value, "p90": own.high, "samples": 0, "seed": seed, "histogram": [(own.low, own.high, 1)]}
        value = value_at(entry, given, output)
        if value is None:
            raise Refused([(output, f"{entry.outputs[output].label} has no number here, so it has no range.")])
        values = [value]
    return {
        "p10": percentile(values, 0.1), "p50": percentile(values, 0.5), "p90": percentile(values, 0.9),
        "samples": len(values), "seed": seed, "moved": drawn(entry, given), "histogram": histogram(values),
    }  # fmt: skip


def counted(share, count, seed=SEED):
    """80 % interval of a share counted over so many independent draws (Wilson 1927): at a true share in it, such a count is no surprise.

    Draws from a Latin hypercube scatter less, so the interval is wide rather than narrow.
    >>> [round(end, 3) for end in (counted(0.5, 500)["p10"], counted(0.0, 500)["p90"])]
    [0.471, 0.003]
    """
    middle = (share + EIGHT_IN_TEN**2 / (2 * count)) / (1 + EIGHT_IN_TEN**2 / count)
    half = EIGHT_IN_TEN / (1 + EIGHT_IN_TEN**2 / count) * sqrt(share * (1 - share) / count + EIGHT_IN_TEN**2 / (4 * count**2))
    low, high = max(0.0, middle - half), min(1.0, middle + half)
    return {"p10": low, "p50": share, "p90": high, "samples": 0, "counted": count, "seed": seed, "histogram": [(low, high, 1)]}


def histogram(ordered, classes=20):
    """[(low edge, high edge, count)] over ordered values."""
    low, high = ordered[0], ordered[-1]
    if high <= low:
        return [(low, high, len(ordered))]
    width = (high - low) / classes
    counts = [0] * classes
    for value in ordered:
        counts[min(int((value - low) / width), classes - 1)] += 1
    return [(low + place * width, low + (place + 1) * width, count) for place, count in enumerate(counts)]


def with_bands(entry, given, answer):
    """The answer with low–high filled in for ranged outputs that the function left as plain numbers (10th–90th percentile)."""
    open_ends = [f.name for f in fields(answer) if entry.outputs[f.name].ranged and isinstance(getattr(answer, f.name), (int, float))]
    if not open_ends:
        return answer
    sampled = {name: [] for name in open_ends}
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


def aim(entry, given, output, wanted, vary, system=None, currency="$", steps=48):
    """The value of one input that brings one output to a wanted value, nearest to where the input stands now.

    The input's whole range is scanned first, so that a curve with a summit is found too, then its crossings are bisected. Where several
    values would do, the nearest to the present one is taken and the others are named.
    """
    target_output = numeric_output(entry, output)
    goal = _goal(target_output, output, wanted, system, currency)
    if vary not in entry.inputs or not isinstance(entry.inputs[vary], Number):
        raise Refused([("vary", f"{entry.id} has no number input “{as_written(vary)}” to move. It has: {', '.join(n for n, d in entry.inputs.items() if isinstance(d, Number))}.")])
    description = entry.inputs[vary]
    now = given[vary] if given[vary] is not None else (description.fact.typical if description.fact else (description.low + description.high) / 2)

    def gap(value):
        result = value_at(entry, given, output, **{vary: round(value) if description.whole else value})
        return None if result is None else result - goal

    places = scan_places(description, now, steps)
    gaps = [(place, gap(place)) for place in places]
    known = [(place, difference) for place, difference in gaps if difference is not None]
    if not known:
        raise Refused([(output, f"{target_output.label} has no number for any {lower_first(description.label)}.")])
    crossings = [(a, b) for a, b in zip(known, known[1:]) if a[1] == 0 or b[1] == 0 or (a[1] < 0) != (b[1] < 0)]
    found = []
    for low, high in sorted(crossings, key=lambda pair: min(abs(pair[0][0] - now), abs(pair[1][0] - now)))[:MOST_CROSSINGS]:
        value = crossing(gap, low, high)
        value = round(value) if description.whole else value
        there = gap(value)
        found.append((there is not None and (description.whole or abs(there) <= 1e-6 * max(1.0, abs(goal))), value, there))
    if found:
        # One that reaches the value goes before a mere jump over it; then the nearest to where the input stands, and the others are named.
        reached, value, reached_gap = min(found, key=lambda one: (not one[0], abs(one[1] - now)))
    else:
        value, reached_gap = min(known, key=lambda pair: (abs(pair[1]), abs(pair[0] - now)))
        reached = False
    apart = 1e-6 * max(1e-9, abs(value))
    others = []
    for also, place, _ in sorted(found, key=lambda one: one[1]):
        if reached and also and all(abs(place - known_place) > apart for known_place in (value, *others)):
            others.append(place)
    aimed = {"output": output, "vary": vary, "value": value, "unit": description.unit, "reached": reached, "at": goal + (reached_gap or 0.0), "goal": goal}
    if others:
        aimed["others"] = others
        aimed["message"] = _several(description, aimed, system, currency)
    elif not reached:
        aimed["message"] = _cannot(target_output, description, aimed, bool(crossings), system, currency)
    return aimed


def crossing(gap, low, high):
    """Zero of `gap` between two places given as (place, gap there)."""
    return low[0] if low[1] == 0 else high[0] if high[1] == 0 else bisect(gap, *low, high[0])


def _several(description, found, system, currency):
    """Words for an aim that more than one value meets."""
    value, *others = (quantity_text(place, description.unit, description.shown(system), 4, currency) for place in (found["value"], *found["others"]))
    return f"{' and '.join(others)} would do as well: {value} is the nearest to where {lower_first(description.label)} stands now. Look at the warnings of each before you choose."


def _cannot(output, description, found, stepped, system, currency):
    """`cannot reach 40 kg/week: 31 kg/week is the most, at …`; a result in whole bags or trays jumps over the value instead."""
    goal, at = (quantity_text(found[key], output.unit, output.shown(system), output.digits, currency) for key in ("goal", "at"))
    place = quantity_text(found["value"], description.unit, description.shown(system), 4, currency)
    if stepped:
        return f"{output.label} moves in steps and does not stop at {goal}: at {place} it is {at}."
    extreme = "the most" if found["goal"] > found["at"] else "the least"
    return f"{output.label} cannot reach {goal} by changing {lower_first(description.label)} alone: {at} is {extreme}, at {place}."


def _goal(output, name, wanted, system, currency):
    as_input = Number(output.unit, output.label, -1e15, 1e15, us=output.us, metric=output.metric)
    try:
        return number_from_text(as_input, wanted, system, currency) if isinstance(wanted, str) else read_value(as_input, wanted, system, currency)
    except Told as told:
        raise Refused([(name, str(told))]) from None


def scan_places(description, now, steps):
    """Values over an input's bounds, denser around where it stands: even steps, and doublings away from it."""
    low, high = description.low, description.high
    places = {low, high, now}
    places.update(low + (high - low) * step / steps for step in range(1, steps))
    if now > 0:
        for step in range(1, 41):
            places.update(place for place in (now * 1.25**step, now / 1.25**step) if low <= place <= high)
    return sorted({round(place) for place in places} if description.whole else places)


def bisect(gap, low, low_gap, high):
    """Zero of `gap` between two places of different sign, to the last bit or 80 halvings."""
    for _ in range(80):
        middle = (low + high) / 2
        if middle in (low, high):
            break
        middle_gap = gap(middle)
        if middle_gap is None or middle_gap == 0:
            return middle
        if (middle_gap < 0) == (low_gap < 0):
            low = middle
        else:
            high = middle
    return (low + high) / 2
