"""What every page about a lane asks for, described once, and the plan that it makes of the answers.

A figure that changes the lane is asked on each of these pages, else two of them would speak of different lanes.
"""

import functools
import inspect
from collections.abc import Callable, Collection, Mapping
from dataclasses import fields, replace
from typing import Annotated, Any, TypeVar, get_args

from calc.climate.drying import sale_days
from calc.climate.season import season
from calc.engine import FOOT, INCH, Number, Refused, Share, Trace
from calc.facts import biology, harvest
from calc.facts import lane as facts
from calc.inputs import (
    BED_HEIGHT,
    CLIMATE,
    FED_ON,
    FEED_BULK_DENSITY,
    FEED_MOISTURE,
    FULL_STOCKING,
    LANE_LENGTH,
    LANE_WIDTH,
    START_DATE,
    WORM_MASS,
    YEAR,
    BedHeight,
    CastingsBulkDensity,
    ClimateChoice,
    FaceSlope,
    FedOn,
    FeedAvailable,
    FeedBulkDensity,
    FeedMoisture,
    FloorLength,
    FullStocking,
    LaneLength,
    LaneTemperature,
    LaneWidth,
    MonthlyMeans,
    Ration,
    StartDate,
    VolumeKept,
    WormMass,
    YearChoice,
)
from calc.lane.model import LanePlan

A = TypeVar("A")

BaseDepth = Annotated[
    float,
    Number(
        "m",
        "Depth of the base",
        0.02,
        1,
        us="in",
        metric="cm",
        spread=(0.2032, 0.3556),
        help="Compost that the worms live in before they are fed. It is sliced first, at this depth.",
    ),
]
BASE_DEPTH = 12 * INCH
CompostDensity = Annotated[
    float,
    Number(
        "kg/m3",
        "Bulk density of the compost",
        200,
        1300,
        fact=facts.COMPOST_DENSITY,
        help=(
            "Weigh a full bucket, less its own weight: pounds in 5 gallons × 40.4 are lb/yd³, kilograms in 10"
            " litres × 100 are kg/m³."
        ),
        group="The base",
    ),
]
BaseMoisture = Annotated[
    float, Share("Moisture of the compost", 0, 0.95, spread=(0.45, 0.65), help="As delivered.", group="The base")
]
BASE_MOISTURE = 0.55
TargetMoisture = Annotated[
    float,
    Share(
        "Moisture wanted",
        0.3,
        0.95,
        spread=(0.65, 0.73),
        help="65–75 % before the worms go in, as far as its pores hold it and still breathe.",
        group="The base",
    ),
]
TARGET_MOISTURE = 0.70
Cover = Annotated[
    float,
    Number(
        "m2 K/W",
        "Resistance of the cover",
        0,
        10,
        help=(
            "It lies on the bed while the air is under 50 °F (10 °C). Bare 0; 4 in (10 cm) of dry straw about 1.4 m²K/W"
            " (R-8); the same wet about 0.3 (R-2)."
        ),
        group="The season",
    ),
]
LayerThickness = Annotated[
    float,
    Number(
        "m",
        "Thickness of a layer",
        0.005,
        0.3,
        us="in",
        metric="cm",
        fact=facts.LAYER,
        help="Measured square to the face. The first ones are thinner.",
    ),
]
LAYER_THICKNESS = 2 * INCH
SliceLength = Annotated[
    float,
    Number(
        "m", "Length of a slice", 0.05, 3, us="in", metric="cm", help="Cut off the back, the full width and height."
    ),
]
SLICE_LENGTH = FOOT
Gap = Annotated[
    float,
    Number(
        "m",
        "Gap behind the face",
        0.2,
        4,
        fact=facts.GAP,
        help="How far the face must have moved on before a slice is nearly free of worms.",
    ),
]
SafeInterval = Annotated[
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
]
DryMatterKept = Annotated[
    float,
    Share(
        "Dry matter left as castings",
        0.1,
        1,
        fact=biology.DRY_MATTER_KEPT,
        help="The rest is breathed off.",
        group="Feed and castings",
    ),
]
CastingsMoisture = Annotated[
    float,
    Share(
        "Moisture of castings as sliced",
        0.2,
        0.9,
        fact=facts.CASTINGS_MOISTURE,
        help="Of the whole weight.",
        group="Feed and castings",
    ),
]
HERD = "What the herd does"
Capacity = Annotated[
    float,
    Number(
        "kg/m2",
        "Crowding at which breeding stops",
        1,
        40,
        us="lb/ft2",
        fact=biology.CAPACITY,
        help="Laying falls in a straight line to nothing there.",
        group=HERD,
    ),
]
HarvestPerWeek = Annotated[
    float, Number("kg/week", "Worms taken out", 0, 1000, help="Sold, moved or given away each week.", group=HERD)
]
CocoonsPerDay = Annotated[
    float | None,
    Number(
        "1/day",
        "Cocoons a worm a day",
        0.001,
        1.5,
        fact=biology.BED_COCOONS_PER_DAY,
        help="Blank: follows the bed temperature.",
        optional=True,
        group=HERD,
    ),
]
HatchShare = Annotated[
    float | None,
    Share("Cocoons that hatch", 0, 1, help="Blank: 83 %.", optional=True, fact=biology.HATCH_SHARE, group=HERD),
]
HatchlingsPerCocoon = Annotated[
    float | None,
    Number(
        "1",
        "Young from a cocoon that hatches",
        0.1,
        12,
        help="Blank: 2.7.",
        optional=True,
        fact=biology.HATCHLINGS,
        group=HERD,
    ),
]
Survival = Annotated[
    float | None,
    Share(
        "Young that live to breed",
        0.01,
        1,
        help="Blank: 30 %. No bed trial was found; this is the least known figure of all.",
        optional=True,
        fact=biology.JUVENILE_SURVIVAL,
        group=HERD,
    ),
]
IncubationDays = Annotated[
    float | None,
    Number(
        "day",
        "Days from laying to hatching",
        5,
        200,
        help="Blank: follows the bed temperature.",
        optional=True,
        group=HERD,
    ),
]
MaturingDays = Annotated[
    float | None,
    Number(
        "day",
        "Days from hatching to breeding",
        10,
        400,
        help="Blank: follows the bed temperature.",
        optional=True,
        group=HERD,
    ),
]
AdultMortality = Annotated[
    float | None,
    Number(
        "1/day",
        "Adults that die in a day",
        0,
        0.2,
        us="%/day",
        metric="%/day",
        help="Blank: 0.7 %.",
        optional=True,
        fact=biology.ADULT_MORTALITY,
        group=HERD,
    ),
]
WaterPerArea = Annotated[
    float,
    Number(
        "kg/m2 day",
        "Water for each area a day",
        0,
        30,
        us="lb/ft2 day",
        fact=facts.WATER_PER_AREA,
        help="Growers' habit on a day of 68 °F (20 °C); the page on watering works yours out from the weather. 1 kg/m²"
        " is 1 mm, or a litre on each square metre; 1 lb/ft² is 12 gallons on 100 ft².",
        group="Work and water",
    ),
]

