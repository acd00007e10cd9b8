"""What a logbook teaches, reading by reading: each figure reckoned by hand from the rows above it."""

from datetime import date, timedelta
from importlib import import_module

import pytest

from calc.climate.season import drying, season
from calc.facts import breeding
from calc.facts import lane as lane_facts
from calc.farm.log import Book, Entry
from calc.lane.model import LanePlan

chart, learn, record = (import_module(f"calc.records.{name}") for name in ("chart", "learn", "lane"))
FIRST = date(2027, 3, 1)
END = {"name": "A", "fed_on": "end", "length": 4.0, "width": 1.2, "height": 0.5, "started": date(2022, 1, 1)}
SIDE = {**END, "name": "B", "fed_on": "side"}
ROOM = {"name": "R", "trays_per_week": 3.0}


def book(*rows):
    """Rows of (day, place, what, amount, note) in order of days."""
    made = [
        Entry(FIRST + timedelta(days=day), place, what, amount, None, None, note, "", number)
        for number, (day, place, what, amount, note) in enumerate(sorted(rows, key=lambda row: row[0]))
    ]
    return Book(entries=made)


FED = [(day, "A", "feed", amount, "") for day, amount in ((-1, 5.0), (0, 10.0), (6, 20.0), (13, 30.0), (14, 90.0))]


def test_volume_kept():
    """Half a metre in a fortnight on 60 kg; a week is too short to measure by; a face that stands says nothing."""
    faces = [(day, "A", "face", foot, "") for day, foot in ((0, 1.0), (7, 1.2), (14, 1.5), (30, 1.5), (45, 1.9))]
    later = [(31, "A", "feed", 40.0, ""), (44, "A", "feed", 24.0, ""), (45, "A", "feed", 7.0, "")]
    found = learn.kept_readings(book(*FED, *faces, *later), [END])
    assert found == pytest.approx([0.6 * 0.5 * learn.FEED_BULK_DENSITY / 60, 0.6 * 0.4 * learn.FEED_BULK_DENSITY / 64])
    side = [
        (day, "B", what, amount, "") for day, what, amount in ((0, "face", 0.0), (0, "feed", 50.0), (14, "face", 0.1))
    ]
    assert learn.kept_readings(book(*side), [SIDE]) == pytest.approx([2.0 * 0.1 * learn.FEED_BULK_DENSITY / 50])
    assert learn.kept_readings(book(*faces), [END]) == []


def test_dry_matter_kept():
    """40 kg sliced on day 10 of the 30 laid since day 0; a slice without feed before it says nothing."""
    slices = [(day, "A", "castings", amount, "") for day, amount in ((0, 35.0), (10, 40.0), (12, 0.0), (13, 50.0))]
    usual = LanePlan()
    dry = (1 - usual.castings_moisture) / (1 - usual.feed_moisture)
    assert learn.dry_matter_readings(book(*FED, *slices), [END]) == pytest.approx([40 * dry / 30])
    young = {**END, "started": FIRST}
    assert learn.dry_matter_readings(book(*FED, *slices), [young]) == []


def test_hours_of_work():
    hours = [
        (0, "A", "hours", 1.5, "Feeding, hose"),
        (1, "A", "hours", 2.0, "sliced the back"),
        (1, "A", "castings", 60.0, ""),
        (2, "A", "hours", 2.0, "slicing"),  # nothing was weighed that day
        (3, "nowhere", "hours", 1.0, "feed"),
        (4, "", "hours", 3.0, "Screening"),
        (4, "", "screened", 300.0, ""),
        (5, "", "hours", 3.0, "screen mended"),
        (6, "R", "hours", 0.9, "sorted the trays"),
        (6, "A", "hours", 0.9, "sorted stones"),
        (6, "R", "hours", None, "sort"),
    ]
    rows, foot = book(*hours), 0.3048
    setup = lane_facts.SETUP_HOURS.typical
    assert learn.feeding_hours_readings(rows, [END]) == pytest.approx([(1.5 - setup) / (4.0 / (8 * foot))])
    assert learn.slicing_hours_readings(rows, [END]) == pytest.approx([2.0 * foot * 0.6 * learn.SLICED_DENSITY / 60])
    assert learn.screening_readings(rows) == pytest.approx([100.0])
    assert learn.sorting_readings(rows, [ROOM]) == pytest.approx([60 * 0.9 / 3])


def test_share_that_passes_the_screen():
    """Both slices before the first screening count for it, and none of them for the second."""
    rows = [(0, "A", "castings", 30.0, ""), (1, "A", "castings", 20.0, ""), (3, "", "screened", 18.0, ""),
            (4, "", "screened", 5.0, ""), (5, "A", "castings", 40.0, ""), (6, "", "screened", 16.0, "")]  # fmt: skip
    usual = LanePlan().shares
    dried = (1 - usual.castings_moisture) / (1 - usual.screening_moisture)
    assert learn.screened_readings(book(*rows)) == pytest.approx([18 / (50 * dried), 16 / (40 * dried)])


