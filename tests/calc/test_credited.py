"""Which work each coefficient, each point of a curve, each property of a material and each published check is credited
to, and how sure. A figure under another work's name is as wrong as a wrong figure, and no sum tells it. credited.txt
lists for each work what it is used for; whoever means a change writes it anew with `python tests/calc/test_credited.py`
and reads the difference.
"""

import re
import sys
from pathlib import Path

import pytest

sys.path[:0] = [str(Path(__file__).parents[2] / "scripts" / "site"), str(Path(__file__).parents[2] / "scripts")]
import bootstrap
import published

from calc.facts import sources
from calc.facts.base import Fact, Points, Source
from calc.facts.materials import MATERIALS
from calc.page import lists

WRITTEN = Path(__file__).with_name("credited.txt")
WORKS = [work for work in vars(sources).values() if isinstance(work, Source) and work.work]
SEEN_OF = {work.name: work.seen for work in WORKS}
FIRST = re.compile(r"(?<![^\W\d_])(?<![^\W\d_],\s)(?<![^\W\d_]\s&\s)(?<![^\W\d_]\sand\s)$")
"""Before the first author of a work: no letter, and no other author."""
YEAR = re.compile(r"(?:19|20)\d\d")
LIBRARIES = next(words for kind, words in published.BY_SOURCE if kind == "library")
FIGURES_OF = ("read", "abstract", "second-hand")
"""How a figure was seen, the strongest first; other figures are worked out, practice, judged, invented or recalled."""


def credits():
    """{place: (work, how sure)} of all coefficients and published checks."""
    return {**credited_figures(), **credited_checks()}


def credited_figures():
    """{place: (work, how sure)} of coefficients, points of curves and properties of materials."""
    found = {}
    for module_name, module in lists.modules().items():
        for name, item in vars(module).items():
            if isinstance(item, Fact):
                found[f"{module_name} {name}"] = (str(item.source), item.sure)
            elif isinstance(item, Points):
                for x, y, source, sure in (point[:4] for point in item.points):
                    found[f"{module_name} {name} at {x:g}: {y:g}"] = (str(source), sure)
    for material in MATERIALS:
        for fact in material.facts:
            found[f"materials {material.name}, {fact.label}"] = (str(fact.source), fact.sure)
    return found


def credited_checks():
    """The same of published checks: the works and libraries that their sources name, or their words where they name
    none.
    """
    return {f"check {entry['id']}": (credit_of(entry["source"]), entry["sure"]) for _, entry in published.entries()}


def credit_of(text):
    named_works = sorted(works_in(" ".join(text.split())))
    libraries = [library for library in LIBRARIES if library in text]
    return "; ".join([*libraries, *named_works]) or " ".join(text.split())


def words_of_checks():
    """{place: (source in words, how sure)} of published checks."""
    return {
        f"check {entry['id']}": (" ".join(entry["source"].split()), entry["sure"]) for _, entry in published.entries()
    }


def written():
    """{place: (work, how sure)} as they were when they were last looked through."""
    found, work = {}, ""
    for line in WRITTEN.read_text(encoding="utf-8").splitlines():
        if line.startswith("    "):
            place, _, sure = line.strip().rpartition(" | ")
            found[place] = (work, sure)
        else:
            work = line
    return found


def write(now):
    """The file anew: a work in each paragraph, and what it is used for."""
    by_work = {}
    for place, (work, sure) in now.items():
        by_work.setdefault(work, []).append(f"    {place} | {sure}\n")
    parts = (f"{work}\n{''.join(by_work[work])}" for work in sorted(by_work))
    WRITTEN.write_text("".join(parts), encoding="utf-8")
    sys.stdout.write(f"{len(now)} places\n")


def works_in(text):
    """The works that a text names, by their short names or by first author and year."""
    return {work.name for work in WORKS if work.name in text or named(text, first_author(work), work.year)}


def named(text, author, year):
    """Whether a year stands soon after an author, who stands first, with no other year or work between."""
    pieces = text.split(author)
    return year.isdigit() and any(
        FIRST.search(before[-12:]) and YEAR.findall(after[:80].partition(";")[0])[:1] == [year]
        for before, after in zip(pieces, pieces[1:])
    )


