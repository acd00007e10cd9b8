"""A farm's own edition: its file is read and told line by line; its name, prices, defaults, bands and chapters are on
the pages.
"""

import csv
import html
import io
import json
import re
import threading
import time

import bootstrap
import farm
import farm_pages
import farm_text
import logo
import make
import pytest
import reading
import serve_site
import sheets
import tree
from hypothesis import given, strategies
from playwright.sync_api import expect

import calc
from calc.__main__ import main
from calc.engine import register
from calc.engine.read import read_inputs
from calc.inputs import CASTINGS_BULK_DENSITY
from calc.page.block import block
from tests.site import test_pages

GOOD = farm_pages.DEMO.read_text(encoding="utf-8")
THREE = """name: Weir & "Sons" <b>Farm</b>
welcome: 1 < 2 & "quoted" <i>welcome</i>
units: metric
currency: kr
contact:
  address: <script>alert(1)</script>
  email: hello@weir.example
  website: https://weir.example/?a=1&b=2
prices:
  - product: <img src=x onerror=alert(2)>
    amount: 25 L
    price: 160
    about: <b>bold</b>
    fills: bag
  - {product: Worms, amount: 500 g, price: kr 300, fills: worms}
inputs:
  lane_length: 3.5
  moisture.adjust.volume: 200 L
bands: {lane_temperature: 12 to 25 C}
chapters: [lane, moisture, garden]
"""


def faults(text, folder=farm_pages.DEMO.parent):
    found, told = farm.read_farm(text, folder)
    assert (found is None) == bool(told)
    return told


def test_the_demo_farm_is_read():
    found, told = farm.read_farm(GOOD, farm_pages.DEMO.parent, reading.presets(bootstrap.ROOT / "docs"))
    assert told == []
    assert found.name == "Quillfen Smallholding" and found.logo.is_file() and found.invented and len(found.prices) == 6
    assert (
        found.values["lane.starter"]["lane_length"] == "12 ft" and found.values["records.lane"]["band_high"] == "77 F"
    )


def test_prices_reach_the_calculators():
    found, _ = farm.read_farm(GOOD, farm_pages.DEMO.parent)
    assert found.values["garden.dose"] | {"price": "16 money", "bag_volume": "5 gal"} == found.values["garden.dose"]
    register.use_edition(**found.edition)
    try:
        assert calc.run("lane.herd")["inputs"]["worm_price"]["value"] == pytest.approx(35 / 0.45359237)
        assert calc.run("harvest.density")["inputs"]["price"]["value"] == pytest.approx(240 / (0.9144**3))
        assert calc.run("economics.unit_cost")["inputs"]["price"]["value"] == pytest.approx(35)  # a pound of worms
    finally:
        register.use_edition()
    assert calc.run("lane.starter")["inputs"]["lane_length"]["value"] == pytest.approx(8 * 0.3048)


@pytest.mark.parametrize("name", ["monthly_temperature", "monthly_means"])
def test_inputs_that_are_one_in_the_plan_are_one_in_the_file(name):
    """The months of a farm's place reach the heat page as well as the lane, under either name."""
    months = [f"{mean} C" for mean in (1, 2, 5, 9, 13, 16, 18, 17, 14, 10, 5, 2)]
    found, told = farm.read_farm(f"name: A\ninputs:\n  {name}: [{', '.join(months)}]\n")
    assert told == []
    assert found.values["lane.starter"]["monthly_temperature"] == months
    assert found.values["climate.bed_temperature"]["monthly_means"] == months
    rows = re.findall(r"<tr><td>Mean air temperature of each month</td><td>(.*?)</td>", farm_pages.names_table())
    assert rows == ["<code>monthly_temperature</code> or <code>monthly_means</code>"]


def test_what_the_demo_farm_says_of_a_starter_tub_is_what_the_page_for_worms_says():
    (about,) = [
        price.about
        for price in farm.read_farm(GOOD, farm_pages.DEMO.parent)[0].prices
        if price.product.startswith("Starter tub")
    ]
    (scraps,) = re.findall(r"quarter pound of worms, for about ([\d.]+) lb of scraps a week", about)
    usual = calc.run("garden.worms")
    busy = usual["outputs"]["worm_mass"]["value"] / usual["inputs"]["scraps_per_week"]["value"]
    assert float(scraps) == pytest.approx(0.25 / busy, abs=0.05)


def test_a_unit_of_the_money_pages_takes_the_price_it_names():
    text = "name: A\nprices:\n  - {product: loose, amount: 2 m3, price: $300, fills: bulk}\ninputs: {sold: metre}\n"
    found, told = farm.read_farm(text)
    assert told == [] and found.values["economics.cash"]["price"] == "150 money"
    typed, _ = farm.read_farm(text.replace("sold: metre", "sold: metre, economics.cash.price: 99"))
    assert typed.values["economics.cash"]["price"] == "99"


