"""A weather file as text, its average months out: nothing is opened, fetched or sent here.

Two kinds are read. EPW, the open format of weather years for building simulation: eight lines of heading, then an hour
a line in 35 columns (EnergyPlus, Auxiliary Programs, "EnergyPlus Weather File (EPW) Data Dictionary"). And a table as a
weather service or a logger writes it: a line of names, then a date and what was measured, by the day or by the hour.

Units out: degC, humidity as a share, wind at 2 m in m/s, sun in MJ/m2 a day.
"""

from __future__ import annotations

import csv
import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from datetime import date
from functools import partial
from operator import mul
from statistics import fmean

from calc.climate.evaporation import wind_at_two_metres
from calc.engine.describe import Refused
from calc.engine.kinds.base import MONTH_NAMES

FEWEST_DAYS = 20
"""Days of a month below which its mean is told to be uncertain."""

COLDEST, HOTTEST = -70.0, 60.0
"""Air temperatures outside these are no weather but a fault or another unit [degC]."""

EPW_COLUMNS = 35
EPW_WIND_HEIGHT = 10.0
"""Wind in an EPW file is that of a weather station, at 10 m."""

# Column of each figure in a line of an EPW file, counted from 0, and the value that stands for "not measured".
EPW_TEMPERATURE, EPW_HUMIDITY, EPW_SUN, EPW_WIND = (6, 99.9), (8, 999.0), (13, 9999.0), (21, 999.0)

MOST_LINES = 600_000
"""Lines that are read at most: sixty years by the hour."""


@dataclass(frozen=True)
class MonthOfWeather:
    """Average day of a month: mean, high and low of the air [degC], humidity [-], wind [m/s], sun [MJ/m2/day], hours of
    bright sun; None where the file has none. Days that were counted."""

    mean: float
    high: float | None
    low: float | None
    humidity: float | None
    wind: float | None
    sun: float | None
    sun_hours: float | None
    days: int


@dataclass(frozen=True)
class WeatherFile:
    """What a file says: where it is from, latitude [deg] and altitude [m] where given, twelve months, and what the
    reader should know.
    """

    place: str
    latitude: float | None
    altitude: float | None
    months: tuple[MonthOfWeather, ...]
    notes: tuple[str, ...]

    @property
    def monthly_means(self) -> list[float]:
        """Mean air of each month, January first [degC]."""
        return [month.mean for month in self.months]


@dataclass
class _Day:
    """Readings of one day as they come in."""

    temperatures: list[float] = field(default_factory=list)
    highs: list[float] = field(default_factory=list)
    lows: list[float] = field(default_factory=list)
    humidities: list[float] = field(default_factory=list)
    winds: list[float] = field(default_factory=list)
    powers: list[float] = field(default_factory=list)
    energies: list[float] = field(default_factory=list)
    bright: list[float] = field(default_factory=list)

    def mean(self) -> float | None:
        """Mean of the day [degC]: of its readings, or half-way between high and low."""
        if self.temperatures:
            return fmean(self.temperatures)
        return (max(self.highs) + min(self.lows)) / 2 if self.highs and self.lows else None

    def sun(self) -> float | None:
        """Sun of the day [MJ/m2]: the mean power [W/m2], or the energies [MJ/m2] of its parts added up."""
        if self.powers:
            return fmean(self.powers) * 0.0864
        return sum(self.energies) if self.energies else None

    def ends(self) -> tuple[float | None, float | None]:
        """High and low of the day [degC]; one reading a day has neither."""
        many = len(self.temperatures) >= 4
        high = max(self.highs) if self.highs else max(self.temperatures) if many else None
        low = min(self.lows) if self.lows else min(self.temperatures) if many else None
        return high, low


def refuse(message: str) -> Refused:
    """A file that cannot be read, in a sentence."""
    return Refused([("weather_file", message)])


def read_weather(text: str) -> WeatherFile:
    """The average months of a weather file, EPW or a table.

    Raises Refused with one sentence that says what is wrong and where.
    """
    text = text.replace("\ufeff", "").replace("\r\n", "\n").replace("\r", "\n")
    if not text.strip():
        raise refuse("The file is empty.")
    if text.count("\n") > MOST_LINES:
        raise refuse(f"The file has more than {MOST_LINES:,} lines: cut it down to the last ten years or so.")
    return _read_epw(text) if text.lstrip()[:9].upper() == "LOCATION," else _read_table(text)


# ------------------------------------------------------------------------------------------------ EPW


