"""Arrows in the diagram's pen: known solid, unknown a hollow outline, guess dashed; straight ones and turning ones."""

from __future__ import annotations

import math
from typing import Literal, NamedTuple

from ..geometry import Point
from .record import Layer, Record
from .text import number

Kind = Literal["known", "unknown", "guess"]

# An arrow shorter than this keeps this length and gets a break mark: it is not to scale.
SHORTEST_PX = 14.0
# What is drawn of a force whose size is not known: a standard length.
STANDARD_PX = 60.0
COMPONENT_PX = 48.0
TURNING_RADIUS_PX = 24.0

_HEAD_LENGTH = 17.0
_HEAD_NOTCH = 14.0
_HEAD_HALF = 6.6
_SHAFT_HALF: dict[Kind, float] = {"known": 1.9, "unknown": 2.9, "guess": 1.3}


class Arrow(NamedTuple):
    """A straight arrow on the sheet, in px; `to_scale` is false for one kept at a shortest or standard length."""

    tail: Point
    head: Point
    kind: Kind
    to_scale: bool

    @property
    def middle(self) -> Point:
        """Half-way along."""
        return ((self.tail[0] + self.head[0]) / 2.0, (self.tail[1] + self.head[1]) / 2.0)

    @property
    def length(self) -> float:
        """Length in px."""
        return math.hypot(self.head[0] - self.tail[0], self.head[1] - self.tail[1])


def placed(
    at: Point, along_px: Point, kind: Kind, pen: float, *, head_at_point: bool = False, exact: bool = False
) -> Arrow:
    """The arrow for a vector in px (y down) at a point: starting there, or ending there; never under 14 px.

    `exact`: it keeps its true length however short.
    """
    size = math.hypot(*along_px)
    shortest = 0.0 if exact else SHORTEST_PX * pen
    to_scale = size >= shortest
    factor = 1.0 if to_scale else shortest / size
    x, y = along_px[0] * factor, along_px[1] * factor
    if head_at_point:
        return Arrow((at[0] - x, at[1] - y), at, kind, to_scale)
    return Arrow(at, (at[0] + x, at[1] + y), kind, to_scale)


def _outline(arrow: Arrow, pen: float) -> str:
    length = arrow.length or 1.0
    ux, uy = (arrow.head[0] - arrow.tail[0]) / length, (arrow.head[1] - arrow.tail[1]) / length
    shrink = min(pen, 0.75 * length / _HEAD_LENGTH)
    back, notch = length - _HEAD_LENGTH * shrink, length - _HEAD_NOTCH * shrink
    half, wide = _SHAFT_HALF[arrow.kind] * pen, _HEAD_HALF * max(shrink, 0.72 * pen)
    x, y = arrow.tail

    def at(along: float, across: float) -> str:
        return f"{number(x + ux * along - uy * across)} {number(y + uy * along + ux * across)}"

    return (
        f"M{at(0.0, half)}L{at(notch, half)}L{at(back, wide)}L{number(arrow.head[0])} {number(arrow.head[1])}"
        f"L{at(back, -wide)}L{at(notch, -half)}L{at(0.0, -half)}Z"
    )


def straight(arrow: Arrow, record_id: str, of: str, pen: float, name: str = "", layer: Layer = "force") -> list[Record]:
    """The records of an arrow: one outline, or for a guess a dashed shaft and an open head; a break mark if short."""
    records: list[Record] = []
    if arrow.kind == "guess":
        length = arrow.length or 1.0
        ux, uy = (arrow.head[0] - arrow.tail[0]) / length, (arrow.head[1] - arrow.tail[1]) / length
        x, y = arrow.head
        back, wide = min(15.0 * pen, 0.8 * length), 6.4 * pen

        def at(along: float, across: float) -> str:
            return f"{number(x - ux * along - uy * across)} {number(y - uy * along + ux * across)}"

        shaft = f"M{number(arrow.tail[0])} {number(arrow.tail[1])}L{at(2.5, 0.0)}"
        head = f"M{at(back, wide)}L{number(x)} {number(y)}L{at(back, -wide)}"
        records.append(Record(record_id, "path", "guess-shaft", layer, (("d", shaft),), (), of, "always", name))
        records.append(Record(f"{record_id}.head", "path", "guess-head", layer, (("d", head),), (), of))
    else:
        outline = _outline(arrow, pen)
        role = f"arrow-{arrow.kind}"
        records.append(Record(record_id, "path", role, layer, (("d", outline),), (), of, "always", name))
    return records


