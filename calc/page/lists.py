"""The method page's lists: every coefficient and every source, read off calc/facts."""

import importlib
import pkgutil
from html import escape
from itertools import groupby
from types import ModuleType
from typing import Any

import calc.facts
from calc.engine.quantity import number_text, symbol
from calc.facts.base import SEEN, SURE, Fact, Points, Source
from calc.page.materials import materials_table


def modules() -> dict[str, ModuleType]:
    """{name: module} of calc/facts, apart from its vocabulary."""
    names = sorted(
        module.name for module in pkgutil.iter_modules(calc.facts.__path__) if module.name not in ("base", "sources")
    )
    return {name: importlib.import_module(f"calc.facts.{name}") for name in names}


def facts_of(module: ModuleType) -> list[Fact | Points]:
    """Every Fact and every set of Points that a module holds, in its order, each once."""
    found: list[Fact | Points] = []
    for value in vars(module).values():
        if isinstance(value, (Fact, Points)):
            found.append(value)
        elif isinstance(value, dict):
            found += [item for item in value.values() if isinstance(item, (Fact, Points))]
        elif isinstance(value, (tuple, list)):
            found += [item for item in value if isinstance(item, (Fact, Points))]
    return list({id(item): item for item in found}.values())


def facts_table(chapter: str = "") -> str:
    """Every coefficient of a chapter (all without one): low, typical, high, unit, source, how sure."""
    if chapter == "materials":
        return materials_table()
    wanted = modules() if not chapter else {chapter: modules()[chapter]}
    rows = [_rows(item) for module in wanted.values() for item in facts_of(module)]
    head = "".join(
        f"<th scope=col>{text}</th>" for text in ("Figure", "Low", "Typical", "High", "Unit", "Source", "How sure")
    )
    return (
        '<div class="calc-scroll" tabindex="0" role="group" aria-label="Coefficients"><table'
        f' class="calc-facts"><thead><tr>{head}</tr></thead><tbody>{"".join(rows)}</tbody></table></div>'
    )


def _work(source: Source | None) -> str:
    """The name of a work; none for what only the last column says, such as common practice."""
    return escape(str(source)) if source and source.title else "none"


SERIES = 4
"""So many points of one source and one kind stand in one row."""


def _rows(item: Fact | Points) -> str:
    if isinstance(item, Points):
        alike = groupby((point[:4] for point in item.points), key=lambda point: point[2:])
        return "".join(_points_rows(item, list(points), source, sure) for (source, sure), points in alike)
    low, high = (number_text(end, 4) for end in ends) if (ends := item.ends()) else ("", "")
    middle = number_text(item.typical, 4)
    note = f"<br><small>{escape(item.note)}</small>" if item.note else ""
    return (
        f"<tr><th scope=row>{escape(item.label)}{note}</th><td>{low}</td><td>{middle}</td><td>{high}</td>"
        f"<td>{escape(symbol(item.unit))}</td>"
        f"<td>{_work(item.source)}</td><td>{escape(SURE[item.sure])}</td></tr>"
    )


def _points_rows(item: Points, points: list[tuple[Any, ...]], source: Source | None, sure: str) -> str:
    """Points that one work gives for one thing: a row each, or a row together with the values below its name."""
    seen = f"<td>{_work(source)}</td><td>{escape(SURE.get(sure, sure))}</td>"
    unit = escape(symbol(item.x_unit))
    if len(points) < SERIES:
        return "".join(
            f"<tr><td>{escape(item.label)} at {number_text(x)} {unit}</td><td></td><td>{number_text(y)}</td><td></td>"
            f"<td>{escape(symbol(item.y_unit))}</td>{seen}</tr>"
            for x, y, *_ in points
        )
    listed = "; ".join(
        f"{f'day {number_text(x)}' if unit == 'day' else f'at {number_text(x)} {unit}'.rstrip()}: {number_text(y)}"
        for x, y, *_ in points
    )
    return (
        f"<tr><th scope=row>{escape(item.label)}<br><small>{listed}</small></th><td></td><td>{len(points)} values</td>"
        f"<td></td><td>{escape(symbol(item.y_unit))}</td>{seen}</tr>"
    )


def sources_list(chapter: str = "") -> str:
    """The works named in calc/facts, alphabetically."""
    from calc.facts import sources

    works = {value for value in vars(sources).values() if isinstance(value, Source) and value.work}
    items = "".join(
        f"<li><strong>{escape(source.name.removesuffix('.'))}.</strong> <cite>{escape(source.work)}</cite>."
        f' <small class="calc-seen">{escape(SEEN[source.seen].capitalize())}.</small></li>'
        for source in sorted(works, key=lambda s: s.name.lower())
    )
    return f'<ul class="calc-sources">{items}</ul>'
