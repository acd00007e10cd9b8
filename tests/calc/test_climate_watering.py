"""climate.water: what a day's weather and twelve months become at the bed."""

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

import calc
from calc.climate import evaporation as fao
from calc.climate import water
from calc.climate.season import season
from calc.climate.watering import (
    average_days,
    bed_loss,
    month_weather,
    place_of,
    store_between,
    weather_from,
    year_of,
)
from calc.engine import Refused
from calc.engine.kinds.base import MONTH_NAMES
from calc.facts import climate as facts
from calc.farm.ahead import lane_ahead, plan_of
from calc.inputs import BED_AREA
from calc.lane.model import follow

BRUSSELS = {
    "high": 21.5,
    "low": 12.3,
    "humidity_high": 0.84,
    "humidity_low": 0.63,
    "wind": 10 / 3.6,
    "wind_height": 10.0,
    "sun_hours": 9.25,
    "latitude": 50.8,
    "altitude": 100.0,
    "date": date(2015, 7, 6),
}


def plain(value):
    """Typical value of an output that may carry a range."""
    return getattr(value, "value", value)


def refused(**values):
    with pytest.raises(Refused) as caught:
        water(**values)
    return {name for name, _ in caught.value.problems}


def test_a_full_day_of_weather_is_fao_example_18():
    assert water(**BRUSSELS).reference_evaporation == pytest.approx(3.88, abs=0.005)


def test_radiation_given_is_used_and_hours_are_not():
    """Example 18 again, from its 22.07 MJ/m2/day."""
    measured = {**BRUSSELS, "sun_hours": None, "solar_radiation": 22.07}
    assert water(**measured).reference_evaporation == pytest.approx(3.88, abs=0.005)


def test_bed_is_penman_under_shade_and_shelter():
    answer = water(**BRUSSELS, shade=0.8, shelter=0.5, cover_factor=0.5, dryness_factor=0.9)
    vapour = fao.day_vapour_pressure(21.5, 12.3, 0.84, 0.63)
    sun, clear = fao.sun_from_hours(9.25, 50.8, 187), fao.clear_sky_sun(50.8, 187, 100)
    net = fao.net_radiation(sun, clear, 21.5, 12.3, vapour)
    deficit = fao.mean_saturation_pressure(21.5, 12.3) - vapour
    wet = fao.wet_surface(net, 16.9, fao.wind_at_two_metres(10 / 3.6, 10), deficit, fao.air_pressure(100), 0.8, 0.5)
    assert plain(answer.bed_evaporation) == pytest.approx(0.45 * wet)
    assert plain(answer.water_per_day) == pytest.approx(0.45 * wet * BED_AREA / 1000)
    assert plain(answer.water_per_week) == pytest.approx(7 * plain(answer.water_per_day))
    assert plain(answer.days_between_waterings) == pytest.approx(answer.store / (0.45 * wet))


def test_store_is_the_water_between_two_moistures():
    """600 kg/m3 at 80 %, 5 cm: 6 kg/m2 dry; 24 kg of water at 80 %, 14 kg at 70 %."""
    assert store_between(600, 0.05, 0.80, 0.70) == pytest.approx(10.0)


def test_a_published_reference_scales_the_day():
    computed, given_one = water(), water(reference_evaporation=5.0)
    assert given_one.reference_evaporation == 5.0
    ratio = plain(given_one.bed_evaporation) / plain(computed.bed_evaporation)
    assert ratio == pytest.approx(5.0 / computed.reference_evaporation)


def test_a_weighed_tray_sets_the_loss_and_gives_its_cover_factor():
    """150 g off 0.06 m2 in 24 h is 2.5 mm a day; its cover factor typed in gives the same loss."""
    weighed = water(tray_loss=0.150, tray_area=0.06, tray_hours=24.0)
    assert plain(weighed.bed_evaporation) == pytest.approx(2.5)
    assert weighed.bed_evaporation.low < 2.5 < weighed.bed_evaporation.high
    assert plain(water(cover_factor=weighed.cover_factor_used).bed_evaporation) == pytest.approx(2.5)


def test_what_is_left_blank_is_the_month_of_the_climate():
    july = facts.CLIMATES["dry"].months[6]
    typed = water(climate="dry", high=float(july.high), low=float(july.low), humidity=july.humidity, wind=july.wind)
    assert typed == water(climate="dry")


def test_south_of_the_equator_the_seasons_change_places():
    """January at 33 degrees south is July at 33 north, but for the sun's distance."""
    south = month_weather(place_of("dry", (), -33.0, None), 1)
    north = month_weather(place_of("dry", (), 33.0, None), 7)
    assert (south.high, south.low) == (north.high, north.low)
    assert south.sun == pytest.approx(north.sun, rel=0.08)


def test_a_high_alone_keeps_the_usual_swing():
    assert water(high=30.0) == water(high=30.0, low=20.0)


