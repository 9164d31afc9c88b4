"""What supports can and cannot do, as conditions on the unknowns: ropes pull, contacts push, grip and have an end."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from ..program import NO_BOUND, Bound, Column, Outcome, Program

# "backward": a rope pushes, a contact or one-way roller pulls. "slip": more friction than μN. "tip": the pressure
# on a face lies beyond its end.
Kind = Literal["backward", "slip", "tip"]


@dataclass(frozen=True, slots=True)
class Conditions:
    """`one_way` by column; `slips` bind friction to its normal by μ, `tips` the couple over a face by half its length.

    A couple's unknown is in newtons at the system's lever, so the factor of a tip is half the length over the lever.
    Every normal is one-way, marked or not. A place of the pressure is couple / normal, to the side of its sign.
    """

    one_way: tuple[bool, ...]
    slips: tuple[Bound, ...] = ()
    tips: tuple[Bound, ...] = ()

    def kinds(self) -> tuple[tuple[Bound, Kind], ...]:
        """All bounds, in the order in which the program takes them."""
        return tuple((bound, "slip") for bound in self.slips) + tuple((bound, "tip") for bound in self.tips)

    def normals(self) -> frozenset[int]:
        """The columns that a bound makes one-way."""
        return frozenset(bound.normal for bound in (*self.slips, *self.tips))


@dataclass(frozen=True, slots=True)
class Breach:
    """A condition at its limit or beyond.

    `column` is the unknown in question. `beyond_n`: how far beyond, in newtons (a couple's at the lever), zero at the
    limit. `sense`: the sign of the unknown there. Friction of that sign holds a body that would slip the other way;
    a face bears on its end on the side of that sign, about which it would tip. Backward ones have the sense −1.
    """

    column: int
    kind: Kind
    beyond_n: float
    sense: int


def program(
    columns: Sequence[Column], known: Sequence[float], conditions: Conditions, known_scale_n: float = 0.0
) -> Program:
    """The program of a system: its columns, the sum of its known wrenches in the same rows, and the conditions."""
    bounds = tuple(bound for bound, _ in conditions.kinds())
    return Program(columns, [-part for part in known], conditions.one_way, bounds, known_scale_n)


def failing(outcome: Outcome, conditions: Conditions) -> tuple[Breach, ...]:
    """The conditions that the least inadmissible answer breaks; none when admissible.

    A contact that would have to pull is named for that alone, not for its friction as well.
    """
    backward = [Breach(column, "backward", lack, -1) for column, lack in enumerate(outcome.backward) if lack]
    pulling = {breach.column for breach in backward}
    beyond = [
        Breach(bound.column, kind, excess, _sense(outcome.values[bound.column]))
        for (bound, kind), excess in zip(conditions.kinds(), outcome.excess, strict=True)
        if excess and bound.normal not in pulling
    ]
    return (*backward, *beyond)


def reached(values: Sequence[float], conditions: Conditions, within_n: float) -> tuple[Breach, ...]:
    """The conditions at their limit in an admissible answer, to within so many newtons: what is about to give.

    A rope just slack or a contact just touching is backward by nothing; its friction and place are then not named.
    """
    normals = conditions.normals()
    slack = {
        column
        for column, value in enumerate(values)
        if (conditions.one_way[column] or column in normals) and value <= within_n
    }
    limits = [
        Breach(bound.column, kind, 0.0, _sense(values[bound.column]))
        for bound, kind in conditions.kinds()
        if bound.normal not in slack
        and bound.factor < NO_BOUND
        and bound.factor * values[bound.normal] - abs(values[bound.column]) <= within_n * max(1.0, bound.factor)
    ]
    return (*(Breach(column, "backward", 0.0, -1) for column in sorted(slack)), *limits)


def _sense(value: float) -> int:
    return (value > 0.0) - (value < 0.0)
