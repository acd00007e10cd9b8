"""What the page's buttons write into the logbook, into whatever text it is; two copies as one."""

import json
from base64 import b64encode
from datetime import datetime

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import calc
from calc.engine.kinds.amount import in_kept_unit
from calc.engine.register import find
from calc.engine.run import answer
from calc.farm import write
from calc.farm.merge import lacking, merged
from calc.farm.tables import WORDS, usual_unit
from calc.page import respond

LOG = find("farm.week").inputs["log"]
ROW = {"date": "2027-06-02", "place": "North lane", "what": "feed", "amount": "44.5", "unit": "lb"}


def ask(call, **more):
    asked = {"calculator": "farm.week", "units": "us", "currency": "$", "values": {}, **more}
    return json.loads(respond(call, json.dumps(asked)))


def kept(text):
    return LOG.value(text, "us")


@pytest.mark.parametrize(
    "text",
    [
        "date,place,what,amount,unit,who,note\n2027-05-01,North lane,feed,44,lb,,",
        "A farm's book\nDate;What;Amount (kg);Place\n3.5.2027;feed;1,25;North lane\n13.5.2027;fed;1;North lane",
        "2027-05-01,North lane,feed,44,lb,,\n2027-05-02,North lane,feed,44,lb,,\n",
        "date\twhat\tamount\tweather\n2027-05-01\tfeed\t3\twet\n",
        '{"columns":["date","what","amount"],"headings":{"amount":["lb"]},"rows":[["2027-05-01","feed","4"]]}',
        '[{"date":"2027-05-01","what":"feed","amount":3}]',
        "date,what,amount\n2027-05-01,feed,nothing\n2027-05-02,feed,3",
    ],
)
def test_a_row_goes_below_whatever_stands_there_and_changes_none_of_it(text):
    before = kept(text)
    said = ask("write", entry=ROW, values={"log": text})
    assert said["ok"] and "44.5 lb" in said["said"] and not said["fresh"]
    after = kept(said["text"])
    assert list(after)[:-1] == list(before) and after.dropped == before.dropped
    assert after[-1] == {
        "date": datetime(2027, 6, 2),
        "place": "North lane",
        "what": "feed",
        "amount": pytest.approx(44.5 * 0.45359237),
        "unit": "kg",
        "who": None,
        "note": None,
    }


def test_the_first_row_begins_a_book_of_ones_own():
    said = ask("write", entry=ROW)
    assert said["fresh"] and len(kept(said["text"])) == 1


@pytest.mark.parametrize(
    ("row", "word"),
    [
        ({"amount": ""}, "How much"),
        ({"amount": "lots"}, "number"),
        ({"date": "soon"}, "not a time"),
        ({"what": ""}, "what was done"),
    ],
)
def test_what_is_wrong_with_an_entry_is_told_and_nothing_is_written(row, word):
    said = ask("write", entry=ROW | row)
    assert not said["ok"] and word in said["errors"][0]["message"] and "text" not in said


def test_what_can_mean_two_things_is_settled_first():
    said = ask("write", entry=ROW, values={"log": "date\twhat\tamount\n3/5/2027\tfeed\t3\n"})
    assert not said["ok"] and said["question"]["about"] == "order"
    said = ask("write", entry=ROW, values={"log": "date;what;amount\n2027-05-03;feed;1.250\n"})
    assert not said["ok"] and said["question"]["about"] == "comma", "1.250 is never 1.25 without a word"


def test_a_row_is_written_below_a_sheet_that_was_pasted():
    sheet = "time;lane;feed (lb);temperature\n2027-05-01;North lane;44;64\n2027-05-08;North lane;46;66"
    before = kept(sheet)
    after = kept(ask("write", entry=ROW, values={"log": sheet})["text"])
    assert len(before) == 4 and list(after)[:4] == list(before) and after[4]["amount"] == pytest.approx(20.18, abs=0.01)
    assert list(LOG.value(LOG.units_named(sheet, "us"), "metric")) == list(before), "°F stays °F"


NOTES = st.text(alphabet='ab ,;"\n=+', max_size=8)


@settings(max_examples=80, deadline=None)
@given(st.lists(st.tuples(st.sampled_from([*WORDS]), st.floats(0.01, 9e5), NOTES), min_size=1, max_size=8))
def test_rows_written_one_by_one_read_back(rows):
    text = None
    for what, amount, note in rows:
        entry = ROW | {"what": what, "amount": f"{amount:.9g}", "unit": "", "note": note}
        said = ask("write", entry=entry, values={} if text is None else {"log": text})
        assert said["ok"], said
        text = said["text"]
    found = kept(text)
    assert not found.dropped and len(found) == len(rows)
    for row, (what, amount, note) in zip(found, rows):
        written, unit = in_kept_unit(amount, usual_unit(what, "us"))  # the units of the page, where none was chosen
        assert row["what"] == what and row["amount"] == pytest.approx(written, rel=1e-6)
        assert (row["unit"] or "") == unit
        assert (row["note"] or "").split() == note.split()


def test_another_copy_adds_what_is_lacking_and_says_what_it_leaves_out():
    mine = ask("write", entry=ROW)["text"]
    theirs = mine + "\n2027-06-03,Barn lane,water,5,gal,,\n2027-06-03,Barn lane,water,much,gal,,\n"
    said = ask("join", values={"log": mine}, data=b64encode(theirs.encode()).decode())
    assert said["came"] == 1 and said["same"] == 1 and len(said["left_out"]) == 1 and not said["conflicts"]
    again = ask("join", values={"log": said["text"]}, data=b64encode(theirs.encode()).decode())
    assert again["came"] == 0 and again["text"] == said["text"]
    assert ask("log_file", values={"log": mine})["text"] == mine + "\n"
    other = mine.replace("44.5", "50")
    said = ask("join", values={"log": mine}, data=b64encode(other.encode()).decode())
    assert said["came"] == 1 and len(said["conflicts"]) == 1 and "20.1849 kg" in said["conflicts"][0]


