"""A change of finished pages that finds nothing to change stops the build."""

import exact
import finish
import offline
import pytest

PAGE = '<head><meta charset="utf-8"></head><section class="calc" data-runtime="x"></section>'


def test_one_place_is_changed():
    assert exact.replaced("a b c", "b", "x", "here") == "a x c"


@pytest.mark.parametrize("text", ["a c", "a b b"])
def test_none_or_several_are_told(text):
    with pytest.raises(exact.Unfound, match=r"page\.html: “b” stands"):
        exact.replaced(text, "b", "x", "page.html")


def test_a_theme_without_its_script_is_told():
    with pytest.raises(exact.Unfound, match="THEME_SCRIPT"):
        finish.theme_later(PAGE, "page.html")


def test_a_page_without_a_place_for_the_policy_is_told():
    with pytest.raises(exact.Unfound, match="stands 0 times"):
        finish.with_policy("<head></head>", set(), "page.html")


def test_a_foot_without_the_version_is_told(tmp_path):
    (tmp_path / "start.html").write_text("<footer></footer>")
    with pytest.raises(exact.Unfound, match="no place for"):
        offline.stamp(tmp_path, "1", 0)


def test_no_map_of_the_theme_is_shipped(site):
    assert not list(site.rglob("*.map"))
    assert not [path for path in site.rglob("*.js") if "sourceMappingURL" in path.read_text(encoding="utf-8")]
