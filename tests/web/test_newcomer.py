"""A newcomer guesses wrongly, reads why, turns the guess, tries pivots, and works it out to the end: hand, keys, ear.

At every step what a screen reader is given is looked at too: it must say what a look at the page says.
"""

from __future__ import annotations

from typing import Any

import pytest
from app_page import AppPage
from playwright.sync_api import BrowserContext

STEPS = 7  # of the gangway: isolate, three sums, whole force, check, answer
# By hand from the drawing: T = (2.934 m · 1176.8 N + 3.913 m · 784.5 N) / 3.039 m; R from the two sums of forces.
TENSION, REACTION = "2146", "1490"


@pytest.fixture
def app(later_visit: BrowserContext, wait_until: Any, site_url: str) -> AppPage:
    later_visit.grant_permissions(["clipboard-read", "clipboard-write"], origin=site_url)
    return AppPage(later_visit.new_page(), wait_until, site_url)


def heard(app: AppPage) -> list[tuple[str, str]]:
    """Role and name of everything a screen reader is given, in its order."""
    session = app.page.context.new_cdp_session(app.page)
    nodes = session.send("Accessibility.getFullAXTree")["nodes"]
    session.detach()
    given = [node for node in nodes if not node.get("ignored")]
    return [(node["role"]["value"], node.get("name", {}).get("value", "")) for node in given]


def names(app: AppPage, role: str) -> list[str]:
    return [name for each, name in heard(app) if each == role]


def text(app: AppPage) -> str:
    """All that is heard as running text."""
    return " ".join(names(app, "StaticText"))


def headline(app: AppPage, words: str) -> None:
    app.holds(f"document.querySelector('.guess-headline').textContent === {words!r}")


def pivot_is(app: AppPage, words: str) -> None:
    app.holds(f"(document.querySelector('.tries [aria-current]')?.textContent ?? '').startsWith({words!r})")


def check_sketch_is_heard(app: AppPage) -> None:
    """The picture, its question and the kept answers, before anything is done."""
    assert "Extended of Gangway at half tide" in [name for _, name in heard(app)]
    assert "Which way does the hinge push?" in text(app)
    assert TENSION not in text(app) and REACTION not in text(app)


def check_argument_is_heard(app: AppPage) -> None:
    said = text(app)
    assert "can only pull" in said and "must act to the right" in said
    assert "Turn it" in names(app, "button")
    assert REACTION not in said


def check_end(app: AppPage) -> None:
    """The whole working is on the page, in what is heard, and on the clipboard."""
    app.holds(f"document.querySelectorAll('.step').length === {STEPS}")
    app.holds("document.querySelector('.blank-step').hidden")
    said = names(app, "StaticText")
    assert f"T equals {TENSION} newtons" in said and f"R equals {REACTION} newtons" in said
    assert "It closes." in text(app)
    titles = names(app, "heading")
    assert [title for title in titles if title.startswith(("Isolate", "Torques", "Forces along", "Check", "Answer"))]
    # With everything found, nothing is kept back any more: the guess is judged by the sums.
    app.holds("document.querySelector('.verdict-headline').textContent !== 'Answers kept back.'")


def check_copied(app: AppPage) -> None:
    app.holds(f"document.getElementById('status').textContent === '{STEPS} steps copied as LaTeX.'")
    copied = app.page.evaluate("navigator.clipboard.readText()")
    assert copied.startswith("\\documentclass") and copied.rstrip().endswith("\\end{document}")
    assert copied.count("\\subsection*") == STEPS
    assert rf"\qty{{{TENSION}}}{{\newton}}" in copied and rf"\qty{{{REACTION}}}{{\newton}}" in copied


