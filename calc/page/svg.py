"""Small SVG pieces for drawings to scale: every colour and line weight comes from the style sheet by class."""

from collections.abc import Iterable, Sequence
from html import escape
from math import atan2, cos, sin


def _at(value: float) -> str:
    """A coordinate with a tenth of a unit, the same text in every Python."""
    return f"{round(value, 1) + 0.0:.1f}".removesuffix(".0")


LARGEST = 1.2
"""How far a drawing may be enlarged on a wide screen, so that its words keep the size of the text around it."""


def picture(width: float, height: float, shapes: Iterable[str]) -> str:
    """The whole picture; its title and text equivalent stand beside it, so the picture itself is hidden from screen
    readers.
    """
    return (
        f'<svg class="draw" width="{_at(width * LARGEST)}" viewBox="0 0 {_at(width)} {_at(height)}" aria-hidden="true"'
        f' focusable="false">{"".join(shapes)}</svg>'
    )


def rect(x: float, y: float, width: float, height: float, style: str) -> str:
    return f'<rect x="{_at(x)}" y="{_at(y)}" width="{_at(width)}" height="{_at(height)}" class="{style}"/>'


def line(x1: float, y1: float, x2: float, y2: float, style: str = "draw-line") -> str:
    return f'<line x1="{_at(x1)}" y1="{_at(y1)}" x2="{_at(x2)}" y2="{_at(y2)}" class="{style}"/>'


def circle(x: float, y: float, radius: float, style: str) -> str:
    return f'<circle cx="{_at(x)}" cy="{_at(y)}" r="{_at(radius)}" class="{style}"/>'


def polygon(points: Sequence[tuple[float, float]], style: str) -> str:
    return f'<polygon points="{_points(points)}" class="{style}"/>'


def polyline(points: Sequence[tuple[float, float]], style: str = "draw-line") -> str:
    return f'<polyline points="{_points(points)}" class="{style}"/>'


def path(commands: str, style: str = "draw-line") -> str:
    return f'<path d="{commands}" class="{style}"/>'


def text(x: float, y: float, words: str, style: str = "draw-text", anchor: str = "start") -> str:
    return f'<text x="{_at(x)}" y="{_at(y)}" text-anchor="{anchor}" class="{style}">{escape(words)}</text>'


def arrow(x1: float, y1: float, x2: float, y2: float, style: str = "draw-line") -> str:
    """A line with a head at its second end."""
    angle = atan2(y2 - y1, x2 - x1)
    head = [(x2, y2)] + [(x2 - 8 * cos(angle + turn), y2 - 8 * sin(angle + turn)) for turn in (0.4, -0.4)]
    return line(x1, y1, x2, y2, style) + polygon(head, f"{style} draw-head")


def measure(x1: float, y1: float, x2: float, y2: float, words: str, style: str = "draw-dim") -> str:
    """A dimension line with an end mark at each end and its text in the middle, above it or beside it."""
    upright = abs(x2 - x1) < abs(y2 - y1)
    ends = [(x - 4, y, x + 4, y) if upright else (x, y - 4, x, y + 4) for x, y in ((x1, y1), (x2, y2))]
    middle_x, middle_y = (x1 + x2) / 2, (y1 + y2) / 2
    label = (
        text(middle_x + 7, middle_y + 4, words, style)
        if upright
        else text(middle_x, middle_y - 6, words, style, "middle")
    )
    return line(x1, y1, x2, y2, "draw-measure") + "".join(line(*end, "draw-measure") for end in ends) + label


def scale_bar(x: float, y: float, length: float, words: str) -> str:
    """A bar of known length, so that the picture can be measured."""
    return (
        rect(x, y, length / 2, 5, "draw-scale")
        + rect(x + length / 2, y, length / 2, 5, "draw-scale draw-scale-open")
        + text(x + length + 8, y + 6, words, "draw-dim")
    )


def fahrenheit(celsius: float) -> float:
    return celsius * 1.8 + 32


def both_scales(celsius: float) -> str:
    """A temperature in both scales: drawings stand still while the reader's units change."""
    return f"{celsius:.0f} °C ({fahrenheit(celsius):.0f} °F)"


def _points(points: Sequence[tuple[float, float]]) -> str:
    return " ".join(f"{_at(x)},{_at(y)}" for x, y in points)


def holding(style: str, width: float, height: float, shapes: Iterable[str]) -> str:
    """A picture as wide as its place that may hold handles: it is not hidden, and its marks say their own names."""
    return (
        f'<svg class="plate {style}" viewBox="0 0 {_at(width)} {_at(height)}" role="group" aria-label="The picture">'
        f"{''.join(shapes)}</svg>"
    )
