"""What the page paints is what Python said, and what an export of the same picture would look like."""

from __future__ import annotations

import json
import xml.etree.ElementTree as ElementTree
from collections.abc import Callable
from typing import Any

import pytest
from app_page import AppPage
from steelyard import shelf
from steelyard.bridge import Door
from steelyard.picture import svg, theme
from steelyard.picture.record import EXPORTED, Picture, Record, Run

Wait = Callable[..., Any]
SVG = "{http://www.w3.org/2000/svg}"
STYLED = ("stroke", "strokeWidth", "strokeDasharray", "strokeLinecap", "fill", "fontFamily", "fontWeight", "fontStyle")

# The last is the one the next sketch opens in.
VIEWS = {"set-up": "Set-up", "point": "Point", "polygon": "Polygon", "extended": "Extended"}

READ_STYLES = """([roles, styled]) => {
  const space = "http://www.w3.org/2000/svg";
  const stage = document.createElementNS(space, "svg");
  document.body.append(stage);
  const read = (element) => {
    const style = getComputedStyle(element);
    return styled.map((name) => style[name]);
  };
  const found = Object.fromEntries(roles.map(([role, tag, attributes]) => {
    const [live, exported] = [0, 1].map(() => stage.appendChild(document.createElementNS(space, tag)));
    live.setAttribute("class", `sy-${role}`);
    for (const [name, value] of Object.entries(attributes)) exported.setAttribute(name, value);
    return [role, [read(live), read(exported)]];
  }));
  stage.remove();
  return found;
}"""

READ_BOARD = """() => Object.fromEntries([...document.querySelectorAll(".sheet [id^='board-']")].map((element) => [
  element.id.slice("board-".length),
  Object.fromEntries(["d", "cx", "cy", "r", "x", "y", "text-anchor"].flatMap((name) =>
    element.hasAttribute(name) ? [[name, element.getAttribute(name)]] : []).concat([["text", element.textContent]])),
]))"""

READ_SHEET = """() => {
  const desk = document.getElementById("desk");
  const look = document.querySelector(".board > .look");
  return {
    width_px: desk.clientWidth,
    height_px: desk.clientHeight,
    strips_px: document.getElementById("readings").clientWidth,
    covered_px: [0, Math.round(desk.getBoundingClientRect().right - look.getBoundingClientRect().left), 0, 0],
  };
}"""


@pytest.mark.parametrize("shade", ["light", "dark"])
def test_a_role_looks_the_same_on_the_page_and_in_an_export(app: AppPage, shade: str) -> None:
    app.page.evaluate("(shade) => { document.documentElement.dataset.shade = shade; }", shade)
    roles = [
        [role, "text" if style.family else "path", theme.attributes(role, "dark" if shade == "dark" else "light")]
        for role, style in theme.STYLES.items()
        if role not in theme.RUN_ROLES
    ]
    found = app.page.evaluate(READ_STYLES, [roles, STYLED])
    assert len(found) > 20
    assert {role: live for role, (live, _) in found.items()} == {role: export for role, (_, export) in found.items()}


def exported(picture: dict[str, Any]) -> dict[str, dict[str, str]]:
    """The records of a reply painted by the export, read back: attributes and text by id."""
    records = tuple(
        Record(
            id=record["id"],
            tag=record["tag"],
            role=record["role"],
            layer=record["layer"],
            attrs=tuple(record["attrs"].items()),
            runs=tuple(Run(**run) for run in record.get("runs", ())),
        )
        for record in picture["records"]
        if record["layer"] in EXPORTED and "shown" not in record
    )
    text = svg.write(Picture(picture["width"], picture["height"], records, ()), title="t", desc="d")
    return {
        element.get("id", ""): {**element.attrib, "text": "".join(element.itertext())}
        for element in ElementTree.fromstring(text).iter()
        if element.tag in {SVG + "path", SVG + "circle", SVG + "text"} and element.get("id")
    }


def ask(door: Door, request: dict[str, Any]) -> dict[str, Any]:
    """One request to an engine of our own, beside the page's."""
    reply: dict[str, Any] = json.loads(door.handle(json.dumps({"seq": 1, **request})))
    assert reply["ok"], reply
    return reply


def test_the_page_and_the_export_paint_the_same_records_for_every_scenario_and_view(app: AppPage) -> None:
    page = app.page
    page.emulate_media(reduced_motion="reduce")  # else arrows are still on their way when they are read
    for scenario in shelf.listing():
        page.get_by_role("button", name="Shelf", exact=True).click()
        app.painted(page.locator("dialog[open]").get_by_role("button", name=scenario.title).click)
        app.holds(f"document.querySelector('.title').textContent === {json.dumps(scenario.title)}")
        # The same steps as the page's, since labels remember the sides they stood on.
        door = Door()
        ask(door, {"do": "show", "view": "extended", **page.evaluate(READ_SHEET)})
        ask(door, {"do": "scenario", "slug": scenario.slug})
        for view, tab in VIEWS.items():
            app.painted(page.get_by_role("button", name=tab, exact=True).click)
            reply = ask(door, {"do": "show", "view": view})
            expected = exported(reply["picture"])
            painted = page.evaluate(READ_BOARD)
            assert len(expected) > 10
            for key, attributes in expected.items():
                same = {name: attributes[name] for name in painted[key] if name in attributes}
                assert painted[key] == same, (scenario.slug, view, key)
