"""What do I mix, and how much, for C:N and moisture?"""

from collections.abc import Sequence
from dataclasses import dataclass
from random import Random
from typing import Annotated, Any

from calc.climate.pores import WATER_DENSITY
from calc.engine import (
    YARD3,
    Answer,
    Axis,
    Band,
    Choice,
    Column,
    Figure,
    Flag,
    Handle,
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
    View,
    calculator,
    of_rows,
    presents,
)
from calc.facts import feed as facts
from calc.facts.base import Range
from calc.facts.materials import BY_NAME, named
from calc.facts.moisture import FACE
from calc.feed.mix import heaped_volume, mix_carbon_nitrogen, mix_moisture, mix_nitrogen
from calc.feed.nearest import MOST_DILUTED, Material, nearest_mix
from calc.feed.portions import FIGURES, Portion, carbon_doubts, drawn, read_portions
from calc.moisture import dry_bedding_to_add, water_to_add

DRAWS = 200
BEDDING = {"straw": "straw", "cardboard": "corrugated cardboard", "leaves": "leaves", "sawdust": "sawdust"}
HELPERS = ("corrugated cardboard", "straw", "leaves", "sawdust", "coffee grounds", "grass clippings", "dairy manure")
SALTY_OR_SHARP = {
    "laying hen manure": "ammonia",
    "broiler litter": "ammonia",
    "turkey litter": "ammonia",
    "seaweed": "salt",
}


@dataclass(frozen=True)
class Recipe:
    """A mix worked out: the portions that have an amount, their masses [kg], water [kg], and how it met the targets."""

    portions: tuple[Portion, ...]
    masses: tuple[float, ...]
    water: float
    bedding: float
    gave_way: tuple[str, ...]
    moisture_range: tuple[float, float] | None
    carbon_nitrogen_range: tuple[float, float] | None

    def figures(self, name: str) -> list[float]:
        return [getattr(portion, name) for portion in self.portions]

    @property
    def mass(self) -> float:
        return sum(self.masses) + self.water

    @property
    def moisture(self) -> float:
        return mix_moisture([*self.masses, self.water], [*self.figures("moisture"), 1.0])

    @property
    def carbon_nitrogen(self) -> float:
        return mix_carbon_nitrogen(
            self.masses, self.figures("moisture"), self.figures("nitrogen"), self.figures("carbon_nitrogen")
        )

    @property
    def volume(self) -> float | None:
        densities = self.figures("bulk_density")
        return None if None in densities else heaped_volume(self.masses, densities)


@dataclass(frozen=True)
class Mixed(Answer):
    mix_moisture: Annotated[
        Band,
        Output(
            "1", "Moisture of the mix", "Water in the whole mix, by mass.", us="%", metric="%", ranged=True, main=True
        ),
    ]
    mix_carbon_nitrogen: Annotated[
        Band, Output("1", "C:N of the mix", "Carbon to nitrogen, by mass.", ranged=True, main=True)
    ]
    water_to_add: Annotated[
        float,
        Output(
            "kg",
            "Water to add",
            "Sprinkled in as you mix, little by little, to reach the moisture aimed for.",
        ),
    ]
    water_volume: Annotated[
        float,
        Output(
            "m3",
            "Water to add, by the can",
            "Sprinkled in as you mix, little by little.",
            us="gal",
            metric="L",
            main=True,
        ),
    ]
    mix_mass: Annotated[float, Output("kg", "Mass of the mix", "As it lies. Solved, with the water.")]
    mix_volume: Annotated[
        Band | None,
        Output(
            "m3",
            "Volume of the mix",
            "Materials measured one by one; once turned the heap is 0 to 30 % smaller.",
            us="yd3",
            metric="m3",
            ranged=True,
        ),
    ]
    mix_bulk_density: Annotated[
        Band | None,
        Output(
            "kg/m3",
            "Bulk density of the mix",
            "Before it settles; above 650 kg/m³ (1,100 lb/yd³) a heap lacks air.",
            ranged=True,
        ),
    ]
    mix_nitrogen: Annotated[float, Output("1", "Nitrogen of the mix", "Of its dry matter.", us="%", metric="%")]
    dry_bedding_to_add: Annotated[
        float, Output("kg", "Dry bedding to add", "Of the kind chosen, when the mix would be too wet without.")
    ]
    moisture_miss: Annotated[
        float,
        Output(
            "1",
            "Moisture, above or below target",
            "0 when it is met. Where you check, the water to add is counted in.",
            us="%",
            metric="%",
        ),
    ]
    carbon_nitrogen_miss: Annotated[float, Output("1", "C:N, above or below target", "0 when it is met.")]
    gave_way: Annotated[
        str,
        Output(
            "1",
            "Target not met",
            "“none” when both are met. Where you check, moisture counts as met within 2 points, C:N within a tenth.",
        ),
    ]


