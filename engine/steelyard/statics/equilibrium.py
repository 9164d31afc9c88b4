"""Everything asked of one system about one pivot, in one call."""

from __future__ import annotations

import math
from collections.abc import Sequence

from ..geometry import Point, Vector, angle_of
from ..model import Sketch
from ..program import ROUNDING_TOLERANCE
from . import axes, holding, joined, moments, shape, together, verdict
from .isolate import acting_forces
from .letters import with_senses
from .pivot import pivot_point
from .reach import place_on_face
from .reading import ActingForce, Analysis, ForceReading, Resultant
from .system import Answer, System, answer, assemble, settled

Parts = tuple[float | None, float | None]

# By part ("x", "y", "size", "couple"): the value where there is one, and whether statics fixes it.
Found = dict[str, tuple[float | None, bool]]


def analyse(
    sketch: Sketch, *, body_id: str | None = None, bodies: Sequence[str] | None = None, pivot: Point | None = None
) -> Analysis:
    """Reactions, moments, residual and verdicts for one system about one pivot.

    The system is `bodies` (and things on them) if given, else the sketch's own (`isolated`), else the body `body_id`,
    else the first one. What is joined to it is solved with it. `pivot` in world metres overrides the sketch's own.
    Raises SteelyardError `statics.no-body` when there is no such body; an unsolvable sketch is an answer, not an error.
    """
    system_ids = joined.system_ids(sketch, body_id, bodies)
    body_ids = joined.bodies_of(sketch, system_ids)
    acting = acting_forces(sketch, *system_ids)
    about = pivot_point(sketch) if pivot is None else pivot
    x_axis = axes.x_axis(sketch)
    system = assemble(acting, [corner for each in body_ids for corner in shape.axis(sketch.body(each))])
    whole: together.Together | None = None
    if joined.is_joined(sketch, body_ids):
        whole = together.solve(sketch, body_ids, acting, system)
        layout = answers = whole.answers
    else:
        layout = answer(system)
        answers = settled(system, layout)
    found: dict[int, Found] = {}
    for (position, part), value, is_fixed in zip(system.owners, answers.values, answers.fixed, strict=True):
        found.setdefault(position, {})[part] = (value, is_fixed)
    for position, column, factor in system.tied:
        value, is_fixed = answers.values[column], answers.fixed[column]
        found[position] = {"size": (None if value is None else factor * value, is_fixed)}
    for position in system.none:
        found[position] = {"size": (0.0, True)}
    failing = dict(system.owners[index] for index in (*answers.wrong_way, *answers.beyond))
    places: dict[str, Point] = {}
    readings_made: list[ForceReading] = []
    for position, force in enumerate(acting):
        if force.role == "known":
            readings_made.append(_known(force, about, system.lever_m, x_axis))
            continue
        if force.sought == "size and place":
            places[force.id] = _place(force, found[position], system.lever_m)
        # Friction runs along the face its normal presses on, and is drawn where that does.
        point = places.get(force.normal or force.id)
        placed = force if point is None else force._replace(point=point)
        cannot = verdict.cannot(sketch, force, failing[position]) if position in failing else ""
        readings_made.append(_unknown(placed, about, system.lever_m, found[position], cannot, x_axis))
    if answers is not layout:
        readings_made = _with_squeezed(readings_made, system, layout, answers)
    readings = tuple(readings_made)
    force_scale_n, torque_scale_n_m = moments.scales(readings, system.lever_m)
    none_n = ROUNDING_TOLERANCE * force_scale_n
    applied, left_over = _sums(readings, system)
    residual = _resultant(left_over, system, about, none_n)
    said = None if whole is None else whole.verdict(sketch)
    beside = () if whole is None else whole.letters_beside
    made = Analysis(
        body_ids[0],
        about,
        readings,
        _resultant(applied, system, about, none_n),
        residual,
        verdict.balance(sketch, readings, answers, system, left_over, residual, force_scale_n, beside),
        verdict.supports(sketch, readings, answers, system)
        if whole is None or said is None
        else whole.supports(said, readings),
        system.lever_m,
        force_scale_n,
        torque_scale_n_m,
        x_axis,
        body_ids,
        system_ids,
        said,
    )
    return with_senses(made)


def analyse_with(sketch: Sketch, force_id: str, body_id: str) -> Analysis:
    """The analysis of the sketch's own system where a force acts on that, else of the one body it acts on."""
    own = joined.system_ids(sketch, body_id)
    acts = any(force.id == force_id for force in acting_forces(sketch, *own))
    return analyse(sketch, bodies=own if acts else (body_id,))


def _with_squeezed(
    readings: Sequence[ForceReading], system: System, layout: Answer, answers: Answer
) -> list[ForceReading]:
    """The readings with a mark on the parts that have one value only within what supports can do."""
    found: dict[int, list[bool]] = {}
    for (position, part), before, now in zip(system.owners, layout.fixed, answers.fixed, strict=True):
        marks = found.setdefault(position, [False, False])
        for row in (0, 1):
            if part not in ("x", "y") or "xy"[row] == part:
                marks[row] = marks[row] or (now and not before)
    return [
        reading._replace(squeezed=(found[position][0], found[position][1])) if position in found else reading
        for position, reading in enumerate(readings)
    ]


