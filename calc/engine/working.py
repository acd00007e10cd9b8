"""Workings are evaluated: the equation that a reader sees is parsed, worked out on the quantities of this run, units
and all, and held against the result that it claims.

An equation is one or more statements between semicolons:

    {dry_matter} = {weight} × (1 − {moisture})
    {lower_limit} and {upper_limit} = {centre} ∓ 3 × {mean_range} ÷ 1.128
    {bags} = {volume} ÷ {bag_volume}, rounded up; {cost} = that × {price}
    {meets_windrow} = {hot_days} ≥ 15 days and {turnings} ≥ 5

A name in braces is an input or an output, or a `Part` that the step brings along. Written out it may hold + − × ÷ ^ √,
sin cos exp ln, `the longer of`, `the smaller of` and the like, numbers with units, `{x} in m/s` for a plain number,
`{curve} at {x}` with a `CurvePart`, and `that` for the result of the statement before. Of the rows of a `RowsPart` it
may take `sum over {rows} of …`, `mean over …`, `number of {rows}`, and one cell: `the first {day} of {days}`, likewise
the last, the middle, the largest and so on; each of them `where` something holds of a row. `…, each of {rows}` after an
equation asks it of every row. What is said in words is a step
of prose and is declared so.
"""

from __future__ import annotations

import math
import re
from collections import ChainMap
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, field
from datetime import date
from functools import lru_cache
from typing import TYPE_CHECKING, Any

from calc.engine.quantity import ANGLE, DAY, NONE, TIME, UnknownUnit, convert, unit

if TYPE_CHECKING:
    from calc.engine.describe import Step
    from calc.engine.view import View

NEAR = 1e-9
"""How far two sides may differ, of the largest quantity in them: what the order of a sum leaves."""

MOST_ROWS = 2000
"""Rows of a step that are gone through in the page."""

Dimension = tuple[int, ...]


class NotEvaluated(ValueError):
    """An equation holds words, or a name whose value is not a quantity."""


class _NoCell(NotEvaluated):
    """A row holds nothing where a step asks it for a number: the row is left out."""


class Untrue(ValueError):
    """Both sides can be worked out and differ, in size or in kind."""


@dataclass(frozen=True)
class Part:
    """A quantity that is neither input nor output, brought along by a step: what it is called, its SI value and unit.

    us, metric: the units in which it is shown where the usual ones do not suit. text: how it is shown, where that is
    not a number.
    """

    words: str
    value: Any
    unit: str = "1"
    us: str | None = None
    metric: str | None = None
    digits: int = 3
    text: str = ""


@dataclass(frozen=True)
class RowsPart:
    """Rows that a step sums over, counts or reads a cell of: {name: unit} of their cells, and {name: SI value} of each.

    A column may be a date or yes or no; its name is shown with blanks for underscores.
    """

    words: str
    units: Mapping[str, str]
    rows: Sequence[Mapping[str, Any]] = field(default_factory=tuple)


@dataclass(frozen=True)
class CurvePart:
    """A function of the engine that a step reads off: `{saturation} at {air_temperature}`.

    takes: the units of what it is given; unit: of what it gives.
    """

    words: str
    function: Callable[..., Any]
    takes: Sequence[str]
    unit: str = "1"


@dataclass(frozen=True)
class Quantity:
    """A number in base units with its dimension; `size` is the largest quantity that went into it by sums."""

    value: float
    dimension: Dimension
    size: float


Value = Quantity | bool | str


def quantity(value: Any, unit_name: str) -> Quantity:
    """A number in a declared unit as a Quantity. A thermometer reading stays in °C, so that differences are true."""
    if isinstance(value, date):
        number = value.toordinal() * DAY  # so that days may be added and taken away
        return Quantity(number, TIME, abs(number))
    if isinstance(value, bool) or not isinstance(value, (int, float)):
        raise NotEvaluated(f"{value!r} is no number")
    known = unit(unit_name)
    number = value if known.scale == "C" else value * known.factor
    return Quantity(number, known.dimension, abs(number))


# ---- parsing

