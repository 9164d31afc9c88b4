"""What givens measure: lengths between points, angles between lines, slopes; always from the sketch as it is."""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction

from ..document.givens import PIVOT, corner_of, hole_of
from ..geometry import (
    Point,
    Vector,
    add,
    angle_of,
    cross,
    direction,
    distance,
    dot,
    line_crossing,
    perpendicular,
    scale,
    subtract,
)
from ..model import Force, Given, MeasuredPoint, Sketch, Support
from . import holding, shape
from .holding import NO_LENGTH, anchor
from .isolate import DOWN
from .pivot import pivot_point, place_of

# Legs of a slope triangle are small whole numbers up to this one, where they fit.
LARGEST_LEG = 12
# An angle typed to a hundredth of a degree is a 3 to 4 slope to four figures, and is meant so.
LEG_FIT = 1e-4
# Below this part of its line an upright or level line has no slope to show, and parallel lines no crossing.
NO_SLOPE = 1e-9
# A crossing farther off than this many times the longer line is not where an arc can stand.
FARTHEST_CROSSING = 4.0


@dataclass(frozen=True, slots=True)
class Line:
    """A drawn line: where it begins, its unit direction, and its length where it ends (None: an arrow's line)."""

    start: Point
    along: Vector
    length_m: float | None

    @property
    def end(self) -> Point:
        """Its far end; where it begins when it has none."""
        reach = self.length_m or 0.0
        return (self.start[0] + reach * self.along[0], self.start[1] + reach * self.along[1])


@dataclass(frozen=True, slots=True)
class Length:
    """A distance in metres between two points of the world."""

    start: Point
    end: Point
    value_m: float


@dataclass(frozen=True, slots=True)
class Angle:
    """An angle at a point of the world, from the direction `from_deg` to `to_deg`, of `value_deg` in [0, 180].

    `line_first`: the measured line is the side at `from_deg`; the arc runs counterclockwise.
    """

    at: Point
    from_deg: float
    to_deg: float
    value_deg: float
    line_first: bool


@dataclass(frozen=True, slots=True)
class Slope:
    """A right triangle on a line: at a point of the world, along a unit direction with a part to the right.

    `rise` and `run` are its legs in small whole numbers with `long_side` where the ratio fits them to four figures
    (long_side None unless it is whole), else the shorter leg is 1. Level and upright lines have a leg of 0.
    """

    at: Point
    along: Vector
    rise: float
    run: float
    long_side: float | None
    whole: bool


def point_of(sketch: Sketch, measured: MeasuredPoint) -> Point:
    """A measured point in the world; KeyError when its thing is not there."""
    if measured.of == PIVOT:
        return pivot_point(sketch)
    for body in sketch.bodies:
        if body.id == measured.of:
            corners = shape.places(body)
            corner = corner_of(measured.part)
            place = measured.place_m
            if place is None and corner is not None:
                place = corners[corner]
            elif place is None and measured.part in ("start", "end"):
                place = corners[0] if measured.part == "start" else corners[-1]
            elif place is None and (hole := hole_of(measured.part)) is not None:
                place = body.round_holes[hole].centre_m
            elif place is None and measured.part in ("middle", "rim"):
                place = (0.0, 0.0) if measured.part == "middle" else (body.radius_m, 0.0)
            elif place is None:
                place = shape.centre_place(body)
            return shape.world(body, place)
    for support in sketch.supports:
        far = anchor(sketch, support) if support.id == measured.of and measured.part == "anchor" else None
        if far is not None:
            return far
    found = place_of(sketch, measured.of)
    if found is None:
        raise KeyError(measured.of)
    return found


def line_of(sketch: Sketch, line: str, edge: int = 0) -> Line:
    """The line of a body's edge, a rope or strut, a roller's or contact's push, or a force; KeyError without one."""
    for body in sketch.bodies:
        if body.id == line:
            corners = shape.axis(body)
            return _between(corners[edge], corners[(edge + 1) % len(corners)])
    for support in sketch.supports:
        if support.id == line:
            return _of_support(sketch, support)
    for load in sketch.loads:
        if load.id == line and isinstance(load, Force):
            return Line(shape.world(sketch.body(load.body), load.place_m), direction(load.direction_deg), None)
    raise KeyError(line)


def _of_support(sketch: Sketch, support: Support) -> Line:
    place = shape.world(sketch.body(support.body), support.place_m)
    if support.face_m is not None:
        body = sketch.body(support.body)
        return Line(holding.middle(support, body), holding.normal(support, body), None)
    far = anchor(sketch, support) if support.over_m is None else support.over_m
    return Line(place, direction(support.normal_deg), None) if far is None else _between(place, far)


def _between(start: Point, end: Point) -> Line:
    size = distance(start, end)
    if size <= NO_LENGTH * max(abs(start[0]), abs(start[1])):
        return Line(start, DOWN, 0.0)
    return Line(start, scale(subtract(end, start), 1.0 / size), size)


