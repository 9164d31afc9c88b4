"""How an unknown is drawn before it is found: the senses assumed of it, as set or as a hand guessed them."""

from __future__ import annotations

import math

from ..geometry import Vector, direction
from ..model import Guess
from . import axes


def senses(angle_deg: float, x_axis: Vector = axes.LEVEL) -> Vector:
    """The assumed senses (±1, ±1) of two components, along these axes, drawn into the quadrant of an angle."""
    along = axes.along(direction(angle_deg), x_axis)
    nothing = -axes.SQUARE_TOLERANCE
    return (-1.0 if along[0] < nothing else 1.0, -1.0 if along[1] < nothing else 1.0)


def as_guessed(along: Vector, guess: Vector | None, x_axis: Vector) -> Vector:
    """The assumed senses of two components as a hand drew them: a guess is the arrow the working starts from.

    A part the guess does not have keeps the sense it had.
    """
    if guess is None:
        return along
    parts = axes.along(guess, x_axis)
    nothing = axes.SQUARE_TOLERANCE * math.hypot(*guess)
    x, y = (old if abs(part) <= nothing else math.copysign(1.0, part) for part, old in zip(parts, along, strict=True))
    return (x, y)


def line_as_guessed(along: Vector, guess: Vector | None) -> Vector:
    """A line drawn the way the guess along it points; for a force that can act both ways."""
    against = guess is not None and guess[0] * along[0] + guess[1] * along[1] < 0.0
    return (-along[0], -along[1]) if against else along


def guessed(guess: Guess | None, couple: bool) -> tuple[Vector | None, float | None]:
    """A guess as a vector in newtons, or as a couple in newton metres; None without one."""
    if guess is None:
        return None, None
    if couple:
        return None, guess.couple_n_m
    along = direction(guess.direction_deg)
    return (guess.size_n * along[0], guess.size_n * along[1]), None
