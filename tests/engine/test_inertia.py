"""Moments of inertia of shapes against handbook formulas.

From memory of the tables of moments of inertia in Beer & Johnston, "Vector Mechanics for Engineers: Dynamics", and of
second moments of area in the Machinery's Handbook; and against a fine grid, which knows no formula.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from steelyard.kinetics.inertia import Inertia, inertia, radius_of_gyration
from steelyard.model import Body

MASS = 12.0
G = 9.81


Ring = tuple[tuple[float, float], ...]


def plate(*corners: tuple[float, float], holes: tuple[Ring, ...] = ()) -> Body:
    return Body("plate", "plate", "plate", (3.0, -2.0), 25.0, points_m=corners, holes_m=holes, mass_kg=MASS)


def found(body: Body) -> Inertia:
    made = inertia(body, G)
    assert made is not None
    return made


def ring(radius: float, count: int) -> tuple[tuple[float, float], ...]:
    angles = np.arange(count) * 2.0 * math.pi / count
    return tuple((float(radius * math.cos(angle)), float(radius * math.sin(angle))) for angle in angles)


def test_slender_rod_is_a_twelfth_about_its_middle_and_a_third_about_its_end():
    rod = found(Body("rod", "bar", "rod", (1.0, 2.0), 30.0, length_m=5.0, mass_kg=MASS))
    assert rod.moment_kg_m2 == pytest.approx(MASS * 25.0 / 12.0, rel=1e-14)
    assert rod.about((1.0, 2.0)) == pytest.approx(MASS * 25.0 / 3.0, rel=1e-14)


def test_bent_bar_of_two_equal_arms_square_to_each_other():
    # Each arm m/2 and l: about the corner m·l²/3; the centre lies l·√2/4 from it.
    bent = found(Body("b", "bent-bar", "b", (0, 0), 0.0, points_m=((2.0, 0.0), (0.0, 0.0), (0.0, 2.0)), mass_kg=MASS))
    assert bent.about((0.0, 0.0)) == pytest.approx(MASS * 4.0 / 3.0, rel=1e-14)
    assert bent.moment_kg_m2 == pytest.approx(MASS * 4.0 * (1.0 / 3.0 - 1.0 / 8.0), rel=1e-14)


def test_straight_bent_bar_is_a_rod():
    straight = Body("b", "bent-bar", "b", (0, 0), 0.0, points_m=((0.0, 0.0), (1.0, 0.0), (5.0, 0.0)), mass_kg=MASS)
    assert found(straight).moment_kg_m2 == pytest.approx(MASS * 25.0 / 12.0, rel=1e-14)


def test_rectangle_is_a_twelfth_of_the_sides_squared_whichever_way_round():
    corners = ((1.0, 1.0), (4.0, 1.0), (4.0, 3.0), (1.0, 3.0))
    for given in (corners, corners[::-1]):
        assert found(plate(*given)).moment_kg_m2 == pytest.approx(MASS * (9.0 + 4.0) / 12.0, rel=1e-13)


def test_triangle_is_a_thirty_sixth_of_its_sides_squared():
    made = found(plate((0.0, 0.0), (3.0, 0.0), (0.0, 4.0)))
    assert made.moment_kg_m2 == pytest.approx(MASS * (9.0 + 16.0 + 25.0) / 36.0, rel=1e-13)


def test_regular_polygon_and_ring_of_many_corners():
    # Regular n-gon of circumradius R: m·R²·(2 + cos(2π/n))/6, which goes to m·R²/2; a ring of two of them by sums.
    hexagon = found(plate(*ring(2.0, 6)))
    assert hexagon.moment_kg_m2 == pytest.approx(MASS * 4.0 * (2.0 + math.cos(math.pi / 3.0)) / 6.0, rel=1e-13)
    washer = found(plate(*ring(2.0, 720), holes=(ring(1.0, 720),)))
    assert washer.moment_kg_m2 == pytest.approx(MASS * (4.0 + 1.0) / 2.0, rel=1e-4)


def test_plate_with_a_hole_off_its_middle_against_a_grid():
    outer, hole = (0.0, 0.0, 4.0, 3.0), (2.4, 0.6, 3.4, 1.8)

    def box(low_x: float, low_y: float, high_x: float, high_y: float) -> tuple[tuple[float, float], ...]:
        return ((low_x, low_y), (high_x, low_y), (high_x, high_y), (low_x, high_y))

    made = found(plate(*box(*outer), holes=(box(*hole),)))
    x, y = np.meshgrid((np.arange(800) + 0.5) / 200.0, (np.arange(600) + 0.5) / 200.0)
    kept = ~((x > hole[0]) & (x < hole[2]) & (y > hole[1]) & (y < hole[3]))
    x, y = x[kept], y[kept]
    assert made.moment_kg_m2 == pytest.approx(MASS * float(np.var(x) + np.var(y)), rel=1e-5)


def test_moving_and_turning_a_body_changes_no_moment():
    near = radius_of_gyration(plate((0.0, 0.0), (3.0, 0.0), (0.0, 4.0)))
    far = radius_of_gyration(plate((1e5, 1e5), (1e5 + 3.0, 1e5), (1e5, 1e5 + 4.0)))
    assert far == pytest.approx(near, rel=1e-9)


def test_a_weight_stands_for_its_mass_and_no_mass_for_nothing():
    heavy = Body("rod", "bar", "rod", (0, 0), 0.0, length_m=2.0, weight_n=98.1)
    assert found(heavy).mass_kg == pytest.approx(10.0, rel=1e-14)
    for light in (
        Body("rod", "bar", "rod", (0, 0), 0.0, length_m=2.0),
        Body("rod", "bar", "rod", (0, 0), 0.0, length_m=2.0, weight_n=5.0, weight_symbol_only=True),
    ):
        assert inertia(light, G) is None


def test_a_centre_set_by_hand_keeps_the_spread_of_the_shape():
    set_by_hand = Body("rod", "bar", "rod", (0, 0), 0.0, length_m=2.0, mass_kg=3.0, centre_m=(0.4, 0.1))
    made = found(set_by_hand)
    assert made.centre_m == (0.4, 0.1)
    assert made.moment_kg_m2 == pytest.approx(1.0, rel=1e-14)


def test_point_masses_that_ride_along_move_the_common_centre():
    rod = found(Body("rod", "bar", "rod", (0, 0), 0.0, length_m=2.0, mass_kg=3.0))
    both = rod.with_masses([(3.0, (2.0, 0.0))])
    assert (both.mass_kg, both.centre_m) == (6.0, (1.5, 0.0))
    assert both.about((0.0, 0.0)) == pytest.approx(3.0 * 4.0 / 3.0 + 3.0 * 4.0, rel=1e-14)
