"""WebKit as WebKitGTK brings it: MiniBrowser, spoken to through WebKitWebDriver, on a display that nobody sees."""

import contextlib
import os
import subprocess

from selenium import webdriver
from selenium.common.exceptions import WebDriverException
from selenium.webdriver.common.actions.action_builder import ActionBuilder
from selenium.webdriver.common.keys import Keys
from selenium.webdriver.support.ui import WebDriverWait
from selenium.webdriver.webkitgtk.service import Service

from . import PATIENCE, STEP, Window

KEYS = {
    "Tab": Keys.TAB,
    "Enter": Keys.ENTER,
    "Escape": Keys.ESCAPE,
    "Control": Keys.CONTROL,
    "ArrowUp": Keys.ARROW_UP,
    "ArrowDown": Keys.ARROW_DOWN,
}

# This engine tells its console to nobody. The page listens itself from the moment it has loaded; refusals of the policy
# are told from the start, because the observer also gets what was seen before.
LISTEN = """() => {
  if (globalThis.complaintsHeard) return;
  const heard = (globalThis.complaintsHeard = []);
  addEventListener("error", ({ message, target }) =>
      heard.push(message ?? `not loaded: ${target.src ?? target.href}`), true);
  addEventListener("unhandledrejection", ({ reason }) => heard.push(String(reason)));
  for (const level of ["error", "warn"]) {
    const tell = console[level].bind(console);
    console[level] = (...words) => { heard.push(words.join(" ")); tell(...words); };
  }
  new ReportingObserver((reports) => heard.push(...reports.map(({ body }) => `refused: ${JSON.stringify(body)}`)),
      { buffered: true, types: ["csp-violation"] }).observe();
}"""


class Display:
    """A screen in memory."""

    def __init__(self):
        reading, writing = os.pipe()
        command = ["Xvfb", "-displayfd", str(writing), "-screen", "0", "1600x1200x24", "-nolisten", "tcp"]
        self.process = subprocess.Popen(
            command, pass_fds=[writing], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL
        )
        os.close(writing)
        with os.fdopen(reading) as told:
            self.name = f":{told.readline().strip()}"

    def close(self):
        self.process.terminate()
        self.process.wait()


class Engine:
    apart = False
    """One window at a time, one storage: whoever wants a fresh start clears it."""

    def __init__(self, driver, browser, script=True):
        self.paths = driver, browser
        self.display = Display()
        try:
            self.driver = self._start(script)
        except BaseException:
            self.display.close()
            raise
        self.version = self.driver.capabilities["browserVersion"]
        self.driver.set_script_timeout(120)

    def _start(self, script):
        driver, browser = self.paths
        options = webdriver.WebKitGTKOptions()
        options.binary_location = browser
        options.add_argument("--automation")
        options.add_argument(f"--enable-javascript={str(script).lower()}")
        return webdriver.WebKitGTK(
            options=options, service=Service(driver, env={**os.environ, "DISPLAY": self.display.name})
        )

    def window(self, script=True):
        if not script:
            other = Engine(*self.paths, script=False)
            return WebDriverWindow(other.driver, other)
        return WebDriverWindow(self.driver)

    def close(self):
        with contextlib.suppress(WebDriverException, OSError):  # it may be gone before it answers
            self.driver.quit()
        self.display.close()


class WebDriverWindow(Window):
    def __init__(self, driver, engine=None):
        self.driver, self.engine = driver, engine
        self.resize(1000, 900)

    def open(self, address):
        self._go(lambda: self.driver.get(address))

    def load_again(self):
        self._go(self.driver.refresh)

    def _go(self, leave):
        """The driver may come back while the old page still stands; that one is marked, and the mark must be gone."""
        self._once("return globalThis.beingLeft = true")
        leave()
        self._once("return !globalThis.beingLeft && document.readyState === 'complete'")
        self._listen()

    def _once(self, source):
        """When a script returns something true: between two pages there is nobody to ask."""
        waiting = WebDriverWait(self.driver, PATIENCE, STEP, ignored_exceptions=[WebDriverException])
        waiting.until(lambda driver: driver.execute_script(source))

    def _listen(self):
        if not self.engine:
            self.until(f"() => {{ ({LISTEN})(); return true; }}")

    def evaluate(self, function, text):
        done = self.driver.execute_async_script(
            f"const [text, done] = arguments; ({function})(text).then((value) => done([value]), (error) => done([null,"
            " String(error)]));",
            text,
        )
        if len(done) > 1:
            raise RuntimeError(done[1])
        return done[0]

    def press(self, *keys):
        actions = ActionBuilder(self.driver)
        for combination in keys:
            held = [KEYS.get(key, key) for key in combination.split("+")]
            for key in held:
                actions.key_action.key_down(key)
            for key in reversed(held):
                actions.key_action.key_up(key)
        actions.perform()

    def type(self, text):
        self.press(*text)

    def move_to(self, x, y):
        actions = ActionBuilder(self.driver)
        actions.pointer_action.move_to_location(x, y)
        actions.perform()

    def press_mouse(self):
        actions = ActionBuilder(self.driver)
        actions.pointer_action.click()
        actions.perform()

    def resize(self, width, height):
        """The inside of the window; its own bars come on top."""
        for _ in range(2):
            outer = self.driver.get_window_size()
            inner = self.driver.execute_script("return [innerWidth, innerHeight]")
            if inner == [width, height]:
                return
            self.driver.set_window_size(outer["width"] + width - inner[0], outer["height"] + height - inner[1])

    def screenshot(self, path):
        self.driver.save_screenshot(str(path))

    def complaints(self):
        self._listen()  # a page that was reached by a link has nobody who listens yet
        return self.run("() => new Promise((done) => setTimeout(() => done(globalThis.complaintsHeard), 50))")

    def close(self):
        if self.engine:
            self.engine.close()
