"""Is a body's shape sound, and does a place lie on it?"""

from __future__ import annotations

from ..errors import SteelyardError
from ..geometry import (
    Point,
    add,
    cross,
    distance,
    inside_polygon,
    length,
    nearest_on_segment,
    polygon_area_and_centroid,
    rotate,
    subtract,
)
from ..model import Body

# Below a micrometre a length is a slip of the hand; it also keeps every direction well defined.
LEAST_LENGTH_M = 1e-6
# Of the body's extent: far above the rounding of typed coordinates, far below anything seen or measured.
ON_BODY = 1e-6
# Two bodies meet at a joint to within this of the size of the second one: points typed to four figures do.
MEETING = 1e-3


def _fail(code: str, where: str, problem: str, hint: str) -> None:
    raise SteelyardError(f"document.{code}", where, f"`{where}` {problem}", hint)


def check_body(body: Body, where: str) -> None:
    """Raise `SteelyardError` for a zero length, a degenerate or self-crossing outline, or parts of another kind."""
    if body.kind == "bar":
        if body.length_m < LEAST_LENGTH_M:
            problem = f"must be longer than 1 µm: got {body.length_m:g}."
            _fail("zero-length", f"{where}.length_m", problem, "Give the bar a length.")
        if body.points_m:
            _fail("inconsistent", f"{where}.points_m", "is only for a bent bar or plate.", "Leave it out.")
    elif body.length_m != 0.0:
        _fail("inconsistent", f"{where}.length_m", "is only for a bar.", "Leave it out.")
    if body.holes_m and body.kind != "plate":
        _fail("inconsistent", f"{where}.holes_m", "is only for a plate.", "Leave it out.")
    if body.round_holes and body.kind not in ("plate", "disc"):
        _fail("inconsistent", f"{where}.round_holes", "is only for a plate or disc.", "Leave it out.")
    if body.kind == "disc":
        _check_disc(body, where)
    elif body.radius_m != 0.0:
        _fail("inconsistent", f"{where}.radius_m", "is only for a disc.", "Leave it out.")
    if body.kind == "bent-bar":
        _check_polyline(body.points_m, f"{where}.points_m")
    if body.kind == "plate":
        check_outline(body.points_m, f"{where}.points_m")
        for index in range(len(body.holes_m)):
            _check_hole(body, index, f"{where}.holes_m[{index}]")
    for index in range(len(body.round_holes)):
        _check_round_hole(body, index, f"{where}.round_holes[{index}]")
    if body.pieces:
        _check_pieces(body, where)
    given = (body.mass_kg is not None) + (body.weight_n is not None) + body.weight_symbol_only
    if given > 1:
        key = "weight_symbol_only" if body.weight_symbol_only else "weight_n"
        _fail("inconsistent", f"{where}.{key}", "cannot stand beside another weight or mass.", "Keep one of them.")


def check_piece(body: Body, start: Point, end: Point, where: str) -> None:
    """Raise `SteelyardError` unless two places (body frame) lie apart on one straight piece of the axis or edge."""
    if distance(start, end) < LEAST_LENGTH_M:
        _fail("zero-length", where, "must differ from where it begins.", "Move it along the body.")
    if body.kind == "disc":
        _fail("off-body", where, "needs a straight piece: a disc has none.", "Put single forces on the disc instead.")
    if not on_one_piece(body, start, end):
        problem = f"must lie on the same straight piece of the {body.kind.replace('-', ' ')} as its start."
        _fail("off-body", where, problem, "Move it onto that piece; draw another load on the next one.")


def on_one_piece(body: Body, start: Point, end: Point) -> bool:
    """Whether two places lie on one straight piece of the axis of a bar or bent bar, or of the edge of a plate."""
    corners = ((0.0, 0.0), (body.length_m, 0.0)) if body.kind == "bar" else body.points_m
    slack = ON_BODY * _extent(corners)
    return any(
        all(distance(place, nearest_on_segment(place, first, last)[0]) <= slack for place in (start, end))
        for first, last in _edges(corners, body.kind == "plate")
    )


def check_place(body: Body, place: Point, where: str) -> None:
    """Raise `SteelyardError` unless the place (body frame) is on the bar's axis, or inside or on the plate or disc."""
    if not on_body(body, place):
        if body.kind == "bar":
            wanted = f"must be on the bar, [0 to {body.length_m:g}, 0]"
        else:
            wanted = f"must be on the {body.kind.replace('-', ' ')}"
        _fail("off-body", where, f"{wanted}: got [{place[0]:g}, {place[1]:g}].", "Move it onto the body.")


