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


# ---- one way on

NEXT = re.compile(r"^\*\*Next:\*\* \[[^\]]+\]\(([^)#]+)\)$", re.MULTILINE)
NO_WAY_ON = {
    *("index.md", "customers.md", "troubles/index.md", "plan.md", "questions.md", "glossary.md", "licences.md"),
}
"""The front page and the customers' page begin elsewhere; the last page of the book and lists end."""
BESIDE_THE_WAY = {
    *("year.md", "lane/output.md", "feed/materials.md", "climate/frost.md", "records/posters.md", "records/measure.md"),
    *("breeding/index.md", "breeding/trays.md", "breeding/room.md", "garden/index.md", "garden/worms.md"),
}
"""Read when there is a reason; each comes back to the way, and a page of the way links to it."""


def way_on():
    """{page: the page that its *Next* names} for every page of the book."""
    found = {}
    for name in reading.named(nav()):
        if name in NO_WAY_ON or name.startswith("method/"):
            continue
        targets = NEXT.findall((DOCS / name).read_text(encoding="utf-8"))
        assert len(targets) == 1, f"{name} has {len(targets)} lines that say **Next:** with one link"
        found[name] = ((DOCS / name).parent / targets[0]).resolve().relative_to(DOCS.resolve()).as_posix()
    return found


def test_each_page_has_one_next_and_they_lead_through_the_book():
    """From what beginners ask first to the last page, in the order of the nav; no page is forgotten."""
    ways, order = way_on(), list(reading.named(nav()))
    page, walked = "first-questions.md", []
    while page in ways:
        walked.append(page)
        assert order.index(ways[page]) > order.index(page), f"{page} goes back to {ways[page]}"
        page = ways[page]
    assert page == "troubles/index.md"
    assert set(ways) - set(walked) == BESIDE_THE_WAY


def test_what_is_beside_the_way_is_linked_from_it():
    text = "".join((DOCS / name).read_text(encoding="utf-8") for name in way_on() if name not in BESIDE_THE_WAY)
    for name in BESIDE_THE_WAY:
        folder, file = ("/" + name).rsplit("/", 1)
        assert re.search(rf"\((?:\.\./)?(?:{folder.strip('/')}/)?{re.escape(file)}[)#]", text), name


def test_the_next_below_an_answer_is_the_next_of_its_page():
    """One way on: the text and the answer name the same page."""
    from calc.engine.register import every
    from calc.page.leads import OPENINGS

    for name, target in way_on().items():
        for entry in every().values():
            if entry.page.replace(".html", ".md") == name:
                first = next(iter(entry.leads))
                page = f"{first}/index.html" if first in OPENINGS else every()[first].page
                assert page.replace(".html", ".md") == target, f"{name} goes on to {target}, {entry.id} to {page}"
