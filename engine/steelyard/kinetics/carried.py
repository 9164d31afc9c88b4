"""What each of several moving bodies carries: forces that keep their size and direction, and things."""

from __future__ import annotations

from typing import NamedTuple

from ..geometry import Point, Vector
from ..model import Sketch
from ..statics.isolate import acting_forces
from .joints import State
from .released import Release
from .states import turned


class Carried(NamedTuple):
    """Forces with their arms, a couple, the things riding on it, and those left above it with their heights."""

    forces: list[tuple[Vector, Vector]]
    couple: float
    riding: list[tuple[str, Vector]]
    left: list[tuple[str, Vector, float]]

    def wrench(self, pose: State) -> tuple[float, float, float]:
        """(ΣFx, ΣFy, Στ) about the moving centre at a pose."""
        fx = fy = 0.0
        torque = self.couple
        for (x, y), arm in self.forces:
            arm_x, arm_y = turned(arm, pose)
            fx += x
            fy += y
            torque += arm_x * y - arm_y * x
        return fx, fy, torque

    def work(self, pose: State, centre: Point) -> float:
        """What these have done since the moving centre was at `centre`, in joules."""
        total = self.couple * pose[2]
        for (fx, fy), arm in self.forces:
            arm_x, arm_y = turned(arm, pose)
            total += fx * (pose[0] - centre[0] + arm_x - arm[0]) + fy * (pose[1] - centre[1] + arm_y - arm[1])
        return total


def carried_by(sketch: Sketch, part: Release, centre: Point) -> Carried:
    """What a body carries as it starts so; arms from the moving centre."""

    def arm(point: Point) -> Vector:
        return (point[0] - centre[0], point[1] - centre[1])

    left = {thing.force.id for thing in part.things if thing.left}
    forces: list[tuple[Vector, Vector]] = []
    couple = 0.0
    for force in acting_forces(sketch, part.body):
        if force.role != "known" or force.id in left:
            continue
        if force.along is None:
            couple += force.couple_n_m or 0.0
        else:
            size = force.size_n or 0.0
            forces.append(((size * force.along[0], size * force.along[1]), arm(force.point)))
    return Carried(
        forces,
        couple,
        [(thing.force.id, arm(thing.place_m)) for thing in part.things if not thing.left],
        [(thing.force.id, arm(thing.place_m), thing.place_m[1]) for thing in part.things if thing.left],
    )
