"""The lane that a reader's floor, money, feed and place would carry, and which of the four it is that binds."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date
from math import floor, inf
from typing import Any

from calc.climate.season import Season, season
from calc.facts import biology
from calc.facts import lane as facts
from calc.lane.boards import sheets_for
from calc.lane.model import FOOT, SHORTEST_BASE, LanePlan, follow_span

PATH = 4 * FOOT
"""Floor between two lanes that stand side by side [m]; common practice, no source."""
MOST_FACES = 20
"""More faces than this are no first lane."""
FLOOR, MONEY, FEED, PLACE = "floor", "money", "feed", "place"


@dataclass(frozen=True)
class Proposal:
    """A lane from what there is.

    plan: its base, one of as many as there are faces, and all its worms; cost [money]; binds: what there is too little
    of for more worms, "" where the bed is full of them. allows: {what: worms that it would allow [kg]}, of what is
    known; faces_allowed: the same for faces.
    """

    plan: LanePlan
    faces: int
    cost: float
    binds: str
    allows: dict[str, float]
    faces_allowed: dict[str, int]

    @property
    def one_face(self) -> LanePlan:
        """One of the faces with its share of the worms."""
        return replace(self.plan, worm_mass=self.plan.worm_mass / self.faces)


def first_warm_month(place: Season | None, start: date) -> date | None:
    """First day of the month, from that of a date on, in which and in the next the mean of the air is over 50 °F (10
    °C); None where there is none.

    A bed that is held at a temperature has no season: the month of the date.
    """
    first = start.replace(day=1)
    if place is None:
        return first
    for later in range(12):
        month = (first.month - 1 + later) % 12
        if min(place.monthly_means[month], place.monthly_means[(month + 1) % 12]) >= biology.SLOW_BELOW:
            return date(first.year + (first.month - 1 + later) // 12, month + 1, 1)
    return None


def pace_of_year(plan: LanePlan) -> float:
    """What worms of the reader's plan would eat over its first year, against their ration [-]: by warmth and
    crowding.
    """
    days = [day for day in follow_span(plan)[:365] if day.worms > 0]
    worms = sum(day.worms for day in days)
    return sum(day.appetite for day in days) / (worms * plan.ration) if worms else 0.0


def base_for(given: Mapping[str, Any], plan: LanePlan) -> LanePlan:
    """The plan with a base as long as the part where the worms live, gap and foot of the face: a longer one is bought
    and sliced off for nothing. Shorter where the floor asks for it.
    """
    walks = plan.gap + plan.foot
    if given["floor_length"] is not None:
        walks = max(SHORTEST_BASE, min(walks, given["floor_length"] - plan.slice_length - plan.gap))
    across = plan.face_width if given["floor_width"] is None else min(plan.face_width, given["floor_width"])
    if plan.fed_on == "side":
        return replace(plan, lane_width=walks, lane_length=across, floor_length=None)
    return replace(plan, lane_length=walks, lane_width=across, floor_length=None)


def price_of_base(given: Mapping[str, Any], plan: LanePlan) -> float:
    """Compost, boards and shade for one base and what its face walks [money]."""
    boards = sheets_for(plan) * given["sheet_price"]
    return float(plan.base.volume * given["compost_price"] + plan.largest_area * given["shade_price"] + boards)


def proposed(given: Mapping[str, Any], plan: LanePlan, pace: float) -> Proposal:
    """The lane for what was given of floor [m], money, feed [kg/week] and place; plan: the reader's own.

    As many faces as all of what is known allows, one where only the money is known; then as many worms as money and
    feed allow, as far as the bed behind the faces holds them. pace [-]: see pace_of_year.
    Source: arithmetic on the list to buy; full stocking and ration as on every page.
    """
    base, money = base_for(given, plan), given["budget"] / (1 + given["contingency"]) - given["tools_cost"]
    each, full = price_of_base(given, base), plan.full_stocking * min(base.bed_area, base.active_area)
    thin = facts.THIN_STOCKING.typical * base.bed_area
    one = each + thin * given["worm_price"]
    faces = {MONEY: floor(money / one + 1e-9) if one > 0 else MOST_FACES}
    worms = {FLOOR: full}
    if given["floor_width"] is not None:
        faces[FLOOR] = floor((given["floor_width"] + PATH) / (base.face_width + PATH) + 1e-9)
    eaten = plan.ration * pace * 7
    if given["feed_available_per_week"] is not None and eaten > 0:
        worms[FEED] = given["feed_available_per_week"] / eaten
        faces[FEED] = floor(worms[FEED] / full + 1e-9)
    known = min(faces.values()) if len(faces) > 1 else 1
    count = max(1, min(MOST_FACES, known))
    worms[FLOOR] *= count
    left = max(0.0, money - count * each)
    worms[MONEY] = left / given["worm_price"] if given["worm_price"] > 0 else inf
    mass = min(worms.values())
    binds = min(worms, key=lambda what: worms[what])
    if binds == FLOOR:  # the bed behind the faces is full: what keeps it from being larger?
        smaller = base.bed_area < base_for({**given, "floor_length": None, "floor_width": None}, plan).bed_area - 1e-9
        fewest = min(faces, key=lambda what: faces[what])
        binds = (
            fewest if len(faces) > 1 and fewest != FLOOR and not smaller else FLOOR if FLOOR in faces or smaller else ""
        )
    cost = (count * each + mass * given["worm_price"] + given["tools_cost"]) * (1 + given["contingency"])
    return Proposal(replace(base, worm_mass=mass), count, cost, binds, worms, faces)


def proposal(given: Mapping[str, Any], plan: LanePlan) -> Proposal:
    """The lane that is proposed to the reader, its worms there from the first warm month on."""
    found = proposed(given, plan, pace_of_year(plan))
    place = None
    if plan.bed_temperature is None:
        place = season(given["climate"], given["monthly_temperature"], given["year"])
    start = first_warm_month(place, given["start_date"])
    return replace(
        found,
        plan=replace(found.plan, start_date=start or given["start_date"]),
        binds=PLACE if start is None else found.binds,
    )
