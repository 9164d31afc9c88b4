"""Joined bodies as they are let go: the inertia of each, and unit forces that act on several of them at once."""

from __future__ import annotations

import math
from collections.abc import Collection, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from ..geometry import Point, Vector
from ..model import Sketch
from ..statics import shape
from ..statics.isolate import acting_on_each
from ..statics.reading import ActingForce
from ..statics.structure import front_id
from .inertia import Inertia, inertia
from .riding import Rider, riders_of
from .starting import Column, applied_to, columns_of
from .touching import Touch, both_ways, touches_of

# A unit force on bodies, by their number: its wrench on each, torques over the body's radius. Both of a third-law
# pair are one line. The same numbers say how fast motions of these bodies start along it (virtual work).
Line = dict[int, Column]


class Part(NamedTuple):
    """A body of a structure: its inertia alone (None without mass), what acts on it, and the things standing on it."""

    body: str
    own: Inertia | None
    acting: tuple[ActingForce, ...]
    riders: list[Rider]
    centre_m: Point
    reach_m: float


class Member(NamedTuple):
    """A part with what rides on it.

    `inert`: how much inertia goes with each of (ax, ay, α·radius), as parts of the mass: (1, 1, 1) with the radius of
    gyration, (1, 1, 0) for a point mass on a weightless body, (0, 0, 0) without any; mass and radius are then only
    units. `applied`: the known forces about `moving.centre_m`; `scale` the sum of their sizes.
    """

    acting: tuple[ActingForce, ...]
    moving: Inertia
    radius_m: float
    inert: Column
    applied: Column
    scale: float


@dataclass(frozen=True, slots=True)
class Lines:
    """The unknowns of a structure, each once.

    `holds`: those that act either way, by the id of the front force and the number of its part. `touches`: the points
    that act one way, as on the front body; `across` and `along` are their lines, `numbers` where each is by force and
    end of its face. A couple's unknown is over the lever that `levers` holds for it.
    """

    holds: dict[tuple[str, int], Line]
    touches: tuple[Touch, ...]
    across: tuple[Line, ...]
    along: tuple[Line, ...]
    numbers: dict[tuple[str, int | None], int]
    levers: dict[str, float]


def parts_of(sketch: Sketch, bodies: Sequence[str]) -> list[Part]:
    """The bodies of a structure."""
    found = []
    for body_id, acting in zip(bodies, acting_on_each(sketch, bodies), strict=True):
        body = sketch.body(body_id)
        centre = shape.centre_of_mass(body)
        reach = max((math.dist(corner, centre) for corner in shape.axis(body)), default=0.0) or 1.0
        own = inertia(body, sketch.settings.g_m_s2)
        found.append(Part(body_id, own, acting, riders_of(sketch, body, acting), centre, reach))
    return found


def members_of(parts: Sequence[Part], left: Collection[str]) -> list[Member]:
    """The bodies with the things that ride on them: all but those left behind."""
    left = frozenset(left)
    masses = [part.own.mass_kg for part in parts if part.own is not None]
    masses += [mass for part in parts for _, mass in part.riders]
    usual = max(masses, default=1.0)
    found = []
    for part in parts:
        along = [(mass, force.point) for force, mass in part.riders if force.id not in left]
        moving = part.own
        if along:
            first, place = along[0]
            moving = Inertia(first, place, 0.0).with_masses(along[1:]) if moving is None else moving.with_masses(along)
        inert = (0.0, 0.0, 0.0)
        radius = part.reach_m
        if moving is None:
            moving = Inertia(usual, part.centre_m, 0.0)
        elif moving.moment_kg_m2 > 0.0:
            radius = math.sqrt(moving.moment_kg_m2 / moving.mass_kg)
            inert = (1.0, 1.0, 1.0)
        else:
            inert = (1.0, 1.0, 0.0)
        applied, scale = applied_to(part.acting, left, moving.centre_m, radius)
        found.append(Member(part.acting, moving, radius, inert, applied, scale))
    return found


def lines_of(members: Sequence[Member]) -> Lines:
    """The unknowns of all members."""
    holds: dict[tuple[str, int], Line] = {}
    levers: dict[str, float] = {}
    found: dict[tuple[str, int | None], tuple[Line, Line]] = {}
    fronts: dict[tuple[str, int | None], Touch] = {}
    for number, member in enumerate(members):
        for force in both_ways(member.acting):
            front = front_id(force)
            times = -1.0 if force.back and force.sought != "size" else 1.0
            if force.along is None:
                times *= levers.setdefault(front, member.radius_m) / member.radius_m
            for part, (x, y, turn) in enumerate(columns_of(force, member.moving.centre_m, member.radius_m)):
                holds.setdefault((front, part), {})[number] = (times * x, times * y, times * turn)
        by_id = {force.id: force for force in member.acting}
        for touch in touches_of(member.acting):
            force = by_id[touch.force]
            key = front_id(force), touch.face
            across, along = found.setdefault(key, ({}, {}))
            across[number] = wrench(member, touch.point, touch.normal)
            along[number] = wrench(member, touch.point, touch.tangent)
            if not force.back:
                fronts[key] = touch
    return Lines(
        holds,
        tuple(fronts.values()),
        tuple(found[key][0] for key in fronts),
        tuple(found[key][1] for key in fronts),
        {key: number for number, key in enumerate(fronts)},
        levers,
    )


def wrench(member: Member, point: Point, way: Vector) -> Column:
    """That of a unit force, torques over the member's radius."""
    x = (point[0] - member.moving.centre_m[0]) / member.radius_m
    y = (point[1] - member.moving.centre_m[1]) / member.radius_m
    return (way[0], way[1], x * way[1] - y * way[0])


def along_line(line: Line, motions: Sequence[Sequence[float]]) -> float:
    """How fast motions start along a line: out of a contact, or the ends of a rope towards each other."""
    return math.fsum(
        part * rate for number, column in line.items() for part, rate in zip(column, motions[number], strict=True)
    )
