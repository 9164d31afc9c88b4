"""How a mass starts to move from rest, with given things riding on it: the contact modes tried one by one."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import combinations
from typing import NamedTuple, TypeVar

from .. import linear
from ..geometry import Point, Vector
from ..statics.reading import ActingForce
from .inertia import Inertia

Column = tuple[float, float, float]
Each = TypeVar("Each")

# Accelerations within this part of the largest that the forces alone would give are rounding.
NOTHING = 1e-9


class Start(NamedTuple):
    """One way to start: (ax, ay, α·k) of the moving mass, k its radius of gyration, and what it was found with.

    `scale`: accelerations below it are rounding. `left`: the things left behind in the air.
    """

    moving: Inertia
    radius_m: float
    motion: Column
    scale: float
    left: frozenset[str]


def subsets(items: Sequence[Each], most: int) -> Iterator[tuple[Each, ...]]:
    """The subsets, the small ones first."""
    for size in range(min(most, len(items)) + 1):
        yield from combinations(items, size)


def columns_of(force: ActingForce, centre: Point, radius_m: float) -> list[Column]:
    """The unit wrenches of an unknown about a centre, torques over the radius of gyration."""
    if force.along is None:
        return [(0.0, 0.0, 1.0)]
    x, y = (force.point[0] - centre[0]) / radius_m, (force.point[1] - centre[1]) / radius_m
    if force.sought == "size":
        ways = [force.along]
    else:
        right, up = force.x_axis
        ways = [(right, up), (0.0 - up, right)]
    return [(way[0], way[1], x * way[1] - y * way[0]) for way in ways]


def applied_to(
    acting: Sequence[ActingForce], left: frozenset[str], centre: Point, radius_m: float
) -> tuple[Column, float]:
    """The known forces about a centre, and the sum of their sizes."""
    fx = fy = torque = scale = 0.0
    for force in acting:
        if force.role != "known" or force.id in left:
            continue
        if force.along is None:
            turn = (force.couple_n_m or 0.0) / radius_m
            torque += turn
            scale += abs(turn)
            continue
        part_x, part_y = ((force.size_n or 0.0) * part for part in force.along)
        arm_x, arm_y = (force.point[0] - centre[0]) / radius_m, (force.point[1] - centre[1]) / radius_m
        fx += part_x
        fy += part_y
        torque += arm_x * part_y - arm_y * part_x
        scale += math.hypot(part_x, part_y) * max(1.0, math.hypot(arm_x, arm_y))
    return (fx, fy, torque), scale


def started(
    own: Inertia,
    acting: Sequence[ActingForce],
    riding: Sequence[tuple[ActingForce, float]],
    left: frozenset[str],
) -> tuple[Start | None, int]:
    """The start with these things riding along; and how many modes of the supports were tried.

    At most three one-way forces need to be taken as holding at once: any push they give together, three of them can
    (Carathéodory).
    """
    moving = own.with_masses([(mass, force.point) for force, mass in riding])
    mass = moving.mass_kg
    radius = math.sqrt(moving.moment_kg_m2 / mass)
    applied, scale = applied_to(acting, left, moving.centre_m, radius)
    free = [part / mass for part in applied]
    nothing = NOTHING * scale / mass
    unknown = [force for force in acting if force.role == "unknown"]
    both_ways = [
        column for force in unknown if not force.one_way for column in columns_of(force, moving.centre_m, radius)
    ]
    one_way = [columns_of(force, moving.centre_m, radius)[0] for force in unknown if force.one_way]
    base = linear.factor(both_ways, 3).rank
    count = 0
    for holding in subsets(range(len(one_way)), 3 - base):
        count += 1
        factors = linear.factor([*both_ways, *(one_way[index] for index in holding)], 3)
        if factors.rank < base + len(holding):
            continue
        ways = linear.left_null_space(factors)
        motion = [0.0, 0.0, 0.0]
        for way in ways:
            share = sum(mine * theirs for mine, theirs in zip(way, free, strict=True))
            motion = [was + share * part for was, part in zip(motion, way, strict=True)]
        needed = [part - is_free for part, is_free in zip(motion, free, strict=True)]
        pushes = linear.solve(factors, needed)[0][len(both_ways) :]
        if any(push < -nothing for push in pushes) or any(
            out_of(column, motion) < -nothing * math.hypot(*column) for column in one_way
        ):
            continue
        settled = [0.0 if abs(part) <= nothing else part for part in motion]
        return Start(moving, radius, (settled[0], settled[1], settled[2]), nothing, left), count
    return None, count


def out_of(column: Sequence[float], motion: Sequence[float]) -> float:
    """How fast the motion starts along a unit wrench: out of a contact, or towards a rope's anchor."""
    return sum(mine * theirs for mine, theirs in zip(column, motion, strict=True))


def acceleration_at(start: Start, point: Point) -> Vector:
    """Of the body's point, at rest so far."""
    alpha = start.motion[2] / start.radius_m
    x, y = point[0] - start.moving.centre_m[0], point[1] - start.moving.centre_m[1]
    return (start.motion[0] - alpha * y, start.motion[1] + alpha * x)