def test_a_file_that_is_no_text_is_told():
    said = ask("join", data=b64encode(b"PK\x03\x04" + bytes(100)).decode())
    assert not said["ok"] and "no text file" in said["errors"][0]["message"]


@settings(max_examples=100, deadline=None)
@given(st.lists(st.integers(0, 5), max_size=12), st.lists(st.integers(0, 5), max_size=12))
def test_joined_copies_hold_each_row_as_often_as_the_copy_that_has_it_most(first, second):
    def rows(numbers):
        return [{"date": f"2027-05-0{number + 1}", "what": "feed", "amount": float(number)} for number in numbers]

    both = [row["amount"] for row in merged(rows(first), rows(second)).rows]
    assert all(both.count(number) == max(first.count(number), second.count(number)) for number in range(6))
    assert len(lacking(rows(second), rows(first))) + len(second) == len(both)


def test_every_line_of_the_week_can_be_ticked_off_and_is_gone_then():
    """What is ready is written as it stands; the list without the line is what comes of it."""
    view = answer("farm.week", {}, "us")
    table = view.shown.tables[0]
    assert table.first and len(table.acts) == len(table.rows)
    first = next(at for at, act in enumerate(table.acts) if act and act.what == "feed" and act.ready)
    act = table.acts[first]
    text = LOG.text(view.given["log"], "us", "$")
    entry = {"date": view.given["today"].isoformat(), "place": act.place, "what": act.what, "amount": act.amount}
    said = ask("write", entry=entry | {"unit": act.unit, "note": act.note}, values={"log": text})
    after = calc.run("farm.week", {"log": said["text"]}, units="us")["tables"]["due"]["rows"]
    place, doing, _, day, _ = table.rows[first]
    assert [place, doing, day.isoformat()] not in [[*cells[:2], cells[3]] for cells in after]


def test_a_cover_that_was_put_on_is_not_asked_for_again():
    view = answer("farm.week", {"today": "2027-01-04", "climate": "cold", "log": []}, "us")
    act = next(act for act in view.shown.tables[0].acts if act and act.note == "frost cover on")
    row = {"date": "2027-01-04", "place": act.place, "what": "note", "amount": None, "unit": "", "note": act.note}
    after = answer("farm.week", {"today": "2027-01-11", "climate": "cold", "log": [row]}, "us")
    noted = [act for act in after.shown.tables[0].acts if act and act.note == "frost cover on"]
    assert act.place not in {one.place for one in noted}


@pytest.mark.parametrize(("today", "asked"), [("2027-11-01", True), ("2028-02-07", True), ("2027-07-05", False)])
def test_a_cover_is_asked_for_when_the_calendar_of_the_lane_has_it(today, asked):
    """In a mild climate without a frost by night too: by the mean of the air, as the year of the lane."""
    lane = {
        "name": "Lane",
        "fed_on": "end",
        "length": "8 ft",
        "width": "4 ft",
        "height": "18 in",
        "started": "2026-05-01",
        "worms": "10 lb",
    }
    farm = {"today": today, "climate": "mild", "lanes": [lane], "log": []}
    acts = [act for act in answer("farm.week", farm, "us").shown.tables[0].acts if act and act.note == "frost cover on"]
    assert bool(acts) == asked
    row = {"date": "2027-10-18", "place": "Lane", "what": "note", "amount": None, "unit": "", "note": "frost cover on"}
    after = answer("farm.week", farm | {"log": [row]}, "us").shown.tables[0].acts
    assert not [act for act in after if act and act.note == "frost cover on" and asked], "it lies until spring"


def test_the_buttons_begin_with_what_was_done_last():
    acts = {(act.place, act.what): act for act in answer("farm.week", {}, "us").shown.acts}
    assert (acts["North lane", "feed"].amount, acts["North lane", "feed"].unit) == ("111", "lb")
    assert acts["shed", "sold"].things and acts["Tray room", "trays"].amount == "3"
    metric = {(act.place, act.what): act for act in answer("farm.week", {}, "metric").shown.acts}
    assert metric["North lane", "feed"].unit == "kg" and metric["North lane", "temperature"].unit == "°C"


def test_an_entry_is_said_as_it_was_written():
    row = write.entry_texts(LOG, ROW | {"note": "wet"}, "us", "$")
    assert write.entry_words(row) == "feed 44.5 lb, North lane, 2027-06-02, wet"


def test_the_list_leaves_as_text_for_a_helper():
    text = ask("text")["text"]
    assert "Due, what is late first:" in text and "□ North lane, Feed, 130 lb, 1.3 in thick, 31 May 2027" in text
    assert "□ Barn lane, Water, 1.7 gal, 28 May 2027, Days late: 3\n" in text, "a number says what it counts"


def test_reset_leaves_tables_and_logbook_alone():
    for id in ("farm.week", "farm.stock", "farm.money", "records.learn"):
        html = ask("form", calculator=id)["html"]
        assert html.count("data-stays") == 4, id
    assert "data-stays" not in ask("form", calculator="economics.mix")["html"]
