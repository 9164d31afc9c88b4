"""The equations as assembled, and the decision about their rank, laid open for checking.

Each unknown is a column: what one newton of it (one newton metre of a couple) adds to ΣFx, ΣFy and Στ about
the pivot. With the applied sums b the equations read Σ columnᵢ·valueᵢ + b = 0.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from .. import linear
from ..geometry import Point, Vector
from ..model import Sketch
from ..program import ROUNDING_TOLERANCE
from . import axes
from .conditions import scale
from .reading import ActingForce, Analysis
from .solved import solved
from .system import Answer, System, settled

Wrench = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class Unknown:
    """One column: the part of a force it stands for ("x", "y", "size", "couple" or "place") and its unit wrench.

    `wrench` is (force along x, force along y, torque about the pivot) per unit: pure numbers and metres; (0, 0, 1) for
    a couple and for a place on a face, which is the torque of its normal about the middle. `value` is in N or N·m,
    None where there is none. `one_way`: it cannot be negative.
    """

    force: str
    symbol: str
    part: str
    wrench: Wrench
    one_way: bool
    value: float | None
    fixed: bool


@dataclass(frozen=True, slots=True)
class Condition:
    """What an unknown has to keep to beside the equations.

    "sense": it cannot be negative. "friction": |f| <= factor · normal. "place": the torque of a normal about the middle
    of its face is at most factor (half the length of the face, m) times that normal, either way. "slips": f = factor ·
    normal, set by hand: no unknown of its own, it is counted in the column of its normal. "none": zero, set by hand or
    without friction at all. `tight`: it is met with nothing to spare; None where it has no single value.
    """

    force: str
    symbol: str
    kind: Literal["sense", "friction", "place", "slips", "none"]
    normal: str
    factor: float
    tight: bool | None


@dataclass(frozen=True, slots=True)
class Letter:
    """A known force without a number: what one unit of it adds to the sums."""

    force: str
    symbol: str
    wrench: Wrench


@dataclass(frozen=True, slots=True)
class Rank:
    """How the rank was decided, on columns whose torques are taken about `centre_m` and divided by `lever_m`.

    `pivots` are those of the factors (Householder, largest column first) over the first one: as many as rows or
    columns, whichever are fewer. Those above `limit` count. `margin` says how far the decision is from falling
    otherwise: the least factor by which a pivot stands above or below the limit (infinite when none is near).
    `singular_values` are of the same columns; their ratio below `near_limit` is called nearly degenerate.
    """

    rank: int
    centre_m: Point
    lever_m: float
    pivots: tuple[float, ...]
    limit: float
    margin: float
    singular_values: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class Equations:
    """The equations of a system about a pivot, sums along the sketch's axes.

    `applied` is (N, N, N·m); `left_over` what the values shown leave of the three sums, None while one is missing.
    """

    body: str
    pivot_m: Point
    unknowns: tuple[Unknown, ...]
    applied: Wrench
    letters: tuple[Letter, ...]
    left_over: Wrench | None
    rank: Rank
    conditions: tuple[Condition, ...] = ()


def equations(sketch: Sketch, analysis: Analysis) -> Equations:
    """The three equations of the system of an analysis; their values are those of the whole it is joined to.

    The rank is that of these three alone.
    """
    pivot = analysis.pivot
    x_axis = analysis.x_axis
    found = solved(sketch, bodies=analysis.system)
    acting, system = found.acting, found.system
    answers = settled(system, found.answers) if found.whole is None else found.answers

    def about(wrench: Wrench) -> Wrench:
        return about_pivot(wrench, system, pivot, x_axis)

    unknowns = []
    for column, (position, part), one_way, value, fixed in zip(
        system.columns, system.owners, system.one_way, answers.values, answers.fixed, strict=True
    ):
        couple = part in ("couple", "place")
        unknowns.append(
            Unknown(
                acting[position].id,
                acting[position].symbol,
                part,
                (0.0, 0.0, 1.0) if couple else about(column),
                one_way,
                value * system.lever_m if couple and value is not None else value,
                fixed,
            )
        )
    letters = lettered(acting, system, pivot, x_axis)
    applied = about(system.known)
    return Equations(
        analysis.body,
        pivot,
        tuple(unknowns),
        applied,
        letters,
        None if letters else _left_over(unknowns, applied),
        Rank(
            answers.factors.rank,
            system.centre,
            system.lever_m,
            pivots := _pivots(answers.factors),
            linear.RANK_TOLERANCE,
            _margin(pivots),
            linear.singular_values(answers.factors),
        ),
        _conditions(acting, system, answers),
    )


def lettered(acting: Sequence[ActingForce], system: System, pivot: Point, x_axis: Vector) -> tuple[Letter, ...]:
    """The known forces without a number."""
    forces = [
        force
        for force in acting
        if force.role == "known" and (force.couple_n_m if force.along is None else force.size_n) is None
    ]
    return tuple(
        Letter(
            force.id,
            force.symbol,
            (0.0, 0.0, float(force.drawn_sense)) if force.along is None else about_pivot(wrench, system, pivot, x_axis),
        )
        for force, wrench in zip(forces, system.letters, strict=True)
    )


def about_pivot(wrench: Wrench, system: System, pivot: Point, x_axis: Vector) -> Wrench:
    """From the centre and lever of a system to a pivot, metres, and the sketch's axes."""
    shift_x, shift_y = system.centre[0] - pivot[0], system.centre[1] - pivot[1]
    torque = wrench[2] * system.lever_m + shift_x * wrench[1] - shift_y * wrench[0]
    return (*axes.along((wrench[0], wrench[1]), x_axis), torque)


