"""The one lane: its books close for any plan, its special cases are the closed forms, and nothing in it is
impossible.
"""

from dataclasses import replace
from datetime import date
from itertools import pairwise
from math import ceil, isclose

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import calc
from calc.biology import activity, crowding
from calc.climate.season import season
from calc.engine.describe import typical_alone
from calc.facts import biology, climate
from calc.lane import model, questions
from calc.lane.account import account
from calc.lane.chain import Shares, castings_ash, chain, share_by_volume, share_by_weight, volume_kept_at
from calc.lane.face import advance, days_to_clear, layer_volume
from calc.lane.model import HIGH, LOW, TYPICAL, LanePlan, follow, in_case
from calc.lane.stages import Stages, rates

SEASONS = st.sampled_from([*climate.CLIMATES, "held"])


@st.composite
def plans(draw: st.DrawFn) -> LanePlan:
    """Lanes like the usual one and lanes like no other."""
    where = draw(SEASONS)
    kept = draw(st.floats(0.3, 1.0))
    return LanePlan(
        lane_length=draw(st.floats(0.4, 20.0)),
        lane_width=draw(st.floats(0.4, 3.0)),
        bed_height=draw(st.floats(0.15, 1.2)),
        base_depth=draw(st.floats(0.05, 0.9)),
        face_slope=draw(st.floats(15.0, 80.0)),
        fed_on=draw(st.sampled_from(["end", "side"])),
        compost_bulk_density=draw(st.floats(300.0, 900.0)),
        base_moisture=draw(st.floats(0.3, 0.65)),
        target_moisture=draw(st.floats(0.4, 0.9)),
        worm_mass=draw(st.floats(0.1, 60.0)),
        capacity=draw(st.floats(1.0, 20.0)),
        ration=draw(st.floats(0.1, 2.0)),
        feed_moisture=draw(st.floats(0.3, 0.9)),
        feed_ash=draw(st.floats(0.02, 0.28)),
        dry_matter_kept=kept,
        volume_kept=draw(st.floats(0.2, 1.0)),
        castings_moisture=draw(st.floats(0.3, 0.85)),
        layer_thickness=draw(st.floats(0.01, 0.1)),
        safe_interval=draw(st.floats(0.5, 7.0)),
        gap=draw(st.floats(0.3, 2.0)),
        slice_length=draw(st.floats(0.1, 1.0)),
        feed_available_per_week=draw(st.none() | st.floats(1.0, 300.0)),
        start_date=draw(st.dates(date(2026, 1, 1), date(2030, 12, 31))),
        bed_temperature=draw(st.floats(1.0, 34.0)) if where == "held" else None,
        season=None if where == "held" else season(where),
        feed_price=draw(st.floats(0.0, 1.0)),
        castings_price=draw(st.floats(0.0, 900.0)),
    )


@settings(max_examples=60, deadline=None)
@given(plans(), st.sampled_from([LOW, TYPICAL, HIGH]), st.integers(1, 800), st.integers(0, 400))
def test_the_books_of_any_lane_close(plan: LanePlan, case: int, last: int, first: int) -> None:
    days = follow(plan, last, case)
    books = account(in_case(plan, case), days, min(first, last))
    for name, flow in books.flows.items():
        scale = max(flow.came_in, flow.went_out, abs(flow.stored), 1e-3)
        assert abs(flow.gap) <= 1e-9 * scale, (name, flow)
        assert flow.came_in >= 0 and flow.went_out >= 0 and flow.lost >= -1e-12
    assert books.ash.lost == 0


