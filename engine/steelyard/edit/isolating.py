"""Choosing the system: the bodies taken as one, and the things on them that are taken along."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from ..model import Body, Sketch, Thing
from .change import Change, entities, fail


def isolated(sketch: Sketch, ids: Sequence[str]) -> Change:
    """The sketch with this system; nothing named: the body that something is selected on, as it comes.

    Things whose body is not in the system are left out of it. Raises `SteelyardError` for an id that is neither.
    """
    bodies = [body for body in sketch.bodies if body.id in ids]
    things = [load for load in sketch.loads if isinstance(load, Thing) and load.id in ids]
    known = {body.id for body in bodies} | {thing.id for thing in things}
    for each in ids:
        if each not in known:
            message = f'`ids` must be bodies of this sketch, or things on them: got "{each[:40]}".'
            fail("isolate", "ids", message, "Name some of these.")
    inside = {body.id for body in bodies}
    taken = [thing for thing in things if thing.body in inside]
    names = [body.name for body in bodies] + [thing.name or thing.symbol for thing in taken]
    label = f"Isolate {' and '.join(names[:3])}{' and more' if len(names) > 3 else ''}" if names else "Isolate one body"
    order = (*(body.id for body in bodies), *(thing.id for thing in taken))
    return Change(replace(sketch, isolated=order), label)


def opened(before: Sketch, after: Sketch) -> Sketch:
    """The sketch without its own system where something new is outside it: what is drawn is to be seen at once."""
    if not after.isolated:
        return after
    known = {entity.id for entity in entities(before)}
    for entity in entities(after):
        if entity.id in known:
            continue
        touched = {entity.id} if isinstance(entity, Body) else {entity.body, getattr(entity, "other", None)} - {None}
        if touched and not touched & set(after.isolated):
            return replace(after, isolated=())
    return after
