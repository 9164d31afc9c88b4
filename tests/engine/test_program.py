"""The linear programs of statics against scipy's HiGHS, exact fractions, and answers worked out by hand."""

import math

import exact_program
import numpy as np
import pytest
import random_programs
from random_programs import System, wrench
from scipy.optimize import linprog
from steelyard.program import Bound, Program, feasible, ranges

SKETCHES = 10_000
WITH_RANGES = 25  # every so many of them, the range of one unknown
WITH_LEAST = 20  # every so many of them, the least violation

# Sketches with contacts of a hundred million times their normal in which digits are easily lost.
HARD = (11639, 14295, 22297, 25980, 26700, 35425, 57078)

# Balance and conditions hold within this part of the largest force: the tolerance that the engine states.
ROUNDING = 1e-9
# Ranges equal HiGHS's to this part of the largest force; its own tolerance is the same.
EQUAL = 1e-7


def highs(system: System, cost, slack: bool = False):
    """The same program for HiGHS, in forces of order one, and the scale of the forces.

    With `slack`, each condition may be violated at a cost of one: |x| − k·n in units of max(1, k).
    """
    columns, right_side, one_way, bounds = system
    count = len(columns)
    scale = max(map(abs, right_side)) or 1.0
    conditions = [np.eye(count)[index] for index, way in enumerate(one_way) if way]
    for bound in bounds:
        most = max(1.0, bound.factor)
        for sense in (1.0, -1.0):
            row = np.zeros(count)
            row[bound.normal], row[bound.column] = bound.factor / most, sense / most
            conditions.append(row)
    equal, least = np.array(columns).T, -np.array(conditions).reshape(-1, count)
    limits = [(None, None)] * count
    if slack:
        extra = len(conditions)
        equal = np.hstack([equal, np.zeros((len(right_side), extra))])
        least = np.hstack([least, -np.eye(extra)])
        limits += [(0, None)] * extra
        cost = [0.0] * count + [1.0] * extra
    found = linprog(
        cost, A_ub=least, b_ub=np.zeros(len(least)), A_eq=equal, b_eq=np.array(right_side) / scale, bounds=limits
    )
    return found, scale


def lacks(system: System, values) -> float:
    """How much the worst condition lacks, in the same units as the least violation."""
    found = [-values[index] for index, way in enumerate(system.one_way) if way]
    for bound in system.bounds:
        over = abs(values[bound.column]) - bound.factor * values[bound.normal]
        found.append(over / max(1.0, bound.factor))
    return max(found, default=0.0)


def assert_admissible(system: System, values, right_side) -> None:
    """The values balance to the last digits and keep all conditions within rounding."""
    values = np.array(values)
    largest = max(np.abs(right_side).max(), np.abs(values).max(), 1e-300)
    assert np.abs(np.array(system.columns).T @ values - right_side).max() <= 1e-12 * largest
    assert lacks(system, values) <= ROUNDING * largest


def assert_proves_infeasible(system: System, motion, scale: float) -> None:
    """No admissible set of unknowns does negative work on the motion, and to balance the loads it would have to."""
    work = np.array(system.columns) @ np.array(motion)
    needed = float(np.dot(motion, np.array(system.right_side) / scale))
    assert needed < 0.0
    tied = {bound.column for bound in system.bounds}
    for index, way in enumerate(system.one_way):
        if index in tied:
            continue
        own = [bound for bound in system.bounds if bound.normal == index]
        # The least work of a normal of one newton: its friction and its place at their worst.
        least = work[index] - sum(bound.factor * abs(work[bound.column]) for bound in own)
        rounding = 1e-9 * max([1.0, *(bound.factor for bound in own)])
        if way or own:
            assert least >= -rounding
        else:
            assert abs(work[index]) <= rounding


def assert_range_is(system: System, index: int, sense: float, end, scale: float) -> bool:
    """The end of a range is HiGHS's, else the exact one; whether HiGHS had no answer or another one.

    Where it has none and ours is infinite, the ray proves it, which balances and keeps all conditions (asserted of
    every ray): exact fractions know no rounding of coordinates, so lines through one point miss each other there.
    """
    largest = max(1.0, max(map(abs, end.values)) / scale)
    cost = np.zeros(len(system.columns))
    cost[index] = -sense
    found, _ = highs(system, cost)
    expected = -sense * found.fun if found.status == 0 else sense * math.inf if found.status == 3 else math.nan
    value = end.value / scale
    if value == expected or abs(value - expected) <= EQUAL * largest:
        return False
    if math.isnan(expected) and end.ray is not None:
        return True
    exact = exact_program.greatest(*system, {index: sense})
    if exact == "unbounded":
        assert value == sense * math.inf
    else:
        assert value == pytest.approx(sense * float(exact) / scale, abs=EQUAL * largest)
    return True


