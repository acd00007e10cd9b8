"""What is kept from one answer to the next makes no difference: after any chain of edits a table, a logbook and an
answer are what they are when they are read for the first time.
"""

import random

import pytest
from hypothesis import given
from hypothesis import strategies as st

import calc
from calc.engine import again, tabular
from calc.engine.kinds import table
from calc.engine.told import Told
from calc.farm import log
from calc.farm.tables import LANES, LOG, PRODUCTS, ROOMS, TODAY
from calc.records.learn import _eaters, _rations_grown

BOOK = calc.find("farm.week").inputs["log"]
HEADS = [
    "date,place,what,amount,unit,note",
    "date,place,what,amount,unit,note,who",
    "date;place;what;amount;unit;note",
    "date (day first),place,what,amount (US units),unit,note",
    "Fed,date,place,what,amount,unit",
    "date,place,what,amount,unit,note,colour",
]
CELLS = {
    "date": [
        "2027-03-01",
        "2027-05-30",
        "2027-06-20",
        "3/4/2027",
        "13/4/2027",
        "4/13/2027",
        "46500",
        "12.5",
        "",
        "soon",
    ],
    "place": ["North lane", "barn lane", "Tray room", "shed", "", "Attic"],
    "what": [
        "feed",
        "Fed",
        "water",
        "sold",
        "bagged",
        "castings",
        "screened",
        "hours",
        "note",
        "dance",
        "worms",
        "trays",
    ],
    "amount": ["44", "12.5", "12,5", "1.250", "-3", "", "a few", "44 lb"],
    "unit": ["lb", "kg", "", "bag", "$", "gal", "blobs"],
    "note": ["", "sort", "Bag of castings", "it's fine", "'=1+1"],
}


def forget():
    """As in a page that has just been opened."""
    for kept in (table._LAST, table._GRIDS, table._SHORT, log._READ_LAST, log._UP_TO_LAST):
        kept.clear()
    for kept in (_eaters, _rations_grown):
        kept.cache_clear()


def line(chance, mark):
    cells = [chance.choice(found) for found in CELLS.values()]
    if chance.random() < 0.75:  # most rows are as they should be
        cells[:5] = f"2027-{chance.randint(3, 5):02}-{chance.randint(1, 28):02}", "North lane", "feed", "44", "lb"
    return chance.choices(
        [
            mark.join(cells),
            "",
            mark.join([*cells, "one", "more"]),
            mark.join(cells[:3]),
            f'"{cells[1]}"{mark}2',
            mark * 4,
        ],
        [40, 2, 1, 1, 0.5, 1],
    )[0]


def edited(chance, lines):
    """The same lines but for one of the things that a reader does to them."""
    mark = ";" if ";" in lines[0] else ","
    at, found = chance.randrange(1, len(lines)), list(lines)
    done = chance.randrange(8)
    if done < 3:
        found.append(line(chance, mark))
    elif done == 3:
        found[at] = line(chance, mark)
    elif done == 4:
        found.insert(at, line(chance, mark))
    elif done == 5 and len(lines) > 6:
        del found[at]
    elif done == 6:
        found[at:at] = [line(chance, mark) for _ in range(4)]
    else:
        found[0] = chance.choice([head for head in HEADS if (";" in head) == (mark == ";")])
    return found


def read(text, units):
    """Everything that is known of a table and of the logbook in it, or why it cannot be read."""
    try:
        rows = BOOK.read(text, units, "$")
    except Told as told:
        return str(told), told.cells, told.question
    book = log.read_log(rows, LANES, ROOMS, PRODUCTS, TODAY)
    of_table = list(rows), rows.dropped, rows.numbers, rows.cells, rows.notes, rows.assumed
    return of_table, book.entries, book.orders, book.told, book.priced, dict(book.days)


@given(st.integers(0, 10**9))
def test_after_any_edits_a_logbook_is_what_it_is_when_it_is_read_for_the_first_time(seed):
    chance = random.Random(seed)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(table, "LONG", 4)
        patch.setattr(tabular, "TITLE_LINES", 1)
        head = chance.choice(HEADS)
        lines, chain = [head, *(line(chance, ";" if ";" in head else ",") for _ in range(12))], []
        for _ in range(8):
            chain.append(("\n".join(lines), chance.choice(["us", "us", "us", "metric"])))
            lines = edited(chance, lines)
        forget()
        kept = [read(*one) for one in chain]
        for one, answer in zip(chain, kept):
            forget()
            assert read(*one) == answer


