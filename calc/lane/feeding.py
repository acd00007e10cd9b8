"""The face of a lane: how often it is fed, how fast it moves, when the back can be sliced, and what a foot of lane
takes and gives.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Annotated

from calc.biology import activity, crowding
from calc.engine import (
    FOOT,
    Answer,
    Band,
    Column,
    Event,
    Number,
    Output,
    Refused,
    Share,
    Show,
    Step,
    Table,
    View,
    calculator,
    over,
    presents,
)
from calc.facts import biology
from calc.facts import lane as facts
from calc.inputs import (
    BED_HEIGHT,
    BED_TEMPERATURE,
    FEED_BULK_DENSITY,
    FEED_MOISTURE,
    LANE_LENGTH,
    LANE_WIDTH,
    START_DATE,
    WORM_MASS,
    BedHeight,
    BedTemperature,
    CalendarName,
    FaceSlope,
    FeedBulkDensity,
    FeedMoisture,
    LaneLength,
    LaneWidth,
    Ration,
    StartDate,
    VolumeKept,
    WormMass,
)
from calc.lane import drawing
from calc.lane.face import DAYS_A_WEEK, advance, days_to_clear, dry_matter_ratio, layer_volume

WEEKS = 26
WORTH_A_DATE = 3 * 365
"""Days after which a first slice is years away and not a date [day]."""


@dataclass(frozen=True)
class Feeding(Answer):
    days_between_feedings: Annotated[
        Band,
        Output(
            "day",
            "Days between feedings",
            "Until the worms have eaten the layer, and never sooner than a layer can cool.",
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
            "Along the ground, away from the finished end.",
            us="in/week",
            metric="cm/week",
            ranged=True,
            main=True,
            digits=2,
        ),
    ]
    days_to_first_slice: Annotated[
        Band,
        Output(
            "day",
            "Days to the first slice",
            "With this weight of worms all the time: a growing herd is sooner.",
            ranged=True,
            main=True,
            digits=2,
        ),
    ]
    days_between_slices: Annotated[
        Band, Output("day", "Days between slices after that", "One slice of the length you set.", ranged=True, digits=2)
    ]
    feed_per_week: Annotated[
        Band, Output("kg/week", "Feed a week", "Fresh weight, as laid.", ranged=True, main=True, digits=2)
    ]
    layer_volume: Annotated[float, Output("m3", "Feed in one layer, volume", "", us="gal", metric="L")]
    layer_mass: Annotated[float, Output("kg", "Feed in one layer, weight", "")]
    residence_days: Annotated[
        float, Output("day", "Days a layer stays in the bed", "From laying to slicing.", digits=2)
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


@calculator(
    "lane.feeding",
    "How often do I feed, how fast does the face move, when is the first slice?",
    leads={
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
def feeding(
    lane_length: LaneLength = LANE_LENGTH,
    lane_width: LaneWidth = LANE_WIDTH,
    bed_height: BedHeight = BED_HEIGHT,
    face_slope: FaceSlope = 45.0,
    layer_thickness: Annotated[
        float,
        Number(
            "m",
            "Thickness of a layer",
            0.005,
            0.2,
            us="in",
            metric="cm",
            fact=facts.LAYER,
            help="Measured square to the face.",
        ),
    ] = 2 * 0.0254,
    worm_mass: WormMass = WORM_MASS,
    bed_temperature: BedTemperature = BED_TEMPERATURE,
    slice_length: Annotated[
        float,
        Number(
            "m", "Length of a slice", 0.05, 3, us="in", metric="cm", help="Cut off the back, the full width and height."
        ),
    ] = 0.3048,
    gap: Annotated[
        float,
        Number(
            "m",
            "Gap behind the face",
            0.2,
            4,
            fact=facts.GAP,
            help="How far the face must have moved on before a slice is nearly free of worms.",
        ),
    ] = facts.GAP.typical,
    start_date: StartDate = START_DATE,
    ration: Ration = biology.RATION.typical,
    feed_bulk_density: FeedBulkDensity = FEED_BULK_DENSITY,
    feed_moisture: FeedMoisture = FEED_MOISTURE,
    volume_kept: VolumeKept = biology.VOLUME_KEPT.typical,
    dry_matter_kept: Annotated[
        float,
        Share(
            "Dry matter left as castings",
            0.1,
            1,
            fact=biology.DRY_MATTER_KEPT,
            help="The rest is breathed off.",
            group="Feed and castings",
        ),
    ] = biology.DRY_MATTER_KEPT.typical,
    castings_moisture: Annotated[
        float,
        Share(
            "Moisture of castings as sliced",
            0.2,
            0.9,
            fact=facts.CASTINGS_MOISTURE,
            help="Of the whole weight.",
            group="Feed and castings",
        ),
    ] = facts.CASTINGS_MOISTURE.typical,
    safe_interval: Annotated[
        float,
        Number(
            "day",
            "Shortest time between layers",
            0.5,
            14,
            fact=facts.SAFE_INTERVAL,
            help="So that a layer does not heat the one below.",
            group="Feed and castings",
        ),
    ] = facts.SAFE_INTERVAL.typical,
    calendar_name: CalendarName = None,
) -> Feeding:
    """Pace of a lane fed in even layers by a steady weight of worms.

    A layer of thickness t on a face of height H at slope θ across width W holds t·W·H/sin θ and moves the face v·t/sin
    θ.
    Lengths [m], face_slope [deg], worm_mass [kg], ration [kg feed/kg worms/day at 25 °C], densities [kg/m³], shares
    [-].
    Bands: ration and volume kept at their low and high.
    Sources: geometry; ration Ndegwa et al. 2000; temperature Johnston et al. 2014, Loehr et al. 1985; gap and safe
    interval as marked.
    """
    volume = layer_volume(layer_thickness, lane_width, bed_height, face_slope)
    mass = volume * feed_bulk_density
    eaten = worm_mass * activity(bed_temperature) * crowding(worm_mass / (lane_length * lane_width))
    low_ration, high_ration = min(biology.RATION.low, ration), max(biology.RATION.high, ration)
    low_kept, high_kept = min(biology.VOLUME_KEPT.low, volume_kept), max(biology.VOLUME_KEPT.high, volume_kept)

    def interval(feed_ration: float) -> float:
        return max(safe_interval, mass / (eaten * feed_ration)) if eaten else float("inf")

    def moves_per_day(feed_ration: float, kept: float) -> float:
        return advance(layer_thickness, face_slope, kept) / interval(feed_ration)

    if eaten == 0:
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
    days = Band(interval(ration), interval(high_ration), interval(low_ration))
    pace = Band(
        moves_per_day(ration, volume_kept), moves_per_day(low_ration, low_kept), moves_per_day(high_ration, high_kept)
    )
    cross_section = lane_width * bed_height
    feed_per_length = cross_section / volume_kept
    castings_mass = (
        feed_per_length * feed_bulk_density * dry_matter_ratio(dry_matter_kept, feed_moisture, castings_moisture)
    )
    return Feeding(
        days_between_feedings=days,
        face_advance_per_week=pace.times(DAYS_A_WEEK),
        days_to_first_slice=pace.map(lambda speed: days_to_clear(slice_length, gap, speed)),
        days_between_slices=pace.map(lambda speed: slice_length / speed),
        feed_per_week=days.map(lambda wait: mass * DAYS_A_WEEK / wait),
        layer_volume=volume,
        layer_mass=mass,
        residence_days=days_to_clear(slice_length, gap, pace.value),
        castings_volume_per_length=cross_section,
        castings_mass_per_length=castings_mass,
        feed_volume_per_length=feed_per_length,
        days_per_length=1 / pace.value,
        castings_bulk_density=castings_mass / cross_section,
    )


def feeding_days(interval: float, weeks: int = WEEKS) -> list[int]:
    """Days after the start on which a layer is laid, whole days, over so many weeks."""
    days, place = [], 0.0
    while round(place) <= weeks * 7:
        days.append(round(place))
        place += interval
    return days


def slicing_days(first: float, between: float, weeks: int = WEEKS) -> list[int]:
    """Days after the start on which a slice is due."""
    days: list[int] = []
    place = first
    while round(place) <= weeks * 7 and len(days) < 200:
        days.append(round(place))
        place += between
    return days


@presents(feeding)
def show_feeding(v: View) -> Show:
    fed = feeding_days(v.days_between_feedings)
    sliced = slicing_days(v.days_to_first_slice, v.days_between_slices)
    return Show(
        working=_working(v),
        tables=[_card(v), _calendar(v, fed, sliced)],
        figures=[drawing.lane_in_time(v)],
        warnings=_warnings(v),
        reading=_reading(v, sliced),
        events=_events(v, fed, sliced),
        cautions=[
            "Feed that still heats burns worms: check with a thermometer before and a day after each layer.",
            (
                "Lift with your legs, and shovel wet feed in half loads. Wash your hands and cover cuts after handling"
                " manure or food waste."
            ),
        ],
    )


def _working(v: View) -> list[Step]:
    crowded = crowding(v.worm_mass / (v.lane_length * v.lane_width))
    eaten = {
        "pace": ("pace at this temperature", f"{activity(v.bed_temperature):.2f}"),
        "room": ("share eaten at this stocking", f"{crowded:.2f}"),
    }
    return [
        Step(
            "One layer",
            "{layer_volume} = {layer_thickness} × {lane_width} × {bed_height} ÷ sin {face_slope}",
            "geometry",
        ),
        Step("Its weight", "{layer_mass} = {layer_volume} × {feed_bulk_density}", "definition"),
        Step(
            "Days between feedings",
            "{days_between_feedings} = the longer of {layer_mass} ÷ ({worm_mass} × {ration} × {pace} × {room}) and"
            " {safe_interval}",
            "Ndegwa et al. 2000; temperature Johnston et al. 2014 and Loehr et al. 1985; crowding Reeh 1992",
            values=eaten,
        ),
        Step("The face moves", "at each feeding {volume_kept} × {layer_thickness} ÷ sin {face_slope}", "geometry"),
        Step(
            "First slice",
            "{days_to_first_slice} = ({slice_length} + {gap}) ÷ {face_advance_per_week}",
            "geometry; gap: common practice, no source",
        ),
        Step(
            "Later slices",
            "{days_between_slices} = {slice_length} ÷ {face_advance_per_week}; {residence_days} = ({slice_length} +"
            " {gap}) ÷ {face_advance_per_week}; {days_per_length} = 1 ÷ {face_advance_per_week}",
            "geometry",
        ),
        Step("Feed a week", "{feed_per_week} = {layer_mass} × 7 ÷ {days_between_feedings}", "arithmetic"),
        Step("Castings by volume", "{castings_volume_per_length} = {lane_width} × {bed_height}", "geometry"),
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
        ),
    ]


def _card(v: View) -> Table:
    """The per-foot card, to print and pin up."""
    name, piece = ("Foot of lane", FOOT) if v.units == "us" else ("Metre of lane", 1.0)
    rows = [
        ("Feed in, volume", v.say(v.feed_volume_per_length * piece, "m3", us="ft3", metric="m3")),
        ("Feed in, weight", v.say(v.feed_volume_per_length * v.feed_bulk_density * piece, "kg")),
        ("Castings out, volume", v.say(v.castings_volume_per_length * piece, "m3", us="ft3", metric="m3")),
        ("Castings out, weight", v.say(v.castings_mass_per_length * piece, "kg")),
        ("Days at this pace", v.say(v.days_per_length * piece, "day", digits=2)),
        ("Layers", f"{piece / (v.face_advance_per_week / 7 * v.days_between_feedings):.1f}"),
    ]
    return Table(
        "per_foot",
        "The card to pin up: what the lane takes and gives, length by length",
        [Column("what", "For each"), Column("piece", name)],
        rows,
        open=True,
    )


def _calendar(v: View, fed: Sequence[int], sliced: Sequence[int]) -> Table:
    """26 weeks, week by week."""
    rows, moved = [], 0.0
    for week in range(1, WEEKS + 1):
        days = range((week - 1) * 7, week * 7)
        feedings = sum(day in days for day in fed)
        moved += v.face_advance_per_week
        rows.append(
            (
                week,
                v.start_date + timedelta(days=7 * (week - 1)),
                feedings,
                feedings * v.layer_mass,
                moved,
                sum(day in days for day in sliced),
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
    return Table("calendar", "The first 26 weeks", columns, rows)


def _events(v: View, fed: Sequence[int], sliced: Sequence[int]) -> list[Event]:
    layer = f"{v['layer_thickness']} of feed on the face ({v['layer_mass']}), then water."
    events = [Event(_day(v, day), "Feed the lane", layer) for day in fed]
    return events + [
        Event(
            _day(v, day),
            "Slice the back of the lane",
            f"{v['slice_length']} long. Look for worms first; wait a week if there are many.",
        )
        for day in sliced
    ]


def _day(v: View, days: int) -> date:
    start: date = v.start_date
    return start + timedelta(days=days)


def _warnings(v: View) -> list[tuple[str, str]]:
    found = []
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
    if v.days_between_feedings <= v.safe_interval * 1.0001:
        found.append(
            (
                "safe_interval",
                (
                    "These worms could eat faster than layers can safely follow each other. Make the lane wider or the"
                    " face longer rather than feeding more often."
                ),
            )
        )
    if v.days_between_feedings > 14:
        found.append(
            (
                "worm_mass",
                (
                    f"A layer lasts {v.say(v.days_between_feedings, 'day', digits=2)}: few worms for so long a face."
                    " Lay thinner layers, or part of the width at a time, so that the feed stays fresh."
                ),
            )
        )
    if over(v.worm_mass / (v.lane_length * v.lane_width), facts.DENSE_STOCKING.typical):
        found.append(
            (
                "worm_mass",
                (
                    f"{v['worm_mass']} on this lane is crowded, over 1.5 lb on each square foot (7.3 kg/m²). Worms"
                    " leave such a bed. Spread them over a longer lane."
                ),
            )
        )
    if v.bed_temperature < biology.BAND_LOW.typical or v.bed_temperature > biology.BAND_HIGH.typical:
        found.append(
            (
                "bed_temperature",
                (
                    f"{v['bed_temperature']} is outside the worms' working band of 40 to 86 °F (4 to 30 °C). They"
                    " hardly feed: lay nothing new until the bed is back inside it."
                ),
            )
        )
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
    if v.slice_length + v.gap > v.lane_length:
        found.append(
            (
                "lane_length",
                (
                    f"The face must move {v.say(v.slice_length + v.gap, 'm')} before the first slice, more than the"
                    " lane is long. Give the lane room to move, or start it short."
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


def _reading(v: View, sliced: Sequence[int]) -> list[str]:
    first = (
        v.start_date + timedelta(days=round(v.days_to_first_slice)) if v.days_to_first_slice < WORTH_A_DATE else None
    )
    sentences = [
        (
            f"Lay {v['layer_thickness']} about every {v.say(v.days_between_feedings, 'day', digits=2)}. That is"
            f" {v['layer_mass']} each time."
        ),
        (
            f"Each layer shrinks to {v['volume_kept']} of its volume, so the face creeps"
            f" {v.say(v.face_advance_per_week, 'm/week', us='in/week', metric='cm/week', digits=2)}."
        ),
    ]
    if first:
        sentences.append(
            f"The first slice is due around {first.day} {first:%B %Y}, if the worms stay at {v['worm_mass']} all along."
            " A herd that grows gets there sooner: the page on the first lane follows it."
        )
    else:
        sentences.append("At this pace the first slice is more than three years away: more worms, or a warmer bed.")
    name, piece = ("foot", FOOT) if v.units == "us" else ("metre", 1.0)
    taken, given = (
        v.say(volume * piece, "m3", us="ft3", metric="m3")
        for volume in (v.feed_volume_per_length, v.castings_volume_per_length)
    )
    sentences.append(f"A {name} of this lane takes {taken} of feed and gives {given} of castings.")
    return sentences
