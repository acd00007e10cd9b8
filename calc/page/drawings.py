"""Drawings that stand in a chapter by themselves, without a calculator: `@drawing("lane.section")` in
calc/drawings/<chapter>.py.
"""

import importlib
import pkgutil
from collections.abc import Callable

import calc.drawings
from calc.engine.describe import Drawing

_drawings: dict[str, Callable[[], Drawing]] = {}


def drawing(id: str) -> Callable[[Callable[[], Drawing]], Callable[[], Drawing]]:
    """Name a function without parameters that returns a Drawing."""

    def register(function: Callable[[], Drawing]) -> Callable[[], Drawing]:
        _drawings[id] = function
        return function

    return register


def find_drawing(id: str) -> Drawing:
    """The Drawing of that id; KeyError when there is none. A chapter's stand in `lane.py`, `lane_work.py` and so on."""
    chapter = id.split(".", maxsplit=1)[0]
    for module in pkgutil.iter_modules(calc.drawings.__path__):
        if module.name.split("_")[0] == chapter:
            importlib.import_module(f"calc.drawings.{module.name}")
    return _drawings[id]()


def figure(id: str) -> str:
    """A chapter's drawing as HTML."""
    from calc.page.figure import drawing_html

    return drawing_html(find_drawing(id))
