"""A farm's own edition: what a `farm.yml` may say, and every fault of one told by line.

    farm, faults = read_farm(text, folder)

gives the farm, or None with [(line, message)]. Values of calculators are read by the code that reads a reader's form,
so the messages are the same. Nothing here writes; `farm_pages.py` puts the farm on the pages.
"""

import re
from dataclasses import dataclass, field
from difflib import get_close_matches
from pathlib import Path
from urllib.parse import urlparse

import farm_text
import logo

from calc.engine import POUND, YARD3, Choice, Number, Refused, Share
from calc.engine.quantity import UnknownUnit, quantity_text, unit
from calc.engine.read import Told, read_inputs, read_value
from calc.engine.register import every
from calc.engine.run import answer
from calc.facts import climate as climates
from calc.farm.stock import WEEKS_A_MONTH
from calc.inputs import BED_HEIGHT, CASTINGS_BULK_DENSITY, START_DATE
from calc.page.form import plan_key

CHAPTERS = {
    "lane": "Lanes",
    "feed": "Feed and bedding",
    "moisture": "Moisture",
    "climate": "Water, heat and frost",
    "harvest": "Harvest",
    "breeding": "Breeding",
    "economics": "Money",
    "garden": "In the garden",
    "records": "Records",
    "farm": "Your farm",
    "troubles": "Troubles",
}
"""Folders of docs/ that an edition may leave out.

Front page, start, customers, glossary, method and licences always stay.
"""


@dataclass(frozen=True)
class Key:
    """One key of the file: what it takes, what it does, an example. The table on the page is made of these."""

    name: str
    takes: str
    does: str
    example: str


KEYS = (
    Key(
        "name",
        "text, up to 60 signs",
        "Stands at the top of every page, on the sheets and in the footer. The only key that has to be there.",
        "Quillfen Smallholding",
    ),
    Key(
        "welcome",
        "text, up to 300 signs",
        "One or two sentences of yours on the front page.",
        "Castings and worms from a mild wet valley.",
    ),
    Key(
        "logo",
        "name of an SVG or PNG file beside farm.yml",
        "Your mark at the top of every page. At most 200 kB; an SVG must be a plain drawing.",
        "quillfen.svg",
    ),
    Key("contact", "group", "For the customers' page. Any of the six below, at least one.", ""),
    Key("contact.person", "text", "Whom to ask for.", "Wren Alderby"),
    Key("contact.address", "text", "Where you are.", "Quillfen, over the ford"),
    Key("contact.phone", "telephone number", "Becomes a link that dials.", "555 0142"),
    Key("contact.email", "mail address", "Becomes a link that writes.", "hello@quillfen.example"),
    Key("contact.website", "address with https://", "Becomes a link.", "https://quillfen.example"),
    Key("contact.hours", "text", "When you are there.", "Saturdays 9 to 12"),
    Key(
        "units",
        "us or metric",
        "Units that pages open in, and that bare numbers in this file are in. Readers can switch.",
        "us",
    ),
    Key("currency", "sign of up to 4 letters", "Stands before every amount.", "$"),
    Key(
        "address",
        "address with https://",
        "Where the edition will be served, if it will: moving between pages is quicker then.",
        "https://quillfen.example/worms/",
    ),
    Key("invented", "yes or no", "Yes puts a note that the figures are made up: for examples such as this one.", "yes"),
    Key("prices", "list of groups", "What you sell. The customers' page shows it as a table, in this order.", ""),
    Key("prices: product", "text", "What it is.", "Screened castings"),
    Key("prices: amount", "quantity, or words", "How much of it the price is for.", "5 gal"),
    Key("prices: price", "amount of money", "What it costs.", "$16"),
    Key("prices: about", "text, may be left out", "A sentence for the customer.", "Moist, in a breathing sack"),
    Key(
        "prices: fills",
        "bag, bulk or worms; may be left out",
        "Makes this the price that calculators start from: of a bag, of loose castings by volume, or of worms by"
        " weight.",
        "bag",
    ),
    Key("climate", "group", "Your place and weather, for every page that asks.", ""),
    Key(
        "climate.start",
        ", ".join(climates.CLIMATES),
        "The invented climate to start from, for whatever you leave out.",
        "mild",
    ),
    Key("climate.latitude", "angle", "South is negative.", "45"),
    Key("climate.altitude", "length", "Above the sea.", "120 m"),
    Key("climate.coldest", "temperature", "The coldest hour that a room is built for.", "10 F"),
    Key("climate.hottest", "temperature", "The hottest hour that a room is built for.", "88 F"),
    Key(
        "climate.months",
        "table of twelve rows",
        "Averages, January first: month, high, low, and where you have them humidity, wind, sun_hours.",
        "",
    ),
    Key(
        "inputs",
        "group",
        "Your defaults: the name of an input, or calculator.input where one name has several meanings.",
        "lane_length: 12 ft",
    ),
    Key("bands", "group of ranges", "What is in order at your place. Outside it, somebody looks.", ""),
    Key(
        "bands.lane_temperature",
        "range",
        "Printed on the lane sheet; the lane's log counts the hours outside it.",
        "52 to 77 F",
    ),
    Key(
        "bands.lane_moisture",
        "range",
        "Printed on the lane sheet; watering goes from its lower end to its upper.",
        "74 to 80 %",
    ),
    Key("bands.room_temperature", "range", "Printed on the sheet of the breeding room.", "77 to 82 F"),
    Key("bands.heap_temperature", "range", "Printed on the sheet of the hot heap.", "131 to 150 F"),
    Key(
        "bands.cocoons",
        "range of numbers",
        "Of one tray. Printed on the sheet of the breeding room, drawn into the control chart.",
        "1800 to 2200",
    ),
    Key(
        "chapters",
        "list",
        f"The chapters to keep, any of: {', '.join(CHAPTERS)}. Left out: all of them.",
        "[lane, moisture, garden]",
    ),
)

