"""How much water a bed loses, and how often it is watered."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from datetime import date as Date
from math import sqrt
from typing import Annotated, Any, NamedTuple

from calc.climate import evaporation as fao
from calc.climate import pores
from calc.climate.season import drying, season
from calc.engine import (
    Answer,
    Axis,
    Band,
    Column,
    CurvePart,
    Day,
    Figure,
    Mark,
    Number,
    Output,
    Part,
    Problem,
    Refused,
    Rows,
    RowsPart,
    Share,
    Show,
    Step,
    Table,
    Text,
    Told,
    Trace,
    View,
    calculator,
    presents,
)
from calc.engine.kinds.base import MONTH_NAMES
from calc.facts import climate as facts
from calc.facts import lane as lane_facts
from calc.facts.climate import Climate
from calc.inputs import (
    CLIMATE,
    LANE_LENGTH,
    LANE_WIDTH,
    YEAR,
    ClimateChoice,
    LaneArea,
    LaneLength,
    LaneWidth,
    MonthlyMeans,
    WateredArea,
    YearChoice,
)

LONGEST_INTERVAL = 365.0
"""Days between waterings are never said to be more than this: nothing is left to compute when next to nothing
evaporates.
"""

SWING_TO_SUN = 0.16
"""Sun from the day's swing, inland [1/sqrt(K)]. FAO-56, eq. 50."""

USUAL_WIND = 2.0
"""Wind at 2 m where none is known [m/s], the mean of over 2,000 stations. FAO-56, chapter 3."""

WATER_DENSITY = 1000.0
"""Water [kg/m3]: 1 mm on 1 m2 is 1 kg is 1 litre."""

WEIGHING_DOUBT = 0.15
"""Doubt left in a weighed tray: scales, edges of the tray, a day unlike the next [-]. Common practice, no source."""

LEAST_REFERENCE = 0.2
"""Computed reference below which a measured one cannot scale the weather [mm/day]."""


@dataclass(frozen=True)
class Weather:
    """One day of weather in the units of FAO-56: temperatures [degC], pressures [kPa], sun [MJ/m2/day], wind at 2 m
    [m/s].
    """

    high: float
    low: float
    vapour: float
    wind: float
    sun: float
    clear_sun: float
    pressure: float

    @property
    def mean(self) -> float:
        return (self.high + self.low) / 2

    @property
    def saturation(self) -> float:
        return fao.mean_saturation_pressure(self.high, self.low)

    @property
    def deficit(self) -> float:
        return max(0.0, self.saturation - self.vapour)

    @property
    def net(self) -> float:
        return fao.net_radiation(self.sun, self.clear_sun, self.high, self.low, self.vapour)

    @property
    def reference(self) -> float:
        """Evaporation of grass in the open [mm/day]."""
        grass = fao.penman_monteith(
            self.net, self.mean, self.wind, self.saturation, min(self.vapour, self.saturation), self.pressure
        )
        return max(0.0, grass)


@dataclass(frozen=True)
class Place:
    """Where the bed is, latitude [deg] and altitude [m], and the average day of each month there, by the names of the
    inputs.
    """

    label: str
    latitude: float
    altitude: float
    months: Sequence[dict[str, Any]]


def weather_from(known: Mapping[str, Any], place: Place, day_of_year: int) -> Weather:
    """Weather of a day from what is known of it, by the names of the inputs; only high and low must be there.

    What is missing follows FAO-56 for missing data: humidity from a dew point at the night's low (eq. 48), sun from the
    day's swing (eq. 50, inland, no more than a clear sky), wind 2 m/s.
    """
    high, low, latitude, altitude = known["high"], known["low"], place.latitude, place.altitude
    if known.get("humidity_high") is not None:
        vapour = fao.day_vapour_pressure(high, low, known["humidity_high"], known["humidity_low"])
    elif known.get("humidity") is not None:
        vapour = fao.mean_vapour_pressure(high, low, known["humidity"])
    else:
        vapour = fao.saturation_pressure(low)
    clear = fao.clear_sky_sun(latitude, day_of_year, altitude)
    if known.get("solar_radiation") is not None:
        sun = known["solar_radiation"]
    elif known.get("sun_hours") is not None:
        sun = fao.sun_from_hours(known["sun_hours"], latitude, day_of_year)
    else:
        sun = min(SWING_TO_SUN * sqrt(high - low) * fao.sun_outside_air(latitude, day_of_year), clear)
    wind = (
        USUAL_WIND
        if known.get("wind") is None
        else fao.wind_at_two_metres(known["wind"], known.get("wind_height") or 2.0)
    )
    return Weather(high, low, vapour, wind, sun, clear, fao.air_pressure(altitude))


def month_weather(place: Place, number: int) -> Weather:
    """Weather of the average day of month 1 to 12 at a place."""
    return weather_from(place.months[number - 1], place, middle_of_month(number))


def bed_loss(
    day: Weather, shade: float, shelter: float, still_air_factor: float, cover_factor: float, dryness_factor: float
) -> float:
    """Water that a shaded, sheltered bed loses on a day of weather [mm/day]; all factors [-]."""
    wet = fao.wet_surface(day.net, day.mean, day.wind, day.deficit, day.pressure, shade, shelter, still_air_factor)
    return cover_factor * dryness_factor * wet


class AverageDay(NamedTuple):
    """The average day of a month: its weather, what the bed loses [mm/day], and how it dries against a day of 20 °C
    [-].
    """

    weather: Weather
    lost: float
    drying: float


def average_days(
    place: Place, shade: float, shelter: float, cover: float, dryness: float, still_air: float
) -> list[AverageDay]:
    """The average day of each month, January first."""
    days = [month_weather(place, number) for number in range(1, 13)]
    return [AverageDay(day, bed_loss(day, shade, shelter, still_air, cover, dryness), drying(day.mean)) for day in days]


def lane_water(average: Sequence[AverageDay]) -> float | None:
    """Water that a lane needs on a day of 20 °C [kg/m² day], so that its year is as thirsty as these months; None where
    none of them is above freezing.
    """
    drying_of_year = sum(month.drying for month in average)
    return sum(month.lost for month in average) / drying_of_year if drying_of_year else None


