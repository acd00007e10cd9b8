"""Figures that chapters say in prose are those of calc/facts, or follow from its formulas.

Limits of rules and bands of moisture are read by people who never open a calculator; one digit put wrong there is told
here.
"""

from pathlib import Path

import pytest

from calc.climate import misting, watering
from calc.climate.drying import SPREAD
from calc.climate.evaporation import LATENT_HEAT
from calc.climate.psychrometrics import pressure, saturation_pressure, wet_bulb
from calc.engine.register import every
from calc.engine.run import answer
from calc.facts import biology, breeding, climate, feed, garden, harvest, lane, moisture
from calc.feed.heat import days_to_kill
from calc.feed.mix import carbon_from_ash
from calc.lane.model import COVERED_BELOW, LanePlan
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
        "{}–{} %, Edwards & Arancon".format(*percent(moisture.LIMITS.low, moisture.LIMITS.high)),
        "{}–{} %".format(*percent(moisture.FINISHING.low, moisture.FINISHING.high)),
        "| {}–{} % |".format(*percent(moisture.FACE.low, moisture.FACE.high)),
        "| over {} % |".format(*percent(moisture.AIRLESS.typical)),
        f"{100 * dry_basis(0.75):.0f} %",
    ],
    "troubles/index": [
        "over {} %".format(*percent(moisture.AIRLESS.typical)),
        "under {} %".format(*percent(moisture.LIMITS.low)),
        f"{lane.DENSE_STOCKING.typical * FOOT**2 / POUND:.1f} lb/ft² ({lane.DENSE_STOCKING.typical:.0f}",
        f"{100 * feed.SALT_LIMIT.typical:g} %",
    ],
    "glossary": [
        "over about {} %".format(*percent(moisture.AIRLESS.typical)),
        f"{biology.STOCKING_FULL.typical * FOOT**2 / POUND:.0f} lb/ft² ({biology.STOCKING_FULL.typical:.0f} kg/m²)",
    ],
    "feed/hot-phase": [
        f"{HOT_SAID} or more for {ENCLOSED} days",
        f"{HOT_SAID} or more for {WINDROW} days",
        f"at least {TURNINGS} turnings",
        f"C:N {ORGANIC.low} to {ORGANIC.high}",
        f"{fahrenheit(HOT)} to {fahrenheit(feed.ORGANIC_HIGHEST.typical)} °F"
        f" ({HOT:.0f} to {feed.ORGANIC_HIGHEST.typical:.1f} °C)",
        f"{WINDROW} days with {TURNINGS}",
        f"{WARM_SAID} for {feed.WARM_DAYS.typical:.0f} days",
        f"{feed.WARM_HOT_HOURS.typical:.0f} hours above {HOT:.0f} °C",
        f"{24 * days_to_kill(55):.0f} hours",
        f"{24 * days_to_kill(60):.1f} hours",
        f"{24 * days_to_kill(65):.1f} hours",
        f"{3 / days_to_kill(55):.2f}",
        f"{feed.READY_FOR_WORMS.high:.0f} °C ({fahrenheit(feed.READY_FOR_WORMS.high)} °F)",
    ],
    "feed/index": [
        "{} to 60 %".format(*percent(feed.HEAP_MOISTURE.low)),
        "40 to {} %".format(*percent(feed.HEAP_MOISTURE.high)),
        "{} to {} %".format(*percent(moisture.FACE.low, moisture.FACE.high)),
        f"{100 * round(feed.HEAVY_MIX.typical * YARD3 / POUND / 100):,} lb/yd³ ({feed.HEAVY_MIX.typical} kg/m³)",
        f"| {100 * feed.SALT_LIMIT.typical:g} % |",
        f"| {1000 * feed.AMMONIA_LIMIT.typical:g} mg/g",
        f"{1000 * feed.AMMONIA_LIMIT.high:g} mg/g",
        f"{100 * dry_basis(0.6):.0f} %",
    ],
    "harvest/screen": [
        "{}–{} %".format(*percent(moisture.FINISHING.low, moisture.FINISHING.high)),
        "{} % each".format(*percent(harvest.EFFICIENCY.typical)),
        "{} to {} %".format(*percent(harvest.EFFICIENCY.low, harvest.EFFICIENCY.high)),
    ],
    "harvest/dry-down": [
        "{} % (Rynk 1992".format(*percent(harvest.SCREENING_MOISTURE.low)),
        "{} %".format(*percent(harvest.SCREENING_MOISTURE.high)),
        "about {} %".format(*percent(harvest.DUSTY_BELOW.typical)),
    ],
    "garden/index": [
        f"{100 * garden.POT_SHARE.low:.0f} or {100 * garden.POT_SHARE.high:.0f} %",
        "{} and {} %".format(*percent(garden.BARK_SHARE.low, garden.BARK_SHARE.high)),
    ],
    "climate/mist": [
        f"than {misting.WORTH_COOLING:.0f} °C (7 °F)",
        f"{fahrenheit(DRY)} °F",
        f"{DRY:.1f} °C",
        f"{fahrenheit(MOIST)} °F",
        "{} to {} %".format(*percent(climate.MISTING_EFFECTIVENESS.low, climate.MISTING_EFFECTIVENESS.typical)),
    ],
    "lane/output": ["{} %".format(*percent(lane.PRODUCT_SHARE.typical))],
    "lane/feeding": [
        f"{lane.SAFE_INTERVAL.low} to {lane.SAFE_INTERVAL.high} days",
        f"{lane.LAYER_HEATS.typical / INCH:.0f} in (7.5 cm)",
    ],
    "lane/starter": [
        f"{biology.RATION_DENSITY.typical:g} kg/m² (0.33 lb/ft²",
        "{} to {} %".format(*percent(1 - biology.VOLUME_KEPT.high, 1 - biology.VOLUME_KEPT.low)),
    ],
    "breeding/trays": [
        f"({breeding.BREEDERS_MASS.typical:.2f} kg) × {breeding.BREEDERS_PER_MASS.typical * POUND:.0f} to",
        f"× {breeding.TRAY_COCOONS.typical:.0f} a week × {breeding.BREEDING_DAYS.typical / 7:.0f} weeks",
        f"÷ {breeding.SALE_PER_MASS.typical * POUND:,.0f} to",
        f"{breeding.TRAY_INCUBATION.typical} days to hatch",
    ],
    "breeding/index": [f"{biology.INCUBATION_DAYS.typical} days at 77 °F (25 °C)"],
    "climate/index": [f"{10 * 0.75:.1f} lb"],
}
"""Of each page the figures with what stands next to them, as little as tells them from others: words may change."""


