"""Joined bodies let go, in words, in the answer's schema, on the command line, and as the page is told of them."""

from __future__ import annotations

import json
import math
import re
from dataclasses import replace
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator
from steelyard import bridge, cli, document
from steelyard.kinetics.motion import motion
from steelyard.kinetics.release import release
from steelyard.model import Sketch
from steelyard.panels.release import release_action
from steelyard.report.answer import answer_data
from steelyard.report.letting_go import assumed, ending, said
from steelyard.report.release import release_data, release_text
from steelyard.statics import analyse
from test_collapse import G, blocks, hinged_rods, stepladder

ROOT = Path(__file__).resolve().parents[2]
SCHEMA = json.loads((ROOT / "engine/steelyard/answer.schema.json").read_text(encoding="utf-8"))


def shown(sketch: Sketch) -> Sketch:
    return replace(sketch, answers="shown")


def named(sketch: Sketch) -> Sketch:
    """The stepladder as people speak of it."""
    bodies = tuple(replace(body, name=f"{body.id} leg") for body in sketch.bodies)
    supports = tuple(replace(each, agent="floor" if each.id in "ab" else "") for each in sketch.supports)
    return replace(sketch, bodies=bodies, supports=supports)


def test_words_tell_of_each_body_and_of_each_joint_once():
    sketch = named(stepladder())
    alpha = 3 * G * math.cos(math.radians(60.0)) / 4
    words = said(sketch, release(sketch))
    assert f"and it turns clockwise with α = {alpha:.3g}\u00a0rad/s²." in words[0]
    assert words[0].startswith("The centre of mass of the left leg starts down and to the left")
    assert words[1].startswith("The centre of mass of the right leg starts down and to the right")
    assert "it turns counterclockwise" in words[1]
    assert words[2:] == [
        "The floor (A) then pushes the left leg with 79.7\u00a0N up.",
        "The right leg (C) then pushes the left leg with 31.9\u00a0N to the left.",
        "The floor (B) then pushes the right leg with 79.7\u00a0N up.",
    ]


def test_words_about_a_place_to_turn_about_and_of_what_is_assumed():
    sketch = hinged_rods()
    words = said(sketch, release(sketch))
    assert words[0].startswith("The inner starts to turn clockwise about the point where A acts with α = 12.6")
    told = assumed(sketch, release(sketch))
    assert "all that is joined moves together" in told and "held where they are" not in told
    one = replace(sketch, bodies=sketch.bodies[:1], supports=sketch.supports[:1])
    assert "joined" not in assumed(one, release(one))


def test_words_where_nothing_moves_and_where_the_motion_is_not_followed():
    held = stepladder(mu=0.9)
    assert said(held, release(held))[0] == "All of it stays at rest: a = 0 and α = 0."
    moving = blocks(60.0, 0.3)
    words = said(moving, release(moving))
    assert any(sentence.startswith("The upper slips to the left at the lower: friction") for sentence in words)
    assert words[-1] == "The motion is not followed any further: bodies slide or roll on each other."


@pytest.mark.parametrize(
    "sketch", [stepladder(), stepladder(mu=0.1), stepladder(mu=0.9), hinged_rods(), blocks(60.0, 0.3)]
)
def test_answer_with_joined_bodies_let_go_fits_the_schema(sketch):
    answer = json.loads(json.dumps(answer_data(sketch, analyse(sketch)), allow_nan=False))
    Draft202012Validator(SCHEMA).validate(answer)
    told = answer["release"]
    assert [each["body"] for each in told["bodies"]] == [body.id for body in sketch.bodies]
    found = release(sketch)
    for each, start in zip(told["bodies"], found.bodies, strict=True):
        assert each["alpha_rad_s2"] == start.alpha_rad_s2
        assert each["acceleration_m_s2"] == list(start.acceleration_m_s2)
    moved = told["motion"]
    if moved is not None:
        assert [each["body"] for each in moved["bodies"]] == [body.id for body in sketch.bodies]
        assert all(len(each["poses"]) == len(moved["poses"]) for each in moved["bodies"])


