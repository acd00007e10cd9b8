"""What a working says of the lane followed day by day: the days as rows, and the equations that hold on them."""

from collections.abc import Sequence
from math import ceil
from typing import Any

from calc.engine import Part, RowsPart, Step
from calc.lane.model import Day, LanePlan, first_slice_day

UNITS = {
    "day": "day",
    "moved": "m",
    "height": "m",
    "worms": "kg",
    "bed": "degC",
    "area_then": "m2",
    "appetite": "kg/day",
    "thickness": "m",
    "laid": "kg",
    "eaten": "kg",
    "castings_sliced": "m3",
    "work": "hour",
    "spent": "money",
    "earned": "money",
}


def rows_of(plan: LanePlan, days: Sequence[Day]) -> list[dict[str, Any]]:
    """Each day under the names of UNITS; moved: how far the face has moved on from the base."""
    return [
        {
            "day": day.day,
            "moved": day.face - plan.base_length,
            "height": day.height,
            "worms": day.worms,
            "bed": day.bed_temperature,
            "area_then": day.active_area,
            "appetite": day.appetite,
            "thickness": day.thickness,
            "laid": day.laid,
            "eaten": day.eaten,
            "castings_sliced": day.sliced_castings,
            "work": day.hours,
            "spent": day.money_out,
            "earned": day.money_in,
        }
        for day in days
    ]


def until(days: Sequence[Day], last: float | None) -> Sequence[Day]:
    """The days up to one, itself included; all where it never comes."""
    return days if last is None else days[: ceil(last) + 1]


def days_part(plan: LanePlan, days: Sequence[Day]) -> RowsPart:
    """The days as rows of a working."""
    return RowsPart("the days", UNITS, rows_of(plan, days))


def layers_part(plan: LanePlan, days: Sequence[Day]) -> RowsPart:
    """The days on which a layer is laid, twenty of them."""
    return RowsPart("the layers", UNITS, rows_of(plan, [day for day in days if day.laid][:20]))


def laying_step(plan: LanePlan, across: str, days: Sequence[Day], dated: bool = True) -> list[Step]:
    """What the first layers weigh and when the first is laid; nothing where none is."""
    layers = layers_part(plan, days)
    if not layers.rows:
        return []
    first = layers.rows[0]
    parts = {
        "layers": layers,
        "first": Part("days to the first layer", first["day"], "day", digits=2),
        "slope": Part("slope of the face", plan.face_slope, "deg"),
        "feed_density": Part("density of feed", plan.feed_bulk_density, "kg/m3"),
    }
    return [
        Step(
            "First feeding",
            "{laid} = {thickness} × {"
            + across
            + "} × {height} ÷ sin {slope} × {feed_density}, each of {layers}; {first_feeding_mass} = the first {laid}"
            " of"
            " {layers}; {first_feeding_date} = {start_date} + {first}",
            "geometry; common practice, no source",
            "The first layer is ½ in (1.3 cm) thick, three days after the worms or when the bed allows it; each after"
            " it"
            " twice as thick, when the last one is gone.",
            parts,
        )
    ]


def walking_step(plan: LanePlan, across: str, days: Sequence[Day]) -> Step:
    """How far the castings of all that was eaten have moved the face: it rises from the base's depth to the height of
    the bed.
    """
    last = days[-1]
    start = min(plan.base_depth, plan.bed_height)
    walked = last.face - plan.base_length
    ramp = (plan.bed_height - start) / plan.rise
    parts = {
        "days": RowsPart("the days", UNITS, rows_of(plan, days[:-1])),
        "walked": Part("how far the face has moved", walked, "m"),
        "start": Part("height that it starts from", start, "m"),
        "rise": Part("height that it gains for each length moved", plan.rise),
        "rising": Part("part of it on which it rises", min(walked, ramp), "m"),
        "slope": Part("slope of the face", plan.face_slope, "deg"),
        "feed_density": Part("density of feed", plan.feed_bulk_density, "kg/m3"),
        "kept": Part("volume kept", plan.volume_kept, "1", "%", "%"),
        "high": Part("height of the bed", plan.bed_height, "m"),
    }
    return Step(
        "The face moves",
        "{rise} = (sin {slope})^2 ÷ tan {slope}; {rising} = the smaller of {walked} and ({high} − {start}) ÷ {rise};"
        " {" + across + "} × ({rising} × ({start} + {rise} × {rising} ÷ 2) + ({walked} − {rising}) × {high}) = {kept} ÷"
        " {feed_density} ×"
        " sum over {days} of {eaten}",
        "geometry; the lane followed day by day",
        "The castings of all that was eaten lie between the base and the face.",
        parts,
    )


def slice_equation(plan: LanePlan) -> str:
    """The first day on which the face has moved a slice and the gap on; more on a base shorter than the foot of its
    face.
    """
    more = " + {short}" if plan.foot > plan.base_length else ""
    return "{days_to_first_slice} = the first {day} of {days} where {moved} ≥ {slice_length} + {gap}" + more


def slice_parts(plan: LanePlan, days: Sequence[Day]) -> dict[str, Any]:
    """What the equation of the first slice brings along."""
    return {
        "days": days_part(plan, until(days, first_slice_day(days))),
        "short": Part("what the base is shorter than the foot", max(0.0, plan.foot - plan.base_length), "m"),
    }
