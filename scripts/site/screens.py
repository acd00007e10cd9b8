"""Pictures of every page to look at: 390 and 1280 px wide, light and dark, and on paper, into screens/.

.venv/bin/python scripts/site/screens.py                 every page
.venv/bin/python scripts/site/screens.py lane/ index     pages whose name holds one of these words
.venv/bin/python scripts/site/screens.py --contact       contact sheets besides, into screens/contact/
.venv/bin/python scripts/site/screens.py --readme        the picture in the README
"""

import argparse
import sys
import threading
from pathlib import Path

sys.path[:0] = [
    str(Path(__file__).resolve().parent.parent),
    str(Path(__file__).resolve().parent),
    str(Path(__file__).resolve().parents[2]),
]
import bootstrap  # noqa: E402

bootstrap.enter("test")

import make  # noqa: E402
import serve_site  # noqa: E402
import whole  # noqa: E402
from playwright.sync_api import Error, sync_playwright  # noqa: E402

WIDTHS = {390: 844, 1280: 800}
README_PICTURE = bootstrap.ROOT / "docs" / "assets" / "picture" / "screenshot.png"


def settle(page):
    """Wait until calculators are live, if there are any, and nothing moves any more."""
    page.wait_for_load_state("load")
    if page.locator("section.calc").count():
        try:
            page.wait_for_selector('section.calc[data-state="live"], section.calc[data-state="ready"]', timeout=8000)
        except Error:  # a page that is not live is still worth a look
            print(f"  not live: {page.url}")
    page.wait_for_timeout(150)


def shoot(browser, address, names, folder):
    folder.mkdir(exist_ok=True)
    for width, height in WIDTHS.items():
        for scheme in ("light", "dark"):
            context = browser.new_context(
                viewport={"width": width, "height": height},
                color_scheme=scheme,
                device_scale_factor=1,
                has_touch=width < 500,
            )
            page = context.new_page()
            for name in names:
                if name == whole.NAME:  # a book: to look at on paper only
                    continue
                page.goto(address + name)
                settle(page)
                page.screenshot(path=folder / f"{stem(name)}.{width}.{scheme}.png", full_page=True)
                wide = page.evaluate("document.documentElement.scrollWidth - innerWidth")
                if wide > 0:
                    print(f"  {name} at {width} px is {wide} px too wide")
            context.close()
    page = browser.new_page()
    for name in names:
        page.goto(address + name)
        settle(page)
        page.pdf(path=folder / f"{stem(name)}.pdf", format="A4", prefer_css_page_size=True)


PAPER_WIDTH = 658  # px of the text on A4, within the margins of 4-print.css
CONTACT = {"390.light": (8, 8), "390.dark": (8, 8), "1280.light": (4, 4), "1280.dark": (4, 4), "paper": (6, 6)}
"""{kind of picture: (pages beside each other, pages on a contact sheet)}."""
SHEET_WIDTH, SHEET_HEIGHT = 1600, 1560


def shoot_paper(browser, address, names, folder):
    """Pages as they are printed, without page breaks: what a printer makes of them is in the PDF beside."""
    page = browser.new_page(viewport={"width": PAPER_WIDTH, "height": 900})
    page.emulate_media(media="print")
    for name in names:
        if name != whole.NAME:
            page.goto(address + name)
            settle(page)
            page.screenshot(path=folder / f"{stem(name)}.paper.png", full_page=True)
    page.close()


def contact_sheets(browser, names, folder):
    """The pictures of many pages side by side, from their tops, so that what does not belong is seen at a glance."""
    (folder / "contact").mkdir(exist_ok=True)
    page = browser.new_page(viewport={"width": SHEET_WIDTH, "height": SHEET_HEIGHT})
    for kind, (across, count) in CONTACT.items():
        shown = [name for name in names if (folder / f"{stem(name)}.{kind}.png").exists()]
        for first in range(0, len(shown), count):
            pictures = "".join(
                f"<figure><figcaption>{name}</figcaption><img src='../{stem(name)}.{kind}.png'></figure>"
                for name in shown[first : first + count]
            )
            sheet = folder / "contact" / f"{kind}.{first // count + 1:02}.html"
            sheet.write_text(
                f"<style>body{{margin:0;background:#777;display:grid;grid-template-columns:repeat({across},1fr);gap:6px}}"
                "figure{margin:0;background:#ccc}figcaption{font:12px sans-serif}img{width:100%;display:block}</style>"
                + pictures,
                encoding="utf-8",
            )
            page.goto(sheet.as_uri())
            page.screenshot(path=sheet.with_suffix(".png"))
            sheet.unlink()
    page.close()


def stem(name):
    return name.removesuffix(".html").replace("/", "-")


def readme_picture(browser, address):
    page = browser.new_page(viewport={"width": 1280, "height": 860}, color_scheme="light")
    page.goto(address + "index.html")
    settle(page)
    README_PICTURE.parent.mkdir(parents=True, exist_ok=True)
    page.screenshot(path=README_PICTURE)


def main():
    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    parser.add_argument("words", nargs="*", help="only pages whose name holds one of these")
    parser.add_argument("--contact", action="store_true", help="contact sheets of what was looked at besides")
    parser.add_argument("--readme", action="store_true", help="only the picture in the README")
    options = parser.parse_args()
    site = make.build()
    server = serve_site.server(site)
    threading.Thread(target=server.serve_forever, daemon=True).start()
    names = sorted(path.relative_to(site).as_posix() for path in site.rglob("*.html"))
    names = [name for name in names if not options.words or any(word in name for word in options.words)]
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=bootstrap.chromium(), args=["--no-sandbox"])
        address = f"http://127.0.0.1:{server.server_address[1]}/"
        if options.readme:
            readme_picture(browser, address)
        else:
            folder = bootstrap.ROOT / "screens"
            shoot(browser, address, names, folder)
            if options.contact:
                shoot_paper(browser, address, names, folder)
                contact_sheets(browser, names, folder)
        browser.close()
    server.shutdown()


if __name__ == "__main__":
    main()
