"""Reactions: worked numbers, and properties over random sketches against an independent numpy solution."""

import math
from dataclasses import replace

import numpy as np
import pytest
import reference
import strategies
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from steelyard import shelf
from steelyard.model import Body, Couple, Force, Pivot, Settings, Sketch, Support, Thing
from steelyard.statics import analyse, isolate

BAR = Body("bar1", "bar", "plank", (0.0, 0.0), 0.0, length_m=4.0)
PIN = Support("pin1", "pin", "bar1", (0.0, 0.0), "A")
ROLLER = Support("roller1", "roller", "bar1", (4.0, 0.0), "B")


def gangway(**changes) -> Sketch:
    """The gangway: 6.0 m, 12° below level, 120 kg; 80 kg at 4.0 m; rope from 5.2 m to (1.2, 3.2)."""
    sketch = Sketch(
        bodies=(Body("gangway", "bar", "gangway", (0.0, 0.0), -12.0, length_m=6.0, mass_kg=120.0),),
        supports=(
            Support("hinge", "pin", "gangway", (0.0, 0.0), "R", agent="hinge"),
            Support("hoist", "rope", "gangway", (5.2, 0.0), "T", agent="hoist", anchor_m=(1.2, 3.2)),
        ),
        loads=(Thing("walker", "gangway", (4.0, 0.0), "P", "walker", 80.0),),
        settings=Settings(g_m_s2=9.80665),
    )
    return replace(sketch, **changes)


def test_gangway_gives_the_numbers_an_independent_solution_gives():
    # Solved here once more from nothing but the figures of the task.
    slope = math.radians(-12.0)
    along = np.array([math.cos(slope), math.sin(slope)])
    rope = np.array([1.2, 3.2]) - 5.2 * along
    rope /= np.linalg.norm(rope)
    weights = np.array([120.0, 80.0]) * 9.80665
    arms = np.array([3.0, 4.0]) * math.cos(slope)
    matrix = np.array(
        [[1.0, 0.0, rope[0]], [0.0, 1.0, rope[1]], [0.0, 0.0, 5.2 * (along[0] * rope[1] - along[1] * rope[0])]]
    )
    rx, ry, tension = np.linalg.solve(matrix, [0.0, weights.sum(), weights @ arms])
    analysis = analyse(gangway())
    hinge, hoist = analysis.reading("hinge"), analysis.reading("hoist")
    assert hoist.size_n == pytest.approx(tension, rel=1e-12)
    assert hinge.vector == pytest.approx((rx, ry), rel=1e-12)
    # The same as printed, to the digits printed.
    assert hoist.size_n == pytest.approx(2146.1, abs=0.05)
    assert hinge.size_n == pytest.approx(1489.8, abs=0.05)
    assert hinge.direction_deg == pytest.approx(14.47, abs=0.005)
    assert hoist.turning.arm_m == pytest.approx(3.039, abs=0.0005)
    assert analysis.balance.kind == "balanced"
    assert analysis.supports.kind == "determinate"


def test_gangway_on_the_shelf_is_that_gangway():
    analysis = analyse(shelf.load("gangway"))
    assert analysis.reading("hoist").size_n == pytest.approx(2146.1, abs=0.05)
    assert analysis.reading("hinge").size_n == pytest.approx(1489.8, abs=0.05)


def test_component_against_the_arrow_is_reported_with_the_same_size():
    drawn_left_down = gangway(
        supports=(replace(gangway().supports[0], drawn_deg=225.0), gangway().supports[1]),
    )
    usual, turned = analyse(gangway()).reading("hinge"), analyse(drawn_left_down).reading("hinge")
    assert usual.against_components == (False, False)
    assert turned.against_components == (True, True)
    assert turned.vector == usual.vector


@pytest.mark.parametrize(("drawn_deg", "against"), [(None, True), (180.0, False)])
def test_strut_that_pushes_goes_against_an_arrow_drawn_pulling(drawn_deg, against):
    # Bar from (0, 0), weightless, 100 N down at its end, held there from straight below: the strut pushes up.
    sketch = Sketch(
        bodies=(BAR,),
        supports=(
            PIN,
            Support("strut1", "strut", "bar1", (4.0, 0.0), "S", anchor_m=(4.0, -2.0), drawn_deg=drawn_deg),
        ),
        loads=(Force("load1", "bar1", (4.0, 0.0), "F", size_n=100.0),),
    )
    strut = analyse(sketch).reading("strut1")
    assert strut.vector == pytest.approx((0.0, 100.0), abs=1e-12)
    assert strut.against_drawn is against
    assert strut.cannot == ""