@pytest.mark.slow
def test_ten_thousand_random_sketches_are_feasible_or_not_as_for_highs():
    """HiGHS forgives 1e-7 of the largest force and now and then gives up: where it differs, exact fractions decide.

    What is admissible there must be ours; what we alone take as admissible must be so within the stated rounding,
    which is asserted of every answer; and where we alone say that nothing is, the motion proves it.
    """
    exactly = admissible = 0
    for seed in range(SKETCHES):
        system = random_programs.system(seed)
        program = Program(*system)
        outcome = program.outcome
        found, scale = highs(system, np.zeros(len(system.columns)))
        if outcome.admissible != (found.status == 0):
            exactly += 1
            if exact_program.greatest(*system, {}) != "infeasible":
                assert outcome.admissible, seed
        if not outcome.admissible:
            assert outcome.motion is not None
            assert_proves_infeasible(system, outcome.motion, scale)
            continue
        admissible += 1
        assert_admissible(system, outcome.values, system.right_side)
    assert 0.3 * SKETCHES < admissible < 0.7 * SKETCHES
    assert exactly < 0.002 * SKETCHES


def test_ranges_of_random_sketches_are_those_of_highs():
    otherwise = ends = 0
    for seed in (*range(0, SKETCHES, WITH_RANGES), *HARD):
        system = random_programs.system(seed)
        program = Program(*system)
        if not program.outcome.admissible:
            continue
        scale = max(map(abs, system.right_side)) or 1.0
        for index in range(0, len(system.columns), 2):
            found = program.range_of({index: 1.0})
            for sense, end in ((-1.0, found.least), (1.0, found.greatest)):
                ends += 1
                assert_admissible(system, end.values, system.right_side)
                otherwise += assert_range_is(system, index, sense, end, scale)
                if end.ray is None:
                    assert end.value == end.values[index]
                else:
                    assert_admissible(system, end.ray, np.zeros(len(system.right_side)))
                    assert sense * end.ray[index] > 0.0
    assert ends > 1000
    assert otherwise < 0.01 * ends


def test_least_violation_of_random_sketches_is_that_of_highs():
    compared = 0
    for seed in range(1, SKETCHES, WITH_LEAST):
        system = random_programs.system(seed)
        outcome = feasible(*system)
        if outcome.admissible or any(outcome.left_over):
            continue
        found, scale = highs(system, None, slack=True)
        if found.status != 0:
            continue
        compared += 1
        values = [value / scale for value in outcome.values]
        total = sum(max(0.0, -value) for value, way in zip(values, system.one_way, strict=True) if way)
        for bound in system.bounds:
            for sense in (1.0, -1.0):
                short = sense * values[bound.column] - bound.factor * values[bound.normal]
                total += max(0.0, short) / max(1.0, bound.factor)
        assert total == pytest.approx(found.fun, abs=EQUAL * max(1.0, *map(abs, values))), seed
        assert any(outcome.backward) or any(outcome.excess)
    assert compared > 50


def rough(point, normal, friction, place=None):
    """The columns of a rough contact: its normal, its friction to the left of that, and its couple if it is a face."""
    columns = [wrench(point, normal), wrench(point, (-normal[1], normal[0]))]
    return (columns, [Bound(1, 0, friction)]) if place is None else (
        [*columns, (0.0, 0.0, 1.0)], [Bound(1, 0, friction), Bound(2, 0, place)]
    )  # fmt: skip


LADDER = (wrench((0, 0), (0, 1)), wrench((0, 0), (1, 0)), wrench((2, 4), (-1, 0)), wrench((2, 4), (0, 1)))
LADDER_LOAD = (0.0, 100.0, 100.0)  # 100 N down at (1, 2)


def test_ladder_rough_at_both_ends_has_the_range_found_by_hand():
    # With f up at the wall: floor N = 100 − f; torques about the foot: 100·1 = 4·wall + 2·f, so wall = 25 − f/2.
    # |f| ≤ 0.2·wall: f ≤ 0.2·(25 − f/2) gives f ≤ 5/1.1, and −f ≤ 0.2·(25 − f/2) gives f ≥ −5/0.9.
    # The floor needs wall ≤ 0.4·(100 − f), which holds all along.
    bounds = [Bound(1, 0, 0.4), Bound(3, 2, 0.2)]
    floor, _, wall, up = ranges(LADDER, LADDER_LOAD, (True, False, True, False), bounds)
    assert (up.least.value, up.greatest.value) == pytest.approx((-5 / 0.9, 5 / 1.1), rel=1e-12)
    assert (floor.least.value, floor.greatest.value) == pytest.approx((100 - 5 / 1.1, 100 + 5 / 0.9), rel=1e-12)
    assert (wall.least.value, wall.greatest.value) == pytest.approx((25 - 2.5 / 1.1, 25 + 2.5 / 0.9), rel=1e-12)
    assert up.greatest.values == pytest.approx((100 - 5 / 1.1, 25 - 2.5 / 1.1, 25 - 2.5 / 1.1, 5 / 1.1), rel=1e-12)


