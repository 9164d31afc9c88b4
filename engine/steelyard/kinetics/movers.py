"""Joined bodies on their way with the same supports holding all the time: accelerations, steps, and what changes.

What `mover` does for one body, for several: accelerations are those of free bodies and the least change, in the measure
of the masses, that keeps every condition (Gauss). Bodies without mass are in equilibrium. Contacts hold without
slipping or slide smoothly.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from .. import linear
from ..geometry import Vector
from ..model import Sketch
from ..statics import shape
from .carried import carried_by
from .clinging import Grip, failing, shared_change
from .gripping import Way
from .joints import Joint, State
from .linkage import Link, LinkRow, grounded, links_between
from .member import members_of, parts_of
from .mover import ABOVE, NO_GAP, NO_PUSH
from .released import Release
from .states import Moments, mean, moved, solved, summed, turned
from .walking import Change, Pose


class Movers:
    """The forces and conditions of one motion of joined bodies."""

    def __init__(self, sketch: Sketch, start: Release, holding: Mapping[tuple[str, int | None], Way]) -> None:
        parts = start.bodies
        left = {thing.force.id for part in parts for thing in part.things if thing.left}
        members = members_of(parts_of(sketch, [part.body for part in parts]), left)
        self.bodies = [sketch.body(part.body) for part in parts]
        self.moving = [member.moving for member in members]
        self.radii = [member.radius_m for member in members]
        self.inert = [part for member in members for part in member.inert]
        self.g_m_s2 = sketch.settings.g_m_s2
        centres = [each.centre_m for each in self.moving]
        self.begins = Moments(tuple((x, y, 0.0) for x, y in centres), tuple((0.0, 0.0, 0.0) for _ in centres))
        self.carried = [carried_by(sketch, part, centre) for part, centre in zip(parts, centres, strict=True)]
        self.reaches = [
            max(math.dist(corner, centre) for corner in shape.axis(body))
            for body, centre in zip(self.bodies, centres, strict=True)
        ]
        self.reach = max(self.reaches)
        self.level = sum(
            sum(math.hypot(*force) for force, _ in each.forces) + abs(each.couple) / radius
            for each, radius in zip(self.carried, self.radii, strict=True)
        )
        self.kept: list[Link] = []
        self.loose: list[Link] = []
        self.stuck: list[tuple[int, int, Joint]] = []  # where in `kept` its two conditions begin; the body
        self.edges: list[tuple[int, Joint]] = []
        self.floors: list[tuple[int, Joint, list[Vector]]] = []
        contacts = {support.id for support in sketch.supports if support.kind == "contact"}
        for number, body in enumerate(self.bodies):
            for joint in grounded(sketch, body.id, centres[number]):
                self._place(number, joint, holding)
                if joint.kind == "track" and joint.force in contacts and body.kind != "disc":
                    self.floors.append((number, joint, self._above(number, joint)))
        for link in links_between(sketch, [body.id for body in self.bodies], centres):
            holds = not link.one_way or holding.get((link.force, None), "lifts") != "lifts"
            (self.kept if holds else self.loose).append(link)
        self.chosen = self._independent()

    def _place(self, number: int, joint: Joint, holding: Mapping[tuple[str, int | None], Way]) -> None:
        """A condition to the ground among those that are kept, or those that are watched."""
        way = holding.get((joint.force, joint.face), "lifts") if joint.one_way else "holds"
        if way == "lifts":
            self.loose.append(Link((number,), (joint,), True))
            return
        if joint.kind == "edge":
            self.edges.append((number, joint))
        if way == "sticks":
            self.stuck.append((len(self.kept), number, joint))
            self.kept += [Link((number,), (each,), False) for each in joint.stuck_at(self.begins.poses[number])]
        else:
            self.kept.append(Link((number,), (joint,), joint.one_way))

    def _arm(self, number: int, point: Vector) -> Vector:
        x, y = self.moving[number].centre_m
        return (point[0] - x, point[1] - y)

    def _above(self, number: int, joint: Joint) -> list[Vector]:
        """The corners of a body that are above a flat surface that it rests on."""
        corners = [self._arm(number, corner) for corner in shape.axis(self.bodies[number])]
        least = ABOVE * max(math.hypot(*corner) for corner in corners)
        x, y = joint.way
        return [arm for arm in corners if x * (arm[0] - joint.arm_m[0]) + y * (arm[1] - joint.arm_m[1]) > least]

    def rows(self, moment: Moments) -> list[LinkRow]:
        """The conditions as they stand."""
        return [link.row(moment.poses, moment.speeds) for link in self.kept]

    def _column(self, row: LinkRow) -> dict[int, float]:
        """The slope in the measure of the masses."""
        column = {}
        for number, (x, y, turn) in row.slopes.items():
            root = math.sqrt(self.moving[number].mass_kg)
            column[3 * number], column[3 * number + 1] = x / root, y / root
            column[3 * number + 2] = turn / (root * self.radii[number])
        return column

    def _independent(self) -> list[int]:
        """The conditions that the others follow from."""
        columns = [self._column(row) for row in self.rows(self.begins)]
        size = 3 * len(self.bodies)
        dense = [[column.get(axis, 0.0) for axis in range(size)] for column in columns]
        factors = linear.factor(dense, size)
        return sorted(factors.order[: factors.rank])

    def _shortest(
        self, columns: Sequence[dict[int, float]], wanted: Sequence[float]
    ) -> tuple[list[float], list[float]]:
        """The shortest vector with these products with the chosen columns, and how much of each is in it."""
        products = [
            [sum(part * two.get(axis, 0.0) for axis, part in one.items()) for two in columns] for one in columns
        ]
        shares = solved(products, list(wanted))
        change = [0.0] * (3 * len(self.bodies))
        for share, column in zip(shares, columns, strict=True):
            for axis, part in column.items():
                change[axis] += share * part
        return change, shares

    def motion(self, moment: Moments) -> tuple[list[State], list[float]]:
        """The acceleration (ax, ay, α) of each body, and the force of each kept condition; 0 where others do it."""
        free: list[float] = []
        for number, pose in enumerate(moment.poses):
            fx, fy, torque = self.carried[number].wrench(pose)
            root = math.sqrt(self.moving[number].mass_kg)
            free += [fx / root, fy / root, torque / (root * self.radii[number])]
        rows = self.rows(moment)
        columns = [self._column(rows[index]) for index in self.chosen]
        wanted = [
            -rows[index].bend - sum(part * free[axis] for axis, part in column.items())
            for index, column in zip(self.chosen, columns, strict=True)
        ]
        if all(self.inert):
            change, shares = self._shortest(columns, wanted)
            total = [mine + more for mine, more in zip(free, change, strict=True)]
        else:
            total, shares = self._with_weightless(columns, free, [-rows[index].bend for index in self.chosen])
        pushes = [0.0] * len(rows)
        for index, share in zip(self.chosen, shares, strict=True):
            pushes[index] = share
        return [self._unscaled(number, total) for number in range(len(self.bodies))], pushes

    def _with_weightless(
        self, columns: Sequence[dict[int, float]], forces: Sequence[float], wanted: Sequence[float]
    ) -> tuple[list[float], list[float]]:
        """The accelerations and pushes where some bodies have no inertia: all equations at once."""
        size, count = len(self.inert), len(columns)
        matrix = [[0.0] * (size + count) for _ in range(size + count)]
        for axis, part in enumerate(self.inert):
            matrix[axis][axis] = part
        for place, column in enumerate(columns, size):
            for axis, part in column.items():
                matrix[axis][place], matrix[place][axis] = -part, part
        found, _ = linear.solve(linear.factor(list(zip(*matrix, strict=True)), size + count), [*forces, *wanted])
        return found[:size], found[size:]

    def _unscaled(self, number: int, parts: Sequence[float]) -> State:
        root = math.sqrt(self.moving[number].mass_kg)
        x, y, turn = parts[3 * number : 3 * number + 3]
        return (x / root, y / root, turn / (root * self.radii[number]))

    def stepped(self, moment: Moments, step_s: float) -> Moments:
        """One step on (Runge and Kutta's of fourth order), then back onto what the supports allow."""
        slopes: list[tuple[tuple[State, ...], tuple[State, ...]]] = []
        at = moment
        for part in (0.5, 0.5, 1.0, 0.0):
            rates = (at.speeds, tuple(self.motion(at)[0]))
            slopes.append(rates)
            at = moved(moment, rates, part * step_s)
        middle = (
            tuple(mean([speeds[number] for speeds, _ in slopes]) for number in range(len(self.bodies))),
            tuple(mean([rates[number] for _, rates in slopes]) for number in range(len(self.bodies))),
        )
        return self.settled(moved(moment, middle, step_s))

    def settled(self, moment: Moments) -> Moments:
        """The nearest moment that keeps every condition."""
        if not self.kept:
            return moment
        poses, speeds = moment
        for _ in range(2):  # Newton's steps from a very good start
            rows = self.rows(Moments(poses, speeds))
            poses = self._nearer(poses, rows, [-rows[index].gap for index in self.chosen])
        rows = self.rows(Moments(poses, speeds))
        rates = [
            -sum(
                part * rate
                for number, slope in rows[index].slopes.items()
                for part, rate in zip(slope, speeds[number], strict=True)
            )
            for index in self.chosen
        ]
        return Moments(poses, self._nearer(speeds, rows, rates))

    def _nearer(self, states: Sequence[State], rows: Sequence[LinkRow], wanted: Sequence[float]) -> tuple[State, ...]:
        change, _ = self._shortest([self._column(rows[index]) for index in self.chosen], wanted)
        return tuple(summed(state, self._unscaled(number, change)) for number, state in enumerate(states))

    def kinetic(self, moment: Moments) -> float:
        """Energy of motion, in joules."""
        total = 0.0
        for number, (x, y, spin) in enumerate(moment.speeds):
            both, _, turning = self.inert[3 * number : 3 * number + 3]
            speeds = both * (x * x + y * y) + turning * (self.radii[number] * spin) ** 2
            total += 0.5 * self.moving[number].mass_kg * speeds
        return total

    def energy(self, moment: Moments) -> float:
        """Of motion, less what the forces have done on the way."""
        parts = zip(self.carried, moment.poses, self.moving, strict=True)
        return self.kinetic(moment) - sum(carried.work(pose, each.centre_m) for carried, pose, each in parts)

    def changed(self, moment: Moments, time_s: float) -> Change | None:
        """What no longer holds as it did; None while all does."""
        accelerations, pushes = self.motion(moment)
        if (change := self._let_go(moment, pushes)) is not None:
            return change
        for link in self.loose:
            if link.row(moment.poses, moment.speeds).gap < -NO_GAP * self.reach:
                return Change("holds again", link.force)
        for number, joint, corners in self.floors:
            x, y, _ = moment.poses[number]
            for arm in corners:
                arm_x, arm_y = turned(arm, moment.poses[number])
                off = (x + arm_x - joint.fixed_m[0], y + arm_y - joint.fixed_m[1])
                if joint.way[0] * off[0] + joint.way[1] * off[1] < -NO_GAP * self.reach:
                    return Change("holds again", joint.force)
        return self._slid_off(moment) or self._things(moment, accelerations, time_s)

    def _let_go(self, moment: Moments, pushes: Sequence[float]) -> Change | None:
        """What would have to act the wrong way, or hold by more friction than there is."""
        grips = [Grip.of(index, joint, moment.poses[number]) for index, number, joint in self.stuck]
        one_way = [link.one_way for link in self.kept]
        if len(self.chosen) < len(self.kept) and (grips or any(one_way)):
            return shared_change([self._column(row) for row in self.rows(moment)], pushes, self.kept, grips, self.level)
        return failing(pushes, self.kept, grips, NO_PUSH * self.level)

    def _slid_off(self, moment: Moments) -> Change | None:
        """A bar that has slid past the fixed corner under it."""
        for number, joint in self.edges:
            x, y, turn = moment.poses[number]
            off = (joint.fixed_m[0] - x, joint.fixed_m[1] - y)
            back = turned(off, (0.0, 0.0, -turn))
            begin, finish = (self._arm(number, point) for point in shape.ends(self.bodies[number]))
            along = (finish[0] - begin[0], finish[1] - begin[1])
            share = (back[0] - begin[0]) * along[0] + (back[1] - begin[1]) * along[1]
            if not 0.0 <= share <= along[0] ** 2 + along[1] ** 2:
                return Change("slides off", joint.force)
        return None

    def _things(self, moment: Moments, accelerations: Sequence[State], time_s: float) -> Change | None:
        """A thing that is left behind, or landed on."""
        for number, carried in enumerate(self.carried):
            pose, (_, ay, alpha) = moment.poses[number], accelerations[number]
            spin = moment.speeds[number][2]
            nothing = NO_PUSH * self.level / self.moving[number].mass_kg
            for name, arm in carried.riding:
                out, up = turned(arm, pose)
                if ay + alpha * out - spin * spin * up + self.g_m_s2 < -nothing:
                    return Change("left behind", name)
            for name, arm, height in carried.left:
                fallen = height - 0.5 * self.g_m_s2 * time_s * time_s
                if fallen - (pose[1] + turned(arm, pose)[1]) < -NO_GAP * self.reach:
                    return Change("caught up", name)
        return None

    def posed(self, moment: Moments, time_s: float) -> tuple[Pose, ...]:
        """The same as a pose of each body, with the energy of motion of them all."""
        accelerations, _ = self.motion(moment)
        kinetic = self.kinetic(moment)
        found = []
        for number, body in enumerate(self.bodies):
            x, y, turn = moment.poses[number]
            arm_x, arm_y = turned(self._arm(number, body.origin_m), moment.poses[number])
            found.append(Pose(time_s, (x + arm_x, y + arm_y), turn, accelerations[number][2], kinetic))
        return tuple(found)

    @property
    def fastest(self) -> float:
        """The greatest acceleration of any point as they start, or a little more."""
        accelerations, _ = self.motion(self.begins)
        return max(
            math.hypot(ax, ay) + abs(alpha) * reach
            for (ax, ay, alpha), reach in zip(accelerations, self.reaches, strict=True)
        )

    def going_on(self, moment: Moments, change: Change) -> Movers | None:
        """None: the motion of joined bodies ends with the first change."""
        return None
