"""The door answers every text with one reply, never an exception, and a failure changes nothing."""

from __future__ import annotations

import json
import math
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from steelyard import shelf
from steelyard.bridge import Door, opening
from steelyard.session.tools import TRAY


def ask(door: Door, do: str, **arguments: Any) -> dict[str, Any]:
    reply: dict[str, Any] = json.loads(door.handle(json.dumps({"seq": 7, "do": do, **arguments})))
    assert reply["seq"] == 7
    return reply


def state(door: Door, do: str, **arguments: Any) -> dict[str, Any]:
    reply = ask(door, do, **arguments)
    assert reply["ok"], reply
    return reply


@pytest.fixture
def door() -> Door:
    opened = Door()
    state(opened, "show", width_px=863, height_px=522, strips_px=863)
    state(opened, "scenario", slug="gangway")
    return opened


def saved(door: Door) -> str:
    text: str = state(door, "save")["text"]
    return text


def test_hello_offers_every_scenario_and_tool() -> None:
    hello = state(Door(), "hello")
    assert [each["slug"] for each in hello["scenarios"]] == [each.slug for each in shelf.listing()]
    tools = [tool for group in hello["tools"] for tool in group["tools"]]
    assert [each["name"] for each in tools] == [tool.name for tool in TRAY]
    assert all(each["help"] and each["points"] in (1, 2) for each in tools)


def test_no_two_tools_share_a_key() -> None:
    keys = [tool.key for tool in TRAY]
    assert len(set(keys)) == len(keys)


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("", "request.json"),
        ("nonsense", "request.json"),
        ("[]", "request.type"),
        ("null", "request.type"),
        ("[" * 100_000, "request.json"),
        ('{"seq": 1}', "request.type"),
        ('{"seq": 1, "do": 5}', "request.type"),
        ('{"seq": 1, "do": "dance"}', "request.do"),
        ('{"seq": 1, "do": "open"}', "request.type"),
        ('{"seq": 1, "do": "preview", "point_px": [1, 2]}', "session.gesture"),
        ('{"seq": 1, "do": "commit"}', "session.gesture"),
        ('{"seq": 1, "do": "show", "view": "perspective"}', "request.view"),
        ('{"seq": 1, "do": "show", "width_px": "wide"}', "request.type"),
        ('{"seq": 1, "do": "show", "width_px": -5}', "request.type"),
        ('{"seq": 1, "do": "show", "width_px": 1e400}', "request.type"),
        ('{"seq": 1, "do": "show", "width_px": NaN}', "request.json"),
        ('{"seq": 1, "do": "show", "covered_px": [1, 2, 3]}', "request.type"),
        ('{"seq": 1, "do": "show", "selected": "nobody"}', "request.selected"),
        ('{"seq": 1, "do": "show", "tool": "hammer"}', "request.tool"),
        ('{"seq": 1, "do": "look", "zoom": 0}', "request.zoom"),
        ('{"seq": 1, "do": "look", "fit": "yes"}', "request.type"),
        ('{"seq": 1, "do": "scenario", "slug": "moon"}', "shelf.unknown"),
        ('{"seq": 1, "do": "begin", "of": "nobody", "grip": "head", "point_px": [1, 2]}', None),
        ('{"seq": 1, "do": "begin", "tool": "bar"}', "request.type"),
        ('{"seq": 1, "do": "command", "name": "explode", "args": {}}', None),
        ('{"seq": 1, "do": "command", "name": "set", "args": []}', "request.type"),
        ('{"seq": 1, "do": "command", "name": "set", "args": {"id": 4}}', None),
        ('{"seq": 1, "do": "undo"}', "history.undo"),
        ('{"seq": 1, "do": "redo"}', "history.redo"),
        ('{"seq": 1, "do": "here", "point_px": {"x": 1}}', "request.type"),
        ('{"seq": 1, "do": "open", "document": "{}"}', None),
        ('{"seq": 1, "do": "open", "document": "{}", "entries": 5}', None),
    ],
)
def test_a_bad_request_is_refused_in_words_and_leaves_the_sketch(door: Door, text: str, code: str | None) -> None:
    before = saved(door)
    reply = json.loads(door.handle(text))
    assert reply["ok"] is False
    error = reply["error"]
    assert set(error) == {"code", "where", "message", "hint"}
    assert error["message"].endswith(".")
    assert error["code"] != "engine.unexpected"
    if code is not None:
        assert error["code"] == code
    assert saved(door) == before


def test_a_fault_inside_the_engine_is_said_in_words_and_leaves_everything_as_it_was(
    door: Door, monkeypatch: pytest.MonkeyPatch
) -> None:
    state(door, "command", name="set", args={"id": "walker", "key": "mass", "text": "90"})
    before = door.session.remember()

    def broken(*_: object, **__: object) -> None:
        raise ZeroDivisionError("a fault made for this test")

    with monkeypatch.context() as patched:
        patched.setattr("steelyard.session.state.settled_panels", broken)
        for text in (
            {"do": "undo"},
            {"do": "command", "name": "set", "args": {"id": "walker", "key": "mass", "text": "70"}},
            {"do": "new"},
            {"do": "look", "zoom": 2},
        ):
            reply = json.loads(door.handle(json.dumps({"seq": 1, **text})))
            assert reply["error"]["code"] == "engine.unexpected"
            assert "a fault made for this test" in reply["error"]["message"]
    assert door.session.remember() == before
    assert state(door, "undo")["ok"]