@pytest.mark.parametrize(
    ("text", "line", "words"),
    [
        ("", 1, "empty"),
        ("# nothing\n", 1, "empty"),
        ("- a\n- b\n", 1, "key: value"),
        ("units: us\n", 1, "name is missing"),
        ("name: A\nnmae: B\n", 2, "The nearest is “name”"),
        ("name: A\nname: B\n", 2, "second time; the first is on line 1"),
        ("name:\n", 1, "blank"),
        ("name: [a]\n", 1, "must be a text"),
        (f"name: {'x' * 61}\n", 1, "61 signs"),
        ('name: "a\\u202eb"\n', 1, "U+202E"),
        ("name: A\n\tunits: us\n", 2, "a tab stands here"),
        ("name: A\nunits: us: metric\n", 2, "a colon stands where none is expected"),
        ("name: A\nwelcome: 'never closed\n", 2, "never closed"),
        ("name: A\nunits: furlong\n", 2, "one of: us, metric"),
        ("name: A\ncurrency: lb\n", 2, "unit of measure"),
        ("name: A\ncurrency: <b>\n", 2, "must be a sign"),
        ("name: A\ninvented: perhaps\n", 2, "invented"),
        ("name: A\naddress: javascript:alert(1)\n", 2, "https://"),
        ("name: A\ncontact:\n  email: nobody\n", 3, "mail address"),
        ("name: A\ncontact:\n  phone: call me\n", 3, "digits"),
        ("name: A\ncontact:\n  website: 'https://a.example/\"onclick=x'\n", 3, "whole address"),
        ("name: A\ncontact:\n  fax: 1\n", 3, "contact has no “fax”"),
        ("name: A\ncontact: {}\n", 2, "contact is empty"),
        ("name: A\nlogo: no.svg\n", 2, "is not there"),
        ("name: A\nlogo: ../mark.svg\n", 2, "without a folder"),
        ("name: A\nlogo: quillfen.yml\n", 2, "SVG or a PNG"),
        ("name: A\nprices:\n  - product: x\n", 3, "needs amount and price"),
        ("name: A\nprices:\n  - {product: x, amount: 1 kg, price: much}\n", 3, "must be a number"),
        ("name: A\nprices:\n  - {product: x, amount: 1 kg, price: 3, fills: bag}\n", 3, "cannot be given in kg"),
        ("name: A\nprices:\n  - {product: x, amount: 20, price: 3, fills: bag}\n", 3, "needs a unit"),
        (
            (
                "name: A\nprices:\n  - {product: x, amount: 1 L, price: 3, fills: bag}\n  - {product: y, amount: 2 L,"
                " price: 3, fills: bag}\n"
            ),
            4,
            "line 3 already fills",
        ),
        ("name: A\nprices: 3\n", 2, "must be a list"),
        ("name: A\nclimate: {start: tropic}\n", 2, "must be one of"),
        ("name: A\nclimate: {latitude: 95}\n", 2, "between −90° and 90°"),
        ("name: A\nclimate:\n  months:\n    - {month: January, high: 5, low: 1}\n", 3, "twelve rows"),
        ("name: A\nclimate: {latitude: -45}\n", 2, "Set climate.today.sun_hours under inputs as well"),
        ("name: A\ninputs:\n  lane_lenght: 3 ft\n", 3, "The nearest is “lane_length”"),
        ("name: A\ninputs:\n  mass: 3 lb\n", 3, "means different things: moisture.adjust.mass"),
        ("name: A\ninputs:\n  lane_length: 3 apples\n", 3, "“apples” is not a unit"),
        ("name: A\ninputs:\n  lane_length: 3 lb\n", 3, "cannot be given in lb"),
        ("name: A\ninputs:\n  lane_length: 9000 ft\n", 3, "must be between"),
        ("name: A\ninputs:\n  lane_length:\n    x: 1\n", 3, "must be a value"),
        ("name: A\ninputs:\n  moisture.adjust.mass: 3 lb\n  moisture.adjust.volume: 3 L\n", 4, "leave the other blank"),
        (
            (
                "name: A\ninputs:\n  moisture.adjust.moisture: 80 %\n  records.lane.band_low: 30 C\n "
                " records.lane.band_high: 20 C\n"
            ),
            4,
            "below the warmest",
        ),
        ("name: A\nbands:\n  lane_temperature: warm\n", 3, "must be a range, such as"),
        ("name: A\nbands:\n  lane_temperature: 30 to 10 C\n", 3, "must be below the high end"),
        ("name: A\nbands:\n  lane_temperature: 10 to 26 apples\n", 3, "apples"),
        ("name: A\nbands: {lane: 3 to 4 C}\n", 2, "bands has no “lane”"),
        ("name: A\nchapters: [Money]\n", 2, "The nearest is “economics”"),
        ("name: A\nchapters: [lane, lane]\n", 2, "twice"),
        ("name: A\nchapters: []\n", 2, "chapters is empty"),
        ("a: &x [1]\nb: *x\n", 1, "refer to other parts"),
        ("name: !!python/object/apply:os.system [echo]\n", 1, "! at the start"),
        ("name: A\n---\nname: B\n", 2, "second file begins"),
        ("name: A\x00\n", 1, "no text holds"),
        ("a: " + "[" * 500, 1, "deep"),
        ('x: "\\UFFFFFFFF"\n', 1, "cannot be read"),
    ],
)
def test_faults_are_told_by_line(text, line, words):
    told = faults(text)
    assert any(at == line and words in message for at, message in told), told


