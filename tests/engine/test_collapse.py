"""Joined bodies let go together: textbook results, numpy's multipliers, and the laws of motion body by body."""

from __future__ import annotations

import math
import random
from dataclasses import replace

import numpy as np
import pytest
from steelyard.geometry import Point, Vector, rotate
from steelyard.kinetics.inertia import inertia
from steelyard.kinetics.release import release
from steelyard.kinetics.released import Release
from steelyard.model import AddedPiece, Body, Couple, Force, Settings, Sketch, Support, Thing
from steelyard.statics.isolate import acting_on_each

G = 9.81


def bar(name: str, at: Point, to: Point, mass_kg: float | None = 1.0, **more: object) -> Body:
    length = math.dist(at, to)
    angle = math.degrees(math.atan2(to[1] - at[1], to[0] - at[0]))
    return Body(name, "bar", name, at, angle, length_m=length, mass_kg=mass_kg, **more)


def block(name: str, at: Point, width: float, height: float, mass_kg: float) -> Body:
    corners = ((0.0, 0.0), (width, 0.0), (width, height), (0.0, height))
    return Body(name, "plate", name, at, 0.0, points_m=corners, mass_kg=mass_kg)


def joined(name: str, kind: str, body: str, other: str | None, along_m: float = 0.0, **more: object) -> Support:
    return Support(name.lower(), kind, body, (along_m, 0.0), name, other=other, **more)


def start_of(found: Release, body: str) -> Release:
    return next(each for each in found.bodies if each.body == body)


def force_on(found: Release, name: str) -> Vector:
    vector = next(held.vector for each in found.bodies for held in each.held if held.force.id == name.lower())
    assert vector is not None
    return vector


def mode_of(found: Release, name: str) -> str:
    return next(held.mode for each in found.bodies for held in each.held if held.force.id == name.lower())


def obeys_newton_and_euler(sketch: Sketch, found: Release) -> None:
    """Mass times acceleration is the sum of all forces, for each body alone; torques about its centre of mass."""
    assert not found.trouble
    bodies = [each.body for each in found.bodies]
    for each, acting in zip(found.bodies, acting_on_each(sketch, bodies), strict=True):
        held = {one.force.id: one for one in each.held}
        left = {thing.force.id for thing in each.things if thing.left}
        centre = each.own.centre_m if each.own else (0.0, 0.0)
        total = np.zeros(3)
        scale = 0.0
        for force in acting:
            couple = 0.0
            point = force.point
            if force.role == "known":
                # What rides is a body of its own here: it pushes by as much as it needs to be taken along.
                rides = [thing for thing in each.things if thing.force.id == force.id]
                if force.along is None:
                    vector, couple = (0.0, 0.0), force.couple_n_m or 0.0
                elif rides:
                    vector = (0.0, 0.0) if force.id in left else rides[0].push_n
                else:
                    vector = (force.size_n * force.along[0], force.size_n * force.along[1])
            else:
                one = held[force.id]
                vector, couple, point = one.vector or (0.0, 0.0), one.couple_n_m or 0.0, one.force.point
            arm = (point[0] - centre[0], point[1] - centre[1])
            total += (*vector, arm[0] * vector[1] - arm[1] * vector[0] + couple)
            scale = max(scale, math.hypot(*vector), abs(couple))
        mass, moment = (each.own.mass_kg, each.own.moment_kg_m2) if each.own else (0.0, 0.0)
        wanted = [mass * each.acceleration_m_s2[0], mass * each.acceleration_m_s2[1], moment * each.alpha_rad_s2]
        assert total == pytest.approx(wanted, abs=1e-8 * max(scale, 1.0))


def point_acceleration(found: Release, body: str, point: Point) -> Vector:
    each = start_of(found, body)
    centre = each.own.centre_m
    x, y = point[0] - centre[0], point[1] - centre[1]
    ax, ay = each.acceleration_m_s2
    return (ax - each.alpha_rad_s2 * y, ay + each.alpha_rad_s2 * x)


# Textbook results, from memory


def hinged_rods(length: float = 1.0, mass: float = 7.0) -> Sketch:
    return Sketch(
        bodies=(bar("inner", (0.0, 0.0), (length, 0.0), mass), bar("outer", (length, 0.0), (2 * length, 0.0), mass)),
        supports=(joined("A", "pin", "inner", None), joined("B", "pin", "outer", "inner")),
    )