def test_ladder_that_slips_lacks_friction_and_is_seen_to_slide():
    outcome = feasible(LADDER, LADDER_LOAD, (True, False, True, False), [Bound(1, 0, 0.1), Bound(3, 2, 0.1)])
    assert not outcome.admissible
    assert outcome.backward == (0.0, 0.0, 0.0, 0.0)
    assert sum(outcome.excess) > 1.0
    x, y, turning = outcome.motion
    assert x < 0.0  # the foot leaves the wall
    assert y + 2 * turning < 0.0  # the top comes down: velocity (x − 4·turning, y + 2·turning)


@pytest.mark.parametrize("angle_deg", (5.0, 17.3, 44.9, 80.0))
def test_block_on_a_slope_stands_at_its_very_limit_and_not_beyond(angle_deg):
    slope = math.radians(angle_deg)
    limit = math.tan(slope)
    normal = (-math.sin(slope), math.cos(slope))
    for friction, stands in ((limit, True), (limit * (1 - 1e-11), True), (limit * (1 - 1e-6), False)):
        columns, bounds = rough((0, 0), normal, friction)
        outcome = feasible(columns, (0.0, 50.0, 0.0), (True, False), bounds)
        assert outcome.admissible == stands
        if not stands:
            assert outcome.excess == pytest.approx((50 * 1e-6 * math.sin(slope),), rel=1e-5)


@pytest.mark.parametrize(("height", "stands"), ((1.0, True), (1.0 + 1e-6, False)))
def test_crate_tips_when_the_pressure_would_lie_off_its_face(height, stands):
    # 100 N down, 40 N level at `height`, a face 0.8 wide: the pressure lies 0.4·height from its middle.
    columns, bounds = rough((0, 0), (0, 1), 0.9, 0.4)
    outcome = feasible(columns, (-40.0, 100.0, 40.0 * height), (True, False, False), bounds)
    assert outcome.admissible == stands
    assert outcome.excess == pytest.approx((0.0, 0.0 if stands else 40e-6), rel=1e-6)


def test_rope_that_would_have_to_push_is_named_and_a_slack_one_is_not():
    # A bar on a roller at 0 with ropes at −1 and 1; the load stands over the roller, or beyond the second rope.
    columns = [wrench((place, 0), (0, 1)) for place in (0, -1, 1)]
    assert feasible(columns, (0.0, 10.0, 0.0), (True,) * 3).admissible
    slack = ranges(columns[:2], (0.0, 10.0, 0.0), (True,) * 2)
    assert [(found.least.value, found.greatest.value) for found in slack] == [(10.0, 10.0), (0.0, 0.0)]
    outcome = feasible(columns, (0.0, 10.0, 15.0), (True,) * 3)
    assert not outcome.admissible
    # Either the roller pulls with 5 or the rope at −1 pushes with 2.5: the least is said.
    assert outcome.backward == pytest.approx((0.0, 2.5, 0.0))
    assert outcome.values == pytest.approx((0.0, -2.5, 12.5))


def test_three_reactions_through_one_point_leave_a_turning_about_it():
    point = (0.3, 0.2)
    columns = [wrench(point, (math.cos(turn), math.sin(turn))) for turn in (0.1, 1.0, 2.5)]
    outcome = feasible(columns, (0.0, 10.0, 10.0), (False,) * 3)
    assert not outcome.admissible
    assert any(abs(part) > 1.0 for part in outcome.left_over)
    x, y, turning = outcome.motion
    assert (x, y) == pytest.approx((turning * point[1], -turning * point[0]), abs=1e-12)


