"""Which unknown force of a thing an id means, with its letter and its guess: a support may stand for several."""

from __future__ import annotations

from dataclasses import replace
from typing import Literal, TypeVar

from ..model import Couple, Force, Guess, Support

Unknown = Support | Force | Couple
Kept = TypeVar("Kept", bound=Unknown)
Part = Literal["", "couple", "friction"]


def part_of(entity: Unknown, force_id: str) -> Part | None:
    """The part of a thing that a force's id names: "" is its own force; None when it has no such part.

    >>> part_of(Support("foot", "contact", "ladder", (0.0, 0.0), "C", mu=0.4), "foot-friction")
    'friction'
    """
    if force_id == entity.id:
        return ""
    if isinstance(entity, Support):
        if entity.kind == "fixed" and force_id == f"{entity.id}-couple":
            return "couple"
        if entity.mu is not None and force_id == f"{entity.id}-friction":
            return "friction"
    return None


def symbol_of(entity: Unknown, force_id: str) -> str:
    """The letter of that force."""
    match part_of(entity, force_id), entity:
        case "couple", Support():
            return entity.couple_symbol
        case "friction", Support():
            return entity.friction_symbol
    return entity.symbol


def guess_of(entity: Unknown, force_id: str) -> Guess | None:
    """The guess beside that force; None without one."""
    match part_of(entity, force_id), entity:
        case "couple", Support():
            return entity.couple_guess
        case "friction", Support():
            return entity.friction_guess
    return entity.guess


def with_guess(entity: Kept, force_id: str, guess: Guess | None) -> Kept:
    """The thing with another guess beside that force, or none."""
    if isinstance(entity, Support):
        match part_of(entity, force_id):
            case "couple":
                return replace(entity, couple_guess=guess)
            case "friction":
                return replace(entity, friction_guess=guess)
    return replace(entity, guess=guess)
