"""Ranges hold the truth as often as they say: a world whose true coefficients are known, drawn five hundred times.

Every coefficient of the lane that is in doubt is drawn by itself, with its published low and high as the 10th and the
90th of a hundred, which is how the page on one's own records reads them too. The model then gives the true answer, and
the range that the page shows at the usual figures has to hold it in 75 to 85 of 100, within two standard errors of so
many worlds.
"""

from contextlib import contextmanager
from dataclasses import replace
from functools import cache
from math import exp, log
from random import Random

import pytest

from calc.climate.season import season
from calc.engine.run import answer
from calc.facts import biology, climate, garden, harvest
from calc.facts import lane as facts
from calc.facts.base import Range
from calc.lane import model, questions, stages
from calc.records.bayes import EIGHT_IN_TEN

SEEDS = 500
ERROR = 3.6  # two standard errors [of 100]
TYPICAL = model.TYPICAL
PLAN = model.LanePlan(bed_temperature=None, season=season("mild", None))
PLANNED = {
    "ration": biology.RATION,
    "volume_kept": biology.VOLUME_KEPT,
    "dry_matter_kept": biology.DRY_MATTER_KEPT,
    "capacity": biology.CAPACITY,
    "gap": facts.GAP,
}
OF_THE_HERD = ("BED_COCOONS_PER_DAY", "JUVENILE_SURVIVAL", "COLD_Q10")
MOST = {"volume_kept": 0.95, "dry_matter_kept": 0.95, "JUVENILE_SURVIVAL": 0.95}


def drawn(chance, fact, most=float("inf")):
    """A true value: low and high are the 10th and the 90th of a hundred, typical the middle, on the log scale."""
    step = chance.gauss(0, 1) / EIGHT_IN_TEN
    width = log(fact.high / fact.typical) if step > 0 else log(fact.typical / fact.low)
    return min(most, fact.typical * exp(step * width))


@contextmanager
def world(seed):
    """A plan with true coefficients; what belongs to the herd itself is put in the place of the published figures."""
    chance = Random(seed)
    plan = replace(PLAN, **{name: drawn(chance, fact, MOST.get(name, 1e9)) for name, fact in PLANNED.items()})
    before = {name: getattr(biology, name) for name in OF_THE_HERD}
    for name, fact in before.items():
        true = drawn(chance, fact, MOST.get(name, 1e9))
        setattr(biology, name, Range(fact.label, true, true, true, fact.unit, sure="derived"))
    forget()
    try:
        yield replace(plan, dry_matter_kept=max(plan.dry_matter_kept, plan.feed_ash + 0.02))
    finally:
        for name, fact in before.items():
            setattr(biology, name, fact)
        forget()


def forget():
    for kept in (stages.rates_near, model.activity_near, model._followed):
        kept.cache_clear()


def full(plan):
    return lambda days: questions.day_of_weight(days, lambda day: plan.full_stocking * day.active_area)


def truth(plan):
    days = model.follow(plan, questions.HORIZON)
    never = float(questions.HORIZON)
    first, made, herd = model.first_slice_day(days), model.first_castings_day(days), full(plan)(days)
    return {
        "first slice": never if first is None else first,
        "first castings made of feed": never if made is None else made,
        "full bed": never if herd is None else herd,
        "herd after a year": days[365].worms,
        "feed at the start": questions.feed_at_start(plan, 15.0).value,
    }


SHOWN = {
    "first slice": questions.first_slice(PLAN),
    "first castings made of feed": questions.first_castings(PLAN),
    "full bed": questions.full_bed(PLAN),
    "herd after a year": questions.mass_after_year(PLAN),
    "feed at the start": questions.feed_at_start(PLAN, 15.0),
}


@cache
def held():
    """How many of a hundred worlds each range holds."""
    counts = dict.fromkeys(SHOWN, 0)
    for seed in range(SEEDS):
        with world(seed) as plan:
            for name, value in truth(plan).items():
                counts[name] += SHOWN[name].low <= value <= SHOWN[name].high
    return {name: 100 * count / SEEDS for name, count in counts.items()}


@pytest.mark.parametrize("name", SHOWN)
def test_a_range_holds_the_truth_in_eight_of_ten_worlds(name):
    assert 75 - ERROR <= held()[name] <= 85 + ERROR, held()


def test_castings_come_when_growers_say_without_being_set_to_it():
    """Growers report 4 to 9 months to the first harvest; no figure of the lane was chosen by it."""
    months = SHOWN["first castings made of feed"].value / 30.44, SHOWN["first slice"].value / 30.44
    assert min(months) <= 9
    assert max(months) >= 4


def test_ranges_of_the_output_page():
    """The same for a weekly output: fewer worlds, as each follows a lane for two years."""
    shown = answer("lane.output", {}).answer
    counts = {"lane_length": 0, "feed_mass_per_week": 0}
    seeds = 120
    for seed in range(seeds):
        with world(seed) as plan:
            given = {name: getattr(plan, name) for name in ("ration", "volume_kept", "dry_matter_kept")}
            given["capacity"] = min(40.0, plan.capacity)
            found = answer("lane.output", given).answer
        for name in counts:
            band = getattr(shown, name)
            counts[name] += band.low <= getattr(found, name).value <= band.high
    # of 120 worlds, eight in ten within two standard errors
    assert all(0.72 <= count / seeds <= 0.88 for count in counts.values()), counts


def drawn_ratio(chance, fact, most=float("inf")):
    """A true value against the typical one."""
    return drawn(chance, fact, most) / fact.typical


def hours_of_drying(chance):
    return 1 / (drawn_ratio(chance, harvest.DRYING_SLOWED, 1.0) * drawn_ratio(chance, climate.STILL_AIR_FACTOR))


def castings_of_a_kitchen(chance):
    return drawn_ratio(chance, biology.VOLUME_KEPT, 0.95) / drawn_ratio(chance, garden.SCRAPS_DENSITY)


def worms_of_a_kitchen(chance):
    return drawn_ratio(chance, garden.WORMS_PER_FEED)


@pytest.mark.parametrize(
    ("calculator", "name", "true"),
    [
        ("harvest.dry_down", "hours", hours_of_drying),
        ("garden.worms", "castings_per_year", castings_of_a_kitchen),
        ("garden.worms", "worm_mass", worms_of_a_kitchen),
    ],
)
def test_a_range_of_few_coefficients_holds_the_truth_in_eight_of_ten_worlds(calculator, name, true):
    """The reader's own figures are held; each coefficient behind them is drawn by itself."""
    band = getattr(answer(calculator, {}).answer, name)
    worlds = [band.value * true(Random(seed)) for seed in range(SEEDS)]
    share = 100 * sum(band.low <= value <= band.high for value in worlds) / SEEDS
    assert 75 - ERROR <= share <= 85 + ERROR, share
