"""The first lane: its size, what goes into it, what it costs, and when the first slice comes off."""

from bisect import bisect_left
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import timedelta
from functools import lru_cache
from itertools import accumulate
from math import ceil
from typing import Annotated, Any

from calc.biology import activity, crowding
from calc.engine import (
    FOOT,
    INCH,
    Answer,
    Band,
    Column,
    Count,
    Event,
    Number,
    Output,
    Share,
    Show,
    Step,
    Table,
    View,
    calculator,
    over,
    presents,
)
from calc.facts import biology, moisture
from calc.facts import lane as facts
from calc.inputs import (
    BED_HEIGHT,
    BED_TEMPERATURE,
    FEED_BULK_DENSITY,
    FULL_STOCKING,
    LANE_LENGTH,
    LANE_WIDTH,
    START_DATE,
    WORM_MASS,
    WORM_PRICE,
    BedHeight,
    BedTemperature,
    CalendarName,
    FeedBulkDensity,
    FullStocking,
    LaneLength,
    LaneWidth,
    Ration,
    StartDate,
    VolumeKept,
    WormMass,
    WormPrice,
)
from calc.lane import drawing
from calc.lane.herd import HORIZON, cases, days_band, followed
from calc.moisture.adjust import water_to_add

SHEET_LENGTH, SHEET_WIDTH = 8 * FOOT, 4 * FOOT
KERF = INCH / 8
"""Width of a saw cut [m]; common practice, no source."""


@dataclass(frozen=True)
class Starter(Answer):
    startup_cost: Annotated[
        float, Output("money", "Start-up cost", "Worms, compost, boards, shade, tools and a reserve.", main=True)
    ]
    budget_left: Annotated[float, Output("money", "Left of the budget", "Below zero: over budget.")]
    base_volume: Annotated[float, Output("m3", "Compost for the base", "Finished, cool, smelling of earth.", main=True)]
    feed_per_day: Annotated[
        Band,
        Output(
            "kg/day",
            "Feed at the start",
            "Fresh weight a day. Start at half of it, and let the worms show you.",
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
            "The herd grows meanwhile and eats more each week.",
            ranged=True,
            main=True,
            digits=2,
        ),
    ]
    days_to_full_stocking: Annotated[
        Band | None,
        Output(
            "day",
            "Days until the bed is full of worms",
            "If none are sold; the page on the herd shows why.",
            ranged=True,
            digits=2,
        ),
    ]
    feed_per_week: Annotated[Band, Output("kg/week", "Feed in the first weeks, a week", "", ranged=True, digits=2)]
    bed_area: Annotated[float, Output("m2", "Bed area", "Length times width.")]
    base_mass: Annotated[
        float, Output("kg", "Weight of the base", "As delivered. A cubic yard is a small trailer full.")
    ]
    base_water_to_add: Annotated[
        float,
        Output(
            "kg",
            "Water for the base",
            "Sprinkled in over two days, before the worms. A gallon weighs 8.3 lb, a litre a kilogram.",
        ),
    ]
    stocking_density: Annotated[float, Output("kg/m2", "Worms on the bed", "At the start.", us="lb/ft2")]
    stocking_share: Annotated[float, Output("1", "Of a full bed", "", us="%", metric="%", digits=2)]


