"""Adds what makes the pages live: scripts/browser/build.mjs makes it, each page gets one script tag."""

import html
import json

import bootstrap


def add(out, node):
    """Make the runtime and the page script under `out`; returns tags(way to the top) for the head of a page."""
    command = [node, bootstrap.BROWSER / "build.mjs", "--calc", bootstrap.ROOT / "calc", "--out", out]
    made = json.loads(bootstrap.run(command).splitlines()[-1])
    told = html.escape(json.dumps({name: made[name] for name in made if name not in {"folder", "page", "modules"}}, separators=(",", ":")))
    return lambda top: f'<script async src="{top}{made["folder"]}/{made["page"]}" data-runtime="{told}"></script>'
