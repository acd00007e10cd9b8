"""What a page says in a sentence is what was worked out: figures of sentences reckoned by hand, from plain inputs."""

import re

import pytest

from calc.engine.run import answer

SAID = [
    # 100 kg of which 70 % is water holds 30 kg dry; at 50 % that is 60 kg: 40 kg to lose, 60 % of the weight left
    (
        "harvest.dry_down",
        {"mass": "100 kg", "moisture_before": "70 %", "moisture_after": "50 %", "area": "2 m2"},
        ("40 kg of water has to go", "come down to 60 % of its weight", "That lies 50 kg/m² deep"),
    ),
    # 50 kg dry at 75 % is 200 kg: 100 kg to add; at 45 % now 55 kg dry, 220 kg: 120 kg
    (
        "moisture.adjust",
        {"mass": "100 kg", "moisture": "50 %", "target": "75 %"},
        ("Add 100 kg of water, which is 100 L", "if it is really 45 % now, you need 120 kg"),
    ),
    # 20 kg dry at 60 % is 50 kg: 50 to lose
    (
        "moisture.adjust",
        {"mass": "100 kg", "moisture": "80 %", "target": "60 %"},
        ("It must lose 50 kg of water (50 L)",),
    ),
    # 60 and 80 g of water in 100 g each
    (
        "moisture.test",
        {"samples": [{"tare": 100, "wet": 200, "dry": 140}, {"tare": 100, "wet": 200, "dry": 120}]},
        ("The bedding is 70 % water", "75 % wet is 300 % dry"),
    ),
    # 250 kg dry, 30 kg ash, which are 120 kg at a quarter ash, at 65 % water 343 kg; of 220 kg organic 90 are left
    (
        "harvest.balance",
        {
            "mass": "1000 kg",
            "moisture_before": "75 %",
            "moisture_after": "65 %",
            "ash_before": "12 %",
            "ash_after": "25 %",
        },
        ("leaves 343 kg of castings, 34 % of its weight", "59 % of the organic matter"),
    ),
    # 12 kg in 20 L is 600 kg/m³; at 40 % dry matter 4.54 of 11.36 kg in a bag of 5 gal (18.93 L); 1,000 ÷ 18.93
    (
        "harvest.density",
        {"bucket_mass": "12 kg", "bucket_volume": "20 L", "volume": "1 m3", "moisture": "60 %"},
        ("weigh 600 kg/m³", "600 kg or 52.8 bags", "A bag of 11.4 kg holds 4.54 kg of dry matter"),
    ),
    # 0.02 m on 100 m² is 2 m³
    (
        "garden.dose",
        {"use": "topdress", "area": "100 m2", "depth": "2 cm"},
        ("You need 2,000 L of castings: 106 bags",),
    ),
    # 40 − 0.85 × (40 − 18.566)
    (
        "climate.mist",
        {"air_temperature": "40 C", "humidity": "10 %", "effectiveness": "85 %", "altitude": "0 m"},
        ("its wet bulb, 18.6 °C", "brings it to 21.8 °C: 18.2 °C cooler"),
    ),
    # 4 trays a week stay 3 weeks with their breeders
    ("breeding.trays", {"trays_per_week": "4"}, ("4 trays a week for 3 weeks means 12 breeding trays",)),
    # 79 ÷ 7 for the first seven
    (
        "records.chart",
        {"values": "10,12,11,13,10,12,11,30", "baseline": "7"},
        ("point 8, beyond the limits, above", "above the centre of 11.29", "7 values are few"),
    ),
    # 35 − 27.22 = 7.78, by 25 units 194.5; 26.64 an hour is what is left with the work's 16.20 added, by 0.9 hours
    (
        "economics.unit_cost",
        {},
        ("One unit costs $27.22", "you keep $7.78 of each, $194 a month", "($16.20, 60 %)"),
    ),
    # 1 m of face: 1.22 by 0.457 m, and twice that of feed where half of the volume is left
    (
        "lane.feeding",
        {},
        ("takes 1.11 m³ of feed and gives 0.557 m³ of castings", "shrinks to 50 % of its volume"),
    ),
    # 4.54 kg for 350: what is missing to a full bed of 9.07 kg, at $77.16 a kilogram
    ("lane.herd", {}, ("buying the missing 4.54 kg costs $350", "double every 17 days")),
    ("lane.output", {}, ("To sell 0.191 m³/week", "in 22 lanes", "22 faces")),
]


@pytest.mark.parametrize(("id", "given", "sentences"), SAID, ids=[f"{id}-{len(given)}" for id, given, _ in SAID])
def test_figures_of_sentences(id, given, sentences):
    shown = answer(id, given, "metric").shown
    text = " ".join([*shown.reading, *(words for _, words in shown.warnings)])
    assert [words for words in sentences if words not in text] == [], text


def test_a_share_is_of_what_it_says():
    """Dry matter breathed off, of what came in; by the books themselves."""
    view = answer("lane.ledger", {}, "metric")
    books = view.results
    lost = 100 * books["dry_matter_lost"] / books["dry_matter_in"]
    assert f"{lost:.0f} % is breathed off" in " ".join(view.shown.reading)


def test_weeks_and_months_of_sentences():
    view = answer("breeding.trays", {}, "metric")
    weeks = view.results["days_to_first_sale"].value / 7
    assert f"sold {weeks:.0f} weeks after" in " ".join(view.shown.reading)


def test_the_week_sums_its_own_lines():
    view = answer("farm.week", {}, "metric")
    due = next(table for table in view.shown.tables if table.name == "due")
    text = " ".join(view.shown.reading)
    assert f"slices due: {sum(row[1] == 'Slice the back' for row in due.rows)}" in text
    fed = [row[2].split(",")[0].split() for row in due.rows if row[1] == "Feed"]  # `60 kg, 3.2 cm thick`
    assert fed and {unit for _, unit in fed} == {"kg"}
    told = float(re.search(r"(\d+) kg of feed", text)[1])
    assert told == pytest.approx(
        sum(float(amount) for amount, _ in fed), rel=0.02, abs=5
    )  # each line is rounded by itself
