"""What a lit contact shows of its limits: the face its normal can act on, and the cone of friction.

All unknown forces of a contact together act within the cone, arctan μ to each side of its normal (the angle of
friction), as long as it does not slip; and within the face, as long as it does not tip.
"""

from __future__ import annotations

import math

from ..geometry import Point, Vector, nearest_on_segment
from ..statics.reading import ActingForce, Analysis, ForceReading
from . import text
from .constructions import action, shown_when
from .frame import Frame
from .labels import Wanted
from .record import Record
from .text import number

CONE_PX = 150.0
ARC_PX = 34.0
TICK_PX = 8.0
# A whole contact force no larger than this part of the largest force has no line.
NO_FORCE = 1e-9


def band(of: str, face: tuple[Point, Point], frame: Frame, *, always: bool) -> Record:
    """The face a normal acts on somewhere: a thin band between two ticks, while a force of the contact is lit."""
    (x1, y1), (x2, y2) = (frame.to_sheet(point) for point in face)
    size = math.hypot(x2 - x1, y2 - y1) or 1.0
    sx, sy = -(y2 - y1) / size * TICK_PX * frame.pen, (x2 - x1) / size * TICK_PX * frame.pen
    n = number
    path = f"M{n(x1)} {n(y1)}L{n(x2)} {n(y2)}"
    for x, y in ((x1, y1), (x2, y2)):
        path += f"M{n(x - sx)} {n(y - sy)}L{n(x + sx)} {n(y + sy)}"
    shown = shown_when(always=always)
    return Record(f"{of}.face", "path", "face", "construct", (("d", path),), (), of, shown)


def cone(of: str, at: Point, normal: Vector, mu: float, frame: Frame, *, always: bool) -> Record:
    """The cone of friction from a point (world) about a normal, with its angle marked at the apex."""
    x, y = frame.to_sheet(at)
    n = number
    (lx, ly), (rx, ry) = _sides(normal, mu)
    reach, arc = CONE_PX * frame.pen, ARC_PX * frame.pen
    path = (
        f"M{n(x + lx * reach)} {n(y + ly * reach)}L{n(x)} {n(y)}L{n(x + rx * reach)} {n(y + ry * reach)}"
        f"M{n(x + lx * arc)} {n(y + ly * arc)}A{n(arc)} {n(arc)} 0 0 1 {n(x + rx * arc)} {n(y + ry * arc)}"
    )
    return Record(f"{of}.cone", "path", "cone", "construct", (("d", path),), (), of, shown_when(always=always))


def _sides(normal: Vector, mu: float) -> tuple[Vector, Vector]:
    """The unit directions of the two sides of a cone on the sheet, left and right of the normal."""
    half = math.atan(mu)
    cosine, sine = math.cos(half), math.sin(half)
    x, y = normal
    return (x * cosine - y * sine, -(x * sine + y * cosine)), (x * cosine + y * sine, -(y * cosine - x * sine))


def cone_strokes(at: Point, normal: Vector, mu: float, frame: Frame) -> tuple[tuple[Point, Point], ...]:
    """The two sides of the cone on the sheet, for labels to keep clear of."""
    x, y = frame.to_sheet(at)
    reach = CONE_PX * frame.pen
    return tuple(((x, y), (x + side_x * reach, y + side_y * reach)) for side_x, side_y in _sides(normal, mu))


def apex(force: ActingForce) -> Point:
    """Where on the body a contact's cone stands: where its normal acts, or the end of the face it would act past."""
    return force.point if force.face is None else nearest_on_segment(force.point, *force.face)[0]


def pair_of(reading: ForceReading, analysis: Analysis) -> tuple[ForceReading, ForceReading] | None:
    """The normal and the friction of the rough contact a reading belongs to; None for another force."""
    normal_id = reading.force.normal or reading.force.id
    friction = next((each for each in analysis.readings if each.force.normal == normal_id), None)
    normal = next((each for each in analysis.readings if each.force.id == normal_id), None)
    return None if friction is None or normal is None else (normal, friction)


def whole(
    of: str, normal: ForceReading, friction: ForceReading, least_n: float, frame: Frame, *, always: bool
) -> tuple[Record, Wanted] | None:
    """The line of action of normal and friction together, and what it is called; None where they have none."""
    if normal.vector is None or friction.vector is None or normal.against_drawn:
        return None
    vector = (normal.vector[0] + friction.vector[0], normal.vector[1] + friction.vector[1])
    size = math.hypot(*vector)
    if size <= least_n * NO_FORCE:
        return None
    at = frame.to_sheet(normal.force.point)
    along = (vector[0] / size, vector[1] / size)
    line = action(of, at, along, frame, always=always)
    if line is None:
        return None
    pieces = [*text.symbol_pieces(normal.force.symbol), (" + ", "value"), *text.symbol_pieces(friction.force.symbol)]
    reach = CONE_PX * frame.pen
    far = (at[0] + along[0] * reach, at[1] - along[1] * reach)
    words = text.line("label-unknown", frame.small_px, *pieces)
    middle = ((at[0] + far[0]) / 2.0, (at[1] + far[1]) / 2.0)
    return line._replace(id=f"{of}.whole"), Wanted(f"{of}.whole-label", of, (words,), (far, middle), 2.0)
