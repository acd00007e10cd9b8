"""The sheets to fill in by hand: each on one page, on A4 and on Letter."""

import re

import pytest


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_each_sheet_fits_its_page(browser, address, site, paper, tmp_path):
    text = (site / "records" / "sheets.html").read_text(encoding="utf-8")
    sheets = text.count('class="sheet"')
    assert sheets == 4
    page = browser.new_page()
    page.goto(address + "records/sheets.html")
    pdf = page.pdf(format=paper)
    page.close()
    pages = len(re.findall(rb"/Type\s*/Page\b(?!s)", pdf))
    assert pages == sheets, "one page for each sheet; how to use them is read on the screen"
