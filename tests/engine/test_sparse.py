"""The sparse elimination against numpy: rank, solutions, null spaces, determinants, and ranks that hide."""

from __future__ import annotations

import numpy as np
import pytest
from steelyard import sparse


def rows_of(matrix: np.ndarray) -> list[sparse.Row]:
    return [{column: float(value) for column, value in enumerate(row) if value} for row in matrix]


def random_matrix(seed: int) -> np.ndarray:
    """A sparse matrix of any shape, often with dependent rows or columns."""
    chance = np.random.default_rng(seed)
    rows, columns = chance.integers(1, 20, 2)
    matrix = chance.normal(size=(rows, columns)) * (chance.random((rows, columns)) < chance.choice([0.2, 0.5, 1.0]))
    for _ in range(int(chance.integers(0, 3))):
        if rows > 2:
            one, two, three = chance.integers(0, rows, 3)
            matrix[one] = 2.0 * matrix[two] - matrix[three]
        if columns > 2:
            one, two, three = chance.integers(0, columns, 3)
            matrix[:, one] = matrix[:, two] + 0.5 * matrix[:, three]
    return matrix


@pytest.mark.parametrize("seed", range(100))
def test_rank_solutions_and_null_spaces_are_those_of_numpy(seed):
    matrix = random_matrix(seed)
    rows, columns = matrix.shape
    made = sparse.eliminate(rows_of(matrix), columns)
    rank = np.linalg.matrix_rank(matrix, tol=1e-9)
    assert made.rank == rank
    wanted = matrix @ np.random.default_rng(seed).normal(size=columns)
    found, left = sparse.solve(made, wanted)
    assert matrix @ found == pytest.approx(wanted, abs=1e-9)
    assert left == pytest.approx([0.0] * (rows - rank), abs=1e-9)
    null, left_null = sparse.null_vectors(made), sparse.left_null_vectors(made)
    assert (len(null), len(left_null)) == (columns - rank, rows - rank)
    for vector in null:
        assert max(map(abs, vector)) == 1.0
        assert matrix @ vector == pytest.approx(np.zeros(rows), abs=1e-9)
    for vector in left_null:
        assert vector @ matrix == pytest.approx(np.zeros(columns), abs=1e-9)
    if null:
        assert np.linalg.matrix_rank(np.array(null), tol=1e-9) == len(null)
    moved = np.abs(np.linalg.svd(matrix)[2][rank:]).max(axis=0, initial=0.0) > 1e-7
    assert sparse.fixed_unknowns(made) == [not each for each in moved]


@pytest.mark.parametrize("seed", range(40))
def test_determinant_and_smallest_singular_value_are_those_of_numpy(seed):
    chance = np.random.default_rng(seed)
    count = int(chance.integers(1, 15))
    matrix = chance.normal(size=(count, count))
    made = sparse.eliminate(rows_of(matrix), count)
    sign, size = np.linalg.slogdet(matrix)
    assert sparse.determinant(made) == (sign, pytest.approx(size, abs=1e-9))
    # Inverse iteration comes down to the smallest singular value from above; three rounds come near.
    smallest = np.linalg.svd(matrix, compute_uv=False)[-1]
    assert smallest * (1.0 - 1e-9) <= made.smallest <= 2.0 * smallest


def test_singular_matrix_whose_pivots_all_look_fair_is_found_out():
    """Ones on the diagonal and −1 above it: pivots of one, smallest singular value about 2 to the power −n.

    Source: Golub & Van Loan, "Matrix Computations", on condition and pivots, from memory.
    """
    count = 60
    matrix = np.eye(count) - np.triu(np.ones((count, count)), 1)
    assert np.linalg.matrix_rank(matrix, tol=1e-12) == count - 1
    assert sparse.eliminate(rows_of(matrix), count).rank == count - 1


def test_no_columns_and_no_entries_have_rank_zero():
    assert sparse.eliminate([{}, {}, {}], 0).rank == 0
    made = sparse.eliminate([{}, {}], 3)
    assert (made.rank, made.free, made.left) == (0, (0, 1, 2), (0, 1))
    assert sparse.determinant(made) == (0.0, -np.inf)


def test_band_of_a_chain_is_eliminated_without_filling_up():
    chance = np.random.default_rng(5)
    count = 300
    matrix = np.zeros((count, count))
    for row in range(count):
        for column in range(max(0, row - 2), min(count, row + 3)):
            matrix[row, column] = chance.normal()
    made = sparse.eliminate(rows_of(matrix), count)
    assert made.rank == count
    assert sum(map(len, made.upper)) <= 12 * count
