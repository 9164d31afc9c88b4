"""One number of joined bodies on its way between two ends: the whole is solved at each sample."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from .. import sparse
from ..model import Sketch
from ..program import Bound
from ..statics import joined, structure
from ..statics.equilibrium import analyse
from ..statics.reading import ActingForce, SupportsVerdict
from ..statics.structure import Solution, Structure
from .scan import Scan, Unknown, wrong

# A whole of full rank is as good as free where its least singular value is this part of its largest entry.
_NO_HOLD = 1e-7


def scanned(sketch: Sketch, path: str, low: float, high: float, system: Sequence[str]) -> Scan:
    """A scan of one system, and of what it is joined to."""
    alone = not joined.is_joined(sketch, joined.bodies_of(sketch, system))
    return (Scan if alone else JoinedScan)(sketch, path, low, high, system)


class JoinedScan(Scan):
    """As `Scan`, of all bodies that are joined to the system. Values of couples are in N·m."""

    def _prepare(self) -> None:
        self._solved: dict[float, tuple[Structure, Solution]] = {}
        self._log_middle: float | None = None
        made, _ = self.whole(self.middle)
        self.count, self.equations = len(made.keys), len(made.rows)
        self.lettered = bool(made.letters)
        self.turn(self.middle)  # the measure of all others
        self.square = self.count == self.equations and self._holds_somewhere()
        here = {structure.front_id(force) for force in self.at(self.middle).acting}
        self._inside = [key.force in here for key in made.keys]

    def whole(self, place: float) -> tuple[Structure, Solution]:
        """The equations of the whole with the number at a place, and what they say."""
        known = self._solved.get(place)
        if known is None:
            changed = self.changed(place)
            made = structure.assembled(changed, joined.bodies_of(changed, self.ids))
            known = self._solved[place] = (made, structure.solution(made))
        return known

    def status(self, place: float) -> tuple[object, ...]:
        return self.whole(place)[1].status

    def supports(self, place: float) -> SupportsVerdict:
        changed = self.changed(place)
        found = analyse(changed, bodies=self.ids)
        return found.supports if found.whole is None else replace(found.supports, failing=found.whole.failing)

    def unknowns(self) -> list[Unknown]:
        made, _ = self.whole(self.middle)
        forces = self.forces(self.middle)
        return [Unknown(forces[key.force], key.part, only) for key, only in zip(made.keys, made.one_way, strict=True)]

    def forces(self, place: float) -> dict[str, ActingForce]:
        made, _ = self.whole(place)
        return {force.id: force for acting in made.acting for force in acting}

    def scale_n(self, place: float) -> float:
        return self.whole(place)[0].known_scale_n

    def consistent(self, place: float) -> bool | None:
        return self.whole(place)[1].consistent

    def left_over(self, place: float) -> float:
        made, found = self.whole(place)
        motions = sparse.left_null_vectors(found.factors)
        return math.hypot(*(math.fsum(a * b for a, b in zip(motion, made.known, strict=True)) for motion in motions))

    def hold(self, place: float) -> float:
        made, found = self.whole(place)
        return found.factors.smallest if found.factors.rank == len(made.rows) else 0.0

    def turn(self, place: float) -> float:
        return self._sized(*sparse.determinant(self.whole(place)[1].factors))

    def _sized(self, sign: float, log_size: float) -> float:
        """A determinant beside that of the first one asked for: products of many factors may be very small."""
        if not sign:
            return 0.0
        if self._log_middle is None:
            self._log_middle = log_size
        return sign * math.exp(min(700.0, log_size - self._log_middle))

    def numerator(self, index: int, place: float) -> float:
        value, turn = self.value(index, place), self.turn(place)
        if value is not None and turn:
            return value * turn
        made, _ = self.whole(place)
        rows = []
        for row, known in zip(made.rows, made.known, strict=True):
            replaced = {column: entry for column, entry in row.items() if column != index}
            if known:
                replaced[index] = -known / made.known_scale_n
            rows.append(replaced)
        factors = sparse.eliminate(rows, len(made.keys))
        return self._sized(*sparse.determinant(factors)) * made.known_scale_n * made.units_m[index]

    def bounds(self) -> tuple[Bound, ...]:
        return self.whole(self.middle)[0].bounds

    def factor(self, number: int, place: float) -> float:
        made, _ = self.whole(place)
        bound = made.bounds[number]
        return bound.factor * made.units_m[bound.column]

    def unit(self, index: int) -> float:
        return 1.0

    def value(self, index: int, place: float) -> float | None:
        made, found = self.whole(place)
        value = found.values[index]
        return None if value is None else value * made.units_m[index]

    def loses_hold(self, place: float) -> bool:
        made, found = self.whole(place)
        factors = found.factors
        return factors.rank < len(made.rows) or factors.smallest <= _NO_HOLD * factors.largest

    def wrongness(self, place: float) -> float:
        made, found = self.whole(place)
        if found.program is not None:
            return wrong(found.program.outcome, made.bounds)
        values = zip(found.values, made.one_way, strict=True)
        return -sum(value for value, only in values if only and value is not None and value < 0.0)

    def concerns(self, index: int) -> bool:
        return self._inside[index] or self.unknowns()[index].one_way
