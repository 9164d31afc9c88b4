"""A disc let go: on a smooth floor or slope, on a pin; against closed forms, energy and scipy's integrator."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from scipy.integrate import solve_ivp
from steelyard.edit.circles import with_radius
from steelyard.kinetics.inertia import inertia
from steelyard.kinetics.joints import joints_of, touches_the_rim
from steelyard.kinetics.motion import motion
from steelyard.kinetics.release import release
from steelyard.model import Body, Force, RoundHole, Settings, Sketch, Support, Thing
from steelyard.statics import shape

G = 9.81
DISC = Body("disc", "disc", "wheel", (0.0, 0.5), 0.0, radius_m=0.5, mass_kg=60.0)
HOLED = replace(DISC, round_holes=(RoundHole((0.2, 0.1), 0.2),))
FLOOR = Support("floor", "contact", "disc", (0.0, -0.5), "N", normal_deg=90.0)


def on_the_floor(body: Body = HOLED, **more: object) -> Sketch:
    return Sketch(bodies=(body,), supports=(FLOOR,), **more)  # type: ignore[arg-type]


def test_an_uneven_wheel_on_a_smooth_floor_starts_as_lagrange_says():
    """The centre of mass can only go up and down, by α·x: from rest α = −m g x / (I + m x²)."""
    own = inertia(HOLED, G)
    assert own is not None
    x = own.centre_m[0]  # of the centre of mass from the upright through the contact
    found = release(on_the_floor())
    # N x = −I α and m α x = N − m g.
    alpha = -60.0 * G * x / (own.moment_kg_m2 + 60.0 * x * x)
    assert x < 0.0
    assert found.alpha_rad_s2 == pytest.approx(alpha, rel=1e-12)
    assert found.acceleration_m_s2 == pytest.approx((0.0, alpha * x), abs=1e-12)
    (held,) = found.held
    assert held.vector == pytest.approx((0.0, 60.0 * (G + alpha * x)), abs=1e-9)


def test_it_rocks_on_a_smooth_floor_as_scipy_integrates_it():
    """The wheel's centre keeps its height and the centre of mass swings about it: Lagrange's equation for the turn."""
    own = inertia(HOLED, G)
    assert own is not None
    off = np.array(own.centre_m) - np.array(HOLED.origin_m)
    reach, first = float(np.hypot(*off)), math.atan2(off[1], off[0])
    moved = motion(on_the_floor())
    assert moved is not None and moved.energy_error < 1e-7

    def slope(_: float, state: np.ndarray) -> list[float]:
        turn, speed = state
        # y = e·sin φ with φ = first + turn; (I + m e² cos²φ) φ'' = m e² sinφ cosφ φ'² − m g e cosφ.
        angle = first + turn
        sine, cosine = math.sin(angle), math.cos(angle)
        size = own.moment_kg_m2 + 60.0 * (reach * cosine) ** 2
        return [speed, (60.0 * reach**2 * sine * cosine * speed**2 - 60.0 * G * reach * cosine) / size]

    times = [pose.time_s for pose in moved.poses]
    wanted = solve_ivp(slope, (0.0, times[-1]), [0.0, 0.0], t_eval=times, rtol=1e-11, atol=1e-13)
    assert [pose.turned_rad for pose in moved.poses] == pytest.approx(list(wanted.y[0]), abs=1e-6)
    # The floor is under the wheel's own centre at every moment, and the centre of mass does not go aside.
    for pose in moved.poses:
        assert pose.origin_m[1] == pytest.approx(0.5, abs=1e-9)
        middle = pose.origin_m[0] + reach * math.cos(first + pose.turned_rad)
        assert middle == pytest.approx(own.centre_m[0], abs=1e-8)
    assert max(pose.turned_rad for pose in moved.poses) > 0.5


def test_an_even_wheel_pushed_on_a_smooth_floor_slides_and_spins_at_rates_of_their_own():
    """A push at the rim: a = F/m, α = F r/(m r²/2); the place of the contact has no part in either."""
    push = Force("push", "disc", (0.0, 0.5), "F", size_n=30.0, direction_deg=0.0)
    # The arrow turns with nothing: it stays where it was drawn on the body, so compare the start only.
    found = release(on_the_floor(DISC, loads=(push,)))
    assert found.acceleration_m_s2 == pytest.approx((0.5, 0.0), abs=1e-12)
    assert found.alpha_rad_s2 == pytest.approx(-30.0 * 0.5 / (60.0 * 0.125), rel=1e-12)


def test_a_wheel_on_a_smooth_slope_slides_down_it_and_stays_on_it():
    """Its weight has no torque about its centre: it slides at g sin 20° and does not turn, for as long as is shown."""
    tilt = math.radians(20.0)
    normal = (-math.sin(tilt), math.cos(tilt))
    held = Support("slope", "contact", "disc", (-0.5 * normal[0], -0.5 * normal[1]), "N", normal_deg=110.0)
    moved = motion(Sketch(bodies=(DISC,), supports=(held,)))
    assert moved is not None
    for pose in moved.poses:
        down = 0.5 * G * math.sin(tilt) * pose.time_s**2
        wanted = (0.0 - down * math.cos(tilt), 0.5 - down * math.sin(tilt))
        assert pose.origin_m == pytest.approx(wanted, abs=1e-8)
        assert pose.turned_rad == pytest.approx(0.0, abs=1e-9)


@pytest.mark.parametrize("angle_deg", [0.0, 90.0, 200.0])
def test_the_condition_of_a_round_face_holds_the_centre_however_the_disc_lies(angle_deg):
    """gap = (centre of the disc − where it was)·normal, at any pose; by rotating the frame with numpy."""
    turned = replace(HOLED, angle_deg=angle_deg)
    held = replace(FLOOR, place_m=shape.local(turned, (0.0, 0.0)))
    assert touches_the_rim(turned, (0.0, 0.0), (0.0, 1.0))
    centre = shape.centre_of_mass(turned)
    (joint,) = joints_of(Sketch(bodies=(turned,), supports=(held,)), turned, centre)
    for pose in ((centre[0] + 0.3, centre[1] + 0.02, 0.7), (centre[0], centre[1] - 0.1, -2.0)):
        cosine, sine = math.cos(pose[2]), math.sin(pose[2])
        arm = np.array(turned.origin_m) - np.array(centre)
        middle = np.array(pose[:2]) + np.array([[cosine, -sine], [sine, cosine]]) @ arm
        assert joint.row(pose, (0.0, 0.0, 0.0)).gap == pytest.approx(middle[1] - 0.5, abs=1e-12)


def test_only_a_push_to_the_centre_from_the_rim_is_that_of_a_round_face():
    for tilt in (0.0, 1.0, 2.5):
        way = (math.cos(tilt), math.sin(tilt))
        foot = (0.0 - 0.5 * way[0], 0.5 - 0.5 * way[1])
        assert touches_the_rim(DISC, foot, way)
        assert not touches_the_rim(DISC, foot, (-way[0], -way[1]))
        assert not touches_the_rim(DISC, foot, (math.cos(tilt + 0.1), math.sin(tilt + 0.1)))
        assert not touches_the_rim(DISC, (0.0 - 0.3 * way[0], 0.5 - 0.3 * way[1]), way)


def rolling(tilt_deg: float, mu: float, body: Body = DISC) -> Sketch:
    """A wheel on a rough slope that goes down to the left."""
    tilt = math.radians(tilt_deg)
    normal = (-math.sin(tilt), math.cos(tilt))
    place = shape.local(body, (body.origin_m[0] - 0.5 * normal[0], body.origin_m[1] - 0.5 * normal[1]))
    held = Support("slope", "contact", "disc", place, "N", normal_deg=90.0 + tilt_deg, mu=mu)
    return Sketch(bodies=(body,), supports=(held,))


def test_a_wheel_on_a_rough_slope_rolls_down_at_two_thirds_of_g_sin():
    """A solid disc that rolls: a = 2/3·g·sin θ, all the way; its centre goes r for each radian it turns."""
    tilt = math.radians(15.0)
    moved = motion(rolling(15.0, 0.3))
    assert moved is not None and moved.ends == "time"
    for pose in moved.poses:
        down = 0.5 * (2.0 / 3.0) * G * math.sin(tilt) * pose.time_s**2
        assert pose.origin_m == pytest.approx((-down * math.cos(tilt), 0.5 - down * math.sin(tilt)), abs=1e-7)
        assert pose.turned_rad == pytest.approx(down / 0.5, abs=1e-7)
    # More than once round: the same point of the rim is long off the slope.
    assert moved.poses[-1].turned_rad > 1.0


def test_on_a_steep_slope_it_slips_and_spins_up_more_slowly():
    """tan θ > 3 μ: a = g (sin θ − μ cos θ), α = 2 μ g cos θ / r."""
    tilt = math.radians(40.0)
    found = release(rolling(40.0, 0.2))
    assert math.hypot(*found.acceleration_m_s2) == pytest.approx(G * (math.sin(tilt) - 0.2 * math.cos(tilt)), rel=1e-9)
    moved = motion(rolling(40.0, 0.2))
    assert moved is not None
    for pose in moved.poses:
        turned = 0.5 * (2.0 * 0.2 * G * math.cos(tilt) / 0.5) * pose.time_s**2
        assert pose.turned_rad == pytest.approx(turned, abs=1e-7)


def test_an_uneven_wheel_on_a_rough_floor_rolls_as_scipy_integrates_it():
    """T = (I + m·|c − touch|²)·ω²/2 about the point that touches; V = m g y: one equation by Lagrange for the turn."""
    own = inertia(HOLED, G)
    assert own is not None
    off = np.array(own.centre_m) - np.array(HOLED.origin_m)
    reach, first = float(np.hypot(*off)), math.atan2(off[1], off[0])
    moved = motion(rolling(0.0, 5.0, HOLED))
    assert moved is not None and moved.energy_error < 1e-7

    def slope(_: float, state: np.ndarray) -> list[float]:
        angle, speed = first + state[0], state[1]
        # |c − touch|² = r² + e² + 2 r e sin φ.
        size = own.moment_kg_m2 + 60.0 * (0.25 + reach**2 + reach * math.sin(angle))
        return [speed, (-60.0 * G * reach * math.cos(angle) - 30.0 * reach * math.cos(angle) * speed**2) / size]

    times = [pose.time_s for pose in moved.poses]
    wanted = solve_ivp(slope, (0.0, times[-1]), [0.0, 0.0], t_eval=times, rtol=1e-11, atol=1e-13)
    assert [pose.turned_rad for pose in moved.poses] == pytest.approx(list(wanted.y[0]), abs=1e-6)
    for pose in moved.poses:
        assert pose.origin_m == pytest.approx((-0.5 * pose.turned_rad, 0.5), abs=1e-7)


def test_a_disc_on_a_pin_at_its_rim_swings_with_three_halves_of_m_r_squared():
    """Parallel axes: I about a point of the rim is 3/2·m·r², so α = g/(1.5 r) from beside the pin."""
    pinned = replace(DISC, origin_m=(0.5, 0.0))
    held = Support("pin", "pin", "disc", (-0.5, 0.0), "R")
    found = release(Sketch(bodies=(pinned,), supports=(held,)))
    assert found.alpha_rad_s2 == pytest.approx(-G / 0.75, rel=1e-12)


def test_letting_go_does_not_hang_on_the_radius_being_typed_or_dragged():
    grown = with_radius(on_the_floor(DISC), DISC, 0.8)
    lifted = replace(grown.bodies[0], origin_m=(0.0, 0.8))
    assert release(replace(grown, bodies=(lifted,))).at_rest


def test_seen_from_above_nothing_falls_and_nobody_says_who_rides():
    above = Settings(seen_from="above")
    pinned = replace(DISC, origin_m=(0.0, 0.0))
    push = Force("push", "disc", (0.5, 0.0), "F", size_n=12.0, direction_deg=90.0)
    held = Support("pin", "pin", "disc", (0.0, 0.0), "R")
    alone = Sketch(bodies=(pinned,), supports=(held,), loads=(push,), settings=above)
    found = release(alone)
    assert found.alpha_rad_s2 == pytest.approx(12.0 * 0.5 / 7.5, rel=1e-12)
    assert found.acceleration_m_s2 == pytest.approx((0.0, 0.0), abs=1e-15)
    rider = Thing("child", "disc", (0.0, 0.3), "P", "child", 18.0)
    assert "child rides along" in release(replace(alone, loads=(push, rider))).trouble