def habit_water(area: float, air: float) -> float:
    """Water that growers give a shaded lane on a day [kg/day]; area where the worms live [m2], mean of the air [degC].

    The lane model and a farm's week reckon with the same, where the lane's plan says nothing else.
    >>> round(habit_water(3.0, 20.0), 6), habit_water(3.0, -1.0)
    (6.0, 0.0)
    """
    return lane_facts.WATER_PER_AREA.typical * drying(air) * area


def store_between(bulk_density: float, depth: float, upper: float, lower: float) -> float:
    """Water that the top layer gives up between two moistures [kg/m2 = mm]; density [kg/m3] as it lies at the upper
    one.

    >>> round(store_between(600, 0.05, 0.80, 0.70), 6)
    10.0
    """
    return fao.water_held(bulk_density, depth, upper, upper) - fao.water_held(bulk_density, depth, lower, upper)


def days_of(store: float, loss: float) -> float:
    """Days that a store of water [mm] lasts at a loss [mm/day], a year at most."""
    return min(LONGEST_INTERVAL, store / loss) if loss > 0 else LONGEST_INTERVAL


@dataclass(frozen=True)
class Watering(Answer):
    reference_evaporation: Annotated[
        float,
        Output(
            "mm/day",
            "Reference evaporation",
            "What short grass in the open loses: the figure that weather services publish.",
        ),
    ]
    bed_evaporation: Annotated[
        Band,
        Output(
            "mm/day",
            "Bed evaporation",
            "What this bed loses under its shade, shelter and cover.",
            ranged=True,
            digits=2,
        ),
    ]
    share_of_reference: Annotated[
        float, Output("1", "Bed against open field", "Bed evaporation over the reference.", us="%", metric="%")
    ]
    water_per_day: Annotated[
        Band,
        Output(
            "m3/day",
            "Water a day",
            "To hold the moisture where it is.",
            us="gal/day",
            metric="L/day",
            ranged=True,
            main=True,
            digits=2,
        ),
    ]
    water_per_week: Annotated[
        Band,
        Output(
            "m3/week", "Water a week", "The same over a week.", us="gal/week", metric="L/week", ranged=True, digits=2
        ),
    ]
    days_between_waterings: Annotated[
        Band,
        Output(
            "day",
            "Days between waterings",
            "Until the top layer has dried from the upper to the lower moisture.",
            ranged=True,
            main=True,
            digits=2,
        ),
    ]
    water_per_watering: Annotated[
        float,
        Output(
            "m3",
            "Water each time",
            "What brings the top layer back to the upper moisture.",
            us="gal",
            metric="L",
            main=True,
        ),
    ]
    store: Annotated[
        float,
        Output("mm", "Water the top layer can give", "Between the two moistures; 1 mm is a litre on a square metre."),
    ]
    air_space: Annotated[
        float,
        Output(
            "1",
            "Air in the top layer after a watering",
            "Share of its volume. Worms need a tenth.",
            us="%",
            metric="%",
            digits=2,
        ),
    ]
    lane_water: Annotated[
        float | None,
        Output(
            "kg/m2 day",
            "Water for your lane",
            "For each area, on a day of 68 °F (20 °C): what makes a year of average days as thirsty as here.",
            us="lb/ft2 day",
            digits=2,
        ),
    ]
    habit_per_day: Annotated[
        float,
        Output(
            "m3/day",
            "Water a day by growers' habit",
            "With which the pages about your lane and a farm's week begin.",
            us="gal/day",
            metric="L/day",
            digits=2,
        ),
    ]
    cover_factor_used: Annotated[
        float,
        Output(
            "1",
            "Cover factor used",
            "The one you typed, or the one your weighed tray gives: type that one in from then on.",
        ),
    ]
    watered_area: WateredArea
    average_days: Annotated[Sequence[AverageDay], Trace("The average day of each month")] = field(
        compare=False, repr=False
    )


def middle_of_month(number: int) -> int:
    """Day of the year in the middle of month 1 to 12. FAO-56, eq. 22 and its note."""
    return int(30.4 * number - 15)


def moved_climate(chosen: Climate, latitude: float) -> tuple[dict[str, float], ...]:
    """Months of an invented climate at another latitude [deg]: the same share of the day is sunny, and south of the
    equator the seasons change places."""
    months = [dict(vars(month)) for month in chosen.months]
    if latitude * chosen.latitude < 0:
        months = months[6:] + months[:6]
    for number, month in enumerate(months, start=1):
        season = (number + 5) % 12 + 1 if latitude * chosen.latitude < 0 else number
        share = month["sun_hours"] / fao.daylight_hours(chosen.latitude, middle_of_month(season))
        month["sun_hours"] = share * fao.daylight_hours(latitude, middle_of_month(number))
    return tuple(months)


def place_of(
    climate: str,
    months: Sequence[dict[str, Any]],
    latitude: float | None,
    altitude: float | None,
    means: Sequence[float] | None = None,
    year: str = "usual",
) -> Place:
    """The chosen climate or the months typed over it; a latitude [deg] and altitude [m] that are typed win over its
    own.

    Highs and lows are moved to the means [degC] of the season that all pages share: typed means, kind of year.
    """
    chosen = facts.CLIMATES[climate]
    where = chosen.latitude if latitude is None else latitude
    label = "Your twelve months" if months else f"Your monthly means; else {chosen.label}" if means else chosen.label
    if year != "usual":
        label += f"; {facts.YEARS[year].label.lower()}"
    rows = tuple(months) if months else moved_climate(chosen, where)
    return Place(
        label,
        where,
        chosen.altitude if altitude is None else altitude,
        rows if len(rows) != 12 or (year == "usual" and not means) else moved_months(rows, means, climate, year),
    )


def moved_months(
    rows: Sequence[dict[str, Any]], means: Sequence[float] | None, climate: str, year: str
) -> tuple[dict[str, Any], ...]:
    """Twelve months whose highs and lows lie around the means of the season [degC], their swing as it was."""
    own = [(month["high"] + month["low"]) / 2 for month in rows]
    wanted = season(climate, means or own, year).monthly_means
    return tuple(
        {**month, "high": month["high"] + to - mean, "low": month["low"] + to - mean}
        for month, mean, to in zip(rows, own, wanted)
    )


def place_given(given: Mapping[str, Any]) -> Place:
    """The place that the form tells of."""
    names = ("climate", "months", "latitude", "altitude", "monthly_temperature", "year")
    return place_of(*(given[name] for name in names))