@pytest.mark.parametrize("asked", ["inner", "outer"])
def test_two_hinged_rods_from_level_start_as_the_double_pendulum_of_two_rods_does(asked):
    found = release(hinged_rods(2.0), asked)
    assert start_of(found, "inner").alpha_rad_s2 == pytest.approx(-9 * G / 14)
    assert start_of(found, "outer").alpha_rad_s2 == pytest.approx(3 * G / 14)
    assert force_on(found, "A") == pytest.approx((0.0, 2 * 7 * G / 7))
    assert force_on(found, "B") == pytest.approx((0.0, -7 * G / 14))
    assert force_on(found, "B-back") == pytest.approx((0.0, 7 * G / 14))
    # Told of the body asked for, the same as among all of them.
    assert found.body == asked
    assert found.alpha_rad_s2 == start_of(found, asked).alpha_rad_s2
    assert found.held == start_of(found, asked).held


@pytest.mark.parametrize(("heavy", "light"), [(3.0, 2.0), (5.0, 0.5), (2.0, 2.0)])
def test_atwoods_machine(heavy, light):
    sketch = Sketch(
        bodies=(block("heavy", (-1.2, 0.0), 0.4, 0.4, heavy), block("light", (0.8, -1.0), 0.4, 0.4, light)),
        supports=(
            Support("t", "rope", "heavy", (0.2, 0.4), "T", anchor_m=(0.2, 0.4), other="light", over_m=(-1.0, 5.0)),
        ),
    )
    # One small pulley has both ends hang below one point.
    sketch = replace(sketch, bodies=(sketch.bodies[0], replace(sketch.bodies[1], origin_m=(-1.2, -2.0))))
    found = release(sketch)
    acceleration, tension = G * (heavy - light) / (heavy + light), 2 * heavy * light * G / (heavy + light)
    assert start_of(found, "heavy").acceleration_m_s2 == pytest.approx((0.0, -acceleration), abs=1e-12)
    assert start_of(found, "light").acceleration_m_s2 == pytest.approx((0.0, acceleration), abs=1e-12)
    assert force_on(found, "T") == pytest.approx((0.0, tension))
    assert force_on(found, "T-back") == pytest.approx((0.0, tension))
    assert found.all_at_rest == (heavy == light)


def stepladder(slope_deg: float = 60.0, length: float = 2.0, mass: float = 10.0, **more: object) -> Sketch:
    across, up = length * math.cos(math.radians(slope_deg)), length * math.sin(math.radians(slope_deg))
    return Sketch(
        bodies=(bar("left", (0.0, 0.0), (across, up), mass), bar("right", (across, up), (2 * across, 0.0), mass)),
        supports=(
            joined("A", "contact", "left", None, **more),
            joined("B", "contact", "right", None, length, **more),
            joined("C", "pin", "left", "right", length),
        ),
    )


@pytest.mark.parametrize("slope_deg", [30.0, 60.0, 75.0])
def test_stepladder_whose_tie_is_cut_on_a_smooth_floor(slope_deg):
    found = release(stepladder(slope_deg))
    slope = math.radians(slope_deg)
    alpha = 3 * G * math.cos(slope) / 4  # energy: m L² ω²/6 a leg
    assert start_of(found, "left").alpha_rad_s2 == pytest.approx(-alpha)
    assert start_of(found, "right").alpha_rad_s2 == pytest.approx(alpha)
    assert force_on(found, "A") == pytest.approx((0.0, 10 * (G - alpha * math.cos(slope))))
    assert force_on(found, "C") == pytest.approx((-10 * alpha * math.sin(slope), 0.0))


