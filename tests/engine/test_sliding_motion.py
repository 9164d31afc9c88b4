"""Motion on rough contacts: where a falling pole slips, energy that friction takes, and a fine-step integration."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.optimize import brentq
from steelyard.kinetics.motion import motion
from steelyard.kinetics.mover import Moment, Mover
from steelyard.kinetics.release import release
from steelyard.model import Body, Sketch, Support
from steelyard.report.letting_go import ending

G = 9.81
LENGTH, MASS = 2.0, 3.0


def pole(angle_deg: float, mu: float) -> Sketch:
    body = Body("pole", "bar", "pole", (0.0, 0.0), angle_deg, length_m=LENGTH, mass_kg=MASS)
    return Sketch(bodies=(body,), supports=(Support("quay", "contact", "pole", (0.0, 0.0), "N", "quay", mu=mu),))


@pytest.mark.parametrize("mu", [0.2, 0.3, 0.36])
def test_falling_pole_slips_where_its_friction_would_pass_mu_times_its_normal(mu: float):
    # A uniform pole turning about its foot: α = (3g/2L)·sin φ, ω² = (3g/L)·(cos φ₀ − cos φ), φ from upright; friction
    # m·(L/2)·(α·cos φ − ω²·sin φ) and normal m·g − m·(L/2)·(α·sin φ + ω²·cos φ). From memory of the classical problem.
    tilted = math.radians(10.0)

    def spare(phi: float) -> float:
        alpha = 1.5 * G / LENGTH * math.sin(phi)
        squared = 3.0 * G / LENGTH * (math.cos(tilted) - math.cos(phi))
        friction = LENGTH / 2.0 * (alpha * math.cos(phi) - squared * math.sin(phi))
        normal = G - LENGTH / 2.0 * (alpha * math.sin(phi) + squared * math.cos(phi))
        return mu * normal - abs(friction)

    angles = np.linspace(tilted, math.pi / 2.0, 2000)
    first = next(index for index in range(1, len(angles)) if spare(angles[index]) < 0.0)
    slips = brentq(spare, angles[first - 1], angles[first], xtol=1e-12)
    found = motion(pole(80.0, mu))
    assert found is not None
    time_s, what, of = found.on_the_way[0]
    assert (what, of) == ("slips", "quay")
    before = max((pose for pose in found.poses if pose.time_s <= time_s), key=lambda pose: pose.time_s)
    after = min((pose for pose in found.poses if pose.time_s >= time_s), key=lambda pose: pose.time_s)
    assert before.turned_rad >= -(slips - tilted) >= after.turned_rad
    assert before.origin_m == pytest.approx((0.0, 0.0), abs=1e-9)
    assert "begins to slip at the quay" in ending(pole(80.0, mu), found)


def test_slipping_pole_follows_a_fine_step_integration_of_its_own():
    """The foot slides on the quay: x, θ and the normal from the equations with f = μN, stepped by Runge and Kutta."""
    mu, start = 0.1, math.radians(55.0)
    found = motion(pole(55.0, mu))
    assert found is not None

    def rates(state: np.ndarray) -> np.ndarray:
        _, angle, speed, spin = state
        cosine, sine = math.cos(angle), math.sin(angle)
        half = LENGTH / 2.0
        # Unknowns: the foot's acceleration, α, N; the centre is half a length along the pole from the foot.
        matrix = np.array(
            [
                [MASS, -MASS * half * sine, -mu],
                [0.0, MASS * half * cosine, -1.0],
                [0.0, MASS * LENGTH**2 / 12.0, half * cosine - mu * half * sine],
            ]
        )
        right = [MASS * half * cosine * spin**2, MASS * half * sine * spin**2 - MASS * G, 0.0]
        foot, alpha, _ = np.linalg.solve(matrix, right)
        return np.array([speed, spin, foot, alpha])

    first_switch = found.on_the_way[0][0] if found.on_the_way else found.duration_s
    pose = max((each for each in found.poses if each.time_s < first_switch), key=lambda each: each.time_s)
    state = np.array([0.0, start, 0.0, 0.0])
    steps = 4000
    step_s = pose.time_s / steps
    for _ in range(steps):
        one = rates(state)
        two = rates(state + step_s / 2.0 * one)
        three = rates(state + step_s / 2.0 * two)
        state = state + step_s / 6.0 * (one + 2.0 * two + 2.0 * three + rates(state + step_s * three))
    assert pose.origin_m == pytest.approx((state[0], 0.0), abs=1e-8)
    assert pose.turned_rad == pytest.approx(state[1] - start, abs=1e-8)


def test_block_slides_as_far_as_constant_acceleration_takes_it():
    outline = ((0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0))
    body = Body("block", "plate", "block", (0.0, 0.0), 30.0, points_m=outline, mass_kg=10.0)
    deck = Support("deck", "contact", "block", (0.0, 0.0), "N", "deck", face_m=(1.0, 0.0), mu=0.2)
    found = motion(Sketch(bodies=(body,), supports=(deck,)))
    assert found is not None and found.ends == "time"
    size = G * (math.sin(math.radians(30.0)) - 0.2 * math.cos(math.radians(30.0)))
    for pose in found.poses:
        assert math.hypot(*pose.origin_m) == pytest.approx(0.5 * size * pose.time_s**2, abs=1e-9)
        assert pose.kinetic_j == pytest.approx(5.0 * (size * pose.time_s) ** 2, abs=1e-7)


@pytest.mark.parametrize("mu", [0.05, 0.3, 1.0])
def test_what_friction_takes_is_counted_in_the_energy(mu: float):
    found = motion(pole(70.0, mu))
    assert found is not None
    assert found.energy_error < 1e-7
    if mu < 1.0:
        fallen = LENGTH / 2.0 * math.sin(math.radians(70.0))
        assert found.poses[-1].kinetic_j < MASS * G * fallen * (1.0 - 1e-4)


def test_tipping_crate_lands_on_its_side_and_ends_there():
    outline = ((0.0, 0.0), (1.0, 0.0), (1.0, 3.0), (0.0, 3.0))
    body = Body("crate", "plate", "crate", (0.0, 0.0), 30.0, points_m=outline, mass_kg=10.0)
    deck = Support("deck", "contact", "crate", (0.0, 0.0), "N", "deck", face_m=(1.0, 0.0), mu=5.0)
    found = motion(Sketch(bodies=(body,), supports=(deck,)))
    assert found is not None
    assert (found.ends, found.of) == ("holds again", "deck")
    assert math.degrees(found.poses[-1].turned_rad) == pytest.approx(90.0, abs=1e-6)


def test_sliding_rod_jams_where_friction_would_outgrow_its_normal():
    # Painlevé's rod: sliding with its foot ahead, 1 + 3·cos θ·(cos θ − μ·sin θ) is the normal's share of the weight's
    # denominator; where it is not positive rigid bodies have no answer. It needs μ > 4/3. From memory of the classics.
    def denominator(angle_deg: float, mu: float) -> float:
        cosine, sine = math.cos(math.radians(angle_deg)), math.sin(math.radians(angle_deg))
        return 1.0 + 3.0 * cosine * (cosine - mu * sine)

    for angle_deg, mu in ((60.0, 1.2), (60.0, 2.5), (63.0, 1.3), (45.0, 3.0)):
        sketch = pole(angle_deg, mu)
        body = sketch.bodies[0]
        sliding = Moment((*np.array(release(sketch).own.centre_m).tolist(), 0.0), (-1.0, 0.0, 0.0))
        mover = Mover(sketch, body, release(sketch), {("quay", None): "slips back"}, sliding)
        change = mover.changed(mover.settled(sliding), 0.0)
        jams = change is not None and change.ends == "jams"
        assert jams == (denominator(angle_deg, mu) <= 0.0), (angle_deg, mu)
