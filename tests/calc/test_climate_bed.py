"""climate.bed_temperature, climate.mist and climate.today as calculators."""

import math
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import calc
from calc.climate import bed_temperature, conduction, heat, mist, season, today
from calc.climate.bed import (
    Scenario,
    bed_year,
    best_change,
    changes,
    cores_by_cover,
    own_heat,
    resting_core,
    share_inside,
    vapour_share,
)
from calc.climate.decision import decide, moisture_after
from calc.climate.feed_heat import Feeding, active_area
from calc.engine import Refused
from calc.engine.run import answer as answer_of
from calc.engine.working import check
from calc.inputs import BED_HEIGHT, FEED_MOISTURE, LANE_LENGTH, LANE_WIDTH, WORM_MASS
from calc.lane.model import LanePlan, follow

WAVE = {
    "air_mean": 20.0,
    "air_swing": 8.0,
    "days": 2.0,
    "bed_height": 0.4,
    "moisture": 0.75,
    "bulk_density": 600.0,
    "cover_resistance": 0.0,
    "ground_temperature": None,
    "decomposition_heat": 0.0,
    "surface_coefficient": 60.0,
    "evaporation": 0.0,
}


def without_sides(**given):
    """Core and surface (coldest, hottest) [degC] of a bed that has no sides, for which there are exact solutions."""
    rest = {"start_temperature": None, "net_radiation": 0.0, "conductivity_factor": 1.0}
    run = Scenario(**rest | given).run()
    return [(min(values), max(values)) for values in (run.at(run.core), run.at(0))]


def film_wave(depth, body, link, swing, height):
    """Size of a daily wave at a depth under a film, insulated floor: the textbook complex solution cosh((L - z) q)
    [K].
    """
    wave = (1 + 1j) / conduction.damping_depth(body.diffusivity)

    def cosh(value):
        return (math.e ** (wave * value) + math.e ** (-wave * value)) / 2

    def sinh(value):
        return (math.e ** (wave * value) - math.e ** (-wave * value)) / 2

    return abs(swing * cosh(height - depth) / (cosh(height) + body.conductivity * wave / link * sinh(height)))


def test_core_swings_as_the_damped_wave_under_a_film_says():
    """Exact solution for a slab on an insulated floor; promised within 0.05 K."""
    core, top = without_sides(**WAVE)
    body = heat.bed(0.4, 600, 0.75, 0.0)
    exact = film_wave(0.2, body, 60.0, 8.0, 0.4)
    assert (core[1] - core[0]) / 2 == pytest.approx(exact, abs=0.05)
    assert (core[1] + core[0]) / 2 == pytest.approx(20.0, abs=0.05)
    surface = film_wave(0.0, body, 60.0, 8.0, 0.4)
    assert (top[1] - top[0]) / 2 == pytest.approx(surface, abs=0.05)


def test_steady_heat_of_rotting_is_the_parabola():
    """No swing, insulated floor: the core is q L / h + q (3/8) L2 / k above the air."""
    core, _ = without_sides(**{**WAVE, "air_swing": 0.0, "decomposition_heat": 30.0})
    exact = 20 + 30 * 0.4 / 60 + 30 * 0.375 * 0.4**2 / 0.27
    assert core == pytest.approx((exact, exact), abs=0.02)


def test_evaporation_takes_its_heat():
    """1 mm a day is 28.4 W/m2: through 10 W/m2/K the whole bed on an insulated floor is 2.84 K colder in the mean."""
    flat = {**WAVE, "air_swing": 0.0, "surface_coefficient": 10.0}
    core, _ = without_sides(**{**flat, "evaporation": 1.0})
    assert 20 - sum(core) / 2 == pytest.approx(2.836, abs=0.05)


def test_hours_out_of_the_band():
    """Half the hours above the mean of a bed that follows the air; all of them in a bed that is far too hot."""
    shallow = {**WAVE, "bed_height": 0.1, "days": 4.0}
    assert bed_temperature(**shallow, band_low=4.0, band_high=20.0).hours_above == pytest.approx(48, abs=0.5)
    hot = bed_temperature(**{**WAVE, "air_mean": 45.0}, band_high=30.0)
    assert hot.hours_above == pytest.approx(48) and hot.hours_until_out == 0 and hot.refuge == 0
    assert bed_temperature(**WAVE).hours_until_out is None


