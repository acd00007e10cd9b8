"""What a run of the journeys found, as lines at its end and as the table in DEVELOPERS.md."""

import platform
import re

import pytest

import bootstrap
import engines

PAGE = bootstrap.ROOT / "DEVELOPERS.md"
WAYS = {"http": "served", "disk": "from disk", "offline": "offline"}
BETWEEN = re.compile(r"(<!-- engines: scripts/test tests/browser/test_engines.py --write-engines -->\n).*?(<!-- engines end -->)", re.DOTALL)
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
        self.versions = {}
        self.missing = {}

    def note(self, item, report):
        engine, way = item.callspec.params["entrance"]
        cell = journey(item.function), engine, way
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
                ways = ", ".join(f"{words} {sum(said == YES for cell, said in mine.items() if cell[2] == way)} of {sum(cell[2] == way for cell in mine)}"
                                 for way, words in WAYS.items() if any(cell[2] == way for cell in mine))  # fmt: skip
                yield f"{name} {self.versions.get(engine, '')}: journeys {ways}"
            yield from (f"  not run {WAYS[way]}: {title}: {said}" for (title, _, way), said in mine.items() if said not in (YES, "no"))

    def rows(self):
        """{journey: {(engine, way): text}} in the order in which they ran, and the reasons that the texts point to."""
        reasons, rows = [], {}
        for (title, engine, way), said in self.found.items():
            if said not in (YES, "no"):
                if said not in reasons:
                    reasons.append(said)
                said = f"[{reasons.index(said) + 1}]"
            rows.setdefault(title, {})[engine, way] = said
        return rows, reasons

    def text(self):
        rows, reasons = self.rows()
        columns = [(engine, way) for engine in engines.NAMES for way in WAYS]
        heads = [f"{engines.NAMES[engine]}, {WAYS[way]}" for engine, way in columns]
        lines = [f"| Journey | {' | '.join(heads)} |", "| --- " * (len(heads) + 1) + "|"]
        lines += [f"| {title} | {' | '.join(row.get(column, '–') for column in columns)} |" for title, row in rows.items()]
        lines += ["", *(f"- [{number}] {reason}" for number, reason in enumerate(reasons, 1))]
        versions = ", ".join(f"{engines.NAMES[engine]} {self.versions[engine]}" for engine in engines.NAMES if engine in self.versions)
        return "\n".join([*lines, "", f"Run last with {versions} on {platform.system()}."]) + "\n"

    def write(self):
        """Put the table of a whole run into DEVELOPERS.md."""
        if self.missing or set(self.versions) != set(engines.NAMES):
            raise SystemExit("DEVELOPERS.md is written only by a run in which all engines took part.")
        page = PAGE.read_text(encoding="utf-8")
        PAGE.write_text(BETWEEN.sub(lambda match: match[1] + self.text() + match[2], page), encoding="utf-8")

    def differences(self):
        """Where this run and the table in DEVELOPERS.md disagree, for the cells that were run."""
        written = BETWEEN.search(PAGE.read_text(encoding="utf-8"))[0]
        cells = {row[1].strip(): row[2:-1] for row in (line.split("|") for line in written.splitlines() if line.startswith("| "))}
        head = [cell.strip() for cell in cells.pop("Journey")]
        for (title, engine, way), said in self.found.items():
            column = f"{engines.NAMES[engine]}, {WAYS[way]}"
            stands = cells[title][head.index(column)].strip() if title in cells and column in head else "nothing"
            reason = re.search(rf"^- {re.escape(stands)} (.*)$", written, re.MULTILINE)
            if (reason[1] if reason else stands) != said:
                yield f"{title} ({column}): DEVELOPERS.md says {reason[1] if reason else stands}, this run {said}"
