"""Marks of certainty: the phrases are marks with one legend, and the words are still there to be read aloud."""

import re

import certainty
import tree


def made_of(html):
    page = tree.Page("page.html", html)
    certainty.marked(page)
    return page.one("article").html


from calc.engine.register import every
from calc.engine.run import answer
from calc.page.sure import MARKS, source_html
from calc.page.sure import certainty as of_source


def test_a_phrase_becomes_a_mark_and_keeps_its_words():
    page = (
        "<article><p>Three feet (<em>common practice, no source</em>)."
        " Half (<em>our own judgement, no source</em>).</p></article>"
    )
    made = made_of(page)
    assert "○" in made and "△" in made and "<em>" not in made
    assert made.count("sure-key") == 1
    read_aloud = re.sub(r"\s+", " ", re.sub(r"<[^>]+>", "", re.sub(r'<span aria-hidden="true">.</span>', "", made)))
    assert "Three feet (common practice, no source)." in read_aloud


def test_behind_a_comma_and_in_a_cell_too():
    said = "<em>common practice, no source</em>"
    cell = f"<table><tbody><tr><td>{said}; two</td></tr></tbody></table>"
    made = made_of(f"<article><p>Three feet, {said}. More, as {said} goes</p>{cell}</article>")
    assert made.count('class="sure"') == 2 and "Three feet<span" in made and "feet," not in made
    assert f"as {said} goes" in made, "where it is part of a sentence the words stay"


def test_a_page_without_phrases_stays_as_it_is():
    page = "<article><p>Nothing of the kind.</p></article>"
    assert made_of(page) == page


def test_two_phrases_of_one_sentence_are_two_marks():
    both = "a (<em>common practice, no source</em>) b (<em>our own judgement, no source</em>) c"
    made = made_of(f"<article><p>(<em>common practice, no\nsource</em>)</p><p>{both}</p></article>")
    assert made.count('class="sure"') == 3 and made.count("sure-key") == 1 and "a<span" in made


def test_words_in_italics_without_brackets_are_left():
    page = "<article><p>It is <em>common practice, no source</em>.</p></article>"
    assert made_of(page) == page


def test_no_page_says_the_phrases_in_brackets_any_more(site, names):
    phrases = "|".join(certainty.PHRASES)
    left = {
        name for name in names if re.search(rf"\(<em>({phrases})</em>\)", (site / name).read_text(encoding="utf-8"))
    }
    assert left == set()
    marked = [name for name in names if 'class="sure"' in (site / name).read_text(encoding="utf-8")]
    assert len(marked) > 10
    for name in marked:
        assert name == "print.html" or (site / name).read_text(encoding="utf-8").count('class="sure-key"') == 1


def test_a_source_of_a_working_has_the_mark_of_how_it_was_seen():
    assert of_source("Richard & Trautmann 1996, moisture balance") == "read"
    assert of_source("Ndegwa, Thompson & Das 2000") == "second-hand", "only its abstract was read"
    assert of_source("Penman 1948; common practice, no source") == "practice", "the weakest counts"
    assert of_source("arithmetic; times: our own judgement") == "judged"
    assert of_source("mass balance") == ""


def test_no_working_prints_the_phrases_and_each_mark_says_them():
    marked = 0
    for id in every():
        for step in answer(id).shown.working:
            seen = source_html(str(step.source or ""))
            shown = re.sub(r'<span class="unseen">.*?</span>| title="[^"]*"', "", seen)
            assert "no source" not in shown, (id, step.title)
            key = of_source(str(step.source or ""))
            marked += bool(key)
            assert not key or (MARKS[key][0] in shown and f"({MARKS[key][1]})" in seen)
    assert marked > 60