def test_a_newcomer_with_a_mouse(app: AppPage) -> None:
    page, mouse = app.page, app.page.mouse
    check_sketch_is_heard(app)
    # Touches the hinge's force, and drags the wrong way: left and down.
    app.painted(lambda: mouse.click(*app.middle("hinge")))
    headline(app, "Which way does R act?")
    tail, head = app.middle("hinge.grip-tail"), app.middle("hinge.grip-head")
    mouse.move(*head)
    mouse.down()
    mouse.move(tail[0] - 50, tail[1] + 30, steps=3)
    mouse.move(tail[0] - 80, tail[1] + 40, steps=3)
    app.painted(mouse.up)
    headline(app, "Along x: Rx must act to the right")
    check_argument_is_heard(app)
    # Turns it, as often as the argument asks.
    for _ in range(2):
        turn = page.locator("#guess").get_by_role("button", name="Turn it", exact=True)
        if not turn.is_visible():
            break
        before = page.locator(".guess-headline").inner_text()
        turn.click()
        app.holds(f"document.querySelector('.guess-headline').textContent !== {before!r}")
    assert not page.locator(".stage[data-agrees=false]").count()
    # Tries two other pivots, one from the list and one by hand.
    crossing = page.locator(".tries button").filter(has_text="crossing").first
    app.painted(crossing.click)
    pivot_is(app, "About O: ")
    grip = app.middle("pivot")
    mouse.move(grip[0] + 9, grip[1])  # a pivot is taken by its rim: its middle belongs to what is beneath
    mouse.down()
    mouse.move(grip[0] + 20, grip[1] + 60, steps=4)
    app.painted(mouse.up)
    app.holds("document.querySelector('.tries [aria-current]') === null")
    # Works it out to the end.
    for shown in range(2, STEPS + 1):
        app.painted(page.locator(".next-step").click)
        app.holds(f"document.querySelectorAll('.step').length === {shown}")
    check_end(app)
    page.get_by_role("button", name="Copy", exact=True).click()
    page.get_by_role("button", name="LaTeX, a whole document", exact=True).click()
    check_copied(app)
    assert app.heard == []


def tab_to(app: AppPage, name: str, back: bool = False) -> None:
    """Walk on with Tab until the thing with this name has the focus; fails after one round."""
    for _ in range(120):
        app.page.keyboard.press("Shift+Tab" if back else "Tab")
        if (
            app.page.evaluate(
                "(document.activeElement.getAttribute('aria-label') ?? document.activeElement.textContent).trim()"
            )
            == name
        ):
            return
    raise AssertionError(f"{name} cannot be reached with Tab")


def test_a_newcomer_with_keys_alone(app: AppPage) -> None:
    page, keys = app.page, app.page.keyboard
    check_sketch_is_heard(app)
    for _ in range(12):
        if app.selected == "hinge":
            break
        app.painted(lambda: keys.press("ArrowDown"))
    headline(app, "Which way does R act?")
    # The guess first points along the assumed senses; its angle is typed, the wrong way.
    tab_to(app, "Draw a guess")
    app.painted(lambda: keys.press("Enter"))
    tab_to(app, "guessed angle, °", back=True)
    page.keyboard.press("Control+a")
    keys.type("205")
    app.painted(lambda: keys.press("Enter"))
    headline(app, "Along x: Rx must act to the right")
    check_argument_is_heard(app)
    tab_to(app, "Turn it")
    keys.press("Enter")
    app.holds("document.querySelector('.guess-headline').textContent !== 'Along x: Rx must act to the right'")
    # Two other pivots: one from the list, then nudged with the arrows.
    page.locator(".tries button").filter(has_text="crossing").first.focus()
    app.painted(lambda: keys.press("Enter"))
    pivot_is(app, "About O: ")
    page.locator("#desk").focus()
    for _ in range(14):
        if app.selected == "pivot":
            break
        app.painted(lambda: keys.press("ArrowDown"))
    app.painted(lambda: keys.press("Enter"))
    app.painted(lambda: keys.press("Shift+ArrowUp"))
    app.painted(lambda: keys.press("Enter"))
    app.holds("document.querySelector('.tries [aria-current]') === null")
    for shown in range(2, STEPS + 1):
        app.painted(lambda: keys.press("Space"))
        app.holds(f"document.querySelectorAll('.step').length === {shown}")
        app.holds(f"document.getElementById('status').textContent.startsWith('Step {shown} of {STEPS}.')")
    check_end(app)
    tab_to(app, "Copy")
    keys.press("Enter")
    assert page.evaluate("document.activeElement.textContent") == "LaTeX, a whole document"
    keys.press("Enter")
    check_copied(app)
    assert app.heard == []
