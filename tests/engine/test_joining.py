"""Several bodies under the hand: placing joints, moving what is joined, choosing what is isolated."""

import math
from dataclasses import replace

import pytest
from steelyard import document, shelf
from steelyard.edit import commands
from steelyard.edit.context import Context
from steelyard.edit.gestures import Gesture
from steelyard.edit.placing import Placing
from steelyard.errors import SteelyardError
from steelyard.model import Body, Sketch, Thing
from steelyard.statics import analyse, meeting, shape

# A metre is a hundred pixels wide here: what is caught is 8 px, let go 12 px.
BOARD = Context(newtons_per_m=1000.0, catch_m=0.08, release_m=0.12, step_m=0.1)
EXACT = Context(release_m=1e-6)


def bar(name, start, end):
    x, y = end[0] - start[0], end[1] - start[1]
    angle = math.degrees(math.atan2(y, x))
    return Body(name, "bar", name, start, angle, length_m=math.hypot(x, y), thickness_m=0.1)


# Two legs that meet at the top, each on the ground at its foot.
LEGS = Sketch(bodies=(bar("left", (0.0, 0.0), (1.5, 2.0)), bar("right", (3.0, 0.0), (1.5, 2.0))))


def placed(sketch, tool, at, to=None, context=BOARD):
    return Placing(sketch, tool, at, context).at(at if to is None else to, context)


def joined(sketch=LEGS):
    return placed(sketch, "pin", (1.52, 1.97)).sketch


def grounded(sketch):
    """With a pin of the ground under each foot."""
    for index, name in enumerate(("left", "right")):
        sketch = commands.apply(sketch, "add", {"tool": "pin", "at": list(shape.ends(sketch.body(name))[0])}).sketch
        assert sketch.supports[-1].other is None, index
    return sketch


def at_joint(sketch, support):
    """Where a joint is on each of its bodies: the same point, or it is apart."""
    point = shape.world(sketch.body(support.body), support.place_m)
    return point, meeting.gap(sketch.body(support.other), point)


def held(sketch, of, grip, by, context=EXACT):
    gesture = Gesture(sketch, of, grip, (0.0, 0.0), context)
    gesture.at(by, context)
    return gesture


def test_pin_tapped_where_two_bodies_meet_joins_them_and_says_so():
    placing = Placing(LEGS, "pin", (1.52, 1.97), BOARD)
    change = placing.at((1.52, 1.97), BOARD)
    pin = change.sketch.supports[0]
    assert (pin.kind, {pin.body, pin.other}) == ("pin", {"left", "right"})
    assert at_joint(change.sketch, pin)[0] == pytest.approx((1.5, 2.0), abs=1e-9)
    assert "left" in placing.readout and "right" in placing.readout
    assert change.label.startswith("Join ")


def test_pin_tapped_again_at_a_joint_holds_it_to_the_ground():
    twice = placed(joined(), "pin", (1.5, 2.0)).sketch
    assert [each.other is None for each in twice.supports] == [False, True]


def test_pin_tapped_where_three_bodies_meet_joins_one_pair_after_the_other():
    three = replace(LEGS, bodies=(*LEGS.bodies, bar("mast", (1.5, 2.0), (1.5, 4.0))))
    once = placed(three, "pin", (1.5, 2.0)).sketch
    twice = placed(once, "pin", (1.5, 2.0)).sketch
    thrice = placed(twice, "pin", (1.5, 2.0)).sketch
    assert [each.other is None for each in thrice.supports] == [False, False, True]
    assert {one for each in thrice.supports[:2] for one in (each.body, each.other)} == {"left", "right", "mast"}


def test_pin_where_two_bars_cross_joins_them_at_the_crossing():
    crossed = Sketch(bodies=(bar("one", (0.0, 0.0), (4.0, 2.0)), bar("other", (0.0, 2.0), (4.0, 0.0))))
    pin = placed(crossed, "pin", (2.03, 1.02)).sketch.supports[0]
    assert pin.other is not None
    assert shape.world(crossed.body(pin.body), pin.place_m) == pytest.approx((2.0, 1.0), abs=1e-9)