def on_body(body: Body, place: Point, within_m: float = 0.0) -> bool:
    """Whether a place in the body's frame lies on it, to within `ON_BODY` of its extent or `within_m`."""
    if body.kind == "bar":
        slack = max(within_m, ON_BODY * body.length_m)
        return -slack <= place[0] <= body.length_m + slack and abs(place[1]) <= slack
    if body.kind == "disc":
        slack = max(within_m, ON_BODY * body.radius_m)
        return length(place) <= body.radius_m + slack and not _in_round_hole(body, place, slack)
    slack = max(within_m, ON_BODY * _extent(body.points_m))
    if body.kind == "bent-bar":
        return _distance_to_edges(place, body.points_m, closed=False) <= slack
    if _distance_to_edges(place, body.points_m, closed=True) <= slack:
        return True
    if not inside_polygon(place, body.points_m) or _in_round_hole(body, place, slack):
        return False
    return all(
        not inside_polygon(place, hole) or _distance_to_edges(place, hole, closed=True) <= slack
        for hole in body.holes_m
    )


def meets(body: Body, place: Point, other: Body, thick_m: float) -> bool:
    """Whether a place on a body (its frame) is on another body too, to within `MEETING` of that one's extent.

    `thick_m` is how far off it may be besides: surfaces are half a drawn thickness off the axis of a bar.
    """
    x, y = add(body.origin_m, rotate(place, body.angle_deg))
    there = rotate(subtract((x, y), other.origin_m), -other.angle_deg)
    size = _extent(other.points_m) if other.points_m else max(other.length_m, 2.0 * other.radius_m)
    return on_body(other, there, MEETING * size + thick_m)


def _in_round_hole(body: Body, place: Point, slack: float) -> bool:
    return any(distance(place, hole.centre_m) < hole.radius_m - slack for hole in body.round_holes)


def _extent(corners: tuple[Point, ...]) -> float:
    across = [corner[0] for corner in corners]
    up = [corner[1] for corner in corners]
    return max(max(across) - min(across), max(up) - min(up))


def _edges(corners: tuple[Point, ...], closed: bool) -> list[tuple[Point, Point]]:
    ends = corners[1:] + corners[:1] if closed else corners[1:]
    return list(zip(corners, ends, strict=False))


def _distance_to_edges(place: Point, corners: tuple[Point, ...], closed: bool) -> float:
    return min(distance(place, nearest_on_segment(place, start, end)[0]) for start, end in _edges(corners, closed))


def _check_polyline(corners: tuple[Point, ...], where: str) -> None:
    if len(corners) < 2:
        _fail("too-few", where, f"must have two points or more: got {len(corners)}.", "Add the other end.")
    for index in range(1, len(corners)):
        if distance(corners[index - 1], corners[index]) < LEAST_LENGTH_M:
            _fail("zero-length", f"{where}[{index}]", "must differ from the point before it.", "Leave one of them out.")


def check_outline(corners: tuple[Point, ...], where: str) -> None:
    """Raise `SteelyardError` unless the polygon has an area and its edges meet at corners only."""
    if len(corners) < 3:
        _fail("too-few", where, f"must have three corners or more: got {len(corners)}.", "Add a corner.")
    edges = _edges(corners, closed=True)
    for index, (start, end) in enumerate(edges):
        if distance(start, end) < LEAST_LENGTH_M:
            after = (index + 1) % len(corners)
            _fail("zero-length", f"{where}[{after}]", "must differ from the corner before it.", "Leave it out.")
    for first in range(len(edges)):
        for second in range(first + 1, len(edges)):
            if _edges_clash(edges, first, second):
                named = f"its edges {first + 1} and {second + 1} meet"
                _fail("self-crossing", where, f"must not cross itself: {named}.", "Move a corner.")
    area, _ = polygon_area_and_centroid(corners)
    if abs(area) < 1e-9 * _extent(corners) ** 2:
        _fail("no-area", where, "must enclose an area: its corners lie on one line.", "Move a corner.")


def _edges_clash(edges: list[tuple[Point, Point]], first: int, second: int) -> bool:
    """Whether two edges share more than the corner at which neighbours join."""
    (start, end), (other_start, other_end) = edges[first], edges[second]
    if second == first + 1:
        return _folds_back(start, end, other_end)
    if first == 0 and second == len(edges) - 1:
        return _folds_back(other_start, other_end, end)
    return _segments_meet(start, end, other_start, other_end)


def _folds_back(before: Point, corner: Point, after: Point) -> bool:
    inward, outward = subtract(before, corner), subtract(after, corner)
    aligned = inward[0] * outward[0] + inward[1] * outward[1] > 0.0
    return aligned and abs(cross(inward, outward)) <= 1e-12 * length(inward) * length(outward)


