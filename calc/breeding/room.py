"""What holding a room at its setpoint takes: heat lost through walls and air, by month, and the money."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Annotated

from calc.climate.psychrometrics import dew_point, saturation_pressure, vapour_pressure
from calc.climate.season import season
from calc.engine import (
    FOOT,
    Answer,
    Axis,
    Column,
    CurvePart,
    Figure,
    Mark,
    Number,
    Output,
    Part,
    Refused,
    RowsPart,
    Share,
    Show,
    Step,
    Table,
    View,
    calculator,
    presents,
)
from calc.engine.kinds.base import MONTH_NAMES
from calc.facts import breeding as facts
from calc.inputs import CLIMATE, YEAR, ClimateChoice, MonthlyMeans, YearChoice

DAYS = (31, 28.25, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)
MONTHS_SHORT = tuple(month[:3] for month in MONTH_NAMES)
R = 0.17611018368
"""1 ft²·h·°F/BTU [m²K/W]."""


def surface_loss(area: float, resistance: float, difference: float) -> float:
    """Heat through a wall, roof or floor [W]. area [m²], resistance [m²K/W], difference inside to outside [K].

    >>> surface_loss(10.0, 2.0, 20.0)
    100.0
    """
    return area * difference / resistance


def envelope_conductance(
    length: float, width: float, height: float, wall_resistance: float, roof_resistance: float, floor_resistance: float
) -> float:
    """Heat through walls, roof and floor for each degree [W/K]: sum of area ÷ resistance.

    Lengths [m], resistances [m²K/W].

    >>> envelope_conductance(2, 1, 1, 2, 2, 2)
    5.0
    """
    surfaces = (
        (2 * (length + width) * height, wall_resistance),
        (length * width, roof_resistance),
        (length * width, floor_resistance),
    )
    return sum(surface_loss(area, resistance, 1.0) for area, resistance in surfaces)


def wall_inside(setpoint: float, outside: float, wall_resistance: float) -> float:
    """Temperature of the inside face of a wall [°C]: resistances in a row, the inside air film first.

    Temperatures [°C], wall_resistance [m²K/W].

    Source: ISO 6946.
    >>> wall_inside(20.0, -10.0, 1.3)
    17.0
    """
    return setpoint - (setpoint - outside) * min(1.0, facts.INSIDE_FILM.typical / wall_resistance)


def dry_humidity(setpoint: float, surface: float) -> float:
    """Highest humidity of air at setpoint that does not wet a surface [-]; temperatures [°C].

    >>> round(dry_humidity(20.0, 10.0), 3), dry_humidity(20.0, 25.0)
    (0.525, 1.0)
    """
    return min(1.0, saturation_pressure(surface) / saturation_pressure(setpoint))


def air_conductance(volume: float, air_changes: float) -> float:
    """Heat that changing air carries for each degree [W/K]. volume [m³], air_changes [1/h]."""
    return facts.AIR_HEAT.typical * air_changes * volume


def month_energy(conductance: float, setpoint: float, outside: float, gains: float, days: float) -> tuple[float, float]:
    """(heat to add, heat to take away) in a month from its mean temperature [kWh]; gains [W] help in winter and burden
    in summer.
    """
    balance = (conductance * (setpoint - outside) - gains) * 24 * days / 1000
    return max(0.0, balance), max(0.0, -balance)


@dataclass(frozen=True)
class Room(Answer):
    energy_cost_per_year: Annotated[
        float, Output("money/year", "Energy in a year", "Heating and cooling, from monthly means.", main=True)
    ]
    heater_size: Annotated[
        float, Output("W", "Heater", "For the coldest hour you named, a quarter spare, no help from gains.", main=True)
    ]
    cooler_size: Annotated[
        float, Output("W", "Cooler", "For the hottest hour, a quarter spare, gains included.", main=True)
    ]
    heat_loss: Annotated[float, Output("W", "Heat lost in the coldest hour", "", main=True)]
    conductance: Annotated[float, Output("W/K", "Heat lost for each degree", "Walls, roof, floor and air.")]
    air_share: Annotated[float, Output("1", "Share of it that goes with the air", "", us="%", metric="%", digits=2)]
    energy_per_month: Annotated[
        float, Output("kWh/month", "Energy a month, on average", "Bought energy, after efficiency.")
    ]
    energy_per_year: Annotated[float, Output("kWh/year", "Energy a year", "")]
    wall_temperature: Annotated[float, Output("degC", "Inside of the wall in the coldest hour", "")]
    dew_point: Annotated[float, Output("degC", "Dew point of the room's air", "Walls colder than this get wet.")]
    highest_dry_humidity: Annotated[
        float,
        Output(
            "1",
            "Humidity up to which the walls stay dry",
            "In the coldest hour. Corners and studs are colder: stay well under it.",
            us="%",
            metric="%",
            digits=2,
        ),
    ]
    condensation: Annotated[bool, Output("1", "Walls get wet", "In the coldest hour.")]
    second_room_cost_per_year: Annotated[
        float | None,
        Output("money/year", "The same room at the other setpoint", "Blank when no second setpoint is given."),
    ]


@calculator(
    "breeding.room",
    "What does holding the rooms at their setpoints take?",
    leads={
        "economics": {},
        "economics.unit_cost": {"energy_cost_per_month": "energy_cost_per_year"},
        "breeding.trays": {},
    },
)
def room(
    length: Annotated[float, Number("m", "Length inside", 0.5, 100)] = 12 * FOOT,
    width: Annotated[float, Number("m", "Width inside", 0.5, 50)] = 10 * FOOT,
    height: Annotated[float, Number("m", "Height inside", 0.5, 10)] = 8 * FOOT,
    setpoint: Annotated[
        float, Number("degC", "Temperature held", -5, 40, help="Of the air; bedding follows it in a day or two.")
    ] = (81 - 32) / 1.8,
    second_setpoint: Annotated[
        float | None,
        Number(
            "degC", "Second room, held at", -5, 40, help="The same room, for comparison. Blank: none.", optional=True
        ),
    ] = 20.0,
    design_temperature: Annotated[
        float, Number("degC", "Coldest hour outside", -50, 40, help="Near the coldest that comes in a usual winter.")
    ] = (10 - 32) / 1.8,
    hot_design_temperature: Annotated[float, Number("degC", "Hottest hour outside", -20, 55)] = (90 - 32) / 1.8,
    climate: ClimateChoice = CLIMATE,
    monthly_means: MonthlyMeans = None,
    weather_year: YearChoice = YEAR,
    energy_price: Annotated[
        float,
        Number(
            "money/kWh",
            "Price of energy",
            0,
            10,
            us="money/kWh",
            spread=(0.10, 0.30),
            help="Invented, as an example.",
        ),
    ] = 0.18,
    wall_resistance: Annotated[
        float,
        Number(
            "m2 K/W",
            "Insulation of the walls",
            0.05,
            20,
            spread=(1.0, 4.0),
            help="R-value. 4 in (10 cm) of foam board is about R 20 (3.5 m²K/W).",
            group="Insulation and air",
        ),
    ] = 13 * R,
    roof_resistance: Annotated[
        float, Number("m2 K/W", "Insulation of the roof", 0.05, 20, spread=(1.5, 6.0), group="Insulation and air")
    ] = 19 * R,
    floor_resistance: Annotated[
        float, Number("m2 K/W", "Insulation of the floor", 0.05, 20, spread=(0.5, 3.0), group="Insulation and air")
    ] = 8 * R,
    air_changes: Annotated[
        float,
        Number(
            "1/hour",
            "Air changes an hour",
            0,
            30,
            spread=(0.3, 1.5),
            help="0.1–0.5 tight, 0.5–1.5 usual, 1.5–2 leaky. Worms need some.",
            group="Insulation and air",
        ),
    ] = 0.5,
    humidity: Annotated[
        float,
        Share(
            "Humidity in the room", 0.05, 1.0, help="Trays keep it high.", spread=(0.6, 0.9), group="Insulation and air"
        ),
    ] = 0.75,
    gains: Annotated[
        float,
        Number(
            "W",
            "Heat from lights, motors, people, feed",
            0,
            50000,
            help="On average, day and night.",
            group="Heating and cooling",
        ),
    ] = 60.0,
    heating_efficiency: Annotated[
        float,
        Number(
            "1",
            "Heat for each unit of energy",
            0.2,
            6,
            spread=(0.85, 3.0),
            help="1 for an electric heater, 2.5–4.5 for a heat pump over a season.",
            group="Heating and cooling",
        ),
    ] = 1.0,
    cooling_cop: Annotated[
        float, Number("1", "Cooling for each unit of energy", 0.5, 8, spread=(2.0, 4.0), group="Heating and cooling")
    ] = 3.0,
) -> Room:
    """Heat loss, equipment and energy of a room held at one temperature.

    Lengths [m]; resistances [m²K/W] with air films; air_changes [1/h]; temperatures [°C]; gains [W]; energy_price
    [money/kWh].
    Source: steady heat loss, ASHRAE Fundamentals and any building-physics text; monthly means instead of degree days;
    sea-level air.
    """
    if design_temperature >= hot_design_temperature:
        raise Refused([("design_temperature", "Coldest hour outside must be colder than the hottest hour.")])
    shell = envelope_conductance(length, width, height, wall_resistance, roof_resistance, floor_resistance)
    air = air_conductance(length * width * height, air_changes)
    total = shell + air
    loss = max(0.0, total * (setpoint - design_temperature))
    heat_in = max(0.0, total * (hot_design_temperature - setpoint) + gains)
    outside = season(climate, monthly_means, weather_year).monthly_means
    bought = year_energy(total, setpoint, outside, gains, heating_efficiency, cooling_cop)
    wall = wall_inside(setpoint, design_temperature, wall_resistance)
    dew = dew_point(vapour_pressure(setpoint, humidity))
    second = (
        None
        if second_setpoint is None
        else sum(year_energy(total, second_setpoint, outside, gains, heating_efficiency, cooling_cop)) * energy_price
    )
    return Room(
        energy_cost_per_year=sum(bought) * energy_price,
        heater_size=loss * facts.SPARE.typical,
        cooler_size=heat_in * facts.SPARE.typical,
        heat_loss=loss,
        conductance=total,
        air_share=air / total,
        energy_per_month=sum(bought) / 12,
        energy_per_year=sum(bought),
        wall_temperature=wall,
        dew_point=dew,
        highest_dry_humidity=dry_humidity(setpoint, wall),
        condensation=wall < dew,
        second_room_cost_per_year=second,
    )


def year_energy(
    conductance: float,
    setpoint: float,
    monthly_means: Sequence[float],
    gains: float,
    heating_efficiency: float,
    cooling_cop: float,
) -> list[float]:
    """Bought energy of each month [kWh]."""
    found = []
    for outside, days in zip(monthly_means, DAYS):
        heat, cold = month_energy(conductance, setpoint, outside, gains, days)
        found.append(heat / heating_efficiency + cold / cooling_cop)
    return found


@presents(room)
def show_room(v: View) -> Show:
    means = season(v.climate, v.monthly_means, v.weather_year).monthly_means
    months = [
        (name, outside, *month_energy(v.conductance, v.setpoint, outside, v.gains, days))
        for name, outside, days in zip(MONTH_NAMES, means, DAYS)
    ]
    bought = year_energy(v.conductance, v.setpoint, means, v.gains, v.heating_efficiency, v.cooling_cop)
    second = (
        []
        if v.second_setpoint is None
        else year_energy(v.conductance, v.second_setpoint, means, v.gains, v.heating_efficiency, v.cooling_cop)
    )
    walls = [wall_inside(v.setpoint, outside, v.wall_resistance) for outside in means]
    rows = [
        (*month, energy, energy * v.energy_price, wall, dry_humidity(v.setpoint, wall))
        for month, energy, wall in zip(months, bought, walls)
    ]
    marks = [Mark("bars", list(zip(MONTHS_SHORT, bought)), label=f"held at {v['setpoint']}")]
    if second:
        marks.append(
            Mark("bars", list(zip(MONTHS_SHORT, second)), label=f"held at {v['second_setpoint']}", tone="second")
        )
    return Show(
        working=_working(v, bought, second, means),
        tables=[
            Table(
                "months",
                "Month by month",
                [
                    Column("month", "Month"),
                    Column("outside", "Outside", "degC"),
                    Column("heat", "Heat to add", "kWh"),
                    Column("cold", "Heat to take away", "kWh"),
                    Column("energy", "Energy bought", "kWh"),
                    Column("cost", "Cost", "money"),
                    Column("wall", "Wall inside", "degC"),
                    Column("humidity", "Dry up to a humidity of", "1", us="%", metric="%", digits=2),
                ],
                rows,
            ),
            *(
                [
                    Table(
                        "two",
                        "Two rooms, two setpoints",
                        [Column("what", "What"), Column("first", "First room"), Column("second", "Second room")],
                        _two(v),
                        open=True,
                    )
                ]
                if second
                else []
            ),
        ],
        figures=[
            Figure(
                "energy",
                "Energy bought, month by month",
                finding=_finding(v, bought),
                x=Axis("Month", kind="band"),
                y=Axis("Energy a month", "kWh", low=0),
                marks=marks,
            ),
            _wall_figure(v),
        ],
        warnings=_warnings(v),
        reading=_reading(v),
    )


def _finding(v: View, bought: Sequence[float]) -> str:
    dearest = max(range(12), key=lambda month: bought[month])
    return (
        f"{MONTH_NAMES[dearest]} takes most: {v.say(bought[dearest], 'kWh')}, or"
        f" {v.money(bought[dearest] * v.energy_price)}."
    )


def _wall_figure(v: View) -> Figure:
    """The wall's inside face against the dew point, from the coldest hour up."""
    coldest = min(v.design_temperature, v.setpoint - 1)
    outside = [coldest + (v.setpoint - coldest) * step / 20 for step in range(21)]
    marks = [
        Mark(
            "line", [(place, wall_inside(v.setpoint, place, v.wall_resistance)) for place in outside], label="your wall"
        ),
        Mark(
            "line",
            [
                (place, wall_inside(v.setpoint, place, facts.INSIDE_FILM.typical + facts.OUTSIDE_FILM.typical))
                for place in outside
            ],
            label="single glass",
            tone="second",
            dashed=True,
        ),
    ]
    marks.append(Mark("rule_y", [(v.dew_point, f"dew point at {v['humidity']}")], tone="warn"))
    single_pane = facts.INSIDE_FILM.typical + facts.OUTSIDE_FILM.typical
    finding = (
        f"In the coldest hour your wall is at {v['wall_temperature']} inside, and the dew point is {v['dew_point']}: it"
        f" {'gets wet' if v.condensation else 'stays dry'}. A single pane would be at"
        f" {v.say(wall_inside(v.setpoint, v.design_temperature, single_pane), 'degC')}."
    )
    return Figure(
        "wall",
        "The inside of the wall, against the weather",
        finding=finding,
        x=Axis("Outside", "degC"),
        y=Axis("Inside face", "degC"),
        marks=marks,
    )


