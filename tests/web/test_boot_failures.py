"""When the engine cannot start, the page says what is wrong and what to do."""

import shutil
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from command import server
from playwright.sync_api import BrowserContext, Page

START = """async ([url, options]) => {
  const { Engine } = await import(url);
  const engine = new Engine({ plainOnly: true, ...options });
  return new Promise((resolve) => {
    engine.addEventListener("failed", ({ detail }) => resolve(detail));
    engine.addEventListener("ready", () => resolve("ready"));
    engine.start();
  });
}"""

Attempt = Callable[..., Any]


@pytest.fixture
def folder(built_site: Path, tmp_path: Path) -> Path:
    """A copy of the site that a test may damage."""
    return Path(shutil.copytree(built_site, tmp_path / "site"))


@pytest.fixture
def served(folder: Path) -> Iterator[server.ThreadingHTTPServer]:
    running = server.start(folder, 0)
    yield running
    running.shutdown()
    running.server_close()


@pytest.fixture
def attempt(served: server.ThreadingHTTPServer, context: BrowserContext, folder: Path) -> Attempt:
    """Starts the engine on a page of the served copy: "ready", or {message, hint}."""
    build = next((folder / "v").iterdir()).name
    url = f"http://{server.HOST}:{served.server_address[1]}/v/{build}/"

    def start(prepare: Callable[[Page], None] = lambda page: None, **options: Any) -> Any:
        page = context.new_page()
        page.goto(f"{url}python/LICENCES.txt")
        prepare(page)
        return page.evaluate(START, [f"{url}app/engine/client.js", options])

    return start


def inside(folder: Path, name: str) -> Path:
    return next((folder / "v").iterdir()) / name


def test_the_undamaged_copy_starts(attempt: Attempt) -> None:
    assert attempt() == "ready"


def test_a_policy_that_forbids_webassembly_is_named(monkeypatch: pytest.MonkeyPatch, attempt: Attempt) -> None:
    policy = server.CONTENT_SECURITY_POLICY.replace(" 'wasm-unsafe-eval'", "")
    monkeypatch.setattr(server, "CONTENT_SECURITY_POLICY", policy)
    assert attempt() == {
        "message": "This server's Content-Security-Policy forbids WebAssembly, which the engine needs.",
        "hint": "Whoever runs the server must add 'wasm-unsafe-eval' to script-src.",
    }


def test_a_wrong_type_of_a_module_is_named(monkeypatch: pytest.MonkeyPatch, attempt: Attempt) -> None:
    monkeypatch.setitem(server.MIME_TYPES, ".mjs", "text/plain")
    assert attempt() == {
        "message": "The server sends pyodide.mjs as text/plain; browsers only run it as text/javascript.",
        "hint": "Whoever runs the server must set the MIME type of .js and .mjs files to text/javascript.",
    }


def test_a_wrong_type_of_the_worker_is_named(attempt: Attempt) -> None:
    def send_wrongly(page: Page) -> None:
        page.route("**/worker.js", lambda route: route.fulfill(body="", content_type="application/octet-stream"))

    assert attempt(send_wrongly)["message"] == (
        "The server sends worker.js as application/octet-stream; browsers only run it as text/javascript."
    )


def test_a_wrong_type_of_webassembly_does_no_harm(monkeypatch: pytest.MonkeyPatch, attempt: Attempt) -> None:
    monkeypatch.setitem(server.MIME_TYPES, ".wasm", "application/octet-stream")
    assert attempt() == "ready"


@pytest.mark.parametrize("name", ["pyodide.asm.wasm", "pyodide.asm.mjs", "python.zip", "engine.zip", "about.json"])
def test_a_missing_file_is_named(folder: Path, attempt: Attempt, name: str) -> None:
    inside(folder, f"python/{name}").unlink()
    assert attempt() == {
        "message": f"The server does not give {name} (it answered 404).",
        "hint": "Copy the whole built folder to the server again.",
    }


def test_a_file_that_is_cut_short_is_named_with_its_length(folder: Path, attempt: Attempt) -> None:
    wasm = inside(folder, "python/pyodide.asm.wasm")
    whole = wasm.read_bytes()
    wasm.write_bytes(whole[:1000])
    assert attempt() == {
        "message": f"The server gives pyodide.asm.wasm damaged: 1000 bytes instead of {len(whole)}.",
        "hint": "Copy the whole built folder to the server again.",
    }


def test_a_server_that_went_away_is_said(served: server.ThreadingHTTPServer, attempt: Attempt) -> None:
    def stop(page: Page) -> None:
        # The page has its own modules by now; all that starts Python is still to come.
        page.evaluate("(url) => import(url)", page.url.replace("python/LICENCES.txt", "app/engine/client.js"))
        served.shutdown()
        served.server_close()

    said = attempt(stop)
    assert said["message"].startswith("The server could not be reached for ")
    assert said["hint"] == "Check the network, and that the server still runs; then reload the page."


def test_a_start_that_hangs_ends_in_a_sentence(attempt: Attempt) -> None:
    def hold(page: Page) -> None:
        page.route("**/*.zip", lambda route: None if route.request.method == "GET" else route.continue_())

    assert attempt(hold, silence_ms=1500) == {
        "message": "Python showed no sign of starting for 2 s.",
        "hint": "Reload the page. If it stays so, try another browser.",
    }


def test_an_engine_that_is_broken_shows_its_own_words(folder: Path, attempt: Attempt) -> None:
    engine = inside(folder, "python/engine.zip")
    engine.write_bytes(b"?" * engine.stat().st_size)
    said = attempt()["message"]
    assert said == "The engine could not start: ModuleNotFoundError: No module named 'packed_start'."
