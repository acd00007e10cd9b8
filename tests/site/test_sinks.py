"""Every place where a script of the page writes markup or an address, gone through by hand and held word for word.

A new one fails here until somebody has looked at what stands in it, and named it below.
"""

import re

import bootstrap

SCRIPTS = bootstrap.ROOT / "scripts" / "browser"
FOLDERS = ("page", "offline", "figure")
SINK = re.compile(
    r"(?:inner|outer)HTML|insertAdjacentHTML|setHTML|parseFromString|createContextualFragment|document\.write|srcdoc"
    r"|\beval\(|new Function|javascript:|setAttribute(?:NS)?\([^,]*[\"'`](?:on|href|xlink|src|style|action)"
    r"|\.(?:href|src|action) = |\b(?:href|src): |new (?:Shared)?Worker\(|[^.]\bimport\((?!\")|importScripts\("
    r"|(?:make|createElement)\(\"(?:iframe|object|embed|base)\""
    r"|location(?:\.href)? = |location\.(?:assign|replace)\(|window\.open\("
)

LOOKED_AT = {
    "HTML of Python, which escapes what a reader typed; tests/hostile holds it to known elements and attributes": {
        "page/calculator.js: place.innerHTML = answer.html;",
        "page/calculator.js: place.innerHTML = html;",
        'page/calculator.js: insertAdjacentHTML("afterend", `<div class="calc-linked" role="status">${notice}</div>`)',
        "page/form.js: template.innerHTML = html;",
        "page/plan_page.js: place.innerHTML = html;",
    },
    "numbers between constant tags": {
        "page/code.js: innerHTML: svg",
        "figure/render.mjs: outerHTML",  # under Node, when the handbook is made
    },
    "a place on the page that stands": {
        "page/form.js: href: `#${field.id}`",
        "page/sorter.js: href: `#${id}`",
    },
    "a page of the handbook: below its top, or where a link leads that stands on the page": {
        'page/extra.js: link.href = new URL(link.getAttribute("href").slice("handbook:".length), new URL(',
        "page/links.js: link.href = targetOf(link)",
        "page/address.js: if (inside && !here && travels()) link.href = carrying(url.href)",
        "offline/page.js: href: address.href",  # asked for in the address of this page, and below the top
    },
    "a file of the handbook by its built name": {
        "page/element.js: src: String(address)",
        "page/main.js: src: tag.dataset.theme",
        "page/python.js: new Worker(new URL(this.names.start, this.folder))",
        'page/python.js: new Worker(URL.createObjectURL(new Blob([(await code).bytes], { type: "text/javascript" })))',
        'offline/page.js: href: new URL("manifest.webmanifest", top)',
    },
    "a text that is saved, never opened": {
        "page/leaving.js: href: URL.createObjectURL(new Blob([text],",
    },
}
"""{what stands in it: {file: piece of its line}}"""


def sinks():
    """Lines of code that hold one, each with its file."""
    for path in sorted(path for folder in FOLDERS for path in (SCRIPTS / folder).glob("*.*js")):
        for line in path.read_text(encoding="utf-8").splitlines():
            code = re.sub(r"/\*.*?\*/", "", line).strip()
            if SINK.search(code) and not code.startswith(("//", "*", "/**")):
                yield path.relative_to(SCRIPTS).as_posix(), code


def test_every_place_that_writes_markup_or_an_address_was_looked_at():
    known = [piece.split(": ", 1) for pieces in LOOKED_AT.values() for piece in pieces]
    found = list(sinks())
    for file, code in found:
        here = [piece for name, piece in known if name == file and piece in code]
        assert len(SINK.findall(code)) == len(here), f"{file}: what stands in this? {code}"
    gone = [(name, piece) for name, piece in known if sum(name == file and piece in code for file, code in found) != 1]
    assert not gone, "named once for each place, and no longer than it stands"


def test_scripts_that_stand_in_pages_write_no_markup():
    """Those of the head, and of the page that is not there: it puts folders of its own address before its parts."""
    texts = [path.read_text(encoding="utf-8") for path in (SCRIPTS.parent / "site").rglob("*.html")]
    texts += [path.read_text(encoding="utf-8") for path in (bootstrap.ROOT / "docs" / "assets" / "script").glob("*.js")]
    texts.append((SCRIPTS.parent / "site" / "runtime.py").read_text(encoding="utf-8"))
    markup = SINK.pattern.split(r"|setAttribute", maxsplit=1)[0]
    assert not [found for text in texts for found in re.findall(markup, text)]
