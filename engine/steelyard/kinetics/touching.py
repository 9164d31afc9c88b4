"""Where one-way supports touch a body: points at which they push or pull, and along which they may hold by friction.

A contact over a face is two points, the ends of the face: wherever its normal acts on the face, two pushes at the ends
are equal to it, and friction along the face is one force however it is shared.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from ..geometry import Point, Vector
from ..statics.reading import ActingForce


class Touch(NamedTuple):
    """One point: the force acts on the body at `point` along `normal`, never against it.

    `friction` is the id of the friction force that belongs to it, "" where it is smooth; that acts along `tangent`,
    to the right of the normal, either way, with at most `mu` times the normal force. `face`: which end of a face it is
    (0 or 1), None for a point.
    """

    force: str
    point: Point
    normal: Vector
    friction: str = ""
    tangent: Vector = (0.0, 0.0)
    mu: float = 0.0
    face: int | None = None


def touches_of(acting: Sequence[ActingForce]) -> tuple[Touch, ...]:
    """The points of all unknowns that act one way only, in their order."""
    rough = {force.normal: force for force in acting if force.type == "friction"}
    found: list[Touch] = []
    for force in acting:
        if force.role != "unknown" or not force.one_way or force.along is None:
            continue
        friction = rough.get(force.id)
        ends = [(force.point, None)] if force.face is None else [(force.face[0], 0), (force.face[1], 1)]
        for point, end in ends:
            touch = Touch(force.id, point, force.along, face=end)
            if friction is not None:
                x, y = force.along
                touch = touch._replace(friction=friction.id, tangent=(y, 0.0 - x), mu=friction.mu or 0.0)
            found.append(touch)
    return tuple(found)


def both_ways(acting: Sequence[ActingForce]) -> list[ActingForce]:
    """The unknowns that act either way and hold whatever happens: all but those of `touches_of`."""
    return [force for force in acting if force.role == "unknown" and not force.one_way and force.type != "friction"]
