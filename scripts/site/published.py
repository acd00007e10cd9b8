"""Published values beside ours: read from tests/published, worked out anew each time, shown on the method page and
tested.

Each entry has `nothing` (a calculator that nothing published can be held against, with the reason as `why`), or it has
`call` (a dotted function, called with SI numbers) or `run` (a calculator, by the names of its inputs).
"""

import html
import importlib
import inspect
import math
import re
from collections import Counter
from dataclasses import dataclass

import bootstrap
import yaml

from calc.engine import register

FOLDER = bootstrap.ROOT / "tests" / "published"
NEEDED = ("id", "inputs", "expected", "unit", "source", "sure", "why")


KINDS = {
    "library": "a library of physics or statistics",
    "table": "an agronomy table or its worked example",
    "regulation": "a public rule or its worked example",
    "finance": "a finance text or its library",
    "series": "a trial's own series",
    "paper": "a paper, a standard or a definition",
}
"""{kind: what was held against}; an entry says its `kind`, or its source tells it."""
BY_SOURCE = (
    ("finance", ("OpenStax", "numpy-financial")),
    ("library", ("PsychroLib", "CoolProp", "pyet", "SciPy", "pint")),
    ("table", ("FAO-56", "Richard & Trautmann", "xtension")),
    ("regulation", ("40 CFR", "7 CFR")),
)


def kind_of(entry):
    """What kind of work an entry is held against."""
    told = (kind for kind, words in BY_SOURCE if any(word in entry["source"] for word in words))
    return entry.get("kind") or next(told, "paper")


def breaks(entry):
    """What would be wrong if this check failed: the question of a calculator, or what a function is for."""
    if "run" in entry:
        from calc.engine.register import every

        return every()[entry["run"]].question
    function = called(entry)
    return " ".join(re.split(r"(?<!\beq)\.(?:\s|$)", inspect.getdoc(function) or "")[0].split())


def asked(entry):
    """What was asked: the calculator and which of its answers, or the function and which part of its result."""
    if "run" not in entry:
        part = entry.get("output")
        return entry["call"].removeprefix("calc.") + (f": {part.replace('_', ' ')}" if isinstance(part, str) else "")
    from calc.engine.register import every

    return f"{entry['run']}: {every()[entry['run']].outputs[entry['output']].label}"


def called(entry):
    """The function that an entry calls."""
    module, _, name = entry["call"].rpartition(".")
    return getattr(importlib.import_module(module), name)


@dataclass(frozen=True)
class Check:
    """One published value with ours beside it."""

    entry: dict
    chapter: str
    ours: float

    @property
    def allowed(self):
        """How far ours may lie from the published value, in its unit."""
        if "relative" in self.entry:
            return self.entry["relative"] * abs(self.entry["expected"])
        return self.entry["tolerance"]

    @property
    def holds(self):
        expected = self.entry["expected"]
        if isinstance(expected, (bool, str)) or expected is None:
            return self.ours == expected
        return math.isfinite(self.ours) and abs(self.ours - expected) <= self.allowed


def entries(chapter=""):
    """(chapter, entry) of every file, or of one chapter's file."""
    for path in sorted(FOLDER.glob(f"{chapter or '*'}.yml")):
        for entry in yaml.safe_load(path.read_text(encoding="utf-8")) or []:
            if "nothing" in entry:
                continue
            missing = [key for key in NEEDED if key not in entry] + (
                [] if ("call" in entry) != ("run" in entry) else ["either call or run"]
            )
            if missing or ("tolerance" in entry) == ("relative" in entry):
                raise ValueError(
                    f"{path.name}: {entry.get('id', entry)} lacks"
                    f" {', '.join(missing) or 'one of tolerance and relative'}"
                )
            yield path.stem, entry


def without():
    """{calculator: why nothing published can be held against it}."""
    known = (yaml.safe_load(path.read_text(encoding="utf-8")) or [] for path in sorted(FOLDER.glob("*.yml")))
    return {entry["nothing"]: entry["why"] for file in known for entry in file if "nothing" in entry}


def plain(value):
    """The typical value of something with a range."""
    return getattr(value, "value", value)


