"""Small pieces of the page, reckoned by hand: bars, rails, marks of certainty, entries of a calendar."""

import re
from datetime import date

import pytest

from calc.drawings.moisture import kilogram
from calc.engine.calendar import calendar_text
from calc.engine.describe import Band, Event, Number, Output
from calc.engine.run import answer
from calc.facts.sources import CFR_503, VENTER_1988
from calc.page import doubt, slide, sure
from calc.page.answer import all_results, headline
from calc.records import bayes

KILOGRAMS = Output("kg", "Castings", "")
FEET = Output("m", "Length", "", us="ft", metric="m")


@pytest.mark.parametrize(
    ("low", "high", "ends"),
    [
        (2, 10, (0, 15)),  # 11.5, upwards
        (8.5, 10, (0, 15)),  # a range of just 15 % of its end
        (8.6, 10, (7.5, 12)),  # less: steps of 1.5, at least half a one beyond on both sides
        (-10, -2, (-15, 0)),
        (-10, -8.6, (-12, -7.5)),
        (-1, 3, (-4, 8)),
        (100, 101, (99, 102)),
    ],
)
def test_the_axis_of_a_range(low, high, ends):
    assert doubt.axis_of(low, high) == ends


def test_round_ends():
    assert [doubt.round_end(value) for value in (0, 1, 1.01, 11, 60, 61, 95, -0.021)] == [
        0,
        1,
        1.5,
        15,
        60,
        80,
        100,
        -0.025,
    ]


def places(html):
    return [float(place) for place in re.findall(r"--(?:low|mid|high):([\d.]+)", html)]


def test_a_bar_stands_where_its_range_does():
    bar = doubt.bar(Band(4.0, 2.0, 10.0), KILOGRAMS, "metric", "$")
    assert places(bar) == pytest.approx([2 / 15, 4 / 15, 10 / 15], abs=1e-4)
    assert 'data-from="0"' in bar and 'data-to="15"' in bar
    assert places(doubt.bar(Band(3.048, 1.524, 6.096), FEET, "us", "$")) == pytest.approx(
        [0.2, 0.4, 0.8]
    )  # 5, 10, 20 ft
    money = doubt.bar(Band(4.0, 2.0, 10.0), Output("money", "Cost", ""), "us", "€")
    assert "€" in re.search('data-to="([^"]+)"', money)[1]
    unseen = Band(-1e8, -1e8 - 0.2, -1e8 + 0.2)  # no two round ends of an axis lie so near each other
    assert doubt.bar(unseen, Output("money", "Cost", ""), "us", "$") == ""
    assert doubt.bar(4.0, KILOGRAMS, "us", "$") == doubt.bar(Band(4.0, 4.0, 4.0), KILOGRAMS, "us", "$") == ""


def test_rails():
    plain = Number("1", "Feedings", 0, 1000)
    assert slide.rail(plain, 40.0, None) == slide.Rail(0.0, 120.0, 1.0, None)
    assert slide.rail(Number("1", "Feedings", 5, 100), 40.0, None) == slide.Rail(5.0, 100.0, 1.0, None)
    usual = slide.rail(Number("kg", "Feed", 0, 1000, spread=(10.0, 20.0)), 15.0, "metric")
    assert (usual.low, usual.high, usual.usual) == (4.0, 26.0, (10.0, 20.0))
    assert slide.rail(Number("kg", "Feed", 8, 22, spread=(10.0, 20.0)), 15.0, "metric").usual == (10.0, 20.0)
    out = slide.rail(Number("kg", "Feed", 0, 1000, spread=(10.0, 20.0)), 50.0, "metric")
    assert (out.low, out.high) == (4.0, 50.0)
    assert slide.rail(Number("degC", "Air", -40, 60), 10.0, "metric") == slide.Rail(-15.0, 35.0, 0.5, None)
    assert slide.rail(Number("degC", "Air", -10, 30), 10.0, "metric").low == -10.0
    assert slide.rail(plain, None, None) is slide.rail(plain, 0.0, None) is None
    assert usual.share(15.0) == 0.5 and usual.share(1.0) == 0.0 and usual.share(99.0) == 1.0
    assert [slide.nice_step(length) for length in (100, 149, 151, 301, 751)] == [1, 1, 2, 5, 10]
    html = slide.rail_html(Number("kg", "Feed", 0, 1000, spread=(10.0, 20.0)), 15.0, "metric")
    assert 'data-low="4" data-high="26" data-step="0.2"' in html and "--at:0.5;--from:0.2727;--to:0.7273" in html


