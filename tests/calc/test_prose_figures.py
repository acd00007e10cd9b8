"""Figures that chapters say in prose are those of calc/facts, or follow from its formulas.

Limits of rules and bands of moisture are read by people who never open a calculator; one digit put wrong there is told
here.
"""

from pathlib import Path

import pytest

from calc.climate import misting
from calc.climate.psychrometrics import pressure, wet_bulb
from calc.facts import biology, breeding, climate, feed, garden, harvest, lane, moisture
from calc.feed.heat import days_to_kill
from calc.feed.mix import carbon_from_ash
from calc.moisture.adjust import water_to_add
from calc.moisture.samples import dry_basis

DOCS = Path(__file__).parents[2] / "docs"
POUND, FOOT, INCH, YARD3 = 0.45359237, 0.3048, 0.0254, 0.764554857984


def text(page):
    return " ".join((DOCS / f"{page}.md").read_text(encoding="utf-8").replace("\u00a0", " ").split())


def percent(*shares):
    return tuple(round(100 * share) for share in shares)


def fahrenheit(celsius):
    return round(celsius * 1.8 + 32)


HOT, ORGANIC = feed.HOT.typical, feed.ORGANIC_CARBON_NITROGEN
ENCLOSED, WINDROW, TURNINGS = (
    round(one.typical) for one in (feed.ENCLOSED_DAYS, feed.WINDROW_DAYS, feed.WINDROW_TURNINGS)
)
HOT_SAID = f"{HOT:.0f} °C ({fahrenheit(HOT)} °F)"
WARM_SAID = f"{feed.WARM.typical:.0f} °C ({fahrenheit(feed.WARM.typical)} °F)"
DRY, MOIST = wet_bulb(40, 0.1, pressure(0)), wet_bulb(30, 0.7, pressure(0))
SAID = {
    "moisture/index": [
        "limits of {}–{} %, Edwards & Arancon 2004".format(*percent(moisture.LIMITS.low, moisture.LIMITS.high)),
        "{}–{} % on the back before screening".format(*percent(moisture.FINISHING.low, moisture.FINISHING.high)),
        "| {}–{} % | fastest growth in manure and sludge | Kaplan et al. 1980 |".format(
            *percent(moisture.FACE.low, moisture.FACE.high)
        ),
        "| over {} % | the pores are full".format(*percent(moisture.AIRLESS.typical)),
        f"the same bedding is then “{100 * dry_basis(0.75):.0f} %”".replace("“", '"').replace("”", '"'),
    ],
    "troubles/index": [
        "over {} % is airless".format(*percent(moisture.AIRLESS.typical)),
        "under {} % is outside their limits".format(*percent(moisture.LIMITS.low)),
        f"stocking over {lane.DENSE_STOCKING.typical * FOOT**2 / POUND:.1f} lb/ft² ({lane.DENSE_STOCKING.typical:.0f}",
        f"salt over {100 * feed.SALT_LIMIT.typical:g} % kills",
    ],
    "glossary": [
        "Bedding over about {} % moisture goes airless".format(*percent(moisture.AIRLESS.typical)),
        f"about {biology.STOCKING_FULL.typical * FOOT**2 / POUND:.0f} lb/ft² "
        f"({biology.STOCKING_FULL.typical:.0f} kg/m²)",
    ],
    "feed/hot-phase": [
        f"enclosed or aerated (40 CFR 503) | {HOT_SAID} or more for {ENCLOSED} days |",
        f"turned windrow | {HOT_SAID} or more for {WINDROW} days or longer, at least {TURNINGS} turnings",
        f"C:N {ORGANIC.low} to {ORGANIC.high} at the start;"
        f" {fahrenheit(HOT)} to {fahrenheit(feed.ORGANIC_HIGHEST.typical)} °F"
        f" ({HOT:.0f} to {feed.ORGANIC_HIGHEST.typical:.1f} °C) for {ENCLOSED} days,"
        f" or {WINDROW} days with {TURNINGS}",
        f"(40 CFR 503) | {WARM_SAID} for {feed.WARM_DAYS.typical:.0f} days,"
        f" with {feed.WARM_HOT_HOURS.typical:.0f} hours above {HOT:.0f} °C |",
        f"72 hours in all at {HOT_SAID}",
        f"(NOP 5021, 2011) asks for {HOT_SAID} for {ENCLOSED} days",
        f"at {HOT_SAID} it asks for {24 * days_to_kill(55):.0f} hours,"
        f" at 60 °C (140 °F) for {24 * days_to_kill(60):.1f}",
        f"at 65 °C (149 °F) for {24 * days_to_kill(65):.1f} hours",
        f"three days at 55 °C come to {3 / days_to_kill(55):.2f}",
        f"let it cool below {feed.READY_FOR_WORMS.high:.0f} °C ({fahrenheit(feed.READY_FOR_WORMS.high)} °F)",
        f"a C:N of {feed.CARBON_NITROGEN.low} to {feed.CARBON_NITROGEN.high}",
    ],
    "feed/index": [
        "{} to 60 % ideal, 40 to {} % accepted".format(*percent(feed.HEAP_MOISTURE.low, feed.HEAP_MOISTURE.high)),
        "accepted | {} to {} % |".format(*percent(moisture.FACE.low, moisture.FACE.high)),
        f"best under {100 * round(feed.HEAVY_MIX.typical * YARD3 / POUND / 100):,} lb/yd³"
        f" ({feed.HEAVY_MIX.typical} kg/m³)",
        f"| Soluble salts in feed | {100 * feed.SALT_LIMIT.typical:g} % |",
        f"| Ammonia in feed | {1000 * feed.AMMONIA_LIMIT.typical:g} mg/g; an older figure is"
        f" {1000 * feed.AMMONIA_LIMIT.high:g} mg/g |",
        f"organic rule for manure heaps says {ORGANIC.low} to {ORGANIC.high}",
        f"and call the same handful {100 * dry_basis(0.6):.0f} %",
    ],
    "harvest/screen": [
        "dried to {}–{} %".format(*percent(moisture.FINISHING.low, moisture.FINISHING.high)),
        "Two decks of {} % each".format(*percent(harvest.EFFICIENCY.typical)),
        "passed {} to {} %".format(*percent(harvest.EFFICIENCY.low, harvest.EFFICIENCY.high)),
    ],
    "harvest/dry-down": [
        "under 50 % or even {} % (Rynk 1992".format(*percent(harvest.SCREENING_MOISTURE.low)),
        "Start at {} %".format(*percent(harvest.SCREENING_MOISTURE.high)),
        "Below about {} % (*our own judgement*) castings turn to dust".format(*percent(harvest.DUSTY_BELOW.typical)),
    ],
    "garden/index": [
        f"{100 * garden.POT_SHARE.low:.0f} or {100 * garden.POT_SHARE.high:.0f} % was enough (Atiyeh",
        "grew tallest at {} and {} %".format(*percent(garden.BARK_SHARE.low, garden.BARK_SHARE.high)),
    ],
    "climate/mist": [
        f"Less than {misting.WORTH_COOLING:.0f} °C (7 °F) to gain?",
        f"104 °F at 10 % humidity (40 °C) could fall to {fahrenheit(DRY)} °F ({DRY:.1f} °C)",
        f"86 °F at 70 % (30 °C) stops at {fahrenheit(MOIST)} °F",
        "Nozzles in a breeze reach {} to {} %".format(
            *percent(climate.MISTING_EFFECTIVENESS.low, climate.MISTING_EFFECTIVENESS.typical)
        ),
    ],
    "lane/output": [
        "perhaps {} % passes the fine screen".format(*percent(lane.PRODUCT_SHARE.typical)),
    ],
    "lane/feeding": [
        f"{lane.SAFE_INTERVAL.low} to {lane.SAFE_INTERVAL.high} days apart",
        f"warns over {lane.LAYER_HEATS.typical / INCH:.0f} in (7.5 cm)",
    ],
    "lane/starter": [
        f"most worm growth at {biology.RATION_DENSITY.typical:g} kg/m² (0.33 lb/ft²",
        "feed shrinks by {} to {} %".format(*percent(1 - biology.VOLUME_KEPT.high, 1 - biology.VOLUME_KEPT.low)),
        "from half their own weight to all of it in a day",
    ],
    "breeding/trays": [
        f"¾ lb ({breeding.BREEDERS_MASS.typical:.2f} kg)"
        f" × {breeding.BREEDERS_PER_MASS.typical * POUND:.0f} to the pound",
        f"× {breeding.TRAY_COCOONS.typical:.0f} a week × {breeding.BREEDING_DAYS.typical / 7:.0f} weeks",
        f"÷ {breeding.SALE_PER_MASS.typical * POUND:,.0f} to the pound",
        f"{breeding.TRAY_INCUBATION.typical} days to hatch and {breeding.TRAY_GROWING.typical} to grow",
    ],
    "breeding/index": [f"one count, {biology.INCUBATION_DAYS.typical} days at 77 °F (25 °C)"],
    "climate/index": [f"10 lb of feed at 75 % carries {10 * 0.75:.1f} lb"],
}


