"""The loopback server: static files with the headers the page needs, and nothing else."""

import contextlib
import hashlib
import json
import os
import re
import shutil
import socket
import threading
import urllib.error
import urllib.request
from collections.abc import Callable
from http import HTTPStatus
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from typing import Any
from urllib.parse import unquote, urlsplit

from .places import ROOT

HOST = "127.0.0.1"
# One fixed port, because a browser keeps stored sketches by host and port.
PORT = 8471
PORTS_TRIED = 20
WHO_PATH = "/.steelyard"

CONTENT_SECURITY_POLICY = (
    "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; worker-src 'self'; connect-src 'self'; "
    "style-src 'self'; font-src 'self'; img-src 'self' data: blob:; manifest-src 'self'; "
    "base-uri 'none'; form-action 'none'"
)

# Set here, because the system's own table may lack or misname them, and a wrong one stops the page.
MIME_TYPES = {
    ".html": "text/html; charset=utf-8",
    ".js": "text/javascript; charset=utf-8",
    ".mjs": "text/javascript; charset=utf-8",
    ".css": "text/css; charset=utf-8",
    ".json": "application/json; charset=utf-8",
    ".webmanifest": "application/manifest+json; charset=utf-8",
    ".wasm": "application/wasm",
    ".zip": "application/zip",
    ".woff2": "font/woff2",
    ".svg": "image/svg+xml",
    ".png": "image/png",
    ".ico": "image/x-icon",
    ".txt": "text/plain; charset=utf-8",
}
UNKNOWN_TYPE = "application/octet-stream"

FOR_EVER = "public, max-age=31536000, immutable"
ASK_EVERY_TIME = "no-cache"
_OF_ONE_BUILD = re.compile(r"^v/[0-9a-f]+/")


def start(folder: Path | Callable[[], Path], port: int, host: str = HOST) -> ThreadingHTTPServer:
    """Listen at `port` (0: any free one) and serve `folder`, or the folder that the function names at each request.

    Raises OSError when the port is taken. `shutdown()` and `server_close()` end it.
    """
    current = folder if callable(folder) else lambda: folder
    server = _Server((host, port), type("Handler", (_Handler,), {"current_folder": staticmethod(current)}))
    threading.Thread(target=server.serve_forever, name="server", daemon=True).start()
    return server


def who() -> str:
    """What our server answers at `WHO_PATH`: the same for the same checkout only."""
    return json.dumps({"steelyard": hashlib.sha256(str(ROOT).encode()).hexdigest()[:16]})


def is_ours(port: int) -> bool:
    """Whether the server of this very checkout answers at the port."""
    try:
        opener = urllib.request.build_opener(urllib.request.ProxyHandler({}))
        with opener.open(f"http://{HOST}:{port}{WHO_PATH}", timeout=2) as answer:
            return bool(answer.read().decode() == who())
    except (OSError, ValueError, urllib.error.URLError):
        return False


class _Server(ThreadingHTTPServer):
    daemon_threads = True
    # On Windows reuse would let two servers share a port; elsewhere it only skips the wait after a stop.
    allow_reuse_address = os.name != "nt"

    def __init__(self, *arguments: Any) -> None:
        self._open: set[socket.socket] = set()
        super().__init__(*arguments)

    def process_request(self, request: Any, client_address: Any) -> None:
        self._open.add(request)
        super().process_request(request, client_address)

    def shutdown_request(self, request: Any) -> None:
        self._open.discard(request)
        super().shutdown_request(request)

    def server_close(self) -> None:
        """Stop listening and hang up: a browser keeps connections open and would be answered on them for ever."""
        super().server_close()
        for connection in list(self._open):
            with contextlib.suppress(OSError):
                connection.shutdown(socket.SHUT_RDWR)

    def handle_error(self, request: Any, client_address: Any) -> None:
        """A browser that goes away in the middle of an answer is no event."""


class _Handler(BaseHTTPRequestHandler):
    protocol_version = "HTTP/1.1"
    server_version = "Steelyard"
    sys_version = ""
    current_folder: Callable[[], Path]

    def setup(self) -> None:
        super().setup()
        # Headers and body leave in two writes; without this the second waits for the first one's acknowledgement.
        self.connection.setsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY, 1)

    def do_GET(self) -> None:
        self._answer(with_body=True)

    def do_HEAD(self) -> None:
        self._answer(with_body=False)

    def log_message(self, format: str, *args: Any) -> None:
        """Requests are not the reader's concern."""

    def _answer(self, *, with_body: bool) -> None:
        name = self.headers.get("Host", "").rsplit(":", 1)[0]
        if name not in (HOST, "localhost"):
            # A page elsewhere may point its own name at this machine; only our own two names are answered.
            self._say(HTTPStatus.MISDIRECTED_REQUEST, "Ask for 127.0.0.1.", with_body=with_body)
            return
        path = unquote(urlsplit(self.path).path)
        if path == WHO_PATH:
            self._say(HTTPStatus.OK, who(), with_body=with_body)
            return
        file = self._file(path)
        if file is None:
            self._say(HTTPStatus.NOT_FOUND, f"There is no {path} here.", with_body=with_body)
            return
        inside = path.lstrip("/")
        with file.open("rb") as body:
            self._headers(
                HTTPStatus.OK,
                MIME_TYPES.get(file.suffix, UNKNOWN_TYPE),
                os.fstat(body.fileno()).st_size,
                FOR_EVER if _OF_ONE_BUILD.match(inside) else ASK_EVERY_TIME,
            )
            if with_body:
                shutil.copyfileobj(body, self.wfile, 1 << 18)

    def _file(self, path: str) -> Path | None:
        folder = type(self).current_folder().resolve()
        inside = path.lstrip("/") or "index.html"
        if "\0" in inside or "\\" in inside:
            return None
        file = (folder / inside).resolve()
        return file if file.is_relative_to(folder) and file.is_file() else None

    def _say(self, status: HTTPStatus, sentence: str, *, with_body: bool) -> None:
        data = sentence.encode()
        self._headers(status, MIME_TYPES[".txt"], len(data), ASK_EVERY_TIME)
        if with_body:
            self.wfile.write(data)

    def _headers(self, status: HTTPStatus, mime_type: str, length: int, caching: str) -> None:
        self.send_response(status)
        self.send_header("Content-Type", mime_type)
        self.send_header("Content-Length", str(length))
        self.send_header("Cache-Control", caching)
        self.send_header("Content-Security-Policy", CONTENT_SECURITY_POLICY)
        self.send_header("X-Content-Type-Options", "nosniff")
        self.send_header("Referrer-Policy", "no-referrer")
        self.end_headers()
