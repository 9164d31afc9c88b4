"""Things that stand on a body that is let go: each rides along as a point mass, or is left behind in the air."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from ..geometry import Point, Vector
from ..model import Body, Sketch, Thing
from ..statics.reading import ActingForce
from .starting import Start, acceleration_at

# Beyond this many things on one body their modes are not all tried.
MOST_THINGS = 10

# A thing on the body by its force, with its mass.
Rider = tuple[ActingForce, float]


class Riding(NamedTuple):
    """A thing on the body: it rides along as a point mass, pushing with `push_n`, or is left behind in the air."""

    force: ActingForce
    mass_kg: float
    place_m: Point
    left: bool
    push_n: Vector


def riders_of(sketch: Sketch, body: Body, acting: Sequence[ActingForce]) -> list[Rider]:
    """The things that act on the body, with their masses; those without mass do nothing."""
    by_id = {force.id: force for force in acting}
    return [
        (by_id[load.id], load.mass_kg)
        for load in sketch.loads
        if isinstance(load, Thing) and load.body == body.id and load.id in by_id and load.mass_kg
    ]


def riders_agree(start: Start, riders: Sequence[Rider], g_m_s2: float) -> bool:
    """What rides is pushed up by the body, what is left behind is not caught up with."""
    for force, _ in riders:
        pushed = acceleration_at(start, force.point)[1] + g_m_s2
        if (pushed > start.scale) if force.id in start.left else (pushed < -start.scale):
            return False
    return True


def ridden(start: Start, riders: Sequence[Rider]) -> tuple[Riding, ...]:
    """What becomes of each as the body starts so."""
    things = []
    for force, mass in riders:
        x, y = acceleration_at(start, force.point)
        left = force.id in start.left
        weight = force.size_n or 0.0
        push = (0.0, 0.0) if left else (0.0 - mass * x, 0.0 - mass * y - weight)
        things.append(Riding(force, mass, force.point, left, push))
    return tuple(things)
