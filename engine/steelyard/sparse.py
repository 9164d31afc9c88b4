"""Sparse elimination that says its rank: for many equations with a few unknowns each.

The equations of a structure are three a body, and an unknown is in those of two bodies at most, so a chain of bodies
is eliminated body by body in a time that grows with its length only. Rows are dictionaries from column to entry. The
caller scales them, so that all entries are pure numbers of order one.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Sequence
from dataclasses import dataclass

from .linear import FIXED_TOLERANCE, RANK_TOLERANCE

# A pivot is at least this part of the largest entry left in its row, and of that in its column: "threshold rook
# pivoting", which keeps pivots as telling about the rank as complete pivoting and leaves room to choose sparse ones.
# Source: Gill, Murray, Saunders, "SNOPT", section on basis factors, from memory.
ROOK_SHARE = 0.2

# Pivots may all be fair and the matrix singular all the same. A smallest singular value below this part of the largest
# entry is the rounding of coordinates carried through a structure.
SINGULAR_TOLERANCE = 1e-12

# What is left of an entry after a subtraction, when no more than this part of it, is the rounding of the two.
_CANCELLED = 4e-16

# Columns looked at for a sparser pivot once one has been found (Zlatev: more are not worth their time).
_LOOKED_AT = 3

_ITERATIONS = 3

Row = dict[int, float]


@dataclass(frozen=True, slots=True)
class Elimination:
    """A matrix eliminated as far as its rank goes.

    `steps` are (row, column) of the pivots in order. `upper` holds each pivot row as it was then, `lower` for each
    step the rows it was taken from and how many times. `left` are rows without a pivot, `free` columns without one.
    `largest` is the largest entry to begin with, `rest` the largest entry not counted as a pivot.
    `smallest` estimates the smallest singular value of the pivots' block.
    """

    rows: int
    columns: int
    steps: tuple[tuple[int, int], ...]
    upper: tuple[Row, ...]
    lower: tuple[tuple[tuple[int, float], ...], ...]
    left: tuple[int, ...]
    free: tuple[int, ...]
    largest: float
    rest: float
    smallest: float

    @property
    def rank(self) -> int:
        """How many pivots count."""
        return len(self.steps)

    @property
    def pivots(self) -> tuple[float, ...]:
        """The sizes of the pivots beside the largest entry, in order."""
        pairs = zip(self.steps, self.upper, strict=True)
        return tuple(abs(row[column]) / self.largest for (_, column), row in pairs)


def eliminate(rows: Sequence[Row], columns: int) -> Elimination:
    """Eliminate and decide the rank: pivots below `RANK_TOLERANCE` of the largest entry count as zero.

    That bounds the rank from above, since a change no larger than what is left makes the matrix one of that rank. From
    below it is confirmed by the smallest singular value of the pivots' block, by inverse iteration; when that is
    rounding, the row and column it lives in are set aside and the rest eliminated anew.
    Source: T. F. Chan, "On the existence and computation of LU-factorizations with small pivots" (1984), from memory.
    """
    aside_rows: set[int] = set()
    aside_columns: set[int] = set()
    while True:
        made = _eliminated(rows, columns, aside_rows, aside_columns)
        if not made.steps:
            return made
        smallest, row, column = _smallest(made)
        if smallest > SINGULAR_TOLERANCE * made.largest:
            return Elimination(
                made.rows, made.columns, made.steps, made.upper, made.lower, made.left, made.free, made.largest,
                made.rest, smallest,
            )  # fmt: skip
        aside_rows.add(row)
        aside_columns.add(column)


def _eliminated(
    rows: Sequence[Row], columns: int, aside_rows: Collection[int], aside_columns: Collection[int]
) -> Elimination:
    work = [dict(row) for row in rows]
    where: list[set[int]] = [set() for _ in range(columns)]
    for index, row in enumerate(work):
        for column in row:
            where[column].add(index)
    largest = max((abs(value) for row in work for value in row.values()), default=0.0)
    least = RANK_TOLERANCE * largest
    waiting = set(range(columns)) - set(aside_columns)
    open_rows = set(range(len(work))) - set(aside_rows)
    steps: list[tuple[int, int]] = []
    upper: list[Row] = []
    lower: list[tuple[tuple[int, float], ...]] = []
    while waiting:
        found = _pivot(work, where, waiting, aside_rows, least)
        if found is None:
            break
        row_index, column = found
        pivot_row = work[row_index]
        pivot = pivot_row[column]
        taken: list[tuple[int, float]] = []
        for other_column in pivot_row:
            where[other_column].discard(row_index)
        for index in sorted(where[column]):
            row = work[index]
            times = row.pop(column) / pivot
            taken.append((index, times))
            for other_column, value in pivot_row.items():
                if other_column == column:
                    continue
                before = row.get(other_column, 0.0)
                after = before - times * value
                if abs(after) <= _CANCELLED * abs(before):
                    del row[other_column]
                    where[other_column].discard(index)
                else:
                    row[other_column] = after
                    where[other_column].add(index)
        where[column] = set()
        waiting.discard(column)
        open_rows.discard(row_index)
        steps.append((row_index, column))
        upper.append(pivot_row)
        lower.append(tuple(taken))
    left = tuple(sorted(open_rows | set(aside_rows)))
    rest = max((abs(value) for index in left for value in work[index].values()), default=0.0)
    free = tuple(sorted(waiting | set(aside_columns)))
    return Elimination(
        len(work), columns, tuple(steps), tuple(upper), tuple(lower), left, free, largest, rest, largest
    )  # fmt: skip


def _pivot(
    work: Sequence[Row], where: Sequence[set[int]], waiting: Collection[int], aside_rows: Collection[int], least: float
) -> tuple[int, int] | None:
    """A pivot that is large enough and leaves few new entries (Markowitz); None when nothing left counts."""
    best: tuple[int, int] | None = None
    cheapest = 0
    looked = 0
    for column in sorted(waiting, key=lambda each: (len(where[each]), each)):
        inside = where[column]
        top = max((abs(work[index][column]) for index in inside), default=0.0)
        if top <= least:
            continue
        for index in sorted(inside):
            row = work[index]
            size = abs(row[column])
            cost = (len(row) - 1) * (len(inside) - 1)
            if size <= least or size < ROOK_SHARE * top or index in aside_rows or (best and cost >= cheapest):
                continue
            if size >= ROOK_SHARE * max(map(abs, row.values())):
                best, cheapest = (index, column), cost
        if best is not None:
            looked += 1
            if looked >= _LOOKED_AT or cheapest <= (len(inside) - 1) ** 2:
                break
    return best


def _smallest(made: Elimination) -> tuple[float, int, int]:
    """The smallest singular value of the pivots' block by inverse iteration, and the row and column it lives in most.

    Source: Golub & Van Loan, "Estimating the smallest singular value": a start that grows as far as it can.
    """
    forward = [1.0] * made.columns
    sized = 1.0
    up: list[float] = []
    for _ in range(_ITERATIONS):
        up = transposed(made, forward)
        length = math.hypot(*up)
        if not length:
            return made.largest, -1, -1
        up = [part / length for part in up]
        forward, _ = solve(made, up)
        sized = math.hypot(*forward)
        forward = [part / sized for part in forward]
    row = max((step[0] for step in made.steps), key=lambda index: abs(up[index]))
    column = max((step[1] for step in made.steps), key=lambda index: abs(forward[index]))
    return 1.0 / sized, row, column


def solve(made: Elimination, right_side: Sequence[float]) -> tuple[list[float], list[float]]:
    """A solution of A·x = b with free columns at zero, and what is left of b in the rows without a pivot."""
    b = list(right_side)
    for (row, _), taken in zip(made.steps, made.lower, strict=True):
        value = b[row]
        if value:
            for index, times in taken:
                b[index] -= times * value
    x = [0.0] * made.columns
    _substitute(made, b, x)
    return x, [b[index] for index in made.left]


def _substitute(made: Elimination, b: Sequence[float], x: list[float]) -> None:
    """Back substitution into the pivots' columns of x, the free ones as they are."""
    for step in range(len(made.steps) - 1, -1, -1):
        row, column = made.steps[step]
        entries = made.upper[step]
        value = b[row]
        for other, entry in entries.items():
            if other != column:
                value -= entry * x[other]
        x[column] = value / entries[column]


