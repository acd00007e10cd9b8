"""Serves site/ on the loopback address, for reading and for trying things out."""

import argparse
import functools
import gzip
import io
import re
import subprocess
import sys
import threading
import time
import webbrowser
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path

import make

FIRST_PORT = 8017
PACKED = {".html", ".css", ".js", ".mjs", ".json", ".svg", ".wasm", ".webmanifest", ".txt"}
"""What travels packed, as from any host of static files; the rest is packed already."""


@functools.lru_cache(maxsize=512)
def packed(path, changed):  # noqa: ARG001  # a key: when it was written, so that a new build is seen
    """A file in gzip."""
    return gzip.compress(Path(path).read_bytes(), compresslevel=6, mtime=0)


class Handler(SimpleHTTPRequestHandler):
    extensions_map = {  # noqa: RUF012  # of the class that it comes from
        **SimpleHTTPRequestHandler.extensions_map,
        ".wasm": "application/wasm",
        ".mjs": "text/javascript",
        ".js": "text/javascript",
        ".webmanifest": "application/manifest+json",
    }

    def send_head(self):
        path = Path(self.translate_path(self.path))
        if path.is_dir() and self.path.split("?")[0].endswith("/"):
            path = path / "index.html"
        if (
            path.suffix not in PACKED
            or not path.is_file()
            or "gzip" not in self.headers.get("Accept-Encoding", "")
            or "If-Modified-Since" in self.headers
        ):
            return super().send_head()
        body = packed(str(path), path.stat().st_mtime_ns)
        self.send_response(200)
        self.send_header("Content-Type", self.guess_type(path))
        self.send_header("Content-Encoding", "gzip")
        self.send_header("Content-Length", str(len(body)))
        self.send_header("Last-Modified", self.date_time_string(int(path.stat().st_mtime)))
        self.send_header("Vary", "Accept-Encoding")
        self.end_headers()
        return io.BytesIO(body)

    def do_GET(self):
        if self.path.split("?")[0] != "/sitemap.xml":
            super().do_GET()
            return
        # The site does not know where it is served; the sitemap has to, or moving between pages reloads everything.
        with open(f"{self.directory}/sitemap.xml", encoding="utf-8") as file:
            text = re.sub(r"<loc>(?!http)", f"<loc>http://{self.headers.get('Host', 'localhost')}/", file.read())
        body = text.encode()
        self.send_response(200)
        self.send_header("Content-Type", "application/xml")
        self.send_header("Content-Length", str(len(body)))
        self.end_headers()
        self.wfile.write(body)

    def end_headers(self):
        hashed = re.search(r"[.-][0-9a-f]{8,}[.-]", self.path)
        self.send_header("Cache-Control", "public, max-age=31536000, immutable" if hashed else "no-cache")
        super().end_headers()

    def log_message(self, *arguments):
        pass


RELOAD = "/-/reload.js"
CHANGES = "/-/changes"
"""Where a watched page gets the script that loads it anew, and the news of each build."""
RELOADER = f"""new EventSource({CHANGES!r}).onmessage = () => location.reload();
"""


class Watched(Handler):
    """As Handler, but every page asks to be loaded anew after the next build."""

    built = threading.Condition()

    def do_GET(self):
        if self.path == CHANGES:
            self.tell_builds()
        elif self.path == RELOAD:
            self.give(RELOADER.encode(), "text/javascript")
        else:
            super().do_GET()

    def send_head(self):
        path = Path(self.translate_path(self.path))
        if path.is_dir() and self.path.split("?")[0].endswith("/"):
            path = path / "index.html"
        if path.suffix != ".html" or not path.is_file():
            return super().send_head()
        tag = f'<script src="{RELOAD}" defer></script></head>'
        body = path.read_text(encoding="utf-8").replace("</head>", tag, 1).encode()
        self.begin(body, "text/html; charset=utf-8")
        return io.BytesIO(body)

    def begin(self, body, kind):
        self.send_response(200)
        self.send_header("Content-Type", kind)
        self.send_header("Content-Length", str(len(body)))
        self.end_headers()

    def give(self, body, kind):
        self.begin(body, kind)
        self.wfile.write(body)

    def tell_builds(self):
        """Server-sent events: one for each build, and a sign of life in between that finds out who has left."""
        self.send_response(200)
        self.send_header("Content-Type", "text/event-stream")
        self.end_headers()
        try:
            while True:
                with self.built:
                    news = self.built.wait(timeout=15)
                self.wfile.write(b"data: built\n\n" if news else b": waiting\n\n")
                self.wfile.flush()
        except OSError:
            pass


