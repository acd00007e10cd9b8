"""The reader's plan: texts that read back, a file that comes back whole, faults told, links of older editions, and what
answers hand over.
"""

import random
import time
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc.engine.describe import Kept, Number, Rows
from calc.engine.quantity import SYSTEMS, written_unit
from calc.engine.read import read_value
from calc.engine.register import every, find, use_edition
from calc.engine.run import answer
from calc.page import plan
from calc.page.form import form, plan_key
from calc.page.leads import OPENINGS, fits, handed_over, leads

DOCS = Path(__file__).parents[2] / "docs"
KEYS = Path(__file__).with_name("plan_keys.txt").read_text(encoding="utf-8").split("\n")
INPUTS = [(entry, name, description) for entry in every().values() for name, description in entry.inputs.items()]
SET = [
    (plan_key(name, description), plan.plan_text(entry.defaults[name], description, "us"))
    for entry, name, description in INPUTS
]
SET = {key: text for key, text in SET if text.strip()}


def alike(one, other):
    """The same value, to the nine digits that a text holds; a table by its cells."""
    if isinstance(one, (list, tuple)) or isinstance(other, (list, tuple)):
        return len(one or ()) == len(other or ()) and all(map(alike, one or (), other or ()))
    if isinstance(one, dict):
        return all(alike(one.get(name), value) for name, value in other.items())
    if isinstance(one, float) or isinstance(other, float):
        return one is not None and other is not None and abs(one - other) <= 1e-8 * max(1, abs(one))
    return one == other


@pytest.mark.parametrize("written", SYSTEMS)
@pytest.mark.parametrize("read", SYSTEMS)
def test_a_text_of_the_plan_reads_back_in_either_system(written, read):
    for entry, name, description in INPUTS:
        value = entry.defaults[name]
        back = read_value(description, plan.plan_text(value, description, written), read)
        assert alike(back, value), f"{entry.id} {name}: {value!r} came back as {back!r}"


def test_what_was_written_stays_as_it_was_where_it_is_clear():
    view = answer("lane.starter", {"lane_length": "250 cm", "lane_width": "4", "start_date": "2027-04-01"}, "us")
    given_texts = {"lane_length": " 250 cm", "lane_width": "4", "start_date": "2027-04-01"}
    assert plan.set_by_reader(view, given_texts) == {
        "lane_length": "250 cm",
        "lane_width": "4 ft",
        "start_date": "2027-04-01",
    }


def test_rows_that_a_log_left_out_are_kept_in_the_plan():
    text = "time,feed (kg)\n2027-05-01,3\nyesterday,4"
    view = answer("records.lane", {"log": text}, "us")
    assert isinstance(view.given["log"], Kept) and view.given["log"].dropped
    assert plan.set_by_reader(view, {"log": text}) == {"log": text}


def test_a_table_that_the_reader_wrote_is_not_written_anew(monkeypatch):
    """Of a long logbook that once took four times as long as its answer; only what stands at its default is written."""
    text = "date,place,what,amount,unit\n2027-05-01,North lane,feed,44,lb"
    view = answer("farm.week", {"log": text, "today": "2027-05-31"}, "us")
    written, kept = [], type(view.entry.inputs["log"]).text
    monkeypatch.setattr(Rows, "text", lambda self, *asked: written.append(self.label) or kept(self, *asked))
    found = plan.set_by_reader(view, {"log": text, "today": "2027-05-31"}, ["log", "lanes", "today"])
    assert found["log"] == text and list(found) == ["lanes", "log", "today"]
    assert written == [view.entry.inputs["lanes"].label]


# ---- the file


@given(st.sets(st.sampled_from(sorted(SET))), st.sampled_from(SYSTEMS))
def test_a_file_comes_back_whole(keys, system):
    values = {key: SET[key] for key in keys}
    found = plan.read_plan(plan.write_plan(values, system))
    assert found["units"] == system and found["values"].keys() == values.keys()
    assert not found["told"] or not keys
    for key, text in values.items():
        assert alike(plan.value_of(key, found["values"][key], system)[0], plan.value_of(key, text, "us")[0])


