"""Bodies on the sheet: outlines of bars, bent bars, plates and discs, the centre of mass, named points and things."""

from __future__ import annotations

import math
from itertools import pairwise

from ..geometry import Point
from ..model import AddedPiece, Body, RoundHole, Sketch, Thing
from ..statics import meeting, shape
from .arrows import dot
from .frame import Frame
from .record import Record
from .text import number

# A bar stays visible and can be hit however far one zooms out.
THINNEST_PX = 8.0
# How far a bar runs on past a pin at its end, as a part of its thickness: the hole needs material round it.
PIN_COVER = 0.46
# Corners of the polygon that stands for a circle where only its edge matters: off by 0.1 px at a radius of 100 px.
_ROUND = tuple((math.cos(math.tau * step / 72), math.sin(math.tau * step / 72)) for step in range(72))


def half_thickness_px(body: Body, frame: Frame) -> float:
    """Half the drawn thickness of a bar in px; 0 for a plate or disc, whose outline is its own."""
    if body.has_area:
        return 0.0
    return max(body.thickness_m * frame.px_per_m, THINNEST_PX * frame.pen) / 2.0


def ring_path(points: list[Point]) -> str:
    """A closed path through sheet points."""
    return "M" + "L".join(f"{number(x)} {number(y)}" for x, y in points) + "Z"


def axis_px(body: Body, frame: Frame) -> list[Point]:
    """The axis of a bar, or the corners of a plate, on the sheet; four points of the rim of a disc."""
    return [frame.to_sheet(place) for place in shape.axis(body)]


def _unit(start: Point, end: Point) -> Point:
    x, y = end[0] - start[0], end[1] - start[1]
    length = math.hypot(x, y)
    return (x / length, y / length) if length > 0.0 else (1.0, 0.0)


def band_corners(axis: list[Point], half: float, start_extra: float, end_extra: float) -> list[Point]:
    """The outline of a band of 2·half along a polyline, mitred at its corners, ends run on by the extras."""
    first, last = _unit(axis[0], axis[1]), _unit(axis[-2], axis[-1])
    line = list(axis)
    line[0] = (axis[0][0] - first[0] * start_extra, axis[0][1] - first[1] * start_extra)
    line[-1] = (axis[-1][0] + last[0] * end_extra, axis[-1][1] + last[1] * end_extra)
    left: list[Point] = []
    right: list[Point] = []
    for index, (x, y) in enumerate(line):
        before = _unit(line[index - 1], line[index]) if index > 0 else first
        after = _unit(line[index], line[index + 1]) if index < len(line) - 1 else last
        nx, ny = -(before[1] + after[1]), before[0] + after[0]
        # 1 + cos of the turn; a hairpin would send the mitre to infinity, so it is cut at four half widths.
        bend = 1.0 + before[0] * after[0] + before[1] * after[1]
        reach = half / max(bend, 0.25)
        left.append((x + nx * reach, y + ny * reach))
        right.append((x - nx * reach, y - ny * reach))
    return left + right[::-1]


def outline_px(body: Body, frame: Frame, sketch: Sketch) -> list[Point]:
    """The drawn outline of a body (its outer ring) on the sheet; that of a disc as a polygon as good as round."""
    if body.kind == "disc":
        return circle_px(body, shape.rim_of(body), frame)
    axis = axis_px(body, frame)
    if body.kind == "plate":
        return axis
    half = half_thickness_px(body, frame)
    cover = [0.0, 0.0]
    for support in sketch.supports:
        if body.id in (support.body, support.other) and support.kind in ("pin", "strut", "rope"):
            at = frame.to_sheet(meeting.place_on(sketch, support, body.id))
            for end, place in enumerate((axis[0], axis[-1])):
                if math.hypot(at[0] - place[0], at[1] - place[1]) < half:
                    cover[end] = 2.0 * half * PIN_COVER
    return band_corners(axis, half, cover[0], cover[1])


def circle_px(body: Body, circle: RoundHole, frame: Frame) -> list[Point]:
    """A circle of a body on the sheet, as a polygon."""
    x, y = frame.to_sheet(shape.world(body, circle.centre_m))
    reach = circle.radius_m * frame.px_per_m
    return [(x + reach * cosine, y + reach * sine) for cosine, sine in _ROUND]


def holes_px(body: Body, frame: Frame) -> list[list[Point]]:
    """The edges of a body's holes on the sheet, round ones as polygons."""
    rings = [[frame.to_sheet(shape.world(body, place)) for place in hole] for hole in body.holes_m]
    return [*rings, *(circle_px(body, hole, frame) for hole in body.round_holes)]


def outer_path(body: Body, outline: list[Point], frame: Frame) -> str:
    """The path of the outer edge: a true circle for a disc."""
    return _circle_path(body, shape.rim_of(body), frame) if body.kind == "disc" else ring_path(outline)


def whole_path(body: Body, outline: list[Point], frame: Frame) -> str:
    """The path of a body with its holes, which are cut by the even-odd rule."""
    path = outer_path(body, outline, frame)
    for hole in body.holes_m:
        path += ring_path([frame.to_sheet(shape.world(body, place)) for place in hole])
    return path + "".join(_circle_path(body, hole, frame) for hole in body.round_holes)


