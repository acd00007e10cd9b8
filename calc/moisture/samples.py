"""What weighings say: moisture of samples, how sure their mean is, and when drying has come to its end."""

from collections.abc import Sequence
from math import atan, cos, pi, sin, sqrt


def moisture_of_sample(tare: float, wet: float, dry: float) -> float:
    """Moisture of one sample, wet basis [-]: the water driven off over what was weighed in.

    tare, wet, dry [kg]: the empty container, with the sample as taken, and with the dried sample.
    >>> round(moisture_of_sample(0.050, 0.150, 0.075), 6)
    0.75
    """
    return (wet - dry) / (wet - tare)


def dry_basis(moisture: float) -> float:
    """Water per dry matter [-] from a wet-basis moisture [-].

    Source: definition; soil laboratories report this one (ASTM D2216).
    >>> dry_basis(0.75)
    3.0
    """
    return moisture / (1 - moisture)


def mean(values: Sequence[float]) -> float:
    """Arithmetic mean."""
    return sum(values) / len(values)


def standard_deviation(values: Sequence[float]) -> float:
    """Spread of a sample about its mean, n - 1 in the divisor; needs two values or more.

    >>> round(standard_deviation([2, 4, 4, 4, 5, 5, 7, 9]), 6)
    2.13809
    """
    middle = mean(values)
    return sqrt(sum((value - middle) ** 2 for value in values) / (len(values) - 1))


def student_share_within(limit: float, freedom: int) -> float:
    """Share of Student's t distribution between -limit and limit, for whole degrees of freedom.

    Source: Abramowitz & Stegun 1964, 26.7.3 (odd) and 26.7.4 (even), closed forms.
    >>> round(student_share_within(2.262157, 9), 6)
    0.95
    """
    angle = atan(limit / sqrt(freedom))
    square = cos(angle) ** 2
    odd = freedom % 2 == 1
    term = total = cos(angle) if odd else 1.0
    for order in range(3 if odd else 2, freedom - 1, 2):
        term *= square * ((order - 1) / order)
        total += term
    if odd:
        return 2 / pi * (angle + (sin(angle) * total if freedom > 1 else 0.0))
    return sin(angle) * total


def student_limit(share: float, freedom: int) -> float:
    """How many standard errors either side of the mean hold a share of Student's t, for whole degrees of freedom.

    >>> round(student_limit(0.95, 4), 4)
    2.7764
    """
    low, high = 0.0, 1.0
    while student_share_within(high, freedom) < share:
        high *= 2
    for _ in range(60):
        middle = (low + high) / 2
        if student_share_within(middle, freedom) < share:
            low = middle
        else:
            high = middle
    return (low + high) / 2


def half_interval(values: Sequence[float], share: float = 0.95) -> float:
    """Half width of the interval that holds the true mean with a chance of `share`: t s / root n; two values or more.

    Source: Student 1908; any text on sampling.
    >>> round(half_interval([0.70, 0.72, 0.74]), 4)
    0.0497
    """
    return student_limit(share, len(values) - 1) * standard_deviation(values) / sqrt(len(values))


def samples_for(spread: float, half_width: float, share: float = 0.95, most: int = 200) -> int | None:
    """How many samples bring the half width down to a wish, if they spread as these did; None when `most` are too few.

    spread [same unit as half_width] is the standard deviation.
    >>> samples_for(0.02, 0.02)
    7
    """

    def wide(count: int) -> bool:
        return student_limit(share, count - 1) * spread / sqrt(count) > half_width

    if wide(most):
        return None
    low, high = 1, most
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (middle, high) if wide(middle) else (low, middle)
    return high


def drying_changes(masses: Sequence[float]) -> list[float]:
    """Loss at each drying as a share of the mass before it [-]; masses [kg] without the container.

    >>> [round(change, 4) for change in drying_changes([0.100, 0.050, 0.040])]
    [0.5, 0.2]
    """
    return [(before - after) / before for before, after in zip(masses, masses[1:])]


def constant_from(masses: Sequence[float], limit: float) -> int | None:
    """Place of the first weighing that changed by no more than `limit` [-] from the one before; None when there is
    none.

    >>> constant_from([100.0, 60.0, 40.0, 39.98], 0.001)
    3
    """
    for place, change in enumerate(drying_changes(masses), start=1):
        if abs(change) <= limit:
            return place
    return None


def final_mass(masses: Sequence[float]) -> float | None:
    """Where three equally spaced weighings are heading, if each drying takes the same share of what is left.

    Source: Aitken 1926, delta-squared extrapolation. None when they do not slow down.
    >>> final_mass([60.0, 45.0, 41.25])
    40.0
    """
    first, second, third = masses[-3:]
    before, after = second - first, third - second
    if not before < after <= 0:
        return None
    return third - after**2 / (after - before)