def _known(force: ActingForce, pivot: Point, lever_m: float, x_axis: Vector) -> ForceReading:
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
        turning = moments.of_force(pivot, force.point, along, None, True, lever_m)
        return ForceReading(
            force, None, None, None, direction_deg, False, (False, False), False, (False, False), turning, None, ""
        )
    vector = (size * along[0], size * along[1])
    turning = moments.of_force(pivot, force.point, along, size, True, lever_m)
    return ForceReading(
        force,
        vector,
        None,
        size,
        direction_deg,
        True,
        (True, True),
        False,
        (False, False),
        turning,
        None,
        "",
        axes.along(vector, x_axis),
    )


def _unknown(
    force: ActingForce,
    pivot: Point,
    lever_m: float,
    found: Found,
    cannot: str,
    x_axis: Vector,
) -> ForceReading:
    """An unknown force or couple with what the equations say of it."""
    guess_turning = None
    if force.sought == "couple":
        value, is_fixed = found["couple"]
        couple = None if value is None else value * lever_m
        if force.guess_couple_n_m is not None:
            guess_turning = moments.of_couple(force.guess_couple_n_m)
        return ForceReading(
            force, None, couple, None, None, is_fixed, (is_fixed, is_fixed),
            couple is not None and couple * force.drawn_sense < 0.0, (False, False),
            moments.of_couple(couple), guess_turning, cannot,
        )  # fmt: skip
    along = force.along or (1.0, 1.0)
    if force.guess is not None:
        # A guess says how much, never where: over a face it is drawn in the middle.
        guess_turning = moments.of_vector(pivot, holding.unplaced(force).point, force.guess, lever_m)
    vector: Vector | None = None
    parts: Parts
    against = False
    against_components = (False, False)
    if force.sought in ("size", "size and place"):
        value, is_fixed = found["size"]
        is_fixed = is_fixed and found.get("place", (None, True))[1]
        turning = moments.of_force(pivot, force.point, along, value, force.one_way, lever_m)
        if value is not None:
            vector = (value * along[0], value * along[1])
            against = value < 0.0
        parts = (None, None) if vector is None else axes.along(vector, x_axis)
        component_fixed = (is_fixed, is_fixed)
    else:
        (x, x_fixed), (y, y_fixed) = found["x"], found["y"]
        parts = (x, y)
        if x is not None and y is not None:
            vector = axes.world((x, y), force.x_axis)
        turning = moments.of_vector(pivot, force.point, vector, lever_m)
        component_fixed = (x_fixed, y_fixed)
        is_fixed = x_fixed and y_fixed
        against_components = (x is not None and x * along[0] < 0.0, y is not None and y * along[1] < 0.0)
        against = against_components[0] or against_components[1]
    size = None if vector is None else math.hypot(vector[0], vector[1])
    direction_deg = angle_of(vector) if vector is not None and size else None
    return ForceReading(
        force, vector, None, size, direction_deg, is_fixed, component_fixed, against, against_components,
        turning, guess_turning, cannot, parts,
    )  # fmt: skip


def _place(force: ActingForce, found: Found, lever_m: float) -> Point:
    """Where a normal acts on its face: as far from the middle as its torque there over its size says."""
    size, torque = found["size"][0], found.get("place", (None, True))[0]
    if not size or torque is None or force.along is None:
        return force.point
    return place_on_face(force, size, torque * lever_m)


# A sum (ΣFx, ΣFy, Στ about the system's centre).
Sum = tuple[float, float, float]


def _sums(readings: Sequence[ForceReading], system: System) -> tuple[Sum | None, Sum | None]:
    """The sum of the known forces, and that of all: guesses first, else answers. None when a part is not known."""
    known_x = known_y = known_torque = other_x = other_y = other_torque = 0.0
    known = other = True
    centre_x, centre_y = system.centre
    for reading in readings:
        force = reading.force
        is_known = force.role == "known"
        vector, couple = reading.vector, reading.couple_n_m
        if not is_known:
            if force.guess is not None or force.guess_couple_n_m is not None:
                vector, couple = force.guess, force.guess_couple_n_m
                force = holding.unplaced(force)
            elif reading.cannot:
                vector = None
        if vector is not None:
            x, y = vector
            torque = (force.point[0] - centre_x) * y - (force.point[1] - centre_y) * x
        elif couple is not None:
            x, y, torque = 0.0, 0.0, couple
        else:
            known, other = known and not is_known, False
            continue
        if is_known:
            known_x += x
            known_y += y
            known_torque += torque
        else:
            other_x += x
            other_y += y
            other_torque += torque
    applied = (known_x, known_y, known_torque) if known else None
    return applied, (known_x + other_x, known_y + other_y, known_torque + other_torque) if other else None


def _resultant(total: Sum | None, system: System, pivot: Point, none_n: float) -> Resultant | None:
    """A sum seen from the pivot. Sums of rounding only are said to be zero, about every pivot alike."""
    if total is None:
        return None
    if math.hypot(total[0], total[1]) <= none_n:
        total = (0.0, 0.0, 0.0 if abs(total[2]) <= none_n * system.lever_m else total[2])
    return moments.resultant(pivot, system.centre, *total, none_n)
