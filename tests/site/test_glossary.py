"""A term leads to its meaning; the terms of a form stand below it."""

import re

import glossary
import tree

MARKDOWN = """# Glossary

Lane
:   A bed fed on a [sloping face](lane/index.md). It moves.

Gap (of a lane)
:   How far the face *must* have
    moved on. Nobody has measured it.
"""


def explained(html, entries, way):
    page = tree.Page("page.html", html)
    glossary.explained(page, entries, way)
    return page.one("body").inner_html


def test_terms_have_their_first_sentence_and_their_place():
    found = glossary.terms(MARKDOWN)
    assert {term: (entry.meaning, entry.place) for term, entry in found.items()} == {
        "lane": ("A bed fed on a sloping face.", "term-lane"),
        "gap": ("How far the face must have moved on.", "term-gap-of-a-lane"),
    }


def test_only_the_first_use_in_running_text_leads_to_the_glossary():
    page = (
        '<nav>lane</nav><article class="x"><h1>Lane</h1><p>See <a href="lane">the lane</a>. Two lanes, one lane, no'
        ' planes.</p><section class="calc"><p>gap</p></section></article>'
    )
    made = explained(page, glossary.terms(MARKDOWN), "../glossary.html")
    assert made == page.replace(
        "Two lanes",
        'Two <a class="term" href="../glossary.html#term-lane" title="A bed fed on a sloping face.">lanes</a>',
    )


def test_the_terms_of_a_form_fold_open_below_it():
    form = (
        '<form class="calc-form"><label>Gap <span>ft</span></label><p class="calc-hint">Of this lane; gaps'
        " differ.</p><textarea>lane</textarea></form>"
    )
    made = explained(
        f'<article><section class="calc">{form}</section></article>', glossary.terms(MARKDOWN), "glossary.html"
    )
    assert f'{form}<details class="calc-words">' in made, "outside the form: the script draws that anew"
    assert re.findall("<dt>(.*?)</dt>", made) == ["Gap (of a lane)", "Lane"]
    alone = '<article><form class="calc-form"><label>Mass</label><textarea>lane</textarea></form></article>'
    assert explained(alone, glossary.terms(MARKDOWN), "glossary.html") == alone


def test_parts_of_a_name_and_titles_of_works_are_not_marked():
    page = "<article><p>lane.herd, a-lane, lane-a, <cite>The lane</cite></p></article>"
    assert explained(page, glossary.terms(MARKDOWN.replace("Gap (of a lane)", "Herd")), "glossary.html") == page


def test_meanings_cannot_break_the_markup():
    entry = glossary.Entry('"<b>', '"<b>', "term-b")
    made = explained(
        '<article><p>lane</p><form class="calc-form"><label>lane</label></form></article>',
        {"lane": entry},
        "glossary.html",
    )
    title, named, meant = re.findall(r'title="([^"]*)"|<d[td]>(.*?)</d[td]>', made)
    assert "<b>" not in made.replace('title="&quot;<b>"', "") and made.count("&quot;") == 1, (
        "in an attribute only quotes end it"
    )
    assert (
        tree.Page("page.html", made).one("a").attributes["title"] == '"<b>'
        and named[1] == meant[1] == '"&lt;b&gt;'
        and title
    )


def test_every_term_leads_to_its_place(site):
    there = set(re.findall(r'<dt id="([^"]+)"', (site / "glossary.html").read_text(encoding="utf-8")))
    led = {
        place
        for path in site.rglob("*.html")
        for place in re.findall(r'class="term" href="[^"]*glossary\.html#([^"]+)"', path.read_text(encoding="utf-8"))
    }
    assert len(led) > 40 and led <= there


def test_the_glossary_explains_the_words_of_the_first_page():
    known = glossary.terms(glossary.PAGE.read_text(encoding="utf-8"))
    assert {"lane", "face", "castings", "bedding", "slice", "gap"} <= set(known) and all(
        len(entry.meaning) > 15 for entry in known.values()
    )


def test_a_term_is_left_alone_where_its_word_means_something_else():
    page = (
        "<article><p>What was given for a layer. A layer is fed.</p><p>The longest gap between readings.</p></article>"
    )
    known = {term: glossary.Entry(term, "Meant.", f"term-{term}") for term in ("layer", "gap")}
    made = explained(page, known, "glossary.html")
    assert re.findall(r"(for a|A) <a[^>]*>(layer|gap)</a>", made) == [("A", "layer")] and "longest gap between" in made
