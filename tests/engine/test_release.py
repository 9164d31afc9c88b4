"""The instant of release against textbook results, and against least squares with signs (scipy) for random sketches."""

from __future__ import annotations

import math
import random
from dataclasses import replace

import numpy as np
import pytest
from scipy.optimize import nnls
from steelyard import shelf
from steelyard.geometry import rotate
from steelyard.kinetics.held import Held
from steelyard.kinetics.motion import motion
from steelyard.kinetics.release import release
from steelyard.kinetics.released import Release
from steelyard.model import Body, Couple, Force, Sketch, Support, Thing
from steelyard.statics import analyse

G = 9.81
LENGTH, MASS = 2.0, 3.0
WEIGHT = MASS * G


def rod(angle_deg: float = 0.0, **more: object) -> Body:
    return Body("rod", "bar", "rod", (0.5, -0.25), angle_deg, length_m=LENGTH, **{"mass_kg": MASS, **more})


def support(name: str, kind: str, along_m: float = 0.0, **more: object) -> Support:
    return Support(name, kind, "rod", (along_m, 0.0), name[0].upper(), name, **more)


def held(found: Release, name: str) -> Held:
    return next(each for each in found.held if each.force.id == name)


def turned(sketch: Sketch, angle_deg: float, shift: tuple[float, float]) -> Sketch:
    """The sketch turned about the origin and shifted; weights must not matter in it."""

    def there(point: tuple[float, float]) -> tuple[float, float]:
        x, y = rotate(point, angle_deg)
        return (x + shift[0], y + shift[1])

    return replace(
        sketch,
        bodies=tuple(
            replace(body, origin_m=there(body.origin_m), angle_deg=body.angle_deg + angle_deg) for body in sketch.bodies
        ),
        supports=tuple(
            replace(
                each,
                normal_deg=each.normal_deg + angle_deg,
                anchor_m=None if each.anchor_m is None else there(each.anchor_m),
            )
            for each in sketch.supports
        ),
        loads=tuple(
            replace(load, direction_deg=load.direction_deg + angle_deg) if isinstance(load, Force) else load
            for load in sketch.loads
        ),
    )


# Textbook results, from memory of Beer & Johnston, "Vector Mechanics for Engineers: Dynamics", plane motion of rigid
# bodies: a rod released from rest about one end; a rod on two wires, one cut; a rod sliding down wall and floor.


def test_rod_about_one_end_starts_with_three_halves_of_g_over_its_length():
    found = release(Sketch(bodies=(rod(),), supports=(support("hinge", "pin"),)))
    assert found.alpha_rad_s2 == pytest.approx(-1.5 * G / LENGTH, rel=1e-12)
    assert found.acceleration_m_s2 == pytest.approx((0.0, -0.75 * G), abs=1e-12)
    assert held(found, "hinge").vector == pytest.approx((0.0, WEIGHT / 4.0), abs=1e-12)
    assert found.turning_centre_m == pytest.approx((0.5, -0.25), abs=1e-12)


def test_rod_on_two_upright_ropes_one_cut_leaves_a_quarter_of_the_weight_in_the_other():
    left = support("left", "rope", 0.0, anchor_m=(0.5, 3.0))
    right = support("right", "rope", LENGTH, anchor_m=(0.5 + LENGTH, 3.0))
    both = release(Sketch(bodies=(rod(),), supports=(left, right)))
    assert both.at_rest and held(both, "left").vector == pytest.approx((0.0, WEIGHT / 2.0))
    one = release(Sketch(bodies=(rod(),), supports=(left,)))
    assert held(one, "left").vector == pytest.approx((0.0, WEIGHT / 4.0), abs=1e-12)
    assert one.alpha_rad_s2 == pytest.approx(-1.5 * G / LENGTH, rel=1e-12)


