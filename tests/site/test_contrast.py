"""Every pair of colours that carries text or draws a line a reader must see is far enough apart (WCAG 2.2: 4.5 and 3 to 1)."""

import re

import bootstrap
import pytest

SHEET = (bootstrap.ROOT / "docs" / "assets" / "style" / "1-palette.css").read_text(encoding="utf-8")
TEXT = [
    ("ink", "paper"),
    ("ink", "sheet"),
    ("ink", "answer"),
    ("ink", "field"),
    ("ink-soft", "paper"),
    ("ink-soft", "sheet"),
    ("ink-soft", "answer"),
    ("ink-soft", "field"),
    ("link", "paper"),
    ("link", "sheet"),
    ("brick", "paper"),
    ("brick", "sheet"),
    ("brick", "field"),
    ("on-brick", "brick"),
    ("cream", "loam"),
    ("ink", "warn-paper"),
    ("warn", "warn-paper"),
    ("wrong", "wrong-paper"),
    ("wrong", "sheet"),
    ("ink", "care-paper"),
    ("care", "care-paper"),
    ("link", "warn-paper"),
    ("fig-text", "fig-paper"),
    ("fig-text", "sheet"),
    ("fig-main", "sheet"),
    ("fig-second", "sheet"),
    ("fig-third", "sheet"),
    ("fig-muted", "sheet"),
    ("fig-warn", "sheet"),
    ("fig-good", "sheet"),
]
SHAPES = [("field-rule", "field"), ("field-rule", "sheet"), ("warn", "paper"), ("wrong", "field"), ("care", "paper")]


def colours(scheme):
    block = re.search(rf'\[data-md-color-scheme="{scheme}"\] \{{(.*?)\}}', SHEET, re.DOTALL)[1]
    return dict(re.findall(r"--([\w-]+): (#[0-9a-f]{6});", block))


def luminance(colour):
    """Relative luminance, WCAG 2.2."""
    channels = (int(colour[place : place + 2], 16) / 255 for place in (1, 3, 5))
    red, green, blue = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one, other):
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def test_the_extremes():
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert contrast("#767676", "#ffffff") == pytest.approx(4.54, abs=0.01)  # the grey that WCAG's own examples give


@pytest.mark.parametrize("scheme", ["default", "slate"])
@pytest.mark.parametrize(("pairs", "least"), [(TEXT, 4.5), (SHAPES, 3.0)], ids=["text", "shapes"])
def test_contrast(scheme, pairs, least):
    named = colours(scheme)
    short = {
        f"{one} on {other}": round(contrast(named[one], named[other]), 2)
        for one, other in pairs
        if contrast(named[one], named[other]) < least
    }
    assert short == {}
