"""Everything on the board works by keys alone."""

from __future__ import annotations

import pytest
from app_page import AppPage


def said(app: AppPage) -> str:
    return app.page.locator("#status").inner_text()


def walk_to(app: AppPage, of: str) -> None:
    """Walk with the arrow key until the thing is selected; fails after one round."""
    for _ in range(app.page.locator(".outline-entry").count()):
        if app.selected == of:
            return
        app.painted(lambda: app.page.keyboard.press("ArrowRight"))
    assert app.selected == of


def test_the_focus_rests_on_the_board_from_the_start(app: AppPage) -> None:
    assert app.page.evaluate("document.activeElement.id") == "desk"
    assert app.page.locator("#desk").get_attribute("role") == "application"
    assert app.page.locator("#desk").get_attribute("aria-label")


def test_arrow_keys_walk_everything_and_say_where_they_are(app: AppPage) -> None:
    seen = []
    for _ in range(app.page.locator(".outline-entry").count()):
        app.painted(lambda: app.page.keyboard.press("ArrowRight"))
        seen.append(app.selected)
        current = app.page.locator("#desk").get_attribute("aria-activedescendant")
        if current:
            assert app.page.locator(f"[id='{current}']").get_attribute("aria-label")
            assert app.page.locator(f"[id='{current}']").get_attribute("data-of") == app.selected
    listed = app.page.evaluate("[...document.querySelectorAll('.outline-entry')].map((each) => each.dataset.of)")
    assert seen == listed


def test_a_held_grip_moves_by_arrows_and_is_one_undo_step(app: AppPage) -> None:
    walk_to(app, "walker")
    assert app.field("at").input_value() == "4"
    app.painted(lambda: app.page.keyboard.press("Enter"))
    app.holds("document.getElementById('status').textContent.startsWith('Holding')")
    for _ in range(3):
        app.painted(lambda: app.page.keyboard.press("ArrowRight"))
    app.painted(lambda: app.page.keyboard.press("Enter"))
    moved = float(app.field("at").input_value())
    assert moved > 4.0
    app.painted(lambda: app.page.keyboard.press("Control+z"))
    assert app.field("at").input_value() == "4"
    app.painted(lambda: app.page.keyboard.press("Control+y"))
    assert float(app.field("at").input_value()) == moved


def test_shift_makes_ten_steps_of_one(app: AppPage) -> None:
    walk_to(app, "walker")
    app.painted(lambda: app.page.keyboard.press("Enter"))
    app.painted(lambda: app.page.keyboard.press("ArrowLeft"))
    one = 4.0 - float(app.field("at").input_value())
    app.painted(lambda: app.page.keyboard.press("Shift+ArrowLeft"))
    assert 4.0 - float(app.field("at").input_value()) == pytest.approx(11 * one, rel=1e-6)


def test_escape_puts_a_held_grip_back(app: AppPage) -> None:
    walk_to(app, "walker")
    app.painted(lambda: app.page.keyboard.press("Enter"))
    app.painted(lambda: app.page.keyboard.press("ArrowRight"))
    app.painted(lambda: app.page.keyboard.press("Escape"))
    assert app.field("at").input_value() == "4"
    assert app.page.locator(".tray-history button").first.is_disabled()


def test_a_grip_that_cannot_move_says_why(app: AppPage) -> None:
    walk_to(app, "walker")
    app.page.keyboard.press("]")
    app.holds("document.getElementById('status').textContent.includes('change its mass')")


def test_typing_a_digit_opens_the_first_field(app: AppPage) -> None:
    walk_to(app, "walker")
    app.page.keyboard.type("4.5")
    assert app.field("at").input_value() == "4.5"
    app.page.keyboard.press("Enter")
    app.holds("document.activeElement.id === 'desk'")
    assert app.field("at").input_value() == "4.5"


def test_letters_place_things_and_go_to_the_first_field(app: AppPage) -> None:
    app.blank()
    app.page.locator("#desk").focus()
    app.painted(lambda: app.page.keyboard.press("b"))
    app.holds("document.activeElement.tagName === 'INPUT'")
    app.page.keyboard.press("Enter")
    assert app.page.evaluate("document.activeElement.id") == "desk"
    app.painted(lambda: app.page.keyboard.press("i"))
    app.holds("document.querySelectorAll('.outline-entry').length === 3")
    assert app.names()[0] == "bar"


def test_letters_do_nothing_outside_the_board(app: AppPage) -> None:
    before = app.names()
    app.page.get_by_role("tab", name="Forces", exact=True).click()
    app.page.locator(".outline-entry").first.focus()
    app.page.keyboard.press("b")
    app.page.keyboard.press("r")
    app.select("walker")
    assert app.names() == before


def test_a_text_being_typed_keeps_its_own_undo(app: AppPage) -> None:
    app.select("walker")
    app.page.locator("#desk").focus()
    app.painted(lambda: app.page.keyboard.press("Delete"))
    count = app.page.locator(".outline-entry").count()
    app.select("hoist")
    app.field("at").focus()
    app.page.keyboard.type("5")
    app.page.keyboard.press("Control+z")
    app.settled()
    assert app.page.locator(".outline-entry").count() == count


def test_escape_in_a_field_restores_it_and_the_sketch(app: AppPage) -> None:
    app.select("walker")
    arm = app.page.locator("tr[data-of='walker'] .cell-arm").inner_text()
    app.field("at").fill("2")
    app.holds(f"document.querySelector('tr[data-of=walker] .cell-arm').textContent !== {arm!r}")
    app.painted(lambda: app.page.keyboard.press("Escape"))
    assert app.field("at").input_value() == "4"
    assert app.page.locator("tr[data-of='walker'] .cell-arm").inner_text() == arm


def test_a_field_that_cannot_be_read_says_so_in_words_and_changes_nothing(app: AppPage) -> None:
    app.select("walker")
    app.field("at").fill("four")
    app.page.keyboard.press("Enter")
    complaint = app.page.locator("#fields-complaint")
    complaint.wait_for()
    assert "four" in complaint.inner_text()
    assert app.field("at").get_attribute("aria-invalid") == "true"
    assert app.page.locator(".tray-history button").first.is_disabled()


def test_question_mark_lists_the_keys_and_escape_closes_them(app: AppPage) -> None:
    app.page.keyboard.press("?")
    assert app.page.locator(".keys-dialog").is_visible()
    app.page.keyboard.press("Escape")
    assert not app.page.locator(".keys-dialog").is_visible()


def test_tab_leaves_the_board(app: AppPage) -> None:
    app.page.keyboard.press("Tab")
    assert app.page.evaluate("document.activeElement.id") != "desk"


def test_plus_minus_and_zero_look_around(app: AppPage) -> None:
    marks = "[...document.querySelectorAll('[id^=\"board-edge.x\"]')].map((each) => each.textContent).join()"
    start = app.page.evaluate(marks)
    for _ in range(3):
        app.page.keyboard.press("+")
    app.holds(f"{marks} !== {start!r}")
    app.page.keyboard.press("0")
    app.holds(f"{marks} === {start!r} && !document.querySelector('.sheet .layer[transform]')")
