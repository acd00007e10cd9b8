"""The decorators that make a calculator of a plain function, and the one list of those that exist."""

import functools
import importlib
import inspect
from dataclasses import fields
from difflib import get_close_matches
from typing import get_args

from calc.engine.describe import Band, Number, Refused, as_written, drop_replaced
from calc.engine.read import read_inputs

# The chapters that hold calculators, in reading order. A calculator `lane.starter` lives in `calc.lane`.
CHAPTERS = ("lane", "feed", "moisture", "climate", "harvest", "breeding", "economics", "garden", "records")
_registered = {}
_edition = {"values": {}, "system": None, "currency": "$", "chapters": None}  # a farm's own defaults, see use_edition


class Calculator:
    """A pure function with what its annotations say about it."""

    def __init__(self, id, question, function, samples=1000, page="", leads=None, blanks=None):
        self.id, self.question, self.function, self.samples, self.blanks = id, question, function, samples, blanks
        self.page = page or id.replace(".", "/").replace("_", "-") + ".html"
        self.leads = leads or {}
        self.show = None

    @functools.cached_property
    def inputs(self):
        """{name: description} in the order of the form."""
        return {
            name: _description(p.annotation, f"{self.id}: {name}")
            for name, p in inspect.signature(self.function).parameters.items()
        }

    @functools.cached_property
    def own_defaults(self):
        """{name: SI value} as the function has them."""
        return {name: p.default for name, p in inspect.signature(self.function).parameters.items()}

    @functools.cached_property
    def defaults(self):
        """{name: SI value}: those of a farm's edition where it has some, else the function's own."""
        texts = _edition["values"].get(self.id)
        if not texts:
            return self.own_defaults
        return read_inputs(self, texts, _edition["system"], _edition["currency"], self.own_defaults)

    def set_by_farm(self, name):
        """Whether an edition's own value stands in place of an input's default."""
        return name in _edition["values"].get(self.id, ())

    def in_edition(self):
        """Whether the chapter of its page is kept: an edition may leave chapters out."""
        return _edition["chapters"] is None or self.page.split("/")[0] in _edition["chapters"]

    @functools.cached_property
    def answer_class(self):
        return inspect.signature(self.function).return_annotation

    @functools.cached_property
    def outputs(self):
        """{name: Output} in the order of the answer."""
        return {f.name: _description(f.type, f"{self.id}: {f.name}") for f in fields(self.answer_class)}

    @functools.cached_property
    def numeric_outputs(self):
        """Names of the outputs that are numbers (yes and no count as 1 and 0), not words, dates or lists."""
        kinds = {f.name: f.type.__origin__ for f in fields(self.answer_class)}
        return [name for name, kind in kinds.items() if {int, float, bool, Band} & set(get_args(kind) or [kind])]

    def without_counting(self, output):
        """{input: 0} for the draws that an output does not hang on: asked for alone, it is answered without them."""
        counters = {described.counted_by for described in self.outputs.values()} - {"", self.outputs[output].counted_by}
        return dict.fromkeys(counters, 0)


def _description(annotation, where):
    metadata = getattr(annotation, "__metadata__", None)
    if not metadata:
        raise TypeError(f"{where} carries no description: annotate it with Annotated[type, …]")
    return metadata[0]


def calculator(id, question, samples=1000, page="", leads=None, blanks=None):
    """Make a calculator of a pure function that takes SI numbers and returns an Answer.

    Called plainly from Python the function checks its bounds first and raises Refused; the engine, which has checked them
    already, calls the bare function. samples: draws of its range, fewer for a function that is itself a simulation.
    page: where it stands, unless that follows from its id. leads: the questions that come next, each with what is handed
    over to it: {calculator: {its input: an output or input of this one}}; `{}` hands nothing over. blanks: a function from
    the values given to {input: the number that is reckoned with where it is blank}, so that it can be moved from there.
    """

    def register(function):
        entry = Calculator(id, question, function, samples, page, leads, blanks)
        _registered[id] = entry

        @functools.wraps(function)
        def checked(*args, **values):
            bound = inspect.signature(function).bind(*args, **values)
            given = drop_replaced(entry.inputs, dict(bound.arguments))
            problems = [
                (
                    name,
                    (
                        f"{entry.inputs[name].label} must be between {entry.inputs[name].low:g} and"
                        f" {entry.inputs[name].high:g} {entry.inputs[name].unit}."
                    ),
                )
                for name, value in given.items()
                if isinstance(entry.inputs[name], Number)
                and value is not None
                and not _within(value, entry.inputs[name])
            ]
            if problems:
                raise Refused(problems)
            return function(**given)

        checked.calculator = entry
        return checked

    return register


def with_inputs_of(other):
    """Let a calculator ask for everything that another one asks for, described once, there.

    Under @calculator. The function takes them as keywords (`**others`); they stand after its own inputs, before its keyword-only ones.
    """
    asked = list(inspect.signature(other.calculator.function).parameters.values())
    defaults = {parameter.name: parameter.default for parameter in asked}

    def widen(function):
        @functools.wraps(function)
        def widened(*args, **values):
            return function(*args, **{**defaults, **values})

        own = inspect.signature(function)
        kinds = {
            kind: [p for p in own.parameters.values() if p.kind is kind]
            for kind in (inspect.Parameter.POSITIONAL_OR_KEYWORD, inspect.Parameter.KEYWORD_ONLY)
        }
        first, last = kinds.values()
        widened.__signature__ = own.replace(parameters=[*first, *asked, *last])
        return widened

    return widen


def _within(value, description):
    try:
        return description.low <= value <= description.high
    except TypeError:
        return False


def presents(function):
    """Attach the presenter of a calculator: a function of a View that returns a Show."""

    def attach(presenter):
        function.calculator.show = presenter
        return presenter

    return attach


def use_edition(values=None, system=None, currency="$", chapters=None):
    """A farm's own defaults from here on, in place of the functions' own: {calculator: {input: text, number or list}}.

    They are read when they are first needed, in that system of units, as if a reader had typed them. chapters: folders of the
    pages that the edition keeps, None for all. Without values: back to the functions' own.
    """
    _edition.update(values=dict(values or {}), system=system, currency=currency, chapters=chapters)
    for entry in _registered.values():
        entry.__dict__.pop("defaults", None)


def edition():
    """The values, system and currency that are in use, as use_edition takes them."""
    return dict(_edition)


def find(id):
    """The calculator of that id; Refused, naming the nearest, when there is none."""
    chapter = id.split(".")[0]
    if chapter in CHAPTERS:
        _load(chapter)
    if id not in _registered:
        known = list(every())
        near = get_close_matches(as_written(id), known, n=1, cutoff=0.5)
        raise Refused(
            [
                (
                    None,
                    f"There is no calculator “{as_written(id)}”."
                    + (f" The nearest is {near[0]}." if near else f" There are: {', '.join(known)}."),
                )
            ]
        )
    return _registered[id]


def every():
    """{id: Calculator}, all of them, chapter by chapter."""
    for chapter in CHAPTERS:
        _load(chapter)
    return {id: entry for chapter in CHAPTERS for id, entry in _registered.items() if id.startswith(chapter + ".")}


def _load(chapter):
    name = f"calc.{chapter}"
    try:
        importlib.import_module(name)
    except ModuleNotFoundError as missing:
        if missing.name != name:
            raise
