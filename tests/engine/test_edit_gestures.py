"""Gestures and placing: a hand that is nearly somewhere gives exact digits; what cannot move says why."""

import math
from dataclasses import replace

import pytest
from steelyard import document, shelf
from steelyard.edit import commands, grips
from steelyard.edit.context import Context
from steelyard.edit.gestures import Gesture
from steelyard.edit.placing import Placing
from steelyard.errors import SteelyardError
from steelyard.model import Body, Force, Guess, Sketch, SpreadLoad
from steelyard.statics import analyse, shape
from steelyard.statics.pivot import pivot_point

GANGWAY = shelf.load("gangway")
BOARD = Context(newtons_per_m=1000.0, catch_m=0.08, release_m=0.12, step_m=0.1)
FREE = Context(newtons_per_m=1000.0, catch_m=0.0, release_m=0.12, step_m=0.0)


def one(sketch, name):
    everything = (*sketch.bodies, *sketch.supports, *sketch.loads, *sketch.points)
    return next(entity for entity in everything if entity.id == name)


def along(sketch, metres):
    return shape.world(sketch.bodies[0], (metres, 0.0))


def dragged(sketch, of, grip, start, end, board=BOARD):
    gesture = Gesture(sketch, of, grip, start, board)
    gesture.at(end, board)
    return gesture


def known_force(sketch=GANGWAY, **changes):
    force = Force("force", "gangway", (2.0, 0.0), "F", size_n=500.0, direction_deg=270.0)
    return replace(sketch, loads=(*sketch.loads, replace(force, **changes)))


# Attached things


def test_thing_dragged_along_stops_at_round_distances():
    moved = dragged(GANGWAY, "walker", "place", along(GANGWAY, 4.0), along(GANGWAY, 4.43)).sketch
    assert one(moved, "walker").place_m == (4.4, 0.0)


def test_thing_held_off_its_middle_moves_by_as_much_as_the_hand():
    x, y = along(GANGWAY, 4.0)
    moved = dragged(GANGWAY, "walker", "place", (x + 0.05, y + 0.2), (x + 0.05, y + 0.2)).sketch
    assert one(moved, "walker").place_m == (4.0, 0.0)


def test_thing_dragged_past_the_end_stays_at_the_end():
    moved = dragged(GANGWAY, "walker", "place", along(GANGWAY, 4.0), (99.0, -30.0)).sketch
    assert one(moved, "walker").place_m == (6.0, 0.0)


def test_every_preview_starts_from_the_beginning():
    gesture = Gesture(GANGWAY, "walker", "place", along(GANGWAY, 4.0), BOARD)
    gesture.at((99.0, 0.0), BOARD)
    assert gesture.at(along(GANGWAY, 4.0), BOARD) == GANGWAY


def test_without_snapping_the_place_is_where_the_hand_is():
    moved = dragged(GANGWAY, "walker", "place", along(GANGWAY, 4.0), along(GANGWAY, 4.4321), FREE).sketch
    assert one(moved, "walker").place_m[0] == pytest.approx(4.4321, abs=1e-9)


def test_rope_stays_tied_to_its_anchor_while_its_attachment_moves():
    moved = dragged(GANGWAY, "hoist", "tail", along(GANGWAY, 5.2), along(GANGWAY, 4.6)).sketch
    assert one(moved, "hoist").anchor_m == (1.2, 3.2)
    assert one(moved, "hoist").place_m == (4.6, 0.0)


def test_head_of_a_rope_turns_its_anchor_round_the_attachment_while_answers_are_shown():
    shown = replace(GANGWAY, answers="shown")
    before, at = one(shown, "hoist"), along(shown, 5.2)
    moved = dragged(shown, "hoist", "head", at, (at[0], at[1] + 2.0)).sketch
    after = one(moved, "hoist")
    assert math.dist(after.anchor_m, at) == pytest.approx(math.dist(before.anchor_m, at), rel=1e-12)
    assert analyse(moved).reading("hoist").force.along == pytest.approx((0.0, 1.0), abs=1e-12)


