"""Definitions that show when a term is pointed at."""

import glossary

MARKDOWN = """# Glossary

Lane
:   A bed fed on a [sloping face](lane/index.md). It moves.

Gap (of a lane)
:   How far the face *must* have
    moved on. Nobody has measured it.
"""


def test_terms_have_their_first_sentence():
    assert glossary.terms(MARKDOWN) == {"lane": "A bed fed on a sloping face.", "gap": "How far the face must have moved on."}


def test_only_the_first_use_in_running_text_is_marked():
    page = '<nav>lane</nav><article class="x"><h1>Lane</h1><p>See <a href="lane">the lane</a>. Two lanes, one lane, no planes.</p><section class="calc"><p>gap</p></section></article>'
    made = glossary.explained(page, glossary.terms(MARKDOWN))
    assert made == page.replace("Two lanes", 'Two <abbr title="A bed fed on a sloping face.">lanes</abbr>')


def test_parts_of_a_name_and_titles_of_works_are_not_marked():
    page = "<article><p>lane.herd, a-lane, lane-a, <cite>The lane</cite></p></article>"
    assert glossary.explained(page, {"lane": "A bed.", "herd": "All the worms."}) == page


def test_meanings_cannot_break_the_markup():
    assert '&quot;&lt;b&gt;' in glossary.explained("<article><p>lane</p></article>", {"lane": '"<b>'})


def test_the_glossary_explains_the_words_of_the_first_page():
    known = glossary.terms(glossary.PAGE.read_text(encoding="utf-8"))
    assert {"lane", "face", "castings", "bedding", "slice", "gap"} <= set(known) and all(len(meaning) > 15 for meaning in known.values())
