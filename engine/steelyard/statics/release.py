"""The instant of release: how a body at rest starts to move when it is let go, its supports remaining.

Every support keeps its place: it is a condition on the body's acceleration, and gives what force that needs. What acts
one way only (rope, contact, one-way roller) either holds, with no motion out of it and a force of the right sense, or
lets go, with no force. Among the modes there is one acceleration that agrees with all of it: the nearest, in the
measure of the masses, to that of the free body (Gauss, 1829, least constraint; for one-way supports Moreau, 1966).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal, NamedTuple

from .. import linear
from ..geometry import Point, Vector
from ..model import Body, Sketch, SpreadLoad, Thing
from . import shape
from .equilibrium import analyse
from .inertia import Inertia, inertia
from .isolate import acting_forces, find_body
from .reading import ActingForce
from .starting import NOTHING, Column, Start, acceleration_at, applied_to, columns_of, out_of, started, subsets
from .system import answer, assemble

Mode = Literal["holds", "touches", "lets go"]

# Beyond this many things on one body their modes are not all tried.
MOST_THINGS = 10


class Held(NamedTuple):
    """An unknown force at the instant of release.

    `mode`: holds; touches (it neither pushes nor lets go); or lets go. `vector` is the force on the body, or
    `couple_n_m`, None where that is left open. `parting_m_s2`: how fast the body starts out of it.
    """

    force: ActingForce
    mode: Mode
    vector: Vector | None
    couple_n_m: float | None
    parting_m_s2: float


class Riding(NamedTuple):
    """A thing on the body: it rides along as a point mass, pushing with `push_n`, or is left behind in the air."""

    force: ActingForce
    mass_kg: float
    place_m: Point
    left: bool
    push_n: Vector


@dataclass(frozen=True, slots=True)
class Release:
    """How a body starts to move. With `trouble` there is no answer, and the sentence says why.

    `acceleration_m_s2` is that of the body's centre of mass, `alpha_rad_s2` positive counterclockwise. `moving` is the
    body with what rides on it. `turning_centre_m` is the point that starts without acceleration, None where it does not
    turn. `modes_tried` counts the contact modes looked at; `agreeing` those that agree with themselves: one, or the
    outcome is not certain. `unique`: every reaction has a single value.
    """

    body: str
    trouble: str
    at_rest: bool = False
    acceleration_m_s2: Vector = (0.0, 0.0)
    alpha_rad_s2: float = 0.0
    turning_centre_m: Point | None = None
    own: Inertia | None = None
    moving: Inertia | None = None
    held: tuple[Held, ...] = ()
    things: tuple[Riding, ...] = ()
    modes_tried: int = 0
    agreeing: int = 0
    unique: bool = True


def release(sketch: Sketch, body_id: str | None = None) -> Release:
    """What starts when the body (the first one by default) is let go from rest.

    Known arrows keep size and direction. What has no answer says so in `trouble`. Raises SteelyardError
    `statics.no-body` when there is no such body.
    """
    body = find_body(sketch, body_id)
    acting = acting_forces(sketch, body.id)
    own = inertia(body, sketch.settings.g_m_s2)
    trouble = _trouble(sketch, body, acting, own)
    if trouble or own is None:
        resting = _resting(body, acting, own)
        return Release(body.id, trouble, own=own) if resting is None else resting
    riders = _riders(sketch, body, acting)
    if len(riders) > MOST_THINGS:
        return Release(body.id, f"More than {MOST_THINGS} things stand on it: too many to try which are left behind.")
    tried = 0
    starts: list[Start] = []
    g_m_s2 = sketch.settings.g_m_s2
    for left in subsets(riders, len(riders)):
        names = frozenset(rider.id for rider, _ in left)
        start, count = started(own, acting, [each for each in riders if each not in left], names)
        tried += count
        if start is not None and _riders_agree(start, riders, g_m_s2):
            starts.append(start)
    if not starts:
        return Release(
            body.id,
            "Whether what stands on it rides along or is left behind, no way agrees with itself: it would slide.",
            own=own,
        )
    found = _read(body, acting, own, riders, starts, tried)
    return _at_rest(found) if not found.at_rest and _is_rounding(sketch, body, acting) else found


def _is_rounding(sketch: Sketch, body: Body, acting: Sequence[ActingForce]) -> bool:
    """Whether what moves it is no more than the rounding of the arrows' figures."""
    if any(force.guess is not None or force.guess_couple_n_m is not None for force in acting):
        return False
    return analyse(sketch, body_id=body.id).balance.kind == "to-the-figures"


