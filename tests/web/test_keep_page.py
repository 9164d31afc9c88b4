"""The whole page in a real browser: what was done outlives a killed worker, a closed window and a refusing browser."""

import random
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from app_page import SETTLED
from playwright.sync_api import BrowserContext, Page

WATCH_WORKER = Path(__file__).resolve().parent / "keep_bench" / "watch-worker.js"
KILLS = 50
MOMENTS = ("before the reply", "after the reply", "some time later")

Wait = Callable[..., Any]
Open = Callable[..., Page]


@pytest.fixture
def open_page(later_visit: BrowserContext, site_url: str, wait_until: Wait) -> Open:
    """Opens the page in a new window of the same profile, its worker watched, and waits until it is ready."""

    def open_window(script: str = "") -> Page:
        page = later_visit.new_page()
        page.add_init_script(path=WATCH_WORKER)
        if script:
            page.add_init_script(script)
        page.goto(site_url + "?testing")
        ready(page, wait_until)
        return page

    return open_window


def ready(page: Page, wait_until: Wait) -> None:
    wait_until(page, "document.documentElement.dataset.ready === 'true'")


def select(page: Page, of: str, wait_until: Wait) -> None:
    if not page.locator(".outline").is_visible():
        page.get_by_role("tab", name="Forces", exact=True).click()
    page.locator(f".outline [data-of={of}]").click()
    wait_until(page, f"document.getElementById('fields').dataset.of === '{of}' && {SETTLED}")


def set_mass(page: Page, kilograms: float, wait_until: Wait) -> None:
    """One committed change through the field line."""
    before = page.evaluate("watched.changes")
    type_mass(page, kilograms, wait_until)
    wait_until(page, f"watched.changes > {before} && {SETTLED}")


def type_mass(page: Page, kilograms: float, wait_until: Wait) -> None:
    select(page, "walker", wait_until)
    field = page.locator("#field-walker-mass-quantity")
    field.fill(str(kilograms))
    field.press("Enter")


def drag_walker(page: Page, chance: random.Random) -> None:
    tail = "watched.state.picture.targets.find(({of, grip}) => of === 'walker' && grip === 'tail')"
    target = page.evaluate(f"{tail}.points_px[0]")
    box = page.locator("#desk").bounding_box()
    assert box is not None
    x, y = box["x"] + target[0], box["y"] + target[1]
    page.mouse.move(x, y)
    page.mouse.down()
    for step in range(1, 7):
        page.mouse.move(x + step * chance.uniform(-14, 14), y + step * chance.uniform(-4, 4))
    page.mouse.up()


def close_kept(page: Page, wait_until: Wait) -> None:
    """Closes the window once storage has the last change."""
    wait_until(
        page,
        """new Promise((resolve) => {
          const opening = indexedDB.open("steelyard");
          opening.onsuccess = () => {
            const asking = opening.result.transaction("sketches").objectStore("sketches").getAll();
            asking.onsuccess = () => {
              opening.result.close();
              resolve(asking.result.some(({current}) => current === watched.committed));
            };
          };
        })""",
    )
    page.close()


def press(page: Page, keys: str) -> None:
    page.locator("#desk").focus()
    page.keyboard.press(keys)


def saved(page: Page) -> str:
    with page.expect_download() as download:
        page.get_by_role("button", name="Save", exact=True).first.click()
    return Path(download.value.path()).read_text(encoding="utf-8")


NO_PICKER = "delete window.showSaveFilePicker"


@pytest.mark.slow
def test_a_worker_killed_at_random_loses_no_committed_change(open_page: Open, wait_until: Wait, seed: int) -> None:
    page = open_page(NO_PICKER)
    chance = random.Random(seed)
    print(f"seed {seed}")
    for kill in range(KILLS):
        set_mass(page, 40 + kill + chance.randrange(10) / 10, wait_until)
        deed = chance.choice(["drag", "drag", "field", "undo", "redo"])
        asked = {"drag": ["begin", "preview", "commit"], "field": ["try", "command"]}.get(deed, [deed])
        dies_at = {"asked": chance.choice(asked), "moment": chance.choice(MOMENTS), "wait_ms": chance.uniform(0, 30)}
        if deed == "redo":
            before = page.evaluate("watched.changes")
            press(page, "Control+z")
            wait_until(page, f"watched.changes > {before}")
        opened = page.evaluate("(diesAt) => { watched.diesAt = diesAt; return watched.opened; }", dies_at)
        if deed == "drag":
            drag_walker(page, chance)
        elif deed == "field":
            type_mass(page, 20 + chance.randrange(1000) / 100, wait_until)
        else:
            press(page, "Control+z" if deed == "undo" else "Control+y")
        print(kill, dies_at)
        wait_until(page, f"watched.kills > {kill}")
        wait_until(page, f"watched.opened > {opened}")
        assert page.evaluate("watched.cameBackWhole"), f"kill {kill} of seed {seed} ({dies_at}) lost a change"
    assert page.evaluate("watched.kills") == KILLS
    assert saved(page) == page.evaluate("watched.committed")
    assert page.locator(".notice").all_inner_texts() == []
    base, steps = page.evaluate("[watched.base, watched.at]")
    close_kept(page, wait_until)
    page = open_page(NO_PICKER)
    for _ in range(steps):
        before = page.evaluate("watched.changes")
        press(page, "Control+z")
        wait_until(page, f"watched.changes > {before}")
    assert saved(page) == base, "every step can still be undone after closing"


