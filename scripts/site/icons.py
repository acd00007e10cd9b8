"""Draws the pictures of an installed handbook from the mark: run it when docs/assets/mark.svg changes, and commit what
it writes.

.venv/bin/python scripts/site/icons.py
"""

import re
import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parent.parent))
import bootstrap

bootstrap.enter("test")

from playwright.sync_api import sync_playwright  # noqa: E402

ASSETS = bootstrap.ROOT / "docs" / "assets"
MARK, FOLDER, PALETTE = ASSETS / "mark.svg", ASSETS / "icon", ASSETS / "style" / "1-palette.css"

ICONS = {
    "icon-192.png": (192, 0.92, False),
    "icon-512.png": (512, 0.92, False),
    "icon-192-maskable.png": (192, 0.56, True),
    "icon-512-maskable.png": (512, 0.56, True),
    "touch.png": (180, 0.7, True),
}
"""Name: side in pixels, share of it that the mark takes, whether paper lies behind it.

A mask may cut all but a circle of 80 %.
"""


def page_of(mark, side, share, paper):
    size = round(side * share)
    return (
        "<body"
        f' style="margin:0;width:{side}px;height:{side}px;display:grid;place-items:center;'
        f'background:{paper or "transparent"}">' + mark.replace("<svg ", f'<svg width="{size}" height="{size}" ', 1)
    )


def main():
    mark = MARK.read_text(encoding="utf-8")
    paper = re.search(r"--paper: light-dark\((#\w+),", PALETTE.read_text(encoding="utf-8"))[1]
    FOLDER.mkdir(exist_ok=True)
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=bootstrap.chromium(), args=["--no-sandbox"])
        for name, (side, share, opaque) in ICONS.items():
            page = browser.new_page(viewport={"width": side, "height": side})
            page.set_content(page_of(mark, side, share, paper if opaque else None))
            page.screenshot(path=FOLDER / name, omit_background=not opaque)
            page.close()
        browser.close()


if __name__ == "__main__":
    main()
