"""The views of forces alone on the page: switching, dragging, the order by keys, arrows that travel."""

from __future__ import annotations

import pytest
from app_page import AppPage, Spot, Wait
from playwright.sync_api import BrowserContext

READ_BOARD = """() => Object.fromEntries([...document.querySelectorAll(".sheet [id^='board-']")].map((element) => [
  element.id, [...element.attributes].filter(({ name }) => name !== "class").map(({ name, value }) => [name, value]),
]))"""

# Clicks a tab and follows one attribute until the arrows stand still, noting every value it is given.
FOLLOW = """([tab, id]) => new Promise((resolve) => {
  const sheet = document.querySelector(".sheet");
  const element = document.getElementById(id);
  const seen = { before: element.getAttribute("d"), values: [], moved: false };
  const before = Number(document.documentElement.dataset.seq);
  const watch = new MutationObserver((records) => {
    for (const { target } of records) {
      if (target === sheet) seen.moved ||= sheet.hasAttribute("data-moving");
      else seen.values.push(element.getAttribute("d"));
    }
    if (Number(document.documentElement.dataset.seq) === before || sheet.hasAttribute("data-moving")) return;
    watch.disconnect();
    resolve({ ...seen, after: element.getAttribute("d") });
  });
  watch.observe(element, { attributes: true, attributeFilter: ["d"] });
  watch.observe(sheet, { attributes: true, attributeFilter: ["data-moving"] });
  watch.observe(document.documentElement, { attributes: true, attributeFilter: ["data-seq"] });
  [...document.querySelectorAll(".view")].find((each) => each.textContent === tab).click();
})"""

# Clicks a tab and presses on the board as soon as the arrows are on their way.
PRESS_ON_THE_WAY = """([tab]) => new Promise((resolve) => {
  const sheet = document.querySelector(".sheet");
  const watch = new MutationObserver(() => {
    if (!sheet.hasAttribute("data-moving")) return;
    watch.disconnect();
    const press = { bubbles: true, pointerId: 1, isPrimary: true, button: 0, buttons: 1, clientX: 600, clientY: 80 };
    sheet.dispatchEvent(new PointerEvent("pointerdown", press));
    const moving = sheet.hasAttribute("data-moving");
    sheet.dispatchEvent(new PointerEvent("pointercancel", press));
    resolve(moving);
  });
  watch.observe(sheet, { attributes: true, attributeFilter: ["data-moving"] });
  [...document.querySelectorAll(".view")].find((each) => each.textContent === tab).click();
})"""


@pytest.fixture
def app(later_visit: BrowserContext, wait_until: Wait, site_url: str) -> AppPage:
    page = later_visit.new_page()
    page.emulate_media(reduced_motion="reduce")
    return AppPage(page, wait_until, site_url)


def go(app: AppPage, tab: str) -> None:
    app.painted(app.page.locator(".views").get_by_role("button", name=tab, exact=True).click)
    app.holds(
        f"[...document.querySelectorAll('.view[aria-pressed=true]')].map((e) => e.textContent).join() === '{tab}'"
    )


def order(app: AppPage) -> str:
    return "".join(app.page.locator(".chain-force").all_inner_texts())


def drag(app: AppPage, start: Spot, end: Spot) -> None:
    mouse = app.page.mouse
    mouse.move(*start)
    mouse.down()
    mouse.move((start[0] + end[0]) / 2, (start[1] + end[1]) / 2, steps=4)
    mouse.move(*end, steps=4)
    app.painted(mouse.up)


def test_the_order_changes_by_dragging_a_shaft_by_keys_and_by_buttons(app: AppPage) -> None:
    go(app, "Polygon")
    assert order(app) == "WPRT"
    app.painted(app.page.locator(".chain-force[data-of='walker']").click)
    weight, walker = app.middle("gangway-weight"), app.middle("walker")
    drag(app, walker, (walker[0], weight[1] - 20))
    app.holds("document.querySelector('.chain-force').dataset.of === 'walker'")
    assert order(app) == "PWRT"
    chip = app.page.locator(".chain-force[data-of='walker']")
    chip.focus()
    app.painted(lambda: app.page.keyboard.press("ArrowRight"))
    app.painted(lambda: app.page.keyboard.press("ArrowRight"))
    assert order(app) == "WRPT"
    assert app.page.evaluate("document.activeElement.dataset.of") == "walker"
    app.holds("document.getElementById('status').textContent.includes('P, third in the chain')")
    app.painted(app.page.get_by_role("button", name="Later in the chain").click)
    assert order(app) == "WRTP"
    assert app.page.get_by_role("button", name="Later in the chain").is_disabled()
    for expected in ("WRPT", "WPRT", "PWRT", "WPRT"):
        app.painted(lambda: app.page.keyboard.press("Control+z"))
        assert order(app) == expected
    assert app.heard == []


