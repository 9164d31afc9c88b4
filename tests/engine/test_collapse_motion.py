"""Joined bodies on their way: against scipy's fine steps in angles, quadrature, one-body motions, and the energy."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from scipy.integrate import quad, solve_ivp
from steelyard.geometry import Point, rotate
from steelyard.kinetics.following import MOST_FOLLOWED, not_followed
from steelyard.kinetics.motion import Motion, motion
from steelyard.kinetics.release import release
from steelyard.kinetics.walking import Pose
from steelyard.model import Body, Force, Sketch, Support, Thing
from test_collapse import (
    G,
    bar,
    block,
    blocks,
    force_on,
    hinged_rods,
    joined,
    random_chain,
    random_contacts,
    stepladder,
)

LENGTH, MASS = 1.2, 3.0


def followed(sketch: Sketch) -> Motion:
    found = motion(sketch)
    assert found is not None
    assert found.energy_error < 1e-7
    return found


def poses_of(found: Motion, body: str) -> tuple[Pose, ...]:
    return dict(found.bodies)[body]


def place(body: Body, pose: Pose, along: Point) -> Point:
    """Where a body's own point is."""
    x, y = rotate(along, body.angle_deg + math.degrees(pose.turned_rad))
    return (pose.origin_m[0] + x, pose.origin_m[1] + y)


def chain(angles_deg: list[float], foot: Support) -> Sketch:
    """Equal rods pinned end to end, the first one held at its start."""
    bodies = []
    at = (0.0, 0.0)
    for index, angle in enumerate(angles_deg):
        bodies.append(Body(f"r{index}", "bar", f"rod {index}", at, angle, length_m=LENGTH, mass_kg=MASS))
        x, y = rotate((LENGTH, 0.0), angle)
        at = (at[0] + x, at[1] + y)
    hinges = [joined(f"h{index}", "pin", f"r{index}", f"r{index - 1}") for index in range(1, len(bodies))]
    return Sketch(bodies=tuple(bodies), supports=(foot, *hinges))


def accelerations(angles: np.ndarray, rates: np.ndarray) -> np.ndarray:
    """Lagrange's equations of the chain in the angles of its rods from level."""
    count = len(angles)
    reach = np.array([[LENGTH if i < k else LENGTH / 2 if i == k else 0.0 for i in range(count)] for k in range(count)])
    shares = MASS * reach.T @ reach
    apart = angles[:, None] - angles[None, :]
    masses = shares * np.cos(apart) + np.eye(count) * MASS * LENGTH**2 / 12
    pulls = (shares * np.sin(apart)) @ rates**2 + G * MASS * reach.sum(axis=0) * np.cos(angles)
    return np.linalg.solve(masses, -pulls)


def integrated(angles_deg: list[float], times: list[float]) -> tuple[np.ndarray, np.ndarray]:
    count = len(angles_deg)

    def slope(_: float, state: np.ndarray) -> np.ndarray:
        return np.concatenate([state[count:], accelerations(state[:count], state[count:])])

    began = np.concatenate([np.radians(angles_deg), np.zeros(count)])
    done = solve_ivp(slope, (0.0, times[-1]), began, t_eval=times, method="DOP853", rtol=1e-11, atol=1e-12)
    return done.y[:count], done.y[count:]


@pytest.mark.parametrize("angles", [[0.0, 0.0], [-40.0, 75.0], [10.0, 130.0, -20.0], [0.0, 0.0, 0.0, 0.0]])
def test_chain_swings_as_scipys_steps_in_its_angles_do(angles):
    found = followed(chain(angles, joined("A", "pin", "r0", None)))
    assert found.ends == "time"
    times = [pose.time_s for pose in found.poses]
    wanted, rates = integrated(angles, times)
    for index in range(len(angles)):
        turned = np.array([pose.turned_rad for pose in poses_of(found, f"r{index}")])
        assert turned + math.radians(angles[index]) == pytest.approx(wanted[index], abs=2e-6)
    last = accelerations(wanted[:, -1], rates[:, -1])
    assert [poses_of(found, f"r{index}")[-1].alpha_rad_s2 for index in range(len(angles))] == pytest.approx(
        last, abs=1e-4 * np.abs(last).max()
    )


