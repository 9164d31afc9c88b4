"""Reachable for everybody: what axe finds, and what it cannot see (WCAG 2.2 criteria named beside each check)."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from app_page import AppPage, Wait
from playwright.sync_api import Browser, Page

TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
RUN_AXE = """async (tags) => {
  const found = await axe.run(document, { runOnly: { type: "tag", values: tags } });
  return found.violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ target }) => target.join(" ")).join(", ")}`);
}"""


@pytest.fixture(scope="module")
def steady(browser: Browser, site_url: str, wait_until: Wait) -> Iterator[AppPage]:
    """One page for a test that only looks, at one size of the window after the other."""
    context = browser.new_context(service_workers="block")
    yield AppPage(context.new_page(), wait_until, site_url)
    context.close()


def violations(app: AppPage, axe_source: str) -> list[str]:
    if not app.page.evaluate("'axe' in window"):
        app.page.evaluate(axe_source)
    found: list[str] = app.page.evaluate(RUN_AXE, TAGS)
    return found


def test_axe_finds_nothing_on_the_opening_page(app: AppPage, axe_source: str) -> None:
    assert violations(app, axe_source) == []


def test_axe_finds_nothing_with_answers_shown_and_each_thing_selected(app: AppPage, axe_source: str) -> None:
    app.painted(lambda: app.page.get_by_role("button", name="Show the answers").click())
    for of in ("gangway", "hoist", "walker", "hinge", "pivot"):
        app.select(of)
        app.page.locator(".fields-more-button").click()
        assert violations(app, axe_source) == [], of


@pytest.mark.parametrize("item", ["Settings", "Keys", "About"])
def test_axe_finds_nothing_in_a_dialog(app: AppPage, axe_source: str, item: str) -> None:
    app.menu(item)
    assert violations(app, axe_source) == []


def test_axe_finds_nothing_on_an_empty_sheet_or_on_the_shelf(app: AppPage, axe_source: str) -> None:
    app.blank()
    assert violations(app, axe_source) == []
    app.page.get_by_role("button", name="Shelf", exact=True).click()
    assert violations(app, axe_source) == []


@pytest.mark.parametrize("shade", ["light", "dark"])
def test_axe_finds_nothing_on_a_phone(
    browser: Browser, site_url: str, wait_until: Wait, axe_source: str, shade: str
) -> None:
    context = browser.new_context(
        viewport={"width": 390, "height": 844},
        has_touch=True,
        color_scheme=shade,
        service_workers="block",  # type: ignore[arg-type]
    )
    try:
        app = AppPage(context.new_page(), wait_until, site_url)
        assert app.page.evaluate("document.documentElement.dataset.shade") == shade
        for button in ("Add", "Working"):
            app.page.locator("#dock").get_by_role("button", name=button, exact=True).click()
            assert violations(app, axe_source) == [], button
    finally:
        context.close()


SMALL = """() => [...document.querySelectorAll("button, input, select, [role=option]")]
  .filter((each) => each.offsetParent !== null && !each.closest("[hidden]"))
  .map((each) => [each.id || each.className || each.textContent, each.getBoundingClientRect()])
  .filter(([, box]) => box.width > 0 && (box.width < 24 || box.height < 24))
  .map(([name, box]) => `${name} ${box.width} x ${box.height}`)"""


@pytest.mark.parametrize("size", [(1366, 768), (390, 844)])
def test_everything_pressed_is_24_pixels_at_least(app: AppPage, size: tuple[int, int]) -> None:
    """SC 2.5.8."""
    app.page.set_viewport_size({"width": size[0], "height": size[1]})
    app.page.evaluate("document.querySelector('.outline [data-of=hoist]').click()")
    app.holds("document.getElementById('fields').dataset.of === 'hoist'")
    app.page.locator(".fields-more-button").click()
    assert app.page.evaluate(SMALL) == []


FOCUS_LOOK = """() => {
  const style = getComputedStyle(document.activeElement);
  const box = document.activeElement.getBoundingClientRect();
  const top = document.elementFromPoint(box.x + box.width / 2, box.y + box.height / 2);
  return {
    name: document.activeElement.id || document.activeElement.className || document.activeElement.tagName,
    body: document.activeElement === document.body,
    outline: style.outlineStyle !== "none" && parseFloat(style.outlineWidth) >= 2,
    covered: !(document.activeElement.contains(top) || top?.contains(document.activeElement)),
  };
}"""


def test_the_keyboard_walk_shows_the_focus_everywhere_and_comes_round(app: AppPage) -> None:
    """SC 2.4.7 and 2.4.11, and no trap (2.1.2): Tab reaches every button and leaves at the end."""
    app.select("hoist")
    app.page.locator(".title-block").focus()
    seen: list[str] = []
    for _ in range(120):
        app.page.keyboard.press("Tab")
        look: dict[str, Any] = app.page.evaluate(FOCUS_LOOK)
        if look["body"]:
            break
        assert look["outline"], look["name"]
        assert not look["covered"], look["name"]
        seen.append(look["name"])
    assert any("view" in name for name in seen)
    assert "desk" in seen
    assert "field-hoist-at-quantity" in seen
    assert any("outline-entry" in name for name in seen)


def test_one_polite_status_line_is_there_from_the_start(page: Page, site_url: str, wait_until: Wait) -> None:
    """SC 4.1.3: present and empty at load."""
    page.goto(site_url)
    status = page.locator("[role=status]")
    assert status.count() == 1
    assert status.get_attribute("aria-live") == "polite"
    assert status.get_attribute("aria-atomic") == "true"
    wait_until(page, 'document.documentElement.dataset.ready === "true"')
    wait_until(page, "document.getElementById('status').textContent !== ''")


def test_nothing_is_announced_while_something_is_dragged(app: AppPage) -> None:
    app.select("walker")
    app.holds("document.getElementById('status').textContent !== ''")
    app.page.evaluate(
        "window.said = []; new MutationObserver(() => said.push(document.getElementById('status').textContent))"
        ".observe(document.getElementById('status'), {childList: true, characterData: true, subtree: true})"
    )
    grip = app.page.locator(".sheet .sy-grip[data-of='walker']").first.bounding_box()
    assert grip is not None
    x, y = grip["x"] + grip["width"] / 2, grip["y"] + grip["height"] / 2
    app.page.mouse.move(x, y)
    app.page.mouse.down()
    for step in range(1, 20):
        app.painted(lambda step=step: app.page.mouse.move(x + 8 + 3 * step, y))  # type: ignore[misc]
    assert app.page.evaluate("said") == []
    app.page.mouse.up()


@pytest.mark.parametrize("size", [(320, 568), (320, 256), (390, 844), (844, 390), (768, 1024)])
def test_nothing_but_the_board_scrolls_sideways(steady: AppPage, size: tuple[int, int]) -> None:
    """SC 1.4.10 and 1.3.4."""
    app = steady
    app.page.set_viewport_size({"width": size[0], "height": size[1]})
    app.page.evaluate("document.querySelector('.outline [data-of=hoist]').click()")
    app.holds("document.getElementById('fields').dataset.of === 'hoist'")
    assert app.page.evaluate("document.documentElement.scrollWidth") <= size[0]
    over = app.page.evaluate(
        """(width) => [...document.querySelectorAll("#header, #fields, #readings, #dock, .fields-sheet, .verdict-line")]
        .filter((each) => each.getBoundingClientRect().right > width + 1).map((each) => each.className || each.id)""",
        size[0],
    )
    assert over == []


def test_text_spacing_clips_no_button(app: AppPage) -> None:
    """SC 1.4.12: line 1.5, letters 0.12 em, words 0.16 em."""
    app.select("hoist")
    app.page.evaluate(
        "const sheet = new CSSStyleSheet();"
        "sheet.replaceSync('* { line-height: 1.5 !important; letter-spacing: 0.12em !important; "
        "word-spacing: 0.16em !important; }');"
        "document.adoptedStyleSheets = [sheet];"
    )
    clipped = app.page.evaluate(
        """() => [...document.querySelectorAll("button")].filter((each) => each.offsetParent !== null)
        .filter((each) => each.scrollWidth > each.clientWidth + 1 && getComputedStyle(each).overflow !== "visible")
        .map((each) => each.textContent)"""
    )
    assert clipped == []


def test_forced_colours_and_reduced_motion_leave_the_page_whole(
    browser: Browser, site_url: str, wait_until: Wait, axe_source: str
) -> None:
    context = browser.new_context(
        viewport={"width": 1366, "height": 768},
        forced_colors="active",
        reduced_motion="reduce",
        service_workers="block",
    )
    try:
        app = AppPage(context.new_page(), wait_until, site_url)
        assert violations(app, axe_source) == []
        stroke = app.page.evaluate("getComputedStyle(document.querySelector('.sheet .sy-body')).stroke")
        ink = app.page.evaluate("getComputedStyle(document.querySelector('.title')).color")
        assert stroke == ink
    finally:
        context.close()


def test_labels_that_look_like_markup_stay_text_and_the_policy_is_never_broken(
    app: AppPage, root: Path, tmp_path: Path
) -> None:
    sketch = json.loads((root / "scenarios" / "gangway.json").read_text(encoding="utf-8"))["sketch"]
    sketch["title"] = '<svg onload="document.title=1">'
    sketch["question"] = "<img src=x onerror=alert(1)>"
    sketch["bodies"][0]["name"] = "<b>gangway</b>"
    file = tmp_path / "markup.json"
    file.write_text(json.dumps(sketch), encoding="utf-8")
    with app.page.expect_file_chooser() as chooser:
        app.page.get_by_role("button", name="Open", exact=True).click()
    app.painted(lambda: chooser.value.set_files(file))
    app.holds("document.querySelector('.title').textContent.startsWith('<svg')")
    assert app.page.locator(".title").inner_text() == sketch["title"]
    assert app.names()[0] == "<b>gangway</b>"
    assert app.page.locator("#page img, .sheet b, .outline b").count() == 0
    assert app.heard == []


def test_a_file_that_cannot_be_opened_is_explained_and_the_sketch_stays(
    app: AppPage, root: Path, tmp_path: Path
) -> None:
    sketch = json.loads((root / "scenarios" / "gangway.json").read_text(encoding="utf-8"))["sketch"]
    sketch["loads"][0]["mass_kg"] = "12O0"
    file = tmp_path / "wrong.json"
    file.write_text(json.dumps(sketch), encoding="utf-8")
    before = app.names()
    with app.page.expect_file_chooser() as chooser:
        app.page.get_by_role("button", name="Open", exact=True).click()
    chooser.value.set_files(file)
    dialog = app.page.locator(".failure-dialog")
    dialog.wait_for()
    assert dialog.locator("b").inner_text() == "loads[0].mass_kg"
    assert "12O0" in dialog.inner_text()
    assert dialog.get_by_role("button", name="Choose another file").is_visible()
    app.page.keyboard.press("Escape")
    assert app.names() == before


def test_type_is_never_under_12_pixels_and_has_seven_sizes_at_most(app: AppPage) -> None:
    """Sizes set by the page itself; symbols inside a line are set in parts of its size."""
    sizes = app.page.evaluate(
        """() => [...new Set([...document.querySelectorAll("#page *")]
        .filter((each) => !each.closest("svg"))
        .filter((each) => [...each.childNodes].some((node) => node.nodeType === 3 && node.textContent.trim()))
        .filter((each) => !/run-|sub/.test(each.className))
        .map((each) => parseFloat(getComputedStyle(each).fontSize)))].sort((a, b) => a - b)"""
    )
    assert min(sizes) >= 12
    assert len(sizes) <= 7, sizes
