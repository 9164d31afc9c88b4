"""The working beside the board: revealed step by step, heard once, within its panel, and following the hand."""

from __future__ import annotations

import json
from typing import Any

import pytest
from app_page import AppPage, Wait
from playwright.sync_api import BrowserContext

# What reaches beyond the panel it stands in.
BEYOND = """() => {
  const side = document.getElementById("side");
  const edge = side.getBoundingClientRect().left + side.clientLeft + side.clientWidth;
  return [...document.querySelectorAll("#steps *")]
    .filter((each) => each.getBoundingClientRect().width > 0 && !each.closest(".unseen, .menu"))
    .filter((each) => each.getBoundingClientRect().right > edge + 0.5)
    .map((each) => each.textContent.slice(0, 60));
}"""
# Type smaller than 12 px, where there is any.
TINY = """() => [...document.querySelectorAll("#steps *")]
  .filter((each) => each.children.length === 0 && each.textContent.trim() && !each.closest(".unseen, svg, [hidden]"))
  .filter((each) => Number.parseFloat(getComputedStyle(each).fontSize) < 11.99)
  .map((each) => `${each.textContent} ${getComputedStyle(each).fontSize}`)"""
SHOWN = "document.querySelectorAll('.step').length"
LINES = """[...document.querySelectorAll("#steps .line")]
  .map((line) => [...line.querySelectorAll("math")].map((math) => math.textContent).join(" "))"""


def reveal_all(app: AppPage) -> None:
    every = app.page.get_by_role("button", name="All steps", exact=True)
    if every.is_visible():
        app.painted(every.click)
    app.holds("document.querySelector('.blank-step').hidden")


def scenario(app: AppPage, slug_place: int) -> None:
    app.page.get_by_role("button", name="Menu", exact=True).click()
    shelf = app.page.locator(".menu").get_by_role("button", name="Shelf", exact=True)
    if shelf.is_visible():
        shelf.click()
    else:
        app.page.keyboard.press("Escape")
        app.page.locator(".header").get_by_role("button", name="Shelf", exact=True).click()
    app.painted(lambda: app.page.locator(".shelf").first.locator(".shelf-entry").nth(slug_place).click())


def heard(app: AppPage) -> list[dict[str, Any]]:
    """The accessibility tree as a screen reader walks it: role and name of what is not ignored."""
    session = app.page.context.new_cdp_session(app.page)
    tree = session.send("Accessibility.getFullAXTree")
    session.detach()
    return [
        {"role": node["role"]["value"], "name": node.get("name", {}).get("value", "")}
        for node in tree["nodes"]
        if not node.get("ignored") and "role" in node
    ]


def test_next_and_back_work_by_button_and_by_key_and_say_what_came(app: AppPage) -> None:
    assert app.page.evaluate(SHOWN) == 1
    app.painted(lambda: app.page.locator(".next-step").click())
    app.holds(f"{SHOWN} === 2")
    app.page.locator("#desk").focus()
    for key, shown in (("Space", 3), ("PageDown", 4), ("Shift+Space", 3), ("PageUp", 2)):
        app.painted(lambda key=key: app.page.keyboard.press(key))
        app.holds(f"{SHOWN} === {shown}")
    said = "Step 2 of 7. Torques about A. T equals 2146 newtons."
    app.holds(f"document.getElementById('status').textContent.startsWith('{said}')")
    app.page.locator("#working").focus()
    for key, shown in (("ArrowRight", 3), ("ArrowLeft", 2), ("Space", 3)):
        app.painted(lambda key=key: app.page.keyboard.press(key))
        app.holds(f"{SHOWN} === {shown}")
    # While something is held the keys are the hand's.
    app.page.locator("#desk").focus()
    app.painted(lambda: app.page.keyboard.press("ArrowRight"))
    app.page.keyboard.press("Enter")
    app.page.keyboard.press("Space")
    app.painted(lambda: app.page.keyboard.press("Escape"))
    assert app.page.evaluate(SHOWN) == 3
    # And everything can be taken back.
    for shown in (2, 1, 0):
        app.painted(lambda: app.page.get_by_role("button", name="Back a step", exact=True).click())
        app.holds(f"{SHOWN} === {shown}")
    assert app.heard == []


