"""A body on its way with the same supports holding all the time: its accelerations, its steps, and what changes."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Literal, NamedTuple

from .. import linear
from ..geometry import Point, Vector
from ..model import Body, Sketch
from . import shape
from .isolate import acting_forces
from .joints import Row, State, joints_of, rests_on_a_corner
from .release import Release

EndKind = Literal["time", "lets go", "holds again", "left behind", "caught up", "slides off"]

# Pushes within this part of the forces, and gaps within this part of the reach, are rounding.
NO_PUSH, NO_GAP = 1e-9, 1e-10


class Pose(NamedTuple):
    """Where the body is `time_s` after it was let go: its frame's origin, and how far it has turned in all."""

    time_s: float
    origin_m: Point
    turned_rad: float
    alpha_rad_s2: float
    kinetic_j: float


class Moment(NamedTuple):
    """Pose (x, y, θ) of the moving centre and its speed."""

    pose: State
    speed: State


class Mover:
    """The forces and conditions of one motion, in which the same supports hold all the time."""

    def __init__(self, sketch: Sketch, body: Body, start: Release, holding: frozenset[str]) -> None:
        assert start.moving is not None
        self.body = body
        self.mass = start.moving.mass_kg
        self.centre = start.moving.centre_m
        self.radius = math.sqrt(start.moving.moment_kg_m2 / self.mass)
        self.g_m_s2 = sketch.settings.g_m_s2
        self.left = {thing.force.id: thing.place_m for thing in start.things if thing.left}
        self.riding = [(thing.force.id, self._arm(thing.place_m)) for thing in start.things if not thing.left]
        self.left_arms = [(name, self._arm(place), place[1]) for name, place in self.left.items()]
        joints = joints_of(sketch, body, self.centre)
        self.kept = [joint for joint in joints if not joint.one_way or joint.force in holding]
        self.loose = [joint for joint in joints if joint.one_way and joint.force not in holding]
        self.edges = [
            (support.id, shape.world(body, support.place_m))
            for support in sketch.supports
            if support.body == body.id and support.id in holding and rests_on_a_corner(support, body)
        ]
        self.forces: list[tuple[Vector, Vector]] = []  # (force, arm)
        self.couple = 0.0
        for force in acting_forces(sketch, body.id):
            if force.role != "known" or force.id in self.left:
                continue
            if force.along is None:
                self.couple += force.couple_n_m or 0.0
            else:
                size = force.size_n or 0.0
                self.forces.append(((size * force.along[0], size * force.along[1]), self._arm(force.point)))
        self.reach = max(math.dist(corner, self.centre) for corner in shape.axis(body))
        self.level = sum(math.hypot(*force) for force, _ in self.forces) + abs(self.couple) / self.radius

    def _arm(self, point: Point) -> Vector:
        return (point[0] - self.centre[0], point[1] - self.centre[1])

    def rows(self, moment: Moment) -> list[Row]:
        """The conditions as they stand."""
        return [joint.row(moment.pose, moment.speed) for joint in self.kept]

    def motion(self, moment: Moment) -> tuple[State, linear.Factor, list[float]]:
        """(ax, ay, α·radius), the factors of the conditions, and what these must push for it, over the mass."""
        cosine, sine = math.cos(moment.pose[2]), math.sin(moment.pose[2])
        fx = fy = 0.0
        torque = self.couple
        for (x, y), (arm_x, arm_y) in self.forces:
            fx += x
            fy += y
            torque += (arm_x * cosine - arm_y * sine) * y - (arm_x * sine + arm_y * cosine) * x
        free = [fx / self.mass, fy / self.mass, torque / (self.mass * self.radius)]
        rows = self.rows(moment)
        columns = [(row.slope[0], row.slope[1], row.slope[2] / self.radius) for row in rows]
        factors = linear.factor(columns, 3)
        wanted = [
            -row.bend - sum(mine * theirs for mine, theirs in zip(column, free, strict=True))
            for row, column in zip(rows, columns, strict=True)
        ]
        change = _least(columns, factors, wanted)
        ax, ay, turn = (was + more for was, more in zip(free, change, strict=True))
        return (ax, ay, turn), factors, change

    def stepped(self, moment: Moment, step_s: float) -> Moment:
        """One step on, then back onto what the supports allow."""

        def slope(at: Moment) -> tuple[State, State]:
            (ax, ay, turn), _, _ = self.motion(at)
            return at.speed, (ax, ay, turn / self.radius)

        first = slope(moment)
        second = slope(_moved(moment, first, step_s / 2.0))
        third = slope(_moved(moment, second, step_s / 2.0))
        fourth = slope(_moved(moment, third, step_s))
        mean = tuple(
            _state(
                [
                    (a + 2.0 * b + 2.0 * c + d) / 6.0
                    for a, b, c, d in zip(first[part], second[part], third[part], fourth[part], strict=True)
                ]
            )
            for part in (0, 1)
        )
        return self.settled(_moved(moment, (mean[0], mean[1]), step_s))

    def settled(self, moment: Moment) -> Moment:
        """The nearest moment that keeps every condition."""
        if not self.kept:
            return moment
        pose, speed = moment
        for _ in range(2):  # Newton's steps from a very good start
            rows = self.rows(Moment(pose, speed))
            pose = self._nearer(pose, rows, [-row.gap for row in rows])
        rows = self.rows(Moment(pose, speed))
        rates = [-sum(part * rate for part, rate in zip(row.slope, speed, strict=True)) for row in rows]
        return Moment(pose, self._nearer(speed, rows, rates))

    def _nearer(self, state: State, rows: Sequence[Row], wanted: Sequence[float]) -> State:
        columns = [(row.slope[0], row.slope[1], row.slope[2] / self.radius) for row in rows]
        dx, dy, turn = _least(columns, linear.factor(columns, 3), wanted)
        return (state[0] + dx, state[1] + dy, state[2] + turn / self.radius)

    def kinetic(self, moment: Moment) -> float:
        """Energy of motion, in joules."""
        x, y, spin = moment.speed
        return 0.5 * self.mass * (x * x + y * y + (self.radius * spin) ** 2)

    def energy(self, moment: Moment) -> float:
        """Of motion, less what the forces have done on the way."""
        x, y, turn = moment.pose
        cosine, sine = math.cos(turn), math.sin(turn)
        work = self.couple * turn
        for (fx, fy), (arm_x, arm_y) in self.forces:
            work += fx * (x - self.centre[0] + arm_x * cosine - arm_y * sine - arm_x)
            work += fy * (y - self.centre[1] + arm_x * sine + arm_y * cosine - arm_y)
        return self.kinetic(moment) - work

    def changed(self, moment: Moment, time_s: float) -> tuple[EndKind, str] | None:
        """What no longer holds as it did; None while all does."""
        (_, ay, turn), factors, change = self.motion(moment)
        nothing = NO_PUSH * self.level / self.mass
        one_way = [joint.one_way for joint in self.kept]
        if any(one_way):
            pushes = (
                linear.least_wrong_way(factors, change, one_way)
                if factors.rank < len(one_way)
                else linear.solve(factors, change)[0]
            )
            for joint, push in zip(self.kept, pushes, strict=True):
                if joint.one_way and push < -nothing:
                    return "lets go", joint.force
        for joint in self.loose:
            if joint.row(moment.pose, moment.speed).gap < -NO_GAP * self.reach:
                return "holds again", joint.force
        cosine, sine = math.cos(moment.pose[2]), math.sin(moment.pose[2])
        alpha, spin = turn / self.radius, moment.speed[2]
        for name, (arm_x, arm_y) in self.riding:
            up = arm_x * sine + arm_y * cosine
            out = arm_x * cosine - arm_y * sine
            if ay + alpha * out - spin * spin * up + self.g_m_s2 < -nothing:
                return "left behind", name
        for name, (arm_x, arm_y), height in self.left_arms:
            fallen = height - 0.5 * self.g_m_s2 * time_s * time_s
            if fallen - (moment.pose[1] + arm_x * sine + arm_y * cosine) < -NO_GAP * self.reach:
                return "caught up", name
        for name, corner in self.edges:
            off_x, off_y = corner[0] - moment.pose[0], corner[1] - moment.pose[1]
            begin, finish = (self._arm(point) for point in shape.ends(self.body))
            along = (finish[0] - begin[0], finish[1] - begin[1])
            back = (off_x * cosine + off_y * sine, off_y * cosine - off_x * sine)
            share = (back[0] - begin[0]) * along[0] + (back[1] - begin[1]) * along[1]
            if not 0.0 <= share <= along[0] ** 2 + along[1] ** 2:
                return "slides off", name
        return None

    def posed(self, moment: Moment, time_s: float) -> Pose:
        """The same as a pose of the body."""
        x, y, turn = moment.pose
        cosine, sine = math.cos(turn), math.sin(turn)
        arm_x, arm_y = self._arm(self.body.origin_m)
        (_, _, push), _, _ = self.motion(moment)
        origin = (x + arm_x * cosine - arm_y * sine, y + arm_x * sine + arm_y * cosine)
        return Pose(time_s, origin, turn, push / self.radius, self.kinetic(moment))


def _least(columns: Sequence[Sequence[float]], factors: linear.Factor, wanted: Sequence[float]) -> list[float]:
    """The shortest vector with these products with the columns; dependent columns follow the others."""
    chosen = factors.order[: factors.rank]
    if not chosen:
        return [0.0, 0.0, 0.0]
    products = [
        [sum(mine * theirs for mine, theirs in zip(columns[one], columns[two], strict=True)) for one in chosen]
        for two in chosen
    ]
    shares, _ = linear.solve(linear.factor(products, len(chosen)), [wanted[index] for index in chosen])
    return [sum(share * columns[index][axis] for share, index in zip(shares, chosen, strict=True)) for axis in range(3)]


def _moved(moment: Moment, slope: tuple[State, State], step_s: float) -> Moment:
    pose = _state([was + step_s * rate for was, rate in zip(moment.pose, slope[0], strict=True)])
    speed = _state([was + step_s * rate for was, rate in zip(moment.speed, slope[1], strict=True)])
    return Moment(pose, speed)


def _state(parts: Sequence[float]) -> State:
    return (parts[0], parts[1], parts[2])
