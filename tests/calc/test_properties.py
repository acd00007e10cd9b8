"""What must be so whatever the figures are: more heat dries faster, a doubled bed holds double, there and back is
nothing, a range holds its middle. No value of ours stands here: physics and arithmetic say it.
"""

import itertools
import math
from importlib import import_module

import pytest

from calc.engine.describe import Band
from calc.engine.register import every
from calc.engine.run import answer
from calc.facts.base import Range
from calc.page import lists

RISES, FALLS = 1, -1
GOES = [
    # function, what is held, what moves, from where to where, which way the result goes, and why
    ("climate.psychrometrics.saturation_pressure", {}, "temperature", (-20, 60), RISES, "warm air holds more"),
    ("climate.psychrometrics.vapour_pressure", {"temperature": 21}, "humidity", (0.01, 1), RISES, "by definition"),
    (
        "climate.psychrometrics.vapour_pressure_deficit",
        {"humidity": 0.5},
        "temperature",
        (-5, 45),
        RISES,
        "warm air is thirstier",
    ),
    (
        "climate.psychrometrics.vapour_pressure_deficit",
        {"temperature": 21},
        "humidity",
        (0, 1),
        FALLS,
        "damp air is full",
    ),
    ("climate.psychrometrics.pressure", {}, "altitude", (0, 4000), FALLS, "less air lies above"),
    (
        "climate.psychrometrics.wet_bulb",
        {"temperature": 28, "air_pressure": 101.3},
        "humidity",
        (0.05, 1),
        RISES,
        "damp air cools less",
    ),
    ("climate.psychrometrics.dew_point", {}, "vapour", (0.2, 5), RISES, "more vapour condenses sooner"),
    (
        "climate.psychrometrics.misted_air",
        {"temperature": 33, "wet_bulb_temperature": 20},
        "effectiveness",
        (0, 1),
        FALLS,
        "more mist cools more",
    ),
    ("climate.evaporation.wind_at_two_metres", {"height": 10}, "wind", (0.1, 20), RISES, "in proportion"),
    ("climate.evaporation.wind_at_two_metres", {"wind": 4}, "height", (2, 40), FALLS, "wind is slower near the ground"),
    ("climate.evaporation.psychrometric_constant", {}, "pressure", (60, 104), RISES, "in proportion"),
    ("climate.evaporation.long_wave_coefficient", {}, "temperature", (-20, 60), RISES, "T³"),
    (
        "climate.evaporation.cooling_constant",
        {"mean": 18, "pressure": 101.3},
        "wind",
        (0, 8),
        FALLS,
        "wind outdoes radiation",
    ),
    (
        "climate.evaporation.wet_surface_drying",
        {"mean": 18, "wind": 1, "constant": 0.067},
        "deficit",
        (0, 4),
        RISES,
        "dry air takes more",
    ),
    (
        "climate.evaporation.wet_surface_drying",
        {"mean": 18, "deficit": 1, "constant": 0.067},
        "wind",
        (0, 8),
        RISES,
        "wind carries it off",
    ),
    (
        "climate.evaporation.wet_surface",
        {"mean": 18, "wind": 1, "deficit": 1, "pressure": 101.3, "net": 9},
        "shade",
        (0, 1),
        FALLS,
        "shade dries less",
    ),
    (
        "climate.evaporation.wet_surface",
        {"mean": 18, "wind": 2, "deficit": 1, "pressure": 101.3, "net": 9},
        "shelter",
        (0, 1),
        FALLS,
        "shelter dries less",
    ),
    ("climate.heat.conductivity", {}, "water", (0, 800), RISES, "water conducts better than air"),
    ("climate.heat.heat_capacity", {"dry_density": 150}, "water", (0, 800), RISES, "water holds heat"),
    ("climate.heat.surface_link", {"surface_coefficient": 10}, "cover_resistance", (0, 5), FALLS, "a cover keeps in"),
    ("climate.conduction.damping_depth", {"period": 86400}, "diffusivity", (1e-8, 1e-6), RISES, "by definition"),
    (
        "climate.conduction.stefan_frost_depth",
        {"conductivity": 1, "water": 300},
        "frost_degree_days",
        (1, 900),
        RISES,
        "longer frost goes deeper",
    ),
    (
        "climate.conduction.stefan_frost_depth",
        {"conductivity": 1, "frost_degree_days": 90},
        "water",
        (50, 700),
        FALLS,
        "more has to freeze",
    ),
    (
        "climate.conduction.stefan_frost_depth",
        {"water": 300, "frost_degree_days": 90},
        "conductivity",
        (0.1, 3),
        RISES,
        "heat gets out faster",
    ),
    ("climate.pores.particle_density", {}, "ash", (0, 1), RISES, "minerals are heavier"),
    ("climate.pores.air_space", {"moisture": 0.75}, "bulk_density", (100, 900), FALLS, "what is packed has less air"),
    ("biology.crowding", {}, "stocking", (0, 30), FALLS, "a full bed breeds less"),
    ("feed.heat.days_to_kill", {}, "temperature", (50, 70), FALLS, "hotter kills sooner"),
    ("feed.mix.carbon_from_ash", {}, "ash", (0, 1), FALLS, "ash is no carbon"),
    ("moisture.adjust.water_to_add", {"mass": 40, "moisture": 0.5}, "target", (0.5, 0.9), RISES, "wetter takes more"),
    ("moisture.adjust.water_to_lose", {"mass": 40, "moisture": 0.8}, "target", (0.3, 0.8), FALLS, "drier loses more"),
    ("harvest.balance.organic_matter_lost", {"ash_before": 0.15}, "ash_after", (0.15, 0.6), RISES, "ash stays"),
    ("harvest.screen.rosin_rammler", {"fit_size": 2, "fit_spread": 1.2}, "size", (0.1, 20), FALLS, "less is coarser"),
    (
        "breeding.room.surface_loss",
        {"area": 12, "difference": 20},
        "resistance",
        (0.2, 6),
        FALLS,
        "insulation keeps in",
    ),
    (
        "breeding.room.wall_inside",
        {"setpoint": 20, "outside": -10},
        "wall_resistance",
        (0.2, 6),
        RISES,
        "a good wall is warm",
    ),
    (
        "economics.cash.loan_payment",
        {"amount": 5000, "months": 36},
        "rate_per_year",
        (0, 0.5),
        RISES,
        "dear money costs more",
    ),
    (
        "economics.cash.loan_payment",
        {"amount": 5000, "rate_per_year": 0.08},
        "months",
        (1, 120),
        FALLS,
        "longer is less a month",
    ),
    (
        "economics.returns.net_present_value",
        {"flows": (-900, 400, 400, 400)},
        "rate",
        (0, 1),
        FALLS,
        "money later is worth less",
    ),
    ("garden.dose.topdress_volume", {"area": 10}, "depth", (0, 0.1), RISES, "in proportion"),
]