@calculator(
    "feed.recipe",
    "What do I mix, and how much, for C:N and moisture?",
    leads={
        "feed.hot_phase": {"starting_carbon_nitrogen": "mix_carbon_nitrogen"},
        "moisture.adjust": {"mass": "mix_mass", "moisture": "mix_moisture"},
        "lane.feeding": {},  # a fresh heap is not yet what lies on the face: it heats, dries and settles before
        "harvest.balance": {},
    },
)
def recipe(
    materials: Annotated[
        Sequence[dict[str, Any]],
        Rows(
            "Materials",
            {
                "material": Text("Material", optional=True, choices=tuple(BY_NAME)),
                "mass": Number("kg", "Mass", 0, 1e6, optional=True),
                "volume": Number("m3", "Volume", 0, 1e4, us="ft3", metric="L", optional=True),
                "share": Share("Share wanted", 0, 1, optional=True),
                "fixed": Flag("Fixed"),
                "moisture": Share("Moisture", 0, 1, optional=True),
                "nitrogen": Share("Nitrogen", 0, 0.2, optional=True),
                "carbon_nitrogen": Number("1", "C:N", 1, 2000, optional=True),
                "bulk_density": Number("kg/m3", "Bulk density", 5, 2000, us="lb/yd3", metric="kg/m3", optional=True),
            },
            help=(
                "Up to six. Name a material from the table of materials, and say how much by mass or by volume. A blank"
                " cell takes the table's figure; type your own where you know better. Shares are by mass, and Solve"
                " keeps near them; “fixed” keeps a row's amount."
            ),
        ),
    ] = facts.DEMO_MATERIALS,
    mode: Annotated[
        str,
        Choice(
            "What to work out",
            {"check": "Check what I have", "solve": "Solve for the amounts"},
            help=(
                "Check adds up the amounts given. Solve finds amounts near the shares you would like that meet both"
                " targets."
            ),
        ),
    ] = "check",
    target_moisture: Annotated[
        float | None,
        Share(
            "Moisture aimed for",
            0.05,
            0.95,
            help="Hot heap 50 to 60 %, at most 65 %. Straight on to worms 70 to 85 %. Blank: any.",
            optional=True,
        ),
    ] = 0.60,
    target_carbon_nitrogen: Annotated[
        float | None,
        Number(
            "1",
            "C:N aimed for",
            5,
            200,
            help="25 to 40 for a heap that heats; 30 is the usual aim. Blank: any.",
            optional=True,
        ),
    ] = 30.0,
    total_mass: Annotated[
        float | None,
        Number(
            "kg",
            "Mass of mix wanted",
            0.01,
            1e6,
            optional=True,
            help=(
                "For Solve, water included. Blank: as much as the amounts in the table come to. Not used when a"
                " row is fixed."
            ),
        ),
    ] = None,
    allow_water: Annotated[bool, Flag("Water may be added", help="A hose or cans are at hand.")] = True,
    dry_bedding: Annotated[
        str,
        Choice(
            "Dry bedding at hand",
            {
                "none": "None",
                "straw": "Straw",
                "cardboard": "Shredded cardboard",
                "leaves": "Dry leaves",
                "sawdust": "Sawdust",
            },
            help="Added only when a target cannot be met without it, and counted in the mix.",
        ),
    ] = "none",
) -> Mixed:
    """Moisture, C:N and density of a mix, or the amounts nearest to the shares wanted that meet both targets.

    Source: Richard & Trautmann 1996, Science and Engineering of Composting, Cornell (balances); least squares over
    amounts not below zero (nearest mix).
    """
    worked = work_out(materials, mode, target_moisture, target_carbon_nitrogen, total_mass, allow_water, dry_bedding)
    ranges = plausible(worked)
    water = worked.water if mode == "solve" else water_to(worked, target_moisture) if allow_water else 0.0
    reached = worked.moisture if mode == "solve" else mix_moisture([worked.mass, water], [worked.moisture, 1.0])
    ratio = worked.carbon_nitrogen
    return Mixed(
        mix_moisture=ranges.moisture,
        mix_carbon_nitrogen=ranges.carbon_nitrogen,
        water_to_add=water,
        water_volume=water / WATER_DENSITY,
        mix_mass=worked.mass,
        mix_volume=ranges.volume,
        mix_bulk_density=ranges.bulk_density,
        mix_nitrogen=mix_nitrogen(worked.masses, worked.figures("moisture"), worked.figures("nitrogen")),
        dry_bedding_to_add=worked.bedding if mode == "solve" else bedding_to(worked, target_moisture, dry_bedding),
        moisture_miss=_miss(reached, target_moisture, 1e-9),
        carbon_nitrogen_miss=_miss(ratio, target_carbon_nitrogen, 1e-7),
        gave_way=(
            _names(worked.gave_way)
            if mode == "solve"
            else _missed_in_check(reached, ratio, target_moisture, target_carbon_nitrogen)
        ),
    )


