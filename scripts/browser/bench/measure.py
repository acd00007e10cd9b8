"""What scripts/bench measures: everything in one run and one browser, told as ratios, since absolute times drift.

plain    the newest Pyodide, loaded as its documentation shows: from navigation to the first Python answer. This is
1.00.
"""

import argparse
import json
import os
import platform
import re
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

import bootstrap
from playwright.sync_api import sync_playwright
from server import Line, Server

HERE = Path(__file__).resolve().parent
TABLE = bootstrap.ROOT / "tests" / "bench.md"
EDITS = 9
PHONE = {"slower": 4, "rate": 1.6e6 / 8, "delay": 0.15}
"""A phone that is not new on a network that is not good: times slower, bytes a second, seconds to the first byte."""
PLAIN = """<!doctype html><meta charset="utf-8"><title>plain</title><script src="pyodide.js"></script><script>
async function main() {
  let pyodide = await loadPyodide();
  document.body.append(pyodide.runPython("import sys; sys.version"));
  performance.mark("calc:live");
  document.body.dataset.state = "live";
}
main();
</script><body>"""
LIVE = "[data-state=live]"
MARK = "performance.getEntriesByName('calc:live')[0].startTime"

EDIT = """async ([name, text]) => {
  const section = document.querySelector("section.calc"), id = section.dataset.calculator;
  const field = section.querySelector(`.calc-form [name="${name}"]`);
  await new Promise((resolve) => setTimeout(resolve, 150)); // a reader takes longer; what is done when there is time is done by then
  const seen = performance.getEntriesByName(`calc:answered:${id}`).length;
  field.value = text;
  const start = performance.now();
  field.dispatchEvent(new Event("change", { bubbles: true }));
  for (let waited = 0; waited < 400; waited++) {
    await new Promise((resolve) => setTimeout(resolve, 5));
    const marks = performance.getEntriesByName(`calc:answered:${id}`);
    if (marks.length > seen) return marks.at(-1).startTime - start;
  }
  return null;
}"""
# A worker of its own, so that only Python and the message are timed, not the drawing.
CALLS = """async ([worker, calls, times]) => {
  const python = new Worker(worker);
  let hear = () => {};
  python.addEventListener("message", ({ data }) => data.arrived || hear(data));
  const next = () => new Promise((resolve) => { hear = resolve; });
  python.postMessage({ start: true });
  await next();
  const found = [];
  for (const [call, args] of calls) {
    const took = [];
    for (let round = 0; round < times; round++) {
      const start = performance.now(), answer = next();
      python.postMessage({ id: round, call, args });
      const { error } = await answer;
      if (error) throw new Error(error);
      took.push(performance.now() - start);
    }
    found.push(took.slice(1).sort((a, b) => a - b)[(times - 1) >> 1]);
  }
  python.terminate();
  return found;
}"""
SECOND = """async (href) => {
  const start = performance.now();
  [...document.querySelectorAll("a")].find((link) => link.href === href).click();
  for (let waited = 0; waited < 2500; waited++) {
    await new Promise((resolve) => setTimeout(resolve, 2));
    const section = document.querySelector("section.calc");
    const mark = location.href === href && performance.getEntriesByName(`calc:answered:${section?.dataset.calculator}`).at(-1);
    if (mark && mark.startTime > start) return mark.startTime - start;
  }
  return null;
}"""


POINT = """(href) => {
  const link = [...document.querySelectorAll("a")].find((link) => link.href === href);
  for (const kind of ["pointerover", "mouseover", "mouseenter"]) link.dispatchEvent(new Event(kind, { bubbles: true }));
}"""


def plain_site(folder, node):
    """The anchor: files of the package as they are, and a page as its documentation shows it."""
    if not (HERE / "node_modules" / "pyodide").is_dir():
        bootstrap.say("fetching the Pyodide to compare with (once)")
        bootstrap.run(
            [*bootstrap.npm(node), "ci", "--ignore-scripts", "--no-audit", "--no-fund", "--loglevel=error"], cwd=HERE
        )
    package = HERE / "node_modules" / "pyodide"
    for path in package.iterdir():
        if path.suffix in {".js", ".mjs", ".wasm", ".zip", ".json"}:
            (folder / path.name).symlink_to(path)
    (folder / "index.html").write_text(PLAIN)
    return json.loads((package / "package.json").read_text())["version"]


