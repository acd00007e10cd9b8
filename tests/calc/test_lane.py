"""Lanes: geometry and mass balance of the face, and the four calculators."""

from math import ceil, isclose, radians, sin

import pytest
from hypothesis import given
from hypothesis import strategies as st

import calc
from calc.biology import activity, crowding
from calc.engine import FOOT, INCH, POUND, YARD3, Refused
from calc.engine.run import answer
from calc.facts import lane as facts
from calc.lane import feeding, output, questions, starter
from calc.lane.asked import lane_plan
from calc.lane.boards import AHEAD, KERF, SHEET_LENGTH, SHEET_WIDTH, boards_of, cut_list, sheets_for
from calc.lane.face import advance, dry_matter_ratio, face_foot, layer_volume
from calc.lane.model import HIGH, LOW, TYPICAL, follow, in_case

lengths = st.floats(0.3, 3.0)
slopes = st.floats(20.0, 80.0)
layers = st.floats(0.01, 0.1)
shares = st.floats(0.2, 0.9)


def warned(id, **inputs):
    return " ".join(calc.run(id, inputs)["warnings"])


# --- the sloping face ------------------------------------------------------------------------------------------------


@given(layers, lengths, lengths, slopes, shares)
def test_what_is_fed_and_kept_fills_the_lane_that_was_gained(layer, width, height, slope, kept):
    fed = layer_volume(layer, width, height, slope)
    gained = advance(layer, slope, kept) * width * height
    assert isclose(fed * kept, gained, rel_tol=1e-12)


@given(layers, lengths, lengths, slopes)
def test_layer_is_thickness_times_the_area_of_the_face(layer, width, height, slope):
    along_the_face = (height**2 + face_foot(height, slope) ** 2) ** 0.5
    assert isclose(layer_volume(layer, width, height, slope), layer * width * along_the_face, rel_tol=1e-12)


def test_a_steep_face_takes_less_feed_and_an_upright_one_the_wall_area():
    assert isclose(layer_volume(0.05, 1.2, 0.5, 90), 0.05 * 1.2 * 0.5)
    assert layer_volume(0.05, 1.2, 0.5, 30) > layer_volume(0.05, 1.2, 0.5, 60)


@given(shares, st.floats(0.3, 0.9), st.floats(0.3, 0.9))
def test_dry_matter_is_conserved(kept, before, after):
    assert isclose(dry_matter_ratio(kept, before, after) * (1 - after), kept * (1 - before), rel_tol=1e-12)


# --- feeding ----------------------------------------------------------------------------------------------------------


def test_yield_of_a_foot_is_width_times_height_and_feed_follows_from_what_is_kept():
    result = feeding(lane_width=4 * FOOT, bed_height=18 * INCH, volume_kept=0.5)
    assert isclose(result.castings_volume_per_length * FOOT / FOOT**3, 6.0)
    assert isclose(result.feed_volume_per_length * FOOT / FOOT**3, 12.0)


@given(st.floats(1.0, 60.0), slopes, layers)
def test_feed_a_week_lays_the_lane_at_the_pace_of_the_face(worms, slope, layer):
    result = feeding(worm_mass=worms, face_slope=slope, layer_thickness=layer)
    fed = result.feed_per_week.value / (result.layer_mass / result.layer_volume)
    assert isclose(fed, result.face_advance_per_week.value * result.feed_volume_per_length, rel_tol=1e-9)
    assert isclose((FOOT + 3.5 * FOOT) / result.face_advance_per_week.value * 7, result.residence_days, rel_tol=1e-9)


def test_slope_and_layer_drop_out_of_the_pace_when_the_worms_set_it():
    steep, flat = feeding(face_slope=70, layer_thickness=0.06), feeding(face_slope=30, layer_thickness=0.03)
    assert isclose(steep.face_advance_per_week.value, flat.face_advance_per_week.value, rel_tol=1e-9)