def test_roller_is_turned_by_its_normal():
    sketch = commands.apply(GANGWAY, "set", {"id": "hoist", "key": "kind", "text": "roller"}).sketch
    at = along(sketch, 5.2)
    gesture = dragged(sketch, "hoist", "normal", at, (at[0] + 0.52, at[1] + 0.29))
    assert one(gesture.sketch, "hoist").normal_deg == 30.0
    gesture.nudge(-1.0, 0.0, BOARD)
    assert one(gesture.sketch, "hoist").normal_deg == 31.0


# Bodies


def test_end_of_a_bar_is_caught_at_whole_directions_with_a_round_length():
    moved = dragged(GANGWAY, "gangway", "end", along(GANGWAY, 6.0), (5.21, 3.01)).sketch
    assert (moved.bodies[0].angle_deg, moved.bodies[0].length_m) == (30.0, 6.0)


def test_start_of_a_bar_moves_while_its_end_stays():
    end = along(GANGWAY, 6.0)
    moved = dragged(GANGWAY, "gangway", "start", (0.0, 0.0), (1.0, 0.5), FREE).sketch
    assert shape.ends(moved.bodies[0])[1] == pytest.approx(end, abs=1e-9)
    assert moved.bodies[0].origin_m == (1.0, 0.5)


def test_body_moves_with_all_that_is_on_it_but_anchors_stay():
    moved = dragged(GANGWAY, "gangway", "body", (2.0, 0.0), (3.0, 1.0)).sketch
    assert moved.bodies[0].origin_m == (1.0, 1.0)
    assert one(moved, "hoist").anchor_m == (1.2, 3.2)
    assert pivot_point(moved) == (1.0, 1.0)


def test_bar_pulled_to_no_length_keeps_the_last_sound_one_and_says_why():
    gesture = Gesture(GANGWAY, "gangway", "end", along(GANGWAY, 6.0), FREE)
    gesture.at((3.0, 0.0), FREE)
    gesture.at((0.0, 0.0), FREE)
    assert gesture.sketch.bodies[0].length_m == 3.0
    assert "longer than" in gesture.readout


SQUARE = Body("plate", "plate", "plate", (0.0, 0.0), 0.0, points_m=((0.0, 0.0), (4.0, 0.0), (4.0, 2.0), (0.0, 2.0)))


def test_corner_of_a_plate_takes_along_what_is_on_its_edges():
    sketch = Sketch(bodies=(SQUARE,), loads=(Force("force", "plate", (4.0, 1.0), "F", size_n=1.0),))
    moved = dragged(sketch, "plate", "corner-2", (4.0, 2.0), (5.0, 2.0), FREE).sketch
    assert moved.bodies[0].points_m[2] == (5.0, 2.0)
    assert moved.loads[0].place_m == (4.5, 1.0)


def test_plate_never_crosses_itself():
    gesture = dragged(Sketch(bodies=(SQUARE,)), "plate", "corner-2", (4.0, 2.0), (2.0, -1.0), FREE)
    assert gesture.sketch.bodies[0] == SQUARE
    assert "cross itself" in gesture.problem


def test_centre_of_mass_is_set_by_hand_on_the_axis():
    moved = dragged(GANGWAY, "gangway", "centre", along(GANGWAY, 3.0), along(GANGWAY, 2.52)).sketch
    assert moved.bodies[0].centre_m == (2.5, 0.0)
    weight = dragged(GANGWAY, "gangway-weight", "tail", along(GANGWAY, 3.0), along(GANGWAY, 2.52)).sketch
    assert weight == moved


# Arrows


def test_head_of_a_known_force_sets_round_size_and_direction():
    sketch = known_force()
    at = along(sketch, 2.0)
    moved = dragged(sketch, "force", "head", (at[0], at[1] - 0.5), (at[0] + 0.71, at[1] + 0.69)).sketch
    assert (one(moved, "force").size_n, one(moved, "force").direction_deg) == (1000.0, 45.0)


