"""Weather files: the EPW format, tables as services and loggers write them, and what is said of a file that will not
do.
"""

import json
import math
import pathlib

import pandas
import pvlib
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import calc
from calc import page
from calc.climate import season as year
from calc.climate.evaporation import wind_at_two_metres
from calc.climate.weather_file import read_weather
from calc.engine import Refused
from calc.engine.register import every
from calc.page.form import form, plan_key

HEADING = """LOCATION,Quillfen,-,Nowhere,invented,999999,45.00,7.50,1.0,120.0
DESIGN CONDITIONS,0
TYPICAL/EXTREME PERIODS,0
GROUND TEMPERATURES,0
HOLIDAYS/DAYLIGHT SAVINGS,No,0,0,0
COMMENTS 1,invented for a test
COMMENTS 2,
DATA PERIODS,1,1,Data,Sunday, 1/ 1,12/31
"""


def epw(temperature, humidity=70, sun=None, wind=3.0, days=year.MONTH_DAYS):
    """An EPW file of a year whose figures depend on month and hour only, in the 35 columns of the data dictionary."""
    lines = []
    for month, length in enumerate(days, start=1):
        for day in range(1, length + 1):
            for hour in range(1, 25):
                ghi = max(0.0, 500 * math.sin(math.pi * (hour - 6.5) / 12)) if sun is None else sun
                cells = ["2001", month, day, hour, 60, "?9?9", temperature(month, hour), 5.0, humidity, 101325]
                cells += [0, 0, 300, ghi, 0, 0, 0, 0, 0, 0, 180, wind, 5, 5, 20, 77777, 9, 999999999, 20, 0.1, 0, 88]
                cells += [0.2, 0, 1]
                assert len(cells) == 35
                lines.append(",".join(str(cell) for cell in cells))
    return HEADING + "\n".join(lines) + "\n"


def daily(month, hour):
    return 10 + month + 5 * math.sin(2 * math.pi * (hour - 9) / 24)


def test_an_epw_file_gives_its_twelve_months():
    found = read_weather(epw(daily))
    assert found.place == "Quillfen, Nowhere" and (found.latitude, found.altitude) == (45.0, 120.0)
    assert found.monthly_means == pytest.approx([10 + month for month in range(1, 13)])
    assert all(month.high - month.low == pytest.approx(10) for month in found.months)
    assert [month.days for month in found.months] == list(year.MONTH_DAYS)
    assert found.months[0].humidity == pytest.approx(0.70)
    assert found.months[0].wind == pytest.approx(wind_at_two_metres(3.0, 10.0))
    hours = [max(0.0, 500 * math.sin(math.pi * (hour - 6.5) / 12)) for hour in range(1, 25)]
    assert found.months[5].sun == pytest.approx(sum(hours) * 3600 / 1e6)
    assert not found.notes


def test_what_was_not_measured_in_an_epw_file_is_not_zero():
    """99.9 °C, 999 %, 9999 Wh/m2 and 999 m/s stand for missing; EPW data dictionary."""
    found = read_weather(epw(lambda month, hour: 99.9 if hour < 4 else 12.0, humidity=999, sun=9999, wind=999))
    assert found.monthly_means == pytest.approx([12.0] * 12)
    assert (found.months[0].humidity, found.months[0].sun, found.months[0].wind) == (None, None, None)
    assert len(found.notes) == 3


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (lambda text: "", "empty"),
        (lambda text: text.split("2001,1,1,1")[0], "no hours below it"),
        (lambda text: text.replace("2001,6,", "2001,5,"), "no temperature for June"),
        (lambda text: text.replace("2001,3,7,5,60,?9?9,", "2001,3,7,5,60,?9?9,x"), "column 7: “x"),
        (lambda text: text[: text.index("2001,12,2,") + 40], "cut off"),
        (lambda text: text.replace("2001,3,7,5,60,?9?9,", "2001,3,7,5,60,?9?9,7"), "is no air temperature"),
        (lambda text: text.replace("2001,3,7,5", "2001,13,7,5"), "names month 13"),
    ],
)
def test_a_broken_epw_file_is_told_with_its_place(change, words):
    with pytest.raises(Refused) as told:
        read_weather(change(epw(daily)))
    ((name, message),) = told.value.problems
    assert name == "weather_file" and words in message and message.endswith(".")