def _circle_path(body: Body, circle: RoundHole, frame: Frame) -> str:
    x, y = frame.to_sheet(shape.world(body, circle.centre_m))
    reach = circle.radius_m * frame.px_per_m
    r, across = number(reach), number(2.0 * reach)
    return f"M{number(x - reach)} {number(y)}a{r} {r} 0 1 0 {across} 0a{r} {r} 0 1 0 {number(-2.0 * reach)} 0Z"


def piece_path(body: Body, piece: AddedPiece, frame: Frame) -> str:
    """The path of a piece fixed to a body; bars and points as thick as can be seen."""
    thin = THINNEST_PX * frame.pen / 2.0
    corners = [frame.to_sheet(shape.world(body, place)) for place in shape.piece_outline(piece)]
    if len(corners) == 4:
        return ring_path(corners)
    if len(corners) == 2:
        return ring_path(band_corners(corners, thin, 0.0, 0.0))
    radius = piece.radius_m or thin / frame.px_per_m
    return _circle_path(body, RoundHole(piece.centre_m, radius), frame)


def piece_records(body: Body, frame: Frame, *, isolated: bool) -> list[Record]:
    """The pieces fixed to a body."""
    role = "body" if isolated else "body-other"
    return [
        Record(f"{body.id}.piece-{index}", "path", role, "body", (("d", piece_path(body, piece, frame)),), (), body.id)
        for index, piece in enumerate(body.pieces)
    ]


def piece_area(body: Body, piece: AddedPiece, frame: Frame) -> list[Point]:
    """Where a piece can be taken hold of, as a polygon on the sheet; never smaller than a fingertip."""
    corners = [frame.to_sheet(shape.world(body, place)) for place in shape.piece_outline(piece)]
    if len(corners) == 4:
        return corners
    if len(corners) == 2:
        return band_corners(corners, 12.0 * frame.pen, 0.0, 0.0)
    return circle_px(body, RoundHole(piece.centre_m, max(piece.radius_m, 12.0 * frame.pen / frame.px_per_m)), frame)


def disc_centre(body: Body, frame: Frame) -> Record:
    """The centre mark of a disc: a fine cross, as compasses leave it."""
    x, y = frame.to_sheet(body.origin_m)
    arm = 7.0 * frame.pen
    path = f"M{number(x - arm)} {number(y)}h{number(2.0 * arm)}M{number(x)} {number(y - arm)}v{number(2.0 * arm)}"
    return Record(f"{body.id}.middle", "path", "body-middle", "body", (("d", path),), (), body.id)


def body_record(body: Body, outline: list[Point], frame: Frame, name: str, *, isolated: bool) -> Record:
    """The body itself, with its holes."""
    path = whole_path(body, outline, frame)
    role = "body" if isolated else "body-other"
    return Record(body.id, "path", role, "body", (("d", path),), (), body.id, "always", name)


def mass_centre(body: Body, frame: Frame) -> list[Record]:
    """The quartered disc at the centre of mass."""
    x, y = frame.to_sheet(shape.centre_of_mass(body))
    radius = 7.0 * frame.pen
    r, left, right, top, low = (number(each) for each in (radius, x - radius, x + radius, y - radius, y + radius))
    px, py = number(x), number(y)
    quarters = f"M{px} {top}A{r} {r} 0 0 1 {right} {py}H{px}ZM{px} {low}A{r} {r} 0 0 1 {left} {py}H{px}Z"
    disc = (("cx", px), ("cy", py), ("r", r))
    return [
        Record(f"{body.id}.centre", "circle", "mass-centre", "body", disc, (), body.id),
        Record(f"{body.id}.centre-quarters", "path", "mass-centre-quarter", "body", (("d", quarters),), (), body.id),
    ]


def point_dot(point_id: str, at: Point, frame: Frame) -> Record:
    """A named point."""
    return dot(at, point_id, point_id, 3.2 * frame.pen, "point-dot", "body")


def thing(load: Thing, body: Body, frame: Frame, name: str) -> tuple[Record, list[Point]]:
    """A thing standing on the body, drawn as a balance weight; with its box for labels to keep clear of."""
    x, y = frame.to_sheet(shape.world(body, load.place_m))
    unit = frame.pen
    # Standing on the upper face: straight up from the axis through half the thickness of a tilted bar.
    foot = y - _rise(body, (x, y), frame)
    w, h, k = 11.0 * unit, 21.0 * unit, 3.4 * unit
    n = number
    knob = f"A{n(k)} {n(k)} 0 1 1 {n(x + 0.6 * k)} {n(foot - h)}"
    path = (
        f"M{n(x - w)} {n(foot)}L{n(x - w * 0.72)} {n(foot - h)}H{n(x - 0.6 * k)}{knob}"
        f"H{n(x + w * 0.72)}L{n(x + w)} {n(foot)}Z"
    )
    box = [(x - w, foot - h - 2 * k), (x + w, foot - h - 2 * k), (x + w, foot), (x - w, foot)]
    return Record(load.id, "path", "thing", "body", (("d", path),), (), load.id, "always", name), box


def _rise(body: Body, at: Point, frame: Frame) -> float:
    half = half_thickness_px(body, frame)
    if half == 0.0:
        return 0.0
    axis = axis_px(body, frame)
    nearest = min(
        pairwise(axis),
        key=lambda ends: math.hypot(at[0] - (ends[0][0] + ends[1][0]) / 2, at[1] - (ends[0][1] + ends[1][1]) / 2),
    )
    along = _unit(*nearest)
    return half / max(abs(along[0]), 0.35)
