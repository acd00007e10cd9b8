"""What a run of the journeys found, as lines at its end and as the table in DEVELOPERS.md."""

import re

import bootstrap
import engines
import pytest

PAGE = bootstrap.ROOT / "DEVELOPERS.md"
WAYS = {"http": "served", "disk": "from disk", "offline": "offline"}
BETWEEN = re.compile(
    r"(<!-- engines: scripts/test tests/browser/test_engines.py --write-engines -->\n).*?(<!-- engines end -->)",
    re.DOTALL,
)
YES = "yes"
_KEY = pytest.StashKey()


def record(config):
    """The one record of this run."""
    if _KEY not in config.stash:
        config.stash[_KEY] = Record()
    return config.stash[_KEY]


def journey(function):
    """What a journey is called: the first line of its description."""
    return function.__doc__.strip().splitlines()[0].rstrip(".")


class Record:
    """{(journey, engine, way): "yes", "no" or why it was not run}"""

    def __init__(self):
        self.found = {}
        self.titles = []  # of all journeys, in order, also those that were not asked for this time
        self.versions = {}
        self.missing = {}

    def collected(self, item):
        if journey(item.function) not in self.titles:
            self.titles.append(journey(item.function))

    @staticmethod
    def cell(item):
        return journey(item.function), *item.callspec.params["entrance"]

    def forget(self, item):
        """Begin with this journey, also for the second time."""
        self.found.pop(self.cell(item), None)

    def note(self, item, report):
        cell = self.cell(item)
        engine = cell[1]
        if report.outcome == "skipped":
            reason = report.longrepr[2].removeprefix("Skipped: ")
            if report.when == "setup":
                self.missing[engine] = reason
            else:
                self.found[cell] = reason
        elif report.failed or self.found.get(cell) != "no":
            self.found[cell] = "no" if report.failed else YES

    def summary(self):
        """One line an engine."""
        for engine, name in engines.NAMES.items():
            if engine in self.missing:
                yield f"{self.missing[engine]}; none of its journeys were run"
            mine = {cell: said for cell, said in self.found.items() if cell[1] == engine}
            if mine:
                ways = ", ".join(
                    f"{words} {sum(said == YES for cell, said in mine.items() if cell[2] == way)} of"
                    f" {sum(cell[2] == way for cell in mine)}"
                    for way, words in WAYS.items()
                    if any(cell[2] == way for cell in mine)
                )
                yield f"{name} {self.versions.get(engine, '')}: journeys {ways}"
            yield from (
                f"  not run {WAYS[way]}: {title}: {said}"
                for (title, _, way), said in mine.items()
                if said not in (YES, "no")
            )

    def text(self, kept):
        """The table of what was found, over what was written before for the cells that were not run."""
        cells, versions = (
            {key: said for key, said in (kept[0] | self.found).items() if key[0] in self.titles},
            kept[1] | self.versions,
        )
        reasons = list(dict.fromkeys(said for said in cells.values() if said not in (YES, "no")))
        columns = [(engine, way) for engine in engines.NAMES for way in WAYS]

        def cell(title, column):
            said = cells.get((title, *column), "–")
            return f"[{reasons.index(said) + 1}]" if said in reasons else said

        lines = [
            f"| Journey | {' | '.join(head(*column) for column in columns)} |",
            "| --- " * (len(columns) + 1) + "|",
        ]
        lines += [f"| {title} | {' | '.join(cell(title, column) for column in columns)} |" for title in self.titles]
        lines += ["", *(f"- [{number}] {reason}" for number, reason in enumerate(reasons, 1))]
        run = ", ".join(f"{name} {versions[engine]}" for engine, name in engines.NAMES.items() if engine in versions)
        return "\n".join([*lines, "", f"Run last with {run}."]) + "\n"

    def write(self):
        """Put the table into DEVELOPERS.md; journeys that are no more leave it."""
        page = PAGE.read_text(encoding="utf-8")
        text = self.text(written(page))
        PAGE.write_text(BETWEEN.sub(lambda match: match[1] + text + match[2], page), encoding="utf-8")

    def differences(self):
        """Where this run and the table in DEVELOPERS.md disagree, for the cells that were run."""
        cells, _ = written(PAGE.read_text(encoding="utf-8"))
        for title in {key[0] for key in cells} - set(self.titles):
            yield f"{title}: in DEVELOPERS.md, and no journey"
        for key, said in self.found.items():
            if cells.get(key) != said:
                yield f"{key[0]} ({head(*key[1:])}): DEVELOPERS.md says {cells.get(key)}, this run {said}"


def head(engine, way):
    return f"{engines.NAMES[engine]}, {WAYS[way]}"


def written(page):
    """The table as it stands in DEVELOPERS.md: {(journey, engine, way): "yes", "no" or the reason}, and {engine:
    version}.
    """
    text = BETWEEN.search(page)[0]
    reasons = dict(re.findall(r"^- (\[\d+\]) (.*)$", text, re.MULTILINE))
    columns = [(engine, way) for engine in engines.NAMES for way in WAYS]
    cells = {}
    for line in text.splitlines():
        title, *found = [cell.strip() for cell in line.split("|")[1:-1]] or [""]
        if len(found) == len(columns) and title != "Journey" and not title.startswith("---"):
            cells |= {(title, *column): reasons.get(said, said) for column, said in zip(columns, found) if said != "–"}
    versions = {
        engine: match[1]
        for engine, name in engines.NAMES.items()
        if (match := re.search(rf"^Run last with .*\b{name} ([\w.]*\w)", text, re.MULTILINE))
    }
    return cells, versions
