"""FAO-56 evaporation against the paper's own examples, pyet, pvlib's sun and a year of real weather."""

import math
from functools import cache
from itertools import product
from pathlib import Path

import numpy
import pandas
import pvlib
import pyet
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from calc.climate import evaporation as fao
from calc.harvest.dry_down import air_term

BRUSSELS = {"latitude": 50.8, "day_of_year": 187}
BANGKOK = {"latitude": 13 + 44 / 60, "day_of_year": 105}


def reference(high, low, mean, vapour, wind, sun, latitude, altitude, day_of_year, ground_heat=0.0):
    """The whole of FAO-56 chapter 4 for one day [mm/day]."""
    net = fao.net_radiation(sun, fao.clear_sky_sun(latitude, day_of_year, altitude), high, low, vapour)
    saturation = fao.mean_saturation_pressure(high, low)
    return fao.penman_monteith(net, mean, wind, saturation, vapour, fao.air_pressure(altitude), ground_heat)


def test_example_18_daily_brussels():
    """FAO-56, example 18: 3.9 mm/day from 3.88, and the intermediates printed to the digits given."""
    vapour = fao.day_vapour_pressure(21.5, 12.3, 0.84, 0.63)
    wind = fao.wind_at_two_metres(10 / 3.6, 10)
    sun = fao.sun_from_hours(9.25, **BRUSSELS)
    assert vapour == pytest.approx(1.409, abs=0.001)
    assert wind == pytest.approx(2.078, abs=0.001)
    assert sun == pytest.approx(22.07, abs=0.01)
    assert fao.sun_outside_air(**BRUSSELS) == pytest.approx(41.09, abs=0.01)
    assert fao.daylight_hours(**BRUSSELS) == pytest.approx(16.1, abs=0.05)
    assert reference(21.5, 12.3, 16.9, vapour, wind, sun, 50.8, 100, 187) == pytest.approx(3.88, abs=0.005)


def test_example_17_monthly_bangkok():
    """FAO-56, example 17: 5.72 mm/day with the ground taking 0.14 MJ/m2/day."""
    sun = fao.sun_from_hours(8.5, **BANGKOK)
    assert reference(34.8, 25.6, 30.2, 2.85, 2.0, sun, BANGKOK["latitude"], 2, 105, 0.14) == pytest.approx(
        5.72, abs=0.005
    )


def test_example_20_missing_data_lyon():
    """FAO-56, example 20: 4.56 mm/day by Penman-Monteith from temperatures alone, 5.0 by Hargreaves."""
    latitude, july = 45 + 43 / 60, 196
    outside = fao.sun_outside_air(latitude, july)
    sun = 0.16 * math.sqrt(26.6 - 14.8) * outside
    penman = reference(26.6, 14.8, 20.7, fao.saturation_pressure(14.8), 2.0, sun, latitude, 200, july)
    assert penman == pytest.approx(4.56, abs=0.03)  # the paper carries two rounded intermediates
    assert fao.hargreaves(26.6, 14.8, outside) == pytest.approx(5.0, abs=0.05)


@pytest.mark.parametrize(
    ("latitude", "date"),
    [(50.8, "2015-07-06"), (13.733, "2015-04-15"), (-20, "2015-09-03"), (35, "2015-07-15"), (45, "2015-01-15")],
)
def test_sun_outside_air_against_the_solar_position(latitude, date):
    """Sun integrated minute by minute with pvlib: FAO's short formulas are within 1.5 %."""
    minutes = pandas.date_range(date, periods=1440, freq="min", tz="UTC")
    position = pvlib.solarposition.get_solarposition(minutes, latitude, 0.0)
    beam = pvlib.irradiance.get_extra_radiation(minutes) * numpy.cos(numpy.radians(position["zenith"])).clip(lower=0)
    assert fao.sun_outside_air(latitude, minutes[0].day_of_year) == pytest.approx(beam.sum() * 60 / 1e6, rel=0.015)


def test_penman_monteith_agrees_with_pyet_over_a_grid():
    """Same published formula, independent code: only rounding of constants may differ (0.1 %)."""
    grid = list(product((5, 20, 35), (6, 14), (0.3, 0.8), (0.5, 4.0), (8, 25), (0, 1500), (-30, 10, 50)))
    date = pandas.DatetimeIndex(["2015-05-20"])
    for low, swing, humidity, wind, sun, altitude, latitude in grid:
        high, mean = low + swing, low + swing / 2
        series = {"tmean": mean, "wind": wind, "rs": sun, "tmax": high, "tmin": low, "rh": 100 * humidity}
        theirs = pyet.pm_fao56(
            **{name: pandas.Series([value], date) for name, value in series.items()},
            elevation=altitude,
            lat=math.radians(latitude),
        )
        vapour = fao.mean_vapour_pressure(high, low, humidity)
        ours = reference(high, low, mean, vapour, wind, sun, latitude, altitude, date[0].day_of_year)
        assert ours == pytest.approx(float(theirs.iloc[0]), rel=1e-3, abs=2e-3), series