def test_units_to_turn_to():
    length = Number("m", "Length", 0, 10, us="ft", metric="m")
    html = slide.units_html(length, "key", "us", "$")
    ways = re.search('data-units="([^"]+)"', html)[1].replace("&quot;", '"')
    assert ways == '[["m", 0.3048, 0.0], ["in", 12.0, 0.0]]'
    warm = slide.units_html(Number("degC", "Air", -40, 60), "key", "us", "$").replace("&quot;", '"')
    assert re.search(r'"°?C", 0\.555555556, -17\.7777778\]', warm)


def test_marks_of_certainty_are_those_of_the_bibliography():
    assert sure.certainty(CFR_503.name) == "read"
    assert VENTER_1988.seen == "memory" and sure.certainty(VENTER_1988.name) == "second-hand"
    assert sure.certainty(f"{CFR_503.name}; common practice, no source") == "practice"
    assert sure.certainty("our own judgement, no source; common practice") == "judged"
    assert sure.certainty("a rule, from memory") == "second-hand"
    assert sure.certainty("geometry") == ""
    assert sure.SEEN == {
        "read": "read",
        "abstract": "second-hand",
        "second-hand": "second-hand",
        "memory": "second-hand",
    }


def test_an_entry_lasts_its_days():
    text = calendar_text([Event(date(2027, 5, 31), "Screen", "dry, then; sieve", 2)], "Harvest", "North")
    assert "DTSTART;VALUE=DATE:20270531\r\nDTEND;VALUE=DATE:20270602\r\n" in text
    assert "SUMMARY:North: Screen\r\nDESCRIPTION:dry\\, then\\; sieve\r\n" in text
    assert "DTEND;VALUE=DATE:20270602" in calendar_text([Event(date(2027, 6, 1), "Feed", "")], "Harvest")
    assert all(len(line.encode()) <= 75 for line in text.split("\r\n"))


def test_what_a_logbook_teaches_is_eight_in_ten():
    """A prior alone is given back: its ends are the 10th and the 90th of a hundred, 1.2816 widths off its middle."""
    known = bayes.prior(0.5, 1.0, 2.0)
    band = bayes.learned(known, [])
    assert (band.low, band.value, band.high) == (
        pytest.approx(0.5, rel=0.01),
        pytest.approx(1.0),
        pytest.approx(2.0, rel=0.01),
    )
    points = [float(at) for at in range(101)]
    assert bayes.quantiles(points, [1.0] * 101, (0.1, 0.5, 0.9)) == pytest.approx([9.6, 50.0, 90.4])
    assert bayes.summed([1.0, 2.0, 6.0]) == (3, 3.0, 14.0)
    assert bayes.moved_in([1.0, 9.0, 1.0]) == [1.0, 9.0, 1.0]  # of three none is far out


def test_water_by_dry_matter_is_drawn_to_scale():
    """One part of dry matter, 22 high: at 50, 65, 75, 80 and 90 % it holds 1, 13/7, 3, 4 and 9 parts of water."""
    heights = [float(height) for height in re.findall(r'<rect[^>]*height="([\d.]+)"[^>]*draw-water', kilogram().svg)]
    assert heights == pytest.approx([22, 22 * 13 / 7, 66, 88, 198], abs=0.06)


def test_a_period_that_the_label_says_is_not_said_again_by_the_unit():
    view = answer("climate.water", {}, "us")
    rows = all_results(view)
    assert "Water a day</th><td>1.1 gal</td>" in rows and "Water a week</th><td>7.9 gal</td>" in rows
    assert "<dt>Water a day</dt>" in headline(view) and "/day" not in headline(view)
    assert "Reference evaporation</th><td>0.143 in/day</td>" in rows, "a label that says none leaves it to the unit"
