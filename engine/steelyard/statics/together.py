"""A system in the whole it is joined to: its answers, and the verdicts on the whole and on each part alone."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from .. import linear, sparse
from ..model import Sketch
from . import failing, structure
from .giving_way import lacking, listed, nothing_keeps, number_word
from .layout import about_origin
from .moments import DROPS_OUT_TOLERANCE
from .reading import (
    ActingForce,
    ForceReading,
    Lack,
    Link,
    PartVerdict,
    SupportsKind,
    SupportsVerdict,
    Way,
    WholeVerdict,
)
from .structure import Key, Solution, Structure
from .system import Answer, System
from .verdict import cannot, would_have_to

# More bodies than this are not named one by one.
_MOST_NAMED = 3

# Smallest singular value over the largest entry of the equations of two bodies: below it reactions are some hundred
# times the loads. In a longer chain it goes down as the square of the number of bodies without anything being near.
NEAR_DEGENERATE = 2e-2


@dataclass(frozen=True, slots=True)
class Together:
    """One system (`body_ids`) as a part of a solved whole. `answers` are those of the system's own columns."""

    body_ids: tuple[str, ...]
    structure: Structure
    solution: Solution
    system: System
    answers: Answer

    def supports(self, verdict: WholeVerdict, readings: Sequence[ForceReading]) -> SupportsVerdict:
        """What the supports and joints of the whole can do, as said beside this system."""
        cannot = tuple(reading.force.id for reading in readings if reading.cannot)
        still = tuple(
            reading.force.id for reading in readings if reading.force.role == "unknown" and reading.fixed
        ) if verdict.unknowns > verdict.rank else ()  # fmt: skip
        # Motions that no unknown on this system has a part in, its joints counted: not all motions of the whole.
        own = linear.left_null_space(self.answers.factors) if self.answers.factors.rank < 3 else ()
        return SupportsVerdict(
            verdict.kind,
            verdict.degree,
            verdict.sentence,
            "",
            "",
            still,
            cannot,
            tuple(about_origin(motion, self.system) for motion in own),
            self.solution.consistent is True and not verdict.failing,
            *self.failures,
        )

    def verdict(self, sketch: Sketch) -> WholeVerdict:
        """What can be said of all joined bodies together, and of each part taken alone."""
        made, found = self.structure, self.solution
        unknowns, rank, equations = len(made.keys), found.factors.rank, 3 * len(made.bodies)
        failing = tuple(dict.fromkeys(made.keys[column].force for column in (*found.wrong_way, *found.beyond)))
        kind: SupportsKind
        if not unknowns:
            kind = "none"
        elif rank < equations:
            kind = "mechanism"
        elif failing:
            kind = "impossible"
        else:
            kind = "indeterminate" if unknowns > rank else "determinate"
        degree = equations - rank if kind == "mechanism" else unknowns - rank
        motions = _motions(made, found) if kind == "mechanism" else ()
        layout = self._layout(sketch, motions)
        parts = tuple(
            self._part(sketch, (body_id,), system, forces)
            for body_id, system, forces in zip(made.bodies, made.systems, made.acting, strict=True)
        )
        alone = next((part for part in parts if part.bodies == self.body_ids), None)
        if alone is None:
            alone = self._part(sketch, self.body_ids, self.system, None)
        return WholeVerdict(
            made.bodies, unknowns, equations, rank, kind, degree,
            self._sentence(sketch, kind, layout, failing), layout, failing, parts, alone, motions,
            margin(found.factors), _links(sketch, made),
        )  # fmt: skip

    def _layout(self, sketch: Sketch, motions: Sequence[Sequence[tuple[float, float, float]]]) -> str:
        """What the layout of the supports and joints alone tells."""
        made, factors = self.structure, self.solution.factors
        unknowns, equations = len(made.keys), 3 * len(made.bodies)
        who = names(sketch, made.bodies)
        counted = f"{number_word(unknowns)} unknown{'s' * (unknowns != 1)}, {number_word(equations)} equations"
        if not unknowns:
            return "No unknown forces: the drawn ones balance or they do not."
        if factors.rank < equations:
            ways = equations - factors.rank
            moving = [
                body_id for index, body_id in enumerate(made.bodies) if any(any(motion[index]) for motion in motions)
            ]
            which = names(sketch, moving) if len(moving) < len(made.bodies) else f"{who} together"
            sentence = (
                f"Free to move in {number_word(ways)} way{'s' * (ways > 1)} (a mechanism): "
                f"{which} can move, with {counted}."
            )
            excess = unknowns - factors.rank
            if excess:
                sentence += (
                    f" Also {number_word(excess)} unknown{'s' * (excess > 1)} too many for statics (indeterminate)."
                )
            return sentence
        start = f"{who[:1].upper()}{who[1:]} together: {counted}"
        degree = unknowns - factors.rank
        if degree:
            sentence = f"{start}: more than statics can tell (statically indeterminate, degree {degree})."
        else:
            sentence = f"{start}: each has one answer (statically determinate)."
        if factors.smallest < NEAR_DEGENERATE / len(made.bodies) ** 2 * factors.largest:
            sentence += " Take care: the joints nearly let it move, so small changes make large reactions."
        return sentence

    def _sentence(self, sketch: Sketch, kind: SupportsKind, layout: str, failing: Sequence[str]) -> str:
        found = self.solution
        if failing:
            whom = listed(list(dict.fromkeys(self._failing_words(sketch))))
            forces = {force.id: force for acting in self.structure.acting for force in acting}
            how = nothing_keeps(self.failures[1], forces, sketch.settings)
            how = f" {how}" if how else ""
            if kind == "mechanism":
                return f"{layout} And no balance as it stands: {whom}.{how}"
            return f"No balance like this: {whom}.{how}"
        if kind == "mechanism" and found.consistent is not None:
            return layout + (" Balanced as it stands." if found.consistent else " The loads set it moving.")
        return layout

    @property
    def letters_beside(self) -> tuple[str, ...]:
        """The symbols of known forces without a number on bodies that are not of the system."""
        made = self.structure
        return tuple(
            force.symbol
            for body_id, acting in zip(made.bodies, made.acting, strict=True)
            if body_id not in self.body_ids
            for force in acting
            if force.role == "known" and (force.couple_n_m if force.along is None else force.size_n) is None
        )

    @property
    def failures(self) -> tuple[tuple[Lack, ...], tuple[Way, ...]]:
        """What supports and joints lack, and one way in which they fail."""
        found = self.solution
        if not (found.wrong_way or found.beyond) or self.structure.letters:
            return (), ()
        unknowns = structure.unknowns_of(self.structure)
        outcome = (found.program or structure.program_of(self.structure)).outcome
        values = found.values if found.program is None else outcome.values
        ways = tuple(
            way._replace(motion=tuple(part for body in _about_origin(self.structure, way.motion) for part in body))
            for way in failing.ways(unknowns, outcome.motion)
        )
        return failing.lacks(unknowns, values, found.wrong_way, found.beyond), ways

    def _failing_words(self, sketch: Sketch) -> list[str]:
        made, found = self.structure, self.solution
        forces = {force.id: force for acting in made.acting for force in acting}
        keys = [made.keys[column] for column in (*found.wrong_way, *found.beyond)]
        said = {lack.force: lacking(lack, forces[lack.force], sketch.settings) for lack in self.failures[0]}
        return [
            said.get(key.force) or would_have_to(forces[key.force], cannot(sketch, forces[key.force], key.part))
            for key in keys
        ]

    def _part(
        self, sketch: Sketch, bodies: tuple[str, ...], system: System, acting: Sequence[ActingForce] | None
    ) -> PartVerdict:
        made, found = self.structure, self.solution
        unknowns = len(system.columns)
        rank = linear.factor(system.columns, 3).rank
        if acting is None:
            settled = all(self.answers.fixed)
        else:
            columns = {key: column for column, key in enumerate(made.keys)}
            settled = all(
                found.fixed[columns[Key(structure.front_id(acting[position]), part)]]
                for position, part in system.owners
            )
        name = names(sketch, bodies)
        others = [body_id for body_id in made.bodies if body_id not in bodies]
        rest = names(sketch, others, rest=True) if others else ""
        have, them = ("have", "their") if len(bodies) > 1 else ("has", "its")
        counted = f"{number_word(unknowns)} unknown{'s' * (unknowns != 1)} for {them} three equations"
        if rank == unknowns == 3:
            sentence = f"Taken alone, {name} {have} {counted}: each has one answer."
        else:
            alone = f"Taken alone, {name} {have} {counted}"
            if rank < 3:
                alone += " and could move"
            if not rest:
                sentence = f"{alone}."
            else:
                each = "each has one answer" if settled else "not every one has an answer"
                sentence = f"{alone}; together with {rest} {each}."
        return PartVerdict(bodies, name, unknowns, rank, settled, sentence)


