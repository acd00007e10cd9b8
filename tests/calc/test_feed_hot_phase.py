"""feed.hot_phase: rules, turnings, and logs as people keep them."""

from datetime import datetime, timedelta

import pytest

import calc
from calc.engine import Refused
from calc.feed import hot_phase
from calc.feed.hot_phase import as_ranges, meets_organic, read_log

START = datetime(2027, 3, 2, 7)


def steady(temperature, days, step=6.0, dated=False):
    count = int(days * 24 / step) + 1
    at = (lambda hour: START + timedelta(hours=hour)) if dated else (lambda hour: hour)
    return [{"time": at(step * index), "temperature": float(temperature)} for index in range(count)]


def turned(*hours):
    return [{"time": float(hour)} for hour in hours]


def refused(**inputs):
    with pytest.raises(Refused) as caught:
        hot_phase(**inputs)
    return caught.value.problems


# --- rules ----------------------------------------------------------------------------------------------------------


def test_exactly_three_days_at_exactly_55():
    answer = hot_phase(log=steady(55, 3))
    assert answer.meets_enclosed and answer.longest_hot_days == 3 and answer.meets_organic
    assert answer.lethality == pytest.approx(1.14166, abs=5e-6)
    assert not hot_phase(log=steady(54.9, 3)).meets_enclosed
    assert not hot_phase(log=steady(55, 2.75)).meets_enclosed


def test_three_days_in_two_parts_are_not_running():
    log = steady(60, 4)
    log[8]["temperature"] = 40.0
    answer = hot_phase(log=log)
    assert answer.hot_days > 3 and answer.longest_hot_days < 3 and not answer.meets_enclosed


def test_windrow_needs_days_and_turnings():
    log = steady(60, 16)
    four, five = turned(48, 96, 144, 192), turned(48, 96, 144, 192, 240)
    assert not hot_phase(log=log, method="windrow", turnings=four).meets_windrow
    answer = hot_phase(log=log, method="windrow", turnings=five)
    assert answer.meets_windrow and answer.turnings_in_hot == 5 and answer.meets_organic
    assert not hot_phase(log=steady(60, 14), method="windrow", turnings=five).meets_windrow


def test_a_turning_counts_once_and_only_when_hot():
    log = [*steady(60, 5), {"time": 126.0, "temperature": 30.0}, {"time": 132.0, "temperature": 30.0}]
    answer = hot_phase(log=log, turnings=turned(24, 24, 131, 500, -3))
    assert answer.turnings_in_hot == 1


def test_dip_after_a_turning_does_not_cost_the_turning():
    log = steady(60, 5)
    log[5]["temperature"] = 45.0
    assert hot_phase(log=log, turnings=turned(25)).turnings_in_hot == 1


def test_organic_rule():
    assert meets_organic("enclosed", 3, 3, 0, None) is None
    assert meets_organic("enclosed", 3, 3, 0, 25) and meets_organic("enclosed", 3, 3, 0, 40)
    assert not meets_organic("enclosed", 3, 3, 0, 24.9)
    assert not meets_organic("windrow", 3, 14.9, 5, 30)
    assert meets_organic("windrow", 3, 15, 5, 30)


def test_too_hot_does_not_count_for_the_organic_rule():
    answer = hot_phase(log=steady(78, 4))
    assert answer.meets_enclosed and not answer.meets_organic and answer.organic_days == 0


# --- logs as people keep them ---------------------------------------------------------------------------------------


def test_dates_and_hours_give_the_same():
    hours, dates = hot_phase(log=steady(58, 4)), hot_phase(log=steady(58, 4, dated=True))
    assert hours == dates


def test_gap_breaks_and_is_told():
    log = [row for row in steady(60, 5) if not 48 < row["time"] < 66]
    answer = hot_phase(log=log)
    assert answer.time_unknown == pytest.approx(0.75)
    assert answer.longest_hot_days == pytest.approx((120 - 66) / 24)
    assert hot_phase(log=log, longest_gap_hours=18).longest_hot_days == 5