def work_out(
    materials: Sequence[dict[str, Any]],
    mode: str,
    target_moisture: float | None,
    target_carbon_nitrogen: float | None,
    total_mass: float | None,
    allow_water: bool,
    dry_bedding: str,
) -> Recipe:
    """The mix behind an answer [Recipe]; Refused when the table of materials does not make one."""
    solving = mode == "solve"
    problems: list[Problem] = []
    portions = read_portions(materials, solving, problems)
    if portions and not problems:
        problems += _amount_problems(portions, solving, total_mass)
    if problems:
        raise Refused(problems)
    if not solving:
        checked = _checked(portions, total_mass)
        if not any(mass * (1 - p.moisture) * p.nitrogen for mass, p in zip(checked.masses, portions)):
            raise Refused(
                [("materials", "There is no dry matter with nitrogen in this mix: C:N cannot be worked out.")]
            )
        return checked
    first = _solved(portions, target_moisture, target_carbon_nitrogen, total_mass, allow_water)
    if not first.gave_way or dry_bedding == "none":
        return first
    return _solved(
        [*portions, helper(BEDDING[dry_bedding])], target_moisture, target_carbon_nitrogen, total_mass, allow_water
    )


def _amount_problems(portions: Sequence[Portion], solving: bool, total_mass: float | None) -> list[Problem]:
    by_share = all(portion.mass is None for portion in portions) and any(portion.share for portion in portions)
    if not solving:
        if by_share:
            return (
                []
                if total_mass
                else [("total_mass", "Only shares are given: say how much mix there is in all, or give masses.")]
            )
        open_rows = [portion.row for portion in portions if portion.mass is None]
        if open_rows:
            told = of_rows(open_rows, "say how much there is, by mass or by volume.", "mass", "volume")
            return [("materials", told)]
        if not sum(portion.mass or 0.0 for portion in portions):
            return [("materials", "All amounts are zero: there is nothing to mix.")]
        return []
    if any(portion.nitrogen <= 0 for portion in portions):
        rows = [portion.row for portion in portions if portion.nitrogen <= 0]
        return [("materials", of_rows(rows, "nitrogen must be above 0 %; even sawdust has 0.1 %.", "nitrogen"))]
    sized = total_mass or any(portion.fixed for portion in portions) or sum(portion.mass or 0 for portion in portions)
    return [] if sized else [("total_mass", "Say how much mix you want, or fix the amount of one material.")]


def _checked(portions: Sequence[Portion], total_mass: float | None) -> Recipe:
    masses = [portion.mass for portion in portions if portion.mass is not None]
    if not masses and total_mass is not None:
        masses = [share * total_mass for share in _wanted(portions)]
    return Recipe(tuple(portions), tuple(masses), 0.0, 0.0, (), None, None)


def _wanted(portions: Sequence[Portion]) -> list[float]:
    """Shares wanted, summing to 1: those given, blank ones dividing what is left; else as the amounts, when any but a
    fixed one is given; else equal.
    """
    given = [portion.share for portion in portions]
    count = len(portions)
    if any(share is not None for share in given):
        blanks = given.count(None)
        rest = max(0.0, 1 - sum(share or 0 for share in given))
        shares = [rest / blanks if share is None else share for share in given]
    elif any(portion.mass and not portion.fixed for portion in portions):
        shares = [portion.mass or 0.0 for portion in portions]
    else:
        shares = [1.0] * count
    total = sum(shares)
    return [share / total for share in shares] if total > 0 else [1 / count] * count