def test_tabs_are_walked_with_arrow_keys(app: AppPage) -> None:
    app.page.get_by_role("tab", name="Working").focus()
    app.painted(lambda: app.page.keyboard.press("ArrowRight"))
    assert app.page.evaluate("document.activeElement.textContent") == "Forces"
    assert app.page.locator(".outline").is_visible()
    assert not app.page.locator("#steps").is_visible()
    app.painted(lambda: app.page.keyboard.press("Home"))
    assert app.page.locator("#steps").is_visible()


def test_an_equation_is_heard_once_and_in_words(app: AppPage) -> None:
    reveal_all(app)
    said = [node["name"] for node in heard(app) if node["role"] == "StaticText"]
    for line in app.page.locator("#steps .line .unseen").all_text_contents():
        assert said.count(line) == app.page.locator("#steps .line .unseen").all_text_contents().count(line)
    assert "T equals 2146 newtons" in said
    assert "R x minus T cosine theta T equals 0" in said
    assert not any("math" in node["role"].lower() for node in heard(app))
    titles = [node["name"] for node in heard(app) if node["role"] == "heading"]
    assert any(title.startswith("Torques about A") for title in titles)
    assert {"positive counterclockwise", "positive to the right", "positive up"} <= {
        node["name"] for node in heard(app) if node["role"] in ("image", "img")
    }


@pytest.mark.parametrize(("width", "height"), [(1024, 700), (320, 640)])
def test_no_line_of_any_working_is_wider_than_its_panel(
    later_visit: BrowserContext, site_url: str, wait_until: Wait, width: int, height: int
) -> None:
    """Where the panel is narrowest beside the board, and on the narrowest phone."""
    page = later_visit.new_page()
    page.set_viewport_size({"width": width, "height": height})
    app = AppPage(page, wait_until, site_url)
    if width < 980:
        app.painted(app.page.locator("#dock").get_by_role("button", name="Working", exact=True).click)
    for place in range(app.page.locator(".shelf").first.locator(".shelf-entry").count()):
        scenario(app, place)
        reveal_all(app)
        title = app.page.locator("h1").inner_text()
        assert app.page.evaluate(BEYOND) == [], title
        assert app.page.evaluate(TINY) == [], title
        geometry = app.page.get_by_role("button", name="By geometry", exact=True)
        if geometry.is_visible():
            app.painted(geometry.click)
            assert app.page.evaluate(BEYOND) == [], f"{title} by geometry"
    assert app.heard == []


def test_the_working_follows_the_hand_and_reads_the_same_when_it_has_settled(app: AppPage) -> None:
    reveal_all(app)
    before = app.page.evaluate(LINES)
    app.select("walker")
    app.page.get_by_role("tab", name="Working").click()
    app.holds("document.querySelector('#steps').offsetParent !== null")
    grip = app.page.locator(".sheet .sy-grip[data-of='walker']").first.bounding_box()
    assert grip is not None
    x, y = grip["x"] + grip["width"] / 2, grip["y"] + grip["height"] / 2
    app.page.mouse.move(x, y)
    app.page.mouse.down()
    for step in range(1, 12):
        app.painted(lambda step=step: app.page.mouse.move(x - 16 - 6 * step, y))
    dragged = app.page.evaluate(LINES)
    app.painted(app.page.mouse.up)
    app.holds("document.querySelector('.step .unseen') !== null")
    assert dragged != before
    assert app.page.evaluate(LINES) == dragged
    # What is heard has followed as well.
    value = app.page.locator(".step").nth(1).locator(".line-value")
    shown = value.locator("mn").text_content()
    assert value.locator(".unseen").text_content() == f"T equals {shown} newtons"


def test_symbols_only_hides_every_number_and_the_values_they_gave(app: AppPage) -> None:
    reveal_all(app)
    assert "2146" in app.page.locator(".strips").text_content() or app.page.locator(".forces").count()
    app.painted(app.page.get_by_role("button", name="Symbols only", exact=True).click)
    app.holds("document.querySelectorAll('.line-value').length === 0")
    assert app.page.locator("#steps .line mtext:not(:has(svg))").count() == 0
    table = app.page.locator(".forces").text_content() or ""
    assert "2146" not in table
    app.painted(app.page.get_by_role("button", name="Symbols only", exact=True).click)
    app.holds("document.querySelectorAll('.line-value').length > 0")