def length(sketch: Sketch, given: Given) -> Length:
    """What a length given measures; across and upright ones take one coordinate only."""
    assert given.start is not None and given.end is not None
    start, end = point_of(sketch, given.start), point_of(sketch, given.end)
    if given.measured == "across":
        return Length(start, end, abs(end[0] - start[0]))
    if given.measured == "upright":
        return Length(start, end, abs(end[1] - start[1]))
    return Length(start, end, distance(start, end))


def angle(sketch: Sketch, given: Given) -> Angle:
    """What an angle given measures: the acute angle between two lines, or its supplement.

    The line runs from the arc's point along itself; the other side is turned to where the angle is the wanted
    one. Where only the second line ends at that point, the first is turned instead.
    """
    assert given.line is not None
    line = line_of(sketch, given.line, given.edge)
    second = _second(sketch, given)
    at = point_of(sketch, given.start) if given.start is not None else _vertex(line, second)
    along, fixed = _from(line, at)
    other, other_fixed = ((1.0, 0.0) if given.against == "horizontal" else (0.0, 1.0)), False
    if second is not None:
        other, other_fixed = _from(second, at)
    acute = math.degrees(math.atan2(abs(cross(along, other)), abs(dot(along, other))))
    if (dot(along, other) < 0.0) != given.other:
        if other_fixed and not fixed:
            along = scale(along, -1.0)
        else:
            other = scale(other, -1.0)
    line_deg, other_deg = angle_of(along), angle_of(other)
    line_first = cross(along, other) >= 0.0
    value = 180.0 - acute if given.other else acute
    first, last = (line_deg, other_deg) if line_first else (other_deg, line_deg)
    return Angle(at, first, last, value, line_first)


def _second(sketch: Sketch, given: Given) -> Line | None:
    return None if given.second_line is None else line_of(sketch, given.second_line, given.second_edge)


def _vertex(line: Line, second: Line | None) -> Point:
    """Where the arc stands: the crossing of two lines if it is near, else where the line begins."""
    if second is None:
        return line.start
    crossing = line_crossing(line.start, line.along, second.start, second.along)
    reach = FARTHEST_CROSSING * max(line.length_m or 0.0, second.length_m or 0.0)
    if crossing is None or min(distance(crossing, line.start), distance(crossing, line.end)) > reach:
        return line.start
    return crossing


def _from(line: Line, at: Point) -> tuple[Vector, bool]:
    """The direction of a line as seen from a point on it, and whether it goes that way only."""
    if line.length_m is None:
        return line.along, True
    part = dot(subtract(at, line.start), line.along) / line.length_m if line.length_m > 0.0 else 0.0
    if part >= 1.0 - 1e-6:
        return scale(line.along, -1.0), True
    return line.along, part <= 1e-6


def slope(sketch: Sketch, given: Given) -> Slope:
    """What a slope given shows: rise and run of its line, read from left to right."""
    assert given.line is not None
    line = line_of(sketch, given.line, given.edge)
    along = line.along if line.along[0] >= 0.0 else scale(line.along, -1.0)
    if given.start is not None:
        at = point_of(sketch, given.start)
    else:
        at = ((line.start[0] + line.end[0]) / 2.0, (line.start[1] + line.end[1]) / 2.0)
    rise, run = abs(along[1]), along[0]
    if rise <= NO_SLOPE or run <= NO_SLOPE:
        return Slope(at, along, 0.0 if rise <= NO_SLOPE else 1.0, 0.0 if run <= NO_SLOPE else 1.0, None, False)
    nearest = Fraction(rise / run).limit_denominator(LARGEST_LEG) if rise <= run else None
    if nearest is None:
        turned = Fraction(run / rise).limit_denominator(LARGEST_LEG)
        legs = (turned.denominator, turned.numerator)
    else:
        legs = (nearest.numerator, nearest.denominator)
    if 0 not in legs and abs(legs[0] * run - legs[1] * rise) <= LEG_FIT * legs[0] * run:
        square = legs[0] ** 2 + legs[1] ** 2
        root = math.isqrt(square)
        return Slope(at, along, float(legs[0]), float(legs[1]), float(root) if root * root == square else None, True)
    shorter = min(rise, run)
    return Slope(at, along, rise / shorter, run / shorter, None, False)


def way(measured: Length, given: Given) -> Vector:
    """The unit direction of a dimension line: from start to end, or along x or y towards the end."""
    x, y = subtract(measured.end, measured.start)
    if given.measured == "across":
        return (-1.0, 0.0) if x < 0.0 else (1.0, 0.0)
    if given.measured == "upright":
        return (0.0, -1.0) if y < 0.0 else (0.0, 1.0)
    size = math.hypot(x, y)
    return (x / size, y / size) if size > 0.0 else (1.0, 0.0)


def dimension_ends(measured: Length, given: Given) -> tuple[Point, Point]:
    """Where the dimension line itself begins and ends: standing off by the given's offset."""
    along = way(measured, given)
    off = scale(perpendicular(along), given.offset_m)
    start = add(measured.start, off)
    return start, add(start, scale(along, measured.value_m))


def middle_of_arc(measured: Angle, radius_m: float) -> Point:
    """The middle of an angle's arc in the world."""
    sweep = (measured.to_deg - measured.from_deg) % 360.0
    return add(measured.at, scale(direction(measured.from_deg + sweep / 2.0), radius_m))
