"""Many pages in one tab, moved between without loading anew: it holds no more than it did. HANDBOOK_PAGES=50."""

import os

from engines import PAGES_KNOWN
from engines.by_playwright import PlaywrightWindow
from test_engines import live, until_live

PAGES = int(os.environ.get("HANDBOOK_PAGES", "16"))
WAY = ("moisture/adjust.html", "moisture/test.html", "lane/feeding.html", "garden/index.html")
GO = """(path) => {
  const links = [...document.querySelectorAll("a[href]")].filter(({ pathname }) => pathname.endsWith(path));
  if (links.length) links[0].click();
  return links.length;
}"""


def go(window, path):
    assert window.run(GO, path), f"no link to {path}"
    window.until("(path) => location.pathname.endsWith(path)", "/" + path)
    until_live(window)
    window.until("() => !handbookPython.calls.size && !document.querySelector('section.calc[data-pending]')")


def until_moving(window):
    """The theme has come, with its list of pages: a link changes the page that stands instead of loading one anew."""
    for turn, path in enumerate(WAY[1:] * 3):
        window.page.mouse.move(300, 300 + turn)
        window.until("() => Boolean(document.querySelector('.search-found ol[hidden]'))")
        window.until(PAGES_KNOWN)
        window.run("() => { globalThis.stays = true; }")
        go(window, path)
        if window.run("() => globalThis.stays"):
            return
    raise AssertionError("every page was loaded anew")


def counted(window, tools, first=None):
    """Nodes and listeners that are still held once rubbish is collected.

    A page that has only now been left may be held by what it is still at work with: where there are many more than at
    `first`, it is looked at again for ten seconds. What is never let go is there then too.
    """
    for _ in range(20):
        for _ in range(3):
            tools.send("HeapProfiler.collectGarbage")
        found = tools.send("Memory.getDOMCounters")
        held = found["nodes"], found["jsEventListeners"]
        if first is None or within(first, held):
            break
        window.page.wait_for_timeout(500)
    return held


def within(first, held):
    return held[0] < 1.5 * first[0] and held[1] < 1.5 * first[1] + 20


def test_a_tab_holds_no_more_after_many_pages(browser, address):
    window = PlaywrightWindow(browser.new_context(viewport={"width": 1300, "height": 900}))
    live(window, address + WAY[0])
    until_moving(window)
    tools = window.context.new_cdp_session(window.page)
    tools.send("HeapProfiler.enable")
    seen = []
    for turn in range(PAGES):
        go(window, WAY[turn % len(WAY)])
        if (turn + 1) % len(WAY) == 0:
            seen.append(counted(window, tools, *seen[:1]))
    assert window.run("() => globalThis.stays"), "a page was loaded anew, and nothing of the ones before is held"
    window.close()
    assert all(within(seen[0], held) for held in seen), seen
