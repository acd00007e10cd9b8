"""The patterns of materials, once on each page that draws with them."""

import tree

from calc.page import hatch

DRAWS = ".plate, section.calc"


def add(page: tree.Page) -> None:
    """Put them first in the body of a page with a drawing or a calculator, whose answers may draw later."""
    if page.all(DRAWS):
        tree.first_in(page.one("body"), hatch.definitions())