CONTACT = ("person", "address", "phone", "email", "website", "hours")
NAMES = (
    "name",
    "welcome",
    "logo",
    "contact",
    "units",
    "currency",
    "address",
    "invented",
    "prices",
    "climate",
    "inputs",
    "bands",
    "chapters",
)
PRICE_KEYS = ("product", "amount", "price", "about", "fills")
FILLS = {"bag": "one bag of castings", "bulk": "loose castings by volume", "worms": "worms by weight"}
MOST_PRICES = 60

BANDS = {
    "lane_temperature": Number("degC", "Temperature of the lane", -5, 45),
    "lane_moisture": Share("Moisture of the lane", 0.3, 0.95),
    "room_temperature": Number("degC", "Temperature of the room", 5, 40),
    "heap_temperature": Number("degC", "Temperature of the heap", 20, 90),
    "cocoons": Number("1", "Cocoons of a tray", 0, 1e6),
}
BAND_FILLS = {
    "lane_temperature": (("records.lane", "band_low"), ("records.lane", "band_high")),
    "lane_moisture": (
        (("climate.water", "climate.today"), "lower_moisture"),
        (("climate.water", "climate.today"), "upper_moisture"),
    ),
    "cocoons": (("records.chart", "band_low"), ("records.chart", "band_high")),
}
"""Inputs that take the low and the high end of a band."""


def asked_by_all(*names):
    """((calculator, input), …): every field of these names, so that all pages speak of one place."""
    return tuple((id, name) for id, entry in every().items() for name in names if name in entry.inputs)


CLIMATE_FILLS = {
    "start": asked_by_all("climate"),
    "latitude": (("climate.water", "latitude"), ("climate.today", "latitude")),
    "altitude": (("climate.water", "altitude"), ("climate.today", "altitude"), ("climate.mist", "altitude")),
    "coldest": (("breeding.room", "design_temperature"),),
    "hottest": (("breeding.room", "hot_design_temperature"),),
    "months": (("climate.water", "months"),),
}
MEANS = asked_by_all("monthly_means", "monthly_temperature")
UNIT_PRICES = {"pound": ("worms", POUND), "kilogram": ("worms", 1.0), "yard": ("bulk", YARD3), "metre": ("bulk", 1.0)}
"""What the money pages call a unit: which of our prices gives it, and how much of it that is [kg or m3]."""
FARM_PAGES = ("farm.week", "farm.stock", "farm.money", "records.learn")
FARM_TABLES = ("lanes", "rooms", "products", "log")
"""A bare name of these is the table of the farm's pages, whatever other calculators call so."""
MONEY_PAGES = ("economics.unit_cost", "economics.cash", "economics.return")


