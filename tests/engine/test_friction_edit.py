"""Rough contacts and faces in the hand: laid down, held by their ends, made rough, guessed and put on the point."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from steelyard import document, shelf
from steelyard.edit.commands import apply
from steelyard.edit.context import Context
from steelyard.edit.gestures import Gesture
from steelyard.edit.placing import Placing
from steelyard.edit.usual import place
from steelyard.errors import SteelyardError
from steelyard.model import Body, Guess, Sketch, Support
from steelyard.session.tools import TRAY
from steelyard.statics import analyse, shape

FREE = Context(newtons_per_m=1000.0)
CRATE = Body("crate", "plate", "crate", (0.0, 0.0), 20.0, points_m=((0, 0), (2, 0), (2, 1), (0, 1)), mass_kg=50.0)
BEAM = Body("beam", "bar", "beam", (0.0, 0.0), 0.0, length_m=6.0, mass_kg=40.0)


def face(sketch: Sketch) -> Support:
    return sketch.supports[-1]


def laid(body: Body, start: tuple[float, float], end: tuple[float, float]) -> Sketch:
    """A face drawn from one place of the body (its frame) to another."""
    sketch = Sketch(bodies=(body,))
    begin, stop = shape.world(body, start), shape.world(body, end)
    return Placing(sketch, "face", begin, FREE).at(stop, FREE).sketch


@pytest.mark.parametrize(
    ("start", "end", "inward"),
    [
        ((0.0, 0.0), (2.0, 0.0), 110.0),
        ((2.0, 0.0), (2.0, 1.0), 200.0),
        ((1.5, 1.0), (0.5, 1.0), 290.0),
        ((0.0, 0.8), (0.0, 0.2), 20.0),
    ],
)
def test_a_face_drawn_along_an_edge_of_a_plate_pushes_square_to_it_inward(start, end, inward):
    """The plate is turned by 20°, so its lower edge is pushed at 110°, its right one at 200° and so on."""
    made = face(laid(CRATE, start, end))
    assert made.place_m == pytest.approx(start, abs=1e-9) and made.face_m == pytest.approx(end, abs=1e-9)
    acting = analyse(laid(CRATE, start, end)).reading(made.id).force
    assert np.allclose(acting.along, (math.cos(math.radians(inward)), math.sin(math.radians(inward))), atol=1e-12)


def test_a_face_put_down_without_a_hand_is_what_the_body_would_stand_on():
    sketch = Sketch(bodies=(replace(CRATE, angle_deg=0.0),))
    made = face(place(sketch, "face", (0.0, 0.0), 10.0, FREE).sketch)
    assert {made.place_m, made.face_m} == {(0.0, 0.0), (2.0, 0.0)}
    assert made.normal_deg == 90.0


def test_the_lower_end_of_a_sloping_bar_stands_on_something_level_and_the_rest_is_pushed_square_to_it():
    ladder = replace(BEAM, angle_deg=70.0)
    sketch = Sketch(bodies=(ladder,))
    pushes = {}
    for along in (0.0, 3.0, 6.0):
        at = shape.world(ladder, (along, 0.0))
        pushes[along] = Placing(sketch, "contact", at, FREE).at(at, FREE).sketch.supports[-1].normal_deg
    assert pushes == {0.0: 90.0, 3.0: 160.0, 6.0: 160.0}


def test_typing_a_coefficient_makes_a_contact_rough_with_letters_of_its_own():
    sketch = laid(BEAM, (1.0, 0.0), (3.0, 0.0))
    sketch = apply(sketch, "set", {"id": "contact", "key": "mu", "text": "0,4"}).sketch
    second = Placing(sketch, "contact", (5.0, 0.0), FREE).at((5.0, 0.0), FREE).sketch
    second = apply(second, "set", {"id": "contact2", "key": "mu", "text": "0"}).sketch
    first, other = second.supports
    assert (first.mu, first.friction_symbol, first.mu_symbol) == (0.4, "f", "μ")
    assert (other.mu, other.friction_symbol, other.mu_symbol) == (0.0, f"f_{other.symbol}", f"μ_{other.symbol}")
    assert document.read(document.write(second)) == second


def test_emptying_the_coefficient_takes_friction_with_its_guess_and_its_slip_away():
    sketch = replace(shelf.load("rough-foot"), answers="shown")
    sketch = apply(sketch, "guess", {"id": "foot-friction", "on": True}).sketch
    sketch = apply(sketch, "set", {"id": "foot", "key": "about_to", "text": "slip"}).sketch
    sketch = apply(sketch, "pin", {"id": "foot-friction", "on": True}).sketch
    smooth = apply(sketch, "set", {"id": "foot", "key": "mu", "text": ""}).sketch
    foot = smooth.supports[0]
    assert (foot.mu, foot.friction_guess, foot.about_to, smooth.pinned) == (None, None, "", ())


def test_a_negative_coefficient_is_refused_by_name():
    with pytest.raises(SteelyardError) as problem:
        apply(shelf.load("rough-foot"), "set", {"id": "foot", "key": "mu", "text": "-0.1"})
    assert problem.value.where == "foot.mu"


@pytest.mark.parametrize(
    ("slug", "of", "about"),
    [("rough-foot", "foot", "tip"), ("rough-foot", "hull", "slip"), ("gangway", "hoist", "lift")],
)
def test_a_support_is_never_put_on_the_point_of_what_it_cannot_do(slug, of, about):
    with pytest.raises(SteelyardError) as problem:
        apply(shelf.load(slug), "set", {"id": of, "key": "about_to", "text": about})
    assert problem.value.code == "edit.about-to"


def test_ends_of_a_face_are_held_along_its_edge_and_change_places_when_drawn_past_each_other():
    sketch = laid(CRATE, (0.5, 0.0), (1.5, 0.0))
    pushed = analyse(sketch).reading("contact").force.along
    end = shape.world(CRATE, (1.5, 0.0))
    gesture = Gesture(sketch, "contact", "end", end, FREE)
    moved = face(gesture.at(shape.world(CRATE, (1.2, 0.4)), FREE))
    assert moved.face_m == pytest.approx((1.2, 0.0), abs=1e-9)
    turned = gesture.at(shape.world(CRATE, (0.1, -0.3)), FREE)
    ends = (face(turned).place_m, face(turned).face_m)
    assert np.allclose(ends, ((0.1, 0.0), (0.5, 0.0)), atol=1e-9)
    assert analyse(turned).reading("contact").force.along == pytest.approx(pushed)


def test_a_face_held_by_its_surface_is_shifted_whole_and_stays_on_its_edge():
    sketch = laid(CRATE, (0.5, 0.0), (1.5, 0.0))
    at = shape.world(CRATE, (1.0, 0.0))
    moved = face(Gesture(sketch, "contact", "place", at, FREE).at(shape.world(CRATE, (5.0, 0.2)), FREE))
    assert np.allclose((moved.place_m, moved.face_m), ((1.0, 0.0), (2.0, 0.0)), atol=1e-9)


def test_a_face_keeps_its_share_of_an_edge_whose_corner_is_moved_and_ends_with_a_bar_that_is_cut():
    sketch = laid(CRATE, (0.5, 0.0), (1.5, 0.0))
    corner = shape.world(CRATE, (2.0, 0.0))
    held = Gesture(sketch, "crate", "corner-1", corner, FREE).at(shape.world(CRATE, (4.0, 0.0)), FREE)
    assert np.allclose((face(held).place_m, face(held).face_m), ((1.0, 0.0), (3.0, 0.0)), atol=1e-9)
    beam = laid(BEAM, (1.0, 0.0), (5.0, 0.0))
    cut = apply(beam, "set", {"id": "beam", "key": "length", "text": "4"}).sketch
    assert (face(cut).place_m, face(cut).face_m) == ((1.0, 0.0), (4.0, 0.0))


def test_keys_move_an_end_of_a_face_by_whole_steps_along_a_sloping_bar():
    ladder = replace(BEAM, angle_deg=30.0)
    sketch = laid(ladder, (1.0, 0.0), (3.0, 0.0))
    gesture = Gesture(sketch, "contact", "end", shape.world(ladder, (3.0, 0.0)), replace(FREE, step_m=0.1))
    gesture.nudge(1.0, 0.0, replace(FREE, step_m=0.1))
    assert face(gesture.sketch).face_m == pytest.approx((3.1, 0.0), abs=1e-9)


def test_the_head_of_friction_pulls_a_guess_along_the_surface_either_way():
    sketch = replace(shelf.load("heeling-pontoon"), answers="shown")
    crate = sketch.bodies[0]
    middle = shape.world(crate, (0.45, 0.0))
    along = (math.cos(math.radians(15.0)), math.sin(math.radians(15.0)))
    for way, angle in ((1.0, 15.0), (-1.0, 195.0)):
        tip = (middle[0] + way * 0.3 * along[0] - 0.2 * along[1], middle[1] + way * 0.3 * along[1] + 0.2 * along[0])
        gesture = Gesture(sketch, "deck-friction", "head", middle, FREE)
        guess = gesture.at(tip, FREE).supports[0].friction_guess
        assert guess is not None
        assert (guess.size_n, guess.direction_deg) == pytest.approx((300.0, angle), abs=1e-6)
        assert gesture.change().label == "Guess f"


def test_a_guess_of_friction_follows_its_surface_when_the_body_is_turned():
    sketch = shelf.load("heeling-pontoon")
    sketch = apply(sketch, "set", {"id": "deck", "key": "friction_guess_size", "text": "-400"}).sketch
    assert sketch.supports[0].friction_guess == Guess(400.0, 195.0)
    turned = apply(sketch, "set", {"id": "crate", "key": "angle", "text": "25"}).sketch
    assert turned.supports[0].friction_guess == Guess(400.0, 205.0)


def test_stretching_the_friction_closes_a_sum_at_what_the_hull_pushes_with():
    """f = D = (2.5 W + 3 P) cos 70° / (5 sin 70°), worked by hand from torques about the foot."""
    sketch = replace(shelf.load("rough-foot"), answers="shown")
    sketch = apply(sketch, "guess", {"id": "foot-friction", "on": True}).sketch
    sketch = apply(sketch, "stretch", {"id": "foot-friction", "closes": "x"}).sketch
    wanted = (2.5 * 15.0 + 3.0 * 80.0) * 9.81 / (5.0 * math.tan(math.radians(70.0)))
    assert sketch.supports[0].friction_guess.size_n == pytest.approx(wanted, rel=1e-9)


def test_friction_that_is_about_to_slip_has_no_head_to_pull():
    sketch = apply(shelf.load("rough-foot"), "set", {"id": "foot", "key": "about_to", "text": "slip-back"}).sketch
    with pytest.raises(SteelyardError) as problem:
        Gesture(sketch, "foot-friction", "head", (0.0, 0.0), FREE)
    assert problem.value.code == "edit.locked"


def test_a_contact_becomes_a_face_and_back_and_another_kind_drops_what_only_it_had():
    sketch = laid(BEAM, (1.0, 0.0), (3.0, 0.0))
    sketch = apply(sketch, "set", {"id": "contact", "key": "mu", "text": "0.4"}).sketch
    point = apply(sketch, "set", {"id": "contact", "key": "touches", "text": "point"}).sketch
    assert (face(point).place_m, face(point).face_m, face(point).mu) == ((2.0, 0.0), None, 0.4)
    again = apply(point, "set", {"id": "contact", "key": "touches", "text": "face"}).sketch
    assert (face(again).place_m, face(again).face_m) == ((0.0, 0.0), (6.0, 0.0))
    pin = face(apply(again, "set", {"id": "contact", "key": "kind", "text": "pin"}).sketch)
    assert (pin.mu, pin.face_m, pin.about_to) == (None, None, "")


def test_a_duplicate_of_a_rough_face_has_letters_of_its_own():
    sketch = laid(BEAM, (1.0, 0.0), (3.0, 0.0))
    sketch = apply(sketch, "set", {"id": "contact", "key": "mu", "text": "0.4"}).sketch
    first, second = apply(sketch, "duplicate", {"id": "contact"}).sketch.supports
    assert len({first.symbol, second.symbol, first.friction_symbol, second.friction_symbol}) == 4
    assert math.dist(second.place_m, second.face_m) == pytest.approx(2.0)


def test_friction_drawn_against_its_answer_is_turned_to_it():
    sketch = replace(shelf.load("rough-foot"), answers="shown")
    foot = replace(sketch.supports[0], drawn_deg=180.0)
    sketch = replace(sketch, supports=(foot, sketch.supports[1]))
    assert analyse(sketch).reading("foot-friction").against_drawn
    turned = apply(sketch, "set", {"id": "foot", "key": "as_answered", "text": "true"}).sketch
    assert turned.supports[0].drawn_deg is None
    assert not analyse(turned).reading("foot-friction").against_drawn


def test_no_two_tools_share_a_key():
    keys = [tool.key for tool in TRAY]
    assert len(keys) == len(set(keys))


def test_a_disc_touches_at_a_point_and_has_no_face_to_touch_along():
    disc = Body("drum", "disc", "drum", (0.0, 0.0), 0.0, radius_m=0.5, mass_kg=20.0)
    with pytest.raises(SteelyardError) as problem:
        Placing(Sketch(bodies=(disc,)), "face", (0.0, -0.5), FREE).at((0.3, -0.4), FREE)
    assert problem.value.code == "edit.round"
    made = Placing(Sketch(bodies=(disc,)), "contact", (0.0, -0.5), FREE).at((0.0, -0.5), FREE).sketch
    with pytest.raises(SteelyardError) as problem:
        apply(made, "set", {"id": "contact", "key": "touches", "text": "face"})
    assert problem.value.code == "edit.round"