def test_a_head_dragged_in_the_polygon_drives_strips_and_table_and_keys_walk_the_chain(app: AppPage) -> None:
    go(app, "Polygon")
    app.painted(app.page.locator(".chain-force[data-of='hinge']").click)
    before = app.page.locator(".strips").text_content()
    grip = app.middle("hinge.grip-guess")
    drag(app, grip, (grip[0] + 60, grip[1] - 40))
    app.holds("document.getElementById('board-hinge.guess') !== null")
    app.holds("!document.querySelector('.tray-history button').disabled")
    assert app.page.locator(".strips").text_content() != before
    assert app.page.locator(".chain-guess").inner_text() == "R"
    app.page.locator("#desk").focus()
    for force in ("hoist", "pivot", "gangway-weight"):
        app.page.keyboard.press("ArrowRight")
        app.holds(f"document.getElementById('fields').dataset.of === '{force}'")
    for tab in ("Set-up", "Extended", "Point", "Polygon"):
        app.page.keyboard.press("v")
        app.holds(f"document.querySelector('.view[aria-pressed=true]').textContent === '{tab}'")
    app.page.keyboard.press("Shift+V")
    app.holds("document.querySelector('.view[aria-pressed=true]').textContent === 'Point'")
    assert app.heard == []


def test_tools_that_need_a_body_are_grey_with_the_reason_and_do_nothing(app: AppPage) -> None:
    go(app, "Extended")
    app.painted(app.tool("Rope").click)
    go(app, "Point")
    assert app.tool("Rope").get_attribute("aria-pressed") == "false"
    grey = app.page.locator(".tool[aria-disabled='true']").all_inner_texts()
    assert "Rope" in grey
    assert "Bar" in grey
    assert not {"Force", "Pivot"} & set(grey)
    things = app.page.locator(".outline-entry").count()
    app.tool("Rope").click(force=True)
    app.holds("document.querySelector('.notices').textContent.includes('Rope: not in this view.')")
    app.page.locator("#desk").focus()
    app.page.keyboard.press("r")
    app.holds("document.getElementById('status').textContent.includes('Rope: not in this view.')")
    assert app.page.locator(".outline-entry").count() == things
    app.tool("Force").click()
    dot = app.middle("point.dot")
    drag(app, dot, (dot[0] + 90, dot[1] - 50))
    app.holds(f"document.querySelectorAll('.outline-entry').length === {things + 1}")
    assert app.heard == []


def test_arrows_travel_to_the_dot_and_end_exactly_where_they_were_sent(app: AppPage) -> None:
    page = app.page
    still = {}
    for tab in ("Point", "Polygon", "Extended"):
        go(app, tab)
        still[tab] = page.evaluate(READ_BOARD)
        assert not page.evaluate("document.querySelector('.sheet').hasAttribute('data-moving')")
    page.emulate_media(reduced_motion="no-preference")
    for tab in ("Point", "Polygon", "Extended"):
        seen = page.evaluate(FOLLOW, [tab, "board-walker"])
        assert seen["moved"]
        assert seen["values"][0] == seen["after"] or seen["before"] in seen["values"]
        assert seen["before"] != seen["after"]
        assert page.evaluate(READ_BOARD) == still[tab]
    assert page.evaluate(PRESS_ON_THE_WAY, ["Point"]) is False
    assert page.evaluate(READ_BOARD) == still["Point"]
    assert app.heard == []


def test_the_phone_offers_the_same_views(app: AppPage) -> None:
    page = app.page
    page.set_viewport_size({"width": 390, "height": 844})
    page.locator("#dock").get_by_role("button", name="Views").click()
    menu = page.locator("#dock .menu")
    assert menu.get_by_role("button").all_inner_texts()[:4] == ["Set-up", "Extended", "Point", "Polygon"]
    app.painted(menu.get_by_role("button", name="Polygon", exact=True).click)
    app.holds("document.getElementById('board-inset.heading') !== null")
    app.holds("document.querySelector('.sheet').viewBox.baseVal.width === 390")
    app.painted(page.locator(".chain-force").first.click)
    for button in page.locator(".chain button").all():
        box = button.bounding_box()
        assert box is not None
        assert min(box["width"], box["height"]) >= 24
        assert box["x"] >= 0
        assert box["x"] + box["width"] <= 390
    assert app.heard == []
