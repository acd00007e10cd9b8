"""One style sheet for all pages: the parts in docs/assets/style and that of the figures, in order, under a name that says its contents."""

import hashlib
import shutil

import bootstrap

FIGURES = bootstrap.BROWSER / "figure" / "figure.css"


def add(out):
    """Write the sheet; returns tag(way to the top) for the head of a page."""
    folder = out / "assets" / "style"
    text = "\n".join(
        path.read_text(encoding="utf-8")
        for path in [FIGURES, *sorted((bootstrap.ROOT / "docs" / "assets" / "style").glob("*.css"))]
    )
    shutil.rmtree(folder, ignore_errors=True)
    folder.mkdir(parents=True)
    name = f"handbook.{hashlib.sha256(text.encode()).hexdigest()[:12]}.css"
    (folder / name).write_text(text, encoding="utf-8")
    return lambda top: f'<link rel="stylesheet" href="{top}assets/style/{name}">'