def area_of(given: Mapping[str, Any]) -> float:
    """Bed that is watered [m2]: as typed, or the lane."""
    typed: float | None = given["bed_area"]
    return float(given["lane_length"] * given["lane_width"]) if typed is None else typed


def month_problems(months: Sequence[dict[str, Any]], latitude: float) -> list[Problem]:
    """What is wrong with a table of months: (input, message) pairs, rows counted as the reader sees them."""
    if not months:
        return []
    if len(months) != 12:
        return [("months", f"A year has twelve rows, January first; there are {len(months)}.")]
    problems: list[Problem] = []
    for number, month in enumerate(months, start=1):
        where = f"Row {number} ({MONTH_NAMES[number - 1]}): "
        if month["low"] > month["high"]:
            cells = [(number, "low"), (number, "high")]
            problems.append(("months", Told(where + "the low is above the high.", cells)))
        longest = fao.daylight_hours(latitude, middle_of_month(number))
        if (month.get("sun_hours") or 0.0) > longest + 0.1:
            told = f"{where}the sun is up for only {longest:.1f} hours at latitude {latitude:g}°."
            problems.append(("months", Told(told, [(number, "sun_hours")])))
    return problems


def day_known(typed: Mapping[str, float | None], place: Place, date: date) -> dict[str, Any]:
    """What is known of a day: what was typed, the month's average for the rest, never two ways of saying one thing."""
    month = place.months[date.month - 1]
    known = {name: value for name, value in month.items() if value is not None}
    if "sun_hours" in known:
        # The month's hours belong to its middle; on another day of it the same share of the day is sunny.
        middle = fao.daylight_hours(place.latitude, middle_of_month(date.month))
        share = known["sun_hours"] / middle if middle else 0.0
        known["sun_hours"] = share * fao.daylight_hours(place.latitude, date.timetuple().tm_yday)
    if typed["wind"] is not None:
        known["wind_height"] = typed["wind_height"]
    for group in (("humidity_high", "humidity_low", "humidity"), ("sun_hours", "solar_radiation")):
        if any(typed[name] is not None for name in group):
            for name in group:
                known.pop(name, None)
    swing = month["high"] - month["low"]
    known.update({name: value for name, value in typed.items() if value is not None and name != "wind_height"})
    if typed["low"] is None and typed["high"] is not None:
        known["low"] = typed["high"] - swing
    if typed["high"] is None and typed["low"] is not None:
        known["high"] = typed["low"] + swing
    return known


def weather_problems(known: Mapping[str, Any], place: Place, day_of_year: int) -> list[Problem]:
    """What cannot be true of a day's weather: (input, message) pairs."""
    problems: list[Problem] = []
    if known["low"] > known["high"]:
        problems.append(("low", "The low is above the high: swap them, or look at the units."))
    humidities = known.get("humidity_high"), known.get("humidity_low")
    if (humidities[0] is None) != (humidities[1] is None):
        missing = "humidity_high" if humidities[0] is None else "humidity_low"
        problems.append((missing, "Give both humidities of the day, or leave both blank and give the mean."))
    elif humidities[0] is not None and humidities[1] > humidities[0]:
        problems.append(("humidity_low", "The lowest humidity is above the highest: swap them."))
    where = f"on this date at latitude {place.latitude:g}°"
    longest = fao.daylight_hours(place.latitude, day_of_year)
    if known.get("sun_hours") is not None and known["sun_hours"] > longest + 0.1:
        problems.append(("sun_hours", f"The sun is up for only {longest:.1f} hours {where}."))
    outside = fao.sun_outside_air(place.latitude, day_of_year)
    if known.get("solar_radiation") is not None and known["solar_radiation"] > outside + 0.1:
        problems.append(
            ("solar_radiation", f"No more than {outside:.1f} MJ/m² a day reaches the top of the air {where}.")
        )
    return problems


def tray_problems(tray_loss: float | None, tray_area: float | None, tray_hours: float | None) -> list[Problem]:
    """A weighed tray needs its three figures: (input, message) pairs."""
    named = {"tray_loss": tray_loss, "tray_area": tray_area, "tray_hours": tray_hours}
    if all(value is None for value in named.values()):
        return []
    words = {
        "tray_loss": "the weight it lost",
        "tray_area": "its area",
        "tray_hours": "the hours between the weighings",
    }
    return [(name, f"A weighed tray also needs {words[name]}.") for name, value in named.items() if value is None]


WEATHER = (
    "high",
    "low",
    "humidity_high",
    "humidity_low",
    "humidity",
    "wind",
    "wind_height",
    "sun_hours",
    "solar_radiation",
)


def average_weather(given: Mapping[str, Any]) -> dict[str, float]:
    """{input: number} of the weather that stands in for blanks: the month's average.

    The low goes along with the high.
    """
    place = place_given(given)
    known = day_known({name: given[name] for name in WEATHER}, place, given["date"])
    moved = (
        ("high", "humidity", "sun_hours", "wind") if given["wind_height"] == 2 else ("high", "humidity", "sun_hours")
    )
    return {name: known[name] for name in moved if name in known} | {"bed_area": area_of(given)}


