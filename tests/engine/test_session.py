"""Gestures, commands and history through the door: what is kept, what is put back, what a restart gives again."""

from __future__ import annotations

import json
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from steelyard import document, shelf
from steelyard.bridge import Door
from steelyard.session.tools import TRAY

SLUGS = [each.slug for each in shelf.listing()]
TWO_POINTS = [tool.name for tool in TRAY if tool.points == 2]


def ask(door: Door, do: str, **arguments: Any) -> dict[str, Any]:
    reply: dict[str, Any] = json.loads(door.handle(json.dumps({"seq": 1, "do": do, **arguments})))
    return reply


def state(door: Door, do: str, **arguments: Any) -> dict[str, Any]:
    reply = ask(door, do, **arguments)
    assert reply["ok"], reply["error"]
    return reply


def opened(slug: str = "gangway", **shown: Any) -> Door:
    door = Door()
    state(door, "show", width_px=863, height_px=522, strips_px=863, **shown)
    sketch = replace(shelf.load(slug), answers="shown")
    state(door, "open", document=document.write(sketch))
    return door


def saved(door: Door) -> str:
    text: str = state(door, "save")["text"]
    return text


def grip_px(door: Door, of: str, grip: str) -> list[float]:
    reply = state(door, "show", selected=of)
    found = [target for target in reply["picture"]["targets"] if (target["of"], target["grip"]) == (of, grip)]
    point: list[float] = found[0]["points_px"][0]
    return point


def hold(door: Door, of: str, grip: str) -> list[float]:
    point = grip_px(door, of, grip)
    state(door, "begin", of=of, grip=grip, point_px=point)
    return point


def test_a_drag_is_one_entry_and_undo_puts_it_back() -> None:
    door = opened()
    before = saved(door)
    x, y = hold(door, "walker", "tail")
    for step in range(1, 6):
        state(door, "preview", point_px=[x - 15 * step, y], snap=True, catch_px=8)
    done = state(door, "commit")
    assert done["entry"]["label"] == done["panels"]["history"]["undo"] == "Move walker"
    assert done["document"] == saved(door) != before
    undone = state(door, "undo")
    assert undone["document"] == saved(door) == before
    assert undone["panels"]["history"] == {"undo": "", "redo": "Move walker"}
    assert state(door, "redo")["document"] == done["document"]


def test_a_drag_that_comes_back_to_where_it_began_leaves_no_entry() -> None:
    door = opened()
    x, y = hold(door, "walker", "tail")
    state(door, "preview", point_px=[x + 60, y], snap=True, catch_px=8)
    state(door, "preview", point_px=[x, y], snap=True, catch_px=8)
    done = state(door, "commit")
    assert done["entry"] is None and done["document"] is None
    assert done["panels"]["history"]["undo"] == ""


def test_a_hold_without_any_move_leaves_no_entry() -> None:
    door = opened()
    hold(door, "hoist", "head")
    assert state(door, "commit")["entry"] is None


def test_cancel_puts_the_picture_back_to_the_last_record() -> None:
    door = opened()
    first = state(door, "show", selected="walker")
    x, y = hold(door, "walker", "tail")
    moved = state(door, "preview", point_px=[x - 80, y], snap=True, catch_px=8)
    assert moved["preview"] and moved["gesture"]["readout"]
    back = state(door, "cancel")
    assert back["gesture"] is None
    assert back["picture"]["records"] == first["picture"]["records"]
    assert back["strips"] == first["strips"]


def test_previews_start_from_the_sketch_as_at_begin_so_dropping_some_changes_nothing() -> None:
    ends = []
    for steps in ((1, 2, 3, 4), (4,)):
        door = opened()
        x, y = hold(door, "walker", "tail")
        for step in steps:
            state(door, "preview", point_px=[x - 20 * step, y], snap=False, catch_px=8)
        ends.append(state(door, "commit")["document"])
    assert ends[0] == ends[1]


def test_a_preview_leaves_out_only_what_cannot_change_while_the_hand_is_busy() -> None:
    door = opened()
    x, y = hold(door, "walker", "tail")
    preview = state(door, "preview", point_px=[x - 40, y], snap=True, catch_px=8)
    live = {"verdict", "table", "fields", "answers", "empty", "chain", "reasoning", "problem", "partner", "note"}
    assert set(preview["panels"]) == live | {"unsure", "track", "release"}
    settled = state(door, "commit")
    left_out = {record["id"] for record in settled["picture"]["records"]} - {
        record["id"] for record in preview["picture"]["records"]
    }
    hidden = {record["id"] for record in settled["picture"]["records"] if record.get("shown") == "lit"}
    assert left_out <= hidden


