"""What a preview sends of a working, put onto what the page holds, is the working."""

from __future__ import annotations

import copy
from collections.abc import Iterator
from dataclasses import replace
from random import Random
from typing import Any

import pytest
from steelyard import shelf
from steelyard.model import Sketch, SpreadLoad
from steelyard.panels.steps import SAME, PanelStep, PanelSteps
from steelyard.statics import analyse
from steelyard.working.steps import work

SLUGS = [each.slug for each in shelf.listing()]


def panel(sketch: Sketch, width_px: float = 290.0) -> PanelSteps:
    steps = work(sketch, analyse(sketch)).steps
    return PanelSteps(tuple(PanelStep(step, "") for step in steps), sketch.settings.decimal_comma, width_px)


def moved(sketch: Sketch, chance: Random) -> Sketch:
    """The loads shifted, and now and then a body turned: by little, as under a hand."""
    loads = []
    for load in sketch.loads:
        key = "start_m" if isinstance(load, SpreadLoad) else "place_m"
        x, y = getattr(load, key)
        loads.append(replace(load, **{key: (x + chance.choice((0.0, 0.01, -0.02)), y)}))
    if chance.random() < 0.4:
        first = sketch.bodies[0]
        return replace(sketch, bodies=(replace(first, angle_deg=first.angle_deg + chance.uniform(-1.0, 1.0)),
                                       *sketch.bodies[1:]), loads=tuple(loads))  # fmt: skip
    return replace(sketch, loads=tuple(loads))


def numbers(node: Any) -> Iterator[list[Any]]:
    """The number elements of a MathML tree in reading order, without the exponents."""
    tag, _, children = node
    if tag == "mn":
        yield node
    for place, child in enumerate(children):
        if isinstance(child, list) and not (tag == "msup" and place == 1):
            yield from numbers(child)


def put(held: list[dict[str, Any]], heard: list[Any]) -> list[dict[str, Any]]:
    """What the page makes of a preview (`whole.js` and `working.js`)."""
    made = []
    for place, change in enumerate(heard):
        if change == SAME:
            made.append(held[place])
        elif "kind" in change:
            made.append(change)
        else:
            step = {**held[place], **change}
            step["lines"] = [
                line(held[place]["lines"][at] if at < len(held[place]["lines"]) else None, each)
                for at, each in enumerate(change.get("lines", [SAME] * len(held[place]["lines"])))
            ]
            made.append(step)
    return made


def line(held: Any, heard: Any) -> Any:
    if heard == SAME:
        return held
    if not isinstance(heard, list):
        return heard
    made = copy.deepcopy(held)
    elements = [element for row in made["rows"] for element in numbers(row)]
    assert len(elements) == len(heard)
    for element, digits in zip(elements, heard, strict=True):
        element[2] = [digits]
    return made


def seen(steps: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """What is seen of the steps: a preview leaves the words that are only heard, and points it draws nothing by."""
    return [
        {
            **{key: step[key] for key in ("kind", "title", "why", "sense", "remarks", "contacts", "of")},
            "lines": [(each["rows"], each["underlined"]) for each in step["lines"]],
        }
        for step in steps
    ]


@pytest.mark.parametrize("slug", SLUGS)
def test_a_preview_put_onto_what_is_held_shows_the_working_as_it_is(slug: str) -> None:
    chance = Random(slug)
    sketch = shelf.load(slug)
    sent = panel(sketch)
    held = sent.whole()
    short = 0
    for _ in range(12):
        sketch = moved(sketch, chance)
        now = panel(sketch)
        heard = now.since(sent)
        short += sum(each == SAME or "kind" not in each for each in heard)
        held = put(held, heard)
        assert seen(held) == seen(now.whole())
        sent = now
    assert short > 12  # most steps need not be sent whole


def test_nothing_is_sent_again_while_nothing_moves_and_all_of_it_where_rows_are_of_another_width() -> None:
    sketch = shelf.load("gangway")
    assert set(panel(sketch).since(panel(sketch))) == {SAME}
    assert panel(sketch, 200.0).since(panel(sketch)) == panel(sketch, 200.0).whole()
    assert panel(sketch).since(None) == panel(sketch).whole()
