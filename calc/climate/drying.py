"""Drying of a slice: how long it takes spread out in the air of each month, and when it can be sold."""

from collections.abc import Sequence

from calc.climate.evaporation import air_term
from calc.engine import FOOT, POUND
from calc.facts import climate as facts
from calc.facts import harvest, lane
from calc.moisture.adjust import water_to_lose

SPREAD = 500 * POUND / (200 * FOOT**2)
"""Castings that lie on each area when a slice is spread out to dry [kg/m²]: the page on drying begins with it."""

SCREENED_AND_SOLD = 7
"""Days from dry castings to the first sale: screening by hand and a first buyer. Our own judgement, no source."""


def days_to_dry(temperature: float, humidity: float, before: float, after: float) -> float | None:
    """Days in which a slice spread out dries between two moistures [-], in the typical case; None where such air takes
    none. Air: temperature [°C], humidity [-]; under a roof, doors open.
    """
    water = water_to_lose(SPREAD, max(before, after), after)
    if not water:
        return 0.0
    power = air_term(temperature, humidity, harvest.WIND_INDOORS.typical) * harvest.DRYING_SLOWED.typical
    return water / power if power > 1e-6 else None


def sale_days(climate: str, monthly_means: Sequence[float], before: float, after: float) -> tuple[int, ...]:
    """Days from a slice to its sale [day] for each month in which it is taken, January first.

    monthly_means [°C] of the air; its humidity is that of the climate to start from; moistures [-] as sliced and as
    screened. Within what growers and beginners tell of.
    """
    months = facts.CLIMATES[climate].months
    south = monthly_means[0] + monthly_means[1] > monthly_means[6] + monthly_means[7]
    found = []
    for number, mean in enumerate(monthly_means):
        humidity = months[(number + 6 * south) % 12].humidity
        dries = days_to_dry(mean, humidity, before, after)
        wait = lane.SLICE_TO_SALE.high if dries is None else dries + SCREENED_AND_SOLD
        found.append(round(min(lane.SLICE_TO_SALE.high, wait)))
    return tuple(found)
