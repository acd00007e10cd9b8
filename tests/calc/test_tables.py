"""What a table or a picture says for other figures is what the page answers there; what is summed adds up."""

from datetime import timedelta
from itertools import pairwise
from math import exp, hypot, log

import pytest

import calc
from calc.climate.psychrometrics import saturation_pressure as saturation
from calc.engine import typical
from calc.engine.register import every
from calc.engine.run import answer
from calc.facts import climate, harvest


def shown(id, **given):
    """(view, {name: rows as dicts}, {name: marks of a picture})."""
    view = answer(id, given, None)
    tables = {
        table.name: [dict(zip((column.name for column in table.columns), row)) for row in table.rows]
        for table in view.shown.tables
    }
    pictures = {picture.name: picture.marks for picture in view.shown.figures if hasattr(picture, "marks")}
    return view, tables, pictures


def again(id, output, **given):
    """A result of the page for other figures, in SI."""
    return calc.run(id, given)["outputs"][output]["value"]


def lines(marks):
    return [mark.points for mark in marks if mark.kind == "line"]


def near(value, relative=1e-6):
    return pytest.approx(value, rel=relative, abs=1e-9)


def test_drying_in_other_air():
    view, tables, pictures = shown("harvest.dry_down")
    for row in tables["air"]:
        for column, humidity in (("dry", 0.45), ("middle", 0.65), ("moist", 0.85)):
            hours = again("harvest.dry_down", "hours", air_temperature=row["temperature"], humidity=humidity)
            assert row[column] == near(hours)
    (course,) = lines(pictures["drying"])
    assert course[0] == (0, near(view.results["mass_at_screening"] + view.results["water_to_lose"]))
    assert course[-1] == (near(view.band("hours").value), near(view.results["mass_at_screening"]))


def test_what_feed_becomes_adds_up():
    view, tables, _ = shown("harvest.balance")
    parts = tables["parts"]
    ash = next(row for row in parts if row["part"] == "Ash")
    assert ash["before"] == near(ash["after"])
    together = next(row for row in parts if row["part"] in ("Total", "Together"))
    for side in ("before", "after"):
        assert together[side] == near(sum(row[side] for row in parts if row is not together))
    assert together["before"] == near(view.given["mass"])
    assert together["after"] == near(view.band("castings_mass").value)


def test_units_of_sale_are_one_price():
    view, tables, _ = shown("harvest.density")
    for row in tables["each"]:
        assert row["mass"] == near(row["volume"] * view.results["bulk_density"])
        assert row["price"] == near(row["volume"] * view.results["price_per_volume"])
    litres = next(row for row in tables["each"] if row["unit"].startswith("Lit"))
    assert litres["volume"] == near(0.001)


def test_decks_and_sieves():
    view, tables, pictures = shown("harvest.screen")
    rows = tables["decks"]
    assert sum(row["mass"] for row in rows[:3]) == near(view.given["mass"])
    assert all(row["share"] == near(row["mass"] / view.given["mass"]) for row in rows)
    size, spread = view.results["fit_size"], view.results["fit_spread"]
    for row in tables["sieves"]:
        assert row["curve"] == near(exp(-((row["opening"] / size) ** spread)))
    (curve,) = lines(pictures["sizes"])
    assert all(finer == near(1 - exp(-((x / size) ** spread))) for x, finer in curve)


def test_other_targets_of_moisture():
    view, tables, _ = shown("moisture.adjust")
    for row in tables["targets"]:
        given = {"target": row["target"]}
        assert row["add"] == near(again("moisture.adjust", "water_to_add", **given))
        assert row["lose"] == near(again("moisture.adjust", "water_to_lose", **given))
    dry, water, together = tables["balance"]
    for side in ("before", "after"):
        assert together[side] == near(dry[side] + water[side])
    assert dry["before"] == near(dry["after"])
    assert together["after"] == near(view.results["final_mass"])


def test_misting_other_air():
    view, tables, _ = shown("climate.mist")
    for row in tables["cooling"]:
        for percent in (10, 20, 30, 50, 70):
            given = {"air_temperature": row["air"], "humidity": percent / 100, "altitude": view.given["altitude"]}
            assert row[f"h{percent}"] == near(again("climate.mist", "cooling", **given), 1e-4)


def test_a_year_of_watering():
    view, tables, _ = shown("climate.water")
    for row in tables["year"]:
        assert row["bed_low"] <= row["bed"] <= row["bed_high"]
        assert row["water"] / row["bed"] == near(tables["year"][0]["water"] / tables["year"][0]["bed"], 1e-4)
    assert max(tables["year"], key=lambda row: row["reference"])["month"] in ("June", "July", "August")
    area = view.results["water_per_day"].value / view.band("bed_evaporation").value
    assert tables["year"][5]["water"] == near(tables["year"][5]["bed"] * area)