def test_hinges_stay_closed_all_the_way():
    sketch = chain([10.0, 130.0, -20.0], joined("A", "pin", "r0", None))
    found = followed(sketch)
    for index in range(1, 3):
        for before, after in zip(poses_of(found, f"r{index - 1}"), poses_of(found, f"r{index}"), strict=True):
            hinge = place(sketch.bodies[index - 1], before, (LENGTH, 0.0))
            assert after.origin_m == pytest.approx(hinge, abs=1e-9)


@pytest.mark.parametrize("slope_deg", [25.0, 40.0, 60.0])
def test_stepladder_falls_flat_in_the_time_that_its_energy_gives(slope_deg):
    found = followed(stepladder(slope_deg))
    start = math.radians(slope_deg)

    def each_radian(part: float) -> float:
        # φ = φ0 − s² takes the infinite slowness of the start out of the integral.
        angle = start - part * part
        return 2 * part / math.sqrt(3 * G * (math.sin(start) - math.sin(angle)) / 2.0)

    time, _ = quad(each_radian, 0.0, math.sqrt(start), epsabs=1e-13, epsrel=1e-12)
    assert (found.ends, found.duration_s) == ("holds again", pytest.approx(time, abs=1e-7))
    # All of the height of both legs is energy of motion.
    assert found.poses[-1].kinetic_j == pytest.approx(2 * 10 * G * math.sin(start))


def test_atwoods_machine_goes_on_evenly():
    sketch = Sketch(
        bodies=(block("heavy", (-1.2, 0.0), 0.4, 0.4, 3.0), block("light", (-1.2, -2.0), 0.4, 0.4, 2.0)),
        supports=(
            Support("t", "rope", "heavy", (0.2, 0.4), "T", anchor_m=(0.2, 0.4), other="light", over_m=(-1.0, 5.0)),
        ),
    )
    found = followed(sketch)
    for down, up in zip(poses_of(found, "heavy"), poses_of(found, "light"), strict=True):
        gone = 0.5 * G / 5 * down.time_s**2
        assert down.origin_m == pytest.approx((-1.2, -gone), abs=1e-9)
        assert up.origin_m == pytest.approx((-1.2, -2.0 + gone), abs=1e-9)


def test_rope_over_a_pulley_and_a_strut_keep_their_lengths():
    sketch = Sketch(
        bodies=(
            bar("a", (0.0, 0.0), (1.0, 0.0), 2.0),
            bar("b", (3.0, 0.0), (2.0, 0.5), 1.0),
            bar("c", (0.0, -1.0), (1.0, -1.5)),
        ),
        supports=(
            joined("A", "pin", "a", None),
            joined("B", "pin", "b", None),
            joined("T", "rope", "a", "b", 1.0, anchor_m=(math.hypot(1.0, 0.5), 0.0), over_m=(1.5, 2.0)),
            joined("S", "strut", "c", "a", 0.2, anchor_m=(0.6, 0.0)),
        ),
    )  # fmt: skip
    found = followed(sketch)
    a, b, c = sketch.bodies
    lengths, struts = [], []
    for one, two, three in zip(*(poses_of(found, each) for each in "abc"), strict=True):
        end, tip = place(a, one, (1.0, 0.0)), place(b, two, (math.hypot(1.0, 0.5), 0.0))
        lengths.append(math.dist(end, (1.5, 2.0)) + math.dist(tip, (1.5, 2.0)))
        struts.append(math.dist(place(c, three, (0.2, 0.0)), place(a, one, (0.6, 0.0))))
    assert lengths == pytest.approx([lengths[0]] * len(lengths), abs=1e-9)
    assert struts == pytest.approx([struts[0]] * len(struts), abs=1e-9)
    assert len(lengths) > 20


