"""A wrong guess is drawn, argued with, turned, stretched and laid beside its answer: by mouse, by keys alone."""

from __future__ import annotations

import math
from typing import Any

import pytest
from app_page import AppPage, Spot
from playwright.sync_api import Browser

PHONE = {"width": 390, "height": 844}


def undoes(app: AppPage, label: str) -> None:
    """Wait until undo would take back this step: what was shown moving has been done."""
    app.holds(f"document.querySelector('#tray button[title^=Undo]').title === 'Undo: {label}'")


def act(app: AppPage, name: str) -> None:
    """Press a button of the argument."""
    app.page.locator("#guess").get_by_role("button", name=name, exact=True).click()


def says(app: AppPage, words: str) -> None:
    app.holds(f"document.querySelector('.guess-headline').textContent === {words!r}")


def drag(app: AppPage, start: Spot, end: Spot) -> None:
    mouse = app.page.mouse
    mouse.move(*start)
    mouse.down()
    for step in range(1, 7):
        mouse.move(start[0] + (end[0] - start[0]) * step / 6, start[1] + (end[1] - start[1]) * step / 6)
    app.painted(mouse.up)


def guess_end(app: AppPage) -> tuple[float, float]:
    """Where the guess points from its tail, on the screen: to the right and up."""
    head, tail = app.middle("hinge.grip-head"), app.middle("hinge.grip-tail")
    return head[0] - tail[0], tail[1] - head[1]


def test_a_wrong_guess_is_turned_stretched_and_laid_beside_the_answer(app: AppPage) -> None:
    app.select("hinge")
    app.page.get_by_role("tab", name="Working", exact=True).click()
    says(app, "Which way does R act?")
    tail = app.middle("hinge.grip-tail")
    drag(app, app.middle("hinge.grip-head"), (tail[0] - 90.0, tail[1] - 56.0))
    says(app, "Along x: Rx must act to the right")
    words = app.page.locator("#guess").inner_text()
    assert "A rope can only pull, so T acts up and to the left, whatever its size." in words
    assert "Besides Rx, only T has a part along x: to the left; so Rx must act to the right." in words
    assert "Your Rx acts to the left. Turn it." in words
    assert "1490" not in app.page.locator("body").inner_text()

    before = guess_end(app)
    seen = app.seq
    act(app, "Turn it")
    undoes(app, "Turn R")
    says(app, "R acts the way it must; now its size")
    # The arrow was seen moving: more than the two paintings that pressing a button takes.
    assert app.seq - seen > 3
    turned = guess_end(app)
    assert turned[0] == pytest.approx(-before[0], abs=1.5) and turned[1] == pytest.approx(before[1], abs=1.5)

    act(app, "Stretch it until ΣFx closes")
    undoes(app, "Stretch R")
    stretched = guess_end(app)
    # The same direction; along x it is as long as 1442 N, the answer's part by numpy: R and T alone act along x.
    assert math.atan2(stretched[1], stretched[0]) == pytest.approx(math.atan2(turned[1], turned[0]), abs=0.02)

    act(app, "Show the answer")
    app.holds("document.querySelector('.guess-answer').hidden === false")
    assert (
        app.page.locator(".guess-answer").inner_text() == "The answer: R is 1490\u00a0N at 14.47°, up and to the right."
    )
    assert "2146" not in app.page.locator("body").inner_text()
    guess, answer = app.page.locator("[id='board-hinge.guess']"), app.page.locator("[id='board-hinge']")
    assert guess.evaluate("(one) => getComputedStyle(one).strokeDasharray") != "none"
    assert answer.evaluate("(one) => getComputedStyle(one).strokeDasharray") == "none"

    app.painted(lambda: act(app, "Other way round"))
    dialog = app.page.locator("dialog.both-dialog")
    dialog.wait_for()
    left, right = (column.bounding_box() for column in dialog.locator(".both-column").all())
    assert left and right and abs(left["y"] - right["y"]) < 2 and right["x"] > left["x"] + left["width"] / 2
    assert (
        dialog.locator(".both-sentence").inner_text()
        == "Drawn to the right or to the left, Rx changes its sign and nothing else."
    )
    app.page.keyboard.press("Escape")
    app.holds("!document.querySelector('dialog.both-dialog').open")

    act(app, "Remove my guess")
    app.holds("document.querySelector('[id=\"board-hinge.guess\"]') === null")
    assert app.heard == []


