"""The states of the page that the README shows, each reached as a user reaches it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from playwright.sync_api import Browser, Page

READY_MS = 30_000


@dataclass(frozen=True, slots=True)
class State:
    """One picture: its file name, the window, and how to get there from the opening scenario."""

    name: str
    width: int
    height: int
    reach: Callable[[Page], None]
    dark: bool = False
    touch: bool = False


def answers_shown(page: Page) -> None:
    """The hoist selected, its line and arm on the board, and the first sums of the working beside it."""
    page.get_by_role("button", name="Show the answers").click()
    page.get_by_role("button", name="Keep them back").wait_for()
    page.get_by_role("tab", name="Forces", exact=True).click()
    page.get_by_role("button", name="rope, hoist").click()
    page.locator("#fields").get_by_text("size", exact=True).first.wait_for()
    page.get_by_role("tab", name="Working", exact=True).click()
    for step in (2, 3):
        page.locator(".next-step").click()
        page.locator(".step").nth(step - 1).wait_for()


def kept_back(page: Page) -> None:
    """As the opening scenario stands."""
    page.get_by_role("button", name="Show the answers").wait_for()


def guess(page: Page) -> None:
    """A guess of the hinge's force that points the wrong way, and what the argument says of it."""
    page.get_by_role("tab", name="Forces", exact=True).click()
    page.get_by_role("button", name="pin, hinge").click()
    page.locator("#fields").get_by_role("button", name="Guess it").click()
    field = page.locator("#fields").get_by_label("guessed angle", exact=False)
    field.fill("150")
    field.press("Enter")
    page.get_by_role("tab", name="Working", exact=True).click()
    page.get_by_role("button", name="Turn it").wait_for()


def polygon(page: Page) -> None:
    """The forces head to tail, closed, with the point where three lines meet."""
    page.get_by_role("button", name="Show the answers").click()
    page.get_by_role("button", name="Keep them back").wait_for()
    page.get_by_role("button", name="Polygon", exact=True).click()
    page.get_by_text("starts and closes here").wait_for()


def set_up(page: Page) -> None:
    """The body with its supports as drawn in the trade."""
    page.get_by_text("Set-up", exact=True).click()
    page.wait_for_selector('[aria-label*="hinge"]', state="attached")


def friction(page: Page) -> None:
    """A crate on a rough face: where the normal force acts, and how much of the friction there is it needs."""
    from_the_shelf(page, "Crate on a heeling pontoon")
    page.get_by_role("tab", name="Forces", exact=True).click()
    page.locator("tr[data-of='deck-friction']").first.click()
    page.locator("#fields").get_by_text("friction").first.wait_for()


def joined(page: Page) -> None:
    """One leg of a trestle taken alone: what the other leg and the tie rope do to it."""
    from_the_shelf(page, "Trestle on the quay")
    for step in (2, 3, 4):
        page.locator(".next-step").click()
        page.locator(".step").nth(step - 1).wait_for()


def from_the_shelf(page: Page, title: str) -> None:
    """Another scenario, with its answers shown."""
    page.get_by_role("button", name="Shelf", exact=True).click()
    page.locator(".shelf-entry", has_text=title).click()
    page.get_by_role("button", name="Show the answers").click()
    page.get_by_role("button", name="Keep them back").wait_for()


def blank(page: Page) -> None:
    """An empty sheet."""
    page.get_by_role("button", name="Menu").click()
    page.get_by_role("button", name="New", exact=True).click()
    page.get_by_text("press here, let go there, or tap both ends").wait_for()


STATES = (
    State("board", 1366, 768, answers_shown),
    State("board-dark", 1366, 768, answers_shown, dark=True),
    State("guess", 1366, 768, guess),
    State("polygon", 1366, 768, polygon),
    State("set-up", 1366, 768, set_up),
    State("friction", 1366, 768, friction),
    State("joined", 1366, 768, joined),
    State("blank", 1366, 768, blank),
    State("phone", 390, 844, kept_back, touch=True),
)


def take(browser: Browser, url: str, folder: Path) -> list[Path]:
    """Take every picture into a folder; returns the files."""
    taken = []
    for state in STATES:
        context = browser.new_context(
            viewport={"width": state.width, "height": state.height},
            color_scheme="dark" if state.dark else "light",
            has_touch=state.touch,
            reduced_motion="reduce",
            service_workers="block",
        )
        # A picture of the tool, not of its first-use hints.
        context.add_init_script("localStorage.setItem('steelyard-hints-done', 'drag-thing touch-rope move-pivot')")
        page = context.new_page()
        page.goto(url)
        page.wait_for_selector('html[data-ready="true"]', timeout=READY_MS)
        state.reach(page)
        page.evaluate("() => document.fonts.ready.then(() => undefined)")
        page.evaluate("() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)))")
        path = folder / f"{state.name}-{state.width}x{state.height}.png"
        page.screenshot(path=path)
        taken.append(path)
        context.close()
    return taken
