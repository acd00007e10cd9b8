"""Two decks: what comes off each, from a sieve test and the Rosin–Rammler curve through it."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import exp, fsum, log
from typing import Annotated, Any

from calc.engine import (
    INCH,
    POUND,
    Answer,
    Axis,
    Column,
    Figure,
    Handle,
    Mark,
    Number,
    Output,
    Part,
    Refused,
    Rows,
    RowsPart,
    Share,
    Show,
    Step,
    Table,
    View,
    calculator,
    presents,
)
from calc.facts import harvest as facts
from calc.lane.chain import share_by_volume

SIEVES = (
    {"opening": 0.0063, "retained": 0.02},
    {"opening": 0.004, "retained": 0.04},
    {"opening": 0.0028, "retained": 0.05},
    {"opening": 0.002, "retained": 0.11},
    {"opening": 0.001, "retained": 0.27},
    {"opening": 0.0, "retained": 0.51},
)
"""An invented sieve test of Quillfen's castings: kilograms on each sieve, opening 0 is the pan."""


def rosin_rammler(size: float, fit_size: float, fit_spread: float) -> float:
    """Share of the weight that is coarser than a size [-]: exp(−(x/x′)ⁿ).

    Source: Rosin & Rammler 1933. size, fit_size [m]; fit_spread [-].
    >>> round(rosin_rammler(1.0, 2.0, 1.2), 6), round(1 - rosin_rammler(2.0, 2.0, 1.2), 5)
    (0.647087, 0.63212)
    """
    return exp(-((size / fit_size) ** fit_spread))


def size_at(passing: float, fit_size: float, fit_spread: float) -> float:
    """Size that a share of the weight passes [m].

    >>> round(size_at(0.5, 2.0, 1.2), 6)
    1.473617
    """
    shape: float = (-log(1 - passing)) ** (1 / fit_spread)
    return fit_size * shape


def shares_coarser(rows: Sequence[dict[str, Any]]) -> list[tuple[float, float]]:
    """[(opening [m], share coarser)] of a sieve test, coarsest first; rows of opening [m] and retained [kg], opening 0
    is the pan.
    """
    total = sum(row["retained"] for row in rows)
    shares, above = [], 0.0
    for row in sorted(rows, key=lambda row: -row["opening"]):
        above += row["retained"]
        if row["opening"] > 0:
            shares.append((row["opening"], above / total))
    return shares


def fit(points: Sequence[tuple[float, float]]) -> tuple[float, float, float] | None:
    """(x′ [m], n, r²) by ordinary least squares of ln(−ln R) on ln x over the points with 0 < R < 1; None with fewer
    than two.

    Source: Rosin & Rammler 1933, straightened by taking logarithms twice.
    """
    inside = [(log(size), log(-log(coarser))) for size, coarser in points if 0 < coarser < 1]
    if len(inside) < 2:
        return None
    mean_x, mean_y = (sum(column) / len(inside) for column in zip(*inside))
    across = sum((x - mean_x) ** 2 for x, _ in inside)
    along = sum((x - mean_x) * (y - mean_y) for x, y in inside)
    if across == 0 or along <= 0:
        return None
    spread = along / across
    residual = sum((y - mean_y - spread * (x - mean_x)) ** 2 for x, y in inside)
    total = sum((y - mean_y) ** 2 for _, y in inside)
    return exp(mean_x - mean_y / spread), spread, 1 - residual / total if total else 1.0


