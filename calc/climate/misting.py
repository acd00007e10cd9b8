"""How far misting can cool the air, and whether it is worth it."""

from dataclasses import dataclass
from typing import Annotated

from calc.climate import psychrometrics as air
from calc.engine import (
    Answer,
    Axis,
    Column,
    CurvePart,
    Figure,
    Mark,
    Number,
    Output,
    Part,
    Share,
    Show,
    Step,
    Table,
    View,
    calculator,
    presents,
)
from calc.facts import biology
from calc.facts import climate as facts
from calc.inputs import ALTITUDE, Altitude

WORTH_COOLING = 4.0
"""Cooling that a grower would notice in a bed after a day [K]: below it, shade or a watering does more for less."""

TOO_MOIST = 0.90
"""Humidity above which misted air leaves everything wet and nothing evaporates any more [-]."""


@dataclass(frozen=True)
class MistedAir:
    """What misting does to air: temperatures [degC], pressures [kPa], humidity ratios [kg/kg]."""

    wet_bulb: float
    dew_point: float
    deficit: float
    temperature: float
    humidity: float
    water: float


def mist_air(temperature: float, humidity: float, pressure: float, effectiveness: float) -> MistedAir:
    """Air after a mist of an effectiveness [-]; temperature [degC], humidity [-], pressure [kPa].

    Misting is adiabatic saturation stopped part of the way: the wet bulb stays, the humidity ratio follows from it.
    >>> misted = mist_air(40, 0.10, 101.325, 0.85)
    >>> round(misted.temperature, 2), round(1000 * misted.water, 2)
    (21.78, 7.5)
    """
    vapour = air.vapour_pressure(temperature, humidity)
    wet_bulb = air.wet_bulb(temperature, humidity, pressure)
    misted = air.misted_air(temperature, wet_bulb, effectiveness)
    before = air.humidity_ratio(vapour, pressure)
    # A wet bulb of ice would need snow; the water of a mist is liquid, and stopping early never makes air drier.
    after = max(before, air.ratio_from_wet_bulb(misted, wet_bulb, pressure)) if effectiveness else before
    return MistedAir(
        wet_bulb=wet_bulb,
        dew_point=air.dew_point(vapour),
        deficit=air.vapour_pressure_deficit(temperature, humidity),
        temperature=misted,
        humidity=min(1.0, air.humidity_from_ratio(misted, after, pressure)),
        water=after - before,
    )


@dataclass(frozen=True)
class Misting(Answer):
    wet_bulb: Annotated[float, Output("degC", "Wet bulb", "The coldest that evaporating water can make this air.")]
    dew_point: Annotated[
        float,
        Output(
            "degC", "Dew point", "Surfaces colder than this get wet by themselves; below freezing it is a frost point."
        ),
    ]
    vapour_pressure_deficit: Annotated[
        float, Output("kPa", "Drying power (vapour pressure deficit)", "How much vapour is missing to saturation.")
    ]
    misted_temperature: Annotated[float, Output("degC", "Air after misting", "At the effectiveness given.", main=True)]
    cooling: Annotated[float, Output("K", "Cooling of the air", "Air before less air after.", main=True)]
    humidity_after: Annotated[
        float, Output("1", "Humidity after misting", "Above 90 % nothing dries any more.", us="%", metric="%")
    ]
    water_per_air_mass: Annotated[
        float, Output("1", "Water taken up by the air", "Kilograms of water per kilogram of dry air.")
    ]
    water_per_air_volume: Annotated[
        float,
        Output(
            "kg/m3",
            "Water a volume of air takes up",
            "For each volume of the air before misting.",
            us="oz/yd3",
            metric="g/m3",
        ),
    ]
    worth_it: Annotated[str, Output("1", "Worth it?", "Whether the air can be cooled enough to matter.", main=True)]


def verdict(cooling: float, humidity_after: float, temperature: float) -> str:
    """Whether misting is worth it, in a few words: cooling [K], humidity after [-], air before [degC]."""
    if temperature < biology.BAND_HIGH.typical - 5:
        return "no need: the air is not hot"
    if cooling < WORTH_COOLING:
        return "no: the air is too moist to be cooled"
    if humidity_after > TOO_MOIST:
        return "hardly: it cools, but leaves everything wet"
    return "yes, while the air moves"


