"""A simulated farm of 26 weeks, whose true figures are known, kept by the handbook's own pages.

Two lanes, a tray room, four products; rows written on a phone and in the office, with noise, days on which nobody came,
and a frost. The farm follows the list of the week; its logbook then has to give back what truly happened.
"""

import json
import random
from datetime import date, timedelta
from math import exp

import pytest

import calc
from calc.__main__ import main
from calc.climate.season import season
from calc.engine.calendar import calendar_text
from calc.engine.run import answer
from calc.engine.view import field_value
from calc.farm.ahead import plan_of
from calc.farm.merge import merged
from calc.farm.tables import LANES, PRODUCTS, ROOMS
from calc.lane.model import follow

FIRST = date(2027, 1, 4)
WEEKS = 26
FROST = range(35, 42)
TRUE_RATION = 0.66


class Farm:
    """What truly happens, and the rows that are written of it into two copies of the logbook."""

    def __init__(self, seed):
        self.chance = random.Random(seed)
        self.phone, self.office = [], []
        self.made = self.sold = self.screened = 0.0
        self.written = 0

    def write(self, day, place, what, amount, unit, note=None):
        row = {
            "date": day.isoformat(),
            "place": place,
            "what": what,
            "amount": round(amount, 2),
            "unit": unit,
            "who": None,
            "note": note,
        }
        self.written += 1
        where = self.chance.random()
        if where < 0.7:
            self.phone.append(row)
        if where > 0.5:  # a fifth of the rows stand in both copies
            self.office.append(row)

    def noisy(self, value, scatter):
        return value * exp(self.chance.gauss(0, scatter))

    def run(self):
        place = season("mild", None)
        lanes = {row["name"]: row for row in LANES}
        plans = {
            name: plan_of(row, TRUE_RATION, place, FIRST + timedelta(days=7 * WEEKS)) for name, row in lanes.items()
        }
        pool, bags = 0.0, 0
        for name, plan in plans.items():
            before = (FIRST - plan.start_date).days
            days = follow(plan, before + 7 * WEEKS)[before:]
            due = 0.0
            for at, day in enumerate(days[:-1]):
                today = FIRST + timedelta(days=at)
                due += day.appetite
                cold = at in FROST
                if self.chance.random() < 0.35 or (cold and self.chance.random() < 0.7):
                    continue  # nobody came: what is due is laid the next time
                if due > 3 and not cold:
                    self.write(today, name, "feed", self.noisy(due, 0.08), "kg")
                    due = 0.0
                self.write(today, name, "temperature", day.bed_temperature * 1.8 + 32 + self.chance.gauss(0, 1), "F")
        for week in range(WEEKS):
            monday = FIRST + timedelta(days=7 * week)
            self.write(monday, "Tray room", "trays", 3, "trays")
            if week % 4 == 1:
                fresh = self.noisy(60.0, 0.1)
                self.screened += round(fresh, 2)
                pool += round(fresh, 2)
                self.write(monday, "shed", "screened", fresh, "kg")
                packed = int(pool / PRODUCTS[0]["castings"])
                pool -= packed * PRODUCTS[0]["castings"]
                bags += packed
                self.made += packed
                self.write(monday + timedelta(days=1), "shed", "bagged", packed, "bag")
            gone = min(bags, self.chance.randint(0, 3))
            if gone:
                bags -= gone
                self.sold += gone
                self.write(monday + timedelta(days=5), "shed", "sold", gone, "bag", "Bag of castings")
        self.bags_left, self.castings_left = bags, pool
        return self


TODAY = (FIRST + timedelta(days=7 * WEEKS)).isoformat()


@pytest.fixture(scope="module")
def farm():
    return Farm(2027).run()


@pytest.fixture(scope="module")
def log(farm):
    return merged(farm.phone, farm.office)


def test_the_copies_of_phone_and_office_become_one_logbook(farm, log):
    assert len(log.rows) == farm.written and log.conflicts == []
    assert len(farm.phone) + len(farm.office) > farm.written
    assert merged(log.rows, log.rows).rows == log.rows
    assert merged(farm.office, farm.phone).rows == sorted(
        merged(farm.office, farm.phone).rows, key=lambda row: row["date"][:10]
    )


def test_two_amounts_for_one_act_are_told_and_both_kept():
    row = {"date": "2027-05-01", "place": "North lane", "what": "feed", "amount": 44, "unit": "lb"}
    found = merged([row], [{**row, "amount": 40}])
    assert len(found.rows) == 2 and len(found.conflicts) == 1 and "44 lb" in found.conflicts[0]
    assert len(merged([row, row], [row]).rows) == 2, "done twice on one day"