def table(names, row, years=(2021, 2022), between=",", when="{0:04d}-{1:02d}-{2:02d}"):
    lines = [between.join(names)]
    for number in years:
        for month, length in enumerate(year.MONTH_DAYS, start=1):
            lines += [
                between.join([when.format(number, month, day), *row(number, month, day)])
                for day in range(1, length + 1)
            ]
    return "\n".join(lines)


def test_a_daily_table_in_metric():
    text = table(
        ["Date", "Tmax (°C)", "Tmin (°C)", "RH (%)", "Wind speed (km/h)", "Solar radiation (MJ/m2)"],
        lambda number, month, day: [f"{month + 5}", f"{month - 5}", "80", "7.2", "12.5"],
    )
    found = read_weather(text)
    assert found.monthly_means == pytest.approx(list(range(1, 13)))
    month = found.months[3]
    assert (month.high, month.low, month.humidity, month.wind, month.sun, month.days) == pytest.approx(
        (9, -1, 0.8, 2.0, 12.5, 60)
    )
    assert not found.notes


def test_fahrenheit_semicolons_decimal_commas_and_day_first():
    text = table(
        ["date", "mean temperature (°F)", "sunshine hours"],
        lambda number, month, day: ["50,5" if day % 2 else "", "4,25"],
        between=";",
        when="{2:d}.{1:d}.{0:d}",
    )
    found = read_weather(text)
    assert found.monthly_means == pytest.approx([(50.5 - 32) / 1.8] * 12)
    assert found.months[0].sun_hours == pytest.approx(4.25)


def test_hours_of_a_logger_become_days():
    lines = ["timestamp,temperature (°C),humidity (%),GHI (W/m²)"]
    for month, length in enumerate(year.MONTH_DAYS, start=1):
        for day in range(1, length + 1):
            for hour in range(24):
                lines.append(
                    f"2023-{month:02d}-{day:02d}T{hour:02d}:00,{10 + hour % 2},60,{200 if 6 <= hour < 18 else 0}"
                )
    found = read_weather("\n".join(lines))
    assert found.monthly_means == pytest.approx([10.5] * 12)
    assert (found.months[0].high, found.months[0].low) == (11, 10)
    assert found.months[0].sun == pytest.approx(100 * 0.0864)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("a,b\n1,2", "line of names"),
        ("date,rain (mm)\n2021-01-01,3", "No temperature among the columns"),
        ("date,temperature\n01/02/2021,3", "cannot be told whether day or month"),
        ("date,temperature\n31/02/2021,3", "no day 31 of month 2"),
        ("date,temperature\n13/02/2021,3\n02/13/2021,3", "some the month first"),
        ("date,temperature\nyesterday,3", "“yesterday” is no date"),
        ("date,temperature\n2021-01-01,warm", "“warm” is no number"),
        ("date,temperature\n2021-01-01,71", "Fahrenheit"),
        ("date,temperature\n2021-01-01,7", "There is no temperature for February"),
        ("date,temperature\n", "no line with a date"),
    ],
)
def test_a_table_that_will_not_do_is_told_why(text, words):
    with pytest.raises(Refused) as told:
        read_weather(text)
    assert words in told.value.problems[0][1]


def test_a_real_weather_year_against_pandas():
    """Greensboro, 36.1 N, 8,760 hours of a US typical year (National Renewable Energy Laboratory), as pvlib carries
    it.
    """
    path = pathlib.Path(pvlib.__file__).parent / "data" / "723170TYA.CSV"
    frame = pandas.read_csv(path, skiprows=1)
    month = frame["Date (MM/DD/YYYY)"].str[:2].astype(int)
    found = read_weather(path.read_text())
    for name, ours in (
        ("Dry-bulb (C)", "mean"),
        ("RHum (%)", "humidity"),
        ("Wspd (m/s)", "wind"),
        ("GHI (W/m^2)", "sun"),
    ):
        scale = {"humidity": 0.01, "sun": 0.0864}.get(ours, 1.0)
        expected = frame[name].groupby(month).mean() * scale
        assert [getattr(one, ours) for one in found.months] == pytest.approx(list(expected), rel=1e-6)


