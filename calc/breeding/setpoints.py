"""Which temperature for breeding, which for hatching and growing: published rates against temperature."""

import re
from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import cache
from typing import Annotated, Any

from calc.biology import activity
from calc.breeding.curve import curve
from calc.engine import (
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
    Part,
    RowsPart,
    Show,
    Step,
    Table,
    View,
    calculator,
    presents,
)
from calc.facts import biology
from calc.facts import breeding as facts
from calc.facts.base import SURE, Points

cocoons_per_worm_per_week = curve(facts.COCOONS.points)
incubation_days = curve(facts.INCUBATION.points)
hatch_share = curve(facts.HATCH.points)
growth_speed = activity
"""Growth against the fastest [-]: the one curve of a worm, by which lanes eat as well."""
_age_at = curve([(0.0, 0.0), *((gram, day) for day, gram, *_ in biology.GROWTH_25C.points)])
SALE_WORM_MASS = POUND / 1100
"""A worm as sold, 1,100 to the pound [kg]; common practice, no source."""

OUTER_DOUBT, INNER_DOUBT = 0.35, 0.12
"""How far a rate may be off, either way: beyond the published temperatures and between them.

Judgement; the disagreement of the authors is about as large.
"""
HATCH_KNOWN_FROM: float = facts.INCUBATION.points[0][0]
"""Colder than this even an extrapolated time to hatch is worth nothing [°C]."""
TOGETHER_REACH = max(gram for _, gram, *_ in biology.GROWTH_20C.points) / 1000
"""The heaviest that worms grew five together, fed once [kg]."""
BESTS = min(fact.low for fact in facts.BEST_LAYING), max(fact.high for fact in facts.BEST_LAYING)
"""Between these ends each temperature is some author's best for laying [°C]."""
SLOWEST = 0.02
"""Growth slower than this against the fastest is none [-]."""


def doubt(temperature: float) -> float:
    """Share by which a rate may be off at a temperature [-]: widening over 5 °C beyond the published ones."""
    beyond = max(facts.SURE_LOW - temperature, temperature - facts.SURE_HIGH, 0.0)
    return INNER_DOUBT + (OUTER_DOUBT - INNER_DOUBT) * min(1.0, beyond / 5)


def banded(value: float, temperature: float, most: float = float("inf")) -> Band:
    share = doubt(temperature)
    return Band(value, value * (1 - share), min(most, value * (1 + share)))


def days_to_weight(weight: float) -> float:
    """Days from hatching to a weight in cow manure at 25 °C [day], by the monotone cubic through the published series;
    weight [kg].

    Source: Neuhauser et al. 1980.
    >>> round(days_to_weight(0.503e-3), 1), round(days_to_weight(0.847e-3), 1)
    (42.0, 56.0)
    """
    return _age_at(weight * 1000)


SERIES = (
    (facts.GROWTH_SLUDGE, 25.0),
    (biology.GROWTH_25C, 25.0),
    (facts.GROWTH_HORSE, 25.0),
    (facts.GROWTH_ANDREI, 20.0),
    (biology.GROWTH_20C, 20.0),
    (facts.GROWTH_EIGHT, 20.0),
    (facts.GROWTH_CEH, 20.0),
    (facts.GROWTH_CEH_SECOND, 20.0),
)
"""Published growth series and the temperature they were kept at [°C]."""


def days_in_series(points: Points, weight: float) -> float | None:
    """Days until worms of one published series weigh so much [day], by the monotone cubic; None where they never do.
    weight [kg].

    >>> round(days_in_series(biology.GROWTH_20C, 0.414e-3), 1), days_in_series(facts.GROWTH_CEH, 0.5e-3) is None
    (42.0, True)
    """
    grams = weight * 1000
    rising: list[tuple[float, float]] = []
    for day, gram, *_ in points.points:
        if not rising or gram > rising[-1][0]:
            rising.append((gram, day))
    return curve(rising)(grams) if rising[0][0] <= grams <= rising[-1][0] else None


