"""The reactions of one body as plain vectors, for asking the same question of many nearby sketches."""

from __future__ import annotations

from typing import NamedTuple

from ..geometry import Vector
from ..model import Sketch
from . import axes, shape
from .isolate import acting_forces, find_body
from .reading import ActingForce
from .system import Answer, System, answer, assemble


class Solved(NamedTuple):
    """What the equations say of one body.

    `vectors` are the unknown forces that have a value, along the sketch's axes, in newtons; `couples` in N·m.
    `along` are signed sizes of those on a known line. `status` tells two layouts apart: it is equal as long as
    statics says the same of them but for the values.
    """

    acting: tuple[ActingForce, ...]
    system: System
    answers: Answer
    vectors: dict[str, Vector]
    couples: dict[str, float]
    along: dict[str, float]

    @property
    def status(self) -> tuple[object, ...]:
        """Rank, whether it balances, what is fixed and what would have to act the wrong way."""
        answers = self.answers
        failing = tuple(self.system.owners[index][0] for index in answers.wrong_way)
        return (len(self.system.columns), answers.factors.rank, answers.consistent, answers.fixed, failing)

    @property
    def turn(self) -> float:
        """The determinant of three columns: it changes sign where the supports stop holding. 0 for other counts."""
        if len(self.system.columns) != 3:
            return 0.0
        return determinant(self.system.columns)


def determinant(columns: tuple[tuple[float, float, float], ...]) -> float:
    """Of three columns of three."""
    (a, b, c), (d, e, f), (g, h, i) = columns
    return a * (e * i - f * h) - d * (b * i - c * h) + g * (b * f - c * e)


def solved(sketch: Sketch, body_id: str | None = None) -> Solved:
    """Solve one body (the first by default); SteelyardError `statics.no-body` when there is none."""
    body = find_body(sketch, body_id)
    acting = acting_forces(sketch, body.id)
    system = assemble(acting, shape.axis(body))
    answers = answer(system)
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
    return Solved(acting, system, answers, vectors, couples, along)
