"""What one force does about a pivot: foot of the perpendicular, arm, sense, torque."""

from __future__ import annotations

import math
from collections.abc import Sequence

from ..geometry import Point, Vector
from .reading import ForceReading, Resultant, Turning

# A line passes through the pivot when it misses it by no more than this part of the sketch's lever:
# coordinates of a crossing are right to about 1e-13 of it, a hand cannot aim better than 1e-4.
DROPS_OUT_TOLERANCE = 1e-9


def of_force(
    pivot: Point, point: Point, along: Vector | None, one_way: bool, vector: Vector | None, lever_m: float
) -> Turning:
    """What a force at `point` does about the pivot.

    `along` is the unit direction of its line when that is known; `vector` the force in newtons when that
    is known. `lever_m` is the scale by which a miss counts as none. With neither line nor vector only
    a force applied at the pivot itself is known to drop out.
    """
    x, y = point[0] - pivot[0], point[1] - pivot[1]
    from_x = from_y = None
    if vector is not None:
        from_x, from_y = 0.0 - y * vector[0], 0.0 + x * vector[1]  # no minus zero
        size = math.hypot(vector[0], vector[1])
        if size > 0.0:
            along = (vector[0] / size, vector[1] / size)
    if along is None:
        if math.hypot(x, y) <= DROPS_OUT_TOLERANCE * lever_m:
            return Turning(pivot, 0.0, 0, 0.0, from_x, from_y, True)
        if vector is not None:  # no force at all: no line, and no torque
            return Turning(None, None, 0, 0.0, from_x, from_y, False)
        return Turning(None, None, None, None, None, None, False)
    signed_arm = x * along[1] - y * along[0]
    if abs(signed_arm) <= DROPS_OUT_TOLERANCE * max(lever_m, math.hypot(x, y)):
        return Turning(pivot, 0.0, 0, 0.0, from_x, from_y, True)
    foot = (pivot[0] + signed_arm * along[1], pivot[1] - signed_arm * along[0])
    turns = 1 if signed_arm > 0.0 else -1
    if vector is None:
        return Turning(foot, abs(signed_arm), turns if one_way else None, None, None, None, False)
    size = math.hypot(vector[0], vector[1])
    return Turning(foot, abs(signed_arm), turns if size > 0.0 else 0, signed_arm * size, from_x, from_y, False)


def of_couple(couple_n_m: float | None) -> Turning:
    """What a couple does: its torque is the same about every pivot, it has no line and no arm."""
    sense = None if couple_n_m is None else (couple_n_m > 0.0) - (couple_n_m < 0.0)
    return Turning(None, None, sense, couple_n_m, None, None, False)


def resultant(pivot: Point, centre: Point, fx_n: float, fy_n: float, torque_n_m: float, none_n: float) -> Resultant:
    """A sum of forces seen from the pivot, given its torque about `centre`.

    Its line of action, through the foot of the perpendicular from the pivot, exists when the force is
    larger than `none_n`.
    """
    lever_x, lever_y = centre[0] - pivot[0], centre[1] - pivot[1]
    about_pivot = torque_n_m + lever_x * fy_n - lever_y * fx_n
    size = math.hypot(fx_n, fy_n)
    if size <= none_n:
        return Resultant(fx_n, fy_n, about_pivot, None)
    signed_arm = about_pivot / size
    foot = (pivot[0] + signed_arm * fy_n / size, pivot[1] - signed_arm * fx_n / size)
    return Resultant(fx_n, fy_n, about_pivot, foot)


def scales(readings: Sequence[ForceReading], lever_m: float) -> tuple[float, float]:
    """The largest force and torque at hand, answers and guesses included; 1 N and its torque when there is none."""
    largest = turning = 0.0
    for reading in readings:
        for vector in (reading.vector, reading.force.guess):
            if vector is not None:
                largest = max(largest, math.hypot(vector[0], vector[1]))
        for couple in (reading.couple_n_m, reading.force.guess_couple_n_m):
            if couple is not None:
                turning = max(turning, abs(couple))
    largest = max(largest, turning / lever_m) or 1.0
    return largest, largest * lever_m
