"""The systems a working of joined bodies may take: each body, groups of them, all together; and what joins them.

A force on one body and its partner on the other are one unknown: it goes by the id of the first of the two, its key
here, while within a system every force keeps its own id.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import combinations

from ..geometry import Vector, distance
from ..model import Sketch
from ..statics import advice as advising
from ..statics import shape
from ..statics.advice import Advice, Part, candidates, ends_of
from ..statics.isolate import acting_forces
from ..statics.moments import of_couple
from ..statics.reading import ActingForce, Analysis, ForceReading
from ..statics.structure import front_id
from ..statics.system import scales
from .laws import Law, laws_of

# With more bodies than this, groups other than all of them are too many to look through.
MOST_GROUPED = 5
_NO_TURNING = of_couple(None)


@dataclass(frozen=True, slots=True)
class Member:
    """A light body held at two joints only: the forces there run along the line between them, equal and opposite.

    `forces` are the ids of the two, as they act on it; `along` the way each is drawn on it, pulling it.
    """

    body: str
    forces: tuple[str, str]
    along: tuple[Vector, Vector]
    fronts: tuple[str, str]

    @property
    def law(self) -> Law:
        """The two are as large as each other."""
        return Law("member", self.fronts[0], self.fronts[1], None)


@dataclass(frozen=True, slots=True)
class System:
    """Some bodies taken as one (and things on them, for the system asked for), with the sums worth taking.

    `keys` leads from the key of a part here to the key that it has in all systems.
    """

    bodies: tuple[str, ...]
    analysis: Analysis
    options: tuple[Advice, ...]
    parts: Mapping[str, Part]
    keys: Mapping[str, str]


@dataclass(frozen=True, slots=True)
class Joined:
    """All that is joined to the system asked for, which is the first of `systems`."""

    systems: tuple[System, ...]
    members: tuple[Member, ...]
    laws: tuple[Law, ...]


def joined(sketch: Sketch, analysis: Analysis) -> Joined:
    """The systems that a working about one system may use; `analysis.whole` must say what is joined to it."""
    assert analysis.whole is not None
    bodies = analysis.whole.bodies
    acting = {body_id: acting_forces(sketch, body_id) for body_id in bodies}
    members = _members(bodies, acting)
    lines = _lines(members)
    chosen = replace(
        analysis,
        readings=tuple(reading._replace(force=_lined(reading.force, lines)) for reading in analysis.readings),
    )
    systems = [_system(sketch, analysis.bodies, chosen)]
    links = {member.body for member in members}
    for group in _groups(sketch, bodies, links):
        if group != analysis.bodies or analysis.system != analysis.bodies:
            forces = acting[group[0]] if len(group) == 1 else acting_forces(sketch, *group)
            systems.append(_system(sketch, group, _bare(sketch, analysis, group, forces, lines)))
    laws = {law.force: law for body_id in bodies for law in laws_of(acting[body_id])}
    fronts = {force.id: front_id(force) for forces in acting.values() for force in forces}
    slips = {fronts[law.force]: replace(law, force=fronts[law.force], of=fronts[law.of]) for law in laws.values()}
    return Joined(tuple(systems), members, (*slips.values(), *(member.law for member in members)))


def _members(bodies: Sequence[str], acting: Mapping[str, Sequence[ActingForce]]) -> tuple[Member, ...]:
    """The two-force members; of two that meet at a joint only the first, so that each joint has one line."""
    found: list[Member] = []
    taken: set[str] = set()
    for body_id in bodies:
        member = _member(body_id, acting[body_id])
        if member is not None and taken.isdisjoint(member.fronts):
            found.append(member)
            taken.update(member.fronts)
    return tuple(found)


def _member(body_id: str, acting: Sequence[ActingForce]) -> Member | None:
    if len(acting) != 2 or any(force.sought != "size and direction" for force in acting):
        return None
    one, two = acting
    apart = distance(one.point, two.point)
    if apart <= advising.SQUARE_TOLERANCE * max(1.0, abs(one.point[0]), abs(one.point[1])):
        return None
    x, y = (one.point[0] - two.point[0]) / apart, (one.point[1] - two.point[1]) / apart
    along = ((x, y), (0.0 - x, 0.0 - y))
    return Member(body_id, (one.id, two.id), along, (front_id(one), front_id(two)))


def _lines(members: Sequence[Member]) -> dict[str, Vector]:
    """The line of each force at a two-force member, as it acts there and as its partner acts on the next body."""
    lines: dict[str, Vector] = {}
    for member in members:
        for force_id, front, along in zip(member.forces, member.fronts, member.along, strict=True):
            other = front if force_id != front else f"{front}-back"
            lines[force_id] = along
            lines[other] = (0.0 - along[0], 0.0 - along[1])
    return lines


def _lined(force: ActingForce, lines: Mapping[str, Vector]) -> ActingForce:
    line = lines.get(force.id)
    if line is None or force.sought != "size and direction":
        return force
    return force._replace(sought="size", along=line, type="strut")


def _groups(sketch: Sketch, bodies: tuple[str, ...], links: set[str]) -> Iterator[tuple[str, ...]]:
    """Single bodies, then groups that hang together, then all; two-force members are used by their line instead."""
    carrying = [body_id for body_id in bodies if body_id not in links]
    for body_id in carrying:
        yield (body_id,)
    beside = {frozenset((support.body, support.other)) for support in sketch.supports if support.other is not None}
    if len(carrying) <= MOST_GROUPED:
        for count in range(2, len(carrying) + 1):
            for group in combinations(carrying, count):
                if group != bodies and _hangs_together(group, beside):
                    yield group
    if len(bodies) > 1:
        yield bodies


def _hangs_together(group: Sequence[str], beside: set[frozenset[str]]) -> bool:
    reached = {group[0]}
    waiting = [group[0]]
    while waiting:
        here = waiting.pop()
        for other in group:
            if other not in reached and frozenset((here, other)) in beside:
                reached.add(other)
                waiting.append(other)
    return len(reached) == len(group)


def _bare(
    sketch: Sketch, analysis: Analysis, group: tuple[str, ...], forces: Sequence[ActingForce],
    lines: Mapping[str, Vector],
) -> Analysis:  # fmt: skip
    """A system before anything is solved: its forces, and the length its torques are compared by."""
    readings = tuple(
        ForceReading(
            _lined(force, lines), None, None, None, None, False, (False, False), False, (False, False), _NO_TURNING,
            None, "",
        )
        for force in forces
    )  # fmt: skip
    corners = [corner for body_id in group for corner in shape.axis(sketch.body(body_id))]
    _, lever_m = scales(forces, corners)
    return replace(
        analysis, body=group[0], bodies=group, system=group, readings=readings, applied=None, residual=None,
        lever_m=lever_m,
    )  # fmt: skip


def _system(sketch: Sketch, group: tuple[str, ...], analysis: Analysis) -> System:
    parts = {part.key: part for part in advising.parts(analysis)}
    fronts = {reading.force.id: front_id(reading.force) for reading in analysis.readings}
    keys = {key: fronts[part.force] + key[len(part.force) :] for key, part in parts.items() if part.unknown}
    return System(group, analysis, candidates(analysis, ends_of(sketch, analysis)), parts, keys)