def solve(
    sketch: Sketch, body_ids: tuple[str, ...], acting: Sequence[ActingForce], system: System
) -> Together:  # fmt: skip
    """Solve all that is joined to a system, whose acting forces and own equations are given."""
    made = structure.assembled(sketch, body_ids)
    found = structure.solution(made)
    columns = {key: column for column, key in enumerate(made.keys)}
    values: list[float | None] = []
    fixed: list[bool] = []
    wrong_way: list[int] = []
    beyond: list[int] = []
    for index, (position, part) in enumerate(system.owners):
        force = acting[position]
        column = columns[Key(structure.front_id(force), part)]
        value = found.values[column]
        if value is not None:
            if part in ("couple", "place"):
                value *= made.units_m[column] / system.lever_m
            if structure.turns_round(force, part):
                value = 0.0 - value
        values.append(value)
        fixed.append(found.fixed[column])
        if column in found.wrong_way:
            wrong_way.append(index)
        if column in found.beyond:
            beyond.append(index)
    answers = Answer(
        linear.factor(system.columns, 3), tuple(values), tuple(fixed), found.consistent, tuple(wrong_way), tuple(beyond)
    )
    return Together(body_ids, made, found, system, answers)


def names(sketch: Sketch, body_ids: Sequence[str], *, rest: bool = False) -> str:
    """ "the beam and the trestle"; many bodies are counted only, `rest` saying that they are the others."""
    if len(body_ids) > _MOST_NAMED:
        return f"the {'other ' * rest}{number_word(len(body_ids))} bodies"
    called = [sketch.body(body_id) for body_id in body_ids]
    return listed([f"the {body.name or body.kind.replace('-', ' ')}" for body in called])