@calculator(
    "climate.mist",
    "How far can misting cool this air, and is it worth it?",
    leads={"climate.bed_temperature": {}, "climate.today": {}},
)
def mist(
    air_temperature: Annotated[
        float, Number("degC", "Air temperature", -20, 50, help="In the shade, where the mist would be.")
    ] = 35.0,
    humidity: Annotated[
        float, Share("Relative humidity", 0.01, 1.0, help="At the same place and time; a cheap hygrometer will do.")
    ] = 0.20,
    altitude: Altitude = ALTITUDE,
    effectiveness: Annotated[
        float,
        Share(
            "How far the mist gets to the wet bulb",
            0.0,
            1.0,
            help="Open nozzles 40 to 70 %, wetted pads with a fan 75 to 95 %.",
            fact=facts.MISTING_EFFECTIVENESS,
        ),
    ] = 0.7,
) -> Misting:
    """Air before and after a mist that evaporates in it, at an altitude.

    Source: ASHRAE Handbook - Fundamentals (2017), ch. 1; effectiveness as for direct evaporative coolers.
    """
    pressure = air.pressure(altitude)
    misted = mist_air(air_temperature, humidity, pressure, effectiveness)
    dry_air_per_volume = (pressure - air.vapour_pressure(air_temperature, humidity)) / (
        0.287042 * (air_temperature + 273.15)
    )
    cooling = air_temperature - misted.temperature
    return Misting(
        wet_bulb=misted.wet_bulb,
        dew_point=misted.dew_point,
        vapour_pressure_deficit=misted.deficit,
        misted_temperature=misted.temperature,
        cooling=cooling,
        humidity_after=misted.humidity,
        water_per_air_mass=misted.water,
        water_per_air_volume=misted.water * dry_air_per_volume,
        worth_it=verdict(cooling, misted.humidity, air_temperature),
    )


def cooling_by_humidity(temperature: float, pressure: float, effectiveness: float) -> list[tuple[float, float, float]]:
    """Air before, wet bulb and air after misting [degC] at humidities from 5 to 100 %: (humidity, wet bulb, misted)."""
    rows = []
    for percent in range(5, 101, 5):
        misted = mist_air(temperature, percent / 100, pressure, effectiveness)
        rows.append((percent / 100, misted.wet_bulb, misted.temperature))
    return rows


def cooling_by_state(pressure: float, effectiveness: float) -> list[tuple[float, ...]]:
    """Cooling [K] for hot afternoons: (air [degC], (humidity [-], cooling [K]) pairs)."""
    rows = []
    for temperature in (25.0, 30.0, 35.0, 40.0, 45.0):
        cooled = [
            temperature - mist_air(temperature, humidity, pressure, effectiveness).temperature
            for humidity in (0.1, 0.2, 0.3, 0.5, 0.7)
        ]
        rows.append((temperature, *cooled))
    return rows


