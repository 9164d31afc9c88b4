"""What our server sends, and what it keeps to itself."""

import http.client
import json
import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from command import server


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    site = tmp_path / "site"
    inside = site / "v" / "0123abcd"
    inside.mkdir(parents=True)
    (site / "index.html").write_text("<!doctype html>", encoding="utf-8")
    (site / "sw.js").write_text("//", encoding="utf-8")
    for name in ("a.js", "a.mjs", "a.css", "a.json", "a.wasm", "a.woff2", "a.zip", "a.txt", "a.unheard-of"):
        (inside / name).write_bytes(b"content")
    (tmp_path / "secret.txt").write_text("secret", encoding="utf-8")
    return site


@pytest.fixture
def connection(folder: Path) -> Iterator[http.client.HTTPConnection]:
    running = server.start(folder, 0)
    opened = http.client.HTTPConnection(server.HOST, running.server_address[1], timeout=5)
    yield opened
    opened.close()
    running.shutdown()
    running.server_close()


def ask(
    connection: http.client.HTTPConnection, path: str, method: str = "GET", **headers: str
) -> tuple[int, http.client.HTTPMessage, bytes]:
    connection.request(method, path, headers=headers)
    answer = connection.getresponse()
    return answer.status, answer.headers, answer.read()


@pytest.mark.parametrize(
    ("name", "mime_type"),
    [
        # HTML standard: modules need a JavaScript type. WebAssembly Web API: application/wasm. RFC 8081: font/woff2.
        ("a.js", "text/javascript; charset=utf-8"),
        ("a.mjs", "text/javascript; charset=utf-8"),
        ("a.css", "text/css; charset=utf-8"),
        ("a.json", "application/json; charset=utf-8"),
        ("a.wasm", "application/wasm"),
        ("a.woff2", "font/woff2"),
        ("a.zip", "application/zip"),
        ("a.txt", "text/plain; charset=utf-8"),
        ("a.unheard-of", "application/octet-stream"),
    ],
)
def test_types_are_set_without_asking_the_system(
    connection: http.client.HTTPConnection, name: str, mime_type: str
) -> None:
    status, headers, body = ask(connection, f"/v/0123abcd/{name}")
    assert (status, headers["Content-Type"], body) == (200, mime_type, b"content")


def test_files_of_a_build_are_kept_for_ever_and_what_names_the_build_is_asked_for_every_time(
    connection: http.client.HTTPConnection,
) -> None:
    assert ask(connection, "/v/0123abcd/a.js")[1]["Cache-Control"] == "public, max-age=31536000, immutable"
    for path in ("/", "/index.html", "/sw.js", "/?offline=1"):
        status, headers, _ = ask(connection, path)
        assert (status, headers["Cache-Control"]) == (200, "no-cache")


@pytest.mark.parametrize("path", ["/", "/v/0123abcd/a.js", "/nothing-here"])
def test_every_answer_carries_the_policy_and_forbids_guessing_types(
    connection: http.client.HTTPConnection, path: str
) -> None:
    _, headers, _ = ask(connection, path)
    assert headers["Content-Security-Policy"] == server.CONTENT_SECURITY_POLICY
    assert headers["X-Content-Type-Options"] == "nosniff"


def test_the_policy_allows_compiled_python_and_no_inline_or_evaluated_code() -> None:
    rules = dict(rule.strip().split(" ", 1) for rule in server.CONTENT_SECURITY_POLICY.split(";"))
    assert rules["default-src"] == "'none'"
    assert rules["script-src"] == "'self' 'wasm-unsafe-eval'"
    assert "unsafe-inline" not in server.CONTENT_SECURITY_POLICY
    assert "http" not in server.CONTENT_SECURITY_POLICY


def test_the_page_carries_the_same_policy_for_hosts_without_headers(root: Path) -> None:
    page = (root / "web" / "index.html").read_text(encoding="utf-8")
    meta = re.search(r'<meta\s+http-equiv="Content-Security-Policy"\s+content="([^"]*)"', page)
    assert meta
    assert " ".join(meta.group(1).split()).rstrip(";") == server.CONTENT_SECURITY_POLICY


@pytest.mark.parametrize(
    "path", ["/../secret.txt", "/%2e%2e/secret.txt", "/v/../../secret.txt", "/..%2fsecret.txt", "/v"]
)
def test_nothing_outside_the_site_and_no_folder_is_shown(connection: http.client.HTTPConnection, path: str) -> None:
    status, _, body = ask(connection, path)
    assert status == 404
    assert body.startswith(b"There is no ")


def test_a_page_that_points_its_own_name_at_this_machine_gets_nothing(connection: http.client.HTTPConnection) -> None:
    assert ask(connection, "/", Host="elsewhere.example:80")[0] == 421
    assert ask(connection, "/", Host=f"localhost:{connection.port}")[0] == 200


def test_head_gives_the_headers_alone_and_other_methods_nothing(connection: http.client.HTTPConnection) -> None:
    status, headers, body = ask(connection, "/v/0123abcd/a.js", "HEAD")
    assert (status, headers["Content-Length"], body) == (200, "7", b"")
    assert ask(connection, "/", "POST")[0] == 501


def test_only_this_machine_can_reach_it(folder: Path) -> None:
    running = server.start(folder, 0)
    try:
        assert running.server_address[0] == "127.0.0.1"
    finally:
        running.shutdown()
        running.server_close()


def test_it_tells_its_own_checkout_from_another_program(folder: Path, connection: http.client.HTTPConnection) -> None:
    assert server.is_ours(connection.port)
    assert list(json.loads(ask(connection, server.WHO_PATH)[2])) == ["steelyard"]
    running = server.start(folder, 0)
    port = running.server_address[1]
    running.shutdown()
    running.server_close()
    assert not server.is_ours(port)