def test_stock_is_what_truly_lies_in_the_shed(farm, log):
    found = calc.run("farm.stock", {"log": log.rows, "today": TODAY})
    bag = next(cells for cells in found["tables"]["stock"]["rows"] if cells[0] == "Bag of castings")
    assert bag[1:5] == pytest.approx([farm.made, farm.sold, 0, farm.bags_left])
    assert found["outputs"]["castings_left"]["value"] == pytest.approx(farm.castings_left, abs=1e-6)
    assert found["outputs"]["castings_screened"]["value"] == pytest.approx(farm.screened)
    assert not [sentence for sentence in found["warnings"] if "more of" in sentence]


def test_stock_never_falls_below_nothing_in_any_week(log):
    for week in range(0, WEEKS + 1, 2):
        today = (FIRST + timedelta(days=7 * week)).isoformat()
        found = calc.run("farm.stock", {"log": log.rows, "today": today})
        assert all(cells[4] >= 0 for cells in found["tables"]["stock"]["rows"])
        assert found["outputs"]["castings_left"]["value"] >= 0 and found["outputs"]["worms_left"]["value"] >= 0


def test_the_ration_is_found_again_in_every_farm():
    """How often its band holds the truth is asked where the truth is drawn anew: tests/calc/test_farm_learn.py."""
    for seed in range(12):
        rows = merged(*((one := Farm(seed).run()).phone, one.office)).rows
        found = calc.run("records.learn", {"log": rows})["outputs"]["ration"]
        assert abs(found["value"] / TRUE_RATION - 1) < 0.2, seed


def test_week_after_week_the_calendar_doubles_nothing(log):
    """A line that stands in the calendars of two weeks is the same thing at the same place."""
    seen = {}
    for week in range(20, WEEKS + 1):
        view = answer("farm.week", {"log": log.rows, "today": (FIRST + timedelta(days=7 * week)).isoformat()})
        text = calendar_text(view.shown.events, view.entry.question).replace("\r\n ", "")
        entries = [part.split("END:VEVENT")[0] for part in text.split("BEGIN:VEVENT")[1:]]
        keys = [entry.split("UID:")[1].split("\r\n")[0] for entry in entries]
        assert len(keys) == len(set(keys))
        for key, entry in zip(keys, entries):
            said = entry.split("SUMMARY:")[1].split("\r\n")[0].rsplit(":", 1)[0]
            assert seen.setdefault(key, said).split(":")[0] == said.split(":")[0]


def test_the_list_of_the_week_asks_for_what_the_lanes_truly_eat(log):
    """Feed asked for over the last weeks is the model's own appetite at the handbook's ration, within a tenth or so."""
    asked = [
        calc.run(
            "farm.week",
            {"log": log.rows, "today": (FIRST + timedelta(days=7 * week)).isoformat(), "ration": TRUE_RATION},
        )
        for week in range(14, 26, 3)
    ]
    place, eaten = season("mild", None), 0.0
    for lane in LANES:
        plan = plan_of(lane, TRUE_RATION, place, FIRST)
        days = follow(plan, (FIRST - plan.start_date).days + 7 * WEEKS)
        for week in range(14, 26, 3):
            start = (FIRST - plan.start_date).days + 7 * week
            eaten += sum(day.eaten for day in days[start : start + 7])
    total = sum(found["outputs"]["feed_this_week"]["value"] for found in asked)
    assert 0.5 < total / eaten < 1.8


def test_the_terminal_gives_the_same_figures_from_the_same_file(log, capsys):
    entry = calc.find("farm.money")
    text = field_value(entry.inputs["log"].value(log.rows, None, "$"), entry.inputs["log"], "us")
    assert main(["farm.money", f"log={text}", f"today={TODAY}", "--json", "--units", "us"]) == 0
    printed = json.loads(capsys.readouterr().out)["outputs"]
    page = calc.run("farm.money", {"log": log.rows, "today": TODAY}, units="us")["outputs"]
    for name, value in page.items():
        if isinstance(value["value"], float):
            assert printed[name]["value"] == pytest.approx(value["value"], rel=1e-6), name


def test_the_demo_tables_are_those_of_the_simulation():
    assert {row["name"] for row in ROOMS} == {"Tray room"} and {row["name"] for row in LANES} == {
        "North lane",
        "Barn lane",
    }
