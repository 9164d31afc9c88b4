"""Foot, arm, sense and torque of a force about a pivot; the resultant and its line; the pivot itself."""

import math

import numpy as np
import pytest
import strategies
from hypothesis import given, settings
from hypothesis import strategies as st
from steelyard.model import Body, Couple, Force, NamedPoint, Pivot, Sketch, Support
from steelyard.statics import analyse, moments, pivot

BAR = Body("bar1", "bar", "plank", (0.0, 0.0), 0.0, length_m=4.0)


def loaded(*loads, at=(0.0, 0.0)):
    return analyse(Sketch(bodies=(BAR,), loads=loads, pivot=Pivot(at)))


def test_force_up_on_the_right_turns_counterclockwise():
    turning = loaded(Force("f", "bar1", (3.0, 0.0), "F", size_n=10.0, direction_deg=90.0)).readings[0].turning
    assert (turning.foot, turning.arm_m, turning.sense) == ((3.0, 0.0), 3.0, 1)
    assert (turning.torque_n_m, turning.from_x_n_m, turning.from_y_n_m) == (30.0, 0.0, 30.0)
    assert not turning.drops_out


def test_slanting_force_has_its_arm_to_the_line_and_not_to_the_point():
    # By hand: 45° through (4, 0), pivot at the origin: arm 4 sin 45°, foot at (2, −2).
    turning = loaded(Force("f", "bar1", (4.0, 0.0), "F", size_n=10.0, direction_deg=45.0)).readings[0].turning
    assert turning.arm_m == pytest.approx(4.0 * math.sin(math.pi / 4))
    assert turning.foot == pytest.approx((2.0, -2.0))
    assert turning.torque_n_m == pytest.approx(40.0 * math.sin(math.pi / 4))


def test_force_along_a_line_through_the_pivot_drops_out_whatever_its_size():
    for size in (5.0, None):
        reading = loaded(Force("f", "bar1", (4.0, 0.0), "F", size_n=size, direction_deg=180.0)).readings[0]
        assert reading.turning.drops_out
        assert (reading.turning.arm_m, reading.turning.sense, reading.turning.torque_n_m) == (0.0, 0, 0.0)


def test_unknown_pair_at_the_pivot_drops_out_whatever_its_direction():
    unknown = Force("f", "bar1", (0.0, 0.0), "F", role="unknown", sought="size and direction")
    assert loaded(unknown, Force("g", "bar1", (2.0, 0.0), "G", size_n=None)).readings[0].turning.drops_out


def test_letter_on_a_known_line_has_a_certain_sense_and_no_torque():
    turning = loaded(Force("f", "bar1", (3.0, 0.0), "F", direction_deg=270.0)).readings[0].turning
    assert (turning.arm_m, turning.sense, turning.torque_n_m) == (3.0, -1, None)


def test_couple_turns_alike_about_every_pivot():
    couple = Couple("c", "bar1", (1.0, 0.0), "C", couple_n_m=5.0, counterclockwise=False)
    for at in ((0.0, 0.0), (-70.0, 12.0)):
        turning = loaded(couple, at=at).readings[0].turning
        assert (turning.torque_n_m, turning.sense, turning.arm_m, turning.drops_out) == (-5.0, -1, None, False)


def test_force_without_size_has_no_torque_and_no_sense():
    turning = loaded(Force("f", "bar1", (3.0, 0.0), "F", size_n=0.0)).readings[0].turning
    assert (turning.torque_n_m, turning.sense, turning.arm_m) == (0.0, 0, 3.0)


@settings(max_examples=300, deadline=None)
@given(strategies.PLACES, strategies.PLACES, strategies.ANGLES, strategies.hundredths(0.01, 5000.0))
def test_torque_is_the_vector_product_and_arm_times_size(about, point, angle_deg, size_n):
    along = (math.cos(math.radians(angle_deg)), math.sin(math.radians(angle_deg)))
    vector = (size_n * along[0], size_n * along[1])
    turning = moments.of_force(about, point, along, size_n, False, 1.0)
    arm = np.subtract(point, about)
    torque = arm[0] * vector[1] - arm[1] * vector[0]
    limit = 1e-9 * size_n * (1.0 + np.linalg.norm(arm))
    assert turning.torque_n_m == pytest.approx(torque, abs=limit)
    assert turning.from_x_n_m + turning.from_y_n_m == pytest.approx(torque, abs=limit)
    assert turning.sense * turning.arm_m * size_n == pytest.approx(torque, abs=limit)
    foot = np.subtract(turning.foot, about)
    assert abs(foot @ along) < 1e-9 * (1.0 + np.linalg.norm(arm))
    assert np.linalg.norm(foot) == pytest.approx(turning.arm_m, abs=1e-9)