def days_to_sale_size(temperature: float, sale_worm_mass: float = SALE_WORM_MASS) -> float | None:
    """Days from hatching to sale size [day]; None where worms hardly grow.

    GROWING_DAYS holds for worms of SALE_WORM_MASS; other weights in proportion to the published series, other
    temperatures by the pace of growth.
    """
    speed = growth_speed(temperature)
    return (
        facts.GROWING_DAYS.typical * days_to_weight(sale_worm_mass) / days_to_weight(SALE_WORM_MASS) / speed
        if speed > SLOWEST
        else None
    )


def days_between(first: float, then: float, temperature: float) -> float | None:
    """Days in which a worm grows from one weight to another [day], weights in kg; None where worms hardly grow.

    By the curve through the weights in cow manure at 25 °C and the pace of growth at the temperature.
    >>> round(days_between(0.503e-3, 0.847e-3, 25.0) or 0.0, 1)
    14.0
    """
    speed = growth_speed(temperature)
    return (days_to_weight(then) - days_to_weight(first)) / speed if speed > SLOWEST else None


def hatching_known(temperature: float) -> bool:
    """Whether a time to hatch can be told at a temperature [°C]: not in the cold where nothing is published, not where
    worms die.
    """
    return HATCH_KNOWN_FROM <= temperature < biology.LETHAL_TEMPERATURE.typical


def days_to_sale(temperature: float, sale_worm_mass: float = SALE_WORM_MASS) -> float | None:
    """Days from cocoon to sale, hatching and growing held at one temperature [day]; None where worms hardly grow or
    nothing is known of hatching.
    """
    growing = days_to_sale_size(temperature, sale_worm_mass)
    return None if growing is None or not hatching_known(temperature) else incubation_days(temperature) + growing


def fewest_days(sale_worm_mass: float = SALE_WORM_MASS) -> float:
    """The fewest days from cocoon to sale at any one temperature [day]: cocoons and worms are quickest somewhere from
    24 to 30 °C.
    """
    days = (days_to_sale(24 + 0.5 * step, sale_worm_mass) for step in range(13))
    return min(one for one in days if one is not None)


@cache
def best(function: Callable[..., Any], low: float = 5.0, high: float = 34.0, step: float = 0.1) -> float:
    """The temperature at which a rate is greatest; the middle where it is flat on top [°C]."""
    places = [low + step * place for place in range(int((high - low) / step) + 1)]
    top = max(map(function, places))
    flat = [place for place in places if function(place) >= top * (1 - 1e-9)]
    return round((flat[0] + flat[-1]) / 2, 1)


@dataclass(frozen=True)
class Setpoints(Answer):
    cocoons_per_worm_per_week: Annotated[
        Band,
        Output(
            "1/week",
            "Cocoons a worm a week",
            "In a laboratory, richly fed. Growers count about one in trays.",
            ranged=True,
            main=True,
            digits=2,
        ),
    ]
    incubation_days: Annotated[
        Band | None, Output("day", "Days to hatch", "At the grow-out temperature.", ranged=True, main=True, digits=2)
    ]
    days_to_sale_size: Annotated[
        Band | None,
        Output("day", "Days from hatching to sale size", "At the grow-out temperature.", ranged=True, digits=2),
    ]
    days_cocoon_to_sale: Annotated[
        Band | None,
        Output("day", "Days from cocoon to sale", "Hatching and growing together.", ranged=True, main=True, digits=2),
    ]
    hatch_share: Annotated[
        Band,
        Output(
            "1",
            "Cocoons that hatch",
            "At the grow-out temperature.",
            us="%",
            metric="%",
            ranged=True,
            main=True,
            digits=2,
        ),
    ]
    hatchlings_per_cocoon: Annotated[
        Band,
        Output(
            "1", "Young from a cocoon that hatches", "No change with temperature is published.", ranged=True, digits=2
        ),
    ]
    best_breeding_temperature: Annotated[
        float,
        Output(
            "degC", "Best for laying, by the curve", "Reviews disagree: 15–20, 20–25 or 25 °C (59–68, 68–77 or 77 °F)."
        ),
    ]
    best_growout_temperature: Annotated[
        float, Output("degC", "Best for growing, by the curve", "Flat between 25 and 28 °C (77 and 82 °F).")
    ]
    cocoons_lost: Annotated[
        float,
        Output("1", "Cocoons lost against the best", "By breeding at your temperature.", us="%", metric="%", digits=2),
    ]
    days_lost: Annotated[
        float | None, Output("day", "Days lost against the best", "By growing out at your temperature.", digits=2)
    ]


