"""The axes of sums and components: level, turned by an angle, or along a body. Nothing stored hangs on them."""

from __future__ import annotations

from ..geometry import Vector, add, angle_of, direction, dot, perpendicular, scale, subtract
from ..model import Sketch
from . import shape
from .reading import ActingForce

LEVEL: Vector = (1.0, 0.0)

# Less than this share of a unit vector is rounding: such axes are level, such a vector lies along an axis.
SQUARE_TOLERANCE = 1e-9


def x_axis(sketch: Sketch) -> Vector:
    """The unit vector of the x axis; quarter turns are exact. y lies a quarter turn counterclockwise of it.

    Along a body it follows the first edge (a bar's axis), read from left to right, straight up when it stands;
    `axes_deg` is added. A body that is gone, or an edge without length, counts as level.
    """
    settings = sketch.settings
    if settings.axes_along is None:
        return LEVEL if settings.axes_deg == 0.0 else direction(settings.axes_deg)
    return direction(_edge_deg(sketch, settings.axes_along) + settings.axes_deg)


def _edge_deg(sketch: Sketch, body_id: str) -> float:
    """Angle of a body's first edge, in (−90, 90]."""
    body = next((each for each in sketch.bodies if each.id == body_id), None)
    # A disc has no edge: the x of its own frame stands for one.
    corners = () if body is None else ((0.0, 0.0), (1.0, 0.0)) if body.kind == "disc" else shape.places(body)
    if body is None or len(corners) < 2 or corners[0] == corners[1]:
        return 0.0
    turned = (angle_of(subtract(corners[1], corners[0])) + body.angle_deg + 90.0) % 180.0 - 90.0
    return 90.0 if turned == -90.0 else turned


def is_level(axis: Vector) -> bool:
    """Whether an x axis points to the right, as axes do unless the sketch says otherwise."""
    return axis[0] > 0.0 and abs(axis[1]) <= SQUARE_TOLERANCE


def along(vector: Vector, axis: Vector) -> Vector:
    """The parts of a world vector along an x axis and its y axis."""
    if axis == LEVEL:
        return vector
    return (dot(vector, axis), dot(vector, perpendicular(axis)))


def world(parts: Vector, axis: Vector) -> Vector:
    """The world vector with these parts along an x axis and its y axis."""
    if axis == LEVEL:
        return parts
    return add(scale(axis, parts[0]), scale(perpendicular(axis), parts[1]))


def assumed(force: ActingForce) -> tuple[Vector, Vector]:
    """The unit vectors of the two components of a sought size and direction, as drawn."""
    signs = force.along or (1.0, 1.0)
    return world((signs[0], 0.0), force.x_axis), world((0.0, signs[1]), force.x_axis)
