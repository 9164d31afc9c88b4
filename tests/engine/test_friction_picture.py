"""Rough contacts on the board: surfaces, the two forces at one point, the face, the cone, and what cannot be."""

from __future__ import annotations

import math
import re
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from picture_cases import SHEETS
from steelyard import shelf
from steelyard.model import Sketch
from steelyard.picture import board
from steelyard.picture import frame as frames
from steelyard.picture.record import Picture, Record
from steelyard.picture.strip_sums import bars_of
from steelyard.statics import analyse, shape
from steelyard.statics.kept import kept_back


def drawn(
    sketch: Sketch, view: board.View = "extended", selected: str | None = None, frame: frames.Frame | None = None
) -> tuple[Picture, frames.Frame]:
    analysis = analyse(sketch)
    if sketch.answers == "kept":
        analysis = kept_back(analysis)
    width, height, touch = SHEETS["1366x768"]
    frame = frame or frames.fit(sketch, analysis, width, height, touch=touch)
    return board.draw(sketch, analysis, frame, view, selected=selected), frame


def record(picture: Picture, record_id: str) -> Record:
    return next(each for each in picture.records if each.id == record_id)


def points(found: Record) -> np.ndarray:
    path = dict(found.attrs)["d"]
    return np.array([[float(x), float(y)] for x, y in re.findall(r"[ML](-?[\d.]+) (-?[\d.]+)", path)])


def cross(first: np.ndarray, second: np.ndarray) -> float:
    return float(first[0] * second[1] - first[1] * second[0])


def shown(slug: str, **changes: Any) -> Sketch:
    sketch = replace(shelf.load(slug), answers="shown")
    supports = tuple(replace(each, **changes.get(each.id, {})) for each in sketch.supports)
    bodies = tuple(replace(each, **changes.get(each.id, {})) for each in sketch.bodies)
    return replace(sketch, supports=supports, bodies=bodies)


def test_a_rough_surface_has_teeth_and_a_smooth_one_is_a_line():
    picture, _ = drawn(shown("rough-foot"), "set-up")
    assert len(points(record(picture, "foot"))) > 10
    assert len(points(record(picture, "hull"))) == 2


def test_the_surface_of_a_face_runs_along_it_and_a_little_past_both_ends():
    sketch = shown("heeling-pontoon")
    picture, frame = drawn(sketch, "set-up")
    line = points(record(picture, "deck"))
    ends = [frame.to_sheet(shape.world(sketch.bodies[0], place)) for place in ((0.0, 0.0), (0.9, 0.0))]
    reach = math.dist(line[0], line[-1])
    assert math.dist(*ends) < reach < math.dist(*ends) + 30.0
    way = np.subtract(*ends) / math.dist(*ends)
    assert abs(cross(way, line[-1] - line[0])) < 0.5


@pytest.mark.parametrize("mu", [0.1, 0.5, 1.0, 25.0])
def test_the_cone_opens_by_the_angle_of_friction_to_each_side_of_the_normal(mu):
    picture, _ = drawn(shown("heeling-pontoon", deck={"mu": mu}), selected="deck")
    left, apex, right = points(record(picture, "deck.cone"))[:3]
    opening = math.degrees(
        math.acos(np.dot(left - apex, right - apex) / math.dist(left, apex) / math.dist(right, apex))
    )
    assert opening == pytest.approx(2.0 * math.degrees(math.atan(mu)), abs=0.2)
    middle = (left - apex) + (right - apex)
    assert math.degrees(math.atan2(-middle[1], middle[0])) == pytest.approx(105.0, abs=0.2)


@pytest.mark.parametrize(("angle_deg", "inside"), [(15.0, True), (26.0, True), (28.0, False)])
def test_the_whole_contact_force_lies_inside_the_cone_until_the_crate_slides(angle_deg, inside):
    """It balances the weight alone, so it is upright, and the crate slides at arctan 0.5 = 26.57°."""
    picture, _ = drawn(shown("heeling-pontoon", crate={"angle_deg": angle_deg}), selected="deck-friction")
    left, apex, right = points(record(picture, "deck-friction.cone"))[:3]
    start, end = points(record(picture, "deck-friction.whole"))
    way = (end - start) if end[1] < start[1] else (start - end)
    assert abs(way[0]) < 0.5
    within = cross(left - apex, way) > 0.0 > cross(right - apex, way)
    assert bool(within) is inside


