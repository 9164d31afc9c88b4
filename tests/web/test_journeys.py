"""From a blank sheet to the gangway and its answers, by mouse, by taps alone and by keys alone."""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from typing import Any

import numpy
import pytest
from playwright.sync_api import BrowserContext, Page
from sketcher import Sketcher, Spot

TILT = math.radians(12.0)
LENGTH, ANGLE, MASS = "length, m", "angle from the x direction, °", "mass of bar, kg"
GRAVITY = "acceleration of gravity g, m/s²"


def along(distance_m: float) -> Spot:
    """A point of the gangway, which hangs 12° below the level from the origin."""
    return distance_m * math.cos(TILT), -distance_m * math.sin(TILT)


@pytest.fixture
def sketcher(later_visit: BrowserContext, site_url: str, wait_until: Callable[..., Any]) -> Sketcher:
    """A user in front of a blank sheet. Saving goes by download: a save dialog of the system cannot be driven."""
    page = later_visit.new_page()
    page.add_init_script("delete window.showSaveFilePicker")
    user = Sketcher(page, wait_until)
    user.open(site_url)
    page.get_by_role("button", name="Menu").click()
    user.painted(page.get_by_role("button", name="New", exact=True).click)
    return user


def is_the_gangway(document: dict[str, Any]) -> None:
    """Every figure to the digits typed."""
    [bar], [pin, rope], [walker] = document["bodies"], document["supports"], document["loads"]
    assert (bar["origin_m"], bar["length_m"], bar["angle_deg"], bar["mass_kg"]) == ([0.0, 0.0], 6.0, -12.0, 120.0)
    assert (pin["kind"], pin["place_m"]) == ("pin", [0.0, 0.0])
    assert (rope["kind"], rope["place_m"], rope["anchor_m"]) == ("rope", [5.2, 0.0], [1.2, 3.2])
    assert (walker["kind"], walker["place_m"], walker["mass_kg"]) == ("thing", [4.0, 0.0], 80.0)
    assert document["settings"]["g_m_s2"] == 9.80665


def set_gravity_by_menu(user: Sketcher) -> None:
    """Opening the settings is one gesture, filling the field another."""
    user.page.get_by_role("button", name="Menu").click()
    user.page.get_by_role("button", name="Settings").click()
    user.gestures += 1
    user.fill(GRAVITY, "9.80665")
    user.page.locator("dialog[open]").get_by_role("button", name="Close").click()


def build(user: Sketcher, between: Callable[[Spot, Spot], None]) -> None:
    """The gangway; `between` gives the two points of a bar or rope."""
    user.choose("Bar")
    between(user.spot(0, 0), user.spot(5, -1.1))
    user.fill(LENGTH, "6")
    user.fill(ANGLE, "-12")
    user.fill(MASS, "120")
    user.choose("Pin")
    user.tap(user.spot(0, 0))
    user.choose("Rope")
    between(user.spot(*along(5.2)), user.spot(1.2, 3.2))
    user.choose("Thing")
    user.tap(user.spot(*along(4.0)))
    user.fill("mass of thing, kg", "80")
    set_gravity_by_menu(user)


def test_the_gangway_takes_at_most_fourteen_gestures(sketcher: Sketcher) -> None:
    build(sketcher, sketcher.drag)
    print(f"gangway by mouse: {sketcher.gestures} gestures")
    is_the_gangway(sketcher.saved())
    assert sketcher.gestures <= 14


def test_the_gangway_can_be_built_by_taps_alone(sketcher: Sketcher) -> None:
    def tap_both(start: Spot, end: Spot) -> None:
        sketcher.tap(start)
        sketcher.tap(end)

    build(sketcher, tap_both)
    print(f"gangway by taps: {sketcher.gestures} gestures")
    is_the_gangway(sketcher.saved())


def test_the_gangway_takes_at_most_120_keys(sketcher: Sketcher) -> None:
    page = sketcher.page

    def tool(key: str, first_field: str) -> None:
        """A tool's key puts its thing down; the next key goes to the first field."""
        sketcher.painted(lambda: sketcher.press(key))
        sketcher.wait_until(page, f"document.activeElement?.getAttribute('aria-label') === {first_field!r}")

    def enter() -> None:
        sketcher.painted(lambda: sketcher.press("Enter"))
        sketcher.wait_until(page, "document.activeElement?.id === 'desk'")

    page.locator("#desk").focus()
    tool("b", "start, x, m")
    sketcher.press("Tab", "Tab")
    sketcher.type("6")
    sketcher.press("Tab")
    sketcher.type("-12")
    sketcher.press("Tab")
    sketcher.type("120")
    enter()
    tool("i", "distance along from the start of the bar, m")
    enter_unchanged = page.evaluate("document.activeElement.value")
    assert enter_unchanged == "0"
    sketcher.press("Escape")
    sketcher.wait_until(page, "document.activeElement?.id === 'desk'")
    tool("r", "distance along from the start of the bar, m")
    sketcher.type("5.2")
    sketcher.press("Tab")
    sketcher.type("1.2")
    sketcher.press("Tab")
    sketcher.type("3.2")
    enter()
    tool("t", "distance along from the start of the bar, m")
    sketcher.type("4")
    sketcher.press("Tab")
    sketcher.type("80")
    enter()
    for _ in range(12):
        sketcher.press("Shift+Tab")
        if page.evaluate("document.activeElement?.textContent === 'Menu'"):
            break
    sketcher.press("Enter")
    for _ in range(8):
        if page.evaluate("document.activeElement?.textContent === 'Settings'"):
            break
        sketcher.press("ArrowDown")
    sketcher.press("Enter")
    for _ in range(8):
        if page.evaluate(f"document.activeElement?.getAttribute('aria-label') === {GRAVITY!r}"):
            break
        sketcher.press("Tab")
    sketcher.type("9.80665")
    sketcher.painted(lambda: sketcher.press("Enter"))
    print(f"gangway by keys: {sketcher.keys} keys")
    page.locator("dialog[open]").get_by_role("button", name="Close").click()
    is_the_gangway(sketcher.saved())
    assert sketcher.keys <= 120


