"""The daily sheets: tables to print and fill in by hand, with a farm's name, units and bands where it has any."""

from dataclasses import dataclass
from html import escape

from calc.engine import Number, Share
from calc.engine.quantity import symbol

BLANK, ROWS = "____________", 22


@dataclass(frozen=True)
class Sheet:
    """place: what is written in by hand; bands: (key of a farm's band, words for it); plain: the bands of the handbook;
    columns: (head, description of what is written there or None).
    """

    place: str
    bands: tuple
    plain: str
    note: str
    columns: tuple


FEED, TEMPERATURE, MOISTURE = Number("kg", "", 0, 1e6), Number("degC", "", -40, 99), Share("")
SHEETS = {
    "lane": Sheet(
        "Lane",
        (("lane_temperature", "Band"), ("lane_moisture", "Moisture")),
        "Band: 50–79 °F (10–26 °C).",
        "Outside it, look today.",
        (
            ("time", None),
            ("feed", FEED),
            ("water", FEED),
            ("temperature", TEMPERATURE),
            ("moisture", MOISTURE),
            ("castings", FEED),
            ("who, what was seen", None),
        ),
    ),
    "breeding": Sheet(
        "Room",
        (("room_temperature", "Band"), ("cocoons", "Cocoons of a tray")),
        "Setpoint: ______",
        "Wash hands before and after.",
        (
            ("time", None),
            ("temperature, low", TEMPERATURE),
            ("temperature, high", TEMPERATURE),
            ("trays fed", None),
            ("trays started", None),
            ("trays sorted", None),
            ("cocoons in one tray", None),
            ("who, what was seen", None),
        ),
    ),
    "heap": Sheet(
        "Heap",
        (("heap_temperature", "Band"),),
        "",
        "Started: ______ 131 °F (55 °C) for three days, or fifteen with five turnings. Gloves; steam burns.",
        (
            ("time", None),
            ("temperature", TEMPERATURE),
            ("where in the heap", None),
            ("turned?", None),
            ("who, what was seen", None),
        ),
    ),
    "harvest": Sheet(
        "Lane",
        (),
        "",
        "Mask, moist castings, guards on.",
        (
            ("date", None),
            ("slice, length", Number("m", "", 0, 100)),
            ("weight cut", FEED),
            ("moisture", MOISTURE),
            ("to sell", FEED),
            ("back on the lane", FEED),
            ("mulch", FEED),
            ("minutes", None),
            ("who", None),
        ),
    ),
}
HINTS = {"lane": " (date)", "breeding": " (date)", "heap": " (date, hour)"}


def column_head(column, kind, farm):
    """`feed (lb)` on a farm's sheet, as the lane's log reads it back; without a unit where the reader chooses one."""
    head, description = column
    if head == "time":
        return head + HINTS[kind]
    return f"{head} ({symbol(description.shown(farm.units))})" if farm and description else head


def first_line(sheet, farm):
    """Whose sheet it is, for what, and what is in order there."""
    parts = [f"{farm.name}. {sheet.place}: {BLANK}" if farm else f"Farm and {sheet.place.lower()}: {BLANK}"]
    if farm:
        parts += [f"{words}: {farm.bands[key].text(farm.units)}." for key, words in sheet.bands if key in farm.bands]
    if not any(farm and key in farm.bands for key, _ in sheet.bands):
        parts.append(sheet.plain)
    return " ".join(part for part in (*parts, sheet.note) if part)


def sheet(kind, farm=None):
    """The line above the table, and the table."""
    made = SHEETS[kind]
    head = "".join(f"<th>{escape(column_head(column, kind, farm))}</th>" for column in made.columns)
    row = f"<tr>{'<td>&nbsp;</td>' * len(made.columns)}</tr>\n"
    body = f"<thead>\n<tr>{head}</tr>\n</thead>\n<tbody>\n{row * ROWS}</tbody>"
    return f"<p>{escape(first_line(made, farm))}</p>\n<table>\n{body}\n</table>"