def test_all_faults_are_told_at_once_in_order():
    told = faults("name: A\nunits: x\ninputs:\n  lane_length: x\n  lane_width: y\nchapters: [z]\n")
    assert [line for line, _ in told] == [2, 4, 5, 6]


def test_messages_are_for_people():
    for text in (
        "name: A\nunits: x\ncurrency: lb\nlogo: a.gif\n",
        "a: &x 1",
        "name: A\n\tb: 1",
        "[",
        "name: A\nprices: {a: b}",
    ):
        for _, message in faults(text):
            assert message.endswith(".") and not re.search(
                r"invalid|please|oops|error|yaml\.|<class|None", message, re.IGNORECASE
            ), message


@pytest.mark.parametrize(
    "text",
    [
        "[" * 60_000,
        "- " * 30_000,
        "? " * 20_000,
        "{a: " * 15_000,
        "'" + "\n" * 59_000,
        "a\n" * 29_000,
        "name: x\n" * 7_000,
        "x: " + "y" * 70_000,
        "inputs:\n" + "  lane_length: 1\n" * 2900,
        "chapters:\n" + "- lane\n" * 5000,
    ],
)
def test_no_file_takes_long(text):
    calc.calculators()
    begin = time.perf_counter()
    assert faults(text)
    assert time.perf_counter() - begin < 3  # on a busy machine; alone it is under one


PIECES = strategies.sampled_from(
    [
        "name: A",
        "\n",
        "  ",
        "- ",
        ": ",
        "[",
        "]",
        "{",
        "}",
        "'",
        '"',
        "&a",
        "*a",
        "!!x",
        "#",
        "\t",
        "|",
        ">",
        "%",
        "1 lb",
        "units: us",
        "prices:",
        "inputs:",
        "bands:",
        "lane_length: 3",
        "\u202e",
        "\x00",
        "é",
        "---",
        "...",
        "\\",
        "chapters: [lane]",
        "logo: x.svg",
        "climate:",
        "months:",
        "\ud800",
        "0x1f",
        "~",
        "<b>",
    ]
)


@given(strategies.one_of(strategies.text(max_size=200), strategies.lists(PIECES, max_size=30).map("".join)))
def test_nothing_written_in_a_file_raises(text):
    found, told = farm.read_farm(text)
    assert (found is None) == bool(told)
    assert all(
        isinstance(line, int)
        and 1
        <= line
        <= text.count("\n") + 2 + text.count("\x85") + text.count("\u2028") + text.count("\u2029") + text.count("\r")
        and message
        for line, message in told
    )


def test_half_a_file_is_read_or_told():
    for end in range(0, len(GOOD), 97):
        found, told = farm.read_farm(GOOD[:end], farm_pages.DEMO.parent)
        assert (found is None) == bool(told)


def test_load_ends_the_command_with_file_and_line(tmp_path):
    path = tmp_path / "farm.yml"
    path.write_text("name: A\nunits: x\n")
    with pytest.raises(farm.Wrong, match=r"farm\.yml:2: units must be one of"):
        farm.load(path)
    path.write_bytes(b"name: A\nwelcome: \xff\n")
    with pytest.raises(farm.Wrong, match=r"farm\.yml:2: .*UTF-8"):
        farm.load(path)
    with pytest.raises(farm.Wrong, match="No such file"):
        farm.load(tmp_path / "no.yml")


@pytest.mark.parametrize(
    ("inside", "words"),
    [
        ("<script>alert(1)</script>", "<script>"),
        ('<rect onload="x"/>', "script"),
        ('<image href="https://a.example/b.png"/>', "another file"),
        ('<use href="other.svg#a"/>', "another file"),
        ('<rect style="fill:url(https://a.example)"/>', "another file"),
        ("<style>@import 'x';</style>", "another file"),
        ("<foreignObject/>", "foreignobject"),
        ("<g>", "can be read"),
        ('<a href="javascript:x"/>', "another file"),
    ],
)
def test_a_logo_is_a_drawing_and_no_more(inside, words, tmp_path):
    path = tmp_path / "logo.svg"
    path.write_text(f'<svg xmlns="http://www.w3.org/2000/svg">{inside}</svg>')
    assert words in logo.fault(path)
    assert [line for line, message in faults("name: A\nlogo: logo.svg\n", tmp_path) if words in message] == [2]


