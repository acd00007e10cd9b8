"""Water that a surface loses to sun, dry air and wind.

Two formulas. The reference evaporation of short grass in the open is the Penman-Monteith equation of FAO Irrigation
and Drainage Paper 56 (Allen, Pereira, Raes & Smith 1998; "FAO-56" below, equation numbers are its own). A bed is not
grass: its surface is wet and bare, so the bed itself uses Penman's combination form of 1948, with the shade taken off
the net radiation and the shelter off the wind, and with the heat that a cool wet surface takes up by long wave.

Units are those of FAO-56, because its constants are fitted in them: temperatures in degC, vapour pressures in kPa,
radiation in MJ/m2/day, wind in m/s, water in mm/day (1 mm on 1 m2 is 1 litre).
"""

from math import acos, cos, exp, log, pi, radians, sin, sqrt, tan

from calc.climate.psychrometrics import pressure, vapour_pressure_deficit

SOLAR_CONSTANT = 0.0820
"""Sun's radiation outside the air [MJ/m2/minute]. FAO-56, eq. 21."""

STEFAN_BOLTZMANN = 4.903e-9
"""Black-body radiation [MJ/m2/day/K4]. FAO-56, eq. 39."""

LATENT_HEAT = 2.45
"""Heat to evaporate a kilogram of water at 20 degC [MJ/kg]. FAO-56, table 2.1 of annex 2 and eq. 20."""

EMISSIVITY = 0.97
"""Of wet organic matter for long wave [-]; peat and soil 0.95 to 0.98, from memory."""

GRASS_ALBEDO = 0.23
"""Share of the sunlight that the reference surface reflects [-]. FAO-56, eq. 38."""

CLOUDY_SHARE, CLEAR_SHARE = 0.25, 0.50
"""Angstrom's coefficients: share of the sun that arrives under full cloud, and what a clear sky adds [-].

FAO-56, eq. 35.
"""

PENMAN_STILL, PENMAN_WIND = 2.6, 0.54
"""Penman's wind function 2.6 (1 + 0.54 u): mm/day per kPa in still air, and its growth per m/s of wind at 2 m.

Penman 1948, Proc. R. Soc. A 193:120-145, 0.35 (1 + 0.54 u) mm/day per mmHg; 0.35 / 0.13332 = 2.625, rounded as usual.
"""


def saturation_pressure(temperature: float) -> float:
    """Vapour pressure of saturated air [kPa] at a temperature [degC]. FAO-56, eq. 11.

    >>> round(saturation_pressure(24.5), 3)
    3.075
    """
    return 0.6108 * exp(17.27 * temperature / (temperature + 237.3))


def saturation_slope(temperature: float) -> float:
    """Steepness of the saturation curve [kPa/K] at a temperature [degC]. FAO-56, eq. 13.

    >>> round(saturation_slope(16.9), 4)
    0.1221
    """
    return 4098 * saturation_pressure(temperature) / (temperature + 237.3) ** 2


def air_pressure(altitude: float) -> float:
    """Usual air pressure [kPa] at an altitude [m]. FAO-56, eq. 7.

    >>> round(air_pressure(1800), 1)
    81.8
    """
    thinner: float = ((293 - 0.0065 * altitude) / 293) ** 5.26
    return 101.3 * thinner


def psychrometric_constant(pressure: float) -> float:
    """Vapour pressure that a wet bulb makes up for each kelvin that it is cooler than the air [kPa/K]; pressure [kPa].

    FAO-56, eq. 8.
    """
    return 0.000665 * pressure


def mean_saturation_pressure(high: float, low: float) -> float:
    """Saturation pressure of a day [kPa] from its highest and lowest temperature [degC]. FAO-56, eq. 12."""
    return (saturation_pressure(high) + saturation_pressure(low)) / 2


def day_vapour_pressure(high: float, low: float, humidity_high: float, humidity_low: float) -> float:
    """Vapour pressure of a day [kPa] from its two humidities [-]: the high one is that of the cool hour.

    FAO-56, eq. 17.

    >>> round(day_vapour_pressure(25, 18, 0.82, 0.54), 2)
    1.7
    """
    return (saturation_pressure(low) * humidity_high + saturation_pressure(high) * humidity_low) / 2


def mean_vapour_pressure(high: float, low: float, humidity: float) -> float:
    """Vapour pressure of a day [kPa] from its mean humidity [-]. FAO-56, eq. 19."""
    return humidity * mean_saturation_pressure(high, low)


def wind_at_two_metres(wind: float, height: float) -> float:
    """Wind at 2 m over short grass [m/s] from a wind [m/s] measured at another height [m]. FAO-56, eq. 47.

    >>> round(wind_at_two_metres(3.2, 10), 1)
    2.4
    """
    return wind * 4.87 / log(67.8 * height - 5.42)


def declination(day_of_year: int) -> float:
    """Height of the noon sun over the equator [rad] on a day of the year (1 to 366). FAO-56, eq. 24."""
    return 0.409 * sin(2 * pi * day_of_year / 365 - 1.39)


