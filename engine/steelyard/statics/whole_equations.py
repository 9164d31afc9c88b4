"""The equations of joined bodies as assembled, three a body, and the decision about their rank."""

from __future__ import annotations

import math
from dataclasses import dataclass

from .. import linear
from ..model import Sketch
from . import structure, together
from .equations import Letter, Wrench, about_pivot, lettered
from .reading import Analysis


@dataclass(frozen=True, slots=True)
class WholeUnknown:
    """One unknown of the whole: its force (the front one of a third-law pair), and the part it is.

    `value` is in N or N·m, None where there is none. `bodies` are those it acts on.
    """

    force: str
    symbol: str
    part: str
    one_way: bool
    value: float | None
    fixed: bool
    bodies: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class BodyEquations:
    """ΣFx, ΣFy and Στ about the pivot of one body.

    `wrenches` pairs the number of an unknown with what one newton (one newton metre) of it adds to the three sums
    here. `applied` is (N, N, N·m); `left_over` what the values leave of the sums, None while one is missing.
    """

    body: str
    name: str
    wrenches: tuple[tuple[int, Wrench], ...]
    applied: Wrench
    letters: tuple[Letter, ...]
    left_over: Wrench | None


@dataclass(frozen=True, slots=True)
class WholeEquations:
    """All of them. The rank is decided on torques about a centre and over a lever of each body's own.

    `pivots` are over the largest entry, in the order of elimination, then, where any is left, the largest entry not
    counted; those above `limit` count. `margin` is the least factor between a pivot and the limit. `smallest` is the
    smallest singular value of the pivots' block over the largest entry (by inverse iteration).
    """

    bodies: tuple[BodyEquations, ...]
    unknowns: tuple[WholeUnknown, ...]
    rank: int
    equations: int
    pivots: tuple[float, ...]
    limit: float
    margin: float
    smallest: float


def whole_equations(sketch: Sketch, analysis: Analysis) -> WholeEquations | None:
    """The equations of all that is joined to the system of an analysis; None when nothing is."""
    if analysis.whole is None:
        return None
    made = structure.assembled(sketch, analysis.bodies)
    found = structure.solution(made)
    forces = {force.id: force for all_on_one in made.acting for force in all_on_one}
    on: dict[int, list[str]] = {}
    bodies = []
    values = [None if value is None else value * unit for value, unit in zip(found.values, made.units_m, strict=True)]
    for index, (body_id, acting, system) in enumerate(zip(made.bodies, made.acting, made.systems, strict=True)):
        rows = made.rows[3 * index : 3 * index + 3]
        wrenches: list[tuple[int, Wrench]] = []
        for column in sorted(set().union(*rows)):
            on.setdefault(column, []).append(body_id)
            x, y, torque = (row.get(column, 0.0) / made.units_m[column] for row in rows)
            wrenches.append((column, about_pivot((x, y, torque), system, analysis.pivot, analysis.x_axis)))
        applied = about_pivot(system.known, system, analysis.pivot, analysis.x_axis)
        bodies.append(
            BodyEquations(
                body_id,
                together.names(sketch, (body_id,)),
                tuple(wrenches),
                applied,
                lettered(acting, system, analysis.pivot, analysis.x_axis),
                None if made.letters else _left_over(wrenches, applied, values),
            )
        )
    unknowns = tuple(
        WholeUnknown(key.force, forces[key.force].symbol, key.part, only, value, fixed, tuple(on.get(column, ())))
        for column, (key, only, value, fixed) in enumerate(
            zip(made.keys, made.one_way, values, found.fixed, strict=True)
        )
    )
    factors = found.factors
    rest = (factors.rest / factors.largest,) if factors.left and factors.largest else ()
    return WholeEquations(
        tuple(bodies),
        unknowns,
        factors.rank,
        len(made.rows),
        (*factors.pivots, *rest),
        linear.RANK_TOLERANCE,
        together.margin(factors),
        factors.smallest / factors.largest if factors.largest else 0.0,
    )


def _left_over(wrenches: list[tuple[int, Wrench]], applied: Wrench, values: list[float | None]) -> Wrench | None:
    if any(values[column] is None for column, _ in wrenches):
        return None
    x, y, torque = (
        math.fsum([applied[row], *(wrench[row] * (values[column] or 0.0) for column, wrench in wrenches)])
        for row in range(3)
    )
    return (x, y, torque)
