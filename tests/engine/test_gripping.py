"""Letting go where contacts are rough or touch along a face: textbook results, and every mode tried anew by HiGHS."""

from __future__ import annotations

import math
import random
from itertools import product

import numpy as np
import pytest
from scipy.optimize import linprog
from steelyard.geometry import direction
from steelyard.kinetics.held import Held
from steelyard.kinetics.inertia import inertia
from steelyard.kinetics.release import release
from steelyard.kinetics.released import Release
from steelyard.model import Body, Force, Sketch, Support
from steelyard.statics import shape

G = 9.81


def crate(tilt_deg: float, mu: float | None, wide_m: float = 1.0, high_m: float = 1.0, **more: object) -> Sketch:
    outline = ((0.0, 0.0), (wide_m, 0.0), (wide_m, high_m), (0.0, high_m))
    body = Body("crate", "plate", "crate", (0.0, 0.0), tilt_deg, points_m=outline, mass_kg=10.0)
    deck = Support("deck", "contact", "crate", (0.0, 0.0), "N", "deck", face_m=(wide_m, 0.0), mu=mu)
    return Sketch(bodies=(body,), supports=(deck,), **more)


def ladder(angle_deg: float, floor_mu: float | None, wall_mu: float | None) -> Sketch:
    body = Body("ladder", "bar", "ladder", (0.0, 0.0), angle_deg, length_m=4.0, mass_kg=15.0)
    floor = Support("floor", "contact", "ladder", (0.0, 0.0), "N", "floor", mu=floor_mu)
    wall = Support("wall", "contact", "ladder", (4.0, 0.0), "P", "wall", normal_deg=180.0, mu=wall_mu)
    return Sketch(bodies=(body,), supports=(floor, wall))


def held(found: Release, name: str) -> Held:
    return next(each for each in found.held if each.force.id == name)


# Textbook results, from memory of Meriam & Kraige, "Engineering Mechanics: Dynamics", plane kinetics of rigid bodies.


@pytest.mark.parametrize("tilt_deg", [15.0, 30.0, 45.0])
def test_block_slides_down_a_rough_plane_with_g_sin_less_mu_g_cos(tilt_deg: float):
    mu = 0.2
    found = release(crate(tilt_deg, mu))
    sine, cosine = math.sin(math.radians(tilt_deg)), math.cos(math.radians(tilt_deg))
    size = G * (sine - mu * cosine)
    assert math.hypot(*found.acceleration_m_s2) == pytest.approx(size, rel=1e-12)
    assert found.alpha_rad_s2 == 0.0
    assert held(found, "deck-friction").mode == "slips"
    # The normal force moves down the face by half the height times μ, so that sliding does not turn it.
    at = held(found, "deck").force.point
    assert math.hypot(*at) == pytest.approx(0.5 - mu * 0.5, abs=1e-9)


def test_block_stays_at_rest_up_to_the_angle_of_friction_and_slides_beyond():
    limit = math.degrees(math.atan(0.4))
    assert release(crate(limit - 1e-6, 0.4)).at_rest
    assert not release(crate(limit + 1e-6, 0.4)).at_rest


def test_tall_crate_tips_about_its_lower_edge_with_gravity_over_the_moment_about_it():
    # α = g·(h/2·sin θ − b/2·cos θ)/(k²), with k² = (b² + h²)/3 about the edge, where friction holds it.
    wide, high, tilt = 1.0, 3.0, math.radians(30.0)
    found = release(crate(30.0, 0.9, wide, high))
    lever = high / 2.0 * math.sin(tilt) - wide / 2.0 * math.cos(tilt)
    assert found.alpha_rad_s2 == pytest.approx(G * lever * 3.0 / (wide**2 + high**2), rel=1e-12)
    assert held(found, "deck").mode == "tips"
    assert held(found, "deck").force.point == pytest.approx((0.0, 0.0), abs=1e-12)
    assert held(found, "deck-friction").mode == "sticks"


def test_smooth_face_lets_a_crate_slide_and_keeps_it_from_turning():
    found = release(crate(20.0, None))
    assert math.hypot(*found.acceleration_m_s2) == pytest.approx(G * math.sin(math.radians(20.0)), rel=1e-12)
    assert (found.alpha_rad_s2, found.agreeing) == (0.0, 1)