def sunset_angle(latitude: float, day_of_year: int) -> float:
    """Half the turn of the earth between sunrise and sunset [rad]; latitude [deg]. FAO-56, eq. 25.

    Inside the polar circles it stays at half a turn or at nothing.
    """
    cosine = -tan(radians(latitude)) * tan(declination(day_of_year))
    return acos(max(-1.0, min(1.0, cosine)))


def daylight_hours(latitude: float, day_of_year: int) -> float:
    """Hours between sunrise and sunset; latitude [deg]. FAO-56, eq. 34.

    >>> round(daylight_hours(-20, 246), 1)
    11.7
    """
    return 24 / pi * sunset_angle(latitude, day_of_year)


def sun_outside_air(latitude: float, day_of_year: int) -> float:
    """Radiation on a level surface outside the air [MJ/m2/day]; latitude [deg], south negative. FAO-56, eq. 21.

    >>> round(sun_outside_air(-20, 246), 1)
    32.2
    """
    nearness = 1 + 0.033 * cos(2 * pi * day_of_year / 365)
    tilt, sunset, place = declination(day_of_year), sunset_angle(latitude, day_of_year), radians(latitude)
    turn = sunset * sin(place) * sin(tilt) + cos(place) * cos(tilt) * sin(sunset)
    return 24 * 60 / pi * SOLAR_CONSTANT * nearness * turn


def sun_from_hours(sun_hours: float, latitude: float, day_of_year: int) -> float:
    """Radiation at the ground [MJ/m2/day] from hours of bright sun; latitude [deg]. FAO-56, eq. 35.

    >>> round(sun_from_hours(9.25, 50.8, 187), 2)
    22.07
    """
    longest = daylight_hours(latitude, day_of_year)
    bright = min(1.0, sun_hours / longest) if longest else 0.0
    return (CLOUDY_SHARE + CLEAR_SHARE * bright) * sun_outside_air(latitude, day_of_year)


def clear_sky_sun(latitude: float, day_of_year: int, altitude: float) -> float:
    """Radiation at the ground under a clear sky [MJ/m2/day]; latitude [deg], altitude [m]. FAO-56, eq. 37."""
    return (0.75 + 2e-5 * altitude) * sun_outside_air(latitude, day_of_year)


def long_wave_loss(high: float, low: float, vapour: float, clearness: float) -> float:
    """Heat that the ground radiates away to the sky [MJ/m2/day].

    high, low [degC]; vapour [kPa]; clearness [-], sun at the ground over that of a clear sky, held at 0.3 to 1.
    Source: FAO-56, eq. 39.
    """
    warm, cool = (high + 273.16) ** 4, (low + 273.16) ** 4
    cloud = 1.35 * max(0.3, min(1.0, clearness)) - 0.35
    return STEFAN_BOLTZMANN * (warm + cool) / 2 * (0.34 - 0.14 * sqrt(vapour)) * cloud


def net_radiation(
    sun: float, clear_sun: float, high: float, low: float, vapour: float, albedo: float = GRASS_ALBEDO
) -> float:
    """Radiation that the surface keeps [MJ/m2/day]: sun taken in less heat radiated away. FAO-56, eq. 38 to 40.

    sun, clear_sun [MJ/m2/day]; high, low [degC]; vapour [kPa]; albedo [-].
    A sun that never rises gives no clearness; the sky is then taken as half clouded.
    """
    clearness = sun / clear_sun if clear_sun > 0 else 0.65
    return (1 - albedo) * sun - long_wave_loss(high, low, vapour, clearness)


def penman_monteith(
    net: float, mean: float, wind: float, saturation: float, vapour: float, pressure: float, ground_heat: float = 0.0
) -> float:
    """Evaporation of the reference grass [mm/day].

    net [MJ/m2/day] net radiation; mean [degC]; wind [m/s] at 2 m; saturation and vapour [kPa]; pressure [kPa];
    ground_heat [MJ/m2/day] going into the ground, nothing over a day.
    Source: FAO-56, eq. 6.
    >>> round(penman_monteith(13.28, 16.9, 2.078, 1.997, 1.409, 100.1), 1)
    3.9
    """
    slope, gamma = saturation_slope(mean), psychrometric_constant(pressure)
    radiation = 0.408 * slope * (net - ground_heat)
    drying = gamma * 900 / (mean + 273) * wind * (saturation - vapour)
    return (radiation + drying) / (slope + gamma * (1 + 0.34 * wind))


def wind_function(wind: float, still_air_factor: float = 1.0) -> float:
    """Water that a wet surface gives off for each kPa of vapour above that of the air [mm/day kPa]; wind [m/s]
    there.
    """
    return still_air_factor * PENMAN_STILL * (1 + PENMAN_WIND * wind)


def long_wave_coefficient(temperature: float) -> float:
    """Heat that a surface takes up by long wave for each kelvin that it is colder than what it faces [W/m2 K].

    temperature [degC]. Source: 4 ε σ T³, any text on heat transfer; ε 0.97 of wet organic matter.
    >>> round(long_wave_coefficient(20.0), 2)
    5.55
    """
    return 4 * EMISSIVITY * STEFAN_BOLTZMANN * 1e6 / 86400 * (temperature + 273.15) ** 3