def test_head_of_a_push_drawn_up_to_its_point_is_its_far_end():
    sketch = known_force(head_at_point=True)
    at = along(sketch, 2.0)
    moved = dragged(sketch, "force", "head", (at[0], at[1] + 0.5), (at[0] - 0.8, at[1])).sketch
    assert (one(moved, "force").size_n, one(moved, "force").direction_deg) == (800.0, 0.0)


def test_head_of_an_unknown_pulls_a_guess_out_of_it_and_leaves_it_unknown():
    gesture = dragged(GANGWAY, "hinge", "head", (0.0, 0.0), (1.44, 0.37))
    assert one(gesture.sketch, "hinge").guess == Guess(1500.0, 15.0)
    assert gesture.change().label == "Guess R"
    assert analyse(gesture.sketch).reading("hinge").force.role == "unknown"


def test_guess_for_a_rope_lies_on_its_line_and_never_pushes():
    at = along(GANGWAY, 5.2)
    pulled = dragged(GANGWAY, "hoist", "guess", at, (at[0] - 1.0, at[1] + 1.0)).sketch
    along_rope = analyse(pulled).reading("hoist").force
    guess = along_rope.guess
    assert guess[0] * along_rope.along[1] == pytest.approx(guess[1] * along_rope.along[0], abs=1e-6)
    pushed = dragged(GANGWAY, "hoist", "guess", at, (at[0] + 1.0, at[1] - 1.0)).sketch
    assert one(pushed, "hoist").guess.size_n == 0.0


def readings(sketch):
    return [(one.vector, one.turning.torque_n_m) for one in analyse(sketch).readings]


def test_force_slid_along_its_line_changes_no_reading():
    sketch = known_force()
    at = along(sketch, 2.0)
    behind = dragged(sketch, "force", "slide", at, (at[0], at[1] + 1.0)).sketch
    assert one(behind, "force").head_at_point
    assert readings(behind) == readings(sketch)


def test_force_slid_within_a_plate_keeps_its_torque():
    force = Force("force", "plate", (1.0, 1.0), "F", size_n=100.0, direction_deg=30.0)
    sketch = Sketch(bodies=(replace(SQUARE, mass_kg=1.0),), loads=(force,))
    slid = dragged(sketch, "force", "slide", (1.0, 1.0), (2.0, 1.3), FREE).sketch
    assert slid.loads[0].place_m != force.place_m
    before, after = (analyse(one, pivot=(5.0, -3.0)).reading("force").turning.torque_n_m for one in (sketch, slid))
    assert after == pytest.approx(before, rel=1e-9)


@pytest.mark.parametrize(
    ("of", "grip", "words"),
    [
        ("gangway-weight", "head", "size comes from the mass"),
        ("walker", "head", "type its mass"),
        ("walker", "slide", "move the thing instead"),
        ("hinge", "slide", "move the support instead"),
    ],
)
def test_grip_that_cannot_move_says_why(of, grip, words):
    assert words in grips.locked(GANGWAY, of, grip)
    with pytest.raises(SteelyardError, match=words):
        Gesture(GANGWAY, of, grip, (0.0, 0.0), BOARD)


@pytest.mark.parametrize("slug", [entry.slug for entry in shelf.listing()])
def test_every_grip_offered_is_locked_with_a_reason_or_moves(slug):
    sketch = shelf.load(slug)
    named = [entity.id for entity in (*sketch.bodies, *sketch.supports, *sketch.loads, *sketch.points)]
    for of in [*named, *(f"{body.id}-weight" for body in sketch.bodies), "pivot"]:
        for grip in grips.names(sketch, of):
            if not grips.locked(sketch, of, grip):
                assert dragged(sketch, of, grip, (0.3, 0.2), (0.5, 0.4)).readout


# The pivot


def test_pivot_dropped_on_a_support_is_tied_to_it_and_follows_it():
    moved = dragged(GANGWAY, "pivot", "pivot", (0.0, 0.0), along(GANGWAY, 5.21)).sketch
    assert moved.pivot.tied_to == "hoist"
    again = commands.apply(moved, "set", {"id": "hoist", "key": "at", "text": "3"}).sketch
    assert again.pivot.place_m == pytest.approx(along(again, 3.0), abs=1e-9)


