"""Sparse elimination with free choice of pivots: some unknowns of A·x = b written in terms of the others."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from ..linear import RANK_TOLERANCE

# A pivot this part of the largest entry left is good enough to be chosen for its short row.
PIVOT_SHARE = 0.1

# Entries of order one that cancel to less than this are zero.
CANCELLED = 1e-15

# A column of the equations, by row; rows that are not named are zero.
Column = Mapping[int, float] | Sequence[float]


@dataclass(frozen=True, slots=True)
class Eliminated:
    """x_c = right_side[r] - Σ rows[r][j]·x_j for each (r, c) of `pivots`; rows without a pivot say 0 = right_side[r].

    `steps` turn the equations as given into these, one after the other: (row, pivot, shares of the other rows).
    """

    rows: list[dict[int, float]]
    right_side: list[float]
    pivots: dict[int, int]
    steps: list[tuple[int, float, list[tuple[int, float]]]]

    def reduced(self, right_side: Sequence[float]) -> list[float]:
        """Another right side after the same steps."""
        result = list(right_side)
        for row, pivot, shares in self.steps:
            value = result[row] / pivot
            result[row] = value
            if value:
                for other, share in shares:
                    result[other] -= share * value
        return result

    def combined(self, weights: Sequence[float]) -> list[float]:
        """The y for which yᵀ·A is the sum of the eliminated rows with these weights."""
        result = list(weights)
        for row, pivot, shares in reversed(self.steps):
            value = result[row]
            for other, share in shares:
                value -= share * result[other]
            result[row] = value / pivot
        return result


def entries(column: Column) -> list[tuple[int, float]]:
    """The entries of a column that are not zero, with their rows."""
    pairs = column.items() if isinstance(column, Mapping) else enumerate(column)
    return [(row, value) for row, value in pairs if value]


def eliminate(columns: Sequence[Column], right_side: Sequence[float], sooner: Sequence[bool]) -> Eliminated:
    """Solve for as many unknowns as the equations have rank, those marked `sooner` first where the pivots allow.

    Entries below `RANK_TOLERANCE` of the largest of A count as zero; the rows are to be scaled, so that all are of
    order one. Gauss and Jordan's elimination; short rows among the good pivots keep it sparse (Markowitz, 1957).
    """
    rows: list[dict[int, float]] = [{} for _ in right_side]
    for index, column in enumerate(columns):
        for row, value in entries(column):
            rows[row][index] = value
    found = list(right_side)
    largest = [max(map(abs, row.values()), default=0.0) for row in rows]
    left = set(range(len(rows)))
    pivots: dict[int, int] = {}
    steps: list[tuple[int, float, list[tuple[int, float]]]] = []
    least = RANK_TOLERANCE * max(largest, default=0.0)
    while left:
        biggest = max(largest[row] for row in left)
        if biggest <= least:
            break
        row, column_index = _pivot(rows, largest, left, PIVOT_SHARE * biggest, sooner)
        left.discard(row)
        pivots[row] = column_index
        pivot_row = rows[row]
        pivot = pivot_row.pop(column_index)
        pivot_row = {index: value / pivot for index, value in pivot_row.items()}
        rows[row] = pivot_row
        found[row] /= pivot
        shares = []
        for other, entries_there in enumerate(rows):
            share = entries_there.pop(column_index, 0.0)
            if not share:
                continue
            shares.append((other, share))
            found[other] -= share * found[row]
            for index, value in pivot_row.items():
                after = entries_there.get(index, 0.0) - share * value
                if abs(after) > CANCELLED:
                    entries_there[index] = after
                else:
                    entries_there.pop(index, None)
            if other in left:
                largest[other] = max(map(abs, entries_there.values()), default=0.0)
        steps.append((row, pivot, shares))
    return Eliminated(rows, found, pivots, steps)


def _pivot(
    rows: Sequence[dict[int, float]],
    largest: Sequence[float],
    left: set[int],
    least: float,
    sooner: Sequence[bool],
) -> tuple[int, int]:
    """A row and a column whose entry is at least `least`: preferred columns, then short rows, then large entries."""
    best: tuple[bool, int, float] | None = None
    chosen = (0, 0)
    for row in left:
        if largest[row] < least:
            continue
        length = len(rows[row])
        if best is not None and not best[0] and length > best[1]:
            continue
        for index, value in rows[row].items():
            size = abs(value)
            if size < least:
                continue
            rating = (not sooner[index], length, -size)
            if best is None or rating < best:
                best, chosen = rating, (row, index)
    return chosen
