"""How joined bodies start to move from rest when they are let go together: contact modes as linear programs.

What `gripping` does for one body, for several: three accelerations a body, and each joint between two bodies a
condition on how they move against each other, with one force that acts on both (the equations of motion with
multipliers, Lagrange, 1788). A body without mass, or turning without inertia, is in equilibrium.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from ..program import Bound, Program
from .gripping import Way, modes_of, one_value
from .member import Line, Lines, Member, lines_of
from .starting import NOTHING, Column


class Collapsing(NamedTuple):
    """One way to start: what each touch does, (ax, ay, α·radius) of each member, and the forces, None where left open.

    `scales`: accelerations of each member below it are rounding. `settled`: whether each acceleration has one value,
    as it may not without mass. `holds` are sizes by part, as in `Lines`; `pushes` by touch; `sizes` by force, along
    its normal or tangent.
    """

    ways: tuple[Way, ...]
    motions: tuple[Column, ...]
    scales: tuple[float, ...]
    settled: tuple[bool, ...]
    lines: Lines
    holds: dict[tuple[str, int], float | None]
    pushes: tuple[float | None, ...]
    sizes: dict[str, float | None]


def collapsings(members: Sequence[Member]) -> tuple[list[Collapsing], int]:
    """Every way to start; and how many modes were tried.

    Without friction there is at most one (`release`), so the first is enough.
    """
    lines = lines_of(members)
    rough = any(touch.friction for touch in lines.touches)
    found: list[Collapsing] = []
    count = 0
    for mode in modes_of(lines.touches):
        count += 1
        one = _tried(mode, lines, members)
        if one is not None:
            found.append(one)
            if not rough:
                break
    return found, count


def _tried(mode: tuple[Way, ...], lines: Lines, members: Sequence[Member]) -> Collapsing | None:
    """The accelerations and forces of one mode, if they agree with all of its conditions."""
    equations = _Equations(members)
    held = {key: equations.hold(line) for key, line in lines.holds.items()}
    pushes: list[dict[int, float]] = []
    forms: dict[str, dict[int, float]] = {}
    for number, (touch, way) in enumerate(zip(lines.touches, mode, strict=True)):
        push, friction = equations.touch(lines.across[number], lines.along[number], touch.mu, way, bool(touch.friction))
        pushes.append(push)
        forms.setdefault(touch.force, {}).update(push)
        forms.setdefault(touch.friction, {}).update(friction)
    scale = sum(member.scale for member in members)
    program = equations.program(scale)
    if not program.outcome.admissible:
        return None
    values = program.outcome.values
    motions = []
    scales = []
    settled = []
    for number, member in enumerate(members):
        mass = member.moving.mass_kg
        nothing = NOTHING * scale / mass
        own = range(3 * number, 3 * number + 3)
        x, y, turn = (0.0 if abs(values[index] / mass) <= nothing else values[index] / mass for index in own)
        motions.append((x, y, turn))
        scales.append(nothing)
        settled.append(all(member.inert) or all(one_value(program, {index: 1.0}, scale) is not None for index in own))
    return Collapsing(
        mode,
        tuple(motions),
        tuple(scales),
        tuple(settled),
        lines,
        {key: one_value(program, {index: 1.0}, scale) for key, index in held.items()},
        tuple(one_value(program, form, scale) for form in pushes),
        {force: one_value(program, form, scale) for force, form in forms.items() if force},
    )


class _Equations:
    """The equations of motion of one mode and its conditions, in newtons; torques over each member's radius.

    Unknowns: mass times acceleration (three a member), then forces, and the accelerations out of and along touches.
    """

    def __init__(self, members: Sequence[Member]) -> None:
        self.members = members
        self.columns: list[dict[int, float]] = [
            {3 * number + axis: part} if part else {}
            for number, member in enumerate(members)
            for axis, part in enumerate(member.inert)
        ]
        self.rows = len(self.columns)
        self.one_way = [False] * self.rows
        self.bounds: list[Bound] = []

    def force(self, line: Line, one_way: bool) -> int:
        """A force of unknown size."""
        self.columns.append(
            {3 * number + axis: -part for number, column in line.items() for axis, part in enumerate(column) if part}
        )
        self.one_way.append(one_way)
        return len(self.columns) - 1

    def condition(self, line: Line, out: float = 0.0) -> None:
        """No acceleration along a line; with `out` only none the other way than its sign says."""
        least = min(self.members[number].moving.mass_kg for number in line)
        for number, column in line.items():
            share = least / self.members[number].moving.mass_kg
            for axis, part in enumerate(column):
                if part:
                    self.columns[3 * number + axis][self.rows] = share * part
        if out:
            self.columns.append({self.rows: -out})
            self.one_way.append(True)
        self.rows += 1

    def hold(self, line: Line) -> int:
        self.condition(line)
        return self.force(line, False)

    def touch(
        self, across: Line, along: Line, mu: float, way: Way, rough: bool
    ) -> tuple[dict[int, float], dict[int, float]]:
        """What one point does: its push and its friction as sums of unknowns with these factors."""
        if way == "lifts":
            self.condition(across, 1.0)
            return {}, {}
        self.condition(across)
        if not rough:
            return {self.force(across, True): 1.0}, {}
        if way == "sticks":
            self.condition(along)
            push, friction = self.force(across, True), self.force(along, False)
            self.bounds.append(Bound(friction, push, mu))
            return {push: 1.0}, {friction: 1.0}
        sense = 1.0 if way == "slips" else -1.0
        self.condition(along, sense)
        drag = -sense * mu
        dragged: Line = {}
        for number, column in across.items():
            x, y, turn = (push + drag * part for push, part in zip(column, along[number], strict=True))
            dragged[number] = (x, y, turn)
        index = self.force(dragged, True)
        return {index: 1.0}, {index: drag}

    def program(self, scale: float) -> Program:
        """The forces are against, since they stand on the side of the mass times acceleration."""
        applied = [part for member in self.members for part in member.applied]
        right_side = [*applied, *[0.0] * (self.rows - len(applied))]
        return Program(self.columns, right_side, self.one_way, self.bounds, scale)
