"""What supports leave a body as it moves: conditions on its place, exact for any motion, not only the first instant.

A body's pose is (x, y, θ): its moving centre and how far it has turned since it was let go. Metres and radians.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal, NamedTuple

from ..geometry import Point, Vector
from ..linear import FIXED_TOLERANCE
from ..model import Body, Sketch, Support
from . import shape
from .holding import NO_LENGTH

JointKind = Literal["level", "turn", "track", "edge", "line"]
State = tuple[float, float, float]
# A slack rope may pass through its own anchor: then it has no direction, and needs none.
NEXT_TO_NOTHING = 1e-300


class Row(NamedTuple):
    """One condition at a pose: how far it is from kept, its slope by the pose, and its second change when coasting."""

    gap: float
    slope: State
    bend: float


@dataclass(frozen=True, slots=True)
class Joint:
    """One condition. `arm_m`: the body's point from the moving centre, as the body stood when let go.

    level: that point keeps its distance to `fixed_m` along `way`. track: the same, one way only where `one_way`.
    edge: a fixed corner `fixed_m` under a straight piece of the body, `way` square to that piece. line: the point keeps
    the distance `length_m` to `fixed_m`. turn: it does not turn. A one-way joint's gap is positive when it lets go.
    """

    force: str
    kind: JointKind
    one_way: bool
    arm_m: Vector = (0.0, 0.0)
    fixed_m: Point = (0.0, 0.0)
    way: Vector = (0.0, 1.0)
    length_m: float = 0.0

    def row(self, pose: State, speed: State) -> Row:
        """The condition at a pose and speed."""
        if self.kind == "turn":
            return Row(pose[2], (0.0, 0.0, 1.0), 0.0)
        cosine, sine = math.cos(pose[2]), math.sin(pose[2])
        arm_x = self.arm_m[0] * cosine - self.arm_m[1] * sine
        arm_y = self.arm_m[0] * sine + self.arm_m[1] * cosine
        spin = speed[2]
        off_x, off_y = pose[0] + arm_x - self.fixed_m[0], pose[1] + arm_y - self.fixed_m[1]
        if self.kind == "edge":
            way_x = self.way[0] * cosine - self.way[1] * sine
            way_y = self.way[0] * sine + self.way[1] * cosine
            # The body's own point that is over the corner now moves along the piece as seen from the body.
            lever_x, lever_y = self.fixed_m[0] - pose[0], self.fixed_m[1] - pose[1]
            bend = 2.0 * spin * (way_x * speed[1] - way_y * speed[0]) + spin * spin * (
                way_x * lever_x + way_y * lever_y
            )
            return Row(way_x * off_x + way_y * off_y, (way_x, way_y, lever_x * way_y - lever_y * way_x), bend)
        way_x, way_y = self.way
        pull = 0.0
        gap = 0.0
        if self.kind == "line":
            far = math.hypot(off_x, off_y) or NEXT_TO_NOTHING
            gap = self.length_m - far
            way_x, way_y = -off_x / far, -off_y / far
            across = (speed[0] - spin * arm_y) * way_y - (speed[1] + spin * arm_x) * way_x
            pull = across * across / far
        else:
            gap = way_x * off_x + way_y * off_y
        bend = -spin * spin * (way_x * arm_x + way_y * arm_y) - pull
        return Row(gap, (way_x, way_y, arm_x * way_y - arm_y * way_x), bend)


def joints_of(sketch: Sketch, body: Body, centre: Point) -> tuple[Joint, ...]:
    """The conditions of the body's supports."""
    found: list[Joint] = []
    for support in sketch.supports:
        if support.body == body.id:
            found += _joints(support, body, centre)
    return tuple(found)


def _joints(support: Support, body: Body, centre: Point) -> Sequence[Joint]:
    point = shape.world(body, support.place_m)
    arm = (point[0] - centre[0], point[1] - centre[1])
    name, kind = support.id, support.kind
    if kind in ("pin", "fixed"):
        held = [Joint(name, "level", False, arm, point, way) for way in ((1.0, 0.0), (0.0, 1.0))]
        return [*held, Joint(f"{name}-couple", "turn", False)] if kind == "fixed" else held
    if kind in ("rope", "strut") and support.anchor_m is not None:
        far = math.dist(point, support.anchor_m)
        if far > NO_LENGTH * max(abs(point[0]), abs(point[1])):
            return [Joint(name, "line", kind == "rope", arm, support.anchor_m, length_m=far)]
    angle = math.radians(support.normal_deg)
    way = (math.cos(angle), math.sin(angle))
    one_way = kind in ("contact", "rope") or (kind == "roller" and not support.two_way)
    if kind == "contact" and presses_inward(support, body):
        # A round face keeps its distance to the surface: its centre moves along it, however the body turns.
        middle = body.origin_m
        return [Joint(name, "track", True, (middle[0] - centre[0], middle[1] - centre[1]), middle, way)]
    edge = kind == "contact" and rests_on_a_corner(support, body)
    return [Joint(name, "edge" if edge else "track", one_way, arm, point, way)]


def rests_on_a_corner(support: Support, body: Body) -> bool:
    """Whether a contact is a fixed corner along which the body slides: within a bar's length and square to it."""
    if body.kind != "bar" or support.kind != "contact":
        return False
    place = support.place_m[0]
    inside = FIXED_TOLERANCE * body.length_m < place < (1.0 - FIXED_TOLERANCE) * body.length_m
    return inside and abs(math.cos(math.radians(support.normal_deg - body.angle_deg))) <= FIXED_TOLERANCE


def presses_inward(support: Support, body: Body) -> bool:
    """Whether a contact is a flat surface against the round face of a disc: on its rim, pushing towards its centre.

    As the disc turns the contact then stays where its surface is, at another point of the rim.
    """
    inward = shape.inward_deg(body, support.place_m)
    return inward is not None and abs(math.remainder(support.normal_deg - inward, 360.0)) <= FIXED_TOLERANCE * 180.0