@settings(max_examples=40, deadline=None)
@given(plans(), st.sampled_from([LOW, TYPICAL, HIGH]))
def test_nothing_impossible_happens_in_any_lane(plan: LanePlan, case: int) -> None:
    days = follow(plan, 500, case)
    figures = in_case(plan, case)
    for day in days:
        assert min(day.worms, day.heads, day.feed, day.eaten, day.castings, day.watered, day.evaporated) >= -1e-9
        assert -1e-9 <= day.base <= plan.base.volume + 1e-9
        assert day.eaten <= day.appetite + 1e-9 and day.eaten <= day.feed + day.laid + 1e-9
        zone = day.active_area / figures.face_width
        assert day.cut <= day.face - zone + 1e-6 or day.cut == 0  # no slice with worms
        assert day.active_area > 0 and day.thickness >= 0
        assert min(figures.base_depth, figures.bed_height) - 1e-9 <= day.height <= figures.bed_height + 1e-9
    for before, after in pairwise(days):
        assert after.face >= before.face - 1e-9 and after.cut >= before.cut
    laid = model.feedings(days)
    assert all(day.day >= plan.first_feeding for day in laid)
    layers = sum(day.thickness for day in laid) / max(plan.layer_thickness, 1e-9)
    assert layers <= 500 / plan.safe_interval + 2  # a face has a capacity
    if plan.feed_available_per_week is not None:
        assert sum(day.laid for day in days) <= plan.feed_available_per_week / 7 * 501 + 1e-6


@settings(max_examples=40, deadline=None)
@given(plans())
def test_where_the_face_stands_is_what_was_eaten(plan: LanePlan) -> None:
    last = follow(plan, 400)[-1]
    moved = last.face - plan.base_length
    eaten = sum(day.eaten for day in follow(plan, 400)[:-1])
    made = eaten / plan.feed_bulk_density * plan.volume_kept
    assert isclose(plan.volume_to(moved), made, rel_tol=1e-9, abs_tol=1e-12)
    assert isclose(plan.moved_by(plan.volume_to(moved)), moved, rel_tol=1e-9, abs_tol=1e-9)


def test_a_fault_in_the_books_is_told() -> None:
    """The check can fail: a day in which castings came from nowhere."""
    plan = LanePlan()
    days = list(follow(plan, 300))
    days[-1] = days[-1]._replace(castings=days[-1].castings + 1e-6)
    assert abs(account(plan, days).dry_matter.gap) > 1e-9 * 1000


# --- special cases: the closed forms of the pages ---------------------------------------------------------------------


def steady(**changes: float) -> LanePlan:
    """A lane with a herd that stays as it is, on a base as high as the bed and no longer than the worms are spread."""
    plan = LanePlan(steady_herd=True, base_depth=18 * 0.0254, lane_length=1.0668 + 18 * 0.0254)
    return replace(plan, **changes)  # type: ignore[arg-type]


@pytest.mark.parametrize("worms", [2.0, 5.0, 9.0])
@pytest.mark.parametrize("slope", [30.0, 60.0])
def test_a_steady_lane_has_the_pace_of_the_closed_form(worms: float, slope: float) -> None:
    plan = steady(worm_mass=worms, face_slope=slope, first_layer=0.0508)
    plan = replace(plan, lane_length=plan.gap + plan.foot)
    eaten = worms * plan.ration * activity(20.0) * crowding(worms / plan.active_area)
    layer = layer_volume(plan.layer_thickness, plan.lane_width, plan.bed_height, slope)
    wait = max(plan.safe_interval, layer * plan.feed_bulk_density / eaten)
    pace = advance(plan.layer_thickness, slope, plan.volume_kept) / wait
    days = follow(plan, 1095)
    assert isclose((days[-1].face - days[103].face) / 992, pace, rel_tol=1e-6)
    due = plan.first_feeding + days_to_clear(plan.slice_length, plan.gap, pace)
    assert model.first_slice_day(days) == ceil(due - 1e-6)
    assert isclose(sum(day.laid for day in days[:-1]) / 1092, eaten, rel_tol=0.02)


def test_slices_of_a_steady_lane_come_at_equal_times() -> None:
    """Once what was free from the start has been taken, a slice comes off each time that the face has moved by one."""
    plan = steady(worm_mass=8.0)
    days = follow(plan, 1095)
    taken = [day.day for day in days if day.sliced][-5:]
    pace = (days[-1].face - days[600].face) / 495
    for before, after in pairwise(taken):
        assert abs(after - before - plan.slice_length / pace) <= 1.5
    assert len(taken) == 5


