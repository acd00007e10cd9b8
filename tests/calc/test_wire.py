"""What travels between page and Python: rows as JSON, an error as {input, cells, message}, text only where a reader
pastes or saves.
"""

import base64
import json
from math import inf, nextafter

import pytest

import calc
from calc.page import respond
from calc.page.controls import rows_of
from calc.page.figure import seven_digits

DEFAULT = calc.find("feed.recipe").defaults["materials"]


def ask(call, **asked):
    return json.loads(respond(call, json.dumps({"calculator": "feed.recipe", "units": "us"} | asked)))


def materials(change):
    """The page's rows of the default mix, changed."""
    item = calc.find("feed.recipe").inputs["materials"]
    rows = item.as_grid(DEFAULT, "us").as_json()
    change(rows)
    return json.dumps(rows)


def empty(*places):
    def change(rows):
        for row, column in places:
            rows["rows"][row - 1][rows["columns"].index(column)] = ""

    return change


def test_two_masses_emptied_are_told_in_their_own_cells():
    """Once all nine cells of row 1 were marked and none of row 2."""
    error = ask("answer", values={"materials": materials(empty((1, "mass"), (2, "mass")))})["errors"]
    assert error == [
        {
            "input": "materials",
            "message": "Row 1, 2: say how much there is, by mass or by volume.",
            "cells": [[1, "mass"], [1, "volume"], [2, "mass"], [2, "volume"]],
        }
    ]


def test_a_cell_that_cannot_be_read_is_named():
    def spoil(rows):
        rows["rows"][1][rows["columns"].index("moisture")] = "wet"

    (error,) = ask("answer", values={"materials": materials(spoil)})["errors"]
    assert error["cells"] == [[2, "moisture"]] and "Row 2, moisture “wet”" in error["message"]
    assert calc.run("feed.recipe", {"materials": materials(spoil)}, units="us")["errors"] == [error]


@pytest.mark.parametrize(
    ("id", "values", "cells"),
    [
        ("moisture.test", {"samples": [{"tare": "50 g", "wet": "150 g", "dry": "160 g"}]}, [[1, "dry"], [1, "wet"]]),
        ("climate.water", {"months": [{"low": 20, "high": 10}] * 12}, [[12, "low"], [12, "high"]]),
        ("feed.recipe", {"materials": [{"material": "moon rock", "mass": 5}]}, [[1, "material"], [1, "nitrogen"]]),
    ],
)
def test_what_a_chapter_finds_wrong_names_its_cells(id, values, cells):
    (error,) = [error for error in calc.run(id, values)["errors"] if error["input"] in values]
    assert all(cell in error["cells"] for cell in cells)


def test_rows_answer_as_their_text_does_and_the_plan_keeps_text():
    rows = materials(empty((1, "share")))
    text = calc.find("feed.recipe").inputs["materials"].units_named(rows, "us")
    by_rows, by_text = (ask("answer", values={"materials": written}, raw=True) for written in (rows, text))
    assert by_rows["raw"] == by_text["raw"] and by_rows["plan"]["materials"] == text
    assert text.startswith("material,mass (lb),volume (ft³),")


def test_a_row_that_waits_to_be_filled_in_is_no_row_yet():
    def wait(rows):
        rows["rows"].insert(1, [""] * len(rows["columns"]))

    found = ask("answer", values={"materials": materials(wait)}, raw=True)
    assert found["ok"] and len(found["raw"]["inputs"]["materials"]["value"]) == len(DEFAULT)
    (error,) = ask("answer", values={"materials": materials(lambda rows: (wait(rows), empty((3, "mass"))(rows)))})[
        "errors"
    ]
    assert error["cells"][0] == [3, "mass"]  # counted as the reader sees them


def test_the_form_carries_rows_beside_the_text():
    html = ask("form")["html"]
    shown = rows_of(calc.find("feed.recipe").inputs["materials"], "material,mass (lb)\nleaves,5")
    assert shown == {
        "columns": ["material", "mass"],
        "headings": {"mass": ["lb"]},
        "rows": [["leaves", "5"]],
        "numbers": [1],
    } | {"headings": {"material": [], "mass": ["lb"]}}
    assert "data-rows=" in html and "&quot;rows&quot;" in html


def test_a_pasted_text_becomes_rows_and_rows_become_text():
    pasted = ask("table", input="materials", text="Material;Mass (kg);Farbe\nstraw, wet;1,5;gelb\nleaves;2;braun")
    assert pasted["table"]["rows"] == [["straw, wet", "1,5"], ["leaves", "2"]] and pasted["count"] == 2
    assert pasted["notes"] == ["Not asked for, left out: the column “Farbe”."]
    back = ask("table", input="materials", text=json.dumps(pasted["table"]))
    assert back["text"] == 'material,mass (kg) (decimal comma)\n"straw, wet","1,5"\nleaves,2'


def test_a_file_is_read_from_its_bytes_and_shown_as_understood():
    data = base64.b64encode("Material;Mass (kg)\ncafé grounds;2,5".encode("cp1252")).decode()
    found = ask("table", input="materials", data=data, read=True)
    assert (
        found["ok"]
        and found["heads"][:2] == ["Material", "Mass"]
        and found["first"][0][:2] == ["café grounds", "5.51 lb"]
    )
    (error,) = ask("table", input="materials", data=base64.b64encode(b"PK\x03\x04" + bytes(50)).decode())["errors"]
    assert error["message"] == "That is no text file. Save the table as CSV in your spreadsheet, and open that."
    assert ask("table", input="materials", data="*")["errors"][0]["message"] == "The file could not be read."


def test_a_question_is_asked_once_and_its_answer_settles_it():
    asked = {"calculator": "records.lane", "input": "log", "text": "time\tfeed\n5/3/2027\t1.250\n6/3/2027\t2"}
    first = ask("table", **asked)
    assert not first["ok"] and first["question"]["about"] == "order"
    second = ask("table", **asked, answers={"order": "day first"})
    assert not second["ok"] and second["question"]["about"] == "comma"
    third = ask("table", **asked, answers={"order": "day first", "comma": "decimal point"}, read=True)
    assert third["ok"] and third["text"].startswith("time (day first)\tfeed (decimal point)")
    assert third["first"][0][0].startswith("2027-03-05") or "5 March 2027" in third["first"][0][0]
    (error,) = calc.run("records.lane", {"log": asked["text"]})["errors"]
    assert error["question"] == first["question"] and "(day first)" in error["message"]


def test_a_block_from_a_spreadsheet():
    assert ask("block", text='leaves\t5\r\nstraw\t"2\t3"\r\n')["cells"] == [["leaves", "5"], ["straw", "2\t3"]]
    assert ask("block", text='a,"b, c"')["cells"] == [["a", "b, c"]]


def test_a_number_between_two_of_seven_digits_goes_to_one_of_them_whatever_its_last_bits():
    """Machines differ there in a bit or two, and the image of Python is held to CPython's text."""
    for thousandths in range(1_000_000, 9_999_999, 9_973):
        tie = thousandths / 1000 + 0.0005
        more, less = tie, tie
        for _ in range(3):
            more, less = nextafter(more, inf), nextafter(less, -inf)
        assert seven_digits(more) == seven_digits(less)
