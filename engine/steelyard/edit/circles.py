"""Discs and round holes under the hand: made, moved, made larger or smaller; what sits on a rim goes along."""

from __future__ import annotations

import re
from dataclasses import replace

from ..geometry import Point, distance
from ..model import Body, MeasuredPoint, RoundHole, Sketch, SpreadLoad
from ..statics import shape
from ..units import factor_of, write_exact
from .change import Change, entities, fail, put, tidy, tidy_point
from .context import Context, candidates
from .joining import settle
from .shaping import kept_place
from .snapping import Snapped, round_step, round_to, snap

# How near its rim a place counts as on it, as a part of the radius.
_ON_RIM = 1e-9
# Where a rim is taken hold of: up to the right, seldom where anything else is.
_HALF_ROOT = 0.5**0.5
_HOLE = re.compile(r"^hole-(\d{1,2})(-rim)?$")
# Of the shorter side of its body, the radius of a hole made by a tap.
_NEW_HOLE = 0.1


def hole_grips(body: Body) -> tuple[str, ...]:
    """The grips of a body's round holes: the centre and the rim of each."""
    return tuple(f"hole-{index}{part}" for index in range(len(body.round_holes)) for part in ("", "-rim"))


def hole_of(body: Body, grip: str) -> tuple[int, bool] | None:
    """Which round hole a grip holds, and whether by its rim; None when it is no grip of one."""
    found = _HOLE.match(grip)
    if found is None or int(found[1]) >= len(body.round_holes):
        return None
    return int(found[1]), found[2] is not None


def grip_position(body: Body, grip: str) -> Point | None:
    """Where the rim of a disc, or the centre or rim of a round hole, is held, in the world."""
    if grip == "rim" and body.kind == "disc":
        return _up_right(body.origin_m, body.radius_m)
    held = hole_of(body, grip)
    if held is None:
        return None
    hole = body.round_holes[held[0]]
    centre = shape.world(body, hole.centre_m)
    return _up_right(centre, hole.radius_m) if held[1] else centre


def _up_right(centre: Point, radius_m: float) -> Point:
    reach = radius_m * _HALF_ROOT
    return (centre[0] + reach, centre[1] + reach)


def move_grip(
    sketch: Sketch, body: Body, grip: str, point: Point, context: Context, previous: Snapped | None
) -> tuple[Sketch, Snapped]:
    """The sketch with the rim of a disc, or a round hole, where the hand is."""
    held = hole_of(body, grip)
    if held is None:
        radius, caught = _radius(sketch, body.id, body.origin_m, point, context, previous)
        return with_radius(sketch, body, radius), caught
    index, by_rim = held
    hole = body.round_holes[index]
    if by_rim:
        centre = shape.world(body, hole.centre_m)
        radius, caught = _radius(sketch, body.id, centre, point, context, previous)
        return with_round_hole(sketch, body, index, replace(hole, radius_m=radius)), caught
    caught = snap(point, candidates(sketch, context, leave_out=body.id), context.catch_m, context.release_m, previous)
    place = tidy_point(shape.local(body, caught.point))
    return with_round_hole(sketch, body, index, replace(hole, centre_m=place)), caught


def _radius(
    sketch: Sketch, leave_out: str, centre: Point, point: Point, context: Context, previous: Snapped | None
) -> tuple[float, Snapped]:
    """How far the hand is from a centre: as far as a point worth catching, else a round length."""
    found = replace(candidates(sketch, context, leave_out=leave_out), step=0.0)
    caught = snap(point, found, context.catch_m, context.release_m, previous)
    if caught.kind != "free":
        return tidy(distance(centre, caught.point)), caught
    far = distance(centre, point)
    if context.catch_m > 0.0:
        step = round_step(context.step_m, sketch.settings)
        far = round_to(far, step, factor_of("length", sketch.settings))
    far = tidy(far)
    label = f"radius {write_exact(far, 'length', sketch.settings)}"
    return far, Snapped(point, "round" if context.catch_m > 0.0 else "free", label)


