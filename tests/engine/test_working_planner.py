"""The planner finds a chain of one-unknown equations wherever one exists, by brute force with numpy."""

import itertools

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from sketch_bank import BANK
from steelyard import statics
from steelyard.statics.advice import REACH_LEVERS, ends_of
from steelyard.working.laws import laws_of
from steelyard.working.planner import plan
from steelyard.working.steps import work
from strategies import holding_sketches
from working_cases import SKETCHES, Matrix


def line_of(matrix, key):
    """Normal form of a part's line: fy·x − fx·y = torque."""
    fx, fy, torque = matrix.wrenches[key]
    return np.array([fy, -fx]), torque * matrix.lever


def brute_sums(matrix, analysis, reach):
    """Every pivot and axis worth trying: points of application, crossings of unknown lines, x, y, square to lines."""
    forces = [key for key in matrix.keys if matrix.wrenches[key][:2].any()]
    lines = [key for key in forces if key not in matrix.spread]
    points = [
        np.array(reading.force.point if reading.force.face is None or reading.force.about_to else reading.force.face[0])
        for reading in analysis.readings
    ]
    home = points[[r.force.role for r in analysis.readings].index("unknown")]
    for first, second in itertools.combinations(lines, 2):
        (normal, offset), (other, shift) = line_of(matrix, first), line_of(matrix, second)
        if abs(np.cross([*normal, 0.0], [*other, 0.0])[2]) < 1e-9:
            continue
        where = np.linalg.solve(np.array([normal, other]), [offset, shift])
        if np.linalg.norm(where - home) <= reach * matrix.lever:
            points.append(where)
    axes = [np.array([1.0, 0.0]), np.array([0.0, 1.0])]
    axes += [np.array([-matrix.wrenches[key][1], matrix.wrenches[key][0]]) for key in forces]
    for point in points:
        span = matrix.lever + np.linalg.norm(point)
        left = (key for key in matrix.keys if abs(matrix.share(key, point=point)) > 1e-8 * span)
        yield frozenset(left) | matrix.spread
    for axis in axes:
        yield frozenset(key for key in matrix.keys if abs(matrix.share(key, axis=axis)) > 1e-8)


def brute_reach(matrix, analysis, reach=REACH_LEVERS, laws=()):
    """The most unknowns any chain of one-unknown sums finds: a closure, since finding more never hurts."""
    sums = set(brute_sums(matrix, analysis, reach)) | {frozenset(law[:2]) for law in laws}
    found = set()
    while True:
        fresh = {next(iter(each - found)) for each in sums if len(each - found) == 1}
        if not fresh:
            return found
        found |= {next(iter(fresh))}


HELD = [name for name, sketch in SKETCHES.items() if Matrix(statics.analyse(sketch)).keys]


def check_plan(sketch):
    analysis = statics.analyse(sketch)
    matrix = Matrix(analysis)
    made = plan(analysis, extra=ends_of(sketch, analysis), laws=laws_of(r.force for r in analysis.readings))
    alone = brute_reach(matrix, analysis)
    # What a contact about to slide tells is used where the sums do not find everything.
    reachable = alone if alone == set(matrix.keys) else brute_reach(matrix, analysis, laws=matrix.laws)
    singles = {move.finds[0] for move in made.moves if move.partner is None and move.finds}
    if reachable == set(matrix.keys):
        assert all(len(move.finds) == 1 and move.partner is None for move in made.moves)
        assert len(made.moves) == len(matrix.keys)
    assert reachable <= singles
    if analysis.supports.kind in ("determinate", "impossible") and analysis.supports.degree == 0:
        assert made.unfound == ()
    # The order is one that can be worked: each equation leaves only what is found later, and one more.
    found = set()
    for move in made.moves:
        if move.partner is None and move.finds:
            assert set(move.advice.left) - found == set(move.finds)
        found |= set(move.finds)
    return made


@pytest.mark.parametrize("name", HELD)
def test_plan_finds_one_unknown_at_a_time_wherever_brute_force_can(name):
    check_plan(SKETCHES[name])


@settings(max_examples=300, deadline=None, suppress_health_check=list(HealthCheck))
@given(holding_sketches())
def test_random_held_sketches_are_planned_as_brute_force_says(sketch):
    check_plan(sketch)


def test_bank_is_large_and_mostly_held():
    assert len(BANK) >= 50


def test_nearly_parallel_lines_are_solved_as_a_pair():
    """Lines a degree apart cross hundreds of metres away: a pivot there could not be drawn."""
    analysis = statics.analyse(BANK["nearly parallel struts"])
    moves = plan(analysis).moves
    assert [len(move.finds) for move in moves] == [0, 2, 1]
    assert moves[1].partner is moves[0].advice


def test_own_pivot_comes_first_says_what_it_leaves_and_which_would_do_better():
    sketch = BANK["pin and rope"]
    analysis = statics.analyse(sketch)
    made = plan(analysis, first_pivot=(5.0, 0.0), extra=ends_of(sketch, analysis))
    first = made.moves[0]
    assert first.chosen and first.finds == ("hinge.y",)
    made = plan(analysis, first_pivot=(3.0, 0.0), extra=ends_of(sketch, analysis))
    first = made.moves[0]
    assert first.left == ("hinge.y", "rope") and first.finds == ()
    assert first.better is not None and first.better.point == (0.0, 0.0) and first.better.left == ("rope",)
    assert made.unfound == ()
    said = work(sketch, analysis).steps
    assert said[-1].kind == "answer"


def test_own_order_is_followed():
    analysis = statics.analyse(BANK["fixed end, slanting load and weight"])
    made = plan(analysis, order=("y", (0.0, 0.0), "x"))
    assert [move.finds for move in made.moves] == [("wall.y",), ("wall-couple",), ("wall.x",)]


def test_two_own_equations_with_the_same_unknowns_are_solved_together():
    analysis = statics.analyse(BANK["pin and rope"])
    made = plan(analysis, order=((3.0, 0.0), "y"))
    assert made.moves[1].finds == ("hinge.y", "rope") or made.moves[2].finds == ("hinge.y", "rope")
    assert any(move.partner is not None for move in made.moves)


def test_check_uses_a_point_not_used_before():
    for sketch in BANK.values():
        analysis = statics.analyse(sketch)
        if not Matrix(analysis).keys:
            continue
        made = plan(analysis, extra=ends_of(sketch, analysis))
        used = [move.advice.point for move in made.moves]
        assert made.check is None or made.check.point not in used
