"""The decorators that make a calculator of a plain function, and the one list of those that exist."""

import functools
import importlib
import inspect
import re
import sys
from collections.abc import Callable, Collection, Mapping
from dataclasses import fields
from difflib import get_close_matches
from math import inf
from types import MappingProxyType, UnionType
from typing import Any, Generic, ParamSpec, Protocol, TypedDict, TypeVar, Union, cast, get_args, get_origin

from calc.engine.describe import Band, Input, Number, Output, Refused, Show, Trace, as_written, drop_replaced
from calc.engine.read import read_inputs

ROOMS = {"drawings", "engine", "facts", "page"}
"""Packages of calc that are no chapters. A calculator `lane.starter` lives in the chapter `calc.lane`."""

_registered: dict[str, "Calculator"] = {}
_INVENTED = re.compile(r"\s*[^.]*\binvented\b[^.]*\.", re.IGNORECASE)
"""A sentence that says so of our default; it is not true of a farm's own."""


class Edition(TypedDict):
    """A farm's own defaults, as use_edition takes them."""

    values: dict[str, Mapping[str, Any]]
    system: str | None
    currency: str
    chapters: Collection[str] | None


_edition: Edition = {"values": {}, "system": None, "currency": "$", "chapters": None}


class Calculator:
    """A pure function with what its annotations say about it."""

    def __init__(
        self,
        id: str,
        question: str,
        function: Callable[..., Any],
        samples: int = 1000,
        page: str = "",
        leads: Mapping[str, Mapping[str, str]] | None = None,
        blanks: Callable[..., Any] | None = None,
    ) -> None:
        self.id, self.question, self.function, self.samples, self.blanks = id, question, function, samples, blanks
        self.page = page or id.replace(".", "/").replace("_", "-") + ".html"
        self.leads = leads or {}
        self.show: Callable[[Any], Show] | None = None

    @functools.cached_property
    def inputs(self) -> dict[str, Input]:
        """{name: description} in the order of the form."""
        return {
            name: _description(p.annotation, f"{self.id}: {name}")
            for name, p in inspect.signature(self.function).parameters.items()
        }

    @functools.cached_property
    def own_defaults(self) -> dict[str, Any]:
        """{name: SI value} as the function has them."""
        return {name: p.default for name, p in inspect.signature(self.function).parameters.items()}

    @functools.cached_property
    def defaults(self) -> dict[str, Any]:
        """{name: SI value}: those of a farm's edition where it has some, else the function's own."""
        texts = _edition["values"].get(self.id)
        if not texts:
            return self.own_defaults
        return read_inputs(self, texts, _edition["system"], _edition["currency"], self.own_defaults)

    def set_by_farm(self, name: str) -> bool:
        """Whether an edition's own value stands in place of an input's default."""
        return name in _edition["values"].get(self.id, ())

    def help_of(self, name: str) -> str:
        """The help of an input; not that its default is invented, where it is a farm's own."""
        words = self.inputs[name].help
        return _INVENTED.sub("", words).strip() if self.set_by_farm(name) else words

    def in_edition(self) -> bool:
        """Whether the chapter of its page is kept: an edition may leave chapters out."""
        return chapter_in_edition(self.page.split("/")[0])

    @functools.cached_property
    def answer_class(self) -> type[Any]:
        return cast(type[Any], inspect.signature(self.function).return_annotation)

    @functools.cached_property
    def numeric_inputs(self) -> dict[str, Number]:
        """{name: description} of the inputs that are numbers."""
        return {name: cast(Number, item) for name, item in self.inputs.items() if item.movable}

    @functools.cached_property
    def outputs(self) -> dict[str, Output]:
        """{name: Output} in the order of the answer."""
        found = {f.name: _description(f.type, f"{self.id}: {f.name}") for f in fields(self.answer_class)}
        return {name: description for name, description in found.items() if not isinstance(description, Trace)}

    @functools.cached_property
    def numeric_outputs(self) -> list[str]:
        """Names of the outputs that are numbers (yes and no count as 1 and 0), not words, dates or lists."""
        kinds = {f.name: cast(Any, f.type).__origin__ for f in fields(self.answer_class) if f.name in self.outputs}
        return [name for name, kind in kinds.items() if {int, float, bool, Band} & _either(kind)]

    def without_counting(self, output: str) -> dict[str, int]:
        """{input: 0} for the draws that an output does not hang on: asked for alone, it is answered without them."""
        counters = {described.counted_by for described in self.outputs.values()} - {"", self.outputs[output].counted_by}
        return dict.fromkeys(counters, 0)


