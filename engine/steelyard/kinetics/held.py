"""What the supports of a body do at the instant it is let go: which hold, which let go, and with what forces."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Literal, NamedTuple

from .. import linear
from ..geometry import Point, Vector
from ..statics.reading import ActingForce
from .gripping import Gripped, Way
from .starting import NOTHING, Column, Start, acceleration_at, applied_to, columns_of, out_of
from .touching import Touch, both_ways, touches_of

Mode = Literal["holds", "touches", "lets go", "sticks", "slips", "tips"]


class Held(NamedTuple):
    """An unknown force at the instant of release.

    `mode`: holds; touches (it neither pushes nor lets go); lets go; of friction, sticks or slips; of a normal on a
    face, tips: it acts at the one end that still touches. `vector` is the force on the body, or `couple_n_m`, None
    where that is left open. `parting_m_s2`: how fast the body starts out of it, or of friction along it, as the arrow
    is drawn.
    """

    force: ActingForce
    mode: Mode
    vector: Vector | None
    couple_n_m: float | None
    parting_m_s2: float


def held_by(acting: Sequence[ActingForce], start: Start) -> tuple[tuple[Held, ...], bool]:
    """What each unknown does: the forces that make the mass move as it does; and whether all have one value."""
    mass, centre, radius = start.moving.mass_kg, start.moving.centre_m, start.radius_m
    unknown = [force for force in acting if force.role == "unknown"]
    columns: list[Column] = []
    owners: list[str] = []
    parting: dict[str, float] = {}
    for force in unknown:
        own = columns_of(force, centre, radius)
        out = out_of(own[0], start.motion) if force.one_way else 0.0
        parting[force.id] = 0.0 if out <= start.scale * math.hypot(*own[0]) else out
        if not parting[force.id]:
            columns += own
            owners += [force.id] * len(own)
    applied, scale = applied_to(acting, start.left, centre, radius)
    needed = [mass * part - known for part, known in zip(start.motion, applied, strict=True)]
    factors = linear.factor(columns, 3)
    values, _ = linear.solve(factors, needed)
    fixed = linear.fixed_unknowns(factors)
    nothing = NOTHING * max(scale, *(abs(value) for value in values)) if values else 0.0
    found: dict[str, list[float | None]] = {}
    for owner, value, sure in zip(owners, values, fixed, strict=True):
        settled = 0.0 if abs(value) <= nothing else value
        found.setdefault(owner, []).append(settled if sure else None)
    return tuple(one_held(force, parting[force.id], found.get(force.id, []), radius) for force in unknown), all(fixed)


def one_held(force: ActingForce, parting: float, found: Sequence[float | None], lever_m: float) -> Held:
    """One unknown. `found`: its size, or its couple over the lever, or both components; None where open."""
    if parting:
        return Held(force, "lets go", (0.0, 0.0), None, parting)
    first, along = found[0], force.along
    if along is None:
        return Held(force, "holds", None, None if first is None else first * lever_m, 0.0)
    if force.sought in ("size", "size and place"):
        vector = None if first is None else (first * along[0], first * along[1])
        if force.type == "friction":
            return Held(force, "sticks", vector, None, 0.0)
        return Held(force, "touches" if force.one_way and first == 0.0 else "holds", vector, None, 0.0)
    second = found[1]
    if first is None or second is None:
        return Held(force, "holds", None, None, 0.0)
    right, up = force.x_axis
    return Held(force, "holds", (first * right - second * up, first * up + second * right), None, 0.0)


def held_by_friction(acting: Sequence[ActingForce], gripped: Gripped) -> tuple[tuple[Held, ...], bool]:
    """The same where contacts are rough or touch along a face."""
    held: dict[str, Held] = {}
    others = iter(gripped.others)
    for force in both_ways(acting):
        count = len(columns_of(force, gripped.start.moving.centre_m, gripped.start.radius_m))
        held[force.id] = one_held(force, 0.0, [next(others) for _ in range(count)], gripped.start.radius_m)
    touches = touches_of(acting)
    for force in acting:
        if force.role != "unknown" or force.id in held:
            continue
        own = [index for index, touch in enumerate(touches) if force.id in (touch.force, touch.friction)]
        held[force.id] = _touching(force, own, gripped, touches)
    found = tuple(held[force.id] for force in acting if force.role == "unknown")
    return found, all(each.vector is not None or each.couple_n_m is not None for each in found)


class Touched(NamedTuple):
    """What a force does at one of its touches: its size there along the normal, None where open.

    `parting_m_s2`: how fast the body starts out of it there, or of friction along it, as the arrow is drawn.
    """

    point: Point
    way: Way
    push: float | None
    parting_m_s2: float


def _touching(force: ActingForce, own: Sequence[int], gripped: Gripped, touches: Sequence[Touch]) -> Held:
    """A one-way force, or friction, from what happens at its own touches."""
    way = force.along or (0.0, 0.0)
    touched = [
        Touched(
            touches[index].point,
            gripped.ways[index],
            gripped.pushes[index],
            _along(acceleration_at(gripped.start, touches[index].point), way),
        )
        for index in own
    ]
    size = gripped.sizes[force.id]
    return one_touching(force, touched, size, touches[own[0]].tangent, gripped.start.scale)


def one_touching(
    force: ActingForce, touched: Sequence[Touched], size: float | None, tangent: Vector, nothing: float
) -> Held:
    """A force at its touches; accelerations up to `nothing` are rounding, and friction has its size along `tangent`."""
    assert force.along is not None
    touching = [each for each in touched if each.way != "lifts"]
    if not touching:
        parting = max(each.parting_m_s2 for each in touched)
        # In contact all the same where nothing moves out of it.
        mode: Mode = "lets go" if parting > nothing else "touches"
        return Held(force, mode, (0.0, 0.0), None, parting if mode == "lets go" else 0.0)
    pressed = _pressed(force.point, [each.point for each in touching], [each.push for each in touching])
    x, y = tangent if force.type == "friction" else force.along
    force = force._replace(point=pressed)
    vector = None if size is None else (size * x, size * y)
    if force.type == "friction":
        parting = touching[0].parting_m_s2
        slips = touching[0].way != "sticks" and abs(parting) > nothing
        return Held(force, "slips" if slips else "sticks", vector, None, parting if slips else 0.0)
    tips = len(touching) < len(touched)
    return Held(force, "touches" if size == 0.0 else "tips" if tips else "holds", vector, None, 0.0)


def _along(vector: Vector, way: Vector) -> float:
    return vector[0] * way[0] + vector[1] * way[1]


def _pressed(middle: Point, points: Sequence[Point], pushes: Sequence[float | None]) -> Point:
    """Where pushes at these points act together; the middle where that is open."""
    sizes = [0.0 if push is None else push for push in pushes]
    total = sum(sizes)
    if None in pushes or total <= 0.0:
        return middle if len(points) > 1 else points[0]
    x = sum(size * point[0] for size, point in zip(sizes, points, strict=True)) / total
    return (x, sum(size * point[1] for size, point in zip(sizes, points, strict=True)) / total)