def test_a_face_that_is_too_small_is_fed_at_its_capacity() -> None:
    plan = steady(worm_mass=20.0, layer_thickness=0.02, safe_interval=2.5, capacity=40.0)
    days = follow(plan, 700)
    assert isclose(sum(day.laid for day in days[200:550]) / 50, plan.face_capacity_per_week, rel_tol=1e-9)
    assert days[300].appetite * 7 > plan.face_capacity_per_week


def test_a_season_of_one_temperature_is_the_held_bed_but_for_its_own_heat() -> None:
    even = replace(LanePlan(), bed_temperature=None, season=season("mild", [20.0] * 12))
    without = replace(even, dry_matter_kept=1.0, volume_kept=0.5, water_per_area_per_day=0.0)
    last = follow(without, 200)[-1]
    assert isclose(last.bed_temperature, 20.0, abs_tol=0.6)  # water that the castings lose still cools
    assert follow(even, 200)[-1].bed_temperature > 21


def test_side_and_end_are_one_lane_turned() -> None:
    end = LanePlan(lane_length=2.0, lane_width=1.5)
    side = LanePlan(lane_length=1.5, lane_width=2.0, fed_on="side")
    for one, other in zip(follow(end, 300), follow(side, 300)):
        assert isclose(one.face, other.face) and isclose(one.worms, other.worms) and isclose(one.laid, other.laid)


def test_the_first_weeks_are_gentle() -> None:
    laid = model.feedings(follow(LanePlan(), 60))
    assert laid[0].day == 3 and isclose(laid[0].thickness, 0.0127)
    assert [round(day.thickness / 0.0254, 2) for day in laid[:4]] == [0.5, 1.0, 2.0, 2.0]
    assert laid[0].height == LanePlan().base_depth  # on the base's own, lower face
    waits = [after.day - before.day for before, after in pairwise(laid)]
    assert min(waits) >= 2


def test_the_first_slices_are_the_base() -> None:
    plan = LanePlan()
    days = follow(plan, 1095)
    first, castings = model.first_slice_day(days), model.first_castings_day(days)
    assert first is not None and castings is not None and first < castings
    assert isclose(days[first].sliced_base, plan.slice_length * plan.base_depth * plan.lane_width)
    assert isclose(sum(day.sliced_base for day in days[:castings]), plan.base.volume, rel_tol=0.13)


@pytest.mark.parametrize("feet", [6, 10, 12, 16])
def test_the_last_slice_of_the_base_is_not_taken_for_castings(feet: int) -> None:
    """Ten times a foot is not ten feet to the last digit: what is left over is no slice of feed."""
    plan = replace(LanePlan(), lane_length=feet * model.FOOT)
    days = follow(plan, 900)
    castings = model.first_castings_day(days)
    assert castings is not None
    assert isclose(sum(day.sliced_base for day in days[:castings]), plan.base.volume)
    assert days[castings].sliced_castings > 0.01 * plan.slice_length * plan.lane_width


def test_slow_typical_and_fast_are_in_order() -> None:
    for plan in (LanePlan(), replace(LanePlan(), bed_temperature=None, season=season("mild"))):
        slow, middle, fast = (model.first_slice_day(days) for days in model.all_cases(plan, 1095))
        assert slow is not None and middle is not None and fast is not None and fast < middle < slow


@given(st.floats(1.0, 9.0))
def test_a_floor_shortens_the_base(floor: float) -> None:
    plan = replace(LanePlan(), floor_length=floor).on_floor()
    assert plan.lane_length <= LanePlan().lane_length
    assert (
        plan.floor_needed <= floor + 1e-9
        or isclose(plan.lane_length, model.SHORTEST_BASE)
        or plan.lane_length <= plan.foot
    )


def test_feed_that_is_short_is_laid_as_it_comes_and_holds_the_herd_back() -> None:
    short = replace(LanePlan(), feed_available_per_week=10.0)
    assert sum(day.laid for day in follow(short, 364)[:364]) <= 10.0 * 52 + 1e-6
    assert follow(short, 364)[-1].worms < 0.8 * follow(LanePlan(), 364)[-1].worms