@dataclass(frozen=True)
class Price:
    product: str
    amount: str
    price: float
    about: str = ""
    fills: str = ""


@dataclass(frozen=True)
class Span:
    """A band: low and high in the SI unit, and the description that it was read by."""

    low: float
    high: float
    of: Number

    def text(self, system):
        shown = self.of.shown(system)
        low, high = (quantity_text(end, self.of.unit, shown) for end in (self.low, self.high))
        sign = high.removeprefix(re.match(r"[\d.,−]*", high)[0])
        return f"{low.removesuffix(sign)}–{high}" if sign and low.endswith(sign) else f"{low} to {high}"


@dataclass(frozen=True)
class Farm:
    name: str
    welcome: str = ""
    logo: Path | None = None
    contact: dict = field(default_factory=dict)
    units: str = "us"
    currency: str = "$"
    address: str = ""
    invented: bool = False
    prices: tuple = ()
    bands: dict = field(default_factory=dict)
    chapters: tuple = tuple(CHAPTERS)
    values: dict = field(default_factory=dict)  # {calculator: {input: text or list}}

    @property
    def edition(self):
        """What the calculators have to know of it, as JSON can hold it."""
        chapters = None if len(self.chapters) == len(CHAPTERS) else list(self.chapters)
        return {"values": self.values, "system": self.units, "currency": self.currency, "chapters": chapters}


