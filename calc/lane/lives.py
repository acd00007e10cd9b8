"""A lane through its first year, to look at: the same days as on every page about lanes, one of them drawn."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Annotated, Any

from calc.engine import (
    DAYS_A_MONTH,
    NOTHING,
    Answer,
    Band,
    Count,
    Drawing,
    Output,
    Show,
    View,
    calculator,
    presents,
    told_all,
)
from calc.inputs import LANE_LENGTH, WORM_MASS, LaneLength, WormMass
from calc.lane import questions, scene
from calc.lane.asked import FollowedLane, asks_for_a_lane, lane_plan
from calc.lane.model import follow
from calc.lane.starter import frost_warnings, months_table

YEAR = scene.YEAR


@dataclass(frozen=True)
class Lives(Answer):
    days_to_first_slice: Annotated[
        Band | None,
        Output(
            "day",
            "Days to the first slice",
            "The back of the base: it was compost when you bought it.",
            ranged=True,
            main=True,
            digits=2,
        ),
    ]
    feed_in_year: Annotated[
        float, Output("kg", "Feed in the first year", "Laid on the face, layer by layer.", us="lb", main=True, digits=2)
    ]
    sliced_in_year: Annotated[
        float,
        Output(
            "m3",
            "Sliced in the first year",
            "The base that you bought first, then castings, as they are cut.",
            us="yd3",
            metric="L",
            main=True,
        ),
    ]
    mass_after_year: Annotated[Band, Output("kg", "Worms after a year", "None taken out.", us="lb", main=True)]
    face_moved: Annotated[float, Output("m", "Way of the face in a year", "Free floor to leave before the lane.")]
    bed_on_day: Annotated[
        float, Output("degC", "Bed on the day shown", "As the season and the lane's own heat have it.")
    ]
    worms_on_day: Annotated[float, Output("kg", "Worms on the day shown", us="lb")]
    plan: FollowedLane = field(compare=False, repr=False)


@calculator(
    "lane.lives",
    "What does a lane look like through its first year?",
    page="lane/index.html",
    leads={"lane.starter": {"lane_length": "lane_length", "lane_width": "lane_width", "worm_mass": "worm_mass"}},
)
@told_all
@asks_for_a_lane
def lives(
    lane_length: LaneLength = LANE_LENGTH,
    worm_mass: WormMass = WORM_MASS,
    shown_day: Annotated[
        int, Count("day", "Day shown", 0, YEAR, step=1, help="Counted from the day the worms go in.")
    ] = 262,
    *,
    asked: Mapping[str, Any] = NOTHING,
    **lane: Any,
) -> Lives:
    """The first year of a lane, and one of its days.

    Lengths [m], mass [kg], day counted from the start. Source: calc.lane.model; the band is its slow and its fast case.
    """
    plan = lane_plan(asked)
    days = follow(plan, questions.SPAN)
    year, day = days[: YEAR + 1], days[round(shown_day)]
    return Lives(
        days_to_first_slice=questions.first_slice(plan),
        feed_in_year=sum(one.laid for one in year[:YEAR]),
        sliced_in_year=sum(one.sliced_base + one.sliced_castings for one in year[:YEAR]),
        mass_after_year=questions.mass_after_year(plan),
        face_moved=year[-1].face - plan.base_length,
        bed_on_day=day.bed_temperature,
        worms_on_day=day.worms,
        plan=plan,
    )


@presents(lives)
def show_lives(v: View) -> Show:
    plan = v.plan
    days = follow(plan, questions.SPAN)[: YEAR + 1]
    day = days[round(v.shown_day)]
    slice_due = v.results["days_to_first_slice"]
    pictures = "".join(scene.picture(v, plan, days, slice_due, sheet) for sheet in (scene.DESK, scene.PHONE))
    moved = day.face - plan.base_length
    drawing = Drawing(
        "lane_lives",
        "The lane from the side, to scale",
        f"On day {day.day} the face has moved {v.say(moved, 'm', digits=2)} from where it began",
        pictures,
        "A lane seen from its side: the back to the left, the face where it is fed to the right, boards behind it."
        f" On day {day.day} the foot of the face stands {v.say(day.face, 'm')} from where the back board"
        f" first stood, {v.say(day.cut, 'm')} have been sliced off, and {v.say(day.worms, 'kg')} of worms live in it.",
        plays="shown_day",
        still=scene.strip(v, plan, days),
    )
    return Show(
        figures=[drawing],
        reading=_reading(v),
        warnings=frost_warnings(v, plan),
        tables=[months_table(plan)],
    )


def _reading(v: View) -> list[str]:
    due = v.results["days_to_first_slice"]
    said = [
        f"A lane {v.yours('lane_length')} long with {v.yours('worm_mass')} of worms: you feed its"
        " face, and they follow the feed."
    ]
    if due is None:
        return [
            *said,
            "At this pace no slice is due within three years. What brings it nearer:"
            f" {questions.brings_it_nearer(v.plan)}.",
        ]
    return [
        *said,
        f"After about {due.value / DAYS_A_MONTH:.0f} months, between {due.low / DAYS_A_MONTH:.0f} and"
        f" {questions.months_at_most(due)}, you slice the first off the back.",
        f"In a year the face moves {v['face_moved']}, so leave that much floor free before it.",
    ]
