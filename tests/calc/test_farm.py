"""The farm's pages: a logbook read, stock that never goes below nothing, a week whose calendar keeps its entries,
money that adds up.
"""

import random
import re
import sys
from dataclasses import replace
from datetime import date, datetime, timedelta
from itertools import pairwise
from math import radians, sin

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import calc
import calc.farm.money
from calc.climate.season import season
from calc.economics.cash import month_span
from calc.engine import Refused
from calc.engine.calendar import calendar_text
from calc.engine.describe import Event, typical
from calc.engine.explore import value_at
from calc.engine.run import answer
from calc.facts import lane as lane_facts
from calc.farm.ahead import goods_ahead, plan_of, planned_starts, slices_of, tray
from calc.farm.figures import OF_LANES, OF_TRAYS
from calc.farm.log import _read_log as read_anew
from calc.farm.log import read_log
from calc.farm.money import actuals
from calc.farm.shelf import promised, shed_of, spread_out
from calc.farm.stock import WEEKS_A_MONTH, Supply, promises, short_orders
from calc.farm.tables import LANES, LOG, PRODUCTS, ROOMS, TODAY, WORDS
from calc.lane.model import course_of, follow
from calc.lane.questions import feeding_rows
from calc.lane.stages import HIGH, LOW, TYPICAL
from calc.page.answer import answer as answer_html
from calc.page.form import plan_key
from calc.records.learn import KNOWN

money_page = sys.modules["calc.farm.money"]
PAGES = ["farm.week", "farm.stock", "farm.money"]


def row(day, place, what, amount=None, unit="", note=""):
    return {"date": day, "place": place, "what": what, "amount": amount, "unit": unit, "who": "", "note": note}


def book_of(*rows, today=TODAY):
    return read_log(rows, LANES, ROOMS, PRODUCTS, today)


# ---- the logbook


def test_amounts_are_read_in_any_unit_of_their_kind():
    book = book_of(
        row("2027-05-01", "North lane", "feed", 44, "lb"),
        row("2027-05-01", "north LANE ", "Fed", 20, "kg"),
        row("2027-05-01", "North lane", "water", 5, "gal"),
        row("2027-05-01", "North lane", "temperature", 68, "F"),
        row("2027-05-01", "North lane", "moisture", 75, "%"),
        row("2027-05-01", "North lane", "moisture", 75),
        row("2027-05-01", "North lane", "face", 3, "ft"),
    )
    assert not book.told
    assert [entry.place for entry in book.entries] == ["North lane"] * 7
    amounts = [entry.amount for entry in book.entries]
    assert amounts == pytest.approx([19.958, 20, 18.927, 20, 0.75, 0.75, 0.9144], rel=1e-3)


BARE = """date,place,what,amount,unit,note
2027-05-01,North lane,fed,44,,
2027-05-01,North lane,temperature,68,,
2027-05-02,North lane,water,5,,
2027-05-03,North lane,face,3 ft,,
2027-05-03,shed,sold,2,,Bag of castings
2027-05-04,Tray room,worms,10,,
2027-05-05,shed,hours,3,,
"""


@pytest.mark.parametrize(
    ("units", "amounts", "said"),
    [
        ("us", [19.958, 20, 18.927, 0.9144, 2, 4.536, 3], ["lb", "°F", "gal", "lb"]),
        ("metric", [44, 68, 5, 0.9144, 2, 10, 3], ["kg", "°C", "L", "kg"]),
        (None, [44, 68, 5, 0.9144, 2, 10, 3], ["kg", "°C", "kg", "kg"]),
    ],
)
def test_a_row_without_a_unit_is_read_in_the_units_of_the_book_and_that_is_told(units, amounts, said):
    log = calc.find("farm.week").inputs["log"]
    book = book_of_rows(log.value(BARE, units))
    assert [entry.amount for entry in book.entries] == pytest.approx(amounts, rel=1e-3)
    assert [sentence.split(" for ")[1] for sentence in book.told] == [
        f"{what}, so {unit} is meant."
        for what, unit in zip(("feed", "temperature", "water", "worms"), said, strict=True)
    ]


def test_what_a_row_without_a_unit_meant_stands_in_the_heading_when_the_log_is_kept():
    """A book kept in pounds and read in kilograms weighs the same, and nobody is asked or told again."""
    log = calc.find("farm.week").inputs["log"]
    for units in ("us", "metric"):
        kept = log.units_named(BARE, units)
        assert f"amount ({'US' if units == 'us' else 'metric'} units)" in kept.splitlines()[0]
        for other in ("us", "metric", None):
            read = log.value(kept, other)
            assert list(read) == list(log.value(BARE, units)) and not book_of_rows(read).told
            assert log.units_named(kept, other) == kept
    assert log.units_named("date,what,amount,unit\n2027-05-01,feed,4,kg", "us").startswith("date,what,amount,unit")


def book_of_rows(rows):
    return read_log(rows, LANES, ROOMS, PRODUCTS, TODAY)


def test_castings_spoiled_without_a_unit_are_told_and_bags_are_not():
    told = book_of(
        row("2027-05-01", "shed", "spoiled", 5), row("2027-05-01", "shed", "spoiled", 5, "", "bag of castings")
    )
    assert told.told == ["Logbook, row 1: no unit is written for spoiled, so kg is meant."]


def test_a_logbook_of_days_is_written_without_times_of_day():
    log = calc.find("farm.week").inputs["log"]
    text = log.text(LOG, "us")
    assert "00:00" not in text and list(log.value(text, "us"))[:3] == [
        {**one, "amount": pytest.approx(one["amount"], rel=1e-8)} for one in LOG[:3]
    ]
    timed = "date,what\n2027-05-01 14:00,note\n2027-05-02 00:00,note"
    assert log.text(log.value(timed, "us"), "us").count("00:00") == 1
    assert not any("00:00" in str(cell) for row in log.as_grid(LOG, "us").rows for cell in row)


def test_what_is_done_at_no_lane_is_told_and_a_single_lane_is_meant_where_none_is_written():
    rows = [row("2027-05-01", "Norht lane", "feed", 5, "kg"), row("2027-05-01", "", "water", 5, "kg")]
    told = book_of(*rows, row("2027-05-01", "", "paid", 5, "$")).told
    assert (
        len(told) == 2 and "“Norht lane” is none of your lanes" in told[0] and "no lane is written (water)" in told[1]
    )
    one = read_log(rows[1:], LANES[:1], ROOMS, PRODUCTS, TODAY)
    assert not one.told and [entry.place for entry in one.entries] == ["North lane"]