def _solved(
    portions: Sequence[Portion],
    target_moisture: float | None,
    target_carbon_nitrogen: float | None,
    total_mass: float | None,
    allow_water: bool,
) -> Recipe:
    listed = [portion for portion in portions if portion.row]
    wanted = _wanted(listed) + [0.0] * (len(portions) - len(listed))
    offered = [
        Material(p.moisture, p.nitrogen, p.carbon_nitrogen, share, p.mass if p.fixed else None)
        for p, share in zip(portions, wanted)
    ]
    size = total_mass or sum(portion.mass or 0 for portion in portions)
    found = nearest_mix(offered, target_moisture, target_carbon_nitrogen, size, allow_water)
    bedding = sum(mass for mass, portion in zip(found.masses, portions) if not portion.row)
    return Recipe(
        tuple(portions),
        found.masses,
        found.water,
        bedding,
        found.gave_way,
        found.moisture_range,
        found.carbon_nitrogen_range,
    )


def helper(name: str) -> Portion:
    """A material from the table as a portion nobody asked for, but which may be added [Portion, row 0]."""
    material = named(name)
    taken = {figure: getattr(material, figure) for figure in FIGURES}
    return Portion(0, name, None, 0.0, False, facts=taken, **{figure: fact.typical for figure, fact in taken.items()})


def water_to(worked: Recipe, target: float | None) -> float:
    """Water that brings a mix to a target moisture [kg]; none when it is that wet already or any moisture will do."""
    if target is None or worked.moisture >= target:
        return 0.0
    return water_to_add(worked.mass, worked.moisture, target)


def bedding_to(worked: Recipe, target: float | None, dry_bedding: str) -> float:
    """Dry bedding that brings a mix down to a target moisture [kg]; none when it is dry enough or the bedding is too
    wet.
    """
    if target is None or dry_bedding == "none" or worked.moisture <= target:
        return 0.0
    bedding = helper(BEDDING[dry_bedding])
    if bedding.moisture >= target:
        return 0.0
    return dry_bedding_to_add(worked.mass, worked.moisture, target, bedding.moisture)


def _miss(reached: float, target: float | None, rounding: float) -> float:
    if target is None or abs(reached - target) <= rounding * max(1.0, target):
        return 0.0
    return reached - target


def _names(gave_way: Sequence[str]) -> str:
    words = {"target_moisture": "moisture", "target_carbon_nitrogen": "C:N"}
    return " and ".join(words[name] for name in gave_way) or "none"


def _missed_in_check(moisture: float, ratio: float, target_moisture: float | None, target_ratio: float | None) -> str:
    """What a mix of given amounts misses even after the water is added: two points of moisture, a tenth of C:N do not
    count.
    """
    missed = []
    if target_moisture is not None and abs(moisture - target_moisture) > 0.02:
        missed.append("target_moisture")
    if target_ratio is not None and abs(ratio - target_ratio) > 0.1 * target_ratio:
        missed.append("target_carbon_nitrogen")
    return _names(missed)


@dataclass(frozen=True)
class Plausible:
    """Bands of a mix; volume [m³] and density [kg/m³] only where every material has its bulk density."""

    moisture: Band
    carbon_nitrogen: Band
    volume: Band | None
    bulk_density: Band | None


def plausible(worked: Recipe) -> Plausible:
    """Moisture, C:N, volume and density of a mix, each with the range that the spread of the table's figures gives it.

    200 draws, the middle 80 % kept. Figures the reader typed do not vary.
    """
    generator = Random(20270302)
    moistures, ratios, volumes = [], [], []
    for _ in range(DRAWS):
        wet, nitrogen, carbon_nitrogen, densities = zip(*(drawn(portion, generator) for portion in worked.portions))
        moistures.append(mix_moisture([*worked.masses, worked.water], [*wet, 1.0]))
        ratios.append(mix_carbon_nitrogen(worked.masses, wet, nitrogen, carbon_nitrogen))
        if None not in densities:
            volumes.append(heaped_volume(worked.masses, densities))
    moisture, ratio = _band(worked.moisture, moistures), _band(worked.carbon_nitrogen, ratios)
    if worked.volume is None:
        return Plausible(moisture, ratio, None, None)
    volume = _band(worked.volume, volumes)
    # Low density goes with large volume.
    density = Band(worked.mass / volume.value, worked.mass / volume.high, worked.mass / volume.low)
    return Plausible(moisture, ratio, volume, density)


