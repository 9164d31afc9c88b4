"""Quantities written in terms of a few of them, the parameters, and the exchange of one with another."""

from __future__ import annotations

from collections.abc import Mapping

# Quantities are scaled to a largest force of one: what is below this is the noise of the arithmetic.
NOISE = 1e-13

# Coefficients of order one that have passed through a dictionary of larger ones have lost too many digits.
LARGE = 1e3

Row = list[float]


class Table:
    """`rows` and `constants` by quantity, and `parameters` by place in a row; the row of a parameter is None.

    A row is never changed in place, so that copies share them.
    """

    __slots__ = ("constants", "parameters", "rows")

    def __init__(self, rows: list[Row | None], constants: list[float], parameters: list[int]) -> None:
        self.rows = rows
        self.constants = constants
        self.parameters = parameters

    def copy(self) -> Table:
        """One that can be changed without changing this one."""
        return Table(list(self.rows), list(self.constants), list(self.parameters))

    def add(self, form: Mapping[int, float]) -> None:
        """One more quantity: a linear form of the others."""
        total = [0.0] * len(self.parameters)
        constant = 0.0
        for index, factor in form.items():
            row = self.rows[index]
            if row is None:
                total[self.parameters.index(index)] += factor
            else:
                constant += factor * self.constants[index]
                total = [sum_so_far + factor * value for sum_so_far, value in zip(total, row, strict=True)]
        self.rows.append(total)
        self.constants.append(constant)

    def exchange(self, place: int, leaving: int) -> float:
        """Exchange the parameter at a place with a quantity; the largest coefficient that this adds to any."""
        row = self.rows[leaving]
        assert row is not None
        pivot = row[place]
        made = [-value / pivot for value in row]
        made[place] = 1.0 / pivot
        constant = -self.constants[leaving] / pivot
        entering = self.parameters[place]
        most = 1.0
        for index, other in enumerate(self.rows):
            if other is None:
                continue
            share = other[place]
            if not share:
                continue
            if abs(share) <= NOISE:
                after = list(other)
                after[place] = 0.0
                self.rows[index] = after
                continue
            most = max(most, abs(share))
            after = [value + share * new for value, new in zip(other, made, strict=True)]
            after[place] = share * made[place]
            self.rows[index] = after
            self.constants[index] += share * constant
        self.rows[entering], self.rows[leaving] = made, None
        self.constants[entering], self.constants[leaving] = constant, 0.0
        self.parameters[place] = leaving
        return most * max(map(abs, made))

    def effects(self, place: int) -> list[tuple[int, float]]:
        """The quantities that a parameter moves, and how fast."""
        return [(index, row[place]) for index, row in enumerate(self.rows) if row is not None and row[place]]