def test_pin_where_a_bar_lies_across_a_disc_joins_them_under_the_hand_and_at_its_centre_there():
    wheel = Body("wheel", "disc", "wheel", (2.0, 0.0), 0.0, radius_m=0.5)
    sketch = Sketch(bodies=(bar("beam", (0.0, 0.0), (4.0, 0.0)), wheel))
    for hand, met_at in ((2.3, 2.3), (2.05, 2.0)):
        pin = placed(sketch, "pin", (hand, 0.01)).sketch.supports[0]
        assert {pin.body, pin.other} == {"beam", "wheel"}
        assert shape.world(sketch.body(pin.body), pin.place_m) == pytest.approx((met_at, 0.0), abs=1e-9)
    assert placed(sketch, "pin", (3.0, 0.0)).sketch.supports[0].other is None


def test_end_that_is_nearly_there_is_put_there_and_its_other_end_stays():
    near = Sketch(bodies=(bar("beam", (0.0, 2.0), (4.0, 2.0)), bar("leg", (2.0, 0.0), (2.0, 1.95))))
    sketch = placed(near, "pin", (2.0, 1.96)).sketch
    assert shape.ends(sketch.body("leg"))[0] == pytest.approx((2.0, 0.0), abs=1e-12)
    assert shape.ends(sketch.body("leg"))[1] == pytest.approx((2.0, 2.0), abs=1e-9)
    assert sketch.supports[0].other is not None


def test_pin_away_from_another_body_holds_to_the_ground():
    pin = placed(LEGS, "pin", (0.75, 1.0)).sketch.supports[0]
    assert (pin.other, pin.agent) == (None, "hinge")


def test_contact_between_two_bodies_pushes_the_one_that_ends_there_off_the_other():
    sketch = Sketch(bodies=(bar("plank", (0.0, 0.0), (4.0, 0.0)), bar("post", (2.0, 0.0), (2.0, 3.0))))
    contact = placed(sketch, "contact", (2.0, 0.0)).sketch.supports[0]
    assert (contact.body, contact.other, contact.normal_deg) == ("post", "plank", 90.0)


def test_rope_let_go_on_another_body_is_joined_to_it_and_off_it_to_the_ground():
    sketch = placed(joined(), "rope", (0.3, 0.4), (2.71, 0.41)).sketch
    rope = sketch.supports[-1]
    assert (rope.body, rope.other) == ("left", "right")
    assert meeting.place_on(sketch, rope, "right") == pytest.approx((2.7, 0.4), abs=0.05)
    off = held(sketch, rope.id, "anchor", (2.0, 1.0), BOARD).sketch.supports[-1]
    assert off.other is None
    assert off.anchor_m == pytest.approx((4.7, 1.4), abs=0.11)


def test_body_that_is_dragged_takes_all_that_is_joined_to_it_along():
    before = grounded(joined())
    gesture = held(before, "left", "body", (1.0, 0.5))
    after = gesture.sketch
    for name in ("left", "right"):
        for was, now in zip(shape.ends(before.body(name)), shape.ends(after.body(name)), strict=True):
            assert now == pytest.approx((was[0] + 1.0, was[1] + 0.5), abs=1e-9)
    assert "right goes along" in gesture.readout


def test_bar_held_at_its_other_end_turns_and_stretches_when_the_joint_is_dragged():
    before = grounded(joined())
    after = held(before, "left", "end", (0.5, 0.25)).sketch
    assert shape.ends(after.body("left"))[1] == pytest.approx((2.0, 2.25), abs=1e-9)
    assert shape.ends(after.body("right"))[0] == pytest.approx((3.0, 0.0), abs=1e-9)
    assert shape.ends(after.body("right"))[1] == pytest.approx((2.0, 2.25), abs=1e-9)
    foot = after.supports[-1]
    assert shape.world(after.body(foot.body), foot.place_m) == pytest.approx((3.0, 0.0), abs=1e-9)