def test_a_closed_window_comes_back_with_its_sketch_and_its_history(open_page: Open, wait_until: Wait) -> None:
    page = open_page(NO_PICKER)
    base = page.evaluate("watched.base")
    set_mass(page, 91, wait_until)
    drag_walker(page, random.Random(3))
    wait_until(page, "watched.changes === 2")
    committed = page.evaluate("watched.committed")
    close_kept(page, wait_until)
    page = open_page(NO_PICKER)
    assert page.evaluate("watched.openedDocument") == committed
    for changes in (1, 2):
        press(page, "Control+z")
        wait_until(page, f"watched.changes === {changes}")
    assert saved(page) == base


def test_the_picture_of_the_last_sketch_is_there_before_the_engine(
    open_page: Open, later_visit: BrowserContext, site_url: str, wait_until: Wait
) -> None:
    page = open_page()
    page.locator("#header .title-block").click()
    page.get_by_label("Title", exact=True).fill("Remembered <b>gangway</b>")
    page.get_by_role("button", name="Keep").click()
    wait_until(page, "watched.changes === 1")
    close_kept(page, wait_until)
    page = later_visit.new_page()
    page.add_init_script("window.Worker = class extends EventTarget { postMessage() {} terminate() {} }")
    page.goto(site_url)
    wait_until(page, "document.querySelector('#header h1')?.textContent === 'Remembered <b>gangway</b>'")
    wait_until(page, "document.querySelectorAll('#desk svg path').length > 10")


def test_a_second_window_only_looks_and_can_take_over(open_page: Open, wait_until: Wait) -> None:
    first = open_page()
    set_mass(first, 91, wait_until)
    second = open_page()
    wait_until(second, "document.querySelector('.notice')?.textContent.includes('open in another window')")
    opened = second.evaluate("watched.opened")
    press(second, "Control+z")
    drag_walker(second, random.Random(3))
    assert second.evaluate("watched.changes") == 0
    set_mass(first, 92, wait_until)
    second.get_by_role("button", name="Take over").click()
    wait_until(second, f"watched.opened > {opened} && !document.querySelector('.notice')")
    assert second.evaluate("watched.openedDocument") == first.evaluate("watched.committed")
    wait_until(first, "document.querySelector('.notice')?.textContent.includes('taken this sketch over')")
    set_mass(second, 93, wait_until)
    close_kept(second, wait_until)
    wait_until(first, "!document.querySelector('.notice')")
    press(first, "Control+z")
    wait_until(first, "watched.changes === 3")
    assert '"mass_kg": 92' in first.evaluate("watched.committed")


def test_a_new_sketch_leaves_the_last_one_on_the_shelf(open_page: Open, wait_until: Wait) -> None:
    page = open_page()
    set_mass(page, 91, wait_until)
    kept = page.evaluate("watched.committed")
    page.get_by_role("button", name="Menu").click()
    page.get_by_role("menuitem", name="New").or_(page.get_by_role("button", name="New", exact=True)).click()
    wait_until(page, "watched.opened === 2")
    page.get_by_role("button", name="Shelf", exact=True).first.click()
    page.locator(".shelf-dialog .shelf-entry", has_text="changed").click()
    wait_until(page, "watched.opened === 3")
    assert page.evaluate("watched.openedDocument") == kept


