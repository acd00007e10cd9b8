"""The season: a smooth year that keeps its monthly means, the ground under it, and a bed stepped a day at a time."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.sparse import lil_matrix
from scipy.sparse.linalg import spsolve

from calc.climate import conduction, heat
from calc.climate import season as year
from calc.facts import climate as facts

SOIL = (facts.SOIL_CONDUCTIVITY.typical, 1e6 * facts.SOIL_HEAT.typical)
MEANS = st.lists(st.floats(-40, 40), min_size=12, max_size=12)


def months(days):
    """Mean of each month of 365 days."""
    found, start = [], 0
    for length in year.MONTH_DAYS:
        found.append(sum(days[start : start + length]) / length)
        start += length
    return found


@given(MEANS)
def test_the_days_of_a_month_have_its_mean(means):
    assert months(year.daily_values(means)) == pytest.approx(means, abs=1e-9)


def test_the_curve_meets_a_pure_wave():
    """Means of a cosine over true months give the cosine back to 0.1 K in 15; straight lines between mid-months lose
    0.3 K at its top.
    """
    exact = [15 * math.cos(2 * math.pi * (day - 200) / 365) for day in range(1, 366)]
    found = year.daily_values(months(exact))
    assert max(abs(a - b) for a, b in zip(found, exact)) < 0.1


@given(MEANS)
def test_the_year_has_no_jump(means):
    """From a day to the next, and from 31 December to 1 January, never more than the steepest parabola can go."""
    days = year.daily_values(means)
    spread = max(means) - min(means)
    assert all(abs(a - b) <= 0.35 * spread + 1e-9 for a, b in zip(days, days[1:] + days[:1]))


def test_every_climate_to_start_from_and_every_kind_of_year():
    for climate in facts.CLIMATES:
        usual = year.season(climate)
        assert usual.air(1) == usual.air(366) == usual.air(-364) and "invented" in usual.source
        assert months(usual.daily_air) == pytest.approx(year.climate_means(climate))
        cold = year.season(climate, None, "cold_spring")
        assert cold.monthly_means[3] == pytest.approx(usual.monthly_means[3] - 3) and "cold spring" in cold.source
        assert sum(cold.daily_air[60:150]) / 90 < sum(usual.daily_air[60:150]) / 90 - 2.5


def test_typed_means_south_of_the_equator_have_their_spring_in_october():
    south = [22, 22, 20, 16, 13, 10, 10, 11, 13, 15, 18, 20]
    cold = year.season("mild", south, "cold_spring")
    assert [b - a for a, b in zip(south, cold.monthly_means)] == pytest.approx(
        [0, 0, 0, 0, 0, 0, 0, -1, -3, -3, -3, -1]
    )
    with pytest.raises(ValueError, match="twelve"):
        year.season("mild", south[:11])


def test_the_ground_swings_less_and_later():
    """exp(-z/d) and z/d of a year; d = 2.0 m in damp soil: at half a metre 78 % of the air's swing, 14 days later."""
    exact = [10 + 10 * math.cos(2 * math.pi * (day - 200) / 365) for day in range(365)]
    ground = year.ground_values(exact)
    depth = conduction.damping_depth(SOIL[0] / SOIL[1], conduction.YEAR_SECONDS)
    assert depth == pytest.approx(2.0, abs=0.01)
    assert (max(ground) - min(ground)) / 2 == pytest.approx(10 * math.exp(-0.5 / depth), abs=0.01)
    assert ground.index(max(ground)) - 200 == pytest.approx(365 * 0.5 / depth / (2 * math.pi), abs=1)
    assert sum(ground) / 365 == pytest.approx(10)


# ------------------------------------------------------------------------------------------------ the lump


def full_column(height, moisture, density, cover, made, ground, intervals=16):
    """The full model: the bed in layers on half a metre of soil over ground, heat made evenly [W/m2]."""
    body = heat.bed(height, density, moisture, made / height)
    layers = [(height, intervals, body.conductivity, body.capacity, body.heat)]
    if ground is not None:
        layers.append((year.GROUND_PATH, 10, *SOIL, 0.0))
    return conduction.column(layers, heat.surface_link(10.0, cover), ground)


def bed_mean(profile, intervals=16):
    """Mean over the depth of the bed, the first layers of a profile [degC]."""
    bed = profile[: intervals + 1]
    return (sum(bed) - (bed[0] + bed[-1]) / 2) / intervals