@calculator(
    "lane.starter",
    "How big should the first lane be, what goes into it, and what will it cost?",
    leads={
        "lane.feeding": {},
        "lane.year": {"days_to_first_slice": "days_to_first_slice"},
        "moisture.adjust": {
            "mass": "base_mass",
            "moisture": "base_moisture",
            "target": "target_moisture",
            "area": "bed_area",
        },
        "lane.herd": {"bed_area": "bed_area"},
        "economics.cash": {"startup_cost": "startup_cost", "opening_cash": "budget"},
    },
)
def starter(
    lane_length: LaneLength = LANE_LENGTH,
    lane_width: LaneWidth = LANE_WIDTH,
    worm_mass: WormMass = WORM_MASS,
    base_depth: Annotated[
        float,
        Number(
            "m",
            "Depth of the base",
            0.02,
            1,
            us="in",
            metric="cm",
            spread=(0.2032, 0.3556),
            help="Compost that the worms live in before they are fed.",
        ),
    ] = 12 * INCH,
    bed_temperature: BedTemperature = BED_TEMPERATURE,
    bed_height: BedHeight = BED_HEIGHT,
    budget: Annotated[
        float, Number("money", "Your budget", 0, 1e7, help="What you can spend before anything comes back.")
    ] = 1000.0,
    start_date: StartDate = START_DATE,
    full_stocking: FullStocking = FULL_STOCKING,
    compost_bulk_density: Annotated[
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
    ] = facts.COMPOST_DENSITY.typical,
    base_moisture: Annotated[
        float, Share("Moisture of the compost", 0, 0.95, spread=(0.45, 0.65), help="As delivered.", group="The base")
    ] = 0.55,
    target_moisture: Annotated[
        float,
        Share(
            "Moisture wanted", 0.3, 0.95, spread=(0.70, 0.80), help="70–80 % before the worms go in.", group="The base"
        ),
    ] = 0.75,
    worm_price: WormPrice = WORM_PRICE,
    compost_price: Annotated[
        float,
        Number(
            "money/m3",
            "Price of compost",
            0,
            1000,
            fact=facts.COMPOST_PRICE,
            help="Delivered. Invented for the demo farm.",
            group="Prices",
        ),
    ] = facts.COMPOST_PRICE.typical,
    sheets: Annotated[
        int,
        Count(
            "1",
            "Sheets for the sides",
            0,
            200,
            help="Of 4 by 8 ft (1.22 by 2.44 m). The cut list below says how many are needed.",
            group="Prices",
        ),
    ] = 2,
    sheet_price: Annotated[
        float,
        Number(
            "money",
            "Price of a sheet",
            0,
            1000,
            fact=facts.SHEET_PRICE,
            help="Invented for the demo farm.",
            group="Prices",
        ),
    ] = facts.SHEET_PRICE.typical,
    shade_price: Annotated[
        float,
        Number(
            "money/m2",
            "Shade and frame, by bed area",
            0,
            500,
            fact=facts.SHADE_PRICE,
            help="Invented for the demo farm.",
            group="Prices",
        ),
    ] = facts.SHADE_PRICE.typical,
    tools_cost: Annotated[
        float,
        Number(
            "money",
            "Tools",
            0,
            1e5,
            fact=facts.TOOLS_COST,
            help="Hose with a rose, fork, thermometer, scale, buckets.",
            group="Prices",
        ),
    ] = facts.TOOLS_COST.typical,
    contingency: Annotated[
        float, Share("Reserve on top", 0, 1, spread=(0.05, 0.2), help="For what was forgotten.", group="Prices")
    ] = 0.10,
    ration: Ration = biology.RATION.typical,
    feed_bulk_density: FeedBulkDensity = FEED_BULK_DENSITY,
    volume_kept: VolumeKept = biology.VOLUME_KEPT.typical,
    calendar_name: CalendarName = None,
) -> Starter:
    """Size, contents, cost and first dates of a starter lane.

    Lengths [m], masses [kg], densities [kg/m³], full_stocking [kg/m²], prices [money], shares [-].
    The first slice comes when what the growing herd has eaten, at volume_kept, has moved the face a slice and the gap
    on.
    Sources: geometry; moisture balance (Richard & Trautmann 1996); ration Ndegwa et al. 2000; herd as lane.herd.
    """
    area = lane_length * lane_width
    base_volume = area * base_depth
    base_mass = base_volume * compost_bulk_density
    density = worm_mass / area
    pace = activity(bed_temperature)
    feed = Band(ration, min(ration, biology.RATION.low), max(ration, biology.RATION.high)).times(
        worm_mass * pace * crowding(density)
    )
    herd_in_bed = (worm_mass, bed_temperature, area, biology.CAPACITY.typical)
    curves = followed(full_stocking * area, *herd_in_bed)
    face = (ration * pace, feed_bulk_density, volume_kept, lane_width * bed_height)
    slice_due = first_slice(eaten(*herd_in_bed, len(curves[0]) - 1), *face)
    if slice_due is None or slice_due.high == HORIZON:
        slice_due = first_slice(eaten(*herd_in_bed, HORIZON), *face)
    lines = cost_lines(locals(), area, base_volume)
    cost = sum(amount for *_, amount in lines) * (1 + contingency)
    return Starter(
        startup_cost=cost,
        budget_left=budget - cost,
        base_volume=base_volume,
        feed_per_day=feed,
        days_to_first_slice=slice_due,
        days_to_full_stocking=days_band(curves, full_stocking * area),
        feed_per_week=feed.times(7),
        bed_area=area,
        base_mass=base_mass,
        base_water_to_add=max(0.0, water_to_add(base_mass, base_moisture, target_moisture)),
        stocking_density=density,
        stocking_share=density / full_stocking,
    )


