"""How much castings a garden, a bed, some pots or a blend takes, and what it costs."""

from collections.abc import Mapping
from dataclasses import dataclass
from math import ceil
from typing import Annotated, Any

from calc.engine import (
    FOOT,
    INCH,
    Answer,
    Axis,
    Band,
    Choice,
    Column,
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
    over,
    presents,
    together,
)
from calc.facts import garden as facts
from calc.facts import harvest
from calc.facts.base import moved_to
from calc.inputs import BAG_VOLUME, CASTINGS_BULK_DENSITY, BagVolume, CastingsBulkDensity

USES = {
    "topdress": "Topdress a lawn or plants",
    "bed": "Mix into a garden bed",
    "pots": "Fill pots with a mix",
    "blend": "Make a bulk blend",
}
USUAL_DEPTH = {"topdress": facts.TOPDRESS_DEPTH.typical, "bed": facts.BED_DEPTH.typical}
"""Depth that a blank stands for [m]; pots and blends have none."""
POT_SHARE = facts.POT_SHARE.low
"""Share that a blank stands for in pots and blends: a tenth, the lower of the two that helped in a fertilised mix."""


def usual_share(use: str, depth: float, castings_bulk_density: float) -> float:
    """Share by volume that a blank stands for: in a bed the middle of a field trial's two doses, mixed into its depth
    [m].

    >>> round(usual_share("bed", 0.15, 600), 4), usual_share("pots", 0, 600)
    (0.0083, 0.1)
    """
    if use == "bed":
        return min(1.0, facts.FIELD_DOSE.typical / (castings_bulk_density * depth))
    return POT_SHARE


def topdress_volume(area: float, depth: float) -> float:
    """Volume of a layer [m³]: area × depth. 70,000 ft² at 2 in is 432.1 yd³."""
    return area * depth


def of_the_trial(volume: float, castings_bulk_density: float) -> Band:
    """Castings [m³] for a dose of the trial: its two doses, and how heavy castings lie.

    >>> band = of_the_trial(1.0, 593.276)
    >>> round(band.low, 2), round(band.high, 2)
    (0.6, 1.49)
    """
    dose, density = facts.FIELD_DOSE, harvest.CASTINGS_DENSITY
    light, heavy = moved_to(castings_bulk_density, density)
    return together(
        volume,
        [
            (volume * dose.low / dose.typical, volume * dose.high / dose.typical),
            (volume * castings_bulk_density / heavy, volume * castings_bulk_density / light),
        ],
    )


@dataclass(frozen=True)
class Dose(Answer):
    volume: Annotated[
        Band | float, Output("m3", "Castings", "By volume.", us="gal", metric="L", ranged=True, main=True)
    ]
    bags: Annotated[int, Output("1", "Bags", "Rounded up.", main=True)]
    cost: Annotated[float, Output("money", "Cost", "At the price of a bag.", main=True)]
    mass: Annotated[Band | float, Output("kg", "Castings, weight", "Moist, as sold.", ranged=True)]
    mass_per_area: Annotated[float | None, Output("kg/m2", "On each area", "Blank for pots and blends.", us="lb/ft2")]
    depth_used: Annotated[
        float | None,
        Output("m", "Depth reckoned with", "Yours, or the usual one. Blank for pots and blends.", us="in", metric="cm"),
    ]
    share_used: Annotated[
        float | None,
        Output("1", "Share reckoned with", "Yours, or the usual one. Blank for topdressing.", us="%", metric="%"),
    ]
    total_volume: Annotated[float, Output("m3", "Soil or mix, all of it", "Castings included.", us="gal", metric="L")]


def _blanks(given: Mapping[str, Any]) -> dict[str, float]:
    """What a blank depth and a blank share stand for."""
    use = given["use"]
    found = {"depth": USUAL_DEPTH[use]} if use in USUAL_DEPTH else {}
    if use != "topdress":
        depth = given["depth"] or USUAL_DEPTH.get(use, 0.0)
        found["share"] = usual_share(use, depth, given["castings_bulk_density"])
    return found