def test_a_start_is_kept_to():
    cool = bed_temperature(**{**WAVE, "air_mean": 35.0, "days": 0.5}, start_temperature=15.0)
    assert cool.lowest_core == pytest.approx(15.0, abs=0.01) and cool.highest_core < 25


def test_a_cover_saves_a_bed_in_frost():
    frost = {
        "air_mean": -8.0,
        "air_swing": 5.0,
        "days": 4.0,
        "start_temperature": 10.0,
        "ground_temperature": 6.0,
        "decomposition_heat": 20.0,
    }
    bare, covered = bed_temperature(**frost), bed_temperature(**frost, cover_resistance=1.4)
    assert bare.lowest_core < 4 < covered.lowest_core
    assert bare.hours_below > 0 == covered.hours_below


@pytest.mark.parametrize(
    ("values", "wrong"),
    [
        ({"band_low": 20.0, "band_high": 20.0}, {"band_low"}),
        ({"bulk_density": 1290.0, "moisture": 0.9}, {"bulk_density"}),
        ({"band_low": 22.0, "band_high": 18.0, "bulk_density": 1299.0}, {"band_low", "bulk_density"}),
    ],
)
def test_what_cannot_be_true_is_refused_by_name(values, wrong):
    with pytest.raises(Refused) as caught:
        bed_temperature(**values)
    assert {name for name, _ in caught.value.problems} == wrong


@settings(max_examples=40)
@given(
    air_mean=st.floats(-20, 45),
    air_swing=st.floats(0, 15),
    height=st.floats(0.1, 1.2),
    moisture=st.floats(0.3, 0.9),
    density=st.floats(150, 900),
    ground=st.floats(0, 25),
    cover=st.floats(0, 3),
)
def test_nothing_is_hotter_or_colder_than_what_surrounds_it(
    air_mean, air_swing, height, moisture, density, ground, cover
):
    answer = bed_temperature(
        air_mean=air_mean,
        air_swing=air_swing,
        days=2.0,
        bed_height=height,
        moisture=moisture,
        bulk_density=density,
        ground_temperature=ground,
        cover_resistance=cover,
        decomposition_heat=0.0,
        evaporation=0.0,
    )
    assert (
        min(air_mean - air_swing, ground) - 0.05
        <= answer.lowest_core
        <= answer.highest_core
        <= max(air_mean + air_swing, ground) + 0.05
    )


def year_of(weather, made=lambda temperature: 0.0, on_ground=True, cover=0.0):
    return bed_year(
        weather,
        heat.bed(0.3048, 600, 0.75, 0.0),
        0.75,
        600.0,
        cover,
        10.0,
        1.0,
        on_ground,
        math.inf,
        lambda air: 0.0,
        made,
    )


def test_a_constant_year_is_constant_and_a_real_one_lags():
    """The same air all year leaves the bed with the air; a year's wave reaches the core after the air."""
    for week in year_of(season.season("mild", [10.0] * 12)):
        assert week.core == pytest.approx(10.0, abs=0.01)
    weeks = year_of(season.season("mild", [3, 4, 7, 10, 14, 18, 20, 19, 16, 12, 7, 4]), cover=1.0)
    coldest_air, coldest_core = (min(weeks, key=lambda week: getattr(week, name)).number for name in ("air", "core"))
    assert 0 < coldest_core - coldest_air < 10
    assert len(weeks) == 52 and all(week.core_low < week.core < week.core_high for week in weeks)


def test_the_year_with_its_own_feed_is_warmest_when_it_eats_most():
    """Heat of the feed lifts every week, and summer more than winter: cold worms eat little."""
    weather = season.season("mild")
    plain, fed = year_of(weather), year_of(weather, Feeding(4.5, 1.9, 0.75, 0.7).heat)
    lifts = [warm.core - cold.core for warm, cold in zip(fed, plain)]
    assert min(lifts) > 0.5 and lifts[30] > 2 * lifts[4]