def test_logos_that_do_and_do_not(tmp_path):
    assert logo.fault(farm_pages.DEMO.with_suffix(".svg")) is None
    (tmp_path / "a.png").write_bytes(b"no picture")
    (tmp_path / "b.svg").write_text("<svg>" + " " * 200_001 + "</svg>")
    (tmp_path / "c.svg").write_text('<!DOCTYPE svg [<!ENTITY a "b">]><svg>&a;</svg>')
    (tmp_path / "d.svg").write_text("<html/>")
    (tmp_path / "e.png").write_bytes(logo.PNG + b"\x00\x00\x00\x0dIHDR\x00\x00\x10\x00\x00\x00\x00\x10" + b"\x00" * 20)
    (tmp_path / "f.png").write_bytes(logo.PNG + b"\x00\x00\x00\x0dIHDR\x00\x00\x00\x10\x00\x00\x00\x10" + b"\x00" * 20)
    told = {name: logo.fault(tmp_path / name) for name in ("a.png", "b.svg", "c.svg", "d.svg", "e.png", "f.png")}
    assert (
        "not a PNG" in told["a.png"]
        and "200 kB" in told["b.svg"]
        and "ENTITY" in told["c.svg"]
        and "not an SVG" in told["d.svg"]
        and "4,096" in told["e.png"]
        and told["f.png"] is None
    )


def test_a_default_may_replace_another():
    """Volume given by the farm stands in for the mass; a reader's mass stands in for the farm's volume."""
    found, _ = farm.read_farm(THREE)
    register.use_edition(**found.edition)
    try:
        entry = register.find("moisture.adjust")
        assert entry.defaults["mass"] is None and entry.defaults["volume"] == pytest.approx(0.2)
        assert read_inputs(entry, {"mass": "10 kg"})["volume"] is None
        assert "errors" not in calc.run("moisture.adjust") and "errors" not in calc.run(
            "moisture.adjust", {"mass": "10 kg"}
        )
    finally:
        register.use_edition()


def test_every_key_is_in_the_table():
    named = {key.name.split(".")[-1].split(": ")[-1] for key in farm.KEYS}
    assert named == {*farm.NAMES, *farm.CONTACT, *farm.PRICE_KEYS, *farm.CLIMATE_FILLS, *farm.BANDS}
    assert all(key in GOOD for key in farm.NAMES if key != "address")


@pytest.mark.parametrize("kind", sorted(sheets.SHEETS))
def test_a_sheet_carries_the_farm_and_its_bands(kind):
    plain, own = sheets.sheet(kind), sheets.sheet(kind, farm_pages.demo())
    assert "Quillfen" not in plain and "Quillfen Smallholding" in own
    wanted = {"lane": "52–77 °F", "breeding": "77–82 °F", "heap": "131–150 °F", "harvest": "slice, length (ft)"}[kind]
    assert wanted in own and wanted not in plain
    assert own.count("<tr>") == sheets.ROWS + 1, "a row for each day of the longest month"
    assert own.count('sheet-scale"') == sheets.ROWS, "a dot a day draws the chart"


def test_a_filled_in_lane_sheet_is_read_back():
    heads = [
        html.unescape(head) for head in re.findall("<th[^>]*>(.*?)</th>", sheets.sheet("lane", farm_pages.demo()))
    ][:-1]
    found = calc.run(
        "records.lane",
        {"log": ",".join(heads) + "\n2027-05-01,10,8,64,75,\n2027-05-08,12,8,66,76,40\n"},
        units="metric",
    )
    assert found["outputs"]["feed_total"]["value"] == pytest.approx(22 * 0.45359237)


@pytest.mark.parametrize(
    ("kind", "cells", "done"),
    [
        ("lane", ["10", "8", "64", "75", "40", "Ash"], ["feed", "water", "temperature", "moisture", "castings"]),
        ("breeding", ["70 to 80", "3", "3", "2", "1900", "Ash"], ["trays", "cocoons"]),
        ("heap", ["140", "in the middle", "yes", "Ash"], ["temperature"]),
        ("harvest", ["2", "400", "52", "210", "30", "60", "90", "Ash"], ["castings", "screened"]),
    ],
)
def test_every_filled_in_sheet_is_read_into_the_logbook(kind, cells, done):
    """Typed as it is printed, a line a day; a heading with a comma in it stands in quotes, as spreadsheets write it."""
    text = html.unescape(sheets.sheet(kind, farm_pages.demo()).replace("<br>", " "))
    heads = [re.sub("<[^>]*>", "", head).strip() for head in re.findall("<th[^>]*>(.*?)</th>", text)][: len(cells) + 1]
    lines = io.StringIO()
    csv.writer(lines).writerows([heads, ["2027-05-01", *cells], ["2027-05-08", *cells]])
    rows = calc.find("farm.week").inputs["log"].value(lines.getvalue(), "us")
    assert not rows.dropped and [row["what"] for row in rows] == done * 2
    assert {row["who"] or row["note"] for row in rows} == {"Ash"}


