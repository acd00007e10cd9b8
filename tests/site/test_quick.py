"""The quick run: what holds of every calculator always, and of the chapters those that are being written."""

import duties
import pytest
import quick

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
