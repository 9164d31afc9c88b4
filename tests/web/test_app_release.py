"""Letting go on the page: offered where the body would not stay, played, looked through by keys, and put back."""

from __future__ import annotations

import json
from pathlib import Path

from app_page import AppPage
from test_app_reach import violations


def turned(app: AppPage) -> str | None:
    outlines = app.page.locator("#let-go-ghost path")
    return outlines.first.get_attribute("transform") if outlines.count() else None


def test_a_gangway_without_its_hoist_is_let_go_played_and_looked_through_by_keys(app: AppPage) -> None:
    page = app.page
    button = page.locator(".let-go-button")
    assert not button.is_visible()
    app.select("hoist")
    page.locator("#desk").focus()
    app.painted(lambda: page.keyboard.press("Delete"))
    assert not button.is_visible()  # answers are kept back
    app.painted(page.locator(".answers-button").click)
    button.click()
    page.locator("#release").wait_for()
    assert "It starts to turn clockwise about A with α = 2.398" in page.locator(".release-words").inner_text()
    handle = page.locator(".release-handle")
    box = handle.bounding_box()
    assert box is not None and box["height"] >= 24
    # It plays by itself; Space stops it, arrows step it, and the outline is where the handle says.
    app.holds("document.querySelector('.release-handle').value > 0")
    while page.locator(".release-play").inner_text() == "Pause":  # at its end it stops by itself, and Space begins anew
        handle.press(" ")
    assert page.locator(".release-play").inner_text() == "Play"
    handle.press("Home")
    assert turned(app) == "matrix(1.000000 -0.000000 0.000000 1.000000 0.00 0.00)"
    handle.press("ArrowRight")
    assert handle.input_value() == "1"
    assert handle.get_attribute("aria-valuetext") == page.locator(".release-stamp").inner_text()
    handle.press("End")
    assert turned(app) != "matrix(1.000000 -0.000000 0.000000 1.000000 0.00 0.00)"
    # By the hand.
    page.mouse.click(box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)
    assert 55 < float(handle.input_value()) < 65
    # Escape puts it back; so does any edit.
    handle.press("Escape")
    page.locator("#release").wait_for(state="hidden")
    app.holds("document.activeElement.id === 'desk'")
    assert turned(app) is None
    button.click()
    page.locator("#release").wait_for()
    app.painted(lambda: page.keyboard.press("Control+z"))
    page.locator("#release").wait_for(state="hidden")
    assert app.heard == []


def test_calm_readers_get_no_motion_of_its_own_and_a_held_body_stays(app: AppPage, axe_source: str) -> None:
    page = app.page
    page.emulate_media(reduced_motion="reduce")
    app.painted(page.locator(".answers-button").click)
    app.select("gangway")
    page.locator(".fields-more-button").click()
    page.locator("#fields").get_by_role("button", name="Let go").click()
    page.locator("#release").wait_for()
    assert "It stays at rest" in page.locator(".release-words").inner_text()
    assert not page.locator(".release-handle").is_visible()
    page.locator(".release-close").click()
    page.locator("#release").wait_for(state="hidden")
    app.select("hoist")
    page.locator("#desk").focus()
    app.painted(lambda: page.keyboard.press("Delete"))
    page.locator(".let-go-button").click()
    handle = page.locator(".release-handle")
    handle.wait_for()
    assert handle.input_value() == "0"
    assert not page.locator(".release-play").is_visible()
    handle.press("ArrowRight")
    assert turned(app) != "matrix(1.000000 -0.000000 0.000000 1.000000 0.00 0.00)"
    assert violations(app, axe_source) == []
    # No hint lies over what moves; on a phone the board keeps its room and nothing runs out at the side.
    assert not page.locator(".hint").first.is_visible()
    page.set_viewport_size({"width": 390, "height": 844})
    app.holds("document.querySelector('.sheet').clientWidth <= 390")
    assert page.locator("#board").bounding_box()["height"] > 250
    assert page.evaluate("document.documentElement.scrollWidth") <= 390
    for each in (".release-handle", ".release-close"):
        box = page.locator(each).bounding_box()
        assert box is not None and box["height"] >= 24 and box["x"] + box["width"] <= 390
    # From the board, Escape ends it as well.
    page.locator("#desk").focus()
    page.keyboard.press("Escape")
    page.locator("#release").wait_for(state="hidden")
    assert app.heard == []


def test_joined_bodies_go_together_each_with_an_outline_of_its_own(app: AppPage, tmp_path: Path) -> None:
    page = app.page
    leg = {"kind": "bar", "length_m": 2.0, "mass_kg": 10.0}
    sketch = {
        "format": "steelyard-sketch",
        "version": 1,
        "title": "Trestle on the wet deck",
        "settings": {"g_m_s2": 9.81},
        "bodies": [
            {**leg, "id": "left", "name": "left leg", "origin_m": [0.0, 0.0], "angle_deg": 60.0},
            {**leg, "id": "right", "name": "right leg", "origin_m": [2.0, 0.0], "angle_deg": 120.0},
        ],
        "supports": [
            {"id": "a", "kind": "contact", "body": "left", "place_m": [0.0, 0.0], "symbol": "A"},
            {"id": "b", "kind": "contact", "body": "right", "place_m": [0.0, 0.0], "symbol": "B"},
            {"id": "c", "kind": "pin", "body": "left", "place_m": [2.0, 0.0], "symbol": "C", "other": "right"},
        ],
    }
    file = tmp_path / "trestle.json"
    file.write_text(json.dumps(sketch), encoding="utf-8")
    with page.expect_file_chooser() as chooser:
        page.get_by_role("button", name="Open", exact=True).click()
    app.painted(lambda: chooser.value.set_files(file))
    page.locator(".let-go-button").click()
    page.locator("#release").wait_for()
    said = page.locator(".release-words").inner_text()
    assert "The centre of mass of the left leg starts down and to the left" in said
    assert "The centre of mass of the right leg starts down and to the right" in said
    outlines = page.locator("#let-go-ghost path")
    assert outlines.count() == 2
    handle = page.locator(".release-handle")
    handle.press("End")
    last = [outlines.nth(index).get_attribute("transform") for index in (0, 1)]
    # Flat on the deck: each leg has turned by its slope, one clockwise, the other counterclockwise.
    turns = [each.split("(")[1].split()[:2] for each in last if each is not None]
    assert [[round(float(part), 3) for part in turn] for turn in turns] == [[0.5, 0.866], [0.5, -0.866]]
    handle.press("Escape")
    page.locator("#release").wait_for(state="hidden")
    assert outlines.count() == 0
    assert app.heard == []