def pages_with_calculators(site):
    """{calculator: page} of the first page that holds each as its first calculator."""
    found = {}
    for path in sorted(site.rglob("*.html")):
        ids = re.findall(r'<section class="calc"[^>]*data-calculator="([^"]+)"', path.read_text(encoding="utf-8"))
        if ids:
            found.setdefault(ids[0], path.relative_to(site).as_posix())
    return found


def processor_time():
    """Seconds of processor time of all that this program has started, browsers and what they start; 0 where nobody says."""
    parents, spent = {}, {}
    for path in Path("/proc").glob("[0-9]*/stat"):
        try:
            fields = path.read_text().rpartition(")")[2].split()
        except OSError:
            continue  # it has ended
        parents[int(path.parent.name)] = int(fields[1])
        spent[int(path.parent.name)] = sum(map(int, fields[11:13]))
    ours = {os.getpid()}
    while more := {pid for pid, parent in parents.items() if parent in ours} - ours:
        ours |= more
    return sum(spent.get(pid, 0) for pid in ours - {os.getpid()}) / os.sysconf("SC_CLK_TCK")


def until_live(browser, address, slower=1):
    """(milliseconds from navigation to the first live answer, paths asked for after it, milliseconds of processor time
    until then), in a browser that has nothing cached. slower: times that a page's processor is slowed.
    """
    context = browser.new_context()
    page = context.new_page()
    if slower > 1:
        context.new_cdp_session(page).send("Emulation.setCPUThrottlingRate", {"rate": slower})
    before = processor_time()
    page.goto(address, wait_until="commit")
    page.wait_for_selector(f"{LIVE}", state="attached", timeout=120_000)
    used = 1000 * (processor_time() - before)
    took = page.evaluate(MARK)
    page.wait_for_timeout(800)  # what the page asks for after its answer is asked for by then, and is not counted
    late = page.evaluate(
        "(live) => performance.getEntriesByType('resource').filter((one) => one.startTime >= live).map((one) => new"
        " URL(one.name).pathname)",
        took,
    )
    context.close()
    return took, set(late), used


def return_visit(browser, address, rounds):
    """Median milliseconds from navigation to the first live answer in a browser that was here before."""
    context = browser.new_context()
    page = context.new_page()
    took = []
    for _ in range(rounds + 1):
        page.goto("about:blank")
        page.goto(address, wait_until="commit")
        page.wait_for_selector(f"{LIVE}", state="attached", timeout=60_000)
        took.append(page.evaluate(MARK))
        page.wait_for_timeout(2000)
    context.close()
    return statistics.median(took[1:])


def second_page(browser, address, first, others, rounds):
    """Median milliseconds from a click on a link to the first live answer of another page, each in a browser that comes
    from `first`.
    """
    took = []
    for second in [name for name in others if name.endswith("index.html") and name != first][:rounds]:
        context = browser.new_context()
        page = context.new_page()
        page.goto(address + first)
        page.wait_for_selector(f"section.calc{LIVE}", timeout=60_000)
        page.mouse.move(200, 200)
        page.wait_for_timeout(3000)  # nobody reads a page in less; what the page does meanwhile is done by then
        page.evaluate(POINT, address + second)
        page.wait_for_timeout(150)  # from pointing at a link to pressing it
        took.append(page.evaluate(SECOND, address + second))
        context.close()
    return statistics.median(one for one in took if one is not None)


def first_number(calculator):
    """(name, two texts) of an input to edit, or None."""
    import calc

    entry = calc.find(calculator)
    for name, item in calc.describe(calculator)["inputs"].items():
        value = entry.defaults[name]
        if item["kind"] == "number" and value and item["low"] < value * 0.97:
            return name, [
                f"{value * share:.6g} {'' if item['unit'] == '1' else item['unit']}".strip()
                for share in (0.99, 0.98, 0.97)
            ]
    return None


def edits(page, calculator):
    """Median milliseconds of an edit, from the finished field to the drawn answer; None where nothing can be edited."""
    chosen = first_number(calculator)
    if not chosen:
        return None
    name, texts = chosen
    took = [page.evaluate(EDIT, [name, texts[number % len(texts)]]) for number in range(EDITS)]
    took = [one for one in took if one is not None]
    return statistics.median(took) if len(took) > EDITS // 2 else None


def in_cpython(calls, times):
    """The same calls here: milliseconds each, median."""
    from calc.page import respond

    found = []
    for call, args in calls:
        took = []
        for _ in range(times):
            start = time.perf_counter()
            respond(call, args)
            took.append(1000 * (time.perf_counter() - start))
        found.append(statistics.median(took[1:]))
    return found


