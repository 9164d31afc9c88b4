"""Bodies made and changed from points of the paper; what is attached goes along."""

from __future__ import annotations

import math
from dataclasses import replace

from ..geometry import Point, distance, nearest_on_segment
from ..model import Body, Sketch, SpreadLoad, Support
from ..statics import shape, spread
from .change import Attached, angle_between, entities, put, tidy, tidy_point

# Less than this of a load's length is a slip of the hand: it is then taken to lie all along its piece.
LEAST_LOADED_M = 1e-6


def place_on(body: Body, world_m: Point) -> Point:
    """The place on the body nearest to a world point, tidied; on a bar exactly on its axis."""
    if body.kind == "bar":
        along, _ = shape.local(body, world_m)
        return (tidy(min(body.length_m, max(0.0, along))), 0.0)
    return tidy_point(shape.nearest_place(body, world_m))


def gap_to(body: Body, world_m: Point) -> float:
    """How far a world point is from the body's axis or area, metres."""
    return distance(shape.world(body, shape.nearest_place(body, world_m)), world_m)


def under(sketch: Sketch, point: Point, reach_m: float, but: str = "") -> Body | None:
    """The body nearest to a point, if the point is on it as drawn or within reach; never the body `but`."""
    best: tuple[float, Body] | None = None
    for body in sketch.bodies:
        if body.id == but:
            continue
        gap = gap_to(body, point)
        thick = 0.0 if body.has_area else body.thickness_m / 2.0
        if gap <= thick + reach_m and (best is None or gap < best[0]):
            best = (gap, body)
    return None if best is None else best[1]


def bar_between(
    body: Body, start: Point, end: Point, *, angle_deg: float | None = None, length_m: float | None = None
) -> Body:
    """The bar with other ends. Angle and length are taken as given where a snap knows them exactly."""
    angle = angle_between(start, end) if angle_deg is None else angle_deg
    length = tidy(distance(start, end)) if length_m is None else length_m
    return replace(body, origin_m=start, angle_deg=_half_turn(angle), length_m=length)


def _half_turn(angle_deg: float) -> float:
    """The angle in (−180, 180]: "12° below the horizontal" is −12, not 348."""
    turned = math.remainder(angle_deg, 360.0)
    return tidy(180.0 if turned == -180.0 else turned)


def reshaped(sketch: Sketch, body: Body) -> Sketch:
    """The sketch with a body of another shape; what no longer lies on it moves to the nearest place that does."""
    sketch = put(sketch, body)
    for entity in entities(sketch):
        if isinstance(entity, Body) or entity.body != body.id:
            continue
        if isinstance(entity, SpreadLoad):
            ends = kept_place(body, entity.start_m), kept_place(body, entity.end_m)
            sketch = put(sketch, between(body, entity, *ends))
            continue
        if isinstance(entity, Support) and entity.face_m is not None:
            ends = kept_place(body, entity.place_m), kept_place(body, entity.face_m)
            sketch = put(sketch, face_between(body, entity, *ends))
            continue
        place = kept_place(body, entity.place_m)
        if place != entity.place_m:
            sketch = put(sketch, replace(entity, place_m=place))
    return sketch


def between(body: Body, load: SpreadLoad, start: Point, end: Point) -> SpreadLoad:
    """A spread load from another place to another (body frame); where the two fall together, over the whole piece.

    What is left of the body under a load may be a point: then it lies all along the piece it was on.
    """
    start, end = _apart(body, start, end, load.start_m, load.end_m)
    if (start, end) == (load.start_m, load.end_m):
        return load
    return replace(load, start_m=start, end_m=end)


def face_between(body: Body, support: Support, start: Point, end: Point) -> Support:
    """A contact over a face from another place to another (body frame), in the same way as a spread load."""
    assert support.face_m is not None
    start, end = _apart(body, start, end, support.place_m, support.face_m)
    if (start, end) == (support.place_m, support.face_m):
        return support
    return replace(support, place_m=start, face_m=end)


def _apart(body: Body, start: Point, end: Point, old_start: Point, old_end: Point) -> tuple[Point, Point]:
    if distance(start, end) >= LEAST_LOADED_M:
        return start, end
    first, last = spread.piece_at(body, start)
    ahead = (last[0] - first[0]) * (old_end[0] - old_start[0]) + (last[1] - first[1]) * (old_end[1] - old_start[1])
    return (first, last) if ahead >= 0.0 else (last, first)


