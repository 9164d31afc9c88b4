"""What an unknown can be when statics leaves some of them open: what supports can do bounds it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from ..model import Sketch
from ..statics.advice import Part
from ..statics.holding import unplaced
from ..statics.reach import reaches, reaches_of
from ..statics.reading import ActingForce, Analysis
from ..statics.system import assemble


@dataclass(frozen=True, slots=True)
class Range:
    """The least and most of a part along its drawn sense, in N or N m; infinite where nothing bounds it."""

    part: str
    least: float
    most: float


def ranges(analysis: Analysis, every: Sequence[Part]) -> tuple[Range, ...]:
    """The ranges of the unknowns that are not fixed by the equations, however many degrees are open.

    Empty while a size is a letter, where no values are within what every support can do, and beside joined bodies,
    whose equations are not those of one body (see `statics.reach.reaches`).
    """
    if analysis.supports.degree < 1 or analysis.supports.kind == "mechanism" or analysis.whole is not None:
        return ()
    acting = [unplaced(reading.force) for reading in analysis.readings]
    parts = {(part.force, str(part.which)): part for part in every if part.unknown}
    forces = {force.id: force for force in acting}
    found = []
    for each in reaches_of(acting, assemble(acting, ())):
        part = parts.get((each.force, each.part))
        if part is None or part.which == "place" or each.one_value == "equations":
            continue
        ends = (each.least.value, each.least.value if each.one_value else each.greatest.value)
        least, most = sorted(_sense(part, forces[part.force]) * end for end in ends)
        found.append(Range(part.key, least + 0.0, most + 0.0))
    return tuple(found)


def ranges_joined(
    sketch: Sketch, analysis: Analysis, parts: Mapping[str, Part], keys: Mapping[str, str]
) -> tuple[Range, ...]:
    """The same for one system of joined bodies; `keys` leads from its parts to the unknowns of all systems."""
    forces = {reading.force.id: reading.force for reading in analysis.readings}
    by_name = {name: key for key, name in keys.items()}
    found = []
    for each in reaches(sketch, analysis.body):
        key = by_name.get(each.force + (f".{each.part}" if each.part in ("x", "y") else ""))
        if key is None or each.part == "place" or each.one_value == "equations":
            continue
        part, force = parts[key], forces[parts[key].force]
        # What is told of the first of a pair is counted by its drawn sense, which the second has the other way round.
        sense = _sense(part, force) * (-1.0 if force.back and part.which != "size" else 1.0)
        ends = (each.least.value, each.least.value if each.one_value else each.greatest.value)
        least, most = sorted(sense * end for end in ends)
        found.append(Range(key, least + 0.0, most + 0.0))
    return tuple(found)


def _sense(part: Part, force: ActingForce) -> float:
    """+1 where the drawn sense of a part is that in which its unknown counts, −1 where it is the other one."""
    if part.which in ("x", "y") and force.along is not None:
        return force.along["xy".index(part.which)]
    return float(part.turn) if part.which == "couple" else 1.0