def test_rough_enough_floor_holds_the_stepladder_and_a_smoother_one_lets_both_feet_slip():
    # Each foot needs half a leg's weight times cot φ of friction: μ ≥ 1/(2 tan φ).
    needed = 0.5 / math.tan(math.radians(60.0))
    holds = release(stepladder(mu=needed * 1.001))
    assert holds.all_at_rest and holds.agreeing == 1
    slips = release(stepladder(mu=needed * 0.9))
    assert not slips.at_rest and slips.agreeing == 1
    assert mode_of(slips, "A-friction") == mode_of(slips, "B-friction") == "slips"
    # The same by energy less what friction takes, and the normal that this leaves: alpha from both equations.
    slope, mu = math.radians(60.0), needed * 0.9
    # I_A-type equation of one leg about its upper end's plumb line and the floor: moments about the top of a leg.
    # m g (L/2) cos φ = N L cos φ − μ N L sin φ + (I + m L²/4 · …): solved as two linear equations in (N, α).
    length, mass = 2.0, 10.0
    moment = mass * length**2 / 12
    half = length / 2
    # centre: x = half·cos φ from the middle line, y = half·sin φ; a_y = −α half cos φ, a_x = α half sin φ.
    # ΣFy: N − m g = −m α half cos φ;  torque about the centre of mass with the level pin force H = m a_x + μ N.
    a = np.array(
        [
            [1.0, mass * half * math.cos(slope)],
            [
                half * math.cos(slope) - 2 * mu * half * math.sin(slope),
                -moment - mass * half**2 * math.sin(slope) ** 2,
            ],
        ]
    )
    normal, alpha = np.linalg.solve(a, [mass * G, 0.0])
    assert force_on(slips, "A")[1] == pytest.approx(normal)
    assert start_of(slips, "left").alpha_rad_s2 == pytest.approx(-alpha)
    obeys_newton_and_euler(stepladder(mu=mu), slips)


def blocks(push_n: float, mu: float | None) -> Sketch:
    return Sketch(
        bodies=(block("lower", (0.0, 0.0), 2.0, 0.4, 6.0), block("upper", (0.5, 0.4), 1.0, 0.4, 2.0)),
        supports=(
            Support("n", "contact", "lower", (0.0, 0.0), "N", face_m=(2.0, 0.0)),
            Support("p", "contact", "upper", (0.0, 0.0), "P", face_m=(1.0, 0.0), mu=mu, other="lower"),
        ),
        loads=(Force("f", "lower", (0.0, 0.2), "F", size_n=push_n, direction_deg=0.0),),
    )


def test_block_on_a_pushed_block_goes_along_while_friction_can_take_it():
    found = release(blocks(16.0, 0.3))  # a = 16/8 = 2 m/s² < 0.3 g
    for body in ("lower", "upper"):
        assert start_of(found, body).acceleration_m_s2 == pytest.approx((2.0, 0.0), abs=1e-9)
    assert mode_of(found, "P-friction") == "sticks"
    assert force_on(found, "P-friction") == pytest.approx((4.0, 0.0), abs=1e-9)
    assert force_on(found, "P-friction-back") == pytest.approx((-4.0, 0.0), abs=1e-9)
    assert force_on(found, "N") == pytest.approx((0.0, 8 * G))


def test_block_on_a_block_pushed_harder_slips_back_on_it():
    found = release(blocks(60.0, 0.3))
    drag = 0.3 * 2.0 * G
    assert start_of(found, "upper").acceleration_m_s2 == pytest.approx((0.3 * G, 0.0), abs=1e-9)
    assert start_of(found, "lower").acceleration_m_s2 == pytest.approx(((60.0 - drag) / 6.0, 0.0), abs=1e-9)
    assert mode_of(found, "P-friction") == "slips"
    assert found.agreeing == 1


def test_lower_block_is_pulled_out_from_under_a_smooth_one():
    found = release(blocks(60.0, None))
    assert start_of(found, "upper").at_rest
    assert start_of(found, "lower").acceleration_m_s2 == pytest.approx((10.0, 0.0), abs=1e-9)


def test_bodies_that_fall_freely_give_each_other_nothing():
    sketch = hinged_rods()
    found = release(replace(sketch, supports=sketch.supports[1:]))
    for each in found.bodies:
        assert each.acceleration_m_s2 == pytest.approx((0.0, -G)) and each.alpha_rad_s2 == 0.0
    assert force_on(found, "B") == (0.0, 0.0)


def test_weightless_link_carries_force_along_itself_only():
    """A rod on a weightless bar: as if on a strut of the same length."""
    sketch = Sketch(
        bodies=(bar("rod", (0.0, 0.0), (2.0, 0.0), 3.0), bar("link", (2.0, 0.0), (3.0, 1.0), None)),
        supports=(
            joined("A", "roller", "rod", None, normal_deg=90.0, two_way=True),
            joined("B", "pin", "link", "rod"),
            joined("C", "pin", "link", None, math.sqrt(2.0)),
        ),
    )
    strut = Sketch(
        bodies=sketch.bodies[:1],
        supports=(sketch.supports[0], joined("S", "strut", "rod", None, 2.0, anchor_m=(3.0, 1.0))),
    )
    found, alone = release(sketch), release(strut)
    assert found.acceleration_m_s2 == pytest.approx(alone.acceleration_m_s2)
    assert found.alpha_rad_s2 == pytest.approx(alone.alpha_rad_s2)
    assert force_on(found, "B-back") == pytest.approx(next(one.vector for one in alone.held if one.force.id == "s"))


