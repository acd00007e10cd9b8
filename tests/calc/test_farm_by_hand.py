"""The farm's shed, its lanes and trays to come, and its programme of weeks: small cases reckoned by hand."""

from datetime import date, datetime, timedelta
from math import inf
from types import SimpleNamespace

import pytest

from calc.engine.describe import Band
from calc.farm import ahead, shelf
from calc.farm.log import Book, Entry
from calc.farm.merge import merged
from calc.farm.programme import NoPlan, _entering, gain, shadow_price, solve
from calc.farm.tables import LANES
from calc.lane.model import LanePlan, follow

TODAY = date(2027, 6, 2)  # a Wednesday
BAGS, WORMS, MIX = 0, 1, 2
AGED = (TODAY - timedelta(days=12)).toordinal()
PRODUCTS = (
    {"name": "Bag", "price": 16.0, "packing": 1.0, "castings": 10.0, "worms": 0.0, "keeps": 60},
    {"name": "Worms", "price": 30.0, "castings": 0.0, "worms": 0.5, "keeps": None},
    {"name": "Mix", "price": 12.0, "castings": 4.0, "worms": 0.25},
)


def entry(what, amount, product=None, days=0, note="", place=""):
    return Entry(TODAY + timedelta(days=days), place, what, amount, product, None, note, "", 1)


def shed(*rows):
    return shelf.shed_of(Book(entries=list(rows)), PRODUCTS)


def left(made):
    return [(one.made, one.sold, one.spoiled, one.short, one.left) for one in made.shelves]


# ---- the shed


def test_what_is_taken_from_a_shelf_is_the_oldest():
    one = shelf.Shelf(packed=shelf.Pile([[1, 5.0], [2, 5.0]]))
    assert (one.take(6), one.packed.lots) == (0.0, [[2, 4.0]])
    assert (one.take(4), one.packed.lots, one.left) == (0.0, [], 0.0)
    assert one.take(3) == 3.0


def test_the_shed_is_followed_row_by_row():
    """100 kg screened; 3 bags packed of 30 kg, 2 sold off the shelf; 6 more bags sold of which 1 packed and 5 made."""
    made = shed(
        entry("castings", 150.0),
        entry("screened", 100.0),
        entry("worms", 3.0),
        entry("bagged", 3.0, BAGS),
        entry("sold", 2.0, BAGS),
        entry("sold", 6.0, BAGS),
        entry("sold", 2.0, WORMS),
        entry("spoiled", 2.0, MIX),
        entry("spoiled", 4.0),
        entry("spoiled", 0.5, note="dead Worms"),
        entry("note", None),
    )
    assert (made.sliced, made.screened) == (150.0, 100.0)
    assert left(made) == [(8.0, 8.0, 0.0, 0.0, 0.0), (2.0, 2.0, 0.0, 0.0, 0.0), (2.0, 0.0, 2.0, 0.0, 0.0)]
    assert made.castings == pytest.approx(100 - 30 - 50 - 8 - 4)
    assert made.worms == pytest.approx(3 - 1.0 - 0.5 - 0.5)
    assert made.told == []


def test_where_nothing_is_screened_the_usual_share_of_the_slices_counts():
    made = shed(entry("castings", 100.0), entry("castings", 50.0))
    assert made.castings == pytest.approx(150 * shelf.screened_share()) == pytest.approx(made.screened)
    shares = LanePlan().shares
    dry = shares.product_share * (1 - shares.castings_moisture)
    assert shelf.screened_share() * (1 - shares.screening_moisture) == pytest.approx(dry)
    assert 0.3 < shelf.screened_share() < 1


def test_what_is_sold_beyond_what_was_made_is_told_and_nothing_falls_below_nothing():
    made = shed(entry("screened", 25.0), entry("worms", 0.1), entry("sold", 4.0, BAGS), entry("sold", 3.0, MIX))
    assert left(made)[BAGS] == (2.5, 2.5, 0.0, 1.5, 0.0)
    assert left(made)[MIX] == (0.0, 0.0, 0.0, 3.0, 0.0)
    assert [said.split(" were")[0] for said in made.told] == ["1.5 more of “Bag”", "3 more of “Mix”"]
    assert (made.castings, made.worms) == (0.0, pytest.approx(0.1))
    made = shed(entry("screened", 25.0), entry("bagged", 3.0, BAGS), entry("bagged", 4.0, WORMS))
    assert (made.castings, made.worms, left(made)[WORMS][0]) == (0.0, 0.0, 4.0)
    assert len(made.told) == 1 and made.told[0].startswith("More was packed than was screened before.")
    assert shed(entry("screened", 30.0), entry("bagged", 3.0, BAGS)).told == []
    assert len(shed(entry("screened", 29.9), entry("bagged", 3.0, BAGS)).told) == 1
    assert shed(entry("bagged", 4.0, WORMS)).told == []
    assert shed(entry("spoiled", 5.0), entry("spoiled", 5.0, note="worms")).castings == 0.0


