"""feed.recipe and the table of materials behind it."""

import pytest

import calc
from calc.engine import POUND, Refused
from calc.facts import feed as facts
from calc.facts.materials import BY_NAME, MATERIALS, OTHER_NAMES, named
from calc.feed import recipe

CORNELL = [
    {"material": "grass", "mass": 10, "moisture": 0.77, "nitrogen": 0.024, "carbon_nitrogen": 18.75},
    {"material": "leaves", "mass": 3.5, "moisture": 0.35, "nitrogen": 0.0075, "carbon_nitrogen": 50 / 0.75},
]


def refused(**inputs):
    with pytest.raises(Refused) as caught:
        recipe(**inputs)
    return caught.value.problems


def only_message(**inputs):
    ((name, message),) = refused(**inputs)
    return name, message


# --- the table of materials -----------------------------------------------------------------------------------------


def test_table_is_long_enough_and_names_are_unique():
    assert len(MATERIALS) >= 35
    assert len(BY_NAME) == len(MATERIALS)
    assert set(OTHER_NAMES.values()) <= set(BY_NAME)
    assert not set(OTHER_NAMES) & set(BY_NAME)


@pytest.mark.parametrize("material", MATERIALS, ids=lambda material: material.name)
def test_figures_are_possible(material):
    for fact in material.facts:
        assert fact.low <= fact.typical <= fact.high
        assert fact.source is not None or fact.sure in ("practice", "derived", "memory")
    assert material.moisture.low > 0 and material.moisture.high < 1
    assert material.nitrogen.low > 0 and material.nitrogen.high <= 0.12
    carbon = material.nitrogen.typical * material.carbon_nitrogen.typical
    assert facts.CARBON_OF_DRY_MATTER.low * 0.9 <= carbon <= facts.CARBON_OF_DRY_MATTER.high


@pytest.mark.parametrize("written", ["Leaves", " autumn  leaves ", "AUTUMN LEAVES", "fall leaves"])
def test_names_as_people_write_them(written):
    assert named(written).name == "leaves"


def test_apostrophes():
    assert named("Brewer’s grains") is named("brewers grains") is BY_NAME["brewer's grains"]


# --- check ----------------------------------------------------------------------------------------------------------


def test_typed_figures_have_no_spread():
    answer = recipe(materials=CORNELL)
    assert answer.mix_carbon_nitrogen.value == pytest.approx(30.0640, abs=5e-5)
    assert answer.mix_moisture.low == pytest.approx(answer.mix_moisture.high)
    assert answer.mix_moisture.value == pytest.approx(0.661111, abs=5e-7)


def test_volume_of_a_material_with_unknown_density_is_left_out():
    answer = recipe(
        materials=[{"material": "zorg", "mass": 5, "moisture": 0.5, "nitrogen": 0.01, "carbon_nitrogen": 40}]
    )
    assert answer.mix_volume is None and answer.mix_bulk_density is None


def test_volume_and_mass_together_are_a_density():
    answer = recipe(materials=[{"material": "leaves", "mass": 20, "volume": 0.2}])
    assert answer.mix_bulk_density.value == pytest.approx(100)
    assert answer.mix_bulk_density.low == pytest.approx(100)


def test_by_volume_as_by_mass():
    by_mass = recipe(materials=[{"material": "leaves", "mass": 150}, {"material": "dairy manure", "mass": 710}])
    by_volume = recipe(materials=[{"material": "leaves", "volume": 1}, {"material": "dairy manure", "volume": 1}])
    assert by_volume.mix_moisture.value == pytest.approx(by_mass.mix_moisture.value)
    assert by_volume.mix_volume.value == pytest.approx(2)


def test_water_brings_the_mix_to_the_target():
    answer = recipe(materials=[{"material": "wheat straw", "mass": 100}], target_moisture=0.6)
    assert answer.water_to_add == pytest.approx(125)  # 100·(0.6 − 0.1) ÷ 0.4
    assert answer.moisture_miss == 0
    assert answer.mix_mass == 100


def test_dry_bedding_is_counted_when_too_wet():
    answer = recipe(
        materials=[{"material": "food scraps", "mass": 100, "moisture": 0.75}],
        target_moisture=0.65,
        dry_bedding="straw",
    )
    assert answer.dry_bedding_to_add == pytest.approx(100 * 0.10 / (0.65 - 0.12))
    assert answer.water_to_add == 0


def test_range_holds_the_answer_and_follows_the_table():
    answer = recipe(materials=[{"material": "leaves", "mass": 10}])
    assert 0.20 < answer.mix_moisture.low < 0.38 < answer.mix_moisture.high < 0.60
    assert 40 < answer.mix_carbon_nitrogen.low < 54 < answer.mix_carbon_nitrogen.high < 80
    assert recipe(materials=[{"material": "leaves", "mass": 10}]) == answer