BEDS = st.fixed_dictionaries(
    {
        "height": st.floats(0.15, 1.0),
        "moisture": st.floats(0.5, 0.85),
        "density": st.floats(300, 900),
        "cover": st.floats(0, 3),
        "made": st.floats(0, 60),
        "ground": st.one_of(st.none(), st.floats(0, 25)),
    }
)


def lump_of(bed):
    return year.lump(bed["height"], bed["moisture"], bed["density"], bed["cover"], bed["ground"] is not None)


@given(BEDS, st.floats(-20, 40), st.floats(0, 60))
def test_the_resting_state_is_that_of_the_full_model(bed, air, cooling):
    """Exact for heat made evenly; the full model's grid, which puts half a layer's heat at each face, is 0.3 % off."""
    column = full_column(**bed)
    exact = bed_mean(conduction.steady(column, air, -cooling))
    found = year.resting_temperature(lump_of(bed), air, bed["ground"] or 0.0, bed["made"], cooling)
    assert found == pytest.approx(exact, abs=0.02 + 0.005 * bed["made"] * lump_of(bed).rise)


def seasonal(bed, climate, daily_heat):
    """A year of a bed, by the lump and by the full model: two lists of daily means [degC], after a year to settle."""
    weather = year.season(climate)
    ground = weather.year_mean if bed["ground"] is not None else None
    link = heat.surface_link(10.0, bed["cover"])
    profile, lumped, found = None, None, []
    for day in range(1, 731):
        made = daily_heat(day)
        column = full_column(**{**bed, "made": made, "ground": ground})
        if profile is None:
            profile = conduction.steady(column, weather.air(day))
            lumped = bed_mean(profile)
        profile = conduction.march(column, profile, [link * weather.air(day)], 86400 / 4, 4)[-1]
        lumped = year.next_bed_temperature(
            lumped, weather.air(day), ground, made, bed["height"], bed["moisture"], bed["density"], bed["cover"]
        )
        if day > 365:
            found.append((lumped, bed_mean(profile)))
    return found


@pytest.mark.parametrize(("height", "cover"), [(0.2, 0.0), (0.45, 0.0), (0.45, 1.4), (0.9, 0.3)])
@pytest.mark.parametrize("on_ground", [True, False])
def test_a_year_of_days_keeps_to_the_full_model(height, cover, on_ground):
    """Air of the mild climate, heat that comes and goes with a feeding every three days: within 0.6 K on every day of a
    year.
    """
    bed = {
        "height": height,
        "moisture": 0.75,
        "density": 600.0,
        "cover": cover,
        "made": 0.0,
        "ground": 1.0 if on_ground else None,
    }
    pairs = seasonal(bed, "mild", lambda day: 20.0 if day % 3 else 5.0)
    assert max(abs(lumped - full) for lumped, full in pairs) < 0.6


@given(BEDS, st.floats(1, 30), st.floats(1, 40))
def test_a_day_moves_towards_the_resting_state_and_not_past_it(bed, start, air):
    body, ground = lump_of(bed), bed["ground"]
    target = year.resting_temperature(body, air, ground or 0.0, bed["made"])
    after = year.next_bed_temperature(start, air, ground, bed["made"], *bed_words(bed))
    assert min(start, target) - 1e-9 <= after <= max(start, target) + 1e-9


def bed_words(bed):
    return bed["height"], bed["moisture"], bed["density"], bed["cover"]


def test_freezing_holds_the_bed_until_its_water_is_ice():
    """0.45 m with 450 kg/m3 of water gives off 68 MJ/m2 as it freezes: at about 30 W/m2 leaving it, a month, where 2
    days pass a degree else.
    """
    bed, days = 5.0, []
    for _ in range(200):
        bed = year.next_bed_temperature(bed, -15.0, 2.0, 0.0, 0.45, 0.75, 600.0, 0.0)
        days.append(bed)
    held = sum(-1 < value < 0 for value in days)
    body = year.lump(0.45, 0.75, 600.0, 0.0)
    leaving = (-0.5 - year.resting_temperature(body, -15.0, 2.0)) / body.rise
    latent = 600 * 0.75 * 0.45 * conduction.LATENT_HEAT_OF_FREEZING
    assert held == pytest.approx(latent / (leaving * 86400), rel=0.15) and held > 15
    assert days[-1] < -5 and days == sorted(days, reverse=True)


