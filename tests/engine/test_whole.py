"""Joined bodies: the whole against dense numpy, every body and every group in equilibrium, third-law pairs opposite."""

from __future__ import annotations

import math
import random
from dataclasses import replace

import frames
import numpy as np
import pytest
from scipy.optimize import linprog
from steelyard.errors import SteelyardError
from steelyard.model import Body, Force, Sketch, Support, Thing
from steelyard.statics import analyse, joined, kept_back, structure
from steelyard.statics.advice import Part
from steelyard.statics.argument import judge
from steelyard.statics.isolate import acting_forces
from steelyard.statics.reading import Analysis, ForceReading
from steelyard.statics.theorems import theorems
from steelyard.statics.whole_equations import whole_equations

SEEDS = range(100)


def solved_dense(sketch: Sketch) -> tuple[frames.Dense, np.ndarray, float, list[bool]]:
    """The least-squares answer in numpy, what it leaves of the sums, and which unknowns have one value."""
    made = frames.dense(sketch)
    answer, *_ = np.linalg.lstsq(made.matrix, -made.applied, rcond=1e-9)
    left = float(np.abs(made.matrix @ answer + made.applied).max())
    _, sizes, right = np.linalg.svd(made.matrix)
    null = right[int((sizes > 1e-7).sum()) :]
    return made, answer, left, [bool(np.abs(null[:, index]).max(initial=0.0) < 1e-6) for index in range(len(made.keys))]


def parts_of(analysis: Analysis) -> dict[tuple[str, str], float | None]:
    """The values of all unknowns of a system by force and part."""
    found: dict[tuple[str, str], float | None] = {}
    for reading in analysis.readings:
        force = reading.force
        if force.role == "known":
            continue
        if force.sought == "size and direction":
            found[force.id, "x"], found[force.id, "y"] = reading.components_n
        elif force.along is None:
            found[force.id, "couple"] = reading.couple_n_m
        else:
            size = reading.size_n
            found[force.id, "size"] = None if size is None else -size if reading.against_drawn else size
    return found


def joined_seeds() -> list[int]:
    """Frames in which all bodies hang together, as numpy's one set of equations has it."""
    return [seed for seed in SEEDS if len(joined.connected(frames.random_frame(seed), ["bar0"])) > 1]


@pytest.mark.parametrize("seed", SEEDS)
def test_rank_balance_and_values_are_those_of_dense_numpy(seed):
    sketch = frames.random_frame(seed)
    made, answer, left, fixed = solved_dense(sketch)
    whole = structure.assembled(sketch, [body.id for body in sketch.bodies])
    found = structure.solution(whole)
    assert {(key.force, key.part) for key in whole.keys} == set(made.keys)
    assert found.factors.rank == made.rank()
    scale = max(1.0, np.abs(made.applied).max(), np.abs(answer).max(initial=0.0))
    assert found.consistent is bool(left <= 1e-7 * scale)
    by_key = {(key.force, key.part): column for column, key in enumerate(whole.keys)}
    for index, key in enumerate(made.keys):
        column = by_key[key]
        assert found.fixed[column] is fixed[index]
        value = found.values[column]
        if found.consistent and fixed[index]:
            assert value * whole.units_m[column] == pytest.approx(answer[index], rel=1e-7, abs=1e-7 * scale)
        else:
            assert value is None


def is_determinate(seed: int) -> bool:
    """Whether numpy finds one answer for a frame."""
    made = frames.dense(frames.random_frame(seed, balanced=True))
    return made.matrix.shape[0] == made.matrix.shape[1] == made.rank()


DETERMINATE = [seed for seed in range(1000, 1100) if is_determinate(seed)]