class Reading:
    """One reading of one file: what was found, and what is wrong with it."""

    def __init__(self, folder):
        self.folder, self.faults = Path(folder), []
        self.units, self.currency = "us", "$"
        self.given = {}  # {(calculator, input): (value, line)}; what is set later wins

    def tell(self, line, message):
        if (line, message) not in self.faults:
            self.faults.append((line, message))

    # ---- plain parts

    def group(self, node, what, known=None):
        """{key: Node} of a group, with unknown and repeated keys told."""
        if node.kind != "group":
            self.tell(node.line, f"{what} must be a group: one “key: value” to a line.")
            return {}
        found = {}
        for key, value in node.value:
            if key.kind != "text":
                self.tell(key.line, f"{what}: a key must be a word.")
                continue
            name = key.value.strip()
            if name in found:
                self.tell(
                    key.line, f"“{shown(name)}” stands here a second time; the first is on line {found[name].line}."
                )
            elif known is not None and name not in known:
                near = get_close_matches(name.lower(), known, n=1, cutoff=0.55)
                self.tell(
                    key.line,
                    f"{what} has no “{shown(name)}”."
                    + (f" The nearest is “{near[0]}”." if near else f" There are: {', '.join(known)}."),
                )
            else:
                value.line = key.line
                found[name] = value
        return found

    def items(self, node, what):
        if node.kind != "list":
            self.tell(node.line, f"{what} must be a list: one “- …” to a line, or [in, brackets].")
            return []
        return node.value

    def text(self, node, what, longest=120):
        """One line of text; blanks run together. None when it is not one."""
        if node.kind == "blank":
            return self.tell(node.line, f"{what} is blank. Write something, or take the line out.")
        if node.kind != "text":
            return self.tell(node.line, f"{what} must be a text.")
        if bad := farm_text.unprintable(node.value, lines=True):
            return self.tell(node.line, f"{what} holds a sign that cannot be seen (U+{ord(bad):04X}). Take it out.")
        value = " ".join(node.value.split())
        if not value:
            return self.tell(node.line, f"{what} is blank. Write something, or take the line out.")
        if len(value) > longest:
            return self.tell(node.line, f"{what} has {len(value):,} signs; {longest} are the most.")
        return value

    def one_of(self, node, what, options):
        value = self.text(node, what)
        if value is None or value.lower() in options:
            return value and value.lower()
        return self.tell(node.line, f"{what} must be one of: {', '.join(options)}.")

    def quantity(self, node, description, value=None):
        """SI value of a text, by the reader of the forms."""
        value = self.text(node, description.label) if value is None else value
        if value is None:
            return None
        try:
            return read_value(description, value, self.units, self.currency)
        except Told as told:
            return self.tell(node.line, str(told))

    # ---- the keys

    def name(self, node):
        return self.text(node, "name", 60)

    def logo(self, node):
        value = self.text(node, "logo", 100)
        if value is None:
            return None
        path = self.folder / value
        if Path(value).name != value or value.startswith("."):
            return self.tell(node.line, "logo must be the name of a file beside farm.yml, without a folder.")
        try:
            if not path.resolve().is_relative_to(self.folder.resolve()):
                return self.tell(node.line, f"logo “{shown(value)}” leads out of the folder of farm.yml.")
            wrong = logo.fault(path)
        except OSError:
            wrong = f"“{shown(value)}” cannot be read."
        return self.tell(node.line, f"logo {wrong}") if wrong else path

    def currency_sign(self, node):
        value = self.text(node, "currency", 4)
        if value is None:
            return None
        if re.search(r"[\d\s<>&\"'`/\\%.,;:+*^(){}\[\]-]", value):
            return self.tell(node.line, f"currency “{value}” must be a sign or a short word, such as $, € or kr.")
        try:
            if unit(value).dimension != unit("money").dimension:
                return self.tell(
                    node.line, f"currency “{value}” is a unit of measure here. Write another sign for your money."
                )
        except UnknownUnit:
            pass
        return value

    def web_address(self, node, what):
        value = self.text(node, what, 200)
        if value is None:
            return None
        try:
            parts = urlparse(value)
            good = (
                parts.scheme in ("https", "http")
                and re.fullmatch(r"[A-Za-z0-9.-]+(:\d{1,5})?", parts.netloc)
                and re.fullmatch(r"[!#$%&'()*+,./0-9:;=?@A-Z_a-z~-]+", value)
            )
        except ValueError:
            good = False
        return value if good else self.tell(node.line, f"{what} must be a whole address that starts with https://.")

    def contact(self, node):
        found = {}
        for key, value in self.group(node, "contact", CONTACT).items():
            written = self.web_address(value, "website") if key == "website" else self.text(value, key, 200)
            if (
                written
                and key == "email"
                and not re.fullmatch(r"[A-Za-z0-9._%+-]+@[A-Za-z0-9-]+(\.[A-Za-z0-9-]+)+", written)
            ):
                written = self.tell(
                    value.line, f"email “{shown(written)}” is not a mail address, such as hello@farm.example."
                )
            if written and key == "phone" and not re.fullmatch(r"\+?[\d ().-]{5,25}", written):
                written = self.tell(
                    value.line, f"phone “{shown(written)}” must be a number: digits, blanks, + ( ) - only."
                )
            if written:
                found[key] = written
        if node.kind == "group" and not node.value:
            self.tell(node.line, "contact is empty. Give one way to reach you, or take it out.")
        return found

    def prices(self, node):
        found, filled = [], {}
        items = self.items(node, "prices")
        if len(items) > MOST_PRICES:
            self.tell(node.line, f"prices has {len(items)} products; {MOST_PRICES} are the most.")
            items = []
        for item in items:
            parts = self.group(item, "a price", PRICE_KEYS)
            if item.kind != "group":
                continue
            missing = [key for key in ("product", "amount", "price") if key not in parts]
            if missing:
                self.tell(item.line, f"this price needs {' and '.join(missing)}.")
            product, amount, about = (
                self.text(parts[key], key, 200) if key in parts else None for key in ("product", "amount", "about")
            )
            money = self.quantity(parts["price"], Number("money", "price", 0, 1e6)) if "price" in parts else None
            fills = self.one_of(parts["fills"], "fills", FILLS) if "fills" in parts else None
            if fills in filled:
                self.tell(parts["fills"].line, f"another price on line {filled[fills]} already fills “{fills}”.")
            elif fills and amount and money is not None:
                filled[fills] = parts["fills"].line
                self.fill_price(fills, parts, amount, money)
            if product and amount and money is not None:
                found.append(Price(product, amount, money, about or "", fills or ""))
        return tuple(found)

    def fill_price(self, fills, parts, amount, money):
        """The price as a default of the calculators that ask for one."""
        description = (
            Number("kg", "amount", 1e-3, 1e4)
            if fills == "worms"
            else Number("m3", "amount", 1e-4, 1e3, us="gal", metric="L")
        )
        if re.fullmatch(r"[\d.,\s]*", amount):
            self.tell(
                parts["amount"].line,
                f"amount needs a unit where a price fills “{fills}”, such as"
                f" {'500 g' if fills == 'worms' else '20 L'}.",
            )
            return
        size = self.quantity(parts["amount"], description, amount)
        if not size:
            return
        line = parts["price"].line
        if fills == "bag":
            self.set("garden.dose", "price", f"{money:.10g} money", line)
            for calculator in ("garden.dose", "harvest.density"):
                self.set(calculator, "bag_volume", amount, parts["amount"].line)
            return
        each = f"{money / size:.12g}"
        if fills == "bulk":
            self.set("harvest.density", "price", f"{each} money/m3", line)
        else:
            for calculator in holding("worm_price"):
                self.set(calculator, "worm_price", f"{each} money/kg", line)
        self.each_price = {**getattr(self, "each_price", {}), fills: (money / size, line)}

    def fill_tables(self, prices):
        """The tables of the farm's pages: its own products and first lane where they follow from what the file says,
        and none of the demo farm's rows anywhere.
        """
        line, own = 1, self.mixed()
        sold = [row for price in prices if (row := self.sold(price))]
        for calculator in holding_label("products", "What you sell"):
            self.set_unless_given(calculator, "products", sold, line)
        for calculator in FARM_PAGES:
            for name in ("rooms", "log"):
                self.set_unless_given(calculator, name, [], line)
            self.set_unless_given(calculator, "lanes", self.first_lane(), line)
        mixed = own or [
            {"product": row["name"], "castings": row["volume"], "price": row["price"], "cost": "", "demand": ""}
            for row in sold
            if row["volume"]
        ]
        if mixed:
            self.set_unless_given("economics.mix", "products", mixed, line)

    def mixed(self):
        """Rows of the page about limited castings from the farm's own table of products; none where that holds none
        with castings.
        """
        rows = self.read(("farm.stock", "products")) if ("farm.stock", "products") in self.given else None
        return [
            {
                "product": row["name"],
                "castings": f"{row['castings'] / CASTINGS_BULK_DENSITY:.6g} m3",
                "price": f"{row['price']:.10g}",
                "cost": f"{row['packing'] or 0:.10g}",
                "demand": "" if row["most_per_month"] is None else f"{row['most_per_month'] / WEEKS_A_MONTH:.3g}",
            }
            for row in rows or ()
            if row["castings"]
        ]

    def sold(self, price):
        """A row of what is sold from a price that fills something; None for any other."""
        if not price.fills:
            return None
        worms = price.fills == "worms"
        kind = Number("kg", "amount", 1e-3, 1e4) if worms else Number("m3", "amount", 1e-4, 1e3, us="gal", metric="L")
        try:
            size = read_value(kind, price.amount, self.units, self.currency)
        except Told:  # told where the price was read
            return None
        return {
            "name": price.product,
            "castings": "" if worms else f"{size * CASTINGS_BULK_DENSITY:.6g} kg",
            "worms": f"{size:.6g} kg" if worms else "",
            "volume": "" if worms else price.amount,
            "unit": price.amount,
            "price": f"{price.price:.10g}",
        }

    def first_lane(self):
        """The lane of the file's own inputs as a row; no row where its size or worms are not given."""
        found = {name: self.given.get(("lane.starter", name)) for name in ("lane_length", "lane_width", "worm_mass")}
        if not all(found.values()):
            return []
        started = self.given.get(("lane.starter", "start_date"))
        return [
            {
                "name": "Lane 1",
                "fed_on": "end",
                "length": found["lane_length"][0],
                "width": found["lane_width"][0],
                "height": self.given.get(("lane.feeding", "bed_height"), (f"{BED_HEIGHT:.6g} m", 0))[0],
                "started": started[0] if started else START_DATE.isoformat(),
                "worms": found["worm_mass"][0],
            }
        ]

    def set_unless_given(self, calculator, name, value, line):
        if (calculator, name) not in self.given:
            if name == "products" and calculator in FARM_PAGES:
                value = [{key: cell for key, cell in row.items() if key != "volume"} for row in value]
            self.set(calculator, name, value, line)

    def fill_money_pages(self):
        """The price of one unit on the money pages, where what they call a unit has a price of ours and none is typed
        for them.
        """
        for calculator in MONEY_PAGES:
            sold = self.given.get((calculator, "sold"), ("pound", 0))[0]
            fills, size = UNIT_PRICES.get(str(sold).strip().lower(), ("", 0))
            if fills in getattr(self, "each_price", {}) and (calculator, "price") not in self.given:
                each, line = self.each_price[fills]
                self.set(calculator, "price", f"{each * size:.10g} money", line)

    def climate(self, node):
        for key, value in self.group(node, "climate", tuple(CLIMATE_FILLS)).items():
            written = self.value(value, key)
            if written is None:
                continue
            for calculator, name in CLIMATE_FILLS[key]:
                self.set(calculator, name, written, value.line)
            if key == "months" and (rows := self.read(("climate.water", "months"))):
                for calculator, name in MEANS if len(rows) == 12 else ():  # else try_out tells of it
                    self.set(calculator, name, [f"{(row['high'] + row['low']) / 2:.6g} C" for row in rows], value.line)

    def bands(self, node):
        found = {}
        for key, value in self.group(node, "bands", tuple(BANDS)).items():
            ends = self.span(value, key)
            if ends is None:
                continue
            low, high = ends
            described = BANDS[key]
            values = [self.quantity(value, described, end) for end in ends]
            if None in values:
                continue
            if values[0] >= values[1]:
                self.tell(value.line, f"{key}: the low end must be below the high end.")
                continue
            found[key] = Span(*values, described)
            for (calculators, name), end in zip(BAND_FILLS.get(key, ()), (low, high)):
                for calculator in (calculators,) if isinstance(calculators, str) else calculators:
                    self.set(calculator, name, end, value.line)
        return found

    def span(self, node, key):
        """(low, high) as texts with their unit of `10 to 26 C`, or None."""
        written = self.text(node, key)
        if written is None:
            return None
        parts = re.split(r"\s+(?:to|bis|-|–)\s+|\s*–\s*", written)
        if len(parts) != 2 or not all(parts):
            example = next(item.example for item in KEYS if item.name == f"bands.{key}")
            return self.tell(node.line, f"{key} must be a range, such as {example}.")
        low, high = parts
        if re.fullmatch(r"[+−-]?[\d.,]+", low):
            low += " " + re.sub(r"^[+−-]?[\d.,]*\s*", "", high)
        return low.strip(), high

    def inputs(self, node):
        known = known_inputs()
        found = self.group(node, "inputs")
        for name in sorted(
            found, key=lambda name: "." in name
        ):  # what is said of one calculator wins over what is said of all
            value = found[name]
            places = known.get(name)
            if places is None:
                near = get_close_matches(name, known, n=1, cutoff=0.6)
                self.tell(
                    value.line,
                    f"no calculator asks for “{shown(name)}”." + (f" The nearest is “{near[0]}”." if near else ""),
                )
                continue
            if name in FARM_TABLES:  # the farm's tables, entered once for all its pages
                places = [place for place in places if place[0] in FARM_PAGES]
            meanings = dict.fromkeys(key for *_, key in places)
            if len(meanings) > 1:
                offers = "; ".join(f"{calculator}.{one} ({label})" for calculator, one, label, _ in places)
                self.tell(value.line, f"“{name}” means different things: {offers}. Write the one you mean.")
                continue
            written = self.value(value, name)
            if written is not None:
                for calculator, one, *_ in places:
                    self.set(calculator, one, written, value.line)

    def chapters(self, node):
        found = []
        for item in self.items(node, "chapters"):
            name = self.text(item, "a chapter")
            if name is None:
                continue
            if name in CHAPTERS:
                if name in found:
                    self.tell(item.line, f"the chapter “{name}” stands here twice.")
                else:
                    found.append(name)
                continue
            words = {title.lower(): key for key, title in CHAPTERS.items()} | {key: key for key in CHAPTERS}
            near = get_close_matches(name.lower(), words, n=1, cutoff=0.5)
            self.tell(
                item.line,
                f"there is no chapter “{shown(name)}”."
                + (f" The nearest is “{words[near[0]]}”." if near else f" There are: {', '.join(CHAPTERS)}."),
            )
        if node.kind == "list" and not node.value:
            self.tell(node.line, "chapters is empty. Name one at least, or take the line out to keep all.")
        return tuple(key for key in CHAPTERS if key in found)

    # ---- defaults of calculators

    def value(self, node, what):
        """A value as the reader of the forms takes it: text, or a list of texts or of rows.

        None, and told, when it is none of these.
        """
        if node.kind == "text":
            if bad := farm_text.unprintable(node.value, lines=True):
                return self.tell(node.line, f"{what} holds a sign that cannot be seen (U+{ord(bad):04X}). Take it out.")
            return node.value.strip()
        if node.kind == "blank":
            return self.tell(node.line, f"{what} is blank. Write a value, or take the line out.")
        if node.kind == "list":
            rows = [self.row(item) for item in node.value]
            if all(row is not None for row in rows):
                return rows
        return self.tell(node.line, f"{what} must be a value, or a list of values or of rows.")

    @staticmethod
    def row(node):
        if node.kind == "text":
            return node.value
        if node.kind == "list" and all(cell.kind in ("text", "blank") for cell in node.value):
            return [cell.value or "" for cell in node.value]
        if node.kind == "group" and all(
            key.kind == "text" and cell.kind in ("text", "blank") for key, cell in node.value
        ):
            return {key.value: cell.value or "" for key, cell in node.value}
        return None

    def set(self, calculator, name, value, line):
        """Keep a default when it can be read, else tell why not."""
        self.given[calculator, name] = value, line
        self.read((calculator, name))

    def read(self, place):
        """The SI value of a default, or None and told."""
        (calculator, name), (value, line) = place, self.given.get(place, (None, 0))
        if value is None:
            return None
        try:
            return read_value(every()[calculator].inputs[name], value, self.units, self.currency)
        except Told as told:
            self.tell(line, str(told))
            del self.given[place]
            return None

    def by_calculator(self):
        found = {}
        for (calculator, name), (value, _) in self.given.items():
            found.setdefault(calculator, {})[name] = value
        return found

    def try_out(self, presets=()):
        """Ask every calculator that has a default of ours for an answer: values that do not go together are told.
        presets: [(calculator, {input: text})] of pages.
        """
        values = self.by_calculator()
        for calculator, more in (
            *((name, {}) for name in values),
            *((name, more) for name, more in presets if name in values),
        ):
            entry = every()[calculator]
            try:
                defaults = read_inputs(entry, values[calculator], self.units, self.currency, entry.own_defaults)
                entry.function(**(read_inputs(entry, more, "us", "$", defaults) if more else defaults))
            except Refused as refused:
                for name, message in refused.problems:
                    if (calculator, name) in self.given:
                        self.tell(self.given[calculator, name][1], message)
                    else:
                        more = f" Set {calculator}.{name} under inputs as well." if name in entry.inputs else ""
                        self.tell(self.first_line(calculator), f"{calculator}: {message}{more}")
            except (ArithmeticError, ValueError):
                self.tell(self.first_line(calculator), f"{calculator} has no answer for these values together.")

    def first_line(self, calculator):
        return min(line for (one, _), (_, line) in self.given.items() if one == calculator)


