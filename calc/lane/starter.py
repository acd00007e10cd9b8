"""The first lane: its size, what goes into it, what it costs, and when the first slice comes off."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, timedelta
from typing import Annotated, Any

from calc.biology import activity, crowding
from calc.climate import pores
from calc.engine import (
    DAYS_A_MONTH,
    NOTHING,
    Answer,
    Band,
    Column,
    Count,
    CurvePart,
    Event,
    Number,
    Output,
    Part,
    Share,
    Show,
    Step,
    Table,
    View,
    calculator,
    ends_wanted,
    over,
    presents,
    told_all,
)
from calc.engine.view import day_text
from calc.facts import biology, economics, moisture
from calc.facts import lane as facts
from calc.inputs import (
    CLIMATE,
    LANE_LENGTH,
    LANE_WIDTH,
    START_DATE,
    WORM_MASS,
    WORM_PRICE,
    YEAR,
    CalendarName,
    ClimateChoice,
    FeedAvailable,
    FloorLength,
    LaneLength,
    LaneTemperature,
    LaneWidth,
    StartDate,
    WormMass,
    WormPrice,
    YearChoice,
)
from calc.lane import drawing, propose, questions
from calc.lane.asked import BASE_DEPTH, BaseDepth, BaseWait, FollowedLane, asks_for_a_lane, lane_plan
from calc.lane.boards import KERF, SHEET_WIDTH, boards_of, sheets_for
from calc.lane.followed import days_part, laying_step, slice_equation, slice_parts, until, walking_step
from calc.lane.model import TYPICAL, LanePlan, first_castings_day, first_slice_day, follow, frozen_share

MORE = 1.25
"""How much more of each thing the table of what binds asks about."""


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
            "Fresh weight a day, at the bed temperature of the first feeding. Let the worms show you.",
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
    days_to_full_stocking: Annotated[
        Band | None,
        Output(
            "day",
            "Days until the bed is full of worms",
            "On the part where they live. If none are sold; the page on the herd shows why.",
            ranged=True,
            digits=2,
        ),
    ]
    feed_per_week: Annotated[Band, Output("kg/week", "Feed in the first weeks", "", ranged=True, digits=2)]
    bed_area: Annotated[float, Output("m2", "Bed area", "Length times width of the base.")]
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
    stocking_share: Annotated[
        float, Output("1", "Of what all of the base could carry", "", us="%", metric="%", digits=2)
    ]
    base_length: Annotated[
        float, Output("m", "Base, as long as it is made", "Your length, or what the floor leaves room for.")
    ]
    base_width: Annotated[float, Output("m", "Base, as wide as it is made", "")]
    floor_needed: Annotated[
        float,
        Output("m", "Floor needed", "The base, and what the face walks until the first slice, in the way it moves."),
    ]
    largest_area: Annotated[
        float,
        Output(
            "m2",
            "Bed, at its longest",
            "Before the first slice. Shade, rain sheet and straw must cover it.",
        ),
    ]
    air_space: Annotated[
        float, Output("1", "Air in the base, after its water", "Under 10 % it is mud.", us="%", metric="%", digits=2)
    ]
    first_feeding_mass: Annotated[
        float | None, Output("kg", "First feeding", "A thin layer on the base's own face.", digits=2)
    ]
    first_feeding_date: Annotated[date | None, Output("1", "First feeding, on", "The first day that the bed allows.")]
    first_slice_date: Annotated[date | None, Output("1", "First slice, about", "Look for worms first.")]
    first_slice_early: Annotated[date | None, Output("1", "First slice, at the earliest", "A fast herd on good feed.")]
    first_slice_late: Annotated[
        date | None, Output("1", "First slice, at the latest", "A slow herd. Three years from the start: later still.")
    ]
    days_to_first_castings: Annotated[
        float | None,
        Output(
            "day",
            "Days to the first castings made of feed",
            "When the base has been sliced off and the back is what you fed.",
            digits=2,
        ),
    ]
    face_capacity_per_week: Annotated[
        float, Output("kg/week", "Feed that the face takes in a week", "A layer, not sooner than the last is cool.")
    ]
    active_area: Annotated[
        float, Output("m2", "Bed that the worms live in", "Width of the face × (gap + foot of the face), in time.")
    ]
    starting_temperature: Annotated[
        float, Output("degC", "Bed at the first feeding", "Typed, or from the season and the bed's own heat.")
    ]
    worms_affordable: Annotated[
        float, Output("kg", "Worms that the budget pays for", "After all else on the list.", digits=2)
    ]
    base_water_volume: Annotated[
        float,
        Output("m3", "Water for the base, by the can", "As a hose or a can pours it.", us="gal", metric="L", digits=2),
    ]
    proposed_length: Annotated[
        float,
        Output(
            "m",
            "Proposed: length of the base",
            "As far as worms live behind a face, or as your floor allows.",
            digits=2,
        ),
    ]
    proposed_width: Annotated[float, Output("m", "Proposed: width of the base", "", digits=2)]
    proposed_faces: Annotated[
        int, Output("1", "Proposed: faces", "One, or as many as floor, feed and money allow. Each has its own base.")
    ]
    proposed_worms: Annotated[float, Output("kg", "Proposed: worms", "In all bases together.", digits=2)]
    proposed_cost: Annotated[float, Output("money", "Proposed: cost", "The same list, with its reserve.")]
    proposed_start: Annotated[
        date,
        Output("1", "Proposed: worms from", "The first month, and the next, whose mean is over 50 °F (10 °C)."),
    ]
    proposed_first_slice: Annotated[
        date | None, Output("1", "Proposed: first slice, about", "If the worms come on that day.")
    ]
    plan: FollowedLane = field(compare=False, repr=False)


@calculator(
    "lane.starter",
    "How big should the first lane be, what goes into it, and what will it cost?",
    samples=100,
    leads={
        "lane.feeding": {},
        "lane.year": {},
        "lane.ledger": {},
        "moisture.adjust": {
            "mass": "base_mass",
            "moisture": "base_moisture",
            "target": "target_moisture",
            "area": "bed_area",
        },
        "lane.herd": {},
        "economics.cash": {"startup_cost": "startup_cost", "opening_cash": "budget"},
    },
)
@told_all
@asks_for_a_lane
def starter(
    lane_length: LaneLength = LANE_LENGTH,
    lane_width: LaneWidth = LANE_WIDTH,
    worm_mass: WormMass = WORM_MASS,
    base_depth: BaseDepth = BASE_DEPTH,
    budget: Annotated[
        float, Number("money", "Your budget", 0, 1e7, help="What you can spend before anything comes back.")
    ] = 1000.0,
    start_date: StartDate = START_DATE,
    climate: ClimateChoice = CLIMATE,
    year: YearChoice = YEAR,
    bed_temperature: LaneTemperature = None,
    floor_length: FloorLength = None,
    feed_available_per_week: FeedAvailable = None,
    floor_width: Annotated[
        float | None,
        Number(
            "m",
            "Floor across the lanes",
            0.3,
            300,
            optional=True,
            help="For lanes side by side, with paths of 4 ft (1.2 m). Blank: not counted, one face.",
        ),
    ] = None,
    *,
    worm_price: WormPrice = WORM_PRICE,
    compost_price: Annotated[
        float,
        Number(
            "money/m3",
            "Price of compost",
            0,
            1000,
            fact=facts.COMPOST_PRICE,
            help="Delivered. Invented, as an example.",
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
            help="Of 4 by 8 ft (1.22 by 2.44 m). The cut list of the first lane says how many are needed.",
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
            help="Invented, as an example.",
            group="Prices",
        ),
    ] = facts.SHEET_PRICE.typical,
    shade_price: Annotated[
        float,
        Number(
            "money/m2",
            "Shade, frame and rain sheet",
            0,
            500,
            fact=facts.SHADE_PRICE,
            help="Counted for the lane at its longest, before the first slice. Invented, as an example.",
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
        float, Share("Reserve on top", 0, 1, fact=economics.CONTINGENCY, help="For what was forgotten.", group="Prices")
    ] = economics.CONTINGENCY.typical,
    base_wait: BaseWait = facts.BASE_WAIT.typical,
    calendar_name: CalendarName = None,
    asked: Mapping[str, Any] = NOTHING,
    **lane: Any,
) -> Starter:
    """Size, contents, cost and first dates of a starter lane.

    Lengths [m], masses [kg], densities [kg/m³], prices [money], shares [-]. Dates and feed from the lane followed day
    by day, the
    band from its slow and its fast case.
    Sources: geometry; moisture balance (Richard & Trautmann 1996); ration Ndegwa et al. 2000; the lane as in
    calc.lane.model.
    """
    plan = lane_plan(asked)
    base, density = plan.base, plan.worm_mass / plan.bed_area
    temperature = questions.feeding_temperature(plan)
    feed = questions.feed_at_start(plan, temperature)
    cost = cost_of(asked, plan)
    slice_due, castings_due = questions.first_slice(plan), questions.first_castings(plan)
    fed = questions.feeding_rows(plan)
    offer = propose.proposal(asked, plan)
    offered = questions.typical_day(offer.one_face, first_slice_day) if ends_wanted() else None  # no draw asks for it
    without_worms = cost - worm_mass * worm_price * (1 + contingency)
    return Starter(
        startup_cost=cost,
        budget_left=budget - cost,
        base_volume=base.volume,
        feed_per_day=feed,
        days_to_first_slice=slice_due,
        days_to_full_stocking=questions.full_bed(plan),
        feed_per_week=feed.times(7),
        bed_area=plan.bed_area,
        base_mass=base.mass,
        base_water_to_add=plan.base_water,
        stocking_density=density,
        stocking_share=density / plan.full_stocking,
        base_length=plan.lane_length,
        base_width=plan.lane_width,
        floor_needed=plan.floor_needed,
        largest_area=plan.largest_area,
        air_space=plan.air_space,
        first_feeding_mass=fed[0][2] if fed else None,
        first_feeding_date=fed[0][0] if fed else None,
        first_slice_date=questions.date_after(plan, None if slice_due is None else slice_due.value),
        first_slice_early=questions.date_after(plan, None if slice_due is None else slice_due.low),
        first_slice_late=questions.date_after(plan, None if slice_due is None else slice_due.high),
        days_to_first_castings=None if castings_due is None else castings_due.value,
        face_capacity_per_week=plan.face_capacity_per_week,
        active_area=plan.active_area,
        starting_temperature=temperature,
        worms_affordable=(
            max(0.0, budget - without_worms) / (worm_price * (1 + contingency)) if worm_price else worm_mass
        ),
        base_water_volume=plan.base_water / pores.WATER_DENSITY,
        proposed_length=offer.plan.lane_length,
        proposed_width=offer.plan.lane_width,
        proposed_faces=offer.faces,
        proposed_worms=offer.plan.worm_mass,
        proposed_cost=offer.cost,
        proposed_start=offer.plan.start_date,
        proposed_first_slice=questions.date_after(offer.plan, offered),
        plan=plan,
    )


def cost_lines(given: Mapping[str, Any], plan: LanePlan) -> list[tuple[str, float, str, float]]:
    """[(what, quantity in words' unit, unit, amount of money)] of the list to buy."""
    return [
        ("Worms", given["worm_mass"], "kg", given["worm_mass"] * given["worm_price"]),
        ("Compost for the base", plan.base.volume, "m3", plan.base.volume * given["compost_price"]),
        ("Sheets for the sides", given["sheets"], "1", given["sheets"] * given["sheet_price"]),
        ("Shade, frame and rain sheet", plan.largest_area, "m2", plan.largest_area * given["shade_price"]),
        ("Tools", 1, "1", given["tools_cost"]),
    ]


def cost_of(given: Mapping[str, Any], plan: LanePlan) -> float:
    """The list to buy, with its reserve [money]."""
    return float(sum(amount for *_, amount in cost_lines(given, plan)) * (1 + given["contingency"]))


@presents(starter)
def show_starter(v: View) -> Show:
    plan = v.plan
    cuts, needed = boards_of(plan), sheets_for(plan)
    return Show(
        working=_working(v),
        tables=[
            _costs(v, plan),
            _limits(v, plan),
            _proposal(v, plan),
            feedings_table(plan),
            months_table(plan),
            _cuts(cuts),
        ],
        figures=[
            drawing.plan_and_section(v, (SHEET_WIDTH - KERF) / 2),
            drawing.cut_plan(v, cuts),
        ],
        warnings=_warnings(v, plan, needed),
        reading=_reading(v, plan),
        events=_events(v, plan),
    )


def _floor_step(plan: LanePlan, walks: str) -> Step:
    """Base, slice and gap; on a base shorter than the foot of the full face, what is missing to it too."""
    equation = f"{{floor_needed}} = {{{walks}}} + {{slice_length}} + {{gap}}"
    if plan.foot <= plan.base_length:
        return Step("Floor", equation, "geometry")
    missing = f" + {{foot}} − {{{walks}}}"
    return Step("Floor", equation + missing, "geometry", values={"foot": Part("foot of the full face", plan.foot, "m")})


def _working(v: View) -> list[Step]:
    walks, across = ("base_width", "base_length") if v.fed_on == "side" else ("base_length", "base_width")
    plan = v.plan
    days = questions.cases(plan)[TYPICAL]
    slice_due = v.results["days_to_first_slice"]
    used = slice_parts(plan, days) | {
        "soonest": Part("days in the fast case", None if slice_due is None else slice_due.low, "day", digits=3),
        "latest": Part("days in the slow case", None if slice_due is None else slice_due.high, "day", digits=3),
    }
    full = v.results["days_to_full_stocking"]
    full_days = until(
        questions.cases(
            plan, lambda lane: questions.day_of_weight(lane, lambda day: plan.full_stocking * day.active_area)
        )[TYPICAL],
        None if full is None else full.value,
    )
    return [
        Step(
            "The base",
            "{bed_area} = {base_length} × {base_width}",
            "geometry",
            "Length and width as you set them, or as long as the floor leaves room for.",
        ),
        Step(
            "Compost",
            "{base_volume} = {bed_area} × {base_depth}; {base_mass} = {base_volume} × {compost_bulk_density}",
            "geometry",
        ),
        Step(
            "Water for the base",
            "{base_water_to_add} = {base_mass} × ({wetted} − {base_moisture}) ÷ (1 − {wetted})",
            "Richard & Trautmann 1996, moisture balance; as far as a tenth of the pores keeps its air",
            values={"wetted": Part("moisture it gets", v.plan.wetted_moisture, "1", "%", "%")},
        ),
        Step(
            "Air",
            "{wet_density} = {compost_bulk_density} × (1 − {base_moisture}) ÷ (1 − {wetted}); {air_space} = 1 −"
            " {wet_density} × ((1 − {wetted}) ÷ {solids} + {wetted} ÷ {of_water})",
            "solids, water and air add up; densities of solids EN 13041",
            values={
                "wetted": Part("moisture it gets", plan.wetted_moisture, "1", "%", "%"),
                "wet_density": Part(
                    "density when wetted",
                    pores.at_moisture(plan.compost_bulk_density, plan.base_moisture, plan.wetted_moisture),
                    "kg/m3",
                ),
                "solids": Part("density of its solids", pores.particle_density(plan.base_ash), "kg/m3"),
                "of_water": Part("density of water", 1000.0, "kg/m3"),
            },
        ),
        Step(
            "Stocking",
            "{stocking_density} = {worm_mass} ÷ {bed_area}; {stocking_share} = {stocking_density} ÷ {full_stocking}",
            "definition; 1 lb/ft²: Sherman, NC State Extension",
        ),
        Step(
            "Where the worms live, in time",
            f"{{active_area}} = {{{across}}} × ({{gap}} + {{bed_height}} ÷ tan {{face_slope}})",
            "geometry; that they gather behind the face while it moves the gap on is what the gap means",
        ),
        Step(
            "Feed",
            "{pace} = {rate} at {starting_temperature}; {feed_per_day} = the smaller of {worm_mass} × {ration} × {pace}"
            " × {room} and {face_capacity_per_week}"
            + ("" if v.feed_available_per_week is None else " and {feed_available_per_week}"),
            "Ndegwa et al. 2000; temperature Johnston et al. 2014 and Loehr et al. 1985; crowding Reeh 1992",
            values={
                "rate": CurvePart("pace of eating, by the curve", activity, ("degC",)),
                "pace": Part("pace at the temperature it starts with", activity(v.starting_temperature)),
                "room": Part("share eaten at this stocking", crowding(v.stocking_density, v.capacity)),
            },
        ),
        Step(
            "What the face takes",
            f"{{face_capacity_per_week}} = {{layer_thickness}} × {{{across}}} × {{bed_height}} ÷ sin {{face_slope}} ×"
            " {feed_bulk_density} ÷ {safe_interval} × 7 days/week",
            "geometry",
        ),
        *laying_step(plan, across, days),
        walking_step(plan, across, days[: 1 + (days[-1].day if slice_due is None else round(slice_due.value))]),
        Step(
            "First slice",
            slice_equation(plan)
            + "; {first_slice_date} = {start_date} + {days_to_first_slice}, rounded; {first_slice_early} ="
            " {start_date} +"
            " {soonest}, rounded; {first_slice_late} = {start_date} + {latest}, rounded",
            "the lane followed day by day: herd, feed, bed temperature",
            "Slow and fast case as on the page of all equations.",
            used,
        ),
        Step(
            "First castings made of feed",
            "{days_to_first_castings} = the first {day} of {days} where {castings_sliced} > 0",
            "the base that was bought is sliced first",
            values={
                "days": days_part(
                    plan, until(questions.cases(plan, first_castings_day)[TYPICAL], v.days_to_first_castings)
                )
            },
        ),
        Step(
            "Full bed",
            "(the first {day} of {days} where {worms} ≥ {full_stocking} × {area_then}) in day ="
            " {days_to_full_stocking} in"
            " day, rounded up",
            "the lane followed day by day; part of a day by straight line",
            values={"days": days_part(plan, full_days)},
        ),
        _floor_step(plan, walks),
        Step(
            "At its longest",
            f"{{largest_area}} = {{{across}}} × {{floor_needed}}",
            "geometry",
            "The first slice is due then; afterwards the back is cut as the face moves.",
        ),
        Step(
            "A lane from what you have",
            "{proposed_length} and {proposed_width}: as far as worms live behind a face, or as the floor allows;"
            " {proposed_faces}: the fewest that floor, feed and money allow; {proposed_worms}: the fewest that the bed"
            " behind the faces, money and feed allow; {proposed_cost}: the list × (1 + {contingency});"
            " {proposed_start}: the first of a month; {proposed_first_slice}: that lane, followed day by day",
            "arithmetic; full stocking and ration as above",
            prose=True,
        ),
        Step(
            "Water by the can",
            "{base_water_volume} = {base_water_to_add} ÷ {of_water}",
            "arithmetic",
            values={"of_water": Part("density of water", pores.WATER_DENSITY, "kg/m3")},
        ),
        Step("Feed a week", "{feed_per_week} = {feed_per_day} × 7 days/week", "arithmetic"),
        Step(
            "Cost",
            "{startup_cost} = ({worm_mass} × {worm_price} + {base_volume} × {compost_price} + {sheets} ×"
            " {sheet_price} +"
            " {largest_area} × {shade_price} + {tools_cost}) × (1 + {contingency}); {budget_left} = {budget} −"
            " {startup_cost}",
            "arithmetic; prices invented, as an example",
        ),
        Step(
            "Worms for the budget",
            (
                "{worms_affordable} = (the larger of 0 and {budget} − {startup_cost} + {worm_mass} × {worm_price} ×"
                " (1 +"
                " {contingency})) ÷ ({worm_price} × (1 + {contingency}))"
                if v.worm_price
                else "{worms_affordable} = {worm_mass}"
            ),
            "arithmetic",
        ),
    ]


def _costs(v: View, plan: LanePlan) -> Table:
    rows = [
        (what, v.say(quantity, unit) if unit != "1" else f"{quantity:g}", amount)
        for what, quantity, unit, amount in cost_lines(v.given, plan)
    ]
    listed = sum(amount for *_, amount in rows)
    rows += [("Reserve", v["contingency"], listed * v.contingency), ("Total", "", v.startup_cost)]
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
        note="Each sheet is ripped in two first; a saw cut of ⅛ in (3 mm) is counted. The boards ahead are set before"
        " the sides as the face walks out of them; the lower half of the face needs none.",
    )


def feedings_table(plan: LanePlan) -> Table:
    """The feedings of the first 26 weeks, one row each."""
    return Table(
        "feedings",
        "The feedings of the first 26 weeks",
        [
            Column("date", "Date"),
            Column("thickness", "Thickness", "m", us="in", metric="cm", digits=2),
            Column("mass", "Feed", "kg", digits=2),
        ],
        questions.feeding_rows(plan),
        note="A plan, not an order: look whether the last layer is gone. It is the same list on every page about this"
        " lane.",
    )


def months_table(plan: LanePlan) -> Table:
    """Month by month of the calendar: what is fed, what is sliced, the bed, the worms."""
    return Table(
        "months",
        "The first twelve months",
        [
            Column("month", "From"),
            Column("bed", "Bed", "degC", digits=2),
            Column("feed", "Feed", "kg", digits=2),
            Column("castings", "Sliced", "m3", us="ft3", metric="L", digits=2),
            Column("worms", "Worms at its end", "kg", digits=2),
        ],
        questions.month_rows(plan),
        note="The bed is the mean of its depth. The first and the last month may be parts of one.",
    )


def eaten_by(plan: LanePlan, days: int = 365) -> float:
    """Feed eaten within so many days [kg]."""
    return sum(day.eaten for day in follow(plan, days)[:days])


def _limits(v: View, plan: LanePlan) -> Table:
    """What the reader has of floor, money, feed and warmth, what the lane takes, and what a quarter more would give."""
    year = follow(plan, questions.SPAN)[:365]
    most_eaten = max(
        (sum(day.laid for day in year[start : start + 28]) / 4 for start in range(0, 338, 14)), default=0.0
    )
    eaten = sum(day.eaten for day in year)

    def gain(other: LanePlan) -> str:
        more = eaten_by(other) - eaten
        if abs(more) < 0.005 * max(eaten, 1e-9):
            return "no more castings in the first year"
        word = "more" if more > 0 else "less"
        return f"{v.say(abs(more), 'kg', digits=2)} {word} feed turned into castings in the first year"

    full_given = {**v.given}
    rows: list[tuple[str, str, str, str, str]] = []
    if v.floor_length is not None:
        short = v.floor_length < lane_plan({**full_given, "floor_length": None}).floor_needed - 1e-9
        longer = lane_plan({**full_given, "floor_length": MORE * v.floor_length})
        rows.append(("Floor", v["floor_length"], v["floor_needed"], "yes" if short else "no", gain(longer)))
    worms = MORE * plan.worm_mass
    price = v.say(0.25 * plan.worm_mass * v.worm_price, "money")
    tight = "yes" if v.budget_left < 0 else "no"
    rows.append(
        (
            "Money",
            v["budget"],
            v["startup_cost"],
            tight,
            f"a quarter more worms, {price}: {gain(replace(plan, worm_mass=worms))}",
        )
    )
    if v.feed_available_per_week is not None:
        binds = most_eaten >= 0.98 * v.feed_available_per_week
        richer = replace(plan, feed_available_per_week=MORE * v.feed_available_per_week)
        needs = v.say(most_eaten, "kg/week", digits=2)
        rows.append(("Feed", v["feed_available_per_week"], needs, "yes" if binds else "no", gain(richer)))
    warm = replace(plan, bed_temperature=22.0)
    mean = sum(day.bed_temperature for day in year) / len(year)
    cold = sum(day.bed_temperature < biology.SLOW_BELOW for day in year)
    rows.append(
        (
            "Warmth",
            f"{v.say(mean, 'degC', digits=2)} in the bed, mean of the year",
            f"over {v.say(biology.SLOW_BELOW, 'degC', digits=2)}, best at {v.say(20.0, 'degC', digits=2)} to"
            f" {v.say(25.0, 'degC', digits=2)}",
            "yes" if cold > 60 else "no",
            f"at 72 °F (22 °C) all year, as in a shed: {gain(warm)}",
        )
    )
    return Table(
        "limits",
        "Your lane: what you have for it, and what more would give",
        [
            Column("what", "What"),
            Column("have", "You have"),
            Column("takes", "The lane takes"),
            Column("binds", "Too little"),
            Column("more", "A quarter more would give"),
        ],
        rows,
        note="Leave floor or feed blank and it is not counted. Warmth is too little when the bed is under 50 °F (10 °C)"
        " for over two months.",
    )


BINDS = {
    propose.MONEY: "money",
    propose.FLOOR: "floor",
    propose.FEED: "feed",
    propose.PLACE: "warmth",
}


def _proposal(v: View, plan: LanePlan) -> Table:
    """What floor, money, feed and place would each carry, which of them binds, and what a quarter more of it gives."""
    offer = propose.proposal(v.given, plan)

    def carries(found: propose.Proposal, what: str) -> str:
        said = v.say(found.allows[what], "kg", digits=2) + " of worms" if what in found.allows else ""
        faces = found.faces_allowed.get(what)
        most = "" if faces is None else f"up to {_faces(faces)}" if faces > 1 else _faces(faces)
        return ", ".join(part for part in (said, most) if part)

    def more(**richer: float) -> str:
        other = propose.proposed({**v.given, **richer}, plan, propose.pace_of_year(plan))
        return f"{v.say(other.plan.worm_mass, 'kg', digits=2)} of worms, {_faces(other.faces)}"

    rows: list[tuple[str, str, str, str, str]] = []
    floor = {name: MORE * v.given[name] for name in ("floor_length", "floor_width") if v.given[name] is not None}
    if floor:
        have = " by ".join(v[name] for name in floor)
        rows.append(("Floor", have, carries(offer, propose.FLOOR), _yes(offer, propose.FLOOR), more(**floor)))
    money = more(budget=MORE * v.budget)
    rows.append(("Money", v["budget"], carries(offer, propose.MONEY), _yes(offer, propose.MONEY), money))
    if v.feed_available_per_week is not None:
        fed = more(feed_available_per_week=MORE * v.feed_available_per_week)
        allows = carries(offer, propose.FEED)
        rows.append(("Feed", v["feed_available_per_week"], allows, _yes(offer, propose.FEED), fed))
    place = v.input_text("climate") if v.bed_temperature is None else f"held at {v['bed_temperature']}"
    begins = f"worms from {day_text(v.proposed_start)} on"
    rows.append(("Place", place, begins, _yes(offer, propose.PLACE), "in a shed: see warmth, above"))
    return Table(
        "proposal",
        "A lane from what you have",
        [
            Column("what", "What"),
            Column("have", "You have"),
            Column("carries", "It would carry"),
            Column("binds", "It binds"),
            Column("more", "A quarter more of it: the lane would have"),
        ],
        rows,
        note="Worms are counted at the start. They grow in number until the bed behind the face is full, or the feed"
        " is eaten.",
    )


def _faces(count: int) -> str:
    return "no face" if count < 1 else "one face" if count == 1 else f"{count} faces"


def _yes(offer: propose.Proposal, what: str) -> str:
    return "yes" if offer.binds == what else "no"


FEWEST_WORMS = 0.45
"""Fewer than a pound of worms is no herd for a lane [kg]; our own judgement, no source."""


def _proposal_sentence(v: View, plan: LanePlan) -> str:
    """The lane that is proposed, and what it is that binds, in a sentence or two."""
    offer = propose.proposal(v.given, plan)
    if offer.plan.worm_mass <= 0 or (offer.binds == propose.MONEY and offer.plan.worm_mass < FEWEST_WORMS):
        return (
            f"{v['budget']} does not pay for a base, boards and worms enough to begin: take a bin, or boards and"
            " compost that you have already."
        )
    said = (
        f"What you have would carry at most {_faces(v.proposed_faces)} on a base of"
        f" {v.say(offer.plan.base_length, 'm', digits=2)} by {v.say(offer.plan.face_width, 'm', digits=2)} with"
        f" {v['proposed_worms']} of worms, for {v['proposed_cost']}, from {v['proposed_start']} on"
    )
    if offer.binds == propose.PLACE:
        return f"{said}. No two months in a row are warm enough here to begin outdoors: keep the lane in a shed."
    return f"{said}; {BINDS[offer.binds]} is what binds." if offer.binds else f"{said}; nothing binds, it begins full."


def _warnings(v: View, plan: LanePlan, needed: int) -> list[tuple[str | None, str]]:
    found: list[tuple[str | None, str]] = []
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
    if over(v.base_depth, v.bed_height):
        found.append(
            (
                "base_depth",
                (
                    f"A base of {v['base_depth']} is deeper than the {v['bed_height']} that the bed is to be high. Fill"
                    " it no higher than the bed."
                ),
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
    found += season_warnings(v, plan)
    if v.budget_left < 0:
        found.append(
            (
                "budget",
                (
                    "This lane is over budget. Worms are usually the largest line: fewer worms"
                    " and more patience cost least."
                ),
            )
        )
    if v.sheets < needed:
        found.append(("sheets", f"The cut list needs {needed} sheets; the sum counts the {v.sheets} that you set."))
    if v.target_moisture < moisture.LIMITS.low:
        found.append(
            (
                "target_moisture",
                f"{v['target_moisture']} is too dry for worms. Bring the base to 65–75 % before they go in.",
            )
        )
    found += base_warnings(v, plan)
    found += floor_warnings(v, plan)
    return found


def season_warnings(v: View, plan: LanePlan) -> list[tuple[str | None, str]]:
    """What is to be said of the bed's temperature: a figure outside the band, or a start before it is warm."""
    where = "bed_temperature" if v.bed_temperature is not None else "start_date"
    celsius = questions.feeding_temperature(plan)
    said = v.say(celsius, "degC", digits=2)
    if v.bed_temperature is None:
        return _through_the_year(v, plan, said)
    if celsius < biology.BAND_LOW.typical or celsius > biology.BAND_HIGH.typical:
        return [
            (
                where,
                (
                    f"{said} is outside the worms' working band of 39 to 86 °F (4 to 30 °C). Wait, or"
                    " see the chapter on heat and frost."
                ),
            )
        ]
    if celsius < biology.SLOW_BELOW:
        return [
            (
                where,
                (
                    f"At {said} worms eat little and hardly breed. Start when the bed is over 50 °F (10"
                    " °C), or be ready to wait."
                ),
            )
        ]
    return []


def _through_the_year(v: View, plan: LanePlan, said: str) -> list[tuple[str | None, str]]:
    """What the season does to the bed: a start that is too cold to feed, frost through it, weeks that are too hot."""
    found: list[tuple[str | None, str]] = []
    days = follow(plan, questions.SPAN)[:365]
    first = next((day for day in follow(plan, questions.SPAN) if day.laid), None)
    if first is None or first.day > questions.SLOW_START:
        when = (
            "does not come within a year and a half"
            if first is None
            else f"is {v.say(first.day, 'day', digits=2)} later"
        )
        found.append(
            (
                "start_date",
                f"The bed is at {said} when the worms come: the first feeding {when}. Start when it is over 40 °F"
                " (4 °C).",
            )
        )
    hottest = max(days, key=lambda day: day.bed_temperature)
    found += frost_warnings(v, plan)
    hot = sum(day.bed_temperature > biology.BAND_HIGH.typical for day in days)
    if hot:
        found.append(
            (
                "climate",
                (
                    f"On {hot} days of the first year the bed is over 86 °F (30 °C), up to"
                    f" {v.say(hottest.bed_temperature, 'degC', digits=2)} in {hottest.on(plan):%B}. Nothing is fed"
                    " then: more shade, more water, fewer worms in one place."
                ),
            )
        )
    return found


def frost_warnings(v: View, plan: LanePlan) -> list[tuple[str | None, str]]:
    """What frost does to the bed and the worms in it, in the first year; nothing where none reaches it."""
    if plan.bed_temperature is not None:
        return []
    coldest = min(follow(plan, questions.SPAN)[:365], key=lambda day: day.bed_temperature)
    ice = frozen_share(coldest.bed_temperature)
    if ice <= 0:
        return []
    fate = (
        "all worms in it die, and at best the lane begins anew in spring from cocoons"
        if ice >= 1
        else f"{v.say(ice, '1', us='%', metric='%', digits=2)} of it turns to ice, and that share of the worms dies"
    )
    return [
        (
            "cover_resistance",
            (
                f"In {coldest.on(plan):%B} the bed freezes, down to {v.say(coldest.bed_temperature, 'degC', digits=2)}:"
                f" {fate}. Straw and a deeper bed keep out a short frost, only a shed a long one."
            ),
        )
    ]


def base_warnings(v: View, plan: LanePlan) -> list[tuple[str | None, str]]:
    """Compost that comes too wet, and water that the pores of the base cannot hold."""
    found: list[tuple[str | None, str]] = []
    fits = v.say(plan.fitting_moisture, "1", us="%", metric="%", digits=2)
    if plan.base_moisture > plan.target_moisture:
        found.append(
            (
                "base_moisture",
                (
                    f"The compost comes wetter than the {v['target_moisture']} you want. Add no water: mix in dry"
                    " bedding, or let it lie open under a roof first."
                ),
            )
        )
    elif plan.target_moisture > plan.wetted_moisture + 1e-9:
        found.append(
            (
                "target_moisture",
                (
                    f"{v['target_moisture']} would be mud: this compost is too dense to hold that much water and air"
                    f" too."
                    f" It is wetted to {fits} here. Ask for less, or mix in straw or leaves."
                ),
            )
        )
    if plan.air_space < 0.0999:
        found.append(
            (
                "compost_bulk_density",
                (
                    f"As delivered there is only {v.say(max(0.0, plan.air_space), '1', us='%', metric='%', digits=2)}"
                    f" of air"
                    " in it, less than a bed needs: that is mud. Weigh a bucket again, or mix in straw or leaves."
                ),
            )
        )
    return found


def floor_warnings(v: View, plan: LanePlan) -> list[tuple[str | None, str]]:
    """A base made shorter for the floor, and a floor that is too short for any lane."""
    if plan.floor_length is None:
        return []
    if plan.floor_needed > plan.floor_length + 1e-9:
        return [
            (
                "floor_length",
                (
                    f"Even the shortest base needs {v.say(plan.floor_needed, 'm')} of floor until the first slice."
                    f" Feed the"
                    " lane along its side, or take a shorter slice."
                ),
            )
        ]
    whole = v.lane_width if plan.fed_on == "side" else v.lane_length
    if plan.base_length < whole - 1e-9:
        return [
            (
                "floor_length",
                (
                    f"On {v['floor_length']} of floor the base is {v.say(plan.base_length, 'm')} and not"
                    f" {v.say(whole, 'm')}:"
                    " the face must be able to move a slice and the gap on."
                ),
            )
        ]
    return []


def herd_sentence(v: View, plan: LanePlan) -> list[str]:
    """That the worms come to crowd each other, when they do within the first year and a half."""
    crowded = next(
        (day for day in follow(plan, questions.SPAN) if over(day.stocking, facts.DENSE_STOCKING.typical)), None
    )
    if crowded is None or crowded.day == 0:
        return []
    return [
        f"After about {v.say(crowded.day / DAYS_A_MONTH, 'month', digits=2)} the worms are over"
        f" {facts.DENSE_STOCKING_SAID} of the bed that they live in, and begin to leave."
        " Give some away, or start a second lane, by then."
    ]


def _reading(v: View, plan: LanePlan) -> list[str]:
    full = plan.worm_mass / (plan.full_stocking * plan.active_area)
    sentences = [
        (
            f"A base of {v['base_length']} by {v['base_width']} takes {v['base_volume']} of compost and"
            f" {v.yours('worm_mass')} of worms, and costs about {v['startup_cost']}."
        ),
        f"The worms are {v['stocking_share']} of what all of the base could carry, and"
        f" {v.say(full, '1', us='%', metric='%', digits=2)} of a full bed, since they gather behind the face on"
        f" {v['active_area']}"
        + (
            "; at this temperature nothing is fed."
            if v.feed_per_day == 0 or v.first_feeding_mass is None
            else f". The first feeding is {v['first_feeding_mass']} on {v['first_feeding_date']}; the list of feedings"
            " says what comes after it, as it disappears."
        ),
    ]
    if v.days_to_first_slice:
        band = v.band("days_to_first_slice")
        sentences.append(
            f"The first slice comes after about {v.days_to_first_slice / DAYS_A_MONTH:.0f} months, between"
            f" {band.low / DAYS_A_MONTH:.0f} and {questions.months_at_most(band)}. It is the base that you bought,"
            f" {v.yours('base_depth')}"
            f" deep."
        )
        if v.days_to_first_castings:
            sentences.append(
                f"Castings made of your feed come off after {v.days_to_first_castings / DAYS_A_MONTH:.0f} months,"
                " when the base has been sliced."
            )
        sentences.append(
            f"The lane walks: until the first slice it needs {v['floor_needed']} of floor, not only its"
            f" {v.say(plan.base_length, 'm')}. Shade, rain sheet and boards are counted for that."
        )
    else:
        sentences.append(
            f"No slice comes off within three years. What brings it nearer: {questions.brings_it_nearer(plan)}."
        )
    sentences += herd_sentence(v, plan)
    sentences.append(_proposal_sentence(v, plan))
    sentences.append(
        f"{v.money(v.budget_left)} of your budget is left."
        if v.budget_left >= 0
        else (
            f"The budget is {v.money(-v.budget_left)} short. It pays for {v.say(v.worms_affordable, 'kg', digits=2)}"
            f" of worms"
            " with this lane."
        )
    )
    return sentences


def _events(v: View, plan: LanePlan) -> list[Event]:
    start = v.start_date
    water = v.say(v.base_water_to_add / 1000, "m3", us="gal", metric="L", digits=2)
    events = [
        Event(
            start - timedelta(days=round(v.base_wait)),
            "Build the lane, fill and water the base",
            f"{v['base_volume']} of compost, {water} of water over two days.",
        ),
        Event(
            start,
            "Worms go in",
            f"{v['worm_mass']}. Lay them on top in the evening, leave a light on the first night, do not feed.",
        ),
    ]
    if v.first_feeding_date:
        events.append(
            Event(
                v.first_feeding_date,
                "First feeding",
                f"A thin layer, {v['first_feeding_mass']}. Wait until it is gone.",
            )
        )
    if v.first_slice_date:
        events.append(Event(v.first_slice_date, "First slice is about due", "Look for worms first."))
    return events