@pytest.mark.parametrize("seed", DETERMINATE)
def test_every_body_and_every_group_of_a_determinate_frame_is_in_equilibrium(seed):
    sketch = frames.random_frame(seed, balanced=True)
    whole = analyse(sketch, bodies=tuple(body.id for body in sketch.bodies))
    chance = random.Random(seed)
    names = [body.id for body in sketch.bodies]
    groups = [(name,) for name in names] + [
        tuple(chance.sample(names, chance.randint(2, len(names)))) for _ in range(3)
    ]
    assert whole.whole.kind in ("determinate", "impossible")  # the second where a contact or rope acts backwards
    by_front: dict[tuple[str, str], float] = {}
    for group in groups:
        analysis = analyse(sketch, bodies=group)
        total = np.zeros(3)
        largest = 1.0
        for reading in analysis.readings:
            force = reading.force
            if reading.vector is not None:
                x, y = force.point
                fx, fy = reading.vector
                total += (fx, fy, x * fy - y * fx)
                largest = max(largest, math.hypot(fx, fy) * max(1.0, abs(x) + abs(y)))
            elif reading.couple_n_m is not None:
                total[2] += reading.couple_n_m
                largest = max(largest, abs(reading.couple_n_m))
        assert np.abs(total).max() <= 1e-8 * largest
        # A third-law pair: the two readings are opposite wherever they are asked for.
        for key, value in parts_of(analysis).items():
            front = key[0].removesuffix("-back")
            sign = -1.0 if key[0].endswith("-back") and key[1] != "size" else 1.0
            assert by_front.setdefault((front, key[1]), sign * value) == pytest.approx(sign * value, abs=1e-8 * largest)


def test_forces_between_bodies_taken_as_one_are_left_out_but_a_rope_over_a_pulley_stays():
    for seed in joined_seeds():
        sketch = frames.random_frame(seed)
        chance = random.Random(seed)
        group = set(chance.sample([body.id for body in sketch.bodies], 2))
        ids = {force.id for force in acting_forces(sketch, *group)}
        for support in sketch.supports:
            inside = support.body in group and support.other in group
            if inside and support.over_m is None:
                assert not ids & {support.id, f"{support.id}-back", f"{support.id}-couple", f"{support.id}-couple-back"}
            elif inside:
                assert {support.id, f"{support.id}-back"} <= ids


LEFT = Body("left", "bar", "left leg", (0.0, 0.0), 60.0, length_m=4.0, weight_n=200.0)
RIGHT = Body("right", "bar", "right leg", (2.0, 4.0 * math.sin(math.pi / 3)), -60.0, length_m=4.0)
FRAME = Sketch(
    bodies=(LEFT, RIGHT),
    supports=(
        Support("foot", "pin", "left", (0.0, 0.0), "A"),
        Support("heel", "pin", "right", (4.0, 0.0), "B"),
        Support("top", "pin", "left", (4.0, 0.0), "C", other="right"),
    ),
    loads=(Force("load", "right", (2.0, 0.0), "P", size_n=500.0), Thing("lamp", "left", (1.0, 0.0), "N", "lamp", 3.0)),
)


def test_verdict_speaks_of_the_whole_and_of_each_part_alone():
    analysis = analyse(FRAME)
    whole = analysis.whole
    assert (analysis.body, analysis.bodies, whole.bodies) == ("left", ("left",), ("left", "right"))
    assert (whole.unknowns, whole.equations, whole.rank, whole.kind, whole.degree) == (6, 6, 6, "determinate", 0)
    assert analysis.supports.kind == "determinate"
    assert [(part.unknowns, part.rank, part.degree, part.settled) for part in whole.parts] == [(4, 3, 1, True)] * 2
    assert whole.parts[0].sentence == (
        "Taken alone, the left leg has four unknowns for its three equations; together with the right leg each has one "
        "answer."
    )


def test_system_is_the_one_asked_for_then_the_sketchs_own_then_one_body():
    isolated = replace(FRAME, isolated=("right", "left"))
    assert analyse(isolated, body_id="left").bodies == ("left", "right")
    assert analyse(isolated, bodies=("right",)).bodies == ("right",)
    assert analyse(FRAME, body_id="right").bodies == ("right",)
    with pytest.raises(SteelyardError) as caught:
        analyse(FRAME, bodies=("left", "mast"))
    assert caught.value.code == "statics.no-body"


