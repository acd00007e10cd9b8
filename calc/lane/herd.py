"""How fast a herd of worms grows in a bed: cocoons, young and adults day by day, held back by crowding."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import islice
from math import isclose, log
from typing import Annotated, Any

from calc.biology import HIGH, LOW, TYPICAL, activity
from calc.engine import (
    DAYS_A_MONTH,
    NOTHING,
    Answer,
    Axis,
    Band,
    Column,
    CurvePart,
    Figure,
    Handle,
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
    over,
    presents,
    told_all,
)
from calc.facts import biology as facts
from calc.facts.lane import DENSE_STOCKING
from calc.inputs import (
    FULL_STOCKING,
    WORM_MASS,
    WORM_PRICE,
    FullStocking,
    HerdArea,
    LaneTemperature,
    WormMass,
    WormPrice,
)
from calc.lane import questions
from calc.lane.asked import FollowedLane, HarvestPerWeek, asks_for_a_lane, known_rates, lane_plan
from calc.lane.followed import days_part
from calc.lane.model import Day, LanePlan, all_cases
from calc.lane.model import follow as follow_lane
from calc.lane.stages import Rates, in_a_bed, rates
from calc.lane.starter import frost_warnings, herd_sentence

HORIZON = 1095
"""Days that are followed at most: three years."""
SHOWN = 7 * 78
"""Days that the figure shows."""


def follow(
    worm_mass: float,
    rate: Rates,
    area: float,
    capacity: float,
    days: int,
    harvest_per_day: float = 0.0,
    breeding_share: float = facts.BREEDING_SHARE.typical,
) -> list[tuple[float, float, float]]:
    """(weight [kg], heads, cocoons laid that day) of the herd for each day from 0 to `days`; see calc.lane.stages."""
    return list(islice(in_a_bed(worm_mass, rate, area, capacity, harvest_per_day, breeding_share), days + 1))


def heads_after(
    heads: float, days: int, temperature: float, cocoons_per_day: float, survival: float, mortality: float
) -> float:
    """Worms after some days, from grown ones with room and feed for all, of which so many young live [-] and so many
    grown worms die a day [-].
    """
    rate = rates(temperature, cocoons_per_day=cocoons_per_day, survival=survival, mortality=mortality)
    founders = heads * facts.ADULT_MASS.typical
    return follow(founders, rate, 1.0, 1e9, days, breeding_share=1.0)[days][1]


def grow(
    worm_mass: float,
    rate: Rates,
    area: float,
    capacity: float,
    days: int,
    harvest_per_day: float = 0.0,
    breeding_share: float = facts.BREEDING_SHARE.typical,
) -> list[float]:
    """Weight of the herd on each day from 0 to `days` [kg]; see follow."""
    return [weight for weight, *_ in follow(worm_mass, rate, area, capacity, days, harvest_per_day, breeding_share)]


def first_day_at(weights: Sequence[float], target: float) -> float | None:
    """First day, part days by straight line, at which the herd weighs the target; None when it never does."""
    if weights[0] >= target:
        return 0.0
    for day in range(1, len(weights)):
        if weights[day] >= target:
            before = weights[day - 1]
            return day - 1 + (target - before) / (weights[day] - before)
    return None


@dataclass(frozen=True)
class Herd(Answer):
    days_to_target: Annotated[
        Band | None,
        Output(
            "day",
            "Days until the bed is full",
            "None of the worms sold or given away before.",
            ranged=True,
            main=True,
            digits=2,
        ),
    ]
    doubling_days: Annotated[
        Band | None,
        Output(
            "day",
            "Days until the herd has doubled here",
            "In this bed, from the day the worms go in, counting the wait for the first young to grow up.",
            ranged=True,
            main=True,
            digits=2,
        ),
    ]
    mass_after_year: Annotated[
        Band,
        Output(
            "kg",
            "Worms after a year",
            "In the season that you chose, with feed and water all year. Its range takes how crowded a bed may get"
            " before breeding stops from end to end; the curve takes it half way.",
            ranged=True,
            main=True,
            digits=2,
        ),
    ]
    cost_to_buy_now: Annotated[
        float,
        Output(
            "money",
            "Cost of buying the missing worms now",
            "At the price you set; the wait costs months of feed and work instead.",
            main=True,
        ),
    ]
    unlimited_growth_per_day: Annotated[
        float,
        Output(
            "1/day",
            "Growth if nothing held it back",
            "Heads, with room and food for all; beds never keep it up.",
            digits=3,
        ),
    ]
    unlimited_doubling_days: Annotated[
        float | None,
        Output("day", "Doubling if nothing held it back", "Heads, once worms of all ages are there.", digits=2),
    ]
    target: Annotated[
        float,
        Output("kg", "Worms on a full bed", "The weight aimed at. In a lane: once they live behind the face only."),
    ]
    stocking_after_year: Annotated[
        float, Output("kg/m2", "Worms on the bed after a year", "Over 1.5 lb/ft² (7.3 kg/m²) they leave.", us="lb/ft2")
    ]
    reckoned_temperature: Annotated[
        float, Output("degC", "Bed temperature of the rates", "Typed, or the mean of the bed's first year.")
    ]
    area: Annotated[
        float, Output("m2", "Bed that the worms live in", "Typed, or the part of the lane behind its face.")
    ]
    plan: FollowedLane = field(compare=False, repr=False)


def herd_plan(given: Mapping[str, Any]) -> LanePlan:
    """The lane in which the herd lives; where its area was typed, a bed of that area whose herd finds all the feed it
    wants.
    """
    plan = lane_plan(given)
    area = given["bed_area"]
    if area is None:
        return plan
    depth = plan.gap + plan.foot
    return replace(
        plan,
        held_area=area,
        fed_well=True,
        fed_on="side",
        lane_length=area / depth,
        lane_width=depth,
        floor_length=None,
    )


def reckoned_temperature(plan: LanePlan) -> float:
    """Bed temperature at which rates are named [°C]: typed, or the mean of the first year."""
    if plan.bed_temperature is not None:
        return plan.bed_temperature
    year = follow_lane(plan, questions.SPAN)[:365]
    return sum(day.bed_temperature for day in year) / len(year)


def figures_at(given: Mapping[str, Any]) -> dict[str, float]:
    """{input: number} that a herd is reckoned with where the reader left it blank: what follows from the temperature,
    and the usual figures.
    """
    usual = rates(reckoned_temperature(herd_plan(given)))
    always = {
        "hatch_share": facts.HATCH_SHARE.typical,
        "hatchlings_per_cocoon": facts.HATCHLINGS.typical,
        "survival": usual.survival,
        "adult_mortality_per_day": usual.mortality,
    }
    if given["bed_temperature"] is None:
        return always  # what follows from the temperature is another figure each day
    return always | {
        "cocoons_per_worm_per_day": usual.cocoons_per_day,
        "incubation_days": usual.incubation_days,
        "maturing_days": usual.maturing_days,
    }


@calculator(
    "lane.herd",
    "How long until my worms fill the lane: wait or buy?",
    samples=100,
    blanks=figures_at,
    leads={
        "lane.ledger": {},
        "lane.output": {"stocking_density": "full_stocking"},
        "lane.feeding": {},
        "breeding.setpoints": {},
    },
)
@told_all
@asks_for_a_lane
def herd(
    worm_mass: WormMass = WORM_MASS,
    bed_area: HerdArea = None,
    full_stocking: FullStocking = FULL_STOCKING,
    target_mass: Annotated[
        float | None,
        Number("kg", "Worms wanted", 0.05, 50000, help="Blank: a full bed, area times full stocking.", optional=True),
    ] = None,
    bed_temperature: LaneTemperature = None,
    worm_price: WormPrice = WORM_PRICE,
    harvest_per_week: HarvestPerWeek = 0.0,
    *,
    asked: Mapping[str, Any] = NOTHING,
    **lane: Any,
) -> Herd:
    """Growth of a herd in a lane, or in a bed of an area, until it is full, against buying the rest now.

    Masses [kg]; bed_area [m²]; full_stocking [kg/m²]; bed_temperature [°C]; harvest_per_week [kg/week].
    The band comes from the slow and the fast case of the lane.
    Sources: stage lengths and rates as in calc.facts.biology; density limit after Reeh 1992 and our own judgement.
    """
    plan = herd_plan(asked)
    area = plan.held_area or plan.active_area
    target = target_mass if target_mass is not None else full_stocking * area
    temperature = reckoned_temperature(plan)
    growth = rates(temperature, **known_rates(asked)).growth
    in_a_year = questions.mass_after_year(plan)
    return Herd(
        days_to_target=(
            questions.full_bed(plan)
            if target_mass is None
            else questions.band_of(plan, lambda days: questions.day_of_weight(days, lambda _: target))
        ),
        doubling_days=questions.band_of(plan, lambda days: questions.day_of_weight(days, lambda _: 2 * worm_mass)),
        mass_after_year=in_a_year,
        cost_to_buy_now=max(0.0, target - worm_mass) * worm_price,
        unlimited_growth_per_day=growth,
        unlimited_doubling_days=log(2) / growth if growth > 1e-6 else None,
        target=target,
        stocking_after_year=in_a_year.value / (plan.held_area or follow_lane(plan, questions.SPAN)[365].active_area),
        reckoned_temperature=temperature,
        area=area,
        plan=plan,
    )


@presents(herd)
def show_herd(v: View) -> Show:
    plan, known = v.plan, known_rates(v.given)
    curves = [[day.worms for day in days] for days in all_cases(plan, questions.SPAN)]
    rate = rates(v.reckoned_temperature, **known)
    weeks = range(0, 79, 2)
    rows = [(week, curves[LOW][7 * week], curves[TYPICAL][7 * week], curves[HIGH][7 * week]) for week in weeks]
    return Show(
        working=_working(v, plan, rate),
        tables=[
            Table(
                "weeks",
                "The herd by week",
                [
                    Column("week", "Week", "1"),
                    Column("low", "Slow herd", "kg"),
                    Column("typical", "Typical", "kg"),
                    Column("high", "Fast herd", "kg"),
                ],
                rows,
            ),
            _trial_to_bed(v, rate, known),
            _temperatures(v, known),
        ],
        figures=[
            Figure(
                "growth",
                "Worms in the bed",
                finding=_finding(v),
                x=Axis("Weeks", "1", low=0, high=78),
                y=Axis("Worms", "kg", low=0),
                marks=[
                    Mark(
                        "band",
                        [(week, min(weights), max(weights)) for week, *weights in rows],
                        label="slow to fast herd",
                    ),
                    Mark("line", [(week, middle) for week, _, middle, _ in rows], label="typical"),
                    Mark("rule_y", [(v.target, "full bed")], tone="second"),
                ],
                handles=[Handle("worm_mass", "y", 0.05, max(2 * v.target, 2 * v.worm_mass), at=(0, v.worm_mass))],
            )
        ],
        warnings=_warnings(v),
        reading=_reading(v, rate, known),
    )


def _finding(v: View) -> str:
    if v.days_to_target is None:
        return "At these figures the herd does not fill the bed within three years."
    return (
        f"The bed is full after about {v.days_to_target / 7:.0f} weeks, and anywhere from"
        f" {v.band('days_to_target').low / 7:.0f} to {v.band('days_to_target').high / 7:.0f}."
    )


def _bed_steps(v: View, plan: LanePlan) -> list[Step]:
    """The bed that the herd lives in, the herd wanted there, and the temperature that is reckoned with."""
    year = follow_lane(plan, questions.SPAN)[:365]
    parts = {
        "face_width": Part("width of the face", plan.face_width, "m"),
        "foot": Part("foot of the face", plan.foot, "m"),
        "year": days_part(plan, year),
    }
    area = "{area} = " + ("{bed_area}" if plan.held_area else "{face_width} × ({gap} + {foot})")
    target = "{target} = " + ("{full_stocking} × {area}" if v.target_mass is None else "{target_mass}")
    typed = plan.bed_temperature is not None
    warmth = "{reckoned_temperature} = " + ("{bed_temperature}" if typed else "mean over {year} of {bed}")
    return [
        Step(
            "The bed",
            f"{area}; {target}",
            "geometry: where worms have gathered when the face has moved the gap on",
            values=parts,
        ),
        Step(
            "Temperature reckoned with",
            warmth,
            "as typed, or the mean of the first year; the curve follows each day's",
            values=parts,
        ),
    ]


def _working(v: View, plan: LanePlan, rate: Rates) -> list[Step]:
    def wanted(day: Day) -> float:
        """Weight that counts as full that day [kg]."""
        return float(v.target) if v.target_mass is not None else plan.full_stocking * day.active_area

    full = [
        {"day": day.day, "worms": day.worms, "target_then": wanted(day)}
        for day in questions.cases(plan, lambda days: questions.day_of_weight(days, wanted))[TYPICAL]
    ]
    twice = questions.cases(plan, lambda days: questions.day_of_weight(days, lambda _: 2 * v.worm_mass))[TYPICAL]
    named = {
        "c": Part("cocoons a worm a day", rate.cocoons_per_day, "1/day", us="1/day"),
        "h": Part("young per cocoon laid", rate.young_per_cocoon),
        "s": Part("share that lives to breed", rate.survival),
        "t": Part("days from laying to breeding", rate.incubation_days + rate.maturing_days, "day"),
        "m": Part("share of adults that die a day", rate.mortality, "1/day"),
        "r": Part("growth a day", rate.growth, "1/day"),
    }
    return [
        Step(
            "Pace of eating at this temperature",
            "{pace} = {rate} at {reckoned_temperature} ÷ {rate} at 25 °C",
            "Johnston et al. 2014 from 20 °C; below Phillipson & Bolton 1976; heat Kaplan et al. 1980, Loehr et"
            " al. 1985",
            values={
                "pace": Part("pace", activity(v.reckoned_temperature)),
                "rate": CurvePart("rate of eating", activity, ("degC",)),
            },
        ),
        Step(
            "Pace of life at this temperature",
            "days of a stage = its days at 25 °C ÷ {pace}",
            "Johnston et al. 2014 from 20 to 25 °C; below 20 °C Phillipson & Bolton 1976",
            values={"pace": ("pace, at most 1", f"{activity(min(v.reckoned_temperature, 25.0)):.2f}")},
            prose=True,
        ),
        Step(
            "Growth if nothing held it back",
            "{r} + {m} = {c} × {h} × {s} × e^(−{r} × {t})",
            "Euler–Lotka; solved with Lambert's W (Corless et al. 1996)",
            values=named,
        ),
        Step(
            "Doubling of heads",
            "{unlimited_growth_per_day} = {r}; {unlimited_doubling_days} = ln 2 ÷ {unlimited_growth_per_day}",
            "definition",
            values=named,
        ),
        Step(
            "Crowding",
            "cocoons a day = {c} × (1 − worms in the bed ÷ ({capacity} × {area})); the same share of the young"
            " finds a place, and crowded young grow by as much slower as they eat less",
            "straight line, ours; crowding measured by Reeh 1992",
            values=named,
            prose=True,
        ),
        Step(
            "Day by day",
            "weight = adults × their weight + young × theirs; adults shrink by {m} and by {harvest_per_week}, and gain"
            " the young that have grown up",
            "bookkeeping of stages; each day from the one before",
            values=named,
            prose=True,
        ),
        *_bed_steps(v, plan),
        Step(
            "Full bed",
            "(the first {day} of {days} where {worms} ≥ {target_then}) in day = {days_to_target} in day, rounded up",
            "read off that curve, part of a day by straight line",
            values={"days": RowsPart("the days", {"day": "day", "worms": "kg", "target_then": "kg"}, full)},
        ),
        Step(
            "Twice the herd",
            "(the first {day} of {days} where {worms} ≥ 2 × {worm_mass}) in day = {doubling_days} in day, rounded up",
            "read off that curve, part of a day by straight line",
            values={"days": days_part(plan, twice)},
        ),
        Step(
            "After a year",
            "{mass_after_year} = the first {worms} of {days} where {day} = 365 days; {stocking_after_year} ="
            " {mass_after_year} ÷ the first {area_then} of {days} where {day} = 365 days",
            "read off that curve",
            values={"days": days_part(plan, follow_lane(plan, questions.SPAN)[360:370])},
        ),
        Step(
            "The missing worms",
            "{cost_to_buy_now} = the larger of 0 and ({target} − {worm_mass}) × {worm_price}",
            "arithmetic",
        ),
    ]


def trial_growth(**known: float | None) -> float:
    """Growth of heads in a trial [1/day]: 25 °C, cocoons as counted in the laboratory, every young worm lives, no adult
    dies.
    """
    return rates(
        25.0,
        **{
            **known,
            "cocoons_per_day": facts.COCOONS_PER_DAY.typical,
            "survival": 1.0,
            "mortality": 0.0,
            "incubation_days": None,
            "maturing_days": None,
        },
    ).growth


def _trial_to_bed(v: View, rate: Rates, known: Mapping[str, float | None]) -> Table:
    """Why heads double in weeks in a trial and weight doubles in months in a bed, one cause at a time."""
    lost = {"survival": 1.0, "mortality": 0.0}
    warm = {**known, "incubation_days": None, "maturing_days": None}
    steps = [
        ("Heads in a trial: 77 °F (25 °C), fed to the full, none die", trial_growth(**known)),
        ("… with the cocoons of a bed instead of a laboratory", rates(25.0, **{**warm, **lost}).growth),
        (
            f"… and {100 * rate.survival:.0f} % of the young living to breed",
            rates(25.0, **{**warm, "mortality": 0.0}).growth,
        ),
        (f"… and {100 * rate.mortality:.1f} % of the grown worms dying a day", rates(25.0, **warm).growth),
        (f"… and at your {v['reckoned_temperature']}", rate.growth),
    ]
    rows = [(what, log(2) / growth if growth > 1e-6 else "does not double") for what, growth in steps]
    half = v.target / 2
    later = first_day_at(grow(half, rate, v.area, v.capacity, SHOWN, v.harvest_per_week / 7), v.target)
    rows.append(
        (
            f"Weight, from {v['worm_mass']}, in this bed",
            "not in 3 years" if v.doubling_days is None else v.doubling_days,
        )
    )
    rows.append(
        (
            f"Weight, from half full ({v.say(half, 'kg')}) to full, on {v['area']} from the first day",
            f"not in {SHOWN // 7} weeks" if later is None else later,
        )
    )
    return Table(
        "trial_to_bed",
        "Why a trial doubles in weeks and a bed in months",
        [Column("what", "What doubles"), Column("days", "Days to double", "day", digits=2)],
        rows,
        open=True,
    )


def _temperatures(v: View, known: Mapping[str, float | None]) -> Table:
    """The typical herd at other bed temperatures."""
    rows = []
    for celsius in (10, 15, 20, 25, 30):
        curve = grow(v.worm_mass, rates(celsius, **known), v.area, v.capacity, SHOWN, v.harvest_per_week / 7)
        doubled, full = (first_day_at(curve, weight) for weight in (2 * v.worm_mass, v.target))
        rows.append((celsius, *(f"not in {SHOWN // 7} weeks" if day is None else day for day in (doubled, full))))
    columns = [
        Column("temperature", "Bed temperature", "degC"),
        Column("doubling", "Days to double", "day", digits=2),
        Column("full", "Days to a full bed", "day", digits=2),
    ]
    half = f"{v['worm_mass']} are half of the {v['target']} that fill this bed: when the herd has doubled, it is full."
    note = half if isclose(v.target, 2 * v.worm_mass, rel_tol=0.01) else ""
    return Table("temperatures", "The same herd in warmer and colder beds", columns, rows, note=note)


def _warnings(v: View) -> list[tuple[str | None, str]]:
    found: list[tuple[str | None, str]] = []
    if activity(v.reckoned_temperature) == 0:
        found.append(
            ("bed_temperature", f"At {v['reckoned_temperature']} worms do not breed; over 95 °F (35 °C) they die.")
        )
    elif v.reckoned_temperature > facts.BAND_HIGH.typical or v.reckoned_temperature < facts.SLOW_BELOW:
        found.append(
            (
                "bed_temperature",
                (
                    f"At {v['reckoned_temperature']} worms live but hardly breed. The herd grows fastest at 68 to 77"
                    f" °F (20"
                    " to 25 °C)."
                ),
            )
        )
    elif v.reckoned_temperature < facts.BREEDING_COUNTED_FROM:
        found.append(
            (
                "bed_temperature",
                (
                    f"At {v['reckoned_temperature']} nobody has counted: no count of cocoons or hatching below 59 °F"
                    f" (15 °C)"
                    " was found. The pace is that at which other earthworms breathe: at 50 °F (10 °C) half of that at"
                    " 68 °F (20 °C), and the range is wide."
                ),
            )
        )
    if v.target > v.capacity * v.area:
        found.append(("target_mass", "That is more than the bed can hold: breeding stops before. Give it more area."))
    at_first = v.plan.held_area or v.plan.bed_area  # in a lane they live in all of the base until the face has moved on
    if over(v.worm_mass / at_first, DENSE_STOCKING.typical):
        found.append(
            (
                "worm_mass",
                f"{v['worm_mass']} on {v.say(at_first, 'm2')} is crowded from the first day: worms leave such a bed.",
            )
        )
    found += frost_warnings(v, v.plan)
    if v.days_to_target is None:
        found.append((None, "The herd does not reach that weight within three years at these figures."))
    return found


def _reading(v: View, rate: Rates, known: Mapping[str, float | None]) -> list[str]:
    sentences = []
    if v.unlimited_doubling_days:
        sentences.append(
            f"In a warm, well-fed trial heads double every {log(2) / trial_growth(**known):.0f} days. With the losses"
            f" of a bed it would be {v.unlimited_doubling_days:.0f} days, even if there were room and food for all."
        )
    if v.worm_mass >= v.target:
        sentences.append(
            "There is nothing to buy: these worms are enough for the bed behind the face. At first they live in the"
            " base too, and have room to multiply there."
            if v.days_to_target
            else "The bed is full already: nothing to wait for, and nothing to buy. More worms only share the same"
            " feed."
        )
    if v.doubling_days:
        doubled = v.say(v.doubling_days, "day", digits=2)
        sentences.append(
            f"Your bed takes about {doubled} for the first doubling, by weight. At"
            f" {v['reckoned_temperature']} a cocoon is a breeding worm after"
            f" {rate.incubation_days + rate.maturing_days:.0f} days. The fuller the bed, the less each worm lays and"
            " eats."
        )
    if v.days_to_target and v.target > v.worm_mass:
        sentences.append(
            f"From {v.yours('worm_mass')}, waiting costs {v.days_to_target / DAYS_A_MONTH:.0f} months;"
            f" buying the missing {v.say(v.target - v.worm_mass, 'kg')} costs {v['cost_to_buy_now']}."
        )
        if v.target_mass is None and v.plan.held_area is None and over(v.plan.bed_area, v.area):
            sentences.append(
                f"Until the face has moved the gap on they live in the base too: a full bed is more than {v['target']}"
                " at first."
            )
    sentences += herd_sentence(v, v.plan)
    sentences.append(
        "The least known figure is the share of the young that live. Count worms in a handful every month: your own"
        " curve is better than this one."
    )
    return sentences
