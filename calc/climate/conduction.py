"""Heat moving up and down through a bed.

One-dimensional conduction, C dT/dt = d/dz(k dT/dz) + q, on a column of layers: air or a cover above, the ground or an
insulated floor below. Solved by the implicit midpoint rule, which for this linear equation is the Crank-Nicolson
method (Crank & Nicolson 1947): second order in time and depth and never unstable. A run that starts with a jump takes
its first two steps as four half steps of the backward Euler method (Rannacher 1984), so the jump does not ring.

Units: m, s, W, K; temperatures in degC; depth from the surface down.
"""

from cmath import exp as complex_exp
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from math import pi, sqrt
from typing import Any

DAY_SECONDS = 86400.0
YEAR_SECONDS = 365.25 * DAY_SECONDS

LATENT_HEAT_OF_FREEZING = 334e3
"""Heat that a kilogram of water gives off as it freezes [J/kg]."""


@dataclass(frozen=True)
class Column:
    """A column of material cut into nodes, the first on the surface, the last at the bottom.

    depths [m] of the nodes; links [W/m2/K] between each node and the next; stores [J/m2/K] and sources [W/m2] of each
    node; surface_link [W/m2/K] to the air; floor [degC] holds the last node at a temperature, None lets no heat
    through; losses [W/m2/K] of each node through the sides, to surroundings whose warmth stands among the sources.
    """

    depths: tuple[float, ...]
    links: tuple[float, ...]
    stores: tuple[float, ...]
    sources: tuple[float, ...]
    surface_link: float
    floor: float | None
    losses: tuple[float, ...]


def column(
    layers: Sequence[tuple[float, int, float, float, float]],
    surface_link: float,
    floor: float | None = None,
    side_loss: float = 0.0,
    around: float = 0.0,
) -> Column:
    """Cut layers into nodes.

    layers: (thickness [m], intervals, conductivity [W/m/K], heat capacity [J/m3/K], heat [W/m3]), from the top.
    Each interval gives half its heat store to the node above it and half to the node below. The first layer loses
    side_loss [W/m3/K] through its sides to surroundings at `around` [degC], which do not swing.
    """
    depths, links, stores, sources, losses = [0.0], [], [0.0], [0.0], [0.0]
    for place, (thickness, intervals, conductivity, capacity, heat) in enumerate(layers):
        loss = side_loss if place == 0 else 0.0
        step = thickness / intervals
        for _ in range(intervals):
            depths.append(depths[-1] + step)
            links.append(conductivity / step)
            for values, amount in ((stores, capacity), (sources, heat + loss * around), (losses, loss)):
                values[-1] += amount * step / 2
                values.append(amount * step / 2)
    return Column(tuple(depths), tuple(links), tuple(stores), tuple(sources), surface_link, floor, tuple(losses))


def _diagonals(body: Column, stores: Sequence[Any]) -> tuple[tuple[float, ...], tuple[float, ...], list[Any]]:
    """Off-diagonal links above each node and the diagonal of `stores + conduction` (stores may be complex)."""
    above = (body.surface_link, *body.links)
    below = (*body.links, 0.0)
    diagonal = [store + up + down + loss for store, up, down, loss in zip(stores, above, below, body.losses)]
    return above, below, diagonal


def _solve(body: Column, stores: Sequence[Any], right: Sequence[Any]) -> list[Any]:
    """Temperatures with (stores + conduction) T = right: the Thomas algorithm, floor held when there is one."""
    above, below, diagonal = _diagonals(body, stores)
    last = len(diagonal) - 1
    held = body.floor is not None
    count = last if held else last + 1
    ratios, partial = [], []
    previous_ratio = previous = 0.0
    for node in range(count):
        link = above[node] if node else 0.0
        pivot = diagonal[node] - link * previous_ratio
        previous = (right[node] + link * previous) / pivot
        previous_ratio = below[node] / pivot
        ratios.append(previous_ratio)
        partial.append(previous)
    result = [right[last]] if held else []
    following = right[last] if held else 0.0
    for ratio, value in zip(reversed(ratios), reversed(partial)):
        following = value + ratio * following
        result.append(following)
    result.reverse()
    return result


def steady(body: Column, outside: float, flux: float = 0.0) -> list[float]:
    """Temperatures [degC] once nothing changes any more, with the air at `outside` [degC] and `flux` [W/m2] on the
    surface.

    >>> bed = column([(1.0, 4, 0.5, 2e6, 0.0)], surface_link=0.5, floor=10.0)
    >>> [round(value, 6) for value in steady(bed, 30.0)]
    [20.0, 17.5, 15.0, 12.5, 10.0]
    """
    right = list(body.sources)
    right[0] += body.surface_link * outside + flux
    if body.floor is not None:
        right[-1] = body.floor
    return _solve(body, [0.0] * len(body.stores), right)


def swing(body: Column, amplitude: complex, frequency: float) -> list[complex]:
    """Complex amplitudes of the nodes when the air and flux drive the surface with `amplitude` [W/m2] at `frequency`
    [rad/s].

    The size of each number is the swing in K, its angle the lag; floor temperature does not swing.
    """
    right: list[complex] = [0.0] * len(body.stores)
    right[0] = amplitude
    stores = [1j * frequency * store for store in body.stores]
    return _solve(body, stores, right)