def test_one_product_may_hold_nothing():
    nothing = ({"name": "Tour", "price": 20.0},)
    made = shelf.shed_of(Book(entries=[entry("sold", 3.0, 0)]), nothing)
    assert left(made) == [(3.0, 3.0, 0.0, 0.0, 0.0)]


def test_what_is_past_its_days():
    made = shed(
        entry("screened", 100.0),
        entry("bagged", 4.0, BAGS, days=-61),
        entry("bagged", 1.0, BAGS, days=-60),
        entry("worms", 1.0),
        entry("bagged", 1.0, WORMS, days=-400),
    )
    assert shelf.stale(made, PRODUCTS, TODAY) == [("Bag", 4.0, 60)]
    assert shelf.stale(made, PRODUCTS, TODAY - timedelta(days=1)) == []


def test_castings_age_from_their_screening_and_worms_from_their_taking_out():
    """Bags of 10 kg keep 60 days. 30 kg were screened 70 days ago and 40 kg 12 days ago: of five bags packed 10 days
    ago, three are of the old; two are sold, so one of them is left.
    """
    rows = [
        entry("screened", 30.0, days=-70),
        entry("screened", 40.0, days=-12),
        entry("bagged", 5.0, BAGS, days=-10),
        entry("sold", 2.0, BAGS, days=-5),
        entry("worms", 3.0, days=-9),
        entry("bagged", 2.0, MIX, days=-8),
    ]
    made = shed(*rows)
    assert made.shelves[BAGS].packed.lots == [[(TODAY - timedelta(days=70)).toordinal(), 1.0], [AGED, 2.0]]
    assert made.shelves[MIX].packed.lots == [[(TODAY - timedelta(days=8)).toordinal(), 2.0]], "worms: from packing"
    assert shelf.stale(made, PRODUCTS, TODAY) == [("Bag", 1.0, 60)]
    assert shelf.still_good(made, PRODUCTS, TODAY) == [2.0, 0.0, 2.0]
    assert (made.castings, made.worms) == (12.0, 2.5)
    # what is not packed ages too, by the product of nothing else that keeps shortest
    keeps_five = [PRODUCTS[BAGS], {**PRODUCTS[WORMS], "keeps": 5}, PRODUCTS[MIX]]
    assert shelf.past_keeping(made, keeps_five, TODAY) == [("worms", 2.5, 5)]
    loose = shed(*rows[:1])
    assert shelf.past_keeping(loose, PRODUCTS, TODAY) == [("castings", 30.0, 60)]
    assert (loose.castings, shelf.good_castings(loose, PRODUCTS, TODAY)) == (30.0, 0.0)
    # packed without a screening before: as old as the packing
    assert shed(entry("bagged", 4.0, BAGS, days=-3)).shelves[BAGS].packed.lots == [
        [(TODAY - timedelta(days=3)).toordinal(), 4.0]
    ]


def test_orders_up_to_a_day_are_promised():
    orders = [entry("sold", 3.0, BAGS, days=7), entry("sold", 2.0, BAGS, days=8), entry("sold", 1.0, MIX, days=1)]
    book = Book(orders=[*orders, entry("sold", None, WORMS, days=1), entry("sold", 5.0, None, days=1)])
    assert shelf.promised(book, PRODUCTS, shelf.in_weeks(TODAY, 1)) == [3.0, 0.0, 1.0]
    assert shelf.promised(book, PRODUCTS, TODAY + timedelta(days=8)) == [5.0, 0.0, 1.0]