def test_ladder_slides_down_a_smooth_wall_with_friction_at_its_foot():
    # From the three equations of motion with f = μN at the foot, solved by numpy.
    angle, mu, mass, length = math.radians(50.0), 0.2, 15.0, 4.0
    cosine, sine = math.cos(angle), math.sin(angle)
    # Unknowns: α, N, P; the centre is at L/2·(−cos, sin) seen from the corner: x = −L/2·cos θ, y = L/2·sin θ.
    half = length / 2.0
    matrix = np.array(
        [
            [mass * half * sine, -mu, 1.0],
            [mass * half * cosine, -1.0, 0.0],
            [mass * length**2 / 12.0, half * cosine - mu * half * sine, -half * sine],
        ]
    )
    alpha, normal, wall = np.linalg.solve(matrix, [0.0, -mass * G, 0.0])
    found = release(ladder(50.0, mu, None))
    assert found.alpha_rad_s2 == pytest.approx(alpha, rel=1e-10)
    assert held(found, "floor").vector == pytest.approx((0.0, normal), rel=1e-10, abs=1e-9)
    assert held(found, "floor-friction").vector == pytest.approx((mu * normal, 0.0), rel=1e-10, abs=1e-9)
    assert held(found, "wall").vector == pytest.approx((-wall, 0.0), rel=1e-10, abs=1e-9)


def test_ladder_that_friction_can_hold_in_many_ways_stays_and_leaves_the_forces_open():
    found = release(ladder(65.0, 0.5, 0.5))
    assert found.at_rest and found.agreeing == 1
    assert not found.unique
    assert held(found, "floor").vector is None


def test_condition_of_impending_motion_does_not_decide_what_really_starts():
    sketch = crate(10.0, 0.4)
    deck = sketch.supports[0]
    about = Sketch(bodies=sketch.bodies, supports=(Support(**{**fields(deck), "about_to": "slip"}),))
    assert release(about).at_rest


def fields(support: Support) -> dict[str, object]:
    return {name: getattr(support, name) for name in Support.__slots__}


def test_weightless_block_with_no_mass_is_at_rest_only_where_friction_can_hold_it():
    push = Force("push", "crate", (0.0, 0.5), "F", size_n=30.0, direction_deg=0.0)
    press = Force("press", "crate", (0.5, 1.0), "P", size_n=100.0, direction_deg=270.0)
    light = Body("crate", "plate", "crate", (0.0, 0.0), 0.0, points_m=((0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)))
    deck = Support("deck", "contact", "crate", (0.0, 0.0), "N", face_m=(1.0, 0.0), mu=0.35)
    resting = release(Sketch(bodies=(light,), supports=(deck,), loads=(push, press)))
    assert resting.at_rest and held(resting, "deck-friction").mode == "sticks"
    slick = Support("deck", "contact", "crate", (0.0, 0.0), "N", face_m=(1.0, 0.0), mu=0.25)
    assert "mass" in release(Sketch(bodies=(light,), supports=(slick,), loads=(push, press))).trouble


# Every contact mode by HiGHS: each point sticks, slips one way or the other, or lifts; equations of motion in newtons.


def outcomes_by_highs(sketch: Sketch) -> list[np.ndarray]:
    body = sketch.bodies[0]
    own = inertia(body, G)
    assert own is not None
    radius = math.sqrt(own.moment_kg_m2 / own.mass_kg)

    def wrench(point: tuple[float, float], way: tuple[float, float]) -> np.ndarray:
        x, y = (np.array(point) - own.centre_m) / radius
        return np.array([*way, x * way[1] - y * way[0]])

    applied = own.mass_kg * G * wrench(own.centre_m, (0.0, -1.0))
    for load in sketch.loads:
        assert isinstance(load, Force) and load.size_n is not None
        applied = applied + load.size_n * wrench(shape.world(body, load.place_m), direction(load.direction_deg))
    scale = np.abs(applied).max()
    points = []
    for support in sketch.supports:
        normal = direction(support.normal_deg)
        places = [support.place_m] if support.face_m is None else [support.place_m, support.face_m]
        for place in places:
            point = shape.world(body, place)
            points.append((wrench(point, normal), wrench(point, (normal[1], -normal[0])), support.mu or 0.0))
    found: list[np.ndarray] = []
    for mode in product(("stick", "slip", "back", "lift"), repeat=len(points)):
        # Unknowns: three parts of the acceleration, then a push and a friction each.
        count = 3 + 2 * len(points)
        equal, right, above = [], [], []
        for axis in range(3):
            row = np.zeros(count)
            row[axis] = 1.0
            for index, (normal, tangent, _) in enumerate(points):
                row[3 + 2 * index], row[4 + 2 * index] = -normal[axis], -tangent[axis]
            equal.append(row)
            right.append(applied[axis] / scale)
        bounds: list[tuple[float | None, float | None]] = [(None, None)] * 3
        for index, ((normal, tangent, mu), way) in enumerate(zip(points, mode, strict=True)):
            out, along = np.zeros(count), np.zeros(count)
            out[:3], along[:3] = normal, tangent
            push, friction = 3 + 2 * index, 4 + 2 * index
            bounds += [(0.0, 0.0 if way == "lift" else None), (0.0, 0.0) if way == "lift" else (None, None)]
            if way == "lift":
                above.append(-out)
                continue
            equal.append(out)
            right.append(0.0)
            limit = np.zeros(count)
            limit[push] = -mu
            if way == "stick":
                equal.append(along)
                right.append(0.0)
                for sense in (1.0, -1.0):
                    row = limit.copy()
                    row[friction] = sense
                    above.append(row)
            else:
                sense = 1.0 if way == "slip" else -1.0
                above.append(-sense * along)
                row = limit.copy()
                row[friction] = -sense
                equal.append(row)
                right.append(0.0)
        solved = linprog(
            np.zeros(count), A_ub=np.array(above) if above else None, b_ub=np.zeros(len(above)) if above else None,
            A_eq=np.array(equal), b_eq=np.array(right), bounds=bounds, method="highs",
        )  # fmt: skip
        if solved.status == 0:
            motion = solved.x[:3] * scale / own.mass_kg
            if all(np.abs(motion - other).max() > 1e-5 * scale / own.mass_kg for other in found):
                found.append(motion)
    return found