@settings(max_examples=300, deadline=None)
@given(strategies.PLACES, strategies.PLACES, strategies.ANGLES, strategies.hundredths(-50.0, 50.0))
def test_sliding_a_force_along_its_line_changes_no_torque(about, point, angle_deg, slide):
    along = (math.cos(math.radians(angle_deg)), math.sin(math.radians(angle_deg)))
    there = (point[0] + slide * along[0], point[1] + slide * along[1])
    first = moments.of_vector(about, point, along, 1.0)
    second = moments.of_vector(about, there, along, 1.0)
    assert second.torque_n_m == pytest.approx(first.torque_n_m, abs=1e-7)
    assert second.foot == pytest.approx(first.foot, abs=1e-7)


def test_resultant_acts_where_the_lever_rule_says():
    # By hand: 30 N at 0 and 10 N at 4, both down: 40 N at 1 m.
    analysis = loaded(
        Force("f", "bar1", (0.0, 0.0), "F", size_n=30.0),
        Force("g", "bar1", (4.0, 0.0), "G", size_n=10.0),
    )
    assert (analysis.applied.fx_n, analysis.applied.fy_n) == (0.0, -40.0)
    assert analysis.applied.torque_n_m == pytest.approx(-40.0)
    assert analysis.applied.line_point == pytest.approx((1.0, 0.0))


def test_pair_of_equal_and_opposite_forces_has_a_torque_and_no_line():
    analysis = loaded(
        Force("f", "bar1", (0.0, 0.0), "F", size_n=30.0),
        Force("g", "bar1", (4.0, 0.0), "G", size_n=30.0, direction_deg=90.0),
    )
    assert analysis.applied.torque_n_m == pytest.approx(120.0)
    assert analysis.applied.line_point is None
    assert analysis.balance.kind == "unbalanced"


def test_pivot_follows_what_it_is_tied_to_and_takes_its_name():
    body = Body("bar1", "bar", "plank", (1.0, 1.0), 90.0, length_m=4.0)
    sketch = Sketch(
        bodies=(body,),
        points=(NamedPoint("point-a", "A", (2.0, 0.0), "bar1"),),
        supports=(Support("pin1", "pin", "bar1", (2.0, 0.0), "R"),),
        pivot=Pivot((9.0, 9.0), tied_to="pin1"),
    )
    assert pivot.pivot_point(sketch) == (1.0, 3.0)
    assert pivot.name_of(sketch) == "A"


def test_pivot_without_a_name_takes_a_letter_nobody_uses():
    sketch = Sketch(bodies=(BAR,), pivot=Pivot((9.0, 9.0)))
    assert pivot.name_of(sketch) == "O"
    taken = Sketch(bodies=(BAR,), points=(NamedPoint("point-o", "O", (0.0, 0.0)),), pivot=Pivot((9.0, 9.0)))
    assert pivot.name_of(taken) == "Q"


def test_without_a_pivot_the_first_support_else_the_bodys_origin_serves():
    body = Body("bar1", "bar", "plank", (1.0, 1.0), 0.0, length_m=4.0)
    held = Sketch(bodies=(body,), supports=(Support("pin1", "pin", "bar1", (2.0, 0.0), "R"),))
    assert pivot.pivot_point(held) == (3.0, 1.0)
    assert pivot.pivot_point(Sketch(bodies=(body,))) == (1.0, 1.0)
    assert pivot.pivot_point(Sketch()) == (0.0, 0.0)


@settings(max_examples=100, deadline=None)
@given(strategies.sketches(), st.sampled_from([(0.0, 0.0), (3.0, -4.0)]))
def test_pivot_of_the_call_overrides_the_sketchs(sketch, about):
    analysis = analyse(sketch, pivot=about)
    assert analysis.pivot == about
    for reading in analysis.readings:
        if reading.turning.foot is not None and reading.turning.arm_m is not None:
            foot = reading.turning.foot
            assert math.hypot(foot[0] - about[0], foot[1] - about[1]) == pytest.approx(reading.turning.arm_m, abs=1e-9)