def _band(value: float, draws: Sequence[float]) -> Band:
    ordered = sorted(draws)
    tenth = len(ordered) // 10
    return Band(value, min(value, ordered[tenth]), max(value, ordered[-1 - tenth]))


# --- what the page shows beside the numbers -------------------------------------------------------------------------


@presents(recipe)
def show_recipe(v: View) -> Show:
    worked = work_out(
        v.materials, v.mode, v.target_moisture, v.target_carbon_nitrogen, v.total_mass, v.allow_water, v.dry_bedding
    )
    return Show(
        working=_working(v, worked),
        tables=[_table(worked)],
        figures=[_figure(v, worked)],
        warnings=_target_warnings(v, worked) + _mix_warnings(v, worked),
        reading=_reading(v, worked),
    )


def _working(v: View, worked: Recipe) -> list[Step]:
    dry = [mass * (1 - portion.moisture) for mass, portion in zip(worked.masses, worked.portions)]
    amounts = {
        "water": Part("water in all materials", worked.mass - sum(dry), "kg"),
        "whole": Part("mass", worked.mass, "kg"),
        "dry": Part("dry matter", sum(dry), "kg"),
        "carbon": Part("carbon in the dry matter", sum(mass * p.carbon for mass, p in zip(dry, worked.portions)), "kg"),
        "nitrogen": Part(
            "nitrogen in the dry matter", sum(mass * p.nitrogen for mass, p in zip(dry, worked.portions)), "kg"
        ),
    }
    cornell = "Richard & Trautmann 1996"
    steps = [
        Step(
            "Moisture of the mix",
            "{mix_moisture} = {water} ÷ {whole}",
            cornell,
            "Each material holds mass × moisture of water.",
            amounts,
        ),
        Step(
            "C:N of the mix",
            "{mix_carbon_nitrogen} = {carbon} ÷ {nitrogen}",
            cornell,
            "Each material: mass × (1 − moisture) × its share of dry matter.",
            amounts,
        ),
    ]
    if worked.volume is not None:
        steps.append(
            Step(
                "Bulk density of the mix",
                "{mix_bulk_density} = {mix_mass} ÷ {mix_volume}",
                "definition",
                "Volumes of the materials added up; water fills gaps and adds none.",
            )
        )
    steps.append(Step("Nitrogen of the mix", "{mix_nitrogen} = {nitrogen} ÷ {dry}", cornell, values=amounts))
    steps.append(
        Step(
            "What is missed",
            "{moisture_miss} = {reached} − {target_moisture}; {carbon_nitrogen_miss} = {mix_carbon_nitrogen} −"
            " {target_carbon_nitrogen}",
            "definition",
            "What is off by no more than the rounding of the arithmetic counts as met.",
            {"reached": Part("moisture after the water to add", _reached(v), "1", "%", "%")},
        )
    )
    if v.mode == "check" and v.dry_bedding_to_add:  # in a mix that is solved for it is one of the amounts
        steps.append(
            Step(
                "Dry bedding",
                "{dry_bedding_to_add} = {mix_mass} × ({mix_moisture} − {target_moisture}) ÷ ({target_moisture} −"
                " {bedding_moisture})",
                "mass balance of water",
                values={
                    "bedding_moisture": Part(
                        "moisture of the dry bedding", helper(BEDDING[v.dry_bedding]).moisture, "1", "%", "%"
                    )
                },
            )
        )
    if v.mode == "check" and v.target_moisture is not None and v.water_to_add:
        steps.append(
            Step(
                "Water to add",
                "{water_to_add} = {mix_mass} × ({target_moisture} − {mix_moisture}) ÷ (1 − {target_moisture});"
                " {water_volume} = {water_to_add} ÷ {of_water}",
                "mass balance of water",
                values={"of_water": Part("density of water", WATER_DENSITY, "kg/m3")},
            )
        )
    if v.mode == "solve":
        steps.append(
            Step(
                "Amounts",
                "{off} = sum over {materials} of ({share} − {wanted})^2",
                "least squares, solved exactly",
                "No other amounts of zero and more that meet the targets come nearer to the shares wanted.",
                {
                    "off": Part("sum of squared differences from the shares wanted", _distance(worked)),
                    "materials": RowsPart("the materials", {"share": "1", "wanted": "1"}, _shares(worked)),
                },
            )
        )
    return steps


def _reached(v: View) -> float:
    """Moisture of the mix after its water [-]: in a solved mix it is in already."""
    if v.mode == "solve":
        return float(v.mix_moisture)
    return mix_moisture([v.mix_mass, v.water_to_add], [v.mix_moisture, 1.0])


