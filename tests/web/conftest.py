"""The built site, a server for it, and a real browser."""

import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from command import server, site
from playwright.sync_api import Browser, BrowserContext, Page, Playwright, sync_playwright

sys.path.insert(0, str(Path(__file__).parent))  # for helpers beside the tests, e.g. `sketcher`

from app_page import AppPage

BROWSER_ARGUMENTS = [
    "--no-sandbox",
    "--disable-dev-shm-usage",
    "--disable-background-networking",
    "--disable-component-update",
]
DESKTOP = {"width": 1366, "height": 768}
PHONE = {"width": 390, "height": 844}
WAIT_MS = 30_000
KEPT_SKETCHES = "indexeddb,local_storage"
MEMORY_KEPT = "caches.open('steelyard-snapshot').then((cache) => cache.keys()).then((keys) => keys.length)"

# The page's policy forbids evaluating text in the page, which playwright's own waiting does; this polls from outside.
WAIT_UNTIL = """([wait_ms]) => new Promise((resolve, reject) => {
  const stop = setTimeout(() => { over = true; reject(new Error("not within " + wait_ms + " ms")); }, wait_ms);
  let over = false;
  const look = async () => {
    if (over) return;
    const value = await (%s);
    if (value) { clearTimeout(stop); resolve(value); } else setTimeout(look, 10);
  };
  look();
})"""


@pytest.fixture(scope="session")
def built_site() -> Path:
    """The folder of the site, built from the sources as they are now."""
    return site.ensure(Path(sys.executable))


@pytest.fixture(scope="session")
def site_url(built_site: Path) -> Iterator[str]:
    """The address of the site, ending in a slash."""
    running = server.start(built_site, 0)
    yield f"http://{server.HOST}:{running.server_address[1]}/"
    running.shutdown()
    running.server_close()


@pytest.fixture(scope="session")
def playwright() -> Iterator[Playwright]:
    """Playwright, started once."""
    with sync_playwright() as started:
        yield started


@pytest.fixture(scope="session")
def browser(playwright: Playwright, setting: dict[str, Any]) -> Iterator[Browser]:
    """One headless Chromium for all tests."""
    launched = playwright.chromium.launch(executable_path=setting["browser"], args=BROWSER_ARGUMENTS)
    yield launched
    launched.close()


@pytest.fixture
def context(browser: Browser) -> Iterator[BrowserContext]:
    """A fresh profile at desktop size, without service workers, which outlive the page that a test looks at."""
    made = browser.new_context(viewport=DESKTOP, service_workers="block")
    made.set_default_timeout(WAIT_MS)
    yield made
    made.close()


@pytest.fixture
def page(context: BrowserContext) -> Page:
    """An empty page in a fresh profile. A test opens `site_url` in it."""
    return context.new_page()


@pytest.fixture(scope="session")
def wait_until() -> Callable[..., Any]:
    """`wait_until(page, "a JavaScript expression")` returns the expression's value as soon as it is true."""

    def wait(page: Page, expression: str, wait_ms: int = WAIT_MS) -> Any:
        return page.evaluate(WAIT_UNTIL % expression, [wait_ms])

    return wait


def _visited(browser: Browser, site_url: str, wait_until: Callable[..., Any], **options: Any) -> BrowserContext:
    """A profile as a later visit finds it: the files and Python's memory are kept."""
    made = browser.new_context(service_workers="block", **options)
    made.set_default_timeout(WAIT_MS)
    page = made.new_page()
    page.goto(site_url)
    wait_until(page, MEMORY_KEPT)
    page.close()
    return made


@pytest.fixture(scope="session")
def visited(browser: Browser, site_url: str, wait_until: Callable[..., Any]) -> Iterator[BrowserContext]:
    """One profile at desktop size for all tests that do not need a first visit."""
    made = _visited(browser, site_url, wait_until, viewport=DESKTOP)
    yield made
    made.close()


@pytest.fixture(scope="session")
def visited_by_phone(browser: Browser, site_url: str, wait_until: Callable[..., Any]) -> Iterator[BrowserContext]:
    """The same for tests with a finger on a phone."""
    made = _visited(browser, site_url, wait_until, viewport=PHONE, has_touch=True)
    yield made
    made.close()


def _afresh(profile: BrowserContext, site_url: str) -> Iterator[BrowserContext]:
    """The profile with nothing kept but the program; its pages are closed and its permissions gone afterwards."""
    page = profile.new_page()
    asking = profile.new_cdp_session(page)
    asking.send("Storage.clearDataForOrigin", {"origin": site_url.rstrip("/"), "storageTypes": KEPT_SKETCHES})
    page.close()
    yield profile
    for left in profile.pages:
        left.close()
    profile.clear_permissions()


@pytest.fixture
def later_visit(visited: BrowserContext, site_url: str) -> Iterator[BrowserContext]:
    """A profile at desktop size that starts from Python's kept memory, and keeps no sketch."""
    yield from _afresh(visited, site_url)


@pytest.fixture
def app(later_visit: BrowserContext, site_url: str, wait_until: Callable[..., Any]) -> AppPage:
    """The live page on its opening scenario."""
    return AppPage(later_visit.new_page(), wait_until, site_url)


@pytest.fixture
def phone(visited_by_phone: BrowserContext, site_url: str, wait_until: Callable[..., Any]) -> Iterator[AppPage]:
    """The live page on its opening scenario, on a phone."""
    for profile in _afresh(visited_by_phone, site_url):
        yield AppPage(profile.new_page(), wait_until, site_url)


@pytest.fixture(scope="session")
def axe_source(setting: dict[str, Any]) -> str:
    """axe-core as text, for `page.evaluate`: the page's policy forbids adding a script tag."""
    return Path(setting["axe"]).read_text(encoding="utf-8")
