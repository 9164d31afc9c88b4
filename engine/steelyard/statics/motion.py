"""A short motion from rest: fixed steps, supports kept exactly, and the energy watched.

Runge and Kutta's fourth-order steps in (x, y, θ) with the accelerations that the supports leave; after each step place
and speed are brought back on what the supports allow, by the shortest way in the measure of the masses. Steps are
halved until the energy is kept; what is left is returned. It ends at the first change of what holds.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal, NamedTuple

from .. import linear
from ..geometry import Point, Vector
from ..model import Body, Sketch
from . import shape
from .isolate import acting_forces, find_body
from .joints import Row, State, joints_of, rests_on_a_corner
from .release import Release, release

EndKind = Literal["time", "lets go", "holds again", "left behind", "caught up", "slides off"]

# Poses kept of a motion, evenly in time but for the last.
SAMPLES = 120
LONGEST_S = 5.0
# So much of the largest energy of motion may be lost or won before steps are halved, and how often they are.
ENERGY_WANTED = 1e-8
HALVINGS = 4
# Bisections of the step in which something changes: the time is then right to the last digits.
BISECTIONS = 45


class Pose(NamedTuple):
    """Where the body is `time_s` after it was let go: its frame's origin, and how far it has turned in all."""

    time_s: float
    origin_m: Point
    turned_rad: float
    alpha_rad_s2: float
    kinetic_j: float


@dataclass(frozen=True, slots=True)
class Motion:
    """Poses from rest to the end. `ends` says why it ends, `of` what changed there ("" when the time was up).

    `energy_error`: the greatest gain or loss of energy, as a part of the greatest energy of motion. `step_s`: the step.
    """

    poses: tuple[Pose, ...]
    ends: EndKind
    of: str
    energy_error: float
    step_s: float

    @property
    def duration_s(self) -> float:
        """How long it lasts."""
        return self.poses[-1].time_s


class _Moment(NamedTuple):
    pose: State
    speed: State


class _Mover:
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

    def rows(self, moment: _Moment) -> list[Row]:
        return [joint.row(moment.pose, moment.speed) for joint in self.kept]

    def motion(self, moment: _Moment) -> tuple[State, linear.Factor, list[float]]:
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

    def stepped(self, moment: _Moment, step_s: float) -> _Moment:
        """One step on, then back onto what the supports allow."""

        def slope(at: _Moment) -> tuple[State, State]:
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

    def settled(self, moment: _Moment) -> _Moment:
        """The nearest moment that keeps every condition."""
        if not self.kept:
            return moment
        pose, speed = moment
        for _ in range(2):  # Newton's steps from a very good start
            rows = self.rows(_Moment(pose, speed))
            pose = self._nearer(pose, rows, [-row.gap for row in rows])
        rows = self.rows(_Moment(pose, speed))
        rates = [-sum(part * rate for part, rate in zip(row.slope, speed, strict=True)) for row in rows]
        return _Moment(pose, self._nearer(speed, rows, rates))

    def _nearer(self, state: State, rows: Sequence[Row], wanted: Sequence[float]) -> State:
        columns = [(row.slope[0], row.slope[1], row.slope[2] / self.radius) for row in rows]
        dx, dy, turn = _least(columns, linear.factor(columns, 3), wanted)
        return (state[0] + dx, state[1] + dy, state[2] + turn / self.radius)

    def kinetic(self, moment: _Moment) -> float:
        x, y, spin = moment.speed
        return 0.5 * self.mass * (x * x + y * y + (self.radius * spin) ** 2)

    def energy(self, moment: _Moment) -> float:
        """Of motion, less what the forces have done on the way."""
        x, y, turn = moment.pose
        cosine, sine = math.cos(turn), math.sin(turn)
        work = self.couple * turn
        for (fx, fy), (arm_x, arm_y) in self.forces:
            work += fx * (x - self.centre[0] + arm_x * cosine - arm_y * sine - arm_x)
            work += fy * (y - self.centre[1] + arm_x * sine + arm_y * cosine - arm_y)
        return self.kinetic(moment) - work

    def changed(self, moment: _Moment, time_s: float) -> tuple[EndKind, str] | None:
        """What no longer holds as it did; None while all does."""
        (_, ay, turn), factors, change = self.motion(moment)
        nothing = 1e-9 * self.level / self.mass
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
            if joint.row(moment.pose, moment.speed).gap < -1e-10 * self.reach:
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
            if fallen - (moment.pose[1] + arm_x * sine + arm_y * cosine) < -1e-10 * self.reach:
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

    def posed(self, moment: _Moment, time_s: float) -> Pose:
        x, y, turn = moment.pose
        cosine, sine = math.cos(turn), math.sin(turn)
        arm_x, arm_y = self._arm(self.body.origin_m)
        (_, _, push), _, _ = self.motion(moment)
        origin = (x + arm_x * cosine - arm_y * sine, y + arm_x * sine + arm_y * cosine)
        return Pose(time_s, origin, turn, push / self.radius, self.kinetic(moment))