@pytest.mark.parametrize("page", SAID)
def test_a_chapter_says_the_figures_of_the_code(page):
    written = text(page)
    assert [words for words in SAID[page] if words not in written] == []


def test_a_third_more_water_and_more_than_twice_as_much():
    """“From 75 to 80 % is a third more water, not a twentieth. From 80 to 90 % the water more than doubles.”"""
    assert "From 75 to 80 % is a third more water" in text("moisture/index")
    assert 0.75 * 1 + water_to_add(1, 0.75, 0.80) == pytest.approx(0.75 * 4 / 3)
    assert 2 < (0.80 + water_to_add(1, 0.80, 0.90)) / 0.80 < 2.5


def test_two_decks_leave_a_good_quarter_of_the_fines():
    assert "leave a good quarter of the fines" in text("harvest/screen")
    assert 0.25 < 1 - harvest.EFFICIENCY.typical**2 < 0.30


def test_ration_is_half_to_all_of_their_weight():
    assert (biology.RATION.low, biology.RATION.high) == (0.5, 1.0)


def test_carbon_is_ash_free_dry_matter_over_1_8():
    assert carbon_from_ash(0.1) == pytest.approx(0.5)


def test_one_limit_of_heat_stands_in_all_chapters():
    """What lanes, bins and climate take for the warm end and the cold end of a bed is one temperature."""
    assert climate.BAND_HIGH.typical == biology.BAND_HIGH.typical
    assert climate.BAND_LOW.typical == biology.BAND_LOW.typical
    assert climate.LETHAL_HIGH.typical == biology.LETHAL_TEMPERATURE.typical
    assert moisture.FACE.high <= feed.BED_MOISTURE.high
    assert harvest.CUT_MOISTURE is lane.CASTINGS_MOISTURE and harvest.THROUGHPUT is lane.SCREENED_PER_HOUR
