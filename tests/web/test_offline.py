"""After the first visit the page works without a network, and never with parts of two builds."""

import shutil
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from command import server
from playwright.sync_api import Browser, BrowserContext, Page

KEEP = """async (url) => {
  const { keepOffline } = await import(url);
  window.states = [];
  window.kept = await keepOffline({ onState: (state, reason) => window.states.push([state, reason]) });
}"""
ENGINE_ANSWERS = """async (url) => {
  const { Engine } = await import(url);
  const engine = new Engine({ plainOnly: true });
  await engine.start();
  return (await engine.request({ do: "hello" })).ok;
}"""
LAST_STATE = "window.states.at(-1)?.[0]"
NEXT_BUILD = "fedcba987654"


class Site:
    """A served copy of the built site, which a test may change, and stop."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.build = next((folder / "v").iterdir()).name
        self.running = server.start(folder, 0)
        self.port = self.running.server_address[1]
        self.url = f"http://{server.HOST}:{self.port}/"

    def stop(self) -> None:
        self.running.shutdown()
        self.running.server_close()

    def start(self) -> None:
        self.running = server.start(self.folder, self.port)

    def module(self, name: str, build: str = "") -> str:
        return f"{self.url}v/{build or self.build}/app/engine/{name}"

    def document(self, build: str = "") -> str:
        """A plain document of a build that asks to be kept."""
        return f"{self.url}v/{build or self.build}/python/LICENCES.txt?offline=1"

    def replace_by_next_build(self) -> None:
        """What an update of the site does: another build takes the place of this one."""
        (self.folder / "v" / self.build).rename(self.folder / "v" / NEXT_BUILD)
        for file in (
            self.folder / "index.html",
            self.folder / "sw.js",
            self.folder / "v" / NEXT_BUILD / "manifest.json",
        ):
            file.write_text(file.read_text(encoding="utf-8").replace(self.build, NEXT_BUILD), encoding="utf-8")
        self.note_digest_of_index()

    def note_digest_of_index(self) -> None:
        import hashlib
        import json

        manifest_file = self.folder / "v" / NEXT_BUILD / "manifest.json"
        manifest = json.loads(manifest_file.read_text(encoding="utf-8"))
        data = (self.folder / "index.html").read_bytes()
        manifest["root"]["index.html"] = {"sha256": hashlib.sha256(data).hexdigest(), "bytes": len(data)}
        manifest_file.write_text(json.dumps(manifest), encoding="utf-8")


@pytest.fixture
def served(built_site: Path, tmp_path: Path) -> Iterator[Site]:
    site = Site(Path(shutil.copytree(built_site, tmp_path / "site")))
    yield site
    site.stop()


@pytest.fixture
def profile(browser: Browser) -> Iterator[BrowserContext]:
    """A fresh profile in which service workers may run."""
    made = browser.new_context(service_workers="allow")
    yield made
    made.close()


@pytest.fixture
def keeping(profile: BrowserContext, served: Site) -> Callable[..., Page]:
    """Opens a plain document of the site and asks for it to be kept; `window.states` tells how that goes."""

    def keep(build: str = "") -> Page:
        page = profile.new_page()
        page.goto(served.document(build))
        page.evaluate(KEEP, served.module("offline.js", build))
        return page

    return keep


def site_caches(page: Page) -> list[str]:
    names = page.evaluate("() => caches.keys()")
    return [name.split(" ")[-1] for name in names if name.startswith("steelyard-site")]


def test_after_one_visit_a_fresh_page_works_with_the_server_stopped(
    keeping: Callable[..., Page], profile: BrowserContext, served: Site, wait_until: Callable[..., Any]
) -> None:
    first = keeping()
    wait_until(first, f"{LAST_STATE} === 'kept'")
    assert [state for state, _ in first.evaluate("window.states")] == ["working", "kept"]
    first.close()
    served.stop()
    fresh = profile.new_page()
    fresh.goto(served.url)
    assert "Steelyard" in fresh.title()
    assert fresh.evaluate(ENGINE_ANSWERS, served.module("client.js"))
    headers = fresh.evaluate("(url) => fetch(url).then((answer) => [...answer.headers])", served.url)
    assert dict(headers)["content-security-policy"] == server.CONTENT_SECURITY_POLICY


def test_nothing_is_kept_on_this_machines_own_address_unless_asked(profile: BrowserContext, served: Site) -> None:
    page = profile.new_page()
    page.goto(served.document().removesuffix("?offline=1"))
    page.evaluate(KEEP, served.module("offline.js"))
    assert page.evaluate("window.states[0][0]") == "off"
    assert page.evaluate("() => navigator.serviceWorker.getRegistrations().then((found) => found.length)") == 0


def test_a_file_that_is_not_the_builds_own_is_named_and_nothing_is_kept(
    keeping: Callable[..., Page], served: Site, wait_until: Callable[..., Any]
) -> None:
    engine = served.folder / "v" / served.build / "python" / "engine.zip"
    engine.write_bytes(engine.read_bytes() + b"\0")
    page = keeping()
    wait_until(page, f"{LAST_STATE} === 'failed'")
    reason = page.evaluate("window.states.at(-1)[1]")
    assert reason == f"v/{served.build}/python/engine.zip is not the file this build was made with"
    assert site_caches(page) == []


def test_an_update_waits_for_the_readers_word_and_never_mixes_builds(
    keeping: Callable[..., Page], profile: BrowserContext, served: Site, wait_until: Callable[..., Any]
) -> None:
    before = keeping()
    wait_until(before, f"{LAST_STATE} === 'kept'")
    before.close()
    old = served.build
    served.replace_by_next_build()
    page = keeping(old)  # the server has this build no more: it comes from what was kept
    page.evaluate("(url) => navigator.serviceWorker.getRegistration(url).then((found) => found.update())", served.url)
    wait_until(page, f"{LAST_STATE} === 'update-ready'")
    index = "(url) => fetch(url).then((answer) => answer.text())"
    assert f"v/{old}/" in page.evaluate(index, served.url)
    assert f"v/{NEXT_BUILD}/" not in page.evaluate(index, served.url)
    assert page.evaluate(ENGINE_ANSWERS, served.module("client.js", old))
    with page.expect_navigation():
        page.evaluate("() => window.kept.useUpdate()")
    fresh = profile.new_page()
    fresh.goto(served.url)
    assert f"v/{NEXT_BUILD}/" in fresh.evaluate(index, served.url)
    assert fresh.evaluate(ENGINE_ANSWERS, served.module("client.js", NEXT_BUILD))