@lru_cache(maxsize=16)
def eaten(
    worm_mass: float, temperature: float, area: float, capacity: int, days: int
) -> tuple[list[float], list[float], list[float]]:
    """What a herd has eaten by the end of each day, as if its ration were one [kg day/day], in the slow, typical and
    fast case. Crowded worms eat less.

    Kept, because only the ration and the face differ from draw to draw.
    """
    low, middle, high = (
        list(accumulate(weight * crowding(weight / area) for weight in curve))
        for curve in cases(worm_mass, temperature, area, capacity, days)
    )
    return low, middle, high


def first_slice(
    eaten_by_day: tuple[Sequence[float], Sequence[float], Sequence[float]],
    ration: float,
    feed_bulk_density: float,
    volume_kept: float,
    cross_section: float,
) -> Band | None:
    """Band of days until the face has moved one foot and the gap on, fed by a growing herd; None when it never does.

    eaten_by_day: see eaten, slow, typical, fast; ration [kg/kg/day] at this temperature; cross_section [m²].
    What is eaten moves the face by volume_kept × feed ÷ density ÷ cross-section: the slope drops out.
    """
    needed = (FOOT + facts.GAP.typical) * cross_section * feed_bulk_density / volume_kept
    found = []
    for sums, share in zip(
        eaten_by_day, (biology.RATION.low / biology.RATION.typical, 1.0, biology.RATION.high / biology.RATION.typical)
    ):
        day = bisect_left(sums, needed / (ration * share)) if ration > 0 else len(sums)
        found.append(float(day + 1) if day < len(sums) else None)
    slow, middle, fast = found
    if middle is None:
        return None
    return Band(middle, min(fast or middle, middle), float(HORIZON) if slow is None else max(slow, middle))


def cost_lines(given: Mapping[str, Any], area: float, base_volume: float) -> list[tuple[str, float, str, float]]:
    """[(what, quantity in words' unit, unit, amount of money)] of the list to buy."""
    return [
        ("Worms", given["worm_mass"], "kg", given["worm_mass"] * given["worm_price"]),
        ("Compost for the base", base_volume, "m3", base_volume * given["compost_price"]),
        ("Sheets for the sides", given["sheets"], "1", given["sheets"] * given["sheet_price"]),
        ("Shade and frame", area, "m2", area * given["shade_price"]),
        ("Tools", 1, "1", given["tools_cost"]),
    ]


def cut_list(lane_length: float, lane_width: float) -> list[tuple[int, str, float, float]]:
    """[(sheet number, part, length [m], height [m])]: two sides and a back from sheets ripped in two, each saw cut
    counted.

    What is longer than a sheet is joined, from even pieces, or from whole sheets and a rest where that takes fewer
    sheets.
    """
    sides = (("long side", lane_length), ("long side", lane_length), ("back", lane_width))
    ways = [
        placed([board for part, length in sides for board in pieces(part, length, whole)]) for whole in (False, True)
    ]
    return min(ways, key=lambda cuts: cuts[-1][0])


def pieces(part: str, length: float, whole: bool) -> list[tuple[str, float]]:
    """[(part, length)] of a side that is as long as a sheet or longer [m]: whole lengths of a sheet and the rest, or
    even pieces.
    """
    count = ceil(length / SHEET_LENGTH - 1e-9)
    if count == 1:
        return [(part, length)]
    lengths = (
        [SHEET_LENGTH] * (count - 1) + [length - SHEET_LENGTH * (count - 1)] if whole else [length / count] * count
    )
    return [(f"{part}, part", piece) for piece in lengths]


