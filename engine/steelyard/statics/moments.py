"""What one force does about a pivot: foot of the perpendicular, arm, sense, torque."""

from __future__ import annotations

import math
from collections.abc import Sequence

from ..geometry import Point, Vector
from .reading import ActingForce, ForceReading, Resultant, Turning

# A line passes through the pivot when it misses it by no more than this part of the sketch's lever:
# coordinates of a crossing are right to about 1e-13 of it, a hand cannot aim better than 1e-4.
DROPS_OUT_TOLERANCE = 1e-9


# What a force does about a pivot while nobody knows where on its face it acts.
NOT_KNOWN = Turning(None, None, None, None, None, None, False)


def of_force(pivot: Point, point: Point, along: Vector, size_n: float | None, one_way: bool, lever_m: float) -> Turning:
    """What a force on a known line does about the pivot.

    `along` is the unit direction of the line through `point`; `size_n` counts along it, negative against it,
    None when not known: then only a `one_way` force has a certain sense. `lever_m` is the scale by which a
    miss counts as none.
    """
    x, y = point[0] - pivot[0], point[1] - pivot[1]
    along_x, along_y = along
    signed_arm = x * along_y - y * along_x
    if size_n is None:
        torque = from_x = from_y = None
    else:
        torque = signed_arm * size_n
        from_x, from_y = 0.0 - y * along_x * size_n, 0.0 + x * along_y * size_n  # no minus zero
    arm = abs(signed_arm)
    if arm <= DROPS_OUT_TOLERANCE * lever_m or arm <= DROPS_OUT_TOLERANCE * math.hypot(x, y):
        return Turning(pivot, 0.0, 0, 0.0, from_x, from_y, True)
    foot = (pivot[0] + signed_arm * along_y, pivot[1] - signed_arm * along_x)
    turns = signed_arm if torque is None else torque
    sense = (turns > 0.0) - (turns < 0.0) if torque is not None or one_way else None
    return Turning(foot, arm, sense, torque, from_x, from_y, False)


def of_vector(pivot: Point, point: Point, vector: Vector | None, lever_m: float) -> Turning:
    """What a force of unknown line does about the pivot, its `vector` in newtons given or not known either.

    Whatever its direction, a force applied at the pivot itself drops out.
    """
    if vector is not None:
        size = math.hypot(vector[0], vector[1])
        if size > 0.0:
            return of_force(pivot, point, (vector[0] / size, vector[1] / size), size, False, lever_m)
    none = None if vector is None else 0.0  # no force at all: no line, and no torque
    if math.hypot(point[0] - pivot[0], point[1] - pivot[1]) <= DROPS_OUT_TOLERANCE * lever_m:
        return Turning(pivot, 0.0, 0, 0.0, none, none, True)
    return Turning(None, None, None if none is None else 0, none, none, none, False)


def about(pivot: Point, force: ActingForce, vector: Vector | None, along: Vector, lever_m: float) -> Turning:
    """What a force does about a further pivot: by its `vector` (guess or answer) where it has one, else by its line."""
    if vector is None and force.sought == "size and place":
        return NOT_KNOWN
    if vector is None and force.sought == "size and direction":
        return of_vector(pivot, force.point, None, lever_m)
    size = None if vector is None else math.hypot(*vector)
    if size is not None and size > 0.0 and vector is not None:
        along = (vector[0] / size, vector[1] / size)
    return of_force(pivot, force.point, along, size, force.role == "known" or force.one_way, lever_m)


def passes(pivot: Point, point: Point, along: Vector | None, lever_m: float) -> bool:
    """Whether a force at a point drops out about a pivot, its unit line `along` known or (None) not.

    Whatever its direction, a force applied at the pivot itself drops out.
    """
    x, y = point[0] - pivot[0], point[1] - pivot[1]
    away = math.hypot(x, y)
    reach = DROPS_OUT_TOLERANCE * max(lever_m, away)
    return away <= reach or (along is not None and abs(x * along[1] - y * along[0]) <= reach)


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
        if reading.size_n is not None:
            largest = max(largest, reading.size_n)
        if reading.couple_n_m is not None:
            turning = max(turning, abs(reading.couple_n_m))
        force = reading.force
        if force.guess is not None:
            largest = max(largest, math.hypot(*force.guess))
        if force.guess_couple_n_m is not None:
            turning = max(turning, abs(force.guess_couple_n_m))
    largest = max(largest, turning / lever_m) or 1.0
    return largest, largest * lever_m
