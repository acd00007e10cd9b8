"""The scale-up page: lane, worms, feed, water and hours for the castings that are to be sold each week."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from functools import partial
from math import ceil, inf
from typing import Annotated, Any

from calc.biology import HIGH, LOW, TYPICAL, activity
from calc.climate import pores
from calc.engine import (
    FOOT,
    NOTHING,
    YARD3,
    Answer,
    Axis,
    Band,
    Column,
    Figure,
    Mark,
    Number,
    Output,
    Part,
    Refused,
    Share,
    Show,
    Step,
    Table,
    View,
    calculator,
    ends_wanted,
    over,
    presents,
    together,
    told_all,
)
from calc.facts import biology
from calc.facts import lane as facts
from calc.facts.base import moved_to
from calc.inputs import (
    BED_HEIGHT,
    CASTINGS_BULK_DENSITY,
    FED_ON,
    FULL_STOCKING,
    LANE_WIDTH,
    WAGE,
    BedHeight,
    CastingsBulkDensity,
    FedOn,
    LaneTemperature,
    LaneWidth,
    Wage,
)
from calc.lane.asked import RATES, FollowedLane, asks_for_a_lane, lane_plan
from calc.lane.face import DAYS_A_WEEK
from calc.lane.followed import days_part
from calc.lane.model import LanePlan, follow, follow_in_cold

INFINITE = inf
HOURS_GROUP = "Work and water"
LEAST_EATEN = 1e-3
"""Share of the ration under which nothing is worked out [-]: kilometres of bed for a bag."""


@dataclass(frozen=True)
class LaneOutput(Answer):
    lane_length: Annotated[
        Band,
        Output(
            "m",
            "Lane at work, end to end",
            "All lanes together, as long as worms live in them.",
            ranged=True,
            main=True,
            digits=2,
        ),
    ]
    lanes: Annotated[int, Output("1", "Lanes", "Of the longest length you allow; a lane fed on its end has one face.")]
    faces: Annotated[
        int,
        Output("1", "Faces to feed", "As many as the worms fill, and as the feed needs. On the side: one each lane."),
    ]
    face_length: Annotated[
        float, Output("m", "Face, all together", "Where feed is laid: widths of ends, or the sides.")
    ]
    face_capacity_per_week: Annotated[
        float, Output("kg/week", "Feed that all faces take in a week", "A layer, not sooner than the last is cool.")
    ]
    worm_mass: Annotated[
        Band,
        Output("kg", "Worms at work", "Fed at their ration at this temperature.", ranged=True, main=True, digits=2),
    ]
    feed_volume_per_week: Annotated[
        Band, Output("m3/week", "Feed, by volume", "Fresh, loose.", ranged=True, main=True, digits=2)
    ]
    feed_mass_per_week: Annotated[Band, Output("kg/week", "Feed, by weight", "", ranged=True, digits=2)]
    water_per_week: Annotated[
        Band, Output("kg/week", "Water a week", "A litre weighs a kilogram; 8.3 lb is a gallon.", ranged=True, digits=2)
    ]
    labour_hours_per_week: Annotated[
        Band,
        Output(
            "hour/week",
            "Hours of work a week",
            "Feeding, watering, slicing, screening. Making feed, drying, packing and selling come on top.",
            ranged=True,
            main=True,
            digits=2,
        ),
    ]
    labour_cost_per_week: Annotated[
        Band, Output("money/week", "Those hours at your rate", "Whether you pay them or not.", ranged=True)
    ]
    floor_area: Annotated[
        float,
        Output(
            "m2",
            "Floor with paths",
            "Bed at work, what each face walks until a slice is free of worms, and a path beside each lane.",
        ),
    ]
    castings_raw_per_week: Annotated[
        float, Output("m3/week", "Castings sliced a week", "Before they are dried and screened.")
    ]
    sliced_bulk_density: Annotated[
        float, Output("kg/m3", "Bulk density of sliced castings", "It follows from feed, moistures and what is kept.")
    ]
    volume_dried: Annotated[
        float,
        Output("1", "Volume after drying", "Of what was sliced: it shrinks.", us="%", metric="%", digits=2),
    ]
    water_volume_per_week: Annotated[
        Band,
        Output(
            "m3/week",
            "Water a week, by the hose",
            "The same as it is poured.",
            us="gal/week",
            metric="L/week",
            digits=2,
        ),
    ]
    activity_of_year: Annotated[
        float,
        Output(
            "1",
            "Eaten over the year, against the best",
            "Mean of all days, cold ones too.",
            us="%",
            metric="%",
            digits=2,
        ),
    ]
    plan: FollowedLane = field(compare=False, repr=False)


@dataclass(frozen=True)
class Needs:
    """What a weekly output takes, for one set of figures."""

    length: float
    worms: float
    feed: float
    water: float
    hours: float


def needs(
    raw_volume: float,
    lane_width: float,
    bed_height: float,
    stocking_density: float,
    ration: float,
    volume_kept: float,
    feed_bulk_density: float,
    water_per_area_per_day: float,
    screened_mass: float,
    feedings_per_week: float,
    hours: tuple[float, float, float, float],
    lying: float | None = None,
) -> Needs:
    """Lane length [m], worms [kg], feed [m³/week], water [kg/week] and hours a week for so much sliced castings
    [m³/week].

    ration [kg/kg/day] at the bed's temperature; hours: (for each feeding, for each 8 ft of it, for each foot sliced,
    screened kg an hour); lying: length of lane that is fed and watered [m], where more of it lies than is at work.
    """
    feed = raw_volume / volume_kept
    worms = feed * feed_bulk_density / DAYS_A_WEEK / ration
    area = worms / stocking_density
    length = area / lane_width
    setup, per_eight_feet, per_foot, screened_per_hour = hours
    sliced_feet = raw_volume / (lane_width * bed_height) / FOOT
    worked = (
        feedings_per_week * (setup + per_eight_feet * (lying or length) / (8 * FOOT))
        + per_foot * sliced_feet
        + screened_mass / screened_per_hour
    )
    return Needs(length, worms, feed, water_per_area_per_day * area * DAYS_A_WEEK, worked)


NOT_ASKED = (
    "lane_length",
    "base_depth",
    "worm_mass",
    "full_stocking",
    "floor_length",
    "feed_available_per_week",
    "slice_length",
    "compost_bulk_density",
    "base_moisture",
    "target_moisture",
    "start_date",
    "harvest_per_week",
    *RATES,
)
"""What a steady output does not hang on: how a lane begins, and how its herd grows."""


def steady_plan(given: Mapping[str, Any]) -> LanePlan:
    """One metre of side, or one end, of a lane in full work, with as many worms as it is stocked with."""
    plan = lane_plan({name: value for name, value in given.items() if name not in NOT_ASKED})
    depth = plan.gap + plan.foot
    plan = replace(plan, base_depth=plan.bed_height, steady_herd=True, fed_well=True, start_date=date(2027, 1, 1))
    if plan.fed_on == "side":
        plan = replace(plan, lane_length=1.0, lane_width=depth)
    else:
        plan = replace(plan, lane_length=depth)
    return replace(plan, worm_mass=given["stocking_density"] * plan.active_area)


def eaten_of_ration(plan: LanePlan, case: int = TYPICAL) -> float:
    """Share of the ration that worms of a full lane eat over a year [-]: pace by temperature times crowding, nothing
    while it stands. case: how much the cold slows them.

    The second year of a lane that keeps its herd; a held temperature gives the closed form.
    """
    days = follow_in_cold(plan, 730, case)[365:730]
    low, high = biology.BAND_LOW.typical, biology.BAND_HIGH.typical
    if plan.bed_temperature is not None:
        low, high = -INFINITE, INFINITE  # typed: the reader has said that it is fed
    wanted = sum(day.appetite for day in days if low <= day.bed_temperature <= high)
    return wanted / len(days) / (plan.worm_mass * plan.ration)


def water_of_year(plan: LanePlan, case: int = TYPICAL) -> float:
    """Water from the hose, mean of a year [kg/m² day]: less on cool days than on one of 68 °F (20 °C)."""
    days = follow(plan, 730, case)[365:730]
    return sum(day.watered / day.active_area for day in days) / len(days)


@calculator(
    "lane.output",
    "How many feet of lane, worms, feed, water and hours for the castings I want to sell?",
    samples=200,
    leads={
        "economics.unit_cost": {},
        "economics.mix": {"castings_available": "castings_per_week"},
        "lane.herd": {"target_mass": "worm_mass"},
        "climate.water": {},
    },
)
@told_all
@partial(asks_for_a_lane, without=NOT_ASKED)
def output(
    castings_per_week: Annotated[
        float,
        Number(
            "m3/week",
            "Screened castings to sell",
            0.001,
            500,
            us="yd3/week",
            metric="m3/week",
            help="Fresh, loose, as sold.",
        ),
    ] = 0.25 * YARD3,
    screen_product_share: Annotated[
        float,
        Share(
            "Share that passes the screen",
            0.05,
            1,
            fact=facts.PRODUCT_SHARE,
            help="Of the dried castings, by volume. The screening page works it out.",
        ),
    ] = facts.PRODUCT_SHARE.typical,
    lane_width: LaneWidth = LANE_WIDTH,
    bed_height: BedHeight = BED_HEIGHT,
    stocking_density: Annotated[
        float,
        Number(
            "kg/m2",
            "Worms on each area of lane",
            0.2,
            20,
            us="lb/ft2",
            fact=biology.STOCKING_FULL,
            help="Of a bed that is fully at work.",
        ),
    ] = FULL_STOCKING,
    bed_temperature: LaneTemperature = None,
    fed_on: FedOn = FED_ON,
    longest_lane: Annotated[
        float,
        Number(
            "m",
            "Longest lane you have room for",
            1,
            150,
            help="A long one is fed along its side: its end feeds few worms.",
        ),
    ] = 80 * FOOT,
    path_width: Annotated[
        float, Number("m", "Path beside each lane", 0.3, 5, help="Wide enough for your barrow or loader.")
    ] = 4 * FOOT,
    *,
    feedings_per_week: Annotated[
        float,
        Number(
            "1/week", "Feedings a week", 0.25, 14, help="Each with its fetching and washing down.", group=HOURS_GROUP
        ),
    ] = 2.0,
    setup_hours: Annotated[
        float,
        Number(
            "hour",
            "Work at each feeding, any length",
            0,
            10,
            fact=facts.SETUP_HOURS,
            help="Fetching feed, covers, washing down: once for all lanes that are fed in one walk.",
            group=HOURS_GROUP,
        ),
    ] = facts.SETUP_HOURS.typical,
    hours_per_feeding: Annotated[
        float,
        Number(
            "hour", "Work for each 8 ft (2.4 m) fed and watered", 0, 10, fact=facts.HOURS_PER_FEEDING, group=HOURS_GROUP
        ),
    ] = facts.HOURS_PER_FEEDING.typical,
    hours_per_slice: Annotated[
        float, Number("hour", "Work for each foot (30 cm) sliced", 0, 10, fact=facts.HOURS_PER_SLICE, group=HOURS_GROUP)
    ] = facts.HOURS_PER_SLICE.typical,
    screened_per_hour: Annotated[
        float,
        Number(
            "kg/hour",
            "Screened in an hour",
            5,
            20000,
            fact=facts.SCREENED_PER_HOUR,
            help="By one person.",
            group=HOURS_GROUP,
        ),
    ] = facts.SCREENED_PER_HOUR.typical,
    castings_bulk_density: CastingsBulkDensity = CASTINGS_BULK_DENSITY,
    wage: Wage = WAGE,
    asked: Mapping[str, Any] = NOTHING,
    **lane: Any,
) -> LaneOutput:
    """Lane, worms, feed, water, hours and floor for a weekly output of screened castings.

    castings_per_week [m³/week]; lengths [m]; stocking_density [kg/m²]; ration [kg/kg/day] at 25 °C; densities [kg/m³];
    hours [h].
    What worms eat over the year: a full lane followed day by day in its season. Bands: its slow and fast case.
    Sources: geometry and mass balance; ration Ndegwa et al. 2000.
    """
    plan = steady_plan(asked)
    shares = replace(plan.shares, product_share=screen_product_share, castings_bulk_density=castings_bulk_density)
    if bed_temperature is not None and activity(bed_temperature) < LEAST_EATEN:
        raise Refused(
            [
                (
                    "bed_temperature",
                    "Worms eat nothing at this bed temperature. They feed between 32 and 95 °F (0 and 35 °C).",
                )
            ]
        )
    raw = castings_per_week / screen_product_share / shares.volume_dried
    hours = (setup_hours, hours_per_feeding, hours_per_slice, screened_per_hour)
    depth = plan.gap + plan.foot
    across = depth if fed_on == "side" else lane_width

    def in_this(figures: LanePlan, share: float) -> Needs:
        dried = replace(figures.shares, castings_bulk_density=castings_bulk_density).volume_dried
        return needs(
            castings_per_week / screen_product_share / dried,
            across,
            bed_height,
            stocking_density,
            figures.ration * share,
            figures.volume_kept,
            plan.feed_bulk_density,
            water,
            castings_per_week / screen_product_share * castings_bulk_density,
            feedings_per_week,
            hours,
        )

    share, water = eaten_of_ration(plan), water_of_year(plan)
    if share < LEAST_EATEN:
        raise Refused([("climate", "In this season the bed is never warm enough to be fed.")])
    middle, least = in_this(plan, share), share / 1000
    ways: list[tuple[Needs, Needs]] = []
    if ends_wanted():
        low, high = moved_to(plan.ration, biology.RATION)
        ways.append((in_this(replace(plan, ration=low), share), in_this(replace(plan, ration=high), share)))
        low, high = moved_to(plan.dry_matter_kept, biology.DRY_MATTER_KEPT)
        low, high = max(low, plan.feed_ash), min(high, 1.0)
        drier, richer = replace(plan, dry_matter_kept=low), replace(plan, dry_matter_kept=high)
        ways.append((in_this(drier, share), in_this(richer, share)))
        low, high = moved_to(plan.volume_kept, biology.VOLUME_KEPT)
        ways.append((in_this(replace(plan, volume_kept=low), share), in_this(replace(plan, volume_kept=high), share)))
        rooms = [replace(plan, capacity=end) for end in moved_to(plan.capacity, biology.CAPACITY)]
        shares_then = [
            [eaten_of_ration(room) for room in rooms],
            [eaten_of_ration(plan, case) for case in (LOW, HIGH)],
        ]
        for poor, good in shares_then:
            ways.append((in_this(plan, max(least, poor)), in_this(plan, max(least, good))))

    def band(name: str, factor: float = 1.0) -> Band:
        ends = [(getattr(one, name) * factor, getattr(other, name) * factor) for one, other in ways]
        return together(getattr(middle, name) * factor, ends)

    feed_mass = middle.feed * plan.feed_bulk_density
    capacity = plan.face_capacity_per_week / plan.face_width  # of each metre of face
    if fed_on == "side":
        face_length = max(middle.length, feed_mass / capacity)
        lanes = faces = max(1, ceil(face_length / longest_lane - 1e-9))
    else:
        worked = middle.length / depth  # faces that the worms fill
        lanes = faces = max(1, ceil(max(worked, feed_mass / (capacity * lane_width)) - 1e-9))
        face_length = faces * lane_width
    return LaneOutput(
        lane_length=band("length"),
        lanes=lanes,
        faces=faces,
        face_length=face_length,
        face_capacity_per_week=face_length * capacity,
        worm_mass=band("worms"),
        feed_volume_per_week=band("feed"),
        feed_mass_per_week=band("feed", plan.feed_bulk_density),
        water_per_week=band("water"),
        labour_hours_per_week=band("hours"),
        labour_cost_per_week=band("hours", wage),
        floor_area=(
            face_length * (plan.floor_needed + path_width)
            if fed_on == "side"
            else faces * plan.floor_needed * (lane_width + path_width)
        ),
        castings_raw_per_week=raw,
        sliced_bulk_density=shares.sliced_density,
        volume_dried=shares.volume_dried,
        water_volume_per_week=band("water", 1 / pores.WATER_DENSITY),
        activity_of_year=share,
        plan=plan,
    )


@presents(output)
def show_output(v: View) -> Show:
    stages = _stages(v)
    return Show(
        working=_working(v),
        tables=[
            Table(
                "stages",
                "Stages: learn, prove, produce",
                [
                    Column("stage", "Stage"),
                    Column("length", "Lane at work", "m", digits=2),
                    Column("worms", "Worms", "kg", digits=2),
                    Column("feed", "Feed a week", "m3/week", digits=2),
                    Column("castings", "Castings sold a week", "m3/week", digits=2),
                    Column("hours", "Hours a week", "hour/week", digits=2),
                    Column("each", "Hours for each volume sold", "hour/m3", us="hour/yd3", metric="hour/m3", digits=2),
                ],
                stages,
                open=True,
            )
        ],
        figures=[
            Figure(
                "hours",
                "Work for each volume of castings sold, as lanes grow",
                finding=(
                    "A longer lane is fed in the same walk: the fetching and washing down is shared by more castings."
                ),
                x=Axis("Lane at work", "m"),
                y=Axis("Hours for each volume sold", "hour/m3", us="hour/yd3", metric="hour/m3", low=0),
                marks=[
                    Mark("line", [(row[1], row[6]) for row in _curve(v)]),
                    Mark("dots", [(row[1], row[6], str(row[0]).split(":")[0]) for row in stages]),
                ],
            )
        ],
        warnings=_warnings(v),
        reading=[
            (
                f"To sell {v.yours('castings_per_week')} you slice {v['castings_raw_per_week']}:"
                " drying and screening take"
                f" the rest."
                f" That takes {v.say(v.feed_volume_per_week, 'm3/week', digits=2)} of feed."
            ),
            (
                f"That feed keeps {v.say(v.worm_mass, 'kg', digits=2)} of worms at work on"
                f" {v.say(v.lane_length, 'm', digits=2)} of lane, in {v.lanes} {'lane' if v.lanes == 1 else 'lanes'}."
            ),
            _side_sentence(v),
            (
                f"It is {v.say(v.labour_hours_per_week, 'hour/week', digits=2)}, or"
                f" {v.say(v.labour_cost_per_week, 'money/week')} at your rate."
            ),
            "Learn on one lane of 8 ft (2.4 m) first. A mistake at 80 ft (24 m) costs ten times as much.",
        ],
    )


def _side_sentence(v: View) -> str:
    """What end or side mean for this output."""
    if v.fed_on == "side":
        return (
            f"They are fed along {v.say(v.face_length, 'm', digits=2)} of side, which could take"
            f" {v.say(v.face_capacity_per_week, 'kg/week', digits=2)}."
        )
    side = v.lane_length * v.lane_width / _depth(v)
    if v.faces == 1:
        return "One face at the end is enough for that."
    return (
        f"Fed on their ends that is {v.faces} faces to walk to, fetching and washing down counted once for all: worms"
        f" live only behind a face. Fed along their sides, {v.say(side, 'm', digits=2)} of lane does the same."
    )


def _depth(v: View) -> float:
    """How far behind a face the bed is at work: gap and foot [m]."""
    plan: LanePlan = v.plan
    return plan.gap + plan.foot


def _across(v: View) -> float:
    """Width of the bed that worms work in, across the way along which length is counted [m]."""
    return _depth(v) if v.fed_on == "side" else float(v.lane_width)


def _working(v: View) -> list[Step]:
    plan = v.plan
    figures: dict[str, Any] = {
        "share": Part("share of the ration eaten over the year", v.activity_of_year),
        "area": Part("bed at work", v.lane_length * _across(v), "m2"),
        "across": Part("width of the bed at work", _across(v), "m"),
        "water": Part("water a day over the year", water_of_year(plan), "kg/m2 day", us="lb/ft2 day"),
        "of_water": Part("density of water", pores.WATER_DENSITY, "kg/m3"),
        "dry": Part("moisture at the screen", plan.screening_moisture, "1", "%", "%"),
    }
    year = follow(plan, 730)[365:730]
    capacity = plan.face_capacity_per_week / plan.face_width
    figures |= {
        "year": days_part(plan, year),
        "stocked": Part("worms of a full lane", plan.worm_mass, "kg"),
        "band_low": Part("coldest at which it is fed", biology.BAND_LOW.typical, "degC"),
        "band_high": Part("warmest at which it is fed", biology.BAND_HIGH.typical, "degC"),
        "takes": Part("what each length of face takes", capacity, "kg/m week"),
        "depth": Part("gap and foot of the face", _depth(v), "m"),
        "walk": Part("what it walks until the first slice", plan.first_walk, "m"),
        "screened": Part(
            "castings to screen", v.castings_per_week / v.screen_product_share * v.castings_bulk_density, "kg/week"
        ),
        "sliced": Part("length sliced", v.castings_raw_per_week / (_across(v) * v.bed_height), "m/week"),
    }
    fed = "" if plan.bed_temperature is not None else " where {bed} ≥ {band_low} and {bed} ≤ {band_high}"
    faces = (
        "{face_length} = the larger of {lane_length} and {feed_mass_per_week} ÷ {takes}; {lanes} and {faces} ="
        " {face_length} ÷ {longest_lane}, rounded up"
        if v.fed_on == "side"
        else "{faces} and {lanes} = the larger of {lane_length} ÷ {depth} and {feed_mass_per_week} ÷ ({takes} ×"
        " {lane_width}), rounded up; {face_length} = {faces} × {lane_width}"
    )
    return [
        Step(
            "How heavy sliced castings are",
            "{sliced_bulk_density} = {feed_bulk_density} × {dry_matter_kept} × (1 − {feed_moisture}) ÷ (1 −"
            " {castings_moisture}) ÷ {volume_kept}",
            "dry-matter balance",
        ),
        Step(
            "Drying shrinks them",
            "{volume_dried} = {sliced_bulk_density} × (1 − {castings_moisture}) ÷ ({castings_bulk_density} × (1 −"
            " {dry}))",
            "dry-matter balance",
            values=figures,
        ),
        Step(
            "Castings to slice",
            "{castings_raw_per_week} = {castings_per_week} ÷ {screen_product_share} ÷ {volume_dried}",
            "definition",
        ),
        Step(
            "Feed",
            "{feed_volume_per_week} = {castings_raw_per_week} ÷ {volume_kept}; {feed_mass_per_week} = that ×"
            " {feed_bulk_density}",
            "volume balance",
        ),
        Step(
            "Over the year",
            "{stocked} = {stocking_density} × (mean over {year} of {area_then}); {activity_of_year} = (sum over"
            " {year} of"
            " {appetite}" + fed + ") ÷ number of {year} ÷ ({stocked} × {ration})",
            "temperature and crowding as on the page of all equations; the lane followed day by day",
            "Pace by temperature × share eaten at that stocking, mean of all days of a full lane.",
            figures,
        ),
        Step(
            "Worms",
            "{worm_mass} = {feed_mass_per_week} ÷ 7 days/week ÷ ({ration} × {share})",
            "Ndegwa et al. 2000; temperature Johnston et al. 2014 and Loehr et al. 1985; crowding Reeh 1992",
            values=figures,
        ),
        Step("Lane", "{lane_length} = {worm_mass} ÷ {stocking_density} ÷ {across}", "geometry", values=figures),
        Step(
            "Faces and lanes",
            faces,
            "geometry; worms live behind the face, as far as gap and foot",
            values=figures,
        ),
        Step(
            "What the faces take",
            "{face_capacity_per_week} = {face_length} × {layer_thickness} × {bed_height} ÷ sin {face_slope} ×"
            " {feed_bulk_density} ÷ {safe_interval} × 7 days/week",
            "geometry",
        ),
        Step(
            "Floor",
            "{floor_area} = {face_length} × ({depth} + {walk} + {path_width})"
            if v.fed_on == "side"
            else "{floor_area} = {faces} × ({depth} + {walk}) × ({lane_width} + {path_width})",
            "geometry",
            "A slice and the gap: as on the page about a first lane.",
            figures,
        ),
        Step(
            "Water",
            "{water_per_week} = {water} × {area} × 7 days/week;"
            " {water_volume_per_week} = {water_per_week} ÷ {of_water}",
            "definition",
            values=figures,
        ),
        Step(
            "Hours",
            "{screened} = {castings_per_week} ÷ {screen_product_share} × {castings_bulk_density}; {sliced} ="
            " {castings_raw_per_week} ÷ ({across} × {bed_height}); {labour_hours_per_week} = {feedings_per_week} ×"
            " ({setup_hours} + {hours_per_feeding} × {lane_length} ÷ 8 ft) + {hours_per_slice} × {sliced} ÷ 1 ft +"
            " {screened} ÷ {screened_per_hour}",
            "arithmetic; times: common practice, no source",
            values=figures,
        ),
        Step("Their cost", "{labour_cost_per_week} = {labour_hours_per_week} × {wage}", "arithmetic"),
    ]


def _row(v: View, stage: str, length: float, lying: float | None = None) -> tuple[float | str, ...]:
    """One stage: what a lane of this length at work gives, and what it takes; lying: its whole length, if longer."""
    share = length / v.lane_length
    sold = v.castings_per_week * share
    hours = (v.setup_hours, v.hours_per_feeding, v.hours_per_slice, v.screened_per_hour)
    found = needs(
        v.castings_raw_per_week * share,
        _across(v),
        v.bed_height,
        v.stocking_density,
        v.ration * v.activity_of_year,
        v.volume_kept,
        v.feed_bulk_density,
        0.0,
        sold / v.screen_product_share * v.castings_bulk_density,
        v.feedings_per_week,
        hours,
        lying,
    )
    return (stage, length, found.worms, found.feed, sold, found.hours, found.hours / sold)


def _stages(v: View) -> list[tuple[float | str, ...]]:
    """The stages by lane at work. The first is one lane of 8 ft: fed on its end, it is at work behind its one face,
    and its keeper works along all of it, as in the books of the lane.
    """
    first = 8 * FOOT
    named = [
        (f"Learn: one lane of {v.say(first, 'm')}", first if v.fed_on == "side" else min(first, _depth(v))),
        ("Prove: two seasons of it", 16 * FOOT),
        ("Grow", 40 * FOOT),
        ("Produce", 80 * FOOT),
    ]
    if all(abs(v.lane_length - length) > 0.02 * length for _, length in named):
        named.append(("Yours", v.lane_length))
    rows = [_row(v, stage, length, first if number == 0 else None) for number, (stage, length) in enumerate(named)]
    return sorted(rows, key=lambda row: row[1])


def _curve(v: View) -> list[tuple[float | str, ...]]:
    shortest, longest = 4 * FOOT, max(80 * FOOT, v.lane_length)
    return [_row(v, "", shortest * (longest / shortest) ** (step / 40)) for step in range(41)]


def _warnings(v: View) -> list[tuple[str | None, str]]:
    found: list[tuple[str | None, str]] = []
    if over(v.stocking_density, facts.DENSE_STOCKING.typical):
        found.append(("stocking_density", f"{v['stocking_density']} is crowded: few beds keep it up for a year."))
    if v.labour_hours_per_week > 50:
        found.append((None, f"{v.say(v.labour_hours_per_week, 'hour/week', digits=2)} is more than one person's week."))
    if v.bed_temperature is not None and v.bed_temperature < biology.SLOW_BELOW:
        found.append(
            (
                "bed_temperature",
                f"At {v['bed_temperature']} worms eat little: this needs many more worms than in summer.",
            )
        )
    if v.sliced_bulk_density > pores.densest(v.castings_moisture) or v.sliced_bulk_density < 250:
        found.append(
            (
                "volume_kept",
                (
                    f"These figures give sliced castings of {v['sliced_bulk_density']}, which cannot be. Check the"
                    f" volume and"
                    " dry matter kept, or weigh a bucket."
                ),
            )
        )
    return found
