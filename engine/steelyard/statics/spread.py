"""Loads spread along a straight piece of a body: which way they act, and the pieces they can lie on.

Places are in the body's frame, directions in the world, metres and newtons throughout. A load of w newtons on each
metre, changing evenly from w_start to w_end over the length L, does to a rigid body what one force does: the area of
the load diagram, (w_start + w_end) L / 2, along a line through the diagram's centroid, (w_start + 2 w_end) L /
(3 (w_start + w_end)) from its start (`SpreadLoad.size_n` and `place_m`; the integrals of w and of w s over s).
"""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise
from typing import Literal, get_args

from ..errors import SteelyardError
from ..geometry import Point, Vector, direction, distance, nearest_on_segment
from ..model import Body, SpreadLoad
from . import shape

Form = Literal["uniform", "rising", "falling", "sloping"]
FORMS: tuple[Form, ...] = get_args(Form)
DOWN: Vector = (0.0, -1.0)
# A joint this near to the line of a load, of the load's length, is on it.
IN_LINE = 1e-9
# The least part of a load square to its body for its diagram to rise against it.
FLAT = 0.3


def along(load: SpreadLoad, body: Body) -> Vector:
    """The unit direction in the world in which a spread load acts, its sign taken in."""
    start, end = load.shares
    sign = -1.0 if start + end < 0.0 else 1.0
    x, y = _positive(load, body)
    return (sign * x + 0.0, sign * y + 0.0)


def _positive(load: SpreadLoad, body: Body) -> Vector:
    """The direction of a load without a minus sign."""
    if load.acts == "angle":
        return direction(load.direction_deg)
    if load.acts != "across":
        return DOWN
    length_m = load.length_m or 1.0
    x, y = (load.end_m[0] - load.start_m[0]) / length_m, (load.end_m[1] - load.start_m[1]) / length_m
    # A quarter turn clockwise from the way from start to end, then with the body.
    cosine, sine = direction(body.angle_deg)
    return (y * cosine + x * sine, y * sine - x * cosine)


def sides(load: SpreadLoad, body: Body) -> tuple[Vector, Vector]:
    """Where the diagram of a load is drawn, as unit directions in the world: on which side, and which way it rises.

    It stands beside the body on the side the load comes from (above it, for a load along the body) and rises against
    the load; for one within about 17° of the body it rises square to it, or it would lie flat.
    """
    acts = along(load, body)
    cosine, sine = direction(body.angle_deg)
    length_m = load.length_m or 1.0
    x, y = (load.end_m[0] - load.start_m[0]) / length_m, (load.end_m[1] - load.start_m[1]) / length_m
    square = (y * cosine + x * sine, y * sine - x * cosine)
    part = acts[0] * square[0] + acts[1] * square[1]
    away = part > 1e-9 or (abs(part) <= 1e-9 and square[1] < 0.0)
    off = (-square[0], -square[1]) if away else square
    return off, off if abs(part) < FLAT else (-acts[0], -acts[1])


def direction_deg(load: SpreadLoad, body: Body) -> float:
    """The same as an angle in degrees: exact where it follows from angles that were given."""
    start, end = load.shares
    back = 180.0 if start + end < 0.0 else 0.0
    if load.acts == "angle":
        return (load.direction_deg + back) % 360.0
    if load.acts != "across":
        return 270.0 - back
    (x, y), (to_x, to_y) = load.start_m, load.end_m
    level = y == to_y
    own = (0.0 if to_x > x else 180.0) if level else _angle((to_x - x, to_y - y))
    return (own + body.angle_deg - 90.0 + back) % 360.0


def _angle(way: Vector) -> float:
    return math.degrees(math.atan2(way[1], way[0]))


def form_of(load: SpreadLoad) -> Form:
    """The shape of the load diagram: "uniform", "rising" from nothing, "falling" to nothing, or "sloping"."""
    start, end = load.shares
    if start == end:
        return "uniform"
    return "rising" if start == 0.0 else "falling" if end == 0.0 else "sloping"