def measure(site, rounds):
    node = bootstrap.node_packages()
    pages = pages_with_calculators(site)
    first = "moisture.adjust" if "moisture.adjust" in pages else next(iter(pages))
    chromium = bootstrap.chromium()
    results = {}
    with tempfile.TemporaryDirectory() as folder:
        results["build"] = build_times(Path(folder))
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        results["plain version"] = plain_site(Path(folder), node)
        browser = playwright.chromium.launch(executable_path=chromium, args=["--no-sandbox"])
        results["browser"] = f"Chromium {browser.version}"
        with Server(folder) as plain, Server(site) as ours:
            times = {"plain": [], "http": [], "disk": []}
            processor = {name: [] for name in times}
            for number in range(rounds + 1):  # the first round warms the machine and does not count
                for name, address in (
                    ("plain", plain.address),
                    ("http", ours.address + pages[first]),
                    ("disk", f"{site.as_uri()}/{pages[first]}"),
                ):
                    ours.sent.clear()
                    plain.sent.clear()
                    took, late, used = until_live(browser, address)
                    if number:
                        times[name].append(took)
                        processor[name].append(used)
                    if name == "http":
                        needed = [(path, size) for path, size in ours.sent if path not in late]
                        results["bytes"] = sum(size for _, size in needed)
                        results["bytes by file"] = sorted(needed, key=lambda pair: -pair[1])
                    if name == "plain":
                        results["plain bytes"] = sum(size for _, size in plain.sent)
            results |= {name: statistics.median(found) for name, found in times.items()}
            results["processor"] = {name: statistics.median(found) for name, found in processor.items()}
            results["return"] = return_visit(browser, ours.address + pages[first], rounds)
            with Server(site, Line(PHONE["rate"], PHONE["delay"])) as slow:
                took = [until_live(browser, slow.address + pages[first], PHONE["slower"])[0] for _ in range(3)]
            results["phone"] = statistics.median(took)

            context = browser.new_context()
            page = context.new_page()
            results["edits"] = {}
            for calculator, where in pages.items():
                page.goto(ours.address + where)
                page.wait_for_selector(f"section.calc{LIVE}", timeout=60_000)
                results["edits"][calculator] = edits(page, calculator)

            results["second page"] = second_page(browser, ours.address, pages[first], pages.values(), rounds)

            same = {"values": {}, "units": "us", "currency": "$"}
            answers = [("answer", json.dumps(same | {"calculator": calculator})) for calculator in pages]
            explored = [
                (
                    "explore",
                    json.dumps(
                        same | {"calculator": calculator, "explore": "range", "output": main_output(calculator)}
                    ),
                )
                for calculator in pages
            ]
            page.goto(ours.address + pages[first])
            runtime = json.loads(page.locator("script[data-runtime]").get_attribute("data-runtime"))
            worker = page.evaluate(
                "(name) => new URL(name, document.querySelector('script[data-runtime]').src).href", runtime["start"]
            )
            in_page, here = page.evaluate(CALLS, [worker, answers, 6]), in_cpython(answers, 6)
            results["against CPython"] = {calculator: (a, b) for calculator, a, b in zip(pages, in_page, here)}
            results["range"] = dict(zip(pages, page.evaluate(CALLS, [worker, explored, 2])))
        browser.close()
    return results


def build_times(folder):
    """(seconds of a whole build, seconds of one after a change in a chapter, seconds of a plain theme build of the same
    Markdown,
    milliseconds that a calculator adds to the first)."""
    import yaml

    from calc import calculators
    from calc.page import block

    class Plain(yaml.SafeLoader):
        """Reads mkdocs.yml without what our own tags name."""

    Plain.add_multi_constructor("tag:yaml.org,2002:python/", lambda *_: None)
    config = yaml.load((bootstrap.ROOT / "mkdocs.yml").read_text(encoding="utf-8"), Plain)  # noqa: S506  # a SafeLoader
    config["docs_dir"] = str(bootstrap.ROOT / config["docs_dir"])
    del config["theme"]["custom_dir"]
    config["markdown_extensions"] = [
        "pymdownx.superfences" if isinstance(one, dict) and "pymdownx.superfences" in one else one
        for one in config["markdown_extensions"]
        if not (isinstance(one, str) and (bootstrap.ROOT / "scripts" / "site" / f"{one}.py").exists())  # ours
    ]
    plain = folder / "mkdocs.yml"
    plain.write_text(yaml.safe_dump(config, sort_keys=False), encoding="utf-8")
    build = [sys.executable, bootstrap.ROOT / "scripts" / "build", "--out", folder / "whole"]
    whole = seconds([*build, "--force"])
    again = seconds(build, lambda: shutil.rmtree(folder / "whole"))
    theme = seconds(
        [sys.executable, "-m", "mkdocs", "build", "--quiet", "--config-file", plain, "--site-dir", folder / "plain"]
    )
    start = time.perf_counter()
    for calculator in calculators():
        block(calculator)
    return whole, again, theme, 1000 * (time.perf_counter() - start) / len(calculators())


