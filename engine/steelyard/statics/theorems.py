"""What the layout of the forces alone says: two-force body, three forces through one point, parallel, couple, symmetry.

Each holds for a body at rest. Standard results of plane statics, from the three equations of balance.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from ..geometry import Point, Vector, cross, distance, dot, line_crossing, subtract
from .advice import REACH_LEVERS, SQUARE_TOLERANCE, Part, parts, vanishes
from .moments import DROPS_OUT_TOLERANCE
from .reading import ActingForce, Analysis
from .structure import front_id

TheoremKind = Literal["two-force", "three-forces", "parallel", "couple", "symmetry"]

# Sums of known forces below this part of the largest count as none.
_NOTHING = 1e-9


@dataclass(frozen=True, slots=True)
class Theorem:
    """One result that applies.

    two-force: both `forces` act along `direction`, the line joining their points; with `member` it is another body,
    joined to this one, and `forces` is what it does here. three-forces: the lines meet at `point`; `implies` is the
    force whose direction follows, `direction` its unit line towards the point, `line` that of the other unknown.
    parallel: all run along `direction`, so does `implies`. couple: the loads make only a couple of `torque_n_m`, so
    the reactions make one too. symmetry: the loads' line lies midway between the two `forces`, so they are equal.
    `merged` are known forces taken together as one.
    """

    kind: TheoremKind
    forces: tuple[str, ...]
    direction: Vector | None = None
    point: Point | None = None
    implies: str = ""
    merged: tuple[str, ...] = ()
    torque_n_m: float | None = None
    member: str = ""
    line: Vector | None = None


@dataclass(frozen=True, slots=True)
class _Line:
    forces: tuple[str, ...]
    point: Point
    along: Vector


def theorems(analysis: Analysis) -> tuple[Theorem, ...]:
    """The theorems that apply to one system, most telling first.

    A two-force body that is joined to it tells the line of its joint here, which then counts as known.
    """
    acting, members = _with_members(analysis)
    return (*members, *_of_layout(analysis, acting))


def _with_members(analysis: Analysis) -> tuple[list[ActingForce], list[Theorem]]:
    """What acts, with the lines that two-force bodies beside the system give its joints, and what is said of those."""
    acting = [reading.force for reading in analysis.readings if not _absent(reading.force)]
    beside = (
        [] if analysis.whole is None else [each for each in analysis.whole.links if each.body not in analysis.bodies]
    )
    lined = []
    found = []
    for force in acting:
        shared = front_id(force)
        link = next((each for each in beside if shared in each.forces), None)
        if link is None or force.sought != "size and direction":
            lined.append(force)
            continue
        lined.append(force._replace(sought="size", along=link.direction))
        found.append(Theorem("two-force", (force.id,), link.direction, implies=force.id, member=link.name))
    return lined, found


def _of_layout(analysis: Analysis, acting: list[ActingForce]) -> tuple[Theorem, ...]:
    if any(force.sought == "size and place" for force in acting):
        return ()
    if any(force.along is None for force in acting):
        forces = [force for force in acting if force.along is not None]
        return _couple(analysis, forces) if all(force.along or force.role == "known" for force in acting) else ()
    found: list[Theorem] = []
    if len(acting) == 2:
        found.extend(_two(acting, analysis.lever_m))
    elif len(acting) >= 3:
        found.extend(_parallel(acting) or _three(analysis, acting))
        found.extend(_symmetry(analysis))
        found.extend(_couple(analysis, acting))
    return tuple(found)


def _absent(force: ActingForce) -> bool:
    if vanishes(force):
        return True
    return force.role == "known" and (force.size_n == 0.0 or force.couple_n_m == 0.0)


def _two(acting: list[ActingForce], lever: float) -> list[Theorem]:
    first, second = acting
    apart = distance(first.point, second.point)
    if apart <= DROPS_OUT_TOLERANCE * lever:
        return []
    direction = (
        (second.point[0] - first.point[0]) / apart,
        (second.point[1] - first.point[1]) / apart,
    )
    free = next((force.id for force in acting if force.sought == "size and direction"), "")
    return [Theorem("two-force", (first.id, second.id), direction, implies=free)]


def _lines(analysis: Analysis, acting: list[ActingForce]) -> list[_Line]:
    """The known lines of action, all known forces taken together where their sizes allow it."""
    known = [force for force in acting if force.role == "known"]
    lines = [
        _Line((force.id,), force.point, force.along)
        for force in acting
        if force.role == "unknown" and force.sought == "size" and force.along is not None
    ]
    if len(known) == 1 and known[0].along is not None:
        return [_Line((known[0].id,), known[0].point, known[0].along), *lines]
    applied = analysis.applied
    if known and applied is not None and applied.line_point is not None:
        size = math.hypot(applied.fx_n, applied.fy_n)
        along = (applied.fx_n / size, applied.fy_n / size)
        return [_Line(tuple(force.id for force in known), applied.line_point, along), *lines]
    return []


def _three(analysis: Analysis, acting: list[ActingForce]) -> list[Theorem]:
    free = [force for force in acting if force.sought == "size and direction"]
    lines = _lines(analysis, acting)
    if len(free) != 1 or len(lines) != 2:
        return []
    merged = lines[0].forces if len(lines[0].forces) > 1 else ()
    named = (*lines[0].forces, *lines[1].forces, free[0].id)
    where = line_crossing(lines[0].point, lines[0].along, lines[1].point, lines[1].along)
    if where is None:
        return [Theorem("parallel", named, lines[0].along, implies=free[0].id, merged=merged)]
    apart = distance(free[0].point, where)
    if apart > REACH_LEVERS * analysis.lever_m or apart <= DROPS_OUT_TOLERANCE * analysis.lever_m:
        return []
    towards = subtract(where, free[0].point)
    direction = (towards[0] / apart, towards[1] / apart)
    return [Theorem("three-forces", named, direction, where, free[0].id, merged, line=lines[1].along)]


def _parallel(acting: list[ActingForce]) -> list[Theorem]:
    """All lines known are parallel; at most one force has a direction to be found, and it must be parallel too."""
    free = [force for force in acting if force.sought == "size and direction"]
    lined = [force for force in acting if force.sought != "size and direction" and force.along is not None]
    if len(free) > 1 or len(lined) < 2:
        return []
    first = lined[0].along
    assert first is not None
    if any(force.along is not None and abs(cross(first, force.along)) > SQUARE_TOLERANCE for force in lined):
        return []
    implied = free[0].id if free else ""
    return [Theorem("parallel", tuple(force.id for force in acting), first, implies=implied)]


def _couple(analysis: Analysis, acting: list[ActingForce]) -> tuple[Theorem, ...]:
    """The known loads add up to a couple alone."""
    applied = analysis.applied
    if applied is None or not any(force.role == "unknown" for force in acting):
        return ()
    nothing = _NOTHING * analysis.force_scale_n
    if math.hypot(applied.fx_n, applied.fy_n) > nothing or abs(applied.torque_n_m) <= nothing * analysis.lever_m:
        return ()
    names = tuple(force.id for force in acting if force.role == "unknown")
    return (Theorem("couple", names, torque_n_m=applied.torque_n_m),)


def _symmetry(analysis: Analysis) -> list[Theorem]:
    """Two parallel reactions with the loads' line midway: each takes half."""
    applied = analysis.applied
    if applied is None or applied.line_point is None:
        return []
    size = math.hypot(applied.fx_n, applied.fy_n)
    along = (applied.fx_n / size, applied.fy_n / size)
    unknown: list[Part] = [part for part in parts(analysis) if part.unknown and part.along is not None]
    holding = [part for part in unknown if part.along is not None and abs(cross(part.along, along)) <= SQUARE_TOLERANCE]
    others = [part for part in unknown if part not in holding]
    if len(holding) != 2 or len(others) > 1:
        return []
    # What is not parallel must be square to the load, or it would carry some of it.
    if any(part.along is not None and abs(dot(part.along, along)) > SQUARE_TOLERANCE for part in others):
        return []
    first, second = (cross(subtract(part.point, applied.line_point), along) for part in holding)
    reach = DROPS_OUT_TOLERANCE * max(analysis.lever_m, abs(first), abs(second))
    if abs(first + second) > reach or abs(first - second) <= reach:
        return []
    return [Theorem("symmetry", (holding[0].force, holding[1].force), along)]
