"""Records: run rules by their own definitions, a log that is read back to the same answer, long logs in time."""

import doctest
import importlib
import json
import random
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import calc
from calc import page
from calc.engine.view import field_value

chart_module, lane_module = map(importlib.import_module, ("calc.records.chart", "calc.records.lane"))


def test_doctests():
    for module in (chart_module, lane_module):
        assert doctest.testmod(module).failed == 0


@pytest.mark.parametrize(
    ("values", "rule"),
    [
        ([0, 0, 3.1], 1),
        ([0, 2.1, 0, 2.2], 2),
        ([1.1, 1.2, 0, 1.3, 1.4], 3),
        ([0.1] * 8, 4),
        ([0, 0, -3.1], 1),
        ([-0.1] * 8, 4),
    ],
)
def test_each_rule_by_its_definition(values, rule):
    found = chart_module.run_rules(values, 0.0, 1.0)
    assert (len(values) - 1, rule, 1 if values[-1] > 0 else -1) in found
    assert {r for _, r, _ in found} == {rule}


@pytest.mark.parametrize("values", [[0, 2.9], [0, 2.1, -2.1], [1.1, 1.1, 1.1, 0.9, 0.9], [0.1] * 7 + [-0.1]])
def test_no_rule_where_none_is_met(values):
    assert chart_module.run_rules(values, 0.0, 1.0) == []


@given(st.lists(st.floats(-100, 100), min_size=4, max_size=60), st.floats(0.1, 20), st.floats(-1000, 1000))
@settings(deadline=None)
def test_flags_do_not_depend_on_unit_or_zero(values, scale, shift):
    centre, mean_range, lower, upper, range_limit = chart_module.limits(values)
    assert lower <= centre <= upper and range_limit >= mean_range
    moved = chart_module.limits([value * scale + shift for value in values])
    assert moved[1] == pytest.approx(mean_range * scale, rel=1e-6, abs=1e-6)


def test_drift_is_told_in_words():
    result = calc.run("records.chart")
    assert any(
        "eight in a row on one side of the centre, below" in flag for flag in result["outputs"]["flags"]["value"]
    )
    assert any("temperature and moisture before feed" in sentence for sentence in result["reading"])


def test_a_log_written_by_the_page_is_read_back_to_the_same_answer():
    entry = calc.find("records.lane")
    plain = calc.run("records.lane")["outputs"]
    for system in ("us", "metric"):
        text = field_value(entry.defaults["log"], entry.inputs["log"], system)
        assert text.startswith("time,feed (")
        again = calc.run("records.lane", {"log": text}, units=system)["outputs"]
        for name, output in plain.items():
            if isinstance(output["value"], float):
                assert again[name]["value"] == pytest.approx(output["value"], rel=1e-6), name
            else:
                assert again[name]["value"] == output["value"], name


@pytest.mark.parametrize("head", ["Date", "Day", "timestamp", "Date/Time", "Date and time", "TIME"])
def test_a_log_knows_its_time_by_any_usual_name_and_leaves_out_what_nobody_asked_for(head):
    text = f"Logger 17\n{head};Feed (kg);Temp (°C);Battery\n3.5.2027;1,250;18,5;99\n13.5.2027;1,5;n.a.;98\n"
    found = calc.find("records.lane").inputs["log"].value(text, "us")
    assert [(row["feed"], row["temperature"]) for row in found] == [(1.25, 18.5), (1.5, None)]
    assert any("“Battery”" in note for note in found.notes) and not found.dropped


def test_bad_rows_are_named_and_good_rows_kept():
    text = (
        "time,feed (lb),temperature"
        " (F)\n2027-05-03,20,68\n2027-05-04,lots,70\nsoon,20,70\n2027-05-07,20,300\n2027-05-10,20,69\n2027-05-13,20,70"
    )
    result = calc.run("records.lane", {"log": text})
    assert sum("Row" in warning for warning in result["warnings"]) == 3
    assert result["outputs"]["feed_total"]["value"] == pytest.approx(60 * 0.45359237)


@given(st.lists(st.tuples(st.floats(0.1, 1.5), st.floats(-10, 60)), min_size=2, max_size=30))
def test_hours_outside_are_part_of_the_time(steps):
    points, day = [], 0.0
    for step, value in steps:
        day += step
        points.append((day, value))
    outside, known = lane_module.hours_outside(points, 10.0, 26.0)
    assert 0 <= outside <= known + 1e-9
    assert 0 <= outside <= (points[-1][0] - points[0][0]) * 24 + 1e-6
    assert lane_module.hours_outside(points, -1000.0, 1000.0)[0] == 0


def test_fifty_thousand_rows():
    text = "time,feed (kg),castings (kg),moisture (%),temperature (C),water (kg)\n" + "\n".join(
        f"{hour * 0.5},,,,{15 + hour % 30 * 0.3:.1f}," for hour in range(50_000)
    )
    answer = json.loads(
        page.respond("answer", json.dumps({"calculator": "records.lane", "values": {"log": text}, "units": "us"}))
    )
    assert answer["ok"] and len(answer["html"]) < 2_000_000


def test_too_short():
    assert "at least three" in calc.run("records.chart", {"values": "1, 2"})["errors"][0]["message"]


