"""Heat in a bed against exact solutions: damped wave, step change, slab in moving air, steady layers."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.special import erfc

from calc.climate import conduction, heat, pores

PEAT_CONDUCTIVITY, PEAT_CAPACITY = 0.27, 2.13e6
PEAT = PEAT_CONDUCTIVITY / PEAT_CAPACITY
DAY = conduction.DAY_SECONDS
HELD = 1e7
"""Surface link so strong that the surface has the temperature of the air [W/m2/K]."""


def deep(intervals, depth=1.0, link=HELD, floor=None):
    return conduction.column([(depth, intervals, PEAT_CONDUCTIVITY, PEAT_CAPACITY, 0.0)], link, floor)


def wave_error(intervals, steps, swing=8.0):
    """Largest error [K] anywhere over two days of a deep bed whose surface swings daily about 20 degC."""
    body = deep(intervals)
    frequency, time_step = 2 * math.pi / DAY, DAY / steps
    drive = [HELD * (20 + swing * math.sin(frequency * (place + 0.5) * time_step)) for place in range(steps)]
    profiles = conduction.march(body, conduction.in_step(body, drive, DAY), drive, time_step, 2 * steps)
    damping = conduction.damping_depth(PEAT)

    def exact(depth, time):
        return 20 + swing * math.exp(-depth / damping) * math.sin(frequency * time - depth / damping)

    return max(
        abs(value - exact(depth, place * time_step))
        for place, profile in enumerate(profiles)
        for depth, value in zip(body.depths, profile)
    )


def step_error(intervals, steps, link=HELD, span=DAY):
    """Largest error [K] below 4 cm after a day of air at 35 degC on a bed that was at 20 degC; 4 cm: the jump itself is
    no wave.
    """
    body = deep(intervals, link=link)
    profile = conduction.march(body, [20.0] * (intervals + 1), [link * 35], span / steps, steps, smooth_start=True)[-1]
    spread, ratio = math.sqrt(PEAT * span), link / PEAT_CONDUCTIVITY

    def exact(depth):
        reach = depth / (2 * spread)
        if link == HELD:
            return 20 + 15 * erfc(reach)
        film = math.exp(ratio * depth + ratio**2 * PEAT * span) * erfc(reach + ratio * spread)
        return 20 + 15 * (erfc(reach) - film)

    return max(abs(value - exact(depth)) for depth, value in zip(body.depths, profile) if 0.04 <= depth <= 0.6)


def test_damped_wave_at_the_grid_of_the_calculator():
    """0.05 K is the promise; the swing is the 8 K of the calculator's default."""
    intervals = heat.intervals_for(1.0)
    assert wave_error(intervals, heat.STEPS_PER_DAY) < 0.05


def test_step_change_at_the_grid_of_the_calculator():
    assert step_error(heat.intervals_for(1.0), heat.STEPS_PER_DAY) < 0.05


def test_step_change_under_still_air_at_the_grid_of_the_calculator():
    """Convective surface, 10 W/m2/K: erfc(e) - exp(hx/k + h2 at/k2) erfc(e + h root(at)/k), any heat-transfer text."""
    assert step_error(heat.intervals_for(1.0), heat.STEPS_PER_DAY, link=10.0) < 0.05


@pytest.mark.parametrize("error", [wave_error, step_error])
def test_error_falls_with_the_square_of_the_step(error):
    """Second order: halving both steps quarters the error, so its logarithm to base 2 is 2."""
    coarse, fine = error(20, 12), error(40, 24)
    assert math.log2(coarse / fine) == pytest.approx(2.0, abs=0.35)
    assert math.log2(fine / error(80, 48)) == pytest.approx(2.0, abs=0.35)


def test_slab_in_moving_air():
    """Plane wall, Bi = 1, Fo = 1: theta 0.53386 at the middle, 0.34818 at the surface (60 terms of the series; table:
    0.8603, 1.1191).
    """
    half = 0.15
    body = deep(24, depth=half, link=PEAT_CONDUCTIVITY / half)
    span = half**2 / PEAT
    profile = conduction.march(body, [1.0] * 25, [0.0], span / 200, 200, smooth_start=True)[-1]
    assert profile[0] == pytest.approx(0.34818, abs=0.0005)
    assert profile[-1] == pytest.approx(0.53386, abs=0.0005)


@pytest.mark.parametrize(
    ("conductivity", "capacity", "days", "published"),
    [
        (0.04, 0.25e6, 1, 0.0663),
        (0.27, 2.13e6, 1, 0.0590),
        (0.50, 4.01e6, 1, 0.0586),
        (0.5, 3.9e6, 1, 0.0594),
        (1.7, 3.2e6, 1, 0.1209),
        (0.27, 2.13e6, 365.25, 1.128),
    ],
)
def test_damping_depths(conductivity, capacity, days, published):
    """Peat dry, half wet and soaked; a course's peat and mineral soil; peat over a year.

    Table values to 3 or 4 figures.
    """
    assert conduction.damping_depth(conductivity / capacity, days * DAY) == pytest.approx(published, rel=2e-3)