def test_the_scales_hold_still_during_a_gesture() -> None:
    door = opened()

    scale_ids = ("scale.left", "scale.right", "key.scale-text")

    def scales(reply: dict[str, Any]) -> list[str]:
        records = [*reply["strips"]["records"], *reply["picture"]["records"]]
        return [str(record["runs"]) for record in records if record["id"] in scale_ids]

    before = scales(state(door, "show", selected="hoist"))
    assert len(before) == len(scale_ids)
    x, y = hold(door, "hoist", "anchor")
    for point in ([x + 200, y + 150], [x + 260, y + 190]):
        assert scales(state(door, "preview", point_px=point, snap=False, catch_px=8)) == before


def test_pulling_the_head_of_an_unknown_makes_a_guess_and_keeps_its_role() -> None:
    door = opened()
    x, y = grip_px(door, "hinge", "head")
    state(door, "begin", of="hinge", grip="head", point_px=[x, y])
    preview = state(door, "preview", point_px=[x - 120, y - 60], snap=False, catch_px=8)
    assert "N" in preview["gesture"]["readout"] and "°" in preview["gesture"]["readout"]
    done = state(door, "commit")
    support = next(each for each in json.loads(done["document"])["supports"] if each["id"] == "hinge")
    assert support["kind"] == "pin" and support["guess"]["size_n"] > 0
    rows = [(row["id"], row["guess"]) for row in done["panels"]["table"]["rows"]]
    assert ("hinge", False) in rows and ("hinge", True) in rows
    assert done["panels"]["verdict"]["balanced"]["kind"] == "unbalanced"


def test_a_locked_grip_says_why_and_nothing_is_in_hand() -> None:
    door = opened()
    reply = ask(door, "begin", of="walker", grip="head", point_px=[300, 300])
    assert not reply["ok"] and "mass" in reply["error"]["message"]
    assert ask(door, "commit")["error"]["code"] == "session.gesture"


@pytest.mark.parametrize("tool", TWO_POINTS)
def test_a_tap_with_a_two_point_tool_waits_for_the_second_tap(tool: str) -> None:
    door = opened()
    x, y = grip_px(door, "walker", "tail")
    before = saved(door)
    state(door, "begin", tool=tool, point_px=[x, y])
    tapped = state(door, "commit")
    assert tapped["gesture"]["open"] is True and tapped["created"] is None
    assert saved(door) == before
    hovering = state(door, "preview", point_px=[x - 60, y - 90], snap=True, catch_px=8)
    assert hovering["gesture"]["open"] is False
    done = state(door, "commit")
    assert done["created"] and done["selected"] == done["created"] and done["gesture"] is None
    assert done["panels"]["history"]["undo"].startswith("Add ")


@pytest.mark.parametrize("tool", [tool.name for tool in TRAY])
def test_press_drag_and_tap_tap_place_the_same_thing(tool: str) -> None:
    ends = []
    for tapped in (False, True):
        door = opened()
        x, y = grip_px(door, "walker", "tail")
        state(door, "begin", tool=tool, point_px=[x, y])
        if tapped and tool in TWO_POINTS:
            state(door, "commit")
        state(door, "preview", point_px=[x - 80, y + 40], snap=False, catch_px=8)
        reply = ask(door, "commit")
        ends.append((reply["ok"], reply.get("document") or reply["error"]))
    assert ends[0] == ends[1]


def test_a_placing_that_cannot_be_says_why_and_lets_go() -> None:
    door = opened()
    x, y = grip_px(door, "walker", "tail")
    before = saved(door)
    state(door, "begin", tool="pin", point_px=[x, y])
    preview = state(door, "preview", point_px=[x, 20], snap=True, catch_px=8)
    assert preview["gesture"]["readout"]
    reply = ask(door, "commit")
    if reply["ok"]:
        state(door, "undo")
    assert saved(door) == before
    assert state(door, "show", selected=None)["gesture"] is None


def test_a_plate_takes_corner_after_corner() -> None:
    door = Door()
    state(door, "show", width_px=863, height_px=522, strips_px=863)
    state(door, "new")
    state(door, "begin", tool="plate", point_px=[200, 400])
    for point in ([400, 400], [480, 250], [300, 150]):
        state(door, "preview", point_px=point, snap=True, catch_px=8)
        waiting = state(door, "commit", more=True)
        assert waiting["gesture"]["open"] is True
    state(door, "preview", point_px=[202, 398], snap=True, catch_px=8)
    done = state(door, "commit", more=True)
    plate = json.loads(done["document"])["bodies"][0]
    assert plate["kind"] == "plate" and len(plate["points_m"]) == 4


def test_nudging_moves_by_exact_round_steps_and_is_one_entry() -> None:
    door = opened()
    hold(door, "walker", "tail")
    for _ in range(3):
        state(door, "nudge", dx=-1, dy=0)
    state(door, "nudge", dx=1, dy=0)
    done = state(door, "commit")
    place = json.loads(done["document"])["loads"][0]["place_m"][0]
    assert place == 3.8
    assert state(door, "undo")["panels"]["history"]["undo"] == ""