def test_the_climates_lie_in_the_order_their_names_say():
    dry, mild, cold = (plain(water(climate=name).bed_evaporation) for name in ("dry", "mild", "cold"))
    assert dry > cold > mild
    assert plain(water(climate="cold", date=date(2027, 1, 15)).bed_evaporation) < 0.3 * cold


def test_invented_climates_are_possible():
    """Sun within the day's length; the mean vapour at most a fifth above what the night's low holds, as FAO's eq. 19
    overstates it.
    """
    for climate in facts.CLIMATES.values():
        for number, month in enumerate(climate.months, start=1):
            assert month.sun_hours < fao.daylight_hours(climate.latitude, int(30.4 * number - 15))
            assert fao.mean_vapour_pressure(month.high, month.low, month.humidity) < 1.2 * fao.saturation_pressure(
                month.low
            ), (climate.label, number)


def months(count=12, **changed):
    return tuple({"month": name, "high": 20.0, "low": 10.0, **changed} for name in MONTH_NAMES[:count])


def test_typed_months_win_and_fill_gaps_by_fao():
    """Highs and lows alone: humidity from the low, sun from the swing, wind 2 m/s, as example 20 does."""
    place = place_of("mild", months(), 45.0, 200.0)
    july = month_weather(place, 7)
    assert july.vapour == fao.saturation_pressure(10.0)
    assert july.wind == pytest.approx(2.0, abs=0.01)
    assert july.sun == pytest.approx(0.16 * 10**0.5 * fao.sun_outside_air(45, 197), rel=1e-9)
    assert water(months=months()) != water()


def test_lyon_from_temperatures_alone():
    """FAO-56, example 20: 4.56 mm/day, 15 July."""
    lyon = {"high": 26.6, "low": 14.8}
    place = place_of("mild", tuple(lyon for _ in range(12)), 45.72, 200.0)
    assert weather_from(lyon, place, 196).reference == pytest.approx(4.56, abs=0.03)


@pytest.mark.parametrize(
    ("values", "wrong"),
    [
        ({"high": 10.0, "low": 20.0}, {"low"}),
        ({"humidity_high": 0.8}, {"humidity_low"}),
        ({"humidity_low": 0.8}, {"humidity_high"}),
        ({"humidity_high": 0.3, "humidity_low": 0.8}, {"humidity_low"}),
        ({"sun_hours": 18.0}, {"sun_hours"}),
        ({"solar_radiation": 44.0}, {"solar_radiation"}),
        ({"lower_moisture": 0.8, "upper_moisture": 0.8}, {"lower_moisture"}),
        ({"months": months(11)}, {"months"}),
        ({"months": months(high=5.0)}, {"months"}),
        ({"months": months(sun_hours=14.0)}, {"months"}),
        ({"tray_loss": 0.1}, {"tray_area", "tray_hours"}),
        ({"tray_loss": 0.1, "tray_area": 0.1, "lower_moisture": 0.85}, {"tray_hours", "lower_moisture"}),
        (
            {
                "reference_evaporation": 4.0,
                "climate": "cold",
                "date": date(2027, 1, 15),
                "latitude": 70.0,
                "humidity": 1.0,
            },
            {"reference_evaporation"},
        ),
        ({"high": 10.0, "low": 20.0, "sun_hours": 18.0}, {"low", "sun_hours"}),
    ],
)
def test_what_cannot_be_true_is_refused_by_name(values, wrong):
    assert refused(**values) == wrong


@given(
    high=st.floats(-20, 48),
    swing=st.floats(0, 20),
    humidity=st.floats(0.05, 1.0),
    wind=st.floats(0, 15),
    sun=st.floats(0, 8),
    latitude=st.floats(-45, 45),
    altitude=st.floats(0, 3000),
    shade=st.floats(0, 1),
    shelter=st.floats(0, 1),
)
def test_any_weather_gives_a_loss_and_an_interval(high, swing, humidity, wind, sun, latitude, altitude, shade, shelter):
    answer = water(
        high=high,
        low=high - swing,
        humidity=humidity,
        wind=wind,
        sun_hours=sun,
        latitude=latitude,
        altitude=altitude,
        shade=shade,
        shelter=shelter,
    )
    assert plain(answer.bed_evaporation) >= 0 and answer.reference_evaporation >= 0
    assert 0 < plain(answer.days_between_waterings) <= 365


@given(shade=st.floats(0, 0.9), shelter=st.floats(0, 0.9), cover=st.floats(0.1, 1.0))
def test_cover_works_in_proportion_and_shade_never_adds(shade, shelter, cover):
    day = month_weather(place_of("dry", (), None, None), 7)
    bare = bed_loss(day, shade, shelter, 1.0, 1.0, 1.0)
    assert bed_loss(day, shade, shelter, 1.0, cover, 1.0) == pytest.approx(cover * bare)
    assert bed_loss(day, shade + 0.1, shelter, 1.0, 1.0, 1.0) <= bare


def test_the_year_holds_its_range():
    how = 0.8, 0.5, 1.0, 0.9, 1.0
    for _, reference, typical, least, most in year_of(average_days(place_of("dry", (), None, None), *how), *how):
        assert 0 <= least <= typical <= most and reference >= 0


