"""What supports leave a body as it moves: conditions on its place, exact for any motion, not only the first instant.

A body's pose is (x, y, θ): its moving centre and how far it has turned since it was let go. Metres and radians.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal, NamedTuple

from ..geometry import Point, Vector
from ..linear import FIXED_TOLERANCE
from ..model import Body, Sketch, Support
from ..statics import holding, shape
from ..statics.holding import NO_LENGTH

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
    `along`, at first, is the way friction acts that belongs to it, `mu` its coefficient (None: smooth); `face` which
    end of a face it is. `radius_m`: that point is the centre of a disc whose rim touches, at another point as it turns.
    `roll_m`: so far it goes on along `way` for each radian it has turned from `from_rad`.
    """

    force: str
    kind: JointKind
    one_way: bool
    arm_m: Vector = (0.0, 0.0)
    fixed_m: Point = (0.0, 0.0)
    way: Vector = (0.0, 1.0)
    length_m: float = 0.0
    along: Vector = (0.0, 0.0)
    mu: float | None = None
    face: int | None = None
    radius_m: float = 0.0
    roll_m: float = 0.0
    from_rad: float = 0.0

    @property
    def sliding(self) -> Joint:
        """The condition that it does not slide, of which the row says how fast it does."""
        return replace(self, way=self.along, one_way=False, roll_m=self.radius_m)

    def stuck_at(self, pose: State) -> tuple[Joint, Joint]:
        """The point that touches at this pose held where it is, across the surface and along it."""
        cosine, sine = math.cos(pose[2]), math.sin(pose[2])
        if self.kind == "edge":
            off_x, off_y = self.fixed_m[0] - pose[0], self.fixed_m[1] - pose[1]
            arm = (off_x * cosine + off_y * sine, off_y * cosine - off_x * sine)
            across = replace(self, kind="level", one_way=False, arm_m=arm)
        else:
            arm_x, arm_y = self.arm_m
            point = (pose[0] + arm_x * cosine - arm_y * sine, pose[1] + arm_x * sine + arm_y * cosine)
            across = replace(self, kind="level", one_way=False, fixed_m=point)
        return across, replace(across, way=self.along, roll_m=self.radius_m, from_rad=pose[2])

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
            # Counterclockwise, the point of the rim that touches goes to the right of the push, as `along` does.
            gap = way_x * off_x + way_y * off_y + self.roll_m * (pose[2] - self.from_rad)
        bend = -spin * spin * (way_x * arm_x + way_y * arm_y) - pull
        return Row(gap, (way_x, way_y, arm_x * way_y - arm_y * way_x + self.roll_m), bend)


def joints_of(sketch: Sketch, body: Body, centre: Point) -> tuple[Joint, ...]:
    """The conditions of the body's supports; other bodies it is joined to are held where they are."""
    found: list[Joint] = []
    for support in sketch.supports:
        before = len(found)
        if support.body == body.id:
            point = shape.world(body, support.place_m)
            far = holding.anchor(sketch, support) if support.over_m is None else support.over_m
            found += _joints(support, support.id, body, point, far, centre, holding.normal(support, body))
        elif support.other == body.id:
            owner = sketch.body(support.body)
            point, far = shape.world(owner, support.place_m), holding.anchor(sketch, support)
            if far is not None:
                point, far = far, support.over_m or point
            x, y = holding.normal(support, owner)
            found += _joints(support, support.id + holding.BACK, owner, point, far, centre, (0.0 - x, 0.0 - y))
        if support.kind == "contact" and body.kind == "disc":
            found[before:] = [_on_the_rim(joint, body, centre) for joint in found[before:]]
    return tuple(found)


def _on_the_rim(joint: Joint, disc: Body, centre: Point) -> Joint:
    """A flat surface against the rim keeps its distance to the centre of the disc, however that turns."""
    if not touches_the_rim(disc, joint.fixed_m, joint.way):
        return joint
    arm = (disc.origin_m[0] - centre[0], disc.origin_m[1] - centre[1])
    return replace(joint, kind="track", arm_m=arm, fixed_m=disc.origin_m, radius_m=disc.radius_m)


def touches_the_rim(disc: Body, point: Point, way: Vector) -> bool:
    """Whether a push is that of a flat surface on the round face of a disc: from its rim towards its centre."""
    off_x, off_y = disc.origin_m[0] - point[0], disc.origin_m[1] - point[1]
    slack = FIXED_TOLERANCE * disc.radius_m
    aside = off_x * way[1] - off_y * way[0]
    return abs(aside) <= slack and abs(off_x * way[0] + off_y * way[1] - disc.radius_m) <= slack


def _joints(
    support: Support, name: str, owner: Body, point: Point, anchor: Point | None, centre: Point, way: Vector
) -> Sequence[Joint]:
    """`owner` is the body that the support is on; `point` is where it acts, `anchor` where a rope or strut goes."""
    arm = (point[0] - centre[0], point[1] - centre[1])
    kind = support.kind
    if kind in ("pin", "fixed"):
        held = [Joint(name, "level", False, arm, point, way) for way in ((1.0, 0.0), (0.0, 1.0))]
        return [*held, Joint(f"{name}-couple", "turn", False)] if kind == "fixed" else held
    if kind in ("rope", "strut") and anchor is not None:
        far = math.dist(point, anchor)
        if far > NO_LENGTH * max(abs(point[0]), abs(point[1])):
            return [Joint(name, "line", kind == "rope", arm, anchor, length_m=far)]
    one_way = kind in ("contact", "rope") or (kind == "roller" and not support.two_way)
    edge = name == support.id and rests_on_a_corner(support, owner)
    first = Joint(name, "edge" if edge else "track", one_way, arm, point, way, along=(way[1], -way[0]), mu=support.mu)
    if support.face_m is None:
        return [first]
    end = shape.world(owner, support.face_m)
    second = replace(first, arm_m=(end[0] - centre[0], end[1] - centre[1]), fixed_m=end, face=1)
    return [replace(first, face=0), second]


def rests_on_a_corner(support: Support, body: Body) -> bool:
    """Whether a contact is a fixed corner along which the body slides: within a bar's length and square to it."""
    if body.kind != "bar" or support.kind != "contact" or support.face_m is not None:
        return False
    place = support.place_m[0]
    inside = FIXED_TOLERANCE * body.length_m < place < (1.0 - FIXED_TOLERANCE) * body.length_m
    return inside and abs(math.cos(math.radians(support.normal_deg - body.angle_deg))) <= FIXED_TOLERANCE
