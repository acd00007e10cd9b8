"""The build itself: the same to the byte, quick when nothing changed, loud when something is wrong."""

import hashlib
import os
import re

import bootstrap
import fences
import figures
import make
import pytest
from pymdownx.superfences import SuperFencesException


def digests(folder):
    return {
        path.relative_to(folder).as_posix(): hashlib.sha256(path.read_bytes()).hexdigest()
        for path in sorted(folder.rglob("*"))
        if path.is_file()
    }


@pytest.mark.slow
def test_two_builds_are_the_same(site, tmp_path):
    """One anew, and one with what an earlier build has left: `site` is the one or the other, as the run found it."""
    anew = os.environ["HANDBOOK_KEPT"] == "yes"
    first, second = digests(site), digests(make.build(tmp_path / "again", force=anew))
    assert sorted(first) == sorted(second)
    assert [name for name in first if first[name] != second[name]] == []


def test_nothing_changed_nothing_built(monkeypatch):
    make.build()
    monkeypatch.setattr(make, "steps", lambda *arguments: pytest.fail("built again"))
    assert make.build() == bootstrap.ROOT / "site"


def test_another_input_is_another_site():
    assert make.fingerprint({"units": "us"}) != make.fingerprint({"units": "metric"})
    assert any(path.name == "adjust.py" for path in make.inputs()) and not any(
        "node_modules" in path.parts for path in make.inputs()
    )


def test_every_figure_is_drawn(site):
    for path in site.rglob("*.html"):
        text = path.read_text(encoding="utf-8")
        assert "data-figure-json" not in text, path
        assert len(re.findall(r'<div class="calc-plot"[^>]*>', text)) == len(
            re.findall(r'<div class="calc-plot"[^>]*><', text)
        ), path


def test_a_figure_that_cannot_be_drawn_is_named(node):
    with pytest.raises(RuntimeError, match="crooked"):
        figures.draw([{"name": "crooked", "x": {}, "y": {}, "marks": [{"kind": "no such kind", "points": []}]}], node)


@pytest.mark.parametrize(
    "source", ["no.such", "", 'lane.starter lane_length="8 apples"', "moisture.adjust feed.recipe"]
)
def test_a_wrong_fence_stops_the_build(source):
    with pytest.raises(SuperFencesException):
        fences.calculator(source, "calculator", "calculator", {}, None)


def test_no_address_of_a_registry_in_the_locks():
    for path in [
        *sorted(bootstrap.LOCKS.glob("*.txt")),
        *sorted(bootstrap.BROWSER.glob("package-lock.json")),
        *sorted(bootstrap.BROWSER.glob("*/package-lock.json")),
    ]:
        text = path.read_text()
        assert "registry" not in text and not re.search(
            r'"resolved"|--index|--find-links|https?://[^ "]*\.(whl|tgz)', text
        ), path


def test_every_locked_package_has_a_hash():
    for path in sorted(bootstrap.LOCKS.glob("*.txt")):
        blocks = re.split(r"\n(?=[a-z])", path.read_text())
        assert all("--hash=sha256:" in block for block in blocks if re.match(r"[a-z]", block)), path
