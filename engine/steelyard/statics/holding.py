"""The unknown forces that a support stands for, on the body it holds and on the other body it joins to."""

from __future__ import annotations

import math
from collections.abc import Callable

from ..geometry import Point, Vector, direction
from ..model import Body, ForceType, Sketch, Sought, Support
from . import drawn, shape
from .reading import ActingForce

# A rope this short beside the coordinates of its ends is only their rounding: it has no direction.
NO_LENGTH = 1e-12

BACK = "-back"


def anchor(sketch: Sketch, support: Support) -> Point | None:
    """The far end of a rope or strut in the world; None for another support."""
    if support.anchor_m is None or support.other is None:
        return support.anchor_m
    return shape.world(sketch.body(support.other), support.anchor_m)


def tangent(support: Support, body: Body) -> Vector:
    """The unit vector along the surface of a contact, to the right of its normal."""
    x, y = normal(support, body)
    return (y, 0.0 - x)


def normal(support: Support, body: Body) -> Vector:
    """The unit vector in which a roller or contact pushes the body: square to its face, where it has one."""
    given = direction(support.normal_deg)
    if support.face_m is None:
        return given
    start, end = shape.world(body, support.place_m), shape.world(body, support.face_m)
    x, y = end[0] - start[0], end[1] - start[1]
    size = math.hypot(x, y)
    square = (0.0 - y / size, x / size)
    return square if square[0] * given[0] + square[1] * given[1] >= 0.0 else (0.0 - square[0], 0.0 - square[1])


def forces_of(
    sketch: Sketch, support: Support, body: Body, world: Callable[[Point], Point], x_axis: Vector
) -> list[ActingForce]:
    """What a support does to the body it is on; `world` places points of that body."""
    point = world(support.place_m)
    if support.kind in ("pin", "fixed"):
        found = _held(support, body, point, x_axis)
    elif support.kind == "contact":
        found = _contact(support, body, point, world)
    else:
        found = [_along_a_line(sketch, support, body, point)]
    if support.other is None:
        return found
    agent = support.agent or sketch.body(support.other).name
    return [force._replace(by=agent, partner=force.id + BACK) for force in found]


def forces_back(sketch: Sketch, support: Support, x_axis: Vector) -> list[ActingForce]:
    """What a support does to the other body it joins to: the same forces the other way round."""
    assert support.other is not None
    body, other = sketch.body(support.body), sketch.body(support.other)
    forces = forces_of(sketch, support, body, shape.placing(body), x_axis)
    far = anchor(sketch, support)
    # A rope or strut is itself what acts on both; at any other joint the one body acts on the other.
    by = support.agent if support.agent and support.kind in ("rope", "strut") else body.name
    return [_turned_back(force, by, other, far, support.over_m) for force in forces]


def _turned_back(force: ActingForce, by: str, other: Body, far: Point | None, over: Point | None) -> ActingForce:
    along, guess, couple = force.along, force.guess, force.guess_couple_n_m
    point = force.point if far is None else far
    if along is not None:
        along = (0.0 - along[0], 0.0 - along[1])
    if over is not None and far is not None:  # round a pulley, the rope leaves the other body along a line of its own
        along = _unit(far, over) or along
        size = None if guess is None else math.hypot(*guess)
        guess = None if size is None or along is None else (size * along[0], size * along[1])
    elif guess is not None:
        guess = (0.0 - guess[0], 0.0 - guess[1])
    return force._replace(
        id=force.id + BACK,
        by=by,
        on=other.name,
        point=point,
        along=along,
        guess=guess,
        guess_couple_n_m=None if couple is None else 0.0 - couple,
        drawn_sense=-force.drawn_sense,
        normal=force.normal and force.normal + BACK,
        partner=force.id,
        back=True,
    )


def _held(support: Support, body: Body, point: Point, x_axis: Vector) -> list[ActingForce]:
    """The two components of a pin or fixed end, and the couple of a fixed end."""
    guess, _ = drawn.guessed(support.guess, False)
    along = (1.0, 1.0) if support.drawn_deg is None else drawn.senses(support.drawn_deg, x_axis)
    along = drawn.as_guessed(along, guess, x_axis)
    force = ActingForce(
        support.id, support.id, support.symbol, "pin" if support.kind == "pin" else "fixing force", support.agent,
        body.name, "unknown", "size and direction", point, along, False, None, None, guess, None, 0, x_axis,
    )  # fmt: skip
    if support.kind == "pin":
        return [force]
    _, guess_couple = drawn.guessed(support.couple_guess, True)
    couple = ActingForce(
        f"{support.id}-couple", support.id, support.couple_symbol, "fixing couple", support.agent,
        body.name, "unknown", "couple", point, None, False, None, None, None, guess_couple,
        -1 if guess_couple is not None and guess_couple < 0.0 else 1,
    )  # fmt: skip
    return [force, couple]


