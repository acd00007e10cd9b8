"""Water to add, water to lose, or dry bedding to mix in: a mass balance on the dry matter."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Annotated

from calc.climate import pores
from calc.engine import (
    POUND,
    Answer,
    Axis,
    Column,
    CurvePart,
    Figure,
    Handle,
    Mark,
    Number,
    Output,
    Part,
    Refused,
    Share,
    Show,
    Step,
    Table,
    View,
    calculator,
    presents,
)
from calc.facts import moisture as facts
from calc.inputs import BED_AREA

WATER_DENSITY = 1000.0
"""Water [kg/m³], near enough at any temperature a hose gives."""


def water_to_add(mass: float, moisture: float, target: float) -> float:
    """Water that raises bedding to a target moisture [kg].

    Wet-basis mass balance: the dry matter stays, so mass × (1 − moisture) = (mass + water) × (1 − target).

    mass [kg] as it lies; moisture, target [-] wet basis, 0 <= moisture <= target < 1.
    Source: Richard & Trautmann 1996, moisture balance.
    >>> round(water_to_add(18.0, 0.55, 0.75), 3)
    14.4
    """
    return mass * (target - moisture) / (1 - target)


def water_to_lose(mass: float, moisture: float, target: float) -> float:
    """Water that must dry off to bring bedding down to a target moisture [kg]; same balance.

    >>> round(water_to_lose(100.0, 0.75, 0.50), 3)
    50.0
    """
    return mass * (moisture - target) / (1 - target)


def dry_bedding_to_add(mass: float, moisture: float, target: float, dry_bedding_moisture: float) -> float:
    """Dry bedding that brings wet bedding down to a target moisture [kg].

    mass [kg]; moistures [-] wet basis, dry_bedding_moisture < target <= moisture.
    Source: Richard & Trautmann 1996, mass of a second material for a moisture goal.
    >>> round(dry_bedding_to_add(10.0, 0.77, 0.60, 0.35), 3)
    6.8
    """
    return mass * (moisture - target) / (target - dry_bedding_moisture)


@dataclass(frozen=True)
class Adjusted(Answer):
    water_to_add: Annotated[
        float,
        Output(
            "kg", "Water to add", "Sprinkle it in three or four goes, an hour apart, so that it soaks in.", main=True
        ),
    ]
    water_volume: Annotated[
        float, Output("m3", "The same by the can", "As a hose or a can pours it.", us="gal", metric="L", main=True)
    ]
    water_to_lose: Annotated[
        float, Output("kg", "Water to lose", "What must dry off, if you open the bed and wait instead.", main=True)
    ]
    dry_bedding_to_add: Annotated[
        float | None, Output("kg", "Or dry bedding to add", "Mixed in, it brings the moisture down at once.", main=True)
    ]
    final_mass: Annotated[float, Output("kg", "Weight afterwards", "With the water added, or dried off.")]
    water_depth: Annotated[
        float,
        Output(
            "m", "Depth of that water over the bed", "As a rain gauge would show it.", us="in", metric="mm", digits=2
        ),
    ]
    dry_matter: Annotated[float, Output("kg", "Dry matter", "Stays the same throughout.")]
    air_space: Annotated[
        float,
        Output(
            "1",
            "Air in it afterwards",
            "Share of the volume, if the bedding is as dense as said below and does not shrink.",
            us="%",
            metric="%",
            digits=2,
        ),
    ]


@calculator(
    "moisture.adjust",
    "How much water brings bedding from here to there?",
    leads={"climate.today": {}, "lane.feeding": {}, "climate.water": {}, "moisture.test": {}},
)
def adjust(
    mass: Annotated[
        float | None,
        Number(
            "kg",
            "Weight of the bedding",
            0.01,
            1e6,
            help="As it lies, water included. Blank: taken from volume and bulk density.",
            optional=True,
            unless="volume",
        ),
    ] = 40 * POUND,
    volume: Annotated[
        float | None,
        Number(
            "m3",
            "Volume of the bedding",
            0.0001,
            2000,
            us="ft3",
            metric="L",
            help="Only if you have not weighed it.",
            optional=True,
        ),
    ] = None,
    bulk_density: Annotated[
        float,
        Number(
            "kg/m3",
            "Bulk density",
            30,
            1300,
            us="lb/ft3",
            fact=facts.BEDDING_DENSITY,
            help="As it lies now. Used with a volume, and for the air that is left in the bedding.",
            group="If you measured a volume",
        ),
    ] = facts.BEDDING_DENSITY.typical,
    moisture: Annotated[
        float,
        Share(
            "Moisture now",
            0,
            0.99,
            help="Share of the whole weight that is water. The squeeze test gives a first figure.",
            spread=(0.50, 0.60),
        ),
    ] = 0.55,
    target: Annotated[
        float,
        Share(
            "Moisture wanted",
            0.05,
            0.95,
            help="75–80 % for a feeding face, 50–55 % for screening.",
            spread=(0.70, 0.80),
        ),
    ] = 0.75,
    dry_bedding_moisture: Annotated[
        float,
        Share(
            "Moisture of dry bedding",
            0,
            0.9,
            fact=facts.DRY_BEDDING,
            help="Of what you would mix into bedding that is too wet.",
            group="Bedding and bed",
        ),
    ] = facts.DRY_BEDDING.typical,
    area: Annotated[
        float,
        Number(
            "m2",
            "Area it lies on",
            0.05,
            2000,
            help="Of this bedding, for the depth of its water. It need not be a whole lane.",
        ),
    ] = BED_AREA / 8,
) -> Adjusted:
    """Water to add or lose, or dry bedding to add, to bring bedding to a wanted moisture.

    mass [kg] or volume [m³] with bulk_density [kg/m³]; moistures [-] wet basis; area [m²].
    Raises Refused when neither mass nor volume is given, or when too-wet bedding would be corrected with bedding as wet
    as the target.
    Source: wet-basis mass balance, Richard & Trautmann 1996.
    """
    if mass is None:
        if volume is None:
            raise Refused([("mass", "Enter the weight of the bedding, or its volume.")])
        mass = volume * bulk_density
    too_wet = moisture > target
    if too_wet and dry_bedding_moisture >= target:
        raise Refused(
            [
                (
                    "dry_bedding_moisture",
                    "Moisture of dry bedding must be below the moisture wanted: wetter bedding cannot dry a heap.",
                )
            ]
        )
    added = 0.0 if too_wet else water_to_add(mass, moisture, target)
    lost = water_to_lose(mass, moisture, target) if too_wet else 0.0
    bedding = dry_bedding_to_add(mass, moisture, target, dry_bedding_moisture) if too_wet else 0.0
    return Adjusted(
        water_to_add=added,
        water_to_lose=lost,
        dry_bedding_to_add=bedding,
        final_mass=mass + added - lost,
        water_depth=(added + lost) / WATER_DENSITY / area,
        dry_matter=mass * (1 - moisture),
        water_volume=added / WATER_DENSITY,
        air_space=max(0.0, air_left(bulk_density, moisture, target)),
    )


def air_left(bulk_density: float, moisture: float, target: float) -> float:
    """Share of the room that is air at a target moisture [-]; below 0 where the bedding would be mud.

    bulk_density [kg/m³] at the moisture of now.
    """
    return pores.air_space(pores.at_moisture(bulk_density, moisture, target), target)


@presents(adjust)
def show_adjust(v: View) -> Show:
    too_wet = v.water_to_lose > 0
    before = v.final_mass - v.water_to_add + v.water_to_lose
    weight = {"weight": Part("weight now", before, "kg")}
    return Show(
        working=_working(v, too_wet, weight),
        tables=[
            Table(
                "balance",
                "Before and after",
                [Column("what", "Part"), Column("before", "Now", "kg"), Column("after", "Afterwards", "kg")],
                [
                    ("Dry matter", v.dry_matter, v.dry_matter),
                    ("Water", before - v.dry_matter, v.final_mass - v.dry_matter),
                    ("Total", before, v.final_mass),
                ],
            ),
            _other_targets(v, before),
        ],
        figures=[
            Figure(
                "before_after",
                "Dry matter and water, before and after",
                finding=(
                    f"The dry matter stays at {v['dry_matter']}; only the water changes, from"
                    f" {v.say(before - v.dry_matter, 'kg')} to {v.say(v.final_mass - v.dry_matter, 'kg')}."
                ),
                x=Axis("", kind="band"),
                y=Axis("Weight", "kg"),
                marks=[
                    Mark(
                        "stack",
                        [
                            ("Now", v.dry_matter, "dry matter"),
                            ("Now", before - v.dry_matter, "water"),
                            ("Afterwards", v.dry_matter, "dry matter"),
                            ("Afterwards", v.final_mass - v.dry_matter, "water"),
                        ],
                    )
                ],
                handles=[Handle("moisture", "y", 0.0, 0.95, at=("Now", v.dry_matter), ends=(before, 0.05 * before))],
            )
        ],
        warnings=_warnings(v),
        reading=_reading(v, too_wet),
    )


def _working(v: View, too_wet: bool, weight: Mapping[str, Part]) -> list[Step]:
    source = "Richard & Trautmann 1996, moisture balance"
    steps = [Step("Dry matter", "{dry_matter} = {weight} × (1 − {moisture})", source=source, values=weight)]
    if too_wet:
        steps.append(
            Step(
                "Water to lose",
                "{water_to_lose} = {weight} × ({moisture} − {target}) ÷ (1 − {target})",
                source=source,
                values=weight,
            )
        )
        steps.append(
            Step(
                "Or dry bedding",
                "{dry_bedding_to_add} = {weight} × ({moisture} − {target}) ÷ ({target} − {dry_bedding_moisture})",
                source=source,
                values=weight,
            )
        )
    else:
        steps.append(
            Step(
                "Water to add",
                "{water_to_add} = {weight} × ({target} − {moisture}) ÷ (1 − {target})",
                source=source,
                values=weight,
            )
        )
    steps.append(Step("Afterwards", "{final_mass} = {dry_matter} ÷ (1 − {target})", source=source))
    shared = {
        "water_density": Part("density of water", WATER_DENSITY, "kg/m3"),
        "air_left": CurvePart("1 − solids − water", air_left, ("kg/m3", "1", "1")),
    }
    steps.append(
        Step(
            "By the can, and the air left",
            "{water_volume} = {water_to_add} ÷ {water_density}; {air_space} = the larger of 0 and {air_left} at"
            " {bulk_density} and {moisture} and {target}",
            source="definition; EN 13041 for the solids",
            values=shared,
        )
    )
    depth = "{water_depth} = {%s} ÷ ({water_density} × {area})" % ("water_to_lose" if too_wet else "water_to_add")
    steps.append(Step("As a depth", depth, source="geometry", values=shared))
    return steps


def _other_targets(v: View, before: float) -> Table:
    """What other targets would take, so that a reader sees how steeply the water mounts up."""
    rows = []
    for target in (0.50, 0.55, 0.60, 0.65, 0.70, 0.75, 0.80, 0.85):
        change = water_to_add(before, v.moisture, target)
        rows.append((target, max(change, 0.0), max(-change, 0.0)))
    columns = [
        Column("target", "Moisture wanted", "1", us="%", metric="%"),
        Column("add", "Water to add", "kg"),
        Column("lose", "Water to lose", "kg"),
    ]
    return Table("targets", "The same bedding, other targets", columns, rows)


def _warnings(v: View) -> list[tuple[str, str]]:
    warnings = []
    if v.target >= v.moisture and (
        told := pores.mud(pores.at_moisture(v.bulk_density, v.moisture, v.target), v.target)
    ):
        warnings.append(("target", told))
    if v.target > facts.AIRLESS.typical:
        warnings.append(
            (
                "target",
                (
                    f"At {v['target']} the pores are full and the bedding goes airless. Worms leave or die. Stay under"
                    " 90 %."
                ),
            )
        )
    elif v.target > facts.FACE.high:
        warnings.append(
            ("target", f"{v['target']} is wetter than a feeding face should be (70–85 %). Watch for a sour smell.")
        )
    if v.target < facts.LIMITS.low:
        warnings.append(
            (
                "target",
                (
                    f"{v['target']} is for finished castings before screening. Worms need at least 60 %: have them out"
                    " first."
                ),
            )
        )
    if v.moisture > facts.AIRLESS.typical:
        warnings.append(
            (
                "moisture",
                (
                    f"At {v['moisture']} the bedding is airless now. Open it and mix in dry bedding today; waiting for"
                    " it to dry takes too long."
                ),
            )
        )
    if v.moisture < 0.40 and v.water_to_add > 0:
        warnings.append(
            ("moisture", "Bedding this dry sheds water at first. Wet it in several goes and turn it between them.")
        )
    return warnings


def _reading(v: View, too_wet: bool) -> list[str]:
    if too_wet:
        return [
            (
                f"The bedding is wetter than you want. It must lose {v['water_to_lose']} of water"
                f" ({v.say(v.water_to_lose / WATER_DENSITY, 'm3', us='gal', metric='L')})."
            ),
            f"Or mix in {v['dry_bedding_to_add']} of dry bedding: that works at once, and adds food and air.",
        ]
    if v.water_to_add == 0:
        return ["The bedding is already as wet as you want it."]
    return [
        (
            f"Add {v['water_to_add']} of water, which is"
            f" {v.say(v.water_to_add / WATER_DENSITY, 'm3', us='gal', metric='L')}."
        ),
        (
            f"Spread over {v.yours('area')} that is {v['water_depth']} deep. More than half an inch"
            " (13 mm) at once runs"
            " through (common practice, no source): split it."
        ),
        (
            "A wrong guess of the moisture matters: if it is really"
            f" {v.say(max(v.moisture - 0.05, 0), '1', us='%', metric='%')} now, you need"
            f" {v.say(water_to_add(v.final_mass - v.water_to_add, max(v.moisture - 0.05, 0), v.target), 'kg')}."
        ),
    ]