def _two(v: View) -> list[tuple[str, ...]]:
    cost = (v.energy_cost_per_year, v.second_room_cost_per_year)
    heat = [
        max(0.0, v.conductance * (t - v.design_temperature)) * facts.SPARE.typical
        for t in (v.setpoint, v.second_setpoint)
    ]
    cold = [
        max(0.0, v.conductance * (v.hot_design_temperature - t) + v.gains) * facts.SPARE.typical
        for t in (v.setpoint, v.second_setpoint)
    ]
    walls = [wall_inside(t, v.design_temperature, v.wall_resistance) for t in (v.setpoint, v.second_setpoint)]
    dry = [
        v.say(dry_humidity(t, wall), "1", us="%", metric="%", digits=2)
        for t, wall in zip((v.setpoint, v.second_setpoint), walls)
    ]
    return [
        ("Held at", v["setpoint"], v["second_setpoint"]),
        ("Wall inside, coldest hour", *(v.say(wall, "degC") for wall in walls)),
        ("Walls dry up to a humidity of", *dry),
        ("Heater", *(v.say(x, "W") for x in heat)),
        ("Cooler", *(v.say(x, "W") for x in cold)),
        ("Energy in a year", *(v.money(x) for x in cost)),
        ("Both rooms", v.money(sum(cost)), ""),
    ]