def test_shares_of_a_total_can_be_checked():
    rows = [{"material": "leaves", "share": 0.25}, {"material": "dairy manure", "share": 0.75}]
    assert recipe(materials=rows, total_mass=40).mix_mass == pytest.approx(40)
    assert only_message(materials=rows)[0] == "total_mass"


def test_water_already_in_counts_in_check_and_not_in_solve():
    rows = [{"material": "wheat straw", "mass": 100}, {"material": "Water", "mass": 125}]
    assert recipe(materials=rows).mix_moisture.value == pytest.approx(0.6)
    assert recipe(materials=rows).mix_carbon_nitrogen.value == pytest.approx(127)
    assert "Row 2: water is worked out by itself" in only_message(materials=rows, mode="solve")[1]


# --- solve ----------------------------------------------------------------------------------------------------------


def test_solve_meets_both_targets_and_the_mass():
    answer = recipe(mode="solve", total_mass=500, target_moisture=0.65)
    assert answer.mix_moisture.value == pytest.approx(0.65)
    assert answer.mix_carbon_nitrogen.value == pytest.approx(30)
    assert answer.mix_mass == pytest.approx(500)
    assert answer.gave_way == "none" and answer.moisture_miss == answer.carbon_nitrogen_miss == 0


def test_cornell_by_solving():
    rows = [dict(CORNELL[0], fixed=True), {key: value for key, value in CORNELL[1].items() if key != "mass"}]
    for_ratio = recipe(mode="solve", materials=rows, target_moisture=None, target_carbon_nitrogen=30)
    assert for_ratio.mix_mass - 10 == pytest.approx(3.474126, abs=5e-7)
    for_moisture = recipe(
        mode="solve", materials=rows, target_moisture=0.6, target_carbon_nitrogen=None, allow_water=False
    )
    assert for_moisture.mix_mass - 10 == pytest.approx(6.8, abs=1e-9)


def test_a_target_out_of_reach_is_named_with_the_miss():
    rows = [{"material": "leaves", "mass": 10}, {"material": "straw", "mass": 10}]
    answer = recipe(mode="solve", materials=rows, target_carbon_nitrogen=30)
    assert answer.gave_way == "C:N"
    assert answer.carbon_nitrogen_miss == pytest.approx(54 - 30)
    assert answer.mix_moisture.value == pytest.approx(0.6)


def test_dry_bedding_only_when_needed():
    wet = [{"material": "food scraps", "mass": 50}, {"material": "dairy manure", "mass": 50}]
    without = recipe(mode="solve", materials=wet)
    assert "moisture" in without.gave_way and without.dry_bedding_to_add == 0
    mended = recipe(mode="solve", materials=wet, dry_bedding="cardboard")
    assert mended.gave_way == "none" and mended.dry_bedding_to_add > 0
    assert recipe(mode="solve", dry_bedding="cardboard").dry_bedding_to_add == 0


def test_the_page_of_a_failed_recipe_says_what_would_help():
    answer = calc.run(
        "feed.recipe",
        {
            "mode": "solve",
            "materials": [{"material": "food scraps", "mass": 50}, {"material": "dairy manure", "mass": 50}],
        },
    )
    said = " ".join(text if isinstance(text, str) else str(text) for text in answer["warnings"])
    assert "cannot be met" in said and "both targets could be met" in said


# --- what readers get wrong -----------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("rows", "words"),
    [
        ([], ["empty"]),
        ([{"material": "", "mass": None}], ["empty"]),
        ([{"material": "leves", "mass": 1}], ["Row 1", "leves", "“leaves”", "moisture, nitrogen and C:N"]),
        ([{"material": "leaves", "mass": 1}, {"material": "straw"}], ["Row 2", "how much"]),
        ([{"material": "leaves", "mass": 0}], ["zero"]),
        ([{"mass": 2}], ["Row 1", "name the material"]),
        (
            [{"material": "zorg", "volume": 2, "moisture": 0.5, "nitrogen": 0.01, "carbon_nitrogen": 40}],
            ["Row 1", "bulk density"],
        ),
        ([{"material": "leaves", "mass": 1}] * 7, ["six is the most"]),
    ],
)
def test_bad_tables(rows, words):
    name, message = only_message(materials=rows)
    assert name == "materials"
    for word in words:
        assert word in message


def test_every_wrong_row_is_named_at_once():
    ((name, told),) = refused(materials=[{"material": "leves", "mass": 1}, {"material": "strow", "mass": 1}])
    assert name == "materials" and "Row 1" in told and "Row 2" in told


def test_solve_needs_a_size():
    name, _ = only_message(mode="solve", materials=[{"material": "leaves", "share": 0.5}, {"material": "straw"}])
    assert name == "total_mass"


def test_fixed_needs_an_amount():
    assert "fixed" in only_message(mode="solve", materials=[{"material": "leaves", "fixed": True}])[1]


