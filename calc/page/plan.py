"""The reader's plan: what was set once and is used wherever the same thing is asked for. Its texts, its file, its page.

A plan is {key: text with its unit}; a key is an input's name and label together (`plan_key`), since a name alone means
different things in different calculators. The file of a plan is plain text, described in docs/method/copy.md.
"""

import re
from collections.abc import Collection, Mapping, Sequence
from difflib import get_close_matches
from functools import lru_cache
from html import escape
from typing import Any, TypedDict

from calc.engine.describe import Input
from calc.engine.quantity import SYSTEMS
from calc.engine.register import Calculator, every
from calc.engine.told import Told, lower_first
from calc.engine.view import View
from calc.page.form import RENAMED, plan_key

VERSION = 1
"""Of the file. It changes when a file of this edition could be misread by an older one."""

LONGEST_FILE = 1_000_000
LONGEST_ROW, LONGEST_JSON = 4_000, 400_000
"""Characters of a file; of one row of a table; of a table as the page's rows."""
MOST_VALUES, MOST_TOLD = 2_000, 30
"""Values in a file, and how many faults are told one by one."""
ROWS_TRIED, MOST_ROWS_BARE = 200, 5_000
"""Rows of a long table that are tried before it is taken into the plan.

The calculator that uses it reads them all and tells the rest.
And how many rows a table may have whose heading names no units."""


@lru_cache(maxsize=1)
def inputs_by_key() -> dict[str, list[tuple[Calculator, str, Input]]]:
    """{plan key: [(calculator, input name, description)]} of every input there is."""
    found: dict[str, list[tuple[Calculator, str, Input]]] = {}
    for entry in every().values():
        for name, description in entry.inputs.items():
            found.setdefault(plan_key(name, description), []).append((entry, name, description))
    return found


@lru_cache(maxsize=1)
def keys_by_name() -> dict[str, list[str]]:
    """{input name: [plan keys]}."""
    found: dict[str, list[str]] = {}
    for key, meant in inputs_by_key().items():
        for name in dict.fromkeys(name for _, name, _ in meant):
            found.setdefault(name, []).append(key)
    return found


def current_key(key: str) -> str | None:
    """The key of today for one that an older edition may have written; None when no input is meant by it."""
    key = RENAMED.get(key, key)
    if key in inputs_by_key():
        return key
    alike = keys_by_name().get(key.rstrip(": "), ())
    return alike[0] if len(alike) == 1 else None  # a name alone will do where it is the only one


# ---- a value as text that carries its unit


def plan_text(value: Any, description: Input, system: str | None) -> str:
    """`8 ft`, `75 %`, `12 money/lb`: text that reads back to the same value whatever units are shown."""
    return description.plan_text(value, system)


def is_json(text: Any) -> bool:
    """Whether a table is written as the page's rows, not as a file's text."""
    return isinstance(text, str) and text.lstrip()[:2] in ("[{", "[[", '{"')


def set_by_reader(view: View, values: Mapping[str, Any], at_default: Sequence[str] = ()) -> dict[str, str]:
    """{name: text with its unit} of the inputs that the reader set, readable in either system of units.

    at_default: inputs set to what happens to be the default, where a page is made with another value."""
    inputs = view.entry.inputs
    others = [name for name in at_default if name in inputs and name not in values]
    return {name: plan_text(view.given[name], inputs[name], view.system) for name in others} | {
        name: carried_text(text, view.given[name], inputs[name], view.system, view.currency)
        for name, text in values.items()
        if name in inputs
    }


def carried_text(text: Any, value: Any, description: Input, system: str | None, currency: str = "$") -> str:
    """What was written, where it means the same in either system of units; else the value with its unit."""
    if description.rows and is_json(text):  # the page's own rows: kept as a file has them
        return str(description.units_named(text, system, "money")).strip()
    if isinstance(text, str):
        try:
            us, metric = (tried(description, text, one, currency) for one in SYSTEMS)
            if us == metric:
                return text.strip()
        except Told:
            pass
        if description.rows and getattr(value, "dropped", None):
            # the rows that could not be read are the reader's too
            return str(description.units_named(text, system, "money")).strip()
    return plan_text(value, description, system)