@calculator(
    "climate.water",
    "How much water does this lane lose, and how often do I water?",
    blanks=average_weather,
    leads={
        "climate.mist": {},
        "climate.today": {},
        "moisture.adjust": {"moisture": "lower_moisture", "target": "upper_moisture", "area": "watered_area"},
        "climate.bed_temperature": {},
        "lane.ledger": {"water_per_area_per_day": "lane_water"},
    },
)
def water(
    climate: ClimateChoice = CLIMATE,
    date: Annotated[
        Date,
        Day(
            "Date",
            help="The time of year sets the height of the sun, and the month whose averages fill what you leave blank.",
        ),
    ] = Date(2027, 7, 15),
    shade: Annotated[
        float,
        Share(
            "Shade",
            0.0,
            1.0,
            help="Share of the sun kept off: none in the open, 80 % under 80 % cloth, about 95 % under a solid roof.",
        ),
    ] = 0.8,
    shelter: Annotated[
        float,
        Share("Shelter from wind", 0.0, 1.0, help="Share of the open-field wind kept off by sides, hedges and walls."),
    ] = 0.5,
    cover_factor: Annotated[
        float,
        Number(
            "1",
            "Cover factor",
            0.02,
            2.0,
            help="Bare 1; loose straw or leaves all over 0.5; plastic lying on it 0.15 to 0.3.",
        ),
    ] = 1.0,
    bed_area: LaneArea = None,
    active_depth: Annotated[
        float,
        Number(
            "m", "Depth that dries", 0.01, 0.5, us="in", metric="cm", help="How deep you let it dry between waterings."
        ),
    ] = 0.0508,
    bulk_density: Annotated[
        float,
        Number(
            "kg/m3",
            "Bulk density",
            30,
            1300,
            help="Of the top layer, right after a watering. Loose on top 1,000 lb/yd³ (600 kg/m³); the feed of this"
            " book's lane, lying close, 1,500 (890), which lasts half as long again.",
        ),
    ] = 600.0,
    upper_moisture: Annotated[float, Share("Moisture after watering", 0.3, 0.95)] = facts.UPPER_MOISTURE.typical,
    lower_moisture: Annotated[
        float, Share("Moisture to water again at", 0.2, 0.94, help="Feeding faces are kept at 75–80 %.")
    ] = facts.LOWER_MOISTURE.typical,
    high: Annotated[
        float | None,
        Number(
            "degC",
            "High of the day",
            -40,
            60,
            optional=True,
            group="A day’s weather",
            help="Blank: the month’s average in the climate chosen.",
        ),
    ] = None,
    low: Annotated[
        float | None,
        Number(
            "degC",
            "Low of the night",
            -60,
            50,
            optional=True,
            group="A day’s weather",
            help="Blank: as the high, less the usual swing.",
        ),
    ] = None,
    humidity: Annotated[
        float | None,
        Share("Mean humidity", 0.02, 1.0, optional=True, group="A day’s weather", help="Blank: the month’s average."),
    ] = None,
    humidity_high: Annotated[
        float | None,
        Share(
            "Highest humidity",
            0.02,
            1.0,
            optional=True,
            group="A day’s weather",
            help="With the lowest, better than the mean. Blank: the mean is used.",
        ),
    ] = None,
    humidity_low: Annotated[
        float | None,
        Share("Lowest humidity", 0.02, 1.0, optional=True, group="A day’s weather", help="Blank: the mean is used."),
    ] = None,
    wind: Annotated[
        float | None,
        Number(
            "m/s",
            "Wind in the open",
            0,
            30,
            us="mph",
            metric="m/s",
            optional=True,
            group="A day’s weather",
            help="Blank: the month’s average.",
        ),
    ] = None,
    wind_height: Annotated[
        float,
        Number(
            "m",
            "Height of the wind gauge",
            0.5,
            30,
            group="A day’s weather",
            help="Weather stations often use 10 m (33 ft).",
        ),
    ] = 2.0,
    sun_hours: Annotated[
        float | None,
        Number(
            "hour",
            "Hours of bright sun",
            0,
            24,
            optional=True,
            group="A day’s weather",
            help="Blank: the month’s average.",
        ),
    ] = None,
    solar_radiation: Annotated[
        float | None,
        Number(
            "MJ/m2/day",
            "Solar radiation",
            0,
            45,
            us="MJ/m2/day",
            metric="MJ/m2/day",
            optional=True,
            group="A day’s weather",
            help="If a station gives it, it is better than hours. Blank: from the hours of sun.",
        ),
    ] = None,
    reference_evaporation: Annotated[
        float | None,
        Number(
            "mm/day",
            "Reference evaporation",
            0.05,
            20,
            optional=True,
            group="A day’s weather",
            help="Published by many weather services as ET₀; it then scales the weather above. Blank: computed.",
        ),
    ] = None,
    latitude: Annotated[
        float | None,
        Number(
            "deg",
            "Latitude",
            -90,
            90,
            optional=True,
            group="Place",
            help="South is negative. Blank: that of the climate chosen.",
        ),
    ] = None,
    altitude: Annotated[
        float | None,
        Number(
            "m",
            "Altitude",
            -430,
            5000,
            optional=True,
            group="Place",
            help="Above the sea. Blank: that of the climate chosen.",
        ),
    ] = None,
    months: Annotated[
        Sequence[dict[str, Any]],
        Rows(
            "Twelve average months",
            {
                "month": Text("Month", optional=True),
                "high": Number("degC", "High", -40, 60),
                "low": Number("degC", "Low", -60, 50),
                "humidity": Share("Humidity", 0.02, 1.0, optional=True),
                "wind": Number("m/s", "Wind at 2 m", 0, 30, us="mph", metric="m/s", optional=True),
                "sun_hours": Number("hour", "Sun", 0, 24, optional=True),
                "solar_radiation": Number(
                    "MJ/m2/day", "Radiation", 0, 45, us="MJ/m2/day", metric="MJ/m2/day", optional=True
                ),
            },
            help=(
                "Long averages from your weather service, January first; highs and lows are enough. Blank: the climate"
                " chosen."
            ),
            optional=True,
        ),
    ] = (),
    tray_loss: Annotated[
        float | None,
        Number(
            "kg",
            "Weight a tray lost",
            0.001,
            100,
            us="oz",
            metric="g",
            optional=True,
            group="Weigh a tray",
            help="A tray of the same bedding, weighed twice where the bed is, in the weather above. Blank: no tray.",
        ),
    ] = None,
    tray_area: Annotated[
        float | None,
        Number(
            "m2",
            "Area of the tray",
            0.005,
            10,
            us="in2",
            metric="cm2",
            optional=True,
            group="Weigh a tray",
            help="Blank: no tray.",
        ),
    ] = None,
    tray_hours: Annotated[
        float | None,
        Number(
            "hour",
            "Hours between the weighings",
            1,
            240,
            optional=True,
            group="Weigh a tray",
            help="Whole days are best. Blank: no tray.",
        ),
    ] = None,
    dryness_factor: Annotated[
        float,
        Number(
            "1",
            "Dryness factor",
            0.02,
            1.0,
            group="Doubts",
            help="1 while the surface looks wet; falls as the top dries.",
            fact=facts.DRYNESS_FACTOR,
        ),
    ] = 0.9,
    still_air_factor: Annotated[
        float,
        Number(
            "1",
            "Drying by still air",
            0.1,
            3.0,
            group="Doubts",
            help="1 is Penman’s formula; published ones run from half to half as much again.",
            fact=facts.STILL_AIR_FACTOR,
        ),
    ] = 1.0,
    year: YearChoice = YEAR,
    monthly_temperature: MonthlyMeans = None,
    lane_length: LaneLength = LANE_LENGTH,
    lane_width: LaneWidth = LANE_WIDTH,
) -> Watering:
    """Water lost by a bed from a day's weather, and the days its top layer lasts.

    Source: reference FAO-56 eq. 6; bed Penman 1948 for a wet surface under shade and shelter, times cover and dryness.
    """
    area = lane_length * lane_width if bed_area is None else bed_area
    place = place_of(climate, months, latitude, altitude, monthly_temperature, year)
    problems = month_problems(months, place.latitude) + tray_problems(tray_loss, tray_area, tray_hours)
    if lower_moisture >= upper_moisture:
        problems.append(
            (
                "lower_moisture",
                "Watering starts at the lower moisture and ends at the upper one: this must be the smaller.",
            )
        )
    problems += pores.density_problems(bulk_density, upper_moisture)
    if problems:
        raise Refused(problems)
    day_of_year = date.timetuple().tm_yday
    typed = {
        "high": high,
        "low": low,
        "humidity_high": humidity_high,
        "humidity_low": humidity_low,
        "humidity": humidity,
        "wind": wind,
        "wind_height": wind_height,
        "sun_hours": sun_hours,
        "solar_radiation": solar_radiation,
    }
    known = day_known(typed, place, date)
    if problems := weather_problems(known, place, day_of_year):
        raise Refused(problems)
    day = weather_from(known, place, day_of_year)
    computed = day.reference
    if reference_evaporation is not None and computed < LEAST_REFERENCE:
        raise Refused(
            [
                (
                    "reference_evaporation",
                    (
                        "The weather entered evaporates almost nothing, so it cannot be scaled to this figure: give the"
                        " weather of that day."
                    ),
                )
            ]
        )
    scale = 1.0 if reference_evaporation is None else reference_evaporation / computed

    def loss_with(still_air: float, dryness: float) -> float:
        return scale * cover_factor * bed_loss(day, shade, shelter, still_air, 1.0, dryness)

    loss = loss_with(still_air_factor, dryness_factor)
    least = loss_with(min(still_air_factor, facts.STILL_AIR_FACTOR.low), min(dryness_factor, facts.DRYNESS_FACTOR.low))
    most = loss_with(max(still_air_factor, facts.STILL_AIR_FACTOR.high), max(dryness_factor, facts.DRYNESS_FACTOR.high))
    used = cover_factor
    if tray_loss is not None and tray_area is not None and tray_hours is not None:
        weighed = tray_loss / tray_area * 24 / tray_hours
        used = cover_factor * weighed / loss if loss else cover_factor
        loss, least, most = weighed, weighed * (1 - WEIGHING_DOUBT), weighed * (1 + WEIGHING_DOUBT)
    evaporation = Band(loss, least, most)
    store = store_between(bulk_density, active_depth, upper_moisture, lower_moisture)
    per_day = evaporation.times(area / WATER_DENSITY)
    average = average_days(place, shade, shelter, used, dryness_factor, still_air_factor)
    return Watering(
        reference_evaporation=scale * computed,
        bed_evaporation=evaporation,
        share_of_reference=loss / (scale * computed) if computed else 0.0,
        water_per_day=per_day,
        water_per_week=per_day.times(7),
        days_between_waterings=evaporation.map(lambda lost: days_of(store, lost)),
        water_per_watering=store * area / WATER_DENSITY,
        store=store,
        lane_water=lane_water(average),
        habit_per_day=habit_water(area, day.mean) / WATER_DENSITY,
        cover_factor_used=used,
        air_space=pores.air_space(bulk_density, upper_moisture),
        watered_area=area,
        average_days=average,
    )