def _contact(support: Support, body: Body, point: Point, world: Callable[[Point], Point]) -> list[ActingForce]:
    """The normal of a contact, at its point or somewhere on its face, and friction along it where it is rough."""
    guess, _ = drawn.guessed(support.guess, False)
    face = None if support.face_m is None else (point, world(support.face_m))
    about = support.about_to
    sought: Sought = "size" if face is None or about.startswith("tip") else "size and place"
    if face is not None:
        point = _on_face(face, about)
    pushed = normal(support, body)
    found = [
        ActingForce(
            support.id, support.id, support.symbol, "normal", support.agent, body.name, "unknown", sought, point,
            pushed, True, None, None, guess, None, face=face, about_to="" if about.startswith("slip") else about,
        )
    ]  # fmt: skip
    if support.mu is not None:
        found.append(_friction(support, body, point, pushed, face))
    return found


def middle(support: Support, body: Body) -> Point:
    """The middle (world) of the face of a contact, or the end it is about to tip over; its point without a face."""
    start = shape.world(body, support.place_m)
    if support.face_m is None:
        return start
    return _on_face((start, shape.world(body, support.face_m)), support.about_to)


def _on_face(face: tuple[Point, Point], about: str) -> Point:
    """The end a body is about to tip over, else the middle."""
    if about == "tip":
        return face[1]
    if about == "tip-back":
        return face[0]
    return ((face[0][0] + face[1][0]) / 2.0, (face[0][1] + face[1][1]) / 2.0)


def unplaced(force: ActingForce) -> ActingForce:
    """A force on a face as it is before anything is found: in its middle, or at the end it is about to tip over."""
    return force if force.face is None else force._replace(point=_on_face(force.face, force.about_to))


def _friction(
    support: Support, body: Body, point: Point, pushed: Vector, face: tuple[Point, Point] | None
) -> ActingForce:
    """Friction along the surface: its sense is found, unless the body is about to slip; then it is against that."""
    guess, _ = drawn.guessed(support.friction_guess, False)
    x, y = pushed
    along = (y, 0.0 - x)
    backward = support.drawn_deg is not None and direction(support.drawn_deg)[0] < 0.0
    if support.about_to.startswith("slip"):
        backward = support.about_to == "slip"
        guess = None
    if backward:
        along = (0.0 - along[0], 0.0 - along[1])
    along = drawn.line_as_guessed(along, guess)
    return ActingForce(
        f"{support.id}-friction", support.id, support.friction_symbol, "friction", support.agent, body.name, "unknown",
        "size", point, along, False, None, None, guess, None, mu=support.mu, normal=support.id,
        face=face, about_to=support.about_to,
    )  # fmt: skip


def _along_a_line(sketch: Sketch, support: Support, body: Body, point: Point) -> ActingForce:
    """The force of a rope, strut or roller, of unknown size on a known line."""
    guess, _ = drawn.guessed(support.guess, False)
    kind = support.kind
    force_type: ForceType
    if kind in ("rope", "strut"):
        towards = anchor(sketch, support) if support.over_m is None else support.over_m
        along = (None if towards is None else _unit(point, towards)) or direction(support.normal_deg)
        one_way = kind == "rope"
        force_type = "tension" if one_way else "strut"
    else:
        along = direction(support.normal_deg)
        one_way = not support.two_way
        force_type = "normal"
    if not one_way:
        if support.drawn_deg is not None and direction(support.drawn_deg)[0] < 0.0:
            along = (-along[0], -along[1])
        along = drawn.line_as_guessed(along, guess)
    return ActingForce(
        support.id, support.id, support.symbol, force_type, support.agent, body.name, "unknown", "size", point,
        along, one_way, None, None, guess, None, about_to=support.about_to,
    )  # fmt: skip


def _unit(start: Point, end: Point) -> Vector | None:
    """Unit vector from one point to another. None without a length, as when a hand drags an anchor through."""
    x, y = end[0] - start[0], end[1] - start[1]
    size = math.hypot(x, y)
    return (x / size, y / size) if size > NO_LENGTH * max(abs(start[0]), abs(start[1])) else None