def watch(build):
    """Build again after each change of what the site is made of, one build at a time; a build that fails is told."""
    changed = threading.Event()
    noticing(changed).start()
    while True:
        changed.wait()
        time.sleep(QUIET)  # an editor writes several files, or one in several goes
        changed.clear()
        if build():
            with Watched.built:
                Watched.built.notify_all()


def noticing(changed):
    """An observer, not yet started, that sets `changed` when a file changes that the site is made of."""
    from watchdog.events import FileSystemEventHandler
    from watchdog.observers import Observer

    class Noticed(FileSystemEventHandler):
        def on_any_event(self, event):
            written = event.event_type in {"created", "modified", "moved", "deleted"}
            if written and any(of_the_site(path) for path in (event.src_path, event.dest_path) if path):
                changed.set()

    observer = Observer()
    for folder in {
        (make.ROOT / name).parent if (make.ROOT / name).is_file() else make.ROOT / name for name in make.INPUTS
    }:
        observer.schedule(Noticed(), str(folder), recursive=folder != make.ROOT)
    observer.daemon = True
    return observer


def of_the_site(path):
    """Whether a path is one of those that can change what the site looks like: not what a build itself writes."""
    relative = Path(path).relative_to(make.ROOT)
    known = any(relative.is_relative_to(name) for name in make.INPUTS)
    return known and not set(relative.parts) & make.NOT_INPUTS and relative.suffix != ".pyc"


QUIET = 0.3  # s


def rebuilt(command):
    """Whether a build in a process of its own, which sees changed Python too, went well; its faults are printed."""
    done = subprocess.run(command, cwd=make.ROOT, capture_output=True, text=True, check=False)
    print(done.stdout.strip() if done.returncode == 0 else done.stdout + done.stderr, flush=True)
    return done.returncode == 0


def server(folder, port=0, handler=Handler):
    """A server of a folder on this machine only; port 0 takes a free one."""
    return ThreadingHTTPServer(("127.0.0.1", port), functools.partial(handler, directory=str(folder)))


def first_free(folder, port, handler=Handler):
    """The wanted port, or the next ones when it is taken."""
    for candidate in range(port, port + 20):
        try:
            return server(folder, candidate, handler)
        except OSError:
            continue
    return server(folder, 0, handler)


def main(arguments=None):
    parser = argparse.ArgumentParser(
        prog="scripts/serve", description="Builds the handbook and serves it on this machine only."
    )
    parser.add_argument(
        "--port", type=int, default=FIRST_PORT, help=f"port (default {FIRST_PORT}, or the next free one)"
    )
    parser.add_argument(
        "--watch", action="store_true", help="build again when something changes, and load open pages anew"
    )
    parser.add_argument("--open", action="store_true", help="open it in the browser")
    parser.add_argument(
        "--farm", type=Path, help="build and serve the edition of the farm in this file, in a folder of its own"
    )
    options = parser.parse_args(arguments)
    folder = make.build(make.ROOT / "build" / "farm", farm=options.farm) if options.farm else make.build()
    site = first_free(folder, options.port, Watched if options.watch else Handler)
    if options.watch:
        command = [sys.executable, "scripts/build", "--out", str(folder)]
        command += ["--farm", str(options.farm)] if options.farm else []
        threading.Thread(target=watch, args=(lambda: rebuilt(command),), daemon=True).start()
    address = f"http://127.0.0.1:{site.server_address[1]}/"
    print(f"The handbook is at {address} (Ctrl-C ends it)", flush=True)
    if options.open:
        webbrowser.open(address)
    try:
        site.serve_forever()
    except KeyboardInterrupt:
        print()


if __name__ == "__main__":
    main()
