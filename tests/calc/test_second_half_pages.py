"""The figures that the chapters from harvest to records print in their sentences are the ones that the code gives."""

from math import isclose
from pathlib import Path

import pytest

import calc
from calc.breeding import room as room_calculator
from calc.breeding import trays
from calc.breeding.setpoints import cocoons_per_worm_per_week, growth_speed, incubation_days
from calc.climate.psychrometrics import dew_point, vapour_pressure
from calc.economics.cash import cash
from calc.engine import FOOT, INCH, POUND, YARD3
from calc.facts import biology, breeding, garden, harvest
from calc.facts.materials import MATERIALS

DOCS = Path(__file__).parents[2] / "docs"


def page(name):
    return " ".join((DOCS / f"{name}.md").read_text(encoding="utf-8").split())


def value(id, output, **inputs):
    return calc.run(id, inputs)["outputs"][output]["value"]


def test_a_foot_of_lane_and_its_weight():
    text = page("harvest/index")
    assert "A foot off a lane 4 ft (1.2 m) wide and 18 in (46 cm) high is 6 cubic feet (170 L)." in text
    assert "As sliced that is about 250 lb" in text
    volume = FOOT * 4 * FOOT * 18 * INCH
    assert isclose(volume / FOOT**3, 6) and isclose(volume * 1000, 170, rel_tol=0.01)
    foot = value("lane.feeding", "castings_mass_per_length") * FOOT
    assert isclose(foot / POUND, 250, rel_tol=0.01) and "(110 kg)" in text and isclose(foot, 110, rel_tol=0.05)


def test_dry_matter_lost_on_the_page():
    assert "At the figures above it is 40 %" in page("harvest/balance")
    assert round(100 * value("harvest.balance", "dry_matter_lost")) == 40


def test_days_of_drying_on_the_page():
    text = page("harvest/dry-down")
    assert "sliced at 68 %, in mild, still air, the formula says three to thirteen days" in text
    hours = calc.run("harvest.dry_down")["outputs"]["hours"]
    assert round(hours["low"] / 24) == 3 and round(hours["high"] / 24) == 13
    assert "let dry on the lane to 57 % first, one to four" in text
    drier = calc.run("harvest.dry_down", {"moisture_before": "57 %"})["outputs"]["hours"]
    assert round(drier["low"] / 24) == 1 and round(drier["high"] / 24) == 4
    assert "in a breeze of 7 mph (3 m/s), they dry nearly four times as fast" in text
    faster = value("harvest.dry_down", "hours", area="400 ft2", wind="3 m/s")
    assert 3.4 < hours["value"] / faster < 4.0
    assert "takes off two fifths" in page("harvest/dry-down") and harvest.DRYING_SLOWED.typical == 0.6


def test_fines_that_ride_off_with_the_other_heaps():
    assert "Two decks of 85 % each leave a good quarter of the fines in the other heaps" in page("harvest/screen")
    assert harvest.EFFICIENCY.typical == 0.85 and 0.25 < 1 - 0.85**2 < 0.30


def test_the_chain_from_breeders_to_pounds():
    text = page("breeding/trays")
    rows = {row[0]: row[1] for row in calc.run("breeding.trays")["tables"]["chain"]["rows"]}
    for printed, name, near in (
        ("675 worms", "Breeders", 675),
        ("about 2,000", "Cocoons in a round", 2000),
        ("about 1,700", "Cocoons that hatch", 1700),
        ("about 3,400", "Young", 3400),
        ("about 3,000", "Worms for sale", 3000),
    ):
        assert f"| {printed} |" in text
        assert isclose(rows[name], near, rel_tol=0.02), name
    assert "about 60,000" in text and isclose(value("breeding.trays", "worms_per_week"), 60000, rel_tol=0.02)
    assert "55 lb (25 kg)" in text and isclose(value("breeding.trays", "worm_mass_per_week"), 55 * POUND, rel_tol=0.02)


def test_what_stands_in_the_room():
    text = page("breeding/trays")
    assert "means sixty breeding trays at any time" in text and value("breeding.trays", "breeding_trays_at_once") == 60
    assert "about 45 lb (20 kg)" in text and isclose(
        value("breeding.trays", "breeders_mass_needed"), 45 * POUND, rel_tol=0.02
    )
    assert "more than fourteen weeks" in text and 14 < value("breeding.trays", "days_to_first_sale") / 7 < 15
    kept = (
        value("breeding.trays", "replacement_per_week")
        * trays.calculator.own_defaults["breeders_per_mass"]
        / value("breeding.trays", "worms_per_week")
    )
    assert "about two in a hundred of what you grow" in text and 0.015 < kept < 0.025
    rows = calc.run("breeding.trays")["tables"]["failure_weeks"]["rows"]
    assert "you sell nothing for twelve weeks" in text and sum(1 for row in rows if row[3] == 0) == 12


def test_powder_against_worms():
    from calc.breeding.trays import feed_shortfall

    given = calc.run("breeding.trays")["outputs"]
    assert "accounts for about a third of the worms" in page("breeding/trays")
    assert 2.7 < feed_shortfall(given["worm_mass_per_week"]["value"], given["feed_per_day"]["value"]) < 3.4


