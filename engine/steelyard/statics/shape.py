"""Where a body is: its axis, places on it, and its centre of mass.

A place is a point in the body's own frame; everything else here is in the world. Metres throughout.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from itertools import pairwise

from ..geometry import (
    Point,
    angle_of,
    direction,
    distance,
    inside_polygon,
    nearest_on_segment,
)
from ..model import AddedPiece, Body, RoundHole
from . import area

# A place this near the rim of a disc, as a part of its radius, lies on it.
ON_RIM = 1e-6


def world(body: Body, place_m: Point) -> Point:
    """The world point of a place on a body."""
    return placing(body)(place_m)


def placing(body: Body) -> Callable[[Point], Point]:
    """`world` for many places on one body: its frame is worked out once."""
    cosine, sine = direction(body.angle_deg)
    origin_x, origin_y = body.origin_m

    def placed(place_m: Point) -> Point:
        x, y = place_m
        return (origin_x + x * cosine - y * sine, origin_y + x * sine + y * cosine)

    return placed


def local(body: Body, world_m: Point) -> Point:
    """The place on a body of a world point."""
    cosine, sine = direction(body.angle_deg)
    x, y = world_m[0] - body.origin_m[0], world_m[1] - body.origin_m[1]
    return (x * cosine + y * sine, y * cosine - x * sine)


def places(body: Body) -> tuple[Point, ...]:
    """What makes the shape, in the body's frame: two ends of a bar, four rim points of a disc, else its corners."""
    if body.kind == "bar":
        return ((0.0, 0.0), (body.length_m, 0.0))
    if body.kind == "disc":
        r = body.radius_m
        return ((r, 0.0), (0.0, r), (-r, 0.0), (0.0, -r))
    return body.points_m or ((0.0, 0.0),)


def axis(body: Body) -> tuple[Point, ...]:
    """The axis of a bar or bent bar, the corners of a plate or the rim points of a disc, in the world."""
    return tuple(map(placing(body), places(body)))


def ends(body: Body) -> tuple[Point, Point]:
    """First and last point of the axis, in the world."""
    corners = places(body)
    return world(body, corners[0]), world(body, corners[-1])


def extent(body: Body) -> tuple[Point, Point]:
    """Lower left and upper right corner of the upright box round the shape, in the world."""
    if body.kind == "disc":
        (x, y), r = body.origin_m, body.radius_m
        return (x - r, y - r), (x + r, y + r)
    corners = axis(body)
    xs = [corner[0] for corner in corners]
    ys = [corner[1] for corner in corners]
    return (min(xs), min(ys)), (max(xs), max(ys))


def outermost(body: Body) -> tuple[Point, ...]:
    """Points whose upright box is that of the shape, in the world: its corners, or those of the box of a disc."""
    found = [*(extent(body) if body.kind == "disc" else axis(body))]
    for piece in body.pieces:
        found += map(placing(body), piece_outline(piece))
        x, y = world(body, piece.centre_m)
        found += [(x - piece.radius_m, y - piece.radius_m), (x + piece.radius_m, y + piece.radius_m)]
    return tuple(found)


PIECE_SHAPES = ("disc", "bar", "rectangle", "point")


def piece_shape(piece: AddedPiece) -> str:
    """One of `PIECE_SHAPES`."""
    if piece.radius_m > 0.0:
        return "disc"
    return "point" if piece.width_m == 0.0 else "rectangle" if piece.height_m > 0.0 else "bar"


def piece_outline(piece: AddedPiece) -> tuple[Point, ...]:
    """The corners of a rectangular piece, the ends of a bar, in the frame of its body; the centre of the others."""
    (x, y), (cosine, sine) = piece.centre_m, direction(piece.angle_deg)
    across, up = piece.width_m / 2.0, piece.height_m / 2.0
    if across == 0.0:
        return (piece.centre_m,)
    ways = ((-across, -up), (across, -up), (across, up), (-across, up))[: 4 if up > 0.0 else 2]
    return tuple((x + a * cosine - b * sine, y + a * sine + b * cosine) for a, b in ways)


