"""Herds: the unlimited rate against scipy and published growth, the staged model, its crowding, its band."""

import importlib
from dataclasses import replace
from math import exp, isclose, log

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.special import lambertw

import calc
from calc.biology import lambert_w, stage_days, unlimited_growth
from calc.facts import biology as facts

model = importlib.import_module("calc.lane.herd")
herd = model.herd

rates_of_laying = st.floats(0.01, 1.0)
young = st.floats(0.2, 3.5)
survivals = st.floats(0.05, 1.0)
stages = st.floats(30.0, 250.0)
deaths = st.floats(0.0, 0.02)


# --- the closed form --------------------------------------------------------------------------------------------------


@given(st.floats(0.0, 1e6))
def test_lambert_w_against_scipy(x):
    assert isclose(lambert_w(x), lambertw(x).real, rel_tol=1e-12, abs_tol=1e-15)


@given(rates_of_laying, young, survivals, stages, deaths)
def test_growth_against_the_closed_form_of_scipy(laid, hatched, lives, stage, dies):
    expected = lambertw(laid * hatched * lives * stage * exp(dies * stage)).real / stage - dies
    assert isclose(unlimited_growth(laid, hatched, lives, stage, dies), expected, rel_tol=1e-10, abs_tol=1e-14)


@given(rates_of_laying, young, survivals, stages, deaths)
def test_growth_solves_its_equation(laid, hatched, lives, stage, dies):
    growth = unlimited_growth(laid, hatched, lives, stage, dies)
    assert isclose(growth + dies, laid * hatched * lives * exp(-growth * stage), rel_tol=1e-9)


def test_the_staged_model_with_endless_room_grows_at_the_closed_form():
    """Late in a run without limit every age is there in its share, and each day multiplies the herd by the same
    factor.
    """
    rate = replace(model.rates(25.0), incubation_days=22, maturing_days=51)
    days = model.follow(1e-6, rate, 1e12, 1e12, 1500)
    grown = log(days[1500][0] / days[1200][0]) / 300
    assert isclose(grown, rate.growth, rel_tol=0.01)  # a day's step against a continuous equation


# --- published growth -------------------------------------------------------------------------------------------------


def in_a_trial(**changed):
    return replace(
        model.rates(25.0),
        **({"cocoons_per_day": facts.COCOONS_PER_DAY.typical, "survival": 1.0, "mortality": 0.0} | changed),
    )


def test_600_worms_to_16900_in_three_months():
    """Durán & Henríquez 2009: 600 grown worms in 0.03 m³ of coffee pulp counted 16,900 after about 90 days; other
    wastes less, down to 408.
    """
    founders = 600 * facts.ADULT_MASS.typical
    counts = [
        model.follow(founders, in_a_trial(cocoons_per_day=laid), 1.0, 1e9, 90, breeding_share=1.0)[90][1]
        for laid in (facts.BED_COCOONS_PER_DAY.low, facts.BED_COCOONS_PER_DAY.typical, facts.BED_COCOONS_PER_DAY.high)
    ]
    assert counts[0] < 16900 < counts[2]
    assert isclose(counts[1], 16900, rel_tol=0.5)


def test_a_trial_doubles_in_under_a_month_and_a_bed_in_two_or_three():
    """17 to 29 days follow from published rates; manuals give 60 to 90 days for a working bed."""
    trial = log(2) / model.trial_growth()
    assert 14 < trial < 20
    bed = herd()
    assert 15 < bed.unlimited_doubling_days < 45
    half = bed.target / 2
    filling = model.first_day_at(model.grow(half, model.rates(20.0), 2.97, 10.0, 400), bed.target)
    assert 50 <= bed.doubling_days.value <= 90
    assert 55 <= filling <= 95


def test_a_worm_weighs_what_was_weighed():
    """Gunadi et al. 2002 at 20 °C: 0.462 g on day 56.

    The young of the model are grown on about day 60, at the weight of a grown worm.
    """
    grown = stage_days(facts.MATURING_DAYS.typical, 20.0)
    day, weighed, *_ = next(point for point in facts.GROWTH_20C.points if point[0] == 56)
    assert abs(grown - day) < 7
    assert isclose(facts.ADULT_MASS.typical * 1000, weighed, rel_tol=0.1)


