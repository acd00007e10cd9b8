"""Corners that changes of the code got past: each worked out by hand."""

from math import radians, sin, tan

import pytest

from calc.climate import misting, pores
from calc.engine.run import answer
from calc.facts import biology
from calc.lane import stages
from calc.lane.account import Flow
from calc.lane.model import HIGH, LOW, TYPICAL, LanePlan, doubt


def near(value):
    return pytest.approx(value, rel=1e-9, abs=1e-12)


def test_what_the_books_do_not_account_for():
    assert Flow(10.0, 4.0, 3.0, 3.0).gap == near(0.0)
    assert Flow(10.0, 4.0, 3.0, 1.0).gap == near(2.0)


def test_the_face_rises_to_the_height_of_the_bed():
    """From a base of 0.3 m at 45°: half a metre for each metre moved, up to 0.45 m."""
    plan = LanePlan(base_depth=0.30, bed_height=0.45, face_slope=45.0)
    assert plan.rise == near(sin(radians(45)) ** 2 / tan(radians(45)))
    assert plan.height_at(0.0) == near(0.30)
    assert plan.height_at(0.2) == near(0.40)
    assert plan.height_at(0.4) == near(0.45)
    assert plan.volume_to(plan.moved_by(0.7)) == near(0.7)


def test_doubt_goes_half_way_and_only_outwards():
    """Of a ration of 0.75 between 0.5 and 1; one of 0.4 is below the low end already."""
    assert doubt(0.75, biology.RATION, LOW) == near(0.625)
    assert doubt(0.75, biology.RATION, HIGH) == near(0.875)
    assert doubt(0.75, biology.RATION, TYPICAL) == near(0.75)
    assert doubt(0.40, biology.RATION, LOW) == near(0.40)
    assert doubt(1.20, biology.RATION, HIGH) == near(1.20)


@pytest.mark.parametrize(
    ("cooling", "humidity", "temperature", "words"),
    [
        (10.0, 0.5, 40.0, "yes, while the air moves"),
        (10.0, 0.5, 20.0, "no need: the air is not hot"),
        (0.5, 0.5, 40.0, "no: the air is too moist to be cooled"),
        (10.0, 0.99, 40.0, "hardly: it cools, but leaves everything wet"),
    ],
)
def test_whether_a_mist_is_worth_it(cooling, humidity, temperature, words):
    assert misting.verdict(cooling, humidity, temperature) == words


def test_misted_air_at_every_humidity():
    rows = misting.cooling_by_humidity(35.0, 101.325, 0.8)
    assert [row[0] for row in rows] == [near(percent / 100) for percent in range(5, 101, 5)]
    assert all(misted == near(35.0 - 0.8 * (35.0 - bulb)) for _, bulb, misted in rows)
    assert rows[-1][2] == pytest.approx(35.0, abs=0.01)
    assert [row[0] for row in misting.cooling_by_state(101.325, 0.8)] == [25.0, 30.0, 35.0, 40.0, 45.0]


def test_the_wettest_that_keeps_a_tenth_of_air():
    """At that moisture just the least air is left; too dense to keep any: nothing."""
    dry = 200.0
    moisture = pores.wettest(dry, air=0.10)
    assert pores.air_space(dry / (1 - moisture), moisture) == pytest.approx(0.10)
    assert pores.wettest(3000.0) == 0.0
    ((_, told),) = pores.density_problems(5000.0, 0.5)
    assert told.startswith("At 50 % moisture")


def test_totals_of_the_books_in_words():
    view = answer("lane.ledger", {}, "metric")
    table = next(table for table in view.shown.tables if table.name == "ledger")
    for (words, *cells), part in zip(table.rows, ("dry_matter", "water", "ash", "volume")):
        assert cells == [view[f"{part}_{side}"] for side in ("in", "out", "lost", "stored")], words


def test_ends_of_a_cost_are_those_of_its_hours():
    view = answer("lane.output", {})
    hours, cost, wage = view.band("labour_hours_per_week"), view.band("labour_cost_per_week"), view.given["wage"]
    assert (cost.low, cost.value, cost.high) == (
        near(hours.low * wage),
        near(hours.value * wage),
        near(hours.high * wage),
    )
    volume, mass = view.band("feed_volume_per_week"), view.band("feed_mass_per_week")
    assert mass.low / volume.low == near(mass.high / volume.high)


def test_ice_leaves_its_share_of_worms_and_cocoons():
    """Half of the worms and a quarter of the cocoons live: the herd weighs half, and lays half."""
    rate = stages.rates(20.0)
    herd = stages.Stages(4.0, 0.6, rate)
    for _ in range(40):
        herd.step(rate, 1.0, 1.0)
    whole, grown = herd.weight, herd.adults
    herd.freeze(0.5, 0.25)
    assert (herd.weight, herd.adults) == (near(whole / 2), near(grown / 2))
    herd.step(rate, 1.0, 1.0)
    assert herd.weight < 0.52 * whole


@pytest.mark.parametrize("fed_on", ["end", "side"])
def test_faces_of_an_output(fed_on):
    """A face as wide as the lane for each end; along the side the length that worms fill or feed asks for."""
    view = answer("lane.output", {"fed_on": fed_on})
    found = view.results
    if fed_on == "end":
        assert found["face_length"] == near(found["faces"] * view.given["lane_width"])
        assert found["faces"] == found["lanes"]
    else:
        assert found["face_length"] >= view.band("lane_length").value - 1e-9
        assert found["lanes"] == -(-found["face_length"] // view.given["longest_lane"])
    layer = view.given["layer_thickness"] * view.given["bed_height"] / sin(radians(view.given["face_slope"]))
    weekly = layer * view.given["feed_bulk_density"] * 7 / view.given["safe_interval"]
    assert found["face_capacity_per_week"] == pytest.approx(found["face_length"] * weekly)
