"""Each calculator's whole answer as text, held against the one that was looked through last.

`answers/<calculator>.txt` has the answers of its defaults in both units, and of each plan in `answers/plans.yml` in one
of them, rounded as the page shows them. Whoever changes a sentence, a coefficient or a formula writes them anew and
reads the difference:

    scripts/test tests/calc/test_answers.py --write-answers
"""

import re
from datetime import date
from pathlib import Path

import pytest
import yaml

from calc.engine.describe import Drawing, typical
from calc.engine.quantity import number_text
from calc.engine.register import every
from calc.engine.run import answer
from calc.engine.view import View, worked
from calc.engine.working import check
from calc.page.answer import cell_writer, column_head

FOLDER = Path(__file__).with_name("answers")
PLANS = yaml.safe_load((FOLDER / "plans.yml").read_text(encoding="utf-8"))
"""{calculator: list of plans, each {input: text}}: found by what of the code they run through, kept as they are."""
ASKED = [(id, place) for id in every() for place in range(1 + len(PLANS.get(id, ())))]
MOST_POINTS, MOST_ROWS = 16, 24
"""Points of a line, and rows of a table, that are written down: of a longer one so many, evenly spread. The mean of a
line is of all its points.
"""


def plan(id, place):
    return PLANS[id][place - 1] if place else {}


def text(id, place):
    """An answer, the defaults in both units and other plans in turns."""
    given = plan(id, place)
    asked = "; ".join(f"{name} = {value}" for name, value in given.items()) or "its defaults"
    parts = [f"==== {asked}"]
    for units in ("us", "metric")[place % 2 : 2 if place % 2 or not place else 1]:
        view = answer(id, given, units)
        parts += [f"---- {units}", *results(view), *sentences(view), *workings(view, not place), *tables(view)]
    # what is drawn has one size, whatever the units
    parts += ["---- drawn, in SI", *figures(view), *others(view)]
    return re.sub(r"[ \u00a0]+$", "", "\n".join(parts), flags=re.MULTILINE) + "\n"


def results(view):
    yield from (f"{output.label}: {view[name]}" for name, output in view.entry.outputs.items())


def sentences(view):
    yield from (f"warning, {name or 'all'}: {said}" for name, said in view.shown.warnings)
    yield from (f"reading: {said}" for said in view.shown.reading)
    yield from (f"caution: {said}" for said in view.shown.cautions)
    yield from (f"finding: {figure.finding}" for figure in view.shown.figures)


def workings(view, in_words):
    for step in view.shown.working:
        words, numbers = worked(step, view)
        yield f"step, {check(step, view)}: {step.title} [{step.source}] {step.note}"
        yield from (f"    {said}" for said in [words, numbers][not in_words :])


def tables(view: View):
    for table in view.shown.tables:
        yield f"table {table.name}{' (first)' * table.first}: {table.title} ({len(table.rows)} rows) {table.note}"
        yield "    " + " | ".join(column_head(column, view) for column in table.columns)
        writers = [cell_writer(column, view) for column in table.columns]
        for row in spread(table.rows, MOST_ROWS):
            yield "    " + " | ".join(write(cell) for write, cell in zip(writers, row, strict=True))
        if any(table.acts):
            yield f"    {spread([vars(act) for act in table.acts if act], 6)}"


def spread(items, most):
    """So many of them, evenly spread, with the first and the last."""
    last = len(items) - 1
    return items if last < most else [items[round(place * last / (most - 1))] for place in range(most)]


def figures(view):
    for figure in view.shown.figures:
        if isinstance(figure, Drawing):
            yield f"drawing {figure.name}: {figure.title}; {figure.text}"
            yield f"    {figure.keys} {figure.plays}"
            yield from (f"    {measured(svg)}" for svg in (figure.svg, figure.still))
            continue
        yield f"figure {figure.name}: {figure.title}; numbers in {figure.numbers_in or 'its own table'}"
        yield from (f"    {side}: {axis(one)}" for side, one in (("x", figure.x), ("y", figure.y)))
        for mark in figure.marks:
            yield f"    {mark.kind} {mark.label} ({mark.tone}{', dashed' * mark.dashed}), {len(mark.points)} points"
            yield f"        {'; '.join(point(one) for one in spread(mark.points, MOST_POINTS))}{means(mark.points)}"
        for handle in figure.handles:
            places = (handle.low, handle.high), handle.at, handle.ends or ()
            yield f"    handle {handle.input} {handle.axis} {handle.words}: {'; '.join(map(point, places))}"


def axis(one):
    ends = point((one.low, one.high))
    return f"{one.label}, {one.unit} {one.us or ''} {one.metric or ''} {one.kind}, {ends}, {point(one.ticks or ())}"


def number(value):
    value = typical(value)
    if isinstance(value, bool) or not isinstance(value, (int, float)):
        return value.isoformat() if isinstance(value, date) else str(value)
    # what is nothing but the last bits of a difference is nothing
    return number_text(value, 4) if abs(value) > 1e-9 else "0"


def point(values):
    return ", ".join(number(value) for value in values)


def means(points):
    """The mean of each place of many points: one that is not written down moves it."""
    if len(points) <= MOST_POINTS:
        return ""
    columns = [[value for value in map(typical, column) if isinstance(value, float)] for column in zip(*points)]
    return f"; mean {point(sum(column) / len(column) for column in columns if column)}"


def measured(svg):
    """What stands in a drawing: its words, how many numbers, their mean, and their mean weighed by place."""
    words = " · ".join(filter(None, (part.strip() for part in re.sub(r"<[^>]*>", "\n", svg).split("\n"))))
    numbers = [float(one) for one in re.findall(r"-?\d+(?:\.\d+)?", re.sub(r">[^<]*<", "><", svg))]
    weighed = [(1 + place % 17) * one for place, one in enumerate(numbers)]
    total = [number_text(sum(them) / max(1, len(them)), 7) for them in (numbers, weighed)]
    return f"{len(numbers)} numbers, means {' and '.join(total)}: {words}"


def others(view):
    for event in spread(view.shown.events, MOST_ROWS):
        yield f"event {event.day.isoformat()} {event.days} {event.key}: {event.summary}; {event.description}"
    yield from (f"act {vars(act)}" for act in view.shown.acts)


def whole(id):
    return "\n".join(text(id, place) for place in range(1 + len(PLANS.get(id, ()))))


@pytest.fixture(scope="session", autouse=True)
def written(pytestconfig):
    """Writes all of them first where that is asked for."""
    if pytestconfig.getoption("write_answers"):
        for old in FOLDER.glob("*.txt"):
            old.unlink()
        for id in every():
            (FOLDER / f"{id}.txt").write_text(whole(id), encoding="utf-8")


@pytest.mark.parametrize(("id", "place"), ASKED, ids=[f"{id}-{place}" for id, place in ASKED])
def test_the_whole_answer(id, place):
    path = FOLDER / f"{id}.txt"
    assert path.exists(), "write it: scripts/test tests/calc/test_answers.py --write-answers"
    kept = re.split(r"(?m)^(?===== )", path.read_text(encoding="utf-8"))[1:]
    now, then = text(id, place).splitlines(), kept[place].rstrip("\n").splitlines()
    differing = [(was, is_) for was, is_ in zip(then, now) if was != is_]
    assert (differing[:5], len(now)) == ([], len(then)), "if it is meant: --write-answers, and read the difference"


def test_no_answer_is_left_of_a_calculator_that_is_gone():
    assert {path.stem for path in FOLDER.glob("*.txt")} == set(every())
    assert set(PLANS) <= set(every())
