"""The two verdicts, decided and said: do these forces balance, and what can the supports do."""

from __future__ import annotations

import math
from collections.abc import Sequence

from .. import linear
from ..geometry import Point, distance
from ..model import Sketch
from . import figures, pivot
from .reading import ActingForce, BalanceVerdict, ForceReading, Resultant, SupportsKind, SupportsVerdict
from .system import ROUNDING_TOLERANCE, Answer, System

# Smallest over largest singular value of the unit wrenches. Below it the lines miss a common point, or
# each other's direction, by about one part in a hundred of the sketch: two or three pixels on a board,
# and reactions a hundred times the loads.
NEAR_DEGENERATE = 5e-3

# The last pivot of the factors is within a small factor of the smallest singular value; only when it is
# this near is the honest value worth its time.
_LOOK_CLOSER = 20.0 * NEAR_DEGENERATE

# A centre of turning further away than this many levers is seen as sliding.
_FAR = 30.0

_NUMBERS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve")


def number_word(count: int) -> str:
    """A small count in letters."""
    return _NUMBERS[count] if count < len(_NUMBERS) else str(count)


def listed(names: Sequence[str]) -> str:
    """ "a", "a and b", "a, b and c"."""
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"


def cannot(sketch: Sketch, force: ActingForce, part: str = "size") -> str:
    """Why a one-way force cannot act backwards, friction be so large, or a normal act beyond its face."""
    if part == "place":
        return f"{force.symbol} cannot act beyond its face"
    if force.type == "friction":
        return f"friction ({force.symbol}) cannot be more than {force.mu:g} of the normal force"
    if force.type == "tension":
        return "a rope cannot push"
    kind = next((support.kind for support in sketch.supports if support.id == force.entity), "")
    if kind == "contact":
        return "a contact cannot pull"
    return "a one-way roller cannot pull" if kind == "roller" else f"{force.symbol} can only act as drawn"


def balance(
    sketch: Sketch,
    readings: Sequence[ForceReading],
    answers: Answer,
    system: System,
    left_over: tuple[float, float, float] | None,
    residual: Resultant | None,
    force_scale_n: float,
) -> BalanceVerdict:
    """Do these forces balance, unknowns at their guesses, else at their answers?

    `left_over` is the sum (ΣFx, ΣFy, Στ) about the system's centre: zero there is zero about every
    point, so the verdict does not depend on the pivot; `residual` is the same about the pivot.
    """
    if left_over is not None and residual is not None:
        limit = ROUNDING_TOLERANCE * force_scale_n
        limits = (limit, limit, limit * system.lever_m)
        if _within(left_over, limits):
            return BalanceVerdict("balanced", "Balanced.")
        rounding = figures.bound(sketch, tuple(reading.force for reading in readings), system)
        if _within(left_over, tuple(map(sum, zip(limits, rounding, strict=True)))):
            return BalanceVerdict("to-the-figures", "Balanced to the figures given: what is left over is rounding.")
        return BalanceVerdict("unbalanced", f"Not balanced: {_too_much(sketch, residual, limits)}.")
    if (answers.wrong_way or answers.beyond) and not any(_guessed(reading.force) for reading in readings):
        reasons = dict.fromkeys(reading.cannot for reading in readings if reading.cannot)
        return BalanceVerdict("unbalanced", f"Not balanced: {listed(list(reasons))}.")
    if answers.consistent is False:
        return BalanceVerdict("unbalanced", "Not balanced: no sizes of the unknown forces can close the sums.")
    letters = [reading.force.symbol for reading in readings if _letter(reading)]
    if letters:
        return BalanceVerdict("open", f"Open: it depends on {listed(list(dict.fromkeys(letters)))}.")
    if any(_guessed(reading.force) for reading in readings):
        return BalanceVerdict("open", "Open: it depends on forces that statics cannot tell.")
    return BalanceVerdict("balanced", "Balanced, in more than one way.")


def _within(values: Sequence[float], limits: Sequence[float]) -> bool:
    return all(abs(value) <= limit for value, limit in zip(values, limits, strict=True))


def _guessed(force: ActingForce) -> bool:
    return force.guess is not None or force.guess_couple_n_m is not None


def _letter(reading: ForceReading) -> bool:
    return reading.force.role == "known" and reading.vector is None and reading.couple_n_m is None


def _too_much(sketch: Sketch, residual: Resultant, limits: Sequence[float]) -> str:
    settings = sketch.settings
    ways = []
    if abs(residual.fx_n) > limits[0]:
        ways.append("to the right" if residual.fx_n > 0.0 else "to the left")
    if abs(residual.fy_n) > limits[1]:
        ways.append("upwards" if residual.fy_n > 0.0 else "downwards")
    parts = [f"too much {listed(ways)}"] if ways else []
    if abs(residual.torque_n_m) > limits[2]:
        sense = settings.counterclockwise_word if residual.torque_n_m > 0.0 else "clockwise"
        about = f" about {pivot.name_of(sketch)}" if ways else ""
        parts.append(f"too much {sense} {settings.turning_word}{about}")
    # Forces within rounding whose torque about a far centre is not: nothing is left but a turning.
    return listed(parts) if parts else f"a {settings.turning_word} is left over"


