"""The nav names every page once, and every calculator has a page."""

import re
from collections import Counter

import bootstrap
import reading
from mkdocs.utils.yaml import yaml_load

import calc

DOCS = bootstrap.ROOT / "docs"


def nav():
    with open(bootstrap.ROOT / "mkdocs.yml", encoding="utf-8") as file:
        return yaml_load(file)["nav"]


def placed():
    """[(calculator, page)] of every fence outside the front page, which repeats one."""
    return [
        (name, page.relative_to(DOCS).as_posix())
        for page in sorted(DOCS.rglob("*.md"))
        if page != DOCS / "index.md"
        for name in re.findall(r"^```calculator\s*\n\s*([\w.]+)", page.read_text(encoding="utf-8"), re.MULTILINE)
    ]


def test_nav_names_every_page_once():
    assert reading.forgotten(nav(), DOCS) == []
    assert [name for name, times in Counter(reading.named(nav())).items() if times > 1] == []


def test_nav_names_no_page_that_is_missing():
    assert [name for name in reading.named(nav()) if not (DOCS / name).is_file()] == []


def test_every_calculator_has_a_page():
    """At least one, in a chapter; the same one may stand on a second page with other presets, but not twice on one."""
    assert sorted(set(calc.calculators()) - {name for name, _ in placed()}) == []
    assert sorted({name for name, _ in placed()} - set(calc.calculators())) == []
    assert [place for place, times in Counter(placed()).items() if times > 1] == []


def test_order_drops_and_appends(tmp_path):
    for name in ("index.md", "lane/index.md", "lane/new.md", "other.md"):
        (tmp_path / name).parent.mkdir(exist_ok=True)
        (tmp_path / name).write_text("# x")
    made = reading.order(
        ["index.md", {"Lanes": ["lane/index.md", "lane/gone.md"]}, {"Gone": ["gone/index.md"]}], tmp_path
    )
    assert made == ["index.md", {"Lanes": ["lane/index.md", "lane/new.md"]}, "other.md"]
