"""Isolate one body: every force and couple that acts on it, supports replaced by the unknowns they stand for."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from ..errors import SteelyardError
from ..geometry import Point, Vector, direction
from ..model import Body, Couple, Force, Load, Sketch, SpreadLoad, Support, Thing
from . import axes, drawn, holding, shape, spread
from .reading import ActingForce

DOWN: Vector = (0.0, -1.0)


def acting_forces(sketch: Sketch, *ids: str) -> tuple[ActingForce, ...]:
    """What acts on a body, or on several taken as one, in the order weights, loads, supports.

    Forces between bodies taken together are left out. A rope over a fixed pulley is not one of those: with both of
    its bodies it acts on each, and the pulley on neither. Among `ids` may be things standing on these bodies: such a
    thing belongs to the system, so what it does to its body is left out and its own weight acts instead.
    Raises SteelyardError `statics.no-body` when the sketch has no such body.
    """
    taken = {load.id for load in sketch.loads if isinstance(load, Thing) and load.id in ids} if len(ids) > 1 else set()
    bodies = {body_id: find_body(sketch, body_id) for body_id in ids if body_id not in taken}
    return _acting(sketch, bodies, sketch.loads, sketch.supports, taken)


def acting_on_each(sketch: Sketch, body_ids: Sequence[str]) -> list[tuple[ActingForce, ...]]:
    """What acts on each of several bodies by itself: as `acting_forces` of one after the other, in one go."""
    loads: dict[str, list[Load]] = {body_id: [] for body_id in body_ids}
    supports: dict[str, list[Support]] = {body_id: [] for body_id in body_ids}
    for load in sketch.loads:
        if load.body in loads:
            loads[load.body].append(load)
    for support in sketch.supports:
        for body_id in (support.body, support.other):
            if body_id in supports:
                supports[body_id].append(support)
    bodies = {body.id: body for body in sketch.bodies}
    return [_acting(sketch, {each: bodies[each]}, loads[each], supports[each], set()) for each in body_ids]


def _acting(
    sketch: Sketch, bodies: Mapping[str, Body], loads: Sequence[Load], supports: Sequence[Support], taken: set[str]
) -> tuple[ActingForce, ...]:
    placed = {body_id: shape.placing(body) for body_id, body in bodies.items()}
    g_m_s2 = sketch.settings.g_m_s2
    upright = sketch.settings.seen_from == "side"
    x_axis = axes.x_axis(sketch)
    found = [weight for body in bodies.values() for weight in _weight(body, g_m_s2)] if upright else []
    for load in loads:
        if load.body in bodies and (upright or not weighs(load)):
            force = _load(load, bodies[load.body], placed[load.body](load.place_m), g_m_s2, x_axis)
            found.append(force._replace(type="gravity", by="Earth", on=force.by) if load.id in taken else force)
    for support in supports:
        here, there = support.body in bodies, support.other in bodies
        if here and there and support.over_m is None:
            continue
        if here:
            found += holding.forces_of(sketch, support, bodies[support.body], placed[support.body], x_axis)
        if there:
            found += holding.forces_back(sketch, support, x_axis)
    return tuple(found)


def weighs(load: Load) -> bool:
    """Whether a load is a weight, which does not act in the page of a sketch seen from above."""
    return isinstance(load, Thing) or (isinstance(load, SpreadLoad) and load.acts == "weight")


def find_body(sketch: Sketch, body_id: str | None) -> Body:
    """The body asked for, or the first one; SteelyardError `statics.no-body` when there is none."""
    for body in sketch.bodies:
        if body_id is None or body.id == body_id:
            return body
    if body_id is None:
        raise SteelyardError(
            "statics.no-body", "bodies", "`bodies` must hold at least one body: got none.", "Draw a bar first."
        )
    raise SteelyardError(
        "statics.no-body",
        "bodies",
        f"`bodies` must hold the body asked for: got no body {body_id!r}.",
        "Name a body of this sketch.",
    )


def _weight(body: Body, g_m_s2: float) -> list[ActingForce]:
    if body.weight_symbol_only:
        size_n = None
    elif body.weight_n is not None:
        size_n = body.weight_n
    elif body.total_mass_kg is not None:
        size_n = body.total_mass_kg * g_m_s2
    else:
        return []
    if size_n == 0.0:
        return []
    point = shape.centre_of_mass(body)
    return [
        ActingForce(
            f"{body.id}-weight", body.id, body.weight_symbol, "gravity", "Earth", body.name, "known", None, point,
            DOWN, False, size_n, None, None, None,
        )
    ]  # fmt: skip


def _load(load: Load, body: Body, point: Point, g_m_s2: float, x_axis: Vector) -> ActingForce:
    if isinstance(load, Force):
        return _force(load, body, point, x_axis)
    if isinstance(load, Thing):
        size_n = None if load.mass_kg is None else load.mass_kg * g_m_s2
        return ActingForce(
            load.id, load.id, load.symbol, "contact", load.name, body.name, "known", None, point,
            DOWN, False, size_n, None, None, None,
        )  # fmt: skip
    if isinstance(load, SpreadLoad):
        return _spread(load, body, point)
    return _couple(load, body, point)


def _spread(load: SpreadLoad, body: Body, point: Point) -> ActingForce:
    """The resultant of a spread load: all that a rigid body can tell of it."""
    own = load.acts == "weight"
    size_n = load.size_n
    return ActingForce(
        load.id, load.id, load.symbol, "gravity" if own else load.type, "Earth" if own else load.agent, body.name,
        "known", None, point, spread.along(load, body), False, None if size_n is None else abs(size_n), None, None,
        None,
    )  # fmt: skip


def _force(load: Force, body: Body, point: Point, x_axis: Vector) -> ActingForce:
    along: Vector | None = direction(load.direction_deg)
    if load.role == "known":
        return ActingForce(
            load.id, load.id, load.symbol, load.type, load.agent, body.name, "known", None, point,
            along, False, load.size_n, None, None, None,
        )  # fmt: skip
    if load.sought == "couple":
        along = None
    elif load.sought == "size and direction":
        along = drawn.senses(load.direction_deg, x_axis)
    one_way = load.one_way and load.sought == "size"
    guess, guess_couple = drawn.guessed(load.guess, load.sought == "couple")
    turn = 0
    if along is None:
        turn = -1 if guess_couple is not None and guess_couple < 0.0 else 1
    elif load.sought == "size and direction":
        along = drawn.as_guessed(along, guess, x_axis)
    elif not one_way:
        along = drawn.line_as_guessed(along, guess)
    return ActingForce(
        load.id, load.id, load.symbol, load.type, load.agent, body.name, "unknown", load.sought, point,
        along, one_way, None, None, guess, guess_couple, turn, x_axis,
    )  # fmt: skip


def _couple(load: Couple, body: Body, point: Point) -> ActingForce:
    sense = 1 if load.counterclockwise else -1
    if load.role == "known":
        # A size has no sign in a sound document; the sense decides in any other sketch too.
        value = None if load.couple_n_m is None else sense * abs(load.couple_n_m)
        return ActingForce(
            load.id, load.id, load.symbol, "other", load.agent, body.name, "known", None, point,
            None, False, None, value, None, None, sense,
        )  # fmt: skip
    _, guess_couple = drawn.guessed(load.guess, True)
    if guess_couple:
        sense = 1 if guess_couple > 0.0 else -1
    return ActingForce(
        load.id, load.id, load.symbol, "other", load.agent, body.name, "unknown", "couple", point,
        None, False, None, None, None, guess_couple, sense,
    )  # fmt: skip