def test_more_worms_never_eat_less_and_layers_never_follow_too_soon():
    weeks = [round(feeding(worm_mass=worms).feed_per_week.value, 9) for worms in (1, 2, 4, 8, 12, 16, 20, 30, 60, 100)]
    assert weeks == sorted(weeks)
    assert (
        feeding(worm_mass=40, bed_temperature=20.0, layer_thickness=0.01, safe_interval=2).days_between_feedings.value
        == 2
    )


def test_range_is_in_order():
    result = feeding(bed_temperature=20.0)
    for name in (
        "days_between_feedings",
        "face_advance_per_week",
        "days_to_first_slice",
        "days_between_slices",
        "feed_per_week",
    ):
        band = getattr(result, name)
        assert band.low < band.value < band.high


def test_no_feeding_where_worms_do_not_eat():
    for temperature in (-2, 40):
        with pytest.raises(Refused) as caught:
            feeding(bed_temperature=temperature)
        assert caught.value.problems[0][0] == "bed_temperature"


def test_calendar_has_26_weeks_and_holds_all_feed():
    shown = calc.run("lane.feeding", {"start_date": "2027-03-01"})
    rows, layers = shown["tables"]["calendar"]["rows"], shown["tables"]["feedings"]["rows"]
    assert len(rows) == 26
    assert sum(row[2] for row in rows) == len(layers)
    assert isclose(sum(row[3] for row in rows), sum(row[2] for row in layers))
    assert layers[0][0] == "2027-03-04" and isclose(layers[0][1], 0.0127)


def test_feeding_warns_of_thick_layers_and_of_beds_too_quick_for_the_organic_guidance():
    assert "heats" in warned("lane.feeding", layer_thickness=0.1)
    assert "organic" in warned("lane.feeding", worm_mass=20, gap=0.3, bed_height=0.3, bed_temperature=25)
    assert warned("lane.feeding") == ""


# --- starter ----------------------------------------------------------------------------------------------------------


def test_base_of_the_first_lane():
    result = starter(lane_length=8 * FOOT, lane_width=4 * FOOT, base_depth=12 * INCH)
    assert isclose(result.bed_area, 32 * FOOT**2)
    assert isclose(result.base_volume, 32 * FOOT**3)
    wet = result.base_mass + result.base_water_to_add
    assert isclose(result.base_mass * (1 - 0.55), wet * (1 - 0.70))
    assert 0.2 < result.air_space < 0.25


def test_a_base_is_wetted_only_as_far_as_it_still_breathes():
    """At 75 % this compost would be 1,080 kg/m³ and hold 4 % of air: mud. It gets what leaves a tenth."""
    told = calc.run("lane.starter", {"target_moisture": 0.75})
    assert isclose(told["outputs"]["air_space"]["value"], 0.10)
    assert "would be mud" in " ".join(told["warnings"])
    drowned = calc.run("lane.starter", {"compost_bulk_density": 1250, "base_moisture": 0.6, "target_moisture": 0.6})
    assert "that is mud" in " ".join(drowned["warnings"])


def test_cost_is_the_list_and_the_reserve():
    shown = calc.run("lane.starter", {"contingency": 0.2})
    rows = shown["tables"]["costs"]["rows"]
    assert isclose(sum(row[2] for row in rows[:-1]), rows[-1][2])
    assert isclose(rows[-1][2], shown["outputs"]["startup_cost"]["value"])
    assert isclose(shown["outputs"]["budget_left"]["value"], 1000 - rows[-1][2])


def test_the_first_lane_is_within_what_growers_spend_and_wait():
    result = starter()
    assert result.startup_cost < 1000
    assert 5 * 30 < result.days_to_first_slice.value < 10 * 30
    assert result.days_to_first_slice.low < result.days_to_first_slice.value < result.days_to_first_slice.high


def test_a_growing_herd_slices_sooner_than_a_steady_one():
    pace = feeding(bed_temperature=20.0)
    steady = (FOOT + 3.5 * FOOT) / (pace.face_advance_per_week.value / 7)
    assert starter(bed_temperature=20.0).days_to_first_slice.value < steady