def cut(
    load: SpreadLoad, body: Body, other: Body, joint: Point, *, second_id: str, second_symbol: str
) -> tuple[SpreadLoad, SpreadLoad]:
    """A load that lies across the joint of two bodies in one line, as two loads: one on each.

    `load` is in the frame of `body`, and runs on beyond the `joint` (world) over `other`. The first of the two stays on
    `body` and keeps its id and symbol. Together they do what the load did. Raises SteelyardError `spread.cut` when the
    joint is not between its ends or its line does not run along `other`, and for a letter that changes along the load:
    no letter is then left for the size at the joint.
    """
    place = shape.local(body, joint)
    (x, y), (to_x, to_y) = load.start_m, load.end_m
    length_m = load.length_m
    part = ((place[0] - x) * (to_x - x) + (place[1] - y) * (to_y - y)) / length_m**2 if length_m else 0.0
    reach = IN_LINE * length_m
    off = distance(place, (x + part * (to_x - x), y + part * (to_y - y)))
    if not IN_LINE < part < 1.0 - IN_LINE or off > reach:
        raise _cannot_cut(load, "must have the joint between its ends.", "Cut it where the two bodies meet.")
    on_other = [shape.local(other, shape.world(body, end)) for end in (place, load.start_m, load.end_m)]
    gaps = [distance(shape.nearest_place(other, shape.world(other, end)), end) for end in on_other]
    if gaps[0] > reach or min(gaps[1:]) > reach:
        raise _cannot_cut(load, "must run on along the other body.", "Draw it along both, end to end.")
    if load.letter_only and form_of(load) != "uniform":
        hint = "Give it numbers, or make it uniform."
        raise _cannot_cut(load, "must have the same letter all along to be cut, or numbers.", hint)
    start, end = load.start_n_per_m, load.end_n_per_m
    between = None if start is None or end is None else start + part * (end - start)
    first_here = gaps[2] <= gaps[1]
    first, second = replace(load, end_m=place, end_n_per_m=between), replace(load, start_m=place, start_n_per_m=between)
    mine, theirs = (first, second) if first_here else (second, first)
    ends = [shape.local(other, shape.world(body, each)) for each in (theirs.start_m, theirs.end_m)]
    theirs = replace(
        theirs, id=second_id, symbol=second_symbol, body=other.id, start_m=ends[0], end_m=ends[1]
    )  # fmt: skip
    return mine, theirs


def _cannot_cut(load: SpreadLoad, problem: str, hint: str) -> SteelyardError:
    return SteelyardError("spread.cut", load.id, f"`{load.id}` {problem}", hint)


def pieces(body: Body) -> tuple[tuple[Point, Point], ...]:
    """The straight pieces a load can lie on: a bar, the pieces of a bent bar, the edges of a plate; none of a disc."""
    if body.kind == "disc":
        return ()
    corners = shape.places(body)
    closed = (*corners, corners[0]) if body.kind == "plate" else corners
    return tuple(pairwise(closed))


def piece_at(body: Body, place: Point) -> tuple[Point, Point]:
    """The piece nearest to a place; of two that meet there, the first."""
    return min(pieces(body), key=lambda piece: round(distance(nearest_on_segment(place, *piece)[0], place), 12))


def piece_of(load: SpreadLoad, body: Body) -> tuple[Point, Point]:
    """The piece a load lies on: that which both its ends are nearest to."""
    return piece_between(body, load.start_m, load.end_m)


def piece_between(body: Body, start: Point, end: Point) -> tuple[Point, Point]:
    """The piece that both of two places are nearest to."""

    def gap(piece: tuple[Point, Point]) -> float:
        return max(distance(nearest_on_segment(place, *piece)[0], place) for place in (start, end))

    return min(pieces(body), key=gap)


def piece_for(body: Body, start: Point, end: Point) -> tuple[Point, Point]:
    """The piece a hand means: nearest to where it began and, where two meet there, to where it went."""

    def gap(place: Point, piece: tuple[Point, Point]) -> float:
        return distance(nearest_on_segment(place, *piece)[0], place)

    return min(pieces(body), key=lambda piece: (round(gap(start, piece), 9), gap(end, piece)))


def shifted(piece: tuple[Point, Point], start: Point, end: Point, held: Point, wanted: Point) -> tuple[Point, Point]:
    """Two ends on a piece moved along it together, `held` to where `wanted` is, as far as the piece goes."""
    first, last = piece
    length_m = distance(first, last)
    way = ((last[0] - first[0]) / length_m, (last[1] - first[1]) / length_m)

    def along(point: Point) -> float:
        return (point[0] - first[0]) * way[0] + (point[1] - first[1]) * way[1]

    low, high = sorted((along(start), along(end)))
    shift = min(length_m - high, max(-low, along(wanted) - along(held)))
    dx, dy = shift * way[0], shift * way[1]
    return (start[0] + dx, start[1] + dy), (end[0] + dx, end[1] + dy)