@pytest.mark.parametrize("page", SAID)
def test_a_chapter_says_the_figures_of_the_code(page):
    written = text(page)
    assert [words for words in SAID[page] if words not in written] == []


def test_a_third_more_water_and_more_than_twice_as_much():
    """From 75 to 80 % is a third more water, not a twentieth; from 80 to 90 % the water more than doubles."""
    assert "a third more water" in text("moisture/index")
    assert 0.75 * 1 + water_to_add(1, 0.75, 0.80) == pytest.approx(0.75 * 4 / 3)
    assert 2 < (0.80 + water_to_add(1, 0.80, 0.90)) / 0.80 < 2.5


def test_two_decks_leave_a_good_quarter_of_the_fines():
    assert "a good quarter of the fines" in text("harvest/screen")
    assert 0.25 < 1 - harvest.EFFICIENCY.typical**2 < 0.30


def test_ration_is_half_to_all_of_their_weight():
    assert (biology.RATION.low, biology.RATION.high) == (0.5, 1.0)


def test_carbon_is_ash_free_dry_matter_over_1_8():
    assert carbon_from_ash(0.1) == pytest.approx(0.5)


def test_one_limit_of_heat_stands_in_all_chapters():
    """What kills is one temperature in all chapters; the ends of the band stand once, in biology."""
    assert not hasattr(climate, "BAND_HIGH") and not hasattr(climate, "BAND_LOW")
    assert climate.LETHAL_HIGH.typical == biology.LETHAL_TEMPERATURE.typical
    assert moisture.FACE.high <= feed.BED_MOISTURE.high
    assert harvest.CUT_MOISTURE is lane.CASTINGS_MOISTURE and harvest.THROUGHPUT is lane.SCREENED_PER_HOUR


def test_sun_and_water_of_a_shaded_bed_are_those_of_its_page():
    """The note beside the share of heat that the bed gives speaks of the July that the page about water works out."""
    water = every()["climate.water"]
    given = water.defaults
    place = watering.place_given(given)
    known = watering.day_known({name: given[name] for name in watering.WEATHER}, place, given["date"])
    net = watering.weather_from(known, place, given["date"].timetuple().tm_yday).net
    lost = answer("climate.water").bed_evaporation
    sun, taken = 1e6 * net * (1 - given["shade"]) / 86400, lost * LATENT_HEAT * 1e6 / 86400
    assert (
        f"the sun gives {sun:.0f} W/m², and {lost:.2f} mm a day take {taken:.0f} W/m²" in climate.COOLED_BY_WATER.note
    )


@pytest.mark.parametrize(("celsius", "kilopascal"), [(25, 1.3), (35, 1.9)])
def test_the_drying_power_under_which_no_nozzle_gains_enough(celsius, kilopascal):
    """Under it the gain of an open nozzle is less than what is worth it; just over it, it is enough."""
    best = climate.MISTING_EFFECTIVENESS.typical
    full = saturation_pressure(celsius)
    gains = [
        celsius - misting.mist_air(celsius, 1 - deficit / full, pressure(0), best).temperature
        for deficit in (kilopascal - 0.05, kilopascal + 0.1)
    ]
    assert gains[0] < misting.WORTH_COOLING < gains[1]
    assert f"{kilopascal} kPa" in text("climate/mist")


def test_what_hatches_in_the_warm_room_is_told_beside_what_the_form_reckons_with():
    warm = answer("breeding.setpoints").hatch_share
    used = answer("breeding.trays").entry.defaults["hatch_share"]
    assert used == 0.83 and "The 83 % that hatch" in text("breeding/trays")
    assert 1 - warm / used == pytest.approx(1 / 14, abs=0.01)


def test_how_a_slice_is_spread_and_how_long_it_waits_for_its_sale():
    assert f"{SPREAD / POUND * FOOT**2:.1f} lb/ft² ({SPREAD:.0f} kg/m²)" in text("method/equations")
    form = answer("harvest.dry_down").entry.defaults
    assert pytest.approx(form["mass"] / form["area"]) == SPREAD
    assert set(LanePlan().sale_days) == {14} and "it is 14 days" in text("method/equations")
    assert COVERED_BELOW == 10 and "averages under 50 °F (10 °C)" in text("method/equations")