def foreign(entry: Calculator, texts: Mapping[str, str], theirs: str | None, currency: str) -> dict[str, str]:
    """{name: text with its sign} of prices that were set in other money than ours: nothing is exchanged."""
    if not theirs or theirs == currency:
        return {}
    return {
        name: text.replace("money", theirs) if "money" in text else f"{theirs}{text}"
        for name, text in texts.items()
        if is_price(entry.inputs[name]) and text.strip()
    }


def is_price(description: Input) -> bool:
    """Whether an input is an amount of money, or has one in it."""
    parts = [description, *getattr(description, "columns", {}).values()]
    return any("money" in getattr(part, "unit", "") for part in parts)


def value_of(key: str, text: str, system: str | None, currency: str = "$") -> tuple[Any, Input]:
    """(SI value, description) of a plan's text, by the first calculator that can read it; Told when none can.

    Of a long table the first rows.
    """
    told: list[Told] = []
    for _, _, description in inputs_by_key()[key]:
        try:
            return tried(description, text, system, currency), description
        except Told as this:
            told.append(this)
    raise told[0]


def tried(description: Input, text: str, system: str | None, currency: str = "$") -> Any:
    """The value of a text, or Told; in bounded time whatever the text is."""
    if description.rows and is_json(text):
        if len(text) > LONGEST_JSON:
            raise Told(f"{description.label} has more than {LONGEST_JSON:,} characters.")
        return description.value(text, system, currency)
    if description.rows:
        lines = text.split("\n")
        if max(map(len, lines)) > LONGEST_ROW:
            raise Told(f"{description.label} has a row of more than {LONGEST_ROW:,} characters.")
        lines = lines[: ROWS_TRIED + 1]
        while sum(line.count('"') for line in lines) % 2 and len(lines) > 1:  # not in the middle of a quoted cell
            lines.pop()
        return description.value("\n".join(lines), system, currency)
    if len(text) > description.longest:
        most = f"{description.longest:,} are the most that can be read"
        raise Told(f"{description.label} is {len(text):,} characters long; {most}.")
    return description.value(text, system, currency)


def shown_text(key: str, text: str, system: str | None, currency: str = "$", typed_in: str | None = None) -> str:
    """A plan's text in the reader's units, or `40 rows` of a table; Told when it cannot be read.

    typed_in: the system of units in which it was typed, where that is another."""
    value, description = value_of(key, text, typed_in or system, currency)
    if description.rows:
        rows = sum(1 for line in text.split("\n") if line.strip()) - 1
        return "1 row" if rows == 1 else f"{rows:,} rows"
    return description.words(value, system, currency)


# ---- a link or a plan of another edition, opened in one calculator


def usable(
    entry: Calculator, values: Mapping[str, str], system: str | None, currency: str = "$"
) -> tuple[dict[str, str], Sequence[str]]:
    """({input: text}, [sentence]) of what a link carries: what this calculator can use, and what it cannot, with the
    reason.
    """
    used, told = {}, []
    for name, text in values.items():
        known = _named(entry, name)
        if known is None:
            told.append(f"“{_short(name)}” is not asked for here.")
            continue
        try:
            tried(entry.inputs[known], text, system, currency)
            used[known] = text
        except Told as this:
            told.append(f"{this} The link has “{_short(text)}”.")
    return used, _first(told)


