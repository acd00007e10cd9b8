"""Draws every figure of the finished pages, in one Node process, with the module that also draws in the page."""

import html
import json
import re
import subprocess

import bootstrap

PLACEHOLDER = re.compile(r"""(<div class="calc-plot"[^>]*?) data-figure-json=('[^']*'|"[^"]*")([^>]*>)\s*</div>""")


def jobs_in(text):
    """The figure data of a page, in order."""
    return [json.loads(html.unescape(match[2][1:-1])) for match in PLACEHOLDER.finditer(text)]


def draw(figures, node):
    """The SVG of each figure; the first fault stops the build and names the figure."""
    if not figures:
        return []
    lines = "".join(json.dumps({"id": number, "figure": figure}) + "\n" for number, figure in enumerate(figures))
    done = subprocess.run(
        [node, bootstrap.BROWSER / "figure" / "render.mjs"],
        input=lines,
        capture_output=True,
        text=True,
        encoding="utf-8",
    )
    answers = [json.loads(line) for line in done.stdout.splitlines()]
    for answer in answers:
        if "error" in answer:
            raise RuntimeError(f"figure {figures[answer['id']].get('name')}: {answer['error']}")
    if len(answers) != len(figures):
        raise RuntimeError(f"{len(answers)} of {len(figures)} figures were drawn\n{done.stderr}")
    return [answer["svg"] for answer in sorted(answers, key=lambda answer: answer["id"])]


def draw_all(out, node):
    """Fill every placeholder under `out`."""
    pages = {path: path.read_text(encoding="utf-8") for path in sorted(out.rglob("*.html"))}
    drawn = iter(draw([figure for text in pages.values() for figure in jobs_in(text)], node))
    for path, text in pages.items():
        filled = PLACEHOLDER.sub(lambda match: f"{match[1]}{match[3]}{next(drawn)}</div>", text)
        if filled != text:
            path.write_text(filled, encoding="utf-8")