@pytest.mark.parametrize("angle_deg", [20.0, 45.0, 70.0])
def test_ladder_on_a_smooth_wall_and_floor(angle_deg: float):
    # α = (3g/2L)·cos θ as it starts; N = mg·(1 − ¾·cos²θ), and the wall pushes with ¾·mg·sin θ·cos θ.
    floor = support("floor", "contact", 0.0, normal_deg=90.0)
    wall = support("wall", "contact", LENGTH, normal_deg=180.0)
    found = release(Sketch(bodies=(rod(angle_deg),), supports=(floor, wall)))
    cosine, sine = math.cos(math.radians(angle_deg)), math.sin(math.radians(angle_deg))
    assert found.alpha_rad_s2 == pytest.approx(-1.5 * G / LENGTH * cosine, rel=1e-12)
    assert held(found, "floor").vector == pytest.approx((0.0, WEIGHT * (1.0 - 0.75 * cosine**2)), abs=1e-9)
    assert held(found, "wall").vector == pytest.approx((-0.75 * WEIGHT * sine * cosine, 0.0), abs=1e-9)
    assert [each.mode for each in found.held] == ["holds", "holds"]


def test_rod_upright_in_mid_air_falls_without_turning():
    found = release(Sketch(bodies=(rod(90.0),)))
    assert found.acceleration_m_s2 == (0.0, -G)
    assert (found.alpha_rad_s2, found.turning_centre_m) == (0.0, None)


def test_blow_at_the_centre_of_percussion_leaves_the_hinge_without_a_part_across():
    # A push square to a hanging rod at two thirds of its length: from memory of any text on the centre of percussion.
    push = Force("push", "rod", (2.0 * LENGTH / 3.0, 0.0), "F", size_n=50.0, direction_deg=0.0)
    found = release(Sketch(bodies=(rod(-90.0),), supports=(support("hinge", "pin"),), loads=(push,)))
    assert held(found, "hinge").vector == pytest.approx((0.0, WEIGHT), abs=1e-9)
    assert found.alpha_rad_s2 == pytest.approx(50.0 * (2.0 / 3.0) * LENGTH / (MASS * LENGTH**2 / 3.0), rel=1e-12)


# What acts one way only


def test_rope_below_goes_slack_and_two_way_roller_does_not():
    hinge = support("hinge", "pin")
    rope = support("rope", "rope", LENGTH, anchor_m=(0.5 + LENGTH, -3.0))
    slack = release(Sketch(bodies=(rod(),), supports=(hinge, rope)))
    assert held(slack, "rope").mode == "lets go"
    assert held(slack, "rope").parting_m_s2 == pytest.approx(1.5 * G, rel=1e-12)
    roller = support("roller", "roller", LENGTH, normal_deg=270.0, two_way=True)
    kept = release(Sketch(bodies=(rod(),), supports=(hinge, roller)))
    assert kept.at_rest
    assert held(kept, "roller").vector == pytest.approx((0.0, WEIGHT / 2.0))


def test_contact_exactly_at_its_limit_touches_without_pushing():
    hinge = support("hinge", "pin", LENGTH / 2.0)
    found = release(Sketch(bodies=(rod(),), supports=(hinge, support("trestle", "contact", LENGTH))))
    assert found.at_rest
    assert held(found, "trestle").mode == "touches"


def test_thing_at_the_tip_is_left_behind_and_one_near_the_hinge_rides_along():
    hinge = support("hinge", "pin")

    def on(along_m: float) -> Release:
        thing = Thing("crate", "rod", (along_m, 0.0), "P", "crate", 1.5)
        return release(Sketch(bodies=(rod(),), supports=(hinge,), loads=(thing,)))

    tip = on(LENGTH)  # a rod's tip starts with 3g/2: it leaves the crate in the air
    assert tip.things[0].left and tip.things[0].push_n == (0.0, 0.0)
    assert tip.alpha_rad_s2 == pytest.approx(-1.5 * G / LENGTH, rel=1e-12)
    near = on(0.5)
    moment = MASS * LENGTH**2 / 3.0 + 1.5 * 0.25
    alpha = -(WEIGHT * LENGTH / 2.0 + 1.5 * G * 0.5) / moment
    assert not near.things[0].left
    assert near.alpha_rad_s2 == pytest.approx(alpha, rel=1e-12)
    assert near.things[0].push_n == pytest.approx((0.0, -1.5 * (G + 0.5 * alpha)), abs=1e-9)


