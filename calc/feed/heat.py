"""Reading a heap's temperature log: how long it was hot, and what that does to germs.

A log is two lists of equal length, in order of time: hours since the first reading, and temperature [°C]. Between two
readings the temperature is taken as a straight line, so the moment a threshold is crossed is found by interpolation.
Where
two readings lie further apart than the longest gap allowed, nothing is known between them: that time does not count as
hot, and a stretch that would run across it is broken. A reading that cannot be believed keeps its time and has None for
a temperature: the time on both sides of it is unknown as well.
"""

from bisect import bisect_right
from collections.abc import Iterator, Sequence
from math import expm1, inf, log

HOURS_PER_DAY = 24.0
ROUNDING = 1e-6  # hours; "12 hours apart" may come out as 12.000000000001
TURNING_TAKES = 3.0  # hours before the time written down in which a turning may have begun; our own judgement
LETHAL_FROM = 50.0  # the time-temperature equation is written for 50 °C and above
DECADE = 0.14  # powers of ten per °C in that equation
DAYS_AT_ZERO = 131_700_000.0  # its constant, for material of 7 % solids or more


def days_to_kill(temperature: float, constant: float = DAYS_AT_ZERO) -> float:
    """Time at a steady temperature that the published equation asks for [days].

    D = 131,700,000 ÷ 10^(0.14·t). temperature [°C], 50 or more. With constant=50,070,000: sludge under 7 % solids.
    ValueError below 50 °C, where the equation does not hold.
    Source: 40 CFR 503.32(a)(3)(ii), as printed in state copies; written for sewage sludge, and not the rule for
    compost.
    >>> round(days_to_kill(55), 6)
    2.62776
    """
    if temperature < LETHAL_FROM:
        raise ValueError("the equation holds from 50 °C up")
    return constant / 10 ** (DECADE * temperature)


def known_spans(
    hours: Sequence[float], temperatures: Sequence[float | None], longest_gap: float
) -> Iterator[tuple[float, float, float, float]]:
    """Pairs of neighbouring readings no further apart than the gap: (start, end, temperature there, temperature there).

    hours [h], longest_gap [h], temperatures [°C].
    """
    for start, end, first, second in zip(hours, hours[1:], temperatures, temperatures[1:]):
        if end - start <= longest_gap + ROUNDING and first is not None and second is not None:
            yield start, end, first, second


def stretches(
    hours: Sequence[float], temperatures: Sequence[float | None], longest_gap: float, low: float, high: float = inf
) -> list[tuple[float, float]]:
    """Times during which the log runs from low to high without a break [list of (start, end), h].

    hours [h] rising, temperatures [°C], longest_gap [h], low and high [°C], both included. A single reading between two
    gaps has no length and makes no stretch.
    >>> stretches([0, 10, 20], [50, 60, 50], 12, 55)
    [(5.0, 15.0)]
    >>> stretches([0, 10, 30], [60, 60, 60], 12, 55)
    [(0, 10)]
    """
    found: list[tuple[float, float]] = []
    for start, end, first, second in known_spans(hours, temperatures, longest_gap):
        inside = _inside(start, end, first, second, low, high)
        if inside is None:
            continue
        if found and found[-1][1] == inside[0]:
            found[-1] = (found[-1][0], inside[1])
        else:
            found.append(inside)
    return [(start, end) for start, end in found if end > start]


def _inside(
    start: float, end: float, first: float, second: float, low: float, high: float
) -> tuple[float, float] | None:
    """The part of one straight line between two readings that lies from low to high, or None."""
    if low <= first <= high and low <= second <= high:
        return start, end
    if max(first, second) < low or min(first, second) > high:
        return None
    per_degree = (end - start) / (second - first)
    crossings = sorted((start + (low - first) * per_degree, start + (high - first) * per_degree))
    # A line that only touches the limit at a reading keeps that reading's exact time, so stretches join up.
    begin = start if low <= first <= high else max(start, crossings[0])
    finish = end if low <= second <= high else min(end, crossings[1])
    return begin, finish


def days_in(found: Sequence[tuple[float, float]]) -> float:
    """Total length of stretches [days], from hours."""
    return sum(end - start for start, end in found) / HOURS_PER_DAY


