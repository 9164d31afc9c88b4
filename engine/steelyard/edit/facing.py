"""The face a contact touches along: made, held by its ends, set; always on one straight piece of its body."""

from __future__ import annotations

import math
from dataclasses import replace

from ..geometry import Point, add, direction, distance, dot, nearest_on_segment, scale, subtract
from ..model import Body, Sketch, Support
from ..statics import holding, shape, spread
from ..units import write_exact
from .change import fail, put, tidy, tidy_point
from .context import Context, snap_place
from .shaping import LEAST_LOADED_M, at_place, place_on
from .snapping import Snapped
from .typed import Typed

ENDS = ("start", "end")


def piece_of(support: Support, body: Body) -> tuple[Point, Point]:
    """The straight piece of the body (its frame) that the face lies on, or that its point is nearest to."""
    return spread.piece_between(body, support.place_m, support.face_m or support.place_m)


def between(
    sketch: Sketch, support: Support, start: Point, end: Point | None, context: Context, previous: Snapped | None
) -> tuple[Support, Snapped]:
    """The contact along a face between two points of the paper; all along the piece without a second one."""
    body = sketch.body(support.body)
    held, caught = snap_place(sketch, body, place_on(body, start), context, None, support.id)
    piece = spread.piece_for(body, held, held if end is None else place_on(body, end))
    first, last = piece
    if end is not None:
        first = tidy_point(nearest_on_segment(held, *piece)[0])
        last, caught = on_piece(sketch, body, piece, end, context, previous, support.id)
    return _with_ends(support, first, last), caught


def on_piece(
    sketch: Sketch, body: Body, piece: tuple[Point, Point], point: Point, context: Context, previous: Snapped | None,
    leave_out: str,
) -> tuple[Point, Snapped]:  # fmt: skip
    """The place on a piece nearest to the hand, caught by what stands there or at round distances."""
    near, _ = nearest_on_segment(shape.local(body, point), *piece)
    place, caught = snap_place(sketch, body, near, context, previous, leave_out)
    on_it = tidy_point(nearest_on_segment(place, *piece)[0])
    if distance(on_it, place) <= 1e-9 * max(1.0, distance(*piece)):
        return place, caught
    return on_it, Snapped(shape.world(body, on_it), "free")


def _with_ends(support: Support, start: Point, end: Point) -> Support:
    if distance(start, end) < LEAST_LOADED_M:
        fail("zero-length", support.id, "A face needs a length: its two ends are at one point.", "Drag along the body.")
    return replace(support, place_m=start, face_m=end)


def move_end(
    sketch: Sketch, support: Support, grip: str, point: Point, context: Context, previous: Snapped | None
) -> tuple[Sketch, Snapped]:
    """One end of a face along its piece; past the other one, the two change places."""
    body = sketch.body(support.body)
    piece = piece_of(support, body)
    place, caught = on_piece(sketch, body, piece, point, context, previous, support.id)
    return put(sketch, _with_end(support, body, grip == "start", place)), caught


def _with_end(support: Support, body: Body, at_start: bool, place: Point) -> Support:
    old = (support.place_m, support.face_m or support.place_m)
    start, end = (place, old[1]) if at_start else (old[0], place)
    if dot(subtract(end, start), subtract(old[1], old[0])) < 0.0:
        start, end = end, start
    pushed = holding.normal(support, body)
    changed = _with_ends(support, start, end)
    # The side it pushes from stays, however its ends lie.
    return changed if dot(holding.normal(changed, body), pushed) > 0.0 else replace(changed, normal_deg=_angle(pushed))


def end_position(sketch: Sketch, support: Support, grip: str) -> Point:
    """Where an end of the face is in the world."""
    place = support.place_m if grip == "start" else support.face_m or support.place_m
    return shape.world(sketch.body(support.body), place)


def nudged(sketch: Sketch, support: Support, grip: str, dx: float, dy: float, step_m: float) -> Sketch:
    """An end of the face, or the whole of it, moved on by exact steps along its piece."""
    body = sketch.body(support.body)
    first, last = (shape.world(body, place) for place in piece_of(support, body))
    way = scale(subtract(last, first), 1.0 / distance(first, last))
    size, part = max(abs(dx), abs(dy)), dx * way[0] + dy * way[1]
    if abs(part) <= 1e-9 * max(size, 1e-9):
        return sketch
    shift = scale(way, math.copysign(size, part) * step_m)
    if grip in ENDS:
        moved = add(end_position(sketch, support, grip), shift)
        return move_end(sketch, support, grip, moved, Context(), None)[0]
    wanted = add(shape.world(body, support.place_m), shift)
    return put(sketch, at_place(sketch, support, shape.local(body, wanted)))


# Fields


def distances(support: Support, body: Body) -> tuple[float, float]:
    """How far the ends of the face are along the piece of the body it lies on, metres from where that begins."""
    first, _ = piece_of(support, body)
    return (tidy(distance(first, support.place_m)), tidy(distance(first, support.face_m or support.place_m)))


def set_end(sketch: Sketch, support: Support, at_start: bool, typed: Typed) -> Support:
    """One end of the face at a typed distance along its piece."""
    body = sketch.body(support.body)
    return _with_end(support, body, at_start, typed_place(sketch, body, piece_of(support, body), typed))


def typed_place(sketch: Sketch, body: Body, piece: tuple[Point, Point], typed: Typed) -> Point:
    """The place (body frame) at a typed distance along a straight piece of a body; `SteelyardError` beyond its ends."""
    first, last = piece
    value, length_m = typed.quantity("length"), distance(first, last)
    if not 0.0 <= value <= length_m * (1.0 + 1e-9):
        longest = write_exact(tidy(length_m), "length", sketch.settings)
        message = f'`{typed.where}` must be on the body, from 0 to {longest}: got "{typed.text}".'
        fail("off-body", typed.where, message, "Enter a distance along it.")
    if body.kind == "bar":
        return (value, 0.0)
    part = value / length_m
    return (tidy(first[0] + part * (last[0] - first[0])), tidy(first[1] + part * (last[1] - first[1])))


def set_touching(sketch: Sketch, support: Support, typed: Typed) -> Support:
    """A contact at a point, or along a whole straight piece of its body; a point of a face is its middle."""
    body = sketch.body(support.body)
    if typed.choice(("point", "face")) == "face":
        if body.kind == "disc":
            fail("round", typed.where, f"{body.name} is round: it touches at a point.", "Let it touch at a point.")
        if support.face_m is not None:
            return support
        first, last = piece_of(support, body)
        return replace(support, place_m=first, face_m=last)
    if support.face_m is None:
        return support
    pushed = holding.normal(support, body)
    (x, y), (to_x, to_y) = support.place_m, support.face_m
    about = "" if support.about_to.startswith("tip") else support.about_to
    middle = tidy_point(((x + to_x) / 2.0, (y + to_y) / 2.0))
    return replace(support, place_m=middle, face_m=None, normal_deg=_angle(pushed), about_to=about)


def turned_over(support: Support, body: Body) -> Support:
    """The contact pushing from the other side of its face."""
    x, y = holding.normal(support, body)
    return replace(support, normal_deg=_angle((0.0 - x, 0.0 - y)))


def towards(support: Support, body: Body, angle_deg: float) -> Support:
    """The contact over a face pushing to that side of it on which a direction lies."""
    pushed = holding.normal(support, body)
    return support if dot(pushed, direction(angle_deg)) >= 0.0 else turned_over(support, body)


def _angle(vector: Point) -> float:
    return tidy(math.degrees(math.atan2(vector[1], vector[0])) % 360.0)