def test_what_is_spread_out_goes_to_the_best_paid_first():
    """A bag leaves 15 for 10 kg, a mix 12 for 4 kg and 0.25 kg of worms, worms 30 for 0.5 kg of them."""
    assert [shelf.margin(row) for row in PRODUCTS] == [15.0, 30.0, 12.0]
    # worth of the share of what is there: bag 15/(10/50), worms 30/(0.5/2), mix 12/(4/50 + 0.25/2)
    worths = [15 / (10 / 50), 30 / (0.5 / 2), 12 / (4 / 50 + 0.25 / 2)]
    assert sorted(range(3), key=lambda at: -worths[at]) == [WORMS, BAGS, MIX]
    assert shelf.spread_out(PRODUCTS, [3.0, 3.0, 9.0], 50.0, 2.0) == [3.0, 3.0, 2.0]
    assert shelf.spread_out(PRODUCTS, [9.0, 1.0, 1.0], 50.0, 2.0) == [5.0, 1.0, 0.0]
    dear = ({**PRODUCTS[0], "packing": 16.0}, PRODUCTS[2])
    assert shelf.spread_out(dear, [2.0, 1.0], 50.0, 2.0) == [0.0, 1.0]
    assert shelf.spread_out(dear, [2.0, 1.0], 50.0, 2.0, at_a_loss=True) == [2.0, 1.0]
    # less than a kilogram is not scarcer than a kilogram
    little = ({"price": 2.0, "castings": 0.2, "worms": 0.0}, {"price": 3.0, "castings": 0.0, "worms": 0.4})
    assert shelf.spread_out(little, [1.0, 1.0], 0.5, 0.5) == [1.0, 1.0]


def test_orders_are_made_of_what_the_shelf_lacks():
    made, castings, worms = shelf.for_orders(PRODUCTS, [2.0, 0.0, 0.0], [5.0, 1.0, 0.0], 50.0, 2.0)
    assert (made, castings, worms) == ([3.0, 1.0, 0.0], 20.0, 1.5)
    assert shelf.for_orders(PRODUCTS, [9.0, 0.0, 0.0], [5.0, 0.0, 0.0], 50.0, 2.0) == ([0.0] * 3, 50.0, 2.0)


# ---- lanes ahead


def lane(fed=(), sliced=(), **more):
    plan = LanePlan()
    parts = {
        "name": "North", "area": 6.0, "worms": plan.worm_mass, "bed_temperature": 20.0, "fed": fed, "watered": (),
        "sliced": sliced, "hours": (), "air": (), "warmest": (), "followed": (plan, 365, False),
        "days": (0, 0, 189),
    }  # fmt: skip
    return ahead.Lane(**parts | more)


def test_the_present_pace_of_a_lane():
    """Layers on the days -29, -20, -10, 0: the first is too long ago."""
    fed = ((-29, 90.0, 0.09), (-28, 10.0, 0.02), (-18, 20.0, 0.03), (2, 30.0, 0.07))
    between, weight, thick = lane(fed).fed_each()
    assert (between, weight, thick) == (15.0, 20.0, pytest.approx(0.04))
    assert lane(fed[:2]).fed_each() is None
    assert lane(fed[1:3]).fed_each() == (10.0, 15.0, pytest.approx(0.025))
    assert lane(((0, 1.0, 0.1), (60, 1.0, 0.1))).fed_each() == (60.0, 1.0, pytest.approx(0.1))
    assert lane(((0, 1.0, 0.1), (61, 1.0, 0.1))).fed_each() is None
    many = tuple((5 * day, float(day), 0.05) for day in range(10))
    assert lane(many).fed_each() == (5.0, 3.5, pytest.approx(0.05))  # the first eight


def test_the_pace_of_slices_and_a_lane_that_lost_its_worms():
    slices = ((3, 0.3, 40.0), (10, 0.4, 50.0), (31, 0.5, 60.0))
    assert lane(sliced=slices).sliced_each() == (14.0, 0.3, 40.0)
    assert lane(sliced=slices[1:]).sliced_each() == (21.0, 0.4, 50.0)
    assert lane(sliced=slices[:1]).sliced_each() is None
    start = LanePlan().worm_mass
    assert lane(worms=0.24 * start).lost and not lane(worms=0.26 * start).lost
    assert not lane(worms=0.25 * start).lost