def test_a_sheet_of_days_becomes_rows_of_the_logbook():
    log = calc.find("farm.week").inputs["log"]
    sheet = (
        'Lane 2;;;\ntime (day first);lane;feed (kg) (decimal comma);temperature (°C);weather;"who, what was seen"\n'
        "3/5/2027;Barn lane;12,5;18,5;wet;Ash: mites\n4/5/2027;Barn lane;–;19;;\n"
    )
    text, notes = log.in_own_form(sheet)
    assert notes == ["Not for the logbook, left out: “weather”."]
    assert log.in_own_form(text) == (text, []), "rows stay rows"
    rows = log.value(sheet, "us")
    assert [(one["place"], one["what"], one["amount"], one["unit"], one["note"]) for one in rows] == [
        ("Barn lane", "feed", 12.5, "kg", "Ash: mites"),
        ("Barn lane", "temperature", 18.5, "degC", "Ash: mites"),
        ("Barn lane", "temperature", 19, "degC", None),
    ]
    assert [one["date"].day for one in rows] == [3, 3, 4] and list(log.value(text, "us")) == list(rows)


def test_what_cannot_be_used_is_told_once_for_each_kind_and_nothing_else_is_lost():
    rows = [row("2027-05-01", "North lane", "danced", 3)] * 900 + [
        row("2027-05-02", "North lane", "feed", 3, "furlong"),
        row("2027-05-03", "shed", "sold", 2, "elephant"),
        row("2027-05-04", "North lane", "feed", -5, "kg"),
        row("2027-05-05", "North lane", "feed", None, "kg"),
        row("2027-05-06", "North lane", "feed", 5, "kg"),
        row("2027-09-06", "North lane", "feed", 5, "kg"),
    ]
    book = book_of(*rows)
    assert len(book.told) == 6 and "danced" in book.told[0] and "897 more" in book.told[0]
    assert [entry.amount for entry in book.entries if entry.what == "feed"] == [5]
    assert sum(entry.what == "note" for entry in book.entries) == 900


@pytest.mark.parametrize("id", PAGES)
def test_the_demo_farms_logbook_counts_on_no_other_farm(id):
    """Whoever has entered lanes of their own is not promised the demo farm's bags, nor shown its sales as theirs."""
    own = [{**LANES[0], "name": "Quay lane", "started": date(2027, 5, 1)}]
    without = calc.run(id, {"lanes": own, "log": ""})
    found = calc.run(id, {"lanes": own})
    assert found["outputs"] == without["outputs"]
    told = [said for said in found["warnings"] if said not in without["warnings"]]
    assert len(told) == 2 and "is the demo farm's" in told[0] and "press the button" in told[1]
    later = calc.run(id, {"lanes": own, "today": "2027-06-14"})["warnings"]
    assert not [said for said in later if "press the button" in said]
    assert [said for said in later if "demo farm's" in said]
    # one of its lanes is still there, so somebody tries what a figure does
    tried = calc.run(id, {"lanes": [*own, LANES[1]]})
    assert not [said for said in tried["warnings"] if "demo farm's" in said]


def test_a_sale_to_come_is_an_order_and_the_product_is_found_by_name_or_unit():
    book = book_of(
        row("2027-05-01", "shed", "sold", 2, "bags"),
        row("2027-05-01", "Worms", "sold", 1, "lb"),
        row("2027-05-01", "shed", "sold", 1, "kg", "worms for Ash"),
        row("2027-05-01", "shed", "sold", 48, "$", "Bag of castings"),
        row("2027-07-01", "shed", "sold", 3, "tub"),
    )
    assert not book.told
    assert [entry.product for entry in book.entries] == [0, 2, 2, 0]
    assert [entry.amount for entry in book.entries] == pytest.approx([2, 1, 2.2046, 3], rel=1e-4)
    assert book.entries[3].money == 48 and [entry.product for entry in book.orders] == [3]


@pytest.mark.parametrize("word", WORDS)
def test_every_word_of_the_logbook_is_understood(word):
    assert not book_of(
        row("2027-05-01", "Tray room", word, 2, {"bagged": "bag", "sold": "bag"}.get(word, ""))
    ).told or word in {
        "feed",
        "water",
        "temperature",
        "face",
        "gap",
        "castings",
        "screened",
        "spoiled",
    }  # those are told only for want of a unit


@pytest.mark.parametrize("id", PAGES)
def test_lanes_that_freeze_by_the_climate_are_told_and_not_only_left_without_feed(id):
    found = calc.run(id, {"climate": "cold"}, units="us")["warnings"]
    assert any("kill most worms in North lane and Barn lane" in said for said in found)
    assert not any("kill most" in said for said in calc.run(id, {"climate": "mild"})["warnings"])


# ---- stock


@st.composite
def logbooks(draw):
    """Rows in any order of things made, packed, sold and spoiled."""
    rows = []
    for _ in range(draw(st.integers(0, 40))):
        day = date(2027, 1, 1) + timedelta(days=draw(st.integers(0, 140)))
        what = draw(st.sampled_from(["castings", "screened", "worms", "bagged", "sold", "spoiled"]))
        amount = draw(st.floats(0, 60))
        unit = (
            "kg"
            if what in ("castings", "screened", "worms")
            else draw(st.sampled_from(["bag", "pound", "tub", "yard"]))
        )
        rows.append(row(day.isoformat(), "shed", what, amount, unit))
    return rows


@settings(max_examples=150, deadline=None)
@given(logbooks())
def test_stock_is_made_less_sold_and_spoiled_and_never_below_nothing(rows):
    book = book_of(*rows)
    shed = shed_of(book, PRODUCTS)
    assert shed.castings >= 0 and shed.worms >= 0
    for shelf in shed.shelves:
        assert shelf.left >= -1e-9
        assert shelf.made - shelf.sold - shelf.spoiled == pytest.approx(shelf.left, abs=1e-6)
        assert shelf.sold <= shelf.made + 1e-9
    written = {"sold": 0.0, "spoiled": 0.0}
    for entry in book.entries:
        if entry.what in written and entry.product is not None:
            written[entry.what] += entry.amount
    counted = sum(shelf.sold + shelf.spoiled + shelf.short for shelf in shed.shelves)
    assert counted == pytest.approx(sum(written.values()), abs=1e-6)


@settings(max_examples=40, deadline=None)
@given(logbooks())
def test_weights_are_kept_where_nothing_was_packed_out_of_thin_air(rows):
    rows = [one for one in rows if one["what"] != "bagged"]
    book = book_of(*rows)
    shed = shed_of(book, PRODUCTS)
    into = sum(e.amount for e in book.entries if e.what == "worms")
    gone = sum((shelf.sold + shelf.spoiled) * product["worms"] for shelf, product in zip(shed.shelves, PRODUCTS))
    assert shed.worms + gone == pytest.approx(into, abs=1e-6)
    gone = sum((shelf.sold + shelf.spoiled) * product["castings"] for shelf, product in zip(shed.shelves, PRODUCTS))
    assert shed.castings + gone == pytest.approx(shed.screened, abs=1e-6)


