"""Where a tool puts its thing when nobody points: for the keyboard, and for a button pressed twice."""

from __future__ import annotations

from ..errors import SteelyardError
from ..geometry import Point, distance
from ..model import Body, Sketch
from ..statics import shape, spread
from ..units import factor_of
from . import circles
from .change import Change, acts_for, entities, tidy_point, world_place
from .context import Context, crossing_spots
from .placing import BODY_TOOLS, Placing, body_under, middle
from .shaping import place_on
from .snapping import round_to, step_at_least

Points = tuple[Point, Point]


def place(
    sketch: Sketch, tool: str, view_centre: Point, view_width_m: float, context: Context, selected: str | None = None
) -> Change:
    """The sketch with a new thing where it usually goes; raises `SteelyardError` when it needs a body first."""
    exact = Context(context.newtons_per_m, 0.0, 1e-6, context.step_m)
    if tool == "hole":
        return _hole(sketch, view_centre, exact, selected)
    start, end = _points(sketch, tool, view_centre, view_width_m, selected)
    return Placing(sketch, tool, start, exact).at(end, exact)


def _points(sketch: Sketch, tool: str, centre: Point, width_m: float, selected: str | None) -> Points:
    if tool in BODY_TOOLS:
        return _body_points(sketch, tool, centre, width_m)
    if tool == "pivot":
        return _pivot_points(sketch, centre, width_m)
    body = _chosen(sketch, selected) or body_under(sketch, centre, Context(release_m=1e9))
    near, far = _free_ends(sketch, body)
    if tool in ("pin", "fixed", "contact"):
        return near, near
    if tool == "face":
        return _lowest_piece(body) if body.kind != "disc" else (middle(body), middle(body))
    if tool == "roller":
        return far, far
    low, high = shape.extent(body)
    reach = max(high[0] - low[0], high[1] - low[1])
    if tool in ("rope", "strut"):
        inward = -1.0 if far[0] >= near[0] else 1.0
        step = step_at_least(reach / 50.0)
        up = 0.6 * reach if tool == "rope" else -0.4 * reach
        anchor = (round_to(far[0] + inward * 0.6 * reach, step), round_to(far[1] + up, step))
        return far, anchor
    point = _free_place(sketch, body)
    return point, point


def _hole(sketch: Sketch, centre: Point, context: Context, selected: str | None) -> Change:
    """A round hole in the chosen plate or disc, in its middle or where there is room for one."""
    body = _chosen(sketch, selected) or body_under(sketch, centre, Context(release_m=1e9))
    if not body.has_area:
        body = next((each for each in sketch.bodies if each.has_area), body)
    x, y = middle(body)
    taken = [world_place(sketch, one) for one in (*sketch.supports, *sketch.loads) if one.body == body.id]
    tries = [(x, y), *(((x + corner[0]) / 2.0, (y + corner[1]) / 2.0) for corner in shape.axis(body))]
    free = [at for at in tries if all(distance(at, one) > circles.usual_hole_m(body) for one in taken)]
    problem: SteelyardError | None = None
    for at in free or tries:
        try:
            return Placing(sketch, "hole", tidy_point(at), context).at(tidy_point(at), context)
        except SteelyardError as found:
            problem = found
    assert problem is not None
    raise problem


def _body_points(sketch: Sketch, tool: str, centre: Point, width_m: float) -> Points:
    factor = factor_of("length", sketch.settings)
    step = step_at_least(max(width_m, 1e-5) / factor / 10.0)
    length = round_to(0.6 * width_m, step, factor) or step * factor
    start = (0.0, 0.0)
    if sketch.bodies:
        start = (round_to(centre[0] - length / 2.0, step, factor), round_to(centre[1], step, factor))
        while any(distance(start, body.origin_m) < 1e-9 for body in sketch.bodies):
            start = tidy_point((start[0], start[1] + step * factor))
    if tool == "disc":
        radius = round_to(length / 3.0, step, factor) or step * factor
        return start, tidy_point((start[0] + radius, start[1]))
    height = 0.0 if tool == "bar" else round_to(0.5 * length, step, factor) or step * factor
    return start, tidy_point((start[0] + length, start[1] + height))


def _pivot_points(sketch: Sketch, centre: Point, width_m: float) -> Points:
    """A crossing of lines away from the supports where there is one in sight, else the middle of the view."""
    held = [world_place(sketch, support) for support in sketch.supports]
    for spot in crossing_spots(sketch):
        if distance(spot.point, centre) <= width_m / 2.0 and all(distance(spot.point, one) > 1e-6 for one in held):
            return spot.point, spot.point
    return centre, tidy_point(centre)


def _chosen(sketch: Sketch, selected: str | None) -> Body | None:
    for entity in entities(sketch):
        if selected is not None and acts_for(entity, selected):
            if isinstance(entity, Body):
                return entity
            return sketch.body(entity.body) if entity.body is not None else None
    return sketch.bodies[0] if sketch.bodies else None


def _lowest_piece(body: Body) -> Points:
    """The ends of the straight piece of a body whose middle is lowest: what it would stand on."""
    pieces = [(shape.world(body, first), shape.world(body, last)) for first, last in spread.pieces(body)]
    return min(pieces, key=lambda piece: piece[0][1] + piece[1][1])


def _free_ends(sketch: Sketch, body: Body) -> Points:
    """The ends of a bar without a support first, the lowest corners of a plate from left to right, a disc's foot."""
    if body.kind == "disc":
        ends = [tidy_point((body.origin_m[0], body.origin_m[1] - body.radius_m))]
    elif body.kind == "plate":
        ends = sorted(sorted(shape.axis(body), key=lambda one: (one[1], one[0]))[:2])
    else:
        ends = list(shape.ends(body))
    held = [world_place(sketch, support) for support in sketch.supports if support.body == body.id]
    free = [end for end in ends if all(distance(end, one) > 1e-6 for one in held)]
    if not free:
        free = [_free_place(sketch, body)]
    return free[0], free[-1]


def _free_place(sketch: Sketch, body: Body) -> Point:
    """A place on the body where nothing is yet: its middle, or some way from it."""
    taken = [world_place(sketch, one) for one in (*sketch.supports, *sketch.loads) if one.body == body.id]
    start, end = shape.ends(body)
    tries = [middle(body)]
    if body.has_area:
        x, y = tries[0]
        tries += [((x + corner[0]) / 2.0, (y + corner[1]) / 2.0) for corner in shape.axis(body)]
    for part in (0.75, 0.25, 0.6, 0.4, 0.9, 0.1):
        along = (start[0] + part * (end[0] - start[0]), start[1] + part * (end[1] - start[1]))
        tries.append(shape.world(body, place_on(body, along)))
    return next((one for one in tries if all(distance(one, other) > 1e-6 for other in taken)), tries[0])