@given(
    st.text(max_size=300)
    | st.lists(
        st.sampled_from(
            [
                *list(SET)[:40],
                "plan version",
                "units",
                " = ",
                ": ",
                "\n",
                "    ",
                "\t",
                "1",
                "12 ft",
                "[",
                '"',
                ",",
                "us",
                "9e999",
                "\x00",
            ]
        )
    ).map("".join)
)
def test_no_text_breaks_the_reading(text):
    found = plan.read_plan(text)
    assert found["told"] or found["values"]
    assert all(isinstance(sentence, str) and len(sentence) < 700 for sentence in found["told"])
    plan.offered(found, {}, "us")
    plan.plan_page(found["values"], {}, "metric")


HUGE = {
    "digits": "lane_length: Lane length = " + "9" * 900_000,
    "lines": "a\n" * 499_000,
    "blank": "\n" * 999_000,
    "log": "log: Daily log =\n    time,feed (kg)\n" + "    2027-03-01,20\n" * 50_000,
    "log without units": "log: Daily log =\n" + "    2027-03-01,20\n" * 50_000,
    "one row": "purchases: What to buy =\n    " + "x," * 450_000,
    "quotes": "log: Daily log =\n" + ' "\n' * 300_000,
    "series": "values: Values, oldest first = " + "1, " * 6_000,
    "brackets": "values: Values, oldest first = " + "[" * 19_000,
    "too long": "#" * 1_000_001,
    "many": "".join(f"x{number} = 3\n" for number in range(1_990)),
}


@pytest.mark.parametrize("text", HUGE.values(), ids=HUGE)
def test_a_megabyte_is_read_in_a_second(text):
    plan.inputs_by_key()
    start = time.process_time()
    found = plan.read_plan(text)
    assert time.process_time() - start < 1
    assert found["told"] or found["values"]


def test_bare_numbers_are_in_the_units_of_the_file():
    text = "plan version: 1\nunits: metric\nlane_length: Lane length = 3\nworm_mass: Worms = 10 lb\n"
    assert plan.read_plan(text)["values"] == {"lane_length: Lane length": "3 m", "worm_mass: Worms": "10 lb"}


def test_each_fault_is_told_with_its_line_and_the_rest_is_offered():
    found = plan.read_plan(
        "plan version: 1\nunits: furlongs\n# a note\nlane_width: Lane width = 900 ft\nworm_mas: Worms = 3"
        " lb\nbed_height\nlane_length: Lane length = 12 ft\nlane_length: Lane length = 13 ft\n"
    )
    assert found["values"] == {"lane_length: Lane length": "12 ft"}
    told = [sentence.split(":")[0] for sentence in found["told"]]
    assert told == ["Line 2", "Line 4", "Line 5", "Line 6", "Line 8"]
    assert "“worm_mass: Worms”" in found["told"][2] and "between" in found["told"][1]


def test_an_editor_of_another_system_does_no_harm():
    text = plan.write_plan(
        {"lane_length: Lane length": "12 ft", "log: Daily log": "time,feed (kg)\n2027-03-01,20"}, "us"
    )
    assert plan.read_plan("\ufeff" + text.replace("\n", "\r\n"))["values"] == plan.read_plan(text)["values"]


@pytest.mark.parametrize(
    ("version", "word"), [("2", "newer handbook"), ("999999", "newer handbook"), ("one", "must be a number")]
)
def test_a_newer_version_is_told_and_nothing_is_offered(version, word):
    found = plan.read_plan(f"plan version: {version}\nlane_length: Lane length = 12 ft\n")
    assert found["values"] == {} and len(found["told"]) == 1 and word in found["told"][0]


# ---- older editions


def test_every_key_that_a_plan_may_hold_is_understood():
    """A key that vanishes takes readers' values with it: whoever rewords a label adds a line to RENAMED, and the new
    key to plan_keys.txt.
    """
    lost = [key for key in KEYS if key and plan.current_key(key) not in plan.inputs_by_key()]
    assert not lost
    unlisted = sorted(set(plan.inputs_by_key()) - set(KEYS))
    assert not unlisted, f"add to tests/calc/plan_keys.txt: {unlisted}"