BaseWait = Annotated[
    float,
    Number(
        "day",
        "Days the base lies before the worms",
        0,
        90,
        fact=facts.BASE_WAIT,
        help="Filled and watered. It must be cool all through.",
    ),
]
"""Of pages that give dates before the worms come; it changes no lane."""

ScreenedDensity = Annotated[
    float,
    replace(get_args(CastingsBulkDensity)[1], group="Feed and castings"),
]
"""Bulk density of the castings, in the fold of what is fed and what comes of it."""


def lane_form(
    lane_length: LaneLength = LANE_LENGTH,
    lane_width: LaneWidth = LANE_WIDTH,
    bed_height: BedHeight = BED_HEIGHT,
    base_depth: BaseDepth = BASE_DEPTH,
    worm_mass: WormMass = WORM_MASS,
    full_stocking: FullStocking = FULL_STOCKING,
    fed_on: FedOn = FED_ON,
    floor_length: FloorLength = None,
    feed_available_per_week: FeedAvailable = None,
    start_date: StartDate = START_DATE,
    climate: ClimateChoice = CLIMATE,
    year: YearChoice = YEAR,
    monthly_temperature: MonthlyMeans = None,
    bed_temperature: LaneTemperature = None,
    cover_resistance: Cover = 0.0,
    face_slope: FaceSlope = 45.0,
    layer_thickness: LayerThickness = LAYER_THICKNESS,
    gap: Gap = facts.GAP.typical,
    slice_length: SliceLength = SLICE_LENGTH,
    compost_bulk_density: CompostDensity = facts.COMPOST_DENSITY.typical,
    base_moisture: BaseMoisture = BASE_MOISTURE,
    target_moisture: TargetMoisture = TARGET_MOISTURE,
    ration: Ration = biology.RATION.typical,
    feed_bulk_density: FeedBulkDensity = FEED_BULK_DENSITY,
    feed_moisture: FeedMoisture = FEED_MOISTURE,
    volume_kept: VolumeKept = biology.VOLUME_KEPT.typical,
    dry_matter_kept: DryMatterKept = biology.DRY_MATTER_KEPT.typical,
    castings_moisture: CastingsMoisture = facts.CASTINGS_MOISTURE.typical,
    safe_interval: SafeInterval = facts.SAFE_INTERVAL.typical,
    capacity: Capacity = biology.CAPACITY.typical,
    harvest_per_week: HarvestPerWeek = 0.0,
    cocoons_per_worm_per_day: CocoonsPerDay = None,
    hatch_share: HatchShare = None,
    hatchlings_per_cocoon: HatchlingsPerCocoon = None,
    survival: Survival = None,
    incubation_days: IncubationDays = None,
    maturing_days: MaturingDays = None,
    adult_mortality_per_day: AdultMortality = None,
    water_per_area_per_day: WaterPerArea = facts.WATER_PER_AREA.typical,
) -> None:
    """The form that pages about one lane share; only its parameters are used."""