def notice(entry: Calculator, used: Mapping[str, str], told: Sequence[str]) -> str:
    """What the page says of a link that was opened."""
    labels = ", ".join(lower_first(entry.inputs[name].label) for name in used)
    said = f"<p>The link you opened set: {escape(labels)}. Your own values are kept as they were.</p>" if used else ""
    faults = "".join(f"<li>{escape(sentence)}</li>" for sentence in told)
    missed = f"<p>Not everything in the link could be used:</p><ul>{faults}</ul>" if faults else ""
    take = '<button type="button" data-action="take">Use these as mine</button> ' if used else ""
    return (
        f'{said}{missed}<p>{take}<button type="button" data-action="own">Go back to my own values</button></p>'
        if used or told
        else ""
    )


def _named(entry: Calculator, name: str) -> str | None:
    """The input that a link means by a name, which may be that of an older edition."""
    if name in entry.inputs:
        return name
    for old, new in RENAMED.items():
        now = new.split(":")[0]
        if old.split(":")[0] == name and now in entry.inputs and plan_key(now, entry.inputs[now]) == new:
            return now
    return None


def _short(text: str, most: int = 40) -> str:
    text = " ".join(str(text).split())
    return text if len(text) <= most else text[:most] + "…"


def _first(told: Sequence[str]) -> Sequence[str]:
    """The first faults, and how many more there are."""
    return told if len(told) <= MOST_TOLD else [*told[:MOST_TOLD], f"And {len(told) - MOST_TOLD:,} more like these."]


# ---- the file


def write_plan(values: Mapping[str, str], units: str, currency: str = "$") -> str:
    """A plan as the text of a file: a line for each value, a table on indented lines below its name."""
    lines = [
        "# A plan of The Lane Handbook. A line that begins with # is a note.",
        f"plan version: {VERSION}",
        f"units: {units}",
        f"currency: {currency}",
        "",
    ]
    for key, text in values.items():
        rows = text.split("\n")
        lines += [f"{key} = {text}"] if len(rows) == 1 else [f"{key} =", *(f"    {row}" for row in rows)]
    return "\n".join(lines) + "\n"


_LINE_END = re.compile(r"\r\n|\r|\n")


def _entries(text: str) -> list[tuple[int, str, str | None]]:
    """[(line number, key, text)] of a file, `plan version` and `units` among them; a key without a value has None."""
    found: list[tuple[int, str, str | None, list[str]]] = []
    for number, line in enumerate(_LINE_END.split(text.removeprefix("﻿")), 1):
        if line[:1] in (" ", "\t") and found:
            found[-1][3].append(line.removeprefix("\t") if line[0] == "\t" else line.removeprefix("    "))
        elif line.strip() and not line.startswith("#"):
            key, sign, value = line.partition("=")
            if not sign:
                key, sign, value = line.partition(":")
            found.append((number, " ".join(key.split()), value.strip() if sign else None, []))
            if len(found) > MOST_VALUES:
                break
    return [
        (number, key, value if not more else "\n".join([*([value] if value else []), *more]).rstrip())
        for number, key, value, more in found
    ]


class ReadPlan(TypedDict):
    """What a plan's file holds that can be used, the units it names, and a sentence for each line that cannot be
    used.
    """

    values: dict[str, str]
    units: str | None
    told: Sequence[str]


