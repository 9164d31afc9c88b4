"""Spread loads made, held and set: on one straight piece of a body, heights in newtons on each metre of it."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import get_args

from ..document.table import SYMBOL_LIMIT
from ..geometry import Point, add, distance, dot, nearest_on_segment, scale, subtract
from ..model import Acts, Body, Force, Sketch, SpreadLoad
from ..statics import shape, spread
from ..units import factor_of, write_exact
from . import across_joints, naming
from .change import Change, fail, find, put, tidy, tidy_point
from .context import Context, snap_place
from .facing import on_piece, typed_place
from .joining import settle
from .shaping import LEAST_LOADED_M, at_place, place_on
from .snapping import Snapped, round_step, round_to, step_at_least
from .typed import Typed, no_such_field

ENDS = ("start", "end")
HEIGHTS = ("start-height", "end-height")
# A load placed without a board to measure it on.
_NEW_LOAD_N_PER_M = 100.0


def new_load(
    sketch: Sketch, body: Body, start: Point, end: Point | None, context: Context, previous: Snapped | None
) -> tuple[Change, Snapped]:
    """The sketch with a new uniform load between two points of the paper; all along the piece without a second one.

    It presses on the body: downwards on a bar, inwards on a plate; so its start is the end that this needs.
    """
    if not spread.pieces(body):
        fail("no-piece", "spread", f"{body.name} has no straight piece for a load to lie along.", "Draw single forces.")
    held, caught = snap_place(sketch, body, place_on(body, start), context, None)
    piece = spread.piece_for(body, held, held if end is None else place_on(body, end))
    first, last = piece
    if end is not None:
        first = tidy_point(nearest_on_segment(held, *piece)[0])
        last, caught = on_piece(sketch, body, piece, end, context, previous, "")
        if distance(first, last) < LEAST_LOADED_M:
            fail("zero-length", "spread", "A spread load needs a length: its two ends are at one point.", "Drag on.")
    symbol = naming.symbol(sketch, "spread")
    size = _usual_intensity(sketch, context)
    load = SpreadLoad(
        naming.fresh_id(sketch, "spread"), body.id, first, last, symbol, naming.symbol(sketch, "each-metre"),
        start_n_per_m=size, end_n_per_m=size,
    )  # fmt: skip
    onward = None if end is None else across_joints.next_in_line(sketch, body, end)
    if onward is not None and end is not None:
        both, caught = across_joints.extended(sketch, load, body, onward, end, context, _presses)
        return Change(settle(sketch, both), f"Add spread loads over {body.name} and {onward[0].name}", load.id), caught
    if not _presses(body, load):
        load = replace(load, start_m=last, end_m=first)
    return Change(settle(sketch, put(sketch, load)), f"Add spread load {symbol}", load.id), caught


def _presses(body: Body, load: SpreadLoad) -> bool:
    """Whether a load across presses on its body from outside a plate, or from above a bar (from the left, upright)."""
    x, y = spread.along(load, body)
    if body.kind == "plate":
        middle = shape.world(body, load.place_m)
        reach = 1e-3 * load.length_m
        inside = (middle[0] + x * reach, middle[1] + y * reach)
        return distance(shape.world(body, shape.nearest_place(body, inside)), inside) <= 1e-9 * max(
            1.0, *map(abs, inside)
        )
    return y < -1e-9 or (abs(y) <= 1e-9 and x > 0.0)


def _usual_intensity(sketch: Sketch, context: Context) -> float:
    """How much a load placed by hand is until it is changed: round, and high enough to hold."""
    if context.step_m <= 0.0:
        return _NEW_LOAD_N_PER_M
    factor = factor_of("intensity", sketch.settings)
    step = step_at_least(5.0 * context.step_m * context.intensity_per_m / factor)
    return round_to(step * factor, step, factor)


def grip_position(sketch: Sketch, load: SpreadLoad, grip: str, intensity_per_m: float) -> Point:
    """Where a grip of a load diagram is in the world; heights stand off against the way the load acts."""
    body = sketch.body(load.body)
    at_start = grip.startswith("start")
    foot = shape.world(body, load.start_m if at_start else load.end_m)
    if grip in ENDS:
        return foot
    value = (load.start_n_per_m if at_start else load.end_n_per_m) or 0.0
    return add(foot, scale(off(load, body), value / intensity_per_m))


def off(load: SpreadLoad, body: Body) -> Point:
    """The unit direction in the world in which the height of a load without a minus sign is drawn."""
    start, end = load.shares
    x, y = spread.sides(load, body)[1]
    sign = -1.0 if start + end < 0.0 else 1.0
    return (sign * x, sign * y)


def locked(load: SpreadLoad, grip: str) -> str:
    """Why a grip cannot move; "" when it can."""
    if grip in HEIGHTS and load.letter_only:
        return f"{load.spread_symbol} is known as a letter only: type a size in the line below."
    if grip in ("head", "slide", "guess"):
        return f"{load.symbol} is the resultant of a spread load: change the load instead."
    return ""


def move_grip(
    sketch: Sketch, load: SpreadLoad, grip: str, point: Point, context: Context, previous: Snapped | None
) -> tuple[Sketch, Snapped]:
    """One end of a load along its piece, or the height of its diagram there."""
    body = sketch.body(load.body)
    if grip in ENDS:
        piece = spread.piece_of(load, body)
        place, caught = on_piece(sketch, body, piece, point, context, previous, load.id)
        changed = replace(load, start_m=place) if grip == "start" else replace(load, end_m=place)
        if changed.length_m < LEAST_LOADED_M:
            fail("zero-length", load.id, "A spread load needs a length: its two ends are at one point.", "Move it on.")
        # Drawn past its other end it lies the other way round and still acts the way it did.
        if _turned(load, changed):
            changed = replace(changed, start_m=changed.end_m, end_m=changed.start_m,
                              start_n_per_m=load.end_n_per_m, end_n_per_m=load.start_n_per_m)  # fmt: skip
        return put(sketch, changed), caught
    at_start = grip.startswith("start")
    foot = shape.world(body, load.start_m if at_start else load.end_m)
    value = dot(subtract(point, foot), off(load, body)) * context.intensity_per_m
    if context.catch_m > 0.0 and context.step_m > 0.0:
        factor = factor_of("intensity", sketch.settings)
        value = round_to(value, step_at_least(context.intensity_per_m * context.step_m / 2.0 / factor), factor)
    return put(sketch, _with_height(load, at_start, tidy(value))), Snapped(point, "free")


def _turned(before: SpreadLoad, after: SpreadLoad) -> bool:
    return dot(subtract(before.end_m, before.start_m), subtract(after.end_m, after.start_m)) < 0.0


def _with_height(load: SpreadLoad, at_start: bool, value: float) -> SpreadLoad:
    """Another height at one end; both ends act the same way, so it stops at zero before it would not."""
    other = (load.end_n_per_m if at_start else load.start_n_per_m) or 0.0
    if value * other < 0.0:
        value = 0.0
    return replace(load, start_n_per_m=value) if at_start else replace(load, end_n_per_m=value)


def nudged(sketch: Sketch, load: SpreadLoad, grip: str, dx: float, dy: float, context: Context) -> Sketch:
    """A grip moved on by steps of the smallest round size: along the piece, or up and down in height."""
    body = sketch.body(load.body)
    if grip in HEIGHTS:
        factor = factor_of("intensity", sketch.settings)
        step = step_at_least(context.intensity_per_m * max(context.step_m, 1e-9) / 2.0 / factor) * factor
        x, y = off(load, body)
        at_start = grip.startswith("start")
        held = (load.start_n_per_m if at_start else load.end_n_per_m) or 0.0
        part = dx * x + dy * y
        size = max(abs(dx), abs(dy))
        way = 0.0 if abs(part) <= 1e-9 * max(size, 1e-9) else math.copysign(size, part)
        return put(sketch, _with_height(load, at_start, tidy(held + way * step)))
    step_m = round_step(context.step_m, sketch.settings) * factor_of("length", sketch.settings)
    first, last = (shape.world(body, place) for place in spread.piece_of(load, body))
    way_m = scale(subtract(last, first), 1.0 / distance(first, last))
    part = dx * way_m[0] + dy * way_m[1]
    size = max(abs(dx), abs(dy))
    if step_m == 0.0 or abs(part) <= 1e-9 * max(size, 1e-9):
        return sketch
    shift = scale(way_m, math.copysign(size, part) * step_m)
    free = replace(context, catch_m=0.0)
    if grip in ENDS:
        moved = add(grip_position(sketch, load, grip, context.intensity_per_m), shift)
        return move_grip(sketch, load, grip, moved, free, None)[0]
    wanted = add(shape.world(body, load.place_m), shift)
    return put(sketch, at_place(sketch, load, shape.local(body, wanted)))


# Fields


def distances(load: SpreadLoad, body: Body) -> tuple[float, float]:
    """How far start and end are along the piece of the body the load lies on, metres from where that begins."""
    first, _ = spread.piece_of(load, body)
    return (tidy(distance(first, load.start_m)), tidy(distance(first, load.end_m)))


def set_load(sketch: Sketch, load: SpreadLoad, key: str, typed: Typed) -> SpreadLoad:
    """The load with one field changed; raises `SteelyardError`."""
    match key:
        case "from" | "to":
            return _moved_end(sketch, load, key == "from", typed)
        case "intensity":
            value = typed.maybe("intensity")
            return replace(load, start_n_per_m=value, end_n_per_m=value)
        case "start_intensity" | "end_intensity":
            return _intensity(load, key.startswith("start"), typed)
        case "shape":
            return _shaped(load, typed.choice(spread.FORMS))
        case "acts":
            acts: tuple[Acts, ...] = get_args(Acts)
            chosen = next(one for one in acts if one == typed.choice(acts))
            turned = spread.direction_deg(load, sketch.body(load.body))
            start, end = load.shares
            back = 180.0 if start + end < 0.0 else 0.0
            return replace(
                load, acts=chosen, direction_deg=tidy((turned + back) % 360.0) if chosen == "angle" else 270.0
            )
        case "angle" if load.acts == "angle":
            return replace(load, direction_deg=typed.quantity("angle"))
        case "spread_symbol":
            return replace(load, spread_symbol=typed.words(SYMBOL_LIMIT, filled=True))
        case "turned_round":
            start_n, end_n = ((None if each is None else 0.0 - each) for each in (load.start_n_per_m, load.end_n_per_m))
            if load.letter_only:
                fail("letter", typed.where, f"{load.spread_symbol} is known as a letter only.", "Type a size first.")
            return replace(load, start_n_per_m=start_n, end_n_per_m=end_n)
        case _:
            no_such_field(typed.where, load.symbol)
            return load


def _moved_end(sketch: Sketch, load: SpreadLoad, at_start: bool, typed: Typed) -> SpreadLoad:
    body = sketch.body(load.body)
    place = typed_place(sketch, body, spread.piece_of(load, body), typed)
    changed = replace(load, start_m=place) if at_start else replace(load, end_m=place)
    if changed.length_m < LEAST_LOADED_M:
        fail(
            "zero-length", typed.where, "A spread load needs a length: its two ends are at one point.", "Enter another."
        )
    if load.acts == "across" and _turned(load, changed):
        # Where it acts to the right of its way, the other way round is the other side.
        typed.note = "It acts on the same side as before."
        return replace(changed, start_m=changed.end_m, end_m=changed.start_m, start_n_per_m=load.end_n_per_m,
                       end_n_per_m=load.start_n_per_m)  # fmt: skip
    return changed


def _intensity(load: SpreadLoad, at_start: bool, typed: Typed) -> SpreadLoad:
    value = typed.maybe("intensity")
    other = load.end_n_per_m if at_start else load.start_n_per_m
    where = "end" if at_start else "start"
    if value is None and other:
        message = f"A letter at one end alone has no centroid: the {where} is a number."
        fail("letter", typed.where, message, "Make it uniform or triangular first.")
    if value is not None and other is not None and value * other < 0.0:
        message = f"Both ends must act the same way: the {where} is {write_exact(other, 'intensity', typed.settings)}."
        fail("sense", typed.where, message, "Split it where it is zero, into two loads.")
    changed = replace(load, start_n_per_m=value) if at_start else replace(load, end_n_per_m=value)
    if value and other is None:
        changed = replace(changed, end_n_per_m=value) if at_start else replace(changed, start_n_per_m=value)
    return changed


def _shaped(load: SpreadLoad, wanted: str) -> SpreadLoad:
    """Another shape of the diagram, with its greatest height kept."""
    ends = [value for value in (load.start_n_per_m, load.end_n_per_m) if value != 0.0]
    most = None if None in ends else max((value for value in ends if value is not None), key=abs, default=0.0)
    if wanted == "uniform":
        return replace(load, start_n_per_m=most, end_n_per_m=most)
    if wanted == "rising":
        return replace(load, start_n_per_m=0.0, end_n_per_m=most)
    if wanted == "falling":
        return replace(load, start_n_per_m=most, end_n_per_m=0.0)
    if most is None:
        fail("letter", "shape", f"{load.spread_symbol} is known as a letter only.", "Type a size first.")
    return (
        load if spread.form_of(load) == "sloping" else replace(load, start_n_per_m=most, end_n_per_m=tidy(most / 2.0))
    )


def by_resultant(sketch: Sketch, load_id: str) -> Change:
    """The sketch with one force in place of a spread load, under the same id: no reading of the body changes."""
    load = find(sketch, load_id)
    if not isinstance(load, SpreadLoad):
        fail("spread", load_id, "Only a spread load has a resultant to replace it by.", "Select one first.")
    if load.acts == "weight" and sketch.settings.seen_from == "above":
        fail("above", load_id, "Seen from above its weight does not act in the page.", "Look from the side first.")
    body = sketch.body(load.body)
    own = load.acts == "weight"
    force = Force(
        load.id, load.body, load.place_m, load.symbol, "gravity" if own else load.type, "Earth" if own else load.agent,
        size_n=None if load.size_n is None else abs(load.size_n), direction_deg=spread.direction_deg(load, body),
    )  # fmt: skip
    return Change(settle(sketch, put(sketch, force)), f"Replace {load.symbol} by its resultant", load.id)