def seconds(command, before=lambda: None):
    """How long a command takes, the better of two."""
    took = []
    for _ in range(2):
        before()
        start = time.perf_counter()
        subprocess.run(command, check=True, capture_output=True, env={**os.environ, "NO_MKDOCS_2_WARNING": "1"})
        took.append(time.perf_counter() - start)
    return min(took)


def main_output(calculator):
    import calc

    outputs = calc.find(calculator).outputs
    return next(
        (name for name, output in outputs.items() if output.main and output.unit is not None), next(iter(outputs))
    )


def table(results):
    """The figures as Markdown."""
    plain = results["plain"]
    known = [took for took in results["edits"].values() if took is not None]
    ratios = [a / b for a, b in results["against CPython"].values()]
    whole, again, theme, each = results["build"]
    rows = [
        (
            "Plain Pyodide, navigation to first answer",
            f"{plain:.0f} ms, {results['plain bytes'] / 1e6:.2f} MB",
            "1.00",
            "",
        ),
        (
            "Navigation to first live answer, http",
            f"{results['http']:.0f} ms",
            f"{results['http'] / plain:.2f}",
            "0.20",
        ),
        (
            "Navigation to first live answer, from disk",
            f"{results['disk']:.0f} ms",
            f"{results['disk'] / plain:.2f}",
            "0.25",
        ),
        (
            "Processor time to the first live answer, http",
            f"{results['processor']['http']:.0f} ms of {results['processor']['plain']:.0f} ms",
            f"{results['processor']['http'] / max(1, results['processor']['plain']):.2f}",
            "0.30",
        ),
        (
            "The same page on a second visit, http",
            f"{results['return']:.0f} ms",
            f"{results['return'] / plain:.2f}",
            "half the first",
        ),
        (
            "A simulated phone (4× slower, 1.6 Mbit/s, 150 ms), http",
            f"{results['phone'] / 1000:.1f} s",
            "",
            "13.7 s",
        ),
        ("Packed bytes to the first live answer, all of the page", f"{results['bytes'] / 1e6:.2f} MB", "", "3.0 MB"),
        ("An edit answered and drawn, median of calculators", f"{statistics.median(known):.1f} ms", "", "12 ms"),
        (
            "The slowest calculator",
            f"{max(known):.1f} ms ({max(results['edits'], key=lambda name: results['edits'][name] or 0)})",
            "",
            "60 ms",
        ),
        (
            "Range by sampling, median of calculators",
            f"{statistics.median(results['range'].values()):.0f} ms",
            "",
            "100 ms",
        ),
        ("Second page, same worker", f"{results['second page']:.0f} ms", "", "50 ms"),
        ("Answer in the page against CPython, median", "", f"{statistics.median(ratios):.1f}", "4"),
        (
            "Whole build against a plain theme build of the same Markdown",
            f"{whole:.1f} s and {theme:.1f} s",
            f"{whole / theme:.1f}",
            "3",
        ),
        ("The same after a change in a chapter, nothing in the code", f"{again:.1f} s", f"{again / theme:.1f}", "3"),
        ("What one more calculator adds to a build, before its figures", f"{each:.0f} ms", "", ""),
    ]
    lines = [
        "| What | Measured | Against plain | Goal |",
        "| --- | --- | --- | --- |",
        *(f"| {' | '.join(row)} |" for row in rows),
    ]
    lines += [
        "",
        "| Calculator | Edit [ms] | Answer in Python [ms] | CPython [ms] | Range [ms] |",
        "| --- | --- | --- | --- | --- |",
    ]
    for calculator, took in results["edits"].items():
        a, b = results["against CPython"][calculator]
        lines.append(
            f"| {calculator} | {'–' if took is None else f'{took:.1f}'} | {a:.1f} | {b:.1f} |"
            f" {results['range'][calculator]:.0f} |"
        )
    lines += [
        "",
        "| Largest files | packed [kB] |",
        "| --- | --- |",
        *(
            f"| {re.sub(r'[.][0-9a-f]{8,}', '', name.rsplit('/', 1)[-1])} | {size / 1e3:.0f} |"
            for name, size in results["bytes by file"][:8]
        ),
    ]
    return "\n".join(lines)