def function_of(place):
    module, _, name = place.rpartition(".")
    return getattr(import_module(f"calc.{module}"), name)


@pytest.mark.parametrize(
    ("place", "held", "moved", "ends", "way"), [row[:5] for row in GOES], ids=[f"{row[0]}-{row[2]}" for row in GOES]
)
def test_a_result_goes_the_way_that_it_must(place, held, moved, ends, way):
    function, (low, high) = function_of(place), ends
    steps = [low + (high - low) * step / 24 for step in range(25)]
    if moved == "months":
        steps = sorted({round(step) for step in steps})
    results = [function(**held, **{moved: step}) for step in steps]
    gains = [way * (after - before) for before, after in itertools.pairwise(results)]
    assert min(gains) >= -1e-9 * max(map(abs, results)), "it turns round"
    assert way * (results[-1] - results[0]) > 0, "it does not move"


def test_there_and_back_is_nothing():
    """Water put in and taken out again, a dew point and its vapour, a size and its share, an annuity and its loan."""
    adjust, air = import_module("calc.moisture.adjust"), import_module("calc.climate.psychrometrics")
    screen, cash = import_module("calc.harvest.screen"), import_module("calc.economics.cash")
    for moisture, target in ((0.2, 0.5), (0.5, 0.8), (0.1, 0.9)):
        added = adjust.water_to_add(40.0, moisture, target)
        assert math.isclose(adjust.water_to_lose(40.0 + added, target, moisture), added)
    for temperature in (-15.0, -0.01, 0.01, 12.0, 44.0):
        assert math.isclose(air.dew_point(air.saturation_pressure(temperature)), temperature, abs_tol=1e-4)
        assert math.isclose(air.wet_bulb(temperature, 1.0, 101.3), temperature, abs_tol=1e-3)
    for passing in (0.05, 0.5, 0.95):
        assert math.isclose(1 - screen.rosin_rammler(screen.size_at(passing, 2.0, 1.2), 2.0, 1.2), passing)
    left, payment = 5000.0, cash.loan_payment(5000.0, 0.09, 36)
    for _ in range(36):
        left = left * (1 + 0.09 / 12) - payment
    assert abs(left) < 1e-6