def transposed(made: Elimination, right_side: Sequence[float]) -> list[float]:
    """A solution of Aᵀ·y = c in the pivots' columns, with the rows without a pivot at zero."""
    c = list(right_side)
    y = [0.0] * made.rows
    for (row, column), entries in zip(made.steps, made.upper, strict=True):
        value = c[column] / entries[column]
        y[row] = value
        if value:
            for other, entry in entries.items():
                c[other] -= entry * value
    for step in range(len(made.steps) - 1, -1, -1):
        row = made.steps[step][0]
        y[row] -= math.fsum(times * y[index] for index, times in made.lower[step])
    return y


def null_vectors(made: Elimination) -> list[list[float]]:
    """A basis of the x with A·x = 0, one for each free column, the largest part of each being 1."""
    basis = []
    nothing = [0.0] * made.rows
    for column in made.free:
        x = [0.0] * made.columns
        x[column] = 1.0
        _substitute(made, nothing, x)
        largest = max(map(abs, x))
        basis.append([part / largest for part in x])
    return basis


def left_null_vectors(made: Elimination) -> list[list[float]]:
    """A basis of the y with yᵀ·A = 0, one for each row without a pivot, the largest part of each being 1."""
    basis = []
    for left in made.left:
        y = [0.0] * made.rows
        y[left] = 1.0
        for step in range(len(made.steps) - 1, -1, -1):
            row = made.steps[step][0]
            y[row] -= math.fsum(times * y[index] for index, times in made.lower[step])
        largest = max(map(abs, y))
        basis.append([part / largest for part in y])
    return basis


def fixed_unknowns(made: Elimination) -> list[bool]:
    """Which unknowns have a single value in every solution: those no null vector moves."""
    moved = [0.0] * made.columns
    for vector in null_vectors(made):
        for index, part in enumerate(vector):
            moved[index] = max(moved[index], abs(part))
    return [part <= FIXED_TOLERANCE for part in moved]


def determinant(made: Elimination) -> tuple[float, float]:
    """The sign of the determinant of a square matrix and the logarithm of its size; (0, -inf) when it is singular."""
    if made.rows != made.columns or made.rank < made.rows:
        return 0.0, -math.inf
    sign = _sign([row for row, _ in made.steps]) * _sign([column for _, column in made.steps])
    size = 0.0
    for (_, column), row in zip(made.steps, made.upper, strict=True):
        sign = -sign if row[column] < 0.0 else sign
        size += math.log(abs(row[column]))
    return sign, size


def _sign(order: Sequence[int]) -> float:
    """Of a permutation: each cycle of even length turns it round."""
    seen: set[int] = set()
    sign = 1.0
    for start in range(len(order)):
        place, length = start, 0
        while place not in seen:
            seen.add(place)
            place = order[place]
            length += 1
        if length and length % 2 == 0:
            sign = -sign
    return sign