def test_a_base_that_would_be_mud_is_wetted_as_far_as_its_pores_go() -> None:
    wet = replace(LanePlan(), target_moisture=0.85)
    assert wet.wetted_moisture == wet.fitting_moisture < 0.85 and isclose(wet.air_space, 0.10)
    assert LanePlan().wetted_moisture == 0.70 and LanePlan().air_space > 0.15
    assert replace(LanePlan(), base_moisture=0.75).base_water == 0


# --- the chain --------------------------------------------------------------------------------------------------------

shares_of = st.builds(
    Shares,
    feed_bulk_density=st.floats(200, 1000),
    feed_moisture=st.floats(0.3, 0.9),
    feed_ash=st.floats(0.02, 0.3),
    dry_matter_kept=st.floats(0.3, 1.0),
    volume_kept=st.floats(0.2, 1.0),
    castings_moisture=st.floats(0.3, 0.85),
    screening_moisture=st.floats(0.3, 0.6),
    castings_bulk_density=st.floats(300, 1000),
    product_share=st.floats(0.05, 1.0),
)


@given(shares_of, st.floats(0.01, 1e5))
def test_feed_to_castings_keeps_ash_dry_matter_and_volume_in_step(shares: Shares, mass: float) -> None:
    found = chain(mass, shares)
    assert isclose(found.sliced.dry_matter, found.feed.dry_matter * shares.dry_matter_kept, rel_tol=1e-9)
    assert isclose(found.sliced.volume, found.feed.volume * shares.volume_kept, rel_tol=1e-9)
    for part in (found.sliced, found.dried):
        assert isclose(part.ash, found.feed.ash, rel_tol=1e-9)
        assert isclose(part.ash / part.dry_matter, castings_ash(shares.feed_ash, shares.dry_matter_kept), rel_tol=1e-9)
    assert isclose(found.sliced.moisture, shares.castings_moisture, rel_tol=1e-9)
    assert isclose(found.dried.moisture, shares.screening_moisture, rel_tol=1e-9)
    for what in ("dry_matter", "water", "ash", "volume"):
        both = getattr(found.product, what) + getattr(found.overs, what)
        assert isclose(both, getattr(found.dried, what), rel_tol=1e-9)
    assert isclose(found.product.volume / found.feed.volume, shares.volume_sold, rel_tol=1e-9)
    assert isclose(
        volume_kept_at(
            shares.feed_bulk_density,
            shares.feed_moisture,
            shares.dry_matter_kept,
            shares.sliced_density,
            shares.castings_moisture,
        ),
        shares.volume_kept,
        rel_tol=1e-9,
    )


@given(st.floats(0.01, 0.99), st.floats(300, 900), st.floats(200, 900))
def test_a_share_by_weight_and_by_volume_are_one_share(share: float, product: float, overs: float) -> None:
    assert isclose(share_by_volume(share_by_weight(share, product, overs), product, overs), share, rel_tol=1e-9)
    assert isclose(share_by_weight(share, product, product), share, rel_tol=1e-9)


def test_typical_shares_agree_with_what_castings_weigh() -> None:
    """Volume kept and dry matter kept come from different works; together they give the bulk density that castings
    have.
    """
    plan = LanePlan()
    for case in (LOW, TYPICAL, HIGH):
        assert 550 < in_case(plan, case).shares.sliced_density < 750
    assert biology.VOLUME_KEPT.low < plan.volume_kept < biology.VOLUME_KEPT.high


def test_a_cover_keeps_a_bed_warmer_in_the_cold_and_leaves_the_summer_alone() -> None:
    bare = replace(LanePlan(), bed_temperature=None, season=season("mild"))
    covered = replace(bare, cover_resistance=1.4)
    coldest = [min(day.bed_temperature for day in follow(plan, 365)) for plan in (bare, covered)]
    warmest = [max(day.bed_temperature for day in follow(plan, 180)) for plan in (bare, covered)]
    assert coldest[1] > coldest[0] + 1 and isclose(*warmest, abs_tol=0.5)


COLD = LanePlan(bed_temperature=None, season=season("cold"))
MILD = LanePlan(bed_temperature=None, season=season("mild"))