@lru_cache(maxsize=8)
def _turns(count: int, orders: int) -> list[list[complex]]:
    """Fourier factors of the first orders at the middles of `count` steps; kept, because every run of a day needs the
    same.
    """
    return [
        [complex_exp(-2j * pi * order * (place + 0.5) / count) for place in range(count)]
        for order in range(1, orders + 1)
    ]


def in_step(body: Column, drive: Sequence[float], period: float, harmonics: int = 6) -> list[float]:
    """Temperatures at the start of a cycle [degC], in a body that has had the same cycle for ever.

    drive: what the surface receives at the middle of each of equal steps of the period, surface_link * air + flux
    [W/m2].
    The mean gives the steady part and the first Fourier terms of the drive the swings.
    """
    count = len(drive)
    mean = sum(drive) / count
    temperatures = steady(body, 0.0, mean)
    for order, turn in enumerate(_turns(count, min(harmonics, (count - 1) // 2)), start=1):
        amplitude = 2 / count * sum(value * part for value, part in zip(drive, turn))
        if abs(amplitude) > 1e-9:
            answer = swing(body, amplitude, 2 * pi * order / period)
            temperatures = [value + part.real for value, part in zip(temperatures, answer)]
    return temperatures


def march(
    body: Column,
    start: Sequence[float],
    drive: Sequence[float],
    time_step: float,
    steps: int,
    smooth_start: bool = False,
) -> list[list[float]]:
    """Temperatures [degC] of every node after each step, the start first.

    start [degC] of each node; drive [W/m2] at the middle of each step (surface_link * air + flux), repeated when it is
    shorter than the run; time_step [s]. Each step solves for the middle of the step and carries on through it.
    """
    last = len(start) - 1
    held = body.floor is not None
    count = last if held else last + 1
    rates = [2 * store / time_step for store in body.stores]
    above, below, diagonal = _diagonals(body, rates)

    # The matrix stays the same, so it is divided through once: only multiplications remain inside the loop.
    inverse_pivots, ratios, ratio = [], [], 0.0
    for node in range(count):
        link = above[node] if node else 0.0
        inverse = 1 / (diagonal[node] - link * ratio)
        ratio = below[node] * inverse
        inverse_pivots.append(inverse)
        ratios.append(ratio)
    carry = [0.0, *(above[node] * inverse_pivots[node] for node in range(1, count))]
    gain = [rates[node] * inverse_pivots[node] for node in range(count)]
    heat = [body.sources[node] * inverse_pivots[node] for node in range(count)]
    first_gain, first_heat, surface_gain = gain[0], heat[0], inverse_pivots[0]
    below_first = list(zip(carry, gain, heat))[1:]
    backward_ratios = ratios[::-1]
    cycle = len(drive)
    floor = 0.0 if body.floor is None else body.floor

    def swept(temperatures: Sequence[float], received: float) -> list[float]:
        """First half of a solution for half a step: from the surface down."""
        previous = first_gain * temperatures[0] + first_heat + received * surface_gain
        partial = [previous]
        add = partial.append
        for (carried, kept, made), value in zip(below_first, temperatures[1:]):
            previous = carried * previous + kept * value + made
            add(previous)
        return partial

    temperatures = list(start[:count])
    bottom = [floor] if held else []
    profiles = [list(temperatures) + bottom]
    for step in range(steps):
        received = drive[step % cycle]
        for half in (1, 2) if smooth_start and step < 2 else (0,):
            following = floor
            answer: list[float] = []
            add = answer.append
            if half:  # two half steps, fully implicit
                for part, share in zip(reversed(swept(temperatures, received)), backward_ratios):
                    following = part + share * following
                    add(following)
            else:  # half a step and as far again
                for part, share, before in zip(
                    reversed(swept(temperatures, received)), backward_ratios, reversed(temperatures)
                ):
                    following = part + share * following
                    add(2 * following - before)
            answer.reverse()
            temperatures = answer
        profiles.append(temperatures + bottom)
    return profiles


def damping_depth(diffusivity: float, period: float = DAY_SECONDS) -> float:
    """Depth at which a swing has shrunk to 37 % [m]; diffusivity [m2/s], period [s].

    Exact for a deep, even body: d = sqrt(diffusivity * period / pi).
    >>> round(damping_depth(0.27 / 2.13e6), 4)
    0.059
    """
    return sqrt(diffusivity * period / pi)


def stefan_frost_depth(conductivity: float, frost_degree_days: float, water: float) -> float:
    """How deep frost goes if only freezing water holds it up [m], an upper estimate.

    conductivity [W/m/K] of the frozen layer; frost_degree_days [K day]; water [kg/m3] that freezes.
    Source: Stefan 1891; the common first estimate of frost depth in engineering.
    """
    return sqrt(2 * conductivity * frost_degree_days * DAY_SECONDS / (LATENT_HEAT_OF_FREEZING * water))
