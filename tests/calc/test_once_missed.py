"""What faults planted by hand once got past: each of these tests tells one of them."""

from datetime import date

import pytest

from calc.engine import working
from calc.engine.run import answer
from calc.farm.ahead import lanes_ahead
from calc.farm.log import read_log
from calc.farm.shelf import Pile, Shelf
from calc.farm.tables import LANES, PRODUCTS, ROOMS
from calc.farm.week import at_lanes

TODAY = date(2027, 6, 1)


def test_what_is_old_was_packed_before_it_keeps():
    """40 packed a hundred days ago and 5 packed ten days ago, which keep sixty."""
    shelf = Shelf(packed=Pile([[TODAY.toordinal() - 100, 40.0], [TODAY.toordinal() - 10, 5.0]]))
    assert shelf.older_than(60, TODAY) == 40.0
    assert shelf.older_than(5, TODAY) == 45.0
    assert shelf.older_than(100, TODAY) == 0.0


def test_a_week_of_water_is_what_seven_days_lose():
    """The lines of the list give what the lane's model loses in the seven days, in two halves."""
    ahead = lanes_ahead(LANES, 0.75, "mild", None, TODAY)
    book = read_log([], LANES, ROOMS, PRODUCTS, TODAY)
    for lane in ahead:
        due = [one for one in at_lanes([lane], book, TODAY) if one.what == "water"]
        assert len(due) == 2
        assert sum(one.amount for one in due) == pytest.approx(sum(lane.watered[:7]))


def test_sales_tax_and_late_payers_in_the_cash():
    """A tenth of tax is taken from customers and paid on; payment comes a month and a half late."""
    view = answer("farm.money", {"sales_tax": 0.1, "late_days": 45, "paid_share": 0.5, "on_costs": 0.2})
    step = next(step for step in view.shown.working if step.title == "Cash")
    assert working.check(step, view) == "evaluated"
    prompt = answer("farm.money", {"paid_share": 0.5, "on_costs": 0.2})
    assert view.band("cash_at_end").value < prompt.band("cash_at_end").value


def test_tax_alone_moves_cash_by_what_it_takes_out_of_the_price():
    """Prices hold the tax: at a tenth a sale of 110 is 100 of income."""
    taxed, free = answer("farm.money", {"sales_tax": 0.1}), answer("farm.money", {"sales_tax": 0.0})
    assert taxed.results["sales_per_month"] == pytest.approx(free.results["sales_per_month"] / 1.1)
    lost = 12 * (free.results["sales_per_month"] - taxed.results["sales_per_month"])
    assert free.band("cash_at_end").value - taxed.band("cash_at_end").value == pytest.approx(lost)
