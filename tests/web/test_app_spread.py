"""Spread loads by hand, finger and keys: laid down, pulled longer and higher, and replaced by their resultant."""

from __future__ import annotations

from app_page import AppPage


def ends(app: AppPage) -> tuple[float, float]:
    return float(app.field("from").input_value()), float(app.field("to").input_value())


def table(app: AppPage) -> str:
    app.page.get_by_role("tab", name="Forces", exact=True).click()
    app.holds("document.querySelector('.forces, table') !== null")
    return " ".join(app.page.locator("table").first.inner_text().split())


def test_a_press_drag_lays_it_down_and_its_grips_make_it_longer_and_higher(app: AppPage) -> None:
    page = app.page
    app.bar_by_taps()
    app.tool("Spread load").click()
    app.drag(app.board(0.35, 0.5), app.board(0.6, 0.5))
    app.holds("document.getElementById('fields').dataset.of === 'spread'")
    assert app.tool("Spread load").get_attribute("aria-pressed") == "false"
    begin, stop = ends(app)
    assert 0.0 < begin < stop
    # The resultant is one thin arrow, lit with the diagram and gone without it.
    assert page.locator("[id='board-spread.resultant']").is_visible()
    app.drag(app.middle("spread.grip-end"), app.board(0.7, 0.5))
    assert ends(app)[0] == begin and ends(app)[1] > stop
    high = app.middle("spread.grip-end-height")
    app.drag(high, (high[0], high[1] - 30))
    assert float(app.field("end_intensity").input_value()) > float(app.field("start_intensity").input_value())
    app.painted(lambda: page.keyboard.press("Control+z"))
    app.painted(lambda: page.keyboard.press("Control+z"))
    assert ends(app) == (begin, stop)
    before = table(app)
    app.select("spread")
    page.locator(".fields-more-button").click()
    app.painted(lambda: page.get_by_role("button", name="Replace by its resultant").click())
    assert page.locator("[id='board-spread.heads']").count() == 0
    assert page.locator("[id='board-spread']").get_attribute("class").startswith("sy-arrow-known")  # type: ignore[union-attr]
    assert table(app) == before
    app.painted(lambda: page.keyboard.press("Control+z"))
    assert page.locator("[id='board-spread.heads']").count() == 1
    app.select("bar")
    page.mouse.move(*app.board(0.5, 0.9))
    assert page.locator("[id='board-spread.resultant']").is_hidden()
    assert app.heard == []


def test_two_taps_lay_it_down_on_a_phone(phone: AppPage) -> None:
    app = phone
    # The gangway slopes from the left; its ends are where the hinge and the rope hold it.
    box = app.page.locator("[id='board-gangway']").bounding_box()
    assert box is not None
    first, last = (
        (box["x"] + part * box["width"], box["y"] + (0.5 + 0.38 * way) * box["height"])
        for part, way in ((0.3, -0.4), (0.7, 0.4))
    )
    app.page.get_by_role("button", name="Add", exact=True).tap()
    app.page.get_by_role("button", name="Spread load", exact=True).tap()
    app.painted(lambda: app.page.touchscreen.tap(*first))
    app.painted(lambda: app.page.touchscreen.tap(*last))
    app.holds("document.getElementById('fields').dataset.of === 'spread'")
    assert app.page.locator("[id='board-spread.heads']").is_visible()
    assert app.heard == []


def test_keys_alone_lay_it_down_and_move_its_end(app: AppPage) -> None:
    page = app.page
    app.bar_by_taps()
    page.locator("#desk").focus()
    app.painted(lambda: page.keyboard.press("w"))
    app.holds("document.getElementById('fields').dataset.of === 'spread'")
    begin, stop = ends(app)
    assert begin == 0.0 and stop > 0.0
    # Its first field is open, ready to be typed into; back on the board its grips are its heights, then its ends.
    app.holds("document.activeElement.id === 'field-spread-from-quantity'")
    page.keyboard.press("Escape")
    app.holds("document.activeElement.id === 'desk'")
    for grip in ("load at the end of", "start of spread load"):
        page.keyboard.press("]")
        app.holds(f"document.getElementById('status').textContent.includes('{grip}')")
    app.painted(lambda: page.keyboard.press("Enter"))
    app.holds("document.getElementById('status').textContent.startsWith('Holding')")
    app.painted(lambda: page.keyboard.press("ArrowRight"))
    app.painted(lambda: page.keyboard.press("Enter"))
    assert ends(app)[0] > 0.0 and ends(app)[1] == stop
    assert app.heard == []