def picked(result, output):
    if output is None:
        return plain(result)
    if isinstance(result, dict):
        return plain(result[output])
    return plain(result[output] if isinstance(output, int) else getattr(result, output))


def ours(entry):
    """Our value for the inputs of an entry."""
    if "run" in entry:
        import calc

        # Numbers are SI here; given as the shown unit when no system is asked for, except that text may carry a unit.
        return calc.run(entry["run"], entry["inputs"])["outputs"][entry["output"]]["value"]
    function, given = called(entry), entry["inputs"]
    result = function(*given) if isinstance(given, list) else function(**given)
    return picked(list(result) if inspect.isgenerator(result) else result, entry.get("output"))


def checks(chapter=""):
    return [Check(entry, name, ours(entry)) for name, entry in entries(chapter)]


def said(value):
    if isinstance(value, bool) or not isinstance(value, (int, float)):
        return str(value)
    return f"{value:.6g}".replace("e-0", "e-").replace("-", "−")


def row(check):
    from calc.engine.quantity import symbol
    from calc.facts.base import SURE

    entry = check.entry
    number = not isinstance(entry["expected"], (bool, str))
    inputs = (
        ", ".join(
            f"{name} {said(value) if not isinstance(value, (list, dict)) else '…'}"
            for name, value in entry["inputs"].items()
        )
        if isinstance(entry["inputs"], dict)
        else ""
    )
    cells = (
        f"{said(entry['expected'])} {symbol(entry['unit'])}".strip(),
        said(check.ours),
        said(check.ours - entry["expected"]) if number else "",
        (f"{said(entry['relative'])} of it" if "relative" in entry else said(entry["tolerance"]))
        + f" ({entry['why']})",
        f"{entry['source']}; {SURE.get(entry['sure'], entry['sure'])}",
    )
    what = html.escape(asked(entry))
    head = (
        f"{what}<br><small>{html.escape(inputs)}</small><br><small>If it failed: {html.escape(breaks(entry))}</small>"
    )
    return f"<tr><th scope=row>{head}</th>{''.join(f'<td>{html.escape(cell)}</td>' for cell in cells)}</tr>"


def by_kind(made):
    """How many are held against each kind of work, as a list."""
    counts = Counter(kind_of(check.entry) for check in made)
    return f"<ul>{''.join(f'<li>{counts[kind]}: {words}</li>' for kind, words in KINDS.items() if counts[kind])}</ul>"


WORKED = {
    "read": "read in the work, or given by its library",
    "abstract": "read in the abstract",
    "second-hand": "read in a work that quotes it",
    "derived": "the work's equation or figures, worked by hand by us",
    "memory": "recalled, not read again",
    "practice": "common practice",
}
"""How the published side of a check was had, in words."""


def by_sure(made):
    """How the published side of so many checks was had, as a list: not all that is held against was printed as it
    stands.
    """
    counts = Counter(check.entry["sure"] for check in made)
    return f"<ul>{''.join(f'<li>{counts[sure]}: {words}</li>' for sure, words in WORKED.items() if counts[sure])}</ul>"


def table(chapter=""):
    """Every check of a chapter (all without one). A check that does not hold stops the build."""
    farms = register.edition()  # what others printed is held against the handbook's own defaults, not a farm's
    register.use_edition()
    try:
        made = checks(chapter)
    finally:
        register.use_edition(**farms)
    wrong = [check.entry["id"] for check in made if not check.holds]
    if wrong:
        raise ValueError(f"published values that ours do not meet: {', '.join(wrong)}")
    head = "".join(
        f"<th scope=col>{text}</th>"
        for text in (
            "What, for which inputs (SI)",
            "Published",
            "Ours",
            "Difference",
            "Allowed, and why",
            "Source, how sure",
        )
    )
    return (
        f"<p>{len(made)} values of others, all met. They are held against:</p>{by_kind(made)}"
        f"<p>Theirs was had so:</p>{by_sure(made)}"
        '<div class="calc-scroll" tabindex="0" role="group"'
        ' aria-label="Published values beside ours"><table'
        f' class="calc-checks"><thead><tr>{head}</tr></thead><tbody>{"".join(map(row, made))}</tbody></table></div>'
    )
