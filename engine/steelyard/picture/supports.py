"""Supports as the trade draws them: pin, roller, rope, strut, fixed end, contact surface."""

from __future__ import annotations

import math

from ..geometry import Point
from ..model import Body, Support
from ..statics import holding, shape
from . import surfaces
from .arrows import dot
from .bodies import axis_px, half_thickness_px
from .frame import Frame
from .pens import Pen, path_record
from .record import Record
from .text import number


def _ground(record_id: str, pen: Pen, level: float, half: float, of: str, name: str = "") -> list[Record]:
    return [
        path_record(f"{record_id}.hatch", "ground-hatch", pen.hatched(level, half), of),
        path_record(f"{record_id}.ground", "ground-line", pen.path((-half, level), (half, level)), of, "ground", name),
    ]


# A pin's triangle would vanish behind a body whose half thickness is more than this, in px before the pen's scale.
COVERED_PX = 13.0


def draw(
    support: Support, body: Body, frame: Frame, name: str, far_m: Point | None
) -> tuple[list[Record], list[list[Point]]]:
    """The symbol of a support, and the boxes (as corners) that labels keep clear of.

    `far_m` is the far end of a rope or strut in the world.
    """
    at = frame.to_sheet(shape.world(body, support.place_m))
    if support.kind in ("pin", "fixed"):
        records, boxes = (
            _pin(support, at, frame, name) if support.kind == "pin" else _fixed(support, body, at, frame, name)
        )
        thick = body.has_area or half_thickness_px(body, frame) > COVERED_PX * frame.pen
        if thick if support.kind == "pin" else _inside(body, at, frame):
            # In front of the body, as on a drawing of a plate.
            records = [record._replace(layer="body") for record in records]
        return records, boxes
    if support.kind in ("rope", "strut"):
        return _link(support, at, frame, name, far_m)
    return _surface(support, body, at, frame, name)


def _inside(body: Body, at: Point, frame: Frame) -> bool:
    """Whether a place lies between the ends of a bar rather than at one."""
    axis = axis_px(body, frame)
    return all(math.hypot(end[0] - at[0], end[1] - at[1]) > 2.0 for end in (axis[0], axis[-1]))


def _pin(support: Support, at: Point, frame: Frame, name: str) -> tuple[list[Record], list[list[Point]]]:
    pen = Pen(at, (0.0, -1.0), frame.pen)
    of = support.id
    triangle = pen.path((0.0, 0.0), (-14.0, -24.0), (14.0, -24.0), closed=True)
    records = [
        *_ground(of, pen, -24.0, 22.0, of),
        path_record(of, "support-part", triangle, of, "ground", name),
        dot(at, f"{of}.hole", of, 4.6 * frame.pen, "support-hollow", "body"),
    ]
    return records, [[pen.point(-22.0, 0.0), pen.point(22.0, 0.0), pen.point(22.0, -33.0), pen.point(-22.0, -33.0)]]


def _surface(
    support: Support, body: Body, at: Point, frame: Frame, name: str
) -> tuple[list[Record], list[list[Point]]]:
    """Rollers and contacts: they touch the face of a bar, half its thickness away from its axis."""
    of = support.id
    x, y = holding.normal(support, body)
    reach = _half_along(body, at, (x, -y), frame)
    if support.kind == "contact":
        records, box = surfaces.contact(support, body, reach, frame, name)
        return records, [box]
    face = (at[0] - x * reach, at[1] + y * reach)
    pen = Pen(face, (x, -y), frame.pen)
    records = []
    triangle = pen.path((0.0, 0.0), (-11.0, -17.0), (11.0, -17.0), closed=True)
    records += [
        *_ground(of, pen, -26.5, 22.0, of),
        path_record(of, "support-part", triangle, of, "ground", name),
        dot(pen.point(-6.0, -21.5), f"{of}.wheel-1", of, 4.2 * frame.pen, "support-hollow", "ground"),
        dot(pen.point(6.0, -21.5), f"{of}.wheel-2", of, 4.2 * frame.pen, "support-hollow", "ground"),
    ]
    low = -35.0
    if support.two_way:
        # A rail on both sides of the wheels: it can hold the body down as well.
        rail = pen.path((-22.0, -26.5), (-22.0, -16.5), (-14.5, -16.5)) + pen.path(
            (22.0, -26.5), (22.0, -16.5), (14.5, -16.5)
        )
        records.append(path_record(f"{of}.rail", "ground-line", rail, of))
    return records, [[pen.point(-22.0, 0.0), pen.point(22.0, 0.0), pen.point(22.0, low), pen.point(-22.0, low)]]


def _half_along(body: Body, at: Point, normal: Point, frame: Frame) -> float:
    """Px from a bar's axis to its face along a normal; at most the thickness where the normal runs along the bar."""
    half = half_thickness_px(body, frame)
    if half == 0.0:
        return 0.0
    axis = axis_px(body, frame)
    best = min(
        range(len(axis) - 1),
        key=lambda i: (
            math.hypot(at[0] - (axis[i][0] + axis[i + 1][0]) / 2.0, at[1] - (axis[i][1] + axis[i + 1][1]) / 2.0)
            - math.hypot(axis[i + 1][0] - axis[i][0], axis[i + 1][1] - axis[i][1]) / 2.0
        ),
    )
    dx, dy = axis[best + 1][0] - axis[best][0], axis[best + 1][1] - axis[best][1]
    length = math.hypot(dx, dy) or 1.0
    across = abs(-dy * normal[0] + dx * normal[1]) / length
    along = abs(dx * normal[0] + dy * normal[1]) / length
    # At the very end of a bar the corner touches, so the end face counts too.
    at_end = min(
        math.hypot(at[0] - axis[0][0], at[1] - axis[0][1]), math.hypot(at[0] - axis[-1][0], at[1] - axis[-1][1])
    )
    if at_end < 1.0:
        return half * across
    return min(half / max(across, 0.2), 3.0 * half) if along > 0.0 else half


