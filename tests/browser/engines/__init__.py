"""One small face for three browser engines, so that a journey through the handbook is written once.

A `Window` opens addresses, runs JavaScript and takes real keys and clicks. How that reaches the engine differs:
Playwright for Chromium, WebDriver BiDi for a stock Firefox, WebDriver for WebKit as WebKitGTK brings it.
"""

import json
import time

NAMES = {"chromium": "Chromium", "firefox": "Firefox", "webkit": "WebKit"}
STEP = 0.03  # s between two looks at the page
PATIENCE = 60  # s; a slow machine takes its time

PAGES_KNOWN = """() => performance.getEntriesByType("resource").some(
  ({ name, responseEnd }) => name.endsWith("/sitemap.xml") && responseEnd > 0)"""
"""The theme's list of pages has come; until then a link loads its page anew, as in any browser."""

INTO_VIEW = """(selector) =>
  document.querySelector(selector).scrollIntoView({ block: "center", behavior: "instant" })"""
CENTRE = """(selector) => {
  const [{ left, top, width, height }] = document.querySelector(selector).getClientRects();
  return [Math.round(left + width / 2), Math.round(top + height / 2)];
}"""
UNDER_MOUSE = """(selector) => new Promise((done) => setTimeout(done))
  .then(() => Boolean(document.querySelector(selector)?.matches(":hover")))"""
MOVES = 60
"""Tries to bring the mouse over something: the page may just be moving, or the machine be slow to tell it."""


class Missing(Exception):
    """This engine cannot be had on this machine; the message is the reason."""


class Window:
    """One window.

    An engine adds `open`, `load_again`, `evaluate`, `press`, `type`, `move_to`, `press_mouse`, `resize`, `screenshot`
    and `close`.
    """

    script = True
    """Whether the page's own scripts run. Without them nothing can be waited for."""

    def run(self, source, *arguments):
        """What a JavaScript function, also an async one, returns for these arguments, as JSON carries it."""
        waits, wait = ("async ", "await ") if self.script else ("", "")
        call = f"{waits}(text) => JSON.stringify({wait}({source})(...JSON.parse(text)) ?? null)"
        return json.loads(self.evaluate(call, json.dumps(arguments)))

    def until(self, source, *arguments, patience=PATIENCE):
        """Look again and again until the function returns something true; returns that."""
        end = time.monotonic() + patience
        while True:
            try:
                found, fault = self.run(source, *arguments), None
            except Exception as error:  # between two pages there is nobody to ask
                found, fault = None, error
            if found:
                return found
            if time.monotonic() > end:
                raise AssertionError(f"not within {patience} s: {source.strip()} for {arguments}") from fault
            time.sleep(STEP)

    def reload(self):
        """Load the page again; an engine may say that it is done while the old one still stands."""
        self.until("() => (globalThis.old = true)")  # another page may just be on its way
        self.load_again()
        self.until("() => !globalThis.old && document.readyState === 'complete'")

    def click(self, selector):
        """A real click as a person makes it: the mouse is moved until the element is under it, then pressed.

        It moves in two steps: of a move to where the mouse already lies, Firefox and WebKit tell the page nothing.
        """
        for _ in range(MOVES):
            self.until("(selector) => Boolean(document.querySelector(selector))", selector)
            self.run(INTO_VIEW, selector)
            x, y = self.run(CENTRE, selector)
            self.move_to(x - 1, y)
            self.move_to(x, y)
            if self.run(UNDER_MOUSE, selector):
                return self.press_mouse()
        raise AssertionError(f"{selector} does not come under the mouse")

    def beside(self):
        """Another tab that shares what the browser keeps; nothing where an engine shows one window at a time."""

    def complaints(self):
        """What the console said about the page that stands: errors, warnings, refusals of the policy."""
        raise NotImplementedError