def test_more_sold_than_made_is_told_and_not_counted():
    found = calc.run("farm.stock", {"log": [row("2027-05-01", "shed", "sold", 5, "bag")]})
    table = {cells[0]: cells for cells in found["tables"]["stock"]["rows"]}
    assert table["Bag of castings"][1:5] == [0, 0, 0, 0]
    assert any("Bag of castings" in sentence for sentence in found["warnings"])


def test_a_promise_lies_in_its_range():
    view = answer("farm.stock")
    for cells in next(table for table in view.shown.tables if table.name == "stock").rows:
        bands = cells[5:8]
        assert all(band.low <= band.value <= band.high for band in bands)


def rising(bands):
    """No end of a product's range is lower for a later date than for a nearer one."""
    return all(
        getattr(later, end) >= getattr(sooner, end) - 1e-9
        for sooner, later in pairwise(bands)
        for end in ("low", "value", "high")
    )


def random_farm(chance):
    """(products, rows of a logbook with orders to come, a supply of castings and worms in three cases)."""
    products = [
        {
            "name": f"product {at}",
            "unit": f"unit{at}",
            "castings": (holds := chance.choice([0.0, 0.5, 4.0, 18.0, 300.0])),
            "worms": chance.choice([0.0, 0.3]) if holds else 0.45,
            "price": chance.uniform(1, 60),
            "packing": chance.uniform(0, 5),
            "most_per_month": chance.choice([None, 0.4, 6, 40]),
            "keeps": chance.choice([None, 20, 180]),
        }
        for at in range(chance.randint(1, 6))
    ]
    rows = [row("2027-01-05", "shed", "screened", chance.uniform(0, 90), "kg")]
    for _ in range(chance.randint(0, 12)):
        day = TODAY + timedelta(days=chance.randint(-60, 70))
        what = "sold" if day > TODAY else chance.choice(["bagged", "sold"])
        rows.append(row(day.isoformat(), "shed", what, chance.uniform(0, 9), chance.choice(products)["unit"]))
    middle = [chance.choice([0.0, 0.0, chance.uniform(0, 80)]) for _ in range(8)]
    worms = [chance.choice([0.0, chance.uniform(0, 3)]) for _ in range(8)]
    cases = (0.6, 1.0, 1.4)
    supply = Supply([[share * one for one in middle] for share in cases], [[s * one for one in worms] for s in cases])
    return products, rows, supply


def together_they_can_be_kept(ahead, products, shed, supply, book):
    """All promises of one date, with what is ordered by then, use no more than there is; none is more than is there or
    asked for.
    """
    for weeks, column in zip((2, 4, 8), ahead):
        pools = {
            "castings": shed.castings + sum(supply.castings[1][:weeks]),
            "worms": shed.worms + sum(supply.worms[1][:weeks]),
        }
        ordered = promised(book, products, TODAY + timedelta(days=7 * weeks))
        fresh = [
            max(0.0, band.value + gone - shelf.left) if band.value else 0.0
            for band, gone, shelf in zip(column, ordered, shed.shelves)
        ]
        for what, there in pools.items():
            if sum(units * row[what] for units, row in zip(fresh, products)) > there + 1e-6:
                return False
        for band, shelf, row in zip(column, shed.shelves, products):
            most = row["most_per_month"]
            if most is not None and band.high > max(shelf.left, most * weeks / WEEKS_A_MONTH) + 1e-6:
                return False
    return True


def test_no_farm_promises_fewer_for_a_later_date_and_all_promises_together_can_be_kept():
    chance, ordered = random.Random(18), 0
    for _ in range(300):
        products, rows, supply = random_farm(chance)
        book = read_log(rows, LANES, ROOMS, products, TODAY)
        shed = shed_of(book, products)
        ahead = promises(shed, book, products, supply, TODAY)
        assert all(rising(bands) for bands in zip(*ahead)), (products, rows)
        assert together_they_can_be_kept(ahead, products, shed, supply, book), (products, rows)
        assert ahead[2:] == promises(shed, book, products, supply, TODAY, (8,)), "nothing later, nothing kept back"
        ordered += bool(book.orders)
    assert 50 < ordered < 290


def slicing_farm(chance):
    """Lanes of all ages and sizes, and a logbook in which some were sliced, some never, and some castings wait."""
    lanes, rows = [], []
    for at in range(chance.randint(1, 3)):
        name, side = f"lane {at}", chance.random() < 0.5
        age = chance.randint(30, 1000)
        lanes.append(
            {
                "name": name,
                "fed_on": "side" if side else "end",
                "length": chance.uniform(2, 12),
                "width": chance.uniform(0.9, 1.8),
                "height": chance.uniform(0.3, 0.6),
                "started": TODAY - timedelta(days=age),
                "worms": chance.uniform(3, 60),
            }
        )
        if chance.random() < 0.6:
            day = TODAY - timedelta(days=chance.randint(0, min(age, 90)))
            rows.append(row(day.isoformat(), name, "castings", chance.uniform(20, 400), "kg"))
    if chance.random() < 0.6:
        rows.append(row((TODAY - timedelta(days=chance.randint(0, 60))).isoformat(), "shed", "screened", 50, "kg"))
    return lanes, rows


def test_a_promise_rests_on_the_shed_and_on_slices_that_the_list_of_their_week_shows():
    """What stock counts as coming today is sliced and screened by the lists of the eight weeks, on those days."""
    chance, listed, screened = random.Random(21), 0, 0
    for _ in range(12):
        lanes, rows = slicing_farm(chance)
        asked = {"lanes": lanes, "rooms": [], "climate": chance.choice(["mild", "dry", "cold"])}
        stock = answer("farm.stock", {**asked, "log": rows})
        counted = goods_ahead(stock.seen.lanes, stock.seen.book, TODAY)
        assert typical(stock.castings_in_eight_weeks) == pytest.approx(sum(mass for day, mass in counted if day < 56))
        promised_on = {
            (lane.name, max(0, one.day)): one
            for lane in stock.seen.lanes
            for one in slices_of(lane, stock.seen.book, TODAY)
        }
        seen, coming = {}, []
        for week in range(8):
            monday = TODAY + timedelta(days=7 * week)
            view = answer("farm.week", {**asked, "log": rows, "today": monday})
            if not week:
                coming = [one.amount for one in view.seen.due if one.what == "screened"]
                listing = next(table for table in view.shown.tables if table.name == "slices").rows
            for one in view.seen.due:
                if one.what == "castings":
                    day = max(one.day, monday)
                    seen[one.place, (day - TODAY).days] = one.amount
                    rows.append(row(day.isoformat(), one.place, "castings", one.amount, "kg"))
        ahead = {key: one for key, one in promised_on.items() if key[1] < 56}
        assert seen == pytest.approx({key: one.mass for key, one in ahead.items()})
        assert {(str(name), max(0, (day - TODAY).days)) for name, day, *_ in listing} == set(ahead)
        assert sum(mass for _, _, mass, _ in listing) == pytest.approx(sum(one.mass for one in ahead.values()))
        assert sorted(mass for _, mass in counted) == pytest.approx(
            sorted([*coming, *(one.passes for one in promised_on.values() if one.passes)])
        )
        listed, screened = listed + len(ahead), screened + len(coming)
    assert listed > 20 and screened


