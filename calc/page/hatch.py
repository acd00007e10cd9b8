"""One hatch for each material, everywhere: pictures hold on a photocopy and for eyes that see no red.

The patterns stand once on each page; a shape takes its hatch by class (`hatch-feed`), which the style sheet
6-drawings.css fills.
"""

_PATTERNS = {
    "feed": (14, 12, "M1 5h8M6 10h7M10 2h3"),
    "bedding": (13, 13, "M2 3h.1M8 6h.1M4 10h.1M11 11h.1M12 2h.1"),
    "castings": (11, 11, "M2 3h.1M7 2h.1M5 7h.1M10 9h.1M1 9h.1"),
    "water": (16, 8, "M0 4q4 -4 8 0t8 0"),
    "wood": (60, 9, "M0 3q15 -2 30 0t30 0M0 7h60"),
    "cloth": (7, 7, "M0 7L7 0M0 0L7 7"),
    "ground": (18, 18, "M2 16L10 8M9 17L13 13M13 6L17 2"),
    "straw": (22, 12, "M1 10L14 2M8 11L21 6M0 3L7 1"),
    "worm": (22, 14, "M2 4q3 -4 6 0t6 0M12 11q3 -4 6 0t5 -1"),
}

MATERIALS = tuple(_PATTERNS)


def definitions() -> str:
    """The patterns as a picture of no size: it has to be there, and not hidden, for shapes to use it."""
    patterns = "".join(
        f'<pattern id="hatch-{name}" width="{width}" height="{height}" patternUnits="userSpaceOnUse">'
        f'<path class="hatch-line-{name}" d="{commands}"/></pattern>'
        for name, (width, height, commands) in _PATTERNS.items()
    )
    body = "M-12 0q6 -8 12 0t12 0"
    worm = f'<g id="shape-worm"><path class="worm-halo" d="{body}"/><path class="worm" d="{body}"/></g>'
    return (
        '<svg class="hatches" width="0" height="0" aria-hidden="true" focusable="false">'
        f"<defs>{patterns}{worm}</defs></svg>"
    )
