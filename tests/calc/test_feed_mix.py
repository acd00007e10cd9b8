"""The arithmetic of a mix, and the nearest mix held against a general solver."""

import random

import numpy
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.optimize import linprog, minimize

from calc.feed.mix import (
    heaped_volume,
    mass_for_carbon_nitrogen,
    mass_for_moisture,
    mix_carbon_nitrogen,
    mix_moisture,
    mix_nitrogen,
)
from calc.feed.nearest import MOST_DILUTED, Material, nearest_mix, solve_symmetric

moistures = st.floats(0.02, 0.95)
masses = st.floats(0.1, 1e4)
nitrogens = st.floats(0.0005, 0.08)
ratios = st.floats(5, 600)


@given(st.lists(st.tuples(masses, moistures, nitrogens, ratios), min_size=1, max_size=6), st.floats(0.1, 10))
def test_mix_is_between_its_materials_and_does_not_depend_on_size(portions, size):
    amounts, wet, nitrogen, ratio = zip(*portions)
    assert min(wet) - 1e-12 <= mix_moisture(amounts, wet) <= max(wet) + 1e-12
    mixed = mix_carbon_nitrogen(amounts, wet, nitrogen, ratio)
    assert min(ratio) * (1 - 1e-12) <= mixed <= max(ratio) * (1 + 1e-12)
    assert mix_carbon_nitrogen([size * mass for mass in amounts], wet, nitrogen, ratio) == pytest.approx(
        mixed, rel=1e-12
    )
    assert min(nitrogen) * (1 - 1e-12) <= mix_nitrogen(amounts, wet, nitrogen) <= max(nitrogen) * (1 + 1e-12)


@given(masses, moistures, moistures, st.floats(0.05, 0.95))
def test_mass_for_moisture_reaches_the_target(mass, wet, added, way):
    assume(abs(wet - added) > 0.01)
    target = wet + way * (added - wet)
    second = mass_for_moisture(mass, wet, added, target)
    assert mix_moisture([mass, second], [wet, added]) == pytest.approx(target, rel=1e-9)


@given(masses, moistures, nitrogens, ratios, moistures, nitrogens, ratios, st.floats(0.05, 0.95))
def test_mass_for_carbon_nitrogen_reaches_the_target(mass, wet, n, ratio, wet2, n2, ratio2, way):
    assume(abs(ratio - ratio2) > 1)
    target = ratio + way * (ratio2 - ratio)
    second = mass_for_carbon_nitrogen(mass, wet, n, ratio, wet2, n2, ratio2, target)
    assert mix_carbon_nitrogen([mass, second], [wet, wet2], [n, n2], [ratio, ratio2]) == pytest.approx(target, rel=1e-8)


def test_targets_outside_the_two_materials_are_refused():
    with pytest.raises(ValueError):
        mass_for_moisture(10, 0.77, 0.65, 0.60)
    with pytest.raises(ValueError):
        mass_for_carbon_nitrogen(10, 0.77, 0.024, 18.75, 0.35, 0.02, 20, 30)


def test_volume_adds_up():
    assert heaped_volume([710, 75], [710, 150]) == pytest.approx(1.5)


@given(st.integers(1, 4), st.integers(0, 10**6))
def test_symmetric_systems_like_numpy(size, seed):
    generator = numpy.random.default_rng(seed)
    factor = generator.normal(size=(size, size))
    matrix = factor @ factor.T + 0.05 * numpy.eye(size)
    right = generator.normal(size=size)
    assert solve_symmetric(matrix.tolist(), right.tolist()) == pytest.approx(
        numpy.linalg.solve(matrix, right), rel=1e-6, abs=1e-9
    )


# --- the nearest mix ------------------------------------------------------------------------------------------------


def random_materials(generator, fixed=False):
    count = generator.randint(2, 6)
    wanted = [generator.random() ** 2 for _ in range(count)]
    materials = []
    for want in wanted:
        ratio = generator.choice([generator.uniform(6, 25), generator.uniform(25, 80), generator.uniform(80, 600)])
        carbon = generator.uniform(0.38, 0.52)
        materials.append(Material(generator.uniform(0.08, 0.9), carbon / ratio, ratio, want / sum(wanted)))
    if fixed:
        for index in range(generator.randint(1, count)):
            materials[index] = Material(*_figures(materials[index]), fixed_mass=generator.uniform(1, 100))
    return materials


def _figures(material):
    return material.moisture, material.nitrogen, material.carbon_nitrogen, material.wanted


def random_targets(generator, materials):
    """Half of the time what some mix of these has, so that it can be met; else anything."""
    if generator.random() < 0.5:
        return generator.uniform(0.45, 0.75), generator.uniform(15, 60)
    shares = [generator.random() ** 3 for _ in materials]
    if any(m.fixed_mass for m in materials):
        shares = [share * 50 if m.fixed_mass is None else m.fixed_mass for share, m in zip(shares, materials)]
    figures = list(zip(*map(_figures, materials)))
    return mix_moisture(shares, figures[0]), mix_carbon_nitrogen(shares, *figures[:3])


