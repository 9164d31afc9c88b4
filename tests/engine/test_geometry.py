"""Plane geometry: exact where it can be, checked by hand and by numpy."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from steelyard import geometry

NUMBER = st.floats(-1e3, 1e3)
POINT = st.tuples(NUMBER, NUMBER)


@pytest.mark.parametrize(
    ("angle_deg", "expected"),
    [(0.0, (1.0, 0.0)), (90.0, (0.0, 1.0)), (180.0, (-1.0, 0.0)), (-90.0, (0.0, -1.0)), (450.0, (0.0, 1.0))],
)
def test_quarter_turns_are_exact(angle_deg, expected):
    assert geometry.direction(angle_deg) == expected


@settings(max_examples=200, deadline=None)
@given(st.floats(0.0, 359.999))
def test_angle_of_undoes_direction(angle_deg):
    found = geometry.angle_of(geometry.direction(angle_deg))
    assert min(abs(found - angle_deg), 360.0 - abs(found - angle_deg)) < 1e-10
    assert 0.0 <= found < 360.0


def test_angle_just_below_zero_is_not_a_full_turn():
    assert geometry.angle_of((1.0, -1e-300)) == 0.0
    assert geometry.angle_of((0.0, 0.0)) == 0.0


@settings(max_examples=200, deadline=None)
@given(POINT, POINT, st.floats(0.0, 360.0))
def test_foot_is_the_nearest_point_of_the_line(point, on_line, angle_deg):
    along = geometry.direction(angle_deg)
    foot = geometry.foot_of_perpendicular(point, on_line, along)
    away = geometry.subtract(point, foot)
    assert abs(geometry.dot(away, along)) < 1e-9
    assert abs(geometry.cross(geometry.subtract(foot, on_line), along)) < 1e-9
    assert geometry.length(away) <= geometry.distance(point, on_line) + 1e-9


@settings(max_examples=200, deadline=None)
@given(POINT, st.floats(0.0, 360.0), POINT, st.floats(0.0, 360.0))
def test_crossing_lies_on_both_lines(first, first_deg, second, second_deg):
    one, two = geometry.direction(first_deg), geometry.direction(second_deg)
    found = geometry.line_crossing(first, one, second, two)
    turn = abs(geometry.cross(one, two))
    if found is None:
        assert turn < 1e-11
    elif turn > 1e-3:
        for start, along in ((first, one), (second, two)):
            assert abs(geometry.cross(geometry.subtract(found, start), along)) < 1e-6


def test_nearest_on_segment_stops_at_the_ends():
    assert geometry.nearest_on_segment((-1.0, 2.0), (0.0, 0.0), (4.0, 0.0)) == ((0.0, 0.0), 0.0)
    assert geometry.nearest_on_segment((9.0, 2.0), (0.0, 0.0), (4.0, 0.0)) == ((4.0, 0.0), 1.0)
    assert geometry.nearest_on_segment((1.0, 2.0), (0.0, 0.0), (4.0, 0.0)) == ((1.0, 0.0), 0.25)
    assert geometry.nearest_on_segment((1.0, 2.0), (3.0, 3.0), (3.0, 3.0)) == ((3.0, 3.0), 0.0)


def test_rotate_and_perpendicular_turn_counterclockwise():
    assert geometry.rotate((2.0, 0.0), 90.0) == (0.0, 2.0)
    assert geometry.perpendicular((2.0, 1.0)) == (-1.0, 2.0)


def test_triangle_has_its_centroid_at_the_mean_of_its_corners():
    area, centre = geometry.polygon_area_and_centroid(((1.0, 1.0), (4.0, 1.0), (1.0, 3.0)))
    assert area == pytest.approx(3.0)
    assert centre == pytest.approx((2.0, 5.0 / 3.0))


def test_area_is_negative_clockwise_and_zero_on_one_line():
    assert geometry.polygon_area_and_centroid(((0.0, 0.0), (0.0, 2.0), (3.0, 0.0)))[0] == pytest.approx(-3.0)
    assert geometry.polygon_area_and_centroid(((0.0, 0.0), (1.0, 1.0), (2.0, 2.0)))[0] == 0.0


def test_far_polygon_keeps_its_digits():
    # A square of 1 mm, 1 km away.
    corners = tuple((1000.0 + x, -1000.0 + y) for x, y in ((0.0, 0.0), (1e-3, 0.0), (1e-3, 1e-3), (0.0, 1e-3)))
    area, centre = geometry.polygon_area_and_centroid(corners)
    assert area == pytest.approx(1e-6, rel=1e-6)
    assert centre == pytest.approx((1000.0005, -999.9995), abs=1e-9)


@settings(max_examples=200, deadline=None)
@given(st.tuples(st.floats(-2, 2), st.floats(-2, 2)))
def test_inside_a_convex_polygon_is_left_of_every_edge(point):
    corners = ((-1.0, -1.0), (1.5, -0.5), (1.0, 1.0), (-0.5, 1.5))
    sides = [
        float(np.linalg.det([np.subtract(after, before), np.subtract(point, before)]))
        for before, after in zip(corners, (*corners[1:], corners[0]), strict=True)
    ]
    if min(abs(side) for side in sides) > 1e-12:
        assert geometry.inside_polygon(point, corners) is all(side > 0.0 for side in sides)


def test_notch_of_a_polygon_is_outside():
    corners = ((0.0, 0.0), (4.0, 0.0), (4.0, 3.0), (2.0, 1.0), (0.0, 3.0))
    assert geometry.inside_polygon((0.5, 1.5), corners)
    assert not geometry.inside_polygon((2.0, 2.0), corners)


def test_length_does_not_overflow():
    assert geometry.length((3e200, 4e200)) == pytest.approx(5e200)
    assert math.isfinite(geometry.distance((1e200, 0.0), (0.0, 1e200)))
