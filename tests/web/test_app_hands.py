"""Mouse and finger: placing without a drag, picking where things stack, and what moves nothing."""

from __future__ import annotations

import pytest
from app_page import AppPage, Wait
from playwright.sync_api import Page

TWO_POINTS = ("Rope", "Strut", "Force", "Spread load")
ONE_POINT = ("Pin", "Roller", "Contact", "Fixed end", "Couple", "Thing")


def bar_by_taps(app: AppPage) -> None:
    app.blank()
    app.tool("Bar").click()
    app.painted(lambda: app.page.mouse.click(*app.board(0.3, 0.5)))
    app.painted(lambda: app.page.mouse.click(*app.board(0.7, 0.5)))
    app.holds("document.querySelectorAll('.outline-entry').length > 0")


CORNERS = [(0.3, 0.6), (0.7, 0.6), (0.6, 0.3)]


@pytest.mark.parametrize(
    ("tool", "taps"),
    [("Bar", CORNERS[:2]), ("Bent bar", [*CORNERS, CORNERS[-1]]), ("Plate", [*CORNERS, CORNERS[0]])],
)
def test_bodies_are_placed_corner_by_corner_with_taps(app: AppPage, tool: str, taps: list[tuple[float, float]]) -> None:
    app.blank()
    app.painted(app.tool(tool).click)
    # Found once: the last tap has to fall where the first one fell, whatever the panels around do meanwhile.
    for spot in [app.board(*spot) for spot in taps]:
        app.painted(lambda spot=spot: app.page.mouse.click(*spot))
    app.holds("document.querySelectorAll('.outline-entry').length > 0")
    assert tool.lower() in app.names()[0]
    assert app.tool(tool).get_attribute("aria-pressed") == "false"
    assert app.selected


def test_every_load_and_support_is_placed_by_taps_alone(app: AppPage) -> None:
    bar_by_taps(app)
    for count, tool in enumerate(TWO_POINTS + ONE_POINT, start=1):
        before = app.page.locator(".outline-entry").count()
        app.tool(tool).click()
        at = 0.3 + 0.04 * count
        app.page.mouse.click(*app.board(at, 0.5))
        if tool in TWO_POINTS:
            app.page.mouse.click(*app.board(at + 0.05, 0.25))
        app.holds(f"document.querySelectorAll('.outline-entry').length > {before}")
        assert app.tool(tool).get_attribute("aria-pressed") == "false"


def test_an_empty_sheet_takes_a_bar_without_a_tool(app: AppPage) -> None:
    app.blank()
    app.page.mouse.move(*app.board(0.3, 0.5))
    app.page.mouse.down()
    app.page.mouse.move(*app.board(0.5, 0.5), steps=5)
    app.page.mouse.move(*app.board(0.7, 0.5), steps=5)
    app.painted(app.page.mouse.up)
    app.holds("document.querySelectorAll('.outline-entry').length > 0")


def test_escape_steps_back_from_the_first_point_then_puts_the_tool_down(app: AppPage) -> None:
    bar_by_taps(app)
    before = app.names()
    app.tool("Rope").click()
    app.painted(lambda: app.page.mouse.click(*app.board(0.5, 0.5)))
    app.painted(lambda: app.page.keyboard.press("Escape"))
    assert app.tool("Rope").get_attribute("aria-pressed") == "true"
    app.painted(lambda: app.page.keyboard.press("Escape"))
    assert app.tool("Rope").get_attribute("aria-pressed") == "false"
    assert app.names() == before


def test_a_double_tap_keeps_the_tool(app: AppPage) -> None:
    bar_by_taps(app)
    app.tool("Thing").dblclick()
    for at in (0.4, 0.5, 0.6):
        before = app.page.locator(".outline-entry").count()
        app.page.mouse.click(*app.board(at, 0.5))
        app.holds(f"document.querySelectorAll('.outline-entry').length === {before + 1}")
    assert app.tool("Thing").get_attribute("aria-pressed") == "true"


def test_a_press_drag_is_one_undo_step_and_a_press_that_does_not_move_is_none(app: AppPage) -> None:
    app.painted(lambda: app.page.mouse.click(*app.middle("walker")))
    assert app.page.locator(".tray-history button").first.is_disabled()
    app.select("walker")
    tail = app.page.locator(".sheet .sy-grip[data-of='walker']").first.bounding_box()
    assert tail is not None
    x, y = tail["x"] + tail["width"] / 2, tail["y"] + tail["height"] / 2
    app.page.mouse.move(x, y)
    app.page.mouse.down()
    app.page.mouse.move(x + 60, y + 12, steps=8)
    app.page.mouse.up()
    app.holds("!document.querySelector('.tray-history button').disabled")
    assert float(app.field("at").input_value()) > 4.0
    app.painted(lambda: app.page.keyboard.press("Control+z"))
    assert app.field("at").input_value() == "4"
    assert app.page.locator(".tray-history button").first.is_disabled()