@calculator(
    "breeding.setpoints",
    "Which temperature for breeding, which for hatching and growing?",
    page="breeding/index.html",
    leads={
        "breeding.trays": {
            "incubation_days": "incubation_days",
        },  # laboratories count more cocoons and young than growers do: those stay where they were counted
        "breeding.room": {"setpoint": "breeding_temperature", "second_setpoint": "growout_temperature"},
    },
)
def setpoints(
    breeding_temperature: Annotated[
        float, Number("degC", "Temperature of the breeding trays", 0, 36, help="In the bedding, not in the air.")
    ] = 20.0,
    growout_temperature: Annotated[
        float,
        Number(
            "degC",
            "Temperature of hatching and grow-out",
            0,
            36,
            help="In the bedding. Over 30 °C (86 °F) there is no room for a mistake.",
        ),
    ] = (81 - 32) / 1.8,
    sale_worm_mass: Annotated[
        float,
        Number(
            "kg",
            "Weight of a worm as sold",
            5e-5,
            1.5e-3,
            us="g",
            metric="g",
            spread=(3.0e-4, 6.0e-4),
            help="1,100 to the pound is 0.41 g; a big bait worm 0.8 g. Weigh twenty.",
        ),
    ] = SALE_WORM_MASS,
) -> Setpoints:
    """Rates at two held temperatures and what being off the best costs.

    Temperatures [°C], sale_worm_mass [kg]. Monotone cubics through published and derived points (calc.facts.breeding);
    range ±12 % between 20 and 25 °C, widening to ±35 % five degrees beyond. Sources: at each point.
    """
    laid = cocoons_per_worm_per_week(breeding_temperature)
    top = best(cocoons_per_worm_per_week)
    fastest = best(growth_speed)
    growing, total = (
        days_to_sale_size(growout_temperature, sale_worm_mass),
        days_to_sale(growout_temperature, sale_worm_mass),
    )
    growing_band = None
    if growing is not None:
        low, high = (
            growing * end / facts.GROWING_DAYS.typical for end in (facts.GROWING_DAYS.low, facts.GROWING_DAYS.high)
        )
        wider = doubt(growout_temperature) - INNER_DOUBT
        growing_band = Band(growing, low * (1 - wider), high * (1 + wider))
    incubation_band = (
        banded(incubation_days(growout_temperature), growout_temperature)
        if hatching_known(growout_temperature)
        else None
    )
    return Setpoints(
        cocoons_per_worm_per_week=banded(laid, breeding_temperature),
        incubation_days=incubation_band,
        days_to_sale_size=growing_band,
        days_cocoon_to_sale=(
            None
            if total is None or incubation_band is None or growing_band is None
            else Band(total, incubation_band.low + growing_band.low, incubation_band.high + growing_band.high)
        ),
        hatch_share=banded(hatch_share(growout_temperature), growout_temperature, 0.97),
        hatchlings_per_cocoon=biology.HATCHLINGS.band(),
        best_breeding_temperature=top,
        best_growout_temperature=fastest,
        cocoons_lost=1 - laid / cocoons_per_worm_per_week(top),
        days_lost=None if total is None else max(0.0, total - fewest_days(sale_worm_mass)),
    )


