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
from typing import NamedTuple

from ..geometry import Point, Vector
from ..model import Body, Sketch, SpreadLoad, Thing
from ..program import Bound, Program
from . import shape
from .equilibrium import analyse
from .gripping import MOST_MODES, Gripped, count_modes, starts_with_friction
from .held import Held, held_by, held_by_friction, one_held
from .inertia import Inertia, inertia
from .isolate import acting_forces, find_body
from .joined import is_joined
from .reading import ActingForce
from .starting import Start, acceleration_at, started, subsets
from .system import ROUNDING_TOLERANCE, System, answer, assemble
from .touching import touches_of

# Beyond this many things on one body their modes are not all tried.
MOST_THINGS = 10


class Riding(NamedTuple):
    """A thing on the body: it rides along as a point mass, pushing with `push_n`, or is left behind in the air."""

    force: ActingForce
    mass_kg: float
    place_m: Point
    left: bool
    push_n: Vector


class Outcome(NamedTuple):
    """One way to start that agrees with itself: with what its supports do, and whether their forces have one value."""

    start: Start
    held: tuple[Held, ...]
    unique: bool
    gripped: Gripped | None = None


@dataclass(frozen=True, slots=True)
class Release:
    """How a body starts to move. With `trouble` there is no answer, and the sentence says why.

    `acceleration_m_s2` is that of the body's centre of mass, `alpha_rad_s2` positive counterclockwise. `moving` is the
    body with what rides on it. `turning_centre_m` is the point that starts without acceleration, None where it does not
    turn. `modes_tried` counts the contact modes looked at; `agreeing` those that agree with themselves: one, or the
    outcome is not certain. `unique`: every reaction has a single value. `gripped`: what each touch does, where there is
    friction or a face.
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
    gripped: Gripped | None = None


def release(sketch: Sketch, body_id: str | None = None) -> Release:
    """What starts when the body (the first one by default) is let go from rest.

    Known arrows keep size and direction. What has no answer says so in `trouble`. Raises SteelyardError
    `statics.no-body` when there is no such body.
    """
    sketch = without_conditions(sketch)
    body = find_body(sketch, body_id)
    if is_joined(sketch, (body.id,)):
        name = body.name or "body"
        return Release(body.id, f"The {name} is joined to another body: letting go is of a body that stands alone.")
    acting = acting_forces(sketch, body.id)
    own = inertia(body, sketch.settings.g_m_s2)
    trouble = _trouble(sketch, body, acting, own)
    if trouble or own is None:
        resting = _resting(body, acting, own)
        return Release(body.id, trouble, own=own) if resting is None else resting
    riders = _riders(sketch, body, acting)
    if len(riders) > MOST_THINGS:
        return Release(body.id, f"More than {MOST_THINGS} things stand on it: too many to try which are left behind.")
    rough = any(force.type == "friction" or force.face is not None for force in acting)
    if rough and count_modes(touches_of(acting)) > MOST_MODES:
        return Release(body.id, "It touches at too many rough places to try whether each sticks or slips.", own=own)
    tried = 0
    outcomes: list[Outcome] = []
    g_m_s2 = sketch.settings.g_m_s2
    for left in subsets(riders, len(riders)):
        names = frozenset(rider.id for rider, _ in left)
        along = [each for each in riders if each not in left]
        made, count = _rough(own, acting, along, names) if rough else _smooth(own, acting, along, names)
        tried += count
        outcomes += [each for each in made if _riders_agree(each.start, riders, g_m_s2)]
    if not outcomes:
        return Release(body.id, _nothing_agrees(riders, rough), own=own)
    found = _read(body, own, riders, outcomes, tried)
    return _at_rest(found) if not found.at_rest and _is_rounding(sketch, body, acting) else found


def without_conditions(sketch: Sketch) -> Sketch:
    """The sketch without impending motions: what is let go finds out for itself what slips."""
    if not any(support.about_to for support in sketch.supports):
        return sketch
    return replace(sketch, supports=tuple(replace(support, about_to="") for support in sketch.supports))


def _smooth(
    own: Inertia, acting: Sequence[ActingForce], riding: Sequence[tuple[ActingForce, float]], left: frozenset[str]
) -> tuple[list[Outcome], int]:
    start, count = started(own, acting, riding, left)
    return ([] if start is None else [Outcome(start, *held_by(acting, start))]), count


def _rough(
    own: Inertia, acting: Sequence[ActingForce], riding: Sequence[tuple[ActingForce, float]], left: frozenset[str]
) -> tuple[list[Outcome], int]:
    found, count = starts_with_friction(own, acting, riding, left)
    return [Outcome(each.start, *held_by_friction(acting, each), each) for each in found], count


def _nothing_agrees(riders: Sequence[tuple[ActingForce, float]], rough: bool) -> str:
    if not rough:
        return "Whether what stands on it rides along or is left behind, no way agrees with itself: it would slide."
    modes = "sticks, slips or lifts at its rough places"
    if riders:
        modes += ", and what stands on it rides along or is left behind"
    return f"Whether it {modes}, no way agrees with itself: rigid bodies with such friction have no answer here."


def _is_rounding(sketch: Sketch, body: Body, acting: Sequence[ActingForce]) -> bool:
    """Whether what moves it is no more than the rounding of the arrows' figures."""
    if any(force.guess is not None or force.guess_couple_n_m is not None for force in acting):
        return False
    return analyse(sketch, bodies=(body.id,)).balance.kind == "to-the-figures"