def test_loose_weightless_body_has_no_answer_and_says_which():
    sketch = hinged_rods()
    loose = replace(sketch, bodies=(sketch.bodies[0], replace(sketch.bodies[1], mass_kg=None)))
    assert release(loose).trouble.startswith("The outer has no mass in numbers")
    pushed = replace(loose, loads=(Force("f", "outer", (0.5, 0.0), "F", size_n=3.0),))
    assert release(pushed).trouble.startswith("The outer has no mass in numbers")


def test_structure_without_mass_that_is_held_stays_at_rest():
    sketch = Sketch(
        bodies=(bar("left", (0.0, 0.0), (1.0, 1.0), None), bar("right", (1.0, 1.0), (2.0, 0.0), None)),
        supports=(
            joined("A", "pin", "left", None),
            joined("B", "pin", "right", None, math.sqrt(2.0)),
            joined("C", "pin", "left", "right", math.sqrt(2.0)),
        ),
        loads=(Force("f", "left", (math.sqrt(2.0), 0.0), "F", size_n=100.0, direction_deg=270.0),),
    )
    found = release(sketch)
    assert found.all_at_rest and not found.trouble
    assert force_on(found, "A") == pytest.approx((50.0, 50.0))
    assert force_on(found, "B") == pytest.approx((-50.0, 50.0))


def test_thing_rides_on_the_inner_rod_and_is_left_behind_by_the_faster_end():
    sketch = hinged_rods()
    near = replace(sketch, loads=(Thing("crate", "inner", (0.3, 0.0), "P", "crate", 2.0),))
    found = release(near)
    (thing,) = start_of(found, "inner").things
    assert not thing.left
    obeys_newton_and_euler(near, found)
    far = replace(sketch, loads=(Thing("crate", "inner", (1.0, 0.0), "P", "crate", 1e-3),))
    found = release(far)  # the hinge starts down with 9 g/7
    (thing,) = start_of(found, "inner").things
    assert thing.left
    assert start_of(found, "inner").alpha_rad_s2 == pytest.approx(-9 * G / 7)


def test_rope_between_two_bodies_goes_slack_where_they_start_towards_each_other():
    sketch = Sketch(
        bodies=(bar("low", (0.0, 0.0), (2.0, 0.0)), bar("high", (0.0, 1.0), (2.0, 1.0))),
        supports=(
            joined("A", "pin", "low", None),
            joined("B", "pin", "high", None),
            joined("T", "rope", "low", "high", 2.0, anchor_m=(2.0, 0.0)),
        ),
        loads=(Force("f", "high", (2.0, 0.0), "F", size_n=30.0, direction_deg=270.0),),
    )
    found = release(sketch)
    assert mode_of(found, "T") == mode_of(found, "T-back") == "lets go"
    assert start_of(found, "low").alpha_rad_s2 == pytest.approx(-3 * G / 4)
    parting = next(one.parting_m_s2 for one in start_of(found, "low").held if one.force.id == "t")
    assert parting == pytest.approx(30.0 * 2.0 / (4.0 / 3.0) * 2.0)
    taut = release(replace(sketch, loads=(replace(sketch.loads[0], body="low"),)))
    assert mode_of(taut, "T") == "holds"
    assert start_of(taut, "low").alpha_rad_s2 == pytest.approx(start_of(taut, "high").alpha_rad_s2)


def test_too_many_places_and_things_are_refused_in_words():
    sketch = hinged_rods()
    ropes = tuple(
        joined(f"T{index}", "rope", "outer", None, 0.1 * index, anchor_m=(0.3 * index, 3.0)) for index in range(10)
    )
    assert "too many places" in release(replace(sketch, supports=(*sketch.supports, *ropes))).trouble
    things = tuple(Thing(f"t{index}", "outer", (0.1 * index, 0.0), "P", "crate", 1.0) for index in range(7))
    assert "too many to try" in release(replace(sketch, loads=things)).trouble


# Random chains against numpy


