"""What a weight of feed becomes, from its ash: worms and microbes burn organic matter, and the ash stays."""

from dataclasses import dataclass
from typing import Annotated

from calc.engine import (
    POUND,
    Answer,
    Axis,
    Column,
    Figure,
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
from calc.facts import biology
from calc.facts import harvest as facts
from calc.inputs import FEED_BULK_DENSITY, FEED_MOISTURE
from calc.lane.chain import castings_density

SLICED_DENSITY = castings_density(
    FEED_BULK_DENSITY,
    FEED_MOISTURE,
    biology.DRY_MATTER_KEPT.typical,
    biology.VOLUME_KEPT.typical,
    facts.CUT_MOISTURE.typical,
)
"""Of castings as sliced [kg/m³]: the one that follows from volume and dry matter kept, as on the pages about lanes."""


def organic_matter_lost(ash_before: float, ash_after: float) -> float:
    """Share of the organic matter that is gone [-]; ash as a share of the dry matter.

    Source: Paredes et al. 2000: 1 − X1·(1 − X2) ÷ (X2·(1 − X1)).
    >>> round(organic_matter_lost(0.10, 0.20), 6)
    0.555556
    """
    return 1 - ash_before * (1 - ash_after) / (ash_after * (1 - ash_before))


def dry_matter_lost(ash_before: float, ash_after: float) -> float:
    """Share of the dry matter that is gone [-]: the ash is the same weight before and after.

    >>> dry_matter_lost(0.10, 0.20)
    0.5
    """
    return 1 - ash_before / ash_after


@dataclass(frozen=True)
class Balance(Answer):
    castings_mass: Annotated[float, Output("kg", "Castings, weight", "At their moisture.", ranged=True, main=True)]
    castings_volume: Annotated[float, Output("m3", "Castings, volume", "", ranged=True, main=True)]
    mass_kept: Annotated[
        float, Output("1", "Weight kept", "Of the feed's weight.", us="%", metric="%", digits=2, ranged=True, main=True)
    ]
    volume_kept: Annotated[
        float,
        Output(
            "1",
            "Volume kept",
            "Of the feed's volume. The page on feeding the face asks for it.",
            us="%",
            metric="%",
            digits=2,
            ranged=True,
            main=True,
        ),
    ]
    dry_matter_lost: Annotated[
        float,
        Output("1", "Dry matter lost", "Breathed off as gas and heat.", us="%", metric="%", digits=2, ranged=True),
    ]
    organic_matter_lost: Annotated[
        float, Output("1", "Organic matter lost", "", us="%", metric="%", digits=2, ranged=True)
    ]
    water_lost: Annotated[float, Output("kg", "Water lost", "Dried off or drained; below zero: watered in.")]


@calculator(
    "harvest.balance",
    "How much castings does this feed become?",
    leads={
        "harvest.dry_down": {"mass": "castings_mass", "moisture_before": "moisture_after"},
        "harvest.density": {"volume": "castings_volume"},
        "lane.feeding": {"volume_kept": "volume_kept"},
    },
)
def balance(
    mass: Annotated[float, Number("kg", "Feed", 0.01, 1e7, help="Weight as fed.")] = 1000 * POUND,
    moisture_before: Annotated[float, Share("Moisture of this feed", 0, 0.97, spread=(0.6, 0.8))] = FEED_MOISTURE,
    moisture_after: Annotated[
        float, Share("Moisture of the castings", 0, 0.97, fact=facts.CUT_MOISTURE)
    ] = facts.CUT_MOISTURE.typical,
    ash_before: Annotated[
        float,
        Share(
            "Ash of the feed",
            0.005,
            0.95,
            fact=facts.ASH_BEFORE,
            help="Of the dry matter; a soil laboratory burns a sample at 550 °C.",
        ),
    ] = facts.ASH_BEFORE.typical,
    ash_after: Annotated[
        float,
        Share(
            "Ash of the castings",
            0.005,
            0.99,
            fact=facts.ASH_AFTER,
            help="The same. Soil or grit picked up makes it too high.",
        ),
    ] = facts.ASH_AFTER.typical,
    bulk_density_before: Annotated[
        float, Number("kg/m3", "Bulk density of this feed", 30, 1300, spread=(400, 750))
    ] = FEED_BULK_DENSITY,
    bulk_density_after: Annotated[
        float,
        Number(
            "kg/m3",
            "Bulk density of the castings as sliced",
            100,
            1300,
            spread=(500, 850),
            help="Wet, as they come off the lane: heavier than screened ones.",
        ),
    ] = SLICED_DENSITY,
) -> Balance:
    """Weight and volume of castings from a weight of feed, by conservation of ash.

    mass [kg]; moistures [-] wet basis; ash [-] of dry matter; densities [kg/m³].
    Raises Refused when the castings hold no more ash than the feed. Source: Paredes et al. 2000.
    """
    if ash_after <= ash_before:
        raise Refused(
            [
                (
                    "ash_after",
                    (
                        "Ash of the castings must be higher than that of the feed: organic matter burns off and ash"
                        " stays. Check for grit in the feed's sample."
                    ),
                )
            ]
        )
    dry = mass * (1 - moisture_before)
    dry_left = dry * ash_before / ash_after
    castings = dry_left / (1 - moisture_after)
    volume = castings / bulk_density_after
    return Balance(
        castings_mass=castings,
        castings_volume=volume,
        mass_kept=castings / mass,
        volume_kept=volume / (mass / bulk_density_before),
        dry_matter_lost=dry_matter_lost(ash_before, ash_after),
        organic_matter_lost=organic_matter_lost(ash_before, ash_after),
        water_lost=mass * moisture_before - (castings - dry_left),
    )


@presents(balance)
def show_balance(v: View) -> Show:
    dry = v.mass * (1 - v.moisture_before)
    left = v.castings_mass * (1 - v.moisture_after)
    ash = dry * v.ash_before
    parts = [
        ("Ash", ash, ash),
        ("Organic matter", dry - ash, left - ash),
        ("Water", v.mass - dry, v.castings_mass - left),
    ]
    return Show(
        working=[
            Step(
                "Dry matter left",
                "{left} = {mass} × (1 − {moisture_before}) × {ash_before} ÷ {ash_after}",
                "Paredes et al. 2000",
                "The ash is all still there.",
                {"left": Part("dry matter left", v.castings_mass * (1 - v.moisture_after), "kg")},
            ),
            Step(
                "Castings",
                "{castings_mass} = {mass} × (1 − {moisture_before}) × {ash_before} ÷ {ash_after} ÷ (1 −"
                " {moisture_after})",
                "dry-matter balance",
            ),
            Step("Volume", "{castings_volume} = {castings_mass} ÷ {bulk_density_after}", "definition"),
            Step(
                "Kept",
                "{mass_kept} = {castings_mass} ÷ {mass}; {volume_kept} = {castings_volume} ÷ ({mass} ÷"
                " {bulk_density_before})",
                "definition",
            ),
            Step("Dry matter lost", "{dry_matter_lost} = 1 − {ash_before} ÷ {ash_after}", "Paredes et al. 2000"),
            Step(
                "Water lost",
                "{water_lost} = {mass} × {moisture_before} − {castings_mass} × {moisture_after}",
                "dry-matter balance",
            ),
            Step(
                "Organic matter lost",
                "{organic_matter_lost} = 1 − {ash_before} × (1 − {ash_after}) ÷ ({ash_after} × (1 − {ash_before}))",
                "Paredes et al. 2000",
            ),
        ],
        tables=[
            Table(
                "parts",
                "Where the weight goes",
                [
                    Column("part", "Part"),
                    Column("before", "In the feed", "kg"),
                    Column("after", "In the castings", "kg"),
                ],
                [*parts, ("Total", v.mass, v.castings_mass)],
                open=True,
            )
        ],
        figures=[
            Figure(
                "balance",
                "Ash, organic matter and water, before and after",
                finding=(
                    f"{v.yours('mass')} of feed becomes {v.say(v.castings_mass, 'kg')} of castings;"
                    " the ash has not changed."
                ),
                x=Axis("", kind="band"),
                y=Axis("Weight", "kg", low=0),
                marks=[
                    Mark(
                        "stack",
                        [
                            (when, part[place], part[0])
                            for part in parts
                            for place, when in ((1, "Feed"), (2, "Castings"))
                        ],
                    )
                ],
            )
        ],
        warnings=(
            [("moisture_after", "Castings over 75 % are wet enough to smear on a screen.")]
            if v.moisture_after > 0.75
            else []
        ),
        reading=[
            (
                f"{v.yours('mass')} of feed leaves {v.say(v.castings_mass, 'kg')} of castings,"
                f" {v.say(v.mass_kept, '1', us='%', metric='%', digits=2)} of its weight and"
                f" {v.say(v.volume_kept, '1', us='%', metric='%', digits=2)} of its volume."
            ),
            (
                f"{v.say(v.organic_matter_lost, '1', us='%', metric='%', digits=2)} of the organic matter has been"
                " breathed off."
            ),
            "Soil, sand or grit in either sample spoils this: it counts as ash that was never there.",
        ],
    )
