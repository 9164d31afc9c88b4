"""How each grip moves its thing: pure functions from a sketch and a point of the paper to a sketch."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

from ..geometry import Point, add, cross, direction, distance, dot, length, line_crossing, scale, subtract
from ..model import Body, Couple, Force, Guess, Pivot, Sketch, Support
from ..statics import shape
from ..units import factor_of, write_exact
from . import facing
from .change import Attached, angle_between, arrow_place, fail, line_of, put, tidy, tidy_point, world_place
from .context import Context, candidates, snap_place
from .shaping import at_place, bar_between, moved, place_on, reshaped, under, with_corner
from .snapping import Candidates, Snapped, compass, round_to, snap, step_at_least
from .unknowns import part_of, with_guess

# Below this the hand is on the point itself and shows no direction.
_NO_DIRECTION_M = 1e-9
# So near the direction to its centre, a contact counts as square to the rim of a disc.
_INWARD_DEG = 1e-6

Moved = tuple[Sketch, Snapped]


def move_body(sketch: Sketch, body: Body, point: Point, context: Context, previous: Snapped | None) -> Moved:
    """The whole body, held by its origin."""
    found = candidates(sketch, context, leave_out=body.id)
    caught = snap(point, found, context.catch_m, context.release_m, previous)
    return moved(sketch, body, subtract(caught.point, body.origin_m)), caught


def move_end(
    sketch: Sketch, body: Body, at_start: bool, point: Point, context: Context, previous: Snapped | None
) -> Moved:
    """One end of a bar; the other stays."""
    start, end = shape.ends(body)
    fixed = tidy_point(end if at_start else start)
    found = candidates(sketch, context, leave_out=body.id, origin=fixed, lines=compass())
    caught = snap(point, found, context.catch_m, context.release_m, previous)
    free = tidy_point(caught.point)
    if at_start:
        angle = None if caught.angle_deg is None else caught.angle_deg + 180.0
        changed = bar_between(body, free, fixed, angle_deg=angle, length_m=caught.length_m)
    else:
        changed = bar_between(body, body.origin_m, free, angle_deg=caught.angle_deg, length_m=caught.length_m)
    return reshaped(sketch, changed), caught


def move_corner(
    sketch: Sketch, body: Body, index: int, point: Point, context: Context, previous: Snapped | None
) -> Moved:
    """One corner of a bent bar or plate."""
    corners = body.points_m
    before = corners[index - 1] if index > 0 or body.kind == "plate" else corners[1]
    origin = shape.world(body, before)
    found = candidates(sketch, context, leave_out=body.id, origin=origin, lines=compass())
    caught = snap(point, found, context.catch_m, context.release_m, previous)
    return with_corner(sketch, body, index, tidy_point(shape.local(body, caught.point))), caught


def move_centre(sketch: Sketch, body: Body, point: Point, context: Context, previous: Snapped | None) -> Moved:
    """The centre of mass, which is then set by hand: on the body's axis or within its area."""
    place, caught = snap_place(sketch, body, place_on(body, point), context, previous, leave_out=body.id)
    return put(sketch, replace(body, centre_m=place)), caught


def move_place(sketch: Sketch, entity: Attached, point: Point, context: Context, previous: Snapped | None) -> Moved:
    """Where something is on its body; a named point of the paper moves freely."""
    if isinstance(entity, Support) and entity.face_m is not None:
        # A face is shifted by its start, caught along the piece it lies on and nowhere else.
        body = sketch.body(entity.body)
        place, caught = facing.on_piece(
            sketch, body, facing.piece_of(entity, body), point, context, previous, entity.id
        )
        return put(sketch, at_place(sketch, entity, place)), caught
    if entity.body is None:
        found = candidates(sketch, context, leave_out=entity.id)
        caught = snap(point, found, context.catch_m, context.release_m, previous)
        return put(sketch, replace(entity, place_m=tidy_point(caught.point))), caught
    body = sketch.body(entity.body)
    place, caught = snap_place(sketch, body, place_on(body, point), context, previous, entity.id)
    return put(sketch, _turned_round(at_place(sketch, entity, place), entity, body)), caught