def test_comparison_starts_with_the_bed_as_it_is():
    scenario = Scenario(
        air_mean=32.0,
        air_swing=8.0,
        days=3.0,
        start_temperature=20.0,
        bed_height=0.3,
        moisture=0.75,
        bulk_density=600.0,
        cover_resistance=0.0,
        ground_temperature=20.0,
        decomposition_heat=20.0,
        net_radiation=0.0,
        evaporation=1.0,
        surface_coefficient=10.0,
        conductivity_factor=1.0,
    )
    rows = {name: high for name, _, high in changes(scenario)}
    assert next(iter(rows)) == "as it is"
    assert rows["losing 2 mm (0.08 in) more water a day"] < rows["as it is"] < rows["rotting twice as hard"]
    drier = scenario.with_moisture(0.5)
    assert drier.bulk_density * 0.5 == pytest.approx(600 * 0.25)
    assert scenario.covered(1.4).evaporation < 0.1


def test_what_warms_most_is_judged_by_both_ends_and_is_never_harder_rotting():
    start = 10.0
    compared = [
        ("as it is", 8.8, 10.2),
        ("straw", start, 10.3),
        ("deeper", start, 11.2),
        ("rotting twice as hard", start, 13.0),
    ]
    assert best_change(compared, too_warm=False)[0] == "deeper"
    assert best_change(compared, too_warm=True)[0] == "straw"


@settings(max_examples=30)
@given(
    air_mean=st.floats(-20, 45),
    air_swing=st.floats(0, 12),
    start=st.one_of(st.none(), st.floats(0, 30)),
    days=st.integers(1, 8).map(float),
    height=st.floats(0.15, 0.6),
    evaporation=st.floats(0, 3),
    radiation=st.floats(0, 100),
    ground=st.one_of(st.none(), st.floats(5, 25)),
)
def test_the_grid_of_comparisons_is_near_enough(
    air_mean, air_swing, start, days, height, evaporation, radiation, ground
):
    """Core on the coarser grid against a grid four times as fine in both: 0.1 K, the last digit shown."""
    scenario = Scenario(
        air_mean=air_mean,
        air_swing=air_swing,
        days=days,
        start_temperature=start,
        bed_height=height,
        moisture=0.75,
        bulk_density=600.0,
        cover_resistance=0.0,
        ground_temperature=ground,
        decomposition_heat=20.0,
        net_radiation=radiation,
        evaporation=evaporation,
        surface_coefficient=10.0,
        conductivity_factor=1.0,
    )
    run = scenario.run(96, 64)
    fine = run.at(run.core)
    assert scenario.core_extremes() == pytest.approx((min(fine), max(fine)), abs=0.1)


def test_share_inside_counts_by_depth():
    assert share_inside([(0.0, 0, 10), (0.1, 0, 10), (0.2, 0, 10)], -1, 11) == 1.0
    assert share_inside([(0.0, 0, 40), (0.1, 0, 40), (0.2, 0, 10)], -1, 11) == pytest.approx(
        1 / 60
    )  # 11 is a thirtieth of the way up from 10 to 40


def test_share_inside_does_not_jump():
    """A band that opens a little finds a little more of the bed."""
    nodes = [(0.0, 2, 38), (0.1, 8, 30), (0.2, 12, 24)]
    shares = [share_inside(nodes, 5, 20 + step / 10) for step in range(200)]
    assert shares == sorted(shares) and max(after - before for before, after in zip(shares, shares[1:])) < 0.02


def test_mist_answers():
    answer = mist(air_temperature=40.0, humidity=0.10, altitude=0.0, effectiveness=0.85)
    assert answer.misted_temperature == pytest.approx(21.78, abs=0.01)
    assert answer.water_per_air_mass == pytest.approx(0.0075, abs=1e-5)
    # 8.39 litres an hour for 1,000 m3/h of air, worked out with psychrolib
    assert 1000 * answer.water_per_air_volume == pytest.approx(8.39, abs=0.01)
    assert answer.worth_it.startswith("yes")
    assert mist(air_temperature=30.0, humidity=0.85).worth_it.startswith("no:")
    assert mist(air_temperature=18.0).worth_it.startswith("no need")
    nothing = mist(effectiveness=0.0)
    assert nothing.misted_temperature == 35.0 and nothing.water_per_air_mass == 0
    unmisted = answer_of("climate.mist", {"effectiveness": 0})
    assert {check(step, unmisted) for step in unmisted.shown.working} == {"evaluated"}


