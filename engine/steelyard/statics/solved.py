"""The reactions of one system as plain vectors, for asking the same question of many nearby sketches."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from .. import sparse
from ..geometry import Vector
from ..model import Sketch
from . import axes, joined, shape, together
from .isolate import acting_forces
from .reading import ActingForce
from .system import Answer, System, answer, assemble


class Solved(NamedTuple):
    """What the equations say of one system.

    `vectors` are the unknown forces that have a value, along the sketch's axes, in newtons; `couples` in N·m.
    `along` are signed sizes of those on a known line. `status` tells two layouts apart: it is equal as long as
    statics says the same of them but for the values. `whole` is what it is joined to, None when it stands alone.
    """

    acting: tuple[ActingForce, ...]
    system: System
    answers: Answer
    vectors: dict[str, Vector]
    couples: dict[str, float]
    along: dict[str, float]
    whole: together.Together | None = None

    @property
    def status(self) -> tuple[object, ...]:
        """Rank, whether it balances, what is fixed and what would have to act the wrong way."""
        if self.whole is not None:
            return self.whole.solution.status
        answers = self.answers
        failing: tuple[int, ...] | bool
        failing = tuple(self.system.owners[index][0] for index in (*answers.wrong_way, *answers.beyond))
        if self.system.bounds and answers.factors.rank < len(self.system.columns):
            failing = bool(failing)  # which of them fail where several may is chosen among equals
        return (len(self.system.columns), answers.factors.rank, answers.consistent, answers.fixed, failing)

    @property
    def fails(self) -> bool:
        """Whether some support, here or on what it is joined to, would have to act as it cannot."""
        if self.whole is not None:
            return bool(self.whole.solution.wrong_way or self.whole.solution.beyond)
        return bool(self.answers.wrong_way or self.answers.beyond)

    @property
    def spare(self) -> dict[str, float]:
        """By friction force, or normal on a face: how far it is from its limit, in newtons; negative beyond."""
        found: dict[str, float] = {}
        for column, normal, factor in self.system.bounds:
            value, pressed = self.answers.values[column], self.answers.values[normal]
            if value is not None and pressed is not None:
                found[self.acting[self.system.owners[column][0]].id] = factor * pressed - abs(value)
        return found

    @property
    def turn(self) -> float:
        """The determinant of the columns: it changes sign where the supports stop holding. 0 when it has none."""
        if self.whole is not None:
            return sparse.determinant(self.whole.solution.factors)[0]
        if len(self.system.columns) != 3:
            return 0.0
        return determinant(self.system.columns)


def determinant(columns: tuple[tuple[float, float, float], ...]) -> float:
    """Of three columns of three."""
    (a, b, c), (d, e, f), (g, h, i) = columns
    return a * (e * i - f * h) - d * (b * i - c * h) + g * (b * f - c * e)


def solved(sketch: Sketch, body_id: str | None = None, bodies: Sequence[str] | None = None) -> Solved:
    """Solve one system, chosen as `analyse` does; SteelyardError `statics.no-body` when there is no such body."""
    system_ids = joined.system_ids(sketch, body_id, bodies)
    body_ids = joined.bodies_of(sketch, system_ids)
    acting = acting_forces(sketch, *system_ids)
    system = assemble(acting, [corner for each in body_ids for corner in shape.axis(sketch.body(each))])
    whole = together.solve(sketch, body_ids, acting, system) if joined.is_joined(sketch, body_ids) else None
    answers = answer(system) if whole is None else whole.answers
    x_axis = axes.x_axis(sketch)
    vectors: dict[str, Vector] = {}
    couples: dict[str, float] = {}
    along: dict[str, float] = {}
    waiting: dict[str, float] = {}
    for (position, part), value in zip(system.owners, answers.values, strict=True):
        force = acting[position]
        if value is None:
            continue
        if part == "couple":
            couples[force.id] = value * system.lever_m
        elif part == "size":
            assert force.along is not None
            along[force.id] = value
            vectors[force.id] = axes.along((value * force.along[0], value * force.along[1]), x_axis)
        elif part == "x":
            waiting[force.id] = value
        elif force.id in waiting:
            vectors[force.id] = (waiting[force.id], value)
    for position, column, factor in system.tied:
        force, value = acting[position], answers.values[column]
        if value is not None and force.along is not None:
            along[force.id] = factor * value
            vectors[force.id] = axes.along((factor * value * force.along[0], factor * value * force.along[1]), x_axis)
    return Solved(acting, system, answers, vectors, couples, along, whole)