def _turned_round(moved_entity: Attached, before: Attached, body: Body) -> Attached:
    """A contact that pushes towards the centre of a disc goes on doing so wherever on the rim it is."""
    if not isinstance(moved_entity, Support) or moved_entity.kind != "contact":
        return moved_entity
    old, new = (shape.inward_deg(body, each.place_m) for each in (before, moved_entity))
    if old is None or new is None or abs(math.remainder(moved_entity.normal_deg - old, 360.0)) > _INWARD_DEG:
        return moved_entity
    return replace(moved_entity, normal_deg=tidy(new % 360.0))


def move_anchor(sketch: Sketch, support: Support, point: Point, context: Context, previous: Snapped | None) -> Moved:
    """The far end of a rope or strut: on another body it is joined to that one, elsewhere to the ground."""
    origin = world_place(sketch, support)
    lines = compass(sketch.body(support.body).angle_deg, sketch.body(support.body).name)
    found = candidates(sketch, context, leave_out=support.id, origin=origin, lines=lines)
    caught = snap(point, found, context.catch_m, context.release_m, previous)
    far = tidy_point(caught.point)
    joined = under(sketch, far, context.catch_m + _NO_DIRECTION_M, support.body)
    if joined is not None:
        place, caught = snap_place(sketch, joined, place_on(joined, far), context, previous, support.id)
        far = shape.world(joined, place)
        if caught.kind != "point":
            caught = replace(caught, label=f"on {joined.name}", kind="point", target=joined.id)
    if distance(far, origin) < _NO_DIRECTION_M:
        fail("anchor", support.id, "A rope needs a length: its two ends are at one point.", "Move the anchor away.")
    if joined is None:
        return put(sketch, replace(support, anchor_m=far, other=None, over_m=None)), caught
    return put(sketch, replace(support, anchor_m=place, other=joined.id)), caught


def move_pulley(sketch: Sketch, support: Support, point: Point, context: Context, previous: Snapped | None) -> Moved:
    """The fixed pulley that a rope runs over."""
    found = candidates(sketch, context, leave_out=support.id)
    caught = snap(point, found, context.catch_m, context.release_m, previous)
    return put(sketch, replace(support, over_m=tidy_point(caught.point))), caught


def turn_line(sketch: Sketch, support: Support, point: Point, context: Context, previous: Snapped | None) -> Moved:
    """The known line of a support's force turned about its place; a rope's anchor goes round the attachment."""
    origin = arrow_place(sketch, support)
    angle, caught = _pointed(sketch, origin, point, context, previous, support.body)
    if support.face_m is not None:  # square to its face, on the side where the hand is
        turned = facing.towards(support, sketch.body(support.body), angle)
        return put(sketch, turned), Snapped(point, "free", angle_deg=line_of(sketch, turned))
    if support.kind in ("roller", "contact"):
        return put(sketch, replace(support, normal_deg=angle)), caught
    assert support.anchor_m is not None
    anchor = add(origin, scale(direction(angle), distance(origin, support.anchor_m)))
    return put(sketch, replace(support, anchor_m=tidy_point(anchor))), caught


def _pointed(
    sketch: Sketch, origin: Point, point: Point, context: Context, previous: Snapped | None, body_id: str
) -> tuple[float, Snapped]:
    """The direction in which the hand is seen from a point: one worth catching, else whole degrees."""
    if distance(origin, point) < _NO_DIRECTION_M:
        fail("direction", body_id, "The hand is on the point itself and shows no direction.", "Move it away.")
    body = sketch.body(body_id)
    lines = Candidates(origin=origin, lines=compass(body.angle_deg, body.name))
    caught = snap(point, lines, context.catch_m, context.release_m, previous)
    if caught.angle_deg is not None:
        return caught.angle_deg, caught
    angle = angle_between(origin, point)
    if context.catch_m > 0.0:
        angle = float(round(angle)) % 360.0
        return angle, Snapped(point, "round", f"{angle:g}°", angle_deg=angle)
    return angle, Snapped(point, "free", angle_deg=angle)