@dataclass(frozen=True)
class Screened(Answer):
    product_mass: Annotated[float, Output("kg", "Fine castings to sell", "Through both decks.", ranged=True, main=True)]
    returned_mass: Annotated[
        float,
        Output("kg", "Middle size", "Back on the lane: it is food yet, with cocoons in it.", ranged=True, main=True),
    ]
    mulch_mass: Annotated[float, Output("kg", "Overs", "Mulch, or back to the heap.", ranged=True, main=True)]
    hours: Annotated[float, Output("hour", "Hours of screening", "", ranged=True, main=True, digits=2)]
    product_share: Annotated[
        float,
        Output(
            "1",
            "Share that is product",
            "By weight.",
            us="%",
            metric="%",
            digits=2,
            ranged=True,
        ),
    ]
    product_volume: Annotated[float, Output("m3", "Product, volume", "", ranged=True)]
    product_share_by_volume: Annotated[
        float,
        Output(
            "1",
            "Share that is product, by volume",
            "The page on longer lanes asks for it.",
            us="%",
            metric="%",
            digits=2,
            ranged=True,
        ),
    ]
    fit_size: Annotated[float, Output("m", "Size x′ of the curve", "63 % by weight is finer.", us="mm", metric="mm")]
    fit_spread: Annotated[float, Output("1", "Spread n of the curve", "Larger: more even grains.")]
    fit_r2: Annotated[float, Output("1", "Fit r²", "1 is a perfect line.")]
    median_size: Annotated[float, Output("m", "Half is finer than", "", us="mm", metric="mm")]


@calculator(
    "harvest.screen",
    "What comes off each deck, and how long does it take?",
    leads={
        "harvest.density": {"volume": "product_volume"},
        "lane.output": {"screen_product_share": "product_share_by_volume", "screened_per_hour": "throughput_per_hour"},
        "economics.mix": {},
    },
)
def screen(
    mass: Annotated[float, Number("kg", "Castings to screen", 0.1, 1e6, help="At about 50–55 % moisture.")] = 500
    * POUND,
    sieves: Annotated[
        Sequence[dict[str, Any]],
        Rows(
            "Sieve test",
            {
                "opening": Number("m", "Opening", 0, 0.2, us="mm", metric="mm"),
                "retained": Number("kg", "Left on it", 0, 1000, us="g", metric="g"),
            },
            help="A dry pound or half kilogram shaken through what sieves you have. Opening 0 is the pan underneath.",
        ),
    ] = SIEVES,
    coarse_opening: Annotated[
        float, Number("m", "Coarse deck", 0.0005, 0.1, us="in", metric="mm", help="¼ in is usual.")
    ] = INCH / 4,
    fine_opening: Annotated[
        float,
        Number(
            "m",
            "Fine deck",
            0.0002,
            0.1,
            us="in",
            metric="mm",
            help="⅛ in is usual. Hardware cloth opens less than its name: subtract the wire.",
        ),
    ] = INCH / 8,
    efficiency: Annotated[
        float,
        Share(
            "Share of the fines that gets through",
            0.05,
            1,
            fact=facts.EFFICIENCY,
            help=(
                "Of each deck. A rotating drum passed 80 to 95 % (Manyuchi & Phiri 2013); 85 % for shaken decks is our"
                " own judgement."
            ),
        ),
    ] = facts.EFFICIENCY.typical,
    throughput_per_hour: Annotated[
        float, Number("kg/hour", "Screened in an hour", 5, 20000, fact=facts.THROUGHPUT)
    ] = facts.THROUGHPUT.typical,
    castings_bulk_density: Annotated[
        float, Number("kg/m3", "Bulk density of the product", 100, 1300, fact=facts.CASTINGS_DENSITY)
    ] = facts.CASTINGS_DENSITY.typical,
    overs_bulk_density: Annotated[
        float | None,
        Number(
            "kg/m3",
            "Bulk density of what does not pass",
            50,
            1300,
            optional=True,
            help="Middle and overs together, by the bucket. Blank: as the product; coarse stuff is often lighter.",
        ),
    ] = None,
) -> Screened:
    """Product, middle size and overs of two decks from a sieve test.

    mass [kg]; sieves: rows of opening [m] and retained [kg]; openings [m]; efficiency [-] of each deck; throughput
    [kg/h]; density [kg/m³].
    Of what is finer than a deck the share `efficiency` gets through; nothing coarser does. Source: Rosin & Rammler
    1933.
    """
    problems = []
    if fine_opening >= coarse_opening:
        problems.append(("fine_opening", "Fine deck must have a smaller opening than the coarse deck."))
    openings = [row["opening"] for row in sieves]
    if len(set(openings)) < len(openings):
        problems.append(("sieves", "Sieve test: two rows have the same opening."))
    if sum(row["retained"] for row in sieves) <= 0:
        problems.append(("sieves", "Sieve test: nothing lies on any sieve."))
    if problems:
        raise Refused(problems)
    fitted = fit(shares_coarser(sieves))
    if fitted is None:
        raise Refused([("sieves", "Sieve test: at least two sieves need something above and something below them.")])
    size, spread, quality = fitted
    through_coarse = efficiency * (1 - rosin_rammler(coarse_opening, size, spread))
    product = efficiency * efficiency * (1 - rosin_rammler(fine_opening, size, spread))
    return Screened(
        product_mass=mass * product,
        returned_mass=mass * (through_coarse - product),
        mulch_mass=mass * (1 - through_coarse),
        hours=mass / throughput_per_hour,
        product_share=product,
        product_volume=mass * product / castings_bulk_density,
        product_share_by_volume=share_by_volume(
            product, castings_bulk_density, overs_bulk_density or castings_bulk_density
        ),
        fit_size=size,
        fit_spread=spread,
        fit_r2=quality,
        median_size=size_at(0.5, size, spread),
    )