GROUPS = {
    "The lane": (
        "lane_length",
        "lane_width",
        "bed_height",
        "base_depth",
        "worm_mass",
        "full_stocking",
        "fed_on",
        "floor_length",
        "feed_available_per_week",
        "face_slope",
        "layer_thickness",
        "gap",
        "slice_length",
    ),
    "The season": ("start_date", "climate", "year", "monthly_temperature", "bed_temperature"),
    "Feed and castings": ("feed_moisture",),
}
"""Fold in which an input stands where a page does not ask for it itself; those that are not named say so themselves."""

RATES = {
    "cocoons_per_worm_per_day": "cocoons_per_day",
    "hatch_share": "hatch_share",
    "hatchlings_per_cocoon": "hatchlings",
    "survival": "survival",
    "incubation_days": "incubation_days",
    "maturing_days": "maturing_days",
    "adult_mortality_per_day": "mortality",
}
"""{input: name of the rate in calc.lane.stages.rates} of what a reader may know of the herd."""


def known_rates(given: Mapping[str, Any]) -> dict[str, float]:
    """Rates of the herd that the reader gave."""
    return {rate: given[name] for name, rate in RATES.items() if given.get(name) is not None}


FollowedLane = Annotated[LanePlan, Trace("The lane that was followed, with all that was asked of it")]

_PLAN_FIELDS = {field.name for field in fields(LanePlan)}


def _in_group(parameter: inspect.Parameter) -> inspect.Parameter:
    """A shared input, in its fold."""
    group = next((group for group, names in GROUPS.items() if parameter.name in names), None)
    if group is None:
        return parameter
    kind, described = get_args(parameter.annotation)
    return parameter.replace(annotation=Annotated[kind, replace(described, group=group)])


def asks_for_a_lane(function: Callable[..., A], without: Collection[str] = ()) -> Callable[..., A]:
    """Let a calculator ask for all that makes a lane. What its function names itself stands first and as it is
    described there.

    Under @calculator. The function takes the rest as keywords (`**lane`); its keyword-only inputs stand last. without:
    names of
    inputs that it does not ask for, because its answer does not hang on them.
    """
    own = inspect.signature(function)
    named = [p for p in own.parameters.values() if p.kind is inspect.Parameter.POSITIONAL_OR_KEYWORD]
    last = [p for p in own.parameters.values() if p.kind is inspect.Parameter.KEYWORD_ONLY]
    taken = {parameter.name for parameter in [*named, *last]}
    shared = [
        _in_group(parameter)
        for parameter in inspect.signature(lane_form).parameters.values()
        if parameter.name not in taken and parameter.name not in without
    ]
    defaults = {parameter.name: parameter.default for parameter in shared}

    @functools.wraps(function)
    def widened(*args: Any, **values: Any) -> A:
        return function(*args, **{**defaults, **values})

    widened.__signature__ = own.replace(parameters=[*named, *shared, *last])  # type: ignore[attr-defined]
    return widened


def lane_plan(given: Mapping[str, Any], **more: Any) -> LanePlan:
    """The plan of a lane from what a form gave; what the form does not ask stays as LanePlan has it.

    Raises Refused where no lane can be: castings with more ash than dry matter is left, and the like.
    """
    known = {name: value for name, value in given.items() if name in _PLAN_FIELDS}
    known = {"bed_temperature": None} | known | {"known": tuple(known_rates(given).items()), **more}
    if known.get("bed_temperature") is None:
        known["season"] = season(given["climate"], given.get("monthly_temperature"), given.get("year", "usual"))
    plan = LanePlan(**known)
    if plan.season is not None:
        means = plan.season.monthly_means
        dried = sale_days(given["climate"], means, plan.castings_moisture, plan.screening_moisture)
        plan = replace(plan, sale_days=dried)
    check_ash(plan)
    return plan.on_floor()


def check_ash(plan: LanePlan) -> None:
    """Refused, where castings had more ash than dry matter is left."""
    if plan.dry_matter_kept < plan.feed_ash:
        least = f"{100 * plan.feed_ash:.0f} %"
        raise Refused(
            [
                (
                    "dry_matter_kept",
                    f"Ash is not breathed off: at least {least} of the dry matter is left, its ash"
                    f" ({harvest.ASH_BEFORE.label.lower()}).",
                )
            ]
        )
