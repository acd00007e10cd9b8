"""Inputs that several calculators ask for: one name, one meaning, one description, one default everywhere."""

from datetime import date
from typing import Annotated

from calc.engine import FOOT, GALLON, INCH, POUND, YARD3, Choice, Day, Number, Output, Series, Share, Text
from calc.facts import biology, climate

LaneLength = Annotated[float, Number("m", "Lane length", 0.3, 150, help="From the back board to the foot of the face.")]
LANE_LENGTH = 8 * FOOT
LaneWidth = Annotated[
    float,
    Number(
        "m",
        "Lane width",
        0.3,
        3.7,
        help="A width you can reach across from both sides: 4 ft (1.2 m), never over 8 ft (2.4 m).",
    ),
]
LANE_WIDTH = 4 * FOOT
BedHeight = Annotated[
    float, Number("m", "Bed height", 0.1, 1.5, us="in", metric="cm", help="From the ground to the top of the bed.")
]
BED_HEIGHT = 18 * INCH
BED_AREA = 32 * FOOT**2
LaneArea = Annotated[
    float | None,
    Number("m2", "Bed area", 0.05, 2000, optional=True, help="Blank: length times width of your lane."),
]
WateredArea = Annotated[float, Output("m2", "Bed area, as watered", "As typed, or length times width of your lane.")]
HerdArea = Annotated[
    float | None,
    Number(
        "m2",
        "Bed area where the worms live",
        0.05,
        2000,
        optional=True,
        help="Blank: the part of your lane behind its face, as wide as the face, as long as gap and foot.",
    ),
]
WormMass = Annotated[
    float, Number("kg", "Worms", 0.05, 5000, help="Live weight of the worms in the bed, bedding shaken off.")
]
WORM_MASS = 10 * POUND
FullStocking = Annotated[
    float,
    Number(
        "kg/m2",
        "Full stocking",
        0.5,
        20,
        us="lb/ft2",
        spread=(2.4, 7.3),
        help="Worms that a bed carries when it is full: about 1 lb on each square foot (5 kg/m²).",
        group="The bed",
    ),
]
FULL_STOCKING = 1 * POUND / FOOT**2
BedTemperature = Annotated[
    float, Number("degC", "Bed temperature", -5, 45, help="Taken 4 in (10 cm) deep, where the worms feed.")
]
BED_TEMPERATURE = 20.0
LaneTemperature = Annotated[
    float | None,
    Number(
        "degC",
        "Bed temperature",
        -5,
        45,
        optional=True,
        spread=(15, 25),
        help="Taken 4 in (10 cm) deep, where the worms feed. Blank: the season and the bed's own heat decide.",
    ),
]
FedOn = Annotated[
    str,
    Choice(
        "The lane is fed",
        {
            "end": "on its end: the face is as wide as the lane",
            "side": "along its side: the face is as long as the lane",
        },
        help="A face along the side takes more feed and has room for more worms; the lane then grows wider, not"
        " longer.",
    ),
]
FED_ON = "end"
FloorLength = Annotated[
    float | None,
    Number(
        "m",
        "Floor there is",
        0.5,
        300,
        optional=True,
        help=(
            "In the direction in which the face moves. Blank: as much as the lane needs. On a short floor the base is"
            " made"
            " shorter, so that the first slice comes off inside it."
        ),
    ),
]
FeedAvailable = Annotated[
    float | None,
    Number(
        "kg/week",
        "Feed you can get a week",
        0.1,
        100000,
        optional=True,
        help="Fresh weight. Blank: as much as the worms eat.",
    ),
]
ClimateChoice = Annotated[
    str,
    Choice(
        "Climate to start from",
        {"mild": "Mild and wet", "dry": "Hot and dry", "cold": "Cold winters, warm summers"},
        help=(
            "Invented; yours can be typed in. It gives the averages for what you leave blank, and the picture of the"
            " year."
        ),
    ),
]
CLIMATE = "mild"
MonthlyMeans = Annotated[
    tuple[float, ...] | None,
    Series(
        "degC",
        "Mean air temperature of each month",
        -50,
        45,
        length=12,
        optional=True,
        help="January first, in the shade, day and night together. Blank: the climate chosen.",
    ),
]
YearChoice = Annotated[
    str,
    Choice(
        "Kind of year",
        {key: kind.label for key, kind in climate.YEARS.items()},
        help=(
            "Against the monthly means: a cold spring is 5 °F (3 °C) colder from March to May, or from September"
            " in the south."
        ),
    ),
]
YEAR = "usual"
Altitude = Annotated[
    float,
    Number(
        "m", "Altitude", -430, 5000, metric="m", help="Height above the sea. Air is thinner higher up and dries faster."
    ),
]
ALTITUDE = 100.0
FeedBulkDensity = Annotated[
    float,
    Number(
        "kg/m3",
        "Bulk density of the feed",
        50,
        1200,
        spread=(400, 750),
        help="Weight of a measured volume, loose, as you feed it. A 5-gallon bucket holds 0.67 ft³ (19 L).",
        group="Feed and castings",
    ),
]
FEED_BULK_DENSITY = 1000 * POUND / YARD3
FeedMoisture = Annotated[
    float,
    Share(
        "Moisture of the feed",
        0.2,
        0.95,
        spread=(0.6, 0.8),
        help="Water as a share of the whole weight, as you weigh it: before it is watered on the face.",
    ),
]
FEED_MOISTURE = 0.70
Ration = Annotated[
    float,
    Number(
        "kg/kg day",
        "Ration at the best temperature",
        0.05,
        3,
        us="lb/lb day",
        fact=biology.RATION,
        help="Feed eaten a day by each pound (or kilogram) of worms at 77 °F (25 °C).",
        group="Feed and castings",
    ),
]
VolumeKept = Annotated[
    float,
    Share(
        "Volume left as castings",
        0.1,
        1,
        fact=biology.VOLUME_KEPT,
        help="What a bucket of feed becomes.",
        group="Feed and castings",
    ),
]
FaceSlope = Annotated[
    float,
    Number("deg", "Slope of the face", 10, 85, spread=(35, 55), help="From the ground. Moist feed holds about 45°."),
]
CastingsBulkDensity = Annotated[
    float,
    Number(
        "kg/m3",
        "Bulk density of the castings",
        200,
        1200,
        spread=(450, 800),
        help="Weight of a measured volume of screened castings, fresh.",
    ),
]
CASTINGS_BULK_DENSITY = 1000 * POUND / YARD3
Wage = Annotated[
    float,
    Number(
        "money/hour",
        "Value of an hour's work",
        0,
        1000,
        help="What you pay, or what your own hour is worth to you. Put 0 only if you mean it.",
    ),
]
WAGE = 18.0
WormPrice = Annotated[
    float,
    Number(
        "money/kg",
        "Price of worms",
        0,
        2000,
        help="For bedding-free worms, carriage included. Invented, as an example.",
        group="Prices",
    ),
]
WORM_PRICE = 35 / POUND
BagVolume = Annotated[
    float,
    Number(
        "m3",
        "Volume of a bag",
        0.0005,
        2,
        us="gal",
        metric="L",
        help="Inside volume of the bag, filled and settled by a few drops.",
    ),
]
BAG_VOLUME = 5 * GALLON
StartDate = Annotated[date, Day("Start date", help="The day the worms go in. Every date below is counted from it.")]
START_DATE = date(2027, 5, 1)
"""When a bed in the mild climate is over 50 °F (10 °C), as the handbook asks."""
CalendarName = Annotated[
    str | None,
    Text(
        "Name in your calendar",
        help="Such as Lane 1. It stands before each date, and keeps two of them apart.",
        optional=True,
        group="Calendar",
    ),
]