_TOKEN = re.compile(
    r"\s*(?:(?P<name>\{\w+\})|(?P<number>\d+(?:,\d{3})*(?:\.\d+)?(?:e[-+]?\d+)?)"
    r"|(?P<word>[A-Za-zµ°%][\w°%]*)|(?P<sign>[½=+−×÷^√()≥≤<>;,±∓π·/²³⁴-]))"
)
_POWER_OF_TEN = re.compile(r"(?<=\d) ?× ?10([⁻]?[⁰¹²³⁴⁵⁶⁷⁸⁹]+)")
_SUPERSCRIPTS = str.maketrans("⁻⁰¹²³⁴⁵⁶⁷⁸⁹", "-0123456789")
_LARGEST = {"longer", "larger", "greater", "higher", "most", "largest", "longest", "later", "warmer"}
_SMALLEST = {"shorter", "smaller", "lesser", "lower", "least", "smallest", "fewer", "earlier", "cooler"}
_FUNCTIONS: dict[str, Callable[[float], float]] = {
    "exp": math.exp,
    "ln": math.log,
    "sin": math.sin,
    "cos": math.cos,
    "tan": math.tan,
}
_COMPARE: dict[str, Callable[[float, float], bool]] = {
    "≥": lambda a, b: a >= b,
    "≤": lambda a, b: a <= b,
    ">": lambda a, b: a > b,
    "<": lambda a, b: a < b,
    "=": lambda a, b: a == b,
}
_SIDES = {"first", "last", "middle"}
Node = tuple[Any, ...]


def _tokens(text: str) -> list[tuple[str, str]]:
    text = _POWER_OF_TEN.sub(lambda match: "e" + match[1].translate(_SUPERSCRIPTS), text).rstrip()
    tokens, place = [], 0
    while place < len(text):
        match = _TOKEN.match(text, place)
        if not match:
            raise NotEvaluated(f"“{text[place : place + 20]}” is no part of an equation")
        tokens.append((str(match.lastgroup), match[str(match.lastgroup)]))
        place = match.end()
    return tokens


