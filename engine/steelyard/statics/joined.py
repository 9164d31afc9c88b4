"""Which bodies belong together: the system that is looked at, and all that is joined to it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from ..errors import SteelyardError
from ..model import Sketch, Thing
from .isolate import find_body


def system_ids(sketch: Sketch, body_id: str | None = None, bodies: Sequence[str] | None = None) -> tuple[str, ...]:
    """What is taken as one: `bodies` (and things on them) if given, else the sketch's own system, else one body.

    Bodies come first, in the order of the sketch, then things. Raises SteelyardError `statics.no-body` for a body the
    sketch does not have, or when none is named and it has none.
    """
    asked = bodies or sketch.isolated
    if not asked:
        return (find_body(sketch, body_id).id,)
    wanted = set(asked)
    found = [body.id for body in sketch.bodies if body.id in wanted]
    on = {load.id: load.body for load in sketch.loads if isinstance(load, Thing) and load.id in wanted}
    for each in asked:
        if each not in found and on.get(each) not in found:
            raise SteelyardError(
                "statics.no-body",
                "bodies",
                f"`bodies` must hold the body asked for: got no body {each!r}.",
                "Name bodies of this sketch, and things that stand on them.",
            )
    return (*found, *on)


def bodies_of(sketch: Sketch, ids: Iterable[str]) -> tuple[str, ...]:
    """The bodies among the ids of a system."""
    wanted = set(ids)
    return tuple(body.id for body in sketch.bodies if body.id in wanted)


def is_joined(sketch: Sketch, body_ids: Sequence[str]) -> bool:
    """Whether a system is part of a larger whole, or is itself of several bodies: more than three equations."""
    if len(body_ids) > 1:
        return True
    only = body_ids[0]
    return any(support.other is not None and only in (support.body, support.other) for support in sketch.supports)


def connected(sketch: Sketch, body_ids: Sequence[str]) -> tuple[str, ...]:
    """These bodies and all that are joined to them, directly or through others, in the order of the sketch."""
    beside: dict[str, list[str]] = {}
    for support in sketch.supports:
        if support.other is not None:
            beside.setdefault(support.body, []).append(support.other)
            beside.setdefault(support.other, []).append(support.body)
    reached = set(body_ids)
    waiting = list(body_ids)
    while waiting:
        for other in beside.get(waiting.pop(), ()):
            if other not in reached:
                reached.add(other)
                waiting.append(other)
    return tuple(body.id for body in sketch.bodies if body.id in reached)