def cooling_constant(mean: float, wind: float, pressure: float, still_air_factor: float = 1.0) -> float:
    """The psychrometric constant of a surface that long wave warms besides [kPa/K]: γ*.

    γ(1 + h_r/h_c), h_c the heat that the air brings by the same wind that carries the vapour off. In moving air it is
    little more than γ, in still air about twice that.
    Source: Leuning et al. 1995, for net radiation reckoned at the temperature of the air, as FAO-56 does.
    >>> round(cooling_constant(18.0, 0.0, 101.3) / psychrometric_constant(101.3), 2)
    2.09
    """
    gamma = psychrometric_constant(pressure)
    by_air = gamma * wind_function(wind, still_air_factor) * LATENT_HEAT * 1e6 / 86400
    return gamma * (1 + long_wave_coefficient(mean) / by_air)


def wet_surface_radiation(net: float, mean: float, constant: float) -> float:
    """Water that the net radiation [MJ/m2/day] can evaporate from a wet surface [mm/day]. Penman 1948, first term.

    mean [degC]; constant [kPa/K]: that of the psychrometer, or :func:`cooling_constant`.
    """
    slope = saturation_slope(mean)
    return slope / (slope + constant) * net / LATENT_HEAT


def wet_surface_drying(
    mean: float, wind: float, deficit: float, constant: float, still_air_factor: float = 1.0
) -> float:
    """Water that dry air and wind take from a wet surface [mm/day]. Penman 1948, second term.

    mean [degC]; wind [m/s] at the surface's own shelter; deficit [kPa]; constant [kPa/K] as above; still_air_factor [-]
    scales the wind function, because published ones for still air differ threefold.
    """
    slope = saturation_slope(mean)
    return constant / (slope + constant) * wind_function(wind, still_air_factor) * deficit


def wet_surface(
    net: float,
    mean: float,
    wind: float,
    deficit: float,
    pressure: float,
    shade: float = 0.0,
    shelter: float = 0.0,
    still_air_factor: float = 1.0,
    long_wave: bool = True,
) -> float:
    """Evaporation of a wet, bare surface under shade and shelter [mm/day], never below nothing.

    net [MJ/m2/day] in the open; mean [degC]; wind [m/s] at 2 m in the open; deficit [kPa]; pressure [kPa];
    shade and shelter [-] are the shares of radiation and wind kept off. long_wave False leaves out the heat that a cool
    wet surface takes up from what it faces: Penman's own form.
    Source: Penman 1948, combination form, with γ* of Leuning et al. 1995; net radiation falls in proportion to the
    area shaded.
    >>> round(wet_surface(2, 25, 0.5, 0.4 * saturation_pressure(25), 101.3, long_wave=False), 2)
    1.7
    >>> round(wet_surface(2, 25, 0.5, 0.4 * saturation_pressure(25), 101.3), 2)
    2.19
    """
    low = wind * (1 - shelter)
    constant = (
        cooling_constant(mean, low, pressure, still_air_factor) if long_wave else psychrometric_constant(pressure)
    )
    from_sun = wet_surface_radiation(net * (1 - shade), mean, constant)
    from_air = wet_surface_drying(mean, low, deficit, constant, still_air_factor)
    return max(0.0, from_sun + from_air)


def hargreaves(high: float, low: float, sun_outside: float) -> float:
    """Evaporation of the reference grass [mm/day] from temperatures [degC] and sun outside the air [MJ/m2/day] alone.

    A rougher estimate, shown beside Penman-Monteith as a check. Source: FAO-56, eq. 52.
    >>> round(hargreaves(26.6, 14.8, 40.6), 1)
    5.0
    """
    mean = (high + low) / 2
    return 0.0023 * (mean + 17.8) * sqrt(max(0.0, high - low)) * sun_outside * 0.408


def water_held(wet_density: float, depth: float, moisture: float, wet_density_moisture: float) -> float:
    """Water in a layer [kg/m2, the same figure in mm] at a moisture, its dry matter fixed by a density at another
    moisture.

    wet_density [kg/m3] as it lies at wet_density_moisture [-]; depth [m]; moisture [-], wet basis.
    >>> round(water_held(600, 0.1, 0.8, 0.8), 9)
    48.0
    """
    dry_matter = wet_density * depth * (1 - wet_density_moisture)
    return dry_matter * moisture / (1 - moisture)


def air_term(temperature: float, humidity: float, wind: float) -> float:
    """Water that dry air takes from a wet surface in shade [kg/m²day]; temperature [°C], humidity [-], wind [m/s].

    Penman 1948, no sun; the surface, colder than the air, takes up long wave from roof and walls (Leuning et al.
    1995).
    """
    constant = cooling_constant(temperature, wind, pressure(0.0))
    return wet_surface_drying(temperature, wind, vapour_pressure_deficit(temperature, humidity), constant)