def test_a_bed_that_freezes_through_kills_its_worms_and_begins_anew_from_cocoons() -> None:
    for case in (model.LOW, model.TYPICAL, model.HIGH):
        days = model.follow(COLD, 550, case)
        ice = [day for day in days if model.frozen_share(day.bed_temperature) >= 1]
        assert ice and all(day.worms == 0 and day.eaten == 0 and day.laid == 0 for day in ice)
        before, after = days[ice[0].day - 60], days[450]
        assert before.worms > 1.5 * after.worms  # what hatched since; a herd that was full had laid next to nothing
        assert after.worms > 0 or case == model.HIGH
        between = [day.worms for day in days[ice[-1].day + 1 : ice[-1].day + 10]]
        assert max(between) < 0.05 * before.worms
    alive = model.follow(replace(COLD, season=season("mild")), 550)
    assert min(day.bed_temperature for day in alive) > 0 and alive[300].worms > COLD.worm_mass


@pytest.mark.parametrize("share", [0.25, 0.5])
def test_worms_flee_from_ice_as_far_as_some_of_the_bed_is_not(share: float) -> None:
    herd = Stages(4.0, 0.5, rates(2.0))
    before, breeders, eggs = herd.weight, herd.adults, list(herd._eggs)
    herd.freeze(1 - share, 1.0)
    assert herd.weight == pytest.approx(before * (1 - share)) and herd.adults == pytest.approx(breeders * (1 - share))
    assert list(herd._eggs) == eggs
    herd.freeze(0.0, 1.0)
    assert herd.weight == 0
    for _ in range(300):
        herd.step(rates(20.0), 1.0, 1.0)
    assert herd.weight == pytest.approx(0, abs=1e-12)  # none comes from nowhere


def test_a_herd_that_is_held_as_it_is_and_a_heated_bed_know_no_frost() -> None:
    held = model.follow(replace(COLD, steady_herd=True), 400)
    assert {round(day.worms, 9) for day in held} == {round(COLD.worm_mass, 9)}
    warm = model.follow(replace(COLD, bed_temperature=18.0), 400)
    assert min(day.worms for day in warm) >= COLD.worm_mass * 0.8


@pytest.mark.parametrize("plan", [MILD, COLD, replace(MILD, worm_mass=25.0), replace(MILD, capacity=1.6)])
def test_worms_eat_by_their_crowding(plan: LanePlan) -> None:
    """The loop has the figures of the curve taken out of it; it is the same curve."""
    for day in model.follow(plan, 400):
        eats = model.activity_near(round(10 * day.bed_temperature), model.TYPICAL)
        wanted = day.worms * plan.ration * eats * crowding(day.stocking, plan.capacity)
        assert day.appetite == pytest.approx(wanted, rel=1e-12, abs=1e-15)


def test_a_lane_that_is_drawn_is_followed_as_far_as_any_page_looks() -> None:
    """Its days are those of the whole lane, for a year at least and to its first castings."""
    for plan in (MILD, replace(MILD, lane_length=0.9), COLD):
        whole = model.follow(plan, model.SPAN)
        with typical_alone():
            part = model.follow_span(plan)
            assert model.follow(plan, model.SPAN) == whole
            asked = questions.first_slice(plan), questions.first_castings(plan), questions.full_bed(plan)
        assert part == whole[: len(part)] and len(part) > 365
        first = model.first_castings_day(whole)
        assert len(part) == len(whole) if first is None else len(part) == max(first, 366) + 1
        for quick, full in zip(
            asked, (questions.first_slice(plan), questions.first_castings(plan), questions.full_bed(plan))
        ):
            assert (quick and quick.value) == (full and full.value)


def test_books_over_any_span_have_a_range() -> None:
    """A year and a half is longer than a drawn lane is followed; the books are drawn over all of it."""
    for days in (60, 400, 549, 551, 900):
        found = calc.run("lane.ledger", {"days": days, "lane_length": 1.2}, range_of="dry_matter_in")
        assert "errors" not in found and found["range"]["p10"] < found["range"]["p90"]


def test_a_herd_that_is_taken_out_to_the_last_worm_weighs_nothing() -> None:
    days = model.follow(replace(MILD, harvest_per_week=3.0), 550)
    assert days[0].worms > 0 and days[-1].worms == 0
    assert not [day.worms for day in days if 0 < day.worms < 1e-9]
