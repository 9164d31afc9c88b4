"""Points, directions and lines in the plane, as float tuples.

Metres, x right, y up; angles in degrees counterclockwise from +x. Tuples and plain floats: for two
components they are several times faster than any array library.
"""

from __future__ import annotations

import math

Point = tuple[float, float]
Vector = tuple[float, float]


def add(first: Vector, second: Vector) -> Vector:
    """Component sum."""
    return (first[0] + second[0], first[1] + second[1])


def subtract(first: Vector, second: Vector) -> Vector:
    """first − second."""
    return (first[0] - second[0], first[1] - second[1])


def scale(vector: Vector, factor: float) -> Vector:
    """The vector times a number."""
    return (vector[0] * factor, vector[1] * factor)


def dot(first: Vector, second: Vector) -> float:
    """Scalar product."""
    return first[0] * second[0] + first[1] * second[1]


def cross(first: Vector, second: Vector) -> float:
    """The z part of the vector product: positive when `second` lies counterclockwise of `first`."""
    return first[0] * second[1] - first[1] * second[0]


def length(vector: Vector) -> float:
    """Euclidean length, never overflowing for finite parts."""
    return math.hypot(vector[0], vector[1])


def distance(first: Point, second: Point) -> float:
    """Distance between two points."""
    return math.hypot(second[0] - first[0], second[1] - first[1])


# Quarter turns are exact, so that a weight drawn at 270° has no part along x at all.
_EXACT = {0.0: (1.0, 0.0), 90.0: (0.0, 1.0), 180.0: (-1.0, 0.0), 270.0: (0.0, -1.0)}


def direction(angle_deg: float) -> Vector:
    """Unit vector at an angle; quarter turns are exact.

    >>> direction(-90.0)
    (0.0, -1.0)
    """
    turned = angle_deg % 360.0
    exact = _EXACT.get(turned)
    if exact is not None:
        return exact
    radians = math.radians(turned)
    return (math.cos(radians), math.sin(radians))


def angle_of(vector: Vector) -> float:
    """Angle of a vector in degrees, in [0, 360); 0 for the zero vector."""
    turned = math.degrees(math.atan2(vector[1], vector[0])) % 360.0
    return 0.0 if turned == 360.0 else turned


def rotate(vector: Vector, angle_deg: float) -> Vector:
    """The vector turned counterclockwise."""
    cosine, sine = direction(angle_deg)
    return (vector[0] * cosine - vector[1] * sine, vector[0] * sine + vector[1] * cosine)


def perpendicular(vector: Vector) -> Vector:
    """The vector turned a quarter counterclockwise."""
    return (-vector[1], vector[0])


def foot_of_perpendicular(point: Point, on_line: Point, along: Vector) -> Point:
    """Foot of the perpendicular from a point to the line through `on_line` with unit direction `along`."""
    shift = dot(subtract(point, on_line), along)
    return add(on_line, scale(along, shift))


def line_crossing(first: Point, first_along: Vector, second: Point, second_along: Vector) -> Point | None:
    """Where two lines (unit directions) cross; None when they are parallel to within rounding."""
    turn = cross(first_along, second_along)
    if abs(turn) < 1e-12:  # about 6e-11 degrees: beyond it the crossing has no correct digit left
        return None
    shift = cross(subtract(second, first), second_along) / turn
    return add(first, scale(first_along, shift))


def nearest_on_segment(point: Point, start: Point, end: Point) -> tuple[Point, float]:
    """Nearest point of a segment, and how far along it lies as a fraction in [0, 1]."""
    along = subtract(end, start)
    squared = dot(along, along)
    fraction = 0.0 if squared == 0.0 else min(1.0, max(0.0, dot(subtract(point, start), along) / squared))
    return add(start, scale(along, fraction)), fraction


def polygon_area_and_centroid(corners: tuple[Point, ...]) -> tuple[float, Point]:
    """Signed area (counterclockwise positive) and centroid of a simple polygon.

    Source: the shoelace formulas, i.e. Green's theorem for ∬dA, ∬x dA and ∬y dA.
    Coordinates are taken from the first corner, so a far-away polygon loses no digits.
    """
    base = corners[0]
    area_twice = first_x = first_y = 0.0
    for index in range(1, len(corners) - 1):
        left = subtract(corners[index], base)
        right = subtract(corners[index + 1], base)
        piece = cross(left, right)
        area_twice += piece
        first_x += piece * (left[0] + right[0])
        first_y += piece * (left[1] + right[1])
    if area_twice == 0.0:
        return 0.0, base
    return area_twice / 2.0, (base[0] + first_x / (3.0 * area_twice), base[1] + first_y / (3.0 * area_twice))


def inside_polygon(point: Point, corners: tuple[Point, ...]) -> bool:
    """Whether a point lies inside a simple polygon: an upward ray crosses the edge an odd number of times.

    On the edge either answer may come: neither side is nearer.
    """
    inside = False
    x, y = point
    previous = corners[-1]
    for corner in corners:
        if (corner[0] > x) != (previous[0] > x):
            share = (x - previous[0]) / (corner[0] - previous[0])
            if y < previous[1] + share * (corner[1] - previous[1]):
                inside = not inside
        previous = corner
    return inside