@presents(setpoints)
def show_setpoints(v: View) -> Show:
    pace = {
        "growing": Part(
            "days to that weight at the best temperature", days_to_sale_size(25.0, v.sale_worm_mass), "day", digits=2
        ),
        "speed": Part("pace at this temperature", growth_speed(v.growout_temperature)),
    }
    curves = {
        "laid": CurvePart("cocoons of a worm a week, by the curve", cocoons_per_worm_per_week, ("degC",), "1/week"),
        "hatching": CurvePart("days to hatch, by the curve", incubation_days, ("degC",), "day"),
        "hatch_curve": CurvePart("share that hatches, by the curve", hatch_share, ("degC",)),
        "young": Part("published mean, the same at every temperature", biology.HATCHLINGS.typical),
        "pace": CurvePart("pace of growth, by the curve", growth_speed, ("degC",)),
        "grid": RowsPart(
            "temperatures from 5 to 35 °C",
            {"laying": "1/week", "growing_pace": "1"},
            [
                {"laying": cocoons_per_worm_per_week(celsius / 2), "growing_pace": growth_speed(celsius / 2)}
                for celsius in range(10, 71)
            ],
        ),
        "fewest": Part("the fewest at any temperature", fewest_days(v.sale_worm_mass), "day"),
    }
    return Show(
        working=[
            Step(
                "Cocoons",
                "{cocoons_per_worm_per_week} = {laid} at {breeding_temperature}",
                "CEH 2016; Reinecke & Viljoen 1990; Venter & Reinecke 1988; ends Loehr et al. 1985. Curve: Fritsch &"
                " Carlson 1980",
                values=curves,
            ),
            Step(
                "Days to hatch",
                "{incubation_days} = {hatching} at {growout_temperature}",
                "CEH 2016; Elvira et al. 1996; Venter & Reinecke 1988; Neuhauser et al. 1980",
                values=curves,
            ),
            Step(
                "Hatching",
                "{hatch_share} = {hatch_curve} at {growout_temperature}; {hatchlings_per_cocoon} = {young}",
                "points and means as in the list of coefficients",
                values=curves,
            ),
            Step(
                "Growth",
                "{days_to_sale_size} = {growing} ÷ {speed}",
                "growth: Neuhauser et al. 1980, Gunadi et al. 2002; pace: Johnston et al. 2014, below 20 °C"
                " Phillipson &"
                " Bolton 1976, from 25 °C Kaplan et al. 1980 and Loehr et al. 1985",
                values=pace,
            ),
            Step(
                "Cocoon to sale",
                "{days_cocoon_to_sale} = {incubation_days} + {days_to_sale_size}",
                "arithmetic",
                values=pace,
            ),
            Step(
                "Off the best",
                "{cocoons_lost} = 1 − {cocoons_per_worm_per_week} ÷ {laid} at {best_breeding_temperature};"
                " {days_lost} = {days_cocoon_to_sale} − {fewest}",
                "best of the curve, found by search",
                values=curves,
            ),
            Step(
                "Best temperatures",
                "{laid} at {best_breeding_temperature} = the larger of ({laid} at {best_breeding_temperature}) and the"
                " largest {laying} of {grid}; {pace} at {best_growout_temperature} = the larger of ({pace} at"
                " {best_growout_temperature}) and the largest {growing_pace} of {grid}",
                "best of the curve, found by search",
                "No temperature from 5 to 35 °C (41 to 95 °F) does better.",
                curves,
            ),
        ],
        tables=[_off(v), _rates(v), _series(v), _authors(v), _points()],
        figures=[_cocoon_figure(v), _days_figure(v), _hatch_figure(v), _pace_figure(v), _growth_figure(v)],
        warnings=_warnings(v),
        reading=_reading(v),
    )


