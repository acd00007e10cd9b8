"""Whole answers worked out by hand: round inputs, each result from its definition, written out here and nowhere taken from the code.

Mutation testing showed where parts were tested and the way they are put together was not.
"""

import statistics
from math import log, sqrt

import numpy
import pytest
from hypothesis import given
from hypothesis import strategies as st

import calc
from calc.climate.conduction import stefan_frost_depth
from calc.lane.feeding import slicing_days
from calc.moisture.samples import constant_from
from calc.records.lane import slope_per_week, usual_gap


def answer(id, **given):
    """{output: value} in SI, everything not given at its default."""
    result = calc.run(id, given)
    assert "errors" not in result, result
    return {name: output["value"] for name, output in result["outputs"].items()}


def ends(id, output, **given):
    found = calc.run(id, given)["outputs"][output]
    return found["low"], found["value"], found["high"]


def close(found, **expected):
    for name, value in expected.items():
        assert found[name] == (value if value is None or isinstance(value, bool) else pytest.approx(value, rel=1e-6)), name


# ---- moisture


def test_bedding_that_is_too_dry():
    """100 kg at 40 %: 60 kg dry. At 70 % that is 60 ÷ 0.3 = 200 kg, so 100 kg of water, 50 mm on 2 m²."""
    close(answer("moisture.adjust", mass=100, moisture=0.4, target=0.7, area=2), water_to_add=100, water_to_lose=0, dry_bedding_to_add=0, final_mass=200, water_depth=0.05, dry_matter=60)


def test_bedding_that_is_too_wet():
    """200 kg at 70 %: 60 kg dry. At 40 % that is 100 kg, so 100 kg must go. Or x kg at 10 %: (140 + 0.1·x) = 0.4·(200 + x), x = 60 ÷ 0.3."""
    found = answer("moisture.adjust", mass=200, moisture=0.7, target=0.4, area=4, dry_bedding_moisture=0.1)
    close(found, water_to_add=0, water_to_lose=100, dry_bedding_to_add=200, final_mass=100, water_depth=0.025, dry_matter=60)


def test_bedding_by_volume_counts_its_density():
    close(answer("moisture.adjust", volume=0.5, bulk_density=200, moisture=0.4, target=0.7), water_to_add=100)


def test_dry_bedding_wetter_than_the_target_is_no_help_only_when_it_is_needed():
    assert "errors" in calc.run("moisture.adjust", {"moisture": 0.7, "target": 0.4, "dry_bedding_moisture": 0.4})
    assert "errors" not in calc.run("moisture.adjust", {"moisture": 0.4, "target": 0.7, "dry_bedding_moisture": 0.8})


def test_constant_mass_is_the_first_weighing_within_the_limit():
    assert constant_from([100.0, 60.0, 59.0, 59.0, 58.0], 0.02) == 2  # 1 ÷ 60 is 1.7 %
    assert constant_from([100.0, 50.0, 49.0], 0.02) == 2  # 1 ÷ 50 is 2 %: the limit itself will do
    assert constant_from([100.0, 60.0, 50.0], 0.02) is None


# ---- harvest


def test_density_and_prices():
    """10 kg in 20 L is 500 kg/m³. Half of it water; at 20 % water the same dry matter in the same room is 500 · 0.5 ÷ 0.8."""
    found = answer("harvest.density", bucket_mass=10, bucket_volume=0.02, volume=3, bag_volume=0.025, price=400, moisture=0.5, other_moisture=0.2)
    close(found, bulk_density=500, mass=1500, bags=120, price_per_volume=400, price_per_mass=0.8, price_per_bag=10, price_per_litre=0.4, bag_mass=12.5, density_at_moisture=312.5, dry_matter_per_bag=6.25)


def test_density_with_a_price_by_weight_or_none():
    found = answer("harvest.density", bucket_mass=10, bucket_volume=0.02, bag_volume=0.025, mass_price=0.8, price=None)
    close(found, price_per_volume=400, price_per_bag=10)
    close(answer("harvest.density", price=None, mass_price=None), price_per_volume=0, price_per_mass=0)


