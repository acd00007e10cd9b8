"""The form of a calculator as HTML, made of nothing but its annotations."""

import json
import re
from collections.abc import Mapping, Sequence
from html import escape
from typing import Any

from calc.engine.describe import Choice, Day, Flag, Input, Number, Rows, Series, Text
from calc.engine.quantity import convert, field_text, number_text, symbol, unit
from calc.engine.register import Calculator, every, find
from calc.engine.view import field_value, rows_text

DEFAULT_DIGITS, DIGITS = 4, 6
"""A default is shown rounded; a field that still shows it is not sent, so the exact default is what is used."""

RENAMED = {
    "lower_moisture: Moisture to water at": "lower_moisture: Moisture to water again at",
    "units_per_month: Units a month at full sales": "units_per_month: Units sold a month",
    "hours_per_feeding: Work for each 8 ft fed and watered": (
        "hours_per_feeding: Work for each 8 ft (2.4 m) fed and watered"
    ),
    "hours_per_slice: Work for each foot sliced": "hours_per_slice: Work for each foot (30 cm) sliced",
    "sheets: Sheets of 4 × 8 ft for the sides": "sheets: Sheets for the sides",
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
    default = shown_default(entry.defaults[name], description, system, currency)
    text, exact = shown_value(values[name], description, system, currency) if name in values else (default, "")
    sign = escape(symbol(description.shown(system), currency)) if isinstance(description, (Number, Series)) else ""
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
    wide = " calc-wide" if isinstance(description, (Rows, Series)) else ""
    return (
        f'<div class="calc-field{wide}"'
        f' data-input="{name}">{label}{hint}{control(description, text, common, currency, system)}{_origin(origin)}<p'
        f' class="calc-error" id="{key}-error" hidden></p></div>'
    )


def shown_value(value: Any, description: Input, system: str | None, currency: str = "$") -> tuple[str, str]:
    """(text of a field, text that is sent for it while the reader leaves it alone): 50 kg stands as 110.231 in a field
    in pounds.
    """
    text = field_value(value, description, system, currency)
    if (
        not isinstance(description, Number)
        or value is None
        or description.whole
        or sum(letter.isdigit() for letter in text) <= DIGITS + 1
    ):
        return text, ""
    shown = description.shown(system)
    converted = convert(value, description.unit, shown)
    rounded = field_text(converted, max(DIGITS, len(str(int(abs(converted))))))
    if written_unit(description.unit):
        return rounded, f"{float(value)!r} {written_unit(description.unit)}"
    return rounded, f"{text} {written_unit(shown)}".strip()


def written_unit(name: str) -> str:
    """A unit as a plan writes it: without degree signs, and money without anybody's currency."""
    if name == "money":
        return ""
    if "money" in name:
        return name.replace("degF", "F").replace("degC", "C")
    sign = symbol(name, "")
    return sign.replace("°", "") if sign in ("°F", "°C") else sign


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
    plausible = description.plausible() if isinstance(description, Number) else None
    if isinstance(description, Number) and plausible and plausible[0] != plausible[1]:
        low, high = (number_text(convert(end, description.unit, description.shown(system)), 2) for end in plausible)
        parts.append(f"Usually {low} to {high}.")
    return " ".join(parts)


def control(description: Input, text: str, common: str, currency: str, system: str | None) -> str:
    if isinstance(description, Choice):
        return _select(common, [(key, words) for key, words in description.options.items()], text)
    if isinstance(description, Flag):
        return _select(common, [("yes", "yes"), ("no", "no")], text)
    if isinstance(description, (Rows, Series)):
        columns = (
            escape(json.dumps(_columns(description, system, currency), ensure_ascii=False))
            if isinstance(description, Rows)
            else ""
        )
        extra = f' data-columns="{columns}"' if columns else ""
        return (
            f'<textarea {common}{extra} rows="{min(8, max(2, text.count(chr(10)) + 1))}"'
            f' spellcheck="false">{escape(text, quote=False)}</textarea>'
        )
    if isinstance(description, Day):
        return f'<input {common} type="date" value="{escape(text)}">'
    # A phone's number pad has no minus sign, so temperatures and the like keep the whole keyboard.
    mode = "text"
    if isinstance(description, Number) and description.low >= 0 and not unit(description.unit).scale:
        mode = "numeric" if description.whole else "decimal"
    return f'<input {common} type="text" inputmode="{mode}" value="{escape(text)}" spellcheck="false">'


def _select(common: str, options: Sequence[tuple[str, str]], chosen: str) -> str:
    items = "".join(
        f'<option value="{escape(key)}"{" selected" if key == chosen else ""}>{escape(words)}</option>'
        for key, words in options
    )
    return f"<select {common}>{items}</select>"


def _columns(description: Rows, system: str | None, currency: str) -> list[dict[str, Any]]:
    """What the small editable table needs to know of each column."""
    found = []
    for name, column in description.columns.items():
        sign = symbol(column.shown(system), currency) if isinstance(column, Number) else ""
        item: dict[str, Any] = {"name": name, "label": column.label, "unit": sign}
        if isinstance(column, Choice):
            item["options"] = column.options
        elif isinstance(column, Flag):
            item["options"] = {"yes": "yes", "no": "no"}
        elif isinstance(column, Text) and column.choices:
            item["suggestions"] = list(column.choices)
        found.append(item)
    return found


def shown_default(default: Any, description: Input, system: str | None, currency: str) -> str:
    """A default as its field shows it."""
    if isinstance(description, Number) and default is not None:
        return (
            number_text(convert(default, description.unit, description.shown(system)), DEFAULT_DIGITS)
            .replace(",", "")
            .replace("−", "-")
        )
    if isinstance(description, Rows) and default:
        return rows_text(
            default, description, system, currency, DEFAULT_DIGITS + 1
        )  # a cell may be a clock time in hours
    return field_value(default, description, system, currency)
