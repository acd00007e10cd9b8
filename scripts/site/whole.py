"""The whole handbook as one page to print, made of the finished pages by scripts/browser/whole.mjs."""

import json
from html.parser import HTMLParser
from pathlib import Path
from typing import Any

import bootstrap
import finish

from calc.engine.kinds import Rows, Text

NAME = "print.html"


class Tables(HTMLParser):
    """{text of each table to fill in: its columns, headings and rows}, read by the reader of all tables."""

    def __init__(self) -> None:
        super().__init__()
        self.found: dict[str, dict[str, Any]] = {}
        self.columns: list[dict[str, str]] | None = None
        self.text = ""

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        columns = dict(attrs).get("data-columns")
        if tag == "textarea" and columns:
            self.columns, self.text = json.loads(columns), ""

    def handle_data(self, data: str) -> None:
        if self.columns is not None:
            self.text += data

    def handle_endtag(self, tag: str) -> None:
        if tag == "textarea" and self.columns is not None:
            table = Rows("Table", {column["name"]: Text(column["label"], optional=True) for column in self.columns})
            self.found[self.text] = table.grid(self.text).as_json()
            self.columns = None


def add(out: Path, node: Path) -> None:
    """Write the page.

    It comes after all others are finished, so that it stands neither in the search nor in the sitemap.
    """
    tables = Tables()
    for page in sorted(Path(out).rglob("*.html")):
        text = page.read_text(encoding="utf-8")
        if "data-columns=" in text:
            tables.feed(text)
            tables.close()
            tables.reset()
    command = [node, bootstrap.BROWSER / "whole.mjs", out, NAME, finish.policy(())]
    bootstrap.run(command, input=json.dumps(tables.found, ensure_ascii=False))
