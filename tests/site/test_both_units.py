"""Where the text names a measure it names it in both systems; calculators show the reader's own."""

import re
from html.parser import HTMLParser

import pytest

READER_S_OWN = (
    "method/",
    "licences.html",
    "plan.html",
    "questions.html",
    "customers.html",
)  # about the handbook, or in the units chosen
US = re.compile(r"\d ?(?:(?:ft|lb|oz|gal|yd)[²³]?(?![\w/])|in[²³]?(?= \(| of | high| deep| long| wide|[.;:)])|°F|mph)")
METRIC = re.compile(r"\d[ \u00a0]?(?:m|cm|mm|kg|g|L)[²³]?(?![\w/])|kg/m|°C|m/s|litres?\b|[Mm]illimetre|Celsius")
CELSIUS, FAHRENHEIT = re.compile(r"\d[ \u00a0]?°C"), re.compile(r"°F")
BLOCKS = {"p", "li", "tr", "figcaption", "dd", "dt", "summary", "h1", "h2", "h3", "h4"}


class Blocks(HTMLParser):
    """Texts of the article, block by block, without calculators, drawings and code."""

    def __init__(self):
        super().__init__()
        self.inside = self.skipped = 0
        self.texts = [""]

    def handle_starttag(self, tag, attributes):
        kind = dict(attributes).get("class") or ""
        self.inside += tag == "article"
        if self.skipped or tag in ("svg", "pre", "code") or (tag == "section" and "calc" in kind.split()):
            self.skipped += tag in ("svg", "pre", "code", "section")
        if tag in BLOCKS:
            self.texts.append("")

    def handle_endtag(self, tag):
        self.inside -= tag == "article"
        self.skipped -= bool(self.skipped) and tag in ("svg", "pre", "code", "section")
        if tag in BLOCKS:
            self.texts.append("")

    def handle_data(self, data):
        if self.inside and not self.skipped:
            self.texts[-1] += data


def one_sided(html):
    """Blocks that name a measure in one system only."""
    parser = Blocks()
    parser.feed(html)
    for text in (" ".join(text.split()) for text in parser.texts):
        if (US.search(text) and not METRIC.search(text)) or (CELSIUS.search(text) and not FAHRENHEIT.search(text)):
            yield text


def test_measures_stand_in_both_systems(site, names):
    read = [name for name in names if not name.startswith(READER_S_OWN)]
    found = [f"{name}: {text}" for name in read for text in one_sided((site / name).read_text(encoding="utf-8"))]
    assert not found, "\n".join(found)


@pytest.mark.parametrize(
    ("text", "faults"),
    [
        ("8 ft (2.4 m) of lane, 3 in 10 of them, 40 in the last", 0),
        ("An 8 ft lane", 1),
        ("Lay 2 in.", 1),
        ("Over 30 °C", 1),
        ("Over 86 °F (30 °C)", 0),
        ("10 lb</p><section class='calc'><p>8 ft</p></section><p>4 kg", 1),
    ],
)
def test_one_sided_blocks_are_found(text, faults):
    assert len(list(one_sided(f"<article><p>{text}</p></article>"))) == faults