# ------------------------------------------------------------------------------------------------ what the page shows


def year_of(
    average: Sequence[AverageDay], shade: float, shelter: float, cover: float, dryness: float, still_air: float
) -> list[tuple[str, float, float, float, float]]:
    """Reference and bed evaporation by month [mm/day]: (month, reference, typical, least, most); doubts as facts
    say.
    """
    rows = []
    for name, month in zip(MONTH_NAMES, average, strict=True):
        least = bed_loss(
            month.weather,
            shade,
            shelter,
            min(still_air, facts.STILL_AIR_FACTOR.low),
            cover,
            min(dryness, facts.DRYNESS_FACTOR.low),
        )
        most = bed_loss(
            month.weather,
            shade,
            shelter,
            max(still_air, facts.STILL_AIR_FACTOR.high),
            cover,
            max(dryness, facts.DRYNESS_FACTOR.high),
        )
        rows.append((name, month.weather.reference, month.lost, least, most))
    return rows


def place_and_day(v: View) -> tuple[Place, dict[str, Any], Weather]:
    """The place and the day's weather of a run, from its inputs."""
    place = place_given(v.given)
    known = day_known({name: getattr(v, name) for name in WEATHER}, place, v.date)
    return place, known, weather_from(known, place, v.date.timetuple().tm_yday)


def _heat_by_air(v: View, day: Weather, wind: float) -> float:
    """Heat that the air brings to a wet surface by the wind that carries its vapour off [W/m2 K]."""
    gamma = fao.psychrometric_constant(day.pressure)
    return gamma * fao.wind_function(wind, v.still_air_factor) * fao.LATENT_HEAT * 1e6 / 86400


def _sun_at_ground(known: Mapping[str, Any], daylight: float) -> str:
    """The equation of the sun at the ground, by what is known of it; daylight [h], none in a polar night."""
    if known.get("solar_radiation") is not None:
        return "{sun} = {measured_sun}"
    if known.get("sun_hours") is not None:
        if not daylight:
            return "{sun} = 0.25 × {outside}"
        return "{sun} = (0.25 + 0.50 × (the smaller of 1 and {bright} ÷ {length})) × {outside}"
    swing = f"{SWING_TO_SUN:g} × √(({{day_high}} − {{day_low}}) in K)"
    return f"{{sun}} = the smaller of {{clear_sun}} and {swing} × {{outside}}"


