"""Feed and bedding: what to mix, and whether a heap was hot enough."""

from calc.feed.heat import days_to_kill, lethality, stretches
from calc.feed.hot_phase import hot_phase
from calc.feed.mix import (
    carbon_from_ash,
    mass_for_carbon_nitrogen,
    mass_for_moisture,
    mix_carbon_nitrogen,
    mix_moisture,
)
from calc.feed.nearest import nearest_mix
from calc.feed.recipe import recipe

PLACE = 10
"""Among the chapters, in the order in which a year asks its questions."""
__all__ = [
    "carbon_from_ash",
    "days_to_kill",
    "hot_phase",
    "lethality",
    "mass_for_carbon_nitrogen",
    "mass_for_moisture",
    "mix_carbon_nitrogen",
    "mix_moisture",
    "nearest_mix",
    "recipe",
    "stretches",
]