class _Parser:
    """Recursive descent over the tokens of one statement."""

    def __init__(self, tokens: list[tuple[str, str]]) -> None:
        self.tokens, self.place = tokens, 0
        self.asked = False
        """Whether what is read is asked of a row, where = compares."""

    def peek(self, ahead: int = 0) -> str:
        at = self.place + ahead
        return self.tokens[at][1] if at < len(self.tokens) else ""

    def kind(self) -> str:
        return self.tokens[self.place][0] if self.place < len(self.tokens) else ""

    def take(self, *wanted: str) -> str:
        """The next token, when it is one of those wanted; else nothing."""
        if self.peek() and self.peek() in wanted:
            self.place += 1
            return self.tokens[self.place - 1][1]
        return ""

    def need(self, *wanted: str) -> None:
        for one in wanted:
            if not self.take(one):
                raise NotEvaluated(f"“{one}” expected before “{self.peek()}”")

    def statement(self) -> tuple[list[str], Node, str]:
        """(names on the left, what they equal, how it is rounded); one blank name where the left is an expression."""
        names, other = self.left()
        node = self.verdict()
        node = ("equal", other, node) if other else node
        rounding = ""
        while self.take(","):
            if self.take("each"):
                self.need("of")
                node = ("each", self.name(), node, self.condition())
                continue
            self.need("rounded")
            rounding = self.take("up", "down") or "off"
            if rounding == "off":
                self.take("off")
        if self.place < len(self.tokens):
            raise NotEvaluated(f"“{self.peek()}” is left over")
        return names, node, rounding

    def left(self) -> tuple[list[str], Node | None]:
        """(names before the sign of equality, or the expression that stands there)."""
        start = self.place
        names = [self.name()] if self.kind() == "name" else []
        while names and self.take("and", "to"):
            names.append(self.name())
        if names and self.take("="):
            return names, None
        self.place = start
        other = self.expression()
        self.need("=")
        return [""], other

    def name(self) -> str:
        if self.kind() != "name":
            raise NotEvaluated(f"a name in braces expected, not “{self.peek()}”")
        self.place += 1
        return self.tokens[self.place - 1][1].strip("{}")

    def verdict(self) -> Node:
        """Comparisons joined by and, or; or a plain expression."""
        node = self.compared()
        while word := self.take("and", "or"):
            node = (word, node, self.compared())
        return node

    def compared(self) -> Node:
        if self.take("not"):
            return ("not", self.compared())
        node = self.expression()
        sign = self.take(*_COMPARE) if self.asked or self.peek() != "=" else ""
        return ("compare", sign, node, self.expression()) if sign else node

    def expression(self) -> Node:
        node = self.term()
        while sign := self.take("+", "−", "-", "±", "∓"):
            node = ("−" if sign == "-" else sign, node, self.term())
        return node

    def term(self) -> Node:
        node = self.factor()
        while sign := self.take("×", "÷"):
            node = (sign, node, self.factor())
        return node

    def factor(self) -> Node:
        if self.take("−", "-"):
            return ("negative", self.factor())
        node = self.atom()
        if node[0] == "name" and self.kind() == "word" and self.take("at"):
            arguments = [self.factor()]
            while self.take("and"):
                arguments.append(self.factor())
            node = ("at", node[1], arguments)
        if self.take("^"):
            node = ("^", node, self.factor())
        if self.peek() == "in" and self.kind() == "word":
            self.place += 1
            node = ("in", node, self.unit())
        return node

    def atom(self) -> Node:
        kind, word = self.kind(), self.peek()
        if kind == "name":
            return ("name", self.name())
        if kind == "number":
            self.place += 1
            return ("number", float(word.replace(",", "")), self.unit(optional=True))
        if self.take("("):
            node = self.verdict()
            self.need(")")
            return node
        if self.take("√"):
            return ("√", self.atom())
        if self.take("½"):
            return ("number", 0.5, self.unit(optional=True))
        if self.take("π"):
            return ("number", math.pi, "")
        if word == "e" and self.peek(1) == "^":
            self.place += 2
            return ("exp", self.factor())
        if word in _FUNCTIONS:
            self.place += 1
            return (word, self.atom())
        if self.take("that"):
            return ("that",)
        if self.take("the"):
            return self.extreme()
        if word in ("sum", "mean"):
            self.place += 1
            return self.sum(word)
        if word == "number" and self.peek(1) == "of":
            self.place += 2
            return ("count", self.name(), self.condition())
        raise NotEvaluated(f"“{word}” is said in words")

    def extreme(self) -> Node:
        word = self.peek()
        if word in _SIDES | _LARGEST | _SMALLEST and self.peek(1).startswith("{"):
            self.place += 1
            column = self.name()
            self.need("of")
            side = "largest" if word in _LARGEST else "smallest" if word in _SMALLEST else word
            return ("cell", side, column, self.name(), self.condition())
        if word not in _LARGEST | _SMALLEST:
            raise NotEvaluated(f"“the {word}” is said in words")
        self.place += 1
        self.need("of")
        parts = [self.expression()]
        while self.peek(1) not in ("each", "rounded") and self.take(",", "and"):
            self.take("and")
            parts.append(self.expression())
        return ("largest" if word in _LARGEST else "smallest", parts)

    def sum(self, word: str) -> Node:
        self.need("over")
        rows = self.name()
        self.need("of")
        return (word, rows, self.term(), self.condition())

    def condition(self) -> Node | None:
        """What has to hold of a row that counts; None where every row does."""
        if not self.take("where"):
            return None
        before, self.asked = self.asked, True
        node = self.verdict()
        self.asked = before
        return node

    def unit(self, optional: bool = False) -> str:
        """The longest run of words and signs that is a unit."""
        start, text, best, at = self.place, "", "", self.place
        while self.place < len(self.tokens) and (
            self.kind() == "word"
            or self.peek() in ("/", "·", "²", "³", "⁴")
            or (self.peek() == "1" and text.endswith("/"))
        ):
            token = self.peek()
            joint = " " if text and text[-1] not in "/·" and token not in ("/", "·", "²", "³", "⁴") else ""
            text += joint + token
            self.place += 1
            if _is_unit(text):
                best, at = text, self.place
        self.place = at if best else start
        if not best and not optional:
            raise NotEvaluated(f"a unit expected, not “{self.peek()}”")
        return best


def _is_unit(text: str) -> bool:
    try:
        unit(text)
    except UnknownUnit:
        return False
    return text != "in"


@lru_cache(maxsize=2048)
def parsed(equation: str) -> tuple[tuple[list[str], Node, str], ...]:
    """The statements of an equation; NotEvaluated where it holds words."""
    return tuple(_Parser(_tokens(part)).statement() for part in equation.split(";"))


# ---- working out


