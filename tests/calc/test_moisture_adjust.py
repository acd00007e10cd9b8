"""Water and dry bedding: dry matter stays, and what is worked out brings the bedding to where it was to be."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.moisture import adjust, dry_bedding_to_add, water_to_add, water_to_lose

masses, shares = st.floats(0.1, 1e5), st.floats(0.05, 0.93)


@given(masses, shares, shares)
def test_water_brings_bedding_to_the_target_and_keeps_its_dry_matter(mass, one, other):
    moisture, target = sorted((one, other))
    water = water_to_add(mass, moisture, target)
    assert water >= 0
    assert (mass * moisture + water) / (mass + water) == pytest.approx(target)


@given(masses, shares, shares)
def test_what_was_added_is_what_must_dry_off_again(mass, one, other):
    moisture, target = sorted((one, other))
    water = water_to_add(mass, moisture, target)
    assert water_to_lose(mass + water, target, moisture) == pytest.approx(water, abs=1e-9 * mass)


@given(masses, st.floats(0.5, 0.93), st.floats(0.3, 0.49), st.floats(0.0, 0.25))
def test_dry_bedding_brings_wet_bedding_to_the_target(mass, moisture, target, dry):
    bedding = dry_bedding_to_add(mass, moisture, target, dry)
    assert (mass * moisture + bedding * dry) / (mass + bedding) == pytest.approx(target)


@given(masses, shares, shares)
def test_the_answer_does_one_thing_or_the_other(mass, moisture, target):
    answer = adjust(mass=mass, moisture=moisture, target=target, dry_bedding_moisture=0.0)
    assert answer.water_to_add >= 0
    assert not (answer.water_to_add > 0 and moisture > target)
