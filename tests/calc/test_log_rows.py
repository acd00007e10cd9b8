"""Rows of a logbook as people write them: what each is taken for, to the gram, and what is told of it."""

from datetime import date, datetime, timedelta

import pytest

from calc.engine.register import every
from calc.facts import breeding
from calc.farm.log import read_log
from calc.farm.merge import lacking, merged
from calc.farm.sheets import ALSO, as_rows

TABLES = every()["farm.week"].inputs["log"]
DAY = date(2027, 5, 3)
LANES = ({"name": "North lane"}, {"name": "South lane"})
ROOMS = ({"name": "Tray room"},)
PRODUCTS = (
    {"name": "Bag of castings", "unit": "bag", "price": 16.0, "castings": 12.0, "worms": 0.0},
    {"name": "Red worms", "unit": "lb", "price": 35.0, "castings": 0.0, "worms": 0.45359237},
    {"name": "Café mix", "unit": "", "price": 0.0, "castings": 6.0, "worms": 0.5},
)
POUND = 0.45359237


def one(what, amount=None, unit="", place="North lane", note="", day=DAY, **tables):
    """(the only entry or None, what is told) of a logbook of one row."""
    row = {"date": day, "place": place, "what": what, "amount": amount, "unit": unit, "who": "", "note": note}
    given = {"lanes": LANES, "rooms": ROOMS, "products": PRODUCTS} | tables
    book = read_log([row], given["lanes"], given["rooms"], given["products"], DAY)
    entries = [*book.entries, *book.orders]
    return (entries[0] if entries else None), " ".join(book.told)


@pytest.mark.parametrize(
    ("what", "amount", "unit", "taken", "told"),
    [
        ("feed", 40, "lb", 40 * POUND, ""),
        ("Feed ", 40, "kg", 40, ""),
        ("feed", 40, "", 40, "no unit is written for feed, so kg is meant"),
        ("feed", 0, "kg", 0, ""),
        ("temperature", 50, "F", 10, ""),
        ("temperature", -4, "°C", -4, ""),
        ("temperature", 12, "º c.", 12, ""),
        ("moisture", 83, "%", 0.83, ""),
        ("moisture", 0.83, "", 0.83, ""),
        ("moisture", 83, "", 0.83, ""),
        ("moisture", 1, "", 1, ""),
        ("face", 12, "ft", 3.6576, ""),
        ("paid", -5, "$", -5, ""),
        ("hours", 90, "minute", 1.5, ""),
    ],
)
def test_what_a_row_weighs(what, amount, unit, taken, told):
    entry, said = one(what, amount, unit)
    assert entry.amount == pytest.approx(taken)
    assert told in said and bool(told) == bool(said), said


@pytest.mark.parametrize(
    ("what", "amount", "unit", "told"),
    [
        ("feed", None, "kg", "row 1: there is no amount (feed)"),
        ("feed", 3, "ft", "feed in “ft” cannot be weighed"),
        ("feed", -3, "kg", "an amount below nothing (feed)"),
        ("sold", 3, "crate", "“crate” is none of your products"),
        ("sold", None, "bag", "there is no amount (sold)"),
    ],
)
def test_what_is_left_out(what, amount, unit, told):
    entry, said = one(what, amount, unit)
    assert entry is None
    assert told in said


def test_words_and_places():
    entry, said = one("sang", 3, "", note="to the worms")
    assert (entry.what, entry.note) == ("note", "sang to the worms") and "“sang” is no word of the logbook" in said
    entry, said = one("", None, "", note="rain")
    assert (entry.what, entry.note, said) == ("note", "rain", "")
    entry, said = one("feed", 3, "kg", place="north LANE ")
    assert (entry.place, said) == ("North lane", "")
    entry, said = one("feed", 3, "kg", place="East lane")
    assert entry.place == "East lane" and "“East lane” is none of your lanes and rooms" in said
    entry, said = one("feed", 3, "kg", place="")
    assert "no lane is written (feed)" in said
    entry, said = one("feed", 3, "kg", place="", lanes=LANES[:1])
    assert (entry.place, said) == ("North lane", "")
    assert "needs dates, not hours" in one("feed", 3, "kg", day=4.0)[1]
    assert one("feed", 3, "kg", day="2027-05-02")[0].day == date(2027, 5, 2)
    assert one("feed", 3, "kg", day=datetime(2027, 5, 2, 23, 0))[0].day == date(2027, 5, 2)
    tomorrow = DAY + timedelta(days=1)
    entry, said = one("feed", 3, "kg", day=tomorrow)
    assert entry is None and "the date is still to come (feed)" in said
    entry, said = one("sold", 3, "bag", day=tomorrow)  # an order
    assert (entry.product, said) == (0, "")