def first_author(work):
    return re.split(r",| &| and | et al", work.author, maxsplit=1)[0]


def test_nothing_is_credited_to_another_work():
    known = written()
    assert {
        place: (known[place], there) for place, there in credits().items() if known.get(place, there) != there
    } == {}


def test_nearly_all_is_written_down():
    known, now = written(), credits()
    assert sum(place in known for place in now) > 0.95 * len(now) > 500


def test_no_figure_is_surer_than_its_work_was_seen():
    """A figure read in a work of which only the abstract was seen, or none at all, is credited to the wrong one."""
    weak = {
        place: (work, sure)
        for place, (work, sure) in credited_figures().items()
        if sure in FIGURES_OF and order(SEEN_OF.get(work, "memory")) > order(sure)
    }
    assert weak == {}


def order(seen):
    return [*FIGURES_OF, "memory"].index(seen)


def test_no_check_is_surer_than_the_works_it_names():
    """What a library gave was read there, whatever work the library follows."""
    weak = {
        place: (text, sure)
        for place, (text, sure) in words_of_checks().items()
        if sure in FIGURES_OF
        and not any(library in text for library in LIBRARIES)
        and (works := works_in(text))
        and all(order(SEEN_OF[work]) > order(sure) for work in works)
    }
    assert weak == {}


@pytest.mark.parametrize(("text", "works"), [
    ("Neuhauser, Hartenstein & Kaplan 1980, weekly weights", {"Neuhauser, Hartenstein & Kaplan 1980"}),
    ("as FAO-56 has it; Penman 1948", {"FAO-56", "Penman 1948"}),
    ("nobody at all, 1948", set()),
])  # fmt: skip
def test_works_are_found_in_a_text(text, works):
    assert works_in(text) == works


def test_what_rests_on_memory_moves_no_answer_by_a_tenth():
    """Each was put at its low and its high before everything was worked out: no result of any calculator's defaults
    moved by more than one in a hundred. What moved more is our own judgement now, and says what would settle it.
    """
    recalled = {
        place for place, (_, sure) in credited_figures().items() if sure == "memory" and "materials" not in place
    }
    assert {place for place in recalled if " at " not in place} <= {
        "climate COVER_FACTOR",
        "climate LEAST_AIR",
        "climate MINERAL_PARTICLES",
        "lane WEDGE_DAYS",
        "moisture CONSTANT_MASS_LIMIT",
    }
    assert {place.split(":")[0] for place in recalled if " at " in place} <= {
        "breeding COCOONS_SEEN at 25",
        "breeding INCUBATION_SEEN at 25",
        "breeding HATCH_SEEN at 25",
    }, "points that are drawn, not reckoned with"


def test_chapters_say_which_works_are_recalled():
    """Whoever reads a figure under a name is told where nobody looked it up again."""
    recalled = [work for work in WORKS if work.seen == "memory"]
    silent = [
        f"{path.name}: {work.name}"
        for path in sorted((bootstrap.ROOT / "docs").rglob("*.md"))
        for work in recalled
        for after in " ".join(path.read_text(encoding="utf-8").split()).split(work.name)[1:]
        if "memory" not in after[:60]
    ]
    assert recalled and silent == []


def texts():
    """All that can name a work: chapters, code, published checks."""
    folders = (("docs", "*.md"), ("calc", "*.py"), ("tests/published", "*.yml"), ("tests", "evidence.md"))
    return "\n".join(
        path.read_text(encoding="utf-8")
        for folder, kind in folders
        for path in sorted((bootstrap.ROOT / folder).rglob(kind))
        if path.name != "sources.py"
    )


def test_every_work_is_used_for_something():
    """By a coefficient or a check, or named in a chapter, a formula or the search for evidence."""
    credited = {work for work, _ in credits().values()}
    everything = " ".join(texts().replace('"\n', "").split()).replace(' "', "")
    told = works_in(everything)
    constants = {name: work for name, work in vars(sources).items() if work in WORKS}
    idle = [
        work.name
        for name, work in constants.items()
        if work.name not in credited | told and f"sources.{name}" not in everything and work.author not in everything
    ]
    assert idle == []


if __name__ == "__main__":
    write(credits())