def test_money_counts_the_castings_that_stock_promises():
    for today in (TODAY, date(2027, 8, 15), date(2027, 12, 1)):
        stock, money = answer("farm.stock", {"today": today}), answer("farm.money", {"today": today})
        eight = sum(weight for day, weight in goods_ahead(money.seen.lanes, money.seen.book, today) if day < 56)
        assert typical(stock.castings_in_eight_weeks) == pytest.approx(eight)
        assert sum(money.seen.farm.castings[1]) == pytest.approx(
            sum(w for d, w in goods_ahead(money.seen.lanes, money.seen.book, today) if d < 365), rel=0.2
        )


def test_what_a_better_paid_product_or_a_later_order_needs_is_not_promised_before():
    """Bags hold 10 kg and bring 2.4 a kg, at most 26 in eight weeks; a yard of 300 kg brings 0.3 a kg."""
    bag = {"name": "Bag", "unit": "bag", "castings": 10.0, "worms": 0.0, "price": 24, "most_per_month": 13}
    loose = {"name": "Loose", "unit": "yard", "castings": 300.0, "worms": 0.0, "price": 90, "most_per_month": None}
    in_two, in_eight = 130 * 2 / (365.25 / 84), 130 * 8 / (365.25 / 84)  # kg that the bags take by then

    def columns(castings, *rows):
        book = read_log(rows, LANES, ROOMS, [bag, loose], TODAY)
        supply = Supply([[castings, *[0.0] * 7]] * 3, [[0.0] * 8] * 3)
        found = promises(shed_of(book, [bag, loose]), book, [bag, loose], supply, TODAY)
        return [[band.value for band in column] for column in found]

    scarce = columns(100.0)  # eight weeks of bags take all of it, so nothing is left to promise loose
    assert scarce[0] == pytest.approx([in_two / 10, 0]) and scarce[2] == pytest.approx([10, 0])
    plenty = columns(in_eight + 60)
    assert [column[1] for column in plenty] == pytest.approx([60 / 300] * 3)
    order = row((TODAY + timedelta(days=50)).isoformat(), "shed", "sold", 6, "bag")
    assert columns(100.0, order)[0] == pytest.approx([4, 0])


BAG = {"name": "Bag", "unit": "bag", "castings": 10.0, "worms": 0.0, "price": 24, "most_per_month": 4}
LOOSE = {"name": "Loose", "unit": "yard", "castings": 300.0, "worms": 0.0, "price": 90, "most_per_month": None}


def short_of(products, *rows, castings=(0.0,) * 8):
    """[(product, ordered, there, missing)] of a shed with these rows."""
    book = read_log(rows, LANES, ROOMS, products, TODAY)
    supply = Supply([list(castings)] * 3, [[0.0] * 8] * 3)
    return [tuple(one) for one in short_orders(shed_of(book, products), book, products, supply, TODAY)]


def order(days, units, unit="bag"):
    return row((TODAY + timedelta(days=days)).isoformat(), "shed", "sold", units, unit)


def test_orders_are_taken_off_once_and_only_what_cannot_be_made_is_missing():
    """Eight bags are packed and castings for three more lie there: ten ordered are no shortage, twelve are one."""
    shed = [
        row("2027-05-20", "shed", "screened", 110, "kg"),
        row("2027-05-20", "shed", "bagged", 8, "bag"),
    ]
    assert short_of([BAG, LOOSE], *shed, order(5, 10)) == []
    assert short_of([BAG, LOOSE], *shed, order(5, 7), order(12, 5)) == [(0, 12, 8, pytest.approx(1))]
    assert short_of([BAG, LOOSE], *shed, order(5, 10), order(30, 90)) == [], "later orders are no matter of two weeks"


def test_an_order_is_not_met_by_what_comes_after_it():
    comes = [0.0, 50.0, *[0.0] * 6]  # in the second week
    assert short_of([BAG], order(5, 4), castings=comes) == [(0, 4, 0, 4)]
    assert short_of([BAG], order(14, 4), castings=comes) == []


def test_the_page_tells_of_a_shortage_by_what_is_missing():
    log = [row("2027-05-20", "shed", "bagged", 4, "tub"), row("2027-06-03", "shed", "sold", 9, "tub")]
    found = calc.run("farm.stock", {"log": log, "lanes": []})
    assert [said for said in found["warnings"] if "Ordered" in said] == [
        "Ordered for the next two weeks of “Starter tub”: 9. Packed and good: 4."
        " With what can be made in time 5 will be missing."
    ]
    log[1]["amount"] = 4
    assert not [said for said in calc.run("farm.stock", {"log": log})["warnings"] if "Ordered" in said]


def test_what_is_ordered_is_promised_to_nobody_else_however_well_they_pay():
    book = read_log([order(5, 0.5, "yard")], LANES, ROOMS, [BAG, LOOSE], TODAY)
    supply = Supply([[160.0, *[0.0] * 7]] * 3, [[0.0] * 8] * 3)
    found = promises(shed_of(book, [BAG, LOOSE]), book, [BAG, LOOSE], supply, TODAY)
    assert [band.value for band in found[0]] == pytest.approx([1, 0]), "half a yard takes 150 of the 160 kg"
    losing = {**LOOSE, "packing": 95.0}
    found = promises(shed_of(book, [BAG, losing]), book, [BAG, losing], supply, TODAY)
    assert [band.value for band in found[0]] == pytest.approx([1, 0]), "an order stands though it brings nothing"


