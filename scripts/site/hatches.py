"""The patterns of materials, once on each page that draws with them."""

import re
from pathlib import Path

from calc.page import hatch

BODY = re.compile(r"<body[^>]*>")
DRAWS = ('class="plate"', '<section class="calc"')


def add(out: Path) -> None:
    """Put them first in the body of every page with a drawing or a calculator, whose answers may draw later."""
    for path in sorted(out.rglob("*.html")):
        text = path.read_text(encoding="utf-8")
        if any(mark in text for mark in DRAWS):
            changed, count = BODY.subn(lambda body: body[0] + hatch.definitions(), text, count=1)
            if not count:
                raise ValueError(f"{path.name} has no body to put the patterns of materials into")
            path.write_text(changed, encoding="utf-8")
