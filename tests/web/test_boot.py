"""Starting the engine: which way it starts, what it tells meanwhile, and that every way answers alike."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import BrowserContext, Page

# Any document of the site's own origin will do: these tests start the engine themselves, without the page's own script.
PLAIN_DOCUMENT = "v/{build}/python/LICENCES.txt"

MAKE_ENGINE = """async ([url, options]) => {
  const { Engine } = await import(url);
  window.told = [];
  window.engine = new Engine(options);
  for (const type of ["step", "ready", "failed", "crashed", "snapshot"]) {
    window.engine.addEventListener(type, ({ detail }) => window.told.push({ type, ...detail }));
  }
}"""
START = "() => window.engine.start().then((ready) => ready.way)"
ASK = "(message) => window.engine.request(message).then(({ seq, ...reply }) => reply)"
STUB_WORKER = """
self.addEventListener("message", ({ data }) => {
  if (typeof data === "object") self.postMessage({ says: "ready", way: "plain" });
  else if (JSON.parse(data).do === "break") self.postMessage({ says: "crashed", message: "out of bounds" });
});
"""

Open = Callable[..., Page]


@pytest.fixture
def opened(context: BrowserContext, site_url: str, built_site: Path) -> Open:
    """A page of the site with `window.engine` made and not started, and `window.told` all its events."""

    def open_page(**options: Any) -> Page:
        page = context.new_page()
        page.goto(site_url + PLAIN_DOCUMENT.format(build=built_site.name))
        page.evaluate(MAKE_ENGINE, [f"{site_url}v/{built_site.name}/app/engine/client.js", options])
        return page

    return open_page


def told(page: Page, kind: str) -> list[dict[str, Any]]:
    return list(page.evaluate("(type) => window.told.filter((event) => event.type === type)", kind))


def test_the_first_visit_starts_from_files_in_named_steps_with_growing_progress(opened: Open) -> None:
    page = opened(plainOnly=True)
    assert page.evaluate(START) == "plain"
    steps = told(page, "step")
    names = list(dict.fromkeys(step["step"] for step in steps))
    assert names == ["Fetching Python", "Starting Python", "Loading the engine"]
    progress = [(step["index"], step["done"]) for step in steps]
    assert progress == sorted(progress)
    assert {step["count"] for step in steps} == {3}
    assert told(page, "ready")[0]["ms"] > 0


def test_progress_counts_the_bytes_of_a_file_as_they_come(opened: Open) -> None:
    page = opened()
    shares = page.evaluate(
        """async () => {
          const { Fetched } = await import(new URL("../app/engine/fetching.js", location.href).href);
          const shares = [];
          const fetched = new Fetched({ onProgress: (done) => shares.push(done), counted: true });
          fetched.expect(100);
          const pieces = [10, 20, 30, 40].map((size) => new Uint8Array(size));
          const pull = (to) => (pieces.length ? to.enqueue(pieces.shift()) : to.close());
          const sent = new Response(new ReadableStream({ pull }));
          await fetched.counting(sent, "application/zip").arrayBuffer();
          return shares;
        }"""
    )
    assert shares == [0, 0.1, 0.3, 0.6, 1]


def test_later_visits_start_from_the_kept_memory_and_answer_alike(opened: Open, wait_until: Callable[..., Any]) -> None:
    first = opened(snapshot_ms=0)
    assert first.evaluate(START) == "plain"
    wait_until(first, "window.told.some(({ type }) => type === 'snapshot')")
    assert told(first, "snapshot")[0]["kept"], told(first, "snapshot")
    answers = first.evaluate(ASK, {"do": "hello"})
    second = opened()
    assert second.evaluate(START) == "snapshot"
    assert second.evaluate(ASK, {"do": "hello"}) == answers
    for slug in [scenario["slug"] for scenario in answers["scenarios"]]:
        message = {"do": "scenario", "slug": slug}
        assert second.evaluate(ASK, message) == first.evaluate(ASK, message)
    assert not told(second, "snapshot"), "nothing is kept twice"


def test_kept_memory_that_cannot_be_used_is_passed_over_and_not_taken_again(
    opened: Open, wait_until: Callable[..., Any]
) -> None:
    page = opened(snapshot_ms=0)
    page.evaluate(START)
    wait_until(page, "window.told.some(({ type }) => type === 'snapshot')")
    page.evaluate(
        """async () => {
          const cache = await caches.open("steelyard-snapshot");
          for (const request of await cache.keys()) await cache.put(request, new Response(new Uint8Array(2 ** 20)));
        }"""
    )
    again = opened(snapshot_ms=0)
    assert again.evaluate(START) == "plain"
    assert again.evaluate(ASK, {"do": "hello"})["ok"]
    kept = again.evaluate(
        """async () => {
          const snapshot = await import(new URL("../app/engine/snapshot.js", location.href).href);
          return [await snapshot.findSnapshot(), await snapshot.wantsSnapshot()];
        }"""
    )
    assert kept == [None, False]


def test_random_numbers_differ_between_two_starts_from_the_same_memory(
    opened: Open, wait_until: Callable[..., Any], built_site: Path, site_url: str
) -> None:
    page = opened(snapshot_ms=0)
    page.evaluate(START)
    wait_until(page, "window.told.some(({ type }) => type === 'snapshot')")
    # The engine gives no random numbers away, so its Python is started here and asked itself.
    draw = """async (url) => {
      const { boot } = await import(url);
      const { door, way } = await boot(() => undefined, { plainOnly: false });
      const random = door.__globals__ ? door.__globals__.get("__builtins__") : null;
      const get = random.get ? random.get("__import__") : random.__import__;
      return [way, get("random").random()];
    }"""
    boot_url = f"{site_url}v/{built_site.name}/app/engine/boot.js"
    draws = []
    for _ in range(2):
        fresh = opened()
        draws.append(fresh.evaluate(draw, boot_url))
    assert [way for way, _ in draws] == ["snapshot", "snapshot"]
    assert draws[0][1] != draws[1][1]


def test_requests_made_while_starting_are_answered_in_order(opened: Open) -> None:
    page = opened(plainOnly=True)
    answers = page.evaluate(
        """async () => {
          window.engine.start();
          const order = [];
          const ask = (n) => window.engine.request({ do: "hello" }).then((reply) => order.push([n, reply.seq]));
          await Promise.all([1, 2, 3].map(ask));
          return order;
        }"""
    )
    assert answers == [[1, 1], [2, 2], [3, 3]]


def test_a_killed_engine_rejects_what_it_owes_by_name_and_a_new_one_has_a_new_epoch(opened: Open) -> None:
    page = opened(plainOnly=True)
    page.evaluate(START)
    assert page.evaluate(ASK, {"do": "hello"})["epoch"] == 1
    owed = page.evaluate(
        """async () => {
          const owed = window.engine.request({ do: "hello" }).catch((error) => error.name);
          window.engine.kill();
          return [await owed, await window.engine.request({ do: "hello" }).catch((error) => error.name)];
        }"""
    )
    assert owed == ["EngineStopped", "EngineStopped"]
    assert [event["reason"] for event in told(page, "crashed")] == ["killed"]
    page.evaluate("() => window.engine.restart()")
    assert page.evaluate(ASK, {"do": "hello"})["epoch"] == 2


def test_an_engine_that_does_not_answer_within_visible_time_is_stopped(
    opened: Open, wait_until: Callable[..., Any]
) -> None:
    page = opened(answer_ms=50)
    page.route("**/engine/worker.js", lambda route: route.fulfill(body=STUB_WORKER, content_type="text/javascript"))
    page.evaluate(START)
    rejected = page.evaluate("() => window.engine.request({ do: 'hello' }).catch((error) => error.name)")
    assert rejected == "EngineStopped"
    assert told(page, "crashed") == [{"type": "crashed", "reason": "no-answer", "message": "no answer within 0.05 s"}]


def test_an_engine_that_breaks_says_so_once(opened: Open) -> None:
    page = opened()
    page.route("**/engine/worker.js", lambda route: route.fulfill(body=STUB_WORKER, content_type="text/javascript"))
    page.evaluate(START)
    page.evaluate("() => window.engine.request({ do: 'break' }).catch((error) => error.name)")
    assert told(page, "crashed") == [{"type": "crashed", "reason": "error", "message": "out of bounds"}]


def test_time_that_the_reader_did_not_see_is_not_counted(opened: Open) -> None:
    page = opened()
    now = page.evaluate(
        """async () => {
          const { VisibleClock } = await import(new URL("../app/engine/visible-clock.js", location.href).href);
          let time_ms = 0;
          let visible = true;
          performance.now = () => time_ms;
          Object.defineProperty(document, "visibilityState", { get: () => (visible ? "visible" : "hidden") });
          const clock = new VisibleClock();
          let rung = 0;
          clock.alarm(1000, () => { rung += 1; });
          clearInterval(clock.timer);
          const seen = [];
          const pass = (ms) => { time_ms += ms; clock.tick(); seen.push([clock.now_ms, rung]); };
          pass(250); visible = false; pass(5000); visible = true; pass(250); pass(3_600_000);
          return seen;
        }"""
    )
    # An hour asleep counts as one second, the most that one tick may count.
    assert now == [[250, 0], [250, 0], [500, 0], [1500, 1]]
