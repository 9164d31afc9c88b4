"""What the conditions of a motion push so that they are kept: each along its own slope, or dragging by friction too.

Slopes are scaled so that masses are one: (x, y, torque over the radius of gyration), pushes over the mass.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from .. import linear
from ..program import feasible
from .joints import State

# Of the determinant without friction: what is left at which friction makes the pushes grow past all bounds.
JAMMED = 1e-6


class Pushes(NamedTuple):
    """What the conditions push, over the mass: `change` of the motion in all; `shares` of each where some also drag."""

    columns: Sequence[State]
    factors: linear.Factor
    change: list[float]
    shares: list[float] | None

    def sizes(self, one_way: Sequence[bool]) -> list[float]:
        """Of each condition; where they can be shared in several ways, so that one-way ones push where they can."""
        if self.shares is not None:
            return self.shares
        if any(one_way) and self.factors.rank < len(one_way):
            return list(feasible(self.columns, self.change, one_way).values)
        return linear.solve(self.factors, self.change)[0]


def plain(columns: Sequence[State], wanted: Sequence[float]) -> Pushes:
    """The pushes that give the motion these parts along the slopes, by the shortest change of it."""
    factors = linear.factor(columns, 3)
    return Pushes(columns, factors, least(columns, factors, wanted), None)


def dragging(columns: Sequence[State], dragged: Sequence[State], wanted: Sequence[float]) -> Pushes:
    """The same where a push acts along another line than its slope, as one does that drags by friction."""
    products = [[product(row, column) for row in columns] for column in dragged]
    factors = linear.factor(products, len(columns))
    shares, _ = linear.solve(factors, wanted)
    change = [product(shares, [column[axis] for column in dragged]) for axis in range(3)]
    return Pushes(columns, factors, change, shares)


def jammed(columns: Sequence[State], dragged: Sequence[State]) -> bool:
    """Whether friction makes its own normal force grow past all bounds (Painlevé, 1895)."""
    if len(columns) > 3:
        return False
    with_friction = _determinant([[product(row, column) for row in columns] for column in dragged])
    without = _determinant([[product(row, column) for row in columns] for column in columns])
    return with_friction <= JAMMED * without


def least(columns: Sequence[Sequence[float]], factors: linear.Factor, wanted: Sequence[float]) -> list[float]:
    """The shortest vector with these products with the columns; dependent columns follow the others."""
    chosen = factors.order[: factors.rank]
    if not chosen:
        return [0.0, 0.0, 0.0]
    products = [
        [sum(mine * theirs for mine, theirs in zip(columns[one], columns[two], strict=True)) for one in chosen]
        for two in chosen
    ]
    shares, _ = linear.solve(linear.factor(products, len(chosen)), [wanted[index] for index in chosen])
    return [sum(share * columns[index][axis] for share, index in zip(shares, chosen, strict=True)) for axis in range(3)]


def product(first: Sequence[float], second: Sequence[float]) -> float:
    """The sum of the products of parts."""
    return sum(mine * theirs for mine, theirs in zip(first, second, strict=True))


def _determinant(matrix: Sequence[Sequence[float]]) -> float:
    """Of a matrix of at most three rows."""
    if len(matrix) == 1:
        return matrix[0][0]
    first, *others = matrix
    return sum(
        (-1.0) ** column * part * _determinant([[*row[:column], *row[column + 1 :]] for row in others])
        for column, part in enumerate(first)
    )
