"""Moist air: how much water it holds, how dry it is, how far it can be cooled by wetting it.

Equations of the ASHRAE Handbook - Fundamentals (2017), chapter 1, "Psychrometrics". Pressures are in kPa,
temperatures in degrees Celsius, humidity as a share from 0 to 1, humidity ratios in kg of water per kg of dry air.
Below freezing the air is held against ice, as in that chapter: its dew point is then a frost point.

Where ASHRAE's energy balance has its jump at 0 degC (liquid above, ice below), the wet bulb sits on the jump.
"""

from collections.abc import Callable
from math import exp, log

KELVIN_AT_ZERO_CELSIUS = 273.15
TRIPLE_POINT = 0.01
"""Temperature of the triple point of water [degC]: saturation is over ice up to here."""

STANDARD_PRESSURE = 101.325
"""Pressure of the standard atmosphere at sea level [kPa]. ASHRAE 2017, ch. 1, table 1."""

MOLAR_MASS_RATIO = 0.621945
"""Molar mass of water over that of dry air [-]. ASHRAE 2017, ch. 1, eq. 20."""

# Coefficients of the saturation pressure, in Pa and K: ASHRAE 2017, ch. 1, eq. 5 (ice) and eq. 6 (liquid).
ICE = (-5.6745359e3, 6.3925247, -9.677843e-3, 6.2215701e-7, 2.0747825e-9, -9.484024e-13, 4.1635019)
LIQUID = (-5.8002206e3, 1.3914993, -4.8640239e-2, 4.1764768e-5, -1.4452093e-8, 0.0, 6.5459673)

# Energies in kJ per kg, heat capacities in kJ/(kg K): ASHRAE 2017, ch. 1, eq. 30, 33 and 35.
DRY_AIR_HEAT = 1.006
VAPOUR_HEAT = 1.86
LATENT_HEAT_AT_ZERO = 2501.0
LIQUID_WET_BULB = (2501.0, 2.326, 4.186)
ICE_WET_BULB = (2830.0, 0.24, 2.1)

COLDEST, HOTTEST = -60.0, 90.0
"""Search bounds for dew point and wet bulb [degC], far outside any weather."""

TOLERANCE = 1e-6
"""Width at which a bisection for a temperature stops [K]."""


def pressure(altitude: float) -> float:
    """Air pressure of the standard atmosphere [kPa].

    altitude [m] above sea level, -500 to 11,000.
    Source: ASHRAE Handbook - Fundamentals (2017), ch. 1, eq. 3.
    >>> round(pressure(1500), 2)
    84.56
    """
    thinner: float = (1 - 2.25577e-5 * altitude) ** 5.2559
    return STANDARD_PRESSURE * thinner


def saturation_pressure(temperature: float) -> float:
    """Vapour pressure of saturated air [kPa], over ice up to 0.01 degC and over liquid water above.

    temperature [degC], -100 to 200.
    Source: Hyland & Wexler 1983, as ASHRAE Handbook - Fundamentals (2017), ch. 1, eq. 5 and 6.
    >>> round(saturation_pressure(20), 4)
    2.3388
    """
    a, b, c, d, e, f, g = ICE if temperature <= TRIPLE_POINT else LIQUID
    kelvin = temperature + KELVIN_AT_ZERO_CELSIUS
    polynomial = b + kelvin * (c + kelvin * (d + kelvin * (e + kelvin * f)))
    return exp(a / kelvin + polynomial + g * log(kelvin)) / 1000


def vapour_pressure(temperature: float, humidity: float) -> float:
    """Vapour pressure of air [kPa] at a temperature [degC] and relative humidity [-]: the definition, eq. 12."""
    return humidity * saturation_pressure(temperature)


def vapour_pressure_deficit(temperature: float, humidity: float) -> float:
    """How much vapour pressure is missing to saturation [kPa]: the drying power of the air.

    temperature [degC], humidity [-].
    >>> round(vapour_pressure_deficit(25, 0.5), 3)
    1.585
    """
    return (1 - humidity) * saturation_pressure(temperature)


def humidity_ratio(vapour: float, air_pressure: float) -> float:
    """Water in the air [kg per kg of dry air] from its vapour pressure [kPa] and the air pressure [kPa].

    Source: ASHRAE Handbook - Fundamentals (2017), ch. 1, eq. 20.
    """
    return MOLAR_MASS_RATIO * vapour / (air_pressure - vapour)


