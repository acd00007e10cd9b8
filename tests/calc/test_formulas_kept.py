"""What every formula gives for figures of all sorts: odd ones, none, and just those at which it asks "more or less?".

Every function of a chapter that takes plain numbers, texts, days, lists or records of them is called with seeded
figures, which its parameters' names make likely (a share lies between nothing and all), and with the very limits that
stand in its comparisons. formulas.txt keeps what came out, to nine digits; what changes there is a formula that
changed. `python tests/calc/test_formulas_kept.py` writes it anew; read the difference. Whether a formula is right is
told elsewhere, by published values and by hand: this tells that it is still the same, also where no default leads. A
new formula, or one that takes other things than it did, is let be until the text is written anew.
"""

import ast
import hashlib
import inspect
import math
import re
import sys
import textwrap
import types
import typing
import zlib
from collections import abc
from dataclasses import MISSING, fields, is_dataclass
from datetime import date, datetime, timedelta
from functools import cache
from importlib import import_module
from itertools import islice
from pathlib import Path

import pytest

import calc
from calc.facts.base import Fact

WRITTEN = Path(__file__).with_name("formulas.txt")
CHAPTERS = (
    "biology",
    "lane",
    "feed",
    "moisture",
    "climate",
    "harvest",
    "breeding",
    "economics",
    "garden",
    "records",
    "farm",
)
AS_THEY_COME, DRAWN, TRIES = 4, 10, 60
"""Calls of each function with figures that are drawn: whatever they are, of those that it takes, of so many tries."""
LONG = 240
"""Letters of a result that is kept as it is; of a longer one its beginning and a digest."""
LIKELY = (
    # what a name holds, and between what its figure lies
    (r"moisture|share|ash|humid|kept|shade|shelter|cover|effective|part|passing|survival|rate|hatch", 0.0, 1.0),
    (r"temperature|mean|bulb|dew|bed|air|warm|cold|high|low|hot|base|top|now", -12.0, 62.0),
    (r"density", 150.0, 1100.0),
    (r"ratio|carbon", 4.0, 90.0),
    (r"wind", 0.0, 9.0),
    (r"pressure", 60.0, 104.0),
    (r"latitude", -72.0, 72.0),
    (r"day|hour|week|month|time|age", 0.0, 365.0),
    (r"slope|angle", 0.1, 1.4),
)


def modules():
    """Modules of the chapters, by name."""
    root = Path(calc.__file__).parent
    for chapter in CHAPTERS:
        files = sorted((root / chapter).glob("*.py")) if (root / chapter).is_dir() else [root / f"{chapter}.py"]
        for file in files:
            name = ".".join(("calc", *file.relative_to(root).with_suffix("").parts)).removesuffix(".__init__")
            yield import_module(name)


def formulas():
    """{name: (function, {parameter: its kind})} of what can be called with plain figures, texts and days, and with
    records of them; of a record's methods its own figures come first. Private ones may change their meaning.
    """
    found = {}
    for module in modules():
        for name, item in vars(module).items():
            if (
                name.startswith("_")
                or getattr(item, "__module__", "") != module.__name__
                or f"{module.__name__}.{name}" in LEFT_OUT
            ):
                continue
            place = f"{module.__name__.removeprefix('calc.')}.{name}"
            if isinstance(item, type) and (is_dataclass(item) or hasattr(item, "_field_defaults")):
                found |= methods(place, item)
            elif not isinstance(item, type) and callable(item) and (takes := taken(inspect.unwrap(item))):
                found[place] = (item, takes)
    return {name: one for name, one in found.items() if name not in LEFT_OUT}


def methods(place, record):
    """The same of a record's properties and methods."""
    of = kind_of(record)
    found = {}
    for name, item in vars(record).items() if of else ():
        inside = item.fget if isinstance(item, property) else getattr(item, "func", item)
        if name.startswith("_") or not isinstance(inside, types.FunctionType):
            continue
        takes = taken(inside, whole=False)
        if takes is not None:
            found[f"{place}.{name}"] = (caller(item, name), {"of": of, **takes})
    return found


def caller(item, name):
    """A function that asks a record for a property, or calls its method."""
    if isinstance(item, types.FunctionType):
        return lambda of, **figures: getattr(of, name)(**figures)
    return lambda of: getattr(of, name)


