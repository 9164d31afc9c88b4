"""States of several moving bodies, and the arithmetic of their steps."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

from ..geometry import Vector
from .joints import State

# A condition that adds less than this part of the others follows from them where the bodies stand.
FOLLOWS = 1e-12


class Moments(NamedTuple):
    """Pose (x, y, θ) of each moving centre, and its speed."""

    poses: tuple[State, ...]
    speeds: tuple[State, ...]


def turned(arm: Vector, pose: State) -> Vector:
    """An arm of a body as it has turned since it was let go."""
    cosine, sine = math.cos(pose[2]), math.sin(pose[2])
    return (arm[0] * cosine - arm[1] * sine, arm[0] * sine + arm[1] * cosine)


def moved(moment: Moments, rates: tuple[Sequence[State], Sequence[State]], step_s: float) -> Moments:
    """A moment so much later at these speeds and accelerations."""
    speeds, accelerations = rates
    return Moments(
        tuple(summed(pose, speed, step_s) for pose, speed in zip(moment.poses, speeds, strict=True)),
        tuple(summed(speed, rate, step_s) for speed, rate in zip(moment.speeds, accelerations, strict=True)),
    )


def summed(state: State, change: State, times: float = 1.0) -> State:
    """A state and so many times a change of it."""
    return (state[0] + times * change[0], state[1] + times * change[1], state[2] + times * change[2])


def mean(four: Sequence[State]) -> State:
    """Of the four slopes of a step (Runge and Kutta)."""
    x, y, turn = ((one + 2.0 * two + 2.0 * three + last) / 6.0 for one, two, three, last in zip(*four, strict=True))
    return (x, y, turn)


def solved(matrix: list[list[float]], right_side: list[float]) -> list[float]:
    """Of a symmetric matrix without negative directions, by elimination; what follows from the others is zero."""
    size = len(right_side)
    least = [FOLLOWS * matrix[step][step] for step in range(size)]
    for step in range(size):
        pivot = matrix[step][step]
        if pivot <= least[step]:
            continue
        for row in range(step + 1, size):
            share = matrix[row][step] / pivot
            if share:
                matrix[row] = [mine - share * part for mine, part in zip(matrix[row], matrix[step], strict=True)]
                right_side[row] -= share * right_side[step]
    found = [0.0] * size
    for step in range(size - 1, -1, -1):
        if matrix[step][step] > least[step]:
            rest = right_side[step] - sum(matrix[step][other] * found[other] for other in range(step + 1, size))
            found[step] = rest / matrix[step][step]
    return found
