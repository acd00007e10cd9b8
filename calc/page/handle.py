"""Points of a picture that can be held: where an input of the reader's lies in it, and along which way it is drawn.

The page moves them by mouse, touch and keys and writes into the field (scripts/browser/page/hold.js); without a script
they are blue marks that say what is the reader's.
"""

from html import escape

from calc.engine.describe import Handle
from calc.engine.quantity import convert
from calc.engine.view import View

RADIUS, REACH = 10, 24
"""Of the mark, and of what a finger may miss it by, in units of the picture."""

ARROWS = {"x": "M-4 -4L-8 0L-4 4M4 -4L8 0L4 4", "y": "M-4 -4L0 -8L4 -4M-4 4L0 8L4 4"}


def ends(handle: Handle, view: View) -> tuple[float, float]:
    """Values of the input at the ends of the way, as its field shows them."""
    description = view.entry.numeric_inputs[handle.input]
    shown = description.shown(view.system)
    low, high = (float(f"{convert(end, description.unit, shown):.7g}") for end in (handle.low, handle.high))
    return low, high


def handle_svg(
    handle: Handle, at: tuple[float, float], way: tuple[float, float], view: View, reach: float = REACH
) -> str:
    """The mark at a point of a picture. way: where the ends of the input lie along the axis, in its units."""
    low, high = ends(handle, view)
    lies = "horizontal" if handle.axis == "x" else "vertical"
    value = view.given[handle.input]
    description = view.entry.numeric_inputs[handle.input]
    now = (
        ""
        if value is None
        else f' aria-valuenow="{convert(value, description.unit, description.shown(view.system)):.7g}"'
    )
    return (
        f'<g class="figure-handle" data-input="{handle.input}" data-axis="{handle.axis}" data-from="{way[0]:.1f}"'
        f' data-to="{way[1]:.1f}" data-low="{low:g}" data-high="{high:g}" tabindex="0" role="slider"'
        f' aria-label="{escape(description.label)}" aria-orientation="{lies}"'
        f' aria-valuemin="{low:g}" aria-valuemax="{high:g}"{now} aria-valuetext="{escape(view[handle.input])}"'
        f' transform="translate({at[0]:.1f} {at[1]:.1f})"><circle class="handle-reach" r="{reach:g}"/>'
        f'<circle class="handle-mark" r="{RADIUS}"/><path class="handle-arrows" d="{ARROWS[handle.axis]}"/></g>'
    )
