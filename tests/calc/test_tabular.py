"""Tables as other programs write them: read by one reader, never by a silent guess."""

from datetime import date, datetime

import pytest

from calc.engine import Choice, Count, Day, Log, Number, Rows, Share, Text
from calc.engine.read import Told, read_value
from calc.engine.tabular import decoded, is_text, with_answers

FEED = Rows(
    "Feedings",
    {
        "date": Day("Date"),
        "feed": Number("kg", "Feed given", 0, 50_000),
        "place": Text("Where", optional=True),
        "worms": Count("1", "Worms seen", 0, 1e6, optional=True),
    },
    also={"lane or tray": "place"},
)
LOG = Log("Log", {"time": Text("Time"), "temperature": Number("degC", "Temperature", -50, 120)}, tolerant=True)
GERMAN = (
    "Wärmelog der Miete 3\n\ndate;feed (kg);place;Bemerkung\n"
    "03.05.2027;1.250,5;Miete 3 – außen;naß\n04.05.2027;0,5;½;–\n"
)
READ = [(date(2027, 5, 3), 1250.5, "Miete 3 – außen"), (date(2027, 5, 4), 0.5, "½")]


def told(description, text):
    with pytest.raises(Told) as caught:
        read_value(description, text)
    return caught.value


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "cp1252", "mac_roman", "utf-16", "utf-16-le", "utf-16-be"])
def test_a_file_in_any_usual_encoding(encoding):
    text = GERMAN.replace("½", "1/2") if encoding == "mac_roman" else GERMAN  # Mac Roman has no ½
    data = text.encode(encoding)
    assert is_text(data) and decoded(data) == text
    rows = read_value(FEED, decoded(data))
    assert [(row["date"], row["feed"]) for row in rows] == [one[:2] for one in READ]
    assert rows[0]["place"] == READ[0][2]
    assert len(rows.notes) == 2 and "Wärmelog der Miete 3" in rows.notes[0] and "“Bemerkung”" in rows.notes[1]


@pytest.mark.parametrize(
    "data", [b"PK\x03\x04\x14\0\0", b"\x89PNG\r\n\x1a\n\0\0\0", b"%PDF-1.7", bytes(range(32)) * 50]
)
def test_what_is_no_text_is_seen_at_once(data):
    assert not is_text(data)


@pytest.mark.parametrize(
    ("written", "day"),
    [
        ("2027-05-03", (2027, 5, 3)),
        ("2027-05-03 14:00", (2027, 5, 3)),
        ("3.5.2027", (2027, 5, 3)),
        ("03.05.27", (2027, 5, 3)),
        ("13/5/2027", (2027, 5, 13)),
        ("5/13/2027", (2027, 5, 13)),
        ("5/13/27 2:30 PM", (2027, 5, 13)),
        ("2027/05/03", (2027, 5, 3)),
        ("3 May 2027", (2027, 5, 3)),
        ("3-May-27", (2027, 5, 3)),
        ("May 3, 2027", (2027, 5, 3)),
        ("Monday, May 3rd, 2027", (2027, 5, 3)),
        ("46510", (2027, 5, 3)),
        ("46510.75", (2027, 5, 3)),
        ("4/4/2027", (2027, 4, 4)),
    ],
)
def test_a_date_in_any_usual_way_of_writing(written, day):
    assert read_value(FEED, f"date\tfeed\n{written}\t2")[0]["date"] == date(*day)


@pytest.mark.parametrize(
    ("written", "time"),
    [
        ("2027-05-13T14:30", (14, 30)),
        ("13/5/2027 2:30 PM", (14, 30)),
        ("5/13/2027 12:05 am", (0, 5)),
        ("13.5.2027 7.45", (7, 45)),
        ("13 May 2027, 23:59:59", (23, 59)),
        ("46520.5", (12, 0)),
    ],
)
def test_a_moment_in_any_usual_way_of_writing(written, time):
    found = read_value(LOG, f"time\ttemperature\n{written}\t20.5")[0]["time"]
    assert found.date() == date(2027, 5, 13) and (found.hour, found.minute) == time


def test_hours_stay_hours():
    assert [row["time"] for row in read_value(LOG, "time,temperature\n0,20\n0.5,21")] == [0.0, 0.5]


def test_a_date_that_can_be_two_days_gives_one_question():
    found = told(FEED, "date,feed\n5/3/2027,2\n6/3/2027,2")
    assert found.question == {
        "about": "order",
        "column": "date",
        "words": "Which day is 5/3/2027?",
        "options": [
            {"answer": "day first", "words": "5 March 2027 (day first)"},
            {"answer": "month first", "words": "3 May 2027 (month first)"},
        ],
    }
    assert "date (day first) or date (month first)" in str(found)
    for answer, day in (("day first", date(2027, 3, 5)), ("month first", date(2027, 5, 3))):
        text = with_answers("date,feed\n5/3/2027,2\n6/3/2027,2", FEED.columns, {"order": answer}, {})
        assert text.startswith(f"date ({answer}),feed\n") and read_value(FEED, text)[0]["date"] == day
    # one row that can only be one day settles all of them
    assert read_value(FEED, "date,feed\n5/3/2027,2\n25/3/2027,2")[0]["date"] == date(2027, 3, 5)
    assert read_value(FEED, "date,feed\n5/3/2027,2\n3/25/2027,2")[0]["date"] == date(2027, 5, 3)