@presents(screen)
def show_screen(v: View) -> Show:
    points = shares_coarser(v.sieves)
    kept_back = v.mass * (1 - rosin_rammler(v.fine_opening, v.fit_size, v.fit_spread)) - v.product_mass
    sizes = [0.0002 * 1.25**step for step in range(22)]
    rows = [
        ("Overs: mulch", v.mulch_mass, v.mulch_mass / v.mass),
        ("Middle: back on the lane", v.returned_mass, v.returned_mass / v.mass),
        ("Fine: to sell", v.product_mass, v.product_share),
        ("Fine too, but carried off with the other two", kept_back, kept_back / v.mass),
        ("Total", v.mass, 1.0),
    ]
    coarser = rosin_rammler(v.coarse_opening, v.fit_size, v.fit_spread)
    overs = v.overs_bulk_density or v.castings_bulk_density
    inside = [(size, share) for size, share in points if 0 < share < 1]
    parts = {
        "coarser": Part("share coarser than the coarse deck", coarser, "1", "%", "%"),
        "through": Part("share through the coarse deck", v.efficiency * (1 - coarser), "1", "%", "%"),
        "curve": RowsPart(
            "the sieves",
            {"opening": "m", "coarser_share": "1"},
            [{"opening": size, "coarser_share": share} for size, share in inside],
        ),
        "mean_y": Part("mean of ln(−ln R)", fsum(log(-log(share)) for _, share in inside) / len(inside)),
        "overs": Part("density of what does not pass", overs, "kg/m3"),
    }
    return Show(
        working=[
            Step(
                "The curve",
                "{coarser} = e^(−({coarse_opening} ÷ {fit_size})^{fit_spread})",
                "Rosin & Rammler 1933; least squares of ln(−ln R) on ln x",
                "Fitted to your sieves; so for the fine deck too.",
                parts,
            ),
            Step(
                "Through the coarse deck",
                "{through} = {efficiency} × (1 − {coarser})",
                "definition of deck efficiency; its 85 % is our own judgement",
                values=parts,
            ),
            Step(
                "Product",
                "{product_share} = {efficiency} × {efficiency} × (1 − e^(−({fine_opening} ÷ {fit_size})^{fit_spread}))",
                "two decks, one after the other",
            ),
            Step(
                "Three heaps",
                "{product_mass} = {mass} × {product_share}; {returned_mass} = {mass} × {through} − {product_mass};"
                " {mulch_mass} = {mass} − {mass} × {through}; {product_volume} = {product_mass} ÷"
                " {castings_bulk_density}",
                "mass balance",
                values=parts,
            ),
            Step(
                "By volume",
                "{product_share_by_volume} = {product_volume} ÷ ({product_volume} + ({mass} − {product_mass}) ÷"
                " {overs})",
                "definition",
                values=parts,
            ),
            Step(
                "Half is finer",
                "{median_size} = {fit_size} × (ln 2)^(1 ÷ {fit_spread})",
                "Rosin & Rammler 1933, solved for the size",
            ),
            Step(
                "Fit",
                "{mean_y} = mean over {curve} of ln(0 − ln {coarser_share}); {fit_r2} = 1 − (sum over {curve} of"
                " (ln(0 − ln {coarser_share}) − {fit_spread} × ln({opening} ÷ {fit_size}))^2) ÷ (sum over {curve} of"
                " (ln(0 − ln {coarser_share}) − {mean_y})^2)",
                "least squares; on the line ln(−ln R) = n × ln(x ÷ x′)",
                values=parts,
            ),
            Step("Hours", "{hours} = {mass} ÷ {throughput_per_hour}", "common practice, no source"),
        ],
        tables=[
            Table(
                "decks",
                "What comes off each deck",
                [
                    Column("what", "What"),
                    Column("mass", "Weight", "kg"),
                    Column("share", "Share", "1", us="%", metric="%", digits=2),
                ],
                rows,
                open=True,
            ),
            Table(
                "sieves",
                "Sieve test beside the curve",
                [
                    Column("opening", "Opening", "m", us="mm", metric="mm"),
                    Column("coarser", "Coarser, measured", "1", us="%", metric="%"),
                    Column("curve", "Coarser, curve", "1", us="%", metric="%"),
                ],
                [(size, share, rosin_rammler(size, v.fit_size, v.fit_spread)) for size, share in points],
            ),
        ],
        figures=[
            Figure(
                "sizes",
                "Grain sizes and the two decks",
                finding=(
                    f"Half of it is finer than {v['median_size']}. What lies between the decks goes back on the lane."
                ),
                x=Axis("Size", "m", us="mm", metric="mm", kind="log"),
                y=Axis("Finer, by weight", "1", us="%", metric="%", low=0, high=1),
                marks=[
                    Mark("zone_x", [(v.fine_opening, v.coarse_opening, "middle")], tone="muted"),
                    Mark("line", [(x, 1 - rosin_rammler(x, v.fit_size, v.fit_spread)) for x in sizes], label="curve"),
                    Mark("dots", [(size, 1 - share) for size, share in points], label="your sieves", tone="second"),
                ],
                handles=[
                    Handle("fine_opening", "x", 0.001, 0.02, at=(v.fine_opening, 0.0), words="fine"),
                    Handle("coarse_opening", "x", 0.002, 0.04, at=(v.coarse_opening, 1.0), words="coarse"),
                ],
            )
        ],
        warnings=_warnings(v, points),
        reading=[
            (
                f"Of {v.yours('mass')}, {v.say(v.product_mass, 'kg')} is fine enough to sell:"
                f" {v.say(v.product_share, '1', us='%', metric='%', digits=2)}, or"
                f" {v.say(v.product_volume, 'm3', us='ft3', metric='L')}."
            ),
            (
                f"{v.say(v.returned_mass, 'kg')} goes back on the lane and {v.say(v.mulch_mass, 'kg')} is mulch. In"
                f" those two heaps are {v.say(kept_back, 'kg')} of fine castings that the decks did not let through."
            ),
            f"It takes one person about {v.say(v.hours, 'hour', digits=2)}.",
        ],
    )


def _warnings(v: View, points: Sequence[tuple[float, float]]) -> list[tuple[str | None, str]]:
    warnings: list[tuple[str | None, str]] = []
    if v.fit_r2 < 0.95:
        warnings.append(
            (
                "sieves",
                (
                    f"The curve fits your sieves poorly (r² {v.fit_r2:.2f}). Weigh again, or trust the points rather"
                    " than the curve."
                ),
            )
        )
    inside = [size for size, share in points if 0 < share < 1]
    for name in ("fine_opening", "coarse_opening"):
        if not 0.98 * min(inside) <= v.given[name] <= 1.02 * max(inside):  # a quarter-inch sieve opens 6.3 mm
            warnings.append((name, f"{v[name]} lies outside your sieves, so that deck is a guess by the curve."))
    return warnings