def test_normal_and_friction_leave_from_the_point_where_the_normal_acts():
    sketch = shown("heeling-pontoon")
    picture, frame = drawn(sketch)
    at = frame.to_sheet(shape.world(sketch.bodies[0], (0.45 - 0.75 * math.tan(math.radians(15.0)), 0.0)))
    for force in ("deck", "deck-friction"):
        dot = dict(record(picture, f"{force}.at").attrs)
        assert (float(dot["cx"]), float(dot["cy"])) == pytest.approx(at, abs=0.06)


def test_kept_back_the_normal_stands_in_the_middle_of_its_face_and_no_line_of_the_whole_is_drawn():
    sketch = shelf.load("heeling-pontoon")
    picture, frame = drawn(sketch, selected="deck")
    dot = dict(record(picture, "deck.at").attrs)
    assert (float(dot["cx"]), float(dot["cy"])) == pytest.approx(
        frame.to_sheet(shape.world(sketch.bodies[0], (0.45, 0.0))), abs=0.06
    )
    assert not [each for each in picture.records if each.id.endswith((".whole", ".whole-label"))]
    assert record(picture, "deck.cone").shown == "lit"


def test_kept_back_the_picture_is_the_same_wherever_on_the_face_the_normal_acts():
    """A centre of mass moved by hand moves the normal, and nothing else that is drawn of the contact."""
    sketch = shelf.load("heeling-pontoon")
    centred = [replace(sketch.bodies[0], centre_m=at) for at in ((0.45, 0.7), (0.35, 0.7))]
    _, frame = drawn(sketch)
    here, there = (drawn(replace(sketch, bodies=(body,)), frame=frame)[0] for body in centred)

    def of_contact(picture: Picture) -> list[Record]:
        return [each for each in picture.records if each.of.startswith("deck") and each.layer != "label"]

    assert of_contact(here) == of_contact(there)


def test_the_face_of_a_lit_normal_is_drawn_from_end_to_end():
    sketch = shown("heeling-pontoon")
    picture, frame = drawn(sketch, selected="deck")
    ends = [frame.to_sheet(shape.world(sketch.bodies[0], place)) for place in ((0.0, 0.0), (0.9, 0.0))]
    assert np.allclose(points(record(picture, "deck.face"))[:2], ends, atol=0.06)
    assert record(picture, "deck.face").shown == "lit"


def test_friction_that_cannot_hold_and_a_normal_past_its_end_are_struck_out():
    slides, _ = drawn(shown("heeling-pontoon", crate={"angle_deg": 28.0}))
    assert [each.id for each in slides.records if each.role == "strike"] == ["deck-friction.strike"]
    tips, frame = drawn(shown("heeling-pontoon", crate={"angle_deg": 33.0}, deck={"mu": 0.8}))
    assert [each.id for each in tips.records if each.role == "strike"] == ["deck.strike"]
    dot = dict(record(tips, "deck.at").attrs)
    assert (float(dot["cx"]), float(dot["cy"])) == pytest.approx(frame.to_sheet((0.0, 0.0)), abs=0.06)


def test_kept_back_the_torque_of_a_normal_over_a_face_may_turn_either_way_about_a_point_above_it():
    sketch = shelf.load("heeling-pontoon")
    over = shape.world(sketch.bodies[0], (0.3, 0.9))
    for pivot, sides in ((over, (-1, 1)), ((-1.0, 0.0), (1,))):
        analysis = kept_back(analyse(sketch, pivot=pivot))
        open_sides = {force: ways for force, _, ways in bars_of(sketch, analysis)["turn"].open_sides}
        assert open_sides["deck"] == sides


@pytest.mark.parametrize("of", ["foot", "foot-friction"])
def test_both_forces_of_a_rough_contact_can_be_held_by_their_heads(of):
    picture, _ = drawn(shown("rough-foot"), selected=of)
    heads = {target.of: target for target in picture.targets if target.grip == "head"}
    assert heads["foot"].locked == heads["foot-friction"].locked == ""


def test_head_to_tail_the_normal_starts_where_the_weight_ends_whatever_its_face():
    sketch = shown("heeling-pontoon")
    picture, _ = drawn(sketch, "polygon")
    weight, normal, friction = (points(record(picture, each)) for each in ("crate-weight", "deck", "deck-friction"))

    def near(first: np.ndarray, second: np.ndarray) -> float:
        return min(math.dist(one, other) for one in first for other in second)

    assert near(weight, normal) < 12.0 and near(normal, friction) < 12.0
    assert math.dist(normal.mean(axis=0), friction.mean(axis=0)) > 40.0
    assert normal[:, 1].max() == pytest.approx(weight[:, 1].max(), abs=12.0)