def solved_apart(walker_m: float = 4.0) -> tuple[float, float, float, float]:
    """T, R, the angle of R and the arm of T about the hinge, straight from numpy."""
    walker, middle, rope = (numpy.array(along(distance)) for distance in (walker_m, 3.0, 5.2))
    pull = numpy.array([1.2, 3.2]) - rope
    pull /= numpy.hypot(*pull)
    weight, push = 120 * 9.80665, 80 * 9.80665
    arm = rope[0] * pull[1] - rope[1] * pull[0]
    sums = numpy.array([[1, 0, pull[0]], [0, 1, pull[1]], [0, 0, arm]])
    right, up, tension = numpy.linalg.solve(sums, [0, weight + push, weight * middle[0] + push * walker[0]])
    return tension, numpy.hypot(right, up), math.degrees(math.atan2(up, right)), arm


def test_the_page_shows_the_answers_of_an_independent_solution(
    later_visit: BrowserContext, site_url: str, wait_until: Callable[..., Any]
) -> None:
    page = later_visit.new_page()
    user = Sketcher(page, wait_until)
    user.open(site_url)
    before = page.locator("body").inner_text()
    tension, reaction, angle, arm = solved_apart()
    assert (round(tension, 1), round(reaction, 1), round(angle, 2), round(arm, 3)) == (2146.1, 1489.8, 14.47, 3.039)
    shown = [f"{tension:.0f} N", f"{reaction:.0f} N", f"{angle:.2f}°"]
    spaced = re.sub("[\u00a0\u202f\u2009]", " ", before)
    assert not [text for text in shown if text in spaced], "answers kept back are nowhere on the page"
    user.painted(page.get_by_role("button", name="Show the answers").click)
    user.painted(page.get_by_role("tab", name="Forces", exact=True).click)
    after = re.sub("[\u00a0\u202f\u2009]", " ", page.locator("body").inner_text())
    assert [text for text in [*shown, f"{arm:.3f} m"] if text not in after] == []


def test_a_drag_answers_at_every_move(
    later_visit: BrowserContext, site_url: str, wait_until: Callable[..., Any]
) -> None:
    page = later_visit.new_page()
    user = Sketcher(page, wait_until)
    user.open(site_url)
    user.painted(page.get_by_role("button", name="Show the answers").click)
    table = page.locator("#side table").first
    seen = [table.inner_text()]
    x_px, y_px = user.spot(*along(4.0))
    page.mouse.move(x_px, y_px)
    page.mouse.down()
    for step in range(1, 6):
        x_px, y_px = user.spot(*along(4.0 + 0.3 * step))
        page.mouse.move(x_px, y_px)
        wait_until(page, f"document.querySelector('#side table').innerText !== {seen[-1]!r}")
        seen.append(table.inner_text())
    assert len(set(seen)) == len(seen), "no two places of the walker read alike"
    page.keyboard.press("Escape")
    wait_until(page, f"document.querySelector('#side table').innerText === {seen[0]!r}")


def told(page: Page) -> str:
    """All the page holds: its markup, and what assistive technology is given of it."""
    tree = page.context.new_cdp_session(page).send("Accessibility.getFullAXTree")
    spoken = [
        str(node.get(part, {}).get("value", "")) for node in tree["nodes"] for part in ("name", "description", "value")
    ]
    return re.sub("[\u00a0\u202f\u2009]", " ", page.evaluate("document.documentElement.outerHTML") + " ".join(spoken))


def test_kept_answers_are_nowhere_on_the_page_while_the_walker_is_dragged(
    later_visit: BrowserContext, site_url: str, wait_until: Callable[..., Any]
) -> None:
    page = later_visit.new_page()
    user = Sketcher(page, wait_until)
    user.open(site_url)
    page.mouse.move(*user.spot(*along(4.0)))
    page.mouse.down()
    places = []
    for step in range(1, 6):
        spot = user.spot(*along(4.0 - 0.37 * step))
        user.painted(lambda spot=spot: page.mouse.move(*spot))
        places.append(float(page.get_by_label("distance along from the start of the bar, m").input_value()))
        tension, reaction, angle, _ = solved_apart(places[-1])
        right, up = reaction * math.cos(math.radians(angle)), reaction * math.sin(math.radians(angle))
        everything = told(page)
        # Four figures, as the sketch shows them, and three; signs and units apart.
        for answer in (tension, reaction, right, up):
            for figures in (3, 4, 5):
                digits = f"{float(f'{answer:.{figures}g}'):.{max(0, figures - 1 - int(math.log10(abs(answer))))}f}"
                assert not re.search(rf"(?<![\d.]){re.escape(digits)} ?N\b", everything), (places[-1], digits)
        assert f"{angle:.2f}°" not in everything
    page.mouse.up()
    assert len(set(places)) == len(places)