def _at_rest(found: Release) -> Release:
    return replace(found, at_rest=True, acceleration_m_s2=(0.0, 0.0), alpha_rad_s2=0.0, turning_centre_m=None)


def _resting(body: Body, acting: Sequence[ActingForce], own: Inertia | None) -> Release | None:
    """What is held in balance stays at rest, whatever its mass; None where it is not held, or where that is open."""
    system = assemble(acting, shape.axis(body))
    answers = answer(system)
    if answers.consistent is not True or answers.wrong_way or (system.letters and any(system.one_way)):
        return None
    found: dict[int, list[float | None]] = {}
    for (position, _), value in zip(system.owners, answers.values, strict=True):
        found.setdefault(position, []).append(value)
    held = tuple(_one_held(acting[position], 0.0, values, system.lever_m) for position, values in found.items())
    return Release(body.id, "", True, own=own, held=held, modes_tried=1, agreeing=1, unique=all(answers.fixed))


def _trouble(sketch: Sketch, body: Body, acting: Sequence[ActingForce], own: Inertia | None) -> str:
    """Why there is no answer, or nothing."""
    name = body.name or "body"
    acts = {force.id for force in acting if force.size_n != 0.0}
    for load in sketch.loads:
        # Its weight is known, but the mass that goes with it is not counted in the body's moment of inertia.
        if isinstance(load, SpreadLoad) and load.acts == "weight" and load.id in acts:
            return f"{load.symbol} is own weight spread along the {name}: letting go needs it as mass of the {name}."
    for load in sketch.loads:
        if sketch.settings.seen_from == "above" and isinstance(load, Thing) and load.body == body.id and load.mass_kg:
            return f"Seen from above nothing says whether the {load.name or 'thing'} rides along with the {name}."
    if own is None:
        return f"The {name} has no mass in numbers: without it nothing says how fast it would start. Give it a mass."
    if own.moment_kg_m2 == 0.0:
        return f"The {name} has no extent: nothing says how fast it would turn."
    letters = [
        force.symbol for force in acting if force.role == "known" and force.size_n is None and force.couple_n_m is None
    ]
    if letters:
        return f"The size of {letters[0]} is a letter only: letting go needs its number."
    supports = {support.id for support in sketch.supports}
    drawn = [force.symbol for force in acting if force.role == "unknown" and force.entity not in supports]
    if drawn:
        return f"{drawn[0]} is drawn as an unknown arrow: letting go needs the support that it stands for."
    return ""


def _riders(sketch: Sketch, body: Body, acting: Sequence[ActingForce]) -> list[tuple[ActingForce, float]]:
    """The things that act on the body, with their masses; those without mass do nothing."""
    by_id = {force.id: force for force in acting}
    return [
        (by_id[load.id], load.mass_kg)
        for load in sketch.loads
        if isinstance(load, Thing) and load.body == body.id and load.id in by_id and load.mass_kg
    ]


def _riders_agree(start: Start, riders: Sequence[tuple[ActingForce, float]], g_m_s2: float) -> bool:
    """What rides is pushed up by the body, what is left behind is not caught up with."""
    for force, _ in riders:
        pushed = acceleration_at(start, force.point)[1] + g_m_s2
        if (pushed > start.scale) if force.id in start.left else (pushed < -start.scale):
            return False
    return True