@calculator(
    "garden.dose",
    "How much castings does my garden need?",
    page="garden/index.html",
    blanks=_blanks,
    leads={"garden.worms": {}, "harvest.density": {"bag_volume": "bag_volume"}},
)
def dose(
    use: Annotated[str, Choice("What for", USES)] = "bed",
    area: Annotated[
        float, Number("m2", "Area", 0.01, 1e6, help="Of the lawn or bed. Not used for pots and blends.")
    ] = 40 * FOOT**2,
    depth: Annotated[
        float | None,
        Number(
            "m",
            "Depth",
            0.0005,
            1,
            us="in",
            metric="cm",
            optional=True,
            help=(
                "Of a topdressing, ⅛ to ½ in (3–13 mm), or of the soil it is mixed into, 4 to 8 in (10–20 cm). Blank: ¼"
                " in (6 mm) on top, 6 in (15 cm) of soil. Not used for pots and blends."
            ),
        ),
    ] = None,
    share: Annotated[
        float | None,
        Share(
            "Share of castings in the mix",
            0.001,
            1,
            optional=True,
            help=(
                "By volume. Blank: in a bed what a field trial gave, 0.1 to 0.2 lb/ft² (0.5 to 1 kg/m²); in pots and"
                " blends a tenth. Not used for topdressing."
            ),
        ),
    ] = None,
    pots: Annotated[float, Number("1", "Pots", 1, 1e6, help="For pots only.", group="Pots and blends")] = 24.0,
    pot_volume: Annotated[
        float, Number("m3", "Volume of a pot", 1e-5, 1, us="gal", metric="L", group="Pots and blends")
    ] = 0.004,
    blend_volume: Annotated[
        float, Number("m3", "Volume of the blend", 0.0005, 1000, us="ft3", metric="L", group="Pots and blends")
    ] = 0.1,
    castings_bulk_density: CastingsBulkDensity = CASTINGS_BULK_DENSITY,
    bag_volume: BagVolume = BAG_VOLUME,
    price: Annotated[float, Number("money", "Price of a bag", 0, 1e5, help="Invented, as an example.")] = 16.0,
) -> Dose:
    """Castings for one use: volume, weight, bags and cost.

    area [m²], depth [m], share [-] by volume, pot_volume, blend_volume, bag_volume [m³], castings_bulk_density [kg/m³],
    price [money a bag].
    Source: geometry.
    """
    by_the_trial = use == "bed" and share is None
    if depth is None:
        depth = USUAL_DEPTH.get(use, 0.0)  # pots and blends have none
    if share is None:
        share = usual_share(use, depth, castings_bulk_density)
    if use == "topdress" and over(depth, 4 * INCH):
        raise Refused(
            [
                (
                    "depth",
                    (
                        "Depth of a topdressing must be 4 in (10 cm) at most: more smothers a lawn. For deeper soil"
                        " choose to mix it into a bed."
                    ),
                )
            ]
        )
    total = {
        "topdress": lambda: topdress_volume(area, depth),
        "bed": lambda: area * depth,
        "pots": lambda: pots * pot_volume,
        "blend": lambda: blend_volume,
    }[use]()
    volume = total if use == "topdress" else total * share
    bags = ceil(volume / bag_volume - 1e-9)
    mass = volume * castings_bulk_density
    two_doses = facts.FIELD_DOSE.band().times(mass / facts.FIELD_DOSE.typical)
    return Dose(
        volume=of_the_trial(volume, castings_bulk_density) if by_the_trial else volume,
        bags=bags,
        cost=bags * price,
        mass=two_doses if by_the_trial else mass,
        mass_per_area=mass / area if use in USUAL_DEPTH else None,
        depth_used=depth if use in USUAL_DEPTH else None,
        share_used=share if use != "topdress" else None,
        total_volume=total,
    )


def _published_shares() -> list[tuple[str, float, float]]:
    """Published shares of castings in a mix as bars, so that the disagreement is seen: [(study, low, high)]."""
    return [
        (f"{words}: {fact.source}", fact.low, fact.high)
        for words, fact in (
            ("Fertilised mix", facts.POT_SHARE),
            ("All media", facts.ANY_SHARE),
            ("Bark mix", facts.BARK_SHARE),
        )
    ]


