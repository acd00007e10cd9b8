"""Prose quotes a calculator's figure by its name, so that a chapter never says another one than the page."""

import html
import re

import bootstrap
import fences
import pytest
import quoted

import calc
from calc.engine import register

CHAPTERS = sorted(bootstrap.ROOT.glob("docs/**/*.md"))


def test_a_figure_is_the_page_s_own_in_both_systems():
    assert quoted.quoted("lane.starter", "startup_cost", "") == "$" + format(
        calc.run("lane.starter")["outputs"]["startup_cost"]["value"], ",.0f"
    )
    assert re.fullmatch(r"[\d.,]+ ft \([\d.,]+ m\)", quoted.quoted("lane.starter", "floor_needed", ""))
    assert "(" in quoted.quoted("lane.starter", "days_to_first_slice", " range")


def test_whole_numbers_and_other_units_keep_their_range():
    assert re.fullmatch(
        r"\d+ months \(\d+ to \d+\)", quoted.quoted("lane.starter", "days_to_first_slice", " in=month whole range")
    )


def test_a_quoted_measure_is_marked_like_any_other(monkeypatch):
    monkeypatch.setattr(fences, "UNITS", "us")  # a farm's edition may have been built before, in this process
    (made,) = quoted.Quoting(None).run(["It needs [[lane.starter floor_needed]]."])
    assert made.count('class="measure"') == 1
    plain = quoted.quoted("lane.starter", "floor_needed", "")
    assert re.sub("<[^>]+>", "", made) == f"It needs {plain}."


MONTHS = "January|February|March|April|May|June|July|August|September|October|November|December"
ONLY_QUOTED = {
    "money": r"\$\d[\d,.]*",
    "a day of this book's calendar": rf"\b\d{{1,2}} (?:{MONTHS}) 20(?:2[7-9]|3\d)\b",
    "the wait for the first slice": r"first slice (?:comes |is (?:due )?)?(?:after|in|about|at)"
    r" [^.|\[]*?\d+ (?:days|weeks|months)",
    "hours of the first year": r"first year [^.|\[]*?\d+ h(?:ours)?\b|\d+ hours? (?:a week|in the first year)",
    "feed a week": r"(?:eats?|feed)\b[^.|\[]{0,40}?\d+ (?:lb|kg)[^.|\[]{0,12}?(?:a|per|/) ?week",
    "floor of the lane": r"needs? [^.|\[]{0,20}\d+(?:\.\d+)? (?:ft|m)\b[^.|\[]{0,20} of floor",
}
"""What a chapter may say of this book's lane only by quoting it."""
HELD = {
    "economics/index.md": {"$140", "$2.30", "$390", "$6"},  # tests/calc/test_lane_pages.py
    "cases.md": {"feed 20 lb (9 kg) a week"},
}


def _prose(path):
    """The text of a chapter without fences, code and quotations, a paragraph a line."""
    text = re.sub(r"^ *```.*?^ *```", "", path.read_text(encoding="utf-8"), flags=re.DOTALL | re.MULTILINE)
    return re.sub(r"`[^`\n]*`", "", re.sub(r"(?<!\n)\n(?!\n)", " ", text))


def plain_figures(text):
    return [(what, found[0]) for what, pattern in ONLY_QUOTED.items() for found in re.finditer(pattern, text)]


@pytest.mark.parametrize("path", CHAPTERS, ids=lambda path: path.relative_to(bootstrap.ROOT / "docs").as_posix())
def test_no_chapter_says_in_plain_figures_what_a_calculator_answers(path):
    """Figures that are typed into prose go stale with the next change of the model; a quoted one cannot."""
    held = HELD.get(path.relative_to(bootstrap.ROOT / "docs").as_posix(), set())
    assert [found for found in plain_figures(_prose(path)) if found[1].rstrip(".,") not in held] == []


@pytest.mark.parametrize(
    "planted",
    [
        "It costs about $700 in all.", "The worms go in on 1 May 2027.", "The first slice comes after about 250 days.",
        "At the start that lane eats 24 lb a week.", "That lane needs 12 ft of floor.", "It takes 2 hours a week.",
    ],
)  # fmt: skip
def test_a_figure_that_is_typed_is_told(planted):
    assert plain_figures(planted)


def test_another_lane_gives_another_figure():
    assert quoted.quoted("lane.starter", "startup_cost", ' worm_mass="5 lb"') != quoted.quoted(
        "lane.starter", "startup_cost", ""
    )


@pytest.mark.parametrize(
    "written",
    ["[[lane.starter nothing_such]]", "[[lane.nowhere floor_needed]]", "[[lane.starter floor_needed worm_mass=red]]"],
)
def test_what_cannot_be_quoted_stops_the_build(written):
    with pytest.raises(ValueError, match="cannot be quoted"):
        quoted.Quoting(None).run([f"It takes {written} of floor."])


def test_a_farm_whose_lane_has_no_such_figure_is_built_all_the_same():
    """A lane that freezes has no first slice: the farm's copy says so, the handbook itself would not be built."""
    asked = ("lane.starter", "days_to_first_slice", " in=month whole")
    try:
        register.use_edition({"lane.starter": {"climate": "cold", "start_date": "2027-10-01", "worm_mass": "1 lb"}})
        quoted._view.cache_clear()
        assert calc.run("lane.starter")["outputs"]["days_to_first_slice"]["value"] is None
        assert quoted.quoted(*asked) == quoted.UNTOLD
    finally:
        register.use_edition()
        quoted._view.cache_clear()
    assert "month" in quoted.quoted(*asked)
    with pytest.raises(TypeError):
        quoted.quoted(asked[0], asked[1], asked[2] + ' climate=cold start_date=2027-10-01 worm_mass="1 lb"')


def test_every_quotation_in_the_chapters_can_be_read(site):
    quotations = sum(len(quoted.QUOTED.findall(path.read_text(encoding="utf-8"))) for path in CHAPTERS)
    assert quotations > 15
    left = [path.name for path in site.rglob("*.html") if re.search(r"\[\[[a-z_]+\.", path.read_text(encoding="utf-8"))]
    assert left == []
    assert "[[lane" not in (site / "search" / "search_index.json").read_text(encoding="utf-8")


LINK = re.compile(r'href="([\w./-]+)\.html#plan\?([^"]*)"')


def test_links_of_the_cases_set_what_their_pages_ask_for():
    """Each link names a page with a calculator, and inputs and values that it takes."""
    from urllib.parse import parse_qsl

    from calc.engine.register import every

    pages = {entry.page.removesuffix(".html"): id for id, entry in every().items()}
    links = LINK.findall((bootstrap.ROOT / "docs" / "cases.md").read_text(encoding="utf-8"))
    assert len(links) >= 9
    for page, query in links:
        values = dict(parse_qsl(html.unescape(query)))
        found = calc.run(pages[page], {k: v for k, v in values.items() if k != "units"}, units=values["units"])
        assert "errors" not in found, (page, found)