@pytest.mark.parametrize(
    ("mean", "humidity", "wind", "net", "published"),
    [
        (25, 0.60, 0.5, 2, 1.7043),
        (30, 0.40, 1, 4, 3.4991),
        (35, 0.20, 0.25, 3, 3.3844),
        (20, 0.80, 0.2, 1, 0.7060),
        (25, 0.60, 2, 14, 6.0276),
    ],
)
def test_wet_surface_agrees_with_pyet_penman(mean, humidity, wind, net, published):
    """pyet.penman with Penman's wind function of 1948 (aw=2.6, bw=1.404); 0.5 % for its latent heat by temperature."""
    saturation = fao.saturation_pressure(mean)
    ours = fao.wet_surface(net, mean, wind, (1 - humidity) * saturation, fao.air_pressure(0), long_wave=False)
    day = pandas.DatetimeIndex(["2015-07-01"])
    one = {"tmean": mean, "wind": wind, "rn": net, "rh": 100 * humidity}
    theirs = float(
        pyet.penman(
            **{name: pandas.Series([float(value)], day) for name, value in one.items()}, elevation=0, aw=2.6, bw=1.404
        ).iloc[0]
    )
    assert theirs == pytest.approx(published, abs=1e-3)
    assert ours == pytest.approx(theirs, rel=0.005)


@cache
def greensboro():
    """A year of real weather, day by day: TMY3 of Greensboro (US Department of Energy), carried by pvlib."""
    hours, place = pvlib.iotools.read_tmy3(
        Path(pvlib.__file__).parent / "data/723170TYA.CSV", coerce_year=1990, map_variables=True
    )
    hours.index = hours.index - pandas.Timedelta("1h")  # rows are stamped at the end of their hour
    days = hours.resample("D")
    table = pandas.DataFrame(
        {
            "high": days["temp_air"].max(),
            "low": days["temp_air"].min(),
            "mean": days["temp_air"].mean(),
            "humidity_high": days["relative_humidity"].max() / 100,
            "humidity_low": days["relative_humidity"].min() / 100,
            "wind": [fao.wind_at_two_metres(speed, 10) for speed in days["wind_speed"].mean()],
            "sun": days["ghi"].sum() * 0.0036,
        }
    )
    return table, place["latitude"], place["altitude"]


def greensboro_day(row, latitude, altitude):
    """Net radiation, deficit and reference of one of its days."""
    vapour = fao.day_vapour_pressure(row.high, row.low, row.humidity_high, row.humidity_low)
    clear = fao.clear_sky_sun(latitude, row.Index.day_of_year, altitude)
    net = fao.net_radiation(row.sun, clear, row.high, row.low, vapour)
    grass = reference(row.high, row.low, row.mean, vapour, row.wind, row.sun, latitude, altitude, row.Index.day_of_year)
    return net, fao.mean_saturation_pressure(row.high, row.low) - vapour, grass


def test_a_year_of_real_weather_day_by_day_against_pyet():
    table, latitude, altitude = greensboro()
    ours = [greensboro_day(row, latitude, altitude)[2] for row in table.itertuples(name="Row")]
    theirs = pyet.pm_fao56(
        table["mean"],
        table["wind"],
        rs=table["sun"],
        tmax=table["high"],
        tmin=table["low"],
        rhmax=100 * table["humidity_high"],
        rhmin=100 * table["humidity_low"],
        elevation=altitude,
        lat=math.radians(latitude),
    )
    assert len(ours) == 365
    assert numpy.abs(numpy.array(ours) - theirs.to_numpy()).max() < 0.01
    assert 900 < sum(ours) < 1300


def test_shade_and_shelter_cut_a_real_year_to_less_than_half():
    """80 % shade and half the wind leave 35 to 50 % of what the same wet surface loses in the open."""
    table, latitude, altitude = greensboro()
    totals = {}
    for shade, shelter in ((0.0, 0.0), (0.5, 0.3), (0.8, 0.5), (0.95, 0.75)):
        totals[shade] = 0.0
        for row in table.itertuples(name="Row"):
            net, deficit, _ = greensboro_day(row, latitude, altitude)
            totals[shade] += fao.wet_surface(
                net, row.mean, row.wind, deficit, fao.air_pressure(altitude), shade, shelter
            )
    assert totals[0.0] > totals[0.5] > totals[0.8] > totals[0.95]
    page = (Path(__file__).parents[2] / "docs" / "climate" / "water.md").read_text("utf-8")
    for total in totals.values():  # the chapter prints these four
        assert f"| {total:,.0f} mm (" in page
    assert 0.35 < totals[0.8] / totals[0.0] < 0.50


def test_monthly_means_stand_for_the_days_of_a_real_year():
    """Twelve average days give the year's water within 5 %: that is why twelve normals are enough."""
    table, latitude, altitude = greensboro()
    by_day = sum(greensboro_day(row, latitude, altitude)[2] for row in table.itertuples(name="Row"))
    by_month = 0.0
    for number, month in table.groupby(table.index.month):
        means = month.mean()
        vapour = fao.day_vapour_pressure(means.high, means.low, means.humidity_high, means.humidity_low)
        middle = int(30.4 * number - 15)
        by_month += len(month) * reference(
            means.high, means.low, means["mean"], vapour, means.wind, means.sun, latitude, altitude, middle
        )
    assert by_month == pytest.approx(by_day, rel=0.05)


