"""What joins moving bodies to each other and to the fixed ground, as conditions on their places, exact for any motion.

Poses are (x, y, θ) of each body's moving centre, as in `joints`. A condition between two bodies is made of the two that
each would have with a fixed partner.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from typing import NamedTuple

from ..geometry import Point, Vector
from ..model import Sketch, Support
from ..statics import holding, shape
from .joints import NEXT_TO_NOTHING, Joint, Row, State, joints_of

ORIGIN: Point = (0.0, 0.0)


class LinkRow(NamedTuple):
    """One condition: how far it is from kept, its slope by the pose of each body, its second change when coasting."""

    gap: float
    slopes: dict[int, State]
    bend: float


class Link(NamedTuple):
    """A condition on the bodies with these numbers.

    One `joint`: as `joints` has it, to the ground. Two: the difference of their gaps, or over a pulley (`over`) the
    sum. `straight_m`: the two are the points at the ends of a straight rope or strut of that length.
    """

    numbers: tuple[int, ...]
    joints: tuple[Joint, ...]
    one_way: bool
    over: bool = False
    straight_m: float | None = None

    @property
    def force(self) -> str:
        """The force that keeps it."""
        return self.joints[0].force

    def row(self, poses: Sequence[State], speeds: Sequence[State]) -> LinkRow:
        """The condition at poses and speeds."""
        first = self.numbers[0]
        row = self.joints[0].row(poses[first], speeds[first])
        if len(self.joints) == 1:
            return LinkRow(row.gap, {first: row.slope}, row.bend)
        second = self.numbers[1]
        if self.straight_m is not None:
            return self._straight(poses, speeds, self.straight_m)
        other = self.joints[1].row(poses[second], speeds[second])
        if self.over:
            return LinkRow(row.gap + other.gap, {first: row.slope, second: other.slope}, row.bend + other.bend)
        return LinkRow(row.gap - other.gap, {first: row.slope, second: _minus(other)}, row.bend - other.bend)

    def _straight(self, poses: Sequence[State], speeds: Sequence[State], length_m: float) -> LinkRow:
        """The distance of two moving points, shorter than its length by the gap."""
        ends = [
            _point(poses[number], speeds[number], joint.arm_m)
            for number, joint in zip(self.numbers, self.joints, strict=True)
        ]
        (here, speed, pull, lever), (there, other_speed, other_pull, other_lever) = ends
        off_x, off_y = here[0] - there[0], here[1] - there[1]
        far = math.hypot(off_x, off_y) or NEXT_TO_NOTHING
        x, y = -off_x / far, -off_y / far
        across = (speed[0] - other_speed[0]) * y - (speed[1] - other_speed[1]) * x
        bend = x * (pull[0] - other_pull[0]) + y * (pull[1] - other_pull[1]) - across * across / far
        slopes = {
            self.numbers[0]: (x, y, lever[0] * y - lever[1] * x),
            self.numbers[1]: (-x, -y, other_lever[1] * x - other_lever[0] * y),
        }
        return LinkRow(length_m - far, slopes, bend)


def _minus(row: Row) -> State:
    x, y, turn = row.slope
    return (-x, -y, -turn)


def _point(pose: State, speed: State, arm: Vector) -> tuple[Point, Vector, Vector, Vector]:
    """A body's point: where it is, its speed, its acceleration when coasting, and its arm as turned."""
    cosine, sine = math.cos(pose[2]), math.sin(pose[2])
    x, y = arm[0] * cosine - arm[1] * sine, arm[0] * sine + arm[1] * cosine
    spin = speed[2]
    return (
        (pose[0] + x, pose[1] + y),
        (speed[0] - spin * y, speed[1] + spin * x),
        (-spin * spin * x, -spin * spin * y),
        (x, y),
    )


def grounded(sketch: Sketch, body_id: str, centre: Point) -> list[Joint]:
    """The conditions of a body's supports that join it to nothing that moves."""
    alone = replace(sketch, supports=tuple(support for support in sketch.supports if support.other is None))
    return list(joints_of(alone, alone.body(body_id), centre))


def links_between(sketch: Sketch, bodies: Sequence[str], centres: Sequence[Point]) -> list[Link]:
    """The conditions of pins, fixed joints, ropes and struts between these bodies; contacts have none here."""
    found: list[Link] = []
    for support in sketch.supports:
        if support.other is None or support.body not in bodies:
            continue
        numbers = (bodies.index(support.body), bodies.index(support.other))
        point = shape.world(sketch.body(support.body), support.place_m)
        far = holding.anchor(sketch, support) or point
        arms = [
            (end[0] - centres[number][0], end[1] - centres[number][1])
            for end, number in zip((point, far), numbers, strict=True)
        ]
        found += _links(support, numbers, arms, (point, far))
    return found


def _links(support: Support, numbers: tuple[int, int], arms: Sequence[Vector], ends: tuple[Point, Point]) -> list[Link]:
    if support.kind in ("pin", "fixed"):
        found = [
            Link(numbers, tuple(Joint(support.id, "level", False, arm, ORIGIN, way) for arm in arms), False)
            for way in ((1.0, 0.0), (0.0, 1.0))
        ]
        if support.kind == "fixed":
            turn = Joint(f"{support.id}-couple", "turn", False)
            found.append(Link(numbers, (turn, turn), False))
        return found
    rope = support.kind == "rope"
    if support.over_m is not None:
        joints = tuple(
            Joint(support.id, "line", rope, arm, support.over_m, length_m=math.dist(end, support.over_m))
            for arm, end in zip(arms, ends, strict=True)
        )
        return [Link(numbers, joints, rope, over=True)]
    joints = tuple(Joint(support.id, "line", rope, arm) for arm in arms)
    return [Link(numbers, joints, rope, straight_m=math.dist(*ends))]
