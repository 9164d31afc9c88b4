"""Drawing an unknown the way the answer says it points: its assumed sense, never its role."""

from __future__ import annotations

import math
from dataclasses import replace

from ..geometry import Vector, angle_of, direction
from ..model import Couple, Force, Guess, Sketch, Support
from ..statics import axes
from ..statics.equilibrium import analyse_with
from .change import fail, tidy

# The angle from the x axis that stands for each pair of assumed senses.
_QUADRANTS = {(1, 1): 45.0, (-1, 1): 135.0, (-1, -1): 225.0, (1, -1): 315.0}


def as_answered(sketch: Sketch, entity: Support | Force | Couple) -> Support | Force | Couple:
    """The unknown with its assumed sense turned to that of the answer; raises `SteelyardError` without one.

    Of a rough contact that is the friction: its normal can act one way only.
    """
    if isinstance(entity, Support) and entity.mu is not None:
        return _friction_as_answered(sketch, entity)
    if sketch.answers == "kept" and entity.id not in sketch.told:
        fail("kept", entity.id, "Answers are kept back.", "Show them first.")
    readings = {reading.force.id: reading for reading in analyse_with(sketch, entity.id, entity.body).readings}
    reading = readings.get(entity.id)
    if reading is None or reading.force.role == "known" or (reading.vector is None and reading.couple_n_m is None):
        fail("no-answer", entity.id, f"Statics alone does not give {entity.symbol} here.", "Turn it by hand.")
    # A guess is the arrow as drawn: it is turned along, or it would go on drawing the other way.
    if isinstance(entity, Couple):
        if not reading.couple_n_m:
            return entity
        turned = replace(entity, counterclockwise=reading.couple_n_m > 0.0)
        if entity.guess is None:
            return turned
        couple_n_m = math.copysign(entity.guess.couple_n_m, reading.couple_n_m)
        return replace(turned, guess=replace(entity.guess, couple_n_m=couple_n_m))
    if reading.force.sought == "size and direction":
        assert reading.vector is not None
        x_axis = reading.force.x_axis
        quadrant = _quadrant(axes.along(reading.vector, x_axis), reading.force.along or (1.0, 1.0))
        angle = tidy((quadrant + angle_of(x_axis)) % 360.0)
        entity = replace(entity, guess=_turned(entity.guess, quadrant, x_axis))
        if isinstance(entity, Force):
            return replace(entity, direction_deg=angle)
        return replace(entity, drawn_deg=None if quadrant == 45.0 else angle)
    if not reading.against_drawn:
        return entity
    if entity.guess is not None:
        return replace(entity, guess=replace(entity.guess, direction_deg=(entity.guess.direction_deg + 180.0) % 360.0))
    if isinstance(entity, Force):
        return replace(entity, direction_deg=(entity.direction_deg + 180.0) % 360.0)
    if entity.kind == "strut" or (entity.kind == "roller" and entity.two_way):
        return replace(entity, drawn_deg=None if entity.drawn_deg == 180.0 else 180.0)
    fail("one-way", entity.id, f"{entity.symbol} can act one way only.", "Change the support instead.")


def _friction_as_answered(sketch: Sketch, contact: Support) -> Support:
    of = f"{contact.id}-friction"
    if sketch.answers == "kept" and of not in sketch.told:
        fail("kept", of, "Answers are kept back.", "Show them first.")
    readings = {each.force.id: each for each in analyse_with(sketch, of, contact.body).readings}
    reading = readings.get(of)
    if reading is None or reading.vector is None:
        letter = contact.friction_symbol
        fail("no-answer", of, f"Statics alone does not give {letter} here.", "Turn it by hand.")
    if not reading.against_drawn or contact.about_to.startswith("slip"):
        return contact
    guess = contact.friction_guess
    if guess is not None:
        return replace(contact, friction_guess=replace(guess, direction_deg=(guess.direction_deg + 180.0) % 360.0))
    return replace(contact, drawn_deg=None if contact.drawn_deg == 180.0 else 180.0)


def _turned(guess: Guess | None, quadrant: float, x_axis: Vector) -> Guess | None:
    """The guess with its parts along the axes turned into a quadrant, their sizes kept."""
    if guess is None:
        return None
    parts = axes.along(direction(guess.direction_deg), x_axis)
    right, up = (math.copysign(1.0, part) for part in direction(quadrant))
    angle = angle_of((abs(parts[0]) * right, abs(parts[1]) * up)) + angle_of(x_axis)
    return replace(guess, direction_deg=tidy(angle % 360.0))


def _quadrant(vector: Vector, drawn: Vector) -> float:
    """The quadrant of a vector; a part that is zero keeps the sense it was drawn with."""
    scale = max(abs(vector[0]), abs(vector[1]))
    senses = [
        1 if (part if abs(part) > 1e-9 * scale else old) >= 0.0 else -1 for part, old in zip(vector, drawn, strict=True)
    ]
    return _QUADRANTS[(senses[0], senses[1])]
