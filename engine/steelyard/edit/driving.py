"""A number typed into a given changes what it measures, where one thing can be moved to make it so."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import replace

from ..document.givens import PIVOT, corner_of, hole_of
from ..geometry import Point, add, direction, distance, rotate, scale, subtract
from ..model import Body, Force, Given, MeasuredPoint, NamedPoint, Pivot, Sketch, Support
from ..statics import measuring, shape
from .change import fail, find, put, tidy, tidy_point, world_place
from .circles import with_radius, with_round_hole
from .shaping import at_place, place_on, reshaped, with_corner

# How exactly the typed value must come out, of its size: far below what is shown, far above rounding.
_CAME_OUT = 1e-9
_NOTHING = 1e-12

Move = Callable[[Point], Sketch]


def why_fixed(sketch: Sketch, given: Given) -> str:
    """Why the value of a given cannot be typed; "" when it can."""
    if given.kind == "length":
        if any(True for _ in _ways(sketch, given)):
            return ""
        return "It follows from where its two ends are: move one of them."
    if given.kind == "angle" and given.line == given.second_line:
        return "Both lines belong to one body: move its corners."
    return ""


def with_length(sketch: Sketch, given: Given, value_m: float, where: str) -> Sketch:
    """The sketch in which a length given measures this; raises `SteelyardError` when nothing can be moved so."""
    for move, wanted in _ways(sketch, given, value_m):
        changed = move(wanted)
        if abs(measuring.length(changed, given).value_m - value_m) <= _CAME_OUT * max(1.0, value_m):
            return changed
    reason = why_fixed(sketch, given) or "Neither end can be moved so far: the body ends before."
    fail("given", where, f"`{where}` cannot be set to this. {reason}", "Move what it measures.")


def with_angle(sketch: Sketch, given: Given, value_deg: float, where: str) -> Sketch:
    """The sketch in which an angle given measures this: its line is turned, else the second one."""
    low, high = (90.0, 180.0) if given.other else (0.0, 90.0)
    if not low <= value_deg <= high:
        hint = "Switch the other angle on." if not given.other else "Switch the other angle off."
        fail("range", where, f"`{where}` must be {low:g}° to {high:g}°: got {value_deg:g}°.", hint)
    now = measuring.angle(sketch, given)
    turn = (now.value_deg - value_deg) if now.line_first else (value_deg - now.value_deg)
    for line, turned_deg in ((given.line, turn), (given.second_line, -turn)):
        if line is None or given.line == given.second_line:
            continue
        changed = turned(sketch, line, turned_deg)
        if abs(measuring.angle(changed, given).value_deg - value_deg) <= 1e-7:
            return changed
    reason = why_fixed(sketch, given) or "Turning either line turns the other as well."
    fail("given", where, f"`{where}` cannot be set to this. {reason}", "Move what it measures.")


def with_slope(sketch: Sketch, given: Given, rise: float, run: float) -> Sketch:
    """The sketch in which the line of a slope given rises so steeply, the way it leans now."""
    assert given.line is not None
    along = measuring.slope(sketch, given).along
    now = math.degrees(math.atan2(along[1], along[0]))
    return turned(sketch, given.line, math.copysign(math.degrees(math.atan2(rise, run)), now) - now)


def turned(sketch: Sketch, line: str, by_deg: float) -> Sketch:
    """A body, rope, strut, push or force turned: a body about its origin, a rope or strut about its attachment."""
    entity = find(sketch, line)
    if isinstance(entity, Body):
        return put(sketch, replace(entity, angle_deg=tidy(math.remainder(entity.angle_deg + by_deg, 360.0))))
    if isinstance(entity, Force):
        return put(sketch, replace(entity, direction_deg=tidy((entity.direction_deg + by_deg) % 360.0)))
    assert isinstance(entity, Support)
    if entity.anchor_m is None:
        return put(sketch, replace(entity, normal_deg=tidy((entity.normal_deg + by_deg) % 360.0)))
    if entity.other is not None:
        fail("given", line, f"The line of {entity.symbol} goes from one body to another.", "Move one of its ends.")
    place = world_place(sketch, entity)
    anchor = add(place, rotate(subtract(entity.anchor_m, place), by_deg))
    return put(sketch, replace(entity, anchor_m=tidy_point(anchor)))


def _ways(sketch: Sketch, given: Given, value_m: float | None = None) -> Iterator[tuple[Move, Point]]:
    """For each end that can be moved: how, and where to; the end first."""
    assert given.start is not None and given.end is not None
    now = measuring.length(sketch, given)
    value = now.value_m if value_m is None else value_m
    for moving, fixed, at, from_ in (
        (given.end, given.start, now.end, now.start),
        (given.start, given.end, now.start, now.end),
    ):
        bar = _bar_of(sketch, moving)
        if bar is None:
            move = _freely(sketch, moving)
            if move is not None:
                yield move, _stretched(given, from_, at, value)
            continue
        if _bar_of(sketch, fixed) != bar:
            continue
        axis = direction(bar.angle_deg)
        part = 1.0 if given.measured == "straight" else abs(axis[0] if given.measured == "across" else axis[1])
        if part <= 1e-9:
            continue
        along, base = shape.local(bar, at)[0], shape.local(bar, from_)[0]
        forward = along > base if along != base else moving.part != "start"
        wanted = tidy(base + (value if forward else -value) / part)
        move = _along(sketch, moving, bar)
        if move is not None:
            yield move, (wanted, 0.0)


def _stretched(given: Given, from_: Point, at: Point, value_m: float) -> Point:
    """The point at this distance, the way it lies now; across and upright keep the other coordinate."""
    x, y = subtract(at, from_)
    if given.measured == "across":
        return (tidy(from_[0] + math.copysign(value_m, x)), at[1])
    if given.measured == "upright":
        return (at[0], tidy(from_[1] + math.copysign(value_m, y)))
    size = math.hypot(x, y)
    along = (x / size, y / size) if size > _NOTHING else (1.0, 0.0)
    return tidy_point(add(from_, scale(along, value_m)))


def _bar_of(sketch: Sketch, measured: MeasuredPoint) -> Body | None:
    """The bar a measured point lies on; None when it lies elsewhere."""
    if measured.of == PIVOT or measured.part == "anchor":
        return None
    entity = find(sketch, measured.of)
    body = entity if isinstance(entity, Body) else None if entity.body is None else sketch.body(entity.body)
    return body if body is not None and body.kind == "bar" else None


def _along(sketch: Sketch, moving: MeasuredPoint, bar: Body) -> Move | None:
    """How a point of a bar is put at a place along it: what stands there, its end, or its centre of mass."""
    entity = find(sketch, moving.of)
    if not isinstance(entity, Body):
        return lambda place: put(sketch, at_place(sketch, entity, place))
    if moving.place_m is not None or moving.part == "start":
        return None
    if moving.part == "end":
        return lambda place: reshaped(sketch, replace(bar, length_m=place[0]))
    return lambda place: put(sketch, replace(bar, centre_m=place))


def _freely(sketch: Sketch, moving: MeasuredPoint) -> Move | None:
    """How a point that is not on a bar is put somewhere in the world; None when it follows something else."""
    if moving.of == PIVOT:
        tied = sketch.pivot is not None and sketch.pivot.tied_to is not None
        return None if tied else lambda point: replace(sketch, pivot=Pivot(point))
    entity = find(sketch, moving.of)
    if isinstance(entity, Support) and moving.part == "anchor":
        if entity.other is None:
            return lambda point: put(sketch, replace(entity, anchor_m=point))
        other = sketch.body(entity.other)
        return lambda point: put(sketch, replace(entity, anchor_m=place_on(other, point)))
    if isinstance(entity, Body):
        corner = corner_of(moving.part)
        if moving.part in ("start", "end"):
            corner = 0 if moving.part == "start" else len(entity.points_m) - 1
        hole = hole_of(moving.part)
        if hole is not None:
            held = entity.round_holes[hole]

            def to(point: Point) -> Sketch:
                place = tidy_point(shape.local(entity, point))
                return with_round_hole(sketch, entity, hole, replace(held, centre_m=place))

            return to
        if moving.part == "rim":
            return lambda point: with_radius(sketch, entity, tidy(distance(entity.origin_m, point)))
        if corner is None:
            return None
        return lambda point: with_corner(sketch, entity, corner, tidy_point(shape.local(entity, point)))
    if isinstance(entity, NamedPoint) and entity.body is None:
        return lambda point: put(sketch, replace(entity, place_m=point))
    body = sketch.body(entity.body or "")
    return lambda point: put(sketch, at_place(sketch, entity, place_on(body, point)))