def test_a_new_hand_cuts_the_show_short_and_escape_puts_all_back(app: AppPage) -> None:
    app.select("hinge")
    app.page.get_by_role("tab", name="Working", exact=True).click()
    act(app, "Draw a guess")
    says(app, "Along x: Rx must act to the right")
    act(app, "Turn it")
    app.page.keyboard.press("Escape")
    undoes(app, "Guess R")
    says(app, "Along x: Rx must act to the right")
    act(app, "Turn it")
    drag(app, app.board(0.9, 0.9), app.board(0.9, 0.85))
    says(app, "R acts the way it must; now its size")
    undoes(app, "Turn R")
    app.painted(lambda: app.page.locator("#tray").get_by_role("button", name="Undo").click())
    undoes(app, "Guess R")


def test_keys_alone_draw_turn_stretch_and_ask_for_the_answer(app: AppPage) -> None:
    keys = app.page.keyboard
    for _ in range(12):
        if app.selected == "hinge":
            break
        app.painted(lambda: keys.press("ArrowDown"))
    assert app.selected == "hinge"
    says(app, "Which way does R act?")
    for _ in range(6):
        keys.press("]")
        if "guess for R" in app.page.locator("#status").inner_text():
            break
    app.painted(lambda: keys.press("Enter"))
    for key in ("Shift+ArrowLeft", "Shift+ArrowLeft", "Shift+ArrowUp"):
        app.painted(lambda key=key: keys.press(key))
    app.painted(lambda: keys.press("Enter"))
    says(app, "Along x: Rx must act to the right")
    for _ in range(40):
        keys.press("Tab")
        if app.page.evaluate("document.activeElement.dataset.key") == "turn":
            break
    keys.press("Enter")
    # The focus goes on to what can be done next.
    app.holds("document.activeElement.dataset.key === 'stretch-x'")
    undoes(app, "Turn R")
    app.holds("document.getElementById('status').textContent === 'R acts the way it must; now its size'")
    keys.press("Enter")
    undoes(app, "Stretch R")
    for _ in range(6):
        if app.page.evaluate("document.activeElement.dataset.key") == "tell":
            break
        keys.press("Tab")
    keys.press("Enter")
    app.holds("document.querySelector('.guess-answer').hidden === false")
    tree = app.page.locator("#guess").aria_snapshot()
    assert 'heading "R acts the way it must; now its size" [level=2]' in tree
    assert 'heading "Along x" [level=3]' in tree and "as it must" in tree
    assert 'button "Keep the answer back"' in tree


def test_on_a_phone_the_drawer_says_what_to_do_and_why_above_which_the_arrow_is_seen(
    browser: Browser, wait_until: Any, site_url: str
) -> None:
    context = browser.new_context(viewport=PHONE, has_touch=True, is_mobile=True, service_workers="block")
    app = AppPage(context.new_page(), wait_until, site_url)
    arrow = app.page.locator("[id='board-hinge.y']").bounding_box()
    assert arrow is not None
    app.page.touchscreen.tap(arrow["x"] + arrow["width"] / 2, arrow["y"] + 4.0)
    app.holds("document.getElementById('fields').dataset.of === 'hinge'")
    app.page.get_by_role("button", name="Working", exact=True).tap()
    app.page.locator("#guess").get_by_role("button", name="Draw a guess").tap()
    says(app, "Along x: Rx must act to the right")
    drawer = app.page.locator("#side").bounding_box()
    assert drawer is not None
    assert app.middle("hinge.grip-head")[1] < drawer["y"] and app.middle("hinge.grip-tail")[1] < drawer["y"]
    assert not app.page.locator(".guess-stages").is_visible()
    app.page.get_by_role("button", name="Why?").tap()
    assert app.page.locator(".guess-stages").is_visible()
    for button in app.page.locator("#guess button:visible").all():
        box = button.bounding_box()
        assert box is not None and box["height"] >= 24 and box["width"] >= 24
        assert box["x"] >= 0 and box["x"] + box["width"] <= PHONE["width"]
    app.page.locator("#guess").get_by_role("button", name="Turn it").tap()
    says(app, "R acts the way it must; now its size")
    context.close()
