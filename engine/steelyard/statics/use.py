"""How much of what is there is used: friction beside μ times its normal, a normal's place beside its face's end."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Literal, NamedTuple

from ..model import Sketch
from ..program import ROUNDING_TOLERANCE, Bound, Program
from . import joined, shape, structure
from .conditions import program_of
from .isolate import acting_forces, find_body
from .reach import off_middle
from .reading import ActingForce
from .system import Answer, System, answer, assemble

# More than enough for a fraction of two linear forms: each step solves for a better corner, and there are few.
_STEPS = 50


class Use(NamedTuple):
    """What a rough contact or a face is asked for, beside what it has; over all admissible answers where many are.

    "friction": `least` and `greatest` of f/N along the way friction is drawn, `limit` μ. "place": how far from the
    middle of its face the normal acts, towards the far end, in metres, `limit` half the length of the face. `force` is
    the id of the friction force, or of the normal. Beyond the limit there is no balance. None where nothing presses.
    """

    force: str
    kind: Literal["friction", "place"]
    least: float | None
    greatest: float | None
    limit: float

    @property
    def most_used(self) -> float | None:
        """The largest share of the limit that an answer uses: 1 at it; inf of nothing, None where nothing presses."""
        if self.least is None or self.greatest is None:
            return None
        return self._share(max(abs(self.least), abs(self.greatest)))

    @property
    def least_used(self) -> float | None:
        """The smallest share of the limit that an answer can do with; None where nothing presses."""
        if self.least is None or self.greatest is None:
            return None
        return 0.0 if self.least <= 0.0 <= self.greatest else self._share(min(abs(self.least), abs(self.greatest)))

    def _share(self, used: float) -> float:
        return used / self.limit if self.limit else math.inf if used else 0.0


def uses(sketch: Sketch, body_id: str | None = None) -> tuple[Use, ...]:
    """The use of every rough contact and face of one body (the first by default), in the order of its forces.

    With bodies joined to it, of all contacts of all of them, each once. Raises SteelyardError `statics.no-body` without
    a body. Empty beside letters, and where the sums cannot close; where several answers close them but none is
    admissible, there is nothing to be said either.
    """
    body = find_body(sketch, body_id)
    if joined.is_joined(sketch, (body.id,)):
        return _of_structure(structure.assembled(sketch, (body.id,)))
    acting = acting_forces(sketch, body.id)
    return uses_of(acting, assemble(acting, shape.axis(body)))


def uses_of(acting: Sequence[ActingForce], system: System, answers: Answer | None = None) -> tuple[Use, ...]:
    """The same for forces whose equations are set up already."""
    if not (system.bounds or system.tied):
        return ()
    answers = answers or answer(system)
    if system.letters or not answers.consistent:
        return ()
    found = {}
    for position, column, factor in system.tied:
        pressed = answers.values[column]
        if acting[position].mu is not None and (pressed is None or pressed > 0.0):
            found[position, "friction"] = Use(acting[position].id, "friction", factor, factor, factor)
    failing = answers.wrong_way or answers.beyond
    many = None if failing or None not in answers.values else program_of(system)
    for bound in system.bounds:
        position, part = system.owners[bound.column]
        ends = _ends(answers.values, system.known_scale_n, many, bound)
        found[position, part] = _use(acting[position], part, ends, bound.factor, system.lever_m)
    return tuple(found[key] for key in sorted(found))


def _of_structure(made: structure.Structure) -> tuple[Use, ...]:
    solved = structure.solution(made)
    if made.letters or not solved.consistent:
        return ()
    forces = {force.id: force for acting in made.acting for force in acting}
    many = None if solved.wrong_way or solved.beyond else solved.program
    found = []
    for bound in made.bounds:
        key = made.keys[bound.column]
        ends = _ends(solved.values, made.known_scale_n, many, bound)
        found.append(_use(forces[key.force], key.part, ends, bound.factor, made.units_m[bound.column]))
    return tuple(found)


def _use(force: ActingForce, part: str, ends: tuple[float, float] | None, factor: float, unit_m: float) -> Use:
    if part == "place" and force.face is not None:
        half = math.dist(*force.face) / 2.0
        if ends is None:
            return Use(force.id, "place", None, None, half)
        near, far = sorted(off_middle(force, 1.0, end * unit_m) for end in ends)
        return Use(force.id, "place", near, far, half)
    least, greatest = ends or (None, None)
    return Use(force.id, "friction", least, greatest, factor)


def _ends(
    values: Sequence[float | None], known_scale_n: float, many: Program | None, bound: Bound
) -> tuple[float, float] | None:
    """Least and greatest of one unknown over its normal; None where nothing presses, or nothing is admissible."""
    value, pressed = values[bound.column], values[bound.normal]
    largest = max((abs(each) for each in values if each is not None), default=0.0)
    nothing = ROUNDING_TOLERANCE * max(known_scale_n, largest)
    if value is not None and pressed is not None:
        return None if pressed <= nothing else (value / pressed,) * 2
    if many is None or not many.outcome.admissible:
        return None
    if many.range_of({bound.normal: 1.0}).greatest.value <= nothing:
        return None
    most = greatest_ratio(many, known_scale_n, bound, 1.0)
    return 0.0 - greatest_ratio(many, known_scale_n, bound, -1.0), most


def greatest_ratio(program: Program, known_scale_n: float, bound: Bound, sense: float) -> float:
    """The greatest of sense·x[column] over x[normal] > 0: of a fraction of linear forms, at most the bound's factor.

    Each step asks by how much the numerator can be above the best fraction so far times the denominator, and takes the
    fraction there; it ends where nothing is above. Source: Dinkelbach, Management Science 13 (1967), from memory.
    """
    column, normal, factor = bound
    # A corner where the normal is large gives a first fraction where the bound itself says next to nothing.
    corner = program.range_of({normal: 1.0}).greatest
    parts = corner.values if corner.ray is None else corner.ray
    best = max(0.0 - factor, sense * parts[column] / parts[normal])
    for _ in range(_STEPS):
        end = program.range_of({column: sense, normal: 0.0 - best}).greatest
        parts = end.values if end.ray is None else end.ray
        largest = max(map(abs, parts), default=0.0)
        nothing = ROUNDING_TOLERANCE * (max(known_scale_n, largest) if end.ray is None else largest)
        if parts[normal] <= nothing or (end.ray is None and end.value <= nothing):
            return best
        better = sense * parts[column] / parts[normal]
        if better <= best + ROUNDING_TOLERANCE * abs(best):
            return max(best, better)
        best = better
    return best
