"""The face of a lane: how often it is fed, how fast it moves, when the back can be sliced, and what a foot of lane
takes and gives.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from typing import Annotated, Any

from calc.biology import activity, crowding
from calc.engine import (
    FOOT,
    NOTHING,
    Answer,
    Band,
    Column,
    CurvePart,
    Event,
    Output,
    Part,
    Refused,
    Show,
    Step,
    Table,
    View,
    calculator,
    over,
    presents,
    together,
    told_all,
)
from calc.facts import biology
from calc.facts import lane as facts
from calc.inputs import (
    BED_HEIGHT,
    LANE_LENGTH,
    LANE_WIDTH,
    START_DATE,
    WORM_MASS,
    BedHeight,
    CalendarName,
    FaceSlope,
    LaneLength,
    LaneTemperature,
    LaneWidth,
    StartDate,
    WormMass,
)
from calc.lane import drawing, questions
from calc.lane.asked import (
    LAYER_THICKNESS,
    SLICE_LENGTH,
    FollowedLane,
    Gap,
    LayerThickness,
    SliceLength,
    asks_for_a_lane,
    lane_plan,
)
from calc.lane.face import DAYS_A_WEEK, days_to_clear, dry_matter_ratio, layer_volume
from calc.lane.followed import laying_step, slice_equation, slice_parts
from calc.lane.model import LONGEST_LAYER, TYPICAL, Day, LanePlan, follow
from calc.lane.starter import feedings_table, floor_warnings, herd_sentence, season_warnings

FOREVER = 36500.0
"""Days that stand for never, where nothing moves; a hundred years."""


@dataclass(frozen=True)
class Feeding(Answer):
    days_between_feedings: Annotated[
        Band,
        Output(
            "day",
            "Days that a layer lasts at first",
            "One of full thickness and height, in the bed of the first feeding. The first ones are lower, and a warmer"
            " bed eats faster: the list below has every layer.",
            ranged=True,
            main=True,
            digits=2,
        ),
    ]
    face_advance_per_week: Annotated[
        Band,
        Output(
            "m/week",
            "The face moves",
            "Along the ground, at the first pace and the full height of the bed. The list by weeks has each of them.",
            us="in/week",
            metric="cm/week",
            ranged=True,
            main=True,
            digits=2,
        ),
    ]
    days_to_first_slice: Annotated[
        Band | None,
        Output(
            "day",
            "Days to the first slice",
            "The herd grows meanwhile and eats more each week. The first slices are the base that you bought.",
            ranged=True,
            main=True,
            digits=2,
        ),
    ]
    days_between_slices: Annotated[
        Band,
        Output("day", "Days between slices at this pace", "One slice of the length you set.", ranged=True, digits=2),
    ]
    feed_per_week: Annotated[
        Band,
        Output(
            "kg/week",
            "Feed in the first weeks",
            "What the worms eat, fresh. The layer that lies there comes on top.",
            ranged=True,
            main=True,
            digits=2,
        ),
    ]
    face_capacity_per_week: Annotated[
        float, Output("kg/week", "Feed that the face takes in a week", "A layer, not sooner than the last is cool.")
    ]
    first_feeding_mass: Annotated[
        float | None, Output("kg", "First feeding", "A thin layer on the base's own face.", digits=2)
    ]
    first_feeding_date: Annotated[date | None, Output("1", "First feeding, on", "The first day that the bed allows.")]
    first_slice_date: Annotated[date | None, Output("1", "First slice, about", "Look for worms first.")]
    starting_temperature: Annotated[
        float, Output("degC", "Bed at the first feeding", "Typed, or from the season and the bed's own heat.")
    ]
    layer_volume: Annotated[float, Output("m3", "Feed in one layer, volume", "", us="gal", metric="L")]
    layer_mass: Annotated[float, Output("kg", "Feed in one layer, weight", "")]
    residence_days: Annotated[
        float,
        Output("day", "Days a layer stays in the bed, at this pace", "From laying to slicing, at least.", digits=2),
    ]
    castings_volume_per_length: Annotated[
        float,
        Output(
            "m3/m", "Castings, each foot or metre of lane", "Volume: width times height.", us="ft3/ft", metric="m3/m"
        ),
    ]
    castings_mass_per_length: Annotated[
        float, Output("kg/m", "The same by weight", "Moist, as sliced, by mass balance.", us="lb/ft", metric="kg/m")
    ]
    feed_volume_per_length: Annotated[
        float,
        Output("m3/m", "Feed, each foot or metre of lane", "Volume, before it shrinks.", us="ft3/ft", metric="m3/m"),
    ]
    days_per_length: Annotated[
        float | None,
        Output(
            "day/m",
            "Days, each foot or metre of lane",
            "While it is fed at this pace.",
            us="day/ft",
            metric="day/m",
            digits=2,
        ),
    ]
    castings_bulk_density: Annotated[
        float,
        Output("kg/m3", "Bulk density that follows", "If yours differs much, a figure above is off: weigh a bucket."),
    ]
    plan: FollowedLane = field(compare=False, repr=False)


@calculator(
    "lane.feeding",
    "How often do I feed, how fast does the face move, when is the first slice?",
    samples=100,
    leads={
        "lane.herd": {},
        "feed.recipe": {"total_mass": "layer_mass"},
        "climate.water": {},
        "harvest.balance": {
            "mass": "layer_mass",
            "moisture_before": "feed_moisture",
            "moisture_after": "castings_moisture",
            "bulk_density_before": "feed_bulk_density",
        },
        "lane.output": {},
    },
)
@told_all
@asks_for_a_lane
def feeding(
    lane_length: LaneLength = LANE_LENGTH,
    lane_width: LaneWidth = LANE_WIDTH,
    bed_height: BedHeight = BED_HEIGHT,
    face_slope: FaceSlope = 45.0,
    layer_thickness: LayerThickness = LAYER_THICKNESS,
    worm_mass: WormMass = WORM_MASS,
    bed_temperature: LaneTemperature = None,
    slice_length: SliceLength = SLICE_LENGTH,
    gap: Gap = facts.GAP.typical,
    start_date: StartDate = START_DATE,
    *,
    calendar_name: CalendarName = None,
    asked: Mapping[str, Any] = NOTHING,
    **lane: Any,
) -> Feeding:
    """Pace of a lane at its start, and the list of its feedings as the herd grows and the season turns.

    A layer of thickness t on a face of height H at slope θ across width W holds t·W·H/sin θ and moves the face v·t/sin
    θ.
    Lengths [m], face_slope [deg], worm_mass [kg], ration [kg feed/kg worms/day at 25 °C], densities [kg/m³], shares
    [-].
    Bands: the slow and the fast case of the lane. First feeding and first slice: the lane followed day by day.
    Sources: geometry; ration Ndegwa et al. 2000; temperature Johnston et al. 2014, Loehr et al. 1985; gap and safe
    interval as marked.
    """
    plan = lane_plan(asked)
    volume = layer_volume(layer_thickness, plan.face_width, bed_height, face_slope)
    mass = volume * plan.feed_bulk_density
    temperature = questions.feeding_temperature(plan)
    fed = questions.feed_at_start(plan, temperature)
    if fed.value == 0 and bed_temperature is not None:
        raise Refused(
            [
                (
                    "bed_temperature",
                    (
                        "Worms eat nothing at this bed temperature, so the face stands still. They feed between 32 and"
                        " 95 °F (0 and 35 °C)."
                    ),
                )
            ]
        )
    cross_section = plan.face_width * bed_height
    per_feed = plan.volume_kept / plan.feed_bulk_density / cross_section
    kept = min(plan.volume_kept, biology.VOLUME_KEPT.low), max(plan.volume_kept, biology.VOLUME_KEPT.high)
    pace = together(
        fed.value * per_feed,
        [
            (fed.low * per_feed, fed.high * per_feed),
            (fed.value * per_feed * kept[0] / plan.volume_kept, fed.value * per_feed * kept[1] / plan.volume_kept),
        ],
    )
    feed_per_length = cross_section / plan.volume_kept
    castings_mass = (
        feed_per_length
        * plan.feed_bulk_density
        * dry_matter_ratio(plan.dry_matter_kept, plan.feed_moisture, plan.castings_moisture)
    )
    layers = questions.feeding_rows(plan)
    slice_due = questions.first_slice(plan)
    return Feeding(
        days_between_feedings=fed.map(lambda eaten: between_feedings(plan, mass, eaten)),
        face_advance_per_week=pace.times(DAYS_A_WEEK),
        days_to_first_slice=slice_due,
        days_between_slices=pace.map(lambda speed: slice_length / speed if speed else FOREVER),
        feed_per_week=fed.times(DAYS_A_WEEK),
        face_capacity_per_week=plan.face_capacity_per_week,
        first_feeding_mass=layers[0][2] if layers else None,
        first_feeding_date=layers[0][0] if layers else None,
        first_slice_date=questions.date_after(plan, None if slice_due is None else slice_due.value),
        starting_temperature=temperature,
        layer_volume=volume,
        layer_mass=mass,
        residence_days=min(FOREVER, days_to_clear(slice_length, plan.gap, pace.value)),
        castings_volume_per_length=cross_section,
        castings_mass_per_length=castings_mass,
        feed_volume_per_length=feed_per_length,
        days_per_length=1 / pace.value if pace.value else FOREVER,
        castings_bulk_density=castings_mass / cross_section,
        plan=plan,
    )


def between_feedings(plan: LanePlan, layer: float, eaten: float) -> float:
    """Days that a layer [kg] lasts at so much eaten a day [kg/day]: not less than it needs to cool, not so long that it
    sours.
    """
    lasts = layer / eaten if eaten else FOREVER
    return max(plan.safe_interval, min(float(LONGEST_LAYER), lasts))


@presents(feeding)
def show_feeding(v: View) -> Show:
    plan = v.plan
    days = follow(plan, questions.SPAN)
    return Show(
        working=_working(v, plan),
        tables=[_card(v), feedings_table(plan), _calendar(days, plan)],
        figures=[drawing.lane_in_time(v, plan, days), drawing.one_layer(v)],
        warnings=_warnings(v, plan),
        reading=_reading(v, plan),
        events=_events(v, days, plan),
    )


def _working(v: View, plan: LanePlan) -> list[Step]:
    across = "lane_length" if v.fed_on == "side" else "lane_width"
    days = questions.cases(plan)[TYPICAL]
    eaten = {
        "rate": CurvePart("pace of eating, by the curve", activity, ("degC",)),
        "pace": Part("pace at the temperature it starts with", activity(v.starting_temperature)),
        "room": Part("share eaten at this stocking", crowding(v.worm_mass / plan.bed_area, v.capacity)),
    }
    return [
        Step(
            "One layer",
            f"{{layer_volume}} = {{layer_thickness}} × {{{across}}} × {{bed_height}} ÷ sin {{face_slope}}",
            "geometry",
        ),
        Step("Its weight", "{layer_mass} = {layer_volume} × {feed_bulk_density}", "definition"),
        Step(
            "What the face takes",
            "{face_capacity_per_week} = {layer_mass} ÷ {safe_interval} × 7 days/week",
            "geometry",
        ),
        Step(
            "Feed a week",
            "{pace} = {rate} at {starting_temperature}; {feed_per_week} = the smaller of {worm_mass} × {ration} ×"
            " {pace} ×"
            " {room} × 7 days/week and {face_capacity_per_week}"
            + ("" if v.feed_available_per_week is None else " and {feed_available_per_week}"),
            "Ndegwa et al. 2000; temperature Johnston et al. 2014 and Loehr et al. 1985; crowding Reeh 1992",
            values=eaten,
        ),
        Step(
            "Days between feedings",
            (
                "{days_between_feedings} = the larger of {safe_interval} and the smaller of 14 days and {layer_mass} ÷"
                " {feed_per_week}"
                if v.band("feed_per_week").value > 0
                else "{days_between_feedings} = the larger of {safe_interval} and 14 days"
            ),
            "arithmetic; 14 days: our own judgement, no source",
            "A layer that would lie longer is laid thinner.",
        ),
        Step(
            "The face moves",
            f"{{face_advance_per_week}} = {{feed_per_week}} × {{volume_kept}} ÷ {{feed_bulk_density}} ÷ ({{{across}}} ×"
            " {bed_height})",
            "geometry",
        ),
        *laying_step(plan, across, days),
        Step(
            "First slice",
            slice_equation(plan) + "; {first_slice_date} = {start_date} + {days_to_first_slice}, rounded",
            "the lane followed day by day: herd, feed, bed temperature; gap: common practice, no source",
            values=slice_parts(plan, days),
        ),
        _pace_step(v),
        Step(
            "Castings by volume",
            f"{{castings_volume_per_length}} = {{{across}}} × {{bed_height}}; {{feed_volume_per_length}} ="
            " {castings_volume_per_length} ÷ {volume_kept}",
            "geometry",
        ),
        Step(
            "Castings by weight",
            "{castings_mass_per_length} = {feed_volume_per_length} × {feed_bulk_density} × {dry_matter_kept} × (1 −"
            " {feed_moisture}) ÷ (1 − {castings_moisture})",
            "dry-matter balance",
        ),
        Step(
            "How heavy they are",
            "{castings_bulk_density} = {castings_mass_per_length} ÷ {castings_volume_per_length}",
            "definition",
            "It follows from volume kept, dry matter kept, moistures and the density of the feed.",
        ),
    ]


def _pace_step(v: View) -> Step:
    """From the face's pace to times; a face that hardly moves is said to take a hundred years and no longer."""
    if not v.face_advance_per_week:
        return Step("At this pace", "the face does not move: nothing comes off the back", "geometry", prose=True)
    stay = "({slice_length} + {gap}) ÷ {face_advance_per_week}"
    most = f"the smaller of {FOREVER:,.0f} days and {stay}" if v.residence_days >= FOREVER else stay
    return Step(
        "At this pace",
        "{days_between_slices} = {slice_length} ÷ {face_advance_per_week}; {residence_days} = "
        + most
        + "; {days_per_length} = 1 ÷ {face_advance_per_week}",
        "geometry",
    )


