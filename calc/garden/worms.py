"""Worms for a bin at home: how many, how large a bin, what it gives back."""

from dataclasses import dataclass
from typing import Annotated

from calc.biology import activity
from calc.engine import (
    INCH,
    POUND,
    Answer,
    Band,
    Column,
    Number,
    Output,
    Part,
    Show,
    Step,
    Table,
    View,
    calculator,
    presents,
    together,
)
from calc.facts import biology
from calc.facts import garden as facts


@dataclass(frozen=True)
class Worms(Answer):
    worm_mass: Annotated[
        Band,
        Output(
            "kg",
            "Worms",
            "To keep up with your scraps from the start. Half will do at first, where it is warm: they breed.",
            ranged=True,
            main=True,
            digits=2,
        ),
    ]
    bin_area: Annotated[
        float, Output("m2", "Floor of the bin", "Wide and low beats tall: worms work near the top.", main=True)
    ]
    bedding_volume: Annotated[
        float,
        Output(
            "m3",
            "Bedding",
            "Torn cardboard, leaves, a handful of soil, wrung out like a sponge.",
            us="gal",
            metric="L",
            main=True,
        ),
    ]
    castings_per_year: Annotated[
        Band, Output("m3/year", "Castings in a year", "", us="gal/year", metric="L/year", ranged=True, digits=2)
    ]
    cost: Annotated[float, Output("money", "Worms cost", "")]
    scraps_per_day: Annotated[float, Output("kg/day", "Scraps a day", "")]


@calculator(
    "garden.worms",
    "How many worms for my kitchen scraps?",
    leads={"troubles": {}, "garden.dose": {}, "lane.starter": {}, "moisture.test": {}},
)
def worms(
    scraps_per_week: Annotated[
        float,
        Number(
            "kg/week",
            "Kitchen scraps",
            0.05,
            500,
            spread=(1.0, 3.5),
            help="Peelings, coffee grounds, tea, crushed eggshell. Weigh a week of them.",
        ),
    ] = 4 * POUND,
    bin_temperature: Annotated[
        float,
        Number("degC", "Temperature of the bin", -5, 40, help="A cellar or a kitchen is better than a sunny balcony."),
    ] = (66 - 32) / 1.8,
    bedding_depth: Annotated[
        float, Number("m", "Depth of bedding", 0.05, 0.6, us="in", metric="cm", spread=(6 * INCH, 10 * INCH))
    ] = 8 * INCH,
    worm_price: Annotated[float, Number("money/kg", "Price of worms", 0, 2000, help="Invented, as an example.")] = 35
    / POUND,
) -> Worms:
    """Worms, floor and bedding for a household's scraps, and the castings it gives.

    scraps_per_week [kg/week]; bin_temperature [°C]; bedding_depth [m]; worm_price [money/kg].
    Sources: NC State Extension (area, 2:1 worms to scraps a day); temperature Johnston et al. 2014, Loehr et al. 1985.
    """
    day = scraps_per_week / 7
    pace = pace_of(bin_temperature)
    mass = Band(
        *(
            day * ratio / pace
            for ratio in (facts.WORMS_PER_FEED.typical, facts.WORMS_PER_FEED.low, facts.WORMS_PER_FEED.high)
        )
    )
    area = facts.AREA_PER_FEED.typical * scraps_per_week
    year = scraps_per_week * 52.18
    room, share = facts.SCRAPS_DENSITY, biology.VOLUME_KEPT
    made = year * share.typical / room.typical
    kept = together(
        made,
        [
            (made * share.low / share.typical, made * share.high / share.typical),
            (made * room.typical / room.high, made * room.typical / room.low),
        ],
    )
    return Worms(
        worm_mass=mass,
        bin_area=area,
        bedding_volume=area * bedding_depth,
        castings_per_year=kept,
        cost=mass.value * worm_price,
        scraps_per_day=day,
    )


def pace_of(bin_temperature: float) -> float:
    """Pace of a bin against one at 20 °C [-], kept between the least and the most that is reckoned with; temperature
    [°C].
    """
    return min(facts.PACE_KEPT.high, max(facts.PACE_KEPT.low, activity(bin_temperature) / activity(20.0)))


