"""The whole handbook as one page to print, made of the finished pages by scripts/browser/whole.mjs."""

import json
from pathlib import Path
from typing import Any

import bootstrap
import finish
import tree

from calc.engine.kinds import Rows, Text

NAME = "print.html"
BOOK = "handbook-book.pdf"
"""What `scripts/build --book` makes of that page (scripts/site/book.py)."""


def tables(site: Path) -> dict[str, dict[str, Any]]:
    """{text of each table to fill in: its columns, headings and rows}, read by the reader of all tables."""
    read = {}
    for page in tree.read(site):
        for area in page.all("textarea[data-columns]"):
            text = area.text()
            columns = {
                column["name"]: Text(column["label"], optional=True)
                for column in json.loads(area.attrs["data-columns"])
            }
            read[text] = Rows("Table", columns).grid(text).as_json()
    return read


def add(out: Path, node: Path) -> None:
    """Write the page.

    It comes after all others are finished, so that it stands neither in the search nor in the sitemap.
    """
    command = [node, bootstrap.BROWSER / "whole.mjs", out, NAME, finish.policy(())]
    bootstrap.run(command, input=json.dumps(tables(Path(out)), ensure_ascii=False))