def _working(v: View, bought: Sequence[float], second: Sequence[float], means: Sequence[float]) -> list[Step]:
    air = {
        "air": Part("heat in changing air", air_conductance(v.length * v.width * v.height, v.air_changes), "W/K"),
        "film": Part("inside film", facts.INSIDE_FILM.typical, "m2 K/W"),
        "air_heat": Part("heat of air", facts.AIR_HEAT.typical, facts.AIR_HEAT.unit),
        "spare": Part("a quarter spare", facts.SPARE.typical),
        "saturation": CurvePart("saturation pressure", saturation_pressure, ("degC",), "kPa"),
        "dew": CurvePart(
            "dew point of air", lambda air, humidity: dew_point(vapour_pressure(air, humidity)), ("degC", "1"), "degC"
        ),
        "year": RowsPart(
            "the twelve months",
            {"energy": "kWh/year", "outside": "degC", "hours": "hour", "need": "W"},
            [
                {
                    "energy": energy,
                    "outside": outside,
                    "hours": 24 * days,
                    "need": v.conductance * (v.setpoint - outside) - v.gains,
                }
                for energy, outside, days in zip(bought, means, DAYS)
            ],
        ),
        "outside": ("mean outside", "mean outside"),
        "need": ("heat needed", "heat needed"),
        "second_year": RowsPart("its twelve months", {"energy": "kWh/year"}, [{"energy": energy} for energy in second]),
        "energy": ("energy of a month", "energy"),
    }
    return [
        Step(
            "Heat for each degree",
            "{conductance} = 2 × ({length} + {width}) × {height} ÷ {wall_resistance} + {length} × {width} ÷"
            " {roof_resistance} + {length} × {width} ÷ {floor_resistance} + {air}",
            "steady heat loss, as in any text on buildings",
            note=(
                "The floor is reckoned as if outside air lay under it; on the ground it loses less, so the figure is on"
                " the safe side."
            ),
            values=air,
        ),
        Step(
            "Changing air",
            "{air} = {air_heat} × {air_changes} × {length} × {width} × {height}",
            "density × specific heat of air at 20 °C",
            values=air,
        ),
        Step(
            "Coldest hour",
            "{heat_loss} = the larger of 0 and {conductance} × ({setpoint} − {design_temperature})",
            "steady heat loss",
        ),
        Step(
            "Heater and cooler",
            "{heater_size} = {spare} × {heat_loss}; {cooler_size} = {spare} × the larger of 0 and ({conductance} ×"
            " ({hot_design_temperature} − {setpoint}) + {gains})",
            "steady heat loss; a quarter spare: common practice, no source",
            values=air,
        ),
        Step("Share of the air", "{air_share} = {air} ÷ {conductance}", "definition", values=air),
        Step(
            "A month",
            "{need} = {conductance} × ({setpoint} − {outside}) − {gains}, each of {year}; {energy} × 1 year = ((the"
            " larger of 0 and {need}) ÷ {heating_efficiency} + (the larger of 0 and 0 − {need}) ÷ {cooling_cop}) ×"
            " {hours}, each of {year}",
            "monthly balance",
            values=air,
            note=(
                "Sun on the walls and the heat that drying trays take are left out. Each litre of water a day that"
                " dries from the trays takes 28 W: take that off the gains."
            ),
        ),
        Step(
            "A year",
            "{energy_per_year} = sum over {year} of {energy}; {energy_per_month} = {energy_per_year} ÷ 12 months/year;"
            " {energy_cost_per_year} = {energy_per_year} × {energy_price}",
            "arithmetic",
            values=air,
        ),
        Step(
            "The second room",
            "{second_room_cost_per_year} = sum over {second_year} of {energy} × {energy_price}",
            "the same, held at its own temperature",
            values=air,
        ),
        Step(
            "Wall",
            "{wall_temperature} = {setpoint} − ({setpoint} − {design_temperature}) × the smaller of 1 and {film} ÷"
            " {wall_resistance}",
            "ISO 6946, resistances in a row",
            values=air,
        ),
        Step(
            "Dew point",
            "{dew_point} = {dew} at {setpoint} and {humidity}",
            "ASHRAE Fundamentals 2017, ch. 1",
            values=air,
        ),
        Step("Wet walls", "{condensation} = {wall_temperature} < {dew_point}", "definition"),
        Step(
            "Dry walls",
            "{highest_dry_humidity} = the smaller of 1 and {saturation} at {wall_temperature} ÷ {saturation} at"
            " {setpoint}",
            "ASHRAE Fundamentals 2017, ch. 1",
            values=air,
        ),
    ]