def test_old_names_open():
    for old, new in plan.RENAMED.items():
        assert old not in plan.inputs_by_key() and new in plan.inputs_by_key()
        text = SET.get(new, "[1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12]")  # blank by default: twelve months
        found = plan.read_plan(f"{old} = {text}\n")
        assert list(found["values"]) == [new], found


def test_a_link_with_an_old_name_opens(monkeypatch):
    monkeypatch.setitem(plan.RENAMED, "length_of_lane: Length", "lane_length: Lane length")
    used, told = plan.usable(
        find("lane.starter"), {"length_of_lane": "12 ft", "unheard_of": "3", "lane_width": "900 ft"}, "us"
    )
    assert used == {"lane_length": "12 ft"}
    assert (
        len(told) == 2
        and "“unheard_of” is not asked for here" in told[0]
        and told[1].startswith("Lane width must be between")
    )


def test_a_plan_kept_under_an_old_name_is_listed_and_used(monkeypatch):
    old, new = next(iter(plan.RENAMED.items()))
    html = plan.plan_page({old: SET[new]}, {}, "us")
    assert f'data-remove="{old}"' in html and new.split(": ")[1] in html and "Nothing in this handbook asks" not in html
    assert f'data-plan="{new}" data-plan-was="{old}"' in form(find("climate.water"), {}, "us")


def test_a_field_shows_a_rounded_value_and_sends_the_exact_one():
    html = form(find("moisture.adjust"), {"mass": 50.0}, "us")
    assert 'value="110.231"' in html and 'data-exact="50.0 kg"' in html
    assert "data-exact" not in form(find("moisture.adjust"), {"mass": 50.0, "moisture": 0.33}, "metric")


@given(st.sampled_from(INPUTS), st.floats(0, 1), st.sampled_from(SYSTEMS))
def test_what_a_field_sends_reads_back_exactly(one, share, system):
    *_, description = one
    if not isinstance(description, Number) or description.whole:
        return
    value = description.low + share * (min(description.high, 1e6) - description.low)
    text, exact = description.shown_and_sent(value, system)
    for other in SYSTEMS:
        assert read_value(
            description, exact or f"{text} {written_unit(description.shown(system))}", other
        ) == pytest.approx(value, rel=1e-12 if " " in exact and written_unit(description.unit) else 1e-7, abs=1e-9)


@given(
    st.dictionaries(st.text(max_size=20) | st.sampled_from(list(find("feed.recipe").inputs)), st.text(max_size=200)),
    st.sampled_from(SYSTEMS),
)
@settings(max_examples=60)
def test_no_link_breaks_a_page(values, system):
    entry = find("feed.recipe")
    used, told = plan.usable(entry, values, system)
    assert len(used) + len(told) == len(values)
    assert "<script" not in plan.notice(entry, used, told)


# ---- what answers hand over


@pytest.mark.parametrize("entry", every().values(), ids=every())
def test_every_answer_leads_on(entry):
    assert entry.leads, f"{entry.id} leads to no other question"
    view = answer(entry.id, {}, "metric")
    for id, handed in entry.leads.items():
        if id in OPENINGS:
            assert not handed and (DOCS / id / "index.md").is_file()
            continue
        target = find(id)
        assert id != entry.id
        for name, source in handed.items():
            described = entry.outputs.get(source) or entry.inputs[source]
            assert fits(target.inputs[name], described), f"{entry.id} {source} does not fit {id} {name}"
        texts = handed_over(view, target, handed)
        read = {
            name: read_value(target.inputs[name], plan.plan_text(value, target.inputs[name], "us"), "metric")
            for name, value in texts.items()
        }
        assert alike(texts, read)
    assert leads(view).count("<li>") == len(entry.leads)


@pytest.mark.parametrize("entry", every().values(), ids=every())
def test_every_calculator_stands_where_it_says(entry):
    page = (DOCS / entry.page.replace(".html", ".md")).read_text(encoding="utf-8")
    assert f"```calculator\n{entry.id}" in page


def handed_by_every_page():
    """(source, target, input, value) of everything that any answer hands over at its defaults."""
    for entry in every().values():
        view = answer(entry.id)
        for id, handed in entry.leads.items():
            if id in OPENINGS:
                continue
            for name, value in handed_over(view, find(id), handed).items():
                yield entry.id, find(id), name, value


