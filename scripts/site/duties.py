"""What a calculator owes beside its function: a fence on a page that the nav names, a published value, a property test.

Read off the files, so that it needs no build: `scripts/test --quick` tells everything that is lacking, each with what
to do.
"""

import ast
import re
import sys
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import bootstrap
import published
import reading

from calc.engine.register import Calculator

DOCS, TESTS = bootstrap.ROOT / "docs", bootstrap.ROOT / "tests" / "calc"


def unmet(entry: Calculator) -> list[str]:
    """Each duty that a calculator leaves unmet, in words that say what to do."""
    return [*_function(entry), *_page(entry), *_published(entry), *_tested(entry)]


def _function(entry: Calculator) -> Iterator[str]:
    chapter = entry.id.split(".", maxsplit=1)[0]
    name = entry.function.__name__
    if name not in getattr(sys.modules[f"calc.{chapter}"], "__all__", ()):
        yield f"import {name} in calc/{chapter}/__init__.py and name it in __all__: others call it from there"
    if not entry.question.endswith("?"):
        yield f"its question ends with a question mark, not: {entry.question}"
    if "ource" not in (entry.function.__doc__ or ""):
        yield "its docstring says where the equations come from: Source: …"


def _page(entry: Calculator) -> Iterator[str]:
    wanted = entry.page.removesuffix(".html") + ".md"
    standing = sorted(page for page, ids in fences().items() if entry.id in ids)
    if not standing:
        yield f"put a fence on docs/{wanted}: ```calculator, a line with {entry.id}, ```"
    elif wanted not in standing:
        stands = standing[0].removesuffix(".md") + ".html"
        yield f"it stands on docs/{standing[0]}; say so where it is defined: @calculator(…, page={stands!r})"
    if standing and not named() & set(standing):
        yield f"name {standing[0]} in the nav of mkdocs.yml, where a year asks its question"


def _published(entry: Calculator) -> Iterator[str]:
    chapter = entry.id.split(".", maxsplit=1)[0]
    if published.without().get(entry.id):
        return
    if not any(known.get("run") == entry.id or _module(known) in reach(entry) for _, known in values()):
        yield (
            f"hold it against a published value: an entry of tests/published/{chapter}.yml with an id of its own,"
            f" run: {entry.id}, and what the entries beside it say; or say there why nothing is published: nothing:"
            f" {entry.id}, why: …"
        )


def _tested(entry: Calculator) -> Iterator[str]:
    chapter = entry.id.split(".", maxsplit=1)[0]
    modules = reach(entry)
    if not any(entry.id in texts or modules & used for texts, used in properties()):
        yield f"say its physics in a property test (@given) of tests/calc/test_{chapter}.py"


# ---- what the files hold


@cache
def fences() -> dict[str, set[str]]:
    """{page: the calculators on it}."""
    return {
        path.relative_to(DOCS).as_posix(): {
            reading.words_and_values(source)[0][0]
            for source in reading.CALCULATOR_FENCE.findall(path.read_text(encoding="utf-8"))
        }
        for path in sorted(DOCS.rglob("*.md"))
    }


@cache
def named() -> set[str]:
    """The pages of the nav."""
    text = (bootstrap.ROOT / "mkdocs.yml").read_text(encoding="utf-8")
    return set(re.findall(r"[\w/-]+\.md\b", text[text.index("\nnav:") :]))


@cache
def values() -> tuple[tuple[str, dict], ...]:
    return tuple(published.entries())


def _module(known: dict) -> str:
    return known.get("call", "").rpartition(".")[0]


def reach(entry: Calculator) -> set[str]:
    """The module of a calculator, and those of calculations that it works with."""
    own = entry.function.__module__
    return {own} | {name for name in imported(Path(sys.modules[own].__file__ or "")) if calculates(name)}


def calculates(name: str) -> bool:
    """Whether a module holds calculations, not vocabulary, figures or pictures."""
    return name.startswith("calc.") and name.split(".")[1] not in {"engine", "facts", "page", "drawings", "inputs"}


@cache
def imported(path: Path) -> set[str]:
    """Modules that a file imports, also as names of their packages."""
    found = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            found |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module:
            found |= {node.module} | {f"{node.module}.{alias.name}" for alias in node.names}
        elif isinstance(node, ast.Constant) and isinstance(node.value, str) and node.value.startswith("calc."):
            found.add(node.value)
    return found


@cache
def properties() -> tuple[tuple[set[str], set[str]], ...]:
    """(ids named, modules of calculations used) of every file of tests that holds a property test."""
    found = []
    for path in sorted(TESTS.glob("test_*.py")):
        tree = ast.parse(path.read_text(encoding="utf-8"))
        given = [node for node in ast.walk(tree) if isinstance(node, ast.FunctionDef) and _is_property(node)]
        texts = {part.value for node in given for part in ast.walk(node) if isinstance(part, ast.Constant)}
        if given and path.name != "test_engine.py":
            found.append(({text for text in texts if isinstance(text, str)}, set(filter(calculates, imported(path)))))
    return tuple(found)


def _is_property(node: ast.FunctionDef) -> bool:
    return any(isinstance(one, ast.Call) and getattr(one.func, "id", "") == "given" for one in node.decorator_list)