def test_what_being_off_costs():
    text = page("breeding/index")
    rows = {row[0]: row for row in calc.run("breeding.setpoints")["tables"]["off"]["rows"]}
    assert "too cool cost about a day from cocoon to sale" in text and 0.5 < rows[-2][3] - rows[0][3] < 1.5
    assert "two too warm cost ten or eleven days and six more cocoons in every hundred" in text
    assert 10 < rows[2][3] - rows[0][3] < 11 and round(100 * (rows[0][2] - rows[2][2])) == 6
    warm = (81 - 32) / 1.8 + 5
    assert "growth more than halves, one cocoon in two fails" in text
    assert growth_speed(warm) < 0.5 * growth_speed(warm - 5) and 0.45 < rows[5][2] < 0.55
    assert "Laboratories count 2.3 to 2.7 cocoons a worm a week" in text
    assert [y for _, y, *_ in breeding.COCOONS_SEEN.points] == [2.3, 2.7, 2.5] and cocoons_per_worm_per_week(
        20.0
    ) == 2.3


def test_lanes_hatch_a_day_or_two_later_than_trays():
    from calc.biology import stage_days

    assert "a day more than here at 68 °F (20 °C), and two more at 50 °F (10 °C)" in page("breeding/index")
    later = [stage_days(biology.INCUBATION_DAYS.typical, t) - incubation_days(t) for t in (20.0, 10.0)]
    assert [round(days) for days in later] == [1, 2]


TWO_ROOMS = ("breeding_temperature", "growout_temperature")


def test_one_room_for_both():
    text = page("breeding/index")
    usual, one = (
        calc.run("breeding.setpoints", values)["outputs"]
        for values in ({"breeding_temperature": 20, "growout_temperature": 27}, dict.fromkeys(TWO_ROOMS, 25))
    )
    assert "One room at 77 °F (25 °C) lays and hatches a little more and takes a day longer" in text
    for name in ("cocoons_per_worm_per_week", "hatch_share"):
        assert 1 < one[name]["value"] / usual[name]["value"] < 1.15
    assert round(one["days_cocoon_to_sale"]["value"] - usual["days_cocoon_to_sale"]["value"]) == 1


def test_the_room_on_the_page():
    text = page("breeding/room")
    assert "the air takes about a seventh" in text and isclose(
        value("breeding.room", "air_share"), 1 / 7, abs_tol=0.015
    )
    module = __import__("calc.breeding.room", fromlist=["wall_inside"])
    inside = room_calculator.calculator.own_defaults
    dew = dew_point(vapour_pressure(inside["setpoint"], inside["humidity"]))
    glass = breeding.INSIDE_FILM.typical + breeding.OUTSIDE_FILM.typical
    assert "colder outside than about 70 °F (21 °C)" in text
    assert (
        module.wall_inside(inside["setpoint"], 20.0, glass) < dew < module.wall_inside(inside["setpoint"], 22.0, glass)
    )
    assert "about 28 W for each litre a day (13 W for each pound)" in text
    assert (
        isclose(breeding.EVAPORATION_HEAT.typical, 2.45e6 / 86400, rel_tol=0.01)
        and round(breeding.EVAPORATION_HEAT.typical * POUND) == 13
    )


def test_money_on_the_pages():
    assert (
        "The plan begins at half of the full work and feed" in page("economics/cash")
        and cash.calculator.own_defaults["early_share"] == 0.5
    )
    assert (
        "come from five hundred draws" in page("economics/return")
        and calc.find("economics.return").own_defaults["draws_made"] == 500
    )
    assert (
        "under a thousand dollars" in page("economics/startup")
        and value("economics.startup", "first_stage_cost") < 1000
    )


def test_doses_on_the_page():
    text = page("garden/index")
    pounds = [end * FOOT**2 / POUND for end in (garden.FIELD_DOSE.low, garden.FIELD_DOSE.high)]
    assert "0.1 to 0.2 lb/ft² (0.5–1 kg/m²)" in text and pounds == pytest.approx([0.1, 0.2], abs=0.006)
    assert "best with 30 to 50 %" in text and (garden.ANY_SHARE.low, garden.ANY_SHARE.high) == (0.30, 0.50)
    assert "grew well up to 20 %" in text and garden.TOMATO_SHARE.typical == 0.20


def test_a_yard_in_pounds():
    assert isclose(harvest.CASTINGS_DENSITY.typical * YARD3 / POUND, 1000, rel_tol=1e-5)


def test_the_range_of_a_dose_holds_both_doses_of_the_trial():
    """Where the share is left to the trial, its two doses lie in the range; a share that is typed is taken as it is."""
    given = calc.run("garden.dose")
    area, density = (given["inputs"][name]["value"] for name in ("area", "castings_bulk_density"))
    low, high = (dose * area for dose in garden.FIELD_DOSE.ends())
    volume, mass = given["outputs"]["volume"], given["outputs"]["mass"]
    assert volume["low"] < low / density < high / density < volume["high"]
    assert isclose(mass["low"], low) and isclose(mass["high"], high)
    typed = calc.run("garden.dose", {"share": "5 %"})["outputs"]["volume"]
    assert typed["low"] == typed["value"] == typed["high"]


def test_how_the_properties_of_materials_were_seen():
    sure = [
        each.sure
        for material in MATERIALS
        for each in (material.moisture, material.nitrogen, material.carbon_nitrogen, material.bulk_density)
    ]
    text = page("method/index")
    assert f"are from memory**: {sure.count('memory')} of {len(sure)}, marked so" in text
    assert "We read six at their source." in text and sure.count("read") == 6
    assert "**Four in ten of" in text and round(10 * sure.count("memory") / len(sure)) == 4