def random_chain(seed: int) -> Sketch:
    """A tree of bars and plates: pinned, fixed, or tied by struts to an earlier one, to the ground now and then."""
    rng = random.Random(seed)
    bodies: list[Body] = []
    supports: list[Support] = []
    loads = []
    for index in range(rng.randint(2, 6)):
        angle = rng.uniform(0.0, 360.0)
        mass = 10.0 ** rng.uniform(-1.0, 1.5)
        length = rng.uniform(0.4, 2.5)
        pieces = (AddedPiece((rng.uniform(0.0, 1.0), 0.3), rng.uniform(0.2, 3.0), radius_m=0.2),) * rng.randint(0, 1)
        own = Body(f"b{index}", "bar", f"bar {index}", (0.0, 0.0), angle, length_m=length, mass_kg=mass, pieces=pieces)
        place = (rng.uniform(0.0, length), 0.0)
        if index == 0:
            bodies.append(replace(own, origin_m=(rng.uniform(-2.0, 2.0), rng.uniform(-2.0, 2.0))))
            if rng.random() < 0.7:
                supports.append(Support("g", "pin", "b0", place, "G"))
            continue
        other = rng.choice(bodies)
        at = (rng.uniform(0.0, other.length_m), 0.0)
        turned_at, turned_place = rotate(at, other.angle_deg), rotate(place, angle)
        point = (other.origin_m[0] + turned_at[0], other.origin_m[1] + turned_at[1])
        kind = rng.choice(["pin", "pin", "pin", "fixed", "strut"])
        shift = (0.7, 0.9) if kind == "strut" else (0.0, 0.0)
        origin = (point[0] - turned_place[0] + shift[0], point[1] - turned_place[1] + shift[1])
        bodies.append(replace(own, origin_m=origin))
        anchor = at if kind == "strut" else None
        if rng.random() < 0.5:
            supports.append(Support(f"s{index}", kind, own.id, place, "S", other=other.id, anchor_m=anchor))
        elif kind == "strut":
            supports.append(Support(f"s{index}", kind, other.id, at, "S", other=own.id, anchor_m=place))
        else:
            supports.append(Support(f"s{index}", kind, other.id, at, "S", other=own.id))
        if rng.random() < 0.4:
            loads.append(Force(f"f{index}", own.id, place, "F", size_n=rng.uniform(1, 80), direction_deg=angle / 2))
        if rng.random() < 0.3:
            loads.append(Couple(f"c{index}", own.id, place, "M", couple_n_m=rng.uniform(1, 30)))
    return Sketch(bodies=tuple(bodies), supports=tuple(supports), loads=tuple(loads), settings=Settings())


def by_multipliers(sketch: Sketch) -> np.ndarray:
    """(ax, ay, α) of each body from [[M, −Jᵀ], [J, 0]], built from the sketch alone."""
    number = {body.id: index for index, body in enumerate(sketch.bodies)}
    masses = [inertia(body, sketch.settings.g_m_s2) for body in sketch.bodies]
    size = 3 * len(masses)

    def world(body: Body, place: Point) -> np.ndarray:
        return np.array(body.origin_m) + rotate(place, body.angle_deg)

    def slope(index: int, point: np.ndarray, way: np.ndarray, row: np.ndarray, sign: float) -> None:
        arm = point - masses[index].centre_m
        row[3 * index : 3 * index + 3] += sign * np.array([*way, arm[0] * way[1] - arm[1] * way[0]])

    rows = []
    for support in sketch.supports:
        body = sketch.body(support.body)
        index, point = number[body.id], world(body, support.place_m)
        other = None if support.other is None else number[support.other]
        if support.kind == "strut":
            far = world(sketch.body(support.other), support.anchor_m)
            row = np.zeros(size)
            way = (far - point) / np.linalg.norm(far - point)
            slope(index, point, way, row, 1.0)
            slope(other, far, way, row, -1.0)
            rows.append(row)
            continue
        for way in np.eye(2):
            row = np.zeros(size)
            slope(index, point, way, row, 1.0)
            if other is not None:
                slope(other, point, way, row, -1.0)
            rows.append(row)
        if support.kind == "fixed":
            row = np.zeros(size)
            row[3 * index + 2], row[3 * other + 2] = 1.0, -1.0
            rows.append(row)
    jacobian = np.array(rows).reshape(-1, size)
    forces = np.zeros(size)
    for index, mass in enumerate(masses):
        forces[3 * index + 1] -= mass.mass_kg * sketch.settings.g_m_s2
    for load in sketch.loads:
        index = number[load.body]
        if isinstance(load, Couple):
            forces[3 * index + 2] += load.couple_n_m
        else:
            turn = math.radians(load.direction_deg)
            way = load.size_n * np.array([math.cos(turn), math.sin(turn)])
            slope(index, world(sketch.bodies[index], load.place_m), way, forces, 1.0)
    inertias = np.diag([part for mass in masses for part in (mass.mass_kg, mass.mass_kg, mass.moment_kg_m2)])
    count = len(jacobian)
    system = np.block([[inertias, -jacobian.T], [jacobian, np.zeros((count, count))]])
    return np.linalg.solve(system, np.concatenate([forces, np.zeros(count)]))[:size]