def test_an_old_lane_is_followed_from_its_last_year_but_one():
    row = dict(LANES[0])
    for days, old in ((730, False), (731, True), (1095, True), (1500, True)):
        row["started"] = TODAY - timedelta(days=days)
        plan = ahead.plan_of(row, 0.75, None, TODAY)
        assert ahead.is_old(row, TODAY) is old
        since = (TODAY - plan.start_date).days
        assert since == (days if not old else days - 365 * ((days - 365) // 365))
        if old:
            assert 365 <= since < 730 and (days - since) % 365 == 0
            assert plan.base_depth == row["height"]
            assert plan.worm_mass == pytest.approx(plan.full_stocking * min(plan.bed_area, plan.active_area))
        else:
            assert (plan.worm_mass, plan.base_depth) == (row["worms"], min(0.3048, row["height"]))
        assert (plan.ration, plan.bed_height, plan.lane_width) == (0.75, row["height"], row["width"])


def test_a_lane_ahead_is_its_own_course_counted_from_today():
    row = {**LANES[0], "started": TODAY - timedelta(days=200)}
    (one,) = ahead.lanes_ahead([row], 0.75, "mild", None, TODAY)
    plan, last, old = one.followed
    days = follow(plan, last, ahead.TYPICAL)
    assert (one.days, old, last % 91, last >= 200 + 189) == ((200, 172, 389), False, 0, True)
    assert (one.worms, one.bed_temperature) == (days[200].worms, days[200].bed_temperature)
    assert one.fed == tuple((day.day - 200, day.laid, day.thickness) for day in days[172:390] if day.laid)
    assert one.watered == tuple(day.watered for day in days[200:390])
    assert one.hours == tuple(day.hours for day in days[200:390])
    assert [day for day, _, _ in one.sliced] == [day.day - 200 for day in days[172:390] if day.sliced]
    middles = [plan.season.air((TODAY + timedelta(days=day)).timetuple().tm_yday) for day in range(8)]
    assert list(one.air) == pytest.approx(middles)
    assert all(mean < warm for mean, warm in zip(one.air, one.warmest))
    # a lane that begins in three days: nothing until then
    (later,) = ahead.lanes_ahead([{**row, "started": TODAY + timedelta(days=3)}], 0.75, "mild", None, TODAY)
    assert later.watered[:3] == later.hours[:3] == (0.0, 0.0, 0.0)
    assert (later.days, len(later.watered)) == ((-3, 0, 189), 3 + 190)
    assert later.fed[0][0] >= 3


def test_slices_and_what_of_them_passes_the_screen():
    plan = LanePlan()
    shares = plan.shares
    days = follow(plan, 365, ahead.TYPICAL)
    weigh = shares.volume_dried * shares.product_share * shares.castings_bulk_density
    for old in (False, True):
        ours = ahead._slices(plan, 365, old, ahead.TYPICAL)
        theirs = [day for day in days if day.sliced]
        assert [(one.day, one.length) for one in ours] == [(day.day, day.sliced) for day in theirs]
        assert [one.passes for one in ours] == pytest.approx(
            [weigh * (day.sliced_castings + old * day.sliced_base) for day in theirs]
        )
        assert [one.mass for one in ours] == pytest.approx(
            [shares.sliced_density * (day.sliced_castings + day.sliced_base) for day in theirs]
        )


def sliced_on(monkeypatch, *days):
    """A lane whose model slices on these days of its plan, the first two of them base; today is the plan's day 100."""
    made = tuple(ahead.Slice(day, 0.3, 10.0 + at, float(at > 1)) for at, day in enumerate(days))
    monkeypatch.setattr(ahead, "_slices", lambda plan, last, old, case: made)
    return lane(days=(100, 72, 300))


def test_a_slice_is_due_when_the_face_has_moved_on_by_one_since_the_last(monkeypatch):
    one = sliced_on(monkeypatch, 20, 60, 90, 120, 180, 400)

    def due(*asked, **more):
        return [(slice_.day, slice_.mass) for slice_ in one.slices(*asked, **more)]

    # the model's own days where nothing was ever written: the last of four weeks is late, and what follows is counted
    # from today, when a third of the way from 90 to 120 lies behind it
    assert due(None) == [(-10, 12.0), (20 + 20, 14.0)]
    assert due(None, late_since=-9) == [(20, 13.0), (80, 14.0)], "what was due before is done"
    # done on the model's own day, between two days, long before the first, and today
    assert due(-10) == [(20, 13.0), (80, 14.0)]
    assert due(-25) == [(5, 13.0), (50, 14.0)], "half way from 60 to 90, so half way on"
    assert due(-200)[0] == (-80, 10.0)
    assert due(0) == [(40, 14.0)], "a third of the way on; one after the last that is looked at is not promised"
    # a long rest counts as 120 days at most
    assert [slice_.day for slice_ in sliced_on(monkeypatch, 20, 60, 90, 120, 290).slices(-25)] == [5, 20 + 120 // 2]
    assert sliced_on(monkeypatch).slices(-10) == sliced_on(monkeypatch, 110).slices(-3) == []


def test_goods_come_after_their_screening_and_what_waits_for_it_counts_once(monkeypatch):
    one = sliced_on(monkeypatch, 20, 60, 90, 120, 180)
    assert ahead.goods_ahead([one], Book(), TODAY) == [(2, 1.0), (40 + 2, 1.0)], "late: as if sliced today"
    base = sliced_on(monkeypatch, 95, 130)
    assert ahead.goods_ahead([base], Book(), TODAY) == [], "the base is not sold"
    rows = [entry("screened", 50.0, days=-30), entry("castings", 90.0, days=-1, place="North")]
    book = Book(entries=rows)
    waiting = 90.0 * ahead.to_screen(book, shelf.screened_share())[1] / 90.0
    one = sliced_on(monkeypatch, 20, 60, 90, 120, 180)
    assert ahead.goods_ahead([one], book, TODAY)[0] == (1, pytest.approx(waiting))
    assert [day for day, _ in ahead.goods_ahead([one], book, TODAY)][1] > 20, "the next slice, not yesterday's again"
    # a farm that screens and never writes down a slice has sliced what was due
    screens = Book(entries=[entry("screened", 50.0, days=-9)])
    assert [slice_.day for slice_ in ahead.slices_of(one, screens, TODAY)] == [20, 80]
    earlier = Book(entries=[entry("screened", 50.0, days=-11)])
    assert ahead.slices_of(one, earlier, TODAY)[0].day == -10


def test_what_comes_in_by_weeks(monkeypatch):
    goods = [(0, 1.0), (6, 2.0), (7, 4.0), (13, 8.0), (14, 16.0)] * 2
    monkeypatch.setattr(ahead, "goods_ahead", lambda lanes, book, today, case: [(d, (case + 1) * w) for d, w in goods])
    assert ahead.product_by_week([], Book(), TODAY, 2, ends=False) == [[12.0, 48.0]] * 3
    assert ahead.product_by_week([], Book(), TODAY, 2) == [
        [6.0 * (case + 1), 24.0 * (case + 1)] for case in (ahead.LOW, ahead.TYPICAL, ahead.HIGH)
    ]
    lanes = [SimpleNamespace(hours=tuple(range(20)), fed=())] * 2
    assert ahead.hours_by_week(lanes, 2) == [2 * sum(range(7)), 2 * sum(range(7, 14))]
    assert ahead.hours_by_week(lanes[:1], 4) == [21, 70, 14 + 15 + 16 + 17 + 18 + 19, 0]


def test_lanes_fed_on_one_day_share_the_walk():
    """0.2 h of fetching and washing down on days 1, 8 and 9: three lanes on day 1, two on day 8, one on day 9."""
    plan = SimpleNamespace(setup_hours=0.2)
    lanes = [
        SimpleNamespace(
            hours=tuple(0.5 if day in days else 0.0 for day in range(14)),
            fed=tuple((day, 9.0, 0.05) for day in (-6, *days)),
            followed=(plan, 0, False),
        )
        for days in ((1, 8), (1, 9), (1, 8))
    ]
    first, second = ahead.hours_by_week(lanes, 2)
    assert first == pytest.approx(3 * 0.5 - 2 * 0.2)
    assert second == pytest.approx(3 * 0.5 - 1 * 0.2)
    assert sum(ahead.hours_by_week(lanes[:1], 2)) == pytest.approx(1.0)


# ---- trays ahead


def test_tray_days_and_what_starts_on_each():
    room = {"name": "Room", "weekday": "friday", "trays_per_week": 1.5, "started": date(2027, 5, 4)}
    assert ahead.first_start(room, TODAY) == date(2027, 5, 7)
    assert ahead.first_start({**room, "started": date(2027, 5, 7)}, TODAY) == date(2027, 5, 7)
    assert ahead.first_start({**room, "started": None}, TODAY) == date(2027, 6, 4)
    assert ahead.first_start({**room, "started": None, "weekday": "monday"}, TODAY) == date(2027, 5, 31)
    every = ahead.planned_starts(room, TODAY, date(2027, 5, 1), date(2027, 5, 28))
    assert every == [(date(2027, 5, 7), 2), (date(2027, 5, 14), 1), (date(2027, 5, 21), 2), (date(2027, 5, 28), 1)]
    assert ahead.planned_starts(room, TODAY, date(2027, 5, 21), date(2027, 5, 27)) == every[2:3]
    assert ahead.planned_starts(room, TODAY, date(2027, 5, 22), date(2027, 5, 28)) == every[3:]
    assert ahead.planned_starts({**room, "trays_per_week": 0}, TODAY, date(2027, 5, 1), date(2027, 5, 28)) == []
    assert ahead.planned_starts(room, TODAY, date(2027, 4, 1), date(2027, 5, 6)) == []
    half = ahead.planned_starts({**room, "trays_per_week": 0.5}, TODAY, date(2027, 5, 1), date(2027, 5, 21))
    assert half == [(date(2027, 5, 7), 1), (date(2027, 5, 21), 1)]


def test_the_logbook_goes_before_the_plan_once_it_begins():
    room = {"name": "Room", "weekday": "wednesday", "trays_per_week": 2, "started": date(2027, 5, 12)}
    until = date(2027, 6, 9)
    planned = [(date(2027, 5, 12) + timedelta(days=7 * week), 2) for week in range(5)]
    assert ahead.batches(room, Book(), TODAY, until) == planned
    logged = Book(
        entries=[
            entry("trays", 3.0, days=-9, place="Room"),
            entry("trays", 1.0, days=-9, place="Room"),
            entry("trays", 9.0, days=-9, place="Other"),
            entry("trays", 0.0, days=-8, place="Room"),
        ]
    )
    assert ahead.batches(room, logged, TODAY, until) == [*planned[:2], (date(2027, 5, 24), 4), *planned[3:]]
    assert ahead.batches({**room, "started": None}, logged, TODAY, until)[0] == (date(2027, 5, 24), 4)
    today = Book(entries=[entry("trays", 5.0, place="Room")])
    assert ahead.batches(room, today, TODAY, until) == [*planned[:3], (TODAY, 5), planned[4]]


def test_worms_and_hours_of_the_trays(monkeypatch):
    tray = ahead.Tray(Band(2.0, 1.0, 4.0), 28, 10, 0.5)
    monkeypatch.setattr(ahead, "tray", lambda own: tray)
    room = {"name": "Room", "weekday": "wednesday", "trays_per_week": 2, "started": date(2027, 5, 19)}
    # started on May 19 and 26, June 2 and 9: sold ten days later, May 29, June 5, 12 and 19
    assert ahead.worms_by_week([room], Book(), TODAY, 3) == [[2.0, 2.0, 2.0], [4.0, 4.0, 4.0], [8.0, 8.0, 8.0]]
    assert ahead.tray_hours_by_week([room, {"trays_per_week": 1}], 2) == [1.5, 1.5]


def test_a_tray_is_that_of_the_trays_page():
    from calc.engine.run import answer

    view, tray = answer("breeding.trays"), ahead.tray()
    rate = view.trays_per_week
    kept = view.replacement_per_week
    assert kept > 0 and tray.worms.value * rate == pytest.approx(view.band("worm_mass_per_week").value - kept)
    assert tray.hours_per_week * rate == pytest.approx(view.band("labour_hours_per_week").value)
    assert (tray.breeding_days, tray.days_to_sale) == (
        round(view.breeding_days),
        round(view.band("days_to_first_sale").value),
    )


# ---- two copies of one logbook


def test_two_copies_come_in_order_of_days():
    def row(day, amount, **more):
        return {"date": day, "place": "North", "what": "feed", "amount": amount, "unit": "kg", "note": ""} | more

    both = merged([row(date(2027, 5, 3), 1.0)], [row(date(2027, 5, 2), 2.0), row(date(2027, 5, 3), True)])
    assert [one["amount"] for one in both.rows] == [2.0, 1.0, True]
    assert len(both.conflicts) == 0  # as much was said
    once, twice = [row(TODAY, 1.0)], [row(TODAY, 1.0), row(TODAY, 1.0)]
    assert (len(merged(once, twice).rows), len(merged(twice, once).rows)) == (2, 2)
    noon = datetime(2027, 5, 3, 12, 0)
    assert len(merged([row(date(2027, 5, 3), 1.0)], [row(noon, 2.0)]).conflicts) == 1
    (said,) = merged([row("2027-05-03", 10.0)], [row("2027-05-03T10:00", 12.5, unit="KG ")]).conflicts
    assert said == (
        "2027-05-03, North, feed: one copy says 10 kg, the other 12.5 KG."
        " Both are kept: take out the one that is wrong."
    )
    (said,) = merged([row(TODAY, 10.0, place="", unit=None)], [row(TODAY, None, place=None, unit=None)]).conflicts
    assert "2027-06-02, shed, feed: one copy says 10, the other no amount." in said
    assert merged([row(TODAY, None)], [row(TODAY, None, who="Ann")]).conflicts == []
    assert len(merged([row(TODAY, -10.0)], [row(TODAY, 10.0)]).conflicts) == 1
    assert len(merged([row(TODAY, 1e6)], [row(TODAY, 1e6 + 0.9)]).rows) == 1


# ---- the programme


def test_small_programmes_by_hand():
    """3x + 5y, x ≤ 4, 2y ≤ 12, 3x + 2y ≤ 18: 36 at (2, 6), as a textbook has it."""
    gains, rows, rights = [3, 5], [[1, 0], [0, 2], [3, 2]], [4, 12, 18]
    assert gain(gains, rows, rights) == pytest.approx(36)
    assert [shadow_price(gains, rows, rights, row) for row in range(3)] == pytest.approx([0, 1.5, 1])
    # tops instead of rows; one that stands at its top comes down again when a better one needs its room
    solved = solve([3, 5], [{0: 3, 1: 2}], [18], [4, 6])
    assert (solved.amounts, solved.gain, solved.worth) == ([2.0, 6.0], 36.0, [1.0])
    solved = solve([5, 4], [{0: 1, 1: 1}], [10], [3, 20])
    assert (solved.amounts, solved.gain, solved.worth) == ([3.0, 7.0], 43.0, [4.0])
    assert solve([-1.0, 0.0], [{0: 1.0}], [3.0], [inf, inf]).amounts == [0.0, 0.0]
    assert solve([1.0], [], [], [2.5]).amounts == [2.5]
    assert solve([1.0], [{0: 4.0}], [1.0], [inf]).amounts == [0.25]
    assert solve([1.0, 1.0], [{0: 1.0, 1: -1.0}], [0.0], [inf, 7.0]).amounts == [7.0, 7.0]
    with pytest.raises(NoPlan, match="nothing holds"):
        solve([1.0, 1.0], [{0: 1.0, 1: -1.0}], [0.0], [inf, inf])
    with pytest.raises(NoPlan, match="below nothing"):
        solve([1.0], [{0: 1.0}], [-0.5], [inf])
    assert solve([1.0], [{0: 1.0}], [0.0], [inf]).gain == 0.0


def test_the_thing_that_enters():
    tops = [inf, inf, inf, 0.0]
    reduced = {2: 5.0, 1: 7.0, 0: 6.0, 3: 99.0}
    assert _entering(reduced, set(), tops, {}, careful=False) == 1
    assert _entering(reduced, set(), tops, {}, careful=True) == 0
    assert _entering({0: 5.0, 1: 7.0}, set(), tops, {}, careful=False) == 1
    assert _entering(reduced, {1}, tops, {}, careful=False) == 0
    assert _entering({1: -3.0, 0: 2.0}, {1}, tops, {}, careful=False) == 1
    assert _entering(reduced, set(), tops, {1: 0}, careful=False) == 0
    assert _entering({0: 1e-10}, set(), tops, {}, careful=False) is None


def test_a_programme_that_goes_round_in_circles_is_left_by_the_careful_rule():
    """Beale 1955, as textbooks have it (recalled): the steepest rule alone repeats its bases for ever; best 0.05."""
    rows = [{0: 0.25, 1: -60.0, 2: -0.04, 3: 9.0}, {0: 0.5, 1: -90.0, 2: -0.02, 3: 3.0}, {2: 1.0}]
    solved = solve([0.75, -150.0, 0.02, -6.0], rows, [0.0, 0.0, 1.0], [inf] * 4)
    assert solved.gain == pytest.approx(0.05)
    assert solved.amounts == pytest.approx([0.04, 0.0, 1.0, 0.0])