def margin(factors: sparse.Elimination) -> float:
    """By what factor the pivot nearest to the limit of the rank, counted or not, is away from it."""
    limit = linear.RANK_TOLERANCE
    counted = [pivot / limit for pivot in factors.pivots]
    if factors.rest and factors.largest:
        counted.append(limit * factors.largest / factors.rest)
    return min(counted, default=math.inf)


def _motions(made: Structure, found: Solution) -> tuple[tuple[tuple[float, float, float], ...], ...]:
    """The motions that no unknown resists, body by body: velocity of the point at the world origin, and turning."""
    return tuple(
        _about_origin(made, [0.0 if abs(part) <= linear.FIXED_TOLERANCE else part for part in vector])
        for vector in sparse.left_null_vectors(found.factors)
    )


def _about_origin(made: Structure, motion: Sequence[float]) -> tuple[tuple[float, float, float], ...]:
    """A motion of all bodies about their own centres, as that of their points at the world's origin."""
    parts = []
    for index, system in enumerate(made.systems):
        x, y, turn = motion[3 * index : 3 * index + 3]
        omega = turn / system.lever_m
        parts.append((x + omega * system.centre[1], y - omega * system.centre[0], omega))
    return tuple(parts)


def _links(sketch: Sketch, made: Structure) -> tuple[Link, ...]:
    """The bodies without weight or load that are held at two points only, by forces."""
    found = []
    for body_id, forces, system in zip(made.bodies, made.acting, made.systems, strict=True):
        acting = [force for force in forces if force.role == "unknown" or force.size_n or force.couple_n_m]
        if len(acting) != 2 or any(force.along is None or force.role == "known" for force in acting):
            continue
        if any(force.sought == "size and place" for force in acting):
            continue
        (x, y), (to_x, to_y) = acting[0].point, acting[1].point
        apart = math.hypot(to_x - x, to_y - y)
        if apart > DROPS_OUT_TOLERANCE * system.lever_m:
            along = ((to_x - x) / apart, (to_y - y) / apart)
            pair = (structure.front_id(acting[0]), structure.front_id(acting[1]))
            found.append(Link(body_id, names(sketch, (body_id,)), pair, along))
    return tuple(found)