def test_the_users_own_order_and_the_way_by_geometry_replace_the_plan(app: AppPage) -> None:
    reveal_all(app)
    titles = app.page.locator(".step-title").all_inner_texts()
    assert titles[1].startswith("Torques about A")
    app.page.get_by_role("button", name="Order", exact=True).click()
    app.painted(app.page.locator(".order-list").get_by_role("button", name="forces along y", exact=True).click)
    app.holds("document.querySelectorAll('.step-title')[1].textContent.startsWith('Forces along y')")
    why = app.page.locator(".step").nth(1).locator(".step-why").inner_text()
    assert "Two unknowns are left" in why and "would leave only" in why
    app.painted(app.page.get_by_role("button", name="The shortest way", exact=True).click)
    app.page.keyboard.press("Escape")
    app.painted(app.page.get_by_role("button", name="By geometry", exact=True).click)
    app.holds("[...document.querySelectorAll('.step-title')].some((each) => each.textContent === 'Close it')")
    app.painted(app.page.get_by_role("button", name="By sums", exact=True).click)


def test_a_term_and_its_force_light_each_other(app: AppPage) -> None:
    reveal_all(app)
    app.page.locator(".step").nth(1).locator("math [data-of=hoist]").first.hover()
    app.holds("document.querySelector('.sheet [data-of=hoist]').classList.contains('lit')")
    app.page.locator(".step").nth(1).locator("math [data-of=walker]").first.hover()
    app.holds("document.querySelector('.strips [data-of=walker]').classList.contains('lit')")
    app.page.locator(".step-title").nth(1).locator("[data-of=pivot]").hover()
    app.holds("document.querySelector('.sheet [data-of=pivot]').classList.contains('lit')")


@pytest.fixture
def refusing(later_visit: BrowserContext, site_url: str, wait_until: Wait) -> AppPage:
    """A page to which the browser does not give its clipboard."""
    page = later_visit.new_page()
    page.add_init_script(
        "navigator.clipboard.write = navigator.clipboard.writeText = () => Promise.reject(new Error('no'))"
    )
    return AppPage(page, wait_until, site_url)


def test_revealed_steps_are_copied_and_only_those(app: AppPage, site_url: str) -> None:
    app.page.context.grant_permissions(["clipboard-read", "clipboard-write"], origin=site_url)
    app.painted(app.page.locator(".next-step").click)
    app.holds(f"{SHOWN} === 2")
    app.page.get_by_role("button", name="Copy", exact=True).click()
    app.page.get_by_role("button", name="LaTeX, a whole document", exact=True).click()
    app.holds("document.getElementById('status').textContent === '2 steps copied as LaTeX.'")
    text = app.page.evaluate("navigator.clipboard.readText()")
    assert text.startswith("\\documentclass") and text.rstrip().endswith("\\end{document}")
    assert r"\qty{2146}{\newton}" in text
    assert "Forces along" not in text  # the third step is still to come
    app.page.get_by_role("button", name="Copy", exact=True).click()
    app.page.get_by_role("button", name="Markdown", exact=True).click()
    app.holds("document.getElementById('status').textContent === '2 steps copied as Markdown.'")
    assert app.page.evaluate("navigator.clipboard.readText()").startswith("### 1. Isolate the gangway")


def test_where_the_clipboard_is_refused_a_file_is_saved(refusing: AppPage) -> None:
    refusing.page.get_by_role("button", name="Copy", exact=True).click()
    with refusing.page.expect_download() as started:
        refusing.page.get_by_role("button", name="Markdown", exact=True).click()
    assert started.value.suggested_filename == "gangway-at-half-tide.md"
    refusing.holds(
        "document.getElementById('status').textContent.includes('one step saved as gangway-at-half-tide.md')"
    )
    assert json.loads(json.dumps(refusing.heard)) == []


def test_on_a_phone_the_working_is_one_tap_away_and_the_board_stays_in_sight(phone: AppPage) -> None:
    app = phone
    assert not app.page.locator("#steps").is_visible()
    app.painted(app.page.locator("#dock").get_by_role("button", name="Working", exact=True).tap)
    app.holds("document.querySelector('.step') !== null && document.querySelector('#steps').offsetParent !== null")
    board, side = (app.page.locator(each).bounding_box() for each in (".sheet", "#side"))
    assert board is not None and side is not None
    assert board["height"] > 200 and board["y"] + board["height"] <= side["y"] + 1
    app.painted(app.page.locator(".next-step").tap)
    app.holds(f"{SHOWN} === 2")