PASTED = "month,high (F),low (F),humidity (%),wind (mph),sun_hours\n" + "\n".join(
    f"{name},{high},{low},{humidity},5,{sun}"
    for name, high, low, humidity, sun in zip(
        MONTH_NAMES,
        (40, 44, 52, 60, 68, 76, 80, 79, 72, 62, 50, 42),
        (26, 28, 34, 42, 50, 58, 62, 60, 53, 42, 34, 28),
        (75, 73, 68, 64, 64, 66, 68, 70, 72, 74, 76, 77),
        (3, 4, 5, 6, 7, 8, 8.5, 8, 6.5, 5, 3, 2.5),
    )
)


def test_months_are_pasted_as_text_in_the_units_of_their_header():
    answered = calc.run("climate.water", {"months": PASTED, "latitude": 40, "date": "2027-07-15"})
    assert "errors" not in answered
    rows = answered["tables"]["year"]["rows"]
    assert len(rows) == 12 and rows[6][1] > rows[0][1] > 0
    july = water(
        months=tuple(
            {
                "high": 80 / 1.8 - 32 / 1.8,
                "low": 62 / 1.8 - 32 / 1.8,
                "humidity": 0.68,
                "wind": 2.2352,
                "sun_hours": 8.5,
            }
            for _ in range(12)
        ),
        latitude=40.0,
    )
    assert answered["outputs"]["reference_evaporation"]["value"] == pytest.approx(july.reference_evaporation)


def test_every_bad_cell_is_named_by_row():
    answered = calc.run("climate.water", {"months": PASTED.replace("July,80", "July,hot").replace("May,68", "May,680")})
    (error,) = answered["errors"]
    assert error["input"] == "months" and "Row 5" in error["message"] and "Row 7" in error["message"]


@pytest.mark.parametrize("system", [None, "us", "metric"])
@pytest.mark.parametrize("name", ["climate.water", "climate.mist", "climate.bed_temperature", "climate.today"])
def test_answers_read_in_every_system(name, system):
    answered = calc.run(name, units=system)
    assert answered["reading"] and not [
        row for table in answered["tables"].values() for row in table["rows"] if len(row) != len(table["columns"])
    ]


def test_aim_finds_the_shade_for_an_interval():
    answered = calc.run("climate.water", aim=("days_between_waterings", 4), vary="shade")
    assert answered["aim"]["reached"] and 0 < answered["aim"]["value"] < 1


@pytest.mark.parametrize("climate", ["mild", "dry", "cold"])
def test_the_lane_is_as_thirsty_as_this_page_once_its_figure_is_taken_along(climate: str) -> None:
    """A year of the lane, day by day, takes the water that the months of the watering page lose, on each area."""
    answer = calc.run("climate.water", {"climate": climate})
    table = answer["tables"]["year"]
    bed = [column["name"] for column in table["columns"]].index("bed")
    months = sum(row[bed] for row in table["rows"]) / 12
    taken = answer["outputs"]["lane_water"]["value"]
    lane = calc.run("lane.output", {"climate": climate, "water_per_area_per_day": taken})
    area = lane["outputs"]["worm_mass"]["value"] / lane["inputs"]["stocking_density"]["value"]
    assert lane["outputs"]["water_per_week"]["value"] / 7 / area == pytest.approx(months, rel=0.02)


def test_where_it_never_thaws_there_is_no_water_for_the_lane() -> None:
    answer = calc.run("climate.water", {"monthly_temperature": [-30.0] * 12})
    assert answer["outputs"]["lane_water"]["value"] is None
    assert not any("for your lane" in sentence for sentence in answer["reading"])


@pytest.mark.parametrize("day", [date(2027, 1, 15), date(2027, 5, 28), date(2027, 7, 15)])
def test_a_lane_its_week_and_this_page_begin_with_one_habit(day):
    """Litres a day of the same lane: here, in the lane model and in a farm's week."""
    air = season("mild").air(day.timetuple().tm_yday)
    lane = {"name": "One", "length": 2.4, "width": 1.2, "height": 0.45, "fed_on": "end", "worms": 5.0, "started": day}
    here = water(date=day, high=air + 3, low=air - 3, bed_area=2.4 * 1.2).habit_per_day * 1000
    plan = plan_of(lane, 0.5, season("mild"), day)
    assert follow(plan, 3)[0].watered == pytest.approx(here, rel=1e-9)
    assert lane_ahead(lane, 0.5, season("mild"), day).watered[0] == pytest.approx(here, rel=1e-9)


def test_growers_habit_lies_within_the_range_of_the_sum_in_the_warm_half_of_the_year():
    """From April to September, nearly: so the two do not contradict each other; the page says that they do when it is
    cool.
    """
    for month in range(4, 10):
        found = water(date=date(2027, month, 15))
        assert found.water_per_day.low <= found.habit_per_day <= 1.15 * found.water_per_day.high, month
