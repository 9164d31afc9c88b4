"""Isolate one body: every force and couple that acts on it, supports replaced by the unknowns they stand for."""

from __future__ import annotations

import math

from ..errors import SteelyardError
from ..geometry import Point, Vector, direction
from ..model import Body, Couple, Force, ForceType, Guess, Load, Sketch, SpreadLoad, Support, Thing
from . import axes, shape, spread
from .reading import ActingForce

DOWN: Vector = (0.0, -1.0)

# A rope this short beside the coordinates of its ends is only their rounding: it has no direction.
NO_LENGTH = 1e-12


def acting_forces(sketch: Sketch, body_id: str) -> tuple[ActingForce, ...]:
    """What acts on a body, in the order weight, loads, supports.

    Raises SteelyardError `statics.no-body` when the sketch has no such body.
    """
    body = find_body(sketch, body_id)
    placed = shape.placing(body)
    g_m_s2 = sketch.settings.g_m_s2
    upright = sketch.settings.seen_from == "side"
    x_axis = axes.x_axis(sketch)
    found = _weight(body, g_m_s2) if upright else []
    for load in sketch.loads:
        if load.body == body_id and (upright or not weighs(load)):
            found.append(_load(load, body, placed(load.place_m), g_m_s2, x_axis))
    for support in sketch.supports:
        if support.body == body_id:
            found.extend(_support(support, body, placed(support.place_m), x_axis))
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


def senses(angle_deg: float, x_axis: Vector = axes.LEVEL) -> Vector:
    """The assumed senses (±1, ±1) of two components, along these axes, drawn into the quadrant of an angle."""
    along = axes.along(direction(angle_deg), x_axis)
    nothing = -axes.SQUARE_TOLERANCE
    return (-1.0 if along[0] < nothing else 1.0, -1.0 if along[1] < nothing else 1.0)


def _as_guessed(along: Vector, guess: Vector | None, x_axis: Vector) -> Vector:
    """The assumed senses of two components as a hand drew them: a guess is the arrow the working starts from.

    A part the guess does not have keeps the sense it had.
    """
    if guess is None:
        return along
    parts = axes.along(guess, x_axis)
    nothing = axes.SQUARE_TOLERANCE * math.hypot(*guess)
    x, y = (old if abs(part) <= nothing else math.copysign(1.0, part) for part, old in zip(parts, along, strict=True))
    return (x, y)


def _line_as_guessed(along: Vector, guess: Vector | None) -> Vector:
    """A line drawn the way the guess along it points; for a force that can act both ways."""
    against = guess is not None and guess[0] * along[0] + guess[1] * along[1] < 0.0
    return (-along[0], -along[1]) if against else along


def _weight(body: Body, g_m_s2: float) -> list[ActingForce]:
    if body.weight_symbol_only:
        size_n = None
    elif body.weight_n is not None:
        size_n = body.weight_n
    elif body.mass_kg is not None:
        size_n = body.mass_kg * g_m_s2
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
        along = senses(load.direction_deg, x_axis)
    one_way = load.one_way and load.sought == "size"
    guess, guess_couple = _guess(load.guess, load.sought == "couple")
    turn = 0
    if along is None:
        turn = -1 if guess_couple is not None and guess_couple < 0.0 else 1
    elif load.sought == "size and direction":
        along = _as_guessed(along, guess, x_axis)
    elif not one_way:
        along = _line_as_guessed(along, guess)
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
    _, guess_couple = _guess(load.guess, True)
    if guess_couple:
        sense = 1 if guess_couple > 0.0 else -1
    return ActingForce(
        load.id, load.id, load.symbol, "other", load.agent, body.name, "unknown", "couple", point,
        None, False, None, None, None, guess_couple, sense,
    )  # fmt: skip


def _guess(guess: Guess | None, couple: bool) -> tuple[Vector | None, float | None]:
    if guess is None:
        return None, None
    if couple:
        return None, guess.couple_n_m
    along = direction(guess.direction_deg)
    return (guess.size_n * along[0], guess.size_n * along[1]), None


def _support(support: Support, body: Body, point: Point, x_axis: Vector) -> list[ActingForce]:
    guess, _ = _guess(support.guess, False)
    kind = support.kind
    if kind in ("pin", "fixed"):
        along = (1.0, 1.0) if support.drawn_deg is None else senses(support.drawn_deg, x_axis)
        along = _as_guessed(along, guess, x_axis)
        force = ActingForce(
            support.id, support.id, support.symbol, "pin" if kind == "pin" else "fixing force", support.agent,
            body.name, "unknown", "size and direction", point, along, False, None, None, guess, None, 0, x_axis,
        )  # fmt: skip
        if kind == "pin":
            return [force]
        _, guess_couple = _guess(support.couple_guess, True)
        couple = ActingForce(
            f"{support.id}-couple", support.id, support.couple_symbol, "fixing couple", support.agent,
            body.name, "unknown", "couple", point, None, False, None, None, None, guess_couple,
            -1 if guess_couple is not None and guess_couple < 0.0 else 1,
        )  # fmt: skip
        return [force, couple]
    backward = support.drawn_deg is not None and direction(support.drawn_deg)[0] < 0.0
    force_type: ForceType
    if kind in ("rope", "strut"):
        along = _towards(point, support)
        one_way = kind == "rope"
        force_type = "tension" if one_way else "strut"
    else:
        along = direction(support.normal_deg)
        one_way = kind == "contact" or not support.two_way
        force_type = "normal"
    if backward and not one_way:
        along = (-along[0], -along[1])
    if not one_way:
        along = _line_as_guessed(along, guess)
    return [
        ActingForce(
            support.id, support.id, support.symbol, force_type, support.agent, body.name, "unknown", "size", point,
            along, one_way, None, None, guess, None,
        )
    ]  # fmt: skip


def _towards(point: Point, support: Support) -> Vector:
    """Unit vector to the anchor. A line of no length, as when a hand drags through it, keeps `normal_deg`."""
    if support.anchor_m is not None:
        x, y = support.anchor_m[0] - point[0], support.anchor_m[1] - point[1]
        size = math.hypot(x, y)
        if size > NO_LENGTH * max(abs(point[0]), abs(point[1])):
            return (x / size, y / size)
    return direction(support.normal_deg)