def longest(found: Sequence[tuple[float, float]]) -> tuple[float, float] | None:
    """The longest stretch (start, end) [h]; the earliest of equals; None when there is none."""
    return max(found, key=lambda stretch: stretch[1] - stretch[0], default=None)


def lethality(hours: Sequence[float], temperatures: Sequence[float | None], longest_gap: float) -> float:
    """Share of the published time-temperature requirement gathered over the log [-]: ∫ dt ÷ D(T); 1 is "enough".

    Exact for straight lines between readings; only time at 50 °C and above counts, and gaps count nothing.
    hours [h] rising, temperatures [°C], longest_gap [h].
    Source: days_to_kill.
    >>> round(lethality([0, 72], [55, 55], 100), 5)
    1.14166
    """
    gathered = 0.0
    for start, end, first, second in known_spans(hours, temperatures, longest_gap):
        inside = _inside(start, end, first, second, LETHAL_FROM, inf)
        if inside is None:
            continue
        days = (inside[1] - inside[0]) / HOURS_PER_DAY
        cooler = max(LETHAL_FROM, min(first, second))
        rise = DECADE * log(10) * (max(first, second) - cooler)
        # Mean of e^(kT) along a line: e^(kT₀)·(e^x − 1)/x, which tends to 1 for a level one.
        mean_growth = expm1(rise) / rise if rise > 1e-9 else 1.0
        gathered += days / days_to_kill(cooler) * mean_growth
    return gathered


def mean_above(
    hours: Sequence[float], temperatures: Sequence[float | None], longest_gap: float, low: float
) -> tuple[float, float | None]:
    """Longest time without a break at or above a temperature [days], and the mean temperature [°C] during it; (0, None)
    when never.

    hours [h] rising, temperatures [°C], longest_gap [h], low [°C].
    >>> mean_above([0, 24, 48, 72, 96], [50, 50, 30, 50, 50], 24, 40)
    (1.5, 48.333333333333336)
    """
    stretch = longest(stretches(hours, temperatures, longest_gap, low))
    if stretch is None:
        return 0.0, None
    total = weighted = 0.0
    for start, end, first, second in known_spans(hours, temperatures, longest_gap):
        inside = _inside(start, end, first, second, low, inf)
        if inside is None or inside[0] < stretch[0] or inside[1] > stretch[1]:
            continue
        duration = inside[1] - inside[0]
        total += duration
        weighted += duration * (max(first, low) + max(second, low)) / 2
    return total / HOURS_PER_DAY, weighted / total if total else None


def temperature_at(
    hour: float, hours: Sequence[float], temperatures: Sequence[float | None], longest_gap: float
) -> float | None:
    """Temperature at a moment by interpolation [°C], None outside the log or in a gap.

    hour [h], hours [h] rising, temperatures [°C], longest_gap [h].
    """
    if not hours or not hours[0] <= hour <= hours[-1]:
        return None
    after = bisect_right(hours, hour)
    if hours[after - 1] == hour:
        return temperatures[after - 1]
    start, end = hours[after - 1], hours[after]
    first, second = temperatures[after - 1], temperatures[after]
    if end - start > longest_gap + ROUNDING or first is None or second is None:
        return None
    return first + (second - first) * (hour - start) / (end - start)


def hot_at(
    hour: float,
    hours: Sequence[float],
    temperatures: Sequence[float | None],
    longest_gap: float,
    low: float,
    before: float = TURNING_TAKES,
) -> bool:
    """Whether the heap was hot when it was turned: at that moment, in the hours before it, or at the last reading.

    Turning cools a heap, and the probe is out of it before the fork goes in and when the time is written down: the line
    down to the first reading after it, or a cool reading just before, would hide a turning made while it was hot.
    hour [h], hours [h] rising, temperatures [°C], longest_gap [h], low [°C]; before [h] that count.
    """
    now = temperature_at(hour, hours, temperatures, longest_gap)
    if now is not None and now >= low:
        return True
    last = bisect_right(hours, hour) - 1
    if last < 0 or hour > hours[-1] or hour - hours[last] > longest_gap + ROUNDING:
        return False
    while last >= 0:
        reading = temperatures[last]
        if reading is not None and reading >= low:
            return True
        last -= 1
        if hour - hours[last] > before:
            return False
    return False


