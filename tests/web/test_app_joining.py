"""Several bodies on the page: joined by taps, taken as one by the keyboard, and undone."""

from __future__ import annotations

import json

from app_page import AppPage, Wait
from playwright.sync_api import Page

TITLE = "document.querySelector('.system-button').title"


def two_legs(app: AppPage) -> None:
    """Two bars that meet at the top, each drawn by two taps; the second one is caught by the end of the first."""
    app.blank()
    for count, foot in enumerate((0.25, 0.75), start=1):
        app.tool("Bar").click()
        for x, y in ((foot, 0.7), (0.5, 0.3)):
            app.painted(lambda x=x, y=y: app.page.mouse.click(*app.board(x, y)))
        app.holds(f"document.querySelectorAll('.outline-entry').length === {count}")


def test_bars_are_joined_by_a_tap_where_they_meet_and_parted_by_undo(
    page: Page, site_url: str, wait_until: Wait
) -> None:
    app = AppPage(page, wait_until, site_url)
    two_legs(app)
    app.tool("Pin").click()
    app.painted(lambda: page.mouse.click(*app.board(0.5, 0.3)))
    app.holds("document.getElementById('fields').dataset.of === 'pin'")
    assert any("pin to bar" in name for name in app.names())
    page.locator(".fields-more-button").click()
    other = page.locator("#fields select[id$='-other-choice']")
    assert other.locator("option").all_text_contents()[0] == "the ground"
    assert other.input_value() != ""
    app.painted(lambda: page.keyboard.press("Control+z"))
    app.holds("document.querySelectorAll('.outline-entry').length === 2")
    assert not app.heard


def test_legs_are_taken_as_one_by_the_keyboard_and_apart_again_by_undo(
    page: Page, site_url: str, wait_until: Wait
) -> None:
    app = AppPage(page, wait_until, site_url)
    page.get_by_role("button", name="Shelf", exact=True).click()
    app.painted(lambda: page.get_by_text("Trestle on the quay").first.click())
    app.holds(f"{TITLE}.startsWith('Right leg.')")
    assert page.locator("[id='board-top.y']").count() == 1
    button = page.locator(".system-button")
    button.focus()
    page.keyboard.press("Enter")
    page.keyboard.press("ArrowDown")
    assert page.evaluate("document.activeElement.dataset.of") == "left-leg"
    app.painted(lambda: page.keyboard.press("Enter"))
    app.holds(f"{TITLE}.startsWith('Right leg and left leg taken as one')")
    # The pin is inside now: a joint is drawn, and no force there.
    app.holds("document.getElementById('board-top.y') === null")
    assert page.locator("[id='board-top']").count() == 1
    assert page.locator(".strips [data-of='tie']").count() == 0
    page.keyboard.press("Escape")
    assert page.evaluate("document.activeElement.className") == "system-button"
    app.painted(lambda: page.keyboard.press("Control+z"))
    app.holds(f"{TITLE}.startsWith('Right leg.')")
    assert not app.heard


def test_answers_of_the_other_body_are_kept_back_too(page: Page, site_url: str, wait_until: Wait) -> None:
    app = AppPage(page, wait_until, site_url)
    page.get_by_role("button", name="Shelf", exact=True).click()
    app.painted(lambda: page.get_by_text("Trestle on the quay").first.click())
    app.select("left-leg")
    app.holds(f"{TITLE}.startsWith('Left leg.')")
    said = json.dumps(page.content())
    assert "board-top-back" in said
    for answer in ("221", "235", "323", "549"):
        assert f">{answer}" not in said and f" {answer} N" not in said and f" {answer}\\u00a0N" not in said