def test_drying_by_two_weighings():
    """100 kg from 60 % to 50 %: 40 kg dry, 80 kg when ready, 20 kg to lose. A tub of 10 kg lost 1 kg in 5 h: 2 kg an hour of the whole, 10 h."""
    given = {"mass": 100, "moisture_before": 0.6, "moisture_after": 0.5, "first_weight": 10, "second_weight": 9, "hours_between": 5}
    close(answer("harvest.dry_down", **given), water_to_lose=20, mass_at_screening=80, measured_pace=2, hours=10)
    assert ends("harvest.dry_down", "hours", **given) == pytest.approx((8, 10, 13))


def test_drying_in_air_follows_area_and_slowing():
    """Twice the area or twice the share of a wet surface's drying: half the hours; water ÷ (power · slowing · area) is days."""
    given = {"mass": 100, "moisture_before": 0.6, "moisture_after": 0.5, "area": 10, "slowing": 0.4, "air_temperature": 20, "humidity": 0.5, "wind": 1}
    found = answer("harvest.dry_down", **given)
    assert found["measured_pace"] is None
    assert found["hours"] == pytest.approx(24 * 20 / (found["drying_power"] * 0.4 * 10))
    low, middle, high = ends("harvest.dry_down", "hours", **given)
    assert low < middle < high
    assert answer("harvest.dry_down", **given | {"area": 20})["hours"] == pytest.approx(middle / 2)
    assert answer("harvest.dry_down", **given | {"slowing": 0.8})["hours"] == pytest.approx(middle / 2)


# ---- garden


def test_worms_for_a_kitchen():
    """7 kg a week is 1 kg a day. At 20 °C, pace 1: 2 kg of worms, from 1 to 2.5; 0.2048 m² for each kg a week."""
    given = {"scraps_per_week": 7, "bin_temperature": 20, "bedding_depth": 0.1, "worm_price": 50}
    close(answer("garden.worms", **given), scraps_per_day=1, worm_mass=2, bin_area=1.4336, bedding_volume=0.14336, cost=100)
    assert ends("garden.worms", "worm_mass", **given) == pytest.approx((1, 2, 2.5))


def test_castings_of_a_kitchen_are_a_share_of_its_scraps():
    """A year is 52.18 weeks; scraps weigh 600 kg/m³; what is left is a share of their room."""
    low, middle, high = ends("garden.worms", "castings_per_year", scraps_per_week=7)
    scraps = 7 * 52.18 / 600
    assert 0 < low < middle < high < scraps
    assert ends("garden.worms", "castings_per_year", scraps_per_week=14) == pytest.approx((2 * low, 2 * middle, 2 * high))


def test_a_cold_bin_needs_more_worms():
    assert answer("garden.worms", scraps_per_week=7, bin_temperature=12)["worm_mass"] > 2
    assert answer("garden.worms", scraps_per_week=7, bin_temperature=24)["worm_mass"] < 2


BAG = {"bag_volume": 0.02, "price": 10, "castings_bulk_density": 500}


def test_topdressing_is_all_castings():
    """100 m² at 6 mm: 600 L, 30 bags, 300 kg, 3 kg on each square metre."""
    close(answer("garden.dose", use="topdress", area=100, depth=0.006, share=0.1, **BAG), volume=0.6, total_volume=0.6, bags=30, cost=300, mass=300, mass_per_area=3, depth_used=0.006)


def test_a_bed_takes_its_share():
    """100 m², 20 cm deep, a tenth castings: 2 m³ of 20."""
    close(answer("garden.dose", use="bed", area=100, depth=0.2, share=0.1, **BAG), volume=2, total_volume=20, bags=100, cost=1000, mass=1000, mass_per_area=10, depth_used=0.2)


def test_pots_and_blends_have_no_area():
    close(answer("garden.dose", use="pots", pots=50, pot_volume=0.004, share=0.2, **BAG), volume=0.04, total_volume=0.2, bags=2, cost=20, mass=20, mass_per_area=None, depth_used=None)
    close(answer("garden.dose", use="blend", blend_volume=0.5, share=0.2, **BAG), volume=0.1, total_volume=0.5, bags=5, mass_per_area=None, depth_used=None)


def test_a_bag_too_little_is_a_bag_more():
    assert answer("garden.dose", use="blend", blend_volume=0.101, share=0.2, **BAG)["bags"] == 2
    assert answer("garden.dose", use="blend", blend_volume=0.1, share=0.2, **BAG)["bags"] == 1


# ---- breeding room

