"""From docs/ and calc/ to site/: mkdocs in the middle, our own steps before and after it.

before   nav from what exists; fences render calculators with the code that also runs in the browser
mkdocs   Markdown to pages
after    figures, runtime and page script, descriptions, licences, security policy, checks
"""

import argparse
import hashlib
import json
import logging
import os
import re
import shutil
import subprocess
import sys
import tempfile
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import bootstrap
import farm_pages
import fences
import figures
import finish
import glossary
import hatches
import intact
import measures
import offline
import parts
import reading
import runtime
import saved
import searched
import shipped
import style
import tree
import whole

from calc.engine import register

ROOT = bootstrap.ROOT
INPUTS = (
    "docs",
    "calc",
    "scripts",
    "tests/published",
    "tests/faults.yml",
    "tests/mutation.md",
    "mkdocs.yml",
    "LICENSE",
)
NOT_INPUTS = {"node_modules", "__pycache__", "bench", "audit", ".cache"}
EARLIEST = 315532800
"""1980-01-01, for a copy without git: the first day that a zip archive can hold."""


def inputs(root=ROOT):
    """Every file that can change what the site looks like."""
    for name in INPUTS:
        path = root / name
        if path.is_file():
            yield path
        for folder, folders, files in os.walk(path):
            folders[:] = sorted(set(folders) - NOT_INPUTS)
            yield from (Path(folder) / file for file in sorted(files) if not file.endswith(".pyc"))


def fingerprint(options):
    """One text for all inputs and options: the same text, the same site."""
    digest = hashlib.sha256(json.dumps(options, sort_keys=True).encode())
    for path in inputs():
        digest.update(path.relative_to(ROOT).as_posix().encode() + b"\0" + hashlib.sha256(path.read_bytes()).digest())
    return digest.hexdigest()


def stamp_of(out):
    """The stamp lies outside the site: a copy of site/ carries nothing of this machine."""
    return ROOT / ".cache" / f"{hashlib.sha256(str(out.resolve()).encode()).hexdigest()[:16]}.stamp"


def date_of_commit():
    """Seconds since 1970 of the last commit, so that two builds of one commit are the same to the byte."""
    command = ["git", "log", "-1", "--format=%ct"]
    done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)
    return done.stdout.strip() if done.returncode == 0 and done.stdout.strip() else str(EARLIEST)


def mkdocs_build(out, units, address, farm=None):
    """Run mkdocs with our nav; returns the name of the site."""
    from mkdocs.commands.build import build
    from mkdocs.config import load_config
    from mkdocs.utils.yaml import yaml_load

    logging.basicConfig(level=logging.WARNING, format="%(levelname)s %(name)s: %(message)s")
    logging.getLogger("mkdocs").setLevel(logging.WARNING)
    fences.UNITS, fences.CURRENCY, fences.FARM = units, farm.currency if farm else "$", farm
    fences.STEPS.clear()
    with open(ROOT / "mkdocs.yml", encoding="utf-8") as file:
        nav = yaml_load(file)["nav"]
    for page in reading.forgotten(nav, ROOT / "docs"):
        bootstrap.say(f"docs/{page} is not in the nav of mkdocs.yml: it comes last in its chapter")
    config = load_config(
        str(ROOT / "mkdocs.yml"),
        site_dir=str(out),
        nav=farm_pages.kept(reading.order(nav, ROOT / "docs"), farm),
        site_url=address,
        **farm_pages.settings(farm),
    )
    config["extra"]["units"] = units
    farm_pages.furnish(config, farm)
    config.plugins.on_startup(command="build", dirty=False)
    try:
        build(config)
    finally:
        config.plugins.on_shutdown()
    return farm.name if farm else config.site_name


def build(out=ROOT / "site", *, units=None, address=None, farm=None, force=False, ordinary=False, book=False):
    """Make the site unless it is there and nothing changed.

    Returns its folder. farm: path of a farm.yml; units and address win over it.
    ordinary: with Pyodide's own loader, see scripts/browser/image. book: with the book as a PDF.
    """
    out = Path(out)
    text_of_farm = farm_pages.fingerprint(farm) if farm else ""
    farm = farm_pages.load(farm) if farm else None
    units = units or (farm.units if farm else "us")
    address = address if address is not None else farm.address if farm else ""
    os.environ.setdefault("SOURCE_DATE_EPOCH", date_of_commit())
    os.environ["NO_MKDOCS_2_WARNING"] = "1"
    text, stamp = (
        fingerprint(
            {
                "units": units,
                "address": address,
                "farm": text_of_farm,
                "date": os.environ["SOURCE_DATE_EPOCH"],
                "ordinary": ordinary,
                "book": book,
            }
        ),
        stamp_of(out),
    )
    if not force and out.is_dir() and stamp.exists() and stamp.read_text() == text:
        return out
    node = bootstrap.node_packages()
    with bootstrap.one_at_a_time(ROOT / ".cache" / "building"):
        # another may just have made it
        if force or not (out.is_dir() and stamp.exists() and stamp.read_text() == text):
            make_new(out, node, units, address, farm, force, ordinary, book)
            stamp.write_text(text)
    return out