def test_thing_taken_with_its_body_gives_its_weight_instead_of_its_push():
    alone = next(force for force in acting_forces(FRAME, "left") if force.id == "lamp")
    taken = next(force for force in acting_forces(FRAME, "left", "lamp") if force.id == "lamp")
    assert (alone.type, alone.by, alone.on) == ("contact", "lamp", "left leg")
    assert (taken.type, taken.by, taken.on) == ("gravity", "Earth", "lamp")
    assert (taken.point, taken.size_n, taken.along) == (alone.point, alone.size_n, alone.along)
    with_lamp, without = analyse(FRAME, bodies=("left", "lamp")), analyse(FRAME, bodies=("left",))
    assert with_lamp.system == ("left", "lamp")
    assert parts_of(with_lamp) == parts_of(without)


def test_rope_over_a_pulley_pulls_both_of_its_bodies_equally_and_is_one_unknown():
    # Two hanging masses on one rope: a beam of 300 N held at its left end by a hinge, the other body hanging free.
    beam = Body("beam", "bar", "beam", (0.0, 0.0), 0.0, length_m=4.0, weight_n=300.0)
    weight = Body("weight", "bar", "weight", (5.5, 1.0), 0.0, length_m=1.0)
    rope = Support("rope", "rope", "beam", (4.0, 0.0), "T", anchor_m=(0.5, 0.0), other="weight", over_m=(4.0, 6.0))
    sketch = Sketch(
        bodies=(beam, replace(weight, weight_n=150.0, origin_m=(3.5, 1.0))),
        supports=(Support("hinge", "pin", "beam", (0.0, 0.0), "A"), rope),
    )
    first, second = analyse(sketch, bodies=("beam",)), analyse(sketch, bodies=("weight",))
    both = analyse(sketch, bodies=("beam", "weight"))
    # Moments about the hinge: 300 · 2 = T · 4, and the hanging body needs T = 150 as well.
    assert first.reading("rope").size_n == pytest.approx(150.0, rel=1e-12)
    assert second.reading("rope-back").size_n == pytest.approx(150.0, rel=1e-12)
    assert second.balance.kind == "balanced"
    assert [both.reading(each).size_n for each in ("rope", "rope-back")] == pytest.approx([150.0, 150.0], rel=1e-12)
    assert both.whole.unknowns == 3


def test_mechanism_is_named_with_the_bodies_that_can_move_and_a_motion_no_unknown_resists():
    loose = replace(FRAME, supports=(*FRAME.supports[:1], *FRAME.supports[2:]))
    whole = analyse(loose).whole
    assert (whole.kind, whole.degree, len(whole.motions)) == ("mechanism", 2, 2)
    made = frames.dense(loose)
    for motion in whole.motions:
        # The power of every unknown on the motion: velocities of the bodies' middles and their turning.
        rates = []
        for body, (vx, vy, omega) in zip(loose.bodies, motion, strict=True):
            x, y = frames.place(body, (body.length_m / 2.0, 0.0))
            rates += [vx - omega * y, vy + omega * x, omega]
        assert np.abs(rates @ made.matrix).max() < 1e-12
        assert np.abs(rates).max() > 0.1


def test_indeterminate_whole_says_its_degree_and_fixes_the_components_that_numpy_finds_fixed():
    tie = Support("tie", "strut", "left", (1.0, 0.0), "S", anchor_m=(3.0, 0.0), other="right")
    propped = replace(FRAME, supports=(*FRAME.supports, tie))
    analysis = analyse(propped)
    assert (analysis.supports.kind, analysis.supports.degree) == ("indeterminate", 1)
    assert not analysis.whole.parts[0].settled
    made, answer, _, fixed = solved_dense(propped)
    foot = analysis.reading("foot")
    assert foot.component_fixed == tuple(fixed[made.keys.index(("foot", part))] for part in "xy") == (False, True)
    assert foot.components_n == (None, pytest.approx(answer[made.keys.index(("foot", "y"))], rel=1e-9))