def shown(written):
    """What was written, short enough for a message."""
    text = "".join(sign if sign.isprintable() else "·" for sign in written)
    return text if len(text) <= 60 else text[:57] + "…"


def known_inputs():
    """{name, and calculator.name: [(calculator, input, label, plan key)]} of all that calculators ask for.

    Inputs of two names that are one in a reader's plan (the months of a place) are one here too: either name sets both.
    """
    asked = [
        (calculator, name, description.label, plan_key(name, description))
        for calculator, entry in every().items()
        for name, description in entry.inputs.items()
    ]
    same = {}
    for place in asked:
        same.setdefault(place[3], []).append(place)
    found = {f"{calculator}.{name}": [(calculator, name, label, key)] for calculator, name, label, key in asked}
    for _, name, _, key in asked:
        places = found.setdefault(name, [])
        places += [place for place in same[key] if place not in places]
    return found


def holding_label(name, label):
    """Calculators that have an input of that name and label."""
    return [
        calculator
        for calculator, entry in every().items()
        if name in entry.inputs and entry.inputs[name].label == label
    ]


def holding(name):
    return [calculator for calculator, entry in every().items() if name in entry.inputs]


def read_farm(text, folder=".", presets=()):
    """(Farm or None, [(line, message)]) of the text of a farm.yml; its logo lies in `folder`.

    Never raises for what is written in it.
    """
    try:
        root = farm_text.tree(text)
    except farm_text.Fault as fault:
        return None, [(fault.line, fault.message)]
    reading = Reading(folder)
    if root.kind != "group":
        return None, [(root.line, "the file must be made of lines “key: value”. Begin with “name: …”.")]
    parts = reading.group(root, "this file", NAMES)
    if "name" not in parts:
        reading.tell(1, "the farm's name is missing: “name: …”.")
    found = {}
    if "units" in parts and (units := reading.one_of(parts["units"], "units", ("us", "metric"))):
        found["units"] = reading.units = units
    if "currency" in parts and (currency := reading.currency_sign(parts["currency"])):
        found["currency"] = reading.currency = currency
    readers = {
        "name": reading.name,
        "welcome": lambda node: reading.text(node, "welcome", 300),
        "logo": reading.logo,
        "contact": reading.contact,
        "address": lambda node: reading.web_address(node, "address"),
        "invented": lambda node: reading.quantity(node, _YES_OR_NO),
        "prices": reading.prices,
        "climate": reading.climate,
        "bands": reading.bands,
        "inputs": reading.inputs,
        "chapters": reading.chapters,
    }
    for key, reader in readers.items():  # prices, climate and bands before inputs: what is said of one input wins
        if key in parts:
            made = reader(parts[key])
            if made is not None and key not in ("climate", "inputs"):
                found[key] = made
    reading.fill_money_pages()
    if not found.get("invented"):
        reading.fill_tables(found.get("prices", ()))
    reading.try_out(presets)
    if reading.faults:
        return None, sorted(reading.faults)
    return Farm(values=reading.by_calculator(), **found), []