def test_fixed_end_takes_force_and_couple():
    # By hand: 50 N down at 4 m from the wall needs 50 N up and 200 N·m counterclockwise at the wall.
    sketch = Sketch(
        bodies=(BAR,),
        supports=(Support("wall", "fixed", "bar1", (0.0, 0.0), "R"),),
        loads=(Force("load1", "bar1", (4.0, 0.0), "F", size_n=50.0),),
    )
    analysis = analyse(sketch)
    assert analysis.reading("wall").vector == pytest.approx((0.0, 50.0), abs=1e-12)
    assert analysis.reading("wall-couple").couple_n_m == pytest.approx(200.0)
    assert analysis.reading("wall-couple").against_drawn is False


def test_couple_alone_on_a_beam_makes_a_pair_of_reactions():
    # By hand: 120 N·m clockwise on a 4 m span: 30 N up at B, 30 N down at A.
    sketch = Sketch(
        bodies=(BAR,),
        supports=(PIN, ROLLER),
        loads=(Couple("couple1", "bar1", (1.0, 0.0), "C", couple_n_m=120.0, counterclockwise=False),),
    )
    analysis = analyse(sketch)
    assert analysis.reading("pin1").vector == pytest.approx((0.0, -30.0), abs=1e-12)
    assert analysis.reading("roller1").vector == pytest.approx((0.0, 30.0), abs=1e-12)


def test_unloaded_body_has_no_reactions_and_is_balanced():
    analysis = analyse(Sketch(bodies=(BAR,), supports=(PIN, ROLLER)))
    assert analysis.reading("pin1").vector == (0.0, 0.0)
    assert analysis.reading("pin1").direction_deg is None
    assert analysis.reading("roller1").size_n == 0.0
    assert analysis.balance.kind == "balanced"
    assert analysis.reading("pin1").against_drawn is False


def test_unknown_couple_and_unknown_pair_are_found_like_a_fixed_end():
    sketch = Sketch(
        bodies=(BAR,),
        loads=(
            Force("load1", "bar1", (4.0, 0.0), "F", size_n=50.0),
            Force("grip", "bar1", (0.0, 0.0), "G", role="unknown", sought="size and direction"),
            Couple("twist", "bar1", (0.0, 0.0), "C", role="unknown", counterclockwise=False),
        ),
    )
    analysis = analyse(sketch)
    assert analysis.supports.kind == "determinate"
    assert analysis.reading("grip").vector == pytest.approx((0.0, 50.0), abs=1e-12)
    assert analysis.reading("grip").against_components == (False, True)  # drawn right and down
    assert analysis.reading("twist").couple_n_m == pytest.approx(200.0)
    assert analysis.reading("twist").against_drawn is True  # drawn clockwise


def test_reaction_that_no_letter_touches_still_has_its_value():
    # F, a letter, acts through the roller's own line, so the pin does not feel it; the roller does.
    sketch = Sketch(
        bodies=(BAR,),
        supports=(PIN, ROLLER),
        loads=(
            Force("load1", "bar1", (2.0, 0.0), "G", size_n=80.0),
            Force("load2", "bar1", (4.0, 0.0), "F"),
        ),
    )
    analysis = analyse(sketch)
    assert analysis.reading("pin1").vector == pytest.approx((0.0, 40.0), abs=1e-12)
    assert analysis.reading("roller1").vector is None
    assert analysis.balance.kind == "open"
    assert "F" in analysis.balance.sentence
    assert analysis.residual is None