def drawn_radius(
    sketch: Sketch, centre: Point, point: Point, context: Context, previous: Snapped | None
) -> tuple[float, Snapped]:
    """The radius of a disc drawn from its centre to the hand; raises `SteelyardError` when there is none."""
    radius, caught = _radius(sketch, "", centre, point, context, previous)
    if radius < 1e-6:
        fail("zero-length", "disc", "A disc needs a radius: its rim is at its centre.", "Drag farther.")
    return radius, caught


def with_radius(sketch: Sketch, body: Body, radius_m: float) -> Sketch:
    """A disc with another radius; what is on its rim stays there, what is off it now moves to it."""
    changed = replace(body, radius_m=radius_m)
    return _carried(put(sketch, changed), body, changed, shape.rim_of(body), shape.rim_of(changed))


def with_round_hole(sketch: Sketch, body: Body, index: int, hole: RoundHole) -> Sketch:
    """A round hole elsewhere or of another size; one more where `index` counts past the last."""
    before = body.round_holes
    changed = replace(body, round_holes=(*before[:index], hole, *before[index + 1 :]))
    old = before[index] if index < len(before) else hole
    return _carried(put(sketch, changed), body, changed, old, hole)


def without_round_hole(sketch: Sketch, body: Body, index: int) -> Change:
    """The body without one of its round holes; raises `SteelyardError` when there is no such hole."""
    if not 0 <= index < len(body.round_holes):
        fail("hole", "hole", f"{body.name} has no round hole {index + 1}.", "Choose one that is there.")
    holes = (*body.round_holes[:index], *body.round_holes[index + 1 :])
    return Change(settle(sketch, put(sketch, replace(body, round_holes=holes))), f"Fill a hole of {body.name}")


def usual_hole_m(body: Body) -> float:
    """The radius of a hole made without saying how large: a tenth of the shorter side, to one figure."""
    low, high = shape.extent(body)
    return float(f"{_NEW_HOLE * min(high[0] - low[0], high[1] - low[1]):.1g}")


def new_hole(
    sketch: Sketch, body: Body, centre: Point, rim: Point | None, context: Context, previous: Snapped | None
) -> tuple[Change, Snapped]:
    """The sketch with a new round hole; without a point of its rim, as large as is usual."""
    found = candidates(sketch, context)
    caught = snap(centre, found, context.catch_m, context.release_m, None)
    middle = tidy_point(caught.point)
    if rim is None:
        radius = usual_hole_m(body)
    else:
        radius, caught = _radius(sketch, "", middle, rim, context, previous)
    hole = RoundHole(tidy_point(shape.local(body, middle)), radius)
    made = with_round_hole(sketch, body, len(body.round_holes), hole)
    return Change(settle(sketch, made), f"Cut a hole in {body.name}", body.id), caught


def _carried(sketch: Sketch, before: Body, after: Body, old: RoundHole, new: RoundHole) -> Sketch:
    """What was on a rim is at the same angle of the new one; the rest stays, or moves to the nearest place there is."""

    def moved(place: Point) -> Point:
        off = (place[0] - old.centre_m[0], place[1] - old.centre_m[1])
        if old != new and abs(distance(place, old.centre_m) - old.radius_m) <= _ON_RIM * old.radius_m:
            part = new.radius_m / old.radius_m
            place = tidy_point((new.centre_m[0] + part * off[0], new.centre_m[1] + part * off[1]))
        return kept_place(after, place)

    for entity in entities(sketch):
        # A load spread along the edge of a plate stays there whatever its holes.
        if isinstance(entity, Body | SpreadLoad) or entity.body != before.id:
            continue
        place = moved(entity.place_m)
        if place != entity.place_m:
            sketch = put(sketch, replace(entity, place_m=place))

    def measured(point: MeasuredPoint | None) -> MeasuredPoint | None:
        if point is None or point.of != before.id or point.place_m is None:
            return point
        return replace(point, place_m=moved(point.place_m))

    givens = tuple(replace(each, start=measured(each.start), end=measured(each.end)) for each in sketch.givens)
    return replace(sketch, givens=givens) if givens != sketch.givens else sketch