@presents(dose)
def show_dose(v: View) -> Show:
    mixed = v.use != "topdress"
    return Show(
        working=[
            Step(
                "All of it",
                {
                    "topdress": "{total_volume} = {area} × {depth_used}",
                    "bed": "{total_volume} = {area} × {depth_used}",
                    "pots": "{total_volume} = {pots} × {pot_volume}",
                    "blend": "{total_volume} = {blend_volume}",
                }[v.use],
                "geometry",
            ),
            *_share_step(v),
            Step("Castings", "{volume} = {total_volume}" + (" × {share_used}" if mixed else ""), "definition"),
            Step(
                "Weight", "{mass} = {volume} × {castings_bulk_density}; {mass_per_area} = that ÷ {area}", "definition"
            ),
            Step("Bags", "{bags} = {volume} ÷ {bag_volume}, rounded up; {cost} = that × {price}", "arithmetic"),
        ],
        tables=[
            Table(
                "uses",
                "What published work and practice say",
                [Column("use", "Use"), Column("share", "Castings"), Column("source", "Source")],
                _limits(),
                open=True,
            )
        ],
        figures=[
            Figure(
                "shares",
                "Shares of castings that did best, by study",
                finding=(
                    "Studies disagree: 10 to 20 % in a fertilised potting mix, 30 to 50 % over all kinds of media."
                    " Start low."
                ),
                x=Axis("Castings in the mix", "1", us="%", metric="%", low=0, high=1),
                y=Axis("", kind="band"),
                marks=[
                    Mark("spans", _published_shares()),
                    *([Mark("rule_x", [(v.share_used, "yours")], tone="second")] if mixed else []),
                ],
            )
        ],
        warnings=_warnings(v, mixed),
        reading=[
            (
                f"You need {v.say(v.volume, 'm3', us='gal', metric='L')} of castings: {v.bags}"
                + (
                    f" bag, for {v.yours('price')}."
                    if v.bags == 1
                    else f" bags at {v.yours('price')}, for {v['cost']}."
                )
            ),
            *_against_the_trial(v),
            "Castings feed slowly. They do not replace water, light or a soil test.",
        ],
    )


def _share_step(v: View) -> list[Step]:
    """Where the share of a bed comes from, when it was left blank."""
    if v.use != "bed" or v.share is not None:
        return []
    dose = v.say(facts.FIELD_DOSE.typical, "kg/m2", us="lb/ft2", metric="kg/m2")
    return [
        Step(
            "Share",
            "{share_used} = {dose} ÷ {castings_bulk_density} ÷ {depth_used}",
            str(facts.FIELD_DOSE.source),
            values={"dose": ("the middle of a field trial's two doses", dose)},
            prose=True,
        )
    ]


def _against_the_trial(v: View) -> list[str]:
    """The dose of a bed or a lawn beside that of the trial on open ground; how far the answer may be off, in words."""
    if v.mass_per_area is None:
        return []
    area = v.total_volume / v.depth_used
    low, high = (
        v.say(dose * area / v.castings_bulk_density, "m3", us="gal", metric="L") for dose in facts.FIELD_DOSE.ends()
    )
    if v.mass_per_area <= 1.001 * facts.FIELD_DOSE.high:
        return [
            f"A field of strawberries did better with {low} to {high} on as much ground; at one site the larger dose"
            " did no more than the smaller."
        ]
    return [
        f"A field of strawberries did better with only {low} to {high} on as much ground; at one site more did no"
        " more. So this is plenty for a year or two."
    ]


def _limits() -> list[tuple[str, str, str]]:
    return [
        ("Lawn, around plants", "⅛ to ½ in (3–13 mm)", "common practice, no source"),
        ("Fertilised potting mix", "10–20 % by volume", str(facts.POT_SHARE.source)),
        ("Tomato seedlings", "not over 20 %: salt; fewer come up even at 10 %", str(facts.TOMATO_SHARE.source)),
        ("Many kinds of media", "30–50 % by volume", "Blouin et al. 2019, over many studies"),
        ("Bark mix, cabbage", "20–50 % tallest", str(facts.BARK_SHARE.source)),
        ("Strawberry field", "0.5–1 kg/m² (0.1–0.2 lb/ft²)", "Arancon et al. 2004"),
    ]


def _warnings(v: View, mixed: bool) -> list[tuple[str | None, str]]:
    found: list[tuple[str | None, str]] = []
    if mixed and v.share_used > facts.ANY_SHARE.high:
        found.append(
            (
                "share",
                (
                    f"{v['share_used']} is more than any study found useful. Salt can burn roots; 10 to 20 % is safe in"
                    " a fertilised mix."
                ),
            )
        )
    elif mixed and v.share_used > facts.POT_SHARE.high:
        found.append(
            (
                "share",
                (
                    f"{v['share_used']} helped in some media and harmed tomato seedlings in others. Try it on a few"
                    " pots first."
                ),
            )
        )
    if v.use == "topdress" and v.depth_used > 0.02:
        found.append(("depth", f"{v['depth_used']} is deep for a topdressing: ⅛ to ½ in (3–13 mm) is usual."))
    return found
