"""The scale-up page: lane, worms, feed, water and hours for the castings that are to be sold each week."""

from dataclasses import dataclass
from math import ceil
from typing import Annotated

from calc.biology import activity, crowding
from calc.engine import (
    FOOT,
    YARD3,
    Answer,
    Axis,
    Band,
    Column,
    Figure,
    Mark,
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
    FULL_STOCKING,
    LANE_WIDTH,
    WAGE,
    BedHeight,
    BedTemperature,
    FeedBulkDensity,
    LaneWidth,
    Ration,
    VolumeKept,
    Wage,
)
from calc.lane.face import DAYS_A_WEEK

HOURS_GROUP = "Work and water"


@dataclass(frozen=True)
class LaneOutput(Answer):
    lane_length: Annotated[
        Band, Output("m", "Lane, end to end", "All lanes together.", ranged=True, main=True, digits=2)
    ]
    lanes: Annotated[int, Output("1", "Lanes", "Of the longest length you allow.")]
    worm_mass: Annotated[
        Band,
        Output("kg", "Worms at work", "Fed at their ration at this temperature.", ranged=True, main=True, digits=2),
    ]
    feed_volume_per_week: Annotated[
        Band, Output("m3/week", "Feed a week, volume", "Fresh, loose.", ranged=True, main=True, digits=2)
    ]
    feed_mass_per_week: Annotated[Band, Output("kg/week", "Feed a week, weight", "", ranged=True, digits=2)]
    water_per_week: Annotated[
        Band, Output("kg/week", "Water a week", "A litre weighs a kilogram; 8.3 lb is a gallon.", ranged=True, digits=2)
    ]
    labour_hours_per_week: Annotated[
        Band,
        Output(
            "hour/week",
            "Hours of work a week",
            "Feeding, watering, slicing, screening.",
            ranged=True,
            main=True,
            digits=2,
        ),
    ]
    labour_cost_per_week: Annotated[
        Band, Output("money/week", "Those hours at your rate", "Whether you pay them or not.", ranged=True)
    ]
    floor_area: Annotated[float, Output("m2", "Floor with paths", "Lanes and one path beside each.")]
    castings_raw_per_week: Annotated[float, Output("m3/week", "Castings sliced a week", "Before screening.")]


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
) -> Needs:
    """Lane length [m], worms [kg], feed [m³/week], water [kg/week] and hours a week for so much sliced castings
    [m³/week].

    ration [kg/kg/day] at the bed's temperature; hours: (for each feeding, for each 8 ft of it, for each foot sliced,
    screened kg an hour).
    """
    feed = raw_volume / volume_kept
    worms = feed * feed_bulk_density / DAYS_A_WEEK / ration
    area = worms / stocking_density
    length = area / lane_width
    setup, per_eight_feet, per_foot, screened_per_hour = hours
    sliced_feet = raw_volume / (lane_width * bed_height) / FOOT
    worked = (
        feedings_per_week * (setup + per_eight_feet * length / (8 * FOOT))
        + per_foot * sliced_feet
        + screened_mass / screened_per_hour
    )
    return Needs(length, worms, feed, water_per_area_per_day * area * DAYS_A_WEEK, worked)


