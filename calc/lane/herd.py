"""How fast a herd of worms grows in a bed: cocoons, young and adults day by day, held back by crowding."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import islice
from math import log
from typing import Annotated, Any

from calc.biology import activity
from calc.engine import (
    Answer,
    Axis,
    Band,
    Column,
    Figure,
    Mark,
    Number,
    Output,
    Share,
    Show,
    Step,
    Table,
    View,
    calculator,
    presents,
)
from calc.facts import biology as facts
from calc.inputs import (
    BED_AREA,
    BED_TEMPERATURE,
    FULL_STOCKING,
    WORM_MASS,
    WORM_PRICE,
    BedArea,
    BedTemperature,
    FullStocking,
    WormMass,
    WormPrice,
)
from calc.lane.stages import HIGH, LOW, TYPICAL, Rates, in_a_bed, rates

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


@lru_cache(maxsize=16)
def cases(
    worm_mass: float,
    temperature: float,
    area: float,
    capacity: float,
    days: int,
    harvest_per_day: float = 0.0,
    **given: float | None,
) -> tuple[list[float], list[float], list[float]]:
    """Weights of the herd by day in the low, typical and high case.

    Kept, because answer and display both ask for them.
    """
    low, middle, high = (
        grow(worm_mass, rates(temperature, case, **given), area, capacity, days, harvest_per_day)
        for case in (LOW, TYPICAL, HIGH)
    )
    return low, middle, high


def followed(
    target: float, *herd_and_bed: float, **given: float | None
) -> tuple[list[float], list[float], list[float]]:
    """The three cases for as long as they are needed: to the end of the figure, or for three years when one has not
    reached the target by then.
    """
    curves = cases(*herd_and_bed, SHOWN, **given)
    if any(first_day_at(curve, target) is None for curve in curves):
        curves = cases(*herd_and_bed, HORIZON, **given)
    return curves


def days_band(
    curves: tuple[Sequence[float], Sequence[float], Sequence[float]], target: float, horizon: int = HORIZON
) -> Band | None:
    """Band of days to a target weight, or None when the typical herd never reaches it; a slow case that does not is put
    at the horizon.
    """
    slow, middle, fast = (first_day_at(curve, target) for curve in curves)
    if middle is None:
        return None
    return Band(
        middle, middle if fast is None else min(fast, middle), float(horizon) if slow is None else max(slow, middle)
    )


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
            "If feed, water and temperature hold all year.",
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
    target: Annotated[float, Output("kg", "Worms on a full bed", "The weight aimed at.")]


def figures_at(given: Mapping[str, Any]) -> dict[str, float]:
    """{input: number} that a herd is reckoned with where the reader left it blank: what follows from the temperature,
    and the usual figures.
    """
    usual = rates(given["bed_temperature"])
    return {
        "cocoons_per_worm_per_day": usual.cocoons_per_day,
        "hatch_share": facts.HATCH_SHARE.typical,
        "hatchlings_per_cocoon": facts.HATCHLINGS.typical,
        "survival": usual.survival,
        "incubation_days": usual.incubation_days,
        "maturing_days": usual.maturing_days,
        "adult_mortality_per_day": usual.mortality,
    }


@calculator(
    "lane.herd",
    "How long until my worms fill the lane: wait or buy?",
    samples=100,
    blanks=figures_at,
    leads={"lane.output": {"stocking_density": "full_stocking"}, "lane.feeding": {}, "breeding.setpoints": {}},
)
def herd(
    worm_mass: WormMass = WORM_MASS,
    bed_area: BedArea = BED_AREA,
    full_stocking: FullStocking = FULL_STOCKING,
    target_mass: Annotated[
        float | None,
        Number("kg", "Worms wanted", 0.05, 50000, help="Blank: a full bed, area times full stocking.", optional=True),
    ] = None,
    bed_temperature: BedTemperature = BED_TEMPERATURE,
    worm_price: WormPrice = WORM_PRICE,
    harvest_per_week: Annotated[
        float, Number("kg/week", "Worms taken out", 0, 1000, help="Sold, moved or given away each week.")
    ] = 0.0,
    capacity: Annotated[
        float,
        Number(
            "kg/m2",
            "Crowding at which breeding stops",
            1,
            40,
            us="lb/ft2",
            fact=facts.CAPACITY,
            help="Laying falls in a straight line to nothing there.",
            group="What the herd does",
        ),
    ] = facts.CAPACITY.typical,
    cocoons_per_worm_per_day: Annotated[
        float | None,
        Number(
            "1/day",
            "Cocoons a worm a day",
            0.001,
            1.5,
            fact=facts.BED_COCOONS_PER_DAY,
            help="Blank: follows the bed temperature.",
            optional=True,
            group="What the herd does",
        ),
    ] = None,
    hatch_share: Annotated[
        float | None,
        Share(
            "Cocoons that hatch",
            0,
            1,
            help="Blank: 83 %.",
            optional=True,
            fact=facts.HATCH_SHARE,
            group="What the herd does",
        ),
    ] = None,
    hatchlings_per_cocoon: Annotated[
        float | None,
        Number(
            "1",
            "Young from a cocoon that hatches",
            0.1,
            12,
            help="Blank: 2.7.",
            optional=True,
            fact=facts.HATCHLINGS,
            group="What the herd does",
        ),
    ] = None,
    survival: Annotated[
        float | None,
        Share(
            "Young that live to breed",
            0.01,
            1,
            help="Blank: 30 %. No bed trial was found; this is the least known figure of all.",
            optional=True,
            fact=facts.JUVENILE_SURVIVAL,
            group="What the herd does",
        ),
    ] = None,
    incubation_days: Annotated[
        float | None,
        Number(
            "day",
            "Days from laying to hatching",
            5,
            200,
            help="Blank: follows the bed temperature.",
            optional=True,
            group="What the herd does",
        ),
    ] = None,
    maturing_days: Annotated[
        float | None,
        Number(
            "day",
            "Days from hatching to breeding",
            10,
            400,
            help="Blank: follows the bed temperature.",
            optional=True,
            group="What the herd does",
        ),
    ] = None,
    adult_mortality_per_day: Annotated[
        float | None,
        Number(
            "1/day",
            "Adults that die in a day",
            0,
            0.2,
            us="%/day",
            metric="%/day",
            help="Blank: 0.7 %.",
            optional=True,
            fact=facts.ADULT_MORTALITY,
            group="What the herd does",
        ),
    ] = None,
) -> Herd:
    """Growth of a herd in a bed until it is full, against buying the rest now.

    Masses [kg]; bed_area [m²]; full_stocking, capacity [kg/m²]; bed_temperature [°C]; harvest_per_week [kg/week]; rates
    [1/day].
    The band comes from cocoons and survival moved half way to their published ends.
    Sources: stage lengths and rates as in calc.facts.biology; density limit after Reeh 1992 and Munroe.
    """
    known = {
        "cocoons_per_day": cocoons_per_worm_per_day,
        "hatch_share": hatch_share,
        "hatchlings": hatchlings_per_cocoon,
        "survival": survival,
        "incubation_days": incubation_days,
        "maturing_days": maturing_days,
        "mortality": adult_mortality_per_day,
    }
    target = target_mass if target_mass is not None else full_stocking * bed_area
    curves = followed(
        max(target, 2 * worm_mass),
        worm_mass,
        bed_temperature,
        bed_area,
        capacity,
        harvest_per_day=harvest_per_week / 7,
        **known,
    )
    growth = rates(bed_temperature, **known).growth
    year = tuple(curve[365] for curve in curves)
    return Herd(
        days_to_target=days_band(curves, target),
        doubling_days=days_band(curves, 2 * worm_mass),
        mass_after_year=Band(year[TYPICAL], min(year), max(year)),
        cost_to_buy_now=max(0.0, target - worm_mass) * worm_price,
        unlimited_growth_per_day=growth,
        unlimited_doubling_days=log(2) / growth if growth > 1e-6 else None,
        target=target,
    )


@presents(herd)
def show_herd(v: View) -> Show:
    known = {
        "cocoons_per_day": v.cocoons_per_worm_per_day,
        "hatch_share": v.hatch_share,
        "hatchlings": v.hatchlings_per_cocoon,
        "survival": v.survival,
        "incubation_days": v.incubation_days,
        "maturing_days": v.maturing_days,
        "mortality": v.adult_mortality_per_day,
    }
    curves = cases(
        v.worm_mass, v.bed_temperature, v.bed_area, v.capacity, SHOWN, harvest_per_day=v.harvest_per_week / 7, **known
    )
    rate = rates(v.bed_temperature, **known)
    weeks = range(0, 79, 2)
    rows = [(week, curves[LOW][7 * week], curves[TYPICAL][7 * week], curves[HIGH][7 * week]) for week in weeks]
    return Show(
        working=_working(v, rate),
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


def _working(v: View, rate: Rates) -> list[Step]:
    named = {
        "c": ("cocoons a worm a day", f"{rate.cocoons_per_day:.3f}"),
        "h": ("young per cocoon laid", f"{rate.young_per_cocoon:.2f}"),
        "s": ("share that lives to breed", f"{rate.survival:.2f}"),
        "t": ("days from laying to breeding", f"{rate.incubation_days + rate.maturing_days:.0f}"),
        "m": ("share of adults that die a day", f"{rate.mortality:.4f}"),
        "r": ("growth a day", f"{rate.growth:.4f}"),
    }
    return [
        Step(
            "Pace of eating at this temperature",
            "rate at {bed_temperature} ÷ rate at 25 °C = {pace}",
            "Johnston et al. 2014 from 20 °C; below Phillipson & Bolton 1976; heat Kaplan et al. 1980, Loehr et"
            " al. 1985",
            values={"pace": ("pace", f"{activity(v.bed_temperature):.2f}")},
        ),
        Step(
            "Pace of life at this temperature",
            "days of a stage = its days at 25 °C ÷ {pace}",
            "Johnston et al. 2014 from 20 to 25 °C; below 20 °C Phillipson & Bolton 1976",
            values={"pace": ("pace, at most 1", f"{activity(min(v.bed_temperature, 25.0)):.2f}")},
        ),
        Step(
            "Growth if nothing held it back",
            "{r} + {m} = {c} × {h} × {s} × e^(−{r} × {t})",
            "Euler–Lotka; solved with Lambert's W (Corless et al. 1996)",
            values=named,
        ),
        Step(
            "Doubling of heads",
            "{unlimited_growth_per_day} is that growth; {unlimited_doubling_days} = ln 2 ÷ {unlimited_growth_per_day}",
            "definition",
        ),
        Step(
            "Crowding",
            "cocoons a day = {c} × (1 − worms in the bed ÷ ({capacity} × {bed_area})); the same share of the young"
            " finds a place, and crowded young grow by as much slower as they eat less",
            "straight line, ours; crowding measured by Reeh 1992",
            values=named,
        ),
        Step(
            "Day by day",
            "weight = adults × their weight + young × theirs; adults shrink by {m} and by {harvest_per_week}, and gain"
            " the young that have grown up",
            "bookkeeping of stages; each day from the one before",
            values=named,
        ),
        Step(
            "Days",
            "{days_to_target}: the first day on which the herd weighs {target}; {doubling_days}: twice {worm_mass};"
            " {mass_after_year}: its weight on day 365",
            "read off that curve, parts of a day by straight line",
        ),
        Step("The missing worms", "{cost_to_buy_now} = ({target} − {worm_mass}) × {worm_price}", "arithmetic"),
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
        (f"… and at your {v['bed_temperature']}", rate.growth),
    ]
    rows = [(what, log(2) / growth if growth > 1e-6 else "does not double") for what, growth in steps]
    half = v.target / 2
    later = first_day_at(grow(half, rate, v.bed_area, v.capacity, SHOWN, v.harvest_per_week / 7), v.target)
    rows.append(
        (
            f"Weight, from {v['worm_mass']}, in this bed",
            "not in 3 years" if v.doubling_days is None else v.doubling_days,
        )
    )
    rows.append(
        (
            f"Weight, from half full ({v.say(half, 'kg')}) to full",
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
        curve = grow(v.worm_mass, rates(celsius, **known), v.bed_area, v.capacity, SHOWN, v.harvest_per_week / 7)
        doubled, full = (first_day_at(curve, weight) for weight in (2 * v.worm_mass, v.target))
        rows.append((celsius, *(f"not in {SHOWN // 7} weeks" if day is None else day for day in (doubled, full))))
    columns = [
        Column("temperature", "Bed temperature", "degC"),
        Column("doubling", "Days to double", "day", digits=2),
        Column("full", "Days to a full bed", "day", digits=2),
    ]
    return Table("temperatures", "The same herd in warmer and colder beds", columns, rows)


def _warnings(v: View) -> list[tuple[str | None, str]]:
    found: list[tuple[str | None, str]] = []
    if activity(v.bed_temperature) == 0:
        found.append(("bed_temperature", f"At {v['bed_temperature']} worms do not breed; over 95 °F (35 °C) they die."))
    elif v.bed_temperature > facts.BAND_HIGH.typical or v.bed_temperature < facts.SLOW_BELOW:
        found.append(
            (
                "bed_temperature",
                (
                    f"At {v['bed_temperature']} worms live but hardly breed. The herd grows fastest at 68 to 77 °F (20"
                    " to 25 °C)."
                ),
            )
        )
    elif v.bed_temperature < facts.BREEDING_COUNTED_FROM:
        found.append(
            (
                "bed_temperature",
                (
                    f"At {v['bed_temperature']} nobody has counted: no count of cocoons or hatching below 59 °F (15 °C)"
                    " was found. The pace is that at which other earthworms breathe: at 50 °F (10 °C) half of that at"
                    " 68 °F (20 °C), and the range is wide."
                ),
            )
        )
    if v.target > v.capacity * v.bed_area:
        found.append(("target_mass", "That is more than the bed can hold: breeding stops before. Give it more area."))
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
            "The bed is full already: nothing to wait for, and nothing to buy. More worms only share the same feed."
        )
    if v.doubling_days:
        sentences.append(
            f"Your bed takes about {v.doubling_days:.0f} days for the first doubling, by weight. A cocoon laid today is"
            f" a breeding worm {rate.incubation_days + rate.maturing_days:.0f} days from now. The fuller the bed, the"
            " less each worm lays and eats."
        )
    if v.days_to_target and v.target > v.worm_mass:
        sentences.append(
            f"Waiting costs {v.days_to_target / 30.4:.0f} months; buying the missing"
            f" {v.say(v.target - v.worm_mass, 'kg')} costs {v['cost_to_buy_now']}."
        )
    sentences.append(
        "The least known figure is the share of the young that live. Count worms in a handful every month: your own"
        " curve is better than this one."
    )
    return sentences