@settings(max_examples=60, deadline=None)
@given(st.text(max_size=300))
def test_no_text_breaks_it(text):
    try:
        read_weather(text)
    except Refused as refused:
        assert all(name == "weather_file" and message for name, message in refused.problems)


@settings(max_examples=60, deadline=None)
@given(st.text(alphabet='date,temperature\n0123456789-/;.°FC \t"', max_size=200))
def test_no_table_breaks_it(text):
    try:
        read_weather("date,temperature\n" + text)
    except Refused as refused:
        assert refused.problems


def told_to_the_page(text, units):
    return json.loads(page.respond("weather_file", json.dumps({"text": text, "units": units})))


@pytest.mark.parametrize("units", ["us", "metric"])
def test_the_page_gets_texts_that_its_fields_read_back(units):
    """A file fills the twelve means, the table of months, latitude and altitude; each is read as what the file said."""
    answer = told_to_the_page(epw(daily), units)
    assert answer["ok"] and "Quillfen" in answer["said"][0]
    values = answer["values"]
    read = calc.run("climate.bed_temperature", {"monthly_means": values["monthly_means"]}, units=units)
    assert read["inputs"]["monthly_means"]["value"] == pytest.approx([10 + month for month in range(1, 13)], abs=0.06)
    water = calc.run("climate.water", {name: values[name] for name in ("months", "latitude", "altitude")}, units=units)
    assert "errors" not in water
    assert water["inputs"]["latitude"]["value"] == 45 and water["inputs"]["altitude"]["value"] == pytest.approx(
        120, abs=1
    )
    months = water["inputs"]["months"]["value"]
    assert len(months) == 12 and months[6]["high"] == pytest.approx(22, abs=0.1)


def test_what_a_file_says_reaches_every_page_that_asks_for_the_months():
    """Its texts stand in the plan under the keys of all fields that hold them, on whichever page it was opened."""
    answer = told_to_the_page(epw(daily), "metric")
    assert set(answer["keys"]) == set(answer["values"])
    for entry in every().values():
        for name in ("monthly_means", "monthly_temperature", "months", "latitude", "altitude"):
            if name in entry.inputs and entry.inputs[name].label != "Months to look ahead":
                assert plan_key(name, entry.inputs[name]) in answer["keys"].values(), (entry.id, name)
    assert "data-weather" in form(calc.find("lane.starter"), {}, "us")


def test_a_file_that_will_not_do_is_told_on_the_page():
    answer = told_to_the_page("a,b\n1,2", "us")
    assert not answer["ok"] and "line of names" in answer["errors"][0]["message"]


def test_means_alone_become_highs_and_lows_with_a_usual_swing():
    """A table of daily means has no highs; the mild climate's swing stands in, so that the water page can use it."""
    text = table(["date", "temperature (°C)"], lambda number, month, day: [str(month)])
    months = told_to_the_page(text, "metric")["values"]["months"]
    high, low = (float(cell) for cell in months.split("\n")[1].split(",")[1:3])
    assert (high + low) / 2 == pytest.approx(1) and high - low == pytest.approx(6)


def test_months_that_lack_are_named_while_they_are_few():
    """Six names at most; of more the first five and how many besides."""

    def told(last):
        rows = [f"2021-{month:02d}-{day:02d},20,10" for month in range(1, last + 1) for day in range(1, 25)]
        with pytest.raises(Refused) as refused:
            read_weather("\n".join(["date,high (°C),low (°C)", *rows]))
        return str(refused.value)

    assert "for July, August, September, October, November, December: a year" in told(6)
    assert "for June, July, August, September, October and 2 more: a year" in told(5)
