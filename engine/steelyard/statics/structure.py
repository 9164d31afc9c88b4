"""The equilibrium of joined bodies: three equations a body, and one unknown for the two sides of each joint.

Each body keeps a torque centre and a lever of its own (see `system.assemble`), so a small body beside a large one is
judged by its own measure. A third-law pair is one column with entries in the rows of both bodies.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

from .. import linear, sparse
from ..model import Sketch
from ..program import ROUNDING_TOLERANCE, Bound, Program
from . import shape
from .conditions import Unknowns
from .isolate import acting_on_each
from .joined import connected
from .reading import ActingForce
from .system import NOISE, System, assemble


class Key(NamedTuple):
    """One unknown: the id of its force (the front one of a pair), and the part "x", "y", "size", "couple", "place"."""

    force: str
    part: str


@dataclass(frozen=True, slots=True)
class Structure:
    """The assembled equations of joined bodies.

    `bodies`, `acting` and `systems` go together. `rows` are three a body in that order: ΣFx, ΣFy, Στ over the body's
    lever, about its centre; entries are by column. `keys` names each column; a couple or place is in newtons at
    `units_m` (1 for a force). `known` is the right side for numbers, `letters` those for each letter alone.
    `bounds` and `one_way` are of columns, as in `System`.
    """

    bodies: tuple[str, ...]
    acting: tuple[tuple[ActingForce, ...], ...]
    systems: tuple[System, ...]
    rows: tuple[sparse.Row, ...]
    keys: tuple[Key, ...]
    units_m: tuple[float, ...]
    one_way: tuple[bool, ...]
    bounds: tuple[Bound, ...]
    known: tuple[float, ...]
    known_scale_n: float
    letters: tuple[tuple[float, ...], ...]


@dataclass(frozen=True, slots=True)
class Solution:
    """What the equations of a structure say.

    `values` of the columns (newtons), None where not fixed or no balance exists. `fixed`: statics fixes it at all.
    `consistent`: some values close all sums (None: it depends on letters). `wrong_way`: one-way columns that would
    have to act backwards; `beyond`: bounded ones that would have to be larger than their bound. `closing` are values
    of all columns that close the sums, the free ones at zero, whatever the one-way facts; () when none do.
    `program`: where many values close the sums and not all are within what supports can do, what decides that.
    """

    factors: sparse.Elimination
    values: tuple[float | None, ...]
    fixed: tuple[bool, ...]
    consistent: bool | None
    wrong_way: tuple[int, ...]
    beyond: tuple[int, ...]
    closing: tuple[float, ...]
    program: Program | None = None

    @property
    def status(self) -> tuple[object, ...]:
        """Equal for two layouts as long as statics says the same of them but for the values."""
        factors = self.factors
        if self.program is not None:
            return (factors.columns, factors.rank, self.fixed, self.program.outcome.admissible)
        return (factors.columns, factors.rank, self.consistent, self.fixed, self.wrong_way, self.beyond)


def front_id(force: ActingForce) -> str:
    """The id that the two of a third-law pair share as an unknown."""
    return force.partner if force.back else force.id


def turns_round(force: ActingForce, part: str) -> bool:
    """Whether a part of a force is minus its unknown: on the other body, unless it is counted along its own line."""
    return force.back and part != "size"


def assembled(sketch: Sketch, body_ids: Sequence[str]) -> Structure:
    """The equations of these bodies and of all that are joined to them."""
    bodies = connected(sketch, body_ids)
    acting = tuple(acting_on_each(sketch, bodies))
    systems = tuple(
        assemble(forces, shape.axis(sketch.body(body_id))) for body_id, forces in zip(bodies, acting, strict=True)
    )
    levers: dict[Key, float] = {}
    for forces, system in zip(acting, systems, strict=True):
        for position, part in system.owners:
            if part in ("couple", "place"):
                key = Key(front_id(forces[position]), part)
                levers[key] = min(system.lever_m, levers.get(key, math.inf))
    columns: dict[Key, int] = {}
    one_way: list[bool] = []
    bounds: list[Bound] = []
    rows: list[sparse.Row] = [{} for _ in range(3 * len(bodies))]
    letters: list[tuple[float, ...]] = []
    for index, (forces, system) in enumerate(zip(acting, systems, strict=True)):
        own = rows[3 * index : 3 * index + 3]
        numbers: list[int] = []
        for (position, part), wrench, only in zip(system.owners, system.columns, system.one_way, strict=True):
            force = forces[position]
            key = Key(front_id(force), part)
            column = columns.setdefault(key, len(columns))
            if column == len(one_way):
                one_way.append(False)
            one_way[column] |= only
            numbers.append(column)
            times = levers[key] / system.lever_m if key in levers else 1.0
            if turns_round(force, part):
                times = -times
            for row, share in zip(own, wrench, strict=True):
                if share:
                    row[column] = row.get(column, 0.0) + times * share
        for bound in system.bounds:
            position, part = system.owners[bound.column]
            if not forces[position].back:
                unit = levers.get(Key(forces[position].id, part), system.lever_m)
                factor = bound.factor * (system.lever_m / unit if part == "place" else 1.0)
                bounds.append(Bound(numbers[bound.column], numbers[bound.normal], factor))
        before, after = (0.0,) * (3 * index), (0.0,) * (3 * (len(bodies) - index - 1))
        letters += [(*before, *letter, *after) for letter in system.letters]
    return Structure(
        bodies,
        acting,
        systems,
        tuple(rows),
        tuple(columns),
        tuple(levers.get(key, 1.0) for key in columns),
        tuple(one_way),
        tuple(bounds),
        tuple(part for system in systems for part in system.known),
        max(system.known_scale_n for system in systems),
        tuple(letters),
    )


def solution(structure: Structure) -> Solution:
    """Solve the equations of a structure as far as statics goes."""
    factors = sparse.eliminate(structure.rows, len(structure.keys))
    count = len(structure.keys)
    right_side = [-part for part in structure.known]
    values, _ = sparse.solve(factors, right_side)
    values = _refined(structure, factors, right_side, values)
    scale = max(structure.known_scale_n, max(map(abs, values), default=0.0))
    fixed = [True] * count if factors.rank == count else sparse.fixed_unknowns(factors)
    motions = sparse.left_null_vectors(factors)
    consistent: bool | None = not _works(motions, right_side, scale)
    known = list(fixed)
    for letter in structure.letters:
        share, _ = sparse.solve(factors, letter)
        if _works(motions, letter, 1.0):
            consistent = None
        known = [was and abs(part) <= linear.FIXED_TOLERANCE for was, part in zip(known, share, strict=True)]
    if not consistent:
        return Solution(factors, (None,) * count, tuple(fixed), consistent, (), (), ())
    values = [0.0 if abs(value) <= NOISE * scale else value for value in values]
    shown = tuple(value if known[index] else None for index, value in enumerate(values))
    if factors.rank < count and not structure.letters and (structure.bounds or any(structure.one_way)):
        program = program_of(structure)
        outcome = program.outcome
        backward = tuple(column for column, short in enumerate(outcome.backward) if short)
        over = tuple(bound.column for bound, more in zip(structure.bounds, outcome.excess, strict=True) if more)
        return Solution(factors, shown, tuple(fixed), True, backward, over, tuple(values), program)
    slack = ROUNDING_TOLERANCE * scale
    wrong_way = tuple(
        index for index, only in enumerate(structure.one_way) if only and known[index] and values[index] < -slack
    )
    beyond = tuple(
        column
        for column, normal, factor in structure.bounds
        if known[column]
        and known[normal]
        and abs(values[column]) > factor * max(0.0, values[normal]) + slack
        and normal not in wrong_way
    )
    return Solution(factors, shown, tuple(fixed), consistent, wrong_way, beyond, tuple(values))


def program_of(structure: Structure) -> Program:
    """The linear program of a structure without letters."""
    columns: list[dict[int, float]] = [{} for _ in structure.keys]
    for number, row in enumerate(structure.rows):
        for column, share in row.items():
            columns[column][number] = share
    known = [0.0 - part for part in structure.known]
    return Program(columns, known, structure.one_way, structure.bounds, structure.known_scale_n)


def unknowns_of(structure: Structure) -> Unknowns:
    """The unknowns of a structure as those of one body are looked at: forces and columns of the front of each pair."""
    forces = [force for acting in structure.acting for force in acting]
    place = {force.id: position for position, force in enumerate(forces)}
    columns = [[0.0] * len(structure.rows) for _ in structure.keys]
    for number, row in enumerate(structure.rows):
        for column, share in row.items():
            columns[column][number] = share
    owners = [(place[key.force], key.part) for key in structure.keys]
    numbers = {key: column for column, key in enumerate(structure.keys)}
    tied = []
    for acting, system in zip(structure.acting, structure.systems, strict=True):
        for position, column, factor in system.tied:
            owner, part = system.owners[column]
            if not acting[position].back and acting[position].mu is not None:
                tied.append((place[acting[position].id], numbers[Key(front_id(acting[owner]), part)], factor))
    return Unknowns(
        forces, owners, columns, structure.one_way, structure.bounds, structure.known, structure.known_scale_n, tied
    )


def on_body(structure: Structure, index: int, values: Sequence[float]) -> list[float]:
    """Values of all columns as those of one body's own columns: turned round on the second body of a pair."""
    columns = {key: column for column, key in enumerate(structure.keys)}
    system, forces = structure.systems[index], structure.acting[index]
    found = []
    for position, part in system.owners:
        column = columns[Key(front_id(forces[position]), part)]
        value = values[column]
        if part in ("couple", "place"):
            value *= structure.units_m[column] / system.lever_m
        found.append(0.0 - value if turns_round(forces[position], part) else value)
    return found


def _works(motions: Sequence[Sequence[float]], loads: Sequence[float], scale: float) -> bool:
    """Whether loads do work on a motion that no unknown resists: then nothing balances them."""
    return any(
        abs(math.fsum(part * load for part, load in zip(motion, loads, strict=True))) > ROUNDING_TOLERANCE * scale
        for motion in motions
    )


def _refined(
    structure: Structure, factors: sparse.Elimination, right_side: Sequence[float], values: list[float]
) -> list[float]:
    """One step of iterative refinement, with exact sums: the digits that elimination lost come back."""
    left_over = [
        math.fsum([wanted, *(-share * values[column] for column, share in row.items())])
        for row, wanted in zip(structure.rows, right_side, strict=True)
    ]
    change, _ = sparse.solve(factors, left_over)
    return [value + step for value, step in zip(values, change, strict=True)]
