"""What counts and weighings say about a coefficient: Bayes' rule on a grid, from a published range to one's own.

A published low, typical and high are read as the 10th, 50th and 90th of a hundred: of a lognormal, or of a logit-normal
where the coefficient is a share. The scatter of the readings is not known and is integrated out.
Sources: Gelman et al., Bayesian Data Analysis, chapters 2 and 3 (normal data, unknown variance); recalled, not read
again.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import exp, log, sqrt

from calc.engine.describe import Band

EIGHT_IN_TEN = 1.2815515655446004
"""Standard deviations either side of the mean that hold 80 % of a normal distribution."""
POINTS = 241
WIDTH = 4.5
"""Grid of the unknown: so many points over so many standard deviations of the prior each way."""
SCATTER, SCATTER_WORTH = 0.2, 2.0
"""Scatter of one reading that is expected before any is seen [in logs: a fifth], and how many readings that counts for.
Our own judgement, no source."""
OUTLIER = 3.5
"""Readings further from the middle one than so many times their usual distance are moved in to there: a slip of the
pen.
"""


@dataclass(frozen=True)
class Prior:
    """What was known before: a normal distribution of the coefficient's log, or of its log odds."""

    middle: float
    width: float
    share: bool

    def open(self, value: float) -> float:
        """The coefficient on the scale on which it is normal."""
        return log(value / (1 - value)) if self.share else log(value)

    def close(self, value: float) -> float:
        """Back from that scale."""
        if self.share:
            return 1 / (1 + exp(-value))
        return exp(value)


def prior(low: float, typical: float, high: float, share: bool = False) -> Prior:
    """Prior of a published range.

    >>> known = prior(0.5, 0.75, 1.0)
    >>> round(known.close(known.middle), 6)
    0.75
    """
    bare = Prior(0.0, 1.0, share)
    width = (bare.open(high) - bare.open(low)) / (2 * EIGHT_IN_TEN)
    return Prior(bare.open(typical), max(width, 1e-6), share)


def quantiles(points: Sequence[float], weights: Sequence[float], shares: Sequence[float]) -> list[float]:
    """Places of a density on an even grid below which the given shares of it lie."""
    total, running, sums = sum(weights), 0.0, []
    for weight in weights:
        running += weight
        sums.append((running - weight / 2) / total)
    places = []
    for share in shares:
        at = next((at for at, reached in enumerate(sums) if reached >= share), len(sums) - 1)
        if at == 0:
            places.append(points[0])
            continue
        below, above = sums[at - 1], sums[at]
        part = (share - below) / (above - below) if above > below else 0.0
        places.append(points[at - 1] + part * (points[at] - points[at - 1]))
    return places


def moved_in(values: Sequence[float]) -> list[float]:
    """The readings, those far out moved in to where an outlier begins; robust against a slip of the pen.

    >>> moved_in([1.0, 1.1, 0.9, 1.0, 9.0])[-1] < 2
    True
    """
    if len(values) < 4:
        return list(values)
    middle = _median(values)
    usual = max(1.4826 * _median([abs(value - middle) for value in values]), 0.02)
    low, high = middle - OUTLIER * usual, middle + OUTLIER * usual
    return [min(max(value, low), high) for value in values]


def _median(values: Sequence[float]) -> float:
    ordered = sorted(values)
    half = len(ordered) // 2
    return ordered[half] if len(ordered) % 2 else (ordered[half - 1] + ordered[half]) / 2


def summed(values: Sequence[float]) -> tuple[int, float, float]:
    """(count, mean, sum of squares about it) of readings."""
    count = len(values)
    mean = sum(values) / count
    return count, mean, sum((value - mean) ** 2 for value in values)


def posterior(known: Prior, cases: Sequence[tuple[float, Sequence[float]]]) -> Band:
    """Low, typical and high of a coefficient after readings, as the 10th, 50th and 90th of a hundred.

    cases: (weight, readings on the prior's scale) of each way in which the readings may have come about, such as a
    herd that
    grew fast or slowly; with one case this is the mean of a normal whose scatter is not known. It is
    integrated out:
    the likelihood of a mean is Student's t.
    """
    points = [known.middle + known.width * WIDTH * (2 * at / (POINTS - 1) - 1) for at in range(POINTS)]
    if any(readings for _, readings in cases):
        spans = [value for _, readings in cases for value in readings]
        low, high = min(points[0], min(spans) - 0.5), max(points[-1], max(spans) + 0.5)
        points = [low + (high - low) * at / (POINTS - 1) for at in range(POINTS)]
    believed = [-0.5 * ((point - known.middle) / known.width) ** 2 for point in points]
    weights = [0.0] * POINTS
    logs = []
    for weight, readings in cases:
        if not readings or weight <= 0:
            continue
        count, mean, squares = summed(readings)
        base, power = squares + SCATTER_WORTH * SCATTER**2, (count + SCATTER_WORTH) / 2
        logs.append(
            [
                log(weight) + belief - power * log(base + count * (point - mean) ** 2)
                for point, belief in zip(points, believed)
            ]
        )
    top = max((max(line) for line in logs), default=0.0)
    for line in logs:
        for at, value in enumerate(line):
            if value > top - 40:
                weights[at] += exp(value - top)
    if not logs:
        weights = [exp(belief) for belief in believed]
    low, middle, high = quantiles(points, weights, (0.1, 0.5, 0.9))
    return Band(known.close(middle), known.close(low), known.close(high))


def learned(known: Prior, readings: Sequence[float]) -> Band:
    """Band of a coefficient from the prior and plain readings of it.

    >>> band = learned(prior(0.5, 0.75, 1.0), [0.58, 0.60, 0.57, 0.59, 0.58, 0.60])
    >>> 0.55 < band.low < band.value < band.high < 0.63
    True
    """
    usable = [value for value in readings if value > 0 and (not known.share or value < 1)]
    return posterior(known, [(1.0, moved_in([known.open(value) for value in usable]))])


def gamma_quantile(shape: float, deviations: float) -> float:
    """Quantile of the gamma distribution of scale 1 at so many standard deviations of a normal one [-].

    Wilson and Hilferty's cube (1931), good to a few in a thousand from a shape of about 3 on.
    >>> round(2 * gamma_quantile(10, EIGHT_IN_TEN), 1)
    28.4
    """
    root: float = 1 - 1 / (9 * shape) + deviations / (3 * sqrt(shape))
    return shape * max(0.0, root) ** 3


def rate_of_counts(expected: float, worth: float, count: float, time: float) -> Band:
    """Band of a rate after `count` things in `time`: a gamma prior of mean `expected` that counts for `worth` of
    time (closed form).
    """
    shape, span = expected * worth + count, worth + time
    if shape <= 0:
        return Band(0.0, 0.0, 0.0)
    low, middle, high = (gamma_quantile(shape, z) / span for z in (-EIGHT_IN_TEN, 0.0, EIGHT_IN_TEN))
    return Band(middle, low, high)