def placed(boards: Sequence[tuple[str, float]]) -> list[tuple[int, str, float, float]]:
    """Boards on sheets, as cut_list gives them: longest first, each into the first strip of a sheet's length that has
    room.
    """
    height = (SHEET_WIDTH - KERF) / 2
    strips: list[float] = []
    found = []
    for part, length in sorted(boards, key=lambda board: -board[1]):
        for number, left in enumerate(strips):
            if length <= left + 1e-9:
                strips[number] = left - length - KERF
                break
        else:
            strips.append(SHEET_LENGTH - length - KERF)
            number = len(strips) - 1
        found.append((number // 2 + 1, part, length, height))
    return sorted(found, key=lambda board: board[0])


@presents(starter)
def show_starter(v: View) -> Show:
    cuts = cut_list(v.lane_length, v.lane_width)
    needed = max(sheet for sheet, *_ in cuts)
    return Show(
        working=_working(v),
        tables=[_costs(v), _cuts(cuts)],
        figures=[drawing.plan_and_section(v, (SHEET_WIDTH - KERF) / 2)],
        warnings=_warnings(v, needed),
        reading=_reading(v),
        events=_events(v),
        cautions=[
            (
                "Compost and boards are heavy: lift with your legs, in half loads, with help. Wet dusty compost before"
                " you shovel it."
            ),
            (
                "Sawing sheets: eyes and ears covered, the sheet supported on both sides of the cut, no treated or"
                " painted wood in contact with worms."
            ),
            (
                "Anchor a shade frame for the strongest wind you know, and take the cloth down in a storm. Ask whether"
                " your place needs a permit."
            ),
        ],
    )


def _working(v: View) -> list[Step]:
    return [
        Step("Bed area", "{bed_area} = {lane_length} × {lane_width}", "geometry"),
        Step(
            "Compost",
            "{base_volume} = {bed_area} × {base_depth}; {base_mass} = {base_volume} × {compost_bulk_density}",
            "geometry",
        ),
        Step(
            "Water for the base",
            "{base_water_to_add} = {base_mass} × ({target_moisture} − {base_moisture}) ÷ (1 − {target_moisture})",
            "Richard & Trautmann 1996, moisture balance",
        ),
        Step(
            "Stocking",
            "{stocking_density} = {worm_mass} ÷ {bed_area}; {stocking_share} = {stocking_density} ÷ {full_stocking}",
            "definition; 1 lb/ft²: NC State Extension",
        ),
        Step(
            "Feed",
            "{feed_per_day} = {worm_mass} × {ration} × {pace} × {room}",
            "Ndegwa et al. 2000; temperature Johnston et al. 2014 and Loehr et al. 1985; crowding Reeh 1992",
            values={
                "pace": ("pace at this temperature", f"{activity(v.bed_temperature):.2f}"),
                "room": ("share eaten at this stocking", f"{crowding(v.stocking_density):.2f}"),
            },
        ),
        Step(
            "Face",
            "a day's feed moves it by {volume_kept} × feed ÷ {feed_bulk_density} ÷ ({lane_width} × {bed_height})",
            "geometry; summed over the herd as it grows, which eats less as it gets crowded (Reeh 1992), until a foot"
            " and the gap of 3.5 ft (1.07 m) are done",
        ),
        Step(
            "Days",
            "{days_to_first_slice}: the first day on which the face has moved that far; {days_to_full_stocking}: the"
            " first on which the herd weighs {full_stocking} × {bed_area}",
            "herd followed day by day, as on the page about the herd",
        ),
        Step("Feed a week", "{feed_per_week} = {feed_per_day} × 7", "arithmetic"),
        Step(
            "Cost",
            "{startup_cost} = the list × (1 + {contingency}); {budget_left} = {budget} − {startup_cost}",
            "arithmetic; prices invented for the demo farm",
        ),
    ]


def _costs(v: View) -> Table:
    rows = [
        (what, v.say(quantity, unit) if unit != "1" else f"{quantity:g}", amount)
        for what, quantity, unit, amount in cost_lines({**v.given}, v.bed_area, v.base_volume)
    ]
    listed = sum(amount for *_, amount in rows)
    rows += [("Reserve", v["contingency"], listed * v.contingency), ("Together", "", v.startup_cost)]
    return Table(
        "costs",
        "What to buy",
        [Column("what", "What"), Column("quantity", "How much"), Column("cost", "Cost", "money")],
        rows,
        open=True,
    )


def _cuts(cuts: Sequence[tuple[int, str, float, float]]) -> Table:
    columns = [
        Column("sheet", "Sheet", "1"),
        Column("part", "Part"),
        Column("length", "Length", "m", us="in", metric="cm"),
        Column("height", "Height", "m", us="in", metric="cm", digits=4),
    ]
    return Table(
        "cuts",
        "Cut list from sheets of 4 by 8 ft (1.22 by 2.44 m)",
        columns,
        cuts,
        note="Each sheet is ripped in two first; a saw cut of ⅛ in (3 mm) is counted.",
    )


def _warnings(v: View, needed: int) -> list[tuple[str, str]]:
    found = []
    if over(facts.THIN_STOCKING.typical, v.stocking_density):
        found.append(
            (
                "worm_mass",
                (
                    f"{v['stocking_density']} is thin. The worms will not keep up with the feed at first: start with a"
                    " shorter lane or more worms (0.2 lb/ft², 1 kg/m², at least)."
                ),
            )
        )
    if over(v.stocking_density, facts.DENSE_STOCKING.typical):
        found.append(
            (
                "worm_mass",
                f"{v['stocking_density']} is crowded. Worms stop breeding and leave. Spread them over a longer lane.",
            )
        )
    if over(facts.SHALLOW_BASE.typical, v.base_depth):
        found.append(
            (
                "base_depth",
                (
                    f"A base of {v['base_depth']} dries out, overheats in the sun and freezes through. Make it 6 in (15"
                    " cm) at least, 12 in (30 cm) is better."
                ),
            )
        )
    if v.bed_temperature < biology.BAND_LOW.typical or v.bed_temperature > biology.BAND_HIGH.typical:
        found.append(
            (
                "bed_temperature",
                (
                    f"{v['bed_temperature']} is outside the worms' working band of 40 to 86 °F (4 to 30 °C). Wait, or"
                    " see the chapter on heat and frost."
                ),
            )
        )
    elif v.bed_temperature < biology.SLOW_BELOW:
        found.append(
            (
                "bed_temperature",
                (
                    f"At {v['bed_temperature']} worms eat little and hardly breed. Start when the bed is over 50 °F (10"
                    " °C), or be ready to wait."
                ),
            )
        )
    if v.budget_left < 0:
        found.append(
            (
                "budget",
                (
                    f"That is {v.money(-v.budget_left)} over budget. Worms are usually the largest line: fewer worms"
                    " and more patience cost least."
                ),
            )
        )
    if v.sheets < needed:
        found.append(("sheets", f"The cut list needs {needed} sheets."))
    if v.target_moisture < moisture.LIMITS.low:
        found.append(
            (
                "target_moisture",
                f"{v['target_moisture']} is too dry for worms. Bring the base to 70–80 % before they go in.",
            )
        )
    if v.base_moisture > v.target_moisture:
        found.append(
            (
                "base_moisture",
                (
                    f"The compost comes wetter than the {v['target_moisture']} you want. Add no water: mix in dry"
                    " bedding, or let it lie open under a roof first."
                ),
            )
        )
    return found


def _reading(v: View) -> list[str]:
    sentences = [
        (
            f"A lane of {v['lane_length']} by {v['lane_width']} takes {v['base_volume']} of compost and"
            f" {v['worm_mass']} of worms, and costs about {v['startup_cost']}."
        ),
        (
            f"The worms are {v['stocking_share']} of a full bed; at this temperature they eat nothing."
            if v.feed_per_day == 0
            else (
                f"The worms are {v['stocking_share']} of a full bed. Begin with about"
                f" {v.say(v.feed_per_day / 2, 'kg/day', digits=2)} of feed and go up to"
                f" {v.say(v.feed_per_day, 'kg/day', digits=2)} as it disappears."
            )
        ),
    ]
    if v.days_to_first_slice:
        band = v.band("days_to_first_slice")
        sentences.append(
            f"The first slice comes after about {v.days_to_first_slice / 30.4:.0f} months, between"
            f" {band.low / 30.4:.0f} and {band.high / 30.4:.0f}. Plan to live without income from it until then."
        )
    else:
        sentences.append("At this temperature no slice comes off within three years.")
    sentences.append(
        f"{v.money(v.budget_left)} of your budget is left."
        if v.budget_left >= 0
        else f"The budget is {v.money(-v.budget_left)} short."
    )
    return sentences


def _events(v: View) -> list[Event]:
    start = v.start_date
    events = [
        Event(
            start - timedelta(days=7),
            "Build the lane, fill and water the base",
            f"{v['base_volume']} of compost, {v['base_water_to_add']} of water over two days.",
        ),
        Event(
            start,
            "Worms go in",
            f"{v['worm_mass']}. Lay them on top in the evening, leave a light on the first night, do not feed.",
        ),
        Event(
            start + timedelta(days=3),
            "First feeding",
            f"A thin layer, {v.say(v.feed_per_day * 1.5, 'kg', digits=2)} at most. Wait until it is gone.",
        ),
    ]
    if v.days_to_first_slice:
        events.append(
            Event(
                start + timedelta(days=round(v.days_to_first_slice)),
                "First slice is about due",
                "Look for worms first.",
            )
        )
    return events
