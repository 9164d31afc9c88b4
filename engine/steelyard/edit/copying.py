"""Duplicates, set off a little from what they were made of."""

from __future__ import annotations

from dataclasses import replace

from ..geometry import Point
from ..model import Body, Given, NamedPoint, Sketch, SpreadLoad, Support
from ..statics import meeting, shape
from . import naming
from .change import Attached, Change, Entity, entities, name_of, put, put_given, tidy, tidy_point
from .joining import settle
from .shaping import at_place, kept_place
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
    if isinstance(copy, Support) and meeting.meets(copy):
        copy = replace(copy, other=None)  # beside a joint there is nothing to join to
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
    ids = {body.id: copy.id}
    for entity in entities(sketch):
        if isinstance(entity, Body) or entity.body != body.id:
            continue
        if isinstance(entity, Support) and meeting.meets(entity):
            continue  # the copy stands free of what its original is joined to
        made = _renamed(copied, entity, copy.id, entity.place_m)
        if isinstance(made, Support) and made.anchor_m is not None and made.other is None:
            made = replace(made, anchor_m=tidy_point((made.anchor_m[0] + shift, made.anchor_m[1] - 3.0 * shift)))
        copied = put(copied, made)
        ids[entity.id] = made.id
    for given in sketch.givens:
        if _named(given) <= ids.keys():
            copied = put_given(copied, _of_others(given, naming.fresh_id(copied, given.id), ids))
    return copied, copy.id


def duplicate_given(sketch: Sketch, given: Given) -> Change:
    """One more of a given, standing half as far off again."""
    copy = replace(given, id=naming.fresh_id(sketch, given.id), offset_m=tidy(1.5 * given.offset_m))
    if given.shift_m is not None:
        copy = replace(copy, shift_m=tidy_point((given.shift_m[0], 1.5 * given.shift_m[1])))
    return Change(settle(sketch, put_given(sketch, copy)), f"Duplicate {given.kind}", copy.id)


def _named(given: Given) -> set[str]:
    """Ids of all that a given measures."""
    points = {point.of for point in (given.start, given.end) if point is not None}
    return points | {line for line in (given.line, given.second_line) if line is not None}


def _of_others(given: Given, new_id: str, ids: dict[str, str]) -> Given:
    """The given of other things, by a table from old ids to new ones."""
    points = [None if point is None else replace(point, of=ids[point.of]) for point in (given.start, given.end)]
    lines = [None if line is None else ids[line] for line in (given.line, given.second_line)]
    return replace(given, id=new_id, start=points[0], end=points[1], line=lines[0], second_line=lines[1])


def _renamed(sketch: Sketch, entity: Attached, body_id: str | None, place: Point) -> Attached:
    new_id = naming.fresh_id(sketch, entity.id)
    if isinstance(entity, NamedPoint):
        return replace(entity, id=new_id, body=body_id, place_m=place, name=naming.point_name(sketch))
    if isinstance(entity, SpreadLoad):
        symbol, each = naming.symbol(sketch, "spread"), naming.symbol(sketch, "each-metre")
        copy = replace(entity, id=new_id, symbol=symbol, spread_symbol=each)
        # On a copy of its body it stays where it is; beside itself it is shifted, as far as its piece goes.
        shifted = copy if body_id != entity.body else at_place(sketch, copy, place)
        assert isinstance(shifted, SpreadLoad)
        return replace(shifted, body=body_id or entity.body)
    tool = getattr(entity, "kind", type(entity).__name__.lower())
    if isinstance(entity, Support) and entity.kind == "contact":
        return _contact(sketch, entity, new_id, body_id or entity.body, place)
    return replace(entity, id=new_id, body=body_id or entity.body, place_m=place, symbol=naming.symbol(sketch, tool))


def _contact(sketch: Sketch, contact: Support, new_id: str, body_id: str, place: Point) -> Support:
    """A copy of a contact, with letters of its own for its friction and its face as far along."""
    copy = replace(contact, id=new_id, symbol=naming.symbol(sketch, "contact"))
    if copy.mu is not None:
        friction, coefficient = (naming.of_contact(sketch, letter, copy.symbol) for letter in ("f", "μ"))
        copy = replace(copy, friction_symbol=friction, mu_symbol=coefficient)
    if body_id == contact.body:
        moved = at_place(sketch, copy, place)
        assert isinstance(moved, Support)
        copy = moved
    return replace(copy, body=body_id)
