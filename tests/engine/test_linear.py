"""The rank-revealing solver against numpy, and the one-way program against scipy."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import linprog
from steelyard import linear
from steelyard.program import feasible

ENTRY = st.integers(-8, 8).map(lambda count: count / 4)


@st.composite
def matrices(draw: st.DrawFn) -> list[list[float]]:
    """Columns of three small exact entries, some of them sums of others, so every rank comes up."""
    columns = draw(st.lists(st.lists(ENTRY, min_size=3, max_size=3), min_size=1, max_size=6))
    for _ in range(draw(st.integers(0, 2))):
        first, second = draw(st.sampled_from(columns)), draw(st.sampled_from(columns))
        columns.append([one - other for one, other in zip(first, second, strict=True)])
    return columns


@settings(max_examples=400, deadline=None)
@given(matrices())
def test_rank_is_numpys(columns):
    assert linear.factor(columns, 3).rank == np.linalg.matrix_rank(np.array(columns).T)


@settings(max_examples=300, deadline=None)
@given(matrices(), st.lists(ENTRY, min_size=3, max_size=3))
def test_solution_leaves_what_least_squares_leaves(columns, right_side):
    matrix = np.array(columns).T
    solution, left_over = linear.solve(linear.factor(columns, 3), right_side)
    best = np.linalg.lstsq(matrix, np.array(right_side), rcond=None)[0]
    smallest = np.linalg.norm(matrix @ best - right_side)
    assert left_over == pytest.approx(smallest, abs=1e-12)
    assert np.linalg.norm(matrix @ solution - right_side) == pytest.approx(smallest, abs=1e-12)


@settings(max_examples=300, deadline=None)
@given(matrices())
def test_null_spaces_are_orthonormal_and_null(columns):
    matrix = np.array(columns).T
    factors = linear.factor(columns, 3)
    right, left = np.array(linear.null_space(factors)), np.array(linear.left_null_space(factors))
    assert len(right) == len(columns) - factors.rank
    assert len(left) == 3 - factors.rank
    if len(right):
        assert np.allclose(matrix @ right.T, 0.0, atol=1e-12)
        assert np.allclose(right @ right.T, np.eye(len(right)), atol=1e-12)
    if len(left):
        assert np.allclose(left @ matrix, 0.0, atol=1e-12)
        assert np.allclose(left @ left.T, np.eye(len(left)), atol=1e-12)


@settings(max_examples=300, deadline=None)
@given(matrices())
def test_fixed_unknowns_are_those_outside_the_null_space(columns):
    matrix = np.array(columns).T
    # x_i has one value exactly when the unit row e_i is a combination of the rows of the matrix.
    rank = np.linalg.matrix_rank(matrix)
    expected = [
        np.linalg.matrix_rank(np.vstack([matrix, np.eye(len(columns))[index]])) == rank for index in range(len(columns))
    ]
    assert linear.fixed_unknowns(linear.factor(columns, 3)) == expected


@settings(max_examples=300, deadline=None)
@given(matrices())
def test_weakest_direction_is_numpys_smallest_singular_value(columns):
    factors = linear.factor(columns, 3)
    if factors.rank < 3:
        return
    matrix = np.array(columns).T
    left, sizes, _ = np.linalg.svd(matrix)
    ratio, direction = linear.weakest(factors)
    assert ratio == pytest.approx(sizes[2] / sizes[0], rel=1e-9)
    if sizes[1] > 1.01 * sizes[2]:
        assert abs(np.dot(direction, left[:, 2])) == pytest.approx(1.0, abs=1e-9)


def test_smallest_singular_value_keeps_its_digits_beside_a_large_one():
    # By hand: columns (1, 0, 0), (0, 1, 0), (0, 0, e) have the singular values 1, 1, e.
    factors = linear.factor([[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1e-7]], 3)
    assert linear.weakest(factors)[0] == pytest.approx(1e-7, rel=1e-12)


def test_no_columns_have_rank_zero_and_leave_everything():
    factors = linear.factor([], 3)
    assert factors.rank == 0
    assert linear.solve(factors, [3.0, 0.0, 4.0]) == ([], 5.0)


def test_rank_drops_only_below_the_stated_tolerance():
    for gap, rank in ((1e-8, 2), (1e-10, 1)):
        assert linear.factor([[1.0, 0.0, 0.0], [1.0, gap, 0.0]], 3).rank == rank


@settings(max_examples=500, deadline=None)
@given(matrices(), st.lists(ENTRY, min_size=8, max_size=8), st.lists(st.booleans(), min_size=8, max_size=8))
def test_one_way_program_reaches_the_optimum_of_scipys(columns, shares, one_way):
    matrix = np.array(columns).T
    right_side = matrix @ np.array(shares[: len(columns)])
    flags = one_way[: len(columns)]
    found = np.array(feasible(columns, list(right_side), flags).values)
    assert np.allclose(matrix @ found, right_side, atol=1e-9)
    backwards = sum(max(0.0, -value) for value, flag in zip(found, flags, strict=True) if flag)
    # The same program for HiGHS: forward parts, then backward parts, which cost 1 when one-way.
    cost = [0.0] * len(columns) + [float(flag) for flag in flags]
    best = linprog(cost, A_eq=np.hstack([matrix, -matrix]), b_eq=right_side, bounds=(0, None))
    assert best.status == 0
    assert backwards == pytest.approx(best.fun, abs=1e-7)
