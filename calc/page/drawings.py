"""Drawings that stand in a chapter by themselves, without a calculator: `@drawing("lane.section")` in calc/drawings/<chapter>.py."""

import importlib
from collections.abc import Callable
from typing import Any

_drawings = {}


def drawing(id: str) -> Callable[..., Any]:
    """Name a function without parameters that returns a Drawing."""

    def register(function: Callable[..., Any]) -> Callable[..., Any]:
        _drawings[id] = function
        return function

    return register


def find_drawing(id: str) -> Any:
    """The Drawing of that id; KeyError when there is none."""
    importlib.import_module(f"calc.drawings.{id.split('.')[0]}")
    return _drawings[id]()


def figure(id: str) -> Any:
    """A chapter's drawing as HTML."""
    from calc.page.figure import drawing_html

    return drawing_html(find_drawing(id))