def _read_epw(text: str) -> WeatherFile:
    lines = text.lstrip().split("\n")
    head = [part.strip() for part in lines[0].split(",")]
    place = ", ".join(part for part in head[1:4] if part and part != "-")
    data = [(number, line) for number, line in enumerate(lines, start=1) if line[:1].isdigit()]
    days: dict[tuple[int, int, int], _Day] = {}
    for number, line in data:
        cells = line.split(",")
        if len(cells) < EPW_COLUMNS - 6:  # older files leave off the last columns
            raise refuse(
                f"Line {number} has {len(cells)} columns; a line of an EPW file has {EPW_COLUMNS}. It may be cut off."
            )
        try:
            when = int(cells[0]), int(cells[1]), int(cells[2])
        except ValueError:
            raise refuse(f"Line {number} does not begin with year, month and day.") from None
        if not (1 <= when[1] <= 12 and 1 <= when[2] <= 31):
            raise refuse(f"Line {number} names month {when[1]} and day {when[2]}.")
        day = days.setdefault(when, _Day())
        temperature = _epw_number(cells, EPW_TEMPERATURE, number)
        if temperature is not None:
            day.temperatures.append(_believed(temperature, number))
        if (humidity := _epw_number(cells, EPW_HUMIDITY, number)) is not None and 0 <= humidity <= 110:
            day.humidities.append(min(1.0, humidity / 100))
        if (sun := _epw_number(cells, EPW_SUN, number)) is not None:
            day.powers.append(max(0.0, sun))  # Wh/m2 of an hour is its mean in W/m2
        if (wind := _epw_number(cells, EPW_WIND, number)) is not None and 0 <= wind <= 80:
            day.winds.append(wind_at_two_metres(wind, EPW_WIND_HEIGHT))
    if not days:
        raise refuse("This EPW file has its heading and no hours below it: it was cut off.")
    return WeatherFile(
        place or "a place that the file does not name",
        _head_number(head, 6),
        _head_number(head, 9),
        *_months(days, hourly=True),
    )


def _epw_number(cells: Sequence[str], column: tuple[int, float], line: int) -> float | None:
    place, missing = column
    try:
        value = float(cells[place])
    except ValueError:
        raise refuse(f"Line {line}, column {place + 1}: “{cells[place].strip()[:20]}” is no number.") from None
    return None if value >= missing else value


def _head_number(head: Sequence[str], place: int) -> float | None:
    try:
        return float(head[place])
    except (IndexError, ValueError):
        return None


# ------------------------------------------------------------------------------------------------ a table

# What the name of a column may begin with, most particular first; and what is made of a figure in it.
NAMES: tuple[tuple[str, str], ...] = (
    ("date", r"(date|day|time|datum|valid|observed|timestamp)"),
    ("high", r"(t_?max|max\w*[ _]?(air[ _]?)?temp|temp\w*[ _]?max|high|maximum[ _]temp)"),
    ("low", r"(t_?min|min\w*[ _]?(air[ _]?)?temp|temp\w*[ _]?min|low|minimum[ _]temp)"),
    ("dew", r"(dew|td\b)"),
    ("temperature", r"(t_?avg|t_?mean|tm?\b|ta\b|(mean[ _]|avg[ _]|average[ _])?(air[ _]?)?temp|tavg|dry[ -]?bulb)"),
    ("humidity", r"(rh|rel\w*[ _]?hum|hum)"),
    ("wind", r"(wind[ _]?(speed|sp)|wind$|wind[ _(\[]|ws\b|wspd)"),
    ("sun_hours", r"(sun\w*[ _]?(hours|duration)|sunshine|hours of sun|bright)"),
    ("sun", r"(ghi|sun|solar|global[ _]?(hor|rad)|rad|irradiance)"),
)


@dataclass(frozen=True)
class _Column:
    place: int
    kind: str
    convert: Callable[[float], float]
    power: bool


