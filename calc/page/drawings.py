"""Drawings that stand in a chapter by themselves, without a calculator: `@drawing("lane.section")` in calc/drawings/<chapter>.py."""

import importlib

_drawings = {}


def drawing(id):
    """Name a function without parameters that returns a Drawing."""

    def register(function):
        _drawings[id] = function
        return function

    return register


def find_drawing(id):
    """The Drawing of that id; KeyError when there is none."""
    importlib.import_module(f"calc.drawings.{id.split('.')[0]}")
    return _drawings[id]()


def figure(id):
    """A chapter's drawing as HTML."""
    from calc.page.figure import drawing_html

    return drawing_html(find_drawing(id))