class _Run:
    """The quantities of one run, by name."""

    def __init__(self, step: Step, view: View) -> None:
        self.step, self.view = step, view
        self.row: Mapping[str, Any] = {}
        self.units: Mapping[str, str] = {}
        """The rows that are stood on, and the units of their cells."""
        self.that: Quantity | None = None
        self.side = ""

    def named(self, name: str) -> Value:
        if name in self.row:
            cell = self.row[name]
            if cell is None:
                raise _NoCell(name)
            return _cell(cell, self.units[name])
        part = self.step.values.get(name)
        if part is not None:
            if not isinstance(part, Part):
                raise NotEvaluated(f"{name} is given as text only")
            return _cell(part.value, part.unit)
        view = self.view
        if name not in view.results and name not in view.given:
            raise NotEvaluated(f"there is no {name}")
        value = _typical(view.results[name] if name in view.results else view.given[name])
        if isinstance(value, (bool, str)):
            return value
        declared: str = getattr(view.description(name), "unit", "1")  # a date has none
        return quantity(value, declared)

    def dated(self, name: str) -> bool:
        """Whether a name is a date, which is rounded to whole days."""
        return isinstance(self.view.results.get(name), date)

    def work(self, node: Node) -> Value:
        return getattr(self, _WORK[node[0]])(*node)  # type: ignore[no-any-return]  # one of the methods below

    def number(self, node: Node) -> Quantity:
        worked = self.work(node)
        if not isinstance(worked, Quantity):
            raise NotEvaluated("words, or yes or no, among numbers")
        return worked

    def name(self, _: str, name: str) -> Value:
        return self.named(name)

    def literal(self, _: str, value: float, in_unit: str) -> Quantity:
        if not in_unit:
            return Quantity(value, NONE, abs(value))
        if unit(in_unit).scale == "F":
            value, in_unit = convert(value, "degF", "degC"), "degC"
        return quantity(value, in_unit)

    def summed(self, sign: str, first: Node, second: Node) -> Quantity:
        one, other = self.number(first), self.number(second)
        if one.dimension != other.dimension and 0.0 not in (one.value, other.value):
            raise Untrue("quantities of two kinds are added")
        if sign in "±∓":
            sign = self.side
        value = one.value + other.value if sign == "+" else one.value - other.value
        dimension = one.dimension if one.value else other.dimension if other.value else one.dimension
        return Quantity(value, dimension, max(one.size, other.size))

    def product(self, sign: str, first: Node, second: Node) -> Quantity:
        one, other = self.number(first), self.number(second)
        if sign == "÷" and not other.value:
            raise NotEvaluated("division by nothing")
        by = 1 if sign == "×" else -1
        dimension = tuple(a + by * b for a, b in zip(one.dimension, other.dimension))
        value = one.value * other.value if by == 1 else one.value / other.value
        size = one.size * other.size if by == 1 else one.size / abs(other.value)
        return Quantity(value, dimension, max(abs(value), size))

    def power(self, _: str, first: Node, second: Node) -> Quantity:
        base, exponent = self.number(first), self.plain(second)
        if base.dimension != NONE and exponent != round(exponent):
            raise Untrue("a quantity is raised to a broken power")
        value = base.value**exponent
        if isinstance(value, complex):
            raise NotEvaluated("a broken power of a number below nothing")
        dimension = tuple(round(part * exponent) for part in base.dimension)
        return Quantity(value, dimension, abs(value) * max(1.0, abs(exponent)))

    def root(self, _: str, inside: Node) -> Quantity:
        under = self.number(inside)
        if under.value < 0 or any(part % 2 for part in under.dimension):
            raise Untrue("a root of what has none")
        value = math.sqrt(under.value)
        return Quantity(value, tuple(part // 2 for part in under.dimension), max(value, math.sqrt(under.size)))

    def function(self, word: str, inside: Node) -> Quantity:
        argument = self.number(inside)
        if argument.dimension not in ((NONE, ANGLE) if word in ("sin", "cos", "tan") else (NONE,)):
            raise Untrue(f"{word} of a quantity with a unit")
        plain = math.radians(argument.value) if argument.dimension == ANGLE else argument.value
        try:
            value = _FUNCTIONS[word](plain)
        except (ValueError, OverflowError):
            raise NotEvaluated(f"{word} has no value there") from None
        return Quantity(value, NONE, abs(value) * max(1.0, argument.size) if word == "exp" else max(abs(value), 1e-3))

    def negative(self, _: str, inside: Node) -> Quantity:
        number = self.number(inside)
        return Quantity(-number.value, number.dimension, number.size)

    def in_unit(self, _: str, inside: Node, name: str) -> Quantity:
        """A quantity as the plain number of some unit."""
        quantity, known = self.number(inside), unit(name)
        if quantity.dimension != known.dimension:
            raise Untrue(f"a quantity is not measured in {name}")
        return Quantity(quantity.value / known.factor, NONE, quantity.size / known.factor)

    def extreme(self, word: str, parts: list[Node]) -> Quantity:
        numbers = [self.number(part) for part in parts]
        if len({one.dimension for one in numbers if one.value}) > 1:
            raise Untrue("quantities of two kinds are compared")
        best = (max if word == "largest" else min)(numbers, key=lambda one: one.value)
        kind = next((one.dimension for one in numbers if one.value), best.dimension)
        return Quantity(best.value, kind, max(one.size for one in numbers))

    def rows_where(self, name: str, condition: Node | None) -> Iterator[None]:
        """Stands on each row that a condition holds of, one after the other."""
        part = self.step.values.get(name)
        if not isinstance(part, RowsPart):
            raise NotEvaluated(f"{name} holds no rows")
        before, outside = self.row, self.units
        for row in part.rows:
            self.row = ChainMap(row, before)  # type: ignore[arg-type]  # rows are read, never written
            self.units = ChainMap(part.units, outside)  # type: ignore[arg-type]
            try:
                held = condition is None or self.work(condition)
            except _NoCell:
                continue
            if not isinstance(held, bool):
                raise NotEvaluated("a number stands where yes or no is asked")
            if held:
                yield
        self.row, self.units = before, outside

    def over_rows(self, word: str, name: str, term: Node, condition: Node | None) -> Quantity:
        terms: list[Quantity] = []
        for _ in self.rows_where(name, condition):
            with suppress(_NoCell):
                terms.append(self.number(term))
        if not terms:
            return Quantity(0.0, NONE, 0.0)
        value = math.fsum(one.value for one in terms) / (len(terms) if word == "mean" else 1)
        return Quantity(value, terms[0].dimension, max(one.size for one in terms) * len(terms))

    def counted(self, _: str, name: str, condition: Node | None) -> Quantity:
        number = float(sum(1 for _ in self.rows_where(name, condition)))
        return Quantity(number, NONE, number)

    def cell(self, _: str, side: str, column: str, name: str, condition: Node | None) -> Value:
        """One cell of the rows: the first, the last, the middle, the largest or the smallest."""
        cells_there = [self.named(column) for _ in self.rows_where(name, condition) if self.row.get(column) is not None]
        if cells_there and side in ("first", "last"):
            return cells_there[0 if side == "first" else -1]
        cells = sorted((one for one in cells_there if isinstance(one, Quantity)), key=lambda one: one.value)
        if not cells:
            raise NotEvaluated(f"no row of {name} holds {column}")
        if side == "middle":
            low, high = cells[(len(cells) - 1) // 2], cells[len(cells) // 2]
            return Quantity((low.value + high.value) / 2, low.dimension, max(low.size, high.size))
        return cells[-1 if side == "largest" else 0]

    def read_off(self, _: str, name: str, arguments: list[Node]) -> Quantity:
        """What a curve gives at some quantities."""
        part = self.step.values.get(name)
        if not isinstance(part, CurvePart):
            raise NotEvaluated(f"{name} is no curve")
        numbers = []
        for node, takes in zip(arguments, part.takes, strict=True):
            argument, known = self.number(node), unit(takes)
            if argument.dimension != known.dimension:
                raise Untrue(f"{part.words} is not read off at such a quantity")
            numbers.append(argument.value if known.scale == "C" else argument.value / known.factor)
        return quantity(_typical(part.function(*numbers)), part.unit)

    def result_before(self, _: str) -> Quantity:
        if self.that is None:
            raise NotEvaluated("“that” stands for nothing yet")
        return self.that

    def comparison(self, _: str, sign: str, first: Node, second: Node) -> bool:
        if sign == "=" and isinstance(words := self.work(first), str):
            return words == self.work(second)
        one, other = self.number(first), self.number(second)
        if one.dimension != other.dimension and 0.0 not in (one.value, other.value):
            raise Untrue("quantities of two kinds are compared")
        if abs(one.value - other.value) <= NEAR * max(one.size, other.size):
            return sign in "≥≤="
        return _COMPARE[sign](one.value, other.value)

    def joined(self, word: str, first: Node, second: Node) -> bool:
        one, other = self.work(first), self.work(second)
        if not isinstance(one, bool) or not isinstance(other, bool):
            raise NotEvaluated("numbers joined by and, or")
        return one and other if word == "and" else one or other

    def opposite(self, _: str, inside: Node) -> bool:
        truth = self.work(inside)
        if not isinstance(truth, bool):
            raise NotEvaluated("not of a number")
        return not truth

    def plain(self, node: Node) -> float:
        number = self.number(node)
        if number.dimension != NONE:
            raise Untrue("an exponent has a unit")
        return number.value


_WORK = {
    "name": "name",
    "number": "literal",
    **dict.fromkeys("+−±∓", "summed"),
    **dict.fromkeys("×÷", "product"),
    "^": "power",
    "√": "root",
    **dict.fromkeys(_FUNCTIONS, "function"),
    "negative": "negative",
    "in": "in_unit",
    **dict.fromkeys(("largest", "smallest"), "extreme"),
    **dict.fromkeys(("sum", "mean"), "over_rows"),
    "count": "counted",
    "cell": "cell",
    "that": "result_before",
    "compare": "comparison",
    "at": "read_off",
    **dict.fromkeys(("and", "or"), "joined"),
    "not": "opposite",
}
"""{kind of a node: the method that works it out}."""


def _cell(value: Any, unit_name: str) -> Value:
    return value if isinstance(value, (bool, str)) else quantity(_typical(value), unit_name)


def _typical(value: Any) -> Any:
    return getattr(value, "value", value) if value.__class__.__name__ == "Band" else value


ROUNDED: dict[str, Callable[[float], float]] = {
    "up": lambda value: math.ceil(value - NEAR * max(1.0, abs(value))),
    "down": lambda value: math.floor(value + NEAR * max(1.0, abs(value))),
    "off": round,
}


def check(step: Step, view: View) -> str:
    """`evaluated`, `blank` where one of its quantities is, or `prose`; Untrue when the two sides differ."""
    if step.prose:
        return "prose"
    try:
        statements = parsed(step.equation)
        run = _Run(step, view)
        names = set(re.findall(r"\{(\w+)\}", step.equation)) - set(step.values)
        if any(view.results.get(name, view.given.get(name, 0.0)) is None for name in names):
            return "blank"
        if any(isinstance(part, Part) and part.value is None for part in step.values.values()):
            names_used = set(re.findall(r"\{(\w+)\}", step.equation))
            if any(isinstance(part := step.values.get(name), Part) and part.value is None for name in names_used):
                return "blank"
        for left, node, rounding in statements:
            for place, name in enumerate(left):
                run.side = "−" if place == 0 else "+"
                if node[0] != "each":
                    _hold(step, run, name, node, rounding)
                    continue
                for _ in run.rows_where(node[1], node[3]):
                    _hold(step, run, name, node[2], rounding)
    except NotEvaluated:
        return "words"
    return "evaluated"


def _hold(step: Step, run: _Run, name: str, node: Node, rounding: str) -> None:
    """One statement: Untrue when the right side is not the left one."""
    claimed = run.named(name) if name else run.work(node[1])
    worked = run.work(node if name else node[2])
    if not isinstance(claimed, Quantity) or not isinstance(worked, Quantity):
        if isinstance(claimed, Quantity) or isinstance(worked, Quantity) or claimed != worked:
            raise Untrue(f"{step.title}: {name} is {claimed}, and what is written gives {worked}")
        return
    if rounding:
        whole = DAY if run.dated(name) else 1.0
        worked = Quantity(ROUNDED[rounding](worked.value / whole) * whole, worked.dimension, worked.size)
    if claimed.dimension != worked.dimension and not (claimed.value == worked.value == 0.0):
        raise Untrue(f"{step.title}: {name} is another kind of quantity than what is written")
    if abs(claimed.value - worked.value) > NEAR * max(claimed.size, worked.size):
        raise Untrue(f"{step.title}: {name} is {claimed.value:.9g}, and what is written gives {worked.value:.9g}")
    run.that = claimed


def state(step: Step, view: View) -> str:
    """As check, for the page, which shows a mark where a step was evaluated: `false` for a step that is untrue, `long`
    for one over more rows than can be gone through while a reader moves a figure.
    """
    if sum(len(part.rows) for part in step.values.values() if isinstance(part, RowsPart)) > MOST_ROWS:
        return "long"
    try:
        return check(step, view)
    except Untrue:
        return "false"


__all__ = ["CurvePart", "NotEvaluated", "Part", "RowsPart", "Untrue", "check", "parsed", "quantity", "state"]