@settings(deadline=None)
@given(st.floats(-12, 12), st.floats(-25, 25), st.floats(0.15, 1.0), st.floats(0, 2))
def test_freezing_keeps_the_heat(start, air, height, cover):
    """The heat that left in a day, store and ice together, lies between what leaves at the first and at the last
    temperature.
    """
    body = year.lump(height, 0.75, 600.0, cover, False)
    store = body.days * 86400 / body.rise

    def content(temperature):
        ice = min(1.0, max(0.0, -temperature / year.FREEZING_SPAN))
        return store * temperature - (body.freezing - 1) * store * year.FREEZING_SPAN * ice

    after = year.next_bed_temperature(start, air, None, 0.0, height, 0.75, 600.0, cover)
    flows = [86400 * (air - value) / body.rise for value in (start, after)]
    gained = content(after) - content(start)
    assert min(flows) - 1e-3 * abs(min(flows)) - 1 <= gained <= max(flows) + 1e-3 * abs(max(flows)) + 1


def test_heat_of_rotting_is_the_heat_of_burning():
    """Cellulose: -963 kJ/mol formed, -393.5 and -285.8 of the gas and water: 2,827 kJ for 162.14 g, 17.4 MJ/kg, inside
    the range kept.
    """
    cellulose = (6 * 393.5 + 5 * 285.83 - 963.0) / 162.14
    assert cellulose == pytest.approx(17.44, abs=0.02)
    assert facts.HEAT_OF_COMBUSTION.low < cellulose < facts.HEAT_OF_COMBUSTION.high
    assert year.heat_of_rotting(1.0, 17.44) == pytest.approx(17.44e6 / 86400)


def two_dimensions(width, height, conductivity, top, side, below, air, ground, made, across=24, down=24):
    """Mean of a rectangle of bedding [degC], solved by finite volumes: heat evenly made [W/m2], a film on top and on
    both
    sides, soil below [W/m2 K]; half of the width is enough, its middle lets no heat through."""
    dx, dy = width / 2 / across, height / down
    rows, right = lil_matrix((across * down, across * down)), np.full(across * down, made / height * dx * dy)

    def join(cell, conductance, other=None, outside=0.0):
        rows[cell, cell] += conductance
        if other is None:
            right[cell] += conductance * outside
        else:
            rows[cell, other] -= conductance

    for row in range(down):
        for column in range(across):
            cell = row * across + column
            if row:
                join(cell, conductivity * dx / dy, cell - across)
            else:
                join(cell, dx / (1 / top + dy / 2 / conductivity), None, air)
            if row < down - 1:
                join(cell, conductivity * dx / dy, cell + across)
            elif below:
                join(cell, dx / (1 / below + dy / 2 / conductivity), None, ground)
            if column:
                join(cell, conductivity * dy / dx, cell - 1)
            else:
                join(cell, dy / (1 / side + dx / 2 / conductivity), None, air)
            if column < across - 1:
                join(cell, conductivity * dy / dx, cell + 1)
    return spsolve(rows.tocsr(), right).mean()


@pytest.mark.parametrize(("width", "height"), [(0.9, 0.3), (1.22, 0.46), (1.22, 0.9), (2.4, 0.46)])
@pytest.mark.parametrize("cover", [0.0, 1.4])
def test_a_lane_with_sides_against_two_dimensions(width, height, cover):
    """The sides are one more way out, beside top and floor: within 12 % of the rise above air and ground of a solution
    in two dimensions.
    """
    moisture, density, air, ground, made = 0.75, 600.0, 5.0, 12.0, 30.0
    conductivity = heat.bed(height, density, moisture, 0.0).conductivity
    top, side = heat.surface_link(10.0, cover), 1 / (0.1 + facts.SIDE_RESISTANCE.typical)
    args = (width, height, conductivity, top, side, SOIL[0] / year.GROUND_PATH)
    body = year.lump(height, moisture, density, cover, width=width)
    idle, fed = (two_dimensions(*args, air, ground, heat_made) for heat_made in (0.0, made))
    assert year.resting_temperature(body, air, ground, made) - air == pytest.approx(fed - air, rel=0.12)
    assert year.resting_temperature(body, air, ground) == pytest.approx(idle, abs=0.5)
    endless = year.lump(height, moisture, density, cover)
    assert year.resting_temperature(endless, air, ground, made) > fed + 0.5