def motion(sketch: Sketch, start: Release | None = None, *, body_id: str | None = None) -> Motion | None:
    """What a body does when let go, for a moment; None while it stays at rest or has no answer.

    The time is a little more than it takes to move by its own reach, five seconds at most.
    """
    body = find_body(sketch, body_id)
    start = release(sketch, body.id) if start is None else start
    if start.trouble or start.at_rest or start.agreeing != 1:
        return None
    holding = frozenset(held.force.id for held in start.held if held.force.one_way and held.mode == "holds")
    touching = [held.force.id for held in start.held if held.mode == "touches"]
    while True:
        mover = _Mover(sketch, body, start, holding)
        found = _kept(mover, _duration(mover))
        # What only touches at first may be pressed at once: then it holds from the beginning.
        if found.ends == "holds again" and found.of in touching and found.duration_s <= 2.0 * found.step_s:
            holding |= {found.of}
            touching.remove(found.of)
            continue
        return found


def _duration(mover: _Mover) -> float:
    at = _Moment((mover.centre[0], mover.centre[1], 0.0), (0.0, 0.0, 0.0))
    (ax, ay, turn), _, _ = mover.motion(at)
    fastest = math.hypot(ax, ay) + abs(turn) / mover.radius * mover.reach
    return min(LONGEST_S, float(f"{2.4 * math.sqrt(2.0 * mover.reach / fastest):.1e}")) if fastest else LONGEST_S


def _kept(mover: _Mover, duration_s: float) -> Motion:
    """The motion with steps fine enough to keep the energy."""
    best: Motion | None = None
    for halving in range(HALVINGS + 1):
        found = _walked(mover, duration_s, 1 << halving)
        if best is None or found.energy_error < best.energy_error:
            best = found
        if found.energy_error <= ENERGY_WANTED:
            break
    assert best is not None
    return best


def _walked(mover: _Mover, duration_s: float, steps: int) -> Motion:
    """`steps` steps from each pose kept to the next."""
    step_s = duration_s / (SAMPLES * steps)
    moment = _Moment((mover.centre[0], mover.centre[1], 0.0), (0.0, 0.0, 0.0))
    poses = [mover.posed(moment, 0.0)]
    began = mover.energy(moment)
    error = 0.0
    ends: tuple[EndKind, str] = ("time", "")
    for count in range(1, SAMPLES * steps + 1):
        after = mover.stepped(moment, step_s)
        time_s = count * step_s
        change = mover.changed(after, time_s)
        if change is not None:
            share, after, change = _when(mover, moment, time_s - step_s, step_s, change)
            time_s = time_s - step_s + share
            ends = change
        moment = after
        error = max(error, abs(mover.energy(moment) - began))
        if change is not None or count % steps == 0:
            poses.append(mover.posed(moment, time_s))
        if change is not None:
            break
    most = max(pose.kinetic_j for pose in poses)
    return Motion(tuple(poses), ends[0], ends[1], error / most if most > 0.0 else 0.0, step_s)


def _when(
    mover: _Mover, moment: _Moment, time_s: float, step_s: float, change: tuple[EndKind, str]
) -> tuple[float, _Moment, tuple[EndKind, str]]:
    """How far into a step something changes first, where the body is then, and what it is."""
    low, high = 0.0, step_s
    after = mover.stepped(moment, high)
    for _ in range(BISECTIONS):
        middle = 0.5 * (low + high)
        there = mover.stepped(moment, middle)
        found = mover.changed(there, time_s + middle)
        if found is None:
            low = middle
        else:
            high, after, change = middle, there, found
    return high, after, change


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


def _moved(moment: _Moment, slope: tuple[State, State], step_s: float) -> _Moment:
    pose = _state([was + step_s * rate for was, rate in zip(moment.pose, slope[0], strict=True)])
    speed = _state([was + step_s * rate for was, rate in zip(moment.speed, slope[1], strict=True)])
    return _Moment(pose, speed)


def _state(parts: Sequence[float]) -> State:
    return (parts[0], parts[1], parts[2])