def starts(sketch: Sketch, conditions: list[tuple[float, float, float]], riding: bool) -> float:
    """How hard the body presses its one thing upwards, over its mass, with and without the thing riding along.

    `conditions`: (direction x, y, place along the rod) of supports that act both ways. Plain equations with multipliers
    about the rod's own centre, the thing's mass added where it rides.
    """
    body, crate = sketch.bodies[0], next(load for load in sketch.loads if isinstance(load, Thing))
    turn = sum(
        load.couple_n_m * (1 if load.counterclockwise else -1) for load in sketch.loads if isinstance(load, Couple)
    )
    way = np.array([math.cos(math.radians(body.angle_deg)), math.sin(math.radians(body.angle_deg))])
    masses = np.diag([MASS, MASS, MASS * LENGTH**2 / 12.0])
    force = np.array([0.0, -WEIGHT, turn])
    arm = (crate.place_m[0] - LENGTH / 2.0) * way
    moves = np.array([[1.0, 0.0, -arm[1]], [0.0, 1.0, arm[0]]])  # of the crate's place
    if riding:
        masses = masses + crate.mass_kg * moves.T @ moves
        force = force + moves.T @ [0.0, -crate.mass_kg * G]
    rows = []
    for x, y, along in conditions:
        lever = (along - LENGTH / 2.0) * way
        rows.append([x, y, lever[0] * y - lever[1] * x])
    slope = np.array(rows)
    count = len(rows)
    whole = np.block([[masses, slope.T], [slope, np.zeros((count, count))]])
    motion = np.linalg.solve(whole, np.concatenate([force, np.zeros(count)]))[:3]
    return float((moves @ motion)[1] + G)


def test_two_outcomes_that_both_agree_with_themselves_are_said_to_be_two():
    """A crate that cannot slide, on a rod driven round: it may be carried along, or the rod leave it behind."""
    crate = Thing("crate", "rod", (LENGTH, 0.0), "P", "crate", 30.0)
    drive = Couple("drive", "rod", (1.0, 0.0), "M", couple_n_m=85.0, counterclockwise=False)
    sketch = Sketch(bodies=(rod(60.0),), supports=(support("hinge", "pin"),), loads=(crate, drive))
    held_at = [(1.0, 0.0, 0.0), (0.0, 1.0, 0.0)]
    assert starts(sketch, held_at, riding=True) > 0.0 > starts(sketch, held_at, riding=False)
    found = release(sketch)
    assert found.agreeing == 2
    assert motion(sketch, found) is None


def test_no_outcome_that_agrees_with_itself_is_said_to_be_none():
    crate = Thing("crate", "rod", (1.5, 0.0), "P", "crate", 30.0)
    rail = support("rail", "roller", 0.5, normal_deg=135.0, two_way=True)
    sketch = Sketch(bodies=(rod(30.0),), supports=(rail,), loads=(crate,))
    held_at = [(-math.sqrt(0.5), math.sqrt(0.5), 0.5)]
    assert starts(sketch, held_at, riding=True) < 0.0 < starts(sketch, held_at, riding=False)
    found = release(sketch)
    assert "agrees with itself" in found.trouble and not found.held


# What has no answer, and what needs none


def test_body_without_mass_says_so_unless_it_is_held():
    hinge, light = support("hinge", "pin"), rod(mass_kg=None)
    down = Force("load", "rod", (1.0, 0.0), "F", size_n=10.0)
    falls = release(Sketch(bodies=(light,), supports=(hinge,), loads=(down,)))
    assert "no mass" in falls.trouble and not falls.held
    rope = support("rope", "rope", LENGTH, anchor_m=(0.5 + LENGTH, 3.0))
    stays = release(Sketch(bodies=(light,), supports=(hinge, rope), loads=(down,)))
    assert (stays.trouble, stays.at_rest) == ("", True)
    assert held(stays, "rope").vector == pytest.approx((0.0, 5.0))


def test_letters_and_unknown_arrows_are_named_as_what_is_missing():
    hinge = support("hinge", "pin")
    letter = Force("load", "rod", (1.0, 0.0), "Q", size_n=None)
    assert "Q" in release(Sketch(bodies=(rod(),), supports=(hinge,), loads=(letter,))).trouble
    unknown = Force("load", "rod", (1.0, 0.0), "H", role="unknown", one_way=True)
    assert "H" in release(Sketch(bodies=(rod(),), supports=(hinge,), loads=(unknown,))).trouble