def test_order_does_not_matter():
    log = steady(60, 4)
    mixed_up = log[5:] + log[:5]
    assert hot_phase(log=mixed_up) == hot_phase(log=log)
    assert any("order of time" in sentence for _, sentence in read_log(mixed_up, 12).remarks)


def test_repeated_times_keep_the_lowest():
    log = steady(60, 4)
    log.insert(6, {"time": log[5]["time"], "temperature": 40.0})
    ready = read_log(log, 12)
    assert ready.temperatures[5] == 40.0
    assert any("Row 7 repeats a time" in sentence for _, sentence in ready.remarks)


def test_a_few_rows_in_fahrenheit_are_left_out_and_named():
    log = steady(60, 4)
    for position in (6, 7):
        log[position]["temperature"] = 140.0
    ready = read_log(log, 12)
    assert ready.temperatures[6:8] == [None, None]
    assert any("Rows 7 to 8" in sentence and "°F" in sentence for _, sentence in ready.remarks)
    answer = hot_phase(log=log)
    assert answer.highest_temperature == 60 and answer.longest_hot_days < 3


def test_a_whole_column_in_fahrenheit():
    ((name, message),) = refused(log=steady(140, 4))
    assert name == "log" and "°F" in message


def test_times_of_two_kinds():
    log = steady(60, 4)
    log[3]["time"] = START
    ((name, message),) = refused(log=log)
    assert name == "log" and "Row 4" in message
    ((name, message),) = refused(log=steady(60, 4), turnings=[{"time": START}])
    assert name == "turnings" and "hours" in message


@pytest.mark.parametrize("log", [[], steady(60, 0)])
def test_too_short_a_log(log):
    assert "two readings" in refused(log=log)[0][1]


def test_row_numbers_in_words():
    assert as_ranges([1]) == "1"
    assert as_ranges([1, 2, 4, 7, 8, 9]) == "1 to 2, 4, 7 to 9"
    assert as_ranges(range(1, 40, 2)).endswith("14 more places")


# --- through the front door -----------------------------------------------------------------------------------------


def season(count):
    lines = ["time,temperature"]
    for index in range(count):
        moment = START + timedelta(minutes=30 * index)
        lines.append(f"{moment.isoformat()},{52 + 12 * ((index // 50) % 2) + (index % 7) / 10}")
    return "\n".join(lines)


def test_ten_thousand_readings_are_all_read():
    text = season(10_000)
    answer = calc.run("feed.hot_phase", {"log": text})
    assert answer["outputs"]["readings_used"]["value"] == 10_000


def test_text_in_the_temperature_column_is_told_with_its_row():
    lines = season(300).splitlines()
    lines[5] = lines[5].split(",")[0] + ",probe out"
    answer = calc.run("feed.hot_phase", {"log": "\n".join(lines)})
    assert answer["outputs"]["readings_used"]["value"] == 299
    assert any("Row 5" in warning and "probe out" in warning for warning in answer["warnings"])


def test_decimal_commas_between_commas_are_told_with_their_row():
    text = "time,temperature\n0,55\n6,56,5\n12,57\n18,57"
    answer = calc.run("feed.hot_phase", {"log": text})
    assert answer["outputs"]["readings_used"]["value"] == 3
    assert any("Row 2" in warning and "semicolon" in warning for warning in answer["warnings"])


def test_semicolons_and_decimal_commas_are_read():
    answer = calc.run("feed.hot_phase", {"log": "time;temperature\n0;55,5\n6;56,5\n12;57,25"})
    assert answer["outputs"]["highest_temperature"]["value"] == 57.25


@pytest.mark.parametrize(
    "written", [[48, 96], ["48", "96"], "48, 96", "48\n96", "time\n48\n96", [{"time": 48}, {"time": 96}], "[48, 96]"]
)
def test_turnings_in_any_way_of_writing(written):
    text = "time,temperature\n" + "\n".join(f"{6 * index},60" for index in range(40))
    assert calc.run("feed.hot_phase", {"log": text, "turnings": written})["outputs"]["turnings_in_hot"]["value"] == 2