def _shares(worked: Recipe) -> list[dict[str, float]]:
    """Of each material the share of the mix that it has, and the one wanted [-]."""
    wanted = iter(_wanted([p for p in worked.portions if p.row]))
    return [
        {"share": mass / worked.mass, "wanted": next(wanted) if p.row else 0.0}
        for mass, p in zip(worked.masses, worked.portions)
    ]


def _distance(worked: Recipe) -> float:
    """Sum of squared differences between the shares of the materials in a mix and those wanted [-]."""
    return sum((row["share"] - row["wanted"]) ** 2 for row in _shares(worked))


def _percent(share: float) -> str:
    return f"{100 * share:.3g} %"


def _table(worked: Recipe) -> Table:
    wanted = dict(zip((p.row for p in worked.portions if p.row), _wanted([p for p in worked.portions if p.row])))
    rows: list[tuple[object, ...]] = []
    for mass, p in zip(worked.masses, worked.portions):
        volume = mass / p.bulk_density if p.bulk_density else None
        rows.append(
            (
                p.name,
                mass,
                mass / worked.mass,
                wanted.get(p.row, 0.0),
                volume,
                p.moisture,
                p.nitrogen,
                p.carbon_nitrogen,
                p.bulk_density,
                p.origin,
            )
        )
    if worked.water:
        rows.append(
            ("water", worked.water, worked.water / worked.mass, None, worked.water / 1000, 1.0, None, None, 1000.0, "")
        )
    columns = [
        Column("material", "Material"),
        Column("mass", "Mass", "kg"),
        Column("share", "Of the mix", "1", us="%", metric="%"),
        Column("wanted", "Wanted", "1", us="%", metric="%"),
        Column("volume", "Volume", "m3", us="ft3", metric="L"),
        Column("moisture", "Moisture", "1", us="%", metric="%"),
        Column("nitrogen", "Nitrogen, dry", "1", us="%", metric="%"),
        Column("carbon_nitrogen", "C:N", "1"),
        Column("bulk_density", "Bulk density", "kg/m3"),
        Column("figures", "Figures"),
    ]
    return Table("mix", "What goes in", columns, rows, open=True)


def _figure(v: View, worked: Recipe) -> Figure:
    portions = [p for mass, p in zip(worked.masses, worked.portions)]
    marks = [
        Mark("zone_x", [(facts.CARBON_NITROGEN.low, facts.CARBON_NITROGEN.high, "heats well")], tone="good"),
        Mark("zone_y", [(facts.HEAP_MOISTURE.low, facts.HEAP_MOISTURE.high, "moist enough")], tone="good"),
        Mark("dots", [(p.carbon_nitrogen, p.moisture, p.name) for p in portions], label="materials", tone="second"),
    ]
    if v.target_moisture is not None and v.target_carbon_nitrogen is not None:
        marks.append(Mark("dots", [(v.target_carbon_nitrogen, v.target_moisture, "aim")], label="aim", tone="good"))
    marks.append(Mark("dots", [(worked.carbon_nitrogen, worked.moisture, "mix")], label="the mix", tone="main"))
    return Figure(
        "materials",
        "Materials and mix: C:N against moisture",
        finding=_figure_finding(worked),
        x=Axis("C:N", "1", kind="log", low=10.0, high=100.0, ticks=[3, 5, 10, 20, 30, 40, 60, 100, 200, 500, 1000]),
        y=Axis("Moisture", "1", us="%", metric="%", low=0.0, high=1.0),
        marks=marks,
        handles=[
            Handle("target_moisture", "y", 0.05, 0.95, at=(10.0, v.target_moisture or 0.0)),
            Handle("target_carbon_nitrogen", "x", 10.0, 100.0, at=(v.target_carbon_nitrogen or 10.0, 0.0)),
        ],
    )


def _figure_finding(worked: Recipe) -> str:
    inside_ratio = _within(worked.carbon_nitrogen, facts.CARBON_NITROGEN)
    inside_moisture = _within(worked.moisture, facts.HEAP_MOISTURE)
    if inside_ratio and inside_moisture:
        return "The mix lies where both bands cross: rich enough and moist enough to heat."
    ratio = (
        ""
        if inside_ratio
        else "too little carbon"
        if worked.carbon_nitrogen < facts.CARBON_NITROGEN.low
        else "too little nitrogen"
    )
    moisture = "" if inside_moisture else "too dry" if worked.moisture < facts.HEAP_MOISTURE.low else "too wet"
    return (
        "For a heap that heats the mix is"
        f" {' and has '.join(filter(None, [moisture, ratio])) if moisture else 'one with ' + ratio}."
    )