def arrow_between(
    sketch: Sketch, origin: Point, tip: Point, context: Context, previous: Snapped | None, body_id: str
) -> tuple[float, float, Snapped]:
    """Size in newtons and direction of an arrow from its point to its tip, both at round values when snapping."""
    size = distance(origin, tip) * context.newtons_per_m
    angle, caught = _pointed(sketch, origin, tip, context, previous, body_id)
    if caught.kind == "direction":
        size = max(0.0, dot(subtract(tip, origin), direction(angle))) * context.newtons_per_m
    return round_size(sketch, size, context), angle, caught


def round_size(sketch: Sketch, size_n: float, context: Context) -> float:
    """A size in newtons at a step worth about one round step on the paper; tidied only, without snapping."""
    if context.catch_m <= 0.0 or context.step_m <= 0.0:
        return tidy(size_n)
    factor = factor_of("force", sketch.settings)
    return round_to(size_n, step_at_least(context.newtons_per_m * context.step_m / factor), factor)


def move_head(sketch: Sketch, force: Force, tip: Point, context: Context, previous: Snapped | None) -> Moved:
    """The head of a known force: its size and direction; a letter has no size to change."""
    origin = world_place(sketch, force)
    if force.head_at_point:
        tip = subtract(scale(origin, 2.0), tip)
    size, angle, caught = arrow_between(sketch, origin, tip, context, previous, force.body)
    return put(sketch, replace(force, direction_deg=angle, size_n=None if force.size_n is None else size)), caught


def pull_guess(
    sketch: Sketch, entry: Support | Force, of: str, point: Point, context: Context, previous: Snapped | None
) -> Moved:
    """A guess pulled out of an unknown: on its line when that is known, else anywhere."""
    origin = arrow_place(sketch, entry)
    line = line_of(sketch, entry, of)
    if line is None:
        size, angle, caught = arrow_between(sketch, origin, point, context, previous, entry.body)
        return put(sketch, with_guess(entry, of, Guess(size_n=size, direction_deg=angle))), caught
    signed = dot(subtract(point, origin), direction(line)) * context.newtons_per_m
    if signed < 0.0 and part_of(entry, of) == "" and pushes_one_way(entry):
        signed = 0.0
    size = round_size(sketch, abs(signed), context)
    angle = line if signed >= 0.0 else (line + 180.0) % 360.0
    guess = Guess(size_n=size, direction_deg=angle)
    label = write_exact(size, "force", sketch.settings)
    return put(sketch, with_guess(entry, of, guess)), Snapped(point, "round", label, angle_deg=angle)


def pull_couple(sketch: Sketch, entry: Couple | Support, point: Point, context: Context) -> Moved:
    """A known couple, or the guess for an unknown one: to the left counterclockwise, to the right clockwise.

    A metre on the paper is worth as many newton metres as an arrow of a metre is newtons.
    """
    left = world_place(sketch, entry)[0] - point[0]
    size = round_size(sketch, abs(left) * context.newtons_per_m, context)
    caught = Snapped(point, "free")
    if isinstance(entry, Support):
        return put(sketch, replace(entry, couple_guess=Guess(couple_n_m=math.copysign(size, left)))), caught
    if entry.role == "known":
        turns = entry.counterclockwise if size == 0.0 else left > 0.0
        return put(sketch, replace(entry, couple_n_m=size, counterclockwise=turns)), caught
    return put(sketch, replace(entry, guess=Guess(couple_n_m=math.copysign(size, left)))), caught


