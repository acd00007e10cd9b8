"""Air and water in the pores of bedding: how dense it can be, how much air is left, and when it is mud.

Bedding is solids, water and air. The solids take the room of their dry matter over its particle density, the water that
of its weight; what is left is air. Everything that pours water, or takes a bulk density, asks these functions.

Units: kg/m3 as it lies, water included, unless said; moisture [-] wet basis; ash [-] of the dry matter.
"""

from __future__ import annotations

from math import floor

from calc.facts import climate as facts

WATER_DENSITY = 1000.0
"""kg/m3."""

TYPICAL_ASH = facts.BEDDING_ASH.typical


def particle_density(ash: float = TYPICAL_ASH) -> float:
    """Density of the solids without any pore [kg/m3]: organic matter and mineral side by side.

    Source: 1 / (organic / 1,550 + ash / 2,650), EN 13041.
    >>> round(particle_density(0.0)), round(particle_density(1.0)), round(particle_density(0.3))
    (1550, 2650, 1770)
    """
    return 1 / ((1 - ash) / facts.ORGANIC_PARTICLES.typical + ash / facts.MINERAL_PARTICLES.typical)


def densest(moisture: float, ash: float = TYPICAL_ASH) -> float:
    """Bulk density [kg/m3] of bedding whose pores are all full of water: nothing can be denser.

    >>> round(densest(0.75)), round(densest(1.0))
    (1122, 1000)
    """
    return densest_with_air(moisture, 0.0, ash)


def densest_with_air(moisture: float, air: float = facts.LEAST_AIR.typical, ash: float = TYPICAL_ASH) -> float:
    """Bulk density [kg/m3] at which a share of the volume is still air [-].

    >>> round(densest_with_air(0.75))
    1010
    """
    return (1 - air) / ((1 - moisture) / particle_density(ash) + moisture / WATER_DENSITY)


def air_space(bulk_density: float, moisture: float, ash: float = TYPICAL_ASH) -> float:
    """Share of the volume that is air [-]; below zero: there is more solid and water than room, so a figure is wrong.

    >>> round(air_space(600, 0.75), 3), round(air_space(1080, 0.75), 3)
    (0.465, 0.037)
    """
    return 1 - bulk_density / densest(moisture, ash)


def wettest(dry_density: float, air: float = facts.LEAST_AIR.typical, ash: float = TYPICAL_ASH) -> float:
    """Moisture [-] up to which bedding of a dry matter [kg/m3 of bed] keeps a share of air [-]; 0 where it never does.

    >>> round(wettest(270.0), 3), round(wettest(150.0), 3)
    (0.735, 0.845)
    """
    water = WATER_DENSITY * (1 - air - dry_density / particle_density(ash))
    return max(0.0, water / (water + dry_density)) if water > 0 else 0.0


def density_problems(bulk_density: float, moisture: float) -> list[tuple[str | None, str]]:
    """What cannot be true of a bulk density [kg/m3] at a moisture [-]: (input, message) pairs for ``bulk_density``."""
    most = densest(moisture)
    if bulk_density <= most:
        return []
    words = f"{most:,.0f} kg/m³ ({most / 0.593276:,.0f} lb/yd³)"
    return [
        (
            "bulk_density",
            f"At {100 * moisture:.0f} % moisture bedding with every pore full of water weighs {words}:"
            " it cannot be denser.",
        )
    ]


def at_moisture(bulk_density: float, moisture: float, other: float) -> float:
    """Bulk density [kg/m3] that the same bedding has at another moisture: its dry matter stays where it is.

    Only while there are pores to fill: see :func:`wettest`.
    >>> at_moisture(600, 0.75, 0.5)
    300.0
    """
    return bulk_density * (1 - moisture) / (1 - other)


def mud(bulk_density: float, moisture: float, ash: float = TYPICAL_ASH) -> str | None:
    """A sentence for bedding in which too little air is left, with the moisture that fits; None while there is enough.

    >>> mud(1080, 0.75)
    'This would be mud: 4 % of it is air, where worms need 10 %. Up to 73 % moisture fits.'
    >>> mud(600, 0.75) is None
    True
    """
    if not is_mud(bulk_density, moisture, ash):
        return None
    air = max(0.0, air_space(bulk_density, moisture, ash))
    fits = wettest(bulk_density * (1 - moisture), ash=ash)
    least = facts.LEAST_AIR.typical
    return (
        f"This would be mud: {100 * air:.0f} % of it is air, where worms need {100 * least:.0f} %."
        f" Up to {floor(100 * fits)} % moisture fits."
    )


def is_mud(bulk_density: float, moisture: float, ash: float = TYPICAL_ASH) -> bool:
    """Whether less air is left than air can move through."""
    return air_space(bulk_density, moisture, ash) < facts.LEAST_AIR.typical - 1e-9