def test_every_hand_over_compares_like_with_like():
    """What is handed over at the defaults lies in the range that is usual where it goes: a count of a laboratory is
    none of a grower, a heap's moisture none of a face. What the reader measured is as it is, and so is the moisture of
    the very stuff that is to be wetted.
    """
    odd = []
    for source, target, name, value in handed_by_every_page():
        if source in ("records.learn", "moisture.test") or (name, target.id) == ("moisture", "moisture.adjust"):
            continue
        description = target.inputs[name]
        usual = description.plausible() if isinstance(description, Number) and not description.scales else None
        if usual and not usual[0] * 0.999 <= value <= usual[1] * 1.001:
            odd.append(f"{source} hands {name} {value:.4g} to {target.id}, not {usual[0]:.4g} to {usual[1]:.4g}")
    assert not odd, "\n".join(odd)


def test_no_hand_over_carries_a_price_over_the_farms_own():
    for source, target, name, _ in handed_by_every_page():
        assert "price" not in name, f"{source} hands {name} to {target.id}"


def test_what_a_farm_has_set_is_not_handed_over():
    view = answer("harvest.balance")
    handed = view.entry.leads["lane.feeding"]
    assert "volume_kept" in handed_over(view, find("lane.feeding"), handed)
    try:
        use_edition({"lane.feeding": {"volume_kept": "0.45"}})
        assert "volume_kept" not in handed_over(view, find("lane.feeding"), handed)
    finally:
        use_edition()


def test_what_does_not_fit_is_not_handed_over():
    few = answer("moisture.adjust", {"area": "2 m2", "target": "95%"}, "metric")
    assert handed_over(few, find("climate.water"), {"upper_moisture": "target", "bed_area": "area"}).keys() <= {
        "upper_moisture",
        "bed_area",
    }
    none = answer("moisture.test", {}, "us")
    assert handed_over(none, find("climate.today"), {"top_moisture": "still_to_lose"}) == {}


def test_money_a_year_becomes_money_a_month():
    view = answer("breeding.room", {}, "us")
    found = handed_over(view, find("economics.unit_cost"), {"energy_cost_per_month": "energy_cost_per_year"})
    assert found["energy_cost_per_month"] == pytest.approx(view.energy_cost_per_year / 12, rel=1e-3)


# ---- any plan that was saved opens again


@pytest.mark.parametrize("units", SYSTEMS)
@pytest.mark.parametrize("seed", range(12))
def test_any_plan_that_is_saved_opens_again_with_the_same_values(seed, units):
    """Blanks included: what may be blank, and was left so, is blank again and not told as a fault."""
    chance = random.Random(seed)
    values = {}
    for key, places in plan.inputs_by_key().items():
        description = places[0][2]
        if description.optional and chance.random() < 0.3:
            values[key] = ""
            continue
        if chance.random() < 0.5:
            continue
        value = chance.choice([places[0][0].defaults[places[0][1]], None])
        read = description.value(description.random_value(chance) if value is None else value, None, "$")
        values[key] = plan.plan_text(read, description, units) if read is not None else ""
    values = {
        key: text
        for key, text in values.items()
        if text != "" or any(d.optional for *_, d in plan.inputs_by_key()[key])
    }
    opened = plan.read_plan(plan.write_plan(values, units))
    assert opened["told"] == [] and opened["units"] == units
    assert set(opened["values"]) == set(values)
    for key, text in values.items():
        if text == "":
            assert opened["values"][key] == "", key
            continue
        before, description = plan.value_of(key, text, units)
        after, _ = plan.value_of(key, opened["values"][key], units)
        assert alike(after, before), (key, text, opened["values"][key])


def test_a_blank_that_was_saved_is_blank_again_and_one_that_needs_a_value_is_told():
    opened = plan.read_plan("units: us\nunits_per_month: Units sold a month = \nlane_length: Lane length = \n")
    assert opened["values"] == {"units_per_month: Units sold a month": ""}
    assert opened["told"] == ["Line 3: lane length has no value."]
