"""Drawings of the climate chapter: both carry figures worked out here, so they can never disagree with the
calculators.
"""

from calc.climate import water
from calc.climate.bed import Scenario, extremes
from calc.engine import Drawing, typical
from calc.page import svg
from calc.page.drawings import drawing
from calc.page.svg import both_scales as both
from calc.page.svg import fahrenheit

HEAT_WAVE = Scenario(
    air_mean=32.0,
    air_swing=8.0,
    days=5.0,
    start_temperature=20.0,
    bed_height=0.3048,
    moisture=0.75,
    bulk_density=600.0,
    cover_resistance=0.0,
    ground_temperature=20.0,
    decomposition_heat=20.0,
    net_radiation=0.0,
    evaporation=0.0,
    surface_coefficient=10.0,
    conductivity_factor=1.0,
)
"""The heat wave of the chapter: 24 degC at night, 40 degC by day, in full shade."""


def both_depths(millimetres: float) -> str:
    """A depth of water in both units, a day's on a page that is read in either."""
    return f"{millimetres:.1f} mm ({millimetres / 25.4:.2f} in)"


@drawing("climate.water_in_and_out")
def water_in_and_out() -> Drawing:
    """Section of a shaded bed on a July day of the mild, wet climate: what takes water and what brings it."""
    answer = water()
    reference, loss = (
        answer.reference_evaporation,
        float(typical(answer.bed_evaporation)),
    )
    bed_top, bed_bottom, left, right = 206, 290, 100, 316
    shapes = [
        svg.circle(40, 32, 15, "draw-line"),
        svg.line(84, 76, 352, 58, "draw-wood"),
        svg.text(220, 44, "shade stops the sun's part", "draw-text", anchor="middle"),
        svg.rect(left - 8, bed_top - 16, 8, bed_bottom - bed_top + 16, "draw-wood"),
        svg.rect(right, bed_top - 16, 8, bed_bottom - bed_top + 16, "draw-wood"),
        svg.rect(left, bed_top, right - left, bed_bottom - bed_top, "draw-castings"),
        svg.rect(left, bed_top, right - left, 14, "draw-feed"),
        svg.line(6, bed_bottom, 424, bed_bottom, "draw-line"),
        svg.text(right + 14, bed_top - 4, "top layer:", "draw-text"),
        svg.text(right + 14, bed_top + 12, "dries first", "draw-text"),
        svg.text(right + 14, bed_top + 50, "core:", "draw-text"),
        svg.text(right + 14, bed_top + 66, "dries last", "draw-text"),
        svg.text(4, 146, "sides stop", "draw-text"),
        svg.text(4, 162, "the wind's", "draw-text"),
        svg.text(4, 178, "part", "draw-text"),
        svg.text(84, 90, "lost in a day:", "draw-text"),
        svg.text(84, 106, both_depths(loss), "draw-text"),
        svg.text(84, 122, f"open: {both_depths(reference)}", "draw-dim"),
        svg.text(262, 104, "watering and wet", "draw-text"),
        svg.text(262, 120, "feed bring it back", "draw-text"),
        svg.text(
            (left + right) / 2, bed_bottom + 20, "a well-kept bed drains next to nothing", "draw-dim", anchor="middle"
        ),
    ]
    shapes += [svg.arrow(56, 42, 108, 70, "draw-line"), svg.arrow(59, 34, 164, 66, "draw-line")]
    shapes += [svg.arrow(6, y, left - 12, y, "draw-line") for y in (196, 214)]
    shapes += [svg.arrow(x, bed_top - 5, x, 132, "draw-water") for x in (122, 150, 178, 206)]
    shapes += [svg.arrow(x, 132, x, bed_top - 5, "draw-water") for x in (270, 300)]
    return Drawing(
        "water_in_and_out",
        "Water in and out of a shaded bed",
        finding=(
            f"On an average July day in the mild, wet climate the open field loses {both_depths(reference)}, this bed"
            f" {both_depths(loss)}."
        ),
        svg=svg.picture(430, 322, shapes),
        text=(
            "Section of a bed between boards under a shade cloth. Sun and wind take water from the surface:"
            f" {both_depths(reference)} a day in the open, {both_depths(loss)} a day here, because cloth keeps off the"
            " sun's part"
            " and boards the wind's part. Watering and wet feed bring it back. The top layer dries first, the core"
            " last."
        ),
    )


