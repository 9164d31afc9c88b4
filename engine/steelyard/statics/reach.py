"""How far each unknown can reach over all admissible answers, each end with a set of reactions that balances.

Admissible: the sums close, nothing acts the wrong way, friction is within μ of its normal and every normal on its face.
Any number of open degrees. An end without limit comes with a set to start from, and with how it may grow for ever.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from typing import NamedTuple

from ..geometry import Point, Vector
from ..model import Sketch
from ..program import ROUNDING_TOLERANCE, Program
from ..program import End as ProgramEnd
from . import joined, shape, structure
from .conditions import ONE_VALUE, conditioned, program_of
from .isolate import acting_forces, find_body
from .reading import ActingForce
from .system import System, answer, assemble


class Reaction(NamedTuple):
    """One reaction of a set: a force in newtons at a point, or a couple in N·m; world axes.

    In a set that grows it is what is added each time, and a force on a face that moves along it adds a couple too.
    """

    force: str
    vector: Vector
    couple_n_m: float
    point: Point


class End(NamedTuple):
    """The least or greatest value: N along the drawn line, N·m, or N along x or y; ±inf without a limit.

    `witness` are reactions on every support that balance the known forces and have this value. Without a limit they
    balance too, and `grows`, any number of times over, may be added to them.
    """

    value: float
    witness: tuple[Reaction, ...]
    grows: tuple[Reaction, ...] | None


class Reach(NamedTuple):
    """What one part of an unknown can be. `part`: "x", "y", "size", "couple", or "place" (torque about the middle).

    `one_value`: both ends are the same, because the equations fix it ("equations") or because only there every support
    does what it can ("conditions"); else "".
    """

    force: str
    part: str
    least: End
    greatest: End
    one_value: str


def reaches(sketch: Sketch, body_id: str | None = None) -> tuple[Reach, ...]:
    """How far the unknowns of one body (the first by default) reach, or of all that are joined to it.

    Of the two forces of a third-law pair only the first has a reach; both are in every witness. Raises SteelyardError
    `statics.no-body` without a body. Empty where there is no admissible answer, and where the size of a known force is
    a letter.
    """
    body = find_body(sketch, body_id)
    if joined.is_joined(sketch, (body.id,)):
        return _of_structure(structure.assembled(sketch, (body.id,)))
    acting = acting_forces(sketch, body.id)
    return reaches_of(acting, assemble(acting, shape.axis(body)))


def reaches_of(acting: Sequence[ActingForce], system: System) -> tuple[Reach, ...]:
    """The same for forces whose equations are set up already."""
    answers = answer(system)
    if system.letters or not answers.consistent or answers.wrong_way or answers.beyond:
        return ()
    owners = [
        (acting[position].id, part, system.lever_m if part in ("couple", "place") else 1.0)
        for position, part in system.owners
    ]

    def told(values: Sequence[float], placed: bool) -> tuple[Reaction, ...]:
        return reactions(acting, system, values, placed=placed)

    return _reaches(program_of(system), owners, answers.fixed, conditioned(system), told)


def _of_structure(made: structure.Structure) -> tuple[Reach, ...]:
    found = structure.solution(made)
    if made.letters or not found.consistent or found.wrong_way or found.beyond:
        return ()
    owners = [(key.force, key.part, unit) for key, unit in zip(made.keys, made.units_m, strict=True)]

    def told(values: Sequence[float], placed: bool) -> tuple[Reaction, ...]:
        return tuple(
            reaction
            for index, (forces, system) in enumerate(zip(made.acting, made.systems, strict=True))
            for reaction in reactions(forces, system, structure.on_body(made, index, values), placed=placed)
        )

    some = bool(made.bounds) or any(made.one_way)
    return _reaches(found.program or structure.program_of(made), owners, found.fixed, some, told)


def _reaches(
    program: Program,
    owners: Sequence[tuple[str, str, float]],
    fixed: Sequence[bool],
    some: bool,
    told: Callable[[Sequence[float], bool], tuple[Reaction, ...]],
) -> tuple[Reach, ...]:
    """`owners`: force, part and unit (m, 1 for a force) of each column; `some`: there are conditions at all."""
    if not program.outcome.admissible:
        return ()
    sample = program.outcome.values
    largest = max(map(abs, sample), default=0.0)
    made = []
    for column, ((force, part, unit), known) in enumerate(zip(owners, fixed, strict=True)):
        if known:
            end = _end(ProgramEnd(sample[column], sample, None), unit, told)
            made.append(Reach(force, part, end, end, "equations"))
            continue
        reach = program.range_of({column: 1.0})
        one = some and reach.greatest.value - reach.least.value <= ONE_VALUE * largest
        least, greatest = _end(reach.least, unit, told), _end(reach.greatest, unit, told)
        made.append(Reach(force, part, least, greatest, "conditions" if one else ""))
    return tuple(made)


def _end(end: ProgramEnd, unit: float, told: Callable[[Sequence[float], bool], tuple[Reaction, ...]]) -> End:
    nothing = ROUNDING_TOLERANCE * max(map(abs, end.values), default=0.0)
    value = 0.0 if abs(end.value) <= nothing else end.value * unit
    return End(value, told(end.values, True), None if end.ray is None else told(end.ray, False))


def reactions(
    acting: Sequence[ActingForce], system: System, values: Sequence[float], *, placed: bool = True
) -> tuple[Reaction, ...]:
    """A set of values of the columns as reactions on the supports, in the order of the forces.

    `placed`: a normal on a face acts where its torque says; else in the middle, with that torque beside it.
    """
    nothing = ROUNDING_TOLERANCE * max(map(abs, values), default=0.0)
    found: dict[int, dict[str, float]] = {}
    for (position, part), value in zip(system.owners, values, strict=True):
        found.setdefault(position, {})[part] = value
    for position, column, factor in system.tied:
        found[position] = {"size": factor * values[column]}
    for position in system.none:
        found[position] = {"size": 0.0}
    points: dict[str, Point] = {}
    made = []
    for position, force in enumerate(acting):
        if force.role == "known":
            continue
        parts = found[position]
        couple = parts.get("couple", 0.0) * system.lever_m
        vector = (0.0, 0.0)
        point = points.get(force.normal, force.point)
        if "x" in parts:
            (right, up), x, y = force.x_axis, parts["x"], parts["y"]
            vector = (x * right - y * up, x * up + y * right)
        elif force.along is not None:
            size = parts["size"]
            vector = (size * force.along[0], size * force.along[1])
            torque = parts.get("place", 0.0) * system.lever_m
            if torque and placed and size > nothing:
                point = points[force.id] = place_on_face(force, size, torque)
            else:
                couple = torque
        made.append(Reaction(force.id, vector, couple, point))
    return tuple(made)


def off_middle(force: ActingForce, size: float, torque_n_m: float) -> float:
    """How far from the middle of its face, towards the far end, a normal of this torque about the middle acts (m)."""
    assert force.face is not None and force.along is not None
    (start_x, start_y), (end_x, end_y) = force.face
    length = math.hypot(end_x - start_x, end_y - start_y)
    turn = ((end_x - start_x) * force.along[1] - (end_y - start_y) * force.along[0]) / length
    return torque_n_m / (size * turn)


def place_on_face(force: ActingForce, size: float, torque_n_m: float) -> Point:
    """The point of its face where a normal acts."""
    assert force.face is not None
    (start_x, start_y), (end_x, end_y) = force.face
    length = math.hypot(end_x - start_x, end_y - start_y)
    off = off_middle(force, size, torque_n_m) / length
    return (force.point[0] + off * (end_x - start_x), force.point[1] + off * (end_y - start_y))
