"""Every pair of colours that carries text or draws a line a reader must see is far enough apart (WCAG 2.2: 4.5 and 3 to
1).
"""

import re

import bootstrap
import pytest

SHEET = (bootstrap.ROOT / "docs" / "assets" / "style" / "1-palette.css").read_text(encoding="utf-8")
GROUNDS = ("paper", "pad", "pad-deep")
TEXT = [
    *(
        (ink, ground)
        for ink in ("ink", "soft", "yours", "link", "care", "wrong", "worm", "feed-ink", "water-ink", "castings-ink")
        for ground in GROUNDS
    ),
    *(("paper", ground) for ground in ("ink", "yours", "link")),
    ("yours", "yours-pad"),
    ("on-castings", "castings"),
    ("ink", "care-pad"),
    ("care", "care-pad"),
    ("link", "care-pad"),
    ("ink", "wrong-pad"),
    ("wrong", "wrong-pad"),
]
SHAPES = [(shape, ground) for shape in ("edge", "yours", "care", "wrong", "worm") for ground in GROUNDS]


def colours(scheme):
    place = {"light": 1, "dark": 2}[scheme]
    return {
        two[0]: two[place] for two in re.findall(r"--([\w-]+): light-dark\((#[0-9a-f]{6}), (#[0-9a-f]{6})\);", SHEET)
    }


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


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize(("pairs", "least"), [(TEXT, 4.5), (SHAPES, 3.0)], ids=["text", "shapes"])
def test_contrast(scheme, pairs, least):
    named = colours(scheme)
    short = {
        f"{one} on {other}": round(contrast(named[one], named[other]), 2)
        for one, other in pairs
        if contrast(named[one], named[other]) < least
    }
    assert short == {}


def test_every_colour_stands_in_the_palette_alone():
    """No sheet and no markup of ours has a colour of its own, apart from paper's black and white, shadows and the
    mark.
    """
    own = {}
    for path in sorted(bootstrap.ROOT.glob("docs/assets/style/*.css")):
        text = path.read_text(encoding="utf-8")
        if path.name == "1-palette.css":
            continue
        found = set(re.findall(r"#[0-9a-fA-F]{3,8}\b(?=[;\s,)])", text)) - {"#000", "#fff", "#000000", "#ffffff"}
        if path.name != "4-print.css" and found:
            own[path.name] = sorted(found)
    assert own == {}


def test_an_older_browser_gets_the_light_colours():
    import style

    sheet = style.for_older_browsers(SHEET)
    plain, asked = sheet.split("@supports", 1)
    assert "light-dark(" not in re.sub(r"/\*.*?\*/", "", plain, flags=re.DOTALL) and "--paper: #fcfdfa" in plain
    assert asked.count("light-dark(#") == len(colours("light")) + 1  # and the one of the question itself