SAFE = (15.0, 22.0)


@pytest.mark.parametrize(
    ("moisture", "now", "covered", "shaded", "misted", "decision"),
    [
        (0.75, SAFE, SAFE, SAFE, SAFE, "leave alone"),
        (0.65, SAFE, SAFE, SAFE, SAFE, "water"),
        (0.75, (1.0, 8.0), (5.0, 8.0), SAFE, SAFE, "cover"),
        (0.65, (1.0, 8.0), (5.0, 8.0), SAFE, SAFE, "cover"),
        (0.75, (1.0, 8.0), (1.2, 8.0), SAFE, SAFE, "leave alone"),
        (0.75, (20.0, 33.0), (20.0, 33.0), (20.0, 30.0), (20.0, 30.2), "shade"),
        (0.75, (20.0, 33.0), (20.0, 33.0), (20.0, 32.0), (20.0, 29.0), "mist"),
        (0.75, (20.0, 33.0), (20.0, 27.0), (20.0, 32.0), (20.0, 29.0), "cover"),
        (0.75, (20.0, 33.0), (20.0, 33.0), (20.0, 32.8), (20.0, 32.9), "leave alone"),
    ],
)
def test_the_rules_in_their_order(moisture, now, covered, shaded, misted, decision):
    assert decide(moisture, 0.70, 4.0, 30.0, now, covered, shaded, misted) == decision


def test_nobody_waters_in_freezing_air():
    assert decide(0.60, 0.70, 4.0, 30.0, SAFE, SAFE, SAFE, SAFE, freezing=True) == "leave alone"
    frozen = today(high=-2.0, low=-6.0, top_moisture=0.6, bed_now=12.0, days=1.0, sun_hours=2.0)
    assert frozen.decision == "leave alone" and "thaw" in frozen.reason


def test_a_bed_too_hot_that_nothing_cools_is_not_left_alone():
    moist = today(high=40.0, low=28.0, humidity=0.9, bed_now=31.0, top_moisture=0.82)
    assert moist.decision == "stop feeding" and moist.highest_core > 35 and "neither shade" in moist.reason
    said = answer_of("climate.today", {"high": 40, "low": 28, "humidity": 0.9, "bed_now": 31, "top_moisture": 0.82})
    assert said.shown.reading[0].startswith("Today: feed nothing, and keep the surface moist, because the core passes")


def test_today_in_four_kinds_of_weather():
    assert today().decision == "leave alone"
    assert today(top_moisture=0.71).decision == "water"
    frost = today(high=0.0, low=-12.0, bed_now=8.0, days=4.0, sun_hours=3.0, ground_temperature=5.0)
    assert frost.decision == "cover" and frost.lowest_covered > frost.lowest_core
    furnace = {
        "high": 44.0,
        "low": 28.0,
        "humidity": 0.2,
        "days": 6.0,
        "bed_now": 29.0,
        "ground_temperature": None,
        "top_moisture": 0.84,
        "upper_moisture": 0.86,
        "lower_moisture": 0.6,
    }
    assert today(**furnace, shade=0.0, sun_hours=14.0).decision in ("shade", "mist")


def test_ground_left_blank_is_as_cold_as_the_core():
    """A bed in January is not held up by ground that nobody measured."""
    january = {"high": -4.0, "low": -15.0, "bed_now": 5.5, "sun_hours": 3.0}
    assert today(**january).decision == "cover"
    assert (
        today(**january).lowest_core
        == today(**january, ground_temperature=5.5).lowest_core
        < today(**january, ground_temperature=20.0).lowest_core
    )


def test_warm_ground_under_frost_is_asked_about():
    asked = [
        calc.run("climate.bed_temperature", {"air_mean": -12.0, "ground_temperature": ground})["warnings"]
        for ground in (20.0, 2.0)
    ]
    assert ["thermometer in under the bed" in " ".join(warnings) for warnings in asked] == [True, False]


def test_moisture_after_losing_nothing_stays():
    assert moisture_after(600, 0.05, 0.75, 0.0) == pytest.approx(0.75)


