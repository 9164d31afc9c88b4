"""Whether what holds joined bodies on their way can still do so: pushes of the right sense, friction within its limit.

Where conditions follow from each other their forces are shared in many ways: one admissible way is enough.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

from ..program import Bound, Program
from .joints import Joint, State
from .linkage import Link
from .walking import Change


class Grip(NamedTuple):
    """A contact that sticks: the number of its first condition, and how across and along have turned since.

    Only a corner under a bar turns with the body: `cosine` and `sine` lead from its two conditions to them.
    """

    place: int
    force: str
    mu: float
    cosine: float
    sine: float

    @classmethod
    def of(cls, place: int, joint: Joint, pose: State) -> Grip:
        """At a pose of its body."""
        turn = pose[2] if joint.kind == "edge" else 0.0
        handed = math.copysign(1.0, joint.way[0] * joint.along[1] - joint.way[1] * joint.along[0])
        return cls(place, joint.force, joint.mu or 0.0, math.cos(turn), handed * math.sin(turn))


def failing(pushes: Sequence[float], kept: Sequence[Link], grips: Sequence[Grip], nothing: float) -> Change | None:
    """What these forces say no longer holds; forces up to `nothing` are rounding."""
    for push, link in zip(pushes, kept, strict=True):
        if link.one_way and push < -nothing:
            return Change("lets go", link.force)
    for grip in grips:
        first, second = pushes[grip.place], pushes[grip.place + 1]
        across = first * grip.cosine + second * grip.sine
        along = second * grip.cosine - first * grip.sine
        if across < -nothing:
            return Change("lets go", grip.force)
        if abs(along) > grip.mu * across + nothing:
            return Change("slips", grip.force)
    return None


def shared_change(
    columns: Sequence[dict[int, float]],
    pushes: Sequence[float],
    kept: Sequence[Link],
    grips: Sequence[Grip],
    level: float,
) -> Change | None:
    """The same where other forces can do what these pushes do; None when some way to share it is admissible."""
    largest = max(abs(part) for column in columns for part in column.values())
    shares = [{axis: part / largest for axis, part in column.items()} for column in columns]
    right_side = [0.0] * (1 + max(axis for column in columns for axis in column))
    for push, column in zip(pushes, shares, strict=True):
        for axis, part in column.items():
            right_side[axis] += push * part
    one_way = [link.one_way for link in kept]
    bounds = []
    for grip in grips:
        first, second = shares[grip.place], shares[grip.place + 1]
        shares[grip.place] = _mixed(first, second, grip.cosine, grip.sine)
        shares[grip.place + 1] = _mixed(second, first, grip.cosine, -grip.sine)
        bounds.append(Bound(grip.place + 1, grip.place, grip.mu))
        one_way[grip.place] = True
    outcome = Program(shares, right_side, one_way, bounds, level).outcome
    if outcome.admissible:
        return None
    for link, short in zip(kept, outcome.backward, strict=True):
        if short:
            return Change("lets go", link.force)
    return next((Change("slips", grip.force) for grip, more in zip(grips, outcome.excess, strict=True) if more), None)


def _mixed(first: dict[int, float], second: dict[int, float], times: float, other: float) -> dict[int, float]:
    return {axis: times * first.get(axis, 0.0) + other * second.get(axis, 0.0) for axis in sorted({*first, *second})}