def read_plan(text: str, currency: str = "$") -> ReadPlan:
    """{"values", "units", "told"} of a plan's file: what can be used, and a sentence for each line that cannot.

    Never raises.

    Bare numbers are in the file's units. An older version is brought up to date; a newer one is told and left alone.
    """
    if len(text) > LONGEST_FILE:
        return {
            "values": {},
            "units": None,
            "told": [
                f"This file is longer than a plan can be ({LONGEST_FILE:,} characters). Choose the file that you saved"
                " on this page."
            ],
        }
    values: dict[str, str] = {}
    seen: dict[str, int] = {}
    told: list[str] = []
    units: str | None = None
    version: str | None = None
    money = currency
    entries = _entries(text)
    if len(entries) > MOST_VALUES:
        return {
            "values": {},
            "units": None,
            "told": [
                f"This file has more than {MOST_VALUES:,} values, which no plan has. Choose the file that you saved on"
                " this page."
            ],
        }
    for number, key, value in entries:
        if key == "plan version":
            version = value
        elif key == "currency" and value:
            money = value
        elif key == "units" and value in ("us", "metric"):
            units = value
        elif key == "units":
            told.append(
                f"Line {number}: the units are “us” or “metric”, not “{_short(value or '')}”. US units are taken."
            )
    newer = _version_told(version)
    if newer:
        return {"values": {}, "units": None, "told": [newer]}
    for number, written, value in entries:
        if written in ("plan version", "units", "currency"):
            continue
        known = current_key(written)
        if known is None:
            told.append(_unknown(number, written, len(told)))
        elif value is None or (value == "" and not _may_be_blank(known)):
            told.append(f"Line {number}: {_label(known)} has no value.")
        elif known in seen:
            told.append(f"Line {number}: {_label(known)} stands in line {seen[known]} already. That one is taken.")
        elif value and money != currency and is_price(inputs_by_key()[known][0][2]):  # a blank is blank in any money
            told.append(
                f"Line {number}: {_label(known)} is in {_short(money, 8)} in this file, and this handbook reckons in"
                f" {currency}. It was left out: type it in {currency}."
            )
        else:
            seen[known] = number
            try:
                values[known] = _with_unit(known, value, units or "us", currency)
            except Told as this:
                told.append(f"Line {number}: {this}")
    if not values and not told:
        told.append("There is no value in this file. A plan has lines such as “lane_length: Lane length = 12 ft”.")
    return {"values": values, "units": units, "told": _first(told)}


def _version_told(version: str | None) -> str | None:
    """A sentence when the file cannot be of this edition or an older one; else nothing. No version is the first."""
    if version is None:
        return None
    if not re.fullmatch(r"\d{1,6}", version):
        return f"“plan version” must be a number such as {VERSION}, not “{_short(version)}”."
    if int(version) > VERSION:
        return (
            f"This plan was saved by a newer handbook (plan version {int(version)}; this copy reads up to {VERSION})."
            " Open it there, or get the newer handbook. Nothing here was changed."
        )
    return None


def _unknown(number: int, written: str, told_before: int) -> str:
    """An input that no calculator asks for. Looking for one of a like name takes a while, so the first few get it."""
    near = get_close_matches(_short(written, 80), inputs_by_key(), n=1, cutoff=0.6) if told_before < MOST_TOLD else []
    return f"Line {number}: no calculator asks for “{_short(written)}”." + (
        f" The nearest is “{near[0]}”." if near else ""
    )


def _label(key: str) -> str:
    return lower_first(inputs_by_key()[key][0][2].label)


def _may_be_blank(key: str) -> bool:
    """Whether nothing is an answer too: a blank that stands for what follows from other figures, or an empty table."""
    return any(description.optional for _, _, description in inputs_by_key()[key])


def _with_unit(key: str, text: str, system: str | None, currency: str) -> str:
    """The text itself where it means the same in either system of units, else with the unit that it is meant in."""
    if text == "":
        return text
    value, description = value_of(key, text, system, currency)
    if description.rows and text.count("\n") > ROWS_TRIED:
        if carried_text(text, None, description, system, currency):
            return text
        if text.count("\n") > MOST_ROWS_BARE:
            raise Told(
                f"{description.label}: a table of more than {MOST_ROWS_BARE:,} rows must name its units in its first"
                " line, such as “feed (kg)”."
            )
        value = description.value(text, system, currency)
    return carried_text(text, value, description, system, currency)


# ---- the page