LEFT_OUT = {
    "calc.lane.asked.lane_form",
    "climate.bed.changes",
    "climate.bed.cores_by_cover",
    "climate.decision.ways_of",
    "climate.bed.Scenario.core_course",
    "climate.bed.Scenario.core_extremes",
    "climate.heat.run_days",
    "lane.year.start_rows",
    "farm.week.feedings",
    "farm.week.slices",
}
"""Functions that make forms, and simulations that odd figures keep busy for too long."""


def taken(function, whole=True):
    """{parameter: its kind}, without those that may be left out; None where one of them can't be made up, or where
    there are none (but of a method, whose record is enough).
    """
    if not isinstance(function, types.FunctionType) or inspect.isgeneratorfunction(function):
        return None
    try:
        hints = typing.get_type_hints(function)
    except (NameError, TypeError):
        return None
    takes = {}
    for name, parameter in list(inspect.signature(function).parameters.items())[0 if whole else 1 :]:
        kind = None if parameter.kind in STARRED else kind_of(hints.get(name))
        if kind is None and (parameter.default is parameter.empty or parameter.kind in STARRED):
            return None
        if kind is not None:
            takes[name] = kind
    return takes if takes or not whole else None


STARRED = (inspect.Parameter.VAR_POSITIONAL, inspect.Parameter.VAR_KEYWORD)
PLAINLY = {float: "one", int: "whole", bool: "yes or no", str: "text", date: "day", datetime: "moment"}


@cache
def kind_of(hint):
    """How a figure of a type is made up: a word, the values of a choice, or the kinds of a record's fields."""
    parts = [part for part in typing.get_args(hint) if part is not type(None)]
    origin = typing.get_origin(hint)
    if hint in PLAINLY:
        return PLAINLY[hint]
    if origin is typing.Annotated:
        return kind_of(parts[0])
    if origin is typing.Literal:
        return tuple(parts)
    if origin in (types.UnionType, typing.Union) and len(parts) == 1:
        return kind_of(parts[0])
    if origin is tuple and parts and ... not in parts:
        kinds = [kind_of(part) for part in parts]
        return None if None in kinds else Each(tuple(kinds))
    if origin in (list, tuple, abc.Sequence) and parts and (kind := kind_of(parts[0])) is not None:
        return {"one": "many", "text": "texts"}.get(kind, Several(kind)) if isinstance(kind, str) else Several(kind)
    if origin in (dict, abc.Mapping) and parts[0] is int and (kind := kind_of(parts[1])) is not None:
        return Several(kind, numbered=True)
    if isinstance(hint, type) and (is_dataclass(hint) or hasattr(hint, "_field_defaults")):
        return record_of(hint)
    return None


def record_of(hint):
    """(the record, {field: its kind}); None where a field can't be made up."""
    made_up = {}
    for name, needed in fields_of(hint).items():
        kind = kind_of(typing.get_type_hints(hint)[name])
        if needed and kind is None:
            return None
        if kind is not None:
            made_up[name] = kind
    return Record(hint, made_up)


def fields_of(hint):
    """{field of a record: whether it must be given}, without those that hold words by themselves."""
    if not is_dataclass(hint):
        return {name: name not in hint._field_defaults for name in hint._fields}
    return {
        part.name: part.default is MISSING and part.default_factory is MISSING
        for part in fields(hint)
        if part.init and not isinstance(part.default, str)
    }


class Chance:
    """Numbers by chance, the same on every machine, and quickly begun: there are some for each field of each call."""

    def __init__(self, words):
        self.state = zlib.crc32(words.encode()) * 2654435761 % 2**64
        self.random()

    def random(self):
        self.state = (self.state * 6364136223846793005 + 1442695040888963407) % 2**64
        return (self.state >> 11) / 2**53

    def uniform(self, low, high):
        return low + (high - low) * self.random()

    def randint(self, low, high):
        return low + int((high - low + 1) * self.random())

    def choice(self, things):
        return things[self.randint(0, len(things) - 1)]


class Several(typing.NamedTuple):
    """A list of what is made up in one way, or such things by their numbers."""

    kind: typing.Any
    numbered: bool = False


class Each(typing.NamedTuple):
    """A tuple with a kind for each of its places."""

    kinds: tuple


class Record(typing.NamedTuple):
    """A record that is made up, and the kinds of its fields."""

    made: type
    kinds: dict

    def __repr__(self):
        return f"{self.made.__name__} {self.kinds}"


