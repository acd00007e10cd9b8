"""The figures that the lane chapter prints in its sentences are the ones that the code gives."""

import importlib
import re
from math import isclose, log, radians, sin
from pathlib import Path

import pytest

import calc
from calc.biology import HIGH, LOW, TYPICAL, activity, stage_days
from calc.engine import DAYS_A_MONTH, FOOT, GALLON, INCH, POUND, YARD3
from calc.facts import biology as facts
from calc.facts.materials import BY_NAME
from calc.farm.tables import PRODUCTS
from calc.lane.asked import lane_plan
from calc.lane.face import advance, layer_volume
from calc.lane.model import LanePlan

model = importlib.import_module("calc.lane.herd")
CHAPTER = Path(__file__).parents[2] / "docs" / "lane"


def page(name):
    return " ".join((CHAPTER / f"{name}.md").read_text(encoding="utf-8").split())


def doubling(name):
    rows = calc.run("lane.herd", {}, units="us")["tables"]["trial_to_bed"]["rows"]
    return next(row[1] for row in rows if row[0].startswith(name))


def test_doubling_in_a_trial_in_the_bed_and_as_it_fills():
    assert (
        "At the figures this page starts with it goes from about 17 days in a trial to about 70 in the bed, and over 80"
        " as it fills" in page("herd")
    )
    assert round(doubling("Heads in a trial")) == 17
    assert isclose(doubling("Weight, from 10 lb"), 70, abs_tol=3)
    assert isclose(doubling("Weight, from half full"), 83, abs_tol=3)


def test_600_to_16900_is_a_doubling_in_19_days():
    assert "600 worms became 16,900 in about 90 days" in page("herd")
    assert "a doubling in 19 days" in page("herd")
    assert round(90 * log(2) / log(16900 / 600)) == 19


def test_causes_one_by_one():
    assert "a fortieth of a grown worm" in page("herd")
    assert isclose(facts.ADULT_MASS.typical / facts.HATCHLING_MASS.typical, 40, rel_tol=0.05)
    assert "three in ten live" in page("herd") and facts.JUVENILE_SURVIVAL.typical == 0.3
    assert "about half of the weight lays" in page("herd") and facts.BREEDING_SHARE.typical == 0.5
    assert "everything takes a fifth longer" in page("herd")
    assert isclose(1 / activity(20), 1.2, abs_tol=0.03)


def test_the_first_weeks_of_the_bed():
    text = page("herd")
    rows = calc.run("lane.herd", {})["tables"]["weeks"]["rows"]
    share = {row[0]: row[2] / rows[0][2] for row in rows}
    assert "a lane begun in May weighs no more after six weeks than on the first day" in text and 0.9 < share[6] <= 1
    assert "from 10 lb (4.5 kg) to about 12½ lb (5.7 kg) after eight weeks" in text and 12.25 < 10 * share[8] < 12.75
    assert "nearly double after ten" in text and 1.8 < share[10] < 2
    assert "At 68 °F (20 °C) the first of them lay in the thirteenth week" in text
    generation = stage_days(facts.INCUBATION_DAYS.typical + facts.MATURING_DAYS.typical, 20.0)
    assert 12 * 7 < generation <= 13 * 7


def test_the_compost_of_the_base_is_named_beside_that_of_the_table():
    note = BY_NAME["finished compost"].note
    assert "600 kg/m³ (1,010 lb/yd³), 55 %" in note
    plan = LanePlan()
    assert isclose(plan.compost_bulk_density, 600) and isclose(plan.base_moisture, 0.55)
    assert round(600 * YARD3 / POUND, -1) == 1010


def test_the_floor_on_the_starter_page_is_the_lane_a_slice_and_the_gap():
    assert "a foot (30 cm) for the slice and 3.5 ft (1.1 m) for the gap come on top" in page("starter")
    assert isclose(calc.run("lane.starter", {})["outputs"]["floor_needed"]["value"], (8 + 1 + 3.5) * FOOT)


def test_what_the_worms_breathe_off_in_the_books_of_the_lane():
    assert "breathe some two fifths of the feed's dry matter off" in page("ledger")
    assert isclose(1 - LanePlan().shares.dry_matter_kept, 0.4, abs_tol=0.01)


def test_a_year_of_the_first_lane_in_the_money_chapter():
    row = calc.run("lane.output", {})["tables"]["stages"]["rows"][0]
    text = " ".join((CHAPTER.parent / "economics" / "index.md").read_text(encoding="utf-8").split())
    sold, hours = row[4] * 52, row[5] * 52
    assert "some 0.6 cubic yards (0.46 m³) of screened castings in a year, for some 61 hours of work" in text
    assert isclose(sold, 0.46, abs_tol=0.01) and isclose(hours, 61, abs_tol=1)
    price = calc.run("lane.ledger", {})["inputs"]["castings_price"]["value"]
    assert "$140 sold loose, or $2.30 an hour" in text
    assert isclose(sold * price, 140, abs_tol=10) and isclose(sold * price / hours, 2.3, abs_tol=0.1)


