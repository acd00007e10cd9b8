"""From slice to screen: water to lose, and the hours it takes in this air, or at the pace of two weighings."""

from dataclasses import dataclass
from typing import Annotated

from calc.climate.evaporation import air_term
from calc.engine import (
    FOOT,
    POUND,
    Answer,
    Axis,
    Band,
    Column,
    CurvePart,
    Figure,
    Mark,
    Number,
    Output,
    Refused,
    Share,
    Show,
    Step,
    Table,
    View,
    calculator,
    presents,
    together,
)
from calc.facts import climate
from calc.facts import harvest as facts
from calc.moisture.adjust import water_to_lose


def drying_hours(wet: float, slowing: float) -> Band:
    """The band of the hours [hour], of those that a wet surface would take; slowing [-].

    Published formulas for still air differ, and how much castings slow it is judged: both are at their ends in it.
    """
    still, slowed = climate.STILL_AIR_FACTOR, facts.DRYING_SLOWED
    hours = wet / slowing
    return together(
        hours,
        [
            (hours / still.high, hours / still.low),
            (wet / max(slowing, slowed.high), wet / min(slowing, slowed.low)),
        ],
    )


@dataclass(frozen=True)
class DriedDown(Answer):
    hours: Annotated[
        Band | None,
        Output(
            "hour",
            "Hours until they can be screened",
            "Spread out, turned once or twice.",
            ranged=True,
            main=True,
            digits=2,
        ),
    ]
    water_to_lose: Annotated[float, Output("kg", "Water to lose", "", main=True)]
    mass_at_screening: Annotated[
        float, Output("kg", "Weight when ready", "Weigh one tub and wait for its share of this.", main=True)
    ]
    drying_power: Annotated[
        float, Output("kg/m2 day", "What this air takes from a wet surface", "In shade.", us="lb/ft2 day")
    ]
    measured_pace: Annotated[float | None, Output("kg/hour", "Pace by your two weighings", "Used instead, when given.")]


@calculator(
    "harvest.dry_down",
    "How long from slice to screen?",
    leads={"harvest.screen": {"mass": "mass_at_screening"}, "moisture.test": {}},
)
def dry_down(
    mass: Annotated[float, Number("kg", "Castings sliced", 0.05, 1e6)] = 500 * POUND,
    moisture_before: Annotated[
        float,
        Share(
            "Moisture as sliced",
            0.05,
            0.95,
            fact=facts.CUT_MOISTURE,
            help="The back of a lane that was let dry: 50–60 %. Fresh behind the face: 75–80 %.",
        ),
    ] = facts.CUT_MOISTURE.typical,
    moisture_after: Annotated[
        float,
        Share(
            "Moisture for screening",
            0.05,
            0.9,
            fact=facts.SCREENING_MOISTURE,
            help="50–55 % crumbles and does not smear; drier makes dust.",
        ),
    ] = facts.SCREENING_MOISTURE.typical,
    area: Annotated[float, Number("m2", "Area they are spread over", 0.05, 5000)] = 200 * FOOT**2,
    air_temperature: Annotated[float, Number("degC", "Temperature of the air over them", -5, 50, spread=(12, 24))] = (
        65 - 32
    )
    / 1.8,
    humidity: Annotated[float, Share("Humidity of the air", 0.05, 1, spread=(0.5, 0.85))] = 0.65,
    wind: Annotated[
        float,
        Number(
            "m/s",
            "Wind over them",
            0,
            10,
            us="mph",
            metric="m/s",
            fact=facts.WIND_INDOORS,
            help="Under a roof, doors open, about 1 mph (0.45 m/s).",
        ),
    ] = facts.WIND_INDOORS.typical,
    slowing: Annotated[
        float,
        Share(
            "Drying against that of a wet surface",
            0.05,
            1,
            fact=facts.DRYING_SLOWED,
            help=(
                "The top dries first and shields the rest; how much is our own judgement. Not used with two weighings."
            ),
            group="How they dry",
        ),
    ] = facts.DRYING_SLOWED.typical,
    first_weight: Annotated[
        float | None,
        Number(
            "kg",
            "A tub, first weighing",
            0.01,
            1000,
            optional=True,
            help="Blank: worked out from the air.",
            group="Two weighings of a tub",
        ),
    ] = None,
    second_weight: Annotated[
        float | None, Number("kg", "The same tub, later", 0.01, 1000, optional=True, group="Two weighings of a tub")
    ] = None,
    hours_between: Annotated[
        float | None, Number("hour", "Hours between", 0.1, 1000, optional=True, group="Two weighings of a tub")
    ] = None,
) -> DriedDown:
    """Water to lose between slice and screen, and the hours it takes.

    mass [kg]; moistures [-] wet basis; area [m²]; air_temperature [°C]; humidity [-]; wind [m/s]; slowing [-]; weights
    of one tub [kg] with hours between.
    Band of the hours: published formulas for still air differ by half either way, and how much castings slow the drying
    is judged. Sources: Penman 1948; moisture balance.
    """
    problems = []
    if moisture_after > moisture_before:
        problems.append(
            (
                "moisture_after",
                (
                    "Castings as moist as you say are drier than that already. To wet them instead, use the page on"
                    " water for bedding."
                ),
            )
        )
    pace = None
    if first_weight is not None and second_weight is not None and hours_between is not None:
        pace = mass * (first_weight - second_weight) / first_weight / hours_between
        if not problems and second_weight >= first_weight:
            problems.append(("second_weight", "The tub must have become lighter between the weighings."))
    weighed = {"first_weight": first_weight, "second_weight": second_weight, "hours_between": hours_between}
    lacking = [name for name, part in weighed.items() if part is None]
    if len(lacking) < len(weighed):
        problems += [(name, "Two weighings need both weights and the hours between.") for name in lacking]
    if problems:
        raise Refused(problems)
    water = water_to_lose(mass, moisture_before, moisture_after)
    power = air_term(air_temperature, humidity, wind)
    if not water:
        hours = Band(0.0, 0.0, 0.0)
    elif pace is not None:
        hours = facts.PACE_AGAIN.band().times(water / pace)
    elif power > 1e-6:
        hours = drying_hours(24 * water / (power * area), slowing)
    else:
        hours = None
    return DriedDown(
        hours=hours, water_to_lose=water, mass_at_screening=mass - water, drying_power=power, measured_pace=pace
    )


