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
from ..program import ROUNDING_TOLERANCE, Bound
from .conditions import Unknowns
from .reading import ActingForce, Lack, Mode, ModeKind, Way

Motion = tuple[float, ...]

# Of a motion whose largest part is one: what a unit force does on it within this is no work. A motion found among
# pairs of forces is right to the last digits, and a face may be a thousand millionth of the body; a proof is not.
NO_WORK = 1e-12
NO_WORK_OF_PROOF = 1e-9
# Two rates this near to each other, of the larger one, are equal.
_EQUAL = 1e-6
# Pairs of extreme forces of one body that are looked at; with more, one motion of the linear program is enough.
MOST_PAIRS = 2000


def lacks(
    unknowns: Unknowns, values: Sequence[float | None], wrong_way: Sequence[int], beyond: Sequence[int]
) -> tuple[Lack, ...]:
    """What the supports that fail would need, and what is there, with these values of the columns."""
    known = [value or 0.0 for value in values]
    found = [Lack(unknowns.forces[unknowns.owners[each][0]].id, "sense", known[each], 0.0) for each in wrong_way]
    for bound in unknowns.bounds:
        if bound.column not in beyond:
            continue
        position, part = unknowns.owners[bound.column]
        force = unknowns.forces[position]
        needed, there = abs(known[bound.column]), bound.factor * max(0.0, known[bound.normal])
        if part == "place" and force.face is not None:
            half = math.dist(*force.face) / 2.0
            found.append(Lack(force.id, "place", half * needed / there if there else math.inf, half))
        else:
            found.append(Lack(force.id, "friction", needed, there))
    return tuple(found)


def ways(unknowns: Unknowns, proof: Motion | None) -> tuple[Way, ...]:
    """The motions by which it fails that are not made up of others, those on which the loads do most work first.

    `proof` is one motion that is known: for joined bodies the only one looked at.
    """
    found: list[tuple[float, Way]] = []
    motions = _motions(unknowns, proof)
    none = NO_WORK if motions and motions[0][0] is not proof else NO_WORK_OF_PROOF
    for motion, work in motions:
        modes = _modes(unknowns, motion, none)
        if any(mode.moves for mode in modes) and all(modes != other.modes for _, other in found):
            found.append((work, Way(motion, modes)))
    if len(found) > 1:
        away = _away(unknowns, [way.motion for _, way in found])
        if away is not None:
            return (away,)
    return tuple(way for _, way in sorted(found, key=lambda each: -each[0]))


def _away(unknowns: Unknowns, motions: Sequence[Motion]) -> Way | None:
    """Motions that together part the body from every one-way support: it does not tip one way or slip, it leaves."""
    total = [math.fsum(parts) for parts in zip(*motions, strict=True)]
    most = max(map(abs, total))
    motion = tuple(part / most for part in total) if most else ()
    modes = _modes(unknowns, motion, NO_WORK_OF_PROOF) if most else ()
    if modes and all(mode.kind in ("lifts off", "goes slack") for mode in modes):
        return Way(motion, modes)
    return None


def _motions(unknowns: Unknowns, proof: Motion | None) -> list[tuple[Motion, float]]:
    """Motions, the largest part one, with what the known forces do on them over the largest of these."""
    size = unknowns.known_scale_n
    if not size:
        return []
    found: list[tuple[Motion, float]] = []
    for motion in _extreme(unknowns) if len(unknowns.known) == 3 else ():
        work = _dot(motion, unknowns.known) / size
        if work > ROUNDING_TOLERANCE and all(math.dist(motion, other) > 1e-7 for other, _ in found):
            found.append((motion, work))
    if not found and proof is not None:
        found.append((proof, _dot(proof, unknowns.known) / size))
    return found


def _extreme(unknowns: Unknowns) -> Iterator[Motion]:
    """The motions of one body that cannot be put together from others, on which no support does negative work."""
    free, pushing = _generators(unknowns)
    base = linear.factor(free, 3)
    if base.rank == 3:
        return
    pairs: Iterator[tuple[Sequence[float], ...]] = combinations(pushing, 2 - base.rank) if base.rank <= 2 else iter(())
    for count, pair in enumerate(pairs):
        if count > MOST_PAIRS:
            return
        factors = linear.factor([*free, *_apart(pair)], 3)
        if factors.rank != 2:
            continue
        axis = linear.left_null_space(factors)[0]
        for sense in (1.0, -1.0):
            if all(sense * _dot(axis, force) >= -NO_WORK * math.hypot(*force) for force in pushing):
                most = max(map(abs, axis))
                yield tuple(sense * part / most for part in axis)


