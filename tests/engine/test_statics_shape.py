"""Where a body is, where a place on it is, and where its centre of mass is."""

from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
import reference
import strategies
from hypothesis import given, settings
from hypothesis import strategies as st
from steelyard.geometry import distance
from steelyard.model import Body
from steelyard.statics import shape

BAR = Body("bar1", "bar", "plank", (1.0, 2.0), 90.0, length_m=4.0)
ANGLE = Body("bent1", "bent-bar", "bracket", (0.0, 0.0), 0.0, points_m=((0.0, 0.0), (3.0, 0.0), (3.0, 1.0)))
PLATE = Body("plate1", "plate", "hatch", (0.0, 0.0), 0.0, points_m=((0.0, 0.0), (4.0, 0.0), (4.0, 2.0), (0.0, 2.0)))


@settings(max_examples=200, deadline=None)
@given(strategies.bodies(), strategies.PLACES)
def test_local_undoes_world(body, place):
    assert shape.local(body, shape.world(body, place)) == pytest.approx(place, abs=1e-12)
    assert shape.world(body, place) == pytest.approx(tuple(reference.world(body, place)), abs=1e-12)


def test_turned_bar_stands_upright_exactly():
    assert shape.ends(BAR) == ((1.0, 2.0), (1.0, 6.0))
    assert shape.centre_of_mass(BAR) == (1.0, 4.0)
    assert shape.extent(BAR) == ((1.0, 2.0), (1.0, 6.0))


def test_bent_bar_weighs_its_pieces_by_their_length():
    # By hand: 3 m level with its middle at (1.5, 0), 1 m upright with its middle at (3, 0.5).
    assert shape.centre_of_mass(ANGLE) == pytest.approx((7.5 / 4.0, 0.5 / 4.0))


def test_plate_with_a_hole_has_the_centre_of_what_is_left():
    # By hand: 8 m² at (2, 1) less 1 m² at (3, 1): (16 − 3)/7 along, 1 up.
    pierced = replace(PLATE, holes_m=(((2.5, 0.5), (2.5, 1.5), (3.5, 1.5), (3.5, 0.5)),))
    assert shape.centre_of_mass(pierced) == pytest.approx((13.0 / 7.0, 1.0))


def test_centre_set_by_hand_wins_and_moves_with_the_body():
    loaded = replace(BAR, centre_m=(3.0, 0.0))
    assert shape.centre_of_mass(loaded) == (1.0, 5.0)


def test_shapes_without_length_or_area_have_the_mean_of_their_points():
    assert shape.centre_of_mass(replace(ANGLE, points_m=((1.0, 1.0), (1.0, 1.0)))) == (1.0, 1.0)
    assert shape.centre_of_mass(replace(PLATE, points_m=((0.0, 0.0), (1.0, 0.0), (2.0, 0.0)))) == (1.0, 0.0)


@settings(max_examples=200, deadline=None)
@given(strategies.bodies(), st.floats(-180.0, 180.0))
def test_centre_of_mass_agrees_with_numpy_and_turns_with_the_body(body, turn_deg):
    turned = replace(body, angle_deg=turn_deg)
    assert shape.centre_of_mass(turned) == pytest.approx(tuple(reference.centre_of_mass(turned)), abs=1e-9)


def test_nearest_place_stays_on_the_bar():
    assert shape.nearest_place(BAR, (5.0, 3.0)) == pytest.approx((1.0, 0.0))
    assert shape.nearest_place(BAR, (1.0, 99.0)) == pytest.approx((4.0, 0.0))


def test_nearest_place_of_a_bent_bar_is_on_the_nearer_piece():
    assert shape.nearest_place(ANGLE, (1.0, 0.4)) == pytest.approx((1.0, 0.0))
    assert shape.nearest_place(ANGLE, (3.5, 0.4)) == pytest.approx((3.0, 0.4))


def test_nearest_place_of_a_plate_is_within_it_at_its_edge_or_at_the_rim_of_a_hole():
    pierced = replace(PLATE, holes_m=(((1.0, 0.5), (3.0, 0.5), (3.0, 1.5), (1.0, 1.5)),))
    assert shape.nearest_place(pierced, (0.5, 1.0)) == (0.5, 1.0)
    assert shape.nearest_place(pierced, (-2.0, 1.0)) == pytest.approx((0.0, 1.0))
    assert shape.nearest_place(pierced, (1.2, 1.0)) == pytest.approx((1.0, 1.0))


@settings(max_examples=200, deadline=None)
@given(strategies.bodies(), strategies.PLACES)
def test_no_place_on_the_axis_is_nearer_than_the_nearest(body, point):
    gap = distance(shape.world(body, shape.nearest_place(body, point)), point)
    corners = np.array(shape.axis(body))
    for share in np.linspace(0.0, 1.0, 5):
        for before, after in pairwise(corners):
            assert gap <= np.linalg.norm(before + share * (after - before) - point) + 1e-9
