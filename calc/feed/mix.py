"""Arithmetic of a mix: moisture, C:N, bulk density, and how much of a second material to add.

Moistures are wet basis (water ÷ whole mass), nitrogen is a share of the dry matter, C:N is mass of carbon to mass of
nitrogen. All shares are fractions from 0 to 1. Masses are as they lie, water included.
"""

from collections.abc import Sequence


def mix_moisture(masses: Sequence[float], moistures: Sequence[float]) -> float:
    """Moisture of a mix, wet basis [-]: all the water over all the mass.

    masses [kg], at least one above 0; moistures [-] of each, in the same order.
    Source: Richard & Trautmann 1996, Science and Engineering of Composting, Cornell: G = Σ(Q·M) ÷ ΣQ.
    >>> round(mix_moisture([10, 6.8], [0.77, 0.35]), 6)
    0.6
    """
    return sum(mass * moisture for mass, moisture in zip(masses, moistures)) / sum(masses)


def mix_carbon_nitrogen(
    masses: Sequence[float], moistures: Sequence[float], nitrogens: Sequence[float], carbon_nitrogens: Sequence[float]
) -> float:
    """C:N of a mix [-]: all the carbon over all the nitrogen, both from dry matter.

    An average of the materials' own C:N ratios is wrong: a wet material has little dry matter, and a material poor in
    nitrogen hardly moves the denominator.

    masses [kg] as they lie; moistures [-] wet basis; nitrogens [-] of dry matter, above 0; carbon_nitrogens [-].
    Source: Richard & Trautmann 1996: R = ΣQ·C·(1 − M) ÷ ΣQ·N·(1 − M), C and N of dry matter.
    >>> round(mix_carbon_nitrogen([10, 3.5], [0.77, 0.35], [0.024, 0.0075], [45 / 2.4, 50 / 0.75]), 4)
    30.064
    """
    nitrogen = [mass * (1 - moisture) * share for mass, moisture, share in zip(masses, moistures, nitrogens)]
    return sum(mass * ratio for mass, ratio in zip(nitrogen, carbon_nitrogens)) / sum(nitrogen)


def mix_nitrogen(masses: Sequence[float], moistures: Sequence[float], nitrogens: Sequence[float]) -> float:
    """Nitrogen of a mix as a share of its dry matter [-].

    masses [kg] as they lie; moistures [-] wet basis; nitrogens [-] of dry matter.
    Source: dry-matter balance.
    """
    dry = [mass * (1 - moisture) for mass, moisture in zip(masses, moistures)]
    return sum(mass * share for mass, share in zip(dry, nitrogens)) / sum(dry)


def heaped_volume(masses: Sequence[float], bulk_densities: Sequence[float]) -> float:
    """Volume of the materials as measured one by one [m³], before they settle into each other.

    masses [kg]; bulk_densities [kg/m³], above 0. Fine material falls into the gaps of coarse, so a turned heap is
    smaller.
    Source: mass ÷ bulk density, summed.
    """
    return sum(mass / density for mass, density in zip(masses, bulk_densities))


def mass_for_moisture(mass: float, moisture: float, added_moisture: float, target: float) -> float:
    """Mass of a second material that brings a first one to a target moisture [kg].

    mass [kg]; moistures [-] wet basis. The target must lie between the two moistures; ValueError otherwise.
    Source: Richard & Trautmann 1996: Q₂ = (Q₁·G − Q₁·M₁) ÷ (M₂ − G).
    >>> round(mass_for_moisture(10, 0.77, 0.35, 0.60), 9)
    6.8
    """
    if not min(moisture, added_moisture) <= target <= max(moisture, added_moisture) or target == added_moisture:
        raise ValueError("the target lies outside the two moistures")
    return mass * (target - moisture) / (added_moisture - target)


def mass_for_carbon_nitrogen(
    mass: float,
    moisture: float,
    nitrogen: float,
    carbon_nitrogen: float,
    added_moisture: float,
    added_nitrogen: float,
    added_carbon_nitrogen: float,
    target: float,
) -> float:
    """Mass of a second material that brings a first one to a target C:N [kg].

    mass [kg]; moistures [-] wet basis; nitrogens [-] of dry matter; C:N ratios [-]. The target must lie between the two
    ratios; ValueError otherwise.
    Source: Richard & Trautmann 1996: Q₂ = Q₁·N₁·(R − C₁/N₁)·(1 − M₁) ÷ [N₂·(C₂/N₂ − R)·(1 − M₂)].
    >>> round(mass_for_carbon_nitrogen(10, 0.77, 0.024, 45 / 2.4, 0.35, 0.0075, 50 / 0.75, 30), 6)
    3.474126
    """
    low, high = sorted((carbon_nitrogen, added_carbon_nitrogen))
    if not low <= target <= high or target == added_carbon_nitrogen:
        raise ValueError("the target lies outside the two C:N ratios")
    surplus_nitrogen = mass * (1 - moisture) * nitrogen * (target - carbon_nitrogen)
    return surplus_nitrogen / ((1 - added_moisture) * added_nitrogen * (added_carbon_nitrogen - target))


def carbon_from_ash(ash: float) -> float:
    """Carbon as a share of dry matter [-], from the ash left after burning [-].

    Rule of thumb: volatile matter ÷ 1.8, that is 55 % carbon; 45 to 60 % occurs.
    Source: Adams and others 1951; the same rule in Gotaas 1956, which puts it within 2 to 10 %.
    >>> round(carbon_from_ash(0.10), 6)
    0.5
    """
    return (1 - ash) / 1.8
