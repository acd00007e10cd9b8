"""The handbook as a PDF with page numbers in its contents: made of print.html by Chromium, only when it is asked for.

Chromium numbers the foot of each page but not a list of contents. So the page is printed twice: the first time to learn
on which page each part stands, the second time with the numbers written in.
"""

import os
import tempfile
from datetime import UTC, datetime
from pathlib import Path

import bootstrap
import tree
import whole
from playwright.sync_api import Browser, sync_playwright
from pypdf import PdfReader, PdfWriter

LISTED = (".whole-contents a", "#questions li a")
"""Lists of the book that say where something stands: its contents, and the questions as an index."""
TRIES = 4
"""Numbers may move what they stand in; printing goes on until they are those of the page they are on."""
OFFERED = "method/copy.html"


class Unsettled(RuntimeError):
    """The numbers move the pages on which they stand, time after time."""


def printed(browser: Browser, page: Path, target: Path) -> dict[str, int]:
    """Print a page; returns {id of a place: its page, counted from 1}, for every place that a link leads to."""
    sheet = browser.new_page()
    sheet.goto(page.as_uri())
    sheet.pdf(path=target, prefer_css_page_size=True, format="A4", outline=True, tagged=True)
    sheet.close()
    reader = PdfReader(target)
    numbers = {
        name.lstrip("/"): reader.get_destination_page_number(place) for name, place in reader.named_destinations.items()
    }
    return {name: number + 1 for name, number in numbers.items() if number is not None}


def numbered(text: str, places: dict[str, int]) -> str:
    """The page with the number of its page behind each link of a list."""
    book = tree.Page(whole.NAME, text)
    for selector in LISTED:
        for link in book.all(selector):
            place = (link.attributes.get("href") or "").removeprefix("#")
            if place in places:
                tree.last_in(link, f'<span class="whole-number">{places[place]}</span>')
    return book.html


def make(page: Path, target: Path, browser: Browser) -> int:
    """Print the book, with numbers that are those of its pages. Returns how many pages it has."""
    text = page.read_text(encoding="utf-8")
    beside = page.with_name(f"book-{os.getpid()}.html")  # where its style, faces and pictures are found
    with tempfile.TemporaryDirectory() as private:
        draft = Path(private, whole.BOOK)
        try:
            told: dict[str, int] = {}
            for _ in range(TRIES):
                beside.write_text(numbered(text, told), encoding="utf-8")
                found = printed(browser, beside, draft)
                if found == told:
                    return dated(draft, target)
                told = found
        finally:
            beside.unlink(missing_ok=True)
    raise Unsettled(f"{page}: after {TRIES} printings the numbers in the contents still move")


def dated(draft: Path, target: Path) -> int:
    """Write the PDF with the day of the commit in place of the hour at which it was printed. Returns its pages."""
    writer = PdfWriter(clone_from=draft)
    day = datetime.fromtimestamp(int(os.environ["SOURCE_DATE_EPOCH"]), UTC).strftime("D:%Y%m%d%H%M%SZ")
    writer.add_metadata({"/CreationDate": day, "/ModDate": day})
    writer.write(target)
    return len(writer.pages)


def add(out: Path) -> None:
    """Make the book of a finished site."""
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=bootstrap.chromium(), args=["--no-sandbox"])
        make(out / whole.NAME, out / whole.BOOK, browser)
        browser.close()


def offer(path: Path) -> None:
    """Name the book on the page about copies, which a farm's copy may lack."""
    if not path.exists():
        return
    page = tree.Page(OFFERED, path.read_text(encoding="utf-8").rstrip())  # as it was before it was written
    beside = page.one(f'a[href="../{whole.NAME}"]').parent
    assert beside is not None
    tree.after(
        beside,
        f'<p data-book><a class="button" href="../{whole.BOOK}" download>Download the book as a PDF</a></p>'
        "<p data-book>Its contents and its list of questions name the page on which each stands.</p>",
    )
    path.write_text(page.html, encoding="utf-8")
