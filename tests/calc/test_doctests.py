"""Every example in a docstring of calc is run."""

import doctest
import importlib
import pkgutil

import pytest

import calc

MODULES = [info.name for info in pkgutil.walk_packages(calc.__path__, "calc.") if not info.name.endswith("__main__")]


@pytest.mark.parametrize("name", MODULES)
def test_examples(name):
    found = doctest.testmod(importlib.import_module(name))
    assert found.failed == 0


def test_there_are_examples():
    assert sum(doctest.testmod(importlib.import_module(name)).attempted for name in MODULES) > 60
