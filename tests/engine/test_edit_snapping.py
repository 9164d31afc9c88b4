"""Snapping: points before crossings before directions before round sizes; held a little longer; exact digits."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from steelyard.edit.context import Context, crossing_spots, snap_place
from steelyard.edit.snapping import Candidates, Line, Spot, compass, round_step, round_to, snap, step_at_least
from steelyard.model import Body, Settings, Sketch, Support

POINT = Spot((1.0, 1.0), "end of bar", "bar")
CROSSING = Spot((1.05, 1.0), "lines cross")
EVERYTHING = Candidates(points=(POINT,), crossings=(CROSSING,), origin=(0.0, 0.0), lines=compass(), step=0.1)


def test_point_is_taken_before_a_nearer_crossing():
    assert snap((1.04, 1.0), EVERYTHING, 0.08, 0.12).label == "end of bar"


def test_crossing_is_taken_before_a_direction():
    assert snap((1.1, 1.0), EVERYTHING, 0.08, 0.12).kind == "crossing"


def test_direction_is_taken_before_round_coordinates_and_gives_a_round_length():
    caught = snap((2.02, 1.18), EVERYTHING, 0.08, 0.12)
    assert (caught.kind, caught.label, caught.angle_deg, caught.length_m) == ("direction", "30°", 30.0, 2.3)


def test_round_coordinates_are_last_and_exact():
    caught = snap((5.2038, -1.3), EVERYTHING, 0.01, 0.02)
    assert (caught.kind, caught.point) == ("round", (5.2, -1.3))


def test_no_catch_distance_means_no_snapping():
    assert snap((1.0001, 1.0), EVERYTHING, 0.0, 0.0).point == (1.0001, 1.0)


def test_what_is_caught_is_let_go_later_than_it_is_caught():
    plain = Candidates(points=(POINT,))
    assert snap((1.1, 1.0), plain, 0.08, 0.12).kind == "free"
    held = snap((1.07, 1.0), plain, 0.08, 0.12)
    assert held.kind == "point"
    held = snap((1.1, 1.0), plain, 0.08, 0.12, held)
    assert held.kind == "point"
    assert snap((1.13, 1.0), plain, 0.08, 0.12, held).kind == "free"


def test_direction_is_held_the_same_way():
    lines = Candidates(origin=(0.0, 0.0), lines=(Line(0.0, "0°"),))
    held = snap((2.0, 0.07), lines, 0.08, 0.12)
    assert held.angle_deg == 0.0
    assert snap((2.0, 0.1), lines, 0.08, 0.12, held).kind == "direction"
    assert snap((2.0, 0.1), lines, 0.08, 0.12).kind == "free"


def test_body_at_an_odd_angle_offers_along_and_square_to_it():
    labels = [line.label for line in compass(-12.0, "gangway")]
    assert labels[:2] == ["along gangway", "square to gangway"]
    assert len(compass(30.0, "gangway")) == 24


@given(st.floats(1e-6, 1e6))
def test_step_is_one_two_or_five_and_not_below(value):
    step = step_at_least(value)
    assert value * (1 - 1e-8) <= step <= 2.6 * value
    assert f"{step:.0e}"[0] in "125"


@given(st.integers(-(10**6), 10**6), st.sampled_from([0.001, 0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1.0, 2.0]))
def test_round_values_carry_the_digits_of_their_label_and_no_dust(count, step):
    wanted = float(f"{count * step:.6f}")
    assert round_to(count * step + step * 0.3, step) == wanted


def test_step_is_round_in_the_units_shown():
    us = Settings(units="us")
    step = round_step(0.08, us)
    assert step == 0.5
    assert round_to(1.1, step, 0.3048) == pytest.approx(3.5 * 0.3048)


BAR = Body("bar", "bar", "bar", (0.0, 0.0), -12.0, length_m=6.0)
HELD = Sketch(
    bodies=(BAR,),
    supports=(
        Support("hinge", "pin", "bar", (0.0, 0.0), "R"),
        Support("hoist", "rope", "bar", (5.2, 0.0), "T", anchor_m=(1.2, 3.2)),
        Support("prop", "contact", "bar", (3.0, 0.0), "C"),
    ),
)
BOARD = Context(newtons_per_m=1000.0, catch_m=0.08, release_m=0.12, step_m=0.1)


def test_place_on_a_bar_is_round_along_it():
    place, caught = snap_place(HELD, BAR, (4.0123, 0.0), BOARD, None)
    assert place == (4.0, 0.0)
    assert caught.label == "4\u00a0m along"


def test_place_on_a_bar_is_caught_by_supports_ends_and_the_centre():
    assert snap_place(HELD, BAR, (5.15, 0.0), BOARD, None)[0] == (5.2, 0.0)
    assert snap_place(HELD, BAR, (5.95, 0.0), BOARD, None)[1].label == "end of bar"
    assert snap_place(HELD, BAR, (3.05, 0.0), BOARD, None, "prop")[1].label == "centre of mass of bar"


def test_crossings_are_of_lines_known_before_anything_is_solved():
    labels = [spot.label for spot in crossing_spots(HELD)]
    # The hinge's direction is not known, its components' are: level and upright through it.
    assert labels == [f"lines of {pair} cross" for pair in ("T and C", "R x and T", "R x and C", "R y and T")]