def test_frozen_water_main():
    """Ground at 20 degC, surface at -15 degC for 60 days, 0.138e-6 m2/s: frost reaches 0.68 m (Incropera & DeWitt, ch.

    5).
    """
    conductivity, capacity, depth = 0.52, 0.52 / 0.138e-6, 4.0
    body = conduction.column([(depth, 400, conductivity, capacity, 0.0)], HELD)
    profile = conduction.march(body, [20.0] * 401, [HELD * -15], DAY / 4, 240, smooth_start=True)[-1]
    node = next(place for place, value in enumerate(profile) if value > 0)
    share = -profile[node - 1] / (profile[node] - profile[node - 1])
    assert body.depths[node - 1] + share * 0.01 == pytest.approx(0.677, abs=0.003)


def test_steady_layers_are_resistances_in_a_row():
    """Two layers and a cover between 30 and 10 degC: the drop of each is its share of the resistance."""
    body = conduction.column([(0.3, 6, 0.3, 2e6, 0.0), (1.0, 10, 1.0, 2e6, 0.0)], surface_link=0.5, floor=10.0)
    profile = conduction.steady(body, 30.0)
    assert profile[0] == pytest.approx(30 - 20 * 2 / 4)
    assert profile[6] == pytest.approx(30 - 20 * 3 / 4)


def test_heat_made_in_a_bed_on_an_insulated_floor():
    """Exact: the surface is q L / h above the air, the floor q L2 / 2k above the surface."""
    body = conduction.column([(0.4, 20, 0.25, 2e6, 30.0)], surface_link=8.0)
    profile = conduction.steady(body, 20.0)
    assert profile[0] == pytest.approx(20 + 30 * 0.4 / 8)
    assert profile[-1] == pytest.approx(profile[0] + 30 * 0.4**2 / (2 * 0.25))


def test_march_keeps_a_cycle_that_is_already_in_step():
    body = deep(24, depth=0.3, link=10.0, floor=18.0)
    drive = heat.day_drive(28.0, 8.0, 10.0, 10.0, net_radiation=60.0, evaporation=1.5)
    start = conduction.in_step(body, drive, DAY, harmonics=23)
    after = conduction.march(body, start, drive, DAY / len(drive), len(drive))[-1]
    assert after == pytest.approx(start, abs=0.02)


@given(
    start=st.floats(-10, 40),
    outside=st.floats(-30, 50),
    link=st.floats(0.2, 50),
    depth=st.floats(0.05, 1.5),
    made=st.floats(0, 100),
)
def test_heat_is_conserved(start, outside, link, depth, made):
    """What the bed holds changes by what comes in and what is made: exact for this method, insulated floor."""
    body = conduction.column([(depth, 16, PEAT_CONDUCTIVITY, PEAT_CAPACITY, made)], link)
    time_step = 1800.0
    before, after = conduction.march(body, [start] * 17, [link * outside], time_step, 1)
    surface = (before[0] + after[0]) / 2
    gained = sum(store * (new - old) for store, old, new in zip(body.stores, before, after))
    received = time_step * (link * (outside - surface) + made * depth)
    assert gained == pytest.approx(received, rel=1e-6, abs=1e-3)


@given(start=st.floats(-5, 35), outside=st.floats(-20, 45), floor=st.floats(0, 25), link=st.floats(0.5, 25))
def test_no_temperature_leaves_the_range_of_its_surroundings(start, outside, floor, link):
    body = deep(24, depth=0.3, link=link, floor=floor)
    profiles = conduction.march(body, [start] * 25, [link * outside], 1800.0, 96, smooth_start=True)
    coldest, hottest = min(start, outside, floor), max(start, outside, floor)
    assert all(coldest - 0.05 <= value <= hottest + 0.05 for profile in profiles for value in profile)


def test_thermal_properties_follow_moisture():
    """150 kg of dry matter per m3 at 75 %: 0.45 water by volume, 0.27 W/m/K, 2.17 MJ/m3/K; and the limits of the
    pores.
    """
    water = heat.volumetric_water(600, 0.75)
    assert (water, heat.conductivity(water)) == (pytest.approx(0.45), pytest.approx(0.27))
    assert heat.heat_capacity(150, water) == pytest.approx(2.166e6)
    assert heat.conductivity(0.0) == pytest.approx(0.04) and heat.conductivity(0.9) == pytest.approx(0.5)
    assert 1000 < pores.densest(0.75) < 1150


@given(values=st.lists(st.floats(-50, 50), min_size=2, max_size=30), limit=st.floats(-40, 40))
def test_hours_above_and_below_make_up_the_whole(values, limit):
    above = heat.hours_beyond(values, limit)
    below = heat.hours_beyond([-value for value in values], -limit)
    level = sum(0.5 for before, after in zip(values, values[1:]) if before == after == limit)
    assert above + below + level == pytest.approx(0.5 * (len(values) - 1), abs=1e-6)