def test_twelve_months_reach_every_page_on_weather():
    rows = "".join(f"    - {{month: M{number}, high: {10 + number} C, low: {number} C}}\n" for number in range(12))
    found, told = farm.read_farm(f"name: A\nclimate:\n  months:\n{rows}")
    assert told == []
    register.use_edition(**found.edition)
    try:
        means = {
            (id, name): entry.defaults[name]
            for id, entry in register.every().items()
            for name in ("monthly_means", "monthly_temperature")
            if name in entry.inputs
        }
        assert {"climate.bed_temperature", "breeding.room", "lane.starter", "lane.year"} <= {id for id, _ in means}
        for place, value in means.items():
            assert value == pytest.approx([5 + number for number in range(12)]), place
        assert register.find("climate.water").defaults["months"][3]["high"] == pytest.approx(13)
    finally:
        register.use_edition()


def test_a_climate_reaches_every_page_that_asks_for_one():
    found, told = farm.read_farm("name: A\nclimate:\n  start: cold\n")
    assert told == []
    register.use_edition(**found.edition)
    try:
        asking = [entry for entry in register.every().values() if "climate" in entry.inputs]
        assert len(asking) > 10 and {entry.defaults["climate"] for entry in asking} == {"cold"}
    finally:
        register.use_edition()


# ---- built editions


def served(folder):
    server = serve_site.server(folder)
    threading.Thread(target=server.serve_forever, daemon=True).start()
    return server, f"http://127.0.0.1:{server.server_address[1]}/"


@pytest.fixture(scope="module")
def quillfen(edition):
    return edition(farm_pages.DEMO)


@pytest.fixture(scope="module")
def three(edition, tmp_path_factory):
    file = tmp_path_factory.mktemp("farm") / "three.yml"
    file.write_text(THREE)
    return edition(file)


def text_of(site, name):
    return (site / name).read_text(encoding="utf-8")


def test_name_logo_and_origin_are_on_every_page(quillfen):
    for path in quillfen.rglob("*.html"):
        text = path.read_text(encoding="utf-8")
        assert (
            re.search(r"Quillfen Smallholding(: all of it to print)?</title>", text)
            and "made with The Lane Handbook" in text
            and "CC BY 4.0" in text
        ), path
        assert re.search(r'<img [^>]*src="[./]*assets/farm/logo\.[0-9a-f]{12}\.svg"', text), path
    assert (quillfen / farm_pages.logo_name(farm_pages.demo())).is_file()


def test_prices_and_contact_are_on_the_customers_page(quillfen):
    text = text_of(quillfen, "customers.html")
    for words in (
        "Screened castings, bag",
        "$16<",
        "$240<",
        "$35<",
        "hello@quillfen.example",
        'href="tel:5550142"',
        "invented",
    ):
        assert words in text
    assert "Saturdays" in text


def test_the_handbook_itself_shows_the_demo_farm_and_says_so(site):
    text = text_of(site, "customers.html")
    assert "$16<" in text and "<em>invented</em>" in text and "mailto:" not in text
    assert "Quillfen Smallholding</title>" not in text


def test_sheets_of_the_edition_have_its_bands(quillfen):
    text = text_of(quillfen, "records/sheets.html")
    for words in ("52–77 °F", "74–80 %", "77–82 °F", "131–150 °F", "1,850 to 2,250"):
        assert words in text
    assert text.count("Quillfen Smallholding. ") == 4


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_each_sheet_of_a_farm_fits_its_page(quillfen, browser, paper):
    server, address = served(quillfen)
    page = browser.new_page()
    try:
        page.goto(address + "records/sheets.html")
        pdf = page.pdf(format=paper)
    finally:
        page.close()
        server.shutdown()
    assert len(re.findall(rb"/Type\s*/Page\b(?!s)", pdf)) == len(sheets.SHEETS), "the introduction stays on the screen"


def test_defaults_stand_in_the_prepared_forms(quillfen):
    text = text_of(quillfen, "lane/starter.html")
    assert re.search(r'name="lane_length"[^>]*data-default="12"[^>]*value="12"', text) and re.search(
        r'name="wage"[^>]*value="19"', text_of(quillfen, "lane/output.html")
    )
    chart = text_of(quillfen, "records/chart.html")
    assert re.search(r'name="band_low"[^>]*value="1850"', chart) and "your band" in chart
    assert (
        "nvented, as an example"
        not in re.search(r'data-input="price".*?</div>', text_of(quillfen, "garden/index.html"), re.DOTALL)[0]
    )


def first_answer(page):
    return page.locator(".calc-answer .calc-main").first


