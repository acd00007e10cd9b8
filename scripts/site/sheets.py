"""The daily sheets: tables to print and fill in by hand, with a farm's name, units and bands where it has any.

A dot a day draws the chart: one column of each sheet is a scale with the band printed grey, so that what is out of the
ordinary is seen while it is written. How to measure stands above the table, in pictures.
"""

from dataclasses import dataclass
from html import escape

from calc.drawings import sheets as pictures
from calc.engine import Number, Share
from calc.engine.quantity import convert, symbol

BLANK, ROWS = "____________", 31


@dataclass(frozen=True)
class Scale:
    """Of a chart: ends and step of its numbers in each system, as shown."""

    us: tuple[float, float, float]
    metric: tuple[float, float, float]


@dataclass(frozen=True)
class Chart:
    """A column in which a dot a day is set.

    usual: the band that the handbook prints, in SI, or None; band: the key of a farm's own; says: above the scale.
    """

    scale: Scale
    usual: tuple[float, float] | None
    band: str
    says: str


@dataclass(frozen=True)
class Sheet:
    """place: what is written in by hand; bands: (key of a farm's band, words for it); plain: the bands of the handbook;
    columns: (head, description of what is written there or None, Chart where it is one); hands: which hand of the
    squeeze test is right, or None without them.
    """

    place: str
    bands: tuple
    plain: str
    note: str
    columns: tuple
    how: str
    hands: int | None = None


FEED, TEMPERATURE, MOISTURE = Number("kg", "", 0, 1e6), Number("degC", "", -40, 99), Share("")
BED = Chart(Scale((30, 100, 10), (0, 40, 10)), (10.0, 26.0), "lane_temperature", "a dot a day; out of the grey: look")
ROOM = Chart(
    Scale((50, 100, 10), (10, 40, 5)), None, "room_temperature", "a dot for the low, a dot for the high, joined"
)
HEAP = Chart(
    Scale((40, 180, 20), (0, 80, 20)),
    (55.0, 77.0),
    "heap_temperature",
    "a dot a day (longest gap 26 h); four running in the grey make three days",
)
SLICE = Chart(Scale((30, 90, 10), (30, 90, 10)), (0.50, 0.55), "", "a dot a slice; in the grey it is ready to screen")
SHEETS = {
    "lane": Sheet(
        "Lane",
        (("lane_temperature", "Band"), ("lane_moisture", "Moisture")),
        "Band: 50–79 °F (10–26 °C).",
        "Outside it, look; under 39 or over 86 °F (4, 30 °C) lay no feed.",
        (
            ("time", None, None),
            ("feed", FEED, None),
            ("water", FEED, None),
            ("temperature", TEMPERATURE, BED),
            ("moisture", MOISTURE, None),
            ("castings", FEED, None),
            ("who, what was seen", None, None),
        ),
        "Squeeze a handful from the face as hard as you can; write the share under the hand.",
        4,
    ),
    "breeding": Sheet(
        "Room",
        (("room_temperature", "Band"), ("cocoons", "Cocoons of a tray")),
        "Setpoint: ______, drawn as a line down the scale.",
        "Wash hands before and after.",
        (
            ("time", None, None),
            ("temperature, low and high", TEMPERATURE, ROOM),
            ("trays fed", None, None),
            ("trays started", None, None),
            ("trays sorted", None, None),
            ("cocoons in one tray", None, None),
            ("who, what was seen", None, None),
        ),
        "A thermometer that keeps the lowest and the highest: read both in the morning, then set it back. Count the"
        " cocoons of one tray in ten.",
    ),
    "heap": Sheet(
        "Heap",
        (("heap_temperature", "Band"),),
        "",
        "Started: ______ 131 °F (55 °C) for three days, or fifteen with five turnings. Gloves; steam burns.",
        (
            ("time", None, None),
            ("temperature", TEMPERATURE, HEAP),
            ("where in the heap", None, None),
            ("turned?", None, None),
            ("who, what was seen", None, None),
        ),
        "Leave the stem in until the hand stands still, two minutes or so. Turn the cool outside in.",
    ),
    "harvest": Sheet(
        "Lane",
        (),
        "",
        "Mask, moist castings, guards on.",
        (
            ("date", None, None),
            ("slice, length", Number("m", "", 0, 100), None),
            ("weight cut", FEED, None),
            ("moisture", MOISTURE, SLICE),
            ("to sell", FEED, None),
            ("back on the lane", FEED, None),
            ("mulch", FEED, None),
            ("minutes", None, None),
            ("who", None, None),
        ),
        "Squeeze a handful before you screen. Screened wetter it smears, drier it dusts.",
        2,
    ),
}
HINTS = {"lane": " (date)", "breeding": " (date)", "heap": " (date, hour)"}
WIDE = 1000.0
"""Of a chart, in units of its picture."""


def column_head(column, kind, farm):
    """`feed (lb)` on a farm's sheet, as the lane's log reads it back; without a unit where the reader chooses one."""
    head, description, _ = column
    if head == "time":
        return head + HINTS[kind]
    return f"{head} ({symbol(description.shown(farm.units))})" if farm and description else head


def first_line(sheet, farm):
    """Whose sheet it is, for what, and what is in order there."""
    parts = [f"{farm.name}. {sheet.place}: {BLANK}" if farm else f"Farm and {sheet.place.lower()}: {BLANK}"]
    parts.append("Month: ________")
    if farm:
        parts += [f"{words}: {farm.bands[key].text(farm.units)}." for key, words in sheet.bands if key in farm.bands]
    if not any(farm and key in farm.bands for key, _ in sheet.bands):
        parts.append(sheet.plain)
    return " ".join(part for part in (*parts, sheet.note) if part)


