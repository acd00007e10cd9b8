"""Outside judges of the finished pages: Lighthouse and html-validate, from scripts/browser/audit.

scripts/audit                    every page with a calculator, all four categories
scripts/audit moisture/ index    pages whose name holds one of these words
scripts/audit --all              pages without calculators as well
"""

import argparse
import json
import os
import subprocess
import threading

import bootstrap

AUDIT = bootstrap.BROWSER / "audit"
CATEGORIES = ("performance", "accessibility", "best-practices", "seo")
STEADY = CATEGORIES[1:]
"""What a page is, whatever else the machine does meanwhile."""


def names_of(site):
    """Every page but the one for what is not there, and the one that holds all others for paper."""
    return sorted(
        path.relative_to(site).as_posix()
        for path in site.rglob("*.html")
        if path.name not in {"404.html", "print.html"}
    )


def with_calculators(site):
    return [name for name in names_of(site) if '<section class="calc"' in (site / name).read_text(encoding="utf-8")]


def chromium_path():
    path = os.environ.get("HANDBOOK_CHROMIUM") or bootstrap.chromium()
    if path:
        return path
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        return playwright.chromium.executable_path


def lighthouse(address, pages, categories=CATEGORIES):
    """Yield what Lighthouse found on each page: {page, scores, times, faults}."""
    command = [bootstrap.node_packages(AUDIT), AUDIT / "lighthouse.mjs", address, ",".join(categories), *pages]
    with subprocess.Popen(
        command,
        stdout=subprocess.PIPE,
        text=True,
        encoding="utf-8",
        env={**os.environ, "HANDBOOK_CHROMIUM": chromium_path()},
    ) as process:
        yield from map(json.loads, process.stdout)
    if process.returncode:
        raise RuntimeError(f"Lighthouse ended with status {process.returncode}")


def markup_faults(site):
    """What html-validate holds against the markup: [{name, line, rule, message, selector}]."""
    names = [path.relative_to(site).as_posix() for path in sorted(site.rglob("*.html"))]
    command = [bootstrap.node_packages(AUDIT), AUDIT / "validate.mjs", site]
    done = subprocess.run(
        command, input="\n".join(names), capture_output=True, text=True, encoding="utf-8", check=False
    )
    if done.returncode:
        raise RuntimeError(done.stderr)
    return [json.loads(line) for line in done.stdout.splitlines()]


def told(found):
    scores = "  ".join(f"{name} {score}" for name, score in found["scores"].items())
    times = (
        f"   first paint {found['times']['first-contentful-paint'] / 1000:.1f} s, blocked"
        f" {found['times']['total-blocking-time']:.0f} ms"
        if "first-contentful-paint" in found["times"]
        else ""
    )
    return "\n".join([f"{found['page']:28} {scores}{times}", *(f"    {fault}" for fault in found["faults"])])


def main(arguments=None):
    import make
    import serve_site

    parser = argparse.ArgumentParser(
        prog="scripts/audit", description="Lighthouse and html-validate over the built handbook."
    )
    parser.add_argument("words", nargs="*", help="only pages whose name holds one of these")
    parser.add_argument("--all", action="store_true", help="pages without calculators as well")
    parser.add_argument(
        "--steady", action="store_true", help="leave out speed, which swings with what else the machine does"
    )
    options = parser.parse_args(arguments)
    site = make.build()
    pages = [
        name
        for name in (names_of if options.all else with_calculators)(site)
        if not options.words or any(word in name for word in options.words)
    ]
    faults = markup_faults(site)
    for fault in faults:
        print("{name}:{line} {rule}: {message} ({selector})".format(**fault))
    server = serve_site.server(site)
    threading.Thread(target=server.serve_forever, daemon=True).start()
    short = 0
    for found in lighthouse(
        f"http://127.0.0.1:{server.server_address[1]}/", pages, STEADY if options.steady else CATEGORIES
    ):
        print(told(found), flush=True)
        short += any(score != 100 for score in found["scores"].values())
    server.shutdown()
    print(f"{len(pages)} pages, {short} of them below 100 somewhere; {len(faults)} faults of markup")
    return 1 if short or faults else 0
