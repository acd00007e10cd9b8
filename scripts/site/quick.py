"""What `scripts/test --quick` runs for whoever writes a calculator: all that holds of every one, and the tests of the
chapters that are being written.
"""

from __future__ import annotations

import subprocess
from pathlib import Path

import bootstrap

TESTS = Path("tests") / "calc"
FOR_ALL = {"__init__.py", "__main__.py", "engine", "page", "inputs.py", "biology.py"}
"""What every chapter stands on: a change there is a change of all."""


def chapters() -> set[str]:
    """Packages of calc that hold calculators, by name."""
    folders = (path.parent for path in (bootstrap.ROOT / "calc").glob("*/__init__.py"))
    return {folder.name for folder in folders} - {"drawings", "engine", "facts", "page"}


def changed() -> set[str]:
    """Files that differ from the last commit, new ones too; nothing where no git can tell."""
    command = ["git", "status", "--porcelain", "--untracked-files=all", "--no-renames"]
    done = subprocess.run(command, cwd=bootstrap.ROOT, capture_output=True, text=True, check=False)
    return {line[3:] for line in done.stdout.splitlines()} if done.returncode == 0 else set()


def written(files: set[str]) -> set[str]:
    """The chapters that are being written; all of them when nothing has changed, or something that all stand on."""
    parts = [Path(file).parts for file in files]
    if any(part[0] == "calc" and part[1] in FOR_ALL for part in parts):
        return chapters()
    named = {Path(word).stem.removeprefix("test_").split("_")[0] for part in parts for word in part[1:]}
    return (named & chapters()) or chapters()


def tests(files: set[str]) -> list[str]:
    """Files of tests: those of no chapter, and those of the chapters that are being written."""
    left_out = chapters() - written(files)
    paths = sorted((bootstrap.ROOT / TESTS).glob("test_*.py"))
    kept = [path.name for path in paths if path.stem.split("_")[1] not in left_out]
    return [*((TESTS / name).as_posix() for name in kept), "tests/site/test_published.py"]
