"""The saved copy: small enough, whole, the same twice, and live when it is unpacked with no server."""

import json
import re
import zipfile
from datetime import UTC, datetime

import intact
import pytest
import saved

MOST = 8_000_000


@pytest.fixture(scope="module")
def copy(site, tmp_path_factory):
    target = tmp_path_factory.mktemp("copy")
    with zipfile.ZipFile(site / saved.NAME) as archive:
        archive.extractall(target)
    return target / saved.FOLDER


def test_it_is_small(site):
    assert (site / saved.NAME).stat().st_size <= MOST


def test_every_page_is_in_it(site, copy):
    pages = {path.relative_to(site).as_posix() for path in site.rglob("*.html")} - {"404.html"}
    assert {path.relative_to(copy).as_posix() for path in copy.rglob("*.html")} == pages


def test_it_offers_no_download_of_itself(site, copy):
    page = "method/copy.html"
    assert saved.NAME in (site / page).read_text(encoding="utf-8")
    assert [path for path in copy.rglob("*.html") if saved.NAME in path.read_text(encoding="utf-8")] == []
    assert saved.BUTTON_HERE in (copy / page).read_text(encoding="utf-8")


def test_it_is_live_from_disk(browser, copy):
    context = browser.new_context(offline=True)
    page = context.new_page()
    said = []
    page.on("pageerror", lambda error: said.append(str(error)))
    page.goto((copy / "moisture" / "adjust.html").as_uri())
    page.wait_for_selector('section.calc[data-state="live"]', timeout=30_000)
    page.fill('[name="mass"]', "100")
    page.press('[name="mass"]', "Tab")
    page.locator(".calc-main output").first.filter(has_text="80 lb").wait_for(timeout=30_000)
    assert not said
    context.close()


def test_two_zips_are_the_same(site, monkeypatch):
    before = (site / saved.NAME).read_bytes()
    with zipfile.ZipFile(site / saved.NAME) as archive:
        written = datetime(*archive.infolist()[0].date_time, tzinfo=UTC)
    monkeypatch.setenv("SOURCE_DATE_EPOCH", str(int(written.timestamp())))
    about = json.loads(
        re.search(r'\{"version":"\w+","day":"[^"]*"', (site / "sw.js").read_text(encoding="utf-8"))[0] + "}"
    )
    saved.add(site, about["version"], about["day"], intact.made("us", "$"))
    assert (site / saved.NAME).read_bytes() == before
