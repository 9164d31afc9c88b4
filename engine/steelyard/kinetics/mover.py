"""A body on its way with the same supports holding all the time: its accelerations, its steps, and what changes."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import NamedTuple

from .. import linear
from ..geometry import Point, Vector
from ..model import Body, Sketch
from ..statics import shape
from ..statics.isolate import acting_forces
from .gripping import Way
from .joints import Joint, Row, State, joints_of, rests_on_a_corner
from .pushing import Pushes, dragging, jammed, least, plain, product
from .released import Release
from .walking import Change, Pose

# What holds of the joints that act one way only: by the force and the end of its face, as a way of `gripping`.
Holding = Mapping[tuple[str, int | None], Way]

# Pushes within this part of the forces, and gaps within this part of the reach, are rounding.
NO_PUSH, NO_GAP = 1e-9, 1e-10

# A corner this part of the body's reach above a surface does not lie on it.
ABOVE = 1e-6


class Moment(NamedTuple):
    """Pose (x, y, θ) of the moving centre, its speed, and the energy that friction has taken so far."""

    pose: State
    speed: State
    lost_j: float = 0.0


class Slope(NamedTuple):
    """How a moment changes: its speed, its acceleration, and the energy that friction takes each second."""

    speed: State
    acceleration: State
    power_w: float


class Mover:
    """The forces and conditions of one motion, in which the same supports hold all the time."""

    def __init__(
        self, sketch: Sketch, body: Body, start: Release, holding: Holding, moment: Moment | None = None
    ) -> None:
        assert start.moving is not None
        self.made_of = (sketch, body, start)
        self.holding = dict(holding)
        self.body = body
        self.mass = start.moving.mass_kg
        self.centre = start.moving.centre_m
        self.radius = math.sqrt(start.moving.moment_kg_m2 / self.mass)
        self.g_m_s2 = sketch.settings.g_m_s2
        self.left = {thing.force.id: thing.place_m for thing in start.things if thing.left}
        self.riding = [(thing.force.id, self._arm(thing.place_m)) for thing in start.things if not thing.left]
        self.left_arms = [(name, self._arm(place), place[1]) for name, place in self.left.items()]
        self.begins = moment or Moment((self.centre[0], self.centre[1], 0.0), (0.0, 0.0, 0.0))
        joints = joints_of(sketch, body, self.centre)
        self.kept: list[Joint] = []
        self.loose: list[Joint] = []
        self.stuck: list[tuple[int, Joint]] = []  # where in `kept` its two conditions begin
        self.slipping: dict[int, tuple[Joint, float]] = {}  # by the place in `kept`: along, and μ with the sense
        self.senses: list[tuple[Joint, float]] = []  # which way each slips
        for joint in joints:
            way = holding.get((joint.force, joint.face), "lifts") if joint.one_way else "holds"
            if way == "lifts":
                self.loose.append(joint)
            elif way == "sticks":
                self.stuck.append((len(self.kept), joint))
                self.kept += joint.stuck_at(self.begins.pose)
            else:
                if way != "holds":
                    sense = 1.0 if way == "slips" else -1.0
                    self.slipping[len(self.kept)] = (joint.sliding, (joint.mu or 0.0) * sense)
                    self.senses.append((joint.sliding, sense))
                self.kept.append(joint)
        self.edges = [
            (support.id, shape.world(body, support.place_m))
            for support in sketch.supports
            if support.body == body.id and (support.id, None) in holding and rests_on_a_corner(support, body)
        ]
        self.floors = self._floors(joints, [support.id for support in sketch.supports if support.kind == "contact"])
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
        # A speed that counts as none: of the rounding of one that the forces give within the reach.
        self.still_m_s = NO_GAP * math.sqrt(self.level / self.mass * self.reach)

    def going_on(self, moment: Moment, change: Change) -> Mover | None:
        """The motion from here with one contact sticking or slipping otherwise; None where it ends with the change."""
        if change.way is None:
            return None
        holding = {**self.holding, change.key: change.way}
        return Mover(*self.made_of, holding, self.settled(moment))

    def _arm(self, point: Point) -> Vector:
        return (point[0] - self.centre[0], point[1] - self.centre[1])

    def _floors(self, joints: Sequence[Joint], contacts: Sequence[str]) -> list[tuple[Joint, list[Vector]]]:
        """The flat surfaces that corners of the body rest on, and its other corners, which are above them at first.

        A disc has no corners: the conditions of its rim say themselves when it comes down.
        """
        if self.body.kind == "disc":
            return []
        corners = [self._arm(corner) for corner in shape.axis(self.body)]
        least = ABOVE * max(math.hypot(*corner) for corner in corners)
        found = []
        for joint in joints:
            if joint.kind == "track" and joint.force in contacts:
                x, y = joint.way
                above = [
                    arm for arm in corners if x * (arm[0] - joint.arm_m[0]) + y * (arm[1] - joint.arm_m[1]) > least
                ]
                found.append((joint, above))
        return found

    def rows(self, moment: Moment) -> list[Row]:
        """The conditions as they stand."""
        return [joint.row(moment.pose, moment.speed) for joint in self.kept]

    def motion(self, moment: Moment) -> tuple[State, Pushes]:
        """(ax, ay, α·radius), and what the conditions must push for it."""
        cosine, sine = math.cos(moment.pose[2]), math.sin(moment.pose[2])
        fx = fy = 0.0
        torque = self.couple
        for (x, y), (arm_x, arm_y) in self.forces:
            fx += x
            fy += y
            torque += (arm_x * cosine - arm_y * sine) * y - (arm_x * sine + arm_y * cosine) * x
        free = [fx / self.mass, fy / self.mass, torque / (self.mass * self.radius)]
        rows = self.rows(moment)
        columns = [self._scaled(row) for row in rows]
        wanted = [
            -row.bend - sum(mine * theirs for mine, theirs in zip(column, free, strict=True))
            for row, column in zip(rows, columns, strict=True)
        ]
        pushes = dragging(columns, self._dragged(moment, columns), wanted) if self.slipping else plain(columns, wanted)
        ax, ay, turn = (was + more for was, more in zip(free, pushes.change, strict=True))
        return (ax, ay, turn), pushes

    def _dragged(self, moment: Moment, columns: Sequence[State]) -> list[State]:
        """Along which lines the conditions push: what slips, along its normal and its friction at once."""
        found = list(columns)
        for index, (joint, drag) in self.slipping.items():
            along = self._scaled(joint.row(moment.pose, moment.speed))
            x, y, turn = (push - drag * part for push, part in zip(columns[index], along, strict=True))
            found[index] = (x, y, turn)
        return found

    def _scaled(self, row: Row) -> State:
        return (row.slope[0], row.slope[1], row.slope[2] / self.radius)

    def stepped(self, moment: Moment, step_s: float) -> Moment:
        """One step on, then back onto what the supports allow."""

        def slope(at: Moment) -> Slope:
            (ax, ay, turn), pushes = self.motion(at)
            return Slope(at.speed, (ax, ay, turn / self.radius), self._power(at, pushes))

        first = slope(moment)
        second = slope(_moved(moment, first, step_s / 2.0))
        third = slope(_moved(moment, second, step_s / 2.0))
        fourth = slope(_moved(moment, third, step_s))
        four = (first, second, third, fourth)
        mean = Slope(
            _state([_mean(parts) for parts in zip(*(each.speed for each in four), strict=True)]),
            _state([_mean(parts) for parts in zip(*(each.acceleration for each in four), strict=True)]),
            _mean([each.power_w for each in four]),
        )
        return self.settled(_moved(moment, mean, step_s))

    def _power(self, moment: Moment, pushes: Pushes) -> float:
        """How fast friction takes energy, in watts."""
        if pushes.shares is None:
            return 0.0
        return sum(
            abs(drag) * self.mass * pushes.shares[index] * abs(self._sliding(joint, moment))
            for index, (joint, drag) in self.slipping.items()
        )

    def _sliding(self, joint: Joint, moment: Moment) -> float:
        """How fast it slides along a joint."""
        return product(joint.row(moment.pose, moment.speed).slope, moment.speed)

    def settled(self, moment: Moment) -> Moment:
        """The nearest moment that keeps every condition."""
        if not self.kept:
            return moment
        pose, speed, lost_j = moment
        for _ in range(2):  # Newton's steps from a very good start
            rows = self.rows(Moment(pose, speed))
            pose = self._nearer(pose, rows, [-row.gap for row in rows])
        rows = self.rows(Moment(pose, speed))
        rates = [-sum(part * rate for part, rate in zip(row.slope, speed, strict=True)) for row in rows]
        return Moment(pose, self._nearer(speed, rows, rates), lost_j)

    def _nearer(self, state: State, rows: Sequence[Row], wanted: Sequence[float]) -> State:
        columns = [(row.slope[0], row.slope[1], row.slope[2] / self.radius) for row in rows]
        dx, dy, turn = least(columns, linear.factor(columns, 3), wanted)
        return (state[0] + dx, state[1] + dy, state[2] + turn / self.radius)

    def kinetic(self, moment: Moment) -> float:
        """Energy of motion, in joules."""
        x, y, spin = moment.speed
        return 0.5 * self.mass * (x * x + y * y + (self.radius * spin) ** 2)

    def energy(self, moment: Moment) -> float:
        """Of motion, less what the forces have done on the way, and with what friction has taken."""
        x, y, turn = moment.pose
        cosine, sine = math.cos(turn), math.sin(turn)
        work = self.couple * turn
        for (fx, fy), (arm_x, arm_y) in self.forces:
            work += fx * (x - self.centre[0] + arm_x * cosine - arm_y * sine - arm_x)
            work += fy * (y - self.centre[1] + arm_x * sine + arm_y * cosine - arm_y)
        return self.kinetic(moment) - work + moment.lost_j

    def changed(self, moment: Moment, time_s: float) -> Change | None:
        """What no longer holds as it did; None while all does."""
        if self.slipping:
            columns = [self._scaled(row) for row in self.rows(moment)]
            if jammed(columns, self._dragged(moment, columns)):
                return Change("jams", self.kept[next(iter(self.slipping))].force)
        (_, ay, turn), pushes = self.motion(moment)
        nothing = NO_PUSH * self.level / self.mass
        sizes = pushes.sizes([joint.one_way for joint in self.kept])
        for joint, push in zip(self.kept, sizes, strict=True):
            if joint.one_way and push < -nothing:
                return Change("lets go", joint.force)
        if (change := self._gripped(moment, sizes, nothing)) is not None:
            return change
        for joint in self.loose:
            if joint.row(moment.pose, moment.speed).gap < -NO_GAP * self.reach:
                return Change("holds again", joint.force)
        cosine, sine = math.cos(moment.pose[2]), math.sin(moment.pose[2])
        for joint, corners in self.floors:
            off_x, off_y = moment.pose[0] - joint.fixed_m[0], moment.pose[1] - joint.fixed_m[1]
            for arm_x, arm_y in corners:
                x, y = off_x + arm_x * cosine - arm_y * sine, off_y + arm_x * sine + arm_y * cosine
                if joint.way[0] * x + joint.way[1] * y < -NO_GAP * self.reach:
                    return Change("holds again", joint.force)
        alpha, spin = turn / self.radius, moment.speed[2]
        for name, (arm_x, arm_y) in self.riding:
            up = arm_x * sine + arm_y * cosine
            out = arm_x * cosine - arm_y * sine
            if ay + alpha * out - spin * spin * up + self.g_m_s2 < -nothing:
                return Change("left behind", name)
        for name, (arm_x, arm_y), height in self.left_arms:
            fallen = height - 0.5 * self.g_m_s2 * time_s * time_s
            if fallen - (moment.pose[1] + arm_x * sine + arm_y * cosine) < -NO_GAP * self.reach:
                return Change("caught up", name)
        for name, corner in self.edges:
            off_x, off_y = corner[0] - moment.pose[0], corner[1] - moment.pose[1]
            begin, finish = (self._arm(point) for point in shape.ends(self.body))
            along = (finish[0] - begin[0], finish[1] - begin[1])
            back = (off_x * cosine + off_y * sine, off_y * cosine - off_x * sine)
            share = (back[0] - begin[0]) * along[0] + (back[1] - begin[1]) * along[1]
            if not 0.0 <= share <= along[0] ** 2 + along[1] ** 2:
                return Change("slides off", name)
        return None

    def _gripped(self, moment: Moment, sizes: Sequence[float], nothing: float) -> Change | None:
        """What begins to slip, or stops sliding, or lifts where it stuck."""
        for index, joint in self.stuck:
            # On a corner, across and along have turned with the body.
            turn = moment.pose[2] if joint.kind == "edge" else 0.0
            cosine, sine = math.cos(turn), math.sin(turn)
            across = sizes[index] * cosine + sizes[index + 1] * _handed(joint) * sine
            along = sizes[index + 1] * cosine - sizes[index] * _handed(joint) * sine
            if across < -nothing:
                return Change("lets go", joint.force)
            if abs(along) > (joint.mu or 0.0) * across + nothing:
                return Change("slips", joint.force, joint.face, "slips" if along < 0.0 else "slips back")
        for joint, sense in self.senses:
            if sense * self._sliding(joint, moment) < -self.still_m_s:
                return Change("sticks", joint.force, joint.face, "sticks")
        return None

    def posed(self, moment: Moment, time_s: float) -> Pose:
        """The same as a pose of the body."""
        x, y, turn = moment.pose
        cosine, sine = math.cos(turn), math.sin(turn)
        arm_x, arm_y = self._arm(self.body.origin_m)
        (_, _, push), _ = self.motion(moment)
        origin = (x + arm_x * cosine - arm_y * sine, y + arm_x * sine + arm_y * cosine)
        return Pose(time_s, origin, turn, push / self.radius, self.kinetic(moment))


def _moved(moment: Moment, slope: Slope, step_s: float) -> Moment:
    pose = _state([was + step_s * rate for was, rate in zip(moment.pose, slope.speed, strict=True)])
    speed = _state([was + step_s * rate for was, rate in zip(moment.speed, slope.acceleration, strict=True)])
    return Moment(pose, speed, moment.lost_j + step_s * slope.power_w)


def _mean(parts: Sequence[float]) -> float:
    """Of the four slopes of a step (Runge and Kutta)."""
    return (parts[0] + 2.0 * parts[1] + 2.0 * parts[2] + parts[3]) / 6.0


def _handed(joint: Joint) -> float:
    """+1 where along lies a quarter turn counterclockwise of across, −1 where clockwise."""
    return math.copysign(1.0, joint.way[0] * joint.along[1] - joint.way[1] * joint.along[0])


def _state(parts: Sequence[float]) -> State:
    return (parts[0], parts[1], parts[2])