@pytest.mark.parametrize("slug", [each.slug for each in shelf.listing()])
def test_what_is_held_in_balance_stays_and_its_supports_give_the_reactions_of_statics(slug: str):
    sketch = shelf.load(slug)
    analysis = analyse(sketch)
    found = release(sketch)
    if analysis.supports.kind not in ("determinate", "indeterminate"):
        pytest.skip("not held")
    if found.trouble:
        assert any(reading.size_n is None for reading in analysis.readings), found.trouble
        return
    assert found.at_rest and found.acceleration_m_s2 == (0.0, 0.0) and found.alpha_rad_s2 == 0.0
    for each in found.held:
        reading = analysis.reading(each.force.id)
        for mine, theirs in ((each.vector, reading.vector), (each.couple_n_m, reading.couple_n_m)):
            assert mine == (None if theirs is None else pytest.approx(theirs, abs=1e-8 * analysis.force_scale_n))


def test_arrows_that_balance_to_their_figures_leave_it_at_rest():
    arrows = [("a", 0.0, 6.67, 90.0), ("b", 1.0, 10.0, 270.0), ("c", 3.0, 3.33, 90.0)]
    bar = replace(rod(), length_m=3.0)
    loads = tuple(Force(name, "rod", (at, 0.0), name, size_n=size, direction_deg=way) for name, at, size, way in arrows)
    above = replace(Sketch().settings, seen_from="above")
    sketch = Sketch(bodies=(bar,), loads=loads, settings=above)
    assert analyse(sketch).balance.kind == "to-the-figures"
    assert release(sketch).at_rest
    pushed = replace(sketch, loads=(*loads[:2], replace(loads[2], size_n=3.5)))
    assert not release(pushed).at_rest


def test_a_body_on_which_nothing_acts_stays():
    above = replace(Sketch().settings, seen_from="above")
    found = release(Sketch(bodies=(rod(),), settings=above))
    assert (found.trouble, found.at_rest, found.held) == ("", True, ())


def test_two_pins_on_a_moving_line_leave_the_share_between_them_open():
    left = support("left", "roller", 0.0, normal_deg=90.0, two_way=True)
    right = [support(name, "roller", along, normal_deg=90.0, two_way=True) for name, along in (("b", 1.0), ("c", 2.0))]
    push = Force("push", "rod", (1.0, 0.0), "F", size_n=6.0, direction_deg=0.0)
    found = release(Sketch(bodies=(rod(),), supports=(left, *right), loads=(push,)))
    assert found.acceleration_m_s2 == pytest.approx((2.0, 0.0), abs=1e-12)
    assert not found.unique
    assert all(each.vector is None for each in found.held)


def test_turning_and_moving_the_whole_sketch_turns_the_answer_with_it():
    hinge = support("hinge", "pin")
    push = Force("push", "rod", (1.6, 0.0), "F", size_n=20.0, direction_deg=110.0)
    sketch = replace(
        Sketch(bodies=(rod(25.0),), supports=(hinge,), loads=(push,)),
        settings=replace(Sketch().settings, seen_from="above"),
    )
    plain, moved = release(sketch), release(turned(sketch, 77.0, (1e3, -2e3)))
    assert moved.alpha_rad_s2 == pytest.approx(plain.alpha_rad_s2, rel=1e-9)
    assert moved.acceleration_m_s2 == pytest.approx(rotate(plain.acceleration_m_s2, 77.0), rel=1e-9)
    assert held(moved, "hinge").vector == pytest.approx(rotate(held(plain, "hinge").vector, 77.0), abs=1e-8)