def test_blank_rows_are_skipped_but_rows_keep_their_numbers():
    rows = [{"material": "", "mass": None}, {"material": "leaves", "mass": 1}, {"material": "leves", "mass": 1}]
    assert "Row 3" in only_message(materials=rows)[1]


def test_range_of_the_mix_is_that_of_the_table():
    answer = calc.run("feed.recipe", {}, range_of="mix_carbon_nitrogen")
    mixed = answer["outputs"]["mix_carbon_nitrogen"]
    assert (answer["range"]["p10"], answer["range"]["p90"]) == (mixed["low"], mixed["high"])
    assert mixed["low"] < mixed["value"] < mixed["high"]


def test_rows_of_a_pasted_table_are_numbered_as_the_reader_sees_them():
    table = "material,mass\nleaves,10\n\nleves,5\n"
    errors = calc.run("feed.recipe", {"materials": table})["errors"]
    assert errors[0]["input"] == "materials" and "Row 3" in errors[0]["message"]


def test_units_in_headings_and_cells():
    table = "material,mass (lb),moisture\nleaves,10,40\ndairy manure,20 kg,\n"
    answer = calc.run("feed.recipe", {"materials": table}, units="us")
    assert answer["outputs"]["mix_mass"]["value"] == pytest.approx(4.5359237 + 20)
    answer = calc.run("feed.recipe", {"materials": table}, units="metric")
    assert answer["outputs"]["mix_mass"]["value"] == pytest.approx(4.5359237 + 20)


def test_blank_targets_ask_for_nothing():
    answer = calc.run("feed.recipe", {"mode": "solve", "target_moisture": "", "target_carbon_nitrogen": ""})
    assert answer["outputs"]["gave_way"]["value"] == "none"
    assert [row[1] for row in answer["tables"]["mix"]["rows"]] == pytest.approx([200 * POUND, 130 * POUND, 70 * POUND])


def test_table_for_the_page_has_every_material_once():
    from calc.page.materials import GROUPS, materials_table

    html = materials_table()
    assert {material.group for material in MATERIALS} <= set(GROUPS)
    assert html.count("<details>") == len(MATERIALS)
    ids = [part.split('"')[0] for part in html.split('id="')[1:]]
    assert len(set(ids)) == len(ids) == len(MATERIALS)


@pytest.mark.parametrize(("target", "told"), [("60 %", False), ("85 %", False), ("90 %", True), ("", False)])
def test_a_target_wetter_than_heap_or_worms_want_is_told(target, told):
    warnings = calc.run("feed.recipe", {"target_moisture": target}, units="us")["warnings"]
    words = "90 % is wetter than anything wants that is to rot: a heap that heats takes 65 % at most, worms 85 %."
    assert (words in warnings) == told, warnings


@pytest.mark.parametrize(("grounds", "told"), [(20, True), (300, False)])
def test_a_mix_too_small_to_heat_is_told(grounds, told):
    rows = f"material,mass (lb)\nCoffee grounds,{grounds}\nAutumn leaves,{grounds}"
    said = " ".join(calc.run("feed.recipe", {"mode": "solve", "materials": rows}, units="us")["reading"])
    assert ("never gets hot: a heap heats from a cubic yard (0.76 m³) on" in said) == told, said


@pytest.mark.parametrize(("target", "heats"), [("60 %", True), ("75 %", False), ("", True)])
def test_a_mix_watered_for_worms_is_not_called_one_that_heats(target, heats):
    said = calc.run("feed.recipe", {"target_moisture": target}, units="us")["reading"]
    assert any("a heap that heats" in line for line in said) == heats


@pytest.mark.parametrize(("temperature", "breed"), [("66 F", True), ("40 F", False), ("90 F", False)])
def test_a_bin_too_cold_or_too_hot_is_not_promised_young(temperature, breed):
    said = calc.run("garden.worms", {"bin_temperature": temperature}, units="us")["reading"]
    assert any("they breed up to their food" in line for line in said) == breed
    assert any("hardly breed" in line for line in said) != breed
    assert "they die" not in " ".join(said)


@pytest.mark.parametrize("temperature", ["95 F", "32 F"])
def test_a_bin_in_which_they_die_is_told(temperature):
    said = calc.run("garden.worms", {"bin_temperature": temperature}, units="us")["reading"]
    assert any("they die" in line for line in said) and any("once the bin stands better" in line for line in said)


@pytest.mark.parametrize(("times", "low", "high"), [(3.0, 30, 40), (1.5, 28.5, 31.5)])
def test_grounds_with_leaves_heat_by_the_rule_and_by_half_of_it(times, low, high):
    """feed/index: three times their volume of leaves, or half as much for C:N 30."""
    rows = [{"material": "coffee grounds", "volume": 1.0}, {"material": "leaves", "volume": times}]
    mixed = recipe(materials=rows)
    assert low < mixed.mix_carbon_nitrogen.value < high and 0.5 < mixed.mix_moisture.value < 0.65