def test_costs_at_other_volumes():
    view, tables, pictures = shown("economics.unit_cost")
    assert sum(row["amount"] for row in tables["parts"]) == near(view.band("cost_per_unit").value)
    assert all(row["share"] == near(row["amount"] / view.band("cost_per_unit").value) for row in tables["parts"])
    (curve,) = lines(pictures["volume"])
    for units, cost in curve[::7]:
        assert cost == near(again("economics.unit_cost", "cost_per_unit", units_per_month=units))


def test_worth_at_other_rates():
    view, tables, pictures = shown("economics.return")
    (curve,) = lines(pictures["profile"])
    for rate, worth in curve[::10]:
        assert worth == near(again("economics.return", "net_present_value", discount_rate=rate, draws_made=50))
    assert sum(row["today"] for row in tables["years"]) == near(view.results["net_present_value"])
    total = 0.0
    for row in tables["years"]:
        total += row["flow"]
        assert row["total"] == near(total)


def test_years_and_months_of_cash():
    view, tables, pictures = shown("economics.cash")
    months = tables["months"]
    for place, year in enumerate(tables["years"]):
        part = months[12 * place : 12 * place + 12]
        for name in ("sales", "running", "bought", "loan", "change"):
            assert year[name] == near(sum(row[name] for row in part))
        assert year["cash"] == near(part[-1]["cash"])
    (course,) = lines(pictures["cash"])
    assert course[0] == (0, view.given["opening_cash"])
    assert [cash for _, cash in course[1:]] == [near(row["cash"]) for row in months]


def test_the_best_split_adds_up():
    view, tables, _ = shown("economics.mix")
    assert sum(row["margin"] for row in tables["split"]) == near(view.results["margin_per_week"])
    assert sum(row["castings"] for row in tables["split"]) == near(view.results["castings_used"])


def test_stages_of_the_output():
    view, tables, pictures = shown("lane.output")
    for row in tables["stages"]:
        share = row["length"] / view.band("lane_length").value
        assert row["castings"] == near(share * view.given["castings_per_week"])
        assert row["worms"] == near(share * view.band("worm_mass").value)
        assert row["each"] == near(row["hours"] / row["castings"])
    whole = again("lane.output", "labour_hours_per_week")
    (curve,) = lines(pictures["hours"])
    assert min(y for _, y in curve) == near(curve[-1][1])
    assert any(row["hours"] == near(whole) for row in tables["stages"])


def test_books_of_the_months():
    view, tables, _ = shown("lane.ledger")
    for table, parts in (("months", ("dry_matter", "volume")), ("months_more", ("water", "ash"))):
        for part in parts:
            for side in ("in", "out", "lost", "stored"):
                whole = view.results[f"{part}_{side}"]
                assert sum(row[f"{part}_{side}"] for row in tables[table]) == near(whole, 1e-5)
            for row in tables[table]:
                gone = row[f"{part}_out"] + row[f"{part}_lost"] + row[f"{part}_stored"]
                assert row[f"{part}_in"] == pytest.approx(gone, abs=1e-6 * max(1.0, view.results[f"{part}_in"]))
    for name in ("heat_released", "hours", "money_in", "money_out"):
        assert sum(row[name] for row in tables["months_money"]) == near(view.results[name], 1e-5)


def test_layers_of_the_weeks_and_of_the_list():
    view, tables, _ = shown("lane.feeding")
    listed = sum(row["mass"] for row in tables["feedings"])
    assert sum(row["feed"] for row in tables["calendar"]) == near(listed)
    assert sum(row["feedings"] for row in tables["calendar"]) == len(tables["feedings"])
    assert [row["week"] for row in tables["calendar"]] == list(range(1, 27))
    assert all(b["date"] - a["date"] == timedelta(days=7) for a, b in pairwise(tables["calendar"]))
    assert tables["feedings"][0]["mass"] == near(view.results["first_feeding_mass"])


def test_months_of_the_first_year():
    view, tables, _ = shown("lane.year")
    assert sum(row["feed"] for row in tables["months"]) == near(view.results["feed_of_year"], 0.02)
    for row in tables["months"]:
        # each weight of feed has one volume
        first = tables["months"][0]
        assert row["volume"] * first["feed"] == near(row["feed"] * first["volume"])


