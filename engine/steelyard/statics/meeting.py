"""Which bodies hang together, at which points: pins, fixed joints and touching surfaces between two bodies."""

from __future__ import annotations

import math

from ..document.bodies import MEETING
from ..geometry import Point, distance
from ..model import Body, Sketch, Support
from . import shape
from .holding import anchor
from .reading import ActingForce

# Joints at one point of the world; ropes and struts reach from one body to another instead.
JOINTS = ("pin", "fixed", "roller", "contact")


def meets(support: Support) -> bool:
    """Whether a support joins two bodies at one point."""
    return support.other is not None and support.kind in JOINTS


def supports_on(sketch: Sketch, body_id: str) -> tuple[Support, ...]:
    """What holds a body: the supports on it, and those that join to it from another body."""
    return tuple(each for each in sketch.supports if body_id in (each.body, each.other))


def partner_of(support: Support, body_id: str) -> str | None:
    """The other one of the two bodies that a support joins; None for a support of the ground."""
    return support.body if support.other == body_id else support.other


def place_on(sketch: Sketch, support: Support, body_id: str) -> Point:
    """Where a support holds one of its bodies, in the world."""
    far = anchor(sketch, support) if support.other == body_id else None
    return shape.world(sketch.body(support.body), support.place_m) if far is None else far


def other_body(sketch: Sketch, force: ActingForce) -> Body | None:
    """The other body of the sketch that the third-law partner of a force acts on; None where it acts on none."""
    if not force.partner:
        return None
    support = next((each for each in sketch.supports if each.id == force.entity), None)
    if support is None or support.other is None:
        return None
    return sketch.body(support.body if force.back else support.other)


def gap(body: Body, point: Point) -> float:
    """How far a point of the world is from a body, metres."""
    return distance(shape.world(body, shape.nearest_place(body, point)), point)


def reach(body: Body) -> float:
    """How far a joint may be from a body and still be on it, metres."""
    low, high = shape.extent(body)
    return MEETING * max(math.dist(low, high), 1e-6)


def reaches(sketch: Sketch, support: Support) -> tuple[Body, ...]:
    """The bodies that a support could join its own body to, as all of them lie."""
    point = shape.world(sketch.body(support.body), support.place_m)
    others = [body for body in sketch.bodies if body.id != support.body]
    if support.kind in ("rope", "strut"):
        return tuple(others)
    return tuple(body for body in others if body.id == support.other or gap(body, point) <= reach(body))