@pytest.mark.parametrize(
    ("id", "makes_it"),
    [
        ("farm.week", ("calc.farm.week", ("read_log", "lanes_ahead", "due_list"))),
        ("farm.stock", ("calc.farm.stock", ("book_of", "shed_of", "lanes_ahead", "promises", "short_orders"))),
        ("farm.money", ("calc.farm.money", ("book_of", "farm_of", "terms_of", "course", "drawn", "best_of"))),
        ("records.learn", ("calc.records.learn", ("read_log", "coefficients"))),
        ("economics.cash", ("calc.economics.cash", ("plan_of", "months_of", "loan_by_month"))),
        ("economics.return", ("calc.economics.returns", ("months_of", "rates_of_return"))),
    ],
)
def test_what_was_worked_out_is_shown_and_not_worked_out_again(id, makes_it, monkeypatch):
    module, names = makes_it
    view = answer(id, {"loan_amount": 900} if id.startswith("economics") else {})
    if id == "economics.return":  # the widest mover asks for other plans than the reader's
        monkeypatch.setattr("calc.economics.returns.widest_mover", lambda v: None)
    for name in names:
        monkeypatch.setattr(
            sys.modules[module], name, lambda *_, name=name, **__: pytest.fail(f"{name} is asked again")
        )
    assert view.shown.tables and view.shown.working


@pytest.mark.parametrize("id", PAGES)
def test_a_draw_gives_what_the_page_gives_and_follows_each_lane_once(id, monkeypatch):
    entry = calc.find(id)
    given = {**answer(id).given, "ration": 0.613}
    whole = entry.function(**given)
    monkeypatch.setattr("calc.farm.ahead.course_of", lambda *asked: followed.append(asked) or course_of(*asked))
    for at, name in enumerate(entry.numeric_outputs):
        followed = []
        ration = 0.613 + 1e-9 * (at + 1) + 1e-6 * PAGES.index(id)  # a lane that nobody has asked for yet
        assert value_at(entry, given, name, ration=ration) is not None or name == "worth_of_tray"
        most = 3 if name == "chance_of_running_dry" else 1  # counted over draws between the low and the high case
        assert len(LANES) <= len(followed) <= most * len(LANES), name
        assert value_at(entry, given, name) == typical(getattr(whole, name)), name


@pytest.mark.parametrize("today", [date(2027, 5, 31), date(2027, 1, 11), date(2027, 10, 25)])
def test_a_draw_of_this_weeks_feed_looks_as_far_as_its_pace_asks(today):
    """In winter eight layers lie further ahead than the days that a draw follows at first."""
    entry = calc.find("farm.week")
    given = {**answer("farm.week").given, "log": [], "today": today}
    for ration in (0.4, 0.75, 1.0):
        whole = entry.function(**given | {"ration": ration})
        for name in ("feed_this_week", "water_this_week", "hours_this_week"):
            assert value_at(entry, given, name, ration=ration) == getattr(whole, name), (name, ration)


def test_another_price_reads_the_logbook_anew_only_where_units_hang_on_it(monkeypatch):
    reads = []
    monkeypatch.setattr("calc.farm.log._read_log", lambda *asked: reads.append(asked) or read_anew(*asked))
    dearer = [{**row, "price": 2 * row["price"]} for row in PRODUCTS]
    for unit, amounts, times in (("bag", (32.0, 32.0), 1), ("$", (2.0, 1.0), 2)):
        rows = [{"date": datetime(2027, 5, 1), "place": "shed", "what": "sold", "amount": 32.0, "unit": unit}]
        rows[0] |= {"note": "Bag of castings"}
        reads.clear()
        found = [read_log(rows, LANES, ROOMS, products, TODAY) for products in (PRODUCTS, dearer)]
        assert tuple(book.entries[0].amount for book in found) == amounts
        assert len(reads) == times, unit


def test_a_lane_in_columns_is_the_lane():
    """What a farm reads off in columns are the days of the model, digit by digit."""
    for lane, case in zip((*LANES, *LANES), (TYPICAL, TYPICAL, LOW, HIGH)):
        plan = plan_of(lane, 0.71, season("cold", None), TODAY)
        days, course = follow(plan, 700, case), course_of(plan, 700, case)
        assert course.worms == [day.worms for day in days]
        assert course.stocking == [day.stocking for day in days]
        assert course.bed_temperature == [day.bed_temperature for day in days]
        assert course.watered == [day.watered for day in days]
        assert course.hours == [day.hours for day in days]
        assert course.fed == [(day.day, day.laid, day.thickness) for day in days if day.laid]
        assert course.fed
        assert course.sliced == [
            (day.day, day.sliced, day.sliced_castings, day.sliced_base) for day in days if day.sliced
        ]


def test_what_is_spread_out_uses_no_more_than_there_is():
    for castings, worms in ((0, 0), (50, 1), (1000, 30)):
        made = spread_out(PRODUCTS, [1e6] * len(PRODUCTS), castings, worms)
        assert sum(units * product["castings"] for units, product in zip(made, PRODUCTS)) <= castings + 1e-6
        assert sum(units * product["worms"] for units, product in zip(made, PRODUCTS)) <= worms + 1e-6


# ---- this week


def due(**values):
    found = calc.run("farm.week", values)
    assert "errors" not in found, found
    return found["tables"]["due"]["rows"]


def test_a_lane_that_was_fed_today_is_not_due_today_and_one_that_was_not_is_late():
    lane = [LANES[1]]
    fed = due(lanes=lane, rooms=[], log=[row("2027-05-31", "Barn lane", "feed", 20, "kg")])
    assert min(cells[3] for cells in fed if cells[1] == "Feed") > "2027-05-31"
    late = due(lanes=lane, rooms=[], log=[row("2027-05-10", "Barn lane", "feed", 20, "kg")])
    first = next(cells for cells in late if cells[1] == "Feed")
    assert first[4] > 7 and late[0][4] == max(cells[4] or 0 for cells in late)


def test_late_trays_are_asked_for_once_and_logged_ones_not_at_all():
    log = [row("2027-05-17", "Tray room", "trays", 3, "trays")]
    started = [cells for cells in due(lanes=[], log=log, products=[]) if cells[1] == "Start trays"]
    assert [cells[3] for cells in started] == ["2027-05-31"] or [cells[4] for cells in started] == [7, None]
    log.append(row("2027-05-31", "Tray room", "trays", 3, "trays"))
    assert "2027-05-31" not in [cells[3] for cells in due(lanes=[], log=log, products=[]) if cells[1] == "Start trays"]


def uids(view):
    text = calendar_text(view.shown.events, view.entry.question)
    found = re.findall(r"UID:(\S+)", text)
    assert len(found) == len(set(found)), "an entry stands twice"
    return dict(zip(found, re.findall(r"SUMMARY:(.*)", text)))