@given(st.floats(0.5, 20.0), st.floats(0.4, 2.4))
def test_cut_list_fits_on_its_sheets(length, width):
    cuts = cut_list(length, width)
    total = sum(board for _, _, board, _ in cuts)
    assert isclose(total, 2 * length + width, rel_tol=1e-9)
    for sheet in {number for number, *_ in cuts}:
        boards = [board for number, _, board, _ in cuts if number == sheet]
        assert max(boards) <= SHEET_LENGTH + 1e-9
        assert sum(boards) <= 2 * SHEET_LENGTH + 1e-9
    assert all(2 * height + KERF <= SHEET_WIDTH + 1e-9 for *_, height in cuts)
    assert max(number for number, *_ in cuts) >= ceil(total / (2 * SHEET_LENGTH) - 1e-9)


def test_a_10_foot_lane_takes_two_sheets():
    """Even halves of each side would take a third: two whole lengths of 8 ft, two rests of 2 ft on one strip, the back
    of 4 ft on another.
    """
    cuts = cut_list(10 * FOOT, 4 * FOOT)
    assert max(sheet for sheet, *_ in cuts) == 2
    assert sorted(round(length / FOOT, 6) for _, _, length, _ in cuts) == [2, 2, 4, 8, 8]


@pytest.mark.parametrize(
    ("id", "inputs", "words", "warns"),
    [
        ("lane.starter", {"base_depth": "6 in"}, "dries out", False),
        ("lane.starter", {"base_depth": "5.9 in"}, "dries out", True),
        ("lane.starter", {"worm_mass": "48 lb"}, "crowded", False),
        ("lane.starter", {"worm_mass": "49 lb"}, "crowded", True),
        ("lane.starter", {"worm_mass": "6.4 lb"}, "thin", False),
        ("lane.starter", {"worm_mass": "6.3 lb"}, "thin", True),
        ("lane.feeding", {"layer_thickness": "3 in"}, "heats", False),
        ("lane.feeding", {"layer_thickness": "3.1 in"}, "heats", True),
        ("lane.feeding", {"worm_mass": "48 lb"}, "crowded", False),
        ("lane.output", {"stocking_density": "1.5 lb/ft2"}, "crowded", False),
        ("lane.output", {"stocking_density": "1.6 lb/ft2"}, "crowded", True),
    ],
)
def test_a_limit_itself_is_no_warning(id, inputs, words, warns):
    """The handbook warns under 0.2 and over 1.5 lb/ft², under 6 in of base and over 3 in of feed; 8 by 4 ft are 32
    ft².
    """
    assert (words in warned(id, **inputs)) == warns


@given(st.floats(0.5, 60), st.floats(1, 34))
def test_the_first_lane_and_the_face_feed_the_same_worms_alike(worm_mass, temperature):
    """Two pages that are asked about one bed: crowded worms eat less on both."""
    lane = calc.run("lane.starter", {"worm_mass": worm_mass, "bed_temperature": temperature})["outputs"]
    face = calc.run(
        "lane.feeding",
        {"worm_mass": worm_mass, "bed_temperature": temperature},
    )["outputs"]
    assert isclose(lane["feed_per_day"]["value"] * 7, face["feed_per_week"]["value"], rel_tol=1e-9)
    for name in ("feed_per_week", "days_to_first_slice", "first_feeding_mass", "first_slice_date"):
        assert lane[name] == face[name], name


@pytest.mark.parametrize("plan", [{}, {"fed_on": "side", "lane_length": 16 * FOOT}, {"lane_length": 16 * FOOT}])
@pytest.mark.parametrize("floor", [None, 11 * FOOT])
@pytest.mark.parametrize("case", [LOW, TYPICAL, HIGH])
def test_what_is_bought_once_suffices_for_the_longest_day_of_the_calendar(plan, floor, case):
    """From its cut to the foot of its face no lane is longer than the floor for which boards, shade and sheet are
    bought, but for what the face walks in the week from slice to slice.
    """
    lane = in_case(lane_plan(calc.find("lane.starter").defaults | plan | {"floor_length": floor}), case)
    days = follow(lane, 1095)
    week = max(later.face - day.face for day, later in zip(days, days[7:]))
    longest = max(day.face - day.cut + day.sliced for day in days)
    first = next(day for day in days if day.sliced)
    assert first.face >= lane.floor_needed - 1e-9, "it is that long once"
    assert longest <= lane.floor_needed + week
    assert isclose(lane.largest_area, lane.floor_needed * lane.face_width)
    crest = lane.floor_needed - lane.foot / 2
    assert lane.base_length + lane.boards_ahead >= crest - 1e-9