def test_a_heading_with_its_unit_decides():
    text = "time,temperature (°F)\n" + "\n".join(f"{6 * index},140" for index in range(20))
    for units in (None, "us", "metric"):
        assert calc.run("feed.hot_phase", {"log": text}, units=units)["outputs"]["highest_temperature"][
            "value"
        ] == pytest.approx(60)


def test_blank_rows_cost_nothing():
    text = "time,temperature\n\n" + "\n\n".join(f"{6 * index},60" for index in range(20)) + "\n\n"
    answer = calc.run("feed.hot_phase", {"log": text})
    assert answer["outputs"]["readings_used"]["value"] == 20 and answer["outputs"]["meets_enclosed"]["value"]


@pytest.mark.parametrize("text", ["", "time,temperature", "hello", "time,temperature\nnoon,hot"])
def test_a_log_that_cannot_be_read_at_all_is_one_message(text):
    errors = calc.run("feed.hot_phase", {"log": text})["errors"]
    assert [error["input"] for error in errors] == ["log"]


def ten_minute_log(days=10, turned_every=2.0, cooled_to=16.0, warms=6.0):
    """A heap at 60 °C, read every ten minutes and turned now and then: it falls at once and warms again in some hours.

    (rows, turnings, days at 55 °C or more as the heap itself was.)
    """
    turnings = [24 * turned_every * number for number in range(1, round(days / turned_every))]
    rows, hot = [], 0.0
    for step in range(days * 144 + 1):
        hour = step / 6
        since = min((hour - turning for turning in turnings if hour >= turning), default=None)
        temperature = 60.0 if since is None else min(60.0, cooled_to + (60 - cooled_to) * since / warms)
        rows.append({"time": hour, "temperature": temperature})
        hot += (temperature >= 55) / 144
    return rows, [{"time": turning} for turning in turnings], hot


@pytest.mark.parametrize("written", [True, False])
def test_days_are_not_lost_after_a_turning(written):
    """Whether the turnings were written down or not: a fall at a turning is no change of unit."""
    rows, turnings, hot = ten_minute_log()
    answer = hot_phase(log=rows, turnings=turnings if written else ())
    assert answer.hot_days == pytest.approx(hot, abs=0.05) and answer.time_unknown == 0
    assert answer.readings_used == len(rows)
    assert answer.turnings_in_hot == (len(turnings) if written else 0)


@pytest.mark.parametrize("late", [0.0, 0.5, 2.0])
def test_a_turning_counts_by_the_hours_before_it(late):
    """Written down when the fork was cleaned: the probe had been in the cold for half an hour or two."""
    rows, turnings, _ = ten_minute_log()
    written = [{"time": turning["time"] + late} for turning in turnings]
    assert hot_phase(log=rows, turnings=written).turnings_in_hot == len(turnings)


def test_a_turning_of_a_heap_that_had_gone_cold_does_not_count():
    rows = [{"time": float(hour), "temperature": 60.0 if hour < 20 else 40.0} for hour in range(60)]
    assert hot_phase(log=rows, turnings=[{"time": 30.0}]).turnings_in_hot == 0


def test_a_change_of_unit_is_still_told():
    rows, _, _ = ten_minute_log(turned_every=20.0)
    for row in rows[300:360]:
        row["temperature"] = row["temperature"] * 1.8 + 32
    assert hot_phase(log=rows).readings_used == len(rows) - 60
    for row in rows[300:360]:
        row["temperature"] = 15.6  # °C among °F would read so
    assert hot_phase(log=rows).readings_used == len(rows) - 60


# ---- the public rules, each by its own limits


def held(days, temperature, *, turnings=0, **more):
    """What the rules say of a log that stands at one temperature for so many days, with turnings spread over them."""
    hours = [hour for hour in range(0, int(24 * days), 6) if hour < 24 * days - 0.1] + [24 * days]
    rows = [{"time": float(hour), "temperature": temperature} for hour in hours]
    turned = [{"time": 24 * days * (place + 0.5) / max(1, turnings)} for place in range(turnings)]
    asked = {"log": rows, "turnings": turned, "longest_gap_hours": 26.0} | more
    answer = hot_phase.calculator.function(**{**hot_phase.calculator.defaults, **asked})
    return {rule: verdict.met for rule, verdict in answer.trace.verdicts.items()}