def test_two_bars_fixed_together_move_as_one_bent_bar():
    bent = Body("bent", "bent-bar", "bent", (0.0, 0.0), 0.0, points_m=((0.0, 0.0), (1.0, 0.0), (1.0, 1.0)), mass_kg=4.0)
    whole = Sketch(bodies=(bent,), supports=(Support("a", "pin", "bent", (0.0, 0.0), "A"),))
    halves = Sketch(
        bodies=(bar("one", (0.0, 0.0), (1.0, 0.0), 2.0), bar("two", (1.0, 0.0), (1.0, 1.0), 2.0)),
        supports=(joined("A", "pin", "one", None), joined("W", "fixed", "two", "one")),
    )
    single, pair = followed(whole), followed(halves)
    times = [pose.time_s for pose in single.poses]
    turned = [pose.turned_rad for pose in single.poses]
    for body in ("one", "two"):
        for pose in poses_of(pair, body):
            # Times differ with the reach that they are chosen by.
            if pose.time_s <= times[-1]:
                near = max(1, min(len(times) - 2, int(np.searchsorted(times, pose.time_s))))
                fit = np.polyfit(times[near - 1 : near + 2], turned[near - 1 : near + 2], 2)
                assert pose.turned_rad == pytest.approx(np.polyval(fit, pose.time_s), abs=2e-4)


def test_weightless_links_carry_a_beam_as_ropes_of_their_length_would():
    """A beam on two weightless links swings level as a simple pendulum of the length of the links."""
    length, slope = 1.5, math.radians(-60.0)
    across, down = length * math.cos(slope), length * math.sin(slope)
    sketch = Sketch(
        bodies=(
            bar("one", (0.0, 0.0), (across, down), None),
            bar("two", (2.0, 0.0), (2.0 + across, down), None),
            bar("beam", (across, down), (2.0 + across, down), 5.0),
        ),
        supports=(
            joined("A", "pin", "one", None),
            joined("B", "pin", "two", None),
            joined("C", "pin", "beam", "one"),
            joined("D", "pin", "beam", "two", 2.0),
        ),
    )
    found = followed(sketch)

    def swing(_: float, state: np.ndarray) -> list[float]:
        return [state[1], -G / length * math.cos(state[0])]

    times = [pose.time_s for pose in found.poses]
    wanted = solve_ivp(swing, (0.0, times[-1]), [slope, 0.0], t_eval=times, rtol=1e-11, atol=1e-12).y[0]
    turned = [pose.turned_rad for pose in poses_of(found, "one")]
    assert np.array(turned) + slope == pytest.approx(wanted, abs=1e-6)
    for pose, angle in zip(poses_of(found, "beam"), wanted, strict=True):
        assert pose.origin_m == pytest.approx((length * math.cos(angle), length * math.sin(angle)), abs=1e-6)
        assert pose.turned_rad == pytest.approx(0.0, abs=1e-9)
    # A crate on a weightless bar is a point mass: a simple pendulum as well.
    crate = Sketch(
        bodies=(bar("arm", (0.0, 0.0), (length, 0.0), None), bar("free", (-1.0, 0.0), (0.0, 0.0), 4.0)),
        supports=(joined("A", "pin", "arm", None), joined("W", "pin", "free", "arm", 1.0)),
        loads=(Thing("crate", "arm", (length / 2.0, 0.0), "P", "crate", 3.0),),
    )
    start = release(crate)
    assert start.bodies[0].alpha_rad_s2 == pytest.approx(-G / (length / 2.0))


def test_foot_that_sticks_slips_where_friction_is_all_used():
    mu = 0.35
    angles = [80.0, 100.0]
    found = followed(chain(angles, joined("A", "contact", "r0", None, mu=mu)))
    assert (found.ends, found.of) == ("slips", "a")
    wanted, rates = integrated(angles, [0.0, found.duration_s])
    shown = [poses_of(found, f"r{index}")[-1].turned_rad + math.radians(angles[index]) for index in (0, 1)]
    assert shown == pytest.approx(wanted[:, -1], abs=1e-6)
    # Sums of mass times acceleration: what the foot carries there.
    second = accelerations(wanted[:, -1], rates[:, -1])
    across = up = 0.0
    for rod in (0, 1):
        for part in range(rod + 1):
            reach = LENGTH if part < rod else LENGTH / 2
            angle, rate, turn = wanted[part, -1], rates[part, -1], second[part]
            across += MASS * reach * (-math.sin(angle) * turn - math.cos(angle) * rate**2)
            up += MASS * reach * (math.cos(angle) * turn - math.sin(angle) * rate**2)
    assert abs(across) == pytest.approx(mu * (up + 2 * MASS * G), rel=1e-4)