@pytest.mark.parametrize("seed", range(120))
def test_random_chains_start_as_numpys_multipliers_say(seed):
    sketch = random_chain(seed)
    found = release(sketch, sketch.bodies[-1].id)
    wanted = by_multipliers(sketch)
    computed = np.array([(*each.acceleration_m_s2, each.alpha_rad_s2) for each in found.bodies]).ravel()
    scale = np.abs(wanted).max()
    assert computed == pytest.approx(wanted, abs=1e-7 * scale)
    obeys_newton_and_euler(sketch, found)
    assert found.modes_tried == 1 and found.unique


def random_contacts(seed: int) -> Sketch:
    """Chains with ropes, a floor and contacts between bodies, smooth or rough."""
    rng = random.Random(1000 + seed)
    chain = random_chain(seed)
    bodies = chain.bodies[:4]
    ids = {body.id for body in bodies}
    supports = [each for each in chain.supports if each.body in ids and (each.other is None or each.other in ids)]
    for index, body in enumerate(bodies[:3]):
        place = (rng.uniform(0.0, body.length_m), 0.0)
        kind = rng.choice(["contact", "rope", "none"])
        if kind == "rope":
            supports.append(
                Support(f"r{index}", "rope", body.id, place, "T", anchor_m=(rng.uniform(-3, 3), rng.uniform(3, 5)))
            )
        elif kind == "contact":
            mu = rng.choice([None, rng.uniform(0.1, 0.9)])
            normal = rng.uniform(45.0, 135.0)
            supports.append(Support(f"n{index}", "contact", body.id, place, "N", normal_deg=normal, mu=mu))
    first, last = bodies[0], bodies[-1]
    over = (0.3, 6.0) if seed % 2 else None
    far = (last.length_m, 0.0)
    supports.append(Support("t", "rope", first.id, (0.0, 0.0), "T", anchor_m=far, other=last.id, over_m=over))
    loads = tuple(load for load in chain.loads if load.body in ids)
    return replace(chain, bodies=bodies, supports=tuple(supports), loads=loads)


@pytest.mark.parametrize("seed", range(60))
def test_what_acts_one_way_either_holds_or_parts_and_every_body_obeys_the_laws_of_motion(seed):
    sketch = random_contacts(seed)
    found = release(sketch)
    if found.trouble:  # friction may leave rigid bodies no answer, and that is said; nothing else is in the way here
        assert any(each.mu for each in sketch.supports) and "no way agrees" in found.trouble
        return
    if found.unique:
        obeys_newton_and_euler(sketch, found)
    for each in found.bodies:
        for held in each.held:
            force = held.force
            if held.vector is None or not force.one_way:
                continue
            size = held.vector[0] * force.along[0] + held.vector[1] * force.along[1]
            assert size >= -1e-7
            assert held.parting_m_s2 >= 0.0
            assert size == 0.0 or held.parting_m_s2 == 0.0
            if force.entity.startswith("n"):
                out = point_acceleration(found, each.body, force.point)
                parting = out[0] * force.along[0] + out[1] * force.along[1]
                assert parting == pytest.approx(held.parting_m_s2, abs=1e-6)
    if not any(each.mu for each in sketch.supports):
        assert found.agreeing == 1


@pytest.mark.parametrize("seed", range(10))
def test_order_of_bodies_and_supports_does_not_matter(seed):
    sketch = random_contacts(seed)
    mixed = replace(sketch, bodies=sketch.bodies[::-1], supports=sketch.supports[::-1])
    found, other = release(sketch), release(mixed)
    assert found.trouble == other.trouble and found.agreeing == other.agreeing
    if found.agreeing == 1:
        for each in found.bodies:
            same = start_of(other, each.body)
            assert each.acceleration_m_s2 == pytest.approx(same.acceleration_m_s2, abs=1e-7)
            assert each.alpha_rad_s2 == pytest.approx(same.alpha_rad_s2, abs=1e-7)