def full_balance(net, mean, wind, vapour, pressure, still_air_factor=1.0):
    """Evaporation [mm/day] and temperature [degC] of a wet surface whose heats add up, solved and not linearised.

    Vapour and heat by the same wind; long wave by the fourth powers, faced by things at the temperature of the air.
    """
    function = still_air_factor * fao.PENMAN_STILL * (1 + fao.PENMAN_WIND * wind)
    by_air = fao.psychrometric_constant(pressure) * function * 2.45e6 / 86400

    def surplus(surface):
        warmed = by_air * (mean - surface)
        faced = 0.97 * 5.67e-8 * ((mean + 273.15) ** 4 - (surface + 273.15) ** 4)
        lost = function * (fao.saturation_pressure(surface) - vapour) * 2.45e6 / 86400
        return net * 1e6 / 86400 + warmed + faced - lost

    surface = brentq(surplus, mean - 60, mean + 60)
    return function * (fao.saturation_pressure(surface) - vapour), surface


@pytest.mark.parametrize(
    ("mean", "humidity", "wind", "net"),
    [
        (18.3, 0.65, 0.45, 0.0),
        (20.0, 0.85, 0.0, 0.0),
        (25.0, 0.50, 0.0, 0.0),
        (8.0, 0.45, 1.5, 0.0),
        (25.0, 0.5, 1.0, 3.0),
    ],
)
def test_a_wet_surface_in_shade_against_the_full_balance(mean, humidity, wind, net):
    """With the long wave it takes up the formula is within 7 % of the balance; without it a third and more is
    missing.
    """
    saturation = fao.saturation_pressure(mean)
    exact, surface = full_balance(net, mean, wind, humidity * saturation, 101.3)
    ours = fao.wet_surface(net, mean, wind, (1 - humidity) * saturation, 101.3)
    assert ours == pytest.approx(exact, rel=0.07)
    if not net:
        assert surface < mean
        assert fao.wet_surface(net, mean, wind, (1 - humidity) * saturation, 101.3, long_wave=False) < 0.8 * exact


def test_the_drying_that_once_was_a_third_short():
    """65 degF, 65 %, 1 mph, under a roof: the full balance gives 1.2 kg/m2 a day, Penman's own form 0.8."""
    mean, vapour = (65 - 32) / 1.8, 0.65
    exact, _ = full_balance(0.0, mean, 0.44704, vapour * fao.saturation_pressure(mean), 101.3)
    assert exact == pytest.approx(1.2, abs=0.05) and air_term(mean, vapour, 0.44704) == pytest.approx(exact, rel=0.06)


def test_psychrometers_show_the_same_heat():
    """FAO-56, eq. 16: 0.000662 where a fan draws 5 m/s, 0.000800 at 1 m/s, 0.001200 unventilated indoors, against
    0.000665.

    A thermometer's bulb is small, so air reaches it better than a bed: our rise lies above each of them, in their
    order.
    """
    gamma = fao.psychrometric_constant(101.3)
    rises = [fao.cooling_constant(20.0, wind, 101.3) / gamma for wind in (5.0, 1.0, 0.0)]
    published = [0.000662 / 0.000665, 0.000800 / 0.000665, 0.001200 / 0.000665]
    assert rises == sorted(rises) and all(
        low + 0.01 >= 1 and low <= ours < low + 0.6 for ours, low in zip(rises, published)
    )


weather = {
    "net": st.floats(0, 20),
    "mean": st.floats(0, 45),
    "wind": st.floats(0, 8),
    "deficit": st.floats(0, 6),
    "pressure": st.floats(70, 102),
}


@given(**weather, shade=st.floats(0, 0.9), shelter=st.floats(0, 0.9))
def test_more_shade_shelter_and_moist_air_never_lose_more_water(net, mean, wind, deficit, pressure, shade, shelter):
    base = fao.wet_surface(net, mean, wind, deficit, pressure, shade, shelter)
    assert base >= 0
    assert fao.wet_surface(net, mean, wind, deficit, pressure, shade + 0.1, shelter) <= base + 1e-12
    assert fao.wet_surface(net, mean, wind, deficit, pressure, shade, shelter + 0.1) <= base + 1e-12
    assert fao.wet_surface(net, mean, wind, 0.9 * deficit, pressure, shade, shelter) <= base + 1e-12


@given(latitude=st.floats(-90, 90), day_of_year=st.integers(1, 366))
def test_sun_is_never_negative_and_days_add_up_across_the_equator(latitude, day_of_year):
    assert fao.sun_outside_air(latitude, day_of_year) >= -1e-9
    assert 0 <= fao.daylight_hours(latitude, day_of_year) <= 24
    assert fao.daylight_hours(latitude, day_of_year) + fao.daylight_hours(-latitude, day_of_year) == pytest.approx(24)