def test_try_shows_a_typed_value_without_keeping_it() -> None:
    door = opened()
    before = saved(door)
    state(door, "show", selected="walker")
    tried = state(door, "try", name="set", args={"id": "walker", "key": "mass", "text": "120"})
    assert tried["preview"] and tried["entry"] is None
    row = next(row for row in tried["panels"]["table"]["rows"] if row["id"] == "walker")
    assert "1177" in row["cells"][2]["runs"][0]["text"]  # 120 kg × 9.80665 m/s²
    assert saved(door) == before
    back = state(door, "cancel")
    row = next(row for row in back["panels"]["table"]["rows"] if row["id"] == "walker")
    assert "784.5" in row["cells"][2]["runs"][0]["text"]


def test_a_command_that_changes_nothing_adds_no_entry() -> None:
    door = opened()
    reply = state(door, "command", name="set", args={"id": "walker", "key": "mass", "text": "80"})
    assert reply["entry"] is None and reply["panels"]["history"]["undo"] == ""


def test_a_mass_typed_for_a_force_is_said_to_have_become_a_weight() -> None:
    door = opened()
    reply = state(door, "command", name="set", args={"id": "gangway", "key": "weight", "text": "100 kg"})
    assert "980.665" in reply["panels"]["note"]


def test_what_is_deleted_is_no_longer_selected() -> None:
    door = opened()
    state(door, "show", selected="walker")
    reply = state(door, "command", name="delete", args={"id": "walker"})
    assert reply["selected"] is None and reply["panels"]["fields"] is None
    assert "walker" not in [entry["id"] for entry in reply["panels"]["outline"]]


def test_the_window_on_the_paper_is_not_undone_and_not_stored() -> None:
    door = opened()
    before = saved(door)
    first = state(door, "show", selected=None)
    zoomed = state(door, "look", zoom=2.0, at_px=[400, 200])
    assert zoomed["picture"]["records"] != first["picture"]["records"]
    panned = state(door, "look", pan_px=[50, -20])
    assert panned["panels"]["history"]["undo"] == ""
    assert saved(door) == before
    fitted = state(door, "look", fit=True)
    assert [record["attrs"] for record in fitted["picture"]["records"]] == [
        record["attrs"] for record in first["picture"]["records"]
    ]


def test_a_point_under_the_hand_stays_there_while_zooming() -> None:
    door = opened()
    x, y = grip_px(door, "walker", "tail")
    state(door, "look", zoom=1.7, at_px=[x, y])
    after = grip_px(door, "walker", "tail")
    assert after == pytest.approx([x, y], abs=0.2)


def test_here_lists_what_is_stacked_at_a_joint_in_pick_order() -> None:
    door = opened()
    x, y = grip_px(door, "hinge", "tail")
    found = ask(door, "here", point_px=[x, y], catch_px=14)["here"]
    things = [each["of"] for each in found]
    assert things[0] == "hinge"
    assert {"hinge", "pivot", "gangway", "point-a"} <= set(things)
    assert all(each["name"] for each in found)


@pytest.mark.parametrize("slug", SLUGS)
def test_every_field_takes_back_the_text_it_shows(slug: str) -> None:
    """Leaving a field as it is never changes what it means; figures beyond those shown may go."""
    door = opened(slug)
    for entry in state(door, "show", selected=None)["panels"]["outline"]:
        shown = state(door, "show", selected=entry["id"])["panels"]["fields"]
        assert shown["of"] == entry["id"]
        for group in shown["groups"]:
            for item in group["items"]:
                if item["kind"] in ("answer", "action") or not item["text"]:
                    continue
                args = {"id": shown["of"], "key": item["key"], "text": item["text"]}
                tried = state(door, "try", name="set", args=args)
                again = {each["key"]: each for each in _items(tried["panels"]["fields"])}
                assert again[item["key"]]["text"] == item["text"], args
    for item in state(door, "cancel")["panels"]["settings"]:
        state(door, "try", name="settings", args={"key": item["key"], "text": item["text"]})


def _items(shown: dict[str, Any]) -> list[dict[str, Any]]:
    return [item for group in shown["groups"] for item in group["items"]]


@pytest.mark.parametrize("slug", SLUGS)
def test_every_button_of_the_fields_does_something(slug: str) -> None:
    door = opened(slug)
    for entry in state(door, "show", selected=None)["panels"]["outline"]:
        shown = state(door, "show", selected=entry["id"])["panels"]["fields"]
        for item in _items(shown):
            if item["kind"] != "action":
                continue
            before = saved(door)
            state(door, "command", name=item["command"], args=item["args"])
            if saved(door) != before:
                state(door, "undo")
            else:
                assert item["key"] in ("put-back",), item
            state(door, "show", selected=entry["id"])