def test_a_kept_sketch_is_forgotten_at_the_second_press_and_not_while_another_window_has_it(
    open_page: Open, wait_until: Wait
) -> None:
    first = open_page()
    set_mass(first, 91, wait_until)
    second = open_page()
    second.get_by_role("button", name="Shelf", exact=True).first.click()
    second.locator(".shelf-dialog .shelf-entry", has_text="Plank").first.click()
    wait_until(second, "watched.opened === 2")
    second.get_by_role("button", name="Shelf", exact=True).first.click()
    forget = second.locator(".shelf-dialog .shelf-forget")
    forget.click()
    assert forget.inner_text() == "Forget for good?"
    forget.click()
    wait_until(second, "document.querySelector('.shelf-forget').textContent === 'Open in another window'")
    first.close()
    second.keyboard.press("Escape")
    second.get_by_role("button", name="Shelf", exact=True).first.click()
    second.locator(".shelf-dialog .shelf-forget").click()
    second.locator(".shelf-dialog .shelf-forget").click()
    wait_until(second, "!document.querySelector('.shelf-forget')")
    assert not second.get_by_role("heading", name="Kept in this browser").is_visible()


@pytest.mark.parametrize(
    "script",
    [
        "indexedDB.__proto__.open = () => { throw new DOMException('denied', 'SecurityError'); }",
        "indexedDB.__proto__.open = () => ({})",
    ],
    ids=["throws", "never-answers"],
)
def test_storage_that_is_not_there_is_said_and_work_goes_on(open_page: Open, wait_until: Wait, script: str) -> None:
    page = open_page(script)
    wait_until(page, "document.querySelector('.notice')?.textContent.startsWith('Not kept')")
    set_mass(page, 91, wait_until)
    opened = page.evaluate("watched.opened")
    page.evaluate("watched.kill()")
    wait_until(page, f"watched.opened > {opened}")
    assert page.evaluate("watched.openedDocument === watched.committed")
    asked = []
    page.on("dialog", lambda dialog: (asked.append(dialog.type), dialog.accept()))
    with page.expect_event("close"):
        page.close(run_before_unload=True)
    assert asked == ["beforeunload"]


def test_the_second_crash_on_one_sketch_stops_and_offers_it_as_a_file(open_page: Open, wait_until: Wait) -> None:
    page = open_page(NO_PICKER)
    set_mass(page, 91, wait_until)
    page.evaluate("watched.kill()")
    wait_until(page, "watched.opened === 2 && !document.querySelector('.notice')")
    page.evaluate("watched.kill()")
    wait_until(page, "document.querySelector('.notice')?.textContent.includes('more than once')")
    with page.expect_download() as download:
        page.get_by_role("button", name="Save as a file").click()
    assert Path(download.value.path()).read_text(encoding="utf-8") == page.evaluate("watched.committed")
    page.get_by_role("button", name="Try once more").click()
    wait_until(page, "watched.opened === 3 && !document.querySelector('.notice')")
    set_mass(page, 92, wait_until)


def test_a_file_that_is_no_sketch_leaves_the_sketch_as_it_was(
    open_page: Open, wait_until: Wait, tmp_path: Path
) -> None:
    page = open_page(NO_PICKER)
    set_mass(page, 91, wait_until)
    committed = page.evaluate("watched.committed")
    for content in (b"\xff\xfe{\x00", b"", b"not json", b'{"format": "another"}'):
        file = tmp_path / "other.json"
        file.write_bytes(content)
        with page.expect_file_chooser() as chooser:
            page.get_by_role("button", name="Open", exact=True).first.click()
        chooser.value.set_files(file)
        wait_until(page, "document.querySelector('.failure-dialog')?.open")
        assert "Your sketch is as it was." in page.locator(".failure-dialog").inner_text()
        page.keyboard.press("Escape")
        wait_until(page, "!document.querySelector('.failure-dialog').open")
    assert saved(page) == committed


def test_a_saved_file_opens_as_a_sketch_of_its_own(open_page: Open, wait_until: Wait, tmp_path: Path) -> None:
    page = open_page(NO_PICKER)
    set_mass(page, 91, wait_until)
    file = tmp_path / "mine.steelyard.json"
    file.write_text(saved(page), encoding="utf-8")
    set_mass(page, 92, wait_until)
    with page.expect_file_chooser() as chooser:
        page.get_by_role("button", name="Open", exact=True).first.click()
    chooser.value.set_files(file)
    wait_until(page, "watched.opened === 2")
    assert saved(page) == file.read_text(encoding="utf-8")
    page.get_by_role("button", name="Shelf", exact=True).first.click()
    page.locator(".shelf-dialog .shelf-entry", has_text="changed").click()
    wait_until(page, "watched.opened === 3")
    assert '"mass_kg": 92' in page.evaluate("watched.openedDocument")
