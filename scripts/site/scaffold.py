"""The files of a new calculator: its function, its page, its tests.

It answers at once; what only its author can know is
left open, and `scripts/test --quick` names it.
"""

import ast
import re
from pathlib import Path

FUNCTION = '''"""{title}: what it works out, in a sentence."""

from dataclasses import dataclass
from typing import Annotated

from calc.engine import Answer, Number, Output, Show, Step, View, calculator, presents


@dataclass(frozen=True)
class {answer}(Answer):
    volume: Annotated[float, Output("m3", "Volume", "What the result means to whoever reads it.", main=True)]


def {name}_volume(length: float, width: float, height: float) -> float:
    """Volume of a box [m³]; length, width, height [m].

    >>> {name}_volume(2.0, 1.5, 1.0)
    3.0
    """
    return length * width * height


@calculator("{id}", "{question}")
def {name}(
    length: Annotated[float, Number("m", "Length", 0.1, 100, help="What a beginner should measure.")] = 2.0,
    width: Annotated[float, Number("m", "Width", 0.1, 10)] = 1.5,
    height: Annotated[float, Number("m", "Height", 0.1, 3)] = 1.0,
) -> {answer}:
    """What comes back and how it is worked out.

    length, width, height [m].
    """
    return {answer}(volume={name}_volume(length, width, height))


@presents({name})
def show_{name}(v: View) -> Show:
    return Show(
        working=[Step("Volume", "{{volume}} = {{length}} × {{width}} × {{height}}", "geometry")],
        reading=[f"It holds {{v['volume']}}."],
    )
'''

PAGE = """---
title: {title}
description: {question} A sentence for whoever searches, of twenty-five letters or more.
---

# {question}

!!! abstract "What you need and what you get"
    **First:** a tape measure.
    **After this page** you know what it comes to.
    **This week:** measure once, and write it down.

```calculator
{id}
```
"""

TESTS = '''"""{title}: the physics that must hold whatever is typed."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

import calc
from calc.{chapter}.{name} import {name}, {name}_volume

lengths = st.floats(0.1, 3.0)


@given(lengths, lengths, lengths)
def test_twice_the_length_is_twice_the_volume(length, width, height):
    assert {name}_volume(2 * length, width, height) == pytest.approx(2 * {name}_volume(length, width, height))


def test_called_plainly_it_answers_as_it_runs():
    assert calc.run("{id}")["outputs"]["volume"]["value"] == pytest.approx({name}().volume)
'''


class Declined(ValueError):
    """What was asked for cannot be made; the message says why."""


def files(root: Path, id: str, question: str) -> dict[Path, str]:
    """{path: text} of every file to write or to change."""
    if not re.fullmatch(r"[a-z][a-z0-9_]*\.[a-z][a-z0-9_]*", id):
        raise Declined(f"Name it chapter.name in small letters, such as garden.heap, not “{id}”.")
    if not question.endswith("?"):
        raise Declined("A question ends with a question mark.")
    chapter, name = id.split(".")
    module = root / "calc" / chapter / f"{name}.py"
    if module.exists():
        raise Declined(f"{module.relative_to(root)} is there already.")
    words = {
        "id": id,
        "question": question,
        "chapter": chapter,
        "name": name,
        "answer": "".join(part.title() for part in name.split("_")),
        "title": name.replace("_", " ").capitalize(),
    }
    page = f"{chapter}/{name.replace('_', '-')}.md"
    return {
        module: FUNCTION.format(**words),
        root / "docs" / page: PAGE.format(**words),
        root / "tests" / "calc" / f"test_{chapter}_{name}.py": TESTS.format(**words),
        root / "calc" / chapter / "__init__.py": offered(root / "calc" / chapter / "__init__.py", chapter, name),
        root / "mkdocs.yml": listed((root / "mkdocs.yml").read_text(encoding="utf-8"), chapter, page),
    }


def offered(path: Path, chapter: str, name: str) -> str:
    """The chapter's front door with the new function in it; a new chapter comes last. Ruff puts it in order."""
    line = f"from calc.{chapter}.{name} import {name}\n"
    if not path.exists():
        told = f'"""{chapter.capitalize()}: what the chapter is about, in a sentence."""'
        place = 'PLACE = 1000\n"""Among the chapters, in the order of a year."""'
        return f'{told}\n\n{line}\n{place}\n\n__all__ = ["{name}"]\n'
    text = path.read_text(encoding="utf-8")
    exports = next(
        node
        for node in ast.parse(text).body
        if isinstance(node, ast.Assign) and ast.unparse(node.targets[0]) == "__all__"
    )
    names = sorted({*ast.literal_eval(exports.value), name})
    kept = text.splitlines(keepends=True)[: exports.lineno - 1]
    first = next(place for place, one in enumerate(kept) if one.startswith("from calc."))
    return "".join([*kept[:first], line, *kept[first:], f"__all__ = {names!r}\n"])


def listed(text: str, chapter: str, page: str) -> str:
    """mkdocs.yml with the page at the end of its chapter in the nav, or in a chapter of its own before the method."""
    pages = list(re.finditer(rf"^      - {chapter}/[\w-]+\.md\n", text, re.MULTILINE))
    if pages:
        end = pages[-1].end()
        return f"{text[:end]}      - {page}\n{text[end:]}"
    start = text.index("  - Your plan: plan.md\n")
    return f"{text[:start]}  - {chapter.capitalize()}:\n      - {page}\n{text[start:]}"
