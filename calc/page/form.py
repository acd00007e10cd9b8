"""The form of a calculator as HTML, made of nothing but its annotations."""

from collections.abc import Mapping, Sequence
from html import escape
from typing import Any

from calc.engine.describe import Input, Number
from calc.engine.register import Calculator, every, find
from calc.engine.told import lower_first
from calc.page.controls import control
from calc.page.slide import rail_html, units_html

SEEN_AT_ONCE = 6
"""Rows of a form before the fold, tables not counted."""
LONG_FOLD, LONG_GROUP = 50, 10
"""Fields behind one fold, and in one group of it, above which that group gets a fold of its own."""

RENAMED = {
    "lower_moisture: Moisture to water at": "lower_moisture: Moisture to water again at",
    "units_per_month: Units a month at full sales": "units_per_month: Units sold a month",
    "hours_per_feeding: Work for each 8 ft fed and watered": (
        "hours_per_feeding: Work for each 8 ft (2.4 m) fed and watered"
    ),
    "hours_per_slice: Work for each foot sliced": "hours_per_slice: Work for each foot (30 cm) sliced",
    "castings_bulk_density: Bulk density of sliced castings": "castings_bulk_density: Bulk density of the castings",
    "sheets: Sheets of 4 × 8 ft for the sides": "sheets: Sheets for the sides",
    "bulk_density_after: Bulk density of the castings": ("bulk_density_after: Bulk density of the castings as sliced"),
    "monthly_means: Mean air temperature of each month": "monthly_temperature: Mean air temperature of each month",
    "monthly_means: Mean of each month, January first": "monthly_temperature: Mean air temperature of each month",
    "monthly_means: Mean temperature of each month": "monthly_temperature: Mean air temperature of each month",
    "weather_year: Kind of year": "year: Kind of year",
    "throughput_per_hour: Screened in an hour": "screened_per_hour: Screened in an hour",
    "moisture_before: Moisture of the feed": "moisture_before: Moisture of this feed",
    "bulk_density_before: Bulk density of the feed": "bulk_density_before: Bulk density of this feed",
    "area: Bed area": "area: Area it lies on",
    "shade_price: Shade and frame, by bed area": "shade_price: Shade, frame and rain sheet",
}
"""Old key: the key that means the same now.

Whoever rewords the label of an input adds a line, so that old plans and links still open. Two inputs of different names
that mean one thing are one in the plan too: the months of a reader's place are those of every page.
"""


WEATHER_FIELDS = ("monthly_means", "monthly_temperature", "months")
"""Inputs that hold the months of a year: a weather file can fill them."""


FARM_TABLES = ("lanes", "rooms", "products", "log")
FARM_PAGES = ("farm.week", "farm.stock", "farm.money", "records.learn")
"""What a farm enters once for all of these pages: *Reset* on one of them leaves it alone."""


def form(
    entry: Calculator,
    values: Mapping[str, Any],
    system: str | None,
    currency: str = "$",
    origins: Mapping[str, str] | None = None,
) -> str:
    """Fields with their labels, units, hints and places for errors.

    values: {name: SI value} where they differ from the defaults. origins: {name: the calculator that handed it over}.
    """
    parts = [
        '<div class="calc-summary" role="group" aria-label="Values that need another look" tabindex="-1" hidden></div>'
    ]

    def fields(names: Sequence[str]) -> str:
        made = [
            field(entry, name, entry.inputs[name], values, system, currency, (origins or {}).get(name))
            for name in names
        ]
        return f'<div class="calc-fields">{"".join(made)}</div>'

    shown, folded = rows_shown(entry)
    parts.append(fields(shown))
    alone = folds_alone(folded)

    def fold(kind: str, title: str, groups: Mapping[str, Sequence[str]]) -> str:
        opened = " open" if any(name in values for names in groups.values() for name in names) else ""
        body = "".join(
            (f'<h3 class="calc-group-title">{escape(group)}</h3>' if group and group not in alone else "")
            + fields(names)
            for group, names in groups.items()
        )
        return f'<details class="{kind}"{opened}><summary>{escape(title)}</summary>{body}</details>'

    if together := {group: names for group, names in folded.items() if group not in alone}:
        parts.append(fold("calc-group", _fold_words(entry, together), together))
    parts += [fold("calc-group calc-group-one", group, {group: folded[group]}) for group in alone]
    parts.append(
        '<button type="submit" class="calc-submit">Show the answer</button>'
    )  # answers follow each change; this brings the reader to them
    return (
        '<form class="calc-form" novalidate autocomplete="off"'
        f' aria-label="{escape(entry.question)}">{"".join(parts)}</form>'
    )