def test_a_calendar_read_in_again_after_a_feeding_moves_its_entries_and_doubles_none():
    before = uids(answer("farm.week", {"log": LOG}))
    more = [*LOG, row("2027-06-01", "North lane", "feed", 40, "kg")]
    after = uids(answer("farm.week", {"log": more, "today": "2027-06-02"}))
    assert len(set(before) & set(after)) > 5
    for key in set(before) & set(after):  # the same entry says the same thing at the same place, on whichever day
        assert before[key].split(":")[:2] == after[key].split(":")[:2]
    next_one = next(key for key, words in before.items() if words.startswith("North lane: Feed"))
    assert next_one not in after, "what is done is not asked for again"


def test_the_third_feeding_stays_the_third_when_its_day_and_weight_change():
    def entries(days, weight):
        events = [Event(date(2027, 3, day), f"Feed the lane {weight}", "words") for day in days]
        return re.findall(r"UID:(\S+)", calendar_text(events, "Feeding"))

    assert entries((1, 5, 9), 20) == entries((2, 6, 11), 22.5)
    assert len(set(entries((1, 5, 9), 20))) == 3


def test_two_lanes_with_names_keep_apart_and_say_whose_date_it_is():
    texts = [
        calendar_text(view.shown.events, view.entry.question, view.calendar_name)
        for view in (answer("lane.feeding", {"calendar_name": name}) for name in ("North lane", "Barn lane"))
    ]
    first, second = (set(re.findall(r"UID:(\S+)", text)) for text in texts)
    assert first and not first & second
    assert all("SUMMARY:North lane: " in line for line in re.findall(r"SUMMARY:.*", texts[0]))


def test_fractions_of_trays_are_carried_from_week_to_week():
    room = {"name": "R", "trays_per_week": 0.5, "weekday": "wednesday", "started": date(2027, 3, 1)}
    found = planned_starts(room, date(2027, 3, 1), date(2027, 3, 1), date(2027, 4, 30))
    assert [count for _, count in found] == [1] * len(found) and all(day.weekday() == 2 for day, _ in found)
    gaps = {(after - before).days for (before, _), (after, _) in zip(found, found[1:])}
    assert gaps == {14}


# ---- money


def test_no_worm_is_sold_before_a_tray_can_have_any():
    rooms = [{"name": "New room", "trays_per_week": 20, "weekday": "monday", "started": "2027-05-31"}]
    found = calc.run("farm.money", {"rooms": rooms, "log": [], "lanes": []})
    months = found["tables"]["months"]["rows"]
    wait = int(tray().days_to_sale / 30.4375)
    assert all(cells[2] == 0 for cells in months[:wait]) and any(cells[2] > 0 for cells in months)


def test_cash_is_what_was_there_and_what_came_less_what_went():
    found = calc.run("farm.money", {"paid_share": "50 %", "on_costs": "20 %"})
    cash = found["inputs"]["opening_cash"]["value"]
    for _, _, sales, packing, fixed, wages, _, held in found["tables"]["months"]["rows"]:
        cash += sales - packing - fixed - wages
        assert cash == pytest.approx(held, abs=1e-6)


def test_what_was_set_on_the_pages_of_lanes_and_trays_counts_on_the_farms_pages():
    """It is the same input of the plan, and each figure moves something; what the logbook teaches is among them."""
    own = {**dict.fromkeys(OF_LANES, "lane.output"), **dict.fromkeys(OF_TRAYS, "breeding.trays")}
    assert {known.name for known in KNOWN} - {"ration"} <= set(own)
    usual = {id: whole(id) for id in PAGES}
    for name, page in own.items():
        there = calc.find(page).inputs[name]
        here = calc.find("farm.week").inputs[name]
        assert plan_key(name, here) == plan_key(name, there) and replace(here, group=there.group) == there
        value = 0.9 * calc.find(page).defaults[name] or 0.1
        assert any(whole(id, **{name: value}) != usual[id] for id in PAGES), name


def whole(id, **given):
    return calc.run(id, given)["outputs"]


def test_breeders_that_are_kept_back_are_not_promised():
    page = answer("breeding.trays")
    rate = page.trays_per_week
    promised = calc.run("farm.stock")["outputs"]["worms_in_eight_weeks"]["value"]
    kept = sum(row["trays_per_week"] for row in ROOMS) * 8 * page.replacement_per_week / rate
    every = calc.run("farm.stock", {"replaced_share": 0})["outputs"]["worms_in_eight_weeks"]["value"]
    assert every - promised == pytest.approx(kept) and kept > 0


def test_a_product_without_a_limit_is_said_to_sell_out():
    assert not [said for said in calc.run("farm.money")["warnings"] if "counts as sold" in said]
    free = [{**row, "most_per_month": None} if row["name"] == "Worms" else row for row in PRODUCTS]
    (told,) = [said for said in calc.run("farm.money", {"products": free})["warnings"] if "counts as sold" in said]
    assert "of “Worms”: all that is made" in told


def test_no_two_months_from_today_are_named_alike_and_each_says_what_it_spans():
    for start in (date(2027, 5, 31), date(2028, 1, 30), date(2027, 2, 1)):
        spans = [month_span(start, month) for month in range(1, 37)]
        assert len(set(spans)) == 36
        shown = calc.run("farm.money", {"today": start.isoformat(), "log": ""})["tables"]["months"]["rows"]
        assert [row[1] for row in shown] == spans[:12]


def test_a_draw_of_money_works_its_cash_out_once(monkeypatch):
    worked, of_terms = [], money_page._cash
    monkeypatch.setattr(money_page, "_cash", lambda *asked: worked.append(asked) or of_terms(*asked))
    answer("farm.money", {"opening_cash": 1234.5, "late_days": 31})
    assert len(worked) == 1 + money_page.DRAWS


def test_what_falls_due_each_month_is_in_the_cash_the_hour_and_the_break_even():
    """90 of fixed costs, 55 of energy and 57 of feed, by hand: in one figure on all three."""
    given = {"fixed_cost_per_month": 90, "energy_cost_per_month": 55, "feed_bought_per_month": 57, "wage": 18}
    found = calc.run("farm.money", given)
    out = {name: one["value"] for name, one in found["outputs"].items()}
    left, hours = out["contribution_per_month"], out["hours_per_month"]
    assert {cells[4] for cells in found["tables"]["months"]["rows"]} == {202.0}
    assert out["earned_per_hour"] == pytest.approx((left - 202) / hours)
    assert out["break_even_share"] == pytest.approx((202 + hours * 18) / left)