def supports(sketch: Sketch, readings: Sequence[ForceReading], answers: Answer, system: System) -> SupportsVerdict:
    """What can the supports do, from the rank of the unknowns' lines and from what acts one way only.

    A mechanism outranks the rest. `degree` counts the ways it can move, else the unknowns too many.
    """
    count, rank = len(system.columns), answers.factors.rank
    if not count:
        return SupportsVerdict(
            "none", 0, "No unknown forces: the drawn ones balance or they do not.", "", "", (), (), (), False
        )
    failing = tuple(reading.force.id for reading in readings if reading.cannot)
    still = tuple(
        reading.force.id for reading in readings if reading.force.role == "unknown" and reading.fixed
    ) if count > rank else ()  # fmt: skip
    if rank < 3:
        motions = linear.left_null_space(answers.factors)
        reason = _free_reason(sketch, motions, system)
        stands = answers.consistent is True and not failing
        sentence = f"{mechanism_sentence(3 - rank, reason)}{_as_it_stands(readings, answers)}"
        sentence += too_many_sentence(count - rank)
        free = tuple(_about_origin(motion, system) for motion in motions)
        return SupportsVerdict("mechanism", 3 - rank, sentence, reason, "", still, failing, free, stands)
    reason = _holding_reason(system)
    near = _near(answers.factors)
    degree = count - 3
    kind: SupportsKind = "indeterminate" if degree else "determinate"
    if failing:
        whom = listed([would_have_to(reading.force, reading.cannot) for reading in readings if reading.cannot])
        return SupportsVerdict(
            "impossible", degree, f"No balance like this: {whom}.", reason, near, still, failing, (), False
        )
    stands = answers.consistent is True
    sentence = rank_sentence(degree, reason, near, readings)
    return SupportsVerdict(kind, degree, sentence, reason, near, still, (), (), stands)


def rank_sentence(degree: int, reason: str, near: str, readings: Sequence[ForceReading]) -> str:
    """What the supports can do, told from the layout of the unknowns alone."""
    if degree:
        sentence = (
            f"{number_word(degree + 3).capitalize()} unknowns, three equations: more than statics can tell "
            f"(statically indeterminate, degree {degree}).{_still(readings)}"
        )
    else:
        sentence = f"Three unknowns, three equations: each has one answer (statically determinate): {reason}."
    return f"{sentence} Take care: {near}, so small changes make large reactions." if near else sentence


def mechanism_sentence(ways: int, reason: str) -> str:
    """That it can move, and how."""
    return f"Free to move in {number_word(ways)} way{'s' * (ways > 1)} (a mechanism): {reason}."


def too_many_sentence(excess: int) -> str:
    """That a mechanism has, besides, unknowns which statics cannot tell apart; empty when it has none."""
    if not excess:
        return ""
    return f" Also {number_word(excess)} unknown{'s' * (excess > 1)} too many for statics (indeterminate)."


def unknown_count(readings: Sequence[ForceReading]) -> int:
    """How many numbers are to be found: two for a size and direction, else one for each unknown."""
    sought = [reading.force.sought for reading in readings if reading.force.role == "unknown"]
    return len(sought) + sought.count("size and direction") + sought.count("size and place")


def _as_it_stands(readings: Sequence[ForceReading], answers: Answer) -> str:
    if answers.consistent is None:
        return ""
    if answers.wrong_way or answers.beyond:
        whom = listed([would_have_to(reading.force, reading.cannot) for reading in readings if reading.cannot])
        return f" And no balance as it stands: {whom}."
    return " Balanced as it stands." if answers.consistent else " The loads set it moving."


def would_have_to(force: ActingForce, reason: str) -> str:
    """What a force that cannot would have to do for a balance; `reason` is why it cannot."""
    if force.type == "tension":
        return f"the rope ({force.symbol}) would have to push"
    if reason.endswith("face"):
        return f"{force.symbol} would have to act beyond its face"
    if force.type == "friction":
        return f"{force.symbol} would have to be more than {force.mu:g} of its normal force"
    if force.type == "normal":
        return f"the support ({force.symbol}) would have to pull"
    return f"{force.symbol} would have to act against its drawn direction"


def _still(readings: Sequence[ForceReading]) -> str:
    names = []
    for reading in readings:
        force = reading.force
        if force.role != "unknown":
            continue
        if reading.fixed:
            names.append(force.symbol)
        elif force.sought == "size and direction":
            names += [
                f"the {axis} part of {force.symbol}"
                for axis, fixed in zip("xy", reading.component_fixed, strict=True)
                if fixed
            ]
    return f" Still fixed: {listed(names)}." if names else ""


def _holding_reason(system: System) -> str:
    """Why nothing is free: in terms of lines, or of a couple where there is one."""
    if any(part == "couple" for _, part in system.owners):
        return "together they stop it sliding both ways and turning"
    return "the reaction lines are neither all parallel nor all through one point"


def _free_reason(sketch: Sketch, motions: Sequence[Sequence[float]], system: System) -> str:
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


def _about_origin(motion: Sequence[float], system: System) -> tuple[float, float, float]:
    """The motion as velocity of the body's point at the world origin, and angular velocity (per metre)."""
    turning = motion[2] / system.lever_m
    return (
        motion[0] + turning * system.centre[1],
        motion[1] - turning * system.centre[0],
        turning,
    )


def _near(factors: linear.Factor) -> str:
    """What the unknowns' lines nearly do, when they are nearly unable to hold the body."""
    if abs(factors.upper[2][2]) > _LOOK_CLOSER * abs(factors.upper[0][0]):
        return ""
    ratio, motion = linear.weakest(factors)
    if ratio > NEAR_DEGENERATE:
        return ""
    sliding = abs(motion[2]) * _FAR <= math.hypot(motion[0], motion[1])
    return "the reaction lines are nearly parallel" if sliding else "the reaction lines nearly meet at one point"
