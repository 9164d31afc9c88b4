"""What a sum with a guess in it lacks, as far as a reader can know it."""

from __future__ import annotations

import math

from ..statics import advice as advising
from ..statics.stretching import NOTHING, Closes, axis, share, standing
from ..units import write_quantity
from ..working.argue import Stage
from ..working.desk import Desk
from ..working.expression import Symbol


def left_over(desk: Desk, closes: Closes) -> float | None:
    """What a sum comes to as it stands; None while something in it is open. Rounding is nothing."""
    terms = [standing(each, closes, desk.analysis) for each in desk.analysis.readings]
    known = [term for term in terms if term is not None]
    if len(known) < len(terms):
        return None
    total = math.fsum(known)
    scale = desk.analysis.torque_scale_n_m if closes == "turning" else desk.analysis.force_scale_n
    return 0.0 if abs(total) <= NOTHING * scale else total


def amount(desk: Desk, closes: Closes, value: float) -> str:
    """What a sum lacks, with its unit and without its sign."""
    return write_quantity(abs(value), "couple" if closes == "turning" else "force", desk.voice.settings)


def side_words(desk: Desk, closes: Closes, value: float) -> str:
    """Which way a part of a sum acts, in words."""
    if closes == "turning":
        return desk.voice.turn(1 if value > 0.0 else -1)
    along = axis(desk.analysis, closes)
    sign = 1.0 if value > 0.0 else -1.0
    words = desk.voice.direction((along[0] * sign, along[1] * sign))
    return f"{words}wards" if words in ("up", "down") else words


def balance_words(desk: Desk, stage: Stage, closes: Closes) -> str:
    """ "2422 N missing to the right", "250 N too much upwards", "closed"; nothing while the sum is not known.

    While the force's answer is kept back no amount is said: with the guess it would make the answer.
    """
    total = left_over(desk, closes)
    if total is None:
        return ""
    if total == 0.0:
        return "closed"
    force = desk.voice.forces[stage.part.partition(".")[0]]
    own = share(force, closes, desk.analysis)
    too_much = own * total > 0.0 and stage.agrees is not False
    there, needed = side_words(desk, closes, total), side_words(desk, closes, -total)
    if desk.options.symbols_only or is_kept(desk, force.id):
        return f"too much {there}" if too_much else f"more needed {needed}"
    size = amount(desk, closes, total)
    return f"{size} too much {there}" if too_much else f"{size} missing {needed}"


def is_kept(desk: Desk, force_id: str) -> bool:
    """Whether the answer of a force is kept back from the reader."""
    reading = desk.analysis.reading(force_id)
    return desk.voice.sketch.answers == "kept" and reading.vector is None and reading.couple_n_m is None


def others_sought(desk: Desk, force_id: str, closes: Closes) -> int:
    """How many other unknowns have a term in a sum."""
    analysis = desk.analysis
    if closes == "turning":
        found = advising.about(analysis, analysis.pivot)
    else:
        found = advising.along(analysis, axis(analysis, closes))
    return len({key.partition(".")[0] for key in found.left} - {force_id})


def can_be_found(desk: Desk, closes: Closes) -> bool:
    """Whether whatever is still open in a sum has a single answer."""
    return all(each.fixed or standing(each, closes, desk.analysis) is not None for each in desk.analysis.readings)


def sum_symbol(desk: Desk, closes: Closes) -> Symbol:
    """ΣF with its axis, Στ (or ΣM) with the name of the point."""
    if closes != "turning":
        return Symbol("ΣF", closes, italic_index=True)
    letter = "τ" if desk.voice.settings.turning_word == "torque" else "M"
    return Symbol(f"Σ{letter}", desk.voice.point_name(desk.analysis.pivot))