def test_what_falls_on_wages_is_in_the_cash_the_hour_and_the_break_even():
    """Half of the hours paid at 20, a quarter on top: 2.50 on each hour of the average."""
    wages = {"wage": 20, "paid_share": "50 %"}
    free, taxed = (calc.run("farm.money", {**wages, "on_costs": share}) for share in ("0 %", "25 %"))
    plain, out = ({name: one["value"] for name, one in found["outputs"].items()} for found in (free, taxed))
    hours, left = out["hours_per_month"], out["contribution_per_month"]
    assert out["earned_per_hour"] == pytest.approx(plain["earned_per_hour"] - 2.5)
    assert out["break_even_share"] == pytest.approx(plain["break_even_share"] + hours * 2.5 / left)
    months = len(taxed["tables"]["months"]["rows"])
    assert out["cash_at_end"] == pytest.approx(plain["cash_at_end"] - months * hours * 2.5)
    low, high = (taxed["outputs"]["earned_per_hour"][end] for end in ("low", "high"))
    assert low <= out["earned_per_hour"] <= high
    assert low == pytest.approx(free["outputs"]["earned_per_hour"]["low"] - 2.5)


def test_the_demo_farm_buys_the_feed_of_its_trays_as_the_page_of_one_unit_prices_it():
    per_pound = calc.run("economics.unit_cost")["inputs"]["feed_cost_per_unit"]["value"]
    pounds = sum(row["trays_per_week"] for row in ROOMS) * tray().worms.value / 0.45359237
    usual = calc.run("farm.money")["inputs"]["feed_bought_per_month"]["value"]
    assert usual == pytest.approx(per_pound * pounds * 365.25 / 12 / 7, rel=0.05)


def test_fixed_costs_and_energy_are_one_figure_on_all_pages_about_money():
    pages = [calc.find(id).inputs for id in ("farm.money", "economics.unit_cost", "economics.cash", "economics.return")]
    for name in ("fixed_cost_per_month", "energy_cost_per_month"):
        assert len({plan_key(name, page[name]) for page in pages}) == 1
    assert "energy_cost_per_month" in calc.find("farm.money").inputs


def test_customers_who_pay_late_take_it_out_of_the_till_and_not_out_of_the_sales():
    prompt, late = (calc.run("farm.money", {"late_days": days})["outputs"] for days in (0, 61))
    assert late["cash_at_end"]["value"] < prompt["cash_at_end"]["value"]
    assert late["contribution_per_month"] == prompt["contribution_per_month"]


def test_a_sales_tax_is_no_income():
    free, taxed = (calc.run("farm.money", {"sales_tax": share})["outputs"] for share in (0, 0.25))
    assert taxed["sales_per_month"]["value"] == pytest.approx(free["sales_per_month"]["value"] / 1.25)


def test_actuals_are_what_the_logbook_says():
    found = {month: (sales, spent, hours) for month, sales, spent, hours in actuals(book_of(*LOG), PRODUCTS)}
    assert found["April 2027"][1] == 90 and found["May 2027"][1] == 90 + 64


def test_another_currency_changes_no_chance_and_scales_every_amount():
    products = [{**one, "price": one["price"] * 12, "packing": one["packing"] * 12} for one in PRODUCTS]
    other = {
        "products": products,
        "opening_cash": 1200,
        "fixed_cost_per_month": 300 * 12,
        "energy_cost_per_month": 50 * 12,
        "feed_bought_per_month": 40 * 12,
        "wage": 18 * 12,
        "paid_share": 0.5,
    }
    one = {
        "opening_cash": 100,
        "fixed_cost_per_month": 300,
        "energy_cost_per_month": 50,
        "feed_bought_per_month": 40,
        "wage": 18,
        "paid_share": 0.5,
    }
    first, second = calc.run("farm.money", one)["outputs"], calc.run("farm.money", other)["outputs"]
    assert first["chance_of_running_dry"] == second["chance_of_running_dry"]
    for name in ("contribution_per_month", "lowest_cash", "earned_per_hour"):
        assert second[name]["low"] == pytest.approx(first[name]["low"] * 12)


def test_the_best_plan_is_no_worse_than_the_plan_that_fills_by_worth():
    found = calc.run("farm.money", {"months": 6})
    best = sum(cells[4] for cells in found["tables"]["plan"]["rows"])
    packed = calc.run("farm.stock")["outputs"]["worth"]["value"]
    plain = sum(cells[4] for cells in found["tables"]["products"]["rows"]) * 6
    assert best + packed >= plain * 0.97


def test_an_hour_is_worth_something_only_where_hours_are_short():
    assert calc.run("farm.money", {"hours_per_week": ""})["outputs"]["worth_of_hour"]["value"] == 0
    assert calc.run("farm.money", {"hours_per_week": 7.5})["outputs"]["worth_of_hour"]["value"] > 0


# ---- all of them


@pytest.mark.parametrize("id", PAGES)
def test_an_empty_farm_is_answered(id):
    nothing = {"lanes": [], "rooms": [], "products": [], "log": []}
    found = calc.run(id, nothing)
    assert "errors" not in found, found
    assert "<tbody></tbody>" not in answer_html(answer(id, nothing, "us")), "a table without a row"


@pytest.mark.parametrize("id", PAGES)
def test_two_of_one_name_are_refused_in_words(id):
    found = calc.run(id, {"lanes": [LANES[0], LANES[0]]})
    assert found["errors"][0]["input"] == "lanes" and "North lane" in found["errors"][0]["message"]


@pytest.mark.parametrize("id", PAGES)
def test_random_farms_are_answered_and_break_no_rule(id):
    chance = random.Random(id)
    for _ in range(6):
        lanes = [
            {
                "name": f"L{at}",
                "fed_on": chance.choice(["end", "side"]),
                "length": chance.uniform(1, 12),
                "width": chance.uniform(0.6, 2),
                "height": chance.uniform(0.2, 0.7),
                "started": (TODAY - timedelta(days=chance.randint(-30, 1500))).isoformat(),
                "worms": chance.uniform(0.5, 60),
            }
            for at in range(chance.randint(0, 3))
        ]
        rooms = [{"name": "R", "trays_per_week": chance.choice([0, 0.3, 7]), "weekday": "friday", "started": None}]
        found = calc.run(id, {"lanes": lanes, "rooms": rooms, "climate": chance.choice(["mild", "dry", "cold"])})
        assert "errors" not in found, found
        for value in found["outputs"].values():
            if isinstance(value.get("low"), float):
                assert value["low"] <= value["value"] <= value["high"]


def test_plainly_called_with_si_numbers_it_answers_too():
    from calc.farm import stock

    assert stock(log=[]).castings_left == 0
    with pytest.raises(Refused):
        stock(lanes=[LANES[0], LANES[0]])


def test_cash_that_only_rises_is_not_said_to_be_lowest_in_a_month_to_come() -> None:
    def said(**given: str) -> str:
        shown = answer("farm.money", given).shown
        return str(next(figure.finding for figure in shown.figures if figure.name == "cash"))

    assert said().startswith("No month ends with less than the $1,500 of today")
    assert said(fixed_cost_per_month="9000").startswith("Cash is lowest in month")