# --- readings that cannot be what they say -------------------------------------------------------------------------

HOTTEST_HEAP = 95.0  # °C; past this a heap would burn or the figure is in °F
JUMP = 20.0  # °C between neighbouring readings
FASTEST_RISE = 5.0  # °C an hour: no heap warms faster, but turning or a probe pulled out cools it at once
AGREES = 12.0  # °C from its neighbour once read in the other unit


def _jumps(duration: float, change: float) -> bool:
    return change < -JUMP or change > max(JUMP, FASTEST_RISE * duration)


def in_other_unit(
    hours: Sequence[float],
    temperatures: Sequence[float],
    longest_gap: float,
    turned: Sequence[float] = (),
) -> list[int]:
    """Positions of readings that fit their neighbours only if read in the other unit, °F for °C or °C for °F.

    The first reading's unit is followed along the log; of the two kinds, the smaller group is the odd one. A probe
    pulled out of a hot heap on a mild day looks the same, so the caller says "left out", not "converted". A fall at a
    turning is the turning's own. And a fall from which the heap warms up again step by step is no change of unit: that
    would have to jump back.
    hours [h] rising, temperatures [°C] as read, longest_gap [h]; turned: hours of the turnings.
    >>> in_other_unit([0, 1, 2, 3, 4], [55, 56, 133, 134, 57], 12)
    [2, 3]
    >>> in_other_unit([0, 1, 2, 3, 4, 5], [60, 60, 16, 20, 25, 30], 12, [1.5])
    []
    """
    odd: list[int] = []
    last: tuple[float, float] | None = None  # time and temperature in the first reading's unit
    hottest = temperatures[0] if temperatures else 0.0  # of those in the first reading's unit
    for position, (hour, stated) in enumerate(zip(hours, temperatures)):
        temperature = stated
        if last is not None and hour - last[0] <= longest_gap and _jumps(hour - last[0], stated - last[1]):
            as_celsius, as_fahrenheit = 1.8 * stated + 32, (stated - 32) / 1.8
            far, other = min((abs(value - last[1]), value) for value in (as_celsius, as_fahrenheit))
            at_turning = stated < last[1] and _turned_between(last[0], hour, turned)
            if far <= AGREES and not at_turning and other <= max(HOTTEST_HEAP, hottest + JUMP):
                odd.append(position)
                temperature = other
            elif far <= AGREES and odd and odd[-1] == position - 1:
                # In the other unit the heap would be hotter than any: the run before was a heap that cooled.
                del odd[-len(_groups(odd)[-1]) :]
        last = (hour, temperature)
        if temperature == stated:
            hottest = max(hottest, stated)
    if 2 * len(odd) > len(hours):
        marked = set(odd)
        odd = [position for position in range(len(hours)) if position not in marked]
    return [
        position for group in _groups(odd) if not _comes_back_slowly(group, hours, temperatures) for position in group
    ]


def _turned_between(start: float, end: float, turned: Sequence[float]) -> bool:
    """Whether a turning was under way between two readings [h]: written down at its beginning, or up to its end."""
    return any(start - TURNING_TAKES <= hour <= end + TURNING_TAKES for hour in turned)


def _groups(positions: Sequence[int]) -> list[list[int]]:
    """Positions in runs of neighbours.

    >>> _groups([1, 2, 5])
    [[1, 2], [5]]
    """
    found: list[list[int]] = []
    for position in positions:
        if found and position == found[-1][-1] + 1:
            found[-1].append(position)
        else:
            found.append([position])
    return found


def _comes_back_slowly(group: Sequence[int], hours: Sequence[float], temperatures: Sequence[float]) -> bool:
    """Whether readings fell and then rose again step by step, the next one no jump away: a heap that was cooled."""
    before, after = group[0] - 1, group[-1] + 1
    if before < 0 or after >= len(hours) or temperatures[group[0]] >= temperatures[before]:
        return False
    return not _jumps(hours[after] - hours[after - 1], temperatures[after] - temperatures[after - 1])