def _card(v: View) -> Table:
    """The per-foot card, to print and pin up."""
    name, piece = ("Foot of lane", FOOT) if v.units == "us" else ("Metre of lane", 1.0)
    pace = v.face_advance_per_week / 7 * v.days_between_feedings  # of a layer
    layers = piece / pace if pace else 0.0
    rows = [
        ("Feed in, volume", v.say(v.feed_volume_per_length * piece, "m3", us="ft3", metric="m3")),
        ("Feed in, weight", v.say(v.feed_volume_per_length * v.feed_bulk_density * piece, "kg")),
        ("Castings out, volume", v.say(v.castings_volume_per_length * piece, "m3", us="ft3", metric="m3")),
        ("Castings out, weight", v.say(v.castings_mass_per_length * piece, "kg")),
        ("Days at this pace", v.say(v.days_per_length * piece, "day", digits=2)),
        ("Layers at this pace", f"{layers:.1f}" if pace else "–"),
    ]
    return Table(
        "per_foot",
        "The card to pin up: what the lane takes and gives, length by length",
        [Column("what", "For each"), Column("piece", name)],
        rows,
        open=True,
    )


def _calendar(days: Sequence[Day], plan: LanePlan) -> Table:
    """26 weeks, week by week."""
    rows = []
    for week in range(1, questions.WEEKS + 1):
        span = days[(week - 1) * 7 : week * 7]
        rows.append(
            (
                week,
                span[0].on(plan),
                sum(day.laid > 0 for day in span),
                sum(day.laid for day in span),
                days[week * 7].face - plan.base_length,
                sum(day.sliced > 0 for day in span),
            )
        )
    columns = [
        Column("week", "Week", "1"),
        Column("date", "From"),
        Column("feedings", "Layers", "1"),
        Column("feed", "Feed", "kg"),
        Column("moved", "Face has moved", "m", us="in", metric="cm"),
        Column("slices", "Slices due", "1"),
    ]
    return Table("calendar", "The first 26 weeks, week by week", columns, rows)


