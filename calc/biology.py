"""Rates of worms against temperature, and how a herd grows: what lanes and trays share.

Pure functions of SI numbers.
"""

from math import exp, log

from calc.facts import biology as facts

KELVIN = 273.15
COLDEST, SLOW = 0.0, 10.0
"""Below SLOW the published rates fall off faster than the exponential; at COLDEST nothing is eaten [°C]."""


LOW, TYPICAL, HIGH = 0, 1, 2
"""The three cases: what doubt there is, at its slow end, in the middle, at its fast end."""

LEAST_RATION = facts.RATION_CROWDED.typical / facts.RATION.typical
"""Share of their ration that the most crowded worms still eat [-]."""


def arrhenius(temperature: float) -> float:
    """Speed of a worm's metabolism against that at 25 °C [-].

    exp(−E/k · (1/T − 1/298.15)), E = 0.25 eV. temperature [°C].
    Source: Johnston et al. 2014.
    >>> [round(arrhenius(t), 3) for t in (10, 15, 20, 25)]
    [0.597, 0.713, 0.847, 1.0]
    """
    reference = KELVIN + facts.REFERENCE_TEMPERATURE
    return exp(-facts.ACTIVATION.typical / facts.BOLTZMANN * (1 / (KELVIN + temperature) - 1 / reference))


def pace(temperature: float, case: int = TYPICAL) -> float:
    """Speed of a worm's life against that at 25 °C [-], while it is not too warm: eating, growing, laying, hatching
    alike.

    The exponential of the model between 20 and 25 °C, where counts bear it out; colder, so many times slower every
    10 °C.
    temperature [°C]; case LOW is the slowest that was found in the cold, HIGH the fastest.
    Source: Johnston et al. 2014 from 20 °C up; Phillipson & Bolton 1976 below.
    >>> [round(pace(t), 2) for t in (10, 15, 20, 25)], round(pace(10, LOW), 2), round(pace(10, HIGH), 2)
    ([0.44, 0.61, 0.85, 1.0], 0.35, 0.6)
    """
    if temperature >= facts.COUNTED_AT:
        return arrhenius(temperature)
    q10 = (facts.COLD_Q10.high, facts.COLD_Q10.typical, facts.COLD_Q10.low)[case]
    slower: float = q10 ** ((temperature - facts.COUNTED_AT) / 10)
    return arrhenius(facts.COUNTED_AT) * slower


def activity(temperature: float, case: int = TYPICAL) -> float:
    """Eating and growing against the best, at 25 to 28 °C [-]: the one curve of a worm, down to nothing at 0 and at
    35 °C.

    temperature [°C]; case as for :func:`pace`.
    Source: pace; Kaplan et al. 1980, Loehr et al. 1985 and Edwards & Arancon 2004 for the top and the ends; straight
    lines between are ours.
    >>> activity(25), activity(28), round(activity(30), 2), activity(35), activity(-2)
    (1.0, 1.0, 0.71, 0.0, 0.0)
    """
    best, warm, lethal = facts.REFERENCE_TEMPERATURE, facts.BEST_UNTIL.typical, facts.LETHAL_TEMPERATURE.typical
    if temperature >= best:
        return min(1.0, max(0.0, (lethal - temperature) / (lethal - warm)))
    return pace(temperature, case) * coldest_slowing(temperature)


def laying(temperature: float, case: int = TYPICAL) -> float:
    """Cocoons against the most, at 25 °C [-]: as eating and growing in the cold; in warmth laying falls off sooner than
    growth.

    temperature [°C]; case as for :func:`pace`. Source: Loehr et al. 1985, less at 30 °C and death at 35 °C; the
    straight line is ours.
    >>> laying(25), laying(30), laying(20) == activity(20)
    (1.0, 0.5, True)
    """
    best, lethal = facts.REFERENCE_TEMPERATURE, facts.LETHAL_TEMPERATURE.typical
    return min(activity(temperature, case), max(0.0, (lethal - temperature) / (lethal - best)))


def coldest_slowing(temperature: float) -> float:
    """What is left of the pace below 10 °C, where breeding all but stops and, at freezing, all else [-]: a straight
    line, ours.
    """
    return max(0.0, min(1.0, (temperature - COLDEST) / (SLOW - COLDEST)))