def nearest_place(body: Body, world_m: Point) -> Point:
    """The place on a body nearest to a world point: on the axis of a bar, on or within the edge of a plate or disc."""
    place = local(body, world_m)
    for hole in body.round_holes:
        # Holes lie apart and off the edge, so that the rim of this one is the nearest there is.
        if distance(place, hole.centre_m) < hole.radius_m:
            return on_rim(hole, place)
    if body.kind == "disc":
        return place if math.hypot(*place) <= body.radius_m else on_rim(rim_of(body), place)
    corners = places(body)
    if body.kind == "plate" and len(corners) > 2:
        in_hole = [hole for hole in body.holes_m if inside_polygon(place, hole)]
        if inside_polygon(place, corners) and not in_hole:
            return place
        rims = in_hole or [corners]
        return min((_nearest_on_path(place, (*rim, rim[0])) for rim in rims), key=lambda near: distance(near, place))
    return _nearest_on_path(place, corners)


def rim_of(body: Body) -> RoundHole:
    """The rim of a disc, as a circle in its frame."""
    return RoundHole((0.0, 0.0), body.radius_m)


def inward_deg(body: Body, place_m: Point) -> float | None:
    """The direction in the world from a place on the rim of a disc to its centre; None for any other place."""
    if body.kind != "disc" or abs(math.hypot(*place_m) - body.radius_m) > ON_RIM * body.radius_m:
        return None
    return angle_of((-place_m[0], -place_m[1])) + body.angle_deg


def on_rim(circle: RoundHole, place: Point) -> Point:
    """The point of a circle nearest to a place; of its centre, the one to the right."""
    (x, y), radius = circle.centre_m, circle.radius_m
    off_x, off_y = place[0] - x, place[1] - y
    far = math.hypot(off_x, off_y)
    if far == 0.0:
        return (x + radius, y)
    return (x + radius * off_x / far, y + radius * off_y / far)


def _nearest_on_path(point: Point, path: tuple[Point, ...]) -> Point:
    best = path[0]
    best_distance = distance(best, point)
    for start, end in pairwise(path):
        near, _ = nearest_on_segment(point, start, end)
        gap = distance(near, point)
        if gap < best_distance:
            best, best_distance = near, gap
    return best


def centre_place(body: Body) -> Point:
    """The centre of mass in the body's frame: set by hand, else from the shape taken as uniform.

    Pieces fixed to it count by their masses beside that of the shape.
    """
    if body.centre_m is not None:
        return body.centre_m
    own = own_centre_place(body)
    if not body.pieces:
        return own
    masses = [(body.mass_kg or 0.0, own), *((piece.mass_kg, piece.centre_m) for piece in body.pieces)]
    total = math.fsum(mass for mass, _ in masses)
    first_x = math.fsum(mass * (place[0] - own[0]) for mass, place in masses)
    first_y = math.fsum(mass * (place[1] - own[1]) for mass, place in masses)
    return (own[0] + first_x / total, own[1] + first_y / total)


def own_centre_place(body: Body) -> Point:
    """The centre of the uniform shape alone, without what is fixed to it.

    A bar: its middle. A bent bar: each straight piece counts by its length. A plate or disc: the centroid of the
    area, holes taken away. A shape without length or area: the mean of its points.
    """
    if body.kind == "bar":
        return (body.length_m / 2.0, 0.0)
    if body.kind == "bent-bar":
        return _path_centre(places(body))
    whole = area.together(area.patches(body))
    return whole.centre_m if whole.area_m2 > 0.0 else _mean(places(body))


def centre_of_mass(body: Body) -> Point:
    """The centre of mass in the world (see `centre_place`)."""
    return world(body, centre_place(body))


def _mean(points: tuple[Point, ...]) -> Point:
    return (math.fsum(p[0] for p in points) / len(points), math.fsum(p[1] for p in points) / len(points))


def _path_centre(corners: tuple[Point, ...]) -> Point:
    total = first_x = first_y = 0.0
    for start, end in pairwise(corners):
        piece = distance(start, end)
        total += piece
        first_x += piece * (start[0] + end[0]) / 2.0
        first_y += piece * (start[1] + end[1]) / 2.0
    return (first_x / total, first_y / total) if total > 0.0 else _mean(corners)