def _link(
    support: Support, at: Point, frame: Frame, name: str, far_m: Point | None
) -> tuple[list[Record], list[list[Point]]]:
    of = support.id
    anchor = frame.to_sheet(far_m) if far_m is not None else (at[0], at[1] - 60.0)
    length = math.hypot(anchor[0] - at[0], anchor[1] - at[1]) or 1.0
    ux, uy = (anchor[0] - at[0]) / length, (anchor[1] - at[1]) / length
    mount = Pen(anchor, (-ux, -uy), frame.pen)
    records: list[Record] = []
    if support.other is None:
        records += _ground(of, mount, -8.0, 14.0, of)
        records.append(path_record(f"{of}.lug", "ground-line", mount.path((0.0, 0.0), (0.0, -8.0)), of))
    if support.kind == "rope":
        records += rope(at, anchor, of, of, frame, name)
        records.append(dot(at, f"{of}.tie", of, 3.4 * frame.pen, "point-dot", "body"))
    else:
        half = 5.0 * frame.pen
        sx, sy = -uy * half, ux * half
        n = number
        link = (
            f"M{n(at[0] + sx)} {n(at[1] + sy)}L{n(anchor[0] + sx)} {n(anchor[1] + sy)}"
            f"A{n(half)} {n(half)} 0 0 0 {n(anchor[0] - sx)} {n(anchor[1] - sy)}"
            f"L{n(at[0] - sx)} {n(at[1] - sy)}A{n(half)} {n(half)} 0 0 0 {n(at[0] + sx)} {n(at[1] + sy)}Z"
        )
        records.append(path_record(of, "support-part", link, of, "body", name))
        records.append(dot(at, f"{of}.hole", of, 3.4 * frame.pen, "support-hollow", "body"))
    tied = support.kind == "rope" and support.other is not None
    role = "anchor-dot" if support.other is None else "point-dot" if tied else "support-hollow"
    records.append(dot(anchor, f"{of}.anchor", of, 3.8 * frame.pen, role, "body"))
    boxes = [along_box(at, anchor)]
    if support.other is None:
        mounted = [mount.point(-14.0, 4.0), mount.point(14.0, 4.0), mount.point(14.0, -16.0), mount.point(-14.0, -16.0)]
        boxes.append(mounted)
    return records, boxes


def rope(start: Point, end: Point, record_id: str, of: str, frame: Frame, name: str = "") -> list[Record]:
    """A straight piece of rope from one point of the sheet to another, with its twist."""
    length = math.hypot(end[0] - start[0], end[1] - start[1]) or 1.0
    line = f"M{number(start[0])} {number(start[1])}L{number(end[0])} {number(end[1])}"
    records = [path_record(record_id, "rope", line, of, "body", name)]
    twist = Pen(start, ((end[0] - start[0]) / length, (end[1] - start[1]) / length), frame.pen)
    marks: list[str] = []
    reach = length / frame.pen
    along = 18.0
    while along < reach - 12.0 and len(marks) < 60:
        marks.append(twist.path((-2.6, along - 3.4), (2.6, along + 3.4)))
        along += max(11.0, reach / 50.0)
    if marks:
        records.append(path_record(f"{record_id}.twist", "rope-twist", "".join(marks), of, "body"))
    return records


def along_box(start: Point, end: Point) -> list[Point]:
    """A narrow box along a rope or strut, as corners."""
    w = 5.0
    length = math.hypot(end[0] - start[0], end[1] - start[1]) or 1.0
    side = Pen(start, ((end[0] - start[0]) / length, (end[1] - start[1]) / length), 1.0)
    return [side.point(-w, 0.0), side.point(w, 0.0), side.point(w, length), side.point(-w, length)]


def _fixed(support: Support, body: Body, at: Point, frame: Frame, name: str) -> tuple[list[Record], list[list[Point]]]:
    """A wall square to the body where it is built in, on the side away from the rest of the body."""
    axis = [frame.to_sheet(body.origin_m)] if body.kind == "disc" else axis_px(body, frame)
    others = [place for place in axis if math.hypot(place[0] - at[0], place[1] - at[1]) > 1.0]
    nearest = (
        min(others, key=lambda place: math.hypot(place[0] - at[0], place[1] - at[1])) if others else (at[0] + 1, at[1])
    )
    dx, dy = nearest[0] - at[0], nearest[1] - at[1]
    length = math.hypot(dx, dy) or 1.0
    pen = Pen(at, (dx / length, dy / length), frame.pen)
    half = max(26.0, half_thickness_px(body, frame) / frame.pen + 12.0)
    records = [
        path_record(f"{support.id}.hatch", "ground-hatch", pen.hatched(0.0, half, 9.0), support.id),
        path_record(support.id, "ground-line", pen.path((-half, 0.0), (half, 0.0)), support.id, "ground", name),
    ]
    return records, [[pen.point(-half, 2.0), pen.point(half, 2.0), pen.point(half, -10.0), pen.point(-half, -10.0)]]
