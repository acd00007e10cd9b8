"""How a number is slid with a finger: ends, usual part and step of its rail, and the units that its button turns to."""

import json
from dataclasses import dataclass
from html import escape
from math import ceil, floor, isfinite, log10

from calc.engine.describe import Number
from calc.engine.quantity import convert, symbol, unit, written_unit

OUTSIDE = 0.6
"""How far a rail goes beyond the usual range, as a share of it, on either side."""

TIMES = 3
"""How many times its default a rail goes to where no usual range is known."""

ALSO = {
    "ft": ("in",),
    "m": ("cm",),
    "lb": ("oz",),
    "kg": ("g",),
    "oz": ("lb",),
    "g": ("kg",),
    "yd3": ("ft3",),
    "ft3": ("gal",),
    "m3": ("L",),
    "gal": ("ft3",),
}
"""Units that a reader may think in besides that of the other system."""


@dataclass(frozen=True)
class Rail:
    """Ends and step in the unit shown; usual: the thick part, or None."""

    low: float
    high: float
    step: float
    usual: tuple[float, float] | None

    def share(self, value: float) -> float:
        """Where a value lies, 0 to 1; outside is at the end."""
        return min(1.0, max(0.0, (value - self.low) / (self.high - self.low)))


def nice_step(length: float) -> float:
    """One, two or five times a power of ten, of which about a hundred make up the length.

    >>> nice_step(26), nice_step(260), nice_step(0.9)
    (0.2, 2.0, 0.01)
    """
    power = 10.0 ** floor(log10(length / 100))
    return power * next(factor for factor in (1, 2, 5, 10) if factor * power * 1.5 >= length / 100)


def rail(description: Number, value: float | None, system: str | None) -> Rail | None:
    """Where a number can be slid to, in the unit shown; None for a blank one, or where nothing says how far it goes."""
    if value is None:
        return None
    shown = description.shown(system)

    def here(number: float) -> float:
        return convert(number, description.unit, shown)

    bottom, top = here(description.low), here(description.high)
    plausible = description.plausible(value)
    usual = (here(plausible[0]), here(plausible[1])) if plausible and plausible[0] < plausible[1] else None
    now = here(value)
    if usual:
        over = OUTSIDE * (usual[1] - usual[0])
        low, high = usual[0] - over, usual[1] + over
    elif unit(description.unit).scale:
        low, high = now - 25, now + 25
    elif now > 0:
        low, high = min(0.0, now) if bottom <= 0 else bottom, TIMES * now
    else:
        return None
    low, high = max(bottom, min(low, now)), min(top, max(high, now))
    if not (isfinite(low) and isfinite(high)) or high - low < 1e-9 * max(1.0, abs(high)):
        return None
    step = here(description.step) - here(0.0) if description.step else nice_step(high - low)
    if description.whole:
        step = max(1.0, round(step))
    return Rail(max(bottom, step * floor(low / step + 1e-9)), min(top, step * ceil(high / step - 1e-9)), step, usual)


def rail_html(description: Number, value: float | None, system: str | None) -> str:
    """The rail below a number, moved by scripts/browser/page/hold.js: for a pointer; the field takes arrow keys."""
    found = rail(description, value, system)
    if not found or value is None:
        return ""
    at = found.share(convert(value, description.unit, description.shown(system)))
    places = [f"--at:{at:.4g}"]
    if found.usual:
        places += [f"--from:{found.share(found.usual[0]):.4g}", f"--to:{found.share(found.usual[1]):.4g}"]
    ends = " ".join(f'data-{name}="{getattr(found, name):.7g}"' for name in ("low", "high", "step"))
    return f'<span class="calc-rail" {ends} style="{";".join(places)}" aria-hidden="true"></span>'


def units_html(description: Number, key: str, system: str | None, currency: str) -> str:
    """The sign of the unit; a button where the reader may rather think in another one, with the way to each."""
    shown = description.shown(system)
    sign = escape(symbol(shown, currency))
    if not sign:
        return ""
    other = description.shown("metric" if system == "us" else "us") if system else shown
    names = [name for name in dict.fromkeys((other, *ALSO.get(shown, ()))) if name != shown and "money" not in name]
    if not names:
        return f'<span class="calc-unit" id="{key}-unit">{sign}</span>'
    ways = []
    for name in names:
        zero, one = convert(0.0, shown, name), convert(1.0, shown, name)
        ways.append([written_unit(name), float(f"{one - zero:.9g}"), float(f"{zero:.9g}")])
    return (
        f'<button type="button" class="calc-unit" id="{key}-unit" data-units="{escape(json.dumps(ways))}"'
        f' title="Another unit">{sign}</button>'
    )
