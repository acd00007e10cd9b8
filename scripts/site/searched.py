"""Words that people search with and the text does not say: `data-search="dying dead"` on a heading.

Search finds the page or the part by them as if they stood in its title; they are not shown. Which search must find what
first stands in `tests/site/searches.txt`.
"""

import json
import re
from html import unescape
from pathlib import Path
from typing import Any

HEADING = re.compile(r"<h([1-6])(?=[^>]*\sdata-search=)([^>]*)>")
ATTRIBUTE = re.compile(r'\s(id|data-search)="([^"]*)"')


def words_of(out: Path) -> dict[str, list[str]]:
    """{place in the index: words} of every heading that has some."""
    found = {}
    for path in sorted(out.rglob("*.html")):
        for heading in HEADING.finditer(path.read_text(encoding="utf-8")):
            given = dict(ATTRIBUTE.findall(heading[2]))
            place = path.relative_to(out).as_posix() + ("" if heading[1] == "1" else f"#{given['id']}")
            found[place] = unescape(given["data-search"]).lower().split()
    return found


def add(out: Path) -> None:
    """Put the words into the index, in the file that is fetched and in the script that is read from disk."""
    words = words_of(out)
    path = out / "search" / "search_index.json"
    index: dict[str, Any] = json.loads(path.read_text(encoding="utf-8"))
    for entry in index["docs"]:
        if more := words.pop(entry["location"], None):
            entry["tags"] = more
    if words:
        raise ValueError(f"search knows no such place: {', '.join(sorted(words))}")
    text = json.dumps(index, ensure_ascii=False, separators=(",", ":"))
    path.write_text(text, encoding="utf-8")
    path.with_suffix(".js").write_text(f"var __index = {text}", encoding="utf-8")
