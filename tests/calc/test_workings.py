"""What the page shows is what was computed: every equation of a working is evaluated, units and all, and held against
its result.
"""

import functools
import re
from collections import Counter
from dataclasses import replace
from random import Random

import pytest

from calc.engine import CurvePart, Part, Refused, RowsPart, Step
from calc.engine import working as workings
from calc.engine.register import every
from calc.engine.run import answer
from calc.engine.view import View
from calc.page import respond
from calc.page.equations import steps_of

ENTRIES = list(every().values())
REACHED = 0.94
"""Share of all steps that are evaluated. It may only become more."""
STILL_IN_WORDS: dict[str, int] = {}
"""{calculator: steps that are neither evaluated nor declared as prose yet}: it may only become shorter."""


@functools.cache
def states_of(id):
    """{(title, equation): state} over all runs that bring out its working."""
    return {(step.title, step.equation): workings.check(step, view) for step, view, _ in steps_of(every()[id])}


@pytest.mark.parametrize("entry", ENTRIES, ids=lambda entry: entry.id)
def test_every_step_is_true_or_declared_as_prose(entry):
    found = Counter(states_of(entry.id).values())
    assert found["words"] <= STILL_IN_WORDS.get(entry.id, 0), [
        where for where, state in states_of(entry.id).items() if state == "words"
    ]


def test_most_steps_are_evaluated():
    found = sum((Counter(states_of(entry.id).values()) for entry in ENTRIES), Counter())
    assert (found["evaluated"] + found["blank"]) / found.total() >= REACHED, found


def drawn(entry, chance):
    """Inputs near the defaults, each number a fifth or so away, lists chosen anew: as a reader could give them."""
    given = {}
    for name, item in entry.inputs.items():
        default = entry.defaults[name]
        if item.movable and default is not None and chance.random() < 0.7:
            low, high = item.plausible() or ((default * 0.7, default * 1.4) if default else (0.0, 0.1 * item.high))
            low, high = max(min(low, high), item.low), min(max(low, high), item.high)
            value = chance.uniform(min(low, high), max(low, high))
            given[name] = round(value) if item.whole else value
        elif item.words_of_choices() and chance.random() < 0.3:
            given[name] = chance.choice(list(item.words_of_choices()))
    return given


@pytest.mark.parametrize("entry", ENTRIES, ids=lambda entry: entry.id)
def test_every_step_is_true_wherever_the_inputs_stand(entry):
    chance, answered = Random(entry.id), 0
    for _ in range(40):
        try:
            view = answer(entry.id, drawn(entry, chance))
        except (Refused, ArithmeticError):
            continue
        answered += 1
        for step in view.shown.working:
            workings.check(step, view)  # raises Untrue, with both sides
    assert answered >= 10


FAR = [
    # a base shorter than the foot of the full face: what is missing to it is walked too
    ("lane.starter", {"lane_length": "1.16 m", "floor_length": "0.5 m", "gap": "4 m"}),
    ("lane.starter", {"lane_width": "3.19 m", "floor_length": "0.5 m", "fed_on": "side", "face_slope": "10 °"}),
    # dry bedding that is one of the amounts of a mix, not laid on top of it
    ("feed.recipe", {"target_moisture": "77.9 %", "target_carbon_nitrogen": 62.4, "dry_bedding": "leaves"}),
    # a face that moves a hair a week, and one that does not move
    ("lane.feeding", {"feed_available_per_week": "0.1 kg/week", "dry_matter_kept": "60 %"}),
    ("lane.feeding", {"worm_mass": "0.05 kg", "feed_available_per_week": "0.1 kg/week", "survival": "1 %"}),
    # a day that evaporates nothing, a layer that lasts for ever, and dates half a day away
    ("climate.water", {"climate": "dry", "wind": "0 m/s", "solar_radiation": "0 MJ/m2/day"}),
    ("climate.water", {"shade": "31.9 %", "shelter": "97.6 %", "low": "-60 C", "latitude": -90}),
    ("lane.year", {"start_date": "2027-08-20", "days_to_first_slice": 1095, "heap_days": 54.8}),
    ("lane.year", {"start_date": "2027-10-26", "worm_mass": "0.05 kg", "heap_days": 27.5}),
    ("lane.feeding", {"base_depth": "2 cm", "water_per_area_per_day": "30 kg/m2 day", "survival": "1 %"}),
]
"""Plans far from the defaults that once showed an untrue working, or none."""