def any_sketch(seed: int) -> Sketch:
    """A plate at an angle, two or three rough points and sometimes a face below it, one push."""
    rng = random.Random(seed)
    wide, high = rng.uniform(0.5, 2.0), rng.uniform(0.5, 3.0)
    outline = ((0.0, 0.0), (wide, 0.0), (wide, high), (0.0, high))
    tilt = rng.uniform(-40.0, 40.0)
    body = Body(
        "b", "plate", "b", (rng.uniform(-5.0, 5.0), rng.uniform(-5.0, 5.0)), tilt, points_m=outline, mass_kg=2.0
    )
    supports = []
    for index, place in enumerate(rng.sample(outline, rng.choice((1, 2)))):
        normal = rng.choice((90.0, rng.uniform(0.0, 180.0), rng.uniform(0.0, 360.0)))
        mu = rng.choice((0.0, rng.uniform(0.05, 0.6), rng.uniform(0.6, 3.0)))
        supports.append(Support(f"s{index}", "contact", "b", place, f"N_{index}", normal_deg=normal, mu=mu))
    if rng.random() < 0.4:
        supports.append(
            Support("face", "contact", "b", (0.0, 0.0), "K", face_m=(wide, 0.0), mu=0.3, normal_deg=tilt + 90.0)
        )
    push = Force("p", "b", (wide * rng.random(), high * rng.random()), "F", size_n=rng.uniform(0.0, 40.0),
                 direction_deg=rng.uniform(0.0, 360.0))  # fmt: skip
    return Sketch(bodies=(body,), supports=tuple(supports), loads=(push,))


@pytest.mark.parametrize("batch", range(3))
def test_outcomes_are_those_that_highs_finds_mode_by_mode(batch: int):
    for seed in range(batch * 20, batch * 20 + 20):
        sketch = any_sketch(seed)
        body = sketch.bodies[0]
        expected = outcomes_by_highs(sketch)
        found = release(sketch)
        assert found.agreeing == len(expected), seed
        if not expected:
            assert "agrees with itself" in found.trouble
            continue
        own = inertia(body, G)
        assert own is not None
        radius = math.sqrt(own.moment_kg_m2 / own.mass_kg)
        mine = np.array([*found.acceleration_m_s2, found.alpha_rad_s2 * radius])
        assert min(np.abs(mine - each).max() for each in expected) < 1e-6 * max(1.0, np.abs(mine).max()), seed
        balance(sketch, found, radius)


def balance(sketch: Sketch, found: Release, radius: float) -> None:
    """Where every force has one value, the forces give the acceleration that is said."""
    if not found.unique or found.own is None:
        return
    body = sketch.bodies[0]
    total = np.array([0.0, -found.own.mass_kg * G, 0.0])
    forces = [(each.force.point, each.vector) for each in found.held if each.vector is not None]
    forces += [
        (shape.world(body, load.place_m), tuple(load.size_n * part for part in direction(load.direction_deg)))
        for load in sketch.loads
    ]
    for point, vector in forces:
        x, y = np.array(point) - found.own.centre_m
        total += [*vector, (x * vector[1] - y * vector[0]) / radius]
    mine = [*found.acceleration_m_s2, found.alpha_rad_s2 * radius]
    assert total / found.own.mass_kg == pytest.approx(mine, abs=1e-7 * max(1.0, np.abs(total).max()))
