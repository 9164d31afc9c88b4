"""The track of one number, as the page gets it: true while the hand moves, silent while answers are kept back."""

from __future__ import annotations

import json
import math
from dataclasses import replace
from typing import Any

import pytest
from steelyard import document, shelf
from steelyard.bridge import Door
from steelyard.limits.thresholds import limits
from steelyard.model import Sketch
from steelyard.panels import track as panel
from steelyard.panels.track import limits_action, track_panel

GANGWAY = replace(shelf.load("gangway"), answers="shown")
ANGLE = "gangway.angle_deg"
FREE = math.degrees(math.atan2(3.2, 1.2))  # the gangway points at the rope's anchor


def ask(door: Door, do: str, **arguments: Any) -> dict[str, Any]:
    reply: dict[str, Any] = json.loads(door.handle(json.dumps({"seq": 1, "do": do, **arguments})))
    assert reply["ok"], reply
    return reply


def opened(sketch: Sketch, selected: str, track: str) -> Door:
    door = Door()
    ask(door, "show", width_px=863, height_px=522, strips_px=863)
    ask(door, "open", document=document.write(sketch))
    ask(door, "show", selected=selected, track=track)
    return door


def turned(door: Door, do: str, text: str) -> dict[str, Any]:
    return ask(door, do, name="set", args={"id": "sketch", "key": f"number:{ANGLE}", "text": text})


def test_track_shows_the_safe_stretches_and_every_change_of_the_finder():
    data = ask(opened(GANGWAY, "gangway", ANGLE), "show", selected="gangway")["panels"]["track"]
    found = limits(GANGWAY, ANGLE, -180.0, 180.0)
    assert (data["low"], data["high"], data["value"], data["ends"]) == (-180.0, 180.0, -12.0, ["−180°", "180°"])
    assert [mark["share"] for mark in data["changes"]] == [
        pytest.approx((change.value + 180.0) / 360.0, abs=1e-6) for change in found.changes
    ]
    assert data["safe"] == [[pytest.approx((end + 180.0) / 360.0, abs=1e-6) for end in ends] for ends in found.safe]
    assert any(
        start * 360 - 180 < -12 < end * 360 - 180 == pytest.approx(FREE, abs=1e-3) for start, end in data["safe"]
    )
    assert data["said"].startswith("Held in balance from −90.00° to 69.44°.")
    assert [option["text"] for option in data["numbers"]] == ["angle", "mass", "length"]


def test_what_is_said_follows_the_hand_without_looking_anew(monkeypatch):
    door = opened(GANGWAY, "gangway", ANGLE)
    monkeypatch.setattr(panel, "limits", lambda *_args, **_more: pytest.fail("limits looked for in a preview"))
    data = turned(door, "try", "75")["panels"]["track"]
    assert data["value"] == 75.0
    assert data["said"].startswith("Not held here: No balance like this: the rope (T) would have to push.")
    assert "Next above, 76.66°" in data["said"] and "Next below, 74.70°" in data["said"]
    assert len(data["changes"]) == len(ask(door, "cancel")["panels"]["track"]["changes"])


def test_limits_of_another_sketch_are_never_shown():
    door = opened(GANGWAY, "gangway", ANGLE)
    heavier = ask(door, "try", name="set", args={"id": "walker", "key": "mass", "text": "300"})["panels"]["track"]
    assert (heavier["safe"], heavier["changes"], heavier["said"]) == ([], [], "")
    settled = ask(door, "command", name="set", args={"id": "walker", "key": "mass", "text": "300"})["panels"]["track"]
    assert settled["changes"]


def test_dragging_the_handle_is_one_entry_and_can_be_undone():
    door = opened(GANGWAY, "gangway", ANGLE)
    turned(door, "try", "20")
    reply = turned(door, "command", "30")
    assert json.loads(reply["document"])["bodies"][0]["angle_deg"] == 30.0
    assert reply["entry"]["label"] == "Change the gangway's angle"
    assert json.loads(ask(door, "undo")["document"])["bodies"][0]["angle_deg"] == -12.0
    message = {
        "seq": 1,
        "do": "command",
        "name": "set",
        "args": {"id": "sketch", "key": "number:walker.place_m[0]", "text": "9"},
    }
    refused = json.loads(door.handle(json.dumps(message)))
    assert refused["error"]["code"] == "document.off-body"


def test_nothing_is_tracked_or_offered_while_answers_are_kept_back():
    kept = replace(GANGWAY, answers="kept", told=("hoist",))
    for entity_id in ("gangway", "hoist", "walker"):
        assert limits_action(kept, entity_id) == []
    reply = ask(opened(kept, "gangway", ANGLE), "show", selected="gangway")
    assert reply["panels"]["track"] is None
    assert "limits" not in json.dumps(reply["panels"]["fields"])


@pytest.mark.parametrize("slug", [each.slug for each in shelf.listing()])
def test_every_thing_of_the_shelf_has_its_track_or_none_is_offered(slug):
    sketch = replace(shelf.load(slug), answers="shown")
    seen = 0
    for entity in (*sketch.bodies, *sketch.supports, *sketch.loads):
        for item in limits_action(sketch, entity.id):
            path = item["show"]["track"]
            data, known = track_panel(sketch, entity.id, path, None, preview=False)
            assert data is not None and known is not None, path
            assert data["low"] <= data["value"] <= data["high"]
            assert track_panel(sketch, entity.id, path, known, preview=True)[0] == data
            seen += 1
    assert seen >= 2


def test_track_goes_with_the_selection_and_with_its_number():
    door = opened(GANGWAY, "gangway", ANGLE)
    assert ask(door, "show", selected="walker")["panels"]["track"] is None
    assert ask(door, "show", selected="gangway")["panels"]["track"]
    assert ask(door, "show", track=None)["panels"]["track"] is None
    assert ask(opened(GANGWAY, "walker", "walker.nothing"), "show", selected="walker")["panels"]["track"] is None