@presents(worms)
def show_worms(v: View) -> Show:
    warnings = []
    fits = biology.BAND_LOW.typical <= v.bin_temperature <= biology.BAND_HIGH.typical
    if not fits:
        warnings.append(
            (
                "bin_temperature",
                (
                    f"{v['bin_temperature']} is outside what worms like (39 to 86 °F, 4 to 30 °C). Find the bin another"
                    " place."
                ),
            )
        )
    rows = [
        ("Peelings, coffee grounds, tea leaves, crushed eggshell", "yes", "cut small, bury under bedding"),
        ("Bread, pasta, rice", "a little", "sours and heats"),
        ("Citrus, onion", "a little", "acid and sharp; worms leave it"),
        ("Meat, fish, dairy, oil", "no", "smell, rats, and germs that a bin does not kill"),
        ("Dog and cat droppings", "no", "parasites survive"),
        ("Fresh lawn clippings", "no", "they heat"),
    ]
    return Show(
        working=[
            Step(
                "Worms",
                "{worm_mass} = {scraps_per_day} × {worms_for} ÷ {pace}",
                "NC State Extension: 2 lb of worms for 1 lb of scraps a day; temperature Johnston et al. 2014",
                values={
                    "worms_for": Part(
                        "weight of worms for the scraps of a day",
                        facts.WORMS_PER_FEED.typical,
                        "day",
                        text="2 for each 1 a day",
                    ),
                    "pace": Part("pace of such a bin against 20 °C (68 °F)", pace_of(v.bin_temperature), digits=2),
                },
            ),
            Step(
                "Floor",
                "{bin_area} = {scraps_per_week} × {floor_for}",
                "NC State Extension, home bins",
                values={
                    "floor_for": Part(
                        "floor for the scraps of a week",
                        facts.AREA_PER_FEED.typical,
                        "m2 week/kg",
                        text="1 ft² for each lb a week (0.2 m² for each kg)",
                    )
                },
            ),
            Step("Scraps", "{scraps_per_day} = {scraps_per_week} ÷ 7 days/week", "arithmetic"),
            Step("Bedding", "{bedding_volume} = {bin_area} × {bedding_depth}", "geometry"),
            Step(
                "Castings",
                "{castings_per_year} = {scraps_per_week} × 52.18 weeks/year ÷ {density} × {kept}",
                "volume kept as in the list of coefficients",
                values={
                    "density": Part("their bulk density", facts.SCRAPS_DENSITY.typical, "kg/m3"),
                    "kept": Part("volume left", biology.VOLUME_KEPT.typical, "1", "%", "%"),
                },
            ),
            Step("Cost", "{cost} = {worm_mass} × {worm_price}", "arithmetic"),
        ],
        tables=[
            Table(
                "food",
                "What they eat (common practice, no source)",
                [Column("what", "What"), Column("may", "In the bin?"), Column("why", "Why")],
                rows,
                open=True,
            )
        ],
        warnings=warnings,
        reading=[
            (
                f"{v.yours('scraps_per_week')} of scraps keep {v.say(v.worm_mass, 'kg', digits=2)} of worms busy, on"
                f" {v['bin_area']} of bin floor."
            ),
            "Start with half of that and feed half: they breed up to their food within a few months."
            if biology.SLOW_BELOW <= v.bin_temperature <= biology.BAND_HIGH.typical
            else f"At {v['bin_temperature']} they die."
            if not 0 < v.bin_temperature < biology.LETHAL_TEMPERATURE.typical
            else f"At {v['bin_temperature']} they hardly breed: do not count on more worms than you put in.",
            f"You take out about {v['castings_per_year']} of castings{'' if fits else ', once the bin stands better'}.",
        ],
        cautions=[
            "Never tip a bin out near woods or water. Freeze castings for one to four weeks before they go outdoors"
            " where other worms may be among them; the cocoons of jumping worms outlive frost, so where those are"
            " known, keep castings out of the garden."
        ],
    )
