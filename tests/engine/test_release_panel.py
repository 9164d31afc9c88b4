"""Letting go as the page, the command line and other programs get it; silent while answers are kept back."""

from __future__ import annotations

import json
import math
import re
from dataclasses import replace
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from steelyard import cli, document, shelf
from steelyard.bridge import Door
from steelyard.kinetics.motion import motion
from steelyard.kinetics.release import release
from steelyard.model import Sketch, Support

GANGWAY = replace(shelf.load("gangway"), answers="shown")
FREE = replace(GANGWAY, supports=GANGWAY.supports[:1])
SLACK = replace(GANGWAY, supports=(GANGWAY.supports[0], replace(GANGWAY.supports[1], anchor_m=(4.0, -3.0))))
SCHEMA = json.loads((Path(cli.__file__).parent / "answer.schema.json").read_text(encoding="utf-8"))


def ask(door: Door, do: str, **arguments: Any) -> dict[str, Any]:
    reply: dict[str, Any] = json.loads(door.handle(json.dumps({"seq": 1, "do": do, **arguments})))
    assert reply["ok"], reply
    return reply


def opened(sketch: Sketch, **study: Any) -> Door:
    door = Door()
    ask(door, "show", width_px=863, height_px=522, strips_px=863, **study)
    ask(door, "open", document=document.write(sketch))
    return door


def words(shown: dict[str, Any]) -> str:
    return " ".join("".join(run["text"] for run in runs) for runs in shown["words"])


def test_it_is_offered_where_the_body_does_not_stay_and_shown_when_asked_for():
    for sketch, offered in ((GANGWAY, False), (FREE, True), (SLACK, True)):
        panel = ask(opened(sketch), "show", selected=None)["panels"]["release"]
        assert panel == {"offered": offered, "shown": None}
    shown = ask(opened(GANGWAY), "show", let_go=True)["panels"]["release"]["shown"]
    assert shown["motion"] is None and words(shown).startswith("It stays at rest: a = 0 and α = 0.")


def test_what_is_said_has_the_figures_of_the_engine():
    shown = ask(opened(SLACK), "show", let_go=True)["panels"]["release"]["shown"]
    found = release(SLACK)
    assert f"clockwise about A with α = {abs(found.alpha_rad_s2):.4g}\u00a0rad/s²" in words(shown)
    assert f"{math.hypot(*found.acceleration_m_s2):.4g}\u00a0m/s²" in words(shown)
    hinge = next(each.vector for each in found.held if each.force.id == "hinge")
    assert hinge is not None
    assert f"The hinge (R) then pushes with {math.hypot(*hinge):.4g}\u00a0N up and to the left" in words(shown)
    assert "The hoist (T) goes slack." in words(shown)
    moved = motion(SLACK)
    assert moved is not None
    assert f"After {moved.duration_s:.4g}\u00a0s the hoist goes taut" in shown["motion"]["ending"]["text"]


def test_outline_is_sent_once_and_its_transforms_put_it_where_the_body_is():
    reply = ask(opened(FREE), "show", let_go=True)
    played = reply["panels"]["release"]["shown"]["motion"]
    moved = motion(FREE)
    assert moved is not None
    (outline,) = played["outlines"]
    assert len(outline["transforms"]) == len(played["times"]) == len(played["stamps"]) == len(moved.poses)
    corners = [tuple(map(float, pair.split())) for pair in re.findall(r"[ML](-?[\d.]+ -?[\d.]+)", outline["path"])]
    grips = {(each["of"], each["grip"]): each["points_px"][0] for each in reply["picture"]["targets"]}
    hinge, end = grips["gangway", "start"], grips["gangway", "end"]
    assert [(corners[1][axis] + corners[2][axis]) / 2.0 for axis in (0, 1)] == pytest.approx(end, abs=1.0)
    reach = math.dist(hinge, end)
    for index in (0, 40, -1):
        a, b, c, d, e, f = map(float, outline["transforms"][index][7:-1].split())
        for (x, y), along in ((hinge, 0.0), (end, reach)):
            # Where the motion says that place of the bar is, on the sheet with y down.
            angle = math.radians(-12.0) + moved.poses[index].turned_rad
            wanted = (hinge[0] + along * math.cos(angle), hinge[1] - along * math.sin(angle))
            assert (a * x + c * y + e, b * x + d * y + f) == pytest.approx(wanted, abs=0.3)


def test_all_of_the_way_is_in_sight_and_the_sketch_again_afterwards():
    door = opened(FREE)
    before = ask(door, "show", selected=None)
    reply = ask(door, "show", let_go=True)
    (outline,) = reply["panels"]["release"]["shown"]["motion"]["outlines"]
    corners = [tuple(map(float, pair.split())) for pair in re.findall(r"[ML](-?[\d.]+ -?[\d.]+)", outline["path"])]
    for transform in outline["transforms"]:
        a, b, c, d, e, f = map(float, transform[7:-1].split())
        for x, y in corners:
            assert 0 <= a * x + c * y + e <= 863 and 0 <= b * x + d * y + f <= 522
    after = ask(door, "show", let_go=False)
    assert after["picture"]["records"] == before["picture"]["records"]


