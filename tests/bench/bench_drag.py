"""From the pointer's handler to the picture in the DOM, in a real browser: 12 forces, every arm and line shown."""

import json
import statistics
import sys
import tempfile
from pathlib import Path
from typing import Any

from bench_session import twelve_forces
from command import server, site
from command.places import CACHE
from playwright.sync_api import Page, sync_playwright
from row import Row
from steelyard import document

GOAL_MS, WORST_MS = 8.0, 33.0
MOVES, WARM_UP = 160, 20
READY = 'html[data-ready="true"]'

# The page marks each painted reply; the handler is entered when the capture phase reaches the window.
LISTEN = """() => {
  window.entered = [];
  window.painted = [];
  addEventListener("pointermove", () => window.entered.push(performance.now()), { capture: true });
  new PerformanceObserver((list) => {
    for (const entry of list.getEntries()) if (entry.name === "painted") window.painted.push(entry.startTime);
  }).observe({ type: "mark" });
}"""
# One move at a time, each awaited: every paint then answers the move before it.
AFTER = """(count) => new Promise((resolve, reject) => {
  const stop = setTimeout(() => reject(new Error("no picture came")), 5000);
  const look = () => {
    if (window.painted.length <= count) return void setTimeout(look, 1);
    clearTimeout(stop);
    resolve([window.entered.at(-1), window.painted.at(-1), window.painted.length]);
  };
  look();
})"""


def rows() -> list[Row]:
    """One row: 95th percentile against the goal, with the slowest beside it."""
    setting = json.loads((CACHE / "for-the-tests.json").read_text(encoding="utf-8"))
    running = server.start(site.ensure(Path(sys.executable)), 0)
    with sync_playwright() as playwright, tempfile.TemporaryDirectory() as folder:
        browser = playwright.chromium.launch(executable_path=setting["browser"], args=["--no-sandbox"])
        page = browser.new_page(viewport={"width": 1366, "height": 768})
        page.add_init_script("delete window.showOpenFilePicker")
        page.goto(f"http://{server.HOST}:{running.server_address[1]}/")
        page.wait_for_selector(READY)
        _open(page, Path(folder) / "twelve.steelyard.json")
        taken = sorted(_drag(page)[WARM_UP:])
        browser.close()
    running.shutdown()
    running.server_close()
    p95, median, worst = taken[int(0.95 * len(taken))], statistics.median(taken), taken[-1]
    measured = f"p95 {p95:.1f} ms (median {median:.1f}, slowest {worst:.1f})"
    goal = f"≤ {GOAL_MS:g} ms, none over {WORST_MS:g}"
    met = p95 <= GOAL_MS and worst <= WORST_MS
    return [Row("pointer handler to DOM, 12 forces, all shown", measured, "-", p95 / GOAL_MS, goal, met)]


def _open(page: Page, file: Path) -> None:
    file.write_text(document.write(twelve_forces(True)), encoding="utf-8")
    with page.expect_file_chooser() as chooser:
        page.get_by_role("button", name="Open", exact=True).click()
    chooser.value.set_files(file)
    page.wait_for_selector("[id='board-crate7']", state="attached")


def _drag(page: Page) -> list[float]:
    """Milliseconds of each move of the walker to and fro."""
    box: Any = page.locator("[id='board-walker.at']").bounding_box()
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + 12, y + 2)
    page.evaluate(LISTEN)
    taken, count = [], 0
    for step in range(MOVES):
        page.mouse.move(x + 12 + (step % 40 if step % 80 < 40 else 40 - step % 40) * 2, y + 4)
        entered, painted, count = page.evaluate(AFTER, count)
        taken.append(painted - entered)
    page.mouse.up()
    return taken
