"""From opening the page to the engine's first answer, and the bytes before it, over a bare Pyodide of the same version.

Bare Pyodide: the package's own files, unchanged, started in a module worker by the shortest page that can, until it
has answered `1 + 1`. First visits are fresh profiles; later visits are new pages in a profile that has kept memory.
"""

import gzip
import json
import shutil
import statistics
import sys
import tempfile
from pathlib import Path
from typing import Any

from command import server, site
from command.places import CACHE
from playwright.sync_api import BrowserContext, sync_playwright
from row import Row, at_most

VISITS = 7
BARE_FILES = ("pyodide.mjs", "pyodide.asm.mjs", "pyodide.asm.wasm", "python_stdlib.zip", "pyodide-lock.json")
OUR_FILES = ("pyodide.mjs", "pyodide.asm.mjs", "pyodide.asm.wasm", "python.zip", "engine.zip", "about.json")
BARE_WORKER = """
import { loadPyodide } from "./pyodide.mjs";
const pyodide = await loadPyodide();
self.postMessage(pyodide.runPython("1 + 1"));
"""
BARE_PAGE = '<!doctype html><title>Bare</title><script type="module" src="main.js"></script>'
BARE_MAIN = """
const worker = new Worker("worker.js", { type: "module" });
worker.addEventListener("message", () => performance.mark("engine-first-answer"));
"""
FIRST_ANSWER = """() => new Promise((resolve) => {
  const look = () => {
    const [mark] = performance.getEntriesByName("engine-first-answer");
    if (mark) resolve(mark.startTime); else setTimeout(look, 5);
  };
  look();
})"""
MEMORY_KEPT = """() => new Promise((resolve) => {
  const look = async () => {
    const cache = await caches.open("steelyard-snapshot");
    if ((await cache.keys()).length) resolve(); else setTimeout(look, 50);
  };
  look();
})"""
ARGUMENTS = ["--no-sandbox", "--disable-dev-shm-usage", "--disable-background-networking", "--disable-component-update"]


def rows() -> list[Row]:
    """Three rows: first visits, later visits, bytes."""
    setting = json.loads((CACHE / "for-the-tests.json").read_text(encoding="utf-8"))
    built = site.ensure(Path(sys.executable))
    with tempfile.TemporaryDirectory() as temporary, sync_playwright() as playwright:
        bare = _bare(Path(temporary))
        servers = [server.start(folder, 0) for folder in (bare, built)]
        bare_url, our_url = (f"http://{server.HOST}:{running.server_address[1]}/" for running in servers)

        def profile(name: str) -> BrowserContext:
            return playwright.chromium.launch_persistent_context(
                Path(temporary) / name, executable_path=setting["browser"], args=ARGUMENTS, headless=True
            )

        bare_times, our_times = [], []
        for number in range(VISITS):  # in turn, so that a busy moment of the machine meets both
            for kind, url, times in (("bare", bare_url, bare_times), ("ours", our_url, our_times)):
                with profile(f"{kind}-{number}") as fresh:
                    times.append(_answered(fresh, url))
        bare_ms, first_ms = statistics.median(bare_times), statistics.median(our_times)
        with profile("ours-0") as again:
            page = again.new_page()
            page.goto(our_url)
            page.evaluate(MEMORY_KEPT)
            page.close()
            later_ms = statistics.median(_answered(again, our_url) for _ in range(VISITS))
        for running in servers:
            running.shutdown()
            running.server_close()
    inside = built / "v" / built.name / "python"
    original = CACHE / "npm-site" / "node_modules" / "pyodide"
    bare_bytes = sum(_zipped(original / name) for name in BARE_FILES)
    our_bytes = sum(_zipped(inside / name) for name in OUR_FILES)
    mega = 1e6
    return [
        at_most("first visit to first answer", first_ms, bare_ms, 0.40, "ms", "bare Pyodide, first visit"),
        at_most("later visit to first answer", later_ms, bare_ms, 0.25, "ms", "bare Pyodide, first visit"),
        at_most("bytes before it, gzip", our_bytes / mega, bare_bytes / mega, 0.95, "MB", "bare Pyodide's files"),
    ]


def _bare(folder: Path) -> Path:
    bare = folder / "bare"
    shutil.copytree(CACHE / "npm-site" / "node_modules" / "pyodide", bare)
    for name, text in (("worker.js", BARE_WORKER), ("index.html", BARE_PAGE), ("main.js", BARE_MAIN)):
        (bare / name).write_text(text, encoding="utf-8")
    return bare


def _answered(profile: BrowserContext, url: str) -> float:
    page = profile.new_page()
    page.goto(url)
    time_ms: Any = page.evaluate(FIRST_ANSWER)
    page.close()
    return float(time_ms)


def _zipped(file: Path) -> int:
    return len(gzip.compress(file.read_bytes(), 9))
