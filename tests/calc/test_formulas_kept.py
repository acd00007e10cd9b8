"""What every formula gives for figures of all sorts: odd ones, none, and just those at which it asks "more or less?".

Every function of a chapter that takes plain numbers, lists of them or yes and no is called with seeded figures, which
its parameters' names make likely (a share lies between nothing and all), and with the very limits that stand in its
comparisons. formulas.txt keeps what came out, to nine digits; a figure that changes there is a formula that
changed. `python tests/calc/test_formulas_kept.py` writes it anew; read the difference. Whether a formula is right is
told elsewhere, by published values and by hand: this tells that it is still the same, also where no default leads.
"""

import ast
import hashlib
import inspect
import math
import random
import re
import sys
import textwrap
import types
import typing
from collections.abc import Sequence
from dataclasses import fields, is_dataclass
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
PLAIN = (float, int, bool)
AS_THEY_COME, DRAWN, TRIES = 4, 10, 150
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
    """{name: (function, {parameter: its type})} of what can be called with plain numbers."""
    found = {}
    for module in modules():
        for name, item in vars(module).items():
            function = inspect.unwrap(item) if callable(item) and not isinstance(item, type) else None
            if not isinstance(function, types.FunctionType) or function.__module__ != module.__name__:
                continue
            if (
                inspect.isgeneratorfunction(function)
                or hasattr(item, "calculator")
                or f"{module.__name__}.{name}" in LEFT_OUT
            ):
                continue
            takes = taken(function)
            if takes:
                found[f"{module.__name__.removeprefix('calc.')}.{name}"] = (item, takes)
    return found


LEFT_OUT = {"calc.lane.asked.lane_form", "calc.economics.terms._produce"}
"""Functions that make forms."""


def taken(function):
    """{parameter: "one" or "many", "whole" or "yes or no"}; nothing where one of them is no plain number."""
    try:
        hints = typing.get_type_hints(function)
    except (NameError, TypeError):
        return {}
    takes = {}
    for name, parameter in inspect.signature(function).parameters.items():
        kind = kind_of(hints.get(name))
        if parameter.kind in (parameter.VAR_POSITIONAL, parameter.VAR_KEYWORD) or (
            kind is None and parameter.default is parameter.empty
        ):
            return {}
        if kind is not None:
            takes[name] = kind
    return takes


def kind_of(hint):
    parts = [part for part in typing.get_args(hint) if part is not type(None)] if hint is not None else []
    if hint in PLAIN:
        return {float: "one", int: "whole", bool: "yes or no"}[hint]
    if typing.get_origin(hint) in (types.UnionType, typing.Union):
        return kind_of(parts[0]) if len(parts) == 1 else None
    if typing.get_origin(hint) in (list, tuple, Sequence) and parts and parts[0] in (float, int):
        return "many" if parts[0] is float else None
    return None


def figure(name, seed):
    """A figure that a parameter of such a name may have; now and then an end or nothing."""
    if name == "target":
        name = seed.choice(("moisture", "carbon"))
    for holds, low, high in LIKELY:
        if re.search(holds, name):
            return seed.choice((low, high)) if seed.random() < 0.12 else round(seed.uniform(low, high), 4)
    return 0.0 if seed.random() < 0.08 else float(f"{10 ** seed.uniform(-1.3, 2.2):.4g}")


def drawn(takes, seed):
    made = {
        "one": lambda name: figure(name, seed),
        "whole": lambda name: seed.randint(1, 12),
        "yes or no": lambda name: seed.random() < 0.5,
        "many": lambda name: [figure(name, seed) for _ in range(5)],
    }
    return {name: made[kind](name) for name, kind in takes.items()}


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
    """The figures with which a formula is called: some as they come, some that it does not refuse, and its limits."""
    seed = random.Random(name)
    some = [drawn(takes, seed) for _ in range(AS_THEY_COME)]
    tries = (drawn(takes, seed) for _ in range(TRIES))
    taken = islice((figures for figures in tries if not came_out(function, figures).endswith("Error")), DRAWN)
    whole = {"whole": int}
    at = [drawn(takes, seed) | {part: whole.get(takes[part], float)(limit)} for part, limit in limits(function, takes)]
    return [*some, *taken, *at]


def said(value):
    """A result as text: numbers to nine digits."""
    if isinstance(value, bool) or value is None or isinstance(value, str):
        return str(value)
    if isinstance(value, (int, float)):
        return f"{value:.9g}" if abs(value) > 1e-12 else "0"
    if isinstance(value, complex):
        return "complex"
    if isinstance(value, Fact):
        return value.label
    if is_dataclass(value) and not isinstance(value, type):
        return "(" + ", ".join(said(getattr(value, part.name)) for part in fields(value)) + ")"
    if isinstance(value, dict):
        return "{" + ", ".join(f"{said(key)}: {said(part)}" for key, part in value.items()) + "}"
    if isinstance(value, (list, tuple, set)):
        return "[" + ", ".join(said(part) for part in value) + "]"
    return type(value).__name__


def given(figures):
    return ", ".join(f"{name}={said(value)}" for name, value in figures.items())


def came_out(function, figures):
    try:
        text = said(function(**figures))
        return text if len(text) < LONG else f"{text[: LONG // 2]}… {hashlib.sha256(text.encode()).hexdigest()[:16]}"
    except (ArithmeticError, ValueError, TypeError, LookupError, AttributeError) as error:
        return type(error).__name__


def kept():
    """{name of a formula: its lines}."""
    found, name = {}, ""
    for line in WRITTEN.read_text(encoding="utf-8").splitlines():
        if line.startswith("    "):
            found[name].append(line.strip())
        else:
            name = line
            found[name] = []
    return found


def lines(name, function, takes):
    return [f"{given(figures)} -> {came_out(function, figures)}" for figures in calls(name, function, takes)]


FORMULAS = formulas()
MODULES = sorted({name.rpartition(".")[0] for name in FORMULAS})


@pytest.fixture(scope="module")
def then():
    return kept()


@pytest.mark.parametrize("module", MODULES)
def test_formulas_give_what_they_gave(module, then):
    now = {name: lines(name, *one) for name, one in FORMULAS.items() if name.rpartition(".")[0] == module}
    different = {
        name: [
            f"{was} | now {is_.partition(' -> ')[2]}" for was, is_ in zip(then[name], there, strict=False) if was != is_
        ]
        for name, there in now.items()
        if name in then and there != then[name]
    }
    assert different == {}


def test_nearly_all_formulas_are_kept(then):
    assert sum(name in then for name in FORMULAS) > 0.9 * len(FORMULAS) > 150


def test_most_of_what_is_kept_is_a_result(then):
    """Not a refusal of figures that no reader has, and not the same whatever is asked."""
    results = {name: [line.partition(" -> ")[2] for line in there] for name, there in then.items()}
    telling = [name for name, there in results.items() if len(set(there)) > 3]
    assert len(telling) > 0.75 * len(results)


if __name__ == "__main__":
    parts = (
        f"{name}\n" + "".join(f"    {line}\n" for line in lines(name, function, takes))
        for name, (function, takes) in FORMULAS.items()
    )
    WRITTEN.write_text("".join(parts), encoding="utf-8")
    sys.stdout.write(f"{len(FORMULAS)} formulas\n")
