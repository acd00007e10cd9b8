"""moisture.test: weighings, the interval of their mean, and the end of drying."""

import pytest
import scipy.stats
from hypothesis import given
from hypothesis import strategies as st

import calc
from calc.engine import Refused
from calc.moisture import samples as weighed
from calc.moisture import weighing


def sample(tare, wet, dry=None):
    return {"sample": None, "tare": tare, "wet": wet, "dry": dry}


def dryings(*weights):
    return [{"time": float(hours), "weight": weight} for hours, weight in enumerate(weights, start=1)]


def answer(rows, logged=(), **more):
    return weighing.test(samples=rows, dryings=logged, **more)


def refused(rows, logged=()):
    with pytest.raises(Refused) as caught:
        answer(rows, logged)
    return caught.value.problems


@pytest.mark.parametrize("share", [0.5, 0.9, 0.95, 0.99])
def test_student_limit_agrees_with_scipy(share):
    """Closed form and bisection to the last digits of a float."""
    for freedom in [*range(1, 31), 50, 99, 199]:
        assert weighed.student_limit(share, freedom) == pytest.approx(
            scipy.stats.t.ppf((1 + share) / 2, freedom), rel=1e-10
        )


def test_interval_agrees_with_scipy():
    values = [0.76, 0.71, 0.79, 0.74, 0.77]
    low, high = scipy.stats.t.interval(0.95, 4, loc=sum(values) / 5, scale=scipy.stats.sem(values))
    assert weighed.half_interval(values) == pytest.approx((high - low) / 2, rel=1e-10)


def test_several_samples():
    """Three samples of 70, 75 and 80 %: mean 75, standard deviation 5, t 4.3027: half width 12.42 points."""
    result = answer([sample(0, 1, 0.30), sample(0, 1, 0.25), sample(0, 1, 0.20)])
    assert result.moisture_wet_basis == pytest.approx(0.75)
    assert result.moisture_dry_basis == pytest.approx(3.0)
    assert result.spread == pytest.approx(0.05)
    assert result.interval_low == pytest.approx(0.75 - 0.12421, abs=1e-5)
    assert result.interval_high == pytest.approx(0.75 + 0.12421, abs=1e-5)
    assert result.dry_enough is None


def test_samples_wanted_are_just_enough():
    for spread, wish in ((0.05, 0.03), (0.02, 0.02), (0.10, 0.02)):
        count = weighed.samples_for(spread, wish)
        wide = [weighed.student_limit(0.95, n - 1) * spread / n**0.5 for n in (count - 1, count)] if count > 2 else None
        assert wide is None or wide[1] <= wish < wide[0]
    assert weighed.samples_for(0.5, 0.002) is None


def test_single_sample_has_no_interval():
    result = answer([sample(0.05, 0.15, 0.075)])
    assert result.moisture_wet_basis == pytest.approx(0.75)
    assert result.interval_low is None and result.samples_wanted is None


def test_dryings_give_the_dry_weight_and_its_end():
    result = answer([sample(0.05, 0.15)], dryings(0.100, 0.080, 0.0755, 0.07502, 0.07500))
    assert result.moisture_wet_basis == pytest.approx(0.75)
    assert result.dry_enough is True
    assert answer([sample(0.05, 0.15)], dryings(0.100, 0.080)).dry_enough is False
    assert answer([sample(0.05, 0.15)], dryings(0.100)).dry_enough is None


def test_what_is_still_to_lose_by_halving_losses():
    """Losses of 40, 20 and 10 g head for another 10 g (a geometric series)."""
    result = answer([sample(0.0, 0.100)], dryings(0.060, 0.040, 0.030))
    assert result.still_to_lose == pytest.approx(0.010)


@pytest.mark.parametrize(
    ("rows", "logged", "said"),
    [
        ([], (), "at least one sample"),
        ([sample(0.2, 0.1, 0.05)], (), "Row 1: the wet weight is not above"),
        ([sample(0.05, 0.10, 0.12)], (), "dry weight is above the wet one"),
        ([sample(0.05, 0.10, 0.05)], (), "not above that of the empty container"),
        ([sample(0.05, 0.10)], (), "the dry weight is missing"),
        ([sample(0.05, 0.10, 0.07), sample(0.05, 0.04, 0.03)], (), "Row 2"),
        ([sample(0.05, 0.10, 0.07), sample(0.05, 0.10, 0.07)], dryings(0.08), "belong to one sample"),
        ([sample(0.05, 0.10)], dryings(0.12), "above that of the wet sample"),
        ([sample(0.05, 0.10)], dryings(0.08, 0.04), "Row 2: the weight is not above"),
    ],
)
def test_impossible_weighings_are_refused_by_row(rows, logged, said):
    problems = refused(rows, logged)
    assert any(said in message for _, message in problems), problems


def test_every_bad_row_is_named_at_once():
    ((name, told),) = refused([sample(0.2, 0.1, 0.05), sample(0.05, 0.1, 0.2)])
    assert name == "samples" and "Row 1" in told and "Row 2" in told


@given(tare=st.floats(0, 1), matter=st.floats(0.001, 1), water=st.floats(0, 5))
def test_moisture_is_the_water_put_in(tare, matter, water):
    moisture = weighed.moisture_of_sample(tare, tare + matter + water, tare + matter)
    assert moisture == pytest.approx(water / (matter + water), abs=1e-9)
    assert weighed.dry_basis(moisture) == pytest.approx(water / matter, rel=1e-6, abs=1e-9)


@given(st.lists(st.floats(0.3, 0.9), min_size=2, max_size=20))
def test_interval_holds_the_mean_and_is_symmetric(values):
    rows = [sample(0.0, 1.0, 1 - value) for value in values]
    result = answer(rows)
    assert (
        result.interval_low <= result.moisture_wet_basis + 1e-12
        and result.moisture_wet_basis <= result.interval_high + 1e-12
    )


def test_pasted_text_and_units_at_the_edge():
    """CSV in ounces gives what the same weights in kilograms give."""
    csv = "sample,tare (oz),wet (oz),dry (oz)\nface,2,6,3\nback,2,6,3.2"
    pasted = calc.run("moisture.test", {"samples": csv})
    assert pasted["outputs"]["moisture_wet_basis"]["value"] == pytest.approx((0.75 + 0.70) / 2)
    bare = calc.run("moisture.test", {"samples": [{"tare": 50, "wet": 150, "dry": 75}]}, units="metric")
    assert bare["outputs"]["moisture_wet_basis"]["value"] == pytest.approx(0.75)


@pytest.mark.parametrize("system", [None, "us", "metric"])
def test_answers_read_in_every_system(system):
    """The presenter runs for one sample, for several and for dryings."""
    for values in (
        {},
        (
            {"samples": [sample(0.05, 0.15, 0.075)]}
            if system is None
            else {"samples": [{"tare": 50, "wet": 150, "dry": 75}]}
        ),
        {"samples": "tare (g),wet (g),dry (g)\n50,150,", "dryings": "time,weight (g)\n1,100\n2,80\n3,76\n4,75.99"},
    ):
        object_ = calc.run("moisture.test", values, units=system)
        assert "errors" not in object_ and object_["reading"]
