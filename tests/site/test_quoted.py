"""Prose quotes a calculator's figure by its name, so that a chapter never says another one than the page."""

import html
import re

import bootstrap
import pytest
import quoted

import calc

CHAPTERS = sorted(bootstrap.ROOT.glob("docs/**/*.md"))


def test_a_figure_is_the_page_s_own_in_both_systems():
    assert quoted.quoted("lane.starter", "startup_cost", "") == "$" + format(
        calc.run("lane.starter")["outputs"]["startup_cost"]["value"], ",.0f"
    )
    assert re.fullmatch(r"[\d.,]+ ft \([\d.,]+ m\)", quoted.quoted("lane.starter", "floor_needed", ""))
    assert "(" in quoted.quoted("lane.starter", "days_to_first_slice", " range")


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