def plan_page(
    values: Mapping[str, Any],
    origins: Mapping[str, str],
    system: str | None,
    currency: str = "$",
    units_of: Mapping[str, str] | None = None,
) -> str:
    """The list of what was set, and folded what is still at its default, as HTML.

    units_of: {key: system in which a text was typed that carries no unit}."""
    typed_in = units_of or {}
    kept = {current_key(key): key for key in values}  # under which key a value is kept may be that of an older edition
    known = {key: kept[key] for key in inputs_by_key() if key in kept}
    rows = "".join(
        _set_row(key, old, values[old], origins.get(old), system, currency, typed_in.get(old))
        for key, old in known.items()
    )
    strange = "".join(_strange_row(key, text) for key, text in values.items() if key not in known.values())
    head = "<tr><th scope=col>Input</th><th scope=col>Your value</th><td></td></tr>"
    listed = (
        '<div class="calc-scroll" tabindex="0" role="group" aria-label="What you set"><table'
        f' class="plan-set"><thead>{head}</thead>{rows}{strange}</table></div>'
    )
    untouched = _untouched(known, system, currency)
    return f'<p class="plan-count">{_count(len(values))}</p>{listed if values else ""}{untouched}'


def _count(number: int) -> str:
    if not number:
        return (
            "You have set nothing yet: every calculator stands at its defaults. Change a figure under any question, and"
            " it is listed here."
        )
    return "You have set one value." if number == 1 else f"You have set {number} values."


def _set_row(
    key: str, kept: str, text: str, origin: str | None, system: str | None, currency: str, typed_in: str | None = None
) -> str:
    label = inputs_by_key()[key][0][2].label
    fault = ""
    try:
        shown = escape(shown_text(key, text, system, currency, typed_in))
    except Told as told:
        shown, fault = escape(_short(text)), f'<p class="calc-error">{escape(str(told))}</p>'
    came = every().get(origin or "")
    source = f"<p>From: {_question(came)}</p>" if came else ""
    return _row(label, shown, kept, f"{fault}<p>Used for: {_used(key)}</p>{source}")


def _strange_row(key: str, text: str) -> str:
    """What an older or another edition asked for; kept, since it may go back there."""
    label = key.split(": ", 1)[-1]
    return _row(label, escape(_short(text)), key, "<p>Nothing in this handbook asks for it. It is kept.</p>")


def _row(label: str, shown: str, key: str, more: str) -> str:
    """Two lines, so that it fits a phone: name, value and button; below, what it is used for."""
    remove = (
        f'<button type="button" data-remove="{escape(key)}" aria-label="Remove'
        f' {escape(lower_first(label))}">Remove</button>'
    )
    return (
        f'<tbody><tr><th scope=row>{escape(label)}</th><td>{shown}</td><td>{remove}</td></tr><tr><td class="plan-used"'
        f' colspan="3">{more}</td></tr></tbody>'
    )


def _used(key: str) -> str:
    return (
        "; ".join(_question(entry) for entry, *_ in inputs_by_key()[key] if entry.in_edition())
        or "A chapter that this copy leaves out."
    )


def _question(entry: Calculator) -> str:
    return (
        f'<a href="handbook:{entry.page}">{escape(entry.question)}</a>'
        if entry.in_edition()
        else escape(entry.question)
    )


def _untouched(known: Collection[str], system: str | None, currency: str) -> str:
    """Every other input with its default, calculator by calculator, folded."""
    parts = []
    for entry in every().values():
        rows = [
            f"<tr><th scope=row>{escape(description.label)}</th>"
            f"<td>{escape(description.words(entry.defaults[name], system, currency))}</td></tr>"
            for name, description in entry.inputs.items()
            if plan_key(name, description) not in known
        ]
        if rows and entry.in_edition():
            head = "<tr><th scope=col>Input</th><th scope=col>Default</th></tr>"
            parts.append(
                f'<details class="calc-group"><summary>{escape(entry.question)}</summary><p>Used for:'
                f" {_question(entry)}</p><table"
                f' class="plan-defaults"><thead>{head}</thead><tbody>{"".join(rows)}</tbody></table></details>'
            )
    return (
        '<details class="calc-group plan-untouched"><summary>What is still at its default, and where it is'
        " used</summary><p>A page may open with an example of its own, as those on heat and on frost do: its form then"
        f" shows that instead.</p>{''.join(parts)}</details>"
    )