@pytest.mark.parametrize(
    ("rule", "meets", "misses"),
    [
        ("enclosed", {"days": 3, "temperature": 56}, {"days": 2.9, "temperature": 56}),
        ("enclosed", {"days": 3, "temperature": 55}, {"days": 3, "temperature": 54.9}),
        ("windrow", {"days": 15, "temperature": 56, "turnings": 5}, {"days": 14.9, "temperature": 56, "turnings": 5}),
        ("windrow", {"days": 15, "temperature": 56, "turnings": 5}, {"days": 15, "temperature": 56, "turnings": 4}),
        ("running", {"days": 15, "temperature": 56, "turnings": 5}, {"days": 14.9, "temperature": 56, "turnings": 5}),
        ("running", {"days": 15, "temperature": 56, "turnings": 5}, {"days": 15, "temperature": 56, "turnings": 4}),
        ("organic", {"days": 3, "temperature": 60, "method": "enclosed"},
         {"days": 2.9, "temperature": 60, "method": "enclosed"}),
        ("organic", {"days": 3, "temperature": 76, "method": "enclosed"},
         {"days": 3, "temperature": 77, "method": "enclosed"}),
        ("organic", {"days": 3, "temperature": 60, "method": "enclosed", "starting_carbon_nitrogen": 25.0},
         {"days": 3, "temperature": 60, "method": "enclosed", "starting_carbon_nitrogen": 24.9}),
        ("organic", {"days": 3, "temperature": 60, "method": "enclosed", "starting_carbon_nitrogen": 40.0},
         {"days": 3, "temperature": 60, "method": "enclosed", "starting_carbon_nitrogen": 40.1}),
        ("weaker", {"days": 5, "temperature": 56}, {"days": 4.9, "temperature": 56}),
        ("weaker", {"days": 5, "temperature": 55.1}, {"days": 5, "temperature": 54.9}),
        ("flies", {"days": 14.1, "temperature": 46}, {"days": 13.9, "temperature": 46}),
        ("flies", {"days": 14.1, "temperature": 45.5}, {"days": 14.1, "temperature": 44.5}),
    ],
)  # fmt: skip
def test_each_limit_of_each_public_rule_decides(rule, meets, misses):
    """Breaking any of the limits in calc/facts/feed.py, or their use, fails one of these."""
    assert held(**meets)[rule] is True
    assert held(**misses)[rule] is False


def test_four_hours_above_fifty_five_are_needed_for_the_weaker_treatment():
    def log(hours):
        rows = [(0, 41), (24, 41), (24.001, 60), (24 + hours, 60), (24.001 + hours, 41), (121, 41)]
        answer = hot_phase.calculator.function(
            **hot_phase.calculator.defaults
            | {"log": [{"time": t, "temperature": d} for t, d in rows], "turnings": [], "longest_gap_hours": 100.0}
        )
        return answer.trace.verdicts["weaker"].met

    assert log(4.1) is True and log(3.9) is False


def test_the_table_of_rules_words_the_verdicts():
    found = calc.run("feed.hot_phase")["tables"]["rules"]["rows"]
    trace = hot_phase.calculator.function(**hot_phase.calculator.defaults).trace
    assert [row[3] for row in found] == ["met" if one.met else "not met" for one in trace.verdicts.values()]
    assert "trace" not in calc.run("feed.hot_phase")["outputs"]


def test_who_reads_at_breakfast_and_at_six_in_the_evening_has_read_twice_a_day():
    """Eleven hours and thirteen: with the gap as the form has it, no hour of three hot days is unknown."""
    log = [{"time": 24 * day + hour, "temperature": 60.0} for day in range(4) for hour in (7, 18)]
    found = hot_phase(method="enclosed", log=log)
    assert found.longest_hot_days == pytest.approx((24 * 3 + 11) / 24)
    assert hot_phase(method="enclosed", log=log, longest_gap_hours=12).longest_hot_days == pytest.approx(11 / 24)
