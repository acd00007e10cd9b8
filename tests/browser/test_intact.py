"""The copy that checks itself says that it is whole, in every engine, served and from disk; it names a changed byte."""

import re
import shutil
import zipfile

import pytest
import saved
from engines import NAMES
from hosting import Host

import calc

PAGE = "method/intact.html"
CHECK = 'section.intact [data-action="check"]'
ENDED = """() => document.querySelector("section.intact").dataset.state"""
FOUND = """() => ({
  state: document.querySelector("section.intact").dataset.state,
  verdict: document.querySelector(".intact-verdict").textContent,
  checks: [...document.querySelectorAll("[data-check] td")].map((cell) => cell.textContent),
  faults: [...document.querySelectorAll(".intact-faults li")].map((line) => line.textContent),
})"""
LONG = 240  # s, for every calculator and every file on a busy machine
ALL = len(calc.calculators())


def checked(window, address):
    """What the page finds when its button is pressed."""
    window.open(address)
    window.until("(selector) => document.querySelector(selector)?.checkVisibility()", CHECK)
    window.click(CHECK)
    window.until(ENDED, patience=LONG)
    return window.run(FOUND)


@pytest.mark.slow
@pytest.mark.parametrize("way", ["address", "copy"])
@pytest.mark.parametrize("name", NAMES)
def test_a_whole_copy_says_so(request, started, name, way):
    engine = started(name)
    window = engine.window()
    found = checked(window, request.getfixturevalue(way) + PAGE)
    assert found["faults"] == []
    assert found["checks"][1] == f"yes, all {ALL}"
    assert found["checks"][0].startswith("yes, all ")
    if way == "address":
        assert found["state"] == "whole" and found["checks"][2].startswith("yes, all ")
    else:  # a page may not read its neighbours there
        assert found["state"] == "open" and found["checks"][2] == "not looked at yet"
    window.close()


@pytest.fixture
def spoilt(site, tmp_path):
    """A copy unpacked on a disk, for one test to spoil."""
    with zipfile.ZipFile(site / saved.NAME) as archive:
        archive.extractall(tmp_path)
    return tmp_path / saved.FOLDER


def one_byte_changed(path, at):
    data = bytearray(path.read_bytes())
    data[at] ^= 1
    path.write_bytes(data)


def chosen(page, folder):
    """What is found when the reader chooses the folder of the copy."""
    page.locator("section.intact input[type=file]").set_input_files(folder)
    page.wait_for_function(ENDED, timeout=LONG * 1000)
    return page.evaluate(FOUND)


def test_a_changed_byte_of_a_page_is_told_from_disk(browser, spoilt):
    """The reader chooses the folder: whole first, then with one letter changed, one file gone, and another folder."""
    page = browser.new_page()
    page.goto((spoilt / PAGE).as_uri())
    page.locator('section.intact [data-action="check"]').wait_for()
    assert chosen(page, spoilt)["verdict"] == "This copy is whole on this device."
    one_byte_changed(spoilt / "lane" / "starter.html", 5000)
    (spoilt / "glossary.html").unlink()
    found = chosen(page, spoilt)
    assert found["state"] == "broken" and "not whole" in found["verdict"]
    assert found["faults"] == ["glossary.html is missing.", "lane/starter.html is not the file that was made."]
    (spoilt.parent / "other").mkdir()
    (spoilt.parent / "other" / "index.html").write_text("another")
    page.locator("section.intact input[type=file]").set_input_files(spoilt.parent / "other")
    page.locator(".intact-verdict").filter(has_text="not the folder of the copy").wait_for()
    page.close()


@pytest.mark.slow
def test_a_changed_byte_of_a_packed_part_is_told_from_disk(browser, spoilt):
    """Without a folder being chosen: the text of a packed part is read when it opens."""
    part = next((spoilt / "assets" / "runtime").glob("python_stdlib.zip.disk.*.js"))
    text = part.read_text()
    at = len(text) // 2
    part.write_text(text[:at] + ("A" if text[at] != "A" else "B") + text[at + 1 :])
    page = browser.new_page()
    page.goto((spoilt / PAGE).as_uri())
    page.locator('section.intact [data-action="check"]').click()
    page.wait_for_function(ENDED, timeout=LONG * 1000)
    found = page.evaluate(FOUND)
    assert found["state"] == "broken"
    assert f"assets/runtime/{part.name} is not the file that was made." in found["faults"]
    page.close()


@pytest.mark.slow
def test_a_changed_byte_is_told_from_a_server(browser, site, tmp_path):
    """Also a calculator that answers otherwise, and a list that is not there."""
    host = Host(shutil.copytree(site, tmp_path / "site"))
    try:
        page = browser.new_page()
        one_byte_changed(tmp_path / "site" / "feed" / "recipe.html", 7000)
        listed = tmp_path / "site" / "assets" / "intact.js"
        asked = '"moisture.adjust":["'
        before, _, after = listed.read_text(encoding="utf-8").partition(asked)
        listed.write_text(before + asked + re.sub(r"[0-9a-f]{64}", "0" * 64, after, count=1), encoding="utf-8")
        page.goto(host.base + PAGE)
        page.locator('section.intact [data-action="check"]').click()
        page.wait_for_function(ENDED, timeout=LONG * 1000)
        found = page.evaluate(FOUND)
        assert found["state"] == "broken"
        assert "feed/recipe.html is not the file that was made." in found["faults"]
        assert any("is answered otherwise than it was prepared" in words for words in found["faults"])
        assert len(found["faults"]) == 2
        listed.unlink()
        page.reload()
        page.locator('section.intact [data-action="check"]').click()
        page.locator(".intact-verdict").filter(has_text="list of its files is missing").wait_for()
        page.close()
    finally:
        host.stop()
