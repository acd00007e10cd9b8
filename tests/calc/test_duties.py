"""What each calculator owes beside its function is there, and what is lacking is told with what to do."""

from dataclasses import dataclass
from typing import Annotated

import duties
import pytest

from calc.engine import Answer, Output
from calc.engine.register import Calculator, every


@pytest.mark.parametrize("id", every())
def test_no_duty_is_left_unmet(id):
    lacking = duties.unmet(every()[id])
    assert not lacking, f"{id}:\n" + "\n".join(f"  - {duty}" for duty in lacking)


@dataclass(frozen=True)
class Bare(Answer):
    volume: Annotated[float, Output("m3", "Volume", "Of the heap.")]


def bare() -> Bare:
    """A heap."""
    return Bare(1.0)


def test_each_duty_that_a_bare_function_leaves_unmet_is_told(monkeypatch):
    monkeypatch.setattr(bare, "__module__", "calc.garden.dose")
    monkeypatch.setattr(duties, "reach", lambda entry: {"calc.garden.bare"})
    told = "\n".join(duties.unmet(Calculator("garden.bare", "A heap", bare)))
    for words in (
        "name it in __all__",
        "ends with a question mark",
        "Source:",
        "put a fence on docs/garden/bare.md",
        "tests/published/garden.yml",
        "property test (@given) of tests/calc/test_garden.py",
    ):
        assert words in told, (words, told)


def test_a_page_that_the_nav_lacks_is_told(monkeypatch):
    entry = every()["moisture.adjust"]
    monkeypatch.setattr(duties, "named", lambda: {"index.md"})
    assert any("in the nav of mkdocs.yml" in told for told in duties.unmet(entry))


def test_a_fence_on_another_page_is_told(monkeypatch):
    entry = every()["moisture.adjust"]
    monkeypatch.setattr(duties, "fences", lambda: {"garden/index.md": {"moisture.adjust"}})
    assert any("page='garden/index.html'" in told for told in duties.unmet(entry))