ROOM = {"length": 4, "width": 3, "height": 2.5, "wall_resistance": 2, "roof_resistance": 3, "floor_resistance": 1, "air_changes": 1, "setpoint": 25, "second_setpoint": None, "gains": 100,
        "design_temperature": -10, "hot_design_temperature": 35, "monthly_means": [5] * 12, "heating_efficiency": 2, "cooling_cop": 4, "energy_price": 0.2}  # fmt: skip
SHELL = 35 / 2 + 12 / 3 + 12 / 1  # W/K: 14 m of wall 2.5 m high, roof and floor of 12 m²


def test_a_room_in_winter_and_summer():
    """Coldest hour 35 K below, hottest 10 K above with 100 W of lights; each machine with a quarter to spare."""
    found = answer("breeding.room", **ROOM)
    air = found["air_share"] * found["conductance"]
    assert found["conductance"] - air == pytest.approx(SHELL)
    assert air == pytest.approx(0.335 * 30, rel=0.03)  # about a third of a watt-hour carries a cubic metre through a kelvin
    total = found["conductance"]
    close(found, heat_loss=35 * total, heater_size=1.25 * 35 * total, cooler_size=1.25 * (10 * total + 100), second_room_cost_per_year=None)


def test_a_room_in_a_year():
    """Every month at 5 °C: 20 K to hold, less the lights; 8,766 hours, and half of it bought from a heat pump of 2."""
    found = answer("breeding.room", **ROOM)
    bought = (20 * found["conductance"] - 100) * 8766 / 1000 / 2
    close(found, energy_per_year=bought, energy_per_month=bought / 12, energy_cost_per_year=bought * 0.2)


def test_a_second_room_costs_what_the_first_would():
    second = answer("breeding.room", **ROOM | {"second_setpoint": 18})["second_room_cost_per_year"]
    assert second == pytest.approx(answer("breeding.room", **ROOM | {"setpoint": 18})["energy_cost_per_year"])


def test_a_room_that_must_be_cooled_all_year():
    """30 °C outside, 25 held: heat comes in and the lights add to it."""
    found = answer("breeding.room", **ROOM | {"monthly_means": [30] * 12})
    close(found, energy_per_year=(5 * found["conductance"] + 100) * 8766 / 1000 / 4)


def test_wall_and_dew_point():
    """The wall's inside lies below the room by the film's share of the resistance, 0.13 of 2; it sweats when the dew point is above."""
    found = answer("breeding.room", **ROOM | {"humidity": 0.75})
    close(found, wall_temperature=25 - 35 * 0.13 / 2)
    assert found["dew_point"] == pytest.approx(20.3, abs=0.2)  # tables of moist air: 25 °C, 75 %
    assert found["condensation"] is False
    assert answer("breeding.room", **ROOM | {"humidity": 0.75, "wall_resistance": 0.4})["condensation"] is True


# ---- money


def test_cost_of_a_unit():
    """Half an hour at 20, 2 of feed, 1 of packing: 13. Equipment of 1,300 less 100 over 5 years is 20 a month, with 30 and 50 it is 100 on 50 units."""
    found = answer("economics.unit_cost", price=20, units_per_month=50, labour_hours_per_unit=0.5, wage=20, feed_cost_per_unit=2, packing_cost_per_unit=1, energy_cost_per_month=30, fixed_cost_per_month=50,
                   equipment_cost=1300, salvage=100, equipment_life_years=5)  # fmt: skip
    close(found, variable_cost_per_unit=13, depreciation_per_month=20, fixed_cost_total_per_month=100, cost_per_unit=15, break_even_price=15, margin_per_unit=5, profit_per_month=250, labour_share=10 / 15,
          break_even_units=100 / 7, units_sold=50, hours_for_one=0.5)  # fmt: skip
    assert found["earned_per_hour"] == pytest.approx(((20 - 3) * 50 - 100) / 25)


# ---- lanes


