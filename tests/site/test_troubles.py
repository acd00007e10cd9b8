"""The sorter of troubles: every sign leads somewhere, every trouble can be found, and two or three presses are
enough.
"""

import re

import bootstrap
import pytest
import signs

SOURCE = (bootstrap.ROOT / "docs" / "troubles" / "index.md").read_text(encoding="utf-8")
TROUBLES = {
    title: set(marks.split())
    for title, marks in re.findall(
        r'^### (.+?) \{: (?:data-search="[^"]*" )?data-signs="([^"]*)" \}$', SOURCE, re.MULTILINE
    )
}
SIGNS = {
    sign for group in signs.groups(re.search(r"```signs\n(.*?)```", SOURCE, re.DOTALL)[1]).values() for sign in group
}


def test_every_trouble_has_signs_and_every_sign_has_troubles():
    assert len(TROUBLES) == len(re.findall(r"^### ", SOURCE, re.MULTILINE)) > 25
    assert set.union(*TROUBLES.values()) == SIGNS


@pytest.mark.parametrize("title", TROUBLES)
def test_all_signs_of_a_trouble_narrow_the_list_to_three(title):
    fitting = [other for other, marks in TROUBLES.items() if marks >= TROUBLES[title]]
    assert title in fitting and len(fitting) <= 3


def test_a_line_without_words_is_refused():
    with pytest.raises(ValueError, match="question, a colon"):
        signs.groups("What?: wet")


def test_pressing_signs_names_the_trouble(browser, address):
    page = browser.new_page()
    page.goto(address + "troubles/index.html")
    page.click('[data-sign="lane"]')
    page.click('[data-sign="ammonia"]')
    links = page.locator(".sorter-found a")
    assert links.all_text_contents() == ["Sharp smell of ammonia", "Sudden death, all of it"]
    page.click('[data-sign="dead"]')
    assert links.all_text_contents() == ["Sudden death, all of it"]
    page.click('[data-sign="dead"]')
    assert links.count() == 2
    page.close()


def test_without_script_the_list_stands_alone(browser, address):
    page = browser.new_context(java_script_enabled=False).new_page()
    page.goto(address + "troubles/index.html")
    assert not page.locator(".sorter").is_visible() and page.locator("h3[data-signs]").count() == len(TROUBLES)
    page.close()
