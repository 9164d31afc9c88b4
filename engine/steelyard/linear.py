"""Small dense linear algebra that says its rank: solve, and null spaces.

Matrices are given as sequences of columns, each a sequence of floats. The caller scales the rows, so
that all entries are pure numbers of order one; the tolerances below are then free of units and size.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

# Coordinates are doubles: a body 1 mm long and 1 km away keeps ten digits of its own shape. What is
# smaller than this part of the largest column is rounding, not geometry.
RANK_TOLERANCE = 1e-9

# A null vector is known to about machine precision over the smallest pivot that counts (1e-16 / 1e-9).
FIXED_TOLERANCE = 1e-7

# Each rotation of a sweep halves the digits still to come: ten sweeps are many more than doubles need.
JACOBI_SWEEPS = 10

Column = Sequence[float]


@dataclass(frozen=True, slots=True)
class Factor:
    """Householder factors of a matrix with column pivoting: A·P = Q·R.

    `order` is P (column indices, the first `rank` of them independent). `upper` holds the columns of R
    in that order. `reflectors` are the unit Householder vectors, each starting at its own row.
    """

    rows: int
    rank: int
    order: tuple[int, ...]
    upper: tuple[list[float], ...]
    reflectors: tuple[list[float], ...]

    def turned(self, right_side: Column) -> list[float]:
        """Qᵀ times a vector."""
        result = list(right_side)
        for start, reflector in enumerate(self.reflectors):
            _reflect(result, reflector, start)
        return result

    def turned_back(self, vector: Column) -> list[float]:
        """Q times a vector."""
        result = list(vector)
        for start in range(len(self.reflectors) - 1, -1, -1):
            _reflect(result, self.reflectors[start], start)
        return result


def _reflect(vector: list[float], reflector: list[float], start: int) -> None:
    """vector -= 2 v (v·vector), in place, for rows from `start`."""
    total = 0.0
    for index, part in enumerate(reflector, start):
        total += part * vector[index]
    total *= 2.0
    for index, part in enumerate(reflector, start):
        vector[index] -= total * part


def factor(columns: Sequence[Column], rows: int) -> Factor:
    """Factor a matrix and find its rank: pivots below `RANK_TOLERANCE` of the first count as zero.

    Source: Golub & Van Loan, Matrix Computations, "QR with column pivoting". For three rows the last
    pivot is within a small factor of the smallest singular value. No columns: rank 0.
    """
    work = [list(column) for column in columns]
    order = list(range(len(work)))
    reflectors: list[list[float]] = []
    least = 0.0
    for step in range(min(rows, len(work))):
        best = step
        best_norm = -1.0
        for index in range(step, len(work)):
            norm = math.hypot(*work[index][step:])
            if norm > best_norm * (1.0 + 1e-12):  # ties keep the drawing's order
                best, best_norm = index, norm
        if best_norm <= least:
            break
        if step == 0:
            least = best_norm * RANK_TOLERANCE
        if best != step:
            work[step], work[best] = work[best], work[step]
            order[step], order[best] = order[best], order[step]
        reflector = work[step][step:]
        pivot = -best_norm if reflector[0] > 0.0 else best_norm
        reflector[0] -= pivot
        size = math.hypot(*reflector)
        reflector = [part / size for part in reflector]
        column = work[step]
        column[step] = pivot
        for index in range(step + 1, rows):
            column[index] = 0.0
        for index in range(step + 1, len(work)):
            _reflect(work[index], reflector, step)
        reflectors.append(reflector)
    return Factor(rows, len(reflectors), tuple(order), tuple(work), tuple(reflectors))


def solve(factors: Factor, right_side: Column) -> tuple[list[float], float]:
    """A solution of A·x = b with the dependent columns at zero, and the length of what is left of b.

    The left-over is the part of b outside the reach of the columns: zero when the system has a solution.
    """
    turned = factors.turned(right_side)
    rank = factors.rank
    solution = [0.0] * len(factors.order)
    found = [0.0] * rank
    for row in range(rank - 1, -1, -1):
        value = turned[row]
        for index in range(row + 1, rank):
            value -= factors.upper[index][row] * found[index]
        found[row] = value / factors.upper[row][row]
        solution[factors.order[row]] = found[row]
    return solution, math.hypot(*turned[rank:])


def null_space(factors: Factor) -> list[list[float]]:
    """An orthonormal basis of the x with A·x = 0, in the order of the columns as given."""
    count = len(factors.order)
    basis: list[list[float]] = []
    for free in range(factors.rank, count):
        vector = [0.0] * count
        vector[factors.order[free]] = 1.0
        found = [0.0] * factors.rank
        for row in range(factors.rank - 1, -1, -1):
            value = -factors.upper[free][row]
            for index in range(row + 1, factors.rank):
                value -= factors.upper[index][row] * found[index]
            found[row] = value / factors.upper[row][row]
            vector[factors.order[row]] = found[row]
        for _ in range(2):  # Gram-Schmidt: twice is enough (Kahan, Parlett)
            for other in basis:
                part = sum(mine * theirs for mine, theirs in zip(vector, other, strict=True))
                vector = [mine - part * theirs for mine, theirs in zip(vector, other, strict=True)]
        size = math.hypot(*vector)
        basis.append([part / size for part in vector])
    return basis


def fixed_unknowns(factors: Factor) -> list[bool]:
    """Which unknowns have a single value in every solution: those no null vector moves."""
    moved = [0.0] * len(factors.order)
    for vector in null_space(factors):
        for index, part in enumerate(vector):
            moved[index] = max(moved[index], abs(part))
    return [part <= FIXED_TOLERANCE for part in moved]


def left_null_space(factors: Factor) -> list[list[float]]:
    """An orthonormal basis of the y with yᵀ·A = 0."""
    basis = []
    for row in range(factors.rank, factors.rows):
        unit = [0.0] * factors.rows
        unit[row] = 1.0
        basis.append(factors.turned_back(unit))
    return basis


def weakest(factors: Factor) -> tuple[float, list[float]]:
    """Smallest over largest singular value of a matrix of full row rank, and the left vector of the smallest.

    One-sided Jacobi on the rows of R: accurate to the last digits even for the smallest value.
    Source: Golub & Van Loan, "Jacobi SVD procedures" (Hestenes).
    """
    sizes, left = _decomposed(factors)
    smallest = min(range(factors.rows), key=sizes.__getitem__)
    return sizes[smallest] / max(sizes), factors.turned_back(left[smallest])


def singular_values(factors: Factor) -> tuple[float, ...]:
    """The singular values, largest first, as many as the matrix has rows; all zero without columns."""
    return tuple(sorted(_decomposed(factors)[0], reverse=True))


def _decomposed(factors: Factor) -> tuple[list[float], list[list[float]]]:
    """The singular values of R in no order, and the left vectors that belong to them."""
    rows = factors.rows
    work = [[column[row] for column in factors.upper] for row in range(rows)]
    left = [[1.0 if row == column else 0.0 for column in range(rows)] for row in range(rows)]
    for _ in range(JACOBI_SWEEPS):
        turned = False
        for first in range(rows - 1):
            for second in range(first + 1, rows):
                turned |= _make_square(work, left, first, second)
        if not turned:
            break
    return [math.hypot(*row) for row in work], left


def _make_square(work: list[list[float]], left: list[list[float]], first: int, second: int) -> bool:
    """Turn two rows until they are square to each other; False when they already are."""
    one, two = work[first], work[second]
    one_squared = sum(part * part for part in one)
    two_squared = sum(part * part for part in two)
    mixed = sum(mine * theirs for mine, theirs in zip(one, two, strict=True))
    if abs(mixed) <= 1e-16 * math.sqrt(one_squared * two_squared):
        return False
    zeta = (two_squared - one_squared) / (2.0 * mixed)
    tangent = math.copysign(1.0, zeta) / (abs(zeta) + math.hypot(1.0, zeta))
    cosine = 1.0 / math.hypot(1.0, tangent)
    sine = cosine * tangent
    for table in (work, left):
        old_one, old_two = table[first], table[second]
        table[first] = [cosine * mine - sine * theirs for mine, theirs in zip(old_one, old_two, strict=True)]
        table[second] = [sine * mine + cosine * theirs for mine, theirs in zip(old_one, old_two, strict=True)]
    return True
