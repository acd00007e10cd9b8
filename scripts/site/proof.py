"""How the handbook is attacked, in figures: read off code, published values and what the attacks left behind."""

import html
import re
from collections import Counter

import bootstrap
import published
import yaml

MUTATION = bootstrap.ROOT / "tests" / "mutation.md"
FAULTS = bootstrap.ROOT / "tests" / "faults.yml"
KIND = re.compile(
    r"^\| (formulas and rules|presenters|engine|page|drawings) \| ([\d,]+) \| ([\d,]+) \((\d+) %\) \|$", re.MULTILINE
)
DATE = re.compile(r"\d{1,2} [A-Z][a-z]+ \d{4}")


def workings(steps=None):
    """How many steps of all workings are evaluated, or said in prose. steps: as calc.page.equations.steps_of."""
    from calc.engine.register import every
    from calc.page.equations import counted, steps_of

    found = sum((counted(entry, steps or steps_of) for entry in every().values()), Counter())
    return found["evaluated"] + found["blank"], found["prose"]


def changed():
    """[(what was changed, changes tried, of them told)] and the date, as the last runs of scripts/mutate were written
    down.
    """
    text = MUTATION.read_text(encoding="utf-8")
    kinds, when = KIND.findall(text), DATE.search(text)
    if not {"formulas and rules", "presenters"} <= {kind for kind, *_ in kinds} or not when:
        raise ValueError(f"{MUTATION.name} has no rows of formulas and of presenters, or no date")
    return [(kind, tried, f"{told} ({share} %)") for kind, tried, told, share in kinds], when[0]


def table(steps=None):
    """The attacks, what they tried and what was told."""
    evaluated, prose = workings(steps)
    planted = yaml.safe_load(FAULTS.read_text(encoding="utf-8"))
    kinds, when = changed()
    checks = Counter(published.kind_of(entry) for _, entry in published.entries())
    rows = (
        (
            "Equations under the answers, evaluated with units",
            f"{evaluated + prose}",
            f"{evaluated}; {prose} are words",
        ),
        ("Values of others, held against ours", f"{checks.total()}", "all met, or there would be no page"),
        *((f"Of these, from {name}", f"{checks[kind]}", "all") for kind, name in published.KINDS.items()),
        ("Faults planted by hand, each with the tests that should tell it", f"{len(planted)}", "all"),
        *((f"Changes of the code, one at a time ({when}): {kind}", tried, told) for kind, tried, told in kinds),
    )
    body = "".join(
        f"<tr><th scope=row>{html.escape(what)}</th><td>{html.escape(many)}</td><td>{html.escape(found)}</td></tr>"
        for what, many, found in rows
    )
    head = "<tr><th scope=col>Attack</th><th scope=col>Tried</th><th scope=col>True, or told</th></tr>"
    table = f"<table class=plain><thead>{head}</thead><tbody>{body}</tbody></table>"
    heads = "Table: Attack, Tried, True, or told"
    return f'<div class="calc-scroll" tabindex="0" role="group" aria-label="{heads}">{table}</div>'