def offered(found: ReadPlan, values: Mapping[str, str], system: str | None, currency: str = "$") -> str:
    """What a file holds beside what the reader has, and what could not be read, as HTML."""
    told = "".join(f"<li>{escape(sentence)}</li>" for sentence in found["told"])
    faults = f'<div class="calc-summary"><p>These lines could not be used:</p><ul>{told}</ul></div>' if told else ""
    if not found["values"]:
        return faults
    rows = []
    for key, text in found["values"].items():
        label = inputs_by_key()[key][0][2].label
        rows.append(
            f"<tr><th scope=row>{escape(label)}</th><td>{escape(shown_text(key, text, system, currency))}</td>"
            f"<td>{_mine(key, values.get(key), system, currency)}</td></tr>"
        )
    head = "<tr><th scope=col>Input</th><th scope=col>In the file</th><th scope=col>Yours now</th></tr>"
    number = len(rows)
    words = "one value that can be used" if number == 1 else f"{number} values that can be used"
    return (
        f'{faults}<p>The file holds {words}. Nothing is changed yet.</p><div class="calc-scroll" tabindex="0"'
        ' role="group" aria-label="What the file holds"><table'
        f' class="plan-offered"><thead>{head}</thead><tbody>{"".join(rows)}</tbody></table></div>'
    )


def _mine(key: str, text: str | None, system: str | None, currency: str) -> str:
    if text is None:
        return "at its default"
    try:
        return escape(shown_text(key, text, system, currency))
    except Told:
        return escape(_short(text))


def page(system: str = "us", currency: str = "$") -> str:
    """The plan page's sheet as it is built: nothing set, all defaults listed.

    The script fills it and shows its buttons.
    """
    choices = "".join(
        '<label><input type="radio" name="plan-units"'
        f' value="{one}"{" checked" if one == system else ""}>{words}</label>'
        for one, words in zip(SYSTEMS, ("US units", "Metric units"))
    )

    def buttons(*pairs: tuple[str, str, str]) -> str:
        return "".join(
            f'<button type="button" data-action="{action}"{more}>{words}</button>' for action, words, more in pairs
        )

    top = buttons(
        ("save", "Save to a file", ""),
        ("open", "Open a file", ""),
        ("clear", "Clear all", ""),
        ("undo", "Undo", " hidden"),
        ("print", "Print", ""),
    )
    offer = buttons(
        ("add", "Add these to mine", ""), ("only", "Use only these", ""), ("leave", "Leave mine as they are", "")
    )
    return (
        f'<section class="plan" data-units="{system}" data-currency="{escape(currency)}" data-state="prepared"'
        ' aria-label="Your plan"><div class="calc plan-sheet"><fieldset data-live hidden><legend>Units of every'
        f' page</legend>{choices}</fieldset><div class="calc-actions" role="group" aria-label="What to do with the'
        f' plan" data-live hidden>{top}</div><input type="file" class="plan-file" accept=".txt,text/plain"'
        ' aria-label="A file of a plan" hidden><p class="plan-status" role="status"></p><div class="plan-offer"'
        ' hidden><h2 tabindex="-1">What the file holds</h2><div class="plan-offer-list"></div><div'
        f' class="calc-actions" role="group" aria-label="What to do with the file">{offer}</div></div><div'
        f' class="plan-list" tabindex="-1">{plan_page({}, {}, system, currency)}</div></div></section>'
    )


def questions(chapter: str, pages: Sequence[str] = ()) -> str:
    """The questions of a chapter, each a link to its page. pages: the order of reading."""
    entries = [entry for id, entry in every().items() if id.split(".")[0] == chapter and entry.in_edition()]
    entries.sort(key=lambda entry: pages.index(entry.page) if entry.page in pages else len(pages))
    return f'<ul class="questions">{"".join(f"<li>{_question(entry)}</li>" for entry in entries)}</ul>'