def test_a_year_of_the_room():
    view, tables, pictures = shown("breeding.room")
    months = tables["months"]
    assert sum(row["energy"] for row in months) == near(view.results["energy_per_year"])
    for row in months:
        assert row["cost"] == near(row["energy"] * view.given["energy_price"])
        assert row["heat"] * row["cold"] == 0
        bought = row["heat"] / view.given["heating_efficiency"] + row["cold"] / view.given["cooling_cop"]
        assert row["energy"] == near(bought)
    assert len(pictures["energy"]) in (1, 2)


def test_batches_and_sorting_of_trays():
    view, tables, _ = shown("breeding.trays")
    for batch in tables["batches"]:
        assert (batch["sort"] - batch["start"]).days == round(view.given["breeding_days"])
        assert batch["start"] < batch["sort"] < batch["hatch"] < batch["sale"]
    assert all(b["start"] - a["start"] == timedelta(days=7) for a, b in pairwise(tables["batches"]))
    for row in tables["sorting"]:
        assert row["hours"] == near(row["minutes"] * view.given["trays_per_week"] / 60)
    chain = tables["chain"]
    assert all(row["week"] == near(row["tray"] * view.given["trays_per_week"]) for row in chain)


def test_weeks_of_a_log():
    view, tables, _ = shown("records.lane")
    assert sum(row["feed"] for row in tables["weeks"]) == near(view.results["feed_total"])
    assert sum(row["castings"] for row in tables["weeks"]) == near(view.results["castings_total"])
    assert all(row["warmest"] >= row["mean"] - 1e-9 for row in tables["weeks"] if row["mean"] is not None)


def test_jumps_of_a_chart():
    view, tables, _ = shown("records.chart")
    for before, after in pairwise(tables["values"]):
        assert after["range"] == near(abs(after["value"] - before["value"]))
    base = [row["range"] for row in tables["values"][1 : view.given["baseline"]]]
    assert sum(base) / len(base) == near(view.results["mean_range"])


def test_the_shed_adds_up():
    view, tables, _ = shown("farm.stock")
    for row in tables["stock"]:
        assert row["left"] == near(row["made"] - row["sold"] - row["spoiled"])
        assert row["in_two_weeks"].low <= row["in_two_weeks"].value <= row["in_two_weeks"].high
    prices = [product["price"] for product in view.given["products"]]
    worth = sum(row["left"] * price for row, price in zip(tables["stock"], prices))
    assert worth == near(view.results["worth"])


def test_money_of_the_farm_adds_up():
    view, tables, pictures = shown("farm.money")
    months = tables["months"]
    assert sum(row["sales"] for row in months) / len(months) == near(view.results["sales_per_month"])
    assert sum(row["sales"] for row in tables["products"]) == near(view.results["sales_per_month"])
    assert months[-1]["cash"] == near(view.band("cash_at_end").value)
    left = sum(row["sales"] - row["packing"] for row in months) / len(months)
    assert left == near(view.band("contribution_per_month").value)
    cash = view.given["opening_cash"]
    for row in months:
        cash += row["sales"] - row["packing"] - row["fixed"] - row["wages"]
        assert row["cash"] == near(cash)
    (course,) = lines(pictures["cash"])
    assert [y for _, y in course[1:]] == [near(row["cash"]) for row in months]


def test_the_herd_of_the_weeks():
    view, tables, pictures = shown("lane.herd")
    weeks = tables["weeks"]
    assert weeks[0]["typical"] == near(view.given["worm_mass"])
    assert all(row["low"] <= row["typical"] + 1e-9 for row in weeks[:20])
    (course,) = lines(pictures["growth"])
    assert [(week, near(mass)) for week, mass in course] == [(row["week"], row["typical"]) for row in weeks]
    year = next(row for row in weeks if row["week"] == 52)
    assert year["typical"] == near(view.band("mass_after_year").value, 0.02)


def test_stages_of_the_list():
    view, tables, _ = shown("economics.startup")
    before_reserve = sum(row["cost"] for row in tables["list"])
    assert sum(row["cost"] for row in tables["stages"]) == near(before_reserve)
    assert before_reserve * (1 + view.given["contingency"]) == near(view.band("startup_cost").value)
    assert all(row["cost"] == near(row["quantity"] * row["price"]) for row in tables["list"])
    assert all(row["low"] <= row["cost"] <= row["high"] for row in tables["stages"])


def test_the_mix_on_the_page():
    view, tables, _ = shown("feed.recipe")
    rows = tables["mix"]
    assert sum(row["mass"] for row in rows) == near(typical(view.results["mix_mass"]))
    assert sum(row["share"] for row in rows) == near(1.0)


