"""Chromium; also Firefox and WebKit where Playwright's own builds can be had."""

from . import Window


class Engine:
    apart = True
    """Each window has a storage of its own."""

    def __init__(self, browser):
        self.browser = browser
        self.version = browser.version

    def window(self, script=True):
        return PlaywrightWindow(
            self.browser.new_context(viewport={"width": 1000, "height": 900}, java_script_enabled=script)
        )

    def close(self):
        """The browser belongs to whoever started it."""


class PlaywrightWindow(Window):
    def __init__(self, context):
        self.context = context
        self.page = context.new_page()
        self.said = []
        self.page.on(
            "console", lambda message: self.said.append(message.text) if message.type in ("error", "warning") else None
        )
        self.page.on("pageerror", lambda error: self.said.append(str(error)))

    def open(self, address):
        self.said.clear()
        self.page.goto(address)

    def load_again(self):
        self.page.reload()

    def evaluate(self, function, text):
        return self.page.evaluate(function, text)

    def press(self, *keys):
        for key in keys:
            self.page.keyboard.press(key)

    def type(self, text):
        self.page.keyboard.type(text)

    def move_to(self, x, y):
        self.page.mouse.move(x, y)

    def press_mouse(self):
        self.page.mouse.down()
        self.page.mouse.up()

    def resize(self, width, height):
        self.page.set_viewport_size({"width": width, "height": height})

    def screenshot(self, path):
        self.page.screenshot(path=path)

    def beside(self):
        return PlaywrightWindow(self.context)

    def complaints(self):
        return self.said

    def close(self):
        self.context.close()