@presents(mist)
def show_mist(v: View) -> Show:
    pressure = air.pressure(v.altitude)
    rows = cooling_by_humidity(v.air_temperature, pressure, v.effectiveness)
    saturation = air.saturation_pressure(v.air_temperature)
    shown = {
        "pressure": Part("air pressure", pressure, "kPa"),
        "saturation": Part("saturation pressure", saturation, "kPa"),
        "saturated": CurvePart("saturation pressure", air.saturation_pressure, ("degC",), "kPa"),
        "ratio": CurvePart("humidity ratio by the wet bulb", air.ratio_from_wet_bulb, ("degC", "degC", "kPa"), "kg/kg"),
        "before": Part(
            "humidity ratio of the air before", air.humidity_ratio(v.humidity * saturation, pressure), "kg/kg"
        ),
        "dew": CurvePart(
            "where such air is saturated",
            lambda degrees, share: air.dew_point(air.vapour_pressure(degrees, share)),
            ("degC", "1"),
            "degC",
        ),
        "bulb": CurvePart("the wet bulb", air.wet_bulb, ("degC", "1", "kPa"), "degC"),
    }
    reading = [
        f"This air could be cooled to its wet bulb, {v['wet_bulb']}, and no further, whatever the equipment.",
        (
            f"A mist that gets {v.yours('effectiveness')} of the way there brings it to {v['misted_temperature']}:"
            f" {v['cooling']} cooler, at {v['humidity_after']} humidity."
        ),
        f"Worth it? {v.worth_it.capitalize()}.",
    ]
    warnings = []
    if v.humidity_after > TOO_MOIST:
        warnings.append(
            (
                "effectiveness",
                (
                    f"At {v['humidity_after']} humidity hardly anything evaporates from the bed: it gets wet instead of"
                    " cool."
                ),
            )
        )
    if v.air_temperature < 5:
        warnings.append(("air_temperature", "Near freezing a mist makes ice, not cool air."))
    return Show(
        working=[
            Step(
                "Air pressure",
                "{pressure} = 101.325 kPa × (1 − 2.25577×10⁻⁵ × {altitude} in m)^5.2559",
                source="ASHRAE Fundamentals 2017, ch. 1, eq. 3",
                values=shown,
            ),
            Step(
                "Saturation",
                "{saturation} = {saturated} at {air_temperature}",
                source="ASHRAE Fundamentals 2017, ch. 1, eq. 5 (ice) and 6",
                values=shown,
            ),
            Step(
                "Drying power",
                "{vapour_pressure_deficit} = (1 − {humidity}) × {saturation}",
                source="definition",
                values=shown,
            ),
            Step(
                "Dew point",
                "{dew_point} = {dew} at {air_temperature} and {humidity}",
                source="ASHRAE Fundamentals 2017, ch. 1, eq. 5 and 6, solved by halving",
                values=shown,
            ),
            Step(
                "Wet bulb",
                "{wet_bulb} = {bulb} at {air_temperature} and {humidity} and {pressure}",
                source="ASHRAE Fundamentals 2017, ch. 1, eq. 33 (ice: 35), solved by halving",
                note="There the heat that the air gives up, 1.006 kJ/kg K a degree, evaporates the water it takes up.",
                values=shown,
            ),
            Step(
                "After misting",
                "{misted_temperature} = {air_temperature} − {effectiveness} × ({air_temperature} − {wet_bulb})",
                source="saturation effectiveness, EnergyPlus engineering reference",
            ),
            Step(
                "Water taken up",
                "{water_per_air_mass} = the larger of 0 and {ratio} at {misted_temperature} and {wet_bulb} and"
                " {pressure} − {before}"
                if v.effectiveness
                else "{water_per_air_mass} = 0",
                source="ASHRAE Fundamentals 2017, ch. 1, eq. 33 and 20",
                values=shown,
            ),
            Step(
                "Cooling",
                "{cooling} = {air_temperature} − {misted_temperature}",
                source="definition",
            ),
            Step(
                "Humidity after, and water by the room",
                "{humidity_after} = the smaller of 1 and {pressure} × ({before} + {water_per_air_mass}) ÷ (0.621945 +"
                " {before} + {water_per_air_mass}) ÷ {saturated} at {misted_temperature}; {water_per_air_volume} ="
                " {water_per_air_mass} × 1 kg/m³ × ({pressure} − {humidity} × {saturation}) in kPa ÷ (0.287042 ×"
                " ({air_temperature} in °C + 273.15))",
                source="ASHRAE Fundamentals 2017, ch. 1, eq. 20 and 26",
                values=shown,
            ),
        ],
        tables=[
            Table(
                "cooling",
                "How much cooler, by air and humidity",
                [
                    Column("air", "Air", "degC"),
                    *(Column(f"h{percent}", f"{percent} %", "K") for percent in (10, 20, 30, 50, 70)),
                ],
                rows=cooling_by_state(pressure, v.effectiveness),
            )
        ],
        figures=[
            Figure(
                "by_humidity",
                f"Misting air of {v['air_temperature']}",
                finding=(
                    f"At {v.yours('humidity')} humidity the mist brings the air to"
                    f" {v['misted_temperature']}; in saturated"
                    " air it does nothing."
                ),
                x=Axis("Relative humidity", "1", us="%", metric="%"),
                y=Axis("Temperature", "degC"),
                marks=[
                    Mark("line", [(humidity, v.air_temperature) for humidity, *_ in rows], label="air", tone="muted"),
                    Mark("line", [(humidity, misted) for humidity, _, misted in rows], label="misted", tone="main"),
                    Mark(
                        "line",
                        [(humidity, wet) for humidity, wet, _ in rows],
                        label="wet bulb, the limit",
                        tone="second",
                        dashed=True,
                    ),
                    Mark("dots", [(v.humidity, v.misted_temperature, "your air")], tone="main"),
                ],
            )
        ],
        warnings=warnings,
        reading=reading,
    )