def test_a_feeding_of_the_first_lane_takes_as_long_in_the_stages_as_in_its_books():
    """Both charge the whole lane of 8 ft, though fed on its end no more than its active zone is at work."""
    given = calc.run("lane.output", {})["inputs"]
    stage = calc.run("lane.output", {})["tables"]["stages"]["rows"][0]
    more = calc.run("lane.output", {"feedings_per_week": given["feedings_per_week"]["value"] + 1})
    assert isclose(more["tables"]["stages"]["rows"][0][5] - stage[5], LanePlan().hours_per_layer, rel_tol=1e-9)


def test_goes_that_wet_the_base_and_the_floor_on_which_a_slice_dries():
    plan = lane_plan(calc.find("lane.starter").defaults)
    assert 7 <= plan.base_water / 1000 / plan.bed_area / (INCH / 2) <= 8, "four goes a day for two days"
    slice_mass = plan.base.dry_matter / (1 - plan.castings_moisture) / (plan.base_length / plan.slice_length)
    winter = {"humidity": 0.86, "mass": slice_mass, "area": "85 ft2"}
    waits = [
        calc.run("harvest.dry_down", winter | {"air_temperature": air})["outputs"]["hours"]["value"] / 24
        for air in ("46 F", "41 F")
    ]
    assert "about 85 ft² (8 m²) for each" in page("index")
    assert "lies there for three to four weeks and three or four lie at once" in page("index")
    assert 19 <= waits[0] <= waits[1] <= 30


def test_when_a_lane_has_paid_what_it_cost():
    text = " ".join((CHAPTER.parent / "first-questions.md").read_text(encoding="utf-8").split())
    assert "in about three and a half years where every bag is sold, in seven where castings go loose" in text
    bag = PRODUCTS[0]
    screen = next(
        row["price"]
        for row in calc.find("economics.startup").defaults["purchases"]
        if row["item"].startswith("Hand screen")
    )

    def books(price, days):
        found = calc.run("lane.ledger", {"days": days, "castings_price": price})["outputs"]
        return found["money_in"]["value"], found["money_out"]["value"]

    def years(price):
        (early, _), (late, cost) = books(price, 600), books(price, 1000)
        return (1000 + (cost + screen - late) / (late - early) * 400) / 365

    assert isclose(years((bag["price"] - bag["packing"]) / (5 * GALLON)), 3.5, abs_tol=0.3)
    assert isclose(years(calc.run("lane.ledger", {})["inputs"]["castings_price"]["value"]), 7, abs_tol=0.6)


def test_behind_a_face_on_the_output_page():
    plan = LanePlan()
    assert "about 5 ft (1.5 m)" in page("output") and isclose(plan.gap + plan.foot, 5 * FOOT)
    assert "a quarter of the volume is gone before the screen" in page("output")
    assert isclose(plan.shares.volume_dried, 0.75, abs_tol=0.01)


def test_a_layer_on_the_feeding_page():
    text = page("feeding")
    high, wide, thick = 18 * INCH, 4 * FOOT, 2 * INCH
    assert (
        "is 25 in (65 cm) long" in text
        and round(high / sin(radians(45)) / INCH) == 25
        and round(100 * high / sin(radians(45))) == 65
    )
    volume = layer_volume(thick, wide, high, 45)
    assert isclose(volume, calc.run("lane.feeding", {})["outputs"]["layer_volume"]["value"], rel_tol=1e-9)
    moved = advance(thick, 45, 0.5)
    assert "by 1.4 in (3.5 cm)" in text and round(moved / INCH, 1) == 1.4 and isclose(100 * moved, 3.5, abs_tol=0.1)


def test_a_foot_of_lane_on_the_first_page():
    text = page("index")
    gives = 4 * FOOT * 18 * INCH * FOOT
    assert "6 ft³ (170 L) of castings" in text and isclose(gives / FOOT**3, 6) and round(gives * 1000) == 170
    assert "12 ft³ (340 L) of feed" in text and round(gives / 0.5 * 1000) == 340


def test_winter_on_the_output_page():
    assert (
        "At 50 °F (10 °C) worms eat less than half of what they do at 77 °F (25 °C): a third to three fifths"
        in page("output")
    )
    assert [round(activity(10, case), 2) for case in (LOW, TYPICAL, HIGH)] == [0.35, 0.44, 0.60]