def test_pivot_is_caught_by_a_crossing_of_lines_off_the_body():
    forces = {reading.force.id: reading.force for reading in analyse(GANGWAY).readings}
    weight, rope = forces["gangway-weight"], forces["hoist"]
    up = rope.point[1] + (weight.point[0] - rope.point[0]) * rope.along[1] / rope.along[0]
    gesture = dragged(GANGWAY, "pivot", "pivot", (0.0, 0.0), (weight.point[0] + 0.02, up - 0.03))
    assert gesture.snapped.kind == "crossing"
    assert gesture.sketch.pivot.place_m == pytest.approx((weight.point[0], up), abs=1e-9)


def test_pivot_anywhere_else_is_free():
    moved = dragged(GANGWAY, "pivot", "pivot", (0.0, 0.0), (2.03, 1.98)).sketch
    assert (moved.pivot.place_m, moved.pivot.tied_to) == ((2.0, 2.0), None)


# Keys


def test_nudge_moves_by_exact_round_steps_along_a_bar():
    gesture = Gesture(GANGWAY, "walker", "place", along(GANGWAY, 4.0), BOARD)
    for _ in range(3):
        gesture.nudge(1.0, 0.0, BOARD)
    assert one(gesture.sketch, "walker").place_m == (4.3, 0.0)
    gesture.nudge(-10.0, 0.0, BOARD)
    assert one(gesture.sketch, "walker").place_m == (3.3, 0.0)


def test_nudge_moves_anchor_and_arrow_by_round_steps():
    anchor = Gesture(GANGWAY, "hoist", "anchor", (1.2, 3.2), BOARD)
    anchor.nudge(1.0, -1.0, BOARD)
    assert one(anchor.sketch, "hoist").anchor_m == (1.3, 3.1)
    sketch = known_force(direction_deg=0.0)
    arrow = Gesture(sketch, "force", "head", along(sketch, 2.0), BOARD)
    arrow.nudge(2.0, 0.0, BOARD)
    assert one(arrow.sketch, "force").size_n == 700.0


# Placing


def placed(sketch, tool, start, end, board=BOARD):
    return Placing(sketch, tool, start, board).at(end, board).sketch


def test_gangway_is_drawn_in_few_strokes_and_solves():
    sketch = placed(Sketch(), "bar", (0.02, -0.03), (5.87, -1.25))
    for key, text in (("length", "6"), ("angle", "-12"), ("mass", "120")):
        sketch = commands.apply(sketch, "set", {"id": "bar", "key": key, "text": text}).sketch
    sketch = placed(sketch, "pin", (0.03, 0.05), (0.03, 0.05))
    sketch = placed(sketch, "rope", along(sketch, 5.22), (1.22, 3.17))
    sketch = placed(sketch, "thing", along(sketch, 3.98), along(sketch, 3.98))
    sketch = commands.apply(sketch, "set", {"id": "thing", "key": "mass", "text": "80"}).sketch
    sketch = commands.apply(sketch, "settings", {"key": "g_m_s2", "text": "9.80665"}).sketch
    assert one(sketch, "rope").place_m == (5.2, 0.0)
    assert one(sketch, "rope").anchor_m == (1.2, 3.2)
    assert round(analyse(sketch).reading("rope").size_n, 1) == 2146.1


def test_rope_may_be_drawn_from_its_anchor_to_the_body():
    sketch = placed(GANGWAY, "rope", (0.21, 3.02), along(GANGWAY, 2.0))
    assert (sketch.supports[-1].place_m, sketch.supports[-1].anchor_m) == ((2.0, 0.0), (0.2, 3.0))


def test_force_is_drawn_outwards_from_the_body():
    at = along(GANGWAY, 2.0)
    force = placed(GANGWAY, "force", at, (at[0] + 0.01, at[1] - 0.61)).loads[-1]
    assert (force.place_m, force.size_n, force.direction_deg) == ((2.0, 0.0), 600.0, 270.0)


