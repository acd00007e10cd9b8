"""The fences a chapter may use: each turns a few words of Markdown into the HTML that calc.page makes.

All of them are called by pymdownx.superfences with (source, language, css_class, options, md).
"""

from functools import wraps

import reading
from pymdownx.superfences import SuperFencesException

UNITS, CURRENCY, FARM = "us", "$", None
"""System of units and currency in which pages are made, and the farm whose edition this is; set by make.py before a
build.
"""
STEPS = {}
"""{calculator: its steps} of this build: two pages ask for all of them. Emptied by make.py."""


def steps(entry):
    from calc.page.equations import steps_of

    if entry.id not in STEPS:
        STEPS[entry.id] = steps_of(entry)
    return STEPS[entry.id]


def fence(make):
    """Any fault inside a fence stops the build and names the fence, instead of printing its text as code."""

    @wraps(make)
    def formatter(source, language, css_class, options, md, **more):
        try:
            return make(source.strip())
        except Exception as error:
            raise SuperFencesException(f"```{language}\n{source}\n```\n{type(error).__name__}: {error}") from error

    return formatter


@fence
def calculator(source):
    """A calculator, its form filled in and answered: `lane.starter lane_length="8 ft"`."""
    from calc import page

    words, presets = reading.words_and_values(source)
    if len(words) != 1:
        raise ValueError('one calculator a fence: its name first, then presets such as lane_length="8 ft"')
    return page.block(words[0], presets, units=UNITS, currency=CURRENCY)


@fence
def drawing(source):
    """A drawing of calc/drawings with its caption and text equivalent."""
    from calc.page import drawings

    return drawings.figure(source)


@fence
def intact(source):
    """What looks whether a copy is whole."""
    import intact as check

    return check.section()


@fence
def posters(source):
    """Drawings, each on a sheet of paper of its own: a name of calc/drawings on each line."""
    from calc.page import drawings

    return "".join(f'<div class="sheet poster">{drawings.figure(name)}</div>' for name in source.split())


@fence
def facts(source):
    """The table of every coefficient of a chapter: low, typical, high, unit, source, how sure."""
    from calc.page import lists

    return lists.facts_table(source)


@fence
def equations(source):
    """Every equation of a chapter, with its source, from the workings of its calculators."""
    from calc.page.equations import equations as listed

    return listed(source, steps)


@fence
def sources(source):
    """The bibliography, or one chapter's part of it."""
    from calc.page import lists

    return lists.sources_list(source)


@fence
def checks(source):
    """Published values beside ours, one chapter or all."""
    import published

    return published.table(source)


@fence
def proof(source):
    """The attacks on the handbook, in figures."""
    import proof as attacks

    return attacks.table(steps)


@fence
def plan(source):
    """The sheet of the reader's plan."""
    from calc.page import plan as sheet

    return sheet.page(UNITS, CURRENCY)


@fence
def questions(source):
    """The questions of a chapter with links to their pages, in the order of the nav."""
    import bootstrap
    from mkdocs.utils.yaml import yaml_load

    from calc.page import plan as sheet

    with open(bootstrap.ROOT / "mkdocs.yml", encoding="utf-8") as file:
        pages = [page.replace(".md", ".html") for page in reading.named(yaml_load(file)["nav"])]
    return sheet.questions(source, pages)


@fence
def signs(source):
    """What a reader sees, smells, feels and measures, as buttons that lead to the troubles marked with it."""
    import signs as sorter

    return sorter.buttons(source)


@fence
def licences(source):
    """What is shipped in the site and under which terms."""
    import shipped

    return shipped.table()


@fence
def reference(source):
    """What Python code can call: every function that a chapter offers."""
    from reference import reference as listed

    return listed()


@fence
def ran(source):
    """Python code, with what it prints."""
    from reference import ran as run

    return run(source)


@fence
def farm(source):
    """A farm's words on a page: prices, contact, welcome; or about its file: keys, names, example."""
    import farm_pages

    return farm_pages.words(source, FARM)


@fence
def sheet(source):
    """A daily sheet to fill in by hand: lane, breeding, heap, harvest."""
    import sheets

    return sheets.sheet(source, FARM)
