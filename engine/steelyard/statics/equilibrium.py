"""Everything asked of one body about one pivot, in one call."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

from ..geometry import Point, Vector, angle_of
from ..model import Sketch
from . import moments, shape, verdict
from .isolate import acting_forces, find_body
from .pivot import pivot_point
from .reading import ActingForce, Analysis, ForceReading, Resultant
from .system import ROUNDING_TOLERANCE, System, answer, assemble

Parts = tuple[float | None, float | None]


def analyse(sketch: Sketch, *, body_id: str | None = None, pivot: Point | None = None) -> Analysis:
    """Reactions, moments, residual and both verdicts for one body (the first one by default).

    `pivot` in world metres overrides the sketch's own. Raises SteelyardError `statics.no-body` when there
    is no such body; an unsolvable sketch is an answer, not an error.
    """
    body = find_body(sketch, body_id)
    acting = acting_forces(sketch, body.id)
    about = pivot_point(sketch) if pivot is None else pivot
    system = assemble(acting, shape.axis(body))
    answers = answer(system)
    values: list[dict[str, float | None]] = [{} for _ in acting]
    fixed: list[dict[str, bool]] = [{} for _ in acting]
    for (position, part), value, is_fixed in zip(system.owners, answers.values, answers.fixed, strict=True):
        values[position][part] = value
        fixed[position][part] = is_fixed
    failing = frozenset(system.owners[index][0] for index in answers.wrong_way)
    readings = tuple(
        _known(force, about, system.lever_m)
        if force.role == "known"
        else _unknown(
            force,
            about,
            system.lever_m,
            values[position],
            fixed[position],
            verdict.cannot(sketch, force) if position in failing else "",
        )
        for position, force in enumerate(acting)
    )
    force_scale_n, torque_scale_n_m = moments.scales(readings, system.lever_m)
    none_n = ROUNDING_TOLERANCE * force_scale_n
    applied = _sum(readings, system, _applied_part)
    left_over = _sum(readings, system, _standing_part) if system.columns else applied
    residual = _resultant(left_over, system, about, none_n)
    return Analysis(
        body.id,
        about,
        readings,
        _resultant(applied, system, about, none_n),
        residual,
        verdict.balance(sketch, readings, answers, system, left_over, residual, force_scale_n),
        verdict.supports(sketch, readings, answers, system),
        system.lever_m,
        force_scale_n,
        torque_scale_n_m,
    )


def _known(force: ActingForce, pivot: Point, lever_m: float) -> ForceReading:
    """A known force or couple: what is given is what is read."""
    along = force.along
    if along is None:
        value = force.couple_n_m
        return ForceReading(
            force, None, value, None, None, value is not None, (value is not None,) * 2, False, (False, False),
            moments.of_couple(value), None, "",
        )  # fmt: skip
    size = force.size_n
    direction_deg = angle_of(along)
    if size is None:
        turning = moments.of_force(pivot, force.point, along, True, None, lever_m)
        return ForceReading(
            force, None, None, None, direction_deg, False, (False, False), False, (False, False), turning, None, ""
        )
    vector = (size * along[0], size * along[1])
    turning = moments.of_force(pivot, force.point, along, True, vector, lever_m)
    return ForceReading(
        force, vector, None, size, direction_deg, True, (True, True), False, (False, False), turning, None, "", vector
    )


def _unknown(
    force: ActingForce,
    pivot: Point,
    lever_m: float,
    values: dict[str, float | None],
    fixed: dict[str, bool],
    cannot: str,
) -> ForceReading:
    """An unknown force or couple with what the equations say of it."""
    guess_turning = None
    if force.sought == "couple":
        value = values["couple"]
        couple = None if value is None else value * lever_m
        if force.guess_couple_n_m is not None:
            guess_turning = moments.of_couple(force.guess_couple_n_m)
        return ForceReading(
            force, None, couple, None, None, fixed["couple"], (fixed["couple"],) * 2,
            couple is not None and couple * force.drawn_sense < 0.0, (False, False),
            moments.of_couple(couple), guess_turning, cannot,
        )  # fmt: skip
    along = force.along or (1.0, 1.0)
    if force.guess is not None:
        guess_turning = moments.of_force(pivot, force.point, None, False, force.guess, lever_m)
    vector: Vector | None = None
    parts: Parts
    against = False
    against_components = (False, False)
    line: Vector | None = None
    if force.sought == "size":
        line = along
        value = values["size"]
        if value is not None:
            vector = (value * along[0], value * along[1])
            against = value < 0.0
        parts = (None, None) if vector is None else vector
        is_fixed = fixed["size"]
        component_fixed = (is_fixed, is_fixed)
    else:
        x, y = values["x"], values["y"]
        parts = (x, y)
        if x is not None and y is not None:
            vector = (x, y)
        component_fixed = (fixed["x"], fixed["y"])
        is_fixed = component_fixed[0] and component_fixed[1]
        against_components = (x is not None and x * along[0] < 0.0, y is not None and y * along[1] < 0.0)
        against = against_components[0] or against_components[1]
    turning = moments.of_force(pivot, force.point, line, force.one_way, vector, lever_m)
    size = None if vector is None else math.hypot(vector[0], vector[1])
    direction_deg = angle_of(vector) if vector is not None and size else None
    return ForceReading(
        force, vector, None, size, direction_deg, is_fixed, component_fixed, against, against_components,
        turning, guess_turning, cannot, parts,
    )  # fmt: skip


# What a force counts for in a sum: (fx, fy, couple), or None when that is not known.
Part = tuple[float, float, float]


def _applied_part(reading: ForceReading) -> Part | None:
    """Known forces as given; unknown ones not at all."""
    return (0.0, 0.0, 0.0) if reading.force.role == "unknown" else _answer_part(reading)


def _standing_part(reading: ForceReading) -> Part | None:
    """The guess where there is one, else the value known or solved."""
    force = reading.force
    if force.guess is not None:
        return (force.guess[0], force.guess[1], 0.0)
    if force.guess_couple_n_m is not None:
        return (0.0, 0.0, force.guess_couple_n_m)
    return None if reading.cannot else _answer_part(reading)


def _answer_part(reading: ForceReading) -> Part | None:
    if reading.vector is not None:
        return (reading.vector[0], reading.vector[1], 0.0)
    if reading.couple_n_m is not None:
        return (0.0, 0.0, reading.couple_n_m)
    return None


def _sum(
    readings: Sequence[ForceReading], system: System, part_of: Callable[[ForceReading], Part | None]
) -> Part | None:
    """The sum of all parts, torque about the system's centre; None when one of them is not known."""
    fx = fy = torque = 0.0
    centre_x, centre_y = system.centre
    for reading in readings:
        part = part_of(reading)
        if part is None:
            return None
        x, y = reading.force.point
        fx += part[0]
        fy += part[1]
        torque += (x - centre_x) * part[1] - (y - centre_y) * part[0] + part[2]
    return fx, fy, torque


def _resultant(total: Part | None, system: System, pivot: Point, none_n: float) -> Resultant | None:
    """A sum seen from the pivot. Sums of rounding only are said to be zero, about every pivot alike."""
    if total is None:
        return None
    if math.hypot(total[0], total[1]) <= none_n:
        total = (0.0, 0.0, 0.0 if abs(total[2]) <= none_n * system.lever_m else total[2])
    return moments.resultant(pivot, system.centre, *total, none_n)