@pytest.mark.parametrize(("id", "given"), FAR, ids=[f"{id}-{place}" for place, (id, _) in enumerate(FAR)])
def test_every_step_is_true_far_from_the_defaults(id, given):
    for units in ("us", "metric"):
        view = answer(id, given, units)
        assert "words" not in {workings.check(step, view) for step in view.shown.working}


CHANGES = (("×", "÷"), ("÷", "×"), ("−", "+"), ("+", "−"), ("√", ""), ("longer", "shorter"), ("larger", "smaller"),
           ("smaller", "larger"), ("<", ">"), ("≥", "<"), ("≤", ">"), ("7 days/week", "8 days/week"), ("∓", "±"),
           ("rounded up", "rounded down"), ("sin", "cos"), ("sum", "mean"), ("mean", "sum"))  # fmt: skip


def planted(step):
    """The same step with one sign, function or number put wrong, each in turn."""
    for right, wrong in CHANGES:
        for match in re.finditer(re.escape(right), step.equation):
            before = step.equation[: match.start()]
            if before.count("{") > before.count("}"):
                continue  # part of a name
            yield replace(step, equation=step.equation[: match.start()] + wrong + step.equation[match.end() :])
    for match in re.finditer(r"(?<![\w{])\d[\d.]*", step.equation):
        changed = f"{float(match[0]) * 1.01 + 0.001:.6g}"
        yield replace(step, equation=step.equation[: match.start()] + changed + step.equation[match.end() :])
    names = re.findall(r"\{\w+\}", step.equation)
    for name in set(names[1:]) - {names[0]}:
        yield replace(step, equation=step.equation.replace(name, f"({name} + {name})"))


def test_wrong_formulas_are_told():
    """Every evaluated step is put wrong in every way above. What is not told stands where both are alike: × 1, + 0."""
    told, missed = 0, []
    for entry in ENTRIES:
        runs = [answer(entry.id)]
        chance = Random(entry.id)
        for _ in range(6):
            try:
                runs.append(answer(entry.id, drawn(entry, chance)))
            except (Refused, ArithmeticError):
                continue
        for step in runs[0].shown.working:
            if workings.check(step, runs[0]) != "evaluated":
                continue
            for wrong in planted(step):
                if any(untrue(wrong, view) for view in runs):
                    told += 1
                else:
                    missed.append(f"{entry.id}: {wrong.equation}")
    assert told > 2000 and len(missed) <= 0.07 * told, (told, len(missed), missed[:40])


def untrue(wrong, run):
    """Whether a wrong step is told in a run that it stands in: as untrue, or as no longer an equation."""
    step = next((step for step in run.shown.working if step.title == wrong.title), None)
    if step is None:
        return False
    try:
        return workings.check(replace(wrong, values=step.values), run) == "words"
    except workings.Untrue:
        return True


# ---- the evaluator by itself


RUN = View(every()["moisture.adjust"], {"mass": 10.0, "area": 3.0, "moisture": 0.5}, answer("moisture.adjust").answer)
PARTS = {
    "two": Part("two", 2.0),
    "length": Part("length", 3.0, "m"),
    "width": Part("width", 4.0, "m"),
    "hypotenuse": Part("hypotenuse", 5.0, "m"),
    "floor": Part("floor", 12.0, "m2"),
    "bags": Part("bags", 4),
    "warm": Part("warm", 25.0, "degC"),
    "cold": Part("cold", 20.0, "degC"),
    "swing": Part("swing", 5.0, "K"),
    "daily": Part("daily", 1.0, "kg/day"),
    "weekly": Part("weekly", 7.0, "kg/week"),
    "yes": Part("yes", True),
    "slope": Part("slope", 30.0, "deg"),
    "half": Part("half", 0.5),
    "rows": RowsPart("rows", {"a": "m", "b": "m"}, [{"a": 1.0, "b": 2.0}, {"a": 3.0, "b": 4.0}]),
    "gappy": RowsPart("gappy", {"c": "m", "tag": "1"}, [{"c": 1.0, "tag": "x"}, {"c": None}, {"c": 5.0, "tag": "y"}]),
    "tag_wanted": Part("tag", "y"),
    "area_of_rows": Part("area", 14.0, "m2"),
    "curve": CurvePart("curve", lambda t: t / 10, ("degC",), "m"),
    "read": Part("read", 2.5, "m"),
    "none": Part("none", None, "m"),
}