def random_sketch(dice: random.Random) -> Sketch:
    body = rod(dice.uniform(-180.0, 180.0))
    supports = []
    for index in range(dice.randint(0, 5)):
        kind = dice.choice(["pin", "roller", "roller", "rope", "rope", "strut", "contact", "contact"])
        if kind == "pin" and index:
            kind = "rope"
        anchor = (dice.uniform(-4.0, 4.0), dice.uniform(-4.0, 4.0)) if kind in ("rope", "strut") else None
        supports.append(
            Support(
                f"s{index}", kind, "rod", (dice.uniform(0.0, LENGTH), 0.0), f"S_{index}", "x",
                dice.uniform(0.0, 360.0), dice.random() < 0.3, anchor,
            )
        )  # fmt: skip
    loads: list[Force | Couple | Thing] = [
        Force(
            "f", "rod", (dice.uniform(0.0, 2.0), 0.0), "F",
            size_n=dice.uniform(0.0, 60.0), direction_deg=dice.uniform(0.0, 360.0),
        ),
        Couple("c", "rod", (1.0, 0.0), "C", couple_n_m=dice.uniform(0.0, 30.0), counterclockwise=dice.random() < 0.5),
    ]  # fmt: skip
    return Sketch(bodies=(body,), supports=tuple(supports), loads=tuple(loads[: dice.randint(0, 2)]))


def test_acceleration_is_the_nearest_to_the_free_one_that_every_support_allows():
    """scipy's non-negative least squares finds the same start, for 400 random sketches of up to five supports."""
    dice = random.Random(20260317)
    for _ in range(400):
        sketch = random_sketch(dice)
        found = release(sketch)
        body = sketch.bodies[0]
        angle = math.radians(body.angle_deg)
        along = np.array([math.cos(angle), math.sin(angle)])
        origin = np.array(body.origin_m)
        radius = LENGTH / math.sqrt(12.0)

        def wrench(place: float, way: np.ndarray) -> np.ndarray:
            arm = (place - LENGTH / 2.0) * along  # noqa: B023
            return np.array([way[0], way[1], (arm[0] * way[1] - arm[1] * way[0]) / radius])  # noqa: B023

        force = np.array([0.0, -WEIGHT, 0.0])
        for load in sketch.loads:
            if isinstance(load, Force):
                way = np.array([math.cos(math.radians(load.direction_deg)), math.sin(math.radians(load.direction_deg))])
                force = force + load.size_n * wrench(load.place_m[0], way)
            else:
                turn = 1.0 if load.counterclockwise else -1.0
                force = force + np.array([0.0, 0.0, turn * load.couple_n_m / radius])
        columns: list[np.ndarray] = []
        for each in sketch.supports:
            place = each.place_m[0]
            if each.kind == "pin":
                ways, both = [np.array([1.0, 0.0]), np.array([0.0, 1.0])], True
            elif each.anchor_m is not None:
                gap = np.array(each.anchor_m) - (origin + place * along)
                ways, both = [gap / np.linalg.norm(gap)], each.kind == "strut"
            else:
                normal = math.radians(each.normal_deg)
                ways = [np.array([math.cos(normal), math.sin(normal)])]
                both = each.kind == "roller" and each.two_way
            for way in ways:
                columns.append(wrench(place, way))
                if both:
                    columns.append(-wrench(place, way))
        motion = force / MASS
        if columns:
            matrix = np.array(columns).T
            motion = (force + matrix @ nnls(matrix, -force)[0]) / MASS
        mine = np.array([*found.acceleration_m_s2, found.alpha_rad_s2 * radius])
        assert mine == pytest.approx(motion, abs=1e-7 * (np.linalg.norm(force) / MASS + 1.0)), sketch
        assert found.agreeing == 1


def test_reactions_give_the_mass_its_acceleration():
    dice = random.Random(7)
    checked = 0
    for _ in range(200):
        sketch = random_sketch(dice)
        found = release(sketch)
        if not found.unique:
            continue
        checked += 1
        total = np.zeros(3)
        centre = np.array(found.own.centre_m)
        for reading in analyse(sketch).readings:
            if reading.force.role == "known":
                vector = np.array(reading.vector or (0.0, 0.0))
                arm = np.array(reading.force.point) - centre
                total += [*vector, (reading.couple_n_m or 0.0) + arm[0] * vector[1] - arm[1] * vector[0]]
        for each in found.held:
            arm = np.array(each.force.point) - centre
            total += [*each.vector, arm[0] * each.vector[1] - arm[1] * each.vector[0]]
        wanted = [MASS * part for part in found.acceleration_m_s2]
        assert total == pytest.approx([*wanted, found.own.moment_kg_m2 * found.alpha_rad_s2], abs=1e-6)
    assert checked > 100