def _conditions(acting: Sequence[ActingForce], system: System, answers: Answer) -> tuple[Condition, ...]:
    """What one-way supports, friction and faces ask, in the order of the unknowns; then what is set by hand."""
    values = answers.values
    near = ROUNDING_TOLERANCE * scale(system, [value for value in values if value is not None])
    found = []
    for column, (position, _) in enumerate(system.owners):
        if system.one_way[column]:
            force, value = acting[position], values[column]
            tight = None if value is None else abs(value) <= near
            found.append(Condition(force.id, force.symbol, "sense", "", 0.0, tight))
    for column, normal, factor in system.bounds:
        position, part = system.owners[column]
        force, value, pressed = acting[position], values[column], values[normal]
        tight = None
        if value is not None and pressed is not None:
            tight = abs(abs(value) - factor * pressed) <= near * max(1.0, factor)
        place = part == "place"
        held = acting[system.owners[normal][0]].symbol
        times = factor * system.lever_m if place else factor
        found.append(Condition(force.id, force.symbol, "place" if place else "friction", held, times, tight))
    for position, column, factor in system.tied:
        force, held = acting[position], acting[system.owners[column][0]].symbol
        if force.mu is None:
            continue  # the far end of a rope over a pulley: the same unknown, no condition
        found.append(Condition(force.id, force.symbol, "slips", held, factor, True))
    for position in system.none:
        found.append(Condition(acting[position].id, acting[position].symbol, "none", "", 0.0, True))
    return tuple(found)


def _left_over(unknowns: list[Unknown], applied: Wrench) -> Wrench | None:
    values = [each.value for each in unknowns]
    if any(value is None for value in values):
        return None
    rows = zip(*(each.wrench for each in unknowns), strict=True) if unknowns else ((), (), ())
    fx, fy, torque = (
        math.fsum([start, *(share * (value or 0.0) for share, value in zip(row, values, strict=True))])
        for start, row in zip(applied, rows, strict=True)
    )
    return (fx, fy, torque)


def _pivots(factors: linear.Factor) -> tuple[float, ...]:
    """The pivots over the first: those that counted, then the largest column that was left when the search ended."""
    if not factors.rank:
        return ()
    first = abs(factors.upper[0][0])
    found = [abs(factors.upper[step][step]) / first for step in range(factors.rank)]
    rest = [math.hypot(*column[factors.rank :]) / first for column in factors.upper[factors.rank :]]
    return (*found, max(rest)) if rest and factors.rank < factors.rows else tuple(found)


def _margin(pivots: tuple[float, ...]) -> float:
    """The least factor between a pivot and the limit, whichever side of it the pivot is on."""
    limit = linear.RANK_TOLERANCE
    return min((max(each / limit, limit / each) if each else math.inf for each in pivots), default=math.inf)
