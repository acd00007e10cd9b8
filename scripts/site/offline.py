"""The copy that a browser keeps: which files belong to it, the service worker that hands them out, the manifest, and
the version.

Everything here is made from the finished site: the same site gives the same files.
"""

import base64
import hashlib
import json
import os
import re
import struct
from datetime import UTC, datetime

import bootstrap
import exact
import intact
import whole

VERSION, DAY = "@@VERSION@@", "@@DAY@@"
"""What stands in the pages (overrides/partials/copyright.html) until all of the site is made."""

LIST = "__COPY__"
"""What stands in the service worker in place of the list of files."""

UNDATED = "315532800"
"""The date that a build without git has (make.EARLIEST): a handbook that names no day."""

NOT_KEPT = re.compile(
    r"\.disk\.|\.map$|(^|/)(sw\.js|sitemap\.xml|search_index\.js|404\.html|print\.html|manifest\.webmanifest|handbook-copy\.zip|handbook-book\.pdf)$|^assets/(icon|picture)/"
)
"""What a reader behind a server never needs to go on reading: twins for opening from disk, source maps, the zip, the
page to print and its PDF, pictures for an installer.
"""

PALETTE = bootstrap.ROOT / "docs" / "assets" / "style" / "1-palette.css"
MARK, SMALLEST_LOGO = "assets/mark.svg", 192  # px either way, for a picture among a device's programs
ICON = re.compile(r"icon-(\d+)(-maskable)?\.png$")


def kept(out):
    """Files of the kept copy, as they are asked for."""
    paths = {path.relative_to(out).as_posix(): path for path in sorted(out.rglob("*")) if path.is_file()}
    return {name: path for name, path in paths.items() if not NOT_KEPT.search(name)}


def hash_of(data):
    return "sha256-" + base64.b64encode(hashlib.sha256(data).digest()).decode()


def version(out):
    """A short name for the contents: of every file, before the pages are told the name."""
    digest = hashlib.sha256()
    for path in sorted(out.rglob("*")):
        if path.is_file():
            digest.update(
                path.relative_to(out).as_posix().encode() + b"\0" + hashlib.sha256(path.read_bytes()).digest()
            )
    return digest.hexdigest()[:8]


def day():
    """The day of the commit in words; nothing where no git could tell."""
    seconds = os.environ["SOURCE_DATE_EPOCH"]
    if seconds == UNDATED:
        return ""
    date = datetime.fromtimestamp(int(seconds), UTC)
    return f"{date.day} {date:%B %Y}"


def of_day(text):
    return f"of {text}, " if text else ""


def pictures(out):
    """Those that scripts/site/icons.py made of the mark; for a farm with a logo that is large enough, the logo."""
    logo = re.search(r'<link rel="icon" href="([^"]+)"', (out / "index.html").read_text(encoding="utf-8"))[1]
    if logo.endswith(".svg") and logo != MARK:
        return [{"src": logo, "sizes": "any", "type": "image/svg+xml", "purpose": "any"}]
    if logo.endswith(".png"):
        width, height = struct.unpack(">II", (out / logo).read_bytes()[16:24])
        if min(width, height) >= SMALLEST_LOGO:
            return [{"src": logo, "sizes": f"{width}x{height}", "type": "image/png", "purpose": "any"}]
    icons = []
    for path in sorted((out / "assets" / "icon").glob("icon-*.png")):
        size, maskable = ICON.search(path.name).groups()
        icons.append(
            {
                "src": path.relative_to(out).as_posix(),
                "sizes": f"{size}x{size}",
                "type": "image/png",
                "purpose": "maskable" if maskable else "any",
            }
        )
    return icons


def manifest(out, name):
    """What an installed handbook is called and looks like.

    All addresses are relative: it may be served from any folder.
    """
    colours = dict(re.findall(r"--(paper|ink): light-dark\((#\w+),", PALETTE.read_text(encoding="utf-8")))
    return {
        "name": name,
        "short_name": re.sub(r"^The ", "", name),
        "start_url": "index.html",
        "scope": "./",
        "display": "standalone",
        "lang": "en",
        "background_color": colours["paper"],
        "theme_color": colours["paper"],
        "icons": pictures(out),
    }


def stamp(out, text, date):
    """Tell every page which version it is of."""
    for path in sorted(out.rglob("*.html")):
        page = path.read_text(encoding="utf-8")
        if path.name != whole.NAME:  # the page for paper has no foot
            for mark in (VERSION, DAY):
                if mark not in page:
                    raise exact.Unfound(f"{path.relative_to(out)}: no place for “{mark}” in its foot")
        path.write_text(page.replace(VERSION, text).replace(DAY, of_day(date)), encoding="utf-8")


def listing(out, text, date):
    """What the service worker has to know, as JSON."""
    return json.dumps(
        {"version": text, "day": date, "files": {path: hash_of(file.read_bytes()) for path, file in kept(out).items()}},
        separators=(",", ":"),
    )


def add(out, name, made):
    """Write manifest and service worker, the version into the pages, and the list of what a whole copy holds.

    made: what the calculators say (scripts/site/intact.py). Returns version and day.
    """
    (out / "manifest.webmanifest").write_text(
        json.dumps(manifest(out, name), indent=1, ensure_ascii=False) + "\n", encoding="utf-8"
    )
    text, date = version(out), day()
    stamp(out, text, date)
    files = ((path, file.read_bytes()) for path, file in kept(out).items())
    (out / intact.NAME).write_bytes(intact.listing(files, text, date, made))
    worker = (out / "sw.js").read_text(encoding="utf-8")
    (out / "sw.js").write_text(exact.replaced(worker, LIST, listing(out, text, date), "sw.js"), encoding="utf-8")
    return text, date