_YES_OR_NO = Choice("invented", {"yes": "true", "no": "false"})


def oddities(farm):
    """[sentence] for each of the farm's own values that its calculator warns of: allowed, but worth a second look, such
    as a working lane's weight of worms on the beginner's page.
    """
    said = []
    for calculator, values in farm.values.items():
        try:
            view = answer(calculator, values, farm.units, farm.currency)
        except Refused:  # told as a fault
            continue
        said += [
            f"{calculator}, {name}: {sentence}"
            for name, sentence in view.shown.warnings
            if name in values and not isinstance(values[name], list)
        ]
    return list(dict.fromkeys(said))


class Wrong(SystemExit):
    """The faults of a farm.yml, one to a line, for whoever called the command."""


def load(path, presets=()):
    """The farm of a file; ends the command with every fault of it when there are any."""
    path = Path(path)
    try:
        text = path.read_bytes()[: 4 * farm_text.LONGEST].decode("utf-8-sig")
    except OSError as error:
        raise Wrong(f"{path}: {error.strerror or error}") from None
    except UnicodeDecodeError as error:
        line = error.object.count(b"\n", 0, error.start) + 1
        raise Wrong(f"{path}:{line}: there is a sign here that is not UTF-8. Save the file as UTF-8 text.") from None
    farm, faults = read_farm(text, path.parent, presets)
    if faults:
        raise Wrong("\n".join(f"{path}:{line}: {message}" for line, message in faults))
    return farm