def test_boards_ahead_come_out_of_the_sheets_of_the_first_lane():
    found = starter()
    cuts = boards_of(found.plan)
    assert sheets_for(found.plan) == calc.find("lane.starter").defaults["sheets"] == 2
    ahead = [length for _, part, length, _ in cuts if part == AHEAD]
    assert len(ahead) == 2 and all(isclose(length, 45 * FOOT / 12) for length in ahead)


def test_shade_is_bought_for_the_lane_at_its_longest():
    shown = calc.run("lane.starter", units="us")
    row = next(row for row in shown["tables"]["costs"]["rows"] if row[0].startswith("Shade"))
    assert row[1] == "50 ft²"
    assert isclose(row[2], shown["outputs"]["largest_area"]["value"] * facts.SHADE_PRICE.typical)


def test_an_8_by_4_lane_takes_two_sheets():
    assert max(sheet for sheet, *_ in cut_list(8 * FOOT, 4 * FOOT)) == 2
    assert "needs 2 sheets" in warned("lane.starter", sheets=1)


@pytest.mark.parametrize(
    ("inputs", "word"),
    [
        ({"worm_mass": 1}, "thin"),
        ({"worm_mass": 40}, "crowded"),
        ({"base_depth": 0.1}, "dries out"),
        ({"bed_temperature": 33}, "outside"),
        ({"budget": 300}, "over budget"),
    ],
)
def test_starter_warns(inputs, word):
    assert word in warned("lane.starter", **inputs)


def test_bad_fields_are_all_named_at_once():
    told = calc.run("lane.starter", {"lane_length": "minus three", "worm_mass": -1, "start_date": "soon"})
    assert {error["input"] for error in told["errors"]} == {"lane_length", "worm_mass", "start_date"}
    assert "outputs" not in told


# --- output -----------------------------------------------------------------------------------------------------------


def test_feed_balances_castings_at_every_scale():
    result = output(castings_per_week=1.0, screen_product_share=0.5, volume_kept=0.4)
    assert isclose(result.castings_raw_per_week, 2.0 / result.volume_dried)
    assert isclose(result.feed_volume_per_week.value, 5.0 / result.volume_dried)
    assert isclose(
        result.volume_dried, 0.75 * 0.5 / 0.4
    )  # as much dry matter, in less volume as sliced: it shrinks less


def test_a_yard_of_feed_sells_as_the_same_on_every_page():
    """Volume kept × volume after drying × share that passes: by one chain, by weight and by volume."""
    plan = lane_plan({"climate": "mild", "year": "usual"})
    sold = 0.25 * YARD3
    assert isclose(sold / output().feed_volume_per_week.value, plan.shares.volume_sold, rel_tol=1e-9)
    assert isclose(plan.shares.volume_sold, 0.5 * 0.75 * 0.65, rel_tol=1e-4)


@given(st.floats(0.05, 5.0), st.floats(1.1, 5.0))
def test_twice_the_castings_take_twice_the_lane_but_less_than_twice_the_hours(castings, more):
    small, large = output(castings_per_week=castings), output(castings_per_week=more * castings)
    assert isclose(large.lane_length.value, more * small.lane_length.value, rel_tol=1e-9)
    assert isclose(large.worm_mass.value, more * small.worm_mass.value, rel_tol=1e-9)
    assert large.labour_hours_per_week.value < more * small.labour_hours_per_week.value