def at_place(sketch: Sketch, entity: Attached, place: Point) -> Attached:
    """The thing at another place of its body (its frame).

    A spread load, and a contact over a face, are shifted as far as their piece goes.
    """
    if isinstance(entity, SpreadLoad):
        body = sketch.body(entity.body)
        piece = spread.piece_of(entity, body)
        start, end = spread.shifted(piece, entity.start_m, entity.end_m, entity.place_m, place)
        return replace(entity, start_m=kept_place(body, tidy_point(start)), end_m=kept_place(body, tidy_point(end)))
    if isinstance(entity, Support) and entity.face_m is not None:
        body = sketch.body(entity.body)
        piece = spread.piece_between(body, entity.place_m, entity.face_m)
        start, end = spread.shifted(piece, entity.place_m, entity.face_m, entity.place_m, place)
        return replace(entity, place_m=kept_place(body, tidy_point(start)), face_m=kept_place(body, tidy_point(end)))
    return replace(entity, place_m=place)


def kept_place(body: Body, place: Point) -> Point:
    """The place itself when it lies on the body, else the nearest one that does (body frame)."""
    if body.kind == "bar":
        return (min(body.length_m, max(0.0, place[0])), 0.0)
    return tidy_point(shape.nearest_place(body, shape.world(body, place)))


def with_corner(sketch: Sketch, body: Body, index: int, place: Point) -> Sketch:
    """One corner of a bent bar or plate moved (body frame); what sits on its edges stays at the same part of them."""
    corners = (*body.points_m[:index], place, *body.points_m[index + 1 :])
    changed = replace(body, points_m=corners)
    sketch = put(sketch, changed)
    closed = body.kind == "plate"
    for entity in entities(sketch):
        if isinstance(entity, Body) or entity.body != body.id:
            continue
        if isinstance(entity, SpreadLoad):
            sketch = put(
                sketch, between(changed, entity, *_with_its_piece(body, changed, entity.start_m, entity.end_m))
            )
            continue
        if isinstance(entity, Support) and entity.face_m is not None:
            ends = _with_its_piece(body, changed, entity.place_m, entity.face_m)
            sketch = put(sketch, face_between(changed, entity, *ends))
            continue
        moved = _carried(entity.place_m, body.points_m, corners, closed)
        moved = kept_place(changed, entity.place_m if moved is None else moved)
        if moved != entity.place_m:
            sketch = put(sketch, replace(entity, place_m=moved))
    return sketch


def carried_place(before: Body, after: Body, place: Point) -> Point:
    """A place on a bent bar or plate (its frame) after corners were moved: at the same part of its edge."""
    on_edge = None
    if len(before.points_m) == len(after.points_m):
        on_edge = _carried(place, before.points_m, after.points_m, before.kind == "plate")
    return kept_place(after, place if on_edge is None else on_edge)


def _with_its_piece(before: Body, after: Body, start: Point, end: Point) -> tuple[Point, Point]:
    """Two ends on one straight piece, at the same part of it however that now lies."""
    old, new = spread.pieces(before), spread.pieces(after)
    index = old.index(spread.piece_between(before, start, end))
    first, last = old[index]
    if (first, last) == new[index]:
        return start, end
    (x, y), (to_x, to_y) = new[index]
    parts = [nearest_on_segment(place, first, last)[1] for place in (start, end)]
    moved_start, moved_end = ((tidy(x + part * (to_x - x)), tidy(y + part * (to_y - y))) for part in parts)
    return moved_start, moved_end


def _carried(place: Point, before: tuple[Point, ...], after: tuple[Point, ...], closed: bool) -> Point | None:
    count = len(before)
    for index in range(count if closed else count - 1):
        start, end = before[index], before[(index + 1) % count]
        near, fraction = nearest_on_segment(place, start, end)
        if distance(near, place) <= 1e-9 * max(distance(start, end), 1e-6):
            new_start, new_end = after[index], after[(index + 1) % count]
            if (start, end) == (new_start, new_end):
                return place
            return (
                tidy(new_start[0] + fraction * (new_end[0] - new_start[0])),
                tidy(new_start[1] + fraction * (new_end[1] - new_start[1])),
            )
    return None


def moved(sketch: Sketch, body: Body, shift: Point) -> Sketch:
    """The body somewhere else; what is attached goes along, anchors of ropes and struts stay."""
    origin = tidy_point((body.origin_m[0] + shift[0], body.origin_m[1] + shift[1]))
    return put(sketch, replace(body, origin_m=origin))