@pytest.mark.parametrize(
    ("do", "arguments"),
    [
        ("command", {"name": "set", "args": {"id": "gangway", "key": "mass", "text": "100"}}),
        ("try", {"name": "set", "args": {"id": "gangway", "key": "mass", "text": "100"}}),
        ("show", {"view": "point"}),
        ("new", {}),
        ("command", {"name": "answers", "args": {"answers": "kept"}}),
    ],
)
def test_any_edit_and_any_other_sketch_ends_it(do: str, arguments: dict[str, Any]):
    door = opened(FREE)
    assert ask(door, "show", let_go=True)["panels"]["release"]["shown"]
    assert ask(door, do, **arguments)["panels"]["release"]["shown"] is None
    assert ask(door, "show", selected=None)["panels"]["release"]["shown"] is None


def test_where_forces_stand_alone_it_goes_to_the_body_to_let_it_go():
    door = opened(FREE, view="polygon")
    reply = ask(door, "show", let_go=True)
    assert reply["view"] == "extended" and reply["panels"]["release"]["shown"]


@pytest.mark.parametrize("sketch", [FREE, SLACK, GANGWAY], ids=["free", "slack", "held"])
def test_nothing_of_it_is_told_while_answers_are_kept_back(sketch: Sketch):
    door = opened(replace(sketch, answers="kept"))
    for arguments in ({"let_go": True}, {"selected": "gangway", "side": "working", "revealed": 1}):
        reply = ask(door, "show", **arguments)
        assert reply["panels"]["release"] == {"offered": False, "shown": None}
        said = json.dumps(reply, ensure_ascii=False)
        assert "rad/s²" not in said and "Let go" not in said and "slack" not in said
    # Nor does the paper make room for a motion.
    fitted = [ask(each, "look", fit=True)["picture"] for each in (door, opened(replace(sketch, answers="kept")))]
    assert fitted[0]["records"][0] == fitted[1]["records"][0]


def test_fields_of_a_body_offer_it_for_a_held_one_too():
    reply = ask(opened(GANGWAY), "show", selected="gangway")
    items = [item for each in reply["panels"]["fields"]["groups"] for item in each["items"]]
    assert [item["show"] for item in items if item["key"] == "let-go"] == [{"let_go": True}]


def test_what_has_no_answer_says_so_where_it_is_asked():
    light = replace(FREE, bodies=(replace(FREE.bodies[0], mass_kg=None, weight_n=None),))
    shown = ask(opened(light), "show", let_go=True)["panels"]["release"]["shown"]
    assert shown["motion"] is None and "no mass" in words(shown)


@pytest.mark.parametrize("sketch", [FREE, SLACK, GANGWAY], ids=["free", "slack", "held"])
def test_command_line_tells_the_same_as_data_and_as_text(
    sketch: Sketch, tmp_path: Path, capsys: pytest.CaptureFixture[str]
):
    file = tmp_path / "sketch.json"
    file.write_text(document.write(sketch), encoding="utf-8")
    assert cli.main(["release", str(file), "--json"]) == 0
    data = json.loads(capsys.readouterr().out)
    jsonschema.validate(data, {**SCHEMA["$defs"]["release"], "$defs": SCHEMA["$defs"]})
    assert cli.main(["solve", str(file), "--json"]) == 0
    whole = json.loads(capsys.readouterr().out)
    jsonschema.validate(whole, SCHEMA)
    assert whole["release"] == data
    found = release(sketch)
    assert data["alpha_rad_s2"] == found.alpha_rad_s2
    assert data["own"]["moment_of_inertia_kg_m2"] == pytest.approx(120.0 * 36.0 / 12.0)
    assert cli.main(["release", str(file)]) == 0
    text = capsys.readouterr().out
    for sentence in data["sentences"]:
        assert sentence in text
    assert sketch.caution in text
    assert ("Energy kept to" in text) == (data["motion"] is not None)


def test_axes_turn_the_components_and_not_the_motion(tmp_path: Path, capsys: pytest.CaptureFixture[str]):
    def told(axes_deg: float) -> dict[str, Any]:
        sketch = replace(FREE, settings=replace(FREE.settings, axes_deg=axes_deg))
        file = tmp_path / "sketch.json"
        file.write_text(document.write(sketch), encoding="utf-8")
        cli.main(["release", str(file), "--json"])
        data: dict[str, Any] = json.loads(capsys.readouterr().out)
        return data

    level, tilted = told(0.0), told(30.0)
    x, y = level["acceleration_m_s2"]
    angle = math.radians(30.0)
    wanted = [x * math.cos(angle) + y * math.sin(angle), y * math.cos(angle) - x * math.sin(angle)]
    assert tilted["acceleration_m_s2"] == pytest.approx(wanted)
    assert tilted["alpha_rad_s2"] == pytest.approx(level["alpha_rad_s2"])


def test_contact_that_parts_and_thing_left_in_the_air_are_said():
    rail = Support("rail", "contact", "gangway", (5.0, 0.0), "C", "rail", normal_deg=270.0)
    walker = replace(GANGWAY.loads[0], place_m=(6.0, 0.0), mass_kg=5.0)
    tip = replace(FREE, supports=(*FREE.supports, rail), loads=(walker,))
    said = words(ask(opened(tip), "show", let_go=True)["panels"]["release"]["shown"])
    assert "The rail (C) lets go." in said
    assert "The walker is left behind in the air" in said
