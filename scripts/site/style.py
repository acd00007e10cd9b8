"""One style sheet for all pages: the faces, the parts in docs/assets/style and that of the figures, in order, under a
name that says
its contents."""

import hashlib
import re
import shutil

import bootstrap
import fonts

FIGURES = bootstrap.BROWSER / "figure" / "figure.css"
TWO = re.compile(r"light-dark\((#\w+), (#\w+)\)")
COLOUR = re.compile(r"^ *--[\w-]+: light-dark\(.*?\);.*$", re.MULTILINE)


def for_older_browsers(palette):
    """The palette with its light colours for browsers that do not know light-dark(), and the rest behind a question."""
    light = TWO.sub(lambda two: two[1], palette)
    both = "\n".join(COLOUR.findall(palette))
    return f"{light}\n@supports (color: light-dark(#000, #fff)) {{ @media screen {{ :root {{\n{both}\n}} }} }}"


def add(out, pages, kept=None):
    """Write the sheet; returns tag(way to the top) for the head of a page. kept: folder of what an earlier build
    left.
    """
    folder = out / "assets" / "style"
    texts = {
        path.name: path.read_text(encoding="utf-8")
        for path in sorted((bootstrap.ROOT / "docs" / "assets" / "style").glob("*.css"))
    }
    texts["1-palette.css"] = for_older_browsers(texts["1-palette.css"])
    text = "\n".join([fonts.add(out, pages, kept), FIGURES.read_text(encoding="utf-8"), *texts.values()])
    # our parts one by one; the theme's look
    for theirs in (folder, out / "assets" / "stylesheets", out / "assets" / "images"):
        shutil.rmtree(theirs, ignore_errors=True)
    folder.mkdir(parents=True)
    name = f"handbook.{hashlib.sha256(text.encode()).hexdigest()[:12]}.css"
    (folder / name).write_text(text, encoding="utf-8")
    return lambda top: f'<link rel="stylesheet" href="{top}assets/style/{name}">'