def _read_table(text: str) -> WeatherFile:
    rows = list(_split(text))
    start = next((number for number, cells in enumerate(rows) if _kinds(cells).get("date") is not None), None)
    if start is None:
        raise refuse(
            "No line of names was found. The first line must name the columns, such as: date, temperature (°C),"
            " humidity"
            " (%), wind (m/s)."
        )
    names = rows[start]
    columns = _columns(names)
    kinds = {column.kind for column in columns}
    if "temperature" not in kinds and not {"high", "low"} <= kinds:
        raise refuse(
            f"No temperature among the columns “{', '.join(name.strip() for name in names)[:80]}”: name one"
            " “temperature (°C)” or “temperature (°F)”, or two “high” and “low”."
        )
    place = next(place for place, name in enumerate(names) if _kind(name) == "date")
    body = [
        (number, cells)
        for number, cells in enumerate(rows, start=1)
        if number > start + 1 and any(map(str.strip, cells))
    ]
    when = _dates([(number, cells[place] if place < len(cells) else "") for number, cells in body])
    days: dict[tuple[int, int, int], _Day] = {}
    for (number, cells), moment in zip(body, when):
        day = days.setdefault((moment.year, moment.month, moment.day), _Day())
        for column in columns:
            written = cells[column.place].strip() if column.place < len(cells) else ""
            if (value := _number(written, number, names[column.place])) is not None:
                _put(day, column, column.convert(value), number)
    if not days:
        raise refuse("Below the names there is no line with a date.")
    hourly = len(body) > 2 * len(days)
    return WeatherFile("your table", None, None, *_months(days, hourly))


def _split(text: str) -> Iterator[list[str]]:
    """Cells of each line; comma, semicolon or tab between them, whichever the first lines have most of."""
    sample = "\n".join(text.split("\n")[:20])
    between = max((";", "\t", ","), key=lambda sign: (sample.count(sign), sign != ","))
    yield from csv.reader(text.split("\n"), delimiter=between)


def _kind(name: str) -> str | None:
    plain = name.strip().strip('"').lower()
    return next((kind for kind, pattern in NAMES if re.match(pattern, plain)), None)


def _kinds(cells: Sequence[str]) -> dict[str, int]:
    found: dict[str, int] = {}
    for place, name in enumerate(cells):
        kind = _kind(name)
        if kind:
            found.setdefault(kind, place)
    return found


def _columns(names: Sequence[str]) -> list[_Column]:
    """The columns that are used, the first of each kind; a dew point is passed over."""
    return [
        _Column(place, kind, _conversion(kind, names[place]), is_power(names[place]))
        for kind, place in _kinds(names).items()
        if kind not in ("date", "dew")
    ]


def _from_fahrenheit(value: float) -> float:
    return (value - 32) / 1.8


def _from_kelvin(value: float) -> float:
    return value - 273.15


def _from_percent(value: float) -> float:
    """Humidity [-]; a figure of at most one is taken to be a share already."""
    return min(1.0, value / 100 if value > 1 else value)


def _conversion(kind: str, name: str) -> Callable[[float], float]:
    """What is made of a figure, by the unit in the column's name."""
    unit = name.lower()
    if kind in ("temperature", "high", "low"):
        if re.search(r"°\s*f|\(f\)|\[f\]|_f\b|fahrenheit|degf|deg f", unit):
            return _from_fahrenheit
        if re.search(r"\(k\)|\[k\]|_k\b|kelvin", unit):
            return _from_kelvin
        return float
    if kind == "humidity":
        return _from_percent
    if kind == "wind":
        factors = (("km", 1 / 3.6), ("mph", 0.44704), ("mi/h", 0.44704), ("kn", 0.514444), ("kt", 0.514444))
        factor = next((number for word, number in factors if word in unit), 1.0)
        return partial(mul, factor)
    energy = (("kwh", 3.6), ("wh", 0.0036), ("kj", 0.001), ("cal", 0.041868))  # calories are langleys, cal/cm2
    return next((partial(mul, factor) for word, factor in energy if kind == "sun" and word in unit), float)


def is_power(name: str) -> bool:
    """Whether a column of sun is in watts: a mean, and not an amount that adds up.

    >>> is_power("GHI (W/m²)"), is_power("solar radiation (MJ/m2)"), is_power("solar (Wh/m2)")
    (True, False, False)
    """
    return re.search(r"w/m|w m|wm-?2|watt", name.lower()) is not None


def _number(written: str, line: int, name: str) -> float | None:
    """A cell as a number; None where nothing was measured. A decimal comma is read."""
    if written.lower() in (
        "",
        "-",
        "--",
        "na",
        "nan",
        "n/a",
        "null",
        "none",
        "m",
        "t",
        "-9999",
        "9999",
        "-999",
        "-99",
        "-99.9",
    ):
        return None
    try:
        return float(written.replace("−", "-").replace(",", "."))
    except ValueError:
        raise refuse(f"Line {line}, {name.strip()}: “{written[:20]}” is no number.") from None


