"""Drawings by hand: each stands in a chapter, says in words what it shows, and finds the patterns of its materials
on its page.
"""

import importlib
import pkgutil
import re
from pathlib import Path

import pytest

import calc.drawings
from calc.page import drawings, hatch

for module in pkgutil.iter_modules(calc.drawings.__path__):
    importlib.import_module(f"calc.drawings.{module.name}")
EVERY = {name: make() for name, make in drawings._drawings.items()}
BY_HAND = {name: made for name, made in EVERY.items() if 'class="plate"' in made.svg}


def test_there_are_drawings_of_all_that_is_done_by_hand():
    assert len(BY_HAND) >= 28


@pytest.mark.parametrize("name", EVERY)
def test_a_drawing_is_told_in_words(name):
    made = EVERY[name]
    assert made.title and made.finding.endswith(".") and len(made.text) > 60


@pytest.mark.parametrize("name", BY_HAND)
def test_every_number_in_a_drawing_has_its_words(name):
    """Discs are numbered from one without a gap, and there are as many words below."""
    made = BY_HAND[name]
    numbers = {int(found) for found in re.findall(r'class="key-number"[^>]*>(\d+)<', made.svg)}
    assert numbers == set(range(1, len(numbers) + 1))
    assert not made.keys or len(made.keys) == max(numbers, default=len(made.keys))


@pytest.mark.parametrize(("name", "feet"), [("climate.shade", 7), ("feed.layers", 4)])
def test_people_are_as_large_as_what_is_measured_beside_them(name, feet):
    """A foot of the upright measure is a foot of the person: 40 units before the person is scaled."""
    svg = BY_HAND[name].svg
    assert f">{feet} ft" in svg
    ((_, low, top),) = re.findall(r'<path class="part" d="M([\d.]+) ([\d.]+)L\1 ([\d.]+)M', svg)
    scaled = re.search(r'scale\(([\d.]+)\)"><path class="limb-edge"', svg)
    assert abs(float(low) - float(top)) / feet == pytest.approx(40 * float(scaled[1] if scaled else 1), rel=0.05)


def test_every_hatch_that_is_used_is_defined():
    used = {found for made in EVERY.values() for found in re.findall(r'class="hatch-(\w+)"', made.svg)}
    assert used and used <= set(hatch.MATERIALS)


def test_every_drawing_stands_on_a_page_with_the_patterns(site, names):
    text = {name: (site / name).read_text(encoding="utf-8") for name in names}
    shown = {found for page in text.values() for found in re.findall(r'calc-drawing" data-figure="([\w_]+)"', page)}
    missing = {name for name, made in BY_HAND.items() if made.name not in shown}
    assert not missing
    for name, page in text.items():
        if 'class="plate"' in page:
            assert page.count('id="hatch-feed"') == 1, name


def test_every_drawing_by_hand_is_a_poster(site):
    page = (site / "records" / "posters.html").read_text(encoding="utf-8")
    missing = [name for name, made in BY_HAND.items() if f'data-figure="{made.name}"' not in page]
    assert missing == ["lane.scales"], "two lanes on one scale say nothing to a wall; all others do"
    assert 'id="records-posters' not in (site / "print.html").read_text(encoding="utf-8")


THICK = re.compile(r"([½\d]+) in \(([\d.]+) cm\)")
"""How thick a layer is, as the chapter on the first lane and its drawing write it."""


def first_seven_days():
    """{day: what its row of the table of the first seven days says}."""
    chapter = Path(calc.drawings.__path__[0]).parents[1] / "docs" / "lane" / "starter.md"
    table = chapter.read_text(encoding="utf-8").split("## The first seven days")[1]
    rows = re.findall(r"^\| (\d[^|]*)\|(.*)\|$", table, re.MULTILINE)
    return {int(day): said for days, said in rows for day in re.findall(r"\d", days)}


def test_the_drawing_of_seven_evenings_and_the_table_below_it_say_the_same():
    """Lamp, thermometer, squeeze and how thick a layer is: table, keys and picture, evening by evening."""
    table, made = first_seven_days(), EVERY["lane.evenings"]
    keys = dict(enumerate(made.keys, 1))
    picture = dict(enumerate(re.split(r"evening \d<", made.svg)[1:], 1))
    assert list(table) == list(keys) == list(picture) == [1, 2, 3, 4, 5, 6, 7]
    for word, drawn in (("lamp", "stroke-heat"), ("thermometer", "M-13 9l-3 3"), ("squeeze", None)):
        told = {day for day, said in table.items() if word in said.lower()}
        assert told and told == {day for day, said in keys.items() if word in said.lower()}, word
        assert drawn is None or told == {day for day, shapes in picture.items() if drawn in shapes}, word
    layers = {day: THICK.findall(said)[0] for day, said in table.items() if THICK.search(said)}
    assert layers == {day: THICK.findall(said)[0] for day, said in keys.items() if THICK.search(said)}
    assert [inches for inches, _ in layers.values()] == re.findall(r": ([½\d]+) in\b", made.svg)
    coat = {
        day: float(found[1])
        for day, shapes in picture.items()
        if (found := re.search(r'fill-feed" d="M[\d.]+ 196h([\d.]+)', shapes))
    }
    first, second = layers
    assert min(coat) == first
    inches = {day: 0.5 if said == "½" else float(said) for day, (said, _) in layers.items()}
    assert coat[second] / coat[first] == pytest.approx(inches[second] / inches[first])
    assert "rake the layer off" in table[5] and "rake the layer off" in keys[5]


def covered(points, x, y):
    """Whether a place lies inside an outline."""
    inside = False
    for (x1, y1), (x2, y2) in zip(points, [*points[1:], points[0]]):
        if (y1 > y) != (y2 > y) and x < (x2 - x1) * (y - y1) / (y2 - y1) + x1:
            inside = not inside
    return inside


def dark_words(svg):
    """Words of a drawing to scale that stand in dark ink on castings."""
    found, fills = [], []
    for tag, attributes, said in re.findall(r"<(rect|polygon|text) ([^>]*?)/?>(?:([^<]*)</text>)?", svg):
        has = dict(re.findall(r'([\w-]+)="([^"]*)"', attributes))
        if tag == "rect":
            x, y, wide, high = (float(has[name]) for name in ("x", "y", "width", "height"))
            fills.append(([(x, y), (x + wide, y), (x + wide, y + high), (x, y + high)], has["class"]))
        elif tag == "polygon":
            fills.append(([tuple(map(float, at.split(","))) for at in has["points"].split()], has["class"]))
        else:
            x = float(has["x"]) + {"start": 4, "middle": 0, "end": -4}[has["text-anchor"]]
            under = [style for points, style in fills if covered(points, x, float(has["y"]) - 4)]
            if under and under[-1] == "draw-castings" and "draw-on-dark" not in has["class"]:
                found.append(said)
    return found


@pytest.mark.parametrize("name", [name for name in EVERY if name not in BY_HAND])
def test_words_on_castings_are_light(name):
    assert dark_words(EVERY[name].svg) == []


def test_dark_words_on_castings_are_found():
    plain = (
        '<rect x="0" y="0" width="90" height="20" class="draw-castings"/>'
        '<text x="9" y="15" text-anchor="start" class="{}">grown</text>'
    )
    assert dark_words(plain.format("draw-text")) == ["grown"]
    assert dark_words(plain.format("draw-text draw-on-dark")) == []
