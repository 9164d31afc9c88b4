"""Answers kept back with friction: a sketch that holds and one that does not read the same but for their μ."""

from __future__ import annotations

import json
from dataclasses import replace
from typing import Any

import pytest
from steelyard import document
from steelyard.bridge import Door
from steelyard.model import Sketch
from test_friction import crate, ladder


def is_cone(record: dict[str, Any]) -> bool:
    """The cone is as wide as μ says, which is given."""
    return record.get("role") == "cone"


def drawn(record: dict[str, Any]) -> dict[str, Any]:
    """A record without where its label stands: labels make room for the cone."""
    beside = record.get("tag") == "text" or record["id"].endswith(".leader")
    return {**record, "attrs": {}} if beside else record


def replies(sketch: Sketch) -> list[str]:
    """Everything the page is told of a kept-back sketch, in its views and while something is dragged."""
    requests = [
        {"do": "hello"},
        {"do": "open", "document": document.write(replace(sketch, answers="kept"))},
        *(
            {"do": "show", "view": view, "width_px": 900, "height_px": 600, "strips_px": 900, "side": side}
            for view in ("set-up", "extended", "point", "polygon")
            for side in ("working", "forces")
        ),
        {"do": "show", "view": "extended", "selected": sketch.supports[0].id, "side": "forces"},
        {"do": "try", "name": "set", "args": {"id": sketch.bodies[0].id, "key": "name", "text": "thing"}},
    ]
    door = Door()
    made = []
    for seq, request in enumerate(requests, 1):
        reply = json.loads(door.handle(json.dumps({"seq": seq, **request})))
        assert reply["ok"], reply
        if seq > 1:
            reply.pop("document", None)
            reply.pop("entry", None)
            reply["picture"]["records"] = [drawn(each) for each in reply["picture"]["records"] if not is_cone(each)]
            made.append(json.dumps(reply))
    return made


@pytest.mark.parametrize(
    ("holds", "fails"),
    [
        (ladder(0.4, None), ladder(0.2, None)),
        (ladder(0.4, 0.4), ladder(0.2, 0.2)),
        (crate(0.4, 35.0, 1.0), crate(0.2, 35.0, 1.0)),
    ],
    ids=["smooth wall", "both ends", "crate"],
)
def test_reply_does_not_tell_whether_friction_is_enough(holds, fails):
    for one, other in zip(replies(holds), replies(fails), strict=True):
        assert one.replace("0.4", "0.2") == other.replace("0.4", "0.2")
