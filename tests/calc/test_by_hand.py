"""Whole answers worked out by hand: round inputs, each result from its definition, written out here and nowhere taken
from the code.

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
        assert found[name] == (value if value is None or isinstance(value, bool) else pytest.approx(value, rel=1e-6)), (
            name
        )


# ---- moisture


def test_bedding_that_is_too_dry():
    """100 kg at 40 %: 60 kg dry. At 70 % that is 60 ÷ 0.3 = 200 kg, so 100 kg of water, 50 mm on 2 m²."""
    close(
        answer("moisture.adjust", mass=100, moisture=0.4, target=0.7, area=2),
        water_to_add=100,
        water_to_lose=0,
        dry_bedding_to_add=0,
        final_mass=200,
        water_depth=0.05,
        dry_matter=60,
    )


def test_bedding_that_is_too_wet():
    """200 kg at 70 %: 60 kg dry.

    At 40 % that is 100 kg, so 100 kg must go. Or x kg at 10 %: (140 + 0.1·x) = 0.4·(200 + x), x = 60 ÷ 0.3.
    """
    found = answer("moisture.adjust", mass=200, moisture=0.7, target=0.4, area=4, dry_bedding_moisture=0.1)
    close(
        found,
        water_to_add=0,
        water_to_lose=100,
        dry_bedding_to_add=200,
        final_mass=100,
        water_depth=0.025,
        dry_matter=60,
    )


def test_bedding_by_volume_counts_its_density():
    close(answer("moisture.adjust", volume=0.5, bulk_density=200, moisture=0.4, target=0.7), water_to_add=100)


def test_dry_bedding_wetter_than_the_target_is_no_help_only_when_it_is_needed():
    assert "errors" in calc.run("moisture.adjust", {"moisture": 0.7, "target": 0.4, "dry_bedding_moisture": 0.4})
    assert "errors" not in calc.run("moisture.adjust", {"moisture": 0.4, "target": 0.7, "dry_bedding_moisture": 0.8})


def test_constant_mass_is_the_first_weighing_within_the_limit():
    assert constant_from([100.0, 60.0, 59.0, 59.0, 58.0], 0.02) == 2  # 1 ÷ 60 is 1.7 %
    assert constant_from([100.0, 50.0, 49.0], 0.02) == 2  # 1 ÷ 50 is 2 %: the limit itself will do
    assert constant_from([100.0, 60.0, 50.0], 0.02) is None


def test_bedding_over_nine_tenths_water_is_airless_now_and_as_a_target():
    """Above 90 % the pores are full (Edwards & Arancon 2004 give 60 to 90 % as the limits)."""
    now = calc.run("moisture.adjust", {"moisture": 0.92, "target": 0.75})["warnings"]
    assert len(now) == 1 and "airless now" in now[0]
    assert "airless" in " ".join(calc.run("moisture.adjust", {"target": 0.91})["warnings"])
    assert not any(
        "airless" in sentence for sentence in calc.run("moisture.adjust", {"moisture": 0.9, "target": 0.75})["warnings"]
    )


# ---- harvest


def test_density_and_prices():
    """10 kg in 20 L is 500 kg/m³.

    Half of it water; at 20 % water the same dry matter in the same room is 500 · 0.5 ÷ 0.8.
    """
    found = answer(
        "harvest.density",
        bucket_mass=10,
        bucket_volume=0.02,
        volume=3,
        bag_volume=0.025,
        price=400,
        moisture=0.5,
        other_moisture=0.2,
    )
    close(
        found,
        bulk_density=500,
        mass=1500,
        bags=120,
        price_per_volume=400,
        price_per_mass=0.8,
        price_per_bag=10,
        price_per_litre=0.4,
        bag_mass=12.5,
        density_at_moisture=312.5,
        dry_matter_per_bag=6.25,
    )


def test_density_with_a_price_by_weight_or_none():
    found = answer("harvest.density", bucket_mass=10, bucket_volume=0.02, bag_volume=0.025, mass_price=0.8, price=None)
    close(found, price_per_volume=400, price_per_bag=10)
    close(
        answer("harvest.density", price=None, mass_price=None),
        price_per_volume=None,
        price_per_mass=None,
        price_per_bag=None,
        bags=40.3948051948,
    )
    close(answer("harvest.density", price=0), price_per_volume=0, price_per_mass=0)


def test_drying_by_two_weighings():
    """100 kg from 60 % to 50 %: 40 kg dry, 80 kg when ready, 20 kg to lose.

    A tub of 10 kg lost 1 kg in 5 h: 2 kg an hour of the whole, 10 h.
    """
    given = {
        "mass": 100,
        "moisture_before": 0.6,
        "moisture_after": 0.5,
        "first_weight": 10,
        "second_weight": 9,
        "hours_between": 5,
    }
    close(answer("harvest.dry_down", **given), water_to_lose=20, mass_at_screening=80, measured_pace=2, hours=10)
    assert ends("harvest.dry_down", "hours", **given) == pytest.approx((8, 10, 13))


def test_drying_in_air_follows_area_and_slowing():
    """Twice the area or twice the share of a wet surface's drying: half the hours; water ÷ (power · slowing · area) is
    days.
    """
    given = {
        "mass": 100,
        "moisture_before": 0.6,
        "moisture_after": 0.5,
        "area": 10,
        "slowing": 0.4,
        "air_temperature": 20,
        "humidity": 0.5,
        "wind": 1,
    }
    found = answer("harvest.dry_down", **given)
    assert found["measured_pace"] is None
    assert found["hours"] == pytest.approx(24 * 20 / (found["drying_power"] * 0.4 * 10))
    low, middle, high = ends("harvest.dry_down", "hours", **given)
    assert low < middle < high
    assert answer("harvest.dry_down", **given | {"area": 20})["hours"] == pytest.approx(middle / 2)
    assert answer("harvest.dry_down", **given | {"slowing": 0.8})["hours"] == pytest.approx(middle / 2)


# ---- garden


def test_worms_for_a_kitchen():
    """7 kg a week is 1 kg a day.

    At 20 °C, pace 1: 2 kg of worms, from 1 to 2.5; 1 ft² for each pound a week is 0.204816 m² for each kg.
    """
    given = {"scraps_per_week": 7, "bin_temperature": 20, "bedding_depth": 0.1, "worm_price": 50}
    close(
        answer("garden.worms", **given),
        scraps_per_day=1,
        worm_mass=2,
        bin_area=1.43371271,
        bedding_volume=0.143371271,
        cost=100,
    )
    assert ends("garden.worms", "worm_mass", **given) == pytest.approx((1, 2, 2.5))


def test_castings_of_a_kitchen_are_a_share_of_its_scraps():
    """A year is 52.18 weeks; a m³ of scraps weighs 593 kg, from 235 to 898; what is left is a share of their room."""
    low, middle, high = ends("garden.worms", "castings_per_year", scraps_per_week=7)
    least, usual, most = (7 * 52.18 / weight for weight in (898, 593.276, 235))
    assert 0 < low < middle < high
    assert low < least and middle < usual and high < most
    assert ends("garden.worms", "castings_per_year", scraps_per_week=14) == pytest.approx(
        (2 * low, 2 * middle, 2 * high)
    )


def test_a_cold_bin_needs_more_worms():
    assert answer("garden.worms", scraps_per_week=7, bin_temperature=12)["worm_mass"] > 2
    assert answer("garden.worms", scraps_per_week=7, bin_temperature=24)["worm_mass"] < 2


BAG = {"bag_volume": 0.02, "price": 10, "castings_bulk_density": 500}


def test_topdressing_is_all_castings():
    """100 m² at 6 mm: 600 L, 30 bags, 300 kg, 3 kg on each square metre."""
    close(
        answer("garden.dose", use="topdress", area=100, depth=0.006, share=0.1, **BAG),
        volume=0.6,
        total_volume=0.6,
        bags=30,
        cost=300,
        mass=300,
        mass_per_area=3,
        depth_used=0.006,
    )


def test_a_bed_takes_its_share():
    """100 m², 20 cm deep, a tenth castings: 2 m³ of 20."""
    close(
        answer("garden.dose", use="bed", area=100, depth=0.2, share=0.1, **BAG),
        volume=2,
        total_volume=20,
        bags=100,
        cost=1000,
        mass=1000,
        mass_per_area=10,
        depth_used=0.2,
    )


def test_pots_and_blends_have_no_area():
    close(
        answer("garden.dose", use="pots", pots=50, pot_volume=0.004, share=0.2, **BAG),
        volume=0.04,
        total_volume=0.2,
        bags=2,
        cost=20,
        mass=20,
        mass_per_area=None,
        depth_used=None,
    )
    close(
        answer("garden.dose", use="blend", blend_volume=0.5, share=0.2, **BAG),
        volume=0.1,
        total_volume=0.5,
        bags=5,
        mass_per_area=None,
        depth_used=None,
    )


def test_a_bag_too_little_is_a_bag_more():
    assert answer("garden.dose", use="blend", blend_volume=0.101, share=0.2, **BAG)["bags"] == 2
    assert answer("garden.dose", use="blend", blend_volume=0.1, share=0.2, **BAG)["bags"] == 1


# ---- breeding room

ROOM = {
    "length": 4,
    "width": 3,
    "height": 2.5,
    "wall_resistance": 2,
    "roof_resistance": 3,
    "floor_resistance": 1,
    "air_changes": 1,
    "setpoint": 25,
    "second_setpoint": None,
    "gains": 100,
    "design_temperature": -10,
    "hot_design_temperature": 35,
    "monthly_means": [5] * 12,
    "heating_efficiency": 2,
    "cooling_cop": 4,
    "energy_price": 0.2,
}
SHELL = 35 / 2 + 12 / 3 + 12 / 1  # W/K: 14 m of wall 2.5 m high, roof and floor of 12 m²


def test_a_room_in_winter_and_summer():
    """Coldest hour 35 K below, hottest 10 K above with 100 W of lights; each machine with a quarter to spare."""
    found = answer("breeding.room", **ROOM)
    air = found["air_share"] * found["conductance"]
    assert found["conductance"] - air == pytest.approx(SHELL)
    assert air == pytest.approx(
        0.335 * 30, rel=0.03
    )  # about a third of a watt-hour carries a cubic metre through a kelvin
    total = found["conductance"]
    close(
        found,
        heat_loss=35 * total,
        heater_size=1.25 * 35 * total,
        cooler_size=1.25 * (10 * total + 100),
        second_room_cost_per_year=None,
    )


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
    """The wall's inside lies below the room by the film's share of the resistance, 0.13 of 2; it sweats when the dew
    point is above.
    """
    found = answer("breeding.room", **ROOM | {"humidity": 0.75})
    close(found, wall_temperature=25 - 35 * 0.13 / 2)
    assert found["dew_point"] == pytest.approx(20.3, abs=0.2)  # tables of moist air: 25 °C, 75 %
    assert found["condensation"] is False
    assert answer("breeding.room", **ROOM | {"humidity": 0.75, "wall_resistance": 0.4})["condensation"] is True


# ---- money


def test_cost_of_a_unit():
    """Half an hour at 20, 2 of feed, 1 of packing: 13.

    Equipment of 1,300 less 100 over 5 years is 20 a month, with 30 and 50 it is 100 on 50 units.
    """
    found = answer(
        "economics.unit_cost",
        price=20,
        units_per_month=50,
        labour_hours_per_unit=0.5,
        wage=20,
        feed_cost_per_unit=2,
        packing_cost_per_unit=1,
        energy_cost_per_month=30,
        fixed_cost_per_month=50,
        equipment_cost=1300,
        salvage=100,
        equipment_life_years=5,
    )
    close(
        found,
        variable_cost_per_unit=13,
        depreciation_per_month=20,
        fixed_cost_total_per_month=100,
        cost_per_unit=15,
        break_even_price=15,
        margin_per_unit=5,
        profit_per_month=250,
        labour_share=10 / 15,
        break_even_units=100 / 7,
        units_sold=50,
        hours_for_one=0.5,
    )
    assert found["earned_per_hour"] == pytest.approx(((20 - 3) * 50 - 100) / 25)


# ---- lanes


def test_castings_back_to_lane():
    """Each step of the chain from what is sold to what it takes."""
    given = {
        "castings_per_week": 1,
        "screen_product_share": 0.5,
        "lane_width": 1.25,
        "bed_height": 0.4,
        "stocking_density": 10,
        "path_width": 0.75,
        "longest_lane": 20,
        "wage": 10,
        "bed_temperature": 20,
        "fed_on": "side",
    }
    found, own = (
        answer("lane.output", **given),
        {name: item["value"] for name, item in calc.run("lane.output", given)["inputs"].items()},
    )
    # a cubic metre of castings as sliced holds 213.6 kg of dry matter, one at the screen 284.8 kg: three quarters are
    # left
    dried = 593.276 * 0.6 * 0.3 / 0.5 / (593.276 * (1 - 0.52))
    raw = 2 / dried
    close(found, castings_raw_per_week=raw, feed_volume_per_week=raw / own["volume_kept"])
    across = own["gap"] + 0.4  # behind a face of 45 degrees
    close(
        found,
        lane_length=found["worm_mass"] / 10 / across,
        floor_area=found["face_length"] * (across + own["gap"] + 0.3048 + 0.75),  # and the way of a slice of one foot
        labour_cost_per_week=found["labour_hours_per_week"] * 10,
    )
    close(found, water_per_week=own["water_per_area_per_day"] * found["lane_length"] * across * 7)
    assert (found["lanes"] - 1) * 20 < found["lane_length"] <= found["lanes"] * 20
    assert answer("lane.output", **given | {"castings_per_week": 0.001})["lanes"] == 1


# ---- records


@given(
    st.lists(
        st.tuples(st.integers(0, 400), st.floats(-30, 60)), min_size=3, max_size=20, unique_by=lambda point: point[0]
    )
)
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
    assert usual_gap(days) == pytest.approx(statistics.median(gaps))


def test_usual_gap_leaves_out_two_on_one_day():
    assert usual_gap([0.0, 0.0, 5.0, 5.0, 8.0]) == 4
    assert usual_gap([3.0]) is None


# ---- frost


@given(st.floats(0.1, 3), st.floats(1, 2000), st.floats(10, 900))
def test_frost_depth_balances_heat_led_off_against_water_frozen(conductivity, degree_days, water):
    """While frost goes down, heat led off through depth h is k·T/h and the freezing of h takes 334 kJ/kg·w·h: half of
    h²·w·334 kJ is k·(degree days)·86,400.
    """
    depth = stefan_frost_depth(conductivity, degree_days, water)
    assert depth**2 * water * 334_000 / 2 == pytest.approx(conductivity * degree_days * 86_400, rel=0.002)


def test_frost_depth_grows_with_the_root_of_the_cold():
    assert stefan_frost_depth(1, 400, 200) == pytest.approx(2 * stefan_frost_depth(1, 100, 200))
    assert stefan_frost_depth(1, 100, 200) == pytest.approx(sqrt(2 * 100 * 86_400 / (334_000 * 200)), rel=0.002)


# ---- the herd


def test_growth_that_nothing_holds_back_solves_its_own_equation():
    """(r + μ)·e^(r·τ) = cocoons · hatching · hatchlings · survival, at the best temperature where nothing is slowed."""
    given = {
        "bed_temperature": 25,
        "cocoons_per_worm_per_day": 0.4,
        "hatch_share": 0.8,
        "hatchlings_per_cocoon": 2.5,
        "survival": 0.5,
        "incubation_days": 20,
        "maturing_days": 40,
        "adult_mortality_per_day": 0.002,
    }
    inputs = set(calc.find("lane.herd").inputs)
    found = answer("lane.herd", **{name: value for name, value in given.items() if name in inputs})
    growth = found["unlimited_growth_per_day"]
    assert set(given) <= inputs, set(given) - inputs
    assert (growth + 0.002) * numpy.exp(growth * 60) == pytest.approx(0.4 * 0.8 * 2.5 * 0.5, rel=0.02)
    assert found["unlimited_doubling_days"] == pytest.approx(log(2) / growth)


# ---- harvest, once more


def test_where_the_weight_goes():
    """1,000 kg at 60 % is 400 kg dry with 10 % ash, 40 kg.

    At 20 % ash that is 200 kg dry, at 50 % moisture 400 kg, of 800 kg/m³ half a cubic metre.
    """
    found = answer(
        "harvest.balance",
        mass=1000,
        moisture_before=0.6,
        moisture_after=0.5,
        ash_before=0.1,
        ash_after=0.2,
        bulk_density_before=500,
        bulk_density_after=800,
    )
    close(
        found,
        castings_mass=400,
        castings_volume=0.5,
        mass_kept=0.4,
        volume_kept=0.25,
        dry_matter_lost=0.5,
        organic_matter_lost=1 - 160 / 360,
        water_lost=600 - 200,
    )
    assert "errors" in calc.run("harvest.balance", {"ash_before": 0.2, "ash_after": 0.2})


def test_two_decks():
    """Sieves that follow a Rosin–Rammler curve of 4 mm and spread 1: e^(−x÷4) is coarser than x."""
    edges, total = (0.008, 0.004, 0.002, 0.001), 1.0
    coarser = [numpy.exp(-edge / 0.004) for edge in edges]
    rows = [
        {"opening": edge, "retained": share - before} for edge, share, before in zip(edges, coarser, [0, *coarser])
    ] + [{"opening": 0, "retained": total - coarser[-1]}]
    found = answer(
        "harvest.screen",
        mass=100,
        sieves=rows,
        coarse_opening=0.008,
        fine_opening=0.004,
        efficiency=0.9,
        throughput_per_hour=50,
        castings_bulk_density=500,
    )
    through, fine = 0.9 * (1 - numpy.exp(-2)), 0.81 * (1 - numpy.exp(-1))
    close(
        found,
        fit_size=0.004,
        fit_spread=1,
        fit_r2=1,
        median_size=0.004 * log(2),
        product_share=fine,
        product_mass=100 * fine,
        returned_mass=100 * (through - fine),
        mulch_mass=100 * (1 - through),
        hours=2,
        product_volume=100 * fine / 500,
    )


# ---- trays


def test_trays_of_a_steady_room():
    """2 trays a week, 500 breeders in each, 2 cocoons a week for 3 weeks: 3,000, less a tenth lost in sorting, 2,700.

    Half hatch, 3 in each, two thirds live: 2,700 worms.
    """
    found = answer(
        "breeding.trays",
        trays_per_week=2,
        breeders_mass_per_tray=0.5,
        breeders_per_mass=1000,
        cocoons_per_worm_per_week=2,
        breeding_days=21,
        sorting_loss=0.1,
        hatch_share=0.5,
        hatchlings_per_cocoon=3,
        survival=2 / 3,
        incubation_days=28,
        growing_days=56,
        growout_trays_per_tray=1.5,
        sale_worms_per_mass=900,
        minutes_per_tray_per_day=1,
        sorting_minutes_per_tray=30,
        feed_per_tray_per_day=0.2,
        tray_area=0.25,
        tiers=5,
        herd_share=0.25,
    )
    together = 2 * 3 + 2 * 1.5 * 12  # trays a week × weeks in the room (Little's law)
    close(
        found,
        cocoons_per_tray=2700,
        worms_per_tray=2700,
        worms_per_week=5400,
        worm_mass_per_week=6,
        days_to_first_sale=105,
        breeding_trays_at_once=6,
        growout_trays_at_once=36,
        trays_at_once=together,
        breeders_mass_needed=3,
        herd_needed=12,
        feed_per_day=together * 0.2,
        labour_hours_per_week=together * 7 / 60 + 1,
        rack_area=together * 0.25 / 5,
    )


# ---- records


LOG = (
    "time,feed (kg),castings (kg),moisture (%),temperature (C),water"
    " (kg)\n2027-03-01,4,,80,18,10\n2027-03-05,6,,,20,\n2027-03-11,5,9,70,22,10"
)


def test_a_lane_s_log():
    """Ten days: 15 kg fed to 3 kg of worms, 9 kg out; fed after four and six days, watered after ten."""
    found = answer("records.lane", log=LOG, worm_mass=3, band_low=10, band_high=30)
    close(
        found,
        feed_total=15,
        castings_total=9,
        days=10,
        feed_per_worm_mass_per_day=10 / 3 / 10,  # the last 5 kg are still to be eaten
        castings_per_feed=0.6,
        hours_outside_band=None,  # readings four and six days apart
    )
    assert found["next_feeding"] == "2027-03-16" and found["next_watering"] == "2027-03-21"
    assert found["moisture_drift_per_week"] is None, "two readings make no drift"
    assert found["temperature_drift_per_week"] == pytest.approx(7 * numpy.polyfit([0, 4, 10], [18, 20, 22], 1)[0])
    assert "errors" in calc.run("records.lane", {"band_low": 20, "band_high": 20})


def test_a_heap_s_turnings_by_the_clock_and_by_hours_are_the_same():
    hours = "time,temperature (C)\n" + "\n".join(f"{hour},{60 if hour < 200 else 40}" for hour in range(0, 300, 10))
    dates = "time,temperature (C)\n" + "\n".join(
        f"2027-03-{1 + hour // 24:02} {hour % 24:02}:00,{60 if hour < 200 else 40}" for hour in range(0, 300, 10)
    )
    by_hours = calc.run("feed.hot_phase", {"log": hours, "turnings": "time\n50\n100\n150", "method": "windrow"})
    by_dates = calc.run(
        "feed.hot_phase",
        {"log": dates, "turnings": "time\n2027-03-03 02:00\n2027-03-05 04:00\n2027-03-07 06:00", "method": "windrow"},
    )
    assert "errors" not in by_hours and "errors" not in by_dates, (by_hours.get("errors"), by_dates.get("errors"))
    same = [name for name, item in by_hours["outputs"].items() if isinstance(item["value"], (int, float))]
    assert same and all(
        by_hours["outputs"][name]["value"] == pytest.approx(by_dates["outputs"][name]["value"]) for name in same
    )


def test_a_log_is_in_dates_or_in_hours():
    mixed = "time,temperature (C)\n0,50\n10,51\n2027-03-01,52"
    assert any(
        "Row 3" in sentence and "hours" in sentence for sentence in calc.run("records.lane", {"log": mixed})["warnings"]
    )
    mixed = "time,temperature (C)\n2027-03-01,50\n2027-03-02,51\n5,52"
    assert any(
        "Row 3" in sentence and "dates" in sentence for sentence in calc.run("records.lane", {"log": mixed})["warnings"]
    )


# ---- money, once more


def test_the_best_product_is_the_one_that_earns_most_for_its_castings():
    """A bag leaves 10 for 0.02 m³, a pot 3 for 0.003 m³: pots first, as far as they sell, then bags."""
    products = [
        {"product": "Bag", "castings": 0.02, "price": 15, "cost": 5, "demand": 100},
        {"product": "Pot", "castings": 0.003, "price": 4, "cost": 1, "demand": 100},
    ]
    found = answer("economics.mix", castings_available=0.5, products=products)
    close(found, margin_per_week=100 * 3 + 10 * 10, castings_used=0.5, castings_left=0, worth_of_more=500)
    assert found["best_product"] == "Pot"


# ---- reading


def test_bounds_are_told_in_round_figures_of_the_unit_that_was_written_or_shown():
    """moisture.adjust takes 0.01 kg to 1,000,000 kg and an area in m²."""
    said = {
        text: calc.run("moisture.adjust", {"mass": text}, units="us")["errors"][0]["message"]
        for text in ("5,000,000", "2000000 kg", "3000 t", "0.0001 oz")
    }
    assert said["5,000,000"] == "Weight of the bedding must be between 0.023 lb and 2,200,000 lb."
    assert said["2000000 kg"] == "Weight of the bedding must be between 0.01 kg and 1,000,000 kg."
    assert said["3000 t"] == "Weight of the bedding must be between 0.00001 t and 1,000 t."
    assert said["0.0001 oz"] == "Weight of the bedding must be between 0.36 oz and 35,000,000 oz."
    (error,) = calc.run("lane.feeding", {"bed_temperature": "200 F"}, units="metric")["errors"]
    assert error["message"].endswith("°F.") and "113 °F" in error["message"]


def test_a_day_is_within_its_years():
    (error,) = calc.run("lane.feeding", {"start_date": "2201-01-01"})["errors"]
    assert error["input"] == "start_date" and "year-month-day" in error["message"]
    for day in ("1900-01-01", "2200-12-31"):
        assert "errors" not in calc.run("lane.feeding", {"start_date": day})


def test_numbers_along_a_line_may_have_a_heading():
    heads = calc.run("breeding.room", {"monthly_means": "means\n" + "\n".join("5" for _ in range(12))}, units="metric")
    assert "errors" not in heads and heads["inputs"]["monthly_means"]["value"] == [5] * 12
    (error,) = calc.run("breeding.room", {"monthly_means": "[1, 2"}, units="metric")["errors"]
    assert "JSON" in error["message"]
