"""The instant of release of joined bodies: how each of them starts to move when the whole is let go."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

from ..model import Sketch
from ..statics.joined import connected
from ..statics.reading import ActingForce
from ..statics.structure import front_id
from .collapsing import Collapsing, collapsings
from .gripping import count_modes
from .held import Held, Touched, one_held, one_touching
from .member import Member, Part, along_line, lines_of, members_of, parts_of
from .refusing import refusal, without_mass
from .released import Grip, Release
from .riding import ridden, riders_agree
from .starting import Start, acceleration_at, subsets
from .touching import both_ways, touches_of

# Beyond so many things on all bodies, and so many modes with these, they are not all tried.
MOST_RIDERS = 6
MOST_WHOLE_MODES = 512


class _Outcome(NamedTuple):
    members: list[Member]
    left: frozenset[str]
    one: Collapsing


def collapse(sketch: Sketch, body_id: str) -> Release:
    """What starts when the body and all that is joined to it are let go from rest. Told of the body, and of each."""
    parts = parts_of(sketch, connected(sketch, (body_id,)))
    for part in parts:
        body = sketch.body(part.body)
        trouble = refusal(sketch, body, part.acting, part.own, joined=True)
        if trouble:
            return _without_answer(parts, body_id, trouble)
    riders = [rider for part in parts for rider in part.riders]
    if len(riders) > MOST_RIDERS:
        return _without_answer(
            parts, body_id, f"More than {MOST_RIDERS} things stand on it: too many to try which are left behind."
        )
    if count_modes(lines_of(members_of(parts, ())).touches) * 2 ** len(riders) > MOST_WHOLE_MODES:
        trouble = "It touches, or hangs by ropes, at too many places to try what each of them does."
        return _without_answer(parts, body_id, trouble)
    tried = 0
    outcomes: list[_Outcome] = []
    for chosen in subsets(riders, len(riders)):
        left = frozenset(force.id for force, _ in chosen)
        members = members_of(parts, left)
        made, count = collapsings(members)
        tried += count
        for one in made:
            starts = _starts(members, left, one)
            g_m_s2 = sketch.settings.g_m_s2
            if all(riders_agree(start, part.riders, g_m_s2) for start, part in zip(starts, parts, strict=True)):
                outcomes.append(_Outcome(members, left, one))
    if not outcomes:
        return _without_answer(parts, body_id, _nothing_agrees(sketch, parts))
    first = outcomes[0]
    for part, sure in zip(parts, first.one.settled, strict=True):
        if not sure:
            return _without_answer(parts, body_id, without_mass(sketch.body(part.body)))
    return _read(parts, body_id, outcomes, tried)


def _without_answer(parts: Sequence[Part], body_id: str, trouble: str) -> Release:
    own = next(part.own for part in parts if part.body == body_id)
    return Release(body_id, trouble, own=own)


def _nothing_agrees(sketch: Sketch, parts: Sequence[Part]) -> str:
    for part in parts:
        if part.own is None:
            return without_mass(sketch.body(part.body))
    return "Whatever holds, slips, lifts or is left behind, no way agrees with itself: rigid bodies have none here."


def _starts(members: Sequence[Member], left: frozenset[str], one: Collapsing) -> list[Start]:
    return [
        Start(member.moving, member.radius_m, motion, scale, left)
        for member, motion, scale in zip(members, one.motions, one.scales, strict=True)
    ]


def _read(parts: Sequence[Part], body_id: str, outcomes: Sequence[_Outcome], tried: int) -> Release:
    first = outcomes[0]
    apart = [first]
    for each in outcomes[1:]:
        if all(_differ(parts, each, other) for other in apart):
            apart.append(each)
    starts = _starts(first.members, first.left, first.one)
    held = [_held(number, first) for number in range(len(parts))]
    unique = all(each.vector is not None or each.couple_n_m is not None for own in held for each in own)
    told = []
    for part, member, start, own in zip(parts, first.members, starts, held, strict=True):
        alpha = start.motion[2] / start.radius_m
        centre = member.moving.centre_m if part.own is None else part.own.centre_m
        acceleration = acceleration_at(start, centre)
        turning = (centre[0] - acceleration[1] / alpha, centre[1] + acceleration[0] / alpha) if alpha else None
        moving = member.moving if any(member.inert) else None
        at_rest = not any(start.motion)
        told.append(
            Release(
                part.body, "", at_rest, acceleration, alpha, turning, part.own, moving, own,
                ridden(start, part.riders), tried, len(apart), unique,
            )
        )  # fmt: skip
    asked = next(each for each in told if each.body == body_id)
    return Release(
        body_id, "", asked.at_rest, asked.acceleration_m_s2, asked.alpha_rad_s2, asked.turning_centre_m, asked.own,
        asked.moving, asked.held, asked.things, tried, len(apart), unique, None, tuple(told), _grips(first.one),
    )  # fmt: skip


def _grips(one: Collapsing) -> tuple[Grip, ...]:
    return tuple(
        Grip(touch.force, touch.face, way, push)
        for touch, way, push in zip(one.lines.touches, one.ways, one.pushes, strict=True)
    )


def _differ(parts: Sequence[Part], first: _Outcome, second: _Outcome) -> bool:
    """Whether any body starts otherwise."""
    for part, one, two in zip(
        parts, _starts(first.members, first.left, first.one), _starts(second.members, second.left, second.one),
        strict=True,
    ):  # fmt: skip
        apart = math.dist(acceleration_at(one, part.centre_m), acceleration_at(two, part.centre_m))
        turning = abs(one.motion[2] / one.radius_m - two.motion[2] / two.radius_m) * part.reach_m
        if max(apart, turning) > 10.0 * max(one.scale, two.scale):
            return True
    return False


def _held(number: int, outcome: _Outcome) -> tuple[Held, ...]:
    """What each unknown on one body does."""
    member = outcome.members[number]
    either_way = {force.id for force in both_ways(member.acting)}
    return tuple(
        _either_way(force, outcome.one) if force.id in either_way else _touching(force, number, outcome)
        for force in member.acting
        if force.role == "unknown"
    )


def _either_way(force: ActingForce, one: Collapsing) -> Held:
    front = front_id(force)
    found = [value for (name, _), value in one.holds.items() if name == front]
    if force.back and force.sought != "size":
        found = [None if value is None else 0.0 - value for value in found]
    return one_held(force, 0.0, found, one.lines.levers.get(front, 0.0))


def _touching(force: ActingForce, number: int, outcome: _Outcome) -> Held:
    """A one-way force, or friction, from what happens at its touches."""
    member, one = outcome.members[number], outcome.one
    fronts = {each.id: front_id(each) for each in member.acting}
    own = [touch for touch in touches_of(member.acting) if force.id in (touch.force, touch.friction)]
    touched = []
    for touch in own:
        place = one.lines.numbers[fronts[touch.force], touch.face]
        if force.type == "friction":
            x, y = force.along or touch.tangent
            sense = 1.0 if x * touch.tangent[0] + y * touch.tangent[1] > 0.0 else -1.0
            parting = sense * along_line(one.lines.along[place], one.motions)
        else:
            parting = along_line(one.lines.across[place], one.motions)
        touched.append(Touched(touch.point, one.ways[place], one.pushes[place], parting))
    nothing = max(
        outcome.one.scales[body] for body in one.lines.across[one.lines.numbers[fronts[own[0].force], own[0].face]]
    )
    return one_touching(force, touched, one.sizes[front_id(force)], own[0].tangent, nothing)