def test_a_baseline_that_never_changed_makes_every_change_a_flag():
    """Limits of no width: a value outside them is outside, and the verdict says so."""
    found = calc.run("records.chart", {"values": [0.1, 0.1, 0.1, 0.1, 5, 0.1], "baseline": 4})["outputs"]
    assert found["upper_limit"]["value"] == pytest.approx(0.1) and found["flags"]["value"] == [
        "point 5: beyond the limits, above",
        "points 4 and 5: a jump of more than the limit of ranges",
        "points 5 and 6: a jump of more than the limit of ranges",
    ]
    assert "changed" in found["verdict"]["value"]
    assert calc.run("records.chart", {"values": [0.1] * 9})["outputs"]["flags"]["value"] == []


# ---- a band of the keeper's own


@given(st.lists(st.floats(-1e6, 1e6), min_size=3, max_size=40), st.floats(-1e6, 1e6), st.floats(0.001, 1e6))
def test_values_outside_a_band_of_your_own(values, low, width):
    """Below and above are counted once each, and an open end counts nothing on its side."""
    both = chart_module.outside_band(values, low, low + width)
    assert both == chart_module.outside_band(values, low, None) + chart_module.outside_band(values, None, low + width)
    assert 0 <= both <= len(values) and chart_module.outside_band(values, None, None) is None


def test_a_band_changes_no_limit_and_no_flag():
    plain, own = calc.run("records.chart"), calc.run("records.chart", {"band_low": 1900, "band_high": 2150})
    assert own["outputs"]["outside_band"]["value"] == 6 and plain["outputs"]["outside_band"]["value"] is None
    assert all(own["outputs"][name] == plain["outputs"][name] for name in plain["outputs"] if name != "outside_band")
    assert any("6 of 20 lie outside your own band" in sentence for sentence in own["reading"])


def test_a_band_upside_down_and_one_in_another_unit():
    assert calc.run("records.chart", {"band_low": 5, "band_high": 4})["errors"] == [
        {"input": "band_low", "message": "Your own band, low must be below its high end."}
    ]
    assert any(
        "same unit" in sentence for sentence in calc.run("records.chart", {"band_low": 10, "band_high": 26})["warnings"]
    )
    assert "All values lie inside your own band." in calc.run("records.chart", {"band_low": 100})["reading"]


def test_a_log_takes_the_place_of_the_example_values():
    found = calc.run("records.chart", {"log": "time,value\n2027-01-01,1\n2027-01-02,2\n2027-01-03,3"})
    assert found["outputs"]["centre"]["value"] == 2
    assert calc.run("records.chart", {"log": ""})["outputs"] == calc.run("records.chart")["outputs"]
    both = calc.run("records.chart", {"log": "time,value\n2027-01-01,1", "values": "1, 2, 3"})["errors"]
    assert [error["input"] for error in both] == ["log"]


def test_a_log_without_a_row_that_can_be_read_says_why():
    (error,) = calc.run("records.chart", {"log": "time,value\n2027-01-01,lots"})["errors"]
    assert error["input"] == "log" and "Row 1" in error["message"]


def test_the_feed_that_was_laid_last_is_still_to_be_eaten():
    """2 kg every fourth day for 4 kg of worms is 0.125 a day, however short the log; the last feeding is not counted
    twice.
    """
    for feedings in (2, 3, 4, 20):
        log = [{"time": 96.0 * number, "feed": 2.0} for number in range(feedings)]
        assert calc.find("records.lane").function(log=log, worm_mass=4.0).feed_per_worm_mass_per_day == pytest.approx(
            0.125
        )


def test_the_middle_of_an_even_number_of_gaps():
    log = [{"time": 24.0 * day, "feed": 2.0} for day in (0, 1, 3)]
    assert lane_module.usual_gap([row["time"] / 24 for row in log]) == 1.5


def test_hours_outside_the_band_cannot_be_told_across_gaps():
    """Nothing known: no figure. Known and inside: nought. One long gap: what lies beside it still counts."""
    run = calc.find("records.lane").function

    def answer(*readings):
        return run(log=[{"time": 24.0 * day, "temperature": celsius} for day, celsius in readings])

    assert answer((0, 20.0), (9, 40.0)).hours_outside_band is None
    assert (answer((0, 20.0), (1, 21.0)).hours_outside_band, answer((0, 20.0), (1, 21.0)).hours_known) == (0.0, 24.0)
    beside = answer((0, 20.0), (1, 20.0), (9, 40.0), (10, 40.0))
    assert (beside.hours_outside_band, beside.hours_known) == (24.0, 48.0)


def test_a_short_baseline_raises_more_false_alarms():
    """What the page says of ten values: four charts in ten flag something in the next twenty, by chance alone."""
    draw = random.Random(5)

    def flagged(baseline):
        values = [draw.gauss(0, 1) for _ in range(baseline + 20)]
        centre, _, _, upper, _ = chart_module.limits(values[:baseline])
        return bool(chart_module.run_rules(values[baseline:], centre, (upper - centre) / 3))

    charts = 600
    short, longer, known = (sum(flagged(size) for _ in range(charts)) / charts for size in (10, 20, 400))
    assert 0.36 < short < 0.47 and 0.27 < longer < 0.37 and 0.14 < known < 0.25
    text = " ".join((Path(__file__).parents[2] / "docs" / "records" / "chart.md").read_text(encoding="utf-8").split())
    assert "of ten such charts, four flag something within the next twenty values" in text