def shown_in(value, description, system):
    """An SI value as the numbers of a scale have it."""
    return convert(value, description.unit, description.shown(system))


def places(chart, system):
    """[(number, its place in the picture)] along a chart in one system."""
    low, high, step = getattr(chart.scale, system)
    numbers = [low + step * n for n in range(int((high - low) / step) + 1)]
    return [(number, WIDE * (number - low) / (high - low)) for number in numbers]


def _number(text, x, y):
    """A number of a scale, kept inside the column."""
    anchor, at = ("start", 8) if x < 30 else ("end", WIDE - 8) if x > WIDE - 60 else ("middle", x)
    return f'<text x="{at:.0f}" y="{y}" text-anchor="{anchor}">{text}</text>'


def numbers_svg(chart, description, farm):
    """The numbers above a chart: of the farm's system, else Fahrenheit with Celsius below it."""
    system = farm.units if farm else "us"
    both = not farm and description.unit == "degC"
    lines = [(places(chart, system), symbol(description.shown(system)))]
    if both:
        low, high, step = chart.scale.metric
        low_us, high_us, _ = chart.scale.us
        there = [low + step * n for n in range(int((high - low) / step) + 1)]
        at = [(number, WIDE * (number * 1.8 + 32 - low_us) / (high_us - low_us)) for number in there]
        lines.append(([one for one in at if 0 <= one[1] <= WIDE], "°C"))
    texts = "".join(
        _number(f"{number:g}{sign if place == 0 else ''}", x, 44 + 46 * row)
        for row, (line, sign) in enumerate(lines)
        for place, (number, x) in enumerate(line)
    )
    return f'<svg class="sheet-numbers" viewBox="0 0 {WIDE:g} {56 + 46 * both}" aria-hidden="true">{texts}</svg>'


def band_of(chart, farm):
    """The band that is printed grey, in SI: the farm's own, else the handbook's; None without one."""
    own = farm.bands.get(chart.band) if farm else None
    return (own.low, own.high) if own else chart.usual


def cell_svg(chart, description, farm):
    """One day of a chart: the band in grey and the lines of the scale."""
    system = farm.units if farm else "us"
    low, high, step = getattr(chart.scale, system)

    def at(number):
        return min(WIDE, max(0.0, WIDE * (number - low) / (high - low)))

    band = ""
    if ends := band_of(chart, farm):
        first, last = (at(shown_in(end, description, system)) for end in ends)
        band = f'<rect class="sheet-band" x="{first:.0f}" y="0" width="{last - first:.0f}" height="10"/>'
    numbers = [x for _, x in places(chart, system)]
    lines = "".join(f"M{x:.0f} 0V10" for x in numbers)
    halves = "".join(f"M{x + WIDE * step / (high - low) / 2:.0f} 3V7" for x in numbers[:-1])
    return (
        f'<svg class="sheet-scale" viewBox="0 0 {WIDE:g} 10" preserveAspectRatio="none" aria-hidden="true">{band}'
        f'<path d="{lines}{halves}"/></svg>'
    )


def how_html(kind, made):
    """How to measure, in pictures and a sentence."""
    hands = ""
    if made.hands is not None:
        hands = "".join(
            f"<div{' class=sheet-right' if place == made.hands else ''}>{picture}<span>{escape(share)}</span></div>"
            for place, (picture, share) in enumerate(pictures.hands())
        )
        hands = f'<div class="sheet-hands">{hands}</div>'
    return (
        f'<div class="sheet-how"><div class="sheet-picture">{pictures.PICTURES[kind]()}</div>'
        f"<div><p>{escape(made.how)}</p>{hands}</div></div>"
    )


def kind_of(column):
    """How wide a column is."""
    head, _, chart = column
    return "chart" if chart else "day" if head in {"time", "date"} else "words" if head.startswith("who") else "number"


def sheet(kind, farm=None):
    """The line above the table, how to measure, and the table."""
    made = SHEETS[kind]
    head = "".join(f'<th scope="col">{escape(column_head(column, kind, farm))}</th>' for column in made.columns)
    scales = "".join(
        f"<td>{escape(chart.says)}{numbers_svg(chart, description, farm)}</td>" if chart else "<td></td>"
        for _, description, chart in made.columns
    )
    kinds = "".join(f'<col class="sheet-{kind_of(column)}">' for column in made.columns)
    rows = "".join(
        "<tr>"
        + "".join(
            f'<td class="sheet-dots">{cell_svg(chart, description, farm)}</td>'
            if chart
            else f'<td class="sheet-day">{day}</td>'
            if head == "time"
            else "<td></td>"
            for head, description, chart in made.columns
        )
        + "</tr>\n"
        for day in range(1, ROWS + 1)
    )
    table = (
        f'<table class="sheet-table"><colgroup>{kinds}</colgroup>\n<thead>\n<tr>{head}</tr>\n'
        f'<tr class="sheet-scales">{scales}</tr>\n</thead>\n<tbody>\n{rows}</tbody>\n</table>'
    )
    frame = f'<div class="calc-scroll" tabindex="0" role="group" aria-label="Sheet to fill in: {kind}">{table}</div>'
    return f'<p class="sheet-whose">{escape(first_line(made, farm))}</p>\n{how_html(kind, made)}\n{frame}'