def crowding(stocking: float, capacity: float = facts.CAPACITY.typical) -> float:
    """Share of their ration that worms eat when they are crowded [-]: all of it up to the density of the trial, then
    ever less.

    stocking, capacity [kg/m²]. The ration was measured at 1.6 kg/m² (Ndegwa et al. 2000). In crowded boxes worms went
    from their own weight a day to their own weight a week (Reeh 1992), which is the floor. Between them a straight line
    down, ours, as far as half the capacity; from there the bed as a whole eats no more and no less, however many worms
    share it. Where half the capacity is less than that density, worms eat all of their ration up to that half.
    >>> crowding(1.6), round(crowding(4.88), 2), round(crowding(10.0), 2), round(crowding(50.0), 2)
    (1.0, 0.61, 0.3, 0.19)
    >>> crowding(0.8, 1.6), crowding(1.6, 1.6)
    (1.0, 0.5)
    """
    half = capacity / 2
    free = 1 - min(facts.RATION_DENSITY.typical, half) / capacity
    share = (1 - stocking / capacity) / free if stocking <= half else 0.5 / free * half / stocking
    return 1.0 if share > 1.0 else max(LEAST_RATION, share)


def stage_days(days_at_25: float, temperature: float, case: int = TYPICAL) -> float:
    """Length of a stage of life at another temperature [day]: slower life, longer stage; heat does not shorten it
    further.

    temperature [°C]; case as for :func:`pace`.
    >>> round(stage_days(23.0, 20.0), 1), round(stage_days(23.0, 10.0), 1), round(stage_days(23.0, 10.0, HIGH), 1)
    (27.2, 52.4, 38.6)
    """
    speed = pace(min(temperature, facts.REFERENCE_TEMPERATURE), case)
    return days_at_25 / (speed * max(0.05, coldest_slowing(temperature)))


def lambert_w(x: float) -> float:
    """The w with w·e^w = x, for x >= 0 [-]; Halley's method.

    Source: Corless et al. 1996, On the Lambert W function, Advances in Computational Mathematics 5:329.
    >>> round(lambert_w(1.0), 10)
    0.5671432904
    """
    if x < 0:
        raise ValueError("lambert_w is for x >= 0 here")
    w = log(1 + x) * (1 - log(1 + log(1 + x)) / (2 + log(1 + x))) if x else 0.0
    for _ in range(50):
        grown = exp(w)
        gap = w * grown - x
        step = gap / (grown * (w + 1) - (w + 2) * gap / (2 * w + 2))
        w -= step
        if abs(step) <= 1e-15 * (1 + abs(w)):
            break
    return w


def lambert_w_of_exp(power: float) -> float:
    """The w with w·e^w = e^power [-], also where e^power is too large for a number: w + ln w = power, by Newton's
    method.

    Source: as above.
    >>> round(lambert_w_of_exp(0.0), 10), round(lambert_w_of_exp(2000.0), 6)
    (0.5671432904, 1992.402903)
    """
    if power < 700:
        return lambert_w(exp(power))
    w = power - log(power)
    for _ in range(50):
        step = (w + log(w) - power) / (1 + 1 / w)
        w -= step
        if abs(step) <= 1e-15 * w:
            break
    return w


def unlimited_growth(
    cocoons_per_day: float, hatchlings: float, survival: float, stage: float, mortality: float
) -> float:
    """Growth rate of a herd that nothing holds back [1/day].

    The r with r + μ = c·h·s·e^(−r·τ), solved by r = W(c·h·s·τ·e^(μ·τ))/τ − μ.
    cocoons_per_day c [1/day]; hatchlings h for a cocoon laid [-]; survival s to breeding [-]; stage τ from laying to
    breeding [day]; mortality μ [1/day].
    Source: Euler–Lotka equation for breeding that starts at age τ and goes on; Corless et al. 1996 for the solution.
    >>> round(unlimited_growth(0.35, 0.73 * 2.7, 1.0, 73.0, 0.0), 4)
    0.0393
    """
    if stage <= 0:
        raise ValueError("the stage from laying to breeding must last longer than nothing")
    first = cocoons_per_day * hatchlings * survival * stage
    if first <= 0:
        return -mortality  # nothing hatches: the herd dies off
    return lambert_w_of_exp(log(first) + mortality * stage) / stage - mortality
