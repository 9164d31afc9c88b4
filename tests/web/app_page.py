"""The live page for the tests of the app: opening it, waiting for what it paints, finding things on its board."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from playwright.sync_api import Locator, Page

Wait = Callable[..., Any]
Spot = tuple[float, float]

# Every request made so far is answered and painted, and neither the answers nor the next frame, in which the page
# learns of its new sizes, made another one: one press often asks several things, such as leaving a field does.
# A window that lies behind another may be given no frames.
SETTLED = """(async () => {
  const said = document.documentElement.dataset;
  const { asked, waiting } = said;
  if (waiting !== "0") return false;
  await new Promise((done) => (requestAnimationFrame(() => setTimeout(done)), setTimeout(done, 200)));
  return said.asked === asked && said.waiting === "0";
})()"""


def painted(page: Page, wait_until: Wait, act: Callable[[], object]) -> None:
    """Do something and wait until it is answered: something is painted since, and nothing is on its way any more."""
    said = "Number(document.documentElement.dataset.%s)"
    painted_before, asked_before = page.evaluate(f"[{said % 'seq'}, {said % 'asked'}]")
    act()
    wait_until(page, f"{said % 'seq'} > {painted_before} && {said % 'asked'} > {asked_before} && {SETTLED}")


class AppPage:
    """One open page; every wait is on something the page shows, never on time."""

    def __init__(self, page: Page, wait_until: Wait, url: str) -> None:
        self.page = page
        self.wait = wait_until
        self.heard: list[str] = []
        page.on("console", lambda message: self.heard.append(message.text) if message.type == "error" else None)
        page.on("pageerror", lambda error: self.heard.append(str(error)))
        page.goto(url)
        wait_until(page, 'document.documentElement.dataset.ready === "true"')

    @property
    def seq(self) -> int:
        return int(self.page.evaluate("document.documentElement.dataset.seq"))

    def painted(self, act: Callable[[], object]) -> None:
        """Do something and wait until the answers to it, all of them, are painted."""
        painted(self.page, self.wait, act)

    def holds(self, expression: str) -> None:
        """Wait until an expression of the page holds, and then until everything asked is answered and painted."""
        self.wait(self.page, expression)
        self.settled()

    def settled(self) -> None:
        """Wait until everything asked is answered and painted."""
        self.wait(self.page, SETTLED)

    def select(self, of: str) -> None:
        """Select a thing by the outline, as it stands in the tab beside the board."""
        if not self.page.locator(".outline").is_visible():
            self.page.get_by_role("tab", name="Forces", exact=True).click()
        self.page.locator(f".outline [data-of='{of}']").click()
        self.holds(f"document.getElementById('fields').dataset.of === '{of}'")

    @property
    def selected(self) -> str:
        return self.page.locator("#fields").get_attribute("data-of") or ""

    def field(self, key: str) -> Locator:
        """A field of the selected thing by its key."""
        return self.page.locator(f"[id='field-{self.selected}-{key}-quantity']")

    def tool(self, name: str) -> Locator:
        """A tool of the tray."""
        return self.page.locator("#tray").get_by_role("button", name=name, exact=True)

    def menu(self, item: str) -> None:
        """Choose from the menu."""
        self.page.get_by_role("button", name="Menu", exact=True).click()
        self.page.locator(".menu").get_by_role("button", name=item, exact=True).click()

    def blank(self) -> None:
        """An empty sheet."""
        self.painted(lambda: self.menu("New"))
        self.holds("document.querySelector('.outline').childElementCount === 0")

    def names(self) -> list[str]:
        """What the outline lists."""
        return [" ".join(each.split()) for each in self.page.locator(".outline-entry").all_text_contents()]

    def board(self, x: float, y: float) -> Spot:
        """A point of the sheet, in parts of its width and height, on the screen."""
        box = self.page.locator(".sheet").bounding_box()
        assert box is not None
        return box["x"] + x * box["width"], box["y"] + y * box["height"]

    def middle(self, element_id: str) -> Spot:
        """The middle of a painted record on the screen."""
        box = self.page.locator(f"[id='board-{element_id}']").bounding_box()
        assert box is not None
        return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2

    def bar_by_taps(self) -> None:
        """An empty sheet with a level bar on it, drawn by two taps."""
        self.blank()
        self.tool("Bar").click()
        for x in (0.2, 0.8):
            self.painted(lambda x=x: self.page.mouse.click(*self.board(x, 0.5)))
        self.holds("document.querySelectorAll('.outline-entry').length === 1")

    def drag(self, start: Spot, end: Spot) -> None:
        """Press at one spot of the screen, move to another and let go."""
        self.page.mouse.move(*start)
        self.page.mouse.down()
        self.page.mouse.move((start[0] + end[0]) / 2, (start[1] + end[1]) / 2, steps=4)
        self.page.mouse.move(*end, steps=4)
        self.painted(self.page.mouse.up)