def _off(v: View) -> Table:
    """What 1, 2 and 5 degrees off cost."""
    rows = []
    fewest = fewest_days(v.sale_worm_mass)
    for off in (-5, -2, -1, 0, 1, 2, 5):
        breeding, growout = v.breeding_temperature + off, v.growout_temperature + off
        total = days_to_sale(growout, v.sale_worm_mass)
        rows.append(
            (
                off,
                cocoons_per_worm_per_week(breeding) / cocoons_per_worm_per_week(v.best_breeding_temperature) - 1,
                hatch_share(growout),
                "dead, or too cold" if total is None else total,
                "dead, or too cold" if total is None else max(0.0, total - fewest),
            )
        )
    columns = [
        Column("off", "Off your setpoints by", "K"),
        Column("cocoons", "Cocoons against the best", "1", us="%", metric="%", digits=2),
        Column("hatch", "Hatch", "1", us="%", metric="%", digits=2),
        Column("days", "Days cocoon to sale", "day", digits=2),
        Column("lost", "Days lost against the best", "day", digits=2),
    ]
    return Table("off", "What being off costs", columns, rows, open=True)


def _rates(v: View) -> Table:
    """Every rate at both setpoints, so that one room can be judged against two."""
    both = (v.breeding_temperature, v.growout_temperature)
    totals = [days_to_sale(t, v.sale_worm_mass) for t in both]
    rows = [
        ("Cocoons a worm a week, laboratory", *(v.say(cocoons_per_worm_per_week(t), "1", digits=2) for t in both)),
        (
            "Days to hatch",
            *(v.say(incubation_days(t), "day", digits=2) if hatching_known(t) else "not known" for t in both),
        ),
        ("Cocoons that hatch", *(v.say(hatch_share(t), "1", us="%", metric="%", digits=2) for t in both)),
        (
            "Pace of growth against the fastest",
            *(v.say(growth_speed(t), "1", us="%", metric="%", digits=2) for t in both),
        ),
        ("From cocoon to sale", *("never" if total is None else v.say(total, "day", digits=2) for total in totals)),
    ]
    return Table(
        "rates",
        "Every rate at both temperatures",
        [
            Column("what", "What"),
            Column("breeding", f"Breeding: {v['breeding_temperature']}"),
            Column("growout", f"Grow-out: {v['growout_temperature']}"),
        ],
        rows,
    )


def _points() -> Table:
    rows = [
        (points.label, x, y, str(source), SURE[sure])
        for points in (
            facts.COCOONS_SEEN,
            facts.COCOONS_COUNTED,
            facts.INCUBATION_SEEN,
            facts.HATCH_SEEN,
            facts.GROWTH_SPEED_SEEN,
        )
        for x, y, source, sure in points.points
    ]
    return Table(
        "points",
        "Every point, with who gave it",
        [
            Column("what", "What"),
            Column("temperature", "At", "degC"),
            Column("value", "Value", "1"),
            Column("source", "Source"),
            Column("sure", "How sure"),
        ],
        rows,
    )


def _series(v: View) -> Table:
    """How long each published series took to the weight that is sold."""
    rows = []
    for points, temperature in SERIES:
        days = days_in_series(points, v.sale_worm_mass)
        rows.append(
            (
                points.label,
                temperature,
                "never, or not weighed" if days is None else days,
                days_between(points.points[0][1] / 1000, v.sale_worm_mass, temperature),
                str(points.points[0][2]),
                points.note,
            )
        )
    return Table(
        "series",
        "Days to that weight, as published",
        [
            Column("what", "Series"),
            Column("temperature", "Kept at", "degC"),
            Column("days", "Days", "day", digits=2),
            Column("by_curve", "By our curve, from its first weight", "day", digits=2),
            Column("source", "Source"),
            Column("note", "How they were kept; days are from hatching unless it says otherwise"),
        ],
        rows,
    )


def _authors(v: View) -> Table:
    """Where the authors disagree, and what was counted without a thermometer."""
    rows = []
    for fact in (*facts.BEST_SAID, *facts.NO_TEMPERATURE):
        ends = [v.say(end, fact.unit, digits=3) for end in fact.ends() or (fact.typical,)]
        rows.append((fact.label, " to ".join(ends), str(fact.source), SURE[fact.sure], fact.note))
    return Table(
        "authors",
        "What the authors say, side by side",
        [
            Column("what", "What"),
            Column("value", "Figure"),
            Column("source", "Source"),
            Column("sure", "How sure"),
            Column("note", "Where"),
        ],
        rows,
    )