def _read(
    body: Body,
    acting: Sequence[ActingForce],
    own: Inertia,
    riders: Sequence[tuple[ActingForce, float]],
    starts: Sequence[Start],
    tried: int,
) -> Release:
    start = starts[0]
    apart = [each for each in starts if _differs(each, start, own.centre_m)]
    alpha = start.motion[2] / start.radius_m
    acceleration = acceleration_at(start, own.centre_m)
    held, unique = _held(acting, start)
    things = []
    for force, mass in riders:
        x, y = acceleration_at(start, force.point)
        left = force.id in start.left
        weight = force.size_n or 0.0
        push = (0.0, 0.0) if left else (0.0 - mass * x, 0.0 - mass * y - weight)
        things.append(Riding(force, mass, force.point, left, push))
    x, y = own.centre_m
    centre = (x - acceleration[1] / alpha, y + acceleration[0] / alpha) if alpha else None
    at_rest = not any(start.motion)
    return Release(
        body.id,
        "",
        at_rest,
        acceleration,
        alpha,
        centre,
        own,
        start.moving,
        held,
        tuple(things),
        tried,
        1 + len(apart),
        unique,
    )


def _differs(first: Start, second: Start, centre: Point) -> bool:
    here, there = acceleration_at(first, centre), acceleration_at(second, centre)
    turning = abs(first.motion[2] / first.radius_m - second.motion[2] / second.radius_m) * second.radius_m
    return max(math.dist(here, there), turning) > 10.0 * max(first.scale, second.scale)


def _held(acting: Sequence[ActingForce], start: Start) -> tuple[tuple[Held, ...], bool]:
    """What each unknown does: the forces that make the mass move as it does, where they have one value."""
    mass, centre, radius = start.moving.mass_kg, start.moving.centre_m, start.radius_m
    unknown = [force for force in acting if force.role == "unknown"]
    columns: list[Column] = []
    owners: list[str] = []
    parting: dict[str, float] = {}
    for force in unknown:
        own = columns_of(force, centre, radius)
        out = out_of(own[0], start.motion) if force.one_way else 0.0
        parting[force.id] = 0.0 if out <= start.scale * math.hypot(*own[0]) else out
        if not parting[force.id]:
            columns += own
            owners += [force.id] * len(own)
    applied, scale = applied_to(acting, start.left, centre, radius)
    needed = [mass * part - known for part, known in zip(start.motion, applied, strict=True)]
    factors = linear.factor(columns, 3)
    values, _ = linear.solve(factors, needed)
    fixed = linear.fixed_unknowns(factors)
    nothing = NOTHING * max(scale, *(abs(value) for value in values)) if values else 0.0
    found: dict[str, list[float | None]] = {}
    for owner, value, sure in zip(owners, values, fixed, strict=True):
        settled = 0.0 if abs(value) <= nothing else value
        found.setdefault(owner, []).append(settled if sure else None)
    return tuple(_one_held(force, parting[force.id], found.get(force.id, []), radius) for force in unknown), all(fixed)


def _one_held(force: ActingForce, parting: float, found: Sequence[float | None], lever_m: float) -> Held:
    """`found`: the size, or the couple over the lever, or both components; None where open."""
    if parting:
        return Held(force, "lets go", (0.0, 0.0), None, parting)
    first, along = found[0], force.along
    if along is None:
        return Held(force, "holds", None, None if first is None else first * lever_m, 0.0)
    if force.sought == "size":
        vector = None if first is None else (first * along[0], first * along[1])
        return Held(force, "touches" if force.one_way and first == 0.0 else "holds", vector, None, 0.0)
    second = found[1]
    if first is None or second is None:
        return Held(force, "holds", None, None, 0.0)
    right, up = force.x_axis
    return Held(force, "holds", (first * right - second * up, first * up + second * right), None, 0.0)