def test_a_scenario_is_what_the_calculator_runs():
    scenario = Scenario(
        air_mean=30.0,
        air_swing=10.0,
        days=5.0,
        start_temperature=None,
        bed_height=BED_HEIGHT,
        moisture=0.75,
        bulk_density=600.0,
        cover_resistance=0.0,
        ground_temperature=20.0,
        decomposition_heat=20.0,
        net_radiation=0.0,
        evaporation=0.5,
        surface_coefficient=10.0,
        conductivity_factor=1.0,
        lane_width=LANE_WIDTH,
    )
    answer = bed_temperature(decomposition_heat=20.0, evaporation=0.5)
    run = scenario.run()
    assert (min(run.at(run.core)), max(run.at(run.core))) == (answer.lowest_core, answer.highest_core)
    assert replace(scenario, cover_resistance=1.0).core_extremes() != scenario.core_extremes()


# ------------------------------------------------------------------------------------------------ heat of its own feed


def test_heat_of_the_feed_by_hand():
    """10 lb of worms where they live in 8 ft of lane eat 2.6 kg a day at 20 degC: 0.31 kg of dry matter go, 68 W, 80
    W/m3.
    """
    area = active_area(8 * 0.3048, 4 * 0.3048, 0.4572)
    assert area == pytest.approx(1.2192 * (3.5 * 0.3048 + 0.4572))
    feeding = Feeding(4.536, area, 0.75, 0.70)
    stocking = 4.536 / area
    eaten = 4.536 * 0.75 * 0.847 * (1 - stocking / 10) / (1 - 0.16)
    assert feeding.eaten(20.0) == pytest.approx(eaten, rel=1e-3)
    assert feeding.heat(20.0) * area == pytest.approx(eaten * 0.3 * 0.4 * 19e6 / 86400, rel=1e-3)
    assert feeding.heat(20.0) / 0.4572 == pytest.approx(80, abs=2)
    assert feeding.laid_heat(33.0) == feeding.heat(25.0) > feeding.heat(33.0)


def test_heat_left_blank_is_that_of_the_feed_at_the_temperature_before():
    answer = bed_temperature(start_temperature=20.0)
    feeding = Feeding(WORM_MASS, active_area(LANE_LENGTH, LANE_WIDTH, BED_HEIGHT), 0.75, FEED_MOISTURE)
    assert answer.heat_from_rotting == pytest.approx(feeding.heat(20.0) / BED_HEIGHT)
    assert bed_temperature(start_temperature=20.0, decomposition_heat=12.0).heat_from_rotting == 12.0
    double = bed_temperature(start_temperature=20.0, worm_mass=2 * WORM_MASS).heat_from_rotting
    assert answer.heat_from_rotting < double < 2 * answer.heat_from_rotting  # crowded worms eat less each


@settings(max_examples=40)
@given(st.floats(-10, 38), st.one_of(st.none(), st.floats(0, 20)), st.floats(0, 2))
def test_heat_in_lasting_weather_fits_the_temperature_it_makes(air, ground, cover):
    """Neither more nor less than what worms eat at the temperature that the bed comes to with it."""
    idle = Scenario(
        air_mean=air,
        air_swing=5.0,
        days=2.0,
        start_temperature=None,
        bed_height=0.45,
        moisture=0.75,
        bulk_density=600.0,
        cover_resistance=cover,
        ground_temperature=ground,
        decomposition_heat=0.0,
        net_radiation=0.0,
        evaporation=0.0,
        surface_coefficient=10.0,
        conductivity_factor=1.0,
        lane_width=1.2,
    )
    feeding = Feeding(4.5, 1.9, 0.75, 0.7)
    made = own_heat(idle, feeding)
    core = resting_core(replace(idle, decomposition_heat=made))
    assert made == pytest.approx(feeding.laid_heat(core) / 0.45, abs=0.05)


def test_advice_in_a_heat_wave_and_in_frost_is_not_turned_round():
    """With the heat of its own feed a cover warms a bed in a heat wave; feeding nothing cools it most. In frost a
    cover is what helps.
    """
    wave = calc.run("climate.bed_temperature", {}, units="metric")
    rows = {row[0]: row[1:] for row in wave["tables"]["changes"]["rows"]}
    assert rows["under 4 in (10 cm) of dry straw more"][1] > rows["as it is"][1]
    assert "not fed" in " ".join(wave["reading"])
    frost = calc.run(
        "climate.bed_temperature", {"air_mean": "-4 C", "air_swing": "4 K", "ground_temperature": "6 C"}, units="metric"
    )
    assert "dry straw more” warms it most" in " ".join(frost["reading"])


