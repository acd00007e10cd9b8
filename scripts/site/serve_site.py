"""Serves site/ on the loopback address, for reading and for trying things out."""

import argparse
import functools
import gzip
import io
import re
import webbrowser
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path

import make

FIRST_PORT = 8017
PACKED = {".html", ".css", ".js", ".mjs", ".json", ".svg", ".wasm", ".webmanifest", ".txt"}
"""What travels packed, as from any host of static files; the rest is packed already."""


@functools.lru_cache(maxsize=512)
def packed(path, changed):
    """A file in gzip; `changed` is when it was written, so that a new build is seen."""
    return gzip.compress(Path(path).read_bytes(), compresslevel=6, mtime=0)


class Handler(SimpleHTTPRequestHandler):
    extensions_map = {
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
            return super().do_GET()
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


def server(folder, port=0):
    """A server of a folder on this machine only; port 0 takes a free one."""
    return ThreadingHTTPServer(("127.0.0.1", port), functools.partial(Handler, directory=str(folder)))


def first_free(folder, port):
    """The wanted port, or the next ones when it is taken."""
    for candidate in range(port, port + 20):
        try:
            return server(folder, candidate)
        except OSError:
            continue
    return server(folder)


def main(arguments=None):
    parser = argparse.ArgumentParser(
        prog="scripts/serve", description="Builds the handbook and serves it on this machine only."
    )
    parser.add_argument(
        "--port", type=int, default=FIRST_PORT, help=f"port (default {FIRST_PORT}, or the next free one)"
    )
    parser.add_argument("--open", action="store_true", help="open it in the browser")
    parser.add_argument(
        "--farm", type=Path, help="build and serve the edition of the farm in this file, in a folder of its own"
    )
    options = parser.parse_args(arguments)
    folder = make.build(make.ROOT / "build" / "farm", farm=options.farm) if options.farm else make.build()
    site = first_free(folder, options.port)
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