def _within(value: float, fact: Range) -> bool:
    """Whether a value lies in a fact's range; one that was solved to lie on its edge does."""
    return fact.low * (1 - 1e-6) <= value <= fact.high * (1 + 1e-6)


def _target_warnings(v: View, worked: Recipe) -> list[tuple[str | None, str]]:
    if v.mode != "solve" or not worked.gave_way:
        return []
    said: list[tuple[str | None, str]] = []
    if "target_moisture" in worked.gave_way:
        driest = worked.moisture > v.target_moisture
        reason = (
            "nothing in the table is dry enough"
            if driest
            else "water may not be added"
            if not v.allow_water
            else "the C:N would be lost"
        )
        said.append(
            (
                "target_moisture",
                (
                    f"Moisture of {v['target_moisture']} cannot be met: {reason}. The nearest mix has"
                    f" {v.say(worked.moisture, '1', us='%', metric='%')},"
                    f" {100 * abs(worked.moisture - v.target_moisture):.1f} points {'above' if driest else 'below'}."
                ),
            )
        )
    if "target_carbon_nitrogen" in worked.gave_way:
        low, high = worked.carbon_nitrogen_range or (worked.carbon_nitrogen, worked.carbon_nitrogen)
        held = (
            f"at {v.say(worked.moisture, '1', us='%', metric='%')} moisture " if v.target_moisture is not None else ""
        )
        can = f"C:N {low:.3g}" if high - low < 0.005 * high else f"C:N {low:.3g} to {high:.3g}"
        said.append(
            (
                "target_carbon_nitrogen",
                (
                    f"C:N {v.target_carbon_nitrogen:.3g} cannot be met: {held}these materials can make {can}. The"
                    f" nearest mix has {worked.carbon_nitrogen:.3g},"
                    f" {abs(worked.carbon_nitrogen - v.target_carbon_nitrogen):.2g} off."
                ),
            )
        )
    rescue = _rescue(v, worked)
    if rescue:
        said.append((None, rescue))
    return said


def _rescue(v: View, worked: Recipe) -> str | None:
    """One more material from the table that would meet both targets, with the least of it; or None."""
    listed = [p for p in worked.portions if p.row]
    if len(listed) == len(worked.portions) and v.dry_bedding == "none":
        found = []
        for name in HELPERS:
            extra = helper(name)
            attempt = _solved(
                [*listed, extra], v.target_moisture, v.target_carbon_nitrogen, v.total_mass, v.allow_water
            )
            if not attempt.gave_way:
                found.append((attempt.bedding, name))
        if found:
            mass, name = min(found)
            return f"With {v.say(mass, 'kg')} of {name} in the mix both targets could be met."
    return None


TOO_SMALL = YARD3 / 2
"""A mix that is far from the cubic yard from which a heap heats is told so [m3]."""