TEXTS = ("", " 12 ", "3/4/2027", "2027-03-04", "12:30", "1,5", "-", "n/a", "-999", "99.9", "Bags", "castings, loose",
         "lb", "kg", "°F", "$4.50", "a.b", "Lane 2; row 3")  # fmt: skip


def figure(name, seed):
    """A figure that a parameter of such a name may have; now and then an end or nothing."""
    if name == "target":
        name = seed.choice(("moisture", "carbon"))
    for holds, low, high in LIKELY:
        if re.search(holds, name):
            return seed.choice((low, high)) if seed.random() < 0.12 else round(seed.uniform(low, high), 4)
    return 0.0 if seed.random() < 0.08 else float(f"{10 ** seed.uniform(-1.3, 2.2):.4g}")


MONTHLY = ("season", "months", "monthly", "monthly_temperature", "temperatures")


def figures(name, seed):
    """Some figures, twelve of what goes by months; half the time one after the other."""
    some = [figure(name, seed) for _ in range(12 if name in MONTHLY else 5)]
    return sorted(some) if seed.random() < 0.5 else some


MAKE = {
    "one": figure,
    "many": figures,
    "whole": lambda _, seed: seed.randint(0, 12),
    "yes or no": lambda _, seed: seed.random() < 0.5,
    "text": lambda _, seed: seed.choice(TEXTS),
    "texts": lambda _, seed: [seed.choice(TEXTS) for _ in range(4)],
    "day": lambda _, seed: date(2026, 1, 1) + timedelta(days=seed.randint(0, 800)),
    "moment": lambda _, seed: datetime(2026, 1, 1) + timedelta(hours=seed.randint(0, 9000)),
}


def drawn(takes, words):
    return {name: one_drawn(name, kind, f"{words} {name}") for name, kind in takes.items()}


def one_drawn(name, kind, words):
    if isinstance(kind, Record):
        return kind.made(**drawn(kind.kinds, words))
    if isinstance(kind, Each):
        return tuple(one_drawn(name, one, f"{words} {at}") for at, one in enumerate(kind.kinds))
    if isinstance(kind, Several):
        some = [one_drawn(name, kind.kind, f"{words} {at}") for at in range(4)]
        return dict(enumerate(some)) if kind.numbered else some
    seed = Chance(words)
    return MAKE[kind](name, seed) if isinstance(kind, str) else seed.choice(kind)


def limits(function, takes):
    """[(parameter, limit)] of the comparisons of a parameter with a number, a coefficient or a named constant."""
    found = []
    function = inspect.unwrap(function)
    for node in ast.walk(ast.parse(textwrap.dedent(inspect.getsource(function)))):
        if not isinstance(node, ast.Compare):
            continue
        sides = [node.left, *node.comparators]
        names = [side.id for side in sides if isinstance(side, ast.Name) and takes.get(side.id) in ("one", "whole")]
        found += [(name, limit) for name in names for side in sides if (limit := number_of(side, function)) is not None]
    return list(dict.fromkeys(found))


def number_of(node, function):
    """The number that stands in a comparison: itself, or a constant of the module, or a coefficient's."""
    if isinstance(node, (ast.Name, ast.Attribute, ast.Constant, ast.UnaryOp)):
        try:
            value = eval(
                compile(ast.Expression(node), "limit", "eval"), dict(vars(sys.modules[function.__module__]))
            )  # our own code
        except (NameError, AttributeError, TypeError):
            return None
        return (
            float(value)
            if isinstance(value, (int, float)) and not isinstance(value, bool) and math.isfinite(value)
            else None
        )
    return None


def calls(name, function, takes):
    """What a formula is called for: some figures as they come, some that it takes, and its limits."""
    some = [str(at) for at in range(AS_THEY_COME)]
    tries = (str(at) for at in range(AS_THEY_COME, TRIES))
    good = (
        call for call in tries if (one := asked(name, takes, call)) and not came_out(function, one).endswith("Error")
    )
    at = [f"{part} {limit:.12g}" for part, limit in limits(function, takes)]
    return [call for call in [*some, *islice(good, DRAWN), *at] if asked(name, takes, call)]


