"""How a mass starts to move from rest where contacts are rough, or touch along a face: every contact mode is tried.

At each point that touches, one of these: it sticks (no acceleration along, friction within μN); it slips one way or
the other (friction is μN against that); it lifts off (no force). A smooth one holds or lifts. A mode agrees with itself
when accelerations and forces exist that fulfil all of its conditions at once: a linear program. With friction there
may be several that do, or none; both are said (Painlevé, 1895; Lecornu, 1905).
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import product
from typing import Literal, NamedTuple

from ..geometry import Point, Vector
from ..program import Bound, Program
from ..statics.reading import ActingForce
from .inertia import Inertia
from .starting import NOTHING, Column, Start, applied_to, columns_of
from .touching import Touch, both_ways, touches_of

Way = Literal["sticks", "slips", "slips back", "holds", "lifts"]

# Beyond this many modes they are not all tried.
MOST_MODES = 2048


class Gripped(NamedTuple):
    """One way to start with friction: the start, what each touch does, and the forces where they have one value.

    `pushes`: the size at each touch along its normal, None where that is left open. `sizes`: that of each one-way force
    along its normal, and of each friction force along its tangent, by its id. `others`: the value of each unknown that
    acts both ways, in the order of `starting.columns_of`.
    """

    start: Start
    ways: tuple[Way, ...]
    pushes: tuple[float | None, ...]
    sizes: dict[str, float | None]
    others: tuple[float | None, ...]


def modes_of(touches: Sequence[Touch]) -> Iterator[tuple[Way, ...]]:
    """Every combination of what the points may do, sticking and holding first.

    The two ends of a face that both hold slide together or not at all.
    """
    choices: list[tuple[Way, ...]] = [
        ("sticks", "slips", "slips back", "lifts") if touch.friction else ("holds", "lifts") for touch in touches
    ]
    for mode in product(*choices):
        if not any(
            touch.face == 1 and "lifts" not in mode[index - 1 : index + 1] and mode[index - 1] != mode[index]
            for index, touch in enumerate(touches)
        ):
            yield mode


def count_modes(touches: Sequence[Touch]) -> int:
    """No fewer than `modes_of` gives."""
    return math.prod(4 if touch.friction else 2 for touch in touches)


def starts_with_friction(
    own: Inertia,
    acting: Sequence[ActingForce],
    riding: Sequence[tuple[ActingForce, float]],
    left: frozenset[str],
) -> tuple[list[Gripped], int]:
    """Every way to start with these things riding along; and how many modes were tried."""
    moving = own.with_masses([(mass, force.point) for force, mass in riding])
    radius = math.sqrt(moving.moment_kg_m2 / moving.mass_kg)
    applied, scale = applied_to(acting, left, moving.centre_m, radius)
    touches = touches_of(acting)
    pairs = [column for force in both_ways(acting) for column in columns_of(force, moving.centre_m, radius)]
    found: list[Gripped] = []
    count = 0
    for mode in modes_of(touches):
        count += 1
        gripped = _tried(mode, touches, pairs, moving, radius, applied, scale, left)
        if gripped is not None:
            found.append(gripped)
    return found, count


def _tried(
    mode: tuple[Way, ...],
    touches: Sequence[Touch],
    pairs: Sequence[Column],
    moving: Inertia,
    radius: float,
    applied: Column,
    scale: float,
    left: frozenset[str],
) -> Gripped | None:
    """The accelerations and forces of one mode, if they agree with all of its conditions."""
    equations = _Equations(moving.centre_m, radius)
    for pair in pairs:
        equations.hold(pair)
    pushes: list[dict[int, float]] = []
    forms: dict[str, dict[int, float]] = {}
    for touch, way in zip(touches, mode, strict=True):
        push, friction = equations.touch(touch, way)
        pushes.append(push)
        forms.setdefault(touch.force, {}).update(push)
        forms.setdefault(touch.friction, {}).update(friction)
    program = equations.program(applied, scale)
    if not program.outcome.admissible:
        return None
    values = program.outcome.values
    mass = moving.mass_kg
    nothing = NOTHING * scale / mass
    motion = [values[index] / mass for index in range(3)]
    settled = [0.0 if abs(part) <= nothing else part for part in motion]
    start = Start(moving, radius, (settled[0], settled[1], settled[2]), nothing, left)

    sizes = {force: one_value(program, form, scale) for force, form in forms.items() if force}
    others = tuple(one_value(program, {index: 1.0}, scale) for index in equations.pairs)
    return Gripped(start, mode, tuple(one_value(program, form, scale) for form in pushes), sizes, others)


def one_value(program: Program, form: dict[int, float], scale: float) -> float | None:
    """The value of a sum of unknowns, None where it has more than one."""
    if not form:
        return 0.0
    reach = program.range_of(form)
    low, high = reach.least.value, reach.greatest.value
    if not math.isfinite(high - low) or high - low > NOTHING * max(scale, abs(low), abs(high)):
        return None
    return 0.0 if abs(low) <= NOTHING * scale else low


class _Equations:
    """The equations of motion of one mode and its conditions, in newtons; torques over the radius of gyration.

    Unknowns: mass times acceleration (three), then forces, and the accelerations out of and along the touches.
    """

    def __init__(self, centre: Point, radius: float) -> None:
        self.centre, self.radius = centre, radius
        self.rows = 3
        self.columns: list[dict[int, float]] = [{0: 1.0}, {1: 1.0}, {2: 1.0}]
        self.one_way = [False, False, False]
        self.bounds: list[Bound] = []
        self.pairs: list[int] = []

    def wrench(self, point: Point, way: Vector) -> Column:
        x, y = (point[0] - self.centre[0]) / self.radius, (point[1] - self.centre[1]) / self.radius
        return (way[0], way[1], x * way[1] - y * way[0])

    def force(self, column: Column, one_way: bool) -> int:
        """A force of unknown size on the mass."""
        self.columns.append({row: -part for row, part in enumerate(column)})
        self.one_way.append(one_way)
        return len(self.columns) - 1

    def condition(self, column: Column, out: float = 0.0) -> None:
        """No acceleration along a unit wrench; with `out` only none the other way than its sign says."""
        for row, part in enumerate(column):
            self.columns[row][self.rows] = part
        if out:
            self.columns.append({self.rows: -out})
            self.one_way.append(True)
        self.rows += 1

    def hold(self, column: Column) -> None:
        self.pairs.append(self.force(column, False))
        self.condition(column)

    def touch(self, touch: Touch, way: Way) -> tuple[dict[int, float], dict[int, float]]:
        """What one point does: its push and its friction as sums of unknowns with these factors."""
        normal = self.wrench(touch.point, touch.normal)
        if way == "lifts":
            self.condition(normal, 1.0)
            return {}, {}
        self.condition(normal)
        if way == "holds":
            return {self.force(normal, True): 1.0}, {}
        tangent = self.wrench(touch.point, touch.tangent)
        if way == "sticks":
            self.condition(tangent)
            push, friction = self.force(normal, True), self.force(tangent, False)
            self.bounds.append(Bound(friction, push, touch.mu))
            return {push: 1.0}, {friction: 1.0}
        sense = 1.0 if way == "slips" else -1.0
        self.condition(tangent, sense)
        drag = -sense * touch.mu
        x, y, turn = (push + drag * along for push, along in zip(normal, tangent, strict=True))
        dragged = self.force((x, y, turn), True)
        return {dragged: 1.0}, {dragged: drag}

    def program(self, applied: Column, scale: float) -> Program:
        """The forces are against, since they stand on the side of the mass times acceleration."""
        return Program(self.columns, [*applied, *[0.0] * (self.rows - 3)], self.one_way, self.bounds, scale)
