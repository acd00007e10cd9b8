"""Air and water in the pores of bedding."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.climate import pores
from calc.facts import climate as facts

MOISTURES, ASHES = st.floats(0.05, 0.95), st.floats(0.0, 1.0)


def test_pore_space_of_peat_and_of_sand():
    """Peat of 100 kg/m3 dry has 94 % pores and sand of 1,590 kg/m3 40 %, any text on growing media (total pore space,
    EN 13041).
    """
    assert pores.air_space(100, 0.0, ash=0.02) == pytest.approx(0.94, abs=0.005)
    assert pores.air_space(1590, 0.0, ash=1.0) == pytest.approx(0.40, abs=0.001)


@given(MOISTURES, ASHES)
def test_no_pore_is_left_at_the_densest(moisture, ash):
    """The three volumes add up to the whole, worked from the weights and not from the formula under test."""
    density = pores.densest(moisture, ash)
    dry, water = density * (1 - moisture), density * moisture
    assert dry * (1 - ash) / 1550 + dry * ash / 2650 + water / 1000 == pytest.approx(1)
    assert pores.air_space(density, moisture, ash) == pytest.approx(0, abs=1e-12)
    assert pores.air_space(pores.densest_with_air(moisture, 0.25, ash), moisture, ash) == pytest.approx(0.25)


@given(st.floats(20, 900), st.floats(0.0, 0.4), ASHES)
def test_the_wettest_leaves_just_that_air(dry, air, ash):
    moisture = pores.wettest(dry, air, ash)
    assert 0 <= moisture < 1
    left = pores.air_space(dry / (1 - moisture), moisture, ash)
    assert left == pytest.approx(air) if moisture else left <= air + 1e-9


def test_mud():
    """Compost of 600 kg/m3 at 55 %, 270 kg of dry matter: wetted to 75 % it has 1,080 kg/m3, and under 4 % of air."""
    wetted = pores.at_moisture(600, 0.55, 0.75)
    assert wetted == pytest.approx(1080) and pores.is_mud(wetted, 0.75)
    fits = pores.wettest(270)
    assert not pores.is_mud(pores.at_moisture(600, 0.55, fits), fits)
    assert pores.is_mud(pores.at_moisture(600, 0.55, fits + 0.005), fits + 0.005)


def test_more_mineral_leaves_more_air():
    ends = [
        pores.densest(0.75, ash) for ash in (facts.BEDDING_ASH.low, facts.BEDDING_ASH.typical, facts.BEDDING_ASH.high)
    ]
    assert ends == sorted(ends) and ends[0] == pytest.approx(1105, abs=1) and ends[2] == pytest.approx(1135, abs=1)
