"""Trying pivots by hand, finger and keys: marks on the board, their list, the second pivot and the torque's form."""

from __future__ import annotations

import pytest
from app_page import AppPage, Wait
from playwright.sync_api import Browser


def place(app: AppPage) -> tuple[str, str]:
    """Where the selected pivot is, as its fields say."""
    return app.field("x").input_value(), app.field("y").input_value()


def test_marks_and_their_list_light_together_and_move_the_pivot(app: AppPage) -> None:
    page = app.page
    x, y = app.middle("pivot")
    assert page.locator("[id='board-pivot.try-1']").is_hidden()
    app.painted(lambda: page.mouse.click(x + 12, y))
    assert app.selected == "pivot" and place(app) == ("0", "0")
    first, crossing = page.locator(".try").nth(0), page.locator(".try").nth(1)
    assert first.get_attribute("aria-current") == "true" and crossing.get_attribute("aria-current") is None

    # A hand over the mark lights the line, over the line the mark; both say what would drop out.
    page.mouse.move(*app.middle("pivot.try-1"))
    app.holds("document.querySelector('.try[data-of=try-1]').classList.contains('lit')")
    mark = page.locator("[id='board-try-1.words']")
    assert mark.is_visible() and mark.text_content() == "Rx and T out, one unknown left: Ry"
    crossing.hover()
    app.holds("document.getElementById('board-try-1.brass').classList.contains('lit')")
    assert "Rx and T out, Ry left." in (crossing.text_content() or "")

    # The level through the hinge meets the rope's line at x = 4.105 m.
    app.painted(lambda: page.mouse.click(*app.middle("pivot.try-1")))
    assert app.selected == "pivot"
    assert float(place(app)[0]) == pytest.approx(4.105, abs=5e-4) and place(app)[1] == "0"
    assert page.locator("[id='board-pivot.label.more1']").text_content() == "Rx and T drop out"
    app.painted(lambda: page.keyboard.press("Control+z"))
    assert place(app) == ("0", "0")

    app.painted(lambda: page.locator(".try").last.click())
    assert float(place(app)[0]) == pytest.approx(5.2 * 0.97815, abs=1e-3)
    assert app.heard == []


def test_a_second_pivot_shows_the_same_sum_and_the_form_changes_equation_and_figure(app: AppPage) -> None:
    page = app.page
    app.painted(lambda: page.get_by_role("button", name="Pin a second pivot").click())
    assert app.selected == "second-pivot"
    assert "once R and T have a guess" in page.locator(".pivots-missing").inner_text()
    app.painted(lambda: page.get_by_role("button", name="Show the answers").click())
    assert page.locator(".one-sum").count() == 2
    assert (
        page.locator(".both-said").inner_text()
        == "Different term by term, and both zero: with balance any point will do."
    )
    sums = page.locator(".one-sum .lines").all_inner_texts()
    assert sums[0] != sums[1]
    app.painted(lambda: page.get_by_role("radio", name="force times moment arm").press("ArrowRight"))
    assert page.get_by_role("radio", name="distance times the part of the force across it").is_checked()
    assert page.locator(".one-sum .lines").all_inner_texts() != sums
    assert page.locator("[id='board-hoist.square']").count() == 1
    app.painted(lambda: page.get_by_role("radio", name="distance times").press("ArrowRight"))
    assert page.locator("[id='board-hoist.offset-x']").count() == 1
    app.painted(lambda: page.get_by_role("button", name="Take the second pivot away").click())
    assert page.locator("[id='board-second-pivot']").count() == 0 and page.locator(".one-sum").count() == 0
    assert app.heard == []


def test_a_mark_is_reached_and_pressed_by_keys(app: AppPage) -> None:
    page = app.page
    for _ in range(page.locator(".outline-entry").count()):
        if app.selected == "pivot":
            break
        app.painted(lambda: page.keyboard.press("ArrowRight"))
    assert app.selected == "pivot"
    page.keyboard.press("]")
    app.holds("document.getElementById('status').textContent === 'Rx and T out, one unknown left: Ry'")
    app.painted(lambda: page.keyboard.press("Enter"))
    assert float(place(app)[0]) == pytest.approx(4.105, abs=5e-4)


def test_a_finger_presses_a_mark_on_a_phone(browser: Browser, site_url: str, wait_until: Wait) -> None:
    context = browser.new_context(
        viewport={"width": 390, "height": 844}, has_touch=True, is_mobile=True, service_workers="block"
    )
    app = AppPage(context.new_page(), wait_until, site_url)
    app.painted(lambda: app.page.locator("#dock").get_by_role("button", name="Pivot").tap())
    app.holds("document.getElementById('fields').dataset.of === 'pivot'")
    # The line of fields takes room from the board, which is then laid out anew.
    drawn = "document.querySelector('.sheet').viewBox.baseVal.height"
    there = "document.getElementById('desk').clientHeight"
    app.holds(f"{drawn} === {there}")
    x, y = app.middle("pivot.try-1")
    app.page.touchscreen.tap(x + 9, y - 7)
    app.holds("document.getElementById('field-pivot-x-quantity').value !== '0'")
    assert float(place(app)[0]) == pytest.approx(4.105, abs=5e-4)
    assert app.page.evaluate("document.documentElement.scrollWidth") <= 390
    assert app.heard == []
    context.close()