def _mix_warnings(v: View, worked: Recipe) -> list[tuple[str | None, str]]:
    doubts = carbon_doubts([p for p in worked.portions if p.row])
    said: list[tuple[str | None, str]] = [("materials", sentence) for sentence in doubts]
    shares = [p.share for p in worked.portions if p.row and p.share is not None]
    if v.mode == "solve" and shares and sum(shares) > 1.005:
        said.append(("materials", f"The shares add up to {100 * sum(shares):.0f} %; they were scaled to 100 %."))
    if v.mode == "solve" and v.total_mass and any(p.fixed for p in worked.portions):
        said.append(
            ("total_mass", f"A fixed row sets the size of the mix, {v['mix_mass']}; the mass wanted was not used.")
        )
    fixed = sum(mass for mass, p in zip(worked.masses, worked.portions) if p.fixed)
    if v.mode == "solve" and fixed and fixed < 1.001 * MOST_DILUTED * sum(worked.masses):
        said.append(
            (
                "materials",
                (
                    f"That is {1 / MOST_DILUTED:.0f} times the amount you fixed, the most the calculator goes to: no"
                    " sensible mix of these comes near."
                ),
            )
        )
    bedding = BEDDING.get(v.dry_bedding, "straw")
    if v.mode == "check" and v.target_moisture is not None and worked.moisture > v.target_moisture + 0.005:
        needed = bedding_to(worked, v.target_moisture, v.dry_bedding if v.dry_bedding != "none" else "straw")
        if needed:
            ratio = _with_bedding(worked, bedding, needed)
            mended = f"{v.say(needed, 'kg')} of {bedding} would bring it there; C:N would then be {ratio:.3g}."
            said.append(("target_moisture", f"The mix is wetter than {v['target_moisture']}. {mended}"))
    if v.target_moisture is not None and v.target_moisture > FACE.high:
        said.append(
            (
                "target_moisture",
                (
                    f"{v['target_moisture']} is wetter than anything wants that is to rot: a heap that heats takes"
                    f" {_percent(facts.HEAP_MOISTURE.high)} at most, worms {_percent(FACE.high)}."
                ),
            )
        )
    if worked.carbon_nitrogen < facts.CARBON_NITROGEN_ACCEPTABLE.low:
        said.append(
            (
                None,
                (
                    f"C:N {worked.carbon_nitrogen:.3g} is low: the heap will smell of ammonia, lose nitrogen, and harm"
                    " worms until it has gone off."
                ),
            )
        )
    if worked.carbon_nitrogen > facts.CARBON_NITROGEN_ACCEPTABLE.high:
        said.append(
            (
                None,
                (
                    f"C:N {worked.carbon_nitrogen:.3g} is high: the heap may hardly heat. Something richer in nitrogen,"
                    " such as manure or grass, mends it."
                ),
            )
        )
    if worked.moisture < facts.TOO_DRY_TO_ROT.high:
        said.append((None, f"At {_percent(worked.moisture)} moisture rotting is slow, and under 30 % it stops."))
    density = v.mix_bulk_density
    if density is not None and density > facts.HEAVY_MIX.typical:
        said.append(
            (
                None,
                (
                    f"At {v.say(density, 'kg/m3')} the mix is dense: air hardly gets in. Add something coarse, or turn"
                    " it often."
                ),
            )
        )
    for mass, p in zip(worked.masses, worked.portions):
        known = named(p.name)
        if mass and known and known.name in SALTY_OR_SHARP:
            said.append(("materials", f"Row {p.row}: {known.name} — {known.note}"))
    return said


def _with_bedding(worked: Recipe, bedding: str, mass: float) -> float:
    extra = helper(bedding)
    return mix_carbon_nitrogen(
        [*worked.masses, mass],
        [*worked.figures("moisture"), extra.moisture],
        [*worked.figures("nitrogen"), extra.nitrogen],
        [*worked.figures("carbon_nitrogen"), extra.carbon_nitrogen],
    )


def _reading(v: View, worked: Recipe) -> list[str]:
    lines = [
        f"The mix weighs {v['mix_mass']} and holds {v['mix_moisture']} water; its C:N is {v['mix_carbon_nitrogen']}."
    ]
    if v.mode == "solve":
        amounts = ", ".join(
            f"{v.say(mass, 'kg')} of {p.name}"
            for mass, p in zip(worked.masses, worked.portions)
            if mass > 1e-9 * worked.mass
        )
        left_out = [p.name for mass, p in zip(worked.masses, worked.portions) if p.row and mass <= 1e-9 * worked.mass]
        lines.insert(
            0, f"Mix {amounts}" + (f", and {v['water_volume']} of water." if worked.water > 1e-9 * worked.mass else ".")
        )
        if left_out:
            lines.append(f"No {' or '.join(left_out)}: any of it would take the mix further from what you asked for.")
    elif v.water_to_add:
        lines.append(f"{v['water_volume']} of water brings it to {v['target_moisture']}.")
    ratio = v.band("mix_carbon_nitrogen")
    if ratio.high > 1.02 * ratio.low:
        lines.append(
            "The ranges come from how much such materials differ from farm to farm. Dry a sample of the wettest one to"
            " narrow them."
        )
    watered = max(worked.moisture, v.target_moisture) if v.water_to_add else worked.moisture
    if watered < facts.BED_MOISTURE.low:
        lines.append(
            "This is a mix for a heap that heats. Worms want their feed at 70 to 85 % moisture: water it when it has"
            " cooled, and again as you lay it."
        )
        if v.mix_volume is not None and v.mix_volume < TOO_SMALL:
            lines.append(
                f"By itself {v.say(v.mix_volume, 'm3', us='ft3', metric='L', digits=2)} never gets hot: a heap heats"
                " from a cubic yard (0.76 m³) on. Gather more, or add it to a larger heap."
            )
    return lines