def test_body_without_another_hold_goes_along_when_the_joint_is_dragged():
    before = joined()
    after = held(before, "left", "end", (0.5, 0.25)).sketch
    assert shape.ends(after.body("right"))[0] == pytest.approx((3.5, 0.25), abs=1e-9)
    assert shape.ends(after.body("right"))[1] == pytest.approx((2.0, 2.25), abs=1e-9)


def test_free_end_turns_about_the_joint_which_stays():
    before = joined()
    after = held(before, "left", "start", (0.0, 0.5)).sketch
    assert shape.ends(after.body("left"))[1] == pytest.approx((1.5, 2.0), abs=1e-9)
    assert after.body("right") == before.body("right")


def test_typed_angle_keeps_the_joint_together_and_says_what_went_along():
    before = joined()
    change = commands.apply(before, "set", {"id": "left", "key": "angle", "text": "60"})
    assert at_joint(change.sketch, change.sketch.supports[0])[1] < 1e-9
    assert "right went along" in change.note


def test_change_that_would_pull_a_ring_of_joints_apart_is_refused_and_nothing_moves():
    """Four bars pinned across each other: turning one of them would need two of the others to shift apart."""
    ring = Sketch(
        bodies=(
            bar("low", (0.0, 0.0), (4.0, 0.0)),
            bar("near", (1.0, -1.0), (1.0, 3.0)),
            bar("far", (3.0, -1.0), (3.0, 3.0)),
            bar("high", (0.0, 2.0), (4.0, 2.0)),
        )
    )
    for crossing in ((1.0, 0.0), (3.0, 0.0), (1.0, 2.0), (3.0, 2.0)):
        ring = placed(ring, "pin", crossing).sketch
    assert all(each.other for each in ring.supports)
    gesture = held(ring, "low", "end", (0.0, 1.0))
    assert gesture.sketch == ring
    assert "apart" in gesture.problem
    with pytest.raises(SteelyardError, match="apart"):
        commands.apply(ring, "set", {"id": "low", "key": "angle", "text": "30"})


@pytest.mark.parametrize("grip", ["start", "end"])
def test_corner_of_a_triangle_of_bars_can_be_dragged_and_all_three_stay_joined(grip):
    ring = Sketch(
        bodies=(bar("a", (0.0, 0.0), (4.0, 0.0)), bar("b", (0.0, 0.0), (0.0, 3.0)), bar("c", (4.0, 0.0), (0.0, 3.0)))
    )
    for corner in ((0.0, 0.0), (4.0, 0.0), (0.0, 3.0)):
        ring = placed(ring, "pin", corner).sketch
    after = held(ring, "b", grip, (0.3, -0.2)).sketch
    assert after != ring
    assert all(at_joint(after, each)[1] < 1e-9 for each in after.supports)


def test_nudging_again_and_again_keeps_the_joint_together():
    sketch = grounded(joined())
    gesture = Gesture(sketch, "left", "end", (1.5, 2.0), BOARD)
    for _ in range(7):
        gesture.nudge(1.0, 1.0, BOARD)
        assert gesture.problem == ""
    pin = next(each for each in gesture.sketch.supports if each.other)
    assert at_joint(gesture.sketch, pin)[1] < 1e-9
    assert shape.ends(gesture.sketch.body("left"))[1] == pytest.approx((2.2, 2.7), abs=1e-9)


def test_copy_of_a_joined_body_stands_free_of_what_its_original_is_joined_to():
    change = commands.apply(grounded(joined()), "duplicate", {"id": "left"})
    copies = [each for each in change.sketch.supports if change.created in (each.body, each.other)]
    assert [each.other for each in copies] == [None]


