"""Rough contacts and faces on the live page: laid down, made rough, dragged until they slip; by every kind of hand."""

from __future__ import annotations

from app_page import AppPage, Wait
from playwright.sync_api import Browser, Page


def type_into(app: AppPage, key: str, text: str) -> None:
    app.field(key).fill(text)
    app.painted(lambda: app.field(key).press("Enter"))


def scenario(app: AppPage, title: str) -> None:
    app.page.get_by_role("button", name="Shelf", exact=True).first.click()
    app.painted(lambda: app.page.locator(".shelf-entry", has_text=title).click())
    app.holds(f"document.title.includes('{title}') || document.body.textContent.includes('{title}')")


def test_a_tapped_contact_made_rough_by_its_field_shows_friction_beside_its_push(
    page: Page, site_url: str, wait_until: Wait
) -> None:
    app = AppPage(page, wait_until, site_url)
    app.bar_by_taps()
    app.tool("Contact").click()
    app.painted(lambda: page.mouse.click(*app.board(0.5, 0.5)))
    app.holds("document.getElementById('fields').dataset.of === 'contact'")
    assert page.locator("[id='board-contact-friction']").count() == 0
    type_into(app, "mu", "0,4")
    app.holds("document.getElementById('board-contact-friction') !== null")
    assert app.field("mu").input_value() == "0.4"
    assert any(name.endswith("friction") for name in app.names())
    app.painted(lambda: page.keyboard.press("Control+z"))
    app.holds("document.getElementById('board-contact-friction') === null")
    assert app.heard == []


def test_two_taps_lay_a_face_down_and_its_end_is_dragged_along_the_body(
    page: Page, site_url: str, wait_until: Wait
) -> None:
    app = AppPage(page, wait_until, site_url)
    app.bar_by_taps()
    app.tool("Face").click()
    for x in (0.35, 0.6):
        app.painted(lambda x=x: page.mouse.click(*app.board(x, 0.5)))
    app.holds("document.getElementById('fields').dataset.of === 'contact'")
    begin, stop = (float(app.field(key).input_value()) for key in ("from", "to"))
    assert 0.0 < begin < stop
    app.drag(app.middle("contact.grip-end"), app.board(0.7, 0.58))
    assert float(app.field("from").input_value()) == begin
    assert float(app.field("to").input_value()) > stop
    app.painted(lambda: page.keyboard.press("Control+z"))
    assert float(app.field("to").input_value()) == stop
    assert app.heard == []


def test_a_painter_dragged_up_a_ladder_uses_up_its_grip_until_the_foot_slips(
    page: Page, site_url: str, wait_until: Wait
) -> None:
    """By hand: f/C = 0.3 with the painter 4.43 m up, of 5 m."""
    app = AppPage(page, wait_until, site_url)
    scenario(app, "Ladder with a rough foot")
    assert page.locator(".meter").count() == 0
    app.painted(lambda: page.get_by_role("button", name="Show the answers").click())
    app.select("foot-friction")
    meter = page.locator("#fields .meter").first
    assert meter.get_attribute("aria-label") == "f over C is 0.213 of μ, 0.3"
    start, top = app.middle("painter.at"), app.middle("hull.at")
    low = app.middle("foot.at")
    high = (low[0] + 0.95 * (top[0] - low[0]), low[1] + 0.95 * (top[1] - low[1]))
    app.drag(start, high)
    app.holds("document.querySelector('.forces .meter.over') !== null")
    assert "more than" in page.locator(".forces .meter.over").inner_text()
    assert page.locator("[id='board-foot-friction.strike']").is_visible()
    app.painted(lambda: page.keyboard.press("Control+z"))
    app.holds("document.querySelector('.forces .meter.over') === null")
    assert app.heard == []


def test_a_crate_put_on_the_point_of_slipping_says_so_on_the_figure_and_in_the_problem(
    page: Page, site_url: str, wait_until: Wait
) -> None:
    app = AppPage(page, wait_until, site_url)
    scenario(app, "Ladder with a rough foot")
    app.select("foot")
    page.locator(".fields-more-button").click()
    choice = page.locator("[id='field-foot-about_to-choice']")
    app.painted(lambda: choice.select_option(label="slip to the left"))
    app.holds("document.querySelector('.problem, .side').textContent.includes('about to slip to the left')")
    app.painted(lambda: page.get_by_text("Set-up", exact=True).click())
    app.holds(
        "[...document.querySelectorAll('.sheet text')].some((each) => each.textContent.includes('about to slip'))"
    )
    assert app.heard == []


def test_keys_alone_lay_a_face_down_make_it_rough_and_shorten_it(page: Page, site_url: str, wait_until: Wait) -> None:
    app = AppPage(page, wait_until, site_url)
    app.bar_by_taps()
    page.locator("#desk").focus()
    app.painted(lambda: page.keyboard.press("g"))
    app.holds("document.activeElement.id === 'field-contact-from-quantity'")
    whole = float(app.field("to").input_value())
    for _ in range(8):
        page.keyboard.press("Tab")
        if page.evaluate("document.activeElement.id") == "field-contact-mu-quantity":
            break
    page.keyboard.type("0.5")
    app.painted(lambda: page.keyboard.press("Enter"))
    app.holds("document.activeElement.id === 'desk'")
    app.holds("document.getElementById('board-contact-friction') !== null")
    for _ in range(8):
        if "end of" in page.locator("#status").inner_text():
            break
        page.keyboard.press("]")
    app.painted(lambda: page.keyboard.press("Enter"))
    app.holds("document.getElementById('status').textContent.startsWith('Holding')")
    app.painted(lambda: page.keyboard.press("ArrowLeft"))
    app.painted(lambda: page.keyboard.press("Enter"))
    assert float(app.field("to").input_value()) < whole
    assert app.heard == []


def test_two_taps_lay_a_face_down_on_a_phone_and_its_bar_has_room(
    browser: Browser, site_url: str, wait_until: Wait
) -> None:
    context = browser.new_context(viewport={"width": 390, "height": 844}, has_touch=True)
    try:
        app = AppPage(context.new_page(), wait_until, site_url)
        app.page.get_by_role("button", name="Menu", exact=True).click()
        app.page.locator(".menu").get_by_role("button", name="Shelf", exact=True).click()
        app.painted(lambda: app.page.locator(".shelf-entry", has_text="Crate on a heeling pontoon").click())
        app.painted(lambda: app.page.get_by_role("button", name="Show the answers").tap())
        app.painted(lambda: app.page.touchscreen.tap(*app.middle("deck-friction.at")))
        app.holds("document.getElementById('fields').dataset.of.startsWith('deck')")
        for meter in app.page.locator("#fields .meter").all():
            box = meter.bounding_box()
            assert box is None or box["x"] + box["width"] <= 390
        assert app.page.locator("#fields .meter").count() >= 1
        assert app.heard == []
    finally:
        context.close()