@drawing("climate.bed_by_depth")
def bed_by_depth() -> Drawing:
    """Section of a bed with the span of temperatures at every depth, through the chapter's heat wave, to scale in
    depth.
    """
    run = HEAT_WAVE.run()
    nodes = extremes(run)
    last_day = [values[-49:] for values in zip(*run.profiles)]
    spans = [(depth, min(values), max(values)) for (depth, *_), values in zip(nodes, last_day)]
    top, deep = 60, 200
    left, scale_left, per_kelvin, wide = 6, 146, 10.6, 70

    def x(celsius: float) -> float:
        return scale_left + per_kelvin * (celsius - 18)

    def y(depth: float) -> float:
        return top + deep * depth / HEAT_WAVE.bed_height

    outline = [(x(low), y(depth)) for depth, low, _ in spans] + [
        (x(high), y(depth)) for depth, _, high in reversed(spans)
    ]
    shapes = [
        svg.rect(left, top, wide, deep, "draw-castings"),
        svg.rect(left, top, wide, 14, "draw-feed"),
        svg.text(left, top + deep + 20, "ground, 20 °C", "draw-text"),
        svg.text(left, top + deep + 36, "(68 °F)", "draw-dim"),
        svg.polygon(outline, "draw-fill"),
        svg.line(x(30), top - 16, x(30), top + deep, "draw-dim"),
        svg.text(x(30), top - 22, "band ends at 30 °C (86 °F)", "draw-dim", anchor="middle"),
        svg.line(scale_left, top + deep, x(42), top + deep, "draw-line"),
    ]
    for celsius in (20, 25, 30, 35, 40):
        shapes.append(svg.line(x(celsius), top + deep, x(celsius), top + deep + 5, "draw-line"))
        shapes.append(svg.text(x(celsius), top + deep + 20, f"{celsius} °C", "draw-text", anchor="middle"))
        shapes.append(
            svg.text(x(celsius), top + deep + 36, f"{fahrenheit(celsius):.0f} °F", "draw-dim", anchor="middle")
        )
    said = []
    for share, name in (
        (0.0, "surface"),
        (1 / 6, "5 cm (2 in)"),
        (1 / 3, "10 cm (4 in)"),
        (1 / 2, "15 cm (6 in)"),
        (3 / 4, "23 cm (9 in)"),
    ):
        depth, low, high = spans[round(share * (len(spans) - 1))]
        shapes.append(svg.line(left + wide, y(depth), x(low), y(depth), "draw-dim"))
        shapes.append(svg.text(left + wide + 5, y(depth) - 4, name, "draw-dim"))
        said.append(f"{name}: {both(low)} to {both(high)}")
    _, surface_low, surface_high = spans[0]
    _, core_low, core_high = spans[run.core]
    return Drawing(
        "bed_by_depth",
        "How deep the day reaches: fifth day of a heat wave, a bed not fed and dry on top",
        finding=(
            f"The surface swings by {surface_high - surface_low:.0f} °C ({1.8 * (surface_high - surface_low):.0f} °F) a"
            f" day, half-way down by {core_high - core_low:.1f} °C ({1.8 * (core_high - core_low):.1f} °F)."
        ),
        svg=svg.picture(430, 310, shapes),
        text=(
            "Section of a bed 30 cm (12 in) high beside the span of its temperatures over one day with air from 24 to"
            " 40 °C (75 to 104 °F). "
        )
        + "; ".join(said)
        + ".",
    )
