"""The instant of release: how a body at rest starts to move when it is let go, its supports remaining.

Every support keeps its place: it is a condition on the body's acceleration, and gives what force that needs. What acts
one way only (rope, contact, one-way roller) either holds, with no motion out of it and a force of the right sense, or
lets go, with no force. Among the modes there is one acceleration that agrees with all of it: the nearest, in the
measure of the masses, to that of the free body (Gauss, 1829, least constraint; for one-way supports Moreau, 1966).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from typing import NamedTuple

from ..geometry import Point
from ..model import Body, Sketch
from ..program import ROUNDING_TOLERANCE, Program
from ..statics import shape
from ..statics.equilibrium import analyse
from ..statics.isolate import acting_forces, find_body
from ..statics.joined import is_joined
from ..statics.reading import ActingForce
from ..statics.system import System, answer, assemble
from .collapse import collapse
from .gripping import MOST_MODES, Gripped, count_modes, starts_with_friction
from .held import Held, held_by, held_by_friction, one_held
from .inertia import Inertia, inertia
from .refusing import refusal
from .released import Release
from .riding import MOST_THINGS, Rider, ridden, riders_agree, riders_of
from .starting import Start, acceleration_at, started, subsets
from .touching import touches_of


class Outcome(NamedTuple):
    """One way to start that agrees with itself: with what its supports do, and whether their forces have one value."""

    start: Start
    held: tuple[Held, ...]
    unique: bool
    gripped: Gripped | None = None


def release(sketch: Sketch, body_id: str | None = None) -> Release:
    """What starts when the body (the first one by default) is let go from rest.

    Known arrows keep size and direction. What has no answer says so in `trouble`. Raises SteelyardError
    `statics.no-body` when there is no such body.
    """
    sketch = without_conditions(sketch)
    body = find_body(sketch, body_id)
    if is_joined(sketch, (body.id,)):
        return collapse(sketch, body.id)
    acting = acting_forces(sketch, body.id)
    own = inertia(body, sketch.settings.g_m_s2)
    trouble = refusal(sketch, body, acting, own, joined=False)
    if trouble or own is None:
        resting = _resting(body, acting, own)
        return Release(body.id, trouble, own=own) if resting is None else resting
    riders = riders_of(sketch, body, acting)
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
        outcomes += [each for each in made if riders_agree(each.start, riders, g_m_s2)]
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
    own: Inertia, acting: Sequence[ActingForce], riding: Sequence[Rider], left: frozenset[str]
) -> tuple[list[Outcome], int]:
    start, count = started(own, acting, riding, left)
    return ([] if start is None else [Outcome(start, *held_by(acting, start))]), count


def _rough(
    own: Inertia, acting: Sequence[ActingForce], riding: Sequence[Rider], left: frozenset[str]
) -> tuple[list[Outcome], int]:
    found, count = starts_with_friction(own, acting, riding, left)
    return [Outcome(each.start, *held_by_friction(acting, each), each) for each in found], count


def _nothing_agrees(riders: Sequence[Rider], rough: bool) -> str:
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
    program = Program(system.columns, right_side, system.one_way, system.bounds, system.known_scale_n)
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


def _read(
    body: Body,
    own: Inertia,
    riders: Sequence[Rider],
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
        ridden(start, riders),
        tried,
        1 + len(apart),
        outcomes[0].unique,
        outcomes[0].gripped,
    )


def _differs(first: Start, second: Start, centre: Point) -> bool:
    here, there = acceleration_at(first, centre), acceleration_at(second, centre)
    turning = abs(first.motion[2] / first.radius_m - second.motion[2] / second.radius_m) * second.radius_m
    return max(math.dist(here, there), turning) > 10.0 * max(first.scale, second.scale)