def test_one_way_contact_that_would_have_to_pull_makes_the_whole_impossible_wherever_it_is():
    lifted = replace(
        FRAME,
        supports=(*FRAME.supports, Support("stop", "contact", "right", (3.0, 0.0), "D", normal_deg=90.0)),
        bodies=FRAME.bodies,
    )
    guide = Support("heel", "roller", "right", (4.0, 0.0), "B", normal_deg=0.0, two_way=True)
    kept_supports = tuple(each for each in lifted.supports if each.id != "heel")
    push = Force("load", "right", (2.0, 0.0), "P", size_n=500.0, direction_deg=90.0)
    fewer = replace(lifted, supports=(*kept_supports, guide), loads=(push,))
    analysis = analyse(fewer, bodies=("left",))
    assert (analysis.supports.kind, analysis.supports.failing, analysis.whole.failing) == ("impossible", (), ("stop",))
    assert analyse(fewer, bodies=("right",)).supports.failing == ("stop",)
    kept = kept_back(analysis)
    assert kept.supports.kind == kept.whole.kind == "determinate"
    assert "No balance" not in kept.supports.sentence + kept.whole.sentence
    assert kept.whole.failing == ()


def test_link_held_at_two_points_only_tells_the_line_of_its_joint_on_the_other_body():
    beam = Body("beam", "bar", "beam", (0.0, 0.0), 0.0, length_m=4.0)
    stay = Body("stay", "bar", "stay", (0.0, -3.0), 45.0, length_m=3.0 * math.sqrt(2.0))
    sketch = Sketch(
        bodies=(beam, stay),
        supports=(
            Support("hinge", "pin", "beam", (0.0, 0.0), "A"),
            Support("joint", "pin", "beam", (3.0, 0.0), "C", other="stay"),
            Support("ground", "pin", "stay", (0.0, 0.0), "G"),
        ),
        loads=(Force("load", "beam", (4.0, 0.0), "P", size_n=500.0),),
    )
    analysis = analyse(sketch, bodies=("beam",))
    two, three = theorems(analysis)
    assert (two.kind, two.forces, two.member) == ("two-force", ("joint",), "the stay")
    joint = analysis.reading("joint").vector
    assert two.direction[0] * joint[1] == pytest.approx(two.direction[1] * joint[0], rel=1e-12)
    # Three forces: the line of the stay and the load's meet above the tip, and the hinge's force runs through there.
    assert (three.kind, three.implies, three.point) == ("three-forces", "hinge", pytest.approx((4.0, 1.0)))
    hinge = analysis.reading("hinge").vector
    assert hinge[0] * three.direction[1] == pytest.approx(hinge[1] * three.direction[0], rel=1e-12)
    weighing = replace(sketch, bodies=(beam, replace(stay, weight_n=10.0)))
    assert not [each for each in theorems(analyse(weighing, bodies=("beam",))) if each.member]