def _sampled(function: Callable[..., Any], low: float = 5.0, high: float = 34.0) -> list[tuple[float, float]]:
    """The curve at each whole degree: every point is also a row of the figure's table."""
    return [(low + place, function(low + place)) for place in range(int(high - low) + 1)]


def _figure(
    v: View,
    name: str,
    title: str,
    finding: str,
    label: str,
    unit: str,
    function: Callable[..., Any],
    seen: Points,
    at: float,
    low: float = 0.0,
    high: float | None = None,
    us: str | None = None,
    coldest: float = 5.0,
) -> Figure:
    line = _sampled(function, coldest)
    band = [
        (x, y * (1 - doubt(x)), y * (1 + doubt(x)) if high is None else min(high, y * (1 + doubt(x)))) for x, y in line
    ]
    dots = [(x, y, re.split(" &| et al|,", str(source))[0]) for x, y, source, _ in seen.points]
    marks = [
        Mark("band", band, label="how far off it may be"),
        Mark("line", line),
        Mark("dots", dots, tone="second"),
        Mark("rule_x", [(at, "yours")], tone="muted"),
    ]
    return Figure(
        name, title, finding, Axis("Temperature", "degC"), Axis(label, unit, us=us, metric=us, low=low), marks
    )


def _cocoon_figure(v: View) -> Figure:
    figure = _figure(
        v,
        "cocoons",
        "Cocoons against temperature",
        f"Most are laid around {v['best_breeding_temperature']}; at {v.yours('breeding_temperature')} it is"
        f" {v.say(1 - v.cocoons_lost, '1', us='%', metric='%', digits=2)} of that. Only the dots are published;"
        " growers, in trays, count about one.",
        "Cocoons a worm a week",
        "1",
        cocoons_per_worm_per_week,
        facts.COCOONS_SEEN,
        v.breeding_temperature,
    )
    counted = Mark("dots", [(x, y, "growers, no source") for x, y, *_ in facts.COCOONS_COUNTED.points], tone="third")
    return replace(figure, marks=[*figure.marks, counted])


def _days_figure(v: View) -> Figure:
    return _figure(
        v,
        "incubation",
        "Days to hatch against temperature",
        _hatch_finding(v),
        "Days",
        "day",
        incubation_days,
        facts.INCUBATION_SEEN,
        v.growout_temperature,
        coldest=HATCH_KNOWN_FROM,
    )


def _hatch_finding(v: View) -> str:
    if v.incubation_days is None:
        return f"At {v['growout_temperature']} no days to hatch are given: too cold for any published count, or deadly."
    return (
        f"At {v.yours('growout_temperature')} cocoons take about {v.say(v.incubation_days, 'day', digits=2)}; at"
        f" {v.say(12.0, 'degC')}, in a cool cellar, about {v.say(incubation_days(12.0), 'day', digits=2)}."
    )


def _pace_figure(v: View) -> Figure:
    return _figure(
        v,
        "pace",
        "Growth against the fastest",
        "Flat from 25 to 28 °C (77 to 82 °F), then it falls away: there, warmer is slower. The dots are the ends of"
        " what authors call the best, and death at 35 °C (95 °F).",
        "Growth",
        "1",
        growth_speed,
        facts.GROWTH_SPEED_SEEN,
        v.growout_temperature,
        high=1.0,
        us="%",
    )


def _hatch_figure(v: View) -> Figure:
    return _figure(
        v,
        "hatch",
        "Share of cocoons that hatch",
        "Heat that speeds growth costs hatching: the two pull apart above 25 °C (77 °F).",
        "Hatch",
        "1",
        hatch_share,
        facts.HATCH_SEEN,
        v.growout_temperature,
        high=1.0,
        us="%",
    )


