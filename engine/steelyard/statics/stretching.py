"""Stretching a guess, its direction kept, until one sum closes with everything else as it stands."""

from __future__ import annotations

import math
from typing import Literal

from ..geometry import Vector, cross, dot, subtract
from .reading import ActingForce, Analysis, ForceReading

Closes = Literal["x", "y", "turning"]
CLOSES: tuple[Closes, ...] = ("x", "y", "turning")

# A guess with a smaller share than this in a sum has no term there.
NO_TERM = 1e-6
# A sum of the others no larger than this part of them is rounding: the sum is closed without the guess.
NOTHING = 1e-9

# Why no stretching closes a sum: the guess has no term in it, it would have to act the other way, nothing is
# needed of it, or something else in the sum has no single size.
Refusal = Literal["no-term", "other-way", "not-needed", "open"]


def axis(analysis: Analysis, closes: Closes) -> Vector:
    """The axis a sum of forces is taken along."""
    return analysis.x_axis if closes == "x" else analysis.y_axis


def share(force: ActingForce, closes: Closes, analysis: Analysis) -> float:
    """What a guess adds to a sum (N or N m); 0 where it has no term. `force` must have a guess."""
    if force.guess is None:
        return (force.guess_couple_n_m or 0.0) if closes == "turning" else 0.0
    size = math.hypot(*force.guess)
    if closes == "turning":
        offset = subtract(force.point, analysis.pivot)
        value, scale = cross(offset, force.guess), size * max(analysis.lever_m, math.hypot(*offset))
    else:
        value, scale = dot(force.guess, axis(analysis, closes)), size
    return 0.0 if abs(value) <= NO_TERM * scale else value


def factor(analysis: Analysis, force_id: str, closes: Closes) -> float | Refusal:
    """By how much to stretch the guess of a force so that a sum closes; always more than zero.

    The others stand as in the strips: known, guessed, else solved. KeyError when the force does not act here.
    """
    own = share(analysis.reading(force_id).force, closes, analysis)
    if own == 0.0:
        return "no-term"
    terms = []
    for reading in analysis.readings:
        if reading.force.id != force_id:
            value = standing(reading, closes, analysis)
            if value is None:
                return "open"
            terms.append(value)
    needed = -math.fsum(terms)
    if abs(needed) <= NOTHING * math.fsum(abs(term) for term in terms):
        return "not-needed"
    return needed / own if needed * own > 0.0 else "other-way"


def standing(reading: ForceReading, closes: Closes, analysis: Analysis) -> float | None:
    """What a force adds to a sum as it stands, guessed before solved; None where it has a term but no single size."""
    force = reading.force
    along = force.along
    if along is None:
        if closes != "turning":
            return 0.0
        return reading.couple_n_m if force.guess_couple_n_m is None else force.guess_couple_n_m
    vector = force.guess or (None if reading.cannot else reading.vector)
    offset = subtract(force.point, analysis.pivot)
    if vector is not None:
        return cross(offset, vector) if closes == "turning" else dot(vector, axis(analysis, closes))
    if closes != "turning" and not reading.cannot and reading.components_n[CLOSES.index(closes)] is not None:
        return reading.components_n[CLOSES.index(closes)]
    if closes == "turning":
        return 0.0 if reading.turning.drops_out else None
    square = force.sought != "size and direction" and abs(dot(along, axis(analysis, closes))) <= NOTHING
    return 0.0 if square else None