@calculator(
    "lane.output",
    "How many feet of lane, worms, feed, water and hours for the castings I want to sell?",
    leads={
        "economics.mix": {"castings_available": "castings_per_week"},
        "economics.unit_cost": {},
        "lane.herd": {"target_mass": "worm_mass"},
        "climate.water": {},
    },
)
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
            help="Of the sliced castings, by volume. The screening page works it out.",
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
    bed_temperature: BedTemperature = BED_TEMPERATURE,
    longest_lane: Annotated[
        float,
        Number("m", "Longest lane you have room for", 1, 150, help="80 ft (24 m) is handled like 8 ft, only longer."),
    ] = 80 * FOOT,
    path_width: Annotated[
        float, Number("m", "Path beside each lane", 0.3, 5, help="Wide enough for your barrow or loader.")
    ] = 4 * FOOT,
    ration: Ration = biology.RATION.typical,
    volume_kept: VolumeKept = biology.VOLUME_KEPT.typical,
    feed_bulk_density: FeedBulkDensity = FEED_BULK_DENSITY,
    water_per_area_per_day: Annotated[
        float,
        Number(
            "kg/m2 day",
            "Water for each area a day",
            0,
            30,
            us="lb/ft2 day",
            fact=facts.WATER_PER_AREA,
            help="The page on watering works it out; 1 kg/m² is 1 mm.",
            group=HOURS_GROUP,
        ),
    ] = facts.WATER_PER_AREA.typical,
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
            help="Fetching feed, covers, washing down.",
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
    castings_bulk_density: Annotated[
        float, Number("kg/m3", "Bulk density of sliced castings", 200, 1200, spread=(500, 850), group=HOURS_GROUP)
    ] = 650.0,
    wage: Wage = WAGE,
) -> LaneOutput:
    """Lane, worms, feed, water, hours and floor for a weekly output of screened castings.

    castings_per_week [m³/week]; lengths [m]; stocking_density [kg/m²]; ration [kg/kg/day] at 25 °C; densities [kg/m³];
    hours [h].
    Bands: ration and volume kept at their low and high together. Sources: geometry and mass balance; ration Ndegwa et
    al. 2000.
    """
    pace = activity(bed_temperature) * crowding(stocking_density)
    if pace == 0:
        raise Refused(
            [
                (
                    "bed_temperature",
                    "Worms eat nothing at this bed temperature. They feed between 32 and 95 °F (0 and 35 °C).",
                )
            ]
        )
    raw = castings_per_week / screen_product_share
    hours = (setup_hours, hours_per_feeding, hours_per_slice, screened_per_hour)

    def with_figures(feed_ration: float, kept: float) -> Needs:
        return needs(
            raw,
            lane_width,
            bed_height,
            stocking_density,
            feed_ration * pace,
            kept,
            feed_bulk_density,
            water_per_area_per_day,
            raw * castings_bulk_density,
            feedings_per_week,
            hours,
        )

    middle = with_figures(ration, volume_kept)
    good = with_figures(max(ration, biology.RATION.high), max(volume_kept, biology.VOLUME_KEPT.high))
    poor = with_figures(min(ration, biology.RATION.low), min(volume_kept, biology.VOLUME_KEPT.low))

    def band(name: str, factor: float = 1.0) -> Band:
        ends = sorted(getattr(case, name) * factor for case in (good, poor))
        return Band(getattr(middle, name) * factor, *ends)

    lanes = max(1, ceil(middle.length / longest_lane - 1e-9))
    return LaneOutput(
        lane_length=band("length"),
        lanes=lanes,
        worm_mass=band("worms"),
        feed_volume_per_week=band("feed"),
        feed_mass_per_week=band("feed", feed_bulk_density),
        water_per_week=band("water"),
        labour_hours_per_week=band("hours"),
        labour_cost_per_week=band("hours", wage),
        floor_area=middle.length * (lane_width + path_width),
        castings_raw_per_week=raw,
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
                    Column("length", "Lane", "m", digits=2),
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
                x=Axis("Lane", "m"),
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
                f"To sell {v['castings_per_week']} you slice {v['castings_raw_per_week']}, which takes"
                f" {v.say(v.feed_volume_per_week, 'm3/week', digits=2)} of feed."
            ),
            (
                f"That feed keeps {v.say(v.worm_mass, 'kg', digits=2)} of worms at work on"
                f" {v.say(v.lane_length, 'm', digits=2)} of lane, in {v.lanes} {'lane' if v.lanes == 1 else 'lanes'}."
            ),
            (
                f"It is {v.say(v.labour_hours_per_week, 'hour/week', digits=2)}, or"
                f" {v.say(v.labour_cost_per_week, 'money/week')} at your rate."
            ),
            "Learn on 8 ft first. A mistake at 80 ft (24 m) costs ten times as much.",
        ],
        cautions=[
            "Many places want a permit for taking in other people's waste, some from the first load on. Ask before you"
            " take it."
        ],
    )