def test_crowding_limits_the_herd_as_measured():
    """Reeh 1992, E. andrei over 230 days: cocoons rise, peak about half a year on, then nearly stop, while worms stay
    dense.

    The model eases off less than was measured: laying falls by two fifths, not to nothing, and then swings about its
    level.
    """
    days = model.follow(0.05, model.rates(20.0), 0.05, 10.0, 900)  # 1 kg/m²
    laid = [cocoons for *_, cocoons in days]
    peak = max(range(230), key=laid.__getitem__)
    assert 120 < peak < 230
    assert min(laid[peak : peak + 150]) < 0.65 * laid[peak]
    dense = [weight / 0.05 for weight, *_ in days[250:]]
    assert min(dense) > 5.0 and max(dense) < 10.0


# --- the herd ---------------------------------------------------------------------------------------------------------


@given(st.floats(0.5, 20.0), st.floats(1.0, 30.0), st.floats(5.0, 33.0))
def test_no_count_is_ever_below_zero(worms, area, temperature):
    for weight, heads, cocoons in model.follow(worms, model.rates(temperature), area, 10.0, 400, harvest_per_day=0.05):
        assert weight >= 0 and heads >= 0 and cocoons >= 0


def test_nothing_laid_and_nothing_dying_keeps_the_grown_worms():
    still = replace(model.rates(25.0), cocoons_per_day=0.0, mortality=0.0)
    days = model.follow(5.0, still, 100.0, 10.0, 300, breeding_share=1.0)
    assert isclose(days[300][0], 5.0, rel_tol=1e-12)


def test_young_grow_up_and_none_appears_from_nowhere():
    """Without laying, without deaths, every young worm becomes one grown worm."""
    still = replace(model.rates(25.0), cocoons_per_day=0.0, mortality=0.0, survival=1.0)
    days = model.follow(5.0, still, 100.0, 1000.0, 200, breeding_share=0.5)
    heads = days[0][1]
    assert isclose(days[200][1], heads, rel_tol=1e-6)
    assert isclose(days[200][0], heads * facts.ADULT_MASS.typical, rel_tol=0.02)


@pytest.mark.parametrize("share", [0.2, 0.5, 1.0])
@pytest.mark.parametrize("mortality", [0.0, 0.0068])
def test_a_herd_that_does_not_breed_comes_to_grown_worms(share, mortality):
    """No half day of growth is left over: once all have grown up, a head weighs what a grown worm does."""
    days = model.follow(
        5.0, replace(model.rates(20.0), cocoons_per_day=0.0, mortality=mortality), 3.0, 10.0, 400, 0.0, share
    )
    assert isclose(days[400][0] / days[400][1], facts.ADULT_MASS.typical, rel_tol=1e-9)


@pytest.mark.parametrize("capacity", [1.0, 1.6, 2.0, 3.2, 5.0])
def test_a_bed_that_carries_little_is_answered(capacity):
    found = herd(capacity=capacity)
    assert found.mass_after_year.value > 0


def test_starting_weight_is_the_weight_bought():
    for share in (0.2, 0.5, 1.0):
        assert isclose(model.follow(4.5, model.rates(20.0), 3.0, 10.0, 0, breeding_share=share)[0][0], 4.5)


def test_more_survivors_and_warmth_fill_the_bed_sooner():
    days = [herd(survival=share).days_to_target.value for share in (0.2, 0.3, 0.5, 0.9)]
    assert days == sorted(days, reverse=True)
    days = [herd(bed_temperature=temperature).days_to_target.value for temperature in (10, 15, 20, 25)]
    assert days == sorted(days, reverse=True)
    assert herd(bed_temperature=25).days_to_target.value < herd(bed_temperature=29.5).days_to_target.value