def _side(start: Point, end: Point, point: Point) -> float:
    turn = cross(subtract(end, start), subtract(point, start))
    # A turn lost in the rounding of the coordinates counts as touching.
    return 0.0 if abs(turn) <= 1e-12 * distance(start, end) * max(distance(start, point), 1e-300) else turn


def _segments_meet(start: Point, end: Point, other_start: Point, other_end: Point) -> bool:
    first, second = _side(start, end, other_start), _side(start, end, other_end)
    third, fourth = _side(other_start, other_end, start), _side(other_start, other_end, end)
    if (first > 0) != (second > 0) and (third > 0) != (fourth > 0) and 0.0 not in (first, second, third, fourth):
        return True
    touching = ((first, start, end, other_start), (second, start, end, other_end))
    touched = ((third, other_start, other_end, start), (fourth, other_start, other_end, end))
    return any(side == 0.0 and _between(one, two, point) for side, one, two, point in (*touching, *touched))


def _between(start: Point, end: Point, point: Point) -> bool:
    return min(start[0], end[0]) <= point[0] <= max(start[0], end[0]) and (
        min(start[1], end[1]) <= point[1] <= max(start[1], end[1])
    )


def _check_hole(body: Body, index: int, where: str) -> None:
    hole = body.holes_m[index]
    check_outline(hole, where)
    outside = [corner for corner in hole if not inside_polygon(corner, body.points_m)]
    if outside:
        _fail("hole", where, "must lie inside the plate.", "Move its corners inward.")
    others = [("the edge of the plate", body.points_m)]
    others += [(f"hole {other + 1}", body.holes_m[other]) for other in range(index)]
    for named, corners in others:
        for start, end in _edges(hole, closed=True):
            if any(_segments_meet(start, end, *edge) for edge in _edges(corners, closed=True)):
                _fail("hole", where, f"must not cross {named}.", "Move its corners.")
        if corners is not body.points_m and (inside_polygon(hole[0], corners) or inside_polygon(corners[0], hole)):
            _fail("hole", where, f"must not overlap {named}.", "Move its corners.")


def _check_disc(body: Body, where: str) -> None:
    if body.radius_m < LEAST_LENGTH_M:
        problem = f"must be longer than 1 µm: got {body.radius_m:g}."
        _fail("zero-length", f"{where}.radius_m", problem, "Give the disc a radius.")
    if body.points_m:
        _fail("inconsistent", f"{where}.points_m", "is only for a bent bar or plate.", "Leave it out.")


def _check_round_hole(body: Body, index: int, where: str) -> None:
    hole = body.round_holes[index]
    centre, radius = hole.centre_m, hole.radius_m
    if radius < LEAST_LENGTH_M:
        _fail("zero-length", f"{where}.radius_m", f"must be longer than 1 µm: got {radius:g}.", "Give it a radius.")
    if body.kind == "disc":
        inside = length(centre) + radius <= body.radius_m
    else:
        inside = inside_polygon(centre, body.points_m) and _distance_to_edges(centre, body.points_m, True) >= radius
    if not inside:
        _fail("hole", where, f"must lie inside the {body.kind}.", "Move it inward or make it smaller.")
    for other, ring in enumerate(body.holes_m):
        if inside_polygon(centre, ring) or _distance_to_edges(centre, ring, True) < radius:
            _fail("hole", where, f"must not overlap hole {other + 1}.", "Move it or make it smaller.")
    for other, before in enumerate(body.round_holes[:index]):
        if distance(centre, before.centre_m) < radius + before.radius_m:
            _fail("hole", where, f"must not overlap round hole {other + 1}.", "Move it or make it smaller.")


def _check_pieces(body: Body, where: str) -> None:
    for key, given in (
        ("weight_n", body.weight_n is not None),
        ("weight_symbol_only", body.weight_symbol_only),
        ("centre_m", body.centre_m is not None),
    ):
        if given:
            hint = "Give the shape a mass, or take the pieces off."
            _fail("inconsistent", f"{where}.{key}", "cannot stand beside pieces, which have masses.", hint)
    for index, piece in enumerate(body.pieces):
        at = f"{where}.pieces[{index}]"
        if piece.radius_m > 0.0 and (piece.width_m > 0.0 or piece.height_m > 0.0):
            _fail("inconsistent", f"{at}.radius_m", "cannot stand beside sides.", "Keep the radius or the sides.")
        if piece.height_m > 0.0 and piece.width_m == 0.0:
            _fail("inconsistent", f"{at}.height_m", "needs a width beside it.", "Give it as the width, turned.")