@presents(dry_down)
def show_dry_down(v: View) -> Show:
    rows = []
    for celsius in (8, 14, 20, 26):
        rows.append(
            (
                celsius,
                *(
                    v.water_to_lose / max(1e-6, air_term(celsius, share, v.wind) * v.slowing * v.area) * 24
                    for share in (0.45, 0.65, 0.85)
                ),
            )
        )
    end = v.band("hours").value if v.hours else 0.0
    curve = [] if not end else [(end * step / 10, v.mass - v.water_to_lose * step / 10) for step in range(11)]
    return Show(
        working=[
            Step(
                "Water to lose",
                "{water_to_lose} = {mass} × ({moisture_before} − {moisture_after}) ÷ (1 − {moisture_after})",
                "Richard & Trautmann 1996, moisture balance",
            ),
            Step("Weight when ready", "{mass_at_screening} = {mass} − {water_to_lose}", "mass balance"),
            Step(
                "Pace by two weighings",
                "{measured_pace} = {mass} × ({first_weight} − {second_weight}) ÷ {first_weight} ÷ {hours_between}",
                "your two weighings; hours then 0.8 to 1.3 of that, our own judgement",
            ),
            Step(
                "Drying power",
                "{drying_power} = {drying} at {air_temperature} and {humidity} and {wind}",
                "Penman 1948, no sun; γ*, with the long wave that a cool wet surface takes up, Leuning et al. 1995",
                "γ* ÷ (Δ + γ*) × 2.6 × (1 + 0.54 × wind) × the drying power of such air.",
                {"drying": CurvePart("water that such air takes", air_term, ("degC", "1", "m/s"), "kg/m2 day")},
            ),
            Step(
                "Hours",
                (
                    "{hours} = {water_to_lose} ÷ ({slowing} × {drying_power} × {area})"
                    if v.measured_pace is None
                    else "{hours} = {water_to_lose} ÷ {measured_pace}"
                ),
                (
                    "the top dries first: our own judgement, no source"
                    if v.measured_pace is None
                    else "your two weighings"
                ),
            ),
        ],
        tables=[
            Table(
                "air",
                "Hours in other air",
                [
                    Column("temperature", "Air", "degC"),
                    Column("dry", "At 45 % humidity", "hour", digits=2),
                    Column("middle", "At 65 %", "hour", digits=2),
                    Column("moist", "At 85 %", "hour", digits=2),
                ],
                rows,
            )
        ],
        figures=(
            [
                Figure(
                    "drying",
                    "Weight while drying",
                    finding=f"Ready at {v['mass_at_screening']}, after about {v.say(end, 'hour', digits=2)}.",
                    x=Axis("Time", "hour", low=0),
                    y=Axis("Weight", "kg"),
                    marks=[Mark("line", curve), Mark("rule_y", [(v.mass_at_screening, "ready")], tone="good")],
                )
            ]
            if curve
            else []
        ),
        warnings=_warnings(v),
        reading=_reading(v),
    )


def _warnings(v: View) -> list[tuple[str, str]]:
    found = []
    if v.mass / v.area > facts.THICK_LAYER.typical:
        found.append(
            (
                "area",
                (
                    f"That lies {v.say(v.mass / v.area, 'kg/m2')} deep: only the top dries. Spread it thinner or turn"
                    " it often."
                ),
            )
        )
    if v.hours is None:
        found.append(("humidity", "In air this moist nothing dries. Wait for another day, or bring warm air in."))
    if v.moisture_after < facts.DUSTY_BELOW.typical:
        found.append(
            (
                "moisture_after",
                (
                    f"Under {v.say(facts.DUSTY_BELOW.typical, '1', us='%', metric='%')} castings are dusty and hard to"
                    " wet again: our own judgement, between figures for compost."
                ),
            )
        )
    return found


def _reading(v: View) -> list[str]:
    if v.water_to_lose == 0:
        return ["They are dry enough to screen now."]
    if v.hours is None:
        return [f"{v['water_to_lose']} of water has to go, but this air takes none."]
    return [
        f"{v['water_to_lose']} of water has to go before it screens well.",
        (
            f"Spread over {v.yours('area')} that takes about {v['hours']}."
            if v.measured_pace is None
            else (
                f"At the pace of your two weighings that takes about {v['hours']}. How far it may be off is our own"
                " judgement."
            )
        ),
        (
            f"It is ready when a tub has come down to {v.say(v.mass_at_screening / v.mass, '1', us='%', metric='%')} of"
            " its weight: weigh one instead of guessing."
        ),
    ]
