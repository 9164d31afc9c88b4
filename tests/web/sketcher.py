"""A scripted user: a hand that counts its gestures, or keys, while it works the real page."""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import Any

from app_page import painted
from playwright.sync_api import Locator, Page

Spot = tuple[float, float]

# The ruler along each edge is the only thing read to find a place on the paper, as a person would.
READ_RULER = """() => {
  const read = (axis) => [...document.querySelectorAll(`text[id^="board-edge.${axis}"]`)]
    .map((mark) => {
      const box = mark.getBoundingClientRect();
      const value = Number(mark.textContent.replace("\\u2212", "-").replace(/[\\u2009\\u202f]/g, ""));
      return [value, axis === "x" ? box.x + box.width / 2 : box.y + box.height / 2];
    })
    .filter(([value]) => Number.isFinite(value))
    .sort((one, other) => one[0] - other[0]);
  return { x: read("x"), y: read("y") };
}"""


class Sketcher:
    """Works one page; `gestures` counts press-drags, taps and filled fields, `keys` counts key strokes."""

    def __init__(self, page: Page, wait_until: Callable[..., Any]) -> None:
        self.page = page
        self.wait_until = wait_until
        self.gestures = 0
        self.keys = 0

    def open(self, url: str) -> None:
        """Open the page and wait until the engine has answered."""
        self.page.goto(url)
        self.wait_until(self.page, 'document.documentElement.dataset.ready === "true"')

    def painted(self, act: Callable[[], object]) -> None:
        """Do something, and wait until an answer to it has been painted and nothing more is on its way."""
        painted(self.page, self.wait_until, act)

    def spot(self, x_m: float, y_m: float) -> Spot:
        """Where a point of the paper is on the screen, read off the rulers."""
        ruler = self.page.evaluate(READ_RULER)
        place = []
        for marks, value in ((ruler["x"], x_m), (ruler["y"], y_m)):
            (low, low_px), (high, high_px) = marks[0], marks[-1]
            place.append(low_px + (value - low) * (high_px - low_px) / (high - low))
        return place[0], place[1]

    def choose(self, tool: str) -> None:
        """Tap a tool of the tray: one gesture."""
        self.gestures += 1
        self.page.locator("#tray").get_by_role("button", name=tool, exact=True).click()

    def drag(self, start: Spot, end: Spot) -> None:
        """One press-drag."""
        self.gestures += 1
        mouse = self.page.mouse
        mouse.move(*start)
        mouse.down()
        for step in range(1, 11):
            part = step / 10
            mouse.move(start[0] + part * (end[0] - start[0]), start[1] + part * (end[1] - start[1]))
        self.painted(mouse.up)

    def tap(self, spot: Spot) -> None:
        """One tap on the board."""
        self.gestures += 1
        self.painted(lambda: self.page.mouse.click(*spot))

    def fill(self, name: str, text: str) -> None:
        """Fill one field of the selected thing and leave it by Enter: one gesture."""
        self.gestures += 1
        field = self.field(name)
        field.fill(text)
        self.painted(lambda: field.press("Enter"))

    def field(self, name: str) -> Locator:
        """A field of the selected thing by its spoken name."""
        return self.page.get_by_label(name, exact=True)

    def press(self, *keys: str) -> None:
        """Press keys one after the other; each counts."""
        for key in keys:
            self.keys += 1
            self.page.keyboard.press(key)

    def type(self, text: str) -> None:
        """Type a text; each letter counts as a key."""
        for letter in text:
            self.press(letter)

    def saved(self) -> dict[str, Any]:
        """The document as the page would save it."""
        with self.page.expect_download() as download:
            self.page.get_by_role("button", name="Save", exact=True).click()
        path = download.value.path()
        data: dict[str, Any] = json.loads(path.read_text(encoding="utf-8"))
        return data