def test_residual_counts_the_guess_and_the_answers_of_the_others():
    sketch = gangway()
    hinge = analyse(sketch).reading("hinge")
    guess = strategies.Guess(size_n=1000.0, direction_deg=30.0)
    guessed = replace(sketch, supports=(replace(sketch.supports[0], guess=guess), sketch.supports[1]))
    analysis = analyse(guessed)
    assert analysis.residual.fx_n == pytest.approx(1000.0 * math.cos(math.pi / 6) - hinge.vector[0])
    assert analysis.residual.fy_n == pytest.approx(500.0 - hinge.vector[1])
    assert analysis.residual.torque_n_m == pytest.approx(0.0, abs=1e-9)
    assert analysis.balance.kind == "unbalanced"
    # The answer itself is untouched by the guess.
    assert analysis.reading("hinge").vector == hinge.vector


def test_guess_typed_to_four_figures_balances_to_the_figures():
    sketch = gangway()
    guess = strategies.Guess(size_n=1490.0, direction_deg=14.47)
    guessed = replace(sketch, supports=(replace(sketch.supports[0], guess=guess), sketch.supports[1]))
    assert analyse(guessed).balance.kind == "to-the-figures"


def _vectors(analysis) -> dict[str, tuple[float, float, float]]:
    return {
        reading.force.id: (*(reading.vector or (0.0, 0.0)), reading.couple_n_m or 0.0) for reading in analysis.readings
    }


@settings(max_examples=600, deadline=None)
@given(strategies.holding_sketches(), strategies.PLACES)
def test_determinate_answers_close_every_sum_about_any_point_and_agree_with_numpy(sketch, point):
    analysis = analyse(sketch)
    assume(analysis.supports.kind in ("determinate", "impossible"))
    fx = fy = torque = scale = reach = 0.0
    for reading in analysis.readings:
        x, y = reading.force.point[0] - point[0], reading.force.point[1] - point[1]
        vx, vy = reading.vector or (0.0, 0.0)
        fx += vx
        fy += vy
        torque += x * vy - y * vx + (reading.couple_n_m or 0.0)
        scale = max(scale, math.hypot(vx, vy), abs(reading.couple_n_m or 0.0) / analysis.lever_m)
        reach = max(reach, math.hypot(x, y), analysis.lever_m)
    assert math.hypot(fx, fy) <= 1e-9 * scale
    assert abs(torque) <= 1e-9 * scale * reach
    expected = reference.solve(reference.assemble(sketch))
    if not analysis.supports.near:
        for (name, part), value in expected.items():
            reading = analysis.reading(name)
            if part == "couple":
                assert reading.couple_n_m == pytest.approx(value, abs=1e-9 * scale * reach)
            elif part == "size":
                signed = -reading.size_n if reading.against_drawn else reading.size_n
                assert signed == pytest.approx(value, abs=1e-9 * scale)
            else:
                assert reading.vector["xy".index(part)] == pytest.approx(value, abs=1e-9 * scale)


def _same_answers(first, second, turn_deg=0.0, length=1.0, force=1.0) -> None:
    """Verdict alike, and every vector the same but turned and scaled."""
    assert second.supports.kind == first.supports.kind
    assert second.supports.degree == first.supports.degree
    assert second.supports.still_fixed == first.supports.still_fixed
    assert second.supports.failing == first.supports.failing
    assert second.balance.kind == first.balance.kind
    cosine, sine = math.cos(math.radians(turn_deg)), math.sin(math.radians(turn_deg))
    weak = 1e-6 if first.supports.near or second.supports.near else 1e-9
    for before, after in zip(first.readings, second.readings, strict=True):
        limit = weak * max(first.force_scale_n, 1e-9) * force
        assert (before.vector is None) == (after.vector is None)
        if before.vector is not None:
            x, y = before.vector
            expected = (force * (x * cosine - y * sine), force * (x * sine + y * cosine))
            assert after.vector == pytest.approx(expected, abs=limit)
        assert (before.couple_n_m is None) == (after.couple_n_m is None)
        if before.couple_n_m is not None:
            span = length * max(first.lever_m, 1.0)
            assert after.couple_n_m == pytest.approx(before.couple_n_m * force * length, abs=limit * span)


def _robust(analysis) -> bool:
    """Not at the edge between two verdicts, where turning may round either way."""
    return not analysis.supports.near