def test_a_cancelled_press_puts_everything_back(app: AppPage) -> None:
    app.select("walker")
    grip = app.page.locator(".sheet .sy-grip[data-of='walker']").first.bounding_box()
    assert grip is not None
    x, y = grip["x"] + grip["width"] / 2, grip["y"] + grip["height"] / 2
    app.page.mouse.move(x, y)
    app.page.mouse.down()
    app.page.mouse.move(x + 60, y + 12, steps=8)
    app.holds("document.querySelector('[id=field-walker-at-quantity]').value !== '4'")
    app.painted(lambda: app.page.keyboard.press("Escape"))
    app.page.mouse.up()
    app.holds("document.querySelector('[id=field-walker-at-quantity]').value === '4'")


def test_a_second_tap_in_place_takes_the_next_thing_and_a_right_click_lists_them(app: AppPage) -> None:
    spot = app.middle("pivot")
    taken = []
    for _ in range(3):
        app.painted(lambda: app.page.mouse.click(*spot))
        taken.append(app.selected)
    assert len(set(taken)) == 3
    app.page.mouse.click(*spot, button="right")
    listed = app.page.locator(".things-here li")
    listed.first.wait_for()
    of = [each.get_attribute("data-of") for each in listed.all()]
    assert set(taken) <= set(of)
    app.page.keyboard.press("ArrowDown")
    app.painted(lambda: app.page.keyboard.press("Enter"))
    assert app.selected == of[1]


def test_a_click_without_pointer_events_selects_too(app: AppPage) -> None:
    app.painted(
        lambda: app.page.evaluate(
            "document.querySelector('.sheet [data-of=walker]').dispatchEvent(new MouseEvent('click', {bubbles: true}))"
        )
    )
    assert app.selected == "walker"


def test_lighting_a_row_lights_the_arrow_and_its_segments(app: AppPage) -> None:
    app.page.get_by_role("tab", name="Forces", exact=True).click()
    app.page.locator("tr[data-of='hoist']").hover()
    for part in (".sheet", ".strips", ".forces", ".outline"):
        app.holds(f"document.querySelector('{part} [data-of=hoist].lit') !== null")
    assert app.page.evaluate("[...document.querySelectorAll('.lit')].every((each) => each.dataset.of === 'hoist')")


def test_a_finger_drags_with_a_reading_above_it_and_two_fingers_come_nearer(phone: AppPage) -> None:
    app = phone
    hands = app.page.context.new_cdp_session(app.page)

    def touch(kind: str, *points: tuple[float, float]) -> None:
        fingers = [{"x": x, "y": y, "id": finger} for finger, (x, y) in enumerate(points)]
        hands.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": fingers})

    x, y = app.middle("walker")
    touch("touchStart", (x, y))
    for step in range(1, 9):
        touch("touchMove", (x - 5 * step, y))
    app.holds("!document.querySelector('.bubble').hidden")
    bubble = app.page.locator(".bubble").bounding_box()
    assert bubble is not None
    assert bubble["y"] + bubble["height"] < y - 40 or bubble["y"] > y + 40
    touch("touchEnd")
    app.holds("!document.querySelector('.tray-history button').disabled")

    marks = "[...document.querySelectorAll('[id^=\"board-edge.x\"]')].map((each) => each.textContent).join()"
    before = app.page.evaluate(marks)
    left, right = app.board(0.4, 0.2), app.board(0.6, 0.2)
    touch("touchStart", left)
    touch("touchStart", left, right)
    for step in range(1, 12):
        touch("touchMove", (left[0] - 6 * step, left[1]), (right[0] + 6 * step, right[1]))
    touch("touchEnd")
    app.holds(f"{marks} !== {before!r}")


def test_a_press_before_the_engine_is_ready_is_kept_and_applied(page: Page, site_url: str, wait_until: Wait) -> None:
    page.goto(site_url)
    wait_until(page, "document.querySelector('.sheet [data-of=walker]') !== null")
    assert page.locator("html").get_attribute("data-ready") is None
    box = page.locator("[id='board-walker']").bounding_box()
    assert box is not None
    page.mouse.click(box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)
    wait_until(page, 'document.documentElement.dataset.ready === "true"')
    wait_until(page, "document.getElementById('fields').dataset.of === 'walker'")