def test_every_state_has_the_parts_of_the_protocol(door: Door) -> None:
    reply = state(door, "show", selected="hoist")
    assert set(reply) == {
        "seq", "ok", "revision", "preview", "view", "selected", "study", "picture", "strips", "panels", "gesture",
        "created", "entry", "document",
    }  # fmt: skip
    assert set(reply["panels"]) >= {
        "title", "question", "caution", "verdict", "table", "fields", "outline", "settings", "hints", "history",
        "answers", "empty", "spoken",
    }  # fmt: skip
    assert reply["panels"]["fields"]["of"] == "hoist"
    assert reply["picture"]["targets"]


def test_a_blank_sheet_is_a_state_like_any_other() -> None:
    reply = state(Door(), "new")
    assert reply["panels"]["empty"] is True
    assert reply["panels"]["outline"] == []
    assert reply["picture"]["records"]
    assert reply["panels"]["verdict"]["headline"]


def test_the_opening_state_is_the_first_scenario_on_the_first_board() -> None:
    reply = json.loads(opening())
    assert reply["ok"] and reply["panels"]["title"] == shelf.listing()[0].title
    assert (reply["picture"]["width"], reply["picture"]["height"]) == (859, 503)


def restored(reply: dict[str, Any], held: dict[str, Any]) -> dict[str, Any]:
    """The reply made whole with the records of the one before, as the page does."""
    whole = dict(reply)
    for name in ("picture", "strips"):
        before = {record["id"]: record for record in held[name]["records"]}
        records = [before[record] if isinstance(record, str) else record for record in reply[name]["records"]]
        whole[name] = {**reply[name], "records": records}
    return whole


def test_a_reply_names_what_is_as_before_and_the_page_makes_it_whole() -> None:
    whole_door, short_door = Door(), Door()
    held: dict[str, Any] = {}
    requests: list[dict[str, Any]] = [
        {"do": "show", "width_px": 863, "height_px": 522, "strips_px": 863},
        {"do": "scenario", "slug": "gangway"},
        {"do": "show", "selected": "walker"},
        {"do": "begin", "of": "walker", "grip": "tail", "point_px": [500, 350]},
        *({"do": "preview", "point_px": [500 - 9 * step, 350]} for step in range(6)),
        {"do": "commit"},
        {"do": "undo"},
        {"do": "look", "zoom": 1.5},
    ]
    sizes = []
    for seq, request in enumerate(requests):
        text = whole_door.handle(json.dumps({"seq": seq, **request}))
        short_text = short_door.handle(json.dumps({"seq": seq, "base": held.get("seq"), **request}))
        short = json.loads(short_text)
        held = restored(short, held) if held else short
        assert held == json.loads(text)
        sizes.append((request["do"], len(text), len(short_text)))
    assert all(short < 0.7 * whole for do, whole, short in sizes if do == "preview")


def test_a_page_that_missed_a_reply_gets_whole_records(door: Door) -> None:
    state(door, "show", selected="hoist")
    first = json.loads(door.handle(json.dumps({"seq": 8, "do": "show", "selected": "walker", "base": 7})))
    assert any(isinstance(record, str) for record in first["picture"]["records"])
    later = json.loads(door.handle(json.dumps({"seq": 9, "do": "show", "selected": None, "base": 7})))
    assert not any(isinstance(record, str) for record in later["picture"]["records"])


JSON_VALUES = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=12),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.text(max_size=8), inner, max_size=4),
    max_leaves=8,
)
VERBS = st.sampled_from(sorted(Door()._verbs))
ARGUMENTS = st.dictionaries(
    st.sampled_from(
        [
            "document",
            "entries",
            "at",
            "slug",
            "view",
            "width_px",
            "height_px",
            "strips_px",
            "covered_px",
            "text_scale",
            "touch",
            "selected",
            "tool",
            "fit",
            "zoom",
            "at_px",
            "pan_px",
            "of",
            "grip",
            "point_px",
            "snap",
            "catch_px",
            "dx",
            "dy",
            "name",
            "args",
        ]
    ),
    JSON_VALUES
    | st.lists(st.floats(-1e4, 1e4), min_size=2, max_size=2)
    | st.sampled_from(["hoist", "head", "set", "bar"]),
    max_size=5,
)


@settings(max_examples=300, deadline=None)
@given(requests=st.lists(st.tuples(VERBS, ARGUMENTS), max_size=4))
def test_no_request_whatever_makes_an_exception(requests: list[tuple[str, dict[str, Any]]]) -> None:
    door = Door()
    state(door, "scenario", slug="gangway")
    for do, arguments in requests:
        reply = json.loads(door.handle(json.dumps({"seq": 1, "do": do, **arguments})), parse_constant=math.sqrt)
        assert reply["ok"] or reply["error"]["code"] != "engine.unexpected", reply