@settings(max_examples=400, deadline=None)
@given(
    strategies.sketches(guesses=False),
    strategies.ANGLES,
    st.sampled_from([0.0, 3.0, -1000.0]),
    st.sampled_from([0.0, -7.5, 1000.0]),
)
def test_verdict_and_reactions_move_and_turn_with_the_sketch(sketch, turn_deg, dx, dy):
    weightless = replace(
        sketch,
        bodies=tuple(replace(body, mass_kg=None, weight_n=None, weight_symbol_only=False) for body in sketch.bodies),
        loads=tuple(load for load in sketch.loads if not isolate.weighs(load)),
    )
    # An unknown pair is sought along x and y, so turning it names other components.
    assume(all(support.kind not in ("pin", "fixed") for support in weightless.supports) or turn_deg % 90.0 == 0.0)
    assume(
        all(
            getattr(load, "role", "known") == "known" or getattr(load, "sought", "") != "size and direction"
            for load in weightless.loads
        )
        or turn_deg % 90.0 == 0.0
    )
    first = analyse(weightless)
    assume(_robust(first) and first.lever_m > 0.02)
    _same_answers(first, analyse(reference.moved(weightless, turn_deg, dx, dy)), turn_deg=turn_deg)


@settings(max_examples=400, deadline=None)
@given(
    strategies.sketches(guesses=False),
    st.sampled_from([1e-3, 0.25, 1e3]),
    st.sampled_from([1e-3, 1.0, 1e6]),
)
def test_verdict_does_not_depend_on_size_or_units(sketch, length, force):
    first = analyse(sketch)
    assume(_robust(first))
    _same_answers(first, analyse(reference.resized(sketch, length, force)), length=length, force=force)


@settings(max_examples=300, deadline=None)
@given(strategies.holding_sketches(), st.sampled_from([0.5, 2.0, -1.0]))
def test_reactions_are_linear_in_the_loads(sketch, factor):
    """f times the loads, f times the reactions; and the reactions of a sum are the sum of the reactions."""
    bare = replace(sketch, bodies=tuple(replace(body, mass_kg=None, weight_n=None) for body in sketch.bodies))
    forces = tuple(load for load in sketch.loads if isinstance(load, Force))
    assume(forces)
    whole = analyse(replace(bare, loads=forces))
    assume(whole.supports.kind == "determinate")
    turned = 180.0 if factor < 0.0 else 0.0
    scaled = tuple(
        replace(load, size_n=abs(factor) * load.size_n, direction_deg=load.direction_deg + turned) for load in forces
    )
    limit = 1e-6 * whole.force_scale_n
    for name, (x, y, couple) in _vectors(analyse(replace(bare, loads=scaled))).items():
        if name.startswith("support"):
            bx, by, bc = _vectors(whole)[name]
            assert (x, y) == pytest.approx((factor * bx, factor * by), abs=limit)
            assert couple == pytest.approx(factor * bc, abs=limit * max(1.0, whole.lever_m))
    singles = [_vectors(analyse(replace(bare, loads=(load,)))) for load in forces]
    for name, (x, y, couple) in _vectors(whole).items():
        if name.startswith("support"):
            assert x == pytest.approx(sum(single[name][0] for single in singles), abs=limit)
            assert y == pytest.approx(sum(single[name][1] for single in singles), abs=limit)
            assert couple == pytest.approx(
                sum(single[name][2] for single in singles), abs=limit * max(1.0, whole.lever_m)
            )


@settings(max_examples=200, deadline=None)
@given(strategies.sketches(), strategies.PLACES)
def test_pivot_changes_torques_but_no_verdict_and_no_reaction(sketch, point):
    first, second = analyse(sketch), analyse(replace(sketch, pivot=Pivot(point)))
    assert second.supports == first.supports
    assert second.balance.kind == first.balance.kind
    assert [reading.vector for reading in second.readings] == [reading.vector for reading in first.readings]
    if first.residual is not None:
        assert second.residual.fx_n == first.residual.fx_n
        # How the sum of torques changes with the pivot: by (old − new) × ΣF.
        dx, dy = first.pivot[0] - point[0], first.pivot[1] - point[1]
        expected = first.residual.torque_n_m + dx * first.residual.fy_n - dy * first.residual.fx_n
        limit = 1e-9 * max(first.force_scale_n, 1.0) * (first.lever_m + 100.0)
        assert second.residual.torque_n_m == pytest.approx(expected, abs=limit)
