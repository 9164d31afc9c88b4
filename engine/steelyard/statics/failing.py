"""Where there is no balance: what is lacking, and the ways in which the supports let the body go.

A small motion on which no support can do negative work, while the loads do positive work, proves that there is no
balance (Farkas, 1902); when there is none, such a motion exists. Each one gives every contact a mode: it holds, slips,
lifts off, tips over an end, or its rope goes slack. Those that cannot be put together from others are the ways in which
it can fail. For one body every mode of every contact is tried: such a motion leaves two of the extreme forces without
work, so all pairs of these are looked at. Which motion really starts depends on masses: see `release`.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import combinations

from .. import linear
from ..geometry import Vector
from .conditions import program_of, scale
from .reading import ActingForce, Lack, Mode, Way
from .system import ROUNDING_TOLERANCE, Answer, Bound, System

Motion = tuple[float, ...]

# Of a motion whose largest part is one: what a unit force does on it within this is no work.
NO_WORK = 1e-9
# Pairs of extreme forces of one body that are looked at; with more, one motion of the linear program is enough.
MOST_PAIRS = 2000


def lacks(acting: Sequence[ActingForce], system: System, answers: Answer) -> tuple[Lack, ...]:
    """What the supports that fail would need, and what is there; with many answers, those that lack least in all."""
    values: Sequence[float | None] = answers.values
    if any(value is None for value in values):
        values = program_of(system).outcome.values
    known = [value or 0.0 for value in values]
    found = []
    for column in answers.wrong_way:
        if column < len(system.owners):
            found.append(Lack(acting[system.owners[column][0]].id, "sense", known[column], 0.0))
    for bound in system.bounds:
        if bound.column not in answers.beyond:
            continue
        position, part = system.owners[bound.column]
        force = acting[position]
        pressed = max(0.0, known[bound.normal])
        needed = abs(known[bound.column])
        if part == "place" and force.face is not None:
            half = math.dist(*force.face) / 2.0
            away = needed * system.lever_m / pressed if pressed else math.inf
            found.append(Lack(force.id, "place", away, half))
        else:
            found.append(Lack(force.id, "friction", needed, bound.factor * pressed))
    return tuple(found)


def ways(acting: Sequence[ActingForce], system: System) -> tuple[Way, ...]:
    """The motions by which it fails that are not made up of others, those on which the loads do most work first."""
    found = []
    for motion, work in _motions(system):
        modes = _modes(acting, system, motion)
        if not any(mode.moves for mode in modes):
            continue
        if all(modes != other.modes for _, other in found):
            found.append((work, Way(motion, modes)))
    return tuple(way for _, way in sorted(found, key=lambda each: -each[0]))


def _motions(system: System) -> list[tuple[Motion, float]]:
    """Motions, the largest part one, with what the known forces do on them over the largest of these."""
    size = scale(system, ())
    if not size:
        return []
    candidates: Iterator[Motion] | Sequence[Motion]
    candidates = _extreme(system) if len(system.known) == 3 else ()
    found: list[tuple[Motion, float]] = []
    for motion in candidates:
        work = _dot(motion, system.known) / size
        if work > ROUNDING_TOLERANCE and all(math.dist(motion, other) > 1e-7 for other, _ in found):
            found.append((motion, work))
    if not found:
        motion = program_of(system).outcome.motion or ()
        if motion:
            found.append((motion, _dot(motion, system.known) / size))
    return found


def _extreme(system: System) -> Iterator[Motion]:
    """The motions of one body that cannot be put together from others, on which no support does negative work."""
    free, pushing = _generators(system)
    base = linear.factor(free, 3)
    if base.rank == 3:
        return
    pairs: Iterator[tuple[Sequence[float], ...]] = combinations(pushing, 2 - base.rank) if base.rank <= 2 else iter(())
    for count, pair in enumerate(pairs):
        if count > MOST_PAIRS:
            return
        factors = linear.factor([*free, *pair], 3)
        if factors.rank != 2:
            continue
        axis = linear.left_null_space(factors)[0]
        for sense in (1.0, -1.0):
            if all(sense * _dot(axis, force) >= -NO_WORK * math.hypot(*force) for force in pushing):
                most = max(map(abs, axis))
                yield tuple(sense * part / most for part in axis)


def _generators(system: System) -> tuple[list[Sequence[float]], list[Sequence[float]]]:
    """Unit wrenches that can act both ways, and those that can act one way: every other is a sum of these.

    A contact is the sum of a few extreme ones: full friction one way or the other, at one end of its face or the other.
    """
    bounded: dict[int, list[Bound]] = {}
    for bound in system.bounds:
        bounded.setdefault(bound.normal, []).append(bound)
    within = {bound.column for bound in system.bounds}
    free: list[Sequence[float]] = []
    pushing: list[Sequence[float]] = []
    for column, wrench in enumerate(system.columns):
        if column in within:
            continue
        if column in bounded:
            corners: list[Sequence[float]] = [wrench]
            for bound in bounded[column]:
                corners = [
                    [part + sense * bound.factor * share for part, share in zip(corner, side, strict=True)]
                    for corner in corners
                    for side in (system.columns[bound.column],)
                    for sense in ((1.0, -1.0) if bound.factor else (1.0,))
                ]
            pushing += corners
        elif system.one_way[column]:
            pushing.append(wrench)
        else:
            free.append(wrench)
    return free, pushing


def _modes(acting: Sequence[ActingForce], system: System, motion: Motion) -> tuple[Mode, ...]:
    """What a motion does at every support that can let go."""
    bounded: dict[int, dict[str, Bound]] = {}
    for bound in system.bounds:
        kind = "place" if system.owners[bound.column][1] == "place" else "friction"
        bounded.setdefault(bound.normal, {})[kind] = bound
    tied = {column: position for position, column, _ in system.tied}
    found = []
    for column, (position, part) in enumerate(system.owners):
        if part != "size" or not (system.one_way[column] or column in bounded):
            continue
        if any(column == bound.column for bound in system.bounds):
            continue
        force = acting[position]
        out = _dot(motion, system.columns[column])
        friction, place = (bounded.get(column, {}).get(kind) for kind in ("friction", "place"))
        slip = 0.0 if friction is None else _dot(motion, system.columns[friction.column])
        turn = 0.0 if place is None else _dot(motion, system.columns[place.column]) * place.factor
        spare = out - (0.0 if friction is None else friction.factor * abs(slip)) - abs(turn)
        if spare > NO_WORK:
            found.append(Mode(force.id, "goes slack" if force.type == "tension" else "lifts off", (0.0, 0.0), None))
            continue
        way: Vector = (0.0, 0.0)
        if friction is not None and abs(slip) > NO_WORK:
            along = acting[system.owners[friction.column][0]].along or (0.0, 0.0)
            way = (math.copysign(1.0, slip) * along[0], math.copysign(1.0, slip) * along[1])
        end = None
        if place is not None and abs(turn) > NO_WORK and force.face is not None:
            end = force.face[pressed_end(force, -turn)]
        kind = "slips" if any(way) else "tips" if end is not None else "holds"
        if any(way) and end is not None:
            kind = "slips and tips"
        # A contact already about to slip, or about to tip, does so without being asked.
        if kind == "holds" and column in tied:
            kind = "slips"
            along = acting[tied[column]].along or (0.0, 0.0)
            way = (0.0 - along[0], 0.0 - along[1])
        found.append(Mode(force.id, kind, way, end))
    return tuple(found)


def pressed_end(force: ActingForce, torque: float) -> int:
    """Which end of its face a normal presses on when its torque about the middle has this sign."""
    assert force.face is not None and force.along is not None
    (start_x, start_y), (end_x, end_y) = force.face
    turn = (end_x - start_x) * force.along[1] - (end_y - start_y) * force.along[0]
    return 1 if torque * turn > 0.0 else 0


def _dot(first: Sequence[float], second: Sequence[float]) -> float:
    return sum(mine * theirs for mine, theirs in zip(first, second, strict=True))
