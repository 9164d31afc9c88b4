"""Joints between two bodies: a ring for a pin, a square for a fixed joint, a line between touching surfaces, ropes."""

from __future__ import annotations

import math

from ..geometry import Point, direction
from ..model import Sketch, Support
from ..statics import shape
from ..statics.holding import anchor
from . import supports
from .arrows import dot
from .frame import Frame
from .pens import Pen
from .record import Record
from .text import number

Symbol = tuple[list[Record], list[list[Point]]]

RING_PX = 5.2
PULLEY_PX = 13.0


def draw(sketch: Sketch, support: Support, frame: Frame, name: str) -> Symbol:
    """The symbol of any support, one between two bodies included, and the boxes that labels keep clear of."""
    body = sketch.body(support.body)
    far = anchor(sketch, support)
    if support.other is None:
        return supports.draw(support, body, frame, name, far)
    at = frame.to_sheet(shape.world(body, support.place_m))
    if far is not None and support.over_m is not None:
        return _over_pulley(support, at, frame.to_sheet(support.over_m), frame.to_sheet(far), frame, name)
    if support.kind in ("rope", "strut"):
        return supports.draw(support, body, frame, name, far)
    reach = 9.0 * frame.pen
    box = [(at[0] - reach, at[1] - reach), (at[0] + reach, at[1] - reach), (at[0] + reach, at[1] + reach)]
    return _joint(support, at, frame, name), [[*box, (at[0] - reach, at[1] + reach)]]


def _joint(support: Support, at: Point, frame: Frame, name: str) -> list[Record]:
    of, unit = support.id, frame.pen
    if support.kind == "pin":
        ring = dot(at, of, of, RING_PX * unit, "support-hollow", "body")
        return [ring._replace(name=name), dot(at, f"{of}.hole", of, 1.6 * unit, "point-dot", "body")]
    if support.kind == "fixed":
        r, n = RING_PX * unit, number
        path = f"M{n(at[0] - r)} {n(at[1] - r)}h{n(2 * r)}v{n(2 * r)}h{n(-2 * r)}Z"
        square = Record(of, "path", "support-hollow", "body", (("d", path),), (), of, "always", name)
        return [square, dot(at, f"{of}.hole", of, 1.6 * unit, "point-dot", "body")]
    x, y = direction(support.normal_deg)
    pen = Pen(at, (x, -y), unit)
    line = Record(
        of, "path", "ground-line", "body", (("d", pen.path((-17.0, 0.0), (17.0, 0.0))),), (), of, "always", name
    )
    if support.kind == "contact":
        return [line, dot(at, f"{of}.touch", of, 2.6 * unit, "point-dot", "body")]
    wheel = dot(pen.point(0.0, 4.6), f"{of}.wheel", of, 4.2 * unit, "support-hollow", "body")
    return [line, wheel]


def _over_pulley(support: Support, at: Point, over: Point, far: Point, frame: Frame, name: str) -> Symbol:
    """A rope from one body over a small fixed pulley to another; both pieces run to the middle of the pulley."""
    of, unit = support.id, frame.pen
    records = supports.rope(at, over, of, of, frame, name)
    records += supports.rope(over, far, f"{of}.second", of, frame)
    up = Pen(over, (0.0, -1.0), unit)
    mount = 26.0
    records.append(Record(f"{of}.hatch", "path", "ground-hatch", "ground", (("d", _upward_hatch(up, mount)),), (), of))
    hanger = up.path((-16.0, mount), (16.0, mount)) + up.path((0.0, mount), (0.0, 0.0))
    records.append(Record(f"{of}.ground", "path", "ground-line", "ground", (("d", hanger),), (), of))
    records.append(dot(over, f"{of}.pulley", of, PULLEY_PX * unit, "support-hollow", "body"))
    records.append(dot(over, f"{of}.axle", of, 2.6 * unit, "point-dot", "body"))
    for end, point in (("tie", at), ("anchor", far)):
        records.append(dot(point, f"{of}.{end}", of, 3.4 * unit, "point-dot", "body"))
    r = PULLEY_PX * unit + 2.0
    wheel = [(over[0] - r, over[1] - 2.3 * r), (over[0] + r, over[1] - 2.3 * r), (over[0] + r, over[1] + r)]
    boxes = [supports.along_box(at, over), supports.along_box(over, far), [*wheel, (over[0] - r, over[1] + r)]]
    return records, boxes


def _upward_hatch(pen: Pen, level: float) -> str:
    """Slanted strokes above a line: a beam that something hangs from."""
    strokes = []
    along = -12.0
    while along <= 16.0:
        strokes.append(pen.path((along, level), (along + 5.0, level + 7.0)))
        along += 7.0
    return "".join(strokes)


def middle(sketch: Sketch, support: Support, frame: Frame) -> Point:
    """Where the name of a rope or strut stands: half-way along its longer piece."""
    at = frame.to_sheet(shape.world(sketch.body(support.body), support.place_m))
    far_m = anchor(sketch, support)
    ends = [at if far_m is None else frame.to_sheet(far_m)]
    if support.over_m is not None:
        ends.insert(0, frame.to_sheet(support.over_m))
    pieces = list(zip([at, *ends[:-1]], ends, strict=True))
    start, end = max(pieces, key=lambda piece: math.dist(*piece))
    return ((start[0] + end[0]) / 2.0, (start[1] + end[1]) / 2.0)
