"""A change of finished pages that finds nothing to change stops the build."""

import exact
import finish
import offline
import pytest
import saved
import tree


def test_one_place_is_changed():
    assert exact.replaced("a b c", "b", "x", "here") == "a x c"


@pytest.mark.parametrize("text", ["a c", "a b b"])
def test_none_or_several_are_told(text):
    with pytest.raises(exact.Unfound, match=r"page\.html: “b” stands"):
        exact.replaced(text, "b", "x", "page.html")


WHOLE = """<html><head><meta charset="utf-8"><meta name="description" content="All of it.">
  <link rel="next" href="a.html"></head><body>
  <article><nav class="margin on-page"></nav><h1>A<a class="headerlink" href="#a">¶</a></h1>
  <div class="admonition abstract"><p>b</p></div>
  <table>
<thead><tr><th></th><th>C</th></tr></thead><tbody><tr><td>1</td><td>2</td></tr></tbody></table>
  <section class="calc"><h2 class="calc-question">What?</h2></section></article>
  <script src="assets/javascripts/bundle.js"></script></body></html>"""
"""A page with every place that the last steps change."""
GONE = {
    "the charset": '<meta charset="utf-8">',
    "the description": '<meta name="description" content="All of it.">',
    "the link to the next page": '<link rel="next" href="a.html">',
    "the links of headings": 'class="headerlink"',
    "what a page needs": "abstract",
    "a table of the text": "<thead>",
    "the theme's script": '<script src="assets/javascripts/bundle.js"></script>',
}


def finished(html):
    page = tree.Page("index.html", html)
    finish.pages(
        [page],
        lambda top: f'<script data-runtime="x" src="{top}page.js"></script>',
        "",
        lambda top: "<script>a<b</script>",
    )
    return page


def test_every_step_finds_its_place():
    page = finished(WHOLE)
    head = [node.attributes.get("http-equiv") or node.tag for node in tree.contents(page.one("head"))]
    assert head[:4] == ["meta", "Content-Security-Policy", "script", "script"], (
        "the policy before all that a browser acts upon"
    )
    assert (
        finish.inline_scripts(page)[0] == "a<b"
        and finish.hash_of("a<b") in page.one("[http-equiv]").attributes["content"]
    )
    assert page.one("script[data-theme]").attributes["data-theme"] == "assets/javascripts/bundle.js"
    assert page.one(".page-head > div > h1 a").attributes["aria-hidden"] == "true"
    assert page.one(".page-head > div + .admonition") and page.one(".page-head + nav.on-page"), (
        "its parts below its head"
    )
    assert page.one(".calc-question-again"), "it is the only one of its page"
    assert [cell.tag for cell in page.all("div.calc-scroll[aria-label='Table: C'] thead tr > *")] == ["td", "th"]


@pytest.mark.parametrize("what", GONE)
def test_pages_without_a_place_that_a_step_needs_stop_the_build(what):
    assert GONE[what] in WHOLE
    with pytest.raises(exact.Unfound, match=r"not once|no page has anything"):
        finished(WHOLE.replace(GONE[what], ""))


def test_a_place_that_is_there_twice_is_told():
    with pytest.raises(exact.Unfound, match=r"index\.html: “meta\[charset\]” stands 2 times"):
        finished(WHOLE.replace(GONE["the charset"], GONE["the charset"] * 2))


def test_a_foot_that_does_not_say_that_it_is_a_copy_is_told():
    assert b"This is a saved copy" in saved.as_saved("a.html", saved.STATE.encode())
    with pytest.raises(exact.Unfound, match="stands 0 times"):
        saved.as_saved("a.html", b"<footer></footer>")
    assert saved.as_saved("a.css", b"{}") == b"{}"


def test_a_foot_without_the_version_is_told(tmp_path):
    (tmp_path / "start.html").write_text("<footer></footer>")
    with pytest.raises(exact.Unfound, match="no place for"):
        offline.stamp(tmp_path, "1", 0)


def test_no_map_of_the_theme_is_shipped(site):
    assert not list(site.rglob("*.map"))
    assert not [path for path in site.rglob("*.js") if "sourceMappingURL" in path.read_text(encoding="utf-8")]
