"""Pounds, yards, bags: the bucket test, and one price in another."""

from dataclasses import dataclass
from typing import Annotated

from calc.engine import (
    FOOT,
    GALLON,
    POUND,
    YARD3,
    Answer,
    Column,
    CurvePart,
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
from calc.facts import harvest as facts
from calc.inputs import BAG_VOLUME, BagVolume


@dataclass(frozen=True)
class Density(Answer):
    bulk_density: Annotated[
        float, Output("kg/m3", "Bulk density", "Settled, as the drops left it. Loose it is lighter.", main=True)
    ]
    mass: Annotated[float, Output("kg", "What you have, weight", "", main=True)]
    bags: Annotated[float, Output("1", "Bags it fills", "", main=True)]
    price_per_volume: Annotated[float | None, Output("money/m3", "Price by volume", "", main=True)]
    price_per_mass: Annotated[float | None, Output("money/kg", "The same by weight", "")]
    price_per_bag: Annotated[float | None, Output("money", "The same by the bag", "")]
    price_per_litre: Annotated[float | None, Output("money/L", "The same by the litre or gallon", "")]
    bag_mass: Annotated[float, Output("kg", "A full bag weighs", "")]
    density_at_moisture: Annotated[
        float, Output("kg/m3", "Bulk density at the other moisture", "If it keeps its volume while drying.")
    ]
    density_if_shrunk: Annotated[
        float,
        Output(
            "kg/m3",
            "The same if it shrinks",
            "By as much as the water that leaves: the most that drying can take off the volume.",
        ),
    ]
    dry_matter_per_bag: Annotated[
        float, Output("kg", "Dry matter in a bag", "What the customer has when the water is gone.")
    ]


@calculator(
    "harvest.density",
    "Pounds, yards, bags: what do I have, and what is one price in another?",
    leads={
        "economics": {},
        "economics.mix": {},
        "economics.unit_cost": {},
        "garden.dose": {"castings_bulk_density": "bulk_density"},
    },
)
def density(
    bucket_mass: Annotated[
        float,
        Number(
            "kg",
            "Castings in the bucket, net",
            0.05,
            500,
            help=(
                "Filled in thirds, dropped ten times from a foot after each, topped up level. Without the bucket's own"
                " weight."
            ),
        ),
    ] = 25 * POUND,
    bucket_volume: Annotated[
        float,
        Number(
            "m3",
            "Volume of the bucket",
            0.0005,
            1,
            us="gal",
            metric="L",
            help="To the rim. Fill it with water and weigh that: a litre is a kilogram, 8.3 lb a gallon.",
        ),
    ] = 5 * GALLON,
    volume: Annotated[
        float, Number("m3", "Castings you have", 0.0005, 1e5, help="Heap, trailer or lane, by volume, settled.")
    ] = 1 * YARD3,
    bag_volume: BagVolume = BAG_VOLUME,
    price: Annotated[
        float | None,
        Number(
            "money/m3",
            "Your price by volume",
            0,
            1e6,
            optional=True,
            unless="mass_price",
            help="Blank if you set it by weight below. Invented here.",
        ),
    ] = 240 / YARD3,
    mass_price: Annotated[
        float | None,
        Number("money/kg", "Or your price by weight", 0, 1e5, optional=True, help="Instead of the price by volume."),
    ] = None,
    moisture: Annotated[float, Share("Moisture of the castings now", 0, 0.95, spread=(0.45, 0.65))] = 0.52,
    other_moisture: Annotated[
        float, Share("At another moisture", 0, 0.95, help="To compare with a seller who dries further.")
    ] = 0.35,
) -> Density:
    """Bulk density by the bucket test, and what weight, volume, bags and prices are in each other.

    Masses [kg], volumes [m³], prices [money/m³ or money/kg], moistures [-] wet basis.
    Source: bucket test, extension practice; definitions.
    """
    found = bucket_mass / bucket_volume
    by_volume = price if mass_price is None else mass_price * found
    bag = found * bag_volume
    return Density(
        bulk_density=found,
        mass=volume * found,
        bags=volume / bag_volume,
        bag_mass=bag,
        price_per_volume=by_volume,
        price_per_mass=_priced(by_volume, 1 / found),
        price_per_bag=_priced(by_volume, bag_volume),
        price_per_litre=_priced(by_volume, 0.001),
        density_at_moisture=found * (1 - moisture) / (1 - other_moisture),
        density_if_shrunk=shrunk_density(found, moisture, other_moisture),
        dry_matter_per_bag=bag * (1 - moisture),
    )


def shrunk_density(bulk_density: float, moisture: float, other: float) -> float:
    """Bulk density [kg/m³] at another moisture [-] when the volume changes by the volume of the water that comes or
    goes.

    >>> round(shrunk_density(600, 0.5, 0.2), 1), shrunk_density(600, 0.5, 0.5)
    (483.9, 600.0)
    """
    dry = bulk_density * (1 - moisture)
    mass = dry / (1 - other)
    return mass / (1 + (mass - bulk_density) / 1000)


def _priced(price_per_volume: float | None, volume: float) -> float | None:
    """Price of a volume [money]; None without a price."""
    return None if price_per_volume is None else price_per_volume * volume


@presents(density)
def show_density(v: View) -> Show:
    one = {
        "Cubic yard": YARD3,
        "Cubic foot": FOOT**3,
        "Gallon": GALLON,
        "Bag": v.bag_volume,
        "Litre": 0.001,
        "Cubic metre": 1.0,
        "Pound": POUND / v.bulk_density,
        "Kilogram": 1 / v.bulk_density,
    }
    rows = [
        (name, volume, volume * v.bulk_density, _priced(v.price_per_volume, volume)) for name, volume in one.items()
    ]
    warnings = []
    if not 300 <= v.bulk_density <= 1000:
        warnings.append(
            (
                "bucket_mass",
                (
                    f"{v['bulk_density']} is unlikely for castings (450 to 800 kg/m³, 760 to 1,350 lb/yd³). Was the"
                    " bucket full, and its own weight taken off?"
                ),
            )
        )
    if v.moisture > 0.6:
        warnings.append(
            (
                "moisture",
                "Over 60 % you sell a good deal of water by weight. Say the moisture on the label, or sell by volume.",
            )
        )
    return Show(
        working=[
            Step(
                "Bulk density",
                "{bulk_density} = {bucket_mass} ÷ {bucket_volume}",
                f"bucket test; for 5 US gallons: lb × {facts.BUCKET.typical:.2f} = lb/yd³",
            ),
            Step("Weight", "{mass} = {volume} × {bulk_density}", "definition"),
            Step("Price by weight", "{price_per_mass} = {price_per_volume} ÷ {bulk_density}", "definition"),
            Step(
                "Bags",
                "{bags} = {volume} ÷ {bag_volume}; {bag_mass} = {bag_volume} × {bulk_density}; {dry_matter_per_bag} ="
                " {bag_mass} × (1 − {moisture})",
                "definition",
            ),
            Step(
                "Price by the bag",
                "{price_per_bag} = {price_per_volume} × {bag_volume}; {price_per_litre} = {price_per_volume}",
                "definition",
            ),
            Step(
                "At another moisture",
                "{density_at_moisture} = {bulk_density} × (1 − {moisture}) ÷ (1 − {other_moisture});"
                " {density_if_shrunk} = {shrunk} at {bulk_density} and {moisture} and {other_moisture}",
                "dry matter stays; no weighing of volume was found, so both ends are given",
                values={
                    "shrunk": CurvePart(
                        "the same weight in a volume smaller by the water that left",
                        shrunk_density,
                        ("kg/m3", "1", "1"),
                        "kg/m3",
                    )
                },
            ),
        ],
        tables=[
            Table(
                "each",
                "One in another",
                [
                    Column("unit", "One"),
                    Column("volume", "Volume", "m3", us="gal", metric="L"),
                    Column("mass", "Weight", "kg"),
                    Column("price", "Price", "money"),
                ],
                rows,
                open=True,
            )
        ],
        warnings=warnings,
        reading=[
            f"Your castings weigh {v['bulk_density']}; what you have is {v['mass']} or {v.say(v.bags, '1')} bags.",
            (
                "Without a price there is nothing to compare: give one, by volume or by weight."
                if v.price_per_volume is None
                else (
                    f"{v.say(v.price_per_volume, 'money/m3')} is the same as {v.say(v.price_per_mass, 'money/kg')} or"
                    f" {v.money(v.price_per_bag)} a bag."
                )
            ),
            (
                f"A bag of {v['bag_mass']} holds {v['dry_matter_per_bag']} of dry matter. The rest is water: say so,"
                " and stay with volume."
            ),
        ],
        cautions=[
            "A full barrow or a big bag of castings weighs more than it looks. Fill to what you can lift, not to what"
            " it holds."
        ],
    )
