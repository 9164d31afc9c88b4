"""Where two bodies meet under the hand, and what a joint there is."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

from ..geometry import Point, distance, dot, line_crossing, nearest_on_segment, perpendicular, scale, subtract
from ..model import Body, Sketch
from ..statics import meeting, shape
from .change import angle_between, tidy_point
from .context import Context
from .joining import stretched
from .shaping import gap_to, moved, place_on


@dataclass(frozen=True, slots=True)
class Met:
    """Two bodies that meet at a point of the world: `place_m` on the first one (its frame).

    `sketch` is the one in which they do: an end that is only nearly there is put there.
    """

    sketch: Sketch
    body: Body
    other: Body
    point: Point
    place_m: Point
    put_there: bool

    @property
    def label(self) -> str:
        """What is said of it beside the hand."""
        return f"joins {self.body.name} and {self.other.name}"


def met(sketch: Sketch, body: Body, point: Point, context: Context) -> Met | None:
    """The nearest meeting of the body under the hand with another it is not joined to there; None without one."""
    best: tuple[float, float, Point, Body, Body] | None = None
    for other in sketch.bodies:
        if other.id == body.id:
            continue
        near = max(context.catch_m, meeting.reach(body), meeting.reach(other))
        for at, first, second in _meetings(body, other, near, point):
            off = distance(at, point)
            # The hand is within reach of the drawn body, not only of its axis.
            thick = 0.0 if body.has_area else body.thickness_m / 2.0
            if off > near + thick or _joined_there(sketch, at, body, other, near):
                continue
            if best is None or (off, gap_to(second, at)) < best[:2]:
                best = (off, gap_to(second, at), at, first, second)
    if best is None:
        return None
    _, off, at, first, second = best
    put_there = off > meeting.reach(second)
    if put_there:
        at, sketch = _brought(sketch, first, second, at)
        first = sketch.body(first.id)
    return Met(sketch, first, second, at, place_on(first, at), put_there)


def _meetings(body: Body, other: Body, near: float, hand: Point) -> list[tuple[Point, Body, Body]]:
    """Points where two bodies meet, with the one that ends there first: ends, else crossings, else under the hand.

    A bar that lies across a plate or disc meets it all along: there it is the hand that says where.
    """
    found = [(at, body, other) for at in _corners(body) if gap_to(other, at) <= near]
    found += [(at, other, body) for at in _corners(other) if gap_to(body, at) <= near]
    if any(distance(at, hand) <= near for at, _, _ in found):
        return found
    for start, end in _edges(body):
        for other_start, other_end in _edges(other):
            at = _crossing(start, end, other_start, other_end)
            if at is not None:
                found.append((at, body, other))
    if any(distance(at, hand) <= near for at, _, _ in found):
        return found
    for first, second in ((body, other), (other, body)):
        at = tidy_point(shape.world(first, place_on(first, hand)))
        if second.has_area and gap_to(second, at) <= meeting.reach(second):
            found.append((at, first, second))
    return found


def _corners(body: Body) -> tuple[Point, ...]:
    return (body.origin_m,) if body.kind == "disc" else shape.axis(body)


def _edges(body: Body) -> list[tuple[Point, Point]]:
    if body.kind == "disc":
        return []
    corners = shape.axis(body)
    return list(pairwise((*corners, corners[0]) if body.kind == "plate" else corners))


def _crossing(start: Point, end: Point, other_start: Point, other_end: Point) -> Point | None:
    along, other_along = subtract(end, start), subtract(other_end, other_start)
    size, other_size = distance(start, end), distance(other_start, other_end)
    if min(size, other_size) <= 0.0:
        return None
    at = line_crossing(start, scale(along, 1.0 / size), other_start, scale(other_along, 1.0 / other_size))
    if at is None:
        return None
    for first, last, reach in ((start, end, size), (other_start, other_end, other_size)):
        if distance(nearest_on_segment(at, first, last)[0], at) > 1e-9 * reach:
            return None
    return at


def _joined_there(sketch: Sketch, at: Point, body: Body, other: Body, near: float) -> bool:
    """Whether two bodies are joined at a point already, directly or through a third one."""
    reached, waiting = {body.id}, [body.id]
    while waiting:
        here = waiting.pop()
        for support in sketch.supports:
            there = meeting.partner_of(support, here) if here in (support.body, support.other) else None
            if there is None or there in reached or not meeting.meets(support):
                continue
            if distance(meeting.place_on(sketch, support, here), at) <= near:
                reached.add(there)
                waiting.append(there)
    return other.id in reached


def _brought(sketch: Sketch, body: Body, other: Body, at: Point) -> tuple[Point, Sketch]:
    """An end that is nearly on the other body put on it: a bar turns and stretches, another body is shifted."""
    there = tidy_point(shape.world(other, place_on(other, at)))
    if body.kind == "bar":
        start, end = shape.ends(body)
        return there, stretched(sketch, body, at_start=distance(start, at) < distance(end, at), end=there)
    return there, moved(sketch, body, subtract(there, at))


def pushed_away(body: Body, other: Body, at: Point) -> float:
    """The direction in which a surface of the other body pushes a body that rests on it, degrees."""
    edges = _edges(other)
    if not edges:
        return angle_between(other.origin_m, at)
    start, end = min(edges, key=lambda edge: distance(nearest_on_segment(at, *edge)[0], at))
    normal = perpendicular(subtract(end, start))
    if dot(normal, subtract(shape.centre_of_mass(body), at)) < 0.0:
        normal = scale(normal, -1.0)
    return angle_between((0.0, 0.0), normal)
