"""What truly happens on a simulated farm in 26 weeks, seeded: what is laid, made and sold, and who writes it down.

The lanes, the room and the products are those of the demo farm. The true figures of its worms are known here, so that
the handbook can be asked for them. The phone's rows are typed in the pages, week by week; the office keeps a file.
"""

import random
from datetime import date, timedelta
from math import exp
from typing import NamedTuple

from calc.climate.season import season
from calc.facts import breeding
from calc.farm.ahead import plan_of
from calc.farm.tables import LANES, PRODUCTS
from calc.inputs import FEED_BULK_DENSITY
from calc.lane.model import LanePlan, follow

FIRST = date(2027, 1, 4)
WEEKS = 26
FROST = (5, 6)  # weeks in which nobody lays feed
POUND = 0.45359237
TRUE = {
    "ration": 0.66,
    "volume_kept": 0.46,
    "screen_product_share": 0.62,
    "cocoons_per_worm_per_week": 1.2,
    "survival": 0.9,
    "gap": 1.0,  # m
    "hours_per_slice": 0.25,  # h
    "screened_per_hour": 135.0,  # kg
    "sorting_minutes_per_tray": 24.0,
}
BREEDERS = breeding.BREEDERS_MASS.typical * breeding.BREEDERS_PER_MASS.typical
BREEDING_WEEKS = breeding.BREEDING_DAYS.typical / 7
YOUNG = (
    BREEDERS
    * TRUE["cocoons_per_worm_per_week"]
    * BREEDING_WEEKS
    * breeding.TRAY_HATCH.typical
    * breeding.TRAY_HATCHLINGS.typical
)  # of a tray


class Row(NamedTuple):
    day: date
    place: str
    what: str
    amount: float
    unit: str
    note: str = ""


class Season:
    """Rows of the office, and for each Monday what the phone has to write: {lane: feed [lb]}, or None: nobody came."""

    def __init__(self, seed: int) -> None:
        self.chance = random.Random(seed)
        self.office: list[Row] = []
        self.fed: list[dict[str, float] | None] = []
        self.made = self.sold = self.bags = 0
        self.castings = self.screened = self.worms = 0.0
        self._lanes()
        for week in range(WEEKS):
            self._week(week, FIRST + timedelta(days=7 * week))

    def noisy(self, value: float, scatter: float) -> float:
        return value * exp(self.chance.gauss(0, scatter))

    def write(self, day: date, place: str, what: str, amount: float, unit: str, note: str = "") -> float:
        """The amount as it is written, which is what counts."""
        amount = round(amount, 3)
        self.office.append(Row(day, place, what, amount, unit, note))
        return amount

    def _lanes(self) -> None:
        place, end = season("mild", None), FIRST + timedelta(days=7 * WEEKS)
        eaten, warm = {}, {}
        for lane in LANES:
            plan = plan_of(lane, TRUE["ration"], place, end)
            before = (FIRST - plan.start_date).days
            days = follow(plan, before + 7 * WEEKS)[before:]
            eaten[lane["name"]] = [day.appetite for day in days]
            warm[lane["name"]] = [day.bed_temperature for day in days]
        due = dict.fromkeys(eaten, 0.0)
        face, laid = {lane["name"]: 1.0 for lane in LANES}, dict.fromkeys(eaten, 0.0)
        for week in range(WEEKS):
            came = self.chance.random() > 0.12
            fed: dict[str, float] = {}
            for lane in LANES:
                name, monday = lane["name"], FIRST + timedelta(days=7 * week)
                due[name] += sum(eaten[name][7 * week - 7 : 7 * week]) if week else 0.0
                if week % 5 == 4:  # measured before this week's feed is laid
                    across = lane["height"] * (lane["width"] if lane["fed_on"] == "end" else lane["length"])
                    moved = self.noisy(TRUE["volume_kept"], 0.05) * laid[name] / FEED_BULK_DENSITY / across
                    face[name], laid[name] = face[name] + moved, 0.0
                    self.write(monday, name, "face", face[name], "m")
                if came and week not in FROST and due[name] > 3 and (week % 2 == 0 or name == LANES[0]["name"]):
                    fed[name] = round(self.noisy(due[name], 0.06) / POUND, 1)
                    laid[name] += fed[name] * POUND
                    due[name] = 0.0
                self.write(monday, name, "temperature", warm[name][7 * week] + self.chance.gauss(0, 0.6), "°C")
            self.fed.append(fed if came else None)

    def _week(self, week: int, monday: date) -> None:
        north = LANES[0]
        if week % 5 == 1:
            across = north["height"] * north["length"]
            sliced = self.write(monday, north["name"], "castings", self.noisy(180, 0.1), "kg")
            feet = sliced / 650 / across / 0.3048
            self.write(monday, north["name"], "hours", self.noisy(TRUE["hours_per_slice"], 0.1) * feet, "h", "slicing")
            self.write(monday, north["name"], "gap", self.noisy(TRUE["gap"], 0.04), "m")
            usual = LanePlan().shares
            dried = (1 - usual.castings_moisture) / (1 - usual.screening_moisture)
            day = monday + timedelta(days=2)
            fresh = self.noisy(TRUE["screen_product_share"], 0.03) * sliced * dried
            fresh = self.write(day, "shed", "screened", fresh, "kg")
            self.write(day, "shed", "hours", self.noisy(fresh / TRUE["screened_per_hour"], 0.05), "h", "screening")
            self.castings += fresh
            self.screened += fresh
            packed = int(self.castings / PRODUCTS[0]["castings"])
            self.castings -= packed * PRODUCTS[0]["castings"]
            self.bags += packed
            self.made += packed
            self.write(day, "shed", "bagged", packed, "bag")
        if week % 2 == 1:
            count = self.noisy(TRUE["cocoons_per_worm_per_week"] * BREEDERS * BREEDING_WEEKS, 0.05)
            self.write(monday, "Tray room", "cocoons", round(count), "cocoons")
            out = self.noisy(TRUE["survival"], 0.02) * 6 * YOUNG / breeding.SALE_PER_MASS.typical
            self.worms += self.write(monday, "Tray room", "worms", out, "kg")
            minutes = self.noisy(TRUE["sorting_minutes_per_tray"], 0.05) * 3
            self.write(monday, "Tray room", "hours", minutes / 60, "h", "sorting")
        gone = min(self.bags, self.chance.randint(0, 2))
        if gone:
            self.bags -= gone
            self.sold += gone
            self.write(monday + timedelta(days=5), "shed", "sold", gone, "bag", "Bag of castings")


def as_spreadsheet(rows: list[Row]) -> bytes:
    """The office's file as a spreadsheet leaves it elsewhere: a title, semicolons, decimal commas, days first."""
    lines = ["Quillfen;season 2027", "Date;Place;What;Amount;Unit;Note;Weather"]
    for row in rows:
        amount = f"{row.amount:g}".replace(".", ",")
        lines.append(f"{row.day:%d.%m.%Y};{row.place};{row.what};{amount};{row.unit};{row.note};")
    return ("﻿" + "\r\n".join(lines) + "\r\n").encode()
