"""What the tests of the kept copy need: a server that can be switched off, cut short and made to lie, and a second
edition.
"""

import re
import shutil
import socket
import threading
import time
from http.server import ThreadingHTTPServer
from pathlib import PurePosixPath

import finish
import offline as step
import serve_site
import tree

TOLD = """(state) => document.querySelector("[data-copy-state]")?.dataset.copyState === state"""
KEEP = "() => localStorage.setItem('handbook-keep', 'yes')"
LONG = 120  # s, for a whole copy
ON = """(text) => document.querySelector("[data-version]")?.dataset.version === text"""

WAITS_CAN_END = """{
  const wait = setTimeout, end = clearTimeout, long = new Map();
  globalThis.setTimeout = (act, time, ...more) => {
    const clock = wait(act, time, ...more);
    if (time >= 20_000) long.set(clock, act);
    return clock;
  };
  globalThis.clearTimeout = (clock) => { long.delete(clock); end(clock); };
  globalThis.endWaits = () => {
    const ended = [...long];
    for (const [clock, act] of ended) { clearTimeout(clock); act(); }
    return ended.length;
  };
}"""
"""For a page in which `endWaits()` does at once what would be done after twenty seconds and more; says how many it
ended."""


class Server(ThreadingHTTPServer):
    allow_reuse_port = True  # with the socket that holds the port
    request_queue_size = 64


class Host:
    """A server of a folder at one fixed address, under a sub-path if wanted."""

    def __init__(self, folder, under=""):
        self.folder, self.under = folder, under
        self.left = None  # requests until the connection breaks; None: it holds
        self.lies = {}  # path: bytes that are handed out in its place
        self.asked = []  # paths asked for
        self.sent = []  # paths answered with a body
        self.slow = 0.0  # s before each answer
        self.holding = (
            socket.socket()
        )  # the port, also while the server is off: nobody else on the machine gets it then
        self.holding.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEPORT, 1)
        self.holding.bind(("127.0.0.1", 0))
        self.port = self.holding.getsockname()[1]
        self.start()

    @property
    def base(self):
        return f"http://127.0.0.1:{self.port}/{self.under}"

    def start(self):
        host = self

        class Handler(serve_site.Handler):
            def do_GET(self):
                if host.left is not None:
                    host.left -= 1
                    if host.left < 0:
                        self.close_connection = True
                        return None
                asked = self.path.split("?")[0].lstrip("/")
                host.asked.append(asked)
                time.sleep(host.slow)
                body = host.lies.get(asked.removeprefix(host.under), host.lies.get("*"))
                if body is None:
                    return super().do_GET()
                self.send_response(200)
                self.send_header("Content-Type", self.guess_type(asked))
                self.send_header("Content-Length", str(len(body)))
                self.end_headers()
                self.wfile.write(body)
                return None

            def send_response(self, code, message=None):
                if code == 200 and self.command == "GET":
                    host.sent.append(self.path.split("?")[0].lstrip("/"))
                super().send_response(code, message)

            def translate_path(self, path):
                path = path.split("?")[0].split("#")[0].lstrip("/")
                if not path.startswith(host.under):
                    return str(host.folder / "no such file")
                path = path.removeprefix(host.under)
                return str(host.folder.joinpath(*PurePosixPath(path).parts)) + (
                    "/" if path.endswith("/") or not path else ""
                )

        self.server = Server(
            ("127.0.0.1", self.port), lambda *arguments: Handler(*arguments, directory=str(self.folder))
        )
        threading.Thread(target=self.server.serve_forever, daemon=True).start()

    def stop(self):
        """Off: connections are refused."""
        if self.server:
            self.server.shutdown()
            self.server.server_close()
            self.server = None

    def count(self, ending):
        return sum(path.endswith(ending) for path in self.asked)


def version_of(site):
    return re.search(r'data-version="(\w+)"', (site / "index.html").read_text(encoding="utf-8"))[1]


def day_of(site):
    return re.search(r'"day":"([^"]*)"', (site / "sw.js").read_text(encoding="utf-8"))[1]


def another_edition(site, target, version):
    """The site as a later build would leave it: other pages, other library, what starts it, other page script, another
    version.
    """
    shutil.copytree(site, target)
    old_version, day = version_of(site), day_of(site)
    names = {}
    for kind in ("page.*.js", "library.*.bin", "start.*.js"):  # the last one names the library
        path = next((target / "assets" / "runtime").glob(kind))
        head, hashed, ending = path.name.split(".")
        names[path.name] = f"{head}.{version}{hashed[len(version) :]}.{ending}"
        path.rename(path.with_name(names[path.name]))
    page = next((target / "assets" / "runtime").glob("page.*.js"))
    page.write_text(page.read_text(encoding="utf-8") + f"\n// {version}\n", encoding="utf-8")
    texts = {
        path: path.read_text(encoding="utf-8")
        for path in [
            *target.rglob("*.html"),
            *(target / "assets" / "runtime").glob("worker.*.js"),
            *(target / "assets" / "runtime").glob("start.*.js"),
        ]
    }

    def renewed(text):
        for old, new in names.items():
            text = text.replace(old, new)
        return text.replace(old_version, version)

    scripts = {
        script
        for path, text in texts.items()
        if path.suffix == ".html"
        for script in finish.inline_scripts(tree.Page(path.name, text))
    }
    allowed = {finish.hash_of(script): finish.hash_of(renewed(script)) for script in scripts}
    for path, text in texts.items():
        text = renewed(text)
        for old, new in allowed.items():
            text = text.replace(old, new)
        path.write_text(text, encoding="utf-8")
    worker = (target / "sw.js").read_text(encoding="utf-8")
    listed = step.listing(site, old_version, day)
    assert listed in worker
    (target / "sw.js").write_text(worker.replace(listed, step.listing(target, version, "2 May 2031")), encoding="utf-8")
    return target


def visit(engine, base):
    """One visit to one page, until the browser says that it keeps the handbook. Returns the window."""
    window = engine.window()
    window.open(base + "licences.html")
    window.run(KEEP)
    window.open(base + "moisture/adjust.html")
    window.until(TOLD, "ready", patience=LONG)
    return window
