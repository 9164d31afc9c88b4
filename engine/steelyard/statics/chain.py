"""Forces head to tail: in which order they are laid, where each starts and ends, and what is left open.

The chain closes exactly when the forces in it add up to nothing, whatever their order (vectors add up the same
way round or the other). Couples have no part in it.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from typing import NamedTuple

from ..geometry import Point, Vector, add
from ..model import Sketch
from .reading import Analysis, ForceReading

# A gap below this part of the sketch's largest force is the rounding of sums, not a gap.
NO_GAP = 1e-9


class Link(NamedTuple):
    """One force of the chain, from `tail` to `head` in newtons from where the chain starts.

    `vector` is None for a force of which no size is known: it takes no room, and `head` is `tail`.
    """

    reading: ForceReading
    tail: Point
    head: Point
    vector: Vector | None

    @property
    def id(self) -> str:
        """The id of the force."""
        return self.reading.force.id


def vector_of(reading: ForceReading, analysis: Analysis) -> Vector | None:
    """What a force puts into the chain: its guess, else its value as known or found; None when there is none."""
    force = reading.force
    if force.along is None:
        return None
    if force.guess is not None:
        return force.guess
    if force.role == "unknown" and (reading.cannot or not reading.fixed or analysis.supports.kind == "impossible"):
        return None
    return reading.vector


def ordered(sketch: Sketch, analysis: Analysis) -> tuple[ForceReading, ...]:
    """The forces of the body in the order of the chain: those of `Sketch.order`, then the others as they are read."""
    forces = [reading for reading in analysis.readings if reading.force.along is not None]
    rank = {force_id: index for index, force_id in enumerate(sketch.order)}
    return tuple(sorted(forces, key=lambda reading: rank.get(reading.force.id, len(rank))))


def chain(sketch: Sketch, analysis: Analysis) -> tuple[Link, ...]:
    """All forces head to tail from the origin."""
    links: list[Link] = []
    at: Point = (0.0, 0.0)
    for reading in ordered(sketch, analysis):
        vector = vector_of(reading, analysis)
        head = at if vector is None else add(at, vector)
        links.append(Link(reading, at, head, vector))
        at = head
    return tuple(links)


def gap(links: Iterable[Link], analysis: Analysis) -> Vector:
    """What is missing to close the chain, from its end back to its start; exactly (0, 0) when it closes."""
    vectors = [link.vector for link in links if link.vector is not None]
    x = math.fsum(vector[0] for vector in vectors)
    y = math.fsum(vector[1] for vector in vectors)
    largest = max([analysis.force_scale_n, *(math.hypot(*vector) for vector in vectors)])
    return (0.0, 0.0) if math.hypot(x, y) <= NO_GAP * largest else (-x, -y)


def is_whole(links: Iterable[Link]) -> bool:
    """Whether every force is in the chain with a size, so that a gap means that the forces do not balance."""
    return all(link.vector is not None for link in links)


def steps(sketch: Sketch, analysis: Analysis) -> dict[str, Vector | None]:
    """The vectors of the chain by the id of their force, in its order."""
    return {link.id: link.vector for link in chain(sketch, analysis)}