def rows_shown(entry: Calculator) -> tuple[list[str], dict[str, list[str]]]:
    """(inputs that are seen at once, {group: inputs} behind the fold): the first few, and tables.

    A form that is all groups shows its first.
    """
    groups: dict[str, list[str]] = {}
    for name, description in entry.inputs.items():
        groups.setdefault(description.group, []).append(name)
    first = groups.pop("" if "" in groups else next(iter(groups)))
    tables = [name for name in first if entry.inputs[name].many]
    few = [name for name in first if name not in tables][:SEEN_AT_ONCE]
    shown = [name for name in first if name in tables or name in few]
    rest = [name for name in first if name not in shown]
    return shown, ({"": rest} if rest else {}) | groups


def folds_alone(folded: Mapping[str, Sequence[str]]) -> list[str]:
    """Groups that get a fold of their own: the longest ones, where one fold would hold a form as long as a page."""
    if sum(map(len, folded.values())) <= LONG_FOLD:
        return []
    return [group for group, names in folded.items() if group and len(names) > LONG_GROUP]


def _fold_words(entry: Calculator, folded: Mapping[str, Sequence[str]]) -> str:
    """What lies behind the fold, in a line: `Start date, prices, what the herd does and more`."""
    single = [entry.inputs[name].label for name in folded.get("", ())]
    items = single[:2] + [group for group in folded if group]
    return ", ".join([items[0], *map(lower_first, items[1:])]) + (" and more" if len(single) > 2 else "")


def field(
    entry: Calculator,
    name: str,
    description: Input,
    values: Mapping[str, Any],
    system: str | None,
    currency: str,
    origin: str | None = None,
) -> str:
    """One field: label with its unit, hint, control, and an empty error joined to it."""
    key = field_id(entry, name)
    default = description.default_text(entry.defaults[name], system, currency)
    text, exact = description.shown_and_sent(values[name], system, currency) if name in values else (default, "")
    optional = " <span class=calc-optional>(may be blank)</span>" if description.optional else ""
    label = f'<label for="{key}">{escape(description.label)}{optional}</label>'
    about = _hint(entry.help_of(name), description, system)
    hint = f'<p class="calc-hint" id="{key}-hint">{escape(about)}</p>' if about else ""
    sign = _unit_html(description, key, system, currency)
    described = " ".join(f"{key}-{part}" for part, there in (("unit", sign), ("hint", hint), ("error", True)) if there)
    before = "|".join(old for old, new in RENAMED.items() if new == plan_key(name, description))
    was = f' data-plan-was="{escape(before)}"' if before else ""
    was += " data-weather" if name in WEATHER_FIELDS else ""
    was += " data-stays" if description.many and name in FARM_TABLES and entry.id in FARM_PAGES else ""
    sent = f' data-exact="{escape(exact)}"' if exact else ""
    common = (
        f'id="{key}" name="{name}" data-plan="{escape(plan_key(name, description))}"{was}{sent}'
        f' data-default="{escape(default)}" aria-describedby="{described}"'
    )
    wide = " calc-wide" if description.many else ""
    today = _today(entry) if name == "today" else ""
    held = control(description, text, common, currency, system) + sign + today
    rail = (
        rail_html(description, values.get(name, entry.defaults[name]), system)
        if isinstance(description, Number)
        else ""
    )
    return (
        f'<div class="calc-field{wide}" data-input="{name}">{label}{hint}<div class="calc-value-of">{held}</div>{rail}'
        f'{_origin(origin)}<p class="calc-error" id="{key}-error" hidden></p></div>'
    )


def _today(entry: Calculator) -> str:
    """The button that puts in the day that is today; on the pages of a farm's own tables the page does it by itself."""
    own = '="own"' if any(entry.set_by_farm(table) for table in FARM_TABLES) else ""
    return f'<button type="button" class="calc-today" data-today{own}>Today</button>'


def _unit_html(description: Input, key: str, system: str | None, currency: str) -> str:
    """The sign of the unit beside the figure: a button where there are others to think in."""
    if isinstance(description, Number):
        return units_html(description, key, system, currency)
    sign = escape(description.sign(system, currency))
    return f'<span class="calc-unit" id="{key}-unit">{sign}</span>' if sign else ""


def _origin(id: str | None) -> str:
    """Where a value came from that another calculator handed over."""
    if not id or id not in every():
        return ""
    source = find(id)
    if not source.in_edition():
        return f'<p class="calc-origin">Taken from: {escape(source.question)}</p>'
    return f'<p class="calc-origin">Taken from <a href="handbook:{source.page}">{escape(source.question)}</a></p>'


def plan_key(name: str, description: Input) -> str:
    """Under which an input is kept in the reader's plan: two inputs are one where both name and label agree (`mass` of
    bedding is not `mass` of feed).
    """
    key = f"{name}: {description.label}"
    return RENAMED.get(key, key)


def field_id(entry: Calculator, name: str) -> str:
    return f"{entry.id.replace('.', '-')}-{name}"


def _hint(words: str, description: Input, system: str | None) -> str:
    """The help, and the plausible range in the reader's units."""
    parts = [words] if words else []
    usual = description.usual(system)
    return " ".join([*parts, *([usual] if usual else [])])