def _events(v: View, days: Sequence[Day], plan: LanePlan) -> list[Event]:
    """Each feeding of the first 26 weeks, and each slice of the first year."""
    events = [
        Event(
            day.on(plan),
            "Feed the lane",
            f"{v.say(day.thickness, 'm', us='in', metric='cm', digits=2)} of feed on the face"
            f" ({v.say(day.laid, 'kg', digits=2)}), then water.",
        )
        for day in days[: questions.WEEKS * 7]
        if day.laid
    ]
    return events + [
        Event(
            day.on(plan),
            "Slice the back of the lane",
            f"{v.say(day.sliced, 'm', us='in', metric='cm')} long. Look for worms first; wait a week if there are"
            f" many.",
        )
        for day in days[:366]
        if day.sliced
    ]


def _warnings(v: View, plan: LanePlan) -> list[tuple[str | None, str]]:
    found: list[tuple[str | None, str]] = []
    if over(v.layer_thickness, facts.LAYER_HEATS.typical):
        found.append(
            (
                "layer_thickness",
                (
                    f"A layer of {v['layer_thickness']} heats unless the feed is well composted or the weather cold."
                    " Stay under 3 in (7.5 cm)."
                ),
            )
        )
    if faster(v) and v.feed_available_per_week is None:
        found.append(
            (
                "safe_interval",
                (
                    "These worms could eat faster than layers can safely follow each other. Make the lane wider or the"
                    " face longer rather than feeding more often."
                ),
            )
        )
    if over(v.worm_mass / plan.bed_area, facts.DENSE_STOCKING.typical):
        found.append(
            (
                "worm_mass",
                (
                    f"{v['worm_mass']} on this lane is crowded, over {facts.DENSE_STOCKING_SAID}. Worms"
                    " leave such a bed. Spread them over a longer lane."
                ),
            )
        )
    if v.bed_temperature is not None and not (
        biology.BAND_LOW.typical <= v.bed_temperature <= biology.BAND_HIGH.typical
    ):
        found.append(
            (
                "bed_temperature",
                (
                    f"{v['bed_temperature']} is outside the worms' working band of 39 to 86 °F (4 to 30 °C). They"
                    " hardly feed: lay nothing new until the bed is back inside it."
                ),
            )
        )
    elif v.bed_temperature is None:
        found += season_warnings(v, plan)
    found += floor_warnings(v, plan)
    if v.residence_days < facts.WEDGE_DAYS.typical:
        found.append(
            (
                "gap",
                (
                    f"A layer stays {v.say(v.residence_days, 'day', digits=2)}. US guidance for organic growers asks"
                    " for about 120 days in an angled bed. Ask your certifier."
                ),
            )
        )
    if not 320 <= v.castings_bulk_density <= 1000:
        found.append(
            (
                "volume_kept",
                (
                    f"These figures give castings of {v['castings_bulk_density']}, which is unlikely. Check the volume"
                    " and dry matter kept, or weigh a bucket."
                ),
            )
        )
    return found


