"""What a copy holds when it is whole: each file with its hash, and what each calculator answers.

The page *Is this copy whole?* compares (scripts/browser/page/intact.js).
"""

import hashlib
import json
from collections.abc import Iterable
from html import escape

from calc.engine.register import every
from calc.page import respond

NAME = "assets/intact.js"
NOT_LISTED = {NAME, "sw.js"}
"""The list itself, and what holds the list's own hash."""


def hash_of(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()


def answers(units: str, currency: str) -> dict[str, list[str]]:
    """{calculator: [its question, hash of the HTML of its answer to the values it starts with]}."""
    found = {}
    for id, entry in every().items():
        asked = {"calculator": id, "values": {}, "units": units, "currency": currency}
        answer = json.loads(respond("answer", json.dumps(asked)))
        found[id] = [entry.question, hash_of(answer["html"].encode())]
    return found


def listing(files: Iterable[tuple[str, bytes]], version: str, day: str, made: dict[str, object]) -> bytes:
    """The list, as a script that can also be read from disk. made: units, currency and answers."""
    hashes = {path: hash_of(data) for path, data in files if path not in NOT_LISTED}
    told = {"version": version, "day": day, "files": hashes, **made}
    return f"globalThis.handbookIntact={json.dumps(told, separators=(',', ':'), ensure_ascii=False)};\n".encode()


def section() -> str:
    """What stands on the page: it comes alive by its script, and says so where there is none."""
    lines = [
        ("parts", "Every part of this handbook opens"),
        ("calculators", "Every calculator gives the answer that was prepared for it"),
        ("files", "Every file is the one that was made"),
    ]
    rows = "".join(
        f'<tr data-check="{name}"><th scope="row">{escape(words)}</th><td>not looked at yet</td></tr>'
        for name, words in lines
    )
    return (
        '<section class="intact plan-sheet" aria-label="Is this copy whole?">'
        '<p class="intact-verdict" role="status" tabindex="-1">The check needs scripts, and this browser runs none'
        " here.</p>"
        f'<table class="plan-set intact-found"><tbody>{rows}</tbody></table>'
        '<ul class="intact-faults" hidden></ul>'
        '<p class="intact-of"></p>'
        '<div class="calc-actions" data-live hidden>'
        '<button type="button" class="button" data-action="check">Check this copy</button>'
        '<button type="button" class="button" data-action="folder" hidden>Choose its folder</button>'
        '<input type="file" class="calc-off-screen" tabindex="-1" aria-hidden="true" webkitdirectory multiple>'
        '<button type="button" class="button" data-action="print">Print</button></div></section>'
    )


def made(units: str, currency: str) -> dict[str, object]:
    """What was asked of the calculators, and what they said."""
    return {"units": units, "currency": currency, "calculators": answers(units, currency)}
