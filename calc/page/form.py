"""The form of a calculator as HTML, made of nothing but its annotations."""

import re
from collections.abc import Mapping
from html import escape
from typing import Any

from calc.engine.describe import Input
from calc.engine.register import Calculator, every, find
from calc.page.controls import control

RENAMED = {
    "lower_moisture: Moisture to water at": "lower_moisture: Moisture to water again at",
    "units_per_month: Units a month at full sales": "units_per_month: Units sold a month",
    "hours_per_feeding: Work for each 8 ft fed and watered": (
        "hours_per_feeding: Work for each 8 ft (2.4 m) fed and watered"
    ),
    "hours_per_slice: Work for each foot sliced": "hours_per_slice: Work for each foot (30 cm) sliced",
    "sheets: Sheets of 4 × 8 ft for the sides": "sheets: Sheets for the sides",
    "monthly_means: Mean of each month, January first": "monthly_means: Mean air temperature of each month",
    "monthly_means: Mean temperature of each month": "monthly_means: Mean air temperature of each month",
}
"""Old key: the key that means the same now.

Whoever rewords the label of an input adds a line, so that old plans and links still open.
"""


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
    groups: dict[str, list[str]] = {}
    for name, description in entry.inputs.items():
        groups.setdefault(description.group, []).append(
            field(entry, name, description, values, system, currency, (origins or {}).get(name))
        )
    parts = [
        '<div class="calc-summary" role="group" aria-label="Values that need another look" tabindex="-1" hidden></div>'
    ]
    for group, fields in groups.items():
        body = f'<div class="calc-fields">{"".join(fields)}</div>'
        alone = "" not in groups and group == next(iter(groups))  # a form that is all folds shows the first of them
        opened = " open" if alone or any(name in values for name, d in entry.inputs.items() if d.group == group) else ""
        parts.append(
            f'<details class="calc-group"{opened}><summary>{escape(group)}</summary>{body}</details>' if group else body
        )
    parts.append(
        '<button type="submit" class="calc-submit">Show the answer</button>'
    )  # answers follow each change; this brings the reader to them
    return (
        '<form class="calc-form" novalidate autocomplete="off"'
        f' aria-label="{escape(entry.question)}">{"".join(parts)}</form>'
    )


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
    sign = escape(description.sign(system, currency))
    in_unit = f" <span class=calc-unit>{sign}</span>" if sign else ""
    optional = " <span class=calc-optional>(may be blank)</span>" if description.optional else ""
    label = f'<label for="{key}">{escape(description.label)}{in_unit}{optional}</label>'
    about = _hint(description, system, currency, entry.set_by_farm(name))
    hint = f'<p class="calc-hint" id="{key}-hint">{escape(about)}</p>' if about else ""
    described = f"{key}-hint {key}-error" if hint else f"{key}-error"
    before = next((old for old, new in RENAMED.items() if new == plan_key(name, description)), "")
    was = f' data-plan-was="{escape(before)}"' if before else ""
    sent = f' data-exact="{escape(exact)}"' if exact else ""
    common = (
        f'id="{key}" name="{name}" data-plan="{escape(plan_key(name, description))}"{was}{sent}'
        f' data-default="{escape(default)}" aria-describedby="{described}"'
    )
    wide = " calc-wide" if description.many else ""
    return (
        f'<div class="calc-field{wide}"'
        f' data-input="{name}">{label}{hint}{control(description, text, common, currency, system)}{_origin(origin)}<p'
        f' class="calc-error" id="{key}-error" hidden></p></div>'
    )


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
    return f"{name}: {description.label}"


def field_id(entry: Calculator, name: str) -> str:
    return f"{entry.id.replace('.', '-')}-{name}"


INVENTED = re.compile(r"\s*[^.]*\binvented\b[^.]*\.", re.IGNORECASE)
"""A sentence that says so of our default; it is not true of a farm's own."""


def _hint(description: Input, system: str | None, currency: str, set_by_farm: bool = False) -> str:
    """The help, and the plausible range in the reader's units."""
    words = INVENTED.sub("", description.help).strip() if set_by_farm else description.help
    parts = [words] if words else []
    usual = description.usual(system)
    return " ".join([*parts, *([usual] if usual else [])])
