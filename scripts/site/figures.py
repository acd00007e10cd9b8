"""Draws every figure of the finished pages, in one Node process, with the module that also draws in the page."""

import json
import subprocess

import bootstrap

PLACEHOLDER, DATA = "div.calc-plot[data-figure-json]", "data-figure-json"


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
        check=False,
    )
    answers = [json.loads(line) for line in done.stdout.splitlines()]
    for answer in answers:
        if "error" in answer:
            raise RuntimeError(f"figure {figures[answer['id']].get('name')}: {answer['error']}")
    if len(answers) != len(figures):
        raise RuntimeError(f"{len(answers)} of {len(figures)} figures were drawn\n{done.stderr}")
    return [answer["svg"] for answer in sorted(answers, key=lambda answer: answer["id"])]


def draw_all(pages, node):
    """Fill every placeholder of the pages."""
    places = [place for page in pages for place in page.all(PLACEHOLDER)]
    for place, drawn in zip(places, draw([json.loads(place.attrs[DATA]) for place in places], node), strict=True):
        del place.attrs[DATA]
        place.inner_html = drawn