def asked(name, takes, call):
    """The figures of a call: drawn by its number, or with a parameter at a limit; None where they can't be made up."""
    part, _, limit = call.rpartition(" ")
    if not part:
        return made(takes, f"{name} {call}")
    one = made(takes, f"{name} {part}")
    return one and one | {part: int(float(limit)) if takes[part] == "whole" else float(limit)}


def made(takes, words):
    """Figures for a call, each drawn by itself; None where a record refuses its own."""
    try:
        return drawn(takes, words)
    except (ArithmeticError, ValueError, TypeError):
        return None


def said(value):
    """A result as text: numbers to nine digits."""
    if isinstance(value, (bool, str, date)) or value is None:
        return str(value)
    if isinstance(value, (int, float)):
        return f"{value:.9g}" if abs(value) > 1e-12 else "0"
    if isinstance(value, complex):
        return "complex"
    if isinstance(value, Fact):
        return value.label
    if hasattr(value, "_fields"):
        return "(" + ", ".join(said(part) for part in value) + ")"
    if is_dataclass(value) and not isinstance(value, type):
        return "(" + ", ".join(said(getattr(value, part.name)) for part in fields(value)) + ")"
    if isinstance(value, dict):
        return "{" + ", ".join(f"{said(key)}: {said(part)}" for key, part in value.items()) + "}"
    if isinstance(value, (list, tuple)):
        return "[" + ", ".join(said(part) for part in value) + "]"
    if isinstance(value, (set, frozenset)):
        return "[" + ", ".join(sorted(said(part) for part in value)) + "]"
    return type(value).__name__


def given(figures):
    return ", ".join(f"{name}={said(value)}" for name, value in figures.items())


def came_out(function, figures):
    try:
        text = said(function(**figures)).replace("\n", " ⏎ ")
        return text if len(text) < LONG else f"{text[: LONG // 2]}… {hashlib.sha256(text.encode()).hexdigest()[:16]}"
    except (ArithmeticError, AssertionError, AttributeError, LookupError, TypeError, ValueError) as error:
        return type(error).__name__


def headed(name):
    """A formula with what it takes: one that takes other things is another one."""
    return f"{name} {hashlib.sha256(repr(FORMULAS[name][1]).encode()).hexdigest()[:8]}"


def kept():
    """{formula and what it takes: {what it was called for: what came out}}."""
    found, name = {}, ""
    for line in WRITTEN.read_text(encoding="utf-8").splitlines():
        if line.startswith("    "):
            call, _, result = line[4:].partition(": ")
            found[name][call] = result
        else:
            name = line
            found[name] = {}
    return found


def now_of(name, called):
    """{what it is called for: what comes out}."""
    function, takes = FORMULAS[name]
    return {call: came_out(function, asked(name, takes, call)) for call in called}


def different(name, before):
    """What came out otherwise, with the figures that were asked: for whoever reads why a test failed."""
    return [
        f"{given(asked(name, FORMULAS[name][1], call))}: {before[call]} then, {result} now"
        for call, result in now_of(name, before).items()
        if before[call] != result
    ]


def module_of(name):
    """The module of a formula: of a record's method, that of the record."""
    return re.split(r"\.(?=[A-Z]|[^.]*$)", name, maxsplit=1)[0]


FORMULAS = formulas()
MODULES = sorted({module_of(name) for name in FORMULAS})


@pytest.fixture(scope="module")
def then():
    return kept()


@pytest.mark.parametrize("module", MODULES)
def test_formulas_give_what_they_gave(module, then):
    names = [name for name in FORMULAS if module_of(name) == module and headed(name) in then]
    assert {name: found for name in names if (found := different(name, then[headed(name)]))} == {}


def test_most_formulas_are_kept(then):
    assert sum(headed(name) in then for name in FORMULAS) > 0.6 * len(FORMULAS) > 200


def test_most_of_what_is_kept_is_a_result(then):
    """Not a refusal of figures that no reader has, and not the same whatever is asked."""
    telling = [name for name, there in then.items() if len(set(there.values())) > 3]
    assert len(telling) > 0.6 * len(then)


if __name__ == "__main__":
    parts = (
        f"{headed(name)}\n"
        + "".join(f"    {call}: {result}\n" for call, result in now_of(name, calls(name, *FORMULAS[name])).items())
        for name in FORMULAS
    )
    WRITTEN.write_text("".join(parts), encoding="utf-8")
    sys.stdout.write(f"{len(FORMULAS)} formulas\n")
