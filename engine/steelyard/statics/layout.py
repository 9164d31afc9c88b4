"""Why the lines of the unknowns hold a body, or how it is free to move: from their layout alone."""

from __future__ import annotations

import math
from collections.abc import Sequence

from .. import linear
from ..geometry import Point, distance
from ..model import Sketch
from . import pivot
from .system import System

# Smallest over largest singular value of the unit wrenches. Below it the lines miss a common point, or
# each other's direction, by about one part in a hundred of the sketch: two or three pixels on a board,
# and reactions a hundred times the loads.
NEAR_DEGENERATE = 5e-3

# The last pivot of the factors is within a small factor of the smallest singular value; only when it is
# this near is the honest value worth its time.
_LOOK_CLOSER = 20.0 * NEAR_DEGENERATE

# A centre of turning further away than this many levers is seen as sliding.
_FAR = 30.0


def holding_reason(system: System) -> str:
    """Why nothing is free: in terms of lines, or of a couple where there is one."""
    if any(part in ("couple", "place") for _, part in system.owners):
        return "together they stop it sliding both ways and turning"
    return "the reaction lines are neither all parallel nor all through one point"


def free_reason(sketch: Sketch, motions: Sequence[Sequence[float]], system: System) -> str:
    if len(motions) == 2:
        if all(abs(motion[2]) <= linear.FIXED_TOLERANCE for motion in motions):
            return "nothing stops it sliding, whichever way"
        return "all reactions share one line, so it can slide across that line and turn"
    centre = _turning_centre(motions[0], system)
    if centre is None:
        return "all reaction lines are parallel, so it can slide across them"
    name = _named_at(sketch, centre, system.lever_m)
    place = f", {name}," if name else ""
    return f"all reaction lines pass through one point{place or ','} so it can turn about it"


def _turning_centre(motion: Sequence[float], system: System) -> Point | None:
    """The point that a motion (vx, vy, ω·lever) about the centre leaves at rest; None for sliding."""
    if abs(motion[2]) * _FAR <= math.hypot(motion[0], motion[1]):
        return None
    return (
        system.centre[0] - system.lever_m * motion[1] / motion[2],
        system.centre[1] + system.lever_m * motion[0] / motion[2],
    )


def _named_at(sketch: Sketch, point: Point, lever_m: float) -> str:
    for named in sketch.points:
        there = pivot.place_of(sketch, named.id)
        if named.name and there is not None and distance(there, point) <= linear.FIXED_TOLERANCE * lever_m:
            return named.name
    return ""


def about_origin(motion: Sequence[float], system: System) -> tuple[float, float, float]:
    """The motion as velocity of the body's point at the world origin, and angular velocity (per metre)."""
    turning = motion[2] / system.lever_m
    return (
        motion[0] + turning * system.centre[1],
        motion[1] - turning * system.centre[0],
        turning,
    )


def near(factors: linear.Factor) -> str:
    """What the unknowns' lines nearly do, when they are nearly unable to hold the body."""
    if abs(factors.upper[2][2]) > _LOOK_CLOSER * abs(factors.upper[0][0]):
        return ""
    ratio, motion = linear.weakest(factors)
    if ratio > NEAR_DEGENERATE:
        return ""
    sliding = abs(motion[2]) * _FAR <= math.hypot(motion[0], motion[1])
    return "the reaction lines are nearly parallel" if sliding else "the reaction lines nearly meet at one point"