@pytest.mark.parametrize("slug", SLUGS)
def test_every_setting_has_an_effect(slug: str) -> None:
    door = opened(slug)
    state(door, "show", selected="pivot")
    for item in state(door, "cancel")["panels"]["settings"]:
        if item["kind"] == "switch":
            other = "false" if item["text"] == "true" else "true"
        elif "options" not in item:
            other = "30"
        else:
            values = [option["value"] for option in item["options"]]
            other = next(
                value for value in values if value != item["text"] and not value.startswith(item["text"] + " ")
            )
        changed = state(door, "command", name="settings", args={"key": item["key"], "text": other})
        assert changed["entry"] is not None, item["key"]
        state(door, "undo")


CHANGES = st.lists(
    st.one_of(
        st.tuples(st.just("drag"), st.integers(0, 40), st.floats(-150, 150), st.floats(-150, 150)),
        st.tuples(st.just("tool"), st.integers(0, len(TRAY) - 1), st.floats(60, 840), st.floats(20, 470)),
        st.tuples(st.just("undo"), st.just(0), st.just(0.0), st.just(0.0)),
        st.tuples(st.just("redo"), st.just(0), st.just(0.0), st.just(0.0)),
        st.tuples(st.just("delete"), st.integers(0, 12), st.just(0.0), st.just(0.0)),
        st.tuples(st.just("mass"), st.integers(1, 300), st.just(0.0), st.just(0.0)),
    ),
    max_size=12,
)


class Journal:
    """What a page keeps of a session: the first document, the entries, how many of them stand."""

    def __init__(self, text: str) -> None:
        self.document = text
        self.entries: list[Any] = []
        self.at = 0

    def follow(self, do: str, reply: dict[str, Any]) -> None:
        if not reply["ok"] or reply.get("entry") is None:
            return
        if do == "undo":
            self.at -= 1
        elif do == "redo":
            self.at += 1
        else:
            del self.entries[self.at :]
            self.entries.append(reply["entry"])
            self.at += 1


def play(door: Door, journal: Journal, change: tuple[str, int, float, float]) -> None:
    kind, number, dx, dy = change
    requests: list[tuple[str, dict[str, Any]]] = []
    if kind == "drag":
        targets = state(door, "show", selected=None)["picture"]["targets"]
        if targets:
            target = targets[number % len(targets)]
            x, y = target["points_px"][0]
            requests = [
                ("begin", {"of": target["of"], "grip": target["grip"], "point_px": [x, y]}),
                ("preview", {"point_px": [x + dx, y + dy], "snap": True, "catch_px": 8}),
                ("commit", {}),
            ]
    elif kind == "tool":
        point = [dx, dy]
        requests = [
            ("begin", {"tool": TRAY[number].name, "point_px": point}),
            ("preview", {"point_px": [dx + 50.0, dy - 70.0], "snap": True, "catch_px": 8}),
            ("commit", {}),
        ]
    elif kind == "delete":
        outline = state(door, "show", selected=None)["panels"]["outline"]
        if outline:
            args = {"id": outline[number % len(outline)]["id"]}
            requests = [("command", {"name": "delete", "args": args})]
    elif kind == "mass":
        args = {"id": "gangway", "key": "mass", "text": str(number)}
        requests = [("command", {"name": "set", "args": args})]
    else:
        requests = [(kind, {})]
    for do, arguments in requests:
        reply = ask(door, do, **arguments)
        assert reply["ok"] or reply["error"]["code"] != "engine.unexpected", reply
        journal.follow(do, reply)
        if not reply["ok"]:
            return


@settings(max_examples=60, deadline=None)
@given(changes=CHANGES)
def test_a_restarted_engine_has_the_same_sketch_and_the_same_history(
    changes: list[tuple[str, int, float, float]],
) -> None:
    door = opened()
    journal = Journal(saved(door))
    for change in changes:
        play(door, journal, change)
    again = Door()
    state(again, "show", width_px=863, height_px=522, strips_px=863)
    reopened = state(again, "open", document=journal.document, entries=journal.entries, at=journal.at)
    assert reopened["document"] == saved(door)
    for one in (door, again):
        state(one, "look", fit=True)
        state(one, "show", selected=None)
    same = [state(one, "look", fit=True)["panels"] for one in (door, again)]
    assert same[0] == same[1]
    while ask(door, "undo")["ok"]:
        assert ask(again, "undo")["ok"]
        assert saved(again) == saved(door)
    assert not ask(again, "undo")["ok"]
    assert saved(again) == journal.document
    while ask(door, "redo")["ok"]:
        assert ask(again, "redo")["ok"]
        assert saved(again) == saved(door)
    assert not ask(again, "redo")["ok"]
