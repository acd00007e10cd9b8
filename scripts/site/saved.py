"""The saved copy: one zip of the whole handbook that opens from disk by double-click."""

import os
import re
import zipfile
from datetime import UTC, datetime

import exact
import intact
import offline
import whole

NAME = "handbook-copy.zip"
FOLDER = "handbook"
OPEN_FIRST = """Open index.html in this folder with a double-click. Everything works without a network.

This copy is {edition}. Text and figures CC BY 4.0, code MIT; see licences.html.
"""
STATE = '<span data-copy-state=""></span>'
STATE_HERE = '<span data-copy-state="">This is a saved copy: it needs no network.</span>'
"""Said at the foot of each page: over http by the page's script, in the copy by the copy."""
BUTTON = re.compile(rf'<a [^>]*href="[^"]*{re.escape(NAME)}"[^>]*>.*?</a>', re.DOTALL)
BOOK = re.compile(r'<p data-book="?"?>.*?</p>', re.DOTALL)
BUTTON_HERE = "<strong>You are reading it.</strong>"
"""The copy holds no button for itself, nor the book as a PDF: the files are not in it."""


def only_served(runtime):
    """Names of the runtime files that only a server can hand out; from disk their packed twins are used."""
    return {
        path.name
        for path in runtime.iterdir()
        if path.suffix in {".wasm", ".bin", ".zip"}
        or (path.name.startswith(("start.", "worker.")) and ".disk." not in path.name)
    }


def add(out, version, date, made):
    """Write the zip into the site: the same bytes for the same commit. Returns its size."""
    day = datetime.fromtimestamp(int(os.environ["SOURCE_DATE_EPOCH"]), UTC)
    left_out = only_served(out / "assets" / "runtime") | {
        NAME,
        whole.BOOK,
        "sitemap.xml",
        "404.html",
        "sw.js",
        "manifest.webmanifest",
    }
    paths = {path.relative_to(out).as_posix(): path for path in out.rglob("*") if path.is_file()}
    files = {name: as_saved(name, path.read_bytes()) for name, path in paths.items() if path.name not in left_out}
    files[intact.NAME] = intact.listing(sorted(files.items()), version, date, made)
    target = out / NAME
    with zipfile.ZipFile(target, "w", zipfile.ZIP_DEFLATED, compresslevel=9) as archive:
        write(
            archive,
            "READ ME FIRST.txt",
            OPEN_FIRST.format(edition=f"{offline.of_day(date)}version {version}").encode(),
            day,
        )
        for name, data in sorted(files.items()):
            write(archive, name, data, day)
    return target.stat().st_size


def as_saved(name, data):
    """A file as the copy has it: a page says at its foot that it is one, and does not offer it."""
    if not name.endswith(".html") or name == whole.NAME:  # the page for paper has no foot
        return data
    text = exact.replaced(data.decode("utf-8"), STATE, STATE_HERE, name)
    return BOOK.sub("", BUTTON.sub(BUTTON_HERE, text)).encode("utf-8")


def write(archive, name, data, day):
    entry = zipfile.ZipInfo(f"{FOLDER}/{name}", max(day.timetuple()[:6], (1980, 1, 1, 0, 0, 0)))
    entry.compress_type = zipfile.ZIP_DEFLATED
    entry.external_attr = 0o644 << 16
    archive.writestr(entry, data)
