"""What a change to a sketch is, and the small operations all changes are made of."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import NoReturn, TypeVar

from .. import document
from ..errors import SteelyardError
from ..geometry import Point, angle_of, direction, dot, subtract
from ..model import Body, Couple, Force, Given, MeasuredPoint, NamedPoint, Pivot, Sketch, SpreadLoad, Support, Thing
from ..statics import holding, shape
from ..statics.isolate import acting_forces
from ..statics.pivot import pivot_point, second_point
from .unknowns import guess_of, part_of, with_guess

Entity = Body | NamedPoint | Support | Force | Couple | Thing | SpreadLoad
Listed = TypeVar("Listed", bound=Entity | Given)
Attached = NamedPoint | Support | Force | Couple | Thing | SpreadLoad
# What the ids of forces that come with a body or support end with.
_SUFFIXES = ("-weight", "-couple", "-friction")


@dataclass(frozen=True, slots=True)
class Change:
    """A new sketch, what undo calls the step, the id of what was made, and a sentence worth saying."""

    sketch: Sketch
    label: str
    created: str | None = None
    note: str = ""


def fail(code: str, where: str, message: str, hint: str = "") -> NoReturn:
    """Raise a `SteelyardError` of this package."""
    raise SteelyardError(f"edit.{code}", where, message, hint)


def entities(sketch: Sketch) -> tuple[Entity, ...]:
    """Everything with an id."""
    return (*sketch.bodies, *sketch.points, *sketch.supports, *sketch.loads)


def entities_on(sketch: Sketch, body_id: str) -> tuple[Attached, ...]:
    """Everything attached to a body, but for what joins to it from another one."""
    every: tuple[Attached, ...] = (*sketch.points, *sketch.supports, *sketch.loads)
    return tuple(each for each in every if each.body == body_id)


def find(sketch: Sketch, entity_id: str) -> Entity:
    """The entity with this id, or the one a force such as `<body>-weight` comes from; raises `SteelyardError`."""
    for entity in entities(sketch):
        if acts_for(entity, entity_id):
            return entity
    fail("unknown", entity_id, f'There is nothing called "{entity_id[:40]}" in this sketch.', "Select something first.")


def acts_for(entity: Entity, force_id: str) -> bool:
    """Whether an id is that of a thing, or of a force that comes with it."""
    wanted = force_id.removesuffix(holding.BACK)
    return wanted == entity.id or (wanted.startswith(entity.id) and wanted.removeprefix(entity.id) in _SUFFIXES)


def find_given(sketch: Sketch, given_id: str) -> Given | None:
    """The given with this id; None when it is something else."""
    return next((given for given in sketch.givens if given.id == given_id), None)


def put_given(sketch: Sketch, given: Given) -> Sketch:
    """The sketch with this given in place of the one with its id, or added at the end."""
    return replace(sketch, givens=_put(sketch.givens, given))


def put(sketch: Sketch, entity: Entity) -> Sketch:
    """The sketch with this entity in place of the one with its id, or added at the end of its list."""
    match entity:
        case Body():
            return replace(sketch, bodies=_put(sketch.bodies, entity))
        case NamedPoint():
            return replace(sketch, points=_put(sketch.points, entity))
        case Support():
            return replace(sketch, supports=_put(sketch.supports, entity))
        case _:
            return replace(sketch, loads=_put(sketch.loads, entity))


def _put(entries: tuple[Listed, ...], entity: Listed) -> tuple[Listed, ...]:
    if any(entry.id == entity.id for entry in entries):
        return tuple(entity if entry.id == entity.id else entry for entry in entries)
    return (*entries, entity)


def name_of(entity: Entity | Pivot) -> str:
    """What a person calls it: its name or its letter."""
    match entity:
        case Body() | NamedPoint():
            return entity.name
        case Thing():
            return entity.name or entity.symbol
        case Pivot():
            return "pivot"
        case _:
            return entity.symbol


def remove(sketch: Sketch, ids: set[str]) -> Sketch:
    """The sketch without these entities and what is attached to a body among them; a tied pivot stays in place."""
    ids = ids | {entity.id for entity in entities(sketch) if not isinstance(entity, Body) and entity.body in ids}
    ids |= {support.id for support in sketch.supports if support.other in ids}
    pivot, second = sketch.pivot, sketch.second_pivot
    if pivot is not None and pivot.tied_to in ids:
        pivot = Pivot(pivot_point(sketch))
    if second is not None and second.tied_to in ids:
        second = Pivot(second_point(sketch) or second.place_m)
    thinner = replace(
        sketch,
        bodies=tuple(body for body in sketch.bodies if body.id not in ids),
        points=tuple(point for point in sketch.points if point.id not in ids),
        supports=tuple(support for support in sketch.supports if support.id not in ids),
        loads=tuple(load for load in sketch.loads if load.id not in ids),
        pivot=pivot,
        second_pivot=second,
    )
    acting = document.acting_ids(thinner)
    if sketch.settings.axes_along in ids:
        thinner = replace(thinner, settings=replace(sketch.settings, axes_along=None))
    return replace(
        thinner,
        pinned=tuple(pin for pin in sketch.pinned if pin in acting),
        order=tuple(each for each in sketch.order if each in acting),
        told=tuple(each for each in sketch.told if each in acting),
        isolated=tuple(each for each in sketch.isolated if each not in ids),
    )


def made_sound(before: Sketch, after: Sketch) -> Sketch:
    """What every change ends with: guesses on a known line follow it, pins and pivot hold, the whole is sound.

    Raises `SteelyardError` when the change would leave an unsound sketch; then nothing has changed.
    """
    if after.pivot is not None and after.pivot.tied_to is not None:
        place = pivot_point(after)
        if place != after.pivot.place_m:
            after = replace(after, pivot=replace(after.pivot, place_m=place))
    if after.second_pivot is not None and after.second_pivot.tied_to is not None:
        second = second_point(after)
        if second is not None and second != after.second_pivot.place_m:
            after = replace(after, second_pivot=replace(after.second_pivot, place_m=second))
    acting = document.acting_ids(after)
    if any(pin not in acting for pin in after.pinned):
        after = replace(after, pinned=tuple(pin for pin in after.pinned if pin in acting))
    if any(each not in acting for each in after.order):
        after = replace(after, order=tuple(each for each in after.order if each in acting))
    if any(each not in acting for each in after.told):
        after = replace(after, told=tuple(each for each in after.told if each in acting))
    after = _guesses_on_their_lines(before, after)
    if after.givens:
        after = replace(after, givens=_givens_that_hold(after))
    if after.half_widths:  # of a number that is gone, there is nothing left to be unsure of
        known = {number.path for number in document.numbers(after)}
        after = replace(after, half_widths=tuple(each for each in after.half_widths if each.path in known))
    document.check_changed(before, after)
    document.check(after)
    return after


def _givens_that_hold(sketch: Sketch) -> tuple[Given, ...]:
    """Givens go with what they measure; a place that is no longer on its body moves to the nearest that is."""
    bodies = {body.id: body for body in sketch.bodies}
    kept: list[Given] = []
    for given in sketch.givens:
        start, end = (_on_its_body(point, bodies) for point in (given.start, given.end))
        moved = given if (start, end) == (given.start, given.end) else replace(given, start=start, end=end)
        found = document.trouble(sketch, moved)
        if found is None or (found.code != "dangling" and moved == given):
            kept.append(moved)
    return tuple(kept)


def _on_its_body(point: MeasuredPoint | None, bodies: dict[str, Body]) -> MeasuredPoint | None:
    body = bodies.get(point.of) if point is not None else None
    if point is None or body is None or point.place_m is None or document.on_body(body, point.place_m):
        return point
    return replace(point, place_m=tidy_point(shape.nearest_place(body, shape.world(body, point.place_m))))


def _guesses_on_their_lines(before: Sketch, after: Sketch) -> Sketch:
    for entry in (*after.supports, *after.loads):
        if not isinstance(entry, Support | Force) or (isinstance(entry, Force) and entry.guess is None):
            continue
        old = next((one for one in (*before.supports, *before.loads) if one.id == entry.id), None)
        for force_id in (entry.id, f"{entry.id}-friction"):
            guess = None if part_of(entry, force_id) is None else guess_of(entry, force_id)
            line = None if guess is None else line_of(after, entry, force_id)
            if line is None or guess is None:
                continue
            old_line = line_of(before, old, force_id) if isinstance(old, Support | Force) else None
            forward = dot(direction(guess.direction_deg), direction(line if old_line is None else old_line)) >= 0.0
            angle = line if forward else (line + 180.0) % 360.0
            if abs((guess.direction_deg - angle + 180.0) % 360.0 - 180.0) > 1e-9:
                entry = with_guess(entry, force_id, replace(guess, direction_deg=angle))
                after = put(after, entry)
    return after


def line_of(sketch: Sketch, entry: Support | Force, force_id: str = "") -> float | None:
    """The direction in degrees of an unknown whose line is known; None when its direction is to be found.

    `force_id` names the force, where the entry stands for several; else its own is meant.
    """
    if isinstance(entry, Force):
        return entry.direction_deg if entry.sought == "size" else None
    if entry.kind in ("roller", "contact"):
        body = sketch.body(entry.body)
        if part_of(entry, force_id) == "friction":
            return angle_between((0.0, 0.0), holding.tangent(entry, body))
        return entry.normal_deg if entry.face_m is None else angle_between((0.0, 0.0), holding.normal(entry, body))
    if entry.anchor_m is None:
        return None
    # A guess turns the arrow as drawn, never the line it lies on.
    bare = sketch if entry.guess is None else put(sketch, replace(entry, guess=None))
    for force in acting_forces(bare, entry.body):
        if force.id == entry.id and force.along is not None:
            return angle_between((0.0, 0.0), force.along)
    return None


def world_place(sketch: Sketch, entity: Attached) -> Point:
    """Where an attached thing is, in the world."""
    return entity.place_m if entity.body is None else shape.world(sketch.body(entity.body), entity.place_m)


def arrow_place(sketch: Sketch, entity: Attached) -> Point:
    """Where the arrow of its force starts until anything is found: in the middle of a face, else where it is."""
    if isinstance(entity, Support) and entity.face_m is not None:
        return holding.middle(entity, sketch.body(entity.body))
    return world_place(sketch, entity)


def tidy(value: float) -> float:
    """The value without the dust of conversions: 5.199999999999999 becomes 5.2, 1/3 stays as it is."""
    rounded = round(value, 9)
    return rounded + 0.0 if abs(value - rounded) <= 1e-12 * max(1.0, abs(value)) else value


def tidy_point(point: Point) -> Point:
    """Both parts tidied."""
    return (tidy(point[0]), tidy(point[1]))


def angle_between(start: Point, end: Point) -> float:
    """Direction from one point to another in degrees, tidied, in [0, 360)."""
    return tidy(angle_of(subtract(end, start)))