def test_a_band_not_a_line():
    result = herd()
    for band in (result.days_to_target, result.doubling_days, result.mass_after_year):
        assert band.low <= band.value <= band.high and band.low < band.high


def test_a_full_bed_needs_no_days_and_no_money():
    result = herd(worm_mass=20, target_mass=15)
    assert result.days_to_target.value == 0 and result.cost_to_buy_now == 0


def test_a_cold_or_shrinking_herd_never_arrives_and_says_so():
    result = herd(bed_temperature=-1)
    assert result.days_to_target is None and result.doubling_days is None
    told = calc.run("lane.herd", {"harvest_per_week": 5})
    assert "does not reach" in " ".join(told["warnings"])


def test_the_answer_explains_trial_and_bed_with_numbers():
    shown = calc.run("lane.herd", {})
    rows = shown["tables"]["trial_to_bed"]["rows"]
    days = [row[1] for row in rows]
    assert len(rows) == 7 and days[:5] == sorted(days[:5])
    assert days[0] < 30
    assert days[-1] > 55
    assert isclose(days[5], shown["outputs"]["doubling_days"]["value"])


@pytest.mark.parametrize("case", [model.LOW, model.TYPICAL, model.HIGH])
def test_given_rates_replace_those_of_the_temperature(case):
    known = model.rates(
        12.0,
        case,
        cocoons_per_day=0.3,
        hatch_share=0.8,
        hatchlings=2.5,
        survival=0.6,
        incubation_days=30,
        maturing_days=70,
        mortality=0.001,
    )
    assert (
        known.cocoons_per_day,
        known.young_per_cocoon,
        known.survival,
        known.incubation_days,
        known.maturing_days,
        known.mortality,
    ) == (0.3, 2.0, 0.6, 30, 70, 0.001)


@pytest.mark.parametrize(("case", "longer"), [(model.HIGH, 1.42), (model.TYPICAL, 1.93), (model.LOW, 2.42)])
def test_in_the_cold_the_range_spans_what_was_measured(case, longer):
    """Breathing of grown worms, of all, and of large young of another earthworm, 10 °C colder (Phillipson & Bolton
    1976).
    """
    assert isclose(
        model.rates(10.0, case).incubation_days, model.rates(20.0, case).incubation_days * longer, rel_tol=1e-9
    )


@given(st.floats(1, 24), st.floats(0.1, 10))
def test_colder_herds_grow_no_faster(temperature, warmer):
    for case in (model.LOW, model.TYPICAL, model.HIGH):
        colder = model.rates(temperature, case).growth
        assert colder <= 0 or colder <= model.rates(min(25.0, temperature + warmer), case).growth + 1e-12


def test_a_bed_is_called_full_only_where_there_is_nothing_to_wait_for():
    """A long base holds more worms at first than the bed behind its face will."""
    long = calc.run("lane.herd", {"lane_length": "24 ft", "worm_mass": "12 kg"})
    assert long["outputs"]["days_to_target"]["value"] > 0 and "full already" not in " ".join(long["reading"])
    assert "nothing to buy" in " ".join(long["reading"])
    held = calc.run("lane.herd", {"bed_area": "20 ft2", "worm_mass": "12 kg"})
    assert held["outputs"]["days_to_target"]["value"] == 0 and "full already" in " ".join(held["reading"])


def test_a_lane_is_crowded_from_the_first_day_only_when_all_of_its_base_is():
    """At first worms live in the base too: the reading says that they have room there, so no warning says otherwise."""
    roomy = calc.run("lane.herd", {"lane_length": "20 ft", "lane_width": "5 ft", "worm_mass": "20 kg"})
    assert any("have room to multiply" in sentence for sentence in roomy["reading"])
    assert not any("from the first day" in warning for warning in roomy["warnings"])
    full = calc.run("lane.herd", {"lane_length": "20 ft", "lane_width": "5 ft", "worm_mass": "80 kg"})
    assert any("80 kg on 9.29 m² is crowded" in warning for warning in full["warnings"])