def test_document_whose_joint_is_apart_is_refused_with_its_place():
    data = document.to_data(joined())
    data["bodies"][1]["origin_m"] = [9.0, 0.0]
    with pytest.raises(SteelyardError) as caught:
        document.from_data(data)
    assert caught.value.code == "document.apart"
    assert caught.value.where == "supports[0].other"


def test_choosing_the_ground_or_another_body_parts_and_joins():
    pin = joined().supports[0]
    parted = commands.apply(joined(), "set", {"id": pin.id, "key": "other", "text": ""}).sketch
    assert (parted.supports[0].other, parted.supports[0].agent) == (None, "hinge")
    again = commands.apply(parted, "set", {"id": pin.id, "key": "other", "text": pin.other}).sketch
    assert (again.supports[0].other, again.supports[0].agent) == (pin.other, "")
    with pytest.raises(SteelyardError, match="reaches"):
        far = replace(parted, bodies=(parted.bodies[0], bar("right", (9.0, 0.0), (9.0, 2.0))))
        commands.apply(far, "set", {"id": pin.id, "key": "other", "text": "right"})


def test_rope_between_two_bodies_can_be_led_over_a_pulley_and_back():
    sketch = placed(joined(), "rope", (0.3, 0.4), (2.7, 0.4)).sketch
    rope = sketch.supports[-1].id
    over = commands.apply(sketch, "set", {"id": rope, "key": "over", "text": "true"}).sketch
    assert over.supports[-1].over_m is not None
    moved = held(over, rope, "pulley", (1.0, 0.0)).sketch.supports[-1]
    assert moved.over_m[0] == pytest.approx(over.supports[-1].over_m[0] + 1.0)
    straight = commands.apply(over, "set", {"id": rope, "key": "over", "text": "false"}).sketch
    assert straight == sketch


# What is isolated


def test_isolating_takes_bodies_in_the_order_of_the_sketch_and_things_on_them_only():
    sketch = replace(joined(), loads=(Thing("cat", "left", (1.0, 0.0), "P", "cat", 5.0),))
    change = commands.apply(sketch, "isolate", {"ids": ["right", "cat"]})
    assert change.sketch.isolated == ("right",)
    assert commands.apply(sketch, "isolate", {"ids": ["cat", "left"]}).sketch.isolated == ("left", "cat")
    assert commands.apply(change.sketch, "isolate", {"ids": []}).sketch.isolated == ()
    with pytest.raises(SteelyardError, match='got "nobody"'):
        commands.apply(sketch, "isolate", {"ids": ["nobody"]})
    with pytest.raises(SteelyardError, match="list of ids"):
        commands.apply(sketch, "isolate", {"ids": "left"})


def test_internal_forces_vanish_from_the_whole_and_the_cut_ones_appear():
    whole = commands.apply(shelf.load("trestle"), "isolate", {"ids": ["left-leg", "right-leg"]}).sketch
    assert {each.force.id for each in analyse(whole).readings} == {"painter", "spike", "right-foot"}
    part = commands.apply(whole, "isolate", {"ids": ["left-leg"]}).sketch
    assert {each.force.id for each in analyse(part).readings} == {"painter", "spike", "top-back", "tie-back"}


def test_what_is_drawn_outside_the_system_opens_it_so_that_it_is_seen():
    whole = commands.apply(shelf.load("trestle"), "isolate", {"ids": ["left-leg"]}).sketch
    on_it = commands.apply(whole, "add", {"tool": "force", "at": [0.6, 0.8]}).sketch
    assert on_it.isolated == ("left-leg",)
    beside = commands.apply(whole, "add", {"tool": "force", "at": [2.4, 0.8]}).sketch
    assert beside.isolated == ()
    assert commands.apply(whole, "add", {"tool": "bar", "at": [5.0, 0.0], "to": [6.0, 0.0]}).sketch.isolated == ()
