"""The figures printed in the climate chapter are the ones that the code gives."""

import re
from dataclasses import replace
from datetime import date
from math import exp
from pathlib import Path

import pytest

from calc.climate import bed_temperature, heat, water
from calc.climate.bed import Scenario

CHAPTER = Path(__file__).parents[2] / "docs" / "climate"
MOISTURES = (0.55, 0.65, 0.75, 0.85)

LASTING_HEAT_WAVE = Scenario(
    air_mean=32.0,
    air_swing=8.0,
    days=1.0,
    start_temperature=None,
    bed_height=0.3048,
    moisture=0.75,
    bulk_density=600.0,
    cover_resistance=0.0,
    ground_temperature=20.0,
    decomposition_heat=20.0,
    net_radiation=0.0,
    evaporation=0.0,
    surface_coefficient=10.0,
    conductivity_factor=1.0,
)

ROWS = {
    "conduction alone, on cool ground": {"decomposition_heat": 0.0},
    "with heat from rotting, 20 W/m³": {},
    "… and 1 mm a day evaporating": {"evaporation": 1.0},
    "… and 2 mm a day evaporating": {"evaporation": 2.0},
    "raised on an insulated floor, 20 W/m³": {"ground_temperature": None},
    "raised, 2 mm a day evaporating": {"ground_temperature": None, "evaporation": 2.0},
    "raised, well fed: 80 W/m³": {"ground_temperature": None, "decomposition_heat": 80.0},
}


def printed(label):
    """The four temperatures in a row of the chapter's table."""
    line = next(
        line for line in (CHAPTER / "temperature.md").read_text("utf-8").splitlines() if line.startswith(f"| {label} |")
    )
    return [float(value) for value in re.findall(r"(-?[\d.]+)[ \u00a0]°C", line)]


@pytest.mark.parametrize("label", ROWS)
def test_the_table_on_drier_beds_is_computed(label):
    """Printed to a tenth of a degree."""
    scenario = replace(LASTING_HEAT_WAVE, **ROWS[label])
    ours = [scenario.with_moisture(moisture).core_extremes()[1] for moisture in MOISTURES]
    assert ours == pytest.approx(printed(label), abs=0.051)


def test_the_sentences_under_it_hold():
    """Moisture alone under a degree; a millimetre a day about 1.5 K on ground and twice that raised; feed beats
    both.
    """
    alone = printed("conduction alone, on cool ground")
    assert max(alone) - min(alone) < 1.0
    ground = printed("with heat from rotting, 20 W/m³")[2] - printed("… and 1 mm a day evaporating")[2]
    raised = (printed("raised on an insulated floor, 20 W/m³")[2] - printed("raised, 2 mm a day evaporating")[2]) / 2
    assert ground == pytest.approx(1.5, abs=0.2) and raised > 1.9 * ground
    assert printed("raised, well fed: 80 W/m³")[2] > printed("raised on an insulated floor, 20 W/m³")[0] + 5


def test_two_inches_and_four_inches():
    """More than half of the swing is gone at 2 in, four fifths at 4 in, in bedding of the usual wetness."""
    body = heat.bed(0.3048, 600, 0.75, 0.0)

    damping = heat.conduction.damping_depth(body.diffusivity)
    assert exp(-0.0508 / damping) < 0.5
    assert exp(-0.1016 / damping) == pytest.approx(0.2, abs=0.03)


def test_the_frost_of_the_chapter_with_and_without_straw():
    """7 degC and 3 degC half-way down; out of the band after two days when bare."""
    frost = {
        "bed_height": 0.3048,
        "air_mean": -4.0,
        "air_swing": 4.0,
        "days": 3.0,
        "start_temperature": 10.0,
        "ground_temperature": 6.0,
    }
    covered, bare = bed_temperature(**frost, cover_resistance=1.4), bed_temperature(**frost)
    assert (round(covered.lowest_core), round(bare.lowest_core)) == (7, 3)
    assert bare.hours_until_out == pytest.approx(48, abs=3)


@pytest.mark.parametrize(
    ("height", "heat_made", "cover", "least", "most"),
    [(0.4572, 80.0, 0.0, 10, 13), (0.4572, 20.0, 1.4, 10, 13), (0.3048, 20.0, 0.0, 3, 4)],
)
def test_the_hard_freeze_that_growers_report(height, heat_made, cover, least, most):
    """Three days of air at -3 degC on a bed at 12 degC: above 10 degC deep and warm or covered, 4 degC shallow, bare
    and idle.
    """
    freeze = {"air_mean": -3.0, "air_swing": 1.0, "days": 3.0, "start_temperature": 12.0, "ground_temperature": 6.0}
    answer = bed_temperature(**freeze, bed_height=height, decomposition_heat=heat_made, cover_resistance=cover)
    assert least < answer.lowest_core < most


@pytest.mark.parametrize(
    ("climate", "month", "said"), [("dry", 7, (1.6, 1, 4)), ("mild", 7, (4.7, 3, 10)), ("mild", 1, (18, None, None))]
)
def test_days_between_waterings_that_the_chapter_says(climate, month, said):
    band = water(climate=climate, date=date(2027, month, 15)).days_between_waterings
    typical, low, high = said
    assert band.value == pytest.approx(typical, rel=0.03)
    assert low is None or (round(band.low), round(band.high)) == (low, high)