def _either(kind: Any) -> set[Any]:
    """The kinds that a result may be of: `float | None` is either, a list of floats is one kind of its own."""
    return set(get_args(kind)) if get_origin(kind) in (Union, UnionType) else {kind}


def _description(annotation: Any, where: str) -> Any:
    metadata = getattr(annotation, "__metadata__", None)
    if not metadata:
        raise TypeError(f"{where} carries no description: annotate it with Annotated[type, …]")
    return metadata[0]


P = ParamSpec("P")
A_co = TypeVar("A_co", covariant=True)
F = TypeVar("F", bound=Callable[..., Any])


class Calculates(Protocol, Generic[P, A_co]):
    """A calculator as Python code calls it: the function that checks its bounds, with what is known of it."""

    calculator: Calculator

    def __call__(self, *args: P.args, **kwargs: P.kwargs) -> A_co: ...


def calculator(
    id: str,
    question: str,
    samples: int = 1000,
    page: str = "",
    leads: Mapping[str, Mapping[str, str]] | None = None,
    blanks: Callable[[Mapping[str, Any]], dict[str, float]] | None = None,
) -> Callable[[Callable[P, A_co]], Calculates[P, A_co]]:
    """Make a calculator of a pure function that takes SI numbers and returns an Answer.

    Called plainly from Python the function checks its bounds first and raises Refused; the engine, which has checked
    them already, calls the bare function. samples: draws of its range, fewer for a function that is itself a
    simulation.
    page: where it stands, unless that follows from its id. leads: the questions that come next, each with what is
    handed over to it: {calculator: {its input: an output or input of this one}}; `{}` hands nothing over. The first is
    the *Next* of its page too; a name without a dot is a chapter, whose first page has no calculator. blanks: a
    function from the values given to {input: the number that is reckoned with where it is blank}, so that it can be
    moved from there.
    """

    def register(function: Callable[P, A_co]) -> Calculates[P, A_co]:
        entry = Calculator(id, question, function, samples, page, leads, blanks)
        _registered[id] = entry

        @functools.wraps(function)
        def checked(*args: P.args, **values: P.kwargs) -> A_co:
            bound = inspect.signature(function).bind(*args, **values)
            given = drop_replaced(entry.inputs, dict(bound.arguments))
            problems = [(name, told) for name, value in given.items() if (told := entry.inputs[name].outside(value))]
            if problems:
                raise Refused(problems)
            return function(**given)  # type: ignore[call-arg]  # the arguments that came, by their names

        made = cast(Calculates[P, A_co], checked)
        made.calculator = entry
        return made

    return register


def with_inputs_of(other: Calculates[..., Any]) -> Callable[[Callable[..., A_co]], Callable[..., A_co]]:
    """Let a calculator ask for everything that another one asks for, described once, there.

    Under @calculator. The function takes them as keywords (`**others`); they stand after its own inputs, before its
    keyword-only ones.
    """
    asked = list(inspect.signature(other.calculator.function).parameters.values())
    defaults = {parameter.name: parameter.default for parameter in asked}

    def widen(function: Callable[..., A_co]) -> Callable[..., A_co]:
        @functools.wraps(function)
        def widened(*args: Any, **values: Any) -> A_co:
            return function(*args, **{**defaults, **values})

        own = inspect.signature(function)
        kinds = {
            kind: [p for p in own.parameters.values() if p.kind is kind]
            for kind in (inspect.Parameter.POSITIONAL_OR_KEYWORD, inspect.Parameter.KEYWORD_ONLY)
        }
        first, last = kinds.values()
        widened.__signature__ = own.replace(parameters=[*first, *asked, *last])  # type: ignore[attr-defined]
        return widened

    return widen