def test_castings_back_to_lane():
    """Each step of the chain from what is sold to what it takes."""
    given = {"castings_per_week": 1, "screen_product_share": 0.5, "lane_width": 1.25, "bed_height": 0.4, "stocking_density": 10, "path_width": 0.75, "longest_lane": 20, "wage": 10}
    found, own = answer("lane.output", **given), {name: item["value"] for name, item in calc.run("lane.output", given)["inputs"].items()}
    close(found, castings_raw_per_week=2, feed_volume_per_week=2 / own["volume_kept"])
    close(found, lane_length=found["worm_mass"] / 10 / 1.25, floor_area=found["lane_length"] * 2, labour_cost_per_week=found["labour_hours_per_week"] * 10)
    close(found, water_per_week=own["water_per_area_per_day"] * found["lane_length"] * 1.25 * 7)
    assert (found["lanes"] - 1) * 20 < found["lane_length"] <= found["lanes"] * 20
    assert answer("lane.output", **given | {"castings_per_week": 0.001})["lanes"] == 1


@given(st.floats(1, 400), st.floats(0.5, 60), st.integers(1, 104))
def test_slices_come_at_equal_times_until_the_last_week(first, between, weeks):
    days = slicing_days(first, between, weeks)
    assert all(day <= 7 * weeks for day in days)
    assert all(abs(day - (first + place * between)) <= 0.5 + 1e-6 * day for place, day in enumerate(days))
    if len(days) < 200:
        assert round(first + len(days) * between) > 7 * weeks - 1


# ---- records


@given(st.lists(st.tuples(st.integers(0, 400), st.floats(-30, 60)), min_size=3, max_size=20, unique_by=lambda point: point[0]))
def test_drift_is_the_least_squares_slope_of_a_reference_library(points):
    slope = 7 * numpy.polyfit(*zip(*points), 1)[0]
    assert slope_per_week([(float(day), value) for day, value in points]) == pytest.approx(slope, rel=1e-6, abs=1e-6)


def test_drift_needs_three_readings_and_time_between_them():
    assert slope_per_week([(0.0, 1.0), (1.0, 2.0)]) is None
    assert slope_per_week([(1.0, 1.0), (1.0, 2.0), (1.0, 3.0)]) is None
    assert slope_per_week([(0.0, 1.0), (1.0, 2.0), (2.0, 3.0)]) == pytest.approx(7)


@given(st.lists(st.integers(1, 30), min_size=1, max_size=12))
def test_usual_gap_is_the_median(gaps):
    days = [float(sum(gaps[:place])) for place in range(len(gaps) + 1)]
    assert usual_gap(days) == statistics.median_high(gaps)


def test_usual_gap_leaves_out_two_on_one_day():
    assert usual_gap([0.0, 0.0, 5.0, 5.0, 8.0]) == 5
    assert usual_gap([3.0]) is None


# ---- frost


@given(st.floats(0.1, 3), st.floats(1, 2000), st.floats(10, 900))
def test_frost_depth_balances_heat_led_off_against_water_frozen(conductivity, degree_days, water):
    """While frost goes down, heat led off through depth h is k·T/h and the freezing of h takes 334 kJ/kg·w·h: half of h²·w·334 kJ is k·(degree days)·86,400."""
    depth = stefan_frost_depth(conductivity, degree_days, water)
    assert depth**2 * water * 334_000 / 2 == pytest.approx(conductivity * degree_days * 86_400, rel=0.002)


def test_frost_depth_grows_with_the_root_of_the_cold():
    assert stefan_frost_depth(1, 400, 200) == pytest.approx(2 * stefan_frost_depth(1, 100, 200))
    assert stefan_frost_depth(1, 100, 200) == pytest.approx(sqrt(2 * 100 * 86_400 / (334_000 * 200)), rel=0.002)


# ---- the herd


def test_growth_that_nothing_holds_back_solves_its_own_equation():
    """(r + μ)·e^(r·τ) = cocoons · hatching · hatchlings · survival, at the best temperature where nothing is slowed."""
    given = {"bed_temperature": 25, "cocoons_per_worm_per_day": 0.4, "hatch_share": 0.8, "hatchlings_per_cocoon": 2.5, "survival": 0.5, "incubation_days": 20, "maturing_days": 40, "adult_mortality_per_day": 0.002}
    inputs = set(calc.find("lane.herd").inputs)
    found = answer("lane.herd", **{name: value for name, value in given.items() if name in inputs})
    growth = found["unlimited_growth_per_day"]
    assert set(given) <= inputs, set(given) - inputs
    assert (growth + 0.002) * numpy.exp(growth * 60) == pytest.approx(0.4 * 0.8 * 2.5 * 0.5, rel=0.02)
    assert found["unlimited_doubling_days"] == pytest.approx(log(2) / growth)