def _warnings(v: View) -> list[tuple[str, str]]:
    found = []
    if v.condensation:
        found.append(
            (
                "wall_resistance",
                (
                    f"In the coldest hour the wall is at {v['wall_temperature']} inside, below the dew point of"
                    f" {v['dew_point']}: it drips and grows mould. Insulate more, or let drier air in."
                ),
            )
        )
    found += _worse_hours(v)
    if v.air_changes < 0.3:
        found.append(
            (
                "air_changes",
                (
                    "So little air lets carbon dioxide and ammonia gather. Give the room at least a third of its air"
                    " new each hour."
                ),
            )
        )
    if v.setpoint > 30:
        found.append(
            (
                "setpoint",
                (
                    f"{v['setpoint']} kills worms."
                    if v.setpoint >= 35
                    else f"{v['setpoint']} leaves no room for a stuck thermostat: 95 °F (35 °C) kills worms."
                ),
            )
        )
    return found


def _worse_hours(v: View) -> list[tuple[str, str]]:
    """Where a usual night or noon of the place is worse than the hour that heater and cooler are sized for."""
    place = season(v.climate, v.monthly_means, v.weather_year)
    months = list(zip(MONTH_NAMES, place.monthly_means, place.monthly_swings))
    night, in_winter = min((mean - swing, name) for name, mean, swing in months)
    noon, in_summer = max((mean + swing, name) for name, mean, swing in months)
    found = []
    if night < v.design_temperature:
        found.append(
            (
                "design_temperature",
                f"A usual night of {in_winter} is at {v.say(night, 'degC', digits=2)} here, colder than the coldest"
                " hour that you named. The heater would be too small: name a colder one.",
            )
        )
    if noon > v.hot_design_temperature:
        found.append(
            (
                "hot_design_temperature",
                f"A usual noon of {in_summer} is at {v.say(noon, 'degC', digits=2)} here, hotter than the hottest"
                " hour that you named. The cooler would be too small: name a hotter one.",
            )
        )
    return found


def _reading(v: View) -> list[str]:
    sentences = [
        f"Each degree between inside and outside costs {v['conductance']}; {v['air_share']} of it leaves with the air.",
        f"A heater of {v['heater_size']} and a cooler of {v['cooler_size']} carry the coldest and the hottest"
        " hour that you named.",
        f"Holding {v.yours('setpoint')} takes {v['energy_per_year']}, {v.money(v.energy_cost_per_year)} a year.",
    ]
    if v.second_room_cost_per_year is not None:
        sentences.append(
            f"The same room held at {v.yours('second_setpoint')} costs {v.money(v.second_room_cost_per_year)} a year."
        )
    sentences.append("The walls stay dry." if not v.condensation else "The walls get wet in the coldest hour.")
    return sentences