def test_the_last_payment_of_a_loan_is_made_and_nothing_after_it():
    cash = import_module("calc.economics.cash")
    plan = cash.plan_of(answer("economics.cash").given)._replace(loan_amount=1200.0, loan_rate=0.0, loan_months=12)
    moved, owed = cash.loan_by_month(plan, 14)
    assert moved[0] == 1200.0 - 100.0
    assert moved[1:] == [-100.0] * 11 + [0.0, 0.0]
    assert math.isclose(sum(moved), 0.0, abs_tol=1e-9)
    assert owed[:2] == [1100.0, 1000.0] and owed[11:] == [0.0, 0.0, 0.0]


@pytest.mark.parametrize("id", every())
def test_a_range_holds_its_middle(id):
    view = answer(id)
    for name, output in every()[id].outputs.items():
        value = view.results[name]
        if isinstance(value, Band):
            assert value.low <= value.value <= value.high, name
        elif output.ranged:
            assert value is None or isinstance(value, (int, float)), name


def test_coefficients_hold_their_middle_and_shares_are_shares():
    for module in lists.modules().values():
        for fact in lists.facts_of(module):
            if isinstance(fact, Range):
                assert fact.low <= fact.typical <= fact.high
                assert (
                    fact.unit != "1"
                    or fact.label.split()[0] not in ("Share", "Moisture", "Ash")
                    or 0 <= fact.low <= fact.high <= 1
                )


def test_double_the_amount_is_double_the_answer():
    """Weights, areas and volumes: what is in proportion is in proportion everywhere."""
    for place, held, moved in (
        ("moisture.adjust.water_to_add", {"moisture": 0.5, "target": 0.75}, "mass"),
        ("moisture.adjust.water_to_lose", {"moisture": 0.8, "target": 0.5}, "mass"),
        ("feed.mix.mass_for_moisture", {"moisture": 0.85, "added_moisture": 0.1, "target": 0.7}, "mass"),
        ("garden.dose.topdress_volume", {"depth": 0.01}, "area"),
        ("breeding.room.surface_loss", {"resistance": 2.0, "difference": 20.0}, "area"),
        ("breeding.room.air_conductance", {"air_changes": 0.5}, "volume"),
        ("economics.cash.loan_payment", {"rate_per_year": 0.1, "months": 24}, "amount"),
    ):
        function = function_of(place)
        once, twice = function(**held, **{moved: 7.0}), function(**held, **{moved: 14.0})
        assert once != 0 and math.isclose(twice, 2 * once), place