def pushes_one_way(entry: Support | Force) -> bool:
    """Whether the force can act one way only: a rope pulls, a contact pushes."""
    if isinstance(entry, Force):
        return entry.one_way
    return entry.kind in ("rope", "contact") or (entry.kind == "roller" and not entry.two_way)


def slide(sketch: Sketch, force: Force, point: Point, context: Context) -> Moved:
    """A force along its line of action, which changes nothing it does.

    Its point stays on the body: within a plate, or where the line meets a bent bar again. On a bar there is
    one such point, so the arrow is drawn from it or up to it, on whichever side the hand is.
    """
    body = sketch.body(force.body)
    origin, along = world_place(sketch, force), direction(force.direction_deg)
    shift = dot(subtract(point, origin), along)
    wanted = add(origin, scale(along, shift))
    best = force.place_m
    for place in _on_line(body, origin, along, wanted):
        if distance(shape.world(body, place), wanted) < distance(shape.world(body, best), wanted):
            best = place
    changed = replace(force, place_m=best)
    if best == force.place_m and not body.has_area and abs(shift) > max(context.catch_m, _NO_DIRECTION_M):
        changed = replace(force, head_at_point=shift < 0.0)
    return put(sketch, changed), Snapped(shape.world(body, best), "free", "along its line")


def _on_line(body: Body, origin: Point, along: Point, wanted: Point) -> list[Point]:
    """Places on the body that lie on a line in the world: crossings of its edges, and the wanted point of a plate."""
    found: list[Point] = []
    corners = shape.axis(body)
    closed = (*corners, corners[0]) if body.kind == "plate" else corners
    if body.has_area:
        near = shape.nearest_place(body, wanted)
        if distance(shape.world(body, near), wanted) <= 1e-9 * max(1.0, length(wanted)):
            found.append(tidy_point(shape.local(body, wanted)))
    if body.kind == "disc":
        return [*found, *_on_circle(body, origin, along)]
    for start, end in pairwise(closed):
        edge = subtract(end, start)
        size = length(edge)
        if size == 0.0 or abs(cross(edge, along)) <= 1e-9 * size:
            continue
        crossing = line_crossing(origin, along, start, scale(edge, 1.0 / size))
        if crossing is not None and -1e-9 <= dot(subtract(crossing, start), edge) / (size * size) <= 1.0 + 1e-9:
            found.append(place_on(body, crossing))
    return found


def _on_circle(body: Body, origin: Point, along: Point) -> list[Point]:
    """Where a line in the world meets the rim of a disc (body frame)."""
    off = subtract(origin, body.origin_m)
    middle, beside = dot(off, along), cross(along, off)
    square = body.radius_m**2 - beside**2
    if square < 0.0:
        return []
    reach = math.sqrt(square)
    return [place_on(body, add(origin, scale(along, way - middle))) for way in (-reach, reach)]


def move_pivot(sketch: Sketch, second: bool, point: Point, context: Context, previous: Snapped | None) -> Moved:
    """The pivot, or the second one: anywhere, caught by points and crossings.

    On a support, named point or load it is tied to it.
    """
    found = candidates(sketch, context, crossings=True)
    caught = snap(point, found, context.catch_m, context.release_m, previous)
    ties = {entity.id for entity in (*sketch.supports, *sketch.points, *sketch.loads)}
    tied = caught.target if caught.kind == "point" and caught.target in ties else None
    return with_pivot(sketch, Pivot(tidy_point(caught.point), tied), second=second), caught


def with_pivot(sketch: Sketch, pivot: Pivot | None, *, second: bool) -> Sketch:
    """The sketch with another pivot, or another second one."""
    return replace(sketch, second_pivot=pivot) if second else replace(sketch, pivot=pivot)


def turned_by(angle_deg: float, step_deg: float) -> float:
    """An angle turned on, tidied, in [0, 360)."""
    return tidy(math.fmod(angle_deg + step_deg + 720.0, 360.0))
