"""The short motion after letting go: published results, energy, and a fine-step integration of its own."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

import numpy as np
import numpy.typing as npt
import pytest
from steelyard.kinetics.motion import SAMPLES, Motion, motion
from steelyard.model import Body, Couple, Force, Sketch, Support, Thing

Array = npt.NDArray[np.float64]
G = 9.81
LENGTH, MASS = 2.0, 3.0


def rod(angle_deg: float = 0.0, **more: object) -> Body:
    return Body("rod", "bar", "rod", (0.5, -0.25), angle_deg, length_m=LENGTH, mass_kg=MASS, **more)


def support(name: str, kind: str, along_m: float = 0.0, **more: object) -> Support:
    return Support(name, kind, "rod", (along_m, 0.0), name[0].upper(), name, **more)


def moved(sketch: Sketch) -> Motion:
    found = motion(sketch)
    assert found is not None
    return found


LADDER = Sketch(
    bodies=(rod(60.0),),
    supports=(
        support("floor", "contact", 0.0, normal_deg=90.0),
        support("wall", "contact", LENGTH, normal_deg=180.0),
    ),
)


# Published results


def test_ladder_leaves_a_smooth_wall_when_its_top_has_come_down_by_a_third():
    # From memory of the classical problem books (Routh; Irodov): sin θ = ⅔·sin θ₀ where the wall stops pushing.
    found = moved(LADDER)
    assert (found.ends, found.of) == ("lets go", "wall")
    angle = math.radians(60.0) + found.poses[-1].turned_rad
    assert math.sin(angle) == pytest.approx(2.0 / 3.0 * math.sin(math.radians(60.0)), rel=1e-8)


def test_compound_pendulum_swings_with_its_small_angle_period():
    # T = 2π·√(I/(m·g·d)) for small angles, from memory of any dynamics text; at 1° it is longer by φ²/16 = 1.9e-5.
    hung = Sketch(bodies=(rod(-89.0),), supports=(support("hinge", "pin"),))
    found = moved(hung)
    period = 2.0 * math.pi * math.sqrt(2.0 * LENGTH / (3.0 * G))
    # φ = φ₀·cos(2πt/T): any pose on the way tells T, best where it passes the bottom.
    swing = math.radians(1.0)
    pose = min(found.poses, key=lambda each: abs(each.turned_rad + swing))
    read = 2.0 * math.pi * pose.time_s / math.acos((pose.turned_rad + swing) / swing)
    assert read == pytest.approx(period * (1.0 + swing**2 / 16.0), rel=1e-6)


def test_hinged_rod_passes_the_bottom_with_the_energy_of_its_fall():
    # ω² = 3g/L at the bottom, from level; any text on the conservation of energy.
    found = moved(Sketch(bodies=(rod(),), supports=(support("hinge", "pin"),)))
    assert found.poses[-1].turned_rad < -math.pi / 2.0
    for pose in found.poses:
        fallen = 0.5 * LENGTH * -math.sin(pose.turned_rad)
        assert pose.kinetic_j == pytest.approx(MASS * G * fallen, abs=1e-6)


def test_free_body_falls_by_half_g_t_squared():
    found = moved(Sketch(bodies=(rod(30.0),)))
    for pose in found.poses:
        assert pose.origin_m == pytest.approx((0.5, -0.25 - 0.5 * G * pose.time_s**2), abs=1e-9)
        assert pose.turned_rad == 0.0


# A fine-step integration of its own: conditions as functions of the pose, their slopes and second changes by
# differences, the accelerations from the whole set of equations with multipliers, Runge and Kutta without correction.

Conditions = Callable[[Array], Array]


def integrated(
    mass: float, moment: float, start: Array, forces: Callable[[Array], Array], conditions: Conditions, until_s: float
) -> Array:
    weights = np.diag([mass, mass, moment])
    count = len(conditions(start))

    def acceleration(pose: Array, speed: Array) -> Array:
        step = 1e-6
        slope = np.array(
            [(conditions(pose + step * way) - conditions(pose - step * way)) / (2.0 * step) for way in np.eye(3)]
        ).T
        long = 1e-4
        bend = (conditions(pose + long * speed) - 2.0 * conditions(pose) + conditions(pose - long * speed)) / long**2
        whole = np.block([[weights, slope.T], [slope, np.zeros((count, count))]])
        return np.linalg.lstsq(whole, np.concatenate([forces(pose), -bend]), rcond=None)[0][:3]

    pose, speed = start.copy(), np.zeros(3)
    steps = 500
    step_s = until_s / steps
    for _ in range(steps):
        first = acceleration(pose, speed)
        second = acceleration(pose + step_s / 2 * speed, speed + step_s / 2 * first)
        third = acceleration(pose + step_s / 2 * speed + step_s**2 / 4 * first, speed + step_s / 2 * second)
        fourth = acceleration(pose + step_s * speed + step_s**2 / 2 * second, speed + step_s * third)
        pose = pose + step_s * speed + step_s**2 / 6 * (first + second + third)
        speed = speed + step_s / 6 * (first + 2 * second + 2 * third + fourth)
    return pose


def at(pose: Array, arm: Array) -> Array:
    cosine, sine = math.cos(pose[2]), math.sin(pose[2])
    return pose[:2] + np.array([arm[0] * cosine - arm[1] * sine, arm[0] * sine + arm[1] * cosine])


def cases() -> dict[str, tuple[Sketch, Callable[[Array, Array], tuple[Conditions, Callable[[Array], Array]]]]]:
    """Each sketch with its conditions and forces, written out by hand for its bar along x at first."""
    body = rod()
    first = np.array([0.5, -0.25])

    def weight(_: Array) -> Array:
        return np.array([0.0, -MASS * G, 0.0])

    def arm(along_m: float, centre: Array) -> Array:
        return first + np.array([along_m, 0.0]) - centre

    rope = support("rope", "rope", 0.0, anchor_m=(0.0, 2.0))
    strut = support("strut", "strut", 1.5, anchor_m=(3.5, 1.0))
    track = support("track", "roller", 0.3, normal_deg=120.0, two_way=True)
    corner = support("corner", "contact", 0.6)
    push = Force("push", "rod", (1.7, 0.0), "F", size_n=14.0, direction_deg=35.0)
    couple = Couple("couple", "rod", (1.0, 0.0), "C", couple_n_m=6.0)
    crate = Thing("crate", "rod", (0.4, 0.0), "P", "crate", 2.0)

    def on_rope(start: Array, centre: Array) -> tuple[Conditions, Callable[[Array], Array]]:
        far = math.hypot(0.5, 2.25)
        return lambda pose: np.array([np.linalg.norm(at(pose, arm(0.0, centre)) - [0.0, 2.0]) - far]), weight

    def on_strut_and_track(start: Array, centre: Array) -> tuple[Conditions, Callable[[Array], Array]]:
        anchor = np.array([3.5, 1.0])
        far = np.linalg.norm(at(start, arm(1.5, centre)) - anchor)
        normal = np.array([math.cos(math.radians(120.0)), math.sin(math.radians(120.0))])
        begin = at(start, arm(0.3, centre))

        def conditions(pose: Array) -> Array:
            return np.array(
                [
                    np.linalg.norm(at(pose, arm(1.5, centre)) - anchor) - far,
                    normal @ (at(pose, arm(0.3, centre)) - begin),
                ]
            )

        def forces(pose: Array) -> Array:
            pull = 14.0 * np.array([math.cos(math.radians(35.0)), math.sin(math.radians(35.0))])
            lever = at(pose, arm(1.7, centre)) - pose[:2]
            return weight(pose) + np.array([*pull, lever[0] * pull[1] - lever[1] * pull[0] + 6.0])

        return conditions, forces

    def over_a_corner(start: Array, centre: Array) -> tuple[Conditions, Callable[[Array], Array]]:
        place = first + np.array([0.6, 0.0])

        def conditions(pose: Array) -> Array:
            square = np.array([-math.sin(pose[2]), math.cos(pose[2])])
            return np.array([square @ (pose[:2] - place)])

        return conditions, weight

    def with_a_crate(start: Array, centre: Array) -> tuple[Conditions, Callable[[Array], Array]]:
        def forces(pose: Array) -> Array:
            total = np.zeros(3)
            for mass, along in ((MASS, 1.0), (2.0, 0.4)):
                lever = at(pose, arm(along, centre)) - pose[:2]
                total += [0.0, -mass * G, -mass * G * lever[0]]
            return total

        return lambda pose: at(pose, arm(0.0, centre)) - first, forces

    return {
        "one rope": (Sketch(bodies=(body,), supports=(rope,)), on_rope),
        "strut and track": (
            Sketch(bodies=(body,), supports=(strut, track), loads=(push, couple)),
            on_strut_and_track,
        ),
        "over a corner": (Sketch(bodies=(body,), supports=(corner,)), over_a_corner),
        "a crate rides along": (
            Sketch(bodies=(body,), supports=(support("hinge", "pin"),), loads=(crate,)),
            with_a_crate,
        ),
    }


@pytest.mark.parametrize("name", list(cases()))
def test_motion_agrees_with_a_fine_step_integration(name: str):
    sketch, written = cases()[name]
    found = moved(sketch)
    riding = [thing.mass_kg for thing in sketch.loads if isinstance(thing, Thing)]
    mass = MASS + sum(riding)
    first = np.array([0.5, -0.25])
    shares = (MASS * 1.0 + sum(each * 0.4 for each in riding)) / mass
    centre = first + np.array([shares, 0.0])
    moment = MASS * (LENGTH**2 / 12.0 + (1.0 - shares) ** 2) + sum(each * (0.4 - shares) ** 2 for each in riding)
    start = np.array([*centre, 0.0])
    conditions, forces = written(start, centre)
    pose = found.poses[(len(found.poses) - 1) * 2 // 3]
    end = integrated(mass, moment, start, forces, conditions, pose.time_s)
    assert pose.turned_rad == pytest.approx(end[2], abs=2e-6)
    assert pose.origin_m == pytest.approx(at(end, first - centre), abs=2e-6)


@pytest.mark.parametrize("name", list(cases()))
def test_energy_is_kept_and_what_is_lost_is_said(name: str):
    found = moved(cases()[name][0])
    assert 0.0 <= found.energy_error < 1e-6
    assert found.step_s * (len(found.poses) - 2) < found.duration_s
    assert len(found.poses) <= SAMPLES + 1


# Where it ends


def test_rope_that_was_slack_goes_taut_and_ends_the_motion():
    # The end of a rod that falls freely; a rope beside it, 1 m too long at first by its slant.
    loose = support("rope", "rope", LENGTH, anchor_m=(1.0, -1.5))
    found = moved(Sketch(bodies=(rod(),), supports=(loose,)))
    assert (found.ends, found.of) == ("holds again", "rope")
    # The end is below the anchor by as much as it was above: symmetry of a straight fall.
    assert found.duration_s == pytest.approx(math.sqrt(2.0 * 2.5 / G), rel=1e-8)


def test_rod_slides_off_the_corner_it_turns_over_or_leaves_it():
    found = moved(Sketch(bodies=(rod(),), supports=(support("corner", "contact", 0.6),)))
    assert found.ends in ("lets go", "slides off")
    assert found.of == "corner"


def test_what_stays_at_rest_or_has_no_answer_has_no_motion():
    held = Sketch(bodies=(rod(),), supports=(support("fixed", "fixed"),))
    assert motion(held) is None
    light = replace(rod(), mass_kg=None)
    push = Force("push", "rod", (1.0, 0.0), "F", size_n=1.0)
    assert motion(Sketch(bodies=(light,), loads=(push,))) is None


def test_motion_is_the_same_motion_elsewhere():
    near = moved(LADDER)
    body = replace(rod(60.0), origin_m=(1000.5, -500.25))
    far = moved(replace(LADDER, bodies=(body,)))
    assert far.duration_s == pytest.approx(near.duration_s, rel=1e-6)
    assert far.poses[30].turned_rad == pytest.approx(near.poses[30].turned_rad, rel=1e-6)


def test_scale_of_the_sketch_changes_only_the_clock():
    def swing(length_m: float) -> Motion:
        body = Body("rod", "bar", "rod", (0.0, 0.0), 0.0, length_m=length_m, mass_kg=1.0)
        return moved(Sketch(bodies=(body,), supports=(support("hinge", "pin"),)))

    large, small = swing(1.0), swing(1e-4)
    assert small.duration_s == pytest.approx(large.duration_s / 100.0, rel=0.05)
    assert small.energy_error < 1e-6
