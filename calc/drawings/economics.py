"""Drawings of the money chapter."""

from calc.economics.cash import cash, months_table
from calc.engine import Drawing
from calc.engine.view import View
from calc.page import svg
from calc.page.drawings import drawing


@drawing("economics.money_in_time")
def money_in_time() -> Drawing:
    """Three years of the demo farm as bars: money out below the line, money in above it."""
    entry = cash.calculator
    view = View(entry, dict(entry.defaults), entry.function(**entry.defaults), "us")
    flows = [
        (sales, running + bought) for _, _, sales, running, bought, *_ in months_table(view.course, view.start_date)
    ]
    most = max(max(pair) for pair in flows)
    left, line, step, tall = 44, 112, 11, 96
    shapes = []
    for month, (income, spending) in enumerate(flows):
        x = left + month * step
        if income:
            shapes.append(svg.rect(x, line - income / most * tall, step - 3, income / most * tall, "draw-feed"))
        shapes.append(svg.rect(x, line, step - 3, spending / most * tall, "draw-wood"))
    first = view.first_income_month
    shapes += [
        svg.line(left - 6, line, left + 36 * step + 4, line, "draw-line"),
        svg.text(left - 10, line - 40, "in", "draw-text", "end"),
        svg.text(left - 10, line + 50, "out", "draw-text", "end"),
        svg.measure(left, line - 64, left + (first - 1) * step - 3, line - 64, "nothing comes in"),
        *(
            svg.text(left + (12 * year + 6) * step, line + 112, f"year {year + 1}", "draw-dim", "middle")
            for year in range(3)
        ),
    ]
    return Drawing(
        "money_in_time",
        "Money in and out, month by month, as an example",
        finding=(
            f"Money goes out from the first month; the first income is in month {first}. What lies between is what you"
            " must be able to live without."
        ),
        svg=svg.picture(450, 236, shapes),
        text=(
            f"Bars for thirty-six months. Below the line money out: {view.money(flows[0][1])} in the first month,"
            f" {view.money(flows[1][1])} in the second, and more where the next stage is bought. Above it money in:"
            f" none before month {first}, then a climb, highest in spring."
        ),
    )