def test_thing_is_left_behind_on_the_way():
    sketch = chain([50.0, 20.0], joined("A", "pin", "r0", None))
    sketch = replace(sketch, loads=(Thing("crate", "r0", (0.75 * LENGTH, 0.0), "P", "crate", 0.05),))
    assert not release(sketch).bodies[0].things[0].left
    found = followed(sketch)
    assert (found.ends, found.of) == ("left behind", "crate")
    # There the place that it stands on falls freely: the last poses, a parabola, say so.
    last = poses_of(found, "r0")[-4:-1]
    heights = [place(sketch.bodies[0], pose, (0.75 * LENGTH, 0.0))[1] for pose in last]
    fall = 2 * np.polyfit([pose.time_s - last[0].time_s for pose in last], heights, 2)[0]
    assert fall == pytest.approx(-G, rel=0.06)


def test_rope_that_hangs_slack_goes_taut_and_ends_the_motion():
    sketch = Sketch(
        bodies=(bar("low", (0.0, 0.0), (2.0, 0.0)), bar("high", (0.0, 1.0), (2.0, 1.0))),
        supports=(
            joined("A", "pin", "low", None),
            joined("B", "pin", "high", None),
            joined("T", "rope", "low", "high", 1.0, anchor_m=(1.0, 0.0)),
        ),
        loads=(Force("f", "high", (2.0, 0.0), "F", size_n=5.0, direction_deg=270.0),),
    )
    found = followed(sketch)
    assert (found.ends, found.of) == ("holds again", "t")
    low, high = (poses_of(found, each)[-1] for each in ("low", "high"))
    ends = place(sketch.bodies[0], low, (1.0, 0.0)), place(sketch.bodies[1], high, (1.0, 0.0))
    assert math.dist(*ends) == pytest.approx(1.0, abs=1e-7)


def test_what_is_not_followed_says_why_and_still_starts():
    for sketch, why in (
        (blocks(60.0, None), "bodies slide or roll on each other"),
        (stepladder(mu=0.1), "it slides against friction"),
        (chain([0.0] * (MOST_FOLLOWED + 1), joined("A", "pin", "r0", None)), "bodies are joined"),
    ):
        found = release(sketch)
        assert not found.all_at_rest
        assert why in not_followed(sketch, found)
        assert motion(sketch, found) is None
    held = release(stepladder(mu=0.9))
    assert held.all_at_rest and not_followed(stepladder(mu=0.9), held) == ""


def test_first_pose_is_the_sketch_and_the_first_force_that_of_the_instant():
    sketch = hinged_rods()
    found = followed(sketch)
    for body in sketch.bodies:
        first = poses_of(found, body.id)[0]
        assert (first.origin_m, first.turned_rad, first.kinetic_j) == (body.origin_m, 0.0, 0.0)
    assert found.poses == poses_of(found, "inner")
    assert poses_of(found, "outer")[0].alpha_rad_s2 == pytest.approx(3 * G / 7)
    assert force_on(release(sketch), "A")[0] == pytest.approx(0.0, abs=1e-9)


@pytest.mark.parametrize("seed", [0, 2, 3, 5, 14, 22, 31, 41])
def test_random_structures_keep_their_energy_and_do_not_end_as_they_begin(seed):
    for sketch in (random_chain(seed), random_contacts(seed)):
        start = release(sketch)
        if start.trouble or start.all_at_rest or start.agreeing != 1 or not_followed(sketch, start):
            continue
        found = motion(sketch)
        assert found is not None
        assert found.energy_error < 1e-5
        # Where reactions are shared in many ways one admissible way is enough to go on.
        assert found.duration_s > found.step_s / 100
        assert all(pose.kinetic_j >= 0.0 for pose in found.poses)
