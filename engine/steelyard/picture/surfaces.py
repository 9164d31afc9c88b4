"""The surface a contact touches, as the trade draws it: a hatched line, toothed where it is rough."""

from __future__ import annotations

import math

from ..geometry import Point
from ..model import Body, Support
from ..statics import holding, shape
from .arrows import dot
from .frame import Frame
from .pens import Pen, path_record
from .record import Record

# How far a drawn surface runs to each side of a point it touches at, and on past the ends of a face, px.
POINT_HALF_PX = 30.0
PAST_FACE_PX = 9.0
# The line of a surface stands this far off the body; teeth of a rough one reach down to the second level.
LEVEL_PX = -1.0
VALLEY_PX = -5.0
TOOTH_PX = 7.0


def contact(support: Support, body: Body, reach_px: float, frame: Frame, name: str) -> tuple[list[Record], list[Point]]:
    """The surface, square to its normal and `reach_px` off the place of the contact; and its box, as corners."""
    start = frame.to_sheet(shape.world(body, support.place_m))
    end = start if support.face_m is None else frame.to_sheet(shape.world(body, support.face_m))
    x, y = holding.normal(support, body)
    up = (x, -y)
    middle = ((start[0] + end[0]) / 2.0 - up[0] * reach_px, (start[1] + end[1]) / 2.0 - up[1] * reach_px)
    pen = Pen(middle, up, frame.pen)
    half_face = math.dist(start, end) / 2.0 / frame.pen
    half = POINT_HALF_PX if support.face_m is None else half_face + PAST_FACE_PX
    of = support.id
    if support.mu is None:
        line, hatch = pen.path((-half, LEVEL_PX), (half, LEVEL_PX)), pen.hatched(LEVEL_PX, half)
    else:
        line, hatch = _toothed(pen, half), pen.hatched(VALLEY_PX, half, gap=4.7)
    records = [
        path_record(f"{of}.hatch", "ground-hatch", hatch, of),
        path_record(of, "ground-line", line, of, "ground", name),
    ]
    ends = (-half_face, half_face) if support.face_m is not None else (0.0,)
    for index, along in enumerate(ends):
        key = f"{of}.touch" if index == 0 else f"{of}.touch-end"
        records.append(dot(pen.point(along, 0.0), key, of, 2.6 * frame.pen, "point-dot", "body"))
    low = LEVEL_PX - 9.0 if support.mu is None else VALLEY_PX - 9.0
    return records, [pen.point(-half, 0.0), pen.point(half, 0.0), pen.point(half, low), pen.point(-half, low)]


def _toothed(pen: Pen, half: float) -> str:
    """A saw-toothed line: the roughness that keeps a body from sliding, as the trade draws it."""
    count = max(2, round(2.0 * half / TOOTH_PX))
    step = 2.0 * half / count
    points = [(-half, VALLEY_PX)]
    for tooth in range(count):
        points += [(-half + (tooth + 0.5) * step, LEVEL_PX), (-half + (tooth + 1.0) * step, VALLEY_PX)]
    return pen.path(*points)
