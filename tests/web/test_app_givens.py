"""Givens, the problem's sentence and the third-law partner on the page: by mouse, by taps alone, by keys alone."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from app_page import AppPage, Wait
from playwright.sync_api import Browser
from sketcher import Sketcher
from test_app_reach import violations


@pytest.fixture(scope="module")
def app(browser: Browser, site_url: str, wait_until: Wait) -> Iterator[AppPage]:
    """One page for all that is tried with mouse and keys: each test leaves a sketch the next can use."""
    context = browser.new_context(viewport={"width": 1366, "height": 768}, service_workers="block")
    context.grant_permissions(["clipboard-read", "clipboard-write"])
    opened = AppPage(context.new_page(), wait_until, site_url)
    yield opened
    assert opened.heard == []
    context.close()


def spot(app: AppPage, x_m: float, y_m: float) -> tuple[float, float]:
    """Where a point of the paper is on the screen."""
    return Sketcher(app.page, app.wait).spot(x_m, y_m)


def problem(app: AppPage) -> str:
    return app.page.locator(".problem-words").inner_text().replace("\u00a0", " ")


def set_up(app: AppPage) -> None:
    app.page.locator("#tab-forces").click()
    app.page.locator(".views").get_by_role("button", name="Set-up").click()
    app.holds("document.getElementById('problem')?.hidden === false")
    app.holds("document.querySelector('.sheet').getAttribute('aria-label').startsWith('Set-up')")


# On the gangway: the hoist is fastened 5.2 m along it, at 12° below the level.
HOIST = (5.0864, -1.0811)


def test_a_dimension_is_drawn_moved_typed_and_said_in_the_problem(app: AppPage) -> None:
    set_up(app)
    before = app.page.locator(".outline-entry").count()
    app.tool("Length").click()
    start, end = spot(app, 0.0, 0.0), spot(app, *HOIST)
    app.page.mouse.move(*start)
    app.page.mouse.down()
    app.page.mouse.move((start[0] + end[0]) / 2, (start[1] + end[1]) / 2, steps=4)
    app.page.mouse.move(*end, steps=4)
    app.painted(app.page.mouse.up)
    app.holds(f"document.querySelectorAll('.outline-entry').length === {before + 1}")
    made = app.selected
    assert app.field("value").input_value() == "5.2"
    # Its line is taken by the hand and stands farther off; what it measures stays.
    line = app.page.locator(f"[id='board-{made}']")
    path = line.get_attribute("d")
    middle = app.middle(made)
    app.page.mouse.move(*middle)
    app.page.mouse.down()
    app.page.mouse.move(middle[0] - 5, middle[1] - 20, steps=4)
    app.page.mouse.move(middle[0] - 10, middle[1] - 150, steps=4)
    app.painted(app.page.mouse.up)
    app.holds(f"document.getElementById('board-{made}').getAttribute('d') !== {path!r}")
    assert app.field("value").input_value() == "5.2"
    # A number typed moves the rope along the gangway, and the sentence follows while it is typed.
    assert "runs from a point 5.2 m from A" in problem(app)
    app.field("value").fill("4.5")
    app.holds("document.querySelector('.problem-words').textContent.includes('a point 4.5\\u00a0m from A')")
    app.painted(lambda: app.field("value").press("Enter"))
    app.select("hoist")
    assert app.field("at").input_value() == "4.5"
    # The sentence follows the hand as well.
    app.page.mouse.move(*app.middle("walker"))
    app.page.mouse.down()
    app.page.mouse.move(app.middle("walker")[0] - 60, app.middle("walker")[1] - 12, steps=8)
    app.holds("!document.querySelector('.problem-words').textContent.includes('stands on it 4\\u00a0m from A')")
    app.painted(lambda: app.page.keyboard.press("Escape"))
    app.page.mouse.up()
    assert "stands on it 4 m from A" in problem(app)


def test_the_problem_is_copied_and_a_letter_stands_for_its_number(app: AppPage) -> None:
    set_up(app)
    app.select("dip")
    letter = app.page.locator("[id='field-dip-letter-text']")
    letter.fill("θ")
    app.painted(lambda: letter.press("Enter"))
    app.painted(lambda: app.page.locator("[id='field-dip-number-switch']").click())
    assert "slopes down to the right at θ to the horizontal" in problem(app)
    app.page.get_by_role("button", name="Copy the problem").click()
    app.holds("document.getElementById('status').textContent.includes('copied')")
    copied = app.page.evaluate("navigator.clipboard.readText()").replace("\u00a0", " ")
    assert copied == problem(app)


def test_angle_slope_and_label_are_placed_by_taps_alone_on_a_phone(phone: AppPage) -> None:
    app = phone
    dock = app.page.locator("#dock")
    app.painted(lambda: app.page.evaluate("document.querySelector('.views button').click()"))
    rope, body, end = spot(app, 3.2, 1.0), spot(app, 1.6, -0.34), spot(app, 5.869, -1.247)
    for tool, taps, kind in (
        ("Angle", (rope, body), "angle"),
        ("Slope", (spot(app, 2.2, 2.089),), "slope"),
        ("Label", (end,), "label"),
        ("Length", (spot(app, 0.0, 0.0), end), "length"),
    ):
        dock.get_by_role("button", name="Add").tap()
        app.page.locator("#tray").get_by_role("button", name=tool, exact=True).tap()
        for tap in taps:
            app.painted(lambda tap=tap: app.page.touchscreen.tap(*tap))
        app.holds(f"(document.getElementById('fields').dataset.of ?? '').startsWith('{kind}')")
    assert app.heard == []


def test_givens_are_made_walked_moved_and_deleted_by_keys_alone(app: AppPage) -> None:
    set_up(app)
    app.select("walker")
    desk = app.page.locator("#desk")
    desk.focus()
    app.page.keyboard.press("d")
    app.holds("document.activeElement.id.endsWith('-value-quantity')")
    made = app.selected
    assert app.field("value").input_value() == "4"
    app.page.keyboard.press("Escape")
    app.holds("document.activeElement.id === 'desk'")
    line = app.page.locator(f"[id='board-{made}']")
    path = line.get_attribute("d")
    app.page.keyboard.press("Enter")
    app.painted(lambda: app.page.keyboard.press("ArrowDown"))
    app.painted(lambda: app.page.keyboard.press("Enter"))
    app.holds(f"document.getElementById('board-{made}').getAttribute('d') !== {path!r}")
    assert "length from A to walker" in (line.get_attribute("aria-label") or "")
    app.painted(lambda: app.page.keyboard.press("Delete"))
    app.holds(f"document.getElementById('board-{made}') === null")


def test_the_partner_stands_on_a_card_of_its_own_and_escape_closes_it(app: AppPage) -> None:
    set_up(app)
    for of, other in (("gangway-weight", "Earth"), ("hinge", "hinge"), ("hoist", "hoist"), ("walker", "walker")):
        app.select(of)
        app.page.locator(".fields-more-button").click()
        button = app.page.get_by_role("button", name=f"Its partner on the {other}")
        button.focus()
        app.page.keyboard.press("Enter")
        app.holds("!document.querySelector('.partner').hidden")
        app.holds("document.activeElement.classList.contains('partner-close')")
        name = app.page.locator(".partner-name").inner_text()
        assert name.startswith(f"Force by gangway on {other}") and name.endswith("the other way")
        assert app.page.locator(f".partner-picture [data-of='partner-{of}']").count() > 0
        assert app.page.locator(".sheet [data-of^='partner-']").count() == 0
        app.page.keyboard.press("Escape")
        app.holds("document.querySelector('.partner').hidden")
        app.holds("document.activeElement.id === 'desk'")
        assert app.selected == of


def test_axe_finds_nothing_with_the_problem_a_given_and_a_partner_in_sight(app: AppPage, axe_source: str) -> None:
    set_up(app)
    app.select("dip")
    app.page.locator(".fields-more-button").click()
    assert violations(app, axe_source) == []
    app.select("walker")
    app.page.locator(".fields-more-button").click()
    app.page.get_by_role("button", name="Its partner on the walker").click()
    app.holds("!document.querySelector('.partner').hidden")
    assert violations(app, axe_source) == []
    app.page.get_by_role("button", name="Close the partner").click()
    app.holds("document.querySelector('.partner').hidden")
