"""The kinds of marks are named once: what a figure may hold, what the page knows the axes of, what the drawer draws."""

import re
from typing import get_args

import bootstrap

from calc.engine.describe import MarkKind
from calc.page import figure


def test_every_kind_has_its_places():
    assert set(figure._PLACES) == set(get_args(MarkKind))


def test_the_drawer_knows_no_other_kind_and_lacks_none():
    sources = (bootstrap.BROWSER / "figure").glob("*.mjs")
    text = "\n".join(path.read_text(encoding="utf-8") for path in sources if path.name != "gallery.mjs")
    named = set(re.findall(r'"(\w+)"|\b(\w+)(?=[:(]| \()', text))
    words = {word for pair in named for word in pair}
    assert set(get_args(MarkKind)) - words == set()
    assert set(re.findall(r'kind === "(\w+)"', text)) <= set(get_args(MarkKind)) | {
        "time",
        "band",
        "linear",
        "log",
    }  # of axes