def test_output_agrees_with_the_face_of_feeding():
    """The lane that output asks for, fed as feeding does, gives the castings that were wanted."""
    wanted = output(castings_per_week=0.25 * YARD3, bed_temperature=20.0)
    lane = feeding(
        lane_length=wanted.lane_length.value,
        worm_mass=wanted.worm_mass.value,
        bed_temperature=20.0,
        safe_interval=0.5,
        layer_thickness=0.25,
    )
    fed = lane.feed_per_week.value / (lane.layer_mass / lane.layer_volume)
    assert isclose(fed, wanted.feed_volume_per_week.value, rel_tol=1e-9)


def test_a_held_bed_gives_the_closed_form_of_the_output():
    """Feed ÷ ration at this temperature and stocking: the special case in which no season turns."""
    wanted = output(castings_per_week=0.25 * YARD3, bed_temperature=17.0, stocking_density=3.0)
    share = activity(17.0) * crowding(3.0)
    assert isclose(wanted.activity_of_year, share, rel_tol=1e-9)
    assert isclose(wanted.worm_mass.value, wanted.feed_mass_per_week.value / 7 / (0.75 * share), rel_tol=1e-9)


@pytest.mark.parametrize("fed_on", ["end", "side"])
def test_no_face_takes_more_than_it_can(fed_on):
    for castings in (0.02, 0.2, 2.0):
        wanted = output(castings_per_week=castings, fed_on=fed_on, layer_thickness=0.01, safe_interval=3.0)
        assert wanted.feed_mass_per_week.value <= wanted.face_capacity_per_week * (1 + 1e-9)
        assert wanted.faces >= 1 and wanted.lanes == wanted.faces


@pytest.mark.parametrize(("fed_on", "first"), [("end", 5), ("side", 8)])
def test_stages_run_from_a_lane_of_8_feet_to_80(fed_on, first):
    """The first is one lane of 8 ft. On its end it works behind one face, with the herd's full bed of worms."""
    rows = calc.run("lane.output", {"castings_per_week": 0.2, "fed_on": fed_on})["tables"]["stages"]["rows"]
    lengths_ft = [row[1] / FOOT for row in rows]
    assert lengths_ft == sorted(lengths_ft)
    assert isclose(lengths_ft[0], first)
    full = calc.run("lane.herd", {"fed_on": fed_on})["outputs"]["target"]["value"]
    assert isclose(rows[0][2], full, rel_tol=1e-9)
    assert any(isclose(length, 80, rel_tol=1e-9) for length in lengths_ft)


# --- temperature and crowding -----------------------------------------------------------------------------------------


def test_activity_is_best_at_25_and_nothing_at_the_ends():
    assert activity(25) == 1 and activity(0) == 0 and activity(35) == 0
    rising = [activity(temperature) for temperature in range(26)]
    falling = [activity(temperature) for temperature in range(25, 36)]
    assert rising == sorted(rising) and falling == sorted(falling, reverse=True)


def test_crowding_runs_from_the_trial_to_a_weight_a_week():
    assert crowding(0.5) == crowding(1.6) == 1
    assert isclose(crowding(100), 0.14 / 0.75)


def test_crowded_worms_together_never_eat_less():
    eaten = [stocking / 10 * crowding(stocking / 10) for stocking in range(1, 400)]
    assert all(after >= before - 1e-12 for before, after in zip(eaten, eaten[1:]))


def test_the_face_of_a_45_degree_lane():
    assert isclose(sin(radians(45)) * layer_volume(1, 1, 1, 45), 1)
    assert isclose(POUND / FOOT**2, 4.882427636383051, rel_tol=1e-12)


def test_the_days_between_the_layers_of_the_list_are_said():
    """The days that a first full layer would last are no pace for the year: the list has its own."""
    said = answer("lane.feeding", {})
    listed = [day for day, *_ in questions.feeding_rows(said.plan)]
    gaps = [(later - day).days for day, later in zip(listed, listed[1:])]
    assert f"{len(listed)} layers, {min(gaps)} to {max(gaps)} days apart and at most" in said.shown.reading[0]
    assert "layers, 2 days apart and" in answer("lane.feeding", {"feed_available_per_week": 9.07}).shown.reading[0]