NOTHING: Mapping[str, Any] = MappingProxyType({})
"""What `asked` stands at in a signature; the function always gets all."""


def told_all(function: Callable[P, A_co]) -> Callable[P, A_co]:
    """Let a calculator's function have all that was asked, by name, as its last keyword `asked`, which is no input.

    Under @calculator, over what widens its form. For functions that hand the whole form on.
    """
    own = inspect.signature(function)
    inputs = [parameter for name, parameter in own.parameters.items() if name != "asked"]
    names, defaults = [p.name for p in inputs], {p.name: p.default for p in inputs}

    @functools.wraps(function)
    def told(*args: P.args, **values: P.kwargs) -> A_co:
        asked = {**defaults, **dict(zip(names, args)), **values}
        return function(**asked, asked=asked)  # type: ignore[arg-type,call-arg]  # all arguments, by their names

    told.__signature__ = own.replace(parameters=inputs)  # type: ignore[attr-defined]
    return told


def presents(function: Calculates[..., Any]) -> Callable[[F], F]:
    """Attach the presenter of a calculator: a function of a View that returns a Show."""

    def attach(presenter: F) -> F:
        function.calculator.show = presenter
        return presenter

    return attach


def chapter_in_edition(chapter: str) -> bool:
    """Whether a chapter is kept: an edition may leave chapters out."""
    return _edition["chapters"] is None or chapter in _edition["chapters"]


def use_edition(
    values: Mapping[str, Mapping[str, Any]] | None = None,
    system: str | None = None,
    currency: str = "$",
    chapters: Collection[str] | None = None,
) -> None:
    """A farm's own defaults from here on, in place of the functions' own: {calculator: {input: text, number or list}}.

    They are read when they are first needed, in that system of units, as if a reader had typed them. chapters: folders
    of the pages that the edition keeps, None for all. Without values: back to the functions' own.
    """
    _edition.update({"values": dict(values or {}), "system": system, "currency": currency, "chapters": chapters})
    for entry in _registered.values():
        entry.__dict__.pop("defaults", None)


def edition() -> Edition:
    """The values, system and currency that are in use, as use_edition takes them."""
    return _edition.copy()


def find(id: str) -> Calculator:
    """The calculator of that id; Refused, naming the nearest, when there is none."""
    chapter = id.split(".", maxsplit=1)[0]
    if id not in _registered and chapter.isidentifier() and chapter not in ROOMS:
        _load(chapter)
    if id not in _registered:
        known = list(every())
        near = get_close_matches(as_written(id), known, n=1, cutoff=0.5)
        there = f" The nearest is {near[0]}." if near else f" There are: {', '.join(known)}."
        if id not in _registered:
            raise Refused([(None, f"There is no calculator “{as_written(id)}”.{there}")])
    return _registered[id]


def every() -> dict[str, Calculator]:
    """{id: Calculator}, all of them, chapter by chapter."""
    return {id: entry for chapter in _chapters() for id, entry in _registered.items() if id.startswith(chapter + ".")}


@functools.cache
def _chapters() -> list[str]:
    """The chapters in the order of their places, with all that they hold imported; one without a place comes last."""
    there = {name for name, package in _inside("calc") if package}
    there |= {name.split(".")[1] for name in sys.modules if name.startswith("calc.") and name.count(".") == 2}
    found = sorted(there - ROOMS)
    for chapter in found:
        _load(chapter)
        for module, _ in _inside(f"calc.{chapter}"):
            _load(f"{chapter}.{module}")
    return sorted(found, key=lambda chapter: (getattr(sys.modules[f"calc.{chapter}"], "PLACE", inf), chapter))


def _load(name: str) -> None:
    """Import a chapter, or a module of one, where there is such."""
    try:
        importlib.import_module(f"calc.{name}")
    except ModuleNotFoundError as missing:
        if missing.name != f"calc.{name}":
            raise


def _inside(package: str) -> list[tuple[str, bool]]:
    """What a package holds: names, and whether each is itself a package."""
    import pkgutil

    path = getattr(sys.modules[package], "__path__", ())
    return sorted((module.name, module.ispkg) for module in pkgutil.iter_modules(path))
