"""Figures of calculators quoted in prose: `[[lane.starter startup_cost]]` is what that page answers at its defaults.

A chapter that quotes a figure so never says another one than the page itself. A measure stands in both systems, as
prose
has it: `23 lb (11 kg)`. Words after the name change inputs (`lane_length="6 ft"`) or ask for more: `range` adds the low
and the high, `in=month` gives another unit, `whole` leaves the digits after the point away.
"""

import functools
import re

import fences
import measures
import reading
from markdown import Extension, Markdown
from markdown.preprocessors import Preprocessor

import calc.page  # noqa: F401  (calculators answer through the page's own door)
from calc.engine.quantity import convert, money_text, number_text, symbol, with_symbol
from calc.engine.run import answer
from calc.engine.view import View, ranged_text

QUOTED = re.compile(r"\[\[([a-z_]+\.[a-z_]+) ([a-z_]+)((?: [^\]]+)?)\]\]")


UNTOLD = "what cannot be told here"
"""In a farm's own copy, where its values have no such figure: a lane that freezes has no day of the first slice. In the
handbook itself that stops the build.
"""


@functools.lru_cache(maxsize=64)
def _view(id: str, presets: tuple[tuple[str, str], ...], units: str, currency: str) -> View:
    return answer(id, dict(presets), units, currency)


def _said(view: View, name: str, asked: list[str], unit: str) -> str:
    output = view.entry.outputs[name]
    value = view.results[name]
    if value is None and view.entry.defaults != view.entry.own_defaults:
        return UNTOLD
    if unit or "whole" in asked:
        unit = unit or output.shown(view.system)
        shown = [
            round(convert(end, output.unit, unit)) if "whole" in asked else convert(end, output.unit, unit)
            for end in ((value.value, value.low, value.high) if "range" in asked else (getattr(value, "value", value),))
        ]
        digits = 9 if "whole" in asked else 2
        middle, *ends = (number_text(end, digits) for end in shown)
        said = (
            money_text(shown[0], view.currency).removesuffix(".00")
            if unit == "money"
            else with_symbol(middle, symbol(unit, view.currency))
        )
        return f"{said} ({' to '.join(ends)})" if ends else said
    if "range" in asked:
        return ranged_text(value, output, view.system, view.currency)
    return view.output_text(name, ranged=False)


def figure(id: str, name: str, more: str, units: str = "us", currency: str = "$") -> list[str]:
    """The figure in words: once, or in both systems where they differ, the page's own first."""
    words, presets = reading.words_and_values(more.strip())
    unit = presets.pop("in", "")
    other = "metric" if units == "us" else "us"
    texts = [
        _said(_view(id, tuple(sorted(presets.items())), system, currency), name, words, unit)
        for system in (units, other)
    ]
    return [texts[0]] if texts[0] == texts[1] else [texts[0], texts[1].replace(" (", ", ").replace(")", "")]


def quoted(id: str, name: str, more: str, units: str = "us", currency: str = "$") -> str:
    """The figure as plain text: `23 lb (11 kg)`."""
    first, *second = figure(id, name, more, units, currency)
    return f"{first} ({second[0]})" if second else first


class Quoting(Preprocessor):
    """Puts the figures into the lines of a chapter before anything else reads them, search included."""

    def run(self, lines: list[str]) -> list[str]:
        return [QUOTED.sub(self._figure, line) for line in lines]

    @staticmethod
    def _figure(found: re.Match[str]) -> str:
        try:
            first, *second = figure(found[1], found[2], found[3], fences.UNITS, fences.CURRENCY)
            return measures.pair(fences.UNITS, first, second[0]) if second else first
        except Exception as error:  # the build stops and names what cannot be quoted
            raise ValueError(f"{found[0]} cannot be quoted: {error}") from error


class QuotedFigures(Extension):
    def extendMarkdown(self, md: Markdown) -> None:
        _view.cache_clear()  # a farm's edition has other defaults
        md.preprocessors.register(Quoting(md), "quoted", 100)


def makeExtension(**options: object) -> QuotedFigures:
    """What Python-Markdown asks a module for."""
    return QuotedFigures(**options)
