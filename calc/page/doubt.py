"""The bar of doubt: low, typical and high of a result on an axis with true ends."""

from html import escape
from math import floor, log10

from calc.engine.describe import Band, Output
from calc.engine.quantity import convert, money_text, number_text

ENDS = (1, 1.5, 2, 2.5, 3, 4, 5, 6, 8, 10)
TIGHT = 0.15
"""An axis from nought shows nothing of a range that is a smaller share of its upper end than this."""


def round_end(value: float) -> float:
    """The next round number, upwards in size.

    >>> round_end(150), round_end(0.31), round_end(-7)
    (150.0, 0.4, -8.0)
    """
    if not value:
        return 0.0
    power = 10.0 ** floor(log10(abs(value)))
    size = next(end * power for end in ENDS if end * power >= abs(value) * (1 - 1e-9))
    return float(f"{size:.6g}") * (1 if value > 0 else -1)


def axis_of(low: float, high: float) -> tuple[float, float]:
    """Round ends of an axis that shows a range: from nought where that leaves it wide enough to be seen."""
    if low >= 0 and high - low >= TIGHT * (1 - 1e-9) * high:
        return 0.0, round_end(1.15 * high)
    if high <= 0 and high - low >= TIGHT * (1 - 1e-9) * -low:
        return round_end(1.15 * low), 0.0
    step = round_end(high - low)
    # An end that lies on a step but for its last bits is on it: those differ between Pythons.
    start, end = step * floor(low / step - 0.5 + 1e-9), step * -floor(-(high / step + 0.5) + 1e-9)
    return float(f"{start:.6g}"), float(f"{end:.6g}")


def bar(value: object, output: Output, system: str | None, currency: str) -> str:
    """HTML of the bar, for eyes only: the words beside it say the same. Nothing for a result without a range."""
    if not isinstance(value, Band):
        return ""
    low, middle, high = (
        convert(end, output.unit, output.shown(system)) for end in (value.low, value.value, value.high)
    )
    if not high - low > 1e-9 * max(abs(high), abs(low)):
        return ""
    start, end = axis_of(low, high)
    if not end > start:  # a range narrower than what an axis can say
        return ""
    places = ";".join(
        f"--{name}:{min(1.0, max(0.0, (at - start) / (end - start))):.4g}"
        for name, at in (("low", low), ("mid", middle), ("high", high))
    )
    said = [money_text(at, currency) if output.unit.startswith("money") else number_text(at, 4) for at in (start, end)]
    ends = f'data-from="{escape(said[0])}" data-to="{escape(said[1])}"'
    return f'<span class="doubt" style="{places}" {ends} aria-hidden="true"></span>'