def _growth_figure(v: View) -> Figure:
    """Published growth series beside the weight that is sold."""
    names = (
        "sludge, 25 °C",
        "cow manure, 25 °C",
        "horse manure, 25 °C",
        "E. andrei, pig manure, 20 °C, from first weighing",
        "cattle solids, five together, 20 °C",
        "cattle solids, eight together, 20 °C",
        "laboratory, 20 °C, from first weighing",
        "the same, second experiment",
    )
    tones = ("third", "main", "muted", "good", "second", "warn", "muted", "muted")
    marks = [
        Mark(
            "line",
            [(day, gram / 1000) for day, gram, *_ in points.points],
            label=label,
            tone=tone,
            dashed=temperature < 25,
        )
        for (points, temperature), label, tone in zip(SERIES, names, tones)
    ]
    marks += [Mark("rule_y", [(v.sale_worm_mass, "as sold")], tone="muted")]
    return Figure(
        "growth",
        "Weight of a worm week by week, as published",
        "Room and feed count for more than five degrees: the slowest and one of the fastest grew at the same 20 °C (68"
        " °F). Three series count from a first weighing, some weeks after hatching.",
        Axis("Time after hatching, or after the first weighing", "day", low=0),
        Axis("Weight", "kg", us="g", metric="g", low=0),
        marks,
    )


def _warnings(v: View) -> list[tuple[str, str]]:
    found = []
    for name, temperature in (
        ("breeding_temperature", v.breeding_temperature),
        ("growout_temperature", v.growout_temperature),
    ):
        if temperature >= biology.LETHAL_TEMPERATURE.typical:
            found.append((name, f"{v[name]} kills worms."))
        elif temperature > 30:
            found.append(
                (name, f"{v[name]} leaves no room for a stuck thermostat: 95 °F (35 °C) kills the whole room.")
            )
        elif not facts.SURE_LOW <= temperature <= facts.SURE_HIGH:
            found.append(
                (name, f"No published table reaches {v[name]}: the curve is stretched there, and its range is wide.")
            )
    if v.growout_temperature < HATCH_KNOWN_FROM:
        found.append(
            (
                "growout_temperature",
                (
                    f"Nothing is published on hatching at {v['growout_temperature']}, and growth all but stops: no days"
                    " are given."
                ),
            )
        )
    if v.sale_worm_mass > TOGETHER_REACH:
        found.append(
            (
                "sale_worm_mass",
                (
                    f"Worms kept five together and fed once stopped short of {v['sale_worm_mass']}"
                    f" ({biology.GROWTH_20C.points[0][2]}). The days hold for worms with room and feed to spare."
                ),
            )
        )
    return found


def _reading(v: View) -> list[str]:
    sentences = [
        f"At {v.yours('breeding_temperature')} a well-fed worm lays about"
        f" {v.say(v.cocoons_per_worm_per_week, '1', digits=2)}"
        " cocoons a week in a laboratory. In trays growers count about one."
    ]
    if v.days_cocoon_to_sale is None:
        sentences.append(f"At {v['growout_temperature']} young worms do not reach sale size.")
    else:
        sentences.append(
            f"At {v.yours('growout_temperature')} a cocoon is a worm for sale after {v['days_cocoon_to_sale']};"
            f" {v['hatch_share']} of them hatch."
        )
    if v.cocoons_lost > 0.02:
        sentences.append(
            f"Your breeding temperature gives {v.say(v.cocoons_lost, '1', us='%', metric='%', digits=2)} fewer cocoons"
            " than the best on this curve."
            + (" Authors disagree by more than that." if BESTS[0] <= v.breeding_temperature <= BESTS[1] else "")
        )
    sentences.append(
        f"By these curves laying goes best at {v['best_breeding_temperature']}, growing at"
        f" {v['best_growout_temperature']}. Growers keep the breeders cooler; what is best for laying is disputed."
    )
    return sentences
