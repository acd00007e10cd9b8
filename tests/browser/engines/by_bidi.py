"""A stock Firefox, spoken to in WebDriver BiDi: JSON over the WebSocket that it opens itself, without a driver in
between.
"""

import base64
import contextlib
import json
import re
import shutil
import subprocess
import tempfile
import time
from pathlib import Path

import websocket

from . import Window

KEYS = {
    "Tab": "\ue004",
    "Enter": "\ue007",
    "Escape": "\ue00c",
    "Control": "\ue009",
    "ArrowUp": "\ue013",
    "ArrowDown": "\ue015",
}
PREFERENCES = {
    "browser.cache.disk.enable": False,
    "dom.ipc.processCount": 1,  # one page at a time is open; the machine has other work
    "browser.shell.checkDefaultBrowser": False,
    "datareporting.policy.dataSubmissionEnabled": False,
}
SECONDS = 90


def pressed(keys):
    """Key by key, a combination such as Control+a held together."""
    for combination in keys:
        held = [KEYS.get(key, key) for key in combination.split("+")]
        yield from ({"type": "keyDown", "value": key} for key in held)
        yield from ({"type": "keyUp", "value": key} for key in reversed(held))


class Engine:
    apart = True

    def __init__(self, path, script=True):
        self.path, self.script = path, script
        self.profile = tempfile.mkdtemp(prefix="firefox-")
        lines = [
            f"user_pref({json.dumps(name)}, {json.dumps(value)});\n"
            for name, value in (PREFERENCES | {"javascript.enabled": script}).items()
        ]
        Path(self.profile, "user.js").write_text("".join(lines))
        command = [path, "--headless", "--no-remote", "--profile", self.profile, "--remote-debugging-port=0"]
        self.log = open(Path(self.profile, "said.txt"), "w+")  # as long as the browser runs
        self.process = subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=self.log)
        self.number, self.events = 0, []
        try:
            self.socket = websocket.create_connection(
                self._address() + "/session", suppress_origin=True, timeout=SECONDS
            )
            self.version = self.call("session.new", capabilities={"alwaysMatch": {}})["capabilities"]["browserVersion"]
            self.call("session.subscribe", events=["log.entryAdded"])
        except BaseException:
            self._end()
            raise

    def _address(self):
        end = time.monotonic() + SECONDS
        while time.monotonic() < end and self.process.poll() is None:
            found = re.search(r"BiDi listening on (ws://\S+)", Path(self.log.name).read_text())
            if found:
                return found[1]
            time.sleep(0.05)
        raise OSError(Path(self.log.name).read_text()[-300:])

    def call(self, method, **parameters):
        """One command and its answer; events that come in between are kept."""
        self.number += 1
        self.socket.send(json.dumps({"id": self.number, "method": method, "params": parameters}))
        while True:
            answer = json.loads(self.socket.recv())
            if answer.get("id") != self.number:
                self.events.append(answer)
            elif answer["type"] == "error":
                raise RuntimeError(f"{method}: {answer['error']}: {answer['message']}")
            else:
                return answer["result"]

    def window(self, script=True):
        """Scripts are switched off for a whole Firefox, so a window without them gets one of its own."""
        return BidiWindow(self) if script else BidiWindow(Engine(self.path, script=False), alone=True)

    def close(self):
        with contextlib.suppress(
            websocket.WebSocketException, OSError, RuntimeError
        ):  # it may be gone before it answers
            self.call("session.end")
            self.socket.close()
        self._end()

    def _end(self):
        self.process.terminate()
        try:
            self.process.wait(20)
        except subprocess.TimeoutExpired:
            self.process.kill()
            self.process.wait()
        self.log.close()
        shutil.rmtree(self.profile, ignore_errors=True)


class BidiWindow(Window):
    def __init__(self, engine, alone=False, storage=None):
        self.engine, self.alone, self.script = engine, alone, engine.script
        self.shares = bool(storage)
        self.storage = storage or engine.call("browser.createUserContext")["userContext"]
        self.tab = engine.call("browsingContext.create", type="tab", userContext=self.storage)["context"]
        self.resize(1000, 900)

    def call(self, method, **parameters):
        return self.engine.call(method, context=self.tab, **parameters)

    def open(self, address):
        self._go("browsingContext.navigate", new="#" not in address, url=address)

    def load_again(self):
        self._go("browsingContext.reload")

    def _go(self, method, new=True, **parameters):
        """The browser may come back while the old page stands, or the new one is only half there."""
        self.until("(new_page) => { globalThis.beingLeft = new_page; return true; }", new)
        self.call(method, wait="complete", **parameters)
        self.until("() => !globalThis.beingLeft && document.readyState === 'complete'")

    def evaluate(self, function, text):
        target = {"context": self.tab} | ({} if self.script else {"sandbox": "apart from the page"})
        done = self.engine.call(
            "script.callFunction",
            functionDeclaration=function,
            arguments=[{"type": "string", "value": text}],
            target=target,
            awaitPromise=self.script,
        )
        if done["type"] == "exception":
            raise RuntimeError(done["exceptionDetails"]["text"])
        return done["result"]["value"]

    def act(self, *sources):
        self.call("input.performActions", actions=list(sources))

    def press(self, *keys):
        self.act({"type": "key", "id": "keys", "actions": list(pressed(keys))})

    def type(self, text):
        self.press(*text)

    def act_by_mouse(self, *steps):
        self.act({"type": "pointer", "id": "mouse", "actions": list(steps)})

    def move_to(self, x, y):
        self.act_by_mouse({"type": "pointerMove", "x": x, "y": y})

    def press_mouse(self):
        self.act_by_mouse({"type": "pointerDown", "button": 0}, {"type": "pointerUp", "button": 0})

    def resize(self, width, height):
        self.call("browsingContext.setViewport", viewport={"width": width, "height": height})

    def screenshot(self, path):
        Path(path).write_bytes(base64.b64decode(self.call("browsingContext.captureScreenshot")["data"]))

    def beside(self):
        return BidiWindow(self.engine, storage=self.storage)

    def complaints(self):
        """Of the page that stands now: the one before complains of loads that ended because it was left."""
        page = self.engine.call("script.getRealms", context=self.tab, type="window")["realms"][0]["realm"]
        entries = [event["params"] for event in self.engine.events if event.get("method") == "log.entryAdded"]
        return [
            entry["text"]
            for entry in entries
            if entry["source"]["realm"] == page and entry["level"] in ("error", "warn")
        ]

    def close(self):
        if self.shares:
            self.call("browsingContext.close")
            return
        self.engine.call("browser.removeUserContext", userContext=self.storage)
        if self.alone:
            self.engine.close()
