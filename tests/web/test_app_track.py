"""The track of one number on the page: opened from the fields, dragged and stepped, undone, closed."""

from __future__ import annotations

from app_page import AppPage


def limits_button(app: AppPage):
    return app.page.locator("#fields").get_by_role("button", name="Limits")


def said(app: AppPage) -> str:
    return app.page.locator(".track-said").inner_text()


def test_a_number_is_dragged_along_its_track_past_its_safe_stretch(app: AppPage) -> None:
    app.select("gangway")
    app.page.locator(".fields-more-button").click()
    assert limits_button(app).count() == 0  # answers are kept back
    app.painted(app.page.locator(".answers-button").click)
    app.painted(limits_button(app).click)
    app.page.locator("#track").wait_for()
    assert said(app).startswith("Held in balance from −90.00° to 69.44°.")
    assert app.page.locator(".track-safe").count() >= 2
    handle = app.page.locator(".track-handle")
    box = handle.bounding_box()
    assert box is not None and box["height"] >= 24

    def at(angle_deg: float) -> tuple[float, float]:
        return box["x"] + 12 + (box["width"] - 24) * (angle_deg + 180) / 360, box["y"] + 12

    app.page.mouse.move(*at(-12))
    app.page.mouse.down()
    app.painted(lambda: app.page.mouse.move(*at(73)))
    app.holds("document.querySelector('.track-said').textContent.startsWith('Not held here')")
    assert "would have to push" in app.page.locator("#verdict").inner_text()
    app.page.mouse.up()
    app.holds("Math.abs(Number(document.querySelector('.track-handle').value) - 73) < 2")
    # Keys step it; Escape closes it and gives the board the focus back.
    handle.focus()
    before = float(handle.input_value())
    app.painted(lambda: handle.press("ArrowRight"))
    assert float(handle.input_value()) == before + 1.0
    assert handle.get_attribute("aria-valuetext") == f"{before + 1:g} degrees"
    handle.press("Escape")
    app.page.locator("#track").wait_for(state="hidden")
    app.holds("document.activeElement.id === 'desk'")
    app.painted(lambda: app.page.keyboard.press("Control+z"))
    app.painted(lambda: app.page.keyboard.press("Control+z"))
    assert app.field("angle").input_value() == "−12"
    assert app.heard == []