def _at_rest(found: Release) -> Release:
    return replace(found, at_rest=True, acceleration_m_s2=(0.0, 0.0), alpha_rad_s2=0.0, turning_centre_m=None)


def _resting(body: Body, acting: Sequence[ActingForce], own: Inertia | None) -> Release | None:
    """What is held in balance stays at rest, whatever its mass; None where it is not held, or where that is open."""
    system = assemble(acting, shape.axis(body))
    answers = answer(system)
    if answers.consistent is not True or answers.wrong_way or (system.letters and any(system.one_way)):
        return None
    if system.bounds:
        return _resting_rough(body, acting, own, system)
    found: dict[int, list[float | None]] = {}
    for (position, _), value in zip(system.owners, answers.values, strict=True):
        found.setdefault(position, []).append(value)
    held = tuple(one_held(acting[position], 0.0, values, system.lever_m) for position, values in found.items())
    return Release(body.id, "", True, own=own, held=held, modes_tried=1, agreeing=1, unique=all(answers.fixed))


def _resting_rough(body: Body, acting: Sequence[ActingForce], own: Inertia | None, system: System) -> Release | None:
    """The same where friction, or the length of a face, is limited."""
    right_side = [-part for part in system.known]
    bounds = [Bound(*bound) for bound in system.bounds]
    program = Program(system.columns, right_side, system.one_way, bounds, system.known_scale_n)
    if not program.outcome.admissible:
        return None
    found: dict[int, list[float | None]] = {}
    for index, (position, part) in enumerate(system.owners):
        if part != "place":
            reach = program.range_of({index: 1.0})
            sure = reach.greatest.value - reach.least.value <= ROUNDING_TOLERANCE * system.known_scale_n
            found.setdefault(position, []).append(reach.least.value if sure else None)
    held = tuple(one_held(acting[position], 0.0, values, system.lever_m) for position, values in found.items())
    sure = all(value is not None for values in found.values() for value in values)
    return Release(body.id, "", True, own=own, held=held, modes_tried=1, agreeing=1, unique=sure)


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
    own: Inertia,
    riders: Sequence[tuple[ActingForce, float]],
    outcomes: Sequence[Outcome],
    tried: int,
) -> Release:
    start = outcomes[0].start
    apart: list[Start] = []
    for each in outcomes:
        if all(_differs(each.start, other, own.centre_m) for other in (start, *apart)):
            apart.append(each.start)
    alpha = start.motion[2] / start.radius_m
    acceleration = acceleration_at(start, own.centre_m)
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
        outcomes[0].held,
        tuple(things),
        tried,
        1 + len(apart),
        outcomes[0].unique,
        outcomes[0].gripped,
    )


def _differs(first: Start, second: Start, centre: Point) -> bool:
    here, there = acceleration_at(first, centre), acceleration_at(second, centre)
    turning = abs(first.motion[2] / first.radius_m - second.motion[2] / second.radius_m) * second.radius_m
    return max(math.dist(here, there), turning) > 10.0 * max(first.scale, second.scale)
