"""A new calculator, from nothing to an answer: `scripts/new` tried in a copy of this folder."""

import os
import shutil
import subprocess
import sys

import bootstrap
import pytest
import scaffold

PARTS = ["calc", "docs", "scripts", "tests", "mkdocs.yml", "pyproject.toml"]
LEFT = ["its docstring says where the equations come from", "hold it against a published value"]
"""What only its author can know."""

TELLS = """
import sys; sys.path[:0] = [".", "scripts", "scripts/site"]
import calc, duties
from calc.engine.register import find
print(calc.run(sys.argv[1])["outputs"]["volume"]["value"])
print(*duties.unmet(find(sys.argv[1])), sep="\\n")
"""


def ran(*command, folder):
    environment = {name: text for name, text in os.environ.items() if name != "PYTHONPATH"}
    done = subprocess.run(command, cwd=folder, capture_output=True, text=True, env=environment, check=False)
    assert done.returncode == 0, done.stdout + done.stderr
    return done.stdout


@pytest.fixture
def house(tmp_path):
    """A copy of all that a calculator touches."""
    skipped = shutil.ignore_patterns("node_modules", "__pycache__", "*.pyc", ".cache")
    for part in PARTS:
        source = bootstrap.ROOT / part
        if source.is_dir():
            shutil.copytree(source, tmp_path / part, ignore=skipped)
        else:
            shutil.copy(source, tmp_path / part)
    return tmp_path


def made(house, id, question):
    files = scaffold.files(house, id, question)
    for path, text in files.items():
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
    return [str(path) for path in files if path.suffix == ".py"]


@pytest.mark.parametrize("id", ["garden.heap", "feed.first_heap", "orchard.row"])
def test_it_answers_passes_its_tests_and_the_rest_is_told(house, id):
    """In a chapter with a short front door, in one with a long one, and in a new one."""
    python = made(house, id, "How much does my heap hold?")
    chapter, name = id.split(".")
    ran(sys.executable, "-m", "ruff", "check", "--quiet", "--fix", "--select", "I,RUF022", *python, folder=house)
    ran(sys.executable, "-m", "ruff", "format", "--quiet", *python, folder=house)
    ran(sys.executable, "-m", "ruff", "check", "--quiet", *python, folder=house)
    answer, *told = ran(sys.executable, "-c", TELLS, id, folder=house).splitlines()
    assert float(answer) == 3.0
    assert [words for words in LEFT if any(words in line for line in told)] == LEFT
    assert len(told) == len(LEFT), told
    tests = f"tests/calc/test_{chapter}_{name}.py"
    ran(sys.executable, "-m", "pytest", "-q", "-p", "no:cacheprovider", "--noconftest", tests, folder=house)


@pytest.mark.parametrize(
    ("id", "question", "words"),
    [
        ("Garden", "How?", "small letters"),
        ("garden.heap", "How much", "question mark"),
        ("garden.dose", "How much?", "is there already"),
    ],
)
def test_what_cannot_be_made_is_told(id, question, words):
    with pytest.raises(scaffold.Declined, match=words):
        scaffold.files(bootstrap.ROOT, id, question)