@pytest.mark.parametrize(
    ("amount", "unit", "note", "product", "taken", "money"),
    [
        (3, "bag", "", 0, 3, None),
        (3, "Bags", "", 0, 3, None),
        (48, "$", "bag of castings", 0, 3, 48),  # 48 at 16 each
        (24, "kg", "bag of castings", 0, 2, None),  # of 12 kg each
        (2, "lb", "", 1, 2, None),
        (1, "kg", "red worms", 1, 1 / POUND, None),
        (5, "kg", "the café mix for Ann", 2, 5 / 6.5, None),
        (10, "$", "café mix", None, None, None),  # without a price nobody knows how many
        (2, "", "bag of castings and red worms", 0, 2, None),  # the longer name is meant
    ],
)
def test_what_was_sold(amount, unit, note, product, taken, money):
    entry, _ = one("sold", amount, unit, place="", note=note)
    if product is None:
        assert entry is None
        return
    assert (entry.product, entry.money) == (product, money)
    assert entry.amount == pytest.approx(taken)


def test_worms_by_weight_and_by_head():
    assert one("worms", 2, "lb", place="Tray room")[0].amount == pytest.approx(2 * POUND)
    assert one("worms", 2, "", place="Tray room")[0].amount == 2
    assert one("worms", 500, "worms", place="Tray room")[0].amount == pytest.approx(
        500 / breeding.SALE_PER_MASS.typical
    )
    assert one("worms", 2, "ft", place="Tray room")[0] is None


def test_a_thousand_rows_alike_make_one_sentence():
    row = {"date": DAY, "place": "East", "what": "feed", "amount": 1, "unit": "kg", "who": "", "note": ""}
    for rows, told in (([row] * 3, "rows 1, 2, 3:"), ([row] * 4, "rows 1, 2, 3 and 1 more:")):
        assert told in read_log(rows, LANES, ROOMS, PRODUCTS, DAY).told[0]


# ---- two copies of one logbook


def row(amount, what="feed", note="", day=DAY, place="North lane", unit="kg"):
    return {"date": day, "place": place, "what": what, "amount": amount, "unit": unit, "who": "Wren", "note": note}


def test_two_copies_put_together():
    phone = [row(10), row(10), row(20, day=DAY + timedelta(days=2))]
    office = [row(10), row(30, note="Hay"), row(5, day=date(2027, 5, 1))]
    assert [one["amount"] for one in lacking(phone, office)] == [30, 5]
    assert [one["amount"] for one in lacking(office, phone)] == [10, 20]
    both = merged(phone, office)
    assert [one["amount"] for one in both.rows] == [5, 10, 10, 30, 20]
    assert both.conflicts == []
    assert lacking([row(10.0000001)], [row(10)]) == []  # a file holds so many digits
    assert lacking([row(10, note=" hay ")], [row(10, note="Hay")]) == []
    noon, later = datetime(2027, 5, 3, 12, 0, 5), datetime(2027, 5, 3, 12, 0, 50)
    assert lacking([row(10, day=noon)], [row(10, day=later)]) == []


def test_two_amounts_of_one_act_are_told():
    (said,) = merged([row(10)], [row(12)]).conflicts
    assert said.startswith("2027-05-03, North lane, feed: one copy says 10 kg, the other 12 kg.")
    (said,) = merged([row(10, place="")], [row(None, place="")]).conflicts
    assert "2027-05-03, shed, feed: one copy says 10 kg, the other no amount" in said
    assert merged([row(10)], [row(12, unit="lb")]).conflicts == []
    assert merged([row(10)], [row(12, note="hay")]).conflicts == []
    assert merged([row(1.0)], [row(1.000001, note="")]).conflicts == []
    assert len(merged([row(1.0)], [row(1.00001, note="")]).conflicts) == 1


# ---- a printed sheet, filled in


def read_back(text):
    """[(place, what, amount)] of the logbook that a text becomes."""
    rows = TABLES.read(text, "metric", "$")
    return [(one.place, one.what, one.amount) for one in read_log(rows, LANES, ROOMS, PRODUCTS, DAY).entries]


def test_a_sheet_becomes_a_row_for_each_thing_done():
    sheet = (
        "Lane,Date,Feed (kg),Temperature (°C),Who\n"
        "North lane,2027-05-01,12,18,Wren\n"
        "South lane,2027-05-02,,21,\n"
        "South lane,2027-05-03,0,-,Wren\n"
    )
    assert read_back(sheet) == [
        ("North lane", "feed", 12),
        ("North lane", "temperature", 18),
        ("South lane", "temperature", 21),
        ("South lane", "feed", 0),
    ]


def test_moisture_beside_what_was_cut_is_not_that_of_the_bed():
    cut = "Lane,Date,Weight cut (kg),Moisture (%)\nNorth lane,2027-05-01,30,66\n"
    assert read_back(cut) == [("North lane", "castings", 30)]
    fed = "Lane,Date,Feed (kg),Moisture (%)\nNorth lane,2027-05-01,30,66\n"
    assert read_back(fed) == [("North lane", "feed", 30), ("North lane", "moisture", pytest.approx(0.66))]


def test_a_logbook_stays_as_it_is():
    log = "date,place,what,amount,unit\n2027-05-01,North lane,feed,12,kg\n"
    assert read_back(log) == [("North lane", "feed", 12)]
    columns = TABLES.columns
    assert as_rows(log, columns, ALSO) == (log, [])
    text, notes = as_rows("Date,Lane,Feed (kg),Weather\n2027-05-01,North lane,12,rain\n", columns, ALSO)
    assert text.split("\n")[1].startswith("2027-05-01,North lane,feed,12,kg") and notes == [
        "Not for the logbook, left out: “Weather”."
    ]