def _apart(pair: tuple[Sequence[float], ...]) -> list[Sequence[float]]:
    """The same plane by one force and the difference of the two: forces at the ends of a short face are nearly one."""
    if len(pair) < 2:
        return list(pair)
    first, second = ([part / math.hypot(*force) for part in force] for force in pair)
    apart = [there - here for here, there in zip(first, second, strict=True)]
    size = math.hypot(*apart)
    return [first, [part / size for part in apart]] if size > linear.RANK_TOLERANCE**1.5 else [first]


def _generators(unknowns: Unknowns) -> tuple[list[Sequence[float]], list[Sequence[float]]]:
    """Unit wrenches that can act both ways, and those that can act one way: every other is a sum of these.

    A contact is the sum of a few extreme ones: full friction one way or the other, at one end of its face or the other.
    """
    bounded: dict[int, list[Bound]] = {}
    for bound in unknowns.bounds:
        bounded.setdefault(bound.normal, []).append(bound)
    within = {bound.column for bound in unknowns.bounds}
    free: list[Sequence[float]] = []
    pushing: list[Sequence[float]] = []
    for column, wrench in enumerate(unknowns.columns):
        if column in within:
            continue
        if column in bounded:
            corners: list[Sequence[float]] = [wrench]
            for bound in bounded[column]:
                corners = [
                    [part + sense * bound.factor * share for part, share in zip(corner, side, strict=True)]
                    for corner in corners
                    for side in (unknowns.columns[bound.column],)
                    for sense in ((1.0, -1.0) if bound.factor else (1.0,))
                ]
            pushing += corners
        elif unknowns.one_way[column]:
            pushing.append(wrench)
        else:
            free.append(wrench)
    return free, pushing


def _modes(unknowns: Unknowns, motion: Motion, none: float) -> tuple[Mode, ...]:
    """What a motion does at every support that can let go."""
    bounded: dict[int, dict[str, Bound]] = {}
    for bound in unknowns.bounds:
        what = "place" if unknowns.owners[bound.column][1] == "place" else "friction"
        bounded.setdefault(bound.normal, {})[what] = bound
    tied = {column: position for position, column, _ in unknowns.tied}
    found = []
    for column, (position, part) in enumerate(unknowns.owners):
        if part != "size" or not (unknowns.one_way[column] or column in bounded):
            continue
        if any(column == bound.column for bound in unknowns.bounds):
            continue
        force = unknowns.forces[position]
        out = _dot(motion, unknowns.columns[column])
        friction, place = (bounded.get(column, {}).get(what) for what in ("friction", "place"))
        slip = 0.0 if friction is None else _dot(motion, unknowns.columns[friction.column])
        turn = 0.0 if place is None else _dot(motion, unknowns.columns[place.column])
        held = (0.0 if friction is None else friction.factor * abs(slip)) + abs(turn) * (place.factor if place else 0.0)
        # Beside what is taken from it, the rest of two numbers that should be equal is rounding.
        if out - held > none * max(1.0, held) and out > held * (1.0 + _EQUAL):
            found.append(Mode(force.id, "goes slack" if force.type == "tension" else "lifts off", (0.0, 0.0), None))
            continue
        way: Vector = (0.0, 0.0)
        if friction is not None and abs(slip) > none:
            along = unknowns.forces[unknowns.owners[friction.column][0]].along or (0.0, 0.0)
            way = (math.copysign(1.0, slip) * along[0], math.copysign(1.0, slip) * along[1])
        end = None
        if place is not None and abs(turn) > none and force.face is not None:
            end = force.face[pressed_end(force, -turn)]
        kind: ModeKind = "slips" if any(way) else "tips" if end is not None else "holds"
        if any(way) and end is not None:
            kind = "slips and tips"
        # A contact already about to slip, or about to tip, does so without being asked.
        if kind == "holds" and column in tied:
            kind = "slips"
            along = unknowns.forces[tied[column]].along or (0.0, 0.0)
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
