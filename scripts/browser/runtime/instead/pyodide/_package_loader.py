"""Stands in for Pyodide's loader of packages: all that is ever imported lies in the one library.

What the runtime script asks of it at its start is kept.
"""

from site import getsitepackages


class Place:
    """As much of a path as is asked for: its text."""

    def __init__(self, text):
        self.text = text

    def __str__(self):
        return self.text


SITE_PACKAGES = Place(getsitepackages()[0])
DSO_DIR = Place("/usr/lib")


def init_loaded_packages():
    pass