def working_steps(v: View, place: Place, known: Mapping[str, Any], day: Weather) -> list[Step]:
    """Every equation with this run's numbers; the numbers of the equations are FAO-56's own."""
    day_of_year = v.date.timetuple().tm_yday
    sheltered = day.wind * (1 - v.shelter)
    constant = fao.cooling_constant(day.mean, sheltered, day.pressure, v.still_air_factor)
    sun_part = fao.wet_surface_radiation(day.net * (1 - v.shade), day.mean, constant)
    air_part = fao.wet_surface_drying(day.mean, sheltered, day.deficit, constant, v.still_air_factor)
    per_day, kelvin = "MJ/m2 day", "kPa/K"
    held_water = v.bulk_density * v.active_depth * (1 - v.upper_moisture)
    shown: dict[str, Any] = {
        "day_high": Part("high", known["high"], "degC"),
        "day_low": Part("low", known["low"], "degC"),
        "mean": Part("mean temperature", day.mean, "degC"),
        "saturation": Part("saturation pressure", day.saturation, "kPa"),
        "vapour": Part("vapour pressure", day.vapour, "kPa"),
        "deficit": Part("deficit", day.deficit, "kPa"),
        "wind_low": Part("wind at 2 m", day.wind, "m/s", us="mph"),
        "wind_bed": Part("wind at the bed", sheltered, "m/s", us="mph"),
        "outside": Part("sun outside the air", fao.sun_outside_air(place.latitude, day_of_year), per_day, us=per_day),
        "length": Part("day length", fao.daylight_hours(place.latitude, day_of_year), "hour"),
        "sun": Part("sun at the ground", day.sun, per_day, us=per_day),
        "net": Part("net radiation", day.net, per_day, us=per_day),
        "slope": Part("Δ", fao.saturation_slope(day.mean), kelvin, us=kelvin),
        "gamma": Part("γ", fao.psychrometric_constant(day.pressure), kelvin, us=kelvin),
        "gamma_star": Part("γ*", constant, kelvin, us=kelvin),
        "long_wave": Part("long wave", fao.long_wave_coefficient(day.mean), "W/m2 K", us="W/m2 K"),
        "by_air": Part("heat that the air brings", _heat_by_air(v, day, sheltered), "W/m2 K", us="W/m2 K"),
        "latent": Part("heat that evaporates water", fao.LATENT_HEAT, "MJ/kg", us="MJ/kg"),
        "of_water": Part("density of water", 1000.0, "kg/m3"),
        "pressure": Part("air pressure", day.pressure, "kPa", digits=4),
        "sun_part": Part("the sun's part", sun_part, "mm/day"),
        "air_part": Part("the air's part", air_part, "mm/day"),
        "dry_matter": Part("dry matter of the top layer", held_water, "kg/m2"),
        "months": RowsPart(
            "the average days of the months",
            {"lost": "mm/day", "drying": "1"},
            [{"lost": month.lost, "drying": month.drying} for month in v.average_days],
        ),
        "saturated": CurvePart("0.6108 exp(17.27 T ÷ (T + 237.3))", fao.saturation_pressure, ("degC",), "kPa"),
    }

    clear = fao.clear_sky_sun(place.latitude, day_of_year, place.altitude)
    clearness = max(0.3, min(1.0, day.sun / clear)) if clear > 0 else 0.65
    shown |= {
        "place_altitude": Part("altitude", place.altitude, "m"),
        "day_number": Part("day of the year", day_of_year),
        "place_latitude": Part("latitude", place.latitude, "deg"),
        "tilt": Part("height of the noon sun over the equator, in radians", fao.declination(day_of_year)),
        "sunset": Part("half the turn of the earth by day, in radians", fao.sunset_angle(place.latitude, day_of_year)),
        "clear_sun": Part("sun under a clear sky", clear, per_day, us=per_day),
        "clearness": Part("clearness of the sky", clearness),
        "sky": Part("heat radiated to the sky", 0.77 * day.sun - day.net, per_day, us=per_day),
        "bright": Part("hours of bright sun", known.get("sun_hours"), "hour"),
        "measured_sun": Part("sun as measured", known.get("solar_radiation"), per_day, us=per_day),
        "measured_wind": Part("wind as measured", known.get("wind"), "m/s", us="mph"),
        "mast": Part("height of its measurement", known.get("wind_height") or 2.0, "m"),
        "solids": Part("density of the solids", pores.particle_density(), "kg/m3"),
        "habit": Part(lane_facts.WATER_PER_AREA.label, lane_facts.WATER_PER_AREA.typical, "kg/m2 day", us="lb/ft2 day"),
        "dries": Part("how such air dries a lane, against air of 20 °C", drying(day.mean)),
    }

    def step(title: str, equation: str, source: str, prose: bool = False, note: str = "") -> Step:
        return Step(title, equation, source, note, shown, prose)

    daylight = fao.daylight_hours(place.latitude, day_of_year)
    lasts = "{store} ÷ {bed_evaporation}"
    if v.days_between_waterings >= LONGEST_INTERVAL:
        lasts = f"the smaller of {LONGEST_INTERVAL:g} days and {lasts}" if v.bed_evaporation else "{longest}"
    shown["longest"] = Part("the longest that is told, where nothing is lost", LONGEST_INTERVAL, "day")
    scaled = abs(day.reference - v.reference_evaporation) > 1e-9 * max(1.0, day.reference)
    by_a_given_one = "Scaled to the reference that was given." if scaled else ""

    return [
        step(
            "Saturation pressure of the day",
            "{saturation} = ({saturated} at {day_high} + {saturated} at {day_low}) ÷ 2",
            "FAO-56, eq. 11 and 12",
        ),
        step("Deficit", "{deficit} = {saturation} − {vapour}", "FAO-56, eq. 17, 19 or 48, by what is known"),
        step(
            "Wind",
            (
                f"{{wind_low}} = {USUAL_WIND:g} m/s"
                if known.get("wind") is None
                else "{wind_low} = {measured_wind} × 4.87 ÷ ln(67.8 × {mast} in m − 5.42)"
            ),
            "FAO-56, eq. 47; where none is known, 2 m/s",
        ),
        step(
            "Day length",
            "{tilt} = 0.409 × sin(2 × π × {day_number} ÷ 365 − 1.39); cos {sunset} = the larger of −1 and the smaller"
            " of 1 and 0 − tan {place_latitude} × tan {tilt}; {length} = 24 hours ÷ π × {sunset}",
            "FAO-56, eq. 24, 25 and 34",
        ),
        step(
            "Sun outside the air",
            "{outside} = 24 × 60 × 0.082 MJ/m² day ÷ π × (1 + 0.033 × cos(2 × π × {day_number} ÷ 365)) × ({sunset} ×"
            " sin {place_latitude} × sin {tilt} + cos {place_latitude} × cos {tilt} × sin {sunset})",
            "FAO-56, eq. 21 and 23",
        ),
        step("Sun at the ground", _sun_at_ground(known, daylight), "FAO-56, eq. 35; without hours eq. 50"),
        step(
            "Net radiation",
            "{clear_sun} = (0.75 + 2×10⁻⁵ × {place_altitude} in m) × {outside}; "
            + (
                "{clearness} = the larger of 0.3 and the smaller of 1 and {sun} ÷ {clear_sun}; "
                if clear > 0
                else "{clearness} = 0.65; "
            )
            + "{sky} = 4.903×10⁻⁹ MJ/m² day × (({day_high} in °C + 273.16)^4 + ({day_low} in °C + 273.16)^4) ÷ 2 ×"
            " (0.34 − 0.14 × √({vapour} in kPa)) × (1.35 × {clearness} − 0.35); {net} = 0.77 × {sun} − {sky}",
            "FAO-56, eq. 37 to 40",
        ),
        step(
            "Slope and psychrometric constant",
            "{slope} = 4098 °C × {saturated} at {mean} ÷ ({mean} + 237.3 °C)^2; {gamma} = 0.000665 × {pressure} ÷ 1 °C",
            "FAO-56, eq. 13, 7 and 8",
        ),
        step(
            "Reference evaporation",
            ("{reference_evaporation} = " if v.reference_evaporation else "0 mm/day = the larger of 0 and ")
            + "1 mm/day × (0.408 × {slope} in kPa/K × {net} in MJ/m² day + {gamma} in kPa/K ×"
            " 900 ÷ ({mean} in °C + 273) × {wind_low} in m/s × {deficit} in kPa) ÷ ({slope} in kPa/K + {gamma} in"
            " kPa/K × (1 + 0.34 × {wind_low} in m/s))",
            "FAO-56, eq. 6",
            prose=scaled,
            note=by_a_given_one,
        ),
        step("Wind at the bed", "{wind_bed} = {wind_low} × (1 − {shelter})", "shelter as given"),
        step(
            "Warmed by what it faces",
            "{gamma_star} = {gamma} × (1 + {long_wave} ÷ {by_air})",
            "Leuning et al. 1995",
            note="A cool wet surface takes up long wave.",
        ),
        step(
            "Sun's part on the bed",
            "{sun_part} = {slope} ÷ ({slope} + {gamma_star}) × {net} × (1 − {shade}) ÷ {latent} ÷ {of_water}",
            "Penman 1948, first term",
        ),
        step(
            "Air's part on the bed",
            "{air_part} = {gamma_star} ÷ ({slope} + {gamma_star}) × 2.6 mm/kPa day × (1 + 0.54 × {wind_bed} in m/s) ×"
            " {deficit} × {still_air_factor}",
            "Penman 1948, second term",
        ),
        step(
            "Bed evaporation",
            "{bed_evaporation} = the larger of 0 and ({sun_part} + {air_part}) × {cover_factor_used} ×"
            " {dryness_factor}",
            "cover and dryness: see the facts",
            prose=scaled,
            note=by_a_given_one,
        ),
        step("Water a day", "{water_per_day} = {bed_evaporation} × {watered_area}", "1 mm on 1 m² is 1 L"),
        step(
            "Water in the top layer",
            "{store} = {dry_matter} ÷ {of_water} × ({upper_moisture} ÷ (1 − {upper_moisture}) − {lower_moisture} ÷ (1 −"
            " {lower_moisture}))",
            "wet-basis mass balance",
        ),
        step(
            "A week, a watering",
            "{water_per_week} = {water_per_day} × 7 days/week; {water_per_watering} = {store} × {watered_area}"
            + (
                "; {share_of_reference} = {bed_evaporation} ÷ {reference_evaporation}"
                if v.reference_evaporation
                else ""
            ),
            "arithmetic",
        ),
        step(
            "Air left",
            "{air_space} = 1 − {bulk_density} × ((1 − {upper_moisture}) ÷ {solids} + {upper_moisture} ÷ {of_water})",
            "definition; EN 13041 for the solids",
        ),
        step(
            "By growers' habit",
            "{habit_per_day} = {habit} × {dries} × {watered_area} ÷ {of_water}",
            "common practice, no source; that it follows what the air can hold is our own judgement",
        ),
        step("Days between waterings", f"{{days_between_waterings}} = {lasts}", "mass balance"),
        *(
            [
                step(
                    "For your lane",
                    "{lane_water} = (sum over {months} of {lost}) × {of_water} ÷ (sum over {months} of {drying})",
                    "that a lane dries as the air can hold is our own judgement",
                )
            ]
            if v.lane_water is not None
            else []
        ),
    ]


