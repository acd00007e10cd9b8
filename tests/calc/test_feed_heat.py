"""Reading a temperature log: crossings, gaps, lethality, odd units; and how long a season of it takes."""

import math
import random

import numpy
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from calc.feed.heat import (
    days_in,
    days_to_kill,
    hot_at,
    in_other_unit,
    lethality,
    longest,
    mean_above,
    stretches,
    temperature_at,
)

temperatures = st.lists(st.floats(20, 80), min_size=2, max_size=30)


def evenly(values, step=4.0):
    return [step * index for index in range(len(values))]


@given(temperatures, st.floats(45, 65))
def test_stretches_agree_with_a_fine_count(values, low):
    hours = evenly(values)
    found = stretches(hours, values, 12, low)
    fine = numpy.linspace(0, hours[-1], 40001)
    counted = (numpy.interp(fine, hours, values) >= low).mean() * hours[-1] / 24
    assert days_in(found) == pytest.approx(counted, abs=len(values) * hours[-1] / 40000 / 24 + 1e-9)
    assert all(end > start for start, end in found)
    assert all(first[1] < second[0] for first, second in zip(found, found[1:]))


@given(temperatures)
def test_lethality_agrees_with_quadrature(values):
    hours = evenly(values)
    total = 0.0
    for first, second in zip(values, values[1:]):
        inside = [0.0, 1.0]
        if (first - 50) * (second - 50) < 0:
            inside.insert(1, (50 - first) / (second - first))
        for start, end in zip(inside, inside[1:]):
            if first + (start + end) / 2 * (second - first) >= 50:
                rate = lambda x: 10 ** (0.14 * (first + x * (second - first))) / 131_700_000  # noqa: B023, E731
                total += quad(rate, start, end, epsrel=1e-11)[0] * 4 / 24
    assert lethality(hours, values, 12) == pytest.approx(total, rel=1e-8, abs=1e-12)


@given(temperatures, st.floats(0, 5))
def test_a_hotter_heap_is_hot_longer(values, warmer):
    hours, hotter = evenly(values), [value + warmer for value in values]
    assert days_in(stretches(hours, hotter, 12, 55)) >= days_in(stretches(hours, values, 12, 55)) - 1e-9
    assert lethality(hours, hotter, 12) >= lethality(hours, values, 12) - 1e-12


def test_gap_breaks_a_stretch():
    hours, values = [0, 12, 24, 36.1, 48], [60] * 5
    assert stretches(hours, values, 12, 55) == [(0, 24), (36.1, 48)]
    assert longest(stretches(hours, values, 12, 55)) == (0, 24)
    assert days_in(stretches(hours, values, 12.1, 55)) == 2


def test_unknown_reading_breaks_a_stretch():
    assert stretches([0, 1, 2, 3, 4], [60, 60, None, 60, 60], 12, 55) == [(0, 1), (3, 4)]


def test_touching_the_threshold_does_not_break():
    assert stretches([0, 10, 20], [60, 55, 60], 12, 55) == [(0, 20)]
    assert stretches([0, 10, 20], [60, 54, 60], 12, 55) == [
        (0, pytest.approx(10 * 5 / 6)),
        (pytest.approx(10 + 10 / 6), 20),
    ]


def test_upper_limit_cuts_too():
    found = stretches([0, 10, 20], [60, 80, 60], 12, 55, 70)
    assert found == [(0, pytest.approx(5)), (pytest.approx(15), 20)]


def test_one_steep_line_through_the_whole_band():
    assert stretches([0, 10], [40, 90], 12, 50, 70) == [(pytest.approx(2), pytest.approx(6))]


def test_mean_above():
    assert mean_above([0, 24, 48], [40, 50, 30], 24, 40) == (pytest.approx(1.5), pytest.approx(45))
    assert mean_above([0, 24], [20, 30], 24, 40) == (0, None)


def test_hot_when_turned():
    hours, values = [0, 6, 12, 18], [60, 60, 40, 58]
    assert hot_at(7, hours, values, 12, 55)  # the last reading was hot; the fall after it is the turning's own
    assert not hot_at(13, hours, values, 12, 55)
    assert hot_at(18, hours, values, 12, 55)
    assert not hot_at(-1, hours, values, 12, 55) and not hot_at(19, hours, values, 12, 55)
    assert not hot_at(9, [0, 20], [60, 60], 5, 55)
    assert temperature_at(3, hours, values, 12) == 60 and temperature_at(9, hours, values, 12) == 50


def test_the_equation_stops_at_fifty():
    with pytest.raises(ValueError):
        days_to_kill(49.9)


def test_odd_units_are_found_both_ways():
    values = [44, 50, 55, 58, 60, 61, 60, 58]
    mixed = [value * 1.8 + 32 if position in (3, 4) else value for position, value in enumerate(values)]
    assert in_other_unit(evenly(values), mixed, 12) == [3, 4]
    fahrenheit_column = [(value - 32) / 1.8 if position in (2, 6) else value for position, value in enumerate(values)]
    assert in_other_unit(evenly(values), fahrenheit_column, 12) == [2, 6]
    first_rows_odd = [value * 1.8 + 32 if position < 3 else value for position, value in enumerate(values)]
    assert in_other_unit(evenly(values), first_rows_odd, 12) == [0, 1, 2]


def test_turning_and_cold_rain_are_not_odd_units():
    assert in_other_unit(evenly(range(8)), [60, 62, 35, 50, 60, 63, 38, 55], 12) == []


def test_a_season_of_readings_keeps_its_sums():
    """Ten thousand readings: stretches lie inside the log, the narrower band never holds longer, lethality adds up over
    its parts.
    """
    generator = random.Random(45)
    hours = [index / 2 for index in range(10_000)]
    values = [55 + 10 * math.sin(hour / 40) + generator.uniform(-2, 2) for hour in hours]
    hot, banded = stretches(hours, values, 12, 55), stretches(hours, values, 12, 55, 76.67)
    assert all(hours[0] <= start <= end <= hours[-1] for start, end in hot)
    assert sum(end - start for start, end in banded) <= sum(end - start for start, end in hot) + 1e-6
    half = len(hours) // 2
    parts = lethality(hours[: half + 1], values[: half + 1], 12) + lethality(hours[half:], values[half:], 12)
    assert lethality(hours, values, 12) == pytest.approx(parts, rel=1e-9)
    assert in_other_unit(hours, values, 12) == []


def test_time_above_is_one_process_and_no_sum():
    """40 CFR 503.33(b)(5): 14 days or longer, during which it is above 40 °C; eight days twice are not that."""
    hours = [24 * day for day in range(18)]
    broken = [50.0] * 8 + [30.0] + [50.0] * 9
    days, mean = mean_above(hours, broken, 24, 40)
    assert days == pytest.approx(8.5)
    assert mean == pytest.approx((8 * 50 + 0.5 * 45) / 8.5)
    assert mean_above(hours, [50.0] * 18, 24, 40) == (pytest.approx(17), pytest.approx(50))
