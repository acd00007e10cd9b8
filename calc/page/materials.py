"""The table of materials as HTML: a line with the name, which unfolds to its sources, and a line of four figures, so
that it fits a phone.
"""

from html import escape

from calc.engine.quantity import convert, number_text
from calc.facts.base import SURE, Range
from calc.facts.materials import MATERIALS, Material

GROUPS = {
    "manure": "Manures",
    "food": "Food and kitchen",
    "green": "Green and leafy",
    "brown": "Dry and woody",
    "other": "Finished",
}
FIGURES = (
    ("moisture", "Moisture"),
    ("nitrogen", "Nitrogen"),
    ("carbon_nitrogen", "C:N"),
    ("bulk_density", "Bulk density"),
)


def materials_table() -> str:
    """Every material with typical, low and high of each figure; density in both units, since pages stand still."""
    heads = "".join(
        f'<th scope="col">{head}</th>'
        for head in ("Moisture, %", "Nitrogen, % of dry", "C:N", "Bulk density, kg/m³ and lb/yd³")
    )
    bodies = "".join(_group(key, title) for key, title in GROUPS.items())
    return (
        '<section class="materials" aria-label="Materials and their figures" tabindex="0"><table'
        f' class="materials-table"><caption>{len(MATERIALS)} materials: the typical figure, then low to high.'
        '<span class="screen-only"> Open a name for notes and sources.</span></caption><thead><tr><th scope="col"'
        f' class="materials-name" colspan="2">Material</th>{heads}</tr></thead>{bodies}</table></section>'
    )


def _group(key: str, title: str) -> str:
    rows = "".join(_row(material) for material in MATERIALS if material.group == key)
    return f'<tbody><tr><th class="materials-group" scope="rowgroup" colspan="6">{title}</th></tr>{rows}</tbody>'


def _row(material: Material) -> str:
    """The name with its notes, then the figures: beside it on a desk, below it on a phone.

    What unfolds may not stand in the head of a row, so the head is one that only a screen reader needs.
    """
    cells = (
        _cell(material.moisture, 100),
        _cell(material.nitrogen, 100),
        _cell(material.carbon_nitrogen, 1),
        _density(material.bulk_density),
    )
    name = f"<details><summary>{_sentence(material.name)}</summary>{_notes(material)}</details>"
    header = f'<th scope="row" class="materials-unseen"><span>{_sentence(material.name)}</span></th>'
    return f'<tr><td class="materials-name" id="{_anchor(material.name)}">{name}</td>{header}{"".join(cells)}</tr>'


def _anchor(name: str) -> str:
    return "material-" + "".join(letter if letter.isalnum() else "-" for letter in name)


def _sentence(name: str) -> str:
    return escape(name[:1].upper() + name[1:])


def _cell(fact: Range, scale: int) -> str:
    typical, low, high = (
        number_text(scale * value, digits) for value, digits in ((fact.typical, 3), (fact.low, 2), (fact.high, 2))
    )
    return f"<td><b>{typical}</b><br><small>{low}–{high}</small></td>"


def _density(fact: Range) -> str:
    return "<td>" + "<br>".join(_in_unit(fact, unit) for unit in ("kg/m3", "lb/yd3")) + "</td>"


def _in_unit(fact: Range, unit: str) -> str:
    typical, low, high = (
        number_text(convert(value, "kg/m3", unit), 2) for value in (fact.typical, fact.low, fact.high)
    )
    return f"<b>{typical}</b> <small>{low}–{high}</small>"


def _notes(material: Material) -> str:
    """What to know about a material, and where each of its figures comes from; figures of one origin share a line."""
    origins: dict[str, list[str]] = {}
    for name, label in FIGURES:
        fact = getattr(material, name)
        origin = f"{fact.source}, {SURE[fact.sure]}" if fact.sure not in ("practice", "judged") else SURE[fact.sure]
        assumed = " (one figure; range assumed)" if fact.note else ""
        origins.setdefault(origin + assumed, []).append(label if label == "C:N" else label.lower())
    lines = "".join(f"<li>{escape(', '.join(labels))}: {escape(origin)}</li>" for origin, labels in origins.items())
    note = f"<p>{escape(material.note)}</p>" if material.note else ""
    return f"{note}<ul>{lines}</ul>"
