"""The book as a PDF: the numbers in its contents are those of the pages on which its chapters begin."""

import re
import shutil

import book
import pytest
import saved
import tree
import whole
from pypdf import PdfReader

KEPT = ("index", "first-questions", "cases", "questions", "glossary")
"""Parts of the book that are printed here: some with figures, some that go over many pages, and the index."""


@pytest.fixture(scope="module")
def shorter(site, tmp_path_factory):
    """A book of a few parts, beside the site's own style sheets and faces."""
    folder = tmp_path_factory.mktemp("book")
    (folder / "assets").symlink_to(site / "assets")
    page = tree.Page(whole.NAME, (site / whole.NAME).read_text(encoding="utf-8"))
    for part in page.all("section.whole-page"):
        if part.attributes["id"] not in KEPT:
            part.decompose()
    (folder / whole.NAME).write_text(page.html, encoding="utf-8")
    return folder / whole.NAME


@pytest.fixture(scope="module")
def titles(shorter):
    """{what the contents say: the heading that it leads to}, for the parts that are there."""
    page = tree.Page(whole.NAME, shorter.read_text(encoding="utf-8"))
    links = {link.attributes["href"][1:]: tree.words(link) for link in page.all(".whole-contents a")}
    return {links[id]: tree.words(page.one(f"#{id} h2")) for id in KEPT}


def sheets(path):
    """{number at the foot of a page: its text}."""
    told = [page.extract_text().split("\n", 1) for page in PdfReader(path).pages]
    return {int(foot): text for foot, text in told}


def misnumbered(path, titles):
    """{title that does not stand on the page which the contents name: the page that they name}."""
    pages = sheets(path)
    contents = next(text for text in pages.values() if text.startswith("Contents"))
    named = {title: re.search(rf"^(?:\d+\. )?{re.escape(title)} ?(\d+)$", contents, re.MULTILINE) for title in titles}
    return {
        title: found and found[1]
        for title, found in named.items()
        if not found or not pages[int(found[1])].startswith(titles[title])
    }


def test_its_contents_name_the_pages(shorter, titles, browser, tmp_path, monkeypatch):
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1700000000")
    count = book.make(shorter, tmp_path / whole.BOOK, browser)
    assert list(sheets(tmp_path / whole.BOOK)) == list(range(1, count + 1)), "the foot of a page counts the cover too"
    assert misnumbered(tmp_path / whole.BOOK, titles) == {}
    assert sorted(path.name for path in shorter.parent.iterdir()) == ["assets", whole.NAME], "no draft is left"


def test_a_number_beside_its_page_is_told(shorter, titles, browser, tmp_path):
    places = book.printed(browser, shorter, tmp_path / "first.pdf")
    assert set(KEPT) <= set(places)
    off = {id: number + 1 for id, number in places.items()}
    shorter.with_name("off.html").write_text(book.numbered(shorter.read_text(encoding="utf-8"), off), encoding="utf-8")
    book.printed(browser, shorter.with_name("off.html"), tmp_path / "off.pdf")
    shorter.with_name("off.html").unlink()
    assert set(misnumbered(tmp_path / "off.pdf", titles)) == set(titles)


def test_the_questions_are_its_index(shorter):
    page = tree.Page(whole.NAME, book.numbered(shorter.read_text(encoding="utf-8"), {"cases": 7}))
    assert [tree.words(link) for link in page.all("a:has(.whole-number)")] == ["Eight cases7"]


def test_numbers_that_never_settle_stop_the_build(shorter, tmp_path, monkeypatch):
    told = iter(range(100))
    monkeypatch.setattr(book, "printed", lambda *_: {"cases": next(told)})
    with pytest.raises(book.Unsettled, match="still move"):
        book.make(shorter, tmp_path / whole.BOOK, None)
    assert not (tmp_path / whole.BOOK).exists()


def test_it_is_offered_where_it_was_made_and_not_in_the_copy_on_a_stick(site, tmp_path):
    path = tmp_path / "copy.html"
    shutil.copy(site / book.OFFERED, path)
    before = path.read_text(encoding="utf-8")
    assert whole.BOOK not in before, "an ordinary build does not speak of it"
    book.offer(path)
    after = path.read_text(encoding="utf-8")
    assert f'href="../{whole.BOOK}"' in after
    assert saved.as_saved(book.OFFERED, after.encode()) == saved.as_saved(book.OFFERED, before.encode())