def test_parts_of_the_feed_by_hand():
    """1,000 kg at 75 % water: 250 dry, 30 of it ash; a quarter ash is 120 dry, at 65 % water 342.857."""
    given = {"mass": 1000.0, "moisture_before": 0.75, "moisture_after": 0.65, "ash_before": 0.12, "ash_after": 0.25}
    _, tables, pictures = shown("harvest.balance", **given)
    parts = {row["part"]: (row["before"], row["after"]) for row in tables["parts"]}
    assert parts == {
        "Ash": (near(30.0), near(30.0)),
        "Organic matter": (near(220.0), near(90.0)),
        "Water": (near(750.0), near(222.857142857)),
        "Total": (near(1000.0), near(342.857142857)),
    }
    stacked = next(mark for mark in pictures["balance"] if mark.kind == "stack")
    assert len(stacked.points) == 6


def test_what_one_of_each_is():
    """600 kg/m³: a kilogram is a 600th of a cubic metre, a pound 0.45359237 of that."""
    view, tables, _ = shown("harvest.density", bucket_mass=12.0, bucket_volume=0.02)
    rows = {row["unit"]: row for row in tables["each"]}
    assert view.results["bulk_density"] == near(600.0)
    assert (rows["Kilogram"]["volume"], rows["Kilogram"]["mass"]) == (near(1 / 600), near(1.0))
    assert rows["Pound"]["mass"] == near(0.45359237)
    assert rows["Cubic metre"]["mass"] == near(600.0)
    assert rows["Gallon"]["volume"] == near(0.003785411784)
    assert not [words for name, words in view.shown.warnings if name == "bucket_mass"]


@pytest.mark.parametrize(("bucket", "told"), [(5.9, True), (6.1, False), (19.9, False), (20.1, True)])
def test_a_bucket_that_cannot_be_castings_is_told(bucket, told):
    """Under 300 and over 1,000 kg/m³ in 20 litres."""
    view, *_ = shown("harvest.density", bucket_mass=bucket, bucket_volume=0.02)
    assert any(name == "bucket_mass" for name, _ in view.shown.warnings) is told


def test_fines_carried_off_and_sieves_by_hand():
    view, tables, pictures = shown("harvest.screen")
    size, spread = view.results["fit_size"], view.results["fit_spread"]
    finer = 1 - exp(-((view.given["fine_opening"] / size) ** spread))
    carried = next(row for row in tables["decks"] if row["what"].startswith("Fine too"))
    assert carried["mass"] == near(view.given["mass"] * finer - view.results["product_mass"].value)
    sieves = sorted(view.given["sieves"], key=lambda row: -row["opening"])
    total, above = sum(row["retained"] for row in sieves), 0.0
    dots = next(mark for mark in pictures["sizes"] if mark.kind == "dots").points
    for row, listed, dot in zip(sieves, tables["sieves"], dots):
        above += row["retained"]
        assert listed["opening"] == near(row["opening"])
        assert listed["coarser"] == near(above / total)
        assert dot == (near(row["opening"]), near(1 - above / total))


@pytest.mark.parametrize(
    ("given", "name", "told"),
    [
        ({"mass": 100.0, "area": 2.0}, "area", True),
        ({"mass": 100.0, "area": 40.0}, "area", False),
        ({"humidity": 1.0}, "humidity", True),
        ({"humidity": 0.6}, "humidity", False),
        ({"moisture_after": 0.40}, "moisture_after", True),
        ({"moisture_after": 0.55}, "moisture_after", False),
    ],
)
def test_what_drying_is_warned_of(given, name, told):
    view, *_ = shown("harvest.dry_down", **given)
    assert any(place == name for place, _ in view.shown.warnings) is told


def test_ends_of_the_drying_hours():
    """Formulas for still air differ, and the slowing is judged: both ends, put together as squares of logs."""
    band = shown("harvest.dry_down")[0].band("hours")
    air, slowed = climate.STILL_AIR_FACTOR, harvest.DRYING_SLOWED
    down = hypot(log(air.high / air.typical), log(slowed.high / slowed.typical))
    up = hypot(log(air.typical / air.low), log(slowed.typical / slowed.low))
    assert band.low == near(band.value * exp(-down))
    assert band.high == near(band.value * exp(up))


def test_every_month_of_a_room_says_how_its_walls_are():
    """The inside of the wall at the month's mean, and the humidity up to which it stays dry: both once stood empty."""
    _, tables, _ = shown("breeding.room", setpoint=24, wall_resistance=1.3)
    for row in tables["months"]:
        assert row["wall"] == near(24 - (24 - row["outside"]) * 0.13 / 1.3)
        assert row["humidity"] == near(min(1.0, saturation(row["wall"]) / saturation(24)))


@pytest.mark.parametrize("id", every())
def test_rows_are_as_long_as_their_heads(id):
    for table in answer(id).shown.tables:
        assert {len(row) for row in table.rows} <= {len(table.columns)}, table.name