def _apart(days: Sequence[date]) -> str:
    """How many days lie between one layer and the next, as the start of what is said of them."""
    gaps = sorted({(later - day).days for day, later in zip(days, days[1:])})
    if not gaps:
        return ""
    return f"{gaps[0]} days apart and " if len(gaps) == 1 else f"{gaps[0]} to {gaps[-1]} days apart and "


def _reading(v: View, plan: LanePlan) -> list[str]:
    layers = questions.feeding_rows(plan)
    sentences = []
    if layers:
        thickest = v.say(max(thickness for _, thickness, _ in layers), "m", us="in", metric="cm", digits=2)
        sentences.append(
            f"The first feeding is {v['first_feeding_mass']} on {v['first_feeding_date']}. In 26 weeks there are"
            f" {len(layers)} layers, {_apart([day for day, *_ in layers])}at most {thickest} thick: each when the last"
            " one is gone."
        )
    sentences.append(
        f"At the start the worms eat {v.say(v.feed_per_week, 'kg/week', digits=2)}, and the face could take"
        f" {v.say(v.face_capacity_per_week, 'kg/week', digits=2)}."
        + (" It takes no more: feed along the side, or begin a second lane." if faster(v) else "")
    )
    sentences.append(
        f"Each layer shrinks to {v.yours('volume_kept')} of its volume, which moves a face of full height"
        f" {v.say(v.face_advance_per_week, 'm/week', us='in/week', metric='cm/week', digits=2)} at first, and faster"
        " as the herd grows."
        + (
            " Yours begins as low as its base, and a low face moves faster: the list by weeks shows each of them."
            if over(plan.bed_height, plan.base_depth)
            else ""
        )
    )
    if v.first_slice_date:
        sentences.append(
            f"The first slice is due around {v['first_slice_date']}. It is the base that you bought,"
            f" {v.yours('base_depth')} deep;"
            " castings made of your feed come when the base has been sliced."
        )
    else:
        sentences.append(
            "At this pace the first slice is more than three years away. What brings it nearer:"
            f" {questions.brings_it_nearer(v.plan)}."
        )
    name, piece = ("foot", FOOT) if v.units == "us" else ("metre", 1.0)
    taken, given = (
        v.say(volume * piece, "m3", us="ft3", metric="m3")
        for volume in (v.feed_volume_per_length, v.castings_volume_per_length)
    )
    sentences.append(f"Each {name} that the face moves takes {taken} of feed and gives {given} of castings.")
    return sentences + herd_sentence(v, plan)


def faster(v: View) -> bool:
    """Whether the worms at the start would eat more than the face takes."""
    return bool(v.feed_per_week >= v.face_capacity_per_week * (1 - 1e-9))
