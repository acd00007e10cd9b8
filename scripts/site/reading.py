"""What stands in docs/: the order of reading (the nav of mkdocs.yml, less what does not exist, plus what it forgot),
and what fences set.
"""

import re
import shlex
from pathlib import Path

CALCULATOR_FENCE = re.compile(r"^ *```calculator\s*\n(.*?)^ *```", re.MULTILINE | re.DOTALL)

UNLISTED = {"missing.md"}
"""Pages that nobody reads in order."""


def existing(entries, docs):
    """The same nav without pages that are not there."""
    kept = []
    for entry in entries:
        title, target = next(iter(entry.items())) if isinstance(entry, dict) else (None, entry)
        if isinstance(target, list):
            inside = existing(target, docs)
            if inside:
                kept.append({title: inside})
        elif (docs / target).is_file():
            kept.append(entry)
    return kept


def named(entries):
    """Every page that a nav names."""
    for entry in entries:
        target = next(iter(entry.values())) if isinstance(entry, dict) else entry
        if isinstance(target, list):
            yield from named(target)
        else:
            yield target


def forgotten(entries, docs):
    """Pages on disk that the nav does not name."""
    known = set(named(entries))
    return sorted(
        page
        for page in (path.relative_to(docs).as_posix() for path in Path(docs).rglob("*.md"))
        if page not in known | UNLISTED
    )


def order(entries, docs):
    """The nav to build with: forgotten pages go to the end of the chapter that has their folder."""
    nav = existing(entries, docs)
    for page in forgotten(entries, docs):
        folder = page.split("/")[0] + "/"
        chapter = next(
            (
                next(iter(entry.values()))
                for entry in nav
                if isinstance(entry, dict)
                and isinstance(next(iter(entry.values())), list)
                and any(name.startswith(folder) for name in named([entry]))
            ),
            nav,
        )
        chapter.append(page)
    return nav


def words_and_values(fence):
    """Split `name key="value" …` into the bare words and the presets."""
    words, presets = [], {}
    for part in shlex.split(fence):
        key, equals, value = part.partition("=")
        if equals:
            presets[key] = value
        else:
            words.append(part)
    return words, presets


def presets(docs):
    """[(calculator, {input: text})] of the fences that set something: a farm's defaults have to go with them."""
    found = []
    for page in sorted(docs.rglob("*.md")):
        for fence in CALCULATOR_FENCE.findall(page.read_text(encoding="utf-8")):
            words, given = words_and_values(fence.strip())
            if given and words:
                found.append((words[0], given))
    return found