def test_three_parallel_reactions_leave_a_sliding_across_them_and_share_in_every_way():
    columns = [wrench((place, 0), (0, 1)) for place in (-1, 0, 1)]
    assert feasible(columns, (5.0, 10.0, 0.0), (False,) * 3).motion == pytest.approx((-1.0, 0.0, 0.0))
    outer, middle, _ = ranges(columns, (0.0, 10.0, 0.0), (True,) * 3)
    assert (outer.least.value, outer.greatest.value) == pytest.approx((0.0, 5.0))
    assert (middle.least.value, middle.greatest.value) == pytest.approx((0.0, 10.0))
    free = ranges(columns, (0.0, 10.0, 0.0), (False,) * 3)[0].greatest
    assert free.value == math.inf
    assert free.ray == pytest.approx((0.5, -1.0, 0.5))


def test_no_loads_leave_zero_or_what_braces_itself():
    columns = [wrench((0, 0), (0, 1)), wrench((0, 1), (0, -1))]
    for found in ranges(columns, (0.0, 0.0, 0.0), (True, True)):
        assert (found.least.value, found.greatest.value) == (0.0, math.inf)
    for found in ranges(columns[:1], (0.0, 0.0, 0.0), (True,)):
        assert (found.least.value, found.greatest.value) == (0.0, 0.0)


def test_couple_alone_needs_two_contacts_that_face_each_other():
    up, down = wrench((1, 0), (0, 1)), wrench((-1, 0), (0, -1))
    assert feasible([up, down], (0.0, 0.0, 4.0), (True, True)).values == pytest.approx((2.0, 2.0))
    outcome = feasible([up, down], (0.0, 0.0, -4.0), (True, True))
    assert outcome.backward == pytest.approx((2.0, 2.0))


@pytest.mark.parametrize("friction", (1e6, 1e9, 1e12, math.inf))
def test_wedge_of_any_roughness_braces_itself_without_end(friction):
    columns, bounds = rough((0, 0), (1, 0), friction)
    other, _ = rough((1, 0), (-1, 0), friction)
    bounds.append(Bound(3, 2, friction))
    found = ranges([*columns, *other], (0.0, 10.0, 5.0), (True, False, True, False), bounds)
    assert found[0].least.value == pytest.approx(5.0 / friction, abs=1e-8)
    assert found[0].greatest.value == math.inf
    assert found[1].least.value == found[1].greatest.value == pytest.approx(5.0)


def test_smooth_contact_written_as_rough_without_friction_is_smooth():
    columns, bounds = rough((0, 0), (0, 1), 0.0)
    assert feasible(columns, (0.0, 10.0, 0.0), (True, False), bounds).values == (10.0, 0.0)
    assert feasible(columns, (1.0, 10.0, 0.0), (True, False), bounds).excess == pytest.approx((1.0,))


@pytest.mark.parametrize("unit", (1e-9, 1.0, 1e9))
def test_micrometre_beside_a_kilometre_is_not_lost(unit):
    # Contacts 1 µm apart at the end of a bar of 1 km, torques over 1 km: arms of 0 and 1e-9; both share the load.
    columns = [(0.0, 1.0, 0.0), (0.0, 1.0, 1e-6), (0.0, 1.0, 1.0)]
    near, far, _ = ranges(columns, (0.0, 10.0 * unit, 5e-6 * unit), (True,) * 3)
    assert (near.least.value, near.greatest.value) == pytest.approx((5.0 * unit, 10.0 * unit - 5e-6 * unit), rel=1e-9)
    assert (far.least.value, far.greatest.value) == pytest.approx((0.0, 5.0 * unit), abs=1e-9 * unit)


def test_form_of_several_unknowns_has_a_range_of_its_own():
    # The resultant of three parallel contacts is the load, however they share it.
    columns = [wrench((place, 0), (0, 1)) for place in (-1, 0, 1)]
    whole, difference = ranges(
        columns, (0.0, 10.0, 0.0), (True,) * 3, forms=({0: 1.0, 1: 1.0, 2: 1.0}, {0: 1.0, 1: -1.0})
    )
    assert (whole.least.value, whole.greatest.value) == pytest.approx((10.0, 10.0))
    assert (difference.least.value, difference.greatest.value) == pytest.approx((-10.0, 5.0))


def test_columns_by_row_answer_as_dense_ones():
    system = random_programs.system(5)
    sparse = [{row: part for row, part in enumerate(column) if part} for column in system.columns]
    assert feasible(sparse, *system[1:]) == feasible(*system)


def test_nothing_to_hold_and_nothing_to_find_are_answers():
    assert feasible([], (0.0, 0.0, 0.0), ()).admissible
    outcome = feasible([], (0.0, 3.0, 0.0), ())
    assert not outcome.admissible
    assert outcome.left_over == (0.0, 3.0, 0.0)
    assert outcome.motion == (0.0, -1.0, 0.0)
    assert ranges([], (0.0, 3.0, 0.0), ()) == ()
