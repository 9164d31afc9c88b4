"""Duplicates, set off a little from what they were made of."""

from __future__ import annotations

from dataclasses import replace

from ..geometry import Point
from ..model import Body, NamedPoint, Sketch, Support
from ..statics import shape
from . import naming
from .change import Attached, Change, Entity, entities, name_of, put, settle, tidy_point
from .shaping import kept_place
from .snapping import step_at_least


def duplicate(sketch: Sketch, entity: Entity) -> Change:
    """One more of a thing beside it; a body is copied with all that is on it."""
    copied, new_id = _body(sketch, entity) if isinstance(entity, Body) else _attached(sketch, entity)
    return Change(settle(sketch, copied), f"Duplicate {name_of(entity)}", new_id)


def _shift(body: Body) -> float:
    low, high = shape.extent(body)
    return step_at_least(0.1 * max(high[0] - low[0], high[1] - low[1]))


def _attached(sketch: Sketch, entity: Attached) -> tuple[Sketch, str]:
    x, y = entity.place_m
    if entity.body is None:
        place = tidy_point((x + 1.0, y))
    else:
        body = sketch.body(entity.body)
        shift = _shift(body)
        place = kept_place(body, tidy_point((x + shift, y)))
        if place == entity.place_m:
            place = kept_place(body, tidy_point((x - shift, y)))
    copy = _renamed(sketch, entity, entity.body, place)
    return put(sketch, copy), copy.id


def _body(sketch: Sketch, body: Body) -> tuple[Sketch, str]:
    shift = _shift(body)
    x, y = body.origin_m
    copy = replace(
        body,
        id=naming.fresh_id(sketch, body.id),
        name=naming.body_name(sketch, body.kind),
        origin_m=tidy_point((x + shift, y - 3.0 * shift)),
        weight_symbol=naming.symbol(sketch, "weight"),
    )
    copied = put(sketch, copy)
    for entity in entities(sketch):
        if isinstance(entity, Body) or entity.body != body.id:
            continue
        made = _renamed(copied, entity, copy.id, entity.place_m)
        if isinstance(made, Support) and made.anchor_m is not None:
            made = replace(made, anchor_m=tidy_point((made.anchor_m[0] + shift, made.anchor_m[1] - 3.0 * shift)))
        copied = put(copied, made)
    return copied, copy.id


def _renamed(sketch: Sketch, entity: Attached, body_id: str | None, place: Point) -> Attached:
    new_id = naming.fresh_id(sketch, entity.id)
    if isinstance(entity, NamedPoint):
        return replace(entity, id=new_id, body=body_id, place_m=place, name=naming.point_name(sketch))
    tool = getattr(entity, "kind", type(entity).__name__.lower())
    return replace(entity, id=new_id, body=body_id or entity.body, place_m=place, symbol=naming.symbol(sketch, tool))