def test_what_an_hour_earns_says_when_hours_of_selling_are_not_in_it():
    def reading(**given):
        return " ".join(calc.run("farm.money", given)["reading"])

    assert "are not in it" not in reading()
    assert "Hours of selling, fetching and writing are not in it" in reading(log="")
    assert "are not in it" not in reading(log="", other_hours_per_month="10 h/month")


def test_the_hours_of_a_week_are_those_of_its_lines():
    """Worked by hand from what is listed: a walk with feed, a layer, a slice, screening, and the trays."""
    view = answer("farm.week")
    book, lanes, due = view.seen
    by_name = {row["name"]: row for row in LANES}
    hours = sum(row["trays_per_week"] for row in ROOMS) * tray().hours_per_week
    hours += 0.2 * len({max(one.day, TODAY) for one in due if one.what == "feed"})
    for one in due:
        if one.what == "feed":
            hours += 0.35 * by_name[one.place]["length"] / 2.4384
        elif one.what == "castings":
            lane = next(lane for lane in lanes if lane.name == one.place)
            share = lane_facts.PRODUCT_SHARE.typical
            cut = next(cut for cut in slices_of(lane, book, TODAY) if TODAY + timedelta(days=cut.day) == one.day)
            hours += 0.2 * cut.length / 0.3048 + cut.passes / share / 142
    assert view.hours_this_week == pytest.approx(hours, rel=1e-3)


def test_a_week_with_many_lanes_is_the_work_of_the_page_on_what_a_lane_gives():
    """Fetching and washing down once for all lanes fed in one walk, on both pages: of ten lanes alike, fed twice a
    week."""
    ten = [{**LANES[1], "name": f"Lane {place}"} for place in range(10)]
    log = [
        row((TODAY - timedelta(days=days)).isoformat(), lane["name"], "feed", 20, "lb")
        for days in range(40, 0, -4)
        for lane in ten
    ]
    view = answer("farm.week", {"lanes": ten, "rooms": [], "products": [], "log": log})
    laid = [one for one in view.seen.due if one.what == "feed"]
    walks = len({one.day for one in laid})
    each = calc.run("lane.output")["inputs"]
    per_layer = each["hours_per_feeding"]["value"] * LANES[1]["length"] / (8 * 0.3048)
    assert sum(one.hours for one in laid) == pytest.approx(walks * each["setup_hours"]["value"] + len(laid) * per_layer)
    assert walks < len(laid)


@settings(max_examples=25, deadline=None)
@given(
    length=st.floats(1, 30),
    width=st.floats(0.5, 1.8),
    height=st.floats(0.3, 0.6),
    side=st.booleans(),
    age=st.integers(400, 1500),
    gap=st.integers(1, 9),
    worms=st.floats(2, 60),
)
def test_what_the_list_lays_is_the_layer_of_its_table(length, width, height, side, age, gap, worms):
    """Weight, thickness and days of a layer belong together, on the face as high as it is, and in all places."""
    lane = {
        "name": "L",
        "fed_on": "side" if side else "end",
        "length": length,
        "width": width,
        "height": height,
        "started": TODAY - timedelta(days=age),
        "worms": worms,
    }
    log = [row((TODAY - timedelta(days=days)).isoformat(), "L", "feed", 20, "lb") for days in range(9 * gap, 0, -gap)]
    view = answer("farm.week", {"lanes": [lane], "rooms": [], "products": [], "log": log})
    (pace,) = next(table for table in view.shown.tables if table.name == "pace").rows
    a_week, thick, between = pace[5:8]
    laid = [one for one in view.seen.due if one.what == "feed"]
    if between is None:  # the lane rests
        return
    assert between <= gap + 1e-9
    plan = view.seen.ahead[0].followed[0]
    full = (length if side else width) * height / sin(radians(45)) * plan.feed_bulk_density
    ratios = [weight / laid_thick for _, weight, laid_thick in view.seen.ahead[0].fed]
    for one in laid:
        assert one.thick == pytest.approx(thick)
        assert one.amount * 7 / between == pytest.approx(a_week)
        assert one.thick <= plan.layer_thickness + 1e-9
        assert one.amount <= full * one.thick * (1 + 1e-6)
        least, most = min(ratios), max(ratios)  # of the layers from which the pace is read: a young face still rises
        assert least * (1 - 1e-9) <= one.amount / one.thick <= most * (1 + 1e-9)


@pytest.mark.parametrize("age", [3, 20, 70, 130])
def test_a_lane_without_a_logbook_is_fed_by_the_list_of_its_own_page(age):
    start = TODAY - timedelta(days=age)
    lane = {**LANES[1], "started": start}
    due = answer("farm.week", {"lanes": [lane], "rooms": [], "products": [], "log": ""}).seen.due
    asked = {"lane_length": lane["length"], "lane_width": lane["width"], "bed_height": lane["height"]}
    plan = answer("lane.feeding", {**asked, "worm_mass": lane["worms"], "start_date": start}).plan
    listed = [one for one in feeding_rows(plan) if TODAY <= one[0] < TODAY + timedelta(days=7)]
    assert listed
    assert [(one.day, one.thick, one.amount) for one in due if one.what == "feed"] == [
        (day, pytest.approx(thick), pytest.approx(mass)) for day, thick, mass in listed
    ]


def test_a_line_of_feed_says_how_heavy_and_how_thick_as_the_table_of_lanes_does():
    due, *_, pace = answer("farm.week", {}, "us").shown.tables
    thick = {row[0]: row[6] / 0.0254 for row in pace.rows}
    lines = [row for row in due.rows if row[1] == "Feed"]
    for row in lines:
        said = re.fullmatch(r"[\d.,]+ lb, ([\d.]+) in thick", row[2])
        assert float(said[1]) == pytest.approx(thick[row[0]], rel=0.05)
    assert len(lines) == 4
    layer = calc.run("lane.feeding")["outputs"]["layer_mass"]["value"]  # of 2 in, on a face as that of the Barn lane
    barn = next(one for one in answer("farm.week").seen.due if one.place == "Barn lane" and one.what == "feed")
    assert barn.amount == pytest.approx(layer * barn.thick / 0.0508, rel=0.005)


def test_a_lane_that_is_crowded_is_named():
    crowded = [{**row, "worms": 60.0} for row in LANES]
    sparse = [{**row, "worms": 1.0, "started": date(2027, 5, 1)} for row in LANES]
    for lanes, said in ((crowded, True), (sparse, False)):
        reading = " ".join(calc.run("farm.week", {"lanes": lanes})["reading"])
        assert ("Worms begin to leave" in reading) is said
