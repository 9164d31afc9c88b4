"""Discs and round holes by mouse, finger and keys: drawn, made larger, cut, moved and filled again."""

from __future__ import annotations

from app_page import AppPage, Wait
from playwright.sync_api import Browser, Page


def value(app: AppPage, key: str) -> float:
    return float(app.field(key).input_value().replace("\u2212", "-"))


def test_a_disc_is_drawn_cut_made_larger_and_filled_again(page: Page, site_url: str, wait_until: Wait) -> None:
    app = AppPage(page, wait_until, site_url)
    app.blank()
    app.tool("Disc").click()
    app.drag(app.board(0.5, 0.5), app.board(0.6, 0.5))
    app.holds("document.getElementById('fields').dataset.of === 'disc'")
    assert app.tool("Disc").get_attribute("aria-pressed") == "false"
    radius = value(app, "radius")
    rim = app.middle("disc.grip-rim")
    app.drag(rim, (rim[0] + 20, rim[1] - 20))
    assert value(app, "radius") > radius > 0.0
    # A round hole, its radius dragged; the path of the body then holds two circles of two arcs each.
    app.tool("Hole").click()
    app.drag(app.board(0.46, 0.46), app.board(0.49, 0.46))
    path = page.locator("[id='board-disc']").get_attribute("d") or ""
    assert path.count("a") == 4
    page.locator(".fields-more-button").click()
    before = value(app, "hole0_x")
    hole = app.middle("disc.grip-hole-0")
    app.drag(hole, (hole[0] + 24, hole[1]))
    assert value(app, "hole0_x") > before
    # A hole that would leave the disc is not moved there; what is shown stays sound.
    app.painted(lambda: app.field("hole0_radius").fill("0.2"))
    app.painted(lambda: app.field("hole0_radius").press("Enter"))
    hole = app.middle("disc.grip-hole-0")
    app.drag(hole, (hole[0] + 400, hole[1]))
    kept = value(app, "hole0_x")
    assert kept + 0.2 <= value(app, "radius")
    # The mass acts where the rest of the disc has its middle: on the other side of the hole.
    app.painted(lambda: app.field("mass").fill("60"))
    app.painted(lambda: app.field("mass").press("Enter"))
    assert app.middle("disc.centre")[0] < app.middle("disc.middle")[0]
    app.painted(lambda: page.get_by_role("button", name="Fill hole", exact=True).click())
    path = page.locator("[id='board-disc']").get_attribute("d") or ""
    assert path.count("a") == 2
    assert app.heard == []


def test_by_touch_a_disc_takes_two_taps_and_a_hole_one(browser: Browser, site_url: str, wait_until: Wait) -> None:
    context = browser.new_context(viewport={"width": 390, "height": 844}, has_touch=True, service_workers="block")
    app = AppPage(context.new_page(), wait_until, site_url)
    app.menu("New")
    app.holds("document.querySelector('.outline').childElementCount === 0")
    for tool, taps in (("Disc", ((0.5, 0.4), (0.75, 0.4))), ("Hole", ((0.5, 0.4),))):
        app.page.get_by_role("button", name="Add", exact=True).tap()
        app.tool(tool).tap()
        for spot in taps:
            app.painted(lambda spot=spot: app.page.touchscreen.tap(*app.board(*spot)))
    app.holds("(document.getElementById('board-disc')?.getAttribute('d') ?? '').split('a').length === 5")
    assert app.heard == []
    context.close()


def test_the_sheet_says_when_it_is_seen_from_above(page: Page, site_url: str, wait_until: Wait) -> None:
    app = AppPage(page, wait_until, site_url)
    assert page.locator("[id='board-key.above']").count() == 0
    page.get_by_role("button", name="Shelf", exact=True).click()
    app.painted(lambda: page.locator(".shelf").get_by_text("Capstan bar").first.click())
    app.holds("document.getElementById('board-key.above') !== null")
    assert "seen from above" in (page.locator("[id='board-key.above']").text_content() or "")
    assert app.heard == []


def test_a_piece_is_fixed_to_a_body_dragged_given_another_shape_and_taken_off(
    page: Page, site_url: str, wait_until: Wait
) -> None:
    app = AppPage(page, wait_until, site_url)
    app.blank()
    app.tool("Disc").click()
    app.drag(app.board(0.5, 0.5), app.board(0.6, 0.5))
    page.locator(".fields-more-button").click()
    app.painted(lambda: page.get_by_role("button", name="Fix a piece to it", exact=True).click())
    assert value(app, "piece0_mass") == 10.0
    at = app.middle("disc.grip-piece-0")
    app.drag(at, (at[0] + 30, at[1]))
    assert value(app, "piece0_x") > 0.0
    shape = page.locator("[id='field-disc-piece0_shape-choice']")
    app.painted(lambda: shape.select_option("bar"))
    assert value(app, "piece0_width") > 0.0 and app.field("piece0_radius").count() == 0
    app.painted(lambda: page.get_by_role("button", name="Take piece off", exact=True).click())
    assert page.locator("[id='board-disc.piece-0']").count() == 0
    assert app.heard == []
