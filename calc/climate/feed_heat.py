"""Heat that a lane's own feed gives off: what worms and microbes breathe off of it, where the worms live.

The same sum as the lane's own model makes day by day (calc.lane.model); here for a herd and a place that stay as they
are.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import radians, tan

from calc.biology import activity, crowding
from calc.climate.season import heat_of_rotting
from calc.facts import biology
from calc.facts import lane as lane_facts


@dataclass(frozen=True)
class Feeding:
    """Worms [kg] in the part of a lane where they live [m2], what they eat at their best [kg/kg day], and what of its
    dry
    matter is breathed off, from the feed's moisture and the dry matter that is kept [-]."""

    worm_mass: float
    area: float
    ration: float
    feed_moisture: float
    dry_matter_kept: float = biology.DRY_MATTER_KEPT.typical

    @property
    def stocking(self) -> float:
        """Worms where they live [kg/m2]."""
        return self.worm_mass / self.area

    def eaten(self, temperature: float) -> float:
        """Feed eaten a day at a bed temperature [degC], as much as they like being there [kg/day]."""
        return self.worm_mass * self.ration * activity(temperature) * crowding(self.stocking)

    def breathed(self, temperature: float) -> float:
        """Dry matter breathed off a day at a bed temperature [degC] [kg/day]."""
        return self.eaten(temperature) * (1 - self.feed_moisture) * (1 - self.dry_matter_kept)

    def heat(self, temperature: float) -> float:
        """Heat on each square metre where the worms live, at a bed temperature [degC] [W/m2]."""
        return heat_of_rotting(self.breathed(temperature)) / self.area

    def laid_heat(self, temperature: float) -> float:
        """The same of feed that was laid before a heat wave [W/m2]: it rots on, although the worms slow down."""
        return self.heat(min(temperature, biology.REFERENCE_TEMPERATURE))


def active_area(
    lane_length: float,
    lane_width: float,
    bed_height: float,
    face_slope: float = 45.0,
    gap: float = lane_facts.GAP.typical,
) -> float:
    """Where the worms of a lane live once they have gathered behind its face [m2]: its width × (gap + foot of the
    face).

    Lengths [m], slope [deg] from the ground; a lane that is shorter than that is all active.
    >>> round(active_area(8 * 0.3048, 4 * 0.3048, 1.5 * 0.3048), 3)
    1.858
    """
    return lane_width * min(lane_length, gap + bed_height / tan(radians(face_slope)))