def test_lone_body_is_answered_as_before_and_a_large_and_a_small_one_together_are_judged_each_by_its_own_measure():
    assert analyse(replace(FRAME, supports=FRAME.supports[:2])).whole is None
    # A rod of a micrometre pinned to a boom of a kilometre, and held by a roller at its end.
    boom = Body("boom", "bar", "boom", (0.0, 0.0), 0.0, length_m=1000.0, weight_n=50.0)
    rod = Body("rod", "bar", "rod", (1000.0, 0.0), 90.0, length_m=1e-6)
    sketch = Sketch(
        bodies=(boom, rod),
        supports=(
            Support("hinge", "pin", "boom", (0.0, 0.0), "A"),
            Support("joint", "pin", "boom", (1000.0, 0.0), "C", other="rod"),
            Support("guide", "roller", "rod", (1e-6, 0.0), "R", normal_deg=0.0, two_way=True),
            Support("post", "roller", "boom", (500.0, 0.0), "P", two_way=True),
        ),
        loads=(Force("load", "rod", (1e-6, 0.0), "F", size_n=8.0, direction_deg=180.0),),
    )
    analysis = analyse(sketch, bodies=("rod",))
    assert analysis.supports.kind == "determinate"
    # The push of 8 N is met by the guide alone; nothing reaches the boom but its own weight on the post.
    assert analysis.reading("guide").size_n == pytest.approx(8.0, rel=1e-9)
    assert analysis.reading("joint-back").size_n == pytest.approx(0.0, abs=1e-6)
    assert analyse(sketch, bodies=("boom",)).reading("post").size_n == pytest.approx(50.0, rel=1e-9)


def test_equations_of_the_whole_close_body_by_body_with_the_values_shown():
    for seed in DETERMINATE:
        sketch = frames.random_frame(seed, balanced=True)
        found = whole_equations(sketch, analyse(sketch, bodies=("bar0",)))
        scale = max(abs(each.value) for each in found.unknowns)
        for each in found.bodies:
            assert np.abs(each.left_over).max() <= 1e-8 * scale * 20.0
            total = np.array(each.applied)
            for column, wrench in each.wrenches:
                total += np.array(wrench) * found.unknowns[column].value
            assert total == pytest.approx(each.left_over, abs=1e-7 * scale)
        assert found.rank == found.equations == len(found.unknowns)
        assert min(found.pivots) > found.limit and found.margin > 1.0


@pytest.mark.parametrize("seed", range(2000, 2080))
def test_whole_is_impossible_exactly_when_highs_finds_no_admissible_answer(seed):
    """Ropes pull and contacts push only; with more unknowns than equations some other answer may do."""
    sketch = frames.random_frame(seed)
    made = frames.dense(sketch)
    scale = max(1.0, np.abs(made.applied).max())
    limits = [(0.0, None) if only else (None, None) for only in made.one_way]
    found = linprog(np.zeros(len(made.keys)), A_eq=made.matrix, b_eq=-made.applied / scale, bounds=limits)
    assert found.status in (0, 2)
    whole = structure.solution(structure.assembled(sketch, [body.id for body in sketch.bodies]))
    assert (whole.consistent is True and not whole.wrong_way) is (found.status == 0)


def test_sense_argued_from_one_system_is_the_sense_it_has_in_the_whole():
    """Whatever is certain of an unknown from the sums of one body, or of a group, must be so when all are solved."""
    argued = 0
    for seed in DETERMINATE[:30]:
        sketch = frames.random_frame(seed, balanced=True)
        names = [body.id for body in sketch.bodies]
        for system in [(name,) for name in names] + [tuple(names[:2]), tuple(names)]:
            analysis = analyse(sketch, bodies=system)
            if analysis.whole.failing:
                continue  # then no sense is the right one
            values = parts_of(analysis)
            for reading in analysis.readings:
                if reading.force.role == "known" or reading.cannot:
                    continue
                for stage in judge(analysis, reading.force.id).stages:
                    if stage.verdict not in ("certain", "numbers") or not stage.strict:
                        continue
                    value = values[reading.force.id, stage.part.which]
                    drawn = _drawn(reading, stage.part)
                    nothing = 1e-9 * analysis.force_scale_n * max(1.0, analysis.lever_m)
                    assert (value * drawn > nothing) - (value * drawn < -nothing) == stage.sign
                    argued += 1
    assert argued > 50


def _drawn(reading: ForceReading, part: Part) -> float:
    """Plus one where the part counts the way the reading's components do."""
    if part.which == "couple":
        return float(part.turn)
    if part.which == "size":
        return 1.0
    return reading.force.along["xy".index(part.which)]