def test_density_on_the_starter_page():
    assert (
        "1.6 kg/m² (0.33 lb/ft², Ndegwa et al. 2000): 10 lb on 32 ft² (4.5 kg on 3 m²) is a little under that"
        in page("starter")
    )
    assert isclose(10 / 32, 0.33, abs_tol=0.02) and 10 / 32 < 0.33


@pytest.mark.parametrize("name", ["starter", "feeding", "herd", "ledger", "output"])
def test_each_page_has_its_one_calculator(name):
    assert page(name).count("```calculator") == 1
    assert f"```calculator lane.{name}" in page(name)


@pytest.mark.parametrize(
    ("id", "inputs", "words"),
    [
        (
            "lane.starter",
            {"worm_mass": "ten", "base_depth": "12 lb"},
            {"worm_mass": "must be a number", "base_depth": "cannot be given in lb"},
        ),
        (
            "lane.feeding",
            {"face_slope": 95, "layer_thickness": 0, "start_date": "2027-02-30"},
            {"face_slope": "between 10° and 85°", "layer_thickness": "between", "start_date": "must be a date"},
        ),
        (
            "lane.herd",
            {"survival": 2, "capacity": "x", "harvest_per_week": "5 m"},
            {"survival": "between", "capacity": "must be a number", "harvest_per_week": "cannot be given in m"},
        ),
        (
            "lane.output",
            {"castings_per_week": -1, "lane_width": "4 gal"},
            {"castings_per_week": "between", "lane_width": "cannot be given in gal"},
        ),
    ],
)
def test_every_wrong_field_is_told_in_words(id, inputs, words):
    told = {error["input"]: error["message"] for error in calc.run(id, inputs)["errors"]}
    assert told.keys() == words.keys()
    for name, part in words.items():
        assert part in told[name], told[name]


@pytest.mark.parametrize(
    ("id", "inputs", "words"),
    [
        ("lane.starter", {"base_moisture": 0.8}, "wetter than"),
        ("lane.starter", {"base_depth": 0.5}, "no higher than the bed"),
        ("lane.starter", {"bed_temperature": 7}, "hardly breed"),
        ("lane.feeding", {"worm_mass": 90}, "crowded"),
        ("lane.feeding", {"bed_temperature": 33}, "outside"),
        ("lane.output", {"bed_temperature": 5}, "eat little"),
        ("lane.output", {"castings_per_week": 4}, "one person"),
    ],
)
def test_what_a_grower_would_object_to_is_warned_of(id, inputs, words):
    assert words in " ".join(calc.run(id, inputs)["warnings"])
    assert calc.run(id, {})["warnings"] == []


def test_a_bed_that_is_full_is_told_so():
    assert "full already" in " ".join(calc.run("lane.herd", {"worm_mass": 30})["reading"])
    assert "full already" not in " ".join(calc.run("lane.herd", {})["reading"])


def test_a_cold_herd_is_said_to_rest_on_a_curve():
    assert "no count" in " ".join(calc.run("lane.herd", {"bed_temperature": 12})["warnings"])
    assert calc.run("lane.herd", {"bed_temperature": 20})["warnings"] == []


def test_months_of_the_first_slice_on_the_first_page():
    """The table of the first year names the fast and the slow case of the lane that the book begins with."""
    band = calc.run("lane.starter")["outputs"]["days_to_first_slice"]
    text = (CHAPTER.parent / "start.md").read_text(encoding="utf-8")
    low, high = (int(month) for month in re.search(r"\| Months (\d+)–(\d+) \| First slice", text).groups())
    assert (low, high) == (round(band["low"] / DAYS_A_MONTH), round(band["high"] / DAYS_A_MONTH))
    assert high <= 18 and "plan the money for a year and a half" in text


def test_the_layer_is_drawn_from_the_reader_s_figures():
    """Its picture says what the face moves by, as the model has it, and changes with slope and layer."""
    from calc.page.block import answered

    def drawn(**values):
        view = answered("lane.feeding", values, "us", "$")
        return view, next(figure for figure in view.shown.figures if figure.name == "layer")

    view, first = drawn()
    moves = advance(view.layer_thickness, view.face_slope, view.volume_kept)
    assert isclose(moves, 0.5 * 2 * INCH / sin(radians(45.0)))
    assert "by 1.4 in" in first.finding and "moved 1.4 in" in first.svg
    _, other = drawn(layer_thickness="1 in", face_slope="30")
    assert "moved 1 in" in other.svg and other.svg != first.svg
    for slope, height in (("10", "4 in"), ("10", "59 in"), ("85", "59 in")):
        _, made = drawn(face_slope=slope, bed_height=height, layer_thickness="11 in")
        assert (
            max(
                float(x)
                for points in re.findall(r'points="([^"]+)"', made.svg)
                for x in re.findall(r"([\d.]+),", points)
            )
            <= 460
        )
