"""Marks of certainty: the phrases are marks with one legend, and the words are still there to be read aloud."""

import re

import certainty


def test_a_phrase_becomes_a_mark_and_keeps_its_words():
    page = (
        "<article><p>Three feet (<em>common practice, no source</em>)."
        " Half (<em>our own judgement, no source</em>).</p></article>"
    )
    made = certainty.marked(page)
    assert "○" in made and "△" in made and "<em>" not in made
    assert made.count("sure-key") == 1
    read_aloud = re.sub(r"\s+", " ", re.sub(r"<[^>]+>", "", re.sub(r'<span aria-hidden="true">.</span>', "", made)))
    assert "Three feet (common practice, no source)." in read_aloud


def test_a_page_without_phrases_stays_as_it_is():
    page = "<article><p>Nothing of the kind.</p></article>"
    assert certainty.marked(page) == page


def test_no_page_says_the_phrases_in_brackets_any_more(site, names):
    left = {name for name in names if certainty.SAID.search((site / name).read_text(encoding="utf-8"))}
    assert left == set()
    marked = [name for name in names if 'class="sure"' in (site / name).read_text(encoding="utf-8")]
    assert len(marked) > 10
    for name in marked:
        assert name == "print.html" or (site / name).read_text(encoding="utf-8").count('class="sure-key"') == 1
