"""Settings chosen in the page reach the board, the strips, the table and the working, and undo takes them back."""

from __future__ import annotations

import math

from app_page import AppPage

# The direction of the first stroke of a drawn path, degrees counterclockwise from the right.
HEADING = """(id) => {
  const path = document.querySelector(`.sheet [id$="${id}"], .strips [id$="${id}"]`).getAttribute("d");
  const [x1, y1, x2, y2] = path.match(/-?\\d+(\\.\\d+)?/g).slice(0, 4).map(Number);
  return (Math.atan2(y1 - y2, x2 - x1) * 180) / Math.PI;
}"""

SENSES = "[...document.querySelectorAll('table.forces .sense')].map((each) => each.getAttribute('aria-label'))"


def choose(app: AppPage, key: str, value: str) -> None:
    app.painted(lambda: app.page.locator(f"[id='setting-{key}']").select_option(value))


def test_axes_words_and_senses_follow_the_settings_everywhere(app: AppPage) -> None:
    app.menu("Settings")
    choose(app, "axes_along", "gangway")
    choose(app, "turning_word", "moment")
    choose(app, "counterclockwise_positive", "false")
    choose(app, "arm_letter", "ℓ")
    app.page.locator(".settings-dialog").get_by_role("button", name="Close").click()
    app.holds("!document.querySelector('.settings-dialog[open]')")

    # The gangway dips by 12 degrees: so do the axes of the board and the arrow of the first strip.
    assert math.isclose(app.page.evaluate(HEADING, "key.axes"), -12.0, abs_tol=0.5)
    assert math.isclose(app.page.evaluate(HEADING, "end.xp"), -12.0, abs_tol=2.0)
    said = app.page.locator("#steps").inner_text()
    assert "x along the gangway at 12° clockwise from the level" in " ".join(said.split())
    assert "turning clockwise" in " ".join(said.split())

    app.painted(app.page.get_by_role("tab", name="Forces", exact=True).click)
    assert app.page.evaluate(SENSES) == [
        "positive clockwise", "positive down and to the right", "positive up and to the right", "positive clockwise",
    ]  # fmt: skip
    head = app.page.locator("table.forces thead").inner_text()
    assert "moment" in head and "torque" not in head

    for _ in range(4):
        app.painted(lambda: app.page.keyboard.press("Control+z"))
    assert app.page.evaluate(SENSES) == [
        "positive counterclockwise", "positive to the right", "positive up", "positive counterclockwise",
    ]  # fmt: skip
    assert app.heard == []
