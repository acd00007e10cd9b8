"""A static server on the loopback address that packs what it sends, as a web host does, and counts it; on request as
slow as a phone's network.
"""

import gzip
import mimetypes
import threading
import time
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path

TYPES = {
    ".wasm": "application/wasm",
    ".mjs": "text/javascript",
    ".js": "text/javascript",
    ".json": "application/json",
    ".zip": "application/zip",
}
PACKED = {".html", ".css", ".js", ".mjs", ".json", ".wasm", ".zip", ".svg", ".xml"}


SLICE = 4096  # bytes


class Line:
    """One line that all requests share: bytes a second, and seconds until the first of an answer is under way."""

    def __init__(self, rate, delay):
        self.rate, self.delay, self.lock = rate, delay, threading.Lock()

    def send(self, file, body):
        time.sleep(self.delay)
        for start in range(0, len(body), SLICE):
            part = body[start : start + SLICE]
            with self.lock:
                time.sleep(len(part) / self.rate)
                file.write(part)
                file.flush()


class Server:
    """`with Server(folder) as server:` serves it at server.address; server.sent is the list of (path, bytes). line: how
    slowly it sends, or None.
    """

    def __init__(self, folder, line=None):
        self.sent = []
        self.http = ThreadingHTTPServer(("127.0.0.1", 0), BaseHTTPRequestHandler)
        self.http.daemon_threads = True
        self.address = f"http://127.0.0.1:{self.http.server_port}/"
        bodies = {}
        for path in Path(folder).rglob("*"):
            if path.is_file() and ".disk." not in path.name:
                plain = path.read_bytes()
                if (
                    path.name == "sitemap.xml"
                ):  # the theme moves between pages without loading anew only if they stand in it by address
                    plain = plain.replace(b"<loc>", f"<loc>{self.address}".encode())
                packed = path.suffix in PACKED
                kind = TYPES.get(path.suffix) or mimetypes.guess_type(path.name)[0] or "application/octet-stream"
                bodies["/" + path.relative_to(folder).as_posix()] = (
                    gzip.compress(plain, 9, mtime=0) if packed else plain,
                    packed,
                    kind,
                )
        sent = self.sent

        class Handler(BaseHTTPRequestHandler):
            protocol_version = "HTTP/1.1"
            disable_nagle_algorithm = True  # else each answer waits 40 ms for the browser to confirm its head
            wbufsize = -1

            def do_GET(self):
                path = self.path.split("?")[0]
                path += "index.html" if path.endswith("/") else ""
                body, packed, kind = bodies.get(path, (b"", False, "text/plain"))
                self.send_response(200 if path in bodies else 404)
                self.send_header("Content-Type", kind)
                self.send_header("Content-Length", str(len(body)))
                self.send_header("Cache-Control", "public, max-age=31536000, immutable")
                if packed:
                    self.send_header("Content-Encoding", "gzip")
                self.end_headers()
                sent.append((path, len(body)))
                try:
                    self.wfile.flush()
                    line.send(self.wfile, body) if line else self.wfile.write(body)
                    self.wfile.flush()
                except OSError:
                    pass  # the page was closed meanwhile

            def log_message(self, *arguments):
                pass

        self.http.RequestHandlerClass = Handler

    def __enter__(self):
        threading.Thread(target=self.http.serve_forever, daemon=True).start()
        return self

    def __exit__(self, *problem):
        self.http.shutdown()
        self.http.server_close()
