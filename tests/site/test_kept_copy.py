"""What belongs to the copy that a browser keeps, its manifest, and the version that every page tells."""

import gzip
import json
import re
import struct
import zipfile

import finish
import offline
import pytest
import saved
import tree

MOST, ABOUT_PACKED = 20_000_000, (5_400_000, 5_800_000)
"""What docs/method/copy.md says: under 20 MB, about 5.6 MB packed."""


@pytest.fixture(scope="module")
def kept(site):
    return offline.kept(site)


@pytest.fixture(scope="module")
def listed(site):
    found = re.search(
        r'\{"version":"\w+","day":"[^"]*","files":\{[^}]*\}\}', (site / "sw.js").read_text(encoding="utf-8")
    )
    return json.loads(found[0])


def test_the_worker_knows_every_kept_file_by_its_hash(site, kept, listed):
    assert sorted(listed["files"]) == sorted(kept)
    for name, path in kept.items():
        assert listed["files"][name] == offline.hash_of(path.read_bytes()), name


def test_whatever_a_kept_page_asks_for_or_leads_to_is_kept(site, kept):
    for name, path in kept.items():
        if path.suffix != ".html":
            continue
        for asked in finish.requests(tree.Page(name, path.read_text(encoding="utf-8"))):
            target = (
                (path.parent / asked.split("?")[0].split("#")[0]).resolve()
                if asked and not asked.startswith(("data:", "http"))
                else None
            )
            if target and not target.relative_to(site.resolve()).as_posix().startswith("assets/icon/"):
                assert target.relative_to(site.resolve()).as_posix() in kept, (name, asked)


def test_every_page_is_kept_and_nothing_that_only_a_folder_on_disk_needs(site, kept):
    pages = {path.relative_to(site).as_posix() for path in site.rglob("*.html")} - {"404.html", "print.html"}
    assert pages <= set(kept)
    assert not [
        name
        for name in kept
        if ".disk." in name or name in {saved.NAME, "sw.js", "search/search_index.js"} or name.endswith(".map")
    ]


def test_it_weighs_what_the_page_about_copies_says(site, kept):
    whole = sum(path.stat().st_size for path in kept.values())
    packed = sum(len(gzip.compress(path.read_bytes(), 6)) for path in kept.values())
    assert whole < MOST and ABOUT_PACKED[0] < packed < ABOUT_PACKED[1]
    said = (site / "method" / "copy.html").read_text(encoding="utf-8")
    assert "about 5.6 MB to fetch" in said and "under 20 MB on the device" in said


def test_manifest_and_pictures(site):
    manifest = json.loads((site / "manifest.webmanifest").read_text(encoding="utf-8"))
    assert manifest["name"] == "The Lane Handbook" and manifest["display"] == "standalone"
    assert (site / manifest["start_url"]).is_file() and manifest["scope"] == "./"
    sizes = set()
    for icon in manifest["icons"]:
        data = (site / icon["src"]).read_bytes()
        assert data.startswith(b"\x89PNG")
        width, height = (int.from_bytes(data[place : place + 4], "big") for place in (16, 20))
        assert icon["sizes"] == f"{width}x{height}"
        sizes.add((width, icon["purpose"]))
    assert {(192, "any"), (512, "any"), (192, "maskable"), (512, "maskable")} <= sizes


@pytest.mark.parametrize(
    ("logo", "data", "expected"),
    [
        ("assets/farm/logo.svg", b"<svg/>", ["any"]),
        ("assets/farm/logo.png", (300, 200), ["300x200"]),
        ("assets/farm/logo.png", (64, 64), ["192x192"]),
    ],
)
def test_a_farm_is_installed_under_its_own_logo(tmp_path, logo, data, expected):
    for name in (logo, "assets/icon/icon-192.png"):
        (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / name).write_bytes(
            data if isinstance(data, bytes) else b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR" + struct.pack(">II", *data)
        )
    (tmp_path / "index.html").write_text(f'<link rel="icon" href="{logo}">')
    manifest = offline.manifest(tmp_path, "Quillfen Smallholding")
    assert manifest["name"] == "Quillfen Smallholding" and [icon["sizes"] for icon in manifest["icons"]] == expected


def test_one_version_everywhere(site, listed):
    for path in site.rglob("*.html"):
        text = path.read_text(encoding="utf-8")
        assert offline.VERSION not in text and offline.DAY not in text, path
        if "data-version" in text:
            assert f'data-version="{listed["version"]}"' in text and f"version {listed['version']}" in text, path
    with zipfile.ZipFile(site / saved.NAME) as archive:
        note = archive.read(f"{saved.FOLDER}/READ ME FIRST.txt").decode()
        page = archive.read(f"{saved.FOLDER}/index.html").decode()
    assert f"version {listed['version']}" in note and listed["day"] in note
    assert "This is a saved copy: it needs no network." in page and f"version {listed['version']}" in page


def test_the_version_follows_the_contents(tmp_path):
    (tmp_path / "a.html").write_text("one")
    before = offline.version(tmp_path)
    assert offline.version(tmp_path) == before
    (tmp_path / "a.html").write_text("two")
    assert offline.version(tmp_path) != before


def test_a_build_without_a_date_names_no_day(monkeypatch):
    monkeypatch.setenv("SOURCE_DATE_EPOCH", offline.UNDATED)
    assert offline.of_day(offline.day()) == ""
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1800000000")
    assert offline.of_day(offline.day()) == "of 15 January 2027, "


def test_names_in_the_zip_are_safe_on_every_system(site):
    with zipfile.ZipFile(site / saved.NAME) as archive:
        names = archive.namelist()
    forbidden = re.compile(r'[<>:"|?*\\\x00-\x1f]|[. ](/|$)|(^|/)(con|prn|aux|nul|com\d|lpt\d)(\.|/|$)', re.IGNORECASE)
    assert not [name for name in names if forbidden.search(name) or not name.isascii() or len(name) > 120]
    assert len({name.lower() for name in names}) == len(names)
