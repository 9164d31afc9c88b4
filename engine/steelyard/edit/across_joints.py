"""A spread load drawn on from one bar over the joint to the next one in line: two loads, cut at the joint."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace

from ..geometry import Point, distance, dot, subtract
from ..model import Body, Sketch, SpreadLoad
from ..statics import meeting, shape, spread
from . import naming
from .change import put, tidy_point
from .context import Context, snap_place
from .shaping import place_on
from .snapping import Snapped

# Of the longer bar: two bars whose ends miss each other's line by less lie in one line.
IN_LINE = 1e-6


def next_in_line(sketch: Sketch, body: Body, end: Point) -> tuple[Body, Point] | None:
    """The bar that goes on from this one, pinned or fixed to it, where a hand (world) has passed their joint.

    With it their joint, in the world. None where the hand is on the bar itself, or nothing goes on in its line.
    """
    if body.kind != "bar":
        return None
    for other, joint in _joined(sketch, body):
        far = max(shape.ends(other), key=lambda point: distance(point, joint))
        way = subtract(far, joint)
        onward = dot(subtract(end, joint), way) > 0.0
        if onward and all(dot(way, subtract(each, joint)) <= IN_LINE * dot(way, way) for each in shape.ends(body)):
            return other, joint
    return None


def _joined(sketch: Sketch, body: Body) -> Iterator[tuple[Body, Point]]:
    """The bars in line with this one that a pin or fixed joint holds to it at an end of both, and where."""
    for support in meeting.supports_on(sketch, body.id):
        other_id = meeting.partner_of(support, body.id)
        if other_id is None or support.kind not in ("pin", "fixed"):
            continue
        other, joint = sketch.body(other_id), shape.world(sketch.body(support.body), support.place_m)
        reach = IN_LINE * max(body.length_m, other.length_m)
        if other.kind != "bar" or any(
            min(distance(joint, each) for each in shape.ends(bar)) > reach for bar in (body, other)
        ):
            continue
        if all(abs(shape.local(body, each)[1]) <= reach for each in shape.ends(other)):
            yield other, joint


def extended(
    sketch: Sketch,
    load: SpreadLoad,
    body: Body,
    onward: tuple[Body, Point],
    end: Point,
    context: Context,
    presses: Callable[[Body, SpreadLoad], bool],
) -> tuple[Sketch, Snapped]:
    """The sketch with a load that begins on one bar and ends at this point (world) of the next, cut at their joint.

    `onward` is what `next_in_line` found; `presses` says whether a load lies the way round that presses on its bar.
    """
    other, joint = onward
    place, caught = snap_place(sketch, other, place_on(other, end), context, None)
    last = tidy_point(shape.local(body, shape.world(other, place)))
    whole = replace(load, end_m=(last[0], 0.0))
    if not presses(body, whole):
        whole = replace(whole, start_m=whole.end_m, end_m=whole.start_m)
    with_one = put(sketch, load)
    mine, theirs = spread.cut(
        whole,
        body,
        other,
        joint,
        second_id=naming.fresh_id(with_one, "spread"),
        second_symbol=naming.symbol(with_one, "spread"),
    )
    both = [replace(each, start_m=_exact(each.start_m), end_m=_exact(each.end_m)) for each in (mine, theirs)]
    return put(put(sketch, both[0]), both[1]), caught


def _exact(place: Point) -> Point:
    """A place on a bar, on its very axis."""
    return (tidy_point(place)[0], 0.0)