def break_mark(arrow: Arrow, record_id: str, of: str, pen: float) -> Record:
    """Two short strokes across the tail end: "not to scale"."""
    length = arrow.length or 1.0
    ux, uy = (arrow.head[0] - arrow.tail[0]) / length, (arrow.head[1] - arrow.tail[1]) / length
    x, y = arrow.tail[0] - ux * 3.0 * pen, arrow.tail[1] - uy * 3.0 * pen
    strokes = ""
    for shift in (0.0, 4.0 * pen):
        px, py = x - ux * shift, y - uy * shift
        sx, sy = (ux * 0.45 - uy) * 5.0 * pen, (uy * 0.45 + ux) * 5.0 * pen
        strokes += f"M{number(px - sx)} {number(py - sy)}L{number(px + sx)} {number(py + sy)}"
    return Record(record_id, "path", f"break-{arrow.kind}", "force", (("d", strokes),), (), of)


def on_circle(centre: Point, radius: float, angle_deg: float) -> Point:
    """A point of a circle on the sheet; the angle is counterclockwise as seen, from the right."""
    angle = math.radians(angle_deg)
    return (centre[0] + radius * math.cos(angle), centre[1] - radius * math.sin(angle))


def turning_path(
    centre: Point, radius: float, start_deg: float, sweep_deg: float, half: float, head: float, wide: float
) -> str:
    """The outline of a turning arrow: a band of 2·half from `start_deg` over `sweep_deg`, ending in a head.

    A positive sweep runs counterclockwise as seen. The head is `head` px long along the arc, 2·`wide` across.
    """
    sign = 1.0 if sweep_deg >= 0.0 else -1.0
    head_deg = min(math.degrees(head / radius), abs(sweep_deg) * 0.8)
    neck = start_deg + sweep_deg - sign * head_deg
    large = 1 if abs(sweep_deg) - head_deg > 180.0 else 0
    # SVG's sweep flag is 1 for clockwise as seen (y down).
    flag = 0 if sign > 0 else 1
    inner, outer = radius - half, radius + half

    n = number
    x, y = centre
    begin, end = math.radians(start_deg), math.radians(neck)
    begin_x, begin_y, end_x, end_y = math.cos(begin), math.sin(begin), math.cos(end), math.sin(end)
    # The tip lies on the tangent rather than the arc: a straight head reads better at small radii.
    lean = math.radians(neck + sign * (90.0 + head_deg * 0.35))
    tip_x, tip_y = x + radius * end_x + head * math.cos(lean), y - radius * end_y - head * math.sin(lean)
    low, high = radius - wide, radius + wide
    return (
        f"M{n(x + inner * begin_x)} {n(y - inner * begin_y)}"
        f"A{n(inner)} {n(inner)} 0 {large} {flag} {n(x + inner * end_x)} {n(y - inner * end_y)}"
        f"L{n(x + low * end_x)} {n(y - low * end_y)}L{n(tip_x)} {n(tip_y)}"
        f"L{n(x + high * end_x)} {n(y - high * end_y)}L{n(x + outer * end_x)} {n(y - outer * end_y)}"
        f"A{n(outer)} {n(outer)} 0 {large} {1 - flag} {n(x + outer * begin_x)} {n(y - outer * begin_y)}Z"
    )


def turning(
    centre: Point, counterclockwise: bool, kind: Kind, record_id: str, of: str, pen: float, name: str = ""
) -> list[Record]:
    """The records of a couple: three quarters of a turn round a point, in the kind's pen."""
    radius = TURNING_RADIUS_PX * pen
    start, sweep = (-45.0, 270.0) if counterclockwise else (225.0, -270.0)
    if kind != "guess":
        half = _SHAFT_HALF[kind] * pen
        outline = turning_path(centre, radius, start, sweep, half, 15.0 * pen, _HEAD_HALF * pen)
        return [Record(record_id, "path", f"arrow-{kind}", "force", (("d", outline),), (), of, "always", name)]
    end = start + sweep
    x, y = on_circle(centre, radius, end)
    first = on_circle(centre, radius, start)
    flag = 0 if counterclockwise else 1
    arc = f"M{number(first[0])} {number(first[1])}A{number(radius)} {number(radius)} 0 1 {flag} {number(x)} {number(y)}"
    heading = end + (90.0 if counterclockwise else -90.0)
    barbs = [
        (
            x - 13.0 * pen * math.cos(math.radians(heading + turn)),
            y + 13.0 * pen * math.sin(math.radians(heading + turn)),
        )
        for turn in (-28.0, 28.0)
    ]
    head = (
        f"M{number(barbs[0][0])} {number(barbs[0][1])}L{number(x)} {number(y)}"
        f"L{number(barbs[1][0])} {number(barbs[1][1])}"
    )
    return [
        Record(record_id, "path", "guess-shaft", "force", (("d", arc),), (), of, "always", name),
        Record(f"{record_id}.head", "path", "guess-head", "force", (("d", head),), (), of),
    ]


def dot(at: Point, record_id: str, of: str, radius: float, role: str = "tail", layer: Layer = "force") -> Record:
    """A dot: a point of application, a named point, a pin's hole."""
    attrs = (("cx", number(at[0])), ("cy", number(at[1])), ("r", number(radius)))
    return Record(record_id, "circle", role, layer, attrs, (), of)
