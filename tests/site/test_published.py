"""Every published value in tests/published is met, within the tolerance that its entry gives a reason for."""

import math
from collections import Counter

import numpy
import numpy_financial
import pandas
import psychrolib
import published
import pvlib
import pyet
import pytest
import scipy.special
import scipy.stats

from calc.engine import register

ENTRIES = list(published.entries())


@pytest.mark.parametrize(("chapter", "entry"), ENTRIES, ids=[entry["id"] for _, entry in ENTRIES])
def test_published_value(chapter, entry):
    check = published.Check(entry, chapter, published.ours(entry))
    assert check.holds, (
        f"{entry['id']}: published {entry['expected']} {entry['unit']}, ours {check.ours}, allowed {check.allowed}"
        f" ({entry['source']})"
    )


def test_ids_are_unique():
    ids = [entry["id"] for _, entry in ENTRIES]
    assert sorted(set(ids)) == sorted(ids)


def test_no_value_is_counted_twice():
    asked = [
        repr({key: float(part) if isinstance(part, int) else part for key, part in entry.get("inputs", {}).items()})
        + repr([entry.get(key) for key in ("call", "run", "output", "expected")])
        for _, entry in ENTRIES
    ]
    assert [entry for entry, many in Counter(asked).items() if many > 1] == []


def test_a_check_can_fail():
    chapter, entry = next((chapter, entry) for chapter, entry in ENTRIES if isinstance(entry["expected"], (int, float)))
    value = published.ours(entry)
    assert not published.Check(
        entry | {"expected": value + 10 * published.Check(entry, chapter, value).allowed + 1e-6}, chapter, value
    ).holds


def test_there_are_enough_of_every_kind():
    counts = Counter(published.kind_of(entry) for _, entry in ENTRIES)
    assert len(ENTRIES) >= 220
    assert all(counts[kind] >= 5 for kind in published.KINDS), counts
    assert set(counts) == set(published.KINDS)


@pytest.mark.parametrize(("chapter", "entry"), ENTRIES, ids=[entry["id"] for _, entry in ENTRIES])
def test_each_names_what_would_break(chapter, entry):
    said = published.breaks(entry)
    assert len(said.split()) >= 2 and not said.endswith("eq")


def test_a_calculator_is_named_with_the_answer_that_was_held():
    """Two values for one state of air are told apart: the wet bulb and the dew point."""
    asked = {published.asked(entry) for _, entry in ENTRIES if "run" in entry}
    assert {"climate.mist: Wet bulb", "climate.mist: Dew point"} <= asked


FROM_LIBRARIES = [entry for _, entry in ENTRIES if "library" in entry]


@pytest.mark.parametrize("entry", FROM_LIBRARIES, ids=[entry["id"] for entry in FROM_LIBRARIES])
def test_the_value_of_a_library_is_what_the_library_gives(entry):
    """Worked out by the library anew: seven digits are kept."""
    psychrolib.SetUnitSystem(psychrolib.SI)
    known = {"math": math, "np": numpy, "psychrolib": psychrolib, "pyet": pyet, "pvlib": pvlib, "scipy": scipy}
    value = eval(entry["library"], {**known, "npf": numpy_financial, "day": day})  # our own file
    assert float(numpy.asarray(value).ravel()[0]) == pytest.approx(entry["expected"], rel=6e-7)


def day(number):
    """A day of 2015 by its number, as pyet wants it."""
    return pandas.DatetimeIndex([pandas.Timestamp("2015-01-01") + pandas.Timedelta(days=number - 1)])


def test_a_farms_own_defaults_change_no_check():
    """What others printed is held against the handbook's own defaults, whatever a farm has set."""
    before = published.table("lane")
    try:
        register.use_edition({id: {"climate": "cold", "worm_mass": "1 lb"} for id in ("lane.starter", "lane.year")})
        assert published.table("lane") == before
        assert "lane.starter" in register.edition()["values"], "the farm's are back afterwards"
    finally:
        register.use_edition()


def test_the_page_says_how_each_value_was_had():
    """Not all that is held against was printed as it stands; the counts beside the table add up to it."""
    made = published.checks("moisture") + published.checks("lane")
    assert {check.entry["sure"] for check in made} <= set(published.WORKED)
    counted = [int(part.split(":")[0]) for part in published.by_sure(made).split("<li>")[1:]]
    assert sum(counted) == len(made) and len(counted) > 3