def checked(equation, **more):
    return workings.check(Step("A step", equation, values=PARTS | more), RUN)


@pytest.mark.parametrize(
    "equation",
    [
        "{floor} = {length} × {width}",
        "{hypotenuse} = √({length}^2 + {width}^2)",
        "{swing} = {warm} − {cold}",
        "{weekly} = {daily} × 7 days/week",
        "{weekly} = {daily}",
        "{half} = sin {slope}",
        "{two} = exp(ln 2)",
        "{two} = 20.0 × 10⁻¹",
        "{bags} = {floor} ÷ 3.5 m², rounded up",
        "{bags} = the larger of 1, 3 and 4",
        "{two} = the smaller of {bags} and 2",
        "{area_of_rows} = sum over {rows} of {a} × {b}",
        "{read} = {curve} at {warm}",
        "{yes} = {length} ≤ 3 m and not {width} < 3.9 m",
        "{floor} = {length} × {width}; {two} = that ÷ 6 m²",
        "{length} = 300 cm; {length} = 3 m; {warm} = 77 °F",
        "{two} = {length} in m − 1",
        "{length} and {hypotenuse} = {width} ∓ 1 m",
        "{length} = sum over {rows} of {a} where {b} > 2 m",
        "{two} = number of {rows} where {a} ≥ 1 m and {b} < 5 m",
        "{length} = the last {a} of {rows}; {length} = the largest {a} of {rows}; {length} = the middle {c} of {gappy}",
        "{length} = mean over {gappy} of {c}; {two} = number of {gappy} where {c} > 0",
        "{tag_wanted} = the first {tag} of {gappy} where {c} = the largest {c} of {gappy}",
        "{b} = {a} + 1 m, each of {rows}; {b} = 4 m, each of {rows} where {a} = 3 m",
    ],
)
def test_what_is_true(equation):
    assert checked(equation) == "evaluated"


@pytest.mark.parametrize(
    "equation",
    [
        "{floor} = {length} + {width}",  # size
        "{floor} = {length} × 4",  # kind
        "{weekly} = {daily} × 7",
        "{length} = {width} − 1",
        "{half} = sin {length}",
        "{bags} = {floor} ÷ 3.5 m², rounded down",
        "{area_of_rows} = sum over {rows} of {a}",
        "{yes} = {length} > 3 m",
        "{length} = 3.00001 m",
        "{read} = {curve} at {length}",
        "{two} = 2^{length}",
        "{hypotenuse} = √{length}",
        "{length} = sum over {rows} of {a} where {b} < 3 m",
        "{two} = number of {rows} where {a} > 1 m",
        "{length} = the first {a} of {rows}",
        "{length} = the middle {a} of {rows}",
        "{tag_wanted} = the first {tag} of {gappy}",
        "{b} = {a} + 2 m, each of {rows}",
        "{b} = 4 m, each of {rows}",
    ],
)
def test_what_is_untrue(equation):
    with pytest.raises(workings.Untrue):
        checked(equation)


@pytest.mark.parametrize(
    "equation", ["{floor}: length by width", "{floor} = some of it", "that = 3", "", "{floor} = ", "{floor} ="]
)
def test_what_is_said_in_words(equation):
    assert checked(equation) == "words"


def test_blank_and_prose():
    assert checked("{length} = {none} + 1 m") == "blank"
    assert workings.check(Step("A step", "{floor} = anything", prose=True), RUN) == "prose"


def test_the_page_says_which_steps_were_evaluated():
    asked = '{"calculator": "moisture.adjust", "units": "metric", "values": {"moisture": "50 %"}}'
    assert respond("answer", asked).count("Checked in this run: both sides are equal.") == 5
