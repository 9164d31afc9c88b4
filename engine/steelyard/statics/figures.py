"""How far a balance may be off because the numbers given are rounded."""

from __future__ import annotations

import math

from ..model import Couple, Force, Guess, Sketch, SpreadLoad, Thing
from .reading import ActingForce
from .system import System

# A double printed with this many digits was computed, not typed: it carries no rounding to allow for.
COMPUTED_DIGITS = 15

# Directions at these steps are meant exactly: level, upright, and the usual set square angles.
EXACT_STEP_DEG = 15.0


def half_unit(value: float, figures: int) -> float:
    """Half a unit in the last figure of a number as typed, read with at least `figures` figures.

    The typed text is not stored; the shortest decimal that gives the number stands in for it, and
    `figures` for the zeros it may have ended with: 300 to three figures is 300 ± 0.5.

    >>> half_unit(2146.1, 3)
    0.05
    """
    if value == 0.0:
        return 0.0
    mantissa, _, power = repr(abs(value)).partition("e")
    whole, _, part = mantissa.partition(".")
    digits = len((whole + part).strip("0"))
    if digits >= COMPUTED_DIGITS:
        return 0.0
    leading = math.floor(math.log10(abs(value))) if not power else int(power) + len(whole) - 1
    return 0.5 * float(f"1e{leading - max(digits, figures) + 1}")


def bound(sketch: Sketch, acting: tuple[ActingForce, ...], system: System) -> tuple[float, float, float]:
    """The most that rounding of the given sizes and angles can add to (ΣFx, ΣFy, Στ about the centre).

    Derivation: first-order change of each force with its size and its angle, all taken the worst way.
    """
    figures = sketch.settings.significant_figures
    entities = {entity.id: entity for entity in (*sketch.bodies, *sketch.supports, *sketch.loads)}
    total_x = total_y = total_torque = 0.0
    for force in acting:
        entity = entities[force.entity]
        if force.guess is not None or force.guess_couple_n_m is not None:
            own = force.id.removesuffix("-back").removeprefix(force.entity)
            guess = getattr(entity, {"-couple": "couple_guess", "-friction": "friction_guess"}.get(own, "guess"), None)
            size, angle_deg, couple = _of_guess(guess, figures)
        else:
            size, angle_deg, couple = _of_given(force, entity, figures, sketch.settings.g_m_s2)
        vector = force.guess
        if vector is None and force.size_n is not None and force.along is not None:
            vector = (force.size_n * force.along[0], force.size_n * force.along[1])
        total_torque += couple
        if vector is None:
            continue
        length = math.hypot(vector[0], vector[1])
        along = (vector[0] / length, vector[1] / length) if length else (1.0, 1.0)
        turn = math.radians(angle_deg) * length
        part_x = abs(along[0]) * size + abs(along[1]) * turn
        part_y = abs(along[1]) * size + abs(along[0]) * turn
        total_x += part_x
        total_y += part_y
        total_torque += abs(force.point[0] - system.centre[0]) * part_y
        total_torque += abs(force.point[1] - system.centre[1]) * part_x
    return total_x, total_y, total_torque


def _angle(direction_deg: float, figures: int) -> float:
    return 0.0 if direction_deg % EXACT_STEP_DEG == 0.0 else half_unit(direction_deg, figures)


def _of_guess(guess: Guess | None, figures: int) -> tuple[float, float, float]:
    if guess is None:
        return 0.0, 0.0, 0.0
    return (
        half_unit(guess.size_n, figures),
        _angle(guess.direction_deg, figures),
        half_unit(guess.couple_n_m, figures),
    )


def _of_given(force: ActingForce, entity: object, figures: int, g_m_s2: float) -> tuple[float, float, float]:
    """Half units of size (N), angle (°) and couple (N·m) of a known load or weight; none of a solved one."""
    if force.role == "unknown":
        return 0.0, 0.0, 0.0
    if isinstance(entity, Force):
        return half_unit(entity.size_n or 0.0, figures), _angle(entity.direction_deg, figures), 0.0
    if isinstance(entity, SpreadLoad):
        # Each end's rounding adds a triangle of load, whose own centroid is at most two thirds of the length away.
        size = sum(half_unit(end or 0.0, figures) for end in (entity.start_n_per_m, entity.end_n_per_m))
        size *= entity.length_m / 2.0
        turn = _angle(entity.direction_deg, figures) if entity.acts == "angle" else 0.0
        return size, turn, size * entity.length_m * 2.0 / 3.0
    if isinstance(entity, Couple):
        return 0.0, 0.0, half_unit(entity.couple_n_m or 0.0, figures)
    mass_kg = getattr(entity, "mass_kg", None)
    weight_n = None if isinstance(entity, Thing) else getattr(entity, "weight_n", None)
    if weight_n is not None:
        return half_unit(weight_n, figures), 0.0, 0.0
    pieces = sum(half_unit(piece.mass_kg, figures) for piece in getattr(entity, "pieces", ()))
    return (half_unit(mass_kg or 0.0, figures) + pieces) * g_m_s2, 0.0, 0.0