def test_body_by_itself_has_no_others_in_the_answer():
    sketch = hinged_rods()
    alone = replace(sketch, bodies=sketch.bodies[:1], supports=sketch.supports[:1])
    told = release_data(alone, release(alone), motion(alone))
    assert told["bodies"] == [] and told["motion"]["bodies"] == []


def test_command_line_says_how_all_of_it_starts_and_ends(tmp_path: Path, capsys: pytest.CaptureFixture[str]):
    sketch = named(stepladder())
    path = tmp_path / "ladder.json"
    path.write_text(document.write(sketch), encoding="utf-8")
    assert cli.main(["release", str(path)]) == 0
    printed = capsys.readouterr().out
    assert "The left leg and all that is joined to it are let go from rest." in printed
    assert "Mass of the right leg 10" in printed
    assert "the motion shown ends there" in printed
    moved = motion(sketch)
    assert moved is not None and ending(sketch, moved) in printed
    assert printed.rstrip("\n") == release_text(sketch, release(sketch), moved)


def test_page_gets_an_outline_of_each_body_with_a_transform_for_each_moment():
    sketch = shown(stepladder())
    bridge.handle(json.dumps({"seq": 1, "do": "open", "document": document.write(sketch)}))
    reply = json.loads(
        bridge.handle(
            json.dumps({"seq": 2, "do": "show", "width_px": 863, "height_px": 522, "let_go": True, "view": "set-up"})
        )
    )
    assert reply["panels"]["release"]["offered"]
    played = reply["panels"]["release"]["shown"]["motion"]
    moved = motion(sketch)
    assert moved is not None
    assert len(played["outlines"]) == 2
    for outline, (_, poses) in zip(played["outlines"], moved.bodies, strict=True):
        assert len(outline["transforms"]) == len(poses) == len(played["times"])
        corners = [tuple(map(float, pair.split())) for pair in re.findall(r"[ML](-?[\d.]+ -?[\d.]+)", outline["path"])]
        assert corners
        for transform in outline["transforms"]:
            a, b, c, d, e, f = map(float, transform[7:-1].split())
            for x, y in corners:
                assert 0 <= a * x + c * y + e <= 863 and 0 <= b * x + d * y + f <= 522
        # Both legs end flat: by then each has turned by its slope.
        assert math.degrees(abs(math.asin(float(outline["transforms"][-1][7:-1].split()[1])))) == pytest.approx(
            60, abs=0.01
        )


def test_button_lets_go_what_is_looked_at_and_bodies_apart_one_by_one():
    def buttons(sketch: Sketch, selected: str) -> list[object]:
        return [item["show"] for item in release_action(shown(sketch), selected)]

    ladder = stepladder()
    assert buttons(ladder, "left") == buttons(ladder, "right") == [{"let_go": True}]
    assert buttons(replace(ladder, isolated=("left",)), "right") == [{"let_go": True}]
    apart = replace(ladder, supports=ladder.supports[:2])
    assert buttons(apart, "right") == [{"let_go": True}]
    assert buttons(replace(apart, isolated=("left",)), "right") == []
    assert buttons(replace(apart, isolated=("left", "right")), "left") == []
    bridge.handle(
        json.dumps(
            {"seq": 1, "do": "open", "document": document.write(shown(replace(apart, isolated=("left", "right"))))}
        )
    )
    reply = json.loads(bridge.handle(json.dumps({"seq": 2, "do": "show", "let_go": True})))
    assert reply["panels"]["release"] == {"offered": False, "shown": None}


def test_answers_kept_back_tell_nothing_of_it():
    sketch = replace(stepladder(), answers="kept")
    bridge.handle(json.dumps({"seq": 1, "do": "open", "document": document.write(sketch)}))
    reply = json.loads(bridge.handle(json.dumps({"seq": 2, "do": "show", "let_go": True})))
    assert reply["panels"]["release"] == {"offered": False, "shown": None}