def _working(v: View) -> list[Step]:
    pace = {
        "pace": ("pace at this temperature", f"{activity(v.bed_temperature):.2f}"),
        "room": ("share eaten at this stocking", f"{crowding(v.stocking_density):.2f}"),
        "area": ("bed area", v.say(v.lane_length * v.lane_width, "m2")),
    }
    return [
        Step(
            "Castings to slice", "{castings_raw_per_week} = {castings_per_week} ÷ {screen_product_share}", "definition"
        ),
        Step(
            "Feed",
            "{feed_volume_per_week} = {castings_raw_per_week} ÷ {volume_kept}; {feed_mass_per_week} = that ×"
            " {feed_bulk_density}",
            "volume balance",
        ),
        Step(
            "Worms",
            "{worm_mass} = {feed_mass_per_week} ÷ ({ration} × {pace} × {room})",
            "Ndegwa et al. 2000; temperature Johnston et al. 2014 and Loehr et al. 1985; crowding Reeh 1992",
            values=pace,
        ),
        Step("Lane", "{lane_length} = {worm_mass} ÷ {stocking_density} ÷ {lane_width}", "geometry"),
        Step(
            "Lanes and floor",
            "{lanes} = {lane_length} ÷ {longest_lane}, rounded up; {floor_area} = {lane_length} × ({lane_width} +"
            " {path_width})",
            "geometry",
        ),
        Step("Water", "{water_per_week} = {water_per_area_per_day} × {area} × 7", "definition", values=pace),
        Step(
            "Hours",
            "{labour_hours_per_week} = {feedings_per_week} × ({setup_hours} + {hours_per_feeding} × lane ÷ 8 ft) +"
            " {hours_per_slice} × feet sliced + castings ÷ {screened_per_hour}",
            "arithmetic; times: common practice, no source",
        ),
        Step("Their cost", "{labour_cost_per_week} = {labour_hours_per_week} × {wage}", "arithmetic"),
    ]


def _row(v: View, stage: str, length: float) -> tuple[float | str, ...]:
    """One stage: what a lane of this length gives, and what it takes."""
    share = length / v.lane_length
    raw = v.castings_raw_per_week * share
    hours = (v.setup_hours, v.hours_per_feeding, v.hours_per_slice, v.screened_per_hour)
    found = needs(
        raw,
        v.lane_width,
        v.bed_height,
        v.stocking_density,
        v.ration * activity(v.bed_temperature) * crowding(v.stocking_density),
        v.volume_kept,
        v.feed_bulk_density,
        v.water_per_area_per_day,
        raw * v.castings_bulk_density,
        v.feedings_per_week,
        hours,
    )
    sold = raw * v.screen_product_share
    return (stage, length, found.worms, found.feed, sold, found.hours, found.hours / sold)


def _stages(v: View) -> list[tuple[float | str, ...]]:
    named = [
        ("Learn: one short lane", 8 * FOOT),
        ("Prove: two seasons of it", 16 * FOOT),
        ("Grow", 40 * FOOT),
        ("Produce", 80 * FOOT),
    ]
    if all(abs(v.lane_length - length) > 0.02 * length for _, length in named):
        named.append(("Yours", v.lane_length))
    return sorted((_row(v, stage, length) for stage, length in named), key=lambda row: row[1])


def _curve(v: View) -> list[tuple[float | str, ...]]:
    shortest, longest = 4 * FOOT, max(80 * FOOT, v.lane_length)
    return [_row(v, "", shortest * (longest / shortest) ** (step / 40)) for step in range(41)]


def _warnings(v: View) -> list[tuple[str | None, str]]:
    found: list[tuple[str | None, str]] = []
    if over(v.stocking_density, facts.DENSE_STOCKING.typical):
        found.append(("stocking_density", f"{v['stocking_density']} is crowded: few beds keep it up for a year."))
    if v.labour_hours_per_week > 50:
        found.append((None, f"{v.say(v.labour_hours_per_week, 'hour/week', digits=2)} is more than one person's week."))
    if v.bed_temperature < biology.SLOW_BELOW:
        found.append(
            (
                "bed_temperature",
                f"At {v['bed_temperature']} worms eat little: this needs many more worms than in summer.",
            )
        )
    return found