def test_a_row_more_is_the_only_one_that_is_read(monkeypatch):
    monkeypatch.setattr(table, "LONG", 4)
    forget()
    seen, kept = [], log._Reader.row
    monkeypatch.setattr(log._Reader, "row", lambda self, *one: seen.append(one[0]) or kept(self, *one))
    rows = [f"2027-0{month}-{day:02},North lane,feed,{day},lb" for month in (3, 4, 5) for day in range(1, 29)]
    read("\n".join(["date,place,what,amount,unit", *rows]), "us")
    assert seen == list(range(1, 85))
    seen.clear()
    *_, days = read("\n".join(["date,place,what,amount,unit", *rows, "2027-05-30,Barn lane,feed,7,lb"]), "us")
    assert seen == [85]
    assert len(days["North lane", "feed"]) == 84


@pytest.mark.parametrize("id", ["records.learn", "farm.stock"])
def test_an_answer_after_a_chain_of_edits_is_the_one_that_is_worked_out_afresh(id, monkeypatch):
    monkeypatch.setattr(table, "LONG", 20)
    chance, text = random.Random(27), BOOK.text(LOG, "us")
    asked = []
    for step in range(6):
        lines = text.split("\n")
        if step % 2:
            at = chance.choice([at for at, row in enumerate(lines) if ",feed," in row and at > 70])
            lines[at] = lines[at].replace(",feed,", ",water,") if step == 3 else lines[at].replace(",feed,", ",feed,1")
        else:
            lines.append(chance.choice(["2027-05-30,Barn lane,feed,52,lb", "2027-05-30,North lane,temperature,70,F"]))
        text = "\n".join(lines)
        asked.append({"log": text})
    forget()
    chain = [calc.run(id, values, units="us") for values in asked]
    for values, answer in zip(asked, chain):
        forget()
        assert calc.run(id, values, units="us") == answer


@given(st.lists(st.integers(0, 2), max_size=9), st.lists(st.integers(0, 2), max_size=9))
def test_what_is_the_same_at_both_ends_is_found(old, new):
    same = again.same_ends(old, new)
    assert old[: same.start] == new[: same.start] and old[same.gone :] == new[same.stop :]
    assert same.start <= min(same.gone, same.stop)
    assert same.spliced(old, new[same.start : same.stop]) == new
    between = old[same.start : same.gone], new[same.start : same.stop]
    assert not all(between) or (between[0][0] != between[1][0] and between[0][-1] != between[1][-1])
    places = dict(enumerate(old))
    assert same.moved(places, dict(enumerate(between[1]))) == dict(enumerate(new))


def test_a_row_of_hours_among_dates_moves_the_number_of_none():
    lines = ["date,place,what,amount", "2027-03-01,shed,feed,1", "46500,shed,hours,2", "2027-03-03,shed,feed,3"]
    rows = BOOK.read("\n".join(lines), "us", "$")
    assert rows.numbers == [1, 3] and rows.dropped == ["Row 2, time: the other rows give dates."]


def test_what_a_row_hangs_on_beside_its_cells_is_looked_at_too(monkeypatch):
    """Its units, its heading, and what stands in it beyond the heading."""
    monkeypatch.setattr(table, "LONG", 4)
    rows = [f"2027-0{month}-{day:02},North lane,feed,{day}," for month in (3, 4, 5) for day in range(1, 29)]
    head, longer = "date,place,what,amount,unit", [*rows[:70], f"{rows[70]},one,more", *rows[71:]]
    chain = [(head, rows, "us"), (head, rows, "metric"), (head, longer, "metric"), (head, rows, "metric")]
    chain += [
        ("date,place,what,amount (US units),unit", rows, "metric"),
        ("date,place,what,amount (kg),unit", rows, "us"),
    ]
    texts = [("\n".join([first, *others]), units) for first, others, units in chain]
    forget()
    kept = [read(*one) for one in texts]
    assert [answer[0][0][70]["amount"] for answer in kept[:2]] == pytest.approx([15 * 0.45359237, 15])
    assert "there is more in" in kept[2][0][1][0] and len(kept[2][0][0]) == 83
    for one, answer in zip(texts, kept):
        forget()
        assert read(*one) == answer