@pytest.mark.parametrize(
    ("name", "asked"),
    [
        ("lane/starter", "lane_length"),
        ("garden/index", "price"),
        ("records/chart", "baseline"),
        ("economics/unit-cost", "price"),
        ("climate/water", "lower_moisture"),
        ("climate/frost", "air_mean"),
    ],
)
def test_live_answers_are_the_prepared_ones_and_reset_returns_to_the_farm(quillfen, browser, name, asked):
    """The page on frost sets inputs of its own: it goes back to those."""
    server, address = served(quillfen)
    still, context = browser.new_context(java_script_enabled=False), browser.new_context()
    try:
        page = still.new_page()
        page.goto(f"{address}{name}.html")
        prepared, default = first_answer(page).inner_text(), page.locator(f'[name="{asked}"]').input_value()
        page = context.new_page()
        page.goto(f"{address}{name}.html")
        page.wait_for_selector('section.calc[data-state="live"]', timeout=30_000)
        page.evaluate("for (const part of document.querySelectorAll('details')) part.open = true")
        field = page.locator(f'[name="{asked}"]')
        for _ in range(2):
            field.fill("7" if asked == "baseline" else f"{float(default) * 0.9:.4g}")
            field.press("Tab")
            expect(first_answer(page)).not_to_have_text(prepared, use_inner_text=True, timeout=60_000)
            page.click('[data-action="reset"]')
            expect(first_answer(page)).to_have_text(prepared, use_inner_text=True, timeout=60_000)
            expect(field).to_have_value(default)
    finally:
        still.close()
        context.close()
        server.shutdown()


def test_three_chapters_have_no_dead_link_and_sound_pages(three):
    pages = {
        path.relative_to(three).as_posix(): test_pages.Page(path.read_text(encoding="utf-8"))
        for path in sorted(three.rglob("*.html"))
    }
    assert not any(
        name.split("/")[0] in {"feed", "climate", "harvest", "breeding", "economics", "records", "farm", "troubles"}
        for name in pages
    )
    assert {
        "index.html",
        "start.html",
        "customers.html",
        "lane/starter.html",
        "garden/index.html",
        "method/index.html",
    } <= set(pages)
    test_pages.test_links_lead_somewhere(pages, three)
    test_pages.test_markup_is_sound(pages)
    test_pages.test_headings_do_not_skip_a_level(pages)
    test_pages.test_policy_allows_our_scripts_and_no_others(three)
    found = json.loads(text_of(three, "search/search_index.json"))
    assert not [item["location"] for item in found["docs"] if item["location"].startswith(("economics/", "feed/"))]
    for name in pages:
        assert not re.search(
            r"handbook:(feed|climate|harvest|breeding|economics|records|farm|troubles)/", text_of(three, name)
        ), name


def test_what_led_only_to_an_absent_chapter_is_gone(three):
    front, start = text_of(three, "index.html"), text_of(three, "start.html")
    assert "What it earns" not in front and "For customers" in front
    chapters = start[start.index('id="the-chapters"') :]
    assert ">Lanes</a>" in chapters and "Feed and bedding" not in chapters[: chapters.index("</table>")]


def test_live_answers_lead_only_to_pages_that_are_there(three, browser):
    server, address = served(three)
    context = browser.new_context()
    page = context.new_page()
    try:
        for name, asked in (("lane/starter", "lane_length"), ("moisture/adjust", "target")):
            page.goto(f"{address}{name}.html")
            page.wait_for_selector('section.calc[data-state="live"]', timeout=30_000)
            before = first_answer(page).inner_text()
            page.fill(f'[name="{asked}"]', "5" if asked == "lane_length" else "70")
            page.press(f'[name="{asked}"]', "Tab")
            expect(first_answer(page)).not_to_have_text(before, use_inner_text=True, timeout=60_000)
        page.goto(f"{address}plan.html")
        page.wait_for_selector(".plan-list a", timeout=30_000)
        links = page.locator(".calc-leads a, .plan-list a").evaluate_all(
            "links => links.map((link) => new URL(link.href).pathname)"
        )
        assert links and not [link for link in links if not (three / link.lstrip("/")).is_file()]
    finally:
        context.close()
        server.shutdown()


def without(html, absent):
    page = tree.Page("lane/page.html", html)
    farm_pages.without_chapters(page, absent)
    return page.one("body").inner_html


def test_links_into_absent_chapters():
    """An item, row or "Next" that is nothing but a link goes with it; a sentence keeps its words; what is marked
    goes whole.
    """
    page = """<article><nav><ul><li><a href="#feed">Feed</a></li><li><a href="#other">Other</a></li></ul></nav>
      <ul><li><a href="../feed/a.html">A</a> more</li><li><a href="../lane/b.html">B</a></li></ul>
      <p>See <a href="../feed/a.html#x">the <em>feed</em></a> and <a href="b.html">b</a>.</p>
      <table><tr><td><a href="../feed/a.html">A</a></td><td>1</td></tr>
      <tr><td><a href="b.html">B</a></td><td>2</td></tr></table>
      <div data-chapter="feed"><div>inside</div> gone</div>
      <p>Stays <span data-chapter="feed">but <a href="../feed/a.html">not this</a>.</span></p>
      <h2 id="feed">Feed</h2><ul class="questions"><li><a href="../feed/a.html">A</a></li></ul>
      <p><strong>Next:</strong> <a href="../feed/a.html">a</a>. Or <a href="../feed/c.html">c</a>.</p>
      <p><strong>Next:</strong> <a href="../feed/a.html">a</a> or <a href="b.html">b</a>.</p>
      <a href="https://feed.example/feed/a.html">outside</a></article><footer><a href="../feed/z.html">z</a></footer>"""
    made = without(page, {"feed"})
    assert (
        "../feed/" not in made
        and "#feed" not in made
        and "gone" not in made
        and "inside" not in made
        and "not this" not in made
        and "<h2" not in made
    )
    assert (
        re.findall(r">([AB])</a>", made) == ["B", "B"]
        and "See the <em>feed</em> and" in made
        and made.count("Next:") == 1
        and "a or <a" in made
    )
    assert "outside</a>" in made and "<footer>z</footer>" in made and made.count('<li><a href="#') == 1
    assert without(page, {"garden"}) == tree.Page("", page).one("body").inner_html


