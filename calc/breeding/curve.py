"""A smooth curve through points that never overshoots them."""

from collections.abc import Callable, Sequence
from typing import Any


def slopes(xs: Sequence[float], ys: Sequence[float]) -> list[float]:
    """Slopes at the points of the monotone cubic: harmonic means of the neighbouring secants, none at a summit.

    Source: Fritsch & Carlson 1980, SIAM Journal on Numerical Analysis 17:238; weights of Fritsch & Butland 1984; ends
    by the three-point formula, limited so that the curve keeps its direction.
    """
    widths = [b - a for a, b in zip(xs, xs[1:])]
    secants = [(b - a) / width for a, b, width in zip(ys, ys[1:], widths)]
    if len(secants) == 1:
        return [secants[0], secants[0]]
    inner = []
    for (w0, w1), (s0, s1) in zip(zip(widths, widths[1:]), zip(secants, secants[1:])):
        if s0 * s1 <= 0:
            inner.append(0.0)
        else:
            first, second = 2 * w1 + w0, w1 + 2 * w0
            inner.append((first + second) / (first / s0 + second / s1))
    return [
        _end(widths[0], widths[1], secants[0], secants[1]),
        *inner,
        _end(widths[-1], widths[-2], secants[-1], secants[-2]),
    ]


def _end(width: float, next_width: float, secant: float, next_secant: float) -> float:
    slope = ((2 * width + next_width) * secant - width * next_secant) / (width + next_width)
    if slope * secant <= 0:
        return 0.0
    if secant * next_secant <= 0 and abs(slope) > 3 * abs(secant):
        return 3 * secant
    return slope


def curve(points: Sequence[Sequence[Any]]) -> Callable[[float], float]:
    """A function of x through [(x, y)], x ascending; beyond the ends it keeps the end's value.

    >>> rise = curve([(0.0, 0.0), (1.0, 1.0), (3.0, 1.0)])
    >>> rise(0.0), rise(1.0), rise(2.0), rise(9.0)
    (0.0, 1.0, 1.0, 1.0)
    """
    xs, ys = [float(point[0]) for point in points], [float(point[1]) for point in points]
    at = slopes(xs, ys)

    def value(x: float) -> float:
        if x <= xs[0]:
            return ys[0]
        if x >= xs[-1]:
            return ys[-1]
        place = next(index for index in range(len(xs) - 1) if x <= xs[index + 1])
        width = xs[place + 1] - xs[place]
        t = (x - xs[place]) / width
        return (
            ys[place] * (1 + 2 * t) * (1 - t) ** 2
            + ys[place + 1] * t * t * (3 - 2 * t)
            + width * (at[place] * t * (1 - t) ** 2 + at[place + 1] * t * t * (t - 1))
        )

    return value