COVER_GUIDE = (
    ("bare bedding, wet on top", 1.0, "the definition"),
    ("loose straw or leaves on half of it", 0.75, "5 % less for every 10 % covered, FAO-56"),
    ("loose straw or leaves all over", 0.5, "5 % less for every 10 % covered, FAO-56"),
    ("plastic or a lid lying on it", 0.2, "common practice, no source"),
)


def watering_warnings(v: View, place: Place, known: Mapping[str, Any], day: Weather) -> list[tuple[str | None, str]]:
    """Sentences for figures that are allowed but deserve a second look."""
    warnings: list[tuple[str | None, str]] = []
    if v.bed_evaporation > v.reference_evaporation * 1.2 > LEAST_REFERENCE:
        warnings.append(
            (
                "shade",
                (
                    "This bed loses more than a lawn in the open. That is right for a wet surface in sun and wind:"
                    " shade it."
                ),
            )
        )
    if v.days_between_waterings < 1:
        warnings.append(
            (
                "active_depth",
                (
                    f"The top layer lasts {v['days_between_waterings']}: water more than once a day, shade it, cover"
                    f" it, or keep more than {v['active_depth']} moist."
                ),
            )
        )
    if v.days_between_waterings > 14:
        warnings.append(
            (
                None,
                (
                    f"{v['days_between_waterings']} is long. Look at the bed every few days all the same: fresh feed,"
                    " draughts and warm spots are not in the sum."
                ),
            )
        )
    if v.lower_moisture < 0.60:
        warnings.append(
            ("lower_moisture", f"{v['lower_moisture']} is drier than the published limit of 60 % for these worms.")
        )
    if told := pores.mud(v.bulk_density, v.upper_moisture):
        warnings.append(("upper_moisture", told))
    if day.mean < 0:
        warnings.append(
            (
                None,
                (
                    "The day is below freezing: the bed hardly dries, and water freezes in hoses. See the bed's"
                    " temperature instead."
                ),
            )
        )
    if day.sun > 1.02 * day.clear_sun > 0:
        warnings.append(
            ("solar_radiation", "More sun than a clear sky gives on this date: check the figure and its unit.")
        )
    if v.cover_factor_used > 1.6 or v.cover_factor_used < 0.1:
        warnings.append(
            (
                "tray_loss",
                (
                    f"The weighed tray stands for a cover factor of {v.cover_factor_used:.2f}, which is unusual: check"
                    " its area, the hours, and that the weather above is that of the weighing."
                ),
            )
        )
    if v.months and v.monthly_temperature and means_apart(v.months, v.monthly_temperature):
        warnings.append(
            (
                "months",
                (
                    "This table and your twelve monthly means speak of two places. The means are used, as on every"
                    " page: clear one of the two."
                ),
            )
        )
    if all(month.get("sun_hours") is None and month.get("solar_radiation") is None for month in place.months):
        warnings.append(
            (
                "months",
                (
                    "No sun in your twelve months: it is guessed from the swing between high and low, which fails near"
                    " the sea."
                ),
            )
        )
    return warnings