def test_the_lane_and_the_page_on_heat_make_the_same_heat():
    """calc.lane.model on a day on which nothing is lacking, against the sum here for the same worms, place and
    temperature.
    """
    plan = LanePlan(steady_herd=True)
    day = next(day for day in follow(plan, 400) if day.day > 200 and day.eaten >= 0.999 * day.appetite)
    feeding = Feeding(day.worms, day.active_area, plan.ration, plan.feed_moisture, plan.dry_matter_kept)
    assert day.heat == pytest.approx(feeding.heat(day.bed_temperature) * day.active_area, rel=1e-6)
    at_last = active_area(plan.lane_length, plan.lane_width, plan.bed_height, plan.face_slope, plan.gap)
    assert day.active_area >= at_last


def test_the_figure_of_a_cover_is_the_table_of_changes():
    """Straw on a bare bed: the same core, whether asked as a change or read off the curve."""
    scenario = Scenario(
        **{"start_temperature": None, "net_radiation": 0.0, "conductivity_factor": 1.0} | WAVE | {"evaporation": 3.0}
    )
    curve = {there: ends for there, *ends in cores_by_cover(scenario)}
    bare, straw = (list(row[1:]) for row in changes(scenario)[:2])
    assert curve[0.0] == bare and curve[1.4] == straw
    under = cores_by_cover(
        replace(scenario, cover_resistance=0.5, evaporation=scenario.evaporation * vapour_share(60.0, 0.5))
    )
    assert [(there, *map(pytest.approx, ends)) for there, *ends in cores_by_cover(scenario)] == [
        row for row in under if row[0] != 0.5
    ]


def test_a_bed_that_stays_inside_half_way_down_is_told_to_be_out_above():
    """The heat wave of the chapter: 17 to 20 hours a hand deep, none in the core; said beside the verdict."""
    wave = {"air_mean": 32, "air_swing": 8, "days": 5, "start_temperature": 20, "ground_temperature": 20}
    found = answer_of("climate.bed_temperature", wave | {"bed_height": 12 * 0.0254})
    assert found.hours_above == 0
    said = next(text for text in found.shown.reading if "stays inside" in text)
    assert "0.11 m down, where worms feed, it is out for 20" in said
    calm = answer_of("climate.bed_temperature", wave | {"air_mean": 18, "air_swing": 4})
    assert not any("where worms feed" in text for text in calm.shown.reading)


def test_a_deeper_bed_spreads_the_heat_of_the_same_feed():
    """“Half as deep again, fed the same” is what the page says of a bed that high, but for where its worms live."""
    wave = {"air_mean": 32, "air_swing": 8, "days": 5, "start_temperature": 20, "ground_temperature": 20}
    low, high = (answer_of("climate.bed_temperature", wave | {"bed_height": each}) for each in (0.3, 0.45))
    compared = {row[0]: row[2] for row in low.shown.tables[1].rows}
    assert compared["half as deep again, fed the same"] == pytest.approx(high.highest_core, abs=1.0)
    typed = answer_of("climate.bed_temperature", wave | {"bed_height": 0.3, "decomposition_heat": 80})
    assert "half as deep again, rotting as hard" in {row[0] for row in typed.shown.tables[1].rows}


def test_the_lane_of_the_book_is_told_beside_the_lower_bed_of_the_example():
    wave = {"air_mean": 32, "air_swing": 8, "days": 5, "start_temperature": 20, "ground_temperature": 20}
    found = answer_of("climate.bed_temperature", wave | {"bed_height": 18 * 0.0254})
    assert round(found.highest_core) == 31 and round(found.hours_above) == 29
    page = (Path(__file__).parents[2] / "docs/climate/temperature.md").read_text(encoding="utf-8")
    said = "18 in (46 cm) where it is fed:** type that, and its core comes to 88 °F (31 °C), over the band for 29 hours"
    assert said in " ".join(page.split())