def test_words_of_the_farm_never_become_markup(three):
    for path in three.rglob("*.html"):
        text = path.read_text(encoding="utf-8")
        for bad in ("<img src=x", "<script>alert", "<b>Farm", "<i>welcome"):
            assert bad not in text, (path, bad)
        assert re.search('Weir &amp; (&quot;|")Sons(&quot;|") &lt;b(&gt;|>)Farm', text), path
    customers = text_of(three, "customers.html")
    assert (
        "&lt;img src=x onerror=alert(2)&gt;" in customers
        and "kr 160" in customers
        and 'href="https://weir.example/?a=1&amp;b=2"' in customers
    )


def test_currency_and_units_of_the_farm_are_everywhere(three):
    text = text_of(three, "lane/starter.html")
    assert (
        'data-units="metric"' in text
        and 'data-currency="kr"' in text
        and "kr " in re.search(r'class="calc-answer">.*?</section>', text, re.DOTALL)[0]
    )
    assert re.search(r'name="lane_length"[^>]*value="3.5"', text)


def test_units_of_the_command_win(monkeypatch, tmp_path):
    seen = {}
    monkeypatch.setattr(
        make,
        "steps",
        lambda out, node, units, address, farm, kept, *rest: (
            out.mkdir(parents=True),
            seen.update(units=units, address=address, farm=farm),
        ),
    )
    (tmp_path / "farm.yml").write_text("name: A\nunits: metric\naddress: https://a.example/\n")
    make.build(tmp_path / "one", farm=tmp_path / "farm.yml", force=True)
    assert seen["units"] == "metric" and seen["address"] == "https://a.example/" and seen["farm"].name == "A"
    make.build(tmp_path / "two", farm=tmp_path / "farm.yml", units="us", address="https://b.example/", force=True)
    assert seen["units"] == "us" and seen["address"] == "https://b.example/"


def test_a_changed_farm_is_built_again(monkeypatch, tmp_path):
    built = []
    monkeypatch.setattr(make, "steps", lambda out, *rest: (out.mkdir(parents=True), built.append(1)))
    path = tmp_path / "farm.yml"
    path.write_text("name: A\nlogo: a.svg\n")
    (tmp_path / "a.svg").write_text('<svg xmlns="http://www.w3.org/2000/svg"/>')
    for change in (
        None,
        lambda: path.write_text("name: B\nlogo: a.svg\n"),
        lambda: (tmp_path / "a.svg").write_text('<svg xmlns="http://www.w3.org/2000/svg"><g/></svg>'),
        None,
    ):
        if change:
            change()
        make.build(tmp_path / "site", farm=path)
    assert len(built) == 3


def test_the_handbook_is_itself_again_after_a_farm(three):
    """A build of a farm leaves nothing behind in the process that made it."""
    assert register.edition()["values"] == {} and calc.run("lane.starter")["inputs"]["lane_length"][
        "value"
    ] == pytest.approx(8 * 0.3048)


def test_longest_is_more_than_the_example():
    assert len(GOOD) < farm_text.LONGEST / 4


# ---- the farm's own tables, and nothing of the demo farm's


LONGMERE = """
name: Longmere Worms
units: metric
currency: €
prices:
  - {product: Sack of castings, amount: 25 L, price: 19, fills: bag}
  - {product: Worms by weight, amount: 500 g, price: 30, fills: worms}
inputs:
  lane_length: 4 m
  lane_width: 1.2 m
  worm_mass: 6 kg
"""
DEMO_ROWS = ("Quillfen", "North lane", "Barn lane", "Tray room", "Wren", "Bag of castings", "Starter tub", "Handful")


@pytest.fixture
def longmere(tmp_path):
    path = tmp_path / "farm.yml"
    path.write_text(LONGMERE, "utf-8")
    register.use_edition(**farm.load(path).edition)
    yield path
    register.use_edition()


def test_price_list_and_lane_go_through_every_page_that_has_them(longmere):
    for id in ("farm.week", "farm.stock", "farm.money", "records.learn"):
        defaults = register.every()[id].defaults
        assert [row["name"] for row in defaults["products"]] == ["Sack of castings", "Worms by weight"]
        assert [row["length"] for row in defaults["lanes"]] == [4.0] and not defaults["log"]
        assert "errors" not in calc.run(id)
    assert [row["product"] for row in register.every()["economics.mix"].defaults["products"]] == ["Sack of castings"]
    assert calc.run("economics.mix")["outputs"]["castings_used"]["value"] > 0