MISSED = """## Where a goal is not met

Missed: first live answer, served (0.36, goal 0.20) and from disk (0.37, goal 0.25), its processor time (0.60, goal 0.30), its bytes
(3.95 MB, goal 3.0), the simulated phone (20.6 s, goal 13.7), an edit (20 ms, goal 12; the slowest 75 ms, goal 60), the second page
(98 ms, goal 50) and the build.

- **First live answer.** Python starts from an image of its memory, made at build, with machine code beside it. Of what has to come before
  the answer, two thirds are the image and a quarter is machine code; the page, its styles and faces share the rest. The image grew with
  the chapters on the whole farm, which a first page does not need. Not taken yet: late chapters as files of their own (about 350 kB
  less), machine code packed with zstd (about 200 kB less), and both reach neither goal alone. A phone waits for these bytes: at 1.6 Mbit/s
  they are its 20 seconds.
- **Pyodide's next line (314).** Tried in the same way and not taken: it is larger (9.6 MB against 8.7 unpacked), keeps its memory to itself and
  starts by a module script, which a copy opened from disk may not have. It stays the one that is compared with.
- **An edit.** The drawing of figures and tables in the page takes more than Python. The first lane, with its plan, section, cut list and
  proposal, is the slowest.
- **Second page.** The worker stays; the theme fetches, parses and swaps the page in half of the time, the answer comes when the new page has
  been drawn. Fetching ahead by the theme is refused by the page's own security policy, which allows nothing that is not named.
- **A prepared table for drags** while a phone still waits for bytes was left out: it would show a figure that no run has given, for the few
  seconds in which the prepared answer stands already.
- **Build.** A plain theme build draws no figure, answers no calculator and makes no runtime. The image and the library are kept and made
  anew only when their sources change; a change of text still draws every page, since every page is checked against every other.
- **Ranges on the farm's pages.** Drawing a range for stock, money or the week runs the whole farm for each draw: it shows how far it has
  come and can be stopped.
"""


def main():
    parser = argparse.ArgumentParser(prog="scripts/bench", description=__doc__.split("\n")[0])
    parser.add_argument("--rounds", type=int, default=7, help="rounds of plain, http and disk (default 7)")
    parser.add_argument("--site", type=Path, help="a built site (default: build it)")
    parser.add_argument("--write", action="store_true", help=f"write {TABLE.relative_to(bootstrap.ROOT)}")
    parser.add_argument(
        "--farm", action="store_true", help="only how a farm of full size answers, against the demo farm"
    )
    options = parser.parse_args()
    sys.path[:0] = [str(bootstrap.ROOT), str(bootstrap.ROOT / "scripts" / "site")]
    if options.farm:
        import sizes

        print(sizes.table())
        return
    if options.site:
        site = options.site.resolve()
    else:
        import make

        site = Path(make.build()).resolve()
    results = measure(site, options.rounds)
    ours = json.loads((bootstrap.BROWSER / "package.json").read_text())["dependencies"]["pyodide"]
    commit = subprocess.run(
        ["git", "rev-parse", "--short", "HEAD"], cwd=bootstrap.ROOT, capture_output=True, text=True, check=False
    ).stdout.strip()
    made = (
        f"Measured by `scripts/bench` ({options.rounds} rounds, medians) on {time.strftime('%Y-%m-%d', time.gmtime())},"
        f" commit {commit}: {results['browser']}, {platform.system()} {platform.machine()}, {os.cpu_count()} cores,"
        f" CPython {platform.python_version()}; Pyodide {ours} against plain {results['plain version']}.\nTimes drift"
        " from run to run; the ratios are what counts."
    )
    print(f"{made}\n\n{table(results)}")
    if options.write:
        TABLE.write_text(f"# How fast the handbook is\n\n{made}\n\n{table(results)}\n\n{MISSED}", encoding="utf-8")


if __name__ == "__main__":
    main()