def test_force_placed_by_a_tap_alone_has_a_round_size():
    at = along(GANGWAY, 2.0)
    force = placed(GANGWAY, "force", at, at).loads[-1]
    assert force.size_n == 1000.0 and force.role == "known"


def test_support_far_from_every_body_is_refused_in_words():
    with pytest.raises(SteelyardError, match="It has to begin on the body"):
        Placing(GANGWAY, "pin", (3.0, 3.0), BOARD)


def test_nearest_of_several_bodies_is_taken():
    other = replace(GANGWAY.bodies[0], id="other", origin_m=(0.0, 0.3))
    sketch = replace(GANGWAY, bodies=(*GANGWAY.bodies, other))
    assert placed(sketch, "thing", (1.0, 0.05), (1.0, 0.05)).loads[-1].body == "other"


def test_contact_pushes_square_to_its_bar_until_it_is_turned_by_a_drag():
    at = along(GANGWAY, 2.0)
    assert placed(GANGWAY, "contact", at, at).supports[-1].normal_deg == 78.0
    assert placed(GANGWAY, "contact", at, (at[0] - 0.5, at[1])).supports[-1].normal_deg == 180.0


def test_two_points_make_a_bent_bar_and_a_plate_and_more_corners_may_follow():
    assert placed(Sketch(), "bent-bar", (0.0, 0.0), (2.0, 1.0)).bodies[0].points_m == ((0, 0), (0, 1), (2, 1))
    assert placed(Sketch(), "plate", (1.0, 1.0), (3.0, 2.0)).bodies[0].points_m == ((0, 0), (2, 0), (2, 1), (0, 1))
    placing = Placing(Sketch(), "plate", (0.0, 0.0), BOARD)
    assert placing.corner((3.0, 0.0), BOARD)
    assert placing.corner((3.0, 2.0), BOARD)
    assert not placing.corner((0.03, 0.0), BOARD)
    assert placing.finish().sketch.bodies[0].points_m == ((0, 0), (3, 0), (3, 2))


def test_bar_without_length_is_refused_in_words():
    with pytest.raises(SteelyardError, match="its two ends are at one point"):
        placed(Sketch(), "bar", (0.0, 0.0), (0.01, 0.01))


# What the random changes found once


@pytest.mark.parametrize(("of", "grip"), [("pivot", "pivot"), ("gangway", "body"), ("hoist", "anchor")])
def test_nothing_is_dragged_farther_than_a_file_may_hold(of, grip):
    # At 1e12 m neighbouring numbers are 0.0001 m apart, so one metre more is a number of its own.
    far = commands.apply(Sketch() if of == "pivot" else GANGWAY, "pivot", {"at": (0.0, 1e12)}).sketch
    if of == "gangway":
        far = replace(GANGWAY, bodies=(replace(GANGWAY.bodies[0], origin_m=(0.0, 1e12)),), pivot=None)
    elif of == "hoist":
        far = replace(GANGWAY, supports=(replace(GANGWAY.supports[1], anchor_m=(0.0, 1e12)),), pivot=None)
    gesture = dragged(far, of, grip, (0.0, 0.0), (0.0, 1.0), FREE)
    assert gesture.sketch == far
    assert "must be at most 1e12 in size: got 1000000000001.0" in gesture.problem
    assert document.read(document.write(gesture.change().sketch)) == far


@pytest.mark.parametrize("grip", ["place", "start", "end"])
def test_spread_load_stays_where_the_board_has_no_step_for_keys(grip):
    snow = SpreadLoad("snow", "gangway", (1.0, 0.0), (3.0, 0.0), "Q", "w", start_n_per_m=50.0, end_n_per_m=50.0)
    sketch = replace(GANGWAY, loads=(snow,), givens=())
    gesture = Gesture(sketch, "snow", grip, (0.0, 0.0), FREE)
    assert gesture.nudge(1, 0, FREE) == sketch