@pytest.mark.parametrize(
    ("text", "feed"),
    [
        ("date;feed\n2027-03-01;1.250,5", 1250.5),
        ("date;feed\n2027-03-01;1.250\n2027-03-02;0,5", 1250.0),
        ("date;feed\n2027-03-01;1.250\n2027-03-02;0.5", 1.25),
        ("date;feed\n2027-03-01;1,250", 1.25),
        ("date;feed\n2027-03-01;21.375\n2027-03-01;60.125", 21.375),  # with thousands more than can be given
        ("date;feed\n2027-03-01;0.125", 0.125),
        ("date\tfeed\n2027-03-01\t1,250\n2027-03-02\t12.5", 1250.0),
        ("date\tfeed\n2027-03-01\t1.234.567", None),
        ('date,feed\n2027-03-01,"1,250"', 1250.0),
        ('date,feed\n2027-03-01,"1,5"', 1.5),
        ("date,feed\n2027-03-01,1.250", 1.25),
        ("date\tfeed\n2027-03-01\t1'250.5", 1250.5),
        ("date\tfeed\n2027-03-01\t1 250", 1250.0),
    ],
)
def test_a_number_is_read_as_its_table_is_written(text, feed):
    if feed is None:
        assert "between 0 kg and 50,000 kg" in str(told(FEED, text))
    else:
        assert read_value(FEED, text)[0]["feed"] == feed


@pytest.mark.parametrize(
    ("number", "comma", "point"), [("1.250", 1250.0, 1.25), ("1,250", 1.25, 1250.0), ("2.500 g", 2.5, 0.0025)]
)
def test_a_number_that_can_be_two_gives_one_question(number, comma, point):
    text = f"date\tfeed\n2027-03-01\t{number}\n2027-03-02\t3"
    found = told(FEED, text)
    assert found.question["about"] == "comma" and found.question["words"] == f"How much is {number}?"
    for answer, value in (("decimal comma", comma), ("decimal point", point)):
        assert answer in [option["answer"] for option in found.question["options"]]
        assert read_value(FEED, with_answers(text, FEED.columns, {"comma": answer}, {}))[0]["feed"] == pytest.approx(
            value
        )


def test_blank_is_blank_however_it_is_written():
    rows = read_value(FEED, "date,feed,worms\n2027-03-01,2,–\n2027-03-02,2,n.a.\n2027-03-03,2,N/A\n2027-03-04,2,")
    assert [row["worms"] for row in rows] == [None] * 4


def test_columns_that_nobody_asked_for_are_named_and_left_out():
    rows = read_value(FEED, "weather,date,feed,note\nwet,2027-03-01,2,x\ndry,2027-03-02,3")
    assert [row["feed"] for row in rows] == [2, 3]
    assert rows.notes == ["Not asked for, left out: the columns “weather”, “note”."]


def test_a_slip_in_a_heading_is_asked_about_not_left_out():
    found = told(FEED, "date,fed,wormz\n2027-03-01,2,5")
    assert "no column “fed”. The nearest is feed" in str(found) and found.question["about"] == "columns"
    text = with_answers("date,fed\n2027-03-01,2", FEED.columns, {"columns": {"fed": "feed"}}, {})
    assert read_value(FEED, text)[0]["feed"] == 2


def test_foreign_headings_are_asked_about():
    text = "Datum;Futter (lb)\n3.5.2027;10"
    found = told(FEED, text)
    assert found.question["heads"] == ["Datum", "Futter (lb)"]
    assert {option["answer"] for option in found.question["options"]} == {"", *FEED.columns}
    answered = with_answers(text, FEED.columns, {"columns": {"Datum": "date", "Futter (lb)": "feed"}}, {})
    assert read_value(FEED, answered) == [
        {"date": date(2027, 5, 3), "feed": pytest.approx(4.5359237), "place": None, "worms": None}
    ]


@pytest.mark.parametrize("head", ["Feed given [lb]", "feed (lb)", "Feed given, lb", "Feed lb", "FEED (LB)"])
def test_headings_with_units_as_loggers_write_them(head):
    assert read_value(FEED, f'date;"{head}";Lane or tray\n2027-03-01;10;Lane 2')[0] == {
        "date": date(2027, 3, 1),
        "feed": pytest.approx(4.5359237),
        "place": "Lane 2",
        "worms": None,
    }


def test_what_is_wrong_names_its_cells():
    found = told(FEED, "date,feed,worms\n2027-03-01,lots,1.5\n2027-03-02,2,3\nsoon,2,3")
    assert found.cells == [(1, "feed"), (1, "worms"), (3, "date")]


def test_a_share_in_per_cent_and_a_choice_in_a_table():
    table = Rows(
        "Samples", {"moisture": Share("Moisture"), "feel": Choice("Feel", {"wet": "Dripping", "dry": "Crumbles"})}
    )
    assert read_value(table, "moisture (%);feel\n72,5;Dripping") == [{"moisture": 0.725, "feel": "wet"}]


def test_a_log_of_years_keeps_its_order():
    rows = read_value(LOG, "time,temperature\n" + "\n".join(f"{day}/3/2027 14:00,20" for day in range(1, 29)))
    assert rows[0]["time"] == datetime(2027, 3, 1, 14) and len(rows) == 28