TABLED = """\
name: Longmere Worms
units: metric
currency: €
inputs:
  products:
    - {name: Sack, castings: 12 kg, unit: sack, price: 13.50, packing: 0.9, most_per_month: 87, keeps: 60}
    - {name: Worms by weight, worms: 0.5 kg, unit: box of 500 g, price: 38}
"""


def test_a_table_of_products_written_once_is_that_of_every_page(tmp_path):
    path = tmp_path / "farm.yml"
    path.write_text(TABLED, "utf-8")
    try:
        register.use_edition(**farm.load(path).edition)
        for id in ("farm.week", "farm.stock", "farm.money", "records.learn"):
            assert [row["name"] for row in register.every()[id].defaults["products"]] == ["Sack", "Worms by weight"]
        (row,) = register.every()["economics.mix"].defaults["products"]
        assert (row["product"], row["price"], row["cost"]) == ("Sack", 13.5, 0.9)
        assert row["castings"] == pytest.approx(12 / CASTINGS_BULK_DENSITY, rel=1e-5)
        assert row["demand"] == pytest.approx(87 * 12 * 7 / 365.25, rel=2e-3)
        for id in register.every():
            page = block(id, units="metric", currency="€")
            assert not [word for word in DEMO_ROWS if word in page], id
    finally:
        register.use_edition()


def test_a_price_list_is_exact_and_alike_in_all_its_lines():
    prices = tuple(farm.Price("a", "1", price) for price in (13.0, 1249.5, 260.0))
    one = farm.Farm("Longmere", currency="kr", prices=prices)
    assert [farm_pages.price_text(price.price, one) for price in prices] == ["kr 13.00", "kr 1,249.50", "kr 260.00"]
    whole = farm.Farm("Longmere", currency="€", prices=prices[::2])
    assert [farm_pages.price_text(price.price, whole) for price in prices[::2]] == ["€13", "€260"]


def test_an_edition_leaves_no_row_of_the_demo_farm_on_any_page(longmere):
    for id in register.every():
        page = block(id, units="metric", currency="€")
        assert not [word for word in DEMO_ROWS if word in page], id


FOR_BUILDERS = {"customers.html", "method/edition.html", "print.html"}
"""Of the plain handbook: prices that an edition has of its own, the page about making one, which no edition has, and
the book for paper, which has that page too; an edition's own book is read below.
"""


def test_an_edition_leaves_no_word_about_the_demo_farm_on_any_page(site, three):
    """Every page of the handbook with what `farm_pages.place` takes out of an edition, forms and answers apart (above),
    and every page of an edition as it was built.
    """
    read = 0
    for path in sorted(site.rglob("*.html")):
        name = path.relative_to(site).as_posix()
        if name not in FOR_BUILDERS:
            page = tree.Page(name, path.read_text("utf-8"))
            farm_pages.without_chapters(page, {farm_pages.DEMO_PARTS})
            farm_pages.decompose_all(page.all("section.calc"))
            text = page.one("body").text()
            assert not re.search(r"quillfen|demo farm", text, re.IGNORECASE), name
            read += 1
    assert read > 50
    for path in sorted(three.rglob("*.html")):
        text = path.read_text("utf-8")
        found = [word for word in ("demo farm", *DEMO_ROWS) if word in text]
        assert not found, (path.relative_to(three), found)


def test_the_terminal_takes_the_farms_own_file(longmere, capsys):
    register.use_edition()
    assert main(["--farm", str(longmere), "farm.stock", "--json"]) == 0
    said = json.loads(capsys.readouterr().out)
    assert [row["name"] for row in said["inputs"]["products"]["value"]] == ["Sack of castings", "Worms by weight"]
    assert said["inputs"]["lanes"]["value"][0]["worms"] == 6
    assert main(["--farm", str(longmere), "farm.stock"]) == 0
    said = capsys.readouterr().out
    assert "is entered here once." in said and "Invented, as an example" not in said  # they are the farm's own
    longmere.write_text("name: A\ninputs:\n  lane_lengt: 4 m\n", "utf-8")
    assert main(["--farm", str(longmere), "farm.stock"]) == 2
    assert "lane_length" in capsys.readouterr().err


def test_a_value_that_sits_oddly_where_it_goes_is_named_at_the_build(tmp_path):
    path = tmp_path / "farm.yml"
    path.write_text("name: A\nunits: us\ninputs:\n  worm_mass: 300 lb\n", "utf-8")
    said = farm.oddities(farm.load(path))
    assert any(sentence.startswith("lane.starter, worm_mass: ") for sentence in said)
    path.write_text("name: A\nunits: us\ninputs:\n  worm_mass: 10 lb\n", "utf-8")
    assert not [sentence for sentence in farm.oddities(farm.load(path)) if "lane.starter, worm_mass" in sentence]
