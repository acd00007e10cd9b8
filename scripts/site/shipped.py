"""Everything of others that is in the site, with its terms: the table on the page and the texts beside it."""

import html
import json
import re
from importlib import metadata
from pathlib import Path

import bootstrap

LICENCE_FILE = re.compile(r"^(licen[cs]e|copying|notice)", re.IGNORECASE)
FOLDER = "licences"

PYTHON = {"mkdocs-material": "search; moving between pages", "mkdocs": "page generator; its search code"}
"""Python packages of which some file ends up in the site."""

NODE = {
    "@fontsource-variable/besley": "the face of headings and answers",
    "@fontsource-variable/public-sans": "the face of the text",
    "uqr": "makes QR codes of links",
    "@observablehq/plot": "draws figures",
    "pyodide": "runs the calculations in your browser",
    "workbox-precaching": "keeps a copy for use without a network",
}
"""Packages of scripts/browser that are shipped, as they are or bundled; what each needs at run time comes with it."""


def python_licences():
    for name, use in PYTHON.items():
        distribution = metadata.distribution(name)
        terms = distribution.metadata.get("License-Expression") or distribution.metadata.get("License") or ""
        files = [
            Path(distribution.locate_file(file))
            for file in distribution.files or []
            if LICENCE_FILE.match(Path(file).name)
        ]
        yield name, distribution.version, terms or "see text", use, files


def runtime_dependencies(package, folder, seen):
    """A Node package and all that it needs at run time."""
    if package in seen or not (folder / package / "package.json").is_file():
        return
    about = json.loads((folder / package / "package.json").read_text(encoding="utf-8"))
    seen[package] = about
    for name in about.get("dependencies", {}):
        runtime_dependencies(name, folder, seen)


def node_licences():
    folder = bootstrap.BROWSER / "node_modules"
    seen, uses = {}, {}
    for package, use in NODE.items():
        runtime_dependencies(package, folder, seen)
        uses = dict.fromkeys(seen, use) | uses
    for name, about in sorted(seen.items()):
        files = sorted(path for path in (folder / name).iterdir() if path.is_file() and LICENCE_FILE.match(path.name))
        yield name, about["version"], about.get("license", "see text"), uses[name], files


def everything():
    """(name, version, terms, use, licence files) of each part."""
    return [*python_licences(), *node_licences()]


def file_name(name):
    return re.sub(r"[^a-z0-9.]+", "-", name.lower()).strip("-") + ".txt"


def text_of(files, terms):
    return (
        "\n\n".join(path.read_text(encoding="utf-8", errors="replace").strip() for path in files) or f"Terms: {terms}"
    )


def table():
    """For the page: name, use, terms, with the full text one click away."""
    rows = "".join(
        f"<tr><td>{html.escape(name)} {html.escape(version)}</td><td>{html.escape(use)}</td>"
        f'<td><a href="{FOLDER}/{file_name(name)}">{html.escape(terms)}</a></td></tr>'
        for name, version, terms, use, _ in everything()
    )
    return (
        "<table>\n<thead><tr><th>Part</th><th>What it does"
        f" here</th><th>Terms</th></tr></thead><tbody>{rows}</tbody></table>"
    )


def copy_texts(out):
    folder = out / FOLDER
    folder.mkdir(exist_ok=True)
    for name, version, terms, _, files in everything():
        (folder / file_name(name)).write_text(f"{name} {version}\n\n{text_of(files, terms)}\n", encoding="utf-8")
    (folder / "handbook.txt").write_text((bootstrap.ROOT / "LICENSE").read_text(encoding="utf-8"), encoding="utf-8")