def means_apart(months: Sequence[Mapping[str, Any]], means: Sequence[float]) -> bool:
    """Whether a month's mean of the table is another one than that typed for all pages [degC], by over a degree."""
    return any(abs((month["high"] + month["low"]) / 2 - mean) > 1 for month, mean in zip(months, means))


def _lane_sentence(v: View) -> list[str]:
    """What the pages about the lane reckon with, and what this sum would give them."""
    if v.lane_water is None:
        return []
    habit = v.say(lane_facts.WATER_PER_AREA.typical, "kg/m2 day", us="lb/ft2 day", digits=2)
    today = f"{v['habit_per_day']} on this one, and some of it runs through" if v.habit_per_day else "none in frost"
    return [
        f"Growers give a shaded lane about {habit} on a day of 68 °F (20 °C): {today}. The pages about"
        " your lane and a farm's week begin with that, where the worms live.",
        f"This sum says {v['lane_water']} on such a day: the link to the lane's books takes it along.",
    ]


@presents(water)
def show_water(v: View) -> Show:
    place, known, day = place_and_day(v)
    months = year_of(v.average_days, v.shade, v.shelter, v.cover_factor_used, v.dryness_factor, v.still_air_factor)
    thirstiest = max(months, key=lambda month: month[2])
    busiest = days_of(v.store, thirstiest[2])
    year_total = 365.25 / 12 * sum(month[2] for month in months)
    sheltered = day.wind * (1 - v.shelter)
    constant = fao.cooling_constant(day.mean, sheltered, day.pressure, v.still_air_factor)
    in_sun = fao.wet_surface_radiation(day.net * (1 - v.shade), day.mean, constant)
    in_air = fao.wet_surface_drying(day.mean, sheltered, day.deficit, constant, v.still_air_factor)
    larger = "the sun, so more shade saves most" if in_sun > in_air else "the dry air, so shelter and a cover save most"
    return Show(
        working=working_steps(v, place, known, day),
        tables=[
            Table(
                "year",
                f"Average days of the year: {place.label}",
                [
                    Column("month", "Month"),
                    Column("reference", "Reference", "mm/day"),
                    Column("bed", "Bed", "mm/day"),
                    Column("bed_low", "at least", "mm/day"),
                    Column("bed_high", "at most", "mm/day"),
                    Column("water", "Water", "m3/day", us="gal/day", metric="L/day"),
                    Column("days", "Days between waterings", "day"),
                ],
                rows=[
                    (name, reference, bed, least, most, bed * v.watered_area / WATER_DENSITY, days_of(v.store, bed))
                    for name, reference, bed, least, most in months
                ],
            ),
            Table(
                "covers",
                "Cover factors to start from",
                [Column("cover", "Cover"), Column("factor", "Factor", "1"), Column("source", "From")],
                rows=list(COVER_GUIDE),
            ),
        ],
        figures=[
            Figure(
                "year",
                f"Water through the year: {place.label}",
                finding=(
                    f"{thirstiest[0]} asks for most: {v.say(thirstiest[2], 'mm/day')}, and a watering every"
                    f" {v.say(busiest, 'day', digits=2)}. Over the year the bed loses"
                    f" {v.say(year_total, 'mm', digits=2)} of water."
                ),
                x=Axis("Month", kind="band"),
                y=Axis("Water lost", "mm/day", low=0),
                marks=[
                    Mark(
                        "band",
                        [(name[:3], least, most) for name, _, _, least, most in months],
                        label="bed, range of formulas",
                        tone="main",
                    ),
                    Mark("line", [(name[:3], bed) for name, _, bed, _, _ in months], label="bed", tone="main"),
                    Mark(
                        "line",
                        [(name[:3], reference) for name, reference, *_ in months],
                        label="grass in the open",
                        tone="muted",
                        dashed=True,
                    ),
                ],
            )
        ],
        warnings=watering_warnings(v, place, known, day),
        reading=[
            f"On this day the bed loses {v['water_per_day']}; a lawn in the open loses {v['reference_evaporation']}.",
            (
                f"Watered to {v.yours('upper_moisture')} and left to fall to {v.yours('lower_moisture')}, the top"
                f" {v.yours('active_depth')} lasts {v['days_between_waterings']}; then it takes"
                f" {v['water_per_watering']}."
            ),
            f"Most of the loss comes from {larger}.",
            (
                "Published formulas for still air differ threefold, so the range is wide. A weighed tray narrows it."
                if v.tray_loss is None
                else (
                    f"Your tray sets the loss; it stands for a cover factor of {v.cover_factor_used:.2f}. Type that in"
                    " and clear the tray to use it in other weather."
                )
            ),
            *_lane_sentence(v),
            "Water in fresh feed counts: ten parts of feed at 75 % bring seven and a half parts of water.",
        ],
        cautions=[
            "In great heat work early, drink, and do not work alone in a closed tunnel.",
        ],
    )