def make_new(out, node, units, address, farm, force, ordinary, book=False):
    """A new site in place of the old one; a build that fails leaves the last good site as it was."""
    new = ROOT / ".cache" / f"site-{os.getpid()}"
    try:
        steps(new, node, units, address, farm, None if force else ROOT / ".cache", ordinary, book)
        stamp_of(out).unlink(missing_ok=True)
        shutil.rmtree(out, ignore_errors=True)
        out.parent.mkdir(parents=True, exist_ok=True)
        shutil.move(new, out)
    finally:
        shutil.rmtree(new, ignore_errors=True)


def steps(out, node, units, address, farm=None, kept=None, ordinary=False, book=False):
    """mkdocs, then everything that follows it, in `out`; a farm's defaults stand in the calculators meanwhile.
    kept: folder in which a build finds what an earlier one left, or None to make everything anew."""
    register.use_edition(**farm.edition if farm else {})
    try:
        make_all(out, node, units, address, farm, kept, ordinary, book)
    finally:
        register.use_edition()


def without_maps(out):
    """The theme's scripts without their maps: for whoever writes the theme, and a fifth of a megabyte in every copy."""
    for path in out.rglob("*.map"):
        path.unlink()
    for path in (out / "assets" / "javascripts").rglob("*.js"):
        text = path.read_text(encoding="utf-8")
        path.write_text(re.sub(r"\n?//# sourceMappingURL=\S+\s*$", "\n", text), encoding="utf-8")


def make_all(out, node, units, address, farm, kept, ordinary, book):
    edition = farm.edition if farm else None
    with (
        tempfile.TemporaryDirectory() as private,
        ThreadPoolExecutor(1) as beside,
    ):  # the runtime takes longest and needs no page
        folder = Path(private, "runtime")
        making = beside.submit(runtime.make, folder, node, edition, kept, ordinary)
        name = mkdocs_build(out, units, address, farm)
        shutil.rmtree(
            out / "assets" / "javascripts" / "lunr", ignore_errors=True
        )  # stemmers of languages that no page has
        without_maps(out)
        searched.add(out)
        pages = tree.read(out)
        farm_pages.place(out, pages, farm)
        for step in (glossary.explainer(), hatches.add, measures.mark):
            for page in pages:
                step(page)
        figures.draw_all(pages, node)
        made = making.result()
        # In over five hundred cases; in over two thousand by a test (tests/browser/test_image.py).
        held = (
            None if ordinary else beside.submit(runtime.compare, folder / made["folder"], node, edition, kept, few=True)
        )
        live, start = runtime.add(out, folder, made)
        sheet = style.add(out, pages, kept)
        shipped.copy_texts(out)
        parts.add(out)
        finish.pages(pages, lambda top: sheet(top) + live(top), address, start)
        finish.sitemap(out, pages, address)
        tree.write(out, pages)
        finish.close_theme(out)
        whole.add(out, node)
        finish.check(out)
        if book:
            import book as paged  # asks for packages that no ordinary build needs

            paged.offer(out / paged.OFFERED)
        answers = intact.made(units, farm.currency if farm else "$")
        saved.add(out, *offline.add(out, name, answers), answers)
        if book:  # its cover says of which day and version it is
            paged.add(out)
        if held:
            held.result()


def main(arguments=None):
    parser = argparse.ArgumentParser(prog="scripts/build", description=__doc__.split("\n")[0])
    parser.add_argument("--out", type=Path, default=ROOT / "site", help="folder to write (default: site)")
    parser.add_argument(
        "--farm", type=Path, help="a farm's own edition, described in this file, such as docs/assets/farm/quillfen.yml"
    )
    parser.add_argument(
        "--units",
        choices=("us", "metric"),
        help="units that pages are made with (default: the farm's, or us); readers can switch",
    )
    parser.add_argument("--address", help="where the site will be served, such as https://farm.example/handbook/")
    parser.add_argument("--force", action="store_true", help="build even when nothing changed")
    parser.add_argument(
        "--ordinary", action="store_true", help="start Python with Pyodide's own loader, not from an image"
    )
    parser.add_argument(
        "--book", action="store_true", help="also make the whole handbook as a PDF, with page numbers in its contents"
    )
    options = parser.parse_args(arguments)
    if options.book:
        bootstrap.install("book")
    out = build(
        options.out,
        units=options.units,
        address=options.address,
        farm=options.farm,
        force=options.force,
        ordinary=options.ordinary,
        book=options.book,
    )
    size = sum(path.stat().st_size for path in out.rglob("*") if path.is_file())
    print(
        f"{out}: {sum(1 for _ in out.rglob('*.html'))} pages, {size / 1e6:.1f} MB. Open {out / 'index.html'} or run"
        " scripts/serve."
    )


if __name__ == "__main__":
    sys.exit(main())