def vapour_from_ratio(ratio: float, air_pressure: float) -> float:
    """Vapour pressure [kPa] of air that holds a humidity ratio [-] at an air pressure [kPa]: eq. 20 turned round."""
    return air_pressure * ratio / (MOLAR_MASS_RATIO + ratio)


def humidity_from_ratio(temperature: float, ratio: float, air_pressure: float) -> float:
    """Relative humidity [-] of air at a temperature [degC] with a humidity ratio [-] and air pressure [kPa]."""
    return vapour_from_ratio(ratio, air_pressure) / saturation_pressure(temperature)


def enthalpy(temperature: float, ratio: float) -> float:
    """Heat content of moist air above 0 degC [kJ per kg of dry air].

    temperature [degC], ratio [kg/kg].
    Source: ASHRAE Handbook - Fundamentals (2017), ch. 1, eq. 30.
    >>> round(enthalpy(25, 0.009881), 2)
    50.32
    """
    return DRY_AIR_HEAT * temperature + ratio * (LATENT_HEAT_AT_ZERO + VAPOUR_HEAT * temperature)


def dew_point(vapour: float) -> float:
    """Temperature at which air of a vapour pressure [kPa] begins to wet a surface [degC]; frost point below 0 degC.

    The saturation pressure solved for temperature by bisection.
    >>> round(dew_point(vapour_pressure(25, 0.5)), 2)
    13.86
    """
    return bisect(lambda candidate: saturation_pressure(candidate) - vapour, COLDEST, HOTTEST)


def ratio_from_wet_bulb(temperature: float, wet_bulb_temperature: float, air_pressure: float) -> float:
    """Humidity ratio [kg/kg] of air at a temperature [degC] whose wet bulb [degC] is known.

    The energy balance of adiabatic saturation; the water on the bulb is ice below 0 degC.
    air_pressure [kPa].
    Source: ASHRAE Handbook - Fundamentals (2017), ch. 1, eq. 33 (liquid) and 35 (ice).
    >>> round(ratio_from_wet_bulb(40, 20, 101.325), 4)
    0.0064
    """
    latent, latent_slope, water_heat = LIQUID_WET_BULB if wet_bulb_temperature >= 0 else ICE_WET_BULB
    saturated = humidity_ratio(saturation_pressure(wet_bulb_temperature), air_pressure)
    evaporated = (latent - latent_slope * wet_bulb_temperature) * saturated
    cooled = DRY_AIR_HEAT * (temperature - wet_bulb_temperature)
    return (evaporated - cooled) / (latent + VAPOUR_HEAT * temperature - water_heat * wet_bulb_temperature)


def wet_bulb(temperature: float, humidity: float, air_pressure: float) -> float:
    """Coldest that evaporating water can make this air [degC].

    Solved by bisection from the energy balance (:func:`ratio_from_wet_bulb`) between the dew point and the air.
    temperature [degC], humidity [-] relative, air_pressure [kPa].
    Source: ASHRAE Handbook - Fundamentals (2017), ch. 1, eq. 33 and 35.
    >>> round(wet_bulb(40, 0.10, 101.325), 2)
    18.57
    """
    vapour = vapour_pressure(temperature, humidity)
    ratio = humidity_ratio(vapour, air_pressure)
    if humidity >= 1:
        return temperature
    return bisect(
        lambda candidate: ratio_from_wet_bulb(temperature, candidate, air_pressure) - ratio,
        dew_point(vapour),
        temperature,
    )


def misted_air(temperature: float, wet_bulb_temperature: float, effectiveness: float) -> float:
    """Temperature of air [degC] that a mist brings a share of the way down to its wet bulb.

    effectiveness [-]: 0 does nothing, 1 reaches the wet bulb. The definition of direct evaporative cooling:
    Source: EnergyPlus engineering reference, direct evaporative coolers (saturation effectiveness).
    """
    return temperature - effectiveness * (temperature - wet_bulb_temperature)


def bisect(function: Callable[[float], float], low: float, high: float, tolerance: float = TOLERANCE) -> float:
    """Where a rising function crosses zero between low and high, by halving; the nearer end when it does not."""
    while high - low > tolerance:
        middle = (low + high) / 2
        if function(middle) > 0:
            high = middle
        else:
            low = middle
    return (low + high) / 2