def _put(day: _Day, column: _Column, value: float, line: int) -> None:
    if column.kind in ("temperature", "high", "low"):
        value = _believed(value, line)
    {
        "temperature": day.temperatures,
        "high": day.highs,
        "low": day.lows,
        "humidity": day.humidities,
        "wind": day.winds,
        "sun": day.powers if column.power else day.energies,
        "sun_hours": day.bright,
    }[column.kind].append(value)


def _believed(temperature: float, line: int) -> float:
    if not COLDEST <= temperature <= HOTTEST:
        raise refuse(
            f"Line {line}: {temperature:g} °C is no air temperature. If the file is in Fahrenheit, write “°F” into the"
            " name of the column."
        )
    return temperature


ISO = re.compile(r"^\s*(\d{4})[-/.]?(\d{2})[-/.]?(\d{2})")
SLASHED = re.compile(r"^\s*(\d{1,2})[-/.](\d{1,2})[-/.](\d{2,4})")


def _dates(written: Sequence[tuple[int, str]]) -> list[date]:
    """Date of each line. Year first is plain; of day and month, the one that is ever over twelve is the day."""
    found: list[tuple[int, int, int, int]] = []  # line, year (0: slashed), first, second
    slashed = []
    for line, text in written:
        if match := ISO.match(text):
            number, first, second = (int(part) for part in match.groups())
            found.append((line, number, first, second))
        elif match := SLASHED.match(text):
            one, two, year = (int(part) for part in match.groups())
            slashed.append((one, two))
            found.append((line, year + 2000 if year < 100 else year, -one, two))
        else:
            raise refuse(f"Line {line}: “{text.strip()[:20]}” is no date. Write it as 2027-03-31.")
    day_first = any(one > 12 for one, _ in slashed)
    month_first = any(two > 12 for _, two in slashed)
    if day_first and month_first:
        raise refuse("Some dates have the day first and some the month first. Write them as 2027-03-31.")
    if slashed and not (day_first or month_first):
        raise refuse("It cannot be told whether day or month comes first in these dates. Write them as 2027-03-31.")
    dates = []
    for line, year, first, second in found:
        month, day = (first, second) if first >= 0 else (second, -first) if day_first else (-first, second)
        try:
            dates.append(date(year, month, day))
        except ValueError:
            raise refuse(f"Line {line}: there is no day {day} of month {month} in {year}.") from None
    return dates


# ------------------------------------------------------------------------------------------------ days to months


def _months(days: dict[tuple[int, int, int], _Day], hourly: bool) -> tuple[tuple[MonthOfWeather, ...], tuple[str, ...]]:
    """Average day of each month over all years of the file, and sentences about what is thin or lacking."""
    by_month: list[list[_Day]] = [[] for _ in range(12)]
    for (_, month, _), day in sorted(days.items()):
        if day.mean() is not None:
            by_month[month - 1].append(day)
    lacking = [name for name, found in zip(MONTH_NAMES, by_month) if not found]
    if lacking:
        named = ", ".join(lacking) if len(lacking) <= 6 else f"{', '.join(lacking[:5])} and {len(lacking) - 5} more"
        raise refuse(f"There is no temperature for {named}: a year needs all twelve months.")
    months = tuple(_average(found) for found in by_month)
    notes = [
        f"{name} rests on {month.days} {'day' if month.days == 1 else 'days'} only."
        for name, month in zip(MONTH_NAMES, months)
        if month.days < FEWEST_DAYS
    ][:3]
    years = len({year for year, _, _ in days})
    if not hourly and years == 1:
        notes.append("One year is weather, not climate: ten years or more give better averages.")
    for name in ("humidity", "wind", "sun"):
        if any(getattr(month, name) is None and (name != "sun" or month.sun_hours is None) for month in months):
            notes.append(f"The file does not have {name} for every month: that stays as it was.")
    return months, tuple(notes)


def _average(days: Sequence[_Day]) -> MonthOfWeather:
    def over(part: Callable[[_Day], float | None]) -> float | None:
        values = [value for day in days if (value := part(day)) is not None]
        return fmean(values) if values else None

    mean = over(_Day.mean)
    assert mean is not None  # only days with a temperature come here
    return MonthOfWeather(
        mean=mean,
        high=over(lambda day: day.ends()[0]),
        low=over(lambda day: day.ends()[1]),
        humidity=over(lambda day: fmean(day.humidities) if day.humidities else None),
        wind=over(lambda day: fmean(day.winds) if day.winds else None),
        sun=over(_Day.sun),
        sun_hours=over(lambda day: sum(day.bright) if day.bright else None),
        days=len(days),
    )