def reference(materials, moisture, ratio, allow_water):
    """Least distance by a general solver over shares, and by a linear programme whether any mix exists at all."""
    wet = numpy.array([m.moisture for m in materials])
    nitrogen = numpy.array([(1 - m.moisture) * m.nitrogen for m in materials])
    carbon = nitrogen * numpy.array([m.carbon_nitrogen for m in materials])
    wanted = numpy.array([m.wanted for m in materials])
    fixed = numpy.array([0.0 if m.fixed_mass is None else m.fixed_mass for m in materials])
    balance = (carbon - ratio * nitrogen) / numpy.abs(carbon - ratio * nitrogen).max()
    equal = [numpy.ones_like(wet), balance]
    right = [1.0, 0.0]
    below, limit = [], []
    (below if allow_water else equal).append(wet)
    (limit if allow_water else right).append(moisture)
    members = numpy.flatnonzero(fixed)
    for first, second in zip(members, members[1:]):  # fixed amounts keep their proportions
        row = numpy.zeros_like(wet)
        row[first], row[second] = fixed[second], -fixed[first]
        equal.append(row / fixed.max())
        right.append(0.0)
    if len(members):
        below.append(-(fixed > 0).astype(float))
        limit.append(-MOST_DILUTED)
    equal, right = numpy.array(equal), numpy.array(right)
    found = linprog(0 * wet, below or None, limit or None, equal, right, bounds=(0, 1))
    if found.status == 2:
        return None
    rules = [{"type": "eq", "fun": lambda p: equal @ p - right}]
    if below:
        rules.append({"type": "ineq", "fun": lambda p: numpy.array(limit) - numpy.array(below) @ p})
    answer = minimize(
        lambda p: ((p - wanted) ** 2).sum(),
        found.x,
        jac=lambda p: 2 * (p - wanted),
        bounds=[(0, 1)] * len(wet),
        constraints=rules,
        method="SLSQP",
        options={"ftol": 1e-15, "maxiter": 1000},
    )
    assert numpy.abs(equal @ answer.x - right).max() < 1e-7
    return answer.fun


@pytest.mark.parametrize("allow_water", [True, False])
@pytest.mark.parametrize("fixed", [False, True])
def test_nearest_mix_against_a_general_solver(allow_water, fixed):
    generator = random.Random(4505 + 2 * allow_water + fixed)
    met = 0
    for _ in range(250):
        materials = random_materials(generator, fixed)
        moisture, ratio = random_targets(generator, materials)
        ours = nearest_mix(materials, moisture, ratio, 1000, allow_water)
        assert min(ours.masses) >= 0 and ours.water >= 0
        least = reference(materials, moisture, ratio, allow_water)
        assert (least is None) == bool(ours.gave_way)
        if least is None:
            continue
        met += 1
        assert ours.moisture == pytest.approx(moisture, abs=1e-9)
        assert ours.carbon_nitrogen == pytest.approx(ratio, rel=1e-7)
        size = sum(ours.masses)
        distance = sum((mass / size - m.wanted) ** 2 for mass, m in zip(ours.masses, materials))
        assert distance == pytest.approx(least, abs=2e-7)
        if not fixed:
            assert size + ours.water == pytest.approx(1000)
    assert met > 100


def test_fixed_masses_stay_and_set_the_size():
    manure = Material(0.79, 0.017, 18, 0.5, fixed_mass=120)
    leaves = Material(0.38, 0.009, 54, 0.5)
    mix = nearest_mix([manure, leaves], 0.70, 30, total_mass=1)
    assert mix.masses[0] == 120
    assert mix.carbon_nitrogen == pytest.approx(30) and mix.moisture == pytest.approx(0.70)


@given(st.integers(0, 10**6))
def test_what_was_wanted_is_given_when_it_meets_the_targets(seed):
    materials = random_materials(random.Random(seed))
    shares = [m.wanted for m in materials]
    figures = list(zip(*map(_figures, materials)))
    moisture, ratio = mix_moisture(shares, figures[0]), mix_carbon_nitrogen(shares, *figures[:3])
    mix = nearest_mix(materials, moisture, ratio, 100, allow_water=False)
    assert mix.gave_way == ()
    assert mix.masses == pytest.approx([100 * share for share in shares], abs=1e-4)


def test_moisture_is_held_and_c_to_n_gives_way():
    leaves, straw = Material(0.38, 0.009, 54, 0.5), Material(0.12, 0.007, 80, 0.5)
    mix = nearest_mix([leaves, straw], 0.60, 30, 100)
    assert mix.gave_way == ("target_carbon_nitrogen",)
    assert mix.carbon_nitrogen == pytest.approx(54) and mix.moisture == pytest.approx(0.60)
    assert mix.carbon_nitrogen_range == pytest.approx((54, 80))


def test_too_wet_without_anything_dry():
    scraps, manure = Material(0.87, 0.027, 19, 0.5), Material(0.80, 0.02, 40, 0.5)
    mix = nearest_mix([scraps, manure], 0.60, 30, 100)
    assert mix.gave_way == ("target_moisture",)
    assert mix.carbon_nitrogen == pytest.approx(30)
    assert mix.moisture == pytest.approx(mix.moisture_range[0])
    assert mix.water == 0


def test_both_give_way():
    scraps, manure = Material(0.87, 0.027, 19, 0.5), Material(0.80, 0.02, 17, 0.5)
    mix = nearest_mix([scraps, manure], 0.60, 30, 100)
    assert set(mix.gave_way) == {"target_moisture", "target_carbon_nitrogen"}
    assert mix.carbon_nitrogen == pytest.approx(19)


def test_any_moisture_and_any_c_to_n():
    materials = random_materials(random.Random(1))
    mix = nearest_mix(materials, None, None, 10)
    assert mix.masses == pytest.approx([10 * m.wanted for m in materials])
    assert mix.water == 0 and mix.gave_way == ()


def test_fixed_amounts_are_not_drowned():
    """C:N 40 is out of reach of both; the nearest would be no manure at all, but the manure is there."""
    manure = Material(0.79, 0.017, 18, 0.5, fixed_mass=100)
    grounds = Material(0.65, 0.02, 20, 0.5)
    mix = nearest_mix([manure, grounds], 0.70, 40)
    assert mix.gave_way == ("target_carbon_nitrogen",)
    assert mix.masses[1] <= 100 / MOST_DILUTED