def test_water():
    rows = [(day, "A", "water", amount, "") for day, amount in ((0, 10.0), (3, 20.0), (7, 5.0), (10, 40.0), (14, 3.0))]
    # 30 L in the seven days before the third row, 45 in those before the last; all days are as dry as one of 20 °C
    even = season("mild", (20.0,) * 12)
    assert learn.water_readings(book(*rows), [END], even) == pytest.approx([30 / 7 / 4.8, 45 / 7 / 4.8])

    # what the model of a lane gives in its season is read back as the figure that the model was told
    mild = season("mild", None)
    told = [
        (day, "A", "water", 4.8 * 1.7 * sum(drying(mild.air(59 + at + 1)) for at in range(day, day + 7)), "")
        for day in range(0, 180, 7)
    ]
    assert learn.water_readings(book(*told), [END], mild) == pytest.approx([1.7] * 25, rel=1e-6)
    frozen = season("mild", (-4.0,) * 12)
    assert learn.water_readings(book(*told), [END], frozen) == []


def test_cocoons_and_worms():
    per_gram = breeding.BREEDERS_MASS.typical * breeding.BREEDERS_PER_MASS.typical
    counted = [(0, "R", "cocoons", 120.0, ""), (1, "R", "cocoons", None, "")]
    weeks = breeding.BREEDING_DAYS.typical / 7
    assert learn.cocoon_readings(book(*counted)) == pytest.approx([120 / per_gram / weeks])
    sold = [(0, "R", "worms", 2.0, ""), (14, "R", "worms", 1.0, "")]
    young = per_gram * 2.5 * weeks * breeding.TRAY_HATCH.typical * breeding.TRAY_HATCHLINGS.typical
    found = learn.survival_readings(book(*sold), [ROOM], 2.5)
    assert found == pytest.approx([2.0 * breeding.SALE_PER_MASS.typical / (3 * 2 * young)])


def test_windows_and_warmth():
    """A window ends with the first row a week or more after its first; what that row brings is of the next."""
    rows = book(
        *((day, "A", "feed", amount, "") for day, amount in ((0, 1.0), (6, 2.0), (7, 4.0), (13, 8.0), (20, 16.0)))
    )
    first = FIRST.toordinal()
    assert learn.windows(rows.entries) == [(first + 3.5, 7.0, 3.0), (first + 13.5, 13.0, 12.0)]
    warm = book((0, "A", "temperature", 18.0, ""), (10, "A", "temperature", 24.0, "")).entries
    assert [learn.warmth(warm, first + day, 20.0) for day in (-15, -14, 4, 6, 24, 25)] == [20, 18, 18, 24, 24, 20]
    assert learn.herd_mass(50.0, 0.02, 100.0, 40.0) == 50.0
    assert learn.herd_mass(10.0, 0.02, -5.0, 40.0) == 10.0


PRODUCTS = [{"name": "bag", "most_per_month": None}, {"name": "yard", "most_per_month": 4.0}]


def test_sales():
    """Twelve bags in 61 days, eight of them paid by the sum; what was given away has no price."""
    sold = [
        Entry(FIRST, "", "sold", 8.0, 0, 128.0, "", "", 1),
        Entry(FIRST + timedelta(days=30), "", "sold", 4.0, 0, None, "", "", 2),
        Entry(FIRST + timedelta(days=60), "", "sold", None, 0, None, "", "", 3),
        Entry(FIRST + timedelta(days=60), "", "sold", 1.0, None, None, "", "", 4),
    ]
    ((name, each, band, price, sales),) = learn.demand(Book(entries=sold), PRODUCTS)
    assert (name, price, sales) == ("bag", 16.0, 2)
    months = 61 / learn.DAYS_A_MONTH
    assert each == pytest.approx(12 / months)
    assert band.value == pytest.approx(12 / months, rel=0.1) and band.low < 12 / months < band.high
    # thirty typed count as one month beside the two of the logbook: what was sold is told as it was
    ((_, each, band, *_),) = learn.demand(Book(entries=sold), [{"name": "bag", "most_per_month": 30.0}])
    assert each == pytest.approx(12 / months) and band.value == pytest.approx((30 + 12) / (1 + months), rel=0.05)
    # a week's sales are not stretched to a month
    ((_, each, *_),) = learn.demand(Book(entries=sold[:1]), PRODUCTS)
    assert each == 8.0


# ---- the charts


RUNS = [
    # by a hair beyond a limit and by a hair within it: (values about a centre of 0 with sigma 1, rules met at the end)
    ([0, 3.001], {1}),
    ([0, 3.0], set()),
    ([0, 2.001, 2.001], {2}),
    ([0, 2.0, 2.001], set()),
    ([2.001, 0, 2.001], {2}),
    ([2.001, 0, 0, 2.001], set()),
    ([1.001, 1.001, 0, 1.001, 1.001], {3}),
    ([1.001, 1.0, 0, 1.001, 1.001], set()),
    ([1.001, 1.001, 0, 0, 1.001, 1.001], set()),
    ([0.1] * 8, {4}),
    ([0.1] * 7, set()),
    ([0.1] * 4 + [0.0] + [0.1] * 7, set()),
    ([-0.1] * 8, {4}),
    ([2.001, -2.001], set()),
]


@pytest.mark.parametrize(("values", "rules"), RUNS)
def test_rules_at_their_limits(values, rules):
    last = len(values) - 1
    assert {rule for place, rule, _ in chart.run_rules(values, 0.0, 1.0) if place == last} == rules


def test_hours_outside_piece_by_piece():
    """Half a day within, a quarter below, and a stretch that only touches the limit."""
    points = [(0.0, 20.0), (1.0, 40.0), (2.0, 30.0), (2.5, 30.0), (3.0, 4.0), (3.5, -4.0), (13.0, 20.0)]
    total, known = record.hours_outside(points, 4.0, 30.0, longest_gap=2.0)
    assert known == pytest.approx(3.5 * 24)
    assert total == pytest.approx(12 + 24 + 12)
