"""The quick run: what holds of every calculator always, and of the chapters those that are being written. How tests
run side by side.
"""

import os
import re
import subprocess
import sys

import bootstrap
import duties
import pytest
import quick

from tests import conftest

HEAP = {"calc/garden/heap.py", "docs/garden/heap.md", "tests/calc/test_garden_heap.py", "calc/facts/sources.py"}


@pytest.mark.parametrize(
    ("files", "chapters"),
    [
        (HEAP, {"garden"}),
        (HEAP | {"calc/facts/lane.py"}, {"garden", "lane"}),
        ({"tests/published/feed.yml"}, {"feed"}),
        (HEAP | {"calc/engine/run.py"}, quick.chapters()),
        ({"calc/inputs.py"}, quick.chapters()),
        ({"README.md"}, quick.chapters()),
        (set(), quick.chapters()),
    ],
)
def test_chapters_that_differ_are_tested(files, chapters):
    assert quick.written(files) == chapters


def test_only_other_chapters_are_left_out():
    there = {f"tests/calc/{path.name}" for path in duties.TESTS.glob("test_*.py")}
    kept = set(quick.tests(HEAP))
    assert {f"tests/calc/test_{name}.py" for name in ("duties", "engine", "workings", "one_figure")} <= kept
    assert {path.split("test_")[1].split("_")[0].removesuffix(".py") for path in there - kept} <= quick.chapters()
    assert "tests/calc/test_lane.py" not in kept and there <= set(quick.tests(set()))


def test_tests_of_one_file_run_in_one_process():
    """What a file has made for its tests is made once, also where two processes test side by side."""
    files = ["tests/calc/test_quantity.py", "tests/calc/test_corners.py"]
    outer = {name: text for name, text in os.environ.items() if not name.startswith("PYTEST_")}
    done = subprocess.run(
        [sys.executable, "-m", "pytest", "-vv", "--color=no", "-n", "2", *files],
        cwd=bootstrap.ROOT,
        env=outer,
        capture_output=True,
        text=True,
        check=False,
    )
    told = re.findall(r"^\[(gw\d+)\].* PASSED (tests/calc/\w+\.py)::", done.stdout, re.MULTILINE)
    assert len(told) > 50, done.stdout + done.stderr
    assert len({file for _, file in told}) == len(set(told)) == 2, set(told)


@pytest.mark.parametrize(
    ("test", "group"),
    [
        ("tests/site/test_look.py::test_a[phone-1]", "tests/site/test_look.py"),
        ("tests/site/test_access.py::test_a[phone]", "tests/site/test_access.py::test_a"),
        ("tests/browser/test_engines.py::test_edit[webkit-disk]", "tests/browser/test_engines.py::webkit-disk]"),
        (
            "tests/browser/test_engines.py::test_developers_page_agrees[webkit-disk]",
            "tests/browser/test_engines.py::webkit-disk]",
        ),
    ],
)
def test_what_is_shared_is_in_one_group(test, group):
    assert conftest.group_of(test) == group
