"""Air and water in the pores of bedding."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

import calc
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


def test_mud_is_said_wherever_water_is_poured():
    """The same bedding and the same sentence on every page, with the moisture that fits; denser than its solids is
    refused.
    """
    dense = {"bulk_density": "700 kg/m3", "moisture": "60 %", "target": "80 %", "mass": "20 kg"}
    adjusted = calc.run("moisture.adjust", dense, units="metric")
    said = [warning for warning in adjusted["warnings"] if "mud" in warning]
    wet = pores.at_moisture(700, 0.60, 0.80)
    fits = pores.wettest(280)
    assert said and f"Up to {int(100 * fits)} % moisture fits" in said[0]
    assert pores.air_space(wet, 0.80) < 0 == adjusted["outputs"]["air_space"]["value"]
    assert adjusted["outputs"]["water_volume"]["value"] == pytest.approx(0.020)
    for page, typed in (
        ("climate.water", {"bulk_density": "1050 kg/m3", "upper_moisture": "75 %", "lower_moisture": "70 %"}),
        ("climate.bed_temperature", {"bulk_density": "1050 kg/m3", "moisture": "75 %"}),
    ):
        answer = calc.run(page, typed, units="metric")
        assert any("This would be mud" in warning for warning in answer["warnings"]), page
        denser = calc.run(page, typed | {"bulk_density": "1200 kg/m3"}, units="metric")
        assert "every pore full of water" in denser["errors"][0]["message"], page


@given(st.floats(20, 900), st.floats(0.3, 0.9))
def test_the_moisture_that_fits_does_fit(dry, moisture):
    told = pores.mud(dry / (1 - moisture), moisture)
    if told is None:
        assert pores.air_space(dry / (1 - moisture), moisture) >= facts.LEAST_AIR.typical - 1e-9
    else:
        fits = int(re.search(r"Up to (\d+) %", told)[1]) / 100
        assert fits < moisture and (not fits or not pores.is_mud(dry / (1 - fits), fits))
